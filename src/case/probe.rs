//! Thermometers: where each of them sits, and how late it shows what is there.

use super::leaf::{Findings, Leaf, each};
use crate::document::Section;
use crate::setup::{Probe, ProbeSpot};
use crate::units::{Temperature, Time};

const PROBE: [&str; 3] = ["spot", "lag", "start"];
/// Where it sits: the word, and what it means.
const SPOTS: [(&str, ProbeSpot); 3] =
    [("dish", ProbeSpot::Dish), ("coldest", ProbeSpot::Coldest), ("under-lid", ProbeSpot::UnderLid)];

/// Every thermometer of the case; every finding noted.
pub(super) fn probes(root: &Section<'_>, findings: &mut Findings) -> Option<Vec<Probe>> {
    let Some(list) = root.get("probe") else { return Some(Vec::new()) };
    each(&list, findings, |item, findings| {
        let section = findings.keep(item.section())?;
        probe(&section, findings)
    })
}

fn probe(section: &Section<'_>, findings: &mut Findings) -> Option<Probe> {
    findings.refuse_unknown(section, &PROBE);
    let spot = Leaf::optional(findings, section, "spot", |item| item.word(&SPOTS));
    let spot = spot.required(findings, section, "spot", "spot = \"under-lid\"");
    let usual = Probe::at(ProbeSpot::Dish);
    let lag: Leaf<Time> = Leaf::quantity(findings, section, "lag");
    let lag = lag.checked(findings, |lag| usual.with_lag(*lag).check());
    let start: Leaf<Temperature> = Leaf::quantity(findings, section, "start");
    let start = start.checked(findings, |start| usual.starting_at(*start).check());
    if lag.is_wrong() || start.is_wrong() {
        return None;
    }
    let probe = Probe::at(*spot.given()?);
    let probe = lag.given().map_or(probe, |lag| probe.with_lag(*lag));
    Some(start.given().map_or(probe, |start| probe.starting_at(*start)))
}
