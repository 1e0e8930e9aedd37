//! Several materials stirred together: properties by mass and by volume.

use super::composition::Composition;
use super::description::{Material, Remarks};
use super::law::PropertyLaw;
use super::property::{Parts, Physical, Property};
use super::provenance::{Evidence, Mark};
use crate::error::{Error, ErrorKind, Within};
use crate::units::{MassDensity, Ratio, Si, SpecificHeatCapacity, Temperature, ThermalConductivity, celsius};

/// Where the laws of several materials are read, if any follows temperature.
const REFERENCE: f64 = 60.0;

impl Material {
    /// What comes of stirring materials together, each with its share of the mass; shares are taken as parts of their sum.
    ///
    /// Heat capacity goes by mass and density by volume, both exact for parts that do not dissolve in one another; so
    /// does the conductivity, by volume (Choi and Okos 1986, "Effects of temperature and composition on the thermal
    /// properties of foods"; from memory), which heat that has to pass the parts in turn stays below: at the low end of its
    /// range it is that of parts in series, at their low ends. The ranges of the parts are taken together, the low ends and
    /// the high ends.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] for no parts, [`ErrorKind::OutOfRange`] for a share that is not positive.
    pub(crate) fn mixed(id: &str, name: &str, parts: &[(&Material, f64)]) -> Result<Self, Error> {
        let Some((first, _)) = parts.first() else {
            return Err(Error::new(ErrorKind::Inconsistent, "nothing to mix").with_accepted("one material or more"));
        };
        if let Some((_, share)) = parts.iter().find(|(_, share)| !(*share > 0.0 && share.is_finite())) {
            return Err(Error::new(ErrorKind::OutOfRange, "a share of a mixture is out of range")
                .with_value(share.to_string())
                .with_accepted("a finite number above 0"));
        }
        let whole: f64 = parts.iter().map(|(_, share)| share).sum();
        let masses: Vec<f64> = parts.iter().map(|(_, share)| share / whole).collect();
        let volume = |of: fn(&Property<MassDensity>) -> MassDensity| -> f64 {
            parts.iter().zip(&masses).map(|((m, _), share)| share / of(m.density()).si()).sum()
        };
        let density: Vec<&Property<MassDensity>> = parts.iter().map(|(m, _)| m.density()).collect();
        let volumes: Vec<f64> = density
            .iter()
            .zip(&masses)
            .map(|(density, share)| share / density.value().si() / volume(Property::value))
            .collect();
        let heat: Vec<&Property<SpecificHeatCapacity>> = parts.iter().map(|(m, _)| m.heat_capacity()).collect();
        let conducting: Vec<&Property<ThermalConductivity>> = parts.iter().map(|(m, _)| m.conductivity()).collect();
        let heat_capacity = weighted(&heat, &masses)?.build().within("heat capacity").within(name)?;
        let mut conductivity = weighted(&conducting, &volumes)?;
        let series: f64 = conducting
            .iter()
            .zip(&volumes)
            .map(|(k, share)| share / (at_reference(k, conductivity.reference) * k.low().si() / k.value().si()))
            .sum();
        conductivity.low = ThermalConductivity::from_si(conductivity.low.si().min(1.0 / series));
        let density = Parts {
            low: MassDensity::from_si(1.0 / volume(Property::low)),
            high: MassDensity::from_si(1.0 / volume(Property::high)),
            evidence: together(density.iter().map(|property| property.evidence())),
            ..Parts::given(MassDensity::from_si(1.0 / volume(Property::value)))
        };
        Ok(Material {
            id: id.to_owned(),
            name: name.to_owned(),
            category: first.category(),
            grade: parts.iter().map(|(m, _)| m.grade()).max().unwrap_or(first.grade()),
            conductivity: conductivity.build().within("conductivity").within(name)?,
            density: density.build().within("density").within(name)?,
            heat_capacity,
            vapour_resistance_factor: None,
            damp_factor: None,
            is_damp: false,
            emissivities: Vec::new(),
            service_temperature: None,
            composition: composition(parts, &masses)?,
            remarks: Remarks::default(),
        })
    }
}

/// The value of a property where the mixture is read.
fn at_reference<Q: Physical + Copy>(property: &Property<Q>, reference: Option<Temperature>) -> f64 {
    reference.map_or(property.value().si(), |t| property.law().at(t.si()))
}

/// A property whose parts add up by their shares, with its law and its range.
fn weighted<Q: Physical + Copy>(parts: &[&Property<Q>], shares: &[f64]) -> Result<Parts<Q>, Error> {
    // Sums of straight pieces are straight between all their corners, and constant beyond the outermost ones.
    let mut corners: Vec<f64> =
        parts.iter().filter(|p| !p.law().is_constant()).flat_map(|p| p.law().points()).map(|(t, _)| t).collect();
    corners.sort_by(f64::total_cmp);
    corners.dedup();
    let sum = |of: &dyn Fn(&Property<Q>) -> f64| -> f64 { parts.iter().zip(shares).map(|(p, s)| s * of(p)).sum() };
    let reference = (!corners.is_empty()).then(|| celsius(REFERENCE));
    let here = |p: &Property<Q>| at_reference(p, reference);
    let value = sum(&here);
    let law = match reference {
        Some(_) => {
            let points: Vec<(f64, f64)> = corners.iter().map(|t| (*t, sum(&|p| p.law().at(*t)))).collect();
            Some(PropertyLaw::table(&points)?)
        }
        None => None,
    };
    let evidence = together(parts.iter().map(|property| property.evidence()));
    Ok(Parts {
        low: Q::from_si(sum(&|p| here(p) * (p.low().si() / p.value().si())).min(value)),
        high: Q::from_si(sum(&|p| here(p) * (p.high().si() / p.value().si())).max(value)),
        reference,
        law_evidence: law.is_some().then(|| evidence.clone()),
        law,
        evidence,
        ..Parts::given(Q::from_si(value))
    })
}

/// What a mixture rests on: the sources of all parts, with the weakest mark.
fn together<'a>(parts: impl Iterator<Item = &'a Evidence>) -> Evidence {
    let rank = |mark: Mark| match mark {
        Mark::Read => 0,
        Mark::Computed => 1,
        Mark::Given => 2,
        Mark::Memory => 3,
        Mark::Estimate => 4,
    };
    let mut all = Evidence { mark: Mark::Read, derived: true, sources: Vec::new(), note: None };
    for part in parts {
        if rank(part.mark()) > rank(all.mark) {
            all.mark = part.mark();
        }
        for source in part.sources() {
            if !all.sources.contains(source) {
                all.sources.push(source.clone());
            }
        }
    }
    all
}

/// The composition, where that of every part is known.
fn composition(parts: &[(&Material, f64)], masses: &[f64]) -> Result<Option<Composition>, Error> {
    let known: Option<Vec<&Composition>> = parts.iter().map(|(material, _)| material.composition()).collect();
    let Some(known) = known else { return Ok(None) };
    let sum = |of: fn(&Composition) -> Ratio| known.iter().zip(masses).map(|(c, share)| share * of(c).si()).sum();
    let fractions = [
        sum(Composition::water),
        sum(Composition::protein),
        sum(Composition::fat),
        sum(Composition::carbohydrate),
        sum(Composition::fibre),
        sum(Composition::ash),
    ];
    Composition::new(fractions, together(known.iter().map(|c| c.evidence()))).map(Some)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{joules_per_kilogram_kelvin, kilograms_per_cubic_metre, watts_per_metre_kelvin};

    fn food(id: &str, k: f64, density: f64, heat: f64) -> Material {
        Material::custom(
            id,
            watts_per_metre_kelvin(k),
            kilograms_per_cubic_metre(density),
            joules_per_kilogram_kelvin(heat),
        )
        .unwrap()
    }

    /// One kilogram of 800 kg/m3 and three of 1200 kg/m3 are 3.75 litres, a third of them the first (by hand).
    #[test]
    fn mass_and_volume_add_up() {
        let (light, heavy) = (food("light", 0.2, 800.0, 2000.0), food("heavy", 0.5, 1200.0, 4000.0));
        let mix = Material::mixed("both", "both", &[(&light, 1.0), (&heavy, 3.0)]).unwrap();
        assert!((mix.heat_capacity().value().si() - 3500.0).abs() < 1e-9);
        assert!((mix.density().value().si() - 4.0 / 3.75e-3).abs() < 1e-9);
        assert!((mix.conductivity().value().si() - (0.2 / 3.0 + 1.0 / 3.0)).abs() < 1e-12);
        let series = 1.0 / ((1.0 / 3.0) / 0.2 + (2.0 / 3.0) / 0.5);
        assert!((mix.conductivity().low().si() - series).abs() < 1e-12);
        assert_eq!(mix.conductivity().high(), mix.conductivity().value());
        assert!(Material::mixed("none", "none", &[]).is_err());
        assert!(Material::mixed("none", "none", &[(&light, 0.0)]).is_err());
    }

    /// A material mixed with itself is itself, with its laws and its ranges.
    #[test]
    fn a_mixture_of_one_food_is_that_food() {
        for id in ["water-liquid", "thick-stew", "vegetable-oil"] {
            let one = Material::named(id).unwrap();
            let mix = Material::mixed("same", "same", &[(&one, 0.3), (&one, 0.7)]).unwrap();
            let near = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-12;
            for t in [280.0, 310.0, 350.0, 400.0] {
                assert!(near(mix.heat_capacity().law().at(t), one.heat_capacity().law().at(t)), "{id} at {t}");
                assert!(near(mix.heat_capacity().low_law().at(t), one.heat_capacity().low_law().at(t)), "{id} at {t}");
                assert!(near(mix.conductivity().low_law().at(t), one.conductivity().low_law().at(t)), "{id} at {t}");
                assert!(near(mix.conductivity().high_law().at(t), one.conductivity().high_law().at(t)), "{id} at {t}");
            }
            assert!(near(mix.density().value().si(), one.density().value().si()));
            assert_eq!(mix.conductivity().evidence().mark(), one.conductivity().evidence().mark());
        }
    }
}
