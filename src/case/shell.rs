//! The box or sleeve.

use super::edges::{EdgesOf, FORMS};
use super::layers::{Entries, LAYERS};
use super::leaf::{Findings, Leaf, about, range, without_path};
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::material::Catalogue;
use crate::setup::{Enclosure, Face, Fit, Lid, LidKind, Pot, Range, Shell, Sleeve};
use crate::units::{Angle, Length, ThermalConductance, degrees, litres, metres, millimetres};
use crate::wall::{Geometry, Layer, Wall};

const BOX: [&str; 16] = [
    "walls",
    "fit",
    "seams",
    "upright-seams",
    "edges",
    "fillers",
    "gap",
    "inner-width",
    "inner-depth",
    "inner-height",
    "lid",
    "base",
    "front",
    "back",
    "left",
    "right",
];
const FITS: [(&str, Fit); 3] = [("tight", Fit::Tight), ("ordinary", Fit::Ordinary), ("loose", Fit::Loose)];
const INNER: [&str; 3] = ["inner-width", "inner-depth", "inner-height"];
const BOX_SIZE: &str = "gap = \"15 mm\", or inner-width, inner-depth and inner-height";
const CLOSINGS: [(&str, LidKind); 5] = [
    ("resting", LidKind::Resting),
    ("pressed", LidKind::Pressed),
    ("gasketed", LidKind::Gasketed),
    ("plug", LidKind::Plug),
    ("tight", LidKind::Tight),
];

/// The one shell of the case, round `pot` if that is known; every finding noted.
pub(super) fn shell(
    root: &Section<'_>,
    pot: Option<&Pot>,
    catalogue: &Catalogue,
    findings: &mut Findings,
) -> Option<Shell> {
    let one_of = "one section [box] or one section [sleeve]";
    let (in_box, in_sleeve) = (root.get("box"), root.get("sleeve"));
    if in_box.is_none() && in_sleeve.is_none() {
        findings.keep(root.require("box", one_of));
        return None;
    }
    if let (Some(_), Some(sleeve)) = (&in_box, &in_sleeve) {
        let error = Error::new(ErrorKind::Inconsistent, "the pot stands both in a box and in a sleeve");
        findings.add(sleeve.place(error.with_accepted(one_of)));
    }
    let enclosure = in_box
        .and_then(|item| findings.keep(item.section()))
        .and_then(|section| enclosure(&section, pot, catalogue, findings));
    let sleeve = in_sleeve
        .and_then(|item| findings.keep(item.section()))
        .and_then(|section| sleeve(&section, pot, catalogue, findings));
    enclosure.map(Shell::from).or(sleeve.map(Shell::from))
}

fn enclosure(
    section: &Section<'_>,
    pot: Option<&Pot>,
    catalogue: &Catalogue,
    findings: &mut Findings,
) -> Option<Enclosure> {
    findings.refuse_unknown(section, &BOX);
    let common = section.get("walls").map(|list| entries(list, catalogue, findings));
    // The walls that a face was given, or none where they were wrong.
    let mut own: Vec<(Face, Option<Given<'_>>)> = Vec::new();
    let mut lid = Some(Lid::resting());
    for face in Face::OF_BOX {
        let Some(part) = findings.section(section, &face.to_string()) else {
            if section.get(&face.to_string()).is_some() {
                own.push((face, None));
            }
            continue;
        };
        if face == Face::Lid {
            findings.refuse_unknown(&part, &["layers", "closing", "joint", "leak"]);
            lid = closing(&part, Lid::resting(), findings);
        } else {
            findings.refuse_unknown(&part, &["layers"]);
        }
        match part.get("layers") {
            Some(list) => own.push((face, entries(list, catalogue, findings))),
            None if face == Face::Lid => {}
            None => {
                findings.keep(part.require("layers", LAYERS));
                own.push((face, None));
            }
        }
    }
    let mut walls: Vec<(Face, Option<Wall>)> = Vec::new();
    for face in Face::OF_BOX {
        let given = match (own.iter().find(|(of, _)| *of == face), &common) {
            (Some((_, given)), _) | (None, Some(given)) => given,
            (None, None) => {
                let form = format!("walls = {LAYERS}, or layers of its own for each face (none for the {face})");
                findings.keep(section.require("walls", &form));
                walls.push((face, None));
                break;
            }
        };
        let wall = given
            .as_ref()
            .map(|(list, entries)| entries.wall(Geometry::Planar, outward(face)).map_err(|error| list.place(error)));
        walls.push((face, wall.and_then(|wall| findings.keep(wall))));
    }
    let fit = Leaf::optional(findings, section, "fit", |item| item.word(&FITS));
    let seams: Leaf<Range<Length>> = Leaf::optional(findings, section, "seams", range);
    let seams = seams.checked(findings, |seams| in_stand_in(|boards| boards.with_low_seams(*seams)));
    let upright: Leaf<Range<Length>> = Leaf::optional(findings, section, "upright-seams", range);
    let upright = upright.checked(findings, |seams| in_stand_in(|boards| boards.with_upright_seams(*seams)));
    let edges = EdgesOf::read(section, catalogue, findings);
    let inside = inside(section, pot, findings);
    let walls = walls.into_iter().map(|(face, wall)| Some((face, wall?))).collect::<Option<Vec<_>>>()?;
    let enclosure = inside?.apply(Enclosure::of_walls(walls), pot?).lid(lid?);
    if fit.is_wrong() || seams.is_wrong() || upright.is_wrong() {
        return None;
    }
    let enclosure = fit.given().iter().fold(enclosure, |boards, fit| boards.fitted(**fit));
    let enclosure = seams.given().iter().fold(enclosure, |boards, seams| boards.with_low_seams(**seams));
    edges.apply(upright.given().iter().fold(enclosure, |boards, seams| boards.with_upright_seams(**seams)))
}

/// What a check of any box says of one change to it.
fn in_stand_in(change: impl Fn(Enclosure) -> Enclosure) -> Result<(), Error> {
    let layer = Layer::of("softwood-across-grain", millimetres(10.0))?;
    change(Enclosure::of_wall(Wall::planar().layer(layer).build()?)).check(&Pot::typical(litres(0.1)))
}

/// A list of layers with what it holds.
type Given<'t> = (Item<'t>, Entries);

fn entries<'t>(list: Item<'t>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Given<'t>> {
    let entries = Entries::read(&list, catalogue, findings)?;
    Some((list, entries))
}

/// How far above the level the outside of a face looks.
fn outward(face: Face) -> Angle {
    degrees(match face {
        Face::Lid => 90.0,
        Face::Base => -90.0,
        _ => 0.0,
    })
}

/// The size of the room for the pot.
enum Inside {
    Gap(Length),
    Size(Length, Length, Length),
}

impl Inside {
    fn apply(&self, enclosure: Enclosure, pot: &Pot) -> Enclosure {
        match self {
            Inside::Gap(gap) => enclosure.around(pot, *gap),
            Inside::Size(width, depth, height) => enclosure.inside(*width, *depth, *height),
        }
    }
}

fn inside(section: &Section<'_>, pot: Option<&Pot>, findings: &mut Findings) -> Option<Inside> {
    // What a box says of its size does not hang on its walls: any wall and, where it is not known, any pot stand in.
    let stand_in = Pot::typical(litres(0.1));
    let check = |inside: Inside| {
        let layer = Layer::of("softwood-across-grain", millimetres(10.0))?;
        let enclosure = Enclosure::of_wall(Wall::planar().layer(layer).build()?);
        match inside.apply(enclosure, &stand_in).check(pot.unwrap_or(&stand_in)) {
            Err(error) if pot.is_none() && error.kind() == ErrorKind::Inconsistent => Ok(()),
            other => other,
        }
    };
    let gap: Leaf<Length> = Leaf::quantity(findings, section, "gap");
    let gap = gap.checked(findings, |gap| check(Inside::Gap(*gap)));
    let sizes = INNER.map(|key| (key, Leaf::<Length>::quantity(findings, section, key)));
    let sized = sizes.iter().any(|(_, leaf)| !leaf.is_absent());
    if sized && !gap.is_absent() {
        findings.given_twice(section, "the inner size of the box is given twice", BOX_SIZE);
        return None;
    }
    if !sized {
        if gap.is_absent() {
            findings.keep(section.require("gap", BOX_SIZE));
        }
        return gap.given().map(|gap| Inside::Gap(*gap));
    }
    let ample = metres(3.0);
    let mut given = [None; 3];
    for (at, (key, leaf)) in sizes.into_iter().enumerate() {
        let leaf = leaf.required(findings, section, key, &format!("{key} = \"300 mm\""));
        let leaf = leaf.checked(findings, |size| {
            let mut sides = [ample; 3];
            sides[at] = *size;
            check(Inside::Size(sides[0], sides[1], sides[2]))
        });
        given[at] = leaf.given().copied();
    }
    Some(Inside::Size(given[0]?, given[1]?, given[2]?))
}

fn sleeve(section: &Section<'_>, pot: Option<&Pot>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Sleeve> {
    findings.refuse_unknown(section, &["layers", "gap", "lid", "edges"]);
    let list = findings.keep(section.require("layers", LAYERS));
    let wall = list.and_then(|list| {
        let entries = Entries::read(&list, catalogue, findings)?;
        // One list stands for side, base and lid: an airspace that does not say how it lies is upright.
        findings.keep(entries.wall(Geometry::Planar, degrees(0.0)).map_err(|error| list.place(error)))
    });
    let lid = match findings.section(section, "lid") {
        None => Some(Lid::flap()),
        Some(part) => {
            findings.refuse_unknown(&part, &["closing", "joint", "leak"]);
            closing(&part, Lid::flap(), findings)
        }
    };
    let edges = Leaf::optional(findings, section, "edges", |item| item.word(&FORMS));
    let gap: Leaf<Length> = Leaf::quantity(findings, section, "gap");
    let gap = gap.checked(findings, |gap| {
        let mat = Layer::of("wool-blanket-felt", millimetres(5.0))?;
        about("gap", Sleeve::of_layers(vec![mat]).with_gap(*gap).check(&Pot::typical(litres(1.0))))
    });
    let mut sleeve = Sleeve::of_wall(&wall?).lid(lid?);
    if let Some(gap) = gap.given() {
        sleeve = sleeve.with_gap(*gap);
    }
    if let Some(edges) = edges.given() {
        sleeve = sleeve.edges(*edges);
    }
    // What is left to go wrong is the round wall about this pot.
    match pot {
        Some(pot) if !gap.is_wrong() && !edges.is_wrong() => {
            findings.keep(sleeve.check(pot).map_err(|error| section.place(without_path(&error))))?;
            Some(sleeve)
        }
        _ => None,
    }
}

/// How a lid closes; `usual` where nothing is said.
fn closing(part: &Section<'_>, usual: Lid, findings: &mut Findings) -> Option<Lid> {
    let kind = Leaf::optional(findings, part, "closing", |item| item.word(&CLOSINGS));
    let joint: Leaf<Range<Length>> = Leaf::optional(findings, part, "joint", range);
    let joint = joint.checked(findings, |joint| usual.with_gap(*joint).check());
    let leak: Leaf<Range<ThermalConductance>> = Leaf::optional(findings, part, "leak", range);
    let leak = leak.checked(findings, |leak| usual.leaking(*leak).check());
    if !joint.is_absent() && !leak.is_absent() {
        findings.given_twice(part, "the leak of the lid is given twice", "joint or leak");
        return None;
    }
    if kind.given() == Some(&LidKind::Tight) && !(joint.is_absent() && leak.is_absent()) {
        let error = Error::new(ErrorKind::Inconsistent, "a tight lid does not leak");
        findings.add(part.place(error.with_accepted("another closing, or neither joint nor leak")));
        return None;
    }
    if kind.is_wrong() || leak.is_wrong() || joint.is_wrong() {
        return None;
    }
    let lid = match kind.given() {
        None => usual,
        Some(LidKind::Pressed) => Lid::pressed(),
        Some(LidKind::Gasketed) => Lid::gasketed(),
        Some(LidKind::Plug) => Lid::plug(),
        Some(LidKind::Tight) => Lid::tight(),
        Some(LidKind::Resting) => Lid::resting(),
    };
    Some(match (joint.given(), leak.given()) {
        (Some(joint), _) => lid.with_gap(*joint),
        (None, Some(leak)) => lid.leaking(*leak),
        (None, None) => lid,
    })
}
