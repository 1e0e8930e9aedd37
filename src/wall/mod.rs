//! Walls as people build them: layers and the contacts between them, ordered from the inside to the outside, and
//! what happens at the two faces.

mod airspace;
mod among;
mod boundary;
mod contact;
mod course;
mod curve;
mod exchange;
mod fill;
mod grading;
mod junction;
mod junction_lid;
mod junction_round;
mod junction_strip;
mod layer;
mod layout;
mod line;
mod section;
mod shape;
#[allow(clippy::module_inception, reason = "the wall itself, beside its parts")]
mod wall;

pub use airspace::Airspace;
pub(crate) use among::Among;
pub use boundary::{Body, Boundary};
pub use contact::Contact;
pub use course::Course;
pub(crate) use curve::{Curve, Place};
pub use exchange::{Convection, Exchange};
pub use fill::Fill;
pub use grading::Grading;
pub(crate) use junction::OUTSIDE_OF;
pub use junction::{Filler, Junction, JunctionArm, TeeJoint, WallCorner};
pub use junction_lid::LidOnRim;
pub use junction_round::{Bridge, PotInSleeve};
pub(crate) use junction_strip::Strip;
pub use layer::Layer;
pub(crate) use layout::{Layout, Piece, What};
pub use line::Line;
pub use section::{Section, SectionBuilder};
pub(crate) use shape::spell;
pub use shape::{Point, Shape};
pub use wall::{Geometry, Wall, WallBuilder};
