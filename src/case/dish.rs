//! What is in the pot: the dish, and pieces in it.

use super::leaf::{Findings, Leaf, about, each, range, without_path};
use crate::document::{Item, Section, nearest};
use crate::error::{Error, ErrorKind};
use crate::food::DishFacts;
use crate::material::{Catalogue, Category, Material};
use crate::setup::{Dish, PieceShape, Pieces, Range};
use crate::units::bounds::number_in_range;
use crate::units::{
    Length, Mass, MassDensity, Si, SpecificHeatCapacity, Temperature, ThermalConductivity, celsius, grams,
    joules_per_kilogram_kelvin, kilograms_per_cubic_metre, millimetres, watts_per_metre_kelvin,
};

const DISH: [&str; 11] = [
    "kind",
    "food",
    "heat-capacity",
    "density",
    "conductivity",
    "water",
    "circulation",
    "mass",
    "frozen",
    "pieces",
    "with",
];
const WITH: [&str; 6] = ["food", "heat-capacity", "density", "conductivity", "water", "mass"];
const PIECES: [&str; 9] =
    ["shape", "size", "food", "heat-capacity", "density", "conductivity", "water", "mass", "start"];
const FORM: &str =
    "food = \"thick-stew\", or kind = \"beef-stew\", or heat-capacity = \"3700 J/(kg K)\" and density = \"1040 kg/m3\"";
/// Makes a shape of its size.
type ShapeOf = fn(Length) -> PieceShape;

const SHAPES: [(&str, ShapeOf); 3] =
    [("sphere", PieceShape::Sphere), ("cylinder", PieceShape::Cylinder), ("slab", PieceShape::Slab)];

/// Whether the dish stands still.
const CIRCULATIONS: [(&str, bool); 2] = [("stirred", false), ("still", true)];

/// Which dish of the dish list it is, where the file says so; a wrong one is noted.
pub(super) fn kind<'t>(section: &Section<'t>, findings: &mut Findings) -> Leaf<'t, &'static DishFacts> {
    Leaf::optional(findings, section, "kind", |item| {
        DishFacts::named(item.text()?).map_err(|error| item.place(without_path(&error)))
    })
}

/// The dish, or its first food; every finding noted but those of its kind. Where no food is given it is that of the kind.
pub(super) fn dish(
    section: &Section<'_>,
    kind: &Leaf<'_, &'static DishFacts>,
    catalogue: &Catalogue,
    findings: &mut Findings,
) -> Option<Dish> {
    findings.refuse_unknown(section, &DISH);
    watery(section, kind, catalogue, findings)
}

/// A food with its share of water.
fn watery(
    section: &Section<'_>,
    kind: &Leaf<'_, &'static DishFacts>,
    catalogue: &Catalogue,
    findings: &mut Findings,
) -> Option<Dish> {
    let dish = food(section, kind, catalogue, findings).map(Dish::of);
    let water = Leaf::optional(findings, section, "water", Item::ratio);
    let water = water.checked(findings, |share| match &dish {
        Some(dish) => dish.clone().with_water_content(*share).check(),
        None => number_in_range("water", share.si(), 0.0, 1.0).map(|_| ()),
    });
    match water {
        Leaf::Wrong => None,
        Leaf::Absent => dish,
        Leaf::Given(share, _) => dish.map(|dish| dish.with_water_content(share)),
    }
}

/// Other foods stirred into the dish, each with its mass; every finding noted.
pub(super) fn others(
    section: &Section<'_>,
    catalogue: &Catalogue,
    findings: &mut Findings,
) -> Option<Vec<(Dish, Mass)>> {
    let Some(list) = section.get("with") else { return Some(Vec::new()) };
    each(&list, findings, |item, findings| {
        let section = findings.keep(item.section())?;
        findings.refuse_unknown(&section, &WITH);
        let food = watery(&section, &Leaf::Absent, catalogue, findings);
        let mass: Leaf<Mass> = Leaf::required_quantity(findings, &section, "mass");
        let mass = mass.checked(findings, |mass| match &food {
            Some(food) => about("mass", Dish::mixed(&[(food.clone(), *mass)])),
            None => Ok(()),
        });
        Some((food?, *mass.given()?))
    })
}

/// Whether the dish stands still, if it is said; every finding noted.
pub(super) fn circulation<'t>(section: &Section<'t>, findings: &mut Findings) -> Leaf<'t, bool> {
    Leaf::optional(findings, section, "circulation", |item| item.word(&CIRCULATIONS))
}

/// Every kind of piece in the dish; every finding noted.
pub(super) fn pieces(section: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Vec<Pieces>> {
    let Some(list) = section.get("pieces") else { return Some(Vec::new()) };
    each(&list, findings, |item, findings| {
        let section = findings.keep(item.section())?;
        kind_of_piece(&section, catalogue, findings)
    })
}

fn kind_of_piece(section: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Pieces> {
    findings.refuse_unknown(section, &PIECES);
    let words: Vec<&str> = SHAPES.iter().map(|(word, _)| *word).collect();
    let shape = Leaf::optional(findings, section, "shape", |item| item.word(&SHAPES));
    let shape = shape.required(findings, section, "shape", &words.join(", "));
    let food = watery(section, &Leaf::Absent, catalogue, findings);
    let usual = |shape, mass, start| -> Result<(), Error> {
        let Some(any) = catalogue.of_category(Category::FoodAndLiquid).next() else { return Ok(()) };
        Pieces::new(shape, Dish::of(any.clone()), mass, start).check()
    };
    let (ball, some, cold) = (PieceShape::Sphere(millimetres(40.0)), grams(500.0), celsius(15.0));
    let size: Leaf<Length> = Leaf::required_quantity(findings, section, "size");
    let size = size.checked(findings, |size| about("size", usual(PieceShape::Sphere(*size), some, cold)));
    let mass: Leaf<Mass> = Leaf::required_quantity(findings, section, "mass");
    let mass = mass.checked(findings, |mass| about("mass", usual(ball, *mass, cold)));
    let start: Leaf<Temperature> = Leaf::required_quantity(findings, section, "start");
    let start = start.checked(findings, |start| about("start temperature", usual(ball, some, *start)));
    let shape = (shape.given()?)(*size.given()?);
    Some(Pieces::new(shape, food?, *mass.given()?, *start.given()?))
}

/// A food of the catalogue, or one of its own numbers, or that of its kind.
fn food(
    section: &Section<'_>,
    kind: &Leaf<'_, &'static DishFacts>,
    catalogue: &Catalogue,
    findings: &mut Findings,
) -> Option<Material> {
    let food = Leaf::optional(findings, section, "food", |item| named(item, catalogue));
    let heat_capacity: Leaf<Range<SpecificHeatCapacity>> = Leaf::optional(findings, section, "heat-capacity", range);
    let heat_capacity = heat_capacity.checked(findings, |range| {
        [range.low(), range.best(), range.high()].into_iter().try_for_each(Dish::check_heat_capacity)
    });
    let density: Leaf<MassDensity> = Leaf::quantity(findings, section, "density");
    let density = density.checked(findings, |density| Dish::check_density(*density));
    let conductivity: Leaf<ThermalConductivity> = Leaf::quantity(findings, section, "conductivity");
    let (usual_density, usual_heat) = (kilograms_per_cubic_metre(1000.0), joules_per_kilogram_kelvin(4000.0));
    let conductivity =
        conductivity.checked(findings, |k| Material::custom("own-dish", *k, usual_density, usual_heat).map(|_| ()));
    let own = !heat_capacity.is_absent() || !density.is_absent() || !conductivity.is_absent();
    match (food.is_absent(), own) {
        (false, true) => {
            let parts = "food, or heat-capacity, density and conductivity";
            findings.given_twice(section, "the dish is described twice", parts);
            None
        }
        (false, false) => food.given().cloned(),
        (true, false) if kind.is_wrong() => None,
        (true, false) => {
            let usual = kind.given().and_then(|kind| kind.material()).cloned();
            usual.or_else(|| findings.keep(section.require("food", FORM)).and(None))
        }
        (true, true) => {
            let form = "heat-capacity = \"3700 J/(kg K)\"";
            let heat_capacity = heat_capacity.required(findings, section, "heat-capacity", form);
            let density = density.required(findings, section, "density", "density = \"1040 kg/m3\"");
            if conductivity.is_wrong() {
                return None;
            }
            let (capacity, density) = (heat_capacity.given()?, *density.given()?);
            // That of water, of which most food consists.
            let conductivity = conductivity.given().copied().unwrap_or(watts_per_metre_kelvin(0.6));
            let made = Material::custom("own-dish", conductivity, density, capacity.best())
                .and_then(|made| made.with_heat_capacity_range(capacity.low(), capacity.high()))
                .map(|made| made.with_category(Category::FoodAndLiquid));
            findings.keep(made.map_err(|error| section.place(error)))
        }
    }
}

fn named(item: &Item<'_>, catalogue: &Catalogue) -> Result<Material, Error> {
    let id = item.text()?;
    if let Ok(material) = catalogue.get(id)
        && material.category() == Category::FoodAndLiquid
    {
        return Ok(material.clone());
    }
    let foods = || catalogue.of_category(Category::FoodAndLiquid);
    let near = nearest(id, foods().map(|food| (food.id(), food.name())));
    let all: Vec<&str> = foods().map(Material::id).collect();
    let error = Error::new(ErrorKind::UnknownName, "unknown food").with_value(format!("{id:?}"));
    Err(item.place(error.with_nearest(near).with_accepted(all.join(", "))))
}
