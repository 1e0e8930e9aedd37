//! Water: the line where it boils, its latent heat, and the liquid.

use super::constants::CELSIUS_ZERO;
use super::{Validity, Value, if97, input};
use crate::{Error, ErrorKind};

const TRIPLE_TEMPERATURE: f64 = 273.16;
const CRITICAL_TEMPERATURE: f64 = 647.096;
const CRITICAL_PRESSURE: f64 = 22.064e6;

fn liquid_side(temperature: f64) -> Result<f64, Error> {
    let t = input::temperature("temperature", temperature)?;
    // Beyond these ends the equations have no real root or mean another phase: no number to flag.
    if (200.0..=CRITICAL_TEMPERATURE).contains(&t) {
        return Ok(t);
    }
    Err(Error::new(ErrorKind::OutOfRange, "is not a temperature of liquid water")
        .with_value(format!("{t} K"))
        .with_accepted("200 to 647.096 K (0 °C to the critical point inside the published range)")
        .within("temperature"))
}

/// Saturation pressure of water \[Pa\]: IAPWS-IF97 region 4, equation 30.
///
/// `temperature` \[K\]; range 273.15 to 647.096 K, within 0.02 % of IAPWS-95 up to 200 °C (COMPUTED).
///
/// Source: IAPWS R7-97(2012), Revised Release on the IAPWS Industrial Formulation 1997 for the Thermodynamic
/// Properties of Water and Steam; coefficients READ in an open implementation.
///
/// # Errors
/// A temperature not finite, below 200 K or above the critical point.
///
/// # Examples
/// The release's Table 35 gives 3536.58941 Pa at 300 K (MEMORY, reproduced by two libraries):
/// ```
/// let p = stillhot::correlation::water::saturation_pressure_if97(300.0)?;
/// assert!((p.value - 3536.58941).abs() < 1e-5);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn saturation_pressure_if97(temperature: f64) -> Result<Value, Error> {
    let t = liquid_side(temperature)?;
    let validity = Validity::Inside.check("temperature", t, "K", CELSIUS_ZERO..=CRITICAL_TEMPERATURE);
    Value::new(if97::saturation_pressure(t), validity)
}

/// Boiling temperature of water \[K\]: IAPWS-IF97 region 4, backward equation 31, the exact inverse of
/// [`saturation_pressure_if97`].
///
/// `pressure` \[Pa\]; range 611.213 Pa to 22.064 MPa. Source as there. Salt raises the boiling point by 0.5 K for
/// 29 g per kg of water (textbook, MEMORY), which is not in it.
///
/// # Errors
/// A pressure not finite, not above 1 Pa, or above the critical pressure.
///
/// # Examples
/// The release's Table 36 gives 372.755919 K at 0.1 MPa (MEMORY, reproduced by two libraries):
/// ```
/// let t = stillhot::correlation::water::boiling_temperature_if97(1e5)?;
/// assert!((t.value - 372.755919).abs() < 1e-6);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn boiling_temperature_if97(pressure: f64) -> Result<Value, Error> {
    let p = input::positive("pressure", pressure, "Pa")?;
    if !(1.0..=CRITICAL_PRESSURE).contains(&p) {
        return Err(Error::new(ErrorKind::OutOfRange, "is not a pressure at which water boils")
            .with_value(format!("{p} Pa"))
            .with_accepted("1 Pa to 22.064 MPa")
            .within("pressure"));
    }
    let validity = Validity::Inside.check("pressure", p, "Pa", 611.213..=CRITICAL_PRESSURE);
    Value::new(if97::saturation_temperature(p), validity)
}

/// Latent heat of evaporation of water \[J/kg\], from the vapour line by Clapeyron's equation.
///
/// ```text
/// hfg = T (dp/dT) (1/rho'' - 1/rho')
/// ```
/// with p(T), rho'(T) and rho''(T) of the release. `temperature` T \[K\]; range 273.16 to 647.096 K; within 0.013 %
/// of IAPWS-95 from 0 to 200 °C (COMPUTED). Exactly at the critical point it is zero.
///
/// Source: W. Wagner, A. Pruss, International Equations for the Saturation Properties of Ordinary Water Substance,
/// J. Phys. Chem. Ref. Data 22 (1993) 783, <https://doi.org/10.1063/1.555926>, adopted as IAPWS SR1-86(1992);
/// coefficients of the densities READ in an open implementation, those of the pressure MEMORY.
///
/// # Errors
/// A temperature not finite, below 200 K or above the critical point.
///
/// # Examples
/// IAPWS-95 gives 2282491 J/kg at 90 °C (COMPUTED with two property libraries):
/// ```
/// let hfg = stillhot::correlation::water::latent_heat_wagner_pruss_1993(363.15)?;
/// assert!((hfg.value / 2_282_491.0 - 1.0).abs() < 1.3e-4);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn latent_heat_wagner_pruss_1993(temperature: f64) -> Result<Value, Error> {
    // Exponents in halves, thirds and sixths: whole powers of roots.
    const PRESSURE: [(f64, i32); 6] = [
        (-7.859_517_83, 2),
        (1.844_082_59, 3),
        (-11.786_649_7, 6),
        (22.680_741_1, 7),
        (-15.961_871_9, 8),
        (1.801_225_02, 15),
    ];
    const LIQUID: [(f64, i32); 6] = [
        (1.992_740_64, 1),
        (1.099_653_42, 2),
        (-0.510_839_303, 5),
        (-1.754_934_79, 16),
        (-45.517_035_2, 43),
        (-6.746_944_50e5, 110),
    ];
    const VAPOUR: [(f64, i32); 6] = [
        (-2.031_502_40, 2),
        (-2.683_029_40, 4),
        (-5.386_264_92, 8),
        (-17.299_160_5, 18),
        (-44.758_658_1, 37),
        (-63.920_106_3, 71),
    ];
    const CRITICAL_DENSITY: f64 = 322.0;
    let t = liquid_side(temperature)?;
    let tau = 1.0 - t / CRITICAL_TEMPERATURE;
    let (second, third) = (tau.sqrt(), tau.cbrt());
    let sixth = third.sqrt();
    let sum = |terms: [(f64, i32); 6], root: f64| terms.iter().map(|(n, e)| n * root.powi(*e)).sum::<f64>();
    let liquid = 1.0 + sum(LIQUID, third);
    let vapour = sum(VAPOUR, sixth).exp();
    let volume_change = (1.0 / vapour - 1.0 / liquid) / CRITICAL_DENSITY;
    let exponent = sum(PRESSURE, second);
    let slope = sum(PRESSURE.map(|(n, e)| (0.5 * n * f64::from(e), e - 2)), second);
    let pressure = CRITICAL_PRESSURE * (CRITICAL_TEMPERATURE / t * exponent).exp();
    // T dp/dT = -p (ln(p/pc) + d(exponent)/d(tau))
    let t_dp_dt = -pressure * (CRITICAL_TEMPERATURE / t * exponent + slope);
    let validity = Validity::Inside.check("temperature", t, "K", TRIPLE_TEMPERATURE..=CRITICAL_TEMPERATURE);
    Value::new(t_dp_dt * volume_change, validity)
}

fn region_1(temperature: f64, pressure: f64) -> Result<(if97::Liquid, Validity), Error> {
    let t = liquid_side(temperature)?;
    let p = input::positive("pressure", pressure, "Pa")?;
    let validity = Validity::Inside.check("temperature", t, "K", CELSIUS_ZERO..=623.15).check(
        "pressure",
        p,
        "Pa",
        if97::saturation_pressure(t)..=100e6,
    );
    Ok((if97::region_1(t, p), validity))
}

/// Density of liquid water \[kg/m3\]: IAPWS-IF97 region 1.
///
/// `temperature` \[K\], `pressure` \[Pa\]; range 273.15 to 623.15 K, from the saturation pressure to 100 MPa. At one
/// atmosphere within 0.002 % of IAPWS-95 (COMPUTED).
///
/// Source: IAPWS R7-97(2012); coefficients READ in an open implementation.
///
/// # Errors
/// An input not finite or not above zero, a temperature outside 200 K to the critical point.
///
/// # Examples
/// IAPWS-95 gives 983.1958 kg/m3 at 60 °C and one atmosphere (COMPUTED with two property libraries):
/// ```
/// let rho = stillhot::correlation::water::liquid_density_if97(333.15, 101_325.0)?;
/// assert!((rho.value - 983.1958).abs() < 0.02);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn liquid_density_if97(temperature: f64, pressure: f64) -> Result<Value, Error> {
    let (liquid, validity) = region_1(temperature, pressure)?;
    Value::new(1.0 / liquid.volume, validity)
}

/// Specific heat of liquid water at constant pressure \[J/(kg K)\]: IAPWS-IF97 region 1.
///
/// Inputs, range and source as [`liquid_density_if97`]; at one atmosphere within 0.053 % of IAPWS-95 (COMPUTED).
///
/// # Errors
/// As [`liquid_density_if97`].
///
/// # Examples
/// The release's Table 5 gives 4173.01218 J/(kg K) at 300 K and 3 MPa (MEMORY, reproduced by two libraries):
/// ```
/// let cp = stillhot::correlation::water::liquid_specific_heat_if97(300.0, 3e6)?;
/// assert!((cp.value - 4173.01218).abs() < 1e-5);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn liquid_specific_heat_if97(temperature: f64, pressure: f64) -> Result<Value, Error> {
    let (liquid, validity) = region_1(temperature, pressure)?;
    Value::new(liquid.specific_heat, validity)
}

/// Enthalpy of liquid water \[J/kg\], zero for the saturated liquid at the triple point: IAPWS-IF97 region 1.
///
/// Inputs, range and source as [`liquid_density_if97`].
///
/// # Errors
/// As [`liquid_density_if97`].
///
/// # Examples
/// The release's Table 5 gives 115.331273 kJ/kg at 300 K and 3 MPa (MEMORY, reproduced by two libraries):
/// ```
/// let h = stillhot::correlation::water::liquid_enthalpy_if97(300.0, 3e6)?;
/// assert!((h.value - 115_331.273).abs() < 1e-3);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn liquid_enthalpy_if97(temperature: f64, pressure: f64) -> Result<Value, Error> {
    let (liquid, validity) = region_1(temperature, pressure)?;
    Value::new(liquid.enthalpy, validity)
}

/// Thermal conductivity of liquid water at 0.1 MPa \[W/(m K)\].
///
/// ```text
/// k = 1.6630 x^-1.15 - 1.7781 x^-3.4 + 1.1567 x^-6.0 - 0.432115 x^-7.6,  x = T/300 K
/// ```
/// `temperature` T \[K\]; range 253.15 to 383.15 K, usable to 0.3 MPa; within 0.003 % of the full IAPWS formulation
/// from 1 to 99 °C (COMPUTED).
///
/// Source: IAPWS SR6-08(2011), Revised Supplementary Release on Properties of Liquid Water at 0.1 MPa, equation 8;
/// J. Patek, J. Hruby, J. Klomfar, M. Souckova, A. H. Harvey, Reference Correlations for Thermophysical Properties of
/// Liquid Water at 0.1 MPa, J. Phys. Chem. Ref. Data 38 (2009) 21, <https://doi.org/10.1063/1.3043575>; coefficients
/// READ in an open implementation.
///
/// # Errors
/// A temperature not finite, below 200 K or above the critical point.
///
/// # Examples
/// The full formulation gives 0.651000 W/(m K) at 60 °C (COMPUTED with two property libraries):
/// ```
/// let k = stillhot::correlation::water::liquid_conductivity_patek_2009(333.15)?;
/// assert!((k.value - 0.651000).abs() < 2e-5);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn liquid_conductivity_patek_2009(temperature: f64) -> Result<Value, Error> {
    let t = liquid_side(temperature)?;
    let x = t / 300.0;
    let k = 1.6630 * x.powf(-1.15) - 1.7781 * x.powf(-3.4) + 1.1567 * x.powf(-6.0) - 0.432_115 * x.powf(-7.6);
    Value::new(k, Validity::Inside.check("temperature", t, "K", 253.15..=383.15))
}

/// Dynamic viscosity of liquid water at 0.1 MPa \[Pa s\].
///
/// ```text
/// mu = (280.68 x^-1.9 + 511.45 x^-7.7 + 61.131 x^-19.6 + 0.45903 x^-40) 1e-6,  x = T/300 K
/// ```
/// Input, range and source as [`liquid_conductivity_patek_2009`] (equation 7); within 0.004 % of the full
/// formulation from 1 to 99 °C (COMPUTED).
///
/// # Errors
/// A temperature not finite, below 200 K or above the critical point.
///
/// # Examples
/// The full formulation gives 0.466035 mPa s at 60 °C (COMPUTED with two property libraries):
/// ```
/// let mu = stillhot::correlation::water::liquid_viscosity_patek_2009(333.15)?;
/// assert!((mu.value - 0.466035e-3).abs() < 2e-8);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn liquid_viscosity_patek_2009(temperature: f64) -> Result<Value, Error> {
    let t = liquid_side(temperature)?;
    let x = t / 300.0;
    let mu = 280.68 * x.powf(-1.9) + 511.45 * x.powf(-7.7) + 61.131 * x.powf(-19.6) + 0.459_03 * x.powf(-40.0);
    Value::new(mu * 1e-6, Validity::Inside.check("temperature", t, "K", 253.15..=383.15))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_water_relation_is_finite_or_refused_over_all_temperatures() {
        for step in 0..2000 {
            let t = step as f64 * 0.5;
            for answer in [
                saturation_pressure_if97(t),
                latent_heat_wagner_pruss_1993(t),
                liquid_density_if97(t, 1e5),
                liquid_specific_heat_if97(t, 1e5),
                liquid_enthalpy_if97(t, 1e5),
            ] {
                match answer {
                    Ok(v) => assert!(v.value.is_finite()),
                    Err(e) => assert_eq!(e.path(), "temperature", "{t} K: {e}"),
                }
            }
        }
    }
}
