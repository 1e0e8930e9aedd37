//! The short answer: cooked? within which guidance, until when? what to do? what was saved?

use super::caution::cautions;
use super::cooking::{Doneness, SimmerPlan, doneness};
use super::curve::{Curve, Spot};
use super::dish_facts::{Circulation, DishFacts};
use super::finding::{Finding, Outcome};
use super::fuel::{Fuel, FuelUse, break_even_weight, heat_saved, spoken_mass, spoken_range};
use super::growth::Growth;
use super::guidance::Guidance;
use super::judge::{growth_in, judge};
use super::limit::Topic;
use super::message::{Message, clock, clock_up};
use super::plan_facts::PlanFacts;
use super::wording::{reached, reaching};
use crate::error::{Error, ErrorKind};
use crate::setup::Range;
use crate::units::{Energy, Mass, Power, Si, Time, millimetres, write_rounded};
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
    /// That growth in words, where it is more than a little.
    pub grown: Option<Message>,
    /// What to do, the most pressing first.
    pub to_do: Vec<Message>,
    /// Heat, fuel and carbon dioxide saved against the usual simmer; see [`Verdict::with_saving`].
    pub saving: Option<FuelUse>,
    /// The same in words.
    pub saved: Option<Message>,
    /// How heavy a sleeve may be, in words; see [`Verdict::with_walk`].
    pub break_even: Option<Message>,
    /// Cautions.
    pub cautions: Vec<Message>,
}

/// The verdict on a dish whose temperature is `curve`, under a choice of guidance, by what the plan says.
///
/// ```
/// use stillhot::food::{Curve, DishFacts, Guidance, PlanFacts, verdict};
/// use stillhot::{Plan, units::{celsius, hours, kelvins, minutes}};
///
/// let line = [(hours(0.0), celsius(97.0)), (hours(4.0), celsius(78.0)), (hours(8.0), celsius(60.0))];
/// let curve = Curve::without_range(&line)?.with_accuracy(kelvins(1.5))?;
/// let facts = PlanFacts::of(&Plan::in_room(celsius(16.0)).simmer(minutes(20.0)).serve_after(hours(4.0)));
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
    let done = done(dish, doneness.as_ref(), curve.has_range() && coldest && has_usual_pieces(dish, facts));
    let growth = growth_in(curve, dish, facts)?;
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
        growth,
        grown: growth.as_ref().and_then(|growth| grown(growth, coldest)),
        findings,
        to_do,
        saving: None,
        saved: None,
        break_even: None,
        cautions: cautions(dish, facts),
    })
}

/// Whether its pieces are such that the usual simmer holds their lag.
fn has_usual_pieces(dish: &DishFacts, facts: &PlanFacts) -> bool {
    let usual = dish.pieces().map_or(millimetres(0.0), |pieces| pieces.usual);
    facts.pieces().iter().all(|piece| !piece.frozen && !piece.stuffed && piece.thickness <= usual)
}

impl Verdict {
    /// The same verdict with what was saved on a stove against the usual simmer of the dish, at the `power` of a simmer
    /// ([`simmer_power`](super::simmer_power)). The second boil that is still needed is taken off. Where the cooking of
    /// the dish is not known, nothing is told.
    ///
    /// # Errors
    /// As [`heat_saved`] and [`Fuel::burn`].
    pub fn with_saving(mut self, fuel: &Fuel, power: Range<Power>) -> Result<Self, Error> {
        let Some(doneness) = self.doneness.as_ref() else { return Ok(self) };
        let saving = fuel.burn(heat_saved(doneness.stove_time_saved, power)?)?;
        self.saved = Some(saved(&saving, fuel));
        self.saving = Some(saving);
        Ok(self)
    }

    /// The same verdict with how long to simmer before shutting, so that no second boil is needed
    /// ([`simmer_to_be_done`](super::simmer_to_be_done)); nothing is added where it is done as planned.
    #[must_use]
    pub fn with_simmer(mut self, plan: &SimmerPlan) -> Self {
        if let Some(doneness) = self.doneness.filter(|doneness| !doneness.is_done_at_cautious_end()) {
            self.to_do.extend(simmer(plan, doneness.is_done_by_best_value()));
        }
        self
    }

    /// The same verdict with the heaviest sleeve that a walk of so many such meals (1 to 1000) repays in fuel not
    /// carried; after [`Verdict::with_saving`].
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] without a saving, or with one of a fuel that has no mass;
    /// [`ErrorKind::OutOfRange`] for another number of meals.
    pub fn with_walk(mut self, meals: u32) -> Result<Self, Error> {
        let Some(mass) = self.saving.and_then(|saving| saving.mass) else {
            return Err(Error::new(ErrorKind::Inconsistent, "no mass of fuel is saved")
                .with_accepted("a saving told before, of a fuel that burns"));
        };
        let weight = break_even_weight(mass, meals)?;
        let carried = |mass: Mass| Mass::from_si(mass.si().max(0.0));
        let spoken = spoken_mass([weight.low(), weight.best(), weight.high()].map(carried));
        let plural = if meals == 1 { "meal" } else { "meals" };
        let text = format!("Over {meals} such {plural} the fuel not carried makes up for a sleeve of {spoken}.");
        self.break_even = Some(Message::new("break-even", text).with("meals", meals.to_string()).with("mass", spoken));
        Ok(self)
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
            .chain(&self.grown)
            .chain(&self.saved)
            .chain(&self.break_even)
            .chain(&self.cautions)
    }
}

fn done(dish: &DishFacts, doneness: Option<&Doneness>, certain: bool) -> Message {
    let name = dish.name();
    let Some(doneness) = doneness else {
        return Message::new("cooking-unknown", format!("{name}: how it cooks is not known; taste it."))
            .with("dish", name);
    };
    let parts = |time: Time| clock_up(time.si());
    // Cooking done is rounded down, cooking still to do up.
    let earned =
        |of: fn(&Range<Time>) -> Time| clock(of(&doneness.before_shutting).si() + of(&doneness.in_the_box).si());
    let at = &doneness.done_at;
    let message = if certain && doneness.is_done_at_cautious_end() {
        Message::new("done", format!("{name}: done {}.", reaching(at)))
    } else if doneness.is_done_by_best_value() {
        let short = doneness.missing.high();
        let less = if short.si() > 0.0 {
            format!("at the cautious end {} of simmer are missing", parts(short))
        } else {
            "how much its coldest spot lags is not told".to_owned()
        };
        let text = format!("{name}: probably done {}; {less}. Taste it.", reached(at.best));
        Message::new("probably-done", text)
    } else {
        let text = format!(
            "{name}: not done; it has had {} of the {} of simmer it takes ({} to {} at the ends of the range).",
            earned(Range::best),
            parts(doneness.needed.best()),
            earned(Range::low),
            earned(Range::high)
        );
        Message::new("not-done", text)
    };
    message
        .with("dish", name)
        .with("done-cautious", reached(at.cautious))
        .with("done-best", reached(at.best))
        .with("done-generous", reached(at.generous))
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

fn simmer(plan: &SimmerPlan, probably_done: bool) -> Option<Message> {
    let best = clock_up(plan.best?.si());
    let (text, cautious) = match (plan.cautious.map(|time| clock_up(time.si())), probably_done) {
        (Some(cautious), true) => {
            (format!("Or, to be surer of it, simmer it for {cautious} before shutting."), cautious)
        }
        (Some(cautious), false) => {
            (format!("Or simmer it for {best} before shutting, {cautious} at the cautious end."), cautious)
        }
        (None, true) => return None,
        (None, false) => {
            let text = format!("Or simmer it for {best} before shutting; at the cautious end that is not enough.");
            (text, "not found".to_owned())
        }
    };
    Some(Message::new("simmer-before", text).with("best", best).with("cautious", cautious))
}

fn grown(growth: &Growth, coldest: bool) -> Option<Message> {
    // Below a twentieth of a power of ten there is nothing to see.
    if growth.cautious < 0.05 {
        return None;
    }
    let (cautious, most) = (format!("{:.1}", growth.cautious), format!("{:.1}", growth.hard_bound));
    let edge = if coldest { "" } else { " That is for its mean; at its edge it may be more." };
    let text = format!(
        "Clostridium perfringens may have grown by {cautious} powers of ten (at most {most}, best estimate {:.1}).{edge}",
        growth.best
    );
    Some(Message::new("growth-computed", text).with("cautious", cautious).with("hard-bound", most))
}

fn saved(used: &FuelUse, fuel: &Fuel) -> Message {
    let drawn = used.drawn;
    let heat = spoken_range([drawn.low(), drawn.best(), drawn.high()], |energy: Energy| write_rounded(energy, 2));
    let carbon = used.carbon_dioxide;
    let carbon = spoken_mass([carbon.low(), carbon.best(), carbon.high()]);
    let mass = used.mass.map(|mass| spoken_mass([mass.low(), mass.best(), mass.high()]));
    let gas = mass.as_ref().map(|mass| format!(", {mass} of fuel")).unwrap_or_default();
    let text = if drawn.high().si() <= 0.0 {
        format!("Nothing is saved against simmering it out ({}): it simmered for longer than it takes.", fuel.name())
    } else {
        format!("Saved against simmering it out ({}): {heat}{gas}, {carbon} of carbon dioxide.", fuel.name())
    };
    let message =
        Message::new("saved", text).with("fuel", fuel.id()).with("energy", heat).with("carbon-dioxide", carbon);
    match mass {
        Some(mass) => message.with("mass", mass),
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
        for message in self.grown.iter().chain(&self.saved).chain(&self.break_even) {
            writeln!(f, "{message}")?;
        }
        let list: Vec<&str> = self.cautions.iter().map(|message| message.text.as_str()).collect();
        write!(f, "Take care: {}", list.join(" "))
    }
}
