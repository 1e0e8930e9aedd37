//! The reduced form of a patch: a few modes that answer at the ports like the full patch.
//!
//! Rational Krylov projection: the basis holds the constant vector (so that heat is conserved exactly), the start
//! field (so that the march starts exactly where the full patch does) and interior responses (K + s C)⁻¹ to the ports
//! at a few shifts s, the first of them zero (so that steady states are exact). The next shift is taken where the
//! answer of the reduced patch is farthest from the full one's, until the error is small enough over the whole span of
//! time scales asked for. A final change of basis makes the modes independent of one another.

use nalgebra::{DMatrix, DVector, SymmetricEigen};

use super::patch::{Coefficients, Coupling, Interior, Patch};
use crate::error::{Error, ErrorKind};
use crate::numeric::tridiagonal;

/// What a reduction did.
#[derive(Debug, Clone)]
pub(crate) struct Reduction {
    /// Largest relative error of what the patch takes up and passes on over the checked time scales.
    pub(crate) error: f64,
}

/// The answer at single time scales must be this much better than what is wanted of heat flows in time, measured on a
/// hundred random walls (see the tests).
const MARGIN: f64 = 0.03;
/// Time scales checked between the shortest and the longest.
const CHECKED: usize = 40;
/// A vector that lies in the span of the others to this share adds nothing.
const DEPENDENT: f64 = 1e-9;

/// Reduces `patch` so that what it takes up and passes on errs by at most `tolerance` (relative) for time
/// scales from `shortest` to `longest` s.
///
/// # Errors
/// [`ErrorKind::NoConvergence`] if the tolerance is not reached with as many modes as interior unknowns,
/// [`ErrorKind::Inconsistent`] for a patch that is no constant chain with an interior.
pub(crate) fn reduce(patch: &Patch, tolerance: f64, shortest: f64, longest: f64) -> Result<(Patch, Reduction), Error> {
    let full = Full::new(patch)?;
    let shifts: Vec<f64> =
        (0..CHECKED).map(|i| (1.0 / longest) * (longest / shortest).powf(i as f64 / (CHECKED - 1) as f64)).collect();
    let exact: Vec<Answer> = shifts.iter().map(|s| full.answer(*s)).collect::<Result<_, _>>()?;

    let mut basis = Basis { capacity: &full.capacity, vectors: Vec::new() };
    basis.add(DVector::from_element(full.m, 1.0));
    let start = DVector::from_column_slice(&patch.start[..full.m]);
    basis.add(start.clone());
    for column in full.responses(0.0)? {
        basis.add(column);
    }
    let uniform = start.iter().all(|t| (t - start[0]).abs() <= 1e-12 * start[0].abs());
    loop {
        let small = full.project(&basis.vectors);
        let (worst, error) = shifts
            .iter()
            .zip(&exact)
            .map(|(s, full)| (*s, small.answer(*s).error(full)))
            .fold((0.0, 0.0), |a, b| if b.1 > a.1 { b } else { a });
        if error <= MARGIN * tolerance || basis.vectors.len() >= full.m {
            if error > tolerance {
                return Err(Error::new(ErrorKind::NoConvergence, "the reduction does not reach its tolerance")
                    .with_value(format!("{error:e} with {} modes", basis.vectors.len()))
                    .with_accepted(format!("{tolerance:e}")));
            }
            return Ok(small.into_patch(patch, &full, &start, error));
        }
        let before = basis.vectors.len();
        for column in full.responses(worst)? {
            basis.add(column);
        }
        if !uniform {
            // What the start field does as it decays.
            let mut decay = DVector::from_fn(full.m, |i, _| full.capacity[i] * start[i]);
            full.factor(worst)?.solve(decay.as_mut_slice());
            basis.add(decay);
        }
        if basis.vectors.len() == before {
            return Err(Error::new(ErrorKind::NoConvergence, "the reduction makes no more headway")
                .with_value(format!("{error:e} with {before} modes"))
                .with_accepted(format!("{tolerance:e}")));
        }
    }
}

/// How a patch answers at the time scale 1/s: what it takes up at each port when all ports warm together, and what it
/// passes from one port to the other, W/K. (Their sums are the admittance; apart, neither hides behind the conductance
/// of a metal face.)
struct Answer {
    shunt: Vec<f64>,
    transfer: f64,
}

impl Answer {
    /// Largest error relative to the other's values.
    fn error(&self, exact: &Answer) -> f64 {
        let shunt = self.shunt.iter().zip(&exact.shunt).map(|(a, b)| (a - b).abs() / b).fold(0.0, f64::max);
        let least = exact.shunt.iter().copied().fold(f64::INFINITY, f64::min);
        shunt.max((self.transfer - exact.transfer).abs() / (exact.transfer + least))
    }
}

/// The full patch, split into interior and ports.
struct Full {
    m: usize,
    ports: usize,
    capacity: Vec<f64>,
    chain: Vec<f64>,
    /// Diagonal of K_II.
    diagonal: Vec<f64>,
    /// -K_IP, one column per port.
    input: Vec<DVector<f64>>,
    /// K_PP.
    port: DMatrix<f64>,
}

impl Full {
    fn new(patch: &Patch) -> Result<Self, Error> {
        let (Interior::Chain(chain), None, true) = (&patch.interior, &patch.properties, patch.interior_len() > 0)
        else {
            return Err(Error::new(ErrorKind::Inconsistent, "only a chain with constant coefficients can be reduced"));
        };
        let m = patch.interior_len();
        let ports = patch.ports.len();
        let mut diagonal = vec![0.0; m];
        for (i, g) in chain.iter().enumerate() {
            diagonal[i] += g;
            diagonal[i + 1] += g;
        }
        let mut input = vec![DVector::zeros(m); ports];
        let mut port = DMatrix::zeros(ports, ports);
        for c in &patch.couplings {
            diagonal[c.interior] += c.conductance;
            input[c.port][c.interior] += c.conductance;
            port[(c.port, c.port)] += c.conductance;
        }
        Ok(Full { m, ports, capacity: patch.capacity[..m].to_vec(), chain: chain.clone(), diagonal, input, port })
    }

    fn factor(&self, s: f64) -> Result<tridiagonal::Factor, Error> {
        let off: Vec<f64> = self.chain.iter().map(|g| -g).collect();
        let diagonal: Vec<f64> = self.diagonal.iter().zip(&self.capacity).map(|(k, c)| k + s * c).collect();
        tridiagonal::Factor::new(&diagonal, &off)
            .ok_or_else(|| Error::new(ErrorKind::NoConvergence, "a patch could not be factored"))
    }

    /// (K_II + s C)⁻¹ (-K_IP), a column per port.
    fn responses(&self, s: f64) -> Result<Vec<DVector<f64>>, Error> {
        let factor = self.factor(s)?;
        Ok(self
            .input
            .iter()
            .map(|column| {
                let mut x = column.clone();
                factor.solve(x.as_mut_slice());
                x
            })
            .collect())
    }

    fn answer(&self, s: f64) -> Result<Answer, Error> {
        let responses = self.responses(s)?;
        // Where all ports warm by one kelvin the interior lags behind by w: (K + s C) w = s C 1.
        let mut lag = DVector::from_fn(self.m, |i, _| s * self.capacity[i]);
        self.factor(s)?.solve(lag.as_mut_slice());
        Ok(Answer {
            shunt: self.input.iter().map(|input| input.dot(&lag)).collect(),
            transfer: if self.ports == 2 { self.input[0].dot(&responses[1]) } else { 0.0 },
        })
    }

    fn project(&self, vectors: &[DVector<f64>]) -> Small {
        // Vᵀ K V by the chain, then its eigenvectors; Vᵀ C V = 1 already.
        let stiff: Vec<DVector<f64>> = vectors
            .iter()
            .map(|v| {
                let mut out = DVector::from_fn(self.m, |i, _| self.diagonal[i] * v[i]);
                for (i, g) in self.chain.iter().enumerate() {
                    out[i] -= g * v[i + 1];
                    out[i + 1] -= g * v[i];
                }
                out
            })
            .collect();
        let n = vectors.len();
        let k = DMatrix::from_fn(n, n, |i, j| 0.5 * (vectors[i].dot(&stiff[j]) + vectors[j].dot(&stiff[i])));
        let eigen = SymmetricEigen::new(k);
        let v = DMatrix::from_columns(vectors) * &eigen.eigenvectors;
        let input = DMatrix::from_columns(&self.input);
        Small { rates: eigen.eigenvalues, input: v.transpose() * input, basis: v, port: self.port.clone() }
    }
}

/// A basis orthonormal in the inner product of the heat capacities.
struct Basis<'a> {
    capacity: &'a [f64],
    vectors: Vec<DVector<f64>>,
}

impl Basis<'_> {
    fn inner(&self, a: &DVector<f64>, b: &DVector<f64>) -> f64 {
        self.capacity.iter().zip(a.iter().zip(b.iter())).map(|(c, (a, b))| c * a * b).sum()
    }

    /// Adds what of `x` the others do not span.
    fn add(&mut self, mut x: DVector<f64>) {
        let size = self.inner(&x, &x).sqrt();
        // Twice is enough (Gram-Schmidt with one repetition).
        for _ in 0..2 {
            for v in &self.vectors {
                let share = self.inner(v, &x);
                x.axpy(-share, v, 1.0);
            }
        }
        let left = self.inner(&x, &x).sqrt();
        if left > DEPENDENT * size && left > 0.0 {
            self.vectors.push(x / left);
        }
    }
}

/// The reduced system: modes with rates, fed by the ports.
struct Small {
    rates: DVector<f64>,
    /// Modes by ports.
    input: DMatrix<f64>,
    basis: DMatrix<f64>,
    port: DMatrix<f64>,
}

impl Small {
    fn answer(&self, s: f64) -> Answer {
        let modes = 0..self.rates.len();
        let ports = self.input.ncols();
        let lag = |j: usize| self.input.row(j).sum() / self.rates[j] * s / (self.rates[j] + s);
        Answer {
            shunt: (0..ports).map(|p| modes.clone().map(|j| self.input[(j, p)] * lag(j)).sum()).collect(),
            transfer: if ports == 2 {
                modes.map(|j| self.input[(j, 0)] * self.input[(j, 1)] / (self.rates[j] + s)).sum()
            } else {
                0.0
            },
        }
    }

    fn into_patch(self, patch: &Patch, full: &Full, start: &DVector<f64>, error: f64) -> (Patch, Reduction) {
        let n = self.rates.len();
        let weighted = |x: &DVector<f64>| {
            let cx = DVector::from_fn(full.m, |i, _| full.capacity[i] * x[i]);
            self.basis.transpose() * cx
        };
        // Heat per mode and the ports' own conductance as the couplings imply them: equal temperatures then give no
        // flow, and what leaves the modes arrives at the ports, to rounding. (The basis holds the constant vector, so
        // this changes nothing but the last digits.)
        let heat = DVector::from_fn(n, |j, _| self.input.row(j).sum() / self.rates[j]);
        let port = DMatrix::from_fn(full.ports, full.ports, |p, q| {
            if p == q { (0..n).map(|j| heat[j] * self.input[(j, q)]).sum() } else { self.port[(p, q)] }
        });
        let modes_start = weighted(start);
        let mut couplings = Vec::with_capacity(n * full.ports);
        for j in 0..n {
            for p in 0..full.ports {
                couplings.push(Coupling { interior: j, port: p, conductance: self.input[(j, p)] });
            }
        }
        let port_capacity = &patch.capacity[full.m..];
        let with_ports = |modes: &DVector<f64>, ports: &[f64]| {
            modes.iter().copied().chain(ports.iter().copied()).collect::<Vec<f64>>()
        };
        let reduced = Patch {
            coefficients: Coefficients {
                interior: Interior::Modes(self.rates.iter().copied().collect()),
                couplings,
                bridges: Vec::new(),
                capacity: with_ports(&DVector::from_element(n, 1.0), port_capacity),
                heat: Some(with_ports(&heat, port_capacity)),
                port_conductance: Some(port.transpose().iter().copied().collect()),
            },
            ports: patch
                .ports
                .iter()
                .enumerate()
                .map(|(p, port)| super::Port { local: n + p, node: port.node })
                .collect(),
            weight: patch.weight,
            start: with_ports(&modes_start, &patch.start[full.m..]),
            properties: None,
            error_scale: Some(self.basis.column_iter().map(|v| v.amax()).collect()),
            sources: Vec::new(),
        };
        (reduced, Reduction { error })
    }
}
