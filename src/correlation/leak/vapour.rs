//! Vapour on its way from the pot through the box to the outside, two resistances in series, with or without a liner on
//! which it condenses.

use super::super::constants::{GAS_CONSTANT, MOLAR_MASS_WATER};
use super::super::moist_air::{self, MoistState};
use super::super::{Validity, Value, input, water};
use super::slit::Slit;
use crate::numeric::roots::{Near, root_of_falling};
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
    /// The liner; none where the walls take up no water or stay warmer than the vapour's dew point in any case.
    pub liner: Option<Liner>,
    /// A gap of the box through which vapour diffuses besides that flow. Where a one-level gap only diffuses
    /// ([`Limit::Diffusion`](super::Limit::Diffusion)), give it here and no flow: out of moist gas vapour drifts half as
    /// fast again as the exchanged volume would carry it.
    pub box_gap: Option<Slit>,
    /// State outside.
    pub outside: MoistState,
    /// Total pressure \[Pa\].
    pub pressure: f64,
}

/// What vapour condenses on, and dries from where it is wet; see [`vapour_balance`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Liner {
    /// Temperature \[K\], below boiling.
    pub temperature: f64,
    /// Mass transfer coefficient times area \[m3/s\], as of [`PotMouth::Open`]; not below zero.
    pub transfer: f64,
    /// Share of it that is wet \[1\], 0 to 1.
    pub wet: f64,
}

/// A dry liner takes up vapour by and by while the saturation at it is passed by so much (ours: hardly a tenth to a third of a
/// kelvin, and the balance has no kink there).
const ONSET: f64 = 0.01;

/// A liner at a pressure, ready to be asked.
struct Taking {
    wet: f64,
    /// \[kg/s\]
    conductance: f64,
    /// Saturation at it \[Pa\].
    dew: Value,
    /// Drive over which a dry one begins to take.
    onset: f64,
}

impl Taking {
    fn of(liner: &Liner, pressure: f64) -> Result<Self, Error> {
        let dew = water::saturation_pressure_if97(liner.temperature)?;
        input::below("vapour pressure", dew.value, "total pressure", pressure, "Pa")?;
        let transfer = input::non_negative("mass transfer", liner.transfer, "m3/s")?;
        Ok(Taking {
            wet: input::fraction("wet share", liner.wet)?,
            conductance: stefan_conductance(transfer, pressure, liner.temperature)?,
            dew,
            onset: ONSET * dew.value / (pressure - dew.value),
        })
    }

    /// Flow out of gas at a vapour pressure \[kg/s\]: what is wet takes and gives, what is dry only takes.
    fn flow(&self, pressure: f64, vapour: f64) -> f64 {
        let drive = stefan(1.0, pressure, vapour, self.dew.value);
        let dry = if drive <= 0.0 {
            0.0
        } else if drive < self.onset {
            0.5 * drive * drive / self.onset
        } else {
            drive - 0.5 * self.onset
        };
        self.conductance * (self.wet * drive + (1.0 - self.wet) * dry)
    }
}

/// Where the vapour goes; see [`vapour_balance`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VapourBalance {
    /// Vapour that leaves the pot \[kg/s\]; the food loses its latent heat. Below zero if the outside is the moister.
    pub rim_flow: f64,
    /// Vapour that leaves the box \[kg/s\]: the part whose heat is lost.
    pub flow_out: f64,
    /// Vapour that condenses on the liner \[kg/s\], which gains its latent heat: no loss, a bypass of the gap between. Below
    /// zero where a wet liner dries.
    pub condensing_flow: f64,
    /// Vapour pressure of the air in the box \[Pa\].
    pub box_vapour_pressure: f64,
    /// How the vapour that would come in less what would go falls with that pressure \[kg/(s Pa)\].
    pub(crate) slope: f64,
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
/// Jc = P3 p Mw/(R T3) s(ln((p - psat(T3))/(p - pb)))            box to liner, s as below
/// J1 = J2 + Jc
/// ```
/// `path` holds the parts; `flow` gives the gas Q that leaves, at the temperature of the box air \[m3/s\], not below zero,
/// at a vapour pressure pb \[Pa\]: moist gas is lighter, so it may rise with the pressure, and the balance still has one
/// answer. It is found to `tolerance` \[Pa\], not below zero, the sooner if a balance `near` to it is given. s is its
/// argument x where the liner is wet; where it is dry it is 0 below saturation, and above it x, but for a gentle onset
/// over the first hundredth. How wet it is, and what its water weighs, is the caller's to follow.
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
/// use stillhot::correlation::leak::{self, Liner, PotMouth, Slit, VapourPath};
/// use stillhot::correlation::moist_air::MoistState;
/// let rim = Slit { width: 0.0003, depth: 0.008, length: std::f64::consts::PI * 0.24, bends: 0 };
/// let path = VapourPath {
///     mouth: PotMouth::Rim(rim),
///     pot_temperature: 363.15,
///     box_temperature: 355.15,
///     liner: Some(Liner { temperature: 355.15, transfer: 5e-4, wet: 0.0 }),
///     box_gap: None,
///     outside: MoistState { temperature: 288.15, vapour_pressure: 1023.447 },
///     pressure: 101_325.0,
/// };
/// let balance = leak::vapour_balance(&path, 0.0, None, |_| Ok(0.2 / 3600.0))?;
/// assert!((balance.box_vapour_pressure - 3209.122715).abs() < 0.32);
/// assert!((balance.flow_out - 7.408118913e-7).abs() < 7.4e-11);
/// assert_eq!(balance.condensing_flow, 0.0);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn vapour_balance(
    path: &VapourPath,
    tolerance: f64,
    near: Option<&VapourBalance>,
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
    let liner = path.liner.map(|liner| Taking::of(&liner, p)).transpose().within("liner")?;
    let onto_liner = |pb: f64| liner.as_ref().map_or(0.0, |liner| liner.flow(p, pb));
    let surplus = |pb: f64| out(pb).map_or(f64::NAN, |out| from_pot(pb) - out - onto_liner(pb));

    if let Some(liner) = &liner {
        validity = validity.and(liner.dew.validity);
    }
    // Each way has its own pressure at which it carries nothing; the surplus falls through zero between them.
    let ends = [Some(po), (mouth > 0.0).then_some(food.value), liner.as_ref().map(|liner| liner.dew.value)];
    let ends = ends.into_iter().flatten();
    let (low, high) = ends.fold((f64::INFINITY, 0.0_f64), |(low, high), end| (low.min(end), high.max(end)));
    let guess = near.map_or(Near::UNKNOWN, |near| Near { root: near.box_vapour_pressure, slope: near.slope });
    let Near { root: pb, slope } = root_of_falling(surplus, guess, [low, high], tolerance)
        .map_err(|_| Error::new(ErrorKind::OutOfRange, "the inputs are so extreme that the vapour has no balance"))?;
    let balance = if onto_liner(pb) == 0.0 {
        // Both laws give the one flow; the one with the larger drop loses fewer digits.
        let by_rim = mouth > 0.0 && (food.value - pb).abs() > (pb - po).abs();
        let through = if by_rim || mouth == 0.0 { from_pot(pb) } else { out(pb)? };
        let (rim_flow, flow_out, condensing_flow) = (through, through, 0.0);
        VapourBalance { rim_flow, flow_out, condensing_flow, box_vapour_pressure: pb, slope, validity }
    } else {
        let (rim_flow, flow_out) = (from_pot(pb), out(pb)?);
        let condensing_flow = rim_flow - flow_out;
        VapourBalance { rim_flow, flow_out, condensing_flow, box_vapour_pressure: pb, slope, validity }
    };
    for number in [balance.rim_flow, balance.flow_out, balance.condensing_flow] {
        Value::new(number, balance.validity)?;
    }
    Ok(balance)
}
