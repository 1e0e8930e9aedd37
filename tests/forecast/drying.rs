//! Dishes that dry: no more water leaves than is in them.

use stillhot::units::{Ratio, Si, celsius, days, grams, hours, kilograms, litres, minutes};
use stillhot::{Dish, Enclosure, Forecast, Lid, Options, Plan, Pot, Setup};

use crate::setups::{in_celsius, pot};

fn in_open_box(pot: Pot) -> Setup {
    let walls = Enclosure::lined("extruded-polystyrene", stillhot::units::millimetres(20.0)).unwrap();
    Setup::new(pot, walls.lid(Lid::resting())).unwrap()
}

fn lost(forecast: &Forecast, d: f64) -> [f64; 3] {
    let lost = forecast.water_lost(days(d)).unwrap().unwrap();
    [lost.low(), lost.best(), lost.high()].map(Si::si)
}

/// 20 g in a room of 60 °C for 60 days: the water of the dish is all that can go, and then the dish is as warm as the
/// room.
#[test]
fn a_dish_that_has_dried_loses_no_more() {
    for (dish, fraction) in [("water-liquid", 1.0), ("thick-stew", 0.82), ("honey-syrup", 0.171)] {
        let setup = in_open_box(Pot::typical(litres(0.1)).with(Dish::named(dish).unwrap(), grams(20.0)));
        let plan = Plan::in_room(celsius(60.0)).leaving_at(celsius(20.0)).carry(minutes(0.0));
        let forecast = setup.forecast_with(&plan, &Options::horizon(days(60.0))).unwrap();
        let [least, best, most] = lost(&forecast, 60.0);
        let water = 0.02 * fraction;
        // What the catalogue's heat capacity allows of pure water is a few thousandths less than all of it.
        assert!(
            most <= water * (1.0 + 1e-9) && best > 0.98 * water,
            "{dish}: {least} kg to {most} kg, {water} kg in it"
        );
        // The generous end may still be wet.
        let at_end = forecast.at(days(60.0)).unwrap();
        assert!((in_celsius(at_end.temperature.best()) - 60.0).abs() < 0.01, "{dish}: {}", at_end.temperature);
        assert!(forecast.ledger_residual() < 1e-9 && forecast.water_residual() < 1e-9);
    }
}

/// What has no water loses none; what has little of it no more than that.
#[test]
fn only_water_evaporates() {
    // Shut at once: all that is lost is lost in the box.
    let room = Plan::in_room(celsius(15.0)).carry(minutes(0.0));
    let of = |setup: Setup| {
        let forecast = setup.forecast(&room).unwrap();
        assert!(forecast.ledger_residual() < 1e-9 && forecast.water_residual() < 1e-9);
        forecast
    };
    let oil = of(in_open_box(pot(5.0, "vegetable-oil", 4.0)));
    assert_eq!(lost(&oil, 2.0), [0.0; 3]);
    let broth = of(in_open_box(pot(5.0, "broth-thin-soup", 4.0)));
    assert!(lost(&broth, 2.0)[0] > 1e-3);
    let dish = || Dish::named("broth-thin-soup").unwrap();
    let dry = dish().with_water_content(Ratio::from_si(0.0005));
    let damp = of(in_open_box(Pot::typical(litres(5.0)).with(dry, kilograms(4.0))));
    assert!((lost(&damp, 2.0)[1] - 0.002).abs() < 1e-9, "{:?} kg", lost(&damp, 2.0));
    // Until then it loses as ever.
    let early = [&broth, &damp].map(|f| f.water_lost(minutes(2.0)).unwrap().unwrap().best().si());
    assert!((early[0] / early[1] - 1.0).abs() < 1e-6, "{early:?} kg");
    // As given, by composition, by heat capacity.
    assert_eq!(dish().water_content().si(), 0.92);
    let own = Dish::of(crate::setups::plain("own", 0.6, 1000.0, 3600.0));
    // Siebel 1892 (from memory): 837 and 3349 J/(kg K).
    assert!((own.water_content().si() - (3600.0 - 837.0) / 3349.0).abs() < 1e-12);
    assert!(of(in_open_box(Pot::typical(litres(5.0)).with(own, kilograms(4.0)))).water_lost(hours(48.0)).is_ok());
}
