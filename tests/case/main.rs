//! Case files, the example programs that read them, and bad input of every kind.

mod bad_case;
mod bad_description;
mod good_case;
mod programs;

use stillhot::Error;
use stillhot::case::Case;

/// A right case, a line for each key, for the tests to spoil.
pub const BOX: &str = r#"
[pot]
volume = "7 L"
[dish]
food = "thick-stew"
mass = "6 kg"
[box]
gap = "15 mm"
walls = [
  { material = "cotton-woven-cloth", thickness = "1 mm" },
  { gap = "1 mm" },
  { material = "expanded-polystyrene-20", thickness = "50 mm" },
]
[box.lid]
closing = "resting"
[plan]
room = "16 °C"
serve = "6 h"
[questions]
above = ["75 °C", "60 °C"]
[options]
horizon = "24 h"
"#;

pub const SLEEVE: &str = r#"
[pot]
diameter = "110 mm"
height = "90 mm"
metal = "titanium"
metal-thickness = "0.5 mm"
[dish]
heat-capacity = ["3400 J/(kg K)", "3600 J/(kg K)", "3800 J/(kg K)"]
density = "1050 kg/m3"
mass = "600 g"
[sleeve]
layers = [
  { material = "cross-linked-polyethylene-foam-mat", thickness = "8 mm" },
  { resistance = "0.02 m2 K/W" },
  { material = "cross-linked-polyethylene-foam-mat", thickness = "8 mm" },
]
gap = "2 mm"
[sleeve.lid]
leak = ["0.003 W/K", "0.01 W/K", "0.03 W/K"]
[plan]
room = "4 °C"
"#;

/// `text` with `old`, which must stand in it once, replaced.
pub fn with(text: &str, old: &str, new: &str) -> String {
    assert_eq!(text.matches(old).count(), 1, "{old:?} stands in the case once");
    text.replace(old, new)
}

pub fn findings(text: &str) -> Vec<Error> {
    match Case::read(text, "test.toml") {
        Ok(_) => panic!("read without a finding:\n{text}"),
        Err(findings) => findings,
    }
}

/// Line (from one) on which `needle` first stands.
pub fn line_of(text: &str, needle: &str) -> usize {
    let at = text.find(needle).unwrap_or_else(|| panic!("{needle:?} is not in the text"));
    1 + text[..at].matches('\n').count()
}
