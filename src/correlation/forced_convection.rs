//! Forced convection by moving air: Nusselt numbers, and the blend with free convection.
//!
//! Properties at the mean of surface and air temperature. `reynolds` Re and the answer share one length.

use super::{Validity, Value, input};
use crate::Error;

/// Textbooks write 0.7 and mean air with it; warm air lies a little below.
const LEAST_PRANDTL: f64 = 0.68;

fn re_pr(reynolds: f64, prandtl: f64) -> Result<(f64, f64), Error> {
    Ok((input::non_negative("Reynolds number", reynolds, "1")?, input::positive("Prandtl number", prandtl, "1")?))
}

/// Cylinder across the flow \[1\]; length: the diameter.
///
/// ```text
/// Nu = 0.3 + 0.62 Re^(1/2) Pr^(1/3)/(1 + (0.4/Pr)^(2/3))^(1/4) (1 + (Re/282000)^(5/8))^(4/5)
/// ```
/// `reynolds` Re \[1\], range up to 1e7; `prandtl` Pr \[1\], with Re Pr above 0.2. On the low side for Re 2e4 to 4e5.
///
/// Source: S. W. Churchill, M. Bernstein, A correlating equation for forced convection from gases and liquids to a
/// circular cylinder in crossflow, J. Heat Transfer 99 (1977) 300, <https://doi.org/10.1115/1.3450685>; READ in an open
/// heat-transfer library, upper end of the range MEMORY.
///
/// # Errors
/// An input not finite, Re below zero, Pr not above zero.
///
/// # Examples
/// That library prints 40.63708594124974 for Re 6071 and Pr 0.7, the state of Incropera's Example 7.3 (READ):
/// ```
/// let nu = stillhot::correlation::forced_convection::cylinder_churchill_bernstein(6071.0, 0.7)?;
/// assert!((nu.value - 40.63708594124974).abs() < 1e-10);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn cylinder_churchill_bernstein(reynolds: f64, prandtl: f64) -> Result<Value, Error> {
    let (re, pr) = re_pr(reynolds, prandtl)?;
    let damping = (1.0 + (0.4 / pr).powf(2.0 / 3.0)).powf(0.25);
    let turbulence = (1.0 + (re / 282_000.0).powf(0.625)).powf(0.8);
    let nu = 0.3 + 0.62 * re.sqrt() * pr.cbrt() / damping * turbulence;
    let validity = Validity::Inside.check("Reynolds number", re, "1", 0.0..=1e7).check(
        "Reynolds times Prandtl number",
        re * pr,
        "1",
        0.2..=f64::INFINITY,
    );
    Value::new(nu, validity)
}

/// Cylinder across the flow, by powers \[1\]; length: the diameter.
///
/// ```text
/// Nu = C Re^m Pr^(1/3)
/// Re          0.4-4    4-40     40-4000   4000-4e4   4e4-4e5
/// C           0.989    0.911    0.683     0.193      0.027
/// m           0.330    0.385    0.466     0.618      0.805
/// ```
/// `reynolds` Re \[1\], range 0.4 to 4e5, beyond it the nearest power is carried on; `prandtl` Pr \[1\], range from
/// 0.68 (the factor Pr^(1/3) was added later to Hilpert's air). The powers differ by up to 3 % where they meet.
///
/// Source: R. Hilpert, Forschung im Ingenieurwesen 4 (1933) 215, table of Incropera, 6th ed., table 7.2; MEMORY.
///
/// # Errors
/// An input not finite, Re below zero, Pr not above zero.
///
/// # Examples
/// Re 6071 and Pr 0.7: 37.3 (COMPUTED by someone else from a copy READ in open course material):
/// ```
/// let nu = stillhot::correlation::forced_convection::cylinder_hilpert(6071.0, 0.7)?;
/// assert!((nu.value - 37.3).abs() < 0.05);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn cylinder_hilpert(reynolds: f64, prandtl: f64) -> Result<Value, Error> {
    let (re, pr) = re_pr(reynolds, prandtl)?;
    let (factor, exponent) = match re {
        re if re <= 4.0 => (0.989, 0.330),
        re if re <= 40.0 => (0.911, 0.385),
        re if re <= 4e3 => (0.683, 0.466),
        re if re <= 4e4 => (0.193, 0.618),
        _ => (0.027, 0.805),
    };
    let validity = Validity::Inside.check("Reynolds number", re, "1", 0.4..=4e5).check(
        "Prandtl number",
        pr,
        "1",
        LEAST_PRANDTL..=f64::INFINITY,
    );
    Value::new(factor * re.powf(exponent) * pr.cbrt(), validity)
}

/// Plate along the flow, laminar, mean over its length \[1\].
///
/// ```text
/// Nu = 0.664 Re^(1/2) Pr^(1/3)
/// ```
/// `reynolds` Re \[1\], range up to 5e5; `prandtl` Pr \[1\], range from 0.6.
///
/// Source: E. Pohlhausen, Z. angew. Math. Mech. 1 (1921) 115, textbook form; READ in an open course program, range MEMORY.
///
/// # Errors
/// An input not finite, Re below zero, Pr not above zero.
///
/// # Examples
/// Re 8e4 and Pr 0.7: 166.755085 (COMPUTED independently):
/// ```
/// let nu = stillhot::correlation::forced_convection::plate_laminar_pohlhausen(8e4, 0.7)?;
/// assert!((nu.value - 166.755085).abs() < 1e-6);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn plate_laminar_pohlhausen(reynolds: f64, prandtl: f64) -> Result<Value, Error> {
    let (re, pr) = re_pr(reynolds, prandtl)?;
    let validity = Validity::Inside.check("Reynolds number", re, "1", 0.0..=5e5).check(
        "Prandtl number",
        pr,
        "1",
        0.6..=f64::INFINITY,
    );
    Value::new(0.664 * re.sqrt() * pr.cbrt(), validity)
}

/// Reynolds number at which the boundary layer of a plate turns turbulent, textbook value (READ as there).
pub const PLATE_TRANSITION: f64 = 5e5;

/// Plate along the flow whose boundary layer turns turbulent at Re 5e5, mean over its length \[1\].
///
/// ```text
/// Nu = (0.037 Re^(4/5) - 871) Pr^(1/3)
/// ```
/// `reynolds` Re \[1\], range 5e5 to 1e8; `prandtl` Pr \[1\], range 0.6 to 60. Under Re 2.9e5 it would be below zero and
/// is refused.
///
/// Source: textbook form of the mixed boundary layer; READ in an open course program, range MEMORY.
///
/// # Errors
/// An input not finite, Pr not above zero, Re so low that the relation would be negative.
///
/// # Examples
/// Re 1e6 and Pr 0.7: 1299.484954 (COMPUTED independently):
/// ```
/// let nu = stillhot::correlation::forced_convection::plate_mixed(1e6, 0.7)?;
/// assert!((nu.value - 1299.484954).abs() < 1e-6);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn plate_mixed(reynolds: f64, prandtl: f64) -> Result<Value, Error> {
    let (re, pr) = re_pr(reynolds, prandtl)?;
    let zero_at = (871.0 / 0.037_f64).powf(1.25);
    input::above("Reynolds number", re, "zero of the relation", zero_at, "1")?;
    let validity =
        Validity::Inside.check("Reynolds number", re, "1", 5e5..=1e8).check("Prandtl number", pr, "1", 0.6..=60.0);
    Value::new((0.037 * re.powf(0.8) - 871.0) * pr.cbrt(), validity)
}

/// Forced and free convection together: `h = (h_forced^3 + h_free^3)^(1/3)`, of coefficients \[W/(m2 K)\] or of Nusselt
/// numbers on one length.
///
/// Both at least zero. For flows that help or cross one another.
///
/// Source: S. W. Churchill, A comprehensive correlating equation for laminar, assisting, forced and free convection,
/// AIChE J. 23 (1977) 10, <https://doi.org/10.1002/aic.690230103>; MEMORY.
///
/// # Errors
/// An input not finite or below zero.
///
/// # Examples
/// ```
/// let h = stillhot::correlation::forced_convection::blend_churchill_1977(3.0, 4.0)?;
/// assert!((h.value - 91_f64.cbrt()).abs() < 1e-12);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn blend_churchill_1977(forced: f64, free: f64) -> Result<Value, Error> {
    let forced = input::non_negative("forced convection", forced, "W/(m2 K)")?;
    let free = input::non_negative("free convection", free, "W/(m2 K)")?;
    let larger = forced.max(free);
    if larger == 0.0 {
        return Value::new(0.0, Validity::Inside);
    }
    // Scaled by the larger one, so that no cube overflows.
    let smaller = forced.min(free) / larger;
    Value::new(larger * (1.0 + smaller.powi(3)).cbrt(), Validity::Inside)
}
