//! Nothing that is said promises.

use super::guarded;
use stillhot::food::{
    Curve, DishFacts, Fuel, Guidance, PieceState, PlanFacts, Reheating, Verdict, simmer_power, verdict,
};
use stillhot::prelude::*;
use stillhot::units::{kilojoules, watts};

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

/// What is not finished saves nothing: the second boil, and bringing it back to the boil, are taken off and told.
#[test]
fn savings_of_what_is_not_done_are_told_with_what_finishing_costs() {
    let pot = Pot::typical(litres(4.0)).with(Dish::named("beans-cooked").unwrap(), kilograms(3.0));
    let bin = Enclosure::lined("expanded-cork-board", millimetres(50.0)).unwrap().around(&pot, millimetres(15.0));
    let setup = Setup::new(pot, bin).unwrap();
    let plan = super::simmered(20.0).serve_after(hours(4.0));
    let curve = guarded(&[(0.0, 97.0), (4.0, 77.0)], 1.0).at_coldest_spot();
    let beans = DishFacts::named("chickpeas").unwrap();
    let power = stillhot::Range::exactly(watts(300.0));
    let saving = |facts: &PlanFacts| {
        let verdict = verdict(&curve, beans, &Guidance::Strictest, facts).unwrap();
        assert_eq!(verdict.done.code, "not-done");
        verdict.with_saving(Fuel::named("induction-hob").unwrap(), power).unwrap()
    };
    let (plain, whole) = (saving(&PlanFacts::of(&plan)), saving(&PlanFacts::of_setup(&setup, &plan)));
    let text = |verdict: &Verdict| verdict.saved.as_ref().unwrap().text.clone();
    for verdict in [&plain, &whole] {
        assert!(text(verdict).contains("once it is finished"), "{}", text(verdict));
        assert!(text(verdict).contains("The second boil is taken off:"), "{}", text(verdict));
    }
    assert!(text(&plain).contains("bringing it back to the boil not counted"), "{}", text(&plain));
    assert!(text(&whole).contains("with bringing it back to the boil"), "{}", text(&whole));
    // What is told goes by the sign of what is saved.
    let mut told = Vec::new();
    for each in [5.0, 50.0, 100.0, 150.0, 200.0, 300.0, 1_000.0] {
        let facts = PlanFacts::of_setup(&setup, &plan);
        let it = verdict(&curve, beans, &Guidance::Strictest, &facts).unwrap();
        let it = it.with_saving(Fuel::named("induction-hob").unwrap(), stillhot::Range::exactly(watts(each))).unwrap();
        let drawn = it.saving.unwrap().drawn;
        let begins = match (drawn.best().si() > 0.0, drawn.high().si() > 0.0) {
            (true, _) => "Saved against",
            (false, true) => "By the best value nothing is saved",
            (false, false) => "Nothing is saved",
        };
        assert!(text(&it).starts_with(begins), "{each} W: {}", text(&it));
        told.push(begins);
    }
    told.dedup();
    assert!(told.len() >= 2 && told.last() == Some(&"Saved against"), "{told:?}");
    // By hand: 3 kg of beans and 1.4 kg of steel by 23 K are 250 to 300 kJ of heat, more on the hob.
    let heat = |verdict: &Verdict| verdict.saving.unwrap().drawn.best().si();
    let less = heat(&plain) - heat(&whole);
    assert!((250e3..450e3).contains(&less), "{less}");
    // What is done is told without any of it.
    let broth = DishFacts::named("barley-broth").unwrap();
    let done = verdict(&curve, broth, &Guidance::Strictest, &PlanFacts::of_setup(&setup, &plan)).unwrap();
    let done = done.with_saving(Fuel::named("induction-hob").unwrap(), power).unwrap();
    assert_eq!(done.done.code, "done", "{}", done.done);
    assert!(text(&done).starts_with("Saved against simmering it out (") && !text(&done).contains("finished"));
}

/// A second boil that may not be needed takes from nothing to much: all told in kilojoules, not "0 J to 1100000 J".
#[test]
fn a_second_boil_that_may_not_be_needed_is_told_in_kilojoules() {
    let pot = Pot::typical(litres(5.0)).with(Dish::named("lentil-porridge").unwrap(), kilograms(4.0));
    let bin = Enclosure::lined("expanded-cork-board", millimetres(50.0)).unwrap().around(&pot, millimetres(15.0));
    let setup = Setup::new(pot, bin).unwrap();
    let plan = super::simmered(15.0).serve_after(hours(2.0));
    let of = |low: f64, high: f64| stillhot::Range::new(celsius(low), celsius(high), celsius(high)).unwrap();
    let points = [(0.0, of(90.0, 97.0)), (2.0, of(60.0, 92.0))];
    let points = points.map(|(hour, range)| (hours(hour), range, kelvins(0.0)));
    let curve = Curve::new(&points).unwrap().at_coldest_spot();
    let lentils = DishFacts::named("red-lentils").unwrap();
    let it = verdict(&curve, lentils, &Guidance::Strictest, &PlanFacts::of_setup(&setup, &plan)).unwrap();
    assert_eq!(it.done.code, "probably-done");
    let it = it.with_saving(Fuel::named("lpg-hob").unwrap(), simmer_power(setup.pot(), true).unwrap()).unwrap();
    let boil = it.saved.as_ref().unwrap().field("second-boil").unwrap();
    assert!(boil.starts_with("0 kJ to ") && boil.ends_with(" kJ (best 0 kJ)"), "{boil}");
}

/// What is to be done about toxins of spores has its own deadline, and does not lean on a sentence before it.
#[test]
fn the_deadline_of_spores_stands_in_its_own_sentence() {
    let plan = super::simmered(20.0).serve_after(hours(2.0));
    let curve = guarded(&[(0.0, 95.0), (1.0, 61.0), (2.0, 50.0)], 1.0).at_coldest_spot();
    let rice = DishFacts::named("white-rice").unwrap();
    let it = verdict(&curve, rice, &Guidance::Strictest, &PlanFacts::of(&plan)).unwrap();
    let to_do = it.to_do.iter().find(|message| message.code == "keep-hot-or-discard").unwrap();
    // At the cautious end it has 60 °C where 61 °C are told: after an hour.
    assert_eq!(to_do.field("within"), Some("1 h"));
    assert!(to_do.text.contains("eat it within 1 h of shutting"), "{to_do}");
}

/// The numbers of a range share a unit.
#[test]
fn ranges_speak_one_unit() {
    let range = stillhot::Range::new(kilojoules(270.0), kilojoules(990.0), kilojoules(3_400.0)).unwrap();
    assert_eq!(range.to_string(), "270 kJ to 3400 kJ (best 990 kJ)");
    let times = stillhot::Range::new(minutes(30.0), minutes(62.0), hours(3.0)).unwrap();
    assert_eq!(times.to_string(), "30 min to 180 min (best 62 min)");
    // Zero has no size of its own, and what is exact no ends.
    let less = stillhot::Range::new(kilojoules(-1_600.0), kilojoules(0.0), kilojoules(200.0)).unwrap();
    assert_eq!(less.to_string(), "-1.6 MJ to 0.2 MJ (best 0 MJ)");
    assert_eq!(stillhot::Range::exactly(grams(130.0)).to_string(), "130 g");
    let held = Held::Until {
        earliest: Moment::At(minutes(100.0)),
        best: Moment::At(hours(3.0)),
        latest: Moment::PastHorizon(hours(48.0)),
        numerical: minutes(0.1),
    };
    assert_eq!(held.to_string(), "1.67 h to past 48 h (best 3 h)");
}
