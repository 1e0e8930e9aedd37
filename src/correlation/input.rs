//! What every relation refuses: numbers that no published range could hold.

use crate::{Error, ErrorKind};

#[cold]
fn refuse(name: &str, given: f64, unit: &str, accepted: &str) -> Error {
    let unit = if unit == "1" { String::new() } else { format!(" {unit}") };
    Error::new(ErrorKind::OutOfRange, format!("must be {accepted}"))
        .with_value(format!("{given}{unit}"))
        .with_accepted(format!("{accepted}{unit}"))
        .within(name)
}

/// Finite and above zero.
#[inline]
pub(super) fn positive(name: &str, given: f64, unit: &str) -> Result<f64, Error> {
    if given.is_finite() && given > 0.0 { Ok(given) } else { Err(refuse(name, given, unit, "finite and above 0")) }
}

/// Finite and not below zero.
#[inline]
pub(super) fn non_negative(name: &str, given: f64, unit: &str) -> Result<f64, Error> {
    if given.is_finite() && given >= 0.0 { Ok(given) } else { Err(refuse(name, given, unit, "finite and at least 0")) }
}

/// Any finite number.
#[inline]
pub(super) fn finite(name: &str, given: f64, unit: &str) -> Result<f64, Error> {
    if given.is_finite() { Ok(given) } else { Err(refuse(name, given, unit, "finite")) }
}

/// An absolute temperature.
#[inline]
pub(super) fn temperature(name: &str, given: f64) -> Result<f64, Error> {
    positive(name, given, "K")
}

/// A part of a whole, zero and one included.
#[inline]
pub(super) fn fraction(name: &str, given: f64) -> Result<f64, Error> {
    if (0.0..=1.0).contains(&given) { Ok(given) } else { Err(refuse(name, given, "1", "from 0 to 1")) }
}

/// An emissivity: zero is refused, since no surface has it and exchange formulas divide by it.
#[inline]
pub(super) fn emissivity(name: &str, given: f64) -> Result<f64, Error> {
    if given > 0.0 && given <= 1.0 { Ok(given) } else { Err(refuse(name, given, "1", "above 0 and up to 1")) }
}

/// A number that must lie above another one.
pub(super) fn above(name: &str, given: f64, floor_name: &str, floor: f64, unit: &str) -> Result<f64, Error> {
    if given.is_finite() && given > floor {
        Ok(given)
    } else {
        Err(refuse(name, given, unit, &format!("above the {floor_name} of {floor}")))
    }
}

/// A number that must lie below another one.
pub(super) fn below(name: &str, given: f64, ceiling_name: &str, ceiling: f64, unit: &str) -> Result<f64, Error> {
    if given.is_finite() && given < ceiling {
        Ok(given)
    } else {
        Err(refuse(name, given, unit, &format!("below the {ceiling_name} of {ceiling}")))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nan_is_refused_everywhere() {
        assert!(positive("x", f64::NAN, "m").is_err());
        assert!(non_negative("x", f64::NAN, "m").is_err());
        assert!(finite("x", f64::NAN, "m").is_err());
        assert!(fraction("x", f64::NAN).is_err());
        assert!(emissivity("x", f64::NAN).is_err());
        assert!(above("x", f64::NAN, "y", 0.0, "m").is_err());
        assert!(below("x", f64::NAN, "y", 0.0, "m").is_err());
    }

    #[test]
    fn the_error_names_the_input() {
        let error = positive("gap width", -0.003, "m").unwrap_err();
        assert_eq!(error.path(), "gap width");
        assert_eq!(error.value(), Some("-0.003 m"));
        assert_eq!(error.accepted(), Some("finite and above 0 m"));
    }
}
