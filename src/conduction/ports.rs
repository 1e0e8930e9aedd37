//! What a wall or a section looks like from where it meets the rest, in full and in reduced form.

use ndarray::Array2;

use super::problem::{Accuracy, Problem, check_times};
use crate::error::{Error, Within};
use crate::march::{History, March, Pace, Phase, Statistics, march};
use crate::network::reduce::{Aim, reduce};
use crate::network::{Network, PatchId};
use crate::units::Time;
use crate::units::bounds::number_in_range;

/// Shortest time scale that a reduction must get right, as a share of the first time asked for: the march begins far
/// below that time, and what it misses then shows later.
const SHORTEST: f64 = 0.03;

/// The form in which a wall or a section takes part in a march.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Form {
    /// Every node of the mesh.
    Full,
    /// A few modes that answer at the ports like the full form, to this relative error of the heat there, 1e-10 to 0.1, for time scales from a thirtieth of the first time asked for to the last. Constant properties only.
    Reduced(f64),
}

impl Form {
    /// What is asked of a reduction for these times; nothing for the full form.
    pub(super) fn aim(self, times: &[f64]) -> Result<Option<Aim>, Error> {
        let Form::Reduced(tolerance) = self else { return Ok(None) };
        number_in_range("tolerance", tolerance, 1e-10, 0.1).within("form")?;
        let first = times.iter().copied().find(|t| *t > 0.0).unwrap_or(1.0);
        Ok(Some(Aim { tolerance, scales: [SHORTEST * first, times[times.len() - 1]] }))
    }
}

/// Temperatures and heat at the ports of a wall or a section: a wall has them at its faces, a section at every part of its
/// boundary that is neither insulated nor given a flux, in their order (two where a part convects and radiates: to the
/// air, then to the radiant surroundings).
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct PortHistory {
    /// Temperature of each port, K: time by port (of a wall inner and outer face; a solid one has only the outer).
    pub temperature: Array2<f64>,
    /// Heat through each port into the wall or section per extent, W.
    pub heat: Array2<f64>,
    /// Interior unknowns that were marched.
    pub states: usize,
    /// Largest relative error of the port admittance over the time scales; zero for the full form.
    pub reduction_error: f64,
    /// Largest imbalance of the heat account at any step end, as [`Transient::ledger_residual`](super::Transient).
    pub ledger_residual: f64,
    /// Work done by the march; that of a reduction before it is not counted.
    pub statistics: Statistics,
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
        if let Some(aim) = form.aim(&times)? {
            (network.patches[places.patch.0], reduction_error) =
                reduce(&network.patches[places.patch.0], aim).within("form")?;
        }
        let phases =
            [Phase { end: times[times.len() - 1], active: vec![true; network.links.len()], events: Vec::new() }];
        let plan = March { phases: &phases, start: 0.0, snapshots: &times, step_bound: accuracy.steps };
        let (history, _) = march(&network, &plan, &Pace::Replay { sequence: &sequence, split: 1 })?;

        Ok(PortHistory::of(&network, places.patch, &history, reduction_error))
    }
}

impl PortHistory {
    /// What the snapshots of a march tell of the ports of a patch.
    pub(super) fn of(network: &Network, patch: PatchId, history: &History, reduction_error: f64) -> Self {
        let number = patch.0;
        let patch = &network.patches[number];
        let (m, ports) = (patch.interior_len(), patch.ports.len());
        let mut temperature = Array2::zeros((history.snapshots.len(), ports));
        let mut heat = Array2::zeros((history.snapshots.len(), ports));
        let mut inflow = vec![0.0; patch.len()];
        for (k, snapshot) in history.snapshots.iter().enumerate() {
            let t = &snapshot.patches[number];
            patch.inflow(t, &mut inflow);
            for p in 0..ports {
                temperature[(k, p)] = t[m + p];
                // What the port takes up beyond what the interior brings and what is released there came in from outside.
                let taken = patch.capacity[m + p] * snapshot.rates[number][m + p];
                heat[(k, p)] = taken - inflow[m + p] - snapshot.released[number][m + p];
            }
        }
        let (statistics, ledger_residual) = (history.statistics, history.worst_residual);
        PortHistory { temperature, heat, states: m, reduction_error, ledger_residual, statistics }
    }
}
