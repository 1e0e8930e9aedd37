//! A forecast that goes on where an earlier one stood: cut in two, it is the whole.

use stillhot::ErrorKind::{Inconsistent, OutOfRange};
use stillhot::case::Case;
use stillhot::units::{
    Ratio, Si, Time, celsius, hours, joules_per_kelvin, kilograms, metres_per_second, millimetres, minutes,
    square_metres,
};
use stillhot::{
    Companion, Dish, Edges, Enclosure, Forecast, HourRow, Lid, Options, PieceShape, Pieces, Plan, PotLid, Setup, Shell,
    Sleeve,
};

use crate::setups::{box_round, pot, sleeve_round};

const CUT: f64 = 5.0;

fn row(forecast: &Forecast, h: f64, coldest: bool) -> HourRow {
    let time = hours(h);
    if coldest { forecast.coldest(time).unwrap() } else { forecast.at(time).unwrap() }
}

fn horizon(h: f64) -> Options {
    Options::horizon(hours(h))
}

/// Every answer of the second part against the whole: the best value within both computing errors, the ends within the
/// error that their steps may make (half a millikelvin a step, few of which count).
fn same(name: &str, setup: &Setup, before: &Plan, after: impl Fn(Plan) -> Plan, whole: &Plan) {
    let whole = setup.forecast_with(whole, &horizon(14.0)).unwrap();
    let first = setup.forecast_with(before, &horizon(CUT)).unwrap();
    let plan = after(Plan::in_room(celsius(12.0))).continuing(&first, hours(CUT)).unwrap();
    let second = setup.forecast_with(&plan, &horizon(14.0 - CUT)).unwrap();
    let mut worst = [0.0_f64; 2];
    for later in [0.0, 0.5, 2.0, 9.0] {
        for coldest in [false, true] {
            let (one, other) = (row(&whole, CUT + later, coldest), row(&second, later, coldest));
            let off = (one.temperature.best().si() - other.temperature.best().si()).abs();
            let allowed = one.numerical.si() + other.numerical.si();
            worst[0] = worst[0].max(off);
            assert!(off <= allowed, "{name}, {later} h after: off {off:e} K, allowed {allowed:e} K");
            let ends = |row: &HourRow| [row.temperature.low().si(), row.temperature.high().si()];
            for (a, b) in ends(&one).into_iter().zip(ends(&other)) {
                worst[1] = worst[1].max((a - b).abs());
                assert!((a - b).abs() < 0.02, "{name}, {later} h after: {a} and {b} K");
            }
        }
    }
    println!("{name}: best off {:e} K, ends {:e} K", worst[0], worst[1]);
    if let Some(lost) = whole.water_lost(hours(14.0)).unwrap() {
        let of = |f: &Forecast, h: f64| f.water_lost(hours(h)).unwrap().unwrap().best().si();
        let parts = of(&first, CUT) + of(&second, 14.0 - CUT);
        assert!((parts / lost.best().si() - 1.0).abs() < 2e-3, "{name}: {parts} and {} kg", lost.best().si());
    }
    assert!(second.ledger_residual() < 1e-9 && second.water_residual() < 1e-9, "{name}");
}

fn cold() -> Plan {
    Plan::in_room(celsius(12.0))
}

#[test]
fn a_forecast_cut_in_two_is_the_whole() {
    let broth = box_round(pot(6.0, "broth-thin-soup", 5.0), "expanded-cork-board", 50.0, Lid::resting());
    same("broth in a box", &broth, &cold(), |plan| plan, &cold());
    let stew = box_round(pot(6.0, "thick-stew", 5.0), "extruded-polystyrene", 50.0, Lid::pressed());
    same("still stew", &stew, &cold(), |plan| plan, &cold());
    let bare = box_round(pot(6.0, "thick-stew", 5.0).covered(PotLid::none()), "expanded-cork-board", 50.0, Lid::plug());
    same("without a lid", &bare, &cold(), |plan| plan, &cold());
    let iced = pot(6.0, "broth-thin-soup", 5.0).with_ice(Ratio::from_si(0.2));
    let iced = box_round(iced, "expanded-cork-board", 50.0, Lid::resting());
    let warm = Plan::in_room(celsius(12.0)).leaving_at(celsius(0.0));
    same("ice", &iced, &warm, |plan| plan, &warm);
}

/// Pieces, a hot stone, servings before and after, stirring at the cut and openings: what a plan does at the very moment is
/// done by the second.
#[test]
fn a_full_day_cut_in_two_is_the_whole() {
    let potatoes = Pieces::new(
        PieceShape::Sphere(millimetres(60.0)),
        Dish::named("potato").unwrap(),
        kilograms(0.8),
        celsius(15.0),
    );
    let setup = sleeve_round(pot(6.0, "thick-stew", 3.5).with_pieces(potatoes), "wool-blanket-felt", 12.0, 2);
    let stone = Companion::new("stone", joules_per_kelvin(900.0), celsius(150.0), square_metres(0.04));
    let setup = setup.with_companion(stone).unwrap();
    let share = Ratio::from_si(0.3);
    let early =
        |plan: Plan| plan.simmer(minutes(12.0)).take_out_at(hours(2.0), share).stir_at(hours(3.0), minutes(1.0));
    let late = |plan: Plan, from: f64| {
        let at = |h: f64| Time::from_si(3600.0 * (h - from));
        plan.stir_at(at(CUT), minutes(2.0)).take_out_at(at(7.0), share).open_at(at(8.0), minutes(5.0))
    };
    same("a full day", &setup, &early(cold()), |plan| late(plan, CUT), &late(early(cold()), 0.0));
}

/// Every answer begins where the earlier forecast left it at this time, h.
fn goes_on((before, end): (&Forecast, f64), after: &Forecast) {
    for coldest in [false, true] {
        let [last, first] = [row(before, end, coldest), row(after, 0.0, coldest)].map(|row| row.temperature);
        for (a, b) in [(last.low(), first.low()), (last.best(), first.best()), (last.high(), first.high())] {
            assert!((a.si() - b.si()).abs() < 1e-9, "{a:?}, then {b:?}");
        }
    }
}

fn solved(thickness: f64, around: bool) -> Setup {
    let pot = pot(6.0, "broth-thin-soup", 5.0);
    let shell = if around {
        let sleeve = Sleeve::of_mat("wool-blanket-felt", millimetres(0.5 * thickness), 2).unwrap();
        Shell::from(sleeve.edges(Edges::Solved))
    } else {
        let boards = Enclosure::lined("expanded-cork-board", millimetres(thickness)).unwrap();
        Shell::from(boards.around(&pot, millimetres(30.0)).edges(Edges::Solved))
    };
    Setup::new(pot, shell).unwrap()
}

#[test]
fn solved_edges_go_on_as_they_were_solved() {
    for around in [false, true] {
        let setup = solved(40.0, around);
        same("solved edges", &setup, &cold(), |plan| plan, &cold());
        // By other rooms, winds and skies they would have been solved elsewhere, with other modes. Twice, for what goes on is
        // handed over as well.
        let first = setup.forecast_with(&cold(), &horizon(CUT)).unwrap();
        let other = Plan::in_room(celsius(-10.0)).in_wind(metres_per_second(12.0)).under_sky(celsius(-30.0));
        let plan = other.uncover_at(hours(1.0), minutes(3.0)).continuing(&first, hours(CUT)).unwrap();
        let second = setup.forecast_with(&plan, &horizon(2.0)).unwrap();
        let plan = Plan::in_room(celsius(45.0)).continuing(&second, hours(2.0)).unwrap();
        let third = setup.forecast_with(&plan, &horizon(2.0)).unwrap();
        for (before, end, after) in [(&first, CUT, &second), (&second, 2.0, &third)] {
            goes_on((before, end), after);
            assert!(after.ledger_residual() < 1e-9 && after.water_residual() < 1e-9);
            // No jump just after: edges that stood elsewhere would take up heat, or give it back.
            let [start, soon] = [0.0, 1.0 / 60.0].map(|h| row(after, h, false).temperature.best().si());
            assert!((soon - start).abs() < 0.5, "{start} K, then {soon} K");
        }
    }
}

/// Continued from its first moment in other weather, it is the forecast in that weather, but for what the edges are worth
/// that were solved elsewhere: a hundredth of what the weather does, where their walls are so thin that films count.
#[test]
fn edges_that_were_solved_elsewhere_cost_little() {
    let weathers = || {
        let wind = cold().in_wind(metres_per_second(15.0));
        [cold(), wind, Plan::in_room(celsius(-15.0))]
    };
    for around in [false, true] {
        let setup = solved(8.0, around);
        let of = |plan: &Plan| setup.forecast_with(plan, &horizon(4.0)).unwrap();
        let own = weathers().map(|plan| of(&plan.shell_at(celsius(12.0)).carry(minutes(0.0))));
        let at = |forecast: &Forecast| row(forecast, 3.0, false).temperature.best().si();
        for (from, to) in [(0, 1), (1, 0), (0, 2), (2, 0)] {
            let continued = of(&weathers()[to].clone().continuing(&own[from], hours(0.0)).unwrap());
            let [before, after, went_on] = [&own[from], &own[to], &continued].map(at);
            println!("{before} K, in other weather {after} K, continued {went_on} K");
            assert!((went_on - after).abs() < 0.01 * (before - after).abs(), "{before}, {after} and {went_on} K");
        }
    }
}

/// Dishes whose mean goes by heat capacities that follow temperature, as other tests drew them.
const STILL: [&str; 2] = [
    r#"
[pot]
diameter = "461 mm"
height = "539 mm"
metal = "carbon-steel"
metal-thickness = "5.57 mm"
[dish]
food = "water-liquid"
mass = "23 kg"
circulation = "still"
[[dish.pieces]]
shape = "cylinder"
size = "146 mm"
food = "rice-cooked"
mass = "0.509 kg"
start = "4.4 °C"
[box]
gap = "28.3 mm"
walls = [{ material = "softwood-across-grain", thickness = "45.8 mm" }]
[box.lid]
[plan]
room = "12.2 °C"
"#,
    r#"
[pot]
volume = "0.906 L"
[dish]
food = "water-liquid"
mass = "0.647 kg"
circulation = "still"
[sleeve]
layers = [{ material = "rigid-polyisocyanurate-foam-foil-faced", thickness = "19.6 mm" }]
[sleeve.lid]
[plan]
room = "20 °C"
[options]
horizon = "1.6 h"
"#,
];

#[test]
fn a_still_dish_goes_on_at_the_very_mean_where_it_stood() {
    for text in STILL {
        let case = Case::read(text, "drawn").unwrap();
        let end = case.options.horizon;
        let before = case.setup.forecast_with(&case.plan, &case.options).unwrap();
        let plan = Plan::in_room(celsius(5.0)).continuing(&before, end).unwrap();
        let after = case.setup.forecast_with(&plan, &case.options).unwrap();
        goes_on((&before, end.si() / 3600.0), &after);
    }
}

#[test]
fn what_does_not_fit_is_refused() {
    let setup = box_round(pot(6.0, "broth-thin-soup", 5.0), "expanded-cork-board", 50.0, Lid::resting());
    let night = setup.forecast_with(&cold().serve_after(hours(6.0)), &horizon(10.0)).unwrap();
    for h in [0.0, 6.0, 10.0] {
        assert!(cold().continuing(&night, hours(h)).is_ok());
    }
    let error = cold().continuing(&night, hours(3.0)).unwrap_err();
    assert_eq!((error.kind(), error.path().as_str()), (OutOfRange, "time"));
    assert!(error.accepted().unwrap().contains("6 h"), "{error}");
    let going = cold().continuing(&night, hours(6.0)).unwrap();
    assert_eq!(going.start_temperature().unwrap(), night.at(hours(6.0)).unwrap().temperature.best());
    for lost in [
        going.clone().leaving_at(celsius(90.0)),
        going.clone().shell_at(celsius(30.0)),
        going.clone().simmer(minutes(5.0)),
    ] {
        assert_eq!(setup.forecast(&lost).unwrap_err().kind(), Inconsistent);
    }
    let other = box_round(pot(6.0, "broth-thin-soup", 5.0), "expanded-cork-board", 60.0, Lid::resting());
    assert_eq!(other.forecast(&going).unwrap_err().kind(), Inconsistent);
    let mut finer = horizon(10.0);
    finer.cells += 1;
    assert_eq!(setup.forecast_with(&going, &finer).unwrap_err().kind(), Inconsistent);
}
