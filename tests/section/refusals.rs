//! Bad layouts are refused, each with the place.

use super::cases::{at, fill};
use stillhot::conduction::{SectionAccuracy, SectionProblem, SectionSource};
use stillhot::units::{celsius, degrees, fraction, metres, square_metre_kelvins_per_watt, watts_per_cubic_metre};
use stillhot::{Boundary, Contact, Error, ErrorKind, Fill, Line, Section, SectionBuilder, Shape};

fn stuff() -> Fill {
    fill("stuff", [1.0, 1.0], 1000.0, 1000.0)
}

fn other() -> Fill {
    fill("other", [2.0, 2.0], 1000.0, 1000.0)
}

fn square() -> SectionBuilder {
    Section::plane(at(0.0, 0.0), at(0.1, 0.1)).background(stuff())
}

fn resistance() -> Contact {
    Contact::Resistance(square_metre_kelvins_per_watt(0.1))
}

#[test]
fn each_bad_layout_is_told_with_its_place() {
    let line = |a: f64, b: f64, c: f64, d: f64| [Line::straight(at(a, b), at(c, d))];
    let rectangle = |a: f64, b: f64, c: f64, d: f64| Shape::rectangle(at(a, b), at(c, d));
    let polygon = |p: &[[f64; 2]]| Shape::polygon(&p.iter().map(|[x, y]| at(*x, *y)).collect::<Vec<_>>());
    let cases: Vec<(&str, SectionBuilder, ErrorKind, &[&str])> = vec![
        (
            "a sliver",
            square().lay(rectangle(0.05, 0.0, 0.050_000_01, 0.1), other()),
            ErrorKind::OutOfRange,
            &["sliver", "shape 2", "50 mm"],
        ),
        (
            "two edges that nearly meet",
            square().lay(rectangle(0.0, 0.0, 0.05, 0.1), other()).hole(rectangle(0.050_000_05, 0.02, 0.08, 0.08)),
            ErrorKind::OutOfRange,
            &["sliver", "nearly coincide", "50 mm"],
        ),
        (
            "outside",
            square().lay(rectangle(0.05, 0.0, 0.2, 0.05), other()),
            ErrorKind::OutOfRange,
            &["outside the frame", "200 mm"],
        ),
        (
            "a disc outside",
            square().hole(Shape::disc(at(0.05, 0.05), metres(0.06))),
            ErrorKind::OutOfRange,
            &["outside the frame"],
        ),
        (
            "uncovered",
            Section::plane(at(0.0, 0.0), at(0.1, 0.1)).lay(rectangle(0.0, 0.0, 0.06, 0.1), stuff()),
            ErrorKind::Inconsistent,
            &["no shape covers", "mm"],
        ),
        (
            "contact off any edge",
            square().contact("joint", &line(0.05, 0.0, 0.05, 0.1), resistance()),
            ErrorKind::Inconsistent,
            &["joint", "no interface", "(50 mm, 50 mm)"],
        ),
        (
            "contact on the boundary",
            square().contact("joint", &line(0.0, 0.0, 0.0, 0.1), resistance()),
            ErrorKind::Inconsistent,
            &["joint", "no interface", "(0 mm, 50 mm)"],
        ),
        (
            "part inside",
            square().lay(rectangle(0.0, 0.0, 0.05, 0.1), other()).part("inside", &line(0.05, 0.0, 0.05, 0.1)),
            ErrorKind::Inconsistent,
            &["inside", "boundary where there is none", "(50 mm, 50 mm)"],
        ),
        (
            "part that runs past the boundary",
            square().hole(rectangle(0.0, 0.05, 0.1, 0.1)).part("inside", &line(0.0, 0.0, 0.0, 0.1)),
            ErrorKind::Inconsistent,
            &["inside", "boundary where there is none", "(0 mm, 75 mm)"],
        ),
        (
            "two parts on one line",
            square().part("one", &line(0.0, 0.0, 0.0, 0.1)).part("two", &line(0.0, 0.02, 0.0, 0.05)),
            ErrorKind::Inconsistent,
            &["two names", "(0 mm, 35 mm)"],
        ),
        (
            "one name twice",
            square().part("a", &line(0.0, 0.0, 0.0, 0.1)).part("a", &line(0.1, 0.0, 0.1, 0.1)),
            ErrorKind::Inconsistent,
            &["twice", "a"],
        ),
        (
            "a bow",
            square().lay(polygon(&[[0.02, 0.02], [0.08, 0.08], [0.08, 0.02], [0.02, 0.08]]), other()),
            ErrorKind::OutOfRange,
            &["crosses or touches itself", "(50 mm, 50 mm)"],
        ),
        (
            "a spike",
            square().lay(polygon(&[[0.02, 0.02], [0.08, 0.02], [0.05, 0.02], [0.05, 0.06]]), other()),
            ErrorKind::OutOfRange,
            &["crosses or touches itself"],
        ),
        (
            "two corners",
            square().lay(polygon(&[[0.02, 0.02], [0.08, 0.02]]), other()),
            ErrorKind::OutOfRange,
            &["three corners"],
        ),
        (
            "a thin polygon",
            square().lay(polygon(&[[0.02, 0.02], [0.08, 0.02], [0.05, 0.020_000_1]]), other()),
            ErrorKind::OutOfRange,
            &["sliver"],
        ),
        (
            "not a number",
            square().lay(rectangle(f64::NAN, 0.0, 0.05, 0.05), other()),
            ErrorKind::OutOfRange,
            &["not a finite number"],
        ),
        ("no frame", Section::plane(at(0.0, 0.0), at(0.0, 0.1)).background(stuff()), ErrorKind::OutOfRange, &["frame"]),
        (
            "an endless frame",
            Section::plane(at(0.0, 0.0), at(f64::INFINITY, 0.1)).background(stuff()),
            ErrorKind::OutOfRange,
            &["frame"],
        ),
        (
            "a negative radius",
            Section::about_axis(at(-0.1, 0.0), at(0.1, 0.1)).background(stuff()),
            ErrorKind::OutOfRange,
            &["radius below zero"],
        ),
        (
            "a part on the axis",
            Section::about_axis(at(0.0, 0.0), at(0.1, 0.1)).background(stuff()).part("axis", &line(0.0, 0.0, 0.0, 0.1)),
            ErrorKind::Inconsistent,
            &["axis", "(0 mm, 50 mm)"],
        ),
        (
            "nothing",
            Section::plane(at(0.0, 0.0), at(0.1, 0.1)).hole(rectangle(0.0, 0.0, 0.1, 0.1)),
            ErrorKind::Inconsistent,
            &["nothing but holes"],
        ),
        ("a part without lines", square().part("a", &[]), ErrorKind::Inconsistent, &["no lines"]),
        ("a point for a line", square().part("a", &line(0.0, 0.05, 0.0, 0.05)), ErrorKind::OutOfRange, &["too short"]),
    ];
    for (name, section, kind, words) in cases {
        let error: Error = section.build().map(|_| ()).expect_err(name);
        println!("{name}: {error}");
        assert_eq!(error.kind(), kind, "{name}: {error}");
        for word in words {
            assert!(error.to_string().contains(word), "{name}: {error} lacks {word}");
        }
    }
}

#[test]
fn a_grain_aslant_is_refused_with_the_reason() {
    let error = stuff().with_grain(degrees(30.0), fraction(2.0)).unwrap_err();
    println!("{error}");
    assert!(error.to_string().contains(" °") && error.to_string().contains("turn the section"));
    assert!(stuff().with_grain(degrees(f64::NAN), fraction(2.0)).is_err());
    assert!(stuff().with_grain(degrees(90.0), fraction(0.0)).is_err());
    assert!(stuff().with_grain(degrees(90.0), fraction(f64::NAN)).is_err());
    assert_eq!(stuff().with_grain(degrees(270.0), fraction(2.0)).unwrap().factors(), [fraction(1.0), fraction(2.0)]);
}

#[test]
fn bad_problems_are_refused() {
    let section = square().part("left", &[Line::straight(at(0.0, 0.0), at(0.0, 0.1))]).build().unwrap();
    let problem = SectionProblem::new(section);
    assert_eq!(problem.clone().with("lift", Boundary::Insulated).unwrap_err().kind(), ErrorKind::UnknownName);
    let nothing_given = problem.steady(&SectionAccuracy::default()).unwrap_err();
    assert_eq!(nothing_given.kind(), ErrorKind::NoConvergence);
    let problem = problem.with("left", Boundary::temperature(celsius(50.0))).unwrap();
    assert!(problem.clone().with("left", Boundary::temperature(celsius(f64::NAN))).is_err());
    assert!(problem.clone().starting_at(celsius(-300.0)).is_err());
    let source = SectionSource::in_fill(other(), watts_per_cubic_metre(1.0));
    assert_eq!(problem.clone().with_source(source).unwrap_err().kind(), ErrorKind::UnknownName);
    assert_eq!(problem.steady(&SectionAccuracy::relative(0.0)).unwrap_err().kind(), ErrorKind::OutOfRange);
    assert_eq!(problem.steady_on([&[1, 2], &[3]]).unwrap_err().kind(), ErrorKind::Inconsistent);
    assert_eq!(problem.steady_on([&[1_000_000], &[1_000_000]]).unwrap_err().kind(), ErrorKind::WorkBound);
    assert_eq!(problem.march(&[], &SectionAccuracy::default()).unwrap_err().kind(), ErrorKind::OutOfRange);
    let steady = problem.steady(&SectionAccuracy::default()).unwrap();
    // Everything at the one temperature that is prescribed.
    assert!((steady.temperature(at(0.09, 0.05)).unwrap().value.value - 323.15).abs() < 1e-9);
    for bad in [at(0.2, 0.05), at(f64::NAN, 0.05)] {
        assert_eq!(steady.temperature(bad).unwrap_err().kind(), ErrorKind::OutOfRange);
    }
    assert_eq!(steady.heat("right").unwrap_err().kind(), ErrorKind::UnknownName);
    assert_eq!(steady.coupling("left", "left").unwrap_err().kind(), ErrorKind::Inconsistent);
}
