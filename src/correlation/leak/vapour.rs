//! Vapour on its way from the pot through the box to the outside, two resistances in series, with or without a liner on
//! which it condenses.

use super::super::constants::{GAS_CONSTANT, MOLAR_MASS_WATER};
use super::super::moist_air::{self, MoistState};
use super::super::{Validity, Value, input, water};
use super::slit::Slit;
use crate::numeric::roots::root_of_falling;
use crate::{Error, ErrorKind, Within};

/// How the vapour leaves the pot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PotMouth {
    /// Not at all.
    Sealed,
    /// Past the rim of a loose lid: the perimeter is the slit's `length`, the overlap its `depth`.
    Rim(Slit),
    /// From the open surface: mass transfer coefficient times area \[m3/s\]
    /// ([`headspace::mass_transfer_lewis`](super::super::headspace::mass_transfer_lewis)), not below zero.
    Open(f64),
}

/// The way of the vapour; see [`vapour_balance`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VapourPath {
    /// How it leaves the pot.
    pub mouth: PotMouth,
    /// Temperature of the food \[K\], below boiling.
    pub pot_temperature: f64,
    /// Temperature of the air in the box \[K\].
    pub box_temperature: f64,
    /// Temperature of the liner \[K\], on which vapour above its saturation pressure condenses; none where the walls take
    /// up no water or stay warmer than the vapour's dew point in any case.
    pub liner_temperature: Option<f64>,
    /// A gap of the box through which vapour diffuses besides that flow. Where a one-level gap only diffuses
    /// ([`Limit::Diffusion`](super::Limit::Diffusion)), give it here and no flow: out of moist gas vapour drifts half as
    /// fast again as the exchanged volume would carry it.
    pub box_gap: Option<Slit>,
    /// State outside.
    pub outside: MoistState,
    /// Total pressure \[Pa\].
    pub pressure: f64,
}

/// Where the vapour goes; see [`vapour_balance`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VapourBalance {
    /// Vapour that leaves the pot \[kg/s\]; the food loses its latent heat. Below zero if the outside is the moister.
    pub rim_flow: f64,
    /// Vapour that leaves the box \[kg/s\]: the part whose heat is lost.
    pub flow_out: f64,
    /// Vapour that condenses on the liner \[kg/s\], which gains its latent heat: no loss, a bypass of the gap between.
    pub condensing_flow: f64,
    /// Vapour pressure of the air in the box \[Pa\].
    pub box_vapour_pressure: f64,
    /// Whether all parts are inside their ranges.
    pub validity: Validity,
}

/// A resistance of Stefan's kind: `J = k ln((p - to)/(p - from))`, with k \[kg/s\] at hand.
fn stefan(conductance: f64, pressure: f64, from: f64, to: f64) -> f64 {
    conductance * ((from - to) / (pressure - from)).ln_1p()
}

/// `k = G p Mw/(R T)` of a path of conductance G \[m3/s\].
fn stefan_conductance(conductance: f64, pressure: f64, temperature: f64) -> Result<f64, Error> {
    input::finite(
        "vapour conductance",
        conductance * pressure * MOLAR_MASS_WATER / (GAS_CONSTANT * temperature),
        "kg/s",
    )
}

/// The same of a slit, with the verdict on it.
fn slit_conductance(slit: &Slit, pressure: f64, temperature: f64) -> Result<(f64, Validity), Error> {
    let validity = slit.checked()?;
    let d = moist_air::vapour_diffusivity_ashrae(temperature, pressure)?;
    let conductance = d.value * slit.mouth()? / slit.depth;
    Ok((stefan_conductance(conductance, pressure, temperature)?, validity.and(d.validity)))
}

/// Balance of the vapour in the air of a box.
///
/// ```text
/// J1 = P1 w1 p D Mw/(l1 R T1) ln((p - pb)/(p - psat(T1)))      pot to box
/// J2 = Q Mw (pb - po)/(R Tb) + diffusion through a box gap      box to outside
/// J1 = J2, unless pb would pass psat(liner): then pb = psat(liner) and Jc = J1 - J2 condenses
/// ```
/// `path` holds the parts; `flow` gives the gas Q that leaves, at the temperature of the box air \[m3/s\], not below zero,
/// at a vapour pressure pb \[Pa\]: moist gas is lighter, so it may rise with the pressure, and the balance still has one
/// answer. It is found to `tolerance` \[Pa\], not below zero, the sooner the better the `guess` \[Pa\] (NaN: none). Mass transfer to the liner is a thousand times that of the rim, so it is taken as perfect.
/// Condensate can dry again and wet insulation conducts better: the balance of the liner's water is the caller's.
/// Box air and gap: D at the temperature of the food for the rim, at the mean of box and outside for the gap.
///
/// Source: Stefan diffusion and a mass balance, COMPUTED.
///
/// # Errors
/// An input not finite or not physical ("outside: vapour pressure"); a food at or above the boiling point, where
/// [`steam_flow`](super::steam_flow) is what leaves the pot.
///
/// # Examples
/// Pot 240 mm wide at 90 °C, rim 0.3 mm by 8 mm, 0.2 m3/h out of the box: 3209 Pa and 0.741 mg/s (COMPUTED
/// independently):
/// ```
/// use stillhot::correlation::leak::{self, PotMouth, Slit, VapourPath};
/// use stillhot::correlation::moist_air::MoistState;
/// let rim = Slit { width: 0.0003, depth: 0.008, length: std::f64::consts::PI * 0.24, bends: 0 };
/// let path = VapourPath {
///     mouth: PotMouth::Rim(rim),
///     pot_temperature: 363.15,
///     box_temperature: 355.15,
///     liner_temperature: Some(355.15),
///     box_gap: None,
///     outside: MoistState { temperature: 288.15, vapour_pressure: 1023.447 },
///     pressure: 101_325.0,
/// };
/// let balance = leak::vapour_balance(&path, [0.0, f64::NAN], |_| Ok(0.2 / 3600.0))?;
/// assert!((balance.box_vapour_pressure - 3209.122715).abs() < 0.32);
/// assert!((balance.flow_out - 7.408118913e-7).abs() < 7.4e-11);
/// assert_eq!(balance.condensing_flow, 0.0);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn vapour_balance(
    path: &VapourPath,
    [tolerance, guess]: [f64; 2],
    flow: impl Fn(f64) -> Result<f64, Error>,
) -> Result<VapourBalance, Error> {
    let p = input::positive("pressure", path.pressure, "Pa")?;
    let tolerance = input::non_negative("tolerance", tolerance, "Pa")?;
    let tb = input::temperature("box temperature", path.box_temperature)?;
    let to = input::temperature("temperature", path.outside.temperature).within("outside")?;
    let po = input::non_negative("vapour pressure", path.outside.vapour_pressure, "Pa").within("outside")?;
    input::below("vapour pressure", po, "total pressure", p, "Pa").within("outside")?;
    let food = water::saturation_pressure_if97(path.pot_temperature).within("pot")?;
    input::below("vapour pressure", food.value, "total pressure", p, "Pa").within("pot")?;
    let mut validity = food.validity;

    let mouth = match path.mouth {
        PotMouth::Sealed => 0.0,
        PotMouth::Rim(rim) => {
            let (k, verdict) = slit_conductance(&rim, p, path.pot_temperature).within("rim")?;
            validity = validity.and(verdict);
            k
        }
        PotMouth::Open(conductance) => {
            let g = input::non_negative("mass transfer of the surface", conductance, "m3/s")?;
            stefan_conductance(g, p, path.pot_temperature)?
        }
    };
    let gap = match path.box_gap {
        None => 0.0,
        Some(slit) => {
            let (k, verdict) = slit_conductance(&slit, p, 0.5 * tb + 0.5 * to).within("box gap")?;
            validity = validity.and(verdict);
            k
        }
    };
    let carried = MOLAR_MASS_WATER / (GAS_CONSTANT * tb);
    let from_pot = |pb: f64| stefan(mouth, p, food.value, pb);
    let out = |pb: f64| {
        let flow = input::non_negative("flow that leaves", flow(pb)?, "m3/s")? * carried;
        input::finite("flow that leaves", flow, "kg/(s Pa)")?;
        Ok::<f64, Error>(flow * (pb - po) + stefan(gap, p, pb, po))
    };
    let surplus = |pb: f64| out(pb).map_or(f64::NAN, |out| from_pot(pb) - out);

    let liner = path.liner_temperature.map(water::saturation_pressure_if97).transpose().within("liner")?;
    if let Some(liner) = liner {
        validity = validity.and(liner.validity);
    }
    let (low, high) = (food.value.min(po), food.value.max(po));
    // The surplus falls with the pressure: where it is above zero at the dew point of the liner, the vapour would pass it.
    let dew = liner.map(|liner| liner.value).filter(|dew| match mouth {
        0.0 => po > *dew,
        _ => *dew < low || (*dew < high && surplus(*dew) > 0.0),
    });
    let balance = if let Some(dew) = dew {
        let (rim_flow, flow_out) = (from_pot(dew), out(dew)?);
        let condensing_flow = rim_flow - flow_out;
        VapourBalance { rim_flow, flow_out, condensing_flow, box_vapour_pressure: dew, validity }
    } else if mouth == 0.0 {
        VapourBalance { rim_flow: 0.0, flow_out: 0.0, condensing_flow: 0.0, box_vapour_pressure: po, validity }
    } else {
        let free = root_of_falling(surplus, guess, [low, high], tolerance).map_err(|_| {
            Error::new(ErrorKind::OutOfRange, "the inputs are so extreme that the vapour has no balance")
        })?;
        // Both laws give the one flow; the one with the larger drop loses fewer digits.
        let through = if (food.value - free).abs() > (free - po).abs() { from_pot(free) } else { out(free)? };
        VapourBalance {
            rim_flow: through,
            flow_out: through,
            condensing_flow: 0.0,
            box_vapour_pressure: free,
            validity,
        }
    };
    for number in [balance.rim_flow, balance.flow_out, balance.condensing_flow] {
        Value::new(number, balance.validity)?;
    }
    Ok(balance)
}
