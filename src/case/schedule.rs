//! What happens, what is asked, and how it is computed.

use super::Questions;
use super::leaf::{Findings, Leaf, each, without_path};
use super::surroundings::{course, resting};
use super::text::Beside;
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::setup::{Action, Options, Plan};
use crate::units::bounds::in_range;
use crate::units::{Length, Temperature, TemperatureInterval, Time, celsius, seconds};

const PLAN: [&str; 13] = [
    "room",
    "sky",
    "height",
    "wind",
    "resting",
    "resting-temperature",
    "resting-coefficient",
    "simmer",
    "carry",
    "start",
    "shell-start",
    "actions",
    "serve",
];
const ACTION: [&str; 6] = ["at", "open", "uncover", "stir", "reheat", "take-out"];
const ACTIONS: &str = "{ at = \"2 h\", open = \"5 min\" }, { at = \"2 h\", uncover = \"5 min\" }, \
                       { at = \"2 h\", stir = \"1 min\" }, { at = \"2 h\", reheat = \"98 °C\" } or \
                       { at = \"2 h\", take-out = \"30 %\" }";
/// What is done for a time: the key, and what it means.
type Opening = (&'static str, fn(Time) -> Action);
const OPENINGS: [Opening; 3] = [("open", Action::Open), ("uncover", Action::Uncover), ("stir", Action::Stir)];
const OPTIONS: [&str; 4] = ["horizon", "step-error", "cells", "steps"];
/// At most so many temperatures are asked about.
const MOST_QUESTIONS: usize = 20;

/// The plan; every finding noted. What it does is held against the horizon of the options where they are known.
pub(super) fn plan(
    root: &Section<'_>,
    options: Option<&Options>,
    beside: &Beside<'_>,
    findings: &mut Findings,
) -> Option<Plan> {
    let section = findings.required_section(root, "plan", "a section [plan] with room = \"18 °C\"")?;
    findings.refuse_unknown(&section, &PLAN);
    let ordinary = Plan::in_room(celsius(20.0));
    // Each leaf is checked in an ordinary plan, so that one does not hide the next.
    let room = course(&section, "room", beside, findings, |room| Plan::in_room(room.clone()).check());
    let room = room.required(findings, &section, "room", "room = \"18 °C\"");
    let mut plan = room.given().map_or(ordinary.clone(), |room| Plan::in_room(room.clone()));
    let mut complete = room.given().is_some();
    let sky = course(&section, "sky", beside, findings, |sky| ordinary.clone().under_sky(sky.clone()).check());
    complete &= !sky.is_wrong();
    if let Some(sky) = sky.given() {
        plan = plan.under_sky(sky.clone());
    }
    let wind = course(&section, "wind", beside, findings, |wind| ordinary.clone().in_wind(wind.clone()).check());
    complete &= !wind.is_wrong();
    if let Some(wind) = wind.given() {
        plan = plan.in_wind(wind.clone());
    }
    let resting = resting(&section, beside, findings);
    complete &= resting.is_some();
    plan = resting.flatten().into_iter().fold(plan, Plan::resting_on);
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
    leaf!("simmer", Time, simmer);
    leaf!("carry", Time, carry);
    leaf!("start", Temperature, leaving_at);
    leaf!("shell-start", Temperature, shell_at);
    if let Some(list) = section.get("actions") {
        let actions = each(&list, findings, |item, findings| action(item, options, findings));
        complete &= actions.is_some();
        plan = actions.into_iter().flatten().fold(plan, |plan, (at, action)| with(plan, at, action));
    }
    let serve: Leaf<Time> = Leaf::quantity(findings, &section, "serve");
    let serve = serve.checked(findings, |serve| ordinary.clone().serve_after(*serve).check());
    let serve = serve.checked(findings, |serve| within_horizon(*serve, options));
    if let Some(serve) = serve.given() {
        plan = plan.serve_after(*serve);
    }
    (complete && !serve.is_wrong()).then_some(plan)
}

/// Refuses a time that the forecast does not reach.
fn within_horizon(time: Time, options: Option<&Options>) -> Result<(), Error> {
    match options {
        Some(options) => in_range("time", time, seconds(0.0), options.horizon).map(|_| ()),
        None => Ok(()),
    }
}

fn with(plan: Plan, at: Time, action: Action) -> Plan {
    match action {
        Action::Open(duration) => plan.open_at(at, duration),
        Action::Uncover(duration) => plan.uncover_at(at, duration),
        Action::Stir(duration) => plan.stir_at(at, duration),
        Action::Reheat(to) => plan.reheat_at(at, to),
        Action::TakeOut(share) => plan.take_out_at(at, share),
    }
}

/// Something done after shutting; every finding noted.
fn action(item: &Item<'_>, options: Option<&Options>, findings: &mut Findings) -> Option<(Time, Action)> {
    let section = findings.keep(item.section())?;
    findings.refuse_unknown(&section, &ACTION);
    let ordinary = Plan::in_room(celsius(20.0));
    let check = |at: Time, action: Action| with(ordinary.clone(), at, action).check();
    let at: Leaf<Time> = Leaf::required_quantity(findings, &section, "at");
    let at = at.checked(findings, |at| check(*at, Action::Open(seconds(1.0))));
    let at = at.checked(findings, |at| within_horizon(*at, options));
    let noon = seconds(0.0);
    let openings = OPENINGS.map(|(key, of)| {
        let leaf: Leaf<Time> = Leaf::quantity(findings, &section, key);
        (leaf.checked(findings, |duration| check(noon, of(*duration))), of)
    });
    let reheat: Leaf<Temperature> = Leaf::quantity(findings, &section, "reheat");
    let reheat = reheat.checked(findings, |reheat| check(noon, Action::Reheat(*reheat)));
    let take_out = Leaf::optional(findings, &section, "take-out", Item::ratio);
    let take_out = take_out.checked(findings, |share| check(noon, Action::TakeOut(*share)));
    let absent = openings.iter().map(|(leaf, _)| leaf.is_absent()).chain([reheat.is_absent(), take_out.is_absent()]);
    let count = absent.filter(|absent| !absent).count();
    if count != 1 {
        let problem = if count == 0 { "nothing is done" } else { "more than one thing is done" };
        findings.add(item.place(Error::new(ErrorKind::Inconsistent, problem).with_accepted(ACTIONS)));
        return None;
    }
    let opened = openings.iter().find_map(|(leaf, of)| leaf.given().map(|duration| of(*duration)));
    let reheated = reheat.given().map(|to| Action::Reheat(*to));
    let taken = take_out.given().map(|share| Action::TakeOut(*share));
    Some((*at.given()?, opened.or(reheated).or(taken)?))
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
    let temperatures = each(&list, findings, |item, findings| {
        let temperature = findings.keep(item.quantity::<Temperature>())?;
        let checked = in_range("above", temperature, celsius(-30.0), celsius(150.0));
        findings.keep(checked.map_err(|error| item.place(without_path(&error))))?;
        Some(temperature)
    });
    Some(Questions { above: temperatures? })
}
