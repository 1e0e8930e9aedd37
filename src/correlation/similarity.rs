//! Dimensionless groups, so that no caller writes them by hand.

use super::input;
use crate::{Error, ErrorKind};

fn bounded(what: &str, number: f64) -> Result<f64, Error> {
    if number.is_finite() {
        return Ok(number);
    }
    Err(Error::new(ErrorKind::OutOfRange, "the inputs are so extreme that it is not finite").within(what))
}

/// Grashof number `Gr = g beta dT L^3 / nu^2` \[1\].
///
/// `gravity` g \[m/s2\], `expansion` beta \[1/K\], temperature `difference` dT \[K\] (its size, not below zero),
/// `length` L \[m\], `kinematic_viscosity` nu \[m2/s\]. Textbook definition.
///
/// # Errors
/// A number not finite, a difference below zero, any other input not above zero.
pub fn grashof(
    gravity: f64,
    expansion: f64,
    difference: f64,
    length: f64,
    kinematic_viscosity: f64,
) -> Result<f64, Error> {
    let nu = input::positive("kinematic viscosity", kinematic_viscosity, "m2/s")?;
    rayleigh(gravity, expansion, difference, length, nu, nu)
}

/// Rayleigh number `Ra = g beta dT L^3 / (nu alpha)` \[1\].
///
/// As [`grashof`], with the thermal `diffusivity` alpha \[m2/s\]. Textbook definition.
///
/// # Errors
/// A number not finite, a difference below zero, any other input not above zero.
///
/// # Examples
/// Incropera, Fundamentals of Heat and Mass Transfer, 6th ed., Example 9.2 prints 1.813e9 (READ in a public companion):
/// ```
/// let ra = stillhot::correlation::similarity::rayleigh(9.81, 0.0025, 209.0, 0.71, 26.4e-6, 38.3e-6)?;
/// assert!((ra - 1.813e9).abs() < 0.005e9);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn rayleigh(
    gravity: f64,
    expansion: f64,
    difference: f64,
    length: f64,
    kinematic_viscosity: f64,
    diffusivity: f64,
) -> Result<f64, Error> {
    let g = input::positive("gravity", gravity, "m/s2")?;
    let beta = input::positive("thermal expansion", expansion, "1/K")?;
    let dt = input::non_negative("temperature difference", difference, "K")?;
    let l = input::positive("length", length, "m")?;
    let nu = input::positive("kinematic viscosity", kinematic_viscosity, "m2/s")?;
    let alpha = input::positive("thermal diffusivity", diffusivity, "m2/s")?;
    bounded("Rayleigh number", g * beta * dt * l.powi(3) / (nu * alpha))
}

/// Reynolds number `Re = v L / nu` \[1\].
///
/// `velocity` v \[m/s\] (its size), `length` L \[m\], `kinematic_viscosity` nu \[m2/s\]. Textbook definition.
///
/// # Errors
/// A number not finite, a velocity below zero, a length or viscosity not above zero.
pub fn reynolds(velocity: f64, length: f64, kinematic_viscosity: f64) -> Result<f64, Error> {
    let v = input::non_negative("velocity", velocity, "m/s")?;
    let l = input::positive("length", length, "m")?;
    let nu = input::positive("kinematic viscosity", kinematic_viscosity, "m2/s")?;
    bounded("Reynolds number", v * l / nu)
}

/// Film coefficient `h = Nu k / L` \[W/(m2 K)\].
///
/// `nusselt` Nu \[1\], `conductivity` k of the fluid \[W/(m K)\], `length` L \[m\]. Textbook definition.
///
/// # Errors
/// A number not finite, a Nusselt number below zero, a conductivity or length not above zero.
pub fn film_coefficient(nusselt: f64, conductivity: f64, length: f64) -> Result<f64, Error> {
    let nu = input::non_negative("Nusselt number", nusselt, "1")?;
    let k = input::positive("conductivity", conductivity, "W/(m K)")?;
    let l = input::positive("length", length, "m")?;
    bounded("film coefficient", nu * k / l)
}
