//! Open vessels. The library knows a pot with a lid only: none of these can be expressed, and what an open surface
//! evaporates is most of what they lost. One side is left: the same vessel with a lid must cool more slowly.

use super::{from, in_celsius};
use stillhot::units::{kilograms, millimetres, minutes};
use stillhot::{Dish, Enclosure, Forecast, Lid, Material, Plan, Pot, Setup, Sleeve};

fn named(id: &str) -> Material {
    Material::named(id).unwrap()
}

fn water(diameter: f64, height: f64, metal: &str, thickness: f64, mass: f64) -> Pot {
    Pot::sized(millimetres(diameter), millimetres(height), named(metal), millimetres(thickness))
        .with(Dish::named("water-liquid").unwrap(), kilograms(mass))
}

/// What stands bare in a room with its lid on, at a time: the walls of the box do not matter while it is carried.
fn bare_with_lid(pot: Pot, plan: Plan, minute: f64) -> [f64; 3] {
    let setup = Setup::new(pot, Enclosure::lined("expanded-polystyrene-20", millimetres(50.0)).unwrap()).unwrap();
    let plan = plan.carry(minutes(minute));
    let row = setup.forecast(&plan).unwrap().at(minutes(0.0)).unwrap().temperature;
    [row.low(), row.best(), row.high()].map(in_celsius)
}

/// A steel can of 85.8 by 114.3 mm, 62 g, 587 g of water, bubble wrap of 9.5 mm round it, its base on 89 mm of
/// polystyrene, open, 19 °C: 98 to about 75 °C in 13 minutes (notes of a project for open hardware, about 2023: READ,
/// year from MEMORY; ±1 K, ±1 min).
#[test]
fn an_open_can_in_bubble_wrap_cools_faster_than_one_with_a_lid() {
    let can = water(85.8, 114.3, "carbon-steel", 0.2, 0.587).weighing(kilograms(0.062));
    let wrap = Sleeve::of_mat("plain-bubble-sheet", millimetres(9.5), 1).unwrap().lid(Lid::resting());
    let setup = Setup::new(can, wrap).unwrap();
    let at = |forecast: Forecast| {
        let row = forecast.at(minutes(13.0)).unwrap().temperature;
        [row.low(), row.best(), row.high()].map(in_celsius)
    };
    let shut = at(setup.forecast(&from(98.0, 19.0)).unwrap());
    // Its sleeve open at the top, the lid of the can on.
    let open = at(setup.forecast(&from(98.0, 19.0).open_at(minutes(0.0), minutes(15.0))).unwrap());
    println!("open can: 75 °C after 13 min; with its lid {open:.1?} °C, in a closed sleeve {shut:.1?} °C");
    assert!(75.0 + 1.0 < open[0] && open[0] < shut[0], "{open:?} {shut:?}");
    // Not by an unlikely lot: a lid saves at most what was lost.
    assert!(open[2] < 98.0 - 1.0);
}

/// An open pot of boiled water at 23.33 °C, a reading each minute for half an hour (a teaching page, 2002: READ; neither
/// size nor mass): from 100 to 51.67 °C, at a falling rate. And one US cup, 0.037 of the difference a minute (another
/// one, 1997: READ).
#[test]
fn open_pots_cool_faster_than_bare_ones_with_lids() {
    // A cup of 237 g in the smallest vessel that holds it, as wide as high or twice as wide.
    for (diameter, height) in [(68.0, 68.0), (86.0, 43.0)] {
        let cup = water(diameter, height, "stainless-steel-304", 0.5, 0.237);
        let [low, best, _] = bare_with_lid(cup, from(100.0, 23.89), 20.0);
        let told = 23.89 + (100.0 - 23.89) * (-0.037_f64 * 20.0).exp();
        println!(
            "a cup: {told:.1} °C after 20 min; {diameter} mm across with a lid {low:.1} °C at the least, {best:.1} °C"
        );
        assert!(low > told, "{low} {told}");
    }
    // The pot lost 48 K in half an hour and its rate fell from 0.062 to 0.024 of the difference a minute. A lidded pot of
    // any size from one litre on loses less, and at a steady rate.
    for volume in [1.0, 2.0, 3.0_f64] {
        let diameter = 1e3 * (1e-3 * volume / (0.2 * std::f64::consts::PI)).cbrt();
        let pot = || water(diameter, 0.8 * diameter, "stainless-steel-304", 0.8, 0.9 * volume);
        let [first, _, _] = bare_with_lid(pot(), from(100.0, 23.33), 5.0);
        let [last, _, _] = bare_with_lid(pot(), from(100.0, 23.33), 30.0);
        println!("a pot: 79.4 °C after 5 min, 51.7 °C after 30 min; {volume} L with a lid {first:.1} and {last:.1} °C");
        assert!(first > 79.44 && last > 51.67);
    }
}
