//! Sections that people build, from the walls that meet in them.

use super::{Contact, Fill, Layer, Line, Point, Section, SectionBuilder, Shape, Wall};
use crate::error::{Error, ErrorKind, Within};
use crate::material::Material;
use crate::units::bounds::{in_range, positive};
use crate::units::{Length, Si, metres, write};

/// A section of a junction with the plain walls that lead into it.
#[derive(Debug, Clone, PartialEq)]
pub struct Junction {
    pub(super) section: Section,
    pub(super) arms: Vec<JunctionArm>,
}

/// A plain wall of a junction.
#[derive(Debug, Clone, PartialEq)]
pub struct JunctionArm {
    /// The wall.
    pub wall: Wall,
    /// Length of its inner face in the section, up to where the inner faces meet.
    pub inner_length: Length,
    /// Length of its outer face in the section.
    pub outer_length: Length,
}

impl Junction {
    /// The section; its parts are named by the builder.
    pub fn section(&self) -> &Section {
        &self.section
    }

    /// The plain walls.
    pub fn arms(&self) -> &[JunctionArm] {
        &self.arms
    }
}

/// What fills an inner corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Filler {
    shape: FillerShape,
    fill: Fill,
}

#[derive(Debug, Clone, PartialEq)]
enum FillerShape {
    Straight([Length; 2]),
    Cove(Length),
}

impl Filler {
    /// A triangular strip with these legs along the first and second wall.
    pub fn straight(legs: [Length; 2], fill: impl Into<Fill>) -> Self {
        Filler { shape: FillerShape::Straight(legs), fill: fill.into() }
    }

    /// A strip with a hollow round face of this radius that runs into both walls.
    pub fn cove(radius: Length, fill: impl Into<Fill>) -> Self {
        Filler { shape: FillerShape::Cove(radius), fill: fill.into() }
    }

    /// What it is made of.
    pub fn fill(&self) -> &Fill {
        &self.fill
    }

    /// The same strip of another material.
    pub(crate) fn with_material(&self, material: Material) -> Self {
        Filler { shape: self.shape.clone(), fill: self.fill.with_material(material) }
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        self.legs().into_iter().try_for_each(|leg| positive("leg", metres(leg), metres(10.0)).map(|_| ()))
    }

    /// How far it reaches along the first and second wall, m.
    pub(crate) fn legs(&self) -> [f64; 2] {
        match self.shape {
            FillerShape::Straight(legs) => legs.map(Si::si),
            FillerShape::Cove(radius) => [radius.si(); 2],
        }
    }

    /// Area of its section, m².
    pub(crate) fn cross_section(&self) -> f64 {
        let [up, along] = self.legs();
        match self.shape {
            FillerShape::Straight(_) => 0.5 * up * along,
            FillerShape::Cove(_) => up * along * (1.0 - std::f64::consts::FRAC_PI_4),
        }
    }

    /// Where a share of its free face has been walked, from the first wall to the second: distances from the second and
    /// from the first wall, m.
    pub(crate) fn face(&self, share: f64) -> [f64; 2] {
        match self.shape {
            FillerShape::Straight([up, along]) => [(1.0 - share) * up.si(), share * along.si()],
            FillerShape::Cove(radius) => {
                let turn = share * std::f64::consts::FRAC_PI_2;
                [radius.si() * (1.0 - turn.sin()), radius.si() * (1.0 - turn.cos())]
            }
        }
    }
}

/// Two walls that meet in a corner: the first stands (at negative x), the second lies (at negative y), the cavity is
/// where both coordinates are positive. Parts: `inside`, `outside`.
///
/// Walls of equally many layers are nested, every layer running round the corner (the second wall's where the materials
/// differ); otherwise the first wall stands on the second.
///
/// ```
/// use stillhot::{Fill, Filler, Layer, Wall, WallCorner, units::millimetres};
/// let wall = Wall::planar().layer(Layer::of("expanded-cork-board", millimetres(50.0))?).build()?;
/// let strip = Filler::straight([millimetres(40.0); 2], Fill::of("softwood-across-grain")?);
/// let corner = WallCorner::new(wall.clone(), wall).with_filler(strip).build()?;
/// assert_eq!(corner.arms().len(), 2);
/// # Ok::<(), stillhot::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct WallCorner {
    walls: [Wall; 2],
    arms: Option<Length>,
    filler: Option<Filler>,
    void: Option<([Length; 2], Fill)>,
    parted: bool,
}

impl WallCorner {
    /// Two flat walls, inside first.
    pub fn new(standing: Wall, lying: Wall) -> Self {
        WallCorner { walls: [standing, lying], arms: None, filler: None, void: None, parted: false }
    }

    /// The same with other inner lengths of both walls than two of their thicknesses beyond what fills the corner.
    #[must_use]
    pub fn with_arms(self, length: Length) -> Self {
        WallCorner { arms: Some(length), ..self }
    }

    /// The same with its inner corner filled.
    #[must_use]
    pub fn with_filler(self, filler: Filler) -> Self {
        WallCorner { filler: Some(filler), ..self }
    }

    /// The same with an empty corner behind the innermost layer, the lining: the second layer stops these lengths short of
    /// the inner corner along the first and second wall, and `fill` (still air) is in its place.
    #[must_use]
    pub fn with_void(self, legs: [Length; 2], fill: impl Into<Fill>) -> Self {
        WallCorner { void: Some((legs, fill.into())), ..self }
    }

    /// The same with the outer faces of the two walls as parts of their own, by the names in [`OUTSIDE_OF`].
    pub(crate) fn with_outside_parted(self) -> Self {
        WallCorner { parted: true, ..self }
    }

    /// The junction.
    ///
    /// # Errors
    /// Walls that are not flat, have airspaces or graded layers; a filler or void that is longer than the arms; what
    /// [`SectionBuilder::build`] refuses.
    pub fn build(&self) -> Result<Junction, Error> {
        self.make().within("corner")
    }

    fn make(&self) -> Result<Junction, Error> {
        let [first, second] =
            [plain(&self.walls[0]).within("first wall")?, plain(&self.walls[1]).within("second wall")?];
        let (t, u) = (first.thickness(), second.thickness());
        let legs = self.filler.as_ref().map_or([0.0; 2], Filler::legs);
        if let Some(filler) = &self.filler {
            filler.check().within("filler")?;
        }
        // Two thicknesses beyond what is in the corner carry no more than a plain wall would.
        let own = |leg: f64| leg + 2.0 * t.max(u);
        let (up, along) = match self.arms {
            Some(length) => {
                let length = in_range("arms", length, metres(1e-3), metres(50.0))?;
                (length, length)
            }
            None => (own(legs[0]), own(legs[1])),
        };
        for (leg, arm) in [(legs[0], up), (legs[1], along)] {
            if leg >= arm {
                return Err(Error::new(ErrorKind::Inconsistent, "a filler longer than the arms")
                    .with_value(write(metres(leg)))
                    .with_accepted(format!("less than {}", write(metres(arm)))));
            }
        }
        let mut section = Section::plane(at(-t, -u), at(along, up));
        let (a, b) = (first.faces(), second.faces());
        let nested = a.len() == b.len();
        if nested {
            for k in (0..a.len() - 1).rev() {
                section = section
                    .lay(Shape::rectangle(at(-a[k + 1], -b[k + 1]), at(along, up)), first.fills[k].clone())
                    .lay(Shape::rectangle(at(-a[k + 1], -b[k + 1]), at(along, -b[k])), second.fills[k].clone());
            }
        } else {
            for k in 0..a.len() - 1 {
                section = section.lay(Shape::rectangle(at(-a[k + 1], 0.0), at(-a[k], up)), first.fills[k].clone());
            }
            for k in 0..b.len() - 1 {
                section = section.lay(Shape::rectangle(at(-t, -b[k + 1]), at(along, -b[k])), second.fills[k].clone());
            }
        }
        if let Some((lengths, fill)) = &self.void {
            let [l, m] = lengths.map(Si::si);
            if first.fills.len() < 2 || !nested || !(l > 0.0 && m > 0.0 && l < up && m < along) {
                return Err(Error::new(ErrorKind::Inconsistent, "no room for a void behind the lining")
                    .with_value(format!("{} by {}", write(metres(l)), write(metres(m))))
                    .with_accepted("two walls of equally many layers, at least two; lengths above 0 and below the arms")
                    .within("void"));
            }
            section = section
                .lay(Shape::rectangle(at(-a[2], -b[2]), at(m, -b[1])), fill.clone())
                .lay(Shape::rectangle(at(-a[2], -b[2]), at(-a[1], l)), fill.clone());
        }
        section = section.hole(Shape::rectangle(at(0.0, 0.0), at(along, up)));
        let mut inside =
            vec![Line::straight(at(0.0, up), at(0.0, legs[0])), Line::straight(at(legs[1], 0.0), at(along, 0.0))];
        if let Some(filler) = &self.filler {
            match filler.shape {
                FillerShape::Straight(_) => {
                    let corners = [at(0.0, 0.0), at(legs[1], 0.0), at(0.0, legs[0])];
                    section = section.lay(Shape::polygon(&corners), filler.fill.clone());
                    inside.push(Line::straight(corners[2], corners[1]));
                }
                FillerShape::Cove(radius) => {
                    let r = legs[0];
                    let (corner, opposite) = (at(0.0, 0.0), at(r, r));
                    section = section
                        .lay(Shape::rectangle(corner, opposite), filler.fill.clone())
                        .hole(Shape::disc(opposite, radius).within(corner, opposite));
                    let quarter = |n: f64| crate::units::degrees(90.0 * n);
                    inside.push(Line::arc(opposite, radius, quarter(2.0), quarter(3.0)));
                }
            }
        }
        let contact_lines = |k: usize| {
            let (x, y) = (-a[k + 1], -b[k + 1]);
            [Line::straight(at(x, up), at(x, y)), Line::straight(at(x, y), at(along, y))]
        };
        for k in 0..first.contacts.len() {
            if nested && first.contacts[k] == second.contacts[k] && self.void.is_none() {
                section = joint(section, format!("joint {}", k + 1), &contact_lines(k), first.contacts[k]);
            } else if nested {
                refuse_contacts(&[first.contacts[k], second.contacts[k]])?;
            } else {
                let x = -a[k + 1];
                let line = [Line::straight(at(x, up), at(x, 0.0))];
                section = joint(section, format!("joint {} of the first wall", k + 1), &line, first.contacts[k]);
            }
        }
        if !nested {
            for (k, contact) in second.contacts.iter().enumerate() {
                let y = -b[k + 1];
                let line = [Line::straight(at(-t, y), at(along, y))];
                section = joint(section, format!("joint {} of the second wall", k + 1), &line, *contact);
            }
        }
        let outside = [Line::straight(at(-t, up), at(-t, -u)), Line::straight(at(-t, -u), at(along, -u))];
        let section = section.part("inside", &inside);
        let section = if self.parted {
            section.part(OUTSIDE_OF[0], &outside[..1]).part(OUTSIDE_OF[1], &outside[1..])
        } else {
            section.part("outside", &outside)
        };
        let section = section.build()?;
        let arm = |k: usize, inner: f64, other: f64| JunctionArm {
            wall: self.walls[k].clone(),
            inner_length: metres(inner),
            outer_length: metres(inner + other),
        };
        Ok(Junction { section, arms: vec![arm(0, up, u), arm(1, along, t)] })
    }
}

/// Parts of the outside of a corner where its walls have one each.
pub(crate) const OUTSIDE_OF: [&str; 2] = ["outside of the first wall", "outside of the second wall"];

/// A wall that stands on the inner face of another and parts two rooms. The other lies at negative y; the standing wall
/// counts its layers from the first room (at negative x) to the second. Parts: `first room`, `second room`, `outside`.
#[derive(Debug, Clone, PartialEq)]
pub struct TeeJoint {
    walls: [Wall; 2],
    arms: Option<Length>,
}

impl TeeJoint {
    /// A wall with one standing on its inner face.
    pub fn new(lying: Wall, standing: Wall) -> Self {
        TeeJoint { walls: [lying, standing], arms: None }
    }

    /// The same with other lengths of the free inner faces than two thicknesses.
    #[must_use]
    pub fn with_arms(self, length: Length) -> Self {
        TeeJoint { arms: Some(length), ..self }
    }

    /// The junction. Its arms are the lying wall on both sides (the inner length is that of the free face) and the
    /// standing one.
    ///
    /// # Errors
    /// As [`WallCorner::build`].
    pub fn build(&self) -> Result<Junction, Error> {
        self.make().within("tee joint")
    }

    fn make(&self) -> Result<Junction, Error> {
        let [lying, standing] =
            [plain(&self.walls[0]).within("lying wall")?, plain(&self.walls[1]).within("standing wall")?];
        let (t, w) = (lying.thickness(), standing.thickness());
        let arm = match self.arms {
            Some(length) => in_range("arms", length, metres(1e-3), metres(50.0))?,
            None => 2.0 * t.max(w),
        };
        let (left, right) = (-arm, w + arm);
        let mut section =
            Section::plane(at(left, -t), at(right, arm)).hole(Shape::rectangle(at(left, 0.0), at(right, arm)));
        let (a, b) = (lying.faces(), standing.faces());
        for (k, fill) in lying.fills.iter().enumerate() {
            section = section.lay(Shape::rectangle(at(left, -a[k + 1]), at(right, -a[k])), fill.clone());
        }
        for (k, fill) in standing.fills.iter().enumerate() {
            section = section.lay(Shape::rectangle(at(b[k], 0.0), at(b[k + 1], arm)), fill.clone());
        }
        for (k, contact) in lying.contacts.iter().enumerate() {
            let line = [Line::straight(at(left, -a[k + 1]), at(right, -a[k + 1]))];
            section = joint(section, format!("joint {} of the lying wall", k + 1), &line, *contact);
        }
        for (k, contact) in standing.contacts.iter().enumerate() {
            let line = [Line::straight(at(b[k + 1], 0.0), at(b[k + 1], arm))];
            section = joint(section, format!("joint {} of the standing wall", k + 1), &line, *contact);
        }
        let section = section
            .part(
                "first room",
                &[Line::straight(at(left, 0.0), at(0.0, 0.0)), Line::straight(at(0.0, 0.0), at(0.0, arm))],
            )
            .part("second room", &[Line::straight(at(w, 0.0), at(right, 0.0)), Line::straight(at(w, 0.0), at(w, arm))])
            .part("outside", &[Line::straight(at(left, -t), at(right, -t))])
            .build()?;
        let of = |k: usize, inner: f64, outer: f64| JunctionArm {
            wall: self.walls[k].clone(),
            inner_length: metres(inner),
            outer_length: metres(outer),
        };
        Ok(Junction { section, arms: vec![of(0, arm, arm + 0.5 * w), of(0, arm, arm + 0.5 * w), of(1, arm, arm)] })
    }
}

/// The layers of a flat wall as plain numbers.
pub(super) struct PlainWall {
    pub(super) fills: Vec<Fill>,
    pub(super) thicknesses: Vec<f64>,
    pub(super) contacts: Vec<Contact>,
}

impl PlainWall {
    pub(super) fn thickness(&self) -> f64 {
        self.thicknesses.iter().sum()
    }

    /// Depths of the faces of the layers, the inner face first.
    pub(super) fn faces(&self) -> Vec<f64> {
        let mut faces = vec![0.0];
        for t in &self.thicknesses {
            faces.push(faces[faces.len() - 1] + t);
        }
        faces
    }
}

pub(super) fn plain(wall: &Wall) -> Result<PlainWall, Error> {
    let refuse =
        |problem: &str, accepted: &str| Err(Error::new(ErrorKind::Inconsistent, problem).with_accepted(accepted));
    if wall.geometry() != super::Geometry::Planar {
        return refuse("a round wall in a section of flat ones", "a flat wall");
    }
    if wall.contacts().iter().any(|c| matches!(c, Contact::Airspace(_))) {
        return refuse(
            "an airspace that takes up room cannot run round a junction",
            "contacts, or a layer of still air",
        );
    }
    if wall.layers().iter().any(|l| l.grading().is_some()) {
        return refuse("a graded layer in a section", "layers alike throughout");
    }
    Ok(PlainWall {
        fills: wall.layers().iter().map(|l: &Layer| Fill::new(l.material().clone())).collect(),
        thicknesses: wall.layers().iter().map(|l| l.thickness().si()).collect(),
        contacts: wall.contacts().to_vec(),
    })
}

fn refuse_contacts(contacts: &[Contact]) -> Result<(), Error> {
    if contacts.iter().all(|c| *c == Contact::Perfect) {
        return Ok(());
    }
    Err(Error::new(ErrorKind::Inconsistent, "contacts that end in the corner")
        .with_accepted("the same contacts in both walls, and no void behind the lining"))
}

pub(super) fn joint(section: SectionBuilder, name: String, lines: &[Line], contact: Contact) -> SectionBuilder {
    if contact == Contact::Perfect { section } else { section.contact(name, lines, contact) }
}

pub(super) fn at(x: f64, y: f64) -> Point {
    [metres(x), metres(y)]
}
