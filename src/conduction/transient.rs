//! What a marched wall can be asked: temperatures, fluxes and stored heat with their numerical error.

use ndarray::{Array1, ArrayView1};

use super::estimate::{Doubt, Estimate, Sample, combine};
use super::probe::Probe;
use super::problem::Places;
use super::wall_patch::WallPatch;
use crate::error::{Error, ErrorKind};
use crate::march::{History, Statistics};
use crate::network::Network;
use crate::units::{Energy, HeatFluxDensity, Length, Si, Temperature, TemperatureInterval, Time};
use crate::wall::{Contact, Wall};

/// One end of a wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Towards the warm room, the axis or the centre: before the first layer.
    Inner,
    /// Behind the last layer.
    Outer,
}

/// One march on one mesh.
#[derive(Debug)]
pub(crate) struct Run {
    pub(crate) network: Network,
    pub(crate) patch: WallPatch,
    pub(crate) places: Places,
    pub(crate) history: History,
}

/// The answer to [`Problem::march`](super::Problem::march): six marches that together tell value and error.
#[derive(Debug)]
pub struct Transient {
    wall: Wall,
    times: Vec<f64>,
    swing: f64,
    /// Conductance of all layers together, W/(m² K): turns a span of temperatures into the size of a flux.
    conductance: f64,
    /// Relative change of the coefficients that no march followed, in all that its weight in the answer makes of it.
    unfollowed: f64,
    /// As [`MARCHES`](super::estimate::MARCHES) has them.
    runs: Vec<Run>,
    /// Positions of the finest mesh, m.
    positions: Array1<f64>,
}

/// Rounding noise of a temperature, as a share of the swing.
const NOISE: f64 = 2e-12;
/// Fluxes are differences: their rounding is this much larger against their own scale.
const FLUX_NOISE: f64 = 100.0;

/// Sum of the magnitudes with which the six marches enter the answer, see [`combine`]: 4/3 and 1/3 of the meshes, 4/3 and
/// 1/3 of the steps, one to take their difference, and 16/9 four times for the mixed one.
pub(super) const WEIGHTS: f64 = 12.0;

impl Transient {
    /// `unfollowed` is the relative change of conductances and capacities that the marches did not follow. A conductance
    /// that is off by a share of itself puts temperatures off by at most that share of the swing, and a settled wall keeps
    /// it for ever: six marches that agree do not show it.
    pub(crate) fn new(wall: Wall, times: Vec<f64>, swing: f64, unfollowed: f64, runs: Vec<Run>) -> Self {
        let positions = Array1::from(runs[2].patch.axis().position.clone());
        let resistance: f64 =
            wall.layers().iter().map(|l| l.thickness().si() / l.material().conductivity().value().si()).sum();
        let varies = runs.iter().flat_map(|run| &run.network.patches).any(|patch| patch.properties.is_some());
        let unfollowed = if varies { WEIGHTS * unfollowed } else { 0.0 };
        Transient { wall, times, swing, conductance: 1.0 / resistance, unfollowed, runs, positions }
    }

    fn index(&self, time: usize) -> Result<usize, Error> {
        if time < self.times.len() {
            return Ok(time);
        }
        Err(Error::new(ErrorKind::OutOfRange, "no such time")
            .with_value(time.to_string())
            .with_accepted(format!("0 to {}", self.times.len() - 1))
            .within("time index"))
    }

    /// The value of a probe with its error, SI, without checks.
    fn estimate(&self, time: usize, probe: Probe) -> Estimate<f64> {
        let noise = NOISE * self.swing * if probe.is_flux() { FLUX_NOISE * self.conductance } else { 1.0 };
        let values = std::array::from_fn(|r| {
            let run = &self.runs[r];
            probe.read(&self.wall, run, &run.history.snapshots[time])
        });
        let sample = Sample::new(values);
        let mut estimate = combine(sample, noise, Doubt::SMOOTH);
        let scale = if probe.is_flux() { estimate.value.abs().max(self.swing * self.conductance) } else { self.swing };
        estimate.time_error += self.unfollowed * scale;
        estimate.error += self.unfollowed * scale;
        // Meshes that differ by little more than what was not followed show no order.
        if (sample.middle - sample.fine).abs() <= 4.0 / WEIGHTS * self.unfollowed * scale {
            estimate.order = None;
        }
        estimate
    }

    /// The value of a probe at the time with the given index, with its numerical error: K or W/m².
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] outside the wall, for a layer or a time that is not there;
    /// [`ErrorKind::Inconsistent`] for a body that is not there.
    pub fn read(&self, probe: Probe, time: usize) -> Result<Estimate<f64>, Error> {
        let time = self.index(time)?;
        probe.check(&self.wall, &self.runs[0])?;
        Ok(self.estimate(time, probe))
    }

    fn temperature_of(&self, probe: Probe, time: usize) -> Result<Estimate<Temperature, TemperatureInterval>, Error> {
        let e = self.read(probe, time)?;
        Ok(Estimate {
            value: Temperature::from_si(e.value),
            error: TemperatureInterval::from_si(e.error),
            mesh_error: TemperatureInterval::from_si(e.mesh_error),
            time_error: TemperatureInterval::from_si(e.time_error),
            order: e.order,
        })
    }

    /// The times asked for.
    pub fn times(&self) -> Vec<Time> {
        self.times.iter().map(|t| Time::from_si(*t)).collect()
    }

    /// Temperature at a coordinate (depth from the inner face of a flat wall, radius of a round one) and the time
    /// with the given index. On a joint: the inner side of it.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] outside the wall or the list of times.
    pub fn temperature(
        &self,
        position: Length,
        time: usize,
    ) -> Result<Estimate<Temperature, TemperatureInterval>, Error> {
        self.temperature_of(Probe::Temperature(position), time)
    }

    /// Temperature of one face of a layer (counted from 0 at the inside).
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a layer or time that is not there.
    pub fn face_temperature(
        &self,
        layer: usize,
        side: Side,
        time: usize,
    ) -> Result<Estimate<Temperature, TemperatureInterval>, Error> {
        self.temperature_of(Probe::Face(layer, side), time)
    }

    /// Temperature of the well-stirred body at an end.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] if there is none, [`ErrorKind::OutOfRange`] for a time that is not there.
    pub fn body_temperature(
        &self,
        side: Side,
        time: usize,
    ) -> Result<Estimate<Temperature, TemperatureInterval>, Error> {
        self.temperature_of(Probe::Body(side), time)
    }

    /// Heat flux at a coordinate in the direction of growing coordinate.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] outside the wall or the list of times.
    pub fn flux(&self, position: Length, time: usize) -> Result<Estimate<HeatFluxDensity>, Error> {
        let e = self.read(Probe::Flux(position), time)?;
        Ok(Estimate {
            value: HeatFluxDensity::from_si(e.value),
            error: HeatFluxDensity::from_si(e.error),
            mesh_error: HeatFluxDensity::from_si(e.mesh_error),
            time_error: HeatFluxDensity::from_si(e.time_error),
            order: e.order,
        })
    }

    /// Mean temperature of the wall, weighted by heat capacity.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a time that is not there.
    pub fn mean_temperature(&self, time: usize) -> Result<Estimate<Temperature, TemperatureInterval>, Error> {
        self.temperature_of(Probe::Mean, time)
    }

    /// Heat taken up by the wall since the start, per extent, as the ledger of the finest mesh has it.
    pub fn stored_heat(&self) -> Energy {
        let ledger = self.runs[2].history.ledger.as_ref();
        Energy::from_si(ledger.map_or(0.0, |l| l.stored_in_patch.iter().sum()))
    }

    /// Coordinates of the finest mesh, m.
    pub fn positions(&self) -> ArrayView1<'_, f64> {
        self.positions.view()
    }

    /// The whole field of the finest mesh at a time, K, in the order of [`Transient::positions`].
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a time that is not there.
    pub fn field(&self, time: usize) -> Result<Array1<f64>, Error> {
        let time = self.index(time)?;
        let run = &self.runs[2];
        let t = &run.history.snapshots[time].patches[run.places.patch.0];
        Ok((0..self.positions.len()).map(|node| t[run.patch.local(node)]).collect())
    }

    /// Largest imbalance of the heat account at any step end of any of the marches, as a share of the heat moved
    /// (or of a millionth of the heat stored, where that is more).
    pub fn ledger_residual(&self) -> f64 {
        self.runs.iter().map(|r| r.history.worst_residual).fold(0.0, f64::max)
    }

    /// Work done by all marches together.
    pub fn statistics(&self) -> Statistics {
        let mut sum = Statistics::default();
        for run in &self.runs {
            sum += run.history.statistics;
        }
        sum
    }

    /// Largest reported mesh and time error over all faces, bodies and times, as shares of the swing.
    pub(crate) fn worst_errors(&self) -> (f64, f64) {
        let mut worst = (0.0_f64, 0.0_f64);
        let mut probes = Vec::new();
        let first = self.wall.inner_coordinate();
        let mut face = first;
        for (layer, l) in self.wall.layers().iter().enumerate() {
            let middle = face + 0.5 * l.thickness().si();
            face += l.thickness().si() + self.wall.contacts().get(layer).map_or(0.0, Contact::thickness);
            probes.push(Probe::Temperature(Length::from_si(middle)));
            probes.extend([Side::Inner, Side::Outer].map(|side| Probe::Face(layer, side)));
        }
        for (body, side) in self.runs[0].places.bodies.iter().zip([Side::Inner, Side::Outer]) {
            if body.is_some() {
                probes.push(Probe::Body(side));
            }
        }
        for time in (0..self.times.len()).filter(|k| self.times[*k] > 0.0) {
            for probe in &probes {
                let e = self.estimate(time, *probe);
                worst.0 = worst.0.max(e.mesh_error / self.swing);
                worst.1 = worst.1.max(e.time_error / self.swing);
            }
        }
        worst
    }
}
