//! What makes a difference to a case, as a page for people.

use super::layout::{all_of, level, paragraph, table};
use stillhot::Error;
use stillhot::case::Case;
use stillhot::study::{Asked, Effect, End, HoldDifference, Per, WhatMatters, Worth, what_matters};
use stillhot::units::{Si, kilograms, litres, write_rounded};

const MEMBERS: &str = "Best: with everything uncertain at its best value; cautious and generous: with all of it at that end, \
    before and after the change. Equal ranks: the computation cannot tell them apart. Only one thing is changed at a time.";

pub fn page(case: &Case, file: &str) -> Result<String, Error> {
    // The lowest temperature asked about is held longest: that ranks.
    let asked = case.questions.above.iter().copied().reduce(|a, b| if b < a { b } else { a });
    let Some(asked) = asked else { return Ok("The file asks about no temperature.\n".to_owned()) };
    let list = what_matters(&case.setup, &case.plan, &Asked::above(asked), &case.options)?;
    let mut page = paragraph("", case.title.as_deref().unwrap_or(file));
    page += &paragraph("", &format!("(read from {file})"));
    let held = format!("It stays above {} for {}.", level(asked), list.base.holds[0].1);
    page += &format!("\nAS IT IS\n{}", paragraph("  ", &held));
    page += &format!("\nHOW MUCH LONGER OR SHORTER, LARGEST EFFECT FIRST\n{}", effects(&list));
    page += &paragraph("  ", MEMBERS);
    page += &format!("\nWORTH BUILDING, BY WHAT IT BRINGS AT THE CAUTIOUS END\n{}", worth(&list));
    page += "\nWORTH MEASURING, BY HOW MUCH IT NARROWS THE RANGE\n";
    for narrowing in list.measure.iter().take(4) {
        page += &paragraph("  - ", &format!("{narrowing} ({})", narrowing.known.how()));
    }
    for error in &list.left_out {
        page += &paragraph("  not computed: ", &error.to_string());
    }
    Ok(page)
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
        HoldDifference::PastHorizon => format!("{:+.1} K at the end", effect.compared.end.at(end).value.si()),
        told => told.to_string(),
    }
}

/// The first few of each list.
fn worth(list: &WhatMatters) -> String {
    const SHOWN: usize = 4;
    let (room, mass) = (list.worth(Per::Litre), list.worth(Per::Kilogram));
    let is_light = |name: &str| mass.iter().any(|worth| worth.effect.name() == name && worth.rate().is_none());
    let free = room.iter().filter(|worth| worth.rate().is_none() && is_light(worth.effect.name()));
    let free = free.map(|worth| format!("{} (+{})", worth.effect.name(), write_rounded(worth.gain, 2)));
    let best = |list: &[Worth<'_>], amount: fn(f64) -> String| -> Vec<String> {
        let takes = list.iter().filter(|worth| worth.rate().is_some()).take(SHOWN);
        let told = |gain, takes: f64| format!("+{} for {}", write_rounded(gain, 2), amount(takes));
        takes.map(|worth| format!("{} ({})", worth.effect.name(), told(worth.gain, worth.takes))).collect()
    };
    [
        ("with no weight or room to speak of", free.take(2 * SHOWN).collect()),
        ("most for the room it takes", best(&room, |takes| write_rounded(litres(takes), 2))),
        ("most for its weight", best(&mass, |takes| write_rounded(kilograms(takes), 2))),
    ]
    .iter()
    .filter(|(_, words): &&(_, Vec<String>)| !words.is_empty())
    .map(|(head, words)| paragraph("  - ", &format!("{head}: {}", all_of(words))))
    .collect()
}
