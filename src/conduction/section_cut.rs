//! Slanted lines through a grid: where they cross its lines, and the triangles into which they cut its cells.

use std::collections::HashMap;

use crate::wall::{Curve, Place};

/// Lines of a grid, m; node (i, j) has the number j * columns + i.
#[derive(Debug, Clone)]
pub(super) struct Grid {
    pub(super) axes: [Vec<f64>; 2],
}

impl Grid {
    /// Nodes along the first axis.
    pub(super) fn columns(&self) -> usize {
        self.axes[0].len()
    }

    /// Cells along each axis.
    pub(super) fn cells(&self) -> [usize; 2] {
        [self.axes[0].len() - 1, self.axes[1].len() - 1]
    }

    pub(super) fn node(&self, i: usize, j: usize) -> u32 {
        (j * self.columns() + i) as u32
    }

    pub(super) fn place(&self, i: usize, j: usize) -> Place {
        [self.axes[0][i], self.axes[1][j]]
    }

    /// The cell along an axis that holds a coordinate; the upper one on a line, the last one at the end.
    pub(super) fn cell_at(&self, axis: usize, at: f64) -> usize {
        let lines = &self.axes[axis];
        lines.partition_point(|l| *l <= at).clamp(1, lines.len() - 1) - 1
    }
}

/// Nodes on the sides of cells and the chords between them, where slanted lines run.
#[derive(Debug, Default)]
pub(super) struct Cuts {
    /// Places of the added nodes; their numbers follow those of the grid.
    pub(super) places: Vec<Place>,
    /// Column and row of the lower end of the side that each lies on.
    pub(super) columns_and_rows: Vec<[u32; 2]>,
    /// Added nodes on the side that starts at a node and runs along an axis, rising.
    sides: HashMap<(u32, u8), Vec<u32>>,
    /// Chords of a cell (by its lower corner).
    chords: HashMap<u32, Vec<[u32; 2]>>,
}

/// A crossing this near to a node, as a share of the cell, goes through the node.
const SNAP: f64 = 1e-6;

impl Cuts {
    /// Runs every curve, monotone and slanted, through the grid.
    pub(super) fn new(grid: &Grid, curves: &[Curve]) -> Self {
        let mut cuts = Cuts::default();
        for curve in curves {
            let mut at = vec![0.0, 1.0];
            let ends = curve.ends();
            for (axis, lines) in grid.axes.iter().enumerate() {
                let low = ends[0][axis].min(ends[1][axis]);
                let first = lines.partition_point(|l| *l <= low);
                at.extend(lines[first..].iter().map_while(|line| curve.at_level(axis, *line)));
            }
            at.sort_by(f64::total_cmp);
            let mut nodes: Vec<(f64, u32)> = Vec::with_capacity(at.len());
            for t in at {
                let Some(node) = cuts.node_at(grid, curve.at(t)) else { continue };
                if nodes.last().is_none_or(|(_, last)| *last != node) {
                    nodes.push((t, node));
                }
            }
            for pair in nodes.windows(2) {
                let [(s, a), (t, b)] = [pair[0], pair[1]];
                let middle = curve.at(f64::midpoint(s, t));
                let cell = grid.node(grid.cell_at(0, middle[0]), grid.cell_at(1, middle[1]));
                cuts.chords.entry(cell).or_default().push([a, b]);
            }
        }
        cuts
    }

    /// The node at a point on a line of the grid, made if there is none yet.
    fn node_at(&mut self, grid: &Grid, p: Place) -> Option<u32> {
        let near = [0, 1].map(|axis| {
            let cell = grid.cell_at(axis, p[axis]);
            let [low, high] = [grid.axes[axis][cell], grid.axes[axis][cell + 1]];
            let slack = SNAP * (high - low);
            let line = if p[axis] - low <= slack { Some(cell) } else { (high - p[axis] <= slack).then_some(cell + 1) };
            (cell, line)
        });
        let (i, j, axis) = match near {
            [(_, Some(i)), (_, Some(j))] => return Some(grid.node(i, j)),
            [(_, Some(i)), (j, None)] => (i, j, 1),
            [(i, None), (_, Some(j))] => (i, j, 0),
            [(_, None), (_, None)] => return None,
        };
        let node = grid.node(i, j);
        let mut p = p;
        p[1 - axis] = grid.place(i, j)[1 - axis];
        let first = grid.axes[0].len() * grid.axes[1].len();
        let side = self.sides.entry((node, axis as u8)).or_default();
        let cell = near[axis].0;
        let slack = SNAP * (grid.axes[axis][cell + 1] - grid.axes[axis][cell]);
        let along = |n: &u32| self.places[*n as usize - first][axis];
        let position = side.partition_point(|n| along(n) < p[axis]);
        for k in [position.checked_sub(1), Some(position)].into_iter().flatten() {
            if side.get(k).is_some_and(|n| (along(n) - p[axis]).abs() <= slack) {
                return Some(side[k]);
            }
        }
        let number = (first + self.places.len()) as u32;
        side.insert(position, number);
        self.places.push(p);
        self.columns_and_rows.push([i as u32, j as u32]);
        Some(number)
    }

    /// True if a cell is cut or has an added node on one of its sides.
    pub(super) fn touches(&self, grid: &Grid, i: usize, j: usize) -> bool {
        let node = grid.node(i, j);
        self.chords.contains_key(&node)
            || [(node, 0), (node, 1), (grid.node(i + 1, j), 1), (grid.node(i, j + 1), 0)]
                .iter()
                .any(|side| self.sides.contains_key(side))
    }

    /// Whether an added node lies on a side.
    pub(super) fn on_side(&self, node: u32, axis: u8) -> bool {
        self.sides.contains_key(&(node, axis))
    }

    /// Cuts a cell into triangles along its chords.
    pub(super) fn triangles(&self, grid: &Grid, i: usize, j: usize) -> Vec<[u32; 3]> {
        let corners = [grid.node(i, j), grid.node(i + 1, j), grid.node(i + 1, j + 1), grid.node(i, j + 1)];
        let mut ring = Vec::with_capacity(8);
        let none = Vec::new();
        let side = |node: u32, axis: u8| self.sides.get(&(node, axis)).unwrap_or(&none);
        ring.push(corners[0]);
        ring.extend(side(corners[0], 0));
        ring.push(corners[1]);
        ring.extend(side(corners[1], 1));
        ring.push(corners[2]);
        ring.extend(side(corners[3], 0).iter().rev());
        ring.push(corners[3]);
        ring.extend(side(corners[0], 1).iter().rev());

        let mut polygons = vec![ring];
        for [a, b] in self.chords.get(&corners[0]).unwrap_or(&Vec::new()) {
            let both = |p: &Vec<u32>| Some((p.iter().position(|n| n == a)?, p.iter().position(|n| n == b)?));
            let Some((which, (s, t))) = polygons.iter().enumerate().find_map(|(k, p)| Some((k, both(p)?))) else {
                continue;
            };
            let (s, t) = (s.min(t), s.max(t));
            let polygon = polygons.swap_remove(which);
            let one: Vec<u32> = polygon[s..=t].to_vec();
            let other: Vec<u32> = polygon[t..].iter().chain(&polygon[..=s]).copied().collect();
            polygons.extend([one, other].into_iter().filter(|p| p.len() > 2));
        }
        polygons.iter().flat_map(|p| self.ears(grid, p)).collect()
    }

    /// Where a node is.
    pub(super) fn place(&self, grid: &Grid, node: u32) -> Place {
        let node = node as usize;
        let columns = grid.columns();
        match node.checked_sub(columns * grid.axes[1].len()) {
            Some(added) => self.places[added],
            None => grid.place(node % columns, node / columns),
        }
    }

    /// A convex polygon (some of its corners may be straight) as triangles, the best-shaped ear first.
    fn ears(&self, grid: &Grid, polygon: &[u32]) -> Vec<[u32; 3]> {
        let mut ring = polygon.to_vec();
        let mut triangles = Vec::with_capacity(ring.len() - 2);
        while ring.len() > 2 {
            let n = ring.len();
            let ear = |k: usize| [ring[(k + n - 1) % n], ring[k], ring[(k + 1) % n]];
            let quality = |k: usize| {
                let shape = self.roundness(grid, ear(k));
                // What is left must not be flat either.
                if n == 4 { shape.min(self.roundness(grid, ear((k + 2) % n))) } else { shape }
            };
            let best = (0..n).max_by(|a, b| quality(*a).total_cmp(&quality(*b))).unwrap_or(0);
            let triangle = ear(best);
            if self.roundness(grid, triangle) > 0.0 {
                triangles.push(triangle);
            }
            ring.remove(best);
        }
        triangles
    }

    /// Twice the area over the square of the longest side; nothing for what is flat or turned over. A right angle counts
    /// as the best there is.
    fn roundness(&self, grid: &Grid, nodes: [u32; 3]) -> f64 {
        let p = nodes.map(|n| self.place(grid, n));
        let side = |a: usize, b: usize| [p[b][0] - p[a][0], p[b][1] - p[a][1]];
        let (u, v, w) = (side(0, 1), side(1, 2), side(2, 0));
        let doubled = u[0] * v[1] - u[1] * v[0];
        let longest = [u, v, w].iter().map(|s| s[0] * s[0] + s[1] * s[1]).fold(0.0, f64::max);
        if doubled <= 1e-9 * longest {
            return 0.0;
        }
        // The largest angle decides whether a coupling can be negative.
        let dot = |a: Place, b: Place| -(a[0] * b[0] + a[1] * b[1]);
        let obtuse = [(u, v), (v, w), (w, u)]
            .iter()
            .map(|(a, b)| dot(*a, *b) / (a[0].hypot(a[1]) * b[0].hypot(b[1])))
            .fold(f64::INFINITY, f64::min);
        1.0 + obtuse.min(0.0) + 1e-3 * doubled / longest
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(grid: &Grid, cuts: &Cuts, [a, b, c]: [u32; 3]) -> f64 {
        let [a, b, c] = [a, b, c].map(|n| cuts.place(grid, n));
        0.5 * ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))
    }

    #[test]
    fn triangles_fill_their_cells_whatever_line_runs_through() {
        let grid = Grid { axes: [vec![0.0, 0.5, 1.0, 2.0], vec![0.0, 1.0, 1.25, 2.0]] };
        let circle = Curve::Arc { centre: [0.0, 0.0], radius: 1.0, angles: [0.0, std::f64::consts::FRAC_PI_2] };
        for curves in [
            vec![Curve::Straight([0.0, 0.0], [2.0, 2.0])],
            vec![Curve::Straight([0.0, 1.0], [0.5, 0.0]), Curve::Straight([0.0, 2.0], [1.0, 0.0])],
            vec![Curve::Straight([0.5, 0.0], [2.0, 1.25]), Curve::Straight([0.5, 0.0], [1.0, 2.0])],
            vec![circle, Curve::Straight([0.0, 0.0], [2.0, 1.0])],
        ] {
            let cuts = Cuts::new(&grid, &curves);
            let mut cut = 0;
            for i in 0..3 {
                for j in 0..3 {
                    if !cuts.touches(&grid, i, j) {
                        continue;
                    }
                    cut += 1;
                    let triangles = cuts.triangles(&grid, i, j);
                    assert!(triangles.iter().all(|t| area(&grid, &cuts, *t) > 0.0));
                    let whole: f64 = triangles.iter().map(|t| area(&grid, &cuts, *t)).sum();
                    let ([x, y], [u, v]) = (grid.place(i, j), grid.place(i + 1, j + 1));
                    assert!((whole - (u - x) * (v - y)).abs() < 1e-12, "{curves:?} cell {i} {j}: {whole}");
                }
            }
            assert!(cut > 1);
        }
    }
}
