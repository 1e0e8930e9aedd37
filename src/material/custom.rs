//! Materials from the caller's own numbers.

use super::catalogue::Catalogue;
use super::category::Category;
use super::description::{Emissivity, Material, Remarks, ServiceTemperature};
use super::law::{PropertyLaw, TEMPERATURES};
use super::property::{Parts, Physical, Property};
use super::provenance::{Evidence, Grade};
use crate::error::{Error, ErrorKind, Within};
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{MassDensity, Ratio, Si, SpecificHeatCapacity, Temperature, ThermalConductivity};

impl Material {
    /// The material `id` of the embedded catalogue.
    ///
    /// ```
    /// use stillhot::material::Material;
    /// use stillhot::units::{Si, celsius};
    ///
    /// let cork = Material::named("expanded-cork-board")?;
    /// assert_eq!(cork.conductivity().value().si(), 0.040);
    /// assert!(cork.conductivity().at(celsius(60.0)) > cork.conductivity().value());
    /// # Ok::<(), stillhot::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] with the nearest names as accepted.
    pub fn named(id: &str) -> Result<Self, Error> {
        Catalogue::embedded().get(id).cloned()
    }

    /// A material from three numbers, taken as exact and the same at every temperature until a range or a law is given.
    ///
    /// It counts as [`Grade::C`] and [`Category::InsulationOther`] until said otherwise.
    ///
    /// ```
    /// use stillhot::material::Material;
    /// use stillhot::units::{
    ///     celsius, joules_per_kilogram_kelvin, kilograms_per_cubic_metre, watts_per_metre_kelvin,
    /// };
    ///
    /// let chaff = Material::custom(
    ///     "spelt-chaff",
    ///     watts_per_metre_kelvin(0.055),
    ///     kilograms_per_cubic_metre(90.0),
    ///     joules_per_kilogram_kelvin(1700.0),
    /// )?
    /// .with_conductivity_range(watts_per_metre_kelvin(0.045), watts_per_metre_kelvin(0.07))?
    /// .with_conductivity_table(
    ///     celsius(10.0),
    ///     &[(celsius(10.0), watts_per_metre_kelvin(0.055)), (celsius(60.0), watts_per_metre_kelvin(0.065))],
    /// )?;
    /// assert!(!chaff.conductivity_law().is_constant());
    /// # Ok::<(), stillhot::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::Data`] for an id that is not lower-case words joined by hyphens; [`ErrorKind::OutOfRange`] for a
    /// conductivity outside 1e-4 to 2500 W/(m K), a density outside 0.05 to 23 000 kg/m3, a heat capacity outside 50
    /// to 20 000 J/(kg K).
    pub fn custom(
        id: &str,
        conductivity: ThermalConductivity,
        density: MassDensity,
        heat_capacity: SpecificHeatCapacity,
    ) -> Result<Self, Error> {
        check_id(id)?;
        Ok(Material {
            id: id.to_owned(),
            name: id.replace('-', " "),
            category: Category::InsulationOther,
            grade: Grade::C,
            conductivity: Parts::given(conductivity).build().within("conductivity").within(id)?,
            density: Parts::given(density).build().within("density").within(id)?,
            heat_capacity: Parts::given(heat_capacity).build().within("heat capacity").within(id)?,
            vapour_resistance_factor: None,
            damp_factor: None,
            is_damp: false,
            emissivities: Vec::new(),
            service_temperature: None,
            composition: None,
            remarks: Remarks::default(),
        })
    }

    /// A copy with another identifier and name, to set a variant apart from its origin.
    ///
    /// # Errors
    /// [`ErrorKind::Data`] for an id that is not lower-case words joined by hyphens.
    pub fn renamed(&self, id: &str, name: &str) -> Result<Self, Error> {
        check_id(id)?;
        Ok(Material { id: id.to_owned(), name: name.to_owned(), ..self.clone() })
    }

    /// A copy of another category.
    #[must_use]
    pub fn with_category(&self, category: Category) -> Self {
        Material { category, ..self.clone() }
    }

    /// A copy with another grade.
    #[must_use]
    pub fn with_grade(&self, grade: Grade) -> Self {
        Material { grade, ..self.clone() }
    }

    /// A copy with another conductivity, at the same reference temperature; range and temperature law keep their
    /// proportion to it.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] where the value or its range leaves 1e-4 to 2500 W/(m K).
    pub fn with_conductivity(&self, value: ThermalConductivity) -> Result<Self, Error> {
        self.with_conductivity_parts(|parts| rescale(parts, value))
    }

    /// A copy with another range of conductivity, at the reference temperature of its value.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] unless `low` <= value <= `high`; [`ErrorKind::OutOfRange`] outside 1e-4 to 2500
    /// W/(m K).
    pub fn with_conductivity_range(&self, low: ThermalConductivity, high: ThermalConductivity) -> Result<Self, Error> {
        self.with_conductivity_parts(|parts| Ok(Parts { low, high, ..parts }))
    }

    /// A copy whose conductivity follows `points`, the value being that at `reference`.
    ///
    /// # Errors
    /// As [`PropertyLaw::table`]; [`ErrorKind::Inconsistent`] where the table misses the value by more than 8 %.
    pub fn with_conductivity_table(
        &self,
        reference: Temperature,
        points: &[(Temperature, ThermalConductivity)],
    ) -> Result<Self, Error> {
        self.with_conductivity_parts(|parts| with_law(parts, reference, table(points)?))
    }

    /// A copy whose conductivity rises by `slope` per kelvin between `from` and `to`, the value being that at
    /// `reference`.
    ///
    /// # Errors
    /// As [`PropertyLaw::linear`].
    pub fn with_conductivity_slope(
        &self,
        reference: Temperature,
        slope: ThermalConductivity,
        from: Temperature,
        to: Temperature,
    ) -> Result<Self, Error> {
        let value = self.conductivity.value().si();
        let law = PropertyLaw::linear(reference.si(), value, slope.si(), from.si(), to.si());
        self.with_conductivity_parts(|parts| with_law(parts, reference, law?))
    }

    /// A copy with another density; its range keeps its proportion to it.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] where the value or its range leaves 0.05 to 23 000 kg/m3.
    pub fn with_density(&self, value: MassDensity) -> Result<Self, Error> {
        let density = changed(&self.density, |parts| rescale(parts, value)).within("density").within(&self.id)?;
        Ok(Material { density, ..self.clone() })
    }

    /// A copy with another range of density.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] unless `low` <= value <= `high`; [`ErrorKind::OutOfRange`] outside 0.05 to
    /// 23 000 kg/m3.
    pub fn with_density_range(&self, low: MassDensity, high: MassDensity) -> Result<Self, Error> {
        let density = changed(&self.density, |parts| Ok(Parts { low, high, ..parts }));
        Ok(Material { density: density.within("density").within(&self.id)?, ..self.clone() })
    }

    /// A copy with another heat capacity, at the same reference temperature; range and temperature law keep their
    /// proportion to it.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] where the value or its range leaves 50 to 20 000 J/(kg K).
    pub fn with_heat_capacity(&self, value: SpecificHeatCapacity) -> Result<Self, Error> {
        let heat_capacity = changed(&self.heat_capacity, |parts| rescale(parts, value));
        Ok(Material { heat_capacity: heat_capacity.within("heat capacity").within(&self.id)?, ..self.clone() })
    }

    /// A copy with another range of heat capacity.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] unless `low` <= value <= `high`; [`ErrorKind::OutOfRange`] outside 50 to 20 000
    /// J/(kg K).
    pub fn with_heat_capacity_range(
        &self,
        low: SpecificHeatCapacity,
        high: SpecificHeatCapacity,
    ) -> Result<Self, Error> {
        let heat_capacity = changed(&self.heat_capacity, |parts| Ok(Parts { low, high, ..parts }));
        Ok(Material { heat_capacity: heat_capacity.within("heat capacity").within(&self.id)?, ..self.clone() })
    }

    /// A copy whose heat capacity follows `points`, the value being that at `reference`.
    ///
    /// # Errors
    /// As [`PropertyLaw::table`]; [`ErrorKind::Inconsistent`] where the table misses the value by more than 8 %.
    pub fn with_heat_capacity_table(
        &self,
        reference: Temperature,
        points: &[(Temperature, SpecificHeatCapacity)],
    ) -> Result<Self, Error> {
        let heat_capacity = changed(&self.heat_capacity, |parts| with_law(parts, reference, table(points)?));
        Ok(Material { heat_capacity: heat_capacity.within("heat capacity").within(&self.id)?, ..self.clone() })
    }

    /// A copy whose ordinary surface, named `surface`, has the emissivity `value` within `low` to `high`. Surfaces of
    /// another name stay behind it.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] outside 0.01 to 1; [`ErrorKind::Inconsistent`] unless `low` <= value <= `high`.
    pub fn with_emissivity(&self, surface: &str, value: Ratio, low: Ratio, high: Ratio) -> Result<Self, Error> {
        let parts = Parts { low, high, ..Parts::given(value) };
        let property = emissivity(parts).within(format!("emissivity of {surface}")).within(&self.id)?;
        let mut emissivities = vec![Emissivity { surface: surface.to_owned(), property }];
        emissivities.extend(self.emissivities.iter().filter(|other| other.surface != surface).cloned());
        Ok(Material { emissivities, ..self.clone() })
    }

    /// A copy whose highest continuous temperature is `continuous`.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] outside 1 to 3500 K.
    pub fn with_service_temperature(&self, continuous: Temperature) -> Result<Self, Error> {
        check_temperature("service temperature", continuous).within(&self.id)?;
        let limit = ServiceTemperature { continuous, brief: None, evidence: Evidence::given() };
        Ok(Material { service_temperature: Some(limit), ..self.clone() })
    }

    fn with_conductivity_parts(
        &self,
        change: impl FnOnce(Parts<ThermalConductivity>) -> Result<Parts<ThermalConductivity>, Error>,
    ) -> Result<Self, Error> {
        let conductivity = changed(&self.conductivity, change).within("conductivity").within(&self.id)?;
        Ok(Material { conductivity, ..self.clone() })
    }
}

/// What the caller changes is the caller's: the numbers seen no longer speak for it.
fn changed<Q: Physical>(
    property: &Property<Q>,
    change: impl FnOnce(Parts<Q>) -> Result<Parts<Q>, Error>,
) -> Result<Property<Q>, Error> {
    let changed = change(Parts::of(property))?;
    Parts { evidence: Evidence::given(), seen: Vec::new(), ..changed }.build()
}

fn rescale<Q: Physical>(parts: Parts<Q>, value: Q) -> Result<Parts<Q>, Error> {
    // First the value alone, so that an error names what the caller gave.
    in_range("value", value, Q::from_si(Q::ACCEPTED.0), Q::from_si(Q::ACCEPTED.1))?;
    let factor = value.si() / parts.value.si();
    let scaled = |end: Q| Q::from_si(end.si() * factor);
    let law = parts.law.map(|law| law.scaled(factor)).transpose()?;
    // At a factor of 1 the ends stay where they are; rounding must not push one past the value.
    let low = Q::from_si(scaled(parts.low).si().min(value.si()));
    let high = Q::from_si(scaled(parts.high).si().max(value.si()));
    Ok(Parts { value, low, high, law, ..parts })
}

fn with_law<Q: Physical>(parts: Parts<Q>, reference: Temperature, law: PropertyLaw) -> Result<Parts<Q>, Error> {
    Ok(Parts {
        reference: Some(reference),
        law: Some(law),
        law_evidence: Some(Evidence::given()),
        law_uncertainty: None,
        ..parts
    })
}

fn table<Q: Physical>(points: &[(Temperature, Q)]) -> Result<PropertyLaw, Error> {
    let plain: Vec<(f64, f64)> = points.iter().map(|(temperature, value)| (temperature.si(), value.si())).collect();
    PropertyLaw::table(&plain)
}

/// An emissivity: more narrowly bounded than a ratio.
pub(crate) fn emissivity(parts: Parts<Ratio>) -> Result<Property<Ratio>, Error> {
    number_in_range("high", parts.high.si(), 0.01, 1.0)?;
    parts.build()
}

/// A vapour resistance factor: more narrowly bounded than a ratio.
pub(crate) fn vapour_resistance_factor(parts: Parts<Ratio>) -> Result<Property<Ratio>, Error> {
    number_in_range("low", parts.low.si(), 1.0, 1e8)?;
    parts.build()
}

pub(crate) fn check_temperature(name: &str, temperature: Temperature) -> Result<(), Error> {
    let (least, most) = (Temperature::from_si(TEMPERATURES.0), Temperature::from_si(TEMPERATURES.1));
    in_range(name, temperature, least, most).map(|_| ())
}

/// Lower-case words of letters and digits, joined by hyphens.
pub(crate) fn check_id(id: &str) -> Result<(), Error> {
    let is_word = |word: &str| !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit());
    if id.split('-').all(is_word) && id != "sources" {
        return Ok(());
    }
    Err(Error::new(ErrorKind::Data, "is no identifier of a material")
        .with_value(format!("{id:?}"))
        .with_accepted("lower-case words joined by hyphens, for example spelt-chaff"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{
        celsius, fraction, joules_per_kilogram_kelvin, kilograms_per_cubic_metre, watts_per_metre_kelvin,
    };

    fn chaff() -> Material {
        Material::custom(
            "spelt-chaff",
            watts_per_metre_kelvin(0.055),
            kilograms_per_cubic_metre(90.0),
            joules_per_kilogram_kelvin(1700.0),
        )
        .unwrap()
    }

    #[test]
    fn three_numbers_make_a_material() {
        let chaff = chaff();
        assert_eq!((chaff.id(), chaff.name(), chaff.grade()), ("spelt-chaff", "spelt chaff", Grade::C));
        assert!(chaff.conductivity_law().is_constant());
        assert_eq!(chaff.conductivity().low(), chaff.conductivity().high());
        assert!(chaff.emissivity().is_none() && chaff.service_temperature().is_none());
    }

    #[test]
    fn laws_and_ranges_can_be_added() {
        let sloped = chaff()
            .with_conductivity_range(watts_per_metre_kelvin(0.045), watts_per_metre_kelvin(0.07))
            .unwrap()
            .with_conductivity_slope(celsius(10.0), watts_per_metre_kelvin(2e-4), celsius(0.0), celsius(80.0))
            .unwrap()
            .with_heat_capacity_table(
                celsius(20.0),
                &[
                    (celsius(0.0), joules_per_kilogram_kelvin(1650.0)),
                    (celsius(40.0), joules_per_kilogram_kelvin(1750.0)),
                ],
            )
            .unwrap();
        assert!((sloped.conductivity().at(celsius(60.0)).si() - 0.065).abs() < 1e-12);
        assert!((sloped.conductivity().low_law().at(333.15) - 0.065 * 0.045 / 0.055).abs() < 1e-12);
        assert!((sloped.heat_capacity_law().at(313.15) - 1750.0).abs() < 1e-9);

        let halved = sloped.with_conductivity(watts_per_metre_kelvin(0.0275)).unwrap();
        assert!((halved.conductivity().high().si() - 0.035).abs() < 1e-12);
        assert!((halved.conductivity().at(celsius(60.0)).si() - 0.0325).abs() < 1e-12);
        let doubled = sloped.with_heat_capacity(joules_per_kilogram_kelvin(3400.0)).unwrap();
        assert!((doubled.heat_capacity_law().at(313.15) - 3500.0).abs() < 1e-9);
        assert_eq!(doubled.conductivity(), sloped.conductivity());
    }

    #[test]
    fn surfaces_are_put_in_front() {
        let steel = Material::named("stainless-steel-304").unwrap();
        let sooty = steel.with_emissivity("sooty", fraction(0.95), fraction(0.9), fraction(0.97)).unwrap();
        assert_eq!(sooty.emissivity().unwrap().surface(), "sooty");
        assert_eq!(sooty.emissivities().len(), steel.emissivities().len() + 1);
        let error = steel.with_emissivity("sooty", fraction(1.2), fraction(0.9), fraction(1.3)).unwrap_err();
        assert_eq!(error.path(), "stainless-steel-304, emissivity of sooty, high");
    }

    #[test]
    fn wrong_numbers_are_refused_with_their_place() {
        let error = chaff().with_conductivity(watts_per_metre_kelvin(f64::NAN)).unwrap_err();
        assert_eq!(error.path(), "spelt-chaff, conductivity, value");
        let error = chaff().with_density(kilograms_per_cubic_metre(-1.0)).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::OutOfRange);
        let error = chaff().with_service_temperature(celsius(f64::INFINITY)).unwrap_err();
        assert_eq!(error.path(), "spelt-chaff, service temperature");
        for id in ["", "Chaff", "a--b", "-a", "a b", "sources", "café"] {
            assert_eq!(chaff().renamed(id, "x").unwrap_err().kind(), ErrorKind::Data, "{id}");
        }
    }
}
