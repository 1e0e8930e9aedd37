//! What comes out: temperatures, hold times, where the heat went, each as a range, with the numerical error beside.

use super::assemble::Assembly;
use super::held::{Held, Moment};
use super::member::Member;
use super::place::{Mechanism, Part, Place};
use super::{Options, Plan, Range, Setup};
use crate::conduction::{Estimate, MARCHES, Sample, combine};
use crate::error::{Error, Within};
use crate::march::{History, March, Pace, Sequence, Statistics, march};
use crate::material::Material;
use crate::units::bounds::in_range;
use crate::units::{Energy, Mass, Si, Temperature, TemperatureInterval, Time, seconds};

/// Surfaces and wall interiors may err this much more in a step than the pot.
const FIELD_SHARE: f64 = 30.0;
/// Error from coefficients that are followed only to within a tolerance, as a share of what the pot has cooled: a little
/// above the largest seen on seventeen setups against much finer runs (see the tests).
const UNFOLLOWED: f64 = 3e-5;
/// Rounding noise of a temperature, K.
const NOISE: f64 = 1e-9;

/// One march with what it was made of.
#[derive(Debug)]
struct Run {
    assembly: Assembly,
    history: History,
}

/// The predicted course of a pot. Times count from shutting.
#[derive(Debug)]
pub struct Forecast {
    /// Best values, six marches as [`MARCHES`] has them.
    best: Vec<Run>,
    cautious: Run,
    generous: Run,
    horizon: f64,
    serve: Option<f64>,
}

/// Heat lost along one path since leaving the stove (since the simmer began, if pieces cook). What a stove gave, at the
/// start or in a reheat, counts negative.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct PathHeat {
    /// Where.
    pub place: Place,
    /// How.
    pub mechanism: Mechanism,
    /// How much.
    pub heat: Range<Energy>,
}

/// Change of the heat stored in one part since leaving the stove, or since the simmer began if pieces cook (negative:
/// given up). Where servings were taken out it is that of what was there at the time. All parts together hold what all
/// paths have lost, with the sign turned round.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct StoredHeat {
    /// What.
    pub part: Part,
    /// How much.
    pub heat: Range<Energy>,
}

/// How hot a layer becomes.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct HottestLayer {
    /// Which wall.
    pub part: Part,
    /// Which layer of it, counted from 0 at the inside.
    pub layer: usize,
    /// Name of its material.
    pub material: String,
    /// Highest temperature of its warmest place.
    pub temperature: Range<Temperature>,
    /// What its material should bear for hours, where that is known.
    pub limit: Option<Temperature>,
}

/// One row of the table of hours.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct HourRow {
    /// After shutting.
    pub time: Time,
    /// Of the pot.
    pub temperature: Range<Temperature>,
    /// Numerical error of the best value.
    pub numerical: TemperatureInterval,
}

impl Forecast {
    pub(crate) fn compute(setup: &Setup, plan: &Plan, options: &Options) -> Result<Self, Error> {
        options.check()?;
        plan.check()?;
        plan.check_within(options.horizon)?;
        let horizon = options.horizon.si();
        let serve = plan.serve_time().map(Si::si);
        let mut stops: Vec<f64> = serve.into_iter().filter(|t| *t > 0.0 && *t < horizon).collect();
        stops.push(horizon);

        let run = |member: Member, level: usize, pace: &Pace<'_>| -> Result<(Run, Sequence), Error> {
            let assembly = setup.assemble(plan, member, options.cells, level)?;
            let phases = assembly.phases(plan, &stops);
            let start = assembly.begins(plan);
            let mut snapshots = vec![0.0];
            snapshots.extend_from_slice(&stops);
            let plan = March { phases: &phases, start, snapshots: &snapshots, step_bound: options.steps };
            let (history, sequence) = march(&assembly.network, &plan, pace)?;
            Ok((Run { assembly, history }, sequence))
        };
        let tolerance = options.step_error.si();
        let adaptive = Pace::Adaptive { tolerance, field_tolerance: FIELD_SHARE * tolerance };
        let (coarse, sequence) = run(Member::Best, 1, &adaptive)?;
        let replay = |split| Pace::Replay { sequence: &sequence, split };
        let mut best = vec![coarse];
        for (level, split) in &MARCHES[1..] {
            best.push(run(Member::Best, *level, &replay(*split))?.0);
        }
        let (cautious, _) = run(Member::Cautious, 2, &replay(1))?;
        let (generous, _) = run(Member::Generous, 2, &replay(1))?;
        Ok(Forecast { best, cautious, generous, horizon, serve })
    }

    fn pot(run: &Run, time: f64) -> f64 {
        run.history.node(run.assembly.pot.0, time)
    }

    /// Best pot temperature with its numerical error, K.
    fn best_at(&self, time: f64) -> Estimate<f64> {
        let values = std::array::from_fn(|i| Self::pot(&self.best[i], time));
        let mut estimate = combine(Sample::new(values), NOISE);
        // Coefficients are followed to within a tolerance that all six marches share.
        let fallen =
            (Self::pot(&self.best[2], time) - self.best[2].history.node_at_step(self.best[2].assembly.pot.0, 0)).abs();
        estimate.time_error += UNFOLLOWED * fallen;
        estimate.error += UNFOLLOWED * fallen;
        estimate
    }

    fn range_at(&self, time: f64) -> (f64, Estimate<f64>, f64) {
        (Self::pot(&self.cautious, time), self.best_at(time), Self::pot(&self.generous, time))
    }

    /// How long after shutting the pot is followed.
    pub fn horizon(&self) -> Time {
        Time::from_si(self.horizon)
    }

    /// When it is served, if the plan says so.
    pub fn serve_time(&self) -> Option<Time> {
        self.serve.map(Time::from_si)
    }

    fn check_time(&self, time: Time) -> Result<f64, Error> {
        in_range("time", time, seconds(0.0), self.horizon())
    }

    /// Temperature of the pot at a time after shutting, with the numerical error of its best value.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a time before shutting or past the horizon.
    pub fn at(&self, time: Time) -> Result<HourRow, Error> {
        let t = self.check_time(time)?;
        let (cautious, best, generous) = self.range_at(t);
        Ok(HourRow {
            time,
            temperature: Range::of_members(cautious, best.value, generous),
            numerical: TemperatureInterval::from_si(best.error),
        })
    }

    /// The curve at every `interval` from shutting to `until` (or the horizon if that is earlier).
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for an interval below a second.
    pub fn curve(&self, interval: Time, until: Time) -> Result<Vec<HourRow>, Error> {
        let step = in_range("interval", interval, seconds(1.0), seconds(1e9))?;
        let end = until.si().min(self.horizon);
        let count = (end / step + 1e-9).floor() as usize;
        (0..=count).map(|i| self.at(Time::from_si((i as f64 * step).min(self.horizon)))).collect()
    }

    /// How long the pot stays above `temperature`: from shutting until it first falls below, whatever a reheat does
    /// later.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a temperature that is not finite.
    pub fn above(&self, temperature: Temperature) -> Result<Held, Error> {
        self.holds(temperature, true)
    }

    /// How long the pot stays below `temperature`, from shutting until it first rises above: for keeping cold.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a temperature that is not finite.
    pub fn below(&self, temperature: Temperature) -> Result<Held, Error> {
        self.holds(temperature, false)
    }

    fn holds(&self, temperature: Temperature, above: bool) -> Result<Held, Error> {
        use crate::units::{celsius, kelvin};
        let level = in_range("temperature", temperature, kelvin(0.0), celsius(3000.0))?;
        // On the side that is held a temperature counts positive.
        let sign = if above { 1.0 } else { -1.0 };
        let (cautious, best, generous) = self.range_at(0.0);
        if [cautious, best.value, generous].iter().all(|t| sign * (t - level) <= 0.0) {
            return Ok(Held::NeverReached);
        }
        let crossing = |run: &Run| run.history.crossing(run.assembly.pot.0, level, 0.0, above);
        let moment = |at: Option<f64>| match at {
            Some(t) => Moment::At(Time::from_si(t)),
            None => Moment::PastHorizon(self.horizon()),
        };
        let times = [crossing(&self.cautious), self.best_crossing(level, above), crossing(&self.generous)];
        if times.iter().all(Option::is_none) {
            let (cautious, best, generous) = self.range_at(self.horizon);
            let margins = [cautious, best.value, generous].map(|t| sign * (t - level));
            let margin = margins.into_iter().fold(f64::INFINITY, f64::min);
            return Ok(Held::PastHorizon { horizon: self.horizon(), margin: TemperatureInterval::from_si(margin) });
        }
        let numerical = times[1].map_or(0.0, |t| self.crossing_error(t));
        let past = |t: &Option<f64>| t.unwrap_or(f64::INFINITY);
        let earliest = times.iter().min_by(|a, b| past(a).total_cmp(&past(b))).copied().flatten();
        let latest = times.iter().max_by(|a, b| past(a).total_cmp(&past(b))).copied().flatten();
        Ok(Held::Until {
            earliest: moment(earliest),
            best: moment(times[1]),
            latest: moment(latest),
            numerical: Time::from_si(numerical),
        })
    }

    /// Where the combined best curve crosses the level: the crossing of the finest march, corrected.
    fn best_crossing(&self, level: f64, above: bool) -> Option<f64> {
        let fine = &self.best[2];
        let mut t = fine.history.crossing(fine.assembly.pot.0, level, 0.0, above)?;
        for _ in 0..4 {
            let slope = self.slope(t);
            if slope == 0.0 || (slope > 0.0) == above {
                break;
            }
            t = (t + (level - self.best_at(t).value) / slope).clamp(0.0, self.horizon);
        }
        Some(t)
    }

    /// Rate of the best curve, K/s, by a central difference over a minute or so.
    fn slope(&self, t: f64) -> f64 {
        let d = 30.0_f64.min(0.01 * self.horizon);
        let (a, b) = ((t - d).max(0.0), (t + d).min(self.horizon));
        (Self::pot(&self.best[2], b) - Self::pot(&self.best[2], a)) / (b - a)
    }

    /// Numerical error of a crossing: that of the temperature over the slope.
    fn crossing_error(&self, t: f64) -> f64 {
        let slope = self.slope(t).abs();
        let error = self.best_at(t).error;
        if slope > 0.0 { (error / slope).min(self.horizon) } else { self.horizon }
    }

    /// Time and which snapshot: serving if the plan has it, else the horizon.
    fn account(&self) -> (f64, usize) {
        match self.serve {
            Some(t) if t > 0.0 => (t, 1),
            Some(_) => (0.0, 0),
            None => (self.horizon, 1),
        }
    }

    /// Heat lost by path from leaving the stove to serving (to the horizon if the plan does not serve), most first.
    pub fn heat_by_path(&self) -> Vec<PathHeat> {
        self.lost_between(f64::NEG_INFINITY, self.account().0)
    }

    /// Heat lost by path between two times after shutting, most first: hour by hour, or during an opening. A reheat
    /// belongs to the time from its own moment on.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for times before shutting, past the horizon, or in the wrong order.
    pub fn heat_by_path_between(&self, from: Time, to: Time) -> Result<Vec<PathHeat>, Error> {
        let start = self.check_time(from).within("from")?;
        in_range("time", to, from, self.horizon()).within("to")?;
        Ok(self.lost_between(start, to.si()))
    }

    fn lost_between(&self, from: f64, to: f64) -> Vec<PathHeat> {
        let fine = &self.best[2];
        let mut rows: Vec<PathHeat> = fine
            .assembly
            .paths
            .iter()
            .filter(|(_, place, _)| *place != Place::Inside)
            .map(|(_, place, mechanism)| {
                // A member may lack a path: one without air loops has none.
                let of = |run: &Run| {
                    let path = run.assembly.paths.iter().find(|(_, p, m)| p == place && m == mechanism);
                    path.map_or(0.0, |(p, ..)| run.history.lost(p.0, to) - run.history.lost(p.0, from))
                };
                let heat = Range::of_members(of(&self.cautious), of(fine), of(&self.generous));
                PathHeat { place: *place, mechanism: *mechanism, heat }
            })
            .filter(|row| row.heat.low().si() != 0.0 || row.heat.high().si() != 0.0)
            .collect();
        rows.sort_by(|a, b| b.heat.best().si().total_cmp(&a.heat.best().si()));
        rows
    }

    /// Change of the stored heat by part over the same time.
    pub fn heat_stored(&self) -> Vec<StoredHeat> {
        let (_, snapshot) = self.account();
        let fine = &self.best[2];
        let pot = |run: &Run| Self::node_rise(run, run.assembly.pot.0, snapshot);
        let mut rows = vec![StoredHeat {
            part: Part::Pot,
            heat: Range::of_members(pot(&self.cautious), pot(fine), pot(&self.generous)),
        }];
        for (k, (_, part)) in fine.assembly.bodies.iter().enumerate() {
            let of = |run: &Run| Self::node_rise(run, run.assembly.bodies[k].0.0, snapshot);
            let heat = Range::of_members(of(&self.cautious), of(fine), of(&self.generous));
            rows.push(StoredHeat { part: *part, heat });
        }
        let patches = |run: &Run| -> Vec<(usize, Part)> {
            let pieces = run.assembly.pieces.iter().enumerate().map(|(k, (patch, _))| (patch.0, Part::Pieces(k)));
            pieces.chain(run.assembly.parts.iter().map(|(patch, part)| (patch.0, *part))).collect()
        };
        for (k, (_, part)) in patches(fine).iter().enumerate() {
            let of = |run: &Run| run.history.snapshots[snapshot].stored_in_patch[patches(run)[k].0];
            let heat = Range::of_members(of(&self.cautious), of(fine), of(&self.generous));
            match rows.iter_mut().find(|r| r.part == *part) {
                // A wall and its edges are one part.
                Some(row) => {
                    let sum = |of: fn(&Range<Energy>) -> Energy| of(&row.heat).si() + of(&heat).si();
                    row.heat = Range::of_members(sum(Range::low), sum(Range::best), sum(Range::high));
                }
                None => rows.push(StoredHeat { part: *part, heat }),
            }
        }
        rows
    }

    /// Rise of the heat in a body from leaving the stove to a snapshot, J.
    fn node_rise(run: &Run, node: usize, snapshot: usize) -> f64 {
        run.history.snapshots[snapshot].stored_in_node[node]
    }

    /// Highest temperature that each layer of each wall reaches at its warmest place, against the limit of its
    /// material.
    pub fn hottest(&self) -> Vec<HottestLayer> {
        let mut rows: Vec<HottestLayer> = Vec::new();
        let fine = &self.best[2];
        for (k, (_, part)) in fine.assembly.parts.iter().enumerate() {
            for (layer, material) in fine.assembly.materials[k].iter().enumerate() {
                let of = |run: &Run| {
                    let id = run.assembly.parts[k].0.0;
                    let patch = &run.assembly.patches[k];
                    let nodes = patch.axis().layer_nodes[layer].clone();
                    nodes.map(|n| run.history.hottest[id][patch.local(n)]).fold(f64::NEG_INFINITY, f64::max)
                };
                let temperature: Range<Temperature> =
                    Range::of_members(of(&self.cautious), of(fine), of(&self.generous));
                // The edges of a wall are cooler than the wall itself.
                match rows.iter_mut().find(|r| r.part == *part && r.layer == layer) {
                    Some(row) if row.temperature.best().si() >= temperature.best().si() => {}
                    Some(row) => row.temperature = temperature,
                    None => rows.push(HottestLayer {
                        part: *part,
                        layer,
                        material: material.name().to_owned(),
                        temperature,
                        limit: material.service_temperature().map(|t| t.continuous()),
                    }),
                }
            }
        }
        rows
    }

    /// The materials of the walls, as often as they occur.
    pub(super) fn materials(&self) -> impl Iterator<Item = &Material> {
        self.best[2].assembly.materials.iter().flatten()
    }

    /// Water that has left the dish as vapour (servings do not count) by a time after shutting: weigh the pot before
    /// and after to check. None
    /// where the leak was given as a conductance.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a time before shutting or past the horizon.
    pub fn water_lost(&self, time: Time) -> Result<Option<Range<Mass>>, Error> {
        let t = self.check_time(time)?;
        let of = |run: &Run| run.assembly.water.map(|s| run.history.water(s.0, 0.0) - run.history.water(s.0, t));
        let (cautious, best, generous) = (of(&self.cautious), of(&self.best[2]), of(&self.generous));
        Ok(cautious.zip(best).zip(generous).map(|((c, b), g)| Range::of_members(c, b, g)))
    }

    /// Largest imbalance of the water account at any step end of any march, as a share of the water moved.
    pub fn water_residual(&self) -> f64 {
        self.runs().map(|r| r.history.worst_water).fold(0.0, f64::max)
    }

    /// Temperature in the middle of each kind of piece, in the order given, at a time after shutting.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a time before shutting or past the horizon.
    pub fn middles(&self, time: Time) -> Result<Vec<Range<Temperature>>, Error> {
        let t = self.check_time(time)?;
        let count = self.best[2].assembly.pieces.len();
        Ok((0..count)
            .map(|k| {
                let of = |run: &Run| run.history.node(run.assembly.pieces[k].1.0, t);
                Range::of_members(of(&self.cautious), of(&self.best[2]), of(&self.generous))
            })
            .collect())
    }

    /// Largest imbalance of the heat account at any step end of any march, as a share of the heat moved (or of a
    /// millionth of the heat stored, where that is more).
    pub fn ledger_residual(&self) -> f64 {
        self.runs().map(|r| r.history.worst_residual).fold(0.0, f64::max)
    }

    /// Work done by all marches together.
    pub fn statistics(&self) -> Statistics {
        let mut sum = Statistics::default();
        for run in self.runs() {
            sum += run.history.statistics;
        }
        sum
    }

    fn runs(&self) -> impl Iterator<Item = &Run> {
        self.best.iter().chain([&self.cautious, &self.generous])
    }
}
