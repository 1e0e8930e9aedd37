//! The text form of a setup: what a person writes down about pot, dish, box or sleeve, and plan.
//!
//! Conduction through a wall alone has a form of its own: [`WallCase`].
//!
//! A case is one TOML file. Every value with a dimension is text with its unit; what is wrong is told all at once, each
//! finding with file, line, key, value and what would be accepted, and a file with a finding gives no case at all.
//!
//! | section | keys (those in brackets may be left out) |
//! |---|---|
//! | top | \[`title`\] |
//! | `[pot]` | `volume`, or `diameter` and `height` (inside); \[`metal` and `metal-thickness`\] (needed with a diameter); \[`mass`\] of pot and lid as weighed |
//! | `[dish]` | `food` (from the catalogue), or `heat-capacity` and `density`; `mass` |
//! | `[box]` | `gap` round the pot, or `inner-width`, `inner-depth`, `inner-height`; `walls` |
//! | `[box.lid]` | \[`layers`\], \[`closing`: resting, pressed, gasketed, plug, tight\], \[`leak`\] |
//! | `[box.base]`, `.front`, `.back`, `.left`, `.right` | `layers` of this face instead of `walls` |
//! | `[sleeve]` | `layers`, \[`gap`\] |
//! | `[sleeve.lid]` | \[`closing`\], \[`leak`\] |
//! | `[plan]` | `room`, \[`height`\] above sea, \[`wind`\], \[`simmer`\], \[`carry`\], \[`start`\], \[`serve`\] after shutting |
//! | `[questions]` | \[`above`\]: temperatures, 75, 63 and 60 °C if nothing is said |
//! | `[options]` | \[`horizon`\], \[`step-error`\], \[`cells`\], \[`steps`\] |
//! | `[material.<id>]` | a material of your own, in the form of the catalogue's files |
//!
//! `walls` and `layers` list, from the inside to the outside, layers `{ material = "...", thickness = "50 mm" }` and,
//! between two layers, contacts `{ gap = "1 mm" }` or `{ resistance = "0.02 m2 K/W" }` (no entry: perfect contact).
//! `leak` and `heat-capacity` are one value, taken as exact, or `["low", "best", "high"]`. Ranges are those of
//! [`Pot`](crate::Pot), [`Dish`](crate::Dish), [`Enclosure`](crate::Enclosure), [`Sleeve`](crate::Sleeve), [`Plan`] and [`Options`].
//!
//! ```
//! use stillhot::case::Case;
//!
//! let text = r#"
//!     [pot]
//!     volume = "7 L"
//!     [dish]
//!     food = "thick-stew"
//!     mass = "6 kg"
//!     [box]
//!     gap = "15 mm"
//!     walls = [{ material = "expanded-cork-board", thickness = "50 mm" }]
//!     [plan]
//!     room = "16 °C"
//! "#;
//! let case = Case::read(text, "bench.toml").map_err(|findings| findings[0].clone())?;
//! let forecast = case.setup.forecast_with(&case.plan, &case.options)?;
//!
//! let findings = Case::read(&text.replace("50 mm", "-50 mm").replace("7 L", "7"), "bench.toml").unwrap_err();
//! assert_eq!(findings.len(), 2);
//! assert_eq!(findings[0].path(), "bench.toml, line 3, pot.volume");
//! assert_eq!(findings[1].value(), Some("-50 mm"));
//! # Ok::<(), stillhot::Error>(())
//! ```

mod layers;
mod leaf;
mod schedule;
mod shell;
mod vessel;
mod wall;

pub use wall::WallCase;

use leaf::{Findings, Leaf};

use crate::document::{File, Section};
use crate::error::Error;
use crate::material::Catalogue;
use crate::setup::{Options, Plan, Setup, Shell};
use crate::units::Temperature;
use toml::de::DeTable;

const TOP: [&str; 9] = ["title", "pot", "dish", "box", "sleeve", "plan", "questions", "options", "material"];

/// What a case file describes.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Case {
    /// What its writer calls it.
    pub title: Option<String>,
    /// Pot with dish, in a box or sleeve.
    pub setup: Setup,
    /// What happens, and in what surroundings.
    pub plan: Plan,
    /// How it is computed.
    pub options: Options,
    /// What its writer wants to know.
    pub questions: Questions,
}

/// What is asked of a forecast.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Questions {
    /// The temperatures of which the hold time is asked, -30 to 150 °C, in the order of the file.
    pub above: Vec<Temperature>,
}

impl Case {
    /// Reads a case; `file_name` stands in the findings.
    ///
    /// # Errors
    /// Everything that is wrong with the text, never nothing: [`ErrorKind::Data`](crate::ErrorKind::Data) for wrong
    /// syntax, unknown or missing keys, values of the wrong kind and unknown words;
    /// [`ErrorKind::Unit`](crate::ErrorKind::Unit) for text that is no quantity of the right kind;
    /// [`ErrorKind::OutOfRange`](crate::ErrorKind::OutOfRange) for a number outside its range;
    /// [`ErrorKind::UnknownName`](crate::ErrorKind::UnknownName) for a material or food that is not in the catalogue;
    /// [`ErrorKind::Inconsistent`](crate::ErrorKind::Inconsistent) where parts do not fit one another. The path of each
    /// is file, line and key: "bench.toml, line 12, box.walls\[2\].thickness".
    pub fn read(text: &str, file_name: &str) -> Result<Self, Vec<Error>> {
        Self::read_with(text, file_name, Catalogue::embedded())
    }

    /// Reads a case whose materials are looked up in a catalogue of your own
    /// ([`Catalogue::with_file`]).
    ///
    /// # Errors
    /// As [`Case::read`].
    pub fn read_with(text: &str, file_name: &str, catalogue: &Catalogue) -> Result<Self, Vec<Error>> {
        let file = File { name: file_name, text };
        let (document, errors) = DeTable::parse_recoverable(text);
        if !errors.is_empty() {
            return Err(file.syntax(&errors));
        }
        let root = Section::root(file, document.get_ref());
        let mut findings = Findings::default();
        let case = Self::from_root(&root, catalogue, &mut findings);
        match case {
            Some(case) if findings.is_empty() => Ok(case),
            // A part is missing only where a finding says why.
            _ => Err(findings.into_errors()),
        }
    }

    fn from_root(root: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Self> {
        findings.refuse_unknown(root, &TOP);
        let title = Leaf::optional(findings, root, "title", |item| Ok(item.text()?.to_owned()));
        let catalogue = match findings.section(root, "material") {
            None => catalogue.clone(),
            Some(section) => {
                let (extended, wrong) = catalogue.with_section(&section);
                findings.extend(wrong);
                extended
            }
        };
        let pot = vessel::pot_with_dish(root, &catalogue, findings);
        let shell: Option<Shell> = shell::shell(root, pot.as_ref(), &catalogue, findings);
        let options = schedule::options(root, findings);
        let plan = schedule::plan(root, options.as_ref(), findings);
        let questions = schedule::questions(root, findings);
        let setup = findings.keep(Setup::new(pot?, shell?).map_err(|error| root.place(error)));
        Some(Case {
            title: title.given().cloned(),
            setup: setup?,
            plan: plan?,
            options: options?,
            questions: questions?,
        })
    }
}
