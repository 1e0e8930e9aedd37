//! Where a number comes from and how far it is to be trusted.

use std::fmt;

/// How a value came about. Not a quality: a recalled textbook value may be better than a read web page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Mark {
    /// A named source was seen, and the value lies among the numbers seen or within 7 % of one of them.
    Read,
    /// Recalled; no source seen supports it closely enough.
    Memory,
    /// Computed from other values.
    Computed,
    /// A judgement.
    Estimate,
    /// Given by the caller.
    Given,
}

impl Mark {
    pub(crate) const WORDS: [(&'static str, Mark); 5] = [
        ("READ", Mark::Read),
        ("MEMORY", Mark::Memory),
        ("COMPUTED", Mark::Computed),
        ("ESTIMATE", Mark::Estimate),
        ("GIVEN", Mark::Given),
    ];
}

impl fmt::Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Mark::Read => "READ",
            Mark::Memory => "MEMORY",
            Mark::Computed => "COMPUTED",
            Mark::Estimate => "ESTIMATE",
            Mark::Given => "GIVEN",
        })
    }
}

/// How well the data of a material are founded, as a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// Two sources seen within 15 % of the value, or a certified or computed reference.
    A,
    /// One source seen, or a wide bracket.
    B,
    /// Recall or estimate.
    C,
}

impl Grade {
    pub(crate) const WORDS: [(&'static str, Grade); 3] = [("A", Grade::A), ("B", Grade::B), ("C", Grade::C)];
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Grade::A => "A",
            Grade::B => "B",
            Grade::C => "C",
        })
    }
}

/// A source of numbers: a standard, handbook, paper, data sheet, computation.
#[derive(Debug, Clone, PartialEq)]
pub struct Source {
    pub(crate) key: String,
    pub(crate) title: String,
    pub(crate) year: Option<u16>,
    pub(crate) seen: String,
    pub(crate) mark: Mark,
    pub(crate) doi: Option<String>,
    pub(crate) licence: Option<String>,
}

impl Source {
    /// The key by which values name it.
    pub fn key(&self) -> &str {
        &self.key
    }

    /// Title, with authors where they are known.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// Year of publication, where known.
    pub fn year(&self) -> Option<u16> {
        self.year
    }

    /// What was seen of it (a table, an abstract), or that it was recalled.
    pub fn seen(&self) -> &str {
        &self.seen
    }

    /// [`Mark::Memory`] if the source was not opened.
    pub fn mark(&self) -> Mark {
        self.mark
    }

    /// Digital object identifier, where there is one.
    pub fn doi(&self) -> Option<&str> {
        self.doi.as_deref()
    }

    /// A short note on its licence.
    pub fn licence(&self) -> Option<&str> {
        self.licence.as_deref()
    }
}

/// What one value rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    pub(crate) mark: Mark,
    pub(crate) derived: bool,
    pub(crate) sources: Vec<String>,
    pub(crate) note: Option<String>,
}

impl Evidence {
    /// Evidence of a value the caller gave.
    pub(crate) fn given() -> Self {
        Evidence { mark: Mark::Given, derived: false, sources: Vec::new(), note: None }
    }

    /// How the value came about.
    pub fn mark(&self) -> Mark {
        self.mark
    }

    /// Whether it was computed from other values (then [`Mark::Read`] says that its inputs were read).
    pub fn is_derived(&self) -> bool {
        self.derived
    }

    /// Keys of the sources it rests on; [`Catalogue::source`](super::Catalogue::source) tells what they are.
    pub fn sources(&self) -> &[String] {
        &self.sources
    }

    /// A remark on this value.
    pub fn note(&self) -> Option<&str> {
        self.note.as_deref()
    }
}
