//! Ice in the dish: what it costs to compute, and that nothing with ice in it comes from the stove.

use stillhot::units::{Si, celsius, grams, hours, millimetres, minutes, percent};
use stillhot::{Dish, Lid, Options, PieceShape, Pieces, Plan, Pot};

use crate::setups::{box_round, in_celsius, pot};

fn iced(share: f64) -> Pot {
    pot(13.5, "water-liquid", 7.2).with_ice(percent(share))
}

/// In sheet metal the faces of the walls are light and follow the air at once: where the error of a step is no error, steps
/// stay at seconds.
#[test]
fn melting_takes_hardly_more_steps_than_water() {
    let plan = Plan::in_room(celsius(26.0)).leaving_at(celsius(0.0));
    let steps = |share: f64| {
        let setup = box_round(iced(share), "aluminium-foil", 0.02, Lid::resting());
        setup.forecast_with(&plan, &Options::horizon(hours(10.0))).unwrap().statistics().steps
    };
    let (water, ice) = (steps(0.0), steps(15.0));
    println!("{water} steps without ice, {ice} with it");
    assert!(ice < 2 * water, "{water} steps without ice, {ice} with it");
}

/// Pieces go into what simmers. Ice water does not, whatever the plan says of a simmer: they go in as it is set out.
#[test]
fn what_has_ice_in_it_does_not_simmer() {
    let potato = Dish::named("potato").unwrap();
    let pieces = Pieces::new(PieceShape::Sphere(millimetres(40.0)), potato, grams(400.0), celsius(15.0));
    let setup = box_round(iced(30.0).with_pieces(pieces), "expanded-cork-board", 50.0, Lid::resting());
    let forecast = |simmer: f64| setup.forecast(&Plan::in_room(celsius(20.0)).simmer(minutes(simmer))).unwrap();
    let (simmered, not) = (forecast(30.0), forecast(0.0));
    for minute in [0.0, 5.0, 60.0] {
        let [with, without] = [&simmered, &not].map(|f| f.at(minutes(minute)).unwrap().temperature);
        assert_eq!(with, without);
        assert!(in_celsius(with.high()) < 0.1, "{with} after {minute} min");
    }
    let middle = |minute: f64| in_celsius(not.middles(minutes(minute)).unwrap()[0].best());
    assert!(middle(0.0) > 10.0 && middle(60.0) < 2.0, "{} °C, {} °C", middle(0.0), middle(60.0));
    assert!(not.ledger_residual() < 1e-9, "{:e}", not.ledger_residual());
    assert!(not.at(hours(1.0)).unwrap().numerical.si() < 0.01);
}
