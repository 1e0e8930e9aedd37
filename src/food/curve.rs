//! The temperature of a dish over time, as a range, wherever it comes from: a forecast, a thermometer, a made-up line.

use super::track::Track;
use crate::document::read_log;
use crate::error::{Error, ErrorKind, Within};
use crate::setup::{Forecast, HourRow, Moment, Range};
use crate::units::bounds::in_range;
use crate::units::{Si, Temperature, TemperatureInterval, Time, celsius, hours, kelvins, write};

/// More points than this are a mistake.
const MOST_POINTS: usize = 200_000;
/// A forecast is sampled until straight pieces miss it by less than this, K ...
const SAMPLING_ERROR: f64 = 0.01;
/// ... in pieces of at least this, s ...
const SHORTEST_PIECE: f64 = 5.0;
/// ... and at most about this, s.
const LONGEST_PIECE: f64 = 900.0;
/// The numerical error of a forecast is an estimate that jumps from moment to moment: the largest one within this
/// counts, s.
const ERROR_WINDOW: f64 = 3600.0;

/// Of which spot of the dish a curve tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Spot {
    /// The dish as one well-stirred body: the coldest spot of a thin liquid, but not of a stiff dish.
    Stirred,
    /// The coldest spot, whatever the dish.
    Coldest,
}

/// Which end of what is uncertain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum End {
    /// The lower temperature, less the numerical error.
    Cautious,
    /// The best value.
    Best,
    /// The higher temperature, plus the numerical error.
    Generous,
}

/// When something happens: at the cautious end, by the best value, at the generous end. Times count from shutting.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Moments {
    /// At the cautious end.
    pub cautious: Moment,
    /// By the best value.
    pub best: Moment,
    /// At the generous end.
    pub generous: Moment,
}

/// A temperature over time with low, best and high value and a numerical error, joined by straight pieces; beside it the
/// middles of pieces, where a forecast computed them.
///
/// Times count from shutting, and what was before is for [`PlanFacts`](super::PlanFacts) to tell. Two points at one
/// moment are a jump.
///
/// ```
/// use stillhot::food::{Curve, End};
/// use stillhot::units::{celsius, hours, kelvins};
///
/// let line = [(hours(0.0), celsius(98.0)), (hours(6.0), celsius(62.0))];
/// let measured = Curve::without_range(&line)?;
/// assert!(!measured.has_range());
/// let guarded = measured.with_accuracy(kelvins(2.0))?;
/// assert_eq!(guarded.at(hours(6.0), End::Cautious)?, celsius(60.0));
/// # Ok::<(), stillhot::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    times: Vec<f64>,
    cautious: Vec<f64>,
    best: Vec<f64>,
    generous: Vec<f64>,
    has_range: bool,
    spot: Spot,
    /// Middles of pieces, by kind.
    middles: Vec<Curve>,
}

impl Curve {
    /// A curve through points of time, temperature and numerical error (0 to 50 K) of the best value.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] with fewer than two or more than 200 000 points, times that fall or lie outside 0 to 60
    /// days, more than two points at one time, no time after the first one, temperatures outside -60 to 200 °C.
    pub fn new(points: &[(Time, Range<Temperature>, TemperatureInterval)]) -> Result<Self, Error> {
        check_count(points.len())?;
        let mut curve = Curve {
            times: Vec::with_capacity(points.len()),
            cautious: Vec::with_capacity(points.len()),
            best: Vec::with_capacity(points.len()),
            generous: Vec::with_capacity(points.len()),
            has_range: false,
            spot: Spot::Stirred,
            middles: Vec::new(),
        };
        for (place, (time, temperature, error)) in (1..).zip(points) {
            curve.push(*time, temperature, *error).within(format!("point {place}")).within("curve")?;
        }
        if curve.end() <= curve.start() {
            return Err(Error::new(ErrorKind::OutOfRange, "has no length")
                .with_value(write(Time::from_si(curve.end())))
                .with_accepted("a last time after the first")
                .within("curve"));
        }
        // A range somewhere, and no stretch on which nothing is uncertain.
        curve.has_range = curve.has_range && curve.is_uncertain_throughout();
        Ok(curve)
    }

    fn is_uncertain_throughout(&self) -> bool {
        let uncertain = |i: usize| self.cautious[i] < self.best[i];
        (1..self.times.len()).all(|i| self.times[i] == self.times[i - 1] || uncertain(i - 1) || uncertain(i))
    }

    /// A curve of single values: a line of thought, or a thermometer whose accuracy is not told. No limit is ever met
    /// by it, because nothing says how wrong it may be.
    ///
    /// # Errors
    /// As [`Curve::new`].
    pub fn without_range(points: &[(Time, Temperature)]) -> Result<Self, Error> {
        let points: Vec<_> = points.iter().map(|(time, t)| (*time, Range::exactly(*t), kelvins(0.0))).collect();
        Self::new(&points)
    }

    /// The curve of a log that a thermometer in the dish wrote, without a range (see [`Curve::with_accuracy`]): a heading
    /// with units in brackets, then rows of time and temperature, in the form that
    /// [`Course::from_log`](crate::Course::from_log) reads. Times count from shutting, clock times from the first row:
    /// begin it there. `name` is the file's, for errors.
    ///
    /// ```
    /// use stillhot::food::{Curve, DishFacts, Guidance, PlanFacts, verdict};
    /// use stillhot::prelude::*;
    ///
    /// let log = "clock; dish [°C]\n12:05; 97,5\n14:05; 84,0\n17:05; 70,5\n";
    /// let measured = Curve::from_log(log, "dish.csv")?.with_accuracy(kelvins(1.0))?;
    /// let facts = PlanFacts::of(&Plan::in_room(celsius(18.0)).simmer(minutes(15.0)).serve_after(hours(5.0)));
    /// println!("{}", verdict(&measured, DishFacts::named("red-lentils")?, &Guidance::Strictest, &facts)?);
    /// # assert_eq!(measured.until(), hours(5.0));
    /// # Ok::<(), stillhot::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::Data`] or [`ErrorKind::Unit`] with the line for whatever is not such a log; else as [`Curve::new`].
    pub fn from_log(text: &str, name: &str) -> Result<Self, Error> {
        Self::without_range(&read_log::<Temperature>(text, name)?).within(name)
    }

    /// The curve of hourly rows, as [`Forecast::curve`] gives them. Straight lines join them, which lie above a curve
    /// that bends as cooling does: take rows close to one another, or convert the forecast itself.
    ///
    /// # Errors
    /// As [`Curve::new`].
    pub fn of_rows(rows: &[HourRow]) -> Result<Self, Error> {
        let points: Vec<_> = rows.iter().map(|row| (row.time, row.temperature, row.numerical)).collect();
        Self::new(&points)
    }

    /// The same curve with both ends of its range moved outwards by the accuracy of a thermometer, above 0 to 20 K.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for another accuracy.
    pub fn with_accuracy(mut self, accuracy: TemperatureInterval) -> Result<Self, Error> {
        let by = in_range("accuracy", accuracy, kelvins(0.01), kelvins(20.0))?;
        self.cautious.iter_mut().for_each(|t| *t -= by);
        self.generous.iter_mut().for_each(|t| *t += by);
        self.has_range = true;
        self.middles =
            self.middles.into_iter().map(|middle| middle.with_accuracy(accuracy)).collect::<Result<_, _>>()?;
        Ok(self)
    }

    /// The same curve, told to be that of the coldest spot of the dish.
    #[must_use]
    pub fn at_coldest_spot(mut self) -> Self {
        self.spot = Spot::Coldest;
        self
    }

    /// The curve of the coldest spot of a dish whose coldest spot lies at most `below` (0 to 60 K) under this curve: the
    /// cautious end is lowered by it, the best value by half of it. So are the middles of pieces.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for another interval.
    pub fn with_coldest_spot_below(mut self, below: TemperatureInterval) -> Result<Self, Error> {
        let by = in_range("below", below, kelvins(0.0), kelvins(60.0))?;
        self.cautious.iter_mut().for_each(|t| *t -= by);
        self.best.iter_mut().for_each(|t| *t -= 0.5 * by);
        self.has_range = self.has_range || by > 0.0;
        self.spot = Spot::Coldest;
        let lowered = self.middles.into_iter().map(|middle| middle.with_coldest_spot_below(below));
        self.middles = lowered.collect::<Result<_, _>>()?;
        Ok(self)
    }

    fn push(&mut self, time: Time, temperature: &Range<Temperature>, error: TemperatureInterval) -> Result<(), Error> {
        let time_si = in_range("time", time, hours(0.0), hours(60.0 * 24.0))?;
        temperature.check("temperature", celsius(-60.0), celsius(200.0))?;
        let error = in_range("numerical error", error, kelvins(0.0), kelvins(50.0))?;
        if self.times.last().is_some_and(|last| time_si < *last) {
            return Err(Error::new(ErrorKind::OutOfRange, "times fall").with_value(write(time)).within("time"));
        }
        if let [.., one, two] = self.times[..]
            && one == time_si
            && two == time_si
        {
            return Err(Error::new(ErrorKind::OutOfRange, "more than two points at one time")
                .with_value(write(time))
                .with_accepted("one, or two for a jump")
                .within("time"));
        }
        self.times.push(time_si);
        self.cautious.push(temperature.low().si() - error);
        self.best.push(temperature.best().si());
        self.generous.push(temperature.high().si() + error);
        self.has_range = self.has_range || temperature.low() < temperature.best();
        Ok(())
    }

    /// Whether it has a range: low values below best ones somewhere, and no stretch without any uncertainty. Without a
    /// range no limit is ever met.
    pub fn has_range(&self) -> bool {
        self.has_range
    }

    /// Of which spot it tells.
    pub fn spot(&self) -> Spot {
        self.spot
    }

    /// The middles of the pieces, by kind, where a forecast computed them.
    pub fn middles(&self) -> &[Curve] {
        &self.middles
    }

    /// The last time.
    pub fn until(&self) -> Time {
        Time::from_si(self.end())
    }

    /// The temperature at a time inside the curve; after the jump where there is one.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a time outside the curve.
    pub fn at(&self, time: Time, end: End) -> Result<Temperature, Error> {
        let t = in_range("time", time, Time::from_si(self.start()), Time::from_si(self.end())).within("curve")?;
        Ok(Temperature::from_si(self.track(end).at(t)))
    }

    /// When it first falls below a temperature, from shutting on.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a temperature outside -60 to 200 °C.
    pub fn falls_below(&self, temperature: Temperature) -> Result<Moments, Error> {
        let level = in_range("temperature", temperature, celsius(-60.0), celsius(200.0))?;
        Ok(self.moments(|track| track.first_below(level, self.since_shutting().start())))
    }

    /// When it first rises above a temperature, from shutting on: for what is kept cold, whose cautious end is the warm
    /// one.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a temperature outside -60 to 200 °C.
    pub fn rises_above(&self, temperature: Temperature) -> Result<Moments, Error> {
        let level = in_range("temperature", temperature, celsius(-60.0), celsius(200.0))?;
        let moments = self.moments(|track| track.first_above(level, self.since_shutting().start()));
        Ok(Moments { cautious: moments.generous, best: moments.best, generous: moments.cautious })
    }

    pub(super) fn moments(&self, find: impl Fn(Track<'_>) -> Option<f64>) -> Moments {
        let moment = |end| match find(self.track(end)) {
            Some(t) => Moment::At(Time::from_si(t)),
            None => Moment::PastHorizon(self.until()),
        };
        Moments { cautious: moment(End::Cautious), best: moment(End::Best), generous: moment(End::Generous) }
    }

    pub(super) fn track(&self, end: End) -> Track<'_> {
        Track { times: &self.times, values: self.values(end) }
    }

    fn values(&self, end: End) -> &[f64] {
        match end {
            End::Cautious => &self.cautious,
            End::Best => &self.best,
            End::Generous => &self.generous,
        }
    }

    /// The first time, s. At least two points are there (checked when it was built).
    pub(super) fn start(&self) -> f64 {
        self.times[0]
    }

    /// The last time, s.
    pub(super) fn end(&self) -> f64 {
        self.times[self.times.len() - 1]
    }

    /// The part from shutting on: the curve of a piece begins on the stove.
    pub(super) fn since_shutting(&self) -> Self {
        let first = self.times.partition_point(|time| *time < 0.0);
        if first == 0 || first == self.times.len() {
            return self.clone();
        }
        let line = |end: End| {
            let track = self.track(end);
            let start = (self.times[first] > 0.0).then(|| track.at(0.0));
            start.into_iter().chain(track.values[first..].iter().copied()).collect()
        };
        let start = (self.times[first] > 0.0).then_some(0.0);
        Curve {
            cautious: line(End::Cautious),
            best: line(End::Best),
            generous: line(End::Generous),
            times: start.into_iter().chain(self.times[first..].iter().copied()).collect(),
            middles: self.middles.iter().map(Curve::since_shutting).collect(),
            ..*self
        }
    }

    /// The same curve with `duration` (s) at `temperatures` (K; cautious, best, generous) before it: a simmer.
    #[must_use]
    pub(super) fn after_simmer(&self, [cautious, best, generous]: [f64; 3], duration: f64) -> Self {
        if duration <= 0.0 {
            return self.clone();
        }
        let lead = |temperature: f64, values: &[f64]| [&[temperature, temperature], values].concat();
        Curve {
            times: [&[self.start() - duration, self.start()], self.times.as_slice()].concat(),
            cautious: lead(cautious, &self.cautious),
            best: lead(best, &self.best),
            generous: lead(generous, &self.generous),
            middles: Vec::new(),
            ..*self
        }
    }

    /// The lowest of the middles of pieces at every moment; `None` without any.
    pub(super) fn coldest_middle(&self) -> Option<Self> {
        let (first, others) = self.middles.split_first()?;
        let mut coldest = first.clone();
        // Middles of one forecast are sampled at the same times.
        for other in others {
            let lines = [&mut coldest.cautious, &mut coldest.best, &mut coldest.generous];
            for (line, of) in lines.into_iter().zip([&other.cautious, &other.best, &other.generous]) {
                line.iter_mut().zip(of).for_each(|(t, o)| *t = t.min(*o));
            }
        }
        Some(coldest)
    }

    /// A curve of lines computed here, on times that do not fall.
    pub(super) fn of_lines(times: Vec<f64>, [one, two, three]: [Vec<f64>; 3], has_range: bool, spot: Spot) -> Self {
        let mut curve =
            Curve { times, cautious: one, best: two, generous: three, has_range, spot, middles: Vec::new() };
        // Lines of different members may cross: each end is the outermost of the three.
        for i in 0..curve.times.len() {
            let three = [curve.cautious[i], curve.best[i], curve.generous[i]];
            curve.cautious[i] = three.iter().copied().fold(f64::INFINITY, f64::min);
            curve.generous[i] = three.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        }
        curve
    }

    pub(super) fn times(&self) -> &[f64] {
        &self.times
    }
}

fn check_count(count: usize) -> Result<(), Error> {
    if (2..=MOST_POINTS).contains(&count) {
        return Ok(());
    }
    Err(Error::new(ErrorKind::OutOfRange, "number of points is out of range")
        .with_value(count.to_string())
        .with_accepted(format!("2 to {MOST_POINTS}"))
        .within("curve"))
}

impl TryFrom<&Forecast> for Curve {
    type Error = Error;

    /// The dish of a forecast from shutting to its horizon (of one that stands still the coldest spot), with the middles of its pieces, sampled until straight pieces
    /// miss them by less than 0.01 K; what they still miss is added to the numerical error, of which the largest within
    /// an hour counts.
    ///
    /// # Errors
    /// None is expected of a forecast that was computed; what [`Forecast::at`] may say is handed on.
    fn try_from(forecast: &Forecast) -> Result<Self, Error> {
        let horizon = forecast.horizon().si();
        let samples = samples(forecast.horizon(), |t| {
            let time = Time::from_si(t.min(horizon));
            let middles = (0..forecast.middle_count()).map(|kind| forecast.middle_at(kind, time));
            let dish = if forecast.stands_still() { forecast.coldest(time) } else { forecast.at(time) };
            std::iter::once(dish).chain(middles).collect()
        })?;
        let line = |kind: usize| {
            let row = |sample: &Sample| sample.rows[kind];
            let errors: Vec<(f64, f64)> = samples.iter().map(|s| (row(s).time.si(), row(s).numerical.si())).collect();
            let points: Vec<_> = samples
                .iter()
                .zip(widest(&errors))
                .map(|(s, error)| (row(s).time, row(s).temperature, TemperatureInterval::from_si(error + s.miss)))
                .collect();
            Curve::new(&points)
        };
        let mut curve = if forecast.stands_still() { line(0)?.at_coldest_spot() } else { line(0)? };
        curve.middles = (1..=forecast.middle_count())
            .map(|kind| Ok(line(kind)?.at_coldest_spot()))
            .collect::<Result<_, Error>>()?;
        Ok(curve)
    }
}

/// The pot and the middles of its pieces at one time, and by how much a straight line to the next sample misses, K.
struct Sample {
    rows: Vec<HourRow>,
    miss: f64,
}

impl Sample {
    fn time(&self) -> f64 {
        self.rows.first().map_or(0.0, |row| row.time.si())
    }
}

fn samples(horizon: Time, rows: impl Fn(f64) -> Result<Vec<HourRow>, Error>) -> Result<Vec<Sample>, Error> {
    let horizon = horizon.si();
    let at = |t: f64| Ok::<_, Error>(Sample { rows: rows(t)?, miss: 0.0 });
    let mut samples = vec![at(0.0)?];
    // Pieces still to look at, the earliest last.
    let starts = (horizon / LONGEST_PIECE).ceil().clamp(8.0, 2000.0) as u32;
    let mut ends: Vec<Sample> =
        (1..=starts).rev().map(|k| at(horizon * f64::from(k) / f64::from(starts))).collect::<Result<_, _>>()?;
    while let Some(mut end) = ends.pop() {
        let last = samples.len() - 1;
        let start = &samples[last];
        let length = end.time() - start.time();
        let mut middle = at(f64::midpoint(start.time(), end.time()))?;
        let miss = bend(start, &middle, &end);
        if miss < SAMPLING_ERROR || length < SHORTEST_PIECE || samples.len() + ends.len() > MOST_POINTS / 4 {
            // A jump, as on reheating, is no bend: a piece of a few seconds tells it well enough.
            let miss = if length < SHORTEST_PIECE { miss.min(SAMPLING_ERROR) } else { miss };
            samples[last].miss = miss.max(samples[last].miss);
            middle.miss = miss;
            end.miss = miss;
            samples.push(middle);
            samples.push(end);
        } else {
            ends.push(end);
            ends.push(middle);
        }
    }
    Ok(samples)
}

/// The largest error within [`ERROR_WINDOW`] of each moment.
fn widest(errors: &[(f64, f64)]) -> Vec<f64> {
    let around = |time: f64| {
        let from = errors.partition_point(|(at, _)| *at < time - ERROR_WINDOW);
        errors[from..].iter().take_while(move |(at, _)| *at <= time + ERROR_WINDOW).map(|(_, error)| *error)
    };
    errors.iter().map(|(time, _)| around(*time).fold(0.0, f64::max)).collect()
}

/// How far the middle lies from the straight line, at any end of the range of any row, K.
fn bend(start: &Sample, middle: &Sample, end: &Sample) -> f64 {
    let ends: [fn(&HourRow) -> f64; 3] =
        [|row| row.temperature.low().si(), |row| row.temperature.best().si(), |row| row.temperature.high().si()];
    let rows = start.rows.iter().zip(&middle.rows).zip(&end.rows);
    rows.flat_map(|((s, m), e)| ends.map(|of| (f64::midpoint(of(s), of(e)) - of(m)).abs())).fold(0.0, f64::max)
}
