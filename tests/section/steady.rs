//! Steady values of the junctions and of the sections laid out at random.

use super::cases::{Case, answer, junctions, random};
use stillhot::conduction::SectionAccuracy;

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
