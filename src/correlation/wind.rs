//! Wind as a pressure that drives air through a leak.

use super::{Validity, Value, input};
use crate::Error;

/// Pressure coefficient \[1\] of the side the wind meets; M. V. Swami, S. Chandra, Procedures for calculating natural
/// ventilation airflow rates in buildings, 1987, READ in a government data file. On whole buildings: a small box near the
/// ground is more sheltered.
pub const FRONT_SWAMI_CHANDRA: f64 = 0.603;
/// Pressure coefficient \[1\] of the sides along the wind; source as [`FRONT_SWAMI_CHANDRA`].
pub const SIDE_SWAMI_CHANDRA: f64 = -0.443;
/// Pressure coefficient \[1\] of the lee side; source as [`FRONT_SWAMI_CHANDRA`].
pub const BACK_SWAMI_CHANDRA: f64 = -0.364;
/// Pressure coefficient \[1\] of a flat top; source as [`FRONT_SWAMI_CHANDRA`].
pub const FLAT_TOP_SWAMI_CHANDRA: f64 = -0.6;

/// Pressure between two openings in wind \[Pa\]: `dp = rho v^2 (C1 - C2)/2`.
///
/// `density` rho of the air \[kg/m3\]; `speed` v of the wind at the box \[m/s\]; pressure coefficients `first` C1 and
/// `second` C2 \[1\]. Above zero: air is pushed in at the first. Range of the coefficients -3 to 1 (a stagnation point
/// has 1). Bernoulli's equation.
///
/// # Errors
/// An input not finite, a density not above zero, a speed below zero.
///
/// # Examples
/// 3 m/s from front to back: 5.310 Pa (COMPUTED independently):
/// ```
/// use stillhot::correlation::wind;
/// let dp = wind::pressure_difference(1.2203, 3.0, wind::FRONT_SWAMI_CHANDRA, wind::BACK_SWAMI_CHANDRA)?;
/// assert!((dp.value - 5.31013545).abs() < 1e-8);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn pressure_difference(density: f64, speed: f64, first: f64, second: f64) -> Result<Value, Error> {
    let rho = input::positive("density", density, "kg/m3")?;
    let v = input::non_negative("wind speed", speed, "m/s")?;
    let c1 = input::finite("first pressure coefficient", first, "1")?;
    let c2 = input::finite("second pressure coefficient", second, "1")?;
    let validity = Validity::Inside.check("first pressure coefficient", c1, "1", -3.0..=1.0).check(
        "second pressure coefficient",
        c2,
        "1",
        -3.0..=1.0,
    );
    Value::new(0.5 * rho * v * v * (c1 - c2), validity)
}
