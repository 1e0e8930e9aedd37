//! The marches of a forecast: which there are, whose steps each takes, and all of them side by side.

use std::cmp::Reverse;
use std::num::NonZeroUsize;

use super::assemble::{Account, Assembly};
use super::hand_over::Fields;
use super::member::{Inner, Member};
use super::{Options, Plan, Setup};
use crate::conduction::MARCHES;
use crate::error::{Error, ErrorKind};
use crate::march::{self, History, March, Pace, Sequence};
use crate::numeric::parallel::in_parallel;
use crate::units::Si;

/// Surfaces and wall interiors may err this much more in a step than the pot.
const FIELD_SHARE: f64 = 30.0;
/// A step of the ends of the range may err this much of what one of the best value may.
pub(super) const END_SHARE: f64 = 0.5;

/// One march with what it was made of.
#[derive(Debug)]
pub(super) struct Run {
    pub(super) assembly: Assembly,
    pub(super) history: History,
}

/// How a march is to choose its steps.
pub(super) enum Wish<'s> {
    /// Those of another march, each in so many parts.
    Split(&'s Sequence, usize),
    /// Those of another march if they suit, else such that a step errs by so much, K.
    Like(Option<&'s Sequence>, f64),
}

/// One of the marches of a forecast.
pub(super) struct Job<'s> {
    /// In the order of `Forecast::runs`.
    pub(super) number: usize,
    pub(super) member: Member,
    pub(super) inner: Inner,
    /// Of one with what leads to the ground at its opposite end, which march is the same but for that.
    pub(super) crossed: Option<usize>,
    /// Refinement of the mesh.
    pub(super) level: usize,
    pub(super) wish: Wish<'s>,
}

/// All marches of a forecast.
pub(super) struct Marches {
    /// Best values, as [`MARCHES`] has them.
    pub(super) best: Vec<Run>,
    /// Cautious and generous.
    pub(super) ends: [Run; 2],
    /// The same for the edge of a dish that stands still.
    pub(super) edges: Option<[Run; 2]>,
    /// Cautious and generous with what leads to the ground at its opposite end, where the ground is not as warm as the room.
    pub(super) crossed: Option<[Run; 2]>,
    pub(super) crossed_edges: Option<[Run; 2]>,
}

/// The steps of the marches of a forecast, for the marches of another one to repeat.
#[derive(Debug)]
pub(crate) struct Paces {
    best: Sequence,
    ends: [Sequence; 2],
    edges: Option<[Sequence; 2]>,
}

impl Run {
    /// One march, to stop at these times, s.
    pub(super) fn of(
        setup: &Setup,
        plan: &Plan,
        options: &Options,
        stops: &[f64],
        job: &Job<'_>,
    ) -> Result<(Run, Sequence), Error> {
        let left = plan.handed_over().map(|handed| handed.left_by(job.number, job.crossed)).transpose()?;
        let (chosen, mesh) = ((job.member, job.inner, job.crossed.is_some()), (options.cells, job.level));
        let mut assembly = setup.assemble(plan, chosen, mesh, left.and_then(Fields::solved_at))?;
        if let Some(fields) = left {
            fields.apply(&mut assembly)?;
        }
        let phases = assembly.phases(plan, stops);
        let start = assembly.begins(plan);
        let mut snapshots = vec![0.0];
        snapshots.extend_from_slice(stops);
        let plan = March { phases: &phases, start, snapshots: &snapshots, step_bound: options.steps };
        let pace = match job.wish {
            Wish::Split(sequence, split) => Pace::Replay { sequence, split },
            Wish::Like(Some(sequence), _) if sequence.suits(&assembly.network, &plan) => {
                Pace::Replay { sequence, split: 1 }
            }
            Wish::Like(_, tolerance) => Pace::Adaptive { tolerance, field_tolerance: FIELD_SHARE * tolerance },
        };
        let (history, sequence) = march::march(&assembly.network, &plan, &pace)?;
        Ok((Run { assembly, history }, sequence))
    }

    /// Heat that went along a path between two times, J.
    pub(super) fn lost_by(&self, account: &Account, from: f64, to: f64) -> f64 {
        let lost = |until| self.history.lost(account.path.0, until);
        account.share * (lost(to) - lost(from))
    }
}

/// The two ends of a range, with the steps that each is to repeat.
fn ends(inner: fn(Member) -> Inner, like: Option<&[Sequence; 2]>) -> [(Member, Inner, Option<&Sequence>); 2] {
    [(Member::Cautious, 0), (Member::Generous, 1)].map(|(member, at)| (member, inner(member), like.map(|l| &l[at])))
}

impl Job<'_> {
    /// Roughly how much it is.
    fn work(&self) -> usize {
        match self.wish {
            Wish::Split(_, split) => self.level * split,
            Wish::Like(..) => self.level,
        }
    }
}

impl Marches {
    /// Marches through a plan that stop at these times, s, and the steps they took: those of `like`, march by march, so
    /// that two forecasts differ by what was changed alone; one that must land on other moments chooses its own.
    pub(super) fn of(
        setup: &Setup,
        plan: &Plan,
        options: &Options,
        stops: &[f64],
        like: Option<&Paces>,
    ) -> Result<(Self, Paces), Error> {
        let march = |job: &Job<'_>| Run::of(setup, plan, options, stops, job);
        let tolerance = options.step_error.si();
        let best = |number: usize, wish| {
            let (level, _) = MARCHES[number];
            let (member, inner) = (Member::Best, Inner::of_mean(Member::Best));
            Job { number, member, inner, crossed: None, level, wish }
        };
        let (coarse, sequence) = march(&best(0, Wish::Like(like.map(|paces| &paces.best), tolerance)))?;
        let mut jobs: Vec<Job<'_>> =
            (1..MARCHES.len()).map(|number| best(number, Wish::Split(&sequence, MARCHES[number].1))).collect();
        // No other march corrects the ends, and they cool at a pace of their own.
        let fine = END_SHARE * tolerance;
        let means = ends(Inner::of_mean, like.map(|paces| &paces.ends));
        let edges = ends(Inner::of_edge, like.and_then(|paces| paces.edges.as_ref()));
        for (member, inner, like) in means.into_iter().chain(edges.into_iter().filter(|_| setup.pot().is_still())) {
            let number = jobs.len() + 1;
            jobs.push(Job { number, member, inner, crossed: None, level: 2, wish: Wish::Like(like, fine) });
        }
        if plan.crosses() {
            let uncrossed = MARCHES.len()..=jobs.len();
            for twin in uncrossed {
                let Job { member, inner, .. } = jobs[twin - 1];
                let (number, wish) = (jobs.len() + 1, Wish::Like(None, fine));
                jobs.push(Job { number, member, inner, crossed: Some(twin), level: 2, wish });
            }
        }
        // The longest first: the short ones fill up what is left of the time.
        jobs.sort_by_key(|job| Reverse(job.work()));
        let threads = NonZeroUsize::new(options.threads);
        let done =
            in_parallel(jobs.len(), threads, |k| march(&jobs[k]).map(|run| (jobs[k].number, run)), Result::is_err);
        let mut done = done.into_iter().collect::<Result<Vec<_>, Error>>()?;
        done.sort_by_key(|(number, _)| *number);
        let mut runs = done.into_iter().map(|(_, run)| run);
        let mut best = vec![coarse];
        best.extend(runs.by_ref().take(MARCHES.len() - 1).map(|(run, _)| run));
        let mut pair = || Some((runs.next()?, runs.next()?));
        // There is one of each job: the error is never met.
        let lost = || Error::new(ErrorKind::NoConvergence, "a march was not computed");
        let ((cautious, of_cautious), (generous, of_generous)) = pair().ok_or_else(lost)?;
        let mut pair = |is_there: bool| is_there.then(&mut pair).flatten();
        let (edges, of_edges) = pair(setup.pot().is_still())
            .map(|((low, of_low), (high, of_high))| ([low, high], [of_low, of_high]))
            .unzip();
        let mut alone = |is_there: bool| pair(is_there).map(|((low, _), (high, _))| [low, high]);
        let crossed = alone(plan.crosses());
        let crossed_edges = alone(plan.crosses() && setup.pot().is_still());
        let paces = Paces { best: sequence, ends: [of_cautious, of_generous], edges: of_edges };
        Ok((Marches { best, ends: [cautious, generous], edges, crossed, crossed_edges }, paces))
    }
}
