//! Flow through a slit under a pressure: friction between the faces, and what is lost at its ends and bends.

use super::super::{Validity, Value, input};
use crate::numeric::roots::bracketed_root;
use crate::{Error, ErrorKind, Within};

/// A gap between two faces, seen as a channel of constant width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slit {
    /// Distance w of the faces \[m\]; of an uneven gap an [`EffectiveWidth`].
    pub width: f64,
    /// Way d along the flow \[m\].
    pub depth: f64,
    /// Length P across the flow, for a lid its perimeter \[m\].
    pub length: f64,
    /// Right-angle bends on the way.
    pub bends: u32,
}

/// The gas in a slit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlitGas {
    /// Density rho of the gas that enters \[kg/m3\].
    pub density: f64,
    /// Viscosity mu at the mean temperature of the slit \[Pa s\].
    pub viscosity: f64,
}

/// What a slit passes; see [`slit_flow`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlitFlow {
    /// Mean speed V \[m/s\], with the sign of the pressure.
    pub speed: f64,
    /// Flow per metre of gap q = V w \[m2/s\].
    pub flow_per_length: f64,
    /// Flow through the whole gap Q = V w P \[m3/s\].
    pub volume_flow: f64,
    /// Local exponent n of `Q ~ dp^n` \[1\]: 1 where friction rules, 1/2 where inertia does.
    pub exponent: f64,
    /// Reynolds number on the hydraulic diameter 2 w \[1\].
    pub reynolds: f64,
    /// Whether slit, pressure and flow are inside the range; a Reynolds number above it means turbulence.
    pub validity: Validity,
}

/// End loss of a straight slit in velocity heads: sharp inlet 0.5 and outlet 1.0. MEMORY; developing flow after a
/// rounded inlet gives 1 + 0.674 (R. K. Shah and A. L. London, READ in a technical note that quotes their table).
const END_LOSS: f64 = 1.5;

/// Widths for which the slit law stands \[m\]: below, slip flow; above, the opening is no slit.
const WIDTHS: std::ops::RangeInclusive<f64> = 5e-5..=6e-3;

/// Reynolds number on 2 w up to which the flow between plates surely stays laminar: transition at V w/nu 1300 to 1400, K.
/// Shimomukai and H. Kanda, ETNA 23 (2006), READ (abstract).
const LARGEST_LAMINAR_REYNOLDS: f64 = 2600.0;

/// Pressures for which the coefficients were made \[Pa\].
const LARGEST_PRESSURE: f64 = 100.0;

/// Square-law friction and inertia: `dp = linear x + quadratic x^2` for a speed or a flow x.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Resistance {
    linear: f64,
    quadratic: f64,
}

impl Resistance {
    /// The flow under a pressure, of the same sign. No difference of near numbers, whichever term rules.
    fn flow(&self, pressure: f64) -> f64 {
        let root = self.linear.hypot(2.0 * (self.quadratic * pressure.abs()).sqrt());
        2.0 * pressure / (self.linear + root)
    }

    fn pressure(&self, flow: f64) -> f64 {
        self.linear * flow + self.quadratic * flow * flow.abs()
    }

    fn exponent(&self, flow: f64) -> f64 {
        let inertia = self.quadratic * flow.abs();
        (self.linear + inertia) / (self.linear + 2.0 * inertia)
    }
}

impl Slit {
    /// Area of the mouth w P \[m2\].
    ///
    /// # Errors
    /// A width or length not finite or not above zero.
    pub fn mouth(&self) -> Result<f64, Error> {
        let w = input::positive("gap width", self.width, "m")?;
        input::positive("area of the gap", w * input::positive("gap length", self.length, "m")?, "m2")
    }

    /// Refuses what is no slit, and says whether it is one of those the slit laws were made for: deeper than three
    /// widths (one that is not even as deep as wide is an orifice).
    pub(super) fn checked(&self) -> Result<Validity, Error> {
        self.mouth()?;
        let d = input::positive("gap depth", self.depth, "m")?;
        let slender = input::positive("depth over width", d / self.width, "1")?;
        Ok(Validity::Inside.check("gap width", self.width, "m", WIDTHS).check(
            "depth over width",
            slender,
            "1",
            3.0..=f64::INFINITY,
        ))
    }

    /// End and bend losses C in velocity heads.
    fn losses(&self) -> f64 {
        END_LOSS + f64::from(self.bends)
    }

    fn resistance(&self, gas: &SlitGas) -> Result<Resistance, Error> {
        let (rho, mu) = gas.checked()?;
        let linear = 12.0 * mu * self.depth / (self.width * self.width);
        let quadratic = 0.5 * rho * self.losses();
        Ok(Resistance {
            linear: input::positive("friction of the slit", linear, "Pa s/m")?,
            quadratic: input::positive("inertia of the slit", quadratic, "Pa s2/m2")?,
        })
    }
}

impl SlitGas {
    fn checked(&self) -> Result<(f64, f64), Error> {
        let rho = input::positive("density", self.density, "kg/m3")?;
        Ok((rho, input::positive("viscosity", self.viscosity, "Pa s")?))
    }

    fn reynolds(&self, slit: &Slit, speed: f64) -> Result<f64, Error> {
        input::non_negative("Reynolds number", 2.0 * slit.width * speed.abs() * self.density / self.viscosity, "1")
    }
}

/// Laminar to inertial flow through a slit.
///
/// ```text
/// dp = A V + B V^2,   A = 12 mu d/w^2,   B = C rho/2,   C = 1.5 + bends
/// V = 2 dp/(A + (A^2 + 4 B dp)^(1/2)),   q = V w,   Q = V w P,   n = (A + B V)/(A + 2 B V)
/// ```
/// `slit`, width 0.05 to 6 mm and depth over width above 3; `gas`; `pressure` dp \[Pa\], up to 100 Pa either way, whose
/// sign the flow has. Valid up to a Reynolds number of 2600 on 2 w; beyond, where turbulence would slow it, the answer is
/// an upper one. C of 1.7 instead of 1.5 moves the flow by 1 % at an exponent of 0.9 and by 5 % at 0.6 (COMPUTED).
///
/// Good lids are laminar (n above 0.95 up to a width of 1 mm): the usual exponent 0.65 of buildings is wrong for them.
///
/// Source: form and coefficients P. H. Baker, S. Sharples, I. C. Ward, Air flow through cracks, Building and Environment
/// 22 (1987), MEMORY. D. Gross, W. L. Haberman, Analysis and prediction of air leakage through door assemblies, 1988,
/// READ (abstract): such relations, with up to two bends, agree with measured doors within 20 %.
///
/// # Errors
/// An input not finite, or not above zero (the pressure may have any sign).
///
/// # Examples
/// 1 mm wide, 20 mm deep, half a pascal: 0.11248 m/s, exponent 0.978 (COMPUTED independently):
/// ```
/// use stillhot::correlation::leak::{self, Slit, SlitGas};
/// let slit = Slit { width: 0.001, depth: 0.02, length: 1.0, bends: 0 };
/// let flow = leak::slit_flow(&slit, &SlitGas { density: 1.2, viscosity: 1.81e-5 }, 0.5)?;
/// assert!((flow.speed - 0.112480067).abs() < 1e-8);
/// assert!((flow.exponent - 0.9777338922).abs() < 1e-8);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn slit_flow(slit: &Slit, gas: &SlitGas, pressure: f64) -> Result<SlitFlow, Error> {
    let validity = slit.checked()?;
    let dp = input::finite("pressure", pressure, "Pa")?;
    let resistance = slit.resistance(gas)?;
    told(slit, gas, resistance.flow(dp), resistance.exponent(resistance.flow(dp)), dp, validity)
}

/// Whether the laminar law was made for such a flow.
fn in_range(validity: Validity, pressure: f64, reynolds: f64) -> Validity {
    let validity = validity.check("pressure", pressure, "Pa", -LARGEST_PRESSURE..=LARGEST_PRESSURE);
    validity.check("Reynolds number", reynolds, "1", 0.0..=LARGEST_LAMINAR_REYNOLDS)
}

/// Gathers what a slit passes at a speed.
fn told(
    slit: &Slit,
    gas: &SlitGas,
    speed: f64,
    exponent: f64,
    pressure: f64,
    validity: Validity,
) -> Result<SlitFlow, Error> {
    let reynolds = gas.reynolds(slit, speed)?;
    let validity = in_range(validity, pressure, reynolds);
    Ok(SlitFlow {
        speed: Value::new(speed, validity)?.value,
        flow_per_length: Value::new(speed * slit.width, validity)?.value,
        volume_flow: Value::new(speed * slit.mouth()?, validity)?.value,
        exponent: Value::new(exponent, validity)?.value,
        reynolds,
        validity,
    })
}

/// Pressure that drives a flow through a slit \[Pa\]: [`slit_flow`] the other way round.
///
/// `volume_flow` \[m3/s\], any sign. Range and source as [`slit_flow`].
///
/// # Errors
/// As [`slit_flow`].
///
/// # Examples
/// Steam of 100 W, 74 ml/s, through the rim of a pot 240 mm wide, 0.3 mm by 8 mm: 4.3 Pa (COMPUTED independently):
/// ```
/// use stillhot::correlation::leak::{self, Slit, SlitGas};
/// let rim = Slit { width: 0.0003, depth: 0.008, length: 0.754, bends: 0 };
/// let dp = leak::slit_pressure(&rim, &SlitGas { density: 0.598, viscosity: 1.223e-5 }, 74e-6)?;
/// assert!((dp.value - 4.3).abs() < 0.05);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn slit_pressure(slit: &Slit, gas: &SlitGas, volume_flow: f64) -> Result<Value, Error> {
    let validity = slit.checked()?;
    let speed = input::finite("speed in the slit", input::finite("flow", volume_flow, "m3/s")? / slit.mouth()?, "m/s")?;
    let dp = Value::new(slit.resistance(gas)?.pressure(speed), validity)?.value;
    Value::new(dp, in_range(validity, dp, gas.reynolds(slit, speed)?))
}

/// Friction factor of smooth turbulent flow \[1\]: `f = 0.316 Re^(-1/4)`.
///
/// `reynolds` Re on the hydraulic diameter \[1\], range 4000 to 1e5. Source: H. Blasius 1913, textbook form, MEMORY.
///
/// # Errors
/// A Reynolds number not finite or not above zero.
///
/// # Examples
/// ```
/// assert!((stillhot::correlation::leak::friction_factor_blasius(1e4)?.value - 0.0316).abs() < 1e-12);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn friction_factor_blasius(reynolds: f64) -> Result<Value, Error> {
    let re = input::positive("Reynolds number", reynolds, "1")?;
    let validity = Validity::Inside.check("Reynolds number", re, "1", 4000.0..=1e5);
    Value::new(0.316 * re.powf(-0.25), validity)
}

/// Turbulent flow through a slit: strong wind on a wide gap.
///
/// ```text
/// dp = (f d/(2 w) + C) rho V^2/2,   f = 0.316 (2 w V/nu)^(-1/4),   C = 1.5 + bends
/// ```
/// Inputs as [`slit_flow`]; valid from a Reynolds number of 4000 to 1e5 (below 2600 that function holds, between the two
/// neither). Friction by [`friction_factor_blasius`].
///
/// Source: Blasius and the end losses of [`slit_flow`], MEMORY.
///
/// # Errors
/// As [`slit_flow`].
///
/// # Examples
/// 5 mm wide, 20 mm deep, 60 Pa: put back into the equation it returns 60 Pa.
/// ```
/// use stillhot::correlation::leak::{self, Slit, SlitGas};
/// let slit = Slit { width: 0.005, depth: 0.02, length: 1.0, bends: 0 };
/// let flow = leak::turbulent_slit_flow_blasius(&slit, &SlitGas { density: 1.2, viscosity: 1.81e-5 }, 60.0)?;
/// let f = leak::friction_factor_blasius(flow.reynolds)?.value;
/// assert!(((f * 0.02 / 0.01 + 1.5) * 0.5 * 1.2 * flow.speed.powi(2) - 60.0).abs() < 1e-9);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn turbulent_slit_flow_blasius(slit: &Slit, gas: &SlitGas, pressure: f64) -> Result<SlitFlow, Error> {
    let validity = slit.checked()?;
    let dp = input::finite("pressure", pressure, "Pa")?;
    let (rho, mu) = gas.checked()?;
    let (losses, slender) = (slit.losses(), slit.depth / (2.0 * slit.width));
    // Relative to the speed without friction: (c x^(-1/4) + C) x^2 = C, a rising function of x with its root in 0 to 1.
    let frictionless = input::finite("speed without friction", (2.0 * dp.abs() / (rho * losses)).sqrt(), "m/s")?;
    if frictionless == 0.0 {
        return told(slit, gas, 0.0, 4.0 / 7.0, dp, validity);
    }
    let reynolds = input::positive("Reynolds number", 2.0 * slit.width * frictionless * rho / mu, "1")?;
    let friction = input::finite("friction of the slit", 0.316 * reynolds.powf(-0.25) * slender, "1")?;
    let share = bracketed_root(|x| friction * x.powf(1.75) + losses * (x * x - 1.0), 0.0, 1.0, 0.0)
        .map_err(|_| Error::new(ErrorKind::OutOfRange, "the inputs are so extreme that no flow can be told"))?;
    let (rubbed, thrown) = (friction * share.powf(1.75), losses * share * share);
    let flow = told(
        slit,
        gas,
        frictionless * share.copysign(dp),
        (rubbed + thrown) / (1.75 * rubbed + 2.0 * thrown),
        dp,
        Validity::Inside,
    )?;
    let validity = validity.check("pressure", dp, "Pa", -LARGEST_PRESSURE..=LARGEST_PRESSURE).check(
        "Reynolds number",
        flow.reynolds,
        "1",
        4000.0..=1e5,
    );
    Ok(SlitFlow { validity, ..flow })
}

/// One slit of several that carry the same flow one after the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Passage {
    /// What errors call it: "low gap".
    pub name: &'static str,
    /// The slit.
    pub slit: Slit,
    /// The gas in it.
    pub gas: SlitGas,
    /// Volume that passes here for each unit of the flow asked for \[1\], not below zero: 1, or less where the gas is still
    /// cold and dry.
    pub share: f64,
}

/// What slits in series pass; see [`series_flow`].
#[derive(Debug, Clone, PartialEq)]
pub struct SeriesFlow {
    /// The flow at share 1 \[m3/s\], with the sign of the pressure.
    pub volume_flow: f64,
    /// Pressure each passage takes, in the order given \[Pa\]; they add up to the whole.
    pub pressures: Vec<f64>,
    /// Whether every passage is inside the range of [`slit_flow`].
    pub validity: Validity,
}

/// Flow through slits one behind the other.
///
/// ```text
/// dp = Q sum_i A_i s_i/(w_i P_i) + Q^2 sum_i B_i s_i^2/(w_i P_i)^2
/// ```
/// with A and B of [`slit_flow`] and the `share` s of each passage; `pressure` dp \[Pa\], any sign. Range and source as
/// there.
///
/// # Errors
/// As [`slit_flow`] ("low gap, gap width"), a share below zero, no passage at all, or none that resists.
///
/// # Examples
/// Two equal slits pass what one of twice the friction and losses would:
/// ```
/// use stillhot::correlation::leak::{self, Passage, Slit, SlitGas};
/// let gas = SlitGas { density: 1.2, viscosity: 1.81e-5 };
/// let slit = Slit { width: 0.001, depth: 0.02, length: 1.2, bends: 0 };
/// let both = leak::series_flow(&[Passage { name: "gap", slit, gas, share: 1.0 }; 2], 1.0)?;
/// assert!((both.volume_flow - leak::slit_flow(&slit, &gas, 0.5)?.volume_flow).abs() < 1e-15);
/// assert!((both.pressures[0] - 0.5).abs() < 1e-12);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn series_flow(passages: &[Passage], pressure: f64) -> Result<SeriesFlow, Error> {
    let dp = input::finite("pressure", pressure, "Pa")?;
    if passages.is_empty() {
        return Err(Error::new(ErrorKind::OutOfRange, "a flow needs a way")
            .with_value("no passage")
            .with_accepted("at least one passage")
            .within("passages"));
    }
    let mut validity = Validity::Inside;
    let mut whole = Resistance { linear: 0.0, quadratic: 0.0 };
    for passage in passages {
        let (part, verdict) = passage.resistance().within(passage.name)?;
        validity = validity.and(verdict);
        whole.linear += part.linear;
        whole.quadratic += part.quadratic;
    }
    input::positive("friction of all passages", whole.linear, "Pa s/m3")?;
    let flow = Value::new(whole.flow(dp), validity)?.value;
    let mut pressures = Vec::with_capacity(passages.len());
    for passage in passages {
        let taken = slit_pressure(&passage.slit, &passage.gas, flow * passage.share).within(passage.name)?;
        validity = validity.and(taken.validity);
        pressures.push(taken.value);
    }
    Ok(SeriesFlow { volume_flow: flow, pressures, validity })
}

impl Passage {
    /// Resistance to the flow at share 1.
    fn resistance(&self) -> Result<(Resistance, Validity), Error> {
        let validity = self.slit.checked()?;
        let share = input::non_negative("share of the flow", self.share, "1")?;
        let speed = input::non_negative("speed per flow", share / self.slit.mouth()?, "1/m2")?;
        let one = self.slit.resistance(&self.gas)?;
        let linear = input::non_negative("friction of the slit", one.linear * speed, "Pa s/m3")?;
        let quadratic = input::non_negative("inertia of the slit", one.quadratic * speed * speed, "Pa s2/m6")?;
        Ok((Resistance { linear, quadratic }, validity))
    }
}

/// The even widths that stand for an uneven gap.
///
/// Laminar flow goes with the third power of the width, diffusion with the first. Source: mean over the length of the
/// laminar law, COMPUTED; it holds where the width changes slowly along the gap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EffectiveWidth {
    /// Width for flow: cube root of the mean of w^3 \[m\].
    pub flow: f64,
    /// Width for diffusion: mean of w \[m\].
    pub diffusion: f64,
}

impl EffectiveWidth {
    /// From widths measured at equal distances along the gap \[m\]; some may be zero.
    ///
    /// # Errors
    /// No width, one not finite or below zero, or all of them zero.
    pub fn measured(widths: &[f64]) -> Result<EffectiveWidth, Error> {
        let (mut mean, mut cube, count) = (0.0, 0.0, widths.len() as f64);
        for (number, width) in (1..).zip(widths) {
            let w = input::non_negative("gap width", *width, "m").within(format!("place {number}"))?;
            mean += w / count;
            cube += w * w * w / count;
        }
        Self::told(mean, cube)
    }

    /// Of a gap whose width grows evenly along its length from `narrowest` to `widest` \[m\].
    ///
    /// # Errors
    /// A width not finite or below zero, or both zero.
    ///
    /// # Examples
    /// From 0 to 1 mm: twice the flow of an even 0.5 mm (COMPUTED):
    /// ```
    /// use stillhot::correlation::leak::EffectiveWidth;
    /// let width = EffectiveWidth::spread(0.0, 0.001)?;
    /// assert!(((width.flow / width.diffusion).powi(3) - 2.0).abs() < 1e-12);
    /// # Ok::<(), stillhot::Error>(())
    /// ```
    pub fn spread(narrowest: f64, widest: f64) -> Result<EffectiveWidth, Error> {
        let a = input::non_negative("narrowest width", narrowest, "m")?;
        let b = input::non_negative("widest width", widest, "m")?;
        Self::told(0.5 * (a + b), 0.25 * (a + b) * (a * a + b * b))
    }

    fn told(mean: f64, cube: f64) -> Result<EffectiveWidth, Error> {
        let diffusion = input::positive("mean gap width", mean, "m")?;
        Ok(EffectiveWidth { flow: input::positive("mean of the cubed width", cube, "m3")?.cbrt(), diffusion })
    }
}
