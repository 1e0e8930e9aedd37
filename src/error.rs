//! The one public error: what was wrong, where, what was given and what would have been accepted.

use std::fmt;
use std::num::NonZeroU32;

/// What went wrong, in the large. More kinds may be added.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ErrorKind {
    /// Text that should hold a quantity does not: no number, no unit, an unknown unit, another dimension.
    Unit,
    /// A number outside its accepted range (non-finite, negative, too large), or a shape that cannot be.
    OutOfRange,
    /// A name that is not known: a material, a lid, a dish.
    UnknownName,
    /// A data or case file that cannot be read: syntax, unknown key, missing key, colliding id.
    Data,
    /// A description whose parts do not fit one another.
    Inconsistent,
    /// An iteration did not converge.
    NoConvergence,
    /// The bound on work given in the options was reached.
    WorkBound,
    /// A file could not be read or written.
    Io,
}

/// The error of every fallible call of this crate.
///
/// It names the offending item by its [`path`](Error::path) ("lid, layer 2: thickness"), the
/// [`value`](Error::value) given (with its unit), the names [`nearest`](Error::nearest) to one that is not known, and
/// what is [`accepted`](Error::accepted), so that an app can write its own sentence; [`Display`](fmt::Display) gives
/// the English one.
#[derive(Debug, Clone, PartialEq)]
pub struct Error {
    /// One word wide: results are handed up often, errors hardly ever.
    told: Box<Told>,
}

#[derive(Debug, Clone, PartialEq)]
struct Told {
    kind: ErrorKind,
    path: Vec<String>,
    problem: String,
    value: Option<String>,
    nearest: Vec<String>,
    accepted: Option<String>,
    line: Option<NonZeroU32>,
}

impl Error {
    /// An error of `kind` whose `problem` is told in a few English words ("must be positive").
    pub fn new(kind: ErrorKind, problem: impl Into<String>) -> Self {
        let problem = problem.into();
        let (path, nearest) = (Vec::new(), Vec::new());
        Error { told: Box::new(Told { kind, path, problem, value: None, nearest, accepted: None, line: None }) }
    }

    /// The same error with the value that was given, as the caller would write it ("-3 mm").
    #[must_use]
    pub fn with_value(mut self, value: impl Into<String>) -> Self {
        self.told.value = Some(value.into());
        self
    }

    /// The same error with what would have been accepted ("0.1 mm to 2 m").
    #[must_use]
    pub fn with_accepted(mut self, accepted: impl Into<String>) -> Self {
        self.told.accepted = Some(accepted.into());
        self
    }

    /// The same error with the known names that are most like the unknown one, the nearest first: offers, of which any
    /// may be meant or none.
    #[must_use]
    pub fn with_nearest<'n>(mut self, names: impl IntoIterator<Item = &'n str>) -> Self {
        self.told.nearest = names.into_iter().map(str::to_owned).collect();
        self
    }

    /// The same error, found on a line (from one) of a file.
    #[must_use]
    pub(crate) fn on_line(mut self, line: usize) -> Self {
        self.told.line = u32::try_from(line).ok().and_then(NonZeroU32::new);
        self
    }

    /// The same error, found inside `part`: puts `part` in front of the path.
    #[must_use]
    pub fn within(mut self, part: impl Into<String>) -> Self {
        self.told.path.insert(0, part.into());
        self
    }

    /// What went wrong, in the large.
    pub fn kind(&self) -> ErrorKind {
        self.told.kind
    }

    /// Where: the parts from the outside in, joined as "lid, layer 2, thickness". Empty if the call had one input.
    pub fn path(&self) -> String {
        self.told.path.join(", ")
    }

    /// What was wrong with it, in English, without place and value.
    pub fn problem(&self) -> &str {
        &self.told.problem
    }

    /// The value given, with its unit, where there is one.
    pub fn value(&self) -> Option<&str> {
        self.told.value.as_deref()
    }

    /// The known names that are most like the unknown one, the nearest first; empty if none is, or if no name was asked
    /// for.
    pub fn nearest(&self) -> &[String] {
        &self.told.nearest
    }

    /// The line, from one, of the data or case file, where it was found in one.
    pub fn line(&self) -> Option<u32> {
        self.told.line.map(NonZeroU32::get)
    }

    /// What would have been accepted, where it can be said.
    pub fn accepted(&self) -> Option<&str> {
        self.told.accepted.as_deref()
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.told.path.is_empty() {
            write!(f, "{}: ", self.path())?;
        }
        write!(f, "{}", self.told.problem)?;
        if let Some(value) = &self.told.value {
            write!(f, ", got {value}")?;
        }
        if !self.told.nearest.is_empty() {
            write!(f, "; nearest: {}", self.told.nearest.join(", "))?;
        }
        if let Some(accepted) = &self.told.accepted {
            write!(f, "; accepted: {accepted}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Error {}

/// What `check` gives; its error told within `part`.
pub(crate) fn all_within<T>(part: &str, check: impl FnOnce() -> Result<T, Error>) -> Result<T, Error> {
    check().within(part)
}

/// Adds the place to an error on its way out.
pub trait Within<T> {
    /// Puts `part` in front of the error's path.
    ///
    /// # Errors
    /// Whatever the result held, with the longer path.
    fn within(self, part: impl Into<String>) -> Result<T, Error>;
}

impl<T, E: Into<Error>> Within<T> for Result<T, E> {
    fn within(self, part: impl Into<String>) -> Result<T, Error> {
        self.map_err(|e| e.into().within(part))
    }
}
