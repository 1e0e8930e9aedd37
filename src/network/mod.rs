//! One thermal network for everything: nodes, patches of wall with ports, links, reservoirs.
//!
//! Plain `f64` in SI units, temperatures in kelvin. Nothing here knows what the parts are: a wall, a section, a pot
//! or a leak *attaches itself* by adding nodes, patches and links.
//!
//! * A **node** is either free (a well-stirred body with enthalpy, or a bare surface) or a **reservoir** whose
//!   temperature is prescribed in time.
//! * A **patch** is a piece of wall, linear within a step, symmetric, that meets the rest only at its **ports**;
//!   every port sits on a node, several ports may share one (perfect contact), and a port on a reservoir is a
//!   prescribed surface temperature. A patch counts `weight` times (an area, a length, a number of pieces).
//! * A **link** carries heat between two nodes; its law names the nodes whose temperatures it reads.
//! * Every link belongs to a **path**, the unit in which heat is accounted for.

mod grid;
mod held;
pub(crate) mod link;
pub(crate) mod node;
pub(crate) mod patch;
mod projection;
pub(crate) mod reduce;
pub(crate) mod shelf;
pub(crate) mod signal;

pub(crate) use grid::Grid;
pub(crate) use held::Held;
pub(crate) use link::{Frozen, Given, Law, Link, WaterWay};
pub(crate) use node::{Enthalpy, Node};
pub(crate) use patch::{Interior, Patch, Port, Properties, Source};
pub(crate) use signal::Signal;

use crate::error::{Error, ErrorKind};

/// A node of a [`Network`], by position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct NodeId(pub(crate) usize);

/// A path of the heat ledger, by position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct PathId(pub(crate) usize);

/// A link, by position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct LinkId(pub(crate) usize);

/// A patch, by position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct PatchId(pub(crate) usize);

/// A store of water, by position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct StoreId(pub(crate) usize);

/// Liquid water that a body holds: its mass moves, and with it the heat capacity of the body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Store {
    /// The body.
    pub(crate) node: NodeId,
    /// Mass at the start, kg (already counted in the enthalpy of the node).
    pub(crate) start: f64,
}

/// Heat capacity of liquid water that comes and goes, J/(kg K); within 1 % from 20 to 100 °C (IAPWS).
pub(crate) const WATER_HEAT_CAPACITY: f64 = 4190.0;

/// The parts and how they hang together. Built once, then only read.
#[derive(Debug, Default)]
pub(crate) struct Network {
    pub(crate) nodes: Vec<Node>,
    pub(crate) patches: Vec<Patch>,
    pub(crate) links: Vec<Link>,
    pub(crate) stores: Vec<Store>,
    /// Stores whose water is part of a patch: it shrinks as they give it away.
    pub(crate) wet: Vec<(StoreId, PatchId)>,
    /// Patches whose coldest spot is recorded.
    pub(crate) followed: Vec<PatchId>,
    /// The patch that is a body of its own, whose mean is recorded.
    pub(crate) body: Option<PatchId>,
    paths: usize,
}

impl Network {
    /// Adds a node.
    pub(crate) fn node(&mut self, node: Node) -> NodeId {
        self.nodes.push(node);
        NodeId(self.nodes.len() - 1)
    }

    /// Adds a path to account heat under.
    pub(crate) fn path(&mut self) -> PathId {
        self.paths += 1;
        PathId(self.paths - 1)
    }

    /// Adds a patch whose ports sit on nodes added before.
    pub(crate) fn patch(&mut self, patch: Patch) -> PatchId {
        self.patches.push(patch);
        PatchId(self.patches.len() - 1)
    }

    /// Adds a link.
    pub(crate) fn link(&mut self, link: Link) -> LinkId {
        self.links.push(link);
        LinkId(self.links.len() - 1)
    }

    /// Adds a store of water.
    pub(crate) fn store(&mut self, store: Store) -> StoreId {
        self.stores.push(store);
        StoreId(self.stores.len() - 1)
    }

    /// How many paths there are.
    pub(crate) fn paths(&self) -> usize {
        self.paths
    }

    /// Heat capacity gathered at each node at its temperature `t` (own enthalpy and its ports), J/K.
    pub(crate) fn node_capacity(&self, node: usize, t: f64) -> f64 {
        let own = match &self.nodes[node] {
            Node::Free { enthalpy, .. } => enthalpy.capacity(t),
            Node::Reservoir(_) => 0.0,
        };
        let ports: f64 = self
            .patches
            .iter()
            .flat_map(|p| p.ports.iter().filter(move |port| port.node.0 == node).map(move |port| (p, port)))
            .map(|(p, port)| p.weight * p.capacity[port.local])
            .sum();
        own + ports
    }

    /// Checks what the marching code relies on.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] if a free node has no heat capacity or a capacity or conductance is not a
    /// finite non-negative number.
    pub(crate) fn check(&self) -> Result<(), Error> {
        for (i, node) in self.nodes.iter().enumerate() {
            if let Node::Free { start, .. } = node {
                let c = self.node_capacity(i, *start);
                if !(c > 0.0 && c.is_finite()) {
                    return Err(Error::new(ErrorKind::Inconsistent, "a body without heat capacity")
                        .with_value(format!("{c} J/K"))
                        .with_accepted("more than 0 J/K")
                        .within(format!("node {i}")));
                }
            }
        }
        for (i, patch) in self.patches.iter().enumerate() {
            patch.check().map_err(|e| e.within(format!("patch {i}")))?;
        }
        Ok(())
    }
}
