//! What is refused, by name; what is nothing to refuse.

use super::{base, kitchen};
use stillhot::study::{Asked, Level, MaterialPrice, Prices, Variant, compare, what_matters};
use stillhot::units::{celsius, hours, kelvins, metres, millimetres, minutes};
use stillhot::{Enclosure, Error, ErrorKind, Options};

fn asked() -> Asked {
    Asked::above(celsius(63.0))
}

fn refused(variants: &[Variant], asked: &Asked, options: &Options) -> Error {
    compare(&base(&kitchen()), variants, asked, options).unwrap_err()
}

#[test]
fn an_empty_list_compares_nothing() {
    let comparison = compare(&base(&kitchen()), &[], &asked(), &Options::default()).unwrap();
    assert!(comparison.variants.is_empty() && comparison.ranked(stillhot::study::End::Best).is_empty());
    assert_eq!(comparison.base.holds.len(), 1);
}

#[test]
fn a_name_stands_for_one_variant() {
    let case = kitchen();
    let base = base(&case);
    let warm = base.with_plan("warm", |plan| plan.warmer_by(kelvins(1.0)));
    for variants in [vec![warm.clone(), warm.clone()], vec![base.clone()]] {
        let error = compare(&base, &variants, &asked(), &Options::default()).unwrap_err();
        assert_eq!((error.kind(), error.value()), (ErrorKind::Inconsistent, Some(variants[0].name())));
    }
}

/// A variant that cannot be built is told when it is made, one that cannot be computed when it is compared; both by name.
#[test]
fn a_variant_that_fails_is_named() {
    let case = kitchen();
    let base = base(&case);
    let built = base
        .with_setup("far too thick", |setup| setup.with_shell(Enclosure::lined("expanded-cork-board", metres(25.0))?));
    assert!(built.unwrap_err().path().starts_with("far too thick, "));
    let small = base.with_setup("far too small", |setup| {
        let walls = Enclosure::lined("expanded-cork-board", millimetres(40.0))?;
        setup.with_shell(walls.inside(millimetres(100.0), millimetres(100.0), millimetres(100.0)))
    });
    assert!(small.unwrap_err().path().starts_with("far too small, box"));
    let late = base.with_plan("opened too late", |plan| plan.open_at(hours(60.0), minutes(5.0)));
    let hot = base.with_plan("hotter than it boils", |plan| plan.leaving_at(celsius(140.0)));
    for wrong in [late, hot] {
        let error = compare(&base, std::slice::from_ref(&wrong), &asked(), &Options::default()).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::OutOfRange);
        assert!(error.path().starts_with(wrong.name()), "{error}");
    }
}

#[test]
fn numbers_that_are_none_are_refused() {
    let price = |price| refused(&[], &asked().with_price("plywood", price), &Options::default());
    for wrong in [f64::NAN, f64::INFINITY, -1.0] {
        for kind in [MaterialPrice::PerKilogram, MaterialPrice::PerSquareMetre, MaterialPrice::PerCubicMetre] {
            let error = price(kind(wrong));
            assert_eq!((error.kind(), error.path()), (ErrorKind::OutOfRange, "plywood, price".to_owned()));
        }
    }
    let warm = base(&kitchen()).with_plan("a warm day", |plan| plan.warmer_by(kelvins(5.0)));
    let warmer = base(&kitchen()).with_plan("a warm day and night", |plan| plan.warmer_by(kelvins(8.0)));
    let of = |change: &str, amount: f64| {
        let asked = asked().with_prices(Prices::default().with_change(change, amount));
        compare(&base(&kitchen()), &[warm.clone(), warmer.clone()], &asked, &Options::default())
    };
    assert_eq!(of("a warm day", -1.0).unwrap_err().kind(), ErrorKind::OutOfRange);
    for unclear in ["a warm", "a cold day"] {
        let error = of(unclear, 1.0).unwrap_err();
        assert_eq!((error.kind(), error.value()), (ErrorKind::UnknownName, Some(unclear)));
    }
    let costs = |change: &str| of(change, 7.0).unwrap().variants.iter().map(|one| one.cost).collect::<Vec<_>>();
    // The whole name goes before its beginnings; what changes nothing that is built costs nothing.
    assert_eq!(costs("a warm day"), [Some(7.0), Some(0.0)]);
    assert_eq!(costs("a warm day and"), [Some(0.0), Some(7.0)]);
    let twice = asked()
        .with_price("plywood", MaterialPrice::PerKilogram(1.0))
        .with_price("plywood", MaterialPrice::PerKilogram(1.0));
    assert_eq!(refused(&[], &twice, &Options::default()).path(), "price, plywood");
    for wrong in [f64::NAN, f64::INFINITY, 400.0, -100.0] {
        let error = refused(&[], &asked().and(Level::Below(celsius(wrong))), &Options::default());
        assert_eq!((error.kind(), error.path()), (ErrorKind::OutOfRange, "temperature asked about".to_owned()));
    }
    for horizon in [hours(0.0), hours(-1.0), hours(f64::NAN)] {
        let error = refused(&[], &asked(), &Options::horizon(horizon));
        assert_eq!((error.kind(), error.path()), (ErrorKind::OutOfRange, "as built, options, horizon".to_owned()));
        let case = kitchen();
        let error = what_matters(&case.setup, &case.plan, &asked(), &Options::horizon(horizon)).unwrap_err();
        assert_eq!(error.path(), "as it is, options, horizon");
    }
}
