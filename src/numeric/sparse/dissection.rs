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

/// The directions in which lines of nodes may run, by what the nodes of a line have in common: one coordinate, or the sum
/// or the difference of both.
const DIRECTIONS: usize = 4;

/// The number of the line on which a place lies in each direction, if no place lies beyond `most` along an axis.
fn lines([x, y]: [u32; 2], most: u32) -> [u32; DIRECTIONS] {
    // Diagonals first: where both cut alike they leave smaller borders.
    [x + y, x + most - y, x, y]
}

/// Dissects nodes that lie on lines of a tensor grid, numbered along both axes. Holes are welcome, and so are several nodes
/// at one place. `None` if a link reaches beyond the next line or a line has a number that there are not even nodes for.
///
/// Lines run along the axes, and along the diagonals too unless links do: where neighbours are linked along the axes only, a
/// slanting line has fewer nodes for its length.
pub(super) fn dissect(place: &[[u32; 2]], links: impl Iterator<Item = (usize, usize)>) -> Option<Dissection> {
    let most = place.iter().flatten().copied().max().unwrap_or(0);
    if most > 0 && (most as usize >= place.len() || most > u32::MAX / 2) {
        return None;
    }
    let on: Vec<[u32; DIRECTIONS]> = place.iter().map(|p| lines(*p, most)).collect();
    let mut may_cut = [true; DIRECTIONS];
    for (a, b) in links {
        for (direction, may) in may_cut.iter_mut().enumerate() {
            *may &= on[a][direction].abs_diff(on[b][direction]) <= 1;
        }
    }
    if !may_cut[2] || !may_cut[3] {
        return None;
    }
    let mut spots: Vec<Spot> = (0..).zip(on).map(|(node, on)| Spot { node, on }).collect();
    let count = || vec![0; 2 * most as usize + 1];
    let mut cutter = Cutter {
        may_cut,
        order: Vec::with_capacity(place.len()),
        blocks: Vec::new(),
        open: Vec::new(),
        count: [count(), count(), count(), count()],
        moved: [Vec::with_capacity(place.len()), Vec::new()],
    };
    cutter.region(&mut spots);
    Some(Dissection { order: cutter.order, blocks: cutter.blocks })
}

/// A node and the lines on which it lies.
#[derive(Clone, Copy)]
struct Spot {
    node: u32,
    on: [u32; DIRECTIONS],
}

struct Cutter {
    may_cut: [bool; DIRECTIONS],
    order: Vec<u32>,
    blocks: Vec<Block>,
    /// Blocks that have no parent yet.
    open: Vec<usize>,
    /// How many nodes lie on each line of each direction; zero outside a count.
    count: [Vec<u32>; DIRECTIONS],
    /// Storage for those after and on a line.
    moved: [Vec<Spot>; 2],
}

impl Cutter {
    fn region(&mut self, spots: &mut [Spot]) {
        let mark = self.open.len();
        let cut = if spots.len() > LEAF { self.cut(spots) } else { None };
        let Some((direction, line)) = cut else {
            self.block(spots, mark);
            return;
        };
        let (before, after) = self.part(spots, direction, line);
        let (before, rest) = spots.split_at_mut(before);
        let (after, on) = rest.split_at_mut(after);
        self.region(before);
        self.region(after);
        // An empty line leaves two regions that do not know of one another.
        self.block(on, mark);
    }

    /// Ends a region with a block; those left open since `mark` are its children.
    fn block(&mut self, spots: &[Spot], mark: usize) {
        if spots.is_empty() {
            return;
        }
        let number = self.blocks.len();
        for child in self.open.drain(mark..) {
            self.blocks[child].parent = Some(number);
        }
        self.open.push(number);
        let first = self.order.len();
        self.order.extend(spots.iter().map(|spot| spot.node));
        self.blocks.push(Block { columns: first..self.order.len(), parent: None });
    }

    /// The line with few nodes on it that cuts off many; none if every line leaves one side empty.
    fn cut(&mut self, spots: &[Spot]) -> Option<(usize, u32)> {
        let mut low = [u32::MAX; DIRECTIONS];
        let mut high = [0; DIRECTIONS];
        for spot in spots {
            for (direction, line) in spot.on.into_iter().enumerate() {
                self.count[direction][line as usize] += 1;
                low[direction] = low[direction].min(line);
                high[direction] = high[direction].max(line);
            }
        }
        let mut best: Option<(f64, usize, u32)> = None;
        for direction in 0..DIRECTIONS {
            let mut before = 0;
            for line in low[direction]..=high[direction] {
                let on = std::mem::take(&mut self.count[direction][line as usize]);
                let after = spots.len() as u32 - before - on;
                if before > 0 && after > 0 && self.may_cut[direction] {
                    // Few nodes for what they cut off: a short line at a tip is no gain.
                    let score = f64::from(on) / f64::from(before.min(after));
                    if best.is_none_or(|(least, ..)| score < least) {
                        best = Some((score, direction, line));
                    }
                }
                before += on;
            }
        }
        best.map(|(_, direction, line)| (direction, line))
    }

    /// Sorts the nodes into those before a line, after it and on it; returns the first two numbers.
    fn part(&mut self, spots: &mut [Spot], direction: usize, line: u32) -> (usize, usize) {
        let [beyond, on] = &mut self.moved;
        beyond.clear();
        on.clear();
        let mut before = 0;
        for k in 0..spots.len() {
            let spot = spots[k];
            match spot.on[direction].cmp(&line) {
                std::cmp::Ordering::Less => {
                    spots[before] = spot;
                    before += 1;
                }
                std::cmp::Ordering::Greater => beyond.push(spot),
                std::cmp::Ordering::Equal => on.push(spot),
            }
        }
        let after = beyond.len();
        spots[before..before + after].copy_from_slice(beyond);
        spots[before + after..].copy_from_slice(on);
        (before, after)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Dissects with links along the axes, or along the diagonals too.
    fn check(place: &[[u32; 2]], diagonal: bool) -> Dissection {
        let near = |p: [u32; 2], q: [u32; 2]| {
            let (dx, dy) = (p[0].abs_diff(q[0]), p[1].abs_diff(q[1]));
            dx + dy == 1 || (diagonal && dx == 1 && dy == 1)
        };
        let links: Vec<(usize, usize)> = (0..place.len())
            .flat_map(|a| (0..a).map(move |b| (a, b)))
            .filter(|(a, b)| near(place[*a], place[*b]))
            .collect();
        let d = dissect(place, links.into_iter()).unwrap();
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

    fn rectangle(wide: u32, high: u32) -> Vec<[u32; 2]> {
        (0..wide).flat_map(|i| (0..high).map(move |j| [i, j])).collect()
    }

    #[test]
    fn the_first_cut_of_a_rectangle_is_a_short_line_near_its_middle() {
        let place = rectangle(63, 21);
        for diagonal in [false, true] {
            let d = check(&place, diagonal);
            let last = d.blocks.last().unwrap();
            assert_eq!(last.columns.len(), 21);
            let on: Vec<u32> = d.order[last.columns.clone()].iter().map(|node| place[*node as usize][0]).collect();
            if diagonal {
                assert!(on.iter().all(|x| *x == 31));
            } else {
                assert_eq!(on.iter().sum::<u32>(), 21 * 31);
            }
        }
    }

    #[test]
    fn an_angle_is_cut_where_its_arms_begin_and_not_along_a_doubled_line() {
        // Two arms of width 20, and every node of line 30 twice.
        let mut place = rectangle(60, 60);
        place.retain(|[i, j]| *i < 20 || *j < 20);
        place.extend((0..20).map(|j| [30, j]));
        for diagonal in [false, true] {
            let d = check(&place, diagonal);
            assert_eq!(d.blocks.last().unwrap().columns.len(), 20);
        }
    }

    #[test]
    fn parts_that_do_not_touch_and_nodes_at_one_place_are_ordered_too() {
        let mut apart = rectangle(30, 10);
        apart.retain(|[i, _]| *i != 14);
        let d = check(&apart, true);
        assert_eq!(d.blocks.iter().filter(|b| b.parent.is_none()).count(), 2);
        assert_eq!(check(&[[7, 7]; 100], false).blocks.len(), 1);
        assert!(check(&[], false).blocks.is_empty());
    }

    #[test]
    fn what_no_line_can_cut_is_refused() {
        assert!(dissect(&rectangle(5, 5), [(0, 10)].into_iter()).is_none());
        assert!(dissect(&[[0, 0], [0, u32::MAX]], std::iter::empty()).is_none());
    }
}
