//! The lid of a box or sleeve: how it closes, and what leaks past it.

use std::sync::Arc;

use super::assemble::{Assembly, Scene};
use super::attach_gap::{Gaps, InnerFace};
use super::film::Facing;
use super::leak_law::{Joints, LeakLaw, Plug, Share};
use super::place::{Mechanism, Part, Place};
use super::{Face, Input, Range};
use crate::correlation::atmosphere;
use crate::correlation::leak::{EffectiveWidth, PLUG_UNCERTAINTY, Slit, SlitWalls};
use crate::error::{Error, Within};
use crate::network::{Link, Store, StoreId, WaterWay};
use crate::units::{Length, Ratio, Si, ThermalConductance, millimetres, watts_per_kelvin};
use crate::wall::Among;

/// How a lid closes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum LidKind {
    /// Lies on the rim by its own weight.
    Resting,
    /// Lies on the rim and is pressed down by a weight or straps.
    Pressed,
    /// Lies on a soft closed-cell gasket, well loaded.
    Gasketed,
    /// Sits like a stopper between the walls.
    Plug,
    /// No leak at all: not something one can build, but the best that the walls alone could do.
    Tight,
}

/// A lid, and what passes its joint.
///
/// By default the joint is a gap whose width depends on how the lid closes; air and vapour pass it by the relations of
/// [`correlation::leak`](crate::correlation::leak), driven by the temperatures of the forecast. The flow goes with the
/// cube of the width, so the widths are ranges; they are estimates for home-made joints until you measure your own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lid {
    kind: LidKind,
    gap: Range<Length>,
    leak: Option<Range<ThermalConductance>>,
}

impl Lid {
    /// A lid with a joint of these widths, mm.
    fn of(kind: LidKind, low: f64, best: f64, high: f64) -> Self {
        Lid { kind, gap: Range::of_members(1e-3 * low, 1e-3 * best, 1e-3 * high), leak: None }
    }

    /// Rests on the rim: joint 0.3 to 2 mm, best 1 mm.
    pub fn resting() -> Self {
        Self::of(LidKind::Resting, 0.3, 1.0, 2.0)
    }

    /// Pressed down: joint 0.1 to 0.7 mm, best 0.3 mm.
    pub fn pressed() -> Self {
        Self::of(LidKind::Pressed, 0.1, 0.3, 0.7)
    }

    /// On a gasket: joint 0.05 to 0.3 mm, best 0.1 mm.
    pub fn gasketed() -> Self {
        Self::of(LidKind::Gasketed, 0.05, 0.1, 0.3)
    }

    /// A plug between the walls: joint 0.5 to 2.5 mm, best 1 mm, upright.
    pub fn plug() -> Self {
        Self::of(LidKind::Plug, 0.5, 1.0, 2.5)
    }

    /// No leak: the walls alone.
    pub fn tight() -> Self {
        Self::of(LidKind::Tight, 0.0, 0.0, 0.0).leaking(Range::of_members(0.0, 0.0, 0.0))
    }

    /// The seam of a sleeve over a lidded pot: 0.3 to 1.5 mm, best 0.7 mm.
    pub(crate) fn flap() -> Self {
        Self::of(LidKind::Resting, 0.3, 0.7, 1.5)
    }

    /// The same with a joint of your own, 0.02 to 10 mm wide.
    #[must_use]
    pub fn with_gap(mut self, gap: Range<Length>) -> Self {
        self.gap = gap;
        self.leak = None;
        self
    }

    /// The same with a joint whose width was measured at equal distances round the lid, some of them zero. What flows
    /// through it goes with the mean of the cubes of the widths, what diffuses with their mean: the first is the width
    /// that counts, the second the generous end.
    ///
    /// # Errors
    /// No width, one that is not finite or below zero, or all of them zero.
    pub fn with_gap_measured(self, widths: &[Length]) -> Result<Self, Error> {
        let widths: Vec<f64> = widths.iter().map(|w| w.si()).collect();
        Ok(self.with_effective_gap(EffectiveWidth::measured(&widths).within("lid")?))
    }

    /// The same with a joint that opens evenly from `narrowest` to `widest`, as under a lid that is warped or lies askew;
    /// see [`Lid::with_gap_measured`].
    ///
    /// # Errors
    /// A width that is not finite or below zero, or both zero.
    pub fn with_gap_spread(self, narrowest: Length, widest: Length) -> Result<Self, Error> {
        Ok(self.with_effective_gap(EffectiveWidth::spread(narrowest.si(), widest.si()).within("lid")?))
    }

    fn with_effective_gap(self, width: EffectiveWidth) -> Self {
        self.with_gap(Range::of_members(width.diffusion, width.flow, width.flow))
    }

    /// The same lid with a leak of your own in place of the joint, 0 to 100 W/K between pot and room.
    #[must_use]
    pub fn leaking(mut self, leak: Range<ThermalConductance>) -> Self {
        self.leak = Some(leak);
        self.gap = Range::of_members(0.0, 0.0, 0.0);
        self
    }

    /// How it closes.
    pub fn kind(&self) -> LidKind {
        self.kind
    }

    /// Width of the joint.
    pub fn gap(&self) -> Range<Length> {
        self.gap
    }

    /// The leak between pot and room, where one was given in place of the joint.
    pub fn leak(&self) -> Option<Range<ThermalConductance>> {
        self.leak
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        match &self.leak {
            Some(leak) => leak.check("leak", watts_per_kelvin(0.0), watts_per_kelvin(100.0)).within("lid"),
            None => self.gap.check("gap", millimetres(0.02), millimetres(10.0)).within("lid"),
        }
    }
}

/// What the leak of a box or sleeve needs to know besides the lid.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Seams {
    /// Length of the joint round the lid, m; seams low down are as long.
    pub(crate) joint: f64,
    /// Depth of the joints along the flow, m.
    pub(crate) depth: f64,
    /// Height between lid and base, m.
    pub(crate) height: f64,
    /// Width of the seams low down.
    pub(crate) low: Range<Length>,
    /// Width of the upright seams, as high as that.
    pub(crate) upright: Range<Length>,
}

/// Upright seams of a box: its four edges.
const UPRIGHT: f64 = 4.0;

/// How much of the wind speed reaches a box near the ground: 0.2 to 0.5, best 0.35 (estimate).
fn shelter() -> Range<Ratio> {
    Range::of_members(0.2, 0.35, 0.5)
}

/// What the walls of the joint round a plug leave of the convection in it.
fn plug_convection() -> Range<Ratio> {
    Range::of_members(1.0 / PLUG_UNCERTAINTY, 1.0, PLUG_UNCERTAINTY)
}

/// A seam narrower than this is shut, m.
const SHUT: f64 = 5e-5;

impl Assembly {
    /// Attaches the leak: a conductance where one was given, else air and vapour through the joints.
    pub(crate) fn attach_lid(
        &mut self,
        lid: &Lid,
        seams: &Seams,
        (faces, gaps): (&[InnerFace], &Gaps),
        scene: &Scene<'_>,
    ) -> Result<(), Error> {
        let path = self.path(Place::LidJoint, Mechanism::Leak);
        if let Some(leak) = lid.leak() {
            let leak = scene.choice.pick(Input::LidLeak, &leak);
            self.network.link(Link::conductance(self.pot, self.room, leak, path));
            if scene.plan.uncovers() {
                // What the open dish gives off is no part of the leak.
                self.attach_water(scene)?;
            }
            return Ok(());
        }
        let long = |length: f64, width: f64| Slit { length, width, depth: seams.depth, bends: 0 };
        let slit = |width: f64| long(seams.joint, width);
        let low = scene.choice.pick(Input::LowSeams, &seams.low);
        let upright = scene.choice.pick(Input::UprightSeams, &seams.upright);
        let plug = || {
            // Boards lie between faces that take up no heat and such as hold their temperature: the generous end has these.
            let generous = scene.choice.relation(Input::PlugConvection) == Among::Least;
            let walls = if generous { SlitWalls::Conducting } else { SlitWalls::Insulating };
            Plug { factor: scene.choice.pick(Input::PlugConvection, &plug_convection()), walls }
        };
        // Vapour condenses on the liner of the lid; how far that is from what it comes from.
        let top = faces.iter().find(|f| f.face == Face::Lid);
        let (liner, area) = top.map_or((self.air, scene.pot.top_area()), |f| (f.node, f.area));
        let headspace =
            if scene.pot.lid().is_missing() { (1.0 - scene.pot.fill()) * scene.pot.height().si() } else { 0.0 };
        let joints = Joints {
            lid: slit(scene.choice.pick(Input::LidGap, &lid.gap())),
            plug: (lid.kind() == LidKind::Plug).then(plug),
            low: (low > SHUT).then(|| slit(low)),
            upright: (upright > SHUT).then(|| (long(seams.height, upright), UPRIGHT)),
            height: seams.height,
            mouth: scene.pot.lid().mouth(scene),
            liner: Facing { area, distance: gaps.above() + headspace },
            pressure: atmosphere::pressure_iso_2533(scene.plan.height().si())?.value,
            wind: 0.0,
        };
        let wind = (scene.plan.wind_course().signal().clone(), scene.choice.pick(Input::Shelter, &shelter()));
        let from = self.attach_water(scene)?;
        let onto = self.network.store(Store { node: liner, start: 0.0 });
        self.bodies.push((liner, Part::Condensate));
        self.film = Some(onto);
        let reads = vec![self.pot, self.air, liner, self.room];
        let vapour = self.path(Place::LidJoint, Mechanism::Vapour);
        let inside = self.path(Place::Inside, Mechanism::Vapour);
        let shares = [
            (Share::Air, self.air, self.room, path, None),
            (Share::Vapour, self.pot, self.room, vapour, Some(WaterWay { from: Some(from), to: None })),
            (Share::Condensate, self.pot, liner, inside, Some(WaterWay { from: Some(from), to: Some(onto) })),
        ];
        let last = Arc::default();
        for (share, from, to, path, water) in shares {
            let law = Box::new(LeakLaw { joints, wind: wind.clone(), film: onto, share, last: Arc::clone(&last) });
            let link = self.network.link(Link { from, to, reads: reads.clone(), law, path, water });
            self.lid.push(link);
        }
        Ok(())
    }

    /// Attaches the water of the dish, and what it loses outside the shut box.
    fn attach_water(&mut self, scene: &Scene<'_>) -> Result<StoreId, Error> {
        let water = scene.pot.contents().map_or(0.0, |(_, mass)| mass.si());
        let dish = self.network.store(Store { node: self.pot, start: water });
        self.water = Some(dish);
        self.attach_bare_vapour(dish, scene)?;
        Ok(dish)
    }
}
