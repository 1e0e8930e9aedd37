//! Symmetric positive definite tridiagonal systems in linear time (LDLᵀ without pivoting).

/// The LDLᵀ factor of a symmetric positive definite tridiagonal matrix.
#[derive(Debug, Clone, Default)]
pub(crate) struct Factor {
    /// Reciprocal pivots.
    inverse_pivot: Vec<f64>,
    /// Sub-diagonal multipliers, one shorter than the pivots.
    multiplier: Vec<f64>,
}

impl Factor {
    /// Factors the matrix with the given diagonal and sub-diagonal (`off[i]` couples i and i + 1).
    /// `None` if a pivot is not positive (the matrix is not positive definite).
    pub(crate) fn new(diagonal: impl ExactSizeIterator<Item = f64>, off: &[f64]) -> Option<Self> {
        let mut factor = Factor::default();
        factor.renew(diagonal, |i| off[i]).then_some(factor)
    }

    /// The same in the storage of an earlier factor; `false` if a pivot is not positive.
    pub(crate) fn renew(&mut self, diagonal: impl ExactSizeIterator<Item = f64>, off: impl Fn(usize) -> f64) -> bool {
        self.inverse_pivot.clear();
        self.multiplier.clear();
        let mut previous_inverse = 0.0;
        for (i, d) in diagonal.enumerate() {
            let mut pivot = d;
            if i > 0 {
                let o = off(i - 1);
                let m = o * previous_inverse;
                pivot -= m * o;
                self.multiplier.push(m);
            }
            if pivot.is_nan() || pivot <= 0.0 || pivot.is_infinite() {
                return false;
            }
            previous_inverse = 1.0 / pivot;
            self.inverse_pivot.push(previous_inverse);
        }
        true
    }

    /// Solves in place.
    pub(crate) fn solve(&self, x: &mut [f64]) {
        let n = self.inverse_pivot.len();
        if n == 0 {
            return;
        }
        let x = &mut x[..n];
        let m = &self.multiplier[..n - 1];
        let mut carry = x[0];
        for i in 1..n {
            carry = x[i] - m[i - 1] * carry;
            x[i] = carry;
        }
        let mut next = x[n - 1] * self.inverse_pivot[n - 1];
        x[n - 1] = next;
        for i in (0..n - 1).rev() {
            next = x[i] * self.inverse_pivot[i] - m[i] * next;
            x[i] = next;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{DMatrix, DVector};

    #[test]
    fn agrees_with_dense_lu_of_a_general_library() {
        let (d, e) = ([4.0, 5.0, 3.5, 9.0, 2.0], [-1.0, -2.0, -0.5, 1.25]);
        let dense = DMatrix::from_fn(5, 5, |i, j| match i.abs_diff(j) {
            0 => d[i],
            1 => e[i.min(j)],
            _ => 0.0,
        });
        let b = [1.0, -2.0, 3.0, 0.5, 7.0];
        let expected = dense.lu().solve(&DVector::from_row_slice(&b)).unwrap();
        let mut x = b;
        Factor::new(d.into_iter(), &e).unwrap().solve(&mut x);
        for i in 0..5 {
            assert!((x[i] - expected[i]).abs() < 1e-14, "{i}: {} {}", x[i], expected[i]);
        }
    }

    #[test]
    fn refuses_what_is_not_positive_definite() {
        assert!(Factor::new([1.0, 1.0].into_iter(), &[-2.0]).is_none());
        assert!(Factor::new([f64::NAN].into_iter(), &[]).is_none());
    }

    #[test]
    fn empty_system_is_solved() {
        Factor::new(std::iter::empty::<f64>().collect::<Vec<_>>().into_iter(), &[]).unwrap().solve(&mut []);
    }
}
