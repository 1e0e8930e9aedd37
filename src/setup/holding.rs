//! How long a forecast holds a temperature: where its curves cross a level.

use super::forecast::Forecast;
use super::held::{Held, Moment};
use super::marches::Run;
use super::spot::ProbeSpot;
use crate::error::Error;
use crate::units::bounds::in_range;
use crate::units::{Si, Temperature, TemperatureInterval, Time};

/// Just before and just after a moment, s; what changes by more than this between them has jumped, K.
const BESIDE: f64 = 0.5;
const JUMP: f64 = 0.5;

impl Forecast {
    /// How long the dish stays above `temperature`: from shutting until it first falls below, whatever a reheat does
    /// later. Of a dish that stands still the mean counts, see [`Forecast::coldest_above`].
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a temperature that is not finite.
    pub fn above(&self, temperature: Temperature) -> Result<Held, Error> {
        self.holds(ProbeSpot::Dish, temperature, true)
    }

    /// How long the dish stays below `temperature`, from shutting until it first rises above: for keeping cold.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a temperature that is not finite.
    pub fn below(&self, temperature: Temperature) -> Result<Held, Error> {
        self.holds(ProbeSpot::Dish, temperature, false)
    }

    /// How long every spot of the dish stays above `temperature`: until the coldest one first falls below
    /// ([`Forecast::coldest`]).
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a temperature that is not finite.
    pub fn coldest_above(&self, temperature: Temperature) -> Result<Held, Error> {
        self.holds(ProbeSpot::Coldest, temperature, true)
    }

    fn holds(&self, spot: ProbeSpot, temperature: Temperature, above: bool) -> Result<Held, Error> {
        use crate::units::{celsius, kelvin};
        let level = in_range("temperature", temperature, kelvin(0.0), celsius(3000.0))?;
        // On the side that is held a temperature counts positive.
        let sign = if above { 1.0 } else { -1.0 };
        let (low, best, high) = self.range_at(spot, 0.0);
        if [low, best.value, high].iter().all(|t| sign * (t - level) <= 0.0) {
            return Ok(Held::NeverReached);
        }
        let crossing = |run: &Run| run.history.crossing(&run.watched(spot), level, 0.0, above);
        let moment = |at: Option<f64>| match at {
            Some(t) => Moment::At(Time::from_si(t)),
            None => Moment::PastHorizon(self.horizon()),
        };
        let best = self.best_crossing(spot, level, above);
        let times: Vec<Option<f64>> = self.all_ends(spot).map(crossing).chain([best]).collect();
        if times.iter().all(Option::is_none) {
            let (low, best, high) = self.range_at(spot, self.horizon);
            let margins = [low, best.value, high].map(|t| sign * (t - level));
            let margin = margins.into_iter().fold(f64::INFINITY, f64::min);
            return Ok(Held::PastHorizon { horizon: self.horizon(), margin: TemperatureInterval::from_si(margin) });
        }
        let numerical = best.map_or(0.0, |t| self.crossing_error(spot, t));
        let past = |t: &Option<f64>| t.unwrap_or(f64::INFINITY);
        let earliest = times.iter().min_by(|a, b| past(a).total_cmp(&past(b))).copied().flatten();
        let latest = times.iter().max_by(|a, b| past(a).total_cmp(&past(b))).copied().flatten();
        Ok(Held::Until {
            earliest: moment(earliest),
            best: moment(best),
            latest: moment(latest),
            numerical: Time::from_si(numerical),
        })
    }

    /// Where the combined best curve crosses the level: the crossing of the finest march, corrected.
    fn best_crossing(&self, spot: ProbeSpot, level: f64, above: bool) -> Option<f64> {
        let fine = &self.best[2];
        let mut t = fine.history.crossing(&fine.watched(spot), level, 0.0, above)?;
        // An event jumps past the level: there is nothing to correct, and no slope.
        let at = |time: f64| fine.temperature(spot, time.clamp(0.0, self.horizon));
        if (at(t + BESIDE) - at(t - BESIDE)).abs() > JUMP {
            return Some(t);
        }
        for _ in 0..4 {
            let slope = self.slope(spot, t);
            if slope == 0.0 || (slope > 0.0) == above {
                break;
            }
            t = (t + (level - self.best_at(spot, t).value) / slope).clamp(0.0, self.horizon);
        }
        Some(t)
    }

    /// Rate of the best curve, K/s, by a central difference over a minute or so; over less where an event is that near.
    fn slope(&self, spot: ProbeSpot, t: f64) -> f64 {
        let of = |time: f64| self.best[2].temperature(spot, time);
        let over = |d: f64| {
            let (a, b) = ((t - d).max(0.0), (t + d).min(self.horizon));
            (of(b) - of(a)) / (b - a)
        };
        let (wide, narrow) = (over(30.0_f64.min(0.01 * self.horizon)), over(BESIDE));
        if (wide - narrow).abs() > 0.5 * narrow.abs() { narrow } else { wide }
    }

    /// Numerical error of a crossing: that of the temperature over the slope.
    fn crossing_error(&self, spot: ProbeSpot, t: f64) -> f64 {
        self.delay(spot, t, self.best_at(spot, t).error)
    }

    /// By how much a crossing at `t` moves if the temperature is off by so many kelvin, s.
    pub(super) fn delay(&self, spot: ProbeSpot, t: f64, kelvins: f64) -> f64 {
        let slope = self.slope(spot, t).abs();
        if slope > 0.0 { (kelvins / slope).min(self.horizon) } else { self.horizon }
    }
}
