//! Second bodies in the box.

use super::layers::material;
use super::leaf::{Findings, Leaf, about, each};
use crate::document::Section;
use crate::error::{Error, ErrorKind};
use crate::material::{Catalogue, Material};
use crate::setup::Companion;
use crate::units::bounds::positive;
use crate::units::{Area, HeatCapacity, Mass, Si, Temperature, celsius, joules_per_kelvin, kilograms, square_metres};

const COMPANION: [&str; 6] = ["name", "heat-capacity", "material", "mass", "start", "surface"];
const HEAT: &str = "heat-capacity = \"1800 J/K\", or material = \"water-liquid\" and mass = \"1 kg\"";

/// Every second body of the case; every finding noted.
pub(super) fn companions(root: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Vec<Companion>> {
    let Some(list) = root.get("companion") else { return Some(Vec::new()) };
    each(&list, findings, |item, findings| {
        let section = findings.keep(item.section())?;
        companion(&section, catalogue, findings)
    })
}

fn companion(section: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Companion> {
    findings.refuse_unknown(section, &COMPANION);
    let name = Leaf::optional(findings, section, "name", |item| {
        let name = item.text()?;
        if name.trim().is_empty() {
            let error = Error::new(ErrorKind::Data, "is empty").with_value(format!("{name:?}"));
            return Err(item.place(error.with_accepted("what it is called")));
        }
        Ok(name)
    });
    let name = name.required(findings, section, "name", "name = \"soapstone\"");
    let usual = (joules_per_kelvin(1e3), celsius(20.0), square_metres(0.05));
    let check = |capacity, start, surface| Companion::new("body", capacity, start, surface).check();
    let capacity = capacity(section, catalogue, findings);
    let start: Leaf<Temperature> = Leaf::required_quantity(findings, section, "start");
    let start = start.checked(findings, |start| check(usual.0, *start, usual.2));
    let surface: Leaf<Area> = Leaf::required_quantity(findings, section, "surface");
    let surface = surface.checked(findings, |surface| check(usual.0, usual.1, *surface));
    Some(Companion::new(name.given()?, capacity?, *start.given()?, *surface.given()?))
}

/// The heat capacity, as given or by what it is made of.
fn capacity(section: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<HeatCapacity> {
    let usual = (celsius(20.0), square_metres(0.05));
    let capacity: Leaf<HeatCapacity> = Leaf::quantity(findings, section, "heat-capacity");
    let capacity = capacity.checked(findings, |capacity| {
        about("heat capacity", Companion::new("body", *capacity, usual.0, usual.1).check())
    });
    let of: Leaf<Material> = material(section, "material", catalogue, findings);
    let mass: Leaf<Mass> = Leaf::quantity(findings, section, "mass");
    let mass = mass.checked(findings, |mass| positive("mass", *mass, kilograms(200.0)).map(|_| ()));
    let made = !of.is_absent() || !mass.is_absent();
    match (capacity.is_absent(), made) {
        (false, true) => {
            findings.given_twice(section, "the heat capacity is given twice", HEAT);
            None
        }
        (false, false) => capacity.given().copied(),
        (true, false) => {
            findings.keep(section.require("heat-capacity", HEAT));
            None
        }
        (true, true) => {
            let of = of.required(findings, section, "material", "material = \"granite-soapstone\"");
            let mass = mass.required(findings, section, "mass", "mass = \"2 kg\"");
            Some(HeatCapacity::from_si(of.given()?.heat_capacity().value().si() * mass.given()?.si()))
        }
    }
}
