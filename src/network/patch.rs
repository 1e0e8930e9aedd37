//! Patches: pieces of wall reduced to what the network needs of them.
//!
//! Local unknowns are numbered interior first (`0..interior`), then one per port. With capacities C (diagonal) and
//! the conductance matrix K (symmetric, rows summing to zero) a patch obeys C dT/dt = -K T + s + port heat. For an
//! implicit stage with A = C + tau K the interior is condensed onto the ports once per stage length:
//! A_II = L D Lᵀ, X = A_II⁻¹ A_IP, S = tau K_PP - A_PI X; each stage then costs one pair of substitutions.

use std::fmt::Debug;

use super::NodeId;
use super::grid::Grid;
use crate::error::{Error, ErrorKind};
use crate::numeric::{sparse::SparseFactor, tridiagonal};

/// Where a patch meets the network.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Port {
    /// Local number of the port's unknown.
    pub(crate) local: usize,
    /// The node it sits on.
    pub(crate) node: NodeId,
}

/// Couplings among the interior unknowns.
#[derive(Debug, Clone)]
pub(crate) enum Interior {
    /// A chain: `conductance[i]` joins interior i and i + 1, W/K. Full form of a one-dimensional wall.
    Chain(Vec<f64>),
    /// Neighbours on a grid. Full form of a section.
    Grid(Grid),
    /// Uncoupled: each unknown is a mode with this rate, 1/s. Reduced form, see [`super::reduce`].
    Modes(Vec<f64>),
}

impl Interior {
    /// The numbers: conductances or rates.
    fn values(&self) -> &[f64] {
        match self {
            Interior::Chain(values) | Interior::Modes(values) => values,
            Interior::Grid(grid) => &grid.conductance,
        }
    }

    fn values_mut(&mut self) -> &mut [f64] {
        match self {
            Interior::Chain(values) | Interior::Modes(values) => values,
            Interior::Grid(grid) => &mut grid.conductance,
        }
    }
}

/// Conductance between an interior unknown and a port.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Coupling {
    /// Interior unknown.
    pub(crate) interior: usize,
    /// Position in the list of ports.
    pub(crate) port: usize,
    /// W/K.
    pub(crate) conductance: f64,
}

/// Conductance between two ports, with no interior unknown between them.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bridge {
    /// Positions in the list of ports.
    pub(crate) ports: [usize; 2],
    /// W/K.
    pub(crate) conductance: f64,
}

/// Temperature-dependent coefficients: recomputes conductances and capacities of a patch for one step.
pub(crate) trait Properties: Debug + Send + Sync {
    /// Fills `patch` with the conductances at the mean of the local temperatures `from` and `to` (K) and the secant
    /// heat capacities between them.
    fn linearise(&self, from: &[f64], to: &[f64], patch: &mut Coefficients);

    /// Largest relative change of any coefficient that need not be followed: below it the old factors serve on.
    fn tolerance(&self) -> f64;
}

/// What [`Properties`] may change.
#[derive(Debug, Clone)]
pub(crate) struct Coefficients {
    /// Couplings among the interior.
    pub(crate) interior: Interior,
    /// Couplings between interior and ports.
    pub(crate) couplings: Vec<Coupling>,
    /// Couplings between ports.
    pub(crate) bridges: Vec<Bridge>,
    /// Heat capacity of every local unknown, J/K; the mass of a mode is 1. A port may have none: one that lies beyond
    /// a film, say.
    pub(crate) capacity: Vec<f64>,
    /// Heat stored per unit of every local unknown where that is not its capacity: in modes.
    pub(crate) heat: Option<Vec<f64>>,
    /// Conductance of each port to the interior as a whole where the couplings do not tell: in modes. Row-major
    /// ports by ports, W/K.
    pub(crate) port_conductance: Option<Vec<f64>>,
}

/// Heat released inside a patch.
pub(crate) trait Source: Debug + Send + Sync {
    /// Adds the heat released at `time` s in every local unknown per unit weight, W; `before` asks for the value just
    /// before a jump at that very time.
    fn add(&self, time: f64, before: bool, out: &mut [f64]);

    /// Times strictly inside (from, to), s, at which it jumps.
    fn jumps(&self, from: f64, to: f64) -> Vec<f64>;
}

/// A piece of wall.
#[derive(Debug)]
pub(crate) struct Patch {
    /// Conductances and capacities per unit of weight.
    pub(crate) coefficients: Coefficients,
    /// The ports, in local order (their unknowns follow the interior ones).
    pub(crate) ports: Vec<Port>,
    /// How often the patch counts: area, length, number; minus one for a subtracted arm.
    pub(crate) weight: f64,
    /// Start temperature of every local unknown, K.
    pub(crate) start: Vec<f64>,
    /// Temperature-dependent coefficients, where there are any.
    pub(crate) properties: Option<Box<dyn Properties>>,
    /// Largest temperature that a unit of each interior unknown means, where they are not temperatures.
    pub(crate) error_scale: Option<Vec<f64>>,
    /// Heat sources inside.
    pub(crate) sources: Vec<Box<dyn Source>>,
}

impl std::ops::Deref for Patch {
    type Target = Coefficients;
    fn deref(&self) -> &Coefficients {
        &self.coefficients
    }
}

impl Patch {
    /// Number of interior unknowns.
    pub(crate) fn interior_len(&self) -> usize {
        self.coefficients.capacity.len() - self.ports.len()
    }

    /// Number of unknowns, ports included.
    pub(crate) fn len(&self) -> usize {
        self.coefficients.capacity.len()
    }

    /// Heat released in every local unknown at `time`, W per unit weight.
    pub(crate) fn sources_at(&self, time: f64, before: bool, out: &mut [f64]) {
        out.fill(0.0);
        for source in &self.sources {
            source.add(time, before, out);
        }
    }

    /// Checks capacities (positive), conductances (not negative in a chain: its matrix is an M-matrix) and the weight.
    pub(crate) fn check(&self) -> Result<(), Error> {
        let bad = |what: &str, value: f64| {
            Err(Error::new(ErrorKind::Inconsistent, format!("{what} is not a finite number of the right sign"))
                .with_value(format!("{value}")))
        };
        if self.weight == 0.0 || !self.weight.is_finite() {
            return bad("weight", self.weight);
        }
        let (interior, ports) = self.capacity.split_at(self.interior_len());
        if let Some(c) = interior.iter().find(|c| !(**c > 0.0 && c.is_finite())) {
            return bad("a heat capacity", *c);
        }
        if let Some(c) = ports.iter().find(|c| !(**c >= 0.0 && c.is_finite())) {
            return bad("the heat capacity of a port", *c);
        }
        let among = match &self.interior {
            Interior::Chain(chain) => chain,
            Interior::Grid(grid) => &grid.conductance,
            Interior::Modes(_) => return Ok(()),
        };
        let couplings = self.couplings.iter().map(|c| c.conductance);
        let all = among.iter().copied().chain(couplings).chain(self.bridges.iter().map(|b| b.conductance));
        // Obtuse triangles couple two of their corners with the other sign. The whole is definite all the same, which
        // the factorisation verifies.
        let either_sign = matches!(self.interior, Interior::Grid(_));
        for g in all {
            if !((either_sign || g >= 0.0) && g.is_finite()) {
                return bad("a conductance", g);
            }
        }
        Ok(())
    }
}

/// Sources may be functions of the caller's: one that is no number must not end up as a temperature.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a power, W, that is not finite.
pub(crate) fn check_power(power: f64, time: f64) -> Result<(), Error> {
    if power.is_finite() {
        return Ok(());
    }
    Err(Error::new(ErrorKind::OutOfRange, "the heat released inside a wall is not a finite number")
        .with_value(format!("{power} W at {time} s"))
        .with_accepted("a finite power at all times")
        .within("source"))
}

/// Whether two numbers differ by more than the relative `tolerance`, or one of them is none.
fn apart(a: f64, b: f64, tolerance: f64) -> bool {
    let near = (a - b).abs() <= tolerance * a.abs().max(b.abs());
    !near
}

impl Coefficients {
    /// The coefficients of so much of the patch.
    pub(crate) fn scale(&mut self, share: f64) {
        let conductances = self.couplings.iter_mut().map(|c| &mut c.conductance);
        let conductances = conductances.chain(self.bridges.iter_mut().map(|b| &mut b.conductance));
        let more = self.heat.iter_mut().chain(&mut self.port_conductance).flatten();
        for value in self.interior.values_mut().iter_mut().chain(conductances).chain(&mut self.capacity).chain(more) {
            *value *= share;
        }
    }

    /// True if any coefficient differs by more than the relative `tolerance`.
    pub(crate) fn differs(&self, other: &Coefficients, tolerance: f64) -> bool {
        self.conductance_differs(other, tolerance) || self.capacity_differs(other, tolerance)
    }

    /// True if any conductance does.
    pub(crate) fn conductance_differs(&self, other: &Coefficients, tolerance: f64) -> bool {
        let (a, b) = (self.interior.values(), other.interior.values());
        a.iter().zip(b).any(|(a, b)| apart(*a, *b, tolerance))
            || self.couplings.iter().zip(&other.couplings).any(|(a, b)| apart(a.conductance, b.conductance, tolerance))
            || self.bridges.iter().zip(&other.bridges).any(|(a, b)| apart(a.conductance, b.conductance, tolerance))
    }

    /// True if any heat capacity does.
    pub(crate) fn capacity_differs(&self, other: &Coefficients, tolerance: f64) -> bool {
        self.capacity.iter().zip(&other.capacity).any(|(a, b)| apart(*a, *b, tolerance))
    }

    /// Replaces every conductance by the mean of itself and the other's.
    pub(crate) fn average(&mut self, other: &Coefficients) {
        for (a, b) in self.interior.values_mut().iter_mut().zip(other.interior.values()) {
            *a = f64::midpoint(*a, *b);
        }
        for (a, b) in self.couplings.iter_mut().zip(&other.couplings) {
            a.conductance = f64::midpoint(a.conductance, b.conductance);
        }
        for (a, b) in self.bridges.iter_mut().zip(&other.bridges) {
            a.conductance = f64::midpoint(a.conductance, b.conductance);
        }
    }

    /// -K T for every local unknown, by differences so that equal temperatures give exactly zero.
    pub(crate) fn inflow(&self, t: &[f64], out: &mut [f64]) {
        out.fill(0.0);
        let m = self.interior_len();
        match &self.interior {
            Interior::Chain(g) => {
                // Each flow leaves one unknown and enters the next.
                let (out, t) = (&mut out[..m], &t[..m]);
                let mut arriving = 0.0;
                for (i, g) in g.iter().enumerate().take(m.saturating_sub(1)) {
                    let q = g * (t[i] - t[i + 1]);
                    out[i] = arriving - q;
                    arriving = q;
                }
                if let Some(last) = out.last_mut() {
                    *last = arriving;
                }
            }
            Interior::Grid(grid) => grid.inflow(t, out),
            Interior::Modes(rates) => {
                // Counted from the temperature of the first port, so that rounding is that of differences.
                let base = t[m];
                let heat = self.heat();
                let mode = |j: usize| t[j] - base * heat[j];
                for (j, rate) in rates.iter().enumerate() {
                    out[j] -= rate * mode(j);
                }
                // A mode feels a port as a source, not as a difference: the ports' own share is a matrix of its own.
                for c in &self.couplings {
                    out[c.interior] += c.conductance * (t[m + c.port] - base);
                    out[m + c.port] += c.conductance * mode(c.interior);
                }
                if let Some(g) = &self.port_conductance {
                    let ports = t.len() - m;
                    for p in 0..ports {
                        for q in 0..ports {
                            out[m + p] -= g[p * ports + q] * (t[m + q] - base);
                        }
                    }
                }
                return;
            }
        }
        for c in &self.couplings {
            let q = c.conductance * (t[c.interior] - t[m + c.port]);
            out[c.interior] -= q;
            out[m + c.port] += q;
        }
        for Bridge { ports: [a, b], conductance } in &self.bridges {
            let q = conductance * (t[m + a] - t[m + b]);
            out[m + a] -= q;
            out[m + b] += q;
        }
    }

    /// What these coefficients bring into every local unknown at temperatures `t` beyond what `others` of the same patch do;
    /// `scratch` is storage.
    pub(crate) fn inflow_beyond(&self, others: &Coefficients, t: &[f64], out: &mut Vec<f64>, scratch: &mut Vec<f64>) {
        out.resize(t.len(), 0.0);
        if let (Interior::Chain(g), Interior::Chain(less)) = (&self.interior, &others.interior) {
            out.fill(0.0);
            let m = self.interior_len();
            let mut pass = |i: usize, j: usize, g: f64, less: f64| {
                let q = (g - less) * (t[i] - t[j]);
                out[i] -= q;
                out[j] += q;
            };
            for (i, (g, less)) in g.iter().zip(less).enumerate() {
                pass(i, i + 1, *g, *less);
            }
            for (c, less) in self.couplings.iter().zip(&others.couplings) {
                pass(c.interior, m + c.port, c.conductance, less.conductance);
            }
            for (b, less) in self.bridges.iter().zip(&others.bridges) {
                pass(m + b.ports[0], m + b.ports[1], b.conductance, less.conductance);
            }
            return;
        }
        scratch.resize(t.len(), 0.0);
        self.inflow(t, out);
        others.inflow(t, scratch);
        for (out, less) in out.iter_mut().zip(&*scratch) {
            *out -= less;
        }
    }

    /// Number of interior unknowns: all but those beyond the couplings' reach.
    fn interior_len(&self) -> usize {
        match &self.interior {
            Interior::Chain(g) if self.couplings.is_empty() => g.len(),
            Interior::Chain(g) => g.len() + 1,
            Interior::Grid(grid) => grid.len(),
            Interior::Modes(rates) => rates.len(),
        }
    }

    /// The condensed form for A = capacity_factor C + tau K, in the storage of an earlier one. `ports` is the number of
    /// ports; `false` if the interior cannot be factored.
    pub(crate) fn condense_into(&self, capacity_factor: f64, tau: f64, ports: usize, into: &mut Condensed) -> bool {
        let m = self.interior_len();
        let Condensed { tau: kept_tau, factor, response, port_matrix, taken, diagonal } = into;
        *kept_tau = tau;
        port_matrix.clear();
        port_matrix.resize(ports * ports, 0.0);
        diagonal.clear();
        diagonal.extend(self.capacity[..m].iter().map(|c| capacity_factor * c));
        if !matches!(self.interior, Interior::Modes(_)) {
            for Bridge { ports: [a, b], conductance } in &self.bridges {
                let g = tau * conductance;
                port_matrix[a * ports + a] += g;
                port_matrix[a * ports + b] -= g;
                port_matrix[b * ports + a] -= g;
                port_matrix[b * ports + b] += g;
            }
            for c in &self.couplings {
                diagonal[c.interior] += tau * c.conductance;
                port_matrix[c.port * ports + c.port] += tau * c.conductance;
            }
        }
        match &self.interior {
            Interior::Chain(g) => {
                for (i, g) in g.iter().enumerate() {
                    diagonal[i] += tau * g;
                    diagonal[i + 1] += tau * g;
                }
                let mut chain = match std::mem::take(factor) {
                    InteriorFactor::Chain(chain) => chain,
                    _ => tridiagonal::Factor::default(),
                };
                if !chain.renew(diagonal, |i| -tau * g[i]) {
                    return false;
                }
                *factor = InteriorFactor::Chain(chain);
            }
            Interior::Grid(grid) => {
                grid.add_to_diagonal(tau, diagonal);
                let earlier = match std::mem::take(factor) {
                    InteriorFactor::Grid(earlier) => Some(earlier),
                    _ => None,
                };
                let Some(new) = grid.factor(earlier, diagonal, tau) else { return false };
                *factor = InteriorFactor::Grid(new);
            }
            Interior::Modes(rates) => {
                for (d, rate) in diagonal.iter_mut().zip(rates) {
                    *d = 1.0 / (*d + tau * rate);
                }
                if let Some(g) = &self.port_conductance {
                    for (p, g) in port_matrix.iter_mut().zip(g) {
                        *p += tau * g;
                    }
                }
                *factor = InteriorFactor::Modes(diagonal.clone());
            }
        }
        response.clear();
        response.resize(m * ports, 0.0);
        // Without capacity the interior follows ports that move together: on a grid the last column is what the others
        // leave.
        let follows = capacity_factor == 0.0 && ports > 0 && matches!(self.interior, Interior::Grid(_));
        let (solved, left) = response.split_at_mut(m * (ports - usize::from(follows)));
        for c in &self.couplings {
            if let Some(column) = solved.get_mut(c.port * m..(c.port + 1) * m) {
                column[c.interior] -= tau * c.conductance;
            }
        }
        for column in solved.chunks_exact_mut(m.max(1)) {
            factor.solve(column);
        }
        if follows {
            left.fill(-1.0);
            for column in solved.chunks_exact(m.max(1)) {
                left.iter_mut().zip(column).for_each(|(left, x)| *left -= x);
            }
        }
        for c in &self.couplings {
            for q in 0..ports {
                port_matrix[c.port * ports + q] += tau * c.conductance * response[q * m + c.interior];
            }
        }
        // The diagonal holds what a port takes up and what it passes on, which may be a thousand million times more: made
        // from both it does not lose the one in the rounding of the other.
        taken.clear();
        for p in 0..ports {
            let column = &response[p * m..(p + 1) * m];
            let heat: f64 = self.heat().iter().zip(column).map(|(c, x)| c * x).sum();
            taken.push(-capacity_factor * heat);
            for q in 0..p {
                let passed = f64::midpoint(port_matrix[p * ports + q], port_matrix[q * ports + p]);
                port_matrix[p * ports + q] = passed;
                port_matrix[q * ports + p] = passed;
            }
        }
        for (p, taken) in taken.iter().enumerate() {
            let row = &mut port_matrix[p * ports..(p + 1) * ports];
            row[p] = 0.0;
            row[p] = taken - row.iter().sum::<f64>();
        }
        true
    }

    /// Heat stored per unit of every local unknown, J/K.
    pub(crate) fn heat(&self) -> &[f64] {
        self.heat.as_deref().unwrap_or(&self.capacity)
    }
}

/// The factored interior.
#[derive(Debug, Clone)]
enum InteriorFactor {
    Chain(tridiagonal::Factor),
    Grid(SparseFactor),
    /// Reciprocals of the diagonal.
    Modes(Vec<f64>),
}

impl InteriorFactor {
    fn solve(&mut self, x: &mut [f64]) {
        match self {
            InteriorFactor::Chain(factor) => factor.solve(x),
            InteriorFactor::Grid(factor) => factor.solve(x),
            InteriorFactor::Modes(inverse) => {
                for (x, d) in x.iter_mut().zip(&*inverse) {
                    *x *= d;
                }
            }
        }
    }
}

impl Default for InteriorFactor {
    fn default() -> Self {
        InteriorFactor::Modes(Vec::new())
    }
}

/// A patch condensed onto its ports for one stage length.
#[derive(Debug, Clone, Default)]
pub(crate) struct Condensed {
    /// Stage length the factor was made for, s.
    pub(crate) tau: f64,
    factor: InteriorFactor,
    /// X = A_II⁻¹ A_IP, one column per port.
    response: Vec<f64>,
    /// S = tau K_PP - A_PI X, row-major.
    pub(crate) port_matrix: Vec<f64>,
    /// Heat that the interior takes up for a rise of each port by one: the sum of its row, J/K.
    taken: Vec<f64>,
    /// Reused storage.
    diagonal: Vec<f64>,
}

impl Condensed {
    /// Replaces the interior right-hand side r by y = A_II⁻¹ r, the interior solution for ports at rest, and puts
    /// A_PI y, what it means to the ports, into `on_port`.
    pub(crate) fn solve_interior(&mut self, couplings: &[Coupling], interior: &mut [f64], on_port: &mut [f64]) {
        self.factor.solve(interior);
        on_port.fill(0.0);
        for c in couplings {
            on_port[c.port] -= self.tau * c.conductance * interior[c.interior];
        }
    }

    /// S times the rises of the ports, at one of them, J: by differences, so that what a port passes on to another is to the
    /// last digit what arrives there.
    pub(crate) fn at_port(&self, p: usize, rise: impl Fn(usize) -> f64) -> f64 {
        let n = self.taken.len();
        let here = rise(p);
        let row = &self.port_matrix[p * n..(p + 1) * n];
        // Its own entry meets a difference of nothing.
        row.iter().enumerate().fold(self.taken[p] * here, |sum, (q, s)| sum + s * (rise(q) - here))
    }

    /// The interior rises for a fall of each port by one: the columns of A_II⁻¹ A_IP.
    pub(crate) fn responses(&self) -> impl Iterator<Item = &[f64]> {
        self.response.chunks_exact(self.diagonal.len().max(1))
    }

    /// Storage, bytes.
    pub(crate) fn bytes(&self) -> usize {
        let factor = match &self.factor {
            InteriorFactor::Chain(factor) => factor.bytes(),
            InteriorFactor::Grid(factor) => factor.bytes(),
            InteriorFactor::Modes(inverse) => size_of_val(&**inverse),
        };
        factor + size_of_val(&*self.response) + size_of_val(&*self.port_matrix) + size_of_val(&*self.diagonal)
    }

    /// Adds what the ports do to the interior solution for ports at rest.
    pub(crate) fn expand(&self, interior: &mut [f64], port_values: &[f64]) {
        let m = interior.len();
        for (p, v) in port_values.iter().enumerate() {
            if *v != 0.0 {
                for (t, x) in interior.iter_mut().zip(&self.response[p * m..(p + 1) * m]) {
                    *t -= x * v;
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{DMatrix, DVector};

    #[test]
    fn condensed_form_equals_the_full_system() {
        // Three interior unknowns in a chain between two ports, solved whole by a general library.
        let g = [3.0, 0.5, 40.0, 2.0];
        let c = [10.0, 5.0, 8.0, 1.0, 2.0];
        let coefficients = Coefficients {
            interior: Interior::Chain(vec![g[1], g[2]]),
            couplings: vec![
                Coupling { interior: 0, port: 0, conductance: g[0] },
                Coupling { interior: 2, port: 1, conductance: g[3] },
            ],
            bridges: Vec::new(),
            capacity: c.to_vec(),
            heat: None,
            port_conductance: None,
        };
        let tau = 0.7;
        let order = [3, 0, 1, 2, 4];
        let mut k = DMatrix::<f64>::zeros(5, 5);
        for (i, g) in g.iter().enumerate() {
            let (a, b) = (order[i], order[i + 1]);
            k[(a, a)] += g;
            k[(b, b)] += g;
            k[(a, b)] -= g;
            k[(b, a)] -= g;
        }
        let a = DMatrix::from_diagonal(&DVector::from_row_slice(&c)) + tau * &k;
        let rhs = [1.0, -2.0, 0.5, 3.0, 4.0];
        let whole = a.lu().solve(&DVector::from_row_slice(&rhs)).unwrap();

        let mut condensed = Condensed::default();
        assert!(coefficients.condense_into(1.0, tau, 2, &mut condensed));
        let s = DMatrix::from_row_slice(2, 2, &condensed.port_matrix)
            + DMatrix::from_diagonal(&DVector::from_row_slice(&c[3..]));
        let mut interior = rhs[..3].to_vec();
        let mut on_port = [0.0; 2];
        condensed.solve_interior(&coefficients.couplings, &mut interior, &mut on_port);
        let on = DVector::from_fn(2, |p, _| rhs[3 + p] - on_port[p]);
        let ports = s.lu().solve(&on).unwrap();
        condensed.expand(&mut interior, ports.as_slice());
        for i in 0..3 {
            assert!((interior[i] - whole[i]).abs() < 1e-13);
        }
        for p in 0..2 {
            assert!((ports[p] - whole[3 + p]).abs() < 1e-13);
        }
        let mut inflow = [0.0; 5];
        coefficients.inflow(&[300.0; 5], &mut inflow);
        assert_eq!(inflow, [0.0; 5]);
    }
}
