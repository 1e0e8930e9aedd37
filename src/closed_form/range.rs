//! What numbers the closed forms accept. Wide on purpose: dimensionless problems in unit values are welcome.

use crate::{Error, ErrorKind};

const SMALLEST: f64 = 1e-12;
const LARGEST: f64 = 1e12;

fn out_of_range(name: &str, value: f64, unit: &str, accepted: String) -> Error {
    Error::new(ErrorKind::OutOfRange, "outside the accepted range")
        .with_value(format!("{value} {unit}").trim_end().to_owned())
        .with_accepted(format!("{accepted} {unit}").trim_end().to_owned())
        .within(name)
}

/// `value` if it lies in 1e-12 to 1e12.
pub(super) fn positive(name: &str, value: f64, unit: &str) -> Result<f64, Error> {
    if (SMALLEST..=LARGEST).contains(&value) {
        Ok(value)
    } else {
        Err(out_of_range(name, value, unit, format!("{SMALLEST:e} to {LARGEST:e}")))
    }
}

/// `value` if it is zero or lies in 1e-12 to 1e12.
pub(super) fn not_negative(name: &str, value: f64, unit: &str) -> Result<f64, Error> {
    if value == 0.0 || (SMALLEST..=LARGEST).contains(&value) {
        Ok(value)
    } else {
        Err(out_of_range(name, value, unit, format!("0, or {SMALLEST:e} to {LARGEST:e}")))
    }
}

/// `value` if its magnitude is at most 1e12.
pub(super) fn signed(name: &str, value: f64, unit: &str) -> Result<f64, Error> {
    if value.abs() <= LARGEST {
        Ok(value)
    } else {
        Err(out_of_range(name, value, unit, format!("{:e} to {LARGEST:e}", -LARGEST)))
    }
}

/// A temperature on the caller's scale.
pub(super) fn temperature(name: &str, value: f64) -> Result<f64, Error> {
    signed(name, value, "K")
}

/// A time after the start, not the start itself.
pub(super) fn time(value: f64) -> Result<f64, Error> {
    positive("time", value, "s")
}

/// `value` if it lies between `lower` and `upper`, moved onto them when it misses by mere rounding.
pub(super) fn between(name: &str, value: f64, lower: f64, upper: f64, unit: &str) -> Result<f64, Error> {
    let rounding = 1e-12 * lower.abs().max(upper.abs());
    if value >= lower - rounding && value <= upper + rounding {
        Ok(value.clamp(lower, upper))
    } else {
        Err(out_of_range(name, value, unit, format!("{lower} to {upper}")))
    }
}

/// `value` if it is a number: the last gate before a result leaves.
pub(super) fn finite(value: f64) -> Result<f64, Error> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(Error::new(ErrorKind::NoConvergence, "the numbers given are too extreme for double precision"))
    }
}
