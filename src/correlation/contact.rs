//! The joint between two faces that touch in places: a thin layer of still air, crossed by radiation.

use super::{Value, air, input, radiation};
use crate::Error;

/// Resistance of a thin air gap \[m2 K/W\]: `R = 1/(k/d + hr)`.
///
/// Mean `width` d of the gap \[m\], range 1e-5 to 1e-2 (thinner, the mean free path of air counts; wider, it
/// convects); `mean_temperature` \[K\]; `emissivities` of the two faces \[1\]. k by
/// [`air::conductivity_us_standard_1976`], hr of two plates at the mean temperature. Points of true contact are left
/// out, which errs to the cool side with foams under 5 kPa (ESTIMATE). How wide the gap of a real joint is, nobody
/// measured: 0.05 to 0.5 mm (ESTIMATE).
///
/// Source: conduction and radiation side by side, COMPUTED.
///
/// # Errors
/// An input not finite or not above zero, an emissivity above 1.
///
/// # Examples
/// 0.1 mm between plain faces at 40 °C: 0.0036 m2 K/W (COMPUTED with the conductivity of a real-gas library):
/// ```
/// let r = stillhot::correlation::contact::thin_air_gap(1e-4, 313.15, [0.9, 0.9])?;
/// assert!((r.value - 0.0036).abs() < 5e-5);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn thin_air_gap(width: f64, mean_temperature: f64, emissivities: [f64; 2]) -> Result<Value, Error> {
    let d = input::positive("gap width", width, "m")?;
    let k = air::conductivity_us_standard_1976(mean_temperature)?;
    let factor = radiation::exchange_factor_parallel_plates(emissivities[0], emissivities[1])?;
    let hr = factor * radiation::black_coefficient(mean_temperature)?;
    let validity = k.validity.check("gap width", d, "m", 1e-5..=1e-2);
    Value::new(1.0 / (k.value / d + hr), validity)
}
