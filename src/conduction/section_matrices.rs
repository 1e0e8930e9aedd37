//! The matrices of a meshed section, for those who bring their own solver.

use ndarray::{Array1, Array2};

use super::section_grid::GridPlan;
use super::section_problem::SectionProblem;
use crate::error::Error;
use crate::network::Node;
use crate::units::bounds::number_in_range;
use crate::wall::{Body, Boundary};

/// C dT/dt = -K T + b for the temperatures T (K) of the nodes of a section and of its ports, per metre of a plane
/// section and for the whole of one about an axis, at the start of its march (coefficients that follow temperature are
/// those of the start).
///
/// Nodes come first, ports last. A port is where the section meets the rest: what a film or a prescribed temperature
/// leads to, or a body. Give it its temperature and its row falls away, or add the heat capacity of its body to its
/// own.
///
/// ```
/// use stillhot::conduction::SectionProblem;
/// use stillhot::units::{celsius, millimetres, watts_per_square_metre_kelvin};
/// use stillhot::{Boundary, Fill, Line, Section};
/// let at = |x: f64, y: f64| [millimetres(x), millimetres(y)];
/// let slab = Section::plane(at(0.0, 0.0), at(50.0, 20.0))
///     .background(Fill::of("expanded-cork-board")?)
///     .part("warm", &[Line::straight(at(0.0, 0.0), at(0.0, 20.0))])
///     .part("cold", &[Line::straight(at(50.0, 0.0), at(50.0, 20.0))])
///     .build()?;
/// let film = |t: f64| Boundary::film(watts_per_square_metre_kelvin(8.0), celsius(t));
/// let problem = SectionProblem::new(slab).with("warm", film(90.0))?.with("cold", film(15.0))?;
/// let system = problem.matrices_on([&[4], &[2]])?;
/// assert_eq!(system.position.nrows(), 5 * 3);
/// assert_eq!(system.capacity.len(), 5 * 3 + 2);
/// assert_eq!(system.ports[1].part, "cold");
/// // What leaves a node arrives at others.
/// let row: f64 = system.conductance.iter().filter(|(row, ..)| *row == 0).map(|(.., g)| g).sum();
/// assert!(row.abs() < 1e-12);
/// # Ok::<(), stillhot::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct SectionMatrices {
    /// Coordinates of the nodes, m: one row each, along the first and second axis. Two or more nodes share a place on a
    /// contact.
    pub position: Array2<f64>,
    /// Heat capacities C of nodes and ports, J/K. That of a port is zero, or of what its held surface takes with it.
    pub capacity: Array1<f64>,
    /// Conductances K among nodes and ports, W/K, as row, column and value: every entry that is not zero once, by
    /// column, then by row. Symmetric, rows sum to zero; nothing positive off the diagonal but where slanted lines cut
    /// cells so that a triangle has an obtuse angle.
    pub conductance: Vec<(usize, usize, f64)>,
    /// Heat b released at nodes and ports or brought there by prescribed fluxes, W.
    pub released: Array1<f64>,
    /// Start temperatures, K. Those of the ports are those of what they lead to.
    pub start: Array1<f64>,
    /// The ports, in the order of their rows.
    pub ports: Vec<SectionPort>,
}

/// A port of [`SectionMatrices`].
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct SectionPort {
    /// The part of the boundary that it belongs to. One that convects and radiates has two ports: to the air, then to the
    /// radiant surroundings.
    pub part: String,
    /// Its row.
    pub row: usize,
    /// The body on it: it has a temperature of its own. None where the temperature is prescribed.
    pub body: Option<Body>,
    /// The row of the port whose body it shares: both have one temperature.
    pub shares: Option<usize>,
}

impl SectionProblem {
    /// The matrices on the mesh that [`SectionProblem::steady`] and [`SectionProblem::march`] would begin with for so many
    /// cells (2 to 10 000) along the longer side: finer towards points near which heat flow converges slowly.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) for another number of cells.
    pub fn matrices(&self, cells: usize) -> Result<SectionMatrices, Error> {
        number_in_range("cells", cells as f64, 2.0, 1e4)?;
        self.matrices_planned(&self.plan(cells))
    }

    /// The same on a mesh of one's own: so many equal cells between each two of [`SectionProblem::lines`].
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`](crate::ErrorKind::Inconsistent) for other numbers of entries or an entry of zero,
    /// [`ErrorKind::WorkBound`](crate::ErrorKind::WorkBound) for too fine a mesh.
    pub fn matrices_on(&self, cells: [&[usize]; 2]) -> Result<SectionMatrices, Error> {
        self.matrices_planned(&self.plan_of(cells)?)
    }

    fn matrices_planned(&self, plan: &GridPlan) -> Result<SectionMatrices, Error> {
        let patch = self.patch(plan, 1)?;
        let (network, places) = self.network(&patch, super::wall_patch::RELINEARISE)?;
        let piece = &network.patches[places.patch.0];
        let physics = patch.physics();
        let (nodes, all) = (physics.assembly.interior, piece.start.len());
        let mut start = Array1::from(piece.start.clone());
        for port in &piece.ports {
            start[port.local] = match &network.nodes[port.node.0] {
                Node::Reservoir(signal) => signal.at(0.0),
                Node::Free { start, .. } => *start,
            };
        }
        let mut diagonal = vec![0.0; all];
        let mut conductance = Vec::with_capacity(2 * physics.assembly.pairs.len() + all);
        for (k, [u, v]) in physics.assembly.pairs.iter().map(|pair| pair.map(|u| u as usize)).enumerate() {
            let g = physics.conductance(k, start[u], start[v]);
            conductance.extend([(u, v, -g), (v, u, -g)]);
            diagonal[u] += g;
            diagonal[v] += g;
        }
        conductance.extend(diagonal.into_iter().enumerate().map(|(k, g)| (k, k, g)));
        conductance.sort_unstable_by_key(|(row, column, _)| (*column, *row));
        let mut released = vec![0.0; all];
        piece.sources_at(0.0, false, &mut released);
        let mut ports = Vec::with_capacity(piece.ports.len());
        for (number, (part, boundary)) in self.section.parts().zip(&self.boundaries).enumerate() {
            let shares = self.shared[number].and_then(|owner| self.ports_of(owner).first().map(|port| nodes + port));
            let body = match boundary {
                Boundary::Body(body) if shares.is_none() => Some(body),
                _ => None,
            };
            ports.extend(self.ports_of(number).into_iter().map(|port| SectionPort {
                part: part.to_owned(),
                row: nodes + port,
                body: body.cloned(),
                shares,
            }));
        }
        Ok(SectionMatrices {
            position: Array2::from_shape_fn((nodes, 2), |(node, axis)| physics.places[node][axis]),
            capacity: Array1::from(piece.coefficients.capacity.clone()),
            conductance,
            released: Array1::from(released),
            start,
            ports,
        })
    }
}
