//! Short constructors: `millimetres(50.0)`, `celsius(98.0)`, `watts_per_metre_kelvin(0.023)`.
//!
//! They take any number; what a description accepts is checked where the description is taken.

use super::scale::{CELSIUS, DEGREE, FAHRENHEIT, INCH, OUNCE, POUND, Scale};
use super::{
    Angle, Area, Energy, HeatCapacity, HeatFluxDensity, HeatTransfer, Length, Mass, MassDensity, Power, Pressure,
    Ratio, Si, SpecificHeatCapacity, Temperature, TemperatureInterval, ThermalConductance, ThermalConductivity,
    ThermalInsulance, Time, Velocity, Volume,
};

/// A length of so many metres.
#[must_use]
pub fn metres(value: f64) -> Length {
    Length::from_si(value)
}

/// A length of so many centimetres.
#[must_use]
pub fn centimetres(value: f64) -> Length {
    Length::from_si(Scale::part(1e2).to_si(value))
}

/// A length of so many millimetres.
#[must_use]
pub fn millimetres(value: f64) -> Length {
    Length::from_si(Scale::part(1e3).to_si(value))
}

/// A length of so many inches, 25.4 mm each.
///
/// ```
/// use stillhot::units::{inches, millimetres};
/// assert_eq!(inches(10.0), millimetres(254.0));
/// ```
#[must_use]
pub fn inches(value: f64) -> Length {
    Length::from_si(INCH.to_si(value))
}

/// An area of so many square metres.
#[must_use]
pub fn square_metres(value: f64) -> Area {
    Area::from_si(value)
}

/// A volume of so many cubic metres.
#[must_use]
pub fn cubic_metres(value: f64) -> Volume {
    Volume::from_si(value)
}

/// A volume of so many litres.
///
/// ```
/// use stillhot::units::{cubic_metres, litres};
/// assert_eq!(litres(7.0), cubic_metres(0.007));
/// ```
#[must_use]
pub fn litres(value: f64) -> Volume {
    Volume::from_si(Scale::part(1e3).to_si(value))
}

/// A volume of so many millilitres.
#[must_use]
pub fn millilitres(value: f64) -> Volume {
    Volume::from_si(Scale::part(1e6).to_si(value))
}

/// A mass of so many kilograms.
#[must_use]
pub fn kilograms(value: f64) -> Mass {
    Mass::from_si(value)
}

/// A mass of so many grams.
#[must_use]
pub fn grams(value: f64) -> Mass {
    Mass::from_si(Scale::part(1e3).to_si(value))
}

/// A mass of so many (avoirdupois) pounds, 0.453 592 37 kg each.
#[must_use]
pub fn pounds(value: f64) -> Mass {
    Mass::from_si(POUND.to_si(value))
}

/// A mass of so many (avoirdupois) ounces, a sixteenth of a pound each.
///
/// ```
/// use stillhot::units::{ounces, pounds};
/// assert_eq!(ounces(16.0), pounds(1.0));
/// ```
#[must_use]
pub fn ounces(value: f64) -> Mass {
    Mass::from_si(OUNCE.to_si(value))
}

/// A time of so many seconds.
#[must_use]
pub fn seconds(value: f64) -> Time {
    Time::from_si(value)
}

/// A time of so many minutes.
#[must_use]
pub fn minutes(value: f64) -> Time {
    Time::from_si(Scale::times(60.0).to_si(value))
}

/// A time of so many hours.
///
/// ```
/// use stillhot::units::{hours, minutes};
/// assert_eq!(hours(1.5), minutes(90.0));
/// ```
#[must_use]
pub fn hours(value: f64) -> Time {
    Time::from_si(Scale::times(3_600.0).to_si(value))
}

/// A time of so many days of 24 hours.
///
/// ```
/// use stillhot::units::{days, hours};
/// assert_eq!(days(2.0), hours(48.0));
/// ```
#[must_use]
pub fn days(value: f64) -> Time {
    Time::from_si(Scale::times(86_400.0).to_si(value))
}

/// The temperature of so many degrees Celsius.
///
/// ```
/// use stillhot::units::{celsius, kelvin};
/// assert_eq!(celsius(0.0), kelvin(273.15));
/// ```
#[must_use]
pub fn celsius(value: f64) -> Temperature {
    Temperature::from_si(CELSIUS.to_si(value))
}

/// The temperature of so many degrees Fahrenheit.
///
/// ```
/// use stillhot::units::{celsius, fahrenheit};
/// assert_eq!(fahrenheit(212.0), celsius(100.0));
/// ```
#[must_use]
pub fn fahrenheit(value: f64) -> Temperature {
    Temperature::from_si(FAHRENHEIT.to_si(value))
}

/// The (absolute) temperature of so many kelvin; an interval is made by [`kelvins`].
#[must_use]
pub fn kelvin(value: f64) -> Temperature {
    Temperature::from_si(value)
}

/// A temperature interval of so many kelvins; a temperature is made by [`kelvin`].
#[must_use]
pub fn kelvins(value: f64) -> TemperatureInterval {
    TemperatureInterval::from_si(value)
}

/// A plane angle of so many degrees.
#[must_use]
pub fn degrees(value: f64) -> Angle {
    Angle::from_si(DEGREE.to_si(value))
}

/// A ratio given as a plain number: 0.9 is nine tenths.
#[must_use]
pub fn fraction(value: f64) -> Ratio {
    Ratio::from_si(value)
}

/// A ratio of so many hundredths.
///
/// ```
/// use stillhot::units::{fraction, percent};
/// assert_eq!(percent(90.0), fraction(0.9));
/// ```
#[must_use]
pub fn percent(value: f64) -> Ratio {
    Ratio::from_si(Scale::part(1e2).to_si(value))
}

/// An energy of so many joules.
#[must_use]
pub fn joules(value: f64) -> Energy {
    Energy::from_si(value)
}

/// An energy of so many kilojoules.
///
/// ```
/// use stillhot::units::{joules, kilojoules};
/// assert_eq!(kilojoules(0.5), joules(500.0));
/// ```
#[must_use]
pub fn kilojoules(value: f64) -> Energy {
    Energy::from_si(Scale::times(1e3).to_si(value))
}

/// An energy of so many megajoules.
#[must_use]
pub fn megajoules(value: f64) -> Energy {
    Energy::from_si(Scale::times(1e6).to_si(value))
}

/// A power (or heat flow) of so many watts.
#[must_use]
pub fn watts(value: f64) -> Power {
    Power::from_si(value)
}

/// A pressure of so many pascals.
#[must_use]
pub fn pascals(value: f64) -> Pressure {
    Pressure::from_si(value)
}

/// A pressure of so many kilopascals.
#[must_use]
pub fn kilopascals(value: f64) -> Pressure {
    Pressure::from_si(Scale::times(1e3).to_si(value))
}

/// A velocity of so many metres per second.
#[must_use]
pub fn metres_per_second(value: f64) -> Velocity {
    Velocity::from_si(value)
}

/// A mass density in kg/m³.
#[must_use]
pub fn kilograms_per_cubic_metre(value: f64) -> MassDensity {
    MassDensity::from_si(value)
}

/// The heat capacity of a body, J/K.
#[must_use]
pub fn joules_per_kelvin(value: f64) -> HeatCapacity {
    HeatCapacity::from_si(value)
}

/// The heat capacity of a substance per mass, J/(kg K).
#[must_use]
pub fn joules_per_kilogram_kelvin(value: f64) -> SpecificHeatCapacity {
    SpecificHeatCapacity::from_si(value)
}

/// A heat flow per area, W/m².
#[must_use]
pub fn watts_per_square_metre(value: f64) -> HeatFluxDensity {
    HeatFluxDensity::from_si(value)
}

/// A heat transfer coefficient, W/(m² K).
#[must_use]
pub fn watts_per_square_metre_kelvin(value: f64) -> HeatTransfer {
    HeatTransfer::from_si(value)
}

/// Volumetric power in W/m³.
#[must_use]
pub fn watts_per_cubic_metre(value: f64) -> super::VolumetricPower {
    super::VolumetricPower::from_si(value)
}

/// A thermal conductivity, or the linear transmittance of an edge, W/(m K).
#[must_use]
pub fn watts_per_metre_kelvin(value: f64) -> ThermalConductivity {
    ThermalConductivity::from_si(value)
}

/// The thermal conductance of a body, W/K.
#[must_use]
pub fn watts_per_kelvin(value: f64) -> ThermalConductance {
    ThermalConductance::from_si(value)
}

/// The thermal insulance of a layer, m² K/W.
#[must_use]
pub fn square_metre_kelvins_per_watt(value: f64) -> ThermalInsulance {
    ThermalInsulance::from_si(value)
}
