//! Heat that leaves a box with its gas.

use super::super::moist_air::{self, MoistState};
use super::super::{Validity, Value, input};
use crate::Error;

/// Heat that leaves with gas; see [`box_gas_heat`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GasHeat {
    /// Heat of the dry air \[W\].
    pub sensible: f64,
    /// Heat of evaporation of the water carried off \[W\]; below zero if the gas that enters is the moister one.
    pub latent: f64,
    /// Whether both states are inside the range of the relations.
    pub validity: Validity,
}

/// Heat lost with the gas that leaves a box \[W\]: the flow times [`moist_air::leaving_heat`].
///
/// `volume_flow` that leaves, at the state inside \[m3/s\], not below zero; states `inside` and `outside`; `pressure`
/// \[Pa\]. As much dry air enters as leaves. Slow leaks exchange some of this heat with the walls they pass; none of that
/// is taken off, so the answer is an upper one.
///
/// Source: heat balance of ideal gases, COMPUTED.
///
/// # Errors
/// A flow not finite or below zero, or as [`moist_air::leaving_heat`].
///
/// # Examples
/// 1 m3/h saturated at 90 °C against 15 °C and 60 %: 270.55 W (COMPUTED independently):
/// ```
/// use stillhot::correlation::{leak, moist_air::{self, MoistState}};
/// let state = |t, phi| Ok::<_, stillhot::Error>(MoistState {
///     temperature: t,
///     vapour_pressure: moist_air::vapour_pressure(phi, t)?.value,
/// });
/// let heat = leak::box_gas_heat(1.0 / 3600.0, state(363.15, 1.0)?, state(288.15, 0.6)?, 101_325.0)?;
/// assert!((heat.sensible + heat.latent - 270.55).abs() < 0.03);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn box_gas_heat(
    volume_flow: f64,
    inside: MoistState,
    outside: MoistState,
    pressure: f64,
) -> Result<GasHeat, Error> {
    let flow = input::non_negative("flow that leaves", volume_flow, "m3/s")?;
    let heat = moist_air::leaving_heat(inside, outside, pressure)?;
    Ok(GasHeat {
        sensible: Value::new(flow * heat.sensible, heat.validity)?.value,
        latent: Value::new(flow * heat.latent, heat.validity)?.value,
        validity: heat.validity,
    })
}
