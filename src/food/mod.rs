//! Cooked? Within which guidance? What was saved? Curves turned into what a cook needs, without promising anything.
//!
//! Everything here works from a [`Curve`], wherever it comes from: a [`Forecast`](crate::Forecast)
//! (`Curve::try_from(&forecast)`), a thermometer, a line of thought. [`verdict`] gives the short answer; behind it stand
//!
//! | question | see |
//! |---|---|
//! | how a dish cooks, and what it may harbour | [`DishFacts`], [`Kinetics`], [`Hazard`] |
//! | how far it has cooked, what is missing, how long to simmer | [`doneness`], [`cooking_value`], [`simmer_to_be_done`] |
//! | whether the middle of a piece was hot | [`PieceCentre`], [`simmer_to_reach`] |
//! | which limits there are, and how a curve stands to each | [`Limit`], [`Guidance`], [`judge`], [`Finding`] |
//! | how much heat kills, how much bacteria grow | [`lethality`], [`Growth`] |
//! | fuel, money, carbon dioxide, the weight of a sleeve | [`Fuel`], [`heat_saved`], [`simmer_steam`], [`break_even_weight`] |
//! | properties from composition | [`FoodProperties`] |
//!
//! A limit is met only at the cautious end of the range, at the coldest spot, less the numerical error (of what is kept
//! cold: at the warm end, with the error on top); a curve without a range never meets any. Toxins are judged by what
//! happened: reheating never mends a finding on them.
//!
//! **To those who embed this:** show messages unedited, cautions included. Each [`Message`] has a code and fields for
//! translation. The limits are those of published guidance in our words; the rules of the place decide.

mod caution;
mod composition;
mod cooking;
mod curve;
mod dish_facts;
mod finding;
mod fuel;
mod growth;
mod guidance;
mod judge;
mod kinetics;
mod lethality;
mod limit;
mod message;
mod piece_centre;
mod plan_facts;
mod shelf;
mod track;
mod verdict;
mod wording;

pub use composition::{FoodProperties, composition};
pub use cooking::{Doneness, SimmerPlan, cooking_value, doneness, simmer_to_be_done, simmer_to_reach};
pub use curve::{Curve, End, Moments, Spot};
pub use dish_facts::{Circulation, DishFacts, Hazard, PieceSize};
pub use finding::{Finding, Margin, Outcome, Reason};
pub use fuel::{
    Fuel, FuelUse, Money, Price, break_even_meals, break_even_weight, heat_saved, heat_to_boil, simmer_power,
    simmer_steam,
};
pub use growth::{CardinalTemperatures, Growth};
pub use guidance::Guidance;
pub use judge::{judge, judge_by};
pub use kinetics::{Kinetics, RateLaw};
pub use lethality::lethality;
pub use limit::{Equivalents, Limit, Rule, Setting, Topic};
pub use message::Message;
pub use piece_centre::PieceCentre;
pub use plan_facts::{PieceState, PlanFacts, Reheating};
pub use shelf::{Entry, Shelf, Sources};
pub use verdict::{Verdict, verdict};
