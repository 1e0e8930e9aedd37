//! Solved edges in a box that is used: accounts, events, fillers, refusals.

use stillhot::units::{
    Si, celsius, hours, kelvins, kilograms, litres, metres_per_second, millimetres, minutes, seconds,
    square_metre_kelvins_per_watt,
};
use stillhot::{
    Airspace, Contact, Course, Dish, EdgeRow, Edges, Enclosure, ErrorKind, Face, Fill, Filler, Fit, Footing, Forecast,
    Layer, Lid, Material, Mechanism, Options, Part, PieceShape, Pieces, Place, Plan, Pot, Probe, ProbeSpot, Range,
    Resting, Setup, Shelf, Shell, Sleeve, Wall,
};

use crate::setups::in_celsius;

fn pot() -> Pot {
    Pot::typical(litres(7.0)).with(Dish::named("water-liquid").unwrap(), kilograms(5.5))
}

fn boards() -> Enclosure {
    Enclosure::lined("expanded-cork-board", millimetres(50.0)).unwrap().around(&pot(), millimetres(30.0))
}

fn strip(mm: f64) -> Filler {
    Filler::straight([millimetres(mm); 2], Fill::of("expanded-cork-board").unwrap())
}

fn plan() -> Plan {
    Plan::in_room(celsius(16.0)).shut().serve_after(hours(8.0))
}

fn forecast(boards: Enclosure) -> Forecast {
    Setup::new(pot(), boards).unwrap().forecast(&plan()).unwrap()
}

fn at(forecast: &Forecast, h: f64) -> f64 {
    in_celsius(forecast.at(hours(h)).unwrap().temperature.best())
}

#[test]
fn a_filler_is_a_pure_change_of_the_box_and_keeps_it_warmer() {
    let solved = boards().edges(Edges::Solved);
    let filled = EdgeRow::ALL.into_iter().fold(solved.clone(), |b, row| b.with_filler(row, strip(25.0)));
    assert_eq!(filled.clone().without_fillers(), solved);
    assert_eq!(filled.filler(EdgeRow::Lid), Some(&strip(25.0)));
    let upright = solved.clone().with_filler(EdgeRow::Upright, strip(25.0));
    let [without, some, all] = [solved, upright, filled].map(forecast);
    println!("{} {} {}", at(&without, 8.0), at(&some, 8.0), at(&all, 8.0));
    assert!(at(&without, 8.0) < at(&some, 8.0) - 0.02 && at(&some, 8.0) < at(&all, 8.0) - 0.02);
    let edges = |f: &Forecast| {
        let of = |place| f.heat_by_path().iter().find(|p| p.place == place).map_or(0.0, |p| p.heat.best().si());
        [of(Place::Edges), of(Place::Corners)]
    };
    let ([e, c], [filled_e, _]) = (edges(&without), edges(&all));
    println!("edges {e} J, corners {c} J; filled {filled_e} J");
    assert!(filled_e < 0.7 * e && c > 0.0 && c < 0.1 * e);
    // What fills a corner is told with its limit.
    let hottest = all.hottest();
    let strips: Vec<_> = hottest.iter().filter(|h| h.part == Part::Edges).collect();
    assert_eq!(strips.len(), 3);
    for strip in strips {
        let hot = in_celsius(strip.temperature.best());
        assert!(hot > 70.0 && hot < 100.0, "{strip:?}");
    }
    assert!(without.hottest().iter().all(|h| h.part != Part::Edges));
    assert!(without.heat_by_path().iter().all(|p| p.mechanism != Mechanism::Edge));
}

#[test]
fn both_forms_tell_of_the_same_box() {
    // The factor takes edges for as warm inside as faces are, and round the base for as warm as what the pot stands on: it
    // errs to the cold side.
    let [solved, factor] = [Edges::Solved, Edges::Factor].map(|form| forecast(boards().edges(form)));
    for h in [1.0, 4.0, 8.0, 24.0] {
        let apart = at(&solved, h) - at(&factor, h);
        println!("{h} h: {:.3} and {apart:.3} less", at(&solved, h));
        assert!(apart > 0.0 && apart < 0.6, "{h} h: {apart} K");
    }
}

#[test]
fn a_shelf_answers_alike_and_is_shared_by_threads() {
    let setup = || Setup::new(pot(), boards().edges(Edges::Solved)).unwrap();
    let shelf = Shelf::default();
    let from = |shelf: &Shelf| setup().with_shelf(shelf).forecast(&plan()).unwrap().at(hours(8.0)).unwrap();
    let own = setup();
    let alone = own.forecast(&plan()).unwrap().at(hours(8.0)).unwrap();
    let both = std::thread::scope(|scope| {
        let threads = [(); 2].map(|()| scope.spawn(|| from(&shelf)));
        threads.map(|thread| thread.join().unwrap())
    });
    let kept = (shelf.len(), shelf.bytes());
    assert!(kept.0 >= 15 && kept.1 > 1000, "{kept:?}");
    assert!(both[0] == alone && both[1] == alone && from(&shelf) == alone);
    assert_eq!((shelf.len(), shelf.bytes()), kept);
    // Copies of a setup share its own.
    assert_eq!(own.clone().tight().shelf().len(), kept.0);
    let plain = Setup::new(pot(), boards()).unwrap();
    plain.forecast(&plan()).unwrap();
    assert!(plain.shelf().is_empty());
    shelf.clear();
    assert!(shelf.is_empty());
}

/// Carried, on the stove with pieces, opened, reheated, served from, in wind under a clear sky, in a warm box.
#[test]
fn accounts_close_whatever_happens() {
    let dumplings = Pieces::new(
        PieceShape::Sphere(millimetres(40.0)),
        Dish::named("potato").unwrap(),
        kilograms(0.5),
        celsius(12.0),
    );
    let pot = pot().with_pieces(dumplings);
    let filled = EdgeRow::ALL.into_iter().fold(boards().edges(Edges::Solved), |b, row| b.with_filler(row, strip(25.0)));
    let sleeve = Sleeve::of_mat("wool-blanket-felt", millimetres(6.0), 3).unwrap().edges(Edges::Solved);
    let plan = Plan::in_room(Course::steps(&[(hours(0.0), celsius(12.0)), (hours(5.0), celsius(4.0))]).unwrap())
        .under_sky(celsius(-15.0))
        .in_wind(metres_per_second(3.0))
        .simmer(minutes(25.0))
        .carry(minutes(10.0))
        .shell_at(celsius(40.0))
        .open_at(hours(2.0), minutes(10.0))
        .reheat_at(hours(3.0), celsius(95.0))
        .take_out_at(hours(4.0), stillhot::units::fraction(0.3))
        .serve_after(hours(7.0));
    let quick = [Shell::from(boards()), sleeve.clone().edges(Edges::Factor).into()];
    for (shell, quick) in [Shell::from(filled), sleeve.into()].into_iter().zip(quick) {
        let [setup, quick] = [shell, quick].map(|shell| Setup::new(pot.clone(), shell).unwrap());
        let forecast = setup.forecast_with(&plan, &Options::horizon(hours(12.0))).unwrap();
        println!("{:?}", forecast.statistics());
        assert!(forecast.ledger_residual() < 1e-9, "{:e}", forecast.ledger_residual());
        let row = forecast.at(hours(7.0)).unwrap();
        // What a reheat of pieces errs is of first order; a tilted order shows up to four times of it.
        let quick = quick.forecast_with(&plan, &Options::horizon(hours(12.0))).unwrap().at(hours(7.0)).unwrap();
        println!("{row:?} {quick:?}");
        assert!(row.numerical.si() < 0.25 && quick.numerical.si() < 0.1, "{row:?} {quick:?}");
        assert!(in_celsius(row.temperature.low()) > 4.0 && in_celsius(row.temperature.high()) < 95.0);
        let edges = forecast.heat_by_path().into_iter().find(|p| p.place == Place::Edges).unwrap();
        assert!(edges.heat.best().si() > 0.0);
        let again = setup.forecast_with(&plan, &Options::horizon(hours(12.0))).unwrap();
        assert_eq!(row, again.at(hours(7.0)).unwrap());
    }
}

#[test]
fn all_at_one_temperature_stays_there() {
    let plan = Plan::in_room(celsius(20.0)).leaving_at(celsius(20.0)).shell_at(celsius(20.0)).shut();
    let setup = Setup::new(pot(), boards().edges(Edges::Solved).lid(Lid::tight())).unwrap();
    let forecast = setup.forecast(&plan).unwrap();
    let row = forecast.at(hours(24.0)).unwrap();
    assert!((in_celsius(row.temperature.best()) - 20.0).abs() < 1e-6, "{row:?}");
}

#[test]
fn what_cannot_be_solved_is_refused_by_name() {
    let refused = |boards: Enclosure| -> stillhot::Error {
        match Setup::new(pot(), boards) {
            Err(error) => error,
            Ok(setup) => setup.forecast(&plan()).unwrap_err(),
        }
    };
    let cases = [
        (boards().with_filler(EdgeRow::Upright, strip(25.0)), "filler along the upright edges", "solved"),
        (boards().edges(Edges::Solved).with_filler(EdgeRow::Upright, strip(200.0)), "upright", "half the wall"),
        (boards().edges(Edges::Solved).with_filler(EdgeRow::Base, strip(60.0)), "edges of the base", "does not fit"),
        (boards().edges(Edges::Solved).with_filler(EdgeRow::Lid, strip(70.0)), "edges of the lid", "does not fit"),
        (boards().edges(Edges::Solved).with_filler(EdgeRow::Lid, strip(-5.0)), "edges of the lid", "leg"),
    ];
    for (boards, place, words) in cases {
        let error = refused(boards);
        println!("{error}");
        assert!(error.path().starts_with("box"), "{error}");
        assert!(error.to_string().contains(place) && error.to_string().contains(words), "{error}");
    }
    let board = || Layer::of("softwood-across-grain", millimetres(12.0)).unwrap();
    let hollow = Wall::planar()
        .layer(board())
        .contact(Contact::Airspace(Airspace::upright(millimetres(20.0))))
        .layer(board())
        .build()
        .unwrap();
    let error = refused(boards().with_wall(Face::Left, hollow).edges(Edges::Solved));
    println!("{error}");
    assert_eq!(error.kind(), ErrorKind::Inconsistent);
    assert!(error.to_string().contains("left") && error.to_string().contains("airspace"), "{error}");
}

/// Foil is as warm outside as inside: films alone keep the pot, and six times the foil, a hundredth of the heat capacity, keeps
/// it as long. (What its section passes is known to rounding only, which is no reason to refuse it.)
#[test]
fn walls_as_thin_as_foil_have_solved_edges() {
    let options = Options::horizon(hours(12.0));
    let wall = |mm: f64| Wall::planar().layer(Layer::of("aluminium-foil", millimetres(mm)).unwrap()).build().unwrap();
    let boxed =
        |mm: f64| Shell::Box(Enclosure::of_wall(wall(mm)).around(&pot(), millimetres(15.0)).edges(Edges::Solved));
    let sleeved = |mm: f64| Shell::Sleeve(Sleeve::of_wall(&wall(mm)).edges(Edges::Solved));
    for of in [&boxed as &dyn Fn(f64) -> Shell, &sleeved] {
        let [thin, thick] = [0.05, 0.3].map(|mm| {
            let forecast = Setup::new(pot(), of(mm)).unwrap().forecast_with(&plan(), &options).unwrap();
            assert!(forecast.ledger_residual() < 1e-9, "{}", forecast.ledger_residual());
            [1.0, 3.0, 8.0].map(|h| at(&forecast, h))
        });
        println!("{thin:?} {thick:?} °C");
        for (thin, thick) in thin.into_iter().zip(thick) {
            assert!((thin - thick).abs() < 0.5, "{thin} and {thick} °C");
        }
    }
}

/// A pot that touches the liner of a box far smaller than its walls are thick: the arms of the sections are many times longer
/// than the box, and what is taken off again with their strips is many times what its walls hold. Nothing is warmer than what was
/// put in, or colder than the room, whatever the gap and the walls. (Air that was 26 K too warm, where strips answered steps of
/// seconds more strongly than their section.)
#[test]
fn tiny_boxes_are_no_warmer_than_what_was_put_in() {
    let pot = Pot::typical(litres(0.44)).with(Dish::named("thick-stew").unwrap(), kilograms(0.35));
    let wall = |layers: &[(&str, f64)]| {
        let build =
            |wall: stillhot::WallBuilder, (id, mm): &(&str, f64)| wall.layer(Layer::of(id, millimetres(*mm)).unwrap());
        layers.iter().fold(Wall::planar(), build).build().unwrap()
    };
    let plain = |mm: f64| Enclosure::of_wall(wall(&[("expanded-polystyrene-30", mm)]));
    let lid = [
        ("rigid-polyisocyanurate-foam-permeable-facer", 5.3),
        ("wool-blanket-felt", 32.3),
        ("polyvinyl-chloride-rigid", 0.7),
    ];
    let base = [("cotton-woven-cloth", 104.0), ("rigid-polyurethane-foam-air-filled", 76.7), ("cast-iron", 0.058)];
    let unequal = plain(57.6).with_wall(Face::Lid, wall(&lid)).with_wall(Face::Base, wall(&base));
    let cases = [("10 mm", plain(10.0)), ("30 mm", plain(30.0)), ("100 mm", plain(100.0)), ("unequal", unequal)];
    let plan = Plan::in_room(celsius(16.0)).simmer(minutes(5.0)).carry(minutes(1.0));
    let options = Options::horizon(hours(6.0));
    for (name, boards) in cases {
        for gap in [0.0, 0.5, 2.0, 5.0] {
            let boards = boards.clone().around(&pot, millimetres(gap)).lid(Lid::gasketed()).edges(Edges::Solved);
            let forecast = Setup::new(pot.clone(), boards).unwrap().forecast_with(&plan, &options).unwrap();
            let dish = in_celsius(forecast.at(hours(0.0)).unwrap().temperature.high());
            let case = format!("{name}, gap {gap} mm, dish {dish} °C");
            for layer in forecast.hottest() {
                assert!(in_celsius(layer.temperature.high()) < dish + 1e-3, "{case}: {layer:?}");
            }
            let air = Probe::at(ProbeSpot::UnderLid);
            for [interval, until] in [[2.0, 240.0], [60.0, 7200.0]] {
                for row in forecast.readings(&air, seconds(interval), seconds(until)).unwrap() {
                    let [low, high] = [row.temperature.low(), row.temperature.high()].map(in_celsius);
                    assert!(low > 16.0 - 1e-3 && high < dish + 1e-3, "{case}: {row:?}");
                    assert!(interval < 60.0 || row.numerical.si() < 2.5, "{case}: {row:?}");
                }
            }
            for h in [0.02, 0.1, 0.5, 2.0, 6.0] {
                let row = forecast.at(hours(h)).unwrap();
                assert!(
                    in_celsius(row.temperature.high()) < dish + 1e-3 && row.numerical.si() < 0.1,
                    "{case}: {row:?}"
                );
            }
        }
    }
}

/// All meshes share the shifts of the reduction of a section, so that they do not tell what it errs. A run on twice the cells,
/// with a hundredth of the error in a step, finds shifts of its own.
#[test]
fn the_error_told_covers_the_reduction_from_the_first_minute() {
    let syrup =
        Pot::sized(millimetres(156.0), millimetres(225.0), Material::named("copper").unwrap(), millimetres(0.876))
            .with(Dish::named("honey-syrup").unwrap().stirred(), kilograms(0.79))
            .standing_on(Footing::resisting(Range::exactly(square_metre_kelvins_per_watt(0.01))));
    let shive = Layer::of("hemp-shive-loose", millimetres(7.0)).unwrap();
    let sleeve =
        Sleeve::of_wall(&Wall::planar().layer(shive).build().unwrap()).with_gap(millimetres(0.0)).lid(Lid::pressed());
    let windy = Plan::in_room(celsius(5.0)).in_wind(metres_per_second(10.2)).resting_on(Resting::hung());
    let stew = Pot::sized(
        millimetres(337.0),
        millimetres(184.0),
        Material::named("vitreous-enamel").unwrap(),
        millimetres(5.0),
    )
    .with(Dish::named("water-liquid").unwrap(), kilograms(6.5))
    .standing_on(Footing::trivet());
    let wadding = [("carbon-steel", 0.0216), ("recycled-polyester-wadding", 24.9), ("polyethylene-low-density", 1.61)]
        .into_iter()
        .fold(Wall::planar(), |wall, (id, mm)| wall.layer(Layer::of(id, millimetres(mm)).unwrap()));
    let wadded = Enclosure::of_wall(wadding.build().unwrap()).around(&stew, millimetres(2.0)).fitted(Fit::Tight);
    let cold = Plan::in_room(celsius(-5.0)).resting_on(Resting::board().at(celsius(-13.1)));
    let cases: [(&str, Pot, Shell, Plan); 3] = [
        ("sleeve of shive", syrup, sleeve.edges(Edges::Solved).into(), windy.simmer(minutes(5.0)).carry(minutes(2.0))),
        ("wadded box", stew, wadded.edges(Edges::Solved).into(), cold.simmer(minutes(5.0)).carry(minutes(2.0))),
        ("cork", pot(), boards().edges(Edges::Solved).into(), plan()),
    ];
    for (name, pot, shell, plan) in cases {
        let run = |cells: usize, share: f64| {
            let mut options = Options::horizon(hours(12.0));
            options.cells *= cells;
            options.step_error *= share;
            options.steps *= 100;
            Setup::new(pot.clone(), shell.clone()).unwrap().forecast_with(&plan, &options).unwrap()
        };
        let (told, fine) = (run(1, 1.0), run(2, 0.01));
        for h in [0.005, 0.01, 0.02, 0.03, 0.05, 0.1, 0.25, 0.5, 2.0, 8.0] {
            for of in [Forecast::at, Forecast::coldest] {
                let [told, fine] = [&told, &fine].map(|f| of(f, hours(h)).unwrap());
                let off = (told.temperature.best().si() - fine.temperature.best().si()).abs();
                let reported = told.numerical.si() + fine.numerical.si();
                println!("{name}, {h} h: off {off:.5} K, {reported:.5} K told");
                assert!(off <= reported, "{name}, {h} h: off {off} K, {reported} K told");
            }
        }
    }
}

/// Ice melts for days beside films that hardly move: no more steps are needed than without it, as long ones as with a pot that
/// cools. (Steps of ten seconds that ended at the bound on work after two days.)
#[test]
fn days_of_ice_take_few_steps() {
    let options = Options::horizon(hours(120.0));
    for dish in ["water-liquid", "thick-stew"] {
        let cold = Pot::typical(litres(4.9)).with(Dish::named(dish).unwrap(), kilograms(4.0));
        for room in [20.0, 5.0, -5.0] {
            let plan = Plan::in_room(celsius(room)).leaving_at(celsius(0.0)).shut();
            let boards = Enclosure::lined("expanded-polystyrene-20", millimetres(50.0)).unwrap().edges(Edges::Solved);
            let setup = Setup::new(cold.clone().with_ice(stillhot::units::fraction(0.4)), boards).unwrap();
            let forecast = setup.forecast_with(&plan, &options).unwrap();
            let statistics = forecast.statistics();
            println!("{dish}, {room} °C: {statistics:?}");
            assert!(statistics.steps < 2000 && statistics.rejected < 200, "{dish}, {room} °C: {statistics:?}");
            assert!(forecast.ledger_residual() < 1e-9, "{:e}", forecast.ledger_residual());
            // A fifth of the steps' length and half the cells tell the same, to what is told as error.
            let mut finer = options;
            (finer.cells, finer.step_error) = (16, kelvins(0.001));
            let fine = setup.forecast_with(&plan, &finer).unwrap();
            for k in 1..=20 {
                let time = hours(6.0 * f64::from(k));
                let (row, reference) = (forecast.at(time).unwrap(), fine.at(time).unwrap());
                let off = (row.temperature.best().si() - reference.temperature.best().si()).abs();
                let told = row.numerical.si() + reference.numerical.si();
                assert!(off <= told + 1e-6, "{dish}, {room} °C, {} h: off {off} K, {told} K told", 6 * k);
            }
        }
    }
}

/// Sections of a million nodes would take minutes: they are refused at once, by what is asked too much of. Half the finest mesh
/// that is allowed is not.
#[test]
fn too_fine_a_mesh_for_solved_edges_is_refused() {
    let setup = Setup::new(pot(), boards().edges(Edges::Solved)).unwrap();
    let on_cells = |cells: usize| {
        let mut options = Options::horizon(minutes(1.0));
        options.cells = cells;
        setup.forecast_with(&plan().serve_after(minutes(1.0)), &options)
    };
    let start = std::time::Instant::now();
    for cells in [60, 200] {
        let error = on_cells(cells).unwrap_err();
        println!("{error}");
        assert_eq!(error.kind(), ErrorKind::WorkBound);
        assert!(error.path().starts_with("box, edge between"), "{error}");
        assert!(error.value().unwrap().contains("nodes") && error.accepted().unwrap().contains("cells"), "{error}");
    }
    assert!(start.elapsed().as_secs() < 60, "{:?}", start.elapsed());
    assert!(on_cells(24).is_ok());
}
