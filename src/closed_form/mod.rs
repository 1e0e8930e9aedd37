//! Analytical solutions of heat conduction to check a solver against.
//!
//! Plain numbers in SI units go in and come out here, as in the module of correlations: the units stand with every
//! argument. Temperatures are in kelvin; as every problem here is linear, any scale with that degree serves if used
//! throughout. Nothing here uses the network or the marching scheme of this crate, so agreement between the two means
//! something.
//!
//! | question | type or function |
//! |---|---|
//! | plane slab between any two ends, also with a well-stirred fluid | [`Slab`] |
//! | slab, solid cylinder, solid sphere treated evenly all around | [`SymmetricBody`], [`one_term`], [`eigenvalues`] |
//! | layers and contacts, plane, cylindrical (also hollow) or spherical | [`LayeredWall`] |
//! | half space: step, flux, convection, stirred fluid, periodic | [`SemiInfiniteSolid`], [`PeriodicSurface`] |
//! | two half spaces brought together | [`TwoHalfSpaces`] |
//! | body without inner resistance | [`LumpedBody`] |
//! | fin of uniform section | [`StraightFin`] |
//! | periodic response of a layered wall | [`PeriodicWall`] |
//! | steady series resistance, critical radius | [`SteadyWall`], [`critical_radius`] |
//!
//! Every type says how exact it is and what its tests compare it with. A call is refused, with the item, the value and
//! the accepted range, rather than answered with a number that is not one.
//!
//! ```
//! # use stillhot::closed_form::{End, Slab, Solid};
//! # fn main() -> Result<(), stillhot::Error> {
//! // 50 mm of foam at 20 °C, one face put to 95 °C, the other insulated: the far face after a quarter of an hour.
//! let foam = Solid::new(0.035, 30.0, 1450.0)?;
//! let slab = Slab::new(foam, 0.05, 20.0, End::Temperature(95.0), End::Insulated)?;
//! assert!((slab.temperature(0.05, 900.0)? - 48.322_576_990).abs() < 1e-7);
//! # Ok(())
//! # }
//! ```

mod eigenvalues;
mod end;
mod fin;
mod half_spaces;
mod layered_wall;
mod lumped;
mod periodic_wall;
mod range;
mod semi_infinite;
mod shape;
mod slab;
mod solid;
mod steady;
mod symmetric_body;
mod two_port;

pub use eigenvalues::{BodyShape, OneTerm, eigenvalues, one_term};
pub use end::{DirectLoss, End, StirredBody};
pub use fin::{FinTip, StraightFin};
pub use half_spaces::{BodySide, TwoHalfSpaces};
pub use layered_wall::{LayeredWall, Side, WallLayer};
pub use lumped::LumpedBody;
pub use periodic_wall::{PeriodicTransfer, PeriodicWall};
pub use semi_infinite::{PeriodicSurface, SemiInfiniteSolid};
pub use shape::WallShape;
pub use slab::Slab;
pub use solid::Solid;
pub use steady::{SteadyElement, SteadyWall, critical_radius};
pub use symmetric_body::SymmetricBody;
