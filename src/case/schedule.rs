//! What happens, what is asked, and how it is computed.

use super::Questions;
use super::leaf::{Findings, Leaf};
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::setup::{Options, Plan};
use crate::units::bounds::in_range;
use crate::units::{Length, Temperature, TemperatureInterval, Time, Velocity, celsius, seconds};

const PLAN: [&str; 7] = ["room", "height", "wind", "simmer", "carry", "start", "serve"];
const OPTIONS: [&str; 4] = ["horizon", "step-error", "cells", "steps"];
/// At most so many temperatures are asked about.
const MOST_QUESTIONS: usize = 20;

/// The plan; every finding noted. Serving is held against the horizon of the options where they are known.
pub(super) fn plan(root: &Section<'_>, options: Option<&Options>, findings: &mut Findings) -> Option<Plan> {
    let section = findings.required_section(root, "plan", "a section [plan] with room = \"18 °C\"")?;
    findings.refuse_unknown(&section, &PLAN);
    let ordinary = Plan::in_room(celsius(20.0));
    // Each leaf is checked in an ordinary plan, so that one does not hide the next.
    let room: Leaf<Temperature> = Leaf::required_quantity(findings, &section, "room");
    let room = room.checked(findings, |room| Plan::in_room(*room).check());
    let mut plan = Plan::in_room(*room.given().unwrap_or(&celsius(20.0)));
    let mut complete = room.given().is_some();
    macro_rules! leaf {
        ($key:literal, $quantity:ty, $with:ident) => {
            let leaf: Leaf<$quantity> = Leaf::quantity(findings, &section, $key);
            let leaf = leaf.checked(findings, |value| ordinary.clone().$with(*value).check());
            complete &= !leaf.is_wrong();
            if let Some(value) = leaf.given() {
                plan = plan.$with(*value);
            }
        };
    }
    leaf!("height", Length, at_height);
    leaf!("wind", Velocity, in_wind);
    leaf!("simmer", Time, simmer);
    leaf!("carry", Time, carry);
    leaf!("start", Temperature, leaving_at);
    let serve: Leaf<Time> = Leaf::quantity(findings, &section, "serve");
    let serve = serve.checked(findings, |serve| ordinary.clone().serve_after(*serve).check());
    let serve = serve.checked(findings, |serve| match options {
        Some(options) => in_range("serve", *serve, seconds(0.0), options.horizon).map(|_| ()),
        None => Ok(()),
    });
    if let Some(serve) = serve.given() {
        plan = plan.serve_after(*serve);
    }
    (complete && !serve.is_wrong()).then_some(plan)
}

/// The options; every finding noted.
pub(super) fn options(root: &Section<'_>, findings: &mut Findings) -> Option<Options> {
    let mut options = Options::default();
    let Some(item) = root.get("options") else { return Some(options) };
    let section = findings.keep(item.section())?;
    findings.refuse_unknown(&section, &OPTIONS);
    let usual = Options::default();
    let horizon: Leaf<Time> = Leaf::quantity(findings, &section, "horizon");
    let horizon = horizon.checked(findings, |horizon| Options::horizon(*horizon).check());
    let step_error: Leaf<TemperatureInterval> = Leaf::quantity(findings, &section, "step-error");
    let step_error = step_error.checked(findings, |step_error| Options { step_error: *step_error, ..usual }.check());
    let cells = Leaf::optional(findings, &section, "cells", count);
    let cells = cells.checked(findings, |cells| Options { cells: *cells, ..usual }.check());
    let steps = Leaf::optional(findings, &section, "steps", count);
    let steps = steps.checked(findings, |steps| Options { steps: *steps, ..usual }.check());
    if horizon.is_wrong() || step_error.is_wrong() || cells.is_wrong() || steps.is_wrong() {
        return None;
    }
    options.horizon = horizon.given().copied().unwrap_or(options.horizon);
    options.step_error = step_error.given().copied().unwrap_or(options.step_error);
    options.cells = cells.given().copied().unwrap_or(options.cells);
    options.steps = steps.given().copied().unwrap_or(options.steps);
    Some(options)
}

/// A whole number; its range is for the caller to check.
fn count(item: &Item<'_>) -> Result<usize, Error> {
    let number = item.number()?;
    // Whole numbers of this size convert without loss; the ranges of counts end far below.
    if number.fract() == 0.0 && (0.0..=1e15).contains(&number) {
        return Ok(number as usize);
    }
    let error = Error::new(ErrorKind::OutOfRange, "is no count").with_value(number.to_string());
    Err(item.place(error.with_accepted("a whole number")))
}

/// The questions; every finding noted.
pub(super) fn questions(root: &Section<'_>, findings: &mut Findings) -> Option<Questions> {
    let usual = Questions { above: [75.0, 63.0, 60.0].map(celsius).to_vec() };
    let Some(item) = root.get("questions") else { return Some(usual) };
    let section = findings.keep(item.section())?;
    findings.refuse_unknown(&section, &["above"]);
    let Some(list) = section.get("above") else { return Some(usual) };
    let items = findings.keep(list.list())?;
    if items.is_empty() || items.len() > MOST_QUESTIONS {
        let error = Error::new(ErrorKind::OutOfRange, "too few or too many temperatures");
        let error = error.with_value(items.len().to_string()).with_accepted(format!("1 to {MOST_QUESTIONS}"));
        findings.add(list.place(error));
        return None;
    }
    let temperatures: Vec<Option<Temperature>> = items
        .iter()
        .map(|item| {
            let temperature = findings.keep(item.quantity::<Temperature>())?;
            let checked = in_range("above", temperature, celsius(-30.0), celsius(150.0));
            findings.keep(checked.map_err(|error| item.place(super::leaf::without_path(&error))))?;
            Some(temperature)
        })
        .collect();
    Some(Questions { above: temperatures.into_iter().collect::<Option<_>>()? })
}
