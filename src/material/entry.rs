//! An entry of a data file: a material or a source, read strictly.

use super::category::Category;
use super::composition::Composition;
use super::custom::{check_id, check_temperature, emissivity, vapour_resistance_factor};
use super::damp::damp_factor;
use super::description::{Emissivity, Material, Remarks, ServiceTemperature};
use super::law::PropertyLaw;
use super::property::{Parts, Physical, Property};
use super::provenance::{Evidence, Grade, Mark, Source};
use crate::document::{Item, Section, placed};
use crate::error::{Error, ErrorKind};
use crate::units::{Ratio, Si, Spoken, Temperature};
use std::collections::BTreeMap;

/// The sources that entries may name.
pub(crate) type Sources = BTreeMap<String, Source>;

const MATERIAL: [&str; 15] = [
    "name",
    "category",
    "grade",
    "note",
    "when-wet",
    "when-pressed",
    "caution",
    "conductivity",
    "density",
    "heat-capacity",
    "vapour-resistance-factor",
    "damp-factor",
    "emissivity",
    "service-temperature",
    "composition",
];
const VALUE: [&str; 10] =
    ["value", "low", "high", "at", "mark", "derived", "sources", "seen", "note", "with-temperature"];
const LAW: [&str; 9] = ["table", "slope", "from", "to", "mark", "derived", "sources", "uncertainty-percent", "note"];
const LIMIT: [&str; 6] = ["continuous", "brief", "mark", "derived", "sources", "note"];
const EVIDENCE_ONLY: [&str; 4] = ["mark", "derived", "sources", "note"];
const SOURCE: [&str; 6] = ["title", "year", "seen", "mark", "doi", "licence"];

/// Reads the material `id` from its table.
pub(crate) fn material(id: &str, item: &Item<'_>, sources: &Sources) -> Result<Material, Error> {
    check_id(id).map_err(|error| item.place(error))?;
    let entry = item.section()?;
    entry.only(&MATERIAL)?;
    let part = |key: &str| entry.require(key, "a table of value, low, high, mark")?.section();
    Ok(Material {
        id: id.to_owned(),
        name: entry.require("name", "the name in words, in quotes")?.text()?.to_owned(),
        category: entry.word("category", &Category::WORDS)?,
        grade: entry.word("grade", &Grade::WORDS)?,
        conductivity: property(&part("conductivity")?, sources)?,
        density: property(&part("density")?, sources)?,
        heat_capacity: property(&part("heat-capacity")?, sources)?,
        vapour_resistance_factor: entry
            .get("vapour-resistance-factor")
            .map(|item| factor(&item.section()?, &[], sources, vapour_resistance_factor))
            .transpose()?,
        damp_factor: entry
            .get("damp-factor")
            .map(|item| factor(&item.section()?, &[], sources, damp_factor))
            .transpose()?,
        is_damp: false,
        emissivities: match entry.get("emissivity") {
            None => Vec::new(),
            Some(list) => list.list()?.iter().map(|item| surface(item, sources)).collect::<Result<_, _>>()?,
        },
        service_temperature: entry.get("service-temperature").map(|item| limit(&item, sources)).transpose()?,
        composition: entry.get("composition").map(|item| composition(&item, sources)).transpose()?,
        remarks: Remarks {
            note: entry.text("note")?,
            when_wet: entry.text("when-wet")?,
            when_pressed: entry.text("when-pressed")?,
            caution: entry.text("caution")?,
        },
    })
}

/// Reads the source `key` from its table.
pub(crate) fn source(key: &str, item: &Item<'_>) -> Result<Source, Error> {
    check_id(key).map_err(|error| item.place(error))?;
    let entry = item.section()?;
    entry.only(&SOURCE)?;
    let year = entry.get("year").map(|item| {
        let year = item.number()?;
        // The range makes the conversion exact for whole years; parts of a year are refused.
        if (1600.0..=2200.0).contains(&year) && year.fract() == 0.0 {
            Ok(year as u16)
        } else {
            let error = Error::new(ErrorKind::OutOfRange, "is no year of publication");
            Err(item.place(error.with_value(year.to_string()).with_accepted("1600 to 2200")))
        }
    });
    Ok(Source {
        key: key.to_owned(),
        title: entry.require("title", "the title in quotes")?.text()?.to_owned(),
        year: year.transpose()?,
        seen: entry.require("seen", "what was seen of it, in quotes")?.text()?.to_owned(),
        mark: entry.word("mark", &Mark::WORDS)?,
        doi: entry.text("doi")?,
        licence: entry.text("licence")?,
    })
}

/// A property with unit and, perhaps, a temperature law.
fn property<Q: Physical>(section: &Section<'_>, sources: &Sources) -> Result<Property<Q>, Error> {
    section.only(&VALUE)?;
    let value: Q = section.quantity("value")?;
    let reference: Option<Temperature> = section.get("at").map(|item| item.quantity()).transpose()?;
    let (law, law_evidence, law_uncertainty) = match section.get("with-temperature") {
        None => (None, None, None),
        Some(item) => {
            let section = item.section()?;
            section.only(&LAW)?;
            (
                Some(law(&section, value, reference)?),
                Some(evidence(&section, sources)?),
                section.get("uncertainty-percent").map(|item| uncertainty(&item)).transpose()?,
            )
        }
    };
    let seen = seen(section, sources, |item| item.quantity::<Q>())?;
    let parts = Parts {
        value,
        low: section.quantity("low")?,
        high: section.quantity("high")?,
        reference,
        law,
        law_evidence,
        law_uncertainty,
        evidence: evidence(section, sources)?,
        seen,
    };
    placed(parts.build(), section)
}

/// A property without unit; `build` knows its range.
fn factor(
    section: &Section<'_>,
    further: &[&str],
    sources: &Sources,
    build: impl Fn(Parts<Ratio>) -> Result<Property<Ratio>, Error>,
) -> Result<Property<Ratio>, Error> {
    let known: Vec<&str> = VALUE.iter().filter(|key| **key != "with-temperature").chain(further).copied().collect();
    section.only(&known)?;
    let number = |key: &str| section.require(key, "a number without unit")?.ratio();
    let parts = Parts {
        low: number("low")?,
        high: number("high")?,
        reference: section.get("at").map(|item| item.quantity()).transpose()?,
        evidence: evidence(section, sources)?,
        seen: seen(section, sources, |item| item.ratio())?,
        ..Parts::given(number("value")?)
    };
    placed(build(parts), section)
}

fn surface(item: &Item<'_>, sources: &Sources) -> Result<Emissivity, Error> {
    let section = item.section()?;
    Ok(Emissivity {
        surface: section.require("surface", "which surface, in quotes")?.text()?.to_owned(),
        property: factor(&section, &["surface"], sources, emissivity)?,
    })
}

fn limit(item: &Item<'_>, sources: &Sources) -> Result<ServiceTemperature, Error> {
    let section = item.section()?;
    section.only(&LIMIT)?;
    let continuous: Temperature = section.quantity("continuous")?;
    placed(check_temperature("continuous", continuous), &section)?;
    let brief: Option<Temperature> = section.get("brief").map(|item| item.quantity()).transpose()?;
    if let Some(brief) = brief {
        placed(check_temperature("brief", brief), &section)?;
        if brief < continuous {
            return Err(section.place(Error::new(ErrorKind::Inconsistent, "`brief` lies below `continuous`")));
        }
    }
    Ok(ServiceTemperature { continuous, brief, evidence: evidence(&section, sources)? })
}

fn composition(item: &Item<'_>, sources: &Sources) -> Result<Composition, Error> {
    let section = item.section()?;
    let known: Vec<&str> = Composition::KEYS.into_iter().chain(EVIDENCE_ONLY).collect();
    section.only(&known)?;
    let mut fractions = [0.0; Composition::KEYS.len()];
    for (fraction, key) in fractions.iter_mut().zip(Composition::KEYS) {
        *fraction = section.require(key, "a mass fraction, 0 to 1")?.ratio()?.si();
    }
    placed(Composition::new(fractions, evidence(&section, sources)?), &section)
}

/// The temperature law of `with-temperature`: a table, or a slope with its range.
fn law<Q: Spoken>(section: &Section<'_>, value: Q, reference: Option<Temperature>) -> Result<PropertyLaw, Error> {
    if let Some(item) = section.get("table") {
        let points: Vec<(f64, f64)> = item
            .list()?
            .iter()
            .map(|row| {
                let (temperature, value) = row.pair()?;
                Ok((temperature.quantity::<Temperature>()?.si(), value.quantity::<Q>()?.si()))
            })
            .collect::<Result<_, Error>>()?;
        for key in ["slope", "from", "to"] {
            if let Some(item) = section.get(key) {
                let error = Error::new(ErrorKind::Inconsistent, "a table goes without this key");
                return Err(item.place(error));
            }
        }
        return PropertyLaw::table(&points).map_err(|error| item.place(error));
    }
    let item = section.require("slope", "a table, or a slope with from and to")?;
    let reference = reference.ok_or_else(|| {
        let error = Error::new(ErrorKind::Inconsistent, "a temperature law needs the temperature of the value");
        section.place(error.with_accepted("`at` beside the value, for example at = \"10 °C\""))
    })?;
    let (from, to): (Temperature, Temperature) = (section.quantity("from")?, section.quantity("to")?);
    let law = PropertyLaw::linear(reference.si(), value.si(), slope::<Q>(&item)?, from.si(), to.si());
    law.map_err(|error| item.place(error))
}

/// A slope, written as its quantity "per K".
fn slope<Q: Spoken>(item: &Item<'_>) -> Result<f64, Error> {
    let text = item.text()?;
    let Some(quantity) = text.trim_end().strip_suffix("per K") else {
        let error = Error::new(ErrorKind::Unit, "the slope is not given per kelvin").with_value(format!("{text:?}"));
        return Err(item.place(error.with_accepted(format!("\"{} per K\"", Q::EXAMPLE))));
    };
    crate::units::parse::<Q>(quantity).map(Si::si).map_err(|error| item.place(error))
}

fn uncertainty(item: &Item<'_>) -> Result<Ratio, Error> {
    let percent = item.number()?;
    if percent > 0.0 && percent <= 100.0 {
        return Ok(Ratio::from_si(percent / 100.0));
    }
    let error = Error::new(ErrorKind::OutOfRange, "is no uncertainty").with_value(percent.to_string());
    Err(item.place(error.with_accepted("more than 0, up to 100")))
}

/// Mark and sources. What was read or recalled must name where.
fn evidence(section: &Section<'_>, sources: &Sources) -> Result<Evidence, Error> {
    let mark = section.word("mark", &Mark::WORDS)?;
    let keys = match section.get("sources") {
        None => Vec::new(),
        Some(list) => list.list()?.iter().map(|item| known_source(item, sources)).collect::<Result<_, _>>()?,
    };
    if keys.is_empty() && matches!(mark, Mark::Read | Mark::Memory) {
        section.require("sources", "at least one key of a source")?;
        return Err(section.place(Error::new(ErrorKind::Data, "names no source").with_accepted("at least one")));
    }
    Ok(Evidence { mark, derived: section.flag("derived")?, sources: keys, note: section.text("note")? })
}

fn seen<Q>(
    section: &Section<'_>,
    sources: &Sources,
    read: impl Fn(&Item<'_>) -> Result<Q, Error>,
) -> Result<Vec<(Q, String)>, Error> {
    let Some(list) = section.get("seen") else { return Ok(Vec::new()) };
    let pair = |item: &Item<'_>| {
        let (value, key) = item.pair()?;
        Ok((read(&value)?, known_source(&key, sources)?))
    };
    list.list()?.iter().map(pair).collect()
}

fn known_source(item: &Item<'_>, sources: &Sources) -> Result<String, Error> {
    let key = item.text()?;
    if sources.contains_key(key) {
        return Ok(key.to_owned());
    }
    Err(item.place(unknown_source(key, sources)))
}

/// The error for a source that is not known, with the nearest keys.
pub(crate) fn unknown_source(key: &str, sources: &Sources) -> Error {
    let known = sources.values().map(|source| (source.key(), source.title()));
    let near = crate::document::nearest(key, known);
    let error = Error::new(ErrorKind::UnknownName, "unknown source").with_value(format!("{key:?}"));
    error
        .with_nearest(near)
        .with_accepted("a key of the catalogue, or one described under [sources.<key>] in the same file")
}
