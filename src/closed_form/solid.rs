//! The solid the heat is conducted in.

use super::range;
use crate::Error;

/// A homogeneous, isotropic solid with constant properties.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Solid {
    conductivity: f64,
    density: f64,
    specific_heat_capacity: f64,
}

impl Solid {
    /// From conductivity (W/(m K)), density (kg/m3) and specific heat capacity (J/(kg K)).
    ///
    /// # Errors
    /// `OutOfRange` unless each lies in 1e-12 to 1e12.
    pub fn new(conductivity: f64, density: f64, specific_heat_capacity: f64) -> Result<Self, Error> {
        Ok(Solid {
            conductivity: range::positive("conductivity", conductivity, "W/(m K)")?,
            density: range::positive("density", density, "kg/m3")?,
            specific_heat_capacity: range::positive("specific heat capacity", specific_heat_capacity, "J/(kg K)")?,
        })
    }

    /// Conductivity, W/(m K).
    pub fn conductivity(&self) -> f64 {
        self.conductivity
    }

    /// Heat capacity of a volume, density times specific heat capacity, J/(m3 K).
    pub fn volumetric_heat_capacity(&self) -> f64 {
        self.density * self.specific_heat_capacity
    }

    /// Thermal diffusivity, conductivity over volumetric heat capacity, m2/s.
    pub fn diffusivity(&self) -> f64 {
        self.conductivity / self.volumetric_heat_capacity()
    }

    /// Thermal effusivity, root of conductivity times volumetric heat capacity, J/(m2 K s^0.5).
    pub fn effusivity(&self) -> f64 {
        (self.conductivity * self.volumetric_heat_capacity()).sqrt()
    }
}
