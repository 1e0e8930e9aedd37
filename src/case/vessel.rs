//! The pot and what is in it.

use super::layers::material;
use super::leaf::{Findings, Leaf, about, range};
use crate::document::{Item, Section, nearest};
use crate::error::{Error, ErrorKind};
use crate::material::{Catalogue, Category, Material};
use crate::setup::{Dish, Pot, Range};
use crate::units::bounds::in_range;
use crate::units::{
    Length, Mass, MassDensity, SpecificHeatCapacity, Volume, litres, millilitres, millimetres, watts_per_metre_kelvin,
};

const POT: [&str; 6] = ["volume", "diameter", "height", "metal", "metal-thickness", "mass"];
const DISH: [&str; 4] = ["food", "heat-capacity", "density", "mass"];
const POT_SIZE: &str = "volume = \"7 L\", or diameter = \"220 mm\" and height = \"180 mm\"";

/// The pot with its dish; every finding noted.
pub(super) fn pot_with_dish(root: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Pot> {
    let pot_section = findings.required_section(root, "pot", &format!("a section [pot] with {POT_SIZE}"));
    let pot = pot_section.as_ref().and_then(|section| pot(section, catalogue, findings));
    let form = "a section [dish] with food = \"...\" and mass = \"6 kg\"";
    let dish_section = findings.required_section(root, "dish", form)?;
    findings.refuse_unknown(&dish_section, &DISH);
    let dish = dish(&dish_section, catalogue, findings);
    let mass: Leaf<Mass> = Leaf::required_quantity(findings, &dish_section, "mass");
    let mass = mass.checked(findings, |mass| Pot::check_contents(*mass));
    let (pot, dish, given) = (pot?, dish?, *mass.given()?);
    let filled = pot.with(dish, given);
    // What one leaf alone can get wrong was checked; what is left is the dish that the pot does not hold.
    mass.checked(findings, |_| filled.check()).given()?;
    Some(filled)
}

fn pot(section: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Pot> {
    findings.refuse_unknown(section, &POT);
    let metal = material(section, "metal", catalogue, findings);
    let thickness: Leaf<Length> = Leaf::quantity(findings, section, "metal-thickness");
    let ordinary = Pot::typical(litres(3.0));
    let thickness = thickness.checked(findings, |thickness| {
        let stand_in = catalogue.iter().next().cloned();
        stand_in.map_or(Ok(()), |metal| about("metal thickness", ordinary.clone().of_metal(metal, *thickness).mass()))
    });
    let mass: Leaf<Mass> = Leaf::quantity(findings, section, "mass");
    let mass = mass.checked(findings, |mass| about("mass", ordinary.clone().weighing(*mass).mass()));

    let volume: Leaf<Volume> = Leaf::quantity(findings, section, "volume");
    let volume =
        volume.checked(findings, |volume| in_range("volume", *volume, millilitres(100.0), litres(100.0)).map(|_| ()));
    let diameter: Leaf<Length> = Leaf::quantity(findings, section, "diameter");
    let height: Leaf<Length> = Leaf::quantity(findings, section, "height");
    let sized = !diameter.is_absent() || !height.is_absent();
    let (diameter, height) = if sized {
        (
            diameter.required(findings, section, "diameter", "diameter = \"220 mm\""),
            height.required(findings, section, "height", "height = \"180 mm\""),
        )
    } else {
        (diameter, height)
    };
    let shape = |diameter: Length, height: Length| {
        let stand_in = catalogue.iter().next().cloned();
        stand_in.map_or(Ok(()), |metal| Pot::sized(diameter, height, metal, millimetres(1.0)).mass().map(|_| ()))
    };
    let usual = millimetres(200.0);
    let diameter = diameter.checked(findings, |diameter| about("diameter", shape(*diameter, usual)));
    let height = height.checked(findings, |height| about("height", shape(usual, *height)));

    if sized && !volume.is_absent() {
        let error = Error::new(ErrorKind::Inconsistent, "the size of the pot is given twice").with_accepted(POT_SIZE);
        findings.add(section.place(error));
        return None;
    }
    if !sized && volume.is_absent() {
        findings.keep(section.require("volume", POT_SIZE));
        return None;
    }
    let needs_metal = sized || !metal.is_absent() || !thickness.is_absent();
    let chosen = if needs_metal {
        let metal = metal.required(findings, section, "metal", "metal = \"stainless-steel-304\"");
        let thickness = thickness.required(findings, section, "metal-thickness", "metal-thickness = \"0.8 mm\"");
        Some((metal.given()?.clone(), *thickness.given()?))
    } else {
        None
    };
    let mut pot = match (volume.given(), chosen) {
        (Some(volume), None) => Pot::typical(*volume),
        (Some(volume), Some((metal, thickness))) => Pot::typical(*volume).of_metal(metal, thickness),
        (None, Some((metal, thickness))) => {
            let (diameter, height) = (*diameter.given()?, *height.given()?);
            let pot = Pot::sized(diameter, height, metal, thickness);
            findings
                .keep(about("volume", pot.mass()).map_err(|error| section.place(super::leaf::without_path(&error))))?;
            pot
        }
        (None, None) => return None,
    };
    if let Some(mass) = mass.given() {
        pot = pot.weighing(*mass);
    }
    // A wrong mass has its finding; the pot without it serves to check what stands round it.
    Some(pot)
}

fn dish(section: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Dish> {
    let food = Leaf::optional(findings, section, "food", |item| food(item, catalogue));
    let heat_capacity: Leaf<Range<SpecificHeatCapacity>> = Leaf::optional(findings, section, "heat-capacity", range);
    let heat_capacity = heat_capacity.checked(findings, |range| {
        [range.low(), range.best(), range.high()].into_iter().try_for_each(Dish::check_heat_capacity)
    });
    let density: Leaf<MassDensity> = Leaf::quantity(findings, section, "density");
    let density = density.checked(findings, |density| Dish::check_density(*density));
    let own = !heat_capacity.is_absent() || !density.is_absent();
    match (food.is_absent(), own) {
        (false, true) => {
            let error = Error::new(ErrorKind::Inconsistent, "the dish is described twice");
            findings.add(section.place(error.with_accepted("food, or heat-capacity and density")));
            None
        }
        (false, false) => food.given().cloned().map(Dish::of),
        (true, false) => {
            let form = "food = \"thick-stew\", or heat-capacity = \"3700 J/(kg K)\" and density = \"1040 kg/m3\"";
            findings.keep(section.require("food", form));
            None
        }
        (true, true) => {
            let form = "heat-capacity = \"3700 J/(kg K)\"";
            let heat_capacity = heat_capacity.required(findings, section, "heat-capacity", form);
            let density = density.required(findings, section, "density", "density = \"1040 kg/m3\"");
            let (capacity, density) = (heat_capacity.given()?, *density.given()?);
            // A stirred dish does not conduct: the conductivity, that of water, is never read.
            let made = Material::custom("own-dish", watts_per_metre_kelvin(0.6), density, capacity.best())
                .and_then(|made| made.with_heat_capacity_range(capacity.low(), capacity.high()))
                .map(|made| made.with_category(Category::FoodAndLiquid));
            findings.keep(made.map_err(|error| section.place(error))).map(Dish::of)
        }
    }
}

fn food(item: &Item<'_>, catalogue: &Catalogue) -> Result<Material, Error> {
    let id = item.text()?;
    if let Ok(material) = catalogue.get(id)
        && material.category() == Category::FoodAndLiquid
    {
        return Ok(material.clone());
    }
    let foods = || catalogue.of_category(Category::FoodAndLiquid);
    let near = nearest(id, foods().map(|food| (food.id(), food.name())));
    let offered = if near.is_empty() { foods().map(Material::id).collect() } else { near };
    let error = Error::new(ErrorKind::UnknownName, "unknown food").with_value(format!("{id:?}"));
    Err(item.place(error.with_accepted(offered.join(", "))))
}
