//! Air and vapour between the pot, the space about it and the room: one balance, read by several links.
//!
//! Vapour leaves the pot through the rim of its lid (Stefan diffusion); what the liner is too cold for condenses there and
//! gives its heat back to the wall; the rest leaves with the air that passes the joints of the box. The flow of air
//! follows the buoyancy of the moist air between two levels (and wind), dry air being what stays the same on the way, or
//! the exchange through a joint on one level. The relations are those of [`leak`]; what is here joins them.

use std::cell::Cell;
use std::sync::{Arc, Mutex};

use crate::correlation::leak::{
    self, Continuity, Exchanging, Liner, PotMouth, Sides, Slit, SlitWalls, TwoLevels, VapourBalance, VapourPath,
};
use crate::correlation::moist_air::{self, MoistState};
use crate::correlation::{surface, water, wind};
use crate::error::Error;
use crate::network::{Frozen, Law, Signal, StoreId};

use super::film::{Facing, surface_transfer};

/// The joints of one member of the range; plain SI.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Joints {
    /// Joint of the lid.
    pub(crate) lid: Slit,
    /// For a plug, whose joint is upright: how it convects.
    pub(crate) plug: Option<Plug>,
    /// Seams low down, if there are any.
    pub(crate) low: Option<Slit>,
    /// Upright seams, each as long as the box is high, and how many.
    pub(crate) upright: Option<(Slit, f64)>,
    /// Height between the two levels, m.
    pub(crate) height: f64,
    /// How the vapour leaves the pot.
    pub(crate) mouth: Mouth,
    /// What it condenses on.
    pub(crate) liner: Facing,
    /// Pressure of the air, Pa.
    pub(crate) pressure: f64,
    /// Wind speed that reaches the box, m/s.
    pub(crate) wind: f64,
}

/// The joint round a plug.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Plug {
    /// Factor on the convection in it.
    pub(crate) factor: f64,
    /// How its faces meet the heat of the gas: what holds its temperature keeps a narrow joint still.
    pub(crate) walls: SlitWalls,
}

/// How vapour leaves the pot.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Mouth {
    /// Not at all.
    Sealed,
    /// Past the rim of a lid.
    Rim(Slit),
    /// From the whole surface of the dish.
    Open {
        /// Area times what is uncertain of the mass transfer, m².
        area: f64,
    },
}

/// What flows at given temperatures.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Balance {
    /// Heat of the dry air exchanged with the room, W.
    pub(crate) air: f64,
    /// Vapour from the pot to the room, kg/s; below zero where the room is the moister side.
    pub(crate) leaves: f64,
    /// Vapour from the pot that condenses on the liner, kg/s; below zero where that dries.
    pub(crate) condenses: f64,
    /// How that rises with the temperatures of pot and liner, kg/(s K).
    pub(crate) slope: [f64; 2],
    /// The balance of the vapour; and the same if the liner took and gave nothing, where that was asked.
    vapour: [Option<VapourBalance>; 2],
    /// Vapour pressure over the food, Pa.
    full: f64,
    /// The wind it was found for, as in [`Joints`].
    wind: f64,
}

/// Relative humidity of the room (common practice, no source; it hardly matters).
const ROOM_HUMIDITY: f64 = 0.6;
/// Nearer to the boil the logarithm of Stefan's law grows without bound, and steam that is still made leaves at once: the
/// vapour pressure counts as at most this share of the air pressure, 99.4 °C at sea level.
pub(crate) const HIGHEST_SHARE: f64 = 0.98;
/// The vapour pressure of the box is found to this share of that of the pot.
const TOLERANCE: f64 = 1e-7;
/// What it would be without a liner, which steers a slope alone, to this share of itself.
const FREE_TOLERANCE: f64 = 1e-5;

/// A temperature and the vapour pressure over water at it, Pa; where that would pass `most`, the temperature at which it
/// reaches it.
pub(crate) fn below_boiling(temperature: f64, most: f64) -> Result<(f64, f64), Error> {
    let pressure = water::saturation_pressure_if97(temperature)?.value;
    if pressure <= most {
        return Ok((temperature, pressure));
    }
    Ok((water::boiling_temperature_if97(most)?.value, most))
}

impl Joints {
    /// Solves the balance for the temperatures of pot, air of the box, liner and room, K, with so much of the liner wet, the
    /// sooner the nearer the `last` balance is.
    pub(crate) fn balance(
        &self,
        [pot, box_air, liner, room]: [f64; 4],
        wet: f64,
        last: Option<&Balance>,
    ) -> Result<Balance, Error> {
        let p = self.pressure;
        let most = HIGHEST_SHARE * p;
        let (food, full) = below_boiling(pot, most)?;
        let (liner, _) = below_boiling(liner, most)?;
        let half_way = |area: f64| self.liner.half_way(area, food, liner, p);
        let mouth = match self.mouth {
            Mouth::Sealed => PotMouth::Sealed,
            Mouth::Rim(rim) => PotMouth::Rim(rim),
            Mouth::Open { area } => PotMouth::Open(half_way(area)?),
        };
        let vapour_pressure = (ROOM_HUMIDITY * water::saturation_pressure_if97(room)?.value).min(0.5 * p);
        let outside = MoistState { temperature: room, vapour_pressure };
        // What comes in brings vapour of its own, as much as its dry air holds.
        let net = p / (p - vapour_pressure);
        let film = Liner { temperature: liner, transfer: half_way(self.liner.area)?, wet };
        let path = VapourPath {
            mouth,
            pot_temperature: food,
            box_temperature: box_air,
            liner: Some(film),
            box_gap: Some(self.lid),
            outside,
            pressure: p,
        };
        let inside = |vapour_pressure: f64| MoistState { temperature: box_air, vapour_pressure };
        let blown = self.blown(outside)?;
        // The last one asked for is mostly the one that is asked for again.
        let asked = Cell::new((f64::NAN, (0.0, 0.0)));
        let exchange = |vapour: f64| -> Result<(f64, f64), Error> {
            let (at, exchanged) = asked.get();
            if at == vapour {
                return Ok(exchanged);
            }
            let exchanged = self.exchange(inside(vapour), outside, blown)?;
            asked.set((vapour, exchanged));
            Ok(exchanged)
        };
        // The pressures go with that over the food.
        let near = |which: usize| {
            let last = last.filter(|last| last.full > 0.0)?;
            let vapour = last.vapour[which]?;
            Some(VapourBalance { box_vapour_pressure: vapour.box_vapour_pressure / last.full * full, ..vapour })
        };
        let solve = |liner: Option<Liner>, tolerance: f64, near: Option<VapourBalance>| {
            leak::vapour_balance(&VapourPath { liner, ..path }, tolerance, near.as_ref(), |vapour| {
                Ok(net * exchange(vapour)?.0)
            })
        };
        let balance = solve(path.liner, TOLERANCE * full, near(0))?;
        let vapour = balance.box_vapour_pressure;
        let (through, diffusing) = exchange(vapour)?;
        let flow = balance.condensing_flow;
        let (mut without, mut slope) = (None, [0.0; 2]);
        if flow != 0.0 {
            // A secant, which leads to where nothing condenses: a tangent taken on a cold liner would pass it by far.
            let before = near(1);
            let tolerance = before.map_or(0.0, |before| FREE_TOLERANCE * before.box_vapour_pressure);
            let alone = solve(None, tolerance.max(TOLERANCE * full), before)?;
            let free = alone.box_vapour_pressure;
            without = Some(alone);
            let even = water::boiling_temperature_if97(free)?.value;
            let falls = if (even - liner).abs() > BESIDE {
                flow / (even - liner)
            } else {
                let beside = Liner { temperature: liner - BESIDE, ..film };
                (solve(Some(beside), TOLERANCE * full, Some(balance))?.condensing_flow - flow) / BESIDE
            };
            // That point moves with the pot, by Clausius and Clapeyron; near the boil it stays.
            let follows = if food < pot || full == vapour_pressure {
                0.0
            } else {
                (free - vapour_pressure) / (full - vapour_pressure) * (full / free) * (even / food).powi(2)
            };
            slope = [falls.max(0.0) * follows, -falls.max(0.0)];
        }
        Ok(Balance {
            air: leak::box_gas_heat(through + diffusing, inside(vapour), outside, p)?.sensible,
            leaves: balance.flow_out,
            condenses: flow,
            slope,
            vapour: [Some(balance), without],
            full,
            wind: self.wind,
        })
    }

    /// Gas that leaves for the room, at the state inside, m³/s; and, beside it, what air and vapour diffuse past the
    /// joint as if so much were exchanged. `blown` is the pressure of the wind, Pa.
    fn exchange(&self, inside: MoistState, outside: MoistState, blown: f64) -> Result<(f64, f64), Error> {
        let sides = Sides::new(inside, outside, self.pressure)?;
        let level = match self.plug {
            Some(plug) => leak::plug_slit_exchange(&self.lid, &sides.between, plug.factor)?,
            None => leak::rim_slit_exchange(&self.lid, &sides.between)?,
        };
        let mut through = if self.stands(&sides.between)? { 0.0 } else { level.volume_flow - level.diffusion };
        // Wind turns a joint on one level into a way through, half of it in and half of it out; seams low down are another
        // way, for wind and column, and the easier of the two counts.
        let half = Slit { length: 0.5 * self.lid.length, ..self.lid };
        let across = (blown > 0.0).then_some((half, half, 0.0));
        let upward = self.low.map(|low| (low, self.lid, self.height));
        for (low, high, height) in across.into_iter().chain(upward) {
            // Wind is taken to help the column, whichever way that drives.
            let wind = blown.copysign(sides.between.density_difference);
            let levels = TwoLevels { low, high, height, wind, continuity: Continuity::DryAir };
            let flow = leak::two_level_flow(&levels, &sides)?;
            through = through.max(flow.volume_flow.abs());
        }
        if let Some((seam, count)) = self.upright {
            through += count * leak::seam_exchange(&seam, &sides.between)?.volume_flow;
        }
        Ok((through, level.diffusion))
    }

    /// Whether the gas in the joint of a plug stands because its faces hold their temperature.
    fn stands(&self, between: &Exchanging) -> Result<bool, Error> {
        match self.plug {
            Some(Plug { walls: SlitWalls::Conducting, .. }) if between.density_difference > 0.0 => {
                let onset = leak::plug_onset_width(self.lid.depth, between, SlitWalls::Conducting)?;
                Ok(self.lid.width < onset.value)
            }
            _ => Ok(false),
        }
    }

    /// Wind pressure across the box, Pa.
    fn blown(&self, outside: MoistState) -> Result<f64, Error> {
        if self.wind <= 0.0 {
            return Ok(0.0);
        }
        let density = moist_air::density(outside.temperature, self.pressure, outside.vapour_pressure)?.value;
        Ok(wind::pressure_difference(density, self.wind, wind::FRONT_SWAMI_CHANDRA, wind::BACK_SWAMI_CHANDRA)?.value)
    }
}

/// Which part of the balance a link carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Share {
    /// Warm air from the box to the room.
    Air,
    /// Vapour from the pot to the room.
    Vapour,
    /// Vapour from the pot to the liner, where it condenses.
    Condensate,
}

/// Temperatures of the last balance, how wet the liner was, and what it gave.
pub(crate) type LastBalance = Option<([f64; 4], f64, Balance)>;

/// One share of the balance; reads pot, air of the box, liner, room.
#[derive(Debug, Clone)]
pub(crate) struct LeakLaw {
    /// The joints, but for the wind.
    pub(crate) joints: Joints,
    /// Wind speed in time, m/s, and how much of it reaches the box.
    pub(crate) wind: (Signal, f64),
    /// The water on the liner.
    pub(crate) film: StoreId,
    pub(crate) share: Share,
    /// The last balance, shared by the links that read it: they ask at the same temperatures.
    pub(crate) last: Arc<Mutex<LastBalance>>,
}

/// A liner so near to where nothing condenses has no secant any more, K.
const BESIDE: f64 = 0.05;
/// Step of the difference quotients, K.
const STEP: f64 = 0.2;

impl LeakLaw {
    /// The balance in the wind of a moment with so much of the liner wet.
    fn balance(&self, time: f64, read: [f64; 4], wet: f64) -> Result<Balance, Error> {
        let joints = Joints { wind: self.wind.0.at(time) * self.wind.1, ..self.joints };
        let last = self.last.lock().ok().and_then(|last| *last);
        if let Some((at, then, balance)) = last
            && at == read
            && then == wet
            && balance.wind == joints.wind
        {
            return Ok(balance);
        }
        let balance = joints.balance(read, wet, last.as_ref().map(|(.., balance)| balance))?;
        if let Ok(mut last) = self.last.lock() {
            *last = Some((read, wet, balance));
        }
        Ok(balance)
    }

    /// The nodes that the share joins, by their place among those read.
    fn ends(&self) -> [usize; 2] {
        match self.share {
            Share::Air => [1, 3],
            Share::Vapour => [0, 3],
            Share::Condensate => [0, 2],
        }
    }

    /// The share at a moment, with so much water on the liner, kg.
    fn at(&self, time: f64, read: [f64; 4], film: f64) -> Result<Frozen, Error> {
        let balance = self.balance(time, read, self.joints.liner.wet(film))?;
        let at = self.ends().map(|k| read[k]);
        let (vapour, slope) = match self.share {
            Share::Air => {
                // The flow of warm air goes with its own difference.
                let slope = if at[0] == at[1] { 0.0 } else { balance.air / (at[0] - at[1]) };
                return Ok(Frozen { at, flow: balance.air, gradient: [slope, -slope], water: 0.0 });
            }
            Share::Vapour => (balance.leaves, [0.0; 2]),
            Share::Condensate => (balance.condenses, balance.slope),
        };
        if vapour == 0.0 {
            return Ok(Frozen { at, ..Frozen::default() });
        }
        let latent = water::latent_heat_wagner_pruss_1993(read[0])?.value;
        Ok(Frozen { at, flow: latent * vapour, gradient: slope.map(|s| latent * s), water: 1.0 / latent })
    }

    /// The same; without a balance no number, and the stage fails with an error that says so.
    fn held(&self, time: f64, read: &[f64], film: f64) -> Frozen {
        let read = [read[0], read[1], read[2], read[3]];
        let nothing = Frozen { at: self.ends().map(|k| read[k]), flow: f64::NAN, ..Frozen::default() };
        self.at(time, read, film).unwrap_or(nothing)
    }
}

impl Law for LeakLaw {
    fn flow(&self, time: f64, read: &[f64], gradient: &mut [f64]) -> f64 {
        let held = self.held(time, read, 0.0);
        gradient.fill(0.0);
        for (k, slope) in self.ends().into_iter().zip(held.gradient) {
            gradient[k] = slope;
        }
        held.flow
    }

    fn jumps(&self, from: f64, to: f64) -> Vec<f64> {
        self.wind.0.turns(from, to)
    }

    fn holds(&self) -> bool {
        true
    }

    fn frozen(&self, time: f64, read: &[f64], stores: &[f64]) -> Option<Frozen> {
        Some(self.held(time, read, stores.get(self.film.0).copied().unwrap_or(0.0)))
    }
}

/// Vapour from the pot straight to the air of the room, past the rim of its lid or from the open surface of the dish; reads
/// dish and room.
#[derive(Debug, Clone)]
pub(crate) struct ToRoom {
    pub(crate) mouth: Mouth,
    /// Pressure of the air, Pa.
    pub(crate) pressure: f64,
    /// Wind speed in time, m/s.
    pub(crate) wind: Signal,
}

/// Convective coefficient of an outer surface beyond that of still air at a wind speed (m/s), W/(m² K).
pub(crate) fn wind_coefficient(speed: f64) -> Result<f64, Error> {
    let calm = surface::outside_convection_iso_6946(0.0)?.value;
    Ok(surface::outside_convection_iso_6946(speed)?.value - calm)
}

impl ToRoom {
    /// Flow of heat, W, and the water that goes with it, kg/J.
    fn at(&self, time: f64, dish: f64, room: f64) -> Result<(f64, f64), Error> {
        let most = HIGHEST_SHARE * self.pressure;
        let (food, wet) = below_boiling(dish, most)?;
        let outside = (ROOM_HUMIDITY * water::saturation_pressure_if97(room)?.value).min(0.5 * self.pressure);
        let flow = match self.mouth {
            Mouth::Sealed => 0.0,
            Mouth::Rim(rim) => leak::rim_diffusion(&rim, self.pressure, food, outside)?.value,
            Mouth::Open { area } => {
                let forced = wind_coefficient(self.wind.at(time))?;
                let transfer = surface_transfer(area, food, room, forced, self.pressure)?;
                moist_air::stefan_diffusion(1.0, 1.0, self.pressure, food, wet, outside)?.value
                    / moist_air::vapour_diffusivity_ashrae(food, self.pressure)?.value
                    * transfer
            }
        };
        let latent = water::latent_heat_wagner_pruss_1993(food)?.value;
        Ok((flow * latent, 1.0 / latent))
    }
}

impl Law for ToRoom {
    fn flow(&self, time: f64, read: &[f64], gradient: &mut [f64]) -> f64 {
        let at = |d: f64| self.at(time, read[0] + d, read[1]).map_or(f64::NAN, |f| f.0);
        let flow = at(0.0);
        gradient[0] = (at(STEP) - flow) / STEP;
        flow
    }

    fn jumps(&self, from: f64, to: f64) -> Vec<f64> {
        self.wind.turns(from, to)
    }

    fn holds(&self) -> bool {
        true
    }

    fn frozen(&self, time: f64, read: &[f64], _stores: &[f64]) -> Option<Frozen> {
        let not_a_number = (f64::NAN, 0.0);
        let (flow, water) = self.at(time, read[0], read[1]).unwrap_or(not_a_number);
        let slope = (self.at(time, read[0] + STEP, read[1]).unwrap_or(not_a_number).0 - flow) / STEP;
        Some(Frozen { at: [read[0], read[1]], flow, gradient: [slope.max(0.0), 0.0], water })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn slit(length: f64, width: f64, depth: f64) -> Slit {
        Slit { length, width, depth, bends: 0 }
    }

    fn joints(lid: f64, low: f64) -> Joints {
        Joints {
            lid: slit(1.2, lid, 0.05),
            plug: None,
            upright: None,
            low: (low > 0.0).then(|| slit(1.2, low, 0.05)),
            height: 0.3,
            mouth: Mouth::Rim(slit(std::f64::consts::PI * 0.24, 0.0003, 0.008)),
            liner: Facing { area: 0.07, distance: 0.015 },
            pressure: 101_325.0,
            wind: 0.0,
        }
    }

    fn room() -> MoistState {
        MoistState { temperature: 288.15, vapour_pressure: 1023.447 }
    }

    /// With a strong flow nothing condenses, and the rim lets through nearly what it gives into dry air: 1.7234 W at
    /// 90 °C (COMPUTED independently).
    #[test]
    fn vapour_that_does_not_condense_all_leaves() {
        let t = [363.15, 355.15, 355.15, 288.15];
        let balance = joints(2e-3, 2e-3).balance(t, 0.0, None).unwrap();
        assert_eq!(balance.condenses, 0.0);
        let heat = balance.leaves * water::latent_heat_wagner_pruss_1993(363.15).unwrap().value;
        assert!(heat > 1.6 && heat < 1.7235, "{heat} W");
    }

    /// A tight box returns the vapour to the liner; only diffusion through its joint leaves.
    #[test]
    fn vapour_in_a_tight_box_condenses_on_the_liner() {
        let balance = joints(1e-4, 0.0).balance([363.15, 355.15, 355.15, 288.15], 0.0, None).unwrap();
        assert!(balance.condenses > 5.0 * balance.leaves && balance.leaves > 0.0, "{balance:?}");
    }

    /// Pot 90 °C, liner 82 °C, rim 0.3 mm by 8 mm: 0.57 of the vapour leaves past a resting lid of 0.5 mm, all of it by
    /// two levels of 0.5 mm (COMPUTED independently).
    #[test]
    fn part_of_the_vapour_leaves_past_a_resting_lid() {
        let t = [363.15, 355.15, 355.15, 288.15];
        let share = |j: Joints| {
            let b = j.balance(t, 0.0, None).unwrap();
            b.leaves / (b.leaves + b.condenses)
        };
        assert!((share(joints(5e-4, 0.0)) - 0.57).abs() < 0.02, "{}", share(joints(5e-4, 0.0)));
        assert_eq!(share(joints(5e-4, 5e-4)), 1.0);
    }

    /// Two levels, 1 mm, 0.3 m apart, 90 °C inside: 0.136 m³/h of dry air (COMPUTED independently, for equal volumes;
    /// the cold side of a dry flow passes 0.79 of the volume). Saturated it is at least the 0.32 of equal volumes: what
    /// comes in takes up three times its volume of vapour, so the low gap sees a quarter of what leaves, and almost the
    /// whole column drives the high gap alone (twice the flow, were the gas the same).
    #[test]
    fn two_levels_make_a_chimney() {
        let j = joints(1e-3, 1e-3);
        let hour = |vapour_pressure: f64| {
            let inside = MoistState { temperature: 363.15, vapour_pressure };
            3600.0 * j.exchange(inside, room(), 0.0).unwrap().0
        };
        assert!(hour(1023.447) > 0.136 && hour(1023.447) < 0.136 * 2.0 / 1.79 * 1.01, "{}", hour(1023.447));
        assert!(hour(70_180.0) > 0.32 * 1.5 && hour(70_180.0) < 0.32 * 2.0, "{}", hour(70_180.0));
    }

    #[test]
    fn wind_drives_a_joint_on_one_level_and_never_slows_a_chimney() {
        let inside = MoistState { temperature: 363.15, vapour_pressure: 20_000.0 };
        let through = |low: f64, wind: f64, inside: MoistState| {
            let joints = Joints { wind, ..joints(1e-3, low) };
            joints.exchange(inside, room(), joints.blown(room()).unwrap()).unwrap().0
        };
        assert!(through(0.0, 2.0, inside) > 10.0 * through(0.0, 0.0, inside).max(1e-9));
        let cold = MoistState { temperature: 275.15, vapour_pressure: 600.0 };
        for state in [inside, cold] {
            assert!(through(1e-3, 1.0, state) > through(1e-3, 0.0, state));
        }
    }

    #[test]
    fn a_seam_that_opens_never_lessens_the_leak() {
        let inside = MoistState { temperature: 363.15, vapour_pressure: 20_000.0 };
        for wind in [0.0, 0.35, 0.7, 1.75] {
            let mut before = 0.0;
            for low in [0.0, 4e-5, 6e-5, 2e-4, 5e-4, 1e-3, 2e-3] {
                let joints = Joints { wind, ..joints(1.5e-3, low) };
                let (now, _) = joints.exchange(inside, room(), joints.blown(room()).unwrap()).unwrap();
                assert!(now >= before, "{wind} m/s, seam of {low} m: {now} after {before} m3/s");
                before = now;
            }
        }
    }

    /// A wet liner gives to gas that is drier what a dry one does not, and takes from one that is moister as much as that does,
    /// but for the onset; what it takes and gives goes through zero without a kink, where the secant becomes a tangent.
    #[test]
    fn a_wet_liner_dries_into_a_dry_box() {
        let at = |liner: f64, wet: f64| joints(2e-3, 2e-3).balance([363.15, 355.15, liner, 288.15], wet, None);
        let warm = at(355.15, 1.0).unwrap();
        assert!(warm.condenses < 0.0 && warm.leaves > 3.0 * at(355.15, 0.0).unwrap().leaves, "{warm:?}");
        let half = at(355.15, 0.5).unwrap().condenses;
        assert!(half < 0.0 && half > warm.condenses, "{half}");
        let [wet, dry] = [1.0, 0.0].map(|wet| at(280.0, wet).unwrap().condenses);
        assert!(wet > 0.0 && (dry / wet - 1.0).abs() < 0.02, "{wet} kg/s wet, {dry} kg/s dry");
        let (mut liner, mut before) = (280.0, at(280.0, 0.3).unwrap().condenses);
        while liner < 310.0 {
            liner += 0.02;
            let now = at(liner, 0.3).unwrap();
            assert!(now.condenses <= before && before - now.condenses < 1e-8, "{liner} K: {} kg/s", now.condenses);
            if now.condenses != 0.0 {
                let tangent =
                    (at(liner + 1e-3, 0.3).unwrap().condenses - at(liner - 1e-3, 0.3).unwrap().condenses) / 2e-3;
                let near_zero = now.condenses.abs() < 1e-10;
                assert!(now.slope[1] < 0.0 && (!near_zero || now.slope[1] / tangent < 4.0), "{liner} K: {tangent}");
            }
            before = now.condenses;
        }
    }

    #[test]
    fn a_cold_pot_takes_up_water_from_a_moist_room_and_from_no_liner() {
        let balance = joints(1e-3, 1e-3).balance([278.15, 288.15, 285.15, 303.15], 0.0, None).unwrap();
        assert!(balance.leaves < 0.0, "{balance:?}");
        let even = joints(1e-3, 1e-3).balance([288.15; 4], 0.0, None).unwrap();
        assert_eq!(even.air * 0.0, 0.0);
    }
}
