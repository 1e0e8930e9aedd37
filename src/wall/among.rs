//! Several published relations for one thing, and which of them counts.

use crate::correlation::Value;
use crate::error::Error;

/// What different people published for the same thing differs. The best value follows one of them; an end of a range
/// follows whichever goes furthest its way, of those that were published for the case.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Among {
    /// That by which least heat passes.
    Least,
    /// The one preferred.
    #[default]
    First,
    /// That by which most passes.
    Most,
}

impl Among {
    /// Of `first`, which is preferred, and another, which counts inside its published range.
    ///
    /// # Errors
    /// Where the other has no value; it is not asked where it does not matter.
    pub(crate) fn pick(self, first: f64, other: impl FnOnce() -> Result<Value, Error>) -> Result<f64, Error> {
        let of_two: fn(f64, f64) -> f64 = match self {
            Among::First => return Ok(first),
            Among::Least => f64::min,
            Among::Most => f64::max,
        };
        let other = other()?;
        Ok(if other.is_inside() { of_two(first, other.value) } else { first })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::correlation::Validity;
    use crate::correlation::free_convection::horizontal_plate_upward_mcadams;
    use crate::error::ErrorKind;

    #[test]
    fn an_end_takes_the_relation_that_goes_its_way_where_it_holds() {
        let told = |value| move || Ok(Value { value, validity: Validity::Inside });
        for (among, expected) in [(Among::Least, 2.0), (Among::First, 3.0), (Among::Most, 3.0)] {
            assert_eq!(among.pick(3.0, told(2.0)).unwrap(), expected);
        }
        assert_eq!(Among::Most.pick(3.0, told(4.0)).unwrap(), 4.0);
        // Outside its range it is not asked to be right.
        assert_eq!(Among::Most.pick(3.0, || horizontal_plate_upward_mcadams(1e13)).unwrap(), 3.0);
        let refuse = || Err(Error::new(ErrorKind::OutOfRange, "no value"));
        assert_eq!(Among::First.pick(3.0, refuse).unwrap(), 3.0);
        assert!(Among::Least.pick(3.0, refuse).is_err());
    }
}
