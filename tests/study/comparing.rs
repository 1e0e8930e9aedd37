//! Differences between variants, and their errors.

use super::{base, by, kitchen};
use stillhot::study::{Asked, Comparison, End, HoldDifference, Level, Variant, compare};
use stillhot::units::{Si, celsius, kelvins, minutes};
use stillhot::{Lid, Options, Shell};

fn with_lid(variant: &Variant, name: &str, lid: Lid) -> Variant {
    let new = variant.with_setup(name, |setup| match setup.shell() {
        Shell::Box(enclosure) => setup.with_shell(enclosure.clone().lid(lid)),
        Shell::Sleeve(sleeve) => setup.with_shell(sleeve.clone().lid(lid)),
    });
    new.unwrap()
}

/// Several kinds of change, those that move landings among them.
fn changed(variant: &Variant) -> Vec<Variant> {
    vec![
        with_lid(variant, "pressed", Lid::pressed()),
        with_lid(variant, "plug", Lid::plug()),
        variant.with_plan("colder room", |plan| plan.warmer_by(kelvins(-10.0))),
        variant.with_plan("opened", |plan| plan.open_at(minutes(60.0), minutes(10.0))),
        variant.with_plan("carried longer", |plan| plan.carry(minutes(12.0))),
        variant.with_setup("heavy pot", |setup| setup.with_pot(setup.pot().clone().times_as_heavy(3.0))).unwrap(),
        variant.with_plan("barely warmer room", |plan| plan.warmer_by(kelvins(0.01))),
    ]
}

#[test]
fn a_variant_equal_to_the_base_differs_by_nothing_at_all() {
    let case = kitchen();
    let base = base(&case);
    let same = Variant::new("the same", case.setup.clone(), case.plan.clone());
    let asked = Asked::above(celsius(63.0)).and(Level::Above(celsius(75.0))).and(Level::Below(celsius(30.0)));
    let comparison = compare(&base, &[same], &asked, &Options::default()).unwrap();
    let same = &comparison.variants[0];
    for members in &same.holds {
        for hold in members {
            match hold {
                HoldDifference::By(d) => assert_eq!((d.value.si().to_bits(), d.error.si().to_bits()), (0, 0)),
                HoldDifference::PastHorizon => {}
                other => panic!("{other}"),
            }
        }
    }
    for change in [same.end, same.serving.unwrap()] {
        for end in [End::Cautious, End::Best, End::Generous] {
            let d = change.at(end);
            assert_eq!((d.value.si().to_bits(), d.error.si().to_bits()), (0, 0));
        }
    }
    assert_eq!(same.heat_lost.best.value.si(), 0.0);
    assert_eq!((same.weight.si(), same.bulk.si(), same.cost), (0.0, 0.0, None));
    assert_eq!(comparison.ranked(End::Best)[0].rank, None);
    assert_eq!(same.holds[0][1].to_string(), "none");
}

/// Like changes share a rank, and the next one counts those before it.
#[test]
fn what_cannot_be_told_apart_shares_a_rank() {
    let case = kitchen();
    let base = base(&case);
    let variants = [
        base.with_plan("half a kelvin warmer", |plan| plan.warmer_by(kelvins(0.5))),
        with_lid(&base, "pressed", Lid::pressed()),
        with_lid(&base, "pressed, too", Lid::pressed()),
        base.with_plan("nothing", |plan| plan),
    ];
    let comparison = compare(&base, &variants, &Asked::above(celsius(63.0)), &Options::default()).unwrap();
    let ranks: Vec<_> = comparison.ranked(End::Best).iter().map(|place| place.rank).collect();
    assert_eq!(ranks, [Some(1), Some(1), Some(3), None]);
    let last = comparison.ranked(End::Best)[2].compared.outcome.variant.name();
    assert_eq!(last, "half a kelvin warmer");
}

/// Differences against those of forecasts with twice the cells and a tenth of the step error: inside the reported error, and
/// that far below the error of the values.
#[test]
fn the_error_of_a_difference_covers_and_is_small() {
    let case = kitchen();
    let base = base(&case);
    let variants = changed(&base);
    let asked = Asked::above(celsius(63.0));
    let comparison = compare(&base, &variants, &asked, &Options::default()).unwrap();
    let mut fine = Options::default();
    fine.cells = 16;
    fine.step_error = kelvins(2e-3);
    let refined = compare(&base, &variants, &asked, &fine).unwrap();
    let stillhot::Held::Until { numerical, .. } = comparison.base.holds[0].1 else { panic!("crosses") };
    println!("base: error {:.2} s", numerical.si());
    for (index, variant) in variants.iter().enumerate() {
        for end in [End::Best, End::Cautious, End::Generous] {
            let of = |comparison: &Comparison| by(comparison.variants[index].holds[0][end as usize]);
            let ((value, error), (better, rest)) = (of(&comparison), of(&refined));
            println!("{:20} {end:?} {value:10.3} ± {error:.3} s, refined {better:10.3} ± {rest:.3} s", variant.name());
            assert!((value - better).abs() <= error + rest, "{} {end:?}", variant.name());
        }
    }
    // A hundredth of a kelvin in the room shows, though the value is known to no better.
    let (value, error) = by(comparison.variants[variants.len() - 1].holds[0][End::Best as usize]);
    assert!(value > 3.0 * error && error < 0.3 * numerical.si(), "{value} {error} {numerical:?}");
}
