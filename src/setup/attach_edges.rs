//! Solved edges and corners: pieces of wall between the environment inside the box and that outside.
//!
//! A section takes its surface films along, for the film is where an edge differs from a face. So it does not hang on the
//! surface of a face but on what the faces see: one node for the environment inside, at the mean of pot and air as their
//! films weigh it, and one outside. The heat of the edges is drawn from pot and air in the same shares.

use super::assemble::{Assembly, Scene};
use super::attach_gap::InnerFace;
use super::edges::{EdgeOf, of_box};
use super::place::{Mechanism, Part, Place};
use super::{EdgeRow, Enclosure, Face};
use crate::conduction::{JunctionPatch, JunctionSite};
use crate::error::{Error, Within};
use crate::material::Material;
use crate::network::{Enthalpy, Law, Link, LinkId, Network, Node, NodeId, PathId};
use crate::units::Si;
use crate::wall::Wall;

/// Heat capacity of an environment, J/K: none to speak of.
const ENVIRONMENT: f64 = 0.1;
/// Conductance between an environment and what it is the mean of, W/K: so large that it follows to a millikelvin.
const FOLLOWS: f64 = 1e4;
/// Corners of a box pass this times psi²/U (fitted to three-dimensional solutions of ten layered boxes, computed; within
/// 0.3 % of the whole). Not tried with fillers, where psi is small.
const CORNER: f64 = 0.3;
/// Edges are solved for films on a ladder with steps of this ratio, and for temperatures in steps of so many kelvin, so that
/// setups that hardly differ share them.
const FILM_STEP: f64 = 1.1;
const TEMPERATURE_STEP: f64 = 5.0;
/// Where conductivities and films are taken: this share of the way from room to start temperature for the pot, and of the
/// way from there for the two faces of a wall.
const WORKING: f64 = 0.8;
const SURFACES: [f64; 2] = [0.9, 0.1];
/// Least difference at which they are taken, K.
const LEAST: f64 = 10.0;
/// Cells along the longer axis of the section of an edge, on the coarsest mesh, for each cell across a wall.
const CELLS: usize = 2;

/// From each of several nodes to one in the middle of them, or the other way: as if it were at their weighted mean. Reads
/// the several nodes, then the one.
#[derive(Debug, Clone)]
struct Shared {
    /// Shares of the several nodes, one in all.
    shares: Vec<f64>,
    /// Which of them the link joins.
    which: usize,
    /// 1 from the several to the one, -1 back.
    sign: f64,
}

impl Law for Shared {
    fn flow(&self, _time: f64, read: &[f64], gradient: &mut [f64]) -> f64 {
        let n = self.shares.len();
        let g = self.sign * FOLLOWS * self.shares[self.which];
        let mut apart = 0.0;
        for (j, share) in self.shares.iter().enumerate() {
            gradient[j] = g * share;
            apart += share * (read[j] - read[n]);
        }
        gradient[n] = -g;
        g * apart
    }

    fn is_linear(&self) -> bool {
        true
    }
}

/// Nodes with the coefficient by which a surface meets each, W/(m² K).
type Met = Vec<(NodeId, f64)>;

/// The outer face of a wall: its node, and its area, m².
#[derive(Debug)]
pub(super) struct OuterFace {
    /// The faces it makes up.
    pub(super) faces: Vec<Face>,
    pub(super) node: NodeId,
    pub(super) area: f64,
}

/// What the edges of a shell lie between.
struct Environments {
    inside: Met,
    outside: Met,
    at: SolvedAt,
    /// Films as they were given, or on a ladder.
    is_given: bool,
}

/// Where edges are solved: at the start of the first of all forecasts that one continues. What these hand over are modes of
/// its sections, which mean nothing to sections that are solved elsewhere.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct SolvedAt {
    /// Films of all inner faces together, and of each outer one, W/(m² K).
    inside: f64,
    of_face: Vec<(Face, f64)>,
    /// Environments inside and outside, K.
    between: [f64; 2],
}

impl Environments {
    fn of(assembly: &Assembly, faces: &[InnerFace], outer: &[OuterFace], scene: &Scene<'_>) -> Result<Self, Error> {
        let [working, room] = match scene.solved_at {
            Some(at) => at.between,
            None => {
                let room = scene.plan.room().si();
                let warmer = WORKING * (scene.plan.start_temperature()?.si() - room);
                [room + if warmer < 0.0 { warmer.min(-LEAST) } else { warmer.max(LEAST) }, room]
            }
        };
        let surfaces = SURFACES.map(|share| room + share * (working - room));
        let temperature = |node: NodeId| {
            if node == assembly.room || node == assembly.sky {
                room
            } else if node == assembly.air {
                f64::midpoint(working, surfaces[0])
            } else if faces.iter().any(|f| f.node == node) {
                surfaces[0]
            } else if outer.iter().any(|o| o.node == node) {
                surfaces[1]
            } else {
                working
            }
        };
        // The contact under the pot says nothing of the edges; films taken as constant are the same everywhere.
        let seen: Vec<&InnerFace> = faces.iter().filter(|f| scene.films.is_some() || f.face != Face::Base).collect();
        let (mut inside, mut outside, mut of_face) = (Met::new(), Met::new(), Vec::new());
        let area: f64 = seen.iter().map(|f| f.whole).sum();
        for face in &seen {
            meet(&assembly.network, face.node, &temperature, area, &mut inside);
        }
        // What circles round the boards passes the faces by.
        inside.retain(|(node, _)| *node != assembly.room && *node != assembly.sky);
        let whole: f64 = outer.iter().map(|o| o.area).sum();
        for OuterFace { faces, node, area } in outer {
            let mut own = Met::new();
            meet(&assembly.network, *node, &temperature, *area, &mut own);
            let film: f64 = own.iter().map(|(_, h)| h).sum();
            of_face.extend(faces.iter().map(|face| (*face, film)));
            for (to, h) in own {
                add(&mut outside, to, h * area / whole);
            }
        }
        let is_given = scene.films.is_some();
        let now = SolvedAt { inside: inside.iter().map(|(_, h)| h).sum(), of_face, between: [working, room] };
        Ok(Environments { inside, outside, at: scene.solved_at.cloned().unwrap_or(now), is_given })
    }

    /// Where a junction of these faces lies.
    fn site(&self, faces: &[Face], scene: &Scene<'_>) -> JunctionSite {
        let rounded = |h: f64| if self.is_given { h } else { FILM_STEP.powf((h.ln() / FILM_STEP.ln()).round()) };
        let film = |face: &Face| self.at.of_face.iter().find(|(f, _)| f == face).map_or(1.0, |(_, h)| rounded(*h));
        JunctionSite {
            inside: rounded(self.at.inside),
            outside: faces.iter().map(film).collect(),
            between: self.at.between.map(|t| TEMPERATURE_STEP * (t / TEMPERATURE_STEP).round()),
            mesh: (CELLS * scene.cells, scene.level),
        }
    }
}

impl Assembly {
    /// Attaches the edges and corners of a box whose faces hang in the network already.
    pub(super) fn attach_edges(
        &mut self,
        enclosure: &Enclosure,
        faces: &[InnerFace],
        outer: &[OuterFace],
        scene: &Scene<'_>,
    ) -> Result<(), Error> {
        let environments = Environments::of(self, faces, outer, scene)?;
        let laws = |material: &Material| scene.choice.laws_of(material);
        let mut edges: Vec<(EdgeOf, JunctionPatch)> = Vec::new();
        for edge in of_box() {
            let [Some(first), Some(second)] = edge.walls.map(|face| enclosure.wall(face)) else { continue };
            let site = environments.site(&edge.walls, scene);
            let piece = JunctionPatch::edge([first, second], enclosure.filler(edge.row), &site, laws, scene.shelf)
                .within(format!("edge between {} and {}", edge.walls[0], edge.walls[1]))?;
            edges.push((edge, piece));
        }
        let size = enclosure.inner_size(scene.pot).map(Si::si);
        let mut alike: Vec<(&JunctionPatch, f64)> = Vec::new();
        for (edge, piece) in &edges {
            match alike.iter_mut().find(|(other, _)| other.is_same(piece)) {
                Some((_, length)) => *length += size[edge.along],
                None => alike.push((piece, size[edge.along])),
            }
        }
        let indoors = self.attach_junctions(&alike, &environments, faces, scene)?;
        let filled = EdgeRow::ALL.into_iter().filter_map(|row| enclosure.filler(row));
        self.fillers.extend(filled.map(|filler| (filler.fill().material().clone(), indoors)));
        let path = self.path(Place::Corners, Mechanism::Conduction);
        let corners = corners(&edges, environments.at.between);
        self.network.link(Link::conductance(indoors, self.room, corners, path));
        Ok(())
    }

    /// Attaches what a sleeve passes where its side meets base and lid.
    pub(super) fn attach_ends(
        &mut self,
        wall: &Wall,
        [radius, height]: [f64; 2],
        faces: &[InnerFace],
        outer: &[OuterFace],
        scene: &Scene<'_>,
    ) -> Result<(), Error> {
        let environments = Environments::of(self, faces, outer, scene)?;
        let site = environments.site(&[Face::Side, Face::Lid, Face::Base], scene);
        let laws = |material: &Material| scene.choice.laws_of(material);
        let piece = JunctionPatch::ends(wall, [radius, height], &site, laws, scene.shelf).within("ends")?;
        self.attach_junctions(&[(&piece, 1.0)], &environments, faces, scene)?;
        Ok(())
    }

    /// Attaches so much of each junction between the environments; returns the node of the inner one.
    fn attach_junctions(
        &mut self,
        junctions: &[(&JunctionPatch, f64)],
        environments: &Environments,
        faces: &[InnerFace],
        scene: &Scene<'_>,
    ) -> Result<NodeId, Error> {
        let start = scene.plan.shell_start();
        let [indoors, outdoors] = [(); 2].map(|()| {
            let node = self.network.node(Node::Free { enthalpy: Enthalpy::Capacity(ENVIRONMENT), start });
            self.bodies.push((node, Part::Edges));
            node
        });
        for (junction, extent) in junctions {
            for patch in junction.attach(*extent, [indoors, outdoors], start)? {
                let id = self.network.patch(patch);
                self.edges.push(id);
            }
        }
        let path = self.path(Place::Edges, Mechanism::Conduction);
        self.share(&environments.outside, outdoors, -1.0, path);
        let path = self.path(Place::Inside, Mechanism::Gap);
        self.share(&environments.inside, indoors, 1.0, path);
        // While the pot is elsewhere the edges see the faces.
        let bare: Met = faces.iter().map(|f| (f.node, f.whole)).collect();
        for link in self.share(&bare, indoors, 1.0, path) {
            self.carry.push(link);
            self.stove.push(link);
        }
        self.solved_at = Some(environments.at.clone());
        Ok(indoors)
    }

    /// Links several nodes with the environment that they make up.
    fn share(&mut self, met: &Met, environment: NodeId, sign: f64, path: PathId) -> Vec<LinkId> {
        let sum: f64 = met.iter().map(|(_, h)| h).sum();
        let shares: Vec<f64> = met.iter().map(|(_, h)| h / sum).collect();
        let reads: Vec<NodeId> = met.iter().map(|(node, _)| *node).chain([environment]).collect();
        (0..met.len())
            .map(|which| {
                let (from, to) = if sign > 0.0 { (met[which].0, environment) } else { (environment, met[which].0) };
                let law = Box::new(Shared { shares: shares.clone(), which, sign });
                self.network.link(Link { from, to, reads: reads.clone(), law, path, water: None })
            })
            .collect()
    }
}

fn add(met: &mut Met, node: NodeId, h: f64) {
    match met.iter_mut().find(|(n, _)| *n == node) {
        Some((_, sum)) => *sum += h,
        None => met.push((node, h)),
    }
}

/// Adds what links do at a surface node to the coefficients over an area, at these temperatures.
fn meet(network: &Network, surface: NodeId, temperature: &impl Fn(NodeId) -> f64, area: f64, met: &mut Met) {
    for link in &network.links {
        let other = match (link.from == surface, link.to == surface) {
            (true, false) => link.to,
            (false, true) => link.from,
            _ => continue,
        };
        let read: Vec<f64> = link.reads.iter().map(|n| temperature(*n)).collect();
        let flow = link.law.flow(0.0, &read, &mut vec![0.0; read.len()]);
        // A surface lies apart from all that it meets.
        add(met, other, flow / (temperature(link.from) - temperature(link.to)) / area);
    }
}

/// What all eight corners pass, W/K.
fn corners(edges: &[(EdgeOf, JunctionPatch)], between: [f64; 2]) -> f64 {
    let mut sum = 0.0;
    for front in [Face::Front, Face::Back] {
        for left in [Face::Left, Face::Right] {
            for level in [Face::Base, Face::Lid] {
                let here = [front, left, level];
                let meeting: Vec<&JunctionPatch> =
                    edges.iter().filter(|(e, _)| e.walls.iter().all(|w| here.contains(w))).map(|(_, p)| p).collect();
                let mean = |of: &dyn Fn(&JunctionPatch) -> f64| {
                    meeting.iter().map(|p| of(p)).sum::<f64>() / meeting.len().max(1) as f64
                };
                let psi = mean(&|p| p.transmittance);
                // Each face is a wall of two of the three edges.
                sum += CORNER * psi * psi / mean(&|p| p.plain_transmittance(between));
            }
        }
    }
    sum
}
