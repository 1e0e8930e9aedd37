//! Reading a field on the mesh of a section: temperature and gradient between nodes, heat through a part of the
//! boundary, extremes, isotherms.

use super::section_mesh::{CUT, Element, HOLE};
use super::section_patch::Physics;
use crate::wall::Place;

/// A field on a mesh: the temperature of every unknown, K.
pub(super) struct Field<'f> {
    pub(super) physics: &'f Physics,
    pub(super) temperature: &'f [f64],
}

/// Temperature and its slope along both axes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reading {
    pub(super) temperature: f64,
    pub(super) slope: [f64; 2],
    pub(super) fill: u16,
    /// By how much the next simpler interpolation differs, K; nothing for linear ones.
    pub(super) unsure: f64,
}

impl Field<'_> {
    fn at(&self, node: u32) -> f64 {
        self.physics.unknown(node).map_or(f64::NAN, |unknown| self.temperature[unknown])
    }

    /// What is read at a place; `None` where there is no material. On a line between two materials, that towards
    /// smaller coordinates.
    pub(super) fn read(&self, place: Place) -> Option<Reading> {
        self.find(place, |cell| self.in_triangles(cell, place, 1e-9), |i, j, fill| self.in_cell(i, j, fill, place))
    }

    /// The temperature at a place from the corners of the element alone that holds it; `None` where there is no material.
    pub(super) fn linear(&self, place: Place) -> Option<f64> {
        let mesh = &self.physics.mesh;
        let whole = |i: usize, j: usize, _| {
            let cell = (j * mesh.grid.cells()[0] + i) as u32;
            let [a, b, c, d] = mesh.corners(cell).map(|n| self.at(mesh.node(cell, n)));
            let share = |axis: usize, k: usize| {
                let lines = &mesh.grid.axes[axis];
                (place[axis] - lines[k]) / (lines[k + 1] - lines[k])
            };
            let (x, y) = (share(0, i), share(1, j));
            (1.0 - y) * (a + x * (b - a)) + y * (d + x * (c - d))
        };
        // A chord of a finer mesh may bulge beyond the triangles of this one.
        let within = |slack: f64| {
            self.find(place, |cell| self.in_triangles(cell, place, slack).map(|reading| reading.temperature), whole)
        };
        within(1e-9).or_else(|| within(1.0))
    }

    /// Asks the cells about a place that are cut, or whole and of a fill, one after the other.
    fn find<R>(
        &self,
        place: Place,
        cut: impl Fn(u32) -> Option<R>,
        whole: impl Fn(usize, usize, u16) -> R,
    ) -> Option<R> {
        let mesh = &self.physics.mesh;
        let [columns, rows] = mesh.grid.cells();
        let ranges = [0, 1].map(|axis| {
            let lines = &mesh.grid.axes[axis];
            let slack = 1e-9 * (lines[lines.len() - 1] - lines[0]);
            let low = lines.partition_point(|l| *l < place[axis] - slack).max(1) - 1;
            let high = lines.partition_point(|l| *l <= place[axis] + slack).max(1) - 1;
            let inside = place[axis] >= lines[0] - slack && place[axis] <= lines[lines.len() - 1] + slack;
            inside.then_some((low, high))
        });
        let [Some((i0, i1)), Some((j0, j1))] = ranges else { return None };
        for j in j0..=j1.min(rows - 1) {
            for i in i0..=i1.min(columns - 1) {
                let cell = (j * columns + i) as u32;
                match mesh.fills[cell as usize] {
                    HOLE => {}
                    CUT => {
                        if let Some(found) = cut(cell) {
                            return Some(found);
                        }
                    }
                    fill => return Some(whole(i, j, fill)),
                }
            }
        }
        None
    }

    /// By the linear element that holds the place, or one that it lies beside by less than `slack` of its size.
    fn in_triangles(&self, cell: u32, place: Place, slack: f64) -> Option<Reading> {
        let mesh = &self.physics.mesh;
        for t in mesh.of_cell.get(&cell)?.clone() {
            let triangle = &mesh.triangles[t];
            let element = (mesh.fills.len() + t) as u32;
            let p = triangle.nodes.map(|n| mesh.places[n as usize]);
            let (u, v) = ([p[1][0] - p[0][0], p[1][1] - p[0][1]], [p[2][0] - p[0][0], p[2][1] - p[0][1]]);
            let doubled = u[0] * v[1] - u[1] * v[0];
            let w = [place[0] - p[0][0], place[1] - p[0][1]];
            let b = (w[0] * v[1] - w[1] * v[0]) / doubled;
            let c = (u[0] * w[1] - u[1] * w[0]) / doubled;
            if b >= -slack && c >= -slack && b + c <= 1.0 + slack {
                let t = triangle.nodes.map(|n| self.at(mesh.node(element, n)));
                let (s, r) = (t[1] - t[0], t[2] - t[0]);
                return Some(Reading {
                    temperature: t[0] + b * s + c * r,
                    slope: [(s * v[1] - r * u[1]) / doubled, (r * u[0] - s * v[0]) / doubled],
                    fill: triangle.fill,
                    unsure: 0.0,
                });
            }
        }
        None
    }

    /// By the polynomial through the nodes about a whole cell that lie in the same material, up to four along each axis.
    fn in_cell(&self, i: usize, j: usize, fill: u16, place: Place) -> Reading {
        let mut better: Option<Reading> = None;
        for width in [3, 2, 1] {
            let Some(reading) = self.in_best_windows(i, j, width, fill, place) else { continue };
            match better {
                None => better = Some(reading),
                Some(best) => {
                    return Reading { unsure: (best.temperature - reading.temperature).abs(), ..best };
                }
            }
        }
        better.unwrap_or(Reading { temperature: f64::NAN, slope: [f64::NAN; 2], fill, unsure: f64::NAN })
    }

    /// By the windows of so many cells about a cell that are centred best.
    fn in_best_windows(&self, i: usize, j: usize, width: usize, fill: u16, place: Place) -> Option<Reading> {
        let [columns, rows] = self.physics.mesh.grid.cells();
        let mut best: Option<(usize, Vec<Reading>)> = None;
        for (first, off) in windows(i, width, columns) {
            for (second, aside) in windows(j, width, rows) {
                let apart = off + aside;
                if best.as_ref().is_some_and(|(nearest, _)| apart > *nearest) {
                    continue;
                }
                let Some(reading) = self.in_window([first, second], width, fill, place) else { continue };
                match &mut best {
                    Some((nearest, equals)) if *nearest == apart => equals.push(reading),
                    _ => best = Some((apart, vec![reading])),
                }
            }
        }
        // Windows equally well centred count alike, so that a mirrored section gives the mirrored reading.
        let (_, equals) = best?;
        let share = 1.0 / equals.len() as f64;
        let mean = |f: &dyn Fn(&Reading) -> f64| share * equals.iter().map(f).sum::<f64>();
        Some(Reading {
            temperature: mean(&|r| r.temperature),
            slope: [mean(&|r| r.slope[0]), mean(&|r| r.slope[1])],
            fill,
            unsure: 0.0,
        })
    }

    fn in_window(&self, from: [usize; 2], width: usize, fill: u16, place: Place) -> Option<Reading> {
        let mesh = &self.physics.mesh;
        let columns = mesh.grid.cells()[0];
        let mut values = [[None::<(u32, f64)>; 4]; 4];
        for b in 0..width {
            for a in 0..width {
                let cell: Element = ((from[1] + b) * columns + from[0] + a) as u32;
                if mesh.fills[cell as usize] != fill {
                    return None;
                }
                for (corner, (da, db)) in mesh.corners(cell).into_iter().zip([(0, 0), (1, 0), (1, 1), (0, 1)]) {
                    let node = mesh.node(cell, corner);
                    match &mut values[b + db][a + da] {
                        // A contact runs through the window.
                        Some((other, _)) if *other != node => return None,
                        slot => *slot = Some((node, self.at(node))),
                    }
                }
            }
        }
        let weights = [0, 1].map(|axis| lagrange(&mesh.grid.axes[axis][from[axis]..=from[axis] + width], place[axis]));
        let mut reading = Reading { temperature: 0.0, slope: [0.0; 2], fill, unsure: 0.0 };
        // Counted from one of the values, so that rounding is that of differences.
        let base = values[0][0]?.1;
        for (b, row) in values.iter().enumerate().take(width + 1) {
            for (a, value) in row.iter().enumerate().take(width + 1) {
                let rise = (*value)?.1 - base;
                let [(x, dx), (y, dy)] = [weights[0][a], weights[1][b]];
                reading.temperature += rise * x * y;
                reading.slope[0] += rise * dx * y;
                reading.slope[1] += rise * x * dy;
            }
        }
        reading.temperature += base;
        Some(reading)
    }

    /// Lowest and highest temperature of the surface of a part.
    pub(super) fn extremes(&self, part: usize) -> [f64; 2] {
        let nodes = self.physics.mesh.parts.iter().filter(|e| e.part == part).flat_map(|e| e.nodes);
        nodes.map(|n| self.at(n)).fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], t| [low.min(t), high.max(t)])
    }

    /// Heat from a port into the section by conduction, W per extent.
    pub(super) fn heat_from_port(&self, port: usize) -> f64 {
        let assembly = &self.physics.assembly;
        let local = (assembly.interior + port) as u32;
        let mut sum = 0.0;
        for (k, [u, v]) in assembly.pairs.iter().enumerate() {
            if *u == local || *v == local {
                let (t, s) = (self.temperature[*u as usize], self.temperature[*v as usize]);
                let q = self.physics.conductance(k, t, s) * (s - t);
                sum += if *v == local { q } else { -q };
            }
        }
        sum
    }

    /// Temperatures of the nodes of the grid, column by row; none where there is no material, the mean where a contact
    /// parts two.
    pub(super) fn on_grid(&self) -> Vec<Option<f64>> {
        let mesh = &self.physics.mesh;
        let n = mesh.grid.axes[0].len() * mesh.grid.axes[1].len();
        let mut sums = vec![(0.0, 0_u32); n];
        for (node, [i, j]) in mesh.columns_and_rows.iter().enumerate() {
            let base = mesh.grid.node(*i as usize, *j as usize);
            if mesh.places[node] != mesh.places[base as usize] {
                continue;
            }
            if let Some(unknown) = self.physics.unknown(node as u32) {
                let (sum, count) = &mut sums[base as usize];
                *sum += self.temperature[unknown];
                *count += 1;
            }
        }
        sums.into_iter().map(|(sum, count)| (count > 0).then(|| sum / f64::from(count))).collect()
    }

    /// Straight pieces of the line along which the temperature has a value.
    pub(super) fn isotherm(&self, level: f64) -> Vec<[Place; 2]> {
        let mesh = &self.physics.mesh;
        let mut pieces = Vec::new();
        let mut in_triangle = |corners: [(Place, f64); 3]| {
            let mut ends = Vec::with_capacity(2);
            for k in 0..3 {
                let ((p, t), (q, s)) = (corners[k], corners[(k + 1) % 3]);
                if (t >= level) != (s >= level) {
                    let share = (level - t) / (s - t);
                    ends.push([0, 1].map(|axis| p[axis] + share * (q[axis] - p[axis])));
                }
            }
            if let [a, b] = ends[..] {
                pieces.push([a, b]);
            }
        };
        for cell in 0..mesh.fills.len() as u32 {
            if matches!(mesh.fills[cell as usize], HOLE | CUT) {
                continue;
            }
            let corner = mesh.corners(cell).map(|n| (mesh.places[n as usize], self.at(mesh.node(cell, n))));
            let sum = corner.iter().fold(([0.0; 2], 0.0), |(p, t), (q, s)| ([p[0] + q[0], p[1] + q[1]], t + s));
            let middle = (sum.0.map(|v| 0.25 * v), 0.25 * sum.1);
            for k in 0..4 {
                in_triangle([corner[k], corner[(k + 1) % 4], middle]);
            }
        }
        for (t, triangle) in mesh.triangles.iter().enumerate() {
            let element = (mesh.fills.len() + t) as u32;
            in_triangle(triangle.nodes.map(|n| (mesh.places[n as usize], self.at(mesh.node(element, n)))));
        }
        pieces
    }
}

/// First cells of the windows of so many cells that hold cell `i` of `cells`, and how far off its middle each is.
fn windows(i: usize, width: usize, cells: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..width)
        .filter_map(move |back| i.checked_sub(back))
        .filter(move |first| first + width <= cells)
        .map(move |first| (first, (2 * i + 1).abs_diff(2 * first + width)))
}

/// Weights of the values at these points (at most four) in the polynomial through them at `x`, and in its slope.
fn lagrange(points: &[f64], x: f64) -> [(f64, f64); 4] {
    let mut weights = [(0.0, 0.0); 4];
    for (i, p) in points.iter().enumerate() {
        let (mut value, mut slope) = (1.0, 0.0);
        for (j, q) in points.iter().enumerate() {
            if i != j {
                let factor = (x - q) / (p - q);
                slope = slope * factor + value / (p - q);
                value *= factor;
            }
        }
        weights[i] = (value, slope);
    }
    weights
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_polynomial_repeats_a_cubic_and_its_slope() {
        let points = [0.0, 0.3, 1.0, 1.5];
        let f = |x: f64| 2.0 - x + 0.5 * x * x * x;
        let weights = lagrange(&points, 0.7);
        let value: f64 = weights.iter().zip(points).map(|((w, _), p)| w * f(p)).sum();
        let slope: f64 = weights.iter().zip(points).map(|((_, w), p)| w * f(p)).sum();
        assert!((value - f(0.7)).abs() < 1e-14);
        assert!((slope - (-1.0 + 1.5 * 0.49)).abs() < 1e-14);
        assert_eq!(windows(5, 3, 20).collect::<Vec<_>>(), [(5, 2), (4, 0), (3, 2)]);
        assert_eq!(windows(0, 3, 20).collect::<Vec<_>>(), [(0, 2)]);
    }
}
