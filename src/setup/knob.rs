//! A knob on the lid of the pot: in the air under the lid of the box, or through that lid into the room.

use std::f64::consts::PI;

use super::Input;
use super::assemble::{Assembly, Scene};
use super::handle::bar_film;
use super::place::{Mechanism, Place};
use crate::correlation::fin::{self, Bar, Tip};
use crate::error::{Error, Within};
use crate::material::Material;
use crate::network::Link;
use crate::units::bounds::in_range;
use crate::units::{Length, Si, metres, millimetres};

/// A round bar that stands on the lid of the pot.
///
/// It takes heat from that lid. Under the lid of the box it only gives it to the air there, past a part of the gap; one that
/// passes the lid of the box gives it to the room.
#[derive(Debug, Clone, PartialEq)]
pub struct Knob {
    material: Material,
    across: Length,
    reach: Reach,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Reach {
    /// So high in the air of the box.
    Inside(Length),
    /// So far out of the box.
    Outside(Length),
}

impl Knob {
    /// A knob of this diameter (1 to 100 mm) and height (1 to 200 mm) in the air under the lid of the box; one that is higher
    /// than the room there is taken to have a hollow in the lid.
    pub fn inside(material: Material, across: Length, height: Length) -> Self {
        Knob { material, across, reach: Reach::Inside(height) }
    }

    /// A knob, rod or screw of this diameter (1 to 100 mm) that passes the lid of the box or sleeve and sticks out by `outside`
    /// (0 to 0.5 m). What it takes up on its way through the air of the box is left out.
    pub fn through_lid(material: Material, across: Length, outside: Length) -> Self {
        Knob { material, across, reach: Reach::Outside(outside) }
    }

    /// Whether it passes the lid of the box.
    pub fn passes_lid(&self) -> bool {
        matches!(self.reach, Reach::Outside(_))
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let check = || -> Result<(), Error> {
            in_range("across", self.across, millimetres(1.0), millimetres(100.0))?;
            match self.reach {
                Reach::Inside(height) => in_range("height", height, millimetres(1.0), millimetres(200.0)),
                Reach::Outside(outside) => in_range("outside", outside, metres(0.0), metres(0.5)),
            }
            .map(|_| ())
        };
        check().within("knob")
    }

    /// Attaches it to the lid of the pot as a fin; the lid of the box is so thick, m.
    pub(crate) fn attach(&self, assembly: &mut Assembly, scene: &Scene<'_>, wall: f64) -> Result<(), Error> {
        if scene.films.is_some() && !self.passes_lid() {
            // The one coefficient that was given for all inside has it in it.
            return Ok(());
        }
        let across = self.across.si();
        let conductivity = scene.choice.law(Input::KnobConductivity, self.material.conductivity());
        let mean = conductivity.mean(scene.plan.room().si(), scene.plan.hottest_start()?.si());
        let film = scene.choice.pick(Input::KnobFilm, &bar_film());
        let bar = Bar { conductivity: mean, area: 0.25 * PI * across * across, perimeter: PI * across, film };
        let (to, conductance, path) = match self.reach {
            Reach::Inside(height) => {
                let given = fin::straight_fin(&bar, height.si(), 1.0, Tip::Convective)?.value;
                (assembly.air, given, assembly.path(Place::Inside, Mechanism::Gap))
            }
            Reach::Outside(outside) => {
                let way = fin::bar_through_wall(&bar, wall.max(1e-3), outside.si(), 0.0)?;
                (assembly.room, 1.0 / way.total(), assembly.path(Place::Knob, Mechanism::Conduction))
            }
        };
        let link = assembly.network.link(Link::conductance(assembly.top(scene), to, conductance, path));
        assembly.lid.push(link);
        Ok(())
    }
}
