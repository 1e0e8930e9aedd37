//! Cases at random with everything that a case can say. What fails is told as the text of a case, cut down to the lines
//! that it needs.
//!
//! `PROPTEST_CASES` says how many, `PROPTEST_RNG_SEED` at which number to begin: a number draws the same case anywhere.

use std::panic::{AssertUnwindSafe, catch_unwind};

use crate::drawn;
use crate::setups::chilled_by_air;
use stillhot::case::Case;
use stillhot::units::{Ratio, Si, Spoken, Time, celsius, kelvins, metres, metres_per_second, minutes};
use stillhot::{Error, ErrorKind, Forecast, HourRow, Options, Plan, Range, Resting};

/// Those that are drawn if nobody says otherwise.
const FIRST: u64 = 0;
const CASES: u64 = 120;

/// What went wrong, first what kind of thing: a smaller case must fail in the same way.
struct Failure {
    kind: &'static str,
    text: String,
}

type Outcome = Result<(), Failure>;

fn failed(kind: &'static str, text: impl Into<String>) -> Outcome {
    Err(Failure { kind, text: text.into() })
}

fn number_of(variable: &str, usual: u64) -> u64 {
    std::env::var(variable).ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

/// What is refused names what, with which value, and what would do.
fn told(kind: &'static str, error: &Error) -> Outcome {
    let whole = !error.path().is_empty() && error.accepted().is_some();
    if whole { Ok(()) } else { failed(kind, format!("{error:?}")) }
}

/// The coldest and hottest that a text speaks of besides room and sky, K: whatever stands before °C, a swing beyond it.
fn spoken(text: &str) -> (f64, f64) {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for line in text.lines() {
        let numbers = |unit: &str| -> Vec<f64> {
            let parts: Vec<&str> = line.split(unit).collect();
            let before = parts[..parts.len() - 1].iter();
            before.filter_map(|part| part.rsplit('"').next()?.trim().parse().ok()).collect()
        };
        let swing: f64 = if line.contains("swing") { numbers(" K\"").iter().sum() } else { 0.0 };
        for t in numbers(" °C\"") {
            (low, high) = (low.min(t - swing + 273.15), high.max(t + swing + 273.15));
        }
    }
    (low, high)
}

/// Coldest and hottest of all that is about, K: nothing else could make the dish colder or hotter, but that it dries.
fn bounds(case: &Case, text: &str) -> (f64, f64) {
    let (mut low, mut high) = spoken(text);
    let start = case.setup.pot().starts_at(&case.plan).unwrap().si();
    let boiling = case.plan.start_temperature().unwrap().si();
    let before = case.plan.simmer_time().si() + case.plan.carry_time().si();
    let span = before + case.options.horizon.si();
    let times = (0..=2000).map(|k| Time::from_si(span * f64::from(k) / 2000.0 - before));
    let room =
        times.flat_map(|t| [case.plan.room_course()].into_iter().chain(case.plan.sky_course()).map(move |c| c.at(t)));
    for t in room.map(Si::si).chain([start, boiling]) {
        (low, high) = (low.min(t), high.max(t));
    }
    if text.contains("resting = \"snow\"") {
        // Snow of which nothing is said is as cold as the room at shutting, and never warmer than it melts.
        low = low.min(case.plan.room().si().min(273.15));
    }
    let wet = case.setup.pot().contents().is_some_and(|(dish, _)| dish.water_content().si() > 0.0);
    // The air is thinner high up, and dries what is wet by some more.
    let dries = if wet { 1.4 * chilled_by_air(low - 273.15) } else { 0.0 };
    (low - dries, high)
}

fn rises<Q: Spoken>(what: &str, range: Range<Q>) -> Outcome {
    let [low, best, high] = [range.low(), range.best(), range.high()].map(Si::si);
    if low <= best && best <= high && low.is_finite() && high.is_finite() {
        return Ok(());
    }
    failed("range", format!("{what}: {low}, {best}, {high}"))
}

fn row_holds(what: &str, row: &HourRow, (low, high): (f64, f64)) -> Outcome {
    rises(what, row.temperature)?;
    let numerical = row.numerical.si();
    if !(numerical.is_finite() && numerical >= 0.0) {
        return failed("numerical", format!("{what}: {numerical} K at {} s", row.time.si()));
    }
    let slack = 0.02 + numerical;
    let t = row.temperature;
    for value in [t.low(), t.best(), t.high()].map(Si::si) {
        if value < low - slack || value > high + slack {
            let text =
                format!("{what}: {value} K at {} s, outside {low} to {high} K by more than {slack} K", row.time.si());
            return failed("bounds", text);
        }
    }
    Ok(())
}

/// Everything that must hold of any forecast.
fn holds(case: &Case, text: &str, forecast: &Forecast) -> Outcome {
    let (heat, water) = (forecast.ledger_residual(), forecast.water_residual());
    if heat.is_nan() || heat >= 1e-9 {
        return failed("heat account", format!("{heat:e}"));
    }
    if water.is_nan() || water >= 1e-9 {
        return failed("water account", format!("{water:e}"));
    }
    let limits = bounds(case, text);
    let horizon = case.options.horizon;
    for k in 0..=60 {
        let time = horizon * (f64::from(k) / 60.0).powi(2);
        row_holds("dish", &forecast.at(time).unwrap(), limits)?;
        row_holds("coldest spot", &forecast.coldest(time).unwrap(), limits)?;
        for kind in 0..forecast.middle_count() {
            row_holds("middle of a piece", &forecast.middle_at(kind, time).unwrap(), limits)?;
        }
        let water = [forecast.water_lost(time).unwrap(), forecast.water_on_liner(time).unwrap()];
        water.into_iter().flatten().try_for_each(|range| rises("water", range))?;
    }
    for probe in &case.probes {
        for row in forecast.readings(probe, horizon * 0.05, horizon).unwrap() {
            rises("reading", row.temperature)?;
        }
    }
    for row in forecast.hottest() {
        rises("hottest", row.temperature)?;
    }
    let (stored, lost) = (forecast.heat_stored(), forecast.heat_by_path());
    let heats = || stored.iter().map(|s| s.heat).chain(lost.iter().map(|l| l.heat));
    heats().try_for_each(|range| rises("heat", range))?;
    let moved: f64 = heats().map(|heat| heat.best().si().abs()).sum();
    let left: f64 = heats().map(|heat| heat.best().si()).sum();
    if left.abs() > 1e-6 * moved.max(1.0) {
        return failed("heat told", format!("{left} J of {moved} J are neither stored nor lost"));
    }
    Ok(())
}

/// What may come after a forecast that lasts so long: each a plan for half as long.
fn later(way: u64, lasts: Time) -> Plan {
    let plan = Plan::in_room(celsius(5.0));
    match way % 4 {
        0 => plan.open_at(lasts * 0.2, minutes(3.0)),
        1 => plan
            .in_wind(metres_per_second(9.0))
            .under_sky(celsius(-25.0))
            .uncover_at(lasts * 0.1, minutes(2.0))
            .serve_after(lasts * 0.3),
        2 => plan
            .resting_on(Resting::earth().at(celsius(12.0)))
            .at_height(metres(3000.0))
            .take_out_at(minutes(0.0), Ratio::from_si(0.4))
            .stir_at(lasts * 0.2, minutes(1.0)),
        _ => Plan::in_room(celsius(55.0)).resting_on(Resting::snow()).uncover_at(minutes(0.0), minutes(5.0)),
    }
}

/// Forecasts in other surroundings, each of which goes on where the one before ends.
fn goes_on(case: &Case, way: u64, forecast: &Forecast) -> Outcome {
    let mut options = case.options;
    options.horizon *= 0.5;
    let next = continues(case, way, (forecast, case.options.horizon), &options)?;
    let last = options.horizon;
    options.horizon *= 0.5;
    continues(case, way / 4 + 1, (&next, last), &options).map(|_| ())
}

/// One of them.
fn continues(
    case: &Case,
    way: u64,
    (forecast, end): (&Forecast, Time),
    options: &Options,
) -> Result<Forecast, Failure> {
    let plan = later(way, end).continuing(forecast, end).unwrap();
    let later = match case.setup.forecast_with(&plan, options) {
        Ok(later) => later,
        Err(error) => return Err(Failure { kind: "continued", text: format!("{error:?}") }),
    };
    still_holds((forecast, end), &later, options)?;
    Ok(later)
}

fn still_holds((forecast, end): (&Forecast, Time), later: &Forecast, options: &Options) -> Outcome {
    let (heat, water) = (later.ledger_residual(), later.water_residual());
    if heat.is_nan() || water.is_nan() || heat >= 1e-9 || water >= 1e-9 {
        return failed("accounts continued", format!("heat {heat:e}, water {water:e}"));
    }
    let [last, first] = [(forecast, end), (later, minutes(0.0))].map(|(f, time)| f.at(time).unwrap().temperature);
    for (last, first) in [(last.low(), first.low()), (last.best(), first.best()), (last.high(), first.high())] {
        if (last.si() - first.si()).abs() > 1e-9 {
            return failed("continued", format!("{} K, then {} K", last.si(), first.si()));
        }
    }
    later
        .curve(options.horizon * 0.1, options.horizon)
        .unwrap()
        .iter()
        .try_for_each(|row| rises("later", row.temperature))
}

/// The numerical error told covers what a much finer run finds.
fn covers(case: &Case, forecast: &Forecast) -> Outcome {
    let mut options = case.options;
    options.cells = 2 * options.cells.max(8);
    options.step_error = kelvins(5e-4);
    options.steps = 1_000_000;
    let fine = match case.setup.forecast_with(&case.plan, &options) {
        Ok(fine) => fine,
        Err(error) => return failed("finer", format!("{error:?}")),
    };
    for k in 0..=40 {
        let time = case.options.horizon * (f64::from(k) / 40.0).powi(2);
        let of = |forecast: &Forecast| -> Vec<HourRow> {
            let middles = (0..forecast.middle_count()).map(|kind| forecast.middle_at(kind, time));
            let rows = [forecast.at(time), forecast.coldest(time)].into_iter().chain(middles);
            rows.map(Result::unwrap).collect()
        };
        for (place, (row, reference)) in of(forecast).iter().zip(of(&fine)).enumerate() {
            let off = (row.temperature.best().si() - reference.temperature.best().si()).abs();
            let allowed = row.numerical.si() + reference.numerical.si();
            if off > allowed {
                let what = ["dish", "coldest spot"].get(place).unwrap_or(&"middle of a piece");
                let text = format!("{what} at {} s: {off:.2e} K off, {allowed:.2e} K told", time.si());
                return failed("error told", text);
            }
        }
    }
    Ok(())
}

/// What a case is asked beyond what must hold of all.
#[derive(Clone, Copy)]
struct Asked {
    finely: bool,
    further: Option<u64>,
}

impl Asked {
    /// A finer run costs some tens of others.
    fn of(number: u64) -> Self {
        Asked { finely: number % 20 == 7, further: (number % 5 == 1).then_some(number / 5) }
    }
}

/// Reads, computes and judges a case; whether it was refused.
fn judge(text: &str, asked: Asked) -> Result<bool, Failure> {
    let run = || {
        let mut case = match Case::read(text, "drawn") {
            Ok(case) => case,
            Err(findings) => return findings.iter().try_for_each(|error| told("findings", error)).map(|()| true),
        };
        case.options.threads = 1;
        let forecast = match case.setup.forecast_with(&case.plan, &case.options) {
            Ok(forecast) => forecast,
            // Nothing that can be said takes more work than the usual bound.
            Err(error) if matches!(error.kind(), ErrorKind::WorkBound | ErrorKind::NoConvergence) => {
                return failed("computed", format!("{error:?}")).map(|()| true);
            }
            Err(error) => return told("refused", &error).map(|()| true),
        };
        holds(&case, text, &forecast)?;
        if let Some(way) = asked.further {
            goes_on(&case, way, &forecast)?;
        }
        if asked.finely {
            covers(&case, &forecast)?;
        }
        Ok(false)
    };
    catch_unwind(AssertUnwindSafe(run)).unwrap_or_else(|_| failed("panic", "see above").map(|()| true))
}

/// A text cut down to the lines without which it does not fail in this way, and how it fails then.
fn smallest(text: &str, asked: Asked, failure: Failure) -> (String, Failure) {
    let (mut text, mut failure) = (text.to_owned(), failure);
    let mut block = text.lines().count().div_ceil(2);
    while block > 0 {
        let mut from = 0;
        while from < text.lines().count() {
            let fewer: Vec<&str> =
                text.lines().enumerate().filter(|(k, _)| *k < from || *k >= from + block).map(|(_, l)| l).collect();
            let fewer = fewer.join("\n") + "\n";
            match judge(&fewer, asked) {
                Err(same) if same.kind == failure.kind => (text, failure) = (fewer, same),
                _ => from += block,
            }
        }
        block /= 2;
    }
    (text, failure)
}

#[test]
fn anything_that_a_case_can_say_keeps_its_accounts_and_its_bounds() {
    let (first, count) = (number_of("PROPTEST_RNG_SEED", FIRST), number_of("PROPTEST_CASES", CASES));
    let (mut refused, mut failures) = (0, Vec::new());
    for number in first..first + count {
        let (text, asked) = (drawn::case(number), Asked::of(number));
        match judge(&text, asked) {
            Ok(was_refused) => refused += u64::from(was_refused),
            Err(failure) => {
                println!("number {number}: {}: {}", failure.kind, failure.text);
                let (text, failure) = smallest(&text, asked, failure);
                failures.push(format!("number {number}: {}: {}\n{text}", failure.kind, failure.text));
            }
        }
    }
    println!("{count} cases, {refused} refused");
    assert!(failures.is_empty(), "{} of {count}:\n{}", failures.len(), failures.join("\n"));
    // Nearly all of what is drawn is a case.
    assert!(refused as f64 <= 0.05 * count as f64 + 1.0, "{refused} of {count} refused");
}
