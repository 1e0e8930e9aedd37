//! Nested dissection of a grid: a line of nodes that cuts the rest in two comes last, its two sides first, and so on.
//!
//! With this order the factor of a square grid of n unknowns holds of the order of n log n numbers and takes n^(3/2)
//! operations, which no order can better (George 1973, SIAM J. Numer. Anal. 10; MEMORY).

use std::ops::Range;

/// Regions of so few nodes are eliminated as one.
const LEAF: usize = 16;

/// Nodes that are eliminated together: a separating line, or a region too small to cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Block {
    /// Positions in the order of elimination.
    pub(super) columns: Range<usize>,
    /// The block that this one's region was cut off by, later in the list.
    pub(super) parent: Option<usize>,
}

/// An order of elimination.
#[derive(Debug, Clone)]
pub(super) struct Dissection {
    /// Nodes in the order of their elimination.
    pub(super) order: Vec<u32>,
    /// Children before parents, the last child just before its parent.
    pub(super) blocks: Vec<Block>,
}

/// Dissects nodes that lie on lines of a tensor grid, numbered along both axes. Links must not reach beyond the next line
/// in either direction. Holes are welcome, and so are several nodes at one place.
pub(super) fn dissect(place: &[[u32; 2]]) -> Dissection {
    let lines = place.iter().flatten().copied().max().map_or(0, |most| most as usize + 1);
    let mut nodes: Vec<u32> = (0..place.len() as u32).collect();
    let mut cutter = Cutter {
        place,
        order: Vec::with_capacity(place.len()),
        blocks: Vec::new(),
        open: Vec::new(),
        on_line: [vec![0; lines], vec![0; lines]],
        moved: Vec::with_capacity(place.len()),
    };
    cutter.region(&mut nodes);
    Dissection { order: cutter.order, blocks: cutter.blocks }
}

struct Cutter<'a> {
    place: &'a [[u32; 2]],
    order: Vec<u32>,
    blocks: Vec<Block>,
    /// Blocks that have no parent yet.
    open: Vec<usize>,
    /// How many nodes lie on each line, along both axes; zero outside a count.
    on_line: [Vec<u32>; 2],
    moved: Vec<u32>,
}

impl Cutter<'_> {
    fn region(&mut self, nodes: &mut [u32]) {
        let mark = self.open.len();
        let cut = if nodes.len() > LEAF { self.cut(nodes) } else { None };
        let Some((axis, line)) = cut else {
            self.block(nodes, mark);
            return;
        };
        let (before, after) = self.part(nodes, axis, line);
        let (before, rest) = nodes.split_at_mut(before);
        let (after, on) = rest.split_at_mut(after);
        self.region(before);
        self.region(after);
        // An empty line leaves two regions that do not know of one another.
        self.block(on, mark);
    }

    /// Ends a region with a block; those left open since `mark` are its children.
    fn block(&mut self, nodes: &[u32], mark: usize) {
        if nodes.is_empty() {
            return;
        }
        let number = self.blocks.len();
        for child in self.open.drain(mark..) {
            self.blocks[child].parent = Some(number);
        }
        self.open.push(number);
        let first = self.order.len();
        self.order.extend_from_slice(nodes);
        self.blocks.push(Block { columns: first..self.order.len(), parent: None });
    }

    /// The line with few nodes on it that cuts most evenly; none if every line leaves one side empty.
    fn cut(&mut self, nodes: &[u32]) -> Option<(usize, u32)> {
        let mut best: Option<(f64, usize, u32)> = None;
        for axis in 0..2 {
            let on_line = &mut self.on_line[axis];
            let (mut low, mut high) = (u32::MAX, 0);
            for node in nodes {
                let line = self.place[*node as usize][axis];
                on_line[line as usize] += 1;
                low = low.min(line);
                high = high.max(line);
            }
            let mut before = 0;
            for line in low..=high {
                let on = std::mem::take(&mut on_line[line as usize]);
                let after = nodes.len() as u32 - before - on;
                if before > 0 && after > 0 {
                    let uneven = f64::from(before.abs_diff(after)) / f64::from(before + after);
                    let score = f64::from(on) * (1.0 + uneven);
                    if best.is_none_or(|(least, ..)| score < least) {
                        best = Some((score, axis, line));
                    }
                }
                before += on;
            }
        }
        best.map(|(_, axis, line)| (axis, line))
    }

    /// Sorts the nodes into those before a line, after it and on it; returns the first two numbers.
    fn part(&mut self, nodes: &mut [u32], axis: usize, line: u32) -> (usize, usize) {
        let mut on = Vec::new();
        self.moved.clear();
        let mut before = 0;
        for k in 0..nodes.len() {
            let node = nodes[k];
            match self.place[node as usize][axis].cmp(&line) {
                std::cmp::Ordering::Less => {
                    nodes[before] = node;
                    before += 1;
                }
                std::cmp::Ordering::Greater => self.moved.push(node),
                std::cmp::Ordering::Equal => on.push(node),
            }
        }
        let after = self.moved.len();
        nodes[before..before + after].copy_from_slice(&self.moved);
        nodes[before + after..].copy_from_slice(&on);
        (before, after)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(place: &[[u32; 2]]) -> Dissection {
        let d = dissect(place);
        let mut sorted = d.order.clone();
        sorted.sort_unstable();
        assert!(sorted.iter().copied().eq(0..place.len() as u32), "every node once");
        let mut next = 0;
        for (b, block) in d.blocks.iter().enumerate() {
            assert_eq!(block.columns.start, next);
            next = block.columns.end;
            assert!(block.parent.is_none_or(|p| p > b));
        }
        assert_eq!(next, place.len());
        d
    }

    #[test]
    fn the_first_cut_of_a_rectangle_is_its_short_middle_line() {
        let place: Vec<[u32; 2]> = (0..63).flat_map(|i| (0..21).map(move |j| [i, j])).collect();
        let d = check(&place);
        let last = d.blocks.last().unwrap();
        assert_eq!(last.columns.len(), 21);
        assert!(d.order[last.columns.clone()].iter().all(|node| place[*node as usize][0] == 31));
    }

    #[test]
    fn an_angle_is_cut_where_its_arms_begin_and_not_along_a_doubled_line() {
        // Two arms of width 20, and every node of line 30 twice.
        let mut place: Vec<[u32; 2]> =
            (0..60).flat_map(|i| (0..60).map(move |j| [i, j])).filter(|[i, j]| *i < 20 || *j < 20).collect();
        place.extend((0..20).map(|j| [30, j]));
        let d = check(&place);
        let last = d.blocks.last().unwrap();
        assert_eq!(last.columns.len(), 20);
    }

    #[test]
    fn parts_that_do_not_touch_and_nodes_at_one_place_are_ordered_too() {
        let apart: Vec<[u32; 2]> =
            (0..30).flat_map(|i| (0..10).map(move |j| [i, j])).filter(|[i, _]| *i != 14).collect();
        let d = check(&apart);
        assert_eq!(d.blocks.iter().filter(|b| b.parent.is_none()).count(), 2);
        assert_eq!(check(&[[7, 7]; 100]).blocks.len(), 1);
        assert!(check(&[]).blocks.is_empty());
    }
}
