//! Cooked? What a curve adds to the simmer, what is missing, and how long to simmer so that nothing is.

use super::curve::{Curve, End, Moments};
use super::dish_facts::DishFacts;
use super::kinetics::Kinetics;
use super::lethality::{inside, sums};
use super::plan_facts::PlanFacts;
use crate::error::{Error, ErrorKind, Within};
use crate::setup::{Moment, Plan, Range};
use crate::units::bounds::in_range;
use crate::units::{Si, Temperature, Time, celsius, hours, minutes};

/// The weather moves the boiling point by about as much (ESTIMATE), K.
pub(super) const WEATHER: f64 = 1.0;

/// Cooking value along a curve up to `until`: the time at the reference temperature of the kinetics that cooks as far.
///
/// Low takes the cautious line of the curve and the law that is slowest at each temperature (and nothing below the
/// temperature at which cooking stops, where the kinetics has one); high the generous line and the fastest law.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a time outside the curve.
pub fn cooking_value(curve: &Curve, until: Time, kinetics: &Kinetics) -> Result<Range<Time>, Error> {
    let until = inside(curve, until).within("cooking value")?;
    let [low, best, high] = values(curve, until, kinetics);
    Ok(Range::of_members(low, best, high))
}

fn values(curve: &Curve, until: f64, kinetics: &Kinetics) -> [f64; 3] {
    // Where the slowest and the fastest law change places, and where the cautious end stops crediting.
    let levels: Vec<f64> = [kinetics.reference].into_iter().chain(kinetics.stops_below).collect();
    sums(curve, until, &levels, [&|t| kinetics.slowest(t), &|t| kinetics.middle(t), &|t| kinetics.fastest(t)])
}

/// How far a dish has cooked. Every time but `done_at`, `second_boil` and `stove_time_saved` is told at the reference temperature of its
/// kinetics (equivalent simmer minutes).
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Doneness {
    /// What it takes in all: its usual simmer.
    pub needed: Range<Time>,
    /// What the simmer before shutting gave.
    pub before_shutting: Range<Time>,
    /// What the hours in the box gave.
    pub in_the_box: Range<Time>,
    /// When it is done, after shutting: zero if it was done before. The generous end is the earliest.
    pub done_at: Moments,
    /// What is missing when it is served; zero if nothing. Low is the generous end.
    pub missing: Range<Time>,
    /// How long a second boil at the local boiling point, after serving time, makes up for what is missing. Low is the
    /// generous end.
    pub second_boil: Range<Time>,
    /// Simmering at the local boiling point that the box did instead: what the dish usually takes there, less the simmer
    /// and the second boil. Negative where it was simmered for longer than it takes.
    pub stove_time_saved: Range<Time>,
}

impl Doneness {
    /// Whether it is done when served, even at the cautious end. Of a curve without a range, or of a stiff dish whose
    /// coldest spot is not told, that end is no cautious one.
    pub fn is_done_at_cautious_end(&self) -> bool {
        self.missing.high().si() <= 0.0
    }

    /// Whether it is done by the best value.
    pub fn is_done_by_best_value(&self) -> bool {
        self.missing.best().si() <= 0.0
    }
}

/// How far the dish cooks in the simmer of the plan and along the curve until it is served (or until the curve ends).
/// `None` for a dish whose kinetics or usual simmer is not known.
///
/// The simmer is credited at the temperature with which the pot leaves the stove, at most the boiling point of the
/// height. The usual simmer holds the lag of pieces of usual size in a boiling liquid; that of larger ones is not known.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a plan outside its ranges or a serving time outside the curve.
pub fn doneness(curve: &Curve, dish: &DishFacts, facts: &PlanFacts) -> Result<Option<Doneness>, Error> {
    facts.check()?;
    let (Some(kinetics), Some(usual)) = (dish.kinetics(), dish.usual_simmer()) else { return Ok(None) };
    // What was before shutting is told by the plan; a curve that begins on the stove would count it twice.
    let curve = &curve.since_shutting();
    let until = served(curve, facts)?;
    let boiling = facts.boiling_temperature()?.si();
    let simmered = facts.stove_time().si();
    let rates = |[cautious, best, generous]: [f64; 3]| {
        [kinetics.slowest(cautious), kinetics.middle(best), kinetics.fastest(generous)]
    };
    let before = rates(weathered(facts.simmer_temperature()?.si())).map(|rate| rate * simmered);
    let rates = rates(weathered(boiling));
    let inside = values(curve, until, kinetics);
    // The cautious end needs the longer simmer and has cooked least.
    let needs = [usual.high(), usual.best(), usual.low()].map(Si::si);
    let missing: [f64; 3] = std::array::from_fn(|i| (needs[i] - before[i] - inside[i]).max(0.0));
    if rates.iter().any(|rate| *rate <= 0.0) {
        return Err(Error::new(ErrorKind::Inconsistent, "does not cook at the boiling point of this height")
            .with_value(crate::units::write(Temperature::from_si(boiling)))
            .within("dish"));
    }
    let boil: [f64; 3] = std::array::from_fn(|i| missing[i] / rates[i]);
    let saved: [f64; 3] = std::array::from_fn(|i| needs[i] / rates[i] - simmered - boil[i]);
    let moment = |i: usize| {
        let wanted = needs[i] - before[i];
        match reached(curve, kinetics, i, wanted) {
            Some(time) => Moment::At(Time::from_si(time)),
            None => Moment::PastHorizon(curve.until()),
        }
    };
    Ok(Some(Doneness {
        needed: usual,
        before_shutting: Range::of_members(before[0], before[1], before[2]),
        in_the_box: Range::of_members(inside[0], inside[1], inside[2]),
        done_at: Moments { cautious: moment(0), best: moment(1), generous: moment(2) },
        missing: Range::of_members(missing[0], missing[1], missing[2]),
        second_boil: Range::of_members(boil[0], boil[1], boil[2]),
        stove_time_saved: Range::of_members(saved[0], saved[1], saved[2]),
    }))
}

/// A boiling point (K) as the weather moves it, by about 1 K (ESTIMATE): cautious, best, generous.
pub(super) fn weathered(boiling: f64) -> [f64; 3] {
    [boiling - WEATHER, boiling, boiling + WEATHER]
}

/// When the curve is served, s.
pub(super) fn served(curve: &Curve, facts: &PlanFacts) -> Result<f64, Error> {
    match facts.plan().serve_time() {
        None => Ok(curve.end()),
        Some(serve) => in_range("serve", serve, Time::from_si(curve.start()), curve.until()).within("plan"),
    }
}

/// When line `member` (0 cautious, 1 best, 2 generous) has cooked for `wanted` (s at the reference), by bisection: the
/// value grows with time.
fn reached(curve: &Curve, kinetics: &Kinetics, member: usize, wanted: f64) -> Option<f64> {
    let value = |until: f64| values(curve, until, kinetics)[member];
    if wanted <= 0.0 {
        return Some(curve.start());
    }
    let (mut low, mut high) = (curve.start(), curve.end());
    if value(high) < wanted {
        return None;
    }
    while high - low > 1.0 {
        let middle = f64::midpoint(low, high);
        if value(middle) < wanted { low = middle } else { high = middle }
    }
    Some(high)
}

/// The least simmer before shutting, in whole minutes.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct SimmerPlan {
    /// Enough at the cautious end; `None` if the longest that was tried is not.
    pub cautious: Option<Time>,
    /// Enough by the best value.
    pub best: Option<Time>,
}

/// How long to simmer before shutting so that the dish is done when served, tried up to `most` (1 min to 24 h).
///
/// `curve` gives the curve of a plan, which is that of `facts` with a simmer of whole minutes; it is asked some eight
/// times an answer. More simmer must not cook less.
///
/// # Errors
/// What `curve` says; [`ErrorKind::Inconsistent`] for a dish without kinetics or usual simmer; [`ErrorKind::OutOfRange`]
/// for another `most`, a plan outside its ranges, or a serving time outside a curve.
pub fn simmer_to_be_done(
    dish: &DishFacts,
    facts: &PlanFacts,
    most: Time,
    mut curve: impl FnMut(&Plan) -> Result<Curve, Error>,
) -> Result<SimmerPlan, Error> {
    let mut done = |simmer: Time, end: End| {
        let facts = with_simmer(facts, simmer);
        let doneness = doneness(&curve(facts.plan())?, dish, &facts)?.ok_or_else(|| {
            Error::new(ErrorKind::Inconsistent, "has no kinetics").with_value(dish.id()).within("dish")
        })?;
        Ok(match end {
            End::Cautious => doneness.is_done_at_cautious_end(),
            _ => doneness.is_done_by_best_value(),
        })
    };
    Ok(SimmerPlan {
        cautious: least_simmer(most, |simmer| done(simmer, End::Cautious))?,
        best: least_simmer(most, |simmer| done(simmer, End::Best))?,
    })
}

/// How long to simmer before shutting so that the middle of every piece reaches `target` (20 to 100 °C) before it is
/// served, by plan or by the end of the curve.
///
/// `curve` gives the curve of a plan with such a simmer: of a forecast with pieces, whose middles are read, or of the
/// spot in question, the simmer included, as [`PieceCentre::curve`](super::PieceCentre::curve) does.
///
/// # Errors
/// What `curve` says; [`ErrorKind::OutOfRange`] for another target or `most`, or a serving time outside a curve.
pub fn simmer_to_reach(
    target: Temperature,
    facts: &PlanFacts,
    most: Time,
    mut curve: impl FnMut(&Plan) -> Result<Curve, Error>,
) -> Result<SimmerPlan, Error> {
    let level = in_range("target", target, celsius(20.0), celsius(100.0)).within("planner")?;
    let mut warm = |simmer: Time, end: End| {
        let facts = with_simmer(facts, simmer);
        let curve = curve(facts.plan())?;
        let until = served(&curve, &facts)?;
        let spot = curve.coldest_middle().unwrap_or(curve);
        Ok(spot.track(end).highest(until) >= level)
    };
    Ok(SimmerPlan {
        cautious: least_simmer(most, |simmer| warm(simmer, End::Cautious))?,
        best: least_simmer(most, |simmer| warm(simmer, End::Best))?,
    })
}

fn with_simmer(facts: &PlanFacts, simmer: Time) -> PlanFacts {
    // A full boil is part of the simmer here: the planner asks for the whole of it.
    let boil = facts.full_boil_time().min(simmer);
    facts.clone().full_boil(boil).simmered_for(simmer)
}

/// The least number of whole minutes up to `most` that is enough.
fn least_simmer(most: Time, mut enough: impl FnMut(Time) -> Result<bool, Error>) -> Result<Option<Time>, Error> {
    let most = (in_range("longest simmer", most, minutes(1.0), hours(24.0)).within("planner")? / 60.0).floor();
    if enough(minutes(0.0))? {
        return Ok(Some(minutes(0.0)));
    }
    if !enough(minutes(most))? {
        return Ok(None);
    }
    let (mut short, mut long) = (0.0, most);
    while long - short > 1.0 {
        let middle = f64::midpoint(short, long).floor();
        if enough(minutes(middle))? { long = middle } else { short = middle }
    }
    Ok(Some(minutes(long)))
}
