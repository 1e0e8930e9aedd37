//! A second body in the box: another pot, a hot stone, a bottle of hot water, an ice pack.

use super::assemble::{Assembly, Scene};
use super::place::{Mechanism, Part, Place};
use super::{Input, Range};
use crate::error::{Error, Within};
use crate::network::{Enthalpy, Link, Node};
use crate::units::bounds::{in_range, positive};
use crate::units::{Area, HeatCapacity, HeatTransfer, Si, Temperature, celsius, joules_per_kelvin, square_metres};

/// A well-stirred body beside the pot, in the air of the box.
#[derive(Debug, Clone, PartialEq)]
pub struct Companion {
    name: String,
    capacity: HeatCapacity,
    start: Temperature,
    surface: Area,
}

/// From the body to the air and the liner about it: 8, from 4 to 12 W/(m² K) (estimate: free convection 2 to 4 and
/// radiation).
fn companion_film() -> Range<HeatTransfer> {
    Range::of_members(4.0, 8.0, 12.0)
}

impl Companion {
    /// A body with its heat capacity (up to 1e6 J/K), its temperature at shutting and the surface that meets the air.
    pub fn new(name: &str, capacity: HeatCapacity, start: Temperature, surface: Area) -> Self {
        Companion { name: name.to_owned(), capacity, start, surface }
    }

    /// What it is called.
    pub fn name(&self) -> &str {
        &self.name
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let check = || -> Result<(), Error> {
            positive("heat capacity", self.capacity, joules_per_kelvin(1e6))?;
            in_range("start temperature", self.start, celsius(-60.0), celsius(400.0))?;
            positive("surface", self.surface, square_metres(2.0)).map(|_| ())
        };
        check().within(self.name.clone())
    }

    /// Attaches the body to the air of the box. Where films are constant nothing passes through the air of the shut box:
    /// the body then meets the inner faces by that film (see `attach_gaps`), and the air only while it is open.
    pub(crate) fn attach(&self, index: usize, assembly: &mut Assembly, scene: &Scene<'_>) {
        let enthalpy = Enthalpy::Capacity(self.capacity.si());
        let node = assembly.network.node(Node::Free { enthalpy, start: self.start.si() });
        assembly.bodies.push((node, Part::Companion(index)));
        assembly.companions.push((node, self.surface.si()));
        let path = assembly.path(Place::Inside, Mechanism::Gap);
        let film = scene.choice.pick(Input::CompanionFilm, &companion_film()) * self.surface.si();
        let link = assembly.network.link(Link::conductance(node, assembly.air, film, path));
        if scene.films.is_some() {
            assembly.open.push(link);
        }
    }
}
