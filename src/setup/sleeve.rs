//! A snug round sleeve: a wall round the pot, a base and a lid.

use std::f64::consts::PI;

use super::assemble::{Assembly, Scene};
use super::attach_edges::OuterFace;
use super::attach_gap::{Gaps, InnerFace};
use super::attach_wall::Site;
use super::enclosure::Fit;
use super::lid::Seams;
use super::{Edges, Face, LayerPlace, Lid, Pot, Range};
use crate::error::{Error, ErrorKind, Within};
use crate::units::bounds::in_range;
use crate::units::{Length, Si, metres, millimetres, watts_per_kelvin};
use crate::wall::{Contact, Layer, Wall};

/// A sleeve of layers, the same round the side, under the base and over the lid.
#[derive(Debug, Clone, PartialEq)]
pub struct Sleeve {
    layers: Vec<Layer>,
    contacts: Vec<Contact>,
    gap: Length,
    lid: Lid,
    edges: Edges,
}

impl Sleeve {
    /// A sleeve of layers from the pot outward, in good contact with one another.
    pub fn of_layers(layers: Vec<Layer>) -> Self {
        let contacts = vec![Contact::Perfect; layers.len().saturating_sub(1)];
        Sleeve { layers, contacts, gap: millimetres(1.0), lid: Lid::flap(), edges: Edges::default() }
    }

    /// A sleeve of the layers and contacts of a wall, from the pot outward.
    pub fn of_wall(wall: &Wall) -> Self {
        Sleeve { contacts: wall.contacts().to_vec(), ..Self::of_layers(wall.layers().to_vec()) }
    }

    /// The same with the layers and contacts of another wall, from the pot outward.
    #[must_use]
    pub fn with_wall(mut self, wall: &Wall) -> Self {
        (self.layers, self.contacts) = (wall.layers().to_vec(), wall.contacts().to_vec());
        self
    }

    /// `count` layers of one material in good contact (see [`Sleeve::with_contacts`]).
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a material that is not in the catalogue, [`ErrorKind::OutOfRange`] for a
    /// thickness outside 1 µm to 10 m.
    pub fn of_mat(material: &str, thickness: Length, count: usize) -> Result<Self, Error> {
        let layer = Layer::of(material, thickness)?;
        Ok(Self::of_layers(vec![layer; count]))
    }

    /// The same with this contact between all layers.
    #[must_use]
    pub fn with_contacts(mut self, contact: Contact) -> Self {
        self.contacts.fill(contact);
        self
    }

    /// The same with another gap between pot and sleeve, 0 to 50 mm.
    #[must_use]
    pub fn with_gap(mut self, gap: Length) -> Self {
        self.gap = gap;
        self
    }

    /// The same with another lid.
    #[must_use]
    pub fn lid(mut self, lid: Lid) -> Self {
        self.lid = lid;
        self
    }

    /// The same with other layers in place of each.
    pub(crate) fn with_layers(&self, of: impl Fn(LayerPlace, &Layer) -> Result<Layer, Error>) -> Result<Self, Error> {
        let place = |layer| LayerPlace { face: Face::Side, layer };
        let layers = self.layers.iter().enumerate().map(|(i, it)| of(place(i), it)).collect::<Result<_, _>>()?;
        Ok(Sleeve { layers, ..self.clone() })
    }

    /// The same with the edges where its side meets base and lid counted so. [`Edges::Solved`] takes them from one section
    /// about the axis of the pot.
    #[must_use]
    pub fn edges(mut self, edges: Edges) -> Self {
        self.edges = edges;
        self
    }

    /// How the edges are counted.
    pub fn edge_form(&self) -> Edges {
        self.edges
    }

    /// How it closes.
    pub fn lid_closing(&self) -> Lid {
        self.lid
    }

    /// The layers, the pot's side first.
    pub fn layers(&self) -> &[Layer] {
        &self.layers
    }

    /// What lies between the layers: entry i between layer i and i + 1.
    pub fn contacts(&self) -> &[Contact] {
        &self.contacts
    }

    /// Radius and height of the room inside, m.
    pub(crate) fn inner_cylinder(&self, pot: &Pot) -> (f64, f64) {
        (self.inner_radius(pot), pot.height().si() + 2.0 * self.gap.si())
    }

    /// Gap between pot and sleeve.
    pub fn gap(&self) -> Length {
        self.gap
    }

    pub(crate) fn check(&self, pot: &Pot) -> Result<(), Error> {
        let check = || -> Result<(), Error> {
            if self.layers.is_empty() {
                return Err(Error::new(ErrorKind::Inconsistent, "a sleeve needs at least one layer"));
            }
            in_range("gap", self.gap, metres(0.0), millimetres(50.0))?;
            self.side_wall(pot)?;
            self.lid.check()
        };
        check().within("sleeve")
    }

    fn inner_radius(&self, pot: &Pot) -> f64 {
        0.5 * pot.diameter().si() + self.gap.si()
    }

    /// The wall round the pot.
    pub(crate) fn side_wall(&self, pot: &Pot) -> Result<Wall, Error> {
        self.build(Wall::cylindrical(metres(self.inner_radius(pot))))
    }

    /// The wall of base and lid.
    pub(crate) fn end_wall(&self) -> Result<Wall, Error> {
        self.build(Wall::planar())
    }

    fn build(&self, mut builder: crate::wall::WallBuilder) -> Result<Wall, Error> {
        for (i, layer) in self.layers.iter().enumerate() {
            if i > 0 {
                builder = builder.contact(self.contacts[i - 1]);
            }
            builder = builder.layer(layer.clone());
        }
        builder.build()
    }

    /// Thickness of all layers, m.
    pub(crate) fn thickness(&self) -> f64 {
        self.layers.iter().map(|l| l.thickness().si()).sum()
    }

    /// Extent (length of the side in m, area of the ends in m²) and length of the edges that belong to it, m: half of the
    /// two round edges for the side, half of one for each end.
    pub(crate) fn extents(&self, pot: &Pot) -> [(Face, f64, f64); 3] {
        let r = self.inner_radius(pot);
        let round = 2.0 * PI * r;
        [
            (Face::Lid, PI * r * r, 0.5 * round),
            (Face::Base, PI * r * r, 0.5 * round),
            (Face::Side, pot.height().si() + 2.0 * self.gap.si(), round),
        ]
    }

    /// What the pot leaves open of the top while the lid is off, m².
    pub(crate) fn opening(&self, pot: &Pot) -> f64 {
        PI * self.inner_radius(pot).powi(2) - pot.top_area()
    }

    /// Volume of the air between pot and sleeve, m³.
    pub(crate) fn air_volume(&self, pot: &Pot) -> f64 {
        self.gap.si() * (pot.side_area() + pot.top_area())
    }

    /// Attaches walls, gaps and flap.
    pub(crate) fn attach(&self, assembly: &mut Assembly, scene: &Scene<'_>) -> Result<(), Error> {
        let pot = scene.pot;
        let (side, end) = (self.side_wall(pot)?, self.end_wall()?);
        let r = self.inner_radius(pot);
        let mut faces = Vec::new();
        let mut outer = Vec::new();
        let by_factor = self.edges == Edges::Factor;
        for (face, extent, edges) in self.extents(pot) {
            let edges = if by_factor { edges } else { 0.0 };
            let wall = if face == Face::Side { &side } else { &end };
            let size = if face == Face::Side { pot.height().si() } else { 0.5 * r };
            let [node, outside] = assembly
                .attach_wall(wall, &Site { faces: vec![face], extent, edges, size, loops: Fit::Tight.loops() }, scene)
                .within(face.to_string())?;
            let whole = extent * wall.area_at(wall.inner_coordinate());
            let mut area = whole;
            if face == Face::Base {
                area = (extent - pot.top_area()).max(0.05 * extent);
            }
            faces.push(InnerFace { face, node, area, whole });
            let area = extent * wall.area_at(wall.inner_coordinate() + wall.thickness().si());
            outer.push(OuterFace { faces: vec![face], node: outside, area });
        }
        let liner = self.layers.first().and_then(|l| l.material().emissivity()).map_or(0.9, |e| e.value().si());
        let gaps = Gaps { ring: self.gap.si(), above: self.gap.si(), height: pot.height().si() };
        assembly.attach_gaps(&gaps, &faces, liner, scene)?;
        if !by_factor {
            let height = pot.height().si() + 2.0 * self.gap.si();
            assembly.attach_ends(&end, [r, height], &faces, &outer, scene)?;
        }
        let seams = Seams {
            joint: self.joint(pot),
            depth: self.thickness().max(1e-3),
            height: pot.height().si(),
            low: Fit::Tight.seams(),
            upright: Range::exactly(metres(0.0)),
        };
        assembly.attach_lid(&self.lid, &seams, (&faces, &gaps), scene)
    }

    /// Length of the seam round the lid, m.
    pub(crate) fn joint(&self, pot: &Pot) -> f64 {
        2.0 * PI * self.inner_radius(pot)
    }

    pub(crate) fn tight(&self) -> Self {
        let none = Range::exactly(watts_per_kelvin(0.0));
        let mut copy = self.clone();
        copy.lid = copy.lid.leaking(none);
        copy
    }
}
