//! What a limit finds in a curve.

use super::curve::Moments;
use super::limit::{Limit, Topic};
use super::message::Message;
use crate::units::{TemperatureInterval, Time};
use std::fmt;

/// Whether a limit is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Outcome {
    /// Kept at the cautious end of the range, at the coldest spot, less the numerical error.
    Meets,
    /// Not kept by the best value.
    Misses,
    /// Neither can be said.
    CannotTell,
}

impl fmt::Display for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Outcome::Meets => "meets",
            Outcome::Misses => "misses",
            Outcome::CannotTell => "cannot tell",
        })
    }
}

/// Why.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Reason {
    /// The limit is kept to the end.
    Kept,
    /// By the best value it is not.
    NotKept,
    /// Kept by the best value, not at the cautious end.
    RangeStraddles,
    /// The curve has no range: nothing says how wrong it may be.
    NoRange,
    /// The dish is stiff and the curve is that of a stirred one.
    NotColdestSpot,
    /// The dish is stiff: its middle cools last, and no curve tells of it.
    NotWarmestSpot,
    /// Pieces are large, frozen or stuffed.
    PieceCore,
    /// The curve ends too early.
    CurveTooShort,
    /// It has not boiled hard for long enough.
    BoilTooShort,
    /// It was not soaked for long enough.
    SoakTooShort,
    /// Water boils below the temperature that is asked for at this height.
    HeightLowersBoil,
    /// For a while it was at temperatures at which spores grow; a toxin cannot be excluded.
    ToxinPossible,
    /// How long the reheating takes is too long, or not told.
    ReheatingTime,
    /// It falls to where something may grow whose growth is not computed.
    NotComputed,
    /// No temperature tells of it.
    NeedsPreparation,
}

/// How much is to spare at the cautious end; negative where it falls short.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Margin {
    /// In temperature.
    Temperature(TemperatureInterval),
    /// In time.
    Time(Time),
    /// In powers of ten of growth.
    PowersOfTen(f64),
    /// As a share of what is asked for.
    Share(f64),
}

/// The finding of one limit, dated at its own crossing.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Finding {
    /// The limit.
    pub limit: Limit,
    /// Whether it is kept.
    pub outcome: Outcome,
    /// Why.
    pub reason: Reason,
    /// When it ceases (or, for what is to be reached, begins) to be kept. `None` for what has no moment.
    pub moments: Option<Moments>,
    /// What is to spare.
    pub margin: Option<Margin>,
    /// What was found, in words.
    pub message: Message,
    /// What to do, in words.
    pub to_do: Message,
}

impl Finding {
    /// What the limit is about.
    pub fn topic(&self) -> Topic {
        self.limit.topic()
    }

    /// Whether it is about a toxin: reheating never mends it.
    pub fn is_about_toxin(&self) -> bool {
        matches!(self.topic(), Topic::Boiling | Topic::SporeToxin | Topic::Preparation)
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.message, self.to_do)
    }
}
