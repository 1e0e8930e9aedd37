//! A bestiary: setups that differ in everything a forecast depends on, ordinary ones and corners of what is accepted.

use stillhot::units::{
    Ratio, Si, Temperature, Time, celsius, hours, joules_per_kelvin, joules_per_kilogram_kelvin, kilograms,
    kilograms_per_cubic_metre, litres, metres, metres_per_second, millimetres, minutes, square_metre_kelvins_per_watt,
    square_metres, watts_per_kelvin, watts_per_metre_kelvin,
};
use stillhot::{
    Companion, Contact, Course, Dish, Enclosure, Face, Fit, Forecast, Handle, Held, Layer, Lid, Material, Moment,
    Options, PieceShape, Pieces, Plan, Pot, Range, Setup, Sleeve, Wall,
};

/// A setup and what happens to it.
pub struct Case {
    pub name: &'static str,
    pub setup: Setup,
    pub plan: Plan,
    pub horizon: Time,
}

impl Case {
    pub fn forecast(&self) -> Forecast {
        let options = Options::horizon(self.horizon);
        self.setup.forecast_with(&self.plan, &options).unwrap_or_else(|e| panic!("{}: {e}", self.name))
    }

    /// Eleven times from shutting to the horizon, dense at the start.
    pub fn times(&self) -> Vec<Time> {
        let end = self.horizon.si();
        (0..=10).map(|i| Time::from_si(end * (f64::from(i) / 10.0).powi(2))).collect()
    }

    /// Between start and room, K.
    pub fn swing(&self) -> f64 {
        (self.plan.start_temperature().unwrap().si() - self.plan.room().si()).abs()
    }
}

pub fn in_celsius(temperature: Temperature) -> f64 {
    temperature.si() - 273.15
}

/// How far a dish may have come to lie below a room (°C) that alone cools it, K, by drying since `from`: the heat of
/// evaporation of what it lost meanwhile, 2.5 MJ/kg, over its heat capacity; and never below the wet bulb of the room's
/// air (60 % damp, as assumed), where what a wet body loses by vapour the air gives back, with a fifth more because vapour
/// diffuses faster than heat (D/a = 1.17). Magnus' formula and the psychrometric constant 6.6e-4/K (MEMORY).
pub fn chilled_at_most(setup: &Setup, room: f64, forecast: &Forecast, from: Time, to: Time) -> f64 {
    let lost = |t: Time| forecast.water_lost(t).unwrap();
    let (Some(before), Some(after)) = (lost(from), lost(to)) else { return 0.0 };
    let members = [Range::low, Range::best, Range::high].map(|of| of(&after).si() - of(&before).si());
    let lost = members.into_iter().fold(0.0, f64::max);
    let (dish, mass) = setup.pot().contents().unwrap();
    let by_heat = 2.5e6 * lost / (mass.si() * dish.material().heat_capacity().low().si());
    by_heat.min(chilled_by_air(room))
}

/// At most how far below a room, °C, anything wet comes to lie in it, K: its wet-bulb depression, and a fifth.
pub fn chilled_by_air(room: f64) -> f64 {
    let saturated = |t: f64| 611.2 * (17.62 * t / (243.12 + t)).exp();
    let (mut low, mut high) = (-90.0, room);
    for _ in 0..60 {
        let bulb = 0.5 * (low + high);
        let over = saturated(bulb) - 6.6e-4 * 101_325.0 * (room - bulb) - 0.6 * saturated(room);
        if over > 0.0 { high = bulb } else { low = bulb }
    }
    1.2 * (room - low)
}

/// Seconds until earliest, best, latest; infinite past the horizon.
pub fn held(forecast: &Forecast, level: f64) -> [f64; 3] {
    let seconds = |moment: Moment| moment.time().map_or(f64::INFINITY, Si::si);
    match forecast.above(celsius(level)).unwrap() {
        Held::Until { earliest, best, latest, .. } => [seconds(earliest), seconds(best), seconds(latest)],
        Held::PastHorizon { .. } => [f64::INFINITY; 3],
        Held::NeverReached => [0.0; 3],
        other => panic!("{other:?}"),
    }
}

pub fn pot(volume: f64, dish: &str, mass: f64) -> Pot {
    Pot::typical(litres(volume)).with(Dish::named(dish).unwrap(), kilograms(mass))
}

pub fn box_round(pot: Pot, material: &str, thickness: f64, lid: Lid) -> Setup {
    let walls = Enclosure::lined(material, millimetres(thickness)).unwrap();
    Setup::new(pot, walls.lid(lid)).unwrap()
}

pub fn sleeve_round(pot: Pot, material: &str, thickness: f64, count: usize) -> Setup {
    Setup::new(pot, Sleeve::of_mat(material, millimetres(thickness), count).unwrap()).unwrap()
}

/// A material of three exact numbers.
pub fn plain(name: &str, k: f64, density: f64, heat: f64) -> Material {
    let (k, heat) = (watts_per_metre_kelvin(k), joules_per_kilogram_kelvin(heat));
    Material::custom(name, k, kilograms_per_cubic_metre(density), heat).unwrap()
}

/// A leak taken as exact, W/K, in place of a joint.
pub fn leak(conductance: f64) -> Range<stillhot::units::ThermalConductance> {
    Range::exactly(watts_per_kelvin(conductance))
}

const FOIL_FACED: &str = "rigid-polyisocyanurate-foam-foil-faced";
const MAT: &str = "cross-linked-polyethylene-foam-mat";

fn mixed_walls() -> Enclosure {
    let layered = || {
        Wall::planar()
            .layer(Layer::of("plywood", millimetres(9.0)).unwrap())
            .contact(Contact::Gap(millimetres(2.0)))
            .layer(Layer::of("expanded-cork-board", millimetres(60.0)).unwrap())
            .contact(Contact::Resistance(square_metre_kelvins_per_watt(0.05)))
            .layer(Layer::of("particleboard", millimetres(16.0)).unwrap())
            .build()
            .unwrap()
    };
    let base = Wall::planar().layer(Layer::of("granite-soapstone", millimetres(40.0)).unwrap()).build().unwrap();
    let lid = Wall::planar().layer(Layer::of("down-feather", millimetres(80.0)).unwrap()).build().unwrap();
    Enclosure::of_wall(layered()).with_wall(Face::Base, base).with_wall(Face::Lid, lid).lid(Lid::plug())
}

pub fn bestiary() -> Vec<Case> {
    let mut cases = Vec::new();
    let mut add = |name, setup: Setup, plan: Plan, horizon| cases.push(Case { name, setup, plan, horizon });
    let room = |t: f64| Plan::in_room(celsius(t));

    let water = || pot(9.0, "water-liquid", 8.5);
    add("rigid foam, resting", box_round(water(), FOIL_FACED, 50.0, Lid::resting()), room(15.0), hours(48.0));
    add("rigid foam, tight", box_round(water(), FOIL_FACED, 50.0, Lid::tight()), room(15.0), hours(48.0));
    let leaky = Lid::resting().leaking(leak(8.0));
    add("very leaky", box_round(water(), "expanded-polystyrene-20", 40.0, leaky), room(18.0), hours(24.0));
    let thin = box_round(pot(3.0, "thick-stew", 2.5), "corrugated-cardboard", 4.0, Lid::resting());
    add("thin cardboard", thin, room(20.0), hours(12.0));
    let straw = box_round(pot(20.0, "broth-thin-soup", 18.0), "straw-loose-chopped", 300.0, Lid::plug());
    add("thick straw", straw, room(5.0).carry(minutes(10.0)), hours(96.0));
    add("hay box", box_round(pot(5.0, "thick-stew", 4.5), "hay-loose", 300.0, Lid::tight()), room(10.0), hours(24.0));
    add("mixed walls", Setup::new(pot(6.0, "beans-cooked", 5.0), mixed_walls()).unwrap(), room(12.0), hours(36.0));
    let sleeve = || sleeve_round(pot(1.0, "lentil-porridge", 0.9), MAT, 5.0, 2);
    add("double mat", sleeve(), room(16.0), hours(12.0));
    let ridge = room(4.0).at_height(metres(1400.0)).in_wind(metres_per_second(2.0)).serve_after(minutes(40.0));
    add("double mat on a ridge", sleeve(), ridge, hours(12.0));
    let hot_room = room(60.0).leaving_at(celsius(20.0));
    add(
        "hot room",
        box_round(pot(5.0, "milk-whole", 4.0), "sheep-wool-batt", 60.0, Lid::pressed()),
        hot_room,
        hours(72.0),
    );
    let cold_pot = room(30.0).leaving_at(celsius(4.0)).carry(minutes(0.0));
    add("cold pot", box_round(water(), "extruded-polystyrene", 50.0, Lid::gasketed()), cold_pot, hours(60.0));
    let copper = pot(2.0, "rice-cooked", 1.5).of_metal(Material::named("copper").unwrap(), millimetres(20.0));
    add("heavy copper", box_round(copper, "silica-aerogel-blanket", 20.0, Lid::gasketed()), room(20.0), hours(24.0));
    let brick = box_round(pot(30.0, "thick-stew", 28.0), "brick-common", 240.0, Lid::resting());
    add("brick", brick, room(10.0), hours(48.0));
    let bare = box_round(pot(4.0, "potato", 3.0), "carbon-steel", 0.5, Lid::resting());
    add("sheet steel", bare, room(20.0), hours(12.0));
    let small = pot(0.2, "honey-syrup", 0.2);
    add(
        "small pot, long carry",
        sleeve_round(small, "sheep-wool-batt", 30.0, 1),
        room(22.0).carry(minutes(45.0)),
        hours(6.0),
    );
    let frost = room(-40.0).leaving_at(celsius(120.0)).in_wind(metres_per_second(15.0)).serve_after(hours(3.0));
    add(
        "oil in frost and storm",
        box_round(pot(5.0, "vegetable-oil", 4.0), FOIL_FACED, 80.0, Lid::pressed()),
        frost,
        hours(24.0),
    );
    let panel =
        box_round(pot(12.0, "pasta-cooked", 10.0), "vacuum-insulation-panel-fumed-silica", 25.0, Lid::gasketed());
    add("vacuum panels", panel, room(20.0), hours(24.0 * 14.0));
    cases
}

/// Setups to which things happen: every feature that an ordinary pot in an ordinary box does without.
pub fn eventful() -> Vec<Case> {
    let mut cases = Vec::new();
    let mut add = |name, setup: Setup, plan: Plan, horizon| cases.push(Case { name, setup, plan, horizon });
    let share = Ratio::from_si;

    let board = Wall::planar()
        .layer(Layer::of("plywood", millimetres(9.0)).unwrap())
        .contact(Contact::Gap(millimetres(1.0)))
        .layer(Layer::of("expanded-polystyrene-20", millimetres(50.0)).unwrap())
        .build()
        .unwrap();
    let steel = Material::named("stainless-steel-304").unwrap();
    let potatoes = Pieces::new(
        PieceShape::Sphere(millimetres(50.0)),
        Dish::named("potato").unwrap(),
        kilograms(1.0),
        celsius(15.0),
    );
    let stew = pot(6.0, "thick-stew", 2.5).with_pieces(potatoes).with_handle(Handle::new(
        steel.clone(),
        millimetres(25.0),
        millimetres(4.0),
        metres(0.12),
    ));
    let walls = Enclosure::of_wall(board).inside(metres(0.45), metres(0.3), metres(0.3)).fitted(Fit::Loose);
    let stone = Companion::new("stone", joules_per_kelvin(1800.0), celsius(180.0), square_metres(0.06));
    let setup = Setup::new(stew, walls).unwrap().with_companion(stone).unwrap();
    let evening = Course::steps(&[
        (hours(0.0), celsius(16.0)),
        (hours(4.0), celsius(3.0)),
        (hours(9.0), celsius(-6.0)),
        (hours(15.0), celsius(12.0)),
    ]);
    let plan = Plan::in_room(evening.unwrap())
        .under_sky(celsius(-12.0))
        .in_wind(metres_per_second(3.0))
        .at_height(metres(800.0))
        .carry(minutes(4.0))
        .shell_at(celsius(35.0))
        .open_at(hours(1.5), minutes(10.0))
        .reheat_at(hours(3.0), celsius(95.0))
        .take_out_at(hours(5.0), share(0.5))
        .open_at(hours(5.0), minutes(2.0));
    add("everything at once", setup, plan, hours(24.0));

    let cold = pot(5.0, "water-liquid", 3.5).with_ice(share(0.4));
    let cool = Enclosure::lined("extruded-polystyrene", millimetres(40.0)).unwrap();
    let cool = cool.inside(metres(0.4), metres(0.3), metres(0.28)).lid(Lid::gasketed());
    let pack = Companion::new("ice pack", joules_per_kelvin(1500.0), celsius(-18.0), square_metres(0.08));
    let setup = Setup::new(cold, cool).unwrap().with_companion(pack).unwrap();
    let log = "time [h], room [°C]\n0, 24\n3, 31\n6, 33.5\n12, 22\n18, 20\n24, 30\n48, 24\n";
    let day = Course::from_log(log, "room.csv").unwrap();
    let plan = Plan::in_room(day).carry(minutes(10.0)).shell_at(celsius(10.0)).open_at(hours(6.0), minutes(5.0));
    add("ice", setup, plan, hours(48.0));

    let rice = Pieces::new(
        PieceShape::Cylinder(millimetres(2.0)),
        Dish::named("rice-cooked").unwrap(),
        kilograms(0.3),
        celsius(20.0),
    );
    let beans = Pieces::new(
        PieceShape::Slab(millimetres(8.0)),
        Dish::named("beans-cooked").unwrap(),
        kilograms(0.2),
        celsius(20.0),
    );
    let small = pot(1.5, "broth-thin-soup", 0.6)
        .with_pieces(rice)
        .with_pieces(beans)
        .with_emissivity(Range::exactly(share(0.15)))
        .with_handle(Handle::new(
            Material::named("aluminium-pure").unwrap(),
            millimetres(10.0),
            millimetres(3.0),
            metres(0.05),
        ));
    let mat = Sleeve::of_mat(MAT, millimetres(5.0), 3).unwrap().with_contacts(Contact::Gap(millimetres(0.5)));
    let setup = Setup::new(small, mat).unwrap();
    let swinging = Course::sine(celsius(8.0), 6.0, hours(24.0), hours(3.0)).unwrap();
    let plan = Plan::in_room(swinging)
        .under_sky(celsius(-5.0))
        .simmer(minutes(3.0))
        .open_at(minutes(40.0), minutes(1.0))
        .take_out_at(minutes(40.0), share(0.3))
        .reheat_at(hours(2.0), celsius(100.0));
    add("sleeve under the sky", setup, plan, hours(12.0));
    cases
}
