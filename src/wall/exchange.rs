//! A face that exchanges heat with its surroundings by convection and radiation, each by a published relation.

use super::Course;
use crate::error::{Error, Within};
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{
    HeatTransfer, Length, Ratio, Si, Temperature, Velocity, metres, metres_per_second, watts_per_square_metre_kelvin,
};

/// How air takes heat from a face.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Convection {
    /// Not at all: radiation alone.
    None,
    /// A constant coefficient, 0 to 1e6 W/(m² K).
    Constant(HeatTransfer),
    /// Free convection on an upright plate of this height (Churchill and Chu 1975).
    Upright(Length),
    /// Free convection on an upright cylinder of this height and diameter: more than on a plate, the more slender it is
    /// (Popiel and others 2007).
    UprightCylinder(Length, Length),
    /// Free convection on a level plate that is hot above or cold below, of this characteristic length, area over
    /// perimeter (McAdams).
    LevelUp(Length),
    /// Free convection on a level plate that is hot below or cold above (McAdams).
    LevelDown(Length),
    /// Free convection on a level cylinder of this diameter (Churchill and Chu 1975).
    LevelCylinder(Length),
    /// Wind across an upright cylinder of this diameter (Churchill and Bernstein 1977).
    WindOnCylinder(Length, Velocity),
    /// Wind along a plate of this length (laminar, Pohlhausen; mixed above the transition).
    WindOnPlate(Length, Velocity),
}

/// Convection to the air and radiation to the surroundings.
#[derive(Debug, Clone, PartialEq)]
pub struct Exchange {
    convection: Convection,
    emissivity: Ratio,
    air: Course<Temperature>,
    radiant: Course<Temperature>,
}

impl Exchange {
    /// Convection and radiation (emissivity 0 to 1) to surroundings of one temperature. Dry air at 101 325 Pa.
    pub fn new(convection: Convection, emissivity: Ratio, surroundings: impl Into<Course<Temperature>>) -> Self {
        let air = surroundings.into();
        Exchange { convection, emissivity, radiant: air.clone(), air }
    }

    /// The same with surroundings that radiate at another temperature than the air: a clear sky, a warm wall.
    #[must_use]
    pub fn with_radiant(mut self, temperature: impl Into<Course<Temperature>>) -> Self {
        self.radiant = temperature.into();
        self
    }

    /// How the air takes heat.
    pub fn convection(&self) -> Convection {
        self.convection
    }

    /// Emissivity of the face.
    pub fn emissivity(&self) -> Ratio {
        self.emissivity
    }

    /// Temperature of the air.
    pub fn air(&self) -> &Course<Temperature> {
        &self.air
    }

    /// Temperature of what the face sees.
    pub fn radiant(&self) -> &Course<Temperature> {
        &self.radiant
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        number_in_range("emissivity", self.emissivity.si(), 0.0, 1.0)?;
        super::boundary::check_temperatures(&self.air).within("air")?;
        super::boundary::check_temperatures(&self.radiant).within("radiant")?;
        let size = |length| in_range("length", length, metres(1e-3), metres(20.0)).map(|_| ());
        let wind = |speed| in_range("wind", speed, metres_per_second(0.0), metres_per_second(100.0)).map(|_| ());
        match self.convection {
            Convection::None => Ok(()),
            Convection::Constant(h) => {
                let (low, high) = (watts_per_square_metre_kelvin(0.0), watts_per_square_metre_kelvin(1e6));
                in_range("coefficient", h, low, high).map(|_| ())
            }
            Convection::Upright(l)
            | Convection::LevelUp(l)
            | Convection::LevelDown(l)
            | Convection::LevelCylinder(l) => size(l),
            Convection::UprightCylinder(l, d) => size(l).and_then(|()| size(d)),
            Convection::WindOnCylinder(l, v) | Convection::WindOnPlate(l, v) => size(l).and_then(|()| wind(v)),
        }
        .within("convection")
    }
}
