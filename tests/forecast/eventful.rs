//! What happens after shutting, and what is in the box besides the pot.

use stillhot::units::{
    Ratio, Si, celsius, hours, joules_per_kelvin, kelvins, metres, millimetres, minutes, square_metres,
    watts_per_kelvin,
};
use stillhot::{
    Companion, Course, Enclosure, Fit, Forecast, Handle, Held, Lid, Material, Options, Part, PathHeat, Place, Plan,
    Range, Setup,
};

use crate::setups::{box_round, eventful, held, in_celsius, pot, sleeve_round};

fn box_of(material: &str, thickness: f64) -> Setup {
    box_round(pot(6.0, "thick-stew", 5.0), material, thickness, Lid::resting())
}

fn room() -> Plan {
    Plan::in_room(celsius(15.0))
}

fn best(forecast: &Forecast, h: f64) -> f64 {
    in_celsius(forecast.at(hours(h)).unwrap().temperature.best())
}

fn sum(paths: &[PathHeat]) -> f64 {
    paths.iter().map(|p| p.heat.best().si()).sum()
}

/// Before a thing happens the two agree; a minute later the second is the colder by all members.
fn shorter(what: &str, before: &Forecast, after: &Forecast, level: f64) {
    for (member, (a, b)) in held(before, level).iter().zip(held(after, level)).enumerate() {
        assert!(b < *a, "{what}, member {member}: {a} s, then {b} s above {level} °C");
    }
}

#[test]
fn accounts_close_whatever_happens() {
    let cases = eventful();
    assert!(cases.len() >= 3);
    for case in cases {
        let forecast = case.forecast();
        let (heat, water) = (forecast.ledger_residual(), forecast.water_residual());
        println!("{:24} {heat:9.2e} {water:9.2e} {:?}", case.name, forecast.statistics());
        assert!(heat < 1e-9 && water < 1e-12, "{}: heat {heat:e}, water {water:e}", case.name);
        for row in forecast.curve(minutes(10.0), case.horizon).unwrap() {
            let t = row.temperature;
            assert!([t.low(), t.best(), t.high()].iter().all(|t| t.si().is_finite()), "{}", case.name);
            assert!(row.numerical.si() < 1.0, "{} at {} s: {}", case.name, row.time.si(), row.numerical.si());
        }
    }
}

#[test]
fn the_numerical_error_covers_a_much_finer_run_whatever_happens() {
    let mut failures = Vec::new();
    for case in eventful() {
        let mut options = Options::horizon(case.horizon);
        options.cells = 24;
        options.step_error = kelvins(1e-4);
        options.steps = 1_000_000;
        let fine = case.setup.forecast_with(&case.plan, &options).unwrap();
        let forecast = case.forecast();
        for k in 1..=40 {
            let time = case.horizon * (f64::from(k) / 40.0);
            let (row, reference) = (forecast.at(time).unwrap(), fine.at(time).unwrap());
            let off = (row.temperature.best().si() - reference.temperature.best().si()).abs();
            let allowed = row.numerical.si() + reference.numerical.si();
            if off > allowed {
                failures.push(format!("{} at {} s: off {off:.1e} K, {allowed:.1e} K reported", case.name, time.si()));
            }
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

/// What pot and bodies give up is stored in the walls or lost, also where some of the dish went out with its heat: what
/// is stored counts for what is there.
#[test]
fn what_is_given_up_is_stored_or_lost() {
    let stone = Companion::new("stone", joules_per_kelvin(2000.0), celsius(150.0), square_metres(0.05));
    let walls = Enclosure::lined("expanded-cork-board", millimetres(50.0)).unwrap();
    let walls = walls.inside(metres(0.4), metres(0.3), metres(0.28)).fitted(Fit::Loose);
    let setup = Setup::new(pot(6.0, "thick-stew", 5.0), walls).unwrap().with_companion(stone).unwrap();
    let plan = room().under_sky(celsius(0.0)).shell_at(celsius(30.0)).open_at(hours(2.0), minutes(10.0));
    for plan in [plan.clone(), plan.take_out_at(hours(4.0), Ratio::from_si(0.5))] {
        let forecast = setup.forecast(&plan).unwrap();
        let stored: f64 = forecast.heat_stored().iter().map(|s| s.heat.best().si()).sum();
        let lost = sum(&forecast.heat_by_path());
        assert!((stored + lost).abs() < 1e-6 * lost, "{stored} J stored, {lost} J lost");
        let body = forecast.heat_stored().iter().find(|s| s.part == Part::Companion(0)).unwrap().heat;
        // From 150 °C to somewhere between room and sky.
        assert!(body.best().si() < -0.8 * 2000.0 * 135.0 && body.best().si() > -2000.0 * 150.0, "{body}");
    }
}

/// Ten minutes with the lid open at two hours: nothing before, a step in the curve, its heat under its own name.
#[test]
fn an_opening_shows_and_costs_heat() {
    let setup = box_of("extruded-polystyrene", 50.0);
    let shut = setup.forecast(&room()).unwrap();
    let open = setup.forecast(&room().open_at(hours(2.0), minutes(10.0))).unwrap();
    for h in [0.5, 1.0, 1.9] {
        let allowed = shut.at(hours(h)).unwrap().numerical.si() + open.at(hours(h)).unwrap().numerical.si();
        assert!((best(&shut, h) - best(&open, h)).abs() <= allowed, "{h} h");
    }
    let (before, after) = (best(&open, 2.0), best(&open, 2.0 + 1.0 / 6.0));
    let usual = best(&shut, 2.0) - best(&shut, 2.0 + 1.0 / 6.0);
    assert!(before - after > 1.5 * usual, "{before} °C, {after} °C; {usual} K in ten minutes when shut");
    shorter("opened", &shut, &open, 65.0);

    let opening = |forecast: &Forecast, from, to| -> f64 {
        let paths = forecast.heat_by_path_between(hours(from), hours(to)).unwrap();
        paths.iter().filter(|p| p.place == Place::Opening).map(|p| p.heat.best().si()).sum()
    };
    assert_eq!(opening(&shut, 0.0, 48.0), 0.0);
    assert_eq!(opening(&open, 0.0, 2.0), 0.0);
    // The asked time is ten minutes but for rounding.
    assert!(opening(&open, 2.0 + 1.0 / 6.0, 48.0) < 1e-6);
    // The top of a pot of six litres, 0.8 times as high as wide, by the film of a bare pot, 13 W/(m² K), for ten minutes.
    let diameter = (0.006_f64 / (0.2 * std::f64::consts::PI)).cbrt();
    let top = 0.25 * std::f64::consts::PI * diameter * diameter;
    let film = 13.0 * top * (0.5 * (before + after) - 15.0) * 600.0;
    // What the pot leaves open (30 mm round it) is as large as a hole of this diameter; through it pass at most 0.055
    // (D⁵ g drho/rho)^(1/2) of air as warm as the pot (Epstein 1988), and 3 W of vapour past the rim of its lid.
    let hole = (((diameter + 0.06).powi(2) - top) * 4.0 / std::f64::consts::PI).sqrt();
    let air = 0.055 * (hole.powi(5) * 9.81 * 0.25).sqrt() * 1100.0 * (before - 15.0) * 600.0;
    let heat = opening(&open, 2.0, 2.0 + 1.0 / 6.0);
    println!("opened: {heat:.0} J, {film:.0} J of them by hand from the top, at most {air:.0} J with the air");
    assert!(heat > 0.99 * film && heat < 1.01 * film + air + 3.0 * 600.0, "{heat} J, {film} J by hand");
    assert!((opening(&open, 0.0, 48.0) - heat).abs() < 1e-9 * heat);
    // At once, at the very start, too.
    let at_once = setup.forecast(&room().open_at(hours(0.0), minutes(10.0))).unwrap();
    shorter("opened at once", &shut, &at_once, 65.0);
}

#[test]
fn a_reheat_brings_the_pot_to_its_temperature() {
    let setup = box_of("extruded-polystyrene", 50.0);
    let plan = room().reheat_at(hours(3.0), celsius(97.0));
    let forecast = setup.forecast(&plan).unwrap();
    let never = setup.forecast(&room()).unwrap();
    let row = forecast.at(hours(3.0)).unwrap().temperature;
    for value in [row.low(), row.best(), row.high()] {
        assert!((in_celsius(value) - 97.0).abs() < 1e-6, "{row}");
    }
    let just_before = forecast.at(hours(3.0 - 1e-6)).unwrap();
    let as_ever = never.at(hours(3.0)).unwrap();
    let off = (just_before.temperature.best().si() - as_ever.temperature.best().si()).abs();
    assert!(off < 0.01 + just_before.numerical.si() + as_ever.numerical.si(), "{off} K apart before the reheat");
    assert!(best(&forecast, 3.5) < 97.0 && best(&forecast, 3.5) > best(&never, 3.5) + 1.0);
    // Held above a level from shutting on: the reheat comes too late for what was crossed before it.
    let level = best(&never, 2.0);
    let (a, b) = (held(&forecast, level)[1], held(&never, level)[1]);
    assert!((a - b).abs() < 60.0 && (a - 7200.0).abs() < 60.0, "{a} s, {b} s");
    shorter("without a reheat", &forecast, &never, 60.0);
}

#[test]
fn less_in_the_pot_from_then_on_cools_faster() {
    let setup = box_of("extruded-polystyrene", 50.0);
    let whole = setup.forecast(&room()).unwrap();
    let half = setup.forecast(&room().take_out_at(hours(2.0), Ratio::from_si(0.5))).unwrap();
    let nothing = setup.forecast(&room().take_out_at(hours(2.0), Ratio::from_si(0.0))).unwrap();
    assert!((best(&whole, 2.0) - best(&half, 2.0)).abs() < 0.02);
    shorter("half taken out", &whole, &half, 65.0);
    for h in [1.0, 4.0, 12.0] {
        assert!((best(&whole, h) - best(&nothing, h)).abs() < 0.02, "{h} h");
    }
}

#[test]
fn a_warm_shell_holds_longer_and_a_cold_one_shorter() {
    for material in ["brick-common", "plywood", "extruded-polystyrene"] {
        let setup = box_of(material, 60.0);
        let at = |plan: Plan| setup.forecast(&plan).unwrap();
        let (cold, usual, warm) = (at(room().shell_at(celsius(-5.0))), at(room()), at(room().shell_at(celsius(60.0))));
        shorter(material, &warm, &usual, 75.0);
        shorter(material, &usual, &cold, 75.0);
        // As warm as the room is what is assumed.
        let said = at(room().shell_at(celsius(15.0)));
        assert_eq!(held(&said, 75.0), held(&usual, 75.0));
    }
}

#[test]
fn what_conducts_and_what_leaks_shortens() {
    let handle = |width: f64, outside: f64| {
        let steel = Material::named("stainless-steel-304").unwrap();
        let stew = pot(6.0, "thick-stew", 5.0);
        let stew = stew.with_handle(Handle::new(steel, millimetres(width), millimetres(5.0), metres(outside)));
        box_round(stew, "extruded-polystyrene", 50.0, Lid::resting()).forecast(&room()).unwrap()
    };
    let without = box_of("extruded-polystyrene", 50.0).forecast(&room()).unwrap();
    let (thin, wide) = (handle(10.0, 0.1), handle(40.0, 0.1));
    shorter("a thin handle", &without, &thin, 65.0);
    shorter("a wide handle", &thin, &wide, 65.0);
    let through: f64 =
        wide.heat_by_path().iter().filter(|p| p.place == Place::Handle).map(|p| p.heat.best().si()).sum();
    // No more than an endless bar outside behind 50 mm of steel could take: 15 W/(m K) times section over length.
    let bound = 15.0 * 1.1 * 40e-3 * 5e-3 / 0.05 * 85.0 * 48.0 * 3600.0;
    assert!(through > 0.0 && through < bound, "{through} J");

    let fitted = |fit: Fit| {
        let walls = Enclosure::lined("extruded-polystyrene", millimetres(50.0)).unwrap();
        let leak = Range::exactly(watts_per_kelvin(0.02));
        let walls = walls.lid(Lid::resting().leaking(leak)).fitted(fit);
        Setup::new(pot(6.0, "thick-stew", 5.0), walls).unwrap().forecast(&room()).unwrap()
    };
    let [tight, ordinary, loose] = [Fit::Tight, Fit::Ordinary, Fit::Loose].map(fitted);
    let holds = [tight, ordinary, loose].map(|f| held(&f, 65.0));
    for pair in holds.windows(2) {
        assert!(pair[1][0] < pair[0][0] && pair[1][1] < pair[0][1] && pair[1][2] < 1.0001 * pair[0][2], "{holds:?}");
    }
    // The generous ends of tight and ordinary boards are the same, on steps of their own: no loops at all.
    assert!((holds[0][2] - holds[1][2]).abs() < 1e-4 * holds[0][2] && holds[2][2] < holds[1][2], "{holds:?}");
}

#[test]
fn a_hot_stone_holds_longer_and_an_ice_pack_shorter() {
    let with = |start: f64| {
        let walls = Enclosure::lined("extruded-polystyrene", millimetres(50.0)).unwrap();
        let walls = walls.inside(metres(0.4), metres(0.3), metres(0.28));
        let body = Companion::new("body", joules_per_kelvin(2000.0), celsius(start), square_metres(0.05));
        let setup = Setup::new(pot(6.0, "thick-stew", 5.0), walls).unwrap().with_companion(body).unwrap();
        setup.forecast(&room()).unwrap()
    };
    let (stone, pack) = (with(200.0), with(-18.0));
    shorter("stone, then ice pack", &stone, &pack, 65.0);
}

#[test]
fn a_clear_sky_shortens_and_a_warm_one_lengthens() {
    let setup = sleeve_round(pot(1.0, "lentil-porridge", 0.9), "cross-linked-polyethylene-foam-mat", 5.0, 2);
    let under = |sky: f64| setup.forecast(&room().under_sky(celsius(sky))).unwrap();
    let (clear, same, warm) = (under(-20.0), under(15.0), under(40.0));
    shorter("clear sky", &same, &clear, 60.0);
    shorter("warm sky", &warm, &same, 60.0);
    // A sky as warm as the room is no sky.
    let none = setup.forecast(&room()).unwrap();
    for (a, b) in held(&same, 60.0).iter().zip(held(&none, 60.0)) {
        assert!((a - b).abs() < 1e-6 * b, "{a} s, {b} s");
    }
}

/// A room in steps and the same room as a steep table, or as a log, are the same room.
#[test]
fn rooms_in_time() {
    let setup = box_of("extruded-polystyrene", 40.0);
    let (t, c) = (hours, celsius);
    let step = Course::steps(&[(t(0.0), c(20.0)), (t(4.0), c(-10.0))]).unwrap();
    let table = Course::table(&[(t(0.0), c(20.0)), (t(4.0), c(20.0)), (t(4.0), c(-10.0)), (t(9.0), c(-10.0))]).unwrap();
    let log = Course::from_log("time [min], room [°C]\n0, 20\n240, 20\n240.01, -10\n2880, -10\n", "room.csv").unwrap();
    let [step, table, log] = [step, table, log].map(|room| setup.forecast(&Plan::in_room(room)).unwrap());
    let warm = setup.forecast(&Plan::in_room(celsius(20.0))).unwrap();
    for h in [2.0, 3.9, 4.5, 8.0, 24.0, 48.0] {
        let row = step.at(hours(h)).unwrap();
        for other in [&table, &log] {
            let that = other.at(hours(h)).unwrap();
            let off = (row.temperature.best().si() - that.temperature.best().si()).abs();
            assert!(off <= 1e-3 + row.numerical.si() + that.numerical.si(), "{h} h: {off} K");
        }
        if h < 4.0 {
            assert!((best(&step, h) - best(&warm, h)).abs() < 0.02);
        } else {
            assert!(best(&step, h) < best(&warm, h));
        }
    }
    assert!(best(&step, 48.0) < 20.0, "{} °C in a room of -10 °C", best(&step, 48.0));
}

/// For keeping cold: the mirror of keeping hot.
#[test]
fn below_is_for_keeping_cold() {
    let setup = box_round(pot(9.0, "water-liquid", 8.0), "extruded-polystyrene", 50.0, Lid::gasketed());
    let plan = Plan::in_room(celsius(30.0)).leaving_at(celsius(4.0));
    let forecast = setup.forecast(&plan).unwrap();
    let Held::Until { earliest, best: middle, latest, numerical } = forecast.below(celsius(10.0)).unwrap() else {
        panic!("10 °C is crossed")
    };
    let [a, b, c] = [earliest, middle, latest].map(|m| m.time().unwrap());
    assert!(a < b && b < c && numerical.si() > 0.0);
    // The cautious end is the warm one.
    let off = |time, pick: fn(&Range<stillhot::units::Temperature>) -> stillhot::units::Temperature| {
        (in_celsius(pick(&forecast.at(time).unwrap().temperature)) - 10.0).abs()
    };
    assert!(off(a, Range::high) < 1e-6 && off(c, Range::low) < 1e-6);
    assert!(off(b, Range::best) <= forecast.at(b).unwrap().numerical.si() + 1e-6);
    assert_eq!(forecast.below(celsius(3.0)).unwrap(), Held::NeverReached);
    // In words that are true of both directions.
    assert_eq!(Held::NeverReached.to_string(), "not even at shutting");
    let Held::PastHorizon { margin, .. } = forecast.below(celsius(30.5)).unwrap() else { panic!("never so warm") };
    let warmest = in_celsius(forecast.at(hours(48.0)).unwrap().temperature.high());
    assert!((margin.si() - (30.5 - warmest)).abs() < 1e-9, "{} K", margin.si());
}

#[test]
fn layers_are_nowhere_hotter_than_the_pot_and_polystyrene_hotter_than_it_bears() {
    let setup = box_of("expanded-polystyrene-20", 40.0);
    let plan = room();
    let start = plan.start_temperature().unwrap();
    let rows = setup.forecast(&plan).unwrap().hottest();
    assert_eq!(rows.len(), 6);
    for row in &rows {
        let t = row.temperature;
        assert!(t.low() > plan.room() && t.high() <= start, "{}: {t}", row.part);
        assert!(t.low() <= t.best() && t.best() <= t.high());
        // 80 °C for long (READ, see the catalogue).
        assert_eq!(row.limit.map(|l| in_celsius(l).round()), Some(80.0));
    }
    let over = |row: &&stillhot::HottestLayer| row.limit.is_some_and(|limit| row.temperature.high() > limit);
    assert!(rows.iter().any(|row| over(&row)), "{rows:?}");
    // The cautions follow: none for a wool of stone, which bears far more than a pot can give.
    let cautions = |setup: &stillhot::Setup| -> Vec<String> {
        let list = setup.forecast(&plan).unwrap().cautions();
        list.into_iter().filter(|c| c.code == "service-temperature").map(|c| c.text).collect()
    };
    assert_eq!(cautions(&setup).len(), 1, "{:?}", cautions(&setup));
    assert!(cautions(&setup)[0].contains("80 °C is below"), "{:?}", cautions(&setup));
    assert!(cautions(&box_of("extruded-polystyrene", 40.0)).len() == 1);
    assert!(cautions(&box_of("stone-wool-dense", 60.0)).is_empty());
    // What the catalogue warns of goes with it, once for six walls.
    let list = setup.forecast(&plan).unwrap().cautions();
    assert_eq!(list.iter().filter(|c| c.code == "material" && c.text.contains("releases styrene")).count(), 1);
    // Two layers: the inner one is the hotter.
    let case = &eventful()[0];
    let rows = case.forecast().hottest();
    assert_eq!(rows.len(), 12);
    for pair in rows.chunks(2) {
        assert!(pair[0].part == pair[1].part && (pair[0].layer, pair[1].layer) == (0, 1));
        assert!(pair[0].temperature.best() >= pair[1].temperature.best(), "{pair:?}");
    }
    // A box that is cooled from outside never gets warmer than it started.
    let plan = Plan::in_room(celsius(5.0)).leaving_at(celsius(5.0)).shell_at(celsius(5.0));
    for row in setup.forecast(&plan).unwrap().hottest() {
        assert!((in_celsius(row.temperature.high()) - 5.0).abs() < 0.01, "{}: {}", row.part, row.temperature);
    }
}

#[test]
fn heat_by_path_adds_up_hour_by_hour() {
    for case in eventful() {
        let forecast = case.forecast();
        let end = case.horizon.si() / 3600.0;
        let whole = forecast.heat_by_path_between(hours(0.0), hours(end)).unwrap();
        let mut parts = 0.0;
        for k in 0..12 {
            let (from, to) = (end * f64::from(k) / 12.0, end * f64::from(k + 1) / 12.0);
            parts += sum(&forecast.heat_by_path_between(hours(from), hours(to)).unwrap());
        }
        assert!((parts - sum(&whole)).abs() < 1e-9 * sum(&whole).abs(), "{}", case.name);
        // What was lost before shutting is in the account from the stove on.
        let all = forecast.heat_by_path();
        let early: f64 =
            all.iter().filter(|p| matches!(p.place, Place::Carry | Place::Stove)).map(|p| p.heat.best().si()).sum();
        assert!((sum(&all) - early - sum(&whole)).abs() < 1e-9 * sum(&whole).abs().max(early.abs()), "{}", case.name);
        assert!(early != 0.0, "{}", case.name);
    }
    let forecast = box_of("hay-loose", 100.0).forecast(&room()).unwrap();
    for (from, to) in [(-1.0, 2.0), (3.0, 2.0), (1.0, 49.0), (f64::NAN, 1.0)] {
        let error = forecast.heat_by_path_between(hours(from), hours(to)).unwrap_err();
        assert!(error.value().is_some() && error.accepted().is_some() && !error.path().is_empty(), "{error}");
    }
}

/// Vapour takes its latent heat: 2.3 MJ/kg near 90 °C (steam tables, MEMORY), and with it a little of the dish.
#[test]
fn water_lost_is_the_heat_of_its_vapour() {
    let forecast = box_of("extruded-polystyrene", 50.0).forecast(&room()).unwrap();
    let water = forecast.water_lost(hours(48.0)).unwrap().unwrap();
    assert!(water.best().si() > 1e-3 && water.high().si() < 0.5, "{water}");
    assert!(forecast.water_residual() < 1e-9);
    let vapour: f64 = forecast
        .heat_by_path()
        .iter()
        .filter(|p| p.mechanism == stillhot::Mechanism::Vapour)
        .map(|p| p.heat.best().si())
        .sum();
    // What left the box: no more than what left the dish.
    assert!(vapour > 0.0 && vapour < 2.5e6 * water.best().si(), "{vapour} J with {water}");
    let given = box_round(pot(6.0, "thick-stew", 5.0), "extruded-polystyrene", 50.0, Lid::tight());
    assert_eq!(given.forecast(&room()).unwrap().water_lost(hours(1.0)).unwrap(), None);
}

/// The middle of a piece follows the pot late, and a thick piece later.
#[test]
fn middles_follow_the_pot() {
    use stillhot::{Dish, PieceShape, Pieces, units::kilograms};
    let plan = room().simmer(minutes(5.0)).carry(minutes(0.0));
    let with = |size: f64| {
        let potato = || Dish::named("potato").unwrap();
        let pieces = Pieces::new(PieceShape::Sphere(millimetres(size)), potato(), kilograms(0.8), celsius(15.0));
        let stew = pot(6.0, "broth-thin-soup", 3.5).with_pieces(pieces);
        box_round(stew, "extruded-polystyrene", 50.0, Lid::pressed())
            .forecast_with(&plan, &Options::horizon(hours(12.0)))
            .unwrap()
    };
    let (small, large) = (with(20.0), with(70.0));
    let middle = |f: &Forecast, h: f64| in_celsius(f.middles(hours(h)).unwrap()[0].best());
    assert!(middle(&large, 0.0) < middle(&small, 0.0) && middle(&small, 0.0) < best(&small, 0.0));
    assert!(middle(&large, 0.0) < 40.0, "{} °C after five minutes", middle(&large, 0.0));
    // Hours later the middle is the warmer by rate times R²/6a: 1400 s for 70 mm (a = 1.4e-7 m²/s for potato, MEMORY).
    for h in [6.0, 12.0] {
        let rate = (best(&large, h - 0.25) - best(&large, h)) / 900.0;
        let lag = middle(&large, h) - best(&large, h);
        let expected = rate * 0.035_f64.powi(2) / (6.0 * 1.4e-7);
        assert!((lag / expected - 1.0).abs() < 0.25, "{h} h: {lag} K, {expected} K by hand");
    }
    // Raw pieces take heat from the pot.
    let without = box_round(pot(6.0, "broth-thin-soup", 4.3), "extruded-polystyrene", 50.0, Lid::pressed());
    let without = without.forecast_with(&plan, &Options::horizon(hours(12.0))).unwrap();
    assert!(best(&large, 3.0) < best(&without, 3.0));
}

/// What is brought above a level at an instant crosses it at that instant, at every member, however the curve runs before
/// and after.
#[test]
fn a_jump_past_a_level_is_its_crossing() {
    for to in [15.0, 50.0, 90.0] {
        let plan = room().leaving_at(celsius(5.0)).reheat_at(hours(2.0), celsius(to));
        let forecast = box_of("extruded-polystyrene", 50.0).forecast(&plan).unwrap();
        let before = in_celsius(forecast.at(hours(1.999)).unwrap().temperature.high());
        assert!(before < 14.0, "{before} °C");
        let Held::Until { earliest, best, latest, .. } = forecast.below(celsius(14.0)).unwrap() else { panic!() };
        for moment in [earliest, best, latest] {
            let time = moment.time().unwrap().si();
            assert!((time - 7200.0).abs() < 1.0, "to {to} °C: {time} s");
        }
    }
}

#[test]
fn a_watery_dish_is_not_hotter_than_it_boils() {
    let setup = box_of("extruded-polystyrene", 50.0);
    let refused = |plan: Plan, path: &str| {
        let error = setup.forecast(&plan).unwrap_err();
        assert_eq!(error.kind(), stillhot::ErrorKind::OutOfRange, "{error}");
        assert!(error.to_string().contains(path), "{error}");
    };
    refused(room().leaving_at(celsius(140.0)), "start temperature");
    refused(room().leaving_at(celsius(99.0)).at_height(metres(1500.0)), "start temperature");
    refused(room().reheat_at(hours(1.0), celsius(120.0)), "reheat");
    assert!(setup.forecast(&room().leaving_at(celsius(101.0))).is_ok());
}
