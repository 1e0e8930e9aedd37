//! Lines of a section that carry a name: parts of its boundary, contacts.

use super::curve::{Curve, Place};
use super::shape::{Point, plain};
use crate::error::{Error, ErrorKind};
use crate::units::{Angle, Length, Si};

/// A straight line or an arc in a section. Its first side is the one on the left when it is walked along.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    curve: Curve,
}

impl Line {
    /// The straight line between two points.
    pub fn straight(from: Point, to: Point) -> Self {
        Line { curve: Curve::Straight(plain(from), plain(to)) }
    }

    /// Part of the circle about `centre`: from one angle to another against the first axis, counter-clockwise where
    /// the second is the larger one.
    pub fn arc(centre: Point, radius: Length, from: Angle, to: Angle) -> Self {
        Line { curve: Curve::Arc { centre: plain(centre), radius: radius.si(), angles: [from.si(), to.si()] } }
    }

    /// The same line walked the other way: its sides change places.
    #[must_use]
    pub fn reversed(&self) -> Self {
        Line {
            curve: match self.curve {
                Curve::Straight(a, b) => Curve::Straight(b, a),
                Curve::Arc { centre, radius, angles: [a, b] } => Curve::Arc { centre, radius, angles: [b, a] },
            },
        }
    }

    pub(crate) fn curve(&self) -> &Curve {
        &self.curve
    }

    /// Refuses what has no length or is more than a full circle.
    pub(super) fn check(&self, thinnest: f64) -> Result<(), Error> {
        let [a, b] = self.curve.ends();
        let turn = match self.curve {
            Curve::Straight(..) => 0.0,
            Curve::Arc { angles: [from, to], .. } => (to - from).abs(),
        };
        let finite = |p: Place| p.iter().all(|v| v.is_finite());
        if !(finite(a) && finite(b) && self.curve.length() >= thinnest && turn <= 1.000_001 * std::f64::consts::TAU) {
            return Err(Error::new(ErrorKind::OutOfRange, "a line is too short or not finite")
                .with_value(format!("({} m, {} m) to ({} m, {} m)", a[0], a[1], b[0], b[1]))
                .with_accepted(format!("at least {thinnest} m long, at most one turn")));
        }
        Ok(())
    }
}
