//! A dish that does not stir itself: a porridge, a thick stew, rice. Heat reaches its edge by conduction alone.
//!
//! The pot is a short cylinder of food that meets the pot at its side, its base and, by steam that rises and drips back,
//! its top. It becomes a body of one dimension, as part of a long cylinder or as a slab on the base, whichever gives its
//! heat up faster, with the conductivity that makes up for the other ways out. That ways out add up makes the edge of a
//! dish that cools a little colder than it is: two slabs that cross pass a fifth more than their sum (a long square bar;
//! torsion constants 0.1406 and 1/6, from memory), and a sudden chill goes with the root of the conductivity and not with
//! the area. So the coldest spot errs to the cautious side; at its
//! cautious end it has no way out but the first. How stiff a dish is when hot is uncertain too: at the cautious end of its
//! mean, and at the generous end of its coldest spot, it stirs itself.

use super::assemble::{Assembly, Scene};
use super::{Dish, Input, Pot, Range};
use crate::conduction::{LayerLaws, Mesh, WallPatch};
use crate::error::{Error, Within};
use crate::network::{Enthalpy, Node, NodeId, PatchId};
use crate::units::{Mass, Ratio, Si, metres};
use crate::wall::{Layer, Wall};

/// Relative change of a property that the march need not follow.
const RELINEARISE: f64 = 1e-4;

/// A dish that stands in a pot, m.
struct Standing {
    radius: f64,
    depth: f64,
}

impl Standing {
    fn new(pot: &Pot, dish: &Dish, mass: Mass) -> Self {
        let volume = mass.si() / dish.material().density().value().si();
        Standing { radius: 0.5 * pot.diameter().si(), depth: volume / pot.top_area() }
    }

    /// What the ways out are worth, 1/m²: one over the mean excess of a body that is heated evenly, of unit conductivity
    /// and heating (R²/8 in a long cylinder, h²/3 in a slab closed on one side, h²/12 in an open one). Side, base, base and
    /// top together.
    fn ways(&self) -> [f64; 3] {
        [8.0 / self.radius.powi(2), 3.0 / self.depth.powi(2), 12.0 / self.depth.powi(2)]
    }

    /// Whether more goes out by the side than by the base.
    fn is_deep(&self) -> bool {
        let [side, base, _] = self.ways();
        side >= base
    }

    /// Factor on the conductivity that makes up for the ways out which the body leaves out.
    fn other_ways(&self) -> f64 {
        let [side, base, ends] = self.ways();
        (side + ends) / side.max(base)
    }
}

impl Pot {
    /// What hinders the heat inside a dish that stands still, in parts of what is likely: none where it stirs itself after
    /// all, most at the lowest conductivity and by one way out.
    pub(crate) fn hindrance(&self) -> Option<Range<Ratio>> {
        let (dish, mass) = self.contents().filter(|_| self.is_still())?;
        let k = dish.material().conductivity();
        let most = Standing::new(self, dish, mass).other_ways() * (k.value().si() / k.low().si());
        Some(Range::of_members(0.0, 1.0, most))
    }
}

impl Dish {
    /// Attaches the dish to the pot; returns its patch and the node of its warmest place, the axis or the top.
    pub(crate) fn attach_still(
        &self,
        mass: Mass,
        start: f64,
        assembly: &mut Assembly,
        scene: &Scene<'_>,
    ) -> Result<(PatchId, NodeId), Error> {
        let standing = Standing::new(scene.pot, self, mass);
        let (builder, thickness, extent) = if standing.is_deep() {
            (Wall::cylindrical(metres(0.0)), standing.radius, standing.depth)
        } else {
            (Wall::planar(), standing.depth, scene.pot.top_area())
        };
        let layer = Layer::new(self.material().clone(), metres(thickness)).within("dish")?;
        let material = self.material();
        let laws = LayerLaws {
            conductivity: material
                .conductivity()
                .law()
                .scaled(standing.other_ways() / scene.hindrance)
                .within("dish")?,
            heat_capacity: scene.choice.law(Input::DishHeatCapacity, material.heat_capacity()),
        };
        let wall = builder.layer(layer).build().within("dish")?;
        // What a carry chills is thin against a pot.
        let mesh = Mesh::TowardsOutside(2 * scene.cells, scene.level);
        let patch = WallPatch::with_laws(&wall, &mesh, RELINEARISE, true, |_| laws.clone())?;
        let middle = assembly.network.node(Node::Free { enthalpy: Enthalpy::None, start });
        let piece = patch.attach(extent, Some(middle), assembly.pot, |_, _| start)?;
        let id = assembly.network.patch(piece);
        assembly.network.followed.push(id);
        assembly.network.body = Some(id);
        Ok((id, middle))
    }
}
