//! Steady states of sections: temperatures, heat and transmittances with their numerical error.

use ndarray::{Array1, Array2};

use super::estimate::{Estimate, between_nodes, of_meshes};
use super::section_grid::GridPlan;
use super::section_patch::SectionPatch;
use super::section_problem::{SectionAccuracy, SectionProblem};
use super::section_reader::{Field, Reading};
use super::wall_patch::RELINEARISE;
use crate::error::{Error, ErrorKind, Within};
use crate::march::steady;
use crate::units::{HeatFluxDensity, Length, Si, Temperature, TemperatureInterval, write};
use crate::wall::{Boundary, Place, Point};

/// Refinements of the three meshes.
pub(super) const LEVELS: [usize; 3] = [1, 2, 4];
/// Rounding of a temperature, as a share of the swing.
pub(super) const NOISE: f64 = 1e-11;

/// A section in its steady state, on three meshes that together tell value and error.
#[derive(Debug)]
pub struct SteadySection {
    problem: SectionProblem,
    levels: Vec<Level>,
    swing: f64,
}

/// One mesh with the temperature of every unknown.
#[derive(Debug)]
struct Level {
    patch: SectionPatch,
    temperature: Vec<f64>,
    /// Heat released in every unknown by sources and given fluxes, W per extent.
    released: Vec<f64>,
}

impl Level {
    fn field(&self) -> Field<'_> {
        Field { physics: self.patch.physics(), temperature: &self.temperature }
    }
}

/// A temperature field on the nodes of a grid.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct SectionField {
    /// Coordinates of the nodes along the first axis, m.
    pub first: Array1<f64>,
    /// Coordinates of the nodes along the second axis, m.
    pub second: Array1<f64>,
    /// Temperature, K: first by second axis. None where there is no material.
    pub temperature: Array2<Option<f64>>,
}

impl SectionProblem {
    /// The state that the section settles to with its boundary as it is at time zero, refined until the reported error
    /// is below the wanted one.
    ///
    /// # Errors
    /// [`ErrorKind::NoConvergence`] if nothing prescribes a temperature, [`ErrorKind::WorkBound`] if the accuracy needs
    /// a finer mesh than allowed.
    pub fn steady(&self, accuracy: &SectionAccuracy) -> Result<SteadySection, Error> {
        accuracy.check().within("accuracy")?;
        let mut cells = accuracy.cells;
        loop {
            let plan = self.plan(cells);
            check_size(&plan, accuracy)?;
            let steady = self.steady_planned(&plan)?;
            let worst = steady.worst_error();
            if worst <= accuracy.relative {
                return Ok(steady);
            }
            // Second order, and a little more to be done with it.
            cells = refined(cells, worst, accuracy.relative);
        }
    }

    /// The same on a mesh of one's own and twice and four times as fine ones, without refinement: so many equal cells
    /// between each two of [`SectionProblem::lines`].
    ///
    /// # Errors
    /// As [`SectionProblem::steady`]; [`ErrorKind::Inconsistent`] for other numbers of entries or an entry of zero.
    pub fn steady_on(&self, cells: [&[usize]; 2]) -> Result<SteadySection, Error> {
        self.steady_planned(&self.plan_of(cells)?)
    }

    pub(super) fn check_settles(&self) -> Result<(), Error> {
        if self.boundaries.iter().all(|b| matches!(b, Boundary::Insulated | Boundary::Flux(_))) {
            return Err(Error::new(ErrorKind::NoConvergence, "nothing prescribes a temperature")
                .with_accepted("a film, a temperature or a body with a loss at some part"));
        }
        Ok(())
    }

    pub(super) fn steady_planned(&self, plan: &GridPlan) -> Result<SteadySection, Error> {
        self.check_settles()?;
        let mut levels = Vec::with_capacity(LEVELS.len());
        for parts in LEVELS {
            let patch = self.patch(plan, parts)?;
            let (network, places) = self.network(&patch, RELINEARISE)?;
            let state = steady(&network, 0.0, &vec![true; network.links.len()])?;
            let temperature = state.patches[places.patch.0].clone();
            let mut released = vec![0.0; temperature.len()];
            network.patches[places.patch.0].sources_at(0.0, false, &mut released);
            levels.push(Level { patch, temperature, released });
        }
        Ok(SteadySection { problem: self.clone(), levels, swing: self.swing(false) })
    }
}

impl SectionProblem {
    /// Heat into the section through a part at a time, W per extent: what conducts away from its ports, and what of the
    /// nodes they hold is stored and not released there.
    pub(super) fn heat_into(
        &self,
        field: &Field<'_>,
        part: usize,
        time: f64,
        released: &[f64],
        rates: Option<&[f64]>,
    ) -> f64 {
        let assembly = &field.physics.assembly;
        let mut heat = 0.0;
        for port in self.ports_of(part) {
            let unknown = assembly.interior + port;
            heat += field.heat_from_port(port) - released[unknown];
            if let Some(rates) = rates {
                heat += field.physics.capacity_of(unknown, field.temperature[unknown]) * rates[unknown];
            }
        }
        if let Boundary::Flux(course) = &self.boundaries[part] {
            let shares = assembly.shares.iter().filter(|s| s.part == part);
            heat += course.signal().at(time) * shares.map(|s| s.area).sum::<f64>();
        }
        heat
    }

    /// Flux along an axis at what was read at a place, W/m².
    pub(super) fn flux_of(&self, reading: &Reading, place: Place, axis: usize) -> f64 {
        let fill = &self.section.fills()[reading.fill as usize];
        let here = fill.grading().map_or(1.0, |grading| grading.at(place)[0]);
        let k = here * fill.material().conductivity().law().at(reading.temperature);
        -k * fill.plain_factors()[axis] * reading.slope[axis]
    }
}

/// More cells than before, by how far the error is from the wanted one.
pub(super) fn refined(cells: usize, error: f64, wanted: f64) -> usize {
    let factor = (1.3 * (error / wanted).sqrt()).clamp(1.3, 2.5);
    ((cells as f64 * factor).ceil() as usize).max(cells + 1)
}

pub(super) fn check_size(plan: &GridPlan, accuracy: &SectionAccuracy) -> Result<(), Error> {
    let nodes = plan.size(LEVELS[2]);
    if nodes <= accuracy.nodes {
        return Ok(());
    }
    Err(Error::new(ErrorKind::WorkBound, "the accuracy needs a finer mesh than allowed")
        .with_value(format!("{nodes} nodes"))
        .with_accepted(format!("at most {} nodes", accuracy.nodes))
        .within("accuracy"))
}

pub(super) fn as_temperature(e: Estimate<f64>) -> Estimate<Temperature, TemperatureInterval> {
    e.map(Temperature::from_si, TemperatureInterval::from_si)
}

pub(super) fn nothing_there(point: Point) -> Error {
    Error::new(ErrorKind::OutOfRange, "no material at this point")
        .with_value(format!("({}, {})", write(point[0]), write(point[1])))
        .within("point")
}

impl SteadySection {
    fn estimate(&self, noise: f64, read: impl Fn(&Level) -> f64) -> Estimate<f64> {
        of_meshes([0, 1, 2].map(|k| read(&self.levels[k])), noise)
    }

    /// The same between nodes.
    fn estimate_between(&self, noise: f64, unsure: f64, read: impl Fn(&Level) -> f64) -> Estimate<f64> {
        let values = [0, 1, 2].map(|k| read(&self.levels[k]));
        between_nodes(of_meshes(values, noise), values, unsure)
    }

    /// Rounding of a heat flow, W per extent.
    fn heat_noise(&self) -> f64 {
        let largest =
            self.problem.boundaries.iter().enumerate().map(|(part, _)| self.heat_of(part, &self.levels[2]).abs());
        NOISE * largest.fold(0.0, f64::max)
    }

    /// Heat into the section through a part, W per extent.
    fn heat_of(&self, part: usize, level: &Level) -> f64 {
        self.problem.heat_into(&level.field(), part, 0.0, &level.released, None)
    }

    /// Temperature at a point. On a line between two materials or on a contact: the side towards smaller coordinates.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] where there is no material.
    pub fn temperature(&self, point: Point) -> Result<Estimate<Temperature, TemperatureInterval>, Error> {
        let place = self.place(point)?;
        let read = |level: &Level| level.field().read(place).map_or(f64::NAN, |r| r.temperature);
        let unsure = self.levels[2].field().read(place).map_or(f64::NAN, |r| r.unsure);
        Ok(as_temperature(self.estimate_between(NOISE * self.swing, unsure, read)))
    }

    fn place(&self, point: Point) -> Result<Place, Error> {
        let place = point.map(Si::si);
        if place.iter().all(|v| v.is_finite()) && self.levels.iter().all(|l| l.field().read(place).is_some()) {
            return Ok(place);
        }
        Err(nothing_there(point))
    }

    /// Heat flux at a point along both axes. It is unbounded at re-entrant corners, where no error can be told.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] where there is no material.
    pub fn flux(&self, point: Point) -> Result<[Estimate<HeatFluxDensity>; 2], Error> {
        let place = self.place(point)?;
        Ok([0, 1].map(|axis| {
            let read =
                |level: &Level| level.field().read(place).map_or(f64::NAN, |r| self.problem.flux_of(&r, place, axis));
            let noise = NOISE * self.swing * 100.0 / self.problem.section.layout().size();
            self.estimate_between(noise, 0.0, read).map(HeatFluxDensity::from_si, HeatFluxDensity::from_si)
        }))
    }

    /// Heat into the section through a part of the boundary: W per metre of a plane section, W of one about an axis.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a part that is not there.
    pub fn heat(&self, part: &str) -> Result<Estimate<f64>, Error> {
        let part = self.problem.section.part(part)?;
        Ok(self.estimate(self.heat_noise(), |level| self.heat_of(part, level)))
    }

    /// Heat into the section through a part on each of the three meshes, W per extent.
    pub(super) fn heats(&self, part: &str) -> Result<[f64; 3], Error> {
        let part = self.problem.section.part(part)?;
        Ok([0, 1, 2].map(|k| self.heat_of(part, &self.levels[k])))
    }

    /// Lowest and highest temperature of the surface of a part.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a part that is not there.
    pub fn surface(&self, part: &str) -> Result<[Estimate<Temperature, TemperatureInterval>; 2], Error> {
        let part = self.problem.section.part(part)?;
        Ok([0, 1]
            .map(|end| as_temperature(self.estimate(NOISE * self.swing, |level| level.field().extremes(part)[end]))))
    }

    /// The field on the finest mesh.
    pub fn field(&self) -> SectionField {
        self.levels[2].field().as_arrays()
    }

    /// Straight pieces of the line along which the finest mesh has this temperature.
    pub fn isotherm(&self, temperature: Temperature) -> Vec<[Point; 2]> {
        let pieces = self.levels[2].field().isotherm(temperature.si());
        pieces.into_iter().map(|ends| ends.map(|p| p.map(Length::from_si))).collect()
    }

    /// Unknown temperatures of the three meshes.
    pub fn unknowns(&self) -> [usize; 3] {
        [0, 1, 2].map(|k| self.levels[k].patch.physics().assembly.interior)
    }

    /// The smallest conductance between two nodes of the finest mesh, W/K per extent, at the temperatures reached. It is
    /// below zero only where slanted lines cut cells so that a triangle has an obtuse angle.
    pub fn smallest_conductance(&self) -> f64 {
        let level = &self.levels[2];
        let physics = level.patch.physics();
        let t = |u: u32| level.temperature[u as usize];
        let all = physics.assembly.pairs.iter().enumerate().map(|(k, [u, v])| physics.conductance(k, t(*u), t(*v)));
        all.fold(f64::INFINITY, f64::min)
    }

    /// The problem.
    pub fn problem(&self) -> &SectionProblem {
        &self.problem
    }

    /// Largest reported error: of the heat through a part as a share of the largest, of the nodes of the coarsest mesh on
    /// the mean as a share of the swing.
    pub(super) fn worst_error(&self) -> f64 {
        let noise = self.heat_noise();
        let parts = 0..self.problem.boundaries.len();
        let heats: Vec<Estimate<f64>> =
            parts.map(|part| self.estimate(noise, |level| self.heat_of(part, level))).collect();
        let largest = heats.iter().map(|h| h.value.abs()).fold(0.0, f64::max);
        let heat = heats.iter().map(|h| h.error).fold(0.0, f64::max) / largest.max(f64::MIN_POSITIVE);
        heat.max(self.mean_error() / self.swing)
    }

    /// Mean over the section of the reported error of the temperature at the nodes of the coarsest mesh, K.
    fn mean_error(&self) -> f64 {
        let meshes = [0, 1, 2].map(|k| &self.levels[k].patch.physics().mesh);
        let grids = [0, 1, 2].map(|k| self.levels[k].field().on_grid());
        let coarse = &meshes[0].grid;
        let (mut sum, mut area) = (0.0, 0.0);
        for j in 0..coarse.axes[1].len() {
            for i in 0..coarse.axes[0].len() {
                let at = |k: usize| grids[k][meshes[k].grid.node(i * LEVELS[k], j * LEVELS[k]) as usize];
                let [Some(a), Some(b), Some(c)] = [at(0), at(1), at(2)] else { continue };
                let band = |axis: usize, k: usize| {
                    let lines = &coarse.axes[axis];
                    lines[(k + 1).min(lines.len() - 1)] - lines[k.saturating_sub(1)]
                };
                let share = band(0, i) * band(1, j);
                sum += share * of_meshes([a, b, c], NOISE * self.swing).error;
                area += share;
            }
        }
        sum / area
    }
}

impl Field<'_> {
    /// As arrays with axes.
    pub(super) fn as_arrays(&self) -> SectionField {
        let grid = &self.physics.mesh.grid;
        let on_grid = self.on_grid();
        let shape = (grid.axes[0].len(), grid.axes[1].len());
        SectionField {
            first: Array1::from(grid.axes[0].clone()),
            second: Array1::from(grid.axes[1].clone()),
            temperature: Array2::from_shape_fn(shape, |(i, j)| on_grid[grid.node(i, j) as usize]),
        }
    }
}
