//! One property of a material: value, range, temperature law, and what they rest on.

use super::law::{PropertyLaw, TEMPERATURES};
use super::provenance::Evidence;
use crate::error::{Error, ErrorKind, Within};
use crate::units::bounds::in_range;
use crate::units::{MassDensity, Ratio, Si, SpecificHeatCapacity, Spoken, Temperature, ThermalConductivity, write};

/// How far a temperature law may miss the value at its reference temperature before it is taken for an error.
const LAW_MISSES_AT_MOST: f64 = 0.08;

/// A property with its plausible range and its temperature law.
///
/// `low` and `high` bound what ordinary material of this kind has in this use; they are no confidence interval. A
/// member of the range is the whole law scaled: [`low_law`](Self::low_law), [`high_law`](Self::high_law).
#[derive(Debug, Clone, PartialEq)]
pub struct Property<Q> {
    value: Q,
    low: Q,
    high: Q,
    reference: Option<Temperature>,
    law: PropertyLaw,
    /// What the temperature law rests on; `None` where none is known.
    law_evidence: Option<Evidence>,
    law_uncertainty: Option<Ratio>,
    evidence: Evidence,
    seen: Vec<(Q, String)>,
}

/// The physical range of a quantity, outside of which a value is taken for an error.
pub(crate) trait Physical: Spoken {
    /// Least and greatest accepted value in SI units.
    const ACCEPTED: (f64, f64);
}

impl Physical for ThermalConductivity {
    const ACCEPTED: (f64, f64) = (1e-4, 2500.0);
}

impl Physical for MassDensity {
    const ACCEPTED: (f64, f64) = (0.05, 23_000.0);
}

impl Physical for SpecificHeatCapacity {
    const ACCEPTED: (f64, f64) = (50.0, 20_000.0);
}

/// Emissivities and vapour resistance factors; each is checked more narrowly where it is known which it is.
impl Physical for Ratio {
    const ACCEPTED: (f64, f64) = (0.01, 1e8);
}

/// What a property is built from; the law still to be scaled to the value.
pub(crate) struct Parts<Q> {
    pub value: Q,
    pub low: Q,
    pub high: Q,
    pub reference: Option<Temperature>,
    pub law: Option<PropertyLaw>,
    pub law_evidence: Option<Evidence>,
    pub law_uncertainty: Option<Ratio>,
    pub evidence: Evidence,
    pub seen: Vec<(Q, String)>,
}

impl<Q: Physical> Parts<Q> {
    /// A value given by the caller: no range, no law.
    pub(crate) fn given(value: Q) -> Self {
        Parts {
            value,
            low: value,
            high: value,
            reference: None,
            law: None,
            law_evidence: None,
            law_uncertainty: None,
            evidence: Evidence::given(),
            seen: Vec::new(),
        }
    }

    /// The parts of a property, to change some of them; the law as it is.
    pub(crate) fn of(property: &Property<Q>) -> Self {
        Parts {
            value: property.value,
            low: property.low,
            high: property.high,
            reference: property.reference,
            law: property.law_evidence.as_ref().map(|_| property.law.clone()),
            law_evidence: property.law_evidence.clone(),
            law_uncertainty: property.law_uncertainty,
            evidence: property.evidence.clone(),
            seen: property.seen.clone(),
        }
    }

    /// The checked property.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for a value outside the physical range; [`ErrorKind::Inconsistent`] unless
    /// low <= value <= high, or where the law misses the value by more than 8 % or has no reference temperature.
    pub(crate) fn build(self) -> Result<Property<Q>, Error> {
        let (least, most) = (Q::from_si(Q::ACCEPTED.0), Q::from_si(Q::ACCEPTED.1));
        let value = in_range("value", self.value, least, most)?;
        let low = in_range("low", self.low, least, most)?;
        let high = in_range("high", self.high, least, most)?;
        if !(low <= value && value <= high) {
            return Err(Error::new(ErrorKind::Inconsistent, "value lies outside its own range")
                .with_value(write(self.value))
                .with_accepted(format!("{} to {}", write(self.low), write(self.high)))
                .within("value"));
        }
        if let Some(reference) = self.reference {
            in_range("at", reference, Temperature::from_si(TEMPERATURES.0), Temperature::from_si(TEMPERATURES.1))?;
        }
        let law = match self.law {
            None => PropertyLaw::constant(value)?,
            Some(law) => {
                check_points::<Q>(&law).within("with-temperature")?;
                fit(&law, self.value, self.reference).within("with-temperature")?
            }
        };
        Ok(Property {
            value: self.value,
            low: self.low,
            high: self.high,
            reference: self.reference,
            law,
            law_evidence: self.law_evidence,
            law_uncertainty: self.law_uncertainty,
            evidence: self.evidence,
            seen: self.seen,
        })
    }
}

fn check_points<Q: Physical>(law: &PropertyLaw) -> Result<(), Error> {
    for (temperature, value) in law.points() {
        in_range("value", Q::from_si(value), Q::from_si(Q::ACCEPTED.0), Q::from_si(Q::ACCEPTED.1))
            .within(format!("at {}", write(Temperature::from_si(temperature))))?;
    }
    Ok(())
}

/// Scales the law to pass through the value at its reference temperature.
fn fit<Q: Spoken>(law: &PropertyLaw, value: Q, reference: Option<Temperature>) -> Result<PropertyLaw, Error> {
    let reference = reference.ok_or_else(|| {
        Error::new(ErrorKind::Inconsistent, "a temperature law needs the temperature of the value")
            .with_accepted("`at`, for example at = \"10 °C\"")
    })?;
    let there = law.at(reference.si());
    if (there / value.si() - 1.0).abs() > LAW_MISSES_AT_MOST {
        return Err(Error::new(ErrorKind::Inconsistent, "law and value contradict each other")
            .with_value(format!("{} by the law at {}", write(Q::from_si(there)), write(reference)))
            .with_accepted(format!("{} within 8 %", write(value))));
    }
    law.passing(reference.si(), value.si())
}

impl<Q: Si + Copy> Property<Q> {
    /// The value, at [`reference`](Self::reference) where one is given.
    pub fn value(&self) -> Q {
        self.value
    }

    /// The lowest plausible value, at the same temperature.
    pub fn low(&self) -> Q {
        self.low
    }

    /// The highest plausible value, at the same temperature.
    pub fn high(&self) -> Q {
        self.high
    }

    /// The temperature of the value; `None` where it was not stated and matters little.
    pub fn reference(&self) -> Option<Temperature> {
        self.reference
    }

    /// The value at another temperature, by the law; held constant where the law does not reach.
    pub fn at(&self, temperature: Temperature) -> Q {
        Q::from_si(self.law.at(temperature.si()))
    }

    /// The law in plain SI numbers; it passes through the value at the reference temperature.
    pub fn law(&self) -> &PropertyLaw {
        &self.law
    }

    /// The law of the low end of the range: scaled as a whole.
    pub fn low_law(&self) -> PropertyLaw {
        self.law_of(self.low)
    }

    /// The law of the high end of the range: scaled as a whole.
    pub fn high_law(&self) -> PropertyLaw {
        self.law_of(self.high)
    }

    /// Whether it is known how the property follows temperature. Where it is not, the law is a constant.
    pub fn has_temperature_law(&self) -> bool {
        self.law_evidence.is_some()
    }

    /// What the temperature law rests on; often less than the value itself.
    pub fn law_evidence(&self) -> Option<&Evidence> {
        self.law_evidence.as_ref()
    }

    /// How far the law may be off, as a fraction, where somebody said so.
    pub fn law_uncertainty(&self) -> Option<Ratio> {
        self.law_uncertainty
    }

    /// What value and range rest on.
    pub fn evidence(&self) -> &Evidence {
        &self.evidence
    }

    /// The numbers that were seen, each with the key of its source; the value was chosen among or near them.
    pub fn seen(&self) -> &[(Q, String)] {
        &self.seen
    }

    /// The law of a value within the range: scaled as a whole.
    pub(crate) fn law_of(&self, value: Q) -> PropertyLaw {
        // The physical range of both makes the factor finite and positive, so the scaled law always exists.
        self.law.scaled(value.si() / self.value.si()).unwrap_or_else(|_| self.law.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{celsius, watts_per_metre_kelvin};

    fn with_law(points: &[(f64, f64)]) -> Parts<ThermalConductivity> {
        Parts {
            low: watts_per_metre_kelvin(0.030),
            high: watts_per_metre_kelvin(0.040),
            reference: Some(celsius(10.0)),
            law: Some(PropertyLaw::table(points).unwrap()),
            law_evidence: Some(Evidence::given()),
            ..Parts::given(watts_per_metre_kelvin(0.035))
        }
    }

    #[test]
    fn law_passes_through_the_value_and_its_range() {
        let property = with_law(&[(283.15, 0.0345), (323.15, 0.0445)]).build().unwrap();
        assert!((property.law().at(283.15) - 0.035).abs() < 1e-15);
        assert!((property.at(celsius(50.0)).si() - 0.0445 * 0.035 / 0.0345).abs() < 1e-15);
        assert!((property.low_law().at(283.15) - 0.030).abs() < 1e-15);
        assert!(
            (property.high_law().mean(283.15, 323.15) / property.law().mean(283.15, 323.15) - 40.0 / 35.0).abs()
                < 1e-12
        );
    }

    #[test]
    fn contradictions_are_refused() {
        let error = with_law(&[(283.15, 0.031), (323.15, 0.04)]).build().unwrap_err();
        assert_eq!((error.kind(), error.path().as_str()), (ErrorKind::Inconsistent, "with-temperature"));
        let error = Parts { low: watts_per_metre_kelvin(0.05), ..Parts::given(watts_per_metre_kelvin(0.04)) }.build();
        assert_eq!(error.unwrap_err().kind(), ErrorKind::Inconsistent);
        let mut unplaced = with_law(&[(283.15, 0.035), (323.15, 0.04)]);
        unplaced.reference = None;
        assert_eq!(unplaced.build().unwrap_err().kind(), ErrorKind::Inconsistent);
        for wrong in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e9] {
            assert_eq!(Parts::given(watts_per_metre_kelvin(wrong)).build().unwrap_err().kind(), ErrorKind::OutOfRange);
        }
    }
}
