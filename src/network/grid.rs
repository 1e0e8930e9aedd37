//! Couplings among the interior unknowns of a patch that lie on a grid: the full form of a two-dimensional section.

use std::sync::Arc;

use crate::error::{Error, ErrorKind};
use crate::numeric::sparse::{Pattern, SparseFactor, Symbolic};

/// Conductances between neighbours on a grid. What neighbours what, and the order of elimination, is analysed once and
/// shared by all grids made from this one.
#[derive(Debug, Clone)]
pub(crate) struct Grid {
    shape: Arc<Shape>,
    /// W/K, in the order of the pattern: see [`Grid::new`].
    pub(crate) conductance: Vec<f64>,
}

#[derive(Debug)]
struct Shape {
    pattern: Pattern,
    symbolic: Arc<Symbolic>,
}

impl Grid {
    /// A grid of unknowns on these lines (numbered along both axes; doubled nodes share a place), of which these pairs are
    /// linked, without conductances as yet; and the conductance that each pair became: pairs of the same unknowns share
    /// one.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] if a pair names one unknown twice or one that is not there, or reaches beyond the next
    /// line.
    pub(crate) fn new(place: &[[u32; 2]], pairs: &[(usize, usize)]) -> Result<(Self, Vec<usize>), Error> {
        let refused = |what| Error::new(ErrorKind::Inconsistent, what);
        let (pattern, conductance_of) =
            Pattern::new(place.len(), pairs).ok_or_else(|| refused("a link joins no two nodes of the grid"))?;
        let symbolic = Symbolic::analyse(&pattern, place)
            .ok_or_else(|| refused("a link reaches beyond the next line of the grid"))?;
        let conductance = vec![0.0; pattern.entries()];
        Ok((Grid { shape: Arc::new(Shape { pattern, symbolic: Arc::new(symbolic) }), conductance }, conductance_of))
    }

    /// Number of unknowns.
    pub(crate) fn len(&self) -> usize {
        self.shape.pattern.len()
    }

    /// Storage of one factor, bytes.
    #[cfg(test)]
    pub(crate) fn factor_bytes(&self) -> usize {
        self.shape.symbolic.factor_bytes()
    }

    /// Subtracts from `out` what flows away from every unknown at the temperatures `t`, by differences.
    pub(super) fn inflow(&self, t: &[f64], out: &mut [f64]) {
        for (j, rows) in self.columns() {
            let here = t[j];
            let mut sum = 0.0;
            for (i, g) in rows {
                let q = g * (here - t[i]);
                sum += q;
                out[i] += q;
            }
            out[j] -= sum;
        }
    }

    /// Adds `tau` times the conductances of every unknown to the diagonal.
    pub(super) fn add_to_diagonal(&self, tau: f64, diagonal: &mut [f64]) {
        for (j, rows) in self.columns() {
            for (i, g) in rows {
                diagonal[i] += tau * g;
                diagonal[j] += tau * g;
            }
        }
    }

    /// Factors the matrix with this diagonal and -`tau` times the conductances off it, in the storage of an earlier
    /// factor if there is one.
    pub(super) fn factor(&self, earlier: Option<SparseFactor>, diagonal: &[f64], tau: f64) -> Option<SparseFactor> {
        let mut factor = earlier
            .filter(|f| f.is_of(&self.shape.symbolic))
            .unwrap_or_else(|| SparseFactor::new(Arc::clone(&self.shape.symbolic)));
        factor.renew(diagonal, &self.conductance, -tau).then_some(factor)
    }

    /// The linked unknowns below each one, with their conductances.
    fn columns(&self) -> impl Iterator<Item = (usize, impl Iterator<Item = (usize, f64)>)> {
        (0..self.len()).map(|j| {
            let (first, rows) = self.shape.pattern.column(j);
            let conductance = &self.conductance[first..first + rows.len()];
            (j, rows.iter().zip(conductance).map(|(i, g)| (*i as usize, *g)))
        })
    }
}
