//! Whole forecasts: what must hold for every one, limits that can be worked out by hand, and what the numbers claim
//! about themselves.

mod accounts;
mod anything;
mod by_hand;
mod claims;
mod continued;
mod covers;
mod direction;
mod drawn;
mod drying;
mod edges;
mod eventful;
mod every;
mod features;
mod ice;
mod limits;
mod lines;
mod mixed;
mod outdoors;
mod probes;
mod random;
mod refusals;
mod relations;
mod servings;
mod setups;
mod solids;
mod still;
mod stirring;
mod uncovered;
