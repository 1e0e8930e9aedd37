//! The edges of a box, where its walls meet: how they are counted, and what fills their inner corners.

use std::fmt;

use super::Face;
use crate::wall::Filler;

/// How the edges and corners of a box are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Edges {
    /// By the published factor for two equal walls of one material between given surface temperatures, as quarters of
    /// cylinders that follow temperature and store heat like the walls. Quick, and it takes any wall.
    #[default]
    Factor,
    /// By a two-dimensional section of each edge, with its own layers, films and filler, reduced to what a box needs of it;
    /// the corners from the edges that meet there. Against three-dimensional solutions the whole box is then within 0.3 %.
    /// The walls must be flat throughout: no airspaces, no graded layers, contacts only where all walls have them.
    Solved,
}

/// A row of like edges of a box.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum EdgeRow {
    /// The four between upright walls.
    Upright,
    /// The four round the base.
    Base,
    /// The four round the lid.
    Lid,
}

impl EdgeRow {
    /// All three.
    pub const ALL: [EdgeRow; 3] = [EdgeRow::Upright, EdgeRow::Base, EdgeRow::Lid];
}

impl fmt::Display for EdgeRow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            EdgeRow::Upright => "upright edges",
            EdgeRow::Base => "edges of the base",
            EdgeRow::Lid => "edges of the lid",
        })
    }
}

/// What fills the inner corners along each row of edges.
pub(super) type Fillers = [Option<Filler>; 3];

/// One of the twelve edges: a standing wall, the wall that meets it, and the row it belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct EdgeOf {
    pub(super) walls: [Face; 2],
    pub(super) row: EdgeRow,
    /// Which inner dimension it is as long as: width, depth or height.
    pub(super) along: usize,
}

/// The twelve edges. The first wall always stands.
pub(super) fn of_box() -> impl Iterator<Item = EdgeOf> {
    let upright = [Face::Front, Face::Back].into_iter().flat_map(|a| {
        [Face::Left, Face::Right].map(|b| EdgeOf { walls: [a, b], row: EdgeRow::Upright, along: 2 })
    });
    let level = [(Face::Base, EdgeRow::Base), (Face::Lid, EdgeRow::Lid)].into_iter().flat_map(|(lying, row)| {
        [(Face::Front, 0), (Face::Back, 0), (Face::Left, 1), (Face::Right, 1)]
            .map(|(standing, along)| EdgeOf { walls: [standing, lying], row, along })
    });
    upright.chain(level)
}
