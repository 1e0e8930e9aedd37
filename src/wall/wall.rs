//! A wall: layers in order, one-dimensional.

use super::{Contact, Layer};
use crate::error::{Error, ErrorKind, Within};
use crate::units::bounds::{in_range, positive};
use crate::units::{Length, Si, metres};

/// The shape of a wall. Everything extensive (heat, capacity, conductance) is counted per *extent*.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Geometry {
    /// Flat; the extent is one square metre.
    Planar,
    /// Round about an axis, with the radius of its inner face (zero: solid to the axis); the extent is one metre of
    /// length.
    Cylindrical {
        /// Radius of the inner face.
        inner_radius: Length,
    },
    /// Round about a point, with the radius of its inner face (zero: solid); the extent is the whole sphere.
    Spherical {
        /// Radius of the inner face.
        inner_radius: Length,
    },
}

/// Layers from the inside to the outside with the contacts between them.
///
/// ```
/// use stillhot::{Contact, Layer, Wall, units::millimetres};
/// let wall = Wall::planar()
///     .layer(Layer::of("cross-linked-polyethylene-foam-mat", millimetres(9.0))?)
///     .contact(Contact::Gap(millimetres(1.0)))
///     .layer(Layer::of("expanded-polystyrene-20", millimetres(50.0))?)
///     .build()?;
/// assert_eq!(wall.layers().len(), 2);
/// # Ok::<(), stillhot::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    geometry: Geometry,
    layers: Vec<Layer>,
    contacts: Vec<Contact>,
}

/// A wall in the making; see [`Wall`].
#[derive(Debug, Clone, PartialEq)]
pub struct WallBuilder {
    geometry: Geometry,
    layers: Vec<Layer>,
    contacts: Vec<Contact>,
    dangling: Option<Contact>,
    twice: bool,
}

impl Wall {
    /// A flat wall.
    pub fn planar() -> WallBuilder {
        Self::of(Geometry::Planar)
    }

    /// A cylindrical wall with the given radius of its inner face, 0 to 100 m; zero for a solid rod.
    pub fn cylindrical(inner_radius: Length) -> WallBuilder {
        Self::of(Geometry::Cylindrical { inner_radius })
    }

    /// A spherical wall with the given radius of its inner face, 0 to 100 m; zero for a ball.
    pub fn spherical(inner_radius: Length) -> WallBuilder {
        Self::of(Geometry::Spherical { inner_radius })
    }

    /// A wall of any geometry.
    pub fn of(geometry: Geometry) -> WallBuilder {
        WallBuilder { geometry, layers: Vec::new(), contacts: Vec::new(), dangling: None, twice: false }
    }

    /// Its shape.
    pub fn geometry(&self) -> Geometry {
        self.geometry
    }

    /// The layers, inside first.
    pub fn layers(&self) -> &[Layer] {
        &self.layers
    }

    /// The contacts: entry i lies between layer i and i + 1.
    pub fn contacts(&self) -> &[Contact] {
        &self.contacts
    }

    /// The same wall with other layers in place of each, counted from the inside; contacts stay.
    pub(crate) fn with_layers(&self, of: impl Fn(usize, &Layer) -> Result<Layer, Error>) -> Result<Self, Error> {
        let mut builder = Wall::of(self.geometry);
        for (i, layer) in self.layers.iter().enumerate() {
            if i > 0 {
                builder = builder.contact(self.contacts[i - 1]);
            }
            builder = builder.layer(of(i, layer)?);
        }
        builder.build()
    }

    /// Thickness of all layers and airspaces together.
    pub fn thickness(&self) -> Length {
        let air: f64 = self.contacts.iter().map(Contact::thickness).sum();
        self.layers.iter().fold(metres(air), |sum, l| sum + l.thickness())
    }

    /// Coordinate of the inner face: 0 for a flat wall, else its radius, m.
    pub(crate) fn inner_coordinate(&self) -> f64 {
        match self.geometry {
            Geometry::Planar => 0.0,
            Geometry::Cylindrical { inner_radius } | Geometry::Spherical { inner_radius } => inner_radius.si(),
        }
    }

    /// True if the wall reaches its axis or centre, so that it has no inner face.
    pub fn is_solid(&self) -> bool {
        !matches!(self.geometry, Geometry::Planar) && self.inner_coordinate() == 0.0
    }

    /// Area of the cylinder, sphere or plane at `coordinate` m per extent, m² (or m² per m).
    pub(crate) fn area_at(&self, coordinate: f64) -> f64 {
        use std::f64::consts::{PI, TAU};
        match self.geometry {
            Geometry::Planar => 1.0,
            Geometry::Cylindrical { .. } => TAU * coordinate,
            Geometry::Spherical { .. } => 4.0 * PI * coordinate * coordinate,
        }
    }
}

impl WallBuilder {
    /// Adds a layer outside the ones before.
    #[must_use]
    pub fn layer(mut self, layer: Layer) -> Self {
        if !self.layers.is_empty() {
            self.contacts.push(self.dangling.take().unwrap_or_default());
        }
        self.layers.push(layer);
        self
    }

    /// The contact between the layer before and the one to come (perfect where nothing is said).
    #[must_use]
    pub fn contact(mut self, contact: Contact) -> Self {
        self.twice |= self.dangling.is_some();
        self.dangling = Some(contact);
        self
    }

    /// Checks and makes the wall.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] for a wall without layers or a contact that is not between two layers,
    /// [`ErrorKind::OutOfRange`] for a contact or radius outside its range.
    pub fn build(self) -> Result<Wall, Error> {
        if self.layers.is_empty() {
            return Err(Error::new(ErrorKind::Inconsistent, "a wall needs at least one layer").within("wall"));
        }
        if self.twice || self.dangling.is_some() {
            return Err(Error::new(ErrorKind::Inconsistent, "a contact lies between two layers, one for each pair")
                .with_accepted("a layer before and after every contact")
                .within("contact")
                .within("wall"));
        }
        for (i, contact) in self.contacts.iter().enumerate() {
            contact.check().within(format!("between layers {} and {}", i + 1, i + 2)).within("wall")?;
        }
        match self.geometry {
            Geometry::Planar => {}
            Geometry::Cylindrical { inner_radius } | Geometry::Spherical { inner_radius } => {
                in_range("inner radius", inner_radius, metres(0.0), metres(100.0)).within("wall")?;
            }
        }
        let thickness = self.layers.iter().fold(metres(0.0), |sum, l| sum + l.thickness());
        positive("thickness of all layers", thickness, metres(20.0)).within("wall")?;
        Ok(Wall { geometry: self.geometry, layers: self.layers, contacts: self.contacts })
    }
}
