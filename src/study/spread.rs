//! From ranges of what goes in to a distribution of what comes out, and which input it hangs on.

use std::fmt;

use super::Sampling;
use super::sensitivity::{Index, Sensitivity, sensitivities};
use crate::error::{Error, ErrorKind, Within};
use crate::setup::{Forecast, Held, Input, Member, Moment, Options, Plan, ProbeSpot, Range, Setup, UncertainInput};
use crate::units::bounds::in_range;
use crate::units::{Si, Temperature, TemperatureInterval, Time, celsius, kelvin, seconds, write_rounded};

/// What is asked of every member of a sample.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Question {
    /// How long the dish stays above a temperature, see [`Forecast::above`].
    Above(Temperature),
    /// How long it stays below a temperature, see [`Forecast::below`].
    Below(Temperature),
    /// How long every spot of it stays above a temperature, see [`Forecast::coldest_above`].
    ColdestAbove(Temperature),
    /// How warm it is at a time, see [`Forecast::at`].
    At(Time),
    /// How warm its coldest spot is at a time, see [`Forecast::coldest`].
    ColdestAt(Time),
}

impl Question {
    fn spot(self) -> ProbeSpot {
        match self {
            Question::ColdestAbove(_) | Question::ColdestAt(_) => ProbeSpot::Coldest,
            _ => ProbeSpot::Dish,
        }
    }

    fn check(self, options: &Options) -> Result<(), Error> {
        match self {
            Question::Above(t) | Question::Below(t) | Question::ColdestAbove(t) => {
                in_range("temperature", t, kelvin(0.0), celsius(3000.0)).map(|_| ())
            }
            Question::At(time) | Question::ColdestAt(time) => {
                in_range("time", time, seconds(0.0), options.horizon).map(|_| ())
            }
        }
        .within("question")
    }

    /// The answer of a full forecast: cautious, best, generous in SI units, sorted, and the numerical error.
    fn answer(self, forecast: &Forecast) -> Result<([f64; 3], f64), Error> {
        let of_row = |range: Range<Temperature>| [range.low().si(), range.best().si(), range.high().si()];
        let held = match self {
            Question::At(time) => {
                let row = forecast.at(time)?;
                return Ok((of_row(row.temperature), row.numerical.si()));
            }
            Question::ColdestAt(time) => {
                let row = forecast.coldest(time)?;
                return Ok((of_row(row.temperature), row.numerical.si()));
            }
            Question::Above(level) => forecast.above(level)?,
            Question::Below(level) => forecast.below(level)?,
            Question::ColdestAbove(level) => forecast.coldest_above(level)?,
        };
        let horizon = forecast.horizon().si();
        let of = |moment: Moment| moment.time().map_or(horizon, Si::si);
        Ok(match held {
            Held::Until { earliest, best, latest, numerical } => ([of(earliest), of(best), of(latest)], numerical.si()),
            Held::PastHorizon { .. } => ([horizon; 3], 0.0),
            Held::NeverReached => ([0.0; 3], 0.0),
        })
    }
}

/// A quantile of an answer, with the error of the sampling (half the width of an interval of about 95 %) and, apart from it,
/// what the members of the sample may err by as computations: the error of a full forecast of the best values, and what one
/// coarse march of them is off.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Quantile {
    /// Of a hold time; zero where the temperature is not held at shutting.
    Held {
        /// When.
        moment: Moment,
        /// Error of the sampling; of no meaning past the horizon.
        error: Time,
        /// Error of the computation.
        numerical: Time,
    },
    /// Of a temperature.
    Temperature {
        /// How warm.
        temperature: Temperature,
        /// Error of the sampling.
        error: TemperatureInterval,
        /// Error of the computation.
        numerical: TemperatureInterval,
    },
}

impl fmt::Display for Quantile {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Quantile::Held { moment, .. } => moment.fmt(f),
            Quantile::Temperature { temperature, .. } => f.write_str(&write_rounded(*temperature, 3)),
        }
    }
}

/// What one input does to an answer.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Influence {
    /// Which, and its range.
    pub input: UncertainInput,
    /// Share of the variance that goes if it alone becomes known.
    pub first_order: Index,
    /// Share of the variance that stays as long as it alone is unknown: what is small here need not be known better.
    pub total: Index,
}

/// How one input and an answer go together, by ranks.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Correlation {
    /// Which, and its range.
    pub input: UncertainInput,
    /// Spearman's rank correlation, -1 to 1: above zero where the answer is higher towards the generous end of the range.
    pub rank: Index,
    /// The same with what the other inputs explain taken out; nothing where there are too few points for so many inputs.
    pub partial: Option<Index>,
}

/// How an answer is spread over everything uncertain.
#[derive(Debug, Clone)]
pub struct Spread {
    question: Question,
    inputs: Vec<UncertainInput>,
    sensitivity: Sensitivity,
    span: [f64; 3],
    numerical: f64,
    horizon: f64,
}

/// How the answers to questions are spread over all uncertain inputs of a setup ([`Setup::uncertain`]), taken as
/// independent of one another, each distributed between the ends of its range as the sampling says.
///
/// One member of the sample costs one march on a coarse mesh. What that gets wrong is told by a full forecast, which is made
/// once, and stands with every [`Quantile`].
///
/// ```
/// use stillhot::prelude::*;
/// use stillhot::Options;
/// use stillhot::study::{Question, Sampling, spread};
///
/// # fn main() -> Result<(), stillhot::Error> {
/// let pot = Pot::typical(litres(7.0)).with(Dish::named("broth-thin-soup")?, kilograms(6.0));
/// let setup = Setup::new(pot, Enclosure::lined("expanded-cork-board", millimetres(50.0))?)?;
/// let plan = Plan::in_room(celsius(16.0));
/// let mut sampling = Sampling::default();
/// sampling.points = 4;
/// let above = Question::Above(celsius(63.0));
/// let answers = spread(&setup, &plan, &[above], &Options::horizon(hours(24.0)), &sampling)?;
/// let hold = &answers[0];
/// println!("nine of ten such boxes hold it for {}", hold.quantile(0.1)?);
/// for influence in hold.influences().iter().take(3) {
///     println!("{:.0} % {}", 100.0 * influence.total.value, influence.input.name);
/// }
/// # Ok(())
/// # }
/// ```
///
/// # Errors
/// As [`Setup::forecast_with`] and [`sensitivity`](super::sensitivity); [`ErrorKind::Inconsistent`] for a setup in which
/// nothing is uncertain, or no question.
pub fn spread(
    setup: &Setup,
    plan: &Plan,
    questions: &[Question],
    options: &Options,
    sampling: &Sampling,
) -> Result<Vec<Spread>, Error> {
    if questions.is_empty() {
        return Err(Error::new(ErrorKind::Inconsistent, "no question was asked").within("questions"));
    }
    for question in questions {
        question.check(options)?;
    }
    let inputs = setup.uncertain(plan)?;
    if inputs.is_empty() {
        return Err(Error::new(ErrorKind::Inconsistent, "nothing is uncertain about this setup").within("inputs"));
    }
    sampling.check(inputs.len())?;
    let answers = |setup: &Setup| -> Result<Vec<f64>, Error> {
        let march = setup.march_once(plan, options, Member::Best, ProbeSpot::Dish)?;
        let horizon = options.horizon.si();
        let held = |question: Question, level: Temperature, above: bool| {
            march.crossing(question.spot(), level.si(), above).map_or(horizon, |t| t.min(horizon))
        };
        Ok(questions
            .iter()
            .map(|question| match *question {
                Question::Above(level) | Question::ColdestAbove(level) => held(*question, level, true),
                Question::Below(level) => held(*question, level, false),
                Question::At(time) | Question::ColdestAt(time) => march.temperature(question.spot(), time.si()),
            })
            .collect())
    };
    let forecast = setup.forecast_with(plan, options)?;
    let single = answers(setup)?;
    let coordinates: Vec<(Input, [f64; 3])> = inputs.iter().map(|known| (known.input, known.coordinates())).collect();
    let all = sensitivities(inputs.len(), questions.len(), sampling, |u| {
        let place =
            |(u, (input, ends)): (&f64, &(Input, [f64; 3]))| (*input, sampling.distribution.position(*u, *ends));
        let pins = setup.pins().iter().copied().chain(u.iter().zip(&coordinates).map(place)).collect();
        answers(&setup.with_pins(pins)).within("member of the sample")
    })?;
    questions
        .iter()
        .zip(all)
        .zip(single)
        .map(|((question, sensitivity), single)| {
            let (span, numerical) = question.answer(&forecast)?;
            let numerical = numerical + (single - span[1]).abs();
            let (inputs, horizon) = (inputs.clone(), options.horizon.si());
            Ok(Spread { question: *question, inputs, sensitivity, span, numerical, horizon })
        })
        .collect()
}

impl Spread {
    /// What was asked.
    pub fn question(&self) -> Question {
        self.question
    }

    /// The value below which a share of all members lies, 0 to 1.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for another share.
    pub fn quantile(&self, share: f64) -> Result<Quantile, Error> {
        let index = self.sensitivity.quantile(share)?;
        Ok(self.speak(index.value, index.error))
    }

    /// Cautious end, best value and generous end of a full forecast, without an error of sampling: everything at one end
    /// together.
    pub fn span(&self) -> [Quantile; 3] {
        self.span.map(|value| self.speak(value, 0.0))
    }

    /// Share of the members that hold beyond the horizon. They count as holding up to it: quantiles below are exact,
    /// influences are then those on the shorter time.
    pub fn past_horizon(&self) -> f64 {
        match self.question {
            Question::At(_) | Question::ColdestAt(_) => 0.0,
            _ => {
                let sample = self.sensitivity.sample();
                sample.iter().filter(|t| **t >= self.horizon).count() as f64 / sample.len() as f64
            }
        }
    }

    /// The plain numbers: hold times in s, temperatures in K.
    pub fn sensitivity(&self) -> &Sensitivity {
        &self.sensitivity
    }

    /// What each input does, the one that matters most first. Empty if the sampling left indices out.
    pub fn influences(&self) -> Vec<Influence> {
        let indices = self.sensitivity.first_order().into_iter().zip(self.sensitivity.total());
        let of = |(input, (first_order, total)): (&UncertainInput, (Index, Index))| Influence {
            input: input.clone(),
            first_order,
            total,
        };
        let mut list: Vec<Influence> = self.inputs.iter().zip(indices).map(of).collect();
        list.sort_by(|a, b| b.total.value.total_cmp(&a.total.value));
        list
    }

    /// How each input and the answer go together, the one that matters most first. It takes the points that are drawn anyhow:
    /// for samples too small for [`influences`](Self::influences), and with [`Sampling::indices`] left out. It sees what moves
    /// the answer one way; an input that turns round may matter and come out as nothing.
    pub fn correlations(&self) -> Vec<Correlation> {
        let mut partial = self.sensitivity.partial_rank_correlation().into_iter();
        let ranks = self.sensitivity.rank_correlation();
        let of = |(input, rank): (&UncertainInput, Index)| Correlation {
            input: input.clone(),
            rank,
            partial: partial.next(),
        };
        let mut list: Vec<Correlation> = self.inputs.iter().zip(ranks).map(of).collect();
        let size = |c: &Correlation| c.partial.as_ref().unwrap_or(&c.rank).value.abs();
        list.sort_by(|a, b| size(b).total_cmp(&size(a)));
        list
    }

    fn speak(&self, value: f64, error: f64) -> Quantile {
        match self.question {
            Question::At(_) | Question::ColdestAt(_) => Quantile::Temperature {
                temperature: Temperature::from_si(value),
                error: TemperatureInterval::from_si(error),
                numerical: TemperatureInterval::from_si(self.numerical),
            },
            _ => {
                let past = value >= self.horizon;
                let time = Time::from_si(value.min(self.horizon));
                let moment = if past { Moment::PastHorizon(time) } else { Moment::At(time) };
                Quantile::Held { moment, error: Time::from_si(error), numerical: Time::from_si(self.numerical) }
            }
        }
    }
}
