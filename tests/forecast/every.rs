//! What must hold for every forecast, whatever is in the box.

use stillhot::units::{Si, Time, celsius, minutes};
use stillhot::{Held, Options, Part};

use crate::setups::{bestiary, in_celsius};

#[test]
fn the_heat_account_closes_at_every_step() {
    for case in bestiary() {
        let residual = case.forecast().ledger_residual();
        println!("{:24} {residual:9.2e}", case.name);
        assert!(residual < 1e-9, "{}: {residual:e}", case.name);
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
