//! What was and will be done with a dish, beyond what its curve tells.

use super::dish_facts::{Circulation, DishFacts};
use crate::correlation::atmosphere;
use crate::error::{Error, all_within};
use crate::material::Material;
use crate::setup::{Action, PieceShape, Pieces, Plan, Pot, Setup};
use crate::units::bounds::in_range;
use crate::units::{Length, Si, Temperature, Time, celsius, hours, millimetres, minutes};

/// A reheating after serving time: brought to a temperature throughout and held there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reheating {
    /// Temperature of every spot, 20 to 130 °C.
    pub temperature: Temperature,
    /// How long it is held, up to 24 h.
    pub held: Time,
    /// How long it takes to get there, up to 24 h, if that is known.
    pub takes: Option<Time>,
}

/// Pieces in the pot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceState {
    /// Smallest thickness, 1 to 400 mm.
    pub thickness: Length,
    /// Whether they went in frozen.
    pub frozen: bool,
    /// Whether they are stuffed.
    pub stuffed: bool,
}

impl PieceState {
    /// Those of a setup: thickness by their shape, frozen if they start at 0 °C or below; nobody says that they are
    /// stuffed.
    pub fn of(pieces: &Pieces) -> Self {
        let (PieceShape::Sphere(thickness) | PieceShape::Cylinder(thickness) | PieceShape::Slab(thickness)) =
            pieces.shape();
        PieceState { thickness, frozen: pieces.start() <= celsius(0.0), stuffed: false }
    }
}

/// What was and will be done with a dish: its plan, and what a plan of heat does not say.
///
/// ```
/// use stillhot::food::PlanFacts;
/// use stillhot::prelude::*;
/// let plan = Plan::in_room(celsius(16.0)).simmer(minutes(40.0)).serve_after(hours(6.0));
/// let beans = PlanFacts::of(&plan).soaked(hours(10.0)).full_boil(minutes(10.0));
/// assert_eq!(beans.plan().serve_time(), Some(hours(6.0)));
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct PlanFacts {
    plan: Plan,
    full_boil: Time,
    soaked: Time,
    pieces: Vec<PieceState>,
    reheated: Option<Reheating>,
    cools_inside: bool,
    keeps_cold: bool,
    /// What a setup says of its dish.
    circulation: Option<Circulation>,
    /// Heat capacity of pot and dish, J/K: low, best, high.
    capacity: Option<[f64; 3]>,
}

impl PlanFacts {
    /// What a plan says: simmer, height, surroundings, openings, reheatings, serving time. Neither soaked nor boiled
    /// hard, no pieces but those of the dish list. Without a serving time the whole curve is judged.
    pub fn of(plan: &Plan) -> Self {
        PlanFacts {
            plan: plan.clone(),
            full_boil: minutes(0.0),
            soaked: minutes(0.0),
            pieces: Vec::new(),
            reheated: None,
            cools_inside: false,
            keeps_cold: false,
            circulation: None,
            capacity: None,
        }
    }

    /// What plan and setup say: the pieces in the pot as well, how much heat pot and dish take, whether the dish stands
    /// still (which counts where the dish itself is not told), and that it is kept cold if it starts colder than its room.
    pub fn of_setup(setup: &Setup, plan: &Plan) -> Self {
        let pot = setup.pot();
        let mut facts =
            pot.pieces().iter().fold(Self::of(plan), |facts, pieces| facts.with_pieces(PieceState::of(pieces)));
        facts.keeps_cold = pot.starts_at(plan).is_ok_and(|start| start < plan.room());
        facts.circulation =
            pot.contents().map(|(dish, _)| if dish.is_still() { Circulation::Still } else { Circulation::Stirred });
        facts.capacity = capacity(pot);
        facts
    }

    /// Kept cold, not hot: the limits on cold holding are judged, and nothing is said of cooking.
    #[must_use]
    pub fn kept_cold(mut self) -> Self {
        self.keeps_cold = true;
        self
    }

    /// Boiled hard, with large bubbles, for this long (0 to 24 h) in the water it is eaten from or in any before; part
    /// of the simmer or apart from it. A simmer is no full boil: say it here.
    #[must_use]
    pub fn full_boil(mut self, duration: Time) -> Self {
        self.full_boil = duration;
        self
    }

    /// Soaked for this long (0 to 72 h), the water thrown away.
    #[must_use]
    pub fn soaked(mut self, duration: Time) -> Self {
        self.soaked = duration;
        self
    }

    /// With these pieces as well; the first ones stand instead of those of the dish list.
    #[must_use]
    pub fn with_pieces(mut self, pieces: PieceState) -> Self {
        self.pieces.push(pieces);
        self
    }

    /// Reheated after serving time, before it is eaten.
    #[must_use]
    pub fn reheated(mut self, reheating: Reheating) -> Self {
        self.reheated = Some(reheating);
        self
    }

    /// What is left over cools down in the box: the limits on cooling are judged too.
    #[must_use]
    pub fn cools_inside(mut self) -> Self {
        self.cools_inside = true;
        self
    }

    pub(super) fn simmered_for(mut self, duration: Time) -> Self {
        self.plan = self.plan.simmer(duration);
        self
    }

    /// The plan.
    pub fn plan(&self) -> &Plan {
        &self.plan
    }

    /// Time at a full boil.
    pub fn full_boil_time(&self) -> Time {
        self.full_boil
    }

    /// Time in soak.
    pub fn soak_time(&self) -> Time {
        self.soaked
    }

    /// The pieces, if told.
    pub fn pieces(&self) -> &[PieceState] {
        &self.pieces
    }

    /// The reheating after serving time, if there is one.
    pub fn reheating(&self) -> Option<Reheating> {
        self.reheated
    }

    /// Reheatings of the plan, by time after shutting.
    pub fn planned_reheatings(&self) -> impl Iterator<Item = (Time, Temperature)> + '_ {
        self.plan.actions().iter().filter_map(|(time, action)| match action {
            Action::Reheat(to) => Some((*time, *to)),
            _ => None,
        })
    }

    /// Whether leftovers cool in the box.
    pub fn leftovers_cool_inside(&self) -> bool {
        self.cools_inside
    }

    /// Whether it is kept cold.
    pub fn is_kept_cold(&self) -> bool {
        self.keeps_cold
    }

    /// Whether its liquid turns over: by the dish list, or, of a dish that was not told, by the setup.
    pub fn circulation(&self, dish: &DishFacts) -> Circulation {
        let told = if dish.is_unlisted() { self.circulation } else { None };
        told.unwrap_or(dish.circulation())
    }

    /// Heat capacity of pot and dish, J/K, where a setup tells: low, best, high.
    pub(super) fn capacity(&self) -> Option<[f64; 3]> {
        self.capacity
    }

    /// Time on the stove before shutting: the simmer, or the full boil if that is longer.
    pub fn stove_time(&self) -> Time {
        self.plan.simmer_time().max(self.full_boil)
    }

    /// The boiling point at this height, by [`atmosphere::boiling_temperature`]. The weather moves it by about 1 K.
    ///
    /// # Errors
    /// For a height outside -400 to 6000 m.
    pub fn boiling_temperature(&self) -> Result<Temperature, Error> {
        self.plan.check()?;
        Ok(Temperature::from_si(atmosphere::boiling_temperature(self.plan.height().si())?.value))
    }

    /// The temperature on the stove: the boiling point, or what the pot leaves the stove with where that is less.
    ///
    /// # Errors
    /// For a plan outside its ranges.
    pub fn simmer_temperature(&self) -> Result<Temperature, Error> {
        let (boiling, leaves) = (self.boiling_temperature()?, self.plan.start_temperature()?);
        Ok(if leaves < boiling { leaves } else { boiling })
    }

    /// The highest temperature of the surroundings at any time.
    pub(super) fn warmest_room(&self) -> Temperature {
        let (_, warmest) = self.plan.room_course().extremes();
        Temperature::from_si(warmest)
    }

    pub(super) fn check(&self) -> Result<(), Error> {
        self.plan.check()?;
        all_within("plan", || {
            in_range("full boil", self.full_boil, minutes(0.0), hours(24.0))?;
            in_range("soak", self.soaked, minutes(0.0), hours(72.0))?;
            for pieces in &self.pieces {
                in_range("thickness of pieces", pieces.thickness, millimetres(1.0), millimetres(400.0))?;
            }
            if let Some(reheating) = self.reheated {
                in_range("reheating", reheating.temperature, celsius(20.0), celsius(130.0))?;
                in_range("reheating, held", reheating.held, minutes(0.0), hours(24.0))?;
                in_range("reheating, takes", reheating.takes.unwrap_or(minutes(0.0)), minutes(0.0), hours(24.0))?;
            }
            Ok(())
        })
    }
}

/// Heat capacity of a pot with what is in it, J/K: low, best, high.
fn capacity(pot: &Pot) -> Option<[f64; 3]> {
    let (metal, mass) = pot.metal().ok()?;
    let of = |material: &Material| {
        let heat = material.heat_capacity();
        [heat.low().si(), heat.value().si(), heat.high().si()]
    };
    let (own, masses) = (of(&metal), [mass.low(), mass.best(), mass.high()].map(Si::si));
    let dish = pot.contents().into_iter().map(|(dish, mass)| (of(dish.material()), mass.si()));
    let pieces = pot.pieces().iter().map(|pieces| (of(pieces.food().material()), pieces.mass().si()));
    let inside =
        dish.chain(pieces).fold([0.0; 3], |sum, (heat, mass)| std::array::from_fn(|i| sum[i] + mass * heat[i]));
    Some(std::array::from_fn(|i| inside[i] + masses[i] * own[i]))
}
