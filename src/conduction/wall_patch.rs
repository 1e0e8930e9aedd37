//! A wall becomes a patch: conductances and capacities of its cells, ports at its faces.

use std::sync::Arc;

use super::airspace_law::AirspaceLaw;
use super::axis::{Axis, Cell, Mesh};
use crate::correlation;
use crate::error::{Error, ErrorKind};
use crate::material::{Material, PropertyLaw};
use crate::network::patch::{Bridge, Coefficients, Coupling};
use crate::network::{Interior, NodeId, Patch, Port, Properties};
use crate::units::Si;
use crate::wall::{Contact, Geometry, Layer, Wall};

/// Relative change of a conductance or capacity that the march need not follow.
pub(crate) const RELINEARISE: f64 = 1e-3;

/// A wall on a mesh, ready to be attached to a network.
#[derive(Debug, Clone)]
pub(crate) struct WallPatch {
    physics: Arc<Physics>,
}

/// What does not change when the wall is marched.
#[derive(Debug)]
struct Physics {
    axis: Axis,
    /// Whether the inner end is a port: always but for a solid wall, and there if its centre is to be read.
    inner_port: bool,
    /// Geometric factor of each cell: conductance per extent over conductivity, m (contacts: area, m²).
    shape: Vec<f64>,
    /// Volume per extent on the inner and outer half of each layer cell, m³.
    volume: Vec<[f64; 2]>,
    /// The same times the grading of the heat capacity.
    graded_volume: Vec<[f64; 2]>,
    conductivity: Vec<PropertyLaw>,
    density: Vec<f64>,
    heat_capacity: Vec<PropertyLaw>,
    joints: Vec<Joint>,
    constant: bool,
    constant_capacity: bool,
    tolerance: f64,
}

/// How the properties of a layer follow temperature.
#[derive(Debug, Clone)]
pub(crate) struct LayerLaws {
    /// W/(m K)
    pub(crate) conductivity: PropertyLaw,
    /// J/(kg K)
    pub(crate) heat_capacity: PropertyLaw,
}

impl LayerLaws {
    /// The best values of the material.
    pub(crate) fn best(layer: &Layer) -> Self {
        Self::of(layer.material())
    }

    /// The best values of a material.
    pub(crate) fn of(material: &Material) -> Self {
        LayerLaws {
            conductivity: material.conductivity().law().clone(),
            heat_capacity: material.heat_capacity().law().clone(),
        }
    }
}

/// Coefficient of a contact, W/(m² K).
#[derive(Debug)]
pub(super) enum Joint {
    /// No contact resistance: the node is shared and no cell of this kind exists.
    Perfect,
    Fixed(f64),
    /// Against temperature.
    Gap(PropertyLaw),
    /// Against both face temperatures.
    Airspace(AirspaceLaw),
}

impl Joint {
    /// Coefficient between sides at `inner` and `outer` K.
    pub(super) fn coefficient(&self, inner: f64, outer: f64) -> f64 {
        match self {
            Joint::Perfect => 1.0 / SMALLEST_RESISTANCE,
            Joint::Fixed(h) => *h,
            Joint::Gap(law) => law.at(f64::midpoint(inner, outer)),
            // Temperatures no relation can hold make the factorisation fail, with an error that says so.
            Joint::Airspace(law) => law.coefficient(inner, outer).unwrap_or(f64::NAN),
        }
    }

    /// Of a contact between two coordinates of a wall, m.
    pub(super) fn new(contact: &Contact, geometry: Geometry, faces: [f64; 2]) -> Result<Self, Error> {
        Ok(match contact {
            Contact::Perfect => Joint::Perfect,
            Contact::Resistance(r) => Joint::Fixed(1.0 / r.si().max(SMALLEST_RESISTANCE)),
            Contact::Gap(width) => {
                // Tabulated once: air and radiation change by a few percent between the points.
                let points = (20..=80)
                    .map(|i| {
                        let t = 10.0 * f64::from(i);
                        let gap = correlation::contact::thin_air_gap(width.si(), t, PLAIN_FACES)?;
                        Ok((t, 1.0 / gap.value))
                    })
                    .collect::<Result<Vec<_>, Error>>()?;
                Joint::Gap(PropertyLaw::table(&points)?)
            }
            Contact::Airspace(airspace) => Joint::Airspace(AirspaceLaw::new(airspace, geometry, faces)?),
        })
    }
}

/// Emissivities of the two faces of a thin gap.
const PLAIN_FACES: [f64; 2] = [0.9, 0.9];

impl WallPatch {
    /// Meshes `wall` with the given number of cells in each layer; coefficients follow temperature to within the
    /// relative tolerance `relinearise`.
    ///
    /// # Errors
    /// If the coefficient of a gap cannot be computed.
    pub(crate) fn new(wall: &Wall, cells_per_layer: &[usize], relinearise: f64) -> Result<Self, Error> {
        Self::with_laws(wall, &Mesh::Equal(cells_per_layer.to_vec()), relinearise, false, LayerLaws::best)
    }

    /// The same with property laws chosen for each layer: a member of the range of its materials. With `centre_port` the
    /// centre of a solid wall is a port, too.
    ///
    /// # Errors
    /// If the coefficient of a gap cannot be computed.
    pub(crate) fn with_laws(
        wall: &Wall,
        mesh: &Mesh,
        relinearise: f64,
        centre_port: bool,
        laws: impl Fn(&Layer) -> LayerLaws,
    ) -> Result<Self, Error> {
        let axis = Axis::new(wall, mesh);
        let (conductivity, heat_capacity): (Vec<PropertyLaw>, Vec<PropertyLaw>) = wall
            .layers()
            .iter()
            .map(|layer| {
                let LayerLaws { conductivity, heat_capacity } = laws(layer);
                (conductivity, heat_capacity)
            })
            .unzip();
        let constant = conductivity.iter().chain(&heat_capacity).all(PropertyLaw::is_constant)
            && !wall.contacts().iter().any(|c| matches!(c, Contact::Gap(_) | Contact::Airspace(_)));
        let constant_capacity = heat_capacity.iter().all(PropertyLaw::is_constant);
        let solid = wall.is_solid();
        let mut shape = Vec::with_capacity(axis.cells.len());
        let mut volume = Vec::with_capacity(axis.cells.len());
        let mut graded_volume = Vec::with_capacity(axis.cells.len());
        let mut joint_faces = vec![[0.0; 2]; wall.contacts().len()];
        for (i, cell) in axis.cells.iter().enumerate() {
            let (a, b) = (axis.position[i], axis.position[i + 1]);
            match cell {
                Cell::Contact(contact) => {
                    joint_faces[*contact] = [a, b];
                    // Half-way through an airspace; on the joint itself otherwise.
                    shape.push(wall.area_at(f64::midpoint(a, b)));
                    volume.push([0.0, 0.0]);
                    graded_volume.push([0.0, 0.0]);
                }
                Cell::Layer(layer) => {
                    let middle = f64::midpoint(a, b);
                    let mut g = shape_factor(wall.geometry(), a, b, solid);
                    let mut halves = [shell(wall.geometry(), a, middle), shell(wall.geometry(), middle, b)];
                    volume.push(halves);
                    if let Some(grading) = wall.layers()[*layer].grading() {
                        let inner_face = axis.position[axis.layer_nodes[*layer].start];
                        g *= grading.conductivity(middle - inner_face);
                        // Each half takes the factor at its own middle.
                        for (half, ends) in halves.iter_mut().zip([(a, middle), (middle, b)]) {
                            *half *= grading.heat_capacity(f64::midpoint(ends.0, ends.1) - inner_face);
                        }
                    }
                    shape.push(g);
                    graded_volume.push(halves);
                }
            }
        }
        let density = wall.layers().iter().map(|l| l.material().density().value().si()).collect();
        let joints = wall
            .contacts()
            .iter()
            .zip(joint_faces)
            .map(|(contact, faces)| Joint::new(contact, wall.geometry(), faces))
            .collect::<Result<Vec<_>, _>>()?;
        Ok(WallPatch {
            physics: Arc::new(Physics {
                axis,

                inner_port: !solid || centre_port,
                shape,
                volume,
                graded_volume,
                conductivity,
                density,
                heat_capacity,
                joints,
                constant,
                constant_capacity,
                tolerance: relinearise,
            }),
        })
    }

    /// The mesh.
    pub(crate) fn axis(&self) -> &Axis {
        &self.physics.axis
    }

    /// Local unknown of a node of the mesh: interior first, then the port(s).
    pub(crate) fn local(&self, node: usize) -> usize {
        self.physics.local(node)
    }

    /// Capacity of the half cells inside and outside of a node at its temperature, J/K per extent.
    pub(crate) fn half_capacities(&self, node: usize, temperature: f64) -> [f64; 2] {
        let p = &*self.physics;
        let half = |cell: usize, side: usize| match p.axis.cells[cell] {
            Cell::Layer(l) => p.graded_volume[cell][side] * p.density[l] * p.heat_capacity[l].at(temperature),
            Cell::Contact(_) => 0.0,
        };
        [if node > 0 { half(node - 1, 1) } else { 0.0 }, if node < p.axis.cells.len() { half(node, 0) } else { 0.0 }]
    }

    /// Volume of the inner and outer half of a cell, m³ per extent.
    pub(crate) fn half_volumes(&self, cell: usize) -> [f64; 2] {
        self.physics.volume[cell]
    }

    /// Shares of the half cells inside and outside of a node in its volume.
    pub(crate) fn half_shares(&self, node: usize) -> [f64; 2] {
        let volume = &self.physics.volume;
        let inner = node.checked_sub(1).map_or(0.0, |cell| volume[cell][1]);
        let outer = volume.get(node).map_or(0.0, |halves| halves[0]);
        [inner / (inner + outer), outer / (inner + outer)]
    }

    /// Conductance between node and node + 1 at their temperatures, W/K per extent.
    pub(crate) fn conductance(&self, cell: usize, inner: f64, outer: f64) -> f64 {
        self.physics.conductance(cell, inner, outer, &mut 0)
    }

    /// The patch, `weight` extents of it, with the start temperature (K) of every mesh node. `inner` is not used
    /// for a solid cylinder or sphere without a centre port.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] if a start temperature is not a positive number of kelvin.
    pub(crate) fn attach(
        &self,
        weight: f64,
        inner: Option<NodeId>,
        outer: NodeId,
        start: impl Fn(f64, usize) -> f64,
    ) -> Result<Patch, Error> {
        let p = &*self.physics;
        let n = p.axis.position.len();
        let mut local_start = vec![0.0; n];
        for node in 0..n {
            // A node between two layers starts at the mean of what each says, weighted by capacity: no heat is lost.
            let mut heat = 0.0;
            let mut capacity = 0.0;
            let mut extremes = [f64::INFINITY, f64::NEG_INFINITY];
            for (cell, side) in [(node.checked_sub(1), 1), (Some(node), 0)] {
                let Some(cell) = cell.filter(|c| *c < p.axis.cells.len()) else { continue };
                let Cell::Layer(layer) = p.axis.cells[cell] else { continue };
                let t = start(p.axis.position[node], layer);
                if !(t > 0.0 && t.is_finite()) {
                    return Err(Error::new(ErrorKind::OutOfRange, "start temperature is out of range")
                        .with_value(format!("{t} K at {} m", p.axis.position[node]))
                        .with_accepted("a finite number above 0 K"));
                }
                let c = p.graded_volume[cell][side] * p.density[layer] * p.heat_capacity[layer].at(t);
                heat += c * t;
                capacity += c;
                extremes = [extremes[0].min(t), extremes[1].max(t)];
            }
            // Equal temperatures stay equal to the last digit.
            let [low, high] = extremes;
            local_start[p.local(node)] = if low == high { low } else { heat / capacity };
        }
        let ports = match inner.filter(|_| p.inner_port) {
            Some(inner) => vec![Port { local: n - 2, node: inner }, Port { local: n - 1, node: outer }],
            None => vec![Port { local: n - 1, node: outer }],
        };
        let mut coefficients = p.empty();
        p.linearise(&local_start, &local_start, &mut coefficients);
        let properties: Option<Box<dyn Properties>> =
            (!p.constant).then(|| Box::new(Varying(Arc::clone(&self.physics))) as Box<dyn Properties>);
        Ok(Patch {
            coefficients,
            ports,
            weight,
            start: local_start,
            properties,
            error_scale: None,
            sources: Vec::new(),
        })
    }
}

/// Temperature-dependent coefficients of a wall.
#[derive(Debug)]
struct Varying(Arc<Physics>);

impl Properties for Varying {
    fn linearise(&self, from: &[f64], to: &[f64], patch: &mut Coefficients) {
        self.0.linearise(from, to, patch);
    }

    fn tolerance(&self) -> f64 {
        self.0.tolerance
    }
}

impl Physics {
    fn local(&self, node: usize) -> usize {
        let last = self.axis.position.len() - 1;
        if !self.inner_port {
            node
        } else if node == 0 {
            last - 1
        } else if node == last {
            last
        } else {
            node - 1
        }
    }

    fn empty(&self) -> Coefficients {
        let n = self.axis.position.len();
        let ports = if self.inner_port { 2 } else { 1 };
        let interior = n - ports;
        let mut couplings = Vec::new();
        let mut bridges = Vec::new();
        if interior == 0 && self.inner_port {
            bridges.push(Bridge { ports: [0, 1], conductance: 0.0 });
        }
        if interior > 0 {
            if self.inner_port {
                couplings.push(Coupling { interior: 0, port: 0, conductance: 0.0 });
            }
            couplings.push(Coupling { interior: interior - 1, port: ports - 1, conductance: 0.0 });
        }
        Coefficients {
            interior: Interior::Chain(vec![0.0; interior.saturating_sub(1)]),
            couplings,
            bridges,
            capacity: vec![0.0; n],
            heat: None,
            port_conductance: None,
        }
    }

    /// `piece` is where the conductivity of a cell before was found.
    fn conductance(&self, cell: usize, inner: f64, outer: f64, piece: &mut usize) -> f64 {
        match self.axis.cells[cell] {
            // The mean over the temperatures between the nodes gives the exact steady flux (Kirchhoff).
            Cell::Layer(l) => self.shape[cell] * self.conductivity[l].mean_near(inner, outer, piece),
            Cell::Contact(c) => self.shape[cell] * self.joints[c].coefficient(inner, outer),
        }
    }

    fn linearise(&self, from: &[f64], to: &[f64], out: &mut Coefficients) {
        let cells = self.axis.cells.len();
        let middle = |node: usize| {
            let l = self.local(node);
            f64::midpoint(from[l], to[l])
        };
        let Interior::Chain(chain) = &mut out.interior else { return };
        let mut outer = middle(0);
        let mut piece = 0;
        for cell in 0..cells {
            let inner = outer;
            outer = middle(cell + 1);
            let g = self.conductance(cell, inner, outer, &mut piece);
            let first = usize::from(self.inner_port);
            if !out.bridges.is_empty() {
                out.bridges[0].conductance = g;
            } else if cell < first {
                out.couplings[0].conductance = g;
            } else if cell == cells - 1 {
                let last = out.couplings.len() - 1;
                out.couplings[last].conductance = g;
            } else {
                chain[cell - first] = g;
            }
        }
        if self.constant_capacity && out.capacity[0] > 0.0 {
            return;
        }
        out.capacity.fill(0.0);
        let mut piece = 0;
        for (cell, kind) in self.axis.cells.iter().enumerate() {
            let Cell::Layer(layer) = kind else { continue };
            for side in 0..2 {
                let l = self.local(cell + side);
                let c = self.heat_capacity[*layer].mean_near(from[l], to[l], &mut piece);
                out.capacity[l] += self.graded_volume[cell][side] * self.density[*layer] * c;
            }
        }
    }
}

/// A contact resistance of zero is written `Contact::Perfect`; a given zero becomes this, m² K/W, far below any
/// effect.
const SMALLEST_RESISTANCE: f64 = 1e-12;

/// Conductance over conductivity between two coordinates per extent, m. Hollow round walls use the exact steady
/// profile; solid ones the area half-way, which is exact for the smooth (parabolic) profile about a centre.
fn shape_factor(geometry: Geometry, a: f64, b: f64, solid: bool) -> f64 {
    use std::f64::consts::{PI, TAU};
    match geometry {
        Geometry::Planar => 1.0 / (b - a),
        Geometry::Cylindrical { .. } if solid => TAU * f64::midpoint(a, b) / (b - a),
        Geometry::Cylindrical { .. } => TAU / (b / a).ln(),
        Geometry::Spherical { .. } if solid => 4.0 * PI * f64::midpoint(a, b).powi(2) / (b - a),
        Geometry::Spherical { .. } => 4.0 * PI * a * b / (b - a),
    }
}

/// Volume between two coordinates per extent, m³.
fn shell(geometry: Geometry, a: f64, b: f64) -> f64 {
    use std::f64::consts::PI;
    match geometry {
        Geometry::Planar => b - a,
        Geometry::Cylindrical { .. } => PI * (b - a) * (b + a),
        Geometry::Spherical { .. } => 4.0 / 3.0 * PI * (b - a) * (b * b + a * b + a * a),
    }
}
