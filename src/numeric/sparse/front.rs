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
/// into `factor`, and leaves the rest of the matrix less what that takes off it in its place. The blocks on the diagonal of
/// the factor are kept as their inverses. `false` if a pivot is not positive.
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
        invert_block(open);
    }
    true
}

/// Fills a tile from the matrix, columns from `left`, rows from `top`; zeros beyond its end.
fn load(matrix: &[f64], size: usize, top: usize, left: usize, tile: &mut [Strip; ROWS]) {
    let columns = matrix[left * size..].chunks_exact(size);
    tile.iter_mut().skip(columns.len()).for_each(|column| *column = [0.0; ROWS]);
    for (column, from) in tile.iter_mut().zip(columns) {
        match from[top..].first_chunk() {
            Some(whole) => *column = *whole,
            None => {
                *column = [0.0; ROWS];
                column[..size - top].copy_from_slice(&from[top..]);
            }
        }
    }
}

/// Puts the columns from `first` of a tile into the matrix.
fn store(matrix: &mut [f64], size: usize, top: usize, left: usize, tile: &[Strip; ROWS], first: usize) {
    let columns = matrix[left * size..].chunks_exact_mut(size);
    for (column, to) in tile.iter().zip(columns).skip(first) {
        match to[top..].first_chunk_mut() {
            Some(whole) => *whole = *column,
            None => to[top..].copy_from_slice(&column[..size - top]),
        }
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

/// Replaces the lower triangle of a block on the diagonal, which has reciprocals in its diagonal, by its inverse: the
/// substitutions then multiply, and no number waits for the one before. Rows below the triangle stay.
fn invert_block(block: &mut [Strip]) {
    let pivots = block.len();
    for k in 0..pivots {
        let mut column = block[k];
        for r in k + 1..pivots {
            // What the rows between have found so far; their own columns are not inverted yet.
            let mut sum = block[k][r] * column[k];
            for between in k + 1..r {
                sum += block[between][r] * column[between];
            }
            column[r] = -sum * block[r][r];
        }
        block[k] = column;
    }
}

/// Forward substitution in a front: `x` holds the right-hand side of its own columns and, behind it, room for the rows
/// below, both together a multiple of [`ROWS`] long. The solution replaces the former; what it takes off the rows below
/// is added to the latter.
pub(super) fn forward(factor: &[Strip], width: usize, x: &mut [f64]) {
    let with_pivots = width.next_multiple_of(ROWS);
    let (mut rest, below) = factor.split_at(strips(with_pivots, width));
    let (own, others) = x.split_at_mut(with_pivots);
    for top in (0..with_pivots).step_by(ROWS) {
        let (strip, after) = rest.split_at(strip_columns(top, width));
        rest = after;
        let (before, here) = own.split_at_mut(top);
        let Some(here) = here.first_chunk_mut() else { return };
        let (finished, open) = strip.split_at(top);
        subtract_columns([finished], before, [here]);
        let pivots = open.len();
        let mut solved = [0.0; ROWS];
        for (column, v) in open.iter().zip(&*here) {
            for (s, a) in solved.iter_mut().zip(column) {
                *s += a * v;
            }
        }
        here[..pivots].copy_from_slice(&solved[..pivots]);
        if pivots < ROWS {
            let (solved, below) = here.split_at_mut(pivots);
            for (column, v) in open.iter().zip(solved) {
                for (x, a) in below.iter_mut().zip(&column[pivots..]) {
                    *x -= a * *v;
                }
            }
        }
    }
    let own = &own[..width];
    let (pairs, last) = others.as_chunks_mut::<ROWS>().0.as_chunks_mut::<2>();
    let (below, below_last) = below.split_at(2 * width * pairs.len());
    for (strips, [a, b]) in below.chunks_exact(2 * width.max(1)).zip(pairs) {
        let (first, second) = strips.split_at(width);
        subtract_columns([first, second], own, [a, b]);
    }
    if let [a] = last {
        subtract_columns([below_last], own, [a]);
    }
}

/// Subtracts the products of the columns of some strips with the numbers in `x` from the rows of those strips.
#[inline(always)]
fn subtract_columns<const N: usize>(strips: [&[Strip]; N], x: &[f64], rows: [&mut Strip; N]) {
    let strips = strips.map(|strip| &strip[..x.len()]);
    let mut sum = [[0.0; ROWS]; N];
    for (k, v) in x.iter().enumerate() {
        for (sum, strip) in sum.iter_mut().zip(&strips) {
            for (s, a) in sum.iter_mut().zip(&strip[k]) {
                *s += a * v;
            }
        }
    }
    for (row, sum) in rows.into_iter().zip(sum) {
        for (x, s) in row.iter_mut().zip(sum) {
            *x -= s;
        }
    }
}

/// Backward substitution in a front: `x` holds the right-hand side of its own columns, which the solution replaces, and
/// behind it the solution in the rows below; both together a multiple of [`ROWS`] long, with zeros at the end.
pub(super) fn backward(factor: &[Strip], width: usize, x: &mut [f64]) {
    // From the last number of the factor to the first: memory follows an order that it can foresee.
    let with_pivots = width.next_multiple_of(ROWS);
    let (mut rest, below) = factor.split_at(strips(with_pivots, width));
    let (own, others) = x.split_at_mut(with_pivots);
    let (pairs, last) = others.as_chunks::<ROWS>().0.as_chunks::<2>();
    let (below, below_last) = below.split_at(2 * width * pairs.len());
    if let [a] = last {
        subtract_dots([below_last], [a], &mut own[..width]);
    }
    for (strips, [a, b]) in below.chunks_exact(2 * width.max(1)).zip(pairs).rev() {
        let (first, second) = strips.split_at(width);
        subtract_dots([first, second], [a, b], &mut own[..width]);
    }
    for top in (0..with_pivots).step_by(ROWS).rev() {
        let (before, strip) = rest.split_at(rest.len() - strip_columns(top, width));
        rest = before;
        let (before, here) = own.split_at_mut(top);
        let Some(here) = here.first_chunk_mut() else { return };
        let (finished, open) = strip.split_at(top);
        let pivots = open.len();
        let mut rhs = *here;
        if pivots < ROWS {
            let mut known = *here;
            known[..pivots].fill(0.0);
            subtract_dots([open], [&known], &mut rhs[..pivots]);
            rhs[pivots..].fill(0.0);
        }
        for (column, x) in open.iter().zip(&mut *here) {
            *x = dot(column, &rhs);
        }
        subtract_dots([finished], [here], before);
    }
}

/// Product of a column of a strip with what is known in its rows.
#[inline(always)]
fn dot(column: &Strip, known: &Strip) -> f64 {
    let mut sum = [0.0; 2];
    for ([a, b], [u, v]) in column.as_chunks::<2>().0.iter().zip(known.as_chunks::<2>().0) {
        sum[0] += a * u;
        sum[1] += b * v;
    }
    sum[0] + sum[1]
}

/// Subtracts from every entry of `x` the products of its column of some strips with what is known in their rows.
#[inline(always)]
fn subtract_dots<const N: usize>(strips: [&[Strip]; N], known: [&Strip; N], x: &mut [f64]) {
    let strips = strips.map(|strip| &strip[..x.len()]);
    for (k, x) in x.iter_mut().enumerate().rev() {
        let mut sum = [0.0; 2];
        for (strip, known) in strips.iter().zip(&known) {
            for ([a, b], [u, v]) in strip[k].as_chunks::<2>().0.iter().zip(known.as_chunks::<2>().0) {
                sum[0] += a * u;
                sum[1] += b * v;
            }
        }
        *x -= sum[0] + sum[1];
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
