//! What happens at a face of a wall.

use super::{Course, Exchange};
use crate::error::{Error, ErrorKind, Within};
use crate::units::bounds::{in_range, positive};
use crate::units::{
    HeatCapacity, HeatFluxDensity, HeatTransfer, Si, Spoken, Temperature, ThermalConductance, celsius,
    joules_per_kelvin, kelvin, watts_per_kelvin, watts_per_square_metre_kelvin, write,
};

/// What one face of a wall meets. Heat counts positive into the wall.
#[derive(Debug, Clone, PartialEq)]
pub enum Boundary {
    /// A surface film to surroundings of a temperature.
    Film {
        /// Surface coefficient, 1e-3 to 1e6 W/(m² K).
        coefficient: HeatTransfer,
        /// Temperature of the surroundings.
        surroundings: Course<Temperature>,
    },
    /// Convection and radiation by published relations, following the temperatures.
    Exchange(Exchange),
    /// The face itself has this temperature.
    Temperature(Course<Temperature>),
    /// Heat flux into the wall through this face.
    Flux(Course<HeatFluxDensity>),
    /// No heat passes.
    Insulated,
    /// A well-stirred body (a fluid, a metal block) that exchanges heat with the face.
    Body(Body),
}

impl Boundary {
    /// A surface film of constant `coefficient` to `surroundings`.
    pub fn film(coefficient: HeatTransfer, surroundings: impl Into<Course<Temperature>>) -> Self {
        Boundary::Film { coefficient, surroundings: surroundings.into() }
    }

    /// The face at `temperature`.
    pub fn temperature(temperature: impl Into<Course<Temperature>>) -> Self {
        Boundary::Temperature(temperature.into())
    }

    /// `flux` into the wall.
    pub fn flux(flux: impl Into<Course<HeatFluxDensity>>) -> Self {
        Boundary::Flux(flux.into())
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        match self {
            Boundary::Film { coefficient, surroundings } => {
                check_film(*coefficient)?;
                check_temperatures(surroundings)
            }
            Boundary::Exchange(exchange) => exchange.check(),
            Boundary::Temperature(course) => check_temperatures(course),
            Boundary::Flux(course) => {
                let (low, high) = course.extremes();
                match [low, high].iter().find(|v| !v.is_finite() || v.abs() > 1e9) {
                    Some(v) => Err(outside(HeatFluxDensity::from_si(*v), "-1e9 to 1e9 W/m²").within("flux")),
                    None => Ok(()),
                }
            }
            Boundary::Insulated => Ok(()),
            Boundary::Body(body) => body.check(),
        }
    }
}

fn check_film(coefficient: HeatTransfer) -> Result<(), Error> {
    let (low, high) = (watts_per_square_metre_kelvin(1e-3), watts_per_square_metre_kelvin(1e6));
    in_range("film coefficient", coefficient, low, high).map(|_| ())
}

pub(super) fn check_temperatures(course: &Course<Temperature>) -> Result<(), Error> {
    let (low, high) = course.extremes();
    for t in [low, high] {
        in_range("temperature", kelvin(t), celsius(-270.0), celsius(3000.0))?;
    }
    Ok(())
}

fn outside<Q: Spoken>(value: Q, accepted: &str) -> Error {
    Error::new(ErrorKind::OutOfRange, "out of range").with_value(write(value)).with_accepted(accepted)
}

/// A well-stirred body at a face: one temperature, one heat capacity for the whole extent of the wall (see
/// [`Wall`](super::Wall): per square metre of a plane, per metre of a cylinder, whole for a sphere).
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    capacity: HeatCapacity,
    start: Temperature,
    film: Option<HeatTransfer>,
    loss: Option<(ThermalConductance, Course<Temperature>)>,
}

impl Body {
    /// A body of `capacity` that starts at `start`, in perfect contact with the face.
    pub fn new(capacity: HeatCapacity, start: Temperature) -> Self {
        Body { capacity, start, film: None, loss: None }
    }

    /// The same with a surface film between body and face.
    #[must_use]
    pub fn behind_film(mut self, coefficient: HeatTransfer) -> Self {
        self.film = Some(coefficient);
        self
    }

    /// The same with a direct loss to surroundings that does not pass the wall.
    #[must_use]
    pub fn losing(mut self, conductance: ThermalConductance, to: impl Into<Course<Temperature>>) -> Self {
        self.loss = Some((conductance, to.into()));
        self
    }

    /// Heat capacity.
    pub fn capacity(&self) -> HeatCapacity {
        self.capacity
    }

    /// Start temperature.
    pub fn start(&self) -> Temperature {
        self.start
    }

    /// Film between body and face; none for perfect contact.
    pub fn film(&self) -> Option<HeatTransfer> {
        self.film
    }

    /// Direct loss and what it goes to.
    pub fn loss(&self) -> Option<(ThermalConductance, &Course<Temperature>)> {
        self.loss.as_ref().map(|(g, t)| (*g, t))
    }

    fn check(&self) -> Result<(), Error> {
        let check = || {
            positive("heat capacity", self.capacity, joules_per_kelvin(1e15))?;
            in_range("start temperature", self.start, celsius(-270.0), celsius(3000.0))?;
            if let Some(film) = self.film {
                check_film(film)?;
            }
            if let Some((conductance, to)) = &self.loss {
                in_range("loss", *conductance, watts_per_kelvin(0.0), watts_per_kelvin(1e9))?;
                check_temperatures(to)?;
            }
            Ok(())
        };
        let checked: Result<(), Error> = check();
        checked.within("body")
    }
}
