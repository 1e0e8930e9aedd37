//! Cautions that go with every forecast: data for embedding apps beside the English text. Show them unedited.

use super::{Forecast, ProbeSpot};
use crate::units::{Si, Temperature, celsius, write_rounded};
use std::fmt;

/// A caution: a stable code and a sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Caution {
    /// Stable identifier, lower-case words joined by hyphens.
    pub code: &'static str,
    /// The sentence.
    pub text: String,
}

impl fmt::Display for Caution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

/// The first holds for cold food as well, the others where something is hot.
const ALWAYS: [(&str, &str); 5] = [
    (
        "food-safety-rules",
        "A prediction is not a measurement. Check with a thermometer and follow the food-safety rules of your place; \
         food that was for hours on the wrong side of their holding temperature is for them to judge, and reheating \
         does not undo toxins.",
    ),
    (
        "scald",
        "A full pot at the boil scalds. Carry it with its lid on, on a clear path, and set it where it cannot tip.",
    ),
    (
        "open-flame",
        "Never put insulation round a pot that stands on a lit stove, and never burn a stove in a tent, cabin or box: \
         fire and carbon monoxide kill.",
    ),
    (
        "hot-base",
        "The base of a pot just off a flame is far above the boiling point: let it rest on stone or metal for a \
         minute before it touches foam, straw or cloth.",
    ),
    ("damp", "Steam wets insulation: use a washable, tight liner, and let it dry open after use."),
];

/// What scalds, °C (common practice, no source).
const HOT: f64 = 45.0;

/// What a layer should keep below its limit: most limits are recalled, and boards of one name differ, K.
const MARGIN: f64 = 10.0;

impl Forecast {
    /// The cautions for what was computed: the general ones (of what is never hot the first alone), what the catalogue warns of in the materials of the walls,
    /// and one for every material that comes within 10 K of its limit, or beyond, at the warm end of the range
    /// ([`Forecast::hottest`]).
    pub fn cautions(&self) -> Vec<Caution> {
        let count = if self.is_ever_hot() { ALWAYS.len() } else { 1 };
        let mut list: Vec<Caution> =
            ALWAYS.iter().take(count).map(|(code, text)| Caution { code, text: (*text).to_owned() }).collect();
        if self.stands_still() {
            list.push(Caution {
                code: "still-dish",
                text: "The dish stands still: its edge is colder than its mean, and the coldest spot counts. Stir it \
                       through before you measure."
                    .to_owned(),
            });
        }
        for material in self.materials() {
            let Some(caution) = material.caution() else { continue };
            let caution = Caution { code: "material", text: format!("{}: {caution}", material.name()) };
            if !list.contains(&caution) {
                list.push(caution);
            }
        }
        let mut warmest: Vec<(String, Temperature, Temperature)> = Vec::new();
        for row in self.hottest() {
            let (Some(limit), reached) = (row.limit, row.temperature.high()) else { continue };
            match warmest.iter_mut().find(|(material, ..)| *material == row.material) {
                Some(seen) if seen.1 < reached => seen.1 = reached,
                Some(_) => {}
                None => warmest.push((row.material, reached, limit)),
            }
        }
        for (material, reached, limit) in warmest {
            let margin = limit.si() - reached.si();
            if margin < MARGIN {
                let relation = if margin < 0.0 { "below" } else { "little above" };
                list.push(Caution {
                    code: "service-temperature",
                    text: format!(
                        "{material}: its long-term limit of about {} is {relation} the {} that it may reach where it is \
                         warmest. It may soften, shrink or smell there; put a layer that bears heat inside of it.",
                        write_rounded(limit, 3),
                        write_rounded(reached, 3),
                    ),
                });
            }
        }
        list
    }

    /// Whether the dish, at the generous end, or any layer is hot at some time.
    fn is_ever_hot(&self) -> bool {
        let dish = self.range_at(ProbeSpot::Dish, 0.0).2;
        let layers = self.hottest().into_iter().map(|row| row.temperature.high().si());
        layers.fold(dish, f64::max) > celsius(HOT).si()
    }
}
