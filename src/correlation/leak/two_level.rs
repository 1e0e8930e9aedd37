//! A box with gaps at two levels: the warm column drives one flow in through the one and out through the other.

use super::super::constants::STANDARD_GRAVITY;
use super::super::moist_air;
use super::super::{Validity, Value, input};
use super::exchange::Sides;
use super::slit::{Passage, Slit, SlitGas, series_flow};
use crate::{Error, Within};

/// Pressure of the column of moist gas between two levels \[Pa\]: `dp = g H (rho_out - rho_in)`.
///
/// `height` H between the levels \[m\], not below zero; `inside` and `outside` states; `pressure` \[Pa\]. Above zero where
/// the inside is lighter: gas comes in below and leaves above. Densities by [`moist_air::density`], whose range it has.
///
/// Source: hydrostatics of ideal gases.
///
/// # Errors
/// An input not finite or not physical ("inside: vapour pressure").
///
/// # Examples
/// Saturated at 90 °C against 15 °C and 60 %: 4.931 Pa per metre, twice the 2.48 of dry air (COMPUTED independently):
/// ```
/// use stillhot::correlation::{leak, moist_air::{self, MoistState}};
/// let state = |t, phi| Ok::<_, stillhot::Error>(MoistState {
///     temperature: t,
///     vapour_pressure: moist_air::vapour_pressure(phi, t)?.value,
/// });
/// let sides = leak::Sides::new(state(363.15, 1.0)?, state(288.15, 0.6)?, 101_325.0)?;
/// let dp = leak::stack_pressure(1.0, &sides)?;
/// assert!((dp.value - 4.931247931).abs() < 5e-4);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn stack_pressure(height: f64, sides: &Sides) -> Result<Value, Error> {
    let Sides { light, heavy, .. } = *sides;
    let h = input::non_negative("height between the levels", height, "m")?;
    Value::new(STANDARD_GRAVITY * h * (heavy.value - light.value), light.validity.and(heavy.validity))
}

/// What stays the same on the way from the one gap to the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Continuity {
    /// Volume: as much comes in as goes out. The usual simplification; near the boil, where vapour makes up most of what
    /// leaves, it lets in four times too much.
    EqualVolume,
    /// Dry air: what comes in warms and takes up vapour, so that more volume leaves.
    DryAir,
}

/// One of the two levels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    /// The lower gap.
    Low,
    /// The higher gap.
    High,
}

/// A box with a gap at each of two levels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoLevels {
    /// The lower gap.
    pub low: Slit,
    /// The higher gap.
    pub high: Slit,
    /// Height H between them \[m\], not below zero.
    pub height: f64,
    /// Outer pressure at the low gap above that at the high one \[Pa\], any sign
    /// ([`wind::pressure_difference`](super::super::wind::pressure_difference)): strong enough against the stack it turns
    /// the flow round.
    pub wind: f64,
    /// What the two gaps have in common.
    pub continuity: Continuity,
}

/// Flow through two gaps; see [`two_level_flow`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoLevelFlow {
    /// Volume that leaves, at the state inside \[m3/s\]; below zero if it leaves by the low gap.
    pub volume_flow: f64,
    /// Volume that enters, at the state outside, with the same sign \[m3/s\].
    pub entering_flow: f64,
    /// Stack and wind together \[Pa\].
    pub drive: f64,
    /// Part of the drive that the low gap takes \[Pa\].
    pub low_pressure: f64,
    /// Part of the drive that the high gap takes \[Pa\].
    pub high_pressure: f64,
    /// The gap that takes the larger part (the low one if both take half): the one worth closing.
    pub tighter: Level,
    /// Whether both gaps and both states are inside their ranges.
    pub validity: Validity,
}

/// Flow in at one level and out at another, driven by the warm column between them and by wind.
///
/// ```text
/// g H (rho_out - rho_in) + dp_wind = dp_low(Q) + dp_high(Q)
/// ```
/// `levels` with two slits in series ([`series_flow`](super::series_flow)); gas on both `sides`.
/// Viscosity at the mean of the two states, density of the gas that enters each gap. The state inside follows
/// from the flow in turn: the caller iterates, unless the change is small.
///
/// Source: hydrostatics and [`slit_flow`](super::slit_flow); COMPUTED. Range as there.
///
/// # Errors
/// As [`slit_flow`](super::slit_flow) ("low gap: width") and [`stack_pressure`].
///
/// # Examples
/// Gaps of 1 mm by 50 mm, 1.2 m long, 0.3 m apart, 90 °C: 0.136 m3/h of dry air (COMPUTED independently):
/// ```
/// use stillhot::correlation::leak::{self, Continuity, Sides, Slit, TwoLevels};
/// use stillhot::correlation::moist_air::MoistState;
/// let inside = MoistState { temperature: 363.15, vapour_pressure: 1023.447 };
/// let outside = MoistState { temperature: 288.15, vapour_pressure: 1023.447 };
/// let gap = Slit { width: 0.001, depth: 0.05, length: 1.2, bends: 0 };
/// let levels =
///     TwoLevels { low: gap, high: gap, height: 0.3, wind: 0.0, continuity: Continuity::EqualVolume };
/// let flow = leak::two_level_flow(&levels, &Sides::new(inside, outside, 101_325.0)?)?;
/// assert!((flow.volume_flow * 3600.0 - 0.136).abs() < 5e-4);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn two_level_flow(levels: &TwoLevels, sides: &Sides) -> Result<TwoLevelFlow, Error> {
    let Sides { inside, outside, pressure, light, heavy, between } = *sides;
    let stack = stack_pressure(levels.height, sides)?;
    let drive = input::finite("drive", stack.value + input::finite("wind pressure", levels.wind, "Pa")?, "Pa")?;
    let gas = |density: Value| SlitGas { density: density.value, viscosity: between.viscosity };
    let share = match levels.continuity {
        Continuity::EqualVolume => 1.0,
        Continuity::DryAir => {
            let leaving = moist_air::dry_air_density(inside.temperature, pressure, inside.vapour_pressure)?.value;
            let entering = moist_air::dry_air_density(outside.temperature, pressure, outside.vapour_pressure)?.value;
            input::below("vapour pressure", outside.vapour_pressure, "total pressure", pressure, "Pa")
                .within("outside")?;
            leaving / entering
        }
    };
    let (entry, exit) = ((gas(heavy), share), (gas(light), 1.0));
    let upward = drive >= 0.0;
    let passage = |name, slit: &Slit, (gas, share): (SlitGas, f64)| Passage { name, slit: *slit, gas, share };
    let (below, above) = if upward { (entry, exit) } else { (exit, entry) };
    let parts = [passage("low gap", &levels.low, below), passage("high gap", &levels.high, above)];
    let flow = series_flow(&parts, drive)?;
    let (low_pressure, high_pressure) = (flow.pressures[0], flow.pressures[1]);
    let validity = stack.validity.and(flow.validity);
    Ok(TwoLevelFlow {
        volume_flow: flow.volume_flow,
        entering_flow: flow.volume_flow * share,
        drive,
        low_pressure,
        high_pressure,
        tighter: if low_pressure.abs() >= high_pressure.abs() { Level::Low } else { Level::High },
        validity,
    })
}
