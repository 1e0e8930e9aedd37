//! What one forecast leaves to the next: every temperature, water and heat capacity of each of its marches at one time.

use std::sync::Arc;

use super::assemble::Assembly;
use super::attach_edges::SolvedAt;
use super::{Forecast, Plan, Setup};
use crate::error::{Error, ErrorKind};
use crate::march::Snapshot;
use crate::network::{Enthalpy, Node};
use crate::units::{Si, Temperature, Time, write_rounded};

/// The end of a forecast as a start.
#[derive(Debug, PartialEq)]
pub(crate) struct HandOver {
    setup: Setup,
    cells: usize,
    /// What the earlier pot left the stove with: temperatures about which some laws are averaged.
    pub(crate) leaves: Temperature,
    /// Of the dish, best value.
    pub(crate) dish: Temperature,
    /// Whether it had marches that cross, which are the last.
    pub(crate) crossed: bool,
    /// Of each march, in the order of the forecast.
    states: Vec<Fields>,
}

/// Where one march stood.
#[derive(Debug, PartialEq)]
pub(crate) struct Fields {
    /// Of every node that is no reservoir: its temperature, K, and what it holds.
    bodies: Vec<(f64, Enthalpy)>,
    /// Of every patch: its temperatures, K, and how much of it is left.
    patches: Vec<(Vec<f64>, f64)>,
    /// Of every store: its water, kg.
    stores: Vec<f64>,
    /// Where the edges were solved whose modes are among the patches.
    solved_at: Option<SolvedAt>,
}

impl Fields {
    fn of(assembly: &Assembly, snapshot: &Snapshot) -> Self {
        let nodes = assembly.network.nodes.iter().enumerate().filter(|(_, node)| matches!(node, Node::Free { .. }));
        Fields {
            bodies: nodes.map(|(i, _)| (snapshot.nodes[i], snapshot.bodies[i].clone())).collect(),
            patches: snapshot.patches.iter().cloned().zip(snapshot.left.iter().copied()).collect(),
            stores: snapshot.held.clone(),
            solved_at: assembly.solved_at.clone(),
        }
    }

    /// Where the edges were solved, if they were.
    pub(crate) fn solved_at(&self) -> Option<&SolvedAt> {
        self.solved_at.as_ref()
    }

    /// Puts the state in place of the start of the same march.
    pub(crate) fn apply(&self, assembly: &mut Assembly) -> Result<(), Error> {
        let network = &mut assembly.network;
        let free = network.nodes.iter().filter(|node| matches!(node, Node::Free { .. })).count();
        if free != self.bodies.len() || network.patches.len() != self.patches.len() {
            return Err(differs());
        }
        let starts = network.nodes.iter_mut().filter_map(|node| match node {
            Node::Free { enthalpy, start } => Some((enthalpy, start)),
            Node::Reservoir(_) => None,
        });
        for ((enthalpy, start), (temperature, body)) in starts.zip(&self.bodies) {
            *enthalpy = body.clone();
            *start = *temperature;
        }
        for (patch, (temperatures, left)) in network.patches.iter_mut().zip(&self.patches) {
            if patch.start.len() != temperatures.len() {
                return Err(differs());
            }
            patch.start.clone_from(temperatures);
            patch.weight *= left;
        }
        // A plan that uncovers the pot may follow water that the earlier one did not.
        for (store, held) in network.stores.iter_mut().zip(&self.stores) {
            store.start = *held;
        }
        Ok(())
    }
}

fn differs() -> Error {
    Error::new(ErrorKind::Inconsistent, "it continues a forecast of another setup")
        .with_accepted("the setup of the earlier forecast")
        .within("plan")
}

impl HandOver {
    fn of(forecast: &Forecast, time: Time) -> Result<Self, Error> {
        let kept = forecast.kept();
        let Some(index) = kept.iter().position(|t| *t == time.si()) else {
            let known: Vec<String> = kept.iter().map(|t| write_rounded(Time::from_si(*t), 6)).collect();
            return Err(Error::new(ErrorKind::OutOfRange, "the state of this time was not kept")
                .with_value(write_rounded(time, 6))
                .with_accepted(format!("{} (shutting, serving, horizon)", known.join(", ")))
                .within("time"));
        };
        let states = forecast.runs().map(|run| Fields::of(&run.assembly, &run.history.snapshots[index])).collect();
        Ok(HandOver {
            setup: forecast.setup.clone(),
            cells: forecast.cells,
            leaves: forecast.leaves,
            dish: forecast.at(time)?.temperature.best(),
            crossed: forecast.is_crossed(),
            states,
        })
    }

    /// Checks that it is the start of this very setup, on the same meshes.
    pub(crate) fn check(&self, setup: &Setup, cells: usize) -> Result<(), Error> {
        let fault = |problem: &str, accepted: String| {
            Err(Error::new(ErrorKind::Inconsistent, problem).with_accepted(accepted).within("plan"))
        };
        if self.setup != *setup {
            return fault("it continues a forecast of another setup", "the setup of the earlier forecast".to_owned());
        }
        if self.cells != cells {
            return fault("it continues a forecast on another mesh", format!("{} cells", self.cells));
        }
        Ok(())
    }

    /// What a march left, which may be a crossed one with a twin, to the same march.
    pub(crate) fn left_by(&self, march: usize, twin: Option<usize>) -> Result<&Fields, Error> {
        // Where none crossed, one that does so from here on starts where its twin stood.
        let march = twin.filter(|_| !self.crossed).unwrap_or(march);
        self.states.get(march).ok_or_else(differs)
    }
}

impl Plan {
    /// Goes on where an earlier forecast stood at a `time` of which it kept everything: at shutting, at its serving time, or
    /// at its horizon; what its plan does at that very moment is still to come. Dish, pot, air, every wall and the water start
    /// as they were there, in the ends of the range and in the computing error too. Time zero of the new forecast is that
    /// moment: rooms, wind and actions count from there. It goes with the same [`Setup`] and the same
    /// [`Options::cells`](super::Options) only; simmer and carry become zero (it may be carried, but for a start of its own
    /// there is [`Plan::leaving_at`]). What was cooked before does not count in a verdict on the new forecast alone.
    ///
    /// Edges that are solved ([`Edges::Solved`](super::Edges::Solved)) stay as the first forecast solved them, with its films
    /// outside, whatever room and wind the new plan has. Where films count most, round 8 mm of cork, that is worth up to a
    /// hundredth of what a change of weather does: 0.06 K after three hours from a gale into still air.
    ///
    /// ```
    /// use stillhot::prelude::*;
    /// let pot = Pot::typical(litres(5.0)).with(Dish::named("broth-thin-soup")?, kilograms(4.0));
    /// let bin = Setup::new(pot, Enclosure::lined("expanded-cork-board", millimetres(50.0))?)?;
    /// let night = bin.forecast(&Plan::in_room(celsius(14.0)).serve_after(hours(8.0)))?;
    /// // In the morning the stove in the cabin is lit.
    /// let day = bin.forecast(&Plan::in_room(celsius(20.0)).continuing(&night, hours(8.0))?)?;
    /// let [last, first] = [night.at(hours(8.0))?, day.at(hours(0.0))?];
    /// assert!((last.temperature.low().si() - first.temperature.low().si()).abs() < 1e-9);
    /// # Ok::<(), stillhot::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for another time.
    pub fn continuing(mut self, earlier: &Forecast, time: Time) -> Result<Self, Error> {
        self.handed = Some(Arc::new(HandOver::of(earlier, time)?));
        Ok(self.simmer(Time::from_si(0.0)).carry(Time::from_si(0.0)))
    }
}
