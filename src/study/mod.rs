//! What difference does it make? Setups and plans varied, computed on shared meshes and steps, and ranked.
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

mod asked;
mod compare;
mod difference;
mod features;
mod parallel;
mod variant;
mod walls;
mod what_matters;

pub use asked::{Asked, Cost, Level, MaterialPrice};
pub use compare::{Compared, Comparison, Outcome, Ranked, compare};
pub use difference::{Change, Difference, End, HoldDifference};
pub use features::ChangeKind;
pub use variant::Variant;
pub use what_matters::{Effect, Per, WhatMatters, Worth, what_matters};
