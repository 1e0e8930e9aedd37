//! The short answer: cooked? within which guidance, until when? what to do? what was saved?

use super::caution::cautions;
use super::cooking::{Doneness, SimmerPlan, doneness, served};
use super::curve::{Curve, End, Spot};
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
use crate::units::{Energy, Mass, Power, Si, Time, millimetres, write_like};
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
    /// J, see [`back_to_boil`].
    back_to_boil: Option<[f64; 3]>,
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
    let findings = judge(curve, dish, guidance, facts)?;
    let to_do = to_do(&findings);
    let cautions = cautions(dish, facts);
    if facts.is_kept_cold() {
        let text = format!("{}: kept cold. How it was cooked before, and cooled, is not judged.", dish.name());
        let done = Message::new("kept-cold", text).with("dish", dish.name());
        return Ok(Verdict { cautions, findings, to_do, ..Verdict::saying(done) });
    }
    let doneness = doneness(curve, dish, facts)?;
    let coldest = curve.spot() == Spot::Coldest || facts.circulation(dish) == Circulation::Stirred;
    let done = done(dish, doneness.as_ref(), curve.has_range() && coldest && has_usual_pieces(dish, facts));
    let growth = growth_in(curve, dish, facts)?;
    let boil = doneness.as_ref().and_then(second_boil);
    Ok(Verdict {
        back_to_boil: back_to_boil(curve, doneness.as_ref(), facts)?,
        doneness,
        growth,
        grown: growth.as_ref().and_then(|growth| grown(growth, coldest)),
        findings,
        to_do: to_do.into_iter().chain(boil).collect(),
        cautions,
        ..Verdict::saying(done)
    })
}

/// What to do by the findings, no sentence twice. What is not kept comes before what cannot be told, and toxins before
/// the rest.
fn to_do(findings: &[Finding]) -> Vec<Message> {
    let mut told: Vec<String> = Vec::new();
    let mut list = Vec::new();
    for outcome in [Outcome::Misses, Outcome::CannotTell, Outcome::Meets] {
        for finding in findings.iter().filter(|finding| finding.outcome == outcome) {
            list.extend(finding.to_do.without(&mut told));
        }
    }
    list
}

/// Heat that brings pot and dish from serving back to the boil where a second boil is needed, J: at the cautious end, by
/// the best value, at the generous end; `None` where no setup tells how much heat they take.
fn back_to_boil(curve: &Curve, doneness: Option<&Doneness>, facts: &PlanFacts) -> Result<Option<[f64; 3]>, Error> {
    let (Some(doneness), Some([least, best, most])) = (doneness, facts.capacity()) else { return Ok(None) };
    let boil = doneness.second_boil;
    let (until, boiling) = (served(curve, facts)?, facts.boiling_temperature()?.si());
    let ends = [(End::Cautious, most, boil.high()), (End::Best, best, boil.best()), (End::Generous, least, boil.low())];
    Ok(Some(ends.map(
        |(end, capacity, boil)| {
            if boil.si() > 0.0 { capacity * (boiling - curve.track(end).at(until)).max(0.0) } else { 0.0 }
        },
    )))
}

/// Whether its pieces are such that the usual simmer holds their lag.
fn has_usual_pieces(dish: &DishFacts, facts: &PlanFacts) -> bool {
    let usual = dish.pieces().map_or(millimetres(0.0), |pieces| pieces.usual);
    facts.pieces().iter().all(|piece| !piece.frozen && !piece.stuffed && piece.thickness <= usual)
}

impl Verdict {
    /// A verdict of nothing but its first message.
    fn saying(done: Message) -> Self {
        Verdict {
            doneness: None,
            done,
            findings: Vec::new(),
            growth: None,
            grown: None,
            to_do: Vec::new(),
            saving: None,
            saved: None,
            break_even: None,
            cautions: Vec::new(),
            back_to_boil: None,
        }
    }

    /// The same verdict with what was saved on a stove against the usual simmer of the dish, at the `power` of a simmer
    /// ([`simmer_power`](super::simmer_power)). The second boil that is still needed is taken off, and, where the facts come
    /// from a setup, the heat that brings it back to the boil: food that is not finished saves nothing. Where the cooking
    /// of the dish is not known, nothing is told.
    ///
    /// # Errors
    /// As [`heat_saved`] and [`Fuel::burn`].
    pub fn with_saving(mut self, fuel: &Fuel, power: Range<Power>) -> Result<Self, Error> {
        let Some(doneness) = self.doneness.as_ref() else { return Ok(self) };
        let less = heat_saved(doneness.stove_time_saved, power)?;
        let [most, best, least] = self.back_to_boil.unwrap_or_default();
        let less = Range::of_members(less.low().si() - most, less.best().si() - best, less.high().si() - least);
        let saving = fuel.burn(less)?;
        let boil = heat_saved(doneness.second_boil, power)?;
        let boil = Range::of_members(boil.low().si() + least, boil.best().si() + best, boil.high().si() + most);
        let finish =
            Finish { needed: doneness.second_boil, boil: fuel.burn(boil)?, counted: self.back_to_boil.is_some() };
        self.saved = Some(saved(&saving, fuel, &finish));
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
        let unfinished = self.doneness.is_some_and(|doneness| !doneness.is_done_by_best_value());
        let finished = if unfinished { "Finished so, over" } else { "Over" };
        let text = format!("{finished} {meals} such {plural} the fuel not carried makes up for a sleeve of {spoken}.");
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

/// What finishes a dish that is not done.
struct Finish {
    /// How long it boils again.
    needed: Range<Time>,
    /// What that takes.
    boil: FuelUse,
    /// Whether bringing it back to the boil is in it.
    counted: bool,
}

/// In the unit in which `like` is written: "270 kJ to 3400 kJ (best 990 kJ), 6 g to 75 g (best 22 g) of fuel".
fn used(used: &FuelUse, like: Energy) -> (String, Option<String>) {
    let heat = [used.drawn.low(), used.drawn.best(), used.drawn.high()];
    let heat = spoken_range(heat, |energy: Energy| write_like(energy, like, 2));
    (heat, used.mass.map(|mass| spoken_mass([mass.low(), mass.best(), mass.high()])))
}

fn saved(saving: &FuelUse, fuel: &Fuel, finish: &Finish) -> Message {
    // One unit for what is saved and what is taken off, and no joules, however little is saved at best.
    let best = saving.drawn.best().si().abs();
    let like = Energy::from_si(best.max(1e3));
    let ((heat, mass), (boil, boil_mass)) = (used(saving, like), used(&finish.boil, like));
    let carbon = saving.carbon_dioxide;
    let carbon = spoken_mass([carbon.low(), carbon.best(), carbon.high()]);
    let of_fuel = |mass: &Option<String>| mass.as_ref().map(|mass| format!(", {mass} of fuel")).unwrap_or_default();
    let against = format!("against simmering it out ({})", fuel.name());
    let unfinished = finish.needed.best().si() > 0.0;
    let amount = format!("{heat}{}, {carbon} of carbon dioxide", of_fuel(&mass));
    let back =
        if finish.counted { "with bringing it back to the boil" } else { "bringing it back to the boil not counted" };
    let cost = format!("{boil}{}, {back}", of_fuel(&boil_mass));
    let more = "what is below zero is used beyond that";
    let text = match (saving.drawn.high().si() <= 0.0, unfinished) {
        (false, true) if saving.drawn.best().si() <= 0.0 => {
            format!(
                "By the best value nothing is saved {against}, even once it is finished: {amount}; {more}. The second boil is taken off: {cost}."
            )
        }
        (false, false) if saving.drawn.best().si() <= 0.0 => {
            format!("By the best value nothing is saved {against}: {amount}; {more}.")
        }
        (true, true) => format!("Nothing is saved {against}: to finish it takes {cost}."),
        (true, false) => format!("Nothing is saved {against}: it simmered for longer than it takes."),
        (false, true) => {
            format!("Saved {against}, but only once it is finished: {amount}. The second boil is taken off: {cost}.")
        }
        (false, false) if finish.needed.high().si() > 0.0 => {
            format!("Saved {against}, less if it must be boiled again ({cost}, taken off): {amount}.")
        }
        (false, false) => format!("Saved {against}: {amount}."),
    };
    let mut message =
        Message::new("saved", text).with("fuel", fuel.id()).with("energy", heat).with("carbon-dioxide", carbon);
    if finish.needed.high().si() > 0.0 {
        message = message.with("second-boil", boil);
    }
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
