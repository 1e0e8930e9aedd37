//! Openings that are no slits: holes, leaks known by measurement, and large openings that gas passes both ways at once.

use super::super::constants::STANDARD_GRAVITY;
use super::super::{Validity, Value, input};
use super::exchange::Exchanging;
use crate::Error;

/// Smallest opening that inertia rules: below some 10 mm friction does, and the inertial formulas overstate.
const SMALLEST_LARGE_OPENING: f64 = 0.01;

fn discharge(coefficient: f64) -> Result<f64, Error> {
    input::fraction("discharge coefficient", input::positive("discharge coefficient", coefficient, "1")?)
}

/// An upright rectangular opening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opening {
    /// Width W \[m\].
    pub width: f64,
    /// Height H \[m\].
    pub height: f64,
    /// Discharge coefficient Cd \[1\]; near 0.6, READ (G. R. Hunt and J. M. Holford, 21st AIVC conference 2000, abstract),
    /// and lower under strong buoyancy.
    pub coefficient: f64,
}

/// Flow each way through a large upright opening between two still spaces \[m3/s\].
///
/// ```text
/// Q = (Cd/3) W H^(3/2) (g |drho|/rho)^(1/2)
/// ```
/// An open door at the side, a lid taken half off. `opening`, height from 10 mm; `gas`, whose Grashof number on the
/// height is to be 1e6 to 1e8. Never for slits: on a rim of 0.2 to 5 mm it gives 7 to 50 times too much.
///
/// Source: W. G. Brown and K. R. Solvason, Natural convection through rectangular openings in partitions, Int. J. Heat
/// Mass Transfer 5 (1962), MEMORY.
///
/// # Errors
/// An input not finite or not above zero, a coefficient above 1.
///
/// # Examples
/// ```
/// use stillhot::correlation::leak::{self, Exchanging, Opening};
/// let gas = Exchanging { density: 1.1, density_difference: 0.25, viscosity: 1.9e-5, diffusivity: 3e-5 };
/// let opening = Opening { width: 0.1, height: 0.05, coefficient: 0.6 };
/// let q = leak::vertical_opening_brown_solvason(&opening, &gas)?;
/// // COMPUTED independently
/// assert!((q.value - 0.0003338251107).abs() < 3e-10);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn vertical_opening_brown_solvason(opening: &Opening, gas: &Exchanging) -> Result<Value, Error> {
    gas.checked()?;
    let cd = discharge(opening.coefficient)?;
    let w = input::positive("width", opening.width, "m")?;
    let h = input::positive("height", opening.height, "m")?;
    let buoyancy = STANDARD_GRAVITY * gas.density_difference.abs() / gas.density;
    let grashof = Value::new(buoyancy * h * h * h * (gas.density / gas.viscosity).powi(2), Validity::Inside)?.value;
    let validity = Validity::Inside.check("height", h, "m", SMALLEST_LARGE_OPENING..=f64::INFINITY).check(
        "Grashof number",
        grashof,
        "1",
        1e6..=1e8,
    );
    Value::new(cd / 3.0 * w * h * h.sqrt() * buoyancy.sqrt(), validity)
}

/// Froude number of the exchange through a round hole in a level plate, heavy above light \[1\].
///
/// ```text
/// Fr = 0.055 (1 + 400 x^3)^(1/6)/(1 + 0.00527 (1 + 400 x^3)^(1/2) (x^6 + 117 x^2)^(3/4))^(1/3),   x = L/D
/// ```
/// `slenderness` x, thickness of the plate over diameter \[1\], range 0.01 to 10. Made with brine over water, whose
/// viscosity did not matter.
///
/// Source: M. Epstein, Buoyancy-driven exchange flow through small openings in horizontal partitions, J. Heat Transfer
/// 110 (1988) 885, READ (abstract: range, four regimes, a maximum); the fit, M. Epstein and M. A. Kenton 1989, MEMORY, so
/// no better than its arithmetic.
///
/// # Errors
/// A slenderness not finite or below zero.
///
/// # Examples
/// ```
/// let fr = stillhot::correlation::leak::horizontal_opening_froude_epstein(1.0)?;
/// // COMPUTED independently (arithmetic)
/// assert!((fr.value - 0.08867397472).abs() < 1e-9);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn horizontal_opening_froude_epstein(slenderness: f64) -> Result<Value, Error> {
    let x = input::non_negative("length over diameter", slenderness, "1")?;
    let validity = Validity::Inside.check("length over diameter", x, "1", 0.01..=10.0);
    let long = 1.0 + 400.0 * x.powi(3);
    let damped = 1.0 + 0.00527 * long.sqrt() * (x.powi(6) + 117.0 * x * x).powf(0.75);
    Value::new(0.055 * long.powf(1.0 / 6.0) / damped.cbrt(), validity)
}

/// Flow each way through a round hole in a level plate, the heavier gas above \[m3/s\]:
/// `Q = Fr (D^5 g drho/rho)^(1/2)`.
///
/// `diameter` D \[m\], from 10 mm (in air a smaller hole is viscous); `thickness` L of the plate \[m\]; `gas`, with the
/// lighter inside. Where the inside is not lighter the layers lie still and the flow is 0. Fr, range and source of
/// [`horizontal_opening_froude_epstein`].
///
/// # Errors
/// An input not finite or not above zero (the thickness: below zero).
///
/// # Examples
/// ```
/// use stillhot::correlation::leak::{self, Exchanging};
/// let gas = Exchanging { density: 1.1, density_difference: 0.25, viscosity: 1.9e-5, diffusivity: 3e-5 };
/// let q = leak::horizontal_opening_epstein(0.05, 0.05, &gas)?.value;
/// // 0.08867397472 (0.05^5 9.80665 0.25/1.1)^(1/2) (COMPUTED independently)
/// assert!((q - 7.4005e-5).abs() < 1e-8);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn horizontal_opening_epstein(diameter: f64, thickness: f64, gas: &Exchanging) -> Result<Value, Error> {
    gas.checked()?;
    let d = input::positive("diameter", diameter, "m")?;
    let l = input::non_negative("thickness", thickness, "m")?;
    let froude = horizontal_opening_froude_epstein(l / d)?;
    let validity = froude.validity.check("diameter", d, "m", SMALLEST_LARGE_OPENING..=f64::INFINITY);
    let buoyancy = STANDARD_GRAVITY * gas.density_difference.max(0.0) / gas.density;
    Value::new(froude.value * d * d * (d * buoyancy).sqrt(), validity)
}

/// Flow through a sharp-edged hole \[m3/s\]: `Q = Cd A (2 dp/rho)^(1/2)`.
///
/// `coefficient` Cd \[1\], above 0 and up to 1, usually 0.6 to 0.65; `area` A \[m2\]; `depth_over_width`, the thickness of
/// the sheet over the width of the hole \[1\], range 0 to 1 (above 3 it is a slit, see
/// [`slit_flow`](super::slit_flow)); `density` rho of the gas that enters \[kg/m3\]; `pressure` dp \[Pa\], whose sign the
/// flow has.
///
/// Source: Bernoulli's equation with a discharge coefficient, MEMORY.
///
/// # Errors
/// An input not finite, not above zero (depth over width: below zero), or a coefficient above 1.
///
/// # Examples
/// 1 cm2 at 2 Pa: 0.11137 litre a second (COMPUTED independently):
/// ```
/// let q = stillhot::correlation::leak::orifice_flow(0.61, 1e-4, 0.1, 1.2, 2.0)?;
/// assert!((q.value - 0.000111370253359).abs() < 1.1e-13);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn orifice_flow(
    coefficient: f64,
    area: f64,
    depth_over_width: f64,
    density: f64,
    pressure: f64,
) -> Result<Value, Error> {
    let cd = discharge(coefficient)?;
    let a = input::positive("area", area, "m2")?;
    let thick = input::non_negative("depth over width", depth_over_width, "1")?;
    let rho = input::positive("density", density, "kg/m3")?;
    let dp = input::finite("pressure", pressure, "Pa")?;
    let validity = Validity::Inside.check("depth over width", thick, "1", 0.0..=1.0);
    Value::new(cd * a * (2.0 * dp.abs() / rho).sqrt().copysign(dp), validity)
}

/// Flow of a leak known by measurement \[m3/s\]: `Q = C dp^n`.
///
/// `coefficient` C \[m3/(s Pa^n)\]; `exponent` n \[1\], range 0.5 (inertia) to 1 (friction); `pressure` dp \[Pa\], whose
/// sign the flow has. Take n from the measurement: the 0.65 usual for buildings is wrong for the tight gap of a good
/// lid, which is laminar.
///
/// Source: power law of building pressure tests, MEMORY.
///
/// # Errors
/// An input not finite; a coefficient or exponent not above zero.
///
/// # Examples
/// ```
/// let q = stillhot::correlation::leak::power_law_flow(5e-5, 0.65, 10.0)?;
/// // COMPUTED independently
/// assert!((q.value - 0.000223341796075).abs() < 2.2e-13);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn power_law_flow(coefficient: f64, exponent: f64, pressure: f64) -> Result<Value, Error> {
    let (c, n, validity) = power_law(coefficient, exponent)?;
    let dp = input::finite("pressure", pressure, "Pa")?;
    Value::new((c * dp.abs().powf(n)).copysign(dp), validity)
}

/// Area of the frictionless hole that passes as much as a leak at 4 Pa \[m2\]: `A = C 4^(n - 1/2) (rho/2)^(1/2)`.
///
/// `coefficient` C and `exponent` n as [`power_law_flow`]; `density` rho of the gas \[kg/m3\]. Source: effective leakage
/// area with a discharge coefficient of 1, MEMORY.
///
/// # Errors
/// An input not finite or not above zero.
///
/// # Examples
/// ```
/// let a = stillhot::correlation::leak::leakage_area(5e-5, 0.65, 1.2)?;
/// // COMPUTED independently
/// assert!((a.value - 4.76820180966e-5).abs() < 4.8e-14);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn leakage_area(coefficient: f64, exponent: f64, density: f64) -> Result<Value, Error> {
    let (c, n, validity) = power_law(coefficient, exponent)?;
    let rho = input::positive("density", density, "kg/m3")?;
    Value::new(c * 4.0_f64.powf(n - 0.5) * (rho / 2.0).sqrt(), validity)
}

/// Flow that the warmth of a room drives through an opening \[m3/s\]: `Q = Cd A (2 g H (Ti - To)/Ti)^(1/2)`.
///
/// `coefficient` Cd \[1\], range 0.65 to 0.70; `area` A \[m2\]; `height` H from the neutral level to the middle of the
/// opening \[m\]; `inside` Ti and `outside` To \[K\]. Where the inside is the colder, the outside takes its place below the
/// line and the flow is negative. Dry air: for moist gas use [`stack_pressure`](super::stack_pressure).
///
/// Source: ASHRAE Fundamentals, stack flow, READ on a public encyclopaedia page.
///
/// # Errors
/// An input not finite or not above zero (the height: below zero), or a coefficient above 1.
///
/// # Examples
/// ```
/// let q = stillhot::correlation::leak::single_opening_stack_ashrae(0.65, 0.01, 0.5, 333.15, 293.15)?;
/// // COMPUTED independently, there with g = 9.81 m/s2
/// assert!((q.value * (9.81_f64 / 9.80665).sqrt() - 0.00705436533209).abs() < 7.1e-12);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn single_opening_stack_ashrae(
    coefficient: f64,
    area: f64,
    height: f64,
    inside: f64,
    outside: f64,
) -> Result<Value, Error> {
    let cd = discharge(coefficient)?;
    let a = input::positive("area", area, "m2")?;
    let h = input::non_negative("height above the neutral level", height, "m")?;
    let ti = input::temperature("inside temperature", inside)?;
    let to = input::temperature("outside temperature", outside)?;
    let validity = Validity::Inside.check("discharge coefficient", cd, "1", 0.65..=0.70);
    let drive = 2.0 * STANDARD_GRAVITY * h * (ti - to) / ti.max(to);
    Value::new((cd * a * drive.abs().sqrt()).copysign(drive), validity)
}

fn power_law(coefficient: f64, exponent: f64) -> Result<(f64, f64, Validity), Error> {
    let c = input::positive("flow coefficient", coefficient, "m3/(s Pa^n)")?;
    let n = input::positive("flow exponent", exponent, "1")?;
    Ok((c, n, Validity::Inside.check("flow exponent", n, "1", 0.5..=1.0)))
}
