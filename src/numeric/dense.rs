//! Small dense systems solved in place, without allocation: the hubs and ports of a network, some ten to thirty
//! unknowns, factored hundreds of times in a march. (The general-purpose crate allocates at every factorisation,
//! which costs more than the arithmetic at this size; it is the reference in the tests.)

/// LU factors with partial pivoting, row-major, reusable storage.
#[derive(Debug, Clone, Default)]
pub(crate) struct Lu {
    n: usize,
    a: Vec<f64>,
    pivot: Vec<usize>,
}

impl Lu {
    /// A zero matrix of size `n` to be filled through [`Lu::add`] and then factored.
    pub(crate) fn clear(&mut self, n: usize) {
        self.n = n;
        self.a.clear();
        self.a.resize(n * n, 0.0);
        self.pivot.clear();
    }

    /// Whether what was filled in last is factored.
    pub(crate) fn is_factored(&self) -> bool {
        self.pivot.len() == self.n
    }

    /// Adds to the entry (row, column); only before [`Lu::factor`].
    pub(crate) fn add(&mut self, row: usize, column: usize, value: f64) {
        self.a[row * self.n + column] += value;
    }

    /// Factors in place; `false` if the matrix is singular to working precision.
    pub(crate) fn factor(&mut self) -> bool {
        let n = self.n;
        self.pivot.clear();
        for k in 0..n {
            let mut best = k;
            for i in k + 1..n {
                if self.a[i * n + k].abs() > self.a[best * n + k].abs() {
                    best = i;
                }
            }
            let largest = self.a[best * n + k];
            if largest == 0.0 || !largest.is_finite() {
                return false;
            }
            self.pivot.push(best);
            if best != k {
                for j in 0..n {
                    self.a.swap(k * n + j, best * n + j);
                }
            }
            let inverse = 1.0 / self.a[k * n + k];
            for i in k + 1..n {
                let factor = self.a[i * n + k] * inverse;
                if factor == 0.0 {
                    continue;
                }
                self.a[i * n + k] = factor;
                let (upper, lower) = self.a.split_at_mut(i * n);
                let (source, target) = (&upper[k * n + k + 1..k * n + n], &mut lower[k + 1..n]);
                for (t, s) in target.iter_mut().zip(source) {
                    *t -= factor * s;
                }
            }
        }
        true
    }

    /// Solves in place with the factors.
    pub(crate) fn solve(&self, x: &mut [f64]) {
        let n = self.n;
        for k in 0..n {
            x.swap(k, self.pivot[k]);
        }
        for i in 1..n {
            let mut sum = x[i];
            for (a, v) in self.a[i * n..i * n + i].iter().zip(&x[..i]) {
                sum -= a * v;
            }
            x[i] = sum;
        }
        for i in (0..n).rev() {
            let mut sum = x[i];
            for (a, v) in self.a[i * n + i + 1..i * n + n].iter().zip(&x[i + 1..n]) {
                sum -= a * v;
            }
            x[i] = sum / self.a[i * n + i];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{DMatrix, DVector};

    #[test]
    fn agrees_with_the_general_library_on_a_matrix_that_needs_pivoting() {
        let rows = [[0.0, 2.0, 1.0, -1.0], [1.0, 1e-9, 3.0, 0.0], [4.0, -2.0, 0.5, 7.0], [0.0, 0.0, 5.0, 1.0]];
        let b = [1.0, 2.0, 3.0, 4.0];
        let expected = DMatrix::from_fn(4, 4, |i, j| rows[i][j]).lu().solve(&DVector::from_row_slice(&b)).unwrap();
        let mut lu = Lu::default();
        lu.clear(4);
        for (i, row) in rows.iter().enumerate() {
            for (j, v) in row.iter().enumerate() {
                lu.add(i, j, *v);
            }
        }
        assert!(lu.factor());
        let mut x = b;
        lu.solve(&mut x);
        for i in 0..4 {
            assert!((x[i] - expected[i]).abs() < 1e-12 * expected.amax());
        }
    }

    #[test]
    fn a_singular_matrix_is_refused() {
        let mut lu = Lu::default();
        lu.clear(2);
        lu.add(0, 0, 1.0);
        lu.add(0, 1, 2.0);
        lu.add(1, 0, 2.0);
        lu.add(1, 1, 4.0);
        assert!(!lu.factor());
    }
}
