//! The answer as a page for people: first when to eat and when to reheat, then why.

use super::answer::Answer;
use super::cook::{self, Cook};
use super::layout::{all_of, clock, degrees, error, level, moment, paragraph, table};
use stillhot::food::Verdict;
use stillhot::units::{Si, Temperature};
use stillhot::{Error, Held, HourRow, Mechanism, Moment, Part, Shell};

const RANGE: &str = "The range takes everything uncertain at its cautious end at once, or at its generous end; a \
                     likely error is smaller.";

pub fn write(answer: &Answer<'_>, cook: &Cook, verdict: &Verdict) -> Result<String, Error> {
    let mut page = String::new();
    let title = answer.case.title.as_deref().unwrap_or(answer.file);
    page += &paragraph("", title);
    page += &paragraph("", &format!("(read from {}; times count from shutting, rounded down)", answer.file));
    page += "\nWHEN TO EAT, WHEN TO REHEAT\n";
    page += &advice(answer);
    page += &serving(answer)?;
    page.push('\n');
    page += &held(answer);
    page += &paragraph("  ", not_in_range(answer.case.setup.shell()));
    page += "\nTEMPERATURES, °C\n";
    page += &temperatures(answer)?;
    page += "\nWHERE THE HEAT WENT\n";
    page += &heat(answer);
    page += "\nWHAT WAS ASSUMED\n";
    for assumption in &answer.assumptions {
        let text = format!("{}: {} ({})", assumption.subject, assumption.value, assumption.basis);
        page += &paragraph("  - ", &text);
    }
    page += &paragraph("  - ", RANGE);
    page += "\nWHAT THE NUMBERS LEAVE OUT\n";
    page += &answer.left_out().iter().map(|text| paragraph("  - ", text)).collect::<String>();
    page += "\nCAUTIONS\n";
    page += &answer.cautions.iter().map(|caution| paragraph("  ! ", &caution.text)).collect::<String>();
    page += "\nIN SHORT\n";
    page += &cook::page(cook, answer.case, verdict)?;
    Ok(page)
}

fn not_in_range(shell: &Shell) -> &'static str {
    match shell {
        Shell::Box(_) => "The range knows nothing of wet or crushed insulation: it can halve these times.",
        Shell::Sleeve(_) => {
            "The range knows nothing of a loose fit and of wet or crushed mat: they shorten these times."
        }
    }
}

/// How long each temperature is held.
fn held(answer: &Answer<'_>) -> String {
    let cells = |held: &Held| match held {
        Held::Until { earliest, best, latest, numerical } => {
            [moment(earliest), moment(best), moment(latest), error(*numerical)]
        }
        Held::PastHorizon { horizon, .. } => {
            let past = format!("past {}", clock(*horizon));
            [past.clone(), past.clone(), past, "-".to_owned()]
        }
        _ => ["is below", "is below", "is below", "-"].map(str::to_owned),
    };
    let rows: Vec<Vec<String>> = answer
        .held
        .iter()
        .map(|(temperature, held, tight)| {
            let [earliest, best, latest, error] = cells(held);
            let [_, tight, _, _] = cells(tight);
            vec![level(*temperature), earliest, best, latest, error, tight]
        })
        .collect();
    table(&["falls below", "earliest", "best", "latest", "computing error", "lid without leak"], &rows)
}

/// What that means for the cook.
fn advice(answer: &Answer<'_>) -> String {
    let (mut within, mut stays, mut below) = (Vec::new(), Vec::new(), Vec::new());
    for (temperature, held, _) in &answer.held {
        let level = level(*temperature);
        match held {
            Held::Until { earliest: Moment::At(earliest), .. } => {
                within.push(format!("above {level} within {}", clock(*earliest)));
            }
            Held::Until { .. } | Held::PastHorizon { .. } => stays.push(level),
            _ => below.push(level),
        }
    }
    let mut text = String::new();
    if !within.is_empty() {
        let within = within.join("; ");
        text += &format!("To have it {within}: eat or reheat by then. Later, measure first; past the latest time of ");
        text += "the table it is colder. ";
    }
    if !stays.is_empty() {
        let followed = clock(answer.forecast.horizon());
        text += &format!("It stays above {} for all of the {followed} that were followed. ", all_of(&stays));
    }
    if !below.is_empty() {
        text += &format!("It is not above {} when shut: heat it to have it so. ", all_of(&below));
    }
    paragraph("  ", &text)
}

/// What serving finds.
fn serving(answer: &Answer<'_>) -> Result<String, Error> {
    let Some(time) = answer.forecast.serve_time() else { return Ok(String::new()) };
    let row = Answer::at(&answer.forecast, time)?;
    let range = row.temperature;
    let of = |wanted: fn(&HourRow, Temperature) -> bool| -> Vec<String> {
        answer.case.questions.above.iter().filter(|t| wanted(&row, **t)).map(|t| level(*t)).collect()
    };
    let (above, below, open) = (
        of(|row, t| row.temperature.low() > t),
        of(|row, t| row.temperature.high() <= t),
        of(|row, t| row.temperature.low() <= t && row.temperature.high() > t),
    );
    let mut text = format!(
        "Served after {} it has {} to {} °C, best estimate {} °C:",
        clock(time),
        degrees(range.low()),
        degrees(range.high()),
        degrees(range.best()),
    );
    let mut parts = Vec::new();
    if !above.is_empty() {
        parts.push(format!("above {} over the whole range", all_of(&above)));
    }
    if !open.is_empty() {
        parts.push(format!("perhaps above {} (measure)", all_of(&open)));
    }
    if !below.is_empty() {
        parts.push(format!("below {} (reheat to have it so)", all_of(&below)));
    }
    text = format!("{text} {}.", parts.join("; "));
    Ok(paragraph("  ", &text))
}

fn temperatures(answer: &Answer<'_>) -> Result<String, Error> {
    let rows = answer.table()?;
    let worst = rows.iter().map(|(row, _)| row.numerical.si()).fold(0.0, f64::max);
    let cells: Vec<Vec<String>> = rows
        .iter()
        .map(|(row, tight)| {
            let range = row.temperature;
            let best = degrees(tight.temperature.best());
            vec![clock(row.time), degrees(range.low()), degrees(range.best()), degrees(range.high()), best]
        })
        .collect();
    let mut text = table(&["after", "low", "best", "high", "lid without leak"], &cells);
    let computing = if worst < 0.1 { "under 0.1 K".to_owned() } else { format!("up to {worst:.1} K") };
    text += &paragraph(
        "  ",
        &format!(
            "Lid without leak: the best these walls could do, best estimate; nobody can build it. \
             Computing error of the best estimate: {computing}."
        ),
    );
    Ok(text)
}

/// The account of heat to serving, else to the horizon.
fn heat(answer: &Answer<'_>) -> String {
    let forecast = &answer.forecast;
    let until = forecast.serve_time().unwrap_or(forecast.horizon());
    let (lost, stored) = (forecast.heat_by_path(), forecast.heat_stored());
    let of_pot = |part: Part| part == Part::Pot;
    let given_up: f64 = -stored.iter().filter(|row| of_pot(row.part)).map(|row| row.heat.best().si()).sum::<f64>();
    let in_walls: f64 = stored.iter().filter(|row| !of_pot(row.part)).map(|row| row.heat.best().si()).sum();
    let mut places: Vec<(String, f64, f64, f64, f64)> = Vec::new();
    for path in &lost {
        let name = match path.mechanism {
            Mechanism::Conduction | Mechanism::Edge => format!("through the {}", path.place),
            mechanism => format!("{}, {mechanism}", path.place),
        };
        let best = path.heat.best().si();
        let edge = if path.mechanism == Mechanism::Edge { best } else { 0.0 };
        let (low, high) = (path.heat.low().si(), path.heat.high().si());
        match places.iter_mut().find(|place| place.0 == name) {
            Some(place) => {
                *place = (name, place.1 + best, place.2 + edge, place.3 + low, place.4 + high);
            }
            None => places.push((name, best, edge, low, high)),
        }
    }
    places.sort_by(|a, b| b.1.total_cmp(&a.1));
    let kilojoules = |joules: f64| {
        let rounded = (joules / 1000.0).round();
        format!("{:.0}", if rounded == 0.0 { 0.0 } else { rounded })
    };
    let share = |joules: f64| {
        if given_up == 0.0 { "-".to_owned() } else { format!("{:.0} %", (100.0 * joules / given_up).round() + 0.0) }
    };
    let mut rows: Vec<Vec<String>> = places
        .iter()
        .map(|(name, best, edge, low, high)| {
            let edge = if *edge == 0.0 { String::new() } else { kilojoules(*edge) };
            let range = format!("{} to {}", kilojoules(*low), kilojoules(*high));
            vec![name.clone(), kilojoules(*best), share(*best), edge, range]
        })
        .collect();
    let blank = String::new;
    rows.push(vec!["stored in the walls".to_owned(), kilojoules(in_walls), share(in_walls), blank(), blank()]);
    rows.push(vec!["given up by dish and pot".to_owned(), kilojoules(given_up), share(given_up), blank(), blank()]);
    let header = [format!("from the stove to {}", clock(until))];
    let header = [header[0].as_str(), "kJ", "share", "by edges and corners", "range, kJ"];
    table(&header, &rows)
}
