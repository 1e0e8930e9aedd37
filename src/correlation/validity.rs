//! What a relation answers: a number, and whether its inputs were inside the published range.

use std::fmt;
use std::ops::RangeInclusive;

use crate::{Error, ErrorKind};

/// The answer of a published relation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Value {
    /// The number the relation gives, in the SI unit its documentation names. Always finite, never clamped.
    pub value: f64,
    /// Whether every input was inside the published range.
    pub validity: Validity,
}

/// Whether the inputs of a relation were inside its published range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Validity {
    /// All of them were.
    Inside,
    /// One was not; the relation was extrapolated. If several were outside, the first is named.
    Outside(Excursion),
}

/// The input that left the published range of a relation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Excursion {
    /// Which input ("rayleigh number").
    pub input: &'static str,
    /// What it was.
    pub given: f64,
    /// The lower end of the published range; minus infinity if it has none.
    pub lowest: f64,
    /// The upper end of the published range; infinity if it has none.
    pub highest: f64,
    /// The unit of the three numbers, "1" for a pure number.
    pub unit: &'static str,
}

impl Value {
    /// Refuses a result that overflowed, so that no infinity or NaN ever leaves a relation.
    #[inline]
    pub(super) fn new(value: f64, validity: Validity) -> Result<Value, Error> {
        if value.is_finite() {
            return Ok(Value { value, validity });
        }
        Err(Error::new(ErrorKind::OutOfRange, "the inputs are so extreme that the relation has no finite result"))
    }

    /// True if every input was inside the published range.
    pub fn is_inside(&self) -> bool {
        self.validity == Validity::Inside
    }

    /// The input that left the published range, if one did.
    pub fn outside(&self) -> Option<Excursion> {
        match self.validity {
            Validity::Inside => None,
            Validity::Outside(excursion) => Some(excursion),
        }
    }

    /// The same validity with another number, for relations built on top of one another.
    pub(super) fn map(self, number: impl FnOnce(f64) -> f64) -> Result<Value, Error> {
        Value::new(number(self.value), self.validity)
    }
}

impl Validity {
    /// Both verdicts in one; the first excursion wins.
    #[must_use]
    #[inline]
    pub fn and(self, other: Validity) -> Validity {
        match self {
            Validity::Inside => other,
            Validity::Outside(_) => self,
        }
    }

    /// The verdict after looking at one more input.
    #[inline]
    pub(super) fn check(
        self,
        input: &'static str,
        given: f64,
        unit: &'static str,
        range: RangeInclusive<f64>,
    ) -> Validity {
        if range.contains(&given) {
            return self;
        }
        self.and(Validity::Outside(Excursion { input, given, lowest: *range.start(), highest: *range.end(), unit }))
    }
}

impl fmt::Display for Excursion {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let unit = if self.unit == "1" { "" } else { self.unit };
        write!(f, "{} {} {unit}", self.input, self.given)?;
        match (self.lowest.is_finite(), self.highest.is_finite()) {
            (true, true) => write!(f, " outside {} to {} {unit}", self.lowest, self.highest),
            (true, false) => write!(f, " below {} {unit}", self.lowest),
            (false, true) => write!(f, " above {} {unit}", self.highest),
            (false, false) => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn first_excursion_is_kept() {
        let verdict = Validity::Inside.check("a", 1.0, "m", 0.0..=2.0).check("b", 3.0, "m", 0.0..=2.0).check(
            "c",
            -1.0,
            "m",
            0.0..=2.0,
        );
        let Validity::Outside(excursion) = verdict else { panic!("b is outside") };
        assert_eq!((excursion.input, excursion.given), ("b", 3.0));
        assert_eq!(excursion.to_string(), "b 3 m outside 0 to 2 m");
    }

    #[test]
    fn no_result_is_infinite() {
        assert!(Value::new(f64::INFINITY, Validity::Inside).is_err());
        assert!(Value::new(f64::NAN, Validity::Inside).is_err());
    }
}
