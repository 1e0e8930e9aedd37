//! A handle, strap or screw that leads from the pot through the wall into the room.

use super::assemble::{Assembly, Scene};
use super::place::{Mechanism, Place};
use super::{Input, Range};
use crate::correlation::fin::{self, Bar};
use crate::error::{Error, Within};
use crate::material::Material;
use crate::network::Link;
use crate::units::bounds::in_range;
use crate::units::{HeatTransfer, Length, Si, metres, millimetres};

/// A bar of rectangular section that touches the pot and sticks out of the box.
#[derive(Debug, Clone, PartialEq)]
pub struct Handle {
    material: Material,
    width: Length,
    thickness: Length,
    outside: Length,
}

/// On a bar in air: 10, from 8 to 20 W/(m² K) (the value of the handbook examples; wind reaches the upper end).
pub(crate) fn bar_film() -> Range<HeatTransfer> {
    Range::of_members(8.0, 10.0, 20.0)
}

impl Handle {
    /// A bar of this section (0.5 to 100 mm each way) that sticks out by `outside` (0 to 0.5 m).
    pub fn new(material: Material, width: Length, thickness: Length, outside: Length) -> Self {
        Handle { material, width, thickness, outside }
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let check = || -> Result<(), Error> {
            in_range("width", self.width, millimetres(0.5), millimetres(100.0))?;
            in_range("thickness", self.thickness, millimetres(0.5), millimetres(100.0))?;
            in_range("outside", self.outside, metres(0.0), metres(0.5)).map(|_| ())
        };
        check().within("handle")
    }

    /// Attaches the handle as a fin behind a bar through a wall of the given thickness, m.
    pub(crate) fn attach(&self, assembly: &mut Assembly, scene: &Scene<'_>, wall: f64) -> Result<(), Error> {
        let (w, t) = (self.width.si(), self.thickness.si());
        let conductivity = scene.choice.law(Input::HandleConductivity, self.material.conductivity());
        let mean = conductivity.mean(scene.plan.room().si(), scene.plan.hottest_start()?.si());
        let film = scene.choice.pick(Input::HandleFilm, &bar_film());
        let bar = Bar { conductivity: mean, area: w * t, perimeter: 2.0 * (w + t), film };
        let way = fin::bar_through_wall(&bar, wall.max(1e-3), self.outside.si(), 0.0)?;
        let path = assembly.path(Place::Handle, Mechanism::Conduction);
        assembly.network.link(Link::conductance(assembly.pot, assembly.room, 1.0 / way.total(), path));
        Ok(())
    }
}
