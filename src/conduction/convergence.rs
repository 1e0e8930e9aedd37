//! How a computed number approaches its limit when the mesh and the steps are refined: for those who check a solver.

use super::axis::share_cells;
use super::probe::Probe;
use super::problem::{Accuracy, Problem, check_times};
use crate::error::{Error, Within};
use crate::march::{Pace, Sequence};
use crate::units::Time;

/// One line of a convergence table.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct ConvergenceRow {
    /// Cells of the wall, or steps of the march.
    pub count: usize,
    /// The value, K or W/m².
    pub value: f64,
    /// Change from the row before.
    pub change: Option<f64>,
    /// Observed order: the change before over this change, as a power of two.
    pub order: Option<f64>,
}

/// A quantity on ever finer meshes with the same steps, and with ever shorter steps on the same mesh.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Convergence {
    /// Cells doubling from row to row.
    pub mesh: Vec<ConvergenceRow>,
    /// Steps doubling from row to row.
    pub steps: Vec<ConvergenceRow>,
}

/// Rows of each table.
const ROWS: u32 = 6;

impl Problem {
    /// The value of a probe at a time on six meshes (starting from `accuracy.cells`) and with six step lengths
    /// (starting from those that `accuracy` asks for).
    ///
    /// # Errors
    /// As [`Problem::march`], and as [`Transient::read`](super::Transient::read) for a probe that reads nothing.
    pub fn convergence(&self, time: Time, probe: Probe, accuracy: &Accuracy) -> Result<Convergence, Error> {
        accuracy.check().within("accuracy")?;
        let times = check_times(&[time])?;
        let base = share_cells(self.wall(), accuracy.cells);
        // Refuses a probe that reads nothing before the work is done.
        self.march_on(&[time], &base, accuracy)?.read(probe, 0)?;

        let tolerance = accuracy.step_share() * self.swing();
        let adaptive = Pace::Adaptive { tolerance, field_tolerance: tolerance };
        let relinearise = 1e-9;
        let value = |cells: &[usize], pace: &Pace<'_>| -> Result<(f64, usize, Sequence), Error> {
            let (run, sequence) = self.run(&times, cells, relinearise, usize::MAX, pace)?;
            let value = probe.read(self.wall(), &run, &run.history.snapshots[0]);
            Ok((value, run.history.statistics.steps, sequence))
        };
        let (_, _, sequence) = value(&base, &adaptive)?;
        let mut mesh = Vec::new();
        let mut steps = Vec::new();
        for doubling in 0..ROWS {
            let factor = 2_usize.pow(doubling);
            let finer: Vec<usize> = base.iter().map(|n| n * factor).collect();
            let (v, _, _) = value(&finer, &Pace::Replay { sequence: &sequence, split: 1 })?;
            mesh.push((finer.iter().sum(), v));
            let (v, count, _) = value(&base, &Pace::Replay { sequence: &sequence, split: factor })?;
            steps.push((count, v));
        }
        Ok(Convergence { mesh: rows(&mesh), steps: rows(&steps) })
    }
}

fn rows(values: &[(usize, f64)]) -> Vec<ConvergenceRow> {
    let change = |k: usize| (k > 0).then(|| values[k].1 - values[k - 1].1);
    (0..values.len())
        .map(|k| {
            let order = match (k.checked_sub(1).and_then(change), change(k)) {
                (Some(before), Some(now)) if before * now > 0.0 => Some((before / now).log2()),
                _ => None,
            };
            ConvergenceRow { count: values[k].0, value: values[k].1, change: change(k), order }
        })
        .collect()
}
