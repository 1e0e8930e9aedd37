//! What is in the pot.

use crate::error::{Error, ErrorKind, Within};
use crate::material::{Catalogue, Category, Material};

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
        use crate::units::bounds::in_range;
        use crate::units::{joules_per_kilogram_kelvin, kilograms_per_cubic_metre};
        let m = &self.material;
        let check = || {
            let (low, high) = (joules_per_kilogram_kelvin(500.0), joules_per_kilogram_kelvin(6000.0));
            in_range("heat capacity", m.heat_capacity().value(), low, high)?;
            in_range(
                "density",
                m.density().value(),
                kilograms_per_cubic_metre(200.0),
                kilograms_per_cubic_metre(2000.0),
            )
        };
        check().map(|_| ()).within("dish")
    }
}
