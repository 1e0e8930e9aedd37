//! Quantities at the door: dimensioned types, short constructors, text, and the one conversion to SI numbers.
//!
//! Everything public speaks these types; below the door the crate computes with `f64` in SI units
//! (kelvin for temperatures). [`Si`] is the only place where one becomes the other.
//!
//! A temperature and a temperature interval are different types: a pot at 33 °C and a pot that lost 33 K
//! must not be mistaken for one another. [`interval_between`] leads from the first to the second.
//!
//! ```
//! use stillhot::units::{self, Si, Temperature, ThermalConductivity, celsius, interval_between, kelvins};
//!
//! let conductivity: ThermalConductivity = units::parse("0.023 W/(m K)")?;
//! assert_eq!(conductivity.si(), 0.023);
//! let boiling: Temperature = units::parse("98 °C")?;
//! assert_eq!(interval_between(celsius(65.0), boiling), kelvins(33.0));
//! assert_eq!(units::write(boiling), "98 °C");
//! # Ok::<(), stillhot::Error>(())
//! ```

pub(crate) mod bounds;
mod dimension;
mod expression;
mod make;
mod scale;
mod span;
mod spoken;
mod symbol;
mod text;

pub use make::*;
pub use span::{write_span_down, write_span_up};
pub use spoken::Spoken;
pub use text::{parse, write, write_like, write_rounded};
pub use uom::si::f64::{
    Angle, Area, AvailableEnergy as SpecificEnergy, DiffusionCoefficient as ThermalDiffusivity, DynamicViscosity,
    Energy, HeatCapacity, HeatFluxDensity, HeatTransfer, KinematicViscosity, Length, Mass, MassDensity, MassRate,
    Power, Pressure, Ratio, SpecificHeatCapacity, TemperatureCoefficient, TemperatureInterval, ThermalConductance,
    ThermalConductivity, ThermalResistance, ThermodynamicTemperature as Temperature, Time, Velocity, Volume,
    VolumetricHeatCapacity,
};

use uom::typenum::{N1, N3, P1, P3, Z0};

/// Thermal insulance: the resistance of one square metre of a layer, m² K/W (the "R-value" in SI units).
///
/// Not to be mixed up with [`ThermalResistance`], K/W, which belongs to one body of a given area.
pub type ThermalInsulance = uom::si::Quantity<uom::si::ISQ<Z0, N1, P3, Z0, P1, Z0, Z0>, uom::si::SI<f64>, f64>;

/// Heat released per volume and time, W/m³.
pub type VolumetricPower = uom::si::Quantity<uom::si::ISQ<N1, P1, N3, Z0, Z0, Z0, Z0>, uom::si::SI<f64>, f64>;

/// Linear thermal transmittance of an edge or a seam, W/(m K): heat per metre of its length and kelvin.
///
/// It has the dimension, and so the type, of a [`ThermalConductivity`]; the name tells the two apart for people.
pub type LinearTransmittance = ThermalConductivity;

/// A temperature interval, K; another name of [`TemperatureInterval`].
pub type Interval = TemperatureInterval;

/// A quantity that can be read and made as a plain number in the SI unit of its dimension.
pub trait Si: Sized {
    /// The value in the SI unit (m, kg, s, K, W/(m K), ...).
    fn si(self) -> f64;
    /// The quantity whose value in the SI unit is `value`.
    fn from_si(value: f64) -> Self;
}

impl<D, U> Si for uom::si::Quantity<D, U, f64>
where
    D: uom::si::Dimension + ?Sized,
    U: uom::si::Units<f64> + ?Sized,
{
    fn si(self) -> f64 {
        self.value
    }
    fn from_si(value: f64) -> Self {
        uom::si::Quantity { dimension: std::marker::PhantomData, units: std::marker::PhantomData, value }
    }
}

/// How far `to` lies above `from`, K; negative where `to` is the colder one.
///
/// ```
/// use stillhot::units::{celsius, interval_between, kelvins};
/// assert_eq!(interval_between(celsius(20.0), celsius(98.0)), kelvins(78.0));
/// ```
#[must_use]
pub fn interval_between(from: Temperature, to: Temperature) -> TemperatureInterval {
    TemperatureInterval::from_si(to.si() - from.si())
}

/// The arithmetic mean of two temperatures, at which film properties are taken.
///
/// ```
/// use stillhot::units::{kelvin, mean_temperature};
/// assert_eq!(mean_temperature(kelvin(290.0), kelvin(370.0)), kelvin(330.0));
/// ```
#[must_use]
pub fn mean_temperature(one: Temperature, other: Temperature) -> Temperature {
    Temperature::from_si(f64::midpoint(one.si(), other.si()))
}
