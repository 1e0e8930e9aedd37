//! The space between hot water and the cooler lid above it: convection, evaporation, condensation.

use super::constants::CELSIUS_ZERO;
use super::{Validity, Value, input, water};
use crate::Error;

/// Convection between a water surface and a cooler lid above it \[W/(m2 K)\].
///
/// ```text
/// hc = 0.884 (dT + (pw - pl) Tw/(268900 - pw))^(1/3)
/// ```
/// `water_temperature` Tw and `lid_temperature` \[K\], the lid not warmer; dT their difference, pw and pl the saturation
/// pressures at the two \[Pa\]. Made for stills at low vapour pressure: range up to 80 °C of the water (READ as
/// over-predicting; above 80 °C prefer [`mass_transfer_lewis`]).
///
/// Source: R. V. Dunkle, Solar water distillation: the roof type still and a multiple effect diffuser, ASME International
/// Developments in Heat Transfer, 1961; READ in two open programs. The critique: H. Shawaqfeh, M. Farid, Solar Energy 55
/// (1995), READ (abstract).
///
/// # Errors
/// An input not finite, outside liquid water, or a lid warmer than the water.
///
/// # Examples
/// 80 °C against 78 °C: 1.76194 W/(m2 K) (COMPUTED independently):
/// ```
/// let hc = stillhot::correlation::headspace::convection_dunkle_1961(353.15, 351.15)?;
/// assert!((hc.value - 1.761941).abs() < 1e-4);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn convection_dunkle_1961(water_temperature: f64, lid_temperature: f64) -> Result<Value, Error> {
    let pw = water::saturation_pressure_if97(water_temperature)?;
    let pl = water::saturation_pressure_if97(lid_temperature)?;
    let dt = input::non_negative("water temperature above the lid's", water_temperature - lid_temperature, "K")?;
    // The buoyancy of vapour in air: 268900 Pa = p/(1 - Mw/Ma), where the relation has its pole.
    input::below("vapour pressure at the water", pw.value, "pole of the relation", 268_900.0, "Pa")?;
    let drive = dt + (pw.value - pl.value) * water_temperature / (268_900.0 - pw.value);
    let validity = pw.validity.and(pl.validity).check(
        "water temperature",
        water_temperature,
        "K",
        CELSIUS_ZERO..=CELSIUS_ZERO + 80.0,
    );
    Value::new(0.884 * drive.cbrt(), validity)
}

/// Heat carried by evaporation in such a space \[W/m2\]: `q = 0.016273 hc (pw - pl)`, with hc by
/// [`convection_dunkle_1961`]; inputs, range and source as there.
///
/// # Errors
/// As [`convection_dunkle_1961`].
///
/// # Examples
/// 80 °C against 78 °C: 53.21 W/(m2 K) times 2 K (COMPUTED independently):
/// ```
/// let q = stillhot::correlation::headspace::evaporation_dunkle_1961(353.15, 351.15)?;
/// assert!((q.value / 2.0 - 53.20987).abs() < 5e-3);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn evaporation_dunkle_1961(water_temperature: f64, lid_temperature: f64) -> Result<Value, Error> {
    let hc = convection_dunkle_1961(water_temperature, lid_temperature)?;
    let pw = water::saturation_pressure_if97(water_temperature)?.value;
    let pl = water::saturation_pressure_if97(lid_temperature)?.value;
    hc.map(|hc| 0.016_273 * hc * (pw - pl))
}

/// Condensation from vapour that holds air, on an upright wall \[W/(m2 K)\].
///
/// ```text
/// h = 380 (Y/(1 - Y))^0.7
/// ```
/// `vapour_mass_fraction` Y \[1\], range 0.10 to 0.80, above 0 and below 1. Made for large vessels at constant density of
/// air; elsewhere within a factor of two (READ, abstract of a critique).
///
/// Source: H. Uchida, A. Oyama, Y. Togo, Evaluation of post-incident cooling systems, 1965; READ in an open flow program.
///
/// # Errors
/// A fraction not above 0 or not below 1.
///
/// # Examples
/// Half and half gives the constant itself:
/// ```
/// let h = stillhot::correlation::headspace::condensation_uchida_1965(0.5)?;
/// assert!((h.value - 380.0).abs() < 1e-9);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn condensation_uchida_1965(vapour_mass_fraction: f64) -> Result<Value, Error> {
    let y = input::positive("vapour mass fraction", vapour_mass_fraction, "1")?;
    input::below("vapour mass fraction", y, "whole", 1.0, "1")?;
    let validity = Validity::Inside.check("vapour mass fraction", y, "1", 0.1..=0.8);
    Value::new(380.0 * (y / (1.0 - y)).powf(0.7), validity)
}

/// Lewis number of water vapour in air \[1\], thermal over mass diffusivity; textbook, MEMORY.
pub const LEWIS_NUMBER_VAPOUR: f64 = 0.85;

/// Mass transfer coefficient from a heat transfer coefficient \[m/s\]: `hm = hc/(rho cp Le^(2/3))`.
///
/// `convection` hc \[W/(m2 K)\]; `density` rho \[kg/m3\] and `specific_heat` cp \[J/(kg K)\] of the gas; `lewis` Le \[1\],
/// for vapour in air [`LEWIS_NUMBER_VAPOUR`]. For weak evaporation; near the boil the drift of the vapour adds.
///
/// Source: T. H. Chilton, A. P. Colburn, Ind. Eng. Chem. 26 (1934) 1183, <https://doi.org/10.1021/ie50299a012>; MEMORY.
///
/// # Errors
/// An input not finite; a convection below zero; any other not above zero.
///
/// # Examples
/// 3 W/(m2 K) in air of 1 kg/m3 and 1006 J/(kg K): 3.32 mm/s (COMPUTED):
/// ```
/// use stillhot::correlation::headspace;
/// let hm = headspace::mass_transfer_lewis(3.0, 1.0, 1006.0, headspace::LEWIS_NUMBER_VAPOUR)?;
/// assert!((hm.value - 3.3235e-3).abs() < 1e-6);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn mass_transfer_lewis(convection: f64, density: f64, specific_heat: f64, lewis: f64) -> Result<Value, Error> {
    let hc = input::non_negative("convection", convection, "W/(m2 K)")?;
    let rho = input::positive("density", density, "kg/m3")?;
    let cp = input::positive("specific heat", specific_heat, "J/(kg K)")?;
    let le = input::positive("Lewis number", lewis, "1")?;
    Value::new(hc / (rho * cp * le.powf(2.0 / 3.0)), Validity::Inside)
}
