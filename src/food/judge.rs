//! Limits held against a curve, one finding each.

use super::cooking::{WEATHER, served, weathered};
use super::curve::{Curve, End, Moments, Spot};
use super::dish_facts::{Circulation, DishFacts, Hazard};
use super::finding::{Finding, Margin, Outcome, Reason};
use super::growth::{CardinalTemperatures, Growth};
use super::guidance::Guidance;
use super::limit::{Equivalents, Limit, Rule, Topic};
use super::piece_centre::PieceCentre;
use super::plan_facts::PlanFacts;
use super::shelf::Shelf;
use super::wording;
use crate::error::Error;
use crate::setup::Moment;
use crate::units::{Length, Si, Temperature, Time, celsius, kelvins, millimetres};

/// Pieces go in at this temperature unless a setup says otherwise, °C.
const PIECE_START: f64 = 5.0;
/// Pieces of a dish that usually has none get no word about their middle above this thickness, mm (ESTIMATE).
const LARGEST: f64 = 40.0;
/// A forecast tells a jump within so many seconds.
const JUMP: f64 = 10.0;

/// The findings of the embedded limits, one for each that applies: the limits on cooling only where leftovers cool in
/// the box, those on reheating only where there is one.
///
/// # Errors
/// As [`judge_by`].
pub fn judge(curve: &Curve, dish: &DishFacts, guidance: &Guidance, facts: &PlanFacts) -> Result<Vec<Finding>, Error> {
    judge_by(Limit::shelf(), curve, dish, guidance, facts)
}

/// The findings of limits of your own ([`Shelf::with_file`]).
///
/// # Errors
/// [`crate::ErrorKind::OutOfRange`] for a plan outside its ranges or served outside the curve;
/// [`crate::ErrorKind::UnknownName`] for a place for which no limit of household or catering is known.
pub fn judge_by(
    shelf: &Shelf<Limit>,
    curve: &Curve,
    dish: &DishFacts,
    guidance: &Guidance,
    facts: &PlanFacts,
) -> Result<Vec<Finding>, Error> {
    facts.check()?;
    let limits = guidance.limits(shelf, dish, facts)?;
    let until = served(curve, facts)?;
    let needs_middle = limits.iter().any(|limit| matches!(limit.topic(), Topic::Cooking | Topic::Reheating));
    let middle = if needs_middle { middle(curve, dish, facts)? } else { None };
    let boiling = facts.boiling_temperature()?.si();
    let court = Court { curve: curve.since_shutting(), dish, facts, middle, until, boiling };
    let mut findings = Vec::new();
    for limit in limits {
        if let Some(ruling) = court.rule(limit)? {
            findings.push(Finding {
                limit: limit.clone(),
                outcome: ruling.outcome,
                reason: ruling.reason,
                moments: ruling.moments,
                margin: ruling.margin,
                message: wording::finding(limit, &ruling, facts),
                to_do: wording::to_do(limit, &ruling, facts),
            });
        }
    }
    Ok(findings)
}

/// A finding before it is put in words.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ruling {
    pub outcome: Outcome,
    pub reason: Reason,
    pub moments: Option<Moments>,
    pub margin: Option<Margin>,
    /// Lowest cautious temperature before it is eaten (K), and when (s).
    pub lowest: Option<(f64, f64)>,
    /// Whether the cautious end of the curve is one, at the coldest spot: only then is a moment a deadline.
    pub certain: bool,
}

struct Court<'a> {
    /// From shutting on.
    curve: Curve,
    dish: &'a DishFacts,
    facts: &'a PlanFacts,
    /// The coldest spot in the middle of pieces, simmer included, where it was needed and can be told.
    middle: Option<Curve>,
    /// When it is eaten, s.
    until: f64,
    /// Boiling point, K.
    boiling: f64,
}

impl Court<'_> {
    fn rule(&self, limit: &Limit) -> Result<Option<Ruling>, Error> {
        match limit.rule() {
            Rule::HotHolding { at_least } => Ok(Some(self.hot_holding(at_least.si()))),
            Rule::ColdHolding { at_most } => self.cold_holding(*at_most).map(Some),
            Rule::TimeLimit { from, to, at_most, .. } => Ok(Some(self.time_limit(from.si(), to.si(), at_most.si()))),
            Rule::Cooking { temperature, held } => Ok(Some(self.cooking(temperature.si(), held.si()))),
            Rule::Equivalent(table) => Ok(Some(self.equivalent(table))),
            Rule::Cooling { from, to, within } => Ok(self.cooling(from.si(), to.si(), within.si())),
            Rule::Growth { at_most } => self.growth(at_most.si()).map(Some),
            Rule::NoGrowth { to, .. } => Ok(Some(self.no_growth(to.si()))),
            Rule::Reheating { rows, within } => Ok(self.reheating(rows, within.map(Si::si))),
            Rule::Boiling { temperature, time, soak } => Ok(Some(self.boil(temperature.si(), *time, *soak))),
            Rule::SporeToxin { to, at_most } => Ok(Some(self.spore_toxin(to.si(), at_most.si()))),
            Rule::Preparation => Ok(Some(Ruling { reason: Reason::NeedsPreparation, ..plain(Outcome::CannotTell) })),
        }
    }

    /// The curve tells of the coldest spot of this dish.
    fn is_coldest(&self) -> bool {
        self.curve.spot() == Spot::Coldest || self.is_stirred()
    }

    /// One temperature throughout.
    fn is_stirred(&self) -> bool {
        self.facts.circulation(self.dish) == Circulation::Stirred
    }

    /// `Misses` by the best value; `Meets` only if nothing stands against it.
    fn settle(&self, misses_by_best: bool, meets_at_cautious: bool, coldest: bool) -> Ruling {
        let (outcome, reason) = if misses_by_best {
            (Outcome::Misses, Reason::NotKept)
        } else if !self.curve.has_range() {
            (Outcome::CannotTell, Reason::NoRange)
        } else if !coldest {
            (Outcome::CannotTell, Reason::NotColdestSpot)
        } else if meets_at_cautious {
            (Outcome::Meets, Reason::Kept)
        } else {
            (Outcome::CannotTell, Reason::RangeStraddles)
        };
        Ruling { reason, certain: self.curve.has_range() && coldest, ..plain(outcome) }
    }

    fn hot_holding(&self, level: f64) -> Ruling {
        let start = self.curve.start();
        let falls = |end| self.curve.track(end).first_below(level, start).is_some_and(|time| time < self.until);
        let lowest = self.curve.track(End::Cautious).lowest(self.until);
        // At the very moment of serving it may lie below without having fallen before: the lowest value decides.
        let kept = !falls(End::Cautious) && lowest.1 >= level;
        Ruling {
            moments: Some(self.curve.moments(|track| track.first_below(level, start))),
            margin: Some(Margin::Temperature(kelvins(lowest.1 - level))),
            lowest: Some((lowest.1, lowest.0)),
            ..self.settle(falls(End::Best), kept, self.is_coldest())
        }
    }

    /// The warm end is the cautious one, and the edge of a stiff dish the warmest spot, of which no curve tells.
    fn cold_holding(&self, at_most: Temperature) -> Result<Ruling, Error> {
        let (level, start) = (at_most.si(), self.curve.start());
        let rises = |end| self.curve.track(end).first_above(level, start).is_some_and(|time| time < self.until);
        let highest = self.curve.track(End::Generous).highest(self.until);
        let mut ruling = self.settle(rises(End::Best), !rises(End::Generous) && highest <= level, self.is_stirred());
        if ruling.reason == Reason::NotColdestSpot {
            ruling.reason = Reason::NotWarmestSpot;
        }
        Ok(Ruling {
            moments: Some(self.curve.rises_above(at_most)?),
            margin: Some(Margin::Temperature(kelvins(level - highest))),
            ..ruling
        })
    }

    fn time_limit(&self, from: f64, to: f64, at_most: f64) -> Ruling {
        let below = |end, level| self.curve.track(end).time_below(level, self.until);
        // The longest possible time in the band: below its upper end at the cautious end, less what is surely below it.
        let most = below(End::Cautious, to) - below(End::Generous, from);
        let best = below(End::Best, to) - below(End::Best, from);
        Ruling {
            moments: Some(self.curve.moments(|track| track.spent_below(to, at_most))),
            margin: Some(Margin::Time(Time::from_si(at_most - most))),
            ..self.settle(best > at_most, most <= at_most, self.is_coldest())
        }
    }

    fn unknown_middle() -> Ruling {
        Ruling { reason: Reason::PieceCore, ..plain(Outcome::CannotTell) }
    }

    fn cooking(&self, level: f64, held: f64) -> Ruling {
        let Some(middle) = &self.middle else { return Self::unknown_middle() };
        let reached = |end| middle.track(end).held_above(level, held, self.until);
        let cautious = reached(End::Cautious);
        let coldest = self.is_coldest_middle(middle, cautious);
        Ruling {
            moments: Some(middle.moments(|track| track.held_above(level, held, self.until))),
            margin: Some(Margin::Temperature(kelvins(middle.track(End::Cautious).highest(self.until) - level))),
            ..self.settle(reached(End::Best).is_none(), cautious.is_some(), coldest)
        }
    }

    /// Whether a middle is that of the coldest piece; what was reached on the stove, where the liquid boils through, was
    /// reached everywhere.
    fn is_coldest_middle(&self, middle: &Curve, reached: Option<f64>) -> bool {
        let on_the_stove = reached.is_some_and(|time| time < self.curve.start());
        middle.spot() == Spot::Coldest || self.is_stirred() || on_the_stove
    }

    fn equivalent(&self, table: &Equivalents) -> Ruling {
        let Some(middle) = &self.middle else { return Self::unknown_middle() };
        let levels = table.temperatures();
        let rate = |t: f64| table.required(t).map_or(0.0, |time| 1.0 / time);
        let share = |end, until| middle.track(end).integral(until, 1.0, &levels, rate);
        let reached = |end| {
            if share(end, self.until) < 1.0 {
                return None;
            }
            let (mut low, mut high) = (middle.start(), self.until);
            while high - low > 1.0 {
                let at = f64::midpoint(low, high);
                if share(end, at) < 1.0 { low = at } else { high = at }
            }
            Some(high)
        };
        let times = [End::Cautious, End::Best, End::Generous].map(reached);
        let moment = |time: Option<f64>| match time {
            Some(time) => Moment::At(Time::from_si(time)),
            None => Moment::PastHorizon(Time::from_si(self.until)),
        };
        let coldest = self.is_coldest_middle(middle, times[0]);
        Ruling {
            moments: Some(Moments { cautious: moment(times[0]), best: moment(times[1]), generous: moment(times[2]) }),
            margin: Some(Margin::Share(share(End::Cautious, self.until) - 1.0)),
            ..self.settle(times[1].is_none(), times[0].is_some(), coldest)
        }
    }

    /// The spot that cools last counts here: of a stiff dish no curve tells of it.
    fn cooling(&self, from: f64, to: f64, within: f64) -> Option<Ruling> {
        if !self.facts.leftovers_cool_inside() {
            return None;
        }
        let (start, end) = (self.curve.start(), self.curve.end());
        let passes = |line, level| self.curve.track(line).first_below(level, start);
        let began = passes(End::Best, from);
        let earliest = passes(End::Cautious, from);
        let (best, latest) = (passes(End::Best, to), passes(End::Generous, to));
        // Not there yet counts from where it stands: it takes at least as long as the curve goes on.
        let took = began.map_or(0.0, |began| best.unwrap_or(end) - began);
        let most = latest.zip(earliest).map(|(latest, earliest)| latest - earliest);
        let mut ruling = self.settle(took > within, most.is_some_and(|most| most <= within), true);
        if ruling.outcome != Outcome::Misses && best.is_none() {
            ruling = Ruling { reason: Reason::CurveTooShort, ..plain(Outcome::CannotTell) };
        } else if ruling.outcome == Outcome::Meets && !self.is_stirred() {
            ruling = Ruling { reason: Reason::NotWarmestSpot, ..plain(Outcome::CannotTell) };
        }
        let lasted = most.unwrap_or(earliest.map_or(0.0, |earliest| end - earliest));
        Some(Ruling {
            moments: Some(self.curve.moments(|track| track.first_below(to, start))),
            margin: Some(Margin::Time(Time::from_si(within - lasted))),
            ..ruling
        })
    }

    /// When growth ends: when it is eaten, or with the curve.
    fn grows_until(&self) -> f64 {
        if self.facts.leftovers_cool_inside() { self.curve.end() } else { self.until }
    }

    /// Whether no spot of the dish falls below a temperature (K) while something may grow.
    fn stays_above(&self, level: f64) -> bool {
        self.is_coldest() && self.curve.track(End::Cautious).lowest(self.grows_until()).1 >= level
    }

    fn growth(&self, at_most: f64) -> Result<Ruling, Error> {
        let organism = organism(self.dish);
        let growth = Growth::along(&self.curve, Time::from_si(self.grows_until()), &organism)?;
        let mut ruling = self.settle(growth.best > at_most, growth.cautious <= at_most, self.is_coldest());
        // Between its edge and its middle a stiff dish may be at the worst temperature, whatever the curve is at.
        let everywhere = self.is_stirred() || self.stays_above(organism.maximum().si());
        if ruling.outcome == Outcome::Meets && !everywhere {
            ruling = Ruling { reason: Reason::NotWarmestSpot, ..plain(Outcome::CannotTell) };
        }
        Ok(Ruling { margin: Some(Margin::PowersOfTen(at_most - growth.cautious)), ..ruling })
    }

    /// Growth that is not computed: excluded only while the food is too hot for it.
    fn no_growth(&self, to: f64) -> Ruling {
        let lowest = self.curve.track(End::Cautious).lowest(self.grows_until());
        let mut ruling = self.settle(false, self.stays_above(to), self.is_coldest());
        if ruling.reason == Reason::RangeStraddles {
            ruling.reason = Reason::NotComputed;
        }
        let start = self.curve.start();
        Ruling {
            moments: Some(self.curve.moments(|track| track.first_below(to, start))),
            margin: Some(Margin::Temperature(kelvins(lowest.1 - to))),
            ..ruling
        }
    }

    /// The worst of the reheatings of the plan, and of the one after serving.
    fn reheating(&self, table: &Equivalents, within: Option<f64>) -> Option<Ruling> {
        let planned = self.facts.planned_reheatings().filter(|(time, _)| time.si() < self.until);
        let planned = planned.map(|(time, _)| self.planned_reheating(table, within, time.si()));
        let after = self.facts.reheating().map(|_| self.reheating_after(table, within));
        let rank = |ruling: &Ruling| match ruling.outcome {
            Outcome::Misses => 0,
            Outcome::CannotTell => 1,
            Outcome::Meets => 2,
        };
        planned.chain(after.into_iter().flatten()).min_by_key(rank)
    }

    /// A reheating of the plan, seen in the curve of the middle: hot enough for long enough from then on, and, since a
    /// plan does not say how long the stove takes, not longer away from that temperature than the limit allows.
    fn planned_reheating(&self, table: &Equivalents, within: Option<f64>, time: f64) -> Ruling {
        let Some(middle) = &self.middle else { return Self::unknown_middle() };
        let held = |end, (t, s): (f64, f64)| middle.track(end).held_above_from(time - JUMP, t, s, self.until);
        let enough = |end| table.pairs().iter().any(|row| held(end, *row).is_some());
        let coldest = self.is_coldest_middle(middle, None);
        let mut ruling = self.settle(!enough(End::Best), enough(End::Cautious), coldest);
        let away = table
            .temperatures()
            .first()
            .and_then(|least| self.curve.track(End::Cautious).first_below(*least, self.curve.start()));
        let took = away.map_or(0.0, |away| (time - away).max(0.0));
        if ruling.outcome == Outcome::Meets && within.is_some_and(|within| took > within) {
            ruling = Ruling { reason: Reason::ReheatingTime, ..plain(Outcome::CannotTell) };
        }
        let at = Moment::At(Time::from_si(time));
        Ruling { moments: Some(Moments { cautious: at, best: at, generous: at }), ..ruling }
    }

    /// The reheating after serving, taken at its word: every spot reaches that temperature.
    fn reheating_after(&self, table: &Equivalents, within: Option<f64>) -> Option<Ruling> {
        let reheating = self.facts.reheating()?;
        let enough = table.rows().any(|(t, time)| reheating.temperature >= t && reheating.held >= time);
        let least =
            table.rows().filter(|(_, time)| reheating.held >= *time).map(|(t, _)| t.si()).fold(f64::NAN, f64::min);
        let margin = least.is_finite().then(|| kelvins(reheating.temperature.si() - least));
        let too_slow = within.zip(reheating.takes).is_some_and(|(within, takes)| takes.si() > within);
        let mut ruling = self.settle(!enough || too_slow, enough, true);
        if too_slow || (ruling.outcome == Outcome::Meets && within.is_some() && reheating.takes.is_none()) {
            ruling.reason = Reason::ReheatingTime;
            ruling.outcome = if too_slow { Outcome::Misses } else { Outcome::CannotTell };
        }
        Some(Ruling { margin: margin.map(Margin::Temperature), ..ruling })
    }

    fn boil(&self, temperature: f64, time: Time, soak: Time) -> Ruling {
        let margin = Some(Margin::Time(self.facts.full_boil_time() - time));
        if self.facts.full_boil_time() < time {
            return Ruling { reason: Reason::BoilTooShort, margin, ..plain(Outcome::Misses) };
        }
        if self.facts.soak_time() < soak {
            return Ruling { reason: Reason::SoakTooShort, margin, ..plain(Outcome::Misses) };
        }
        if self.boiling < temperature - WEATHER {
            return Ruling { reason: Reason::HeightLowersBoil, margin, ..plain(Outcome::CannotTell) };
        }
        // The boil happens on the stove, whatever the curve tells of.
        Ruling { margin, ..self.settle(false, true, true) }
    }

    fn spore_toxin(&self, to: f64, at_most: f64) -> Ruling {
        let below = |end| self.curve.track(end).time_below(to, self.until);
        let (most, best) = (below(End::Cautious), below(End::Best));
        let mut ruling = self.settle(best > at_most, most <= 0.0, self.is_coldest());
        if ruling.reason == Reason::RangeStraddles {
            ruling.reason = Reason::ToxinPossible;
        }
        let start = self.curve.start();
        Ruling {
            moments: Some(self.curve.moments(|track| track.first_below(to, start))),
            margin: Some(Margin::Time(Time::from_si(at_most - most))),
            ..ruling
        }
    }
}

/// The curve of the coldest spot in the middle of pieces, simmer included; `None` for pieces nothing is said of.
fn middle(curve: &Curve, dish: &DishFacts, facts: &PlanFacts) -> Result<Option<Curve>, Error> {
    let largest = dish.pieces().map_or(millimetres(LARGEST), |usual| usual.largest);
    if facts.pieces().iter().any(|piece| piece.frozen || piece.stuffed || piece.thickness > largest) {
        return Ok(None);
    }
    if let Some(computed) = curve.coldest_middle() {
        return Ok(Some(computed));
    }
    let thicker = |one: Length, other: Length| if other > one { other } else { one };
    let told = facts.pieces().iter().map(|piece| piece.thickness).reduce(thicker);
    let simmer = facts.stove_time().si();
    let on_the_stove = weathered(facts.simmer_temperature()?.si());
    match told.or_else(|| dish.pieces().map(|usual| usual.usual)) {
        None => Ok(Some(curve.since_shutting().after_simmer(on_the_stove, simmer))),
        Some(thickness) => {
            let piece = PieceCentre::new(thickness, celsius(PIECE_START))?;
            piece.after(&curve.since_shutting(), on_the_stove, simmer).map(Some)
        }
    }
}

fn plain(outcome: Outcome) -> Ruling {
    Ruling { outcome, reason: Reason::NotKept, moments: None, margin: None, lowest: None, certain: false }
}

/// The organism parameters nearest to a dish.
pub(super) fn organism(dish: &DishFacts) -> CardinalTemperatures {
    if dish.hazards().contains(&Hazard::Poultry) {
        CardinalTemperatures::roast_chicken()
    } else {
        CardinalTemperatures::braised_beef()
    }
}

/// Growth in a dish that may harbour spore-formers, from shutting until it is eaten, or to the end of a curve in which
/// leftovers cool.
pub(super) fn growth_in(curve: &Curve, dish: &DishFacts, facts: &PlanFacts) -> Result<Option<Growth>, Error> {
    if !dish.hazards().contains(&Hazard::SporeFormers) {
        return Ok(None);
    }
    let until = if facts.leftovers_cool_inside() { curve.end() } else { served(curve, facts)? };
    Growth::along(&curve.since_shutting(), Time::from_si(until), &organism(dish)).map(Some)
}
