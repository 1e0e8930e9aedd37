//! Done, missing, second boil, and how long to simmer.

use super::{bare, close, decay, facts, guarded, kelvins_of, minutes_of, simmered};
use stillhot::food::{
    Curve, DishFacts, End, Kinetics, PieceCentre, PlanFacts, cooking_value, doneness, simmer_to_be_done,
    simmer_to_reach,
};
use stillhot::prelude::*;
use stillhot::units::interval_between;
use stillhot::{PieceShape, Pieces};

fn made_up(kinetics: &str) -> DishFacts {
    let text = format!(
        r#"
        [test-dish]
        name = "Test dish"
        circulation = "stirred"
        hazards = []
        usual-simmer = {{ time = "40 min", mark = "GIVEN" }}
        [test-dish.kinetics]
        {kinetics}
        reference = "100 °C"
        mark = "GIVEN"
        "#
    );
    DishFacts::shelf().with_file(&text, "test.toml").unwrap().get("test-dish").unwrap().clone()
}

/// A line at 81 °C for two hours at z 19: a tenth of the time counts, 12 min by hand.
#[test]
fn missing_minutes_and_second_boil_by_hand() {
    let dish = made_up("z = \"19 K\"");
    let curve = bare(&[(0.0, 81.0), (2.0, 81.0)]);
    let sea = facts(10.0, 2.0);
    let done = doneness(&curve, &dish, &sea).unwrap().unwrap();
    // At sea level water boils at 99.97 °C: a simmer counts 0.4 % less than its minutes.
    close("simmer", minutes_of(done.before_shutting.best()), 10.0, 0.05);
    close("box", minutes_of(done.in_the_box.best()), 12.0, 1e-9);
    close("missing", minutes_of(done.missing.best()), 18.0, 0.05);
    close("second boil", minutes_of(done.second_boil.best()), 18.0, 0.15);
    assert_eq!(done.done_at.best, Moment::PastHorizon(hours(2.0)));
    // At 1500 m (95 °C) a boil cooks at 10^(-5/19) = 0.546 of the speed, within the 0.1 K of the boiling point.
    let high = doneness(&curve, &dish, &PlanFacts::of(&sea.plan().clone().at_height(metres(1500.0)))).unwrap().unwrap();
    close("simmer", minutes_of(high.before_shutting.best()), 5.46, 0.1);
    close("longer boil", minutes_of(high.second_boil.best()), (28.0 - 5.46) / 0.546, 1.0);
    // The box cooked for 12 min at 100 °C: that is 12 min of stove saved at the sea, 22 min up there.
    close("saved", minutes_of(done.stove_time_saved.best()), 12.0, 0.1);
    close("saved up there", minutes_of(high.stove_time_saved.best()), 12.0 / 0.546, 0.5);
    let long = doneness(&curve, &dish, &facts(60.0, 2.0)).unwrap().unwrap();
    close("simmered too long", minutes_of(long.stove_time_saved.best()), 40.0 - 60.0, 0.3);
}

#[test]
fn done_is_dated() {
    let dish = made_up("z = \"19 K\"");
    // 90 °C for hours: 10^(-10/19) of the time counts; 30 min are missing after ten.
    let curve = guarded(&[(0.0, 90.0), (4.0, 90.0)], 1.0);
    let facts = facts(10.0, 4.0);
    let done = doneness(&curve, &dish, &facts).unwrap().unwrap();
    let at = |moment: Moment| minutes_of(moment.time().unwrap());
    // The weather moves the boil by 1 K (99.97 °C at sea level): ten minutes count as that much.
    let rate = |t: f64| 10f64.powf((t - 100.0) / 19.0);
    let after = |boil: f64, t: f64| (40.0 - 10.0 * rate(boil)) / rate(t);
    close("best", at(done.done_at.best), after(99.97, 90.0), 0.2);
    close("cautious", at(done.done_at.cautious), after(98.97, 89.0), 0.2);
    close("generous", at(done.done_at.generous), after(100.97, 91.0), 0.2);
    assert!(done.is_done_at_cautious_end());
    let long = doneness(&curve, &dish, &PlanFacts::of(&simmered(50.0))).unwrap().unwrap();
    assert_eq!(long.done_at.cautious, Moment::At(hours(0.0)), "done before it was shut in");
}

/// Reading of the check values: with z 19 a box delivers 33 to 48 min at most, so hard beans are not done by it.
#[test]
fn hard_beans_are_not_done_by_a_box_alone() {
    let curve = bare(&decay(20.0, 75.0, 12.0, 12.0)).with_accuracy(kelvins(1.0)).unwrap();
    let facts = facts(10.0, 12.0);
    let beans = doneness(&curve, DishFacts::named("black-beans").unwrap(), &facts).unwrap().unwrap();
    assert!(!beans.is_done_by_best_value());
    assert!(minutes_of(beans.second_boil.best()) > 10.0);
    let rice = doneness(&curve, DishFacts::named("white-rice").unwrap(), &facts).unwrap().unwrap();
    assert!(rice.is_done_at_cautious_end());
}

#[test]
fn the_ends_of_the_range_go_the_right_way() {
    let kinetics =
        Kinetics::with_z(stillhot::Range::new(kelvins(16.0), kelvins(19.0), kelvins(22.0)).unwrap(), celsius(100.0));
    let kinetics = kinetics.unwrap();
    // Above the reference a small z is fast, below it slow: at each end the right one is taken on either side.
    for t in [70.0, 95.0, 110.0] {
        let value = cooking_value(&bare(&[(0.0, t), (1.0, t)]), hours(1.0), &kinetics).unwrap();
        assert!(value.low() < value.best() && value.best() < value.high(), "{t}: {value:?}");
    }
    // Below the temperature at which cooking stops the cautious end credits nothing.
    let stops = made_up("z = \"19 K\"\nstops-below = \"80 °C\"");
    let line = bare(&[(0.0, 90.0), (2.0, 70.0)]);
    let value = cooking_value(&line, hours(2.0), stops.kinetics().unwrap()).unwrap();
    let first_half = cooking_value(&line, hours(1.0), stops.kinetics().unwrap()).unwrap();
    close("nothing after 80 °C", value.low().si(), first_half.low().si(), 1e-6);
    assert!(value.best() > first_half.best());
}

#[test]
fn the_planner_finds_the_least_simmer() {
    let dish = made_up("z = [\"17 K\", \"19 K\", \"21 K\"]");
    let facts = facts(0.0, 6.0);
    let mut asked = 0;
    let plan = simmer_to_be_done(&dish, &facts, minutes(60.0), |_| {
        asked += 1;
        Ok(bare(&decay(20.0, 75.0, 8.0, 6.0)).with_accuracy(kelvins(2.0)).unwrap())
    })
    .unwrap();
    assert!(asked <= 20, "{asked}");
    let (cautious, best) = (plan.cautious.unwrap(), plan.best.unwrap());
    assert!(best < cautious, "{best:?} {cautious:?}");
    // One minute less is not enough, and so many are.
    let curve = bare(&decay(20.0, 75.0, 8.0, 6.0)).with_accuracy(kelvins(2.0)).unwrap();
    for (simmer, cautious_end) in [(cautious, true), (best, false)] {
        let done = |simmer: Time| {
            let facts = super::facts(minutes_of(simmer), 6.0);
            let done = doneness(&curve, &dish, &facts).unwrap().unwrap();
            if cautious_end { done.is_done_at_cautious_end() } else { done.is_done_by_best_value() }
        };
        assert!(done(simmer) && !done(simmer - minutes(1.0)));
    }
    let plan = simmer_to_be_done(&dish, &facts, minutes(2.0), |_| Ok(curve.clone())).unwrap();
    assert_eq!((plan.cautious, plan.best), (None, None), "two minutes do not do");
    assert!(simmer_to_be_done(&dish, &facts, minutes(f64::NAN), |_| Ok(curve.clone())).is_err());
}

/// The middle of a sphere whose surface is at a constant temperature, and under a film: one-term series of
/// `closed_form::one_term`, which has its own tests; here the best and generous members are told by their own shapes.
#[test]
fn the_middle_of_a_piece_follows_its_series() {
    use stillhot::closed_form::{BodyShape, one_term};
    let liquid = bare(&[(0.0, 90.0), (3.0, 90.0)]).with_accuracy(kelvins(0.01)).unwrap();
    let middle = PieceCentre::new(millimetres(40.0), celsius(10.0)).unwrap();
    let curve = middle.curve(minutes(0.0), celsius(100.0), &liquid).unwrap();
    let radius = 0.02;
    for (end, shape, diffusivity, film, bath) in [
        (End::Cautious, BodyShape::Slab, 1.2e-7, 200.0, 89.99),
        (End::Best, BodyShape::Cylinder, 1.4e-7, 500.0, 90.0),
        (End::Generous, BodyShape::Sphere, 1.7e-7, 2000.0, 90.01),
    ] {
        // The ends of the range lie further out by the numerical error that is claimed.
        let claimed = match end {
            End::Cautious => -0.05,
            End::Generous => 0.05,
            _ => 0.0,
        };
        let term = one_term(shape, film * radius / 0.5).unwrap();
        for t in [1500.0, 3000.0, 6000.0] {
            let rate = diffusivity * (term.eigenvalue / radius).powi(2);
            // The second term is below 1e-5 of the difference by then.
            let expected = claimed + bath + (10.0 - bath) * term.coefficient * (-rate * t).exp();
            let got = curve.at(stillhot::units::seconds(t), end).unwrap().si() - 273.15;
            close(&format!("{end:?} at {t} s"), got, expected, 0.05);
        }
    }
}

#[test]
fn a_simmer_and_a_ramp_are_followed_exactly_whatever_the_points() {
    // A ramp given by two points or by many is the same ramp.
    let coarse = bare(&[(0.0, 95.0), (4.0, 55.0)]);
    let fine = bare(&(0..=400).map(|k| (k as f64 / 100.0, 95.0 - k as f64 / 10.0)).collect::<Vec<_>>());
    let middle = PieceCentre::new(millimetres(50.0), celsius(5.0)).unwrap();
    let of = |liquid: &Curve| middle.curve(minutes(5.0), celsius(100.0), liquid).unwrap();
    let (one, two) = (of(&coarse), of(&fine));
    for h in [0.5, 1.0, 2.0, 4.0] {
        let apart = interval_between(one.at(hours(h), End::Best).unwrap(), two.at(hours(h), End::Best).unwrap());
        close("apart", kelvins_of(apart), 0.0, 2e-2);
    }
    // It never leaves the temperatures it meets, and starts cold.
    let start = one.at(minutes(-5.0), End::Best).unwrap();
    close("start", start.si() - 273.15, 5.0, 4.0);
    assert!(one.at(hours(4.0), End::Best).unwrap() > celsius(55.0), "it lags behind a falling liquid");
}

/// Potatoes of 60 mm from the larder in a litre of broth in a box, by forecasts: a simmer too short by a minute does not
/// bring their middle to 75 °C within the hour at the cautious end, and so many minutes do.
#[test]
fn the_planner_for_pieces_finds_the_least_simmer() {
    let potato = Dish::named("potato").unwrap();
    let pieces = Pieces::new(PieceShape::Sphere(millimetres(60.0)), potato, kilograms(1.0), celsius(5.0));
    let broth = Dish::named("broth-thin-soup").unwrap();
    let pot = Pot::typical(litres(3.0)).with(broth, kilograms(1.0)).with_pieces(pieces);
    let bin = Enclosure::lined("expanded-cork-board", millimetres(50.0)).unwrap().around(&pot, millimetres(15.0));
    let setup = Setup::new(pot, bin.lid(Lid::resting())).unwrap();
    let facts = PlanFacts::of_setup(&setup, &simmered(0.0).serve_after(hours(1.0)));
    assert_eq!(facts.pieces()[0].thickness, millimetres(60.0));
    assert!(!facts.pieces()[0].frozen);
    let curve = |plan: &Plan| Curve::try_from(&setup.forecast(plan)?);
    let plan = simmer_to_reach(celsius(75.0), &facts, minutes(60.0), curve).unwrap();
    let (cautious, best) = (plan.cautious.unwrap(), plan.best.unwrap());
    assert!(best <= cautious && best >= minutes(1.0), "{best:?} {cautious:?}");
    let warmest = |simmer: Time, low: bool| {
        let forecast = setup.forecast(&facts.plan().clone().simmer(simmer)).unwrap();
        let at = |minute: u32| {
            let row = forecast.middle_at(0, minutes(f64::from(minute))).unwrap();
            if low { row.temperature.low().si() - row.numerical.si() } else { row.temperature.best().si() }
        };
        (0..=60).map(at).fold(0.0, f64::max) - 273.15
    };
    for (simmer, low) in [(cautious, true), (best, false)] {
        // Sampling takes off another hundredth of a kelvin.
        assert!(warmest(simmer, low) >= 75.0 && warmest(simmer - minutes(1.0), low) < 75.02, "{simmer:?}");
    }
    // The middles of the forecast are those of its curve, and served an hour earlier they are not there.
    let forecast = setup.forecast(facts.plan()).unwrap();
    let middle = Curve::try_from(&forecast).unwrap().middles()[0].clone();
    for minute in [0.0, 7.3, 31.0, 300.0] {
        let row = forecast.middle_at(0, minutes(minute)).unwrap();
        close("middle", middle.at(minutes(minute), End::Best).unwrap().si(), row.temperature.best().si(), 0.01);
        assert!(middle.at(minutes(minute), End::Cautious).unwrap() < row.temperature.low());
    }
    let at_once = PlanFacts::of(&simmered(0.0).serve_after(minutes(0.0)));
    let early = simmer_to_reach(celsius(75.0), &at_once, minutes(60.0), curve).unwrap();
    assert!(early.best.unwrap() > best, "{early:?}");
}

/// The middle of a forecast with pieces and the one of a curve of its liquid are the same conduction: the first lies
/// between the ends of the second.
#[test]
fn the_middle_by_curve_holds_the_middle_by_forecast() {
    let potato = Dish::named("potato").unwrap();
    let pieces = Pieces::new(PieceShape::Cylinder(millimetres(40.0)), potato, kilograms(0.5), celsius(5.0));
    let broth = Dish::named("broth-thin-soup").unwrap();
    let pot = Pot::typical(litres(5.0)).with(broth, kilograms(3.0)).with_pieces(pieces);
    let bin = Enclosure::lined("expanded-cork-board", millimetres(50.0)).unwrap().around(&pot, millimetres(15.0));
    let setup = Setup::new(pot, bin.lid(Lid::resting())).unwrap();
    let plan = simmered(8.0).carry(minutes(0.0)).serve_after(hours(5.0));
    let curve = Curve::try_from(&setup.forecast(&plan).unwrap()).unwrap();
    let piece = PieceCentre::new(millimetres(40.0), celsius(5.0)).unwrap();
    let boiling = PlanFacts::of(&plan).boiling_temperature().unwrap();
    let by_curve = piece.curve(minutes(8.0), boiling, &curve).unwrap();
    for minute in [1.0, 10.0, 30.0, 120.0, 290.0] {
        let time = minutes(minute);
        let middle = curve.middles()[0].at(time, End::Best).unwrap();
        let [low, high] = [End::Cautious, End::Generous].map(|end| by_curve.at(time, end).unwrap());
        assert!(low < middle && middle < high, "{minute} min: {low:?} {middle:?} {high:?}");
    }
}
