//! How long the daily work takes: W1 to W3, a box forecast and a sleeve forecast, each from description to answer.
//!
//! The machine matters and is often shared: compare times of one run only. Each piece of work is checked once before it
//! is timed, so that nothing fast and wrong is reported.

#[path = "cases/w1.rs"]
mod w1;
#[path = "cases/w2.rs"]
mod w2;

use std::error::Error;
use std::hint::black_box;

use criterion::Criterion;
use stillhot::conduction::{Accuracy, Form};
use stillhot::prelude::*;
use stillhot::units::kelvins;
use stillhot::{Edges, Options, Shelf, Shell};

/// Nine litres of water in a ten-litre pot, 50 mm of rigid foam all round, lid resting, room at 16 °C.
fn kitchen_box() -> Result<(Setup, Plan), stillhot::Error> {
    let pot = Pot::typical(litres(10.0)).with(Dish::named("water-liquid")?, kilograms(9.0));
    let enclosure = Enclosure::lined("rigid-polyisocyanurate-foam-foil-faced", millimetres(50.0))?
        .around(&pot, millimetres(15.0))
        .lid(Lid::resting());
    Ok((Setup::new(pot, enclosure)?, Plan::in_room(celsius(16.0)).shut().serve_after(hours(8.0))))
}

/// A litre pot in two layers of 5 mm mat, 4 °C, a breeze, 1400 m above the sea.
fn walk_sleeve() -> Result<(Setup, Plan), stillhot::Error> {
    let pot = Pot::typical(litres(1.0)).with(Dish::named("lentil-porridge")?, kilograms(0.8));
    let sleeve = Sleeve::of_mat("cross-linked-polyethylene-foam-mat", millimetres(5.0), 2)?;
    let plan = Plan::in_room(celsius(4.0)).at_height(metres(1400.0)).in_wind(metres_per_second(2.0));
    Ok((Setup::new(pot, sleeve)?, plan.shut().serve_after(minutes(45.0))))
}

/// A forecast is checked by its heat account and by the range that it must give.
fn check(name: &str, (setup, plan): &(Setup, Plan)) -> Result<(), Box<dyn Error>> {
    let forecast = setup.forecast(plan)?;
    let held = forecast.above(celsius(63.0))?;
    println!("{name}: above 63 °C {held}; {:?}", forecast.statistics());
    if forecast.ledger_residual() > 1e-9 || !matches!(held, Held::Until { .. }) {
        return Err(format!("{name}: wrong forecast").into());
    }
    Ok(())
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut criterion = Criterion::default().configure_from_args();

    let problem = w1::problem()?;
    let times = w1::times();
    for (name, accuracy) in [("default", Accuracy::default()), ("1e-6 of the swing", Accuracy::relative(1e-6))] {
        let answer = problem.march(&times, &accuracy)?;
        let (off, reported) = w1::errors(&answer)?;
        println!("W1, {name}: off {off:.1e} K, reported {reported:.1e} K; {:?}", answer.statistics());
        if off > w1::TARGET || off > reported {
            return Err(format!("W1, {name}: off by {off:e} K").into());
        }
        criterion.bench_function(&format!("W1, {name}"), |b| b.iter(|| problem.march(black_box(&times), &accuracy)));
    }

    // The same box with solved edges: the shelf empty, and filled by an earlier forecast.
    let (setup, plan) = kitchen_box()?;
    let Shell::Box(boards) = setup.shell() else { return Err("not a box".into()) };
    let solved = Setup::new(setup.pot().clone(), boards.clone().edges(Edges::Solved))?;
    check("nine-litre box, solved edges", &(solved.clone(), plan.clone()))?;
    println!("{:?}", solved.shelf());
    criterion.bench_function("nine-litre box, solved edges, from the shelf", |b| {
        b.iter(|| black_box(&solved).forecast(&plan));
    });
    criterion.bench_function("nine-litre box, solved edges, cold", |b| {
        b.iter(|| black_box(&solved).clone().with_shelf(&Shelf::default()).forecast(&plan));
    });

    let mut sections = criterion.benchmark_group("sections");
    sections.sample_size(10);
    for (side, _) in w2::HOURLY {
        let (problem, settled) = (w2::problem(side)?, w2::settled(side)?);
        let (cells, times) = (w2::cells(&problem, side), w2::times());
        let cells = [cells[0].as_slice(), cells[1].as_slice()];
        for (name, form) in [("reduced", Form::Reduced(1e-3)), ("full", Form::Full)] {
            let march = || problem.ports(black_box(&times), cells, form, kelvins(1e-3));
            let answer = march()?;
            let off = w2::error(side, answer.temperature.column(0).iter().copied());
            println!("W2, {name}, {side}: off {off:.1e} K, {} states; {:?}", answer.states, answer.statistics);
            if off.is_nan() || off > w2::TARGET || answer.ledger_residual > 1e-9 {
                return Err(format!("W2, {name}, {side}: off by {off:e} K").into());
            }
            // In full every length of step needs a factor of its own.
            if name == "reduced" || side < 400 {
                sections.bench_function(format!("W2, {name}, {side}"), |b| b.iter(march));
            }
        }
        let heat = settled.steady_ports(cells)?;
        let given: f64 = heat.iter().take(2).sum();
        // The staircase differs from that of the listed number, and the places of the unknowns.
        if (given / w2::SETTLED - 1.0).abs() > 3e-3 || heat.iter().sum::<f64>().abs() > 1e-8 * given {
            return Err(format!("W3, {side}: {heat:?} W").into());
        }
        sections.bench_function(format!("W3, {side}"), |b| b.iter(|| settled.steady_ports(black_box(cells))));
    }
    sections.finish();

    for (name, work) in [("nine-litre box", kitchen_box()?), ("one-litre sleeve", walk_sleeve()?)] {
        check(name, &work)?;
        let (setup, plan) = work;
        criterion.bench_function(name, |b| b.iter(|| black_box(&setup).forecast(&plan)));
        let mut alone = Options::default();
        alone.threads = 1;
        criterion.bench_function(&format!("{name}, one thread"), |b| {
            b.iter(|| black_box(&setup).forecast_with(&plan, &alone));
        });
    }
    criterion.final_summary();
    Ok(())
}
