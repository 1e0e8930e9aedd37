//! Pieces in the dish: dumplings, potatoes, a joint. Heat reaches their middle by conduction.

use std::f64::consts::PI;

use super::assemble::{Assembly, Scene};
use super::{Dish, Input};
use crate::conduction::{LayerLaws, Mesh, WallPatch};
use crate::error::{Error, Within};
use crate::network::{Enthalpy, Node, NodeId, PatchId};
use crate::units::bounds::in_range;
use crate::units::{Length, Mass, Si, Temperature, celsius, kilograms, metres, millimetres};
use crate::wall::{Layer, Wall};

/// Shape of a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PieceShape {
    /// A ball of this diameter.
    Sphere(Length),
    /// Long against its diameter.
    Cylinder(Length),
    /// Wide against its thickness.
    Slab(Length),
}

/// Equal pieces of one food in the dish, wetted all round.
#[derive(Debug, Clone, PartialEq)]
pub struct Pieces {
    shape: PieceShape,
    dish: Dish,
    mass: Mass,
    start: Temperature,
}

impl Pieces {
    /// Pieces of a food, 1 to 400 mm across, all together of the given mass, that go into the boiling pot at `start`
    /// when the simmer begins.
    pub fn new(shape: PieceShape, food: Dish, mass: Mass, start: Temperature) -> Self {
        Pieces { shape, dish: food, mass, start }
    }

    /// The shape.
    pub fn shape(&self) -> PieceShape {
        self.shape
    }

    /// Mass of all pieces together.
    pub fn mass(&self) -> Mass {
        self.mass
    }

    /// Temperature at which they go into the boiling pot.
    pub fn start(&self) -> Temperature {
        self.start
    }

    /// What they are.
    pub fn food(&self) -> &Dish {
        &self.dish
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let check = || -> Result<(), Error> {
            let (PieceShape::Sphere(size) | PieceShape::Cylinder(size) | PieceShape::Slab(size)) = self.shape;
            in_range("size", size, millimetres(1.0), millimetres(400.0))?;
            in_range("mass", self.mass, kilograms(1e-3), kilograms(200.0))?;
            in_range("start temperature", self.start, celsius(-1.0), celsius(150.0))?;
            self.dish.check()
        };
        check().within("pieces")
    }

    /// Attaches the pieces of one kind to the pot; returns their patch and the node of their middle.
    pub(crate) fn attach(
        &self,
        kind: usize,
        assembly: &mut Assembly,
        scene: &Scene<'_>,
    ) -> Result<(PatchId, NodeId), Error> {
        let material = self.dish.material();
        let volume = self.mass.si() / material.density().value().si();
        let (wall, extent) = match self.shape {
            PieceShape::Sphere(d) => {
                let wall = Wall::spherical(metres(0.0)).layer(Layer::new(material.clone(), 0.5 * d)?).build()?;
                (wall, volume / (PI / 6.0 * d.si().powi(3)))
            }
            PieceShape::Cylinder(d) => {
                let wall = Wall::cylindrical(metres(0.0)).layer(Layer::new(material.clone(), 0.5 * d)?).build()?;
                (wall, volume / (0.25 * PI * d.si().powi(2)))
            }
            // Half of a slab, its middle the inner face.
            PieceShape::Slab(t) => {
                let wall = Wall::planar().layer(Layer::new(material.clone(), 0.5 * t)?).build()?;
                (wall, 2.0 * volume / t.si())
            }
        };
        let laws = LayerLaws {
            conductivity: scene.choice.law(Input::PieceConductivity(kind), material.conductivity()),
            heat_capacity: scene.choice.law(Input::PieceHeatCapacity(kind), material.heat_capacity()),
        };
        // Fine at the surface: the half cell there goes with the pot, whatever the pot is brought to.
        let mesh = Mesh::TowardsOutside(scene.cells + scene.cells / 2, scene.level);
        let patch = WallPatch::with_laws(&wall, &mesh, RELINEARISE, true, |_| laws.clone())?;
        let start = self.start.si();
        let middle = assembly.network.node(Node::Free { enthalpy: Enthalpy::None, start });
        let piece = patch.attach(extent, Some(middle), assembly.pot, |_, _| start)?;
        let id = assembly.network.patch(piece);
        assembly.network.followed.push(id);
        Ok((id, middle))
    }
}

/// Relative change of a property that the march need not follow.
const RELINEARISE: f64 = 1e-4;
