//! Where the materials of a section meet: its shapes cut into pieces of line, each with what lies on its two sides.

use super::Fill;
use super::curve::{Curve, Place, distance};
use super::shape::{Shape, rectangle_edges, spell};
use crate::error::{Error, ErrorKind};

/// What is found at a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum What {
    /// Outside the frame or in a hole.
    Nothing,
    /// The fill with this number.
    Fill(usize),
}

/// A stretch of line that nothing crosses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Piece {
    pub(crate) curve: Curve,
    /// What lies to the left and to the right of it.
    pub(crate) sides: [What; 2],
    /// The contact on it.
    pub(crate) contact: Option<usize>,
    /// The named part of the boundary it belongs to.
    pub(crate) part: Option<usize>,
}

/// Shapes in the order they were laid, and the pieces of line where something changes.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Layout {
    pub(crate) frame: [Place; 2],
    pub(crate) shapes: Vec<(Shape, Option<usize>)>,
    pub(crate) pieces: Vec<Piece>,
}

/// Points closer than this share of the size of the frame are one point.
const SAME: f64 = 1e-9;
/// How far beside a line one looks for what is there, as a share of the size of the frame.
const BESIDE: f64 = 1e-7;
/// Two lines of the mesh must be this share of the size of the frame apart, or coincide.
pub(super) const THINNEST: f64 = 2e-6;

/// The larger side of a frame.
pub(crate) fn size_of([a, b]: [Place; 2]) -> f64 {
    (b[0] - a[0]).max(b[1] - a[1])
}

impl Layout {
    /// Cuts checked shapes, contacts and parts into pieces.
    ///
    /// # Errors
    /// An area that no shape covers, a contact on a line where nothing meets, a part of the boundary where there is
    /// none or that has a name already.
    pub(super) fn new(
        frame: [Place; 2],
        about_axis: bool,
        shapes: Vec<(Shape, Option<usize>)>,
        fills: &[Fill],
        contacts: &[(String, Vec<Curve>)],
        parts: &[(String, Vec<Curve>)],
    ) -> Result<Self, Error> {
        let mut layout = Layout { frame, shapes, pieces: Vec::new() };
        let tolerance = layout.tolerance();
        let mut edges = rectangle_edges(frame);
        edges.extend(layout.shapes.iter().flat_map(|(shape, _)| shape.edges()));
        let named = |lines: &[(String, Vec<Curve>)]| -> Vec<(usize, Curve)> {
            let lines = lines.iter().enumerate().flat_map(|(i, (_, lines))| lines.iter().map(move |line| (i, *line)));
            lines.flat_map(|(i, line)| line.monotone().into_iter().map(move |curve| (i, curve))).collect()
        };
        let (contact_lines, part_lines) = (named(contacts), named(parts));
        let all: Vec<Curve> =
            edges.iter().chain(contact_lines.iter().chain(&part_lines).map(|(_, curve)| curve)).copied().collect();

        for edge in &edges {
            for curve in split(edge, &all, tolerance) {
                let sides = layout.sides(&curve)?;
                let alike = match sides {
                    [What::Fill(a), What::Fill(b)] => fills[a] == fills[b],
                    [a, b] => a == b,
                };
                let contact = contact_lines.iter().find(|(_, line)| lies_on(&curve, line, tolerance)).map(|(i, _)| *i);
                let part = part_lines.iter().find(|(_, line)| lies_on(&curve, line, tolerance)).map(|(i, _)| *i);
                if (!alike || contact.is_some()) && !layout.has(&curve, tolerance) {
                    layout.pieces.push(Piece { curve, sides, contact, part });
                }
            }
        }
        let is_fill = |side: &What| matches!(side, What::Fill(_));
        for (lines, of_contact) in [(&contact_lines, true), (&part_lines, false)] {
            for (i, line) in lines {
                let name = if of_contact { &contacts[*i].0 } else { &parts[*i].0 };
                for curve in split(line, &all, tolerance) {
                    let piece = layout.pieces.iter().find(|p| distance(p.curve.at(0.5), curve.at(0.5)) < tolerance);
                    let solid = piece.map_or(0, |p| p.sides.iter().filter(|s| is_fill(s)).count());
                    let (place, on_axis) = (spell(curve.at(0.5)), about_axis && curve.at(0.5)[0].abs() < tolerance);
                    let refuse = |problem: &str, accepted: &str| {
                        Err(Error::new(ErrorKind::Inconsistent, problem)
                            .with_value(format!("at {place}"))
                            .with_accepted(accepted)
                            .within(name.clone()))
                    };
                    if of_contact && solid != 2 {
                        return refuse(
                            "a contact on a line that is no interface",
                            "an edge of a shape with material on both sides",
                        );
                    }
                    if !of_contact && (solid != 1 || on_axis) {
                        return refuse(
                            "a part of the boundary where there is none",
                            "an edge with material on one side only, off the axis",
                        );
                    }
                    let given = piece.and_then(|p| if of_contact { p.contact } else { p.part });
                    if given != Some(*i) {
                        return refuse("two names for one stretch of line", "one contact or part for each stretch");
                    }
                }
            }
        }
        if !layout.pieces.iter().any(|p| p.sides.iter().any(is_fill)) {
            return Err(Error::new(ErrorKind::Inconsistent, "nothing but holes").with_accepted("some material"));
        }
        layout.check_spacing(THINNEST * layout.size())?;
        Ok(layout)
    }

    /// The larger side of the frame, m.
    pub(crate) fn size(&self) -> f64 {
        size_of(self.frame)
    }

    /// Points closer than this are one point, m.
    pub(crate) fn tolerance(&self) -> f64 {
        SAME * self.size()
    }

    fn has(&self, curve: &Curve, tolerance: f64) -> bool {
        let middle = curve.at(0.5);
        self.pieces.iter().any(|p| distance(p.curve.at(0.5), middle) < tolerance)
    }

    /// What lies at a point that is on no line; `None` where no shape covers it.
    fn find(&self, p: Place) -> Option<What> {
        if (0..2).any(|i| p[i] < self.frame[0][i] || p[i] > self.frame[1][i]) {
            return Some(What::Nothing);
        }
        let (_, fill) = self.shapes.iter().rev().find(|(shape, _)| shape.contains(p))?;
        Some(fill.map_or(What::Nothing, What::Fill))
    }

    /// For many questions about what lies where.
    pub(crate) fn finder(&self) -> Finder<'_> {
        Finder { layout: self, bounds: self.shapes.iter().map(|(shape, _)| shape.bounds()).collect() }
    }

    fn sides(&self, curve: &Curve) -> Result<[What; 2], Error> {
        let beside = BESIDE * self.size();
        let look = |away: f64| {
            let p = curve.left_of(0.5, away);
            self.find(p).ok_or_else(|| {
                Error::new(ErrorKind::Inconsistent, "an area that no shape covers")
                    .with_value(format!("at {}", spell(p)))
                    .with_accepted("shapes or holes everywhere in the frame")
            })
        };
        Ok([look(beside)?, look(-beside)?])
    }

    /// Refuses lines of the mesh that nearly coincide.
    fn check_spacing(&self, thinnest: f64) -> Result<(), Error> {
        let tolerance = self.tolerance();
        for axis in 0..2 {
            let mut at: Vec<(f64, Place)> = Vec::new();
            for piece in &self.pieces {
                match piece.curve.constant_coordinate(tolerance) {
                    Some(constant) if constant == axis => at.push((piece.curve.at(0.5)[axis], piece.curve.at(0.5))),
                    Some(_) => {}
                    None => at.extend(piece.curve.ends().map(|p| (p[axis], p))),
                }
            }
            at.sort_by(|a, b| a.0.total_cmp(&b.0));
            if let Some(w) = at.windows(2).find(|w| w[1].0 - w[0].0 > 2.0 * tolerance && w[1].0 - w[0].0 < thinnest) {
                return Err(Error::new(ErrorKind::OutOfRange, "a sliver: two edges or corners nearly coincide")
                    .with_value(format!("at {} and {}", spell(w[0].1), spell(w[1].1)))
                    .with_accepted(format!("the same or at least {thinnest:e} m apart")));
            }
        }
        Ok(())
    }
}

/// Shapes with the rectangles that bound them, so that most are passed over at a glance.
pub(crate) struct Finder<'l> {
    layout: &'l Layout,
    bounds: Vec<[Place; 2]>,
}

impl Finder<'_> {
    /// What lies at a point of the frame that is on no line.
    pub(crate) fn what_at(&self, p: Place) -> What {
        let near = |[low, high]: &[Place; 2]| (0..2).all(|i| p[i] >= low[i] && p[i] <= high[i]);
        let shapes = self.layout.shapes.iter().zip(&self.bounds).rev();
        let found = shapes.filter(|(_, bounds)| near(bounds)).find(|((shape, _), _)| shape.contains(p));
        // Every point was found to be covered when the layout was made.
        found.and_then(|((_, fill), _)| *fill).map_or(What::Nothing, What::Fill)
    }
}

/// The pieces of a curve between the places where others meet it.
fn split(curve: &Curve, others: &[Curve], tolerance: f64) -> Vec<Curve> {
    let mut at = vec![0.0, 1.0];
    for other in others {
        at.extend(curve.meets(other, tolerance));
    }
    at.sort_by(f64::total_cmp);
    let long = curve.length();
    at.dedup_by(|b, a| (*b - *a) * long < 2.0 * tolerance);
    at.windows(2).map(|w| curve.part(w[0], w[1])).collect()
}

/// Whether a piece is part of a line that was split at its ends.
fn lies_on(piece: &Curve, line: &Curve, tolerance: f64) -> bool {
    [0.25, 0.5, 0.75].iter().all(|t| line.parameter_of(piece.at(*t), tolerance).is_some())
}
