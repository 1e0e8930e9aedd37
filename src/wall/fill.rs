//! What an area of a section is filled with.

use std::sync::Arc;

use crate::error::{Error, ErrorKind, Within};
use crate::material::Material;
use crate::units::bounds::number_in_range;
use crate::units::{Angle, Ratio, Si, degrees, write};

/// A material, alike in all directions or with a grain along one of the axes.
#[derive(Debug, Clone, PartialEq)]
pub struct Fill {
    material: Arc<Material>,
    factors: [f64; 2],
}

impl Fill {
    /// An area of `material`.
    pub fn new(material: impl Into<Arc<Material>>) -> Self {
        Fill { material: material.into(), factors: [1.0, 1.0] }
    }

    /// An area of a material from the embedded catalogue.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] with the nearest names.
    pub fn of(material: &str) -> Result<Self, Error> {
        Ok(Fill::new(Material::named(material)?))
    }

    /// The same with a grain: along `direction`, counted from the first axis, it conducts `ratio` times (0.01 to 100)
    /// what the material conducts across. Wood conducts about twice as well along its grain.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a ratio outside its range or a grain that is not along one of the axes: heat that
    /// flows aslant to what drives it would need couplings of either sign on the grid, and a wall could then become
    /// warmer than everything around it. Turn the section instead.
    pub fn with_grain(mut self, direction: Angle, ratio: Ratio) -> Result<Self, Error> {
        let check = || -> Result<usize, Error> {
            number_in_range("ratio", ratio.si(), 0.01, 100.0)?;
            let quarters = direction.si() / degrees(90.0).si();
            if quarters.is_nan() || (quarters - quarters.round()).abs() > 1e-9 {
                return Err(Error::new(ErrorKind::OutOfRange, "a grain aslant to the axes cannot be meshed")
                    .with_value(write(direction))
                    .with_accepted("0° or 90°: turn the section so that the grain lies along an axis")
                    .within("grain"));
            }
            Ok(if quarters.round().rem_euclid(2.0) == 0.0 { 0 } else { 1 })
        };
        let axis = check().within(self.material.id())?;
        self.factors[axis] = ratio.si();
        Ok(self)
    }

    /// The material.
    pub fn material(&self) -> &Material {
        &self.material
    }

    /// Another material with the same grain.
    pub(crate) fn with_material(&self, material: Material) -> Self {
        Fill { material: material.into(), factors: self.factors }
    }

    /// Conductivity along each axis as a multiple of the material's.
    pub fn factors(&self) -> [Ratio; 2] {
        self.factors.map(Ratio::from_si)
    }

    pub(crate) fn plain_factors(&self) -> [f64; 2] {
        self.factors
    }
}

impl From<Material> for Fill {
    fn from(material: Material) -> Self {
        Fill::new(material)
    }
}
