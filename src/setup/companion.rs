//! A second body in the box: another pot, a hot stone, a bottle of hot water, an ice pack.

use super::assemble::{Assembly, Scene};
use super::attach_gap::InnerFace;
use super::attach_wall::film_factor;
use super::gap_law::FreeBody;
use super::place::{Mechanism, Part, Place};
use super::{Face, Input, Range};
use crate::conduction::RadiationLaw;
use crate::correlation::{constants, water};
use crate::error::{Error, Within};
use crate::network::{Enthalpy, Held, Link, Node, NodeId};
use crate::units::bounds::{in_range, positive};
use crate::units::{
    Area, HeatCapacity, Ratio, Si, Temperature, Volume, celsius, joules_per_kelvin, litres, millilitres, square_metres,
};

/// A well-stirred body beside the pot, in the air of the box.
#[derive(Debug, Clone, PartialEq)]
pub struct Companion {
    name: String,
    capacity: HeatCapacity,
    start: Temperature,
    surface: Area,
}

/// Emissivity of a second body: that of stone, glass, rubber and enamel; the lower end is for bright metal (estimate).
fn companion_emissivity() -> Range<Ratio> {
    Range::of_members(0.2, 0.9, 0.95)
}

/// Temperature down to which a bottle of water is thought to cool when its mean heat capacity is taken, K: 20 °C.
const COOLED: f64 = 293.15;

impl Companion {
    /// A body with its heat capacity (up to 1e6 J/K), its temperature at shutting and the surface that meets the air.
    pub fn new(name: &str, capacity: HeatCapacity, start: Temperature, surface: Area) -> Self {
        Companion { name: name.to_owned(), capacity, start, surface }
    }

    /// A closed bottle of water: how much (1 mL to 100 L), its temperature at shutting (0 to 100 °C) and its surface.
    /// Mass and heat capacity are those of water between that temperature and 20 °C (IAPWS-IF97); the bottle itself
    /// counts for nothing.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) for a volume or temperature outside.
    pub fn of_water(name: &str, volume: Volume, start: Temperature, surface: Area) -> Result<Self, Error> {
        let capacity = || -> Result<f64, Error> {
            let volume = in_range("volume", volume, millilitres(1.0), litres(100.0))?;
            let t = in_range("start temperature", start, celsius(0.0), celsius(100.0))?;
            let pressure = constants::STANDARD_PRESSURE;
            let mass = volume * water::liquid_density_if97(t, pressure)?.value;
            let heat = |t: f64| Ok::<_, Error>(water::liquid_enthalpy_if97(t, pressure)?.value);
            Ok(mass
                * if (t - COOLED).abs() < 1.0 {
                    water::liquid_specific_heat_if97(t, pressure)?.value
                } else {
                    (heat(t)? - heat(COOLED)?) / (t - COOLED)
                })
        };
        Ok(Self::new(name, HeatCapacity::from_si(capacity().within(name.to_owned())?), start, surface))
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
        let factor = scene.choice.pick(Input::FilmFactor, &film_factor());
        let film = Held(FreeBody { surface: self.surface.si(), factor });
        let link = assembly.network.link(Link::between(node, assembly.air, film, path));
        if scene.films.is_some() {
            assembly.open.push(link);
        }
    }
}

impl Assembly {
    /// Radiation from second bodies to the inner faces, in shares of their areas: each body is small against the box.
    pub(crate) fn attach_companions(&mut self, faces: &[InnerFace], scene: &Scene<'_>) {
        if self.companions.is_empty() {
            return;
        }
        let path = self.path(Place::Inside, Mechanism::Gap);
        let emissivity = scene.choice.pick(Input::CompanionEmissivity, &companion_emissivity());
        let all: f64 = faces.iter().map(|f| f.whole).sum();
        let bodies: Vec<(NodeId, f64)> = self.companions.clone();
        for (body, surface) in bodies {
            for f in faces {
                let law = Held(RadiationLaw { factor: emissivity * surface * f.whole / all });
                let link = self.network.link(Link::between(body, f.node, law, path));
                if f.face == Face::Lid {
                    self.lid.push(link);
                }
            }
        }
    }
}
