//! Strips in the inner corners of a box: which fit, and what they are held against.

use super::variant::Variant;
use super::walls::Stack;
use crate::error::Error;
use crate::setup::{EdgeRow, Edges, Enclosure, Face, Setup, Shell};
use crate::units::{Length, Si, millimetres, write};
use crate::wall::{Fill, Filler};

/// Legs that are tried, mm, the longest first.
const LEGS: [f64; 8] = [60.0, 50.0, 40.0, 30.0, 25.0, 20.0, 15.0, 10.0];

/// The box with its empty inner corners filled with what insulates it.
pub(super) struct Filled {
    enclosure: Enclosure,
    /// The shortest and the longest leg.
    legs: [Length; 2],
}

/// Strips of the main layer of the walls, sawn slantwise from a board as thick as it, or smaller where that leaves the pot
/// no room; nothing if none fits. Edges are solved then, for nothing else knows of strips.
pub(super) fn filled(setup: &Setup, enclosure: &Enclosure) -> Option<Filled> {
    let wall = enclosure.wall(Face::Front)?;
    let layer = &wall.layers()[Stack::of(wall).main()?];
    let mut new = enclosure.clone().edges(Edges::Solved);
    let mut legs: Option<[Length; 2]> = None;
    for row in EdgeRow::ALL {
        if enclosure.filler(row).is_some() {
            continue;
        }
        let strip = |leg| Filler::straight([leg; 2], Fill::new(layer.material().clone()));
        let fits = |leg: &Length| {
            *leg <= layer.thickness() && setup.with_shell(new.clone().with_filler(row, strip(*leg))).is_ok()
        };
        let Some(leg) = LEGS.into_iter().map(millimetres).find(fits) else { continue };
        new = new.with_filler(row, strip(leg));
        legs = Some(legs.map_or([leg; 2], |[least, most]| [least.min(leg), most.max(leg)]));
    }
    Some(Filled { enclosure: new, legs: legs? })
}

impl Filled {
    /// "40 mm", or "20 to 40 mm".
    pub(super) fn size(&self) -> String {
        let [least, most] = self.legs;
        if least == most { write(least) } else { format!("{:.0} to {}", 1000.0 * least.si(), write(most)) }
    }

    /// The setup with the strips.
    pub(super) fn setup(self, setup: &Setup) -> Result<Setup, Error> {
        setup.with_shell(self.enclosure)
    }
}

/// The same with its edges solved, to hold strips against; nothing where they are already.
pub(super) fn solved(base: &Variant) -> Option<Result<Variant, Error>> {
    match base.setup().shell() {
        Shell::Box(enclosure) if enclosure.edge_form() == Edges::Factor => {
            let solved = enclosure.clone().edges(Edges::Solved);
            Some(base.with_setup(base.name(), |setup| setup.with_shell(solved)))
        }
        _ => None,
    }
}
