//! Findings in words. Nothing here promises: a prediction can say that a limit is kept, not what that means for the eater.

use super::cooking::WEATHER;
use super::curve::Moments;
use super::finding::{Margin, Outcome, Reason};
use super::judge::Ruling;
use super::limit::{Limit, Rule, Topic};
use super::message::{Message, clock, clock_up, degrees};
use super::plan_facts::PlanFacts;
use crate::setup::Moment;
use crate::units::{Si, Time, write_rounded};

const MEASURE: &str = "Measure it when you open it.";
const REHEATING: &str = "Reheating does not undo toxins.";

/// What was found: place, limit, and how the curve stands to it.
pub(super) fn finding(limit: &Limit, ruling: &Ruling, facts: &PlanFacts) -> Message {
    let detail = match ruling.reason {
        Reason::Kept | Reason::NotKept | Reason::RangeStraddles | Reason::ToxinPossible => told(limit, ruling, facts),
        Reason::NoRange | Reason::NotColdestSpot if matches!(limit.topic(), Topic::HotHolding | Topic::SporeToxin) => {
            format!("{} {}", because(ruling.reason, facts), told(limit, ruling, facts))
        }
        Reason::NotWarmestSpot if limit.topic() == Topic::ColdHolding => {
            "The dish is stiff: its edge is warmer than computed.".to_owned()
        }
        other => because(other, facts),
    };
    let text = format!("{}: {}: {}. {detail}", limit.origin(), limit.name(), ruling.outcome);
    let mut message = Message::new(code(limit.topic()), text.trim_end())
        .with("limit", limit.id())
        .with("place", limit.places().join(", "))
        .with("outcome", ruling.outcome.to_string())
        .with("reason", reason_code(ruling.reason));
    if let Some(moments) = &ruling.moments {
        message = message
            .with("moment-cautious", span(moments.cautious))
            .with("moment-best", span(moments.best))
            .with("moment-generous", span(moments.generous));
    }
    if let Some(margin) = ruling.margin {
        message = message.with("margin", spoken(margin));
    }
    if let Some((lowest, when)) = ruling.lowest {
        message = message.with("lowest", degrees(lowest)).with("lowest-at", clock(when));
    }
    message
}

fn code(topic: Topic) -> &'static str {
    match topic {
        Topic::HotHolding => "hot-holding",
        Topic::ColdHolding => "cold-holding",
        Topic::TimeLimit => "time-limit",
        Topic::Cooking => "cooking-through",
        Topic::Cooling => "cooling",
        Topic::Reheating => "reheating",
        Topic::Growth => "growth",
        Topic::Boiling => "full-boil",
        Topic::SporeToxin => "spore-toxin",
        Topic::Preparation => "preparation",
    }
}

fn reason_code(reason: Reason) -> &'static str {
    match reason {
        Reason::Kept => "kept",
        Reason::NotKept => "not-kept",
        Reason::RangeStraddles => "range-straddles",
        Reason::NoRange => "no-range",
        Reason::NotColdestSpot => "not-coldest-spot",
        Reason::NotWarmestSpot => "not-warmest-spot",
        Reason::PieceCore => "piece-core",
        Reason::CurveTooShort => "curve-too-short",
        Reason::BoilTooShort => "boil-too-short",
        Reason::SoakTooShort => "soak-too-short",
        Reason::HeightLowersBoil => "height-lowers-boil",
        Reason::ToxinPossible => "toxin-possible",
        Reason::ReheatingTime => "reheating-time",
        Reason::NotComputed => "not-computed",
        Reason::NeedsPreparation => "needs-preparation",
    }
}

/// From shutting to a moment, rounded down.
fn span(moment: Moment) -> String {
    match moment {
        Moment::At(time) => clock(time.si()),
        Moment::PastHorizon(horizon) => format!("more than {}", clock(horizon.si())),
    }
}

/// How long it stays above a limit.
fn above(moments: &Moments) -> String {
    let [cautious, best, longest] = [moments.cautious, moments.best, moments.generous].map(span);
    if cautious == best && best == longest {
        return format!("Above it for {cautious} after shutting.");
    }
    format!("Above it for at least {cautious} after shutting (best estimate {best}, at most {longest}).")
}

/// How long it stays below a limit.
fn below(moments: &Moments) -> String {
    let [cautious, best, longest] = [moments.cautious, moments.best, moments.generous].map(span);
    format!("Not above it for at least {cautious} after shutting (best estimate {best}, at most {longest}).")
}

/// The same of a curve that is not that of the coldest spot, or has no range: no deadline.
fn mean_above(moments: &Moments) -> String {
    format!("Its mean may be above it for {} after shutting, its coldest spot for less.", span(moments.cautious))
}

/// A moment after shutting until which something lasts, rounded down.
fn until(moment: Moment) -> String {
    told_at(moment, clock)
}

/// A moment after shutting at which something is reached, rounded up.
pub(super) fn reached(moment: Moment) -> String {
    told_at(moment, clock_up)
}

fn told_at(moment: Moment, clock: fn(f64) -> String) -> String {
    match moment {
        Moment::At(time) if time.si() < 0.0 => "before shutting".to_owned(),
        Moment::At(time) if time.si() == 0.0 => "when it is shut".to_owned(),
        Moment::At(time) => format!("after {}", clock(time.si())),
        Moment::PastHorizon(horizon) => format!("not within {}", super::message::clock(horizon.si())),
    }
}

/// "after 5 h at the earliest (best after 7 h, latest not within 9 h)".
fn lasting(moments: &Moments) -> String {
    let [cautious, best, latest] = [moments.cautious, moments.best, moments.generous].map(until);
    if cautious == best && best == latest {
        return cautious;
    }
    format!("{cautious} at the earliest (best estimate {best}, latest {latest})")
}

/// "after 2 h at the latest (best after 1 h)".
pub(super) fn reaching(moments: &Moments) -> String {
    let [cautious, best] = [moments.cautious, moments.best].map(reached);
    if cautious == best {
        return cautious;
    }
    format!("{cautious} at the cautious end (best estimate {best})")
}

fn spoken(margin: Margin) -> String {
    match margin {
        Margin::Temperature(interval) => write_rounded(interval, 2),
        Margin::Time(time) if time.si() < 0.0 => format!("-{}", clock_up(-time.si())),
        Margin::Time(time) => clock(time.si()),
        Margin::PowersOfTen(powers) => format!("{powers:.1} powers of ten"),
        Margin::Share(share) => format!("{:.0} %", 100.0 * share),
    }
}

/// How the curve stands to a limit that it can be held against.
fn told(limit: &Limit, ruling: &Ruling, facts: &PlanFacts) -> String {
    let above = ruling.moments.as_ref().map(if ruling.certain { above } else { mean_above }).unwrap_or_default();
    let used_up = ruling.moments.as_ref().map(lasting).unwrap_or_default();
    let comes = ruling.moments.as_ref().map(reaching).unwrap_or_default();
    let spare = ruling.margin.map(spoken).unwrap_or_default();
    let met = ruling.outcome == Outcome::Meets;
    match (limit.topic(), met) {
        (Topic::HotHolding | Topic::SporeToxin, _) => above,
        (Topic::ColdHolding, _) => ruling.moments.as_ref().map(below).unwrap_or_default(),
        (Topic::TimeLimit, true) => format!("To spare at the cautious end: {spare}."),
        (Topic::TimeLimit, false) => format!("That time is used up {used_up}."),
        (Topic::Cooking, true) => format!("Reached {comes}."),
        (Topic::Cooking, false) => format!("Reached {comes}; margin at the cautious end: {spare}."),
        (Topic::Cooling, _) => format!("Cooled {comes}; margin at the cautious end: {spare}."),
        (Topic::Growth, _) => format!("Margin at the cautious end: {spare}."),
        (Topic::Reheating, _) => {
            let planned = facts.planned_reheatings().map(|(_, to)| to);
            let planned: Vec<String> =
                planned.chain(facts.reheating().map(|r| r.temperature)).map(|t| degrees(t.si())).collect();
            format!("Planned: {}. {REHEATING}", planned.join(", "))
        }
        (Topic::Boiling, _) => {
            format!(
                "Boiled hard for {}, soaked for {}.",
                clock(facts.full_boil_time().si()),
                clock(facts.soak_time().si())
            )
        }
        (Topic::Preparation, _) => String::new(),
    }
}

/// Why nothing can be said, or what was left undone.
fn because(reason: Reason, facts: &PlanFacts) -> String {
    match reason {
        Reason::NoRange => "The curve has no range: nothing says how wrong it may be.".to_owned(),
        Reason::NotColdestSpot => "The dish is stiff: its edge is colder than computed.".to_owned(),
        Reason::NotWarmestSpot => "The dish is stiff: its middle cools slower than computed.".to_owned(),
        Reason::PieceCore => {
            "The temperature of the pot is not that of the middle of large, frozen or stuffed pieces.".to_owned()
        }
        Reason::CurveTooShort => "The computed curve ends before it has cooled.".to_owned(),
        Reason::BoilTooShort => {
            format!(
                "{} planned; a simmer, or standing hot, does not count as one.",
                some("full boil", facts.full_boil_time())
            )
        }
        Reason::SoakTooShort => format!("{} planned.", some("soak", facts.soak_time())),
        Reason::HeightLowersBoil => match facts.boiling_temperature() {
            Ok(boiling) => format!("At this height water boils at {}.", degrees(boiling.si())),
            Err(_) => "At this height water does not boil hot enough.".to_owned(),
        },
        Reason::ReheatingTime => match facts.reheating().and_then(|reheating| reheating.takes) {
            Some(takes) => format!("It takes {} to get there. {REHEATING}", clock_up(takes.si())),
            None => format!("Hot enough, but how long it takes to get there is not told. {REHEATING}"),
        },
        Reason::NotComputed => "Its growth is not computed: only heat above its range excludes it.".to_owned(),
        Reason::NeedsPreparation => "No temperature tells whether that was done.".to_owned(),
        Reason::Kept | Reason::NotKept | Reason::RangeStraddles | Reason::ToxinPossible => String::new(),
    }
}

/// "No soak is", "A soak of 3 h is".
fn some(what: &str, time: Time) -> String {
    if time.si() <= 0.0 { format!("No {what} is") } else { format!("A {what} of {} is", clock(time.si())) }
}

/// What to do about it.
pub(super) fn to_do(limit: &Limit, ruling: &Ruling, facts: &PlanFacts) -> Message {
    let met = ruling.outcome == Outcome::Meets;
    let cautious = ruling.moments.map(|moments| moments.cautious);
    match limit.topic() {
        Topic::HotHolding if met => Message::new("measure", MEASURE),
        Topic::HotHolding if !ruling.certain => no_deadline(ruling),
        Topic::TimeLimit | Topic::SporeToxin if !ruling.certain && ruling.outcome == Outcome::CannotTell => {
            no_deadline(ruling)
        }
        Topic::HotHolding if ruling.outcome == Outcome::Misses => missed(cautious),
        Topic::HotHolding => hot(cautious),
        Topic::ColdHolding if met => Message::new("measure", MEASURE),
        Topic::ColdHolding => chilled(cautious),
        Topic::TimeLimit if met && !lukewarm(limit, ruling) => Message::new("measure", MEASURE),
        Topic::TimeLimit if met => Message::new("count-time", "Count the time it has been lukewarm."),
        Topic::TimeLimit => Message::new(
            "discard-when-used-up",
            format!("Once that time is used up, follow the rule of your place: most say throw it away. {REHEATING}"),
        ),
        Topic::Cooking if met => Message::new("measure-middle", "Measure the middle of the thickest piece."),
        Topic::Cooking => Message::new(
            "cook-through",
            "Simmer longer or cut smaller, thaw first, and measure the middle of the thickest piece before eating.",
        ),
        Topic::Cooling | Topic::Growth if met => Message::new("chill", "Chill what is left over."),
        Topic::Cooling | Topic::Growth => Message::new(
            "cool-outside",
            "Do not let it cool shut in: take it out, spread it in shallow dishes, chill it.",
        ),
        Topic::Reheating if met => Message::new("measure-reheated", "Measure every part of it when it is hot again."),
        Topic::Reheating if ruling.reason == Reason::ReheatingTime => {
            Message::new("reheat-faster", "Heat it through fast: on the stove, stirred, in small amounts.")
        }
        Topic::Reheating => Message::new("reheat-hotter", "Heat every part of it hotter, or longer."),
        Topic::Boiling => boil(limit, ruling, facts),
        Topic::SporeToxin if met => Message::new("chill", "Chill what is left over at once, spread thin."),
        Topic::SporeToxin => keep_hot(cautious),
        Topic::Preparation => Message::new(
            "prepare",
            "Prepare it as is customary where it is grown. Neither boiling, keeping it hot nor reheating makes up for it.",
        ),
    }
}

/// A deadline where spores may make a toxin, and what a missed one means.
fn keep_hot(cautious: Option<Moment>) -> Message {
    let bin = format!("What was lukewarm for long belongs in the bin. {REHEATING}");
    match cautious {
        Some(Moment::At(time)) if time.si() >= 60.0 => {
            let within = clock(time.si());
            let text = format!(
                "As spores may make a toxin in it, eat it within {within} of shutting, or keep it hotter. {bin}"
            );
            Message::new("keep-hot-or-discard", text).with("within", within)
        }
        _ => Message::new("keep-hot-or-discard", format!("As spores may make a toxin in it, keep it hotter. {bin}")),
    }
}

/// Moments of a curve that has no range or is not that of the coldest spot are no deadlines.
fn no_deadline(ruling: &Ruling) -> Message {
    let late = if ruling.outcome == Outcome::Misses { "It is planned to be eaten too late. " } else { "" };
    if ruling.reason == Reason::NoRange {
        return Message::new("measure-often", "Measure it: the times told may be too long.");
    }
    Message::new(
        "measure-edge",
        format!(
            "{late}Stir it through before you shut it in, and measure where it is coldest, at its edge and base: the \
             times told are too long for that."
        ),
    )
}

/// Whether any of the time allowed is used at the cautious end.
fn lukewarm(limit: &Limit, ruling: &Ruling) -> bool {
    match (limit.rule(), ruling.margin) {
        (Rule::TimeLimit { at_most, .. }, Some(Margin::Time(spare))) => spare < *at_most,
        _ => true,
    }
}

/// A deadline, whose last minute is that of the cautious end.
fn hot(cautious: Option<Moment>) -> Message {
    match cautious {
        Some(Moment::At(time)) if time.si() >= 60.0 => Message::new(
            "eat-or-boil-before",
            format!(
                "Eat it within {0} of shutting, or bring all of it back to the boil before then.",
                clock(time.si())
            ),
        )
        .with("within", clock(time.si())),
        Some(Moment::At(_)) => {
            Message::new("too-cold-at-once", "It is too cold from the start: shut it in at the boil.")
        }
        _ => Message::new("measure", MEASURE),
    }
}

/// A deadline for what is kept cold.
fn chilled(cautious: Option<Moment>) -> Message {
    match cautious {
        Some(Moment::At(time)) if time.si() >= 60.0 => {
            let within = clock(time.si());
            let text = format!("Eat it within {within} of shutting, or chill it before then, with fresh ice.");
            Message::new("eat-or-chill-before", text).with("within", within)
        }
        _ => Message::new("too-warm-at-once", "It is too warm from the start: shut it in colder, or with ice."),
    }
}

/// The same where serving as planned is too late.
fn missed(cautious: Option<Moment>) -> Message {
    let mut message = hot(cautious);
    if message.code == "eat-or-boil-before" {
        message.code = "eat-earlier";
        message.text = format!("It is planned to be eaten too late. {}", message.text);
    }
    message
}

fn boil(limit: &Limit, ruling: &Ruling, facts: &PlanFacts) -> Message {
    let Rule::Boiling { time, soak, temperature } = limit.rule() else {
        return Message::new("boil", "Boil it hard before it is shut in.");
    };
    if ruling.outcome == Outcome::Meets {
        return Message::new("boil", "Boil it hard, in fresh water, as planned.");
    }
    if let Ok(boiling) = facts.boiling_temperature()
        && boiling.si() < temperature.si() - WEATHER
    {
        // Told whatever else is missing: no open boil makes up for it here.
        let text = format!(
            "Water boils at {} here: soak for {}, boil it under pressure in fresh water, or use beans that were canned.",
            degrees(boiling.si()),
            clock(soak.si()),
        );
        return Message::new("boil-under-pressure", text).with("boiling-point", degrees(boiling.si()));
    }
    Message::new(
        "boil-first",
        format!(
            "Soak for {}, pour the water away, boil hard for {} in fresh water, then shut it in. {REHEATING}",
            clock(soak.si()),
            clock(time.si())
        ),
    )
    .with("soak", clock(soak.si()))
    .with("boil", clock(time.si()))
}
