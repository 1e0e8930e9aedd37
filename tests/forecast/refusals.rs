//! What is refused, and whether the sentence helps: the place, the value given, what is accepted.

use stillhot::units::{
    Ratio, Si, celsius, days, hours, joules_per_kelvin, kelvins, kilograms, litres, metres, metres_per_second,
    millimetres, minutes, square_metres, watts_per_kelvin, watts_per_square_metre_kelvin,
};
use stillhot::{
    Companion, Dish, Enclosure, Error, ErrorKind, Face, Forecast, Handle, Knob, Layer, Lid, Material, Options,
    PieceShape, Pieces, Plan, Pot, PotLid, Range, Setup, Sleeve, Wall,
};

use crate::setups::{leak, pot};

fn watery(dish: &str, fraction: f64) -> Dish {
    Dish::named(dish).unwrap().with_water_content(Ratio::from_si(fraction))
}

fn stew() -> Pot {
    pot(5.0, "thick-stew", 4.0)
}

fn foam() -> Enclosure {
    Enclosure::lined("extruded-polystyrene", millimetres(50.0)).unwrap()
}

fn planned(plan: &Plan) -> Error {
    Setup::new(stew(), foam()).unwrap().forecast(plan).unwrap_err()
}

fn computed(change: impl Fn(&mut Options)) -> Result<Forecast, Error> {
    let mut options = Options::default();
    change(&mut options);
    Setup::new(stew(), foam()).unwrap().forecast_with(&Plan::in_room(celsius(20.0)), &options)
}

#[test]
fn a_bound_on_work_is_kept() {
    let error = computed(|o| o.steps = 10).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::WorkBound);
    assert!(error.value().unwrap().contains("10 steps") && error.accepted().is_some(), "{error}");
    // Just enough is enough.
    let steps = computed(|_| ()).unwrap().statistics().steps;
    assert!(computed(|o| o.steps = steps).is_ok());
}

#[test]
fn unknown_names_offer_the_nearest() {
    let error = Enclosure::lined("extruded-polystirene", millimetres(50.0)).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::UnknownName);
    assert!(error.value().unwrap().contains("extruded-polystirene"), "{error}");
    assert_eq!(error.nearest()[0], "extruded-polystyrene", "{error}");
    let error = Dish::named("thick-stw").unwrap_err();
    assert_eq!(error.kind(), ErrorKind::UnknownName);
    assert!(error.value().unwrap().contains("thick-stw"), "{error}");
    assert_eq!(error.nearest()[0], "thick-stew", "{error}");
    // A material that is no food is no dish.
    assert_eq!(Dish::named("brick-common").unwrap_err().kind(), ErrorKind::UnknownName);
    let error = Sleeve::of_mat("", millimetres(5.0), 2).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::UnknownName);
}

/// What the options accept can be computed, also where the walls rest at room temperature while the pot is carried.
#[test]
fn fine_meshes_are_not_refused() {
    for (cells, thickness) in [(120, 50.0), (120, 300.0), (200, 300.0)] {
        let walls = Enclosure::lined("hay-loose", millimetres(thickness)).unwrap();
        let mut options = Options::horizon(hours(1.0));
        options.cells = cells;
        let forecast = Setup::new(stew(), walls).unwrap().forecast_with(&Plan::in_room(celsius(10.0)), &options);
        let forecast = forecast.unwrap_or_else(|e| panic!("{cells} cells in {thickness} mm: {e}"));
        assert!(forecast.ledger_residual() < 1e-9);
    }
}

/// Every refusal names the place and shows value and accepted range in its sentence.
#[test]
fn refusals_show_place_value_and_range() {
    let room = || Plan::in_room(celsius(20.0));
    let made = |pot: Pot| Setup::new(pot, foam()).unwrap_err();
    let boxed = |walls: Enclosure| Setup::new(stew(), walls).unwrap_err();
    let steel = || Material::named("stainless-steel-304").unwrap();
    let nan = f64::NAN;
    let ratio = Ratio::from_si;
    let knob = || Knob::inside(steel(), millimetres(30.0), millimetres(30.0));
    let handle = |width: f64, outside: f64| Handle::new(steel(), millimetres(width), millimetres(4.0), metres(outside));
    let pieces = |size: f64, mass: f64, start: f64| {
        let potato = Dish::named("potato").unwrap();
        Pieces::new(PieceShape::Sphere(millimetres(size)), potato, kilograms(mass), celsius(start))
    };
    let beside = |capacity: f64, start: f64, surface: f64| {
        let stone = Companion::new("stone", joules_per_kelvin(capacity), celsius(start), square_metres(surface));
        Setup::new(stew(), foam()).unwrap().with_companion(stone).unwrap_err()
    };
    let films = |inside: f64, outside: f64| {
        let [inside, outside] = [inside, outside].map(|h| Range::exactly(watts_per_square_metre_kelvin(h)));
        Setup::new(stew(), foam()).unwrap().with_constant_films(inside, outside).unwrap_err()
    };
    let rows: Vec<(&str, Error)> = vec![
        ("plan, room", planned(&Plan::in_room(celsius(-61.0)))),
        ("plan, room", planned(&Plan::in_room(celsius(nan)))),
        ("plan, height above sea", planned(&room().at_height(metres(6001.0)))),
        ("plan, wind", planned(&room().in_wind(metres_per_second(-0.1)))),
        ("plan, simmer", planned(&room().simmer(hours(25.0)))),
        ("plan, carry", planned(&room().carry(hours(2.1)))),
        ("plan, start temperature", planned(&room().leaving_at(celsius(151.0)))),
        ("plan, serve", planned(&room().serve_after(minutes(-1.0)))),
        ("plan, serve", planned(&room().serve_after(hours(49.0)))),
        ("options, step error", computed(|o| o.step_error = kelvins(0.0)).unwrap_err()),
        ("options, cells", computed(|o| o.cells = 2).unwrap_err()),
        ("options, horizon", computed(|o| o.horizon = hours(0.0)).unwrap_err()),
        ("options, horizon", computed(|o| o.horizon = days(61.0)).unwrap_err()),
        ("options, steps", computed(|o| o.steps = 9).unwrap_err()),
        ("pot, volume", made(Pot::sized(metres(1.0), metres(1.0), steel(), millimetres(1.0)))),
        ("pot, diameter", made(Pot::sized(millimetres(29.0), millimetres(90.0), steel(), millimetres(1.0)))),
        ("pot, height", made(Pot::sized(millimetres(200.0), metres(nan), steel(), millimetres(1.0)))),
        ("pot, metal thickness", made(stew().of_metal(steel(), millimetres(0.0)))),
        ("pot, mass", made(stew().weighing(kilograms(-1.0)))),
        ("pot, contents", made(stew().with(Dish::named("thick-stew").unwrap(), kilograms(40.0)))),
        ("pot, contents", made(stew().with(Dish::named("thick-stew").unwrap(), kilograms(0.0)))),
        ("pot, contents", made(stew().with(Dish::named("thick-stew").unwrap(), kilograms(nan)))),
        ("pot, dish, heat capacity", made(stew().with(Dish::of(steel()), kilograms(1.0)))),
        ("box, gap round the pot", boxed(foam().around(&stew(), millimetres(-1.0)))),
        ("box, inside, width", boxed(foam().inside(metres(0.1), metres(0.4), metres(0.4)))),
        ("box, inside, height", boxed(foam().inside(metres(0.4), metres(0.4), metres(3.1)))),
        ("box, lid, leak", boxed(foam().lid(Lid::resting().leaking(leak(101.0))))),
        ("box, lid, leak", boxed(foam().lid(Lid::resting().leaking(leak(nan))))),
        ("box, lid, gap", boxed(foam().lid(Lid::resting().with_gap(Range::exactly(millimetres(11.0)))))),
        ("plan, sky", planned(&room().under_sky(celsius(-101.0)))),
        ("plan, box or sleeve at the start", planned(&room().shell_at(celsius(nan)))),
        ("plan, action 1, time", planned(&room().reheat_at(minutes(-1.0), celsius(90.0)))),
        ("plan, action 1, time", planned(&room().reheat_at(hours(48.0), celsius(90.0)))),
        (
            "plan, action 2, time",
            planned(&room().open_at(hours(1.0), minutes(5.0)).take_out_at(hours(60.0), ratio(0.5))),
        ),
        ("plan, action 1, opening", planned(&room().open_at(hours(1.0), hours(2.5)))),
        ("plan, action 1, reheat", planned(&room().reheat_at(hours(1.0), celsius(151.0)))),
        ("plan, action 1, share taken out", planned(&room().take_out_at(hours(1.0), ratio(0.96)))),
        ("plan, action 1, share taken out", planned(&room().take_out_at(hours(1.0), ratio(nan)))),
        ("pot, ice", made(stew().with_ice(ratio(1.1)))),
        ("pot, ice", made(pot(5.0, "vegetable-oil", 4.0).with_ice(ratio(0.1)))),
        ("pot, emissivity", made(stew().with_emissivity(Range::exactly(ratio(1.2))))),
        ("pot, dish, water content", made(stew().with(watery("thick-stew", -0.1), kilograms(3.0)))),
        ("pot, dish, water content", made(stew().with(watery("vegetable-oil", 0.9), kilograms(3.0)))),
        ("pot, handle, width", made(stew().with_handle(handle(0.1, 0.1)))),
        ("pot, handle, outside", made(stew().with_handle(handle(20.0, 0.6)))),
        ("pot, knob, across", made(stew().with_knob(Knob::inside(steel(), millimetres(0.1), millimetres(30.0))))),
        ("pot, knob, height", made(stew().with_knob(Knob::inside(steel(), millimetres(30.0), millimetres(f64::NAN))))),
        ("pot, knob, outside", made(stew().with_knob(Knob::through_lid(steel(), millimetres(9.0), metres(0.6))))),
        ("pot, knob", made(stew().covered(PotLid::none()).with_knob(knob()))),
        ("pot, pieces, size", made(stew().with_pieces(pieces(0.5, 0.5, 15.0)))),
        ("pot, pieces, mass", made(stew().with_pieces(pieces(40.0, nan, 15.0)))),
        ("pot, pieces, start temperature", made(stew().with_pieces(pieces(40.0, 0.5, -18.0)))),
        ("pot, contents", made(stew().with_pieces(pieces(40.0, 4.0, 15.0)))),
        ("stone, heat capacity", beside(0.0, 100.0, 0.05)),
        ("stone, start temperature", beside(1000.0, 401.0, 0.05)),
        ("stone, surface", beside(1000.0, 100.0, nan)),
        ("inside film", films(0.05, 8.0)),
        ("outside film", films(9.0, 1001.0)),
        (
            "sleeve, gap",
            Setup::new(
                stew(),
                Sleeve::of_mat("eva-foam-mat", millimetres(5.0), 2).unwrap().with_gap(millimetres(51.0)),
            )
            .unwrap_err(),
        ),
        ("extruded-polystyrene, thickness", Layer::of("extruded-polystyrene", metres(0.0)).unwrap_err()),
        ("extruded-polystyrene, thickness", Layer::of("extruded-polystyrene", metres(-0.05)).unwrap_err()),
        ("", Range::new(watts_per_kelvin(2.0), watts_per_kelvin(1.0), watts_per_kelvin(3.0)).unwrap_err()),
    ];
    let mut failures = Vec::new();
    for (path, error) in rows {
        let text = error.to_string();
        let shows = |part: Option<&str>| part.is_some_and(|p| !p.is_empty() && text.contains(p));
        if error.path() != path || !shows(error.value()) || !shows(error.accepted()) {
            failures.push(format!("{path}: {text}"));
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

/// Things that do not fit one another: no single value is wrong, but the place is named.
#[test]
fn misfits_name_their_place() {
    let wall = || Wall::planar().layer(Layer::of("plywood", millimetres(9.0)).unwrap()).build().unwrap();
    let round = Wall::cylindrical(metres(0.1)).layer(Layer::of("plywood", millimetres(9.0)).unwrap()).build().unwrap();
    let six = || Face::OF_BOX.map(|face| (face, wall())).to_vec();
    let boxed = |walls: Vec<(Face, Wall)>| Setup::new(stew(), Enclosure::of_walls(walls)).unwrap_err();
    let mut twice = six();
    twice.push((Face::Lid, wall()));
    let mut extra = six();
    extra.push((Face::Side, wall()));
    let mut curved = six();
    curved[2].1 = round;
    let rows = [
        ("box, lid", boxed(twice)),
        ("box, right", boxed(six()[..5].to_vec())),
        ("box, side", boxed(extra)),
        ("box, front", boxed(curved)),
        ("pot, contents", Setup::new(Pot::typical(litres(5.0)), foam()).unwrap_err()),
        ("sleeve", Setup::new(stew(), Sleeve::of_layers(Vec::new())).unwrap_err()),
        ("wall", Wall::planar().build().unwrap_err()),
    ];
    for (path, error) in rows {
        assert_eq!(error.path(), path, "{error}");
        assert_eq!(error.kind(), ErrorKind::Inconsistent, "{error}");
    }
}

#[test]
fn a_forecast_is_asked_only_inside_its_horizon() {
    let forecast = computed(|o| o.horizon = hours(5.0)).unwrap();
    for error in [
        forecast.at(minutes(-1.0)).unwrap_err(),
        forecast.at(hours(5.1)).unwrap_err(),
        forecast.at(hours(f64::NAN)).unwrap_err(),
        forecast.above(celsius(f64::NAN)).unwrap_err(),
        forecast.curve(minutes(0.0), hours(5.0)).unwrap_err(),
    ] {
        assert_eq!(error.kind(), ErrorKind::OutOfRange);
        assert!(error.value().is_some() && error.accepted().is_some(), "{error}");
    }
    assert_eq!(forecast.curve(hours(1.0), hours(99.0)).unwrap().len(), 6);
}

/// Ice sets the start: another one that is given would be lost without a word.
#[test]
fn ice_refuses_another_start() {
    let iced = pot(5.0, "water-liquid", 4.0).with_ice(Ratio::from_si(0.25));
    let bin = Enclosure::lined("expanded-cork-board", millimetres(50.0)).unwrap().around(&iced, millimetres(15.0));
    let setup = Setup::new(iced, bin).unwrap();
    let plan = Plan::in_room(celsius(25.0));
    let error = setup.forecast(&plan.clone().leaving_at(celsius(4.0))).unwrap_err();
    assert_eq!((error.kind(), error.path().as_str()), (ErrorKind::Inconsistent, "plan, start temperature"));
    assert_eq!((error.value(), error.accepted()), (Some("4 °C"), Some("0 °C, no start temperature, or no ice")));
    let assumed = |plan: &Plan| setup.assumptions(plan).unwrap()[0].value.clone();
    assert_eq!(assumed(&plan), "0 °C, 25 % of it ice");
    assert_eq!(assumed(&plan.leaving_at(celsius(0.0))), "0 °C, 25 % of it ice");
}

/// Every face of a box has one flat wall, and what is said when it has not says so.
#[test]
fn a_wall_for_each_face_is_asked_for() {
    let flat = || Wall::planar().layer(Layer::of("plywood", millimetres(9.0)).unwrap()).build().unwrap();
    let round = || {
        let layer = Layer::of("plywood", millimetres(9.0)).unwrap();
        Wall::cylindrical(metres(0.1)).layer(layer).build().unwrap()
    };
    let refused = |walls: Vec<(Face, Wall)>| Setup::new(stew(), Enclosure::of_walls(walls)).unwrap_err();
    let all = || Face::OF_BOX.map(|face| (face, flat())).to_vec();
    let without = |face: Face| all().into_iter().filter(|(of, _)| *of != face).collect::<Vec<_>>();
    let each = "lid, base, front, back, left, right";
    for (error, problem, accepted) in [
        (refused(without(Face::Lid)), "box, lid: a face has no wall", each),
        (refused([all(), vec![(Face::Base, flat())]].concat()), "box, base: a face has two walls", each),
        (
            refused([without(Face::Left), vec![(Face::Left, round())]].concat()),
            "box, left: a box needs flat walls",
            "flat",
        ),
    ] {
        assert_eq!(error.kind(), ErrorKind::Inconsistent);
        assert!(error.to_string().starts_with(problem), "{error}");
        assert!(error.accepted().is_some_and(|text| text.contains(accepted)), "{error}");
    }
}
