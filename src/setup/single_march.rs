//! One march alone, for samples and searches: a forecast without range and without an error of its own.

use super::forecast::Forecast;
use super::marches::{END_SHARE, Job, Run, Wish};
use super::member::{Inner, Member};
use super::spot::ProbeSpot;
use super::{Options, Plan, Setup};
use crate::conduction::MARCHES;
use crate::error::Error;
use crate::units::{Si, Temperature, TemperatureInterval, Time};

/// One march of one member of the range.
#[derive(Debug)]
pub(crate) struct SingleMarch {
    run: Run,
}

/// Just before a moment, s: what a reheat ends.
const BEFORE: f64 = 0.1;

impl Setup {
    /// One march: of the best values on the coarsest mesh, or of an end of the range as a forecast computes it, bit for bit.
    /// A spot tells which way what hinders the heat inside a still dish counts.
    pub(crate) fn march_once(
        &self,
        plan: &Plan,
        options: &Options,
        member: Member,
        spot: ProbeSpot,
    ) -> Result<SingleMarch, Error> {
        let stops = Forecast::stops(self, plan, options)?;
        let (level, tolerance) = match member {
            Member::Best => (1, options.step_error.si()),
            Member::Cautious | Member::Generous => (2, END_SHARE * options.step_error.si()),
        };
        // As a forecast numbers its marches.
        let of_edge = spot == ProbeSpot::Coldest && self.pot().is_still();
        let number = match member {
            Member::Best => 0,
            Member::Cautious => MARCHES.len() + if of_edge { 2 } else { 0 },
            Member::Generous => MARCHES.len() + if of_edge { 3 } else { 1 },
        };
        let inner = if spot == ProbeSpot::Coldest { Inner::of_edge(member) } else { Inner::of_mean(member) };
        let job = Job { number, member, inner, crossed: None, level, wish: Wish::Like(None, tolerance) };
        let (run, _) = Run::of(self, plan, options, &stops, &job)?;
        Ok(SingleMarch { run })
    }
}

impl SingleMarch {
    /// Temperature at a spot at a time after shutting, K.
    pub(crate) fn temperature(&self, spot: ProbeSpot, time: f64) -> f64 {
        self.run.temperature(spot, time)
    }

    /// When a level is crossed at a spot after shutting, s; nothing if that is past the horizon.
    pub(crate) fn crossing(&self, spot: ProbeSpot, level: f64, above: bool) -> Option<f64> {
        self.run.history.crossing(&self.run.watched(spot), level, 0.0, above)
    }

    /// Lowest temperature at a spot from shutting to a time, K.
    pub(crate) fn lowest(&self, spot: ProbeSpot, until: f64) -> f64 {
        self.run.looks(until).into_iter().map(|t| self.temperature(spot, t)).fold(f64::INFINITY, f64::min)
    }
}

impl Run {
    /// When to look for the lowest temperature between shutting and a time: at the ends of steps and half-way, and just
    /// before whatever begins there.
    fn looks(&self, until: f64) -> Vec<f64> {
        let mut times = vec![0.0, until];
        for step in self.history.time.windows(2) {
            times.extend([step[0], f64::midpoint(step[0], step[1]), step[1] - BEFORE]);
        }
        times.retain(|t| *t >= 0.0 && *t <= until);
        times
    }
}

impl Forecast {
    /// The least that stays above a temperature from shutting to a time, at the cautious end less the numerical error: above
    /// zero where it is held, below where it is not; and the error there.
    pub(crate) fn margin(
        &self,
        spot: ProbeSpot,
        level: Temperature,
        until: Time,
    ) -> Result<(TemperatureInterval, TemperatureInterval), Error> {
        let until = self.check_time(until)?;
        let [cautious, _] = self.ends(spot);
        let mut least = (f64::INFINITY, 0.0);
        for t in cautious.looks(until) {
            let row = self.row_at(spot, Time::from_si(t))?;
            let margin = row.temperature.low().si() - row.numerical.si() - level.si();
            if margin < least.0 {
                least = (margin, row.numerical.si());
            }
        }
        Ok((TemperatureInterval::from_si(least.0), TemperatureInterval::from_si(least.1)))
    }
}
