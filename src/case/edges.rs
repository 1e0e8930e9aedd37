//! How the edges of a box are counted, and what fills its inner corners.

use super::layers::material;
use super::leaf::{Findings, Leaf, each};
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::material::Catalogue;
use crate::setup::{EdgeRow, Edges, Enclosure};
use crate::units::Length;
use crate::wall::{Fill, Filler};

pub(super) const FORMS: [(&str, Edges); 2] = [("factor", Edges::Factor), ("solved", Edges::Solved)];
const ROWS: [(&str, EdgeRow); 3] = [("upright", EdgeRow::Upright), ("base", EdgeRow::Base), ("lid", EdgeRow::Lid)];
const FILLERS: &str = "legs = [\"40 mm\", \"40 mm\"] or radius = \"40 mm\"";

/// What the keys `edges` and `fillers` of a box say; every finding noted.
pub(super) struct EdgesOf<'t> {
    form: Leaf<'t, Edges>,
    fillers: Option<Vec<(EdgeRow, Filler)>>,
}

impl<'t> EdgesOf<'t> {
    pub(super) fn read(section: &Section<'t>, catalogue: &Catalogue, findings: &mut Findings) -> Self {
        let form = Leaf::optional(findings, section, "edges", |item| item.word(&FORMS));
        let mut seen = Vec::new();
        let fillers = match section.get("fillers") {
            None => Some(Vec::new()),
            Some(list) => each(&list, findings, |item, findings| {
                let filler = filler(item, catalogue, findings)?;
                if seen.contains(&filler.0) {
                    let error = Error::new(ErrorKind::Inconsistent, "a row of edges is filled twice");
                    findings.add(item.place(error.with_accepted("one filler for upright, base and lid each")));
                    return None;
                }
                seen.push(filler.0);
                Some(filler)
            }),
        };
        EdgesOf { form, fillers }
    }

    /// The box with them; none if they have a finding.
    pub(super) fn apply(self, enclosure: Enclosure) -> Option<Enclosure> {
        if self.form.is_wrong() {
            return None;
        }
        let enclosure = self.form.given().iter().fold(enclosure, |boards, form| boards.edges(**form));
        Some(self.fillers?.into_iter().fold(enclosure, |boards, (row, filler)| boards.with_filler(row, filler)))
    }
}

fn filler(item: &Item<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<(EdgeRow, Filler)> {
    let section = findings.keep(item.section())?;
    findings.refuse_unknown(&section, &["along", "material", "legs", "radius"]);
    let row = Leaf::optional(findings, &section, "along", |item| item.word(&ROWS));
    let row = row.required(findings, &section, "along", "along = \"upright\", \"base\" or \"lid\"");
    let material = material(&section, "material", catalogue, findings);
    let material = material.required(findings, &section, "material", "material = \"the identifier of a material\"");
    // Sizes are checked whatever the material.
    let stand_in = material.given().or_else(|| catalogue.iter().next()).map(|m| Fill::new(m.clone()));
    let sound = |make: &dyn Fn(Fill) -> Filler| stand_in.clone().map_or(Ok(()), |fill| make(fill).check());
    let legs = Leaf::optional(findings, &section, "legs", |item| {
        let (up, along) = item.pair()?;
        Ok([up.quantity::<Length>()?, along.quantity::<Length>()?])
    });
    let legs = legs.checked(findings, |legs| sound(&|fill| Filler::straight(*legs, fill)));
    let radius: Leaf<'_, Length> = Leaf::quantity(findings, &section, "radius");
    let radius = radius.checked(findings, |radius| sound(&|fill| Filler::cove(*radius, fill)));
    match (legs.is_absent(), radius.is_absent()) {
        (false, false) => {
            findings.given_twice(&section, "the shape of a filler is given twice", FILLERS);
            return None;
        }
        (true, true) => {
            findings.keep(section.require("legs", FILLERS));
            return None;
        }
        _ => {}
    }
    let fill = Fill::new(material.given()?.clone());
    let filler = match (legs.given(), radius.given()) {
        (Some(legs), _) => Filler::straight(*legs, fill),
        (None, Some(radius)) => Filler::cove(*radius, fill),
        (None, None) => return None,
    };
    Some((*row.given()?, filler))
}
