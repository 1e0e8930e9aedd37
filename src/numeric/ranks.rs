//! Ranks of numbers, and how two or more columns of them go together.

use super::dense::Lu;

/// The rank of each value among all, from 1; equal ones share the mean of theirs.
pub(crate) fn ranks(values: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|a, b| values[*a].total_cmp(&values[*b]));
    let mut ranks = vec![0.0; values.len()];
    let mut from = 0;
    while from < order.len() {
        let equal = order[from..].iter().take_while(|at| values[**at] == values[order[from]]).count();
        // Places from + 1 to from + equal.
        let rank = from as f64 + 0.5 * (equal as f64 + 1.0);
        for at in &order[from..from + equal] {
            ranks[*at] = rank;
        }
        from += equal;
    }
    ranks
}

/// Linear correlation of two columns; 0 where one does not vary.
pub(crate) fn correlation(a: &[f64], b: &[f64]) -> f64 {
    let mean = |of: &[f64]| of.iter().sum::<f64>() / of.len() as f64;
    let (of_a, of_b) = (mean(a), mean(b));
    let sum = |term: &dyn Fn(f64, f64) -> f64| a.iter().zip(b).map(|(a, b)| term(a - of_a, b - of_b)).sum::<f64>();
    let size = (sum(&|a, _| a * a) * sum(&|_, b| b * b)).sqrt();
    if size > 0.0 { (sum(&|a, b| a * b) / size).clamp(-1.0, 1.0) } else { 0.0 }
}

/// What of a variance counts as nothing left.
const NOTHING: f64 = 1e-10;

/// Correlation of each column with the answer when what the other columns explain of both is taken out; nothing where the
/// columns hang on one another, as they do if there are fewer rows than columns. Of numbers: of ranks if these are given.
pub(crate) fn partial_correlations(columns: &[Vec<f64>], answer: &[f64]) -> Option<Vec<f64>> {
    let count = columns.len();
    let between: Vec<Vec<f64>> = columns.iter().map(|a| columns.iter().map(|b| correlation(a, b)).collect()).collect();
    let with: Vec<f64> = columns.iter().map(|column| correlation(column, answer)).collect();
    let mut lu = Lu::default();
    (0..count)
        .map(|j| {
            let others: Vec<usize> = (0..count).filter(|i| *i != j).collect();
            lu.clear(others.len());
            for (row, a) in others.iter().enumerate() {
                for (column, b) in others.iter().enumerate() {
                    lu.add(row, column, between[*a][*b]);
                }
            }
            if !lu.factor() {
                return None;
            }
            let (mut mine, mut its): (Vec<f64>, Vec<f64>) = others.iter().map(|i| (between[*i][j], with[*i])).unzip();
            lu.solve(&mut mine);
            lu.solve(&mut its);
            let explained = |weights: &[f64], of: &dyn Fn(usize) -> f64| -> f64 {
                weights.iter().zip(&others).map(|(weight, i)| weight * of(*i)).sum()
            };
            let own = 1.0 - explained(&mine, &|i| between[i][j]);
            let left = 1.0 - explained(&its, &|i| with[i]);
            // A column that the others make up.
            if own <= NOTHING {
                return None;
            }
            let both = with[j] - explained(&mine, &|i| with[i]);
            Some(if left <= NOTHING { 0.0 } else { (both / (own * left).sqrt()).clamp(-1.0, 1.0) })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_values_share_their_ranks() {
        assert_eq!(ranks(&[3.0, 1.0, 3.0, 2.0, 3.0]), [4.0, 1.0, 4.0, 2.0, 4.0]);
        assert!(ranks(&[]).is_empty());
    }

    /// Ten pairs whose rank correlation is -29/165 (an example much reprinted, C. Spearman's coefficient of 1904; MEMORY).
    #[test]
    fn spearman_of_ten_pairs() {
        let a = [86.0, 97.0, 99.0, 100.0, 101.0, 103.0, 106.0, 110.0, 112.0, 113.0];
        let b = [2.0, 20.0, 28.0, 27.0, 50.0, 29.0, 7.0, 17.0, 6.0, 12.0];
        assert!((correlation(&ranks(&a), &ranks(&b)) + 29.0 / 165.0).abs() < 1e-14);
    }

    /// For three columns the partial correlation is (r12 - r13 r23) / sqrt((1 - r13²)(1 - r23²)), a formula of textbooks.
    #[test]
    fn partial_correlations_of_three_columns() {
        let x = vec![vec![1.0, 2.0, 3.0, 4.0, 5.0, 6.0], vec![2.0, 1.0, 4.0, 3.0, 6.0, 5.5]];
        let y = [1.0, 3.0, 2.0, 5.0, 4.0, 6.5];
        let (r1, r2, r12) = (correlation(&x[0], &y), correlation(&x[1], &y), correlation(&x[0], &x[1]));
        let by_hand = [
            (r1 - r2 * r12) / ((1.0 - r2 * r2) * (1.0 - r12 * r12)).sqrt(),
            (r2 - r1 * r12) / ((1.0 - r1 * r1) * (1.0 - r12 * r12)).sqrt(),
        ];
        let ours = partial_correlations(&x, &y).unwrap();
        assert!(ours.iter().zip(by_hand).all(|(a, b)| (a - b).abs() < 1e-13), "{ours:?} {by_hand:?}");
    }

    #[test]
    fn what_cannot_be_parted_is_not() {
        let column = vec![1.0, 2.0, 4.0, 3.0];
        assert_eq!(partial_correlations(&[column.clone(), column.clone()], &column), None);
        // All of the answer is one column: nothing is left for another.
        let other = vec![1.0, -1.0, 1.0, -2.0];
        assert_eq!(partial_correlations(&[column.clone(), other], &column).unwrap()[1], 0.0);
        assert_eq!(correlation(&column, &[5.0; 4]), 0.0);
    }
}
