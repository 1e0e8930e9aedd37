//! Air pressure and boiling point by height above the sea.

use super::constants::{STANDARD_GRAVITY, STANDARD_PRESSURE};
use super::{Validity, Value, input, water};
use crate::{Error, ErrorKind};

/// Pressure of the standard atmosphere \[Pa\].
///
/// ```text
/// p = 101325 (1 - 0.0065 H/288.15)^(g/(287.05287*0.0065)),  exponent 5.25588
/// ```
/// `height` H, geopotential \[m\] (0.03 % less than the height on a map at 2000 m); range -2000 to 11000 m.
/// The weather moves the true pressure by up to 4 % (ESTIMATE).
///
/// Source: ISO 2533:1975, Standard Atmosphere; equation and table MEMORY, reproduced by integrating the
/// hydrostatic equation.
///
/// # Errors
/// A height not finite, or so large that the layer's temperature would not be above zero (44.3 km).
///
/// # Examples
/// The table gives 79495.2 Pa at 2000 m (MEMORY):
/// ```
/// let p = stillhot::correlation::atmosphere::pressure_iso_2533(2000.0)?;
/// assert!((p.value - 79_495.2).abs() < 1.0);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn pressure_iso_2533(height: f64) -> Result<Value, Error> {
    // The standard's own constants; its specific gas constant differs from today's in the sixth digit.
    const LAPSE: f64 = 0.0065;
    const SEA_LEVEL_TEMPERATURE: f64 = 288.15;
    const SPECIFIC_GAS_CONSTANT: f64 = 287.052_87;
    const EXPONENT: f64 = STANDARD_GRAVITY / (SPECIFIC_GAS_CONSTANT * LAPSE);
    let h = input::finite("height", height, "m")?;
    let ratio = 1.0 - LAPSE * h / SEA_LEVEL_TEMPERATURE;
    if ratio <= 0.0 {
        return Err(Error::new(ErrorKind::OutOfRange, "is above the layer this relation describes")
            .with_value(format!("{h} m"))
            .with_accepted("below 44330 m")
            .within("height"));
    }
    let validity = Validity::Inside.check("height", h, "m", -2000.0..=11_000.0);
    Value::new(STANDARD_PRESSURE * ratio.powf(EXPONENT), validity)
}

/// Boiling temperature of water \[K\] at a height in the standard atmosphere.
///
/// [`pressure_iso_2533`] put into [`water::boiling_temperature_if97`]; `height` \[m\], range -2000 to 11000 m.
///
/// # Errors
/// As the two relations.
///
/// # Examples
/// Water boils near 93.3 °C at 2000 m (steam tables, MEMORY):
/// ```
/// let t = stillhot::correlation::atmosphere::boiling_temperature(2000.0)?;
/// assert!((t.value - 273.15 - 93.3).abs() < 0.1);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn boiling_temperature(height: f64) -> Result<Value, Error> {
    let pressure = pressure_iso_2533(height)?;
    let boiling = water::boiling_temperature_if97(pressure.value)?;
    Value::new(boiling.value, pressure.validity.and(boiling.validity))
}
