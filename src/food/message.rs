//! What is said to the cook: a code and fields for apps that translate, beside the English sentence.

use std::fmt;

/// A message. Show its text unedited, or translate code and fields without leaving anything out.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Message {
    /// Stable identifier, lower-case words joined by hyphens.
    pub code: &'static str,
    /// What the sentence is filled with: name and value with unit.
    pub fields: Vec<(&'static str, String)>,
    /// The sentence in English.
    pub text: String,
}

impl Message {
    pub(super) fn new(code: &'static str, text: impl Into<String>) -> Self {
        Message { code, fields: Vec::new(), text: text.into() }
    }

    #[must_use]
    pub(super) fn with(mut self, name: &'static str, value: impl Into<String>) -> Self {
        self.fields.push((name, value.into()));
        self
    }

    /// The value of the field `name`.
    pub fn field(&self, name: &str) -> Option<&str> {
        self.fields.iter().find(|(key, _)| *key == name).map(|(_, value)| value.as_str())
    }
}

impl fmt::Display for Message {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

/// A span in hours and minutes, rounded down to the minute ("4 h 35 min"): no moment is told later than it is.
pub(super) fn clock(seconds: f64) -> String {
    // A hair is given back so that a full minute in rounded arithmetic stays one.
    let minutes = (seconds / 60.0 + 1e-6).floor().max(0.0);
    let (hours, rest) = ((minutes / 60.0).floor(), minutes % 60.0);
    if hours < 1.0 {
        format!("{minutes} min")
    } else if rest < 0.5 {
        format!("{hours} h")
    } else {
        format!("{hours} h {rest} min")
    }
}

/// A span rounded up to the minute: no work is told shorter than it is.
pub(super) fn clock_up(seconds: f64) -> String {
    clock((seconds / 60.0 - 1e-6).ceil().max(0.0) * 60.0)
}

/// A temperature (K) in degrees Celsius to a tenth, without ".0".
pub(super) fn degrees(kelvin: f64) -> String {
    let tenths = ((kelvin - 273.15) * 10.0).round() / 10.0;
    format!("{tenths} °C")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spans_read_as_a_cook_says_them() {
        assert_eq!(clock(0.0), "0 min");
        assert_eq!(clock(59.0), "0 min");
        assert_eq!(clock(3_600.0), "1 h");
        assert_eq!(clock(16_559.0), "4 h 35 min");
        assert_eq!(clock_up(61.0), "2 min");
        assert_eq!(clock_up(120.0), "2 min");
        assert_eq!(degrees(336.15), "63 °C");
        assert_eq!(degrees(330.35), "57.2 °C");
    }
}
