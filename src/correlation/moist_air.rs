//! Air with water vapour: densities, humidity, the heat that leaves with it, diffusion, viscosity.
//!
//! Vapour and air are ideal gases. At 90 °C and saturation a real-gas library gives a humidity ratio 1.3 % and a
//! density 0.7 % higher (COMPUTED).

use super::constants::{CELSIUS_ZERO, GAS_CONSTANT, MOLAR_MASS_DRY_AIR, MOLAR_MASS_WATER};
use super::{Validity, Value, air, input, water};
use crate::{Error, Within};

/// Specific heat of dry air in psychrometric reckoning \[J/(kg K)\]; ASHRAE Fundamentals, Psychrometrics, MEMORY.
pub const PSYCHROMETRIC_SPECIFIC_HEAT: f64 = 1006.0;

/// Temperatures at which the ideal-gas relations were compared with a real-gas library.
const COMPARED: std::ops::RangeInclusive<f64> = CELSIUS_ZERO..=CELSIUS_ZERO + 100.0;

/// Vapour pressure \[Pa\] of air of a relative humidity: `pv = phi psat(T)`.
///
/// `relative_humidity` phi \[1\], 0 to 1; `temperature` \[K\]. Definition; psat by
/// [`water::saturation_pressure_if97`], whose range it has.
///
/// # Errors
/// A humidity outside 0 to 1, or as the saturation pressure.
pub fn vapour_pressure(relative_humidity: f64, temperature: f64) -> Result<Value, Error> {
    let phi = input::fraction("relative humidity", relative_humidity)?;
    water::saturation_pressure_if97(temperature)?.map(|p| phi * p)
}

/// Density of the vapour alone \[kg/m3\]: `rho_v = pv Mw/(R T)`.
///
/// `temperature` T \[K\], range 273.15 to 373.15 K; `vapour_pressure` pv \[Pa\], not below zero. Ideal gas.
///
/// # Errors
/// An input not finite, a temperature not above zero, a pressure below zero.
pub fn vapour_density(temperature: f64, vapour_pressure: f64) -> Result<Value, Error> {
    let t = input::temperature("temperature", temperature)?;
    let pv = input::non_negative("vapour pressure", vapour_pressure, "Pa")?;
    let validity = Validity::Inside.check("temperature", t, "K", COMPARED);
    Value::new(pv * MOLAR_MASS_WATER / (GAS_CONSTANT * t), validity)
}

/// Density of the dry air in the mixture \[kg/m3\]: `rho_a = (p - pv) Ma/(R T)`.
///
/// `temperature` T \[K\], range 273.15 to 373.15 K; `pressure` p of the mixture \[Pa\]; `vapour_pressure` pv \[Pa\],
/// from zero up to p. Ideal gas.
///
/// # Errors
/// An input not finite, a temperature or pressure not above zero, a vapour pressure below zero or above p.
pub fn dry_air_density(temperature: f64, pressure: f64, vapour_pressure: f64) -> Result<Value, Error> {
    let t = input::temperature("temperature", temperature)?;
    let p = input::positive("pressure", pressure, "Pa")?;
    let pv = input::non_negative("vapour pressure", vapour_pressure, "Pa")?;
    if pv > p {
        input::below("vapour pressure", pv, "total pressure", p, "Pa")?;
    }
    let validity = Validity::Inside.check("temperature", t, "K", COMPARED);
    Value::new((p - pv) * MOLAR_MASS_DRY_AIR / (GAS_CONSTANT * t), validity)
}

/// Density of the mixture \[kg/m3\], the sum of [`vapour_density`] and [`dry_air_density`]; inputs as there.
///
/// # Errors
/// As [`dry_air_density`].
pub fn density(temperature: f64, pressure: f64, vapour_pressure: f64) -> Result<Value, Error> {
    let vapour = vapour_density(temperature, vapour_pressure)?;
    dry_air_density(temperature, pressure, vapour_pressure)?.map(|air| air + vapour.value)
}

/// Humidity ratio, mass of vapour per mass of dry air \[kg/kg\]: `W = (Mw/Ma) pv/(p - pv)`.
///
/// `pressure` p \[Pa\], `vapour_pressure` pv \[Pa\], from zero to below p. Ideal gas.
///
/// # Errors
/// An input not finite, a pressure not above zero, a vapour pressure below zero or not below p.
///
/// # Examples
/// Saturated at 60 °C and one atmosphere: 0.15244 (COMPUTED independently):
/// ```
/// use stillhot::correlation::{moist_air, water};
/// let pv = water::saturation_pressure_if97(333.15)?.value;
/// assert!((moist_air::humidity_ratio(101_325.0, pv)?.value - 0.15244).abs() < 1e-5);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn humidity_ratio(pressure: f64, vapour_pressure: f64) -> Result<Value, Error> {
    let p = input::positive("pressure", pressure, "Pa")?;
    let pv = input::non_negative("vapour pressure", vapour_pressure, "Pa")?;
    input::below("vapour pressure", pv, "total pressure", p, "Pa")?;
    Value::new(MOLAR_MASS_WATER / MOLAR_MASS_DRY_AIR * pv / (p - pv), Validity::Inside)
}

/// Heat that leaves with each cubic metre of gas; see [`leaving_heat`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeavingHeat {
    /// Heat of the dry air \[J/m3\].
    pub sensible: f64,
    /// Heat of evaporation of the water carried off \[J/m3\]; below zero if the gas that enters is the moister one.
    pub latent: f64,
    /// Whether both states were inside the range of the relations used.
    pub validity: Validity,
}

/// A state of moist air: temperature and vapour pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoistState {
    /// Temperature \[K\].
    pub temperature: f64,
    /// Partial pressure of the vapour \[Pa\].
    pub vapour_pressure: f64,
}

/// Heat lost with each cubic metre of gas that leaves at the `inside` state while as much dry air enters at the
/// `outside` state \[J/m3\].
///
/// ```text
/// sensible = rho_a cp (T - To),   latent = (rho_v - rho_a Wo) hfg(T),   cp = 1006 J/(kg K)
/// ```
/// hfg at the inside temperature, since the liquid that left takes its own enthalpy with it. `pressure` \[Pa\];
/// temperatures 273.15 to 373.15 K.
///
/// Source: mass and heat balance of ideal gases, COMPUTED.
///
/// # Errors
/// An input not finite or not physical, a vapour pressure above the pressure (outside: not below it).
///
/// # Examples
/// Saturated at 90 °C inside, 15 °C and 60 % outside: 270.55 W h/m3 (COMPUTED independently):
/// ```
/// use stillhot::correlation::moist_air::{self, MoistState};
/// let state = |t, phi| Ok::<_, stillhot::Error>(MoistState {
///     temperature: t,
///     vapour_pressure: moist_air::vapour_pressure(phi, t)?.value,
/// });
/// let heat = moist_air::leaving_heat(state(363.15, 1.0)?, state(288.15, 0.6)?, 101_325.0)?;
/// assert!(((heat.sensible + heat.latent) / 3600.0 - 270.55).abs() < 0.03);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn leaving_heat(inside: MoistState, outside: MoistState, pressure: f64) -> Result<LeavingHeat, Error> {
    let air = dry_air_density(inside.temperature, pressure, inside.vapour_pressure).within("inside")?;
    let vapour = vapour_density(inside.temperature, inside.vapour_pressure).within("inside")?;
    let t_out = input::temperature("temperature", outside.temperature).within("outside")?;
    let entering = humidity_ratio(pressure, outside.vapour_pressure).within("outside")?;
    let hfg = water::latent_heat_wagner_pruss_1993(inside.temperature).within("inside")?;
    let sensible = air.value * PSYCHROMETRIC_SPECIFIC_HEAT * (inside.temperature - t_out);
    let latent = (vapour.value - air.value * entering.value) * hfg.value;
    let validity = air.validity.and(hfg.validity).check("outside temperature", t_out, "K", 233.15..=373.15);
    Ok(LeavingHeat {
        sensible: Value::new(sensible, validity)?.value,
        latent: Value::new(latent, validity)?.value,
        validity,
    })
}

/// Diffusivity of water vapour in air \[m2/s\].
///
/// ```text
/// D = (0.926e-6/(p/1000)) T^2.5/(T + 245)
/// ```
/// `temperature` T \[K\], `pressure` p \[Pa\]; range 273.15 to 373.15 K (ESTIMATE, the source's own range was not
/// seen).
///
/// Source: ASHRAE Handbook Fundamentals, Mass Transfer; MEMORY. At 25 °C it gives 25.8 mm2/s, and 25 to 26 are usual.
///
/// # Errors
/// An input not finite or not above zero.
///
/// # Examples
/// ```
/// let d = stillhot::correlation::moist_air::vapour_diffusivity_ashrae(298.15, 101_325.0)?;
/// assert!((d.value * 1e6 - 25.8).abs() < 0.05);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn vapour_diffusivity_ashrae(temperature: f64, pressure: f64) -> Result<Value, Error> {
    let t = input::temperature("temperature", temperature)?;
    let p = input::positive("pressure", pressure, "Pa")?;
    let validity = Validity::Inside.check("temperature", t, "K", COMPARED);
    Value::new(0.926e-3 / p * t * t * t.sqrt() / (t + 245.0), validity)
}

/// Vapour that diffuses through a path of still gas \[kg/s\] (Stefan diffusion: the air stands, the vapour drifts).
///
/// ```text
/// J = A p D Mw/(l R T) ln((p - pv_to)/(p - pv_from))
/// ```
/// `area` A \[m2\] and length `path` l \[m\] of the way; `pressure` p \[Pa\]; `temperature` T \[K\]; vapour pressures
/// `from` and `to` its two ends \[Pa\]. Below zero if `to` is the moister end. D by [`vapour_diffusivity_ashrae`],
/// whose range it has.
///
/// Source: J. Stefan 1874, textbook form, MEMORY; numbers COMPUTED.
///
/// # Errors
/// An input not finite or not above zero, a vapour pressure below zero or not below p: at the boiling point the
/// logarithm has no bound and diffusion is not what limits the flow.
///
/// # Examples
/// Rim of a pot 240 mm wide, gap 0.3 mm by 8 mm, 90 °C, dry air outside: 1.7234 W (COMPUTED independently):
/// ```
/// use stillhot::correlation::{moist_air, water};
/// let pv = water::saturation_pressure_if97(363.15)?.value;
/// let area = std::f64::consts::PI * 0.24 * 0.0003;
/// let j = moist_air::stefan_diffusion(area, 0.008, 101_325.0, 363.15, pv, 1023.447)?;
/// let heat = j.value * water::latent_heat_wagner_pruss_1993(363.15)?.value;
/// assert!((heat - 1.7234).abs() < 2e-4);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn stefan_diffusion(
    area: f64,
    path: f64,
    pressure: f64,
    temperature: f64,
    from: f64,
    to: f64,
) -> Result<Value, Error> {
    let a = input::positive("area", area, "m2")?;
    let l = input::positive("path", path, "m")?;
    let d = vapour_diffusivity_ashrae(temperature, pressure)?;
    for (name, pv) in [("vapour pressure at the start", from), ("vapour pressure at the end", to)] {
        input::non_negative(name, pv, "Pa")?;
        input::below(name, pv, "total pressure", pressure, "Pa")?;
    }
    let drive = ((pressure - to) / (pressure - from)).ln();
    d.map(|d| a * pressure * d * MOLAR_MASS_WATER / (l * GAS_CONSTANT * temperature) * drive)
}

/// Viscosity of water vapour near saturation \[Pa s\]: `mu = (8.87 + 0.0336 t) 1e-6`, t in degrees Celsius.
///
/// `temperature` \[K\]; range 293.15 to 373.15 K. A straight line within 0.4 % of the saturated vapour of a property
/// library (COMPUTED).
///
/// # Errors
/// A temperature not finite or not above zero.
pub fn vapour_viscosity(temperature: f64) -> Result<Value, Error> {
    let t = input::temperature("temperature", temperature)?;
    let validity = Validity::Inside.check("temperature", t, "K", 293.15..=373.15);
    let mu = (8.87 + 0.0336 * (t - CELSIUS_ZERO)) * 1e-6;
    // Below some 9 K the line turns negative: a number without meaning.
    Value::new(input::positive("viscosity (from the temperature given)", mu, "Pa s")?, validity)
}

/// Viscosity of moist air \[Pa s\], by Wilke's mixing rule.
///
/// ```text
/// mu = sum_i x_i mu_i/(sum_j x_j phi_ij),
/// phi_ij = (1 + (mu_i/mu_j)^(1/2) (M_j/M_i)^(1/4))^2/(8 (1 + M_i/M_j))^(1/2)
/// ```
/// `temperature` \[K\], range 293.15 to 373.15 K; `vapour_fraction` mole fraction of vapour pv/p \[1\], 0 to 1. Air by
/// [`air::viscosity_sutherland`], vapour by [`vapour_viscosity`]. A real-gas library gives 2 % more at 90 °C and
/// saturation (1.5008e-5 Pa s).
///
/// Source: C. R. Wilke, A Viscosity Equation for Gas Mixtures, J. Chem. Phys. 18 (1950) 517,
/// <https://doi.org/10.1063/1.1747673>; MEMORY.
///
/// # Errors
/// A temperature not finite or not above zero, a fraction outside 0 to 1.
///
/// # Examples
/// ```
/// let mu = stillhot::correlation::moist_air::viscosity_wilke(363.15, 0.692646)?;
/// assert!((mu.value - 1.4725e-5).abs() < 1e-9);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn viscosity_wilke(temperature: f64, vapour_fraction: f64) -> Result<Value, Error> {
    let x = input::fraction("vapour fraction", vapour_fraction)?;
    let (dry, vapour) = (air::viscosity_sutherland(temperature)?, vapour_viscosity(temperature)?);
    let phi = |mu_i: f64, mu_j: f64, m_i: f64, m_j: f64| {
        (1.0 + (mu_i / mu_j).sqrt() * (m_j / m_i).sqrt().sqrt()).powi(2) / (8.0 * (1.0 + m_i / m_j)).sqrt()
    };
    let (a, v) = (dry.value, vapour.value);
    let air_part = (1.0 - x) * a / (1.0 - x + x * phi(a, v, MOLAR_MASS_DRY_AIR, MOLAR_MASS_WATER));
    let vapour_part = x * v / (x + (1.0 - x) * phi(v, a, MOLAR_MASS_WATER, MOLAR_MASS_DRY_AIR));
    Value::new(air_part + vapour_part, dry.validity.and(vapour.validity))
}
