//! Differences to a base, each with the error of the difference itself.

use std::fmt;

use crate::setup::{Apart, HoldsApart};
use crate::units::{Si, Spoken, Time, hours, write_like, write_rounded};

/// A difference and how far the computation may be off with it.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Difference<Q> {
    /// How much more than the base; negative for less.
    pub value: Q,
    /// Numerical error of the difference, which is far smaller than that of either value.
    pub error: Q,
}

impl<Q: Spoken> Difference<Q> {
    pub(super) fn of(apart: Apart) -> Self {
        Difference { value: Q::from_si(apart.value), error: Q::from_si(apart.error) }
    }

    /// Whether it is no larger than its error: the computation finds no difference.
    pub fn is_none(&self) -> bool {
        self.value.si().abs() <= self.error.si()
    }
}

impl<Q: Spoken> fmt::Display for Difference<Q> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.is_none() { f.write_str("none") } else { f.write_str(&signed(self.value)) }
    }
}

/// Two digits with their sign.
pub(super) fn signed<Q: Spoken>(quantity: Q) -> String {
    format!("{}{}", sign(quantity), write_rounded(Q::from_si(quantity.si().abs()), 2))
}

fn sign<Q: Spoken>(quantity: Q) -> &'static str {
    if quantity.si() < 0.0 { "-" } else { "+" }
}

/// How much longer or shorter: two digits with their sign.
pub(super) fn longer(time: Time) -> String {
    format!("{}{}", sign(time), span(time))
}

/// How long without its sign, two digits: in hours from one hour on, so that what stands in a list can be compared.
pub(super) fn span(time: Time) -> String {
    let time = Time::from_si(time.si().abs());
    if time >= hours(1.0) { write_like(time, hours(10.0), 2) } else { write_rounded(time, 2) }
}

/// A difference at the ends of the range and at the best values: the cautious variant against the cautious base, and so on.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Change<Q> {
    /// With everything uncertain at its cautious end.
    pub cautious: Difference<Q>,
    /// With everything at its best value.
    pub best: Difference<Q>,
    /// With everything at its generous end.
    pub generous: Difference<Q>,
}

impl<Q: Spoken> Change<Q> {
    pub(super) fn of(members: [Apart; 3]) -> Self {
        let [cautious, best, generous] = members.map(Difference::of);
        Change { cautious, best, generous }
    }

    /// At one member of the range.
    pub fn at(&self, end: End) -> Difference<Q> {
        match end {
            End::Cautious => self.cautious,
            End::Best => self.best,
            End::Generous => self.generous,
        }
    }
}

/// A member of the range.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum End {
    /// Everything uncertain at its cautious end: what a builder can rely on.
    Cautious,
    /// Everything at its best value.
    Best,
    /// Everything at its generous end.
    Generous,
}

/// How much longer a temperature is held than by the base.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HoldDifference {
    /// Both times end within the horizon.
    By(Difference<Time>),
    /// The base ends, the variant still holds at the horizon: longer by more than this.
    AtLeast(Time),
    /// The variant ends, the base still holds at the horizon: shorter by more than this, a negative time.
    AtMost(Time),
    /// Both still hold at the horizon: compare the temperatures there.
    PastHorizon,
}

impl HoldDifference {
    pub(super) fn of(apart: HoldsApart) -> Self {
        match apart {
            HoldsApart::By(apart) => HoldDifference::By(Difference::of(apart)),
            HoldsApart::AtLeast(s) => HoldDifference::AtLeast(Time::from_si(s)),
            HoldsApart::AtMost(s) => HoldDifference::AtMost(Time::from_si(s)),
            HoldsApart::Neither => HoldDifference::PastHorizon,
        }
    }

    /// How much longer at least, or how much shorter at least, with its sign; nothing where both hold past the horizon.
    pub fn known(&self) -> Option<Time> {
        match self {
            HoldDifference::By(difference) => Some(difference.value),
            HoldDifference::AtLeast(time) | HoldDifference::AtMost(time) => Some(*time),
            HoldDifference::PastHorizon => None,
        }
    }

    /// Whether the computation finds no difference; where both hold past the horizon the hold times do not tell.
    pub fn is_none(&self) -> bool {
        matches!(self, HoldDifference::By(difference) if difference.is_none())
    }
}

impl fmt::Display for HoldDifference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            HoldDifference::By(difference) if difference.is_none() => f.write_str("none"),
            HoldDifference::By(difference) => f.write_str(&longer(difference.value)),
            HoldDifference::AtLeast(time) | HoldDifference::AtMost(time) => write!(f, "{} or more", longer(*time)),
            HoldDifference::PastHorizon => f.write_str("both hold past the horizon"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{minutes, seconds};

    #[test]
    fn spans_of_a_list_can_be_compared() {
        for (time, text) in [
            (minutes(91.0), "+1.5 h"),
            (minutes(-114.0), "-1.9 h"),
            (minutes(60.0), "+1 h"),
            (minutes(59.4), "+59 min"),
            (minutes(-25.3), "-25 min"),
            (seconds(42.2), "+42 s"),
            (hours(-12.34), "-12 h"),
        ] {
            assert_eq!(longer(time), text);
        }
        assert_eq!(HoldDifference::AtMost(hours(-2.0)).to_string(), "-2 h or more");
    }
}
