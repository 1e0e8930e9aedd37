//! Cautions that go with every verdict. Show them unedited.

use super::dish_facts::DishFacts;
use super::message::Message;
use super::plan_facts::PlanFacts;

/// Common practice without source, but for the flame, where a larger pot was seen to raise carbon monoxide (READ, a
/// randomised study of camping stoves, abstract), and damp (READ, design rules and a cookery book of 1920).
const ALWAYS: [(&str, &str); 6] = [
    (
        "food-safety-rules",
        "A prediction is no measurement: use a thermometer and follow the food-safety rules of your place, which decide.",
    ),
    ("scald", "A full pot at the boil scalds."),
    ("tip-over", "Carry it lidded on a clear path; set box or sleeve low and level, out of reach of children."),
    (
        "flame-and-carbon-monoxide",
        "No sleeve on a pot over a flame, no flame in a box, tent or cabin: fire and carbon monoxide kill.",
    ),
    (
        "foam-heat-and-smell",
        "A pot base fresh off the stove is hotter than boiling: let it rest first; foam that softens or smells is too hot.",
    ),
    ("damp-and-mould", "Steam wets the insulation: line it, air it open after use, throw mouldy filling away."),
];

/// The cautions for a dish and plan.
pub(super) fn cautions(dish: &DishFacts, facts: &PlanFacts) -> Vec<Message> {
    // The first holds for cold food as well, the others for hot.
    let count = if facts.is_kept_cold() { 1 } else { ALWAYS.len() };
    let mut list: Vec<Message> = ALWAYS.iter().take(count).map(|(code, text)| Message::new(code, *text)).collect();
    if dish.is_unlisted() {
        list.push(Message::new(
            "dish-not-told",
            "Which dish it is was not told: beans need a hard boil, cassava its preparation, meat a hot middle, and none \
             of that was judged.",
        ));
    }
    if dish.kinetics().is_some_and(|kinetics| kinetics.is_extrapolated_in_a_box()) {
        list.push(Message::new(
            "cooking-extrapolated",
            "How fast it cooks below the boil is extrapolated from hotter measurements or from other foods: taste it.",
        ));
    }
    if !dish.hazards().is_empty() {
        list.push(Message::new(
            "not-computed",
            "Of bacteria only Clostridium perfringens is computed. What was in the food before it was cooked is not, and \
             what was left lukewarm and sealed from air may hold worse.",
        ));
    }
    if !facts.pieces().is_empty() || dish.pieces().is_some() {
        list.push(Message::new(
            "pieces",
            "Large, frozen or stuffed pieces stay cold inside for long after the liquid boils.",
        ));
    }
    if facts.reheating().is_some() || facts.planned_reheatings().next().is_some() {
        list.push(Message::new("reheating-and-toxins", "Reheating does not undo toxins."));
    }
    if let Some(note) = dish.note() {
        list.push(Message::new("dish-note", note));
    }
    list
}
