//! Where heat goes, by name.

use std::fmt;

use super::Face;

/// Where heat leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Place {
    /// Through a face of the box, or the lid, base or side of a sleeve.
    Face(Face),
    /// Through the edges where walls meet, beyond what the inner areas pass, where they are solved. (Where they go by the
    /// published factor they are told with their faces.)
    Edges,
    /// Through the corners where edges meet, beyond what these pass, where they are solved.
    Corners,
    /// At the joint of the lid.
    LidJoint,
    /// Along a handle through the wall.
    Handle,
    /// Along a knob of the pot's lid through the lid of the box.
    Knob,
    /// From the pot and the air of the box while the lid is open.
    Opening,
    /// Between pot and liner; no loss of its own.
    Inside,
    /// From the stove while the pot simmers (heat that comes in counts negative).
    Stove,
    /// From the bare pot on its way into the box.
    Carry,
    /// Into the dish while it is reheated (heat that comes in counts negative).
    Reheat,
}

/// How it leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Mechanism {
    /// Straight through a wall.
    Conduction,
    /// Through the edges and corners where walls meet.
    Edge,
    /// With warm air through gaps, or a leak that was given.
    Leak,
    /// With vapour that condenses elsewhere: its heat of evaporation.
    Vapour,
    /// With air that circles round loosely fitted boards.
    AirLoop,
    /// Across the gap between pot and liner.
    Gap,
    /// By the surface film of a bare pot.
    Film,
    /// Put in by a stove, however it does that.
    Heating,
}

/// What stores heat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Part {
    /// Dish and the part of the pot that it wets.
    Pot,
    /// The part of the pot above the dish: lid and dry wall.
    DryPot,
    /// Air between pot and liner.
    Air,
    /// Water that condensed on the liner.
    Condensate,
    /// A wall.
    Wall(Face),
    /// Edges of a box, beyond what counts for its walls, where they are solved.
    Edges,
    /// Pieces in the dish, in the order given.
    Pieces(usize),
    /// A second body in the box, in the order given.
    Companion(usize),
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Face(face) => write!(f, "{face}"),
            Place::Edges => write!(f, "edges"),
            Place::Corners => write!(f, "corners"),
            Place::Handle => write!(f, "handle"),
            Place::Knob => write!(f, "knob"),
            Place::LidJoint => write!(f, "lid joint"),
            Place::Opening => write!(f, "opened box"),
            Place::Stove => write!(f, "stove"),
            Place::Inside => write!(f, "between pot and liner"),
            Place::Carry => write!(f, "bare pot while carried"),
            Place::Reheat => write!(f, "reheating"),
        }
    }
}

impl fmt::Display for Mechanism {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Mechanism::Conduction => "conduction",
            Mechanism::Edge => "edges and corners",
            Mechanism::Vapour => "vapour",
            Mechanism::AirLoop => "air loops",
            Mechanism::Leak => "leak",
            Mechanism::Gap => "air and radiation",
            Mechanism::Film => "surface film",
            Mechanism::Heating => "heating",
        })
    }
}

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Part::Pot => write!(f, "dish and pot"),
            Part::DryPot => write!(f, "lid and dry wall of the pot"),
            Part::Condensate => write!(f, "water on the liner"),
            Part::Air => write!(f, "air in the box"),
            Part::Edges => write!(f, "edges of the box"),
            Part::Wall(face) => write!(f, "{face} wall"),
            Part::Pieces(index) => write!(f, "pieces {}", index + 1),
            Part::Companion(index) => write!(f, "second body {}", index + 1),
        }
    }
}
