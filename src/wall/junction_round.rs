//! Sections about an axis: a bridge through a wall, a pot in its sleeve.

use super::junction::{at, joint, plain};
use super::{Fill, Line, Section, Shape, Wall};
use crate::error::{Error, ErrorKind, Within};
use crate::units::bounds::{in_range, positive};
use crate::units::{Length, metres, write};

/// A round bar through a flat wall, square to it: a screw, the stem of a handle. The axis is that of the bar; the inner
/// face of the wall is at height zero, its outer face above. Parts: `inside`, `outside`, each with the surface of the bar
/// that sticks out there.
#[derive(Debug, Clone, PartialEq)]
pub struct Bridge {
    wall: Wall,
    radius: Length,
    fill: Fill,
    stubs: [Length; 2],
    head: Option<(Length, Length)>,
    reach: Option<Length>,
}

impl Bridge {
    /// A bar of this radius and material, flush with both faces of the wall.
    pub fn new(wall: Wall, radius: Length, fill: impl Into<Fill>) -> Self {
        Bridge { wall, radius, fill: fill.into(), stubs: [metres(0.0); 2], head: None, reach: None }
    }

    /// The same, sticking out so far inside and outside.
    #[must_use]
    pub fn with_stubs(self, inside: Length, outside: Length) -> Self {
        Bridge { stubs: [inside, outside], ..self }
    }

    /// The same with a round head of this radius and height on the outer face.
    #[must_use]
    pub fn with_head(self, radius: Length, height: Length) -> Self {
        Bridge { head: Some((radius, height)), ..self }
    }

    /// The same, cut out of the wall at another radius than four of its thicknesses off the bar.
    #[must_use]
    pub fn with_reach(self, radius: Length) -> Self {
        Bridge { reach: Some(radius), ..self }
    }

    /// The section with the bar.
    ///
    /// # Errors
    /// Numbers outside their ranges; a wall that is not flat or has airspaces or graded layers.
    pub fn build(&self) -> Result<Section, Error> {
        self.make(true).within("bridge")
    }

    /// The section without it: the plain wall on the same area.
    ///
    /// # Errors
    /// As [`Bridge::build`].
    pub fn plain(&self) -> Result<Section, Error> {
        self.make(false).within("bridge")
    }

    fn make(&self, bridged: bool) -> Result<Section, Error> {
        let wall = plain(&self.wall).within("wall")?;
        let t = wall.thickness();
        let radius = positive("radius", self.radius, metres(10.0))?;
        let [inner, outer] = self.stubs;
        let inner = in_range("stub inside", inner, metres(0.0), metres(10.0))?;
        let outer = in_range("stub outside", outer, metres(0.0), metres(10.0))?;
        let (head, high) = match self.head {
            Some((wide, high)) => (
                in_range("radius", wide, self.radius, metres(10.0)).within("head")?,
                positive("height", high, metres(1.0)).within("head")?,
            ),
            None => (radius, 0.0),
        };
        let reach = match self.reach {
            Some(reach) => positive("reach", reach, metres(50.0))?,
            None => head + 4.0 * t,
        };
        if reach <= head {
            return Err(Error::new(ErrorKind::Inconsistent, "the cut lies inside the bar")
                .with_value(write(metres(reach)))
                .with_accepted(format!("more than {}", write(metres(head))))
                .within("reach"));
        }
        let (below, above) = (-inner, t + outer.max(high));
        let mut section = Section::about_axis(at(0.0, below), at(reach, above))
            .hole(Shape::rectangle(at(0.0, below), at(reach, above)));
        let faces = wall.faces();
        for (k, fill) in wall.fills.iter().enumerate() {
            section = section.lay(Shape::rectangle(at(0.0, faces[k]), at(reach, faces[k + 1])), fill.clone());
        }
        let start = if bridged { radius } else { 0.0 };
        let head_start = if bridged { head } else { 0.0 };
        let mut inside = vec![Line::straight(at(start, 0.0), at(reach, 0.0))];
        let mut outside = vec![Line::straight(at(head_start, t), at(reach, t))];
        if bridged {
            section = section.lay(Shape::rectangle(at(0.0, -inner), at(radius, t + outer)), self.fill.clone());
            if high > 0.0 {
                section = section.lay(Shape::rectangle(at(0.0, t), at(head, t + high)), self.fill.clone());
            }
            inside.push(Line::straight(at(0.0, -inner), at(radius, -inner)));
            if inner > 0.0 {
                inside.push(Line::straight(at(radius, -inner), at(radius, 0.0)));
            }
            // Up the side of the head, across its shoulder, up the rest of the bar, and over the end.
            let mut outline = vec![(head, t)];
            if high > 0.0 && head > radius {
                outline.push((head, t + high));
            }
            if outer > high {
                outline.extend([(radius, t + high), (radius, t + outer)]);
            } else if high > 0.0 {
                outline.push((head, t + high));
            }
            outline.push((0.0, t + outer.max(high)));
            outline.dedup();
            for w in outline.windows(2) {
                outside.push(Line::straight(at(w[0].0, w[0].1), at(w[1].0, w[1].1)));
            }
        }
        for (k, contact) in wall.contacts.iter().enumerate() {
            let line = [Line::straight(at(reach, faces[k + 1]), at(start, faces[k + 1]))];
            section = joint(section, format!("joint {}", k + 1), &line, *contact);
        }
        section.part("inside", &inside).part("outside", &outside).build()
    }
}

/// A pot in a snug sleeve about the same axis, standing with its base at height zero. Layers run round side, lid and base.
/// Parts: `pot`, `side`, `top`, `base`.
#[derive(Debug, Clone, PartialEq)]
pub struct PotInSleeve {
    pub(super) radius: Length,
    pub(super) height: Length,
    pub(super) wall: Wall,
    gap: Option<(Length, Length, Fill)>,
}

impl PotInSleeve {
    /// A pot of these outer measures with a wall round it on all sides.
    pub fn new(radius: Length, height: Length, wall: Wall) -> Self {
        PotInSleeve { radius, height, wall, gap: None }
    }

    /// The same with gaps between pot and sleeve at the side and above, filled (with still air). The base stands on it.
    #[must_use]
    pub fn with_gap(self, side: Length, above: Length, fill: impl Into<Fill>) -> Self {
        PotInSleeve { gap: Some((side, above, fill.into())), ..self }
    }

    /// The section.
    ///
    /// # Errors
    /// Numbers outside their ranges; a wall that is not flat or has airspaces or graded layers.
    pub fn build(&self) -> Result<Section, Error> {
        self.make().within("pot in sleeve")
    }

    fn make(&self) -> Result<Section, Error> {
        let wall = plain(&self.wall).within("sleeve")?;
        let radius = positive("radius", self.radius, metres(10.0))?;
        let height = positive("height", self.height, metres(10.0))?;
        let (aside, above) = match &self.gap {
            Some((aside, above, _)) => (
                in_range("side", *aside, metres(0.0), metres(1.0)).within("gap")?,
                in_range("above", *above, metres(0.0), metres(1.0)).within("gap")?,
            ),
            None => (0.0, 0.0),
        };
        let faces = wall.faces();
        let reach = |k: usize| (radius + aside + faces[k], -faces[k], height + above + faces[k]);
        let (r, low, high) = reach(faces.len() - 1);
        let mut section = Section::about_axis(at(0.0, low), at(r, high));
        for k in (0..wall.fills.len()).rev() {
            let (r, low, high) = reach(k + 1);
            section = section.lay(Shape::rectangle(at(0.0, low), at(r, high)), wall.fills[k].clone());
        }
        if let Some((.., fill)) = self.gap.as_ref().filter(|_| aside > 0.0 || above > 0.0) {
            section = section.lay(Shape::rectangle(at(0.0, 0.0), at(radius + aside, height + above)), fill.clone());
        }
        section = section.hole(Shape::rectangle(at(0.0, 0.0), at(radius, height)));
        for (k, contact) in wall.contacts.iter().enumerate() {
            let (r, low, high) = reach(k + 1);
            let lines = [
                Line::straight(at(0.0, high), at(r, high)),
                Line::straight(at(r, high), at(r, low)),
                Line::straight(at(r, low), at(0.0, low)),
            ]
            .map(|line| line.reversed());
            section = joint(section, format!("joint {}", k + 1), &lines, *contact);
        }
        let line = |a: (f64, f64), b: (f64, f64)| Line::straight(at(a.0, a.1), at(b.0, b.1));
        section
            .part(
                "pot",
                &[
                    line((0.0, 0.0), (radius, 0.0)),
                    line((radius, 0.0), (radius, height)),
                    line((radius, height), (0.0, height)),
                ],
            )
            .part("side", &[line((r, low), (r, high))])
            .part("top", &[line((0.0, high), (r, high))])
            .part("base", &[line((0.0, low), (r, low))])
            .build()
    }
}
