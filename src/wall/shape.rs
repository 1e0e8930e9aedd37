//! Rectangles, polygons and discs: what a section is laid out from.

use std::f64::consts::TAU;

use super::curve::{Curve, Place, distance};
use crate::error::{Error, ErrorKind};
use crate::units::{Length, Si, write};

/// A point of a section: x and y of a plane one, radius and height of one about an axis.
pub type Point = [Length; 2];

/// An area of a section.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    outline: Outline,
    /// Two opposite corners of a rectangle that it does not leave.
    clip: Option<[Place; 2]>,
}

#[derive(Debug, Clone, PartialEq)]
enum Outline {
    Rectangle([Place; 2]),
    Polygon(Vec<Place>),
    Disc { centre: Place, radius: f64 },
}

pub(super) fn plain(point: Point) -> Place {
    point.map(Si::si)
}

/// A point as people write it.
pub(crate) fn spell(p: Place) -> String {
    format!("({}, {})", write(Length::from_si(p[0])), write(Length::from_si(p[1])))
}

fn sorted(a: Place, b: Place) -> [Place; 2] {
    if a.iter().chain(&b).any(|v| v.is_nan()) {
        // Kept for the check to find.
        return [[f64::NAN; 2]; 2];
    }
    [[a[0].min(b[0]), a[1].min(b[1])], [a[0].max(b[0]), a[1].max(b[1])]]
}

impl Shape {
    /// The rectangle with these two opposite corners.
    pub fn rectangle(corner: Point, opposite: Point) -> Self {
        Self::of(Outline::Rectangle(sorted(plain(corner), plain(opposite))))
    }

    /// The polygon with these corners, in either direction of turn; its sides must not cross or touch one another.
    pub fn polygon(corners: &[Point]) -> Self {
        Self::of(Outline::Polygon(corners.iter().map(|p| plain(*p)).collect()))
    }

    /// The disc about `centre`.
    pub fn disc(centre: Point, radius: Length) -> Self {
        Self::of(Outline::Disc { centre: plain(centre), radius: radius.si() })
    }

    fn of(outline: Outline) -> Self {
        Shape { outline, clip: None }
    }

    /// The part of it inside the rectangle with these two opposite corners: a quarter of a disc, a cut polygon.
    #[must_use]
    pub fn within(mut self, corner: Point, opposite: Point) -> Self {
        self.clip = Some(sorted(plain(corner), plain(opposite)));
        self
    }

    pub(crate) fn contains(&self, p: Place) -> bool {
        let inside = |[low, high]: &[Place; 2]| (0..2).all(|i| p[i] > low[i] && p[i] < high[i]);
        if self.clip.as_ref().is_some_and(|clip| !inside(clip)) {
            return false;
        }
        match &self.outline {
            Outline::Rectangle(r) => inside(r),
            Outline::Disc { centre, radius } => distance(p, *centre) < *radius,
            Outline::Polygon(corners) => {
                let mut odd = false;
                for (a, b) in sides(corners) {
                    if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) {
                        odd = !odd;
                    }
                }
                odd
            }
        }
    }

    /// Lines among which its outline is, monotone; parts of them outside the clipping rectangle do no harm.
    pub(super) fn edges(&self) -> Vec<Curve> {
        let mut edges = match &self.outline {
            Outline::Rectangle(r) => rectangle_edges(*r),
            Outline::Polygon(corners) => sides(corners).map(|(a, b)| Curve::Straight(a, b)).collect(),
            Outline::Disc { centre, radius } => {
                Curve::Arc { centre: *centre, radius: *radius, angles: [0.0, TAU] }.monotone()
            }
        };
        if let Some(clip) = self.clip {
            edges.extend(rectangle_edges(clip));
        }
        edges
    }

    /// Lower and upper ends of both coordinates.
    pub(super) fn bounds(&self) -> [Place; 2] {
        let [mut low, mut high] = match &self.outline {
            Outline::Rectangle(r) => *r,
            Outline::Disc { centre, radius } => [centre.map(|c| c - radius), centre.map(|c| c + radius)],
            Outline::Polygon(corners) => {
                let ends = |i: usize, f: fn(f64, f64) -> f64, from: f64| corners.iter().map(|p| p[i]).fold(from, f);
                [[0, 1].map(|i| ends(i, f64::min, f64::INFINITY)), [0, 1].map(|i| ends(i, f64::max, f64::NEG_INFINITY))]
            }
        };
        if let Some([from, to]) = &self.clip {
            for i in 0..2 {
                low[i] = low[i].max(from[i]);
                high[i] = high[i].min(to[i]);
            }
        }
        [low, high]
    }

    /// Refuses what is no area, sticks out of the frame, or is thinner than `thinnest` m. A shape about the axis
    /// may reach beyond it: the frame cuts it.
    pub(super) fn check(&self, frame: [Place; 2], thinnest: f64, about_axis: bool) -> Result<(), Error> {
        let numbers: Vec<f64> = match &self.outline {
            Outline::Rectangle(r) => r.iter().flatten().copied().collect(),
            Outline::Polygon(corners) => corners.iter().flatten().copied().collect(),
            Outline::Disc { centre, radius } => vec![centre[0], centre[1], *radius],
        };
        if let Some(bad) = numbers.iter().chain(self.clip.iter().flatten().flatten()).find(|v| !v.is_finite()) {
            return Err(Error::new(ErrorKind::OutOfRange, "not a finite number").with_value(bad.to_string()));
        }
        if let Outline::Polygon(corners) = &self.outline {
            check_polygon(corners, thinnest)?;
        }
        if let Outline::Disc { radius, .. } = &self.outline
            && *radius < thinnest
        {
            return Err(Error::new(ErrorKind::OutOfRange, "a radius is too small")
                .with_value(write(Length::from_si(*radius)))
                .with_accepted(format!("at least {}", write(Length::from_si(thinnest)))));
        }
        let [low, high] = self.bounds();
        for i in 0..2 {
            if high[i] - low[i] < thinnest {
                return Err(Error::new(ErrorKind::OutOfRange, "a sliver: too thin to be meshed")
                    .with_value(format!(
                        "{} across, between {} and {}",
                        write(Length::from_si((high[i] - low[i]).max(0.0))),
                        spell(low),
                        spell(high)
                    ))
                    .with_accepted(format!("at least {}", write(Length::from_si(thinnest)))));
            }
        }
        let slack = 1e-3 * thinnest;
        let beyond = |i: usize| low[i] < frame[0][i] - slack || high[i] > frame[1][i] + slack;
        let cut_by_axis = about_axis && frame[0][0] == 0.0 && low[0] < 0.0 && high[0] <= frame[1][0] + slack;
        if (beyond(0) && !cut_by_axis) || beyond(1) {
            return Err(Error::new(ErrorKind::OutOfRange, "a shape reaches outside the frame")
                .with_value(format!("{} to {}", spell(low), spell(high)))
                .with_accepted(format!("inside {} to {}", spell(frame[0]), spell(frame[1]))));
        }
        Ok(())
    }
}

fn sides(corners: &[Place]) -> impl Iterator<Item = (Place, Place)> + '_ {
    (0..corners.len()).map(|i| (corners[i], corners[(i + 1) % corners.len()]))
}

/// Left, right, bottom, top.
pub(super) fn rectangle_edges([a, b]: [Place; 2]) -> Vec<Curve> {
    vec![
        Curve::Straight(a, [a[0], b[1]]),
        Curve::Straight([b[0], a[1]], b),
        Curve::Straight(a, [b[0], a[1]]),
        Curve::Straight([a[0], b[1]], b),
    ]
}

fn check_polygon(corners: &[Place], thinnest: f64) -> Result<(), Error> {
    let n = corners.len();
    if n < 3 {
        return Err(Error::new(ErrorKind::OutOfRange, "a polygon needs three corners")
            .with_value(format!("{n} corners"))
            .with_accepted("at least 3 corners"));
    }
    let edges: Vec<(Place, Place)> = sides(corners).collect();
    for (a, b) in &edges {
        if distance(*a, *b) < thinnest {
            return Err(Error::new(ErrorKind::OutOfRange, "a sliver: a side of the polygon is too short")
                .with_value(format!("{} to {}", spell(*a), spell(*b)))
                .with_accepted(format!("at least {}", write(Length::from_si(thinnest)))));
        }
    }
    for i in 0..n {
        for j in i + 1..n {
            let (one, other) = (Curve::Straight(edges[i].0, edges[i].1), Curve::Straight(edges[j].0, edges[j].1));
            let neighbours = j == i + 1 || (i == 0 && j == n - 1);
            let tolerance = 0.1 * thinnest;
            let crossing = one.meets(&other, tolerance).into_iter().map(|t| one.at(t)).find(|p| {
                // Neighbours share one corner and nothing else.
                let shared = if j == i + 1 { edges[j].0 } else { edges[i].0 };
                !neighbours || distance(*p, shared) > thinnest
            });
            if let Some(p) = crossing {
                return Err(Error::new(ErrorKind::OutOfRange, "the polygon crosses or touches itself")
                    .with_value(format!("at {}", spell(p)))
                    .with_accepted("a simple polygon"));
            }
        }
    }
    // Twice the area over the longest side is more than the height of the thinnest triangle in it.
    let area: f64 = edges.iter().map(|(a, b)| 0.5 * (a[0] * b[1] - a[1] * b[0])).sum::<f64>().abs();
    let longest = edges.iter().map(|(a, b)| distance(*a, *b)).fold(0.0, f64::max);
    if area / longest < thinnest {
        return Err(Error::new(ErrorKind::OutOfRange, "a sliver: the polygon is too thin to be meshed")
            .with_value(format!("{} across at {}", write(Length::from_si(area / longest)), spell(corners[0])))
            .with_accepted(format!("at least {}", write(Length::from_si(thinnest)))));
    }
    Ok(())
}
