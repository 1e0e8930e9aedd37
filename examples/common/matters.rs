//! What makes a difference to a case, as a page for people.

use super::layout::{all_of, level as degrees, moment, paragraph, table};
use stillhot::case::Case;
use stillhot::study::{Asked, Effect, End, HoldDifference, Level, Narrowing, Per, WhatMatters, Worth, what_matters};
use stillhot::units::{Si, Time, kilograms, litres, write_rounded, write_span_down, write_span_up};
use stillhot::{Error, Held};

const MEMBERS: &str = "Best: with everything uncertain at its best value; cautious and generous: with all of it at that end, \
    before and after the change. Equal ranks: the computation cannot tell them apart. Only one thing is changed at a time.";

const PAST_HORIZON: &str = "K at the end: held for all of the time that was followed, before and after the change; how much warmer (+) \
    or colder (-) it then is.";

pub fn page(case: &Case, file: &str) -> Result<String, Error> {
    // The temperature that is held longest ranks: the lowest to stay above, the highest to stay below.
    let above = case.questions.above.iter().copied().reduce(|a, b| if b < a { b } else { a });
    let below = case.questions.below.iter().copied().reduce(|a, b| if b > a { b } else { a });
    let Some(asked) = above.map(Asked::above).or(below.map(Asked::below)) else {
        return Ok("The file asks about no temperature.\n".to_owned());
    };
    let list = what_matters(&case.setup, &case.plan, &asked.with_prices(case.prices.clone()), &case.options)?;
    let (level, held) = list.base.holds[0];
    let side = if matches!(level, Level::Above(_)) { "above" } else { "below" };
    let mut page = paragraph("", case.title.as_deref().unwrap_or(file));
    page += &paragraph("", &format!("(read from {file}; times count from shutting, rounded down)"));
    let others = if case.questions.above.len() + case.questions.below.len() > 1 {
        " This is what the changes below are held against."
    } else {
        ""
    };
    let at = degrees(level.temperature());
    let held = match held {
        Held::NeverReached => {
            format!(
                "It is not {side} {at} even when shut, so that no change below tells: ask about another temperature."
            )
        }
        Held::Until { earliest, best, latest, .. } => {
            let [earliest, best, latest] = [earliest, best, latest].map(|at| moment(&at));
            format!("It stays {side} {at} for {earliest} to {latest} (best {best}).{others}")
        }
        Held::PastHorizon { horizon, margin } => {
            let (horizon, margin) = (write_span_down(horizon), write_rounded(margin, 2));
            format!("It stays {side} {at} for longer than {horizon} ({margin} to spare).{others}")
        }
        held => format!("It stays {side} {at} for {held}.{others}"),
    };
    page += &format!("\nAS IT IS\n{}", paragraph("  ", &held));
    page += &format!("\nHOW MUCH LONGER OR SHORTER, LARGEST EFFECT FIRST\n{}", effects(&list));
    page += &paragraph("  ", MEMBERS);
    if list.effects.iter().any(|effect| effect.holds().contains(&HoldDifference::PastHorizon)) {
        page += &paragraph("  ", PAST_HORIZON);
    }
    page += &format!(
        "\nWORTH BUILDING, BY WHAT IT BRINGS AT THE CAUTIOUS END\n{}",
        worth(&list, case.prices.currency().unwrap_or("of your money"), !case.prices.is_empty())
    );
    page += "\nWORTH MEASURING, BY HOW MUCH IT NARROWS THE RANGE\n";
    for narrowing in list.measure.iter().take(4) {
        page += &paragraph("  - ", &format!("{} ({})", narrowed(narrowing), narrowing.known.how()));
    }
    for error in &list.left_out {
        page += &paragraph("  not computed: ", &error.to_string());
    }
    Ok(page)
}

/// How much longer, rounded down to the minute, or shorter, rounded up; below a minute in seconds.
fn longer(time: Time) -> String {
    let sign = if time.si() < 0.0 { "-" } else { "+" };
    let size = Time::from_si(time.si().abs());
    match size.si() {
        s if s < 60.0 => format!("{sign}{}", write_rounded(size, 2)),
        _ if time.si() < 0.0 => format!("{sign}{}", write_span_up(size)),
        _ => format!("{sign}{}", write_span_down(size)),
    }
}

fn narrowed(narrowing: &Narrowing) -> String {
    let [earliest, latest] = narrowing.ends.each_ref().map(moment);
    let by = match narrowing.narrower {
        Some(time) => {
            let word = if time.si() < 0.0 { "wider" } else { "narrower" };
            format!("{word} by {}", longer(time).trim_start_matches(['+', '-']))
        }
        None => format!("narrower by {} at the end", write_rounded(narrowing.narrower_at_end, 2)),
    };
    format!("{}: {earliest} to {latest}, {by}", narrowing.known)
}

fn effects(list: &WhatMatters) -> String {
    let row = |effect: &Effect| {
        let rank = effect.rank.map_or("-".to_owned(), |rank| rank.to_string());
        let [cautious, best, generous] = [End::Cautious, End::Best, End::Generous].map(|end| told(effect, end));
        vec![effect.name().to_owned(), rank, cautious, best, generous]
    };
    table(&["change", "rank", "cautious", "best", "generous"], &list.effects.iter().map(row).collect::<Vec<_>>())
}

fn told(effect: &Effect, end: End) -> String {
    match effect.holds()[end as usize] {
        // Minus zero is zero.
        HoldDifference::PastHorizon => {
            format!("{:+.1} K at the end", (10.0 * effect.compared.end.at(end).value.si()).round() / 10.0 + 0.0)
        }
        HoldDifference::By(difference) if !difference.is_none() => longer(difference.value),
        HoldDifference::AtLeast(time) | HoldDifference::AtMost(time) => format!("{} or more", longer(time)),
        told @ HoldDifference::By(_) => told.to_string(),
    }
}

/// The first few of each list.
fn worth(list: &WhatMatters, currency: &str, is_priced: bool) -> String {
    const SHOWN: usize = 4;
    let (room, mass, money) = (list.worth(Per::Litre), list.worth(Per::Kilogram), list.worth(Per::Money));
    let is_light = |name: &str| mass.iter().any(|worth| worth.effect.name() == name && worth.rate().is_none());
    let free = room.iter().filter(|worth| worth.rate().is_none() && is_light(worth.effect.name()));
    let free = free.map(|worth| format!("{} ({})", worth.effect.name(), longer(worth.gain)));
    let best = |list: &[Worth<'_>], amount: &dyn Fn(f64) -> String| -> Vec<String> {
        let takes = list.iter().filter(|worth| worth.rate().is_some()).take(SHOWN);
        let told = |worth: &Worth<'_>| format!("{} for {}", longer(worth.gain), amount(worth.takes));
        takes.map(|worth| format!("{} ({})", worth.effect.name(), told(worth))).collect()
    };
    let unpriced = list.unpriced().into_iter().filter(|_| is_priced).map(|effect| effect.name().to_owned()).collect();
    [
        ("with no weight or room to speak of", free.take(2 * SHOWN).collect()),
        ("most for the room it takes", best(&room, &|takes| write_rounded(litres(takes), 2))),
        ("most for its weight", best(&mass, &|takes| write_rounded(kilograms(takes), 2))),
        ("most for its price", best(&money, &|takes| format!("{takes:.2} {currency}"))),
        ("without a price in the file", unpriced),
    ]
    .iter()
    .filter(|(_, words): &&(_, Vec<String>)| !words.is_empty())
    .map(|(head, words)| paragraph("  - ", &format!("{head}: {}", all_of(words))))
    .collect()
}
