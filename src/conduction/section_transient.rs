//! Sections in time: temperatures, bodies and heat with their numerical error.

use super::estimate::{Estimate, MARCHES, Sample, between_nodes, combine_section};
use super::problem::{UNFOLLOWED, check_times};
use super::section_grid::GridPlan;
use super::section_patch::SectionPatch;
use super::section_problem::{SectionAccuracy, SectionPlaces, SectionProblem};
use super::section_reader::Field;
use super::section_steady::{NOISE, SectionField, as_temperature, check_size, nothing_there, refined};
use super::transient::WEIGHTS;
use super::wall_patch::RELINEARISE;
use crate::error::{Error, ErrorKind, Within};
use crate::march::{History, March, Pace, Phase, Sequence, Snapshot, Statistics, march};
use crate::network::NodeId;
use crate::units::{Energy, HeatFluxDensity, Si, Temperature, TemperatureInterval, Time};
use crate::wall::{Place, Point};

/// A section in time: six marches that together tell value and error.
#[derive(Debug)]
pub struct TransientSection {
    problem: SectionProblem,
    times: Vec<f64>,
    swing: f64,
    /// Relative change of conductances and capacities that no march followed, in all that its weight in an answer makes of
    /// it: six marches that agree do not show it.
    unfollowed: f64,
    /// As [`MARCHES`] has them.
    runs: Vec<Run>,
}

/// One march on one mesh.
#[derive(Debug)]
struct Run {
    patch: SectionPatch,
    places: SectionPlaces,
    history: History,
}

impl Run {
    fn snapshot(&self, time: usize) -> &Snapshot {
        &self.history.snapshots[time]
    }

    fn field(&self, time: usize) -> Field<'_> {
        Field { physics: self.patch.physics(), temperature: &self.snapshot(time).patches[self.places.patch.0] }
    }
}

impl SectionProblem {
    /// The section at the given times (rising, from 0, which is the start), refined until the reported error is below the
    /// wanted one: of bodies and of the heat taken up by the section.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for times that do not rise from 0, [`ErrorKind::WorkBound`] if the accuracy cannot be
    /// had within the bounds on work.
    pub fn march(&self, times: &[Time], accuracy: &SectionAccuracy) -> Result<TransientSection, Error> {
        accuracy.check().within("accuracy")?;
        let times = check_times(times)?;
        let mut cells = accuracy.cells;
        let mut step_share = step_share(accuracy);
        loop {
            let plan = self.plan(cells);
            check_size(&plan, accuracy)?;
            let transient = self.march_planned(&times, &plan, step_share, accuracy)?;
            let (mesh, time) = transient.worst_errors();
            if mesh + time <= accuracy.relative {
                return Ok(transient);
            }
            if mesh > 0.5 * accuracy.relative {
                cells = refined(cells, mesh, 0.5 * accuracy.relative);
            }
            if time > 0.5 * accuracy.relative {
                // The error of a second-order method goes with the local tolerance to the power 2/3.
                step_share *= (0.3 * accuracy.relative / time).powf(1.5).clamp(1e-3, 0.5);
            }
        }
    }

    /// The same on a mesh of one's own and twice and four times as fine ones, without refinement: so many equal cells
    /// between each two of [`SectionProblem::lines`]. The steps follow from the wanted accuracy.
    ///
    /// # Errors
    /// As [`SectionProblem::march`]; [`ErrorKind::Inconsistent`] for other numbers of entries or an entry of zero.
    pub fn march_on(
        &self,
        times: &[Time],
        cells: [&[usize]; 2],
        accuracy: &SectionAccuracy,
    ) -> Result<TransientSection, Error> {
        accuracy.check().within("accuracy")?;
        self.march_planned(&check_times(times)?, &self.plan_of(cells)?, step_share(accuracy), accuracy)
    }

    fn march_planned(
        &self,
        times: &[f64],
        plan: &GridPlan,
        step_share: f64,
        accuracy: &SectionAccuracy,
    ) -> Result<TransientSection, Error> {
        let swing = self.swing(true);
        let tolerance = step_share * swing;
        let relinearise = RELINEARISE.min(UNFOLLOWED * accuracy.relative);
        let mut sequence = Sequence::default();
        let mut runs: Vec<Run> = Vec::with_capacity(MARCHES.len());
        for (level, split) in MARCHES {
            let pace = if runs.is_empty() {
                Pace::Adaptive { tolerance, field_tolerance: tolerance }
            } else {
                Pace::Replay { sequence: &sequence, split }
            };
            let patch = self.patch(plan, level)?;
            let (network, places) = self.network(&patch, relinearise)?;
            let phases =
                [Phase { end: times[times.len() - 1], active: vec![true; network.links.len()], events: Vec::new() }];
            let planned = March { phases: &phases, start: 0.0, snapshots: times, step_bound: accuracy.steps };
            let (history, taken) = march(&network, &planned, &pace)?;
            if runs.is_empty() {
                sequence = taken;
            }
            runs.push(Run { patch, places, history });
        }
        let varies = !runs[0].patch.physics().is_constant();
        let unfollowed = if varies { WEIGHTS * relinearise } else { 0.0 };
        Ok(TransientSection { problem: self.clone(), times: times.to_vec(), swing, unfollowed, runs })
    }
}

/// Error of a single step to begin with, as a share of the swing.
fn step_share(accuracy: &SectionAccuracy) -> f64 {
    (accuracy.relative * 0.3).powf(0.75).min(0.03)
}

impl TransientSection {
    fn estimate(&self, noise: f64, read: impl Fn(&Run) -> f64) -> Estimate<f64> {
        let values = std::array::from_fn(|r| read(&self.runs[r]));
        self.following(combine_section(Sample::new(values), noise), noise)
    }

    /// With what was not followed in the error, as a share of the scale that `noise` is a share of.
    fn following(&self, estimate: Estimate<f64>, noise: f64) -> Estimate<f64> {
        let more = self.unfollowed * noise / NOISE;
        Estimate { error: estimate.error + more, time_error: estimate.time_error + more, ..estimate }
    }

    /// The same between nodes.
    fn estimate_between(&self, noise: f64, unsure: f64, read: impl Fn(&Run) -> f64) -> Estimate<f64> {
        let values: [f64; 6] = std::array::from_fn(|r| read(&self.runs[r]));
        let meshes = [values[0], values[1], values[2]];
        self.following(between_nodes(combine_section(Sample::new(values), noise), meshes, unsure), noise)
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

    fn place(&self, point: Point) -> Result<Place, Error> {
        let place = point.map(Si::si);
        if place.iter().all(|v| v.is_finite()) && self.runs.iter().all(|r| r.field(0).read(place).is_some()) {
            return Ok(place);
        }
        Err(nothing_there(point))
    }

    /// The times asked for.
    pub fn times(&self) -> Vec<Time> {
        self.times.iter().map(|t| Time::from_si(*t)).collect()
    }

    /// Temperature at a point and the time with the given index.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] where there is no material, or for a time that is not there.
    pub fn temperature(&self, point: Point, time: usize) -> Result<Estimate<Temperature, TemperatureInterval>, Error> {
        let (place, time) = (self.place(point)?, self.index(time)?);
        let read = |run: &Run| run.field(time).read(place).map_or(f64::NAN, |r| r.temperature);
        let unsure = self.runs[2].field(time).read(place).map_or(f64::NAN, |r| r.unsure);
        Ok(as_temperature(self.estimate_between(NOISE * self.swing, unsure, read)))
    }

    /// Heat flux at a point along both axes.
    ///
    /// # Errors
    /// As [`TransientSection::temperature`].
    pub fn flux(&self, point: Point, time: usize) -> Result<[Estimate<HeatFluxDensity>; 2], Error> {
        let (place, time) = (self.place(point)?, self.index(time)?);
        Ok([0, 1].map(|axis| {
            let read =
                |run: &Run| run.field(time).read(place).map_or(f64::NAN, |r| self.problem.flux_of(&r, place, axis));
            let noise = NOISE * self.swing * 100.0 / self.problem.section.layout().size();
            self.estimate_between(noise, 0.0, read).map(HeatFluxDensity::from_si, HeatFluxDensity::from_si)
        }))
    }

    /// Temperature of the well-stirred body at a part.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a part that is not there, [`ErrorKind::Inconsistent`] for one without a body,
    /// [`ErrorKind::OutOfRange`] for a time that is not there.
    pub fn body(&self, part: &str, time: usize) -> Result<Estimate<Temperature, TemperatureInterval>, Error> {
        let number = self.problem.section.part(part)?;
        let time = self.index(time)?;
        let body = self.runs[0].places.bodies[number]
            .ok_or_else(|| Error::new(ErrorKind::Inconsistent, "no body at this part").within(part))?;
        Ok(as_temperature(self.body_of(body, time)))
    }

    fn body_of(&self, body: NodeId, time: usize) -> Estimate<f64> {
        self.estimate(NOISE * self.swing, |run| run.snapshot(time).nodes[body.0])
    }

    /// Heat into the section through a part at a time: W per metre of a plane section, W of one about an axis.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a part, [`ErrorKind::OutOfRange`] for a time that is not there.
    pub fn heat(&self, part: &str, time: usize) -> Result<Estimate<f64>, Error> {
        let part = self.problem.section.part(part)?;
        let time = self.index(time)?;
        let through = |run: &Run, part: usize| {
            let snapshot = run.snapshot(time);
            let patch = run.places.patch.0;
            let (released, rates) = (&snapshot.released[patch], Some(snapshot.rates[patch].as_slice()));
            self.problem.heat_into(&run.field(time), part, self.times[time], released, rates)
        };
        let parts = 0..self.problem.boundaries.len();
        let size = parts.map(|part| through(&self.runs[2], part).abs()).fold(0.0, f64::max);
        Ok(self.estimate(NOISE * size, |run| through(run, part)))
    }

    /// Heat taken up by the section since the start: J per metre of a plane section, J of one about an axis.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a time that is not there.
    pub fn stored_heat(&self, time: usize) -> Result<Estimate<Energy>, Error> {
        let time = self.index(time)?;
        Ok(self.stored(time).map(Energy::from_si, Energy::from_si))
    }

    fn stored(&self, time: usize) -> Estimate<f64> {
        let read = |run: &Run| run.snapshot(time).stored_in_patch[run.places.patch.0];
        self.estimate(NOISE * self.capacity() * self.swing, read)
    }

    /// Heat capacity of the section at the temperatures of the start, J/K per extent.
    fn capacity(&self) -> f64 {
        let field = self.runs[0].field(0);
        let stores = field.physics.assembly.stores.iter().enumerate();
        stores
            .map(|(k, s)| {
                field.physics.capacity(k, field.temperature[s.unknown as usize], field.temperature[s.unknown as usize])
            })
            .sum()
    }

    /// Lowest and highest temperature of the surface of a part at a time.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a part, [`ErrorKind::OutOfRange`] for a time that is not there.
    pub fn surface(&self, part: &str, time: usize) -> Result<[Estimate<Temperature, TemperatureInterval>; 2], Error> {
        let part = self.problem.section.part(part)?;
        let time = self.index(time)?;
        Ok([0, 1]
            .map(|end| as_temperature(self.estimate(NOISE * self.swing, |run| run.field(time).extremes(part)[end]))))
    }

    /// The field on the finest mesh at a time.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a time that is not there.
    pub fn field(&self, time: usize) -> Result<SectionField, Error> {
        Ok(self.runs[2].field(self.index(time)?).as_arrays())
    }

    /// Largest imbalance of the heat account at any step end of any of the marches, as a share of the heat moved (or of a
    /// millionth of the heat stored, where that is more).
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

    /// Largest reported mesh and time error of bodies and stored heat over all times, as shares of the swing and of the
    /// heat that would warm the section by the swing.
    fn worst_errors(&self) -> (f64, f64) {
        let mut worst = (0.0_f64, 0.0_f64);
        let mut take = |e: Estimate<f64>, scale: f64| {
            worst = (worst.0.max(e.mesh_error / scale), worst.1.max(e.time_error / scale));
        };
        let heat = self.capacity() * self.swing;
        for time in (0..self.times.len()).filter(|k| self.times[*k] > 0.0) {
            take(self.stored(time), heat);
            for body in self.runs[0].places.bodies.iter().flatten() {
                take(self.body_of(*body, time), self.swing);
            }
        }
        worst
    }
}
