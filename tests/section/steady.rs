//! Steady values of the junctions and of the sections laid out at random.

use super::cases::{Case, Expected, at, junctions, random};
use stillhot::conduction::{Arm, Estimate, SectionAccuracy, SteadySection};
use stillhot::units::{Si, metres, watts_per_square_metre_kelvin};

/// Value and reported error in the units of the table, and the scale of the quantity.
fn answer(case: &Case, steady: &SteadySection, expected: &Expected) -> (Estimate<f64>, f64) {
    let swing = case.swing();
    let celsius = |e: Estimate<stillhot::units::Temperature, stillhot::units::TemperatureInterval>| Estimate {
        value: e.value.si() - 273.15,
        error: e.error.si(),
        mesh_error: e.mesh_error.si(),
        time_error: e.time_error.si(),
        order: e.order,
    };
    let largest = case.parts.iter().map(|p| steady.heat(&p.name).unwrap().value.abs()).fold(0.0, f64::max);
    let arms = |outer: bool| -> Vec<Arm> {
        let length = |w: &super::cases::PlainWall| if outer { w.outer_length } else { w.inner_length };
        case.walls
            .iter()
            .map(|w| Arm::with_transmittance(watts_per_square_metre_kelvin(w.u), metres(length(w))))
            .collect()
    };
    let psi = |outer: bool| {
        let e = steady.linear_transmittance("inside", "outside", &arms(outer)).unwrap();
        Estimate {
            value: e.value.si(),
            error: e.error.si(),
            mesh_error: e.mesh_error.si(),
            time_error: e.time_error.si(),
            order: e.order,
        }
    };
    match expected.what.as_str() {
        "T" => {
            let [x, y] = expected.at.unwrap();
            (celsius(steady.temperature(at(x, y)).unwrap()), swing)
        }
        "heat_flow" => (steady.heat(expected.part.as_ref().unwrap()).unwrap(), largest),
        "L2D" => (steady.coupling("inside", "outside").unwrap(), largest / swing),
        "G" => (steady.coupling("pot", "side").unwrap(), largest / swing),
        "psi_i" => (psi(false), largest / swing),
        "psi_e" => (psi(true), largest / swing),
        "T_surface_min" | "T_surface_max" => {
            let end = usize::from(expected.what == "T_surface_max");
            let side = expected.part.as_ref().unwrap();
            let parts = case.parts.iter().filter(|p| p.side == *side);
            let ends = parts.map(|p| celsius(steady.surface(&p.name).unwrap()[end]));
            let sign = if end == 1 { 1.0 } else { -1.0 };
            (ends.max_by(|a, b| (sign * a.value).total_cmp(&(sign * b.value))).unwrap(), swing)
        }
        other => panic!("{other}"),
    }
}

/// Checks every steady value: inside the reported error, and within `required` of its scale.
fn check(cases: &[Case], accuracy: &SectionAccuracy, required: f64) {
    let mut failures = Vec::new();
    for case in cases {
        assert_eq!(case.mark, "COMPUTED", "{}", case.id);
        let begun = std::time::Instant::now();
        let steady = case.steady(accuracy);
        println!(
            "{} {}: {:?} unknowns, {:.2} s, smallest conductance {:.1e}",
            case.id,
            case.title,
            steady.unknowns(),
            begun.elapsed().as_secs_f64(),
            steady.smallest_conductance()
        );
        for expected in case.values.iter().filter(|v| v.time.is_none()) {
            let (e, scale) = answer(case, &steady, expected);
            let off = ((e.value - expected.value).abs() - expected.tolerance).max(0.0);
            println!(
                "  {:14} {:20} off {:9.2e} reported {:9.2e} of the scale, order {:.2?}",
                expected.what,
                format!("{:?}{:?}", expected.part.as_deref().unwrap_or(""), expected.at.unwrap_or_default()),
                off / scale,
                e.error / scale,
                e.order
            );
            if off > e.error || off > required * scale {
                failures.push(format!(
                    "{} {} {:?} {:?}: off {:.2e}, reported {:.2e} of the scale",
                    case.id,
                    expected.what,
                    expected.part,
                    expected.at,
                    off / scale,
                    e.error / scale
                ));
            }
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

#[test]
fn junctions_at_default_accuracy() {
    check(&junctions(), &SectionAccuracy::default(), 2e-3);
}

#[test]
fn random_sections_at_default_accuracy() {
    check(&random(), &SectionAccuracy::default().with_nodes(600_000), 2e-3);
}

#[test]
fn junctions_at_tight_accuracy() {
    check(&junctions(), &SectionAccuracy::relative(1e-5).with_nodes(2_000_000), 1e-4);
}

#[test]
fn random_sections_at_tight_accuracy() {
    check(&random(), &SectionAccuracy::relative(3e-4).with_nodes(2_000_000), 1e-4);
}
