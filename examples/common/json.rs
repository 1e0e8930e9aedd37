//! The answer as one JSON object for programs; units stand in the names of the keys.

use serde_json::{Value, json};
use stillhot::units::{Energy, Si, Temperature, Time, hours, minutes};
use stillhot::{Error, Forecast, Held, HourRow, Moment, Range};

use super::answer::Answer;
use super::cook::{self, Cook};
use stillhot::food::Verdict;

pub const KEYS: &str = "\
Keys of the JSON object (times count from shutting; low, best, high span the range; null: not within
the horizon, or not given):
  file, title               what was read
  room_celsius, start_celsius, carry_minutes, serve_hours, horizon_hours
  curve[]                   time_hours, low_celsius, best_celsius, high_celsius,
                            numerical_error_kelvin
  thermometers[]            spot, lag_seconds, and the curve that each in the case will show
  spot                      of what curve, held and at_serving are: \"dish, at one temperature\" or
                            \"coldest spot\" of one that stands still, whose high end (latest) is
                            that of a stirred one
  held[]                    above_celsius or below_celsius; outcome: \"until\", \"past-horizon\" (stays
                            so to the horizon) or \"not-when-shut\"; earliest_hours, best_hours,
                            latest_hours, numerical_error_hours
  at_serving                one row as in curve, or null
  heat_lost[]               place, mechanism, low_kilojoules, best_kilojoules, high_kilojoules,
                            share_percent of all that was lost, what a stove put in included; to
                            serving, else to the horizon
  heat_stored[]             part, low_kilojoules, best_kilojoules, high_kilojoules (negative: given
                            up)
  tight                     curve and held of the same walls under a lid without any leak
  assumptions[]             subject, value, basis
  left_out[]                sentences
  cautions[]                code, text: show them unedited
  ledger_residual           largest imbalance of the heat account, as a share of the heat moved
  work                      steps, rejected_steps, factorisations, newton_iterations, unknowns
";

pub fn write(answer: &Answer<'_>, cook: &Cook, verdict: &Verdict) -> Result<String, Error> {
    let plan = &answer.case.plan;
    let forecast = &answer.forecast;
    let lost: Vec<_> = forecast.heat_by_path();
    let stored = forecast.heat_stored();
    let all_lost = answer.account().lost();
    let at_serving = forecast.serve_time().map(|time| Answer::at(forecast, time)).transpose()?;
    let held = |pick: fn(&(Temperature, Held, Held)) -> &Held| -> Vec<Value> {
        let above = answer.held.iter().map(|row| held("above_celsius", row.0, pick(row)));
        above.chain(answer.cold.iter().map(|row| held("below_celsius", row.0, pick(row)))).collect()
    };
    let work = forecast.statistics();
    let object = json!({
        "file": answer.file,
        "title": answer.case.title,
        "room_celsius": celsius(plan.room()),
        "start_celsius": celsius(answer.case.setup.pot().starts_at(plan)?),
        "carry_minutes": plan.carry_time().si() / 60.0,
        "serve_hours": plan.serve_time().map(|time| time.si() / 3600.0),
        "horizon_hours": forecast.horizon().si() / 3600.0,
        "spot": answer.spot(),
        "curve": curve(forecast)?,
        "thermometers": answer.case.probes.iter().map(|probe| Ok(json!({
            "spot": super::report::place(probe.spot()),
            "lag_seconds": probe.lag().si(),
            "curve": forecast.readings(probe, interval(forecast), forecast.horizon())?.iter().map(row).collect::<Vec<_>>(),
        }))).collect::<Result<Vec<_>, Error>>()?,
        "held": held(|row| &row.1),
        "at_serving": at_serving.map(|at| row(&at)),
        "heat_lost": lost.iter().map(|path| {
            let mut entry = energy("place", &path.place.to_string(), &path.heat);
            entry["mechanism"] = json!(path.mechanism.to_string());
            entry["share_percent"] = json!((all_lost != 0.0).then(|| 100.0 * path.heat.best().si() / all_lost));
            entry
        }).collect::<Vec<_>>(),
        "heat_stored": stored.iter().map(|stored| {
            energy("part", &stored.part.to_string(), &stored.heat)
        }).collect::<Vec<_>>(),
        "tight": { "curve": curve(&answer.tight)?, "held": held(|row| &row.2) },
        "assumptions": answer.assumptions.iter().map(|assumption| json!({
            "subject": assumption.subject, "value": assumption.value, "basis": assumption.basis,
        })).collect::<Vec<_>>(),
        "left_out": answer.left_out(),
        "cautions": answer.cautions.iter().map(|caution| json!({
            "code": caution.code, "text": caution.text,
        })).collect::<Vec<_>>(),
        "verdict": cook::json(cook, answer.case, verdict)?,
        "ledger_residual": forecast.ledger_residual(),
        "work": {
            "steps": work.steps, "rejected_steps": work.rejected, "factorisations": work.factorisations,
            "newton_iterations": work.newton_iterations, "unknowns": work.unknowns,
        },
    });
    Ok(format!("{object:#}\n"))
}

fn celsius(temperature: Temperature) -> f64 {
    temperature.si() - 273.15
}

/// Half an hour; finer for a short horizon.
fn interval(forecast: &Forecast) -> Time {
    if forecast.horizon() < hours(6.0) { minutes(1.0) } else { minutes(30.0) }
}

/// In such steps to the horizon.
fn curve(forecast: &Forecast) -> Result<Vec<Value>, Error> {
    let curve = forecast.curve(interval(forecast), forecast.horizon())?;
    curve.iter().map(|at| Ok(row(&Answer::at(forecast, at.time)?))).collect()
}

fn row(row: &HourRow) -> Value {
    json!({
        "time_hours": row.time.si() / 3600.0,
        "low_celsius": celsius(row.temperature.low()),
        "best_celsius": celsius(row.temperature.best()),
        "high_celsius": celsius(row.temperature.high()),
        "numerical_error_kelvin": row.numerical.si(),
    })
}

fn held(side: &str, level: Temperature, held: &Held) -> Value {
    let hours = |moment: &Moment| moment.time().map(|time| time.si() / 3600.0);
    let (outcome, times) = match held {
        Held::Until { earliest, best, latest, numerical } => {
            ("until", [hours(earliest), hours(best), hours(latest), Some(numerical.si() / 3600.0)])
        }
        Held::PastHorizon { .. } => ("past-horizon", [None; 4]),
        _ => ("not-when-shut", [None; 4]),
    };
    let mut entry = json!({
        "outcome": outcome,
        "earliest_hours": times[0],
        "best_hours": times[1],
        "latest_hours": times[2],
        "numerical_error_hours": times[3],
    });
    entry[side] = json!(celsius(level));
    entry
}

fn energy(what: &str, name: &str, heat: &Range<Energy>) -> Value {
    let kilojoules = |energy: Energy| energy.si() / 1000.0;
    let mut entry = json!({
        "low_kilojoules": kilojoules(heat.low()),
        "best_kilojoules": kilojoules(heat.best()),
        "high_kilojoules": kilojoules(heat.high()),
    });
    entry[what] = json!(name);
    entry
}
