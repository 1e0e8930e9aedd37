//! Transient and steady conduction through layered walls: the bridge from description to network, and a product of
//! its own for those who want nothing but conduction.

mod airspace_law;
mod axis;
mod convergence;
mod estimate;
mod exchange_law;
mod junction_patch;
mod matrices;
mod ports;
mod probe;
mod problem;
mod section_assembly;
mod section_compare;
mod section_cut;
mod section_grid;
mod section_matrices;
mod section_mean;
mod section_mesh;
#[cfg(test)]
mod section_orders;
mod section_patch;
mod section_ports;
mod section_problem;
mod section_reader;
mod section_source;
mod section_steady;
mod section_transient;
mod section_transmittance;
mod section_vertex;
mod single;
mod source;
mod transient;
mod wall_patch;

pub(crate) use axis::Mesh;
pub use convergence::{Convergence, ConvergenceRow};
pub use estimate::Estimate;
pub(crate) use estimate::{Doubt, MARCHES, Sample, combine};
pub(crate) use exchange_law::{RadiationLaw, convection_among};
pub(crate) use junction_patch::{JunctionPatch, JunctionSite};
pub use matrices::Matrices;
pub use ports::{Form, PortHistory};
pub use probe::Probe;
pub use problem::{Accuracy, Problem, Steady};
pub use section_compare::SectionDifference;
pub use section_matrices::{SectionMatrices, SectionPort};
pub use section_problem::{SectionAccuracy, SectionProblem};
pub use section_source::SectionSource;
pub use section_steady::{SectionField, SteadySection};
pub use section_transient::TransientSection;
pub use section_transmittance::Arm;
pub use single::Single;
pub use source::HeatSource;
pub use transient::{Side, Transient};
pub(crate) use wall_patch::{LayerLaws, WallPatch};
