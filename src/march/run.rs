//! A march through the phases of a plan: step ladder, landings, events, ledger and history.

use super::history::{History, Inside, Snapshot, Statistics};
use super::ledger::Ledger;
use super::step::Stepper;
use super::system::{State, System};
use crate::error::{Error, ErrorKind};
use crate::network::patch::Coefficients;
use crate::network::{Network, Node, NodeId, PatchId, PathId};

/// Something that happens at an instant, before a phase begins.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Event {
    /// A body is brought to a temperature where it is colder; nothing happens where it is not.
    Bring {
        /// The body.
        node: NodeId,
        /// K
        to: f64,
        /// What the heat for it is accounted under.
        path: PathId,
        /// Patches that are brought to the same temperature throughout.
        patches: Vec<PatchId>,
    },
    /// A share of a body, of the water it holds and of patches that hang on it is taken out as it is.
    Take {
        /// The body.
        node: NodeId,
        /// The share.
        share: f64,
        /// Heat capacity of the body that stays, J/K.
        stays: f64,
        /// Patches that shrink with it.
        patches: Vec<PatchId>,
    },
    /// A body and patches that hang on it are stirred to one temperature; the heat stays.
    Mix {
        /// The body.
        node: NodeId,
        /// Patches that are mixed into it.
        patches: Vec<PatchId>,
    },
}

/// A stretch of time during which the same links carry heat.
#[derive(Debug, Clone)]
pub(crate) struct Phase {
    /// End, s.
    pub(crate) end: f64,
    /// Which links carry heat.
    pub(crate) active: Vec<bool>,
    /// What happens at its start.
    pub(crate) events: Vec<Event>,
}

/// How the step length is chosen.
#[derive(Debug, Clone)]
pub(crate) enum Pace<'a> {
    /// By the error estimate: at most `tolerance` K a step at nodes with a body, `field_tolerance` K elsewhere.
    Adaptive {
        /// K a step for bodies.
        tolerance: f64,
        /// K a step for surfaces and wall interiors.
        field_tolerance: f64,
    },
    /// The steps of an earlier march, each split into `split` equal parts.
    Replay {
        /// The steps to repeat.
        sequence: &'a Sequence,
        /// How many parts each becomes.
        split: usize,
    },
}

/// The steps of a march.
#[derive(Debug, Clone, Default)]
pub(crate) struct Sequence {
    steps: Vec<Taken>,
    /// Its start, and every moment on which it had to land, s.
    landings: Vec<f64>,
}

impl Sequence {
    /// Whether a march through `plan` has the same start and must land on the same moments, so that it can repeat these
    /// steps.
    pub(crate) fn suits(&self, network: &Network, plan: &March<'_>) -> bool {
        self.landings == landings(network, plan)
    }
}

#[derive(Debug, Clone, Copy)]
struct Taken {
    end: f64,
    damped: bool,
}

/// What to march through and what to keep.
#[derive(Debug, Clone)]
pub(crate) struct March<'a> {
    /// Phases in order; the first starts at `start`.
    pub(crate) phases: &'a [Phase],
    /// Start time, s.
    pub(crate) start: f64,
    /// Times to land on and take a snapshot, s, rising.
    pub(crate) snapshots: &'a [f64],
    /// Most steps (kept and rejected) before giving up.
    pub(crate) step_bound: usize,
}

/// Steps are a power of the root of two times a second, so that factors are reused.
fn rung(k: i32) -> f64 {
    let octave = 2.0_f64.powi(k.div_euclid(RUNGS));
    if k.rem_euclid(RUNGS) == 0 { octave } else { octave * std::f64::consts::SQRT_2 }
}

/// The highest rung that is no longer than `dt`, s.
fn rung_below(dt: f64) -> i32 {
    let k = (f64::from(RUNGS) * (dt * (1.0 + 1e-9)).log2()).floor() as i32;
    k.clamp(LOWEST_RUNG, HIGHEST_RUNG)
}

/// The lowest rung that is no shorter than `dt`, s.
fn rung_above(dt: f64) -> i32 {
    (f64::from(RUNGS) * (dt * (1.0 - 1e-9)).log2()).ceil() as i32
}

/// Rungs an octave.
const RUNGS: i32 = 2;
const LOWEST_RUNG: i32 = -40 * RUNGS;
const HIGHEST_RUNG: i32 = 40 * RUNGS;
/// First step as a power of two of the phase.
const FIRST_STEP: f64 = 1.0 / 4096.0;
/// A node counts as a body if it holds this share of the heat capacity of the largest one.
const BODY_SHARE: f64 = 0.01;
/// How often a mixture is computed anew, with heat capacities as far as it now goes.
const MIXINGS: usize = 3;
/// Backward Euler parts after a jump.
const DAMPED_PARTS: usize = 2;
/// A ledger residual is measured against 1e-9 of the larger of the heat moved and this share of the heat stored.
const STORED_SHARE: f64 = 1e-6;

/// Marches a network from its start state.
///
/// # Errors
/// If a stage does not converge ([`ErrorKind::NoConvergence`]) or the bound on steps is reached
/// ([`ErrorKind::WorkBound`]).
pub(crate) fn march(network: &Network, plan: &March<'_>, pace: &Pace<'_>) -> Result<(History, Sequence), Error> {
    let mut system = System::new(network)?;
    let state = system.start(plan.start);
    Runner::new(&mut system, plan, state).run(pace)
}

/// What is inside followed patches. The mean goes by heat capacities at these very temperatures, and not by those that a
/// march holds through its steps: so it follows from the temperatures alone, and a march that goes on where another ended
/// begins with the mean that this one ended with.
fn inside(system: &System<'_>, state: &State, scratch: &mut [Option<Coefficients>]) -> Inside {
    let network = system.network;
    let all = network.followed.iter().flat_map(|patch| &state.patches[patch.0]);
    let coldest = all.copied().fold(f64::INFINITY, f64::min);
    let mean = network.body.map_or(f64::NAN, |patch| {
        let temperatures = &state.patches[patch.0];
        let capacity = match &network.patches[patch.0].properties {
            None => &system.coefficients[patch.0].capacity,
            Some(properties) => {
                let now = scratch[patch.0].get_or_insert_with(|| system.coefficients[patch.0].clone());
                properties.linearise(temperatures, temperatures, now);
                &now.capacity
            }
        };
        let heat: f64 = capacity.iter().zip(temperatures).map(|(c, t)| c * t).sum();
        heat / capacity.iter().sum::<f64>()
    });
    Inside { coldest, mean }
}

/// The start of a march, and every moment on which it must land, s.
fn landings(network: &Network, plan: &March<'_>) -> Vec<f64> {
    let mut all = vec![plan.start];
    let mut from = plan.start;
    for phase in plan.phases {
        all.extend(jumps(network, from, phase.end));
        all.push(phase.end);
        from = phase.end;
    }
    all.extend(plan.snapshots);
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

/// Times between two moments at which something prescribed jumps, rising.
fn jumps(network: &Network, from: f64, end: f64) -> Vec<f64> {
    let mut all: Vec<f64> = network
        .nodes
        .iter()
        .filter_map(|n| match n {
            Node::Reservoir(signal) => Some(signal),
            Node::Free { .. } => None,
        })
        .flat_map(|s| s.jumps(from, end))
        .chain(network.patches.iter().flat_map(|p| &p.sources).flat_map(|s| s.jumps(from, end)))
        .chain(network.links.iter().flat_map(|l| l.law.jumps(from, end)))
        .collect();
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

struct Runner<'s, 'n, 'p> {
    system: &'s mut System<'n>,
    plan: &'p March<'p>,
    stepper: Stepper,
    state: State,
    ledger: Ledger,
    history: History,
    sequence: Sequence,
    previous: Option<Previous>,
    /// What is inside followed patches now.
    inside: Inside,
    /// Rough size of the heat stored, J.
    stored: f64,
    body: Vec<bool>,
    /// Whether any law holds its coefficient through a step.
    holds: bool,
    next_snapshot: usize,
    /// Reused storage: temperatures ahead, water ahead, coefficients being made.
    ahead: Vec<f64>,
    stores: Vec<f64>,
    scratch: Vec<Option<Coefficients>>,
    statistics: Statistics,
    trial: State,
}

/// The step before, to look ahead from.
struct Previous {
    dt: f64,
    nodes: Vec<f64>,
    /// Whether it went the other way than in the step before that.
    turned: Vec<bool>,
    patches: Vec<Vec<f64>>,
    /// What the account of the water said before it.
    water: Vec<f64>,
}

impl<'s, 'n, 'p> Runner<'s, 'n, 'p> {
    fn new(system: &'s mut System<'n>, plan: &'p March<'p>, state: State) -> Self {
        let network = system.network;
        // The air of a box is no body to be exact about: only what holds a fair share of the heat is. A followed patch is a
        // body, and so are its ends.
        let mut own: Vec<f64> = network
            .nodes
            .iter()
            .map(|n| match n {
                Node::Free { enthalpy, start } => enthalpy.capacity(*start),
                Node::Reservoir(_) => 0.0,
            })
            .collect();
        for patch in network.followed.iter().map(|patch| &network.patches[patch.0]) {
            let heat = patch.weight * patch.capacity.iter().sum::<f64>();
            for port in &patch.ports {
                own[port.node.0] += heat;
            }
        }
        let largest = own.iter().copied().fold(0.0, f64::max);
        let body: Vec<bool> = own.iter().map(|c| *c > BODY_SHARE * largest).collect();
        let holds = network.links.iter().any(|l| l.law.holds());
        // Heat stored against the coldest temperature about.
        let coldest = state.nodes.iter().copied().fold(f64::INFINITY, f64::min);
        let stored =
            (0..network.nodes.len()).map(|i| system.node_rise(i, coldest, state.nodes[i] - coldest).abs()).sum();
        let unknowns = network.patches.iter().map(crate::network::Patch::interior_len).sum::<usize>()
            + network.nodes.iter().filter(|n| matches!(n, Node::Free { .. })).count();
        let stepper = Stepper::new(system);
        let ledger = Ledger::new(system);
        let mut history = History::new(&body, network.paths(), network.stores.len());
        let mut scratch = vec![None; network.patches.len()];
        let inside = inside(system, &state, &mut scratch);
        history.open(state.time, &state.nodes, &ledger.water, inside);
        history.hottest.clone_from(&state.patches);
        Runner {
            stepper,
            ledger,
            history,
            sequence: Sequence { steps: Vec::new(), landings: landings(system.network, plan) },
            previous: None,
            inside,
            stored,
            body,
            holds,
            next_snapshot: 0,
            ahead: Vec::new(),
            stores: Vec::new(),
            scratch,
            statistics: Statistics { unknowns, ..Statistics::default() },
            trial: state.clone(),
            system,
            plan,
            state,
        }
    }

    fn run(mut self, pace: &Pace<'_>) -> Result<(History, Sequence), Error> {
        self.snapshot();
        let mut cursor = 0;
        let plan = self.plan;
        'phases: for phase in plan.phases {
            self.enter(phase);
            let mut stops = jumps(self.system.network, self.state.time, phase.end);
            stops.push(phase.end);
            for stop in stops {
                let finished = match pace {
                    Pace::Adaptive { tolerance, field_tolerance } => {
                        self.adapt_to(stop, *tolerance, *field_tolerance)?
                    }
                    Pace::Replay { sequence, split } => self.replay_to(stop, sequence, *split, &mut cursor)?,
                };
                if finished {
                    break 'phases;
                }
            }
        }
        self.statistics.factorisations = self.system.factorisations;
        self.statistics.newton_iterations = self.system.newton_iterations;
        self.statistics.factor_bytes = self.system.factor_bytes();
        self.history.statistics = self.statistics;
        self.history.ledger = Some(self.ledger);
        Ok((self.history, self.sequence))
    }

    /// Starts a phase: links, prescribed temperatures after the jump.
    fn enter(&mut self, phase: &Phase) {
        self.system.activate(&phase.active);
        for event in &phase.events {
            match event {
                Event::Bring { node, to, path, patches } => {
                    // A stove only heats.
                    if self.together(node.0, patches) < *to {
                        self.bring(node.0, *to, Some(*path), patches);
                    }
                }
                Event::Mix { node, patches } => self.mix(node.0, patches),
                Event::Take { node, share, stays, patches } => {
                    self.system.take_of_body(node.0, *share, *stays);
                    for patch in patches {
                        self.system.take_of_patch(patch.0, *share);
                    }
                    self.ledger.take_water(self.system, node.0, *share);
                }
            }
        }
        self.jump_reservoirs();
    }

    /// The temperature at which a body and whole patches hold together what they hold, K.
    fn together(&self, node: usize, whole: &[PatchId]) -> f64 {
        let network = self.system.network;
        let own = self.system.body(node).capacity(self.state.nodes[node]) + self.system.port_capacity[node];
        let (mut capacity, mut excess) = (own, 0.0);
        for patch in whole {
            let here = |local: usize| {
                network.patches[patch.0].ports.iter().any(|port| port.local == local && port.node.0 == node)
            };
            let heat = self.system.coefficients[patch.0].heat();
            for (local, (c, t)) in heat.iter().zip(&self.state.patches[patch.0]).enumerate() {
                // What sits on the body itself is counted there.
                if !here(local) {
                    capacity += network.patches[patch.0].weight * c;
                    excess += network.patches[patch.0].weight * c * (t - self.state.nodes[node]);
                }
            }
        }
        self.state.nodes[node] + excess / capacity
    }

    /// Stirs a body and whole patches: brings them to the temperature at which they hold together what they held. Heat
    /// capacities are secants between where each place was and that temperature.
    fn mix(&mut self, node: usize, whole: &[PatchId]) {
        let mut common = self.state.nodes[node];
        for _ in 0..MIXINGS {
            common = self.together(node, whole);
            for patch in whole {
                self.ahead.clear();
                self.ahead.resize(self.state.patches[patch.0].len(), common);
                self.renew(patch.0);
            }
        }
        self.bring(node, common, None, whole);
    }

    /// Brings a body, the ports on it and whole patches with all their ports to a temperature; the heat is booked as the
    /// event's, if it has a path.
    fn bring(&mut self, node: usize, temperature: f64, path: Option<PathId>, whole: &[PatchId]) {
        let network = self.system.network;
        let mut nodes = vec![0.0; self.state.nodes.len()];
        let ports = whole.iter().flat_map(|patch| &network.patches[patch.0].ports).map(|port| port.node.0);
        for brought in ports.chain([node]) {
            nodes[brought] = temperature - self.state.nodes[brought];
        }
        let mut patches: Vec<Vec<f64>> = self.state.patches.iter().map(|p| vec![0.0; p.len()]).collect();
        for (i, patch) in self.system.network.patches.iter().enumerate() {
            for port in &patch.ports {
                patches[i][port.local] = nodes[port.node.0];
            }
        }
        for patch in whole {
            for (rise, t) in patches[patch.0].iter_mut().zip(&self.state.patches[patch.0]) {
                *rise = temperature - t;
            }
        }
        let heat = self.ledger.store(self.system, &self.state, &nodes, &patches);
        if let Some(path) = path {
            self.ledger.lost_by_event[path.0] -= heat;
            self.ledger.moved += heat.abs();
            self.history.lost_at_once(self.state.time, path.0, -heat);
        }
        for (t, d) in self.state.nodes.iter_mut().zip(&nodes) {
            *t += d;
        }
        for (t, d) in self.state.patches.iter_mut().flatten().zip(patches.iter().flatten()) {
            *t += d;
        }
    }

    /// Brings reservoir nodes (and the ports on them) to their value after a jump; the heat that takes is theirs.
    fn jump_reservoirs(&mut self) {
        let network = self.system.network;
        let mut nodes = vec![0.0; self.state.nodes.len()];
        for (i, node) in network.nodes.iter().enumerate() {
            if let Node::Reservoir(signal) = node {
                nodes[i] = signal.at(self.state.time) - self.state.nodes[i];
            }
        }
        let mut patches: Vec<Vec<f64>> = self.state.patches.iter().map(|p| vec![0.0; p.len()]).collect();
        for (i, patch) in network.patches.iter().enumerate() {
            for port in &patch.ports {
                if matches!(network.nodes[port.node.0], Node::Reservoir(_)) {
                    // The start field of a patch may differ from the prescribed surface temperature.
                    patches[i][port.local] =
                        self.state.nodes[port.node.0] + nodes[port.node.0] - self.state.patches[i][port.local];
                    self.ledger.given_by_reservoir[port.node.0] +=
                        patch.weight * self.system.coefficients[i].capacity[port.local] * patches[i][port.local];
                }
            }
        }
        let zeros = vec![0.0; nodes.len()];
        self.ledger.store(self.system, &self.state, &zeros, &patches);
        for (t, d) in self.state.nodes.iter_mut().zip(&nodes) {
            *t += d;
        }
        for (t, d) in self.state.patches.iter_mut().flatten().zip(patches.iter().flatten()) {
            *t += d;
        }
        // With what an event did before.
        self.inside = inside(self.system, &self.state, &mut self.scratch);
        self.previous = None;
    }

    fn count_step(&mut self) -> Result<(), Error> {
        if self.statistics.steps + self.statistics.rejected >= self.plan.step_bound {
            return Err(Error::new(ErrorKind::WorkBound, "the bound on work was reached")
                .with_value(format!("{} steps at time {} s", self.plan.step_bound, self.state.time))
                .with_accepted("a looser tolerance, a shorter plan or a higher bound in the options"));
        }
        Ok(())
    }

    /// Marches to `end` by the error estimate. True if the march is to stop.
    fn adapt_to(&mut self, end: f64, tolerance: f64, field_tolerance: f64) -> Result<bool, Error> {
        self.jump_reservoirs();
        let span = end - self.state.time;
        if span <= 0.0 {
            return Ok(false);
        }
        let mut k = rung_below(span * FIRST_STEP);
        let mut damped = true;
        let mut just_rejected = false;
        while self.state.time < end {
            self.count_step()?;
            let target = match self.plan.snapshots.get(self.next_snapshot) {
                Some(t) if *t < end => *t,
                _ => end,
            };
            let left = target - self.state.time;
            let mut dt = rung(k);
            // Land exactly; do not leave a sliver behind.
            let lands = dt >= left * (1.0 - 1e-9);
            if lands {
                dt = left;
            } else if 2.0 * dt > left {
                dt = 0.5 * left;
            }
            let time_end = if lands { target } else { self.state.time + dt };
            let error = if damped {
                self.try_damped(dt, time_end, tolerance, field_tolerance)?
            } else {
                self.linearise(dt)?;
                self.stepper.tr_bdf2(self.system, &self.state, dt, time_end)?;
                self.error_norm(tolerance, field_tolerance)
            };
            if error > 1.0 && k > LOWEST_RUNG && time_end > self.state.time {
                self.statistics.rejected += 1;
                // A damped start is of first order at best: its error falls no faster than the step.
                let shorter = match damped {
                    true => RUNGS * (error.log2().ceil() as i32).clamp(1, 4),
                    false if error > 64.0 => 3 * RUNGS,
                    false if error > 2.0 => RUNGS,
                    false => 1,
                };
                k = (rung_above(dt) - shorter).max(LOWEST_RUNG);
                just_rejected = true;
                continue;
            }
            if damped {
                self.accept_damped(dt, time_end)?;
            } else {
                self.accept(time_end, false);
            }
            damped = false;
            // A step twice as long has about eight times the error. One that a landing cut short counts for what it was.
            if !just_rejected && error < 0.2 {
                let longer = match error {
                    _ if error < 0.1 / 64.0 => 4.0,
                    _ if error < 0.07 => 2.0,
                    _ => std::f64::consts::SQRT_2,
                };
                k = k.max(rung_below(dt * longer));
            }
            just_rejected = false;
        }
        Ok(false)
    }

    /// Two backward Euler halves against one whole: the scaled difference.
    fn try_damped(&mut self, dt: f64, time_end: f64, tolerance: f64, field_tolerance: f64) -> Result<f64, Error> {
        self.linearise(dt)?;
        self.stepper.backward_euler(self.system, &self.state, dt, time_end)?;
        let whole = (self.stepper.moved.node_rise.clone(), self.stepper.moved.patch_rise.clone());
        self.trial.clone_from(&self.state);
        let half = self.state.time + 0.5 * dt;
        self.stepper.backward_euler(self.system, &self.state, half - self.state.time, half)?;
        self.stepper.apply(&mut self.trial, half);
        let first = (self.stepper.moved.node_rise.clone(), self.stepper.moved.patch_rise.clone());
        self.stepper.backward_euler(self.system, &self.trial, time_end - half, time_end)?;
        let moved = &self.stepper.moved;
        let mut worst = 0.0_f64;
        for (i, body) in self.body.iter().enumerate() {
            let d = first.0[i] + moved.node_rise[i] - whole.0[i];
            worst = worst.max(d.abs() / if *body { tolerance } else { field_tolerance });
        }
        for (p, rises) in first.1.iter().enumerate() {
            for (j, r) in rises.iter().enumerate() {
                let d = r + moved.patch_rise[p][j] - whole.1[p][j];
                worst = worst.max(d.abs() / field_tolerance);
            }
        }
        Ok(worst)
    }

    /// Takes the two halves of a damped step for good.
    fn accept_damped(&mut self, dt: f64, time_end: f64) -> Result<(), Error> {
        let half = self.state.time + 0.5 * dt;
        self.stepper.backward_euler(self.system, &self.state, half - self.state.time, half)?;
        self.accept(half, true);
        self.stepper.backward_euler(self.system, &self.state, time_end - half, time_end)?;
        self.accept(time_end, true);
        Ok(())
    }

    /// Repeats the steps of another march up to `end`, each in `split` parts.
    fn replay_to(&mut self, end: f64, sequence: &Sequence, split: usize, cursor: &mut usize) -> Result<bool, Error> {
        self.jump_reservoirs();
        let mut euler_left = 0;
        while self.state.time < end {
            let Some(taken) = sequence.steps.get(*cursor) else { return Ok(true) };
            let starts = taken.damped && (*cursor == 0 || !sequence.steps[*cursor - 1].damped);
            if starts {
                // The number of Euler parts stays that of the first march, so that the order stays two.
                euler_left = DAMPED_PARTS;
            }
            *cursor += 1;
            let from = self.state.time;
            for part in 1..=split {
                self.count_step()?;
                let time_end =
                    if part == split { taken.end } else { from + (taken.end - from) * part as f64 / split as f64 };
                let dt = time_end - self.state.time;
                self.linearise(dt)?;
                let euler = taken.damped && euler_left > 0;
                if euler {
                    euler_left -= 1;
                    self.stepper.backward_euler(self.system, &self.state, dt, time_end)?;
                } else {
                    // Equal parts share a factor: the rounding of their ends must not make them differ.
                    let even = (taken.end - from) / split as f64;
                    self.stepper.tr_bdf2(self.system, &self.state, even, time_end)?;
                }
                self.accept(time_end, euler);
            }
        }
        Ok(*cursor >= sequence.steps.len())
    }

    /// Brings temperature-dependent coefficients to the middle of the coming step.
    fn linearise(&mut self, dt: f64) -> Result<(), Error> {
        if self.holds {
            // The step before tells where the middle of this one will be.
            self.trial.nodes.clone_from(&self.state.nodes);
            if let Some(previous) = &self.previous {
                let share = 0.5 * (dt / previous.dt).min(2.0);
                // What goes to and fro from step to step is light and follows what was foreseen for it: foreseen in the
                // middle of its way it comes to rest, foreseen further along it would go on.
                for ((t, rise), turned) in self.trial.nodes.iter_mut().zip(&previous.nodes).zip(&previous.turned) {
                    *t += if *turned { -0.5 } else { share } * rise;
                }
            }
            for (i, node) in self.system.network.nodes.iter().enumerate() {
                if let Node::Reservoir(signal) = node {
                    self.trial.nodes[i] = signal.at(self.state.time + 0.5 * dt);
                }
            }
            self.foresee_water(dt);
            self.system.freeze_links(self.state.time + 0.5 * dt, &self.trial.nodes, &self.stores);
            self.system.ration(dt, |system, store| self.ledger.held(system, store));
        }
        for (i, patch) in self.system.network.patches.iter().enumerate() {
            if patch.properties.is_none() {
                continue;
            }
            self.ahead.clone_from(&self.state.patches[i]);
            if let Some(previous) = &self.previous {
                let share = (dt / previous.dt).min(2.0);
                for (t, d) in self.ahead.iter_mut().zip(&previous.patches[i]) {
                    *t += d * share;
                }
            }
            self.renew(i);
        }
        Ok(())
    }

    /// What every store will hold in the middle of the coming step. One that empties does so by and by: it is never foreseen
    /// below zero.
    fn foresee_water(&mut self, dt: f64) {
        self.stores.clear();
        for store in 0..self.system.network.stores.len() {
            let held = self.ledger.held(self.system, store);
            let comes = match &self.previous {
                Some(previous) => {
                    let share = 0.5 * (dt / previous.dt).min(2.0);
                    share * (self.ledger.water[store] - previous.water[store])
                }
                None => 0.0,
            };
            let empties = comes < 0.0 && held > 0.0;
            self.stores.push(if empties { held / (1.0 - comes / held) } else { held + comes });
        }
    }

    /// Makes the temperature-dependent coefficients of a patch anew, between where it is and where it will be (`ahead`).
    fn renew(&mut self, i: usize) {
        let patch = &self.system.network.patches[i];
        let Some(properties) = &patch.properties else { return };
        let scratch = self.scratch[i].get_or_insert_with(|| self.system.coefficients[i].clone());
        let left = self.system.left(i);
        if left != 1.0 {
            // What does not follow temperature is not made anew: it comes from the whole patch.
            scratch.clone_from(&patch.coefficients);
        }
        properties.linearise(&self.state.patches[i], &self.ahead, scratch);
        if left != 1.0 {
            scratch.scale(left);
        }
        for (ahead, from) in self.ahead.iter_mut().zip(&self.state.patches[i]) {
            *ahead = f64::midpoint(*from, *ahead);
        }
        self.system.follow(i, scratch, &self.ahead, properties.tolerance());
    }

    fn error_norm(&self, tolerance: f64, field_tolerance: f64) -> f64 {
        let moved = &self.stepper.moved;
        let nodes = moved
            .node_error
            .iter()
            .zip(&self.body)
            .map(|(e, body)| e.abs() / if *body { tolerance } else { field_tolerance })
            .fold(0.0, f64::max);
        let larger = |a: f64, b: f64| if b > a { b } else { a };
        self.system.network.patches.iter().zip(&moved.patch_error).fold(nodes, |worst, (patch, errors)| {
            let errors = &errors[..patch.interior_len()];
            let largest = match &patch.error_scale {
                None => errors.iter().fold(0.0, |w, e| larger(w, e.abs())),
                Some(scale) => errors.iter().zip(scale).fold(0.0, |w, (e, s)| larger(w, e.abs() * s)),
            };
            larger(worst, largest / field_tolerance)
        })
    }

    /// Books and records the last attempt.
    fn accept(&mut self, time_end: f64, damped: bool) {
        self.ledger.book(self.system, &self.state, &self.stepper.moved);
        let start = std::mem::take(&mut self.trial.nodes);
        let mut start = start;
        start.clone_from(&self.state.nodes);
        let dt = time_end - self.state.time;
        self.stores.clone_from(&self.ledger.water);
        self.ledger.book_water(self.system, &self.stepper.moved);
        self.stepper.apply(&mut self.state, time_end);
        let inside_start = self.inside;
        self.inside = inside(self.system, &self.state, &mut self.scratch);
        for (hottest, now) in self.history.hottest.iter_mut().zip(&self.state.patches) {
            for (hottest, now) in hottest.iter_mut().zip(now) {
                *hottest = if *now > *hottest { *now } else { *hottest };
            }
        }
        let moved = &self.stepper.moved;
        self.history.push(
            time_end,
            &start,
            (&moved.rate_start, &moved.rate_end),
            &self.state.nodes,
            (&self.ledger.lost_by_path, &self.ledger.water),
            [inside_start, self.inside],
        );
        self.trial.nodes = start;
        if self.holds || self.system.network.patches.iter().any(|p| p.properties.is_some()) {
            match &mut self.previous {
                Some(previous) => {
                    previous.dt = dt;
                    for ((turned, before), now) in previous.turned.iter_mut().zip(&previous.nodes).zip(&moved.node_rise)
                    {
                        *turned = before * now < 0.0;
                    }
                    previous.nodes.clone_from(&moved.node_rise);
                    previous.patches.clone_from(&moved.patch_rise);
                    previous.water.clone_from(&self.stores);
                }
                None => {
                    let (nodes, patches) = (moved.node_rise.clone(), moved.patch_rise.clone());
                    let turned = vec![false; nodes.len()];
                    self.previous = Some(Previous { dt, nodes, turned, patches, water: self.stores.clone() });
                }
            }
        }
        if self.ledger.water_moved > 0.0 {
            let share = self.ledger.water_residual().abs() / self.ledger.water_moved;
            self.history.worst_water = self.history.worst_water.max(share);
        }
        let allowed = self.ledger.moved.max(STORED_SHARE * self.stored);
        if allowed > 0.0 {
            self.history.worst_residual = self.history.worst_residual.max(self.ledger.residual().abs() / allowed);
        }
        self.sequence.steps.push(Taken { end: time_end, damped });
        self.statistics.steps += 1;
        self.snapshot();
    }

    /// Keeps the state if a snapshot is asked for now.
    fn snapshot(&mut self) {
        while self.plan.snapshots.get(self.next_snapshot).is_some_and(|t| *t <= self.state.time) {
            let rates = self.stepper.rates(self.system, &self.state);
            self.history.snapshots.push(Snapshot {
                nodes: self.state.nodes.clone(),
                patches: self.state.patches.clone(),
                stored_in_node: self.ledger.stored_in_node.clone(),
                stored_in_patch: self.ledger.stored_in_patch.clone(),
                bodies: (0..self.state.nodes.len()).map(|i| self.system.body(i).clone()).collect(),
                left: (0..self.state.patches.len()).map(|i| self.system.left_after_drying(i)).collect(),
                held: (0..self.system.network.stores.len()).map(|i| self.ledger.held(self.system, i)).collect(),
                rates,
                released: self.stepper.released().clone(),
            });
            self.next_snapshot += 1;
        }
    }
}
