//! Studies: what is uncertain, which of it matters, how much is enough.

mod indices;
mod pins;
mod random;
mod setups;
mod sizing;
mod spread;
