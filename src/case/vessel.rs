//! The pot, the handle that leads out of it, and the knob on its lid.

use super::dish::{circulation, dish, kind, others, pieces};
use super::layers::material;
use super::leaf::{Findings, Leaf, about, range, range_of_ratio, without_path};
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::food::DishFacts;
use crate::material::{Catalogue, Category, Material};
use crate::setup::{Dish, Footing, Handle, Knob, Pot, PotLid, Range};
use crate::units::bounds::in_range;
use crate::units::{Length, Mass, Ratio, Si, Volume, grams, litres, millilitres, millimetres};

const POT: [&str; 12] = [
    "volume",
    "diameter",
    "height",
    "metal",
    "metal-thickness",
    "mass",
    "emissivity",
    "lid",
    "lid-gap",
    "handle",
    "knob",
    "footing",
];
/// What it stands on: the word, and what it means.
type Stand = (&'static str, fn() -> Footing);
const FOOTINGS: [Stand; 4] =
    [("unknown", Footing::unknown), ("mat", Footing::mat), ("rim", Footing::rim), ("trivet", Footing::trivet)];
/// How it is covered: the word, and what it means.
type Cover = (&'static str, fn() -> PotLid);
const COVERS: [Cover; 3] = [("loose", PotLid::loose), ("sealed", PotLid::sealed), ("none", PotLid::none)];
const HANDLE: [&str; 4] = ["material", "width", "thickness", "outside"];
const KNOB: [&str; 4] = ["material", "across", "height", "outside"];
const KNOB_ENDS: &str = "height = \"30 mm\" under the lid of the box, or outside = \"20 mm\" through it";
const POT_SIZE: &str = "volume = \"7 L\", or diameter = \"220 mm\" and height = \"180 mm\"";

/// The pot with its dish, and which dish of the list that is, if the file says so; every finding noted.
pub(super) fn pot_with_dish(
    root: &Section<'_>,
    catalogue: &Catalogue,
    findings: &mut Findings,
) -> Option<(Pot, Option<&'static DishFacts>)> {
    let pot_section = findings.required_section(root, "pot", &format!("a section [pot] with {POT_SIZE}"));
    let pot = pot_section.as_ref().and_then(|section| pot(section, catalogue, findings));
    let form = "a section [dish] with food = \"...\" and mass = \"6 kg\"";
    let section = findings.required_section(root, "dish", form)?;
    let kind = kind(&section, findings);
    let dish = dish(&section, &kind, catalogue, findings);
    let others = others(&section, catalogue, findings);
    let still = circulation(&section, findings);
    let pieces = pieces(&section, catalogue, findings);
    let mass: Leaf<Mass> = Leaf::required_quantity(findings, &section, "mass");
    let mass = mass.checked(findings, |mass| Pot::check_contents(*mass));
    let frozen = Leaf::optional(findings, &section, "frozen", Item::ratio);
    let frozen = frozen.checked(findings, |share| {
        let water = catalogue.of_category(Category::FoodAndLiquid).next().cloned();
        water.map_or(Ok(()), |water| {
            about("ice", Pot::typical(litres(3.0)).with(Dish::of(water), grams(100.0)).with_ice(*share).check())
        })
    });
    let (dish, given, others) = (dish?, *mass.given()?, others?);
    let (dish, given) = if others.is_empty() {
        (dish, given)
    } else {
        let all: Vec<(Dish, Mass)> = [(dish, given)].into_iter().chain(others).collect();
        let whole = all.iter().map(|(_, mass)| mass.si()).sum();
        (findings.keep(Dish::mixed(&all).map_err(|error| section.place(error)))?, Mass::from_si(whole))
    };
    let dish = match still {
        Leaf::Wrong => return None,
        Leaf::Absent => dish,
        Leaf::Given(true, _) => dish.still(),
        Leaf::Given(false, _) => dish.stirred(),
    };
    let pot = pot?;
    let mut filled = pieces?.into_iter().fold(pot.with(dish, given), Pot::with_pieces);
    if let Some(share) = frozen.given() {
        filled = filled.with_ice(*share);
    }
    // What one leaf alone can get wrong was checked; what is left is the dish that the pot does not hold.
    mass.checked(findings, |_| filled.check()).given()?;
    (!frozen.is_wrong()).then_some((filled, kind.given().copied()))
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
    let emissivity: Leaf<Range<Ratio>> = Leaf::optional(findings, section, "emissivity", range_of_ratio);
    let emissivity =
        emissivity.checked(findings, |range| ordinary.clone().with_emissivity(*range).emissivity().map(|_| ()));
    let lid = cover(section, findings);
    let footing = Leaf::optional(findings, section, "footing", footing);
    let footing = footing.checked(findings, Footing::check);
    let handle = findings.section(section, "handle").map(|section| handle(&section, catalogue, findings));
    let knob = findings.section(section, "knob").map(|section| knob(&section, lid, catalogue, findings));

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
        findings.given_twice(section, "the size of the pot is given twice", POT_SIZE);
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
        Some((Material::clone(metal.given()?), *thickness.given()?))
    } else {
        None
    };
    let mut pot = match (volume.given(), chosen) {
        (Some(volume), None) => Pot::typical(*volume),
        (Some(volume), Some((metal, thickness))) => Pot::typical(*volume).of_metal(metal, thickness),
        (None, Some((metal, thickness))) => {
            let (diameter, height) = (*diameter.given()?, *height.given()?);
            let pot = Pot::sized(diameter, height, metal, thickness);
            findings.keep(about("volume", pot.mass()).map_err(|error| section.place(without_path(&error))))?;
            pot
        }
        (None, None) => return None,
    };
    // What is wrong has its finding; the pot without it serves to check what stands round it.
    if let Some(mass) = mass.given() {
        pot = pot.weighing(*mass);
    }
    if let Some(emissivity) = emissivity.given() {
        pot = pot.with_emissivity(*emissivity);
    }
    if let Some(lid) = lid {
        pot = pot.covered(lid);
    }
    if let Some(footing) = footing.given() {
        pot = pot.standing_on(*footing);
    }
    if let Some(handle) = handle.flatten() {
        pot = pot.with_handle(handle);
    }
    if let Some(knob) = knob.flatten() {
        pot = pot.with_knob(knob);
    }
    Some(pot)
}

/// What the pot stands on: a word, or its resistance.
fn footing(item: &Item<'_>) -> Result<Footing, Error> {
    match item.word(&FOOTINGS) {
        Ok(make) => Ok(make()),
        Err(no_word) => {
            let number = |text: &str| text.contains(|c: char| c.is_ascii_digit());
            if item.is_list() || item.text().is_ok_and(number) {
                return range(item).map(Footing::resisting);
            }
            let words: Vec<&str> = FOOTINGS.iter().map(|(word, _)| *word).collect();
            Err(no_word.with_accepted(format!("{}, or a resistance", words.join(", "))))
        }
    }
}

/// The lid of the pot; every finding noted.
fn cover(section: &Section<'_>, findings: &mut Findings) -> Option<PotLid> {
    let word = Leaf::optional(findings, section, "lid", |item| item.word(&COVERS));
    let gap: Leaf<Range<Length>> = Leaf::optional(findings, section, "lid-gap", range);
    let gap = gap.checked(findings, |gap| PotLid::with_gap(*gap).check());
    let named = word.given().map(|make| make());
    if let (Some(lid), Leaf::Given(_, item)) = (named, &gap)
        && lid.gap().is_none()
    {
        let error = Error::new(ErrorKind::Inconsistent, "this lid has no gap");
        findings.add(item.place(error.with_accepted("lid = \"loose\"")));
        return None;
    }
    gap.given().map(|gap| PotLid::with_gap(*gap)).or(named)
}

fn handle(section: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Handle> {
    findings.refuse_unknown(section, &HANDLE);
    let form = "material = \"carbon-steel\"";
    let of = material(section, "material", catalogue, findings).required(findings, section, "material", form);
    let stand_in = catalogue.iter().next();
    let usual = millimetres(10.0);
    let mut length = |key: &'static str, with: fn(Material, Length, Length) -> Handle| {
        let leaf: Leaf<Length> = Leaf::required_quantity(findings, section, key);
        let leaf = leaf.checked(findings, |length| match stand_in {
            Some(material) => with(material.clone(), *length, usual).check(),
            None => Ok(()),
        });
        leaf.given().copied()
    };
    let width = length("width", |material, length, usual| Handle::new(material, length, usual, usual));
    let thickness = length("thickness", |material, length, usual| Handle::new(material, usual, length, usual));
    let outside = length("outside", |material, length, usual| Handle::new(material, usual, usual, length));
    Some(Handle::new(of.given()?.clone(), width?, thickness?, outside?))
}

/// The knob on a lid, which must be there.
fn knob(section: &Section<'_>, lid: Option<PotLid>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Knob> {
    findings.refuse_unknown(section, &KNOB);
    let form = "material = \"carbon-steel\"";
    let of = material(section, "material", catalogue, findings).required(findings, section, "material", form);
    let (stand_in, usual) = (catalogue.iter().next(), millimetres(10.0));
    let check = |make: fn(Material, Length, Length) -> Knob, across: Length, end: Length| match stand_in {
        Some(material) => make(material.clone(), across, end).check(),
        None => Ok(()),
    };
    let across: Leaf<Length> = Leaf::required_quantity(findings, section, "across");
    let across = across.checked(findings, |across| check(Knob::inside, *across, usual));
    let height: Leaf<Length> = Leaf::quantity(findings, section, "height");
    let height = height.checked(findings, |height| check(Knob::inside, usual, *height));
    let outside: Leaf<Length> = Leaf::quantity(findings, section, "outside");
    let outside = outside.checked(findings, |outside| check(Knob::through_lid, usual, *outside));
    if lid.is_some_and(|lid| lid.is_missing()) {
        let error = Error::new(ErrorKind::Inconsistent, "there is no lid for it to stand on").with_value("lid: none");
        findings.add(section.place(error.with_accepted("a lid on the pot, or no knob")));
        return None;
    }
    match (height.is_absent(), outside.is_absent()) {
        (false, false) => {
            findings.given_twice(section, "it ends inside the box and outside", KNOB_ENDS);
            return None;
        }
        (true, true) => {
            findings.keep(section.require("height", KNOB_ENDS));
            return None;
        }
        _ => {}
    }
    let (of, across) = (of.given()?.clone(), *across.given()?);
    let inside = height.given().map(|height| Knob::inside(of.clone(), across, *height));
    inside.or_else(|| Some(Knob::through_lid(of, across, *outside.given()?)))
}
