//! One layer of a wall.

use std::sync::Arc;

use super::Grading;
use crate::error::{Error, Within};
use crate::material::Material;
use crate::units::bounds::in_range;
use crate::units::{Length, metres};

/// A material of a given thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    material: Arc<Material>,
    thickness: Length,
    grading: Option<Grading>,
}

impl Layer {
    /// A layer of `material`, `thickness` across (1 µm to 10 m; in a solid cylinder or sphere the first layer's
    /// thickness is its radius).
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] if the thickness is outside its range.
    pub fn new(material: impl Into<Arc<Material>>, thickness: Length) -> Result<Self, Error> {
        let material = material.into();
        in_range("thickness", thickness, metres(1e-6), metres(10.0)).within(material.id())?;
        Ok(Layer { material, thickness, grading: None })
    }

    /// A layer of a material from the embedded catalogue.
    ///
    /// # Errors
    /// [`crate::ErrorKind::UnknownName`] with the nearest names, or as [`Layer::new`].
    pub fn of(material: &str, thickness: Length) -> Result<Self, Error> {
        Layer::new(Material::named(material)?, thickness)
    }

    /// The same layer of another thickness.
    ///
    /// # Errors
    /// As [`Layer::new`], and as [`Layer::graded`] where its properties change along its depth.
    pub fn with_thickness(&self, thickness: Length) -> Result<Self, Error> {
        let layer = Layer::new(Arc::clone(&self.material), thickness)?;
        match &self.grading {
            Some(grading) => layer.graded(grading.clone()),
            None => Ok(layer),
        }
    }

    /// The same layer of damp material.
    ///
    /// # Errors
    /// As [`Material::damp`].
    pub fn damp(&self) -> Result<Self, Error> {
        Ok(Layer { material: Arc::new(self.material.damp()?), ..self.clone() })
    }

    /// The same layer with properties that change along its depth.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] if a factor is not a positive finite number somewhere in the layer.
    pub fn graded(mut self, grading: Grading) -> Result<Self, Error> {
        grading.check(self.thickness).within(self.material.id())?;
        self.grading = Some(grading);
        Ok(self)
    }

    /// The same layer of another material.
    ///
    /// # Errors
    /// As [`Layer::graded`] where its properties change along its depth.
    pub fn with_material(&self, material: impl Into<Arc<Material>>) -> Result<Self, Error> {
        let new = Layer::new(material, self.thickness)?;
        self.grading.clone().map_or(Ok(new.clone()), |grading| new.graded(grading))
    }

    /// How its properties change along its depth, if they do.
    pub fn grading(&self) -> Option<&Grading> {
        self.grading.as_ref()
    }

    /// What it is made of.
    pub fn material(&self) -> &Material {
        &self.material
    }

    /// How thick it is.
    pub fn thickness(&self) -> Length {
        self.thickness
    }
}
