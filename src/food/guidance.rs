//! Whose limits apply to a dish.

use super::dish_facts::DishFacts;
use super::limit::{Limit, Rule, Setting, Topic};
use super::plan_facts::PlanFacts;
use super::shelf::Shelf;
use crate::document::nearest;
use crate::error::{Error, ErrorKind};

/// Whose limits are judged.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Guidance {
    /// On each topic the strictest limit of household or catering, named; of a rule in stages all of them.
    #[default]
    Strictest,
    /// Those of household and catering of one place ("Germany"); on topics for which it has none, the strictest.
    Place(String),
    /// Every limit there is.
    All,
}

impl Guidance {
    /// The guidance of a place, as limits name it.
    pub fn of(place: &str) -> Self {
        Guidance::Place(place.to_owned())
    }

    /// The limits that concern a dish, in the order of topics.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a place for which no limit of household or catering is known, with the nearest ones.
    pub fn limits<'s>(
        &self,
        shelf: &'s Shelf<Limit>,
        dish: &DishFacts,
        facts: &PlanFacts,
    ) -> Result<Vec<&'s Limit>, Error> {
        if let Guidance::Place(place) = self {
            check_place(place, shelf)?;
        }
        let mut chosen = Vec::new();
        for topic in Topic::ALL {
            let about: Vec<&Limit> = shelf
                .iter()
                .filter(|limit| limit.topic() == topic && dish.has(limit.concerns()) && in_this_room(limit, facts))
                .filter(|limit| (limit.topic() == Topic::ColdHolding) == facts.is_kept_cold())
                .collect();
            if *self == Guidance::All {
                chosen.extend(about);
                continue;
            }
            let ordinary: Vec<&Limit> = about.into_iter().filter(|limit| is_ordinary(limit)).collect();
            let local: Vec<&Limit> = match self {
                Guidance::Place(place) => {
                    ordinary.iter().copied().filter(|limit| limit.places().contains(place)).collect()
                }
                _ => Vec::new(),
            };
            if !local.is_empty() {
                chosen.extend(local);
                continue;
            }
            let strictest = ordinary.iter().copied().max_by(|a, b| a.strictness().total_cmp(&b.strictness()));
            let Some(strictest) = strictest else { continue };
            // Cooling goes in stages, and one alone is half a rule.
            let same_rule = |limit: &&Limit| {
                topic == Topic::Cooling
                    && limit.places() == strictest.places()
                    && limit.setting() == strictest.setting()
            };
            chosen.extend(ordinary.into_iter().filter(|limit| limit.id() == strictest.id() || same_rule(limit)));
        }
        Ok(chosen)
    }
}

/// For a kitchen, and without a condition that nobody can check here.
fn is_ordinary(limit: &Limit) -> bool {
    limit.condition().is_none() && matches!(limit.setting(), Setting::Household | Setting::Catering)
}

fn check_place(place: &str, shelf: &Shelf<Limit>) -> Result<(), Error> {
    let ordinary = shelf.iter().filter(|limit| is_ordinary(limit));
    let mut known: Vec<&str> = ordinary.flat_map(|limit| limit.places().iter().map(String::as_str)).collect();
    known.sort_unstable();
    known.dedup();
    if known.contains(&place) {
        return Ok(());
    }
    let near = nearest(place, known.iter().map(|known| (*known, "")));
    Err(Error::new(ErrorKind::UnknownName, "unknown place")
        .with_value(format!("{place:?}"))
        .with_nearest(near)
        .with_accepted(known.join(", "))
        .within("guidance"))
}

fn in_this_room(limit: &Limit, facts: &PlanFacts) -> bool {
    match limit.rule() {
        Rule::TimeLimit { room_above: Some(above), .. } => facts.warmest_room() > *above,
        _ => true,
    }
}
