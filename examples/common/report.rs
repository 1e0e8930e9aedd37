//! The answer as a page for people: first when to eat and when to reheat, then why.

use super::answer::Answer;
use super::cook::{self, Cook};
use super::layout::{all_of, degrees, error, level, moment, paragraph, table};
use stillhot::food::{Curve, Moments, Outcome, Verdict};
use stillhot::units::{self, Si, Temperature, Time, write_span_down};
use stillhot::{Error, Held, Mechanism, Moment, Place, ProbeSpot, Shell};

const RANGE: &str = "The range takes everything uncertain at its cautious end at once, or at its generous end; a \
                     likely error is smaller.";

/// A level that is asked about, how long it is held, and how long under a lid without leak.
type Row = (Temperature, Held, Held);
/// When a curve crosses a level.
type Crossing = fn(&Curve, Temperature) -> Result<Moments, Error>;

pub fn write(answer: &Answer<'_>, cook: &Cook, verdict: &Verdict) -> Result<String, Error> {
    let mut page = String::new();
    let title = answer.case.title.as_deref().unwrap_or(answer.file);
    page += &paragraph("", title);
    page += &paragraph("", &format!("(read from {}; times count from shutting, rounded down)", answer.file));
    let against = against(verdict);
    page += match (answer.is_cold(), &against) {
        (true, _) => "\nHOW LONG IT STAYS COLD\n",
        (false, Some(_)) => "\nHOW LONG IT STAYS HOT\n",
        (false, None) => "\nWHEN TO EAT, WHEN TO REHEAT\n",
    };
    if let Some(against) = &against {
        page += &paragraph("  ! ", against);
    }
    page += &advice(answer, against.is_some())?;
    page += &serving(answer)?;
    page.push('\n');
    page += &held(answer)?;
    page += &paragraph("  ", not_in_range(answer.case.setup.shell()));
    page += if answer.forecast.stands_still() {
        "\nTEMPERATURES AT THE COLDEST SPOT, °C\n"
    } else {
        "\nTEMPERATURES, °C\n"
    };
    page += &temperatures(answer)?;
    page += &thermometers(answer)?;
    page += if answer.is_cold() { "\nWHERE HEAT CAME IN\n" } else { "\nWHERE THE HEAT WENT\n" };
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

/// What the verdict has against eating it as planned: the times of the page are not all that counts.
fn against(verdict: &Verdict) -> Option<String> {
    let misses = verdict.findings.iter().filter(|finding| finding.outcome == Outcome::Misses);
    let mut against: Vec<String> = misses.map(|finding| format!("it misses \"{}\"", finding.limit.name())).collect();
    if verdict.doneness.is_some_and(|doneness| !doneness.is_done_by_best_value()) {
        against.push("it is not done when it is served".to_owned());
    }
    (!against.is_empty()).then(|| format!("As planned, {}: what to do stands at the end.", all_of(&against)))
}

fn not_in_range(shell: &Shell) -> &'static str {
    match shell {
        Shell::Box(_) => "The range knows nothing of wet or crushed insulation: it can halve these times.",
        Shell::Sleeve(_) => {
            "The range knows nothing of a loose fit and of wet or crushed mat: they shorten these times."
        }
    }
}

/// How long each temperature is held. The three moments are those of the verdict.
fn held(answer: &Answer<'_>) -> Result<String, Error> {
    let rows = |rows: &[Row], moments: Crossing| {
        let row = |(level_asked, held, tight): &Row| {
            let [best, latest, computing] = match held {
                Held::Until { numerical, .. } => ["", "", &error(*numerical)].map(str::to_owned),
                Held::PastHorizon { horizon, .. } => {
                    let past = format!("past {}", write_span_down(*horizon));
                    [past.clone(), past, "-".to_owned()]
                }
                _ => ["not so", "not so", "-"].map(str::to_owned),
            };
            let three = match held {
                Held::Until { .. } => {
                    let found = moments(&answer.curve, *level_asked)?;
                    [found.cautious, found.best, found.generous].map(|at| moment(&at))
                }
                _ => [best.clone(), best, latest],
            };
            let tight = match tight {
                Held::Until { best, .. } => moment(best),
                Held::PastHorizon { horizon, .. } => format!("past {}", write_span_down(*horizon)),
                _ => "not so".to_owned(),
            };
            Ok([level(*level_asked)].into_iter().chain(three).chain([computing, tight]).collect())
        };
        rows.iter().map(row).collect::<Result<Vec<Vec<String>>, Error>>()
    };
    let mut text = String::new();
    for (what, rows) in [
        ("falls below", rows(&answer.held, Curve::falls_below)?),
        ("rises above", rows(&answer.cold, Curve::rises_above)?),
    ] {
        if !rows.is_empty() {
            text += &table(&[what, "earliest", "best", "latest", "computing error", "lid without leak"], &rows);
        }
    }
    Ok(text)
}

/// What that means for the cook; `against` says that the verdict is against eating it so.
fn advice(answer: &Answer<'_>, against: bool) -> Result<String, Error> {
    let mut text = String::new();
    let followed = write_span_down(answer.forecast.horizon());
    let sides: [(&str, &[Row], Crossing); 2] =
        [("above", &answer.held, Curve::falls_below), ("below", &answer.cold, Curve::rises_above)];
    for (side, rows, moments) in sides {
        let (mut within, mut stays, mut never) = (Vec::new(), Vec::new(), Vec::new());
        for (temperature, held, _) in rows {
            let level = level(*temperature);
            match held {
                Held::Until { .. } => match moments(&answer.curve, *temperature)?.cautious {
                    Moment::At(time) => within.push(format!("{side} {level} within {}", write_span_down(time))),
                    Moment::PastHorizon(_) => stays.push(level),
                },
                Held::PastHorizon { .. } => stays.push(level),
                _ => never.push(level),
            }
        }
        let (by_then, later, mend) = match (side, against) {
            ("above", false) => ("eat or reheat by then", "colder", "heat it"),
            ("above", true) => ("reheat by then", "colder", "heat it"),
            _ => ("eat it or chill it by then", "warmer", "chill it"),
        };
        if !within.is_empty() {
            text +=
                &format!("To have it {}: {by_then}. Later, measure first; past the latest time ", within.join("; "));
            text += &format!("of the table it is {later}. ");
        }
        if !stays.is_empty() {
            text += &format!("It stays {side} {} for all of the {followed} that were followed. ", all_of(&stays));
        }
        if !never.is_empty() {
            text += &format!("It is not {side} {} when shut: {mend} to have it so. ", all_of(&never));
        }
    }
    Ok(paragraph("  ", &text))
}

/// What serving finds.
fn serving(answer: &Answer<'_>) -> Result<String, Error> {
    let Some(time) = answer.forecast.serve_time() else { return Ok(String::new()) };
    let row = Answer::at(&answer.forecast, time)?;
    let range = row.temperature;
    let (low, high) = (range.low(), range.high());
    let mut parts = Vec::new();
    let mut say = |levels: &[Temperature], text: &dyn Fn(&str) -> String| {
        if !levels.is_empty() {
            parts.push(text(&all_of(&levels.iter().map(|t| level(*t)).collect::<Vec<_>>())));
        }
    };
    let questions = &answer.case.questions;
    for (asked, hot) in [(&questions.above, true), (&questions.below, false)] {
        let of = |wanted: &dyn Fn(Temperature) -> bool| -> Vec<Temperature> {
            asked.iter().copied().filter(|t| wanted(*t)).collect()
        };
        let (above, below) = (of(&|t| low > t), of(&|t| high <= t));
        let open = of(&|t| low <= t && high > t);
        let (good, bad, side, mend) = if hot {
            (above, below, ["above", "below"], "reheat")
        } else {
            (below, above, ["below", "above"], "chill")
        };
        say(&good, &|levels| format!("{} {levels} over the whole range", side[0]));
        say(&open, &|levels| format!("perhaps {} {levels} (measure)", side[0]));
        say(&bad, &|levels| format!("{} {levels} ({mend} to have it so)", side[1]));
    }
    let text = format!(
        "Served after {} it has {} to {} °C, best estimate {} °C: {}.",
        write_span_down(time),
        degrees(low),
        degrees(high),
        degrees(range.best()),
        parts.join("; "),
    );
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
            vec![write_span_down(row.time), degrees(range.low()), degrees(range.best()), degrees(range.high()), best]
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

/// What the thermometers of the case will show, in the steps of the table.
fn thermometers(answer: &Answer<'_>) -> Result<String, Error> {
    let times = answer.table()?;
    let [.., (before, _), (last, _)] = times.as_slice() else { return Ok(String::new()) };
    let interval = Time::from_si(last.time.si() - before.time.si());
    let mut text = String::new();
    for probe in &answer.case.probes {
        let rows = answer.forecast.readings(probe, interval, last.time)?;
        let cells: Vec<Vec<String>> = rows
            .iter()
            .map(|row| {
                let range = row.temperature;
                vec![write_span_down(row.time), degrees(range.low()), degrees(range.best()), degrees(range.high())]
            })
            .collect();
        let lag = if probe.lag().si() > 0.0 { format!(", {} late", units::write(probe.lag())) } else { String::new() };
        text += &format!("\nWHAT A THERMOMETER WILL SHOW {}{lag}, °C\n", place(probe.spot()));
        text += &table(&["after", "low", "best", "high"], &cells);
    }
    Ok(text)
}

/// Where a thermometer sits, in words.
pub fn place(spot: ProbeSpot) -> &'static str {
    match spot {
        ProbeSpot::Coldest => "in the coldest spot of the dish",
        ProbeSpot::UnderLid => "in the air under the lid",
        _ => "in the dish",
    }
}

/// The account of heat to serving, else to the horizon.
fn heat(answer: &Answer<'_>) -> String {
    let forecast = &answer.forecast;
    let until = forecast.serve_time().unwrap_or(forecast.horizon());
    let lost = forecast.heat_by_path();
    let account = answer.account();
    // Into a cold dish heat comes in: what then counts is what came.
    let sign = if account.lost() < 0.0 { -1.0 } else { 1.0 };
    let mut places: Vec<(String, f64, f64, f64, f64)> = Vec::new();
    for path in lost.iter().filter(|path| !matches!(path.place, Place::Reheat | Place::Stove)) {
        let name = match path.mechanism {
            Mechanism::Conduction | Mechanism::Edge => format!("through the {}", path.place),
            mechanism => format!("{}, {mechanism}", path.place),
        };
        let best = sign * path.heat.best().si();
        let edge = if path.mechanism == Mechanism::Edge { best } else { 0.0 };
        let ends = [path.heat.low(), path.heat.high()].map(|heat| sign * heat.si());
        let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
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
        let all = sign * account.lost();
        if all == 0.0 { "-".to_owned() } else { format!("{:.0} %", (100.0 * joules / all).round() + 0.0) }
    };
    let mut rows: Vec<Vec<String>> = places
        .iter()
        .map(|(name, best, edge, low, high)| {
            let edge = if *edge == 0.0 { String::new() } else { kilojoules(*edge) };
            let range = format!("{} to {}", kilojoules(*low), kilojoules(*high));
            vec![name.clone(), kilojoules(*best), share(*best), edge, range]
        })
        .collect();
    let mut row = |name: &str, joules: f64| {
        rows.push(vec![name.to_owned(), kilojoules(joules), share(joules), String::new(), String::new()]);
    };
    row("stored in the walls", sign * account.in_walls);
    for (name, heat) in [("stored in the pieces", account.in_pieces), ("stored in second bodies", account.in_bodies)] {
        if heat != 0.0 {
            row(name, sign * heat);
        }
    }
    let pot = if sign > 0.0 { "given up by dish and pot" } else { "taken up by dish and pot" };
    let [stove, reheat] = account.put_in;
    if stove != 0.0 || reheat != 0.0 {
        row("lost in all", sign * account.lost());
    }
    row(pot, sign * account.given_up);
    for (name, heat) in [("put in while it simmered", stove), ("put in by reheating", reheat)] {
        if heat != 0.0 {
            row(name, sign * heat);
        }
    }
    let from = if sign > 0.0 { "the stove" } else { "the start" };
    let header = [format!("from {from} to {}", write_span_down(until))];
    let header = [header[0].as_str(), "kJ", "share", "by edges and corners", "range, kJ"];
    table(&header, &rows)
}
