//! What people build and cook: pot, dish, box or sleeve, plan. Each part attaches itself to a network; the forecast
//! is what comes out of marching it.

mod assemble;
mod assumption;
mod attach_gap;
mod attach_wall;
mod caution;
mod companion;
mod dish;
mod enclosure;
mod forecast;
mod gap_law;
mod handle;
mod headspace;
mod held;
mod holding;
mod leak_law;
mod lid;
mod member;
mod options;
mod pieces;
mod place;
mod plan;
mod pot;
mod pot_lid;
mod probe;
mod range;
mod resting;
#[allow(clippy::module_inception, reason = "the setup itself, beside its parts")]
mod setup;
mod shell;
mod sleeve;
mod spot;
mod still_dish;

pub use assumption::Assumption;
pub use caution::Caution;
pub use companion::Companion;
pub use dish::Dish;
pub use enclosure::{Enclosure, Face, Fit};
pub use forecast::{Forecast, HottestLayer, HourRow, PathHeat, StoredHeat};
pub use handle::Handle;
pub use held::{Held, Moment};
pub use lid::{Lid, LidKind};
pub use options::Options;
pub use pieces::{PieceShape, Pieces};
pub use place::{Mechanism, Part, Place};
pub use plan::{Action, Plan};
pub use pot::Pot;
pub use pot_lid::PotLid;
pub use probe::Probe;
pub use range::Range;
pub use resting::Resting;
pub use setup::Setup;
pub use shell::Shell;
pub use sleeve::Sleeve;
pub use spot::ProbeSpot;
