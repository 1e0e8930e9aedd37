//! What is uncertain about a setup, by name, with its range.

use std::fmt;

use super::member::Choice;
use super::{EdgeRow, Face, Plan, Range, Setup, Shell};
use crate::error::{Error, ErrorKind};
use crate::units::{
    HeatTransfer, Length, Mass, Ratio, Si, SpecificHeatCapacity, Spoken, ThermalConductance, ThermalConductivity,
    ThermalInsulance,
};
use crate::wall::Layer;

/// Where a layer is found: on which face, and how many layers further inside, the innermost 0. A sleeve has its layers on
/// [`Face::Side`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct LayerPlace {
    /// On which face.
    pub face: Face,
    /// Counted from 0 at the inside.
    pub layer: usize,
}

/// Something that is uncertain about a setup. What counts as one input varies together: layers of one and the same
/// material, all gaps, all films outside.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Input {
    /// Conductivity of a material of the shell, by the first place where it is found: faces in the order of
    /// [`Face::OF_BOX`], layers from the inside. A damp one has the factor for damp in it.
    LayerConductivity(LayerPlace),
    /// Heat capacity of a material of the shell, by the first place where it is found.
    LayerHeatCapacity(LayerPlace),
    /// Conductivity of what fills the inner corners along a row of edges, if it is none of the layers; the first of the
    /// rows with this material.
    FillerConductivity(EdgeRow),
    /// Heat capacity of what fills the inner corners along a row of edges, likewise.
    FillerHeatCapacity(EdgeRow),
    /// Mass of pot and lid.
    PotMass,
    /// Heat capacity of the metal of the pot.
    PotHeatCapacity,
    /// Emissivity of the outside of the pot.
    PotEmissivity,
    /// Heat capacity of the dish.
    DishHeatCapacity,
    /// What hinders the heat inside a dish that stands still, as a factor on the likely resistance: 0 where it stirs itself
    /// after all. More of it keeps its mean warmer and its edge colder; the cautious end is that of the mean.
    DishHindrance,
    /// Conductivity of a kind of piece in the dish, counted from 0.
    PieceConductivity(usize),
    /// Heat capacity of a kind of piece in the dish, counted from 0.
    PieceHeatCapacity(usize),
    /// Factor on the published relations for the air between pot and liner; at its ends the furthest of them, in airspaces
    /// too.
    GapFactor,
    /// Contact between the base of the pot and what it stands on.
    BaseContact,
    /// Width of the joint of the lid.
    LidGap,
    /// Heat that leaks past the lid, where it was given in place of the joint.
    LidLeak,
    /// Width of the seams low down.
    LowSeams,
    /// Width of the upright seams at the corners.
    UprightSeams,
    /// Factor on the convection in the joint round a plug.
    PlugConvection,
    /// How much of the wind reaches the box.
    Shelter,
    /// Width of the gap between pot and pot lid.
    PotLidGap,
    /// Factor on the published mass transfer from the surface of the dish.
    SurfaceFactor,
    /// Heat past the walls with air that circles round the boards, as a share of what goes through them.
    AirLoops,
    /// Factor on the published films outside, and on those of second bodies; at its ends the furthest of the relations.
    FilmFactor,
    /// Film between the base of the box and what it stands on.
    RestingFilm,
    /// Film of the bare lidded pot, while it is carried or the box is open.
    BarePotFilm,
    /// Factor on the published exchange through the top of the opened box.
    OpenTopFactor,
    /// Emissivity of second bodies in the box.
    CompanionEmissivity,
    /// Conductivity of the handle.
    HandleConductivity,
    /// Film of the handle outside.
    HandleFilm,
    /// Conductivity of the knob on the pot's lid.
    KnobConductivity,
    /// Film of that knob.
    KnobFilm,
    /// Constant film inside, where one was given.
    InsideFilm,
    /// Constant film outside, where one was given.
    OutsideFilm,
}

/// What a higher value of an input does to the pot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Effect {
    /// More of it cools the pot: conductivity, leak, film, heat capacity of walls that start cold.
    Cools,
    /// More of it keeps the pot warm: heat capacity of pot and dish.
    Holds,
}

impl Input {
    /// Which end of its range is the cautious one. Pieces come late to be done if they conduct badly and store much.
    pub(crate) fn effect(self) -> Effect {
        match self {
            Input::PotMass
            | Input::PotHeatCapacity
            | Input::DishHeatCapacity
            | Input::DishHindrance
            | Input::PieceConductivity(_)
            | Input::BaseContact => Effect::Holds,
            _ => Effect::Cools,
        }
    }

    /// Whether it lies between the pot and what the box rests on, and nowhere else.
    pub(crate) fn is_of_ground(self) -> bool {
        matches!(self, Input::RestingFilm | Input::BaseContact)
    }

    /// Whether it makes any difference under a plan.
    fn matters(self, plan: &Plan) -> bool {
        let opens = plan.opens();
        match self {
            Input::Shelter => plan.wind().si() > 0.0,
            Input::BarePotFilm => opens || plan.carry_time().si() > 0.0,
            Input::OpenTopFactor => opens,
            _ => true,
        }
    }
}

/// Between which values an input lies, with its best one.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum InputRange {
    /// A conductivity, at the reference temperature of the material; the whole law goes with it.
    Conductivity(Range<ThermalConductivity>),
    /// A heat capacity, at the reference temperature of the material; the whole law goes with it.
    HeatCapacity(Range<SpecificHeatCapacity>),
    /// A mass.
    Mass(Range<Mass>),
    /// A width.
    Width(Range<Length>),
    /// A film coefficient.
    Film(Range<HeatTransfer>),
    /// A contact resistance.
    Contact(Range<ThermalInsulance>),
    /// A leak.
    Leak(Range<ThermalConductance>),
    /// A factor or a share.
    Factor(Range<Ratio>),
}

impl InputRange {
    /// Low, best and high in SI units.
    pub fn si(&self) -> [f64; 3] {
        fn of<Q: Spoken>(range: &Range<Q>) -> [f64; 3] {
            [range.low().si(), range.best().si(), range.high().si()]
        }
        match self {
            InputRange::Conductivity(range) => of(range),
            InputRange::HeatCapacity(range) => of(range),
            InputRange::Mass(range) => of(range),
            InputRange::Width(range) => of(range),
            InputRange::Film(range) => of(range),
            InputRange::Contact(range) => of(range),
            InputRange::Leak(range) => of(range),
            InputRange::Factor(range) => of(range),
        }
    }
}

impl fmt::Display for InputRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            InputRange::Conductivity(range) => range.fmt(f),
            InputRange::HeatCapacity(range) => range.fmt(f),
            InputRange::Mass(range) => range.fmt(f),
            InputRange::Width(range) => range.fmt(f),
            InputRange::Film(range) => range.fmt(f),
            InputRange::Contact(range) => range.fmt(f),
            InputRange::Leak(range) => range.fmt(f),
            InputRange::Factor(range) => range.fmt(f),
        }
    }
}

macro_rules! ranges {
    ($($kind:ident $quantity:ident),*) => {
        $(impl From<Range<$quantity>> for InputRange {
            fn from(range: Range<$quantity>) -> Self {
                InputRange::$kind(range)
            }
        })*
    };
}
ranges!(
    Conductivity ThermalConductivity, HeatCapacity SpecificHeatCapacity, Mass Mass, Width Length, Film HeatTransfer,
    Contact ThermalInsulance, Leak ThermalConductance, Factor Ratio
);

/// In what a position between the ends of a range is linear.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum InputScale {
    /// In the value.
    Linear,
    /// In the logarithm of the value: where the high end is four times the low one or more, and that is above zero. What
    /// passes a joint goes with the cube of its width, so that half-way in millimetres is nearly the wide end.
    Logarithmic,
}

/// The high end over the low one from which a range is taken by its logarithm.
const WIDE: f64 = 4.0;

impl InputScale {
    fn of(low: f64, high: f64) -> Self {
        if low > 0.0 && high >= WIDE * low { InputScale::Logarithmic } else { InputScale::Linear }
    }

    fn coordinate(self, value: f64) -> f64 {
        match self {
            InputScale::Linear => value,
            InputScale::Logarithmic => value.ln(),
        }
    }
}

/// The value at a position of a range, SI: 0 the cautious end, 0.5 the best value, 1 the generous end, each exactly.
pub(crate) fn between<Q: Spoken>(range: &Range<Q>, effect: Effect, position: f64) -> f64 {
    let (low, best, high) = (range.low().si(), range.best().si(), range.high().si());
    let (cautious, generous) = if effect == Effect::Cools { (high, low) } else { (low, high) };
    let (end, other, share) =
        if position <= 0.5 { (best, cautious, 1.0 - 2.0 * position) } else { (best, generous, 2.0 * position - 1.0) };
    if share == 0.0 {
        return end;
    }
    if share == 1.0 {
        return other;
    }
    let value = match InputScale::of(low, high) {
        InputScale::Linear => end + share * (other - end),
        InputScale::Logarithmic => end * (other / end).powf(share),
    };
    value.clamp(low, high)
}

/// An uncertain input of a setup.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct UncertainInput {
    /// Which.
    pub input: Input,
    /// What it is called: "conductivity of expanded cork board".
    pub name: String,
    /// Between what it lies.
    pub range: InputRange,
    /// How positions between the ends are meant.
    pub scale: InputScale,
}

impl UncertainInput {
    /// One that is not yet named by its material.
    pub(crate) fn new(input: Input, range: InputRange) -> Self {
        let [low, _, high] = range.si();
        UncertainInput { input, name: input.to_string(), range, scale: InputScale::of(low, high) }
    }

    /// Coordinate of the cautious end, the best value and the generous end, linear in what the scale says.
    pub(crate) fn coordinates(&self) -> [f64; 3] {
        let [low, best, high] = self.range.si().map(|value| self.scale.coordinate(value));
        if self.input.effect() == Effect::Cools { [high, best, low] } else { [low, best, high] }
    }
}

impl Setup {
    /// Everything that is uncertain about this setup under a plan and makes a difference there, each with its range. What
    /// is pinned already is left out, and so is what is exactly known.
    ///
    /// ```
    /// use stillhot::prelude::*;
    /// use stillhot::Input;
    ///
    /// # fn main() -> Result<(), stillhot::Error> {
    /// let pot = Pot::typical(litres(7.0)).with(Dish::named("broth-thin-soup")?, kilograms(6.0));
    /// let setup = Setup::new(pot, Enclosure::lined("expanded-cork-board", millimetres(50.0))?)?;
    /// let plan = Plan::in_room(celsius(16.0));
    /// let inputs = setup.uncertain(&plan)?;
    /// let joint = inputs.iter().find(|known| known.input == Input::LidGap).unwrap();
    /// assert_eq!(joint.to_string(), "joint of the lid: 0.3 mm to 2 mm (best 1 mm)");
    ///
    /// // The same with a joint as narrow as such joints are: what is left uncertain is the rest.
    /// let narrow = setup.pinned(&[(Input::LidGap, 1.0)])?;
    /// assert_eq!(narrow.uncertain(&plan)?.len() + 1, inputs.len());
    /// # Ok(())
    /// # }
    /// ```
    ///
    /// # Errors
    /// A plan outside its ranges.
    pub fn uncertain(&self, plan: &Plan) -> Result<Vec<UncertainInput>, Error> {
        let mut list = self.inputs(plan)?;
        list.retain(|known| known.input.matters(plan) && self.pins().iter().all(|(pin, _)| *pin != known.input));
        Ok(list)
    }

    /// Every uncertain input that some part of the setup asks for as it attaches itself, named.
    pub(super) fn inputs(&self, plan: &Plan) -> Result<Vec<UncertainInput>, Error> {
        plan.check()?;
        let choice = Choice::noting(self);
        self.assemble_by(plan, &choice, (3, 1), None)?;
        let mut list = choice.noted();
        for known in &mut list {
            if let Input::LayerConductivity(place) | Input::LayerHeatCapacity(place) = known.input {
                let is_conductivity = matches!(known.input, Input::LayerConductivity(_));
                let what = if is_conductivity { "conductivity" } else { "heat capacity" };
                known.name = format!("{what} of {}", self.layer(place)?.material().name());
            }
        }
        list.sort_by_key(|known| known.input);
        Ok(list)
    }

    /// The layer at a place.
    pub(crate) fn layer(&self, place: LayerPlace) -> Result<&Layer, Error> {
        self.layers_by_place().find(|(at, _)| *at == place).map(|(_, layer)| layer).ok_or_else(|| {
            let known: Vec<String> = self.layers_by_place().map(|(at, _)| at.to_string()).collect();
            Error::new(ErrorKind::Inconsistent, "there is no such layer")
                .with_value(place.to_string())
                .with_accepted(known.join(", "))
        })
    }

    /// Every layer of the shell with its place: faces in order, layers from the inside.
    pub(crate) fn layers_by_place(&self) -> impl Iterator<Item = (LayerPlace, &Layer)> {
        let of_face = |face: Face| -> &[Layer] {
            match self.shell() {
                Shell::Box(enclosure) => enclosure.wall(face).map_or(&[], |wall| wall.layers()),
                Shell::Sleeve(sleeve) if face == Face::Side => sleeve.layers(),
                Shell::Sleeve(_) => &[],
            }
        };
        Face::OF_BOX.into_iter().chain([Face::Side]).flat_map(move |face| {
            of_face(face).iter().enumerate().map(move |(layer, it)| (LayerPlace { face, layer }, it))
        })
    }
}

impl fmt::Display for UncertainInput {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.name, self.range)
    }
}

impl fmt::Display for LayerPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "layer {} of the {}", self.layer + 1, self.face)
    }
}

impl fmt::Display for Input {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Input::LayerConductivity(place) => return write!(f, "conductivity of {place}"),
            Input::FillerConductivity(row) => return write!(f, "conductivity of the filler of the {row}"),
            Input::FillerHeatCapacity(row) => return write!(f, "heat capacity of the filler of the {row}"),
            Input::LayerHeatCapacity(place) => return write!(f, "heat capacity of {place}"),
            Input::PieceConductivity(kind) => return write!(f, "conductivity of pieces {}", kind + 1),
            Input::PieceHeatCapacity(kind) => return write!(f, "heat capacity of pieces {}", kind + 1),
            Input::PotMass => "mass of pot and lid",
            Input::PotHeatCapacity => "heat capacity of the metal",
            Input::PotEmissivity => "emissivity of the pot",
            Input::DishHeatCapacity => "heat capacity of the dish",
            Input::DishHindrance => "resistance inside the dish",
            Input::GapFactor => "air between pot and liner",
            Input::BaseContact => "contact under the pot",
            Input::LidGap => "joint of the lid",
            Input::LidLeak => "heat leaking past the lid",
            Input::LowSeams => "seams low down",
            Input::UprightSeams => "upright seams",
            Input::PlugConvection => "convection round the plug",
            Input::Shelter => "wind that reaches the box",
            Input::PotLidGap => "gap between pot and pot lid",
            Input::SurfaceFactor => "evaporation from the dish",
            Input::AirLoops => "air loops round the boards",
            Input::FilmFactor => "films outside",
            Input::RestingFilm => "film under the box",
            Input::BarePotFilm => "film of the bare pot",
            Input::OpenTopFactor => "air of the opened box",
            Input::CompanionEmissivity => "emissivity of second bodies",
            Input::HandleConductivity => "conductivity of the handle",
            Input::HandleFilm => "film of the handle",
            Input::KnobConductivity => "conductivity of the knob",
            Input::KnobFilm => "film of the knob",
            Input::InsideFilm => "film inside",
            Input::OutsideFilm => "film outside",
        })
    }
}
