//! Marching a network in time, and its steady state: one code for every wall, section, pot and leak.

mod history;
mod ledger;
#[cfg(test)]
mod on_grids;
#[cfg(test)]
mod quarter_section;
mod run;
mod steady;
mod step;
mod system;

pub use history::Statistics;
pub(crate) use history::{History, Snapshot, Watched};
pub(crate) use run::{Event, March, Pace, Phase, Sequence, march};
pub(crate) use steady::steady;
