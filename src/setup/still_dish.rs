//! A dish that does not stir itself: a porridge, a thick stew, rice. Heat reaches its edge by conduction alone.
//!
//! The dish is a short cylinder of food that meets the pot at its side, its base and, by steam that rises and drips back,
//! its top. It becomes a body of one dimension: a cylinder with a bore that nothing passes, whose outer face is the edge
//! and whose bore is the warmest place. The bore is to the whole, in radius, as what goes out by the ends is to all that
//! goes out. So a tall dish is a solid cylinder, a flat one a slab on the base, and between them nothing jumps as the pot
//! fills. The conductivity makes up for the ways out, so that a body that is heated evenly is as much warmer than its edge
//! as all ways out together allow, whatever the bore. That this bore is the right one was seen at the pace at which a
//! dish gives its heat up when its edge is held: for a cylinder of finite length that is (2.4048/R)² + (π/h)² times the
//! diffusivity (Carslaw and Jaeger 1959, from memory), and in the same proportion to what the ways out are worth the body
//! has it within 0.7 % at every depth, and exactly where it is tall or flat.
//!
//! That ways out add up makes the edge of a
//! dish that cools a little colder than it is: two slabs that cross pass a fifth more than their sum (a long square bar;
//! torsion constants 0.1406 and 1/6, from memory), and a sudden chill goes with the root of the conductivity and not with
//! the area. So the coldest spot errs to the cautious side; at its
//! cautious end it has no way out but the one that is worth most. How stiff a dish is when hot is uncertain too: at the
//! cautious end of its mean, and at the generous end of its coldest spot, it stirs itself.

use std::f64::consts::PI;

use super::assemble::{Assembly, Scene};
use super::{Dish, Input, Pot, Range};
use crate::conduction::{LayerLaws, Mesh, WallPatch};
use crate::error::{Error, Within};
use crate::network::{Enthalpy, Node, NodeId, PatchId};
use crate::units::{Mass, Ratio, Si, metres};
use crate::wall::{Layer, Wall};

/// Relative change of a property that the march need not follow.
const RELINEARISE: f64 = 1e-4;

/// A bore so near to the whole radius that the body is a slab: what it still bends is far below what any march would tell.
const FLAT: f64 = 1.0 - 1e-4;
/// Terms of the series for the mean excess of a hollow cylinder: enough for 1e-7 of it.
const TERMS: i32 = 64;

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

    /// What the one is worth that is worth most, 1/m².
    fn first_way(&self) -> f64 {
        let [side, base, _] = self.ways();
        side.max(base)
    }

    /// Factor on the conductivity that makes up for the ways out beside the first.
    fn other_ways(&self) -> f64 {
        let [side, _, ends] = self.ways();
        (side + ends) / self.first_way()
    }

    /// Radius of the bore over that of the whole.
    fn bore(&self) -> f64 {
        let [side, _, ends] = self.ways();
        ends / (side + ends)
    }

    /// Radius of the bore, nothing where the body is a slab, and how thick it is, m: such that by itself it is worth the
    /// first way out.
    fn body(&self) -> (Option<f64>, f64) {
        let bore = self.bore();
        if bore > FLAT {
            return (None, (3.0 / self.first_way()).sqrt());
        }
        let thickness = (worth(bore) / self.first_way()).sqrt();
        (Some(thickness * bore / (1.0 - bore)), thickness)
    }
}

/// What a hollow cylinder is worth that gives its heat up outside, for unit thickness, by radius of its bore over that of
/// the whole: 8 where it is solid, 3 where it is as good as flat.
fn worth(bore: f64) -> f64 {
    // The mean excess is the integral of the square of what passes each radius over that radius, by the volume; with t from
    // the bore outward and w the thickness by the whole radius, twice the first comes to
    // (bore + w/4 + bore² ∫ t²/(bore + w t) dt) / 2. The integral as a series in w, since its closed form loses all digits
    // where w is small.
    let thickness = 1.0 - bore;
    let term = |k: i32| 2.0 * thickness.powi(k) / (f64::from(k + 1) * f64::from(k + 2) * f64::from(k + 3));
    let integral: f64 = (0..TERMS).rev().map(term).sum();
    2.0 * (1.0 + bore) / (bore + 0.25 * thickness + bore * bore * integral)
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
    /// Attaches the dish to the pot; returns its patch and the node of its warmest place, which is the bore.
    pub(crate) fn attach_still(
        &self,
        mass: Mass,
        start: f64,
        assembly: &mut Assembly,
        scene: &Scene<'_>,
    ) -> Result<(PatchId, NodeId), Error> {
        let standing = Standing::new(scene.pot, self, mass);
        let (bore, thickness) = standing.body();
        // As much of it as there is in the pot.
        let volume = standing.depth * scene.pot.top_area();
        let (builder, extent) = match bore {
            Some(bore) => (Wall::cylindrical(metres(bore)), volume / (PI * thickness * (2.0 * bore + thickness))),
            None => (Wall::planar(), volume / thickness),
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
