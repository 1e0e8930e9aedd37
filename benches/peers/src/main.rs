//! The marches of this crate against an independent ODE crate on W1 and W2, its steady state against a sparse crate on W3:
//! do they agree, and which is faster at equal error?
//!
//! Both sides integrate the same vertex-centred semi-discretisation, once exported and once inside. Exit status 1 if they
//! disagree or if this crate is the slower one. `peers w1`, `peers w2` and `peers w3` run one of them.

mod contest;
mod peer;
mod sections;
mod semidiscrete;
#[path = "../../cases/w1.rs"]
mod w1;
#[path = "../../cases/w2.rs"]
mod w2;

use std::error::Error;
use std::process::ExitCode;
use std::rc::Rc;

use diffsol::{FaerSparseMat, NalgebraMat};
use stillhot::conduction::{Accuracy, Probe, Problem, Side};
use stillhot::units::{Length, Si, hours, kelvins};

use contest::{Contestant, Solve, pick, race};
use peer::{Method, Pace, Peer};
use semidiscrete::{Chain, System, ZERO_CELSIUS};

type Outcome<T> = Result<T, Box<dyn Error>>;

/// Cells in the four layers: the stated mesh, and two coarser ones found by search that still leave room for an error
/// of the time integration (their mesh errors are 5.4e-4 and 7.8e-4 K, that of the stated one 4.7e-4 K).
const MESHES: [[usize; 4]; 3] = [[12, 24, 8, 2], [4, 24, 4, 1], [4, 20, 3, 1]];
/// Error allowed per step, K; the peer's relative tolerance is a hundredth of it.
const LADDER: [f64; 9] = [10.0, 3.0, 1.0, 0.3, 0.1, 0.03, 0.01, 1e-3, 1e-4];
/// Tolerance of the check, K a step.
const TIGHT: f64 = 1e-9;
/// How far the two sides may be apart at that tolerance, K.
const AGREEMENT: f64 = 1e-6;
/// When the pot of W1 passes 75 °C, h. COMPUTED, no printed source: as the hourly temperatures.
const CROSSING: f64 = 16.8830;
const LEVEL: f64 = 75.0;

fn main() -> Outcome<ExitCode> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let well = match arguments[..] {
        [] => walls()? & sections::contest(true, true)?,
        ["w1"] => walls()?,
        ["w2"] => sections::contest(true, false)?,
        ["w3"] => sections::contest(false, true)?,
        ["memory", who, side] => sections::memory(who, side.parse()?)?,
        _ => return Err("usage: peers [w1|w2|w3]".into()),
    };
    Ok(if well { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn walls() -> Outcome<bool> {
    let problem = w1::problem()?;
    let agree = agreement(&problem)?;
    crossing(&problem)?;
    Ok(contest(&problem)? && agree)
}

/// The six hours, s.
fn times() -> Vec<f64> {
    w1::times().map(|t| t.si()).to_vec()
}

/// Compares pot and wall of both sides at the six hours.
fn agreement(problem: &Problem) -> Outcome<bool> {
    let chain = Chain::of(problem, &MESHES[0])?;
    let system: Rc<dyn System> = Rc::new(chain.clone());
    let ours = problem.march_single(&w1::times(), &MESHES[0], kelvins(TIGHT))?;
    let mut all = true;
    println!("Agreement on {:?}, {TIGHT:e} K a step, largest difference over six hours in K", MESHES[0]);
    for method in Method::ALL {
        let states = Peer::<FaerSparseMat<f64>>::new(&system, method, Pace::Stock, TIGHT, None)?.states_at(&times())?;
        let (mut pot, mut wall) = (0.0_f64, 0.0_f64);
        for (hour, state) in states.iter().enumerate() {
            let apart = |probe: Probe, node: usize| -> Outcome<f64> {
                Ok((ours.read(probe, hour)? - ZERO_CELSIUS - state[node]).abs())
            };
            pot = pot.max(apart(Probe::Body(Side::Inner), 0)?);
            for (i, x) in chain.position.iter().enumerate() {
                // Of the two nodes at the contact a coordinate names the inner one.
                let outer_of_two = i > 0 && chain.position[i - 1] == *x;
                let probe =
                    if outer_of_two { Probe::Face(1, Side::Inner) } else { Probe::Temperature(Length::from_si(*x)) };
                wall = wall.max(apart(probe, i + 1)?);
            }
        }
        // Written so that a NaN fails.
        let agrees = pot <= AGREEMENT && wall <= AGREEMENT;
        let verdict = if agrees { "agrees" } else { "DISAGREES" };
        println!("  {:9} pot {pot:.1e}, wall {wall:.1e}: {verdict} ({AGREEMENT:e} allowed)", method.name());
        all &= agrees;
    }
    println!("  ({} steps of this crate)\n", ours.statistics().steps);
    Ok(all)
}

/// The time at which the pot passes 75 °C. A march without an error of its own has no crossing to ask for, so that ours is
/// a straight line between two readings 36 s apart, and it is not timed.
fn crossing(problem: &Problem) -> Outcome<()> {
    let system: Rc<dyn System> = Rc::new(Chain::of(problem, &MESHES[0])?);
    let end = [20.0 * 3600.0];
    let peer = Peer::<FaerSparseMat<f64>>::new(&system, Method::Esdirk34, Pace::Stock, 1e-6, Some(LEVEL))?
        .pot_at(&end)?[0]
        / 3600.0;
    let around = [16.88, 16.89];
    let ours = problem.march_single(&around.map(hours), &MESHES[0], kelvins(1e-6))?;
    let at = |i| ours.read(Probe::Body(Side::Inner), i).map(|t| t - ZERO_CELSIUS);
    let (a, b) = (at(0)?, at(1)?);
    let ours = around[0] + (around[1] - around[0]) * (a - LEVEL) / (a - b);
    println!("W1x, {LEVEL} °C at {CROSSING:.4} h: peer's root {peer:.4} h, ours by interpolation {ours:.4} h\n");
    // The mesh alone shifts it by a second or two, 5e-4 h.
    if (peer - CROSSING).abs() < 1e-3 && (ours - CROSSING).abs() < 1e-3 {
        return Ok(());
    }
    Err("the 75 °C crossing is off".into())
}

/// Everybody at their loosest sufficient tolerance, timed in turn.
fn contest(problem: &Problem) -> Outcome<bool> {
    let mut field = Vec::new();
    for mesh in &MESHES {
        field.push(pick("this crate, whole call".into(), true, mesh, &LADDER, |tolerance| {
            let solve: Solve<'_> = Box::new(move || {
                let march = problem.march_single(&w1::times(), mesh, kelvins(tolerance))?;
                (0..6).map(|i| Ok(march.read(Probe::Body(Side::Inner), i)? - ZERO_CELSIUS)).collect()
            });
            Ok(solve)
        })?);
        let system: Rc<dyn System> = Rc::new(Chain::of(problem, mesh)?);
        for method in Method::ALL {
            for pace in [Pace::Stock, Pace::Tuned] {
                let name = format!("peer {}, {}, sparse LU", method.name(), pace.name());
                field.push(pick(name, false, mesh, &LADDER, |tolerance| {
                    let peer = Peer::<FaerSparseMat<f64>>::new(&system, method, pace, tolerance, None)?;
                    let solve: Solve<'_> = Box::new(move || Ok(peer.pot_at(&times())?));
                    Ok(solve)
                })?);
            }
            let name = format!("peer {}, tuned, dense LU", method.name());
            field.push(pick(name, false, mesh, &LADDER, |tolerance| {
                let peer = Peer::<NalgebraMat<f64>>::new(&system, method, Pace::Tuned, tolerance, None)?;
                let solve: Solve<'_> = Box::new(move || Ok(peer.pot_at(&times())?));
                Ok(solve)
            })?);
        }
    }
    let mut field: Vec<Contestant<'_>> = field.into_iter().flatten().collect();

    // For scale, not for the ratio: assembly by itself, and the answer that knows its own error.
    let assembly: Solve<'_> = Box::new(|| Ok(problem.matrices(&MESHES[0])?.start.to_vec()));
    field.push(Contestant::aside("this crate, export of matrices alone".into(), &MESHES[0], assembly));
    let default = Accuracy::default();
    let answer = problem.march(&w1::times(), &default)?;
    let (off, reported) = w1::errors(&answer)?;
    println!("Problem::march with its defaults: off {off:.1e} K, reports {reported:.1e} K\n");
    let march: Solve<'_> = Box::new(move || {
        let answer = problem.march(&w1::times(), &default)?;
        (0..6).map(|i| Ok(answer.body_temperature(Side::Inner, i)?.value.si() - ZERO_CELSIUS)).collect()
    });
    field.push(Contestant::aside("this crate, march with six runs and error".into(), &[], march));

    race(&mut field)?;
    contest::print(&field);
    let same = contest::ratio(&field, Some(&MESHES[0]));
    let free = contest::ratio(&field, None);
    println!(
        "\nthis crate / fastest peer at {:e} K: {} on {:?}, {} each on the mesh that suits it best (aim 0.2)",
        w1::TARGET,
        contest::show(same),
        MESHES[0],
        contest::show(free)
    );
    Ok([same, free].iter().all(|r| r.is_some_and(|r| r <= 1.0)))
}
