//! The mesh of a section: whole cells of the grid, triangles where slanted lines cut them, nodes doubled on contacts.

use std::collections::HashMap;

use super::section_cut::{Cuts, Grid};
use crate::wall::{Curve, Layout, Place, What};

/// A cell of the grid by its number, or a triangle counted from the number of cells on.
pub(super) type Element = u32;

/// A triangle of a cut cell.
#[derive(Debug, Clone, Copy)]
pub(super) struct Triangle {
    pub(super) nodes: [u32; 3],
    pub(super) fill: u16,
}

/// An edge between two nodes that lies on the boundary or on a contact.
#[derive(Debug, Clone, Copy)]
struct Edge {
    /// Nodes of the grid or added ones, not yet doubled.
    nodes: [u32; 2],
    elements: [Option<Element>; 2],
}

/// An edge of the boundary that has a name.
#[derive(Debug, Clone, Copy)]
pub(super) struct PartEdge {
    pub(super) part: usize,
    pub(super) nodes: [u32; 2],
}

/// An edge on a contact: its nodes on the first and on the second side.
#[derive(Debug, Clone, Copy)]
pub(super) struct ContactEdge {
    pub(super) contact: usize,
    pub(super) sides: [[u32; 2]; 2],
}

/// A cell without material.
pub(super) const HOLE: u16 = u16::MAX;
/// A cell that is cut into triangles.
pub(super) const CUT: u16 = u16::MAX - 1;

/// Elements, nodes and named edges.
#[derive(Debug)]
pub(super) struct SectionMesh {
    pub(super) grid: Grid,
    /// Fill of every cell, row by row.
    pub(super) fills: Vec<u16>,
    pub(super) triangles: Vec<Triangle>,
    /// Triangles of the cut cells.
    pub(super) of_cell: HashMap<u32, std::ops::Range<usize>>,
    /// Place of every node: the grid's, the added ones, the doubles.
    pub(super) places: Vec<Place>,
    /// Column and row of the grid of every node; the lower ends for added ones.
    pub(super) columns_and_rows: Vec<[u32; 2]>,
    /// The double that an element uses in place of a node.
    doubles: HashMap<(u32, Element), u32>,
    has_double: Vec<bool>,
    pub(super) parts: Vec<PartEdge>,
    pub(super) contacts: Vec<ContactEdge>,
}

/// A curve with the number of the part or contact it belongs to.
pub(super) type Named = (usize, Curve);

impl SectionMesh {
    /// Meshes a layout on a grid whose lines run through all its edges and corners.
    pub(super) fn new(grid: Grid, layout: &Layout, parts: &[Named], contacts: &[Named]) -> Self {
        let tolerance = layout.tolerance();
        let slanted: Vec<Curve> =
            layout.pieces.iter().map(|p| p.curve).filter(|c| c.constant_coordinate(tolerance).is_none()).collect();
        let cuts = Cuts::new(&grid, &slanted);
        let [columns, rows] = grid.cells();
        let mut fills = vec![HOLE; columns * rows];
        let mut triangles = Vec::new();
        let mut of_cell = HashMap::new();
        let finder = layout.finder();
        let number = |what: What| match what {
            What::Nothing => HOLE,
            What::Fill(fill) => fill as u16,
        };
        for j in 0..rows {
            for i in 0..columns {
                let cell = j * columns + i;
                if !cuts.touches(&grid, i, j) {
                    let (a, b) = (grid.place(i, j), grid.place(i + 1, j + 1));
                    fills[cell] = number(finder.what_at([0, 1].map(|k| f64::midpoint(a[k], b[k]))));
                    continue;
                }
                fills[cell] = CUT;
                let first = triangles.len();
                for nodes in cuts.triangles(&grid, i, j) {
                    let p = nodes.map(|n| cuts.place(&grid, n));
                    let fill = number(finder.what_at([0, 1].map(|k| (p[0][k] + p[1][k] + p[2][k]) / 3.0)));
                    if fill != HOLE {
                        triangles.push(Triangle { nodes, fill });
                    }
                }
                of_cell.insert(cell as u32, first..triangles.len());
            }
        }
        let nodes = grid.axes[0].len() * grid.axes[1].len();
        let mut places: Vec<Place> = (0..nodes).map(|n| cuts.place(&grid, n as u32)).collect();
        places.extend(&cuts.places);
        let wide = grid.columns();
        let mut columns_and_rows: Vec<[u32; 2]> = (0..nodes).map(|n| [(n % wide) as u32, (n / wide) as u32]).collect();
        columns_and_rows.extend(&cuts.columns_and_rows);
        let has_double = vec![false; places.len()];
        let mut mesh = SectionMesh {
            grid,
            fills,
            triangles,
            of_cell,
            places,
            columns_and_rows,
            doubles: HashMap::new(),
            has_double,
            parts: Vec::new(),
            contacts: Vec::new(),
        };
        mesh.name_edges(&cuts, parts, contacts, 4.0 * tolerance);
        mesh
    }

    fn cells(&self) -> usize {
        self.fills.len()
    }

    /// Corners of a cell before doubling: lower left, lower right, upper right, upper left.
    pub(super) fn corners(&self, cell: u32) -> [u32; 4] {
        let columns = self.grid.cells()[0];
        let (i, j) = (cell as usize % columns, cell as usize / columns);
        [self.grid.node(i, j), self.grid.node(i + 1, j), self.grid.node(i + 1, j + 1), self.grid.node(i, j + 1)]
    }

    /// The node that an element uses at a corner.
    pub(super) fn node(&self, element: Element, corner: u32) -> u32 {
        if self.has_double[corner as usize] {
            self.doubles.get(&(corner, element)).copied().unwrap_or(corner)
        } else {
            corner
        }
    }

    /// Finds the edges of the boundary and of the contacts, doubles nodes, and gives names.
    fn name_edges(&mut self, cuts: &Cuts, parts: &[Named], contacts: &[Named], tolerance: f64) {
        let edges = self.edges(cuts, contacts, tolerance);
        let on = |named: &[Named], places: &[Place], edge: &Edge| {
            let [a, b] = edge.nodes.map(|n| places[n as usize]);
            let holds = |c: &Curve| c.parameter_of(a, tolerance).is_some() && c.parameter_of(b, tolerance).is_some();
            named.iter().find(|(_, curve)| holds(curve)).copied()
        };
        let mut separating: HashMap<[u32; 2], usize> = HashMap::new();
        let mut kept = Vec::new();
        for edge in &edges {
            if let [Some(one), Some(other)] = edge.elements
                && let Some((contact, curve)) = on(contacts, &self.places, edge)
            {
                separating.insert(edge.nodes, contact);
                kept.push((contact, curve, edge.nodes, [one, other]));
            }
        }
        // Nodes whose elements may hang together by a corner only, or not at all.
        let mut suspects: Vec<u32> = edges
            .iter()
            .filter(|e| e.elements[1].is_none() || separating.contains_key(&e.nodes))
            .flat_map(|e| e.nodes)
            .collect();
        suspects.sort_unstable();
        suspects.dedup();
        self.double(&suspects, &separating);

        for (contact, curve, nodes, elements) in kept {
            // The first side lies to the left of the contact's line.
            let [a, b] = nodes.map(|n| self.places[n as usize]);
            let middle = [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])];
            let t = curve.parameter_of(middle, f64::INFINITY).unwrap_or(0.5);
            let d = curve.direction(t);
            let c = self.centre(elements[0]);
            let left = d[0] * (c[1] - middle[1]) - d[1] * (c[0] - middle[0]) > 0.0;
            let ordered = if left { elements } else { [elements[1], elements[0]] };
            let sides = ordered.map(|e| nodes.map(|n| self.node(e, n)));
            self.contacts.push(ContactEdge { contact, sides });
        }
        for edge in &edges {
            if let [Some(element), None] = edge.elements
                && let Some((part, _)) = on(parts, &self.places, edge)
            {
                self.parts.push(PartEdge { part, nodes: edge.nodes.map(|n| self.node(element, n)) });
            }
        }
    }

    /// Centre of an element.
    pub(super) fn centre(&self, element: Element) -> Place {
        let mean = |nodes: &[u32]| {
            [0, 1].map(|k| nodes.iter().map(|n| self.places[*n as usize][k]).sum::<f64>() / nodes.len() as f64)
        };
        match (element as usize).checked_sub(self.cells()) {
            Some(triangle) => mean(&self.triangles[triangle].nodes),
            None => mean(&self.corners(element)),
        }
    }

    /// Edges with material on one side only, edges of triangles, and edges on contacts.
    fn edges(&self, cuts: &Cuts, contacts: &[Named], tolerance: f64) -> Vec<Edge> {
        let [columns, rows] = self.grid.cells();
        let cell = |i: Option<usize>, j: Option<usize>| match (i, j) {
            (Some(i), Some(j)) if i < columns && j < rows => Some((j * columns + i) as u32),
            _ => None,
        };
        let contact_levels: [Vec<f64>; 2] = [0, 1].map(|axis| {
            contacts
                .iter()
                .filter(|(_, curve)| curve.constant_coordinate(tolerance) == Some(axis))
                .map(|(_, curve)| curve.at(0.5)[axis])
                .collect()
        });
        let mut edges = Vec::new();
        let mut cut_edges: HashMap<[u32; 2], Vec<Element>> = HashMap::new();
        // Sides of the grid: along the second axis between columns, along the first between rows.
        for (axis, levels) in contact_levels.iter().enumerate() {
            let lines = self.grid.axes[axis].len();
            let along = if axis == 0 { rows } else { columns };
            for line in 0..lines {
                let on_contact = levels.iter().any(|l| (l - self.grid.axes[axis][line]).abs() <= tolerance);
                for k in 0..along {
                    let (i, j) = if axis == 0 { (line, k) } else { (k, line) };
                    let cells = if axis == 0 {
                        [cell(i.checked_sub(1), Some(j)), cell(Some(i), Some(j))]
                    } else {
                        [cell(Some(i), j.checked_sub(1)), cell(Some(i), Some(j))]
                    };
                    let from = self.grid.node(i, j);
                    let to = if axis == 0 { self.grid.node(i, j + 1) } else { self.grid.node(i + 1, j) };
                    let kinds = cells.map(|c| c.map_or(HOLE, |c| self.fills[c as usize]));
                    let whole = |n: usize| (kinds[n] != HOLE && kinds[n] != CUT).then_some(cells[n]).flatten();
                    if kinds.contains(&CUT) {
                        if !cuts.on_side(from, 1 - axis as u8) {
                            let side = cut_edges.entry([from.min(to), from.max(to)]).or_default();
                            side.extend([whole(0), whole(1)].into_iter().flatten());
                        }
                        continue;
                    }
                    match [whole(0), whole(1)] {
                        [Some(a), None] | [None, Some(a)] => {
                            edges.push(Edge { nodes: [from, to], elements: [Some(a), None] });
                        }
                        [Some(a), Some(b)] if on_contact => {
                            edges.push(Edge { nodes: [from, to], elements: [Some(a), Some(b)] });
                        }
                        _ => {}
                    }
                }
            }
        }
        for (t, triangle) in self.triangles.iter().enumerate() {
            let element = (self.cells() + t) as u32;
            for k in 0..3 {
                let (a, b) = (triangle.nodes[k], triangle.nodes[(k + 1) % 3]);
                cut_edges.entry([a.min(b), a.max(b)]).or_default().push(element);
            }
        }
        let mut of_cuts: Vec<Edge> = cut_edges
            .into_iter()
            .filter(|(_, elements)| !elements.is_empty())
            .map(|(nodes, elements)| Edge { nodes, elements: [Some(elements[0]), elements.get(1).copied()] })
            .collect();
        of_cuts.sort_unstable_by_key(|e| e.nodes);
        edges.extend(of_cuts);
        edges
    }

    /// Gives each group of elements about a node that hangs together by edges a node of its own.
    fn double(&mut self, suspects: &[u32], separating: &HashMap<[u32; 2], usize>) {
        let mut about: HashMap<u32, Vec<Element>> = suspects.iter().map(|n| (*n, Vec::new())).collect();
        for (t, triangle) in self.triangles.iter().enumerate() {
            for node in triangle.nodes {
                if let Some(elements) = about.get_mut(&node) {
                    elements.push((self.cells() + t) as u32);
                }
            }
        }
        let [columns, rows] = self.grid.cells();
        let grid_nodes = self.grid.axes[0].len() * self.grid.axes[1].len();
        for node in suspects {
            let Some(mut elements) = about.remove(node) else { continue };
            if (*node as usize) < grid_nodes {
                let (i, j) = (*node as usize % self.grid.columns(), *node as usize / self.grid.columns());
                for (di, dj) in [(1, 1), (0, 1), (1, 0), (0, 0)] {
                    let (Some(ci), Some(cj)) = (i.checked_sub(di), j.checked_sub(dj)) else { continue };
                    if ci < columns && cj < rows {
                        let fill = self.fills[cj * columns + ci];
                        if fill != HOLE && fill != CUT {
                            elements.push((cj * columns + ci) as u32);
                        }
                    }
                }
            }
            // Elements that share an edge at the node get the same group.
            let mut group: Vec<usize> = (0..elements.len()).collect();
            for a in 0..elements.len() {
                for b in 0..a {
                    let joined = self.neighbours(elements[a], *node).iter().any(|w| {
                        self.neighbours(elements[b], *node).contains(w)
                            && !separating.contains_key(&[(*w).min(*node), (*w).max(*node)])
                    });
                    if joined && group[a] != group[b] {
                        let (from, to) = (group[a].max(group[b]), group[a].min(group[b]));
                        group.iter_mut().filter(|g| **g == from).for_each(|g| *g = to);
                    }
                }
            }
            let mut groups = group.clone();
            groups.sort_unstable();
            groups.dedup();
            for other in groups.iter().skip(1) {
                let double = self.places.len() as u32;
                self.places.push(self.places[*node as usize]);
                self.columns_and_rows.push(self.columns_and_rows[*node as usize]);
                self.has_double[*node as usize] = true;
                for (element, g) in elements.iter().zip(&group) {
                    if g == other {
                        self.doubles.insert((*node, *element), double);
                    }
                }
            }
        }
        self.has_double.resize(self.places.len(), false);
    }

    /// The other ends of the two edges of an element at one of its corners.
    fn neighbours(&self, element: Element, node: u32) -> [u32; 2] {
        let around = |nodes: &[u32]| {
            let n = nodes.len();
            let k = nodes.iter().position(|m| *m == node).unwrap_or(0);
            [nodes[(k + 1) % n], nodes[(k + n - 1) % n]]
        };
        match (element as usize).checked_sub(self.cells()) {
            Some(triangle) => around(&self.triangles[triangle].nodes),
            None => around(&self.corners(element)),
        }
    }
}
