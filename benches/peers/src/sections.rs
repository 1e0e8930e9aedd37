//! W2 against the ODE crate and W3 against the sparse crate, on 100, 200 and 400 cells a side.
//!
//! Both sides have the same matrices, which `SectionProblem::matrices_on` exports. The peers get them before the clock
//! starts; this crate is timed from the described section to the answer, mesh, assembly and account included. So this crate
//! does more in its time. For W3 one row more gives the sparse crate the same start, the described section, with the mesh
//! and the assembly that it lacks made by this crate and the matrix put together by its own.

use std::hint::black_box;
use std::rc::Rc;
use std::time::Instant;

use diffsol::FaerSparseMat;
use faer::Side;
use faer::prelude::Solve;
use faer::sparse::{SparseColMat, Triplet};
use stillhot::conduction::{Form, SectionProblem};
use stillhot::units::{Si, kelvins};

use crate::contest::median;
use crate::peer::{Method, Pace, Peer};
use crate::semidiscrete::{Settled, Sheet, System, ZERO_CELSIUS};
use crate::{Outcome, w2};

const SIDES: [usize; 3] = [100, 200, 400];
/// Rounds of the races of W2 and of W3.
const ROUNDS: usize = 3;
const SETTLED_ROUNDS: usize = 9;
/// Error per step of this crate in reduced and in full form, K.
const STEP: [f64; 2] = [1e-3, 1e-2];
/// Error of the reduced form at its ports.
const REDUCTION: f64 = 1e-3;
/// Error allowed per step of the peer, K, loosest first.
const LADDER: [f64; 3] = [1.0, 0.3, 0.1];
/// How far the settled heat of both sides may be apart, relative.
const SETTLED: f64 = 1e-8;

type Pots = Vec<f64>;

fn ours(problem: &SectionProblem, side: usize, form: Form) -> Outcome<Pots> {
    let cells = w2::cells(problem, side);
    let step = kelvins(STEP[usize::from(form == Form::Full)]);
    let march = problem.ports(&w2::times(), [&cells[0], &cells[1]], form, step)?;
    Ok(march.temperature.column(0).to_vec())
}

fn theirs(peer: &Peer<FaerSparseMat<f64>>) -> Outcome<Pots> {
    let times = w2::times().map(|t| t.si());
    Ok(peer.pot_at(&times)?.into_iter().map(|t| t + ZERO_CELSIUS).collect())
}

fn system(side: usize) -> Outcome<Rc<dyn System>> {
    let problem = w2::problem(side)?;
    let cells = w2::cells(&problem, side);
    Ok(Rc::new(Sheet::of(&problem, [&cells[0], &cells[1]])?))
}

/// Heat of W3 by a factor in the order that the sparse crate chooses; assembly of its matrix is left out of the clock.
struct Sparse {
    settled: Settled,
    matrix: SparseColMat<usize, f64>,
}

impl Sparse {
    fn of(problem: &SectionProblem, cells: &[Vec<usize>; 2]) -> Outcome<Self> {
        let settled = Settled::of(problem, [&cells[0], &cells[1]])?;
        let entries: Vec<_> = settled.entries.iter().map(|(i, j, v)| Triplet::new(*i, *j, *v)).collect();
        let matrix = SparseColMat::try_new_from_triplets(settled.nodes, settled.nodes, &entries)
            .map_err(|e| format!("{e:?}"))?;
        Ok(Sparse { settled, matrix })
    }

    fn heat(&self) -> Outcome<f64> {
        let factor = self.matrix.sp_cholesky(Side::Lower).map_err(|e| format!("{e:?}"))?;
        let right = faer::Mat::from_fn(self.settled.nodes, 1, |i, _| self.settled.right[i]);
        let t = factor.solve(&right);
        Ok(self.settled.heat(|i| t[(i, 0)]))
    }
}

fn settled(problem: &SectionProblem, cells: &[Vec<usize>; 2]) -> Outcome<f64> {
    let heat = problem.steady_ports([&cells[0], &cells[1]])?;
    Ok(heat.iter().take(heat.len() - 1).sum())
}

/// One whole solution.
type Turn<'a> = (String, Box<dyn Fn() -> Outcome<f64> + 'a>);

/// Times in s of everybody, one per round, in turn.
fn race(field: &[Turn<'_>], rounds: usize) -> Outcome<Vec<Vec<f64>>> {
    let mut times = vec![Vec::new(); field.len()];
    for _ in 0..rounds {
        for ((_, turn), times) in field.iter().zip(&mut times) {
            let begun = Instant::now();
            black_box(turn()?);
            times.push(begun.elapsed().as_secs_f64());
        }
    }
    Ok(times)
}

/// Runs the contests that are asked for; false if this crate is the slower one anywhere or they disagree.
pub fn contest(march: bool, settle: bool) -> Outcome<bool> {
    faer::set_global_parallelism(faer::Par::Seq);
    let mut well = true;
    println!("| work | cells | who | error K or relative | median ms | MB | ratio |");
    println!("|---|---|---|---|---|---|---|");
    for side in SIDES {
        if settle {
            well &= settle_contest(side)?;
        }
        if march {
            well &= march_contest(side)?;
        }
    }
    Ok(well)
}

/// W3 on so many cells a side.
fn settle_contest(side: usize) -> Outcome<bool> {
    let described = w2::settled(side)?;
    let cells = w2::cells(&described, side);
    let sparse = Sparse::of(&described, &cells)?;
    let apart = (settled(&described, &cells)? / sparse.heat()? - 1.0).abs();
    let field: Vec<Turn<'_>> = vec![
        ("ours settled".to_owned(), Box::new(|| settled(&described, &cells))),
        ("peer sparse".to_owned(), Box::new(|| sparse.heat())),
        ("peer sparse from the description".to_owned(), Box::new(|| Sparse::of(&described, &cells)?.heat())),
    ];
    Ok(apart < SETTLED && print("W3", side, &field, &[apart; 3], 1, SETTLED_ROUNDS)?)
}

/// W2 on so many cells a side.
fn march_contest(side: usize) -> Outcome<bool> {
    let system = system(side)?;
    let described = w2::problem(side)?;
    let mut field: Vec<Turn<'_>> = Vec::new();
    let mut errors = Vec::new();
    for (name, form) in [("ours reduced", Form::Reduced(REDUCTION)), ("ours full", Form::Full)] {
        errors.push(w2::error(side, ours(&described, side, form)?));
        let described = &described;
        field.push((name.to_owned(), Box::new(move || Ok(ours(described, side, form)?[5]))));
    }
    for pace in [Pace::Stock, Pace::Tuned] {
        let mut loosest = None;
        for tolerance in LADDER.into_iter().rev() {
            let peer = Peer::<FaerSparseMat<f64>>::new(&system, Method::TrBdf2, pace, tolerance, None)?;
            let error = w2::error(side, theirs(&peer)?);
            if error.is_nan() || error > w2::TARGET {
                break;
            }
            loosest = Some((peer, tolerance, error));
        }
        if let Some((peer, tolerance, error)) = loosest {
            errors.push(error);
            let name = format!("peer TR-BDF2 {} {tolerance}", pace.name());
            field.push((name, Box::new(move || Ok(theirs(&peer)?[5]))));
        }
    }
    let well = errors.iter().all(|e| *e <= w2::TARGET) && field.len() > 2;
    Ok(print("W2", side, &field, &errors, 2, ROUNDS)? && well)
}

/// Races and prints; the first `own` are this crate. False if the fastest of them is slower than the fastest of the others.
fn print(work: &str, side: usize, field: &[Turn<'_>], errors: &[f64], own: usize, rounds: usize) -> Outcome<bool> {
    let times = race(field, rounds)?;
    let fastest = |who: &[Vec<f64>]| {
        (0..rounds).map(|r| who.iter().map(|t| t[r]).fold(f64::INFINITY, f64::min)).collect::<Vec<_>>()
    };
    let (ours, theirs) = (fastest(&times[..own]), fastest(&times[own..]));
    for (((name, _), times), error) in field.iter().zip(&times).zip(errors) {
        let ratio = median(times.iter().zip(&theirs).map(|(a, b)| a / b).collect());
        let who = name.split_whitespace().take(2).collect::<Vec<_>>().join("-");
        let megabytes = measured(&who, side).map_or("-".to_owned(), |m| format!("{m:.0}"));
        let time = 1e3 * median(times.clone());
        println!("| {work} | {side} | {name} | {error:.1e} | {time:.1} | {megabytes} | {ratio:.2} |");
    }
    Ok(median(ours.iter().zip(&theirs).map(|(a, b)| a / b).collect()) <= 1.0)
}

/// Peak memory of a process that does this work alone, MB; none where the system does not tell.
fn measured(who: &str, side: usize) -> Option<f64> {
    let program = std::env::current_exe().ok()?;
    let output = std::process::Command::new(program).args(["memory", who, &side.to_string()]).output().ok()?;
    String::from_utf8(output.stdout).ok()?.trim().parse().ok()
}

/// Does one piece of work once and prints the peak memory of this process, MB.
pub fn memory(who: &str, side: usize) -> Outcome<bool> {
    faer::set_global_parallelism(faer::Par::Seq);
    match who {
        "ours-reduced" => drop(ours(&w2::problem(side)?, side, Form::Reduced(REDUCTION))?),
        "ours-full" => drop(ours(&w2::problem(side)?, side, Form::Full)?),
        "ours-settled" => {
            let problem = w2::settled(side)?;
            settled(&problem, &w2::cells(&problem, side))?;
        }
        "peer-TR-BDF2" => {
            drop(theirs(&Peer::<FaerSparseMat<f64>>::new(&system(side)?, Method::TrBdf2, Pace::Stock, 1.0, None)?)?);
        }
        "peer-sparse" => {
            let problem = w2::settled(side)?;
            Sparse::of(&problem, &w2::cells(&problem, side))?.heat()?;
        }
        _ => return Err("no such work".into()),
    }
    let status = std::fs::read_to_string("/proc/self/status")?;
    let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).ok_or("no peak memory told")?;
    let kilobytes: f64 = peak.trim().trim_end_matches("kB").trim().parse()?;
    println!("{}", kilobytes / 1024.0);
    Ok(true)
}
