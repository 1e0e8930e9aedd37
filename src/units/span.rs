//! Spans of time as people say them: read from "3 h 2 min" or "2 days", written in hours and minutes.

use super::{Si, Time, write};

/// A unit of time: how it is written, alone and written out, and its length in s.
struct Part {
    symbol: &'static str,
    words: [&'static str; 2],
    seconds: f64,
}

const PARTS: [Part; 4] = [
    Part { symbol: "d", words: ["day", "days"], seconds: 86_400.0 },
    Part { symbol: "h", words: ["hour", "hours"], seconds: 3_600.0 },
    Part { symbol: "min", words: ["minute", "minutes"], seconds: 60.0 },
    Part { symbol: "s", words: ["second", "seconds"], seconds: 1.0 },
];

/// The seconds of a text (trimmed) of several parts, or of one whose unit is written out; `None` for any other text, which
/// is for the reader of a number with its unit.
pub(super) fn read(text: &str) -> Option<Result<f64, String>> {
    if is_clock(text) {
        return Some(Err("hours and minutes, or minutes and seconds? Each needs its unit".to_owned()));
    }
    let unsigned = text.strip_prefix(['+', '-', '−']).unwrap_or(text);
    let mut parts: Vec<(&str, &Part)> = Vec::new();
    let mut rest = unsigned;
    while !rest.is_empty() {
        let apart = rest.starts_with(char::is_whitespace);
        let (number, behind) = cut(rest.trim_start(), |c| c.is_ascii_digit() || c == '.');
        let (word, after) = cut(behind.trim_start(), char::is_alphabetic);
        let part = PARTS.iter().find(|part| part.symbol == word || part.words.contains(&word));
        match part {
            _ if number.is_empty() => return None,
            Some(part) => parts.push((number, part)),
            // "6 h2" is a power, "6 h 2" a number that lost its unit, and so is "5h30".
            None if word.is_empty() && !parts.is_empty() && number.len() > 1 => {
                return Some(Err(format!("{number} has no unit")));
            }
            None if parts.is_empty() || !apart => return None,
            None if word.is_empty() => return Some(Err(format!("{number} has no unit"))),
            None if word == "m" => return Some(Err("m is the metre: minutes are min".to_owned())),
            None => return Some(Err(format!("unknown unit of time `{word}`"))),
        }
        rest = after;
    }
    let negative = text.starts_with(['-', '−']);
    match parts[..] {
        [] => None,
        [(_, part)] if !text.ends_with(part.words[0]) && !text.ends_with(part.words[1]) => None,
        [_, _, ..] if negative => Some(Err("a sign before several parts may be meant for one or for all".to_owned())),
        _ => Some(sum(&parts).map(|seconds| if negative { -seconds } else { seconds })),
    }
}

/// "1:30", "17:05:30".
fn is_clock(text: &str) -> bool {
    let digits = |part: &str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit());
    text.contains(':') && text.split(':').all(digits)
}

/// The front of a text as far as `belongs`, and the rest.
fn cut(text: &str, belongs: impl Fn(char) -> bool) -> (&str, &str) {
    text.split_at(text.find(|c| !belongs(c)).unwrap_or(text.len()))
}

/// Parts from the longest to the shortest, each but the first less than one of the part before, in whole numbers but for
/// the last.
fn sum(parts: &[(&str, &Part)]) -> Result<f64, String> {
    let mut seconds = 0.0;
    for (at, (number, part)) in parts.iter().enumerate() {
        let size: f64 = number.parse().map_err(|_| "the number is malformed".to_owned())?;
        if at + 1 < parts.len() && number.contains('.') {
            return Err(format!("{number} {} and more: only the last part may have decimals", part.symbol));
        }
        if let Some((_, before)) = at.checked_sub(1).and_then(|before| parts.get(before)) {
            if part.seconds >= before.seconds {
                return Err(format!("{} does not come after {}", part.symbol, before.symbol));
            }
            if size * part.seconds >= before.seconds {
                return Err(format!("{number} {} is no less than 1 {}", part.symbol, before.symbol));
            }
        }
        seconds += size * part.seconds;
    }
    Ok(seconds)
}

/// A span in hours and minutes, rounded down to the minute: no hold is told longer than it is.
///
/// ```
/// use stillhot::units::{minutes, write_span_down, write_span_up};
///
/// assert_eq!(write_span_down(minutes(337.7)), "5 h 37 min");
/// assert_eq!(write_span_up(minutes(337.7)), "5 h 38 min");
/// ```
#[must_use]
pub fn write_span_down(span: Time) -> String {
    // A hair is given back so that a full minute in rounded arithmetic stays one.
    whole_minutes(span, (span.si() / 60.0 + 1e-6).floor())
}

/// A span in hours and minutes, rounded up to the minute: no work is told shorter than it is.
#[must_use]
pub fn write_span_up(span: Time) -> String {
    whole_minutes(span, (span.si() / 60.0 - 1e-6).ceil())
}

fn whole_minutes(span: Time, minutes: f64) -> String {
    if !minutes.is_finite() {
        return write(span);
    }
    let sign = if minutes < 0.0 { "-" } else { "" };
    let (hours, rest) = ((minutes.abs() / 60.0).floor(), minutes.abs() % 60.0);
    if hours == 0.0 {
        format!("{sign}{rest} min")
    } else if rest == 0.0 {
        format!("{sign}{hours} h")
    } else {
        format!("{sign}{hours} h {rest} min")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{parse, seconds};

    #[test]
    fn spans_are_read_as_people_say_them() {
        for (text, expected) in [
            ("3 h 2 min", 10_920.0),
            ("3h2min", 10_920.0),
            ("2 days", 172_800.0),
            ("1 day 6 hours", 108_000.0),
            ("90 min", 5_400.0),
            ("90 minutes", 5_400.0),
            ("1 h", 3_600.0),
            ("1.5 h", 5_400.0),
            ("1.5 hours", 5_400.0),
            ("2 min 30 s", 150.0),
            ("1 min 0.5 s", 60.5),
            ("1 d 1 h 1 min 1 s", 90_061.0),
            ("-2 days", -172_800.0),
            ("6e1 min", 3_600.0),
        ] {
            assert_eq!(parse::<Time>(text).unwrap_or_else(|error| panic!("{error}")), seconds(expected), "{text}");
        }
    }

    #[test]
    fn what_may_mean_two_things_is_refused_with_what_would_do() {
        for (text, told) in [
            ("1:30", "hours and minutes, or minutes and seconds?"),
            ("1 h 30", "30 has no unit"),
            ("5h30", "30 has no unit"),
            ("3 h 2 m", "m is the metre"),
            ("1 h 90 min", "90 min is no less than 1 h"),
            ("30 min 1 h", "h does not come after min"),
            ("1 h 2 h", "h does not come after h"),
            ("1.5 h 10 min", "only the last part may have decimals"),
            ("-1 h 30 min", "for one or for all"),
            ("1 h 2.3.4 min", "malformed"),
            ("1 h 5 moments", "unknown unit of time `moments`"),
            ("30 m", "a length where a time is expected"),
            ("1 h, 30 min", ""),
            ("1 h and 30 min", ""),
            ("6 h2", "something in s2"),
            ("5 hrs", "perhaps `h`"),
            ("90", "no unit"),
        ] {
            let error = parse::<Time>(text).unwrap_err();
            assert!(error.problem().contains(told), "{text}: {error}");
            assert!(error.accepted().unwrap().contains("6 h, or 1 h 30 min"), "{text}: {error}");
        }
    }

    #[test]
    fn spans_are_written_to_the_minute_on_the_side_that_is_asked_for() {
        let both = |s: f64| (write_span_down(seconds(s)), write_span_up(seconds(s)));
        let pair = |down: &str, up: &str| (down.to_owned(), up.to_owned());
        assert_eq!(both(0.0), pair("0 min", "0 min"));
        assert_eq!(both(59.0), pair("0 min", "1 min"));
        assert_eq!(both(120.0), pair("2 min", "2 min"));
        assert_eq!(both(3_600.0), pair("1 h", "1 h"));
        assert_eq!(both(3_599.0), pair("59 min", "1 h"));
        assert_eq!(both(16_559.0), pair("4 h 35 min", "4 h 36 min"));
        assert_eq!(both(-90.0), pair("-2 min", "-1 min"));
        assert_eq!(both(f64::NAN), pair("NaN s", "NaN s"));
    }

    /// What is written is read back, but for what was rounded away.
    #[test]
    fn written_spans_are_read() {
        for whole in [0.0, 1.0, 59.0, 60.0, 61.0, 337.0, 1_440.0, 3_021.0] {
            let text = write_span_down(seconds(60.0 * whole));
            assert_eq!(parse::<Time>(&text).unwrap(), seconds(60.0 * whole), "{text}");
        }
    }
}
