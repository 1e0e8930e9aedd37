//! The matrices of a meshed wall, for those who bring their own solver.

use ndarray::{Array1, Array2};

use super::problem::Problem;
use crate::error::Error;
use crate::units::Si;
use crate::wall::Boundary;

/// C dT/dt = -K T + b for the temperatures T (K) of the nodes of a wall, per extent of the wall, at the start of its
/// march (coefficients that follow temperature are those of the start).
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Matrices {
    /// Coordinates of the nodes, m, from the inside; two at a contact.
    pub position: Array1<f64>,
    /// Heat capacities C, J/K.
    pub capacity: Array1<f64>,
    /// Conductances K of the wall alone, W/K: symmetric, rows sum to zero, nothing positive off the diagonal.
    pub conductance: Array2<f64>,
    /// Start temperatures, K.
    pub start: Array1<f64>,
    /// Film conductances from the inner and outer port (first and last node) to their surroundings, W/K; zero where
    /// there is no film. Add them to the diagonal of K and, times the surrounding temperature, to b.
    pub film: [f64; 2],
}

impl Problem {
    /// The matrices on a mesh with these numbers of equal cells in the layers.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`](crate::ErrorKind::Inconsistent) for another number of entries than layers or an
    /// entry of zero.
    pub fn matrices(&self, cells_per_layer: &[usize]) -> Result<Matrices, Error> {
        self.check_cells(cells_per_layer)?;
        let (network, patch, places) = self.network(cells_per_layer, super::wall_patch::RELINEARISE)?;
        let piece = &network.patches[places.patch.0];
        let position = Array1::from(patch.axis().position.clone());
        let n = position.len();
        let at = |v: &[f64]| (0..n).map(|i| v[patch.local(i)]).collect::<Array1<f64>>();
        let start = at(&piece.start);
        let mut conductance = Array2::zeros((n, n));
        for cell in 0..n - 1 {
            let g = patch.conductance(cell, start[cell], start[cell + 1]);
            conductance[(cell, cell)] += g;
            conductance[(cell + 1, cell + 1)] += g;
            conductance[(cell, cell + 1)] -= g;
            conductance[(cell + 1, cell)] -= g;
        }
        let area = |end: usize| {
            let inner = self.wall().inner_coordinate();
            self.wall().area_at(if end == 0 { inner } else { inner + self.wall().thickness().si() })
        };
        let film = std::array::from_fn(|end| match self.boundary(end) {
            Boundary::Film { coefficient, .. } => coefficient.si() * area(end),
            Boundary::Body(body) => body.film().map_or(0.0, |h| h.si() * area(end)),
            _ => 0.0,
        });
        Ok(Matrices { capacity: at(&piece.capacity), position, conductance, start, film })
    }
}
