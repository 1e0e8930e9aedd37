//! What a marched wall can be asked: temperatures, fluxes and stored heat with their numerical error.

use ndarray::{Array1, ArrayView1};

use super::estimate::{Estimate, Sample, combine};
use super::problem::Places;
use super::wall_patch::WallPatch;
use crate::error::{Error, ErrorKind};
use crate::march::{History, Snapshot, Statistics};
use crate::network::Network;
use crate::units::{Energy, HeatFluxDensity, Length, Si, Temperature, TemperatureInterval, Time, write};
use crate::wall::Wall;

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
    /// As [`MARCHES`](super::estimate::MARCHES) has them.
    runs: Vec<Run>,
    /// Positions of the finest mesh, m.
    positions: Array1<f64>,
}

/// Rounding noise of a temperature, as a share of the swing.
const NOISE: f64 = 2e-12;

impl Transient {
    pub(crate) fn new(wall: Wall, times: Vec<f64>, swing: f64, runs: Vec<Run>) -> Self {
        let positions = Array1::from(runs[2].patch.axis().position.clone());
        Transient { wall, times, swing, runs, positions }
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

    fn estimate(&self, time: usize, noise: f64, of: impl Fn(&Run, &Snapshot) -> f64) -> Estimate<f64> {
        let values = std::array::from_fn(|r| {
            let run = &self.runs[r];
            of(run, &run.history.snapshots[time])
        });
        combine(Sample::new(values), noise)
    }

    fn temperature_estimate(
        &self,
        time: usize,
        of: impl Fn(&Run, &Snapshot) -> f64,
    ) -> Estimate<Temperature, TemperatureInterval> {
        let e = self.estimate(time, NOISE * self.swing, of);
        Estimate {
            value: Temperature::from_si(e.value),
            error: TemperatureInterval::from_si(e.error),
            mesh_error: TemperatureInterval::from_si(e.mesh_error),
            time_error: TemperatureInterval::from_si(e.time_error),
            order: e.order,
        }
    }

    fn layer_at(&self, position: Length) -> Result<usize, Error> {
        let x = position.si();
        self.runs[0].patch.axis().layer_at(x).ok_or_else(|| {
            let first = self.wall.inner_coordinate();
            let last = Length::from_si(first + self.wall.thickness().si());
            Error::new(ErrorKind::OutOfRange, "outside the wall")
                .with_value(write(position))
                .with_accepted(format!("{} to {}", write(Length::from_si(first)), write(last)))
                .within("position")
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
        let time = self.index(time)?;
        let layer = self.layer_at(position)?;
        Ok(self.temperature_estimate(time, |run, snapshot| {
            let t = &snapshot.patches[run.places.patch.0];
            run.patch.axis().interpolate(layer, position.si(), |node| t[run.patch.local(node)])
        }))
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
        let time = self.index(time)?;
        self.check_layer(layer)?;
        Ok(self.temperature_estimate(time, |run, snapshot| face(run, snapshot, layer, side)))
    }

    fn check_layer(&self, layer: usize) -> Result<(), Error> {
        crate::units::bounds::number_in_range("layer", layer as f64, 0.0, (self.wall.layers().len() - 1) as f64)
            .map(|_| ())
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
        let time = self.index(time)?;
        let end = usize::from(side == Side::Outer);
        if self.runs[0].places.bodies[end].is_none() {
            return Err(Error::new(ErrorKind::Inconsistent, "no body at this end of the wall").within("body"));
        }
        Ok(self.temperature_estimate(time, |run, snapshot| {
            run.places.bodies[end].map_or(f64::NAN, |node| snapshot.nodes[node.0])
        }))
    }

    /// Heat flux at a coordinate in the direction of growing coordinate.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] outside the wall or the list of times.
    pub fn flux(&self, position: Length, time: usize) -> Result<Estimate<HeatFluxDensity>, Error> {
        let time = self.index(time)?;
        let layer = self.layer_at(position)?;
        let area = self.wall.area_at(position.si());
        if area == 0.0 {
            let zero = HeatFluxDensity::from_si(0.0);
            return Ok(Estimate { value: zero, error: zero, mesh_error: zero, time_error: zero, order: None });
        }
        let resistance: f64 =
            self.wall.layers().iter().map(|l| l.thickness().si() / l.material().conductivity().value().si()).sum();
        let noise = 100.0 * NOISE * self.swing / resistance;
        let e = self.estimate(time, noise, |run, snapshot| {
            let heat = |node: usize| outward_heat(run, snapshot, node);
            run.patch.axis().interpolate(layer, position.si(), heat) / area
        });
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
        let time = self.index(time)?;
        Ok(self.temperature_estimate(time, |run, snapshot| {
            let capacity = &run.network.patches[run.places.patch.0].capacity;
            let t = &snapshot.patches[run.places.patch.0];
            let sum: f64 = capacity.iter().zip(t).map(|(c, t)| c * t).sum();
            sum / capacity.iter().sum::<f64>()
        }))
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
        let mut take = |e: Estimate<Temperature, TemperatureInterval>| {
            worst.0 = worst.0.max(e.mesh_error.si() / self.swing);
            worst.1 = worst.1.max(e.time_error.si() / self.swing);
        };
        for time in 0..self.times.len() {
            if self.times[time] == 0.0 {
                continue;
            }
            for layer in 0..self.wall.layers().len() {
                for side in [Side::Inner, Side::Outer] {
                    take(self.temperature_estimate(time, |run, s| face(run, s, layer, side)));
                }
                take(self.temperature_estimate(time, |run, s| {
                    let nodes = &run.patch.axis().layer_nodes[layer];
                    let x =
                        f64::midpoint(run.patch.axis().position[nodes.start], run.patch.axis().position[nodes.end - 1]);
                    let t = &s.patches[run.places.patch.0];
                    run.patch.axis().interpolate(layer, x, |node| t[run.patch.local(node)])
                }));
            }
            for side in [Side::Inner, Side::Outer] {
                if let Ok(e) = self.body_temperature(side, time) {
                    take(e);
                }
            }
        }
        worst
    }
}

fn face(run: &Run, snapshot: &Snapshot, layer: usize, side: Side) -> f64 {
    let nodes = &run.patch.axis().layer_nodes[layer];
    let node = if side == Side::Inner { nodes.start } else { nodes.end - 1 };
    snapshot.patches[run.places.patch.0][run.patch.local(node)]
}

/// Heat flow per extent through the plane of a node, outward: what its outer cell carries away and what its outer
/// half takes up. With the node's own balance this equals the inward side's value.
fn outward_heat(run: &Run, snapshot: &Snapshot, node: usize) -> f64 {
    let t = &snapshot.patches[run.places.patch.0];
    let rate = snapshot.rates[run.places.patch.0][run.patch.local(node)];
    let at = |n: usize| t[run.patch.local(n)];
    let last = run.patch.axis().position.len() - 1;
    let [inner, outer] = run.patch.half_capacities(node, at(node));
    if node < last {
        run.patch.conductance(node, at(node), at(node + 1)) * (at(node) - at(node + 1)) + outer * rate
    } else {
        run.patch.conductance(node - 1, at(node - 1), at(node)) * (at(node - 1) - at(node)) - inner * rate
    }
}
