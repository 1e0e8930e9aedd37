//! A wall between the air and pot inside and the room outside.

use super::assemble::{Assembly, MeshedWall, Scene};
use super::gap_law::{Blown, OutsideFilm};
use super::place::{Mechanism, Place};
use super::{Face, Input, Range};
use crate::conduction::{Mesh, RadiationLaw, WallPatch};
use crate::error::Error;
use crate::network::{Enthalpy, Held, Link, Node, NodeId, PathId};
use crate::units::{Ratio, Si, metres};
use crate::wall::{Airspace, Convection, Wall};

/// Relative change of a conductance that the march need not follow.
const RELINEARISE: f64 = 1e-4;

/// Where a wall stands and how much of it there is.
pub(crate) struct Site {
    /// The faces it makes up, alike in everything: they share one patch.
    pub(crate) faces: Vec<Face>,
    /// Inner area of a flat wall, length of a round one.
    pub(crate) extent: f64,
    /// Length of the edges that belong to it, corners included, m: half of each edge it shares with another wall.
    pub(crate) edges: f64,
    /// Height of an upright surface, or area over perimeter of a level one, m.
    pub(crate) size: f64,
    /// Heat past the wall by air loops, as a share of what goes through it.
    pub(crate) loops: Range<Ratio>,
}

/// An edge of two equal walls passes 1 - (2/pi) ln 2 times conductivity and length between prescribed surface
/// temperatures, beyond what the inner areas pass (exact; see the reference cases). So does a quarter of a cylinder
/// wall whose inner radius is this share of its thickness, with its port on the inner faces. Unlike a larger face, a
/// quarter of a cylinder also takes up heat late, as an edge does.
const EDGE_RADIUS: f64 = 0.063_961_6;
/// Length that each corner adds to each end of the three edges that meet there, in wall thicknesses: three of them
/// together pass 0.3 psi²/U, fitted to three-dimensional solutions of ten layered boxes (computed, within 0.3 % of the
/// whole).
pub(crate) const CORNER_LENGTH: f64 = 0.3 * 0.558_728_8 / 3.0;

/// Published film relations against single surfaces: a quarter up or down.
pub(crate) fn film_factor() -> Range<Ratio> {
    Range::of_members(0.75, 1.0, 1.25)
}

/// How much of what a face sees is sky: of a surface that leans by an angle from the level, (1 + cos)/2 (Liu and Jordan
/// 1963, Solar Energy 7, for a sky that is alike all over; from memory). The rest is ground and what stands on it, which
/// count as warm as the air. An edge sees what its face sees.
fn sky_view(face: Face) -> f64 {
    match face {
        Face::Lid => 1.0,
        Face::Base => 0.0,
        Face::Front | Face::Back | Face::Left | Face::Right | Face::Side => 0.5,
    }
}

/// Resistance of an outside film, m² K/W, for what air loops carry.
const OUTSIDE: f64 = 0.12;
/// Emissivity of the outside where the material does not tell.
const PLAIN: f64 = 0.9;

impl Site {
    /// One of its faces, for all.
    fn face(&self) -> Face {
        // A site without a face has no wall to attach.
        self.faces.first().copied().unwrap_or(Face::Side)
    }
}

impl Assembly {
    /// Attaches a wall and its share of the edges, each with its own outer films, so that the ledger tells them apart.
    /// Returns the nodes of its inner and its outer face.
    pub(crate) fn attach_wall(&mut self, wall: &Wall, site: &Site, scene: &Scene<'_>) -> Result<[NodeId; 2], Error> {
        let start = scene.plan.shell_start();
        let inner = self.network.node(Node::Free { enthalpy: Enthalpy::None, start });
        let wall = &wall.with_airspaces(|airspace| airspace.by(scene.choice.relation(Input::GapFactor)));
        let outer = self.attach_patch(wall, inner, (site.extent, Mechanism::Conduction), site, scene)?;
        if site.edges > 0.0 {
            let flat = wall.with_airspaces(Airspace::at_edge);
            let mut edge = Wall::cylindrical(metres(EDGE_RADIUS * wall.thickness().si()));
            for (i, layer) in wall.layers().iter().enumerate() {
                if i > 0 {
                    edge = edge.contact(flat.contacts()[i - 1]);
                }
                edge = edge.layer(layer.clone());
            }
            self.attach_patch(&edge.build()?, inner, (0.25 * site.edges, Mechanism::Edge), site, scene)?;
        }
        // Air that circles round the boards takes heat past them.
        let loops = scene.choice.pick(Input::AirLoops, &site.loops);
        if loops > 0.0 {
            let path = self.path_of_faces(site, Mechanism::AirLoop);
            let laws = |layer: &crate::wall::Layer| scene.choice.laws(layer).conductivity;
            let (cold, warm) = (scene.plan.room().si(), scene.plan.hottest_start()?.si());
            let resistance: f64 =
                wall.layers().iter().map(|l| l.thickness().si() / laws(l).mean(cold, warm)).sum::<f64>() + OUTSIDE;
            let area = site.extent * wall.area_at(wall.inner_coordinate());
            self.network.link(Link::conductance(inner, self.room, loops * area / resistance, path));
        }
        Ok([inner, outer])
    }

    fn path_of_faces(&mut self, site: &Site, mechanism: Mechanism) -> PathId {
        let places: Vec<Place> = site.faces.iter().map(|face| Place::Face(*face)).collect();
        self.path_of_alike(&places, mechanism)
    }

    /// So many extents of a wall between the node of its inner face and the room. Returns the node of its outer face.
    fn attach_patch(
        &mut self,
        wall: &Wall,
        inner: NodeId,
        (extent, mechanism): (f64, Mechanism),
        site: &Site,
        scene: &Scene<'_>,
    ) -> Result<NodeId, Error> {
        let mesh = Mesh::TowardsInside(scene.cells, scene.level);
        let patch = WallPatch::with_laws(wall, &mesh, RELINEARISE, false, |layer| scene.choice.laws(layer))?;
        let start = scene.plan.shell_start();
        let outer = self.network.node(Node::Free { enthalpy: Enthalpy::None, start });
        let piece = patch.attach(extent, Some(inner), outer, |_, _| start)?;
        let id = self.network.patch(piece);
        let materials = wall.layers().iter().map(|layer| layer.material().clone()).collect();
        self.walls.push(MeshedWall { id, faces: site.faces.clone(), patch, materials });

        let face = site.face();
        let path = self.path_of_faces(site, mechanism);
        let radius = wall.inner_coordinate() + wall.thickness().si();
        let area = extent * wall.area_at(radius);
        if let Some(films) = scene.films {
            let film = scene.choice.pick(Input::OutsideFilm, &films.outside);
            let to = if face == Face::Base { self.ground } else { self.room };
            self.network.link(Link::conductance(outer, to, film * area, path));
            return Ok(outer);
        }
        let resting = scene.plan.resting().coefficient().filter(|_| face == Face::Base);
        if let Some(resting) = resting {
            let film = scene.choice.pick(Input::RestingFilm, &resting);
            self.network.link(Link::conductance(outer, self.ground, film * area, path));
            return Ok(outer);
        }
        let size = metres(site.size);
        let free = match (face, mechanism) {
            (Face::Lid, _) => Convection::LevelUp(size),
            (Face::Base, _) => Convection::LevelDown(size),
            (Face::Side, Mechanism::Conduction) => Convection::UprightCylinder(size, metres(2.0 * radius)),
            _ => Convection::Upright(size),
        };
        let over = match (face, mechanism) {
            (Face::Side, Mechanism::Conduction) => Blown::Cylinder(metres(2.0 * radius)),
            _ => Blown::Plate(size),
        };
        let wind = (over, scene.plan.wind_course().signal().clone());
        let factor = scene.choice.pick(Input::FilmFactor, &film_factor());
        let relation = scene.choice.relation(Input::FilmFactor);
        let film = OutsideFilm { free, wind, area, factor, relation };
        self.network.link(Link::between(outer, self.room, Held(film), path));
        let emissivity = wall.layers().last().and_then(|l| l.material().emissivity()).map_or(PLAIN, |e| e.value().si());
        let sky = if scene.plan.sky_course().is_some() { sky_view(face) } else { 0.0 };
        for (to, share) in [(self.sky, sky), (self.room, 1.0 - sky)] {
            if share > 0.0 {
                let radiation = RadiationLaw { factor: share * emissivity * area };
                self.network.link(Link::between(outer, to, Held(radiation), path));
            }
        }
        Ok(outer)
    }
}
