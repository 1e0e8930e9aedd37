//! A thermometer: where it sits, and how late it shows what is there.

use super::forecast::{Forecast, HourRow};
use super::marches::Run;
use super::range::Range;
use super::spot::ProbeSpot;
use crate::error::{Error, Within};
use crate::units::bounds::in_range;
use crate::units::{Si, Temperature, TemperatureInterval, Time, celsius, hours, seconds};

/// A thermometer that is in place from shutting on.
///
/// It follows what is about it with one time constant, the time in which it comes within 37 % of a sudden change: a thin
/// probe in liquid some seconds, a dial on a stem half a minute, a bead in the air of the box a minute or two (common
/// practice, no source).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Probe {
    spot: ProbeSpot,
    lag: Time,
    start: Option<Temperature>,
}

impl Probe {
    /// A thermometer without lag.
    pub fn at(spot: ProbeSpot) -> Self {
        Probe { spot, lag: seconds(0.0), start: None }
    }

    /// The same with this time constant, 0 to 2 h.
    #[must_use]
    pub fn with_lag(mut self, lag: Time) -> Self {
        self.lag = lag;
        self
    }

    /// The same, put in at shutting with this temperature, -60 to 200 °C, instead of that which it finds.
    #[must_use]
    pub fn starting_at(mut self, temperature: Temperature) -> Self {
        self.start = Some(temperature);
        self
    }

    /// Where it sits.
    pub fn spot(&self) -> ProbeSpot {
        self.spot
    }

    /// Its time constant.
    pub fn lag(&self) -> Time {
        self.lag
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let check = || -> Result<(), Error> {
            in_range("lag", self.lag, seconds(0.0), hours(2.0))?;
            if let Some(start) = self.start {
                in_range("start temperature", start, celsius(-60.0), celsius(200.0))?;
            }
            Ok(())
        };
        check().within("probe")
    }
}

impl Forecast {
    /// What a thermometer shows at every `interval` from shutting to `until` (or the horizon if that is earlier).
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a probe outside its ranges or an interval below a second.
    pub fn readings(&self, probe: &Probe, interval: Time, until: Time) -> Result<Vec<HourRow>, Error> {
        probe.check()?;
        let times = self.times(interval, until)?;
        let plain: Vec<f64> = times.iter().map(|t| t.si()).collect();
        let start = probe.start.map(Si::si);
        let of = |run: &Run, times: &[f64]| run.history.lagged(&run.watched(probe.spot), probe.lag.si(), start, times);
        let about: Vec<_> = plain.iter().map(|t| self.about(*t)).collect();
        let mut rising = about.concat();
        rising.sort_by(f64::total_cmp);
        let best: Vec<Vec<f64>> = self.best.iter().map(|run| of(run, &rising)).collect();
        let ends: Vec<Vec<f64>> = self.all_ends(probe.spot).map(|run| of(run, &plain)).collect();
        let row = |(k, time): (usize, Time)| {
            let six = |time: f64| std::array::from_fn(|i| best[i][rising.partition_point(|t| *t < time)]);
            let best = self.best_of(probe.spot, about[k].map(six));
            let (low, high) =
                ends.iter().fold((best.value, best.value), |(low, high), end| (low.min(end[k]), high.max(end[k])));
            HourRow {
                time,
                temperature: Range::of_members(low, best.value, high),
                numerical: TemperatureInterval::from_si(best.error),
            }
        };
        Ok(times.into_iter().enumerate().map(row).collect())
    }
}
