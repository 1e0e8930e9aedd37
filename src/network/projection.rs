//! A patch seen through a few vectors: the basis of a reduction as it grows, and the small system that it means.
//!
//! Everything is scaled by the roots of the heat capacities, so that the capacity of the small system is one and the
//! stiffness of the full one is S = C^-1/2 K C^-1/2.

use nalgebra::{DMatrix, DVector, SymmetricEigen};

use super::patch::Coefficients;
use crate::error::{Error, ErrorKind};

/// A vector that lies in the span of the others to this share adds nothing.
const DEPENDENT: f64 = 1e-9;
/// Sweeps over the modes for each of them: two or three tell them apart; without a bound rounding could keep at it for ever.
const SWEEPS: usize = 50;

/// Orthonormal vectors, and what the full patch makes of them.
pub(super) struct Basis<'a> {
    coefficients: &'a Coefficients,
    /// Roots of the interior heat capacities.
    pub(super) root: DVector<f64>,
    pub(super) vectors: Vec<DVector<f64>>,
    /// S times each vector.
    stiff: Vec<DVector<f64>>,
    /// Scaled -K_IP, a column per port.
    input: Vec<DVector<f64>>,
    /// Products of the vectors with S times the vectors, and with the input.
    projected: Vec<Vec<f64>>,
    projected_input: Vec<Vec<f64>>,
    /// Products of the input, and behind it S times the vectors, with one another: rows up to the diagonal.
    gram: Vec<Vec<f64>>,
}

impl<'a> Basis<'a> {
    /// No vectors yet. `input` is -K_IP, a column per port.
    pub(super) fn new(coefficients: &'a Coefficients, input: &[DVector<f64>]) -> Self {
        let m = coefficients.capacity.len() - input.len();
        let root = DVector::from_fn(m, |i, _| coefficients.capacity[i].sqrt());
        let input: Vec<DVector<f64>> = input.iter().map(|b| b.component_div(&root)).collect();
        let gram = (0..input.len()).map(|p| (0..=p).map(|q| input[p].dot(&input[q])).collect()).collect();
        Basis {
            coefficients,
            root,
            vectors: Vec::new(),
            stiff: Vec::new(),
            input,
            projected: Vec::new(),
            projected_input: Vec::new(),
            gram,
        }
    }

    /// Adds what of the interior temperatures `x` the others do not span.
    pub(super) fn add(&mut self, x: &DVector<f64>) {
        let mut x = x.component_mul(&self.root);
        let size = x.norm();
        // Twice is enough (Gram-Schmidt with one repetition).
        for _ in 0..2 {
            for v in &self.vectors {
                let share = v.dot(&x);
                x.axpy(-share, v, 1.0);
            }
        }
        let left = x.norm();
        if !(left > DEPENDENT * size && left > 0.0) {
            return;
        }
        x /= left;
        let stiff = self.stiff_times(&x);
        let own = x.dot(&stiff);
        // Both products that should be alike are taken, so that their mean errs less.
        let others = self.vectors.iter().zip(&self.stiff).map(|(v, s)| f64::midpoint(v.dot(&stiff), x.dot(s)));
        self.projected.push(others.chain([own]).collect());
        self.projected_input.push(self.input.iter().map(|b| b.dot(&x)).collect());
        let products = self.input.iter().chain(&self.stiff).map(|b| b.dot(&stiff));
        self.gram.push(products.chain([stiff.norm_squared()]).collect());
        self.vectors.push(x);
        self.stiff.push(stiff);
    }

    /// S x.
    fn stiff_times(&self, x: &DVector<f64>) -> DVector<f64> {
        let m = x.len();
        let mut t = vec![0.0; self.coefficients.capacity.len()];
        t.iter_mut().zip(x.iter().zip(&self.root)).for_each(|(t, (x, root))| *t = x / root);
        let mut out = vec![0.0; t.len()];
        self.coefficients.inflow(&t, &mut out);
        DVector::from_fn(m, |i, _| -out[i] / self.root[i])
    }

    /// The small system, in modes that are independent of one another.
    ///
    /// # Errors
    /// [`ErrorKind::NoConvergence`] if they cannot be told apart.
    pub(super) fn project(&self) -> Result<Small, Error> {
        let (n, ports) = (self.vectors.len(), self.input.len());
        let k = DMatrix::from_fn(n, n, |i, j| self.projected[i.max(j)][i.min(j)]);
        let apart = SymmetricEigen::try_new(k, f64::EPSILON, SWEEPS * (n + 1));
        let SymmetricEigen { eigenvalues: rates, eigenvectors: turn } = apart.ok_or_else(|| {
            Error::new(ErrorKind::NoConvergence, "the modes of a reduction cannot be told apart")
                .with_value(format!("{n} modes after {} sweeps", SWEEPS * (n + 1)))
        })?;
        let input = turn.tr_mul(&DMatrix::from_fn(n, ports, |j, p| self.projected_input[j][p]));
        let gram = |i: usize, j: usize| self.gram[i.max(j)][i.min(j)];
        let stiff = DMatrix::from_fn(n, n, |i, j| gram(ports + i, ports + j));
        Ok(Small {
            input_stiff: turn.tr_mul(&DMatrix::from_fn(n, ports, |j, p| gram(p, ports + j))),
            stiff_stiff: turn.tr_mul(&(stiff * &turn)),
            input_input: (0..ports).map(|p| self.gram[p][p]).collect(),
            rates,
            input,
            turn,
        })
    }

    /// The scaled vectors of the modes.
    pub(super) fn modes(&self, small: &Small) -> DMatrix<f64> {
        DMatrix::from_columns(&self.vectors) * &small.turn
    }
}

/// How a patch answers at the time scale 1/s: what it takes up at each port when all ports warm together, and what it
/// passes from each port to the others through its interior, W/K. (Their sums are the admittance; apart, neither hides
/// behind the conductance of a metal face.)
pub(super) struct Answer {
    pub(super) shunt: Vec<f64>,
    /// Per pair of ports.
    pub(super) transfer: Vec<f64>,
}

impl Answer {
    /// Largest error relative to the other's values.
    pub(super) fn error(&self, exact: &Answer) -> f64 {
        let shunt = self.shunt.iter().zip(&exact.shunt).map(|(a, b)| (a - b).abs() / b).fold(0.0, f64::max);
        let least = exact.shunt.iter().copied().fold(f64::INFINITY, f64::min);
        let transfer = self.transfer.iter().zip(&exact.transfer);
        transfer.map(|(a, b)| (a - b).abs() / (b + least)).fold(shunt, f64::max)
    }
}

/// Every pair of so many ports.
pub(super) fn pairs(ports: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..ports).flat_map(move |q| (0..q).map(move |p| (p, q)))
}

/// The small system: modes with rates, fed by the ports.
pub(super) struct Small {
    /// 1/s.
    pub(super) rates: DVector<f64>,
    /// Modes by ports.
    pub(super) input: DMatrix<f64>,
    /// Vectors of the basis by modes.
    turn: DMatrix<f64>,
    /// Products of S times the modes with one another and with the input, and of the input with itself.
    stiff_stiff: DMatrix<f64>,
    input_stiff: DMatrix<f64>,
    input_input: Vec<f64>,
}

impl Small {
    pub(super) fn answer(&self, s: f64) -> Answer {
        let modes = 0..self.rates.len();
        let ports = self.input.ncols();
        let lag = |j: usize| self.input.row(j).sum() / self.rates[j] * s / (self.rates[j] + s);
        let passed = |p, q, j| self.input[(j, p)] * self.input[(j, q)] / (self.rates[j] + s);
        Answer {
            shunt: (0..ports).map(|p| modes.clone().map(|j| self.input[(j, p)] * lag(j)).sum()).collect(),
            transfer: pairs(ports).map(|(p, q)| modes.clone().map(|j| passed(p, q, j)).sum()).collect(),
        }
    }

    /// How false the answer at a shift may be, relative to itself: with r what the small solution leaves of the equations,
    /// b - S y - s y, no port answers by more than r·r / s falsely, for S + s is at least s.
    pub(super) fn doubt(&self, s: f64) -> f64 {
        let answer = self.answer(s);
        let at_port = |(p, shunt): (usize, &f64)| {
            let input = self.input.column(p);
            let y = DVector::from_fn(self.rates.len(), |j, _| input[j] / (self.rates[j] + s));
            let along_modes: f64 = y.iter().zip(&self.rates).map(|(y, rate)| y * y * (2.0 * rate + s)).sum();
            let square = self.input_input[p] - 2.0 * (y.dot(&self.input_stiff.column(p)) + s * y.dot(&input))
                + y.dot(&(&self.stiff_stiff * &y))
                + s * along_modes;
            square / s / shunt
        };
        answer.shunt.iter().enumerate().map(at_port).fold(0.0, f64::max)
    }
}
