//! The table as a page of the documentation, and as comma-separated values: the page is made from these alone.

use crate::comparison::{Comparison, Mark};
use std::fmt::Write;

/// Rows under one heading.
#[derive(Debug)]
pub struct Chapter {
    pub title: String,
    pub rows: Vec<Comparison>,
}

const COLUMNS: &str = "chapter,case,quantity,source,mark,expected,known_to,computed,difference,reported_error";

pub fn csv(chapters: &[Chapter]) -> String {
    let mut text = format!("{COLUMNS}\n");
    for chapter in chapters {
        for row in &chapter.rows {
            for field in [&chapter.title, &row.case, &row.quantity, &row.source] {
                assert!(!field.contains(['"', '\n', '|']), "{field}");
                write!(text, "\"{field}\",").unwrap();
            }
            let reported = row.reported.map(|e| format!("{e:e}")).unwrap_or_default();
            writeln!(
                text,
                "{},{},{:e},{},{:e},{reported}",
                row.mark.name(),
                row.expected,
                row.tolerance,
                row.computed,
                row.difference()
            )
            .unwrap();
        }
    }
    text
}

/// What [`csv`] wrote; anything else is refused with the line.
pub fn parse(text: &str) -> Vec<Chapter> {
    let mut lines = text.lines();
    assert_eq!(lines.next(), Some(COLUMNS));
    let mut chapters: Vec<Chapter> = Vec::new();
    for line in lines {
        let mut texts = line.split('"');
        let mut quoted = || {
            texts.next().unwrap_or_else(|| panic!("{line}"));
            texts.next().unwrap_or_else(|| panic!("{line}")).to_owned()
        };
        let [title, case, quantity, source] = [quoted(), quoted(), quoted(), quoted()];
        let rest: Vec<&str> = texts.next().unwrap_or_else(|| panic!("{line}")).split(',').collect();
        let ["", mark, expected, tolerance, computed, _, reported] = rest[..] else { panic!("{line}") };
        let number = |text: &str| text.parse::<f64>().unwrap_or_else(|e| panic!("{text}: {e} in {line}"));
        let row = Comparison {
            case,
            quantity,
            source,
            mark: [Mark::Read, Mark::Memory, Mark::Computed].into_iter().find(|m| m.name() == mark).unwrap(),
            expected: number(expected),
            tolerance: number(tolerance),
            computed: number(computed),
            reported: (!reported.is_empty()).then(|| number(reported)),
        };
        match chapters.last_mut().filter(|chapter| chapter.title == title) {
            Some(chapter) => chapter.rows.push(row),
            None => chapters.push(Chapter { title, rows: vec![row] }),
        }
    }
    chapters
}

const INTRODUCTION: &str = "\
Numbers of this crate beside numbers from outside, written by the runs themselves.

Marks: READ, the source (or, where it says so, a public worked companion of it) was seen; MEMORY, the number was
recalled; COMPUTED, no printed number exists and independent computations agree within *known to*, as do those behind
the exact values of printed problems. *Known to* is half the last printed digit, or what the source is known to have
lost by rounding. *Reported error* is the numerical error that the crate gives with its number; steady states, closed
forms and relations promise rounding alone and report none. A row is **outside** if the difference exceeds both
together.

Marches were asked for a millionth of the span of temperatures, sections for 1e-5 to 1e-3 of heat and span; the tests
check the same rows at the default accuracy. The same table for programs is `tests/validation/validation.csv` of the
repository. A test recomputes every row and fails where the table has aged.
";

/// Digits after the point that mean something where numbers are known to `error`.
fn decimals(error: f64) -> usize {
    // An error above zero, from 1e-15 to 1e15: the conversion is exact.
    (1.0 - error.max(1e-12).log10()).ceil().clamp(0.0, 12.0) as usize
}

pub fn markdown(chapters: &[Chapter]) -> String {
    let all: Vec<&Comparison> = chapters.iter().flat_map(|chapter| &chapter.rows).collect();
    let outside = all.iter().filter(|row| row.ratio() > 1.0).count();
    let mut text = INTRODUCTION.to_owned();
    writeln!(text, "\n{} comparisons, {outside} outside.", all.len()).unwrap();
    for chapter in chapters {
        writeln!(text, "\n# {}\n", chapter.title).unwrap();
        text += "| problem | quantity | outside number | known to | computed | difference | reported error | |\n";
        text += "|---|---|---|---|---|---|---|---|\n";
        let mut sources: Vec<&str> = Vec::new();
        let mut before = "";
        for row in &chapter.rows {
            let source = sources.iter().position(|s| *s == row.source).unwrap_or_else(|| {
                sources.push(&row.source);
                sources.len() - 1
            });
            let case = if row.case == before { "" } else { row.case.as_str() };
            before = &row.case;
            let known = row.tolerance + row.reported.unwrap_or(0.0);
            writeln!(
                text,
                "| {case} | {} | {} {} ({}) | {:.1e} | {:.*} | {:.1e} | {} | {} |",
                row.quantity,
                row.expected,
                row.mark.name(),
                source + 1,
                row.tolerance,
                decimals(known),
                row.computed,
                row.difference(),
                row.reported.map_or("—".to_owned(), |e| format!("{e:.1e}")),
                if row.ratio() > 1.0 { "**outside**" } else { "" },
            )
            .unwrap();
        }
        text.push('\n');
        for (i, source) in sources.iter().enumerate() {
            writeln!(text, "{}. {source}", i + 1).unwrap();
        }
    }
    text
}
