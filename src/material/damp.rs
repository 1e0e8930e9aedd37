//! What damp does to fibre: its conductivity times a factor with a range.

use super::catalogue::Catalogue;
use super::description::Material;
use super::property::{Parts, Property};
use super::provenance::{Evidence, Grade, Mark};
use crate::error::{Error, ErrorKind, Within};
use crate::units::bounds::number_in_range;
use crate::units::{Ratio, Si, ThermalConductivity};

/// Factors that are accepted: water can only make fibre conduct better, and water itself conducts some fifteen times
/// better than dry fibre.
const FACTORS: (f64, f64) = (1.0, 20.0);

impl Material {
    /// How many times better it conducts when damp (1 to 20, with range and provenance), where that is known. Known of
    /// wool, wadding, hay and straw, paper and cellulose; of a damp material it is the factor that was applied.
    ///
    /// Damp means what fibre takes up from steam and moist air over some meals, not soaked. Most factors are estimates;
    /// the few that were measured, near room temperature, do not contain the vapour that moves through hot damp fibre,
    /// for which the high ends allow by estimate.
    pub fn damp_factor(&self) -> Option<&Property<Ratio>> {
        self.damp_factor.as_ref()
    }

    /// Whether it is the damp variant of a material.
    pub fn is_damp(&self) -> bool {
        self.is_damp
    }

    /// The same material, damp: conductivity, its range and its temperature law times
    /// [`damp_factor`](Self::damp_factor), low by low and high by high. Heat capacity and density stay those of the
    /// dry material.
    ///
    /// ```
    /// use stillhot::material::Material;
    ///
    /// let (dry, damp) = (Material::named("hay-loose")?, Material::named("hay-loose")?.damp()?);
    /// assert!(damp.conductivity().low() > dry.conductivity().low());
    /// assert_eq!(damp.id(), "hay-loose-damp");
    /// assert!(Material::named("extruded-polystyrene")?.damp().is_err());
    /// # Ok::<(), stillhot::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] where no factor is known, with the materials of which it is, and for a material that
    /// is damp already; [`ErrorKind::OutOfRange`] where the range leaves 1e-4 to 2500 W/(m K).
    pub fn damp(&self) -> Result<Self, Error> {
        if self.is_damp {
            return Err(self.damp_already());
        }
        let Some(factor) = &self.damp_factor else {
            let known: Vec<&str> =
                Catalogue::embedded().iter().filter(|m| m.damp_factor.is_some()).map(Self::id).collect();
            return Err(Error::new(ErrorKind::Inconsistent, "nothing is known of what damp does to this material")
                .with_value(self.id())
                .with_accepted(format!("{}, or a material with a damp factor of its own", known.join(", "))));
        };
        let conductivity = times(&self.conductivity, factor).within("conductivity").within(&self.id)?;
        let least = if factor.evidence().mark() == Mark::Read { Grade::B } else { Grade::C };
        Ok(Material {
            id: format!("{}-damp", self.id),
            name: format!("{}, damp", self.name),
            grade: self.grade.max(least),
            conductivity,
            is_damp: true,
            ..self.clone()
        })
    }

    /// A copy of the dry material that conducts `value` times better when damp, within `low` to `high`.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] outside 1 to 20; [`ErrorKind::Inconsistent`] unless `low` <= value <= `high`, and for a
    /// material that is damp already.
    pub fn with_damp_factor(&self, value: Ratio, low: Ratio, high: Ratio) -> Result<Self, Error> {
        if self.is_damp {
            return Err(self.damp_already());
        }
        let factor = damp_factor(Parts { low, high, ..Parts::given(value) }).within("damp factor").within(&self.id)?;
        Ok(Material { damp_factor: Some(factor), ..self.clone() })
    }

    fn damp_already(&self) -> Error {
        Error::new(ErrorKind::Inconsistent, "is damp already").with_value(self.id()).with_accepted("a dry material")
    }
}

/// A factor for damp: more narrowly bounded than a ratio.
pub(crate) fn damp_factor(parts: Parts<Ratio>) -> Result<Property<Ratio>, Error> {
    number_in_range("low", parts.low.si(), FACTORS.0, FACTORS.1)?;
    number_in_range("high", parts.high.si(), FACTORS.0, FACTORS.1)?;
    parts.build()
}

fn times(
    dry: &Property<ThermalConductivity>,
    factor: &Property<Ratio>,
) -> Result<Property<ThermalConductivity>, Error> {
    let product = |one: ThermalConductivity, other: Ratio| ThermalConductivity::from_si(one.si() * other.si());
    let parts = Parts::of(dry);
    let best = factor.value().si();
    let mut sources = dry.evidence().sources().to_vec();
    sources.extend(factor.evidence().sources().iter().filter(|key| !dry.evidence().sources().contains(key)).cloned());
    Parts {
        value: product(dry.value(), factor.value()),
        low: product(dry.low(), factor.low()),
        high: product(dry.high(), factor.high()),
        law: parts.law.map(|law| law.scaled(best)).transpose()?,
        evidence: Evidence {
            mark: Mark::Computed,
            derived: true,
            sources,
            note: Some("conductivity of the dry material times its factor for damp".to_owned()),
        },
        // What was seen was seen of the dry material.
        seen: Vec::new(),
        ..parts
    }
    .build()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{fraction, joules_per_kilogram_kelvin, kilograms_per_cubic_metre, watts_per_metre_kelvin};

    #[test]
    fn every_damp_material_is_the_dry_one_times_its_factor() {
        let mut count = 0;
        for dry in Catalogue::embedded().iter().filter(|material| material.damp_factor().is_some()) {
            let (damp, factor) = (dry.damp().unwrap(), dry.damp_factor().unwrap());
            let near = |one: f64, other: f64| assert!((one / other - 1.0).abs() < 1e-12, "{}: {one} {other}", dry.id());
            let (k, wet) = (dry.conductivity(), damp.conductivity());
            near(wet.value().si(), k.value().si() * factor.value().si());
            near(wet.low().si(), k.low().si() * factor.low().si());
            near(wet.high().si(), k.high().si() * factor.high().si());
            for kelvin in [273.15, 323.15, 363.15] {
                near(wet.law().at(kelvin), k.law().at(kelvin) * factor.value().si());
                near(wet.low_law().at(kelvin), k.low_law().at(kelvin) * factor.low().si());
                near(wet.high_law().at(kelvin), k.high_law().at(kelvin) * factor.high().si());
            }
            assert!(wet.low() > k.low(), "{}: damp is worse at every end", dry.id());
            assert_eq!((damp.heat_capacity(), damp.density()), (dry.heat_capacity(), dry.density()));
            assert_eq!(wet.evidence().mark(), Mark::Computed);
            assert!(damp.is_damp() && !dry.is_damp() && damp.grade() >= Grade::B);
            assert_eq!((damp.id(), damp.name()), (&*format!("{}-damp", dry.id()), &*format!("{}, damp", dry.name())));
            count += 1;
        }
        assert!(count >= 12, "{count}");
    }

    /// What was measured lies inside. Loose cellulose: 0.040 and 0.066 W/(m K) at 0 and 5 % water by volume (guideline
    /// pages of the RIBuild research project, 2020: READ). Wool batts: less than 5 % rise for 20 % more moisture by mass
    /// (Ye, Wells, Carrington, Hewitt, Int. J. Energy Research 30, 37, 2006, abstract: READ). Straw: 0.045 to 0.06 dry,
    /// 0.054 to 0.072 air-dry (Gurskis and Juodis, as quoted on a page: READ).
    #[test]
    fn published_figures_lie_inside() {
        let factor = |id: &str| Material::named(id).unwrap().damp_factor().unwrap().clone();
        let cellulose = factor("cellulose-fibre-loose");
        assert!((cellulose.value().si() - 0.066 / 0.040).abs() < 1e-9);
        let wool = factor("sheep-wool-batt");
        assert!(wool.low().si() > 1.0 && wool.value().si() <= 1.05 && wool.high().si() >= 1.05);
        for id in ["straw-bale-across", "straw-bale-along", "straw-loose-chopped"] {
            let straw = factor(id);
            assert!((straw.low().si() - 0.054 / 0.045).abs() < 1e-9 && straw.high() > straw.value(), "{id}");
        }
    }

    #[test]
    fn what_is_not_known_is_refused_by_name() {
        let error = Material::named("extruded-polystyrene").unwrap().damp().unwrap_err();
        assert_eq!((error.kind(), error.value()), (ErrorKind::Inconsistent, Some("extruded-polystyrene")));
        for id in ["sheep-wool-batt", "hay-loose", "cellulose-fibre-loose", "newspaper-crumpled"] {
            assert!(error.accepted().unwrap().contains(id), "{error}");
        }
        let damp = Material::named("hay-loose").unwrap().damp().unwrap();
        assert_eq!(damp.damp().unwrap_err().value(), Some("hay-loose-damp"));
        assert!(damp.with_damp_factor(fraction(2.0), fraction(1.5), fraction(3.0)).is_err());
    }

    #[test]
    fn a_factor_of_ones_own() {
        let chaff = Material::custom(
            "spelt-chaff",
            watts_per_metre_kelvin(0.055),
            kilograms_per_cubic_metre(90.0),
            joules_per_kilogram_kelvin(1700.0),
        )
        .unwrap();
        assert_eq!(chaff.damp().unwrap_err().kind(), ErrorKind::Inconsistent);
        let own = chaff.with_damp_factor(fraction(1.5), fraction(1.2), fraction(2.0)).unwrap().damp().unwrap();
        assert!((own.conductivity().high().si() - 0.11).abs() < 1e-12 && own.grade() == Grade::C);
        for [value, low, high] in [[1.5, 0.9, 2.0], [1.5, 1.2, 21.0], [1.1, 1.2, 2.0], [f64::NAN, 1.2, 2.0]] {
            let wrong = chaff.with_damp_factor(Ratio::from_si(value), Ratio::from_si(low), Ratio::from_si(high));
            assert!(wrong.unwrap_err().path().starts_with("spelt-chaff, damp factor"));
        }
    }
}
