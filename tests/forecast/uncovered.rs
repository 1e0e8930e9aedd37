//! Pots without a lid: the vapour of the dish condenses on the liner, which follows it at once, and dries again.

use stillhot::units::{Si, celsius, hours, kelvins, kilograms, litres, millimetres};
use stillhot::{Dish, Enclosure, Forecast, Lid, Options, Plan, Pot, PotLid, Range, Setup, Sleeve};

fn open_pot(volume: f64, mass: f64) -> Pot {
    let pot = Pot::typical(litres(volume)).with(Dish::named("water-liquid").unwrap(), kilograms(mass));
    pot.covered(PotLid::none())
}

fn lined(foam: &str, thickness: f64) -> Enclosure {
    Enclosure::lined(foam, millimetres(thickness)).unwrap()
}

/// The joint of the lid and seams low down, each so wide.
fn leaking(boards: Enclosure, joint: f64) -> Enclosure {
    let width = Range::exactly(millimetres(joint));
    boards.with_low_seams(width).lid(Lid::resting().with_gap(width))
}

fn of(setup: &Setup, horizon: f64, finer: bool) -> Forecast {
    let mut options = Options::horizon(hours(horizon));
    if finer {
        options.step_error = kelvins(0.002);
        options.cells = 14;
    }
    let plan = Plan::in_room(celsius(15.0)).shut();
    setup.forecast_with(&plan, &options).unwrap()
}

/// A light liner follows the vapour within a second, and where that ceases to condense it must not be lost from sight: with
/// the default options the error told is below 0.2 K, the best curve stays within its range, and a march with steps and cells
/// much finer lies within that error.
#[test]
fn steam_on_light_foam_is_followed() {
    let boxed = |enclosure: Enclosure| Setup::new(open_pot(9.5, 9.0), enclosure).unwrap();
    let sleeve = Sleeve::of_mat("cross-linked-polyethylene-foam-mat", millimetres(5.0), 2).unwrap();
    for (name, setup) in [
        ("default box of foam", boxed(lined("extruded-polystyrene", 50.0))),
        ("the lightest foam, 10 mm", boxed(lined("expanded-polystyrene-15", 10.0))),
        ("cork, tight", boxed(lined("expanded-cork-board", 100.0).lid(Lid::gasketed()))),
        ("wide joints", boxed(leaking(lined("extruded-polystyrene", 50.0), 3.0))),
        ("mat", Setup::new(open_pot(2.0, 1.6), sleeve).unwrap()),
    ] {
        let (usual, fine) = (of(&setup, 24.0, false), of(&setup, 24.0, true));
        let (mut told, mut largest) = (0.0_f64, 0.0_f64);
        for k in 0..=96 {
            let time = hours(24.0 * (f64::from(k) / 96.0).powi(2));
            let [row, closer] = [&usual, &fine].map(|forecast| forecast.at(time).unwrap());
            let (low, best, high) =
                (row.temperature.low().si(), row.temperature.best().si(), row.temperature.high().si());
            let off = (best - closer.temperature.best().si()).abs();
            assert!(low <= best && best <= high, "{name} at {time:?}: {low} K, {best} K, {high} K");
            assert!(off <= row.numerical.si() + closer.numerical.si(), "{name} at {time:?}: off {off} K of {row:?}");
            told = told.max(row.numerical.si());
            largest = largest.max(off);
        }
        println!("{name}: off {largest:.4} K, told {told:.4} K, {} steps", usual.statistics().steps);
        assert!(told < 0.2, "{name}: {told} K");
        assert!(usual.ledger_residual() < 1e-9 && usual.water_residual() < 1e-9);
    }
}

/// On the cold liner of a leaky box vapour condenses at first; as the dish cools and the wall has warmed up the air of the box
/// is drier than the film, and it dries away. In a box without a leak nothing takes it away, and it grows.
#[test]
fn condensate_dries_again() {
    let water = |forecast: &Forecast, h: f64| {
        let range = forecast.water_on_liner(hours(h)).unwrap().unwrap();
        [range.low(), range.best(), range.high()].map(|mass| 1e3 * mass.si())
    };
    let hours_of_day: Vec<f64> = (0..=48).map(|k| 0.5 * f64::from(k)).collect();
    let leaky =
        of(&Setup::new(open_pot(9.5, 9.0), leaking(lined("extruded-polystyrene", 50.0), 3.0)).unwrap(), 24.0, false);
    let best: Vec<f64> = hours_of_day.iter().map(|h| water(&leaky, *h)[1]).collect();
    let (most, last) = (best.iter().copied().fold(0.0, f64::max), best[48]);
    println!("leaky: {most:.2} g at most, {last:.4} g after a day");
    assert!(best[0] < 0.1 && most > 2.0 && last < 0.1 * most, "{best:.2?} g");
    assert!(hours_of_day.iter().all(|h| water(&leaky, *h).iter().all(|mass| *mass >= 0.0)));
    let tight = lined("extruded-polystyrene", 50.0).lid(Lid::gasketed());
    let tight = of(&Setup::new(open_pot(9.5, 9.0), tight).unwrap(), 24.0, false);
    let best: Vec<f64> = hours_of_day.iter().map(|h| water(&tight, *h)[1]).collect();
    println!("tight: {:.2} g after a day", best[48]);
    assert!(best.windows(2).all(|pair| pair[1] > pair[0]), "{best:.2?} g");
    for forecast in [&leaky, &tight] {
        assert!(forecast.ledger_residual() < 1e-9 && forecast.water_residual() < 1e-9);
    }
}

/// What condenses on the liner brings its heat of evaporation there, 2.3 MJ/kg (steam tables, MEMORY), and what leaves the
/// dish either lies there or has left the box.
#[test]
fn water_is_somewhere() {
    let setup = Setup::new(open_pot(9.5, 9.0), lined("extruded-polystyrene", 50.0)).unwrap();
    let forecast = of(&setup, 12.0, false);
    for h in [1.0, 4.0, 12.0] {
        let lost = forecast.water_lost(hours(h)).unwrap().unwrap().best().si();
        let lies = forecast.water_on_liner(hours(h)).unwrap().unwrap().best().si();
        let rows = forecast.heat_by_path_between(hours(0.0), hours(h)).unwrap();
        let vapour = rows.iter().filter(|row| row.place == stillhot::Place::LidJoint);
        let vapour = vapour.filter(|row| row.mechanism == stillhot::Mechanism::Vapour);
        let left = vapour.map(|row| row.heat.best().si()).sum::<f64>() / 2.3e6;
        println!("{h} h: {lost:.4} kg lost, {lies:.4} kg on the liner, {left:.4} kg out of the box");
        assert!((lost - lies - left).abs() < 0.03 * lost, "{lost} kg lost, {lies} kg on the liner, {left} kg out");
    }
}
