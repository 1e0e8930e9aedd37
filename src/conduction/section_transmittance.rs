//! What a junction adds to the plain walls that meet in it: linear and point thermal transmittance.

use super::estimate::Estimate;
use super::problem::Problem;
use super::section_steady::SteadySection;
use crate::error::{Error, ErrorKind, Within};
use crate::units::bounds::in_range;
use crate::units::{
    HeatTransfer, Length, LinearTransmittance, Si, Temperature, ThermalConductance, metres, watts_per_kelvin,
    watts_per_square_metre_kelvin, write,
};
use crate::wall::{Boundary, Junction, Wall};

/// A plain wall as the section would have it everywhere but for the junction, and the length for which it counts: inner
/// or outer dimensions, as the user chooses.
#[derive(Debug, Clone, PartialEq)]
pub struct Arm {
    plain: Plain,
    length: Length,
}

#[derive(Debug, Clone, PartialEq)]
enum Plain {
    Wall(Wall),
    Transmittance(HeatTransfer),
}

impl Arm {
    /// A flat wall with the boundaries of the section at its faces.
    pub fn new(wall: Wall, length: Length) -> Self {
        Arm { plain: Plain::Wall(wall), length }
    }

    /// A wall of known transmittance (U-value), surfaces included.
    pub fn with_transmittance(transmittance: HeatTransfer, length: Length) -> Self {
        Arm { plain: Plain::Transmittance(transmittance), length }
    }

    /// Heat through it per kelvin and metre of the junction, W/(m K).
    fn conductance(&self, inner: &Boundary, outer: &Boundary, difference: f64) -> Result<f64, Error> {
        let length = in_range("length", self.length, metres(0.0), metres(100.0))?;
        let u = match &self.plain {
            Plain::Transmittance(u) => {
                in_range("transmittance", *u, watts_per_square_metre_kelvin(0.0), watts_per_square_metre_kelvin(1e6))?
            }
            Plain::Wall(wall) => {
                Problem::new(wall.clone(), inner.clone(), outer.clone())?.steady()?.heat_per_extent() / difference
            }
        };
        Ok(u * length)
    }
}

impl Junction {
    /// Its plain walls, to be counted by their inner lengths.
    pub fn inner_arms(&self) -> Vec<Arm> {
        self.arms().iter().map(|a| Arm::new(a.wall.clone(), a.inner_length)).collect()
    }

    /// Its plain walls, to be counted by their outer lengths.
    pub fn outer_arms(&self) -> Vec<Arm> {
        self.arms().iter().map(|a| Arm::new(a.wall.clone(), a.outer_length)).collect()
    }
}

impl SteadySection {
    /// Heat into the section through `inside` for each kelvin between what is there and at `outside`: the thermal
    /// coupling coefficient of ISO 10211, W/(m K) of a plane section and W/K of one about an axis.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a part that is not there, [`ErrorKind::Inconsistent`] if one of the two has no
    /// temperature or both the same.
    pub fn coupling(&self, inside: &str, outside: &str) -> Result<Estimate<f64>, Error> {
        let difference = self.difference(inside, outside)?;
        let over = |v: f64| v / difference;
        Ok(self.heat(inside)?.map(over, |e| e / difference.abs()))
    }

    /// What the junction lets through beyond its plain walls, the linear thermal transmittance of ISO 10211: the heat
    /// through `inside` per kelvin, less that through the arms. With inner lengths it tells what to add to the inner areas,
    /// with outer lengths (where it may be negative) to the outer ones.
    ///
    /// # Errors
    /// As [`SteadySection::coupling`]; [`ErrorKind::Inconsistent`] for a section about an axis; a length or wall outside
    /// its range.
    pub fn linear_transmittance(
        &self,
        inside: &str,
        outside: &str,
        arms: &[Arm],
    ) -> Result<Estimate<LinearTransmittance>, Error> {
        if self.problem().section.is_about_axis() {
            return Err(Error::new(ErrorKind::Inconsistent, "a section about an axis has no linear transmittance")
                .with_accepted("a plane section"));
        }
        let coupling = self.coupling(inside, outside)?;
        let difference = self.difference(inside, outside)?;
        let [inner, outer] = [inside, outside].map(|part| self.problem().section.part(part));
        let (inner, outer) = (&self.problem().boundaries[inner?], &self.problem().boundaries[outer?]);
        let mut plain = 0.0;
        for (i, arm) in arms.iter().enumerate() {
            plain += arm.conductance(inner, outer, difference).within(format!("arm {}", i + 1))?;
        }
        Ok(coupling.map(|l| LinearTransmittance::from_si(l - plain), LinearTransmittance::from_si))
    }

    /// What a bridge lets through beyond the plain construction of the given conductance, the point thermal
    /// transmittance: of a section about an axis.
    ///
    /// # Errors
    /// As [`SteadySection::coupling`]; [`ErrorKind::Inconsistent`] for a plane section.
    pub fn point_transmittance(
        &self,
        inside: &str,
        outside: &str,
        plain: ThermalConductance,
    ) -> Result<Estimate<ThermalConductance>, Error> {
        if !self.problem().section.is_about_axis() {
            return Err(Error::new(ErrorKind::Inconsistent, "a plane section has no point transmittance")
                .with_accepted("a section about an axis"));
        }
        let plain = in_range("plain", plain, watts_per_kelvin(0.0), watts_per_kelvin(1e9))?;
        let coupling = self.coupling(inside, outside)?;
        Ok(coupling.map(|g| ThermalConductance::from_si(g - plain), ThermalConductance::from_si))
    }

    /// Temperature at `inside` above that at `outside`, K; not zero.
    fn difference(&self, inside: &str, outside: &str) -> Result<f64, Error> {
        let at = |part: &str| -> Result<f64, Error> {
            match &self.problem().boundaries[self.problem().section.part(part)?] {
                Boundary::Film { surroundings: course, .. } | Boundary::Temperature(course) => {
                    Ok(course.signal().at(0.0))
                }
                Boundary::Exchange(exchange) => Ok(exchange.air().signal().at(0.0)),
                _ => Err(Error::new(ErrorKind::Inconsistent, "a part without a given temperature")
                    .with_accepted("a film, an exchange or a temperature")
                    .within(part)),
            }
        };
        let (warm, cold) = (at(inside)?, at(outside)?);
        if (warm - cold).abs() < 1e-6 {
            return Err(Error::new(ErrorKind::Inconsistent, "no difference of temperature")
                .with_value(write(Temperature::from_si(warm)))
                .within(outside));
        }
        Ok(warm - cold)
    }
}
