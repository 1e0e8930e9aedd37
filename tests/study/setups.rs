//! Setups to study, invented.

use stillhot::units::{
    celsius, hours, joules_per_kelvin, kilograms, litres, metres, metres_per_second, millimetres, minutes,
    square_metres, watts_per_kelvin, watts_per_square_metre_kelvin,
};
use stillhot::{
    Companion, Contact, Dish, Enclosure, Fit, Handle, Layer, Lid, LidKind, Material, Options, PieceShape, Pieces, Plan,
    Pot, PotLid, Range, Setup, Sleeve, Wall,
};

pub fn pot(dish: &str, volume: f64, mass: f64) -> Pot {
    Pot::typical(litres(volume)).with(Dish::named(dish).unwrap(), kilograms(mass))
}

pub fn foam_box() -> Setup {
    let walls = Enclosure::lined("expanded-polystyrene-20", millimetres(50.0)).unwrap();
    Setup::new(pot("broth-thin-soup", 7.0, 6.0), walls).unwrap()
}

pub fn plan() -> Plan {
    Plan::in_room(celsius(16.0))
}

/// Coarse and short, for many forecasts.
pub fn quick(horizon: f64) -> Options {
    let mut options = Options::horizon(hours(horizon));
    options.cells = 4;
    options
}

/// Setups that between them have every kind of uncertain input.
pub fn many() -> Vec<(&'static str, Setup, Plan)> {
    let steel = || Material::named("stainless-steel-304").unwrap();
    let layered = Wall::planar()
        .layer(Layer::of("plywood", millimetres(9.0)).unwrap())
        .contact(Contact::Gap(millimetres(2.0)))
        .layer(Layer::of("sheep-wool-batt", millimetres(50.0)).unwrap().damp().unwrap())
        .build()
        .unwrap();
    let potatoes = Pieces::new(
        PieceShape::Sphere(millimetres(40.0)),
        Dish::named("potato").unwrap(),
        kilograms(0.8),
        celsius(15.0),
    );
    let handle = Handle::new(steel(), millimetres(25.0), millimetres(4.0), metres(0.1));
    let stone = Companion::new("stone", joules_per_kelvin(1800.0), celsius(120.0), square_metres(0.06));
    let stew = pot("broth-thin-soup", 6.0, 2.5).with_pieces(potatoes).with_handle(handle);
    let walls = Enclosure::of_wall(layered).fitted(Fit::Loose).lid(Lid::plug());
    assert_eq!(walls.lid_closing().kind(), LidKind::Plug);
    let everything = Setup::new(stew, walls).unwrap().with_companion(stone).unwrap();
    let windy = plan().in_wind(metres_per_second(3.0)).open_at(hours(1.0), minutes(5.0)).carry(minutes(5.0));

    let open = pot("water-liquid", 3.0, 2.0).covered(PotLid::none()).of_metal(steel(), millimetres(1.5));
    let mat = Sleeve::of_mat("cross-linked-polyethylene-foam-mat", millimetres(8.0), 2).unwrap();
    let film = |h: f64| {
        let of = |factor: f64| watts_per_square_metre_kelvin(h * factor);
        Range::new(of(0.7), of(1.0), of(1.4)).unwrap()
    };
    let leak = Range::new(watts_per_kelvin(0.1), watts_per_kelvin(0.3), watts_per_kelvin(0.9)).unwrap();
    let given = Lid::resting().leaking(leak);
    let walls = Enclosure::lined("expanded-cork-board", millimetres(40.0)).unwrap().lid(given);
    let filmed = Setup::new(pot("broth-thin-soup", 5.0, 4.0), walls).unwrap();
    let porridge = Setup::new(pot("lentil-porridge", 2.0, 1.6), mat.clone()).unwrap();
    vec![
        ("foam box", foam_box(), plan()),
        ("everything", everything, windy),
        ("open pot in a mat", Setup::new(open, mat).unwrap(), plan()),
        ("constant films", filmed.with_constant_films(film(8.0), film(9.0)).unwrap(), plan()),
        ("porridge that stands still", porridge, plan()),
    ]
}
