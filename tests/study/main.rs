//! Studies: what makes a difference, what is uncertain, which of it matters, how much is enough.

mod comparing;
mod indices;
mod listed;
mod magnitudes;
mod pins;
mod program;
mod random;
mod refusals;
mod setups;
mod sizing;
mod spread;

use stillhot::case::Case;
use stillhot::material::Catalogue;
use stillhot::study::{HoldDifference, Variant};
use stillhot::units::{Si, Temperature};
use stillhot::{Forecast, Held, Moment};

/// The kitchen box of the examples (invented).
pub fn kitchen() -> Case {
    let text = include_str!("../../examples/kitchen_box.toml");
    let folder = std::path::Path::new("examples");
    Case::read_in(text, "examples/kitchen_box.toml", Catalogue::embedded(), folder).unwrap()
}

pub fn base(case: &Case) -> Variant {
    Variant::new("as built", case.setup.clone(), case.plan.clone())
}

/// Earliest, best and latest end of a hold above a level, s; those past the horizon at it.
pub fn ends(forecast: &Forecast, level: Temperature) -> [f64; 3] {
    let of = |moment: Moment| moment.time().unwrap_or(forecast.horizon()).si();
    match forecast.above(level).unwrap() {
        Held::Until { earliest, best, latest, .. } => [earliest, best, latest].map(of),
        Held::PastHorizon { horizon, .. } => [horizon.si(); 3],
        _ => [0.0; 3],
    }
}

/// Value and error of a difference of hold times, s.
pub fn by(hold: HoldDifference) -> (f64, f64) {
    match hold {
        HoldDifference::By(difference) => (difference.value.si(), difference.error.si()),
        other => panic!("{other}"),
    }
}
