//! What a thermometer shows.

use stillhot::units::{Si, celsius, hours, minutes, seconds};
use stillhot::{Lid, Plan, Probe, ProbeSpot};

use crate::limits::{CAPACITY, at_once, exact_box, exact_pot, films, finely};
use crate::lines::{Lines, Stuff, box_faces};
use crate::setups::{box_round, in_celsius, pot};

/// A first-order lag on an exponential has a closed form; without lag a thermometer shows what is there.
#[test]
fn a_late_thermometer_in_a_pot_that_cools_with_one_time_constant() {
    let (k, thickness, room, start) = (0.03, 0.012, 18.0, 96.0);
    let inside = [0.25, 0.22, 0.2];
    let setup = films(exact_box(exact_pot(), k, thickness, inside), [9.0; 3], [8.0; 3]);
    let forecast = setup.forecast_with(&at_once(room, start), &finely(24.0)).unwrap();
    let stuff = Stuff { k, heat: 2.5 };
    let lines = Lines { stuff, thickness, pot: CAPACITY, films: [9.0, 8.0], faces: box_faces(inside, thickness) };
    let decay = CAPACITY / lines.conductance();
    for lag in [20.0, 600.0, 7200.0] {
        for first in [None, Some(20.0)] {
            let probe = Probe::at(ProbeSpot::Dish).with_lag(seconds(lag));
            let probe = first.map_or(probe, |t| probe.starting_at(celsius(t)));
            let rows = forecast.readings(&probe, minutes(7.0), hours(24.0)).unwrap();
            assert_eq!(rows.len(), 206);
            let swing = start - room;
            let drawn = swing / (1.0 - lag / decay);
            let begin = first.unwrap_or(start) - room;
            for row in rows {
                let t = row.time.si();
                let expected = drawn * (-t / decay).exp() + (begin - drawn) * (-t / lag).exp();
                let off = (in_celsius(row.temperature.best()) - room - expected).abs();
                assert!(off < 2e-6 * swing, "lag {lag} s from {first:?} at {t} s: off {off:e} K");
            }
        }
    }
    let plain = forecast.readings(&Probe::at(ProbeSpot::Dish), hours(1.0), hours(24.0)).unwrap();
    assert_eq!(plain, forecast.curve(hours(1.0), hours(24.0)).unwrap());
    for (lag, place) in [(-1.0, "probe, lag"), (7201.0, "probe, lag"), (f64::NAN, "probe, lag")] {
        let probe = Probe::at(ProbeSpot::Dish).with_lag(seconds(lag));
        let error = forecast.readings(&probe, hours(1.0), hours(2.0)).unwrap_err();
        assert!(error.path() == place && error.value().is_some() && error.accepted().is_some(), "{error}");
    }
}

/// A reheat is a jump: a thermometer with a lag of ten minutes has come within 1/e of it after ten minutes. Under the lid
/// it shows something between room and dish, in the coldest spot no more than in the dish.
#[test]
fn a_thermometer_follows_a_jump_and_knows_its_place() {
    let setup = box_round(pot(6.0, "broth-thin-soup", 5.0), "extruded-polystyrene", 50.0, Lid::pressed());
    let plan = Plan::in_room(celsius(15.0)).reheat_at(hours(8.0), celsius(97.0));
    let forecast = setup.forecast(&plan).unwrap();
    let late = Probe::at(ProbeSpot::Dish).with_lag(minutes(10.0));
    let rows = forecast.readings(&late, minutes(10.0), hours(9.0)).unwrap();
    let shown = |k: usize| in_celsius(rows[k].temperature.best());
    let (before, after) = (shown(48), shown(49));
    assert!(((97.0 - after) / (97.0 - before) - (-1.0_f64).exp()).abs() < 0.03, "{before} °C, {after} °C");
    let spots = [ProbeSpot::UnderLid, ProbeSpot::Coldest, ProbeSpot::Dish];
    let rows = spots.map(|spot| forecast.readings(&Probe::at(spot), hours(1.0), hours(24.0)).unwrap());
    for (k, row) in rows[0].iter().enumerate() {
        let [lid, coldest, dish] = [row, &rows[1][k], &rows[2][k]].map(|row| in_celsius(row.temperature.best()));
        // At shutting the air of the box is that of the room.
        assert!(lid < coldest && coldest <= dish && (lid > 15.0 + 1.0 || k == 0), "{k} h: {lid}, {coldest}, {dish} °C");
    }
}

/// Nothing but the dish heats the air of the box: after the first minutes it is between room and dish, in every kind of box, at
/// the best value and at both ends, however long the steps grow late.
#[test]
fn the_air_of_the_box_is_never_the_warmest() {
    for (k, lid) in [Lid::resting(), Lid::pressed(), Lid::plug(), Lid::tight()].into_iter().enumerate() {
        for (board, thickness, mass) in
            [("extruded-polystyrene", 50.0, 5.0), ("rigid-polyurethane-foam-pentane-blown", 80.0, 2.0)]
        {
            let setup = box_round(pot(6.0, "broth-thin-soup", mass), board, thickness, lid);
            let forecast = setup.forecast(&Plan::in_room(celsius(12.0))).unwrap();
            let [air, dish] = [ProbeSpot::UnderLid, ProbeSpot::Dish]
                .map(|spot| forecast.readings(&Probe::at(spot), minutes(7.0), hours(48.0)).unwrap());
            for (air, dish) in air.iter().zip(&dish).skip(1) {
                let (a, d) = (&air.temperature, &dish.temperature);
                let pairs = [(a.low(), d.low()), (a.best(), d.best()), (a.high(), d.high())];
                for (air_at, dish_at) in pairs.map(|(a, d)| (in_celsius(a), in_celsius(d))) {
                    let hour = air.time.si() / 3600.0;
                    assert!(
                        air_at < dish_at && air_at > 12.0 - 0.01,
                        "lid {k}, {board}, {mass} kg, {hour} h: air {air_at} °C, dish {dish_at} °C"
                    );
                }
            }
        }
    }
}
