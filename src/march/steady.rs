//! The steady state of a network: the same condensed patches and the same Newton, without heat capacity.

use super::system::{PerPatch, StageInput, State, System};
use crate::error::{Error, ErrorKind};
use crate::network::patch::check_power;
use crate::network::{Network, Node};

/// A steady state.
#[derive(Debug, Clone)]
pub(crate) struct Steady {
    /// Temperature per patch and local unknown, K.
    pub(crate) patches: PerPatch,
}

const ITERATIONS: usize = 60;
/// After so many iterations conductances move only half-way, so that a relation that jumps settles at its jump.
const UNDAMPED: usize = 15;
/// Conductances are settled when they repeat this well.
const TOLERANCE: f64 = 1e-12;

/// Solves for the steady state at `time` with the given links active.
///
/// # Errors
/// [`ErrorKind::NoConvergence`] if there is none (nothing prescribes a temperature) or the iteration fails.
pub(crate) fn steady(network: &Network, time: f64, active: &[bool]) -> Result<Steady, Error> {
    let mut system = System::new(network)?;
    system.activate(active);
    let mut state = system.start(time);
    system.settle_grids(&mut state)?;
    system.freeze_links(time, &state.nodes, &[]);
    let n = network.nodes.len();
    let mut flows = vec![0.0; network.links.len()];
    let mut patch_heat = vec![0.0; n];
    let linear = system.is_linear() && network.patches.iter().all(|p| p.properties.is_none());
    for iteration in 0..ITERATIONS {
        let mut inflow: PerPatch = network.patches.iter().map(|p| vec![0.0; p.len()]).collect();
        let mut interior = inflow.clone();
        let mut node_rhs = vec![0.0; n];
        for (i, patch) in network.patches.iter().enumerate() {
            system.coefficients[i].inflow(&state.patches[i], &mut inflow[i]);
            let mut source = vec![0.0; patch.len()];
            patch.sources_at(time, false, &mut source);
            check_power(source.iter().sum(), time)?;
            for j in 0..patch.interior_len() {
                interior[i][j] = inflow[i][j] + source[j];
            }
            for port in &patch.ports {
                node_rhs[port.node.0] += patch.weight * (inflow[i][port.local] + source[port.local]);
            }
        }
        let mut rise: Vec<f64> = network
            .nodes
            .iter()
            .enumerate()
            .map(|(i, node)| match node {
                Node::Reservoir(signal) => signal.at(time) - state.nodes[i],
                Node::Free { .. } => 0.0,
            })
            .collect();
        let input = StageInput { tau: 1.0, capacity_factor: 0.0, time, start: &state, node_rhs: &node_rhs };
        // A start far from the answer may need several Newton runs, each from where the last one ended.
        system.solve_stage(&input, &mut rise, &mut interior, &mut flows, &mut patch_heat, &inflow)?;
        apply(&mut state, &rise, &interior);
        if linear {
            return Ok(Steady { patches: state.patches });
        }
        let mut changed = system.freeze_links_steady(time, &state.nodes);
        for (i, patch) in network.patches.iter().enumerate() {
            let Some(properties) = &patch.properties else { continue };
            let mut coefficients = system.coefficients[i].clone();
            properties.linearise(&state.patches[i], &state.patches[i], &mut coefficients);
            if iteration > UNDAMPED {
                coefficients.average(&system.coefficients[i]);
            }
            if coefficients.differs(&system.coefficients[i], TOLERANCE) {
                system.set_coefficients(i, &mut coefficients);
                changed = true;
            }
        }
        if !changed && iteration > 0 {
            return Ok(Steady { patches: state.patches });
        }
    }
    Err(Error::new(ErrorKind::NoConvergence, "the steady state did not settle")
        .with_value(format!("{ITERATIONS} iterations")))
}

fn apply(state: &mut State, rise: &[f64], patches: &PerPatch) {
    for (t, d) in state.nodes.iter_mut().zip(rise) {
        *t += d;
    }
    for (t, d) in state.patches.iter_mut().flatten().zip(patches.iter().flatten()) {
        *t += d;
    }
}
