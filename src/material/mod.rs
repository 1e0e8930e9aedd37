//! Materials: properties with their range, how they follow temperature, and where each number comes from.
//!
//! [`Material::named`] takes one from the embedded [`Catalogue`], [`Catalogue::with_file`] adds a file of your own,
//! [`Material::custom`] makes one from numbers. A [`Property`] is read in quantities; its [`PropertyLaw`] gives plain SI
//! numbers for computing.
//!
//! Every value carries a [`Mark`] (was a source seen, or is it recalled?), every material a [`Grade`]. Most numbers are
//! for ordinary, dry material, of which [`Material::damp`] makes a damp one; `when_wet`, `when_pressed` and `caution`
//! say in words what the numbers leave out.
//!
//! ```
//! use stillhot::material::{Mark, Material};
//! use stillhot::units::{Si, celsius, write};
//!
//! let wool = Material::named("stone-wool-dense")?;
//! let conductivity = wool.conductivity();
//! assert_eq!(write(conductivity.low()), "0.032 W/(m K)");
//! assert_eq!(conductivity.evidence().mark(), Mark::Read);
//! // What counts in a wall between 90 °C and 20 °C is the mean over its temperatures.
//! let mean = conductivity.law().mean(celsius(90.0).si(), celsius(20.0).si());
//! assert!(mean > conductivity.value().si());
//! # Ok::<(), stillhot::Error>(())
//! ```

mod catalogue;
mod category;
mod composition;
mod custom;
mod damp;
mod description;
mod entry;
mod law;
mod mixture;
mod property;
mod provenance;

pub use catalogue::Catalogue;
pub use category::Category;
pub use composition::Composition;
pub use description::{Emissivity, Material, ServiceTemperature};
pub use law::PropertyLaw;
pub use property::Property;
pub use provenance::{Evidence, Grade, Mark, Source};
