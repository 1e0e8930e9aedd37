//! What would make a difference to a box or sleeve: `what_matters [CASE.toml]`.

#[allow(dead_code, reason = "this program needs less of it than the others")]
#[path = "common/mod.rs"]
mod common;

use common::layout::{all_of, level, paragraph, table};
use std::io::Write;
use std::path::Path;
use stillhot::study::{Asked, Effect, HoldDifference, Level, Per, WhatMatters, what_matters};
use stillhot::units::{Si, write_rounded};
use stillhot::{Error, case::Case, material::Catalogue};

fn main() -> std::process::ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    run(&arguments, &mut std::io::stdout().lock(), &mut std::io::stderr().lock()).into()
}

/// Exit status: 0 with an answer; 2 if an argument or the file is wrong; 1 if there is no answer all the same.
pub fn run<'w>(arguments: &[String], out: &'w mut (dyn Write + 'w), err: &'w mut (dyn Write + 'w)) -> u8 {
    let (status, text) = match arguments {
        [] => answer("examples/kitchen_box.toml", include_str!("kitchen_box.toml")),
        [file] if !file.starts_with('-') => match std::fs::read_to_string(file) {
            Ok(text) => answer(file, &text),
            Err(error) => (2, format!("what_matters: {file}: {error}\n")),
        },
        _ => (2, "usage: what_matters [CASE.toml]\n".to_owned()),
    };
    if (if status == 0 { out } else { err }).write_all(text.as_bytes()).is_ok() { status } else { 1 }
}

fn answer(file: &str, text: &str) -> (u8, String) {
    let folder = Path::new(file).parent().unwrap_or(Path::new(""));
    match Case::read_in(text, file, Catalogue::embedded(), folder).map(|case| page(&case, file)) {
        Err(findings) => (2, findings.iter().map(|finding| format!("{finding}\n")).collect()),
        Ok(Err(error)) => (1, format!("{file}: {error}\n")),
        Ok(Ok(page)) => (0, page),
    }
}

fn page(case: &Case, file: &str) -> Result<String, Error> {
    // The lowest temperature asked about is held longest: that ranks.
    let asked = case.questions.above.iter().copied().reduce(|a, b| if b < a { b } else { a });
    let Some(asked) = asked else { return Ok("The file asks about no temperature.\n".to_owned()) };
    let list = what_matters(&case.setup, &case.plan, &Asked::above(asked), &case.options)?;
    let mut page = paragraph("", case.title.as_deref().unwrap_or(file));
    page += &paragraph("", &format!("(read from {file})"));
    page += &format!("\nAS IT IS\n{}", paragraph("  ", &format!("above {}: {}", level(asked), list.base.holds[0].1)));
    page += &format!("\nWHAT CHANGES THAT, MOST FIRST\n{}", effects(&list));
    page += &paragraph(
        "  ",
        "Best: with everything uncertain at its best value; cautious and generous: with all of it at that \
         end, before and after the change. Equal ranks: the computation cannot tell them apart.",
    );
    page += &format!(
        "\nWHAT TO BUILD NEXT, BY WHAT IT BRINGS AT THE CAUTIOUS END\n{}",
        worth(&list, Per::Litre, "litre of bulk")
    );
    page += &worth(&list, Per::Kilogram, "kilogram");
    page += "\nWHAT TO MEASURE NEXT, BY HOW MUCH IT NARROWS THE RANGE\n";
    for narrowing in list.measure.iter().take(4) {
        page += &paragraph("  - ", &format!("{narrowing} ({})", narrowing.known.how()));
    }
    for error in &list.left_out {
        page += &paragraph("  not computed: ", &error.to_string());
    }
    Ok(page)
}

fn effects(list: &WhatMatters) -> String {
    let [cautious, best, generous] = [0, 1, 2].map(|end| move |effect: &Effect| told(effect, effect.holds()[end]));
    let row = |effect: &Effect| {
        let rank = effect.rank.map_or("-".to_owned(), |rank| rank.to_string());
        vec![effect.name().to_owned(), rank, cautious(effect), best(effect), generous(effect)]
    };
    table(&["change", "rank", "cautious", "best", "generous"], &list.effects.iter().map(row).collect::<Vec<_>>())
}

fn told(effect: &Effect, hold: HoldDifference) -> String {
    match hold {
        HoldDifference::By(difference) => difference.to_string(),
        HoldDifference::AtLeast(time) | HoldDifference::AtMost(time) => format!("past {}", write_rounded(time, 2)),
        HoldDifference::PastHorizon => format!("at the end {} K", effect.compared.end.best.value.si().round()),
    }
}

/// The first few.
fn worth(list: &WhatMatters, per: Per, unit: &str) -> String {
    let words = list.worth(per).into_iter().take(5).map(|worth| match worth.rate() {
        Some(rate) => format!("{} (+{})", worth.effect.name(), write_rounded(rate, 2)),
        None => format!("{} (+{}, takes none)", worth.effect.name(), write_rounded(worth.gain, 2)),
    });
    paragraph("  ", &format!("For each {unit}: {}.", all_of(&words.collect::<Vec<_>>())))
}
