//! A rectangular box: a wall per face, a lid, and the edges where walls meet.

use std::fmt;

use super::assemble::{Assembly, Scene};
use super::attach_edges::OuterFace;
use super::attach_gap::{Gaps, InnerFace, is_upright};
use super::attach_wall::{CORNER_LENGTH, Site};
use super::edges::Fillers;
use super::lid::Seams;
use super::{EdgeRow, Edges, LayerPlace, Lid, Pot, Range};
use crate::error::{Error, ErrorKind, Within};
use crate::units::bounds::in_range;
use crate::units::{Length, Ratio, Si, metres, millimetres, write_rounded};
use crate::wall::{Filler, Geometry, Layer, Wall};

/// A face of a box. A sleeve has a lid, a base and a side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Face {
    /// The top.
    Lid,
    /// The bottom.
    Base,
    /// The first upright wall (width by height).
    Front,
    /// Opposite the front.
    Back,
    /// An upright wall (depth by height).
    Left,
    /// Opposite the left.
    Right,
    /// The wall round a sleeve.
    Side,
}

impl Face {
    /// The six faces of a box.
    pub const OF_BOX: [Face; 6] = [Face::Lid, Face::Base, Face::Front, Face::Back, Face::Left, Face::Right];
}

impl fmt::Display for Face {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Face::Lid => "lid",
            Face::Base => "base",
            Face::Front => "front",
            Face::Back => "back",
            Face::Left => "left",
            Face::Right => "right",
            Face::Side => "side",
        })
    }
}

/// How the boards of a box fit: what circles round them takes heat past the insulation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Fit {
    /// Joints glued, taped or foamed: nothing, up to 5 % beyond the walls.
    Tight,
    /// Cut with care, pushed together: 0 to 50 %, best 15 %.
    Ordinary,
    /// Gaps one can see, or a space behind the boards: 20 to 100 %, best 50 %.
    Loose,
}

impl Fit {
    /// Width of the seams low down in the box, by which a leaking lid draws (estimate).
    pub(crate) fn seams(self) -> Range<Length> {
        match self {
            Fit::Tight => Range::of_members(0.0, 0.0, 2e-4),
            Fit::Ordinary => Range::of_members(0.0, 7e-4, 1.5e-3),
            Fit::Loose => Range::of_members(5e-4, 1.5e-3, 3e-3),
        }
    }

    /// Heat past the walls as a share of what goes through them (estimate: between nothing and a doubling of the
    /// loss, the figure often given for insulation that air can flow round; common practice, no source).
    pub(crate) fn loops(self) -> Range<Ratio> {
        match self {
            Fit::Tight => Range::of_members(0.0, 0.0, 0.05),
            Fit::Ordinary => Range::of_members(0.0, 0.15, 0.5),
            Fit::Loose => Range::of_members(0.2, 0.5, 1.0),
        }
    }
}

/// Inner size of a box.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Inside {
    /// Width, depth, height.
    Size([Length; 3]),
    /// As large as the pot with this much room on every side and above.
    AroundPot(Length),
}

/// An insulated box.
#[derive(Debug, Clone, PartialEq)]
pub struct Enclosure {
    walls: Vec<(Face, Wall)>,
    inside: Inside,
    lid: Lid,
    fit: Fit,
    seams: Option<Range<Length>>,
    upright: Range<Length>,
    edges: Edges,
    fillers: Box<Fillers>,
    twice: Option<Face>,
}

/// Room left round and above the pot if nothing is said: its handles, its knob and the hands that lift it out need about
/// 30 mm (common practice, no source).
const DEFAULT_GAP: f64 = 0.03;
/// The faces of a box, as errors list them.
const FACES: &str = "lid, base, front, back, left, right";
/// What a box needs.
const ONE_EACH: &str = "one wall for each of lid, base, front, back, left, right";

impl Enclosure {
    /// A box of one material all round, of the given thickness.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a material that is not in the catalogue, [`ErrorKind::OutOfRange`] for a
    /// thickness outside 1 µm to 10 m.
    pub fn lined(material: &str, thickness: Length) -> Result<Self, Error> {
        let wall = Wall::planar().layer(Layer::of(material, thickness)?).build()?;
        Ok(Self::of_wall(wall))
    }

    /// A box with the same wall on all six faces.
    pub fn of_wall(wall: Wall) -> Self {
        let walls = Face::OF_BOX.into_iter().map(|face| (face, wall.clone())).collect();
        Self::of_walls(walls)
    }

    /// A box with a wall for each face.
    pub fn of_walls(walls: Vec<(Face, Wall)>) -> Self {
        let mut seen = Vec::new();
        let mut twice = None;
        for (face, _) in &walls {
            if seen.contains(face) {
                twice = Some(*face);
            }
            seen.push(*face);
        }
        Enclosure {
            walls,
            inside: Inside::AroundPot(metres(DEFAULT_GAP)),
            lid: Lid::resting(),
            fit: Fit::Ordinary,
            seams: None,
            upright: Range::exactly(metres(0.0)),
            edges: Edges::default(),
            fillers: Box::default(),
            twice,
        }
    }

    /// The same with another wall on one face.
    #[must_use]
    pub fn with_wall(mut self, face: Face, wall: Wall) -> Self {
        self.walls.retain(|(f, _)| *f != face);
        self.walls.push((face, wall));
        self
    }

    /// The same, as large inside as the pot with `gap` on every side and above it.
    #[must_use]
    pub fn around(mut self, _pot: &Pot, gap: Length) -> Self {
        self.inside = Inside::AroundPot(gap);
        self
    }

    /// The same, of the given inner size.
    #[must_use]
    pub fn inside(mut self, width: Length, depth: Length, height: Length) -> Self {
        self.inside = Inside::Size([width, depth, height]);
        self
    }

    /// The same with another lid.
    #[must_use]
    pub fn lid(mut self, lid: Lid) -> Self {
        self.lid = lid;
        self
    }

    /// The same with boards fitted so.
    #[must_use]
    pub fn fitted(mut self, fit: Fit) -> Self {
        self.fit = fit;
        self
    }

    /// The same with seams low down, round the base, of a width of your own, 0 to 10 mm, in place of those that its fit
    /// makes likely. Those narrower than 0.05 mm count as shut.
    #[must_use]
    pub fn with_low_seams(mut self, width: Range<Length>) -> Self {
        self.seams = Some(width);
        self
    }

    /// The same with seams along its four upright edges, where boards do not meet, 0 to 10 mm wide: each breathes by
    /// itself, out above and in below. Shut unless given, for the seams low down stand for all; those narrower than 0.05 mm
    /// count as shut.
    #[must_use]
    pub fn with_upright_seams(mut self, width: Range<Length>) -> Self {
        self.upright = width;
        self
    }

    /// Width of the seams along the upright edges.
    pub fn upright_seams(&self) -> Range<Length> {
        self.upright
    }

    /// The same with its edges counted so.
    #[must_use]
    pub fn edges(mut self, edges: Edges) -> Self {
        self.edges = edges;
        self
    }

    /// The same with the inner corners along a row of edges filled; the first leg of a straight strip lies along the upright
    /// wall, the second along base, lid, or left and right wall. Needs [`Edges::Solved`].
    #[must_use]
    pub fn with_filler(mut self, row: EdgeRow, filler: Filler) -> Self {
        self.fillers[row as usize] = Some(filler);
        self
    }

    /// The same with all inner corners empty.
    #[must_use]
    pub fn without_fillers(mut self) -> Self {
        self.fillers = Box::default();
        self
    }

    /// How the edges are counted.
    pub fn edge_form(&self) -> Edges {
        self.edges
    }

    /// What fills the inner corners along a row of edges.
    pub fn filler(&self, row: EdgeRow) -> Option<&Filler> {
        self.fillers[row as usize].as_ref()
    }

    /// How the boards are fitted.
    pub fn fit(&self) -> Fit {
        self.fit
    }

    /// Width of the seams low down, by which a leaking lid draws: as given, else by the fit.
    pub fn low_seams(&self) -> Range<Length> {
        self.seams.unwrap_or(self.fit.seams())
    }

    /// The wall of a face.
    pub fn wall(&self, face: Face) -> Option<&Wall> {
        self.walls.iter().find(|(f, _)| *f == face).map(|(_, wall)| wall)
    }

    /// The same with other layers in place of each.
    pub(crate) fn with_layers(&self, of: impl Fn(LayerPlace, &Layer) -> Result<Layer, Error>) -> Result<Self, Error> {
        let mut copy = self.clone();
        for (face, wall) in &mut copy.walls {
            *wall = wall.with_layers(|layer, it| of(LayerPlace { face: *face, layer }, it)).within(face.to_string())?;
        }
        Ok(copy)
    }

    /// How the lid closes.
    pub fn lid_closing(&self) -> Lid {
        self.lid
    }

    /// Inner width, depth and height round a pot.
    pub fn inner_size(&self, pot: &Pot) -> [Length; 3] {
        match self.inside {
            Inside::Size(size) => size,
            Inside::AroundPot(gap) => {
                let across = pot.diameter() + gap * 2.0;
                [across, across, pot.height() + gap]
            }
        }
    }

    /// Room left on every side of the pot and above it, where the size goes by the pot.
    pub(crate) fn gap(&self) -> Option<Length> {
        match self.inside {
            Inside::AroundPot(gap) => Some(gap),
            Inside::Size(_) => None,
        }
    }

    /// By how much the box is wider, deeper and higher outside than inside, m.
    pub(crate) fn depths(&self) -> [f64; 3] {
        let pair = |faces: [Face; 2]| faces.iter().filter_map(|f| self.wall(*f)).map(|w| w.thickness().si()).sum();
        [[Face::Left, Face::Right], [Face::Front, Face::Back], [Face::Lid, Face::Base]].map(pair)
    }

    pub(crate) fn check(&self, pot: &Pot) -> Result<(), Error> {
        let check = || -> Result<(), Error> {
            if let Some(face) = self.twice {
                return Err(Error::new(ErrorKind::Inconsistent, "a face has two walls")
                    .with_accepted(ONE_EACH)
                    .within(face.to_string()));
            }
            for face in Face::OF_BOX {
                let Some(wall) = self.wall(face) else {
                    return Err(Error::new(ErrorKind::Inconsistent, "a face has no wall")
                        .with_accepted(ONE_EACH)
                        .within(face.to_string()));
                };
                if wall.geometry() != Geometry::Planar {
                    return Err(Error::new(ErrorKind::Inconsistent, "a box needs flat walls")
                        .with_accepted("a flat wall")
                        .within(face.to_string()));
                }
            }
            if let Some((face, _)) = self.walls.iter().find(|(face, _)| *face == Face::Side) {
                return Err(Error::new(ErrorKind::Inconsistent, "a box has no such face")
                    .with_accepted(FACES)
                    .within(face.to_string()));
            }
            if let Inside::AroundPot(gap) = self.inside {
                in_range("gap round the pot", gap, metres(0.0), metres(1.0))?;
            }
            let needed = [pot.diameter(), pot.diameter(), pot.height()];
            for ((name, inner), needs) in ["width", "depth", "height"].iter().zip(self.inner_size(pot)).zip(needed) {
                in_range(name, inner, millimetres(20.0), metres(3.0)).within("inside")?;
                if inner.si() < needs.si() {
                    return Err(Error::new(ErrorKind::Inconsistent, "the pot does not fit into the box")
                        .with_value(write_rounded(inner, 4))
                        .with_accepted(format!("at least {}", write_rounded(needs, 4)))
                        .within(*name)
                        .within("inside"));
                }
            }
            super::edges::check(self, pot)?;
            self.low_seams().check("low seams", metres(0.0), millimetres(10.0))?;
            self.upright.check("upright seams", metres(0.0), millimetres(10.0))?;
            self.lid.check()
        };
        check().within("box")
    }

    /// Inner area per face, m², and length of the edges that belong to it, m: half of each of its four edges, a little
    /// longer at each end for the corners.
    pub(crate) fn extents(&self, pot: &Pot) -> Vec<(Face, f64, f64)> {
        let [w, d, h] = self.inner_size(pot).map(Si::si);
        let thickness = |face: Face| self.wall(face).map_or(0.0, |wall| wall.thickness().si());
        Face::OF_BOX
            .into_iter()
            .map(|face| {
                let (a, b) = match face {
                    Face::Lid | Face::Base | Face::Side => (w, d),
                    Face::Front | Face::Back => (w, h),
                    Face::Left | Face::Right => (d, h),
                };
                let corners = 8.0 * CORNER_LENGTH * thickness(face);
                (face, a * b, 0.5 * (2.0 * (a + b) + corners))
            })
            .collect()
    }

    /// Upright faces of the same wall and size as one, with the area and the length of edges of all of them: nothing that
    /// reaches them tells them apart.
    fn alike(&self, pot: &Pot) -> Vec<(Vec<Face>, &Wall, f64, f64)> {
        let mut groups: Vec<(Vec<Face>, &Wall, [f64; 2])> = Vec::new();
        for (face, extent, edges) in self.extents(pot) {
            let Some(wall) = self.wall(face) else { continue };
            let same = |(faces, other, each): &&mut (Vec<Face>, &Wall, [f64; 2])| {
                is_upright(face) && is_upright(faces[0]) && *each == [extent, edges] && *other == wall
            };
            match groups.iter_mut().find(same) {
                Some((faces, ..)) => faces.push(face),
                None => groups.push((vec![face], wall, [extent, edges])),
            }
        }
        let all = |(faces, wall, [extent, edges]): (Vec<Face>, _, [f64; 2])| {
            let count = faces.len() as f64;
            (faces, wall, count * extent, count * edges)
        };
        groups.into_iter().map(all).collect()
    }

    /// Length of the joint round the lid, m.
    pub(crate) fn joint(&self, pot: &Pot) -> f64 {
        let [w, d, _] = self.inner_size(pot).map(Si::si);
        2.0 * (w + d)
    }

    /// What the pot leaves open of the top while the lid is off, m².
    pub(crate) fn opening(&self, pot: &Pot) -> f64 {
        let [w, d, _] = self.inner_size(pot).map(Si::si);
        w * d - pot.top_area()
    }

    /// Volume of the air between pot and liner, m³.
    pub(crate) fn air_volume(&self, pot: &Pot) -> f64 {
        let [w, d, h] = self.inner_size(pot).map(Si::si);
        w * d * h - pot.volume().si()
    }

    /// Attaches walls, gaps and lid.
    pub(crate) fn attach(&self, assembly: &mut Assembly, scene: &Scene<'_>) -> Result<(), Error> {
        let pot = scene.pot;
        let [w, d, h] = self.inner_size(pot).map(Si::si);
        let mut faces = Vec::new();
        let mut outer = Vec::new();
        let mut liner = PLAIN;
        let by_factor = self.edges == Edges::Factor;
        for (alike, wall, extent, edges) in self.alike(pot) {
            let face = alike[0];
            let size = match face {
                Face::Lid | Face::Base => w * d / (2.0 * (w + d)),
                _ => h,
            };
            let edges = if by_factor { edges } else { 0.0 };
            let site = Site { faces: alike.clone(), extent, edges, size, loops: self.fit.loops() };
            let [node, outside] = assembly.attach_wall(wall, &site, scene).within(face.to_string())?;
            let mut area = extent;
            if face == Face::Base {
                // What the pot covers does not meet the air.
                area = (extent - pot.top_area()).max(0.05 * extent);
            } else if let Some(e) = wall.layers().first().and_then(|l| l.material().emissivity()) {
                liner = e.value().si();
            }
            faces.push(InnerFace { face, node, area, whole: extent });
            outer.push(OuterFace { faces: alike, node: outside, area: extent });
        }
        let free = w * d - pot.top_area();
        let ring = free / (0.5 * (2.0 * (w + d) + pot.circumference()));
        let gaps = Gaps { ring, above: h - pot.height().si(), height: pot.height().si() };
        assembly.attach_gaps(&gaps, &faces, liner, scene)?;
        if !by_factor {
            assembly.attach_edges(self, &faces, &outer, scene)?;
        }
        let depth = [Face::Lid, Face::Front].map(|f| self.wall(f).map_or(0.0, |w| w.thickness().si()));
        let seams = Seams {
            joint: self.joint(pot),
            depth: depth[0].min(depth[1]).max(1e-3),
            height: h,
            low: self.low_seams(),
            upright: self.upright,
        };
        assembly.attach_lid(&self.lid, &seams, (&faces, &gaps), scene)
    }
}

/// Emissivity of a liner whose material does not tell.
const PLAIN: f64 = 0.9;
