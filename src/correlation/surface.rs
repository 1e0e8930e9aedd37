//! Surface resistances and coefficients of building physics.
//!
//! Made for walls of buildings with a few kelvin between surface and air. For a small warm box the films of
//! [`free_convection`](super::free_convection) with [`radiation`](super::radiation) are the better choice.

use super::{Validity, Value, input};
use crate::Error;

/// Inside surface resistance, heat flow up \[m2 K/W\]; ISO 6946:2007, READ in a public code excerpt quoting it.
pub const INSIDE_RESISTANCE_UP_ISO_6946: f64 = 0.10;
/// Inside surface resistance, level heat flow \[m2 K/W\]; ISO 6946:2007, READ as above.
pub const INSIDE_RESISTANCE_HORIZONTAL_ISO_6946: f64 = 0.13;
/// Inside surface resistance, heat flow down \[m2 K/W\]; ISO 6946:2007, READ as above.
pub const INSIDE_RESISTANCE_DOWN_ISO_6946: f64 = 0.17;
/// Outside surface resistance \[m2 K/W\], for wind of 4 m/s; ISO 6946:2007, READ as above.
pub const OUTSIDE_RESISTANCE_ISO_6946: f64 = 0.04;

/// Inside convective coefficient, heat flow up \[W/(m2 K)\]; ISO 6946:2017, annex C, MEMORY.
pub const INSIDE_CONVECTION_UP_ISO_6946: f64 = 5.0;
/// Inside convective coefficient, level heat flow \[W/(m2 K)\]; ISO 6946:2017, annex C, MEMORY.
pub const INSIDE_CONVECTION_HORIZONTAL_ISO_6946: f64 = 2.5;
/// Inside convective coefficient, heat flow down \[W/(m2 K)\]; ISO 6946:2017, annex C, MEMORY.
pub const INSIDE_CONVECTION_DOWN_ISO_6946: f64 = 0.7;

/// Outside convective coefficient in wind \[W/(m2 K)\]: `hc = 4 + 4 v`.
///
/// `wind_speed` v near the surface \[m/s\], range 1 to 10 m/s. On a small box it lies 25 to 75 % above the relations of
/// [`forced_convection`](super::forced_convection) (COMPUTED).
///
/// Source: ISO 6946:2017, annex C; MEMORY.
///
/// # Errors
/// A speed not finite or below zero.
///
/// # Examples
/// With radiation at 10 °C and emissivity 0.9 the resistance at 4 m/s rounds to the standard's 0.04 (MEMORY):
/// ```
/// use stillhot::correlation::{radiation, surface};
/// let hc = surface::outside_convection_iso_6946(4.0)?;
/// let r = 1.0 / (hc.value + 0.9 * radiation::black_coefficient(283.15)?);
/// assert!((r - surface::OUTSIDE_RESISTANCE_ISO_6946).abs() < 0.005);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn outside_convection_iso_6946(wind_speed: f64) -> Result<Value, Error> {
    let v = input::non_negative("wind speed", wind_speed, "m/s")?;
    Value::new(4.0 + 4.0 * v, Validity::Inside.check("wind speed", v, "m/s", 1.0..=10.0))
}
