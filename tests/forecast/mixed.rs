//! Several foods in one dish: heat and water add up, ranges are carried, and none of them is lost.

use stillhot::ErrorKind::{Inconsistent, OutOfRange};
use stillhot::units::{Mass, Ratio, Si, celsius, grams, hours, kilograms, litres};
use stillhot::{Dish, Lid, Plan, Pot};

use crate::setups::{box_round, plain};

fn named(id: &str) -> Dish {
    Dish::named(id).unwrap()
}

fn forecast_of(pot: Pot) -> Vec<f64> {
    let setup = box_round(pot, "expanded-cork-board", 50.0, Lid::pressed());
    let forecast = setup.forecast(&Plan::in_room(celsius(12.0))).unwrap();
    [0.0, 1.0, 4.0, 12.0].map(|t| forecast.at(hours(t)).unwrap().temperature.best().si()).to_vec()
}

/// Two kilograms of one stuff and three of another cool as five of the stuff that has their heat and their volume, worked
/// out by hand.
#[test]
fn a_mixture_cools_as_its_heat_and_volume_tell() {
    let (one, other) = (Dish::of(plain("one", 0.5, 900.0, 2500.0)), Dish::of(plain("other", 0.5, 1100.0, 4000.0)));
    let density = 5.0 / (2.0 / 900.0 + 3.0 / 1100.0);
    let water = |dish: &Dish| dish.water_content().si();
    let both = 0.4 * water(&one) + 0.6 * water(&other);
    let alike = Dish::of(plain("alike", 0.5, density, 3400.0)).with_water_content(Ratio::from_si(both));
    let pot = || Pot::typical(litres(7.0));
    let mixed = forecast_of(pot().with(one, kilograms(2.0)).adding(other, kilograms(3.0)).unwrap());
    let expected = forecast_of(pot().with(alike, kilograms(5.0)));
    for (seen, expected) in mixed.iter().zip(expected) {
        assert!((seen - expected).abs() < 1e-7, "{seen} K instead of {expected} K");
    }
}

#[test]
fn one_after_the_other_is_all_at_once() {
    let foods = [("rice-cooked", 0.5), ("beans-cooked", 0.7), ("broth-thin-soup", 3.0)];
    let foods: Vec<(Dish, Mass)> = foods.iter().map(|(id, mass)| (named(id), kilograms(*mass))).collect();
    let pot = foods.iter().try_fold(Pot::typical(litres(7.0)), |pot, (dish, mass)| pot.adding(dish.clone(), *mass));
    let pot = pot.unwrap();
    let (dish, mass) = pot.contents().unwrap();
    let all = Dish::mixed(&foods).unwrap();
    let near = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-12;
    assert!(near(mass.si(), 4.2));
    assert!(near(dish.water_content().si(), all.water_content().si()));
    for law in [|d: &Dish| d.material().heat_capacity().low_law(), |d: &Dish| d.material().heat_capacity().high_law()] {
        assert!(near(law(dish).at(333.0), law(&all).at(333.0)));
    }
    assert!(near(dish.material().density().value().si(), all.material().density().value().si()));
    assert_eq!(dish.is_still(), all.is_still());
    // Between its parts, and its range between theirs.
    let capacity = |d: &Dish| d.material().heat_capacity().law().at(333.15);
    let of: Vec<f64> = foods.iter().map(|(d, _)| capacity(d)).collect();
    let (least, most) = of.iter().fold((f64::INFINITY, 0.0_f64), |(l, m), c| (l.min(*c), m.max(*c)));
    assert!(least < capacity(&all) && capacity(&all) < most);
}

/// A third of it decides, and the caller may say otherwise; what was said of a part, or of a mixture, counts.
#[test]
fn the_stiffest_large_share_decides() {
    let broth = |mass: f64| (named("broth-thin-soup"), kilograms(mass));
    let rice = |mass: f64| (named("rice-cooked"), kilograms(mass));
    let is_still = |foods: &[(Dish, Mass)]| Dish::mixed(foods).unwrap().is_still();
    assert!(!is_still(&[broth(3.0), rice(1.0)]));
    assert!(is_still(&[broth(1.5), rice(1.0)]));
    assert!(!is_still(&[broth(1.5), (named("rice-cooked").stirred(), kilograms(1.0))]));
    assert!(!Dish::mixed(&[rice(2.0), broth(1.0)]).unwrap().stirred().is_still());
    // Three kilograms of a soup that is a fourth rice, with one of rice: 1.75 of 4 kg are stiff.
    let soup = Dish::mixed(&[broth(3.0), rice(1.0)]).unwrap();
    assert!(is_still(&[(soup.clone(), kilograms(3.0)), rice(1.0)]));
    assert!(!is_still(&[(soup, kilograms(3.0)), rice(0.2)]));
}

#[test]
fn every_food_is_told_and_bad_ones_are_refused_by_number() {
    let pot = Pot::typical(litres(7.0)).with(named("potato"), kilograms(2.0));
    let pot = pot.adding(named("milk-whole"), kilograms(3.0)).unwrap();
    let setup = box_round(pot.clone(), "expanded-cork-board", 50.0, Lid::pressed());
    let told: Vec<String> = setup
        .assumptions(&Plan::in_room(celsius(12.0)))
        .unwrap()
        .iter()
        .map(|a| format!("{}: {}", a.subject, a.value))
        .collect();
    assert!(told.iter().any(|line| line.contains("of which Potato") && line.contains("2 kg")), "{told:#?}");
    assert!(told.iter().any(|line| line.contains("of which Milk") && line.contains("3 kg")), "{told:#?}");
    let error = Dish::mixed(&[(named("potato"), kilograms(1.0)), (named("milk-whole"), grams(0.0))]).unwrap_err();
    assert_eq!((error.kind(), error.path().as_str()), (OutOfRange, "mixed dish, food 2, mass"));
    assert_eq!(Dish::mixed(&[]).unwrap_err().kind(), Inconsistent);
    let full = pot.adding(named("potato"), kilograms(4.0)).unwrap();
    let cork = stillhot::Enclosure::lined("expanded-cork-board", stillhot::units::millimetres(50.0)).unwrap();
    assert_eq!(stillhot::Setup::new(full, cork).unwrap_err().kind(), Inconsistent);
}
