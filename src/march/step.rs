//! One time step: TR-BDF2 with its filtered error estimate, and the damped (backward Euler) start after a jump.
//!
//! gamma = 2 - sqrt 2 makes both stages share one matrix C + tau K, tau = gamma dt / 2, and the pair L-stable.
//! Over a step the heat carried by any flow q is dt (w q0 + w q1 + tau/dt q2) with w = sqrt 2 / 4: the very
//! combination that moved the temperatures, so the ledger closes to rounding.
//! (Bank et al. 1985, IEEE Trans. CAD 4; Hosea and Shampine 1996, Appl. Numer. Math. 20; from memory.)

use super::system::{PerPatch, StageInput, State, System};
use crate::error::Error;
use crate::network::Node;
use crate::network::patch::check_power;

/// gamma / 2 = 1 - sqrt(2)/2.
const ALPHA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;
/// gamma = 2 - sqrt 2.
const GAMMA: f64 = 2.0 * ALPHA;
/// Weight of the flows at the start and at the middle stage, sqrt(2)/4.
const WEIGHT: f64 = std::f64::consts::FRAC_1_SQRT_2 / 2.0;
/// Share of the middle rise in the second stage, 1/(gamma (2 - gamma)).
const MIDDLE: f64 = 1.0 / (GAMMA * (2.0 - GAMMA));
/// Difference to the third-order companion: b - b̂ for the flows at start, middle and end.
const DEFECT: [f64; 3] = [WEIGHT - (1.0 - WEIGHT) / 3.0, WEIGHT - (3.0 * WEIGHT + 1.0) / 3.0, ALPHA - ALPHA / 3.0];

/// Shares of the middle rise and the end's that make the rise halfway, on the parabola through both.
const MIDWAY: [f64; 2] = [0.25 / (GAMMA * (1.0 - GAMMA)), 0.5 * (0.5 - GAMMA) / (1.0 - GAMMA)];
/// How much a law that follows the pressure of vapour changes with a temperature, parts in one per K: by Clausius and
/// Clapeyron the pressure does so by 0.035 at the boil, 0.059 at 27 °C and 0.073 at freezing.
const HELD: f64 = 0.05;

/// What a step did, besides moving the state.
#[derive(Debug, Default, Clone)]
pub(crate) struct Moved {
    /// Rise of every node, K.
    pub(crate) node_rise: Vec<f64>,
    /// Rise of every local unknown of every patch, K.
    pub(crate) patch_rise: PerPatch,
    /// Heat carried by every link over the step, J.
    pub(crate) link_heat: Vec<f64>,
    /// Heat given by each reservoir node to the patch ports that sit on it, J.
    pub(crate) reservoir_heat: Vec<f64>,
    /// Heat released by sources inside patches, J.
    pub(crate) source_heat: f64,
    /// Rate of change of every node at the start and at the end of the step, K/s.
    pub(crate) rate_start: Vec<f64>,
    /// See `rate_start`.
    pub(crate) rate_end: Vec<f64>,
    /// Link flows at start and end, W.
    pub(crate) flow_start: Vec<f64>,
    /// See `flow_start`.
    pub(crate) flow_end: Vec<f64>,
    /// Filtered error estimate per node and patch unknown, K.
    pub(crate) node_error: Vec<f64>,
    /// See `node_error`.
    pub(crate) patch_error: PerPatch,
}

/// Storage for steps; nothing is allocated inside a step.
#[derive(Debug)]
pub(crate) struct Stepper {
    /// Result of the last attempt.
    pub(crate) moved: Moved,
    inflow: PerPatch,
    source: PerPatch,
    source_next: PerPatch,
    node_rhs: Vec<f64>,
    node_heat: Vec<f64>,
    patch_heat: [Vec<f64>; 3],
    flow_middle: Vec<f64>,
    middle_rise: Vec<f64>,
    shift: Vec<f64>,
    shifted: Vec<f64>,
    middle_patch: PerPatch,
    defect: Vec<f64>,
}

impl Stepper {
    pub(crate) fn new(system: &System<'_>) -> Self {
        let n = system.network.nodes.len();
        let links = system.network.links.len();
        let per_patch: PerPatch = system.network.patches.iter().map(|p| vec![0.0; p.len()]).collect();
        Stepper {
            moved: Moved {
                node_rise: vec![0.0; n],
                patch_rise: per_patch.clone(),
                link_heat: vec![0.0; links],
                reservoir_heat: vec![0.0; n],
                source_heat: 0.0,
                rate_start: vec![0.0; n],
                rate_end: vec![0.0; n],
                flow_start: vec![0.0; links],
                flow_end: vec![0.0; links],
                node_error: vec![0.0; n],
                patch_error: per_patch.clone(),
            },
            inflow: per_patch.clone(),
            source: per_patch.clone(),
            source_next: per_patch.clone(),
            node_rhs: vec![0.0; n],
            node_heat: vec![0.0; n],
            patch_heat: [vec![0.0; n], vec![0.0; n], vec![0.0; n]],
            flow_middle: vec![0.0; links],
            middle_rise: vec![0.0; n],
            shift: vec![0.0; n],
            shifted: vec![0.0; n],
            middle_patch: per_patch,
            defect: vec![0.0; n],
        }
    }

    /// Shifts of reservoir temperatures that make their weighted mean over the step the exact mean of a log with corners
    /// inside it. A reservoir with ports is a surface temperature and is left as it is.
    fn shift_logs(&mut self, system: &System<'_>, state: &State, dt: f64, time_end: f64) {
        for (i, node) in system.network.nodes.iter().enumerate() {
            self.shift[i] = match node {
                Node::Reservoir(signal) if system.port_capacity[i] == 0.0 => {
                    signal.mean_over_corners(state.time, time_end).map_or(0.0, |mean| {
                        let middle = signal.at(state.time + GAMMA * dt);
                        let weighted = WEIGHT * (state.nodes[i] + middle) + ALPHA * signal.before(time_end);
                        mean - weighted
                    })
                }
                _ => 0.0,
            };
        }
    }

    /// Flows and heat rates at the start of a step.
    fn open(&mut self, system: &mut System<'_>, state: &State) {
        let network = system.network;
        self.patch_heat[0].fill(0.0);
        for (i, patch) in network.patches.iter().enumerate() {
            system.inflow(i, &state.patches[i], &mut self.inflow[i]);
            patch.sources_at(state.time, false, &mut self.source[i]);
            for port in &patch.ports {
                self.patch_heat[0][port.node.0] += patch.weight * self.inflow[i][port.local];
            }
        }
        self.shifted.clone_from(&state.nodes);
        for (t, shift) in self.shifted.iter_mut().zip(&self.shift) {
            *t += shift;
        }
        system.link_flows(state.time, &self.shifted, &mut self.moved.flow_start);
        for (i, patch) in network.patches.iter().enumerate() {
            for port in &patch.ports {
                self.patch_heat[0][port.node.0] += patch.weight * self.source[i][port.local];
            }
        }
        self.node_heat.copy_from_slice(&self.patch_heat[0]);
        for (l, link) in network.links.iter().enumerate() {
            self.node_heat[link.from.0] -= self.moved.flow_start[l];
            self.node_heat[link.to.0] += self.moved.flow_start[l];
        }
        for (i, node) in network.nodes.iter().enumerate() {
            self.moved.rate_start[i] = match node {
                Node::Free { .. } => {
                    self.node_heat[i] / (system.body(i).capacity(state.nodes[i]) + system.port_capacity[i])
                }
                Node::Reservoir(_) => 0.0,
            };
        }
    }

    /// Rises of reservoir nodes from the start of the step to `time`.
    fn prescribe(&self, network: &crate::network::Network, state: &State, time: f64, end: bool, rise: &mut [f64]) {
        for (i, node) in network.nodes.iter().enumerate() {
            if let Node::Reservoir(signal) = node {
                let value = if end { signal.before(time) } else { signal.at(time) };
                rise[i] = value + self.shift[i] - state.nodes[i];
            }
        }
    }

    /// Right-hand sides of a stage: `share` times the middle rise (or nothing), plus tau times the heat rates at the
    /// start state, doubled in the trapezoidal stage where the start counts once for itself.
    fn load(&mut self, system: &System<'_>, state: &State, tau: f64, kind: Stage, interior: &mut PerPatch) {
        let network = system.network;
        for (i, node) in network.nodes.iter().enumerate() {
            self.node_rhs[i] = match (kind, node) {
                (Stage::Trapezoidal, Node::Free { .. }) => tau * self.node_heat[i],
                (Stage::Bdf2, Node::Free { .. }) => MIDDLE * system.node_rise(i, state.nodes[i], self.middle_rise[i]),
                _ => 0.0,
            };
        }
        for (i, patch) in network.patches.iter().enumerate() {
            let m = patch.interior_len();
            let (inflow, now, next) = (&self.inflow[i], &self.source[i], &self.source_next[i]);
            // All of one length, so that the loops need no checks and run several unknowns at a time.
            let rhs = &mut interior[i][..m];
            let (q, s, e) = (&inflow[..m], &now[..m], &next[..m]);
            match kind {
                Stage::Trapezoidal => {
                    for j in 0..m {
                        rhs[j] = tau * (2.0 * q[j] + s[j] + e[j]);
                    }
                }
                Stage::Bdf2 => {
                    let (c, u) = (&system.coefficients[i].capacity[..m], &self.middle_patch[i][..m]);
                    for j in 0..m {
                        rhs[j] = MIDDLE * c[j] * u[j] + tau * (q[j] + e[j]);
                    }
                }
                Stage::Euler => {
                    for j in 0..m {
                        rhs[j] = tau * (q[j] + e[j]);
                    }
                }
            }
            for port in &patch.ports {
                self.node_rhs[port.node.0] += patch.weight * tau * (inflow[port.local] + next[port.local]);
            }
        }
    }

    /// Attempts one TR-BDF2 step of length `dt` from `state` (which is not changed).
    ///
    /// # Errors
    /// If a stage does not converge.
    pub(crate) fn tr_bdf2(
        &mut self,
        system: &mut System<'_>,
        state: &State,
        dt: f64,
        time_end: f64,
    ) -> Result<(), Error> {
        let network = system.network;
        let tau = ALPHA * dt;
        self.shift_logs(system, state, dt, time_end);
        self.open(system, state);

        // Trapezoidal stage to gamma dt.
        let time_middle = state.time + GAMMA * dt;
        self.sources_next(network, time_middle, false)?;
        let mut middle_rise = std::mem::take(&mut self.middle_rise);
        self.prescribe(network, state, time_middle, false, &mut middle_rise);
        self.middle_rise = middle_rise;
        let mut interior = std::mem::take(&mut self.middle_patch);
        self.load(system, state, tau, Stage::Trapezoidal, &mut interior);
        for (i, node) in network.nodes.iter().enumerate() {
            if matches!(node, Node::Free { .. }) {
                self.middle_rise[i] = 0.0;
            }
        }
        let input = StageInput { tau, capacity_factor: 1.0, time: time_middle, start: state, node_rhs: &self.node_rhs };
        let solved = system.solve_stage(
            &input,
            &mut self.middle_rise,
            &mut interior,
            &mut self.flow_middle,
            &mut self.patch_heat[1],
            &self.inflow,
        );
        self.middle_patch = interior;
        solved?;
        self.add_port_sources(network, 1);
        let source_middle = self.source_power(network, true);

        // Second-order backward differentiation to dt.
        self.sources_next(network, time_end, true)?;
        let mut rise = std::mem::take(&mut self.moved.node_rise);
        for (i, node) in network.nodes.iter().enumerate() {
            if matches!(node, Node::Free { .. }) {
                rise[i] = self.middle_rise[i] / GAMMA;
            }
        }
        self.prescribe(network, state, time_end, true, &mut rise);
        let mut interior = std::mem::take(&mut self.moved.patch_rise);
        self.load(system, state, tau, Stage::Bdf2, &mut interior);
        let input = StageInput { tau, capacity_factor: 1.0, time: time_end, start: state, node_rhs: &self.node_rhs };
        let solved = system.solve_stage(
            &input,
            &mut rise,
            &mut interior,
            &mut self.moved.flow_end,
            &mut self.patch_heat[2],
            &self.inflow,
        );
        self.moved.node_rise = rise;
        self.moved.patch_rise = interior;
        solved?;
        self.add_port_sources(network, 2);

        self.close(system, state, dt);
        self.moved.source_heat = dt
            * (WEIGHT * (self.source_power(network, false) + source_middle) + ALPHA * self.source_power(network, true));
        self.estimate(system, state, dt);
        Ok(())
    }

    /// Heat moved over the step, and rates at its end.
    fn close(&mut self, system: &System<'_>, state: &State, dt: f64) {
        let network = system.network;
        for l in 0..network.links.len() {
            self.moved.link_heat[l] =
                dt * (WEIGHT * (self.moved.flow_start[l] + self.flow_middle[l]) + ALPHA * self.moved.flow_end[l]);
        }
        let tau = ALPHA * dt;
        for (i, node) in network.nodes.iter().enumerate() {
            match node {
                Node::Free { .. } => {
                    let t = state.nodes[i];
                    let heat = system.node_rise(i, t, self.moved.node_rise[i])
                        - MIDDLE * system.node_rise(i, t, self.middle_rise[i]);
                    let capacity = system.body(i).capacity(t + self.moved.node_rise[i]) + system.port_capacity[i];
                    self.moved.rate_end[i] = heat / tau / capacity;
                    self.moved.reservoir_heat[i] = 0.0;
                }
                Node::Reservoir(_) => {
                    self.moved.rate_end[i] = 0.0;
                    self.moved.reservoir_heat[i] = system.node_rise(i, state.nodes[i], self.moved.node_rise[i])
                        - dt * (WEIGHT * (self.patch_heat[0][i] + self.patch_heat[1][i])
                            + ALPHA * self.patch_heat[2][i]);
                }
            }
        }
    }

    /// Adds to the defect what a law held through the step may have carried wrongly: it was asked at the temperatures
    /// foreseen for the middle, and follows only two of those it reads from there on.
    fn add_held(&mut self, system: &System<'_>, state: &State) {
        for (l, link) in system.network.links.iter().enumerate() {
            if link.reads.len() <= 2 || system.frozen[l].is_none() || !system.is_active(l) {
                continue;
            }
            let off = link.reads.iter().map(|node| {
                let middle = MIDWAY[0] * self.middle_rise[node.0] + MIDWAY[1] * self.moved.node_rise[node.0];
                (state.nodes[node.0] + middle - system.foreseen[node.0]).abs()
            });
            let heat = HELD * self.moved.link_heat[l].abs() * off.fold(0.0, f64::max);
            for end in [link.from.0, link.to.0] {
                self.defect[end] += heat.copysign(self.defect[end]);
            }
        }
    }

    /// The filtered difference to the third-order companion.
    fn estimate(&mut self, system: &mut System<'_>, state: &State, dt: f64) {
        let network = system.network;
        let tau = ALPHA * dt;
        // With F1 = U1/tau - F0 and F2 = (U2 - MIDDLE U1)/tau (rises since the start), the defect is a combination
        // of what is at hand.
        let [b0, b1, b2] = DEFECT.map(|b| b * dt);
        for (i, node) in network.nodes.iter().enumerate() {
            self.defect[i] = match node {
                Node::Free { .. } => {
                    let u1 = system.node_rise(i, state.nodes[i], self.middle_rise[i]);
                    let u2 = system.node_rise(i, state.nodes[i], self.moved.node_rise[i]);
                    let f0 = self.node_heat[i];
                    b0 * f0 + b1 * (u1 / tau - f0) + b2 * (u2 - MIDDLE * u1) / tau
                }
                Node::Reservoir(_) => 0.0,
            };
        }
        self.add_held(system, state);
        let mut interior = std::mem::take(&mut self.moved.patch_error);
        for (i, patch) in network.patches.iter().enumerate() {
            let m = patch.interior_len();
            let c = &system.coefficients[i].capacity[..m];
            let (u1, u2) = (&self.middle_patch[i][..m], &self.moved.patch_rise[i][..m]);
            let (q, s) = (&self.inflow[i][..m], &self.source[i][..m]);
            let defect = &mut interior[i][..m];
            let (d0, d1, d2) = (b0 - b1, (b1 - MIDDLE * b2) / tau, b2 / tau);
            for j in 0..m {
                defect[j] = d0 * (q[j] + s[j]) + c[j] * (d1 * u1[j] + d2 * u2[j]);
            }
        }
        system.filter(&self.defect, &mut interior, &mut self.moved.node_error);
        self.moved.patch_error = interior;
    }

    /// Attempts one backward Euler step: no oscillation whatever the step.
    ///
    /// # Errors
    /// If the stage does not converge.
    pub(crate) fn backward_euler(
        &mut self,
        system: &mut System<'_>,
        state: &State,
        dt: f64,
        time_end: f64,
    ) -> Result<(), Error> {
        let network = system.network;
        self.shift.fill(0.0);
        self.open(system, state);
        self.sources_next(network, time_end, true)?;
        let mut rise = std::mem::take(&mut self.moved.node_rise);
        rise.fill(0.0);
        self.prescribe(network, state, time_end, true, &mut rise);
        let mut interior = std::mem::take(&mut self.moved.patch_rise);
        self.load(system, state, dt, Stage::Euler, &mut interior);
        let input =
            StageInput { tau: dt, capacity_factor: 1.0, time: time_end, start: state, node_rhs: &self.node_rhs };
        let solved = system.solve_stage(
            &input,
            &mut rise,
            &mut interior,
            &mut self.moved.flow_end,
            &mut self.patch_heat[2],
            &self.inflow,
        );
        self.moved.node_rise = rise;
        self.moved.patch_rise = interior;
        solved?;
        self.add_port_sources(network, 2);
        for l in 0..network.links.len() {
            self.moved.link_heat[l] = dt * self.moved.flow_end[l];
        }
        for (i, node) in network.nodes.iter().enumerate() {
            let heat = system.node_rise(i, state.nodes[i], self.moved.node_rise[i]);
            match node {
                Node::Free { .. } => {
                    let end = state.nodes[i] + self.moved.node_rise[i];
                    let capacity = system.body(i).capacity(end) + system.port_capacity[i];
                    self.moved.rate_end[i] = heat / dt / capacity;
                    self.moved.reservoir_heat[i] = 0.0;
                }
                Node::Reservoir(_) => {
                    self.moved.rate_end[i] = 0.0;
                    self.moved.reservoir_heat[i] = heat - dt * self.patch_heat[2][i];
                }
            }
        }
        self.moved.source_heat = dt * self.source_power(network, true);
        Ok(())
    }

    /// Rate of change of every local unknown of every patch in `state`, K/s; a port moves with its node.
    pub(crate) fn rates(&mut self, system: &mut System<'_>, state: &State) -> PerPatch {
        self.shift.fill(0.0);
        self.open(system, state);
        let network = system.network;
        network
            .patches
            .iter()
            .enumerate()
            .map(|(i, patch)| {
                let capacity = &system.coefficients[i].capacity;
                let mut rates: Vec<f64> =
                    (0..patch.len()).map(|j| (self.inflow[i][j] + self.source[i][j]) / capacity[j]).collect();
                for port in &patch.ports {
                    rates[port.local] = match &network.nodes[port.node.0] {
                        Node::Free { .. } => self.moved.rate_start[port.node.0],
                        Node::Reservoir(signal) => signal.slope(state.time),
                    };
                }
                rates
            })
            .collect()
    }

    /// Heat released by sources at the state last opened, W per local unknown and unit weight.
    pub(crate) fn released(&self) -> &PerPatch {
        &self.source
    }

    /// Moves `state` by the last attempt.
    pub(crate) fn apply(&self, state: &mut State, time: f64) {
        state.time = time;
        for (i, (t, d)) in state.nodes.iter_mut().zip(&self.moved.node_rise).enumerate() {
            *t += d - self.shift[i];
        }
        for (t, d) in state.patches.iter_mut().zip(&self.moved.patch_rise) {
            for (t, d) in t.iter_mut().zip(d) {
                *t += d;
            }
        }
    }

    /// Sources at the end of a stage.
    fn sources_next(&mut self, network: &crate::network::Network, time: f64, end: bool) -> Result<(), Error> {
        for (i, patch) in network.patches.iter().enumerate() {
            patch.sources_at(time, end, &mut self.source_next[i]);
        }
        check_power(self.source_power(network, true), time)
    }

    /// Adds the sources that sit on ports to the heat that the patches give to the nodes.
    fn add_port_sources(&mut self, network: &crate::network::Network, stage: usize) {
        for (i, patch) in network.patches.iter().enumerate() {
            for port in &patch.ports {
                self.patch_heat[stage][port.node.0] += patch.weight * self.source_next[i][port.local];
            }
        }
    }

    fn source_power(&self, network: &crate::network::Network, next: bool) -> f64 {
        let values = if next { &self.source_next } else { &self.source };
        let with_sources = network.patches.iter().zip(values).filter(|(p, _)| !p.sources.is_empty());
        with_sources.map(|(p, s)| p.weight * s.iter().sum::<f64>()).sum()
    }
}

/// The three kinds of implicit stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stage {
    Trapezoidal,
    Bdf2,
    Euler,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_of_step_and_companion_each_sum_to_one() {
        assert!((2.0 * WEIGHT + ALPHA - 1.0).abs() < 1e-15);
        assert!(DEFECT.iter().sum::<f64>().abs() < 1e-15);
    }

    /// A body that melts along one straight line has one heat capacity: the error that is told of a step, and with it every
    /// step that is taken, is that of a body with this capacity. (The error went through a matrix that was not factored.)
    #[test]
    fn the_error_of_a_step_does_not_depend_on_how_capacity_is_written() {
        use crate::march::{March, Pace, Phase, march};
        use crate::network::{Enthalpy, Link, Network, Signal};
        let steps = |body: Enthalpy| {
            let mut network = Network::default();
            let pot = network.node(Node::Free { enthalpy: body, start: 350.0 });
            let air = network.node(Node::Free { enthalpy: Enthalpy::Capacity(20.0), start: 320.0 });
            let room = network.node(Node::Reservoir(Signal::Constant(290.0)));
            let path = network.path();
            network.link(Link::conductance(pot, air, 2.0, path));
            network.link(Link::conductance(air, room, 0.7, path));
            let phases = [Phase { end: 36_000.0, active: vec![true; 2], events: Vec::new() }];
            let plan = March { phases: &phases, start: 0.0, snapshots: &[], step_bound: 10_000 };
            let pace = Pace::Adaptive { tolerance: 1e-3, field_tolerance: 1e-2 };
            let (history, _) = march(&network, &plan, &pace).unwrap();
            let statistics = history.statistics;
            (statistics.steps, statistics.rejected)
        };
        let line = vec![(250.0, 0.0), (300.0, 50.0 * 9000.0), (400.0, 150.0 * 9000.0)];
        assert_eq!(steps(Enthalpy::Capacity(9000.0)), steps(Enthalpy::Melting { rest: 0.0, curve: line }));
    }
}
