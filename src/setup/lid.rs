//! The lid of a box or sleeve: how it closes, and what leaks past it.

use super::Range;
use super::assemble::{Assembly, Scene};
use super::member::Effect;
use super::place::{Mechanism, Place};
use crate::error::{Error, Within};
use crate::network::Link;
use crate::units::{Si, ThermalConductance, watts_per_kelvin};

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

/// A lid with the heat that leaks past it, as a conductance from pot to room.
///
/// Defaults are estimates. They are the added losses computed for a nine-litre pot at 90 °C in a 15 °C room from
/// slit flow and vapour diffusion (see the crate's notes on leaks), divided by 75 K, with the range of gap widths
/// of a home-made joint: a resting lid from "rim joint closed to half a millimetre, one level" to "two millimetre
/// gaps on two levels"; a pressed one up to half a millimetre on two levels; a gasketed one up to one level of
/// half a millimetre; a plug from half a millimetre to two and a half round the plug.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lid {
    kind: LidKind,
    leak: Range<ThermalConductance>,
    /// Whether the leak is that of a joint of [`REFERENCE_JOINT`], to go with the length of the joint at hand.
    by_joint: bool,
}

impl Lid {
    fn of(kind: LidKind, low: f64, best: f64, high: f64) -> Self {
        // The constants below rise, so that `Range` holds without its check.
        let leak = Range::of_members(low, best, high);
        Lid { kind, leak, by_joint: true }
    }

    /// Rests on the rim: 0.004 to 0.27, best 0.06 W/K.
    pub fn resting() -> Self {
        Self::of(LidKind::Resting, 0.004, 0.06, 0.27)
    }

    /// Pressed down: 0.002 to 0.05, best 0.012 W/K.
    pub fn pressed() -> Self {
        Self::of(LidKind::Pressed, 0.002, 0.012, 0.05)
    }

    /// On a gasket: 0 to 0.012, best 0.003 W/K.
    pub fn gasketed() -> Self {
        Self::of(LidKind::Gasketed, 0.0, 0.003, 0.012)
    }

    /// A plug between the walls: 0.004 to 0.1, best 0.019 W/K.
    pub fn plug() -> Self {
        Self::of(LidKind::Plug, 0.004, 0.019, 0.1)
    }

    /// No leak: the walls alone.
    pub fn tight() -> Self {
        Self::of(LidKind::Tight, 0.0, 0.0, 0.0)
    }

    /// The same lid with a leak of your own, 0 to 100 W/K: that of the whole joint, whatever its length.
    #[must_use]
    pub fn leaking(mut self, leak: Range<ThermalConductance>) -> Self {
        self.leak = leak;
        self.by_joint = false;
        self
    }

    /// The seam of a sleeve over a lidded pot of a litre or so: 0.009 to 0.09, best 0.03 W/K per 1.2 m of seam
    /// (estimate: a seam of half a millimetre, one level, to a millimetre on two levels, with the height of a small
    /// pot).
    pub(crate) fn flap() -> Self {
        Self::of(LidKind::Resting, 0.009, 0.03, 0.09)
    }

    /// How it closes.
    pub fn kind(&self) -> LidKind {
        self.kind
    }

    /// What leaks past it per kelvin between pot and room.
    pub fn leak(&self) -> Range<ThermalConductance> {
        self.leak
    }

    /// Whether the leak was given, not taken by kind.
    pub(crate) fn is_given(&self) -> bool {
        !self.by_joint
    }

    /// Reference of the defaults: a pot of nine litres. A smaller box has a shorter joint; the leak goes with it.
    pub(crate) fn scaled(&self, joint: f64) -> Self {
        if !self.by_joint {
            return *self;
        }
        let factor = joint / REFERENCE_JOINT;
        let leak = Range::of_members(
            self.leak.low().si() * factor,
            self.leak.best().si() * factor,
            self.leak.high().si() * factor,
        );
        Lid { leak, ..*self }
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        self.leak.check("leak", watts_per_kelvin(0.0), watts_per_kelvin(100.0)).within("lid")
    }
}

/// Length of the joint that the defaults were computed for, m.
const REFERENCE_JOINT: f64 = 1.2;

impl Assembly {
    /// Attaches the leak past the lid.
    pub(crate) fn attach_lid(&mut self, lid: &Lid, scene: &Scene<'_>) {
        let leak = scene.member.pick(&lid.leak(), Effect::Cools);
        let path = self.path(Place::LidJoint, Mechanism::Leak);
        self.network.link(Link::conductance(self.pot, self.room, leak, path));
    }
}
