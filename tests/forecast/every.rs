//! What must hold for every forecast, whatever is in the box.

use stillhot::units::{Si, Time, celsius, hours, minutes};
use stillhot::{Held, Lid, Options, Part, Plan};

use crate::setups::{bestiary, box_round, in_celsius, pot};

#[test]
fn the_heat_account_closes_at_every_step() {
    for case in bestiary() {
        let forecast = case.forecast();
        let (residual, water) = (forecast.ledger_residual(), forecast.water_residual());
        println!("{:24} {residual:9.2e} {water:9.2e}", case.name);
        assert!(residual < 1e-9 && water < 1e-12, "{}: heat {residual:e}, water {water:e}", case.name);
    }
}

#[test]
fn what_the_pot_gives_up_is_stored_or_lost() {
    for case in bestiary() {
        let forecast = case.forecast();
        let stored = forecast.heat_stored();
        let given: f64 = -stored.iter().filter(|s| s.part == Part::Pot).map(|s| s.heat.best().si()).sum::<f64>();
        let walls: f64 = stored.iter().filter(|s| s.part != Part::Pot).map(|s| s.heat.best().si()).sum();
        let lost: f64 = forecast.heat_by_path().iter().map(|p| p.heat.best().si()).sum();
        assert!(given.abs() > 100.0, "{}: hardly anything moved", case.name);
        let off = (given - walls - lost).abs() / given.abs();
        assert!(off < 1e-6, "{}: {given} J given up, {walls} J stored, {lost} J lost", case.name);
    }
}

/// The ends are those of everything cautious and everything generous together. A best value that coincides with an
/// end would mean that the two changed places, which sorting hides.
#[test]
fn ranges_are_ordered_at_all_times() {
    for case in bestiary() {
        let forecast = case.forecast();
        for time in case.times().into_iter().chain([minutes(2.0), minutes(5.0), minutes(15.0)]) {
            let row = forecast.at(time).unwrap();
            let [low, best, high] = [row.temperature.low(), row.temperature.best(), row.temperature.high()].map(Si::si);
            assert!([low, best, high].iter().all(|t| t.is_finite()), "{}", case.name);
            // Until the walls are felt (a start without carry) and once room temperature is reached they are one.
            let moved = (best - case.plan.start_temperature().unwrap().si()).abs();
            let left = (best - case.plan.room().si()).abs();
            if moved < 0.02 * case.swing() || left < 0.02 * case.swing() {
                continue;
            }
            assert!(low < best && best < high, "{} at {} s: {}", case.name, time.si(), row.temperature);
        }
    }
}

/// The ends march on steps of their own: none passes the room, however long it is followed. Oil does not dry.
#[test]
fn no_end_of_the_range_passes_the_room() {
    for material in ["corrugated-cardboard", "carbon-steel", "brick-common", "straw-loose-chopped"] {
        for (volume, thickness, horizon) in [(0.3, 5.0, 30.0), (3.0, 0.5, 240.0), (3.0, 50.0, 1440.0)] {
            let setup = box_round(pot(volume, "vegetable-oil", 0.7 * volume), material, thickness, Lid::resting());
            for start in [95.0, -20.0] {
                let plan = Plan::in_room(celsius(20.0)).leaving_at(celsius(start));
                let forecast = setup.forecast_with(&plan, &Options::horizon(hours(horizon))).unwrap();
                for row in forecast.curve(hours(horizon / 500.0), hours(horizon)).unwrap() {
                    let t = row.temperature;
                    let left = [t.low(), t.best(), t.high()].map(|t| (in_celsius(t) - 20.0) * (start - 20.0).signum());
                    let least = left.into_iter().fold(f64::INFINITY, f64::min);
                    assert!(least > -2e-3, "{material} {thickness} mm from {start} °C at {} s: {t}", row.time.si());
                }
            }
        }
    }
}

#[test]
fn crossings_agree_with_the_curve() {
    let mut crossings = 0;
    for case in bestiary() {
        let forecast = case.forecast();
        for level in [95.0, 75.0, 60.0, 40.0, 25.0] {
            let Held::Until { earliest, best, latest, numerical } = forecast.above(celsius(level)).unwrap() else {
                continue;
            };
            let rows = [earliest, best, latest].map(|m| m.time().map(|t| forecast.at(t).unwrap()));
            if let Some(row) = rows[0].filter(|r| r.time.si() > 0.0) {
                assert!((in_celsius(row.temperature.low()) - level).abs() < 1e-6, "{} {level}: low", case.name);
            }
            if let Some(row) = rows[2].filter(|r| r.time.si() > 0.0) {
                assert!((in_celsius(row.temperature.high()) - level).abs() < 1e-6, "{} {level}: high", case.name);
            }
            if let Some(row) = rows[1].filter(|r| r.time.si() > 0.0) {
                crossings += 1;
                let off = (in_celsius(row.temperature.best()) - level).abs();
                assert!(off <= row.numerical.si() + 1e-6, "{} {level}: {off} K off", case.name);
                assert!(numerical.si() > 0.0 && numerical.si() < 0.02 * case.horizon.si(), "{} {level}", case.name);
            }
        }
    }
    assert!(crossings > 25, "only {crossings} crossings were seen");
}

/// Landing on the serving time changes the steps, not the answer.
#[test]
fn serving_does_not_change_the_curve() {
    for case in bestiary() {
        let plain = case.forecast();
        let serve = Time::from_si(0.37 * case.horizon.si());
        let plan = case.plan.clone().serve_after(serve);
        let served = case.setup.forecast_with(&plan, &Options::horizon(case.horizon)).unwrap();
        assert_eq!(served.serve_time(), Some(serve));
        for time in case.times() {
            let (one, other) = (plain.at(time).unwrap(), served.at(time).unwrap());
            let off = (one.temperature.best().si() - other.temperature.best().si()).abs();
            let allowed = one.numerical.si() + other.numerical.si();
            assert!(off <= allowed, "{} at {} s: {off} K, {allowed} K allowed", case.name, time.si());
        }
    }
}
