//! A setup becomes a network: the pot a hub, the air about it a hub, each wall a patch between two faces, and the
//! links between them. Every part attaches itself; this file holds what they share and their order.

use super::attach_edges::SolvedAt;
use super::gap_law::{BareFilm, OpenTop};
use super::leak_law::wind_coefficient;
use super::member::{Choice, Inner, Member};
use super::place::{Mechanism, Part, Place};
use super::plan::{Action, Plan};
use super::setup::ConstantFilms;
use super::{Face, Input, Pot, Range, Setup, Shell};
use crate::conduction::WallPatch;
use crate::correlation::{air, atmosphere, constants};
use crate::error::{Error, Within};
use crate::march::{Event, Phase};
use crate::material::Material;
use crate::network::shelf::Shelf;
use crate::network::{
    Enthalpy, Held, Link, LinkId, Network, Node, NodeId, PatchId, PathId, Signal, StoreId, WATER_HEAT_CAPACITY,
};
use crate::units::{HeatTransfer, Ratio, Si, Time};

/// A network of a setup, and where its parts are.
#[derive(Debug)]
pub(crate) struct Assembly {
    pub(crate) network: Network,
    /// The dish with the part of the pot that it wets; where it is still, that part of the pot and the edge of the dish.
    pub(crate) pot: NodeId,
    /// The part of the pot above the dish; the same node where films are constant or the dish stands still.
    pub(crate) dry: NodeId,
    /// Air between pot and liner.
    pub(crate) air: NodeId,
    pub(crate) room: NodeId,
    /// What the outside radiates to.
    pub(crate) sky: NodeId,
    /// What it rests on.
    pub(crate) ground: NodeId,
    /// What each path stands for.
    pub(crate) paths: Vec<Account>,
    /// The walls.
    pub(crate) walls: Vec<MeshedWall>,
    /// The patches of solved edges, those of their plain walls with weights below zero.
    pub(crate) edges: Vec<PatchId>,
    /// Where those were solved.
    pub(crate) solved_at: Option<SolvedAt>,
    /// What fills the inner corners, and the environment that it faces.
    pub(crate) fillers: Vec<(Material, NodeId)>,
    /// Water in the pot, where its vapour is followed.
    pub(crate) water: Option<StoreId>,
    /// Water on the liner, likewise.
    pub(crate) film: Option<StoreId>,
    /// Second bodies and the air.
    pub(crate) bodies: Vec<(NodeId, Part)>,
    /// Second bodies, and the surface of each, m².
    pub(crate) companions: Vec<(NodeId, f64)>,
    /// The patch of each kind of piece, and the node in its middle.
    pub(crate) pieces: Vec<(PatchId, NodeId)>,
    /// The dish, where it is still: its patch, and the node of its warmest place.
    pub(crate) still: Option<(PatchId, NodeId)>,
    /// What a reheat is accounted under.
    pub(crate) reheat: PathId,
    /// Heat capacity of the pot without its dish, J/K.
    pub(crate) metal: f64,
    /// Heat in every phase.
    pub(crate) always: Vec<LinkId>,
    /// Heat only on the stove.
    pub(crate) stove: Vec<LinkId>,
    /// Heat only while the pot is outside.
    pub(crate) carry: Vec<LinkId>,
    /// Heat only while the lid is open.
    pub(crate) open: Vec<LinkId>,
    /// No heat while the lid is open.
    pub(crate) lid: Vec<LinkId>,
    /// Heat only while the lid is off the pot as well.
    pub(crate) uncovered: Vec<LinkId>,
    /// No heat while the lid is off the pot.
    pub(crate) covered: Vec<LinkId>,
}

/// What a path stands for. Faces that are alike share a path, in equal parts.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Account {
    pub(crate) path: PathId,
    pub(crate) place: Place,
    pub(crate) mechanism: Mechanism,
    /// How much of what went along the path is meant.
    pub(crate) share: f64,
}

/// A wall in the network, or what stands for its edges.
#[derive(Debug)]
pub(crate) struct MeshedWall {
    pub(crate) id: PatchId,
    /// The faces it makes up, in equal parts.
    pub(crate) faces: Vec<Face>,
    pub(crate) patch: WallPatch,
    /// Of its layers.
    pub(crate) materials: Vec<Material>,
}

/// What every part needs to know to attach itself.
pub(crate) struct Scene<'a> {
    pub(crate) pot: &'a Pot,
    pub(crate) plan: &'a Plan,
    pub(crate) choice: &'a Choice<'a>,
    /// What hinders the heat inside the dish, in parts of what is likely; nothing where it is stirred.
    pub(crate) hindrance: f64,
    pub(crate) films: Option<ConstantFilms>,
    /// Cells across a wall on the coarsest mesh, and the refinement.
    pub(crate) cells: usize,
    pub(crate) level: usize,
    pub(crate) shelf: &'a Shelf,
    /// Where an earlier forecast solved the edges.
    pub(crate) solved_at: Option<&'a SolvedAt>,
}

/// From a bare lidded pot near the boil: 13, from 10 to 18 W/(m² K) (estimate: free convection 6 to 8, radiation 2 to
/// 8, steam past the lid).
pub(crate) fn bare_pot_film() -> Range<HeatTransfer> {
    Range::of_members(10.0, 13.0, 18.0)
}

/// The exchange through the top of an opened box against that of a round hole: half to twice (estimate: the published
/// one is a recalled fit, and the pot stands in the way).
pub(crate) fn open_top_factor() -> Range<Ratio> {
    Range::of_members(0.5, 1.0, 2.0)
}

/// Melting of ice: 273.15 K, 333.6 kJ/kg, ice 2050 J/(kg K) (IAPWS, from memory; the last also in the catalogue).
/// Melting is spread over a tenth of a kelvin about 0 °C.
const MELTING_POINT: f64 = 273.15;
const HEAT_OF_MELTING: f64 = 333.6e3;
const ICE_HEAT_CAPACITY: f64 = 2050.0;
const MELTING_SPAN: f64 = 0.1;

/// Share of a still dish that stays when all of its water has gone, at least.
const CRUST: f64 = 0.02;

/// Conductance from flame to pot while it simmers, W/K.
const STOVE: f64 = 1e6;

impl Setup {
    /// The network of one member of the range, crossed or not, on a mesh of `cells` across each wall; with edges as an earlier
    /// forecast solved them, if there is one.
    pub(crate) fn assemble(
        &self,
        plan: &Plan,
        (member, inner, crossed): (Member, Inner, bool),
        (cells, level): (usize, usize),
        solved_at: Option<&SolvedAt>,
    ) -> Result<Assembly, Error> {
        self.assemble_by(plan, &Choice::new(self, member, inner).crossed(crossed), (cells, level), solved_at)
    }

    /// The same by a choice of what is uncertain.
    pub(crate) fn assemble_by(
        &self,
        plan: &Plan,
        choice: &Choice<'_>,
        (cells, level): (usize, usize),
        solved_at: Option<&SolvedAt>,
    ) -> Result<Assembly, Error> {
        let mut network = Network::default();
        let reheat = network.path();
        let whole = self.metal_capacity(choice)?;
        let hindrance = self.pot().hindrance().map_or(0.0, |range| choice.hindrance(&range));
        let still = hindrance > 0.0;
        // The top of a dish that stands still cools with the pot: what rises from it is not what keeps its lid warm.
        let together = self.films().is_some() || self.pot().is_still();
        let dry = if together { 0.0 } else { whole * self.pot().dry_share() };
        let metal = whole - dry;
        let (pot, films, shelf) = (self.pot(), self.films(), self.shelf());
        let scene = Scene { pot, plan, choice, hindrance, films, cells, level, shelf, solved_at };
        let room = network.node(Node::Reservoir(plan.room_course().signal().clone()));
        let sky = match plan.sky_course() {
            Some(course) => network.node(Node::Reservoir(course.signal().clone())),
            None => room,
        };
        let ground = match plan.resting().course(plan.room()) {
            Some(course) => network.node(Node::Reservoir(course.signal().clone())),
            None => room,
        };
        let (enthalpy, pot_start) = self.pot_enthalpy(plan, choice, metal, still)?;
        let pot = network.node(Node::Free { enthalpy, start: pot_start });
        let start = plan.shell_start();
        let air = network.node(Node::Free { enthalpy: Enthalpy::Capacity(self.air_capacity(start)?), start });
        let mut assembly = Assembly {
            network,
            pot,
            dry: pot,
            air,
            room,
            sky,
            ground,
            paths: vec![Account { path: reheat, place: Place::Reheat, mechanism: Mechanism::Heating, share: 1.0 }],
            walls: Vec::new(),
            edges: Vec::new(),
            solved_at: None,
            fillers: Vec::new(),
            water: None,
            film: None,
            bodies: vec![(air, Part::Air)],
            companions: Vec::new(),
            pieces: Vec::new(),
            still: None,
            reheat,
            metal,
            always: Vec::new(),
            stove: Vec::new(),
            carry: Vec::new(),
            open: Vec::new(),
            lid: Vec::new(),
            uncovered: Vec::new(),
            covered: Vec::new(),
        };
        if dry > 0.0 {
            assembly.dry = assembly.attach_dry_part(dry, pot_start, &scene)?;
        }
        assembly.attach_bare_pot(self.shell().opening(self.pot()), &scene)?;
        if let Some((dish, mass)) = self.pot().contents().filter(|_| still) {
            assembly.still = Some(dish.attach_still(mass, pot_start, &mut assembly, &scene)?);
        }
        if !self.pot().pieces().is_empty() {
            // What has ice in it does not come from the stove.
            if self.pot().ice().si() == 0.0 {
                assembly.attach_stove(&scene)?;
            }
            for (kind, pieces) in self.pot().pieces().iter().enumerate() {
                let piece = pieces.attach(kind, &mut assembly, &scene)?;
                assembly.pieces.push(piece);
            }
        }
        for (index, companion) in self.companions().iter().enumerate() {
            companion.attach(index, &mut assembly, &scene);
        }
        if let Some(handle) = self.pot().handle() {
            let thickness = self.passed_thickness(Face::Front);
            handle.attach(&mut assembly, &scene, thickness).within("handle")?;
        }
        if let Some(knob) = self.pot().knob() {
            knob.attach(&mut assembly, &scene, self.passed_thickness(Face::Lid)).within("knob")?;
        }
        match self.shell() {
            Shell::Box(enclosure) => enclosure.attach(&mut assembly, &scene).within("box")?,
            Shell::Sleeve(sleeve) => sleeve.attach(&mut assembly, &scene).within("sleeve")?,
        }
        if let Some(store) = assembly.water {
            // What evaporates takes its heat capacity along: no more of it than the dish has. Of a still one, which is a
            // patch, something must be left.
            let (capacity, water) = self.dish_capacity(choice);
            let most = if assembly.still.is_some() { 1.0 - CRUST } else { 1.0 };
            assembly.network.stores[store.0].start = water.min(most * capacity / WATER_HEAT_CAPACITY);
            assembly.network.wet.extend(assembly.still.map(|(patch, _)| (store, patch)));
        }
        Ok(assembly)
    }

    /// Enthalpy of dish and pot, and the temperature they start at, K.
    fn pot_enthalpy(
        &self,
        plan: &Plan,
        choice: &Choice<'_>,
        metal: f64,
        still: bool,
    ) -> Result<(Enthalpy, f64), Error> {
        let (dish_capacity, water) = self.dish_capacity(choice);
        let mass = self.pot().contents().map_or(0.0, |(_, mass)| mass.si());
        let ice = self.pot().ice().si();
        if ice == 0.0 {
            let own = if still { 0.0 } else { dish_capacity };
            return Ok((Enthalpy::Capacity(metal + own), plan.start_temperature()?.si()));
        }
        // Only the water of the dish freezes; the start lies where the right share of it is ice. Liquid, it has no more
        // heat capacity than the whole dish.
        let liquid = (water * WATER_HEAT_CAPACITY).min(dish_capacity);
        let from = MELTING_POINT - 0.5 * MELTING_SPAN;
        let to = MELTING_POINT + 0.5 * MELTING_SPAN;
        let melting = water * HEAT_OF_MELTING + liquid * MELTING_SPAN;
        let reach = 100.0;
        let curve = vec![
            (from - reach, -water * ICE_HEAT_CAPACITY * reach),
            (from, 0.0),
            (to, melting),
            (to + reach, melting + liquid * reach),
        ];
        let frozen = ice * mass / water;
        Ok((Enthalpy::Melting { rest: metal + dish_capacity - liquid, curve }, from + MELTING_SPAN * (1.0 - frozen)))
    }

    /// Heat capacity of the dish, J/K, and its water, kg.
    fn dish_capacity(&self, choice: &Choice<'_>) -> (f64, f64) {
        self.pot().contents().map_or((0.0, 0.0), |(dish, mass)| {
            let capacity = mass.si() * choice.property(Input::DishHeatCapacity, dish.material().heat_capacity());
            (capacity, mass.si() * dish.water_content().si())
        })
    }

    /// Heat capacity of the pot without its dish, J/K.
    fn metal_capacity(&self, choice: &Choice<'_>) -> Result<f64, Error> {
        let (metal, mass) = self.pot().metal()?;
        Ok(choice.pick(Input::PotMass, &mass) * choice.property(Input::PotHeatCapacity, metal.heat_capacity()))
    }

    /// Heat capacity of the air between pot and liner, J/K; at least that of a tenth of a litre, so that a snug sleeve
    /// has some.
    fn air_capacity(&self, temperature: f64) -> Result<f64, Error> {
        let volume = match self.shell() {
            Shell::Box(enclosure) => enclosure.air_volume(self.pot()),
            Shell::Sleeve(sleeve) => sleeve.air_volume(self.pot()),
        };
        let air = air::dry_air(temperature, constants::STANDARD_PRESSURE)?;
        Ok(volume.max(1e-4) * air.density * air.specific_heat)
    }
}

impl Assembly {
    pub(crate) fn path(&mut self, place: Place, mechanism: Mechanism) -> PathId {
        self.path_of_alike(&[place], mechanism)
    }

    /// The path of places that are alike: each has an equal part of it.
    pub(crate) fn path_of_alike(&mut self, places: &[Place], mechanism: Mechanism) -> PathId {
        if let Some(account) = self.paths.iter().find(|a| places.contains(&a.place) && a.mechanism == mechanism) {
            return account.path;
        }
        let path = self.network.path();
        let share = 1.0 / places.len() as f64;
        self.paths.extend(places.iter().map(|&place| Account { path, place, mechanism, share }));
        path
    }

    /// The pot outside the box, and in the opened box, whose top leaves a hole of this diameter, m.
    fn attach_bare_pot(&mut self, diameter: f64, scene: &Scene<'_>) -> Result<(), Error> {
        let film = scene.choice.pick(Input::BarePotFilm, &bare_pot_film());
        let wind = scene.plan.wind_course().signal();
        let room = self.room;
        let bare = |from: NodeId, area: f64, path: PathId| -> Result<Link, Error> {
            if wind.is_constant() {
                return Ok(Link::conductance(from, room, (film + wind_coefficient(wind.at(0.0))?) * area, path));
            }
            Ok(Link::between(from, room, Held(BareFilm { film, area, wind: wind.clone() }), path))
        };
        let path = self.path(Place::Carry, Mechanism::Film);
        let dry = scene.pot.dry_area();
        for (node, area) in [(self.pot, scene.pot.surface() - dry), (self.dry, dry)] {
            let link = self.network.link(bare(node, area, path)?);
            self.carry.push(link);
        }
        let path = self.path(Place::Opening, Mechanism::Film);
        let link = self.network.link(bare(self.top(scene), scene.pot.top_area(), path)?);
        self.open.push(link);
        if self.dry != self.pot && !scene.pot.lid().is_missing() {
            // With its lid off the dish itself meets the room, and the lid does so where it lies.
            let link = self.network.link(bare(self.pot, scene.pot.top_area(), path)?);
            self.uncovered.push(link);
        }
        let factor = scene.choice.pick(Input::OpenTopFactor, &open_top_factor());
        let pressure = atmosphere::pressure_iso_2533(scene.plan.height().si())?.value;
        let exchange = Held(OpenTop { diameter, factor, pressure });
        let link = self.network.link(Link::between(self.air, self.room, exchange, path));
        self.open.push(link);
        Ok(())
    }

    /// What the pot turns upward: its lid, or the dish.
    pub(crate) fn top(&self, scene: &Scene<'_>) -> NodeId {
        if scene.pot.lid().is_missing() { self.pot } else { self.dry }
    }

    /// The stove that holds the pot at its boiling point while pieces cook: a reservoir behind a conductance so large
    /// that the pot follows to a thousandth of a kelvin.
    fn attach_stove(&mut self, scene: &Scene<'_>) -> Result<(), Error> {
        let flame = self.network.node(Node::Reservoir(Signal::Constant(scene.plan.start_temperature()?.si())));
        let path = self.path(Place::Stove, Mechanism::Film);
        let link = self.network.link(Link::conductance(flame, self.pot, STOVE, path));
        self.stove.push(link);
        Ok(())
    }

    /// When the march begins, s: on the stove if pieces cook there, else when the pot leaves it.
    pub(crate) fn begins(&self, plan: &Plan) -> f64 {
        let simmer = if self.stove.is_empty() { 0.0 } else { plan.simmer_time().si() };
        -(plan.carry_time().si() + simmer)
    }

    /// The phases from leaving the stove to the last of `stops`; the box is shut at time zero.
    pub(crate) fn phases(&self, plan: &Plan, stops: &[f64]) -> Vec<Phase> {
        let links = self.network.links.len();
        let among = |list: &[LinkId], l: usize| list.iter().any(|c| c.0 == l);
        let with =
            |list: &[LinkId]| -> Vec<bool> { (0..links).map(|l| among(&self.always, l) || among(list, l)).collect() };
        let cooking = with(&self.stove);
        let outside = with(&self.carry);
        let elsewhere = |l: usize| among(&self.carry, l) || among(&self.stove, l);
        let home = |closed: &[&[LinkId]], opened: &[&[LinkId]]| -> Vec<bool> {
            let rests = |l: usize| closed.iter().any(|list| among(list, l));
            let waits = |l: usize| {
                let only = [&self.open, &self.uncovered];
                only.iter().any(|list| among(list, l)) && !opened.iter().any(|list| among(list, l))
            };
            (0..links).map(|l| !elsewhere(l) && !rests(l) && !waits(l)).collect()
        };
        let shut = home(&[], &[]);
        let open = home(&[&self.lid], &[&self.open]);
        let uncovered = home(&[&self.lid, &self.covered], &[&self.open, &self.uncovered]);
        let mut phases = Vec::new();
        if self.begins(plan) < -plan.carry_time().si() {
            phases.push(Phase { end: -plan.carry_time().si(), active: cooking, events: Vec::new() });
        }
        if plan.carry_time().si() > 0.0 {
            // Outside the box only the bare pot loses heat; the walls stay as they are.
            phases.push(Phase { end: 0.0, active: outside, events: Vec::new() });
        }
        // Every instant at which something begins or ends.
        let end = stops.last().copied().unwrap_or(0.0);
        let mut times: Vec<f64> = stops.to_vec();
        for (time, action) in plan.actions() {
            times.push(time.si());
            if let Action::Open(duration) | Action::Uncover(duration) | Action::Stir(duration) = action {
                times.push(time.si() + duration.si());
            }
        }
        times.retain(|t| *t > 0.0 && *t <= end);
        times.sort_by(f64::total_cmp);
        times.dedup();
        let mut from = 0.0;
        for to in times {
            let during = |time: &Time, duration: &Time| time.si() <= from && from < time.si() + duration.si();
            let is_open = plan.actions().iter().any(|(time, action)| match action {
                Action::Open(duration) => during(time, duration),
                _ => false,
            });
            let is_uncovered = plan.actions().iter().any(|(time, action)| match action {
                Action::Uncover(duration) | Action::Stir(duration) => during(time, duration),
                _ => false,
            });
            let active = match (is_uncovered, is_open) {
                (true, _) => &uncovered,
                (false, true) => &open,
                (false, false) => &shut,
            };
            let events = plan
                .actions()
                .iter()
                .filter(|(time, _)| time.si() == from)
                .filter_map(|(_, action)| match action {
                    Action::Open(_) | Action::Uncover(_) => None,
                    // What stirs itself has one temperature already.
                    Action::Stir(_) => self.still.map(|(dish, _)| Event::Mix { node: self.pot, patches: vec![dish] }),
                    // It is stirred on the stove.
                    Action::Reheat(t) => Some(Event::Bring {
                        node: self.pot,
                        to: t.si(),
                        path: self.reheat,
                        patches: self.still.iter().map(|(patch, _)| *patch).collect(),
                    }),
                    Action::TakeOut(share) => Some(Event::Take {
                        node: self.pot,
                        share: share.si(),
                        stays: self.metal,
                        patches: self.pieces.iter().chain(&self.still).map(|(patch, _)| *patch).collect(),
                    }),
                })
                .collect();
            phases.push(Phase { end: to, active: active.clone(), events });
            from = to;
        }
        phases
    }
}
