//! Cautions that go with every forecast: data for embedding apps beside the English text. Show them unedited.

use super::{Plan, Setup};
use crate::error::Error;
use crate::units::{Si, write_rounded};

/// A caution: a stable code and a sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Caution {
    /// Stable identifier, lower-case words joined by hyphens.
    pub code: &'static str,
    /// The sentence.
    pub text: String,
}

const ALWAYS: [(&str, &str); 5] = [
    (
        "food-safety-rules",
        "A prediction is not a measurement. Check with a thermometer and follow the food-safety rules of your place; \
         food that was warm for hours below their holding temperature is for them to judge, and reheating does not \
         undo toxins.",
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
    ("damp", "Steam wets insulation: use a washable, tight liner, and leave the box open to dry after use."),
];

impl Setup {
    /// The cautions for this setup and plan: the general ones, and one for every layer that could become hotter than
    /// it should.
    ///
    /// # Errors
    /// If the plan is outside its ranges.
    pub fn cautions(&self, plan: &Plan) -> Result<Vec<Caution>, Error> {
        let mut list: Vec<Caution> =
            ALWAYS.iter().map(|(code, text)| Caution { code, text: (*text).to_owned() }).collect();
        let hottest = plan.start_temperature()?;
        for layer in self.layers() {
            let material = layer.material();
            let Some(limit) = material.service_temperature() else { continue };
            let margin = limit.continuous().si() - hottest.si();
            // Ten kelvin: most limits are recalled and boards of one name differ.
            if margin < 10.0 {
                let relation = if margin < 0.0 { "below" } else { "little above" };
                let caution = Caution {
                    code: "service-temperature",
                    text: format!(
                        "{}: its long-term limit of about {} is {relation} the {} of the pot. It may soften, shrink or \
                         smell where it meets the pot; put a layer that bears heat between.",
                        material.name(),
                        write_rounded(limit.continuous(), 3),
                        write_rounded(hottest, 3),
                    ),
                };
                // Layers of one material and different thickness say it once.
                if !list.contains(&caution) {
                    list.push(caution);
                }
            }
        }
        Ok(list)
    }
}
