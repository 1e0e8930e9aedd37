//! Case files, the example programs that read them, and bad input of every kind.

mod bad_case;
mod bad_description;
mod bad_feature;
mod edges;
mod every_key;
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

/// A box with everything in it that a case can say of one, a line for each key.
pub const RICH: &str = r#"
title = "Everything"
[pot]
diameter = "224 mm"
height = "179 mm"
metal = "aluminium-pure"
metal-thickness = "3 mm"
mass = "1.9 kg"
emissivity = [0.1, 0.2, "35 %"]
lid = "loose"
lid-gap = ["0.2 mm", "0.3 mm", "0.6 mm"]
footing = "trivet"
[pot.handle]
material = "carbon-steel"
width = "22 mm"
thickness = "4 mm"
outside = "120 mm"
[pot.knob]
material = "brass"
across = "9 mm"
outside = "15 mm"
[dish]
kind = "barley-broth"
food = "broth-thin-soup"
mass = "4 kg"
frozen = "0 %"
circulation = "still"
water = "88 %"
[[dish.with]]
food = "beans-cooked"
water = "60 %"
mass = "400 g"
[[dish.pieces]]
shape = "sphere"
size = "48 mm"
food = "potato"
mass = "700 g"
start = "14 °C"
[[dish.pieces]]
shape = "slab"
size = "9 mm"
heat-capacity = ["3300 J/(kg K)", "3500 J/(kg K)", "3700 J/(kg K)"]
density = "1060 kg/m3"
conductivity = "0.45 W/(m K)"
mass = "300 g"
start = "5 °C"
[box]
fit = "loose"
seams = ["0 mm", "1 mm", "2 mm"]
upright-seams = ["0.1 mm", "0.3 mm", "0.8 mm"]
inner-width = "420 mm"
inner-depth = "300 mm"
inner-height = "220 mm"
walls = [
  { material = "cotton-woven-cloth", thickness = "1.5 mm" },
  { airspace = "12 mm", emissivities = [0.9, 0.06] },
  { material = "sheep-wool-batt", thickness = "60 mm", damp = true },
]
[box.lid]
closing = "pressed"
joint = ["0.2 mm", "0.4 mm", "0.9 mm"]
layers = [{ material = "wool-blanket-felt", thickness = "45 mm" }]
[[companion]]
name = "soapstone"
heat-capacity = "1800 J/K"
start = "180 °C"
surface = "0.06 m2"
[[companion]]
name = "bottle of hot water"
material = "water-liquid"
mass = "1.2 kg"
start = "85 °C"
surface = "700 cm2"
[[probe]]
spot = "under-lid"
lag = "90 s"
[[probe]]
spot = "coldest"
start = "21 °C"
[plan]
room = { steps = [["0 h", "16 °C"], ["4 h", "3 °C"], ["9 h", "-6 °C"]] }
sky = { mean = "-8 °C", swing = "7 K", period = "24 h", delay = "9 h" }
height = "800 m"
wind = { points = [["0 h", "3 m/s"], ["5 h", "7 m/s"]] }
resting = "earth"
resting-temperature = { mean = "2 °C", swing = "3 K" }
resting-coefficient = ["4 W/(m2 K)", "7 W/(m2 K)", "11 W/(m2 K)"]
simmer = "18 min"
carry = "4 min"
start = "97 °C"
shell-start = "35 °C"
actions = [
  { at = "1.5 h", open = "10 min" },
  { at = "3 h", reheat = "95 °C" },
  { at = "5 h", take-out = "40 %" },
  { at = "2 h", uncover = "4 min" },
  { at = "2.5 h", stir = "1 min" },
]
serve = "8 h"
[questions]
above = ["70 °C"]
[prices]
currency = "EUR"
materials = [
  { material = "wool-blanket-felt", amount = 12.5, per = "m2" },
  { material = "sheep-wool-batt", amount = 9, per = "kg" },
  { material = "cotton-woven-cloth", amount = 900, per = "m3" },
]
changes = [{ change = "a soft gasket", amount = 6 }]
[options]
horizon = "20 h"
step-error = "0.05 K"
cells = 5
steps = 9000
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
