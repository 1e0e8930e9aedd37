//! Gaps at one level: gas of both sides passes at once, the light one out and the heavy one in, or only diffuses.
//!
//! The flows are equal volumes each way (Boussinesq). Near the boil, where the pot gives off vapour, less comes in than
//! goes out: take the answers for saturated gas as upper ones.

use super::super::constants::STANDARD_GRAVITY;
use super::super::moist_air::{self, MoistState};
use super::super::{Validity, Value, input};
use super::opening::{Opening, vertical_opening_brown_solvason};
use super::slit::{Slit, SlitGas, slit_flow};
use crate::numeric::roots::bracketed_root;
use crate::{Error, ErrorKind, Within};

/// The gas on its way between two spaces that differ.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exchanging {
    /// Mean density rho \[kg/m3\].
    pub density: f64,
    /// Density outside less density inside drho \[kg/m3\]: above zero where the inside is the lighter.
    pub density_difference: f64,
    /// Viscosity mu \[Pa s\].
    pub viscosity: f64,
    /// Diffusivity D of vapour in air \[m2/s\].
    pub diffusivity: f64,
}

impl Exchanging {
    /// From the states on both sides: densities of each, viscosity by Wilke's rule and diffusivity (ASHRAE) at the mean
    /// temperature and mean vapour content.
    ///
    /// `pressure` \[Pa\]; temperatures 273.15 to 373.15 K, outside it still answers. Relations of
    /// [`moist_air`](super::super::moist_air).
    ///
    /// # Errors
    /// An input not finite or not physical, a vapour pressure above the pressure ("inside: vapour pressure").
    ///
    /// # Examples
    /// ```
    /// use stillhot::correlation::{leak::Exchanging, moist_air::MoistState};
    /// let inside = MoistState { temperature: 363.15, vapour_pressure: 1023.447 };
    /// let outside = MoistState { temperature: 288.15, vapour_pressure: 1023.447 };
    /// let gas = Exchanging::between(inside, outside, 101_325.0)?;
    /// // COMPUTED independently
    /// assert!((gas.density_difference - 0.2520).abs() < 1e-4);
    /// # Ok::<(), stillhot::Error>(())
    /// ```
    pub fn between(inside: MoistState, outside: MoistState, pressure: f64) -> Result<Exchanging, Error> {
        Ok(Sides::new(inside, outside, pressure)?.between)
    }

    pub(super) fn checked(&self) -> Result<(), Error> {
        input::positive("mean density", self.density, "kg/m3")?;
        input::finite("density difference", self.density_difference, "kg/m3")?;
        input::positive("viscosity", self.viscosity, "Pa s")?;
        input::positive("diffusivity", self.diffusivity, "m2/s")?;
        Ok(())
    }

    /// g drho \[N/m3\], above zero.
    fn weight(&self) -> f64 {
        STANDARD_GRAVITY * self.density_difference.abs()
    }

    fn slit_gas(&self) -> SlitGas {
        SlitGas { density: self.density, viscosity: self.viscosity }
    }
}

/// The gas on both sides of a gap, and on its way between them: what every gap between two spaces asks for, made once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sides {
    /// State inside.
    pub(super) inside: MoistState,
    /// State outside.
    pub(super) outside: MoistState,
    /// Total pressure \[Pa\].
    pub(super) pressure: f64,
    /// Density inside \[kg/m3\].
    pub(super) light: Value,
    /// Density outside \[kg/m3\].
    pub(super) heavy: Value,
    /// On its way.
    pub between: Exchanging,
}

impl Sides {
    /// Gas `inside` and `outside` at one `pressure` \[Pa\]; ranges and errors as [`Exchanging::between`].
    ///
    /// # Errors
    /// As there.
    pub fn new(inside: MoistState, outside: MoistState, pressure: f64) -> Result<Sides, Error> {
        let density = |state: MoistState, side: &str| {
            moist_air::density(state.temperature, pressure, state.vapour_pressure).within(side)
        };
        let (light, heavy) = (density(inside, "inside")?, density(outside, "outside")?);
        let mean = 0.5 * inside.temperature + 0.5 * outside.temperature;
        let fraction = 0.5 * (inside.vapour_pressure / pressure + outside.vapour_pressure / pressure);
        let between = Exchanging {
            density: 0.5 * light.value + 0.5 * heavy.value,
            density_difference: heavy.value - light.value,
            viscosity: moist_air::viscosity_wilke(mean, fraction)?.value,
            diffusivity: moist_air::vapour_diffusivity_ashrae(mean, pressure)?.value,
        };
        Ok(Sides { inside, outside, pressure, light, heavy, between })
    }
}

/// What sets an exchange.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Limit {
    /// Diffusion alone: the gas stands.
    Diffusion,
    /// Convection against friction, with diffusion between the two streams.
    Convection,
    /// The friction of two layers that slide over one another.
    Friction,
    /// Inertia: the gas cannot be sped up faster.
    Inertia,
}

/// Exchange through a gap at one level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exchange {
    /// Volume of gas exchanged each way \[m3/s\]; of diffusion, the volume that would carry as much vapour.
    pub volume_flow: f64,
    /// That volume if the gas stood still, D P w/d \[m3/s\].
    pub diffusion: f64,
    /// What set it.
    pub limit: Limit,
    /// Whether gap and gas are inside the range of the relation.
    pub validity: Validity,
}

/// Diffusion through a gap, the least that any exchange can be \[m3/s\].
fn diffusion(slit: &Slit, gas: &Exchanging) -> Result<f64, Error> {
    Ok(Value::new(gas.diffusivity * slit.mouth()? / slit.depth, Validity::Inside)?.value)
}

/// The smallest of the limits, but never less than diffusion.
fn least(diffusion: f64, limits: &[(Limit, f64)], validity: Validity) -> Result<Exchange, Error> {
    let mut set = (Limit::Convection, f64::INFINITY);
    for &(limit, flow) in limits {
        if flow < set.1 {
            set = (limit, flow);
        }
    }
    if set.1 <= diffusion {
        set = (Limit::Diffusion, diffusion);
    }
    Ok(Exchange { volume_flow: Value::new(set.1, validity)?.value, diffusion, limit: set.0, validity })
}

/// Exchange of two gases that slide over one another in a level slit, density falling evenly across it, one way and per
/// metre \[m2/s\]: `q = g |drho| w^4/(384 mu d)`.
///
/// `slit`, of which width w and depth d count; `gas`. Source: parallel flow in the core, COMPUTED. A sharp
/// interface between two layers, g |drho| w^4/(420 mu d), gives 9 % less.
///
/// # Errors
/// An input not finite or not above zero.
///
/// # Examples
/// ```
/// use stillhot::correlation::leak::{self, Exchanging, Slit};
/// let gas = Exchanging { density: 1.0, density_difference: 0.5, viscosity: 1.6e-5, diffusivity: 3e-5 };
/// let slit = Slit { width: 0.005, depth: 0.05, length: 1.2, bends: 0 };
/// let q = leak::viscous_exchange_linear(&slit, &gas)?;
/// // COMPUTED independently
/// assert!((q.value - 9.975840251e-6).abs() < 1e-14);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn viscous_exchange_linear(slit: &Slit, gas: &Exchanging) -> Result<Value, Error> {
    viscous_exchange(slit, gas, 384.0)
}

fn viscous_exchange(slit: &Slit, gas: &Exchanging, number: f64) -> Result<Value, Error> {
    let validity = slit.checked()?;
    gas.checked()?;
    Value::new(gas.weight() * slit.width.powi(4) / (number * gas.viscosity * slit.depth), validity)
}

/// The same for a sharp interface between the two \[m2/s\]: `q = g |drho| w^4/(420 mu d)`; inputs as
/// [`viscous_exchange_linear`].
///
/// Source: lubrication flow of two layers, (g drho/3 mu) h^3 (w - h)^3/w^3 dh/dx integrated over the depth, COMPUTED.
///
/// # Errors
/// As [`viscous_exchange_linear`].
///
/// # Examples
/// ```
/// use stillhot::correlation::leak::{self, Exchanging, Slit};
/// let gas = Exchanging { density: 1.0, density_difference: 0.5, viscosity: 1.6e-5, diffusivity: 3e-5 };
/// let slit = Slit { width: 0.005, depth: 0.05, length: 1.2, bends: 0 };
/// let q = leak::viscous_exchange_sharp(&slit, &gas)?;
/// // COMPUTED independently
/// assert!((q.value - 9.120768229e-6).abs() < 1e-14);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn viscous_exchange_sharp(slit: &Slit, gas: &Exchanging) -> Result<Value, Error> {
    viscous_exchange(slit, gas, 420.0)
}

/// Exchange through a level slit of height w between two spaces side by side: the rim of a resting lid.
///
/// ```text
/// Q = (D P w/d) Nu,   Nu = 1 + (Ra w/d)^2/9!,   Ra = g |drho| w^3/(mu D)
/// ```
/// never more than the two layers' friction allows ([`viscous_exchange_linear`] times P) nor than inertia does
/// ([`vertical_opening_brown_solvason`] of height w), and never less than diffusion. `slit`, width 0.05 to 6 mm and depth over width above 3; `gas`. Valid while Nu is below 2. Below a width
/// of some 5 mm it is diffusion only.
///
/// Source: D. E. Cormack, L. G. Leal, J. Imberger, J. Fluid Mech. 65 (1974), MEMORY, and A. Bejan, C. L. Tien, Laminar
/// natural convection in a horizontal cavity with different end temperatures, J. Heat Transfer 100 (1978), READ
/// (abstract: three regimes); the constant derived anew, COMPUTED.
///
/// # Errors
/// An input not finite or not above zero.
///
/// # Examples
/// 1 mm by 50 mm, 1.2 m long, D at 52.5 °C: 0.0026 m3/h (COMPUTED independently):
/// ```
/// use stillhot::correlation::leak::{self, Exchanging, Limit, Slit};
/// let gas = Exchanging { density: 1.1, density_difference: 0.25, viscosity: 1.96e-5, diffusivity: 3.065e-5 };
/// let slit = Slit { width: 0.001, depth: 0.05, length: 1.2, bends: 0 };
/// let exchange = leak::rim_slit_exchange(&slit, &gas)?;
/// assert_eq!(exchange.limit, Limit::Diffusion);
/// assert!((exchange.volume_flow * 3600.0 - 0.002648).abs() < 1e-6);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn rim_slit_exchange(slit: &Slit, gas: &Exchanging) -> Result<Exchange, Error> {
    let friction = viscous_exchange_linear(slit, gas)?;
    let still = diffusion(slit, gas)?;
    let w = slit.width;
    let rayleigh = gas.weight() * w.powi(3) / (gas.viscosity * gas.diffusivity);
    let nusselt = Value::new(1.0 + (rayleigh * w / slit.depth).powi(2) / 362_880.0, friction.validity)?.value;
    // Here the inertial formula is a ceiling only, so its own range (a centimetre and more) is not asked for.
    let opening = Opening { width: slit.length, height: w, coefficient: 0.6 };
    let inertia = vertical_opening_brown_solvason(&opening, gas)?.value;
    least(
        still,
        &[
            // A per cent of convection is no convection yet.
            (if nusselt > 1.01 { Limit::Convection } else { Limit::Diffusion }, still * nusselt),
            (Limit::Friction, friction.value * slit.length),
            (Limit::Inertia, inertia),
        ],
        friction.validity.check("Nusselt number", nusselt, "1", 1.0..=2.0),
    )
}

/// Exchange in an upright Hele-Shaw cell open at both ends; see [`hele_shaw_exchange`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeleShaw {
    /// Speed of the streams against diffusion, V d/D \[1\].
    pub peclet: f64,
    /// Exchange against diffusion alone \[1\].
    pub nusselt: f64,
}

/// Rayleigh number at which gas in an open upright slit begins to move.
const ONSET: f64 = 12.0;

/// Exchange through an upright thin slit, light gas below and heavy above, open at both ends, up in some stretches of its
/// length and down in others.
///
/// ```text
/// v = Ra (coth(v/2)/2 - 1/v),   Nu = (v/2) coth(v/2),   Ra = g drho w^2 d/(12 mu D)
/// ```
/// `rayleigh` Ra \[1\], at least 0: up to 12 the gas stands (v = 0, Nu = 1), far above Nu tends to Ra/4. Walls that
/// neither hold nor conduct heat.
///
/// Source: long-wave solution of Darcy flow, COMPUTED; its onset checked by a simulation in two dimensions, which gave
/// 0.69 to 0.83 of Nu from Ra 16 to 300: see [`PLUG_FACTOR`].
///
/// # Errors
/// A Rayleigh number not finite or below zero.
///
/// # Examples
/// ```
/// let cell = stillhot::correlation::leak::hele_shaw_exchange(20.0)?;
/// // COMPUTED independently
/// assert!((cell.peclet - 7.258819872).abs() < 1e-8);
/// assert!((cell.nusselt - 3.634523297).abs() < 1e-8);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn hele_shaw_exchange(rayleigh: f64) -> Result<HeleShaw, Error> {
    let ra = input::non_negative("Rayleigh number", rayleigh, "1")?;
    if ra <= ONSET {
        return Ok(HeleShaw { peclet: 0.0, nusselt: 1.0 });
    }
    if ra >= 100.0 {
        // Here v > 47 and coth(v/2) is 1 to the last digit: v^2 - v Ra/2 + Ra = 0.
        let v = 0.25 * ra * (1.0 + (1.0 - 16.0 / ra).sqrt());
        return Ok(HeleShaw { peclet: v, nusselt: 0.5 * v });
    }
    let v = bracketed_root(|v| ra * langevin_slope(v) - 1.0, 0.0, 0.5 * ra, 0.0).map_err(|_| {
        Error::new(ErrorKind::NoConvergence, "the exchange of the slit was not found").with_value(format!("{ra}"))
    })?;
    // Very near the onset v underflows into the rounding of 1/12: then v = 0 and v coth(v/2)/2 = 1.
    let nusselt = if v < 1e-6 { 1.0 } else { 0.5 * v / (0.5 * v).tanh() };
    Ok(HeleShaw { peclet: v, nusselt })
}

/// `(coth(v/2)/2 - 1/v)/v`, which falls from 1/12 to 0; by its power series where the difference would cancel.
fn langevin_slope(v: f64) -> f64 {
    if v < 0.3 {
        let s = v * v;
        1.0 / 12.0 - s * (1.0 / 720.0 - s * (1.0 / 30_240.0 - s * (1.0 / 1_209_600.0 - s / 47_900_160.0)))
    } else {
        (0.5 / (0.5 * v).tanh() - 1.0 / v) / v
    }
}

/// Part of the exchange of [`hele_shaw_exchange`] that a simulation in two dimensions found (0.69 to 0.83) \[1\]; COMPUTED.
pub const PLUG_FACTOR: f64 = 0.75;

/// Factor by which [`plug_slit_exchange`] may be too high or too low once the gas moves, since walls that hold their
/// temperature hinder it: fit it to a cooling log where there is one \[1\]; ESTIMATE.
pub const PLUG_UNCERTAINTY: f64 = 3.0;

/// Exchange through an upright slit all round, warm gas below and cold above: the gap round a plug lid.
///
/// ```text
/// Q = (D P w/d) max(1, f 0.75 Nu(Ra)),   Ra = g drho w^2 d/(12 mu D)
/// ```
/// with Nu of [`hele_shaw_exchange`] and 0.75 the [`PLUG_FACTOR`]; never more than [`slit_flow`] through half the length
/// under g drho d/2, never less than diffusion. `slit`, width 0.05 to 6 mm and depth over width above 3; `gas`: where the
/// inside is not the lighter, diffusion is left; `factor` f on the convection \[1\], 1 or an end of its
/// [uncertainty](PLUG_UNCERTAINTY).
///
/// Source: COMPUTED, as there.
///
/// # Errors
/// An input not finite or not above zero.
///
/// # Examples
/// 2 mm by 50 mm, 1.2 m long, 90 °C and dry against 15 °C: 0.064 m3/h (COMPUTED independently):
/// ```
/// use stillhot::correlation::{leak::{self, Exchanging, Slit}, moist_air::MoistState};
/// let state = |temperature| MoistState { temperature, vapour_pressure: 1023.447 };
/// let gas = Exchanging::between(state(363.15), state(288.15), 101_325.0)?;
/// let slit = Slit { width: 0.002, depth: 0.05, length: 1.2, bends: 0 };
/// assert!((leak::plug_slit_exchange(&slit, &gas, 1.0)?.volume_flow * 3600.0 - 0.064).abs() < 5e-4);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn plug_slit_exchange(slit: &Slit, gas: &Exchanging, factor: f64) -> Result<Exchange, Error> {
    let factor = input::positive("factor on the convection", factor, "1")?;
    let validity = slit.checked()?;
    gas.checked()?;
    let still = diffusion(slit, gas)?;
    let weight = STANDARD_GRAVITY * gas.density_difference.max(0.0);
    let rayleigh = weight * slit.width * slit.width * slit.depth / (12.0 * gas.viscosity * gas.diffusivity);
    let convection = still * factor * PLUG_FACTOR * hele_shaw_exchange(rayleigh)?.nusselt;
    let half = Slit { length: 0.5 * slit.length, ..*slit };
    let cap = slit_flow(&half, &gas.slit_gas(), 0.5 * weight * slit.depth)?;
    let mostly = if cap.exponent > 0.75 { Limit::Friction } else { Limit::Inertia };
    least(still, &[(Limit::Convection, convection), (mostly, cap.volume_flow)], validity.and(cap.validity))
}

/// How the faces of an upright slit meet the heat of the gas.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SlitWalls {
    /// They take up none.
    Insulating,
    /// They hold their own temperature.
    Conducting,
}

/// Width of an upright slit from which gas begins to move in it \[m\].
///
/// ```text
/// insulating   g drho w^2 d/(12 mu D) = 12
/// conducting   g drho w^4/(d mu D) = pi^4
/// ```
/// `depth` d \[m\]; `gas`, the lighter inside. Foam lies between the two.
///
/// Source: linear stability of long waves, COMPUTED.
///
/// # Errors
/// An input not finite or not above zero, the density difference included.
///
/// # Examples
/// Saturated at 90 °C against 15 °C and 60 %, 50 mm deep: 0.54 mm (COMPUTED independently):
/// ```
/// use stillhot::correlation::{leak::{self, Exchanging, SlitWalls}, moist_air::MoistState};
/// let inside = MoistState { temperature: 363.15, vapour_pressure: 70_182.0 };
/// let outside = MoistState { temperature: 288.15, vapour_pressure: 1023.447 };
/// let gas = Exchanging::between(inside, outside, 101_325.0)?;
/// let w = leak::plug_onset_width(0.05, &gas, SlitWalls::Insulating)?;
/// assert!((w.value - 0.00054).abs() < 1e-5);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn plug_onset_width(depth: f64, gas: &Exchanging, walls: SlitWalls) -> Result<Value, Error> {
    gas.checked()?;
    let d = input::positive("gap depth", depth, "m")?;
    input::positive("density difference", gas.density_difference, "kg/m3")?;
    let cube = gas.viscosity * gas.diffusivity / gas.weight();
    let width = match walls {
        SlitWalls::Insulating => (12.0 * ONSET * cube / d).sqrt(),
        SlitWalls::Conducting => std::f64::consts::PI * (d * cube).sqrt().sqrt(),
    };
    let slender = Value::new(d / width, Validity::Inside)?.value;
    Value::new(width, Validity::Inside.check("depth over width", slender, "1", 3.0..=f64::INFINITY))
}

/// Exchange through an upright seam of height H: the edge of a side door, the overlap of a sleeve.
///
/// ```text
/// A V + B V^2 = g |drho| z,   Q = w int_0^(H/2) V dz = w (A V1^2/2 + 2 B V1^3/3)/(g |drho|),   V1 = V(H/2)
/// ```
/// The neutral level lies at half height; out above it, in below. Friction A and inertia B of [`slit_flow`]; where
/// friction rules, Q = w^3 g |drho| H^2/(96 mu d). `slit`, whose `length` is the height H \[m\]; `gas`. Never less than
/// diffusion. Range of [`slit_flow`], with the pressure at the ends.
///
/// Source: hydrostatics and the slit law, integrated, COMPUTED.
///
/// # Errors
/// An input not finite or not above zero.
///
/// # Examples
/// A gap of 0.5 mm is laminar: the closed form within 1 % (COMPUTED):
/// ```
/// use stillhot::correlation::leak::{self, Exchanging, Slit};
/// let gas = Exchanging { density: 1.1, density_difference: 0.25, viscosity: 1.96e-5, diffusivity: 3e-5 };
/// let seam = Slit { width: 0.0005, depth: 0.05, length: 0.3, bends: 0 };
/// let laminar = 0.0005_f64.powi(3) * 9.80665 * 0.25 * 0.3 * 0.3 / (96.0 * 1.96e-5 * 0.05);
/// assert!((leak::seam_exchange(&seam, &gas)?.volume_flow / laminar - 1.0).abs() < 0.01);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn seam_exchange(slit: &Slit, gas: &Exchanging) -> Result<Exchange, Error> {
    slit.checked()?;
    gas.checked()?;
    let still = diffusion(slit, gas)?;
    let weight = gas.weight();
    let end = slit_flow(slit, &gas.slit_gas(), 0.5 * weight * slit.length)?;
    // With n = (A + B V)/(A + 2 B V): the integral over the whole, A V^2/2 + 2 B V^3/3, is V dp (1/2 + (1 - n)/(6 n)).
    let mean_over_end = 0.5 + (1.0 - end.exponent) / (6.0 * end.exponent);
    let through = 0.5 * slit.length * slit.width * end.speed * mean_over_end;
    let mostly = if end.exponent > 0.75 { Limit::Friction } else { Limit::Inertia };
    least(still, &[(mostly, through)], end.validity)
}
