//! The mesh of a wall: nodes on every layer face, cells in between, contacts as doubled nodes.

use std::ops::Range;

use crate::wall::{Contact, Layer, Wall};

/// What lies between two neighbouring nodes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Cell {
    /// A slice of this layer.
    Layer(usize),
    /// The contact outside this layer (without thickness unless it is an airspace).
    Contact(usize),
}

/// Nodes of a wall from the inside to the outside.
#[derive(Debug, Clone)]
pub(crate) struct Axis {
    /// Coordinate of every node, m (radius for round walls).
    pub(crate) position: Vec<f64>,
    /// Between node i and i + 1.
    pub(crate) cells: Vec<Cell>,
    /// The nodes of each layer, both faces included.
    pub(crate) layer_nodes: Vec<Range<usize>>,
}

/// How the cells of a wall are laid out.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Mesh {
    /// So many equal cells in each layer.
    Equal(Vec<usize>),
    /// About so many cells in all, finer towards the inner face, where the heat comes from; each then split in so many
    /// parts.
    TowardsInside(usize, usize),
    /// The same towards the outer face.
    TowardsOutside(usize, usize),
}

/// The innermost cell is about this many times finer than the outermost.
const GRADE: f64 = 8.0;

impl Mesh {
    /// Where the nodes of each layer lie, as shares of its thickness from 0 to 1.
    fn shares(&self, wall: &Wall) -> Vec<Vec<f64>> {
        match self {
            Mesh::Equal(cells) => cells.iter().map(|n| (0..=*n).map(|j| j as f64 / *n as f64).collect()).collect(),
            Mesh::TowardsInside(total, parts) => graded(wall.layers().iter(), *total, *parts),
            Mesh::TowardsOutside(total, parts) => {
                // The mirror image.
                let mut layers = graded(wall.layers().iter().rev(), *total, *parts);
                layers.reverse();
                for shares in &mut layers {
                    shares.reverse();
                    shares.iter_mut().for_each(|s| *s = 1.0 - *s);
                }
                layers
            }
        }
    }
}

/// Shares of layers, finer towards the first of them.
fn graded<'l>(layers: impl Iterator<Item = &'l Layer>, total: usize, parts: usize) -> Vec<Vec<f64>> {
    // Depth counted in diffusive width, graded by a logarithm: nodes are equal steps of it in each layer, so
    // that splitting the steps refines the mesh evenly.
    let widths: Vec<f64> = layers.map(diffusive_width).collect();
    let whole: f64 = widths.iter().sum();
    let scale = whole / GRADE;
    let graded = |s: f64| (s / scale).ln_1p() / GRADE.ln_1p();
    let mut inner = 0.0;
    widths
        .iter()
        .map(|width| {
            let (from, to) = (graded(inner), graded(inner + width));
            let n = ((total as f64 * (to - from)).round() as usize).max(1) * parts;
            let start = inner;
            inner += width;
            (0..=n)
                .map(|j| {
                    if j == n {
                        return 1.0;
                    }
                    let g = from + (to - from) * j as f64 / n as f64;
                    (((g * GRADE.ln_1p()).exp_m1() * scale - start) / width).max(0.0)
                })
                .collect()
        })
        .collect()
}

impl Axis {
    /// The nodes of a wall.
    pub(crate) fn new(wall: &Wall, mesh: &Mesh) -> Self {
        use crate::units::Si;
        let mut axis = Axis { position: Vec::new(), cells: Vec::new(), layer_nodes: Vec::new() };
        let mut face = wall.inner_coordinate();
        axis.position.push(face);
        for (i, (layer, shares)) in wall.layers().iter().zip(mesh.shares(wall)).enumerate() {
            if i > 0 && wall.contacts()[i - 1] != Contact::Perfect {
                face += wall.contacts()[i - 1].thickness();
                axis.cells.push(Cell::Contact(i - 1));
                axis.position.push(face);
            }
            let first = axis.position.len() - 1;
            let thickness = layer.thickness().si();
            for share in &shares[1..] {
                axis.position.push(face + thickness * share);
                axis.cells.push(Cell::Layer(i));
            }
            face += thickness;
            axis.layer_nodes.push(first..axis.position.len());
        }
        axis
    }

    /// The layer whose slice holds `x`, the inner one of two where layers meet; none in an airspace.
    pub(crate) fn layer_at(&self, x: f64) -> Option<usize> {
        let (first, last) = (self.position[0], self.position[self.position.len() - 1]);
        let slack = 1e-9 * (last - first);
        if x < first - slack || x > last + slack || x.is_nan() {
            return None;
        }
        let layer = self.layer_nodes.iter().position(|nodes| x <= self.position[nodes.end - 1] + slack)?;
        (x >= self.position[self.layer_nodes[layer].start] - slack).then_some(layer)
    }

    /// Value at `x` inside `layer` of what is known at the nodes, by the cubic through the four nearest nodes of
    /// the layer (fewer where it has fewer).
    pub(crate) fn interpolate(&self, layer: usize, x: f64, at_node: impl Fn(usize) -> f64) -> f64 {
        let nodes = self.layer_nodes[layer].clone();
        let points = nodes.len().min(4);
        let right = self.position[nodes.clone()].partition_point(|p| *p <= x);
        let first = nodes.start + right.saturating_sub(points / 2).min(nodes.len() - points);
        let chosen = first..first + points;
        let mut sum = 0.0;
        for i in chosen.clone() {
            let mut weight = 1.0;
            for j in chosen.clone() {
                if j != i {
                    weight *= (x - self.position[j]) / (self.position[i] - self.position[j]);
                }
            }
            sum += weight * at_node(i);
        }
        sum
    }
}

/// How many cells each layer gets out of about `total`: in proportion to thickness over the root of diffusivity, so
/// that heat takes equally long through every cell; at least one each.
pub(crate) fn share_cells(wall: &Wall, total: usize) -> Vec<usize> {
    let widths: Vec<f64> = wall.layers().iter().map(diffusive_width).collect();
    let sum: f64 = widths.iter().sum();
    widths.iter().map(|w| ((total as f64 * w / sum).round() as usize).max(1)).collect()
}

/// Thickness over the square root of diffusivity at the reference temperature, s^0.5.
fn diffusive_width(layer: &Layer) -> f64 {
    use crate::units::Si;
    let m = layer.material();
    let c = m.density().value().si() * m.heat_capacity().value().si();
    layer.thickness().si() * (c / m.conductivity().value().si()).sqrt()
}
