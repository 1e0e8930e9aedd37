//! Which way an answer must move when the setup is changed.

use stillhot::correlation::water;
use stillhot::units::{
    Si, Temperature, celsius, hours, joules_per_kilogram_kelvin, millimetres, minutes, watts_per_kelvin,
    watts_per_metre_kelvin,
};
use stillhot::{Enclosure, Layer, Lid, Material, Mechanism, Options, Place, Plan, Pot, Range, Setup, Wall};

use crate::setups::{bestiary, box_round, chilled_at_most, held, leak, plain, pot, sleeve_round};

fn room() -> Plan {
    Plan::in_room(celsius(15.0))
}

fn rising(what: &str, holds: &[[f64; 3]]) {
    for pair in holds.windows(2) {
        for (member, (before, after)) in pair[0].iter().zip(&pair[1]).enumerate() {
            assert!(before < after, "{what}, member {member}: {before} s, then {after} s");
        }
    }
}

#[test]
fn a_wider_leak_never_holds_longer() {
    for material in ["extruded-polystyrene", "hay-loose", "corrugated-cardboard"] {
        let holds: Vec<[f64; 3]> = [10.0, 1.0, 0.3, 0.1, 0.03, 0.0]
            .map(|g| box_round(pot(5.0, "thick-stew", 4.0), material, 60.0, Lid::resting().leaking(leak(g))))
            .iter()
            .map(|setup| held(&setup.forecast(&room()).unwrap(), 65.0))
            .collect();
        rising(material, &holds);
    }
    // A range that only reaches further out moves the ends and leaves the best value.
    let with = |low: f64, high: f64| {
        let range = Range::new(watts_per_kelvin(low), watts_per_kelvin(0.1), watts_per_kelvin(high)).unwrap();
        let lid = Lid::resting().leaking(range);
        held(
            &box_round(pot(5.0, "thick-stew", 4.0), "extruded-polystyrene", 60.0, lid).forecast(&room()).unwrap(),
            65.0,
        )
    };
    let (narrow, wide) = (with(0.08, 0.12), with(0.02, 0.4));
    assert!(wide[0] < narrow[0] && wide[2] > narrow[2], "{narrow:?}, {wide:?}");
    assert!((wide[1] - narrow[1]).abs() < 1e-6 * wide[1], "{narrow:?}, {wide:?}");
}

/// Damp fibre conducts better, at every end of its range.
#[test]
fn a_damp_wall_holds_shorter() {
    let in_wall = |material: Material| {
        let wall = Wall::planar().layer(Layer::new(material, millimetres(60.0)).unwrap()).build().unwrap();
        let pot = pot(5.0, "thick-stew", 4.0);
        let shell = Enclosure::of_wall(wall).around(&pot, millimetres(15.0)).lid(Lid::tight());
        held(&Setup::new(pot, shell).unwrap().forecast(&room()).unwrap(), 65.0)
    };
    for id in
        ["sheep-wool-batt", "recycled-polyester-wadding", "hay-loose", "newspaper-crumpled", "cellulose-fibre-loose"]
    {
        let dry = Material::named(id).unwrap();
        let holds = [in_wall(dry.damp().unwrap()), in_wall(dry.clone())];
        println!("{id}: damp {:.0?} s, dry {:.0?} s", holds[0], holds[1]);
        rising(id, &holds);
        // The same as a material of one's own that conducts so well: nothing else of it changes.
        let (factor, k) = (dry.damp_factor().unwrap(), dry.conductivity());
        let times = |k: stillhot::units::ThermalConductivity, factor: stillhot::units::Ratio| k * factor;
        let own = dry.with_conductivity(times(k.value(), factor.value())).unwrap();
        let own = own.with_conductivity_range(times(k.low(), factor.low()), times(k.high(), factor.high())).unwrap();
        for (one, other) in in_wall(own).iter().zip(holds[0]) {
            assert!((one / other - 1.0).abs() < 1e-9, "{id}: {one} s, {other} s");
        }
    }
}

/// True of light walls, whose own heat does not count. A heavy wall that starts cold takes up more the thicker it is,
/// so for the first hours the thinner one may be the warmer: no law there.
#[test]
fn a_thicker_light_wall_never_holds_shorter() {
    for material in ["rigid-polyisocyanurate-foam-foil-faced", "expanded-polystyrene-15", "down-feather"] {
        let holds: Vec<[f64; 3]> = [10.0, 20.0, 40.0, 60.0, 80.0]
            .map(|mm| box_round(pot(5.0, "thick-stew", 4.0), material, mm, Lid::tight()))
            .iter()
            .map(|setup| held(&setup.forecast(&room()).unwrap(), 65.0))
            .collect();
        rising(material, &holds);
    }
    let holds: Vec<[f64; 3]> = (1..=5)
        .map(|count| sleeve_round(pot(1.0, "lentil-porridge", 0.9), "cross-linked-polyethylene-foam-mat", 5.0, count))
        .map(|setup| held(&setup.forecast(&room()).unwrap(), 65.0))
        .collect();
    rising("mat", &holds);
}

#[test]
fn more_in_the_pot_a_warmer_room_a_shorter_carry_hold_longer() {
    let foam = |kg: f64| box_round(pot(9.0, "thick-stew", kg), "extruded-polystyrene", 50.0, Lid::pressed());
    let holds: Vec<[f64; 3]> = [2.0, 4.0, 6.0, 8.0].map(|kg| held(&foam(kg).forecast(&room()).unwrap(), 70.0)).to_vec();
    rising("mass", &holds);
    let plans = [-20.0, 0.0, 20.0, 40.0].map(|t| Plan::in_room(celsius(t)));
    rising("room", &plans.map(|plan| held(&foam(8.0).forecast(&plan).unwrap(), 70.0)));
    let plans = [60.0, 20.0, 5.0, 0.5].map(|m| room().carry(stillhot::units::minutes(m)));
    rising("carry", &plans.map(|plan| held(&foam(8.0).forecast(&plan).unwrap(), 70.0)));
}

/// Nothing moves where everything is as warm as the room and no vapour leaves: to the last digits.
#[test]
fn a_pot_at_room_temperature_stays_there() {
    // A pot that leaves the stove below -30 °C is refused.
    for case in bestiary().into_iter().filter(|c| c.plan.room() >= celsius(-30.0)) {
        // Shut at once: what dries on the way to the box is not told by the water lost in it.
        let plan = case.plan.clone().leaving_at(case.plan.room()).carry(minutes(0.0));
        let still = case.setup.tight().forecast_with(&plan, &Options::horizon(case.horizon)).unwrap();
        let open = case.setup.forecast_with(&plan, &Options::horizon(case.horizon)).unwrap();
        for time in case.times() {
            let room = case.plan.room().si();
            let t = still.at(time).unwrap().temperature;
            for value in [t.low(), t.best(), t.high()] {
                // One unit in the last place: interpolation between equal ends may round.
                let off = (value.si() - room).abs();
                assert!(off < 1e-12, "{} at {} s: {off:e} K", case.name, time.si());
            }
            // Past a joint a dish dries in a room that is less than damp, which cools it, and never warms it.
            let t = open.at(time).unwrap().temperature;
            for value in [t.low(), t.best(), t.high()] {
                let off = value.si() - room;
                let chilled = chilled_at_most(&case.setup, room - 273.15, &open, minutes(0.0), time);
                assert!(off < 1e-9 && off > -chilled - 1e-9, "{} at {} s: {off:e} K", case.name, time.si());
            }
        }
        let moved: f64 = still.heat_by_path().iter().map(|p| p.heat.high().si().abs()).sum();
        // Rounding of a temperature times the heat capacity of a few kilograms.
        assert!(moved < 1e-6, "{}: {moved:e} J", case.name);
    }
}

#[test]
fn a_room_hotter_than_the_pot_warms_it() {
    let mut warmed = 0;
    for case in bestiary().into_iter().filter(|c| c.plan.room() > c.plan.start_temperature().unwrap()) {
        warmed += 1;
        let forecast = case.forecast();
        let rows: Vec<_> = case.times().into_iter().map(|t| forecast.at(t).unwrap().temperature).collect();
        for pair in rows.windows(2) {
            for (before, after) in pair[0..1].iter().zip(&pair[1..]) {
                assert!(after.low() > before.low() && after.best() > before.best() && after.high() > before.high());
            }
        }
        let last = rows[rows.len() - 1];
        assert!(last.high() < case.plan.room() && last.low() > case.plan.start_temperature().unwrap());
        // Heat came in by every path that has a temperature for its drive. Vapour follows the vapour pressure: a cold
        // dish at 4 °C takes it up from a room of 30 °C, a milk in the end as warm as its room dries.
        for path in forecast.heat_by_path() {
            let vapour = path.mechanism == Mechanism::Vapour;
            // On the way to the box the dish is as cold as it started, and the room 60 % damp (as assumed).
            let pressure = |t: Temperature| water::saturation_pressure_if97(t.si()).unwrap().value;
            let gives_off = pressure(case.plan.start_temperature().unwrap()) > 0.6 * pressure(case.plan.room());
            let leaves = vapour && if path.place == Place::Carry { gives_off } else { case.name != "cold pot" };
            assert_eq!(path.heat.best().si() > 0.0, leaves, "{}: {} {}", case.name, path.place, path.mechanism);
        }
    }
    assert_eq!(warmed, 2);
}

/// The range stands for all that is uncertain taken together at one end. While the pot is hot it must hold every other
/// mixture: each corner of conductivity, heat capacity of wall and dish, and leak, computed on its own. Not for ever:
/// a heavier wall takes more heat at first and gives it back late, so far down the curve the ends of its heat capacity
/// change sides.
#[test]
fn every_mixture_of_uncertain_inputs_lies_inside_the_range_while_hot() {
    let foam = plain("foam", 0.028, 32.0, 1400.0);
    let straw = plain("straw", 0.06, 60.0, 1600.0);
    let board = plain("board", 0.13, 500.0, 1600.0);
    let stew = plain("stew", 0.5, 1000.0, 3600.0);
    let metal = plain("metal", 16.0, 7900.0, 500.0);
    let setup = |wall: &Material, thickness: f64, dish: &Material, lid: Lid| {
        let pot = Pot::sized(millimetres(200.0), millimetres(160.0), metal.clone(), millimetres(0.8))
            .weighing(stillhot::units::kilograms(1.0))
            .with(stillhot::Dish::of(dish.clone()), stillhot::units::kilograms(4.0));
        let wall = Wall::planar().layer(Layer::new(wall.clone(), millimetres(thickness)).unwrap()).build().unwrap();
        Setup::new(pot, Enclosure::of_wall(wall).lid(lid)).unwrap()
    };
    let options = Options::horizon(hours(72.0));
    let mut failures = Vec::new();
    let mut checked = 0;
    for (wall, thickness) in [(foam, 50.0), (straw, 150.0), (board, 60.0)] {
        let (k, c) = (wall.conductivity().value().si(), wall.heat_capacity().value().si());
        let (k_of, c_of) = (watts_per_metre_kelvin, joules_per_kilogram_kelvin);
        let ranged = wall.with_conductivity_range(k_of(0.9 * k), k_of(1.1 * k)).unwrap();
        let ranged = ranged.with_heat_capacity_range(c_of(0.8 * c), c_of(1.2 * c)).unwrap();
        let dish = stew.with_heat_capacity_range(c_of(3400.0), c_of(3800.0)).unwrap();
        let uncertain = Range::new(watts_per_kelvin(0.02), watts_per_kelvin(0.05), watts_per_kelvin(0.1)).unwrap();
        let whole = setup(&ranged, thickness, &dish, Lid::resting().leaking(uncertain));
        let whole = whole.forecast_with(&room(), &options).unwrap();
        for corner in 0..16_u32 {
            let pick = |bit: u32, low: f64, high: f64| if corner & (1 << bit) == 0 { low } else { high };
            let wall = wall.with_conductivity(k_of(pick(0, 0.9, 1.1) * k)).unwrap();
            let wall = wall.with_heat_capacity(c_of(pick(1, 0.8, 1.2) * c)).unwrap();
            let dish = stew.with_heat_capacity(c_of(pick(2, 3400.0, 3800.0))).unwrap();
            let lid = Lid::resting().leaking(leak(pick(3, 0.02, 0.1)));
            let one = setup(&wall, thickness, &dish, lid).forecast_with(&room(), &options).unwrap();
            for h in [1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0, 18.0, 24.0] {
                let (outer, inner) = (whole.at(hours(h)).unwrap(), one.at(hours(h)).unwrap());
                if outer.temperature.best() < celsius(50.0) {
                    continue;
                }
                checked += 1;
                let slack = 0.05 + outer.numerical.si() + inner.numerical.si();
                for value in [inner.temperature.low(), inner.temperature.best(), inner.temperature.high()].map(Si::si) {
                    let off = (outer.temperature.low().si() - value).max(value - outer.temperature.high().si());
                    if off > slack {
                        failures.push(format!("{} corner {corner:04b} at {h} h: {off:.3} K outside", ranged.id()));
                    }
                }
            }
        }
    }
    assert!(checked > 150, "only {checked} were hot");
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}
