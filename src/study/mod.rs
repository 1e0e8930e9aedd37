//! Studies: what difference does it make, what is uncertain, how much is enough?
//!
//! Most questions about a box are this one: is the lid worth pressing down, the wall worth doubling, the pot worth filling?
//! Two forecasts, one less the other, would answer with the errors of both. [`compare`] takes the difference between marches
//! that share mesh and steps, so that most of what they get wrong falls out, and reports the error of what is left: a
//! difference smaller than that is none.
//!
//! ```
//! use stillhot::prelude::*;
//! use stillhot::study::{Asked, End, HoldDifference, Variant, compare, what_matters};
//! use stillhot::Options;
//!
//! # fn main() -> Result<(), stillhot::Error> {
//! let pot = Pot::typical(litres(7.0)).with(Dish::named("broth-thin-soup")?, kilograms(6.0));
//! let bin = Enclosure::lined("expanded-cork-board", millimetres(50.0))?;
//! let plan = Plan::in_room(celsius(16.0)).simmer(minutes(15.0)).shut().serve_after(hours(7.0));
//! let base = Variant::new("as it is", Setup::new(pot, bin.clone())?, plan);
//!
//! // Changes of your own, by name.
//! let pressed = base.with_setup("lid pressed down", |setup| setup.with_shell(bin.clone().lid(Lid::pressed())))?;
//! let colder = base.with_plan("room at 6 °C", |plan| plan.warmer_by(kelvins(-10.0)));
//! let asked = Asked::above(celsius(63.0));
//! let comparison = compare(&base, &[pressed, colder], &asked, &Options::default())?;
//! for place in comparison.ranked(End::Best) {
//!     let [cautious, best, _] = place.compared.holds[0];
//!     println!("{}: {best}, at the cautious end {cautious}", place.compared.outcome.variant.name());
//! }
//! let HoldDifference::By(longer) = comparison.variants[0].holds[0][1] else { unreachable!() };
//! assert!(longer.value > 100.0 * longer.error && longer.error < seconds(60.0));
//!
//! // Or every feature of this box, removed or replaced by the plain alternative.
//! let list = what_matters(base.setup(), base.plan(), &asked, &Options::default())?;
//! for effect in &list.effects {
//!     println!("{effect}");
//! }
//! # Ok(())
//! # }
//! ```
//!
//! Each difference is told at three members of the range: with everything uncertain at its cautious end in base and variant
//! alike, at its best value, at its generous end. A builder relies on the cautious one.
//!
//! [`spread`] takes a setup through the ranges of all its uncertain inputs at once and tells how the answer is
//! distributed and which inputs it hangs on, from some sixty marches by ranks ([`Spread::correlations`]) or from thousands by
//! shares of the variance ([`Spread::influences`]); [`sensitivity`] does the same for any function of numbers between 0 and 1.
//! [`size`] looks for the thinnest wall, the smallest dish or the widest joint that meets a target at the cautious end, and
//! [`trade_off`] tells what each thickness brings and costs.

mod asked;
mod compare;
mod corners;
mod difference;
mod features;
mod measure;
mod prices;
mod sampling;
mod sensitivity;
mod sizing;
mod spread;
mod trade_off;
mod variant;
mod vary;
mod walls;
mod what_matters;

pub use asked::{Asked, Level};
pub use compare::{Compared, Comparison, Outcome, Ranked, compare};
pub use difference::{Change, Difference, End, HoldDifference};
pub use features::ChangeKind;
pub use measure::{Known, Narrowing};
pub use prices::{Cost, MaterialPrice, Prices};
pub use sampling::{Distribution, Sampling};
pub use sensitivity::{Index, Sensitivity, sensitivity};
pub use sizing::{Sizing, Target, size};
pub use spread::{Correlation, Influence, Quantile, Question, Spread, spread};
pub use trade_off::{Trade, trade_off};
pub use variant::Variant;
pub use vary::{Size, Vary};
pub use what_matters::{Effect, Per, WhatMatters, Worth, what_matters};
