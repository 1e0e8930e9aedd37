//! Limits held against a curve, one finding each.

use super::cooking::served;
use super::curve::{Curve, End, Moments, Spot};
use super::dish_facts::{Circulation, DishFacts, Hazard};
use super::finding::{Finding, Margin, Outcome, Reason};
use super::growth::{CardinalTemperatures, Growth};
use super::limit::{Equivalents, Limit, Rule, Setting, Topic};
use super::piece_centre::PieceCentre;
use super::plan_facts::PlanFacts;
use super::shelf::Shelf;
use super::wording;
use crate::document::nearest;
use crate::error::{Error, ErrorKind};
use crate::setup::Moment;
use crate::units::{Si, Temperature, Time, celsius, kelvins, millimetres};

/// Pieces go in at this temperature unless told otherwise.
const PIECE_START: f64 = 5.0;
/// The weather moves the boiling point by about as much (ESTIMATE): so much below what is asked for still counts, K.
const WEATHER: f64 = 1.0;

/// Whose limits are judged.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Guidance {
    /// On each topic the strictest limit of household or catering, named.
    #[default]
    Strictest,
    /// Those of household and catering of one place ("Germany"); on topics for which it has none, the strictest.
    Place(String),
    /// Every limit there is.
    All,
}

impl Guidance {
    /// The guidance of a place, as limits name it.
    pub fn of(place: &str) -> Self {
        Guidance::Place(place.to_owned())
    }

    /// The limits that concern a dish, in the order of topics.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a place that no limit names, with the nearest ones.
    pub fn limits<'s>(
        &self,
        shelf: &'s Shelf<Limit>,
        dish: &DishFacts,
        facts: &PlanFacts,
    ) -> Result<Vec<&'s Limit>, Error> {
        if let Guidance::Place(place) = self {
            check_place(place, shelf)?;
        }
        let mut chosen = Vec::new();
        for topic in Topic::ALL {
            let about: Vec<&Limit> = shelf
                .iter()
                .filter(|limit| limit.topic() == topic && dish.has(limit.concerns()) && in_this_room(limit, facts))
                .collect();
            if *self == Guidance::All {
                chosen.extend(about);
                continue;
            }
            let ordinary = |limit: &&Limit| {
                limit.condition().is_none() && matches!(limit.setting(), Setting::Household | Setting::Catering)
            };
            let ordinary: Vec<&Limit> = about.into_iter().filter(ordinary).collect();
            let local: Vec<&Limit> = match self {
                Guidance::Place(place) => {
                    ordinary.iter().copied().filter(|limit| limit.places().contains(place)).collect()
                }
                _ => Vec::new(),
            };
            if local.is_empty() {
                chosen.extend(ordinary.into_iter().max_by(|a, b| a.strictness().total_cmp(&b.strictness())));
            } else {
                chosen.extend(local);
            }
        }
        Ok(chosen)
    }
}

fn check_place(place: &str, shelf: &Shelf<Limit>) -> Result<(), Error> {
    let mut known: Vec<&str> = shelf.iter().flat_map(|limit| limit.places().iter().map(String::as_str)).collect();
    known.sort_unstable();
    known.dedup();
    if known.contains(&place) {
        return Ok(());
    }
    let near = nearest(place, known.iter().map(|known| (*known, "")));
    let offered = if near.is_empty() { known } else { near };
    Err(Error::new(ErrorKind::UnknownName, "unknown place")
        .with_value(format!("{place:?}"))
        .with_accepted(offered.join(", "))
        .within("guidance"))
}

fn in_this_room(limit: &Limit, facts: &PlanFacts) -> bool {
    match limit.rule() {
        Rule::TimeLimit { room_above: Some(above), .. } => facts.room().is_some_and(|room| room > *above),
        _ => true,
    }
}

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
/// [`ErrorKind::OutOfRange`] for a plan outside its ranges or served outside the curve; [`ErrorKind::UnknownName`] for
/// a place that no limit names.
pub fn judge_by(
    shelf: &Shelf<Limit>,
    curve: &Curve,
    dish: &DishFacts,
    guidance: &Guidance,
    facts: &PlanFacts,
) -> Result<Vec<Finding>, Error> {
    facts.check()?;
    let court = Court { curve, dish, facts, until: served(curve, facts)?, boiling: facts.boiling_temperature()?.si() };
    let mut findings = Vec::new();
    for limit in guidance.limits(shelf, dish, facts)? {
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
}

struct Court<'a> {
    curve: &'a Curve,
    dish: &'a DishFacts,
    facts: &'a PlanFacts,
    /// When it is eaten, s.
    until: f64,
    /// Boiling point, K.
    boiling: f64,
}

impl Court<'_> {
    fn rule(&self, limit: &Limit) -> Result<Option<Ruling>, Error> {
        match limit.rule() {
            Rule::HotHolding { at_least } => Ok(Some(self.hot_holding(at_least.si()))),
            Rule::TimeLimit { from, to, at_most, .. } => Ok(Some(self.time_limit(from.si(), to.si(), at_most.si()))),
            Rule::Cooking { temperature, held } => self.cooking(temperature.si(), held.si()).map(Some),
            Rule::Equivalent(table) => self.equivalent(table).map(Some),
            Rule::Cooling { from, to, within } => Ok(self.cooling(from.si(), to.si(), within.si())),
            Rule::Growth { at_most } => self.growth(at_most.si()).map(Some),
            Rule::Reheating(table) => Ok(self.reheating(table)),
            Rule::Boiling { temperature, time, soak } => Ok(Some(self.boil(temperature.si(), *time, *soak))),
            Rule::SporeToxin { to, at_most } => Ok(Some(self.spore_toxin(to.si(), at_most.si()))),
            Rule::Preparation => Ok(Some(Ruling { reason: Reason::NeedsPreparation, ..plain(Outcome::CannotTell) })),
        }
    }

    /// The curve tells of the coldest spot of this dish.
    fn is_coldest(&self) -> bool {
        self.curve.spot() == Spot::Coldest || self.dish.circulation() == Circulation::Stirred
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
        Ruling { reason, ..plain(outcome) }
    }

    fn hot_holding(&self, level: f64) -> Ruling {
        let shut = self.curve.shut();
        let falls = |end| self.curve.track(end).first_below(level, shut).is_some_and(|time| time < self.until);
        let lowest = self.curve.track(End::Cautious).lowest(self.until);
        // At the very moment of serving it may lie below without having fallen before: the lowest value decides.
        let kept = !falls(End::Cautious) && lowest.1 >= level;
        Ruling {
            moments: Some(self.curve.moments(|track| track.first_below(level, shut))),
            margin: Some(Margin::Temperature(kelvins(lowest.1 - level))),
            lowest: Some((lowest.1, lowest.0)),
            ..self.settle(falls(End::Best), kept, self.is_coldest())
        }
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

    /// The curve of the coldest spot in the middle of pieces, simmer included; `None` for pieces nothing is known of.
    fn middle(&self) -> Result<Option<Curve>, Error> {
        let simmer = self.facts.simmer_time().max(self.facts.full_boil_time());
        let usual = self.dish.pieces();
        let thickness = match (self.facts.pieces(), usual) {
            (None, None) => return Ok(Some(self.curve.after_simmer(self.boiling, simmer.si()))),
            (Some(pieces), usual) => {
                let largest = usual.map_or(millimetres(40.0), |usual| usual.largest);
                if pieces.frozen || pieces.stuffed || pieces.thickness > largest {
                    return Ok(None);
                }
                pieces.thickness
            }
            (None, Some(usual)) => usual.usual,
        };
        let piece = PieceCentre::new(thickness, celsius(PIECE_START))?;
        piece.curve(simmer, Temperature::from_si(self.boiling), self.curve).map(Some)
    }

    fn unknown_middle() -> Ruling {
        Ruling { reason: Reason::PieceCore, ..plain(Outcome::CannotTell) }
    }

    fn cooking(&self, level: f64, held: f64) -> Result<Ruling, Error> {
        let Some(middle) = self.middle()? else { return Ok(Self::unknown_middle()) };
        let reached = |end| middle.track(end).held_above(level, held, self.until);
        let cautious = reached(End::Cautious);
        // On the stove a dish without pieces is stirred through and boils throughout.
        let on_the_stove = cautious.is_some_and(|time| time <= self.curve.start());
        let coldest = middle.spot() == Spot::Coldest || self.is_coldest() || on_the_stove;
        Ok(Ruling {
            moments: Some(middle.moments(|track| track.held_above(level, held, self.until))),
            margin: Some(Margin::Temperature(kelvins(middle.track(End::Cautious).highest(self.until) - level))),
            ..self.settle(reached(End::Best).is_none(), cautious.is_some(), coldest)
        })
    }

    fn equivalent(&self, table: &Equivalents) -> Result<Ruling, Error> {
        let Some(middle) = self.middle()? else { return Ok(Self::unknown_middle()) };
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
        let on_the_stove = times[0].is_some_and(|time| time <= self.curve.start());
        let coldest = middle.spot() == Spot::Coldest || self.is_coldest() || on_the_stove;
        Ok(Ruling {
            moments: Some(Moments { cautious: moment(times[0]), best: moment(times[1]), generous: moment(times[2]) }),
            margin: Some(Margin::Share(share(End::Cautious, self.until) - 1.0)),
            ..self.settle(times[1].is_none(), times[0].is_some(), coldest)
        })
    }

    fn cooling(&self, from: f64, to: f64, within: f64) -> Option<Ruling> {
        if !self.facts.leftovers_cool_inside() {
            return None;
        }
        let shut = self.curve.shut();
        let passes = |end, level| self.curve.track(end).first_below(level, shut);
        let began = passes(End::Best, from)?;
        let earliest = passes(End::Cautious, from).unwrap_or(began);
        let (best, latest) = (passes(End::Best, to), passes(End::Generous, to));
        // Not there yet counts from where it stands: it takes at least as long as the curve goes on.
        let took = best.unwrap_or(self.curve.end()) - began;
        let most = latest.map(|latest| latest - earliest);
        let mut ruling = self.settle(took > within, most.is_some_and(|most| most <= within), self.is_coldest());
        if ruling.outcome != Outcome::Misses && best.is_none() {
            ruling = Ruling { reason: Reason::CurveTooShort, ..plain(Outcome::CannotTell) };
        }
        let lasted = most.unwrap_or(self.curve.end() - earliest);
        Some(Ruling {
            moments: Some(self.curve.moments(|track| track.first_below(to, shut))),
            margin: Some(Margin::Time(Time::from_si(within - lasted))),
            ..ruling
        })
    }

    fn growth(&self, at_most: f64) -> Result<Ruling, Error> {
        let until = if self.facts.leftovers_cool_inside() { self.curve.end() } else { self.until };
        let growth = Growth::along(self.curve, Time::from_si(until), &organism(self.dish))?;
        Ok(Ruling {
            margin: Some(Margin::PowersOfTen(at_most - growth.cautious)),
            ..self.settle(growth.best > at_most, growth.cautious <= at_most, self.is_coldest())
        })
    }

    fn reheating(&self, table: &Equivalents) -> Option<Ruling> {
        let reheating = self.facts.reheating()?;
        let enough = table.rows().any(|(t, time)| reheating.temperature >= t && reheating.held >= time);
        let least =
            table.rows().filter(|(_, time)| reheating.held >= *time).map(|(t, _)| t.si()).fold(f64::NAN, f64::min);
        let margin = least.is_finite().then(|| kelvins(reheating.temperature.si() - least));
        // The plan is taken at its word: every spot reaches that temperature.
        Some(Ruling { margin: margin.map(Margin::Temperature), ..self.settle(!enough, enough, true) })
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
        let shut = self.curve.shut();
        Ruling {
            moments: Some(self.curve.moments(|track| track.first_below(to, shut))),
            margin: Some(Margin::Time(Time::from_si(at_most - most))),
            ..ruling
        }
    }
}

fn plain(outcome: Outcome) -> Ruling {
    Ruling { outcome, reason: Reason::NotKept, moments: None, margin: None, lowest: None }
}

/// The organism parameters nearest to a dish.
pub(super) fn organism(dish: &DishFacts) -> CardinalTemperatures {
    if dish.hazards().contains(&Hazard::Poultry) {
        CardinalTemperatures::roast_chicken()
    } else {
        CardinalTemperatures::braised_beef()
    }
}

/// Growth in a dish that may harbour spore-formers.
pub(super) fn growth_in(curve: &Curve, dish: &DishFacts, facts: &PlanFacts) -> Result<Option<Growth>, Error> {
    if !dish.hazards().contains(&Hazard::SporeFormers) {
        return Ok(None);
    }
    let until = if facts.leftovers_cool_inside() { curve.end() } else { served(curve, facts)? };
    Growth::along(curve, Time::from_si(until), &organism(dish)).map(Some)
}
