//! What to measure: which uncertain things, once known, narrow the range of the answer most.

use std::fmt;

use super::asked::Asked;
use super::compare::Base;
use super::difference::span;
use crate::error::Error;
use crate::numeric::parallel::in_parallel;
use crate::setup::{Input, Member, Moment, Options};
use crate::units::{Si, TemperatureInterval, Time, write_rounded};

/// Something that one could find out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Known {
    /// The joint of the lid, or what leaks past it.
    LidJoint,
    /// How the boards fit: seams low down, air that circles.
    Boards,
    /// How well the layers conduct.
    Conductivity,
    /// How much heat the layers store.
    WallHeat,
    /// How much heat dish and pieces store, and how it moves in them.
    Dish,
    /// Mass and metal of the pot.
    Pot,
    /// What crosses the room inside: air, shine of the pot, contact under it.
    Inside,
    /// How the outside meets the room: films, shelter from the wind.
    Outside,
    /// What leaves the dish as vapour.
    WaterLoss,
    /// What the pot loses before shutting and while it is open.
    Handling,
    /// Handle and knob, and second bodies.
    Additions,
}

impl Known {
    fn of(input: Input) -> Self {
        match input {
            Input::LidGap | Input::LidLeak | Input::PlugConvection => Known::LidJoint,
            Input::LowSeams | Input::UprightSeams | Input::AirLoops => Known::Boards,
            Input::LayerConductivity(_) | Input::FillerConductivity(_) => Known::Conductivity,
            Input::LayerHeatCapacity(_) | Input::FillerHeatCapacity(_) => Known::WallHeat,
            Input::DishHeatCapacity
            | Input::DishHindrance
            | Input::PieceConductivity(_)
            | Input::PieceHeatCapacity(_) => Known::Dish,
            Input::PotMass | Input::PotHeatCapacity => Known::Pot,
            Input::GapFactor | Input::BaseContact | Input::PotEmissivity | Input::InsideFilm => Known::Inside,
            Input::FilmFactor | Input::RestingFilm | Input::OutsideFilm | Input::Shelter => Known::Outside,
            Input::PotLidGap | Input::SurfaceFactor => Known::WaterLoss,
            Input::BarePotFilm | Input::OpenTopFactor => Known::Handling,
            Input::CompanionEmissivity
            | Input::HandleConductivity
            | Input::HandleFilm
            | Input::KnobConductivity
            | Input::KnobFilm => Known::Additions,
        }
    }

    /// How one would find it out.
    pub fn how(self) -> &'static str {
        match self {
            Known::LidJoint => "feeler gauges or strips of paper round the lid, shut as in use",
            Known::Boards => "feeler gauges along the seams; a test with the seams taped over",
            Known::Conductivity => "the data sheet of the very material, at the mean of dish and room temperature",
            Known::WallHeat => "density by weighing a piece of known size",
            Known::Dish => "the recipe: how much of it is water, and whether it turns over by itself",
            Known::Pot => "pot and lid on the kitchen scale",
            Known::Inside => "a test with a log of the temperature",
            Known::Outside => "a test with a log of the temperature, in the place where the box stands",
            Known::WaterLoss => "the full pot on the scale before and after",
            Known::Handling => "a thermometer in the dish before it is carried and at shutting",
            Known::Additions => "a test with them and one without",
        }
    }
}

impl fmt::Display for Known {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Known::LidJoint => "the joint of the lid",
            Known::Boards => "the fit of the boards",
            Known::Conductivity => "the conductivities of the layers",
            Known::WallHeat => "the heat capacities of the layers",
            Known::Dish => "the heat capacity of the dish",
            Known::Pot => "the mass of the pot",
            Known::Inside => "what crosses the room round the pot",
            Known::Outside => "the films outside",
            Known::WaterLoss => "the gap of the pot lid",
            Known::Handling => "what is lost before shutting",
            Known::Additions => "what was added",
        })
    }
}

/// By how much the range of the answer narrows if something were known to be at its best value.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Narrowing {
    /// What would be known.
    pub known: Known,
    /// The uncertain inputs that go with it.
    pub inputs: Vec<Input>,
    /// When the first temperature is crossed then, cautious and generous end.
    pub ends: [Moment; 2],
    /// By how much less far apart these are; nothing where one of them, then or now, lies past the horizon.
    pub narrower: Option<Time>,
    /// By how much less far apart the temperatures at the horizon are.
    pub narrower_at_end: TemperatureInterval,
}

impl fmt::Display for Narrowing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [earliest, latest] = &self.ends;
        write!(f, "{}: {} to {latest}", self.known, earliest.written_like(latest))?;
        match self.narrower {
            Some(time) if time.si() >= 0.0 => write!(f, ", narrower by {}", span(time)),
            Some(time) => write!(f, ", wider by {}", span(time)),
            None => write!(f, ", narrower by {} at the end", write_rounded(self.narrower_at_end, 2)),
        }
    }
}

/// Cautious and generous crossing, s, and temperature at the horizon, K.
struct Ends {
    crossings: [Option<f64>; 2],
    temperatures: [f64; 2],
}

impl Ends {
    fn apart(&self) -> Option<f64> {
        Some((self.crossings[1]? - self.crossings[0]?).abs())
    }

    fn apart_at_end(&self) -> f64 {
        (self.temperatures[1] - self.temperatures[0]).abs()
    }
}

/// What each group of uncertain inputs, taken at its best value, leaves of the range, most narrowing first.
pub(super) fn narrowings(base: &Base<'_>, asked: &Asked, options: &Options) -> Result<Vec<Narrowing>, Error> {
    let Some(level) = asked.levels().first().copied() else { return Ok(Vec::new()) };
    let (setup, plan) = (base.outcome.variant.setup(), base.outcome.variant.plan());
    let mut groups: Vec<(Known, Vec<Input>)> = Vec::new();
    for known in setup.uncertain(plan)? {
        let what = Known::of(known.input);
        match groups.iter_mut().find(|(group, _)| *group == what) {
            Some((_, inputs)) => inputs.push(known.input),
            None => groups.push((what, vec![known.input])),
        }
    }
    let spot = base.spot(level);
    let ends = |pins: &[(Input, f64)]| -> Result<Ends, Error> {
        let setup = setup.pinned(pins)?;
        let of = |member| setup.march_once(plan, options, member, spot);
        let marches = [of(Member::Cautious)?, of(Member::Generous)?];
        let (temperature, horizon) = (level.temperature().si(), options.horizon.si());
        Ok(Ends {
            crossings: [0, 1].map(|end| marches[end].crossing(spot, temperature, level.is_above())),
            temperatures: [0, 1].map(|end| marches[end].temperature(spot, horizon)),
        })
    };
    let work = |index: usize| match index.checked_sub(1) {
        None => ends(&[]),
        Some(group) => ends(&groups[group].1.iter().map(|input| (*input, 0.5)).collect::<Vec<_>>()),
    };
    let mut all = in_parallel(groups.len() + 1, asked.threads(), work, Result::is_err).into_iter();
    let Some(now) = all.next().transpose()? else { return Ok(Vec::new()) };
    let mut list = Vec::with_capacity(groups.len());
    for ((known, inputs), then) in groups.iter().zip(all) {
        let then = then?;
        let moment =
            |at: Option<f64>| at.map_or(Moment::PastHorizon(options.horizon), |time| Moment::At(Time::from_si(time)));
        list.push(Narrowing {
            known: *known,
            inputs: inputs.clone(),
            ends: then.crossings.map(moment),
            narrower: now.apart().zip(then.apart()).map(|(now, then)| Time::from_si(now - then)),
            narrower_at_end: TemperatureInterval::from_si(now.apart_at_end() - then.apart_at_end()),
        });
    }
    // A range that reaches past the horizon is told apart by temperatures.
    let by_time = list.iter().all(|narrowing| narrowing.narrower.is_some());
    list.sort_by(|a, b| {
        let size = |n: &Narrowing| match n.narrower.filter(|_| by_time) {
            Some(time) => time.si(),
            None => n.narrower_at_end.si(),
        };
        size(b).total_cmp(&size(a))
    });
    Ok(list)
}
