//! Vapour between wet surfaces and the gas over them; the liner of the lid, and how much of it is wet.

use crate::correlation::{air, headspace, moist_air};
use crate::error::Error;

/// Mass transfer from hot water to something cooler above it, times area, m³/s, by the analogy of heat and mass
/// transfer. Where the upper side is the warmer, the gas lies still and hardly any passes.
pub(crate) fn surface_transfer(area: f64, food: f64, above: f64, forced: f64, pressure: f64) -> Result<f64, Error> {
    let free = if food > above { headspace::convection_dunkle_1961(food, above)?.value } else { 0.0 };
    let gas = air::dry_air(f64::midpoint(food, above), pressure)?;
    let lewis = headspace::LEWIS_NUMBER_VAPOUR;
    Ok(area * headspace::mass_transfer_lewis(free + forced, gas.density, gas.specific_heat, lewis)?.value)
}

/// The liner of the lid, which faces what the vapour comes from.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Facing {
    /// m²
    pub(crate) area: f64,
    /// How far off that is, m.
    pub(crate) distance: f64,
}

/// Water on a liner that covers half of it, kg/m²: drops, in all as much as a film of 0.01 mm (estimate; drops run together at
/// several times that. What dries is held back by the heat for it, so that it hardly matters.)
const HALF_WET: f64 = 0.01;

impl Facing {
    /// Share of it that so much water covers, kg.
    pub(crate) fn wet(&self, water: f64) -> f64 {
        let water = water.max(0.0);
        water / (water + HALF_WET * self.area)
    }

    /// Mass transfer between a side of the gap and the gas in the middle of it, times area, m³/s: twice that of the whole way,
    /// by convection or, in a narrow gap, by diffusion (joined by their cubes, Churchill 1977).
    pub(crate) fn half_way(&self, area: f64, food: f64, liner: f64, pressure: f64) -> Result<f64, Error> {
        let convecting = surface_transfer(1.0, food, liner, 0.0, pressure)?;
        let still = moist_air::vapour_diffusivity_ashrae(f64::midpoint(food, liner), pressure)?.value / self.distance;
        Ok(2.0 * area * (convecting.powi(3) + still.powi(3)).cbrt())
    }
}
