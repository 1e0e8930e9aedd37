//! Where heat goes, by name.

use std::fmt;

use super::Face;

/// Where heat leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Place {
    /// Through a face of the box, or the lid, base or side of a sleeve.
    Face(Face),
    /// At the joint of the lid.
    LidJoint,
    /// From the pot and the air of the box while the lid is open.
    Opening,
    /// Between pot and liner; no loss of its own.
    Inside,
    /// From the bare pot on its way into the box.
    Carry,
}

/// How it leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Mechanism {
    /// Straight through a wall.
    Conduction,
    /// Through the edges and corners where walls meet.
    Edge,
    /// With air and vapour through gaps.
    Leak,
    /// Across the gap between pot and liner.
    Gap,
    /// By the surface film of a bare pot.
    Film,
}

/// What stores heat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Part {
    /// Dish and pot.
    Pot,
    /// A wall.
    Wall(Face),
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Face(face) => write!(f, "{face}"),
            Place::LidJoint => write!(f, "lid joint"),
            Place::Opening => write!(f, "opened box"),
            Place::Inside => write!(f, "between pot and liner"),
            Place::Carry => write!(f, "bare pot while carried"),
        }
    }
}

impl fmt::Display for Mechanism {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Mechanism::Conduction => "conduction",
            Mechanism::Edge => "edges and corners",
            Mechanism::Leak => "leak",
            Mechanism::Gap => "air and radiation",
            Mechanism::Film => "surface film",
        })
    }
}

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Part::Pot => write!(f, "dish and pot"),
            Part::Wall(face) => write!(f, "{face} wall"),
        }
    }
}
