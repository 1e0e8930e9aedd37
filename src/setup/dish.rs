//! What is in the pot.

use crate::document::nearest;
use crate::error::{Error, ErrorKind, Within};
use crate::material::{Catalogue, Category, Material};
use crate::network::WATER_HEAT_CAPACITY;
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{
    Mass, MassDensity, Ratio, Si, SpecificHeatCapacity, grams, joules_per_kilogram_kelvin, kilograms,
    kilograms_per_cubic_metre,
};

/// A food: well stirred, or still and with a temperature that differs from place to place.
#[derive(Debug, Clone, PartialEq)]
pub struct Dish {
    material: Material,
    water: Option<Ratio>,
    still: bool,
    /// What it was mixed of, each with its share of the mass.
    parts: Vec<(Dish, Ratio)>,
}

/// A mixture counts as still where foods that are still make up this share of its mass: the cautious side, since a still
/// dish's range holds that of the same dish stirred (estimate, no source).
const STIFFENS: f64 = 1.0 / 3.0;

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
        Dish { material, water: None, still, parts: Vec::new() }
    }

    /// Several foods in one dish, each with its mass (1 g to 500 kg): potatoes in broth, rice with its sauce, so finely or
    /// so long mixed that they have one temperature. Heat capacity and water add up by mass, density and conductivity by
    /// volume (Choi and Okos 1986, from memory), and their ranges are taken together. It stands still where foods that are
    /// still make up a third of its mass or more, unless you say otherwise afterwards.
    ///
    /// Coarse things whose middle lags behind are [`Pieces`](super::Pieces); raw goods in bulk count with the air between
    /// them.
    ///
    /// ```
    /// use stillhot::prelude::*;
    /// use stillhot::units::Si;
    /// let parts = [(Dish::named("rice-cooked")?, kilograms(1.0)), (Dish::named("broth-thin-soup")?, kilograms(3.0))];
    /// let soup = Dish::mixed(&parts)?;
    /// let [rice, broth] = [0, 1].map(|k| parts[k].0.material().heat_capacity().value().si());
    /// let mixed = soup.material().heat_capacity();
    /// assert!(mixed.low() < mixed.value() && (mixed.value().si() - (rice + 3.0 * broth) / 4.0).abs() < 15.0);
    /// assert!(!soup.is_still());
    /// # Ok::<(), stillhot::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] for no foods, [`ErrorKind::OutOfRange`] for a mass outside its range, and whatever is
    /// wrong with a food.
    pub fn mixed(foods: &[(Dish, Mass)]) -> Result<Self, Error> {
        let check = || -> Result<Self, Error> {
            if foods.is_empty() {
                let error = Error::new(ErrorKind::Inconsistent, "nothing is mixed");
                return Err(error.with_accepted("one food or more, each with its mass"));
            }
            for (index, (food, mass)) in foods.iter().enumerate() {
                let check =
                    in_range("mass", *mass, grams(1.0), kilograms(500.0)).map(|_| ()).and_then(|()| food.check());
                check.within(format!("food {}", index + 1))?;
            }
            let whole: f64 = foods.iter().map(|(_, mass)| mass.si()).sum();
            let parts: Vec<(Dish, Ratio)> =
                foods.iter().map(|(food, mass)| (food.clone(), Ratio::from_si(mass.si() / whole))).collect();
            let names: Vec<&str> = parts.iter().map(|(food, _)| food.material.name()).collect();
            let of: Vec<(&Material, f64)> = parts.iter().map(|(food, share)| (&food.material, share.si())).collect();
            let material = Material::mixed("mixed-dish", &names.join(" with "), &of)?;
            let still = Self::stiffness_of(&parts) >= STIFFENS;
            Ok(Dish { material, water: None, still, parts })
        };
        check().within("mixed dish")
    }

    /// What it was mixed of, each with its share of the mass; empty for a single food.
    pub fn parts(&self) -> &[(Dish, Ratio)] {
        &self.parts
    }

    /// Share of its mass that is still: of a mixture that goes by the rule, that of its parts.
    fn stiffness(&self) -> f64 {
        let parts = Self::stiffness_of(&self.parts);
        if (parts >= STIFFENS) == self.still && !self.parts.is_empty() { parts } else { f64::from(self.still) }
    }

    fn stiffness_of(parts: &[(Dish, Ratio)]) -> f64 {
        parts.iter().map(|(food, share)| share.si() * food.stiffness()).sum()
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

    /// Mass fraction of water: as given, else that of its parts, else by the composition in the catalogue, else by the heat capacity (Siebel's
    /// mixing rule, within 0 and 1; an oil of your own has none, which only you can tell).
    ///
    /// Until it is gone the water evaporates as if it were pure. Salt, sugar and starch lower its vapour pressure and dry
    /// patches hold it back, so that in truth a dish loses less.
    pub fn water_content(&self) -> Ratio {
        if let Some(given) = self.water {
            return given;
        }
        if !self.parts.is_empty() {
            return Ratio::from_si(self.parts.iter().map(|(food, share)| share.si() * food.water_content().si()).sum());
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
