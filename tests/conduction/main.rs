//! Transient and steady conduction against exact solutions; sources beside each case in the data files.

mod airspaces;
#[allow(dead_code, reason = "shared with the validation table")]
mod cases;
#[allow(dead_code, reason = "shared with the validation table")]
mod comparison;
mod logs;
mod manufactured;
mod maximum_principle;
mod orders;
mod periodic;
mod plain;
mod published;
mod random_walls;
mod tight;

use stillhot::conduction::Accuracy;
use stillhot::units;

/// Runs the wanted transient cases; returns (id, row, |error|/scale, reported/scale, order).
fn run(wanted: impl Fn(&cases::Case) -> bool, accuracy: &Accuracy) -> Vec<(String, String, f64, f64, Option<f64>)> {
    let mut rows = Vec::new();
    for case in cases::cases().into_iter().filter(wanted) {
        let times: Vec<units::Time> = case.times().iter().map(|t| units::seconds(*t)).collect();
        let transient = case.problem().march(&times, accuracy).unwrap_or_else(|e| panic!("{}: {e}", case.id));
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
    for (id, row, off, reported, order) in run(|_| true, &Accuracy::relative(relative)) {
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

#[test]
fn textbooks_and_benchmarks() {
    comparison::assert_all(&published::rows(&Accuracy::default()));
    comparison::assert_all(&published::rows(&Accuracy::relative(1e-6)));
}

#[test]
fn manufactured_solutions() {
    for made in manufactured::ALL {
        // The source belongs to the temperature; differences of 1e-4 leave 1e-6 of truncation and rounding.
        for i in 1..10 {
            let x = made.ends[0] + (made.ends[1] - made.ends[0]) * 0.1 * f64::from(i);
            let residual = made.residual(x, 0.07 * f64::from(i));
            assert!(residual.abs() < 1e-4, "{}: {residual:e} W/m³ left at {x}", made.title);
        }
        let (x, _, _) = made.values[0];
        let table = made
            .problem()
            .convergence(units::seconds(0.5), plain::temperature_at(x), &Accuracy::relative(1e-3))
            .unwrap();
        let order = table.mesh.iter().filter_map(|row| row.order).next_back().unwrap();
        println!("{}: order in space {order:.3}", made.title);
        assert!(order > 1.9, "{}: {table:?}", made.title);
    }
    comparison::assert_all(&manufactured::rows(&Accuracy::default()));
    comparison::assert_all(&manufactured::rows(&Accuracy::relative(1e-6)));
}

#[test]
fn periodic_states() {
    comparison::assert_all(&periodic::rows(&Accuracy::default()));
    // A thousandth of the amplitude at a finer setting, whatever error is reported.
    for row in periodic::rows(&Accuracy::relative(1e-5)) {
        assert!(row.difference().abs() < 1e-3 * row.expected.abs(), "{row:?}");
        assert!(row.ratio() <= 1.0, "{row:?}");
    }
}
