//! Setups at random, over the whole of what people build.

use crate::setups::{chilled_at_most, chilled_by_air};
use proptest::prelude::*;
use stillhot::units::{Si, celsius, hours, kilograms, litres, metres, metres_per_second, millimetres, minutes};
use stillhot::{Dish, Enclosure, Lid, Options, Part, Plan, Pot, Setup, Sleeve};

const WALLS: [&str; 10] = [
    "rigid-polyisocyanurate-foam-foil-faced",
    "cross-linked-polyethylene-foam-mat",
    "expanded-cork-board",
    "hay-loose",
    "newspaper-crumpled",
    "sheep-wool-batt",
    "plywood",
    "sand-dry",
    "silica-aerogel-blanket",
    "aluminium-foil",
];
const DISHES: [&str; 5] = ["water-liquid", "thick-stew", "vegetable-oil", "rice-cooked", "honey-syrup"];

#[derive(Debug, Clone)]
struct Drawn {
    volume: f64,
    fill: f64,
    wall: usize,
    dish: usize,
    thickness: f64,
    lid: usize,
    sleeve: bool,
    room: f64,
    start: f64,
    carry: f64,
    wind: f64,
}

fn drawn() -> impl Strategy<Value = Drawn> {
    (
        (0.2_f64..40.0, 0.1_f64..0.85, 0..WALLS.len(), 0..DISHES.len(), -3.0_f64..2.5, 0_usize..5),
        (any::<bool>(), -50.0_f64..60.0, -20.0_f64..101.0, 0.0_f64..60.0, 0.0_f64..15.0),
    )
        .prop_map(|((volume, fill, wall, dish, log, lid), (sleeve, room, start, carry, wind))| Drawn {
            volume,
            fill,
            wall,
            dish,
            thickness: 10.0_f64.powf(0.4 * log + 1.2),
            lid,
            sleeve,
            room,
            start,
            carry,
            wind,
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn forecasts_balance_and_stay_between_start_and_room(d in drawn()) {
        let pot = Pot::typical(litres(d.volume))
            .with(Dish::named(DISHES[d.dish]).unwrap(), kilograms(d.fill * d.volume * 0.9));
        let lid = [Lid::resting(), Lid::pressed(), Lid::gasketed(), Lid::plug(), Lid::tight()][d.lid];
        let thickness = millimetres(d.thickness);
        let setup = if d.sleeve {
            Setup::new(pot, Sleeve::of_mat(WALLS[d.wall], thickness, 2).unwrap().lid(lid)).unwrap()
        } else {
            Setup::new(pot, Enclosure::lined(WALLS[d.wall], thickness).unwrap().lid(lid)).unwrap()
        };
        let plan = Plan::in_room(celsius(d.room)).leaving_at(celsius(d.start)).carry(minutes(d.carry))
            .in_wind(metres_per_second(d.wind));
        let forecast = setup.forecast_with(&plan, &Options::horizon(hours(30.0))).unwrap();
        prop_assert!(forecast.ledger_residual() < 1e-9, "{:e}", forecast.ledger_residual());

        let (low, high) = (d.room.min(d.start) + 273.15, d.room.max(d.start) + 273.15);
        let mut distance = f64::INFINITY;
        let mut warm = minutes(0.0);
        let mut carried: f64 = 0.0;
        for row in forecast.curve(hours(1.0), hours(30.0)).unwrap() {
            let slack = 0.005 + row.numerical.si();
            // A dish that dries may come to lie below the room once it is as cold as that.
            if row.temperature.low().si() > d.room + 273.15 {
                warm = row.time;
            }
            let mut dried = chilled_at_most(&setup, d.room, &forecast, warm, row.time);
            // A little of it carried for long has dried, and lies below the room, before the account begins.
            if row.time == minutes(0.0) && row.temperature.low().si() < d.room + 273.15 && d.start > d.room {
                carried = chilled_by_air(d.room);
            }
            dried = dried.max(carried);
            let best = row.temperature.best().si();
            prop_assert!(best >= low - slack - dried && best <= high + slack, "{best} K outside {low} to {high} K");
            for t in [row.temperature.low(), row.temperature.high()].map(Si::si) {
                prop_assert!(t >= low - slack - dried && t <= high + slack, "{t} K outside {low} to {high} K");
            }
            // Nothing but the room drives the pot, so it never turns round.
            let now = (row.temperature.best().si() - d.room - 273.15).abs();
            prop_assert!(now <= distance + 2.0 * slack + dried, "{now} K from the room after {distance} K");
            distance = now;
            prop_assert!(row.numerical.si().is_finite() && row.numerical.si() >= 0.0);
        }

        let stored = forecast.heat_stored();
        let given: f64 = -stored.iter().filter(|s| s.part == Part::Pot).map(|s| s.heat.best().si()).sum::<f64>();
        let walls: f64 = stored.iter().filter(|s| s.part != Part::Pot).map(|s| s.heat.best().si()).sum();
        let lost: f64 = forecast.heat_by_path().iter().map(|p| p.heat.best().si()).sum();
        prop_assert!((given - walls - lost).abs() <= 1e-6 * given.abs().max(1.0), "{given} {walls} {lost}");
    }

    /// Numbers of any size give a forecast or an error that names what is wrong; nothing else.
    #[test]
    fn wild_numbers_are_refused_by_name(
        which in 0_usize..8,
        value in prop_oneof![
            Just(f64::NAN), Just(f64::INFINITY), Just(f64::NEG_INFINITY), Just(0.0), Just(-1.0), Just(1e-300),
            Just(1e300), -1e6_f64..1e6,
        ],
    ) {
        let pick = |k: usize, usual: f64| if which == k { value } else { usual };
        let run = || {
            let dish = Dish::named("thick-stew")?;
            let pot = Pot::typical(litres(pick(0, 5.0))).with(dish, kilograms(pick(1, 3.0)));
            let walls = Enclosure::lined("extruded-polystyrene", metres(pick(2, 0.05)))?;
            let setup = Setup::new(pot.clone(), walls.around(&pot, metres(pick(3, 0.015))))?;
            let plan = Plan::in_room(celsius(pick(4, 20.0))).leaving_at(celsius(pick(5, 95.0)));
            let plan = plan.carry(minutes(pick(6, 2.0)));
            setup.forecast_with(&plan, &Options::horizon(hours(pick(7, 12.0))))
        };
        match run() {
            Ok(forecast) => {
                let t = forecast.at(minutes(0.5)).unwrap().temperature;
                prop_assert!(value.is_finite() && t.low().si().is_finite() && t.high().si().is_finite());
            }
            Err(error) => {
                prop_assert!(!error.path().is_empty(), "{error}");
                prop_assert!(error.value().is_some() && error.accepted().is_some(), "{error}");
            }
        }
    }
}
