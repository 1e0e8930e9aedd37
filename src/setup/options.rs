//! How a forecast is computed, and how much work it may cost.

use crate::error::{Error, Within};
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{TemperatureInterval, Time, days, hours, kelvins, minutes};

/// Options of a forecast.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Options {
    /// Wanted error of a single time step in the pot temperature, 1e-6 to 1 K. Default 0.02 K; the reported
    /// numerical error of the whole curve comes out of comparing meshes and steps and is usually smaller. The ends of the
    /// range, which nothing corrects, take half of it.
    pub step_error: TemperatureInterval,
    /// Cells across the thickness of each wall on the coarsest of the three meshes, 3 to 200. Default 8. They are finer
    /// towards the inside. Sections of solved edges may have 150 000 nodes, which some 45 of them reach.
    pub cells: usize,
    /// How long to follow the pot after shutting, 1 min to 60 days. Default 48 h.
    pub horizon: Time,
    /// Most time steps of one march, 10 to 1e7. Default 20 000: a bound on work.
    pub steps: usize,
    /// On how many threads the marches of one forecast are computed, up to 1024; 0, the default, for as many as the machine
    /// runs at once. The answers are the same bits for any number.
    pub threads: usize,
}

impl Default for Options {
    fn default() -> Self {
        Options { step_error: kelvins(0.02), cells: 8, horizon: hours(48.0), steps: 20_000, threads: 0 }
    }
}

impl Options {
    /// The default with another horizon.
    #[must_use]
    pub fn horizon(horizon: Time) -> Self {
        Options { horizon, ..Options::default() }
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let check = || {
            in_range("step error", self.step_error, kelvins(1e-6), kelvins(1.0))?;
            number_in_range("cells", self.cells as f64, 3.0, 200.0)?;
            in_range("horizon", self.horizon, minutes(1.0), days(60.0))?;
            number_in_range("steps", self.steps as f64, 10.0, 1e7)?;
            number_in_range("threads", self.threads as f64, 0.0, 1024.0)
        };
        check().map(|_| ()).within("options")
    }
}
