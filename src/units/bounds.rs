//! The check of every number that comes in: finite, and inside what is accepted, or an error that says both.

use super::spoken::Spoken;
use super::text::write;
use crate::error::{Error, ErrorKind};

/// The SI number of `quantity` if it lies in `low..=high`.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] under the path `name`, with the value and the range in units.
pub(crate) fn in_range<Q: Spoken>(name: &str, quantity: Q, low: Q, high: Q) -> Result<f64, Error> {
    let inside = (low.si()..=high.si()).contains(&quantity.si());
    checked(name, quantity, inside, || format!("{} to {}", write(low), write(high)))
}

/// The SI number of `quantity` if it lies above zero (in its SI unit) and not above `high`.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] under the path `name`, with the value and the range in units.
pub(crate) fn positive<Q: Spoken>(name: &str, quantity: Q, high: Q) -> Result<f64, Error> {
    let inside = quantity.si() > 0.0 && quantity.si() <= high.si();
    checked(name, quantity, inside, || format!("more than {}, up to {}", write(Q::from_si(0.0)), write(high)))
}

/// The plain number if it lies in `low..=high`.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] under the path `name`, with the value and the range.
pub(crate) fn number_in_range(name: &str, number: f64, low: f64, high: f64) -> Result<f64, Error> {
    use super::{Ratio, Si};
    in_range(name, Ratio::from_si(number), Ratio::from_si(low), Ratio::from_si(high))
}

fn checked<Q: Spoken>(name: &str, quantity: Q, inside: bool, accepted: impl FnOnce() -> String) -> Result<f64, Error> {
    let si = quantity.si();
    // Infinite limits are no licence for infinite values.
    if inside && si.is_finite() {
        return Ok(si);
    }
    let problem = if si.is_finite() { "out of range" } else { "not a finite number" };
    Err(Error::new(ErrorKind::OutOfRange, problem).with_value(write(quantity)).with_accepted(accepted()).within(name))
}

#[cfg(test)]
mod tests {
    use super::super::{Length, Temperature, celsius, kelvin, metres, millimetres};
    use super::*;

    #[test]
    fn the_limits_belong_to_the_range() {
        let (low, high) = (millimetres(0.1), metres(2.0));
        assert_eq!(in_range("thickness", low, low, high), Ok(0.0001));
        assert_eq!(in_range("thickness", high, low, high), Ok(2.0));
        assert_eq!(positive("thickness", high, high), Ok(2.0));
    }

    #[test]
    fn outside_is_told_in_units() {
        let error = in_range("thickness", millimetres(-3.0), millimetres(0.1), metres(2.0)).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::OutOfRange);
        assert_eq!(error.to_string(), "thickness: out of range, got -3 mm; accepted: 0.1 mm to 2 m");
        let error = in_range("room", celsius(120.0), celsius(-40.0), celsius(60.0)).unwrap_err();
        assert_eq!(error.to_string(), "room: out of range, got 120 °C; accepted: -40 °C to 60 °C");
        let error = positive("thickness", metres(0.0), metres(2.0)).unwrap_err();
        assert_eq!(error.to_string(), "thickness: out of range, got 0 mm; accepted: more than 0 mm, up to 2 m");
        assert!(positive("thickness", metres(2.1), metres(2.0)).is_err());
        let error = number_in_range("emissivity", 1.2, 0.0, 1.0).unwrap_err();
        assert_eq!(error.to_string(), "emissivity: out of range, got 1.2; accepted: 0 to 1");
    }

    #[test]
    fn what_is_not_finite_is_refused_whatever_the_range() {
        let everything = metres(f64::INFINITY);
        for wrong in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            for result in [
                in_range("width", metres(wrong), metres(f64::NEG_INFINITY), everything),
                positive::<Length>("width", metres(wrong), everything),
                number_in_range("width", wrong, f64::NEG_INFINITY, f64::INFINITY),
                in_range::<Temperature>("width", kelvin(wrong), kelvin(f64::NEG_INFINITY), kelvin(f64::INFINITY)),
            ] {
                assert_eq!(result.unwrap_err().problem(), "not a finite number");
            }
        }
    }
}
