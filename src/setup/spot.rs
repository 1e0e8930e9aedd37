//! Where a temperature is asked for: the dish as a whole, its coldest spot, the air under the lid.

use super::forecast::{Forecast, HourRow};
use super::marches::Run;
use super::range::Range;
use crate::conduction::{Doubt, Estimate, Sample, combine};
use crate::error::Error;
use crate::march::Watched;
use crate::units::{Si, Temperature, TemperatureInterval, Time};

/// Where a thermometer sits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ProbeSpot {
    /// In the liquid; in a dish that stands still its mean, as after stirring.
    Dish,
    /// In the coldest spot of the dish: at the edge of one that stands still and cools, in the middle of the largest piece
    /// while it still warms up.
    Coldest,
    /// In the air of the box, under its lid.
    UnderLid,
}

/// Error from coefficients that are followed only to within a tolerance, as a share of what the pot has cooled: a little
/// above the largest seen on seventeen setups against much finer runs (see the tests).
pub(super) const UNFOLLOWED: f64 = 3e-5;
/// How many times tell of the error at one, itself among them.
pub(super) const ABOUT: usize = 5;
/// The shortest steps of the six marches are so many times shorter than the longest.
const SHORTEST: f64 = 4.0;
/// Rounding noise of a temperature, K.
pub(super) const NOISE: f64 = 1e-9;

impl Run {
    /// What is watched at a spot.
    pub(super) fn watched(&self, spot: ProbeSpot) -> Watched {
        let assembly = &self.assembly;
        match spot {
            ProbeSpot::UnderLid => Watched::Node(assembly.air.0),
            ProbeSpot::Dish if assembly.still.is_some() => Watched::Mean,
            ProbeSpot::Dish => Watched::Node(assembly.pot.0),
            ProbeSpot::Coldest => {
                let middles = assembly.pieces.iter().chain(&assembly.still).map(|(_, middle)| middle.0);
                Watched::Coldest(middles.chain([assembly.pot.0]).collect())
            }
        }
    }

    /// Temperature at a spot, K.
    pub(super) fn temperature(&self, spot: ProbeSpot, time: f64) -> f64 {
        self.history.value(&self.watched(spot), time)
    }
}

impl Forecast {
    /// Best temperature at a spot with its numerical error, K.
    pub(super) fn best_at(&self, spot: ProbeSpot, time: f64) -> Estimate<f64> {
        self.best_over(spot, time, |run, time| run.temperature(spot, time))
    }

    /// A time, and half a step before and after it, of the longest steps and of the shortest, s.
    pub(super) fn about(&self, time: f64) -> [f64; ABOUT] {
        let long = 0.5 * self.best[0].history.step_about(time);
        let short = long / SHORTEST;
        [time, time - long, time + long, time - short, time + short].map(|time| time.clamp(0.0, self.horizon))
    }

    /// Best value of what is read from the six marches at a time, with its numerical error, K.
    pub(super) fn best_over(&self, spot: ProbeSpot, time: f64, of: impl Fn(&Run, f64) -> f64) -> Estimate<f64> {
        let six = |time| std::array::from_fn(|i| of(&self.best[i], time));
        self.best_of(spot, self.about(time).map(six))
    }

    /// Best value of what the six marches gave for a spot at the times of [`Forecast::about`], with its numerical error, K.
    ///
    /// The courses of the six cross each other, inside a step and while a change passes through meshes that resolve it
    /// differently: where two happen to meet, that they do tells of no error. What is told half a step before and after
    /// counts there too (measured on drawn setups, see the tests: most of what was exceeded lay at such crossings).
    pub(super) fn best_of(&self, spot: ProbeSpot, sixes: [[f64; 6]; ABOUT]) -> Estimate<f64> {
        let [mut estimate, near @ ..] = sixes.map(|six| combine(Sample::new(six), NOISE, Doubt::EVENTFUL));
        for near in near {
            estimate.mesh_error = estimate.mesh_error.max(near.mesh_error);
            estimate.time_error = estimate.time_error.max(near.time_error);
        }
        // Coefficients are followed to within a tolerance that all six marches share.
        let fallen = (sixes[0][2] - self.best[2].temperature(spot, f64::NEG_INFINITY)).abs();
        estimate.time_error += UNFOLLOWED * fallen;
        estimate.error = estimate.mesh_error + estimate.time_error;
        estimate
    }

    /// Lowest, best and highest temperature at a spot, K.
    pub(super) fn range_at(&self, spot: ProbeSpot, time: f64) -> (f64, Estimate<f64>, f64) {
        let of = |run: &Run| run.temperature(spot, time);
        let best = self.best_at(spot, time);
        let span: Range<Temperature> = self.span(spot, best.value, of);
        (span.low().si(), best, span.high().si())
    }

    pub(super) fn row_at(&self, spot: ProbeSpot, time: Time) -> Result<HourRow, Error> {
        let (low, best, high) = self.range_at(spot, self.check_time(time)?);
        Ok(HourRow {
            time,
            temperature: Range::of_members(low, best.value, high),
            numerical: TemperatureInterval::from_si(best.error),
        })
    }

    /// Whether the dish stands still, so that its edge is colder than its mean: [`Forecast::at`] and [`Forecast::above`]
    /// tell of the mean, [`Forecast::coldest`] and [`Forecast::coldest_above`] of the edge.
    pub fn stands_still(&self) -> bool {
        self.best[2].assembly.still.is_some()
    }

    /// Temperature of the coldest spot of the dish at a time after shutting, with the numerical error of its best value: of
    /// the liquid and of every piece in it; of a dish that stands still from edge to middle.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a time before shutting or past the horizon.
    pub fn coldest(&self, time: Time) -> Result<HourRow, Error> {
        self.row_at(ProbeSpot::Coldest, time)
    }

    /// Temperature in the middle of a dish that stands still at a time after shutting, its warmest place while it cools;
    /// none where it is stirred.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a time before shutting or past the horizon.
    pub fn middle_of_dish(&self, time: Time) -> Result<Option<Range<Temperature>>, Error> {
        let t = self.check_time(time)?;
        // At one end it stirs itself.
        let of = |run: &Run| run.history.node(run.assembly.still.map_or(run.assembly.pot, |(_, middle)| middle).0, t);
        let fine = &self.best[2];
        Ok(fine.assembly.still.map(|_| self.span(ProbeSpot::Dish, of(fine), of)))
    }
}
