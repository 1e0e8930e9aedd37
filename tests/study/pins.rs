//! Inputs taken as exact.

use std::collections::BTreeSet;

use stillhot::units::{Si, celsius, hours, millimetres, minutes};
use stillhot::{ErrorKind, Face, Input, InputRange, InputScale, LayerPlace, Lid, Range, Setup};

use crate::setups::{foam_box, many, plan, quick};

fn all_at(setup: &Setup, plan: &stillhot::Plan, position: f64) -> Setup {
    let pins: Vec<(Input, f64)> = setup.uncertain(plan).unwrap().iter().map(|known| (known.input, position)).collect();
    setup.pinned(&pins).unwrap()
}

/// With everything pinned at an end, the two marches of the ends are one, and it is that end of the setup as it was.
#[test]
fn all_at_an_end_is_that_end_of_the_range() {
    for (name, setup, plan) in many() {
        let options = quick(8.0);
        let whole = setup.forecast_with(&plan, &options).unwrap();
        for (position, generous) in [(0.0, false), (1.0, true)] {
            let pinned = all_at(&setup, &plan, position);
            assert!(pinned.uncertain(&plan).unwrap().is_empty(), "{name}");
            let forecast = pinned.forecast_with(&plan, &options).unwrap();
            for minute in [1.0, 30.0, 120.0, 300.0, 480.0] {
                let range = whole.at(minutes(minute)).unwrap().temperature;
                let end = if generous { range.high().si() } else { range.low().si() };
                let row = forecast.at(minutes(minute)).unwrap();
                let [low, high] = [row.temperature.low().si(), row.temperature.high().si()];
                // Of the three values one is the best one, on other meshes; the ends are equal.
                let off = (low - end).abs().min((high - end).abs());
                assert!(off < 1e-9, "{name} at {minute} min: {off:e} K");
                let width = high - low;
                assert!(width < 0.05 + 5.0 * row.numerical.si(), "{name} at {minute} min: {width} K wide");
            }
        }
    }
}

#[test]
fn all_at_the_best_value_is_the_best_value() {
    let whole = foam_box().forecast_with(&plan(), &quick(8.0)).unwrap();
    let pinned = all_at(&foam_box(), &plan(), 0.5).forecast_with(&plan(), &quick(8.0)).unwrap();
    for hour in [0.0, 2.0, 8.0] {
        let best = |f: &stillhot::Forecast| f.at(hours(hour)).unwrap().temperature.best().si();
        assert_eq!(best(&whole).to_bits(), best(&pinned).to_bits());
    }
}

/// The edge of a dish that stands still has its cautious end where most hinders the heat inside.
#[test]
fn the_edge_of_a_still_dish_is_coldest_where_most_hinders_the_heat() {
    let (_, setup, plan) = many().pop().unwrap();
    let options = quick(4.0);
    let whole = setup.forecast_with(&plan, &options).unwrap();
    let pins: Vec<(Input, f64)> = setup
        .uncertain(&plan)
        .unwrap()
        .iter()
        .map(|known| (known.input, if known.input == Input::DishHindrance { 1.0 } else { 0.0 }))
        .collect();
    assert!(pins.iter().any(|(_, position)| *position == 1.0));
    let forecast = setup.pinned(&pins).unwrap().forecast_with(&plan, &options).unwrap();
    for hour in [0.2, 1.0, 4.0] {
        let end = whole.coldest(hours(hour)).unwrap().temperature.low().si();
        let row = forecast.coldest(hours(hour)).unwrap().temperature;
        let off = (row.low().si() - end).abs().min((row.high().si() - end).abs());
        assert!(off < 1e-9, "at {hour} h: {off:e} K");
    }
}

/// Whatever can be uncertain is, in one of the setups; what does not matter under a plan is not listed.
#[test]
fn every_kind_of_input_is_met_with_once() {
    let mut kinds = BTreeSet::new();
    for (name, setup, plan) in many() {
        let list = setup.uncertain(&plan).unwrap();
        let inputs: BTreeSet<Input> = list.iter().map(|known| known.input).collect();
        assert_eq!(inputs.len(), list.len(), "{name}");
        for known in &list {
            let [low, best, high] = known.range.si();
            assert!(low <= best && best <= high && low < high, "{name}: {known}");
            kinds.insert(format!("{:?}", known.input).split(['(', ' ']).next().unwrap().to_owned());
        }
    }
    println!("{kinds:?}");
    assert_eq!(kinds.len(), 28);
    let calm: Vec<Input> = foam_box().uncertain(&plan().carry(minutes(0.0))).unwrap().iter().map(|k| k.input).collect();
    for absent in [Input::Shelter, Input::OpenBoxFilm, Input::BarePotFilm, Input::PlugConvection, Input::LidLeak] {
        assert!(!calm.contains(&absent), "{absent}");
    }
}

#[test]
fn positions_between_are_linear_in_what_the_scale_says() {
    let setup = foam_box();
    let list = setup.uncertain(&plan()).unwrap();
    let joint = list.iter().find(|known| known.input == Input::LidGap).unwrap();
    assert_eq!(joint.scale, InputScale::Logarithmic);
    let loops = list.iter().find(|known| known.input == Input::AirLoops).unwrap();
    assert_eq!(loops.scale, InputScale::Linear);
    // By hand: half-way from 1 mm to 2 mm by the logarithm is the root of 2; the same box with that joint is the same.
    let pinned = setup.pinned(&[(Input::LidGap, 0.25)]).unwrap().forecast_with(&plan(), &quick(6.0)).unwrap();
    let exact = Range::exactly(millimetres(2.0_f64.sqrt()));
    let walls = stillhot::Enclosure::lined("expanded-polystyrene-20", millimetres(50.0)).unwrap();
    let given = Setup::new(setup.pot().clone(), walls.lid(Lid::resting().with_gap(exact))).unwrap();
    let given = given.forecast_with(&plan(), &quick(6.0)).unwrap();
    let at = |f: &stillhot::Forecast| f.at(hours(6.0)).unwrap().temperature;
    for of in [Range::low, Range::best, Range::high] {
        assert!((of(&at(&pinned)).si() - of(&at(&given)).si()).abs() < 1e-6);
    }
}

/// One material is one input wherever it occurs; each move towards the generous end holds longer.
#[test]
fn a_pin_moves_the_pot_its_way() {
    let setup = foam_box();
    let place = LayerPlace { face: Face::Lid, layer: 0 };
    let known = setup.uncertain(&plan()).unwrap();
    let conductivities =
        known.iter().filter(|known| matches!(known.range, InputRange::Conductivity(_))).collect::<Vec<_>>();
    assert_eq!(conductivities.len(), 1);
    assert_eq!(conductivities[0].input, Input::LayerConductivity(place));
    assert!(conductivities[0].name.starts_with("conductivity of ") && conductivities[0].name.contains("polystyrene"));
    for input in [Input::LayerConductivity(place), Input::LidGap, Input::DishHeatCapacity, Input::AirLoops] {
        let mut before = f64::NEG_INFINITY;
        for position in [0.0, 0.2, 0.5, 0.8, 1.0] {
            let pinned = setup.pinned(&[(input, position)]).unwrap();
            let best = pinned.forecast_with(&plan(), &quick(6.0)).unwrap().at(hours(6.0)).unwrap().temperature.best();
            assert!(best.si() > before || input == Input::AirLoops && best.si() >= before, "{input} at {position}");
            before = best.si();
        }
    }
}

#[test]
fn pins_that_make_no_sense_are_refused() {
    let setup = foam_box();
    let kind = |pins: &[(Input, f64)]| setup.pinned(pins).unwrap_err().kind();
    for wrong in [-0.1, 1.000_001, f64::NAN, f64::INFINITY] {
        assert_eq!(kind(&[(Input::LidGap, wrong)]), ErrorKind::OutOfRange);
    }
    assert_eq!(kind(&[(Input::LidLeak, 0.5)]), ErrorKind::Inconsistent);
    assert_eq!(kind(&[(Input::LidGap, 0.5), (Input::LidGap, 0.4)]), ErrorKind::Inconsistent);
    let error = setup.pinned(&[(Input::HandleFilm, 0.0)]).unwrap_err();
    assert_eq!(error.path(), "film of the handle");
    // A pin may be changed; the setup it came from stays as it was.
    let twice = setup.pinned(&[(Input::LidGap, 0.1)]).unwrap().pinned(&[(Input::LidGap, 0.9)]).unwrap();
    assert_eq!(twice.pins(), [(Input::LidGap, 0.9)]);
    assert!(setup.pins().is_empty());
    // What is taken for granted names it.
    let said = |setup: &Setup| setup.assumptions(&plan()).unwrap().iter().filter(|a| a.basis == "as pinned").count();
    assert_eq!((said(&setup), said(&twice)), (0, 1));
    assert!(setup.uncertain(&plan().leaving_at(celsius(500.0))).is_err());
}
