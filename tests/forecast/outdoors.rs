//! Wind in time, and what the box or sleeve rests on.

use stillhot::ErrorKind::{Inconsistent, OutOfRange};
use stillhot::units::{
    Energy, Si, Velocity, celsius, hours, metres_per_second, millimetres, square_metre_kelvins_per_watt,
    watts_per_square_metre_kelvin,
};
use stillhot::{
    Course, Enclosure, Face, Footing, Forecast, Held, Input, Lid, Options, Place, Plan, Range, Resting, Setup,
};

use crate::limits::{CAPACITY, at_once, exact_box, exact_pot, films, finely};
use crate::lines::{Lines, Stuff, box_faces};
use crate::setups::{box_round, held, in_celsius, pot, sleeve_round};

fn best(forecast: &Forecast, h: f64) -> f64 {
    in_celsius(forecast.at(hours(h)).unwrap().temperature.best())
}

fn walk(plan: &Plan) -> Forecast {
    let soup = pot(1.2, "broth-thin-soup", 0.9);
    sleeve_round(soup, "cross-linked-polyethylene-foam-mat", 8.0, 2).forecast(plan).unwrap()
}

fn outside() -> Plan {
    Plan::in_room(celsius(6.0))
}

fn wind(points: &[(f64, f64)], steps: bool) -> Course<Velocity> {
    let points: Vec<_> = points.iter().map(|(t, v)| (hours(*t), metres_per_second(*v))).collect();
    if steps { Course::steps(&points).unwrap() } else { Course::table(&points).unwrap() }
}

#[test]
fn a_wind_that_never_changes_is_a_constant_one() {
    let constant = walk(&outside().in_wind(metres_per_second(4.0)));
    for course in [wind(&[(0.0, 4.0)], true), wind(&[(0.0, 4.0), (2.0, 4.0)], false)] {
        let same = walk(&outside().in_wind(course));
        for h in [0.0, 0.5, 2.0, 5.0] {
            assert!((best(&same, h) - best(&constant, h)).abs() < 1e-9, "{h} h");
        }
    }
}

/// Calm until two hours, then 8 m/s: until then as in calm air, afterwards between calm and always windy, and at last at
/// the pace of the windy one.
#[test]
fn wind_that_rises_cools_from_then_on() {
    let calm = walk(&outside());
    let windy = walk(&outside().in_wind(metres_per_second(8.0)));
    for course in [wind(&[(0.0, 0.0), (2.0, 8.0)], true), wind(&[(2.0, 0.0), (2.0, 8.0)], false)] {
        let rising = walk(&outside().in_wind(course));
        for h in [0.0, 1.0, 1.99] {
            assert!((best(&rising, h) - best(&calm, h)).abs() < 5e-3, "{h} h");
        }
        for h in [3.0, 5.0] {
            assert!(best(&rising, h) < best(&calm, h) - 0.5 && best(&rising, h) > best(&windy, h) + 0.5, "{h} h");
        }
        let pace = |f: &Forecast| ((best(f, 5.0) - 6.0) / (best(f, 6.0) - 6.0)).ln();
        assert!((pace(&rising) / pace(&windy) - 1.0).abs() < 0.1 && pace(&rising) > 1.2 * pace(&calm));
        assert!(rising.ledger_residual() < 1e-9 && rising.water_residual() < 1e-9);
    }
    // A log is a table with a heading.
    let log = Course::from_log("time [h], wind [km/h]\n0, 0\n2, 0\n2.001, 28.8\n", "wind.csv").unwrap();
    let logged = walk(&outside().in_wind(log));
    let stepped = walk(&outside().in_wind(wind(&[(0.0, 0.0), (2.0, 8.0)], true)));
    let off = best(&logged, 4.0) - best(&stepped, 4.0);
    assert!(off.abs() < 5e-3, "{off:e} K");
}

#[test]
fn wind_out_of_range_is_refused_whenever_it_blows() {
    for course in [wind(&[(0.0, 2.0), (5.0, 21.0)], true), wind(&[(0.0, -1.0), (1.0, 3.0)], false)] {
        let error = outside().in_wind(course).start_temperature().unwrap_err();
        assert_eq!((error.kind(), error.path().as_str()), (OutOfRange, "plan, wind"));
    }
}

/// A cube that stores nothing, a sixth of it through the base: it cools towards five sixths of the room and one of the
/// ground, with one time constant.
#[test]
fn the_ground_pulls_by_its_share() {
    let (k, thickness, room, ground, start) = (0.035, 0.04, 15.0, 3.0, 96.0);
    let inside = [0.25; 3];
    let setup = films(exact_box(exact_pot(), k, thickness, inside), [9.0; 3], [8.0; 3]);
    let plan = at_once(room, start).resting_on(Resting::stone().at(celsius(ground)));
    let forecast = setup.forecast_with(&plan, &finely(48.0)).unwrap();
    let stuff = Stuff { k, heat: 2.5 };
    let lines = Lines { stuff, thickness, pot: CAPACITY, films: [9.0, 8.0], faces: box_faces(inside, thickness) };
    let towards = (5.0 * room + ground) / 6.0;
    for h in [1.0, 8.0, 48.0] {
        let expected = towards + (start - towards) * (-lines.conductance() * h * 3600.0 / CAPACITY).exp();
        let seen = best(&forecast, h);
        assert!((seen - expected).abs() < 2e-6 * (start - towards), "{h} h: {seen} instead of {expected}");
    }
    assert!(forecast.ledger_residual() < 1e-9);
}

/// A sleeve at 6 °C: cold ground takes more than the board of old, which is on the side of too long; and a coefficient
/// of one's own takes the place of the estimate.
#[test]
fn cold_ground_cools_more_than_a_board() {
    let on = |surface: Resting| walk(&outside().resting_on(surface));
    let board = on(Resting::board());
    assert!((best(&walk(&outside()), 5.0) - best(&board, 5.0)).abs() < 1e-9);
    let colder: Vec<(&str, f64)> = [
        ("stone", Resting::stone()),
        ("earth", Resting::earth()),
        ("cold earth", Resting::earth().at(celsius(0.0))),
        ("snow", Resting::snow()),
    ]
    .into_iter()
    .map(|(name, surface)| (name, best(&board, 4.0) - best(&on(surface), 4.0)))
    .collect();
    println!("colder than on a board after 4 h: {colder:.2?} K");
    assert!(colder[0].1 > 0.0 && colder[1].1 > 0.0 && colder[2].1 > colder[1].1);
    let [low, mid, high] = [3.0, 6.0, 9.0].map(watts_per_square_metre_kelvin);
    let same = on(Resting::snow().at(celsius(-10.0)).passing(Range::new(low, mid, high).unwrap()));
    assert!(best(&same, 4.0) < best(&board, 4.0) - 0.1);
}

/// What hangs free has a film below as well: in wind it loses more there for each kelvin of the pot over the air.
#[test]
fn what_hangs_free_meets_the_wind() {
    let base = |plan: &Plan| -> f64 {
        let forecast = walk(plan);
        let rows = forecast.heat_by_path_between(hours(1.0), hours(3.0)).unwrap();
        let lost: f64 =
            rows.iter().filter(|r| r.place == Place::Face(Face::Base)).map(|r| Energy::si(r.heat.best())).sum();
        let excess = [1.0, 1.5, 2.0, 2.5, 3.0].map(|h| best(&forecast, h) - 6.0);
        lost / (0.25 * (excess[0] + excess[4]) + 0.5 * (excess[1] + excess[2] + excess[3])) / 3600.0
    };
    let hung = || outside().resting_on(Resting::hung());
    let (calm, windy) = (base(&hung()), base(&hung().in_wind(metres_per_second(6.0))));
    let (rests, rests_in_wind) = (base(&outside()), base(&outside().in_wind(metres_per_second(6.0))));
    println!("through the base, W/K: hung {calm:.5}, in wind {windy:.5}; on a board {rests:.5}, {rests_in_wind:.5}");
    assert!(windy > 1.05 * calm, "{windy} and {calm} W/K");
    assert!((rests_in_wind / rests - 1.0).abs() < 0.02, "{rests_in_wind} and {rests} W/K");
}

/// The softer it stands the more goes by the base, and the colder the pot.
#[test]
fn a_trivet_keeps_the_pot_from_the_base() {
    let footings = [Footing::mat(), Footing::unknown(), Footing::rim(), Footing::trivet()];
    let after = footings.map(|footing| {
        let soup = pot(6.0, "broth-thin-soup", 5.0).standing_on(footing);
        let setup = box_round(soup, "softwood-across-grain", 20.0, Lid::gasketed());
        best(&setup.forecast(&Plan::in_room(celsius(12.0))).unwrap(), 4.0)
    });
    println!("after 4 h on mat, something, rim, trivet: {after:.2?} °C");
    assert!(after.windows(2).all(|pair| pair[0] < pair[1]), "{after:?}");
    let none = Range::exactly(square_metre_kelvins_per_watt(0.0));
    let refused = pot(6.0, "broth-thin-soup", 5.0).standing_on(Footing::resisting(none));
    let error = Setup::new(refused, Enclosure::lined("expanded-cork-board", millimetres(50.0)).unwrap()).unwrap_err();
    assert_eq!((error.kind(), error.path().as_str()), (OutOfRange, "pot, footing, resistance"));
}

#[test]
fn surfaces_out_of_range_are_refused() {
    let refused = |surface: Resting| outside().resting_on(surface).start_temperature().unwrap_err();
    assert_eq!(refused(Resting::snow().at(celsius(3.0))).kind(), OutOfRange);
    assert_eq!(refused(Resting::earth().at(celsius(200.0))).path(), "plan, resting surface, temperature");
    assert_eq!(refused(Resting::hung().at(celsius(3.0))).kind(), Inconsistent);
    let none = Range::exactly(watts_per_square_metre_kelvin(0.0));
    assert_eq!(refused(Resting::stone().passing(none)).path(), "plan, resting surface, coefficient");
}

/// A seam low down is one more way for the wind: as it opens, no end of the range holds longer.
#[test]
fn in_wind_a_seam_that_opens_never_holds_longer() {
    let exactly = |mm: f64| Range::exactly(millimetres(mm));
    for speed in [1.0, 5.0] {
        let holds = [0.0, 0.06, 0.2, 1.0].map(|seam| {
            let pot = pot(5.0, "lentil-porridge", 4.0);
            let shell =
                Enclosure::lined("extruded-polystyrene", millimetres(50.0)).unwrap().around(&pot, millimetres(15.0));
            let shell = shell.lid(Lid::resting().with_gap(exactly(1.5))).with_low_seams(exactly(seam));
            let plan = Plan::in_room(celsius(-5.0)).in_wind(metres_per_second(speed));
            held(&Setup::new(pot, shell).unwrap().forecast(&plan).unwrap(), 63.0)
        });
        for (pair, member) in holds.windows(2).flat_map(|pair| (0..3).map(move |member| (pair, member))) {
            // What opens by little changes little: half a minute is the numerical error.
            assert!(pair[1][member] < pair[0][member] + 30.0, "{speed} m/s, member {member}: {holds:?} s");
        }
    }
}

/// Where the ground is colder than the room, what leads to the one cools a dish that lies between them and what leads to the
/// other warms it: the range holds every mixture of their ends, of a cold dish for how long it stays cold, and of a hot one
/// for where it comes to in the end. A warm floor under a box in the cold turns it all round.
#[test]
fn a_dish_between_ground_and_room_stays_in_its_range() {
    let of_ground = |input: Input| matches!(input, Input::RestingFilm | Input::BaseContact);
    for (food, start, room, ground, horizon) in [
        ("milk-whole", 4.0, 25.0, 2.0, 72.0),
        ("milk-whole", 4.0, 25.0, 6.0, 72.0),
        ("broth-thin-soup", 95.0, 30.0, 5.0, 400.0),
        ("thick-stew", 95.0, -5.0, 30.0, 400.0),
    ] {
        let options = Options::horizon(hours(horizon));
        let setup = box_round(pot(5.0, food, 4.0), "extruded-polystyrene", 40.0, Lid::resting());
        let rests = Resting::earth().at(celsius(ground));
        let plan = Plan::in_room(celsius(room)).leaving_at(celsius(start)).resting_on(rests);
        let inputs = setup.uncertain(&plan).unwrap();
        assert_eq!(inputs.iter().filter(|known| of_ground(known.input)).count(), 2);
        let forecast = setup.forecast_with(&plan, &options).unwrap();
        let mixtures = [[0.0, 0.0], [1.0, 1.0], [0.0, 1.0], [1.0, 0.0]].map(|[rest, ground]| {
            let end = |input: Input| if of_ground(input) { ground } else { rest };
            let pins: Vec<(Input, f64)> = inputs.iter().map(|known| (known.input, end(known.input))).collect();
            setup.pinned(&pins).unwrap().forecast_with(&plan, &options).unwrap()
        });
        let mut matters = 0.0_f64;
        for h in [0.0, 0.01, 0.04, 0.08, 0.16, 0.33, 0.66, 1.0].map(|share| share * horizon) {
            let edge = forecast.coldest(hours(h)).unwrap();
            for mixture in &mixtures {
                let row = mixture.coldest(hours(h)).unwrap();
                let (t, slack) = (row.temperature.best().si(), 0.02 + row.numerical.si() + edge.numerical.si());
                let (low, high) = (edge.temperature.low().si() - slack, edge.temperature.high().si() + slack);
                assert!(t > low && t < high, "edge of {food} from {start} °C, {h} h: {t}, {edge:?}");
            }
            let range = forecast.at(hours(h)).unwrap();
            let (low, high) = (range.temperature.low().si(), range.temperature.high().si());
            let seen = mixtures.each_ref().map(|mixture| mixture.at(hours(h)).unwrap());
            for row in seen {
                let (t, slack) = (row.temperature.best().si(), 0.02 + row.numerical.si() + range.numerical.si());
                assert!(t > low - slack && t < high + slack, "{food} from {start} °C, {h} h: {t}, {range:?}");
            }
            let [a, b, mixed @ ..] = seen.map(|row| row.temperature.best().si());
            let outside = |t: f64| (a.min(b) - t).max(t - a.max(b));
            matters = mixed.into_iter().map(outside).fold(matters, f64::max);
        }
        println!("{food} from {start} °C: a mixture lies {matters:.2} K outside of both ends");
        assert!(matters > 0.2, "{food} from {start} °C: {matters}");
        if start < 8.0 {
            let until = |forecast: &Forecast| match forecast.below(celsius(8.0)).unwrap() {
                Held::Until { earliest, best, latest, .. } => {
                    [earliest, best, latest].map(|moment| moment.time().map_or(f64::INFINITY, Si::si))
                }
                other => panic!("{other}"),
            };
            let [earliest, _, latest] = until(&forecast);
            let of_mixtures = mixtures.each_ref().map(|mixture| until(mixture)[1]);
            println!("{of_mixtures:?} s of {earliest} to {latest} s");
            for held in of_mixtures {
                assert!(held > 0.995 * earliest && held <= 1.005 * latest, "{held} of {earliest} to {latest} s");
            }
            // No wider than that either.
            let least = of_mixtures.into_iter().fold(f64::INFINITY, f64::min);
            let most = of_mixtures.into_iter().fold(0.0, f64::max);
            assert!(earliest > 0.995 * least && latest <= 1.005 * most, "{earliest} to {latest} s: {of_mixtures:?}");
        }
        assert!(forecast.ledger_residual() < 1e-9 && forecast.water_residual() < 1e-9);
    }
}

/// A forecast that goes on in the range of an earlier one, on other ground.
#[test]
fn what_lies_between_goes_on_in_its_range() {
    let setup = box_round(pot(5.0, "milk-whole", 4.0), "extruded-polystyrene", 40.0, Lid::resting());
    let options = Options::horizon(hours(6.0));
    let resting = |surface: Resting| Plan::in_room(celsius(25.0)).resting_on(surface);
    for (first, second) in [
        (Resting::earth().at(celsius(2.0)), Resting::earth().at(celsius(2.0))),
        (Resting::earth().at(celsius(2.0)), Resting::board()),
        (Resting::board(), Resting::snow()),
    ] {
        let before = setup.forecast_with(&resting(first).leaving_at(celsius(4.0)), &options).unwrap();
        let plan = resting(second).continuing(&before, hours(6.0)).unwrap();
        let after = setup.forecast_with(&plan, &options).unwrap();
        let (last, next) = (before.at(hours(6.0)).unwrap().temperature, after.at(hours(0.0)).unwrap().temperature);
        for (a, b) in [(last.low(), next.low()), (last.best(), next.best()), (last.high(), next.high())] {
            assert!((a.si() - b.si()).abs() < 1e-3, "{last}, {next}");
        }
        assert!(after.ledger_residual() < 1e-9);
    }
}
