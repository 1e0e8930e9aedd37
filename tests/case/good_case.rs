//! What right case files mean.

use super::{BOX, SLEEVE, with};
use stillhot::case::Case;
use stillhot::material::Catalogue;
use stillhot::units::{
    Si, celsius, grams, hours, kelvins, kilograms, kilograms_per_cubic_metre, litres, metres, metres_per_second,
    millimetres, minutes, seconds, square_metre_kelvins_per_watt, watts_per_kelvin,
};
use stillhot::{
    Contact, Dish, Enclosure, Face, Held, Layer, Lid, LidKind, Material, Options, Plan, Pot, Range, Setup, Shell,
    Sleeve, Wall,
};

const KITCHEN: &str = include_str!("../../examples/kitchen_box.toml");
const RIDGE: &str = include_str!("../../examples/pot_sleeve.toml");

fn read(text: &str) -> Case {
    Case::read(text, "test.toml").unwrap_or_else(|findings| panic!("{findings:#?}"))
}

#[test]
fn a_box_is_what_the_library_builds() {
    let case = read(BOX);
    let wall = Wall::planar()
        .layer(Layer::of("cotton-woven-cloth", millimetres(1.0)).unwrap())
        .contact(Contact::Gap(millimetres(1.0)))
        .layer(Layer::of("expanded-polystyrene-20", millimetres(50.0)).unwrap())
        .build()
        .unwrap();
    let pot = Pot::typical(litres(7.0)).with(Dish::named("thick-stew").unwrap(), kilograms(6.0));
    let built = Enclosure::of_wall(wall).around(&pot, millimetres(15.0)).lid(Lid::resting());
    assert_eq!(case.setup, Setup::new(pot, built).unwrap());
    assert_eq!(case.plan, Plan::in_room(celsius(16.0)).serve_after(hours(6.0)));
    assert_eq!(case.options, Options::horizon(hours(24.0)));
    assert_eq!(case.questions.above, [celsius(75.0), celsius(60.0)]);
    assert_eq!(case.title, None);
}

#[test]
fn a_sleeve_is_what_the_library_builds() {
    let case = read(SLEEVE);
    let mat = || Layer::of("cross-linked-polyethylene-foam-mat", millimetres(8.0)).unwrap();
    let wall = Wall::planar()
        .layer(mat())
        .contact(Contact::Resistance(square_metre_kelvins_per_watt(0.02)))
        .layer(mat())
        .build()
        .unwrap();
    let leak = Range::new(watts_per_kelvin(0.003), watts_per_kelvin(0.01), watts_per_kelvin(0.03)).unwrap();
    let sleeve = Sleeve::of_wall(&wall).with_gap(millimetres(2.0));
    let sleeve = sleeve.lid(Lid::resting().leaking(leak));
    let Shell::Sleeve(read_sleeve) = case.setup.shell() else { panic!("not a sleeve") };
    assert_eq!(*read_sleeve, sleeve);
    assert_eq!(read_sleeve.lid_closing().leak(), Some(leak));
    assert_eq!(case.setup.pot().diameter(), millimetres(110.0));
    assert_eq!(case.setup.pot().height(), millimetres(90.0));
    let (dish, mass) = case.setup.pot().contents().unwrap();
    assert_eq!(mass, grams(600.0));
    assert_eq!(dish.material().density().value(), kilograms_per_cubic_metre(1050.0));
    let capacity = dish.material().heat_capacity();
    assert_eq!([capacity.low(), capacity.value(), capacity.high()].map(Si::si), [3400.0, 3600.0, 3800.0]);
    assert_eq!(case.plan, Plan::in_room(celsius(4.0)));
    assert_eq!(case.options, Options::default());
    assert_eq!(case.questions.above, [75.0, 63.0, 60.0].map(celsius));
}

#[test]
fn every_key_of_plan_and_options_arrives() {
    let plan = "room = \"16 °C\"\nheight = \"1400 m\"\nwind = \"2 m/s\"\nsimmer = \"25 min\"\ncarry = \"30 s\"\n\
                start = \"91 °C\"\nserve = \"6 h\"";
    let text = with(BOX, "room = \"16 °C\"\nserve = \"6 h\"", plan);
    let options = "horizon = \"24 h\"\nstep-error = \"0.05 K\"\ncells = 8\nsteps = 5_000";
    let case = read(&with(&text, "horizon = \"24 h\"", options));
    let wanted = Plan::in_room(celsius(16.0))
        .at_height(metres(1400.0))
        .in_wind(metres_per_second(2.0))
        .simmer(minutes(25.0))
        .carry(seconds(30.0))
        .leaving_at(celsius(91.0))
        .serve_after(hours(6.0));
    assert_eq!(case.plan, wanted);
    assert_eq!(case.options.step_error, kelvins(0.05));
    assert_eq!((case.options.cells, case.options.steps), (8, 5000));
}

#[test]
fn a_face_of_its_own_takes_the_place_of_the_common_wall() {
    let own = "[box.base]\nlayers = [{ material = \"expanded-cork-board\", thickness = \"2 in\" }]\n[plan]";
    let case = read(&with(BOX, "[plan]", own));
    let Shell::Box(enclosure) = case.setup.shell() else { panic!("not a box") };
    let base = enclosure.wall(Face::Base).unwrap();
    assert_eq!(base.layers().len(), 1);
    assert_eq!(base.layers()[0].material().id(), "expanded-cork-board");
    assert!((base.thickness().si() - 0.0508).abs() < 1e-12);
    assert_eq!(enclosure.wall(Face::Lid).unwrap().layers().len(), 2);
}

#[test]
fn six_faces_of_their_own_need_no_common_wall() {
    let walls = &BOX[BOX.find("walls").unwrap()..BOX.find("[box.lid]").unwrap()];
    let layers = "layers = [{ material = \"kapok\", thickness = \"60 mm\" }]\n";
    let faces: String =
        ["base", "front", "back", "left", "right"].map(|face| format!("[box.{face}]\n{layers}")).concat();
    let text = with(&with(BOX, walls, ""), "closing", &format!("{layers}closing"));
    read(&with(&text, "[plan]", &format!("{faces}[plan]")));
}

#[test]
fn lids_by_word() {
    for (word, kind) in [
        ("resting", LidKind::Resting),
        ("pressed", LidKind::Pressed),
        ("gasketed", LidKind::Gasketed),
        ("plug", LidKind::Plug),
        ("tight", LidKind::Tight),
    ] {
        let case = read(&with(BOX, "\"resting\"", &format!("\"{word}\"")));
        let Shell::Box(enclosure) = case.setup.shell() else { panic!("not a box") };
        assert_eq!(enclosure.lid_closing().kind(), kind);
    }
}

/// A leak that was measured is that of the whole joint: no length of joint scales it.
#[test]
fn a_leak_of_your_own_is_taken_as_given() {
    let case = read(SLEEVE);
    let assumptions = case.setup.assumptions(&case.plan).unwrap();
    let leak = assumptions.iter().find(|a| a.subject.contains("leaking")).unwrap();
    assert_eq!(leak.value, "0.003 W/K to 0.03 W/K (best 0.01 W/K)");
    assert_eq!(leak.basis, "as given");
}

/// That fibre is dry is an assumption, that it is damp a choice: both are told.
#[test]
fn damp_is_told() {
    let told = |damp: &str| {
        let text = with(BOX, "\"expanded-polystyrene-20\"", &format!("\"hay-loose\"{damp}"));
        let case = read(&text);
        let all = case.setup.assumptions(&case.plan).unwrap();
        let moisture = all.iter().find(|a| a.subject.starts_with("moisture in")).unwrap();
        let layer = all.iter().find(|a| a.subject.starts_with("50 mm of")).unwrap();
        (layer.subject.clone(), moisture.value.clone())
    };
    let hay = Material::named("hay-loose").unwrap();
    let (layer, moisture) = told("");
    assert_eq!(layer, format!("50 mm of {}", hay.name()));
    assert!(moisture.starts_with("dry; damp it conducts 1.2 to 3 times"), "{moisture}");
    let (layer, moisture) = told(", damp = true");
    assert_eq!(layer, format!("50 mm of {}, damp", hay.name()));
    assert!(moisture.starts_with("conducts 1.2 to 3 times as well as when dry"), "{moisture}");
    let case = read(BOX);
    assert!(case.setup.assumptions(&case.plan).unwrap().iter().all(|a| !a.subject.contains("moisture")), "foam");
}

#[test]
fn own_materials_are_known_in_the_file_or_from_a_catalogue() {
    let chaff = r#"
name = "Spelt chaff in a cotton bag"
category = "fibre-and-loose-fill"
grade = "C"
conductivity = { value = "0.055 W/(m K)", low = "0.045 W/(m K)", high = "0.07 W/(m K)", mark = "ESTIMATE" }
density = { value = "90 kg/m3", low = "80 kg/m3", high = "110 kg/m3", mark = "ESTIMATE" }
heat-capacity = { value = "1700 J/(kg K)", low = "1500 J/(kg K)", high = "1900 J/(kg K)", mark = "ESTIMATE" }
"#;
    let text = with(BOX, "expanded-polystyrene-20", "spelt-chaff");
    let inside = read(&format!("{text}\n[material.spelt-chaff]{chaff}"));
    let catalogue = Catalogue::embedded().with_file(&format!("[spelt-chaff]{chaff}"), "shelf.toml").unwrap();
    let outside = Case::read_with(&text, "test.toml", &catalogue).unwrap();
    assert_eq!(inside.setup, outside.setup);
    let refused = Case::read(&text, "test.toml").unwrap_err();
    assert_eq!(refused.len(), 1);
    assert!(refused[0].path().ends_with("box.walls[3].material"));
}

#[test]
fn the_templates_are_right_as_they_stand() {
    let kitchen = Case::read(KITCHEN, "kitchen_box.toml").unwrap();
    assert!(matches!(kitchen.setup.shell(), Shell::Box(_)));
    let (metal, contents) = (kitchen.setup.pot().volume(), kitchen.setup.pot().contents().unwrap().1);
    assert!((metal.si() - 0.007).abs() < 1e-12);
    assert_eq!(contents, kilograms(6.0));
    assert_eq!(kitchen.plan.room(), celsius(12.0));
    let ridge = Case::read(RIDGE, "pot_sleeve.toml").unwrap();
    let Shell::Sleeve(sleeve) = ridge.setup.shell() else { panic!("not a sleeve") };
    assert_eq!(sleeve.layers().len(), 2);
    // Boiling point at 1400 m: 95.3 °C (ICAO standard atmosphere and steam tables; MEMORY).
    assert!((ridge.plan.start_temperature().unwrap().si() - 273.15 - 95.3).abs() < 0.15);
}

/// The templates show every key that the documentation of the form names.
#[test]
fn every_documented_key_stands_in_a_template() {
    let form = include_str!("../../src/case/mod.rs");
    let rows = form.lines().filter_map(|line| line.strip_prefix("//! | ")).skip(2);
    let mut keys: Vec<&str> = rows.flat_map(|row| row.split('`').skip(1).step_by(2)).collect();
    keys.retain(|key| !key.starts_with(['[', '.']));
    assert!(keys.len() > 50, "{keys:?}");
    let templates = format!("{KITCHEN}{RIDGE}");
    let words: Vec<&str> = templates.split(|c: char| !(c.is_ascii_lowercase() || c == '-')).collect();
    let missing: Vec<&str> = keys.into_iter().filter(|key| !words.contains(key)).collect();
    assert!(missing.is_empty(), "{missing:?}");
}

/// Offers of a template that stand together, by the first of them, with the key that they take the place of, if it stands there.
const INSTEAD: [(&str, &str); 5] = [
    ("edges", "edges"),
    ("diameter", "volume"),
    ("heat-capacity = [\"3", "food"),
    ("inner-width", "gap"),
    ("room", "room"),
];
/// Offers that say what holds without them.
const USUAL: [&str; 5] = ["[options]", "[material", "sky = \"12", "height = \"0", "wind = \"0"];

/// What stands behind a '#' without a space is meant to be used: each such line, or section, taken alone makes a case
/// that is right and another than the template.
#[test]
fn what_the_templates_offer_is_right_too() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("templates");
    std::fs::create_dir_all(&folder).unwrap();
    for log in ["cabin.csv", "ridge.csv"] {
        std::fs::write(folder.join(log), "time [h], room [°C]\n0, 12\n8, 4\n").unwrap();
    }
    let read = |text: &str| {
        let read = Case::read_in(text, "test.toml", Catalogue::embedded(), &folder);
        read.unwrap_or_else(|findings| panic!("{findings:#?}\n{text}"))
    };
    for (template, least) in [(KITCHEN, 25), (RIDGE, 18)] {
        let lines: Vec<&str> = template.lines().collect();
        let offered = |at: usize| {
            let rest = lines.get(at).and_then(|line| line.strip_prefix('#'));
            rest.filter(|rest| !rest.is_empty() && !rest.starts_with(' '))
        };
        let whole = read(template);
        let (mut count, mut at) = (0, 0);
        while at < lines.len() {
            let Some(first) = offered(at) else {
                at += 1;
                continue;
            };
            let instead = INSTEAD.iter().find(|(offer, _)| first.starts_with(offer)).map(|(_, key)| *key);
            let together = first.starts_with('[') || instead.is_some_and(|key| key != "room");
            let end = (at + 1..).find(|row| !together || offered(*row).is_none()).unwrap_or(lines.len());
            let section = lines[..at].iter().rposition(|line| line.starts_with('[')).unwrap_or(0);
            let next = (end..lines.len()).find(|row| lines[*row].starts_with('[')).unwrap_or(lines.len());
            let text: Vec<&str> = (0..lines.len())
                .filter(|row| {
                    let key = lines[*row].split(" =").next();
                    !((section..next).contains(row) && instead.is_some() && key == instead)
                })
                .map(|row| if (at..end).contains(&row) { offered(row).unwrap_or("") } else { lines[row] })
                .collect();
            let changed = read(&text.join("\n"));
            if !USUAL.iter().any(|start| first.starts_with(start)) {
                assert_ne!(changed, whole, "{first}");
            }
            count += 1;
            at = end;
        }
        assert!(count >= least, "{count} offers");
    }
}

/// A room hotter than the pot is no error: the pot warms.
#[test]
fn in_a_hot_room_the_pot_warms() {
    let text = with(BOX, "\"16 °C\"", "\"80 °C\"\nstart = \"10 °C\"");
    let case = read(&text);
    let forecast = case.setup.forecast_with(&case.plan, &case.options).unwrap();
    let curve = forecast.curve(hours(1.0), hours(24.0)).unwrap();
    assert_eq!(curve.len(), 25);
    for pair in curve.windows(2) {
        assert!(pair[1].temperature.best() > pair[0].temperature.best(), "falls at {:?}", pair[1].time);
    }
    assert!(curve[24].temperature.best() < celsius(80.0));
    assert_eq!(forecast.above(celsius(60.0)).unwrap(), Held::NeverReached);
    assert!(matches!(forecast.above(celsius(5.0)).unwrap(), Held::PastHorizon { .. }));
}

/// A temperature that is never crossed is an answer.
#[test]
fn a_threshold_out_of_reach_is_an_answer() {
    let case = read(BOX);
    let forecast = case.setup.forecast_with(&case.plan, &case.options).unwrap();
    assert_eq!(forecast.above(celsius(120.0)).unwrap(), Held::NeverReached);
    match forecast.above(celsius(16.0)).unwrap() {
        Held::PastHorizon { horizon, margin } => {
            assert_eq!(horizon, hours(24.0));
            assert!(margin.si() > 0.0);
        }
        other => panic!("{other}"),
    }
    match forecast.above(celsius(75.0)).unwrap() {
        Held::Until { earliest, best, latest, .. } => assert!(earliest < best && best < latest),
        other => panic!("{other}"),
    }
    assert!(forecast.ledger_residual() < 1e-9);
}

#[test]
fn names_of_foods_come_from_the_catalogue_at_hand() {
    let broth = Material::named("thick-stew").unwrap().renamed("barley-broth", "Barley broth").unwrap();
    assert_eq!(Dish::of(broth).material().name(), "Barley broth");
    for food in Catalogue::embedded().of_category(stillhot::material::Category::FoodAndLiquid) {
        // Raw grain and ice are lighter than the dish of the template: a kilogram fits whatever it is.
        let text = with(&with(BOX, "thick-stew", food.id()), "6 kg", "1 kg");
        read(&text);
    }
}
