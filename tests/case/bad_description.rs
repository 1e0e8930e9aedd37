//! Bad input that no case file can express: descriptions built in code.

use stillhot::units::{
    Si, celsius, hours, kelvins, kilograms, litres, metres, millimetres, seconds, square_metre_kelvins_per_watt,
    watts_per_kelvin,
};
use stillhot::{
    Contact, Dish, Enclosure, Error, ErrorKind, Face, Layer, Lid, Material, Options, Plan, Pot, Range, Setup, Sleeve,
    Wall,
};

fn steel() -> Material {
    Material::named("stainless-steel-304").unwrap()
}

fn stew() -> Dish {
    Dish::named("thick-stew").unwrap()
}

fn pot() -> Pot {
    Pot::typical(litres(7.0)).with(stew(), kilograms(6.0))
}

fn cork() -> Layer {
    Layer::of("expanded-cork-board", millimetres(50.0)).unwrap()
}

fn flat() -> Wall {
    Wall::planar().layer(cork()).build().unwrap()
}

fn bin() -> Enclosure {
    Enclosure::of_wall(flat())
}

fn setup() -> Setup {
    Setup::new(pot(), bin()).unwrap()
}

#[track_caller]
fn refused<T>(result: Result<T, Error>, kind: ErrorKind, path: &str, accepted: &str) {
    let Err(error) = result else { panic!("accepted; wanted a refusal at {path:?}") };
    assert_eq!((error.kind(), error.path().as_str()), (kind, path), "{error}");
    let offered = error.nearest().iter().any(|near| near.contains(accepted));
    assert!(offered || error.accepted().unwrap_or("").contains(accepted), "{error}");
}

const NOT_NUMBERS: [f64; 3] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY];

#[test]
fn pots() {
    use ErrorKind::{Inconsistent, OutOfRange, UnknownName};
    let put = |pot: Pot| Setup::new(pot.with(stew(), kilograms(1.0)), bin());
    let sized = |diameter: f64, height: f64, thickness: f64| {
        Pot::sized(metres(diameter), metres(height), steel(), millimetres(thickness))
    };
    for wrong in NOT_NUMBERS {
        refused(put(sized(wrong, 0.2, 1.0)), OutOfRange, "pot, diameter", "30 mm to 1 m");
        refused(put(sized(0.2, wrong, 1.0)), OutOfRange, "pot, height", "20 mm to 1 m");
        refused(put(sized(0.2, 0.2, wrong)), OutOfRange, "pot, metal thickness", "0.1 mm to 20 mm");
        refused(put(Pot::typical(litres(wrong))), OutOfRange, "pot, diameter", "30 mm to 1 m");
        refused(put(sized(0.2, 0.2, 1.0).weighing(kilograms(wrong))), OutOfRange, "pot, mass", "10 g to 100 kg");
        refused(sized(0.2, wrong, 1.0).mass(), OutOfRange, "pot, height", "20 mm to 1 m");
    }
    refused(put(sized(0.0, 0.2, 1.0)), OutOfRange, "pot, diameter", "30 mm to 1 m");
    refused(put(sized(0.2, 0.2, 0.0)), OutOfRange, "pot, metal thickness", "0.1 mm to 20 mm");
    refused(put(sized(1.0, 1.0, 1.0)), OutOfRange, "pot, volume", "50 mL to 300 L");
    refused(put(sized(0.2, 0.2, 1.0).weighing(kilograms(0.0))), OutOfRange, "pot, mass", "10 g to 100 kg");
    refused(Setup::new(Pot::typical(litres(7.0)), bin()), Inconsistent, "pot, contents", "a dish and its mass");
    refused(
        Setup::new(pot().with(stew(), kilograms(9.0)), bin()),
        Inconsistent,
        "pot, contents",
        "of this dish in 7 L",
    );
    refused(Setup::new(pot().with(stew(), kilograms(0.0)), bin()), OutOfRange, "pot, contents", "10 g to 500 kg");
    for wrong in [f64::NAN, f64::NEG_INFINITY] {
        refused(Setup::new(pot().with(stew(), kilograms(wrong)), bin()), OutOfRange, "pot, contents", "10 g to 500 kg");
    }
    refused(Dish::named("thick-stow"), UnknownName, "dish", "thick-stew");
    refused(Dish::named("carbon-steel"), UnknownName, "dish", "water-liquid");
    let wool = Dish::of(Material::named("sheep-wool-batt").unwrap());
    refused(
        Setup::new(pot().with(wool, kilograms(0.1)), bin()),
        OutOfRange,
        "pot, dish, density",
        "200 kg/m3 to 2000 kg/m3",
    );
}

#[test]
fn boxes() {
    use ErrorKind::{Inconsistent, OutOfRange, UnknownName};
    let put = |enclosure: Enclosure| Setup::new(pot(), enclosure);
    refused(Enclosure::lined("expanded-corck-board", millimetres(50.0)), UnknownName, "", "expanded-cork-board");
    let five: Vec<(Face, Wall)> = Face::OF_BOX.into_iter().skip(1).map(|face| (face, flat())).collect();
    refused(put(Enclosure::of_walls(five.clone())), Inconsistent, "box, lid", "");
    let twice = [five.clone(), vec![(Face::Lid, flat()), (Face::Front, flat())]].concat();
    refused(put(Enclosure::of_walls(twice)), Inconsistent, "box, front", "");
    let round = Wall::cylindrical(metres(0.2)).layer(cork()).build().unwrap();
    refused(put(bin().with_wall(Face::Left, round)), Inconsistent, "box, left", "");
    refused(put(bin().with_wall(Face::Side, flat())), Inconsistent, "box, side", "lid, base, front, back, left, right");
    for wrong in NOT_NUMBERS.into_iter().chain([-0.001, 1.5]) {
        refused(put(bin().around(&pot(), metres(wrong))), OutOfRange, "box, gap round the pot", "0 mm to 1 m");
    }
    for wrong in NOT_NUMBERS {
        let inside = bin().inside(metres(0.3), metres(wrong), metres(0.3));
        refused(put(inside), OutOfRange, "box, inside, depth", "20 mm to 3 m");
    }
    let low = bin().inside(metres(0.3), metres(0.3), metres(0.1));
    refused(put(low), Inconsistent, "box, inside, height", "at least 178.7 mm");
    let leaking = |leak: f64| bin().lid(Lid::resting().leaking(Range::exactly(watts_per_kelvin(leak))));
    for wrong in NOT_NUMBERS.into_iter().chain([-0.1, 101.0]) {
        refused(put(leaking(wrong)), OutOfRange, "box, lid, leak", "0 W/K to 100 W/K");
    }
}

#[test]
fn ranges_layers_and_walls() {
    use ErrorKind::{Inconsistent, OutOfRange};
    for (low, best, high) in [(2.0, 1.0, 3.0), (1.0, 3.0, 2.0), (f64::NAN, 1.0, 2.0), (0.0, 1.0, f64::INFINITY)] {
        let range = Range::new(kelvins(low), kelvins(best), kelvins(high));
        refused(range, OutOfRange, "", "low <= best <= high");
    }
    for wrong in NOT_NUMBERS.into_iter().chain([0.0, -1.0, 11.0]) {
        let path = "expanded-cork-board, thickness";
        refused(Layer::of("expanded-cork-board", metres(wrong)), OutOfRange, path, "0.001 mm to 10 m");
    }
    refused(Wall::planar().build(), Inconsistent, "wall", "");
    let perfect = Contact::Perfect;
    refused(
        Wall::planar().contact(perfect).layer(cork()).contact(perfect).build(),
        Inconsistent,
        "wall, contact",
        "a layer before and after every contact",
    );
    refused(
        Wall::planar().layer(cork()).contact(perfect).build(),
        Inconsistent,
        "wall, contact",
        "a layer before and after every contact",
    );
    let between = |contact: Contact| Wall::planar().layer(cork()).contact(contact).layer(cork()).build();
    for wrong in NOT_NUMBERS.into_iter().chain([0.0, -0.001, 0.006]) {
        let path = "wall, between layers 1 and 2, contact gap";
        refused(between(Contact::Gap(metres(wrong))), OutOfRange, path, "0.001 mm to 5 mm");
    }
    for wrong in NOT_NUMBERS.into_iter().chain([-0.1, 101.0]) {
        let contact = Contact::Resistance(square_metre_kelvins_per_watt(wrong));
        let path = "wall, between layers 1 and 2, contact resistance";
        refused(between(contact), OutOfRange, path, "0 m2 K/W to 100 m2 K/W");
    }
}

#[test]
fn sleeves() {
    use ErrorKind::{Inconsistent, OutOfRange, UnknownName};
    let put = |sleeve: Sleeve| Setup::new(pot(), sleeve);
    refused(put(Sleeve::of_layers(Vec::new())), Inconsistent, "sleeve", "");
    refused(Sleeve::of_mat("kapock", millimetres(9.0), 2), UnknownName, "", "kapok");
    refused(put(Sleeve::of_mat("kapok", millimetres(9.0), 0).unwrap()), Inconsistent, "sleeve", "");
    let mat = || Sleeve::of_mat("kapok", millimetres(9.0), 2).unwrap();
    for wrong in NOT_NUMBERS.into_iter().chain([-0.001, 0.06]) {
        refused(put(mat().with_gap(metres(wrong))), OutOfRange, "sleeve, gap", "0 mm to 50 mm");
        let path = "sleeve, wall, between layers 1 and 2, contact gap";
        refused(put(mat().with_contacts(Contact::Gap(metres(wrong)))), OutOfRange, path, "0.001 mm to 5 mm");
        let lid = Lid::plug().leaking(Range::exactly(watts_per_kelvin(wrong - 0.5)));
        refused(put(mat().lid(lid)), OutOfRange, "sleeve, lid, leak", "0 W/K to 100 W/K");
    }
}

#[test]
fn plans_and_options() {
    use ErrorKind::{OutOfRange, WorkBound};
    let run = |plan: Plan| setup().forecast(&plan);
    let mild = || Plan::in_room(celsius(16.0));
    for wrong in NOT_NUMBERS {
        refused(run(Plan::in_room(celsius(wrong))), OutOfRange, "plan, room", "-60 °C to 150 °C");
        refused(run(mild().at_height(metres(wrong))), OutOfRange, "plan, height above sea", "-400 m to 6000 m");
        refused(
            run(mild().in_wind(stillhot::units::metres_per_second(wrong))),
            OutOfRange,
            "plan, wind",
            "0 m/s to 20 m/s",
        );
        refused(run(mild().simmer(hours(wrong))), OutOfRange, "plan, simmer", "0 s to 24 h");
        refused(run(mild().carry(hours(wrong))), OutOfRange, "plan, carry", "0 s to 2 h");
        refused(run(mild().leaving_at(celsius(wrong))), OutOfRange, "plan, start temperature", "-30 °C to 150 °C");
        refused(run(mild().serve_after(hours(wrong))), OutOfRange, "plan, serve", "0 s to 1440 h");
        let options = Options::horizon(hours(wrong));
        refused(setup().forecast_with(&mild(), &options), OutOfRange, "options, horizon", "1 min to 1440 h");
        let mut options = Options::default();
        options.step_error = kelvins(wrong);
        refused(setup().forecast_with(&mild(), &options), OutOfRange, "options, step error", "1e-6 K to 1 K");
    }
    refused(run(mild().serve_after(hours(49.0))), OutOfRange, "plan, serve", "0 s to 48 h");
    refused(
        setup().forecast_with(&mild(), &Options::horizon(seconds(0.0))),
        OutOfRange,
        "options, horizon",
        "1 min to 1440 h",
    );
    let mut options = Options::default();
    options.cells = 0;
    refused(setup().forecast_with(&mild(), &options), OutOfRange, "options, cells", "3 to 200");
    options = Options::default();
    options.steps = 1;
    refused(setup().forecast_with(&mild(), &options), OutOfRange, "options, steps", "10 to 10000000");
    options.steps = 10;
    let error = setup().forecast_with(&mild(), &options).unwrap_err();
    assert_eq!(error.kind(), WorkBound, "{error}");
    refused(
        setup().assumptions(&mild().at_height(metres(1e4))),
        OutOfRange,
        "plan, height above sea",
        "-400 m to 6000 m",
    );
    refused(setup().forecast(&mild().carry(hours(3.0))), OutOfRange, "plan, carry", "0 s to 2 h");
}

#[test]
fn questions_to_a_forecast() {
    use ErrorKind::OutOfRange;
    let forecast = setup().forecast_with(&Plan::in_room(celsius(16.0)), &Options::horizon(hours(6.0))).unwrap();
    for wrong in [f64::NAN, f64::INFINITY, -1.0, 6.1] {
        refused(forecast.at(hours(wrong)), OutOfRange, "time", "0 s to 6 h");
    }
    for wrong in NOT_NUMBERS {
        refused(forecast.above(celsius(wrong)), OutOfRange, "temperature", "0 K to 3000 °C");
    }
    for wrong in [f64::NAN, 0.0, -1.0, f64::INFINITY] {
        refused(forecast.curve(seconds(wrong), hours(6.0)), OutOfRange, "interval", "1 s to ");
    }
    assert_eq!(forecast.at(hours(6.0)).unwrap().time.si(), 21_600.0);
}
