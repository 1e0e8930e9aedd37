//! Points that fill a unit cube evenly: Sobol' sequences, scrambled so that their error can be seen.
//!
//! I. M. Sobol', USSR Comput. Math. Math. Phys. 7 (1967) 86; direction numbers by Joe and Kuo 2008 (see
//! `sequence_directions.rs`); nested uniform scrambling by A. B. Owen, Monte Carlo and quasi-Monte Carlo methods (1995) 299.
//! Each scrambled point is uniform by itself, 2^m of them fill the cube as evenly as the plain ones, and independent
//! scramblings of the same points differ by what such points get wrong.

use super::sequence_directions::INITIAL;

/// Binary digits of a coordinate.
const DIGITS: u32 = 32;
/// Most dimensions of a point.
pub(crate) const MOST_DIMENSIONS: usize = INITIAL.len() + 1;

/// A Sobol' sequence.
#[derive(Debug, Clone)]
pub(crate) struct Sobol {
    /// By dimension: what each binary digit of the index contributes.
    directions: Vec<[u32; DIGITS as usize]>,
    scrambling: Option<u64>,
}

impl Sobol {
    /// Points of so many dimensions; of at most [`MOST_DIMENSIONS`].
    pub(crate) fn new(dimensions: usize) -> Self {
        // The first dimension has ones throughout.
        let first = std::array::from_fn(|digit| 1 << (31 - digit));
        let others = INITIAL.iter().map(|(polynomial, numbers)| directions(*polynomial, numbers));
        Sobol { directions: [first].into_iter().chain(others).take(dimensions).collect(), scrambling: None }
    }

    /// The same points scrambled.
    pub(crate) fn scrambled(self, seed: u64) -> Self {
        Sobol { scrambling: Some(seed), ..self }
    }

    /// One point, in the order of Antonov and Saleev: each differs from the one before it by one direction number.
    pub(crate) fn point(&self, index: u32) -> Vec<f64> {
        let gray = index ^ (index >> 1);
        let of = |(dimension, directions): (usize, &[u32; DIGITS as usize])| {
            let mut x = 0;
            for (digit, direction) in directions.iter().enumerate() {
                if (gray >> digit) & 1 == 1 {
                    x ^= direction;
                }
            }
            match self.scrambling {
                None => f64::from(x) * UNIT,
                // The middle of the smallest cell: never an end of the range.
                Some(seed) => (f64::from(scramble(x, mix(seed ^ mix(dimension as u64)))) + 0.5) * UNIT,
            }
        };
        self.directions.iter().enumerate().map(of).collect()
    }
}

/// 2^-32.
const UNIT: f64 = 1.0 / (u32::MAX as f64 + 1.0);

/// Direction numbers of a dimension by its recurrence.
fn directions(polynomial: u32, numbers: &[u32]) -> [u32; DIGITS as usize] {
    let degree = numbers.len();
    let mut v = [0_u32; DIGITS as usize];
    for (digit, number) in numbers.iter().enumerate() {
        v[digit] = number << (31 - digit);
    }
    for digit in degree..v.len() {
        v[digit] = v[digit - degree] ^ (v[digit - degree] >> degree);
        for k in 1..degree {
            if (polynomial >> (degree - 1 - k)) & 1 == 1 {
                v[digit] ^= v[digit - k];
            }
        }
    }
    v
}

/// Turns each digit round or not, by a coin that hangs on all digits before it.
fn scramble(x: u32, seed: u64) -> u32 {
    let mut scrambled = 0;
    for digit in 0..DIGITS {
        let before = u64::from(x) >> (DIGITS - digit);
        let coin = mix(seed ^ mix((before << 6) | u64::from(digit))) & 1;
        scrambled |= (((x >> (31 - digit)) & 1) ^ coin as u32) << (31 - digit);
    }
    scrambled
}

/// Mixes the bits of a number: the finaliser of a splittable generator (G. L. Steele, D. Lea, C. H. Flood, OOPSLA 2014;
/// MEMORY).
pub(crate) fn mix(number: u64) -> u64 {
    let mut z = number.wrapping_add(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The ten points of three dimensions that Joe and Kuo print with their direction numbers (MEMORY).
    #[test]
    fn begins_as_published() {
        let published = [
            [0.0, 0.0, 0.0],
            [0.5, 0.5, 0.5],
            [0.75, 0.25, 0.25],
            [0.25, 0.75, 0.75],
            [0.375, 0.375, 0.625],
            [0.875, 0.875, 0.125],
            [0.625, 0.125, 0.875],
            [0.125, 0.625, 0.375],
            [0.1875, 0.3125, 0.9375],
            [0.6875, 0.8125, 0.4375],
        ];
        let sequence = Sobol::new(3);
        for (index, point) in (0..).zip(published) {
            assert_eq!(sequence.point(index), point);
        }
    }

    /// By definition each half, quarter, ... of every axis holds its share of 2^m points, scrambled or not.
    #[test]
    fn every_axis_is_cut_evenly_in_all_dimensions() {
        for sequence in [Sobol::new(MOST_DIMENSIONS), Sobol::new(MOST_DIMENSIONS).scrambled(7)] {
            let mut cells = vec![[0; 256]; MOST_DIMENSIONS];
            for index in 0..256 {
                for (cells, x) in cells.iter_mut().zip(sequence.point(index)) {
                    assert!((0.0..1.0).contains(&x));
                    cells[(x * 256.0) as usize] += 1;
                }
            }
            assert!(cells.iter().flatten().all(|count| *count == 1));
        }
    }

    /// A product of (1 + (x - 1/2)/2) over six dimensions, whose integral is 1, by the root mean square over 32 scramblings:
    /// plain sampling falls with 1/sqrt(N), a scrambled net of a smooth function nearly with N^-1.5 (Owen 1997, Ann. Stat.
    /// 25, 1541).
    #[test]
    fn integrates_faster_than_a_random_sample() {
        let error = |power: u32| {
            let of = |seed: u64| {
                let sequence = Sobol::new(6).scrambled(seed);
                let f = |i: u32| sequence.point(i).into_iter().map(|x| 1.0 + 0.5 * (x - 0.5)).product::<f64>();
                (0..1 << power).map(f).sum::<f64>() / f64::from(1 << power) - 1.0
            };
            ((0..32).map(|seed| of(seed).powi(2)).sum::<f64>() / 32.0).sqrt()
        };
        let (coarse, fine) = (error(4), error(12));
        let order = (coarse / fine).log2() / 8.0;
        assert!(order > 1.1, "error {coarse:.2e} to {fine:.2e}, order {order:.2}");
        // One standard deviation of a random sample: (13/12 product: (1 + 1/48)^6 - 1) / N.
        let random = (((1.0_f64 + 1.0 / 48.0).powi(6) - 1.0) / 4096.0).sqrt();
        assert!(fine < 0.05 * random, "{fine:.2e} against {random:.2e}");
    }

    #[test]
    fn scramblings_differ_and_repeat() {
        let point = |seed: u64| Sobol::new(5).scrambled(seed).point(9);
        assert_eq!(point(3), point(3));
        assert!(point(3).iter().zip(point(4)).all(|(a, b)| *a != b));
        let mean: f64 = (0..4000).map(|seed| point(seed)[2]).sum::<f64>() / 4000.0;
        // Four standard deviations of the mean of a uniform number.
        assert!((mean - 0.5).abs() < 4.0 / (12.0_f64 * 4000.0).sqrt(), "{mean}");
    }
}
