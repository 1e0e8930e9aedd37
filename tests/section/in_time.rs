//! Junctions and sleeves in time: the body that cools, heat taken up by the wall, temperatures in it.

use super::cases::{at, junctions};
use stillhot::conduction::SectionAccuracy;
use stillhot::units::{Si, seconds};

fn check(accuracy: &SectionAccuracy, required: f64) {
    let mut failures = Vec::new();
    for case in junctions() {
        let mut times: Vec<f64> = case.values.iter().filter_map(|v| v.time).collect();
        times.sort_by(f64::total_cmp);
        times.dedup();
        let begun = std::time::Instant::now();
        let asked: Vec<_> = times.iter().map(|t| seconds(*t)).collect();
        let transient = case.problem(true).march(&asked, accuracy).unwrap_or_else(|e| panic!("{}: {e}", case.id));
        println!(
            "{}: {:.2} s, {:?}, ledger {:.1e}",
            case.id,
            begun.elapsed().as_secs_f64(),
            transient.statistics(),
            transient.ledger_residual()
        );
        assert!(transient.ledger_residual() < 1e-9, "{}: ledger {:e}", case.id, transient.ledger_residual());
        let body = case.parts.iter().find(|p| p.body).unwrap();
        let capacity = case.body.as_ref().unwrap().capacity;
        let swing = case.swing();
        for expected in case.values.iter().filter(|v| v.time.is_some()) {
            let time = times.iter().position(|t| Some(*t) == expected.time).unwrap();
            let (value, error, scale) = match expected.what.as_str() {
                "T" => {
                    let [x, y] = expected.at.unwrap();
                    let e = transient.temperature(at(x, y), time).unwrap();
                    (e.value.si() - 273.15, e.error.si(), swing)
                }
                "T_body" => {
                    let e = transient.body(&body.name, time).unwrap();
                    (e.value.si() - 273.15, e.error.si(), swing)
                }
                "Q_wall" => {
                    let e = transient.stored_heat(time).unwrap();
                    (e.value.si(), e.error.si(), capacity * swing)
                }
                other => panic!("{other}"),
            };
            let off = ((value - expected.value).abs() - expected.tolerance).max(0.0);
            println!(
                "  {:7} {:?} {} s: off {:9.2e} reported {:9.2e} of the scale",
                expected.what,
                expected.at.unwrap_or_default(),
                expected.time.unwrap(),
                off / scale,
                error / scale
            );
            if off > error || off > required * scale {
                failures.push(format!(
                    "{} {} {:?} {:?} s: off {:.2e}, reported {:.2e} of the scale",
                    case.id,
                    expected.what,
                    expected.at,
                    expected.time,
                    off / scale,
                    error / scale
                ));
            }
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

#[test]
fn junctions_at_default_accuracy() {
    check(&SectionAccuracy::default(), 2e-3);
}

#[test]
fn junctions_at_tight_accuracy() {
    check(&SectionAccuracy::relative(2e-4).with_nodes(1_000_000), 1e-4);
}
