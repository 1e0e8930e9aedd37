#![doc = include_str!("../README.md")]
//!
//! # Where to look
//!
//! | for | see |
//! |---|---|
//! | everything a kitchen question needs, in one `use` | [`prelude`] |
//! | what it is; what happens to it; how it is computed; what came out | [`Setup`], [`Plan`], [`Options`], [`Forecast`] |
//! | how long a temperature is held | [`Held`], [`Moment`] |
//! | pot and dish; box, sleeve and lid | [`Pot`], [`Dish`]; [`Enclosure`], [`Sleeve`], [`Lid`] |
//! | what is uncertain, which of it matters, how thick it must be | [`Setup::uncertain`], [`study`] |
//! | is it done, within which guidance, what was saved | [`food`] |
//! | walls of layers and contacts | [`Wall`], [`Layer`], [`Contact`] |
//! | properties with range and provenance | [`material`] |
//! | conduction alone, with the error of every number | [`conduction`] |
//! | exact solutions; published relations | [`closed_form`], [`correlation`] |
//! | what its numbers were compared with, and how they compare | [`validation`] |
//! | quantities, and reading and writing them as text | [`units`] |
//! | what went wrong, where, and what is accepted | [`Error`] |
#![forbid(unsafe_code)]
#![deny(missing_docs)]
#![warn(missing_debug_implementations)]

mod error;

pub mod case;
pub mod closed_form;
pub mod conduction;
pub mod correlation;
mod document;
pub mod food;
mod march;
pub mod material;
mod network;
mod numeric;
pub mod prelude;
mod setup;
pub mod study;
pub mod units;
#[doc = include_str!("validation.md")]
pub mod validation {}
mod wall;

pub use error::{Error, ErrorKind, Within};
pub use march::Statistics;
pub use material::{Catalogue, Material};
pub use network::shelf::Shelf;
pub use setup::{
    Action, Assumption, Caution, Companion, Dish, EdgeRow, Edges, Enclosure, Face, Fit, Footing, Forecast, Handle,
    Held, HottestLayer, HourRow, Input, InputRange, InputScale, Knob, LayerPlace, Lid, LidKind, MaterialUse, Mechanism,
    Moment, Options, Part, PathHeat, PieceShape, Pieces, Place, Plan, Pot, PotLid, Probe, ProbeSpot, Range, Resting,
    Setup, Shell, Sleeve, StoredHeat, UncertainInput,
};
pub use wall::{
    Airspace, Body, Boundary, Bridge, Contact, Convection, Course, Exchange, Fill, Filler, Geometry, Grading, Junction,
    JunctionArm, Layer, LidOnRim, Line, Point, PotInSleeve, Section, SectionBuilder, Shape, TeeJoint, Wall,
    WallBuilder, WallCorner,
};
