//! The short answer: cooked? within which guidance, until when? what to do? what was saved?

use super::caution::cautions;
use super::cooking::{Doneness, doneness};
use super::curve::{Curve, Spot};
use super::dish_facts::{Circulation, DishFacts};
use super::finding::{Finding, Outcome};
use super::fuel::{Fuel, FuelUse, heat_saved, spoken_mass};
use super::growth::Growth;
use super::judge::{Guidance, growth_in, judge};
use super::limit::Topic;
use super::message::{Message, clock_up};
use super::plan_facts::PlanFacts;
use super::wording::after;
use crate::error::Error;
use crate::setup::{Moment, Range};
use crate::units::{Si, Time, write_rounded};
use std::fmt;

/// What came of a dish in a box or sleeve. [`Display`](fmt::Display) gives a few lines for a cook, cautions included;
/// apps show them unedited or translate the messages without leaving any out.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Verdict {
    /// How far it has cooked; `None` where the kinetics is not known.
    pub doneness: Option<Doneness>,
    /// Whether it is done, in words.
    pub done: Message,
    /// One finding for each limit that applies; toxins first.
    pub findings: Vec<Finding>,
    /// Growth of *Clostridium perfringens* by serving time, in dishes that may harbour it.
    pub growth: Option<Growth>,
    /// What to do, the most pressing first.
    pub to_do: Vec<Message>,
    /// What was saved against the usual simmer, in words; see [`Verdict::with_saving`].
    pub saved: Option<Message>,
    /// Cautions.
    pub cautions: Vec<Message>,
}

/// The verdict on a dish whose temperature is `curve`, under a choice of guidance, by what the plan says.
///
/// ```
/// use stillhot::food::{Curve, DishFacts, Guidance, PlanFacts, verdict};
/// use stillhot::units::{celsius, hours, kelvins, minutes};
///
/// let line = [(hours(0.0), celsius(97.0)), (hours(4.0), celsius(78.0)), (hours(8.0), celsius(60.0))];
/// let curve = Curve::without_range(&line)?.with_accuracy(kelvins(1.5))?;
/// let facts = PlanFacts::simmered(minutes(20.0)).serve_after(hours(4.0));
/// let verdict = verdict(&curve, DishFacts::named("barley-broth")?, &Guidance::of("Germany"), &facts)?;
/// assert!(verdict.to_string().contains("Germany, 2020"));
/// # Ok::<(), stillhot::Error>(())
/// ```
///
/// # Errors
/// A plan outside its ranges, a serving time outside the curve, or a place that no limit names.
pub fn verdict(curve: &Curve, dish: &DishFacts, guidance: &Guidance, facts: &PlanFacts) -> Result<Verdict, Error> {
    let doneness = doneness(curve, dish, facts)?;
    let findings = judge(curve, dish, guidance, facts)?;
    let coldest = curve.spot() == Spot::Coldest || dish.circulation() == Circulation::Stirred;
    let done = done(dish, doneness.as_ref(), curve.has_range() && coldest);
    let mut to_do: Vec<Message> = Vec::new();
    // What is not kept comes before what cannot be told, and toxins before the rest.
    for outcome in [Outcome::Misses, Outcome::CannotTell, Outcome::Meets] {
        for finding in findings.iter().filter(|finding| finding.outcome == outcome) {
            if !to_do.contains(&finding.to_do) {
                to_do.push(finding.to_do.clone());
            }
        }
    }
    if let Some(boil) = doneness.as_ref().and_then(second_boil) {
        to_do.push(boil);
    }
    Ok(Verdict {
        doneness,
        done,
        growth: growth_in(curve, dish, facts)?,
        findings,
        to_do,
        saved: None,
        cautions: cautions(dish, facts),
    })
}

impl Verdict {
    /// The same verdict with what was saved on a stove, against the usual simmer of the dish, lidded or not. The second
    /// boil that is still needed is taken off.
    ///
    /// # Errors
    /// As [`heat_saved`] and [`Fuel::burn`].
    pub fn with_saving(
        mut self,
        dish: &DishFacts,
        facts: &PlanFacts,
        fuel: &Fuel,
        lidded: bool,
    ) -> Result<Self, Error> {
        let used = self.saving(dish, facts, fuel, lidded)?;
        self.saved = Some(saved(&used, fuel));
        Ok(self)
    }

    /// The heat, fuel and carbon dioxide behind [`Verdict::with_saving`].
    ///
    /// # Errors
    /// As there.
    pub fn saving(&self, dish: &DishFacts, facts: &PlanFacts, fuel: &Fuel, lidded: bool) -> Result<FuelUse, Error> {
        let simmer = facts.simmer_time().max(facts.full_boil_time());
        let boil = |of: fn(&Range<Time>) -> Time| self.doneness.as_ref().map_or(0.0, |d| of(&d.second_boil).si());
        let spent = |of: fn(&Range<Time>) -> Time| simmer.si() + boil(of);
        let simmered = Range::of_members(spent(Range::low), spent(Range::best), spent(Range::high));
        // Which end of the usual simmer goes with which end of the boil is not known: heat_saved takes the widest.
        fuel.burn(heat_saved(dish.usual_simmer(), simmered, lidded)?)
    }

    /// The worst outcome among the findings on a topic; `None` without any.
    pub fn outcome(&self, topic: Topic) -> Option<Outcome> {
        let of = |outcome| self.findings.iter().any(|f| f.topic() == topic && f.outcome == outcome);
        [Outcome::Misses, Outcome::CannotTell, Outcome::Meets].into_iter().find(|outcome| of(*outcome))
    }

    /// Every message in it: for translation, and for tests of wording.
    pub fn messages(&self) -> impl Iterator<Item = &Message> {
        std::iter::once(&self.done)
            .chain(self.findings.iter().flat_map(|finding| [&finding.message, &finding.to_do]))
            .chain(&self.to_do)
            .chain(&self.saved)
            .chain(&self.cautions)
    }
}

fn done(dish: &DishFacts, doneness: Option<&Doneness>, certain: bool) -> Message {
    let name = dish.name();
    let Some(doneness) = doneness else {
        return Message::new("cooking-unknown", format!("{name}: how it cooks is not known here; taste it."))
            .with("dish", name);
    };
    let parts = |time: Time| clock_up(time.si());
    let earned =
        |of: fn(&Range<Time>) -> Time| clock_up(of(&doneness.before_shutting).si() + of(&doneness.in_the_box).si());
    let at = |moment: Moment| after(moment);
    let message = if certain && doneness.is_done_at_cautious_end() {
        let text = format!(
            "{name}: done, after shutting: {} (best {}).",
            at(doneness.done_at.cautious),
            at(doneness.done_at.best)
        );
        Message::new("done", text)
    } else if doneness.is_done_by_best_value() {
        let short = doneness.missing.high();
        let less = if short.si() > 0.0 {
            format!("at the cautious end {} of simmer are missing", parts(short))
        } else {
            "how much its coldest spot lags is not told".to_owned()
        };
        let text = format!("{name}: probably done, after shutting: {}; {less}. Taste it.", at(doneness.done_at.best));
        Message::new("probably-done", text)
    } else {
        let text = format!(
            "{name}: not done; it has had {} of the {} of simmer it takes (worth {} to {}).",
            earned(Range::best),
            parts(doneness.needed.best()),
            earned(Range::low),
            earned(Range::high)
        );
        Message::new("not-done", text)
    };
    message
        .with("dish", name)
        .with("done-cautious", at(doneness.done_at.cautious))
        .with("done-best", at(doneness.done_at.best))
        .with("done-generous", at(doneness.done_at.generous))
        .with("missing-best", parts(doneness.missing.best()))
        .with("missing-cautious", parts(doneness.missing.high()))
}

fn second_boil(doneness: &Doneness) -> Option<Message> {
    let boil = doneness.second_boil;
    if boil.high().si() <= 0.0 {
        return None;
    }
    let (low, best, high) = (clock_up(boil.low().si()), clock_up(boil.best().si()), clock_up(boil.high().si()));
    let text = format!("To finish cooking, boil it again for {low} to {high} (best {best}).");
    Some(Message::new("second-boil", text).with("low", low).with("best", best).with("high", high))
}

fn saved(used: &FuelUse, fuel: &Fuel) -> Message {
    let heat = format!(
        "{} to {} (best {})",
        write_rounded(used.drawn.low(), 2),
        write_rounded(used.drawn.high(), 2),
        write_rounded(used.drawn.best(), 2)
    );
    let carbon = spoken_mass(used.carbon_dioxide);
    let gas = used.mass.map(|mass| format!(", {} of fuel", spoken_mass(mass))).unwrap_or_default();
    let text = format!("Saved against simmering it out, {}: {heat}{gas}, {carbon} of carbon dioxide.", fuel.name());
    let message =
        Message::new("saved", text).with("fuel", fuel.id()).with("energy", heat).with("carbon-dioxide", carbon);
    match used.mass {
        Some(mass) => message.with("mass", spoken_mass(mass)),
        None => message,
    }
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{}", self.done)?;
        for finding in &self.findings {
            writeln!(f, "{}", finding.message)?;
        }
        if !self.to_do.is_empty() {
            let list: Vec<&str> = self.to_do.iter().map(|message| message.text.as_str()).collect();
            writeln!(f, "Do: {}", list.join(" "))?;
        }
        if let Some(growth) = self.growth.filter(|growth| growth.cautious >= 0.05) {
            writeln!(
                f,
                "Clostridium perfringens may have grown by {:.1} powers of ten (cautious; at most {:.1}).",
                growth.cautious, growth.hard_bound
            )?;
        }
        if let Some(saved) = &self.saved {
            writeln!(f, "{saved}")?;
        }
        let list: Vec<&str> = self.cautions.iter().map(|message| message.text.as_str()).collect();
        write!(f, "Take care: {}", list.join(" "))
    }
}
