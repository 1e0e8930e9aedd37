//! What is said to the cook: a code and fields for apps that translate, beside the English sentence.

use crate::units::{Si, Time, write_span_down, write_span_up};
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

    /// The message without the sentences that are among those told already, to which its own are added; `None` if none is
    /// left.
    pub(super) fn without(&self, told: &mut Vec<String>) -> Option<Self> {
        let mut left: Vec<&str> = Vec::new();
        // A sentence ends before a capital; numbers and units have their full stops within.
        let ends = self.text.match_indices(". ").map(|(at, _)| at + 1);
        let ends = ends.filter(|at| self.text[at + 1..].starts_with(char::is_uppercase));
        let mut start = 0;
        for end in ends.chain([self.text.len()]).collect::<Vec<_>>() {
            let sentence = self.text[start..end].trim();
            start = end;
            if told.iter().all(|told| told != sentence) {
                told.push(sentence.to_owned());
                left.push(sentence);
            }
        }
        (!left.is_empty()).then(|| Message { text: left.join(" "), ..self.clone() })
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

/// A span (s) rounded down: no moment is told later than it is.
pub(super) fn clock(seconds: f64) -> String {
    write_span_down(Time::from_si(seconds.max(0.0)))
}

/// A span (s) rounded up: no work is told shorter than it is.
pub(super) fn clock_up(seconds: f64) -> String {
    write_span_up(Time::from_si(seconds.max(0.0)))
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
    fn degrees_read_as_a_cook_says_them() {
        assert_eq!(degrees(336.15), "63 °C");
        assert_eq!(degrees(330.35), "57.2 °C");
    }
}
