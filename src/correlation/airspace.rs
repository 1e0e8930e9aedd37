//! Unventilated airspaces as building physics reckons them: convection and radiation in one resistance.

use super::{Validity, Value, input, radiation};
use crate::Error;

/// Conductivity of still air in the standard \[W/(m K)\], for about 10 °C. Hot gaps conduct up to a fifth more: pass
/// the air's own ([`air::conductivity_us_standard_1976`](super::air::conductivity_us_standard_1976)) instead.
pub const ISO_6946_AIR_CONDUCTIVITY: f64 = 0.025;

/// Which way the heat flows through the airspace.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HeatFlow {
    /// Straight up, through a level space heated from below.
    Up,
    /// Level, through an upright space; by the standard also up to 30 degrees from the level.
    Horizontal,
    /// Straight down, through a level space heated from above.
    Down,
    /// At an angle above the level \[rad\], from minus to plus a right angle (down to up). Convection is interpolated
    /// linearly in the angle between the three cases: an ESTIMATE of this crate, not the standard's.
    Inclined(f64),
}

/// Convective coefficient of an unventilated airspace \[W/(m2 K)\].
///
/// ```text
/// ha = max(k/d, c)
///        up                 level              down
/// c =    1.95               1.25               0.12 d^-0.44               dT up to 5 K
/// c =    1.14 dT^(1/3)      0.73 dT^(1/3)      0.09 dT^0.187 d^-0.44      dT above 5 K
/// ```
/// `flow` direction of the heat; `thickness` d \[m\], range up to 0.3 m; `difference` dT between the faces \[K\];
/// `air_conductivity` k \[W/(m K)\], in the standard [`ISO_6946_AIR_CONDUCTIVITY`]. The two rows differ by up to 0.2 %
/// (level, up) and 1.4 % (down) at 5 K.
///
/// Source: ISO 6946:2017, annex D (2007: annex B); formulas MEMORY; the standard's table, recalled separately, is
/// reproduced by them. An industry table for 13 mm at 23 °C (READ) agrees within 2 % for level flow, but for upward
/// flow it lies 7 % (plain faces) and 18 % (one foil face) below the resistance of this relation.
///
/// # Errors
/// An input not finite, a thickness or conductivity not above zero, a difference below zero, an angle beyond a right
/// angle.
///
/// # Examples
/// 60 mm, downwards, 15 K: 0.515 W/(m2 K) (COMPUTED):
/// ```
/// use stillhot::correlation::airspace::{self, HeatFlow};
/// let ha = airspace::convection_iso_6946(HeatFlow::Down, 0.06, 15.0, airspace::ISO_6946_AIR_CONDUCTIVITY)?;
/// assert!((ha.value - 0.514974).abs() < 1e-6);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn convection_iso_6946(
    flow: HeatFlow,
    thickness: f64,
    difference: f64,
    air_conductivity: f64,
) -> Result<Value, Error> {
    let d = input::positive("thickness", thickness, "m")?;
    let dt = input::non_negative("temperature difference", difference, "K")?;
    let k = input::positive("air conductivity", air_conductivity, "W/(m K)")?;
    let small = dt <= 5.0;
    let up = if small { 1.95 } else { 1.14 * dt.cbrt() };
    let level = if small { 1.25 } else { 0.73 * dt.cbrt() };
    let down = if small { 0.12 } else { 0.09 * dt.powf(0.187) } * d.powf(-0.44);
    let at = |c: f64| c.max(k / d);
    let ha = match flow {
        HeatFlow::Up => at(up),
        HeatFlow::Horizontal => at(level),
        HeatFlow::Down => at(down),
        HeatFlow::Inclined(angle) => {
            let right = std::f64::consts::FRAC_PI_2;
            let angle = input::finite("angle of the heat flow", angle, "rad")?;
            if angle.abs() > right {
                input::below("angle of the heat flow (its size)", angle.abs(), "right angle", right, "rad")?;
            }
            let part = angle.abs() / right;
            let end = if angle >= 0.0 { at(up) } else { at(down) };
            (1.0 - part) * at(level) + part * end
        }
    };
    Value::new(ha, Validity::Inside.check("thickness", d, "m", 0.0..=0.3))
}

/// Thermal resistance of an unventilated airspace \[m2 K/W\]: `R = 1/(ha + hr)`.
///
/// `flow`, `thickness` d \[m\], `difference` dT \[K\] and `air_conductivity` as [`convection_iso_6946`], which gives ha;
/// hr = 4 sigma Tm^3/(1/e1 + 1/e2 - 1) from `emissivities` e1, e2 \[1\] and `mean_temperature` Tm \[K\]. The space is
/// closed, and wide and long against its thickness (ten times).
///
/// Source as [`convection_iso_6946`].
///
/// # Errors
/// As there; an emissivity not above zero or above one; a mean temperature not above zero.
///
/// # Examples
/// 25 mm, level, plain faces, 10 °C: the standard's table says 0.18 (MEMORY):
/// ```
/// use stillhot::correlation::airspace::{self, HeatFlow};
/// let k = airspace::ISO_6946_AIR_CONDUCTIVITY;
/// let r = airspace::resistance_iso_6946(HeatFlow::Horizontal, 0.025, [0.9, 0.9], 283.15, 5.0, k)?;
/// assert!((r.value - 0.18).abs() < 0.005);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn resistance_iso_6946(
    flow: HeatFlow,
    thickness: f64,
    emissivities: [f64; 2],
    mean_temperature: f64,
    difference: f64,
    air_conductivity: f64,
) -> Result<Value, Error> {
    let convection = convection_iso_6946(flow, thickness, difference, air_conductivity)?;
    let factor = radiation::exchange_factor_parallel_plates(emissivities[0], emissivities[1])?;
    let black = radiation::black_coefficient(mean_temperature)?;
    convection.map(|ha| 1.0 / (ha + factor * black))
}

/// An unventilated cavity of rectangular section; see [`cavity_iso_10077_2`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cavity {
    /// Convective coefficient \[W/(m2 K)\].
    pub convection: f64,
    /// Radiative coefficient \[W/(m2 K)\].
    pub radiation: f64,
    /// Equivalent conductivity `(ha + hr) d` \[W/(m K)\].
    pub conductivity: f64,
}

/// Small rectangular cavity in a section, as in frames of windows, level heat flow.
///
/// ```text
/// ha = max(0.025/d, 0.73 dT^(1/3))   (1.57 at the standard's 10 K)
/// hr = 4 sigma Tm^3/(1/e1 + 1/e2 - 2 + 2/(1 + (1 + (d/b)^2)^(1/2) - d/b))
/// k_eq = (ha + hr) d
/// ```
/// `depth` d along the heat flow and `breadth` b across it \[m\]; `emissivities` e1, e2 \[1\]; `mean_temperature` Tm
/// and `difference` dT \[K\]. The standard takes 283 K and 10 K.
///
/// Source: ISO 10077-2:2003, rectangular cavities; MEMORY and not checked against the standard: **doubtful**, for
/// comparison only. No range is known, so no validity is told.
///
/// # Errors
/// An input not finite, a size or temperature not above zero, a difference below zero, an emissivity not above zero or
/// above one.
///
/// # Examples
/// 20 mm by 20 mm at 283 K, 10 K, plain faces: 0.094284 W/(m K) (COMPUTED, arithmetic only):
/// ```
/// let cavity = stillhot::correlation::airspace::cavity_iso_10077_2(0.02, 0.02, [0.9, 0.9], 283.0, 10.0)?;
/// assert!((cavity.conductivity - 0.094284).abs() < 1e-6);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn cavity_iso_10077_2(
    depth: f64,
    breadth: f64,
    emissivities: [f64; 2],
    mean_temperature: f64,
    difference: f64,
) -> Result<Cavity, Error> {
    let d = input::positive("depth", depth, "m")?;
    let b = input::positive("breadth", breadth, "m")?;
    let e1 = input::emissivity("first emissivity", emissivities[0])?;
    let e2 = input::emissivity("second emissivity", emissivities[1])?;
    let dt = input::non_negative("temperature difference", difference, "K")?;
    let shape = d / b;
    // (1 + s^2)^(1/2) - s without the cancellation of two large numbers
    let opening = 1.0 / (1.0_f64.hypot(shape) + shape);
    let hr = radiation::black_coefficient(mean_temperature)? / (1.0 / e1 + 1.0 / e2 - 2.0 + 2.0 / (1.0 + opening));
    let ha = (ISO_6946_AIR_CONDUCTIVITY / d).max(0.73 * dt.cbrt());
    let conductivity = Value::new((ha + hr) * d, Validity::Inside)?.value;
    Ok(Cavity { convection: ha, radiation: hr, conductivity })
}
