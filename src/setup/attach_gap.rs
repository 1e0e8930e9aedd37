//! What passes between the pot and the liner: air that convects, radiation, the contact under the base.

use super::assemble::{Assembly, Scene};
use super::gap_law::{HalfGap, Lie};
use super::place::{Mechanism, Place};
use super::{Face, Input, Range};
use crate::conduction::RadiationLaw;
use crate::correlation::radiation;
use crate::error::Error;
use crate::network::{Held, Link, NodeId};
use crate::units::Ratio;

/// The gaps about a pot, m, and areas, m².
#[derive(Debug, Clone, Copy)]
pub(crate) struct Gaps {
    /// Mean thickness of the gap round the side.
    pub(crate) ring: f64,
    /// Between pot lid and box lid.
    pub(crate) above: f64,
    /// Height of the pot.
    pub(crate) height: f64,
}

impl Gaps {
    /// Between pot lid and box lid, m.
    pub(crate) fn above(&self) -> f64 {
        self.above.max(THINNEST)
    }
}

/// One inner face with what it sees.
#[derive(Debug, Clone, Copy)]
pub(crate) struct InnerFace {
    pub(crate) face: Face,
    pub(crate) node: NodeId,
    /// Area that meets the air, m².
    pub(crate) area: f64,
    /// Whole inner area, m².
    pub(crate) whole: f64,
}

/// Published gap relations in a small space: a quarter up or down, and up to a third more where loops join gaps.
pub(crate) fn gap_factor() -> Range<Ratio> {
    Range::of_members(0.75, 1.0, 1.3)
}

/// A gap counts as at least this thick, m: a snug sleeve touches here and there.
const THINNEST: f64 = 5e-4;

impl Assembly {
    /// Links pot, air and inner faces.
    pub(crate) fn attach_gaps(
        &mut self,
        gaps: &Gaps,
        faces: &[InnerFace],
        liner_emissivity: f64,
        scene: &Scene<'_>,
    ) -> Result<(), Error> {
        let path = self.path(Place::Inside, Mechanism::Gap);
        if let Some(films) = scene.films {
            let film = scene.choice.pick(Input::InsideFilm, &films.inside);
            let all: f64 = faces.iter().map(|f| f.whole).sum();
            let bodies = self.companions.clone();
            for f in faces {
                let of_body = |(body, surface): (NodeId, f64)| (body, surface * f.whole / all);
                for (from, area) in bodies.iter().copied().map(of_body).chain([(self.pot, f.whole)]) {
                    let link = self.network.link(Link::conductance(from, f.node, film * area, path));
                    if f.face == Face::Lid {
                        self.lid.push(link);
                    }
                }
            }
            return Ok(());
        }
        let factor = scene.choice.pick(Input::GapFactor, &gap_factor());
        let ring = gaps.ring.max(THINNEST);
        let above = gaps.above();
        let side = Lie::Upright((gaps.height / ring).max(1.0));
        let relation = scene.choice.relation(Input::GapFactor);
        let gap = |thickness: f64, area: f64, lie: Lie| Held(HalfGap { thickness, area, lie, factor, relation });

        let (pot, air) = (self.pot, self.air);
        let (pot_side, pot_top) = (scene.pot.side_area(), scene.pot.top_area());
        let wet = scene.pot.fill();
        let sides: Vec<(NodeId, f64)> =
            [(pot, wet), (self.dry, 1.0 - wet)].into_iter().filter(|(_, share)| *share > 0.0).collect();
        for (node, share) in &sides {
            self.network.link(Link::between(*node, air, gap(ring, share * pot_side, side), path));
        }
        let top = self.top(scene);
        let link = self.network.link(Link::between(top, air, gap(above, pot_top, Lie::WarmBelow), path));
        self.lid.push(link);
        for f in faces {
            let (thickness, lie) = match f.face {
                Face::Lid => (above, Lie::WarmBelow),
                Face::Base => (ring, Lie::WarmAbove),
                _ => (ring, side),
            };
            let link = self.network.link(Link::between(air, f.node, gap(thickness, f.area, lie), path));
            if f.face == Face::Lid {
                self.lid.push(link);
            }
        }

        // Radiation: what the side and top of the pot send goes to the faces opposite, in shares of their areas.
        let emissivity = scene.choice.pick(Input::PotEmissivity, &scene.pot.emissivity()?);
        let upright: f64 = faces.iter().filter(|f| is_upright(f.face)).map(|f| f.area).sum();
        for f in faces {
            let (sends, share, receives) = match f.face {
                Face::Lid => (pot_top, 1.0, f.area),
                Face::Base => continue,
                _ => (pot_side, f.area / upright, upright),
            };
            let ratio = (sends / receives).min(1.0);
            let exchange = radiation::exchange_factor_enclosed(ratio, emissivity, liner_emissivity)?;
            let law = |part: f64| Held(RadiationLaw { factor: exchange * sends * share * part });
            if f.face == Face::Lid {
                let link = self.network.link(Link::between(top, f.node, law(1.0), path));
                self.lid.push(link);
                continue;
            }
            for (node, part) in &sides {
                self.network.link(Link::between(*node, f.node, law(*part), path));
            }
        }

        self.attach_companions(faces, scene);

        if let Some(base) = faces.iter().find(|f| f.face == Face::Base) {
            let contact = scene.choice.pick(Input::BaseContact, &scene.pot.footing().resistance());
            let conductance = pot_top / contact;
            self.network.link(Link::conductance(pot, base.node, conductance, path));
        }
        Ok(())
    }
}

pub(crate) fn is_upright(face: Face) -> bool {
    !matches!(face, Face::Lid | Face::Base)
}
