//! The lid of the pot itself: what vapour passes on its way out of the dish.

use super::Range;
use super::assemble::{Assembly, Scene};
use super::leak_law::{FreeSurface, Mouth};
use super::member::Effect;
use super::place::{Mechanism, Place};
use crate::correlation::atmosphere;
use crate::correlation::leak::Slit;
use crate::error::Error;
use crate::network::{Link, StoreId, WaterWay};
use crate::units::{Length, Ratio, Si, millimetres};

/// How a pot is covered.
///
/// Under a lid the vapour condenses and drips back; what is lost diffuses past its rim. Without one it rises from the
/// whole surface of the dish into the box, and what the liner does not return leaves by every gap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PotLid {
    cover: Cover,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Cover {
    None,
    Sealed,
    Loose(Range<Length>),
}

/// Overlap of pot lid and rim: 8 mm (estimate; what counts is the width of the gap over it).
const RIM_DEPTH: f64 = 0.008;

/// Published mass transfer from a free surface is within a factor of two (estimate: three relations differ by as much).
pub(crate) fn surface_factor() -> Range<Ratio> {
    Range::of_members(0.5, 1.0, 2.0)
}

impl PotLid {
    /// A sound loose lid: a gap of 0.1 to 0.5 mm, best 0.3 mm, on an overlap of 8 mm (estimate; no measured source).
    pub fn loose() -> Self {
        PotLid { cover: Cover::Loose(Range::of_members(1e-4, 3e-4, 5e-4)) }
    }

    /// A loose lid with a gap of your own, 0.02 to 5 mm on an overlap of 8 mm: a dented one, or one that stands on a
    /// spoon.
    pub fn with_gap(gap: Range<Length>) -> Self {
        PotLid { cover: Cover::Loose(gap) }
    }

    /// A lid that lets no vapour pass: clamped on a gasket, vented before it was shut in.
    pub fn sealed() -> Self {
        PotLid { cover: Cover::Sealed }
    }

    /// No lid. Steam that sets in and stops on a light liner is hard to follow: look at the numerical error of the
    /// answer, which may reach some kelvin.
    pub fn none() -> Self {
        PotLid { cover: Cover::None }
    }

    /// The gap between pot and lid, where there is one.
    pub fn gap(&self) -> Option<Range<Length>> {
        match self.cover {
            Cover::Loose(gap) => Some(gap),
            Cover::None | Cover::Sealed => None,
        }
    }

    /// Whether the pot has no lid.
    pub fn is_missing(&self) -> bool {
        self.cover == Cover::None
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        match self.cover {
            Cover::Loose(gap) => gap.check("lid gap", millimetres(0.02), millimetres(5.0)),
            Cover::None | Cover::Sealed => Ok(()),
        }
    }

    /// How the vapour leaves this pot.
    pub(crate) fn mouth(&self, scene: &Scene<'_>) -> Mouth {
        match self.cover {
            Cover::Sealed => Mouth::Sealed,
            Cover::Loose(gap) => Mouth::Rim(Slit {
                length: scene.pot.circumference(),
                width: scene.member.pick(&gap, Effect::Cools),
                depth: RIM_DEPTH,
                bends: 0,
            }),
            Cover::None => {
                let factor = scene.member.pick(&surface_factor(), Effect::Cools);
                Mouth::Open { area: factor * scene.pot.top_area() }
            }
        }
    }
}

impl Assembly {
    /// Vapour from the open dish straight to the room: from a pot without a lid while it is carried and while the box is
    /// open, from one with a lid while that is off.
    pub(crate) fn attach_open_pot(&mut self, dish: StoreId, scene: &Scene<'_>) -> Result<(), Error> {
        let area = scene.member.pick(&surface_factor(), Effect::Cools) * scene.pot.top_area();
        let pressure = atmosphere::pressure_iso_2533(scene.plan.height().si())?.value;
        let wind = scene.plan.wind_course().signal();
        let missing = scene.pot.lid().is_missing();
        for (place, happens) in [(Place::Carry, missing), (Place::Opening, missing || scene.plan.uncovers())] {
            if !happens {
                continue;
            }
            let path = self.path(place, Mechanism::Vapour);
            let water = Some(WaterWay { from: Some(dish), to: None });
            let law = Box::new(FreeSurface { area, pressure, wind: wind.clone() });
            let reads = vec![self.pot, self.room];
            let link = self.network.link(Link { from: self.pot, to: self.room, reads, law, path, water });
            match place {
                Place::Carry => self.carry.push(link),
                _ if missing => self.open.push(link),
                _ => self.uncovered.push(link),
            }
        }
        Ok(())
    }
}
