//! The text form of a setup: what a person writes down about pot, dish, box or sleeve, and plan.
//!
//! Conduction through a wall alone has a form of its own: [`WallCase`].
//!
//! A case is one TOML file. Every value with a dimension is text with its unit; what is wrong is told all at once, each
//! finding with file, line, key, value and what would be accepted, and a file with a finding gives no case at all.
//! Nothing writes a [`Setup`] back as text: an app that saves what its user entered keeps the text of the case.
//!
//! | section | keys (those in brackets may be left out) |
//! |---|---|
//! | top | \[`title`\] |
//! | `[pot]` | `volume`, or `diameter` and `height` (inside); \[`metal` and `metal-thickness`\] (needed with a diameter); \[`mass`\] of pot and lid as weighed; \[`emissivity`\] of its outside; \[`lid`: loose, sealed, none\], \[`lid-gap`\] of a loose one; \[`footing`: mat, rim, trivet, unknown, or a resistance\] |
//! | `[pot.handle]` | one that sticks out through the wall: `material`, `width`, `thickness`, `outside` (how far) |
//! | `[pot.knob]` | one on the lid of the pot: `material`, `across` (its diameter), `height` under the lid of the box, or `outside` (how far it sticks out through that lid) |
//! | `[dish]` | \[`kind`\]: which dish of the [dish list](DishFacts) it is; `food` (from the catalogue; that of the kind if nothing is said), or `heat-capacity`, `density` and \[`conductivity`\]; `mass`; \[`water`\]: share of it that can evaporate; \[`circulation`\]: `stirred` or `still`; \[`frozen`\]: share of it that is ice |
//! | `[[dish.with]]`, any number | another food stirred into it: `food` (or its own numbers as above), `mass`, \[`water`\] |
//! | `[[dish.pieces]]`, any number | `shape`: sphere, cylinder, slab; `size` across; `food` (or its own numbers as above); `mass` of all of them; `start` |
//! | `[box]` | `gap` round the pot, or `inner-width`, `inner-depth`, `inner-height`; `walls`; \[`fit` of the boards: tight, ordinary, loose\], \[`seams`\]: width of those low down; \[`upright-seams`\]: of those along the upright edges; \[`edges`: factor, solved\], \[`fillers`\] of solved edges |
//! | `[box.lid]` | \[`layers`\], \[`closing`: resting, pressed, gasketed, plug, tight\], \[`joint`: its width, or `leak`\] |
//! | `[box.base]`, `.front`, `.back`, `.left`, `.right` | `layers` of this face instead of `walls` |
//! | `[sleeve]` | `layers`, \[`gap`\], \[`edges`\] |
//! | `[sleeve.lid]` | \[`closing`\], \[`joint` or `leak`\] |
//! | `[[companion]]`, any number | a second pot, a hot stone, a bottle in the box: `name`; `heat-capacity`, or `material` and `mass`; `start`; `surface` |
//! | `[films]` | surface coefficients taken as constant, for comparisons: `inside`, `outside` |
//! | `[[probe]]`, any number | a thermometer that is in place from shutting on: `spot` where it sits: dish, coldest, under-lid; \[`lag`\]: its time constant, 0 s if nothing is said; \[`start`\]: what it showed before, if not what it finds |
//! | `[plan]` | `room`, \[`sky`\], \[`height`\] above sea, \[`wind`\], \[`resting`: board, stone, earth, snow, hung\], \[`resting-temperature`\], \[`resting-coefficient`\], \[`simmer`\], \[`carry`\], \[`start`\] of the pot, \[`shell-start`\] of box or sleeve, \[`actions`\], \[`serve`\] after shutting |
//! | `[questions]` | \[`above`\], \[`below`\]: temperatures above or below which it is to stay; if nothing is said, above 75, 63 and 60 °C, and below 5 °C what starts colder than its room |
//! | `[prices]` | what things cost, for a list of improvements: \[`currency`\], \[`materials`\], \[`changes`\] |
//! | `[options]` | \[`horizon`\], \[`step-error`\], \[`cells`\], \[`steps`\] |
//! | `[material.<id>]` | a material of your own, in the form of the catalogue's files |
//!
//! `walls` and `layers` list, from the inside to the outside, layers `{ material = "...", thickness = "50 mm" }`, with
//! \[`damp = true`\] for wool, wadding, hay, straw or paper that is damp
//! ([`Material::damp`](crate::Material::damp)), and,
//! between two layers, contacts: `{ gap = "1 mm" }` of still air, `{ resistance = "0.02 m2 K/W" }`, or
//! `{ airspace = "20 mm" }` that convects, with \[`emissivities`\] of its inner and outer face and \[`facing`\], which
//! is that of its face if nothing is said (no entry: perfect contact).
//!
//! `fillers` list strips in the inner corners: `{ along = "upright", material = "...", legs = ["40 mm", "30 mm"] }`, the
//! first leg along the upright wall (along front and back where two of these meet), or with `radius` in place of `legs` for
//! a hollow one; `along` is upright, base or lid.
//!
//! `actions` list what is done after shutting: `{ at = "2 h", open = "5 min" }`, `{ at = "2 h", uncover = "5 min" }` (the
//! lid off the pot as well), `{ at = "2 h", stir = "1 min" }` (the same, and stirred), `{ at = "2 h", reheat = "98 °C" }`,
//! `{ at = "2 h", take-out = "30 %" }`.
//!
//! `materials` of the prices list `{ material = "...", amount = 90, per = "m3" }`, for each m2, kg or m3; `changes` list
//! `{ change = "a soft gasket", amount = 6 }`, by how the name of the change begins
//! ([`Prices`]).
//!
//! `room`, `sky`, `wind` and `resting-temperature` are one value or a table of times after shutting: `{ steps = [["0 h", "12 °C"], ...] }`, each
//! held until the next; `{ points = [...] }`, straight lines between them; `{ mean = "12 °C", swing = "5 K" }`, a wave
//! whose `period` is 24 h and which passes its mean, rising, at `delay` (0 h) if nothing else is said;
//! `{ log = "cabin.csv" }`, a file beside the case, or `{ rows = "..." }`, its text: a heading with units, then rows (see
//! [`Course::from_log`](crate::Course::from_log)).
//!
//! Ranges (`emissivity`, `lid-gap`, a `footing`, `seams`, `upright-seams`, `joint`, `leak`, `heat-capacity` of a food, `resting-coefficient`,
//! `inside`, `outside`) are one value, taken as exact, or `["low", "best", "high"]`. What is accepted is told by [`Pot`](crate::Pot), [`Handle`](crate::Handle), [`Knob`](crate::Knob),
//! [`Dish`](crate::Dish), [`Pieces`](crate::Pieces), [`Enclosure`](crate::Enclosure), [`Sleeve`](crate::Sleeve),
//! [`Footing`](crate::Footing), [`Resting`](crate::Resting), [`Lid`](crate::Lid), [`PotLid`](crate::PotLid), [`Companion`](crate::Companion), [`Probe`], [`Plan`] and [`Options`].
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

mod companion;
mod dish;
mod edges;
mod layers;
mod leaf;
mod prices;
mod probe;
mod schedule;
mod shell;
mod surroundings;
mod text;
mod vessel;
mod wall;

pub use wall::WallCase;

use std::path::Path;

use leaf::Findings;
use text::Beside;

use crate::document::Section;
use crate::error::Error;
use crate::food::DishFacts;
use crate::material::Catalogue;
use crate::setup::{Options, Plan, Probe, Setup, Shell};
use crate::study::Prices;
use crate::units::Temperature;

const SECTIONS: [&str; 11] =
    ["pot", "dish", "box", "sleeve", "companion", "films", "probe", "plan", "questions", "prices", "options"];

/// What a case file describes.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Case {
    /// What its writer calls it.
    pub title: Option<String>,
    /// Pot with dish, in a box or sleeve.
    pub setup: Setup,
    /// Which dish of the dish list it is, where the file says so: for [`verdict`](crate::food::verdict).
    pub kind: Option<DishFacts>,
    /// Thermometers whose readings are wanted ([`Forecast::readings`](crate::Forecast::readings)), in the order of the file.
    pub probes: Vec<Probe>,
    /// What happens, and in what surroundings.
    pub plan: Plan,
    /// How it is computed.
    pub options: Options,
    /// What its writer wants to know.
    pub questions: Questions,
    /// What things cost, for [`study`](crate::study).
    pub prices: Prices,
}

/// What is asked of a forecast.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Questions {
    /// The temperatures above which it is to stay hot, -30 to 150 °C, in the order of the file.
    pub above: Vec<Temperature>,
    /// The temperatures below which it is to stay cold, -30 to 150 °C, in the order of the file.
    pub below: Vec<Temperature>,
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
        let beside = Beside { catalogue, folder: None };
        text::read(text, file_name, &beside, &SECTIONS, Self::from_root)
    }

    /// Reads a case that may name logs, which are looked for in `folder` (and nowhere else).
    ///
    /// # Errors
    /// As [`Case::read`]; [`ErrorKind::Io`](crate::ErrorKind::Io) for a log that cannot be read.
    pub fn read_in(text: &str, file_name: &str, catalogue: &Catalogue, folder: &Path) -> Result<Self, Vec<Error>> {
        let beside = Beside { catalogue, folder: Some(folder) };
        text::read(text, file_name, &beside, &SECTIONS, Self::from_root)
    }

    fn from_root(
        root: &Section<'_>,
        title: Option<String>,
        beside: &Beside<'_>,
        findings: &mut Findings,
    ) -> Option<Self> {
        let (pot, kind) = vessel::pot_with_dish(root, beside.catalogue, findings).unzip();
        let shell: Option<Shell> = shell::shell(root, pot.as_ref(), beside.catalogue, findings);
        let companions = companion::companions(root, beside.catalogue, findings);
        let films = surroundings::films(root, findings);
        let probes = probe::probes(root, findings);
        let options = schedule::options(root, findings);
        let plan = schedule::plan(root, options.as_ref(), beside, findings);
        schedule::refuse_start_with_ice(root, pot.as_ref(), findings);
        let starts = pot.as_ref().zip(plan.as_ref()).and_then(|(pot, plan)| pot.starts_at(plan).ok());
        let keeps_cold = starts.zip(plan.as_ref()).is_some_and(|(starts, plan)| starts < plan.room());
        let questions = schedule::questions(root, keeps_cold, findings);
        let prices = prices::prices(root, beside.catalogue, findings);
        let (companions, films) = (companions?, films?);
        let setup = Setup::new(pot?, shell?)
            .and_then(|setup| companions.into_iter().try_fold(setup, Setup::with_companion))
            .and_then(|setup| films.iter().try_fold(setup, |setup, films| films.apply(setup)));
        let setup = findings.keep(setup.map_err(|error| root.place(error)))?;
        let (kind, plan, options) = (kind?.cloned(), plan?, options?);
        Some(Case { title, setup, kind, probes: probes?, plan, options, questions: questions?, prices: prices? })
    }
}
