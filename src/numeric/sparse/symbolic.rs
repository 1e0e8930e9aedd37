//! What the factors of all matrices of one pattern share: the order of elimination, and the rows that each front meets.

use std::ops::Range;

use super::dissection::dissect;
use super::front::strips;
use super::pattern::Pattern;
use crate::numeric::counting_sort::sort_by_number;

/// The analysis of a pattern, made once; every factor of a matrix of that pattern needs it.
#[derive(Debug, Clone)]
pub(crate) struct Symbolic {
    /// Unknowns of the caller in the order of elimination.
    pub(super) order: Vec<u32>,
    /// Fronts, children before parents.
    pub(super) fronts: Vec<Front>,
    /// Rows below the own columns of each front, rising, by position in the order.
    pub(super) rows: Vec<u32>,
    /// Place of each of these rows in the front of the parent.
    pub(super) in_parent: Vec<u32>,
    /// Entries of the matrix by front.
    pub(super) entries: Vec<Entry>,
    /// Rows and columns of the largest front.
    pub(super) largest: usize,
    /// Most numbers that wait for their parents at one time.
    pub(super) waiting: usize,
    /// Strips of [`ROWS`](super::front::ROWS) numbers in a factor.
    pub(super) strips: usize,
    /// Entries of the pattern.
    pub(super) pattern_entries: usize,
}

/// The unknowns of a block and everything that their elimination touches.
#[derive(Debug, Clone)]
pub(super) struct Front {
    /// The block's own unknowns, by position in the order.
    pub(super) columns: Range<usize>,
    /// Its rows below, see [`Symbolic::rows`].
    pub(super) rows: Range<usize>,
    /// Its entries, see [`Symbolic::entries`].
    pub(super) entries: Range<usize>,
    /// Its first strip in a factor.
    pub(super) strip: usize,
    /// How many of the fronts before it hand their rest to this one.
    pub(super) children: usize,
}

/// An entry of the matrix below the diagonal and where it belongs in its front.
#[derive(Debug, Clone, Copy)]
pub(super) struct Entry {
    /// Position in the pattern.
    pub(super) source: u32,
    /// Row of the front.
    pub(super) row: u32,
    /// Column of the front.
    pub(super) column: u32,
}

impl Symbolic {
    /// Analyses a pattern whose unknowns lie on these lines of a tensor grid (numbered along both axes; several unknowns
    /// may share a place). `None` if there are not as many places as unknowns or if a link reaches beyond the next line.
    pub(crate) fn analyse(pattern: &Pattern, place: &[[u32; 2]]) -> Option<Self> {
        let n = pattern.len();
        if place.len() != n || u32::try_from(pattern.entries()).is_err() {
            return None;
        }
        let dissection = dissect(place, pattern.iter())?;
        let mut position = vec![0_u32; n];
        for (at, node) in dissection.order.iter().enumerate() {
            position[*node as usize] = at as u32;
        }
        // The lower triangle in the new order, by columns.
        let link = |(source, (a, b)): (u32, (usize, usize))| {
            let (a, b) = (position[a], position[b]);
            Entry { source, column: a.min(b), row: a.max(b) }
        };
        let links: Vec<Entry> = (0..).zip(pattern.iter()).map(link).collect();
        // Counted by the order of elimination until a front knows its own places.
        let mut entries = sort_by_number(n, &links, |entry| entry.column as usize);
        drop(links);
        let mut child_count = vec![0_usize; dissection.blocks.len()];
        for parent in dissection.blocks.iter().filter_map(|block| block.parent) {
            child_count[parent] += 1;
        }

        let mut symbolic = Symbolic {
            order: dissection.order,
            fronts: Vec::with_capacity(dissection.blocks.len()),
            rows: Vec::new(),
            in_parent: Vec::new(),
            entries: Vec::new(),
            largest: 0,
            waiting: 0,
            strips: 0,
            pattern_entries: pattern.entries(),
        };
        // Position of a row in the front at hand; the front that saw it last.
        let mut place_of = vec![0_u32; n];
        let mut seen_by = vec![usize::MAX; n];
        // Fronts whose parents are to come: those of the next parent are the last.
        let mut open: Vec<usize> = Vec::new();
        let mut next_entry = 0;
        let mut waiting = 0;
        for (b, block) in dissection.blocks.into_iter().enumerate() {
            let columns = block.columns;
            let first = symbolic.rows.len();
            let mut see = |row: u32, rows: &mut Vec<u32>| {
                if row as usize >= columns.end && seen_by[row as usize] != b {
                    seen_by[row as usize] = b;
                    rows.push(row);
                }
            };
            let own_entries = entries[next_entry..].iter().take_while(|e| (e.column as usize) < columns.end);
            let last_entry = next_entry + own_entries.map(|entry| see(entry.row, &mut symbolic.rows)).count();
            let own_children = open.split_off(open.len().checked_sub(child_count[b])?);
            for child in &own_children {
                let range = symbolic.fronts[*child].rows.clone();
                for k in range {
                    let row = symbolic.rows[k];
                    if (row as usize) < columns.start {
                        return None;
                    }
                    see(row, &mut symbolic.rows);
                }
            }
            symbolic.rows[first..].sort_unstable();
            let rows = first..symbolic.rows.len();
            symbolic.in_parent.resize(rows.end, 0);
            for (k, column) in columns.clone().enumerate() {
                place_of[column] = k as u32;
            }
            let width = columns.len();
            for k in rows.clone() {
                place_of[symbolic.rows[k] as usize] = (width + k - first) as u32;
            }
            for child in &own_children {
                for k in symbolic.fronts[*child].rows.clone() {
                    symbolic.in_parent[k] = place_of[symbolic.rows[k] as usize];
                }
            }
            for entry in &mut entries[next_entry..last_entry] {
                entry.row = place_of[entry.row as usize];
                entry.column = place_of[entry.column as usize];
            }
            if block.parent.is_some() {
                open.push(b);
            } else if !rows.is_empty() {
                return None;
            }
            let size = width + rows.len();
            // The rest of a front joins the stack when those of its children have left it.
            for child in &own_children {
                waiting -= symbolic.fronts[*child].rows.len().pow(2);
            }
            waiting += rows.len().pow(2);
            symbolic.waiting = symbolic.waiting.max(waiting);
            symbolic.largest = symbolic.largest.max(size);
            let strip = symbolic.strips;
            symbolic.strips += strips(size, width);
            symbolic.fronts.push(Front {
                columns,
                rows,
                entries: next_entry..last_entry,
                strip,
                children: own_children.len(),
            });
            next_entry = last_entry;
        }
        symbolic.entries = entries;
        Some(symbolic)
    }

    /// Number of unknowns.
    pub(crate) fn len(&self) -> usize {
        self.order.len()
    }

    /// Storage of one factor, bytes.
    #[cfg(test)]
    pub(crate) fn factor_bytes(&self) -> usize {
        self.strips * super::front::ROWS * size_of::<f64>()
    }

    /// Multiplications of one factorisation.
    #[cfg(test)]
    pub(crate) fn multiplications(&self) -> f64 {
        let of_front = |front: &Front| {
            let size = front.columns.len() + front.rows.len();
            (0..front.columns.len()).map(|k| ((size - k) as f64).powi(2) / 2.0).sum::<f64>()
        };
        self.fronts.iter().map(of_front).sum()
    }
}
