//! A body without inner resistance.

use super::range;
use crate::{Error, ErrorKind};

/// A body of uniform temperature that cools or warms through a constant conductance.
///
/// `T = T_s + (T_0 - T_s) exp(-t / tau)`, `tau = capacity / conductance` (Newton's law of cooling; Incropera & DeWitt,
/// section 5.1; MEMORY). Fair for a solid body while its Biot number (film coefficient times volume over area over
/// conductivity) stays below about 0.1. Exact to rounding (test: printed textbook example).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LumpedBody {
    time_constant: f64,
    start_temperature: f64,
    surroundings: f64,
}

impl LumpedBody {
    /// From heat capacity (J/K), conductance to the surroundings (W/K), and both temperatures (K).
    ///
    /// # Errors
    /// `OutOfRange` unless capacity and conductance lie in 1e-12 to 1e12 and the temperatures within 1e12.
    pub fn new(capacity: f64, conductance: f64, start_temperature: f64, surroundings: f64) -> Result<Self, Error> {
        let capacity = range::positive("heat capacity", capacity, "J/K")?;
        Ok(LumpedBody {
            time_constant: capacity / range::positive("conductance", conductance, "W/K")?,
            start_temperature: range::temperature("start temperature", start_temperature)?,
            surroundings: range::temperature("temperature of the surroundings", surroundings)?,
        })
    }

    /// Time (s) in which the difference to the surroundings falls to 1/e.
    pub fn time_constant(&self) -> f64 {
        self.time_constant
    }

    /// Temperature (K) at `time` (s, zero or more).
    ///
    /// # Errors
    /// `OutOfRange` unless the time is zero or in 1e-12 to 1e12 s.
    pub fn temperature(&self, time: f64) -> Result<f64, Error> {
        let decay = (-range::not_negative("time", time, "s")? / self.time_constant).exp();
        range::finite(self.surroundings + (self.start_temperature - self.surroundings) * decay)
    }

    /// Time (s) at which the body reaches `temperature` (K).
    ///
    /// # Errors
    /// `OutOfRange` unless the temperature lies between start and surroundings, the latter excluded.
    pub fn time_to(&self, temperature: f64) -> Result<f64, Error> {
        let ratio = (temperature - self.surroundings) / (self.start_temperature - self.surroundings);
        if ratio > 0.0 && ratio <= 1.0 {
            Ok(-self.time_constant * ratio.ln())
        } else {
            Err(Error::new(ErrorKind::OutOfRange, "the body never passes this temperature")
                .with_value(format!("{temperature} K"))
                .with_accepted(format!(
                    "from {} K towards {} K, the last excluded",
                    self.start_temperature, self.surroundings
                ))
                .within("temperature"))
        }
    }
}
