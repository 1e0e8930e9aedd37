//! The materials that are known by name.

use super::category::Category;
use super::description::Material;
use super::entry::{self, Sources, unknown_source};
use super::provenance::Source;
use crate::document::nearest;
use crate::document::{File, Section};
use crate::error::{Error, ErrorKind};
use std::collections::BTreeMap;
use std::sync::OnceLock;
use toml::de::DeTable;

/// The embedded data files, sources first.
const EMBEDDED: [(&str, &str); 12] = [
    ("sources.toml", include_str!("../../materials/sources.toml")),
    ("insulation-foam.toml", include_str!("../../materials/insulation-foam.toml")),
    ("insulation-other.toml", include_str!("../../materials/insulation-other.toml")),
    ("fibre-and-loose-fill.toml", include_str!("../../materials/fibre-and-loose-fill.toml")),
    ("fabric.toml", include_str!("../../materials/fabric.toml")),
    ("gas.toml", include_str!("../../materials/gas.toml")),
    ("wood-and-board.toml", include_str!("../../materials/wood-and-board.toml")),
    ("metal.toml", include_str!("../../materials/metal.toml")),
    ("ceramic-and-glass.toml", include_str!("../../materials/ceramic-and-glass.toml")),
    ("polymer.toml", include_str!("../../materials/polymer.toml")),
    ("food-and-liquid.toml", include_str!("../../materials/food-and-liquid.toml")),
    ("building.toml", include_str!("../../materials/building.toml")),
];

/// Materials and sources by name: the embedded ones, and those of files of your own.
///
/// ```
/// use stillhot::material::{Catalogue, Category};
///
/// let catalogue = Catalogue::embedded();
/// assert!(catalogue.of_category(Category::FibreAndLooseFill).any(|material| material.id() == "hay-loose"));
/// let error = catalogue.get("cork-board").unwrap_err();
/// assert!(error.nearest().contains(&"expanded-cork-board".to_owned()));
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Catalogue {
    /// In the order of the files.
    materials: Vec<Material>,
    places: BTreeMap<String, usize>,
    sources: Sources,
}

impl Catalogue {
    /// The catalogue that comes with the crate; read once, at the first use.
    #[must_use]
    pub fn embedded() -> &'static Self {
        static CATALOGUE: OnceLock<Catalogue> = OnceLock::new();
        CATALOGUE.get_or_init(|| {
            let mut catalogue = Catalogue::default();
            for (name, text) in EMBEDDED {
                // A test holds the findings of every embedded file empty.
                let _ = catalogue.read(File { name, text });
            }
            catalogue
        })
    }

    /// A copy with the materials and sources of a file added; `name` of the file stands in errors.
    ///
    /// The form of the file is that of the embedded ones; it is explained in `materials/README.md`. A material may name
    /// the sources of this catalogue and those that the file itself describes.
    ///
    /// ```
    /// use stillhot::material::Catalogue;
    ///
    /// let shelf = Catalogue::embedded().with_file(
    ///     r#"
    ///     [spelt-chaff]
    ///     name = "Spelt chaff in a cotton bag"
    ///     category = "fibre-and-loose-fill"
    ///     grade = "C"
    ///     conductivity = { value = "0.055 W/(m K)", low = "0.045 W/(m K)", high = "0.07 W/(m K)", mark = "ESTIMATE" }
    ///     density = { value = "90 kg/m3", low = "80 kg/m3", high = "110 kg/m3", mark = "GIVEN" }
    ///     heat-capacity = { value = "1700 J/(kg K)", low = "1500 J/(kg K)", high = "1900 J/(kg K)", mark = "ESTIMATE" }
    ///     "#,
    ///     "my-shelf.toml",
    /// )?;
    /// assert_eq!(shelf.get("spelt-chaff")?.name(), "Spelt chaff in a cotton bag");
    /// # Ok::<(), stillhot::Error>(())
    /// ```
    ///
    /// # Errors
    /// The first of the [`findings`](Self::findings), with file, line and key in front: [`ErrorKind::Data`] for wrong
    /// syntax, an unknown or missing key, an id or source key that is taken; [`ErrorKind::Unit`] for text that is no
    /// quantity of the right kind; [`ErrorKind::OutOfRange`] for a number outside its physical range;
    /// [`ErrorKind::Inconsistent`] where value, range and temperature law contradict each other;
    /// [`ErrorKind::UnknownName`] for a source that is not described.
    pub fn with_file(&self, text: &str, name: &str) -> Result<Self, Error> {
        let mut extended = self.clone();
        match extended.read(File { name, text }).into_iter().next() {
            None => Ok(extended),
            Some(error) => Err(error),
        }
    }

    /// Everything that is wrong with a file, at most one finding for each of its entries; empty if nothing is.
    pub fn findings(&self, text: &str, name: &str) -> Vec<Error> {
        self.clone().read(File { name, text })
    }

    /// The material `id`.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] with the nearest names. Nothing is guessed.
    pub fn get(&self, id: &str) -> Result<&Material, Error> {
        if let Some(material) = self.places.get(id).and_then(|place| self.materials.get(*place)) {
            return Ok(material);
        }
        let near = nearest(id, self.iter().map(|material| (material.id(), material.name())));
        let error = Error::new(ErrorKind::UnknownName, "unknown material").with_value(format!("{id:?}"));
        Err(error.with_nearest(near).with_accepted(format!("one of the {} materials of the catalogue", self.len())))
    }

    /// The source `key`.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] with the nearest keys.
    pub fn source(&self, key: &str) -> Result<&Source, Error> {
        self.sources.get(key).ok_or_else(|| unknown_source(key, &self.sources))
    }

    /// Every material, in the order of the files.
    pub fn iter(&self) -> impl Iterator<Item = &Material> {
        self.materials.iter()
    }

    /// The materials of a category, in the order of the files.
    pub fn of_category(&self, category: Category) -> impl Iterator<Item = &Material> {
        self.materials.iter().filter(move |material| material.category() == category)
    }

    /// Every source, by key.
    pub fn sources(&self) -> impl Iterator<Item = &Source> {
        self.sources.values()
    }

    /// How many materials there are.
    pub fn len(&self) -> usize {
        self.materials.len()
    }

    /// Whether there is no material.
    pub fn is_empty(&self) -> bool {
        self.materials.is_empty()
    }

    /// Adds what is right in the file and returns what is wrong, in the order of the file.
    fn read(&mut self, file: File<'_>) -> Vec<Error> {
        let (document, errors) = DeTable::parse_recoverable(file.text);
        if !errors.is_empty() {
            return file.syntax(&errors);
        }
        self.read_entries(&Section::root(file, document.get_ref()))
    }

    /// A copy with the entries of a section of another file added, and what is wrong with them.
    pub(crate) fn with_section(&self, section: &Section<'_>) -> (Self, Vec<Error>) {
        let mut extended = self.clone();
        let findings = extended.read_entries(section);
        (extended, findings)
    }

    fn read_entries(&mut self, root: &Section<'_>) -> Vec<Error> {
        let mut findings = Vec::new();
        if let Err(error) = self.read_sources(root, &mut findings) {
            findings.push(error);
        }
        for (id, item) in root.items() {
            if id == "sources" {
                continue;
            }
            let read = if self.places.contains_key(id) {
                let error = Error::new(ErrorKind::Data, "a material of this id is already known");
                Err(item.place(error.with_value(id).with_accepted("an id that is not taken")))
            } else {
                entry::material(id, &item, &self.sources)
            };
            match read {
                Ok(material) => {
                    self.places.insert(id.to_owned(), self.materials.len());
                    self.materials.push(material);
                }
                Err(error) => findings.push(error),
            }
        }
        findings
    }

    fn read_sources(&mut self, root: &Section<'_>, findings: &mut Vec<Error>) -> Result<(), Error> {
        let Some(list) = root.get("sources") else { return Ok(()) };
        for (key, item) in list.section()?.items() {
            let read = if self.sources.contains_key(key) {
                let error = Error::new(ErrorKind::Data, "a source of this key is already known");
                Err(item.place(error.with_value(key).with_accepted("a key that is not taken")))
            } else {
                entry::source(key, &item)
            };
            match read {
                Ok(source) => {
                    self.sources.insert(key.to_owned(), source);
                }
                Err(error) => findings.push(error),
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests;
