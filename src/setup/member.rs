//! Members of the range: what is uncertain, taken together at its cautious, best or generous end.

use super::Range;
use crate::conduction::LayerLaws;
use crate::material::Material;
use crate::units::Spoken;
use crate::wall::{Among, Layer};

/// Which end of every uncertain input a computation takes.
///
/// The range of an answer is the span of three computations: everything that cools the pot at its worst together,
/// everything at its best value, everything at its most generous. While the pot is hot nearly all of these inputs act
/// one way, so the two ends bound the other combinations; independent errors rarely conspire, so the span is wider
/// than a likely error. One input turns round: a wall that stores more heat cools the pot at first and warms it late,
/// so in the tail of a heavy box a mixture can leave the span by a few tenths of a kelvin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Member {
    Cautious,
    Best,
    Generous,
}

/// What a higher value of an input does to the pot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Effect {
    /// More of it cools the pot: conductivity, leak, film, heat capacity of walls that start cold.
    Cools,
    /// More of it keeps the pot warm: heat capacity of pot and dish.
    Holds,
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

impl Member {
    /// The value this member takes, SI.
    pub(crate) fn pick<Q: Spoken>(self, range: &Range<Q>, effect: Effect) -> f64 {
        match (self, effect) {
            (Member::Best, _) => range.best().si(),
            (Member::Cautious, Effect::Cools) | (Member::Generous, Effect::Holds) => range.high().si(),
            (Member::Cautious, Effect::Holds) | (Member::Generous, Effect::Cools) => range.low().si(),
        }
    }

    /// Which of several published relations counts, for what cools the pot.
    pub(crate) fn relation(self) -> Among {
        match self {
            Member::Cautious => Among::Most,
            Member::Best => Among::First,
            Member::Generous => Among::Least,
        }
    }

    /// The property laws of a layer.
    pub(crate) fn laws(self, layer: &Layer) -> LayerLaws {
        self.laws_of(layer.material())
    }

    /// The property laws of a material that leads heat away.
    pub(crate) fn laws_of(self, material: &Material) -> LayerLaws {
        match self {
            Member::Best => LayerLaws::of(material),
            Member::Cautious => LayerLaws {
                conductivity: material.conductivity().high_law(),
                heat_capacity: material.heat_capacity().high_law(),
            },
            Member::Generous => LayerLaws {
                conductivity: material.conductivity().low_law(),
                heat_capacity: material.heat_capacity().low_law(),
            },
        }
    }

    /// The property laws of a dish that stands still: heat capacity as for the pot, conductivity by what hinders the heat
    /// inside.
    pub(crate) fn laws_of_still_dish(self, inner: Inner, layer: &Layer) -> LayerLaws {
        let material = layer.material();
        let (k, c) = (material.conductivity(), material.heat_capacity());
        LayerLaws {
            conductivity: match inner {
                Inner::Stirred | Inner::Likely => k.law().clone(),
                Inner::Most => k.low_law(),
            },
            heat_capacity: match self {
                Member::Cautious => c.low_law(),
                Member::Best => c.law().clone(),
                Member::Generous => c.high_law(),
            },
        }
    }

    /// The property laws of a food that is heated and then cools with the pot: conductivity goes the slow way for the
    /// cautious end, since the middle then comes late; heat capacity as for the pot.
    pub(crate) fn laws_of_food(self, layer: &Layer) -> LayerLaws {
        let material = layer.material();
        let (k, c) = (material.conductivity(), material.heat_capacity());
        match self {
            Member::Best => LayerLaws::best(layer),
            Member::Cautious => LayerLaws { conductivity: k.low_law(), heat_capacity: c.high_law() },
            Member::Generous => LayerLaws { conductivity: k.high_law(), heat_capacity: c.low_law() },
        }
    }
}
