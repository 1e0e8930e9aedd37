//! A material: what a layer, a pot or a dish is made of.

use super::category::Category;
use super::composition::Composition;
use super::law::PropertyLaw;
use super::property::Property;
use super::provenance::{Evidence, Grade};
use crate::units::{MassDensity, Ratio, SpecificHeatCapacity, Temperature, ThermalConductivity};

/// A material with its properties, their ranges and their provenance.
///
/// From the embedded catalogue: [`Material::named`]; from a file of your own:
/// [`Catalogue::with_file`](super::Catalogue::with_file); from numbers: [`Material::custom`]. A material never changes;
/// the `with_` methods return a copy.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) category: Category,
    pub(crate) grade: Grade,
    pub(crate) conductivity: Property<ThermalConductivity>,
    pub(crate) density: Property<MassDensity>,
    pub(crate) heat_capacity: Property<SpecificHeatCapacity>,
    pub(crate) vapour_resistance_factor: Option<Property<Ratio>>,
    pub(crate) damp_factor: Option<Property<Ratio>>,
    /// Whether the conductivity contains the factor for damp.
    pub(crate) is_damp: bool,
    pub(crate) emissivities: Vec<Emissivity>,
    pub(crate) service_temperature: Option<ServiceTemperature>,
    pub(crate) composition: Option<Composition>,
    pub(crate) remarks: Remarks,
}

/// Remarks in words; each may be absent.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Remarks {
    pub note: Option<String>,
    pub when_wet: Option<String>,
    pub when_pressed: Option<String>,
    pub caution: Option<String>,
}

/// The total hemispherical emissivity of one kind of surface of a material.
#[derive(Debug, Clone, PartialEq)]
pub struct Emissivity {
    pub(crate) surface: String,
    pub(crate) property: Property<Ratio>,
}

impl Emissivity {
    /// Which surface: "polished", "oxidised", "bright aluminium facing".
    pub fn surface(&self) -> &str {
        &self.surface
    }

    /// The emissivity, 0.01 to 1, with its range and provenance.
    pub fn property(&self) -> &Property<Ratio> {
        &self.property
    }

    /// The emissivity, 0.01 to 1.
    pub fn value(&self) -> Ratio {
        self.property.value()
    }
}

/// The highest temperature a material should see.
#[derive(Debug, Clone, PartialEq)]
pub struct ServiceTemperature {
    pub(crate) continuous: Temperature,
    pub(crate) brief: Option<Temperature>,
    pub(crate) evidence: Evidence,
}

impl ServiceTemperature {
    /// For hours on end, under light load.
    pub fn continuous(&self) -> Temperature {
        self.continuous
    }

    /// For minutes, where it is known.
    pub fn brief(&self) -> Option<Temperature> {
        self.brief
    }

    /// What the limit rests on. Most are recalled: check the data of the board at hand.
    pub fn evidence(&self) -> &Evidence {
        &self.evidence
    }
}

impl Material {
    /// The identifier, in lower-case words joined by hyphens.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// The name in words.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What kind of material it is.
    pub fn category(&self) -> Category {
        self.category
    }

    /// How well its data are founded, as a whole.
    pub fn grade(&self) -> Grade {
        self.grade
    }

    /// Thermal conductivity k (the standards write lambda), 1e-4 to 2500 W/(m K).
    pub fn conductivity(&self) -> &Property<ThermalConductivity> {
        &self.conductivity
    }

    /// Density, 0.05 to 23 000 kg/m3.
    pub fn density(&self) -> &Property<MassDensity> {
        &self.density
    }

    /// Specific heat capacity at constant pressure, 50 to 20 000 J/(kg K); without heats of melting.
    pub fn heat_capacity(&self) -> &Property<SpecificHeatCapacity> {
        &self.heat_capacity
    }

    /// Water-vapour resistance factor: how many times less vapour passes than through still air, 1 or more;
    /// 1 000 000 stands for vapour tight.
    pub fn vapour_resistance_factor(&self) -> Option<&Property<Ratio>> {
        self.vapour_resistance_factor.as_ref()
    }

    /// Emissivities by surface, the ordinary surface first; empty for gases.
    pub fn emissivities(&self) -> &[Emissivity] {
        &self.emissivities
    }

    /// The emissivity of the ordinary surface, where there is one.
    pub fn emissivity(&self) -> Option<&Emissivity> {
        self.emissivities.first()
    }

    /// The highest temperature it should see, where there is one.
    pub fn service_temperature(&self) -> Option<&ServiceTemperature> {
        self.service_temperature.as_ref()
    }

    /// What it consists of; foods only.
    pub fn composition(&self) -> Option<&Composition> {
        self.composition.as_ref()
    }

    /// A remark on the data.
    pub fn note(&self) -> Option<&str> {
        self.remarks.note.as_deref()
    }

    /// What moisture does to it.
    pub fn when_wet(&self) -> Option<&str> {
        self.remarks.when_wet.as_deref()
    }

    /// What pressure does to it.
    pub fn when_pressed(&self) -> Option<&str> {
        self.remarks.when_pressed.as_deref()
    }

    /// What to beware of: food contact, fumes, dust, fire. Recalled; it replaces no data sheet and no local rule.
    pub fn caution(&self) -> Option<&str> {
        self.remarks.caution.as_deref()
    }

    /// Conductivity by temperature: kelvin in, W/(m K) out.
    pub fn conductivity_law(&self) -> &PropertyLaw {
        self.conductivity.law()
    }

    /// Density by temperature: kelvin in, kg/m3 out.
    pub fn density_law(&self) -> &PropertyLaw {
        self.density.law()
    }

    /// Specific heat capacity by temperature: kelvin in, J/(kg K) out.
    pub fn heat_capacity_law(&self) -> &PropertyLaw {
        self.heat_capacity.law()
    }
}
