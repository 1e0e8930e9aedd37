//! The reduced form of a patch: a few modes that answer at the ports like the full patch.
//!
//! Rational Krylov projection: the basis holds the constant vector (so that heat is conserved exactly), the start
//! fields (so that the march starts exactly where the full patch does) and interior responses (K + s C)⁻¹ to the ports
//! at a few shifts s, the first of them zero (so that steady states are exact). The next shift is taken where the
//! answer of the reduced patch is farthest from the full one's, until the error is small enough over the whole span of
//! time scales asked for. A final change of basis makes the modes independent of one another.

use nalgebra::{DMatrix, DVector};

use super::patch::{Coefficients, Condensed, Coupling, Interior, Patch};
use super::projection::{Answer, Basis, Small, pairs};
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
    /// Shifts beyond zero of the responses that the basis holds, 1/s.
    shifts: Vec<f64>,
}

impl Reduced {
    /// Reduces `coefficients` with so many `ports`, which are to start from any of `starts` (interior temperatures, K; equal
    /// temperatures need not be named).
    ///
    /// # Errors
    /// [`ErrorKind::NoConvergence`] if the tolerance is not reached with as many modes as interior unknowns, or they cannot
    /// be told apart; [`ErrorKind::Inconsistent`] for coefficients without an interior or in reduced form.
    pub(crate) fn new(coefficients: &Coefficients, ports: usize, starts: &[&[f64]], aim: Aim) -> Result<Self, Error> {
        Self::holding(&[], coefficients, ports, starts, aim)
    }

    /// The same on a basis that holds these fields (interior temperatures, K) beside what it needs.
    ///
    /// # Errors
    /// As [`Reduced::new`].
    pub(crate) fn holding(
        fields: &[Vec<f64>],
        coefficients: &Coefficients,
        ports: usize,
        starts: &[&[f64]],
        aim: Aim,
    ) -> Result<Self, Error> {
        let mut full = Full::new(coefficients, ports, starts)?;
        let [shortest, longest] = aim.scales;
        let shift = |i: usize| (1.0 / longest) * (longest / shortest).powf(i as f64 / (CHECKED - 1) as f64);
        let mut known: Vec<Option<Shift>> = (0..CHECKED).map(|_| None).collect();
        let cheap = full.is_cheap();
        if cheap {
            for (i, known) in known.iter_mut().enumerate() {
                *known = Some(full.at(shift(i))?);
            }
        }
        let steady = full.responses_at(0.0)?;
        let mut basis = full.basis(steady.into_iter());
        fields.iter().for_each(|field| basis.add(&DVector::from_column_slice(field)));
        let mut shifts = Vec::new();
        let goal = MARGIN[usize::from(!cheap)] * aim.tolerance;
        let mut passed = 0;
        loop {
            let small = basis.project()?;
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
                let doubts = (0..CHECKED).filter(|i| !near(*i)).map(|i| (i, small.doubt(shift(i))));
                let Some((next, _)) = doubts.max_by(|a, b| a.1.total_cmp(&b.1)) else { break };
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
                return Ok(finish(&full, &basis, &small, shifts, error));
            }
            passed = 0;
            let before = basis.vectors.len();
            if let Some(known) = &known[worst] {
                known.add_to(&mut basis);
                shifts.push(shift(worst));
            }
            if basis.vectors.len() == before {
                // All that this scale can tell is in the basis already: what is left is the rounding of the full patch, of walls
                // as thin as foil, which no mode can take away. It is kept where it is small against what was asked.
                if error <= aim.tolerance {
                    return Ok(finish(&full, &basis, &small, shifts, error));
                }
                return Err(Error::new(ErrorKind::NoConvergence, "the reduction makes no more headway")
                    .with_value(format!("{error:e} with {before} modes"))
                    .with_accepted(format!("{:e}", aim.tolerance)));
            }
        }
    }

    /// Reduces the coefficients of a finer mesh of what `self` was made from as `self` was: by the shifts that served there.
    /// They follow from time scales and from what is asked, hardly from the mesh, and nothing is checked again. `steady` are
    /// the interior temperatures for each port at one and the others at zero; what passes errs by the square of their error.
    /// `fields` are as for [`Reduced::holding`].
    ///
    /// # Errors
    /// As [`Reduced::new`].
    pub(crate) fn of_finer(
        &self,
        coefficients: &Coefficients,
        steady: &[Vec<f64>],
        fields: &[Vec<f64>],
    ) -> Result<Self, Error> {
        let mut full = Full::new(coefficients, steady.len(), &[])?;
        let mut basis = full.basis(steady.iter().map(|x| DVector::from_column_slice(x)));
        fields.iter().for_each(|field| basis.add(&DVector::from_column_slice(field)));
        for shift in &self.shifts {
            full.at(*shift)?.add_to(&mut basis);
        }
        Ok(finish(&full, &basis, &basis.project()?, self.shifts.clone(), self.error))
    }

    /// The temperatures of the full patch that each mode means, a column each; none of one that has lost them.
    pub(crate) fn fields(&self) -> &DMatrix<f64> {
        &self.basis
    }

    /// Number of modes.
    pub(crate) fn modes(&self) -> usize {
        self.error_scale.len()
    }

    /// Storage, bytes.
    pub(crate) fn bytes(&self) -> usize {
        let fields = size_of_val(self.weights.as_slice()) + size_of_val(self.basis.as_slice());
        fields + size_of_val(&*self.coefficients.couplings) + 4 * size_of_val(&*self.coefficients.capacity)
    }

    /// The same without what temperatures of the full patch mean to its modes: it can start at one temperature only, and
    /// fills a hundredth of the room.
    #[must_use]
    pub(crate) fn for_uniform_starts(self) -> Self {
        let none = || DMatrix::zeros(0, self.error_scale.len());
        Reduced { weights: none(), basis: none(), ..self }
    }

    /// What passes from the first port to the second for each kelvin between them in a steady state, W/K.
    pub(crate) fn passes(&self) -> f64 {
        let Interior::Modes(rates) = &self.coefficients.interior else { return 0.0 };
        let mut ends = vec![[0.0; 2]; rates.len()];
        for c in self.coefficients.couplings.iter().filter(|c| c.port < 2) {
            ends[c.interior][c.port] = c.conductance;
        }
        let among = self.coefficients.port_conductance.as_ref().map_or(0.0, |g| -g[1]);
        among + ends.iter().zip(rates).map(|([a, b], rate)| a * b / rate).sum::<f64>()
    }

    /// Puts the coefficients into `into`, with all conductances times `factor`.
    pub(crate) fn conducting(&self, factor: f64, into: &mut Coefficients) {
        let own = &self.coefficients;
        if let (Interior::Modes(from), Interior::Modes(into)) = (&own.interior, &mut into.interior) {
            into.iter_mut().zip(from).for_each(|(into, from)| *into = factor * from);
        }
        for (into, from) in into.couplings.iter_mut().zip(&own.couplings) {
            into.conductance = factor * from.conductance;
        }
        if let (Some(into), Some(from)) = (&mut into.port_conductance, &own.port_conductance) {
            into.iter_mut().zip(from).for_each(|(into, from)| *into = factor * from);
        }
    }

    /// The reduced patch, `weight` times, with its ports on these nodes, all of it at one temperature, K.
    ///
    /// # Errors
    /// As [`Reduced::attach`].
    pub(crate) fn attach_uniform(&self, weight: f64, ports: &[NodeId], start: f64) -> Result<Patch, Error> {
        let modes = self.uniform_modes(start);
        self.attach_modes(weight, ports, modes.chain(ports.iter().map(|_| start)).collect())
    }

    /// What equal temperatures of the full patch, K, mean to its modes: equal to the last digit.
    fn uniform_modes(&self, start: f64) -> impl Iterator<Item = f64> {
        self.coefficients.heat()[..self.modes()].iter().map(move |h| h * start)
    }

    /// The reduced patch from a start of modes and ports.
    fn attach_modes(&self, weight: f64, ports: &[NodeId], start: Vec<f64>) -> Result<Patch, Error> {
        let n = self.modes();
        if ports.len() + n != self.coefficients.capacity.len() {
            return Err(Error::new(ErrorKind::Inconsistent, "a reduced patch has another number of ports")
                .with_value(format!("{} ports", ports.len())));
        }
        Ok(Patch {
            coefficients: self.coefficients.clone(),
            ports: ports.iter().enumerate().map(|(p, node)| Port { local: n + p, node: *node }).collect(),
            weight,
            start,
            properties: None,
            error_scale: Some(self.error_scale.clone()),
            sources: Vec::new(),
        })
    }

    /// The reduced patch, `weight` times, with its ports on these nodes, from the start temperatures (K) of the full
    /// patch, its ports last.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] for a start field that was not named when the patch was reduced, or another number of
    /// ports or temperatures.
    pub(crate) fn attach(&self, weight: f64, ports: &[NodeId], start: &[f64]) -> Result<Patch, Error> {
        let m = self.basis.nrows();
        if start.len() != m + ports.len() {
            return Err(Error::new(ErrorKind::Inconsistent, "a reduced patch has other ports or unknowns")
                .with_value(format!("{} ports, {} temperatures", ports.len(), start.len())));
        }
        let (inside, at_ports) = start.split_at(m);
        let modes: Vec<f64> = match uniform(inside) {
            Some(t) => self.uniform_modes(t).collect(),
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
        self.attach_modes(weight, ports, modes.into_iter().chain(at_ports.iter().copied()).collect())
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

/// What is known of the full patch at one shift.
struct Shift {
    /// (K_II + s C)⁻¹ (-K_IP), a column per port.
    responses: Vec<DVector<f64>>,
    /// (K_II + s C)⁻¹ C T for every start field T: what it does as it decays.
    decays: Vec<DVector<f64>>,
    /// (K_II + s C)⁻¹ C times the responses, where another factor would cost much more than these.
    deeper: Vec<DVector<f64>>,
    answer: Answer,
}

impl Shift {
    fn add_to(&self, basis: &mut Basis<'_>) {
        self.responses.iter().chain(&self.decays).chain(&self.deeper).for_each(|column| basis.add(column));
    }
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

    /// What every basis holds: the constant vector, the start fields, the steady responses.
    fn basis(&self, steady: impl Iterator<Item = DVector<f64>>) -> Basis<'a> {
        let mut basis = Basis::new(self.coefficients, &self.input);
        basis.add(&DVector::from_element(self.m, 1.0));
        self.starts.iter().for_each(|start| basis.add(start));
        steady.for_each(|column| basis.add(&column));
        basis
    }

    /// Whether a factor costs little more than a substitution.
    fn is_cheap(&self) -> bool {
        matches!(self.coefficients.interior, Interior::Chain(_))
    }

    /// A factor at a shift, and the responses by it.
    fn responses_at(&mut self, s: f64) -> Result<Vec<DVector<f64>>, Error> {
        if !self.coefficients.condense_into(s, 1.0, self.ports, &mut self.condensed) {
            return Err(Error::new(ErrorKind::NoConvergence, "a patch could not be factored"));
        }
        Ok(self.condensed.responses().map(|x| -DVector::from_column_slice(x)).take(self.ports).collect())
    }

    /// Responses, decays and answer at a shift: one factor.
    fn at(&mut self, s: f64) -> Result<Shift, Error> {
        let responses = self.responses_at(s)?;
        let coefficients = self.coefficients;
        let deep = if self.is_cheap() { 0 } else { self.ports };
        let mut on_port = vec![0.0; self.ports];
        let mut solve = |mut x: DVector<f64>| {
            self.condensed.solve_interior(&coefficients.couplings, x.as_mut_slice(), &mut on_port);
            x
        };
        let capacity = DVector::from_column_slice(&coefficients.capacity[..self.m]);
        // Where all ports warm by one kelvin the interior lags behind by w: (K + s C) w = s C 1, and K 1 is what the ports
        // bring, so that w is what the responses leave of one.
        let lag = responses.iter().fold(DVector::from_element(self.m, 1.0), |left, x| left - x);
        let decays = self.starts.iter().map(|t| solve(capacity.component_mul(t))).collect();
        let deeper = responses.iter().take(deep).map(|x| solve(capacity.component_mul(x))).collect();
        let answer = Answer {
            shunt: self.input.iter().map(|input| input.dot(&lag)).collect(),
            transfer: pairs(self.ports).map(|(p, q)| self.input[p].dot(&responses[q])).collect(),
        };
        Ok(Shift { responses, decays, deeper, answer })
    }
}

/// The reduced form that a small system and its basis make.
fn finish(full: &Full<'_>, basis: &Basis<'_>, small: &Small, shifts: Vec<f64>, error: f64) -> Reduced {
    let n = small.rates.len();
    let coefficients = full.coefficients;
    // Heat per mode and the ports' own conductance as the couplings imply them: equal temperatures then give no
    // flow, and what leaves the modes arrives at the ports, to rounding. (The basis holds the constant vector, so
    // this changes nothing but the last digits.)
    let heat = DVector::from_fn(n, |j, _| small.input.row(j).sum() / small.rates[j]);
    let mut port = DMatrix::from_fn(full.ports, full.ports, |p, q| {
        if p == q { (0..n).map(|j| heat[j] * small.input[(j, q)]).sum() } else { 0.0 }
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
        .map(|(j, p)| Coupling { interior: j, port: p, conductance: small.input[(j, p)] })
        .collect();
    let at_ports = &coefficients.capacity[full.m..];
    let mut weights = basis.modes(small);
    let mut modes = weights.clone();
    weights.column_iter_mut().for_each(|mut column| column.component_mul_assign(&basis.root));
    modes.column_iter_mut().for_each(|mut column| column.component_div_assign(&basis.root));
    let with_ports = |modes: &DVector<f64>| modes.iter().chain(at_ports).copied().collect::<Vec<f64>>();
    Reduced {
        coefficients: Coefficients {
            interior: Interior::Modes(small.rates.iter().copied().collect()),
            couplings,
            bridges: Vec::new(),
            capacity: with_ports(&DVector::from_element(n, 1.0)),
            heat: Some(with_ports(&heat)),
            port_conductance: Some(port.transpose().iter().copied().collect()),
        },
        error_scale: modes.column_iter().map(|v| v.amax()).collect(),
        weights,
        basis: modes,
        error,
        shifts,
    }
}
