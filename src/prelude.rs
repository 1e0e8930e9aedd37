//! What a kitchen question needs, in one line: `use stillhot::prelude::*;`.
//!
//! The parts of a setup, what happens to it, what comes out, and short constructors of quantities. Names that are
//! common elsewhere, such as `Range`, `Error` or `Options`, are left out: they are one path away.

pub use crate::units::{
    Length, Mass, Si, Temperature, TemperatureInterval, Time, Velocity, Volume, celsius, centimetres, days, fahrenheit,
    grams, hours, inches, joules_per_kilogram_kelvin, kelvins, kilograms, kilograms_per_cubic_metre, litres, metres,
    metres_per_second, millilitres, millimetres, minutes, seconds, square_metre_kelvins_per_watt, watts_per_kelvin,
    watts_per_metre_kelvin,
};
pub use crate::{
    Contact, Dish, Enclosure, Face, Forecast, Held, Layer, Lid, LidKind, Material, Moment, Plan, Pot, Resting, Setup,
    Sleeve, Wall,
};
