//! Nodes: well-stirred bodies and surfaces, or reservoirs of prescribed temperature.

use super::Signal;

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
#[derive(Debug, Clone)]
pub(crate) enum Enthalpy {
    /// No heat stored in the node itself.
    None,
    /// Constant heat capacity, J/K.
    Capacity(f64),
    /// Straight lines through (temperature K, enthalpy J), both rising; the end pieces go on beyond. For bodies that
    /// melt.
    Curve(Vec<(f64, f64)>),
}

impl Enthalpy {
    /// dH/dT at `t` K, J/K.
    pub(crate) fn capacity(&self, t: f64) -> f64 {
        match self {
            Enthalpy::None => 0.0,
            Enthalpy::Capacity(c) => *c,
            Enthalpy::Curve(points) => {
                let [a, b] = piece(points, t);
                (b.1 - a.1) / (b.0 - a.0)
            }
        }
    }

    /// H(t + d) - H(t), J.
    pub(crate) fn rise(&self, t: f64, d: f64) -> f64 {
        match self {
            Enthalpy::None => 0.0,
            Enthalpy::Capacity(c) => c * d,
            Enthalpy::Curve(points) => {
                let [a, b] = piece(points, t);
                let [e, f] = piece(points, t + d);
                if a.0 == e.0 {
                    // On one line: no difference of large numbers.
                    return (b.1 - a.1) / (b.0 - a.0) * d;
                }
                let on = |[a, b]: [(f64, f64); 2], t: f64| a.1 + (b.1 - a.1) * (t - a.0) / (b.0 - a.0);
                on([e, f], t + d) - on([a, b], t)
            }
        }
    }
}

impl Enthalpy {
    /// The temperature to which a Newton correction from `from` to `to` K may go: only just past a corner of the curve,
    /// where the slope it rests on ends.
    pub(crate) fn within_piece(&self, from: f64, to: f64) -> f64 {
        let Enthalpy::Curve(points) = self else { return to };
        let corners = points[1..points.len() - 1].iter().map(|(t, _)| *t);
        if to > from {
            corners.map(|c| c + BEYOND).filter(|c| *c > from).fold(to, f64::min)
        } else {
            corners.map(|c| c - BEYOND).filter(|c| *c < from).fold(to, f64::max)
        }
    }
}

/// Just past a corner, K: clear of the rounding of temperatures.
const BEYOND: f64 = 1e-9;

/// The two points whose line holds at `t`; the first or last two beyond the ends.
fn piece(points: &[(f64, f64)], t: f64) -> [(f64, f64); 2] {
    let after = points.partition_point(|(at, _)| *at <= t).clamp(1, points.len() - 1);
    [points[after - 1], points[after]]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_melting_body_takes_its_latent_heat_between_its_points() {
        let melting = Enthalpy::Curve(vec![(250.0, 0.0), (273.0, 46.0), (273.1, 380.0), (300.0, 492.0)]);
        assert!((melting.rise(260.0, 20.0) - (380.0 + 6.9 / 26.9 * 112.0 - 20.0)).abs() < 1e-9);
        assert!((melting.capacity(273.05) - 3340.0).abs() < 1e-6);
        assert_eq!(melting.rise(310.0, 0.0), 0.0);
        assert!((melting.capacity(400.0) - 112.0 / 26.9).abs() < 1e-12);
    }
}
