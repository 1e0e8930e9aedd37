//! Walls as people build them: layers and the contacts between them, ordered from the inside to the outside, and
//! what happens at the two faces.

mod airspace;
mod boundary;
mod contact;
mod course;
mod exchange;
mod grading;
mod layer;
#[allow(clippy::module_inception, reason = "the wall itself, beside its parts")]
mod wall;

pub use airspace::Airspace;
pub use boundary::{Body, Boundary};
pub use contact::Contact;
pub use course::Course;
pub use exchange::{Convection, Exchange};
pub use grading::Grading;
pub use layer::Layer;
pub use wall::{Geometry, Wall, WallBuilder};
