//! Heat exchange by radiation between two grey, diffuse surfaces that see nothing else.
//!
//! Exact for that picture, so no range is told; each answer is a plain number. The signed heat flows from the first
//! surface to the second. `exchange_factor_*` is the part of `sigma (T1^4 - T2^4)` that crosses per area of the first
//! surface; the linearised coefficient is that factor times [`coefficient`].
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

fn emissive_difference(t1: f64, t2: f64) -> Result<f64, Error> {
    finite(coefficient(t1, t2)? * (t1 - t2))
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

/// Heat flow density between two large parallel plates \[W/m2\].
///
/// ```text
/// q = sigma (T1^4 - T2^4)/(1/e1 + 1/e2 - 1)
/// ```
/// `temperatures` T1, T2 \[K\]; `emissivities` e1, e2 \[1\].
///
/// # Errors
/// A temperature not above zero, an emissivity not above 0 or above 1, anything not finite.
///
/// # Examples
/// 360 K at 0.9 against 300 K at 0.05: 24.519 W/m2 (COMPUTED twice):
/// ```
/// let q = stillhot::correlation::radiation::parallel_plates([360.0, 300.0], [0.9, 0.05])?;
/// assert!((q - 24.5190247993).abs() < 1e-8);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn parallel_plates(temperatures: [f64; 2], emissivities: [f64; 2]) -> Result<f64, Error> {
    let factor = exchange_factor_parallel_plates(emissivities[0], emissivities[1])?;
    Ok(factor * emissive_difference(temperatures[0], temperatures[1])?)
}

fn radii_checked(radii: [f64; 2]) -> Result<[f64; 2], Error> {
    let r1 = input::positive("inner radius", radii[0], "m")?;
    Ok([r1, input::above("outer radius", radii[1], "inner radius", r1, "m")?])
}

/// Heat flow between two long concentric cylinders, per metre, inner to outer \[W/m\].
///
/// ```text
/// Q' = 2 pi r1 sigma (T1^4 - T2^4)/(1/e1 + (r1/r2)(1/e2 - 1))
/// ```
/// `radii` r1 below r2 \[m\]; `temperatures` T1, T2 \[K\]; `emissivities` e1, e2 \[1\]; each inner first.
///
/// # Errors
/// A radius or temperature not above zero, r2 not above r1, an emissivity not above 0 or above 1, anything not finite.
///
/// # Examples
/// Incropera, 6th ed., Example 13.5 prints 0.50 W/m inwards (READ in a public companion):
/// ```
/// let q = stillhot::correlation::radiation::concentric_cylinders([0.01, 0.025], [77.0, 300.0], [0.02, 0.05])?;
/// assert!((q + 0.50).abs() < 0.005);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn concentric_cylinders(radii: [f64; 2], temperatures: [f64; 2], emissivities: [f64; 2]) -> Result<f64, Error> {
    let [r1, r2] = radii_checked(radii)?;
    let factor = exchange_factor_enclosed(r1 / r2, emissivities[0], emissivities[1])?;
    let emissive = emissive_difference(temperatures[0], temperatures[1])?;
    finite(2.0 * std::f64::consts::PI * r1 * factor * emissive)
}

/// Heat flow between two concentric spheres, inner to outer \[W\].
///
/// ```text
/// Q = 4 pi r1^2 sigma (T1^4 - T2^4)/(1/e1 + (r1/r2)^2 (1/e2 - 1))
/// ```
/// Inputs as [`concentric_cylinders`].
///
/// # Errors
/// As [`concentric_cylinders`].
///
/// # Examples
/// 0.1 m in 0.13 m, 365 K and 295 K, 0.8 and 0.1: 11.02693 W (COMPUTED twice):
/// ```
/// let q = stillhot::correlation::radiation::concentric_spheres([0.1, 0.13], [365.0, 295.0], [0.8, 0.1])?;
/// assert!((q - 11.0269250814).abs() < 1e-8);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn concentric_spheres(radii: [f64; 2], temperatures: [f64; 2], emissivities: [f64; 2]) -> Result<f64, Error> {
    let [r1, r2] = radii_checked(radii)?;
    let factor = exchange_factor_enclosed((r1 / r2).powi(2), emissivities[0], emissivities[1])?;
    let emissive = emissive_difference(temperatures[0], temperatures[1])?;
    finite(4.0 * std::f64::consts::PI * r1 * r1 * factor * emissive)
}

/// Heat flow density of a small body in large surroundings \[W/m2\]: `q = e sigma (T1^4 - T2^4)`.
///
/// `temperatures` of the body and its surroundings \[K\]; `emissivity` e of the body \[1\].
///
/// # Errors
/// A temperature not above zero, an emissivity not above 0 or above 1, anything not finite.
///
/// # Examples
/// A black body at 0 °C against surroundings near absolute zero emits 315.7 W/m2 (COMPUTED from sigma):
/// ```
/// let q = stillhot::correlation::radiation::small_body([273.15, 1e-3], 1.0)?;
/// assert!((q - 315.66).abs() < 0.01);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn small_body(temperatures: [f64; 2], emissivity: f64) -> Result<f64, Error> {
    let factor = exchange_factor_enclosed(0.0, emissivity, 1.0)?;
    Ok(factor * emissive_difference(temperatures[0], temperatures[1])?)
}
