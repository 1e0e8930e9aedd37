//! The linear reference cases at the tightest settings, against exact values known to 1e-9 of their scale.

use std::time::Instant;

/// Here the march gives up below a few 1e-7: an insulated face that has not yet warmed leaves a residual that is nothing
/// but rounding. They are computed to a millionth, and still within a ten millionth of the exact values.
const GIVES_UP: [&str; 2] = ["TR-X22", "FL-SLAB-INSUL"];

#[test]
fn linear_walls_within_a_ten_millionth_of_the_scale() {
    let started = Instant::now();
    let mut worst = 0.0_f64;
    let mut failures = Vec::new();
    let rows = crate::run(|id| if GIVES_UP.contains(&id) { 1e-6 } else { 1e-7 });
    for (id, row, off, reported, _) in &rows {
        worst = worst.max(*off);
        // Not the negation: what is not a number must fail.
        let holds = *off <= 1e-7 && off <= reported;
        if !holds {
            failures.push(format!("{id} {row}: off {off:e} of the scale, reported {reported:e}"));
        }
    }
    println!(
        "{} values of linear walls at the tightest settings: worst {worst:.1e} of the scale, {:.1} s",
        rows.len(),
        started.elapsed().as_secs_f64()
    );
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}
