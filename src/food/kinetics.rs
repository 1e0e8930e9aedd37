//! How the speed of cooking follows temperature.

use crate::error::{Error, ErrorKind, Within};
use crate::material::{Evidence, Mark};
use crate::setup::Range;
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{Si, Temperature, TemperatureInterval, celsius, kelvins};

/// Gas constant, J/(mol K), as the SI of 2019 fixes it (MEMORY).
const GAS_CONSTANT: f64 = 8.314_462_618;

/// How the rate of a change in food grows with temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum RateLaw {
    /// Tenfold for each `z` (3 to 60 K): the rule of food technology.
    DecimalRise(TemperatureInterval),
    /// By Arrhenius with an activation energy in J/mol, 5 000 to 700 000.
    ActivationEnergy(f64),
}

impl RateLaw {
    pub(super) fn check(self) -> Result<(), Error> {
        match self {
            RateLaw::DecimalRise(z) => in_range("z", z, kelvins(3.0), kelvins(60.0)),
            RateLaw::ActivationEnergy(e) => number_in_range("activation energy in J/mol", e, 5e3, 7e5),
        }
        .map(|_| ())
    }

    /// Rate at `temperature` (K) as a multiple of that at `reference` (K).
    pub(super) fn relative(self, temperature: f64, reference: f64) -> f64 {
        match self {
            RateLaw::DecimalRise(z) => 10f64.powf((temperature - reference) / z.si()),
            RateLaw::ActivationEnergy(e) => (e / GAS_CONSTANT * (1.0 / reference - 1.0 / temperature)).exp(),
        }
    }

    /// The rate at a temperature as a multiple of that at a reference, both -60 to 200 °C.
    ///
    /// ```
    /// use stillhot::food::RateLaw;
    /// use stillhot::units::{celsius, kelvins};
    /// // A black bean softens at 80 °C at a twelfth of its speed at 100 °C.
    /// let rate = RateLaw::DecimalRise(kelvins(19.0)).rate(celsius(80.0), celsius(100.0))?;
    /// assert!((rate - 0.0886).abs() < 5e-5);
    /// # Ok::<(), stillhot::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a temperature or a law outside its range.
    pub fn rate(self, temperature: Temperature, reference: Temperature) -> Result<f64, Error> {
        self.check()?;
        let si = |name, t| in_range(name, t, celsius(-60.0), celsius(200.0));
        Ok(self.relative(si("temperature", temperature)?, si("reference", reference)?))
    }
}

/// The kinetics of one food: a law with its range, and the temperature at which cooking times are told.
#[derive(Debug, Clone, PartialEq)]
pub struct Kinetics {
    pub(super) low: RateLaw,
    pub(super) best: RateLaw,
    pub(super) high: RateLaw,
    pub(super) reference: f64,
    /// Below it the cautious end credits nothing, K.
    pub(super) stops_below: Option<f64>,
    pub(super) measured: Option<(f64, f64)>,
    pub(super) evidence: Evidence,
}

impl Kinetics {
    /// Kinetics with a range of z about a reference temperature of 0 to 200 °C.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a z outside 3 to 60 K or another reference.
    pub fn with_z(z: Range<TemperatureInterval>, reference: Temperature) -> Result<Self, Error> {
        let laws = [z.low(), z.best(), z.high()].map(RateLaw::DecimalRise);
        Self::of(laws, reference, blank())
    }

    pub(super) fn of(laws: [RateLaw; 3], reference: Temperature, evidence: Evidence) -> Result<Self, Error> {
        let build = || {
            for law in laws {
                law.check()?;
            }
            let reference = in_range("reference", reference, celsius(0.0), celsius(200.0))?;
            let [low, best, high] = laws;
            Ok(Kinetics { low, best, high, reference, stops_below: None, measured: None, evidence })
        };
        let built: Result<Self, Error> = build();
        built.within("kinetics")
    }

    pub(super) fn with_stop(mut self, temperature: Temperature) -> Result<Self, Error> {
        let stop = in_range("stops-below", temperature, celsius(0.0), celsius(100.0))?;
        if stop >= self.reference {
            return Err(Error::new(ErrorKind::Inconsistent, "cooking stops at or above its reference temperature"));
        }
        self.stops_below = Some(stop);
        Ok(self)
    }

    /// The best law.
    pub fn best(&self) -> RateLaw {
        self.best
    }

    /// The two ends of the law.
    pub fn ends(&self) -> [RateLaw; 2] {
        [self.low, self.high]
    }

    /// The temperature at which cooking times are told.
    pub fn reference(&self) -> Temperature {
        Temperature::from_si(self.reference)
    }

    /// The temperature below which the cautious end credits nothing, where there is one.
    pub fn stops_below(&self) -> Option<Temperature> {
        self.stops_below.map(Temperature::from_si)
    }

    /// The temperatures between which the law was measured, where they are known. Elsewhere it is extrapolated.
    pub fn measured(&self) -> Option<(Temperature, Temperature)> {
        self.measured.map(|(from, to)| (Temperature::from_si(from), Temperature::from_si(to)))
    }

    /// Whether the law was taken from other foods, or measured at no temperature below 95 °C: in a box it is then
    /// extrapolated.
    pub fn is_extrapolated_in_a_box(&self) -> bool {
        self.evidence.mark() == Mark::Estimate || self.measured.is_none_or(|(from, _)| from > celsius(95.0).si())
    }

    /// What the law rests on.
    pub fn evidence(&self) -> &Evidence {
        &self.evidence
    }

    /// Slowest rate of the three laws at `temperature` (K), by the cautious end's rule.
    pub(super) fn slowest(&self, temperature: f64) -> f64 {
        if self.stops_below.is_some_and(|stop| temperature < stop) {
            return 0.0;
        }
        self.rates(temperature).into_iter().fold(f64::INFINITY, f64::min)
    }

    pub(super) fn fastest(&self, temperature: f64) -> f64 {
        self.rates(temperature).into_iter().fold(0.0, f64::max)
    }

    pub(super) fn middle(&self, temperature: f64) -> f64 {
        self.best.relative(temperature, self.reference)
    }

    fn rates(&self, temperature: f64) -> [f64; 3] {
        [self.low, self.best, self.high].map(|law| law.relative(temperature, self.reference))
    }
}

pub(super) fn blank() -> Evidence {
    Evidence { mark: Mark::Given, derived: false, sources: Vec::new(), note: None }
}
