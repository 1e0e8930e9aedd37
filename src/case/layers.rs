//! A wall as a list of layers and contacts.

use super::leaf::{Findings, Leaf, without_path};
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::material::{Catalogue, Material};
use crate::units::{Angle, Length, ThermalInsulance, millimetres};
use crate::wall::{Airspace, Contact, Geometry, Layer, Wall};

/// How a list of layers may look.
pub(super) const LAYERS: &str = "[{ material = \"...\", thickness = \"50 mm\" }, ...] from the inside to the outside";
const ENTRY: &str = "{ material = \"...\", thickness = \"50 mm\" }, or between two layers { gap = \"1 mm\" }, \
                     { resistance = \"0.02 m2 K/W\" } or { airspace = \"20 mm\" }";

/// The entries of a list, before it is known how their wall lies.
#[derive(Debug, Clone)]
pub(super) struct Entries(Vec<Entry>);

#[derive(Debug, Clone)]
enum Entry {
    Layer(Box<Layer>),
    Contact(Contact),
    /// An airspace that did not say how it lies.
    Airspace(Airspace),
}

/// What an entry is, by its keys.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Layer,
    Contact,
    Airspace,
}

impl Entries {
    /// The entries of a list; every finding noted.
    pub(super) fn read(list: &Item<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Self> {
        let items = findings.keep(list.list())?;
        // What each entry is, as far as it can be told; a wrong one is still a layer or a contact.
        let kinds: Vec<Option<Kind>> = items.iter().map(kind).collect();
        let contact = |kind: Option<Kind>| matches!(kind, Some(Kind::Contact | Kind::Airspace));
        let is_layer = |at: Option<usize>| at.and_then(|at| kinds.get(at)).is_some_and(|kind| !contact(*kind));
        let mut entries = Vec::new();
        for (at, item) in items.iter().enumerate() {
            let mut entry = entry(item, kinds[at], catalogue, findings);
            if contact(kinds[at]) && !(is_layer(at.checked_sub(1)) && is_layer(Some(at + 1))) {
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
        entries.into_iter().collect::<Option<_>>().map(Entries)
    }

    /// The wall of them; an airspace that does not say how it lies faces so far above the level.
    pub(super) fn wall(&self, geometry: Geometry, facing: Angle) -> Result<Wall, Error> {
        let builder = self.0.iter().fold(Wall::of(geometry), |wall, entry| match entry {
            Entry::Layer(layer) => wall.layer(Layer::clone(layer)),
            Entry::Contact(contact) => wall.contact(*contact),
            Entry::Airspace(airspace) => wall.contact(Contact::Airspace(airspace.facing(facing))),
        });
        builder.build().map_err(|error| without_path(&error))
    }
}

/// What an entry is; `None` where its keys do not tell.
fn kind(item: &Item<'_>) -> Option<Kind> {
    let section = item.section().ok()?;
    let has = |keys: &[&str]| keys.iter().any(|key| section.get(key).is_some());
    if has(&["material", "thickness"]) {
        Some(Kind::Layer)
    } else if has(&["airspace"]) {
        Some(Kind::Airspace)
    } else {
        has(&["gap", "resistance"]).then_some(Kind::Contact)
    }
}

fn entry(item: &Item<'_>, kind: Option<Kind>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Entry> {
    let section = findings.keep(item.section())?;
    match kind {
        Some(Kind::Layer) => {
            findings.refuse_unknown(&section, &["material", "thickness", "damp"]);
            layer(&section, catalogue, findings).map(|layer| Entry::Layer(Box::new(layer)))
        }
        Some(Kind::Contact) => {
            findings.refuse_unknown(&section, &["gap", "resistance"]);
            contact(&section, findings).map(Entry::Contact)
        }
        Some(Kind::Airspace) => {
            findings.refuse_unknown(&section, &["airspace", "facing", "emissivities", "level-axis"]);
            airspace(&section, findings)
        }
        None => {
            let error = Error::new(ErrorKind::Data, "is neither a layer nor a contact").with_accepted(ENTRY);
            findings.add(item.place(error));
            None
        }
    }
}

fn airspace(section: &Section<'_>, findings: &mut Findings) -> Option<Entry> {
    let ordinary = Airspace::upright(millimetres(20.0));
    let thickness: Leaf<Length> = Leaf::required_quantity(findings, section, "airspace");
    let thickness = thickness.checked(findings, |thickness| Airspace::upright(*thickness).check());
    let facing: Leaf<Angle> = Leaf::quantity(findings, section, "facing");
    let facing = facing.checked(findings, |angle| ordinary.facing(*angle).check());
    let emissivities = Leaf::optional(findings, section, "emissivities", |item| {
        let (inner, outer) = item.pair()?;
        Ok((inner.ratio()?, outer.ratio()?))
    });
    let emissivities =
        emissivities.checked(findings, |(inner, outer)| ordinary.with_emissivities(*inner, *outer).check());
    let level = Leaf::optional(findings, section, "level-axis", |_| section.flag("level-axis"));
    if facing.is_wrong() || emissivities.is_wrong() || level.is_wrong() {
        return None;
    }
    let mut airspace = Airspace::upright(*thickness.given()?);
    if let Some((inner, outer)) = emissivities.given() {
        airspace = airspace.with_emissivities(*inner, *outer);
    }
    if level.given().is_some_and(|level| *level) {
        airspace = airspace.about_level_axis();
    }
    Some(match facing.given() {
        Some(angle) => Entry::Contact(Contact::Airspace(airspace.facing(*angle))),
        None => Entry::Airspace(airspace),
    })
}

fn layer(section: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Layer> {
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
    let damp = Leaf::optional(findings, section, "damp", |_| section.flag("damp"));
    let damp = damp.checked(findings, |damp| match material.given() {
        Some(material) if *damp => material.damp().map(|_| ()),
        _ => Ok(()),
    });
    if damp.is_wrong() {
        return None;
    }
    let layer = Layer::new(material.given()?.clone(), *thickness.given()?);
    let is_damp = damp.given().is_some_and(|damp| *damp);
    findings.keep(layer.and_then(|layer| if is_damp { layer.damp() } else { Ok(layer) }))
}

fn contact(section: &Section<'_>, findings: &mut Findings) -> Option<Contact> {
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
