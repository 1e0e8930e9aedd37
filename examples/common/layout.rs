//! Words and numbers on a page of a hundred columns.

use stillhot::Moment;
use stillhot::units::{Si, Temperature, Time, write_span_down};

pub const COLUMNS: usize = 100;

pub fn moment(moment: &Moment) -> String {
    match moment {
        Moment::At(time) => write_span_down(*time),
        Moment::PastHorizon(horizon) => format!("past {}", write_span_down(*horizon)),
    }
}

/// A computing error, rounded up to a whole minute.
pub fn error(time: Time) -> String {
    let minutes = (time.si() / 60.0).ceil();
    if minutes <= 1.0 { "under 1 min".to_owned() } else { format!("{minutes:.0} min") }
}

/// Whole degrees, without the unit.
pub fn degrees(temperature: Temperature) -> String {
    let rounded = (temperature.si() - 273.15).round();
    format!("{:.0}", if rounded == 0.0 { 0.0 } else { rounded })
}

/// "75 °C", with a decimal only where it was asked so.
pub fn level(temperature: Temperature) -> String {
    let tenths = ((temperature.si() - 273.15) * 10.0).round() / 10.0;
    format!("{tenths} °C")
}

/// `text` broken into lines of at most [`COLUMNS`], the first behind `first`, the others as far in.
pub fn paragraph(first: &str, text: &str) -> String {
    let indent = first.chars().count();
    let (mut lines, mut line, mut width) = (String::new(), first.to_owned(), indent);
    for (at, word) in text.split_whitespace().enumerate() {
        let letters = word.chars().count();
        if at > 0 && width + 1 + letters > COLUMNS {
            lines += &line;
            lines.push('\n');
            line = " ".repeat(indent);
            width = indent;
        } else if at > 0 {
            line.push(' ');
            width += 1;
        }
        line += word;
        width += letters;
    }
    lines + &line + "\n"
}

/// A table: the first column to the left, the others to the right, closer together where the page is too narrow.
pub fn table(header: &[&str], rows: &[Vec<String>]) -> String {
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column)).map(|cell| cell.chars().count());
        cells.chain(header.get(column).map(|cell| cell.chars().count())).max().unwrap_or(0)
    };
    let whole: usize = 2 + (0..header.len()).map(width).sum::<usize>() + 3 * header.len().saturating_sub(1);
    let between = " ".repeat(if whole > COLUMNS { 2 } else { 3 });
    let line = |cells: &[String]| {
        let mut text = String::from(" ");
        for (column, cell) in cells.iter().enumerate() {
            let width = width(column);
            text += &if column == 0 { format!(" {cell:<width$}") } else { format!("{between}{cell:>width$}") };
        }
        text.trim_end().to_owned() + "\n"
    };
    let header: Vec<String> = header.iter().map(|cell| (*cell).to_owned()).collect();
    line(&header) + &rows.iter().map(|row| line(row)).collect::<String>()
}

/// A list of words as a sentence has it.
pub fn all_of(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
