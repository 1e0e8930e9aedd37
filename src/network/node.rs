//! Nodes: well-stirred bodies and surfaces, or reservoirs of prescribed temperature.

use super::{Signal, WATER_HEAT_CAPACITY};

/// A point of the network with one temperature.
#[derive(Debug, Clone)]
pub(crate) enum Node {
    /// A body (or, with [`Enthalpy::None`], a bare surface that owns only what its ports bring).
    Free {
        /// Enthalpy of the body itself.
        enthalpy: Enthalpy,
        /// Start temperature, K. A surface shared with ports starts at the capacity-weighted mean.
        start: f64,
    },
    /// Temperature prescribed in time, K.
    Reservoir(Signal),
}

/// Enthalpy of a node as a function of its temperature, in J, from an arbitrary zero.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Enthalpy {
    /// No heat stored in the node itself.
    None,
    /// Constant heat capacity, J/K.
    Capacity(f64),
    /// A body that melts.
    Melting {
        /// Heat capacity of what does not melt, J/K.
        rest: f64,
        /// What melts: straight lines through (temperature K, enthalpy J), both rising; the end pieces go on beyond.
        curve: Vec<(f64, f64)>,
    },
}

impl Enthalpy {
    /// dH/dT at `t` K, J/K.
    pub(crate) fn capacity(&self, t: f64) -> f64 {
        match self {
            Enthalpy::None => 0.0,
            Enthalpy::Capacity(c) => *c,
            Enthalpy::Melting { rest, curve } => {
                let k = piece(curve, t);
                rest + (curve[k + 1].1 - curve[k].1) / (curve[k + 1].0 - curve[k].0)
            }
        }
    }

    /// H(t + d) - H(t), J.
    pub(crate) fn rise(&self, t: f64, d: f64) -> f64 {
        match self {
            Enthalpy::None => 0.0,
            Enthalpy::Capacity(c) => c * d,
            Enthalpy::Melting { rest, curve } => {
                let (from, to) = (piece(curve, t), piece(curve, t + d));
                let slope = |k: usize| (curve[k + 1].1 - curve[k].1) / (curve[k + 1].0 - curve[k].0);
                // Piece by piece from `t` on: no difference of large numbers.
                let melted = if from == to {
                    slope(from) * d
                } else if from < to {
                    let first = curve[from + 1].0 - t;
                    let between = curve[to].1 - curve[from + 1].1;
                    slope(from) * first + between + slope(to) * (d - (curve[to].0 - t))
                } else {
                    let first = curve[from].0 - t;
                    let between = curve[to + 1].1 - curve[from].1;
                    slope(from) * first + between + slope(to) * (d - (curve[to + 1].0 - t))
                };
                rest * d + melted
            }
        }
    }

    /// Adds liquid water (or takes it away), kg, where the body held `present` kg. What melts is water: it grows and
    /// shrinks as a whole, ice and liquid alike.
    pub(crate) fn add_water(&mut self, mass: f64, present: f64) {
        match self {
            Enthalpy::None => *self = Enthalpy::Capacity(mass * WATER_HEAT_CAPACITY),
            Enthalpy::Capacity(c) => *c += mass * WATER_HEAT_CAPACITY,
            Enthalpy::Melting { curve, .. } if present > 0.0 => scale(curve, (present + mass) / present),
            Enthalpy::Melting { rest, .. } => *rest += mass * WATER_HEAT_CAPACITY,
        }
    }

    /// Takes a share of the body out, as it is, but for a heat capacity that stays, J/K.
    pub(crate) fn take(&mut self, share: f64, stays: f64) {
        let left = |c: f64| stays + (1.0 - share) * (c - stays);
        match self {
            Enthalpy::None => {}
            Enthalpy::Capacity(c) => *c = left(*c),
            Enthalpy::Melting { rest, curve } => {
                *rest = left(*rest);
                scale(curve, 1.0 - share);
            }
        }
    }
}

fn scale(curve: &mut [(f64, f64)], factor: f64) {
    for point in curve {
        point.1 *= factor;
    }
}

impl Enthalpy {
    /// The temperature to which a Newton correction from `from` to `to` K may go: only just past a corner of the curve,
    /// where the slope it rests on ends.
    pub(crate) fn within_piece(&self, from: f64, to: f64) -> f64 {
        let Enthalpy::Melting { curve, .. } = self else { return to };
        let corners = curve[1..curve.len() - 1].iter().map(|(t, _)| *t);
        if to > from {
            corners.map(|c| c + BEYOND).filter(|c| *c > from).fold(to, f64::min)
        } else {
            corners.map(|c| c - BEYOND).filter(|c| *c < from).fold(to, f64::max)
        }
    }
}

/// Just past a corner, K: clear of the rounding of temperatures.
const BEYOND: f64 = 1e-9;

/// The first point of the line that holds at `t`; beyond the ends the first or last line.
fn piece(points: &[(f64, f64)], t: f64) -> usize {
    points.partition_point(|(at, _)| *at <= t).clamp(1, points.len() - 1) - 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_melting_body_takes_its_latent_heat_between_its_points() {
        let curve = vec![(250.0, 0.0), (273.0, 46.0), (273.1, 380.0), (300.0, 492.0)];
        let mut melting = Enthalpy::Melting { rest: 0.0, curve };
        assert!((melting.rise(260.0, 20.0) - (380.0 + 6.9 / 26.9 * 112.0 - 20.0)).abs() < 1e-9);
        assert!((melting.capacity(273.05) - 3340.0).abs() < 1e-6);
        assert_eq!(melting.rise(310.0, 0.0), 0.0);
        assert!((melting.capacity(400.0) - 112.0 / 26.9).abs() < 1e-12);
        // Half of it, and then half of that as water that leaves.
        melting.take(0.5, 0.0);
        melting.add_water(-0.1, 0.2);
        assert!((melting.capacity(273.05) - 0.25 * 3340.0).abs() < 1e-6);
        let mut stew = Enthalpy::Capacity(1300.0);
        stew.take(0.25, 500.0);
        assert_eq!(stew.capacity(300.0), 1100.0);
    }
}
