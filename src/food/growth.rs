//! Growth of *Clostridium perfringens* from spores while a dish cools.

use super::curve::{Curve, End};
use super::lethality::inside;
use crate::error::{Error, ErrorKind, Within, all_within};
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{Si, Temperature, Time, celsius};
use std::f64::consts::LN_10;

/// Physiological state h0 of the lag at the hard bound: no lag at all.
const H0_HARD_BOUND: f64 = 0.0;
/// At the cautious end.
const H0_CAUTIOUS: f64 = 6.0;
/// Best estimate.
const H0_BEST: f64 = 9.0;
/// Powers of ten between a single cell in a gram and the stationary phase, about 8 log10 per gram (MEMORY): nothing grows
/// further, and what begins with more cells stops earlier.
const STATIONARY: f64 = 8.0;
/// Stretch of temperature over which the growth rate is integrated at once, K.
const SPAN: f64 = 1.0;

/// Growth rate by cardinal temperatures, after Rosso.
///
/// ```text
/// mu = mu_opt (T - Tmax)(T - Tmin)² / {(Topt - Tmin) [(Topt - Tmin)(T - Topt) - (Topt - Tmax)(Topt + Tmin - 2T)]}
/// ```
/// between `minimum` and `maximum`, else zero. The form is MEMORY.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CardinalTemperatures {
    minimum: f64,
    optimum: f64,
    maximum: f64,
    /// Natural logarithm per second.
    rate: f64,
}

impl CardinalTemperatures {
    /// Of given cardinal temperatures (minimum < optimum < maximum, -20 to 120 °C; the optimum above the mean of the
    /// other two, where the form is meant) and the rate at the optimum in natural logarithms per hour, above 0 to 20.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for numbers outside, [`ErrorKind::Inconsistent`] for an order the form is not meant for.
    pub fn new(
        minimum: Temperature,
        optimum: Temperature,
        maximum: Temperature,
        rate_per_hour: f64,
    ) -> Result<Self, Error> {
        all_within("growth", || {
            let si = |name, t| in_range(name, t, celsius(-20.0), celsius(120.0));
            let (low, best, high) = (si("minimum", minimum)?, si("optimum", optimum)?, si("maximum", maximum)?);
            let rate = number_in_range("rate per hour", rate_per_hour, 1e-6, 20.0)? / 3600.0;
            if best >= high || best <= f64::midpoint(low, high) {
                return Err(Error::new(ErrorKind::Inconsistent, "cardinal temperatures do not fit one another")
                    .with_accepted("minimum < optimum < maximum, the optimum nearer the maximum"));
            }
            Ok(CardinalTemperatures { minimum: low, optimum: best, maximum: high, rate })
        })
    }

    /// *C. perfringens* in braised beef: 10.3, 43.5, 53.4 °C, 5.64 per hour.
    ///
    /// Growth in roasted chicken and braised beef during cooling, Food Control (2020); parameters READ in its abstract.
    #[must_use]
    pub fn braised_beef() -> Self {
        Self::of_celsius(10.3, 43.5, 53.4, 5.64)
    }

    /// *C. perfringens* in roast chicken: 8.8, 46.4, 51.5 °C, 6.06 per hour. Source as [`Self::braised_beef`].
    #[must_use]
    pub fn roast_chicken() -> Self {
        Self::of_celsius(8.8, 46.4, 51.5, 6.06)
    }

    fn of_celsius(minimum: f64, optimum: f64, maximum: f64, rate_per_hour: f64) -> Self {
        CardinalTemperatures {
            minimum: celsius(minimum).si(),
            optimum: celsius(optimum).si(),
            maximum: celsius(maximum).si(),
            rate: rate_per_hour / 3600.0,
        }
    }

    /// The highest temperature of growth.
    pub fn maximum(&self) -> Temperature {
        Temperature::from_si(self.maximum)
    }

    /// The growth rate at a temperature, natural logarithms per hour.
    pub fn rate_per_hour(&self, temperature: Temperature) -> f64 {
        3600.0 * self.at(temperature.si())
    }

    /// Natural logarithms per second at `t` (K).
    fn at(&self, t: f64) -> f64 {
        if !(t > self.minimum && t < self.maximum) {
            return 0.0;
        }
        let rise = self.optimum - self.minimum;
        let inner = rise * (t - self.optimum) - (self.optimum - self.maximum) * (self.optimum + self.minimum - 2.0 * t);
        self.rate * (t - self.maximum) * (t - self.minimum).powi(2) / (rise * inner)
    }

    /// The greatest rate at any temperature between two, K.
    fn fastest(&self, low: f64, high: f64) -> f64 {
        self.at(self.optimum.clamp(low.min(high), low.max(high)))
    }
}

/// Growth by the end of a curve, as powers of ten, with the lag as a range.
///
/// The lag is the weak point of any such prediction: a published figure of h0 is 10.46 for a relative of the organism
/// (READ, Food Control 2016), and h0 of 7 to 10 agrees with published cooling trials (COMPUTED). So three numbers are
/// given. Growth ends in the stationary phase, taken 8 powers of ten above the start; the usual start of some hundred
/// spores in a gram is there after five or six, so above that the number means no more than "full of bacteria".
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Growth {
    /// Without any lag, at the fastest temperature inside the range at every moment: nothing grows faster.
    pub hard_bound: f64,
    /// With a short lag (h0 = 6), along whichever line of the curve is worst.
    pub cautious: f64,
    /// With the likeliest lag (h0 = 9), along the best line.
    pub best: f64,
}

impl Growth {
    /// Growth from the start of the curve to `until`.
    ///
    /// By Baranyi and Roberts in closed form: with M the integral of the rate and q0 = 1/(e^h0 - 1), growth without limit
    /// is A = ln((1 + q0 e^M)/(1 + q0)), and with a stationary phase R above the start A - ln(1 + (e^A - 1) e^-R). The
    /// form is MEMORY.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a time outside the curve.
    pub fn along(curve: &Curve, until: Time, organism: &CardinalTemperatures) -> Result<Self, Error> {
        let until = inside(curve, until).within("growth")?;
        let levels = [organism.minimum, organism.maximum];
        let exposure = |end| curve.track(end).integral(until, SPAN, &levels, |t| organism.at(t));
        let (low, best, high) = (exposure(End::Cautious), exposure(End::Best), exposure(End::Generous));
        let bound = Self::widest(curve, until, organism);
        Ok(Growth {
            hard_bound: stationary(after_lag(bound, H0_HARD_BOUND)),
            cautious: stationary(after_lag(low.max(best).max(high), H0_CAUTIOUS)),
            best: stationary(after_lag(best, H0_BEST)),
        })
    }

    /// Integral of the fastest rate between cautious and generous line.
    fn widest(curve: &Curve, until: f64, organism: &CardinalTemperatures) -> f64 {
        let (low, high) = (curve.track(End::Cautious), curve.track(End::Generous));
        let mut sum = 0.0;
        for (one, other) in low.pieces(until).zip(high.pieces(until)) {
            let swing = (one.to - one.from).abs().max((other.to - other.from).abs());
            let count = (2.0 * swing / SPAN).ceil().clamp(2.0, 2e4);
            for k in 0..count as usize {
                let share = |x: f64, piece: &super::track::Piece| piece.from + (piece.to - piece.from) * x / count;
                // Simpson's rule: the fastest rate has corners where it switches between lines.
                let at = |x: f64| organism.fastest(share(x, &one), share(x, &other));
                let k = k as f64;
                sum += (at(k) + 4.0 * at(k + 0.5) + at(k + 1.0)) / 6.0 * one.duration() / count;
            }
        }
        sum
    }

    /// Growth with a lag of your own, h0 0 to 50, along the best line, as powers of ten, without a stationary phase.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a time outside the curve or another h0.
    pub fn with_lag(curve: &Curve, until: Time, organism: &CardinalTemperatures, h0: f64) -> Result<f64, Error> {
        let (until, h0) = all_within("growth", || Ok((inside(curve, until)?, number_in_range("h0", h0, 0.0, 50.0)?)))?;
        let levels = [organism.minimum, organism.maximum];
        Ok(after_lag(curve.track(End::Best).integral(until, SPAN, &levels, |t| organism.at(t)), h0))
    }
}

/// Powers of ten grown after an exposure M with a lag of h0.
fn after_lag(exposure: f64, h0: f64) -> f64 {
    // ln((1 + q0 e^M)/(1 + q0)) with q0 = 1/(e^h0 - 1) is ln(1 + e^-h0 (e^M - 1)); the second form keeps digits.
    let natural = if exposure > 1.0 {
        // e^M may be huge: take it out of the logarithm.
        exposure + ((-h0).exp() + (-exposure).exp() * (1.0 - (-h0).exp())).ln()
    } else {
        ((-h0).exp() * exposure.exp_m1()).ln_1p()
    };
    natural.max(0.0) / LN_10
}

/// Powers of ten grown towards the stationary phase, where `free` would grow without one.
fn stationary(free: f64) -> f64 {
    let (free, room) = (free * LN_10, STATIONARY * LN_10);
    // free - ln(1 + (e^free - 1) e^-room) without e^free, which may be huge.
    let natural = if free > room {
        room - ((room - free).exp() + 1.0 - (-free).exp()).ln()
    } else {
        free - (free.exp_m1() * (-room).exp()).ln_1p()
    };
    natural / LN_10
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn growth_ends_in_the_stationary_phase() {
        // By stepping dA = (1 - N/Nmax) dfree with N/N0 = 10^A, Nmax/N0 = 1e8.
        for free in [0.0_f64, 1.0, 5.0, 7.5, 8.0, 9.0, 12.0] {
            let (steps, mut grown) = (200_000, 0.0_f64);
            for _ in 0..steps {
                let slope = |grown: f64| 1.0 - 10f64.powf(grown - STATIONARY);
                let middle = grown + 0.5 * free / f64::from(steps) * slope(grown);
                grown += free / f64::from(steps) * slope(middle);
            }
            // The exact form starts from N0: its last term keeps (1 - 1e-8).
            assert!((stationary(free) - grown).abs() < 1e-6, "{free}: {} {grown}", stationary(free));
        }
        assert!(stationary(1e6) <= STATIONARY && stationary(8.0) < 7.8);
    }

    #[test]
    fn both_forms_of_the_lag_agree_with_its_definition() {
        for h0 in [0.5_f64, 3.0, 6.0, 9.0] {
            let q0 = 1.0 / h0.exp_m1();
            for exposure in [0.01_f64, 0.5, 1.0, 1.000001, 4.0, 20.0] {
                let plain = ((1.0 + q0 * exposure.exp()) / (1.0 + q0)).ln() / LN_10;
                assert!((after_lag(exposure, h0) - plain).abs() < 1e-12, "{h0} {exposure}");
            }
        }
        assert_eq!(after_lag(0.0, 6.0), 0.0);
        assert!((after_lag(5.64, 0.0) - 5.64 / LN_10).abs() < 1e-15, "no lag: all of it");
        assert!(after_lag(1e5, 9.0).is_finite());
    }
}
