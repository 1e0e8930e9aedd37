//! Reading leaf by leaf, so that no finding hides another.

use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::setup::Range;
use crate::units::{Ratio, Spoken};

/// What was found wrong so far.
#[derive(Debug, Default)]
pub(super) struct Findings(Vec<Error>);

impl Findings {
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Every finding, in the order of the lines.
    pub(super) fn into_errors(mut self) -> Vec<Error> {
        self.0.sort_by_key(Error::line);
        self.0
    }

    pub(super) fn add(&mut self, error: Error) {
        self.0.push(error);
    }

    pub(super) fn extend(&mut self, errors: Vec<Error>) {
        self.0.extend(errors);
    }

    /// The value, or its error noted.
    pub(super) fn keep<T>(&mut self, result: Result<T, Error>) -> Option<T> {
        result.map_err(|error| self.add(error)).ok()
    }

    pub(super) fn refuse_unknown(&mut self, section: &Section<'_>, known: &[&str]) {
        self.extend(section.unknown(known));
    }

    /// A section that may be absent.
    pub(super) fn section<'t>(&mut self, within: &Section<'t>, key: &str) -> Option<Section<'t>> {
        within.get(key).and_then(|item| self.keep(item.section()))
    }

    /// A finding on a section whose `parts` exclude one another.
    pub(super) fn given_twice(&mut self, section: &Section<'_>, problem: &str, parts: &str) {
        self.add(section.place(Error::new(ErrorKind::Inconsistent, problem).with_accepted(parts)));
    }

    /// A section that must be there; `form` says how it may look.
    pub(super) fn required_section<'t>(&mut self, within: &Section<'t>, key: &str, form: &str) -> Option<Section<'t>> {
        self.keep(within.require(key, form).and_then(|item| item.section()))
    }
}

/// A value of the file: not there, there but wrong (with a finding noted), or read.
#[derive(Debug)]
pub(super) enum Leaf<'t, T> {
    Absent,
    Wrong,
    Given(T, Item<'t>),
}

impl<'t, T> Leaf<'t, T> {
    pub(super) fn optional(
        findings: &mut Findings,
        section: &Section<'t>,
        key: &str,
        read: impl FnOnce(&Item<'t>) -> Result<T, Error>,
    ) -> Self {
        match section.get(key) {
            None => Leaf::Absent,
            Some(item) => match findings.keep(read(&item)) {
                None => Leaf::Wrong,
                Some(value) => Leaf::Given(value, item),
            },
        }
    }

    /// The same leaf; absence is noted, with `form` as what would do.
    pub(super) fn required(self, findings: &mut Findings, section: &Section<'t>, key: &str, form: &str) -> Self {
        if let Leaf::Absent = self {
            findings.keep(section.require(key, form));
            return Leaf::Wrong;
        }
        self
    }

    /// The same leaf, wrong if `check` refuses its value. The place of the leaf stands for whatever place the check
    /// names.
    pub(super) fn checked(self, findings: &mut Findings, check: impl FnOnce(&T) -> Result<(), Error>) -> Self {
        match self {
            Leaf::Given(value, item) => match check(&value) {
                Ok(()) => Leaf::Given(value, item),
                Err(error) => {
                    findings.add(item.place(without_path(&error)));
                    Leaf::Wrong
                }
            },
            other => other,
        }
    }

    pub(super) fn given(&self) -> Option<&T> {
        match self {
            Leaf::Given(value, _) => Some(value),
            _ => None,
        }
    }

    pub(super) fn is_absent(&self) -> bool {
        matches!(self, Leaf::Absent)
    }

    pub(super) fn is_wrong(&self) -> bool {
        matches!(self, Leaf::Wrong)
    }
}

impl<'t, Q: Spoken> Leaf<'t, Q> {
    /// A quantity that may be absent.
    pub(super) fn quantity(findings: &mut Findings, section: &Section<'t>, key: &str) -> Self {
        Leaf::optional(findings, section, key, Item::quantity)
    }

    /// A quantity that must be there.
    pub(super) fn required_quantity(findings: &mut Findings, section: &Section<'t>, key: &str) -> Self {
        let form = format!("{key} = \"{}\"", Q::EXAMPLE);
        Leaf::quantity(findings, section, key).required(findings, section, key, &form)
    }
}

/// A quantity with its range: one text, taken as exact, or `["low", "best", "high"]`.
pub(super) fn range<Q: Spoken>(item: &Item<'_>) -> Result<Range<Q>, Error> {
    range_of(item, |item| item.quantity())
}

/// The same of a number without unit.
pub(super) fn range_of_ratio(item: &Item<'_>) -> Result<Range<Ratio>, Error> {
    range_of(item, |item| item.ratio())
}

fn range_of<Q: Spoken>(item: &Item<'_>, read: fn(&Item<'_>) -> Result<Q, Error>) -> Result<Range<Q>, Error> {
    if !item.is_list() {
        return read(item).map(Range::exactly);
    }
    match item.list()?.as_slice() {
        [low, best, high] => {
            Range::new(read(low)?, read(best)?, read(high)?).map_err(|error| item.place(without_path(&error)))
        }
        others => Err(item.place(
            Error::new(ErrorKind::Data, "is no range")
                .with_value(format!("{} entries", others.len()))
                .with_accepted(format!("\"{}\", or [\"low\", \"best\", \"high\"]", Q::EXAMPLE)),
        )),
    }
}

/// Each entry of a list with `read`, so that no finding hides another; `None` if one of them has a finding.
pub(super) fn each<'t, T>(
    list: &Item<'t>,
    findings: &mut Findings,
    mut read: impl FnMut(&Item<'t>, &mut Findings) -> Option<T>,
) -> Option<Vec<T>> {
    let entries: Vec<Option<T>> = findings.keep(list.list())?.iter().map(|item| read(item, findings)).collect();
    entries.into_iter().collect()
}

/// The error without its place, to be given that of a leaf.
pub(super) fn without_path(error: &Error) -> Error {
    let mut bare = Error::new(error.kind(), error.problem());
    if let Some(value) = error.value() {
        bare = bare.with_value(value);
    }
    bare = bare.with_nearest(error.nearest().iter().map(String::as_str));
    if let Some(accepted) = error.accepted() {
        bare = bare.with_accepted(accepted);
    }
    bare
}

/// What a check of a whole description says about one `part` of it, told by the end of its path; the rest of the
/// description is a stand-in, about which nobody asked.
pub(super) fn about<T>(part: &str, result: Result<T, Error>) -> Result<(), Error> {
    match result {
        Err(error) if error.path().ends_with(part) => Err(error),
        _ => Ok(()),
    }
}
