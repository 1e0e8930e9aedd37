//! The difference that a feature makes, on meshes that both variants share.

use super::estimate::{Estimate, of_meshes};
use super::section_problem::{SectionAccuracy, SectionProblem};
use super::section_steady::{NOISE, SteadySection, check_size, refined};
use crate::error::{Error, ErrorKind, Within};

/// Two variants of a section in their steady states on the same meshes.
#[derive(Debug)]
pub struct SectionDifference {
    with: SteadySection,
    without: SteadySection,
}

impl SectionProblem {
    /// This problem, and another without a feature of it, on meshes with the lines of both: what the meshes get wrong in
    /// both alike falls out of the difference. Refined until the reported error of both is below the wanted one.
    ///
    /// # Errors
    /// As [`SectionProblem::steady`]; [`ErrorKind::Inconsistent`] for another frame or turn.
    pub fn compare(&self, without: &SectionProblem, accuracy: &SectionAccuracy) -> Result<SectionDifference, Error> {
        accuracy.check().within("accuracy")?;
        if self.section.is_about_axis() != without.section.is_about_axis()
            || self.section.layout().frame != without.section.layout().frame
        {
            return Err(Error::new(ErrorKind::Inconsistent, "two sections that do not compare")
                .with_accepted("the same frame, both plane or both about the axis"));
        }
        let mut cells = accuracy.cells;
        loop {
            let plan = Self::shared_plan(&[self, without], cells);
            check_size(&plan, accuracy)?;
            let difference =
                SectionDifference { with: self.steady_planned(&plan)?, without: without.steady_planned(&plan)? };
            let worst = difference.with.worst_error().max(difference.without.worst_error());
            if worst <= accuracy.relative {
                return Ok(difference);
            }
            cells = refined(cells, worst, accuracy.relative);
        }
    }
}

impl SectionDifference {
    /// The variant with the feature.
    pub fn with(&self) -> &SteadySection {
        &self.with
    }

    /// The variant without it.
    pub fn without(&self) -> &SteadySection {
        &self.without
    }

    /// How much more heat enters through a part with the feature than without it: W per metre of a plane section, W of one
    /// about an axis.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a part that one of the two has not.
    pub fn heat(&self, part: &str) -> Result<Estimate<f64>, Error> {
        let (more, less) = (self.with.heats(part).within("with")?, self.without.heats(part).within("without")?);
        let noise = NOISE * more[2].abs().max(less[2].abs());
        Ok(of_meshes([0, 1, 2].map(|k| more[k] - less[k]), noise))
    }
}
