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

/// The same quantity from six marches: meshes n, 2n, 4n with one sequence of steps, mesh n with every step halved once
/// and twice, and mesh 2n with every step halved.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sample {
    pub(crate) coarse: f64,
    pub(crate) middle: f64,
    pub(crate) fine: f64,
    pub(crate) halved: f64,
    pub(crate) quartered: f64,
    pub(crate) middle_halved: f64,
}

/// Refinement of the mesh and parts of each step of the six marches, in the order of the fields of [`Sample`].
pub(crate) const MARCHES: [(usize, usize); 6] = [(1, 1), (2, 1), (4, 1), (1, 2), (1, 4), (2, 2)];

impl Sample {
    /// From six values in the order of [`MARCHES`].
    pub(crate) fn new([coarse, middle, fine, halved, quartered, middle_halved]: [f64; 6]) -> Self {
        Sample { coarse, middle, fine, halved, quartered, middle_halved }
    }
}

/// Extrapolation is trusted if the observed order lies between these.
const ORDERS: (f64, f64) = (1.6, 2.4);
/// No quantity is taken to converge slower than with this order.
const SLOWEST: f64 = 0.5;
/// The change of the extrapolation from one triple of the sequence to the next overstates the error of the last
/// extrapolation; this share of it still covers (measured on a hundred random walls, see the tests).
const SHARE: f64 = 0.5;

/// How far six marches are believed where nothing confirms what they show.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Doubt {
    /// Share of the last change below which the error of an extrapolation is not told: three values may look clean by
    /// accident.
    least: f64,
    /// So much of the first change is added to the last where they grow, for what grows is not through yet.
    growing: f64,
    /// So much of the mixed term may be wrong: it is extrapolated from one difference.
    mixed: f64,
}

impl Doubt {
    /// Of marches through walls alone, measured on a hundred random walls.
    pub(crate) const SMOOTH: Doubt = Doubt { least: 0.025, growing: 0.0, mixed: 1.0 };
    /// Of marches of whole setups, where laws are held through a step, bodies come to rest and things happen; measured on
    /// four hundred drawn setups against much finer runs (see the tests).
    pub(crate) const EVENTFUL: Doubt = Doubt { least: 0.05, growing: 1.0, mixed: 2.0 };
}

/// Combines the six; `noise` is the size of rounding to be expected.
pub(crate) fn combine(sample: Sample, noise: f64, doubt: Doubt) -> Estimate<f64> {
    let mesh = limit([sample.coarse, sample.middle, sample.fine], noise, doubt);
    let time = limit([sample.coarse, sample.halved, sample.quartered], noise, doubt);
    // What halving the steps changes is added to the limit of the meshes, as much as it would be on the finest mesh:
    // it differs between meshes, most at early times, and that difference shrinks with the square of the cell.
    let on_coarse = sample.halved - sample.coarse;
    let mixed = (sample.middle_halved - sample.middle) - on_coarse;
    let value = mesh.value + (time.value - sample.coarse) + MIXED * mixed;
    let mesh_error = mesh.error + noise;
    let time_error = time.error + doubt.mixed * mixed.abs();
    Estimate { value, error: mesh_error + time_error, mesh_error, time_error, order: mesh.order }
}

/// Value and error of what does not change in time, from meshes n, 2n and 4n of a section; `noise` is the size of
/// rounding.
pub(crate) fn of_meshes(values: [f64; 3], noise: f64) -> Estimate<f64> {
    let mesh = limit(values, noise, Doubt::SMOOTH);
    let error = with_corners(values, &mesh) + noise;
    Estimate { value: mesh.value, error, mesh_error: error, time_error: 0.0, order: mesh.order }
}

/// Combines six marches of a section.
pub(crate) fn combine_section(sample: Sample, noise: f64) -> Estimate<f64> {
    let meshes = [sample.coarse, sample.middle, sample.fine];
    let mesh_error = with_corners(meshes, &limit(meshes, noise, Doubt::SMOOTH)) + noise;
    let combined = combine(sample, noise, Doubt::SMOOTH);
    Estimate { mesh_error, error: mesh_error + combined.time_error, ..combined }
}

/// The same for what is read between the nodes of a section: interpolation adds an error of its own on each mesh that
/// shows no order, so that extrapolation gains less. `unsure` is that error on the finest mesh.
pub(crate) fn between_nodes(estimate: Estimate<f64>, [_, second, third]: [f64; 3], unsure: f64) -> Estimate<f64> {
    let mesh_error = estimate.mesh_error.max(BETWEEN * (second - third).abs()) + unsure;
    Estimate { mesh_error, error: mesh_error + estimate.time_error, ..estimate }
}

/// Share of the last change below which the error of a reading between nodes is not told.
const BETWEEN: f64 = 1.0;

/// The error of the meshes of a section. Corners bring slower powers of the cell than the second along, whose share grows
/// from mesh to mesh, so that the error is taken for larger than in one dimension (measured on the sections of the tests).
fn with_corners([first, second, _]: [f64; 3], mesh: &Limit) -> f64 {
    // A last change far smaller than second order lets expect is an accident.
    let expected = 0.25 * (first - second).abs();
    let accident = if mesh.order.is_some_and(|p| p > ORDERS.1) { expected } else { 0.0 };
    CORNERS * mesh.error.max(accident)
}

/// Factor on the error of sections.
const CORNERS: f64 = 2.5;

impl<Q, E> Estimate<Q, E> {
    /// The same in other quantities.
    pub(crate) fn map<P, F>(self, value: impl Fn(Q) -> P, error: impl Fn(E) -> F) -> Estimate<P, F> {
        Estimate {
            value: value(self.value),
            error: error(self.error),
            mesh_error: error(self.mesh_error),
            time_error: error(self.time_error),
            order: self.order,
        }
    }
}

/// 4/3 for steps to nothing times 4/3 for cells to nothing, each from one halving of a second-order method.
const MIXED: f64 = 16.0 / 9.0;

struct Limit {
    value: f64,
    error: f64,
    order: Option<f64>,
}

/// Where a sequence of approximations, each with half the parameter of the one before, is going.
fn limit([first, second, third]: [f64; 3], noise: f64, doubt: Doubt) -> Limit {
    let (before, last) = (first - second, second - third);
    let order =
        (before.abs() > 4.0 * noise && last.abs() > noise && before * last > 0.0).then(|| (before / last).log2());
    match order {
        Some(p) if p >= ORDERS.0 && p <= ORDERS.1 => Limit {
            value: third - last / 3.0,
            // |(4 third - second)/3 - (4 second - first)/3| is the change of the extrapolation.
            error: SHARE * (before - 4.0 * last).abs() / 3.0 + doubt.least * last.abs(),
            order,
        },
        Some(p) if p > ORDERS.1 => {
            // Faster than the method converges: two terms of the error happen to cancel. They would leave a twelfth of
            // the first change after two halvings of second order, and that is what may come back.
            Limit { value: third, error: last.abs().max(before.abs() / 12.0), order }
        }
        Some(p) if p > 0.0 => {
            // Two changes that hardly differ are an accident, too: they show no order, and would tell of any error at all.
            let factor = 1.0 / (p.max(SLOWEST).exp2() - 1.0);
            Limit { value: third, error: last.abs() * factor.max(1.0), order }
        }
        _ => {
            let further = if before * last > 0.0 { doubt.growing * before.abs() } else { 0.0 };
            Limit { value: third, error: last.abs().max(before.abs()) + further, order }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// f(h) = 1 + a h^p, h = 1, 1/2, 1/4.
    fn sequence(a: f64, p: f64) -> [f64; 3] {
        [1.0, 0.5, 0.25].map(|h: f64| 1.0 + a * h.powf(p))
    }

    #[test]
    fn second_order_sequences_are_extrapolated_and_others_are_not() {
        let exact = limit(sequence(0.3, 2.0), 1e-15, Doubt::SMOOTH);
        assert!((exact.value - 1.0).abs() < 1e-15 && exact.error < 2e-3);
        assert!((exact.order.unwrap() - 2.0).abs() < 1e-12);
        for p in [0.5, 1.0, 1.5, 3.0] {
            let l = limit(sequence(0.3, p), 1e-15, Doubt::SMOOTH);
            assert!((l.value - 1.0).abs() <= l.error * 1.0001, "{p}: {} {}", l.value, l.error);
        }
        // Terms of second and third order that cancel in the last change are not mistaken for a high order.
        let [a, b] = [0.3, -0.3 * 0.1875 / 0.109_375 * 1.001];
        let l = limit([1.0, 0.5, 0.25].map(|h: f64| 1.0 + a * h * h + b * h * h * h), 1e-15, Doubt::SMOOTH);
        assert!(l.order.unwrap() > 8.0 && (l.value - 1.0).abs() <= l.error, "{} {}", l.value, l.error);
        // Two changes that are nearly alike tell of no endless error.
        let l = limit([1.0, 0.97, 0.940_001], 1e-15, Doubt::SMOOTH);
        assert!(l.order.unwrap() < 1e-4 && l.error > 0.03 && l.error < 0.08, "{}", l.error);
        // A sequence that alternates has no order: the larger change is the error. One that grows is not through yet.
        for (doubt, sequence, error) in [
            (Doubt::SMOOTH, [1.0, 2.0, 1.5], 1.0),
            (Doubt::EVENTFUL, [1.0, 2.0, 1.5], 1.0),
            (Doubt::SMOOTH, [1.0, 1.5, 2.5], 1.0),
            (Doubt::EVENTFUL, [1.0, 1.5, 2.5], 1.5),
        ] {
            let l = limit(sequence, 1e-15, doubt);
            assert_eq!((l.value, l.error), (sequence[2], error));
        }
    }
}
