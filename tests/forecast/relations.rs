//! What setups ask of the published relations beyond the ordinary box: uneven joints, upright seams, airspaces in walls,
//! bodies beside the pot, an opened top.

use stillhot::correlation::leak::EffectiveWidth;
use stillhot::correlation::water;
use stillhot::units::{
    Length, Si, celsius, degrees, fraction, hours, joules_per_kelvin, kilograms, litres, millimetres, minutes,
    square_metres,
};
use stillhot::{
    Airspace, Companion, Contact, Dish, Enclosure, ErrorKind, Face, Fit, Forecast, HourRow, Layer, Lid, Mechanism,
    Place, Plan, Pot, Range, Setup, Wall,
};

use crate::setups::in_celsius;

fn pot() -> Pot {
    Pot::typical(litres(5.0)).with(Dish::named("broth-thin-soup").unwrap(), kilograms(4.0))
}

fn boards() -> Enclosure {
    Enclosure::lined("expanded-polystyrene-30", millimetres(40.0)).unwrap().fitted(Fit::Tight)
}

fn forecast(shell: Enclosure) -> Forecast {
    Setup::new(pot(), shell).unwrap().forecast(&Plan::in_room(celsius(16.0)).shut()).unwrap()
}

/// Cautious, best and generous temperature, °C.
fn three(row: &HourRow) -> [f64; 3] {
    let t = row.temperature;
    [t.low(), t.best(), t.high()].map(in_celsius)
}

fn after(forecast: &Forecast, h: f64) -> [f64; 3] {
    three(&forecast.at(hours(h)).unwrap())
}

fn mm(width: Length) -> f64 {
    width.si() * 1e3
}

/// A gap spread evenly over 0 to 1 mm flows like an even one of the cube root of 1/4 mm and diffuses like one of half a
/// millimetre (by hand: mean of w³ and of w).
#[test]
fn an_uneven_joint_counts_by_the_mean_of_its_cubes() {
    let spread = Lid::resting().with_gap_spread(millimetres(0.0), millimetres(1.0)).unwrap().gap();
    for (width, expected) in [(spread.low(), 0.5), (spread.best(), 0.25_f64.cbrt()), (spread.high(), 0.25_f64.cbrt())] {
        assert!((mm(width) - expected).abs() < 1e-9, "{}", mm(width));
    }
    let measured: Vec<Length> = [0.0, 0.2, 1.4, 0.4].into_iter().map(millimetres).collect();
    let gap = Lid::resting().with_gap_measured(&measured).unwrap().gap();
    let told = EffectiveWidth::measured(&[0.0, 0.2e-3, 1.4e-3, 0.4e-3]).unwrap();
    assert!((mm(gap.low()) - 0.5).abs() < 1e-9 && (gap.best().si() - told.flow).abs() < 1e-15);
    assert_eq!(Lid::resting().with_gap_measured(&[]).unwrap_err().kind(), ErrorKind::OutOfRange);
    let error = Lid::resting().with_gap_measured(&[millimetres(1.0), millimetres(-1.0)]).unwrap_err();
    assert_eq!(error.path(), "lid, place 2, gap width");
    // An even gap of the mean width would keep too warm.
    let through = |lid: Lid| after(&forecast(boards().fitted(Fit::Loose).lid(lid)), 6.0)[1];
    let even = Lid::resting().with_gap(Range::exactly(millimetres(0.5)));
    let askew = Lid::resting().with_gap_spread(millimetres(0.0), millimetres(1.0)).unwrap();
    assert!(through(askew) < through(even) - 0.05, "{} {}", through(askew), through(even));
}

#[test]
fn upright_seams_cost_warmth_and_are_refused_where_they_gape() {
    let seamed = |mm: f64| forecast(boards().lid(Lid::gasketed()).with_upright_seams(Range::exactly(millimetres(mm))));
    let at = |mm: f64| after(&seamed(mm), 6.0)[1];
    let shut = after(&forecast(boards().lid(Lid::gasketed())), 6.0)[1];
    // Narrower than 0.05 mm counts as shut.
    assert!((at(0.02) - shut).abs() < 1e-9);
    let (narrow, wide) = (shut - at(0.4), shut - at(0.8));
    println!("upright seams of 0.4 and 0.8 mm cost {narrow:.2} and {wide:.2} K in 6 h");
    // Laminar flow goes with the cube of the width; inertia and the cooler air of the box take from that.
    assert!(narrow > 0.01 && wide > 2.0 * narrow && wide < 8.0 * narrow, "{narrow} {wide} K");
    let gaping = boards().with_upright_seams(Range::exactly(millimetres(12.0)));
    assert!(Setup::new(pot(), gaping).unwrap_err().path().ends_with("upright seams"));
    let told = Setup::new(pot(), boards().with_upright_seams(Range::exactly(millimetres(1.0)))).unwrap();
    let assumptions = told.assumptions(&Plan::in_room(celsius(16.0)).shut()).unwrap();
    assert!(assumptions.iter().any(|a| a.subject == "seams along the upright edges"));
}

/// ISO 6946 and Hollands differ for heat that rises (by 10 to 20 % at the gaps here): a lid with a foil-faced airspace has
/// a wider range than one with the same resistance throughout. A wall where they do not differ has none of that.
#[test]
fn the_two_relations_for_an_airspace_are_its_range() {
    let layer = || Layer::of("plywood", millimetres(6.0)).unwrap();
    let lid = |facing: f64| {
        let airspace = Airspace::upright(millimetres(40.0)).facing(degrees(facing));
        let airspace = airspace.with_emissivities(fraction(0.05), fraction(0.05));
        let wall = Wall::planar().layer(layer()).contact(Contact::Airspace(airspace)).layer(layer()).build().unwrap();
        let [low, best, high] = after(&forecast(boards().lid(Lid::tight()).with_wall(Face::Lid, wall)), 6.0);
        [best - low, high - best]
    };
    // Heat that falls has one relation only, and passes less.
    let (rising, falling) = (lid(90.0), lid(-90.0));
    println!("range of a lid with an airspace: rising {rising:?} K, falling {falling:?} K");
    assert!(rising[0] > falling[0] && rising[0] + rising[1] > falling[0] + falling[1] + 0.05);
}

/// A litre of water at 90 °C holds about 0.965 kg times 4.19 kJ/(kg K) (IAPWS-95: 965.31 kg/m³ and, as the mean of 20 to
/// 90 °C, 4188 J/(kg K), COMPUTED with a property library).
#[test]
fn a_bottle_of_water_is_told_by_its_volume() {
    let of = |start: f64| Companion::of_water("bottle", litres(1.0), celsius(start), square_metres(0.07)).unwrap();
    let known = |start: f64, capacity: f64| {
        Companion::new("bottle", joules_per_kelvin(capacity), celsius(start), square_metres(0.07))
    };
    let warm = |bottle: Companion| {
        let setup = Setup::new(pot(), boards()).unwrap().with_companion(bottle).unwrap();
        after(&setup.forecast(&Plan::in_room(celsius(16.0)).shut()).unwrap(), 6.0)[1]
    };
    assert!((warm(of(90.0)) - warm(known(90.0, 965.31e-3 * 4188.0))).abs() < 2e-3);
    // About 20 °C it is the specific heat there, whether as such or as a mean over a kelvin; with its density that changes
    // by two ten-thousandths in a kelvin, 2 mK here.
    let cp = water::liquid_specific_heat_if97(293.15, 101_325.0).unwrap().value;
    for start in [20.0, 20.9, 21.1] {
        assert!((warm(of(start)) - warm(known(start, 0.998_1 * cp))).abs() < 3e-3, "{start} °C");
    }
    for wrong in [-5.0, 104.0, f64::NAN] {
        let refused = Companion::of_water("bottle", litres(1.0), celsius(wrong), square_metres(0.07)).unwrap_err();
        assert_eq!(refused.path(), "bottle, start temperature");
    }
}

/// An opened box loses its warm air and keeps its cold air, as a chest freezer does.
#[test]
fn an_opened_top_lets_warm_air_out_but_not_cold_air() {
    let through_top = |start: f64, room: f64| {
        let setup = Setup::new(pot(), boards().around(&pot(), millimetres(40.0))).unwrap();
        let shut = Plan::in_room(celsius(room)).leaving_at(celsius(start)).shell_at(celsius(start)).shut();
        let forecast = setup.forecast(&shut.open_at(hours(1.0), minutes(20.0))).unwrap();
        let heat = forecast.heat_by_path();
        let path = heat.iter().find(|p| p.place == Place::Opening && p.mechanism == Mechanism::Film).unwrap();
        path.heat.best().si()
    };
    let (warm, cold) = (through_top(80.0, 20.0), through_top(5.0, 65.0));
    println!("through the opened top: {:.1} kJ out of a warm box, {:.1} kJ into a cold one", warm / 1e3, -cold / 1e3);
    // As far apart from the room, the other way round: what is left is the film on top of the pot.
    assert!(warm > 0.0 && cold < 0.0 && warm > 1.3 * -cold, "{warm} {cold} J");
}
