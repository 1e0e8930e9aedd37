//! Findings in words. Nothing here promises: a prediction can say that a limit is kept, not what that means for the eater.

use super::curve::Moments;
use super::finding::{Margin, Outcome, Reason};
use super::judge::Ruling;
use super::limit::{Limit, Rule, Topic};
use super::message::{Message, clock, clock_up, degrees};
use super::plan_facts::PlanFacts;
use crate::setup::Moment;
use crate::units::{Si, write_rounded};

const REHEATING: &str = "Reheating does not undo toxins.";

/// What was found: place, limit, and how the curve stands to it.
pub(super) fn finding(limit: &Limit, ruling: &Ruling, facts: &PlanFacts) -> Message {
    let detail = match ruling.reason {
        Reason::Kept | Reason::NotKept | Reason::RangeStraddles | Reason::ToxinPossible => told(limit, ruling, facts),
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
            .with("moment-cautious", after(moments.cautious))
            .with("moment-best", after(moments.best))
            .with("moment-generous", after(moments.generous));
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
        Reason::PieceCore => "piece-core",
        Reason::CurveTooShort => "curve-too-short",
        Reason::BoilTooShort => "boil-too-short",
        Reason::SoakTooShort => "soak-too-short",
        Reason::HeightLowersBoil => "height-lowers-boil",
        Reason::ToxinPossible => "toxin-possible",
        Reason::NeedsPreparation => "needs-preparation",
    }
}

/// A moment after shutting.
pub(super) fn after(moment: Moment) -> String {
    match moment {
        Moment::At(time) if time.si() < 0.0 => "before shutting".to_owned(),
        Moment::At(time) => clock(time.si()),
        Moment::PastHorizon(horizon) => format!("not within {}", clock(horizon.si())),
    }
}

fn three(moments: &Moments) -> String {
    let [cautious, best, latest] = [moments.cautious, moments.best, moments.generous].map(after);
    if cautious == best && best == latest {
        return cautious;
    }
    format!("{cautious} (best {best}, latest {latest})")
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
    let when = ruling.moments.as_ref().map(three).unwrap_or_default();
    let spare = ruling.margin.map(spoken).unwrap_or_default();
    let met = ruling.outcome == Outcome::Meets;
    match (limit.topic(), met) {
        (Topic::HotHolding | Topic::SporeToxin, true) => {
            format!("To spare at the cautious end: {spare}. Below it, after shutting: {when}.")
        }
        (Topic::HotHolding | Topic::SporeToxin, false) => format!("Below it, after shutting: {when}."),
        (Topic::TimeLimit, true) => format!("To spare at the cautious end: {spare}."),
        (Topic::TimeLimit, false) => format!("Used up, after shutting: {when}."),
        (Topic::Cooking, true) => format!("Reached, after shutting: {when}."),
        (Topic::Cooking, false) => format!("Reached, after shutting: {when}; margin at the cautious end: {spare}."),
        (Topic::Cooling, _) => format!("Cooled, after shutting: {when}; margin at the cautious end: {spare}."),
        (Topic::Growth, _) => format!("Margin at the cautious end: {spare}."),
        (Topic::Reheating, _) => {
            let planned = facts.reheating().map(|plan| degrees(plan.temperature.si())).unwrap_or_default();
            format!("Planned: {planned}. {REHEATING}")
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
        Reason::NotColdestSpot => {
            "The dish is stiff: its edge is colder than the one temperature computed for it.".to_owned()
        }
        Reason::PieceCore => {
            "The temperature of the pot is not that of the middle of large, frozen or stuffed pieces.".to_owned()
        }
        Reason::CurveTooShort => "The computed curve ends before it has cooled.".to_owned(),
        Reason::BoilTooShort => format!(
            "A full boil of {} is planned; a simmer or the box does not count as one.",
            clock(facts.full_boil_time().si())
        ),
        Reason::SoakTooShort => format!("A soak of {} is planned.", clock(facts.soak_time().si())),
        Reason::HeightLowersBoil => match facts.boiling_temperature() {
            Ok(boiling) => format!("At this height water boils at {}.", degrees(boiling.si())),
            Err(_) => "At this height water does not boil hot enough.".to_owned(),
        },
        Reason::NeedsPreparation => "No temperature tells whether that was done.".to_owned(),
        Reason::Kept | Reason::NotKept | Reason::RangeStraddles | Reason::ToxinPossible => String::new(),
    }
}

/// What to do about it.
pub(super) fn to_do(limit: &Limit, ruling: &Ruling, facts: &PlanFacts) -> Message {
    let met = ruling.outcome == Outcome::Meets;
    let cautious = ruling.moments.map(|moments| moments.cautious);
    match limit.topic() {
        Topic::HotHolding if met => Message::new("measure", "Measure it when you open the box."),
        Topic::HotHolding => hot(cautious),
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
            "Do not let it cool in the box: take it out, spread it in shallow dishes, chill it.",
        ),
        Topic::Reheating if met => Message::new("measure", "Measure every part of it."),
        Topic::Reheating => Message::new("reheat-hotter", "Heat every part of it hotter, or longer."),
        Topic::Boiling => boil(limit, ruling, facts),
        Topic::SporeToxin if met => Message::new("chill", "Chill what is left over at once, spread thin."),
        Topic::SporeToxin => Message::new(
            "keep-hot-or-discard",
            format!(
                "Eat it before then, or keep it hotter. What was lukewarm for long belongs in the bin. {REHEATING}"
            ),
        ),
        Topic::Preparation => Message::new(
            "prepare",
            "Prepare it as is customary where it is grown. Neither boiling, the box nor reheating makes up for it.",
        ),
    }
}

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
        _ => Message::new("measure-coldest", "Measure the coldest spot, at the edge, when you open the box."),
    }
}

fn boil(limit: &Limit, ruling: &Ruling, facts: &PlanFacts) -> Message {
    let Rule::Boiling { time, soak, .. } = limit.rule() else {
        return Message::new("boil", "Boil it hard before it goes into the box.");
    };
    if ruling.outcome == Outcome::Meets {
        return Message::new("boil", "Boil it hard, in fresh water, as planned.");
    }
    if ruling.reason == Reason::HeightLowersBoil {
        let boiling = facts.boiling_temperature().map(|t| degrees(t.si())).unwrap_or_default();
        return Message::new("boil-under-pressure", "Boil it under pressure, or use beans that were canned.")
            .with("boiling-point", boiling);
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
