//! Nothing that is said promises.

use super::guarded;
use stillhot::food::{DishFacts, Fuel, Guidance, PieceState, PlanFacts, Reheating, Verdict, simmer_power, verdict};
use stillhot::prelude::*;

const WORDS: [&str; 5] = ["safe", "safely", "guaranteed", "guarantee", "harmless"];
const PHRASES: [&str; 5] = ["fine to eat", "no risk", "risk-free", "nothing to fear", "without danger"];

/// What in a text promises.
fn promises(text: &str) -> Vec<String> {
    let low = text.to_lowercase().replace("food-safety", "");
    let words: Vec<&str> = low.split(|c: char| !c.is_alphabetic()).collect();
    let found =
        WORDS.iter().filter(|word| words.contains(word)).chain(PHRASES.iter().filter(|phrase| low.contains(**phrase)));
    found.map(|word| (*word).to_owned()).collect()
}

#[test]
fn the_check_knows_what_promises() {
    for text in ["It is safe.", "Keep it safely", "Fine to eat", "there is no risk", "guaranteed hot", "harmless"] {
        assert_eq!(promises(text).len(), 1, "{text}");
    }
    for text in ["food-safety rules", "unsafe", "safety", "safeguard"] {
        assert!(promises(text).is_empty(), "{text}");
    }
}

/// Verdicts on every dish, under every guidance, on many curves and plans.
fn verdicts() -> &'static [(Verdict, String)] {
    static VERDICTS: std::sync::OnceLock<Vec<(Verdict, String)>> = std::sync::OnceLock::new();
    VERDICTS.get_or_init(compute_verdicts)
}

fn compute_verdicts() -> Vec<(Verdict, String)> {
    let curves = [
        guarded(&[(0.0, 98.0), (8.0, 88.0)], 0.5),
        guarded(&[(0.0, 95.0), (3.0, 62.0), (8.0, 40.0)], 2.0).at_coldest_spot(),
        guarded(&[(0.0, 70.0), (8.0, 20.0)], 0.5),
        guarded(&[(0.0, 95.0), (8.0, 56.0)], 4.0),
        super::bare(&[(0.0, 95.0), (8.0, 60.0)]),
    ];
    let simmered = super::simmered(15.0).serve_after(hours(6.0));
    // On each dish the plans in turn, so that each meets every kind of curve.
    let base = PlanFacts::of(&simmered);
    let hot_and_high =
        Plan::in_room(celsius(36.0)).simmer(minutes(15.0)).serve_after(hours(6.0)).at_height(metres(2500.0));
    let plans = [
        base.clone(),
        base.clone().full_boil(minutes(30.0)).soaked(hours(8.0)).cools_inside(),
        PlanFacts::of(&hot_and_high).full_boil(minutes(30.0)).soaked(hours(8.0)),
        PlanFacts::of(&simmered.clone().reheat_at(hours(5.0), celsius(95.0))),
        base.clone().reheated(Reheating { temperature: celsius(90.0), held: minutes(3.0), takes: None }),
        base.clone().reheated(Reheating { temperature: celsius(50.0), held: minutes(3.0), takes: None }),
        base.with_pieces(PieceState { thickness: millimetres(90.0), frozen: true, stuffed: true }),
    ];
    let power = simmer_power(&Pot::typical(litres(4.0)), true).unwrap();
    let mut list = Vec::new();
    for dish in DishFacts::shelf().iter() {
        for curve in &curves {
            for plan in &plans {
                for guidance in [Guidance::All, Guidance::Strictest, Guidance::of("Germany"), Guidance::of("Scotland")]
                {
                    let verdict = verdict(curve, dish, &guidance, plan).unwrap();
                    let fuel = Fuel::named("lpg-hob").unwrap();
                    let verdict = verdict.with_saving(fuel, power).unwrap();
                    let verdict = if verdict.saving.is_some() { verdict.with_walk(4).unwrap() } else { verdict };
                    let text = verdict.to_string();
                    list.push((verdict, text));
                }
            }
        }
    }
    list
}

#[test]
fn no_message_promises_and_none_is_hollow() {
    let mut codes = std::collections::BTreeSet::new();
    for (verdict, shown) in verdicts() {
        assert_eq!(promises(shown), Vec::<String>::new(), "{shown}");
        for message in verdict.messages() {
            assert_eq!(promises(&message.text), Vec::<String>::new(), "{}", message.text);
            let parts = message.fields.iter().map(|(_, value)| value.as_str());
            parts.for_each(|value| assert_eq!(promises(value), Vec::<String>::new(), "{value}"));
            assert!(message.text.ends_with(['.', '!']) && !message.text.contains("NaN"), "{}", message.text);
            assert!(!message.text.contains("  ") && !message.text.contains(" ."), "{}", message.text);
            codes.insert(message.code);
        }
    }
    // The sample reaches what there is to say.
    for code in [
        "done",
        "probably-done",
        "not-done",
        "cooking-unknown",
        "second-boil",
        "saved",
        "hot-holding",
        "time-limit",
        "cooking-through",
        "cooling",
        "reheating",
        "growth",
        "full-boil",
        "spore-toxin",
        "preparation",
        "eat-or-boil-before",
        "measure",
        "discard-when-used-up",
        "cook-through",
        "cool-outside",
        "reheat-hotter",
        "boil-first",
        "boil-under-pressure",
        "keep-hot-or-discard",
        "prepare",
        "growth-computed",
        "break-even",
        "measure-edge",
        "measure-often",
        "reheat-faster",
        "eat-earlier",
        "dish-not-told",
        "not-computed",
        "cooking-extrapolated",
        "reheating-and-toxins",
    ] {
        assert!(codes.contains(code), "{code} is not among {codes:?}");
    }
}

#[test]
fn names_and_notes_of_the_data_do_not_promise() {
    let texts = [
        include_str!("../../materials/dishes.toml"),
        include_str!("../../materials/food/guidance.toml"),
        include_str!("../../materials/food/fuel.toml"),
        include_str!("../../materials/food/sources.toml"),
    ];
    for text in texts {
        for line in text.lines() {
            assert_eq!(promises(line), Vec::<String>::new(), "{line}");
        }
    }
}

#[test]
fn cautions_stand_with_every_verdict() {
    for (verdict, shown) in verdicts().iter().step_by(7) {
        for code in [
            "food-safety-rules",
            "scald",
            "tip-over",
            "flame-and-carbon-monoxide",
            "foam-heat-and-smell",
            "damp-and-mould",
        ] {
            let caution = verdict.cautions.iter().find(|caution| caution.code == code).unwrap();
            assert!(shown.contains(&caution.text), "{code}");
        }
    }
}

#[test]
fn a_verdict_reads_as_a_cook_would_say_it() {
    let curve = guarded(&[(0.0, 97.0), (4.0, 78.0), (8.0, 62.0)], 1.0);
    let dish = DishFacts::named("barley-broth").unwrap();
    let plan = super::facts(15.0, 7.0);
    let verdict = verdict(&curve, dish, &Guidance::of("Germany"), &plan).unwrap();
    let power = simmer_power(&Pot::typical(litres(4.0)), true).unwrap();
    let verdict = verdict.with_saving(Fuel::named("lpg-hob").unwrap(), power).unwrap();
    let shown = verdict.to_string();
    let first = shown.lines().next().unwrap();
    assert!(first.starts_with("Broth with barley and squash: "), "{shown}");
    assert!(shown.contains("Germany, 2020: keep hot food at 60 °C or above: meets."), "{shown}");
    assert!(shown.contains("Saved against simmering it out"), "{shown}");
    assert!(shown.lines().count() <= 8, "{shown}");
    println!("{shown}");
}
