//! Transient and steady conduction against exact solutions; sources beside each case in the data files.

mod cases;
mod logs;
mod random_walls;

use stillhot::conduction::Accuracy;
use stillhot::units;

/// Runs every transient case and returns (id, row, |error|/scale, reported/scale, order).
fn run(relative: f64) -> Vec<(String, String, f64, f64, Option<f64>)> {
    let mut rows = Vec::new();
    for case in cases::cases() {
        let times: Vec<units::Time> = case.times().iter().map(|t| units::seconds(*t)).collect();
        let transient =
            case.problem().march(&times, &Accuracy::relative(relative)).unwrap_or_else(|e| panic!("{}: {e}", case.id));
        assert!(transient.ledger_residual() < 1e-9, "{}: ledger {:e}", case.id, transient.ledger_residual());
        for expected in &case.values {
            let scale = if expected.what == "q" { case.swing() * case.conductance() } else { case.swing() };
            let answer = case.answer(&transient, expected);
            let off = (answer.value - expected.value).abs();
            let name = format!("{} {:?} {} s", expected.what, expected.at, expected.time);
            rows.push((
                case.id.clone(),
                name,
                (off - expected.tolerance).max(0.0) / scale,
                answer.error / scale,
                answer.order,
            ));
        }
    }
    rows
}

fn check(relative: f64, required: f64) {
    let mut failures = Vec::new();
    for (id, row, off, reported, order) in run(relative) {
        println!("{id:18} {row:32} off {off:9.2e} reported {reported:9.2e} order {order:?}");
        if off > reported || off > required {
            failures.push(format!("{id} {row}: off {off:e}, reported {reported:e}"));
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

#[test]
fn exact_solutions_at_default_accuracy() {
    check(1e-4, 1e-3);
}

#[test]
fn exact_solutions_when_a_millionth_is_asked_for() {
    check(1e-6, 1e-6);
}
