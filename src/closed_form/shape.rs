//! The three one-dimensional shapes of a wall.

use super::range;
use crate::Error;
use std::f64::consts::PI;

/// The shape of a one-dimensional wall, whose layers are stacked in the direction of growing coordinate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WallShape {
    /// Plane; the coordinate is the distance from the inner face, m. Heat is counted per square metre.
    Plane,
    /// Cylindrical; the coordinate is the radius. Heat is counted per metre of length.
    Cylinder {
        /// Radius of the inner face, m; zero for a solid cylinder.
        inner_radius: f64,
    },
    /// Spherical; the coordinate is the radius. Heat is counted for the whole sphere.
    Sphere {
        /// Radius of the inner face, m; zero for a solid sphere.
        inner_radius: f64,
    },
}

impl WallShape {
    /// Coordinate of the inner face, m.
    pub fn inner_coordinate(&self) -> f64 {
        match *self {
            WallShape::Plane => 0.0,
            WallShape::Cylinder { inner_radius } | WallShape::Sphere { inner_radius } => inner_radius,
        }
    }

    /// Area of the surface at `coordinate`: 1 (per m2), 2 pi r (m2 per m) or 4 pi r^2 (m2).
    pub fn area(&self, coordinate: f64) -> f64 {
        match self {
            WallShape::Plane => 1.0,
            WallShape::Cylinder { .. } => 2.0 * PI * coordinate,
            WallShape::Sphere { .. } => 4.0 * PI * coordinate * coordinate,
        }
    }

    /// Volume between two coordinates, in the same reference as the area.
    pub(super) fn volume(&self, inner: f64, outer: f64) -> f64 {
        let thickness = outer - inner;
        match self {
            WallShape::Plane => thickness,
            WallShape::Cylinder { .. } => PI * thickness * (outer + inner),
            WallShape::Sphere { .. } => 4.0 / 3.0 * PI * thickness * (outer * outer + outer * inner + inner * inner),
        }
    }

    /// Resistance of a layer between two coordinates without storage, in the same reference (K m2/W, K m/W, K/W).
    pub(super) fn steady_resistance(&self, inner: f64, outer: f64, conductivity: f64) -> f64 {
        let thickness = outer - inner;
        match self {
            WallShape::Plane => thickness / conductivity,
            WallShape::Cylinder { .. } => (thickness / inner).ln_1p() / (2.0 * PI * conductivity),
            WallShape::Sphere { .. } => thickness / (inner * outer) / (4.0 * PI * conductivity),
        }
    }

    /// Whether the inner face is the axis or the centre point.
    pub(super) fn is_solid(&self) -> bool {
        !matches!(self, WallShape::Plane) && self.inner_coordinate() == 0.0
    }

    pub(super) fn checked(self) -> Result<Self, Error> {
        range::not_negative("inner radius", self.inner_coordinate(), "m").map(|_| self)
    }
}
