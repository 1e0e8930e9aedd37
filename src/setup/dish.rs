//! What is in the pot.

use crate::document::nearest;
use crate::error::{Error, ErrorKind, Within};
use crate::material::{Catalogue, Category, Material};
use crate::network::WATER_HEAT_CAPACITY;
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{
    MassDensity, Ratio, Si, SpecificHeatCapacity, joules_per_kilogram_kelvin, kilograms_per_cubic_metre,
};

/// A food: well stirred, or still and with a temperature that differs from place to place.
#[derive(Debug, Clone, PartialEq)]
pub struct Dish {
    material: Material,
    water: Option<Ratio>,
    still: bool,
}

/// Foods of the catalogue that stir themselves as they cool: as thin as milk, or an oil.
const THIN: [&str; 4] = ["water-liquid", "broth-thin-soup", "milk-whole", "vegetable-oil"];

/// Heat capacity of a food without water, and what a mass fraction of water adds, J/(kg K) (Siebel 1892, above freezing;
/// from memory).
const SIEBEL: [f64; 2] = [837.0, 3349.0];

/// Water content beyond what the heat capacity tells that passes as rounding.
const SLACK: f64 = 0.02;

impl Dish {
    /// A dish from the foods and liquids of the embedded catalogue ("water-liquid", "thick-stew", ...).
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] with the foods there are.
    pub fn named(id: &str) -> Result<Self, Error> {
        let unknown = || {
            let foods = || Catalogue::embedded().of_category(Category::FoodAndLiquid);
            let near = nearest(id, foods().map(|food| (food.id(), food.name())));
            let all: Vec<&str> = foods().map(Material::id).collect();
            let error = Error::new(ErrorKind::UnknownName, "unknown dish").with_value(id);
            error.with_nearest(near).with_accepted(all.join(", ")).within("dish")
        };
        let material = Material::named(id).map_err(|_| unknown())?;
        if material.category() != Category::FoodAndLiquid {
            return Err(unknown());
        }
        Ok(Self::of(material))
    }

    /// A dish of any material: of your own file, or made with [`Material::custom`] (which, unless told to be a food, is taken
    /// as stirred).
    pub fn of(material: Material) -> Self {
        let still = material.category() == Category::FoodAndLiquid && !THIN.contains(&material.id());
        Dish { material, water: None, still }
    }

    /// The same, one temperature throughout: a liquid that stirs itself as it cools. So are water, thin soup, milk and oil,
    /// and what is no food of a catalogue, if nothing is said.
    #[must_use]
    pub fn stirred(mut self) -> Self {
        self.still = false;
        self
    }

    /// The same, too stiff to stir itself: heat reaches its edge by conduction, and the edge is the coldest spot while it
    /// cools. So is every other food of a catalogue, if nothing is said.
    #[must_use]
    pub fn still(mut self) -> Self {
        self.still = true;
        self
    }

    /// Whether it is too stiff to stir itself.
    pub fn is_still(&self) -> bool {
        self.still
    }

    /// The same with this mass fraction of water, 0 to 1: as much can leave as vapour, or freeze.
    #[must_use]
    pub fn with_water_content(mut self, fraction: Ratio) -> Self {
        self.water = Some(fraction);
        self
    }

    /// Mass fraction of water: as given, else by the composition in the catalogue, else by the heat capacity (Siebel's
    /// mixing rule, within 0 and 1; an oil of your own has none, which only you can tell).
    ///
    /// Until it is gone the water evaporates as if it were pure. Salt, sugar and starch lower its vapour pressure and dry
    /// patches hold it back, so that in truth a dish loses less.
    pub fn water_content(&self) -> Ratio {
        if let Some(given) = self.water {
            return given;
        }
        if let Some(composition) = self.material.composition() {
            return composition.water();
        }
        let [dry, wet] = SIEBEL;
        Ratio::from_si(((self.material.heat_capacity().value().si() - dry) / wet).clamp(0.0, 1.0))
    }

    /// What it is, thermally.
    pub fn material(&self) -> &Material {
        &self.material
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let check = || {
            Self::check_heat_capacity(self.material.heat_capacity().value())?;
            Self::check_density(self.material.density().value())?;
            let water = self.water_content();
            number_in_range("water content", water.si(), 0.0, 1.0)?;
            let most = self.material.heat_capacity().high().si() / WATER_HEAT_CAPACITY;
            if self.water.is_some() && water.si() > most + SLACK {
                return Err(Error::new(ErrorKind::Inconsistent, "its heat capacity is too small for so much water")
                    .with_value(format!("{}", water.si()))
                    .with_accepted(format!("0 to {:.2}", most.min(1.0)))
                    .within("water content"));
            }
            Ok(())
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
