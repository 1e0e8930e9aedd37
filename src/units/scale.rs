//! How a number in some unit becomes a number in the SI unit, kept as a fraction so that 9 mm is 0.009 m exactly.

/// `si = (number - start) * multiply / divide + origin`.
///
/// Two integers instead of one rounded factor: `9.0 * 0.001` is not the double nearest to 0.009, `9.0 / 1000.0` is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    multiply: f64,
    divide: f64,
    /// The number on this scale ...
    start: f64,
    /// ... of this point in the SI unit. Both are zero but for temperatures.
    origin: f64,
}

/// The SI unit itself.
pub(super) const ONE: Scale = Scale::fraction(1.0, 1.0);
/// 25.4 mm exactly: international yard and pound agreement of 1959. MEMORY
pub(super) const INCH: Scale = Scale::fraction(254.0, 10_000.0);
/// 12 inches.
pub(super) const FOOT: Scale = Scale::fraction(3_048.0, 10_000.0);
/// 0.453 592 37 kg exactly: international yard and pound agreement of 1959. MEMORY
pub(super) const POUND: Scale = Scale::fraction(45_359_237.0, 100_000_000.0);
/// A sixteenth of the (avoirdupois) pound.
pub(super) const OUNCE: Scale = Scale::fraction(45_359_237.0, 1_600_000_000.0);
/// 0 °C is 273.15 K: SI brochure, 9th edition, section 2.3.1. MEMORY
pub(super) const CELSIUS: Scale = Scale { multiply: 1.0, divide: 1.0, start: 0.0, origin: 273.15 };
/// 32 °F is 0 °C, and 180 °F from there is 100 °C. MEMORY
pub(super) const FAHRENHEIT: Scale = Scale { multiply: 5.0, divide: 9.0, start: 32.0, origin: 273.15 };
/// π/180 rad: SI brochure, 9th edition, table 8. MEMORY
pub(super) const DEGREE: Scale = Scale::fraction(std::f64::consts::PI, 180.0);

impl Scale {
    /// `multiply / divide` SI units, counted from zero.
    pub(super) const fn fraction(multiply: f64, divide: f64) -> Self {
        Scale { multiply, divide, start: 0.0, origin: 0.0 }
    }

    /// `count` SI units.
    pub(super) const fn times(count: f64) -> Self {
        Self::fraction(count, 1.0)
    }

    /// One `part`th of the SI unit.
    pub(super) const fn part(part: f64) -> Self {
        Self::fraction(1.0, part)
    }

    /// The SI number of `number` units.
    pub(super) fn to_si(self, number: f64) -> f64 {
        (number - self.start) * self.multiply / self.divide + self.origin
    }

    /// The number of units that makes up `si`.
    pub(super) fn of_si(self, si: f64) -> f64 {
        (si - self.origin) * self.divide / self.multiply + self.start
    }

    /// Whether the unit starts counting elsewhere than at zero.
    pub(super) fn is_shifted(self) -> bool {
        self.origin != 0.0
    }

    /// The unit of an interval: counted from zero.
    pub(super) fn interval(self) -> Self {
        Self::fraction(self.multiply, self.divide)
    }

    /// The product of two units, as intervals.
    pub(super) fn product(self, other: Self) -> Self {
        Self::fraction(self.multiply * other.multiply, self.divide * other.divide)
    }

    /// The unit raised to an integer power, as an interval.
    pub(super) fn power(self, exponent: i32) -> Self {
        let size = exponent.saturating_abs();
        let raised = Self::fraction(self.multiply.powi(size), self.divide.powi(size));
        if exponent < 0 { Self::fraction(raised.divide, raised.multiply) } else { raised }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_fraction_gives_the_nearest_double() {
        for count in 1..=2_000_u32 {
            let written = format!("{count}e-3").parse::<f64>().unwrap();
            assert_eq!(Scale::part(1_000.0).to_si(f64::from(count)), written, "{count} mm");
        }
    }

    #[test]
    fn a_negative_power_is_the_reciprocal() {
        assert_eq!(Scale::part(1_000.0).power(-3).to_si(1.0), 1e9);
        assert_eq!(Scale::times(3_600.0).power(-1).to_si(3_600.0), 1.0);
    }

    #[test]
    fn a_power_counts_from_zero() {
        assert_eq!(CELSIUS.power(-1), ONE);
    }
}
