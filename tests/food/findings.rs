//! Findings on made-up curves.

use super::{bare, close, facts, guarded, simmered};
use stillhot::food::{
    Curve, DishFacts, End, Finding, Guidance, Limit, Margin, Outcome, PieceState, PlanFacts, Reason, Reheating, Topic,
    judge, judge_by, verdict,
};
use stillhot::prelude::*;

fn all(curve: &Curve, dish: &str, facts: &PlanFacts) -> Vec<Finding> {
    judge(curve, DishFacts::named(dish).unwrap(), &Guidance::All, facts).unwrap()
}

fn of(findings: &[Finding], id: &str) -> Finding {
    findings.iter().find(|finding| finding.limit.id() == id).unwrap_or_else(|| panic!("no finding of {id}")).clone()
}

fn hours_of(moment: Moment) -> f64 {
    moment.time().unwrap().si() / 3600.0
}

fn plan(serve: f64) -> PlanFacts {
    facts(20.0, serve)
}

/// The same at a height above the sea, m.
fn plan_at(serve: f64, height: f64) -> PlanFacts {
    PlanFacts::of(&simmered(20.0).serve_after(hours(serve)).at_height(metres(height)))
}

/// The same in a room of a temperature, °C.
fn plan_in(serve: f64, room: f64) -> PlanFacts {
    PlanFacts::of(&Plan::in_room(celsius(room)).simmer(minutes(20.0)).serve_after(hours(serve)))
}

/// Lines by hand: 96 to 63 °C in 3.3 h is 10 K/h, then 3 K/h, then 1.4 K/h.
#[test]
fn three_limits_have_three_moments() {
    let curve = guarded(&[(0.0, 96.0), (3.3, 63.0), (4.3, 60.0), (6.3, 57.2), (10.0, 52.0)], 0.5);
    let findings = all(&curve, "thin-broth", &plan(5.0));
    let mut seen = Vec::new();
    for (id, best) in [("uk-hot-holding", 3.3), ("germany-hot-holding", 4.3), ("us-hot-holding", 6.3)] {
        let finding = of(&findings, id);
        let moments = finding.moments.unwrap();
        close(id, hours_of(moments.best), best, 1e-6);
        assert!(hours_of(moments.cautious) < best && hours_of(moments.generous) > best, "{id}");
        seen.push(finding.outcome);
    }
    // Served at 5 h: two limits are not kept, the lowest is kept by the whole range.
    assert_eq!(seen, [Outcome::Misses, Outcome::Misses, Outcome::Meets]);
    // The cautious end passes 63 °C half a kelvin earlier: 0.05 h at 10 K/h.
    close("cautious", hours_of(of(&findings, "uk-hot-holding").moments.unwrap().cautious), 3.25, 1e-6);
}

/// Ten minutes open at 2 h cost 6 K; it warms by 1 K again and falls on at the old rate.
#[test]
fn an_opening_shows_in_curve_and_finding() {
    let shut = guarded(&[(0.0, 80.0), (8.0, 48.0)], 0.25);
    let opened = guarded(&[(0.0, 80.0), (2.0, 72.0), (2.0 + 1.0 / 6.0, 62.5), (2.5, 64.0), (8.0, 42.0)], 0.25);
    let dip = 2.0 + 1.0 / 6.0;
    assert!(opened.at(hours(dip), End::Best).unwrap() < shut.at(hours(dip), End::Best).unwrap());
    let (before, after) = (all(&shut, "thin-broth", &plan(3.0)), all(&opened, "thin-broth", &plan(3.0)));
    let (one, two) = (of(&before, "uk-hot-holding"), of(&after, "uk-hot-holding"));
    assert_eq!((one.outcome, two.outcome), (Outcome::Meets, Outcome::Misses));
    let crossed = hours_of(two.moments.unwrap().best);
    assert!(crossed > 2.0 && crossed < dip, "inside the opening: {crossed}");
    // By hand: 9 K of 9.5 K in a sixth of an hour.
    close("crossing", crossed, 2.0 + 9.0 / 9.5 / 6.0, 1e-6);
    assert_eq!(two.message.field("lowest-at"), Some("3 h"));
    // A limit that the dip stays above is dated later, but earlier than without the opening.
    let (one, two) = (of(&before, "us-hot-holding"), of(&after, "us-hot-holding"));
    assert!(hours_of(two.moments.unwrap().best) < hours_of(one.moments.unwrap().best) - 1.0);
}

#[test]
fn a_curve_without_a_range_never_meets_anything() {
    let line = [(0.0, 97.0), (8.0, 90.0)];
    let facts = plan(8.0).full_boil(minutes(60.0)).soaked(hours(10.0)).cools_inside().reheated(Reheating {
        temperature: celsius(95.0),
        held: minutes(5.0),
        takes: Some(minutes(20.0)),
    });
    for dish in DishFacts::shelf().iter() {
        for finding in judge(&bare(&line), dish, &Guidance::All, &facts).unwrap() {
            assert_ne!(finding.outcome, Outcome::Meets, "{}: {}", dish.id(), finding.message);
        }
    }
    // The same curve with a range does.
    let findings = all(&guarded(&line, 0.5), "thin-broth", &facts);
    assert_eq!(of(&findings, "uk-hot-holding").outcome, Outcome::Meets);
    assert_eq!(of(&all(&bare(&line), "thin-broth", &facts), "uk-hot-holding").reason, Reason::NoRange);
}

#[test]
fn a_limit_is_met_at_the_cautious_end_less_the_numerical_error() {
    let range = |low: f64| stillhot::Range::new(celsius(low), celsius(66.0), celsius(68.0)).unwrap();
    let curve = |low: f64, error: f64| {
        Curve::new(&[(hours(0.0), range(low), kelvins(error)), (hours(5.0), range(low), kelvins(error))]).unwrap()
    };
    let outcome = |low, error| of(&all(&curve(low, error), "thin-broth", &plan(5.0)), "uk-hot-holding").outcome;
    assert_eq!(outcome(63.4, 0.3), Outcome::Meets);
    assert_eq!(outcome(63.4, 0.5), Outcome::CannotTell, "the error eats the margin");
    assert_eq!(outcome(62.9, 0.0), Outcome::CannotTell, "best keeps, cautious does not");
    let finding = of(&all(&curve(63.4, 0.3), "thin-broth", &plan(5.0)), "uk-hot-holding");
    let Some(Margin::Temperature(margin)) = finding.margin else { panic!() };
    close("margin", margin.si(), 0.1, 1e-9);
}

#[test]
fn a_stiff_dish_needs_its_coldest_spot() {
    let curve = guarded(&[(0.0, 95.0), (5.0, 75.0)], 0.5);
    let outcome = |curve: &Curve| of(&all(curve, "split-pea-soup", &plan(5.0)), "uk-hot-holding");
    assert_eq!(outcome(&curve).reason, Reason::NotColdestSpot);
    assert_eq!(outcome(&curve.clone().at_coldest_spot()).outcome, Outcome::Meets);
    let lowered = curve.clone().with_coldest_spot_below(kelvins(10.0)).unwrap();
    assert_eq!(outcome(&lowered).outcome, Outcome::Meets);
    let lower = curve.with_coldest_spot_below(kelvins(13.0)).unwrap();
    assert_eq!(outcome(&lower).reason, Reason::RangeStraddles);
    // What the mean misses, the coldest spot misses too.
    let cold = guarded(&[(0.0, 95.0), (5.0, 55.0)], 0.5);
    assert_eq!(outcome(&cold).outcome, Outcome::Misses);
}

#[test]
fn without_a_place_the_strictest_of_household_and_catering_is_named() {
    let curve = guarded(&[(0.0, 95.0), (5.0, 70.0)], 0.5);
    let broth = DishFacts::named("thin-broth").unwrap();
    let findings = judge(&curve, broth, &Guidance::default(), &plan(5.0)).unwrap();
    let holding: Vec<&Finding> = findings.iter().filter(|finding| finding.topic() == Topic::HotHolding).collect();
    assert_eq!(holding.len(), 1);
    assert_eq!(holding[0].limit.id(), "uk-hot-holding", "65 °C is for equipment");
    assert!(holding[0].message.text.starts_with("United Kingdom and Scotland, 2006"), "{}", holding[0].message);
    // One hour in a hot room, two in another.
    let strict = |facts: PlanFacts| {
        let findings = judge(&curve, broth, &Guidance::Strictest, &facts).unwrap();
        findings.iter().find(|finding| finding.topic() == Topic::TimeLimit).unwrap().limit.id().to_owned()
    };
    assert_eq!(strict(plan_in(5.0, 35.0)), "us-lukewarm-in-heat");
    assert_eq!(strict(plan(5.0)), "us-lukewarm");
    // A room that becomes hot later is a hot room.
    let warming = stillhot::Course::steps(&[(hours(0.0), celsius(20.0)), (hours(2.0), celsius(34.0))]).unwrap();
    let later = Plan::in_room(warming).simmer(minutes(20.0)).serve_after(hours(5.0));
    assert_eq!(strict(PlanFacts::of(&later)), "us-lukewarm-in-heat");
    // A place: its own, and the strictest where it has none.
    let german = judge(&curve, broth, &Guidance::of("Germany"), &plan(5.0)).unwrap();
    assert!(german.iter().any(|finding| finding.limit.id() == "germany-hot-holding"));
    assert!(german.iter().any(|finding| finding.limit.id() == "us-lukewarm"));
    let error = judge(&curve, broth, &Guidance::of("Germny"), &plan(5.0)).unwrap_err();
    assert!(error.to_string().contains("Germany"), "{error}");
    // The tables agree at 70 °C; the one that asks for more at 65 °C is the stricter.
    let stew = DishFacts::named("beef-stew").unwrap();
    let findings = judge(&curve, stew, &Guidance::Strictest, &plan(5.0)).unwrap();
    assert!(findings.iter().any(|finding| finding.limit.id() == "uk-core-e-coli"));
}

/// Lukewarm for 3 h by hand: below 60 °C from 4 h on, eaten at 7 h.
#[test]
fn time_when_lukewarm_is_counted_and_dated() {
    let curve = guarded(&[(0.0, 100.0), (10.0, 0.0)], 0.5);
    let finding = of(&all(&curve, "thin-broth", &plan(7.0)), "us-lukewarm");
    assert_eq!(finding.outcome, Outcome::Misses);
    let moments = finding.moments.unwrap();
    close("used up", hours_of(moments.best), 6.0, 1e-6);
    close("used up, cautious", hours_of(moments.cautious), 5.95, 1e-6);
    let Some(Margin::Time(margin)) = finding.margin else { panic!() };
    close("margin", margin.si() / 3600.0, 2.0 - 3.05, 1e-6);
    assert_eq!(of(&all(&curve, "thin-broth", &plan(5.9)), "us-lukewarm").outcome, Outcome::Meets);
    assert_eq!(of(&all(&curve, "thin-broth", &plan(5.97)), "us-lukewarm").outcome, Outcome::CannotTell);
}

#[test]
fn cooling_is_judged_where_leftovers_cool_inside() {
    let curve = guarded(&[(0.0, 95.0), (4.0, 57.2), (5.5, 21.1), (9.0, 4.0)], 0.2);
    assert!(all(&curve, "thin-broth", &plan(2.0)).iter().all(|finding| finding.topic() != Topic::Cooling));
    let findings = all(&curve, "thin-broth", &plan(2.0).cools_inside());
    // 1.5 h and 4.8 h, by hand.
    assert_eq!(of(&findings, "us-cooling-first").outcome, Outcome::Meets);
    assert_eq!(of(&findings, "us-cooling-whole").outcome, Outcome::Meets);
    let slow = guarded(&[(0.0, 95.0), (4.0, 57.2), (10.0, 30.0)], 0.2);
    let findings = all(&slow, "thin-broth", &plan(2.0).cools_inside());
    assert_eq!(of(&findings, "us-cooling-first").outcome, Outcome::Misses, "more than 2 h have passed");
    let short = guarded(&[(0.0, 95.0), (4.0, 57.2), (5.0, 50.0)], 0.2);
    let findings = all(&short, "thin-broth", &plan(2.0).cools_inside());
    assert_eq!(of(&findings, "us-cooling-first").reason, Reason::CurveTooShort);
}

#[test]
fn beans_need_a_soak_and_a_full_boil_low_enough() {
    let curve = guarded(&[(0.0, 97.0), (6.0, 85.0)], 0.5);
    let finding = |facts: &PlanFacts| of(&all(&curve, "red-kidney-beans", facts), "us-kidney-bean-boil");
    let simmered = facts(40.0, 6.0);
    assert_eq!(finding(&simmered).reason, Reason::BoilTooShort, "a simmer and hours at 90 °C are no boil");
    let boiled = simmered.clone().full_boil(minutes(10.0));
    assert_eq!(finding(&boiled).reason, Reason::SoakTooShort);
    let soaked = boiled.soaked(hours(8.0));
    assert_eq!(finding(&soaked).outcome, Outcome::Meets);
    assert_eq!(finding(&soaked.clone().full_boil(minutes(9.9))).outcome, Outcome::Misses);
    let high = finding(&plan_at(6.0, 1500.0).full_boil(minutes(10.0)).soaked(hours(8.0)));
    assert_eq!((high.outcome, high.reason), (Outcome::CannotTell, Reason::HeightLowersBoil));
    assert!(high.message.text.contains("95 °C"), "{}", high.message);
    // The stricter advice of 30 min is a limit of its own.
    assert_eq!(of(&all(&curve, "red-kidney-beans", &soaked), "strict-kidney-bean-boil").outcome, Outcome::Misses);
    let strictest =
        judge(&curve, DishFacts::named("red-kidney-beans").unwrap(), &Guidance::Strictest, &soaked).unwrap();
    assert!(strictest.iter().any(|finding| finding.limit.id() == "strict-kidney-bean-boil"));
}

#[test]
fn reheating_never_repairs_a_toxin_finding() {
    let reheating = Reheating { temperature: celsius(100.0), held: minutes(30.0), takes: Some(minutes(20.0)) };
    let lukewarm = guarded(&[(0.0, 95.0), (3.0, 60.0), (9.0, 30.0)], 0.5).at_coldest_spot();
    for dish in ["white-rice", "red-kidney-beans", "cassava"] {
        let toxins = |facts: &PlanFacts| -> Vec<_> {
            let findings = all(&lukewarm, dish, facts);
            findings.into_iter().filter(Finding::is_about_toxin).map(|f| (f.limit.id().to_owned(), f.outcome)).collect()
        };
        let before = toxins(&plan(9.0));
        assert!(
            !before.is_empty() && before.iter().all(|(_, outcome)| *outcome != Outcome::Meets),
            "{dish}: {before:?}"
        );
        assert_eq!(before, toxins(&plan(9.0).reheated(reheating)), "{dish}");
    }
    // Nor does a curve that is brought back to the boil: the hours before count.
    let warmed = guarded(&[(0.0, 95.0), (3.0, 60.0), (6.0, 35.0), (6.2, 98.0), (8.0, 90.0)], 0.5).at_coldest_spot();
    let rice = of(&all(&warmed, "white-rice", &plan(8.0)), "cereus-toxin");
    assert_eq!(rice.outcome, Outcome::Misses);
    close("first below 60 °C", hours_of(rice.moments.unwrap().best), 3.0, 1e-6);
    assert!(rice.to_do.text.contains("Reheating does not undo"));
    // While the reheating itself is enough by its own limit.
    let facts = plan(8.0).reheated(reheating);
    assert_eq!(of(&all(&warmed, "white-rice", &facts), "us-reheating").outcome, Outcome::Meets);
    let short =
        plan(8.0).reheated(Reheating { temperature: celsius(71.0), held: minutes(1.0), takes: Some(minutes(20.0)) });
    assert_eq!(of(&all(&warmed, "white-rice", &short), "hong-kong-reheating").outcome, Outcome::Misses);
}

#[test]
fn rice_kept_hot_meets_rice_lukewarm_for_a_while_cannot_be_told() {
    let outcome = |points: &[(f64, f64)], serve: f64| {
        let curve = guarded(points, 0.5).at_coldest_spot();
        of(&all(&curve, "white-rice", &plan(serve)), "cereus-toxin")
    };
    assert_eq!(outcome(&[(0.0, 95.0), (4.0, 70.0)], 4.0).outcome, Outcome::Meets);
    let while_warm = outcome(&[(0.0, 95.0), (4.0, 60.0), (6.0, 50.0)], 5.0);
    assert_eq!((while_warm.outcome, while_warm.reason), (Outcome::CannotTell, Reason::ToxinPossible));
    assert_eq!(outcome(&[(0.0, 95.0), (4.0, 60.0), (8.0, 40.0)], 7.0).outcome, Outcome::Misses);
}

#[test]
fn cassava_is_never_told_by_temperature() {
    let boiling = guarded(&[(0.0, 100.0), (8.0, 99.0)], 0.5).at_coldest_spot();
    let facts = plan(8.0).full_boil(hours(5.0)).soaked(hours(48.0));
    let finding = of(&all(&boiling, "cassava", &facts), "cassava-preparation");
    assert_eq!((finding.outcome, finding.reason), (Outcome::CannotTell, Reason::NeedsPreparation));
    assert!(finding.to_do.text.contains("nor reheating makes up for it"), "{}", finding.to_do);
}

#[test]
fn nothing_is_told_of_large_frozen_or_stuffed_pieces() {
    let curve = guarded(&[(0.0, 97.0), (6.0, 85.0)], 0.5);
    let simmered = facts(40.0, 6.0);
    let with = |thickness: f64, frozen, stuffed| {
        let facts = simmered.clone().with_pieces(PieceState { thickness: millimetres(thickness), frozen, stuffed });
        all(&curve, "chicken-pieces", &facts)
    };
    for (thickness, frozen, stuffed) in [(51.0, false, false), (20.0, true, false), (20.0, false, true)] {
        for id in ["us-poultry", "uk-core", "fsis-chicken-12-fat"] {
            let finding = of(&with(thickness, frozen, stuffed), id);
            assert_eq!((finding.outcome, finding.reason), (Outcome::CannotTell, Reason::PieceCore), "{id} {thickness}");
        }
    }
    // Thin, thawed, whole: conduction reaches the middle during the simmer, even at the cautious end.
    assert_eq!(of(&with(20.0, false, false), "us-poultry").outcome, Outcome::Meets);
    // And a short simmer with a box that is soon cold does not.
    let cold = guarded(&[(0.0, 80.0), (0.5, 45.0), (6.0, 30.0)], 0.5);
    let facts = facts(1.0, 6.0);
    assert_eq!(of(&all(&cold, "chicken-pieces", &facts), "us-poultry").outcome, Outcome::Misses);
}

#[test]
fn industry_limit_on_growth_follows_the_lag() {
    let keep = guarded(&[(0.0, 95.0), (6.0, 70.0)], 0.5);
    assert_eq!(of(&all(&keep, "beef-stew", &plan(6.0)), "perfringens-growth").outcome, Outcome::Meets);
    // 60 to 15 °C at 10 K/h: 2.748 at the short lag, 1.46 at the likeliest (COMPUTED): not kept.
    let slow = guarded(&[(0.0, 60.0), (4.5, 15.0)], 0.01);
    assert_eq!(of(&all(&slow, "beef-stew", &plan(4.5)), "perfringens-growth").outcome, Outcome::Misses);
    // 54.4 to 26.7 to 4.4 °C: 1.257 and 0.267: cannot be told.
    let between = guarded(&[(0.0, 54.4), (1.5, 26.7), (6.5, 4.4)], 0.01);
    assert_eq!(of(&all(&between, "beef-stew", &plan(6.5)), "perfringens-growth").outcome, Outcome::CannotTell);
}

#[test]
fn limits_of_your_own() {
    let text = r#"
        [club-hot-holding]
        name = "keep soup at 75 °C or above"
        places = ["Rowing club"]
        setting = "catering"
        topic = "hot-holding"
        at-least = "75 °C"
        concerns = []
        mark = "GIVEN"
    "#;
    let shelf = Limit::shelf().with_file(text, "club.toml").unwrap();
    let curve = guarded(&[(0.0, 95.0), (5.0, 70.0)], 0.5);
    let broth = DishFacts::named("thin-broth").unwrap();
    let findings = judge_by(&shelf, &curve, broth, &Guidance::of("Rowing club"), &plan(5.0)).unwrap();
    assert_eq!(of(&findings, "club-hot-holding").outcome, Outcome::Misses);
    let error = Limit::shelf().with_file(&text.replace("75 °C\"\n        con", "75 kg\"\n        con"), "club.toml");
    let error = error.unwrap_err().to_string();
    assert!(error.contains("club.toml, line 7") && error.contains("at-least"), "{error}");
    assert!(Limit::shelf().with_file(&text.replace("at-least", "atleast"), "club.toml").is_err());
    assert!(Limit::shelf().with_file(&text.replace("club-hot", "uk-hot"), "club.toml").is_err(), "id is taken");
}

#[test]
fn bad_input_is_an_error() {
    let broth = DishFacts::named("thin-broth").unwrap();
    let curve = guarded(&[(0.0, 95.0), (5.0, 70.0)], 0.5);
    for facts in [
        plan(5.1),
        plan(f64::NAN),
        plan(-1.0),
        plan_at(5.0, 9000.0),
        plan_in(5.0, f64::INFINITY),
        plan(5.0).full_boil(minutes(-1.0)),
        plan(5.0).soaked(hours(100.0)),
        facts(f64::NAN, 5.0),
        plan(5.0).with_pieces(PieceState { thickness: millimetres(0.0), frozen: false, stuffed: false }),
        plan(5.0).reheated(Reheating { temperature: celsius(500.0), held: minutes(1.0), takes: Some(minutes(20.0)) }),
    ] {
        let error = verdict(&curve, broth, &Guidance::All, &facts).unwrap_err();
        assert!(error.value().is_some() && error.accepted().is_some(), "{error}");
    }
    let point = |h: f64, t: f64| (hours(h), celsius(t));
    for points in [
        vec![],
        vec![point(0.0, 90.0)],
        vec![point(1.0, 90.0), point(0.0, 80.0)],
        vec![point(0.0, 90.0), point(0.0, 80.0)],
        vec![point(0.0, f64::NAN), point(1.0, 80.0)],
        vec![point(0.0, 90.0), point(f64::INFINITY, 80.0)],
        vec![point(0.0, 900.0), point(1.0, 80.0)],
    ] {
        assert!(Curve::without_range(&points).is_err(), "{points:?}");
    }
}

/// A rule in stages is one rule: reaching 21 °C in time says nothing of the rest.
#[test]
fn both_stages_of_cooling_are_judged() {
    let curve = guarded(&[(0.0, 95.0), (4.0, 57.2), (5.5, 21.0), (14.0, 18.0)], 0.05);
    let broth = DishFacts::named("thin-broth").unwrap();
    for guidance in [Guidance::Strictest, Guidance::of("United States"), Guidance::of("Germany")] {
        let findings = judge(&curve, broth, &guidance, &plan(2.0).cools_inside()).unwrap();
        assert_eq!(of(&findings, "us-cooling-first").outcome, Outcome::Meets, "{guidance:?}");
        assert_eq!(of(&findings, "us-cooling-whole").outcome, Outcome::Misses, "{guidance:?}");
    }
    // A box that is still hot at the end of the curve has a finding too.
    let hot = guarded(&[(0.0, 95.0), (10.0, 70.0)], 0.2);
    assert_eq!(
        of(&all(&hot, "thin-broth", &plan(2.0).cools_inside()), "us-cooling-whole").reason,
        Reason::CurveTooShort
    );
}

/// What cools last in a stiff dish is its middle: the coldest spot says nothing good of cooling and growth.
#[test]
fn a_stiff_dish_is_not_cooled_by_its_coldest_spot() {
    let curve = guarded(&[(0.0, 95.0), (4.0, 57.2), (5.5, 20.0), (7.0, 4.0)], 0.2);
    let facts = plan(2.0).cools_inside();
    for curve in [curve.clone(), curve.clone().at_coldest_spot()] {
        for id in ["us-cooling-first", "us-cooling-whole", "perfringens-growth"] {
            let finding = of(&all(&curve, "split-pea-soup", &facts), id);
            assert_eq!(finding.outcome, Outcome::CannotTell, "{id}");
        }
    }
    let coldest = all(&curve.clone().at_coldest_spot(), "split-pea-soup", &facts);
    assert_eq!(of(&coldest, "us-cooling-first").reason, Reason::NotWarmestSpot);
    assert_eq!(of(&coldest, "perfringens-growth").reason, Reason::NotWarmestSpot);
    assert_eq!(of(&all(&curve, "thin-broth", &facts), "us-cooling-first").outcome, Outcome::Meets);
    // Kept above 53.4 °C at its coldest spot, nothing grows anywhere.
    let hot = guarded(&[(0.0, 95.0), (4.0, 60.0)], 0.2).at_coldest_spot();
    assert_eq!(of(&all(&hot, "split-pea-soup", &plan(4.0)), "perfringens-growth").outcome, Outcome::Meets);
}

/// Clostridium botulinum has no model here: only heat above its range excludes it, and nothing else is claimed.
#[test]
fn growth_that_is_not_computed_cannot_be_told() {
    let outcome = |points: &[(f64, f64)]| of(&all(&guarded(points, 0.5), "beef-stew", &plan(6.0)), "botulinum-growth");
    assert_eq!(outcome(&[(0.0, 95.0), (6.0, 49.0)]).outcome, Outcome::Meets);
    for low in [48.2, 30.0, 4.0] {
        let finding = outcome(&[(0.0, 95.0), (6.0, low)]);
        assert_eq!((finding.outcome, finding.reason), (Outcome::CannotTell, Reason::NotComputed), "{low}");
    }
    let curve = bare(&[(0.0, 95.0), (6.0, 80.0)]);
    assert_eq!(of(&all(&curve, "beef-stew", &plan(6.0)), "botulinum-growth").reason, Reason::NoRange);
}

/// Brought back to the boil at 5 h, 40 min after it left 73.9 °C, or 4 h after.
#[test]
fn reheatings_of_the_plan_are_judged_in_the_curve() {
    let reheated = |from: f64, to: f64| {
        let points = [(0.0, 96.0), (from, 73.9), (5.0, 60.0), (5.0, to), (9.0, to - 25.0)];
        let plan = simmered(20.0).serve_after(hours(9.0)).reheat_at(hours(5.0), celsius(to));
        all(&guarded(&points, 0.5), "thin-broth", &PlanFacts::of(&plan))
    };
    let soon = of(&reheated(4.4, 98.0), "us-reheating");
    assert_eq!((soon.outcome, soon.reason), (Outcome::Meets, Reason::Kept));
    close("when", hours_of(soon.moments.unwrap().best), 5.0, 1e-9);
    let late = of(&reheated(1.0, 98.0), "us-reheating");
    assert_eq!((late.outcome, late.reason), (Outcome::CannotTell, Reason::ReheatingTime), "{}", late.message);
    // Hong Kong and Scotland set no time for it; 71 °C is too little for all, and 74.1 °C is so by the cautious end.
    assert_eq!(of(&reheated(1.0, 98.0), "hong-kong-reheating").outcome, Outcome::Meets);
    assert_eq!(of(&reheated(4.4, 71.0), "us-reheating").outcome, Outcome::Misses);
    assert_eq!(of(&reheated(4.4, 74.3), "us-reheating").reason, Reason::RangeStraddles);
    // One that comes after it was eaten is none.
    let plan = simmered(20.0).serve_after(hours(4.0)).reheat_at(hours(5.0), celsius(98.0));
    let curve = guarded(&[(0.0, 96.0), (9.0, 60.0)], 0.5);
    assert!(all(&curve, "thin-broth", &PlanFacts::of(&plan)).iter().all(|f| f.topic() != Topic::Reheating));
    // The reheating after serving: 2 h are 2 h, and an untold time cannot be judged.
    let after = |takes: Option<Time>| {
        let reheating = Reheating { temperature: celsius(90.0), held: minutes(2.0), takes };
        of(&all(&curve, "thin-broth", &facts(20.0, 4.0).reheated(reheating)), "us-reheating")
    };
    assert_eq!(after(Some(minutes(119.0))).outcome, Outcome::Meets);
    assert_eq!((after(Some(minutes(121.0))).outcome, after(None).outcome), (Outcome::Misses, Outcome::CannotTell));
}

/// In large pieces the middle of a reheated pot stays behind: what the liquid reaches is not enough.
#[test]
fn a_reheating_is_judged_in_the_middle_of_pieces() {
    let curve = guarded(&[(0.0, 80.0), (4.0, 50.0), (4.0, 90.0), (4.2, 85.0)], 0.5);
    let plan = PlanFacts::of(&simmered(60.0).serve_after(hours(4.1)).reheat_at(hours(4.0), celsius(90.0)));
    assert_eq!(of(&all(&curve, "thin-broth", &plan), "hong-kong-reheating").outcome, Outcome::Meets);
    assert_eq!(of(&all(&curve, "chicken-pieces", &plan), "hong-kong-reheating").outcome, Outcome::Misses);
}

/// Left the stove at 70 °C: it did not simmer at the boil, whatever its minutes.
#[test]
fn a_pot_that_leaves_the_stove_lukewarm_was_not_simmered_at_the_boil() {
    let curve = guarded(&[(0.0, 70.0), (4.0, 66.0)], 0.5);
    let boiled = simmered(40.0).serve_after(hours(4.0));
    let warm = boiled.clone().leaving_at(celsius(70.0));
    let stew = DishFacts::named("meat-vegetable-stew").unwrap();
    let before = |plan: &Plan| {
        let verdict = verdict(&curve, stew, &Guidance::All, &PlanFacts::of(plan)).unwrap();
        verdict.doneness.unwrap().before_shutting.best().si() / 60.0
    };
    close("boiled", before(&boiled), 40.0, 0.2);
    // z 33 K: 10^(-30/33) of the speed.
    close("warm", before(&warm), 40.0 * 0.1233, 0.05);
    let poultry = |plan: &Plan| of(&all(&curve, "chicken-pieces", &PlanFacts::of(plan)), "us-poultry").outcome;
    assert_eq!((poultry(&boiled), poultry(&warm)), (Outcome::Meets, Outcome::Misses));
}

/// A stiff dish that never stood on the stove was not stirred through there.
#[test]
fn without_a_simmer_nothing_was_reached_on_the_stove() {
    let curve = guarded(&[(0.0, 95.0), (3.0, 60.0)], 0.5);
    let outcome = |simmer: f64| of(&all(&curve, "minced-meat-sauce", &facts(simmer, 3.0)), "us-minced-meat");
    assert_eq!(outcome(0.0).reason, Reason::NotColdestSpot);
    assert_eq!(outcome(10.0).outcome, Outcome::Meets);
    // Nor are pieces in a stiff dish at its coldest spot because they are pieces.
    let lumps = PieceState { thickness: millimetres(20.0), frozen: false, stuffed: false };
    let short = facts(0.0, 3.0).with_pieces(lumps);
    assert_eq!(of(&all(&curve, "minced-meat-sauce", &short), "us-minced-meat").reason, Reason::NotColdestSpot);
}

/// The curve of a piece begins on the stove: that part is not judged as holding, nor counted as cooking twice.
#[test]
fn what_lies_before_shutting_is_told_by_the_plan_alone() {
    use stillhot::food::PieceCentre;
    let liquid = guarded(&[(0.0, 97.0), (5.0, 75.0)], 0.5);
    let piece = PieceCentre::new(millimetres(20.0), celsius(5.0)).unwrap();
    let middle = piece.curve(minutes(30.0), celsius(100.0), &liquid).unwrap().at_coldest_spot();
    assert!(middle.at(minutes(-30.0), End::Best).unwrap() < celsius(6.0), "it goes in cold");
    let stew = DishFacts::named("beef-stew").unwrap();
    let of_curve = |curve: &Curve| verdict(curve, stew, &Guidance::All, &facts(30.0, 5.0)).unwrap();
    let (one, two) = (of_curve(&liquid), of_curve(&middle));
    assert_eq!(of(&two.findings, "uk-hot-holding").outcome, Outcome::Meets);
    let box_minutes = |verdict: &stillhot::food::Verdict| verdict.doneness.unwrap().in_the_box.best().si() / 60.0;
    // The middle lags 0.3 K behind a liquid that falls 4.4 K/h (by hand), 2 % at z 33 K; the simmer would add 15 min or more.
    close("cooked in the box", box_minutes(&two), 1.02 * box_minutes(&one), 2.0);
}

/// Times of a curve that is no cautious one are no deadlines.
#[test]
fn a_deadline_is_given_by_a_cautious_end_only() {
    let line = [(0.0, 95.0), (5.0, 55.0)];
    let text = |curve: &Curve, dish: &str| of(&all(curve, dish, &plan(3.0)), "uk-hot-holding").to_do;
    // 32 K at 8 K/h, with half a kelvin less.
    assert_eq!(text(&guarded(&line, 0.5), "thin-broth").code, "measure");
    let cannot_tell = text(&guarded(&line, 9.0), "thin-broth");
    assert_eq!((cannot_tell.code, cannot_tell.field("within")), ("eat-or-boil-before", Some("2 h 52 min")));
    assert_eq!(text(&guarded(&line, 0.5), "split-pea-soup").code, "measure-edge");
    assert_eq!(text(&bare(&line), "thin-broth").code, "measure-often");
    // Nor where a limit is missed, on a stiff dish or a curve without a range.
    for (curve, dish) in [(guarded(&line, 0.5), "white-rice"), (bare(&line), "white-rice"), (bare(&line), "thin-broth")]
    {
        for serve in [3.0, 5.0] {
            for finding in all(&curve, dish, &plan(serve)) {
                let told = format!("{} {}", finding.message, finding.to_do);
                assert!(!finding.to_do.text.contains("within") && !told.contains("at least"), "{told}");
            }
        }
    }
}

/// A range at one point is none for the rest.
#[test]
fn a_range_on_one_stretch_is_no_range() {
    let exact = |t: f64| stillhot::Range::exactly(celsius(t));
    let wide = stillhot::Range::new(celsius(94.0), celsius(95.0), celsius(96.0)).unwrap();
    let points = |second| {
        [(hours(0.0), wide, kelvins(0.0)), (hours(2.0), second, kelvins(0.0)), (hours(4.0), second, kelvins(0.0))]
    };
    assert!(!Curve::new(&points(exact(90.0))).unwrap().has_range());
    assert!(
        Curve::new(&points(stillhot::Range::new(celsius(89.0), celsius(90.0), celsius(91.0)).unwrap()))
            .unwrap()
            .has_range()
    );
    // A numerical error is no range: it says how well was computed, not what.
    let computed = |t: f64| (hours(t), exact(90.0), kelvins(0.1));
    assert!(!Curve::new(&[computed(0.0), computed(4.0)]).unwrap().has_range());
    let twice = (hours(1.0), celsius(80.0));
    let error = Curve::without_range(&[(hours(0.0), celsius(90.0)), twice, twice, twice]).unwrap_err();
    assert!(error.to_string().contains("two for a jump"), "{error}");
    assert!(Curve::without_range(&[(hours(-1.0), celsius(90.0)), (hours(1.0), celsius(80.0))]).is_err());
}

/// Places without a rule for kitchens are not answered with those of others unasked.
#[test]
fn a_place_without_a_kitchen_rule_is_unknown() {
    let curve = guarded(&[(0.0, 95.0), (5.0, 70.0)], 0.5);
    let broth = DishFacts::named("thin-broth").unwrap();
    let error = judge(&curve, broth, &Guidance::of("European Union"), &plan(5.0)).unwrap_err();
    assert_eq!(error.kind(), stillhot::ErrorKind::UnknownName);
    assert!(judge(&curve, broth, &Guidance::of("Scotland"), &plan(5.0)).is_ok());
}

/// A dish that was not told has no doneness and no hazard judged away, and says so.
#[test]
fn an_unlisted_dish_is_told_so() {
    let curve = guarded(&[(0.0, 97.0), (4.0, 80.0)], 0.5);
    let dish = DishFacts::unlisted().unwrap();
    let verdict = verdict(&curve, dish, &Guidance::Strictest, &plan(4.0)).unwrap();
    assert!(verdict.doneness.is_none() && verdict.cautions.iter().any(|caution| caution.code == "dish-not-told"));
    assert!(verdict.findings.iter().all(|finding| finding.outcome != Outcome::Meets), "stiff for all we know");
}

/// Pieces larger than usual lag more than the usual simmer holds: not done for certain.
#[test]
fn large_pieces_are_not_done_for_certain() {
    let curve = guarded(&[(0.0, 98.0), (5.0, 85.0)], 0.5);
    let potatoes = DishFacts::named("potatoes").unwrap();
    let code = |thickness: f64| {
        let pieces = PieceState { thickness: millimetres(thickness), frozen: false, stuffed: false };
        verdict(&curve, potatoes, &Guidance::Strictest, &facts(30.0, 5.0).with_pieces(pieces)).unwrap().done.code
    };
    assert_eq!((code(30.0), code(31.0)), ("done", "probably-done"));
}

/// What is kept cold is judged by the limits on cold holding alone, and its cautious end is the warm one.
#[test]
fn cold_food_is_judged_by_cold_limits() {
    // 2 to 8 °C in six hours is a kelvin an hour; half a kelvin to either side. The best passes 5 °C at 3 h.
    let curve = guarded(&[(0.0, 2.0), (6.0, 8.0)], 0.5);
    let facts = |serve: f64| facts(10.0, serve).kept_cold();
    let broth = DishFacts::named("thin-broth").unwrap();
    let found = |serve: f64| judge(&curve, broth, &Guidance::All, &facts(serve)).unwrap();
    assert!(found(2.0).len() >= 5 && found(2.0).iter().all(|finding| finding.topic() == Topic::ColdHolding));
    let us = of(&found(2.0), "us-cold-holding");
    let moments = us.moments.unwrap();
    close("cautious", hours_of(moments.cautious), 2.5, 1e-6);
    close("best", hours_of(moments.best), 3.0, 1e-6);
    close("generous", hours_of(moments.generous), 3.5, 1e-6);
    assert!(us.message.text.contains("Not above it for at least 2 h 30 min"), "{}", us.message);
    for (serve, outcome) in [(2.4, Outcome::Meets), (2.6, Outcome::CannotTell), (3.1, Outcome::Misses)] {
        assert_eq!(of(&found(serve), "us-cold-holding").outcome, outcome, "{serve} h");
    }
    assert_eq!(of(&found(3.1), "us-cold-holding").to_do.field("within"), Some("2 h 30 min"));
    // The edge of a stiff dish is the warmest, and nothing is told of it.
    let stiff = judge(&curve, DishFacts::named("oat-porridge").unwrap(), &Guidance::All, &facts(2.0)).unwrap();
    assert_eq!(of(&stiff, "us-cold-holding").reason, Reason::NotWarmestSpot);
    // Nothing is said of cooking, of flames, or of keeping it hot.
    let said = verdict(&curve, broth, &Guidance::Strictest, &facts(2.0)).unwrap();
    assert!(said.done.code == "kept-cold" && said.doneness.is_none() && said.saved.is_none());
    let said = said.to_string();
    for hot in ["flame", "scald", "hot food", "simmer", "boil"] {
        assert!(!said.contains(hot), "{hot}: {said}");
    }
    // A hot dish hears nothing of cold limits.
    assert!(all(&curve, "thin-broth", &plan(2.0)).iter().all(|finding| finding.topic() != Topic::ColdHolding));
}

/// No sentence stands twice among what to do, on any dish under any guidance.
#[test]
fn what_to_do_says_nothing_twice() {
    let curve = guarded(&[(0.0, 95.0), (3.0, 62.0), (8.0, 40.0)], 2.0);
    let sentences =
        |text: &str| -> Vec<String> { text.split(". ").map(|s| s.trim_end_matches('.').to_owned()).collect() };
    let mut repeated = 0;
    for dish in DishFacts::shelf().iter() {
        for facts in [plan(6.0), plan(6.0).cools_inside()] {
            let verdict = verdict(&curve, dish, &Guidance::All, &facts).unwrap();
            let told: Vec<String> = verdict.to_do.iter().flat_map(|message| sentences(&message.text)).collect();
            let mut once = told.clone();
            once.sort();
            once.dedup();
            assert_eq!(once.len(), told.len(), "{}: {told:#?}", dish.id());
            let all = verdict.findings.iter().flat_map(|finding| sentences(&finding.to_do.text)).count();
            repeated += usize::from(all > told.len());
        }
    }
    assert!(repeated > 20, "there is something to leave out");
}

/// Of a dish that was not told the setup says whether it is stiff: water is not.
#[test]
fn a_setup_says_whether_an_unlisted_dish_is_stiff() {
    let told = |food: &str| {
        let pot = Pot::typical(litres(5.0)).with(Dish::named(food).unwrap(), kilograms(4.0));
        let bin = Enclosure::lined("expanded-cork-board", millimetres(50.0)).unwrap().around(&pot, millimetres(15.0));
        let plan = Plan::in_room(celsius(20.0)).serve_after(hours(2.0));
        let facts = PlanFacts::of_setup(&Setup::new(pot, bin).unwrap(), &plan);
        let curve = guarded(&[(0.0, 97.0), (4.0, 90.0)], 0.5);
        of(&judge(&curve, DishFacts::unlisted().unwrap(), &Guidance::All, &facts).unwrap(), "uk-hot-holding").reason
    };
    assert_eq!(told("water-liquid"), Reason::Kept);
    assert_eq!(told("thick-stew"), Reason::NotColdestSpot);
}

/// A thermometer's log makes the curve that its rows make one by one, and errors name the file.
#[test]
fn a_log_of_a_thermometer_is_a_curve() {
    let log = "clock; dish [°C]\n12:05; 97,5\n14:05; 84,0\n17:05; 70,5\n";
    let points = [(0.0, 97.5), (2.0, 84.0), (5.0, 70.5)].map(|(h, t)| (hours(h), celsius(t)));
    assert_eq!(Curve::from_log(log, "dish.csv").unwrap(), Curve::without_range(&points).unwrap());
    for (text, told) in [
        ("time [min], dish [°C]\n0, 97,5\n5, 96,5\n", "dish.csv, line 2: more values"),
        ("time [min], dish [°C]\n0, 97.5\n", "dish.csv, curve"),
        ("time [min], dish [°C]\n0, 97.5\n5, 300\n", "dish.csv, curve, point 2"),
    ] {
        let error = Curve::from_log(text, "dish.csv").unwrap_err().to_string();
        assert!(error.starts_with(told), "{error}");
    }
}
