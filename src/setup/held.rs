//! How long a temperature is held.

use std::fmt;

use crate::units::{TemperatureInterval, Time, write_like, write_rounded};

/// A moment within what was computed, or beyond it.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub enum Moment {
    /// This long after shutting.
    At(Time),
    /// Later than the horizon of the computation, which is given.
    PastHorizon(Time),
}

impl Moment {
    /// The time, if it is within the horizon.
    pub fn time(&self) -> Option<Time> {
        match self {
            Moment::At(time) => Some(*time),
            Moment::PastHorizon(_) => None,
        }
    }
}

impl Moment {
    /// In the unit in which `like` is written.
    pub(crate) fn written_like(&self, like: &Moment) -> String {
        let (Moment::At(unit) | Moment::PastHorizon(unit)) = *like;
        match self {
            Moment::At(time) => write_like(*time, unit, 3),
            Moment::PastHorizon(horizon) => format!("past {}", write_like(*horizon, unit, 3)),
        }
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.written_like(self))
    }
}

/// How long a temperature is held, counted from shutting: how long the pot stays above it
/// ([`Forecast::above`](crate::Forecast::above)), or below it ([`Forecast::below`](crate::Forecast::below)).
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Held {
    /// It is crossed between `earliest` and `latest`.
    Until {
        /// With everything uncertain at its cautious end.
        earliest: Moment,
        /// With everything at its best value.
        best: Moment,
        /// With everything at its generous end.
        latest: Moment,
        /// Numerical error of the best value; the error of the computation alone, apart from what is uncertain.
        numerical: Time,
    },
    /// It is not crossed within the horizon, not even at the cautious end. How far away it still is then.
    PastHorizon {
        /// The horizon.
        horizon: Time,
        /// Distance to the temperature at the horizon, cautious end.
        margin: TemperatureInterval,
    },
    /// It is not held when the lid is shut, not even at the generous end.
    NeverReached,
}

impl fmt::Display for Held {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Held::Until { earliest, best, latest, .. } => {
                let [earliest, latest] = [earliest, latest].map(|moment| moment.written_like(best));
                write!(f, "{earliest} to {latest} (best {best})")
            }
            Held::PastHorizon { horizon, margin } => {
                write!(f, "longer than {} ({} to spare)", write_rounded(*horizon, 3), write_rounded(*margin, 2))
            }
            Held::NeverReached => f.write_str("not even at shutting"),
        }
    }
}
