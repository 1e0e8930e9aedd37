//! What is in the pot.

use crate::error::{Error, ErrorKind, Within};
use crate::material::{Catalogue, Category, Material};
use crate::units::bounds::in_range;
use crate::units::{MassDensity, SpecificHeatCapacity, joules_per_kilogram_kelvin, kilograms_per_cubic_metre};

/// A food as one well-stirred body.
#[derive(Debug, Clone, PartialEq)]
pub struct Dish {
    material: Material,
}

impl Dish {
    /// A dish from the foods and liquids of the embedded catalogue ("water-liquid", "thick-stew", ...).
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] with the foods there are.
    pub fn named(id: &str) -> Result<Self, Error> {
        let foods = || {
            let ids: Vec<&str> = Catalogue::embedded().of_category(Category::FoodAndLiquid).map(Material::id).collect();
            ids.join(", ")
        };
        let unknown =
            || Error::new(ErrorKind::UnknownName, "unknown dish").with_value(id).with_accepted(foods()).within("dish");
        let material = Material::named(id).map_err(|_| unknown())?;
        if material.category() != Category::FoodAndLiquid {
            return Err(unknown());
        }
        Ok(Dish { material })
    }

    /// A dish of any material: of your own file, or made with [`Material::custom`].
    pub fn of(material: Material) -> Self {
        Dish { material }
    }

    /// What it is, thermally.
    pub fn material(&self) -> &Material {
        &self.material
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let check = || {
            Self::check_heat_capacity(self.material.heat_capacity().value())?;
            Self::check_density(self.material.density().value())
        };
        check().within("dish")
    }

    pub(crate) fn check_heat_capacity(value: SpecificHeatCapacity) -> Result<(), Error> {
        let (low, high) = (joules_per_kilogram_kelvin(500.0), joules_per_kilogram_kelvin(6000.0));
        in_range("heat capacity", value, low, high).map(|_| ())
    }

    pub(crate) fn check_density(value: MassDensity) -> Result<(), Error> {
        let (low, high) = (kilograms_per_cubic_metre(200.0), kilograms_per_cubic_metre(2000.0));
        in_range("density", value, low, high).map(|_| ())
    }
}
