//! How a property follows temperature: a constant, a straight line or a table, as exact plain-SI mathematics.

use crate::error::{Error, ErrorKind};

/// The temperature at which [`PropertyLaw::integral`] is zero, K (0 °C).
const ZERO_OF_INTEGRAL: f64 = 273.15;
/// Temperatures a law may be given at, K.
pub(crate) const TEMPERATURES: (f64, f64) = (1.0, 3500.0);
/// More points than this are a measuring log, not a law.
const MOST_POINTS: usize = 1000;

/// A positive property as a function of temperature; plain SI numbers (kelvin in, SI unit of the property out).
///
/// Between its points a law is piecewise linear, so its mean and its integral are exact. **Beyond the first and the
/// last point the value is held constant**: data do not reach there, and a continued line could fall below zero.
/// [`covers`](Self::covers) tells whether a temperature lies inside.
///
/// Every value is positive, so [`integral`](Self::integral) grows with temperature and can be inverted; for a heat
/// capacity it is the specific enthalpy above 0 °C, for a conductivity the heat-flux potential of Kirchhoff.
#[derive(Debug, Clone, PartialEq)]
pub struct PropertyLaw {
    /// At least one, by rising temperature.
    knots: Vec<Knot>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Knot {
    temperature: f64,
    value: f64,
    /// Integral of the law from the first knot to this one.
    integral: f64,
}

impl PropertyLaw {
    /// The same `value` at every temperature.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] unless `value` is finite and positive.
    pub fn constant(value: f64) -> Result<Self, Error> {
        Self::through(vec![(ZERO_OF_INTEGRAL, value)])
    }

    /// The straight line through `value` at `reference` (K) with `slope` (SI unit of the property per K), known from
    /// `from` to `to` (K) and held beyond.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] where a number is not finite, the range is empty, or the line is not positive over it.
    pub fn linear(reference: f64, value: f64, slope: f64, from: f64, to: f64) -> Result<Self, Error> {
        let at = |temperature: f64| value + slope * (temperature - reference);
        Self::through(vec![(from, at(from)), (to, at(to))])
    }

    /// Straight lines through `points` of temperature (K) and value, by rising temperature; held beyond the ends.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] with fewer than two or more than 1000 points, temperatures that do not rise or lie
    /// outside 1 to 3500 K, or a value that is not finite and positive.
    pub fn table(points: &[(f64, f64)]) -> Result<Self, Error> {
        if points.len() < 2 || points.len() > MOST_POINTS {
            return Err(Error::new(ErrorKind::OutOfRange, "has a number of points that makes no table")
                .with_value(points.len().to_string())
                .with_accepted(format!("2 to {MOST_POINTS} points")));
        }
        Self::through(points.to_vec())
    }

    fn through(points: Vec<(f64, f64)>) -> Result<Self, Error> {
        let mut knots: Vec<Knot> = Vec::with_capacity(points.len());
        for (temperature, value) in points {
            if !(temperature >= TEMPERATURES.0 && temperature <= TEMPERATURES.1) {
                return Err(Error::new(ErrorKind::OutOfRange, "temperature of a property law is out of range")
                    .with_value(format!("{temperature} K"))
                    .with_accepted(format!("{} to {} K", TEMPERATURES.0, TEMPERATURES.1)));
            }
            if !(value > 0.0 && value.is_finite()) {
                return Err(Error::new(ErrorKind::OutOfRange, "a property law must be positive everywhere")
                    .with_value(format!("{value} at {temperature} K"))
                    .with_accepted("a finite number above 0"));
            }
            let integral = match knots.last() {
                None => 0.0,
                Some(last) if temperature > last.temperature => {
                    last.integral + (temperature - last.temperature) * f64::midpoint(last.value, value)
                }
                Some(last) => {
                    return Err(Error::new(ErrorKind::OutOfRange, "temperatures of a property law must rise")
                        .with_value(format!("{temperature} K after {} K", last.temperature)));
                }
            };
            knots.push(Knot { temperature, value, integral });
        }
        Ok(PropertyLaw { knots })
    }

    /// Whether the value is the same at every temperature.
    #[must_use]
    pub fn is_constant(&self) -> bool {
        self.knots.iter().all(|knot| knot.value == self.first().value)
    }

    /// The temperatures between which the law is known, K; `None` for a constant given without a range.
    #[must_use]
    pub fn range(&self) -> Option<(f64, f64)> {
        (self.knots.len() > 1).then(|| (self.first().temperature, self.last().temperature))
    }

    /// Whether `temperature` (K) lies where the law is known; always true for a constant given without a range.
    #[must_use]
    pub fn covers(&self, temperature: f64) -> bool {
        self.range().is_none_or(|(from, to)| temperature >= from && temperature <= to)
    }

    /// The points of the law, temperature (K) and value, by rising temperature; a constant has one.
    pub fn points(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.knots.iter().map(|knot| (knot.temperature, knot.value))
    }

    /// The value at `temperature` (K).
    #[must_use]
    pub fn at(&self, temperature: f64) -> f64 {
        self.on_piece(self.index_after(temperature), temperature)
    }

    /// The value on the piece that ends at the knot `index`.
    fn on_piece(&self, index: usize, temperature: f64) -> f64 {
        if index == 0 {
            return self.first().value;
        }
        let below = self.knots[index - 1];
        match self.knots.get(index) {
            Some(above) => {
                let part = (temperature - below.temperature) / (above.temperature - below.temperature);
                below.value + part * (above.value - below.value)
            }
            None => below.value,
        }
    }

    /// The exact mean over the temperatures between `one` and `other` (K, in either order): the conductivity that
    /// gives the exact steady flux through a slab with these faces, the heat capacity that gives the exact heat.
    #[must_use]
    pub fn mean(&self, one: f64, other: f64) -> f64 {
        if self.knots.len() == 1 {
            return self.first().value;
        }
        let (low, high) = if one <= other { (one, other) } else { (other, one) };
        let index = self.index_after(low);
        if self.knots.get(index).is_none_or(|next| high <= next.temperature) {
            // Both on one straight piece, or both beyond an end: the mean is the value half-way.
            return self.on_piece(index, 0.5 * (low + high));
        }
        let span = high - low;
        if !(span > 0.0 && span.is_finite()) {
            return self.at(low);
        }
        // Summed piece by piece and not as a difference of integrals, which would lose all digits for a small span.
        let mut sum = 0.0;
        let mut from = low;
        for knot in &self.knots[self.index_after(low)..] {
            if knot.temperature >= high {
                break;
            }
            sum += (knot.temperature - from) / span * f64::midpoint(self.at(from), knot.value);
            from = knot.temperature;
        }
        sum + (high - from) / span * f64::midpoint(self.at(from), self.at(high))
    }

    /// The same to the last digit, looked for first on the piece that ends at the knot `piece`, which becomes where it was
    /// found: neighbours in a wall mostly lie on one piece.
    pub(crate) fn mean_near(&self, one: f64, other: f64, piece: &mut usize) -> f64 {
        if self.knots.len() == 1 {
            return self.first().value;
        }
        let (low, high) = if one <= other { (one, other) } else { (other, one) };
        let inside = |k: usize| {
            let (below, above) = (self.knots.get(k.wrapping_sub(1)), self.knots.get(k));
            below.is_some_and(|knot| knot.temperature <= low) && above.is_some_and(|knot| high < knot.temperature)
        };
        if inside(*piece) {
            return self.on_piece(*piece, 0.5 * (low + high));
        }
        *piece = self.index_after(low);
        self.mean(one, other)
    }

    /// The integral from 273.15 K (0 °C) to `temperature` (K); negative below.
    #[must_use]
    pub fn integral(&self, temperature: f64) -> f64 {
        self.since_first_knot(temperature) - self.since_first_knot(ZERO_OF_INTEGRAL)
    }

    /// The temperature (K) at which [`integral`](Self::integral) reaches `integral`.
    #[must_use]
    pub fn temperature_of_integral(&self, integral: f64) -> f64 {
        let sought = integral + self.since_first_knot(ZERO_OF_INTEGRAL);
        let index = self.knots.partition_point(|knot| knot.integral <= sought);
        if index == 0 {
            return self.first().temperature + sought / self.first().value;
        }
        let below = self.knots[index - 1];
        let rest = sought - below.integral;
        match self.knots.get(index) {
            Some(above) => {
                let slope = (above.value - below.value) / (above.temperature - below.temperature);
                // The value at the temperature sought; inside the piece it cannot be below both ends.
                let there = (below.value * below.value + 2.0 * slope * rest).max(0.0).sqrt();
                below.temperature + 2.0 * rest / (below.value + there.max(below.value.min(above.value)))
            }
            None => below.temperature + rest / below.value,
        }
    }

    /// The whole law multiplied by `factor`: a member of the range of the property.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] unless `factor` is positive and the products are finite and positive.
    pub fn scaled(&self, factor: f64) -> Result<Self, Error> {
        Self::through(self.points().map(|(temperature, value)| (temperature, value * factor)).collect())
            .map_err(|e| e.within(format!("scaled by {factor}")))
    }

    /// The law scaled so that it has `value` at `reference` (K).
    pub(crate) fn passing(&self, reference: f64, value: f64) -> Result<Self, Error> {
        self.scaled(value / self.at(reference))
    }

    fn first(&self) -> &Knot {
        &self.knots[0] // `through` is only ever called with one point or more
    }

    fn last(&self) -> &Knot {
        &self.knots[self.knots.len() - 1] // as above
    }

    /// How many knots lie at or below `temperature`: the index of the first one above.
    fn index_after(&self, temperature: f64) -> usize {
        self.knots.partition_point(|knot| knot.temperature <= temperature)
    }

    fn since_first_knot(&self, temperature: f64) -> f64 {
        let index = self.index_after(temperature);
        let below = self.knots[index.saturating_sub(1)];
        below.integral + (temperature - below.temperature) * f64::midpoint(below.value, self.at(temperature))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn laws() -> impl Strategy<Value = PropertyLaw> {
        proptest::collection::vec((0.5_f64..60.0, 0.01_f64..5.0), 1..8).prop_map(|steps| {
            let mut temperature = 200.0;
            let points: Vec<(f64, f64)> = steps
                .into_iter()
                .map(|(step, value)| {
                    temperature += step;
                    (temperature, value)
                })
                .collect();
            PropertyLaw::through(points).unwrap()
        })
    }

    proptest! {
        /// The mean against a midpoint sum over 20 000 strips: definition of the integral mean.
        #[test]
        fn mean_is_the_integral_mean(law in laws(), one in 150.0_f64..700.0, other in 150.0_f64..700.0) {
            let strips = 20_000;
            let sum: f64 = (0..strips)
                .map(|i| law.at(one + (other - one) * (f64::from(i) + 0.5) / f64::from(strips)))
                .sum();
            prop_assert!((law.mean(one, other) / (sum / f64::from(strips)) - 1.0).abs() < 1e-4);
            prop_assert!((law.mean(one, other) - law.mean(other, one)).abs() < 1e-12);
        }

        #[test]
        fn where_a_mean_is_looked_for_first_does_not_matter(
            law in laws(), one in 150.0_f64..700.0, span in -40.0_f64..40.0, first in 0_usize..12
        ) {
            let mut piece = first;
            prop_assert_eq!(law.mean_near(one, one + span, &mut piece), law.mean(one, one + span));
            prop_assert_eq!(law.mean_near(one, one + span, &mut piece), law.mean(one, one + span));
        }

        #[test]
        fn mean_and_integral_agree(law in laws(), one in 150.0_f64..700.0, span in 1.0_f64..300.0) {
            let difference = law.integral(one + span) - law.integral(one);
            prop_assert!((difference / (law.mean(one, one + span) * span) - 1.0).abs() < 1e-9);
        }

        /// A difference of integrals would be off by parts in ten here.
        #[test]
        fn mean_over_a_tiny_span_is_the_value(law in laws(), one in 150.0_f64..700.0) {
            prop_assert!((law.mean(one, one + 1e-12) / law.at(one) - 1.0).abs() < 1e-9);
        }

        #[test]
        fn temperature_of_integral_inverts(law in laws(), temperature in 150.0_f64..700.0) {
            prop_assert!((law.temperature_of_integral(law.integral(temperature)) - temperature).abs() < 1e-8);
        }

        #[test]
        fn integral_rises(law in laws(), one in 150.0_f64..700.0, step in 1e-3_f64..50.0) {
            prop_assert!(law.integral(one + step) > law.integral(one));
        }

        #[test]
        fn scaling_scales_everything(law in laws(), factor in 0.1_f64..10.0, at in 150.0_f64..700.0) {
            let scaled = law.scaled(factor).unwrap();
            prop_assert!((scaled.at(at) / (factor * law.at(at)) - 1.0).abs() < 1e-12);
            prop_assert!((scaled.mean(300.0, at) / (factor * law.mean(300.0, at)) - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn held_beyond_the_ends_and_told() {
        let law = PropertyLaw::table(&[(283.15, 0.03), (323.15, 0.04)]).unwrap();
        assert_eq!(law.at(200.0), 0.03);
        assert_eq!(law.at(400.0), 0.04);
        assert!(law.covers(283.15) && law.covers(323.15) && !law.covers(323.2));
        assert!((law.at(303.15) - 0.035).abs() < 1e-15);
    }

    #[test]
    fn a_line_is_a_line_inside_its_range() {
        let law = PropertyLaw::linear(283.15, 0.04, 1e-4, 273.15, 373.15).unwrap();
        assert!((law.at(353.15) - 0.047).abs() < 1e-15);
        assert!((law.at(450.0) - 0.049).abs() < 1e-15);
        assert!(!law.is_constant());
        assert!(PropertyLaw::linear(283.15, 0.04, 0.0, 273.15, 373.15).unwrap().is_constant());
    }

    #[test]
    fn enthalpy_is_zero_at_zero_celsius() {
        let law = PropertyLaw::constant(4000.0).unwrap();
        assert_eq!(law.integral(273.15), 0.0);
        assert_eq!(law.integral(283.15), 40_000.0);
        assert_eq!(law.range(), None);
        assert!(law.is_constant() && law.covers(5.0));
    }

    #[test]
    fn what_is_not_positive_or_not_rising_is_refused() {
        assert!(PropertyLaw::constant(0.0).is_err());
        assert!(PropertyLaw::constant(f64::NAN).is_err());
        assert!(PropertyLaw::linear(283.15, 0.04, -1e-3, 273.15, 373.15).is_err());
        assert!(PropertyLaw::table(&[(300.0, 1.0), (300.0, 2.0)]).is_err());
        assert!(PropertyLaw::table(&[(300.0, 1.0)]).is_err());
        assert!(PropertyLaw::table(&[(300.0, 1.0), (f64::INFINITY, 2.0)]).is_err());
        assert!(PropertyLaw::constant(1.0).unwrap().scaled(-1.0).is_err());
        assert!(PropertyLaw::constant(1.0).unwrap().scaled(f64::NAN).is_err());
    }
}
