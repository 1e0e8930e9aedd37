//! Points of a section near which heat flow converges slowly: re-entrant corners, corners and meetings of materials,
//! ends of contacts, jumps of what happens at the boundary.
//!
//! Near such a point the temperature departs from its value there by the distance to some power below the second. That
//! power follows from conductivities and angles alone (see [`exponent`]) and tells how fine the mesh must be there.

use std::f64::consts::{PI, TAU};

use crate::wall::{Layout, Piece, Place, What};

/// A point where pieces of line end.
#[derive(Debug, Clone)]
pub(super) struct Vertex {
    pub(super) at: Place,
    /// Power of equal steps at which the nodes of a mesh should lie, counted from here; 1 where temperature is smooth.
    pub(super) grading: f64,
    /// Whether a line that is along no axis ends here.
    pub(super) aslant: bool,
    /// Whether this is a place where a line along an axis meets a slanted one that goes straight on: the mesh can do
    /// without a line of its own here.
    pub(super) passed: bool,
}

/// A piece as seen from its end.
struct Ray<'l> {
    angle: f64,
    /// What lies on the side to which angles grow.
    after: What,
    piece: &'l Piece,
}

/// What the vertices of a layout need to know beyond its lines.
pub(super) struct Surroundings<'s> {
    /// Conductivity of every fill, W/(m K).
    pub(super) conductivity: &'s [f64],
    /// Of every part: whether its temperature is prescribed.
    pub(super) held: &'s [bool],
}

/// With nodes at this power over the exponent of equal steps, the heat that a singular point gets wrong falls faster
/// than the square of the number of cells.
const MARGIN: f64 = 1.5;
const STRONGEST: f64 = 4.0;
/// At this power and above, equal steps will do.
const SMOOTH: f64 = 0.97;
/// How far along a piece its direction is taken.
const AHEAD: f64 = 0.02;
/// Grading where a surface coefficient jumps: heat flux does, too.
const FILM: f64 = 2.0;

/// All vertices of a layout.
pub(super) fn vertices(layout: &Layout, surroundings: &Surroundings<'_>) -> Vec<Vertex> {
    let tolerance = layout.tolerance();
    let mut found: Vec<(Place, Vec<Ray<'_>>)> = Vec::new();
    for piece in &layout.pieces {
        for end in 0..2 {
            let t = end as f64;
            let at = piece.curve.at(t);
            // A little way along, so that an arc and its tangent keep their order.
            let next = piece.curve.at((t - AHEAD).abs());
            let angle = (next[1] - at[1]).atan2(next[0] - at[0]);
            let [left, right] = piece.sides;
            let ray = Ray {
                // Rounding must not tear apart what points along the negative axis.
                angle: if angle < 1e-9 - PI { angle + TAU } else { angle },
                after: if end == 0 { left } else { right },
                piece,
            };
            let near = |p: &Place| (0..2).all(|i| (p[i] - at[i]).abs() < 4.0 * tolerance);
            match found.iter_mut().find(|(p, _)| near(p)) {
                Some((_, rays)) => rays.push(ray),
                None => found.push((at, vec![ray])),
            }
        }
    }
    let mut exponents = Exponents::default();
    found
        .into_iter()
        .map(|(at, mut rays)| {
            rays.sort_by(|a, b| a.angle.total_cmp(&b.angle));
            let along = |ray: &Ray<'_>| ray.piece.curve.constant_coordinate(tolerance).is_some();
            let power = smoothness(&rays, surroundings, &mut exponents);
            let grading = if power < SMOOTH { (MARGIN / power).min(STRONGEST) } else { 1.0 };
            Vertex {
                at,
                grading: if film_jumps(&rays) { grading.max(FILM) } else { grading },
                aslant: rays.iter().any(|r| !along(r)),
                passed: {
                    let slanted: Vec<f64> = rays.iter().filter(|r| !along(r)).map(|r| r.angle).collect();
                    let straight = matches!(slanted[..], [a, b] if ((a - b).abs() - PI).abs() < 0.1);
                    rays.iter().any(along) && (straight || slanted.len() == 1)
                },
            }
        })
        .collect()
}

/// Whether a coefficient at the surface jumps along it: at the end of a part that does not end in a right-angled corner to
/// a mirror, and where two materials meet under a film.
fn film_jumps(rays: &[Ray<'_>]) -> bool {
    let parts: Vec<Option<usize>> =
        rays.iter().filter(|r| r.piece.sides.contains(&What::Nothing)).map(|r| r.piece.part).collect();
    let materials = rays.iter().filter(|r| r.after != What::Nothing).count();
    let straight = rays.windows(2).any(|w| (w[1].angle - w[0].angle - PI).abs() < 0.1);
    let jump = parts.windows(2).any(|w| w[0] != w[1]) && (straight || parts.iter().all(Option::is_some));
    jump || (materials > 1 && parts.iter().any(Option::is_some))
}

/// The power of the distance with which the temperature departs from its value at a point, the smallest of those that the
/// sectors about it allow; 2 where it is smooth.
fn smoothness(rays: &[Ray<'_>], surroundings: &Surroundings<'_>, exponents: &mut Exponents) -> f64 {
    let n = rays.len();
    let sector = |k: usize| {
        let next = rays[(k + 1) % n].angle + if k + 1 == n { TAU } else { 0.0 };
        let angle = if n == 1 { TAU } else { next - rays[k].angle };
        match rays[k].after {
            What::Nothing => None,
            What::Fill(fill) => Some((angle, surroundings.conductivity[fill])),
        }
    };
    // A contact parts its sides ever more the nearer one looks: as the surface of an insulated cut.
    let ends = |k: usize| rays[k].piece.contact.is_some() || rays[k].piece.sides.contains(&What::Nothing);
    let held = |k: usize| rays[k].piece.part.is_some_and(|part| surroundings.held[part]);
    let Some(first) = (0..n).find(|k| ends(*k)) else {
        let sectors: Vec<(f64, f64)> = (0..n).filter_map(sector).collect();
        return exponents.of(&sectors, Closure::Round);
    };
    let mut least = 2.0_f64;
    let mut chain: Vec<(f64, f64)> = Vec::new();
    let mut from = first;
    for step in 0..n {
        let k = (first + step) % n;
        if ends(k) {
            chain.clear();
            from = k;
        }
        chain.extend(sector(k));
        let next = (k + 1) % n;
        if ends(next) && !chain.is_empty() {
            least = least.min(exponents.of(&chain, Closure::Between([held(from), held(next)])));
        }
    }
    least
}

/// Exponents that are known already: the corners of a staircase are all alike.
#[derive(Default)]
struct Exponents(Vec<Known>);

struct Known {
    sectors: Vec<(f64, f64)>,
    closure: Closure,
    exponent: f64,
}

impl Exponents {
    fn of(&mut self, sectors: &[(f64, f64)], closure: Closure) -> f64 {
        // Angles come from coordinates and differ in their last digits.
        let alike = |(a, b): (&(f64, f64), &(f64, f64))| (a.0 - b.0).abs() < 1e-9 && a.1 == b.1;
        let same = |known: &[(f64, f64)]| known.len() == sectors.len() && known.iter().zip(sectors).all(alike);
        if let Some(known) = self.0.iter().find(|known| known.closure == closure && same(&known.sectors)) {
            return known.exponent;
        }
        let exponent = exponent(sectors, closure);
        self.0.push(Known { sectors: sectors.to_vec(), closure, exponent });
        exponent
    }
}

/// What closes a row of sectors.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Closure {
    /// The last one meets the first.
    Round,
    /// Both ends are surfaces: held at a temperature or not.
    Between([bool; 2]),
}

/// The smallest positive power of the distance for which heat flows through sectors of angles (rad) and conductivities
/// without being stored: u = r^p (a cos pφ + b sin pφ) in each, with temperature and flux continuous. Not more than 2.
fn exponent(sectors: &[(f64, f64)], closure: Closure) -> f64 {
    // Temperature and flux (over r^(p-1) p) carried through all sectors.
    let carried = |p: f64, start: [f64; 2]| {
        sectors.iter().fold(start, |[u, q], (angle, k)| {
            let (sine, cosine) = (p * angle).sin_cos();
            [u * cosine + q / k * sine, q * cosine - u * k * sine]
        })
    };
    let value = |p: f64| match closure {
        Closure::Round => {
            let trace = carried(p, [1.0, 0.0])[0] + carried(p, [0.0, 1.0])[1];
            2.0 - trace
        }
        Closure::Between([from, to]) => {
            let end = carried(p, if from { [0.0, 1.0] } else { [1.0, 0.0] });
            if to { end[0] } else { end[1] }
        }
    };
    let steps = 400;
    let at = |k: i32| 2.0 * f64::from(k) / f64::from(steps);
    let mut values = [value(at(1)), value(at(2))];
    for k in 3..=steps {
        let next = value(at(k));
        if values[1] * next <= 0.0 {
            return at(k - 1);
        }
        // Round a point where all is alike the two roots fall together.
        let touches = values[1].abs() <= values[0].abs() && values[1].abs() <= next.abs() && values[1].abs() < 2e-3;
        if matches!(closure, Closure::Round) && touches {
            return at(k - 1);
        }
        values = [values[1], next];
    }
    2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exponents_of_plain_corners_are_the_textbook_ones() {
        // A corner of solid angle w between two surfaces alike: π/w; between unlike ones: half of it (Williams 1952).
        for angle in [1.5 * PI, TAU, 1.25 * PI] {
            for held in [false, true] {
                let p = exponent(&[(angle, 3.0)], Closure::Between([held, held]));
                assert!((p - PI / angle).abs() < 0.006, "{angle} {p}");
                let p = exponent(&[(angle, 3.0)], Closure::Between([held, !held]));
                assert!((p - 0.5 * PI / angle).abs() < 0.006, "{angle} {p}");
            }
        }
        // All alike: smooth, the gradient is the first power.
        assert!((exponent(&[(PI, 1.0), (PI, 1.0)], Closure::Round) - 1.0).abs() < 0.011);
        // Two quarters of conductivity a and two of b in turn: (4/π) atan √(b/a) (Kellogg 1975).
        for ratio in [4.0_f64, 100.0] {
            let quarter = 0.5 * PI;
            let sectors = [(quarter, ratio), (quarter, 1.0), (quarter, ratio), (quarter, 1.0)];
            let p = exponent(&sectors, Closure::Round);
            let exact = 4.0 / PI * (1.0 / ratio.sqrt()).atan();
            assert!((p - exact).abs() < 0.011, "{ratio}: {p} {exact}");
        }
        // A quarter that conducts far better than the rest: 2/3, as a corner of a conductor.
        assert!((exponent(&[(0.5 * PI, 1e6), (1.5 * PI, 1.0)], Closure::Round) - 2.0 / 3.0).abs() < 0.011);
    }
}
