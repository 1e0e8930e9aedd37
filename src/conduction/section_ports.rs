//! One march of a section on one mesh, read at its ports, and its steady state there: for sweeps, and for those who judge
//! the error themselves.

use super::ports::{Form, PortHistory};
use super::problem::check_times;
use super::section_problem::SectionProblem;
use super::wall_patch::RELINEARISE;
use crate::error::{Error, Within};
use crate::march::{March, Pace, Phase, march, steady};
use crate::network::reduce::reduce;
use crate::units::bounds::in_range;
use crate::units::{TemperatureInterval, Time, kelvins};

/// Most steps of a march.
const STEPS: usize = 200_000;

impl SectionProblem {
    /// Marches the section once in the given form, on a mesh with so many equal cells between each two of
    /// [`SectionProblem::lines`], with at most `step_error` (1e-9 to 100 K) of estimated error a step. The reduced form costs
    /// a few factors of the matrix and then next to nothing, whatever happens at the ports; the full form needs a factor
    /// for every length of step. The answer carries no error of mesh and steps.
    ///
    /// # Errors
    /// As [`SectionProblem::march_on`]; [`ErrorKind::NoConvergence`](crate::ErrorKind) if the reduction does not reach its
    /// tolerance, [`ErrorKind::Inconsistent`](crate::ErrorKind) for a section that cannot be reduced: with properties or
    /// films that follow temperature, with a prescribed flux, or with sources.
    pub fn ports(
        &self,
        times: &[Time],
        cells: [&[usize]; 2],
        form: Form,
        step_error: TemperatureInterval,
    ) -> Result<PortHistory, Error> {
        let times = check_times(times)?;
        let tolerance = in_range("step error", step_error, kelvins(1e-9), kelvins(100.0))?;
        let aim = form.aim(&times)?;
        let relinearise = RELINEARISE.min(tolerance / self.swing(true));
        let patch = self.patch(&self.plan_of(cells)?, 1)?;
        let (mut network, places) = self.network(&patch, relinearise)?;
        let mut reduction_error = 0.0;
        if let Some(aim) = aim {
            let piece = &mut network.patches[places.patch.0];
            (*piece, reduction_error) = reduce(piece, aim).within("form")?;
        }
        let phases =
            [Phase { end: times[times.len() - 1], active: vec![true; network.links.len()], events: Vec::new() }];
        let plan = March { phases: &phases, start: 0.0, snapshots: &times, step_bound: STEPS };
        let pace = Pace::Adaptive { tolerance, field_tolerance: tolerance };
        let (history, _) = march(&network, &plan, &pace)?;
        Ok(PortHistory::of(&network, places.patch, &history, reduction_error))
    }

    /// Heat through each port into the section, W per extent, when it has settled with its boundary as it is at time zero:
    /// in the order of [`PortHistory`], on a mesh of one's own and without an error.
    ///
    /// # Errors
    /// As [`SectionProblem::steady_on`].
    pub fn steady_ports(&self, cells: [&[usize]; 2]) -> Result<Vec<f64>, Error> {
        self.check_settles()?;
        let patch = self.patch(&self.plan_of(cells)?, 1)?;
        let (network, places) = self.network(&patch, RELINEARISE)?;
        let state = steady(&network, 0.0, &vec![true; network.links.len()])?;
        let (piece, t) = (&network.patches[places.patch.0], &state.patches[places.patch.0]);
        let (mut inflow, mut released) = (vec![0.0; piece.len()], vec![0.0; piece.len()]);
        piece.inflow(t, &mut inflow);
        piece.sources_at(0.0, false, &mut released);
        Ok(piece.ports.iter().map(|port| -inflow[port.local] - released[port.local]).collect())
    }
}
