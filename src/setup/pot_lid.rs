//! The lid of the pot itself: what vapour passes on its way out of the dish.

use super::assemble::{Assembly, Scene};
use super::leak_law::{Mouth, ToRoom};
use super::place::{Mechanism, Place};
use super::{Input, Range};
use crate::correlation::atmosphere;
use crate::correlation::leak::Slit;
use crate::error::Error;
use crate::network::{Link, StoreId, WaterWay};
use crate::units::{Length, Ratio, Si, millimetres};

/// How a pot is covered.
///
/// Under a lid the vapour condenses and drips back; what is lost diffuses past its rim. Without one it rises from the
/// whole surface of the dish into the box: it condenses on the liner of the lid and keeps that warm, and as much leaves by
/// every gap as the air carries that passes there.
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

/// Published mass transfer from a free surface is within a factor of two (estimate: relations differ by as much; that of
/// Uchida, which gives up to twice more again, enters the cautious end beside it).
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

    /// No lid.
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
                width: scene.choice.pick(Input::PotLidGap, &gap),
                depth: RIM_DEPTH,
                bends: 0,
            }),
            Cover::None => open_mouth(scene),
        }
    }
}

impl Assembly {
    /// Vapour from the pot straight to the room: past its lid while it is carried and while the box is open, from the open
    /// dish while that is off.
    pub(crate) fn attach_bare_vapour(&mut self, dish: StoreId, scene: &Scene<'_>) -> Result<(), Error> {
        let pressure = atmosphere::pressure_iso_2533(scene.plan.height().si())?.value;
        let wind = scene.plan.wind_course().signal();
        let lid = scene.pot.lid();
        let mut attach = |place: Place, mouth: Mouth| {
            let path = self.path(place, Mechanism::Vapour);
            let water = Some(WaterWay { from: Some(dish), to: None });
            let law = Box::new(ToRoom { mouth, pressure, wind: wind.clone() });
            let reads = vec![self.pot, self.room];
            self.network.link(Link { from: self.pot, to: self.room, reads, law, path, water })
        };
        let covered = lid.mouth(scene);
        let mut closed = None;
        if !matches!(covered, Mouth::Sealed) {
            closed = Some([attach(Place::Carry, covered), attach(Place::Opening, covered)]);
        }
        let bare = !lid.is_missing() && scene.plan.uncovers();
        let uncovered = bare.then(|| attach(Place::Opening, open_mouth(scene)));
        if let Some([carried, opened]) = closed {
            self.carry.push(carried);
            self.open.push(opened);
            self.covered.extend(bare.then_some(opened));
        }
        self.uncovered.extend(uncovered);
        Ok(())
    }
}

/// How the vapour leaves a pot without a lid.
fn open_mouth(scene: &Scene<'_>) -> Mouth {
    let factor = scene.choice.pick(Input::SurfaceFactor, &surface_factor());
    Mouth::Open { area: factor * scene.pot.top_area() }
}
