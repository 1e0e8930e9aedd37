//! stillhot: how long does it stay hot, and what would make a difference?
#![forbid(unsafe_code)]
#![deny(missing_docs)]
#![warn(missing_debug_implementations)]

mod error;

pub mod case;
pub mod closed_form;
pub mod conduction;
pub mod correlation;
mod document;
mod march;
pub mod material;
mod network;
mod numeric;
mod setup;
pub mod units;
mod wall;

pub use error::{Error, ErrorKind, Within};
pub use march::Statistics;
pub use material::{Catalogue, Material};
pub use setup::{
    Assumption, Caution, Dish, Enclosure, Face, Forecast, Held, HourRow, Lid, LidKind, Mechanism, Moment, Options,
    Part, PathHeat, Place, Plan, Pot, Range, Setup, Shell, Sleeve, StoredHeat,
};
pub use wall::{Body, Boundary, Contact, Course, Geometry, Layer, Wall};
