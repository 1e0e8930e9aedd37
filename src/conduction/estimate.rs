//! A number with its numerical error, from three nested meshes and two step lengths.

/// A computed quantity with the error that the computation itself reports.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate<Q, E = Q> {
    /// Best value.
    pub value: Q,
    /// Error of the mesh and the time steps together: the true solution of the stated equations should lie within
    /// this of `value`.
    pub error: E,
    /// The part of the error that comes from the mesh.
    pub mesh_error: E,
    /// The part of the error that comes from the time steps.
    pub time_error: E,
    /// Observed order of convergence in space, where the differences between the meshes show one.
    pub order: Option<f64>,
}

/// The same quantity from four marches: meshes n, 2n, 4n with one sequence of steps, and mesh n with every step
/// halved.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sample {
    pub(crate) coarse: f64,
    pub(crate) middle: f64,
    pub(crate) fine: f64,
    pub(crate) halved: f64,
}

/// Extrapolation is trusted if the observed order lies between these.
const ORDERS: (f64, f64) = (1.6, 2.4);

/// Combines the four; `scale` is the size of rounding noise to be expected.
pub(crate) fn combine(sample: Sample, noise: f64) -> Estimate<f64> {
    let Sample { coarse, middle, fine, halved } = sample;
    let (first, second) = (coarse - middle, middle - fine);
    let order =
        (first.abs() > 4.0 * noise && second.abs() > noise && first * second > 0.0).then(|| (first / second).log2());
    let (mut value, mesh_error) = match order {
        Some(p) if p >= ORDERS.0 && p <= ORDERS.1 => {
            // Change of the extrapolation from (n, 2n) to (2n, 4n).
            (fine - second / 3.0, (first - 4.0 * second).abs() / 3.0 / 3.0)
        }
        Some(p) if p > 0.0 => (fine, second.abs() * (1.0 / (p.exp2() - 1.0)).max(1.0)),
        _ => (fine, second.abs().max(first.abs())),
    };
    // Halving the steps of a second-order method leaves a quarter of the error.
    let gain = halved - coarse;
    value += gain * 4.0 / 3.0;
    let time_error = gain.abs() * 2.0 / 3.0;
    let mesh_error = mesh_error + noise;
    Estimate { value, error: mesh_error + time_error, mesh_error, time_error, order }
}
