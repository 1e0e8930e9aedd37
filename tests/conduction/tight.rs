//! The linear reference cases at the tightest settings, against exact values known to 1e-9 of their scale.

use std::time::Instant;
use stillhot::conduction::Accuracy;

/// What is asked for, as a share of the temperature span: the least that is accepted for walls of several layers, and
/// for the others ten times as much, since that shows no more and takes a tenth of the time.
const LAYERED: f64 = 1e-9;
const SINGLE: f64 = 1e-8;
/// What they must be off at most, whatever is reported.
const REQUIRED: f64 = 1e-7;

fn check(several_layers: bool, relative: f64) {
    let mut failures = Vec::new();
    let mut worst = 0.0_f64;
    let mut accuracy = Accuracy::relative(relative);
    // Not from the coarsest mesh: it is refined again and again in any case.
    accuracy.cells = 128;
    let started = Instant::now();
    let rows = crate::run(|case| (case.layers() > 1) == several_layers, &accuracy);
    for (id, row, off, reported, _) in &rows {
        println!("{id:18} {row:32} off {off:9.2e} reported {reported:9.2e}");
        worst = worst.max(*off);
        // Not the negation: what is not a number must fail.
        let holds = *off <= REQUIRED && off <= reported;
        if !holds {
            failures.push(format!("{id} {row}: off {off:e} of the scale, reported {reported:e}"));
        }
    }
    println!(
        "{} values at {relative:e}: worst {worst:.1e} of the scale beyond what the exact ones are known to, {:.1} s",
        rows.len(),
        started.elapsed().as_secs_f64()
    );
    assert!(!rows.is_empty() && failures.is_empty(), "{}", failures.join("\n"));
}

#[test]
fn layered_walls_within_a_ten_millionth_of_the_scale() {
    check(true, LAYERED);
}

#[test]
fn single_layers_within_a_ten_millionth_of_the_scale() {
    check(false, SINGLE);
}

/// Tighter than that is refused, with the range.
#[test]
fn the_tightest_setting_is_the_least_that_is_accepted() {
    let case = &crate::cases::cases()[0];
    let refused = case.problem().march(&[stillhot::units::seconds(1.0)], &Accuracy::relative(0.99 * LAYERED));
    assert_eq!(refused.unwrap_err().kind(), stillhot::ErrorKind::OutOfRange);
}
