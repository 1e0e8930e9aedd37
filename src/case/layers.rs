//! A wall as a list of layers and contacts.

use super::leaf::{Findings, Leaf, without_path};
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::material::{Catalogue, Material};
use crate::units::{Length, ThermalInsulance};
use crate::wall::{Contact, Layer, Wall};

/// How a list of layers may look.
pub(super) const LAYERS: &str = "[{ material = \"...\", thickness = \"50 mm\" }, ...] from the inside to the outside";
const ENTRY: &str = "{ material = \"...\", thickness = \"50 mm\" }, or between two layers { gap = \"1 mm\" } or \
                     { resistance = \"0.02 m2 K/W\" }";

enum Entry {
    Layer(Box<Layer>),
    Contact(Contact),
}

/// The flat wall that a list describes; every finding noted.
pub(super) fn wall(list: &Item<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Wall> {
    let items = findings.keep(list.list())?;
    // What each entry is, as far as it can be told; a wrong one is still a layer or a contact.
    let kinds: Vec<Option<bool>> = items.iter().map(is_contact).collect();
    let is_layer = |at: Option<usize>| at.and_then(|at| kinds.get(at)).is_some_and(|kind| *kind != Some(true));
    let mut entries = Vec::new();
    for (at, item) in items.iter().enumerate() {
        let mut entry = entry(item, catalogue, findings);
        if kinds[at] == Some(true) && !(is_layer(at.checked_sub(1)) && is_layer(Some(at + 1))) {
            let error = Error::new(ErrorKind::Inconsistent, "the contact does not lie between two layers");
            findings.add(item.place(error.with_accepted("a layer before it and a layer after it")));
            entry = None;
        }
        entries.push(entry);
    }
    if !(0..items.len()).any(|at| is_layer(Some(at))) {
        let error = Error::new(ErrorKind::Inconsistent, "a wall needs at least one layer");
        findings.add(list.place(error.with_accepted(LAYERS)));
        return None;
    }
    let entries: Vec<Entry> = entries.into_iter().collect::<Option<_>>()?;
    let wall = entries.into_iter().fold(Wall::planar(), |wall, entry| match entry {
        Entry::Layer(layer) => wall.layer(*layer),
        Entry::Contact(contact) => wall.contact(contact),
    });
    findings.keep(wall.build().map_err(|error| list.place(without_path(&error))))
}

/// Whether an entry is a contact; `None` where its keys do not tell.
fn is_contact(item: &Item<'_>) -> Option<bool> {
    let section = item.section().ok()?;
    let has = |key: &str| section.get(key).is_some();
    match (has("material") || has("thickness"), has("gap") || has("resistance")) {
        (true, _) => Some(false),
        (false, true) => Some(true),
        (false, false) => None,
    }
}

fn entry(item: &Item<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Entry> {
    let section = findings.keep(item.section())?;
    match is_contact(item) {
        Some(false) => {
            findings.refuse_unknown(&section, &["material", "thickness"]);
            layer(&section, catalogue, findings).map(|layer| Entry::Layer(Box::new(layer)))
        }
        Some(true) => {
            findings.refuse_unknown(&section, &["gap", "resistance"]);
            contact(&section, findings).map(Entry::Contact)
        }
        None => {
            let error = Error::new(ErrorKind::Data, "is neither a layer nor a contact").with_accepted(ENTRY);
            findings.add(item.place(error));
            None
        }
    }
}

pub(super) fn layer(section: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Layer> {
    let material = material(section, "material", catalogue, findings).required(
        findings,
        section,
        "material",
        "material = \"the identifier of a material\"",
    );
    // Thickness is checked whatever the material: any other stands in for one that is not known.
    let thickness: Leaf<Length> = Leaf::required_quantity(findings, section, "thickness");
    let stand_in = material.given().or_else(|| catalogue.iter().next());
    let thickness = thickness.checked(findings, |thickness| match stand_in {
        Some(stand_in) => Layer::new(stand_in.clone(), *thickness).map(|_| ()),
        None => Ok(()),
    });
    findings.keep(Layer::new(material.given()?.clone(), *thickness.given()?))
}

pub(super) fn contact(section: &Section<'_>, findings: &mut Findings) -> Option<Contact> {
    let gap: Leaf<Length> = Leaf::quantity(findings, section, "gap");
    let gap = gap.checked(findings, |gap| Contact::Gap(*gap).check());
    let resistance: Leaf<ThermalInsulance> = Leaf::quantity(findings, section, "resistance");
    let resistance = resistance.checked(findings, |resistance| Contact::Resistance(*resistance).check());
    if !gap.is_absent() && !resistance.is_absent() {
        let error = Error::new(ErrorKind::Inconsistent, "a contact has a gap or a resistance, not both");
        findings.add(section.place(error.with_accepted("gap or resistance")));
        return None;
    }
    gap.given().map(|gap| Contact::Gap(*gap)).or(resistance.given().map(|r| Contact::Resistance(*r)))
}

/// A material by its identifier.
pub(super) fn material<'t>(
    section: &Section<'t>,
    key: &str,
    catalogue: &Catalogue,
    findings: &mut Findings,
) -> Leaf<'t, Material> {
    Leaf::optional(findings, section, key, |item| {
        catalogue.get(item.text()?).cloned().map_err(|error| item.place(error))
    })
}
