//! A wall between the air and pot inside and the room outside.

use super::assemble::{Assembly, Scene};
use super::gap_law::OutsideFilm;
use super::member::Effect;
use super::place::{Mechanism, Part, Place};
use super::{Face, Range};
use crate::conduction::{RadiationLaw, WallPatch, share_cells};
use crate::error::Error;
use crate::network::{Enthalpy, Held, Link, Node, NodeId};
use crate::units::{HeatTransfer, Ratio, Si, metres};
use crate::wall::{Convection, Wall};

/// Relative change of a conductance that the march need not follow.
const RELINEARISE: f64 = 2e-3;

/// Where a wall stands and how much of it there is.
pub(crate) struct Site {
    pub(crate) face: Face,
    /// Inner area of a flat wall, length of a round one.
    pub(crate) extent: f64,
    /// What edges and corners add to it.
    pub(crate) edges: f64,
    /// Height of an upright surface, or area over perimeter of a level one, m.
    pub(crate) size: f64,
    /// Heat past the wall by air loops, as a share of what goes through it.
    pub(crate) loops: Range<Ratio>,
}

/// Published film relations against single surfaces: a quarter up or down.
pub(crate) fn film_factor() -> Range<Ratio> {
    Range::of_members(0.75, 1.0, 1.25)
}

/// From the base of a box to what it stands on: 6, from 3 to 9 W/(m² K) (estimate: a board or rug under it).
pub(crate) fn resting_film() -> Range<HeatTransfer> {
    Range::of_members(3.0, 6.0, 9.0)
}

/// Resistance of an outside film, m² K/W, for what air loops carry.
const OUTSIDE: f64 = 0.12;
/// Emissivity of the outside where the material does not tell.
const PLAIN: f64 = 0.9;

impl Assembly {
    /// Attaches a wall: patch, outer films (shared between face and edges so that the ledger tells them apart).
    /// Returns the node of its inner face, and the factor by which edges enlarge what meets it.
    pub(crate) fn attach_wall(&mut self, wall: &Wall, site: &Site, scene: &Scene<'_>) -> Result<(NodeId, f64), Error> {
        let counts: Vec<usize> = share_cells(wall, scene.cells).iter().map(|n| n * scene.level).collect();
        let patch = WallPatch::with_laws(wall, &counts, RELINEARISE, false, |layer| scene.member.laws(layer))?;
        let start = scene.plan.shell_start();
        let inner = self.network.node(Node::Free { enthalpy: Enthalpy::None, start });
        let outer = self.network.node(Node::Free { enthalpy: Enthalpy::None, start });
        let whole = site.extent + site.edges;
        let piece = patch.attach(whole, Some(inner), outer, |_, _| start)?;
        let id = self.network.patch(piece);
        self.parts.push((id, Part::Wall(site.face)));

        let outer_area = wall.area_at(wall.inner_coordinate() + wall.thickness().si());
        let shares = [(site.extent, Mechanism::Conduction), (site.edges, Mechanism::Edge)];
        for (extent, mechanism) in shares {
            let path = self.path(Place::Face(site.face), mechanism);
            let area = extent * outer_area;
            if site.face == Face::Base {
                let film = scene.member.pick(&resting_film(), Effect::Cools);
                self.network.link(Link::conductance(outer, self.room, film * area, path));
                continue;
            }
            let size = metres(site.size);
            let free = if site.face == Face::Lid { Convection::LevelUp(size) } else { Convection::Upright(size) };
            let wind = (scene.plan.wind().si() > 0.0).then_some(match site.face {
                Face::Side => {
                    Convection::WindOnCylinder(metres(2.0 * (outer_area / std::f64::consts::TAU)), scene.plan.wind())
                }
                _ => Convection::WindOnPlate(size, scene.plan.wind()),
            });
            let factor = scene.member.pick(&film_factor(), Effect::Cools);
            let film = OutsideFilm { free, wind, area, factor };
            self.network.link(Link::between(outer, self.room, Held(film), path));
            let emissivity =
                wall.layers().last().and_then(|l| l.material().emissivity()).map_or(PLAIN, |e| e.value().si());
            let radiation = RadiationLaw { factor: emissivity * area };
            self.network.link(Link::between(outer, self.sky, Held(radiation), path));
        }
        // Air that circles round the boards takes heat past them.
        let loops = scene.member.pick(&site.loops, Effect::Cools);
        if loops > 0.0 {
            let path = self.path(Place::Face(site.face), Mechanism::AirLoop);
            let laws = |layer: &crate::wall::Layer| scene.member.laws(layer).conductivity;
            let (cold, warm) = (scene.plan.room().si(), scene.plan.start_temperature()?.si());
            let resistance: f64 =
                wall.layers().iter().map(|l| l.thickness().si() / laws(l).mean(cold, warm)).sum::<f64>() + OUTSIDE;
            let area = whole * wall.area_at(wall.inner_coordinate());
            self.network.link(Link::conductance(inner, self.room, loops * area / resistance, path));
        }
        Ok((inner, whole / site.extent))
    }
}
