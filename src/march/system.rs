//! A network prepared for implicit stages: patches condensed onto their ports, Newton on hubs and ports.
//!
//! One stage solves, for the rise d of every temperature above the start of the step,
//! C d - tau F(T0 + d) = r. Patches are linear within a step and are eliminated first; what is left is a small
//! dense system in the free nodes, the only place where non-linearity lives.

use std::collections::BTreeSet;

use crate::error::{Error, ErrorKind};
use crate::network::patch::{Coefficients, Condensed};
use crate::network::{Enthalpy, Frozen, Interior, Network, Node, StoreId, WATER_HEAT_CAPACITY};
use crate::numeric::dense::Lu;

/// Temperatures of everything at one time, K.
#[derive(Debug, Clone)]
pub(crate) struct State {
    /// Time, s.
    pub(crate) time: f64,
    /// Per node.
    pub(crate) nodes: Vec<f64>,
    /// Per patch and local unknown (port entries repeat their node's temperature).
    pub(crate) patches: Vec<Vec<f64>>,
}

/// Per-patch vectors of one kind.
pub(crate) type PerPatch = Vec<Vec<f64>>;

/// What one implicit stage starts from.
pub(crate) struct StageInput<'a> {
    /// Stage length, s.
    pub(crate) tau: f64,
    /// 1 for a stage of a march, 0 for a steady state.
    pub(crate) capacity_factor: f64,
    /// Time at which the stage's flows are evaluated, s.
    pub(crate) time: f64,
    /// Temperatures at the start of the step.
    pub(crate) start: &'a State,
    /// Right-hand side of the free and prescribed nodes, J.
    pub(crate) node_rhs: &'a [f64],
}

/// How often a condensed factor is kept per patch: the rungs of the step ladder in use.
const KEPT_FACTORS: usize = 12;
/// Factors of one patch beyond the first few are not kept if they fill more than this, bytes.
const KEPT_BYTES: usize = 128 << 20;
/// These are always kept: a step and its half after a jump.
const KEPT_LEAST: usize = 2;
/// Newton stops when the residual is this small against the terms it is made of.
const NEWTON_TOLERANCE: f64 = 1e-13;
/// Relative change of the slope of a tangent that need not be followed.
const FROZEN_TOLERANCE: f64 = 1e-2;
/// Relative difference of conductances up to which factors serve on: far from where an added flow could upset a step.
const NEAR: f64 = 0.05;
/// Share of a patch that may have left as vapour before the patch is shrunk.
const UNFOLLOWED_DRYING: f64 = 1e-4;
/// What passes in a stage for a difference of one kelvin against all heat capacity about: beyond it the rounding of a solution
/// shows in the account of the heat.
const STIFF: f64 = 100.0;
/// Rounding of a temperature, in units of the Newton tolerance.
const ROUNDING: f64 = 1e-2;
const NEWTON_ITERATIONS: usize = 30;

/// A network with everything that is recomputed only now and then.
#[derive(Debug)]
pub(crate) struct System<'n> {
    pub(crate) network: &'n Network,
    /// Position among the unknowns, per node.
    unknown_of: Vec<Option<usize>>,
    free: Vec<usize>,
    /// Which links carry heat in the present phase.
    active: Vec<bool>,
    active_linear: bool,
    /// Tangent that holds through the present step, per link.
    pub(crate) frozen: Vec<Option<Frozen>>,
    /// Temperatures of the nodes at which they were asked for, K.
    pub(crate) foreseen: Vec<f64>,
    /// What each node holds itself, as events and water have left it; nothing at reservoirs.
    bodies: Vec<Enthalpy>,
    /// What servings and vapour have left of each patch, as a share, and what vapour has taken since.
    left: Vec<f64>,
    drying: Vec<f64>,
    /// Present coefficients per patch: those of its factors.
    pub(crate) coefficients: Vec<Coefficients>,
    /// What the true coefficients of a patch bring into each local unknown beyond the present ones, W per unit weight,
    /// where they follow temperature; see [`System::follow`].
    beyond: PerPatch,
    /// Heat capacity that the ports bring to each node, J/K.
    pub(crate) port_capacity: Vec<f64>,
    condensed: Vec<Vec<Condensed>>,
    /// Storage of dropped factors.
    spare: Vec<Vec<Condensed>>,
    lu: Lu,
    /// Whether a link or a patch passes on so much more than anything takes up that one solution is not exact.
    stiff: bool,
    /// tau of the factored system, while it stays valid.
    lu_tau: Option<f64>,
    /// Work counters.
    pub(crate) factorisations: usize,
    pub(crate) newton_iterations: usize,
    // Reused storage.
    residual: Vec<f64>,
    magnitude: Vec<f64>,
    interior_on_port: Vec<Vec<f64>>,
    read: Vec<f64>,
    gradient: Vec<f64>,
    port_values: Vec<f64>,
    already: Vec<f64>,
}

/// The free nodes, those that meet few others first: eliminated early, they leave the factor sparse.
fn in_order(network: &Network) -> Vec<usize> {
    let is_free = |i: usize| matches!(network.nodes[i], Node::Free { .. });
    let mut met = vec![BTreeSet::new(); network.nodes.len()];
    let ports = network.patches.iter().map(|p| p.ports.iter().map(|port| port.node.0).collect::<Vec<_>>());
    let links = network.links.iter().map(|l| l.reads.iter().chain([&l.from, &l.to]).map(|node| node.0).collect());
    for group in ports.chain(links) {
        for i in group.iter().filter(|i| is_free(**i)) {
            met[*i].extend(group.iter().copied().filter(|j| is_free(*j)));
        }
    }
    let mut free: Vec<usize> = (0..network.nodes.len()).filter(|i| is_free(*i)).collect();
    free.sort_by_key(|i| met[*i].len());
    free
}

impl<'n> System<'n> {
    pub(crate) fn new(network: &'n Network) -> Result<Self, Error> {
        network.check()?;
        let mut unknown_of = vec![None; network.nodes.len()];
        let free = in_order(network);
        for (u, node) in free.iter().enumerate() {
            unknown_of[*node] = Some(u);
        }
        let reads = network.links.iter().map(|l| l.reads.len()).max().unwrap_or(0).max(2);
        let ports = network.patches.iter().map(|p| p.ports.len()).max().unwrap_or(0);
        let mut system = System {
            network,
            unknown_of,
            frozen: vec![None; network.links.len()],
            foreseen: Vec::new(),
            bodies: network
                .nodes
                .iter()
                .map(|node| match node {
                    Node::Free { enthalpy, .. } => enthalpy.clone(),
                    Node::Reservoir(_) => Enthalpy::None,
                })
                .collect(),
            left: vec![1.0; network.patches.len()],
            drying: vec![0.0; network.patches.len()],
            active: vec![true; network.links.len()],
            active_linear: false,
            coefficients: network.patches.iter().map(|p| p.coefficients.clone()).collect(),
            beyond: vec![Vec::new(); network.patches.len()],
            port_capacity: vec![0.0; network.nodes.len()],
            condensed: vec![Vec::new(); network.patches.len()],
            spare: vec![Vec::new(); network.patches.len()],
            lu: Lu::default(),
            lu_tau: None,
            stiff: false,
            factorisations: 0,
            newton_iterations: 0,
            residual: vec![0.0; free.len()],
            magnitude: vec![0.0; free.len()],
            interior_on_port: network.patches.iter().map(|p| vec![0.0; p.ports.len()]).collect(),
            read: vec![0.0; reads],
            gradient: vec![0.0; reads],
            port_values: vec![0.0; ports],
            already: Vec::new(),
            free,
        };
        system.refresh_port_capacity();
        Ok(system)
    }

    /// The start state: every free node at the capacity-weighted mean of itself and its ports (which keeps the heat
    /// that the description started with), reservoirs at their value at `time`.
    pub(crate) fn start(&self, time: f64) -> State {
        let network = self.network;
        let mut heat = vec![0.0; network.nodes.len()];
        let mut capacity = vec![0.0; network.nodes.len()];
        // Equal temperatures stay equal to the last digit.
        let mut extremes = vec![(f64::INFINITY, f64::NEG_INFINITY); network.nodes.len()];
        let mut meet = |i: usize, c: f64, t: f64| {
            if c > 0.0 {
                extremes[i] = (extremes[i].0.min(t), extremes[i].1.max(t));
            }
        };
        for (i, node) in network.nodes.iter().enumerate() {
            if let Node::Free { enthalpy, start } = node {
                let c = enthalpy.capacity(*start);
                heat[i] += c * start;
                capacity[i] += c;
                meet(i, c, *start);
            }
        }
        for (patch, coefficients) in network.patches.iter().zip(&self.coefficients) {
            for port in &patch.ports {
                let c = patch.weight * coefficients.capacity[port.local];
                heat[port.node.0] += c * patch.start[port.local];
                capacity[port.node.0] += c;
                meet(port.node.0, c.abs(), patch.start[port.local]);
            }
        }
        let nodes: Vec<f64> = network
            .nodes
            .iter()
            .enumerate()
            .map(|(i, node)| match node {
                Node::Free { .. } if extremes[i].0 == extremes[i].1 => extremes[i].0,
                Node::Free { .. } => heat[i] / capacity[i],
                Node::Reservoir(signal) => signal.at(time),
            })
            .collect();
        let mut patches: PerPatch = network.patches.iter().map(|p| p.start.clone()).collect();
        for (patch, t) in network.patches.iter().zip(&mut patches) {
            for port in &patch.ports {
                t[port.local] = nodes[port.node.0];
            }
        }
        State { time, nodes, patches }
    }

    /// Chooses which links carry heat.
    pub(crate) fn activate(&mut self, active: &[bool]) {
        self.active.copy_from_slice(active);
        self.lu_tau = None;
        self.refresh_linear();
    }

    /// Whether everything active is linear within the step, so that one factor serves until a coefficient moves.
    fn refresh_linear(&mut self) {
        let melts = self.bodies.iter().any(|body| matches!(body, Enthalpy::Melting { .. }));
        self.active_linear = !melts
            && (0..self.active.len())
                .all(|l| !self.active[l] || self.frozen[l].is_some() || self.network.links[l].law.is_linear());
    }

    /// Asks every active law that is held through a step for its tangent, at the temperatures `nodes` (K) and with so much
    /// water in each of the `stores` (kg).
    pub(crate) fn freeze_links(&mut self, time: f64, nodes: &[f64], stores: &[f64]) {
        let network = self.network;
        self.foreseen.clear();
        self.foreseen.extend_from_slice(nodes);
        for (l, link) in network.links.iter().enumerate() {
            if !self.active[l] {
                continue;
            }
            for (r, node) in self.read.iter_mut().zip(&link.reads) {
                *r = nodes[node.0];
            }
            if let Some(frozen) = link.law.frozen(time, &self.read[..link.reads.len()], stores) {
                self.freeze(l, frozen);
            }
        }
        self.refresh_linear();
    }

    /// Replaces the tangent that a link holds through the coming step; slopes, and with them the factors, stay while
    /// they moved by less than the tolerance.
    fn freeze(&mut self, link: usize, mut frozen: Frozen) {
        let apart = |a: f64, b: f64| (a - b).abs() > FROZEN_TOLERANCE * a.abs().max(b.abs());
        match &self.frozen[link] {
            Some(old) if (0..2).all(|k| !apart(old.gradient[k], frozen.gradient[k])) => {
                frozen.gradient = old.gradient;
            }
            _ => self.lu_tau = None,
        }
        self.frozen[link] = Some(frozen);
    }

    /// Adds water to a node that held `present` of it (or takes it away), kg.
    pub(crate) fn add_water(&mut self, node: usize, mass: f64, present: f64) {
        if mass != 0.0 {
            self.bodies[node].add_water(mass, present);
            self.lu_tau = None;
        }
    }

    /// Takes a share of a body out, but for a heat capacity that stays, J/K.
    pub(crate) fn take_of_body(&mut self, node: usize, share: f64, stays: f64) {
        self.bodies[node].take(share, stays);
        self.lu_tau = None;
    }

    /// Takes a share of a patch out: so many pieces fewer.
    pub(crate) fn take_of_patch(&mut self, patch: usize, share: f64) {
        self.left[patch] *= 1.0 - share;
        self.coefficients[patch].scale(1.0 - share);
        self.spare[patch].append(&mut self.condensed[patch]);
        self.refresh_port_capacity();
        self.lu_tau = None;
    }

    /// Adds water to a patch (or takes it away), kg: with its heat capacity, its share of the patch. A change too small to
    /// be followed waits for the next.
    pub(crate) fn add_water_to_patch(&mut self, patch: usize, mass: f64) {
        let heat: f64 = self.coefficients[patch].heat().iter().sum();
        self.drying[patch] -= mass * WATER_HEAT_CAPACITY / (self.network.patches[patch].weight * heat);
        if self.drying[patch].abs() > UNFOLLOWED_DRYING {
            let share = std::mem::take(&mut self.drying[patch]);
            self.take_of_patch(patch, share);
        }
    }

    /// What servings and vapour have left of a patch, as a share.
    pub(crate) fn left(&self, patch: usize) -> f64 {
        self.left[patch]
    }

    /// The same, less what vapour took and what is still too little to be followed.
    pub(crate) fn left_after_drying(&self, patch: usize) -> f64 {
        self.left[patch] * (1.0 - self.drying[patch])
    }

    /// What a node holds itself.
    pub(crate) fn body(&self, node: usize) -> &Enthalpy {
        &self.bodies[node]
    }

    /// Lessens what links take from stores that would not last through a step of `dt` s: `held` tells what a store
    /// holds, kg. No more can leave than there is and comes in, and no more heat with it.
    pub(crate) fn ration(&mut self, dt: f64, held: impl Fn(&Self, usize) -> f64) {
        let network = self.network;
        for store in 0..network.stores.len() {
            let held = held(self, store);
            // What a link takes from the store, kg/s; below zero what it brings.
            let taken = |this: &Self, l: usize| {
                let (Some(way), Some(frozen), true) = (network.links[l].water, this.frozen[l], this.active[l]) else {
                    return 0.0;
                };
                let is = |end: Option<StoreId>| f64::from(u8::from(end.is_some_and(|s| s.0 == store)));
                (is(way.from) - is(way.to)) * frozen.flow * frozen.water
            };
            let all = (0..network.links.len()).map(|l| taken(self, l));
            let (wanted, brought) = all.fold((0.0, 0.0), |(out, into), w| (out + w.max(0.0), into - w.min(0.0)));
            if (wanted - brought) * dt <= held {
                continue;
            }
            let share = ((held / dt + brought) / wanted).max(0.0);
            for l in 0..network.links.len() {
                if taken(self, l) > 0.0
                    && let Some(frozen) = &mut self.frozen[l]
                {
                    frozen.scale(share);
                    self.lu_tau = None;
                }
            }
        }
    }

    /// Whether the link carries heat now.
    pub(crate) fn is_active(&self, link: usize) -> bool {
        self.active[link]
    }

    /// Brings a patch to `coefficients` for the coming step, in whose middle its local temperatures will be about `middle`,
    /// K. While conductances stay near those of the factors, what the others would carry beyond them in the middle of the
    /// step is added as a flow: second order like the middle itself, and no heat is lost, for it leaves one unknown and
    /// enters another. Heat capacities may differ by so much, relative, that need not be followed.
    pub(crate) fn follow(&mut self, patch: usize, coefficients: &mut Coefficients, middle: &[f64], unfollowed: f64) {
        let present = &self.coefficients[patch];
        if coefficients.capacity_differs(present, unfollowed) || coefficients.conductance_differs(present, NEAR) {
            return self.set_coefficients(patch, coefficients);
        }
        coefficients.inflow_beyond(present, middle, &mut self.beyond[patch], &mut self.already);
    }

    /// Heat that flows into every local unknown of a patch at temperatures `t`, W per unit weight.
    pub(crate) fn inflow(&self, patch: usize, t: &[f64], out: &mut [f64]) {
        self.coefficients[patch].inflow(t, out);
        for (out, beyond) in out.iter_mut().zip(&self.beyond[patch]) {
            *out += beyond;
        }
    }

    /// Exchanges the coefficients of one patch; its factors are dropped.
    pub(crate) fn set_coefficients(&mut self, patch: usize, coefficients: &mut Coefficients) {
        self.beyond[patch].clear();
        std::mem::swap(&mut self.coefficients[patch], coefficients);
        self.spare[patch].append(&mut self.condensed[patch]);
        self.lu_tau = None;
        if self.coefficients[patch].capacity != coefficients.capacity {
            self.refresh_port_capacity();
        }
    }

    fn refresh_port_capacity(&mut self) {
        self.port_capacity.fill(0.0);
        for (patch, c) in self.network.patches.iter().zip(&self.coefficients) {
            for port in &patch.ports {
                self.port_capacity[port.node.0] += patch.weight * c.capacity[port.local];
            }
        }
    }

    /// Heat a node takes up when it goes from `t` to `t + d` (own enthalpy and port shares), J.
    pub(crate) fn node_rise(&self, node: usize, t: f64, d: f64) -> f64 {
        self.bodies[node].rise(t, d) + self.port_capacity[node] * d
    }

    /// Flow of every active link at `time` for node temperatures `nodes` (0 for the others), W.
    pub(crate) fn link_flows(&mut self, time: f64, nodes: &[f64], flows: &mut [f64]) {
        for (l, link) in self.network.links.iter().enumerate() {
            flows[l] = if !self.active[l] {
                0.0
            } else if let Some(frozen) = &self.frozen[l] {
                frozen.at(nodes[link.from.0], nodes[link.to.0])
            } else {
                for (r, node) in self.read.iter_mut().zip(&link.reads) {
                    *r = nodes[node.0];
                }
                link.law.flow(time, &self.read[..link.reads.len()], &mut self.gradient[..link.reads.len()])
            };
        }
    }

    /// Makes sure every patch has a condensed form for `tau` and brings it to the front of its list.
    fn condense(&mut self, capacity_factor: f64, tau: f64) -> Result<(), Error> {
        for (i, patch) in self.network.patches.iter().enumerate() {
            let kept = &mut self.condensed[i];
            if let Some(k) = kept.iter().position(|c| c.tau == tau) {
                kept.swap(0, k);
            } else {
                // A dropped factor lends its storage; else the oldest one makes room.
                let mut new = self.spare[i].pop().unwrap_or_default();
                let most = kept
                    .first()
                    .map_or(KEPT_FACTORS, |c| (KEPT_BYTES / c.bytes().max(1)).clamp(KEPT_LEAST, KEPT_FACTORS));
                if kept.len() >= most
                    && let Some(oldest) = kept.pop()
                {
                    new = oldest;
                }
                if !self.coefficients[i].condense_into(capacity_factor, tau, patch.ports.len(), &mut new) {
                    return Err(Error::new(ErrorKind::NoConvergence, "a patch could not be factored")
                        .within(format!("patch {i}")));
                }
                self.factorisations += 1;
                kept.insert(0, new);
            }
        }
        Ok(())
    }

    /// Memory that the factors fill, bytes; it never shrinks, for storage is used again.
    pub(crate) fn factor_bytes(&self) -> usize {
        self.condensed.iter().chain(&self.spare).flatten().map(Condensed::bytes).sum()
    }

    /// The same for a steady state; true if any coefficient still moved.
    pub(crate) fn freeze_links_steady(&mut self, time: f64, nodes: &[f64]) -> bool {
        let before: Vec<Option<f64>> = self.frozen.iter().map(|f| f.map(|f| f.flow)).collect();
        self.frozen.fill(None);
        self.freeze_links(time, nodes, &[]);
        let largest = self.frozen.iter().flatten().map(|f| f.flow.abs()).fold(0.0, f64::max);
        self.frozen.iter().zip(before).any(|(now, before)| {
            let now = now.map_or(0.0, |f| f.flow);
            (now - before.unwrap_or(0.0)).abs() > 1e-11 * largest
        })
    }

    /// Whether everything active is linear and nothing held by a tangent.
    pub(crate) fn is_linear(&self) -> bool {
        self.active_linear && self.frozen.iter().all(Option::is_none)
    }

    /// Puts the interior of every patch on a grid to where it settles with its ports as they are: what is left for a stage
    /// to solve is its own rounding.
    ///
    /// # Errors
    /// [`ErrorKind::NoConvergence`] if a patch cannot be factored.
    pub(crate) fn settle_grids(&mut self, state: &mut State) -> Result<(), Error> {
        self.condense(0.0, 1.0)?;
        for (i, patch) in self.network.patches.iter().enumerate() {
            if matches!(patch.interior, Interior::Grid(_)) {
                let (interior, ports) = state.patches[i].split_at_mut(patch.interior_len());
                interior.fill(0.0);
                self.condensed[i][0].expand(interior, ports);
            }
        }
        Ok(())
    }

    /// Solves the interiors for ports at rest and puts what that means onto the ports.
    fn solve_interiors(&mut self, interior: &mut PerPatch) {
        for (i, patch) in self.network.patches.iter().enumerate() {
            let couplings = &self.coefficients[i].couplings;
            let interior = &mut interior[i][..patch.interior_len()];
            self.condensed[i][0].solve_interior(couplings, interior, &mut self.interior_on_port[i]);
        }
    }

    /// Solves one stage. `rise` holds the rises of all nodes: those of reservoirs are given, those of free nodes
    /// are a first guess and become the answer. `interior` holds the interior right-hand sides (J per unit weight)
    /// and becomes the interior rises with the port rises behind them. `flows` receives the link flows at the end
    /// of the stage, `port_heat` the heat that the patches give to each node at that time, W.
    pub(crate) fn solve_stage(
        &mut self,
        input: &StageInput<'_>,
        rise: &mut [f64],
        interior: &mut PerPatch,
        flows: &mut [f64],
        port_heat: &mut [f64],
        port_inflow_at_start: &PerPatch,
    ) -> Result<(), Error> {
        self.condense(input.capacity_factor, input.tau)?;
        self.solve_interiors(interior);
        let mut previous = f64::INFINITY;
        for iteration in 0.. {
            if self.active_linear && iteration > usize::from(self.stiff) {
                // One correction was exact, or the next one has put right what rounding left of it: what is left is what the
                // links carry there, which the ledger holds to account.
                self.flows_at(input, rise, flows);
                break;
            }
            let reuse = self.active_linear && self.lu_tau == Some(input.tau);
            let worst = self.assemble(input, rise, flows, !reuse);
            // The first pass always corrects; later ones stop at rounding level or when nothing improves any more.
            let settled = worst <= NEWTON_TOLERANCE || (worst <= 1e-9 && worst >= 0.5 * previous);
            if iteration > 0 && settled {
                break;
            }
            if iteration >= NEWTON_ITERATIONS || !worst.is_finite() {
                return Err(Error::new(ErrorKind::NoConvergence, "the temperatures of a stage did not converge")
                    .with_value(format!("relative residual {worst:e} after {iteration} iterations"))
                    .within(format!("time {} s", input.time)));
            }
            previous = worst;
            if !reuse {
                if !self.lu.factor() {
                    return Err(Error::new(ErrorKind::NoConvergence, "the network is singular")
                        .within(format!("time {} s", input.time)));
                }
                self.lu_tau = self.active_linear.then_some(input.tau);
            }
            self.lu.solve(&mut self.residual);
            self.newton_iterations += 1;
            if !self.residual.iter().all(|r| r.is_finite()) {
                return Err(Error::new(ErrorKind::NoConvergence, "the temperatures of a stage are no numbers")
                    .within(format!("time {} s", input.time)));
            }
            for (u, node) in self.free.iter().enumerate() {
                let corrected = rise[*node] - self.residual[u];
                rise[*node] = match &self.bodies[*node] {
                    enthalpy @ Enthalpy::Melting { .. } => {
                        let start = input.start.nodes[*node];
                        let aim = start + corrected;
                        let end = enthalpy.within_piece(start + rise[*node], aim);
                        // Only a cut correction goes through the rounding of a temperature.
                        if end == aim { corrected } else { end - start }
                    }
                    _ => corrected,
                };
            }
        }
        // Heat from patches to nodes, then the interior.
        port_heat.fill(0.0);
        for (i, patch) in self.network.patches.iter().enumerate() {
            let n = patch.ports.len();
            let m = patch.interior_len();
            for (v, port) in self.port_values.iter_mut().zip(&patch.ports) {
                *v = rise[port.node.0];
            }
            let condensed = &self.condensed[i][0];
            for (p, port) in patch.ports.iter().enumerate() {
                let s = condensed.at_port(p, |q| self.port_values[q]);
                port_heat[port.node.0] += patch.weight
                    * (port_inflow_at_start[i][port.local] - (s + self.interior_on_port[i][p]) / input.tau);
            }
            condensed.expand(&mut interior[i][..m], &self.port_values[..n]);
            for (p, port) in patch.ports.iter().enumerate() {
                interior[i][port.local] = self.port_values[p];
            }
        }
        Ok(())
    }

    /// Flows of the links at the end of a stage.
    fn flows_at(&mut self, input: &StageInput<'_>, rise: &[f64], flows: &mut [f64]) {
        for (l, flow) in flows.iter_mut().enumerate() {
            *flow = if self.active[l] { self.flow_in(l, input, rise).0 } else { 0.0 };
        }
    }

    /// Flow of an active link in a stage, the rounding it cannot be better than, W, and on how many nodes it depends; its
    /// derivatives are left in `self.gradient`.
    ///
    /// Where the flow is a straight line it is that of the start and what the rises add: a rise is known far more closely
    /// than the temperature it leads to, which a stiff link would turn into heat that nobody has.
    fn flow_in(&mut self, l: usize, input: &StageInput<'_>, rise: &[f64]) -> (f64, f64, usize) {
        let link = &self.network.links[l];
        let start = &input.start.nodes;
        let size = |sum: f64, (g, t): (&f64, f64)| sum + (g * t).abs();
        if let Some(frozen) = &self.frozen[l] {
            let [from, to] = [link.from.0, link.to.0];
            let beyond = [frozen.gradient[0] * rise[from], frozen.gradient[1] * rise[to]];
            self.gradient[..2].copy_from_slice(&frozen.gradient);
            let flow = frozen.at(start[from], start[to]) + (beyond[0] + beyond[1]);
            return (flow, ROUNDING * (beyond[0].abs() + beyond[1].abs()), 2);
        }
        let reads = link.reads.len();
        if link.law.is_linear() {
            for (r, node) in self.read.iter_mut().zip(&link.reads) {
                *r = start[node.0];
            }
            let at_start = link.law.flow(input.time, &self.read[..reads], &mut self.gradient[..reads]);
            let terms = || self.gradient[..reads].iter().zip(link.reads.iter().map(|node| rise[node.0]));
            let beyond: f64 = terms().map(|(g, d)| g * d).sum();
            return (at_start + beyond, ROUNDING * terms().fold(0.0, size), reads);
        }
        for (r, node) in self.read.iter_mut().zip(&link.reads) {
            *r = start[node.0] + rise[node.0];
        }
        let flow = link.law.flow(input.time, &self.read[..reads], &mut self.gradient[..reads]);
        // A flow is a difference of temperatures: it cannot be better than their rounding.
        let rounding = self.gradient[..reads].iter().zip(self.read.iter().copied()).fold(0.0, size);
        (flow, ROUNDING * rounding, reads)
    }

    /// Residual of the free nodes (into `self.residual`) and, if asked, the Jacobian (into `self.lu`); returns the
    /// largest residual relative to the terms it is the sum of. Where all is linear nobody asks for that, and it is left
    /// at what is not a patch's.
    fn assemble(&mut self, input: &StageInput<'_>, rise: &[f64], flows: &mut [f64], jacobian: bool) -> f64 {
        let network = self.network;
        if jacobian {
            self.lu.clear(self.free.len());
        }
        let (mut stiffest, mut capacity) = (0.0_f64, 0.0);
        for (u, node) in self.free.iter().enumerate() {
            let enthalpy = &self.bodies[*node];
            let (t, d) = (input.start.nodes[*node], rise[*node]);
            let own = input.capacity_factor * (enthalpy.rise(t, d) + self.port_capacity[*node] * d);
            self.residual[u] = own - input.node_rhs[*node];
            self.magnitude[u] = own.abs() + input.node_rhs[*node].abs();
            if jacobian {
                let own = enthalpy.capacity(t + d) + self.port_capacity[*node];
                capacity += own;
                self.lu.add(u, u, input.capacity_factor * own);
            }
        }
        for (i, patch) in network.patches.iter().enumerate() {
            let n = patch.ports.len();
            let condensed = &self.condensed[i][0];
            for (p, port) in patch.ports.iter().enumerate() {
                let Some(u) = self.unknown_of[port.node.0] else { continue };
                let row = &condensed.port_matrix[p * n..(p + 1) * n];
                let on_port = self.interior_on_port[i][p];
                let terms = || row.iter().zip(&patch.ports).map(|(s, other)| (s, other.node.0));
                let at_port = condensed.at_port(p, |q| rise[patch.ports[q].node.0]);
                self.residual[u] += patch.weight * (on_port + at_port);
                if !self.active_linear {
                    let size = |s: &f64, other: usize| {
                        (s * rise[other]).abs() + ROUNDING * (s * input.start.nodes[other]).abs()
                    };
                    let sizes = terms().map(|(s, other)| size(s, other)).sum::<f64>();
                    self.magnitude[u] += patch.weight.abs() * (on_port.abs() + sizes);
                }
                if jacobian {
                    for (s, other) in terms() {
                        if let Some(v) = self.unknown_of[other] {
                            self.lu.add(u, v, patch.weight * s);
                            if v != u {
                                stiffest = stiffest.max((patch.weight * s).abs());
                            }
                        }
                    }
                }
            }
        }
        for (l, link) in network.links.iter().enumerate() {
            if !self.active[l] {
                flows[l] = 0.0;
                continue;
            }
            let (flow, rounding, reads) = self.flow_in(l, input, rise);
            flows[l] = flow;
            let two = [link.from, link.to];
            let nodes: &[_] = if self.frozen[l].is_some() { &two } else { &link.reads };
            for (end, sign) in [(link.from, 1.0), (link.to, -1.0)] {
                let Some(u) = self.unknown_of[end.0] else { continue };
                self.residual[u] += sign * input.tau * flow;
                self.magnitude[u] += input.tau * (flow.abs() + rounding);
                if jacobian {
                    for (g, node) in self.gradient[..reads].iter().zip(nodes) {
                        if let Some(v) = self.unknown_of[node.0] {
                            stiffest = stiffest.max((input.tau * g).abs());
                            self.lu.add(u, v, sign * input.tau * g);
                        }
                    }
                }
            }
        }
        if jacobian {
            self.stiff = stiffest > STIFF * capacity;
        }
        self.residual
            .iter()
            .zip(&self.magnitude)
            .map(|(r, m)| if *m > 0.0 { r.abs() / m } else { r.abs() })
            .fold(0.0, |a: f64, b| if b.is_nan() { f64::INFINITY } else { a.max(b) })
    }

    /// Applies the inverse of the last stage's matrix to a defect (J, J per unit weight): the filtered error, without end
    /// where that matrix is singular.
    pub(crate) fn filter(&mut self, node_defect: &[f64], interior: &mut PerPatch, node_error: &mut [f64]) {
        // Where a law or a body is no straight line, the matrix at the answer was only looked at.
        if !self.lu.is_factored() && !self.lu.factor() {
            return node_error.fill(f64::INFINITY);
        }
        self.solve_interiors(interior);
        for (u, node) in self.free.iter().enumerate() {
            self.residual[u] = node_defect[*node];
        }
        for (i, patch) in self.network.patches.iter().enumerate() {
            for (p, port) in patch.ports.iter().enumerate() {
                if let Some(u) = self.unknown_of[port.node.0] {
                    self.residual[u] -= patch.weight * self.interior_on_port[i][p];
                }
            }
        }
        self.lu.solve(&mut self.residual);
        node_error.fill(0.0);
        for (u, node) in self.free.iter().enumerate() {
            node_error[*node] = self.residual[u];
        }
        for (i, patch) in self.network.patches.iter().enumerate() {
            let m = patch.interior_len();
            let n = patch.ports.len();
            for (v, port) in self.port_values.iter_mut().zip(&patch.ports) {
                *v = node_error[port.node.0];
            }
            self.condensed[i][0].expand(&mut interior[i][..m], &self.port_values[..n]);
        }
    }
}
