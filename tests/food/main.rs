//! The food floor: check values with their sources, findings on made-up curves, wording, data.

mod check_values;
mod data;
mod findings;
mod forecast;
mod fuel;
mod planning;
mod wording;

use stillhot::Plan;
use stillhot::food::{Curve, PlanFacts};
use stillhot::units::{TemperatureInterval, Time, celsius, hours, kelvins, minutes};

/// In a room of 20 °C, simmered for so many minutes.
fn simmered(duration: f64) -> Plan {
    Plan::in_room(celsius(20.0)).simmer(minutes(duration))
}

/// Simmered for so many minutes, eaten so many hours after shutting.
fn facts(simmer: f64, serve: f64) -> PlanFacts {
    PlanFacts::of(&simmered(simmer).serve_after(hours(serve)))
}

/// A curve through points of hours and degrees Celsius, with a range this wide to either side.
fn guarded(points: &[(f64, f64)], accuracy: f64) -> Curve {
    bare(points).with_accuracy(kelvins(accuracy)).unwrap()
}

/// The same without a range.
fn bare(points: &[(f64, f64)]) -> Curve {
    let points: Vec<_> = points.iter().map(|(h, t)| (hours(*h), celsius(*t))).collect();
    Curve::without_range(&points).unwrap()
}

/// `ambient + rise exp(-t/tau)` in hours, at every half minute.
fn decay(ambient: f64, rise: f64, tau: f64, until: f64) -> Vec<(f64, f64)> {
    let count = (until * 120.0).round() as usize;
    (0..=count).map(|k| k as f64 / 120.0).map(|h| (h, ambient + rise * (-h / tau).exp())).collect()
}

fn close(what: &str, got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "{what}: got {got}, expected {expected}");
}

fn minutes_of(time: Time) -> f64 {
    use stillhot::units::Si;
    time.si() / 60.0
}

fn kelvins_of(interval: TemperatureInterval) -> f64 {
    use stillhot::units::Si;
    interval.si()
}
