//! What lies between two layers.

use super::Airspace;
use crate::error::{Error, ErrorKind};
use crate::units::bounds::in_range;
use crate::units::{Length, Si, ThermalInsulance, millimetres, square_metre_kelvins_per_watt};

/// The joint between two neighbouring layers.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Contact {
    /// No resistance: glued, moulded or pressed together.
    #[default]
    Perfect,
    /// A given areal resistance, up to 100 m² K/W, on the area of the joint.
    Resistance(ThermalInsulance),
    /// A thin still-air gap of the given width, 1 µm to 5 mm, with plain faces (emissivity 0.9): conduction through
    /// the air and radiation at the mean temperature of the joint. Wider gaps convect.
    Gap(Length),
    /// An airspace that takes up room between the layers and convects.
    Airspace(Airspace),
}

impl Contact {
    /// How far apart it keeps the layers, m: only an airspace does.
    pub(crate) fn thickness(&self) -> f64 {
        match self {
            Contact::Airspace(airspace) => airspace.thickness().si(),
            _ => 0.0,
        }
    }

    /// Refuses an airspace about a level axis where there is none.
    pub(crate) fn check_axis(&self, has_axis: bool) -> Result<(), Error> {
        match self {
            Contact::Airspace(airspace) if airspace.has_level_axis() && !has_axis => {
                Err(Error::new(ErrorKind::Inconsistent, "an airspace about a level axis needs a cylinder round it")
                    .with_accepted("a cylindrical wall, or an airspace that faces some way")
                    .within("airspace"))
            }
            _ => Ok(()),
        }
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        match self {
            Contact::Perfect => {}
            Contact::Airspace(airspace) => airspace.check()?,
            Contact::Resistance(r) => {
                let zero = square_metre_kelvins_per_watt(0.0);
                in_range("contact resistance", *r, zero, square_metre_kelvins_per_watt(100.0))?;
            }
            Contact::Gap(width) => {
                in_range("contact gap", *width, millimetres(0.001), millimetres(5.0))?;
            }
        }
        Ok(())
    }
}
