//! Nodes: well-stirred bodies and surfaces, or reservoirs of prescribed temperature.

use super::Signal;

/// A point of the network with one temperature.
#[derive(Debug, Clone)]
pub(crate) enum Node {
    /// A body (or, with [`Enthalpy::None`], a bare surface that owns only what its ports bring).
    Free {
        /// Enthalpy of the body itself.
        enthalpy: Enthalpy,
        /// Start temperature, K. A surface shared with ports starts at the capacity-weighted mean.
        start: f64,
    },
    /// Temperature prescribed in time, K.
    Reservoir(Signal),
}

/// Enthalpy of a node as a function of its temperature, in J, from an arbitrary zero.
#[derive(Debug, Clone)]
pub(crate) enum Enthalpy {
    /// No heat stored in the node itself.
    None,
    /// Constant heat capacity, J/K.
    Capacity(f64),
}

impl Enthalpy {
    /// dH/dT at `t` K, J/K.
    pub(crate) fn capacity(&self, _t: f64) -> f64 {
        match self {
            Enthalpy::None => 0.0,
            Enthalpy::Capacity(c) => *c,
        }
    }

    /// H(t + d) - H(t), J.
    pub(crate) fn rise(&self, _t: f64, d: f64) -> f64 {
        match self {
            Enthalpy::None => 0.0,
            Enthalpy::Capacity(c) => c * d,
        }
    }
}
