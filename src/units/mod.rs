//! Quantities at the door: dimensioned types, short constructors, text, and the one conversion to SI numbers.
//!
//! Everything public speaks these types; below the door the crate computes with `f64` in SI units
//! (kelvin for temperatures). [`Si`] is the only place where one becomes the other.

pub use uom::si::f64::{
    Angle, Area, Energy, HeatCapacity, HeatFluxDensity, HeatTransfer, Length, Mass, MassDensity, Power, Pressure,
    Ratio, SpecificHeatCapacity, TemperatureInterval, ThermalConductance, ThermalConductivity,
    ThermodynamicTemperature as Temperature, Time, Velocity, Volume,
};

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
