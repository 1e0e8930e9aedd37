//! What a forecast takes for granted, said openly: every value that was not given and the range of every one that is
//! uncertain.

use super::assemble::{bare_pot_film, open_top_factor};
use super::attach_gap::gap_factor;
use super::attach_wall::film_factor;
use super::{Edges, LidKind, Plan, Range, Setup, Shell};
use crate::error::Error;
use crate::material::Material;
use crate::units::{Mass, Si, SpecificHeatCapacity, Temperature, metres, write, write_rounded};
use crate::wall::Layer;
use std::fmt;

/// One thing that the forecast takes for granted.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Assumption {
    /// What it is about.
    pub subject: String,
    /// Its value or range, with units.
    pub value: String,
    /// What it rests on.
    pub basis: &'static str,
}

impl fmt::Display for Assumption {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {} ({})", self.subject, self.value, self.basis)
    }
}

impl Setup {
    /// What a forecast under this plan takes for granted.
    ///
    /// # Errors
    /// If the plan is outside its ranges.
    pub fn assumptions(&self, plan: &Plan) -> Result<Vec<Assumption>, Error> {
        let mut list = Vec::new();
        let mut say = |subject: String, value: String, basis| list.push(Assumption { subject, value, basis });
        let start = self.pot().starts_at(plan)?;
        let ice = self.pot().ice().si();
        if ice > 0.0 {
            let value = format!("{}, {:.0} % of it ice", write(start), 100.0 * ice);
            say("the dish starts at".into(), value, "as given, and stirred while it melts");
        } else {
            let basis = "as given, or boiling point of water by height";
            say("pot leaves the stove at".into(), write_rounded(start, 4), basis);
        }
        let shell = match self.shell() {
            Shell::Box(_) => "box",
            Shell::Sleeve(_) => "sleeve",
        };
        say(format!("outside the {shell} before shutting"), write(plan.carry_time()), "as given, or common practice");
        let (width, height) = (write_rounded(self.pot().diameter(), 3), write_rounded(self.pot().height(), 3));
        say("inside of the pot".into(), format!("{width} across, {height} high"), "as given, or typical of its volume");
        let (metal, mass) = self.pot().metal()?;
        say(format!("pot and lid of {}", metal.name()), mass.to_string(), "as weighed, or size times thickness");
        if let Some((dish, mass)) = self.pot().contents() {
            let capacity = dish.material().heat_capacity();
            let range = Range::of_members(capacity.low().si(), capacity.value().si(), capacity.high().si());
            let value = Range::<SpecificHeatCapacity>::to_string(&range);
            say(format!("{} of {}", write(mass), dish.material().name()), value, "materials catalogue, or as given");
            for (food, share) in dish.parts() {
                let part = Mass::from_si(share.si() * mass.si());
                let value = format!("{}, {:.0} % water", write_rounded(part, 3), 100.0 * food.water_content().si());
                say(format!("of which {}", food.material().name()), value, "as given; mixed by mass and volume");
            }
            let is_still = self.pot().is_still();
            let kind = if is_still { "still: its edge is colder than its middle" } else { "stirred: one temperature" };
            say("the dish".into(), kind.into(), "as given, or by the kind of dish");
            let water = format!("{:.0} %", 100.0 * dish.water_content().si());
            say("water in the dish".into(), water, "as given, by composition, or by heat capacity (Siebel 1892)");
        }
        if let Shell::Box(enclosure) = self.shell() {
            let [width, depth, height] = enclosure.inner_size(self.pot()).map(|size| write_rounded(size, 3));
            let value = format!("{width} by {depth}, {height} high");
            say("room inside the box".into(), value, "as given, or pot and gap");
        }
        let form = match self.shell() {
            Shell::Box(enclosure) => enclosure.edge_form(),
            Shell::Sleeve(sleeve) => sleeve.edge_form(),
        };
        if form == Edges::Solved {
            let value = "solved in two dimensions, with one film for all inner faces; they follow temperature as the plain \
                         walls between them do";
            say(
                "edges and corners".into(),
                value.into(),
                "computed; boxes within 0.3 % of three-dimensional solutions",
            );
        }
        for layer in self.layers() {
            let (name, value) = describe(layer, start, plan.room());
            say(name, value, "materials catalogue, at the mean of start and room temperature");
            let material = layer.material();
            if let Some(factor) = material.damp_factor() {
                let (low, high) = (factor.low().si(), factor.high().si());
                let state = if material.is_damp() {
                    format!("conducts {low} to {high} times as well as when dry, which is in its range above")
                } else {
                    format!("dry; damp it conducts {low} to {high} times as well")
                };
                say(format!("moisture in {}", material.name()), state, "as given, or dry; factor by the catalogue");
            }
        }
        let shut = Range::exactly(metres(0.0));
        let (lid, low, upright) = match self.shell() {
            Shell::Box(enclosure) => (enclosure.lid_closing(), enclosure.low_seams(), enclosure.upright_seams()),
            Shell::Sleeve(sleeve) => (sleeve.lid_closing(), super::Fit::Tight.seams(), shut),
        };
        match lid.leak() {
            Some(leak) => say("heat leaking past the lid".into(), leak.to_string(), "as given"),
            None => {
                say("joint of the lid".into(), lid.gap().to_string(), joint_basis(lid.kind()));
                say("seams low down".into(), low.to_string(), "estimate by the fit of the boards, or as given");
                if upright.high().si() > 0.0 {
                    say("seams along the upright edges".into(), upright.to_string(), "as given");
                }
                match self.pot().lid().gap() {
                    Some(gap) => say("gap between pot and pot lid".into(), gap.to_string(), "estimate, or as given"),
                    None if self.pot().lid().is_missing() => say("lid of the pot".into(), "none".into(), "as given"),
                    None => say("lid of the pot".into(), "lets no vapour pass".into(), "as given"),
                }
            }
        }
        let share = |range: &super::Range<crate::units::Ratio>| {
            use crate::units::Si;
            format!("{} to {} times the published value", range.low().si(), range.high().si())
        };
        say("air between pot and liner".into(), share(&gap_factor()), "published gap relations, range an estimate");
        say("emissivity of the pot".into(), self.pot().emissivity()?.to_string(), "as given, or polished to dark");
        let footing = self.pot().footing();
        let under = format!("contact under the pot, {}", footing.name());
        say(under, footing.resistance().to_string(), "estimate, or as given");
        say("films outside".into(), share(&film_factor()), "published relations, range an estimate");
        if plan.opens() {
            let basis = "published exchange through a level hole, range an estimate";
            say(format!("air through the top of the opened {shell}"), share(&open_top_factor()), basis);
        }
        let resting = plan.resting();
        let under = resting.coefficient().map_or("a film like the other faces".to_owned(), |film| film.to_string());
        say(
            format!("{shell} resting on {}", resting.name()),
            under,
            "as given, or a board; coefficient as given, or an estimate",
        );
        if let Some(course) = resting.course(plan.room()) {
            let value = write_rounded(course.at(crate::units::seconds(0.0)), 3);
            say("temperature of what it rests on, at shutting".into(), value, "as given, or snow that does not melt");
        }
        say("film of the bare lidded pot".into(), bare_pot_film().to_string(), "estimate");
        for (input, position) in self.pins() {
            let value = format!("exact, at {position} of its range (0 cautious, 0.5 best, 1 generous)");
            say(input.to_string(), value, "as pinned");
        }
        Ok(list)
    }

    /// Every different layer of the shell.
    pub(crate) fn layers(&self) -> Vec<&Layer> {
        let mut all: Vec<&Layer> = match self.shell() {
            Shell::Box(enclosure) => {
                super::Face::OF_BOX.iter().filter_map(|f| enclosure.wall(*f)).flat_map(|w| w.layers()).collect()
            }
            Shell::Sleeve(sleeve) => sleeve.layers().iter().collect(),
        };
        let mut seen: Vec<&Layer> = Vec::new();
        all.retain(|layer| {
            let new = !seen.contains(layer);
            seen.push(layer);
            new
        });
        all
    }
}

/// What the width of a joint rests on. That of a plug surprises those who took the trouble to make one.
fn joint_basis(kind: LidKind) -> &'static str {
    match kind {
        LidKind::Plug => {
            "estimate for a home-made plug, or as given: its slit stands upright and is no narrower than that of a lid \
             that rests on the rim, and air rises in it, so that it does not hold longer unless it is measured narrower"
        }
        _ => "estimate by kind of lid, or as given",
    }
}

fn describe(layer: &Layer, start: Temperature, room: Temperature) -> (String, String) {
    let material: &Material = layer.material();
    let mean = |law: &crate::material::PropertyLaw| {
        write_rounded(crate::units::ThermalConductivity::from_si(law.mean(room.si(), start.si())), 3)
    };
    let k = material.conductivity();
    (
        format!("{} of {}", write(layer.thickness()), material.name()),
        format!("{} to {} (best {})", mean(&k.low_law()), mean(&k.high_law()), mean(k.law())),
    )
}
