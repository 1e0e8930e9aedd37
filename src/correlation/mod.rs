//! Published relations: properties of air and water, films, gaps, radiation, fins. One function per relation.
//!
//! Each function carries the name of its author or standard, takes plain numbers in SI units (kelvin for
//! temperatures) and answers with a [`Value`]: the number, and whether every input lay inside the range the
//! relation was published for. Outside that range the number is still the relation's own (never clamped) and
//! [`Value::outside`] names the input. An input that no range could hold (not finite, a length of zero, an
//! emissivity above one) is an [`Error`](crate::Error); a result is always finite.
//!
//! How the source of each relation is marked in its documentation:
//!
//! * READ: equation or constants were seen in the named material;
//! * MEMORY: recalled, not seen, then checked as told;
//! * COMPUTED: derived or calculated for this crate;
//! * ESTIMATE: a judgement.
//!
//! | what | module |
//! |---|---|
//! | physical constants | [`constants`] |
//! | dry air, liquid water and its vapour line, air with vapour | [`air`], [`water`], [`moist_air`] |
//! | pressure and boiling point by height | [`atmosphere`] |
//! | dimensionless groups | [`similarity`] |
//! | films by free and by forced convection, wind as a pressure | [`free_convection`], [`forced_convection`], [`wind`] |
//! | closed gaps: Nusselt numbers, and the building-physics resistances | [`enclosure`], [`airspace`] |
//! | surface resistances of building physics | [`surface`] |
//! | space above hot water | [`headspace`] |
//! | radiation between two surfaces | [`radiation`] |
//! | thin gap between pressed faces | [`contact`] |
//! | bars and fins | [`fin`] |
//! | gaps and openings: flow, exchange, stack, vapour | [`leak`] |
//!
//! A film on an upright wall 0.3 m high at 25 °C in air of 20 °C:
//!
//! ```
//! use stillhot::correlation::{air, free_convection};
//!
//! let film = air::dry_air(295.65, 101_325.0)?;
//! let rayleigh = film.rayleigh(5.0, 0.3)?;
//! let nusselt = free_convection::vertical_plate_churchill_chu(rayleigh, film.prandtl)?;
//! assert!(nusselt.is_inside());
//! let h = film.film_coefficient(nusselt.value, 0.3)?;
//! // 2.94 W/(m2 K) by a general heat-transfer library (READ)
//! assert!((h - 2.94).abs() < 0.05);
//! # Ok::<(), stillhot::Error>(())
//! ```

pub mod air;
pub mod airspace;
pub mod atmosphere;
pub mod constants;
pub mod contact;
pub mod enclosure;
pub mod fin;
pub mod forced_convection;
pub mod free_convection;
pub mod headspace;
#[cfg(test)]
mod hostile_inputs;
mod if97;
mod input;
pub mod leak;
pub mod moist_air;
pub mod radiation;
pub mod similarity;
pub mod surface;
mod validity;
pub mod water;
pub mod wind;

pub use validity::{Excursion, Validity, Value};
