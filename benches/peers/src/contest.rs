//! Who is how fast at equal error: the ladder of tolerances, the interleaved race and its table.

use std::hint::black_box;
use std::time::Instant;

use crate::{Outcome, w1};

/// One whole solution: six pot temperatures, °C.
pub type Solve<'a> = Box<dyn Fn() -> Outcome<Vec<f64>> + 'a>;

/// Rounds of the race; everybody runs once in each.
const ROUNDS: usize = 10;
/// What a turn should last, s.
const TURN: f64 = 5e-3;

/// Somebody in the race.
pub struct Contestant<'a> {
    name: String,
    ours: bool,
    /// Counts for the ratio.
    counts: bool,
    mesh: &'a [usize],
    /// K a step, and the error it leads to, K.
    settings: Option<(f64, f64)>,
    solve: Solve<'a>,
    /// Seconds per solution, one entry per round.
    rounds: Vec<f64>,
}

impl<'a> Contestant<'a> {
    /// Somebody who runs along without counting.
    pub fn aside(name: String, mesh: &'a [usize], solve: Solve<'a>) -> Self {
        Contestant { name, ours: true, counts: false, mesh, settings: None, solve, rounds: Vec::new() }
    }

    fn time(&self) -> f64 {
        median(self.rounds.clone())
    }
}

/// The loosest step of the ladder that meets the target and keeps meeting it at every tighter step; none if there is none.
pub fn pick<'a>(
    name: String,
    ours: bool,
    mesh: &'a [usize],
    ladder: &[f64],
    build: impl Fn(f64) -> Outcome<Solve<'a>>,
) -> Outcome<Option<Contestant<'a>>> {
    let mut loosest = None;
    for tolerance in ladder.iter().rev() {
        let solve = build(*tolerance)?;
        let pot = solve()?;
        let error = pot.iter().zip(w1::HOURLY).map(|(t, exact)| (t - exact).abs()).fold(0.0, f64::max);
        // Written so that a NaN and a missing hour fail.
        let met = error <= w1::TARGET && pot.len() == w1::HOURLY.len() && pot.iter().all(|t| t.is_finite());
        if !met {
            break;
        }
        loosest = Some((*tolerance, error, solve));
    }
    if loosest.is_none() {
        println!("{name} on {mesh:?}: no tolerance of the ladder meets {:e} K", w1::TARGET);
    }
    Ok(loosest.map(|(tolerance, error, solve)| Contestant {
        name,
        ours,
        counts: true,
        mesh,
        settings: Some((tolerance, error)),
        solve,
        rounds: Vec::new(),
    }))
}

/// Lets everybody run in turn, round after round, so that what disturbs the machine disturbs all.
pub fn race(field: &mut [Contestant<'_>]) -> Outcome<()> {
    let mut turns = Vec::new();
    for contestant in field.iter() {
        let start = Instant::now();
        for _ in 0..3 {
            black_box((contestant.solve)()?);
        }
        turns.push((TURN / (start.elapsed().as_secs_f64() / 3.0)).ceil().clamp(1.0, 10_000.0) as u32);
    }
    for _ in 0..ROUNDS {
        for (contestant, turn) in field.iter_mut().zip(&turns) {
            let start = Instant::now();
            for _ in 0..*turn {
                black_box((contestant.solve)()?);
            }
            contestant.rounds.push(start.elapsed().as_secs_f64() / f64::from(*turn));
        }
    }
    Ok(())
}

/// The table, in Markdown.
pub fn print(field: &[Contestant<'_>]) {
    println!("| who | cells | K a step | error K | median µs | fastest round µs |");
    println!("|---|---|---|---|---|---|");
    for c in field {
        let mesh = c.mesh.iter().map(ToString::to_string).collect::<Vec<_>>().join("+");
        let (tolerance, error) =
            c.settings.map_or((String::new(), String::new()), |(t, e)| (t.to_string(), format!("{e:.1e}")));
        let fastest = c.rounds.iter().copied().fold(f64::INFINITY, f64::min);
        println!("| {} | {mesh} | {tolerance} | {error} | {:.1} | {:.1} |", c.name, 1e6 * c.time(), 1e6 * fastest);
    }
}

/// Time of this crate over that of the fastest peer, on one mesh or each on its best: the median of the ratios of the
/// rounds. None if one side is missing.
pub fn ratio(field: &[Contestant<'_>], mesh: Option<&[usize]>) -> Option<f64> {
    let fastest = |ours: bool| {
        field
            .iter()
            .filter(|c| c.counts && c.ours == ours && mesh.is_none_or(|m| m == c.mesh))
            .min_by(|a, b| a.time().total_cmp(&b.time()))
    };
    let (ours, peer) = (fastest(true)?, fastest(false)?);
    Some(median(ours.rounds.iter().zip(&peer.rounds).map(|(a, b)| a / b).collect()))
}

/// A ratio in words.
pub fn show(ratio: Option<f64>) -> String {
    ratio.map_or("nothing to compare".into(), |r| format!("{r:.2}"))
}

/// The middle value.
pub fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    let n = values.len();
    if n == 0 {
        return f64::NAN;
    }
    f64::midpoint(values[(n - 1) / 2], values[n / 2])
}
