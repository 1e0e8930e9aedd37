//! What can be done to an end of a wall or the surface of a body.

use super::range;
use crate::{Error, Within};

/// What happens at one end of a wall from time zero on, constant in time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum End {
    /// The surface is held at this temperature (K): boundary condition of the first kind.
    Temperature(f64),
    /// This heat flux density (W/m2) enters the wall; negative leaves it: second kind.
    Flux(f64),
    /// No heat passes.
    Insulated,
    /// Mid-plane, axis or centre point. The inner end of a cylinder or sphere of inner radius zero must be this;
    /// on a plane wall it is the same as insulated.
    Symmetry,
    /// Convection, third kind: the flux into the wall is the coefficient times (temperature less surface temperature).
    Film {
        /// Film coefficient, W/(m2 K).
        coefficient: f64,
        /// Temperature of the surroundings, K.
        temperature: f64,
    },
    /// A well-stirred body that starts at its own temperature and exchanges heat with the wall: fourth kind.
    WellStirred(StirredBody),
}

/// A body of uniform temperature at the end of a wall: a stirred liquid, a plate of high conductivity.
///
/// Capacity and loss conductance are per square metre of a plane wall, per metre of a cylinder, and total for a sphere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StirredBody {
    /// Heat capacity, J/(m2 K), J/(m K) or J/K.
    pub capacity: f64,
    /// Temperature at time zero, K.
    pub start_temperature: f64,
    /// Film coefficient between body and wall, W/(m2 K); `None` for perfect contact.
    pub film: Option<f64>,
    /// Heat the body loses on another way; `None` if it does not.
    pub loss: Option<DirectLoss>,
}

/// A conductance from a well-stirred body to surroundings of constant temperature, past the wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DirectLoss {
    /// Conductance, W/(m2 K) on a plane wall, W/(m K) on a cylinder, W/K on a sphere.
    pub conductance: f64,
    /// Temperature of the surroundings it leads to, K.
    pub temperature: f64,
}

impl StirredBody {
    /// In perfect contact with the wall and without other loss.
    pub fn new(capacity: f64, start_temperature: f64) -> Self {
        StirredBody { capacity, start_temperature, film: None, loss: None }
    }

    /// The same body behind a film of this coefficient, W/(m2 K).
    #[must_use]
    pub fn with_film(self, coefficient: f64) -> Self {
        StirredBody { film: Some(coefficient), ..self }
    }

    /// The same body losing heat past the wall.
    #[must_use]
    pub fn with_loss(self, conductance: f64, temperature: f64) -> Self {
        StirredBody { loss: Some(DirectLoss { conductance, temperature }), ..self }
    }
}

impl End {
    /// Refuses numbers outside the accepted range; `name` says which end this is.
    pub(super) fn checked(self, name: &str) -> Result<Self, Error> {
        let check = || -> Result<(), Error> {
            match self {
                End::Temperature(value) => range::temperature("temperature", value).map(drop),
                End::Flux(value) => range::signed("flux", value, "W/m2").map(drop),
                End::Insulated | End::Symmetry => Ok(()),
                End::Film { coefficient, temperature } => {
                    range::positive("film coefficient", coefficient, "W/(m2 K)")?;
                    range::temperature("temperature", temperature).map(drop)
                }
                End::WellStirred(body) => {
                    range::positive("heat capacity", body.capacity, "J/K per unit of wall")?;
                    range::temperature("start temperature", body.start_temperature)?;
                    if let Some(coefficient) = body.film {
                        range::positive("film coefficient", coefficient, "W/(m2 K)")?;
                    }
                    if let Some(loss) = body.loss {
                        range::not_negative("loss conductance", loss.conductance, "W/K per unit of wall")?;
                        range::temperature("loss temperature", loss.temperature)?;
                    }
                    Ok(())
                }
            }
        };
        check().within(name).map(|()| self)
    }
}
