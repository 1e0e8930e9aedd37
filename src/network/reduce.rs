//! The reduced form of a patch: a few modes that answer at the ports like the full patch.
//!
//! Rational Krylov projection: the basis holds the constant vector (so that heat is conserved exactly), the start
//! fields (so that the march starts exactly where the full patch does) and interior responses (K + s C)⁻¹ to the ports
//! at a few shifts s, the first of them zero (so that steady states are exact). The next shift is taken where the
//! answer of the reduced patch is farthest from the full one's, until the error is small enough over the whole span of
//! time scales asked for. A final change of basis makes the modes independent of one another.

use nalgebra::{DMatrix, DVector, SymmetricEigen};

use super::patch::{Coefficients, Condensed, Coupling, Interior, Patch};
use super::{NodeId, Port};
use crate::error::{Error, ErrorKind};

/// What is asked of a reduction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Aim {
    /// Relative error of what the patch takes up and passes on.
    pub(crate) tolerance: f64,
    /// Shortest and longest time scale at which that must hold, s.
    pub(crate) scales: [f64; 2],
}

/// The answer at single time scales must be this much better than what is wanted of heat in time: of a chain, measured on a
/// hundred random walls, and of a grid, on corners (see the tests).
const MARGIN: [f64; 2] = [0.03, 0.01];
/// Time scales between the shortest and the longest at which the answer may be checked.
const CHECKED: usize = 40;
/// Where a check costs a large factor only some scales are checked, the most doubtful first: so many must pass one after
/// the other.
const IN_A_ROW: usize = 2;
/// A vector that lies in the span of the others to this share adds nothing.
const DEPENDENT: f64 = 1e-9;
/// A start field may differ from what the modes can hold by this share.
const START: f64 = 1e-9;

/// The reduced form of all patches with the same constant coefficients, wherever their ports sit, whatever their weight.
#[derive(Debug, Clone)]
pub(crate) struct Reduced {
    coefficients: Coefficients,
    error_scale: Vec<f64>,
    /// Modes against the interior temperatures of the full patch: what these mean to each mode, J/K.
    weights: DMatrix<f64>,
    /// The same, back: the temperatures that each mode means.
    basis: DMatrix<f64>,
    /// Largest relative error of what the patch takes up and passes on at the time scales that were checked.
    pub(crate) error: f64,
}

impl Reduced {
    /// Reduces `coefficients` with so many `ports`, which are to start from any of `starts` (interior temperatures, K; equal
    /// temperatures need not be named).
    ///
    /// # Errors
    /// [`ErrorKind::NoConvergence`] if the tolerance is not reached with as many modes as interior unknowns,
    /// [`ErrorKind::Inconsistent`] for coefficients without an interior or in reduced form.
    pub(crate) fn new(coefficients: &Coefficients, ports: usize, starts: &[&[f64]], aim: Aim) -> Result<Self, Error> {
        let mut full = Full::new(coefficients, ports, starts)?;
        let [shortest, longest] = aim.scales;
        let shift = |i: usize| (1.0 / longest) * (longest / shortest).powf(i as f64 / (CHECKED - 1) as f64);
        let mut known: Vec<Option<Shift>> = (0..CHECKED).map(|_| None).collect();
        let cheap = matches!(coefficients.interior, Interior::Chain(_));
        if cheap {
            for (i, known) in known.iter_mut().enumerate() {
                *known = Some(full.at(shift(i))?);
            }
        }
        let mut basis = Basis { capacity: &coefficients.capacity[..full.m], vectors: Vec::new() };
        basis.add(DVector::from_element(full.m, 1.0));
        full.starts.iter().for_each(|start| basis.add(start.clone()));
        full.at(0.0)?.responses.into_iter().for_each(|column| basis.add(column));
        let goal = MARGIN[usize::from(!cheap)] * aim.tolerance;
        let mut passed = 0;
        loop {
            let small = full.project(&basis.vectors);
            let error_at =
                |known: &[Option<Shift>], i: usize| known[i].as_ref().map(|k| small.answer(shift(i)).error(&k.answer));
            let (mut worst, mut error) = (0, 0.0);
            for i in 0..CHECKED {
                if let Some(e) = error_at(&known, i)
                    && e > error
                {
                    (worst, error) = (i, e);
                }
            }
            let spent = basis.vectors.len() >= full.m;
            // The checks so far hold: the next most doubtful scale, far from those that passed, may fail.
            while error <= goal && passed < IN_A_ROW && !spent {
                let near = |i: usize| known[i.saturating_sub(1)..(i + 2).min(CHECKED)].iter().any(Option::is_some);
                let doubts = small.doubts(&full, (0..CHECKED).filter(|i| !near(*i)).map(|i| (i, shift(i))));
                let Some(next) = doubts else { break };
                known[next] = Some(full.at(shift(next))?);
                passed += 1;
                if let Some(e) = error_at(&known, next)
                    && e > error
                {
                    (worst, error) = (next, e);
                }
            }
            if error <= goal || spent {
                if error > aim.tolerance {
                    return Err(Error::new(ErrorKind::NoConvergence, "the reduction does not reach its tolerance")
                        .with_value(format!("{error:e} with {} modes", basis.vectors.len()))
                        .with_accepted(format!("{:e}", aim.tolerance)));
                }
                return Ok(small.finish(&full, error));
            }
            passed = 0;
            let before = basis.vectors.len();
            if let Some(worst) = &known[worst] {
                worst.responses.iter().chain(&worst.decays).for_each(|column| basis.add(column.clone()));
            }
            if basis.vectors.len() == before {
                return Err(Error::new(ErrorKind::NoConvergence, "the reduction makes no more headway")
                    .with_value(format!("{error:e} with {before} modes"))
                    .with_accepted(format!("{:e}", aim.tolerance)));
            }
        }
    }

    /// Number of modes.
    pub(crate) fn modes(&self) -> usize {
        self.error_scale.len()
    }

    /// Storage, bytes.
    pub(crate) fn bytes(&self) -> usize {
        size_of_val(self.weights.as_slice()) + size_of_val(self.basis.as_slice())
    }

    /// The reduced patch, `weight` times, with its ports on these nodes, from the start temperatures (K) of the full
    /// patch, its ports last.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] for a start field that was not named when the patch was reduced, or another number of
    /// ports or temperatures.
    pub(crate) fn attach(&self, weight: f64, ports: &[NodeId], start: &[f64]) -> Result<Patch, Error> {
        let (m, n) = (self.basis.nrows(), self.modes());
        if ports.len() + n != self.coefficients.capacity.len() || start.len() != m + ports.len() {
            return Err(Error::new(ErrorKind::Inconsistent, "a reduced patch has other ports or unknowns")
                .with_value(format!("{} ports, {} temperatures", ports.len(), start.len())));
        }
        let (inside, at_ports) = start.split_at(m);
        let modes: Vec<f64> = match uniform(inside) {
            // Equal temperatures stay equal to the last digit.
            Some(t) => self.coefficients.heat()[..n].iter().map(|h| h * t).collect(),
            None => {
                let start = DVector::from_column_slice(inside);
                let modes = self.weights.tr_mul(&start);
                let left = (&self.basis * &modes - &start).amax();
                if left > START * start.amax() {
                    return Err(Error::new(ErrorKind::Inconsistent, "the reduced form does not know this start field")
                        .with_value(format!("off by up to {left:e} K")));
                }
                modes.iter().copied().collect()
            }
        };
        Ok(Patch {
            coefficients: self.coefficients.clone(),
            ports: ports.iter().enumerate().map(|(p, node)| Port { local: n + p, node: *node }).collect(),
            weight,
            start: modes.into_iter().chain(at_ports.iter().copied()).collect(),
            properties: None,
            error_scale: Some(self.error_scale.clone()),
            sources: Vec::new(),
        })
    }
}

/// Reduces `patch` alone: a patch that answers like it, and the largest relative error that was found.
///
/// # Errors
/// As [`Reduced::new`]; [`ErrorKind::Inconsistent`] for a patch whose coefficients follow temperature or that has sources.
pub(crate) fn reduce(patch: &Patch, aim: Aim) -> Result<(Patch, f64), Error> {
    if patch.properties.is_some() || !patch.sources.is_empty() {
        return Err(Error::new(ErrorKind::Inconsistent, "only constant coefficients without sources can be reduced"));
    }
    let start = &patch.start[..patch.interior_len()];
    let reduced = Reduced::new(&patch.coefficients, patch.ports.len(), &[start], aim)?;
    let ports: Vec<NodeId> = patch.ports.iter().map(|port| port.node).collect();
    Ok((reduced.attach(patch.weight, &ports, &patch.start)?, reduced.error))
}

/// The temperature that all share.
fn uniform(t: &[f64]) -> Option<f64> {
    let first = *t.first()?;
    t.iter().all(|t| (t - first).abs() <= 1e-12 * first.abs()).then_some(first)
}

/// How a patch answers at the time scale 1/s: what it takes up at each port when all ports warm together, and what it
/// passes from each port to the others through its interior, W/K. (Their sums are the admittance; apart, neither hides
/// behind the conductance of a metal face.)
struct Answer {
    shunt: Vec<f64>,
    /// Per pair of ports.
    transfer: Vec<f64>,
}

impl Answer {
    /// Largest error relative to the other's values.
    fn error(&self, exact: &Answer) -> f64 {
        let shunt = self.shunt.iter().zip(&exact.shunt).map(|(a, b)| (a - b).abs() / b).fold(0.0, f64::max);
        let least = exact.shunt.iter().copied().fold(f64::INFINITY, f64::min);
        let transfer = self.transfer.iter().zip(&exact.transfer);
        transfer.map(|(a, b)| (a - b).abs() / (b + least)).fold(shunt, f64::max)
    }
}

/// Every pair of so many ports.
fn pairs(ports: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..ports).flat_map(move |q| (0..q).map(move |p| (p, q)))
}

/// What is known of the full patch at one shift.
struct Shift {
    /// (K_II + s C)⁻¹ (-K_IP), a column per port.
    responses: Vec<DVector<f64>>,
    /// (K_II + s C)⁻¹ C T for every start field T: what it does as it decays.
    decays: Vec<DVector<f64>>,
    answer: Answer,
}

/// The full patch, split into interior and ports.
struct Full<'a> {
    coefficients: &'a Coefficients,
    m: usize,
    ports: usize,
    /// -K_IP, one column per port.
    input: Vec<DVector<f64>>,
    /// Start fields that are not uniform.
    starts: Vec<DVector<f64>>,
    condensed: Condensed,
}

impl<'a> Full<'a> {
    fn new(coefficients: &'a Coefficients, ports: usize, starts: &[&[f64]]) -> Result<Self, Error> {
        let m = coefficients.capacity.len().saturating_sub(ports);
        if m == 0 || matches!(coefficients.interior, Interior::Modes(_)) {
            return Err(Error::new(
                ErrorKind::Inconsistent,
                "a patch without an interior of its own cannot be reduced",
            ));
        }
        let mut input = vec![DVector::zeros(m); ports];
        for c in &coefficients.couplings {
            input[c.port][c.interior] += c.conductance;
        }
        let starts = starts.iter().filter(|t| uniform(t).is_none()).map(|t| DVector::from_column_slice(t)).collect();
        Ok(Full { coefficients, m, ports, input, starts, condensed: Condensed::default() })
    }

    /// Responses, decays and answer at a shift: one factor.
    fn at(&mut self, s: f64) -> Result<Shift, Error> {
        let coefficients = self.coefficients;
        if !coefficients.condense_into(s, 1.0, self.ports, &mut self.condensed) {
            return Err(Error::new(ErrorKind::NoConvergence, "a patch could not be factored"));
        }
        let responses: Vec<DVector<f64>> =
            self.condensed.responses().map(|x| -DVector::from_column_slice(x)).take(self.ports).collect();
        let mut on_port = vec![0.0; self.ports];
        let mut solve = |mut x: DVector<f64>| {
            self.condensed.solve_interior(&coefficients.couplings, x.as_mut_slice(), &mut on_port);
            x
        };
        // Where all ports warm by one kelvin the interior lags behind by w: (K + s C) w = s C 1.
        let capacity = DVector::from_column_slice(&coefficients.capacity[..self.m]);
        let lag = solve(s * &capacity);
        let decays = self.starts.iter().map(|t| solve(capacity.component_mul(t))).collect();
        let answer = Answer {
            shunt: self.input.iter().map(|input| input.dot(&lag)).collect(),
            transfer: pairs(self.ports).map(|(p, q)| self.input[p].dot(&responses[q])).collect(),
        };
        Ok(Shift { responses, decays, answer })
    }

    /// K_II v.
    fn stiff(&self, v: &DVector<f64>) -> DVector<f64> {
        let mut t = vec![0.0; self.m + self.ports];
        t[..self.m].copy_from_slice(v.as_slice());
        let mut out = vec![0.0; self.m + self.ports];
        self.coefficients.inflow(&t, &mut out);
        DVector::from_fn(self.m, |i, _| -out[i])
    }

    fn project(&self, vectors: &[DVector<f64>]) -> Small {
        // The eigenvectors of Vᵀ K V; Vᵀ C V = 1 already.
        let stiff: Vec<DVector<f64>> = vectors.iter().map(|v| self.stiff(v)).collect();
        let n = vectors.len();
        let k = DMatrix::from_fn(n, n, |i, j| 0.5 * (vectors[i].dot(&stiff[j]) + vectors[j].dot(&stiff[i])));
        let eigen = SymmetricEigen::new(k);
        let v = DMatrix::from_columns(vectors) * &eigen.eigenvectors;
        let stiff = DMatrix::from_columns(&stiff) * &eigen.eigenvectors;
        let input = DMatrix::from_columns(&self.input);
        Small { rates: eigen.eigenvalues, input: v.transpose() * input, basis: v, stiff }
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
    /// K_II times the basis.
    stiff: DMatrix<f64>,
}

impl Small {
    fn answer(&self, s: f64) -> Answer {
        let modes = 0..self.rates.len();
        let ports = self.input.ncols();
        let lag = |j: usize| self.input.row(j).sum() / self.rates[j] * s / (self.rates[j] + s);
        Answer {
            shunt: (0..ports).map(|p| modes.clone().map(|j| self.input[(j, p)] * lag(j)).sum()).collect(),
            transfer: pairs(ports)
                .map(|(p, q)| {
                    modes.clone().map(|j| self.input[(j, p)] * self.input[(j, q)] / (self.rates[j] + s)).sum()
                })
                .collect(),
        }
    }

    /// The shift, by its number, at which the error may be largest: no port can answer by more than rᵀ C⁻¹ r / s falsely,
    /// where r is what the reduced solution leaves of the equations.
    fn doubts(&self, full: &Full<'_>, shifts: impl Iterator<Item = (usize, f64)>) -> Option<usize> {
        let n = self.rates.len();
        let capacity = &full.coefficients.capacity[..full.m];
        let product =
            |a: &[f64], b: &[f64]| -> f64 { a.iter().zip(b).zip(capacity).map(|((a, b), c)| a * b / c).sum() };
        let columns: Vec<&[f64]> = full
            .input
            .iter()
            .map(|b| b.as_slice())
            .chain((0..n).map(|j| &self.stiff.as_slice()[j * full.m..(j + 1) * full.m]))
            .collect();
        let ports = full.ports;
        let gram =
            DMatrix::from_fn(ports + n, ports + n, |i, j| if i <= j { product(columns[i], columns[j]) } else { 0.0 });
        let doubt = |s: f64| {
            let answer = self.answer(s);
            (0..ports)
                .map(|p| {
                    let y = DVector::from_fn(n, |j, _| self.input[(j, p)] / (self.rates[j] + s));
                    // r = b - K V y - s C V y.
                    let mut square = gram[(p, p)];
                    for j in 0..n {
                        square -= 2.0 * y[j] * (gram[(p, ports + j)] + s * self.input[(j, p)]);
                        square += y[j] * y[j] * (2.0 * s * self.rates[j] + s * s);
                        for i in 0..=j {
                            let twice = if i < j { 2.0 } else { 1.0 };
                            square += twice * y[i] * y[j] * gram[(ports + i, ports + j)];
                        }
                    }
                    square / s / answer.shunt[p]
                })
                .fold(0.0, f64::max)
        };
        shifts.map(|(i, s)| (i, doubt(s))).max_by(|a, b| a.1.total_cmp(&b.1)).map(|(i, _)| i)
    }

    fn finish(self, full: &Full<'_>, error: f64) -> Reduced {
        let n = self.rates.len();
        let coefficients = full.coefficients;
        // Heat per mode and the ports' own conductance as the couplings imply them: equal temperatures then give no
        // flow, and what leaves the modes arrives at the ports, to rounding. (The basis holds the constant vector, so
        // this changes nothing but the last digits.)
        let heat = DVector::from_fn(n, |j, _| self.input.row(j).sum() / self.rates[j]);
        let mut port = DMatrix::from_fn(full.ports, full.ports, |p, q| {
            if p == q { (0..n).map(|j| heat[j] * self.input[(j, q)]).sum() } else { 0.0 }
        });
        for bridge in &coefficients.bridges {
            let [a, b] = bridge.ports;
            port[(a, a)] += bridge.conductance;
            port[(b, b)] += bridge.conductance;
            port[(a, b)] -= bridge.conductance;
            port[(b, a)] -= bridge.conductance;
        }
        let couplings = (0..n)
            .flat_map(|j| (0..full.ports).map(move |p| (j, p)))
            .map(|(j, p)| Coupling { interior: j, port: p, conductance: self.input[(j, p)] })
            .collect();
        let (inside, at_ports) = coefficients.capacity.split_at(full.m);
        let mut weights = self.basis.clone();
        for mut column in weights.column_iter_mut() {
            column.iter_mut().zip(inside).for_each(|(v, c)| *v *= c);
        }
        let with_ports = |modes: &DVector<f64>| modes.iter().chain(at_ports).copied().collect::<Vec<f64>>();
        Reduced {
            coefficients: Coefficients {
                interior: Interior::Modes(self.rates.iter().copied().collect()),
                couplings,
                bridges: Vec::new(),
                capacity: with_ports(&DVector::from_element(n, 1.0)),
                heat: Some(with_ports(&heat)),
                port_conductance: Some(port.transpose().iter().copied().collect()),
            },
            error_scale: self.basis.column_iter().map(|v| v.amax()).collect(),
            weights,
            basis: self.basis,
            error,
        }
    }
}
