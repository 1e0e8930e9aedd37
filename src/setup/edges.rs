//! The edges of a box, where its walls meet: how they are counted, and what fills their inner corners.

use std::fmt;

use super::{Enclosure, Face, Pot};
use crate::error::{Error, ErrorKind, Within};
use crate::units::{Length, Si, write, write_rounded};
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
    let upright = [Face::Front, Face::Back]
        .into_iter()
        .flat_map(|a| [Face::Left, Face::Right].map(|b| EdgeOf { walls: [a, b], row: EdgeRow::Upright, along: 2 }));
    let level = [(Face::Base, EdgeRow::Base), (Face::Lid, EdgeRow::Lid)].into_iter().flat_map(|(lying, row)| {
        [(Face::Front, 0), (Face::Back, 0), (Face::Left, 1), (Face::Right, 1)].map(|(standing, along)| EdgeOf {
            walls: [standing, lying],
            row,
            along,
        })
    });
    upright.chain(level)
}

/// Points on the face of a filler at which it is asked whether the pot has room.
const ASKED: usize = 16;
/// Lengths that differ by less are equal, m.
const TOUCH: f64 = 1e-9;

/// Refuses fillers that nothing solves, that are too long for the box, or that leave the pot no room.
pub(super) fn check(enclosure: &Enclosure, pot: &Pot) -> Result<(), Error> {
    let [w, d, h] = enclosure.inner_size(pot).map(Si::si);
    let (radius, height) = (0.5 * pot.diameter().si(), pot.height().si());
    for edge in of_box() {
        let Some(filler) = enclosure.filler(edge.row) else { continue };
        let check = || -> Result<(), Error> {
            if enclosure.edge_form() == Edges::Factor {
                return Err(Error::new(ErrorKind::Inconsistent, "the published factor knows no fillers")
                    .with_accepted("edges that are solved"));
            }
            filler.check()?;
            // How far the two walls reach across the edge.
            let across = match (edge.row, edge.along) {
                (EdgeRow::Upright, _) => [w, d],
                (_, 0) => [h, d],
                _ => [h, w],
            };
            for (leg, across) in filler.legs().into_iter().zip(across) {
                if leg > 0.5 * across {
                    return Err(Error::new(ErrorKind::Inconsistent, "a leg longer than half the wall")
                        .with_value(write(Length::from_si(leg)))
                        .with_accepted(format!("up to {}", write_rounded(Length::from_si(0.5 * across), 3))));
                }
            }
            // The pot stands in the middle, upright; a strip may touch it. Walked along from the first wall's end to the second's.
            let (radius, height) = (radius - TOUCH, height - TOUCH);
            let meets = |share: f64| {
                let [from_second, from_first] = filler.face(share);
                match edge.row {
                    EdgeRow::Upright => (0.5 * d - from_first).hypot(0.5 * w - from_second) < radius,
                    EdgeRow::Base => from_first > 0.5 * across[1] - radius,
                    EdgeRow::Lid => from_first > 0.5 * across[1] - radius && from_second > h - height,
                }
            };
            if (0..=ASKED).any(|k| meets(k as f64 / ASKED as f64)) {
                return Err(Error::new(ErrorKind::Inconsistent, "the pot does not fit between the fillers")
                    .with_accepted("smaller fillers or a larger box"));
            }
            Ok(())
        };
        check().within(format!("filler along the {}", edge.row))?;
    }
    Ok(())
}
