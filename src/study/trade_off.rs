//! What each size brings, and what it costs in weight and room.

use super::vary::{Size, Vary};
use crate::error::Error;
use crate::setup::{Held, Options, Plan, Setup};
use crate::units::bounds::number_in_range;
use crate::units::{Mass, Temperature, Volume};

/// One size with what it brings.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Trade {
    /// The size.
    pub size: Size,
    /// How long the temperature is held.
    pub held: Held,
    /// Mass of the layers of box or sleeve, see [`Setup::shell_mass`].
    pub weight: Mass,
    /// Volume of box or sleeve outside.
    pub bulk: Volume,
}

/// How long a temperature is held at so many sizes (2 to 200), evenly by their logarithm from bound to bound: one full
/// forecast each.
///
/// # Errors
/// Another number of sizes; as [`size`](super::size).
pub fn trade_off(
    setup: &Setup,
    plan: &Plan,
    temperature: Temperature,
    vary: &Vary,
    count: usize,
    options: &Options,
) -> Result<Vec<Trade>, Error> {
    number_in_range("sizes", count as f64, 2.0, 200.0)?;
    let bounds = vary.bounds()?;
    (0..count)
        .map(|i| {
            let size = vary.size_at(bounds, i as f64 / (count - 1) as f64);
            let varied = vary.applied(setup, size)?;
            let held = varied.forecast_with(plan, options)?.above(temperature)?;
            Ok(Trade { size, held, weight: varied.shell_mass(), bulk: varied.outer_volume() })
        })
        .collect()
}
