//! Open vessels: pots without a lid, which lose by vapour from their whole surface more than by anything else.
//!
//! Mass transfer from a free surface is known to a factor of two, so that these ranges are wide. An open vessel in a room
//! is one that is carried for the time of the record: nothing but the room is about it then.

use super::{Span, from, in_celsius};
use stillhot::units::{Si, Time, grams, kilograms, millimetres, minutes};
use stillhot::{Dish, Enclosure, Material, Plan, Pot, PotLid, Setup, Sleeve};

fn named(id: &str) -> Material {
    Material::named(id).unwrap()
}

fn open(diameter: f64, height: f64, metal: &str, thickness: f64, water: f64) -> Pot {
    Pot::sized(millimetres(diameter), millimetres(height), named(metal), millimetres(thickness))
        .with(Dish::named("water-liquid").unwrap(), kilograms(water))
        .covered(PotLid::none())
}

/// What stands bare in a room, after so many minutes, °C: low, best, high.
fn bare(pot: &Pot, plan: &Plan, minute: f64) -> [f64; 3] {
    let boards = Enclosure::lined("expanded-polystyrene-20", millimetres(50.0)).unwrap();
    let plan = plan.clone().carry(minutes(minute));
    let forecast = Setup::new(pot.clone(), boards).unwrap().forecast(&plan).unwrap();
    assert!(forecast.ledger_residual() < 1e-9 && forecast.water_residual() < 1e-9);
    let row = forecast.at(minutes(0.0)).unwrap().temperature;
    [row.low(), row.best(), row.high()].map(in_celsius)
}

/// A steel can of 85.8 by 114.3 mm, 62 g, 587 g of water, bubble wrap of 9.5 mm round it, its base on 89 mm of
/// polystyrene, open, 19 °C: 98 to about 75 °C in 13 minutes (notes of a project for open hardware, about 2023: READ,
/// year from MEMORY; ±1 K, ±1 min).
#[test]
fn an_open_can_in_bubble_wrap() {
    let can = || open(85.8, 114.3, "carbon-steel", 0.2, 0.587).weighing(grams(62.0));
    let setup =
        |wrap: f64| Setup::new(can(), Sleeve::of_mat("plain-bubble-sheet", millimetres(wrap), 1).unwrap()).unwrap();
    // Its sleeve open at the top from the start to the end.
    let uncovered = || from(98.0, 19.0).open_at(Time::from_si(0.0), minutes(20.0));
    let span = Span::of(
        "open can in bubble wrap",
        &["air about it", "size of the bubbles, how tightly it was wrapped", "how exactly 13 min and 75 °C"],
        minutes(25.0),
        [(setup(8.0), uncovered()), (setup(11.0), uncovered())],
    );
    span.tell();
    span.holds(minutes(13.0), 75.0);
}

/// One US cup of boiled water at 23.89 °C: 0.037 of the difference a minute (a teaching page, 1997: READ; a fit, no
/// vessel).
#[test]
fn an_open_cup() {
    let told = |minute: f64| 23.89 + (100.0 - 23.89) * (-0.037 * minute).exp();
    let plan = from(100.0, 23.89);
    // As wide as high, or twice as wide; thin metal or stoneware.
    let narrow = open(68.0, 68.0, "stainless-steel-304", 3.0, 0.237);
    let wide = open(86.0, 43.0, "stainless-steel-304", 0.5, 0.237);
    println!("open cup: does not tell the vessel, the air about it, how the rate was taken");
    for minute in [10.0, 20.0, 40.0] {
        let (low, high) = (bare(&wide, &plan, minute)[0], bare(&narrow, &plan, minute)[2]);
        let told = told(minute);
        println!("open cup: {told:.1} °C after {minute} min, in {low:.1} to {high:.1} °C, {:.1} K wide", high - low);
        assert!(low < told && told < high);
    }
}

/// An open pot of boiled water at 23.33 °C, a reading each minute for half an hour, in whole °F (a teaching page, 2002:
/// READ; neither size nor mass): 79.44, 70.56, 59.44 and 51.67 °C after 5, 10, 20 and 30 minutes.
#[test]
fn an_open_pot() {
    let plan = from(100.0, 23.33);
    // From a cup in a saucepan to two litres.
    let shallow = open(160.0, 60.0, "stainless-steel-304", 0.5, 0.4);
    let deep = open(160.0, 110.0, "aluminium-pure", 2.0, 2.0);
    println!("open pot: does not tell size, mass, metal, air about it, where it stood");
    for (minute, told) in [(5.0, 79.44), (10.0, 70.56), (20.0, 59.44), (30.0, 51.67)] {
        let (low, high) = (bare(&shallow, &plan, minute)[0], bare(&deep, &plan, minute)[2]);
        println!("open pot: {told} °C after {minute} min, in {low:.1} to {high:.1} °C, {:.1} K wide", high - low);
        assert!(low < told && told < high);
    }
    // The rate falls, as evaporation does: from 0.062 of the difference a minute at first to 0.024 in the end (COMPUTED
    // from the readings), by a factor of 2.6. A pot that took those 30 minutes in all:
    let pot = open(160.0, 80.0, "stainless-steel-304", 0.5, 0.75);
    let at = [0.0, 5.0, 20.0, 30.0].map(|minute| bare(&pot, &plan, minute)[1] - 23.33);
    let rates = [(at[0] / at[1]).ln() / 5.0, (at[2] / at[3]).ln() / 10.0];
    println!("open pot: falling rate {rates:.3?} a minute, {:.1} °C after 30 min", at[3] + 23.33);
    assert!(rates[0] > 1.5 * rates[1], "{rates:?}");
}

/// An open mug, a reading each minute from 98.2 to 25.8 °C in 221 minutes (a teaching data set, about 2012: READ, year
/// from MEMORY; neither mug nor room; it ends near the room's temperature).
#[test]
fn an_open_mug() {
    println!("open mug: does not tell mug, amount, room, air about it");
    let small = open(80.0, 80.0, "soda-lime-glass", 3.0, 0.18);
    let large = open(85.0, 110.0, "soda-lime-glass", 5.0, 0.5);
    for (minute, told) in [(5.0, 84.9), (10.0, 76.5), (20.0, 65.3), (40.0, 52.5), (60.0, 45.1), (100.0, 36.0)] {
        let low = bare(&small, &from(98.2, 18.0), minute)[0];
        let high = bare(&large, &from(98.2, 25.5), minute)[2];
        println!("open mug: {told} °C after {minute} min, in {low:.1} to {high:.1} °C, {:.1} K wide", high - low);
        assert!(low < told && told < high);
    }
}
