//! Studies: what is uncertain and which of it matters; how much of something is enough.
//!
//! [`spread`] takes a setup through the ranges of all its uncertain inputs at once and tells how the answer is
//! distributed and which inputs it hangs on; [`sensitivity`] does the same for any function of numbers between 0 and 1.
//! [`size`] looks for the thinnest wall, the smallest dish or the widest joint that meets a target at the cautious end, and
//! [`trade_off`] tells what each thickness brings and costs.

mod sampling;
mod sensitivity;
mod sizing;
mod spread;
mod trade_off;
mod vary;

pub use sampling::{Distribution, Sampling};
pub use sensitivity::{Index, Sensitivity, sensitivity};
pub use sizing::{Sizing, Target, size};
pub use spread::{Influence, Quantile, Question, Spread, spread};
pub use trade_off::{Trade, trade_off};
pub use vary::{Size, Vary};
