//! Another solver, for setups with constant properties: walls cut into cells of equal thickness (or equal ratio of
//! radii), time by the eigenvalues of the whole: no steps. It shares no code with the crate.

use std::f64::consts::{FRAC_2_PI, FRAC_PI_2, LN_2, PI};

use nalgebra::{DMatrix, DVector, SymmetricEigen};

/// A material: conductivity, W/(m K), and heat capacity, J/(m³ K).
#[derive(Clone, Copy)]
pub struct Stuff {
    pub k: f64,
    pub heat: f64,
}

/// A wall between an inner node and the room: what it passes per thickness.
#[derive(Clone, Copy)]
pub enum Piece {
    /// m²
    Flat(f64),
    /// A share of a full cylinder (1, or 1/4 for an edge) of this length and inner radius, m.
    Round { share: f64, length: f64, radius: f64 },
}

/// A pot before walls of one thickness and material.
pub struct Lines {
    pub stuff: Stuff,
    pub thickness: f64,
    /// J/K
    pub pot: f64,
    /// Inside and outside, W/(m² K).
    pub films: [f64; 2],
    /// Inner faces: area that meets the inside film, and the pieces behind it.
    pub faces: Vec<(f64, Vec<Piece>)>,
}

/// What an edge of two equal walls passes between prescribed surface temperatures per conductivity and length, beyond
/// the inner areas (exact).
pub fn edge() -> f64 {
    1.0 - FRAC_2_PI * LN_2
}

/// Inner radius over thickness of the quarter of a cylinder that passes the same: ln(1 + 1/x) = (pi/2)/edge.
pub fn edge_radius() -> f64 {
    1.0 / ((FRAC_PI_2 / edge()).exp() - 1.0)
}

/// The edges of a face: half the length of each of its four, and what corners add (fitted to three-dimensional
/// solutions: three tenths of psi²/U for each corner).
pub fn edges_of(a: f64, b: f64, thickness: f64) -> Piece {
    let length = 0.5 * (2.0 * (a + b) + 8.0 * 0.1 * edge() * thickness);
    Piece::Round { share: 0.25, length, radius: edge_radius() * thickness }
}

/// The six faces of a box.
pub fn box_faces([w, d, h]: [f64; 3], thickness: f64) -> Vec<(f64, Vec<Piece>)> {
    [(w, d), (w, d), (w, h), (w, h), (d, h), (d, h)]
        .map(|(a, b)| (a * b, vec![Piece::Flat(a * b), edges_of(a, b, thickness)]))
        .to_vec()
}

/// Side, base and lid of a sleeve: the side as high as `height`, each round edge half to the side and half to the end.
pub fn sleeve_faces(radius: f64, height: f64, thickness: f64) -> Vec<(f64, Vec<Piece>)> {
    let round = 2.0 * PI * radius;
    let edge = |length: f64| Piece::Round { share: 0.25, length, radius: edge_radius() * thickness };
    let end = (PI * radius * radius, vec![Piece::Flat(PI * radius * radius), edge(0.5 * round)]);
    let side = Piece::Round { share: 1.0, length: height, radius };
    // Two equal ends are one of twice the size.
    let ends = (2.0 * end.0, end.1.iter().map(|piece| piece.times(2.0)).collect());
    vec![(round * height, vec![side, edge(round)]), ends]
}

impl Piece {
    /// So many of it side by side.
    pub fn times(&self, factor: f64) -> Self {
        match *self {
            Piece::Flat(area) => Piece::Flat(factor * area),
            Piece::Round { share, length, radius } => Piece::Round { share, length: factor * length, radius },
        }
    }

    /// Area at a depth from the inner face, m².
    fn area(&self, depth: f64) -> f64 {
        match self {
            Piece::Flat(area) => *area,
            Piece::Round { share, length, radius } => 2.0 * PI * share * length * (radius + depth),
        }
    }

    /// Conductance between two depths over conductivity, m.
    fn through(&self, from: f64, to: f64) -> f64 {
        match self {
            Piece::Flat(area) => area / (to - from),
            Piece::Round { share, length, radius } => {
                2.0 * PI * share * length / ((radius + to) / (radius + from)).ln()
            }
        }
    }

    fn volume(&self, from: f64, to: f64) -> f64 {
        f64::midpoint(self.area(from), self.area(to)) * (to - from)
    }

    /// Depths of the nodes of `cells` cells.
    fn nodes(&self, thickness: f64, cells: usize) -> Vec<f64> {
        (0..=cells)
            .map(|i| {
                let s = i as f64 / cells as f64;
                match self {
                    Piece::Flat(_) => s * thickness,
                    Piece::Round { radius, .. } => radius * ((1.0 + thickness / radius).powf(s) - 1.0),
                }
            })
            .collect()
    }
}

impl Lines {
    /// Conductance from pot to room in a steady state, W/K.
    pub fn conductance(&self) -> f64 {
        self.faces
            .iter()
            .map(|(area, pieces)| {
                let behind: f64 = pieces
                    .iter()
                    .map(|p| {
                        let wall = self.stuff.k * p.through(0.0, self.thickness);
                        1.0 / (1.0 / wall + 1.0 / (self.films[1] * p.area(self.thickness)))
                    })
                    .sum();
                1.0 / (1.0 / (self.films[0] * area) + 1.0 / behind)
            })
            .sum()
    }

    /// Excess of the pot over the room at `times`, s, for an excess of 1 at first in the pot alone, with cells halved
    /// once and extrapolated, and an estimate of what is left.
    pub fn excess(&self, times: &[f64], cells: usize) -> Vec<(f64, f64)> {
        let (coarse, fine) = (self.march(times, cells), self.march(times, 2 * cells));
        coarse.iter().zip(&fine).map(|(c, f)| (f + (f - c) / 3.0, 0.2 * (f - c).abs())).collect()
    }

    fn march(&self, times: &[f64], cells: usize) -> Vec<f64> {
        // Node 0 is the pot.
        let mut capacity = vec![self.pot];
        let mut links: Vec<(usize, Option<usize>, f64)> = Vec::new();
        for (area, pieces) in &self.faces {
            let inner = capacity.len();
            capacity.push(0.0);
            links.push((0, Some(inner), self.films[0] * area));
            for piece in pieces {
                let depths = piece.nodes(self.thickness, cells);
                let mut before = inner;
                for pair in depths.windows(2) {
                    let node = capacity.len();
                    capacity.push(0.0);
                    let half = f64::midpoint(pair[0], pair[1]);
                    capacity[before] += self.stuff.heat * piece.volume(pair[0], half);
                    capacity[node] += self.stuff.heat * piece.volume(half, pair[1]);
                    links.push((before, Some(node), self.stuff.k * piece.through(pair[0], pair[1])));
                    before = node;
                }
                links.push((before, None, self.films[1] * piece.area(self.thickness)));
            }
        }
        let n = capacity.len();
        let root: Vec<f64> = capacity.iter().map(|c| c.sqrt()).collect();
        let mut matrix = DMatrix::<f64>::zeros(n, n);
        for (i, j, g) in links {
            matrix[(i, i)] += g / capacity[i];
            if let Some(j) = j {
                matrix[(j, j)] += g / capacity[j];
                matrix[(i, j)] -= g / (root[i] * root[j]);
                matrix[(j, i)] -= g / (root[i] * root[j]);
            }
        }
        let eigen = SymmetricEigen::new(matrix);
        let mut start = DVector::<f64>::zeros(n);
        start[0] = root[0];
        let weights = eigen.eigenvectors.transpose() * start;
        times
            .iter()
            .map(|t| {
                let sum: f64 =
                    (0..n).map(|m| eigen.eigenvectors[(0, m)] * weights[m] * (-eigen.eigenvalues[m] * t).exp()).sum();
                sum / root[0]
            })
            .collect()
    }
}

/// Itself checked against a lumped body: a wall that stores 2e-6 of what the pot does.
#[test]
fn lines_agree_with_a_lumped_body() {
    let stuff = Stuff { k: 0.03, heat: 2.5 };
    let faces = box_faces([0.3, 0.25, 0.2], 0.02);
    let lines = Lines { stuff, thickness: 0.02, pot: 9000.0, films: [9.0, 8.0], faces };
    let g = lines.conductance();
    for (t, (value, _)) in [1e3, 1e4, 1e5].iter().zip(lines.excess(&[1e3, 1e4, 1e5], 10)) {
        assert!((value - (-g * t / 9000.0).exp()).abs() < 2e-6, "{t} s: {value}");
    }
}
