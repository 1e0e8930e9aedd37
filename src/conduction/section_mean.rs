//! What fields of a section mean to a strip of it along which nothing changes: their means along the strip.
//!
//! The energy of a mean is no larger than the mean of energies. A strip projected on the means of the fields that its section
//! was projected on thus answers no more strongly, at any shift, than the projected section does: the section less its strips
//! stays positive, however coarse the projections are.

use nalgebra::DMatrix;

use super::section_assembly::UNUSED;
use super::section_mesh::{CUT, HOLE};
use super::section_patch::Physics;

/// A node on a line of the grid: its unknown, and the sides of the line on which it has material.
#[derive(Clone, Copy)]
struct OnLine {
    unknown: usize,
    /// -1 below, 1 above, 0 both: doubles on a contact differ by it.
    side: i32,
}

/// Nodes of a mesh by column and row.
struct Nodes {
    columns: usize,
    at: Vec<Vec<OnLine>>,
}

impl Nodes {
    fn of(physics: &Physics, across: usize) -> Self {
        let mesh = &physics.mesh;
        let mut sides = vec![[false; 2]; mesh.places.len()];
        let mut touch = |element: u32, corners: &[u32]| {
            let centre = mesh.centre(element)[across];
            for corner in corners {
                let node = mesh.node(element, *corner) as usize;
                sides[node][usize::from(centre > mesh.places[node][across])] = true;
            }
        };
        let whole = mesh.fills.iter().enumerate().filter(|(_, fill)| **fill != HOLE && **fill != CUT);
        whole.for_each(|(cell, _)| touch(cell as u32, &mesh.corners(cell as u32)));
        for (k, triangle) in mesh.triangles.iter().enumerate() {
            touch((mesh.fills.len() + k) as u32, &triangle.nodes);
        }
        let columns = mesh.grid.columns();
        let mut at = vec![Vec::new(); columns * mesh.grid.axes[1].len()];
        for (node, [below, above]) in sides.into_iter().enumerate() {
            let [i, j] = mesh.columns_and_rows[node].map(|k| k as usize);
            let unknown = physics.assembly.unknown[node];
            // Nodes on slanted lines lie beside the grid's.
            if unknown != UNUSED && mesh.places[node] == mesh.grid.place(i, j) {
                let on = OnLine { unknown: unknown as usize, side: i32::from(above) - i32::from(below) };
                at[j * columns + i].push(on);
            }
        }
        Nodes { columns, at }
    }

    fn at(&self, [i, j]: [usize; 2]) -> &[OnLine] {
        &self.at[j * self.columns + i]
    }
}

/// The line of a grid nearest to a coordinate.
fn nearest(lines: &[f64], at: f64) -> usize {
    let above = lines.partition_point(|line| *line < at).min(lines.len() - 1);
    match above.checked_sub(1) {
        Some(below) if at - lines[below] < lines[above] - at => below,
        _ => above,
    }
}

/// The means of these fields of a section (interior temperatures, a column each) along a strip of it, which lies on the same
/// lines across `across` and ends on two of them along the other axis.
pub(super) fn means_along(
    section: &Physics,
    fields: &DMatrix<f64>,
    strip: &Physics,
    across: usize,
    about_axis: bool,
) -> Vec<Vec<f64>> {
    let along = 1 - across;
    let lines = &section.mesh.grid.axes;
    let ends = &strip.mesh.grid.axes[along];
    let (first, last) = (nearest(&lines[along], ends[0]), nearest(&lines[along], ends[ends.len() - 1]));
    // What of the strip is nearer to each line than to the next: a length, or a ring about the axis.
    let upto = |x: f64| if about_axis && along == 0 { x * x } else { x };
    let middle = |k: usize| upto(f64::midpoint(lines[along][k], lines[along][k + 1]));
    let share = |k: usize| {
        let from = if k == first { upto(lines[along][first]) } else { middle(k - 1) };
        let to = if k == last { upto(lines[along][last]) } else { middle(k) };
        (to - from) / (upto(lines[along][last]) - upto(lines[along][first]))
    };
    let nodes = Nodes::of(section, across);
    let own = Nodes::of(strip, across);
    let mut means = vec![vec![0.0; strip.assembly.interior]; fields.ncols()];
    for (row, at) in strip.mesh.grid.axes[across].iter().enumerate() {
        let line = nearest(&lines[across], *at);
        for end in 0..ends.len() {
            let place = if across == 0 { [row, end] } else { [end, row] };
            for OnLine { unknown, side } in own.at(place) {
                for k in first..=last {
                    let there = nodes.at(if across == 0 { [line, k] } else { [k, line] });
                    let Some(node) = there.iter().min_by_key(|node| (node.side - side).abs()) else { continue };
                    for (mean, field) in means.iter_mut().zip(fields.column_iter()) {
                        mean[*unknown] += share(k) * field[node.unknown];
                    }
                }
            }
        }
    }
    means
}
