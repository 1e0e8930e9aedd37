//! Heat exchange by radiation between two grey, diffuse surfaces that see nothing else.
//!
//! Exact for that picture, so no range is told; each answer is a plain number. `exchange_factor_*` is the part of
//! `sigma (T1^4 - T2^4)` that crosses per area of the first surface; times [`coefficient`] it is the film coefficient of
//! radiation. Of a small body in a large room it is the body's own emissivity.
//!
//! Source: textbook theory of grey enclosures (M. F. Modest, Radiative Heat Transfer; Incropera, chapter 13): formulas
//! MEMORY, derived again from the balance of radiosities.

use super::constants::STEFAN_BOLTZMANN;
use super::input;
use crate::{Error, ErrorKind};

fn finite(number: f64) -> Result<f64, Error> {
    if number.is_finite() {
        return Ok(number);
    }
    Err(Error::new(ErrorKind::OutOfRange, "the inputs are so extreme that the radiation is not finite"))
}

/// Linearised black-body coefficient \[W/(m2 K)\]: `h = sigma (T1^2 + T2^2)(T1 + T2)`, so that
/// `h (T1 - T2) = sigma (T1^4 - T2^4)` exactly; equal temperatures give `4 sigma T^3`.
///
/// `first`, `second` temperatures \[K\].
///
/// # Errors
/// A temperature not finite or not above zero.
pub fn coefficient(first: f64, second: f64) -> Result<f64, Error> {
    let t1 = input::temperature("first temperature", first)?;
    let t2 = input::temperature("second temperature", second)?;
    finite(STEFAN_BOLTZMANN * (t1 * t1 + t2 * t2) * (t1 + t2))
}

/// Black-body coefficient at a mean temperature \[W/(m2 K)\]: `hr0 = 4 sigma Tm^3`.
///
/// `mean_temperature` Tm \[K\]. Also ISO 6946, annex C (formula MEMORY).
///
/// # Errors
/// A temperature not finite or not above zero.
///
/// # Examples
/// The standard's table prints 5.7 at 20 °C (MEMORY):
/// ```
/// assert!((stillhot::correlation::radiation::black_coefficient(293.15)? - 5.7).abs() < 0.05);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn black_coefficient(mean_temperature: f64) -> Result<f64, Error> {
    let t = input::temperature("mean temperature", mean_temperature)?;
    finite(4.0 * STEFAN_BOLTZMANN * t.powi(3))
}

/// Exchange factor of two large parallel plates \[1\]: `1/(1/e1 + 1/e2 - 1)`.
///
/// `first`, `second` emissivities \[1\], above 0 and up to 1.
///
/// # Errors
/// An emissivity out of that range.
pub fn exchange_factor_parallel_plates(first: f64, second: f64) -> Result<f64, Error> {
    exchange_factor_enclosed(1.0, first, second)
}

/// Exchange factor of a surface enclosed by another, per area of the inner one \[1\]:
/// `1/(1/e1 + (A1/A2)(1/e2 - 1))`.
///
/// `area_ratio` A1/A2, inner over outer \[1\]: r1/r2 of long concentric cylinders, (r1/r2)^2 of concentric spheres, 0 in
/// the limit of a small body in a large room, 1 of parallel plates. Emissivities of the `inner` and `outer` surface \[1\].
///
/// # Errors
/// A ratio outside 0 to 1, an emissivity not above 0 or above 1.
pub fn exchange_factor_enclosed(area_ratio: f64, inner: f64, outer: f64) -> Result<f64, Error> {
    let ratio = input::fraction("area ratio", area_ratio)?;
    let e1 = input::emissivity("first emissivity", inner)?;
    let e2 = input::emissivity("second emissivity", outer)?;
    // An emissivity too small to be inverted would leave zero times infinity here.
    finite(1.0 / (1.0 / e1 + ratio * (1.0 / e2 - 1.0)))
}

fn radii_checked(radii: [f64; 2]) -> Result<[f64; 2], Error> {
    let r1 = input::positive("inner radius", radii[0], "m")?;
    Ok([r1, input::above("outer radius", radii[1], "inner radius", r1, "m")?])
}

/// Exchange factor of two long concentric cylinders, per area of the inner one \[1\]: `1/(1/e1 + (r1/r2)(1/e2 - 1))`.
///
/// `radii` r1 below r2 \[m\]; `emissivities` e1, e2 \[1\]; each inner first.
///
/// # Errors
/// A radius not above zero, r2 not above r1, an emissivity not above 0 or above 1, anything not finite.
///
/// # Examples
/// Incropera, 6th ed., Example 13.5 prints 0.50 W/m inwards (READ in a public companion):
/// ```
/// use stillhot::correlation::radiation;
/// let factor = radiation::exchange_factor_concentric_cylinders([0.01, 0.025], [0.02, 0.05])?;
/// let q = std::f64::consts::TAU * 0.01 * factor * radiation::coefficient(77.0, 300.0)? * (77.0 - 300.0);
/// assert!((q + 0.50).abs() < 0.005);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn exchange_factor_concentric_cylinders(radii: [f64; 2], emissivities: [f64; 2]) -> Result<f64, Error> {
    let [r1, r2] = radii_checked(radii)?;
    exchange_factor_enclosed(r1 / r2, emissivities[0], emissivities[1])
}

/// Exchange factor of two concentric spheres, per area of the inner one \[1\]: `1/(1/e1 + (r1/r2)^2 (1/e2 - 1))`.
///
/// Inputs as [`exchange_factor_concentric_cylinders`].
///
/// # Errors
/// As [`exchange_factor_concentric_cylinders`].
///
/// # Examples
/// 0.1 m in 0.13 m, 365 K and 295 K, 0.8 and 0.1: 11.02693 W (COMPUTED twice):
/// ```
/// use stillhot::correlation::radiation;
/// let factor = radiation::exchange_factor_concentric_spheres([0.1, 0.13], [0.8, 0.1])?;
/// let area = 4.0 * std::f64::consts::PI * 0.1 * 0.1;
/// let q = area * factor * radiation::coefficient(365.0, 295.0)? * (365.0 - 295.0);
/// assert!((q - 11.0269250814).abs() < 1e-8);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn exchange_factor_concentric_spheres(radii: [f64; 2], emissivities: [f64; 2]) -> Result<f64, Error> {
    let [r1, r2] = radii_checked(radii)?;
    exchange_factor_enclosed((r1 / r2).powi(2), emissivities[0], emissivities[1])
}
