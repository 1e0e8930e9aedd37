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

/// Where a root is, or was the last time, and the slope of the function there; NaN what is not known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Near {
    pub(crate) root: f64,
    pub(crate) slope: f64,
}

impl Near {
    pub(crate) const UNKNOWN: Near = Near { root: f64::NAN, slope: f64::NAN };
}

/// The root between `lower` and `upper` of a function that falls through it, to `tolerance` (absolute) plus rounding, with
/// the slope there. It is looked for by secants from a guess: one that is near, with its slope, takes two or three
/// evaluations; a bad one costs a few.
///
/// Secants have converged when what the last one still moves is within the tolerance with a slope that was measured on the
/// way: where they differ by much, as beside a kink, it must move so much the less. Where they leave the bracket or do not
/// converge, Brent's method takes over.
///
/// # Errors
/// As [`bracketed_root`].
pub(crate) fn root_of_falling(
    mut function: impl FnMut(f64) -> f64,
    guess: Near,
    [lower, upper]: [f64; 2],
    tolerance: f64,
) -> Result<Near, Error> {
    // The ends of the bracket, with values where the function was asked.
    let (mut below, mut above) = ((lower, None), (upper, None));
    if guess.root > lower && guess.root < upper {
        let (mut x, mut slope, mut doubt) = (guess.root, guess.slope, f64::INFINITY);
        let mut y = told(&mut function, x)?;
        for _ in 0..MOST_SECANTS {
            if y > 0.0 {
                below = (x, Some(y));
            } else {
                above = (x, Some(y));
            }
            let known = slope < 0.0 && slope.is_finite();
            let step = if known { -y / slope } else { (FIRST_REACH * x.abs()).max(tolerance).copysign(y) };
            let next = x + step;
            if known && step.abs() * doubt <= 0.5 * tolerance && (below.0..=above.0).contains(&next) {
                return Ok(Near { root: next, slope });
            }
            if !(next > below.0 && next < above.0 && next != x) {
                break;
            }
            let then = told(&mut function, next)?;
            let secant = (then - y) / (next - x);
            doubt = (secant / slope).abs().max((slope / secant).abs()) - 1.0;
            doubt = if known { doubt.max(LEAST_DOUBT) } else { f64::INFINITY };
            (x, y, slope) = (next, then, secant);
        }
    }
    let mut end = |(x, y): (f64, Option<f64>)| y.map_or_else(|| told(&mut function, x), Ok).map(|y| (x, y));
    let ends = [end(below)?, end(above)?];
    let [(a, at_a), (b, at_b)] = ends;
    let root = between(function, ends, tolerance)?;
    Ok(Near { root, slope: (at_b - at_a) / (b - a) })
}

/// However well two slopes agree, so much of a step is not believed: a kink may lie in it.
const LEAST_DOUBT: f64 = 0.1;
/// How far from a guess without slope the function is asked again, as a share of the guess.
const FIRST_REACH: f64 = 2e-3;
/// So many secants converge or never will.
const MOST_SECANTS: usize = 8;

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
        let seek = |guess: f64, slope: f64, ends: [f64; 2]| {
            let mut count = 0;
            let root = root_of_falling(
                |x| {
                    count += 1;
                    x.cos() - x
                },
                Near { root: guess, slope },
                ends,
                1e-9,
            );
            (root.map(|near| (near.root - 0.739_085_133_215_160_7).abs()), count)
        };
        // The slope there is -1.673612; one that is off by a hundredth, or of a little elsewhere, serves too.
        for (guess, slope, most) in [
            (0.7390, f64::NAN, 5),
            (0.7392, f64::NAN, 5),
            (0.7390, -1.673_612, 3),
            (0.7392, -1.69, 3),
            (0.739_085_133_215_160_7, -1.6, 2),
        ] {
            let (off, count) = seek(guess, slope, [0.0, 1.0]);
            assert!(off.unwrap() < 1e-9 && count <= most, "{guess}, {slope}: {count} evaluations");
        }
        for guess in [-3.0, 0.0, 1e-9, 0.4, 0.999, 1.0, 7.0, f64::NAN] {
            for slope in [f64::NAN, 0.0, 1.0, -1e-9, -1e9, f64::NEG_INFINITY] {
                let (off, count) = seek(guess, slope, [0.0, 1.0]);
                assert!(off.unwrap() < 1e-9 && count <= 25, "{guess}, {slope}: {count} evaluations");
            }
        }
        assert_eq!(seek(0.3, -1.0, [0.0, 0.5]).0.unwrap_err().kind(), ErrorKind::NoConvergence);
    }

    /// A kink beside the root, as where one limit of a flow takes over from another: the slope of the guess is that of the
    /// wrong side.
    #[test]
    fn a_kink_beside_the_root_is_found_across() {
        let kinked = |x: f64| if x < 0.5 { 100.0 * (0.5 - x) + 1e-3 } else { 1e-3 - (x - 0.5) };
        for guess in [0.2, 0.499, 0.5, 0.6, 0.9] {
            for slope in [-100.0, -1.0, f64::NAN] {
                let near = root_of_falling(kinked, Near { root: guess, slope }, [0.0, 1.0], 1e-9).unwrap();
                assert!((near.root - 0.501).abs() < 1e-9, "{guess}, {slope}: {near:?}");
            }
        }
    }

    #[test]
    fn refuses_what_has_no_root() {
        assert_eq!(bracketed_root(|x| x * x + 1.0, -1.0, 1.0, 0.0).unwrap_err().kind(), ErrorKind::NoConvergence);
        assert_eq!(bracketed_root(|x| (x - 2.0).ln(), 0.0, 4.0, 0.0).unwrap_err().kind(), ErrorKind::NoConvergence);
    }
}
