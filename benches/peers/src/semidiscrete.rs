//! W1 and W2 as systems of ordinary differential equations: what the crate exports for those who bring their own solver.

use stillhot::Error;
use stillhot::conduction::{Problem, SectionMatrices, SectionProblem};
use stillhot::units::Si;

use crate::w1;

/// Pot and room, °C, at the start. The wall starts as exported.
const POT: f64 = 98.0;
const ROOM: f64 = 15.0;
/// 0 °C in K.
pub const ZERO_CELSIUS: f64 = 273.15;

/// A system of linear equations in time, the pot first, temperatures in °C.
pub trait System {
    /// Start temperatures, °C.
    fn start(&self) -> &[f64];
    /// dT/dt, K/s.
    fn rate(&self, t: &[f64], out: &mut [f64]);
    /// The constant Jacobian -C⁻¹ K by (row, column, value).
    fn jacobian(&self) -> Vec<(usize, usize, f64)>;
}

/// C dT/dt = -K T + b for the pot (first) and the nodes of the wall from inside to outside: a chain, temperatures in °C,
/// everything per square metre. It is the vertex-centred semi-discretisation that the crate marches itself, with two
/// nodes at the contact.
#[derive(Debug, Clone)]
pub struct Chain {
    /// J/K.
    pub capacity: Vec<f64>,
    /// Conductance between neighbours, W/K: one fewer than the capacities.
    pub link: Vec<f64>,
    /// Conductance from the last node to the room, W/K.
    pub loss: f64,
    /// Coordinates of the nodes of the wall, m.
    pub position: Vec<f64>,
    /// Start temperatures, °C.
    pub start: Vec<f64>,
}

impl Chain {
    /// From the matrices that `problem` exports on a mesh with these numbers of cells in the layers, with the pot and
    /// the two films put on.
    pub fn of(problem: &Problem, cells: &[usize]) -> Result<Self, Error> {
        let m = problem.matrices(cells)?;
        let n = m.capacity.len();
        let mut capacity = vec![w1::POT];
        capacity.extend(m.capacity.iter());
        let mut link = vec![m.film[0]];
        link.extend((0..n - 1).map(|i| -m.conductance[(i, i + 1)]));
        let mut start = vec![POT];
        start.extend(m.start.iter().map(|t| t - ZERO_CELSIUS));
        Ok(Chain { capacity, link, loss: m.film[1], position: m.position.to_vec(), start })
    }

    /// Number of unknowns.
    pub fn len(&self) -> usize {
        self.capacity.len()
    }
}

impl System for Chain {
    fn start(&self) -> &[f64] {
        &self.start
    }

    /// By differences.
    fn rate(&self, t: &[f64], out: &mut [f64]) {
        let n = self.len();
        let mut from_left = 0.0;
        for i in 0..n - 1 {
            let to_right = self.link[i] * (t[i] - t[i + 1]);
            out[i] = (from_left - to_right) / self.capacity[i];
            from_left = to_right;
        }
        out[n - 1] = (from_left - self.loss * (t[n - 1] - ROOM)) / self.capacity[n - 1];
    }

    fn jacobian(&self) -> Vec<(usize, usize, f64)> {
        let n = self.len();
        let mut all = Vec::with_capacity(3 * n);
        for column in 0..n {
            let left = if column > 0 { self.link[column - 1] } else { 0.0 };
            let right = if column + 1 < n { self.link[column] } else { self.loss };
            if column > 0 {
                all.push((column - 1, column, left / self.capacity[column - 1]));
            }
            all.push((column, column, -(left + right) / self.capacity[column]));
            if column + 1 < n {
                all.push((column + 1, column, right / self.capacity[column + 1]));
            }
        }
        all
    }
}

/// C dT/dt = -K T + b for the pot (first) and the nodes of W2, from the matrices that the section exports.
#[derive(Debug)]
pub struct Sheet {
    start: Vec<f64>,
    /// b / C.
    inflow: Vec<f64>,
    /// -C⁻¹ K by rows: where each begins, columns, values.
    rows: Vec<usize>,
    columns: Vec<usize>,
    values: Vec<f64>,
}

impl Sheet {
    /// From a problem whose ports are one pot, perhaps several times, and rooms.
    pub fn of(problem: &SectionProblem, cells: [&[usize]; 2]) -> Result<Self, Error> {
        let m = problem.matrices_on(cells)?;
        let nodes = m.position.nrows();
        let pot = m.ports.iter().find_map(|p| p.body.as_ref()).map_or(f64::NAN, |body| body.capacity().si());
        // All ports with the pot on them are its row, the first one; rooms have none.
        let free = |row: usize| match row.checked_sub(nodes) {
            None => Some(row + 1),
            Some(port) => (m.ports[port].body.is_some() || m.ports[port].shares.is_some()).then_some(0),
        };
        let mut capacity = vec![pot];
        capacity.extend(m.capacity.iter().take(nodes));
        let mut start = vec![POT];
        start.extend(m.start.iter().take(nodes).map(|t| t - ZERO_CELSIUS));
        let mut entries: Vec<(usize, usize, f64)> = Vec::with_capacity(m.conductance.len());
        let mut inflow = vec![0.0; nodes + 1];
        for (row, column, g) in &m.conductance {
            match (free(*row), free(*column)) {
                (Some(i), Some(j)) => entries.push((i, j, -g / capacity[i])),
                (Some(i), None) => inflow[i] -= g * (m.start[*column] - ZERO_CELSIUS) / capacity[i],
                _ => {}
            }
        }
        entries.sort_unstable_by_key(|(i, j, _)| (*i, *j));
        let mut sheet =
            Sheet { start, inflow, rows: vec![0; nodes + 2], columns: Vec::new(), values: Vec::<f64>::new() };
        let mut last = None;
        for (i, j, v) in entries {
            if last == Some((i, j)) {
                // The pot through its several ports.
                if let Some(value) = sheet.values.last_mut() {
                    *value += v;
                }
            } else {
                sheet.columns.push(j);
                sheet.values.push(v);
                sheet.rows[i + 1] = sheet.columns.len();
            }
            last = Some((i, j));
        }
        Ok(sheet)
    }
}

impl System for Sheet {
    fn start(&self) -> &[f64] {
        &self.start
    }

    fn rate(&self, t: &[f64], out: &mut [f64]) {
        for (i, (out, inflow)) in out.iter_mut().zip(&self.inflow).enumerate() {
            let row = self.rows[i]..self.rows[i + 1];
            *out = inflow + row.map(|k| self.values[k] * t[self.columns[k]]).sum::<f64>();
        }
    }

    fn jacobian(&self) -> Vec<(usize, usize, f64)> {
        let row = |i: usize| (self.rows[i]..self.rows[i + 1]).map(move |k| (i, self.columns[k], self.values[k]));
        let mut all: Vec<_> = (0..self.start.len()).flat_map(row).collect();
        all.sort_unstable_by_key(|(i, j, _)| (*j, *i));
        all
    }
}

/// The settled state of W3: K_II T = -K_IP T_P, by (row, column, value), and what the ports give to it.
#[derive(Debug)]
pub struct Settled {
    pub nodes: usize,
    pub entries: Vec<(usize, usize, f64)>,
    pub right: Vec<f64>,
    matrices: SectionMatrices,
}

impl Settled {
    pub fn of(problem: &SectionProblem, cells: [&[usize]; 2]) -> Result<Self, Error> {
        let matrices = problem.matrices_on(cells)?;
        let nodes = matrices.position.nrows();
        let mut right = vec![0.0; nodes];
        let mut entries = Vec::with_capacity(matrices.conductance.len());
        for (row, column, g) in matrices.conductance.iter().filter(|(row, ..)| *row < nodes) {
            if *column < nodes {
                entries.push((*row, *column, *g));
            } else {
                right[*row] -= g * (matrices.start[*column] - ZERO_CELSIUS);
            }
        }
        Ok(Settled { nodes, entries, right, matrices })
    }

    /// Heat into the section through its first ports, all but the last, W.
    pub fn heat(&self, t: impl Fn(usize) -> f64) -> f64 {
        let m = &self.matrices;
        let at = |k: usize| if k < self.nodes { t(k) } else { m.start[k] - ZERO_CELSIUS };
        let given = |row: usize| row >= self.nodes && row + 1 < self.nodes + m.ports.len();
        m.conductance.iter().filter(|(row, ..)| given(*row)).map(|(_, column, g)| g * at(*column)).sum()
    }
}
