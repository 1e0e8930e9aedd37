//! Dry air: transport properties and density.
//!
//! Against a real-gas property library at one atmosphere, 0 to 100 °C (COMPUTED): conductivity -0.9 to +0.4 %,
//! viscosity -0.3 to -0.7 %, specific heat -0.2 to -0.1 %, density within 0.07 %, Prandtl number within 1.3 %.

use std::f64::consts::LN_10;

use super::constants::{GAS_CONSTANT, MOLAR_MASS_DRY_AIR, STANDARD_GRAVITY};
use super::{Validity, Value, input, similarity};
use crate::Error;

/// Temperatures for which the transport relations were compared with a real-gas library: k within 2.3 %, mu within
/// 1.5 %. The standard itself names no range in kelvin.
const COMPARED: std::ops::RangeInclusive<f64> = 200.0..=500.0;

/// Thermal conductivity of air \[W/(m K)\].
///
/// ```text
/// k = 2.64638e-3 T^1.5 / (T + 245.4 * 10^(-12/T))
/// ```
/// `temperature` T \[K\]; range 200 to 500 K (COMPUTED, see the module).
///
/// Source: U.S. Standard Atmosphere, 1976, NOAA/NASA/USAF; constants READ in an open fluid-property library.
///
/// # Errors
/// A temperature not finite or not above zero.
///
/// # Examples
/// The standard prints 0.025326 W/(m K) at sea level (READ in the same library):
/// ```
/// let k = stillhot::correlation::air::conductivity_us_standard_1976(288.15)?;
/// assert!((k.value - 0.025326).abs() < 5e-7);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn conductivity_us_standard_1976(temperature: f64) -> Result<Value, Error> {
    let t = input::temperature("temperature", temperature)?;
    let k = 2.646_38e-3 * t * t.sqrt() / (t + 245.4 * (-12.0 * LN_10 / t).exp());
    Value::new(k, Validity::Inside.check("temperature", t, "K", COMPARED))
}

/// Dynamic viscosity of air \[Pa s\], Sutherland's law.
///
/// ```text
/// mu = 1.458e-6 T^1.5 / (T + 110.4)
/// ```
/// `temperature` T \[K\]; range 200 to 500 K (COMPUTED, see the module).
///
/// Source: U.S. Standard Atmosphere, 1976; constants READ in an open fluid-property library.
///
/// # Errors
/// A temperature not finite or not above zero.
///
/// # Examples
/// The standard prints 1.7894e-5 Pa s at sea level (READ in the same library):
/// ```
/// let mu = stillhot::correlation::air::viscosity_sutherland(288.15)?;
/// assert!((mu.value - 1.7894e-5).abs() < 5e-10);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn viscosity_sutherland(temperature: f64) -> Result<Value, Error> {
    let t = input::temperature("temperature", temperature)?;
    let mu = 1.458e-6 * t * t.sqrt() / (t + 110.4);
    Value::new(mu, Validity::Inside.check("temperature", t, "K", COMPARED))
}

/// Specific heat of dry air at constant pressure, ideal-gas limit \[J/(kg K)\].
///
/// ```text
/// cp M/R = N1 + N2 T + N3 T^2 + N4 T^3 + N5 T^-1.5 + N6 E(u) + N7 E(v) + N8 F(w),
/// E(x) = x^2 e^x/(e^x - 1)^2,  F(x) = (2/3) x^2 e^x/(1 + (2/3) e^x)^2,
/// u = 3364.011/T, v = 2242.45/T, w = 11580.4/T
/// ```
/// `temperature` T \[K\]; range 60 to 2000 K. At one atmosphere real air is 0.1 to 0.2 % higher.
///
/// Source: E. W. Lemmon, R. T. Jacobsen, S. G. Penoncello, D. G. Friend, Thermodynamic Properties of Air and
/// Mixtures of Nitrogen, Argon, and Oxygen From 60 to 2000 K at Pressures to 2000 MPa, J. Phys. Chem. Ref. Data 29
/// (2000) 331, <https://doi.org/10.1063/1.1285884>; constants READ in an open property library.
///
/// # Errors
/// A temperature not finite or not above zero, or so low that the relation has no finite value.
///
/// # Examples
/// That library gives 1005.5 J/(kg K) at 40 °C in the ideal-gas limit (COMPUTED):
/// ```
/// let cp = stillhot::correlation::air::specific_heat_lemmon_2000(313.15)?;
/// assert!((cp.value - 1005.5).abs() < 0.05);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn specific_heat_lemmon_2000(temperature: f64) -> Result<Value, Error> {
    let t = input::temperature("temperature", temperature)?;
    // Written with e^-x, so that a low temperature underflows to zero and not to infinity over infinity.
    let einstein = |x: f64| {
        let e = (-x).exp();
        x * x * e / (1.0 - e).powi(2)
    };
    let rotated = |x: f64| {
        let e = (-x).exp();
        (2.0 / 3.0) * x * x * e / (e + 2.0 / 3.0).powi(2)
    };
    let reduced = 3.490_888_032 + 2.395_525_583e-6 * t + 7.172_111_248e-9 * t * t - 3.115_413_101e-13 * t.powi(3)
        + 0.223_806_688 / (t * t.sqrt())
        + 0.791_309_509 * einstein(3364.011 / t)
        + 0.212_236_768 * einstein(2242.45 / t)
        + 0.197_938_904 * rotated(11_580.4 / t);
    let cp = reduced * GAS_CONSTANT / MOLAR_MASS_DRY_AIR;
    Value::new(cp, Validity::Inside.check("temperature", t, "K", 60.0..=2000.0))
}

/// Density of dry air, ideal gas \[kg/m3\]: `rho = p M/(R T)`.
///
/// `temperature` T \[K\], `pressure` p \[Pa\]; range 200 to 500 K and up to 1.1e5 Pa, where it is within 0.24 % of a
/// real-gas library (COMPUTED). Textbook equation of state.
///
/// # Errors
/// An input not finite or not above zero.
///
/// # Examples
/// A real-gas library gives 0.9995 kg/m3 at 80 °C (READ):
/// ```
/// let rho = stillhot::correlation::air::density_ideal_gas(353.15, 101_325.0)?;
/// assert!((rho.value - 0.9995).abs() < 1e-4);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn density_ideal_gas(temperature: f64, pressure: f64) -> Result<Value, Error> {
    let t = input::temperature("temperature", temperature)?;
    let p = input::positive("pressure", pressure, "Pa")?;
    let validity = Validity::Inside.check("temperature", t, "K", COMPARED).check("pressure", p, "Pa", 0.0..=1.1e5);
    Value::new(p * MOLAR_MASS_DRY_AIR / (GAS_CONSTANT * t), validity)
}

/// All properties of dry air at one state, as films and gaps need them; see [`dry_air`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Thermal conductivity k \[W/(m K)\].
    pub conductivity: f64,
    /// Dynamic viscosity mu \[Pa s\].
    pub dynamic_viscosity: f64,
    /// Density rho \[kg/m3\].
    pub density: f64,
    /// Specific heat cp \[J/(kg K)\].
    pub specific_heat: f64,
    /// Prandtl number mu cp/k \[1\].
    pub prandtl: f64,
    /// Kinematic viscosity mu/rho \[m2/s\].
    pub kinematic_viscosity: f64,
    /// Thermal diffusivity k/(rho cp) \[m2/s\].
    pub thermal_diffusivity: f64,
    /// Volumetric expansion 1/T of an ideal gas \[1/K\].
    pub expansion: f64,
    /// Whether the state was inside the range of every property relation.
    pub validity: Validity,
}

/// Dry air at `temperature` \[K\] and `pressure` \[Pa\], by the relations of this module.
///
/// Films and gaps take it at the mean of the two temperatures they lie between.
///
/// # Errors
/// An input not finite or not above zero, or a state so extreme that a property is not finite.
///
/// # Examples
/// A real-gas library gives Pr = 0.7034 at 60 °C (COMPUTED):
/// ```
/// let air = stillhot::correlation::air::dry_air(333.15, 101_325.0)?;
/// assert!((air.prandtl / 0.7034 - 1.0).abs() < 0.01);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn dry_air(temperature: f64, pressure: f64) -> Result<Air, Error> {
    let k = conductivity_us_standard_1976(temperature)?;
    let mu = viscosity_sutherland(temperature)?;
    let cp = specific_heat_lemmon_2000(temperature)?;
    let rho = density_ideal_gas(temperature, pressure)?;
    Ok(Air {
        conductivity: input::positive("conductivity", k.value, "W/(m K)")?,
        dynamic_viscosity: input::positive("viscosity", mu.value, "Pa s")?,
        density: input::positive("density", rho.value, "kg/m3")?,
        specific_heat: input::positive("specific heat", cp.value, "J/(kg K)")?,
        prandtl: input::positive("Prandtl number", mu.value * cp.value / k.value, "1")?,
        kinematic_viscosity: input::positive("kinematic viscosity", mu.value / rho.value, "m2/s")?,
        thermal_diffusivity: input::positive("thermal diffusivity", k.value / (rho.value * cp.value), "m2/s")?,
        expansion: input::positive("expansion", 1.0 / temperature, "1/K")?,
        validity: k.validity.and(mu.validity).and(cp.validity).and(rho.validity),
    })
}

impl Air {
    /// Grashof number for a temperature `difference` \[K\] over a `length` \[m\], under standard gravity.
    ///
    /// # Errors
    /// As [`similarity::grashof`].
    pub fn grashof(&self, difference: f64, length: f64) -> Result<f64, Error> {
        similarity::grashof(STANDARD_GRAVITY, self.expansion, difference, length, self.kinematic_viscosity)
    }

    /// Rayleigh number for a temperature `difference` \[K\] over a `length` \[m\], under standard gravity.
    ///
    /// # Errors
    /// As [`similarity::rayleigh`].
    pub fn rayleigh(&self, difference: f64, length: f64) -> Result<f64, Error> {
        let (nu, alpha) = (self.kinematic_viscosity, self.thermal_diffusivity);
        similarity::rayleigh(STANDARD_GRAVITY, self.expansion, difference, length, nu, alpha)
    }

    /// Reynolds number for a `velocity` \[m/s\] along or across a `length` \[m\].
    ///
    /// # Errors
    /// As [`similarity::reynolds`].
    pub fn reynolds(&self, velocity: f64, length: f64) -> Result<f64, Error> {
        similarity::reynolds(velocity, length, self.kinematic_viscosity)
    }

    /// Film coefficient \[W/(m2 K)\] from a Nusselt number and its `length` \[m\].
    ///
    /// # Errors
    /// As [`similarity::film_coefficient`].
    pub fn film_coefficient(&self, nusselt: f64, length: f64) -> Result<f64, Error> {
        similarity::film_coefficient(nusselt, self.conductivity, length)
    }
}
