//! Steady conduction: resistances in series, and the critical radius.

use super::range;
use super::shape::WallShape;
use crate::{Error, ErrorKind, Within};

/// One resistance of a steady wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SteadyElement {
    /// A homogeneous layer.
    Layer {
        /// Thickness, m.
        thickness: f64,
        /// Conductivity, W/(m K).
        conductivity: f64,
    },
    /// A surface film, contact or air layer without thickness: resistance in m2 K/W, per area where it stands.
    Resistance(f64),
}

/// A wall of resistances in series, plane, cylindrical or spherical, from the inside out.
///
/// Layer resistances `L/k`, `ln(r2/r1)/(2 pi k)` and `(1/r1 - 1/r2)/(4 pi k)` (Incropera & DeWitt, section 3.1 to 3.3;
/// MEMORY). Exact to rounding (tests: printed textbook examples, computed reference cases).
#[derive(Debug, Clone, PartialEq)]
pub struct SteadyWall {
    /// Resistance of each element, K/W in the reference of the shape.
    resistances: Vec<f64>,
}

impl SteadyWall {
    /// The wall with these elements from the inside out.
    ///
    /// # Errors
    /// `OutOfRange` unless every thickness and conductivity lies in 1e-12 to 1e12, every resistance is zero or in that
    /// range, the inner radius of a cylinder or sphere is positive, and the whole resistance is positive.
    pub fn new(shape: WallShape, elements: &[SteadyElement]) -> Result<Self, Error> {
        let mut coordinate = shape.inner_coordinate();
        if !matches!(shape, WallShape::Plane) {
            range::positive("inner radius", coordinate, "m")?;
        }
        let mut resistances = Vec::with_capacity(elements.len());
        for (index, element) in elements.iter().enumerate() {
            let resistance = || -> Result<(f64, f64), Error> {
                Ok(match *element {
                    SteadyElement::Layer { thickness, conductivity } => {
                        let outer = coordinate + range::positive("thickness", thickness, "m")?;
                        let conductivity = range::positive("conductivity", conductivity, "W/(m K)")?;
                        (shape.steady_resistance(coordinate, outer, conductivity), outer)
                    }
                    SteadyElement::Resistance(value) => {
                        (range::not_negative("resistance", value, "m2 K/W")? / shape.area(coordinate), coordinate)
                    }
                })
            };
            let (value, outer) = resistance().within(format!("element {}", index + 1))?;
            resistances.push(value);
            coordinate = outer;
        }
        let wall = SteadyWall { resistances };
        if wall.resistance() > 0.0 {
            Ok(wall)
        } else {
            Err(Error::new(ErrorKind::OutOfRange, "a steady wall needs some resistance")
                .with_value("0 m2 K/W")
                .with_accepted("at least one element with a positive resistance")
                .within("elements"))
        }
    }

    /// Whole resistance: m2 K/W for a plane wall, m K/W for a cylinder, K/W for a sphere.
    pub fn resistance(&self) -> f64 {
        self.resistances.iter().sum()
    }

    /// Heat flow from inside to outside between two temperatures (K): W/m2, W/m or W.
    ///
    /// # Errors
    /// `OutOfRange` for temperatures of magnitude above 1e12 K.
    pub fn heat_flow(&self, inside: f64, outside: f64) -> Result<f64, Error> {
        let difference =
            range::temperature("inside temperature", inside)? - range::temperature("outside temperature", outside)?;
        range::finite(difference / self.resistance())
    }

    /// Temperatures (K) from inside to outside, before, between and after the elements: one more than elements.
    ///
    /// # Errors
    /// As [`heat_flow`](Self::heat_flow).
    pub fn temperatures(&self, inside: f64, outside: f64) -> Result<Vec<f64>, Error> {
        let flow = self.heat_flow(inside, outside)?;
        let mut temperatures = vec![inside];
        let mut passed = 0.0;
        for (index, resistance) in self.resistances.iter().enumerate() {
            passed += resistance;
            temperatures.push(if index + 1 == self.resistances.len() { outside } else { inside - flow * passed });
        }
        Ok(temperatures)
    }
}

/// Radius (m) at which more insulation of `conductivity` (W/(m K)) under a film of `film_coefficient` (W/(m2 K)) begins
/// to lower the heat flow: `k/h` on a cylinder, `2k/h` on a sphere (Incropera & DeWitt, section 3.3; MEMORY).
///
/// Exact (tests: printed textbook example; minimum of the resistance of [`SteadyWall`]).
///
/// # Errors
/// `OutOfRange` unless both lie in 1e-12 to 1e12; `Inconsistent` for a plane wall, which has none.
pub fn critical_radius(shape: WallShape, conductivity: f64, film_coefficient: f64) -> Result<f64, Error> {
    let ratio = range::positive("conductivity", conductivity, "W/(m K)")?
        / range::positive("film coefficient", film_coefficient, "W/(m2 K)")?;
    match shape {
        WallShape::Cylinder { .. } => Ok(ratio),
        WallShape::Sphere { .. } => Ok(2.0 * ratio),
        WallShape::Plane => Err(Error::new(ErrorKind::Inconsistent, "a plane wall has no critical radius")
            .with_accepted("a cylinder or a sphere")
            .within("shape")),
    }
}
