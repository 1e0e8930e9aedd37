//! The list of what matters about a setup: every feature changed, ranked; what is worth doing; what is worth measuring.

use std::fmt;

use super::asked::Asked;
use super::compare::{Base, Compared, Outcome, Ranked, ranked};
use super::difference::{End, HoldDifference, longer, signed, span};
use super::features::{ChangeKind, features};
use super::measure::{Narrowing, narrowings};
use super::variant::Variant;
use crate::error::Error;
use crate::setup::{Options, Plan, Setup};
use crate::units::{Si, TemperatureInterval, Time};

/// What makes a difference to a setup under a plan.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct WhatMatters {
    /// The setup as it is.
    pub base: Outcome,
    /// Every feature removed or replaced by the plain alternative, by the size of its effect on how long the first
    /// temperature is held (best values), largest first.
    pub effects: Vec<Effect>,
    /// What to measure: by how much the range of the hold time narrows if it were known, most first.
    pub measure: Vec<Narrowing>,
    /// Changes that could not be built or computed, each with its name, and prices of which it is not clear to what they belong.
    pub left_out: Vec<Error>,
}

/// What one change does.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Effect {
    /// From 1, the same for effects that the computation cannot tell apart; none where it finds no difference.
    pub rank: Option<usize>,
    /// What the change takes.
    pub kind: ChangeKind,
    /// The change beside the setup as it is.
    pub compared: Compared,
}

/// What an improvement is reckoned against.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Per {
    /// Mass that it adds.
    Kilogram,
    /// Room that it takes.
    Litre,
    /// Money, by the prices asked with.
    Money,
}

/// An improvement with what it brings and takes.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Worth<'w> {
    /// The change.
    pub effect: &'w Effect,
    /// How much longer the temperature is held at the cautious end, at least.
    pub gain: Time,
    /// What it takes: kg, litres, or money. Zero or less: nothing.
    pub takes: f64,
}

/// What makes a difference: each feature of `setup` and `plan` removed, or replaced by the plain alternative, where it applies.
///
/// What it changes: how the lid closes and the width of its joint, the fit of the boards and the room round the pot, strips in
/// the inner corners, layers (half as thick again, each one gone, one more in a sleeve, damp or dry), foil, the metal of the
/// pot, its lid, its handle and its knob, how full it is, second bodies, a warm or cold box or sleeve, opening and carrying, room, wind,
/// sky and height.
///
/// Strips are known to [`Edges::Solved`](crate::Edges::Solved) alone. Where a box has its edges by the factor they are held
/// against the same box with solved edges, so that what is told is the strips' doing and not that of another way of
/// counting; walls whose edges cannot be solved leave them out.
///
/// # Errors
/// As [`compare`](super::compare) for the setup itself; a change that fails is [left out](WhatMatters::left_out), with its
/// error.
pub fn what_matters(setup: &Setup, plan: &Plan, asked: &Asked, options: &Options) -> Result<WhatMatters, Error> {
    let base = Variant::new("as it is", setup.clone(), plan.clone());
    let computed = Base::of(&base, asked, options)?;
    let (mut kinds, mut variants, mut left_out) = (Vec::new(), Vec::new(), Vec::new());
    for feature in features(&base, options)? {
        match feature.variant {
            Ok(variant) => {
                kinds.push((variant.name().to_owned(), feature.kind));
                variants.push((feature.against, variant));
            }
            Err(error) => left_out.push(error),
        }
    }
    let mut compared = Vec::new();
    let names: Vec<&str> = variants.iter().map(|(_, variant)| variant.name()).collect();
    let (prices, wrong) = asked.prices().of_changes(&names);
    left_out.extend(wrong);
    for result in computed.compare_each(&variants, &prices) {
        match result {
            Ok(one) => compared.push(one),
            Err(error) => left_out.push(error),
        }
    }
    let kind_of = |one: &Compared| {
        let name = one.outcome.variant.name();
        kinds.iter().find(|(known, _)| known == name).map_or(ChangeKind::Circumstance, |(_, kind)| *kind)
    };
    let effects = ranked(compared.iter(), End::Best)
        .into_iter()
        .map(|place| Effect { rank: place.rank, kind: kind_of(place.compared), compared: place.compared.clone() })
        .collect();
    let measure = narrowings(&computed, asked, options)?;
    Ok(WhatMatters { base: computed.outcome, effects, measure, left_out })
}

impl Effect {
    /// What is changed.
    pub fn name(&self) -> &str {
        self.compared.outcome.variant.name()
    }

    /// How much longer the first temperature is held: cautious, best, generous.
    pub fn holds(&self) -> &[HoldDifference; 3] {
        &self.compared.holds[0]
    }
}

impl fmt::Display for Effect {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: ", self.name())?;
        let [cautious, best, generous] = self.holds();
        if self.rank.is_none() {
            return f.write_str("no difference");
        }
        if let HoldDifference::PastHorizon = best {
            let warmer = self.compared.end.best.value;
            return write!(f, "{} at the end of what was followed", signed::<TemperatureInterval>(warmer));
        }
        if best.is_none() {
            f.write_str("none")?
        } else {
            write!(f, "{best}")?
        }
        let known: Option<Vec<f64>> =
            [cautious, best, generous].map(|hold| hold.known().map(Si::si)).into_iter().collect();
        let Some(known) = known else { return Ok(()) };
        let low = known.iter().copied().fold(f64::INFINITY, f64::min);
        let high = known.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        write!(f, " ({} to {})", longer(Time::from_si(low)), longer(Time::from_si(high)))
    }
}

impl WhatMatters {
    /// The effects by their size at another member of the range; see [`Comparison::ranked`](super::Comparison::ranked).
    pub fn ranked(&self, end: End) -> Vec<Ranked<'_>> {
        ranked(self.effects.iter().map(|effect| &effect.compared), end)
    }

    /// The improvements that one can build, by what each brings at the cautious end for what it takes, best first: those that
    /// take nothing, then by gain for each kilogram, litre or unit of money. Straps, weights, seals and glue weigh nothing here;
    /// about money only what has a price is told ([`Compared::cost`]), see [`unpriced`](Self::unpriced).
    pub fn worth(&self, per: Per) -> Vec<Worth<'_>> {
        let takes = |effect: &Effect| match per {
            Per::Kilogram => Some(effect.compared.weight.si()),
            Per::Litre => Some(1000.0 * effect.compared.bulk.si()),
            Per::Money => effect.compared.cost,
        };
        let worth = |(effect, gain)| takes(effect).map(|takes| Worth { effect, gain, takes });
        let mut list: Vec<Worth<'_>> = self.improvements().filter_map(worth).collect();
        let free = |worth: &Worth<'_>| worth.takes <= 0.0;
        let rate = |worth: &Worth<'_>| worth.gain.si() / if free(worth) { 1.0 } else { worth.takes };
        list.sort_by(|a, b| free(b).cmp(&free(a)).then(rate(b).total_cmp(&rate(a))));
        list
    }

    /// The improvements that one can build and that no price tells the cost of, in the order of the effects.
    pub fn unpriced(&self) -> Vec<&Effect> {
        self.improvements().map(|(effect, _)| effect).filter(|effect| effect.compared.cost.is_none()).collect()
    }

    /// What one can build that holds longer at the cautious end, with how much longer at least.
    fn improvements(&self) -> impl Iterator<Item = (&Effect, Time)> {
        self.effects.iter().filter(|effect| effect.kind == ChangeKind::Build).filter_map(|effect| {
            let cautious = effect.holds()[End::Cautious as usize];
            let gain = cautious.known().filter(|gain| gain.si() > 0.0 && !cautious.is_none())?;
            Some((effect, gain))
        })
    }
}

impl Worth<'_> {
    /// The gain in words: "1.5 h".
    pub fn gain_in_words(&self) -> String {
        span(self.gain)
    }

    /// Time gained for each unit that it takes; nothing where it takes none.
    pub fn rate(&self) -> Option<Time> {
        (self.takes > 0.0).then(|| Time::from_si(self.gain.si() / self.takes))
    }
}
