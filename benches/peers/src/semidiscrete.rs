//! W1 as a system of ordinary differential equations: what the crate exports for those who bring their own solver.

use stillhot::Error;
use stillhot::conduction::Problem;

use crate::w1;

/// Pot and room, °C, at the start. The wall starts as exported.
const POT: f64 = 98.0;
const ROOM: f64 = 15.0;
/// 0 °C in K.
pub const ZERO_CELSIUS: f64 = 273.15;

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

    /// dT/dt, K/s, by differences.
    pub fn rate(&self, t: &[f64], out: &mut [f64]) {
        let n = self.len();
        let mut from_left = 0.0;
        for i in 0..n - 1 {
            let to_right = self.link[i] * (t[i] - t[i + 1]);
            out[i] = (from_left - to_right) / self.capacity[i];
            from_left = to_right;
        }
        out[n - 1] = (from_left - self.loss * (t[n - 1] - ROOM)) / self.capacity[n - 1];
    }

    /// The constant Jacobian -C⁻¹ K by (row, column, value).
    pub fn jacobian(&self) -> Vec<(usize, usize, f64)> {
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
