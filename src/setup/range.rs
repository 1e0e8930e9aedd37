//! A quantity that is known only within limits.

use std::fmt;

use crate::error::{Error, ErrorKind};
use crate::units::bounds::in_range;
use crate::units::{Spoken, write, write_like};

/// Low, best and high value of a quantity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range<Q> {
    low: Q,
    best: Q,
    high: Q,
}

impl<Q: Spoken> Range<Q> {
    /// A range with its best value.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] unless all are finite and low <= best <= high.
    pub fn new(low: Q, best: Q, high: Q) -> Result<Self, Error> {
        if low.si() <= best.si() && best.si() <= high.si() && low.si().is_finite() && high.si().is_finite() {
            return Ok(Range { low, best, high });
        }
        Err(Error::new(ErrorKind::OutOfRange, "low, best and high do not rise")
            .with_value(format!("{}, {}, {}", write(low), write(best), write(high)))
            .with_accepted("finite values, low <= best <= high"))
    }

    /// A value taken as exact.
    pub fn exactly(value: Q) -> Self {
        Range { low: value, best: value, high: value }
    }

    /// Lower end.
    pub fn low(&self) -> Q {
        self.low
    }

    /// Best value.
    pub fn best(&self) -> Q {
        self.best
    }

    /// Upper end.
    pub fn high(&self) -> Q {
        self.high
    }

    /// The three, sorted; for results whose members may cross.
    pub(crate) fn of_members(cautious: f64, best: f64, generous: f64) -> Self {
        let low = cautious.min(best).min(generous);
        let high = cautious.max(best).max(generous);
        Range { low: Q::from_si(low), best: Q::from_si(best), high: Q::from_si(high) }
    }

    /// The value whose unit all three are written in: the best one, or where that is zero, which has no size of its own,
    /// the end that is further from it.
    fn telling(&self) -> Q {
        let further = if self.low.si().abs() > self.high.si().abs() { self.low } else { self.high };
        if self.best.si() == 0.0 { further } else { self.best }
    }

    pub(crate) fn check(&self, name: &str, low: Q, high: Q) -> Result<(), Error> {
        for value in [self.low, self.best, self.high] {
            in_range(name, value, low, high)?;
        }
        Ok(())
    }
}

impl<Q: Spoken> fmt::Display for Range<Q> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // One unit for all three, so that they can be compared.
        let text = |q| write_like(q, self.telling(), 3);
        if self.low.si() == self.high.si() {
            return f.write_str(&text(self.best));
        }
        write!(f, "{} to {} (best {})", text(self.low), text(self.high), text(self.best))
    }
}
