//! Symmetric positive definite tridiagonal systems in linear time (LDLᵀ without pivoting).

/// The factor of a symmetric positive definite tridiagonal matrix, eliminated from both ends towards the middle: two
/// independent recurrences run side by side, which halves the time that each waits for its own last result.
#[derive(Debug, Clone, Default)]
pub(crate) struct Factor {
    /// Reciprocal pivots.
    inverse_pivot: Vec<f64>,
    /// Multipliers: entry i couples i and i + 1. Before the middle it takes i out of i + 1, after it i + 1 out of i.
    multiplier: Vec<f64>,
}

impl Factor {
    /// Factors the matrix with the given diagonal and sub-diagonal (`off(i)` couples i and i + 1), in the storage of what
    /// was here. `false` if a pivot is not positive (the matrix is not positive definite).
    pub(crate) fn renew(&mut self, diagonal: &[f64], off: impl Fn(usize) -> f64) -> bool {
        let n = diagonal.len();
        self.inverse_pivot.clear();
        self.inverse_pivot.resize(n, 0.0);
        self.multiplier.clear();
        self.multiplier.resize(n.saturating_sub(1), 0.0);
        if n == 0 {
            return true;
        }
        let middle = n / 2;
        let (inverse, multiplier) = (&mut self.inverse_pivot[..n], &mut self.multiplier[..n - 1]);
        let mut positive = true;
        let mut invert = |pivot: f64| {
            positive &= pivot > 0.0 && pivot.is_finite();
            1.0 / pivot
        };
        let (mut up, mut down) = (diagonal[0], diagonal[n - 1]);
        // What the last unknown below takes off the middle pivot.
        let mut from_below = 0.0;
        // The upper part has `middle` unknowns above the middle one, the lower part as many or one fewer.
        for k in 0..middle {
            let o = off(k);
            let i = invert(up);
            let m = o * i;
            inverse[k] = i;
            multiplier[k] = m;
            up = diagonal[k + 1] - m * o;
            let l = n - 1 - k;
            if l > middle {
                let o = off(l - 1);
                let i = invert(down);
                let m = o * i;
                inverse[l] = i;
                multiplier[l - 1] = m;
                from_below = m * o;
                down = diagonal[l - 1] - from_below;
            }
        }
        inverse[middle] = invert(up - from_below);
        positive
    }

    /// Storage, bytes.
    pub(crate) fn bytes(&self) -> usize {
        size_of_val(&*self.inverse_pivot) + size_of_val(&*self.multiplier)
    }

    /// Solves in place.
    pub(crate) fn solve(&self, x: &mut [f64]) {
        let n = self.inverse_pivot.len();
        if n == 0 {
            return;
        }
        let middle = n / 2;
        let (x, inverse, m) = (&mut x[..n], &self.inverse_pivot[..n], &self.multiplier[..n - 1]);
        let (upper, rest) = x.split_at_mut(middle);
        let (centre, lower) = rest.split_at_mut(1);
        let below = lower.len();
        let (m_upper, m_lower) = m.split_at(middle);
        let (i_upper, i_lower) = (&inverse[..middle], &inverse[middle + 1..]);
        // `lower` is walked from its far end; it is as long as `upper` or one shorter.
        let (mut down, mut up) = (0.0, 0.0);
        let mut before = (0.0, 0.0);
        for k in 0..below {
            let l = below - 1 - k;
            down = upper[k] - before.0 * down;
            up = lower[l] - before.1 * up;
            upper[k] = down;
            lower[l] = up;
            before = (m_upper[k], m_lower[l]);
        }
        if middle > below {
            down = upper[below] - before.0 * down;
            upper[below] = down;
            before.0 = m_upper[below];
        }
        let mut next = (centre[0] - before.0 * down - before.1 * up) * inverse[middle];
        centre[0] = next;
        let mut after = next;
        if middle > below {
            next = upper[below] * i_upper[below] - m_upper[below] * next;
            upper[below] = next;
        }
        for l in 0..below {
            let k = below - 1 - l;
            next = upper[k] * i_upper[k] - m_upper[k] * next;
            after = lower[l] * i_lower[l] - m_lower[l] * after;
            upper[k] = next;
            lower[l] = after;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{DMatrix, DVector};

    fn factor(diagonal: &[f64], off: &[f64]) -> Option<Factor> {
        let mut factor = Factor::default();
        factor.renew(diagonal, |i| off[i]).then_some(factor)
    }

    #[test]
    fn agrees_with_dense_lu_of_a_general_library() {
        let (d, e) = ([4.0, 5.0, 3.5, 9.0, 2.0, 3.0, 6.0], [-1.0, -2.0, -0.5, 1.25, 0.75, -1.5]);
        let b = [1.0, -2.0, 3.0, 0.5, 7.0, -4.0, 2.5];
        // Of every small size: the middle lies differently in odd and even ones.
        for n in 1..=7 {
            let dense = DMatrix::from_fn(n, n, |i, j| match i.abs_diff(j) {
                0 => d[i],
                1 => e[i.min(j)],
                _ => 0.0,
            });
            let expected = dense.lu().solve(&DVector::from_row_slice(&b[..n])).unwrap();
            let mut x = b;
            factor(&d[..n], &e[..n - 1]).unwrap().solve(&mut x[..n]);
            for i in 0..n {
                assert!((x[i] - expected[i]).abs() < 1e-14, "{i} of {n}: {} {}", x[i], expected[i]);
            }
        }
    }

    #[test]
    fn refuses_what_is_not_positive_definite() {
        assert!(factor(&[1.0, 1.0], &[-2.0]).is_none());
        // In the upper part, in the middle and in the lower part.
        for bad in 0..5 {
            let mut d = [2.0; 5];
            d[bad] = 0.4;
            assert!(factor(&d, &[-1.0; 4]).is_none(), "{bad}");
        }
        assert!(factor(&[f64::NAN], &[]).is_none());
    }

    #[test]
    fn empty_system_is_solved() {
        factor(&[], &[]).unwrap().solve(&mut []);
    }
}
