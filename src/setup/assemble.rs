//! A setup becomes a network: the pot a hub, each wall a patch between two faces, films, leak and the carry links.

use super::member::{Effect, Member};
use super::place::{Mechanism, Part, Place};
use super::{Face, Plan, Range, Setup, Shell};
use crate::conduction::{WallPatch, share_cells};
use crate::error::{Error, Within};
use crate::march::Phase;
use crate::network::{Enthalpy, Link, LinkId, Network, Node, NodeId, PatchId, PathId, Signal};
use crate::units::{HeatTransfer, Si};
use crate::wall::Wall;

/// Relative change of a conductance that the march need not follow.
const RELINEARISE: f64 = 2e-3;

/// A network of a setup, and where its parts are.
#[derive(Debug)]
pub(crate) struct Assembly {
    pub(crate) network: Network,
    /// The pot with its dish.
    pub(crate) pot: NodeId,
    /// What each path stands for.
    pub(crate) paths: Vec<(PathId, Place, Mechanism)>,
    /// Which patch is what.
    pub(crate) parts: Vec<(PatchId, Part)>,
    /// Links that carry heat only while the pot is outside.
    carry: Vec<LinkId>,
}

/// Between pot and liner, convection and radiation together: 9, from 6 to 12 W/(m² K). Estimate: a gap of 10 to
/// 20 mm conducts 1.8 to 3, radiation adds 2 (polished pot) to 8 (dark faces).
pub(crate) fn inside_film() -> Range<HeatTransfer> {
    Range::of_members(6.0, 9.0, 12.0)
}

/// From the outside of the box to a room without draught: 8, from 6 to 10 W/(m² K). A plain box of 0.3 m at 2 to 5 K
/// above the room loses 7.5 to 8.3 by the simple free-convection relations and radiation.
pub(crate) fn outside_film() -> Range<HeatTransfer> {
    Range::of_members(6.0, 8.0, 10.0)
}

/// From a bare lidded pot near the boil: 13, from 10 to 18 W/(m² K) (estimate: free convection 6 to 8, radiation 2 to
/// 8, steam past the lid).
pub(crate) fn bare_pot_film() -> Range<HeatTransfer> {
    Range::of_members(10.0, 13.0, 18.0)
}

impl Setup {
    /// The network of one member of the range on a mesh of `cells` across each wall.
    pub(crate) fn assemble(&self, plan: &Plan, member: Member, cells: usize, level: usize) -> Result<Assembly, Error> {
        let mut network = Network::default();
        let room = network.node(Node::Reservoir(Signal::Constant(plan.room().si())));
        let pot = network.node(Node::Free {
            enthalpy: Enthalpy::Capacity(self.heat_capacity(member)?),
            start: plan.start_temperature()?.si(),
        });
        let mut assembly = Assembly { network, pot, paths: Vec::new(), parts: Vec::new(), carry: Vec::new() };

        let path = assembly.path(Place::Carry, Mechanism::Film);
        let bare = member.pick(&bare_pot_film(), Effect::Cools) + plan.wind_coefficient()?;
        let link = assembly.network.link(Link::conductance(pot, room, bare * self.pot().surface(), path));
        assembly.carry.push(link);

        let lid = match self.shell() {
            Shell::Box(enclosure) => {
                for (face, area, edges) in enclosure.areas(self.pot()) {
                    if let Some(wall) = enclosure.wall(face) {
                        let site = Site { face, extent: area, edges, room };
                        assembly.attach_wall(wall, &site, plan, member, (cells, level)).within(face.to_string())?;
                    }
                }
                enclosure.lid_closing().scaled(enclosure.joint(self.pot()))
            }
            Shell::Sleeve(sleeve) => {
                let (side, end) = (sleeve.side_wall(self.pot())?, sleeve.end_wall()?);
                for (face, extent, edges) in sleeve.extents(self.pot()) {
                    let wall = if face == Face::Side { &side } else { &end };
                    let site = Site { face, extent, edges, room };
                    assembly.attach_wall(wall, &site, plan, member, (cells, level)).within(face.to_string())?;
                }
                sleeve.lid_closing().scaled(sleeve.joint(self.pot()))
            }
        };
        let leak = member.pick(&lid.leak(), Effect::Cools);
        let path = assembly.path(Place::LidJoint, Mechanism::Leak);
        assembly.network.link(Link::conductance(pot, room, leak, path));
        Ok(assembly)
    }

    /// Heat capacity of dish and pot, J/K.
    fn heat_capacity(&self, member: Member) -> Result<f64, Error> {
        let (metal, mass) = self.pot().metal()?;
        let of = |m: &crate::material::Material| {
            let c = m.heat_capacity();
            Range::of_members(c.low().si(), c.value().si(), c.high().si())
        };
        let specific: Range<crate::units::SpecificHeatCapacity> = of(&metal);
        let mut sum = member.pick(&mass, Effect::Holds) * member.pick(&specific, Effect::Holds);
        if let Some((dish, mass)) = self.pot().contents() {
            let specific: Range<crate::units::SpecificHeatCapacity> = of(dish.material());
            sum += mass.si() * member.pick(&specific, Effect::Holds);
        }
        Ok(sum)
    }
}

/// Where a wall stands and how much of it there is.
struct Site {
    face: Face,
    /// Inner area of a flat wall, length of a round one.
    extent: f64,
    /// What edges and corners add to it.
    edges: f64,
    room: NodeId,
}

impl Assembly {
    fn path(&mut self, place: Place, mechanism: Mechanism) -> PathId {
        let path = self.network.path();
        self.paths.push((path, place, mechanism));
        path
    }

    /// A wall between the pot and the room: inner film, patch, outer film (shared between face and edges so that the
    /// ledger tells them apart).
    fn attach_wall(
        &mut self,
        wall: &Wall,
        site: &Site,
        plan: &Plan,
        member: Member,
        (cells, level): (usize, usize),
    ) -> Result<(), Error> {
        let counts: Vec<usize> = share_cells(wall, cells).iter().map(|n| n * level).collect();
        let patch = WallPatch::with_laws(wall, &counts, RELINEARISE, |layer| member.laws(layer))?;
        let start = plan.room().si();
        let face = |network: &mut Network| network.node(Node::Free { enthalpy: Enthalpy::None, start });
        let inner = face(&mut self.network);
        let outer = face(&mut self.network);
        let whole = site.extent + site.edges;
        let piece = patch.attach(whole, Some(inner), outer, |_, _| start)?;
        let id = self.network.patch(piece);
        self.parts.push((id, Part::Wall(site.face)));

        let inner_area = wall.area_at(wall.inner_coordinate());
        let outer_area = wall.area_at(wall.inner_coordinate() + wall.thickness().si());
        let conduction = self.path(Place::Face(site.face), Mechanism::Conduction);
        let edge = self.path(Place::Face(site.face), Mechanism::Edge);
        let inside = member.pick(&inside_film(), Effect::Cools) * inner_area;
        let outside = (member.pick(&outside_film(), Effect::Cools) + plan.wind_coefficient()?) * outer_area;
        self.network.link(Link::conductance(self.pot, inner, inside * whole, conduction));
        self.network.link(Link::conductance(outer, site.room, outside * site.extent, conduction));
        self.network.link(Link::conductance(outer, site.room, outside * site.edges, edge));
        Ok(())
    }

    /// The phases from leaving the stove to the horizon; the box is shut at time zero.
    pub(crate) fn phases(&self, plan: &Plan, stops: &[f64]) -> Vec<Phase> {
        let links = self.network.links.len();
        let is_carry = |l: usize| self.carry.iter().any(|c| c.0 == l);
        let mut phases = Vec::new();
        if plan.carry_time().si() > 0.0 {
            // Outside the box only the bare pot loses heat; the walls stay as they are.
            phases.push(Phase { end: 0.0, active: (0..links).map(is_carry).collect() });
        }
        for end in stops {
            phases.push(Phase { end: *end, active: (0..links).map(|l| !is_carry(l)).collect() });
        }
        phases
    }
}
