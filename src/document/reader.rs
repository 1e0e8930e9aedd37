//! A data file as sections of keys, every error with file, line and key.

use super::nearest::nearest;
use crate::error::{Error, ErrorKind};
use crate::units::{Ratio, Si, Spoken, parse};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A file that is being read: its name and text, for the place in errors.
#[derive(Debug, Clone, Copy)]
pub(crate) struct File<'t> {
    pub name: &'t str,
    pub text: &'t str,
}

impl File<'_> {
    /// `error` with its place in front: file, line, path of keys.
    fn place(&self, error: Error, offset: usize, path: &str) -> Error {
        let line = 1 + self.text.bytes().take(offset).filter(|byte| *byte == b'\n').count();
        let error = if path.is_empty() { error } else { error.within(path) };
        error.on_line(line).within(format!("line {line}")).within(self.name)
    }

    /// What the syntax errors of the file are, as findings.
    pub(crate) fn syntax(&self, errors: &[toml::de::Error]) -> Vec<Error> {
        errors
            .iter()
            .map(|error| {
                let span = error.span().unwrap_or_default();
                let offset = span.start;
                let finding = Error::new(ErrorKind::Data, format!("syntax: {}", error.message()));
                // What stands there, where it is a word or two.
                let there = self.text.get(span).unwrap_or_default();
                let is_short = !there.is_empty() && there.len() <= 40 && !there.contains(char::is_control);
                self.place(if is_short { finding.with_value(there) } else { finding }, offset, "")
            })
            .collect()
    }
}

/// A table of the file.
#[derive(Debug)]
pub(crate) struct Section<'t> {
    file: File<'t>,
    table: &'t DeTable<'t>,
    path: String,
    offset: usize,
}

/// A value of a key, with its place.
#[derive(Debug)]
pub(crate) struct Item<'t> {
    file: File<'t>,
    value: &'t DeValue<'t>,
    path: String,
    offset: usize,
}

impl<'t> Section<'t> {
    /// The whole file.
    pub(crate) fn root(file: File<'t>, table: &'t DeTable<'t>) -> Self {
        Section { file, table, path: String::new(), offset: 0 }
    }

    /// The keys with their values, in the order of the file.
    pub(crate) fn items(&self) -> Vec<(&'t str, Item<'t>)> {
        let mut items: Vec<(&str, Item)> = self
            .table
            .iter()
            .map(|(key, value)| (key.get_ref().as_ref(), self.item(key.span().start, key.get_ref(), value)))
            .collect();
        items.sort_by_key(|(_, item)| item.offset);
        items
    }

    /// `error` with the place of this section in front.
    pub(crate) fn place(&self, error: Error) -> Error {
        self.file.place(error, self.offset, &self.path)
    }

    /// Refuses every key that is not among `known`.
    pub(crate) fn only(&self, known: &[&str]) -> Result<(), Error> {
        self.unknown(known).into_iter().next().map_or(Ok(()), Err)
    }

    /// A finding for every key that is not among `known`.
    pub(crate) fn unknown(&self, known: &[&str]) -> Vec<Error> {
        let finding = |(key, item): (&str, Item<'t>)| {
            let near = nearest(key, known.iter().map(|known| (*known, "")));
            let error = Error::new(ErrorKind::Data, "unknown key").with_value(key).with_nearest(near);
            item.place(error.with_accepted(known.join(", ")))
        };
        self.items().into_iter().filter(|(key, _)| !known.contains(key)).map(finding).collect()
    }

    /// The value of `key`, if it is there.
    pub(crate) fn get(&self, key: &str) -> Option<Item<'t>> {
        let (at, value) = self.table.iter().find(|(at, _)| at.get_ref() == key)?;
        Some(self.item(at.span().start, key, value))
    }

    /// The value of `key`, which must be there; `form` says what would do.
    pub(crate) fn require(&self, key: &str, form: &str) -> Result<Item<'t>, Error> {
        self.get(key).ok_or_else(|| {
            let missing = Error::new(ErrorKind::Data, "missing key").with_accepted(form);
            self.file.place(missing, self.offset, &self.path_of(key))
        })
    }

    /// A quantity that must be there.
    pub(crate) fn quantity<Q: Spoken>(&self, key: &str) -> Result<Q, Error> {
        self.require(key, &format!("{key} = \"{}\"", Q::EXAMPLE))?.quantity()
    }

    /// A text, if it is there.
    pub(crate) fn text(&self, key: &str) -> Result<Option<String>, Error> {
        self.get(key).map(|item| Ok(item.text()?.to_owned())).transpose()
    }

    /// A yes or no, "no" if it is not there.
    pub(crate) fn flag(&self, key: &str) -> Result<bool, Error> {
        let Some(item) = self.get(key) else { return Ok(false) };
        item.value.as_bool().ok_or_else(|| item.wrong("true or false"))
    }

    /// One of a list of words, which must be there.
    pub(crate) fn word<T: Copy>(&self, key: &str, words: &[(&str, T)]) -> Result<T, Error> {
        let all = || words.iter().map(|(word, _)| *word).collect::<Vec<_>>().join(", ");
        self.require(key, &all())?.word(words)
    }

    fn item(&self, offset: usize, key: &str, value: &'t Spanned<DeValue<'t>>) -> Item<'t> {
        Item { file: self.file, value: value.get_ref(), path: self.path_of(key), offset }
    }

    fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) }
    }
}

impl<'t> Item<'t> {
    /// `error` with the place of this value in front.
    pub(crate) fn place(&self, error: Error) -> Error {
        self.file.place(error, self.offset, &self.path)
    }

    /// The value as text.
    pub(crate) fn text(&self) -> Result<&'t str, Error> {
        self.value.as_str().ok_or_else(|| self.wrong("a text in quotes"))
    }

    /// The value as one of a list of words.
    pub(crate) fn word<T: Copy>(&self, words: &[(&str, T)]) -> Result<T, Error> {
        let given = self.text()?;
        words.iter().find(|(word, _)| *word == given).map(|(_, meaning)| *meaning).ok_or_else(|| {
            let all = words.iter().map(|(word, _)| *word).collect::<Vec<_>>().join(", ");
            self.place(Error::new(ErrorKind::Data, "unknown word").with_value(given).with_accepted(all))
        })
    }

    /// The value as a quantity, written as text with its unit.
    pub(crate) fn quantity<Q: Spoken>(&self) -> Result<Q, Error> {
        let form = || self.wrong(&format!("a {} in quotes with its unit, for example \"{}\"", Q::NAME, Q::EXAMPLE));
        parse(self.value.as_str().ok_or_else(form)?).map_err(|error| self.place(error))
    }

    /// The value as a number without unit, or as text ("5 %").
    pub(crate) fn ratio(&self) -> Result<Ratio, Error> {
        if self.value.is_str() { self.quantity() } else { Ok(Ratio::from_si(self.number()?)) }
    }

    /// The value as a number without unit.
    pub(crate) fn number(&self) -> Result<f64, Error> {
        let digits = |text: &str| text.replace('_', "");
        match self.value {
            DeValue::Float(float) => digits(float.as_str()).parse().ok(),
            // Up to 2^53 the conversion is exact; larger ones are out of every range here.
            DeValue::Integer(whole) => {
                i64::from_str_radix(&digits(whole.as_str()), whole.radix()).ok().map(|whole| whole as f64)
            }
            _ => None,
        }
        .ok_or_else(|| self.wrong("a number without unit"))
    }

    /// The value as a table.
    pub(crate) fn section(&self) -> Result<Section<'t>, Error> {
        let table = self.value.as_table().ok_or_else(|| self.wrong("a table of keys"))?;
        Ok(Section { file: self.file, table, path: self.path.clone(), offset: self.offset })
    }

    /// The values of an array.
    pub(crate) fn list(&self) -> Result<Vec<Item<'t>>, Error> {
        let array = self.value.as_array().ok_or_else(|| self.wrong("an array in square brackets"))?;
        let item = |(at, value): (usize, &'t Spanned<DeValue<'t>>)| Item {
            file: self.file,
            value: value.get_ref(),
            path: format!("{}[{}]", self.path, at + 1),
            offset: value.span().start.max(self.offset),
        };
        Ok(array.iter().enumerate().map(item).collect())
    }

    /// Whether the value is an array.
    pub(crate) fn is_list(&self) -> bool {
        self.value.is_array()
    }

    /// The two values of a pair.
    pub(crate) fn pair(&self) -> Result<(Item<'t>, Item<'t>), Error> {
        let mut list = self.list()?.into_iter();
        match (list.next(), list.next(), list.next()) {
            (Some(one), Some(other), None) => Ok((one, other)),
            _ => Err(self.wrong("a pair in square brackets")),
        }
    }

    fn wrong(&self, accepted: &str) -> Error {
        let kind = self.value.type_str();
        self.place(Error::new(ErrorKind::Data, "is of the wrong kind").with_value(kind).with_accepted(accepted))
    }
}

/// Adds the place of a section to an error on its way out.
pub(crate) fn placed<T>(result: Result<T, Error>, section: &Section<'_>) -> Result<T, Error> {
    result.map_err(|error| section.place(error))
}
