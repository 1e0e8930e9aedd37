//! A section through walls: two-dimensional, plane or about an axis.

use super::curve::Curve;
use super::layout::{Layout, THINNEST, size_of};
use super::shape::{Point, Shape, plain, spell};
use super::{Contact, Fill, Line};
use crate::error::{Error, ErrorKind, Within};
use crate::units::{Length, Si, write};

/// Shapes of material laid out in a frame, with the contacts between them and names for the parts of their boundary.
///
/// A plane section counts per metre of length across it; one about an axis, with the radius as first and the height
/// as second coordinate, for the whole turn. Boundary without a name is insulated, which also makes it a plane of
/// symmetry.
///
/// ```
/// use stillhot::{Fill, Line, Section, Shape, units::millimetres};
/// let at = |x: f64, y: f64| [millimetres(x), millimetres(y)];
/// // An edge of a box: cork 50 mm thick around the cavity, a strip of wood in the inner corner.
/// let section = Section::plane(at(-50.0, -50.0), at(200.0, 200.0))
///     .background(Fill::of("expanded-cork-board")?)
///     .hole(Shape::rectangle(at(0.0, 0.0), at(200.0, 200.0)))
///     .lay(Shape::polygon(&[at(0.0, 0.0), at(30.0, 0.0), at(0.0, 30.0)]), Fill::of("softwood-across-grain")?)
///     .part("inside", &[
///         Line::straight(at(0.0, 200.0), at(0.0, 30.0)),
///         Line::straight(at(0.0, 30.0), at(30.0, 0.0)),
///         Line::straight(at(30.0, 0.0), at(200.0, 0.0)),
///     ])
///     .part("outside", &[
///         Line::straight(at(-50.0, -50.0), at(200.0, -50.0)),
///         Line::straight(at(-50.0, -50.0), at(-50.0, 200.0)),
///     ])
///     .build()?;
/// assert_eq!(section.parts().count(), 2);
/// # Ok::<(), stillhot::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    about_axis: bool,
    fills: Vec<Fill>,
    contacts: Vec<(String, Vec<Line>, Contact)>,
    parts: Vec<(String, Vec<Line>)>,
    layout: Layout,
}

/// A section in the making; see [`Section`].
#[derive(Debug, Clone, PartialEq)]
pub struct SectionBuilder {
    about_axis: bool,
    corners: [Point; 2],
    shapes: Vec<(Shape, Option<usize>)>,
    fills: Vec<Fill>,
    contacts: Vec<(String, Vec<Line>, Contact)>,
    parts: Vec<(String, Vec<Line>)>,
}

/// Fills, parts and contacts are numbered by small integers on the mesh.
const MOST: usize = 10_000;

impl Section {
    /// A plane section in the frame with these two opposite corners, up to 100 m across.
    pub fn plane(corner: Point, opposite: Point) -> SectionBuilder {
        Self::framed(corner, opposite, false)
    }

    /// A section about an axis, radius first, in the frame with these two opposite corners.
    pub fn about_axis(corner: Point, opposite: Point) -> SectionBuilder {
        Self::framed(corner, opposite, true)
    }

    fn framed(corner: Point, opposite: Point, about_axis: bool) -> SectionBuilder {
        SectionBuilder {
            about_axis,
            corners: [corner, opposite],
            shapes: Vec::new(),
            fills: Vec::new(),
            contacts: Vec::new(),
            parts: Vec::new(),
        }
    }

    /// True if it is turned about the axis where the first coordinate is zero.
    pub fn is_about_axis(&self) -> bool {
        self.about_axis
    }

    /// Lower and upper corner of the frame.
    pub fn frame(&self) -> [Point; 2] {
        self.layout.frame.map(|p| p.map(Length::from_si))
    }

    /// The fills in the order they were laid.
    pub fn fills(&self) -> &[Fill] {
        &self.fills
    }

    /// Names of the parts of its boundary.
    pub fn parts(&self) -> impl Iterator<Item = &str> {
        self.parts.iter().map(|(name, _)| name.as_str())
    }

    /// The contacts with their names.
    pub fn contacts(&self) -> impl Iterator<Item = (&str, &Contact)> {
        self.contacts.iter().map(|(name, _, contact)| (name.as_str(), contact))
    }

    /// The number of a part.
    pub(crate) fn part(&self, name: &str) -> Result<usize, Error> {
        self.parts.iter().position(|(n, _)| n == name).ok_or_else(|| {
            let names: Vec<&str> = self.parts().collect();
            Error::new(ErrorKind::UnknownName, "no such part of the boundary")
                .with_value(name)
                .with_accepted(names.join(", "))
                .within("part")
        })
    }

    /// The lines of all parts with the number of the part, monotone.
    pub(crate) fn part_curves(&self) -> Vec<(usize, Curve)> {
        numbered(self.parts.iter().map(|(_, lines)| lines))
    }

    /// The lines of all contacts with the number of the contact, monotone.
    pub(crate) fn contact_curves(&self) -> Vec<(usize, Curve)> {
        numbered(self.contacts.iter().map(|(_, lines, _)| lines))
    }

    pub(crate) fn layout(&self) -> &Layout {
        &self.layout
    }
}

fn numbered<'l>(lines: impl Iterator<Item = &'l Vec<Line>>) -> Vec<(usize, Curve)> {
    let curves = lines.enumerate().flat_map(|(i, lines)| lines.iter().map(move |line| (i, line.curve().monotone())));
    curves.flat_map(|(i, curves)| curves.into_iter().map(move |curve| (i, curve))).collect()
}

impl SectionBuilder {
    fn fill(&mut self, fill: Fill) -> usize {
        self.fills.iter().position(|f| *f == fill).unwrap_or_else(|| {
            self.fills.push(fill);
            self.fills.len() - 1
        })
    }

    /// Fills the whole frame.
    #[must_use]
    pub fn background(self, fill: impl Into<Fill>) -> Self {
        let [a, b] = self.corners;
        self.lay(Shape::rectangle(a, b), fill)
    }

    /// Lays a shape of material over what was there.
    #[must_use]
    pub fn lay(mut self, shape: Shape, fill: impl Into<Fill>) -> Self {
        let number = self.fill(fill.into());
        self.shapes.push((shape, Some(number)));
        self
    }

    /// Cuts a hole into what was there.
    #[must_use]
    pub fn hole(mut self, shape: Shape) -> Self {
        self.shapes.push((shape, None));
        self
    }

    /// A contact on these lines, each along edges of shapes with material on both sides. An airspace counts with no
    /// thickness of its own here; its inner side is the left one of each line.
    #[must_use]
    pub fn contact(mut self, name: impl Into<String>, lines: &[Line], contact: Contact) -> Self {
        self.contacts.push((name.into(), lines.to_vec(), contact));
        self
    }

    /// A name for these lines of the boundary, where something can then happen.
    #[must_use]
    pub fn part(mut self, name: impl Into<String>, lines: &[Line]) -> Self {
        self.parts.push((name.into(), lines.to_vec()));
        self
    }

    /// Checks and makes the section.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for shapes that are no areas, reach outside the frame, or leave slivers, and for
    /// polygons that cross themselves; [`ErrorKind::Inconsistent`] for an area that nothing covers, a contact where
    /// there is no interface, a part where there is no boundary, or a name given twice. Each tells the place.
    pub fn build(self) -> Result<Section, Error> {
        self.make().within("section")
    }

    fn make(self) -> Result<Section, Error> {
        let [a, b] = self.corners.map(plain);
        let frame = [[a[0].min(b[0]), a[1].min(b[1])], [a[0].max(b[0]), a[1].max(b[1])]];
        let size = size_of(frame);
        let narrow = (frame[1][0] - frame[0][0]).min(frame[1][1] - frame[0][1]);
        if !(size <= 100.0 && narrow >= THINNEST * size && narrow >= 1e-6) {
            return Err(Error::new(ErrorKind::OutOfRange, "a frame is too large or too narrow")
                .with_value(format!("{} to {}", spell(frame[0]), spell(frame[1])))
                .with_accepted("0.001 mm to 100 m across")
                .within("frame"));
        }
        if self.about_axis && frame[0][0] < 0.0 {
            return Err(Error::new(ErrorKind::OutOfRange, "a radius below zero")
                .with_value(write(Length::from_si(frame[0][0])))
                .with_accepted("0 mm or more")
                .within("frame"));
        }
        let thinnest = THINNEST * size;
        for (what, count) in
            [("fills", self.fills.len()), ("parts", self.parts.len()), ("contacts", self.contacts.len())]
        {
            if count > MOST {
                return Err(Error::new(ErrorKind::OutOfRange, "too many to be numbered")
                    .with_value(count.to_string())
                    .with_accepted(format!("at most {MOST}"))
                    .within(what));
            }
        }
        for (i, (shape, _)) in self.shapes.iter().enumerate() {
            shape.check(frame, thinnest, self.about_axis).within(format!("shape {}", i + 1))?;
        }
        let mut names: Vec<&str> = Vec::new();
        let named =
            self.contacts.iter().map(|(name, lines, _)| (name, lines)).chain(self.parts.iter().map(|(n, l)| (n, l)));
        for (name, lines) in named {
            if names.contains(&name.as_str()) {
                return Err(Error::new(ErrorKind::Inconsistent, "a name is given twice").with_value(name.clone()));
            }
            names.push(name);
            if lines.is_empty() {
                return Err(Error::new(ErrorKind::Inconsistent, "no lines").within(name.clone()));
            }
            for line in lines {
                line.check(thinnest).within(name.clone())?;
            }
        }
        for (name, _, contact) in &self.contacts {
            contact.check().and_then(|()| contact.check_axis(false)).within(name.clone())?;
        }
        let curves = |lines: &[Line]| lines.iter().map(|line| *line.curve()).collect();
        let contacts: Vec<_> = self.contacts.iter().map(|(n, l, _)| (n.clone(), curves(l))).collect();
        let parts: Vec<_> = self.parts.iter().map(|(n, l)| (n.clone(), curves(l))).collect();
        let layout = Layout::new(frame, self.about_axis, self.shapes, &self.fills, &contacts, &parts)?;
        Ok(Section {
            about_axis: self.about_axis,
            fills: self.fills,
            contacts: self.contacts,
            parts: self.parts,
            layout,
        })
    }
}
