//! Any law between the two nodes it reads, held through a step by its tangent at the middle of the step.

use super::link::{Frozen, Law};

/// Wraps a law between the two nodes it reads so that it is evaluated once a step.
#[derive(Debug)]
pub(crate) struct Held<L>(pub(crate) L);

impl<L: Law> Law for Held<L> {
    fn flow(&self, time: f64, read: &[f64], gradient: &mut [f64]) -> f64 {
        self.0.flow(time, read, gradient)
    }

    fn jumps(&self, from: f64, to: f64) -> Vec<f64> {
        self.0.jumps(from, to)
    }

    fn holds(&self) -> bool {
        true
    }

    fn frozen(&self, time: f64, read: &[f64], _stores: &[f64]) -> Option<Frozen> {
        let mut gradient = [0.0; 2];
        let flow = self.0.flow(time, read, &mut gradient);
        Some(Frozen { at: [read[0], read[1]], flow, gradient, water: 0.0 })
    }
}
