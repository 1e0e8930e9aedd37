//! A quantity in time, one value or a table that says how it goes; what it all rests on; and surface coefficients taken
//! as constant.

use super::leaf::{Findings, Leaf, each, range, without_path};
use super::text::Beside;
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::setup::{Dish, Enclosure, Pot, Range, Resting, Setup};
use crate::units::{
    HeatTransfer, Si, Spoken, Temperature, TemperatureInterval, Time, Velocity, grams, hours, litres, millimetres,
    seconds, watts_per_square_metre_kelvin,
};
use crate::wall::Course;

/// What a case may rest on: the word, and what it means.
type Surface = (&'static str, fn() -> Resting);
const SURFACES: [Surface; 5] = [
    ("board", Resting::board),
    ("stone", Resting::stone),
    ("earth", Resting::earth),
    ("snow", Resting::snow),
    ("hung", Resting::hung),
];
const KINDS: [&str; 5] = ["steps", "points", "mean", "log", "rows"];
const KEYS: [&str; 8] = ["steps", "points", "mean", "swing", "period", "delay", "log", "rows"];

/// A quantity that a case may give in time.
pub(super) trait InTime: Spoken {
    /// Half of the span of a wave of it.
    type Swing: Spoken;
    /// A value and a swing for the forms that are offered.
    const EXAMPLES: [&'static str; 2];

    /// What a case may say of it.
    fn forms() -> String {
        let [value, swing] = Self::EXAMPLES;
        format!(
            "\"{value}\", {{ steps = [[\"0 h\", \"{value}\"], ...] }}, {{ points = [[\"0 h\", \"{value}\"], ...] }}, \
             {{ mean = \"{value}\", swing = \"{swing}\", period = \"24 h\", delay = \"9 h\" }}, \
             {{ log = \"the name of a file\" }} or {{ rows = \"its text\" }}"
        )
    }
}

impl InTime for Temperature {
    type Swing = TemperatureInterval;
    const EXAMPLES: [&'static str; 2] = ["12 °C", "5 K"];
}

impl InTime for Velocity {
    type Swing = Velocity;
    const EXAMPLES: [&'static str; 2] = ["3 m/s", "2 m/s"];
}

/// At most so many steps or points are written in a case; a log may be longer.
const MOST: usize = 10_000;

/// How a quantity goes; every finding noted. `check` refuses one that goes out of its range.
pub(super) fn course<'t, Q: InTime>(
    section: &Section<'t>,
    key: &str,
    beside: &Beside<'_>,
    findings: &mut Findings,
    check: impl Fn(&Course<Q>) -> Result<(), Error>,
) -> Leaf<'t, Course<Q>> {
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

fn constant<Q: InTime>(item: &Item<'_>) -> Result<Course<Q>, Error> {
    if item.text().is_err() {
        let problem = format!("is no {}", Q::NAME);
        return Err(item.place(Error::new(ErrorKind::Data, problem).with_accepted(Q::forms())));
    }
    item.quantity::<Q>().map(Course::from)
}

fn in_time<Q: InTime>(
    item: &Item<'_>,
    table: &Section<'_>,
    beside: &Beside<'_>,
    findings: &mut Findings,
    check: &impl Fn(&Course<Q>) -> Result<(), Error>,
) -> Option<Course<Q>> {
    findings.refuse_unknown(table, &KEYS);
    let given: Vec<&str> = KINDS.into_iter().filter(|kind| table.get(kind).is_some()).collect();
    let [kind] = given[..] else {
        let problem = if given.is_empty() { "no course is given" } else { "the course is given twice" };
        findings.add(item.place(Error::new(ErrorKind::Inconsistent, problem).with_accepted(Q::forms())));
        return None;
    };
    for key in ["swing", "period", "delay"] {
        if let Some(other) = table.get(key).filter(|_| kind != "mean") {
            let error = Error::new(ErrorKind::Inconsistent, format!("{key} goes with mean only"));
            findings.add(other.place(error.with_value(kind).with_accepted(Q::forms())));
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

/// Pairs of time and value, each looked at by itself.
fn rows<Q: InTime>(
    list: &Item<'_>,
    findings: &mut Findings,
    check: &impl Fn(&Course<Q>) -> Result<(), Error>,
) -> Option<Vec<(Time, Q)>> {
    let count = findings.keep(list.list())?.len();
    if count == 0 || count > MOST {
        let error = Error::new(ErrorKind::OutOfRange, "too few or too many entries").with_value(count.to_string());
        findings.add(list.place(error.with_accepted(format!("1 to {MOST}"))));
        return None;
    }
    each(list, findings, |item, findings| {
        let (time, what) = findings.keep(item.pair())?;
        let (at, value) = (findings.keep(time.quantity::<Time>()), findings.keep(what.quantity::<Q>()));
        let value = value?;
        findings.keep(check(&Course::from(value)).map_err(|error| what.place(without_path(&error))))?;
        Some((at?, value))
    })
}

/// A daily cycle.
fn wave<Q: InTime>(
    table: &Section<'_>,
    findings: &mut Findings,
    check: &impl Fn(&Course<Q>) -> Result<(), Error>,
) -> Option<Course<Q>> {
    let mean: Leaf<Q> = Leaf::required_quantity(findings, table, "mean");
    let mean = mean.checked(findings, |mean| check(&Course::from(*mean)));
    let swing: Leaf<Q::Swing> = Leaf::required_quantity(findings, table, "swing");
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

/// What it all rests on, if the case says so; every finding noted.
pub(super) fn resting(section: &Section<'_>, beside: &Beside<'_>, findings: &mut Findings) -> Option<Option<Resting>> {
    let word = Leaf::optional(findings, section, "resting", |item| item.word(&SURFACES));
    let on = word.given().map_or_else(Resting::board, |make| make());
    let temperature = course(section, "resting-temperature", beside, findings, |t| on.clone().at(t.clone()).check());
    let coefficient: Leaf<Range<HeatTransfer>> = Leaf::optional(findings, section, "resting-coefficient", range);
    let coefficient = coefficient.checked(findings, |coefficient| on.clone().passing(*coefficient).check());
    if word.is_wrong() || temperature.is_wrong() || coefficient.is_wrong() {
        return None;
    }
    if word.is_absent() && temperature.is_absent() && coefficient.is_absent() {
        return Some(None);
    }
    let on = temperature.given().iter().fold(on, |on, course| on.at((*course).clone()));
    Some(Some(coefficient.given().iter().fold(on, |on, coefficient| on.passing(**coefficient))))
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
    let form = |key: &str| format!("{key} = \"{}\"", HeatTransfer::EXAMPLE);
    let inside: Leaf<Range<HeatTransfer>> = Leaf::optional(findings, &section, "inside", range);
    let inside = inside.required(findings, &section, "inside", &form("inside"));
    let inside = inside.checked(findings, |inside| check(*inside, usual));
    let outside: Leaf<Range<HeatTransfer>> = Leaf::optional(findings, &section, "outside", range);
    let outside = outside.required(findings, &section, "outside", &form("outside"));
    let outside = outside.checked(findings, |outside| check(usual, *outside));
    Some(Some(Films { inside: *inside.given()?, outside: *outside.given()? }))
}
