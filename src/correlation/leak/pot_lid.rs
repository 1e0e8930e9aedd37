//! The loose lid of a pot: vapour that diffuses past its rim, and steam at the boil.

use super::super::{Value, input, moist_air, water};
use super::slit::Slit;
use crate::{Error, Within};

/// Vapour that diffuses past the rim of a loose lid \[kg/s\]: [`moist_air::stefan_diffusion`] from saturation at the food.
///
/// `rim`, whose `length` is the perimeter of the pot and whose `depth` the overlap of the lid; `pressure` \[Pa\];
/// `temperature` of the food \[K\], below boiling; `outer_vapour_pressure` just outside the rim \[Pa\]. Below zero where
/// that is the moister side. Buoyancy adds nothing in so thin a slit. How wide and deep the rim of a real lid is, nobody
/// published: 0.1 to 0.5 mm by 5 to 15 mm (ESTIMATE), with which a sound lid loses 0.02 to 7 W.
///
/// Source: Stefan diffusion, as there.
///
/// # Errors
/// An input not finite or not physical; a food at or above the boiling point, where the logarithm has no bound
/// ([`steam_flow`] is what leaves then).
///
/// # Examples
/// Pot 240 mm wide at 90 °C, rim 0.3 mm by 8 mm, dry air outside: 1.7234 W (COMPUTED independently):
/// ```
/// use stillhot::correlation::{leak::{self, Slit}, water};
/// let rim = Slit { width: 0.0003, depth: 0.008, length: std::f64::consts::PI * 0.24, bends: 0 };
/// let j = leak::rim_diffusion(&rim, 101_325.0, 363.15, 1023.447)?;
/// let heat = j.value * water::latent_heat_wagner_pruss_1993(363.15)?.value;
/// assert!((heat - 1.723359357).abs() < 2.3e-4);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn rim_diffusion(rim: &Slit, pressure: f64, temperature: f64, outer_vapour_pressure: f64) -> Result<Value, Error> {
    let validity = rim.checked().within("rim")?;
    let food = water::saturation_pressure_if97(temperature)?;
    let flow =
        moist_air::stefan_diffusion(rim.mouth()?, rim.depth, pressure, temperature, food.value, outer_vapour_pressure)?;
    Value::new(flow.value, validity.and(food.validity).and(flow.validity))
}

/// Steam that leaves a boiling pot \[kg/s\]: surplus heat over latent heat.
///
/// `power` of the heat beyond what the pot loses otherwise \[W\], not below zero; `temperature` of the boil \[K\]. It ends
/// when the supply ends.
///
/// Source: heat balance; latent heat by [`water::latent_heat_wagner_pruss_1993`], whose range it has.
///
/// # Errors
/// An input not finite, a power below zero, or a temperature without liquid water.
///
/// # Examples
/// 100 W: 44 mg/s (COMPUTED independently):
/// ```
/// let steam = stillhot::correlation::leak::steam_flow(100.0, 373.12)?;
/// assert!((steam.value - 44e-6).abs() < 0.5e-6);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn steam_flow(power: f64, temperature: f64) -> Result<Value, Error> {
    let surplus = input::non_negative("power", power, "W")?;
    let latent = water::latent_heat_wagner_pruss_1993(temperature)?;
    Value::new(surplus / input::positive("latent heat", latent.value, "J/kg")?, latent.validity)
}
