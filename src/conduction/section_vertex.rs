//! Points of a section near which heat flow converges slowly: re-entrant corners, corners and meetings of materials,
//! ends of contacts, jumps of what happens at the boundary.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use crate::wall::{Layout, Piece, Place, What};

/// A point where pieces of line end.
#[derive(Debug, Clone)]
pub(super) struct Vertex {
    pub(super) at: Place,
    /// Whether the temperature is less smooth here than elsewhere.
    pub(super) singular: bool,
    /// Whether a line that is along no axis ends here.
    pub(super) aslant: bool,
    /// Whether a line along an axis ends here.
    pub(super) aligned: bool,
}

/// A piece as seen from its end.
struct Ray<'l> {
    angle: f64,
    /// What lies on the side to which angles grow.
    after: What,
    piece: &'l Piece,
}

/// Angles nearer than this are equal.
const SAME_ANGLE: f64 = 1e-6;

/// All vertices of a layout.
pub(super) fn vertices(layout: &Layout) -> Vec<Vertex> {
    let tolerance = layout.tolerance();
    let mut found: Vec<(Place, Vec<Ray<'_>>)> = Vec::new();
    for piece in &layout.pieces {
        for end in 0..2 {
            let t = end as f64;
            let at = piece.curve.at(t);
            let d = piece.curve.direction(t);
            let [left, right] = piece.sides;
            let (d, after) = if end == 0 { (d, left) } else { ([-d[0], -d[1]], right) };
            let ray = Ray { angle: d[1].atan2(d[0]), after, piece };
            let near = |p: &Place| (0..2).all(|i| (p[i] - at[i]).abs() < 4.0 * tolerance);
            match found.iter_mut().find(|(p, _)| near(p)) {
                Some((_, rays)) => rays.push(ray),
                None => found.push((at, vec![ray])),
            }
        }
    }
    found
        .into_iter()
        .map(|(at, mut rays)| {
            rays.sort_by(|a, b| a.angle.total_cmp(&b.angle));
            let along = |ray: &Ray<'_>| ray.piece.curve.constant_coordinate(tolerance).is_some();
            Vertex {
                at,
                singular: singular(&rays),
                aslant: rays.iter().any(|r| !along(r)),
                aligned: rays.iter().any(along),
            }
        })
        .collect()
}

fn singular(rays: &[Ray<'_>]) -> bool {
    let n = rays.len();
    if n < 2 {
        return true;
    }
    let sector = |k: usize| {
        let next = rays[(k + 1) % n].angle + if k + 1 == n { TAU } else { 0.0 };
        (next - rays[k].angle, rays[k].after)
    };
    let solid: Vec<(usize, f64)> =
        (0..n).map(|k| (k, sector(k))).filter(|(_, (_, w))| *w != What::Nothing).map(|(k, (a, _))| (k, a)).collect();
    let is = |angle: f64, wanted: f64| (angle - wanted).abs() < SAME_ANGLE;
    if solid.len() == n {
        // Inside the material: only a straight line with the same contact all along is smooth.
        return !(n == 2 && is(solid[0].1, PI) && rays[0].piece.contact == rays[1].piece.contact);
    }
    let parts: Vec<Option<usize>> = rays
        .iter()
        .filter(|r| r.piece.sides.contains(&What::Nothing))
        .map(|r| r.piece.part)
        .collect();
    let whole: f64 = solid.iter().map(|(_, a)| a).sum();
    let jump = parts.windows(2).any(|w| w[0] != w[1]);
    let both_named = parts.iter().all(Option::is_some);
    match solid.len() {
        1 if whole > PI + SAME_ANGLE => true,
        1 if is(whole, PI) => jump,
        // An insulated side of a right angle is a mirror.
        1 => jump && (both_named || !is(whole, FRAC_PI_2)),
        // An interface that meets a straight mirror at a right angle leaves it smooth.
        2 => jump || both_named || !(is(whole, PI) && is(solid[0].1, FRAC_PI_2)),
        _ => true,
    }
}
