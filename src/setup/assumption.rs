//! What a forecast takes for granted, said openly: every value that was not given and the range of every one that is
//! uncertain.

use super::assemble::bare_pot_film;
use super::attach_gap::{base_contact, gap_factor};
use super::attach_wall::{film_factor, resting_film};
use super::{Plan, Range, Setup, Shell};
use crate::error::Error;
use crate::material::Material;
use crate::units::{Si, SpecificHeatCapacity, Temperature, write, write_rounded};
use crate::wall::Layer;

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

impl Setup {
    /// What a forecast under this plan takes for granted.
    ///
    /// # Errors
    /// If the plan is outside its ranges.
    pub fn assumptions(&self, plan: &Plan) -> Result<Vec<Assumption>, Error> {
        let mut list = Vec::new();
        let mut say = |subject: String, value: String, basis| list.push(Assumption { subject, value, basis });
        let start = plan.start_temperature()?;
        say("pot leaves the stove at".into(), write_rounded(start, 4), "as given, or boiling point of water by height");
        say("outside the box before shutting".into(), write(plan.carry_time()), "as given, or common practice");
        let (width, height) = (write_rounded(self.pot().diameter(), 3), write_rounded(self.pot().height(), 3));
        say("inside of the pot".into(), format!("{width} across, {height} high"), "as given, or typical of its volume");
        let (metal, mass) = self.pot().metal()?;
        say(format!("pot and lid of {}", metal.name()), mass.to_string(), "as weighed, or size times thickness");
        if let Some((dish, mass)) = self.pot().contents() {
            let capacity = dish.material().heat_capacity();
            let range = Range::of_members(capacity.low().si(), capacity.value().si(), capacity.high().si());
            let value = Range::<SpecificHeatCapacity>::to_string(&range);
            say(format!("{} of {}", write(mass), dish.material().name()), value, "materials catalogue, or as given");
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
        for layer in self.layers() {
            let (name, value) = describe(layer, start, plan.room());
            say(name, value, "materials catalogue, at the mean of start and room temperature");
            let material = layer.material();
            if let Some(factor) = material.damp_factor() {
                let (low, high) = (factor.low().si(), factor.high().si());
                let state = if material.is_damp() {
                    format!("damp: {low} to {high} times the conductivity when dry, which is in its range above")
                } else {
                    format!("dry; damp it conducts {low} to {high} times as well")
                };
                say(format!("moisture in {}", material.name()), state, "as given, or dry; factor by the catalogue");
            }
        }
        let (lid, low) = match self.shell() {
            Shell::Box(enclosure) => (enclosure.lid_closing(), enclosure.low_seams()),
            Shell::Sleeve(sleeve) => (sleeve.lid_closing(), super::Fit::Tight.seams()),
        };
        match lid.leak() {
            Some(leak) => say("heat leaking past the lid".into(), leak.to_string(), "as given"),
            None => {
                say("joint of the lid".into(), lid.gap().to_string(), "estimate by kind of lid, or as given");
                say("seams low down".into(), low.to_string(), "estimate by the fit of the boards, or as given");
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
        say("contact under the pot".into(), base_contact().to_string(), "estimate");
        say("films outside".into(), share(&film_factor()), "published relations, range an estimate");
        say("film under the box".into(), resting_film().to_string(), "estimate");
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
