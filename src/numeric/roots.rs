//! A root of a continuous function between two points where its sign differs.

use crate::{Error, ErrorKind};

/// Far more than Brent's method needs on a double: bisection alone ends after about 1100 halvings.
const LARGEST_ITERATION_COUNT: usize = 1200;

/// The root of `function` between `lower` and `upper`, to `tolerance` (absolute) plus rounding.
///
/// Brent's method (R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 4; MEMORY):
/// inverse quadratic interpolation and secant steps, falling back on bisection, so never slower than
/// bisection by more than a constant.
///
/// # Errors
/// `NoConvergence` when the function has the same sign at both ends, is not finite somewhere on the way,
/// or the iteration bound is reached.
pub(crate) fn bracketed_root(
    mut function: impl FnMut(f64) -> f64,
    lower: f64,
    upper: f64,
    tolerance: f64,
) -> Result<f64, Error> {
    let ends = [(lower, told(&mut function, lower)?), (upper, told(&mut function, upper)?)];
    between(function, ends, tolerance)
}

/// The value of a function, which must be a number.
fn told(function: &mut impl FnMut(f64) -> f64, x: f64) -> Result<f64, Error> {
    let y = function(x);
    if y.is_finite() {
        return Ok(y);
    }
    Err(Error::new(ErrorKind::NoConvergence, "the function is not finite where its root is sought")
        .with_value(format!("{x}")))
}

/// The same with the values at the two ends at hand.
fn between(
    mut function: impl FnMut(f64) -> f64,
    [(lower, at_lower), (upper, at_upper)]: [(f64, f64); 2],
    tolerance: f64,
) -> Result<f64, Error> {
    let (mut a, mut b) = (lower, upper);
    let (mut fa, mut fb) = (at_lower, at_upper);
    if fa == 0.0 {
        return Ok(a);
    }
    if fb == 0.0 {
        return Ok(b);
    }
    if fa.signum() == fb.signum() {
        return Err(Error::new(ErrorKind::NoConvergence, "the function has the same sign at both ends of the bracket")
            .with_value(format!("{lower} to {upper}")));
    }
    // `b` is the best point so far, `c` the other side of the bracket, `a` the point before `b`.
    let (mut c, mut fc) = (a, fa);
    let mut step = b - a;
    let mut step_before = step;
    for _ in 0..LARGEST_ITERATION_COUNT {
        if fb.signum() == fc.signum() {
            (c, fc) = (a, fa);
            step = b - a;
            step_before = step;
        }
        if fc.abs() < fb.abs() {
            (a, fa) = (b, fb);
            (b, fb) = (c, fc);
            (c, fc) = (a, fa);
        }
        let resolution = 2.0 * f64::EPSILON * b.abs() + 0.5 * tolerance;
        let half_bracket = 0.5 * (c - b);
        if half_bracket.abs() <= resolution || fb == 0.0 {
            return Ok(b);
        }
        let mut bisect = true;
        if step_before.abs() >= resolution && fa.abs() > fb.abs() {
            let s = fb / fa;
            let (mut p, mut q) = if a == c {
                (2.0 * half_bracket * s, 1.0 - s)
            } else {
                let (q, r) = (fa / fc, fb / fc);
                (s * (2.0 * half_bracket * q * (q - r) - (b - a) * (r - 1.0)), (q - 1.0) * (r - 1.0) * (s - 1.0))
            };
            if p > 0.0 {
                q = -q;
            }
            p = p.abs();
            if 2.0 * p < (3.0 * half_bracket * q - (resolution * q).abs()).min((step_before * q).abs()) {
                step_before = step;
                step = p / q;
                bisect = false;
            }
        }
        if bisect {
            step = half_bracket;
            step_before = half_bracket;
        }
        (a, fa) = (b, fb);
        b += if step.abs() > resolution { step } else { resolution.copysign(half_bracket) };
        fb = told(&mut function, b)?;
    }
    Err(Error::new(ErrorKind::NoConvergence, "the root was not found within the iteration bound")
        .with_value(format!("{lower} to {upper}")))
}

/// The root between `lower` and `upper` of a function that falls through it, to `tolerance` (absolute) plus rounding, looked
/// for near a `guess`: a good one saves most of the evaluations, a bad one costs a few.
///
/// # Errors
/// As [`bracketed_root`].
pub(crate) fn root_of_falling(
    mut function: impl FnMut(f64) -> f64,
    guess: f64,
    [lower, upper]: [f64; 2],
    tolerance: f64,
) -> Result<f64, Error> {
    if !(guess > lower && guess < upper) {
        return bracketed_root(function, lower, upper, tolerance);
    }
    let mut near = (guess, told(&mut function, guess)?);
    let (limit, side) = if near.1 > 0.0 { (upper, 1.0) } else { (lower, -1.0) };
    let mut reach = (FIRST_REACH * guess.abs()).max(tolerance);
    loop {
        let x = if side * (limit - near.0) > reach { near.0 + side * reach } else { limit };
        let far = (x, told(&mut function, x)?);
        if x == limit || far.1 * near.1 <= 0.0 {
            return between(function, [near, far], tolerance);
        }
        near = far;
        reach *= REACH_GROWTH;
    }
}

/// How far from the guess the other side of the root is looked for, as a share of the guess, and how that grows.
const FIRST_REACH: f64 = 2e-3;
const REACH_GROWTH: f64 = 8.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_roots_known_in_closed_form() {
        // Exact: sqrt(2), ln 3 / 10, 0 of a cubic with a triple root, and a tiny root found in relative terms.
        let root = bracketed_root(|x| x * x - 2.0, 0.0, 2.0, 0.0).unwrap();
        assert!((root - 2.0_f64.sqrt()).abs() < 4e-16);
        let root = bracketed_root(|x| (10.0 * x).exp() - 3.0, -5.0, 5.0, 0.0).unwrap();
        assert!((root - 3.0_f64.ln() / 10.0).abs() < 1e-16);
        let root = bracketed_root(|x| (x - 0.25).powi(3), -1.0, 3.0, 1e-12).unwrap();
        assert!((root - 0.25).abs() < 1e-11);
        let root = bracketed_root(|x| x * x - 1e-20, 0.0, 3.0, 0.0).unwrap();
        assert!((root / 1e-10 - 1.0).abs() < 1e-14);
    }

    #[test]
    fn is_fast_on_smooth_functions() {
        let mut count = 0;
        let root = bracketed_root(
            |x| {
                count += 1;
                x.cos() - x
            },
            0.0,
            1.0,
            0.0,
        );
        // The fixed point of the cosine, 0.7390851332151607 (OEIS A003957; MEMORY).
        assert!((root.unwrap() - 0.739_085_133_215_160_7).abs() < 1e-15);
        assert!(count <= 12, "{count} evaluations");
    }

    #[test]
    fn a_good_guess_saves_evaluations_and_a_bad_one_does_no_harm() {
        let seek = |guess: f64, ends: [f64; 2]| {
            let mut count = 0;
            let root = root_of_falling(
                |x| {
                    count += 1;
                    x.cos() - x
                },
                guess,
                ends,
                1e-9,
            );
            (root.map(|x| (x - 0.739_085_133_215_160_7).abs()), count)
        };
        for guess in [0.7390, 0.7392, 0.739_085_133_215_160_7] {
            let (off, count) = seek(guess, [0.0, 1.0]);
            assert!(off.unwrap() < 1e-9 && count <= 5, "{count} evaluations");
        }
        for guess in [-3.0, 0.0, 1e-9, 0.4, 0.999, 1.0, 7.0, f64::NAN] {
            let (off, count) = seek(guess, [0.0, 1.0]);
            assert!(off.unwrap() < 1e-9 && count <= 25, "{guess}: {count} evaluations");
        }
        assert_eq!(seek(0.3, [0.0, 0.5]).0.unwrap_err().kind(), ErrorKind::NoConvergence);
    }

    #[test]
    fn refuses_what_has_no_root() {
        assert_eq!(bracketed_root(|x| x * x + 1.0, -1.0, 1.0, 0.0).unwrap_err().kind(), ErrorKind::NoConvergence);
        assert_eq!(bracketed_root(|x| (x - 2.0).ln(), 0.0, 4.0, 0.0).unwrap_err().kind(), ErrorKind::NoConvergence);
    }
}
