//! Sections read at their ports, in full and in reduced form, and bodies that several parts share.

#[path = "../../benches/cases/w1.rs"]
#[allow(dead_code, reason = "shared with the benches")]
mod w1;
#[path = "../../benches/cases/w2.rs"]
mod w2;

use super::cases::{at, fill};
use stillhot::conduction::{Form, SectionAccuracy, SectionProblem};
use stillhot::units::{
    Si, celsius, hours, joules_per_kelvin, kelvins, watts_per_square_metre, watts_per_square_metre_kelvin,
};
use stillhot::{Body, Boundary, ErrorKind, Line, Section};

#[test]
fn w2_from_its_description_cools_as_another_program_says_in_both_forms() {
    let problem = w2::problem(100).unwrap();
    let cells = w2::cells(&problem, 100);
    let cells = [cells[0].as_slice(), cells[1].as_slice()];
    let full = problem.ports(&w2::times(), cells, Form::Full, kelvins(1e-3)).unwrap();
    let small = problem.ports(&w2::times(), cells, Form::Reduced(1e-3), kelvins(1e-3)).unwrap();
    println!("{} and {} states; {:?}", full.states, small.states, full.statistics);
    assert!(full.states > 7000 && small.states <= 30 && small.reduction_error <= 1e-3);
    for form in [&full, &small] {
        // Ports of pot, filler and room; the first two are one body.
        assert_eq!(form.temperature.dim(), (6, 3));
        assert_eq!(form.temperature.column(0), form.temperature.column(1));
        let off = w2::error(100, form.temperature.column(0).iter().copied());
        println!("off {off:.1e} K");
        assert!(off < w2::TARGET && form.ledger_residual < 1e-9, "{off:e}");
        // What the pot loses goes into the section.
        for (t, heat) in form.heat.outer_iter().enumerate() {
            assert!(heat[0] > heat[1] && heat[1] > 0.0 && heat[2] < 0.0, "{t}: {heat}");
        }
    }
    for (a, b) in full.temperature.iter().zip(&small.temperature) {
        assert!((a - b).abs() < 2e-3, "{a} {b}");
    }
    for (a, b) in full.heat.iter().zip(&small.heat) {
        assert!((a - b).abs() < 3e-3 * full.heat[(0, 0)], "{a} {b}");
    }
}

#[test]
fn w3_from_its_description_passes_what_another_program_says() {
    let problem = w2::settled(100).unwrap();
    let cells = w2::cells(&problem, 100);
    let heat = problem.steady_ports([&cells[0], &cells[1]]).unwrap();
    assert!(heat.iter().sum::<f64>().abs() < 1e-9 * heat[0], "{heat:?}");
    let given = heat[0] + heat[1];
    // Another staircase and other unknowns than those of the listed number: first order in the steps.
    println!("{given} W, listed {}", w2::SETTLED);
    assert!((given - w2::SETTLED).abs() < 3e-3 * w2::SETTLED, "{given}");
    let steady = problem.steady_on([&cells[0], &cells[1]]).unwrap();
    let [pot, filler] = ["pot", "filler"].map(|part| steady.heat(part).unwrap());
    // The three meshes, of which it is the coarsest, know how far it is from their limit.
    assert!((pot.value + filler.value - given).abs() < 1e-3 * given, "{pot:?} {filler:?} {given}");
}

/// A slab 50 mm thick and 80 high with its inner face in two parts.
fn split() -> Section {
    Section::plane(at(0.0, 0.0), at(0.05, 0.08))
        .background(fill("foam", [0.04, 0.04], 40.0, 1400.0))
        .part("low", &[Line::straight(at(0.0, 0.0), at(0.0, 0.03))])
        .part("high", &[Line::straight(at(0.0, 0.03), at(0.0, 0.08))])
        .part("out", &[Line::straight(at(0.05, 0.0), at(0.05, 0.08))])
        .build()
        .unwrap()
}

#[test]
fn a_body_behind_two_parts_is_one_body() {
    let film = watts_per_square_metre_kelvin;
    let body = || Body::new(joules_per_kelvin(500.0), celsius(95.0)).behind_film(film(9.0));
    let out = || Boundary::film(film(8.0), celsius(10.0));
    let new = || SectionProblem::new(split()).with("out", out()).unwrap();
    let shared = new().with("high", Boundary::Body(body())).unwrap().with_body_of("high", "low", film(9.0)).unwrap();
    // The same films: as if the face were of one part.
    let whole = Section::plane(at(0.0, 0.0), at(0.05, 0.08))
        .background(fill("foam", [0.04, 0.04], 40.0, 1400.0))
        .part("in", &[Line::straight(at(0.0, 0.0), at(0.0, 0.08))])
        .part("out", &[Line::straight(at(0.05, 0.0), at(0.05, 0.08))])
        .build()
        .unwrap();
    let whole = SectionProblem::new(whole).with("in", Boundary::Body(body())).unwrap().with("out", out()).unwrap();
    let (times, accuracy) = ([hours(0.5), hours(3.0)], SectionAccuracy::relative(1e-4));
    let [both, one] = [&shared, &whole].map(|p| p.march(&times, &accuracy).unwrap());
    for time in 0..2 {
        let [low, high] = ["low", "high"].map(|part| both.body(part, time).unwrap().value.si());
        let single = one.body("in", time).unwrap();
        assert_eq!(low, high);
        assert!((low - single.value.si()).abs() < 2.0 * single.error.si() + 1e-3, "{low} {single:?}");
        let heat = ["low", "high"].map(|part| both.heat(part, time).unwrap().value);
        let of_one = one.heat("in", time).unwrap();
        assert!((heat[0] + heat[1] - of_one.value).abs() < 3e-3 * of_one.value, "{heat:?} {of_one:?}");
        assert!((heat[0] / heat[1] - 3.0 / 5.0).abs() < 1e-2);
    }
    assert!(both.ledger_residual() < 1e-9);
    // The exported matrices tell whose body it is.
    let system = shared.matrices(4).unwrap();
    let ports: Vec<_> = system.ports.iter().map(|p| (p.part.as_str(), p.body.is_some(), p.shares)).collect();
    let high = system.ports[1].row;
    assert_eq!(ports, [("low", false, Some(high)), ("high", true, None), ("out", false, None)]);
    // What cannot be shared, and what is shared cannot be taken away behind the other's back.
    let refused = |problem: Result<SectionProblem, stillhot::Error>, kind: ErrorKind| {
        let error = problem.unwrap_err();
        assert_eq!(error.kind(), kind, "{error}");
    };
    refused(new().with_body_of("high", "low", film(9.0)), ErrorKind::Inconsistent);
    refused(new().with_body_of("out", "low", film(9.0)), ErrorKind::Inconsistent);
    refused(shared.clone().with_body_of("low", "out", film(9.0)), ErrorKind::Inconsistent);
    refused(shared.clone().with_body_of("high", "high", film(9.0)), ErrorKind::Inconsistent);
    refused(shared.clone().with_body_of("high", "low", film(-9.0)), ErrorKind::OutOfRange);
    refused(shared.clone().with("high", Boundary::Insulated), ErrorKind::Inconsistent);
    refused(shared.clone().with_body_of("high", "nowhere", film(9.0)), ErrorKind::UnknownName);
    assert!(shared.with("low", Boundary::Insulated).and_then(|p| p.with("high", Boundary::Insulated)).is_ok());
}

#[test]
fn what_has_no_reduced_form_is_refused() {
    let film = watts_per_square_metre_kelvin;
    let problem = SectionProblem::new(split())
        .with("out", Boundary::film(film(8.0), celsius(10.0)))
        .and_then(|p| p.with("low", Boundary::flux(watts_per_square_metre(30.0))))
        .unwrap();
    let lines = problem.lines();
    let cells = lines.map(|l| vec![2; l.len() - 1]);
    let ports = |form, step| problem.ports(&[hours(1.0)], [&cells[0], &cells[1]], form, kelvins(step));
    assert_eq!(ports(Form::Reduced(1e-3), 1e-3).unwrap_err().kind(), ErrorKind::Inconsistent);
    assert_eq!(ports(Form::Reduced(0.5), 1e-3).unwrap_err().kind(), ErrorKind::OutOfRange);
    assert_eq!(ports(Form::Full, 0.0).unwrap_err().kind(), ErrorKind::OutOfRange);
    assert!(ports(Form::Full, 1e-3).is_ok());
    assert!(SectionProblem::new(split()).steady_ports([&cells[0], &cells[1]]).is_err());
}
