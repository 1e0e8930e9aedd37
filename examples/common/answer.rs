//! What was computed for a case.

use stillhot::case::Case;
use stillhot::food::Curve;
use stillhot::units::{Si, Temperature, Time, hours, minutes};
use stillhot::{Assumption, Caution, Edges, Error, Forecast, Held, HourRow, LidKind, Part, Place, Shell};

/// A case with its forecast, and that of the same walls under a lid that does not leak.
#[derive(Debug)]
pub struct Answer<'c> {
    pub case: &'c Case,
    pub file: &'c str,
    pub forecast: Forecast,
    pub tight: Forecast,
    /// The course of the spot that counts, as the verdict judges it.
    pub curve: Curve,
    /// How long it stays above what was asked, and how long under a lid that does not leak.
    pub held: Vec<(Temperature, Held, Held)>,
    /// The same of staying below.
    pub cold: Vec<(Temperature, Held, Held)>,
    pub assumptions: Vec<Assumption>,
    pub cautions: Vec<Caution>,
}

/// What the numbers leave out, whatever the case.
const LEFT_OUT: [&str; 2] = [
    "The forecasts are not yet compared with a fully described measured box or sleeve.",
    "While it is open the pot keeps its own lid, unless the plan says uncover or stir.",
];
const LEFT_OUT_OF_THE_HOT: [&str; 2] = [
    "Insulation counts as uncrushed, and as dry where the case does not call it damp. Steam, spills and weight make \
     it worse.",
    "Heat from cooking that still goes on is not counted.",
];
const LEFT_OUT_OF_THE_COLD: [&str; 2] = [
    "Insulation counts as uncrushed, and as dry where the case does not call it damp. Dew, melt water and weight make \
     it worse.",
    "Dew on cold walls, and the heat that it brings, is not counted.",
];
const LEFT_OUT_OF_A_STILL_DISH: &str = "The dish stands still: all temperatures and times here are of its coldest spot, \
     at the edge. Its middle is warmer. The generous end of the range, the latest times, is that of a dish that was \
     stirred all along.";
const LEFT_OUT_OF_A_STIRRED_DISH: &str =
    "The dish counts as stirred, at one temperature throughout. A thick one is colder at its edge: measure there.";
const LEFT_OUT_OF_A_STILL_COLD_DISH: &str =
    "The dish stands still: its edge is warmer than what is told here. Measure there.";
const LEFT_OUT_OF_A_STIRRED_COLD_DISH: &str =
    "The dish counts as stirred, at one temperature throughout. A thick one is warmer at its edge: measure there.";
const LEAK: &str =
    "The leak past the lid is a default range for its kind where the case gives neither its joint nor the leak.";
const TIGHT: &str =
    "The lid counts as one that lets nothing pass. Nobody can build that: every real one holds shorter.";
const LEFT_OUT_OF_A_BOX: &str =
    "Air that circles behind or between loose boards is a range by their fit; it can double the loss.";
const LEFT_OUT_OF_A_SLEEVE: [&str; 2] = [
    "The sleeve counts as snug all round. Air that passes between pot and sleeve carries heat away.",
    "Rain, and wet ground or snow that soaks the sleeve, are not counted.",
];
const LEFT_OUT_OF_THE_EDGES: &str = "The edges are added by a factor, not solved in two dimensions.";

/// Intervals of the table in minutes, each with the rows it may make; by the hour where a day will do.
const INTERVALS: [(f64, f64); 8] =
    [(1.0, 12.0), (5.0, 12.0), (15.0, 12.0), (30.0, 12.0), (60.0, 24.0), (120.0, 24.0), (360.0, 24.0), (1440.0, 60.0)];

/// Where heat came from and where it stayed, J, best values.
#[derive(Debug)]
pub struct Account {
    /// By dish and pot; negative where they took it up.
    pub given_up: f64,
    /// By the stove, and by reheating.
    pub put_in: [f64; 2],
    pub in_pieces: f64,
    pub in_bodies: f64,
    pub in_walls: f64,
}

impl Account {
    /// All that was lost, whatever it came from; negative where heat came in.
    pub fn lost(&self) -> f64 {
        self.given_up + self.put_in.iter().sum::<f64>()
    }
}

impl<'c> Answer<'c> {
    pub fn of(case: &'c Case, file: &'c str) -> Result<Self, Error> {
        let forecast = case.setup.forecast_with(&case.plan, &case.options)?;
        let tight = case.setup.tight().forecast_with(&case.plan, &case.options)?;
        // Of a dish that stands still the coldest spot counts.
        let above = |f: &Forecast, t| if f.stands_still() { f.coldest_above(t) } else { f.above(t) };
        let held = case.questions.above.iter().map(|t| Ok((*t, above(&forecast, *t)?, above(&tight, *t)?)));
        let cold = case.questions.below.iter().map(|t| Ok((*t, forecast.below(*t)?, tight.below(*t)?)));
        Ok(Answer {
            curve: Curve::try_from(&forecast)?,
            cold: cold.collect::<Result<_, Error>>()?,
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
        let (lid, edges, own) = match self.case.setup.shell() {
            Shell::Box(enclosure) => (enclosure.lid_closing(), enclosure.edge_form(), vec![LEFT_OUT_OF_A_BOX]),
            Shell::Sleeve(sleeve) => (sleeve.lid_closing(), sleeve.edge_form(), LEFT_OUT_OF_A_SLEEVE.to_vec()),
        };
        let held = if self.is_cold() { LEFT_OUT_OF_THE_COLD } else { LEFT_OUT_OF_THE_HOT };
        let dish = match (self.forecast.stands_still(), self.is_cold()) {
            (true, true) => LEFT_OUT_OF_A_STILL_COLD_DISH,
            (true, false) => LEFT_OUT_OF_A_STILL_DISH,
            (false, true) => LEFT_OUT_OF_A_STIRRED_COLD_DISH,
            (false, false) => LEFT_OUT_OF_A_STIRRED_DISH,
        };
        let leak = if lid.kind() == LidKind::Tight { TIGHT } else { LEAK };
        let by_factor = (edges == Edges::Factor).then_some(LEFT_OUT_OF_THE_EDGES);
        [leak].into_iter().chain(LEFT_OUT).chain(held).chain([dish]).chain(own).chain(by_factor).collect()
    }

    /// The dish at a time, where it is coldest if it stands still.
    pub fn at(forecast: &Forecast, time: Time) -> Result<HourRow, Error> {
        if forecast.stands_still() { forecast.coldest(time) } else { forecast.at(time) }
    }

    /// Whether it is kept cold.
    pub fn is_cold(&self) -> bool {
        self.held.is_empty()
    }

    /// Of what all temperatures and times are.
    pub fn spot(&self) -> &'static str {
        if self.forecast.stands_still() { "coldest spot" } else { "dish, at one temperature" }
    }

    /// The account of heat to serving, else to the horizon.
    pub fn account(&self) -> Account {
        let (lost, stored) = (self.forecast.heat_by_path(), self.forecast.heat_stored());
        let put_in = |place: Place| -> f64 {
            -lost.iter().filter(|path| path.place == place).map(|path| path.heat.best().si()).sum::<f64>()
        };
        let in_part = |wanted: fn(Part) -> bool| -> f64 {
            stored.iter().filter(|row| wanted(row.part)).map(|row| row.heat.best().si()).sum()
        };
        Account {
            given_up: -in_part(|part| part == Part::Pot),
            put_in: [put_in(Place::Stove), put_in(Place::Reheat)],
            in_pieces: in_part(|part| matches!(part, Part::Pieces(_))),
            in_bodies: in_part(|part| matches!(part, Part::Companion(_))),
            in_walls: in_part(|part| !matches!(part, Part::Pot | Part::Pieces(_) | Part::Companion(_))),
        }
    }

    /// The table of temperatures for people: to serving and to the last best crossing asked about, an hour at least.
    pub fn table(&self) -> Result<Vec<(HourRow, HourRow)>, Error> {
        let best = |held: &Held| match held {
            Held::Until { best, .. } => best.time().unwrap_or(self.forecast.horizon()),
            Held::PastHorizon { horizon, .. } => *horizon,
            _ => hours(0.0),
        };
        let asked = self.held.iter().chain(&self.cold).map(|(_, held, _)| best(held)).chain(self.forecast.serve_time());
        let until = asked.map(Si::si).fold(3600.0, f64::max).min(self.forecast.horizon().si());
        let wanted = INTERVALS.iter().find(|(interval, rows)| until / (60.0 * interval) <= *rows);
        let interval = minutes(wanted.map_or(1440.0, |(interval, _)| *interval));
        let end = Time::from_si((until / interval.si()).ceil() * interval.si());
        let curve = self.forecast.curve(interval, end)?;
        curve.iter().map(|row| Ok((Self::at(&self.forecast, row.time)?, Self::at(&self.tight, row.time)?))).collect()
    }
}
