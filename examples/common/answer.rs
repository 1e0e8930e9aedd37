//! What was computed for a case.

use stillhot::case::Case;
use stillhot::units::{Si, Temperature, Time, hours, minutes};
use stillhot::{Assumption, Caution, Error, Forecast, Held, HourRow, LidKind, Shell};

/// A case with its forecast, and that of the same walls under a lid that does not leak.
#[derive(Debug)]
pub struct Answer<'c> {
    pub case: &'c Case,
    pub file: &'c str,
    pub forecast: Forecast,
    pub tight: Forecast,
    pub held: Vec<(Temperature, Held, Held)>,
    pub assumptions: Vec<Assumption>,
    pub cautions: Vec<Caution>,
}

/// What the numbers leave out, whatever the case.
const LEFT_OUT: [&str; 5] = [
    "The forecasts are not yet compared with a fully described measured box.",
    "The leak past the lid is a default range for its kind until you measure your own.",
    "Insulation counts as dry and uncrushed. Steam, spills and weight make it worse.",
    "While the box is open the pot keeps its own lid, unless the plan says uncover or stir.",
    "Heat from cooking that still goes on is not counted.",
];
const LEFT_OUT_OF_A_STILL_DISH: &str = "The dish stands still: all temperatures and times here are of its coldest spot, \
     at the edge. Its middle is warmer.";
const LEFT_OUT_OF_A_STIRRED_DISH: &str =
    "The dish counts as stirred, at one temperature throughout. A thick one is colder at its edge: measure there.";
const TIGHT: &str =
    "The lid counts as one that lets nothing pass. Nobody can build that: every real one holds shorter.";
const LEFT_OUT_OF_A_BOX: [&str; 2] = [
    "Air that circles behind or between loose boards is a range by their fit; it can double the loss.",
    "The edges are added by a factor, not solved in two dimensions.",
];
const LEFT_OUT_OF_A_SLEEVE: [&str; 2] = [
    "The sleeve counts as snug all round. Air that passes between pot and sleeve carries heat away.",
    "Snow, rain and wet ground are not counted, nor what the pot stands on: its base loses heat like its top.",
];

/// Intervals of the table in minutes, each with the rows it may make; by the hour where a day will do.
const INTERVALS: [(f64, f64); 8] =
    [(1.0, 12.0), (5.0, 12.0), (15.0, 12.0), (30.0, 12.0), (60.0, 24.0), (120.0, 24.0), (360.0, 24.0), (1440.0, 60.0)];

impl<'c> Answer<'c> {
    pub fn of(case: &'c Case, file: &'c str) -> Result<Self, Error> {
        let forecast = case.setup.forecast_with(&case.plan, &case.options)?;
        let tight = case.setup.tight().forecast_with(&case.plan, &case.options)?;
        // Of a dish that stands still the coldest spot counts.
        let above = |f: &Forecast, t| if f.stands_still() { f.coldest_above(t) } else { f.above(t) };
        let held = case.questions.above.iter().map(|t| Ok((*t, above(&forecast, *t)?, above(&tight, *t)?)));
        Ok(Answer {
            held: held.collect::<Result<_, Error>>()?,
            assumptions: case.setup.assumptions(&case.plan)?,
            cautions: forecast.cautions(),
            case,
            file,
            forecast,
            tight,
        })
    }

    /// What the numbers leave out.
    pub fn left_out(&self) -> Vec<&'static str> {
        let own = match self.case.setup.shell() {
            Shell::Box(_) => LEFT_OUT_OF_A_BOX,
            Shell::Sleeve(_) => LEFT_OUT_OF_A_SLEEVE,
        };
        let dish = if self.forecast.stands_still() { LEFT_OUT_OF_A_STILL_DISH } else { LEFT_OUT_OF_A_STIRRED_DISH };
        let lid = match self.case.setup.shell() {
            Shell::Box(enclosure) => enclosure.lid_closing(),
            Shell::Sleeve(sleeve) => sleeve.lid_closing(),
        };
        let tight = (lid.kind() == LidKind::Tight).then_some(TIGHT);
        tight.into_iter().chain(LEFT_OUT).chain([dish]).chain(own).collect()
    }

    /// The dish at a time, where it is coldest if it stands still.
    pub fn at(forecast: &Forecast, time: Time) -> Result<HourRow, Error> {
        if forecast.stands_still() { forecast.coldest(time) } else { forecast.at(time) }
    }

    /// The table of temperatures for people: to serving and to the last best crossing asked about, an hour at least.
    pub fn table(&self) -> Result<Vec<(HourRow, HourRow)>, Error> {
        let best = |held: &Held| match held {
            Held::Until { best, .. } => best.time().unwrap_or(self.forecast.horizon()),
            Held::PastHorizon { horizon, .. } => *horizon,
            _ => hours(0.0),
        };
        let asked = self.held.iter().map(|(_, held, _)| best(held)).chain(self.forecast.serve_time());
        let until = asked.map(Si::si).fold(3600.0, f64::max).min(self.forecast.horizon().si());
        let wanted = INTERVALS.iter().find(|(interval, rows)| until / (60.0 * interval) <= *rows);
        let interval = minutes(wanted.map_or(1440.0, |(interval, _)| *interval));
        let end = Time::from_si((until / interval.si()).ceil() * interval.si());
        let curve = self.forecast.curve(interval, end)?;
        curve.iter().map(|row| Ok((Self::at(&self.forecast, row.time)?, Self::at(&self.tight, row.time)?))).collect()
    }
}
