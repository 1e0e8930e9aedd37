//! The numbers: a Cholesky factor front by front, and substitutions with it.

use std::sync::Arc;

use super::front::{ROWS, Strip, backward, eliminate, forward, strips};
use super::symbolic::Symbolic;

/// The Cholesky factor of a sparse symmetric positive definite matrix.
#[derive(Debug, Clone)]
pub(crate) struct SparseFactor {
    symbolic: Arc<Symbolic>,
    factor: Vec<Strip>,
    /// Unknowns in the order of elimination, and one front of them: storage for substitutions.
    ordered: Vec<f64>,
    front: Vec<f64>,
}

impl SparseFactor {
    /// Room for a factor, with nothing in it: it solves nothing before [`SparseFactor::renew`] succeeded.
    pub(crate) fn new(symbolic: Arc<Symbolic>) -> Self {
        SparseFactor {
            factor: vec![[0.0; ROWS]; symbolic.strips],
            ordered: vec![0.0; symbolic.len()],
            front: vec![0.0; symbolic.largest.next_multiple_of(ROWS)],
            symbolic,
        }
    }

    /// Factors the matrix with this diagonal and, in the order of the pattern, these entries below it (times `scale`).
    /// `false` if it is not positive definite to working precision, not finite, or not of the analysed pattern; what the
    /// factor held before is lost then.
    pub(crate) fn renew(&mut self, diagonal: &[f64], below: &[f64], scale: f64) -> bool {
        let symbolic = &*self.symbolic;
        if diagonal.len() != symbolic.len() || below.len() != symbolic.pattern_entries {
            return false;
        }
        let mut matrix = vec![0.0; symbolic.largest.pow(2)];
        let mut stack: Vec<f64> = Vec::with_capacity(symbolic.waiting);
        // Sizes of what waits on the stack, and where its rows are listed.
        let mut waiting: Vec<usize> = Vec::new();
        for (number, front) in symbolic.fronts.iter().enumerate() {
            let width = front.columns.len();
            let size = width + front.rows.len();
            let matrix = &mut matrix[..size * size];
            for (k, column) in matrix.chunks_exact_mut(size.max(1)).enumerate() {
                column[k..].fill(0.0);
            }
            for (k, node) in symbolic.order[front.columns.clone()].iter().enumerate() {
                matrix[k * size + k] = diagonal[*node as usize];
            }
            for entry in &symbolic.entries[front.entries.clone()] {
                matrix[entry.column as usize * size + entry.row as usize] += scale * below[entry.source as usize];
            }
            for _ in 0..front.children {
                let Some(child) = waiting.pop() else { return false };
                let in_parent = &symbolic.in_parent[symbolic.fronts[child].rows.clone()];
                let rest = stack.len() - in_parent.len().pow(2);
                add(matrix, size, in_parent, &stack[rest..]);
                stack.truncate(rest);
            }
            let factor = &mut self.factor[front.strip..front.strip + strips(size, width)];
            if !eliminate(matrix, size, width, factor) {
                return false;
            }
            for column in matrix.chunks_exact(size).skip(width) {
                stack.extend_from_slice(&column[width..]);
            }
            waiting.push(number);
        }
        true
    }

    /// Solves in place.
    pub(crate) fn solve(&mut self, x: &mut [f64]) {
        let symbolic = &*self.symbolic;
        for (value, node) in self.ordered.iter_mut().zip(&symbolic.order) {
            *value = x[*node as usize];
        }
        for front in &symbolic.fronts {
            let width = front.columns.len();
            let size = width + front.rows.len();
            let local = &mut self.front[..size.next_multiple_of(ROWS)];
            local[..width].copy_from_slice(&self.ordered[front.columns.clone()]);
            local[width..].fill(0.0);
            forward(&self.factor[front.strip..front.strip + strips(size, width)], width, local);
            self.ordered[front.columns.clone()].copy_from_slice(&local[..width]);
            for (row, taken) in symbolic.rows[front.rows.clone()].iter().zip(&local[width..]) {
                self.ordered[*row as usize] += taken;
            }
        }
        for front in symbolic.fronts.iter().rev() {
            let width = front.columns.len();
            let size = width + front.rows.len();
            let local = &mut self.front[..size.next_multiple_of(ROWS)];
            local[..width].copy_from_slice(&self.ordered[front.columns.clone()]);
            for (known, row) in local[width..].iter_mut().zip(&symbolic.rows[front.rows.clone()]) {
                *known = self.ordered[*row as usize];
            }
            local[size..].fill(0.0);
            backward(&self.factor[front.strip..front.strip + strips(size, width)], width, local);
            self.ordered[front.columns.clone()].copy_from_slice(&local[..width]);
        }
        for (value, node) in self.ordered.iter().zip(&symbolic.order) {
            x[*node as usize] = *value;
        }
    }

    /// Whether the factor was made for this analysis.
    pub(crate) fn is_of(&self, symbolic: &Arc<Symbolic>) -> bool {
        Arc::ptr_eq(&self.symbolic, symbolic)
    }

    /// Storage, bytes.
    pub(crate) fn bytes(&self) -> usize {
        size_of_val(&*self.factor) + size_of_val(&*self.ordered) + size_of_val(&*self.front)
    }
}

/// Adds what a child left, a square by columns of which the lower triangle counts, to the front of its parent.
fn add(matrix: &mut [f64], size: usize, in_parent: &[u32], rest: &[f64]) {
    let n = in_parent.len();
    for (c, (left, column)) in in_parent.iter().zip(rest.chunks_exact(n.max(1))).enumerate() {
        let target = &mut matrix[*left as usize * size..(*left as usize + 1) * size];
        for (row, value) in in_parent[c..].iter().zip(&column[c..]) {
            target[*row as usize] += value;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::Pattern;
    use super::*;
    use nalgebra::{DMatrix, DVector};

    /// A conductance matrix with some capacity on a grid without the given nodes; links along the axes and, where both
    /// neighbours are there, along one diagonal.
    struct Grid {
        place: Vec<[u32; 2]>,
        pattern: Pattern,
        diagonal: Vec<f64>,
        below: Vec<f64>,
    }

    fn grid(wide: u32, high: u32, doubled: u32, hole: impl Fn(u32, u32) -> bool) -> Grid {
        let mut place: Vec<[u32; 2]> =
            (0..wide).flat_map(|i| (0..high).map(move |j| [i, j])).filter(|[i, j]| !hole(*i, *j)).collect();
        // Nodes on one line twice, linked to their doubles only.
        let doubles: Vec<[u32; 2]> = place.iter().copied().filter(|[i, _]| *i == doubled).collect();
        let single = place.len();
        place.extend(doubles);
        let mut pairs = Vec::new();
        for (a, p) in place.iter().enumerate() {
            for (b, q) in place.iter().enumerate().skip(a + 1) {
                let (dx, dy) = (i64::from(q[0]) - i64::from(p[0]), i64::from(q[1]) - i64::from(p[1]));
                let near = dx.abs() + dy.abs() == 1 || (dx == 1 && dy == 1);
                if if b < single { near } else { p == q } {
                    pairs.push((a, b));
                }
            }
        }
        let (pattern, entry_of) = Pattern::new(place.len(), &pairs).unwrap();
        let mut diagonal: Vec<f64> = (0..place.len()).map(|k| 0.01 * (1 + k % 5) as f64).collect();
        let mut below = vec![0.0; pattern.entries()];
        for (e, (a, b)) in pairs.iter().enumerate() {
            let g = 1.0 + ((13 * a + 7 * b) % 17) as f64;
            below[entry_of[e]] -= g;
            diagonal[*a] += g;
            diagonal[*b] += g;
        }
        Grid { place, pattern, diagonal, below }
    }

    impl Grid {
        fn dense(&self) -> DMatrix<f64> {
            let mut dense = DMatrix::from_diagonal(&DVector::from_column_slice(&self.diagonal));
            for ((j, i), v) in self.pattern.iter().zip(&self.below) {
                dense[(i, j)] += v;
                dense[(j, i)] += v;
            }
            dense
        }
    }

    #[test]
    fn grids_with_holes_and_doubled_nodes_agree_with_a_dense_solution() {
        for (wide, high, doubled) in [(1, 1, 99), (3, 4, 99), (9, 9, 4), (23, 17, 8), (40, 6, 20)] {
            let grid = grid(wide, high, doubled, |i, j| (5..8).contains(&i) && (2..6).contains(&j));
            let symbolic = Arc::new(Symbolic::analyse(&grid.pattern, &grid.place).unwrap());
            let mut factor = SparseFactor::new(symbolic);
            assert!(factor.renew(&grid.diagonal, &grid.below, 1.0));
            let b: Vec<f64> = (0..grid.place.len()).map(|k| ((31 * k) % 19) as f64 - 9.0).collect();
            let exact = grid.dense().cholesky().unwrap().solve(&DVector::from_column_slice(&b));
            let mut x = b.clone();
            factor.solve(&mut x);
            for (x, exact) in x.iter().zip(&exact) {
                assert!((x - exact).abs() < 1e-11 * exact.abs().max(1.0), "{wide} by {high}: {x}, not {exact}");
            }
            // Other values in the same storage.
            assert!(factor.renew(&grid.diagonal, &grid.below, 0.5));
            let mut halved = grid.dense();
            for (j, i) in grid.pattern.iter() {
                halved[(i, j)] *= 0.5;
                halved[(j, i)] *= 0.5;
            }
            let exact = halved.cholesky().unwrap().solve(&DVector::from_column_slice(&b));
            let mut x = b;
            factor.solve(&mut x);
            assert!(x.iter().zip(&exact).all(|(x, exact)| (x - exact).abs() < 1e-11 * exact.abs().max(1.0)));
        }
    }

    #[test]
    fn what_is_not_positive_definite_or_does_not_fit_is_refused() {
        let Grid { place, pattern, mut diagonal, below } = grid(12, 12, 99, |_, _| false);
        let symbolic = Arc::new(Symbolic::analyse(&pattern, &place).unwrap());
        let mut factor = SparseFactor::new(Arc::clone(&symbolic));
        assert!(factor.renew(&diagonal, &below, 1.0));
        assert!(!factor.renew(&diagonal[1..], &below, 1.0));
        diagonal[77] = -1.0;
        assert!(!factor.renew(&diagonal, &below, 1.0));
        diagonal[77] = f64::NAN;
        assert!(!factor.renew(&diagonal, &below, 1.0));
        assert!(Symbolic::analyse(&pattern, &place[1..]).is_none());
        // A link right across the grid fits no dissection of it.
        let (across, _) = Pattern::new(144, &[(0, 143)]).unwrap();
        assert!(Symbolic::analyse(&across, &place).is_none());
    }

    #[test]
    fn fill_grows_as_n_log_n_and_work_as_n_to_three_halves() {
        // George 1973 (MEMORY): 31/4 n log2 n entries and 829/84 n^(3/2) multiplications for nested dissection down to
        // single nodes of a square grid with nine-point links; leaves and strips add to the former.
        let mut previous = None;
        for side in [32_u32, 64, 128, 256] {
            let place: Vec<[u32; 2]> = (0..side).flat_map(|i| (0..side).map(move |j| [i, j])).collect();
            let s = side as usize;
            let at = |i: usize, j: usize| i * s + j;
            let pairs: Vec<(usize, usize)> = (0..s - 1)
                .flat_map(|i| (0..s).flat_map(move |j| [(at(i, j), at(i + 1, j)), (at(j, i), at(j, i + 1))]))
                .collect();
            let (pattern, _) = Pattern::new(s * s, &pairs).unwrap();
            let symbolic = Symbolic::analyse(&pattern, &place).unwrap();
            let n = (s * s) as f64;
            let fill = symbolic.factor_bytes() as f64 / 8.0 / (n * n.log2());
            let work = symbolic.multiplications() / n.powf(1.5);
            assert!(fill < 31.0 / 4.0, "{fill} n log2 n entries at {side}");
            assert!(work < 829.0 / 84.0, "{work} n^(3/2) multiplications at {side}");
            if let Some((before, before_work)) = previous {
                assert!(
                    fill / before < 1.1 && work / before_work < 1.2,
                    "{side}: {before} {fill} {before_work} {work}"
                );
            }
            previous = Some((fill, work));
        }
    }
}
