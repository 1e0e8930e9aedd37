//! A section becomes a patch: conductances and capacities on a mesh, ports where it meets the rest.

use std::sync::Arc;

use super::exchange_law::convection_coefficient;
use super::section_assembly::{Assembly, Meeting, Proportion, UNUSED};
use super::section_cut::Grid;
use super::section_grid::GridPlan;
use super::section_mesh::SectionMesh;
use super::section_reader::Field;
use super::wall_patch::{Joint, LayerLaws};
use crate::correlation::constants::STEFAN_BOLTZMANN;
use crate::error::{Error, ErrorKind};
use crate::material::PropertyLaw;
use crate::network::patch::{Bridge, Coefficients, Condensed, Coupling};
use crate::network::{Grid as NetworkGrid, Interior, NodeId, Patch, Port, Properties};
use crate::units::Si;
use crate::wall::{Convection, Fill, Geometry, Place, Section};

/// Conductivities change by a few per cent across a wall: what a second round changes in a field is their square.
const STEADY_ROUNDS: usize = 2;

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
    /// Place of every unknown; of a port, that of one of the nodes it holds.
    pub(super) places: Vec<Place>,
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
        Self::on_grid(section, Grid { axes: [plan.nodes(0, parts), plan.nodes(1, parts)] }, meetings, laws)
    }

    /// Meshes a section on a grid whose lines run through all that matters.
    ///
    /// # Errors
    /// If the coefficient of a gap cannot be computed.
    pub(super) fn on_grid(
        section: &Section,
        grid: Grid,
        meetings: &Meetings,
        laws: impl Fn(&Fill) -> LayerLaws,
    ) -> Result<Self, Error> {
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
        let joints = section
            .contacts()
            .map(|(_, contact)| Joint::new(contact, Geometry::Planar, [0.0; 2]))
            .collect::<Result<Vec<_>, _>>()?;
        let mut places = vec![section.layout().frame[0]; assembly.interior + assembly.ports];
        for (place, unknown) in mesh.places.iter().zip(&assembly.unknown) {
            if *unknown != UNUSED {
                places[*unknown as usize] = *place;
            }
        }
        Ok(SectionPatch {
            physics: Arc::new(Physics {
                places,
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

    /// The steady field between these temperatures of the ports, K, and the coefficients in it.
    ///
    /// # Errors
    /// [`ErrorKind::NoConvergence`] if the section cannot be factored.
    pub(super) fn settled(&self, ports: &[f64]) -> Result<(Vec<f64>, Coefficients), Error> {
        let p = &*self.physics;
        let mean = ports.iter().sum::<f64>() / ports.len() as f64;
        let mut field = vec![mean; p.assembly.interior];
        field.extend_from_slice(ports);
        let mut coefficients = p.empty()?;
        p.linearise(&field, &field, &mut coefficients);
        if p.is_constant() {
            return Ok((field, coefficients));
        }
        let mut condensed = Condensed::default();
        for _ in 0..STEADY_ROUNDS {
            p.settle(&coefficients, &mut condensed, &mut field)?;
            p.linearise(&field, &field, &mut coefficients);
        }
        Ok((field, coefficients))
    }

    /// The same from a field that is known on another mesh of the same section, with the interior temperatures for each port
    /// at one and the others at zero instead of the field: at coefficients that err as much as that field does, so that what
    /// a projection on them passes errs by the square of it.
    ///
    /// # Errors
    /// As [`SectionPatch::settled`].
    pub(super) fn settled_from(&self, known: &Field<'_>) -> Result<(Vec<Vec<f64>>, Coefficients), Error> {
        let p = &*self.physics;
        let mut coefficients = p.empty()?;
        let ports = &known.temperature[known.physics.assembly.interior..];
        // Each unknown lies in some element of either mesh, or beside one.
        let at = |place: &Place| known.linear(*place).unwrap_or(ports[0]);
        let mut field: Vec<f64> = p.places[..p.assembly.interior].iter().map(at).collect();
        field.extend_from_slice(ports);
        p.linearise(&field, &field, &mut coefficients);
        let mut condensed = Condensed::default();
        p.settle(&coefficients, &mut condensed, &mut field)?;
        p.linearise(&field, &field, &mut coefficients);
        let responses = condensed.responses().map(|x| x.iter().map(|x| -x).collect()).collect();
        Ok((responses, coefficients))
    }

    /// The patch, `weight` extents of it, with its ports on these nodes and the start temperature (K) of every place
    /// and fill; coefficients follow temperature to within the relative tolerance `relinearise`.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] if a start temperature is not a positive number of kelvin.
    pub(crate) fn attach(
        &self,
        weight: f64,
        ports: &[NodeId],
        relinearise: f64,
        start: impl Fn(Place, usize) -> f64,
    ) -> Result<Patch, Error> {
        let p = &*self.physics;
        let start = p.start(start)?;
        let mut coefficients = p.empty()?;
        p.linearise(&start, &start, &mut coefficients);
        let properties: Option<Box<dyn Properties>> = (!p.is_constant()).then(|| {
            Box::new(Varying { physics: Arc::clone(&self.physics), tolerance: relinearise }) as Box<dyn Properties>
        });
        let interior = p.assembly.interior;
        Ok(Patch {
            coefficients,
            ports: ports.iter().enumerate().map(|(k, node)| Port { local: interior + k, node: *node }).collect(),
            weight,
            start,
            properties,
            error_scale: None,
            sources: Vec::new(),
        })
    }
}

/// Temperature-dependent coefficients of a section.
#[derive(Debug)]
struct Varying {
    physics: Arc<Physics>,
    tolerance: f64,
}

impl Properties for Varying {
    fn linearise(&self, from: &[f64], to: &[f64], patch: &mut Coefficients) {
        self.physics.linearise(from, to, patch);
    }

    fn tolerance(&self) -> f64 {
        self.tolerance
    }
}

impl Physics {
    /// Whether nothing follows temperature.
    pub(super) fn is_constant(&self) -> bool {
        self.conductivity.iter().chain(&self.heat_capacity).all(PropertyLaw::is_constant)
            && self.films.iter().all(FilmLaw::is_constant)
            && self.joints.iter().all(|j| matches!(j, Joint::Perfect | Joint::Fixed(_)))
    }

    /// Start temperature of every unknown: the mean of what meets there, weighted by capacity, so that no heat is lost.
    /// A port without capacity of its own gets the mean of all: nobody reads it before its node has a temperature.
    fn start(&self, start: impl Fn(Place, usize) -> f64) -> Result<Vec<f64>, Error> {
        let unknowns = self.assembly.interior + self.assembly.ports;
        let mut heat = vec![0.0; unknowns];
        let mut capacity = vec![0.0; unknowns];
        let mut ends = vec![[f64::INFINITY, f64::NEG_INFINITY]; unknowns];
        for (k, store) in self.assembly.stores.iter().enumerate() {
            let unknown = store.unknown as usize;
            let place = self.places[unknown];
            let t = start(place, store.fill as usize);
            if !(t > 0.0 && t.is_finite()) {
                return Err(Error::new(ErrorKind::OutOfRange, "start temperature is out of range")
                    .with_value(format!("{t} K at ({} m, {} m)", place[0], place[1]))
                    .with_accepted("a finite number above 0 K"));
            }
            let c = self.capacity(k, t, t);
            heat[unknown] += c * t;
            capacity[unknown] += c;
            ends[unknown] = [ends[unknown][0].min(t), ends[unknown][1].max(t)];
        }
        let mean = heat.iter().sum::<f64>() / capacity.iter().sum::<f64>();
        Ok((0..unknowns)
            .map(|k| match ends[k] {
                // Equal temperatures stay equal to the last digit.
                [low, high] if low == high => low,
                _ if capacity[k] > 0.0 => heat[k] / capacity[k],
                _ => mean,
            })
            .collect())
    }

    /// Puts the interior of a field to where it settles with its ports, by a factor of these coefficients.
    fn settle(&self, coefficients: &Coefficients, condensed: &mut Condensed, field: &mut [f64]) -> Result<(), Error> {
        let (interior, ports) = field.split_at_mut(self.assembly.interior);
        if !coefficients.condense_into(0.0, 1.0, ports.len(), condensed) {
            return Err(Error::new(ErrorKind::NoConvergence, "a section could not be factored"));
        }
        interior.fill(0.0);
        condensed.expand(interior, ports);
        Ok(())
    }

    /// Coefficients with the structure of the section and no numbers yet.
    fn empty(&self) -> Result<Coefficients, Error> {
        let m = self.assembly.interior;
        let (mut inside, mut couplings, mut bridges) = (Vec::new(), Vec::new(), Vec::new());
        for [u, v] in self.assembly.pairs.iter().map(|pair| pair.map(|u| u as usize)) {
            if v < m {
                inside.push((u, v));
            } else if u < m {
                couplings.push(Coupling { interior: u, port: v - m, conductance: 0.0 });
            } else {
                bridges.push(Bridge { ports: [u - m, v - m], conductance: 0.0 });
            }
        }
        // Pairs are sorted and different, so that each becomes the entry of its own rank.
        let (grid, _) = NetworkGrid::new(&self.assembly.position, &inside)?;
        Ok(Coefficients {
            interior: Interior::Grid(grid),
            couplings,
            bridges,
            capacity: vec![0.0; m + self.assembly.ports],
            heat: None,
            port_conductance: None,
        })
    }

    fn linearise(&self, from: &[f64], to: &[f64], out: &mut Coefficients) {
        let m = self.assembly.interior;
        let middle = |unknown: u32| f64::midpoint(from[unknown as usize], to[unknown as usize]);
        let Interior::Grid(grid) = &mut out.interior else { return };
        let (mut entry, mut coupling, mut bridge) = (0, 0, 0);
        for (k, [u, v]) in self.assembly.pairs.iter().enumerate() {
            let g = self.conductance(k, middle(*u), middle(*v));
            if (*v as usize) < m {
                grid.conductance[entry] = g;
                entry += 1;
            } else if (*u as usize) < m {
                out.couplings[coupling].conductance = g;
                coupling += 1;
            } else {
                out.bridges[bridge].conductance = g;
                bridge += 1;
            }
        }
        out.capacity.fill(0.0);
        for (k, store) in self.assembly.stores.iter().enumerate() {
            let unknown = store.unknown as usize;
            out.capacity[unknown] += self.capacity(k, from[unknown], to[unknown]);
        }
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

    /// Heat capacity of an unknown at a temperature, J/K per extent.
    pub(super) fn capacity_of(&self, unknown: usize, temperature: f64) -> f64 {
        let first = self.assembly.stores.partition_point(|s| (s.unknown as usize) < unknown);
        let stores = self.assembly.stores[first..].iter().take_while(|s| s.unknown as usize == unknown);
        (first..first + stores.count()).map(|k| self.capacity(k, temperature, temperature)).sum()
    }

    /// The unknown of a node of the mesh, if the node is in use.
    pub(super) fn unknown(&self, node: u32) -> Option<usize> {
        let unknown = self.assembly.unknown[node as usize];
        (unknown != UNUSED).then_some(unknown as usize)
    }
}
