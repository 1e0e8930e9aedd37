//! An airspace inside a wall: wide enough to convect.

use super::Among;
use crate::error::{Error, Within};
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{Angle, Length, Ratio, Si, degrees, millimetres};

/// An unventilated airspace between two layers, 1 to 100 mm across, wide and high against its thickness.
///
/// Conduction, convection and radiation by ISO 6946 (see
/// [`correlation::airspace`](crate::correlation::airspace)), with the conductivity of the air at the mean
/// temperature; the coefficient follows the two face temperatures, and with them the direction of the heat. Where heat
/// rises, the ends of a forecast's range take Hollands' relation
/// ([`correlation::enclosure`](crate::correlation::enclosure)) if it goes further. In a round wall the air conducts round
/// about, and radiation is that of concentric cylinders or spheres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Airspace {
    thickness: Length,
    facing: Angle,
    emissivities: [Ratio; 2],
    level_axis: bool,
    edge: bool,
    relation: Among,
}

impl Airspace {
    /// An upright airspace with plain faces (emissivity 0.9).
    pub fn upright(thickness: Length) -> Self {
        Airspace {
            thickness,
            facing: degrees(0.0),
            emissivities: [Ratio::from_si(0.9); 2],
            level_axis: false,
            edge: false,
            relation: Among::First,
        }
    }

    /// The same in a cylindrical wall whose axis lies level, as about a pipe: it convects by the relation of Raithby and
    /// Hollands for the ring between level cylinders. Any other wall refuses it.
    #[must_use]
    pub fn about_level_axis(mut self) -> Self {
        self.level_axis = true;
        self
    }

    /// Whether it lies about a level axis.
    pub fn has_level_axis(&self) -> bool {
        self.level_axis
    }

    /// The same in the quarter of a cylinder that stands for an edge of flat walls: between their faces it is flat.
    pub(crate) fn at_edge(mut self) -> Self {
        self.edge = true;
        self
    }

    pub(crate) fn stands_for_edge(&self) -> bool {
        self.edge
    }

    /// The same by these of the published relations.
    pub(crate) fn by(mut self, relation: Among) -> Self {
        self.relation = relation;
        self
    }

    pub(crate) fn relation(&self) -> Among {
        self.relation
    }

    /// The same in a wall whose outside faces this far above the level: 90° for the lid of a box (heat that leaves
    /// rises), 0° for an upright wall, -90° for the base.
    #[must_use]
    pub fn facing(mut self, above_level: Angle) -> Self {
        self.facing = above_level;
        self
    }

    /// The same with these emissivities of the inner and outer face, 0.01 to 1.
    #[must_use]
    pub fn with_emissivities(mut self, inner: Ratio, outer: Ratio) -> Self {
        self.emissivities = [inner, outer];
        self
    }

    /// How thick it is.
    pub fn thickness(&self) -> Length {
        self.thickness
    }

    /// How far above the level the outside faces.
    pub fn above_level(&self) -> Angle {
        self.facing
    }

    /// Emissivities of the inner and outer face.
    pub fn emissivities(&self) -> [Ratio; 2] {
        self.emissivities
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let check = || -> Result<(), Error> {
            in_range("thickness", self.thickness, millimetres(1.0), millimetres(100.0))?;
            in_range("facing", self.facing, degrees(-90.0), degrees(90.0))?;
            for e in self.emissivities {
                number_in_range("emissivity", e.si(), 0.01, 1.0)?;
            }
            Ok(())
        };
        check().within("airspace")
    }
}
