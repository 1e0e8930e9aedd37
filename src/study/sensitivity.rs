//! Which input an answer hangs on: shares of its variance, each with the error of the sampling.
//!
//! The first-order index of an input is the share of the variance that goes when it alone becomes known, the total-effect
//! index the share that stays as long as it alone is not; they differ where inputs act together. Estimated from two samples
//! A and B and one A with a column of B for each input: total effects by M. J. W. Jansen, Comput. Phys. Commun. 117 (1999)
//! 35; first order as recommended by A. Saltelli et al., Comput. Phys. Commun. 181 (2010) 259,
//! <https://doi.org/10.1016/j.cpc.2009.09.018> (both from memory). For few samples the correlation of ranks: C. Spearman,
//! Am. J. Psychol. 15 (1904) 72, and its partial form as R. L. Iman and W. J. Conover use it for computer models,
//! Technometrics 21 (1979) 499 (both from memory). The errors come from leaving out one replicate at a time.

use std::sync::Arc;

use super::Sampling;
use crate::error::{Error, ErrorKind, Within};
use crate::numeric::ranks::{correlation, partial_correlations, ranks};
use crate::numeric::sequence::{MOST_DIMENSIONS, Sobol, mix};
use crate::units::bounds::number_in_range;

/// An estimate with the error of the sampling: half the width of an interval that holds the truth in about 95 of 100 samples.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Index {
    /// The estimate. One that is truly small may come out a little below zero.
    pub value: f64,
    /// Its error.
    pub error: f64,
}

/// What a sample tells of a function.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivity {
    /// One row a replicate and point: the answers at A, B and A with one column of B.
    replicates: Vec<Vec<Vec<f64>>>,
    sorted: Vec<f64>,
    /// One row a replicate and point: the inputs of A, then those of B.
    points: Arc<Vec<Vec<Vec<f64>>>>,
}

/// Samples a function of so many numbers, each evenly distributed between 0 and 1.
///
/// ```
/// use stillhot::study::{Sampling, sensitivity};
///
/// # fn main() -> Result<(), stillhot::Error> {
/// // Variances 1/12 and 4/12: the second number brings four fifths.
/// let sum = sensitivity(2, &Sampling::default(), |x| Ok(x[0] + 2.0 * x[1]))?;
/// let second = sum.total()[1];
/// assert!((second.value - 0.8).abs() <= second.error && second.error < 0.1);
/// assert!((sum.quantile(0.5)?.value - 1.5).abs() < 0.05);
/// # Ok(())
/// # }
/// ```
///
/// # Errors
/// What the function says; a [`Sampling`] outside its ranges or beyond its bound on work; another number of inputs than 1 to
/// 48; [`ErrorKind::NoConvergence`] for an answer that is not finite.
pub fn sensitivity(
    inputs: usize,
    sampling: &Sampling,
    function: impl Fn(&[f64]) -> Result<f64, Error> + Sync,
) -> Result<Sensitivity, Error> {
    let mut all = sensitivities(inputs, 1, sampling, |x| Ok(vec![function(x)?]))?;
    all.pop().ok_or_else(|| Error::new(ErrorKind::Inconsistent, "no answer"))
}

/// The same for a function of several answers.
pub(crate) fn sensitivities(
    inputs: usize,
    answers: usize,
    sampling: &Sampling,
    function: impl Fn(&[f64]) -> Result<Vec<f64>, Error> + Sync,
) -> Result<Vec<Sensitivity>, Error> {
    number_in_range("inputs", inputs as f64, 1.0, (MOST_DIMENSIONS / 2) as f64).within("sampling")?;
    sampling.check(inputs)?;
    let of_point = sampling.evaluations_of_point(inputs);
    let points = sampling.points;
    let sequences: Vec<Sobol> = (0..sampling.replicates as u64)
        .map(|replicate| Sobol::new(2 * inputs).scrambled(mix(sampling.seed ^ mix(replicate))))
        .collect();
    let values = sampling.evaluate(sampling.evaluations(inputs), |number| {
        let (row, which) = (number / of_point, number % of_point);
        let (replicate, index) = (row / points, row % points);
        let both = sequences[replicate].point(index as u32);
        let (a, b) = both.split_at(inputs);
        let mut x = a.to_vec();
        match which {
            0 => {}
            1 => x = b.to_vec(),
            mixed => x[mixed - 2] = b[mixed - 2],
        }
        let values = function(&x)?;
        if values.iter().any(|value| !value.is_finite()) {
            return Err(
                Error::new(ErrorKind::NoConvergence, "the answer is not finite").with_value(format!("{values:?}"))
            );
        }
        Ok(values)
    })?;
    let drawn = |replicate: &Sobol| (0..points).map(|index| replicate.point(index as u32)).collect();
    let drawn: Arc<Vec<Vec<Vec<f64>>>> = Arc::new(sequences.iter().map(drawn).collect());
    Ok((0..answers)
        .map(|answer| {
            let rows: Vec<Vec<f64>> =
                values.chunks(of_point).map(|row| row.iter().map(|values| values[answer]).collect()).collect();
            let replicates: Vec<Vec<Vec<f64>>> = rows.chunks(points).map(<[_]>::to_vec).collect();
            let mut sorted = replicates.iter().flatten().flat_map(|row| [row[0], row[1]]).collect::<Vec<_>>();
            sorted.sort_by(f64::total_cmp);
            Sensitivity { replicates, sorted, points: Arc::clone(&drawn) }
        })
        .collect())
}

/// The value below which a share of sorted numbers lies, by straight lines between them.
fn quantile_of(sorted: &[f64], share: f64) -> f64 {
    let at = share * (sorted.len() - 1) as f64;
    let (low, part) = (at.floor() as usize, at.fract());
    let high = (low + 1).min(sorted.len() - 1);
    sorted[low] + part * (sorted[high] - sorted[low])
}

/// How many standard deviations of a mean of few hold 95 %: Student's distribution, expanded about the normal one
/// (Abramowitz and Stegun 26.7.5; MEMORY).
fn student(freedom: f64) -> f64 {
    let z: f64 = 1.959_963_984_540_054;
    let terms = [
        (z.powi(3) + z) / 4.0,
        (5.0 * z.powi(5) + 16.0 * z.powi(3) + 3.0 * z) / 96.0,
        (3.0 * z.powi(7) + 19.0 * z.powi(5) + 17.0 * z.powi(3) - 15.0 * z) / 384.0,
    ];
    z + terms[0] / freedom + terms[1] / freedom.powi(2) + terms[2] / freedom.powi(3)
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// Error of the mean of independent values.
fn error_of_mean(values: &[f64]) -> f64 {
    let (count, middle) = (values.len() as f64, mean(values));
    let variance = values.iter().map(|v| (v - middle).powi(2)).sum::<f64>() / (count - 1.0);
    student(count - 1.0) * (variance / count).sqrt()
}

impl Sensitivity {
    /// The answers at all points that are spread as the inputs are, rising.
    pub fn sample(&self) -> &[f64] {
        &self.sorted
    }

    /// Mean of the answer.
    pub fn mean(&self) -> Index {
        let means: Vec<f64> = self.independent().map(|values| mean(&values)).collect();
        Index { value: mean(&means), error: error_of_mean(&means) }
    }

    /// Standard deviation of the answer.
    pub fn deviation(&self) -> f64 {
        self.variance_without(None).sqrt()
    }

    /// The value below which a share of all answers lies, 0 to 1.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for another share.
    pub fn quantile(&self, share: f64) -> Result<Index, Error> {
        number_in_range("share", share, 0.0, 1.0)?;
        let each: Vec<f64> = self
            .independent()
            .map(|mut values| {
                values.sort_by(f64::total_cmp);
                quantile_of(&values, share)
            })
            .collect();
        Ok(Index { value: quantile_of(&self.sorted, share), error: error_of_mean(&each) })
    }

    /// For each input the share of the variance that goes if it alone becomes known. Empty if the sampling left indices out.
    pub fn first_order(&self) -> Vec<Index> {
        self.indices(|row, mean, k| (row[1] - mean) * (row[2 + k] - row[0]))
    }

    /// For each input the share of the variance that stays as long as it alone is unknown. Empty if the sampling left indices
    /// out.
    pub fn total(&self) -> Vec<Index> {
        self.indices(|row, _, k| 0.5 * (row[0] - row[2 + k]).powi(2))
    }

    /// For each input Spearman's rank correlation with the answer: 1 where more of it always means more, -1 where always less,
    /// 0 where it does not matter, or where it turns round. From the points that are spread as the inputs are alone: for
    /// samples so small that shares of the variance are not to be had.
    pub fn rank_correlation(&self) -> Vec<Index> {
        self.ranked(|columns, answer| columns.iter().map(|column| correlation(column, answer)).collect())
    }

    /// The same when what the ranks of all other inputs explain is taken out of both: an input that matters a little stands out
    /// although others matter more. Empty where there are too few points for so many inputs.
    pub fn partial_rank_correlation(&self) -> Vec<Index> {
        self.ranked(|columns, answer| partial_correlations(columns, answer).unwrap_or_default())
    }

    /// What `of` makes of the ranks of every input and of the answer.
    fn ranked(&self, of: impl Fn(&[Vec<f64>], &[f64]) -> Vec<f64>) -> Vec<Index> {
        let inputs = self.points[0][0].len() / 2;
        self.jackknifed(|left_out| {
            let rows: Vec<&[f64]> = Self::kept(&self.points, left_out).flat_map(|row| row.chunks(inputs)).collect();
            let column = |k: usize| ranks(&rows.iter().map(|row| row[k]).collect::<Vec<_>>());
            let answers: Vec<f64> = self.without(left_out).flat_map(|row| [row[0], row[1]]).collect();
            of(&(0..inputs).map(column).collect::<Vec<_>>(), &ranks(&answers))
        })
    }

    /// Answers of each replicate at points that are spread as the inputs are.
    fn independent(&self) -> impl Iterator<Item = Vec<f64>> {
        self.replicates.iter().map(|rows| rows.iter().flat_map(|row| [row[0], row[1]]).collect())
    }

    /// Answers of all replicates but one at points that are spread as the inputs are.
    fn without(&self, left_out: Option<usize>) -> impl Iterator<Item = &Vec<f64>> {
        Self::kept(&self.replicates, left_out)
    }

    /// Rows of all replicates but one.
    fn kept(all: &[Vec<Vec<f64>>], left_out: Option<usize>) -> impl Iterator<Item = &Vec<f64>> {
        all.iter().enumerate().filter(move |(r, _)| Some(*r) != left_out).flat_map(|(_, rows)| rows)
    }

    fn mean_without(&self, left_out: Option<usize>) -> f64 {
        mean(&self.without(left_out).flat_map(|row| [row[0], row[1]]).collect::<Vec<_>>())
    }

    fn variance_without(&self, left_out: Option<usize>) -> f64 {
        let middle = self.mean_without(left_out);
        mean(&self.without(left_out).flat_map(|row| [row[0], row[1]]).map(|v| (v - middle).powi(2)).collect::<Vec<_>>())
    }

    /// Indices by the mean of a term over all rows. Zero for an answer that does not vary.
    fn indices(&self, term: impl Fn(&[f64], f64, usize) -> f64) -> Vec<Index> {
        let inputs = self.replicates[0][0].len() - 2;
        self.jackknifed(|left_out| {
            let (middle, variance) = (self.mean_without(left_out), self.variance_without(left_out));
            let of = |k: usize| mean(&self.without(left_out).map(|row| term(row, middle, k)).collect::<Vec<_>>());
            (0..inputs).map(|k| if variance > 0.0 { of(k) / variance } else { 0.0 }).collect()
        })
    }

    /// Estimates from all replicates, their errors by leaving out each in turn; none where one of these gives none.
    fn jackknifed(&self, by: impl Fn(Option<usize>) -> Vec<f64>) -> Vec<Index> {
        let count = self.replicates.len();
        let whole = by(None);
        let parts: Vec<Vec<f64>> = (0..count).map(|r| by(Some(r))).collect();
        if parts.iter().any(|part| part.len() != whole.len()) {
            return Vec::new();
        }
        let of = |(k, value): (usize, f64)| {
            let each: Vec<f64> = parts.iter().map(|part| part[k]).collect();
            let middle = mean(&each);
            let n = count as f64;
            let variance = (n - 1.0) / n * each.iter().map(|v| (v - middle).powi(2)).sum::<f64>();
            Index { value, error: student(n - 1.0) * variance.sqrt() }
        };
        whole.into_iter().enumerate().map(of).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Tables of Student's distribution, two-sided 95 %: 3, 7, 30 degrees of freedom (MEMORY).
    #[test]
    fn student_as_in_tables() {
        for (freedom, table, within) in [(3.0, 3.182, 0.03), (7.0, 2.365, 0.003), (30.0, 2.042, 1e-3)] {
            assert!((student(freedom) - table).abs() < within, "{freedom}: {}", student(freedom));
        }
    }
}
