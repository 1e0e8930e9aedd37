//! How two forecasts differ, march by march: what meshes and steps get wrong in both alike falls out.

use super::forecast::Forecast;
use super::marches::Run;
use super::place::Place;
use super::spot::{NOISE, ProbeSpot, UNFOLLOWED};
use crate::conduction::{Doubt, Sample, combine};
use crate::units::{Si, Temperature};

/// A difference with its numerical error, in the SI unit of what differs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Apart {
    pub(crate) value: f64,
    pub(crate) error: f64,
}

/// How much longer one forecast holds a temperature than another, at one member of the range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum HoldsApart {
    /// Both end within what was followed, s.
    By(Apart),
    /// The other ends, this one does not: longer by more than this, s.
    AtLeast(f64),
    /// This one ends, the other does not: shorter by more than this, s.
    AtMost(f64),
    /// Neither ends.
    Neither,
}

/// Coefficients that are followed only to within a tolerance lag in both forecasts alike: this share of what that makes of a
/// value stays in a difference, and what it makes of the difference itself, twice over (estimate; what was seen against finer
/// runs is a fifth of it or less).
const LEFT: f64 = 0.05;
const TWICE: f64 = 2.0;
/// What the second mesh gets wrong of a difference, as a share, against what it gets wrong of a value.
const TIMES_SHARE: f64 = 3.0;

impl Apart {
    /// From six marches of each; `unsure` is what the six of one value share in error.
    fn of_best(six: [f64; 6], noise: f64, unsure: f64) -> Self {
        if six.iter().all(|apart| *apart == 0.0) {
            return Apart { value: 0.0, error: 0.0 };
        }
        let estimate = combine(Sample::new(six), noise, Doubt::EVENTFUL);
        let shared = (LEFT * unsure + TWICE * UNFOLLOWED * estimate.value.abs()).min(unsure);
        Apart { value: estimate.value, error: estimate.error + shared }
    }

    /// An end of the range, which was computed on the second mesh alone, beside the best value: it errs as the difference of
    /// the best value does on that mesh, and as `share` of itself at least.
    fn of_end(apart: f64, middle: f64, best: Apart, share: f64) -> Self {
        if apart == 0.0 && middle == 0.0 && best.value == 0.0 {
            return Apart { value: 0.0, error: best.error };
        }
        let own = (middle - best.value).abs() + best.error;
        let relative = if middle.abs() > own { own / middle.abs() } else { 0.0 };
        Apart { value: apart, error: own + apart.abs() * (TIMES_SHARE * share).max(relative) }
    }
}

impl Forecast {
    /// How much longer this forecast holds a temperature than `base`, each at its own spot: cautious, best, generous.
    pub(crate) fn holds_apart(
        &self,
        base: &Forecast,
        spots: [ProbeSpot; 2],
        temperature: Temperature,
        above: bool,
    ) -> [HoldsApart; 3] {
        let level = temperature.si();
        let mine = Crossings::of(self, spots[0], level, above);
        let theirs = Crossings::of(base, spots[1], level, above);
        let six: Option<Vec<f64>> = mine.best.iter().zip(&theirs.best).map(|(a, b)| Some((*a)? - (*b)?)).collect();
        let six: Option<[f64; 6]> = six.and_then(|six| six.try_into().ok());
        let apart = six.map(|six| {
            let unsure = mine.unsure(self, spots[0], UNFOLLOWED).max(theirs.unsure(base, spots[1], UNFOLLOWED));
            Apart::of_best(six, mine.noise(self, spots[0]).max(theirs.noise(base, spots[1])), unsure)
        });
        let share = self.share_unsure(spots[0]).max(base.share_unsure(spots[1]));
        let holds = |mine: Option<f64>, theirs: Option<f64>, both: &dyn Fn(f64) -> Apart| match (mine, theirs) {
            (Some(a), Some(b)) => HoldsApart::By(both(a - b)),
            (None, Some(b)) => HoldsApart::AtLeast(self.horizon - b),
            (Some(a), None) => HoldsApart::AtMost(a - base.horizon),
            (None, None) => HoldsApart::Neither,
        };
        let end = |at: usize| {
            holds(mine.ends[at], theirs.ends[at], &|value| match (six, apart) {
                (Some(six), Some(best)) => Apart::of_end(value, six[1], best, share),
                // Without best values to go by each errs on its own.
                _ => Apart { value, error: if value == 0.0 { 0.0 } else { share * (mine.latest() + theirs.latest()) } },
            })
        };
        let all =
            |crossings: &Crossings| crossings.best.iter().copied().collect::<Option<Vec<f64>>>().map(|all| all[2]);
        let best = holds(all(&mine), all(&theirs), &|value| apart.unwrap_or(Apart { value, error: self.horizon }));
        [end(0), best, end(1)]
    }

    /// How much warmer this forecast is, K, each at its own spot and time: cautious, best, generous.
    pub(crate) fn warmer(&self, base: &Forecast, spots: [ProbeSpot; 2], times: [f64; 2]) -> [Apart; 3] {
        let of = |a: &Run, b: &Run| a.temperature(spots[0], times[0]) - b.temperature(spots[1], times[1]);
        let fallen = self.fallen(spots[0], times[0]).max(base.fallen(spots[1], times[1]));
        self.apart(base, spots, of, NOISE, UNFOLLOWED * fallen)
    }

    /// How much more heat has left for the room by the time of the account, J: cautious, best, generous.
    pub(crate) fn loses_more(&self, base: &Forecast) -> [Apart; 3] {
        let until = [self.account().0, base.account().0];
        let of = |a: &Run, b: &Run| a.lost_to_room(until[0]) - b.lost_to_room(until[1]);
        let size = self.best[2].lost_to_room(until[0]).abs().max(base.best[2].lost_to_room(until[1]).abs());
        self.apart(base, [ProbeSpot::Dish; 2], of, 1e-12 * size, UNFOLLOWED * size)
    }

    /// Heat that has left for the room by the time of the account, J: cautious, best, generous.
    pub(crate) fn lost_to_room(&self) -> [f64; 3] {
        let until = self.account().0;
        [&self.cautious, &self.best[2], &self.generous].map(|run| run.lost_to_room(until))
    }

    fn apart(
        &self,
        base: &Forecast,
        spots: [ProbeSpot; 2],
        of: impl Fn(&Run, &Run) -> f64,
        noise: f64,
        unsure: f64,
    ) -> [Apart; 3] {
        let six: [f64; 6] = std::array::from_fn(|i| of(&self.best[i], &base.best[i]));
        let best = Apart::of_best(six, noise, unsure);
        let share = self.share_unsure(spots[0]).max(base.share_unsure(spots[1]));
        let (mine, theirs) = (self.ends(spots[0]), base.ends(spots[1]));
        let end = |at: usize| Apart::of_end(of(mine[at], theirs[at]), six[1], best, share);
        [end(0), best, end(1)]
    }

    /// By how much a spot has changed since the start, K.
    fn fallen(&self, spot: ProbeSpot, time: f64) -> f64 {
        let fine = &self.best[2];
        (fine.temperature(spot, time) - fine.temperature(spot, f64::NEG_INFINITY)).abs()
    }

    /// What the second mesh gets wrong, as a share of how far the dish has cooled: where that is most, of a dozen moments.
    fn share_unsure(&self, spot: ProbeSpot) -> f64 {
        const MOMENTS: u32 = 12;
        let wrong = |k: u32| {
            let time = self.horizon * f64::from(k) / f64::from(MOMENTS);
            let best = self.best_at(spot, time);
            ((self.best[1].temperature(spot, time) - best.value).abs() + best.error, self.fallen(spot, time))
        };
        let (worst, fallen) =
            (1..=MOMENTS).map(wrong).fold((0.0_f64, 0.0_f64), |(w, f), (wrong, fallen)| (w.max(wrong), f.max(fallen)));
        if fallen > 0.0 { (worst / fallen).min(1.0) } else { 0.0 }
    }
}

impl Run {
    /// Heat that has left for the room since the start of the march, J; what a stove gave does not count.
    fn lost_to_room(&self, until: f64) -> f64 {
        let counts = |place: Place| !matches!(place, Place::Inside | Place::Reheat | Place::Stove);
        let accounts = self.assembly.paths.iter().filter(|account| counts(account.place));
        accounts.map(|account| self.lost_by(account, f64::NEG_INFINITY, until)).sum()
    }
}

/// When the marches of a forecast cross a level, s.
struct Crossings {
    best: [Option<f64>; 6],
    ends: [Option<f64>; 2],
}

impl Crossings {
    fn of(forecast: &Forecast, spot: ProbeSpot, level: f64, above: bool) -> Self {
        let of = |run: &Run| run.history.crossing(&run.watched(spot), level, 0.0, above);
        Crossings { best: std::array::from_fn(|i| of(&forecast.best[i])), ends: forecast.ends(spot).map(of) }
    }

    /// What so many kelvin for each kelvin of the fall make at the crossing of the finest march, s.
    fn unsure(&self, forecast: &Forecast, spot: ProbeSpot, share: f64) -> f64 {
        self.best[2].map_or(0.0, |t| forecast.delay(spot, t, share * forecast.fallen(spot, t)))
    }

    /// What the rounding of a temperature makes there, s.
    fn noise(&self, forecast: &Forecast, spot: ProbeSpot) -> f64 {
        self.best[2].map_or(0.0, |t| forecast.delay(spot, t, NOISE))
    }

    fn latest(&self) -> f64 {
        self.best.iter().chain(&self.ends).flatten().copied().fold(0.0, f64::max)
    }
}
