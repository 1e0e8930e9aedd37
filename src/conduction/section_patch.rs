//! A section becomes a patch: conductances and capacities on a mesh, ports where it meets the rest.

use std::sync::Arc;

use super::exchange_law::convection_coefficient;
use super::section_assembly::{Assembly, Meeting, Proportion, UNUSED};
use super::section_cut::Grid;
use super::section_grid::GridPlan;
use super::section_mesh::SectionMesh;
use super::wall_patch::{Joint, LayerLaws};
use crate::correlation::constants::STEFAN_BOLTZMANN;
use crate::error::Error;
use crate::material::PropertyLaw;
use crate::units::Si;
use crate::wall::{Convection, Fill, Section};

/// Coefficient between a surface and a port, W/(m² K).
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum FilmLaw {
    /// The same at all temperatures.
    Constant(f64),
    /// By a published relation.
    Convection(Convection),
    /// Grey radiation to surroundings far larger than the surface, with this emissivity.
    Radiation(f64),
}

impl FilmLaw {
    fn coefficient(&self, surface: f64, port: f64) -> f64 {
        match self {
            FilmLaw::Constant(h) => *h,
            // A temperature for which the relation has no value makes the factorisation fail, with an error that says
            // so.
            FilmLaw::Convection(kind) => convection_coefficient(*kind, surface, port).unwrap_or(f64::NAN),
            FilmLaw::Radiation(emissivity) => {
                emissivity * STEFAN_BOLTZMANN * (surface * surface + port * port) * (surface + port)
            }
        }
    }

    fn is_constant(&self) -> bool {
        matches!(self, FilmLaw::Constant(_) | FilmLaw::Convection(Convection::None | Convection::Constant(_)))
    }
}

/// How the parts of a section meet the ports of its patch.
#[derive(Debug, Clone, Default)]
pub(crate) struct Meetings {
    /// For every part of the section what happens there; nothing for an insulated one.
    pub(crate) of_part: Vec<Vec<Meeting>>,
    /// The laws that films name.
    pub(crate) laws: Vec<FilmLaw>,
    /// How many ports there are.
    pub(crate) ports: usize,
}

/// A section on a mesh, ready to be attached to a network.
#[derive(Debug, Clone)]
pub(crate) struct SectionPatch {
    physics: Arc<Physics>,
}

/// What does not change when the section is marched.
#[derive(Debug)]
pub(super) struct Physics {
    pub(super) mesh: SectionMesh,
    pub(super) assembly: Assembly,
    conductivity: Vec<PropertyLaw>,
    heat_capacity: Vec<PropertyLaw>,
    density: Vec<f64>,
    joints: Vec<Joint>,
    films: Vec<FilmLaw>,
}

impl SectionPatch {
    /// Meshes a section by a plan with every step split in `parts`.
    ///
    /// # Errors
    /// If the coefficient of a gap cannot be computed.
    pub(crate) fn new(
        section: &Section,
        plan: &GridPlan,
        parts: usize,
        meetings: &Meetings,
        laws: impl Fn(&Fill) -> LayerLaws,
    ) -> Result<Self, Error> {
        let grid = Grid { axes: [plan.nodes(0, parts), plan.nodes(1, parts)] };
        let (part_curves, contact_curves) = (section.part_curves(), section.contact_curves());
        let mesh = SectionMesh::new(grid, section.layout(), &part_curves, &contact_curves);
        let factors: Vec<[f64; 2]> = section.fills().iter().map(Fill::plain_factors).collect();
        let assembly = Assembly::new(&mesh, section.is_about_axis(), &factors, &meetings.of_part, meetings.ports);
        let (conductivity, heat_capacity) = section
            .fills()
            .iter()
            .map(|fill| {
                let LayerLaws { conductivity, heat_capacity } = laws(fill);
                (conductivity, heat_capacity)
            })
            .unzip();
        let density = section.fills().iter().map(|f| f.material().density().value().si()).collect();
        let joints = section.contacts().map(|(_, contact)| Joint::new(contact)).collect::<Result<Vec<_>, _>>()?;
        Ok(SectionPatch {
            physics: Arc::new(Physics {
                mesh,
                assembly,
                conductivity,
                heat_capacity,
                density,
                joints,
                films: meetings.laws.clone(),
            }),
        })
    }

    pub(super) fn physics(&self) -> &Physics {
        &self.physics
    }
}

impl Physics {
    /// Whether nothing follows temperature.
    pub(super) fn is_constant(&self) -> bool {
        self.conductivity.iter().chain(&self.heat_capacity).all(PropertyLaw::is_constant)
            && self.films.iter().all(FilmLaw::is_constant)
            && self.joints.iter().all(|j| matches!(j, Joint::Perfect | Joint::Fixed(_)))
    }

    /// Conductance of a pair of unknowns at their temperatures, W/K per extent.
    pub(super) fn conductance(&self, pair: usize, first: f64, second: f64) -> f64 {
        let mut sum = 0.0;
        for term in self.assembly.terms_of(pair) {
            sum += term.factor
                * match term.proportion {
                    // The mean over the temperatures between the nodes gives the exact steady flux (Kirchhoff).
                    Proportion::Fill(fill) => self.conductivity[fill as usize].mean(first, second),
                    Proportion::Contact(number, swapped) => {
                        let [inner, outer] = if swapped { [second, first] } else { [first, second] };
                        self.joints[number as usize].coefficient(inner, outer)
                    }
                    // Ports have the larger numbers.
                    Proportion::Film(law) => self.films[law as usize].coefficient(first, second),
                };
        }
        sum
    }

    /// Heat capacity of a store between two temperatures, J/K per extent.
    pub(super) fn capacity(&self, store: usize, from: f64, to: f64) -> f64 {
        let store = &self.assembly.stores[store];
        let fill = store.fill as usize;
        store.volume * self.density[fill] * self.heat_capacity[fill].mean(from, to)
    }

    /// The unknown of a node of the mesh, if the node is in use.
    pub(super) fn unknown(&self, node: u32) -> Option<usize> {
        let unknown = self.assembly.unknown[node as usize];
        (unknown != UNUSED).then_some(unknown as usize)
    }
}
