//! The plain walls that lead into a junction, as strips in the coordinates of its section: what a junction does beyond them
//! is its section less its strips.

use super::junction::{at, joint, plain};
use super::{Line, PotInSleeve, Section, Shape, Wall, WallCorner};
use crate::error::Error;
use crate::units::Si;

/// A plain wall of a junction on a part of its frame. Parts: `inside`, `outside`.
#[derive(Debug, Clone)]
pub(crate) struct Strip {
    pub(crate) section: Section,
    /// The axis across the wall.
    pub(crate) across: usize,
}

/// Where a strip lies in the frame of its junction.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lie {
    /// The axis across the wall.
    pub(crate) across: usize,
    /// Coordinate of the inner face, m, and whether the layers follow towards larger ones.
    pub(crate) inner: f64,
    pub(crate) rising: bool,
    /// From where to where along the other axis, m.
    pub(crate) along: [f64; 2],
    pub(crate) about_axis: bool,
}

impl Strip {
    /// A flat wall laid so.
    ///
    /// # Errors
    /// A wall that cannot lead into a junction: with airspaces or graded layers.
    pub(crate) fn new(wall: &Wall, lie: &Lie) -> Result<Self, Error> {
        let plain = plain(wall)?;
        let sign = if lie.rising { 1.0 } else { -1.0 };
        let faces: Vec<f64> = plain.faces().iter().map(|depth| lie.inner + sign * depth).collect();
        let place = |across: f64, along: f64| if lie.across == 0 { at(across, along) } else { at(along, across) };
        let [from, to] = lie.along;
        let (inner, outer) = (faces[0], faces[faces.len() - 1]);
        let (low, high) = (inner.min(outer), inner.max(outer));
        let frame = if lie.about_axis { Section::about_axis } else { Section::plane };
        let mut section = frame(place(low, from), place(high, to));
        for (k, fill) in plain.fills.iter().enumerate() {
            section = section.lay(Shape::rectangle(place(faces[k], from), place(faces[k + 1], to)), fill.clone());
        }
        let line = |across: f64| Line::straight(place(across, from), place(across, to));
        // The first side of a contact, to the left, is the inner one.
        let inner_on_left = lie.rising == (lie.across == 0);
        for (k, contact) in plain.contacts.iter().enumerate() {
            let joint_line = line(faces[k + 1]);
            let joint_line = if inner_on_left { joint_line } else { joint_line.reversed() };
            section = joint(section, format!("joint {}", k + 1), &[joint_line], *contact);
        }
        let section = section.part("inside", &[line(inner)]).part("outside", &[line(outer)]).build()?;
        Ok(Strip { section, across: lie.across })
    }
}

impl WallCorner {
    /// The junction with its plain walls, each as long as its inner face in the section.
    ///
    /// # Errors
    /// As [`WallCorner::build`].
    pub(crate) fn with_strips(&self) -> Result<(Section, Vec<Strip>), Error> {
        let junction = self.build()?;
        let strip = |k: usize| {
            let along = [0.0, junction.arms[k].inner_length.si()];
            Strip::new(&junction.arms[k].wall, &Lie { across: k, inner: 0.0, rising: false, along, about_axis: false })
        };
        let strips = vec![strip(0)?, strip(1)?];
        Ok((junction.section, strips))
    }
}

impl PotInSleeve {
    /// The section without gaps, with side, lid and base as strips in the order of the parts.
    ///
    /// # Errors
    /// As [`PotInSleeve::build`].
    pub(crate) fn with_strips(&self) -> Result<(Section, Vec<Strip>), Error> {
        let (radius, height) = (self.radius.si(), self.height.si());
        let strip = |across: usize, inner: f64, rising: bool, to: f64| {
            Strip::new(&self.wall, &Lie { across, inner, rising, along: [0.0, to], about_axis: true })
        };
        let strips =
            vec![strip(0, radius, true, height)?, strip(1, height, true, radius)?, strip(1, 0.0, false, radius)?];
        Ok((self.build()?, strips))
    }
}
