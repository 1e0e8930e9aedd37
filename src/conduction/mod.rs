//! Transient and steady conduction through layered walls: the bridge from description to network, and a product of
//! its own for those who want nothing but conduction.

mod axis;
mod estimate;
mod problem;
mod transient;
mod wall_patch;

pub(crate) use axis::share_cells;
pub use estimate::Estimate;
pub(crate) use estimate::{MARCHES, Sample, combine};
pub use problem::{Accuracy, Problem};
pub use transient::{Side, Transient};
pub(crate) use wall_patch::{LayerLaws, WallPatch};
