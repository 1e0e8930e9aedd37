//! How a sample is drawn and evaluated.

use std::num::NonZeroUsize;

use crate::error::{Error, ErrorKind, Within};
use crate::numeric::parallel::in_parallel;
use crate::units::bounds::number_in_range;

/// How likely the values between the ends of a range are taken to be. Nobody has measured that: a quantile is worth as
/// much as the distribution that was assumed. Both are meant on the scale of the input
/// ([`InputScale`](crate::InputScale)): of a wide range the logarithm is distributed so.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Distribution {
    /// The best value is the likeliest, and it falls off in straight lines to nothing at both ends. For ranges that somebody
    /// judged, "about this, hardly beyond these".
    #[default]
    Triangular,
    /// All values between the ends are alike, whatever the best one is. For ranges of which nothing more is known; gives the
    /// ends more weight.
    Uniform,
}

impl Distribution {
    /// Where a share `u` of the probability lies below: a position from 0 at the cautious end over 0.5 at the best value to 1
    /// at the generous one. The coordinates are those of these three.
    pub(crate) fn position(self, u: f64, [cautious, best, generous]: [f64; 3]) -> f64 {
        let (to_best, to_generous) = ((best - cautious).abs(), (generous - best).abs());
        let whole = to_best + to_generous;
        if whole == 0.0 {
            return 0.5;
        }
        let share = to_best / whole;
        // Distance from the cautious end, in parts of the whole.
        let x = match self {
            Distribution::Uniform => u,
            Distribution::Triangular if u <= share => (u * share).sqrt(),
            Distribution::Triangular => 1.0 - ((1.0 - u) * (1.0 - share)).sqrt(),
        };
        let position =
            if x < share { 0.5 * x / share } else { 0.5 + 0.5 * (x - share) / (1.0 - share).max(f64::MIN_POSITIVE) };
        position.clamp(0.0, 1.0)
    }
}

/// How a sample is drawn and how much work it may cost.
///
/// Points are those of a Sobol' sequence, scrambled anew for each replicate; what replicates differ by tells the error of
/// the sampling. Without indices a replicate costs two evaluations a point, with indices two more than there are inputs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct Sampling {
    /// Independent replicates, 4 to 64. Default 8.
    pub replicates: usize,
    /// Points of a replicate, a power of two from 4 to 65 536. Default 16.
    pub points: usize,
    /// Whether to compute which input matters by shares of the variance. Without, rank correlations tell. Default yes.
    pub indices: bool,
    /// From which everything random follows. Default 1.
    pub seed: u64,
    /// Threads, 1 to 1024; 0 for as many as the machine runs at once, the default. The result is the same, bit for bit.
    pub threads: usize,
    /// Most evaluations, a bound on work: what would take more is refused. Default 20 000.
    pub most: usize,
    /// How likely the values of a range are. Default triangular.
    pub distribution: Distribution,
}

impl Default for Sampling {
    fn default() -> Self {
        Sampling {
            replicates: 8,
            points: 16,
            indices: true,
            seed: 1,
            threads: 0,
            most: 20_000,
            distribution: Distribution::default(),
        }
    }
}

impl Sampling {
    /// Evaluations that a sample over so many inputs takes.
    pub fn evaluations(&self, inputs: usize) -> usize {
        self.replicates.saturating_mul(self.points).saturating_mul(self.evaluations_of_point(inputs))
    }

    pub(crate) fn evaluations_of_point(&self, inputs: usize) -> usize {
        if self.indices { inputs + 2 } else { 2 }
    }

    pub(crate) fn check(&self, inputs: usize) -> Result<(), Error> {
        let check = || -> Result<(), Error> {
            number_in_range("replicates", self.replicates as f64, 4.0, 64.0)?;
            number_in_range("points", self.points as f64, 4.0, 65_536.0)?;
            number_in_range("threads", self.threads as f64, 0.0, 1024.0)?;
            if !self.points.is_power_of_two() {
                return Err(Error::new(ErrorKind::OutOfRange, "is no power of two")
                    .with_value(self.points.to_string())
                    .with_accepted("4, 8, 16, ... 65536")
                    .within("points"));
            }
            if self.evaluations(inputs) > self.most {
                return Err(Error::new(ErrorKind::WorkBound, "the sample would take more evaluations than allowed")
                    .with_value(format!("{} for {inputs} inputs", self.evaluations(inputs)))
                    .with_accepted(format!("up to {}", self.most)));
            }
            Ok(())
        };
        check().within("sampling")
    }

    /// Evaluates numbers 0 to `count` less one, in any order; the answers in theirs. Where some fail the error is that of
    /// the first.
    pub(crate) fn evaluate<T: Send>(
        &self,
        count: usize,
        of: impl Fn(usize) -> Result<T, Error> + Sync,
    ) -> Result<Vec<T>, Error> {
        let threads = NonZeroUsize::new(self.threads);
        in_parallel(count, threads, of, Result::is_err).into_iter().collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The distribution function of the triangle, inverted: low 1, mode 2, high 5.
    #[test]
    fn triangular_positions_follow_the_triangle() {
        let ends = [1.0, 2.0, 5.0];
        let value = |u: f64| {
            let p = Distribution::Triangular.position(u, ends);
            if p <= 0.5 { 1.0 + 2.0 * p } else { 2.0 + 3.0 * (2.0 * p - 1.0) }
        };
        for u in [0.01_f64, 0.1, 0.25, 0.4, 0.77, 0.99] {
            let x = value(u);
            let below = if x <= 2.0 { (x - 1.0).powi(2) / 4.0 } else { 1.0 - (5.0 - x).powi(2) / 12.0 };
            assert!((below - u).abs() < 1e-12, "{u} {x}");
        }
        assert!((Distribution::Uniform.position(0.25, ends) - 0.5).abs() < 1e-15);
    }

    /// Ranges of one side, and ranges that fall towards the generous end.
    #[test]
    fn one_sided_ranges_have_positions_on_their_side() {
        for u in [0.001, 0.3, 0.999] {
            let position = |ends| Distribution::Triangular.position(u, ends);
            assert!(position([0.2, 0.0, 0.0]) <= 0.5 && position([0.2, 0.2, 0.0]) >= 0.5);
            assert_eq!(position([3.0, 3.0, 3.0]), 0.5);
            let turned = Distribution::Triangular.position(1.0 - u, [5.0, 2.0, 1.0]);
            assert!((position([1.0, 2.0, 5.0]) + turned - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn the_first_failure_is_told_whatever_the_threads() {
        for threads in 1..9 {
            let sampling = Sampling { threads, ..Sampling::default() };
            let fails = |i: usize| {
                if i % 37 == 36 { Err(Error::new(ErrorKind::NoConvergence, i.to_string())) } else { Ok(i) }
            };
            assert_eq!(sampling.evaluate(1000, fails).unwrap_err().problem(), "36");
            assert_eq!(sampling.evaluate(30, fails).unwrap(), (0..30).collect::<Vec<_>>());
        }
    }
}
