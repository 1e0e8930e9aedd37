//! What a march leaves behind: temperatures and rates at step ends, heat by path, snapshots, and dense output.

use super::ledger::Ledger;
use crate::network::Enthalpy;

/// Everything recorded during a march. Row k of the flat arrays belongs to time k.
#[derive(Debug, Clone, Default)]
pub(crate) struct History {
    /// Step ends, s, the start first.
    pub(crate) time: Vec<f64>,
    nodes: usize,
    /// Which nodes hold so much heat that their rates mean something.
    heavy: Vec<bool>,
    paths: usize,
    temperature: Vec<f64>,
    /// Rates at the start and end of step k (between time k and k + 1), K/s: they differ from their neighbours'
    /// where something jumped.
    rate_start: Vec<f64>,
    rate_end: Vec<f64>,
    /// Temperatures at the start of step k where an event changed them (else equal to the row of time k).
    start: Vec<f64>,
    lost: Vec<f64>,
    /// Heat lost at an instant: time, s, path, J.
    at_once: Vec<(f64, usize, f64)>,
    /// What is inside followed patches, at step ends and at the start of each step.
    inside: Vec<Inside>,
    inside_start: Vec<Inside>,
    stores: usize,
    /// Change of the water in each store by what links carried, at step ends, kg.
    water: Vec<f64>,
    /// States kept at the asked times: time, patch temperatures.
    pub(crate) snapshots: Vec<Snapshot>,
    /// Highest temperature each local unknown of each patch reached, K.
    pub(crate) hottest: Vec<Vec<f64>>,
    /// Account at the end.
    pub(crate) ledger: Option<Ledger>,
    /// Largest |ledger residual| / allowed at any step end, see [`crate::march::run`].
    pub(crate) worst_residual: f64,
    /// Largest imbalance of the water account at any step end, as a share of the water moved.
    pub(crate) worst_water: f64,
    /// Work done.
    pub(crate) statistics: Statistics,
}

/// What is inside followed patches at one time.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Inside {
    /// Lowest temperature in all of them, K.
    pub(crate) coldest: f64,
    /// Mean temperature of the one that is a body, K; nothing without one.
    pub(crate) mean: f64,
}

/// A place whose temperature is asked for.
#[derive(Debug, Clone)]
pub(crate) enum Watched {
    /// A node.
    Node(usize),
    /// The mean of the patch that is a body.
    Mean,
    /// The coldest of these nodes and of everything in followed patches.
    Coldest(Vec<usize>),
}

fn least(nodes: &[usize], of: impl Fn(usize) -> f64) -> f64 {
    nodes.iter().map(|n| of(*n)).fold(f64::INFINITY, f64::min)
}

/// How much work a march took.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Statistics {
    /// Steps that were kept.
    pub steps: usize,
    /// Steps that were tried and thrown away because the error was too large.
    pub rejected: usize,
    /// Matrix factorisations.
    pub factorisations: usize,
    /// Newton corrections of the hubs and ports.
    pub newton_iterations: usize,
    /// Unknown temperatures.
    pub unknowns: usize,
    /// Most memory that the factors filled at one time, bytes.
    pub factor_bytes: usize,
}

impl std::ops::AddAssign for Statistics {
    fn add_assign(&mut self, other: Self) {
        self.steps += other.steps;
        self.rejected += other.rejected;
        self.factorisations += other.factorisations;
        self.newton_iterations += other.newton_iterations;
        self.unknowns = self.unknowns.max(other.unknowns);
        self.factor_bytes = self.factor_bytes.max(other.factor_bytes);
    }
}

/// The temperatures of all patches at one asked time.
#[derive(Debug, Clone)]
pub(crate) struct Snapshot {
    /// Per node, K.
    pub(crate) nodes: Vec<f64>,
    /// Per patch and local unknown, K.
    pub(crate) patches: Vec<Vec<f64>>,
    /// Heat stored in each node itself and in each patch since the start, J.
    pub(crate) stored_in_node: Vec<f64>,
    /// See `stored_in_node`.
    pub(crate) stored_in_patch: Vec<f64>,
    /// What each node holds itself, as events and water have left it.
    pub(crate) bodies: Vec<Enthalpy>,
    /// What servings and vapour have left of each patch, as a share.
    pub(crate) left: Vec<f64>,
    /// Water in each store, kg.
    pub(crate) held: Vec<f64>,
    /// Rate of change per patch and local unknown, K/s.
    pub(crate) rates: Vec<Vec<f64>>,
    /// Heat released by sources per patch and local unknown, W per unit weight.
    pub(crate) released: Vec<Vec<f64>>,
}

/// Straight lines in a step, for what follows it.
const PARTS: usize = 16;
/// Room made at once: most marches take about so many steps.
const USUAL_STEPS: usize = 64;

/// How much steeper a curve may be inside a step than its rise over this one and those beside it: three times keeps the
/// curve between its ends where it rises throughout (Fritsch and Carlson 1980, from memory).
const STEEPER: f64 = 3.0;
/// A step shorter by this factor is no neighbour to tell a slope by.
const SHORTER: f64 = 8.0;

/// What is known of the slopes at the ends of a step.
#[derive(Debug, Clone, Copy)]
enum Slopes {
    /// Rates of a heavy body, K/s.
    Heavy([f64; 2]),
    /// Rates of a light one, K/s.
    Light([f64; 2]),
    /// Nothing.
    Unknown,
    /// Nothing but that what is booked goes the way of its whole step throughout.
    OfAnAccount,
}

impl History {
    /// `heavy` tells which nodes hold so much heat that their rates mean something.
    pub(crate) fn new(heavy: &[bool], paths: usize, stores: usize) -> Self {
        History { nodes: heavy.len(), heavy: heavy.to_vec(), paths, stores, ..History::default() }
    }

    /// Records the state before the first step.
    pub(crate) fn open(&mut self, time: f64, temperature: &[f64], water: &[f64], inside: Inside) {
        self.inside.push(inside);
        for (rows, width) in [
            (&mut self.time, 1),
            (&mut self.water, water.len()),
            (&mut self.start, self.nodes),
            (&mut self.rate_start, self.nodes),
            (&mut self.rate_end, self.nodes),
            (&mut self.temperature, self.nodes),
            (&mut self.lost, self.paths),
        ] {
            rows.reserve(USUAL_STEPS * width);
        }
        self.time.push(time);
        self.water.extend_from_slice(water);
        self.temperature.extend_from_slice(temperature);
        self.lost.resize(self.paths, 0.0);
    }

    /// Records one step: start temperatures (after any event), both rates, end temperatures, heat lost so far.
    pub(crate) fn push(
        &mut self,
        time: f64,
        start: &[f64],
        rates: (&[f64], &[f64]),
        end: &[f64],
        (lost, water): (&[f64], &[f64]),
        inside: [Inside; 2],
    ) {
        self.inside_start.push(inside[0]);
        self.inside.push(inside[1]);
        self.time.push(time);
        self.water.extend_from_slice(water);
        self.start.extend_from_slice(start);
        self.rate_start.extend_from_slice(rates.0);
        self.rate_end.extend_from_slice(rates.1);
        self.temperature.extend_from_slice(end);
        self.lost.extend_from_slice(lost);
    }

    /// How many step ends there are, the start among them.
    pub(crate) fn steps(&self) -> usize {
        self.time.len()
    }

    /// Length of the step about a time, s.
    pub(crate) fn step_about(&self, time: f64) -> f64 {
        let last = self.time.len() - 1;
        let end = self.time.partition_point(|t| *t <= time).min(last);
        end.checked_sub(1).map_or(0.0, |start| self.time[end] - self.time[start])
    }

    /// Temperature of a node at a step end, K.
    pub(crate) fn node_at_step(&self, node: usize, k: usize) -> f64 {
        self.temperature[k * self.nodes + node]
    }

    /// Temperature of a node at any time inside the march (after an event at that very time), K. Cubic Hermite
    /// interpolation between step ends. Times outside are answered with the nearest end.
    pub(crate) fn node(&self, node: usize, time: f64) -> f64 {
        let last = self.time.len() - 1;
        let k = self.time.partition_point(|t| *t <= time);
        match k {
            0 => self.node_at_step(node, 0),
            k if k > last => self.node_at_step(node, last),
            k => self.within(node, k - 1, time),
        }
    }

    fn within(&self, node: usize, step: usize, time: f64) -> f64 {
        let rise = |k: usize| (self.start[k * self.nodes + node], self.node_at_step(node, k + 1));
        let rates = [&self.rate_start, &self.rate_end].map(|rates| rates[step * self.nodes + node]);
        let slopes = if self.heavy[node] { Slopes::Heavy(rates) } else { Slopes::Light(rates) };
        self.curve(step, time, &rise, slopes)
    }

    /// A cubic through both ends of a step, of what begins and ends step `k` as `ends` tells.
    ///
    /// The rate of a heavy one counts, but for what is far steeper than all about it. A body of hardly any heat follows what is
    /// about it, and its rate, a small difference of flows over next to nothing, is noise on a long step: what is further from
    /// the parabola through the neighbouring steps than that bends is no rate of a smooth curve, and the parabola's counts.
    fn curve(&self, step: usize, time: f64, ends: &dyn Fn(usize) -> (f64, f64), known: Slopes) -> f64 {
        let long = |k: usize| self.time[k + 1] - self.time[k];
        let slope = |k: usize| {
            let (start, end) = ends(k);
            (end - start) / long(k)
        };
        let (dt, here) = (long(step), slope(step));
        let sides = [step.checked_sub(1), (step + 2 < self.time.len()).then_some(step + 1)];
        let [first, last] = match known {
            Slopes::Heavy(rates) => {
                let steepest = sides.into_iter().flatten().fold(here.abs(), |worst, k| slope(k).abs().max(worst));
                rates.map(|rate| rate.clamp(-STEEPER * steepest, STEEPER * steepest))
            }
            other => {
                // A far shorter one lies beyond an event, where the curve has a kink.
                let [before, after] = sides.map(|k| k.filter(|k| long(*k) > dt / SHORTER).map(|k| (long(k), slope(k))));
                let bend = [before, after].into_iter().flatten().map(|(_, side)| (side - here).abs()).reduce(f64::max);
                let bend = bend.unwrap_or((STEEPER - 1.0) * here.abs());
                let parabola = |near: Option<(f64, f64)>, far: Option<(f64, f64)>| match (near, far) {
                    (Some((width, side)), _) => (here * width + side * dt) / (dt + width),
                    (None, Some((width, side))) => here + (here - side) * dt / (dt + width),
                    (None, None) => here,
                };
                let smooth = [parabola(before, after), parabola(after, before)];
                match other {
                    Slopes::Light(rates) => {
                        [0, 1].map(|k| if (rates[k] - smooth[k]).abs() <= bend { rates[k] } else { smooth[k] })
                    }
                    // None goes against the whole; how steep they may be is told below.
                    Slopes::OfAnAccount => smooth.map(|slope| if slope * here > 0.0 { slope } else { 0.0 }),
                    _ => smooth,
                }
            }
        };
        // What goes one way at both ends and as a whole does not turn back in between: ice is gone within the step.
        let one_way = first * last >= 0.0 && (first + last) * here >= 0.0;
        let most = if one_way { STEEPER * here.abs() } else { f64::INFINITY };
        let [first, last] = [first, last].map(|slope| slope.clamp(-most, most));
        let (start, end) = ends(step);
        hermite((time - self.time[step]) / dt, start, end, dt * first, dt * last)
    }

    /// What a watched place shows at any time inside the march, K; as [`History::node`].
    pub(crate) fn value(&self, watched: &Watched, time: f64) -> f64 {
        let last = self.time.len() - 1;
        match self.time.partition_point(|t| *t <= time) {
            0 => self.at_step(watched, 0),
            k if k > last => self.at_step(watched, last),
            k => self.value_within(watched, k - 1, time),
        }
    }

    fn at_step(&self, watched: &Watched, k: usize) -> f64 {
        match watched {
            Watched::Node(node) => self.node_at_step(*node, k),
            Watched::Mean => self.inside[k].mean,
            Watched::Coldest(nodes) => least(nodes, |n| self.node_at_step(n, k)).min(self.inside[k].coldest),
        }
    }

    /// Inside a step. What is inside patches is known at its ends; how far that lies from the nodes they hang on goes by a
    /// straight line.
    fn value_within(&self, watched: &Watched, step: usize, time: f64) -> f64 {
        let share = (time - self.time[step]) / (self.time[step + 1] - self.time[step]);
        let straight = |start: f64, end: f64| start + share * (end - start);
        let start = |node: usize| self.start[step * self.nodes + node];
        let end = |node: usize| self.node_at_step(node, step + 1);
        let (inside_start, inside_end) = (&self.inside_start[step], &self.inside[step + 1]);
        match watched {
            Watched::Node(node) => self.within(*node, step, time),
            Watched::Mean => {
                let ends = |k: usize| (self.inside_start[k].mean, self.inside[k + 1].mean);
                self.curve(step, time, &ends, Slopes::Unknown)
            }
            Watched::Coldest(nodes) => {
                let below = |least: f64, coldest: f64| (least - coldest).max(0.0);
                let deeper = straight(
                    below(least(nodes, start), inside_start.coldest),
                    below(least(nodes, end), inside_end.coldest),
                );
                least(nodes, |n| self.within(n, step, time)) - deeper
            }
        }
    }

    /// What follows a watched place with one time constant, s, from time 0 on, at rising times: the exact answer to
    /// straight lines between points that lie a sixteenth of a step apart. It begins at `start`, or where it is put.
    pub(crate) fn lagged(&self, watched: &Watched, lag: f64, start: Option<f64>, times: &[f64]) -> Vec<f64> {
        if lag == 0.0 {
            let first = |t: f64| start.filter(|_| t <= 0.0);
            return times.iter().map(|t| first(*t).unwrap_or_else(|| self.value(watched, *t))).collect();
        }
        let mut shows = start.unwrap_or_else(|| self.value(watched, 0.0));
        let mut asked = times.iter().peekable();
        let mut answers = Vec::with_capacity(times.len());
        for step in 0..self.time.len() - 1 {
            let (begin, end) = (self.time[step].max(0.0), self.time[step + 1]);
            if end <= 0.0 {
                continue;
            }
            let mut now = begin;
            let mut there = self.value_within(watched, step, now);
            for part in 1..=PARTS {
                let then = if part == PARTS { end } else { begin + (end - begin) * part as f64 / PARTS as f64 };
                let next = self.value_within(watched, step, then);
                let slope = (next - there) / (then - now);
                let (from, at, shown) = (now, there, shows);
                let after = |time: f64| {
                    let late = slope * lag;
                    at + slope * (time - from) - late + (shown - at + late) * (-(time - from) / lag).exp()
                };
                while let Some(time) = asked.next_if(|time| **time < then) {
                    answers.push(after(time.max(from)));
                }
                shows = after(then);
                (now, there) = (then, next);
            }
        }
        answers.resize(times.len(), shows);
        answers
    }

    /// First time at or after `from` when the watched place reaches `level` going down (or up), s.
    pub(crate) fn crossing(&self, watched: &Watched, level: f64, from: f64, down: bool) -> Option<f64> {
        let beyond = |t: f64| if down { t <= level } else { t >= level };
        for step in 0..self.time.len() - 1 {
            let (a, b) = (self.time[step].max(from), self.time[step + 1]);
            if b <= from {
                continue;
            }
            if beyond(self.value_within(watched, step, a)) {
                return Some(a);
            }
            // Quarter points guard against a dip between the ends.
            let mut low = a;
            for quarter in 1..=4 {
                let high = a + (b - a) * f64::from(quarter) / 4.0;
                let value =
                    if quarter == 4 { self.at_step(watched, step + 1) } else { self.value_within(watched, step, high) };
                if beyond(value) {
                    let (mut l, mut h) = (low, high);
                    for _ in 0..80 {
                        let m = 0.5 * (l + h);
                        if m <= l || m >= h {
                            break;
                        }
                        if beyond(self.value_within(watched, step, m)) { h = m } else { l = m }
                    }
                    return Some(h);
                }
                low = high;
            }
        }
        None
    }

    /// Change of the water in a store since the start of the march by what links carried, kg.
    pub(crate) fn water(&self, store: usize, time: f64) -> f64 {
        self.between(time, |k| self.water[k * self.stores + store])
    }

    /// Books heat that a path lost at an instant, J.
    pub(crate) fn lost_at_once(&mut self, time: f64, path: usize, heat: f64) {
        self.at_once.push((time, path, heat));
    }

    /// Heat lost by a path from the start of the march to just before `time`, J.
    pub(crate) fn lost(&self, path: usize, time: f64) -> f64 {
        let at_once: f64 = self.at_once.iter().filter(|(t, p, _)| *p == path && *t < time).map(|(.., heat)| heat).sum();
        self.between(time, |k| self.lost[k * self.paths + path]) + at_once
    }

    /// An account at any time, of which `row` tells what stood in it at each step end.
    fn between(&self, time: f64, row: impl Fn(usize) -> f64) -> f64 {
        let last = self.time.len() - 1;
        match self.time.partition_point(|t| *t <= time) {
            0 => row(0),
            k if k > last => row(last),
            k => self.curve(k - 1, time, &|step| (row(step), row(step + 1)), Slopes::OfAnAccount),
        }
    }
}

/// Cubic Hermite value at 0 <= s <= 1 with end values and end slopes (times the interval).
fn hermite(s: f64, a: f64, b: f64, slope_a: f64, slope_b: f64) -> f64 {
    let r = 1.0 - s;
    // Written as a straight line plus a correction: exact at the ends.
    let straight = if a == b { a } else { a * r + b * s };
    straight + s * r * (r * (slope_a - (b - a)) - s * (slope_b - (b - a)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hermite_reproduces_cubics() {
        let f = |x: f64| 1.0 - 2.0 * x + 0.5 * x * x + 3.0 * x * x * x;
        let d = |x: f64| -2.0 + x + 9.0 * x * x;
        for i in 0..=10 {
            let s = f64::from(i) / 10.0;
            assert!((hermite(s, f(0.0), f(1.0), d(0.0), d(1.0)) - f(s)).abs() < 1e-14);
        }
    }

    /// What a body gave off that cools as e^-t, asked for between the ends of steps of a half: a straight line is off by up
    /// to 0.03, the parabolas of the neighbours by 0.006. Where it stops for good nothing is given back.
    #[test]
    fn an_account_is_smooth_inside_a_step_and_never_turns_back() {
        let gone = |t: f64| 1.0 - (-t).exp();
        let mut history = History::new(&[true], 1, 0);
        let nothing = Inside { coldest: 0.0, mean: 0.0 };
        history.open(0.0, &[0.0], &[], nothing);
        let mut push = |t: f64, lost: f64| {
            history.push(t, &[0.0], (&[0.0], &[0.0]), &[0.0], (&[lost], &[]), [nothing, nothing]);
        };
        for k in 1..=8 {
            push(0.5 * f64::from(k), gone(0.5 * f64::from(k)));
        }
        for t in [4.01, 4.5, 5.0] {
            push(t, gone(4.0));
        }
        let mut before = 0.0;
        for k in 0..=500 {
            let t = 0.01 * f64::from(k);
            let lost = history.lost(0, t);
            assert!(lost >= before && lost <= gone(4.0), "{t}: {lost} after {before}");
            assert!((lost - gone(t.min(4.0))).abs() < 0.006, "{t}: {lost}, {}", gone(t));
            before = lost;
        }
        assert!((history.lost(0, 2.0) - gone(2.0)).abs() < 1e-15);
    }

    /// Ice that is gone shortly before the end of a step: the body keeps its temperature, then warms at once. It is never
    /// colder than at either end (the cubic alone: by 0.13), and a dip that is there stays.
    #[test]
    fn what_only_warms_is_no_colder_inside_a_step_than_at_its_ends() {
        let lowest = |first: f64| {
            let mut history = History::new(&[true], 0, 0);
            let nothing = Inside { coldest: 0.0, mean: 0.0 };
            history.open(0.0, &[0.0], &[], nothing);
            history.push(1.0, &[0.0], (&[first], &[1.0]), &[0.02], (&[], &[]), [nothing, nothing]);
            history.push(2.0, &[0.02], (&[1.0], &[1.0]), &[1.02], (&[], &[]), [nothing, nothing]);
            (0..=100).map(|k| history.node(0, 0.01 * f64::from(k))).fold(f64::INFINITY, f64::min)
        };
        assert_eq!(lowest(0.001), 0.0);
        assert!(lowest(-1.0) < -0.2, "{}", lowest(-1.0));
    }
}
