//! A lid on the rim of a box.

use super::junction::{Junction, JunctionArm, at, joint, plain};
use super::{Fill, Line, Section, Shape, Wall};
use crate::error::{Error, ErrorKind, Within};
use crate::units::bounds::{in_range, positive};
use crate::units::{Length, metres};

/// The upper edge of a box: the side wall stands at negative x with its rim at y = 0, the lid lies above, the cavity is at
/// positive x below the lid. Parts: `inside`, `outside`.
#[derive(Debug, Clone, PartialEq)]
pub struct LidOnRim {
    side: Wall,
    lid: Wall,
    arms: Option<Length>,
    gap: Option<(Length, Fill)>,
    step: Option<(Length, Length, Fill)>,
    overlap: Option<(Length, Length, Fill)>,
}

impl LidOnRim {
    /// A lid that lies on the rim without a gap.
    pub fn new(side: Wall, lid: Wall) -> Self {
        LidOnRim { side, lid, arms: None, gap: None, step: None, overlap: None }
    }

    /// The same with other inner lengths of side and lid than two thicknesses beyond steps and overlaps.
    #[must_use]
    pub fn with_arms(self, length: Length) -> Self {
        LidOnRim { arms: Some(length), ..self }
    }

    /// The same with a gap of this width over the whole rim, filled (with still air, a gasket).
    #[must_use]
    pub fn with_gap(self, width: Length, fill: impl Into<Fill>) -> Self {
        LidOnRim { gap: Some((width, fill.into())), ..self }
    }

    /// The same with a plug under the lid that reaches `depth` below it into the cavity, `clearance` off the side wall, made
    /// of `fill`. The slit between plug and wall belongs to the cavity.
    #[must_use]
    pub fn with_step(self, depth: Length, clearance: Length, fill: impl Into<Fill>) -> Self {
        LidOnRim { step: Some((depth, clearance, fill.into())), ..self }
    }

    /// The same with an apron that hangs `depth` down outside, of this thickness and material, against the side wall.
    #[must_use]
    pub fn with_overlap(self, depth: Length, thickness: Length, fill: impl Into<Fill>) -> Self {
        LidOnRim { overlap: Some((depth, thickness, fill.into())), ..self }
    }

    /// The junction.
    ///
    /// # Errors
    /// As [`WallCorner::build`](super::WallCorner::build).
    pub fn build(&self) -> Result<Junction, Error> {
        self.make().within("lid on rim")
    }

    fn make(&self) -> Result<Junction, Error> {
        let [side, lid] = [plain(&self.side).within("side")?, plain(&self.lid).within("lid")?];
        let (t, u) = (side.thickness(), lid.thickness());
        let sized = |item: &Option<(Length, Length, Fill)>, name: &str| -> Result<[f64; 2], Error> {
            match item {
                None => Ok([0.0; 2]),
                Some((depth, other, _)) => Ok([
                    positive("depth", *depth, metres(10.0)).within(name)?,
                    positive("width", *other, metres(1.0)).within(name)?,
                ]),
            }
        };
        let gap = match &self.gap {
            Some((width, _)) => positive("width", *width, metres(0.2)).within("gap")?,
            None => 0.0,
        };
        let [step, clearance] = sized(&self.step, "step")?;
        let [hang, apron] = sized(&self.overlap, "overlap")?;
        let own = 2.0 * t.max(u) + step.max(hang) + clearance;
        let arm = match self.arms {
            Some(length) => in_range("arms", length, metres(1e-3), metres(50.0))?,
            None => own,
        };
        if arm <= step.max(hang) || arm <= clearance {
            return Err(Error::new(ErrorKind::Inconsistent, "arms shorter than step or overlap")
                .with_value(format!("{arm} m"))
                .with_accepted(format!("more than {} m", step.max(hang).max(clearance))));
        }
        let (left, down, top) = (-t - apron, -arm, gap + u);
        let mut section =
            Section::plane(at(left, down), at(arm, top)).hole(Shape::rectangle(at(left, down), at(arm, top)));
        let (a, b) = (side.faces(), lid.faces());
        for (k, fill) in side.fills.iter().enumerate() {
            section = section.lay(Shape::rectangle(at(-a[k + 1], down), at(-a[k], 0.0)), fill.clone());
        }
        for (k, fill) in lid.fills.iter().enumerate() {
            section = section.lay(Shape::rectangle(at(left, gap + b[k]), at(arm, gap + b[k + 1])), fill.clone());
        }
        if let Some((_, fill)) = &self.gap {
            section = section.lay(Shape::rectangle(at(-t, 0.0), at(0.0, gap)), fill.clone());
        }
        if let Some((.., fill)) = &self.overlap {
            section = section.lay(Shape::rectangle(at(left, -hang), at(-t, gap)), fill.clone());
        }
        let mut inside = vec![Line::straight(at(0.0, down), at(0.0, gap))];
        if let Some((.., fill)) = &self.step {
            section = section.lay(Shape::rectangle(at(clearance, gap - step), at(arm, gap)), fill.clone());
            inside.push(Line::straight(at(0.0, gap), at(clearance, gap)));
            inside.push(Line::straight(at(clearance, gap), at(clearance, gap - step)));
            inside.push(Line::straight(at(clearance, gap - step), at(arm, gap - step)));
        } else {
            inside.push(Line::straight(at(0.0, gap), at(arm, gap)));
        }
        for (k, contact) in side.contacts.iter().enumerate() {
            let line = [Line::straight(at(-a[k + 1], 0.0), at(-a[k + 1], down))];
            section = joint(section, format!("joint {} of the side", k + 1), &line, *contact);
        }
        for (k, contact) in lid.contacts.iter().enumerate() {
            let line = [Line::straight(at(arm, gap + b[k + 1]), at(left, gap + b[k + 1]))];
            section = joint(section, format!("joint {} of the lid", k + 1), &line, *contact);
        }
        let mut outside = vec![Line::straight(at(left, top), at(arm, top))];
        if apron > 0.0 {
            outside.push(Line::straight(at(left, top), at(left, -hang)));
            outside.push(Line::straight(at(left, -hang), at(-t, -hang)));
            outside.push(Line::straight(at(-t, -hang), at(-t, down)));
        } else {
            outside.push(Line::straight(at(-t, top), at(-t, down)));
        }
        let section = section.part("inside", &inside).part("outside", &outside).build()?;
        Ok(Junction {
            section,
            arms: vec![
                JunctionArm {
                    wall: self.side.clone(),
                    inner_length: metres(arm + gap),
                    outer_length: metres(arm + gap + u),
                },
                JunctionArm { wall: self.lid.clone(), inner_length: metres(arm), outer_length: metres(arm - left) },
            ],
        })
    }
}
