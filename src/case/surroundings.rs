//! A temperature in time, one value or a table that says how it goes; and surface coefficients taken as constant.

use super::leaf::{Findings, Leaf, each, range, without_path};
use super::text::Beside;
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::setup::{Dish, Enclosure, Pot, Range, Setup};
use crate::units::{
    HeatTransfer, Si, Temperature, TemperatureInterval, Time, grams, hours, litres, millimetres, seconds,
    watts_per_square_metre_kelvin,
};
use crate::wall::Course;

const KINDS: [&str; 5] = ["steps", "points", "mean", "log", "rows"];
const KEYS: [&str; 8] = ["steps", "points", "mean", "swing", "period", "delay", "log", "rows"];
const FORMS: &str = "\"12 °C\", { steps = [[\"0 h\", \"12 °C\"], ...] }, { points = [[\"0 h\", \"12 °C\"], ...] }, \
                     { mean = \"12 °C\", swing = \"5 K\", period = \"24 h\", delay = \"9 h\" }, \
                     { log = \"the name of a file\" } or { rows = \"its text\" }";
/// At most so many steps or points are written in a case; a log may be longer.
const MOST: usize = 10_000;

/// How a temperature goes; every finding noted. `check` refuses one that goes out of its range.
pub(super) fn course<'t>(
    section: &Section<'t>,
    key: &str,
    beside: &Beside<'_>,
    findings: &mut Findings,
    check: impl Fn(&Course<Temperature>) -> Result<(), Error>,
) -> Leaf<'t, Course<Temperature>> {
    let Some(item) = section.get(key) else { return Leaf::Absent };
    let read = match item.section() {
        Ok(table) => in_time(&item, &table, beside, findings, &check),
        Err(_) => findings.keep(constant(&item)),
    };
    match read {
        Some(course) => Leaf::Given(course, item).checked(findings, check),
        None => Leaf::Wrong,
    }
}

fn constant(item: &Item<'_>) -> Result<Course<Temperature>, Error> {
    if item.text().is_err() {
        return Err(item.place(Error::new(ErrorKind::Data, "is no temperature").with_accepted(FORMS)));
    }
    item.quantity::<Temperature>().map(Course::from)
}

fn in_time(
    item: &Item<'_>,
    table: &Section<'_>,
    beside: &Beside<'_>,
    findings: &mut Findings,
    check: &impl Fn(&Course<Temperature>) -> Result<(), Error>,
) -> Option<Course<Temperature>> {
    findings.refuse_unknown(table, &KEYS);
    let given: Vec<&str> = KINDS.into_iter().filter(|kind| table.get(kind).is_some()).collect();
    let [kind] = given[..] else {
        let problem = if given.is_empty() { "no course is given" } else { "the course is given twice" };
        findings.add(item.place(Error::new(ErrorKind::Inconsistent, problem).with_accepted(FORMS)));
        return None;
    };
    for key in ["swing", "period", "delay"] {
        if let Some(other) = table.get(key).filter(|_| kind != "mean") {
            let error = Error::new(ErrorKind::Inconsistent, format!("{key} goes with mean only"));
            findings.add(other.place(error.with_value(kind).with_accepted(FORMS)));
        }
    }
    let list = table.get(kind)?;
    match kind {
        "steps" | "points" => {
            let rows = rows(&list, findings, check)?;
            let course = if kind == "steps" { Course::steps(&rows) } else { Course::table(&rows) };
            // Each value was looked at by itself; what is left is their order.
            findings.keep(course.map_err(|error| list.place(without_path(&error).with_accepted("times that rise"))))
        }
        "mean" => wave(table, findings, check),
        "log" => {
            let text = findings.keep(beside.file(&list))?;
            findings.keep(Course::from_log(&text, list.text().ok()?).map_err(|error| list.place(error)))
        }
        _ => {
            let text = findings.keep(list.text())?;
            findings.keep(Course::from_log(text, "text").map_err(|error| list.place(error)))
        }
    }
}

/// Pairs of time and temperature, each looked at by itself.
fn rows(
    list: &Item<'_>,
    findings: &mut Findings,
    check: &impl Fn(&Course<Temperature>) -> Result<(), Error>,
) -> Option<Vec<(Time, Temperature)>> {
    let count = findings.keep(list.list())?.len();
    if count == 0 || count > MOST {
        let error = Error::new(ErrorKind::OutOfRange, "too few or too many entries").with_value(count.to_string());
        findings.add(list.place(error.with_accepted(format!("1 to {MOST}"))));
        return None;
    }
    each(list, findings, |item, findings| {
        let (time, temperature) = findings.keep(item.pair())?;
        let (at, value) =
            (findings.keep(time.quantity::<Time>()), findings.keep(temperature.quantity::<Temperature>()));
        let value = value?;
        findings.keep(check(&Course::from(value)).map_err(|error| temperature.place(without_path(&error))))?;
        Some((at?, value))
    })
}

/// A daily cycle.
fn wave(
    table: &Section<'_>,
    findings: &mut Findings,
    check: &impl Fn(&Course<Temperature>) -> Result<(), Error>,
) -> Option<Course<Temperature>> {
    let mean: Leaf<Temperature> = Leaf::required_quantity(findings, table, "mean");
    let mean = mean.checked(findings, |mean| check(&Course::from(*mean)));
    let swing: Leaf<TemperatureInterval> = Leaf::required_quantity(findings, table, "swing");
    let period: Leaf<Time> = Leaf::quantity(findings, table, "period");
    let still = |period| Course::sine(Temperature::from_si(293.15), 1.0, period, seconds(0.0)).map(|_| ());
    let period = period.checked(findings, |period| still(*period));
    let delay: Leaf<Time> = Leaf::quantity(findings, table, "delay");
    if period.is_wrong() || delay.is_wrong() {
        return None;
    }
    let period = period.given().copied().unwrap_or(hours(24.0));
    let delay = delay.given().copied().unwrap_or(seconds(0.0));
    let course = Course::sine(*mean.given()?, swing.given()?.si(), period, delay);
    findings.keep(course.map_err(|error| table.place(without_path(&error))))
}

/// Films taken as constant in place of the published relations.
#[derive(Debug, Clone, Copy)]
pub(super) struct Films {
    inside: Range<HeatTransfer>,
    outside: Range<HeatTransfer>,
}

impl Films {
    pub(super) fn apply(&self, setup: Setup) -> Result<Setup, Error> {
        setup.with_constant_films(self.inside, self.outside)
    }
}

/// The films, if the case gives them; every finding noted.
pub(super) fn films(root: &Section<'_>, findings: &mut Findings) -> Option<Option<Films>> {
    if root.get("films").is_none() {
        return Some(None);
    }
    let section = findings.section(root, "films")?;
    findings.refuse_unknown(&section, &["inside", "outside"]);
    // What films may be does not hang on what they are about: any setup stands in.
    let usual = Range::exactly(watts_per_square_metre_kelvin(8.0));
    let check = |inside, outside| -> Result<(), Error> {
        let pot = Pot::typical(litres(1.0)).with(Dish::named("water-liquid")?, grams(500.0));
        let setup = Setup::new(pot, Enclosure::lined("expanded-cork-board", millimetres(50.0))?)?;
        Films { inside, outside }.apply(setup).map(|_| ())
    };
    let form = |key: &str| format!("{key} = \"{}\"", <HeatTransfer as crate::units::Spoken>::EXAMPLE);
    let inside: Leaf<Range<HeatTransfer>> = Leaf::optional(findings, &section, "inside", range);
    let inside = inside.required(findings, &section, "inside", &form("inside"));
    let inside = inside.checked(findings, |inside| check(*inside, usual));
    let outside: Leaf<Range<HeatTransfer>> = Leaf::optional(findings, &section, "outside", range);
    let outside = outside.required(findings, &section, "outside", &form("outside"));
    let outside = outside.checked(findings, |outside| check(usual, *outside));
    Some(Some(Films { inside: *inside.given()?, outside: *outside.given()? }))
}
