//! A forecast becomes a curve, and a verdict can be given on it.

use super::close;
use stillhot::food::{Curve, DishFacts, End, Guidance, PlanFacts, verdict};
use stillhot::prelude::*;
use stillhot::units::seconds;

#[test]
fn a_forecast_becomes_a_curve_that_misses_it_by_less_than_it_says() {
    let pot = Pot::typical(litres(5.0)).with(Dish::named("broth-thin-soup").unwrap(), kilograms(4.0));
    let bin = Enclosure::lined("expanded-cork-board", millimetres(50.0)).unwrap().around(&pot, millimetres(15.0));
    let setup = Setup::new(pot, bin.lid(Lid::resting())).unwrap();
    let plan = Plan::in_room(celsius(16.0)).simmer(minutes(15.0)).shut().serve_after(hours(5.0));
    let forecast = setup.forecast(&plan).unwrap();
    let curve = Curve::try_from(&forecast).unwrap();
    assert!(curve.has_range());
    assert_eq!(curve.until(), forecast.horizon());
    let horizon = forecast.horizon().si();
    let mut outside = 0;
    for k in 0..=500 {
        let time = seconds(horizon * f64::from(k) / 500.0);
        let row = forecast.at(time).unwrap();
        let at = |end| curve.at(time, end).unwrap();
        close("best", at(End::Best).si(), row.temperature.best().si(), 0.01);
        // The ends lie outside those of the forecast, nearly always with the numerical error taken off. (That error is an
        // estimate with single spikes of some 0.07 K where the observed order fails: a sample may miss one.)
        let (low, high) = (row.temperature.low().si(), row.temperature.high().si());
        assert!(at(End::Cautious).si() < low && at(End::Generous).si() > high, "{k}");
        let (low, high) = (low - row.numerical.si(), high + row.numerical.si());
        outside += usize::from(at(End::Cautious).si() <= low + 1e-3 && at(End::Generous).si() >= high - 1e-3);
    }
    assert!(outside >= 490, "{outside} of 501");
    // The moments agree with those of the forecast, less the numerical error.
    let Held::Until { earliest, best, .. } = forecast.above(celsius(63.0)).unwrap() else { panic!() };
    let moments = curve.falls_below(celsius(63.0)).unwrap();
    let si = |moment: Moment| moment.time().unwrap().si();
    close("best", si(moments.best), si(best), 60.0);
    assert!(si(moments.cautious) <= si(earliest) + 1.0 && si(moments.cautious) > si(earliest) - 600.0);

    let facts = PlanFacts::of(&plan);
    assert_eq!(facts.plan().serve_time(), Some(hours(5.0)));
    let answer = verdict(&curve, DishFacts::named("squash-broth").unwrap(), &Guidance::Strictest, &facts).unwrap();
    assert!(answer.to_string().contains("United Kingdom and Scotland, 2006"), "{answer}");
}

/// Ten minutes open at 2 h, in a forecast: the curve dips, the crossing comes earlier, and a reheating starts anew.
#[test]
fn an_opening_and_a_reheating_show_in_curve_and_finding() {
    let pot = Pot::typical(litres(5.0)).with(Dish::named("broth-thin-soup").unwrap(), kilograms(4.0));
    let bin = Enclosure::lined("expanded-cork-board", millimetres(50.0)).unwrap().around(&pot, millimetres(15.0));
    let setup = Setup::new(pot, bin.lid(Lid::resting())).unwrap();
    let plan = Plan::in_room(celsius(16.0)).simmer(minutes(15.0)).shut().serve_after(hours(8.0));
    let of = |plan: &Plan| Curve::try_from(&setup.forecast(plan).unwrap()).unwrap();
    let shut = of(&plan);
    let opened = of(&plan.clone().open_at(hours(2.0), minutes(10.0)));
    let best = |curve: &Curve, time: Time| curve.at(time, End::Best).unwrap().si();
    close("before", best(&opened, hours(1.9)), best(&shut, hours(1.9)), 0.05);
    let dip = best(&shut, hours(2.2)) - best(&opened, hours(2.2));
    assert!(dip > 0.3, "{dip}");
    let broth = DishFacts::named("thin-broth").unwrap();
    let crossing = |curve: &Curve| {
        let verdict = verdict(curve, broth, &Guidance::of("Germany"), &PlanFacts::of(&plan)).unwrap();
        let finding = verdict.findings.iter().find(|f| f.limit.id() == "germany-hot-holding").unwrap().clone();
        finding.moments.unwrap().cautious.time().unwrap()
    };
    assert!(crossing(&opened) < crossing(&shut) - minutes(2.0), "{:?} {:?}", crossing(&opened), crossing(&shut));
    // A jump up throws no shadow of error on the hour around it.
    let reheated = of(&plan.clone().reheat_at(hours(3.0), celsius(95.0)));
    let low = |time: Time| reheated.at(time, End::Cautious).unwrap();
    assert!(best(&reheated, hours(3.1)) > best(&shut, hours(3.1)) + 5.0);
    assert!((low(hours(2.95)).si() - shut.at(hours(2.95), End::Cautious).unwrap().si()).abs() < 0.3);
    assert!(low(minutes(182.0)) > celsius(90.0), "{:?}", low(minutes(182.0)));
}
