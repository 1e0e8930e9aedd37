//! Links: heat between two nodes by a law that names what it reads.

use std::fmt::Debug;

use super::{NodeId, PathId, Signal, StoreId};

/// Heat flow as a function of the temperatures a link reads.
pub(crate) trait Law: Debug + Send + Sync {
    /// Heat flow from the first to the second node of the link in W at `time` s, given the temperatures in K of the
    /// nodes read, in their order. Puts the derivative with respect to each into `gradient` (W/K).
    fn flow(&self, time: f64, read: &[f64], gradient: &mut [f64]) -> f64;

    /// Times strictly inside (from, to), s, at which the law itself jumps.
    fn jumps(&self, _from: f64, _to: f64) -> Vec<f64> {
        Vec::new()
    }

    /// True if the law answers [`Law::frozen`].
    fn holds(&self) -> bool {
        false
    }

    /// For a law that is dear or moves slowly: its tangent at the given temperatures. It is asked for once a step, at
    /// the middle of it, and then holds through the step: second order in time, stable, and no iteration. `stores` tells what
    /// each store of water holds there, kg; a store that it does not name is empty.
    fn frozen(&self, _time: f64, _read: &[f64], _stores: &[f64]) -> Option<Frozen> {
        None
    }

    /// True if the flow is linear in what is read with coefficients that never change.
    fn is_linear(&self) -> bool {
        false
    }
}

/// The tangent of a flow that holds through one step.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Frozen {
    /// Temperatures of the two nodes of the link at which it was taken, K.
    pub(crate) at: [f64; 2],
    /// Flow there, W.
    pub(crate) flow: f64,
    /// Derivatives with respect to the first and second node, W/K.
    pub(crate) gradient: [f64; 2],
    /// Water carried with the heat, kg/J.
    pub(crate) water: f64,
}

impl Frozen {
    /// So much of it: flow and slopes, and the water with them.
    pub(crate) fn scale(&mut self, share: f64) {
        self.flow *= share;
        self.gradient = self.gradient.map(|g| share * g);
    }

    /// Flow at other temperatures of the two nodes, W.
    pub(crate) fn at(&self, from: f64, to: f64) -> f64 {
        self.flow + self.gradient[0] * (from - self.at[0]) + self.gradient[1] * (to - self.at[1])
    }
}

/// Where the water of a link comes from and goes to; none for outside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct WaterWay {
    /// Store it leaves.
    pub(crate) from: Option<StoreId>,
    /// Store it enters.
    pub(crate) to: Option<StoreId>,
}

/// Heat between `from` and `to`.
#[derive(Debug)]
pub(crate) struct Link {
    /// Heat leaves here when the flow is positive.
    pub(crate) from: NodeId,
    /// Heat arrives here.
    pub(crate) to: NodeId,
    /// The nodes whose temperatures the law reads.
    pub(crate) reads: Vec<NodeId>,
    /// The law.
    pub(crate) law: Box<dyn Law>,
    /// What the heat is accounted under.
    pub(crate) path: PathId,
    /// Stores between which the link moves water, if it does.
    pub(crate) water: Option<WaterWay>,
}

impl Link {
    /// A link that moves no water and reads the two nodes it joins.
    pub(crate) fn between(from: NodeId, to: NodeId, law: impl Law + 'static, path: PathId) -> Self {
        Link { from, to, reads: vec![from, to], law: Box::new(law), path, water: None }
    }

    /// A link of constant conductance in W/K.
    pub(crate) fn conductance(from: NodeId, to: NodeId, conductance: f64, path: PathId) -> Self {
        Link { from, to, reads: vec![from, to], law: Box::new(Conductance(conductance)), path, water: None }
    }
}

/// Constant conductance, W/K: reads the two nodes it joins.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Conductance(pub(crate) f64);

impl Law for Conductance {
    fn flow(&self, _time: f64, read: &[f64], gradient: &mut [f64]) -> f64 {
        gradient[0] = self.0;
        gradient[1] = -self.0;
        self.0 * (read[0] - read[1])
    }

    fn is_linear(&self) -> bool {
        true
    }
}

/// A flow prescribed in time, W times `scale`: reads nothing.
#[derive(Debug, Clone)]
pub(crate) struct Given {
    /// Flow density or flow.
    pub(crate) flow: Signal,
    /// Area or 1.
    pub(crate) scale: f64,
}

impl Law for Given {
    fn flow(&self, time: f64, _read: &[f64], _gradient: &mut [f64]) -> f64 {
        self.scale * self.flow.at(time)
    }

    fn jumps(&self, from: f64, to: f64) -> Vec<f64> {
        self.flow.jumps(from, to)
    }

    fn is_linear(&self) -> bool {
        self.flow.is_constant()
    }
}
