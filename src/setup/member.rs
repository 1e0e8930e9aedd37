//! Members of the range: what is uncertain, taken together at its cautious, best or generous end, but for what is pinned.

use std::cell::RefCell;

use super::uncertain::{Input, InputRange, LayerPlace, UncertainInput, between};
use super::{EdgeRow, Range, Setup, Shell};
use crate::conduction::LayerLaws;
use crate::material::{Material, Property, PropertyLaw};
use crate::units::{Ratio, Spoken};
use crate::wall::{Among, Layer};

/// Which end of every uncertain input a computation takes.
///
/// The range of an answer is the span of three computations: everything that cools the pot at its worst together,
/// everything at its best value, everything at its most generous. While the pot is hot nearly all of these inputs act
/// one way, so the two ends bound the other combinations; independent errors rarely conspire, so the span is wider
/// than a likely error. One input turns round: a wall that stores more heat cools the pot at first and warms it late,
/// so in the tail of a heavy box a mixture can leave the span by a few tenths of a kelvin. Where what the box rests on is
/// not as warm as the room, the dish may lie between the two, a cold one for hours: then what leads to the one cools and
/// what leads to the other warms. So there both ends are computed a second time, crossed: what leads to the ground, and
/// nothing else, at its opposite end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Member {
    Cautious,
    Best,
    Generous,
}

/// How much hinders the heat inside a dish that stands still. More of it makes the edge colder, which then takes less out
/// of the whole: what is cautious for the one is generous for the other, so each end of both is computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Inner {
    /// Nothing: it stirs itself after all, for how stiff it is when hot is uncertain too.
    Stirred,
    /// Conduction.
    Likely,
    /// Conduction at its least, by one way out.
    Most,
}

impl Inner {
    /// For the mean of the dish.
    pub(crate) fn of_mean(member: Member) -> Self {
        match member {
            Member::Cautious => Inner::Stirred,
            Member::Best => Inner::Likely,
            Member::Generous => Inner::Most,
        }
    }

    /// For its edge.
    pub(crate) fn of_edge(member: Member) -> Self {
        match member {
            Member::Cautious => Inner::Most,
            Member::Best => Inner::Likely,
            Member::Generous => Inner::Stirred,
        }
    }
}

/// What hinders so little that the dish counts as stirred: far below what any march would tell.
const STIRRED: f64 = 1e-6;

/// Which value of each uncertain input a computation takes: that of its member, or where it is pinned. Every part of a
/// setup that attaches itself asks here, and under the name of the input, so that none is left out.
#[derive(Debug)]
pub(crate) struct Choice<'a> {
    member: Member,
    inner: Inner,
    /// Whether what leads to the ground is at the opposite end.
    crossed: bool,
    pins: &'a [(Input, f64)],
    layers: Vec<(LayerPlace, &'a Material)>,
    fillers: Vec<(EdgeRow, &'a Material)>,
    /// What was asked for, where that is wanted.
    met: Option<RefCell<Vec<UncertainInput>>>,
}

impl<'a> Choice<'a> {
    pub(crate) fn new(setup: &'a Setup, member: Member, inner: Inner) -> Self {
        let fillers = match setup.shell() {
            Shell::Box(enclosure) => EdgeRow::ALL
                .into_iter()
                .filter_map(|row| Some((row, enclosure.filler(row)?.fill().material())))
                .collect(),
            Shell::Sleeve(_) => Vec::new(),
        };
        Choice {
            member,
            inner,
            crossed: false,
            pins: setup.pins(),
            layers: setup.materials_by_place(),
            fillers,
            met: None,
        }
    }

    /// The same, with what leads to the ground at its opposite end.
    pub(crate) fn crossed(mut self, crossed: bool) -> Self {
        self.crossed = crossed;
        self
    }

    /// The best values, noting down every input that is asked for.
    pub(crate) fn noting(setup: &'a Setup) -> Self {
        Choice { met: Some(RefCell::default()), ..Self::new(setup, Member::Best, Inner::Likely) }
    }

    /// What was noted, each input once, in the order in which they were asked for.
    pub(crate) fn noted(self) -> Vec<UncertainInput> {
        self.met.map(RefCell::into_inner).unwrap_or_default()
    }

    /// The value of an input, SI.
    pub(crate) fn pick<Q: Spoken>(&self, input: Input, range: &Range<Q>) -> f64
    where
        InputRange: From<Range<Q>>,
    {
        let position = match self.member {
            Member::Cautious => 0.0,
            Member::Best => 0.5,
            Member::Generous => 1.0,
        };
        self.value(input, range, position)
    }

    /// What hinders the heat inside the dish, in parts of what is likely.
    pub(crate) fn hindrance(&self, range: &Range<Ratio>) -> f64 {
        let position = match self.inner {
            Inner::Stirred => 0.0,
            Inner::Likely => 0.5,
            Inner::Most => 1.0,
        };
        let value = self.value(Input::DishHindrance, range, position);
        if value < STIRRED { 0.0 } else { value }
    }

    fn value<Q: Spoken>(&self, input: Input, range: &Range<Q>, position: f64) -> f64
    where
        InputRange: From<Range<Q>>,
    {
        if let Some(met) = &self.met {
            let mut met = met.borrow_mut();
            if range.low().si() < range.high().si() && met.iter().all(|known| known.input != input) {
                met.push(UncertainInput::new(input, (*range).into()));
            }
        }
        let position = if self.crossed && input.is_of_ground() { 1.0 - position } else { position };
        let pinned = self.pins.iter().find(|(pinned, _)| *pinned == input);
        between(range, input.effect(), pinned.map_or(position, |(_, at)| *at))
    }

    /// Which of several published relations counts, for what cools the pot: the furthest where this input is at an end.
    pub(crate) fn relation(&self, input: Input) -> Among {
        let pinned = self.pins.iter().find(|(pinned, _)| *pinned == input).map(|(_, at)| *at);
        match (pinned, self.member) {
            (Some(0.0), _) | (None, Member::Cautious) => Among::Most,
            (Some(1.0), _) | (None, Member::Generous) => Among::Least,
            _ => Among::First,
        }
    }

    /// The value of a property, SI, at its reference temperature.
    pub(crate) fn property<Q: Spoken>(&self, input: Input, property: &Property<Q>) -> f64
    where
        InputRange: From<Range<Q>>,
    {
        self.pick(input, &Range::of_members(property.low().si(), property.value().si(), property.high().si()))
    }

    /// The law of a property, scaled as a whole.
    pub(crate) fn law<Q: Spoken>(&self, input: Input, property: &Property<Q>) -> PropertyLaw
    where
        InputRange: From<Range<Q>>,
    {
        property.law_of(Q::from_si(self.property(input, property)))
    }

    /// The property laws of a layer of the box or sleeve.
    pub(crate) fn laws(&self, layer: &Layer) -> LayerLaws {
        self.laws_of(layer.material())
    }

    /// The property laws of a material of the shell: of a layer, or of what fills its inner corners.
    pub(crate) fn laws_of(&self, material: &Material) -> LayerLaws {
        let is_it = |m: &Material| std::ptr::eq(m, material) || m == material;
        let layer = self.layers.iter().find(|(_, m)| is_it(m)).map(|(place, _)| *place);
        let filler = || self.fillers.iter().find(|(_, m)| is_it(m)).map(|(row, _)| *row);
        let [conductivity, heat_capacity] = match (layer, layer.is_none().then(filler).flatten()) {
            (Some(place), _) => [Input::LayerConductivity(place), Input::LayerHeatCapacity(place)],
            (None, Some(row)) => [Input::FillerConductivity(row), Input::FillerHeatCapacity(row)],
            // Everything that attaches itself is one of the setup's.
            (None, None) => return LayerLaws::of(material),
        };
        LayerLaws {
            conductivity: self.law(conductivity, material.conductivity()),
            heat_capacity: self.law(heat_capacity, material.heat_capacity()),
        }
    }
}

impl Setup {
    /// Every different material of the shell with the first place where it is found, faces in order and layers from the
    /// inside.
    pub(crate) fn materials_by_place(&self) -> Vec<(LayerPlace, &Material)> {
        let mut list: Vec<(LayerPlace, &Material)> = Vec::new();
        for (place, layer) in self.layers_by_place() {
            if list.iter().all(|(_, m)| !std::ptr::eq(*m, layer.material()) && *m != layer.material()) {
                list.push((place, layer.material()));
            }
        }
        list
    }
}
