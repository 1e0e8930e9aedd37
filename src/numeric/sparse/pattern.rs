//! Where a symmetric matrix has entries: the strictly lower triangle, column by column.

use crate::numeric::counting_sort::sort_by_number;

/// Positions of the entries off the diagonal of a symmetric matrix. Values live outside, in the order of the pattern, so
/// that one pattern serves many matrices; the diagonal is a vector of its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Pattern {
    /// First entry of each column, and the end of the last.
    start: Vec<usize>,
    /// Row of each entry, below the diagonal, rising in a column.
    row: Vec<u32>,
}

impl Pattern {
    /// The pattern of `n` unknowns of which these pairs are linked, in any order, and the entry that each pair became:
    /// pairs that name the same unknowns share one. `None` if a pair names an unknown twice or one that is not there, or
    /// if there are too many unknowns to number.
    pub(crate) fn new(n: usize, pairs: &[(usize, usize)]) -> Option<(Self, Vec<usize>)> {
        if u32::try_from(n).is_err() || pairs.iter().any(|(a, b)| a == b || *a >= n || *b >= n) {
            return None;
        }
        let column = |pair: &usize| pairs[*pair].0.min(pairs[*pair].1);
        let row = |pair: &usize| pairs[*pair].0.max(pairs[*pair].1);
        let mut sorted: Vec<usize> = (0..pairs.len()).collect();
        if !sorted.is_sorted_by_key(|pair| (column(pair), row(pair))) {
            // By row, then stably by column.
            sorted = sort_by_number(n, &sort_by_number(n, &sorted, row), column);
        }
        let mut pattern = Pattern { start: vec![0; n + 1], row: Vec::with_capacity(pairs.len()) };
        let mut entry_of = vec![0; pairs.len()];
        let mut previous = None;
        for pair in sorted {
            let here = (column(&pair), row(&pair));
            if previous != Some(here) {
                pattern.row.push(here.1 as u32);
                pattern.start[here.0 + 1] = pattern.row.len();
                previous = Some(here);
            }
            entry_of[pair] = pattern.row.len() - 1;
        }
        for j in 0..n {
            pattern.start[j + 1] = pattern.start[j + 1].max(pattern.start[j]);
        }
        Some((pattern, entry_of))
    }

    /// Number of unknowns.
    pub(crate) fn len(&self) -> usize {
        self.start.len() - 1
    }

    /// Number of entries below the diagonal.
    pub(crate) fn entries(&self) -> usize {
        self.row.len()
    }

    /// Every entry as (column, row), in order.
    pub(crate) fn iter(&self) -> impl Iterator<Item = (usize, usize)> {
        (0..self.len()).flat_map(|j| self.row[self.start[j]..self.start[j + 1]].iter().map(move |i| (j, *i as usize)))
    }

    /// First entry and rows of a column.
    pub(crate) fn column(&self, j: usize) -> (usize, &[u32]) {
        (self.start[j], &self.row[self.start[j]..self.start[j + 1]])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pairs_in_any_order_become_columns_and_repeated_ones_share_an_entry() {
        let (pattern, entry_of) = Pattern::new(5, &[(3, 1), (0, 2), (1, 3), (4, 3), (1, 0)]).unwrap();
        assert_eq!(pattern.iter().collect::<Vec<_>>(), [(0, 1), (0, 2), (1, 3), (3, 4)]);
        assert_eq!(entry_of, [2, 1, 2, 3, 0]);
        assert_eq!(pattern.column(2), (3, &[][..]));
        assert_eq!((pattern.len(), pattern.entries()), (5, 4));
    }

    #[test]
    fn impossible_pairs_are_refused() {
        assert!(Pattern::new(3, &[(1, 1)]).is_none());
        assert!(Pattern::new(3, &[(1, 3)]).is_none());
        assert!(Pattern::new(0, &[]).is_some());
    }
}
