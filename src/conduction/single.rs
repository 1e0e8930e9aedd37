//! One march on one mesh, without an error of its own: for sweeps, and for those who judge the error themselves.

use super::probe::Probe;
use super::problem::{Accuracy, Problem, check_times};
use super::transient::Run;
use super::wall_patch::RELINEARISE;
use crate::error::{Error, ErrorKind, Within};
use crate::march::{Pace, Statistics};
use crate::units::bounds::in_range;
use crate::units::{TemperatureInterval, Time, kelvins};

/// The answer to [`Problem::march_single`].
#[derive(Debug)]
pub struct Single<'p> {
    problem: &'p Problem,
    run: Run,
}

impl Problem {
    /// Marches once on a mesh with these numbers of equal cells in the layers, with at most `step_error` (1e-9 to
    /// 100 K) of estimated error a step in any temperature. The answer carries no error estimate.
    ///
    /// # Errors
    /// As [`Problem::march_on`].
    pub fn march_single(
        &self,
        times: &[Time],
        cells_per_layer: &[usize],
        step_error: TemperatureInterval,
    ) -> Result<Single<'_>, Error> {
        self.check_cells(cells_per_layer)?;
        let tolerance = in_range("step error", step_error, kelvins(1e-9), kelvins(100.0))?;
        let pace = Pace::Adaptive { tolerance, field_tolerance: tolerance };
        let steps = Accuracy::default().steps;
        // Coefficients are followed as closely as temperatures.
        let relinearise = RELINEARISE.min(tolerance / self.swing());
        let (run, _) = self.run(&check_times(times)?, cells_per_layer, relinearise, steps, &pace)?;
        Ok(Single { problem: self, run })
    }
}

impl Single<'_> {
    /// The value of a probe at the time with the given index, K or W/m².
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a time or place that is not there.
    pub fn read(&self, probe: Probe, time: usize) -> Result<f64, Error> {
        let snapshots = &self.run.history.snapshots;
        let snapshot = snapshots.get(time).ok_or_else(|| {
            Error::new(ErrorKind::OutOfRange, "no such time")
                .with_value(time.to_string())
                .with_accepted(format!("0 to {}", snapshots.len().saturating_sub(1)))
                .within("time index")
        })?;
        probe.check(self.problem.wall(), &self.run).within("probe")?;
        Ok(probe.read(self.problem.wall(), &self.run, snapshot))
    }

    /// Work done.
    pub fn statistics(&self) -> Statistics {
        self.run.history.statistics
    }
}
