//! The part of a pot above its dish: the wall above the fill line and the lid, kept warm by what rises from the dish.
//!
//! Hot water evaporates, condenses under the lid and on the dry wall, and runs back: above 60 °C that passes some 30 to
//! 400 W/(m² K), against one or two through the box, so lid and dry wall stay within a few kelvin of the dish. A cool dish
//! loses that grip, and so does one that gives off no water.

use std::f64::consts::PI;

use super::Input;
use super::assemble::{Assembly, Scene};
use super::film::surface_transfer;
use super::leak_law::{HIGHEST_SHARE, below_boiling};
use super::place::{Mechanism, Part, Place};
use super::pot_lid::surface_factor;
use crate::correlation::{air, atmosphere, headspace, moist_air, water};
use crate::error::Error;
use crate::network::{Enthalpy, Frozen, Law, Link, Node, NodeId};
use crate::units::Si;
use crate::wall::Among;

/// From the dish to what is above it: air that moves, and vapour that condenses there and returns; reads both.
#[derive(Debug, Clone, Copy)]
struct HeadspaceLaw {
    /// Surface of the dish, m².
    area: f64,
    /// What is uncertain of the transfer: 1, or an end.
    factor: f64,
    relation: Among,
    /// Along the metal and through still air, W/K.
    still: f64,
    /// Whether the dish gives off vapour.
    wet: bool,
    /// Pressure of the air, Pa.
    pressure: f64,
}

/// A difference below which the transfer counts as at this one, K: a lid so near to the dish follows it in any case, and
/// one that is warmer by as much gets nothing any more.
const LEAST: f64 = 0.5;

impl HeadspaceLaw {
    /// Conductance at these temperatures, W/K.
    fn conductance(&self, dish: f64, above: f64) -> Result<f64, Error> {
        let rising = ((dish - above + LEAST) / (2.0 * LEAST)).clamp(0.0, 1.0);
        if !self.wet || rising == 0.0 {
            return Ok(self.still);
        }
        let most = HIGHEST_SHARE * self.pressure;
        let (food, vapour) = below_boiling(dish, most)?;
        let lid = above.min(food - LEAST);
        let dew = water::saturation_pressure_if97(lid)?.value;
        let convection = headspace::convection_dunkle_1961(food, lid)?.value;
        let transfer = surface_transfer(1.0, food, lid, 0.0, self.pressure)?;
        let diffusivity = moist_air::vapour_diffusivity_ashrae(food, self.pressure)?.value;
        let flow =
            moist_air::stefan_diffusion(1.0, 1.0, self.pressure, food, vapour, dew)?.value / diffusivity * transfer;
        let latent = flow * water::latent_heat_wagner_pruss_1993(food)?.value / (food - lid);
        // What was measured on walls of large vessels is more than the analogy gives: the cautious end.
        let passes = self.relation.pick(self.factor * (convection + latent), || {
            let ratio = moist_air::humidity_ratio(self.pressure, vapour)?.value;
            headspace::condensation_uchida_1965(ratio / (1.0 + ratio))
        })?;
        Ok(self.still + rising * self.area * passes)
    }
}

impl Law for HeadspaceLaw {
    fn flow(&self, _time: f64, read: &[f64], gradient: &mut [f64]) -> f64 {
        // No value: the stage fails with an error that says so.
        let conductance = self.conductance(read[0], read[1]).unwrap_or(f64::NAN);
        gradient[0] = conductance;
        gradient[1] = -conductance;
        conductance * (read[0] - read[1])
    }

    fn holds(&self) -> bool {
        true
    }

    /// The secant, not the tangent: lid and dry wall are light and near the dish, and a tangent taken where they are
    /// foreseen overshoots.
    fn frozen(&self, time: f64, read: &[f64], _stores: &[f64]) -> Option<Frozen> {
        let mut gradient = [0.0; 2];
        let flow = self.flow(time, read, &mut gradient);
        Some(Frozen { at: [read[0], read[1]], flow, gradient, water: 0.0 })
    }
}

impl Assembly {
    /// Attaches the dry part of the pot, with its share of the metal (J/K), and joins it to the dish.
    pub(crate) fn attach_dry_part(&mut self, capacity: f64, start: f64, scene: &Scene<'_>) -> Result<NodeId, Error> {
        let pot = scene.pot;
        let dry = self.network.node(Node::Free { enthalpy: Enthalpy::Capacity(capacity), start });
        self.bodies.push((dry, Part::DryPot));
        let height = (1.0 - pot.fill()) * pot.height().si();
        // Half-way up the dry wall, and through air as high as it.
        let (metal, thickness) = pot.wall()?;
        let along = metal.conductivity().value().si() * thickness * PI * pot.diameter().si() / (0.5 * height).max(1e-3);
        let still = air::conductivity_us_standard_1976(start)?.value * pot.top_area() / height.max(1e-3);
        let law = HeadspaceLaw {
            area: pot.top_area(),
            factor: scene.choice.pick(Input::SurfaceFactor, &surface_factor()),
            relation: scene.choice.relation(Input::SurfaceFactor),
            still: along + still,
            wet: pot.contents().is_some_and(|(dish, _)| dish.water_content().si() > 0.0),
            pressure: atmosphere::pressure_iso_2533(scene.plan.height().si())?.value,
        };
        let path = self.path(Place::Inside, Mechanism::Gap);
        let link = self.network.link(Link::between(self.pot, dry, law, path));
        self.always.push(link);
        if !pot.lid().is_missing() {
            // Off the pot its lid gets nothing from the dish, and what rises is the room's.
            self.covered.push(link);
        }
        Ok(dry)
    }
}
