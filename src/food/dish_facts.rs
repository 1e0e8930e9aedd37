//! What is known of a dish beyond its heat: how it cooks, how long it usually simmers, what it may harbour.

use super::composition::FoodProperties;
use super::kinetics::{Kinetics, RateLaw};
use super::shelf::{EVIDENCE, Entry, ReadEntry, Shelf, Sources, evidence, range};
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::material::{Composition, Evidence, Material};
use crate::setup::Range;
use crate::units::{
    Length, Si, Temperature, TemperatureInterval, Time, celsius, hours, kelvins, metres, millimetres, minutes,
};
use std::sync::OnceLock;

/// Whether the liquid of a dish turns over by itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Circulation {
    /// Thin enough to mix: one temperature throughout, about.
    Stirred,
    /// Stiff: its edge is colder than its mean, and the coldest spot counts.
    Still,
}

/// What a dish may harbour, and so which limits concern it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Hazard {
    /// Lectin of kidney beans (also, less of it, of white and broad beans): only a full boil destroys it.
    KidneyBeanLectin,
    /// Cyanide bound in cassava: heat alone does not free it.
    CassavaCyanide,
    /// Spores of *Bacillus cereus* in rice and other starch: their emetic toxin outlasts boiling.
    BacillusCereus,
    /// Spores of *Clostridium perfringens* and its kin, from meat and from soil: in nearly every cooked dish.
    SporeFormers,
    /// Poultry: the centre must have been hot.
    Poultry,
    /// Minced meat: what was on the surface is inside.
    MincedMeat,
    /// Whole cuts of meat.
    WholeMeat,
}

impl Hazard {
    pub(super) const WORDS: [(&'static str, Hazard); 7] = [
        ("kidney-bean-lectin", Hazard::KidneyBeanLectin),
        ("cassava-cyanide", Hazard::CassavaCyanide),
        ("bacillus-cereus", Hazard::BacillusCereus),
        ("spore-formers", Hazard::SporeFormers),
        ("poultry", Hazard::Poultry),
        ("minced-meat", Hazard::MincedMeat),
        ("whole-meat", Hazard::WholeMeat),
    ];

    /// In words.
    pub fn name(self) -> &'static str {
        match self {
            Hazard::KidneyBeanLectin => "bean lectin",
            Hazard::CassavaCyanide => "cyanide of cassava",
            Hazard::BacillusCereus => "Bacillus cereus",
            Hazard::SporeFormers => "Clostridium perfringens",
            Hazard::Poultry => "poultry",
            Hazard::MincedMeat => "minced meat",
            Hazard::WholeMeat => "whole cuts of meat",
        }
    }
}

/// Pieces in a dish, by their smallest thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct PieceSize {
    /// As they are usually cut.
    pub usual: Length,
    /// Above this nothing is said about their centre.
    pub largest: Length,
}

const UNLISTED: &str = "unlisted-dish";

/// Facts on a dish, with what each rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct DishFacts {
    id: String,
    name: String,
    material: Option<Material>,
    composition: Option<Composition>,
    circulation: Circulation,
    kinetics: Option<Kinetics>,
    usual_simmer: Option<(Range<Time>, Evidence)>,
    pieces: Option<PieceSize>,
    hazards: Vec<Hazard>,
    note: Option<String>,
}

impl DishFacts {
    /// The dishes that come with the crate (`materials/dishes.toml`); read once, at the first use.
    pub fn shelf() -> &'static Shelf<DishFacts> {
        static SHELF: OnceLock<Shelf<DishFacts>> = OnceLock::new();
        SHELF.get_or_init(|| Shelf::embedded(&[("dishes.toml", include_str!("../../materials/dishes.toml"))]))
    }

    /// A dish of which nothing is known but that it was cooked: stiff for all we know, with spores that outlast boiling.
    /// Whether it needs a hard boil, a preparation, or to be cooked through, no finding tells.
    ///
    /// # Errors
    /// None is expected: the embedded list has it.
    pub fn unlisted() -> Result<&'static DishFacts, Error> {
        Self::named(UNLISTED)
    }

    /// Whether it is [`DishFacts::unlisted`].
    pub fn is_unlisted(&self) -> bool {
        self.id == UNLISTED
    }

    /// A dish from the embedded list.
    ///
    /// ```
    /// use stillhot::food::{Circulation, DishFacts};
    /// assert_eq!(DishFacts::named("barley-broth")?.circulation(), Circulation::Stirred);
    /// # Ok::<(), stillhot::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] with the nearest ids.
    pub fn named(id: &str) -> Result<&'static DishFacts, Error> {
        Self::shelf().get(id)
    }

    /// The id, in lower-case words joined by hyphens.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// The name in words.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its entry in the material catalogue, where it has one.
    pub fn material(&self) -> Option<&Material> {
        self.material.as_ref()
    }

    /// What it consists of: its own entry, or that of its material.
    pub fn composition(&self) -> Option<&Composition> {
        self.composition.as_ref().or_else(|| self.material.as_ref()?.composition())
    }

    /// Its thermal properties by composition at a temperature of 0 to 150 °C; `None` without a composition.
    ///
    /// # Errors
    /// As [`FoodProperties::of`].
    pub fn properties(&self, temperature: Temperature) -> Result<Option<FoodProperties>, Error> {
        self.composition().map(|composition| FoodProperties::of(composition, temperature)).transpose()
    }

    /// Whether its liquid turns over.
    pub fn circulation(&self) -> Circulation {
        self.circulation
    }

    /// How its cooking follows temperature, where it is known.
    pub fn kinetics(&self) -> Option<&Kinetics> {
        self.kinetics.as_ref()
    }

    /// How long it usually simmers on the stove, at the reference temperature of its kinetics, where that is known.
    pub fn usual_simmer(&self) -> Option<Range<Time>> {
        self.usual_simmer.as_ref().map(|(time, _)| *time)
    }

    /// What the usual simmer rests on: mostly common practice, without source.
    pub fn simmer_evidence(&self) -> Option<&Evidence> {
        self.usual_simmer.as_ref().map(|(_, evidence)| evidence)
    }

    /// Its pieces, if it has any whose centre counts.
    pub fn pieces(&self) -> Option<PieceSize> {
        self.pieces
    }

    /// What it may harbour.
    pub fn hazards(&self) -> &[Hazard] {
        &self.hazards
    }

    /// A remark.
    pub fn note(&self) -> Option<&str> {
        self.note.as_deref()
    }

    pub(super) fn has(&self, hazards: &[Hazard]) -> bool {
        hazards.is_empty() || hazards.iter().any(|hazard| self.hazards.contains(hazard))
    }
}

impl Entry for DishFacts {
    const WHAT: &'static str = "dish";
    fn id(&self) -> &str {
        &self.id
    }
    fn title(&self) -> &str {
        &self.name
    }
}

const DISH: [&str; 9] =
    ["name", "material", "composition", "circulation", "kinetics", "usual-simmer", "pieces", "hazards", "note"];
const KINETICS: [&str; 9] = [
    "z",
    "activation-energy-kj-per-mol",
    "reference",
    "stops-below",
    "measured-from",
    "measured-to",
    EVIDENCE[0],
    EVIDENCE[1],
    EVIDENCE[2],
];

impl ReadEntry for DishFacts {
    fn read(id: &str, section: &Section<'_>, sources: &Sources) -> Result<Self, Error> {
        section.only(&DISH)?;
        Ok(DishFacts {
            id: id.to_owned(),
            name: section.require("name", "the name in words, in quotes")?.text()?.to_owned(),
            material: section.get("material").map(|item| material(&item)).transpose()?,
            composition: section.get("composition").map(|item| mixture(&item, sources)).transpose()?,
            circulation: section
                .word("circulation", &[("stirred", Circulation::Stirred), ("still", Circulation::Still)])?,
            kinetics: section.get("kinetics").map(|item| kinetics(&item, sources)).transpose()?,
            usual_simmer: section.get("usual-simmer").map(|item| simmer(&item, sources)).transpose()?,
            pieces: section.get("pieces").map(|item| pieces(&item)).transpose()?,
            hazards: hazards(section)?,
            note: section.text("note")?,
        })
    }
}

fn simmer(item: &Item<'_>, sources: &Sources) -> Result<(Range<Time>, Evidence), Error> {
    let section = item.section()?;
    section.only(&["time", EVIDENCE[0], EVIDENCE[1], EVIDENCE[2]])?;
    let time = section.require("time", "[\"15 min\", \"20 min\", \"30 min\"]")?;
    Ok((range(&time, minutes(0.0), hours(24.0))?, evidence(&section, sources)?))
}

fn material(item: &Item<'_>) -> Result<Material, Error> {
    Material::named(item.text()?).map_err(|error| item.place(error))
}

fn mixture(item: &Item<'_>, sources: &Sources) -> Result<Composition, Error> {
    let section = item.section()?;
    let known: Vec<&str> = Composition::KEYS.into_iter().chain(EVIDENCE).collect();
    section.only(&known)?;
    let mut fractions = [0.0; Composition::KEYS.len()];
    for (fraction, key) in fractions.iter_mut().zip(Composition::KEYS) {
        *fraction = section.require(key, "a mass fraction, 0 to 1")?.ratio()?.si();
    }
    Composition::new(fractions, evidence(&section, sources)?).map_err(|error| section.place(error))
}

fn kinetics(item: &Item<'_>, sources: &Sources) -> Result<Kinetics, Error> {
    let section = item.section()?;
    section.only(&KINETICS)?;
    let laws = match (section.get("z"), section.get("activation-energy-kj-per-mol")) {
        (Some(z), None) => {
            let z: Range<TemperatureInterval> = range(&z, kelvins(3.0), kelvins(60.0))?;
            [z.low(), z.best(), z.high()].map(RateLaw::DecimalRise)
        }
        (None, Some(energy)) => activation(&energy)?,
        _ => {
            let error = Error::new(ErrorKind::Inconsistent, "needs one law");
            return Err(section.place(error.with_accepted("either z or activation-energy-kj-per-mol")));
        }
    };
    let reference: Temperature = section.quantity("reference")?;
    let mut kinetics =
        Kinetics::of(laws, reference, evidence(&section, sources)?).map_err(|error| section.place(error))?;
    if let Some(item) = section.get("stops-below") {
        kinetics = kinetics.with_stop(item.quantity()?).map_err(|error| item.place(error))?;
    }
    if section.get("measured-from").is_some() || section.get("measured-to").is_some() {
        let (from, to): (Temperature, Temperature) =
            (section.quantity("measured-from")?, section.quantity("measured-to")?);
        if from >= to || to > celsius(200.0) {
            return Err(section.place(Error::new(ErrorKind::Inconsistent, "the measured range is empty or too hot")));
        }
        kinetics.measured = Some((from.si(), to.si()));
    }
    Ok(kinetics)
}

fn activation(item: &Item<'_>) -> Result<[RateLaw; 3], Error> {
    let numbers: Vec<f64> = if item.is_list() {
        item.list()?.iter().map(Item::number).collect::<Result<_, _>>()?
    } else {
        vec![item.number()?; 3]
    };
    match numbers[..] {
        [low, best, high] if low <= best && best <= high => {
            Ok([low, best, high].map(|kilojoules| RateLaw::ActivationEnergy(1e3 * kilojoules)))
        }
        _ => {
            Err(item
                .place(Error::new(ErrorKind::Data, "is no range").with_accepted("one number, or [low, best, high]")))
        }
    }
}

fn pieces(item: &Item<'_>) -> Result<PieceSize, Error> {
    let section = item.section()?;
    section.only(&["usual", "largest"])?;
    let size = PieceSize { usual: section.quantity("usual")?, largest: section.quantity("largest")? };
    if size.usual < millimetres(1.0) || size.usual > size.largest || size.largest > metres(0.2) {
        let error = Error::new(ErrorKind::OutOfRange, "sizes of pieces are out of range");
        return Err(section.place(error.with_accepted("1 mm to 200 mm, usual no larger than largest")));
    }
    Ok(size)
}

fn hazards(section: &Section<'_>) -> Result<Vec<Hazard>, Error> {
    section
        .require("hazards", "a list of hazards, empty for none")?
        .list()?
        .iter()
        .map(|item| item.word(&Hazard::WORDS))
        .collect()
}
