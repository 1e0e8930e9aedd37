//! Variants against a base, computed march by march on the same meshes and, where both must land on the same moments, with
//! the same steps.

use std::num::NonZeroUsize;

use super::asked::{Asked, Level};
use super::difference::{Change, Difference, End, HoldDifference};
use super::prices::Cost;
use super::variant::Variant;
use crate::error::{Error, ErrorKind, Within};
use crate::numeric::parallel::in_parallel;
use crate::setup::{Forecast, Held, HourRow, Options, Paces, ProbeSpot, Range};
use crate::units::{Energy, Mass, Si, TemperatureInterval, Time, Volume};

/// A base and its variants, all computed.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Comparison {
    /// What the variants are compared with.
    pub base: Outcome,
    /// The variants in the order given.
    pub variants: Vec<Compared>,
}

/// What comes out for one variant, the base among them.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Outcome {
    /// What was computed.
    pub variant: Variant,
    /// How long each temperature is held, in the order asked.
    pub holds: Vec<(Level, Held)>,
    /// The dish when it is served, if the plan serves.
    pub serving: Option<HourRow>,
    /// The dish at the horizon.
    pub end: HourRow,
    /// Heat that has left for the room by serving, or by the horizon where the plan does not serve.
    pub heat_lost: Range<Energy>,
    /// Mass of box or sleeve and of the pot with its lid, without the dish; best values.
    pub weight: Mass,
    /// Room that box or sleeve take up.
    pub bulk: Volume,
    /// What the materials of box or sleeve cost, if any have a price.
    pub cost: Option<Cost>,
}

/// A variant beside the base.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Compared {
    /// What comes out for it.
    pub outcome: Outcome,
    /// How much longer each temperature is held, in the order asked: cautious, best, generous.
    pub holds: Vec<[HoldDifference; 3]>,
    /// How much warmer the dish is when each is served, if both plans serve.
    pub serving: Option<Change<TemperatureInterval>>,
    /// How much warmer the dish is at the horizon.
    pub end: Change<TemperatureInterval>,
    /// How much more heat it has lost.
    pub heat_lost: Change<Energy>,
    /// How much heavier it is.
    pub weight: Mass,
    /// How much bulkier it is.
    pub bulk: Volume,
    /// How much dearer it is: the price of the change if it has one, else what its layers and strips cost more. Nothing where no
    /// price tells: none for a material that it uses more or less of, or for a change that is none of layers.
    pub cost: Option<f64>,
}

/// A place in a ranking.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Ranked<'c> {
    /// From 1; the same for variants that the computation cannot tell apart. None for those without any difference.
    pub rank: Option<usize>,
    /// Which variant.
    pub compared: &'c Compared,
}

/// Compares variants with a base.
///
/// Every forecast comes from the same meshes, and from the steps that the base chose unless a variant must land on other
/// moments (an opening, another time of carrying). Differences are taken between like marches and then extrapolated, so that
/// they are known far better than the values.
///
/// # Errors
/// A temperature or price outside its range; no temperature or a name given twice; a price of a change that none or several of
/// the variants may be; whatever the forecast of the base or of a
/// variant refuses, with its name; the first of them in the order given.
pub fn compare(base: &Variant, variants: &[Variant], asked: &Asked, options: &Options) -> Result<Comparison, Error> {
    let all: Vec<&Variant> = std::iter::once(base).chain(variants).collect();
    for (index, variant) in all.iter().enumerate() {
        if all[..index].iter().any(|other| other.name() == variant.name()) {
            return Err(Error::new(ErrorKind::Inconsistent, "two variants have one name").with_value(variant.name()));
        }
    }
    asked.check()?;
    let (prices, wrong) = asked.prices().of_changes(&all[1..].iter().map(|variant| variant.name()).collect::<Vec<_>>());
    if let Some(wrong) = wrong.into_iter().next() {
        return Err(wrong);
    }
    let base = Base::of(base, asked, options)?;
    let pairs: Vec<_> = variants.iter().map(|variant| (None, variant.clone())).collect();
    let variants = base.compare_each(&pairs, &prices).into_iter().collect::<Result<_, _>>()?;
    Ok(Comparison { base: base.outcome, variants })
}

/// A base that variants are held against.
pub(super) struct Base<'a> {
    forecast: Forecast,
    paces: Paces,
    pub(super) outcome: Outcome,
    asked: &'a Asked,
    options: &'a Options,
}

impl<'a> Base<'a> {
    pub(super) fn of(variant: &Variant, asked: &'a Asked, options: &'a Options) -> Result<Self, Error> {
        asked.check()?;
        let compute = || {
            let (setup, plan) = (variant.setup(), variant.plan());
            let threads = asked.threads().map_or(options.threads, NonZeroUsize::get);
            let options = &Options { threads, ..*options };
            let (_, own) = Forecast::compute(setup, plan, options, None)?;
            // Repeated with its own steps, as every variant is: one that is equal to it then is so to the last bit.
            let (forecast, paces) = Forecast::compute(setup, plan, options, Some(&own))?;
            let outcome = Outcome::of(variant, &forecast, asked)?;
            Ok((forecast, paces, outcome))
        };
        let computed: Result<_, Error> = compute();
        let (forecast, paces, outcome) = computed.within(variant.name())?;
        Ok(Base { forecast, paces, outcome, asked, options })
    }

    /// Another base with the steps of this one.
    pub(super) fn beside(&self, variant: &Variant) -> Result<Base<'a>, Error> {
        let (setup, plan) = (variant.setup(), variant.plan());
        let (forecast, paces) = Forecast::compute(setup, plan, &self.alone(), Some(&self.paces))?;
        let outcome = Outcome::of(variant, &forecast, self.asked)?;
        Ok(Base { forecast, paces, outcome, asked: self.asked, options: self.options })
    }

    /// Options for one of many forecasts: they run side by side already.
    fn alone(&self) -> Options {
        Options { threads: 1, ..*self.options }
    }

    /// Where a level is looked at in the base.
    pub(super) fn spot(&self, level: Level) -> ProbeSpot {
        level.spot(&self.forecast)
    }

    /// Each variant, in order, beside what it is held against: the base where nothing else is given; with the prices of whole
    /// changes by their names. Errors carry the name.
    pub(super) fn compare_each(
        &self,
        pairs: &[(Option<Variant>, Variant)],
        prices: &[(String, f64)],
    ) -> Vec<Result<Compared, Error>> {
        let work = |index: usize| {
            let (against, variant) = &pairs[index];
            let compared = match against {
                None => self.compared(variant, prices),
                Some(other) => self.beside(other).and_then(|base| base.compared(variant, prices)),
            };
            compared.within(variant.name())
        };
        in_parallel(pairs.len(), self.asked.threads(), work, |_| false)
    }

    fn compared(&self, variant: &Variant, prices: &[(String, f64)]) -> Result<Compared, Error> {
        let (forecast, _) = Forecast::compute(variant.setup(), variant.plan(), &self.alone(), Some(&self.paces))?;
        let outcome = Outcome::of(variant, &forecast, self.asked)?;
        let (base, of_base) = (&self.forecast, &self.outcome);
        let holds = self.asked.levels().iter().map(|level| {
            let spots = [level.spot(&forecast), level.spot(base)];
            forecast.holds_apart(base, spots, level.temperature(), level.is_above()).map(HoldDifference::of)
        });
        let first = self.asked.levels()[0];
        let spots = [first.spot(&forecast), first.spot(base)];
        let warmer = |times: [Time; 2]| Change::of(forecast.warmer(base, spots, times.map(Si::si)));
        let price = prices.iter().find(|(name, _)| name == variant.name()).map(|(_, amount)| *amount);
        Ok(Compared {
            holds: holds.collect(),
            serving: forecast.serve_time().zip(base.serve_time()).map(|(mine, theirs)| warmer([mine, theirs])),
            end: warmer([forecast.horizon(), base.horizon()]),
            heat_lost: Change::of(forecast.loses_more(base)),
            weight: outcome.weight - of_base.weight,
            bulk: outcome.bulk - of_base.bulk,
            cost: price.or_else(|| self.asked.prices().dearer(variant, &of_base.variant)),
            outcome,
        })
    }
}

impl Outcome {
    fn of(variant: &Variant, forecast: &Forecast, asked: &Asked) -> Result<Self, Error> {
        let holds = asked.levels().iter().map(|level| Ok((*level, level.held(forecast)?)));
        let holds: Result<Vec<_>, Error> = holds.collect();
        let first = asked.levels()[0];
        let [cautious, best, generous] = forecast.lost_to_room();
        let setup = variant.setup();
        Ok(Outcome {
            holds: holds?,
            serving: forecast.serve_time().map(|time| first.row(forecast, time)).transpose()?,
            end: first.row(forecast, forecast.horizon())?,
            heat_lost: Range::of_members(cautious, best, generous),
            weight: setup.shell_mass() + setup.pot().mass()?.best(),
            bulk: setup.outer_volume(),
            cost: asked.prices().cost(setup),
            variant: variant.clone(),
        })
    }
}

/// How large an effect is, each with its error: on the hold time, s; then, where that does not tell, on the temperature at the
/// horizon, K.
#[derive(Clone, Copy)]
struct Size {
    hold: (f64, f64),
    temperature: (f64, f64),
}

impl Size {
    fn of(compared: &Compared, end: End) -> Self {
        let of = |difference: Difference<TemperatureInterval>| (difference.value.si().abs(), difference.error.si());
        let temperature = of(compared.end.at(end));
        match compared.holds[0][end as usize] {
            HoldDifference::By(difference) => {
                Size { hold: (difference.value.si().abs(), difference.error.si()), temperature: (0.0, 0.0) }
            }
            HoldDifference::AtLeast(time) | HoldDifference::AtMost(time) => {
                Size { hold: (time.si().abs(), 0.0), temperature }
            }
            HoldDifference::PastHorizon => Size { hold: (0.0, 0.0), temperature },
        }
    }

    fn is_none(self) -> bool {
        self.hold.0 <= self.hold.1 && self.temperature.0 <= self.temperature.1
    }

    /// Whether the computation cannot tell it from another.
    fn ties(self, other: Size) -> bool {
        let near = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).abs() <= a.1 + b.1;
        near(self.hold, other.hold) && near(self.temperature, other.temperature)
    }
}

impl Comparison {
    /// The variants by the size of their effect on how long the first temperature is held, longer or shorter, largest first.
    /// Where base or variant hold past the horizon, by what is known of it, then by the temperature there. Effects that the
    /// computation cannot tell apart share a rank; those smaller than their error come last and have none.
    pub fn ranked(&self, end: End) -> Vec<Ranked<'_>> {
        ranked(self.variants.iter(), end)
    }
}

pub(super) fn ranked<'c>(variants: impl Iterator<Item = &'c Compared>, end: End) -> Vec<Ranked<'c>> {
    let mut sized: Vec<(Size, &Compared)> = variants.map(|compared| (Size::of(compared, end), compared)).collect();
    sized.sort_by(|(a, _), (b, _)| {
        let none = a.is_none().cmp(&b.is_none());
        none.then(b.hold.0.total_cmp(&a.hold.0)).then(b.temperature.0.total_cmp(&a.temperature.0))
    });
    let mut list: Vec<Ranked<'_>> = Vec::with_capacity(sized.len());
    // The first of those that share a rank.
    let mut leader: Option<(Size, usize)> = None;
    for (index, (size, compared)) in sized.into_iter().enumerate() {
        let rank = match leader {
            _ if size.is_none() => None,
            Some((first, rank)) if first.ties(size) => Some(rank),
            _ => {
                leader = Some((size, index + 1));
                Some(index + 1)
            }
        };
        list.push(Ranked { rank, compared });
    }
    list
}
