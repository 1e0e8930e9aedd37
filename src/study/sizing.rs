//! How much of something is enough: the thinnest wall, the smallest dish, the widest joint that meets a target.

use std::cell::RefCell;
use std::fmt;

use super::vary::{Size, Vary};
use crate::error::{Error, Within};
use crate::numeric::roots::bracketed_root;
use crate::setup::{Member, Options, Plan, ProbeSpot, Setup};
use crate::units::bounds::in_range;
use crate::units::{Si, Temperature, TemperatureInterval, Time, celsius, kelvin, seconds, write_rounded};

/// What is to be met: a temperature held for a time, counted from shutting, at the cautious end of everything uncertain
/// less the numerical error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    temperature: Temperature,
    time: Time,
    spot: ProbeSpot,
}

impl Target {
    /// The dish stays above a temperature for a time.
    pub fn above(temperature: Temperature, time: Time) -> Self {
        Target { temperature, time, spot: ProbeSpot::Dish }
    }

    /// Every spot of the dish stays above a temperature for a time.
    pub fn coldest_above(temperature: Temperature, time: Time) -> Self {
        Target { temperature, time, spot: ProbeSpot::Coldest }
    }

    fn check(&self, options: &Options) -> Result<(), Error> {
        let check = || -> Result<(), Error> {
            in_range("temperature", self.temperature, kelvin(0.0), celsius(3000.0))?;
            in_range("time", self.time, seconds(0.0), options.horizon).map(|_| ())
        };
        check().within("target")
    }
}

/// What a search found.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Sizing {
    /// A size that meets the target, by a full forecast.
    Enough {
        /// The size.
        size: Size,
        /// A size so little less (of a joint: more) that does not meet it, by a full forecast as well; nothing where the
        /// bound itself meets it.
        too_little: Option<Size>,
        /// What is left at the cautious end less the numerical error, over the whole time.
        to_spare: TemperatureInterval,
        /// The numerical error in that.
        numerical: TemperatureInterval,
        /// A size beyond it that does *not* meet the target, where one was met with: more is not always better here.
        more_fails: Option<Size>,
    },
    /// No size between the bounds meets it.
    CannotBeMet {
        /// The size that comes nearest.
        nearest: Size,
        /// By how much it misses, at the cautious end less the numerical error.
        short_by: TemperatureInterval,
        /// The numerical error in that.
        numerical: TemperatureInterval,
        /// Whether more is always better as far as was looked at: then the bound is what stands in the way.
        rising: bool,
    },
}

impl fmt::Display for Sizing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Sizing::Enough { size, to_spare, more_fails, .. } => {
                write!(f, "{size} ({} to spare)", write_rounded(*to_spare, 2))?;
                more_fails.map_or(Ok(()), |more| write!(f, "; {more} does not do"))
            }
            Sizing::CannotBeMet { nearest, short_by, .. } => {
                write!(f, "cannot be met: {nearest} is {} short", write_rounded(*short_by, 2))
            }
        }
    }
}

/// Sizes looked at first, evenly by their logarithm from one bound to the other.
const SCANNED: usize = 13;
/// Two sizes that differ by this share are one.
const RESOLUTION: f64 = 1e-3;
/// Full forecasts that settle one crossing, at most.
const SETTLING: usize = 16;
/// Sizes tried to find how near one comes between those looked at first, at most.
const NARROWING: usize = 20;

/// The smallest size that meets a target; of a joint the widest.
///
/// Thirteen sizes are looked at first; between the last that fails and the first that meets the target the crossing is found
/// on the cautious march alone, to a thousandth, and settled by full forecasts on both sides. So what is told holds whether
/// or not more is always better; where it is not, that is told, too, as far as those sizes show it. As a rule some twenty
/// marches and five forecasts; the number of both is bounded, and none takes more steps than `options` allow.
///
/// ```
/// use stillhot::prelude::*;
/// use stillhot::{LayerPlace, Options};
/// use stillhot::study::{Sizing, Target, Vary, size};
///
/// # fn main() -> Result<(), stillhot::Error> {
/// let pot = Pot::typical(litres(7.0)).with(Dish::named("broth-thin-soup")?, kilograms(6.0));
/// let bin = Enclosure::lined("expanded-cork-board", millimetres(50.0))?.lid(Lid::gasketed());
/// let setup = Setup::new(pot, bin)?;
/// let walls = Vary::Layer {
///     place: LayerPlace { face: Face::Lid, layer: 0 },
///     from: millimetres(10.0),
///     to: millimetres(300.0),
/// };
/// let plan = Plan::in_room(celsius(16.0));
/// let target = Target::above(celsius(60.0), hours(5.0));
/// match size(&setup, &plan, &target, &walls, &Options::horizon(hours(6.0)))? {
///     Sizing::Enough { size, .. } => println!("{size} of cork all round"),
///     none => println!("{none}"),
/// }
/// # Ok(())
/// # }
/// ```
///
/// # Errors
/// A target outside its ranges or past the horizon; bounds outside their ranges, in the wrong order or alike; a layer that is
/// not there; a size within the bounds that does not fit (a dish that the pot does not hold); as [`Setup::forecast_with`].
pub fn size(setup: &Setup, plan: &Plan, target: &Target, vary: &Vary, options: &Options) -> Result<Sizing, Error> {
    target.check(options)?;
    let search = Search { setup, plan, target, vary, options, bounds: vary.bounds()? };
    let scan = (0..SCANNED).map(|i| search.rough(scanned(i))).collect::<Result<Vec<f64>, Error>>()?;
    let (_, error) = search.full(1.0)?;
    for i in 0..SCANNED {
        if scan[i] < error {
            continue;
        }
        let guess =
            if i > 0 && scan[i - 1] < error { search.crossing(scanned(i - 1), scanned(i), error)? } else { scanned(i) };
        let more_fails = (i + 1..SCANNED).find(|more| scan[*more] < error).map(|more| search.size_at(scanned(more)));
        if let Some(found) = search.settled(guess, scanned(i.max(1)), more_fails)? {
            return Ok(found);
        }
    }
    search.nearest(&scan, error)
}

fn scanned(index: usize) -> f64 {
    index as f64 / (SCANNED - 1) as f64
}

/// A search along a coordinate from 0, at the bound that serves the target worse, to 1: the logarithm of the size.
struct Search<'a> {
    setup: &'a Setup,
    plan: &'a Plan,
    target: &'a Target,
    vary: &'a Vary,
    options: &'a Options,
    bounds: [f64; 2],
}

impl Search<'_> {
    /// Distance between two sizes that count as one.
    fn resolution(&self) -> f64 {
        RESOLUTION / (self.bounds[1] / self.bounds[0]).ln().abs()
    }

    fn size_at(&self, at: f64) -> Size {
        self.vary.size_at(self.bounds, at)
    }

    fn setup_at(&self, at: f64) -> Result<Setup, Error> {
        self.vary.applied(self.setup, self.size_at(at))
    }

    /// What one cautious march leaves above the target, K.
    fn rough(&self, at: f64) -> Result<f64, Error> {
        let march = self.setup_at(at)?.march_once(self.plan, self.options, Member::Cautious, self.target.spot)?;
        Ok(march.lowest(self.target.spot, self.target.time.si()) - self.target.temperature.si())
    }

    /// What a full forecast leaves above the target at the cautious end less the numerical error, and that error, K.
    fn full(&self, at: f64) -> Result<(f64, f64), Error> {
        let forecast = self.setup_at(at)?.forecast_with(self.plan, self.options)?;
        let (margin, error) = forecast.margin(self.target.spot, self.target.temperature, self.target.time)?;
        Ok((margin.si(), error.si()))
    }

    /// Where one cautious march leaves so much between two coordinates.
    fn crossing(&self, below: f64, above: f64, wanted: f64) -> Result<f64, Error> {
        let failure = RefCell::new(None);
        let of = |at: f64| {
            self.rough(at).unwrap_or_else(|error| {
                failure.borrow_mut().get_or_insert(error);
                f64::NAN
            }) - wanted
        };
        let root = bracketed_root(of, below, above, self.resolution());
        match failure.into_inner() {
            Some(error) => Err(error),
            None => root,
        }
    }

    /// The smallest size near a guess that meets the target by full forecasts, with one just below it that does not;
    /// nothing if none up to a ceiling does.
    fn settled(&self, guess: f64, ceiling: f64, more_fails: Option<Size>) -> Result<Option<Sizing>, Error> {
        let (mut fails, mut meets) = (None, None);
        let (mut at, mut step) = (guess, self.resolution());
        for _ in 0..SETTLING {
            let (margin, error) = self.full(at)?;
            if margin >= 0.0 {
                meets = Some((at, margin, error))
            } else {
                fails = Some(at)
            }
            at = match (fails, meets) {
                (Some(low), Some((high, ..))) if high - low <= 2.0 * self.resolution() => break,
                (Some(low), Some((high, ..))) => f64::midpoint(low, high),
                (_, Some((0.0, ..))) => break,
                (_, Some((high, ..))) => (high - step).max(0.0),
                (Some(low), _) if low < ceiling => (low + step).min(ceiling),
                _ => return Ok(None),
            };
            step *= 2.0;
        }
        Ok(meets.map(|(at, margin, error)| Sizing::Enough {
            size: self.size_at(at),
            too_little: fails.map(|at| self.size_at(at)),
            to_spare: TemperatureInterval::from_si(margin),
            numerical: TemperatureInterval::from_si(error),
            more_fails,
        }))
    }

    /// How near the target one comes, where none of the sizes looked at meets it; what lies between them counts, too.
    fn nearest(&self, scan: &[f64], error: f64) -> Result<Sizing, Error> {
        let best = (0..SCANNED).max_by(|a, b| scan[*a].total_cmp(&scan[*b])).unwrap_or(SCANNED - 1);
        let mut at = scanned(best);
        if best > 0 && best < SCANNED - 1 {
            at = self.narrowed(scanned(best - 1), scanned(best + 1))?;
            if self.rough(at)? >= error {
                let guess = self.crossing(scanned(best - 1), at, error)?;
                if let Some(found) = self.settled(guess, at, Some(self.size_at(scanned(best + 1))))? {
                    return Ok(found);
                }
            }
        }
        let (margin, numerical) = self.full(at)?;
        Ok(Sizing::CannotBeMet {
            nearest: self.size_at(at),
            short_by: TemperatureInterval::from_si(-margin),
            numerical: TemperatureInterval::from_si(numerical),
            // What numerical errors may make of equal sizes does not count.
            rising: scan.windows(2).all(|pair| pair[1] >= pair[0] - 2.0 * error),
        })
    }

    /// The best place between two, by golden sections.
    fn narrowed(&self, mut low: f64, mut high: f64) -> Result<f64, Error> {
        let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
        let (mut a, mut b) = (high - golden * (high - low), low + golden * (high - low));
        let (mut of_a, mut of_b) = (self.rough(a)?, self.rough(b)?);
        for _ in 0..NARROWING {
            if high - low < self.resolution() {
                break;
            }
            if of_a > of_b {
                (high, b, of_b) = (b, a, of_a);
                a = high - golden * (high - low);
                of_a = self.rough(a)?;
            } else {
                (low, a, of_a) = (a, b, of_b);
                b = low + golden * (high - low);
                of_b = self.rough(b)?;
            }
        }
        Ok(if of_a > of_b { a } else { b })
    }
}
