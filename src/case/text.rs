//! From the text of a file to what it describes: syntax, title, materials of its own, and every finding at once.

use std::fs;
use std::io;
use std::path::{Component, Path};

use super::leaf::{Findings, Leaf};
use crate::document::{File, Item, Section};
use crate::error::{Error, ErrorKind};
use crate::material::Catalogue;
use toml::de::DeTable;

/// Longest file that is read beside a case, bytes.
const LONGEST: u64 = 100_000_000;

/// What a file is read with, beside its own text.
#[derive(Debug, Clone, Copy)]
pub(super) struct Beside<'b> {
    /// Where materials are looked up.
    pub(super) catalogue: &'b Catalogue,
    /// Where files that it names lie; `None`: nowhere.
    pub(super) folder: Option<&'b Path>,
}

impl Beside<'_> {
    /// The text of a file that an item names.
    pub(super) fn file(&self, item: &Item<'_>) -> Result<String, Error> {
        let name = item.text()?;
        let fault = |kind, problem: String, accepted: &str| {
            Err(item.place(Error::new(kind, problem).with_value(format!("{name:?}")).with_accepted(accepted)))
        };
        let Some(folder) = self.folder else {
            let problem = "no folder to look for files in".to_owned();
            return fault(
                ErrorKind::Io,
                problem,
                "the text of the file itself, or a case that is read with its folder",
            );
        };
        // A case may come from anywhere: it reaches into its own folder only.
        let inside = |part: Component<'_>| matches!(part, Component::Normal(_) | Component::CurDir);
        if name.is_empty() || !Path::new(name).components().all(inside) {
            return fault(ErrorKind::Data, "is no file beside the case".to_owned(), "the name of a file in its folder");
        }
        let path = folder.join(name);
        match fs::metadata(&path) {
            Ok(file) if file.len() > LONGEST => {
                return fault(ErrorKind::Data, "the file is too long".to_owned(), "at most 100 MB");
            }
            Ok(_) | Err(_) => {}
        }
        fs::read_to_string(&path).or_else(|error| match error.kind() {
            io::ErrorKind::InvalidData => {
                fault(ErrorKind::Io, "is not written in UTF-8".to_owned(), "a text file that was saved in UTF-8")
            }
            _ => fault(ErrorKind::Io, error.to_string(), "a text file in its folder"),
        })
    }
}

/// Reads a file with these sections; `from_root` reads all but its title and its materials.
pub(super) fn read<T>(
    text: &str,
    file_name: &str,
    beside: &Beside<'_>,
    sections: &[&str],
    from_root: impl FnOnce(&Section<'_>, Option<String>, &Beside<'_>, &mut Findings) -> Option<T>,
) -> Result<T, Vec<Error>> {
    let file = File { name: file_name, text };
    let (document, errors) = DeTable::parse_recoverable(text);
    if !errors.is_empty() {
        return Err(file.syntax(&errors));
    }
    let root = Section::root(file, document.get_ref());
    let mut findings = Findings::default();
    findings.refuse_unknown(&root, &[&["title", "material"], sections].concat());
    let title = Leaf::optional(&mut findings, &root, "title", |item| Ok(item.text()?.to_owned()));
    let extended = findings.section(&root, "material").map(|section| {
        let (extended, wrong) = beside.catalogue.with_section(&section);
        findings.extend(wrong);
        extended
    });
    let beside = Beside { catalogue: extended.as_ref().unwrap_or(beside.catalogue), ..*beside };
    match from_root(&root, title.given().cloned(), &beside, &mut findings) {
        Some(case) if findings.is_empty() => Ok(case),
        // A part is missing only where a finding says why.
        _ => Err(findings.into_errors()),
    }
}
