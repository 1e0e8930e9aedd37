//! A meshed section as conductances between unknowns, heat capacities, and areas of its named parts.

use std::cmp::Ordering;
use std::f64::consts::{PI, TAU};

use super::section_mesh::{CUT, HOLE, SectionMesh};
use crate::numeric::counting_sort::sort_by_number;
use crate::wall::Place;

/// How a part of the boundary takes part in a network.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Meeting {
    /// The surface has the temperature of a port.
    Held {
        /// Which port.
        port: usize,
    },
    /// Something between the surface and a port.
    Film {
        /// Which port.
        port: usize,
        /// The number of the law of its coefficient.
        law: usize,
    },
}

/// What a conductance is proportional to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Proportion {
    /// The conductivity of a fill.
    Fill(u16),
    /// The coefficient of a contact; true if the second unknown of the pair is on its first side.
    Contact(u16, bool),
    /// The coefficient of a film.
    Film(u16),
}

/// A share in the conductance of a pair.
#[derive(Debug, Clone, Copy)]
pub(super) struct Term {
    pub(super) proportion: Proportion,
    /// Times the coefficient it is proportional to: the conductance, W/K per extent.
    pub(super) factor: f64,
}

/// A volume of a fill that belongs to an unknown.
#[derive(Debug, Clone, Copy)]
pub(super) struct Store {
    pub(super) unknown: u32,
    pub(super) fill: u16,
    /// m³ per extent.
    pub(super) volume: f64,
}

/// Area of a part at one of its nodes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Share {
    pub(super) part: usize,
    pub(super) node: u32,
    /// m² per extent.
    pub(super) area: f64,
}

/// No unknown: a node that no element uses.
pub(super) const UNUSED: u32 = u32::MAX;

/// Everything that does not depend on temperature.
#[derive(Debug)]
pub(super) struct Assembly {
    /// Unknowns inside; the ports follow.
    pub(super) interior: usize,
    /// Ports.
    pub(super) ports: usize,
    /// Unknown of every node of the mesh.
    pub(super) unknown: Vec<u32>,
    /// Column and row of the grid of every interior unknown: for the order of elimination.
    pub(super) position: Vec<[u32; 2]>,
    /// Pairs of unknowns that exchange heat, the smaller number first, sorted.
    pub(super) pairs: Vec<[u32; 2]>,
    /// First term of every pair, and one past the last.
    pub(super) starts: Vec<u32>,
    pub(super) terms: Vec<Term>,
    pub(super) stores: Vec<Store>,
    pub(super) shares: Vec<Share>,
}

impl Assembly {
    /// Assembles a mesh; `factors` are conductivities along the axes as multiples of each fill's, `meetings` what
    /// happens at each part.
    pub(super) fn new(
        mesh: &SectionMesh,
        about_axis: bool,
        factors: &[[f64; 2]],
        meetings: &[Vec<Meeting>],
        ports: usize,
    ) -> Self {
        let several = 4 * mesh.fills.len();
        let mut parts = Parts {
            mesh,
            about_axis,
            factors,
            exchanges: Vec::with_capacity(several),
            stores: Vec::with_capacity(several),
        };
        parts.cells();
        parts.triangles();
        parts.contacts();
        let Parts { mut exchanges, mut stores, .. } = parts;

        // Nodes that a port holds, then the interior ones in the order of the grid.
        let mut unknown = vec![UNUSED; mesh.places.len()];
        let mut used = vec![false; mesh.places.len()];
        for store in &stores {
            used[store.unknown as usize] = true;
        }
        let mut held: Vec<Option<(usize, usize)>> = vec![None; mesh.places.len()];
        for edge in &mesh.parts {
            for meeting in &meetings[edge.part] {
                if let Meeting::Held { port } = meeting {
                    for n in edge.nodes {
                        // Where two parts with prescribed temperatures meet, the part named later holds the node.
                        let slot = &mut held[n as usize];
                        if slot.is_none_or(|(part, _)| part <= edge.part) {
                            *slot = Some((edge.part, *port));
                        }
                    }
                }
            }
        }
        let mut position = Vec::new();
        for n in 0..mesh.places.len() {
            if used[n] && held[n].is_none() {
                unknown[n] = position.len() as u32;
                position.push(mesh.columns_and_rows[n]);
            }
        }
        let interior = position.len();
        for (n, held) in held.iter().enumerate() {
            if let (true, Some((_, port))) = (used[n], held) {
                unknown[n] = (interior + port) as u32;
            }
        }

        let mut shares = Vec::new();
        for edge in &mesh.parts {
            let [a, b] = edge.nodes;
            for (node, other) in [(a, b), (b, a)] {
                shares.push(Share { part: edge.part, node, area: edge_share(mesh, about_axis, node, other) });
            }
        }
        exchanges.retain_mut(|exchange| {
            let [u, v] = exchange.pair.map(|n| unknown[n as usize]);
            exchange.pair = [u.min(v), u.max(v)];
            if let Proportion::Contact(_, swapped) = &mut exchange.proportion {
                *swapped = u > v;
            }
            u != v
        });
        for share in &shares {
            for meeting in &meetings[share.part] {
                if let Meeting::Film { port, law } = meeting {
                    let (u, v) = (unknown[share.node as usize], (interior + port) as u32);
                    if u != v {
                        let pair = [u.min(v), u.max(v)];
                        exchanges.push(Exchange {
                            pair,
                            proportion: Proportion::Film(*law as u16),
                            factor: share.area,
                        });
                    }
                }
            }
        }
        let exchanges = sorted(
            &exchanges,
            interior + ports,
            |e| e.pair[0],
            |a, b| (a.pair[1], a.proportion).cmp(&(b.pair[1], b.proportion)).then(a.factor.total_cmp(&b.factor)),
        );
        let mut assembly = Assembly {
            interior,
            ports,
            position,
            pairs: Vec::with_capacity(exchanges.len()),
            starts: Vec::with_capacity(exchanges.len()),
            terms: Vec::with_capacity(exchanges.len()),
            stores: Vec::new(),
            shares,
            unknown,
        };
        for Exchange { pair, proportion, factor } in exchanges {
            if assembly.pairs.last() != Some(&pair) {
                assembly.pairs.push(pair);
                assembly.starts.push(assembly.terms.len() as u32);
            } else if let Some(last) = assembly.terms.last_mut()
                && last.proportion == proportion
            {
                last.factor += factor;
                continue;
            }
            assembly.terms.push(Term { proportion, factor });
        }
        assembly.starts.push(assembly.terms.len() as u32);
        for store in &mut stores {
            store.unknown = assembly.unknown[store.unknown as usize];
        }
        let stores = sorted(
            &stores,
            interior + ports,
            |s| s.unknown,
            |a, b| a.fill.cmp(&b.fill).then(a.volume.total_cmp(&b.volume)),
        );
        for store in stores {
            match assembly.stores.last_mut() {
                Some(last) if (last.unknown, last.fill) == (store.unknown, store.fill) => last.volume += store.volume,
                _ => assembly.stores.push(store),
            }
        }
        assembly
    }

    /// The terms of a pair.
    pub(super) fn terms_of(&self, pair: usize) -> &[Term] {
        &self.terms[self.starts[pair] as usize..self.starts[pair + 1] as usize]
    }
}

/// The items by the unknown that comes first in them, those of one unknown by a comparison: a sum over equal ones is then
/// the same in whatever order a mesh was walked through.
fn sorted<T: Copy>(
    items: &[T],
    unknowns: usize,
    first: impl Fn(&T) -> u32,
    compare: impl Fn(&T, &T) -> Ordering,
) -> Vec<T> {
    let mut sorted = sort_by_number(unknowns, items, |item| first(item) as usize);
    for of_one in sorted.chunk_by_mut(|a, b| first(a) == first(b)) {
        of_one.sort_unstable_by(&compare);
    }
    sorted
}

/// Area that belongs to `node` of the edge from it to `other`: half of it, or half of its band about the axis.
fn edge_share(mesh: &SectionMesh, about_axis: bool, node: u32, other: u32) -> f64 {
    let (a, b) = (mesh.places[node as usize], mesh.places[other as usize]);
    let length = (b[0] - a[0]).hypot(b[1] - a[1]);
    if about_axis { TAU * length * (3.0 * a[0] + b[0]) / 8.0 } else { 0.5 * length }
}

/// A share in what two nodes (later: two unknowns, the smaller number first) exchange.
#[derive(Debug, Clone, Copy)]
struct Exchange {
    pair: [u32; 2],
    proportion: Proportion,
    factor: f64,
}

/// Gathers conductances between nodes and volumes at nodes.
struct Parts<'m> {
    mesh: &'m SectionMesh,
    about_axis: bool,
    factors: &'m [[f64; 2]],
    exchanges: Vec<Exchange>,
    /// With nodes in place of unknowns.
    stores: Vec<Store>,
}

impl Parts<'_> {
    /// Whole cells: each side exchanges heat through half the cell.
    fn cells(&mut self) {
        let mesh = self.mesh;
        let [columns, rows] = mesh.grid.cells();
        for j in 0..rows {
            let (bottom, top) = (mesh.grid.axes[1][j], mesh.grid.axes[1][j + 1]);
            let height = top - bottom;
            // Where material reaches the axis, temperature is smooth there; elsewhere it goes with the logarithm.
            let solid = mesh.grid.axes[0][0] == 0.0 && mesh.fills[j * columns] != HOLE;
            for i in 0..columns {
                let cell = (j * columns + i) as u32;
                let fill = mesh.fills[cell as usize];
                if fill == HOLE || fill == CUT {
                    continue;
                }
                let (left, right) = (mesh.grid.axes[0][i], mesh.grid.axes[0][i + 1]);
                let middle = f64::midpoint(left, right);
                // Across the left and right half, along the first axis: conductance over conductivity and height.
                let (halves, across) = if !self.about_axis {
                    ([middle - left, right - middle], 1.0 / (right - left))
                } else {
                    let ring = |a: f64, b: f64| PI * (b - a) * (b + a);
                    let across =
                        if solid || left == 0.0 { TAU * middle / (right - left) } else { TAU / (right / left).ln() };
                    ([ring(left, middle), ring(middle, right)], across)
                };
                let nodes = mesh.corners(cell).map(|n| mesh.node(cell, n));
                let [fx, fy] = self.factors[fill as usize];
                let kind = Proportion::Fill(fill);
                let along = 0.5 * height * across * fx;
                let up = halves.map(|half| half / height * fy);
                for (a, b, factor) in [(0, 1, along), (3, 2, along), (0, 3, up[0]), (1, 2, up[1])] {
                    self.exchanges.push(Exchange { pair: [nodes[a], nodes[b]], proportion: kind, factor });
                }
                for (node, half) in [(0, 0), (3, 0), (1, 1), (2, 1)] {
                    self.stores.push(Store { unknown: nodes[node], fill, volume: 0.5 * height * halves[half] });
                }
            }
        }
    }

    /// Triangles: linear elements.
    fn triangles(&mut self) {
        let mesh = self.mesh;
        for (t, triangle) in mesh.triangles.iter().enumerate() {
            let element = (mesh.fills.len() + t) as u32;
            let nodes = triangle.nodes.map(|n| mesh.node(element, n));
            let p = nodes.map(|n| mesh.places[n as usize]);
            let factors = self.factors[triangle.fill as usize];
            let (conductances, volumes) = triangle_shares(p, factors, self.about_axis);
            let largest = conductances.iter().fold(0.0_f64, |m, g| m.max(g.abs()));
            for (k, g) in conductances.into_iter().enumerate() {
                // The side opposite a right angle carries nothing.
                if g.abs() > 1e-11 * largest {
                    self.exchanges.push(Exchange {
                        pair: [nodes[(k + 1) % 3], nodes[(k + 2) % 3]],
                        proportion: Proportion::Fill(triangle.fill),
                        factor: g,
                    });
                }
            }
            for (node, volume) in nodes.into_iter().zip(volumes) {
                self.stores.push(Store { unknown: node, fill: triangle.fill, volume });
            }
        }
    }

    fn contacts(&mut self) {
        for edge in &self.mesh.contacts {
            for end in 0..2 {
                let [first, second] = edge.sides.map(|side| side[end]);
                if first != second {
                    let area = edge_share(self.mesh, self.about_axis, first, edge.sides[0][1 - end]);
                    self.exchanges.push(Exchange {
                        pair: [first, second],
                        proportion: Proportion::Contact(edge.contact as u16, false),
                        factor: area,
                    });
                }
            }
        }
    }
}

/// Conductance over conductivity of the three sides of a triangle, each counted by the corner opposite, and volumes
/// at the three corners.
fn triangle_shares(p: [Place; 3], factors: [f64; 2], about_axis: bool) -> ([f64; 3], [f64; 3]) {
    let opposite = |k: usize| {
        let (a, b) = (p[(k + 1) % 3], p[(k + 2) % 3]);
        [b[0] - a[0], b[1] - a[1]]
    };
    let sides = [opposite(0), opposite(1), opposite(2)];
    let area = 0.5 * (sides[2][0] * sides[0][1] - sides[2][1] * sides[0][0]).abs();
    let radius = (p[0][0] + p[1][0] + p[2][0]) / 3.0;
    let weight = if about_axis { TAU * radius } else { 1.0 };
    let dot = |k: usize| {
        let (a, b) = (sides[(k + 1) % 3], sides[(k + 2) % 3]);
        // Gradients are the sides turned by a right angle.
        factors[0] * a[1] * b[1] + factors[1] * a[0] * b[0]
    };
    let conductances = [0, 1, 2].map(|k| -weight * dot(k) / (4.0 * area));
    let volumes = [0, 1, 2].map(|k| {
        if about_axis {
            TAU * area * (p[k][0] + 3.0 * radius) / 12.0
        } else {
            // The corner at a right angle of sides along the axes owns half, as it does in a whole cell.
            let flat = |k: usize| sides[k][0] == 0.0 || sides[k][1] == 0.0;
            match (0..3).find(|c| flat((c + 1) % 3) && flat((c + 2) % 3)) {
                Some(corner) if corner == k => area / 2.0,
                Some(_) => area / 4.0,
                None => area / 3.0,
            }
        }
    });
    (conductances, volumes)
}
