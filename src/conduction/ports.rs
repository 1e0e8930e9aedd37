//! What a wall looks like from its two faces, in full and in reduced form.

use ndarray::Array2;

use super::problem::{Accuracy, Problem, check_times};
use crate::error::{Error, Within};
use crate::march::{March, Pace, Phase, march};
use crate::network::reduce::{Aim, reduce};
use crate::units::Time;
use crate::units::bounds::number_in_range;

/// Shortest time scale that a reduction must get right, as a share of the first time asked for: the march begins far
/// below that time, and what it misses then shows later.
const SHORTEST: f64 = 0.03;

/// The form in which a wall takes part in a march.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Form {
    /// Every node of the mesh.
    Full,
    /// A few modes that answer at the faces like the full wall, to this relative error of the heat at its faces,
    /// 1e-10 to 0.1, for time scales from a thirtieth of the first time asked for to the last. Constant properties only.
    Reduced(f64),
}

/// Temperatures and heat at the faces of a wall.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct PortHistory {
    /// Temperature of each face, K: time by face (inner, outer; a solid wall has only the outer).
    pub temperature: Array2<f64>,
    /// Heat into the wall through each face per extent, W.
    pub heat: Array2<f64>,
    /// Interior unknowns that were marched.
    pub states: usize,
    /// Largest relative error of the port admittance over the time scales; zero for the full form.
    pub reduction_error: f64,
    /// Largest imbalance of the heat account at any step end, as [`Transient::ledger_residual`](super::Transient).
    pub ledger_residual: f64,
}

impl Problem {
    /// Marches the wall on one mesh in the given form and tells what happens at its faces. Both forms take the same
    /// steps, so that their difference is the error of the reduction alone.
    ///
    /// # Errors
    /// As [`Problem::march_on`]; [`ErrorKind::NoConvergence`](crate::ErrorKind) if the reduction does not reach its
    /// tolerance, [`ErrorKind::Inconsistent`](crate::ErrorKind) for a wall that cannot be reduced: with properties
    /// that follow temperature, or with sources.
    pub fn ports(
        &self,
        times: &[Time],
        cells_per_layer: &[usize],
        form: Form,
        accuracy: &Accuracy,
    ) -> Result<PortHistory, Error> {
        accuracy.check().within("accuracy")?;
        self.check_cells(cells_per_layer)?;
        let times = check_times(times)?;
        let tolerance = accuracy.step_share() * self.swing();
        let adaptive = Pace::Adaptive { tolerance, field_tolerance: tolerance };
        let (_, sequence) = self.run(&times, cells_per_layer, accuracy.unfollowed(), accuracy.steps, &adaptive)?;

        let (mut network, _, places) = self.network(cells_per_layer, accuracy.unfollowed())?;
        let mut reduction_error = 0.0;
        if let Form::Reduced(tolerance) = form {
            number_in_range("tolerance", tolerance, 1e-10, 0.1).within("form")?;
            let first = times.iter().copied().find(|t| *t > 0.0).unwrap_or(1.0);
            let patch = &network.patches[places.patch.0];
            let aim = Aim { tolerance, scales: [SHORTEST * first, times[times.len() - 1]] };
            let (reduced, error) = reduce(patch, aim).within("form")?;
            reduction_error = error;
            network.patches[places.patch.0] = reduced;
        }
        let phases =
            [Phase { end: times[times.len() - 1], active: vec![true; network.links.len()], events: Vec::new() }];
        let plan = March { phases: &phases, start: 0.0, snapshots: &times, step_bound: accuracy.steps };
        let (history, _) = march(&network, &plan, &Pace::Replay { sequence: &sequence, split: 1 })?;

        let patch = &network.patches[places.patch.0];
        let (m, ports) = (patch.interior_len(), patch.ports.len());
        let mut temperature = Array2::zeros((times.len(), ports));
        let mut heat = Array2::zeros((times.len(), ports));
        let mut inflow = vec![0.0; patch.len()];
        for (k, snapshot) in history.snapshots.iter().enumerate() {
            let t = &snapshot.patches[places.patch.0];
            patch.inflow(t, &mut inflow);
            for p in 0..ports {
                temperature[(k, p)] = t[m + p];
                // What the port takes up beyond what the interior brings it came in from outside.
                let taken = patch.capacity[m + p] * snapshot.rates[places.patch.0][m + p];
                heat[(k, p)] = taken - inflow[m + p];
            }
        }
        Ok(PortHistory { temperature, heat, states: m, reduction_error, ledger_residual: history.worst_residual })
    }
}
