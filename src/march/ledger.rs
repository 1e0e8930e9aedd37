//! Where the heat went: an account kept from the very flows that moved the temperatures.

use super::step::Moved;
use super::system::{State, System};
use crate::network::{Node, StoreId};

/// Heat in J since the start of the march. Stored heat counts from the start state.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Ledger {
    /// Net heat that left to reservoirs, per path (heat that came from a reservoir counts negative).
    pub(crate) lost_by_path: Vec<f64>,
    /// Heat that came in through patch ports that sit on a reservoir, per node.
    pub(crate) given_by_reservoir: Vec<f64>,
    /// Rise of the enthalpy that belongs to each node itself.
    pub(crate) stored_in_node: Vec<f64>,
    /// Rise of the heat in each patch, its port shares included.
    pub(crate) stored_in_patch: Vec<f64>,
    /// Heat released by sources.
    pub(crate) released: f64,
    /// Heat that events of the plan put in or took out, per path: lost counts positive.
    pub(crate) lost_by_event: Vec<f64>,
    /// Change of the water in each store since the start by what links carried, kg.
    pub(crate) water: Vec<f64>,
    /// Water taken out of each store with servings, kg.
    taken: Vec<f64>,
    /// Water that left the network, kg.
    pub(crate) water_lost: f64,
    /// Water that moved at all, kg.
    pub(crate) water_moved: f64,
    /// Sum of the magnitudes of everything that moved: through links, from reservoirs and sources, and into or out of
    /// each patch (which a body in perfect contact heats without any link).
    pub(crate) moved: f64,
}

impl Ledger {
    pub(crate) fn new(system: &System<'_>) -> Self {
        let network = system.network;
        Ledger {
            lost_by_path: vec![0.0; network.paths()],
            given_by_reservoir: vec![0.0; network.nodes.len()],
            stored_in_node: vec![0.0; network.nodes.len()],
            stored_in_patch: vec![0.0; network.patches.len()],
            released: 0.0,
            lost_by_event: vec![0.0; network.paths()],
            water: vec![0.0; network.stores.len()],
            water_lost: 0.0,
            taken: vec![0.0; network.stores.len()],
            water_moved: 0.0,
            moved: 0.0,
        }
    }

    /// Books one accepted step from `state` (before it is moved).
    pub(crate) fn book(&mut self, system: &System<'_>, state: &State, moved: &Moved) {
        let network = system.network;
        for (l, link) in network.links.iter().enumerate() {
            let heat = moved.link_heat[l];
            let reservoir = |n: usize| matches!(network.nodes[n], Node::Reservoir(_));
            let sign = f64::from(u8::from(reservoir(link.to.0))) - f64::from(u8::from(reservoir(link.from.0)));
            self.lost_by_path[link.path.0] += sign * heat;
            self.moved += heat.abs();
        }
        for (i, heat) in moved.reservoir_heat.iter().enumerate() {
            self.given_by_reservoir[i] += heat;
            self.moved += heat.abs();
        }
        self.released += moved.source_heat;
        self.moved += moved.source_heat.abs();
        self.store(system, state, &moved.node_rise, &moved.patch_rise);
    }

    /// Books rises of temperature as stored heat and returns their sum.
    pub(crate) fn store(&mut self, system: &System<'_>, state: &State, nodes: &[f64], patches: &[Vec<f64>]) -> f64 {
        let mut total = 0.0;
        for (i, node) in system.network.nodes.iter().enumerate() {
            if let Node::Free { .. } = node {
                let heat = system.body(i).rise(state.nodes[i], nodes[i]);
                self.stored_in_node[i] += heat;
                total += heat;
            }
        }
        for (i, patch) in system.network.patches.iter().enumerate() {
            let per_unit = system.coefficients[i].heat();
            let heat: f64 = patch.weight * per_unit.iter().zip(&patches[i]).map(|(c, d)| c * d).sum::<f64>();
            self.stored_in_patch[i] += heat;
            self.moved += heat.abs();
            total += heat;
        }
        total
    }

    /// Books the water of one accepted step, as much as goes with the heat that moved, and moves the heat capacity with it.
    pub(crate) fn book_water(&mut self, system: &mut System<'_>, moved: &Moved) {
        let network = system.network;
        for (l, link) in network.links.iter().enumerate() {
            let (Some(way), Some(frozen), true) = (link.water, system.frozen[l], system.is_active(l)) else { continue };
            // Links are rationed by what they were foreseen to carry: that may fall short by a trace.
            let holds = |end: Option<StoreId>| end.map_or(f64::INFINITY, |s| self.held(system, s.0).max(0.0));
            let mass = (frozen.water * moved.link_heat[l]).clamp(-holds(way.to), holds(way.from));
            self.water_moved += mass.abs();
            for (end, mass) in [(way.from, -mass), (way.to, mass)] {
                match end {
                    Some(store) => {
                        let held = self.held(system, store.0);
                        match network.wet.iter().find(|(wet, _)| *wet == store) {
                            Some((_, patch)) => system.add_water_to_patch(patch.0, mass),
                            None => system.add_water(network.stores[store.0].node.0, mass, held),
                        }
                        self.water[store.0] += mass;
                    }
                    None => self.water_lost += mass,
                }
            }
        }
    }

    /// Takes a share of the water at a node out with a serving.
    pub(crate) fn take_water(&mut self, system: &System<'_>, node: usize, share: f64) {
        for (store, _) in system.network.stores.iter().enumerate().filter(|(_, s)| s.node.0 == node) {
            self.taken[store] += share * self.held(system, store);
        }
    }

    /// Water in a store, kg.
    pub(crate) fn held(&self, system: &System<'_>, store: usize) -> f64 {
        system.network.stores[store].start + self.water[store] - self.taken[store]
    }

    /// What links took from the stores less what left the network, kg: zero but for rounding.
    pub(crate) fn water_residual(&self) -> f64 {
        -self.water.iter().sum::<f64>() - self.water_lost
    }

    /// What came in less what is stored less what was lost, J: zero but for rounding.
    pub(crate) fn residual(&self) -> f64 {
        let given: f64 = self.given_by_reservoir.iter().sum::<f64>() + self.released;
        let stored: f64 = self.stored_in_node.iter().sum::<f64>() + self.stored_in_patch.iter().sum::<f64>();
        let lost: f64 = self.lost_by_path.iter().chain(&self.lost_by_event).sum();
        given - stored - lost
    }
}
