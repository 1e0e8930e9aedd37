//! Entries of a data file by id, with the sources they name.

use crate::document::{File, Item, Section, nearest};
use crate::error::{Error, ErrorKind};
use crate::material::{Evidence, Mark, Source};
use crate::setup::Range;
use crate::units::Spoken;
use std::collections::BTreeMap;
use toml::de::DeTable;

/// The sources that entries may name.
pub type Sources = BTreeMap<String, Source>;

/// An entry that a [`Shelf`] can hold; implemented for the entries of this module only.
pub trait Entry: Sized + Clone {
    /// What one is called in errors.
    const WHAT: &'static str;
    /// Its id.
    fn id(&self) -> &str;
    /// Its name in words.
    fn title(&self) -> &str;
}

/// An entry as it is read from its table.
pub(super) trait ReadEntry: Entry {
    fn read(id: &str, section: &Section<'_>, sources: &Sources) -> Result<Self, Error>;
}

/// Dishes, limits or fuels by id: the embedded ones, and those of files of your own.
#[derive(Debug, Clone, PartialEq)]
pub struct Shelf<T> {
    entries: Vec<T>,
    sources: Sources,
}

const SOURCES: File<'static> = File { name: "sources.toml", text: include_str!("../../materials/food/sources.toml") };

impl<T: Entry> Shelf<T> {
    /// The entry `id`.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] with the nearest ids.
    pub fn get(&self, id: &str) -> Result<&T, Error> {
        self.entries.iter().find(|entry| entry.id() == id).ok_or_else(|| {
            let near = nearest(id, self.entries.iter().map(|entry| (entry.id(), entry.title())));
            let all: Vec<&str> = self.entries.iter().map(Entry::id).collect();
            Error::new(ErrorKind::UnknownName, format!("unknown {}", T::WHAT))
                .with_value(format!("{id:?}"))
                .with_nearest(near)
                .with_accepted(all.join(", "))
        })
    }

    /// Every entry, in the order of the files.
    pub fn iter(&self) -> impl Iterator<Item = &T> {
        self.entries.iter()
    }

    /// How many entries there are.
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Whether there is no entry.
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// The source `key`, as entries name it.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] with the nearest keys.
    pub fn source(&self, key: &str) -> Result<&Source, Error> {
        self.sources.get(key).ok_or_else(|| unknown_source(key, &self.sources))
    }

    /// Every source, by key.
    pub fn sources(&self) -> impl Iterator<Item = &Source> {
        self.sources.values()
    }
}

#[allow(private_bounds, reason = "sealed: the entries are those of this module")]
impl<T: ReadEntry> Shelf<T> {
    /// The shelf of embedded files. A test holds the findings of every embedded file empty.
    pub(super) fn embedded(files: &[(&str, &str)]) -> Self {
        let mut shelf = Shelf { entries: Vec::new(), sources: Sources::new() };
        let _ = shelf.add(SOURCES);
        for (name, text) in files {
            let _ = shelf.add(File { name, text });
        }
        shelf
    }

    /// A copy with the entries of a file of the same form added; `name` of the file stands in errors. Further sources
    /// are described under `[sources.<key>]`.
    ///
    /// # Errors
    /// The first of the [`findings`](Self::findings), with file, line and key in front.
    pub fn with_file(&self, text: &str, name: &str) -> Result<Self, Error> {
        let mut extended = self.clone();
        match extended.add(File { name, text }).into_iter().next() {
            None => Ok(extended),
            Some(error) => Err(error),
        }
    }

    /// Everything that is wrong with a file, at most one finding for each of its entries: syntax, unknown or missing
    /// keys, ids that are taken, wrong units, numbers outside their range, unknown sources.
    pub fn findings(&self, text: &str, name: &str) -> Vec<Error> {
        self.clone().add(File { name, text })
    }

    fn add(&mut self, file: File<'_>) -> Vec<Error> {
        let (document, errors) = DeTable::parse_recoverable(file.text);
        if !errors.is_empty() {
            return file.syntax(&errors);
        }
        let root = Section::root(file, document.get_ref());
        let mut findings = Vec::new();
        if let Some(list) = root.get("sources") {
            match list.section() {
                Err(error) => findings.push(error),
                Ok(list) => {
                    for (key, item) in list.items() {
                        match self.source_of(key, &item) {
                            Ok(source) => {
                                self.sources.insert(key.to_owned(), source);
                            }
                            Err(error) => findings.push(error),
                        }
                    }
                }
            }
        }
        for (id, item) in root.items() {
            if id != "sources" {
                match self.entry_of(id, &item) {
                    Ok(entry) => self.entries.push(entry),
                    Err(error) => findings.push(error),
                }
            }
        }
        findings
    }

    fn entry_of(&self, id: &str, item: &Item<'_>) -> Result<T, Error> {
        check_id(id).map_err(|error| item.place(error))?;
        if self.entries.iter().any(|entry| entry.id() == id) {
            let error = Error::new(ErrorKind::Data, format!("a {} of this id is already known", T::WHAT));
            return Err(item.place(error.with_value(id).with_accepted("an id that is not taken")));
        }
        T::read(id, &item.section()?, &self.sources)
    }

    fn source_of(&self, key: &str, item: &Item<'_>) -> Result<Source, Error> {
        check_id(key).map_err(|error| item.place(error))?;
        if self.sources.contains_key(key) {
            let error = Error::new(ErrorKind::Data, "a source of this key is already known");
            return Err(item.place(error.with_value(key).with_accepted("a key that is not taken")));
        }
        let section = item.section()?;
        section.only(&["title", "year", "seen", "mark", "doi"])?;
        Ok(Source {
            key: key.to_owned(),
            title: section.require("title", "the title in quotes")?.text()?.to_owned(),
            year: year(&section)?,
            seen: section.require("seen", "what was seen of it, in quotes")?.text()?.to_owned(),
            mark: section.word("mark", &Mark::WORDS)?,
            doi: section.text("doi")?,
            licence: None,
        })
    }
}

fn check_id(id: &str) -> Result<(), Error> {
    let word = |word: &str| !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit());
    if id.split('-').all(word) {
        return Ok(());
    }
    Err(Error::new(ErrorKind::Data, "is no id")
        .with_value(format!("{id:?}"))
        .with_accepted("lower-case words and digits joined by hyphens"))
}

fn unknown_source(key: &str, sources: &Sources) -> Error {
    let near = nearest(key, sources.values().map(|source| (source.key(), source.title())));
    Error::new(ErrorKind::UnknownName, "unknown source")
        .with_value(format!("{key:?}"))
        .with_nearest(near)
        .with_accepted("a key of the sources of food, or one described under [sources.<key>]")
}

/// The year under `year`, if it is there.
pub(super) fn year(section: &Section<'_>) -> Result<Option<u16>, Error> {
    let Some(item) = section.get("year") else { return Ok(None) };
    let year = item.number()?;
    // The range makes the conversion exact for whole years; parts of a year are refused.
    if (1600.0..=2200.0).contains(&year) && year.fract() == 0.0 {
        return Ok(Some(year as u16));
    }
    let error = Error::new(ErrorKind::OutOfRange, "is no year of publication");
    Err(item.place(error.with_value(year.to_string()).with_accepted("1600 to 2200")))
}

/// The keys of [`evidence`].
pub(super) const EVIDENCE: [&str; 3] = ["mark", "sources", "note"];

/// Mark and sources. What was read or recalled must name where.
pub(super) fn evidence(section: &Section<'_>, sources: &Sources) -> Result<Evidence, Error> {
    let mark = section.word("mark", &Mark::WORDS)?;
    let mut keys = Vec::new();
    if let Some(list) = section.get("sources") {
        for item in list.list()? {
            let key = item.text()?;
            if !sources.contains_key(key) {
                return Err(item.place(unknown_source(key, sources)));
            }
            keys.push(key.to_owned());
        }
    }
    if keys.is_empty() && matches!(mark, Mark::Read | Mark::Memory) {
        return Err(section.place(Error::new(ErrorKind::Data, "names no source").with_accepted("at least one")));
    }
    Ok(Evidence { mark, derived: mark == Mark::Computed, sources: keys, note: section.text("note")? })
}

/// A quantity with its range: one text, taken as exact, or `["low", "best", "high"]`; the ends inside `low` to `high`.
pub(super) fn range<Q: Spoken>(item: &Item<'_>, low: Q, high: Q) -> Result<Range<Q>, Error> {
    let range = if item.is_list() {
        let list = item.list()?;
        let [one, two, three] = list.as_slice() else {
            return Err(item.place(
                Error::new(ErrorKind::Data, "is no range")
                    .with_value(format!("{} entries", list.len()))
                    .with_accepted(format!("\"{}\", or [\"low\", \"best\", \"high\"]", Q::EXAMPLE)),
            ));
        };
        Range::new(one.quantity()?, two.quantity()?, three.quantity()?).map_err(|error| item.place(error))?
    } else {
        Range::exactly(item.quantity()?)
    };
    range.check("range", low, high).map_err(|error| item.place(error))?;
    Ok(range)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::food::{DishFacts, Fuel, Limit};

    fn findings<T: ReadEntry>(name: &str, text: &str) -> Vec<Error> {
        let mut shelf: Shelf<T> = Shelf { entries: Vec::new(), sources: Sources::new() };
        let mut findings = shelf.add(SOURCES);
        findings.extend(shelf.add(File { name, text }));
        findings
    }

    #[test]
    fn the_embedded_files_have_no_findings() {
        let dishes = include_str!("../../materials/dishes.toml");
        assert_eq!(findings::<DishFacts>("dishes.toml", dishes), []);
        assert_eq!(findings::<Limit>("guidance.toml", include_str!("../../materials/food/guidance.toml")), []);
        assert_eq!(findings::<Fuel>("fuel.toml", include_str!("../../materials/food/fuel.toml")), []);
        // The check can fail: a dish is no limit.
        assert!(!findings::<Limit>("dishes.toml", dishes).is_empty());
    }
}
