//! The dense work of a front: its own columns are eliminated from a symmetric matrix, and what is left is handed on.
//!
//! The factor of a front is kept in strips of [`ROWS`] rows, column after column: elimination and both substitutions then
//! read it from one end to the other, several rows at a time.

/// Rows of a strip.
pub(super) const ROWS: usize = 8;
/// Columns of a tile: what of a strip is worked on at a time.
const TILE: usize = 4;

/// One column of a strip.
pub(super) type Strip = [f64; ROWS];

/// Columns of the strip that begins at row `top` of a front with `width` columns of its own.
fn strip_columns(top: usize, width: usize) -> usize {
    (top + ROWS).min(width)
}

/// Columns of all strips of a front of `size` rows and `width` own columns.
pub(super) fn strips(size: usize, width: usize) -> usize {
    (0..size).step_by(ROWS).map(|top| strip_columns(top, width)).sum()
}

/// Eliminates the first `width` columns of the symmetric matrix `matrix` (`size` by `size`, lower triangle, by columns)
/// into `factor`, and leaves the rest of the matrix less what that takes off it in its place. The diagonal of the factor
/// is kept as reciprocals. `false` if a pivot is not positive.
pub(super) fn eliminate(matrix: &mut [f64], size: usize, width: usize, factor: &mut [Strip]) -> bool {
    // Strips above the one at hand, and where each begins.
    let first_strip = |top: usize| strips(top, width);
    for left in (0..size).step_by(ROWS) {
        // The strip of rows whose columns are now worked on.
        let done = left.min(width);
        let below = &mut factor[first_strip(left)..];
        let own_columns = strip_columns(left, width);
        let (own, rest) = below.split_at_mut(own_columns);
        let pivots = own_columns - done;
        let mut tile = [[0.0; ROWS]; ROWS];
        load(matrix, size, left, left, &mut tile);
        let (finished, open) = own.split_at_mut(done);
        subtract_product(finished, finished, &mut tile);
        if !pivot_block(&mut tile, pivots) {
            return false;
        }
        open.copy_from_slice(&tile[..pivots]);
        if pivots < ROWS {
            store(matrix, size, left, left, &tile, pivots);
        }
        let mut rest = rest;
        let mut top = left + ROWS;
        while top < size {
            let (strip, others) = rest.split_at_mut(strip_columns(top, width));
            rest = others;
            load(matrix, size, top, left, &mut tile);
            subtract_product(&strip[..done], finished, &mut tile);
            solve_block(&mut tile, open);
            strip[done..own_columns].copy_from_slice(&tile[..pivots]);
            if pivots < ROWS {
                store(matrix, size, top, left, &tile, pivots);
            }
            top += ROWS;
        }
    }
    true
}

/// Fills a tile from the matrix, columns from `left`, rows from `top`; zeros beyond its end.
fn load(matrix: &[f64], size: usize, top: usize, left: usize, tile: &mut [Strip; ROWS]) {
    let rows = ROWS.min(size - top);
    for (c, column) in tile.iter_mut().enumerate() {
        *column = [0.0; ROWS];
        if left + c < size {
            let at = (left + c) * size + top;
            column[..rows].copy_from_slice(&matrix[at..at + rows]);
        }
    }
}

/// Puts the columns from `first` of a tile into the matrix.
fn store(matrix: &mut [f64], size: usize, top: usize, left: usize, tile: &[Strip; ROWS], first: usize) {
    let rows = ROWS.min(size - top);
    for (c, column) in tile.iter().enumerate().skip(first).take_while(|(c, _)| left + c < size) {
        let at = (left + c) * size + top;
        matrix[at..at + rows].copy_from_slice(&column[..rows]);
    }
}

/// Subtracts from a tile (by columns) the product of the strip of its rows and that of its columns.
fn subtract_product(rows: &[Strip], columns: &[Strip], tile: &mut [Strip; ROWS]) {
    for half in 0..ROWS / TILE {
        for part in 0..ROWS / TILE {
            let mut sum = [[0.0; TILE]; TILE];
            for (a, b) in rows.iter().zip(columns) {
                for (c, sum) in sum.iter_mut().enumerate() {
                    for (r, sum) in sum.iter_mut().enumerate() {
                        *sum += a[part * TILE + r] * b[half * TILE + c];
                    }
                }
            }
            for (c, sum) in sum.iter().enumerate() {
                for (r, sum) in sum.iter().enumerate() {
                    tile[half * TILE + c][part * TILE + r] -= sum;
                }
            }
        }
    }
}

/// Factors the first `pivots` columns of a block on the diagonal and takes their products off the others.
fn pivot_block(tile: &mut [Strip; ROWS], pivots: usize) -> bool {
    for k in 0..pivots {
        let pivot = tile[k][k];
        // Written so that a NaN fails.
        if !(pivot > 0.0 && pivot.is_finite()) {
            return false;
        }
        let inverse = 1.0 / pivot.sqrt();
        tile[k][..k].fill(0.0);
        tile[k][k + 1..].iter_mut().for_each(|v| *v *= inverse);
        tile[k][k] = inverse;
        let column = tile[k];
        for c in k + 1..ROWS {
            for r in c..ROWS {
                tile[c][r] -= column[r] * column[c];
            }
        }
    }
    true
}

/// Divides a tile by the block on the diagonal of its columns, and takes the products off the columns that stay.
fn solve_block(tile: &mut [Strip; ROWS], diagonal: &[Strip]) {
    for (k, pivot) in diagonal.iter().enumerate() {
        let column = tile[k].map(|v| v * pivot[k]);
        tile[k] = column;
        for c in k + 1..ROWS {
            for (t, v) in tile[c].iter_mut().zip(&column) {
                *t -= v * pivot[c];
            }
        }
    }
}

/// Forward substitution in a front: `x` holds the right-hand side of its own columns and, behind it, room for the rows
/// below, both together a multiple of [`ROWS`] long. The solution replaces the former; what it takes off the rows below
/// is added to the latter.
pub(super) fn forward(factor: &[Strip], width: usize, x: &mut [f64]) {
    let mut rest = factor;
    for top in (0..x.len()).step_by(ROWS) {
        let (strip, others) = rest.split_at(strip_columns(top, width));
        rest = others;
        let done = top.min(width);
        let (before, here) = x.split_at_mut(top);
        let (finished, open) = strip.split_at(done);
        let mut even = [0.0; ROWS];
        let mut odd = [0.0; ROWS];
        let (pairs, last) = finished.as_chunks::<2>();
        let (x_pairs, x_last) = before[..done].as_chunks::<2>();
        for ([a, b], [u, v]) in pairs.iter().zip(x_pairs) {
            for r in 0..ROWS {
                even[r] += a[r] * u;
                odd[r] += b[r] * v;
            }
        }
        for (a, u) in last.iter().zip(x_last) {
            for r in 0..ROWS {
                even[r] += a[r] * u;
            }
        }
        for r in 0..ROWS {
            here[r] -= even[r] + odd[r];
        }
        for (k, column) in open.iter().enumerate() {
            let v = here[k] * column[k];
            here[k] = v;
            for r in k + 1..ROWS {
                here[r] -= column[r] * v;
            }
        }
    }
}

/// Backward substitution in a front: `x` holds the right-hand side of its own columns, which the solution replaces, and
/// behind it the solution in the rows below; both together a multiple of [`ROWS`] long, with zeros at the end.
pub(super) fn backward(factor: &[Strip], width: usize, x: &mut [f64]) {
    let mut rest = factor;
    for top in (0..x.len()).step_by(ROWS).rev() {
        let (others, strip) = rest.split_at(rest.len() - strip_columns(top, width));
        rest = others;
        let done = top.min(width);
        let (before, here) = x.split_at_mut(top);
        let (finished, open) = strip.split_at(done);
        for (k, column) in open.iter().enumerate().rev() {
            let mut sum = here[k];
            for r in k + 1..ROWS {
                sum -= column[r] * here[r];
            }
            here[k] = sum * column[k];
        }
        let mut known = [0.0; ROWS];
        known.copy_from_slice(&here[..ROWS]);
        for (a, x) in finished.iter().zip(&mut before[..done]) {
            let mut halves = [0.0; ROWS / 2];
            for r in 0..ROWS / 2 {
                halves[r] = a[r] * known[r] + a[r + ROWS / 2] * known[r + ROWS / 2];
            }
            *x -= (halves[0] + halves[2]) + (halves[1] + halves[3]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{DMatrix, DVector};

    /// A positive definite matrix without any structure.
    fn some(size: usize) -> DMatrix<f64> {
        let root = DMatrix::from_fn(size, size, |i, j| ((7 * i + 3 * j + i * j) % 11) as f64 - 4.0);
        &root * root.transpose() + DMatrix::identity(size, size) * 5.0
    }

    #[test]
    fn a_front_is_what_a_general_library_makes_of_it() {
        for (size, width) in [(1, 1), (5, 3), (8, 8), (16, 9), (23, 8), (30, 16), (37, 21), (20, 20)] {
            let matrix = some(size);
            let mut work: Vec<f64> = matrix.as_slice().to_vec();
            let mut factor = vec![[0.0; ROWS]; strips(size, width)];
            assert!(eliminate(&mut work, size, width, &mut factor));

            let own = matrix.view((0, 0), (width, width)).into_owned();
            let below = matrix.view((width, 0), (size - width, width)).into_owned();
            let left = matrix.view((width, width), (size - width, size - width)).into_owned();
            let inverse = own.clone().try_inverse().unwrap();
            let rest = left - &below * &inverse * below.transpose();
            for c in width..size {
                for r in c..size {
                    let exact = rest[(r - width, c - width)];
                    assert!((work[c * size + r] - exact).abs() < 1e-9 * matrix.amax(), "{size} {width} {r} {c}");
                }
            }
            // Substitutions with rows below at given values.
            let padded = size.next_multiple_of(ROWS);
            let rhs = DVector::from_fn(width, |i, _| i as f64 - 2.5);
            let mut x = vec![0.0; padded];
            x[..width].copy_from_slice(rhs.as_slice());
            forward(&factor, width, &mut x);
            let taken = &below * &inverse * &rhs;
            for r in width..size {
                assert!((x[r] + taken[r - width]).abs() < 1e-9 * (1.0 + taken.amax()), "{size} {width} {r}");
            }
            let given = DVector::from_fn(size - width, |i, _| 0.3 * i as f64 + 1.0);
            x[width..].fill(0.0);
            x[width..size].copy_from_slice(given.as_slice());
            backward(&factor, width, &mut x);
            let exact = &inverse * (&rhs - below.transpose() * given);
            for k in 0..width {
                assert!((x[k] - exact[k]).abs() < 1e-9 * (1.0 + exact.amax()), "{size} {width} {k}");
            }
        }
    }

    #[test]
    fn an_indefinite_front_is_refused() {
        let mut factor = [[0.0; ROWS]; 2];
        assert!(!eliminate(&mut [1.0, 2.0, 2.0, 1.0], 2, 2, &mut factor));
        assert!(!eliminate(&mut [f64::NAN, 0.0, 0.0, 1.0], 2, 2, &mut factor));
        assert!(!eliminate(&mut [f64::INFINITY, 0.0, 0.0, 1.0], 2, 2, &mut factor));
    }
}
