//! Straight lines and arcs in the plane of a section, as plain numbers in metres.

/// A point or a direction, m.
pub(crate) type Place = [f64; 2];

/// A curve with its parameter running from 0 to 1. Curves that the mesh meets are monotone in both coordinates: an
/// arc then lies inside one quadrant of its circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Curve {
    /// From one point to another.
    Straight(Place, Place),
    /// Part of a circle, counter-clockwise where the second angle is the larger one.
    Arc {
        /// Centre of the circle, m.
        centre: Place,
        /// Radius, m.
        radius: f64,
        /// Angles of the ends against the first axis, rad.
        angles: [f64; 2],
    },
}

/// Length of a vector.
fn length(v: Place) -> f64 {
    v[0].hypot(v[1])
}

fn between(a: Place, b: Place) -> Place {
    [b[0] - a[0], b[1] - a[1]]
}

fn cross(a: Place, b: Place) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

/// Distance of two points.
pub(crate) fn distance(a: Place, b: Place) -> f64 {
    length(between(a, b))
}

impl Curve {
    /// The point at parameter `t`.
    pub(crate) fn at(&self, t: f64) -> Place {
        match self {
            Curve::Straight(a, _) if t == 0.0 => *a,
            Curve::Straight(_, b) if t == 1.0 => *b,
            Curve::Straight(a, b) => [0, 1].map(|i| a[i] + (b[i] - a[i]) * t),
            Curve::Arc { centre, radius, angles: [from, to] } => {
                let (sine, cosine) = (from + (to - from) * t).sin_cos();
                [centre[0] + radius * cosine, centre[1] + radius * sine]
            }
        }
    }

    /// Both ends.
    pub(crate) fn ends(&self) -> [Place; 2] {
        [self.at(0.0), self.at(1.0)]
    }

    /// Unit vector along the curve at `t`.
    pub(crate) fn direction(&self, t: f64) -> Place {
        match self {
            Curve::Straight(a, b) => {
                let v = between(*a, *b);
                let l = length(v);
                [v[0] / l, v[1] / l]
            }
            Curve::Arc { angles: [from, to], .. } => {
                let (sine, cosine) = (from + (to - from) * t).sin_cos();
                let turn = (to - from).signum();
                [-sine * turn, cosine * turn]
            }
        }
    }

    /// The point this far to the left of the point at `t`.
    pub(crate) fn left_of(&self, t: f64, away: f64) -> Place {
        let (p, d) = (self.at(t), self.direction(t));
        [p[0] - away * d[1], p[1] + away * d[0]]
    }

    /// Its length, m.
    pub(crate) fn length(&self) -> f64 {
        match self {
            Curve::Straight(a, b) => distance(*a, *b),
            Curve::Arc { radius, angles: [from, to], .. } => radius * (to - from).abs(),
        }
    }

    /// The part between two parameters.
    pub(crate) fn part(&self, from: f64, to: f64) -> Curve {
        match self {
            Curve::Straight(..) => Curve::Straight(self.at(from), self.at(to)),
            Curve::Arc { centre, radius, angles: [a, b] } => {
                Curve::Arc { centre: *centre, radius: *radius, angles: [a + (b - a) * from, a + (b - a) * to] }
            }
        }
    }

    /// The coordinate (0 or 1) that stays the same along it, within `tolerance`, if one does.
    pub(crate) fn constant_coordinate(&self, tolerance: f64) -> Option<usize> {
        let Curve::Straight(a, b) = self else { return None };
        (0..2).find(|i| (a[*i] - b[*i]).abs() <= tolerance)
    }

    /// The parameter of the point of the curve within `tolerance` of `p`, if there is one.
    pub(crate) fn parameter_of(&self, p: Place, tolerance: f64) -> Option<f64> {
        let t = match self {
            Curve::Straight(a, b) => {
                let v = between(*a, *b);
                let w = between(*a, p);
                (v[0] * w[0] + v[1] * w[1]) / (v[0] * v[0] + v[1] * v[1])
            }
            Curve::Arc { centre, angles: [from, to], .. } => {
                let v = between(*centre, p);
                let middle = f64::midpoint(*from, *to);
                let mut angle = v[1].atan2(v[0]);
                angle += ((middle - angle) / std::f64::consts::TAU).round() * std::f64::consts::TAU;
                (angle - from) / (to - from)
            }
        };
        let t = t.clamp(0.0, 1.0);
        (distance(self.at(t), p) <= tolerance).then_some(t)
    }

    /// Parameters at which the other curve crosses, touches or begins to follow this one.
    pub(crate) fn meets(&self, other: &Curve, tolerance: f64) -> Vec<f64> {
        let mut at: Vec<f64> = other.ends().iter().filter_map(|p| self.parameter_of(*p, tolerance)).collect();
        let mut take = |p: Place| {
            if let (Some(t), Some(_)) = (self.parameter_of(p, tolerance), other.parameter_of(p, tolerance)) {
                at.push(t);
            }
        };
        match (self, other) {
            (Curve::Straight(a, b), Curve::Straight(c, d)) => {
                let (v, w) = (between(*a, *b), between(*c, *d));
                let sine = cross(v, w);
                if sine.abs() > 1e-12 * length(v) * length(w) {
                    let t = cross(between(*a, *c), w) / sine;
                    if (-1e-9..=1.0 + 1e-9).contains(&t) {
                        take(self.at(t));
                    }
                }
            }
            (Curve::Straight(a, b), Curve::Arc { centre, radius, .. })
            | (Curve::Arc { centre, radius, .. }, Curve::Straight(a, b)) => {
                let line = Curve::Straight(*a, *b);
                for t in line_through_circle(*a, *b, *centre, *radius) {
                    take(line.at(t));
                }
            }
            (Curve::Arc { centre: a, radius: r, .. }, Curve::Arc { centre: b, radius: s, .. }) => {
                let v = between(*a, *b);
                let d = length(v);
                if d > tolerance {
                    let along = (d * d + r * r - s * s) / (2.0 * d);
                    let across = (r * r - along * along).max(0.0).sqrt();
                    for side in [across, -across] {
                        take([0, 1].map(|i| {
                            let normal = [-v[1], v[0]][i];
                            a[i] + (along * v[i] + side * normal) / d
                        }));
                    }
                }
            }
        }
        at
    }

    /// The parameter at which coordinate `axis` has the value `level`, strictly between the ends; for monotone curves.
    pub(crate) fn at_level(&self, axis: usize, level: f64) -> Option<f64> {
        let [a, b] = self.ends().map(|p| p[axis]);
        if (level - a) * (level - b) >= 0.0 {
            return None;
        }
        match self {
            Curve::Straight(..) => Some((level - a) / (b - a)),
            Curve::Arc { centre, radius, angles: [from, to] } => {
                let share = ((level - centre[axis]) / radius).clamp(-1.0, 1.0);
                // Both angles with this coordinate; the one inside the quadrant counts.
                let first = if axis == 0 { share.acos() } else { share.asin() };
                let second = if axis == 0 { -first } else { std::f64::consts::PI - first };
                [first, second].into_iter().find_map(|angle| {
                    let middle = f64::midpoint(*from, *to);
                    let turns = ((middle - angle) / std::f64::consts::TAU).round();
                    let t = (angle + turns * std::f64::consts::TAU - from) / (to - from);
                    (-1e-9..=1.0 + 1e-9).contains(&t).then(|| t.clamp(0.0, 1.0))
                })
            }
        }
    }

    /// The curve cut into monotone parts.
    pub(crate) fn monotone(&self) -> Vec<Curve> {
        use std::f64::consts::FRAC_PI_2;
        let Curve::Arc { angles: [from, to], .. } = self else { return vec![*self] };
        let (low, high) = (from.min(*to), from.max(*to));
        let mut cuts = vec![0.0, 1.0];
        let mut quarter = (low / FRAC_PI_2).ceil();
        while quarter * FRAC_PI_2 < high {
            let t = (quarter * FRAC_PI_2 - from) / (to - from);
            if t > 1e-12 && t < 1.0 - 1e-12 {
                cuts.push(t);
            }
            quarter += 1.0;
        }
        cuts.sort_by(f64::total_cmp);
        cuts.windows(2).map(|w| self.part(w[0], w[1])).collect()
    }
}

/// Parameters on the line from `a` to `b` where it meets a circle, inside the line.
fn line_through_circle(a: Place, b: Place, centre: Place, radius: f64) -> Vec<f64> {
    let (v, w) = (between(a, b), between(centre, a));
    let (square, half, rest) =
        (v[0] * v[0] + v[1] * v[1], v[0] * w[0] + v[1] * w[1], w[0] * w[0] + w[1] * w[1] - radius * radius);
    let under = half * half - square * rest;
    // A line that touches is taken to touch although rounding lets it pass by.
    if under < -1e-9 * square * radius * radius {
        return Vec::new();
    }
    let root = under.max(0.0).sqrt();
    [(-half - root) / square, (-half + root) / square]
        .into_iter()
        .filter(|t| (-1e-9..=1.0 + 1e-9).contains(t))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_2, PI, TAU};

    fn close(a: Place, b: Place) {
        assert!(distance(a, b) < 1e-12, "{a:?} {b:?}");
    }

    #[test]
    fn crossings_of_lines_and_arcs_are_those_of_geometry() {
        let line = Curve::Straight([0.0, 0.0], [4.0, 4.0]);
        let other = Curve::Straight([0.0, 2.0], [4.0, 2.0]);
        assert_eq!(line.meets(&other, 1e-9), vec![0.5]);
        // 3-4-5: the line y = 3 meets the circle of radius 5 at x = 4.
        let arc = Curve::Arc { centre: [0.0, 0.0], radius: 5.0, angles: [0.0, FRAC_PI_2] };
        let level = Curve::Straight([0.0, 3.0], [8.0, 3.0]);
        let t = arc.meets(&level, 1e-9);
        assert_eq!(t.len(), 1);
        close(arc.at(t[0]), [4.0, 3.0]);
        close(arc.at(arc.at_level(0, 4.0).unwrap()), [4.0, 3.0]);
        close(arc.at(arc.at_level(1, 4.0).unwrap()), [3.0, 4.0]);
        assert_eq!(arc.at_level(1, 5.5), None);
        // Two circles of radius 5 with centres 6 apart meet 4 above the middle.
        let second = Curve::Arc { centre: [6.0, 0.0], radius: 5.0, angles: [FRAC_PI_2, PI] };
        let t = arc.meets(&second, 1e-9);
        assert_eq!(t.len(), 1);
        close(arc.at(t[0]), [3.0, 4.0]);
    }

    #[test]
    fn a_circle_has_four_monotone_quarters() {
        let circle = Curve::Arc { centre: [1.0, 1.0], radius: 2.0, angles: [0.0, TAU] };
        let quarters = circle.monotone();
        assert_eq!(quarters.len(), 4);
        assert!((quarters.iter().map(Curve::length).sum::<f64>() - 2.0 * TAU).abs() < 1e-12);
        close(quarters[2].at(0.0), [-1.0, 1.0]);
        close(quarters[0].left_of(0.0, 0.5), [2.5, 1.0]);
    }
}
