//! How much is enough.

use stillhot::study::{Size, Sizing, Target, Vary, size, trade_off};
use stillhot::units::{Ratio, Si, celsius, hours, kelvin, kilograms, litres, millimetres};
use stillhot::{
    Dish, Enclosure, ErrorKind, Face, Forecast, Held, LayerPlace, Lid, Moment, Options, Plan, Pot, Setup, Sleeve,
};

use crate::setups::{foam_box, plan, pot, quick};

const LID: LayerPlace = LayerPlace { face: Face::Lid, layer: 0 };

fn walls(from: f64, to: f64) -> Vary {
    Vary::Layer { place: LID, from: millimetres(from), to: millimetres(to) }
}

fn tight_box(thickness: f64) -> Setup {
    let walls = Enclosure::lined("expanded-polystyrene-20", millimetres(thickness)).unwrap();
    Setup::new(pot("broth-thin-soup", 7.0, 6.0), walls.lid(Lid::gasketed())).unwrap()
}

/// Cautious end less numerical error above a temperature at the end of a time, K, from what a forecast says publicly.
fn spare(forecast: &Forecast, level: f64, time: f64) -> f64 {
    let row = forecast.at(hours(time)).unwrap();
    row.temperature.low().si() - row.numerical.si() - celsius(level).si()
}

/// Both sides by forecasts of their own, and by the crossing as well.
fn two_sided(setup: &Setup, plan: &Plan, vary: &Vary, level: f64, time: f64, options: &Options) -> (Size, Size) {
    let target = Target::above(celsius(level), hours(time));
    let found = size(setup, plan, &target, vary, options).unwrap();
    println!("{found}");
    let Sizing::Enough { size, too_little: Some(little), to_spare, .. } = found else { panic!("{found:?}") };
    let forecast = |size: Size| vary.applied(setup, size).unwrap().forecast_with(plan, options).unwrap();
    let (enough, less) = (forecast(size), forecast(little));
    assert!(spare(&enough, level, time) >= 0.0 && spare(&enough, level, time) < 0.3);
    assert!((spare(&enough, level, time) - to_spare.si()).abs() < 1e-9);
    assert!(spare(&less, level, time) < 0.0 && spare(&less, level, time) > -0.3);
    let earliest = |forecast: &Forecast| match forecast.above(celsius(level)).unwrap() {
        Held::Until { earliest: Moment::At(t), .. } => t.si(),
        _ => f64::INFINITY,
    };
    assert!(earliest(&enough) >= hours(time).si());
    assert!(earliest(&less) < hours(time).si() + 120.0);
    (size, little)
}

fn si(size: Size) -> f64 {
    match size {
        Size::Thickness(x) | Size::Width(x) => x.si(),
        Size::Proportion(x) => x.si(),
        Size::Mass(x) => x.si(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn walls_that_are_just_thick_enough() {
    let (size, less) = two_sided(&tight_box(50.0), &plan(), &walls(10.0, 300.0), 60.0, 6.0, &quick(7.0));
    assert!(si(less) < si(size) && si(size) / si(less) < 1.003, "{size} {less}");
    // The size does not hang on where the search began.
    let again = two_sided(&tight_box(20.0), &plan(), &walls(15.0, 200.0), 60.0, 6.0, &quick(7.0)).0;
    assert!((si(again) / si(size) - 1.0).abs() < 3e-3, "{again} {size}");
}

#[test]
fn a_factor_on_all_layers_and_one_layer_alone() {
    let all = Vary::AllLayers { from: Ratio::from_si(0.2), to: Ratio::from_si(5.0) };
    let factor = two_sided(&tight_box(50.0), &plan(), &all, 60.0, 6.0, &quick(7.0)).0;
    let thickness = two_sided(&tight_box(50.0), &plan(), &walls(10.0, 300.0), 60.0, 6.0, &quick(7.0)).0;
    assert!((si(factor) * 0.05 / si(thickness) - 1.0).abs() < 3e-3, "{factor} {thickness}");
    let alone = Vary::LayerAlone { place: LID, from: millimetres(5.0), to: millimetres(400.0) };
    let lid = two_sided(&tight_box(40.0), &plan(), &alone, 68.0, 4.5, &quick(5.0)).0;
    let changed = alone.applied(&tight_box(40.0), lid).unwrap();
    let stillhot::Shell::Box(enclosure) = changed.shell() else { panic!() };
    assert!((enclosure.wall(Face::Lid).unwrap().thickness().si() - si(lid)).abs() < 1e-12);
    assert_eq!(enclosure.wall(Face::Base).unwrap().thickness(), millimetres(40.0));
}

#[test]
fn the_smallest_dish_and_the_widest_joint() {
    let dish = Vary::Dish { from: kilograms(1.0), to: kilograms(6.5) };
    let (mass, less) = two_sided(&tight_box(60.0), &plan(), &dish, 60.0, 4.0, &quick(5.0));
    assert!(si(mass) > si(less));
    let gap = Vary::LidGap { from: millimetres(0.05), to: millimetres(5.0) };
    let (width, wider) = two_sided(&tight_box(60.0), &plan(), &gap, 74.0, 4.5, &quick(5.0));
    assert!(si(width) < si(wider));
}

#[test]
fn a_sleeve_of_two_layers() {
    let mat = Sleeve::of_mat("cross-linked-polyethylene-foam-mat", millimetres(8.0), 2).unwrap();
    let setup = Setup::new(pot("water-liquid", 2.0, 1.8), mat).unwrap();
    let place = LayerPlace { face: Face::Side, layer: 1 };
    let outer = Vary::LayerAlone { place, from: millimetres(2.0), to: millimetres(60.0) };
    two_sided(&setup, &plan(), &outer, 72.0, 2.4, &quick(3.0));
}

#[test]
fn a_target_that_the_bound_meets_is_told_so() {
    let target = Target::above(celsius(40.0), hours(1.0));
    let found = size(&tight_box(50.0), &plan(), &target, &walls(10.0, 300.0), &quick(2.0)).unwrap();
    let Sizing::Enough { size, too_little: None, more_fails: None, .. } = found else { panic!("{found:?}") };
    assert_eq!(size, Size::Thickness(millimetres(10.0)));
}

#[test]
fn a_target_out_of_reach_is_told_with_how_far_it_is() {
    let target = Target::above(celsius(90.0), hours(12.0));
    let found = size(&foam_box(), &plan(), &target, &walls(10.0, 300.0), &quick(13.0)).unwrap();
    println!("{found}");
    let Sizing::CannotBeMet { nearest, short_by, rising, .. } = found else { panic!("{found:?}") };
    assert!(rising, "thicker foam is better");
    assert_eq!(nearest, Size::Thickness(millimetres(300.0)));
    let thickest = walls(10.0, 300.0).applied(&foam_box(), nearest).unwrap();
    let forecast = thickest.forecast_with(&plan(), &quick(13.0)).unwrap();
    assert!((spare(&forecast, 90.0, 12.0) + short_by.si()).abs() < 1e-9);
}

/// A steel wall stores heat and insulates nothing: thicker is worse. Thin meets, thick does not, and that is told.
#[test]
fn where_more_is_worse_that_is_told() {
    let steel = Enclosure::lined("carbon-steel", millimetres(2.0)).unwrap().lid(Lid::gasketed());
    let setup = Setup::new(pot("water-liquid", 5.0, 4.5), steel).unwrap();
    let at = |thickness: f64| {
        let varied = walls(0.3, 30.0).applied(&setup, Size::Thickness(millimetres(thickness))).unwrap();
        varied.forecast_with(&plan(), &quick(1.0)).unwrap().at(hours(0.5)).unwrap().temperature.low().si()
    };
    let (thin, thick) = (at(0.3), at(30.0));
    assert!(thin > thick + 1.0, "{thin} {thick}");
    let between = kelvin(0.5 * (thin + thick));
    let found = size(&setup, &plan(), &Target::above(between, hours(0.5)), &walls(0.3, 30.0), &quick(1.0)).unwrap();
    println!("{found}");
    let Sizing::Enough { size: enough, too_little: None, more_fails: Some(more), .. } = found else {
        panic!("{found:?}")
    };
    assert_eq!(enough, Size::Thickness(millimetres(0.3)));
    assert!(si(more) > 0.3e-3 && at(1e3 * si(more)) < between.si());
    // Out of reach, the nearest is not the thickest, and the answer says that more is not better.
    let higher = kelvin(thin + 1.0);
    let found = size(&setup, &plan(), &Target::above(higher, hours(0.5)), &walls(0.3, 30.0), &quick(1.0)).unwrap();
    let Sizing::CannotBeMet { nearest, rising: false, .. } = found else { panic!("{found:?}") };
    assert!(si(nearest) < 2e-3, "{nearest}");
}

#[test]
fn searches_that_make_no_sense_are_refused() {
    let target = Target::above(celsius(60.0), hours(2.0));
    let kind = |target: &Target, vary: &Vary| size(&foam_box(), &plan(), target, vary, &quick(3.0)).unwrap_err().kind();
    for (from, to) in [(0.0, 50.0), (f64::NAN, 50.0), (10.0, f64::NAN), (50.0, 10.0), (-1.0, 10.0), (1.0, 1e9)] {
        assert_eq!(kind(&target, &walls(from, to)), ErrorKind::OutOfRange, "{from} {to}");
    }
    assert_eq!(kind(&target, &walls(20.0, 20.0)), ErrorKind::Inconsistent);
    let nowhere = LayerPlace { face: Face::Side, layer: 0 };
    let vary = Vary::LayerAlone { place: nowhere, from: millimetres(1.0), to: millimetres(2.0) };
    assert_eq!(kind(&target, &vary), ErrorKind::Inconsistent);
    let vary = Vary::Dish { from: kilograms(1.0), to: kilograms(60.0) };
    assert_eq!(kind(&target, &vary), ErrorKind::Inconsistent);
    for wrong in [Target::above(kelvin(f64::NAN), hours(2.0)), Target::above(celsius(60.0), hours(4.0))] {
        assert_eq!(kind(&wrong, &walls(10.0, 50.0)), ErrorKind::OutOfRange);
    }
    assert_eq!(kind(&Target::above(celsius(60.0), hours(-1.0)), &walls(10.0, 50.0)), ErrorKind::OutOfRange);
    let walls_of_mass = walls(10.0, 50.0).applied(&foam_box(), Size::Mass(kilograms(1.0))).unwrap_err();
    assert_eq!(walls_of_mass.kind(), ErrorKind::Inconsistent);
    let given = Enclosure::lined("plywood", millimetres(20.0)).unwrap().lid(Lid::tight());
    let dish = Dish::named("water-liquid").unwrap();
    let setup = Setup::new(Pot::typical(litres(3.0)).with(dish, kilograms(2.0)), given).unwrap();
    let gap = Vary::LidGap { from: millimetres(0.1), to: millimetres(1.0) };
    assert_eq!(size(&setup, &plan(), &target, &gap, &quick(3.0)).unwrap_err().kind(), ErrorKind::Inconsistent);
    // A bound on work is kept.
    let mut options = quick(3.0);
    options.steps = 10;
    let error = size(&foam_box(), &plan(), &target, &walls(10.0, 50.0), &options).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::WorkBound);
}

/// Thicker walls of foam hold longer, weigh more and take more room; each row is a forecast of its own.
#[test]
fn what_thickness_brings_and_costs() {
    let rows = trade_off(&tight_box(50.0), &plan(), celsius(60.0), &walls(20.0, 160.0), 4, &quick(48.0)).unwrap();
    let held = |held: &Held| match held {
        Held::Until { earliest, best, latest, .. } => [earliest, best, latest].map(|m| m.time().unwrap().si()),
        other => panic!("{other:?}"),
    };
    for row in &rows {
        println!("{} {} {:.2} kg {:.0} l", row.size, row.held, row.weight.si(), 1e3 * row.bulk.si());
    }
    assert_eq!(rows.len(), 4);
    assert!((si(rows[1].size) - 0.04).abs() < 1e-12, "evenly by the logarithm: 20, 40, 80, 160 mm");
    for pair in rows.windows(2) {
        assert!(held(&pair[0].held).iter().zip(held(&pair[1].held)).all(|(thin, thick)| *thin < thick));
        assert!(pair[0].weight.si() < pair[1].weight.si() && pair[0].bulk.si() < pair[1].bulk.si());
    }
    let alone = tight_box(40.0).forecast_with(&plan(), &quick(48.0)).unwrap().above(celsius(60.0)).unwrap();
    for (row, alone) in held(&rows[1].held).into_iter().zip(held(&alone)) {
        assert!((row - alone).abs() < 1.0, "{row} {alone}");
    }
    let [w, d, h] = match tight_box(40.0).shell() {
        stillhot::Shell::Box(walls) => walls.inner_size(tight_box(40.0).pot()).map(Si::si),
        stillhot::Shell::Sleeve(_) => panic!(),
    };
    let outside = (w + 0.08) * (d + 0.08) * (h + 0.08);
    assert!((rows[1].bulk.si() / outside - 1.0).abs() < 1e-12);
    for wrong in [0, 1, 201] {
        let error = trade_off(&tight_box(50.0), &plan(), celsius(60.0), &walls(20.0, 80.0), wrong, &quick(4.0));
        assert_eq!(error.unwrap_err().kind(), ErrorKind::OutOfRange);
    }
}
