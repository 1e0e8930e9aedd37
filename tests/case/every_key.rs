//! Each key of the form arrives where the library has it: a case read from text equals one built in code.

use super::{BOX, RICH, SLEEVE, with};
use stillhot::case::Case;
use stillhot::material::{Catalogue, Category};
use stillhot::study::{MaterialPrice, Prices};
use stillhot::units::Ratio;
use stillhot::units::{
    HeatCapacity, Si, celsius, degrees, grams, hours, joules_per_kelvin, joules_per_kilogram_kelvin, kelvins,
    kilograms, kilograms_per_cubic_metre, litres, metres, metres_per_second, millimetres, minutes, seconds,
    square_metres, watts_per_metre_kelvin, watts_per_square_metre_kelvin,
};
use stillhot::{
    Airspace, Companion, Contact, Course, Dish, Enclosure, Face, Fit, Footing, Handle, Knob, Layer, Lid, Material,
    Options, PieceShape, Pieces, Plan, Pot, PotLid, Probe, ProbeSpot, Range, Resting, Setup, Shell, Sleeve, Wall,
};

fn read(text: &str) -> Case {
    Case::read(text, "test.toml").unwrap_or_else(|findings| panic!("{findings:#?}"))
}

fn share(value: f64) -> Ratio {
    Ratio::from_si(value)
}

fn named(id: &str) -> Material {
    Material::named(id).unwrap()
}

/// The walls of the rich case on a face that looks so far above the level.
fn woollen(facing: f64) -> Wall {
    let airspace = Airspace::upright(millimetres(12.0)).facing(degrees(facing));
    Wall::planar()
        .layer(Layer::of("cotton-woven-cloth", millimetres(1.5)).unwrap())
        .contact(Contact::Airspace(airspace.with_emissivities(share(0.9), share(0.06))))
        .layer(Layer::of("sheep-wool-batt", millimetres(60.0)).unwrap().damp().unwrap())
        .build()
        .unwrap()
}

fn rich_dish() -> Dish {
    let [broth, beans] = ["broth-thin-soup", "beans-cooked"].map(|id| Dish::named(id).unwrap());
    let (broth, beans) = (broth.with_water_content(share(0.88)), beans.with_water_content(share(0.6)));
    Dish::mixed(&[(broth, kilograms(4.0)), (beans, grams(400.0))]).unwrap().still()
}

fn rich_pot() -> Pot {
    let own = Material::custom(
        "own-dish",
        watts_per_metre_kelvin(0.45),
        kilograms_per_cubic_metre(1060.0),
        joules_per_kilogram_kelvin(3500.0),
    )
    .and_then(|own| {
        own.with_heat_capacity_range(joules_per_kilogram_kelvin(3300.0), joules_per_kilogram_kelvin(3700.0))
    })
    .unwrap()
    .with_category(Category::FoodAndLiquid);
    let potato = Dish::named("potato").unwrap();
    Pot::sized(millimetres(224.0), millimetres(179.0), named("aluminium-pure"), millimetres(3.0))
        .weighing(kilograms(1.9))
        .with_emissivity(Range::new(share(0.1), share(0.2), share(0.35)).unwrap())
        .covered(PotLid::with_gap(Range::new(millimetres(0.2), millimetres(0.3), millimetres(0.6)).unwrap()))
        .standing_on(Footing::trivet())
        .with_handle(Handle::new(named("carbon-steel"), millimetres(22.0), millimetres(4.0), millimetres(120.0)))
        .with_knob(Knob::through_lid(named("brass"), millimetres(9.0), millimetres(15.0)))
        .with(rich_dish(), kilograms(4.4))
        .with_ice(share(0.0))
        .with_pieces(Pieces::new(PieceShape::Sphere(millimetres(48.0)), potato, grams(700.0), celsius(14.0)))
        .with_pieces(Pieces::new(PieceShape::Slab(millimetres(9.0)), Dish::of(own), grams(300.0), celsius(5.0)))
}

fn rich_setup() -> Setup {
    let lid = Wall::planar().layer(Layer::of("wool-blanket-felt", millimetres(45.0)).unwrap()).build().unwrap();
    let joint = Range::new(millimetres(0.2), millimetres(0.4), millimetres(0.9)).unwrap();
    let mut faces = vec![(Face::Lid, lid), (Face::Base, woollen(-90.0))];
    faces.extend([Face::Front, Face::Back, Face::Left, Face::Right].map(|face| (face, woollen(0.0))));
    let walls = Enclosure::of_walls(faces)
        .inside(millimetres(420.0), millimetres(300.0), millimetres(220.0))
        .lid(Lid::pressed().with_gap(joint))
        .fitted(Fit::Loose)
        .with_low_seams(Range::new(millimetres(0.0), millimetres(1.0), millimetres(2.0)).unwrap())
        .with_upright_seams(Range::new(millimetres(0.1), millimetres(0.3), millimetres(0.8)).unwrap());
    let stone = Companion::new("soapstone", joules_per_kelvin(1800.0), celsius(180.0), square_metres(0.06));
    let heat = named("water-liquid").heat_capacity().value().si() * 1.2;
    let bottle = Companion::new("bottle of hot water", HeatCapacity::from_si(heat), celsius(85.0), square_metres(0.07));
    Setup::new(rich_pot(), walls).unwrap().with_companion(stone).unwrap().with_companion(bottle).unwrap()
}

fn rich_ground() -> Resting {
    let [low, best, high] = [4.0, 7.0, 11.0].map(watts_per_square_metre_kelvin);
    let warmth = Course::sine(celsius(2.0), 3.0, hours(24.0), seconds(0.0)).unwrap();
    Resting::earth().at(warmth).passing(Range::new(low, best, high).unwrap())
}

fn rich_plan() -> Plan {
    let room = [(hours(0.0), celsius(16.0)), (hours(4.0), celsius(3.0)), (hours(9.0), celsius(-6.0))];
    Plan::in_room(Course::steps(&room).unwrap())
        .under_sky(Course::sine(celsius(-8.0), 7.0, hours(24.0), hours(9.0)).unwrap())
        .at_height(metres(800.0))
        .in_wind(Course::table(&[(hours(0.0), metres_per_second(3.0)), (hours(5.0), metres_per_second(7.0))]).unwrap())
        .resting_on(rich_ground())
        .simmer(minutes(18.0))
        .carry(minutes(4.0))
        .leaving_at(celsius(97.0))
        .shell_at(celsius(35.0))
        .open_at(hours(1.5), minutes(10.0))
        .reheat_at(hours(3.0), celsius(95.0))
        .take_out_at(hours(5.0), share(0.4))
        .uncover_at(hours(2.0), minutes(4.0))
        .stir_at(hours(2.5), minutes(1.0))
        .serve_after(hours(8.0))
}

#[test]
fn a_case_with_everything_is_what_the_library_builds() {
    let case = read(RICH);
    assert_eq!(case.title.as_deref(), Some("Everything"));
    assert_eq!(case.setup.pot(), &rich_pot());
    assert_eq!(case.setup.companions(), rich_setup().companions());
    assert_eq!(case.setup, rich_setup());
    assert_eq!(case.plan, rich_plan());
    let under_lid = Probe::at(ProbeSpot::UnderLid).with_lag(seconds(90.0));
    assert_eq!(case.probes, [under_lid, Probe::at(ProbeSpot::Coldest).starting_at(celsius(21.0))]);
    let mut options = Options::horizon(hours(20.0));
    options.step_error = kelvins(0.05);
    options.cells = 5;
    options.steps = 9000;
    assert_eq!(case.options, options);
    assert_eq!(case.questions.above, [celsius(70.0)]);
    let prices = Prices::default()
        .in_currency("EUR")
        .with_material("wool-blanket-felt", MaterialPrice::PerSquareMetre(12.5))
        .with_material("sheep-wool-batt", MaterialPrice::PerKilogram(9.0))
        .with_material("cotton-woven-cloth", MaterialPrice::PerCubicMetre(900.0))
        .with_change("a soft gasket", 6.0);
    assert_eq!(case.prices, prices);
}

/// Leaves out one key or one table at a time: each of them changes what is read, so none is read and dropped.
#[test]
fn no_key_is_read_and_dropped() {
    let whole = read(RICH);
    // (what is taken out, what stands in its place: nothing, or the least that is accepted)
    let mut changes: Vec<(String, String)> = Vec::new();
    let line = |key: &str| RICH.lines().find(|line| line.starts_with(key)).unwrap().to_owned();
    for (key, instead) in [
        ("title", ""),
        ("diameter", "diameter = \"230 mm\""),
        ("height = \"179", "height = \"181 mm\""),
        ("metal =", "metal = \"carbon-steel\""),
        ("metal-thickness", "metal-thickness = \"2 mm\""),
        ("mass = \"1.9", ""),
        ("emissivity", ""),
        ("lid-gap", ""),
        ("footing", "footing = \"0.12 m2 K/W\""),
        ("water = \"88", ""),
        ("water = \"60", ""),
        ("food = \"beans", "food = \"rice-cooked\""),
        ("mass = \"400", "mass = \"401 g\""),
        ("seams", ""),
        ("upright-seams", ""),
        ("material = \"carbon", "material = \"titanium\""),
        ("width = \"22", "width = \"21 mm\""),
        ("thickness = \"4", "thickness = \"5 mm\""),
        ("outside = \"120", "outside = \"80 mm\""),
        ("material = \"brass", "material = \"titanium\""),
        ("across", "across = \"8 mm\""),
        ("outside = \"15", "height = \"15 mm\""),
        ("spot = \"under-lid", "spot = \"dish\""),
        ("lag", ""),
        ("start = \"21", ""),
        ("kind", "kind = \"leek-soup\""),
        ("food = \"broth", "food = \"thick-stew\""),
        ("mass = \"4 kg", "mass = \"3 kg\""),
        ("circulation", "circulation = \"stirred\""),
        ("shape = \"sphere\"", "shape = \"cylinder\""),
        ("size = \"48", "size = \"47 mm\""),
        ("food = \"potato\"", "food = \"lean-beef\""),
        ("mass = \"700", "mass = \"600 g\""),
        ("start = \"14", "start = \"15 °C\""),
        ("heat-capacity = [", "heat-capacity = \"3500 J/(kg K)\""),
        ("density", "density = \"1000 kg/m3\""),
        ("conductivity", ""),
        ("fit", ""),
        ("inner-width", "inner-width = \"430 mm\""),
        ("inner-depth", "inner-depth = \"310 mm\""),
        ("inner-height", "inner-height = \"230 mm\""),
        ("closing", ""),
        ("joint", ""),
        ("layers", ""),
        ("name = \"soap", "name = \"stone\""),
        ("heat-capacity = \"1800", "heat-capacity = \"1700 J/K\""),
        ("start = \"180", "start = \"181 °C\""),
        ("surface = \"0.06", "surface = \"0.05 m2\""),
        ("material = \"water", "material = \"granite-soapstone\""),
        ("mass = \"1.2", "mass = \"1 kg\""),
        ("start = \"85", "start = \"84 °C\""),
        ("surface = \"700", "surface = \"800 cm2\""),
        ("room", "room = \"16 °C\""),
        ("sky", ""),
        ("height = \"800", ""),
        ("wind", ""),
        ("resting =", "resting = \"stone\""),
        ("resting-temperature", ""),
        ("resting-coefficient", ""),
        ("  { at = \"2 h\"", ""),
        ("  { at = \"2.5 h\"", ""),
        ("simmer", ""),
        ("carry", ""),
        ("start = \"97", ""),
        ("shell-start", ""),
        ("  { at = \"1.5 h\"", ""),
        ("  { at = \"3 h\"", ""),
        ("  { at = \"5 h\"", ""),
        ("serve", ""),
        ("above", ""),
        ("horizon", ""),
        ("step-error", ""),
        ("cells", ""),
        ("steps =", ""),
    ] {
        changes.push((line(key), instead.to_owned()));
    }
    for (old, new) in [
        ("emissivities = [0.9, 0.06]", "emissivities = [0.9, 0.9]"),
        ("airspace = \"12 mm\"", "airspace = \"13 mm\""),
        ("airspace = \"12 mm\"", "airspace = \"12 mm\", facing = \"10 deg\""),
        ("damp = true", "damp = false"),
        ("swing = \"7 K\"", "swing = \"6 K\""),
        ("period = \"24 h\", ", "period = \"23 h\", "),
        ("delay = \"9 h\"", "delay = \"8 h\""),
        ("mean = \"-8 °C\"", "mean = \"-9 °C\""),
        ("[\"5 h\", \"7 m/s\"]", "[\"5 h\", \"8 m/s\"]"),
        ("swing = \"3 K\"", "swing = \"2 K\""),
        ("uncover = \"4 min\"", "open = \"4 min\""),
        ("stir = \"1 min\"", "stir = \"2 min\""),
        ("[\"4 h\", \"3 °C\"]", "[\"4 h\", \"4 °C\"]"),
        ("[\"4 h\", \"3 °C\"]", "[\"5 h\", \"3 °C\"]"),
        ("open = \"10 min\"", "open = \"9 min\""),
        ("reheat = \"95 °C\"", "reheat = \"94 °C\""),
        ("take-out = \"40 %\"", "take-out = 0.5"),
    ] {
        changes.push((old.to_owned(), new.to_owned()));
    }
    assert!(changes.len() >= 60);
    for (old, new) in changes {
        let changed = read(&with(RICH, &old, &new));
        assert_ne!(changed, whole, "{old:?} or {new:?}: nothing changed");
    }
    // What stands for its default says the same.
    assert_eq!(read(&with(RICH, "period = \"24 h\", ", "")), whole);
    assert_eq!(read(&with(RICH, ", damp = true", "")), read(&with(RICH, "damp = true", "damp = false")));
}

#[test]
fn rooms_in_time() {
    let plan = |room: &str| read(&with(BOX, "\"16 °C\"", room)).plan;
    let points = [(hours(0.0), celsius(16.0)), (hours(2.0), celsius(9.0)), (hours(2.0), celsius(12.0))];
    let wanted = |course: Course<_>| Plan::in_room(course).serve_after(hours(6.0));
    assert_eq!(
        plan("{ points = [[\"0 h\", \"16 °C\"], [\"2 h\", \"9 °C\"], [\"120 min\", \"12 °C\"]] }"),
        wanted(Course::table(&points).unwrap())
    );
    assert_eq!(
        plan("{ mean = \"10 °C\", swing = \"4 K\" }"),
        wanted(Course::sine(celsius(10.0), 4.0, hours(24.0), seconds(0.0)).unwrap())
    );
    let log = "clock; room [°C]\n23:30; 16,2\n00:15; 12\n";
    let wanted_log = wanted(Course::from_log(log, "any.csv").unwrap());
    assert_eq!(plan(&format!("{{ rows = \"\"\"{log}\"\"\" }}")), wanted_log);
    // The same as a file beside the case.
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("logs");
    std::fs::create_dir_all(folder.join("winter")).unwrap();
    std::fs::write(folder.join("winter/cabin.csv"), log).unwrap();
    let text = with(BOX, "\"16 °C\"", "{ log = \"winter/cabin.csv\" }");
    let case = Case::read_in(&text, "test.toml", Catalogue::embedded(), &folder).unwrap();
    assert_eq!(case.plan, wanted_log);
}

#[test]
fn joints_of_boxes_and_sleeves() {
    let joint = "joint = [\"0.1 mm\", \"0.2 mm\", \"0.5 mm\"]";
    let gap = Range::new(millimetres(0.1), millimetres(0.2), millimetres(0.5)).unwrap();
    let case = read(&with(BOX, "closing = \"resting\"", joint));
    let Shell::Box(enclosure) = case.setup.shell() else { panic!("not a box") };
    assert_eq!(enclosure.lid_closing(), Lid::resting().with_gap(gap));
    let exact = read(&with(BOX, "closing = \"resting\"", "closing = \"plug\"\njoint = \"2 mm\""));
    let Shell::Box(enclosure) = exact.setup.shell() else { panic!("not a box") };
    assert_eq!(enclosure.lid_closing(), Lid::plug().with_gap(Range::exactly(millimetres(2.0))));
    let leak = "leak = [\"0.003 W/K\", \"0.01 W/K\", \"0.03 W/K\"]";
    let case = read(&with(SLEEVE, leak, joint));
    let Shell::Sleeve(sleeve) = case.setup.shell() else { panic!("not a sleeve") };
    let mat = Layer::of("cross-linked-polyethylene-foam-mat", millimetres(8.0)).unwrap();
    let plain = Sleeve::of_layers(vec![mat]).lid_closing();
    assert_eq!(sleeve.lid_closing(), plain.with_gap(gap));
    // A sleeve's lid without a word about it is the sleeve's own.
    let bare = read(&with(SLEEVE, &format!("[sleeve.lid]\n{leak}\n"), ""));
    let Shell::Sleeve(sleeve) = bare.setup.shell() else { panic!("not a sleeve") };
    assert_eq!(sleeve.lid_closing(), plain);
}

#[test]
fn lids_of_the_pot() {
    let lid = |line: &str| read(&with(BOX, "volume = \"7 L\"", &format!("volume = \"7 L\"\n{line}"))).setup.pot().lid();
    for (word, wanted) in [("loose", PotLid::loose()), ("sealed", PotLid::sealed()), ("none", PotLid::none())] {
        assert_eq!(lid(&format!("lid = \"{word}\"")), wanted);
    }
    assert_eq!(lid("lid-gap = \"1 mm\""), PotLid::with_gap(Range::exactly(millimetres(1.0))));
}

#[test]
fn knobs_under_the_lid_and_thermometers() {
    let plain = read(BOX);
    assert_eq!((plain.setup.pot().knob(), plain.probes.as_slice()), (None, [].as_slice()));
    let knob = "[pot.knob]\nmaterial = \"brass\"\nacross = \"40 mm\"\nheight = \"25 mm\"\n[dish]";
    let wanted = Knob::inside(named("brass"), millimetres(40.0), millimetres(25.0));
    assert_eq!(read(&with(BOX, "[dish]", knob)).setup.pot().knob(), Some(&wanted));
    for (word, spot) in [("dish", ProbeSpot::Dish), ("coldest", ProbeSpot::Coldest), ("under-lid", ProbeSpot::UnderLid)]
    {
        let probe = format!("[[probe]]\nspot = \"{word}\"\n[plan]");
        let case = read(&with(BOX, "[plan]", &probe));
        assert_eq!(case.probes, [Probe::at(spot)]);
        let forecast = case.setup.forecast_with(&case.plan, &case.options).unwrap();
        let rows = forecast.readings(&case.probes[0], hours(1.0), hours(6.0)).unwrap();
        assert_eq!(rows.len(), 7);
    }
}

#[test]
fn what_it_rests_on() {
    let rests = |lines: &str| read(&with(BOX, "serve = \"6 h\"", &format!("serve = \"6 h\"\n{lines}"))).plan;
    let usual = read(BOX).plan;
    assert_eq!(usual.resting(), &Resting::board());
    for (word, wanted) in [
        ("board", Resting::board()),
        ("stone", Resting::stone()),
        ("earth", Resting::earth()),
        ("snow", Resting::snow()),
        ("hung", Resting::hung()),
    ] {
        assert_eq!(rests(&format!("resting = \"{word}\"")).resting(), &wanted);
    }
    assert_eq!(rests("resting-temperature = \"5 °C\"").resting(), &Resting::board().at(celsius(5.0)));
    assert_eq!(rests("wind = { mean = \"3 m/s\", swing = \"2 m/s\" }").wind(), metres_per_second(3.0));
}

#[test]
fn fits_ice_and_films() {
    for (word, fit) in [("tight", Fit::Tight), ("ordinary", Fit::Ordinary), ("loose", Fit::Loose)] {
        let case = read(&with(BOX, "gap = \"15 mm\"", &format!("gap = \"15 mm\"\nfit = \"{word}\"")));
        let Shell::Box(enclosure) = case.setup.shell() else { panic!("not a box") };
        assert_eq!(enclosure.fit(), fit);
    }
    let iced = read(&with(BOX, "mass = \"6 kg\"", "mass = \"6 kg\"\nfrozen = \"40 %\""));
    assert_eq!(iced.setup.pot().ice(), share(0.4));
    let films = "[films]\ninside = \"9 W/(m2 K)\"\noutside = [\"6 W/(m2 K)\", \"8 W/(m2 K)\", \"12 W/(m2 K)\"]\n[plan]";
    let case = read(&with(BOX, "[plan]", films));
    let [low, best, high] = [6.0, 8.0, 12.0].map(watts_per_square_metre_kelvin);
    let outside = Range::new(low, best, high).unwrap();
    let inside = Range::exactly(watts_per_square_metre_kelvin(9.0));
    assert_eq!(case.setup, read(BOX).setup.with_constant_films(inside, outside).unwrap());
}

/// What was read can be computed, and the accounts close.
#[test]
fn a_case_with_everything_is_answered() {
    let case = read(RICH);
    let forecast = case.setup.forecast_with(&case.plan, &case.options).unwrap();
    println!("heat {:e}, water {:e}", forecast.ledger_residual(), forecast.water_residual());
    assert!(forecast.ledger_residual() < 1e-9);
    assert_eq!(forecast.middles(hours(1.0)).unwrap().len(), 2);
    // 4 kg at 97 °C, 1 kg of pieces in it: hot when shut, reheated at 3 h.
    let reheated = forecast.at(hours(3.0)).unwrap().temperature.best();
    assert!((reheated.si() - celsius(95.0).si()).abs() < 0.5, "{reheated:?}");
}

/// An airspace behind a wall's liner does what its resistance says: against the same wall without it, it holds longer.
#[test]
fn airspaces_count_in_boxes() {
    let text = with(BOX, "{ gap = \"1 mm\" }", "{ airspace = \"20 mm\", emissivities = [0.05, 0.9] }");
    let held = |text: &str| {
        let case = read(text);
        let forecast = case.setup.forecast_with(&case.plan, &case.options).unwrap();
        assert!(forecast.ledger_residual() < 1e-9);
        forecast.at(hours(6.0)).unwrap().temperature.best().si()
    };
    let (airspace, gap) = (held(&text), held(BOX));
    println!("{:.2} °C behind an airspace, {:.2} °C behind a gap", airspace - 273.15, gap - 273.15);
    assert!(airspace > gap + 0.3);
    // It rises from the pot to the lid and hangs below the base: the same airspace upright all round is another box.
    let upright = with(&text, "emissivities", "facing = \"0 deg\", emissivities");
    assert_ne!(read(&upright).setup, read(&text).setup);
    let pot = Pot::typical(litres(7.0));
    assert!(read(&text).setup.pot().volume().si() - pot.volume().si() < 1e-12);
}
