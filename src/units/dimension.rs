//! The dimension of a unit expression: exponents of the base quantities this crate meets.

/// Exponents of length, mass, time, temperature, and of the plane angle.
///
/// In the SI the plane angle has no dimension; here it counts, so that "5 °" is refused where a ratio belongs and
/// "5 %" where an angle belongs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dimension([i32; 5]);

const BASE_SYMBOLS: [&str; 5] = ["m", "kg", "s", "K", "rad"];

impl Dimension {
    /// A pure number.
    pub(super) const NONE: Self = Dimension::new(0, 0, 0, 0);
    /// A plane angle.
    pub(super) const ANGLE: Self = Dimension([0, 0, 0, 0, 1]);

    /// The dimension L^`length` M^`mass` T^`time` Θ^`temperature`.
    pub(super) const fn new(length: i32, mass: i32, time: i32, temperature: i32) -> Self {
        Dimension([length, mass, time, temperature, 0])
    }

    /// The dimension of a product. Saturates: no text is long enough to get there with a dimension that is known.
    pub(super) fn product(self, other: Self) -> Self {
        let mut exponents = self.0;
        for (exponent, added) in exponents.iter_mut().zip(other.0) {
            *exponent = exponent.saturating_add(added);
        }
        Dimension(exponents)
    }

    /// The dimension of a power.
    pub(super) fn power(self, exponent: i32) -> Self {
        Dimension(self.0.map(|e| e.saturating_mul(exponent)))
    }

    /// The dimension written in base units ("m kg s-3 K-1"), or "1" for a pure number.
    pub(super) fn in_base_units(self) -> String {
        let factors: Vec<String> = BASE_SYMBOLS
            .iter()
            .zip(self.0)
            .filter(|(_, exponent)| *exponent != 0)
            .map(|(symbol, exponent)| if exponent == 1 { (*symbol).to_owned() } else { format!("{symbol}{exponent}") })
            .collect();
        if factors.is_empty() { "1".to_owned() } else { factors.join(" ") }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn written_in_base_units() {
        assert_eq!(Dimension::new(1, 1, -3, -1).in_base_units(), "m kg s-3 K-1");
        assert_eq!(Dimension::NONE.in_base_units(), "1");
    }

    #[test]
    fn exponents_add_and_multiply() {
        let per_area = Dimension::new(1, 0, 0, 0).power(-2);
        assert_eq!(per_area.product(Dimension::new(2, 1, -3, 0)), Dimension::new(0, 1, -3, 0));
    }
}
