//! The grid of a section: lines through everything that matters, finer towards singular points.

use super::section_vertex::{Surroundings, Vertex, vertices};
use crate::wall::{Curve, Layout};

/// The grid to be, in intervals between the lines that must be there.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct GridPlan {
    axes: [AxisPlan; 2],
}

#[derive(Debug, Clone, PartialEq, Default)]
struct AxisPlan {
    /// Coordinates, m, rising.
    lines: Vec<f64>,
    /// Between each two of them.
    intervals: Vec<Interval>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Interval {
    cells: usize,
    /// Power of equal steps at which the nodes lie, counted from its lower and upper end.
    grading: [f64; 2],
}

/// Lines through meetings of a slanted line with others are left out where another line is this near, as a share of
/// the frame: they serve accuracy only.
const NEAR: f64 = 0.004;
/// So many lines may be added so that slanted lines run through nodes.
const TRANSFERS: usize = 8;

impl GridPlan {
    /// Plans a grid for one or several layouts in the same frame with about `cells` cells along the longer axis.
    pub(super) fn new(layouts: &[(&Layout, Surroundings<'_>)], cells: usize) -> Self {
        let points: Vec<Vertex> = layouts.iter().flat_map(|(l, s)| vertices(l, s)).collect();
        let layouts: Vec<&Layout> = layouts.iter().map(|(l, _)| *l).collect();
        let tolerance = layouts[0].tolerance();
        let size = layouts[0].size();
        let mut lines: [Vec<f64>; 2] = [Vec::new(), Vec::new()];
        for layout in &layouts {
            for piece in &layout.pieces {
                if let Some(axis) = piece.curve.constant_coordinate(tolerance) {
                    add(&mut lines[axis], piece.curve.at(0.5)[axis], tolerance);
                }
            }
        }
        for axis in 0..2 {
            for corner in layouts[0].frame {
                add(&mut lines[axis], corner[axis], tolerance);
            }
            // Both coordinates of a corner of slanted lines; of a meeting with a line along an axis, where they are
            // not near another line.
            for vertex in points.iter().filter(|v| (v.grading > 1.0 && !v.aslant) || (v.aslant && !v.passed)) {
                add(&mut lines[axis], vertex.at[axis], tolerance);
            }
        }
        let mut optional: Vec<(usize, f64)> = points
            .iter()
            .filter(|v| v.aslant && v.passed)
            .flat_map(|v| (0..2).map(|axis| (axis, v.at[axis])))
            .collect();
        optional.sort_by(|a, b| a.1.total_cmp(&b.1));
        for (axis, at) in optional {
            add(&mut lines[axis], at, NEAR * size);
        }
        let slanted: Vec<Curve> = layouts
            .iter()
            .flat_map(|l| l.pieces.iter().map(|p| p.curve))
            .filter(|c| matches!(c, Curve::Straight(..)) && c.constant_coordinate(tolerance).is_none())
            .collect();
        transfer(&mut lines, &slanted, tolerance);

        let mut axes = [0, 1].map(|axis| {
            let at = std::mem::take(&mut lines[axis]);
            let grading = |line: f64| {
                let on = points.iter().filter(|v| (v.at[axis] - line).abs() <= 4.0 * tolerance);
                on.map(|v| v.grading).fold(1.0, f64::max)
            };
            let total: f64 = at.windows(2).map(|w| (w[1] - w[0]).sqrt()).sum();
            let span = at[at.len() - 1] - at[0];
            let along = cells as f64 * (span / size).sqrt();
            let intervals = at
                .windows(2)
                .map(|w| Interval {
                    cells: ((along * (w[1] - w[0]).sqrt() / total).round() as usize).max(1),
                    grading: [grading(w[0]), grading(w[1])],
                })
                .collect();
            AxisPlan { lines: at, intervals }
        });
        link(&mut axes, &slanted, tolerance);
        for interval in axes.iter_mut().flat_map(|a| &mut a.intervals) {
            if interval.grading.iter().all(|g| *g > 1.0) {
                interval.cells += interval.cells % 2;
            }
        }
        GridPlan { axes }
    }

    /// The plan with given numbers of equal cells between the lines.
    pub(super) fn with_equal_cells(mut self, cells: [&[usize]; 2]) -> Option<Self> {
        for (axis, cells) in self.axes.iter_mut().zip(cells) {
            if axis.intervals.len() != cells.len() || cells.contains(&0) {
                return None;
            }
            axis.intervals = cells.iter().map(|n| Interval { cells: *n, grading: [1.0, 1.0] }).collect();
        }
        Some(self)
    }

    /// The lines that must be there, m.
    pub(super) fn lines(&self, axis: usize) -> &[f64] {
        &self.axes[axis].lines
    }

    /// Coordinates of all nodes along an axis with every step split in `parts`, m.
    pub(super) fn nodes(&self, axis: usize, parts: usize) -> Vec<f64> {
        let AxisPlan { lines, intervals } = &self.axes[axis];
        let mut nodes = vec![lines[0]];
        for (w, interval) in lines.windows(2).zip(intervals) {
            let n = interval.cells * parts;
            let (from, to) = (w[0], w[1]);
            for m in 1..=n {
                // From whichever end is nearer, so that a mirrored section has the mirrored grid.
                nodes.push(match interval.grading {
                    _ if m == n => to,
                    [g, h] if h == 1.0 && g > 1.0 => from + (to - from) * (m as f64 / n as f64).powf(g),
                    [g, h] if g == 1.0 && h > 1.0 => to - (to - from) * ((n - m) as f64 / n as f64).powf(h),
                    [g, _] if 2 * m <= n => from + 0.5 * (to - from) * (2.0 * m as f64 / n as f64).powf(g),
                    [_, h] => to - 0.5 * (to - from) * (2.0 * (n - m) as f64 / n as f64).powf(h),
                });
            }
        }
        nodes
    }

    /// Number of nodes of the grid with every step split in `parts`.
    pub(super) fn size(&self, parts: usize) -> usize {
        self.axes.iter().map(|a| a.intervals.iter().map(|i| i.cells * parts).sum::<usize>() + 1).product()
    }
}

/// Adds a line unless another is nearer than `apart`.
fn add(lines: &mut Vec<f64>, at: f64, apart: f64) {
    let place = lines.partition_point(|l| *l < at);
    let near = |k: Option<usize>| k.and_then(|k| lines.get(k)).is_some_and(|l| (l - at).abs() <= apart);
    if !near(Some(place)) && !near(place.checked_sub(1)) {
        lines.insert(place, at);
    }
}

/// Where a line crosses a slanted one, the line across through that point is added as well, so that the slanted one
/// runs through nodes; not if that brings too many lines.
fn transfer(lines: &mut [Vec<f64>; 2], slanted: &[Curve], tolerance: f64) {
    let mut trial = lines.clone();
    let before = trial[0].len() + trial[1].len();
    loop {
        let count = trial[0].len() + trial[1].len();
        for curve in slanted {
            for axis in 0..2 {
                for at in trial[axis].clone() {
                    if let Some(t) = curve.at_level(axis, at) {
                        add(&mut trial[1 - axis], curve.at(t)[1 - axis], 4.0 * tolerance);
                    }
                }
            }
            if trial[0].len() + trial[1].len() > before + TRANSFERS {
                return;
            }
        }
        if trial[0].len() + trial[1].len() == count {
            *lines = trial;
            return;
        }
    }
}

/// Intervals that a slanted line crosses corner to corner get equal cells, graded alike.
fn link(axes: &mut [AxisPlan; 2], slanted: &[Curve], tolerance: f64) {
    let mut links: Vec<(usize, usize, bool)> = Vec::new();
    for curve in slanted {
        let [a, b] = curve.ends();
        let rising = (b[0] - a[0]) * (b[1] - a[1]) > 0.0;
        let lines = &axes[0].lines;
        for i in 0..lines.len() - 1 {
            let middle = f64::midpoint(lines[i], lines[i + 1]);
            let Some(t) = curve.at_level(0, middle) else { continue };
            let y = curve.at(t)[1];
            let Some(j) = axes[1].lines.windows(2).position(|w| y > w[0] && y < w[1]) else { continue };
            // Corner to corner, or not at all.
            let reaches = |axis: usize, line: f64, other: f64| {
                let across = match curve.at_level(axis, line) {
                    Some(t) => curve.at(t)[1 - axis],
                    None => {
                        let end = if (a[axis] - line).abs() <= 4.0 * tolerance { a } else { b };
                        if (end[axis] - line).abs() > 4.0 * tolerance {
                            return false;
                        }
                        end[1 - axis]
                    }
                };
                (across - other).abs() <= 4.0 * tolerance
            };
            let (low, high) = (axes[1].lines[j], axes[1].lines[j + 1]);
            let (first, second) = if rising { (low, high) } else { (high, low) };
            if reaches(0, lines[i], first) && reaches(0, lines[i + 1], second) {
                links.push((i, j, rising));
            }
        }
    }
    loop {
        let mut changed = false;
        for (i, j, rising) in &links {
            let (x, y) = (axes[0].intervals[*i], axes[1].intervals[*j]);
            let turned = |g: [f64; 2]| if *rising { g } else { [g[1], g[0]] };
            let cells = x.cells.max(y.cells);
            let grading = [0, 1].map(|e| x.grading[e].max(turned(y.grading)[e]));
            axes[0].intervals[*i] = Interval { cells, grading };
            axes[1].intervals[*j] = Interval { cells, grading: turned(grading) };
            changed |= axes[0].intervals[*i] != x || axes[1].intervals[*j] != y;
        }
        if !changed {
            return;
        }
    }
}
