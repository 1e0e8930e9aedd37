//! Heat across an airspace inside a wall: convection and radiation by published relations.

use crate::correlation::airspace::{self, HeatFlow};
use crate::correlation::{air, constants, enclosure, radiation};
use crate::error::Error;
use crate::units::Si;
use crate::wall::{Airspace, Geometry};

/// An airspace in the wall that it lies in.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AirspaceLaw {
    airspace: Airspace,
    shape: Shape,
}

#[derive(Debug, Clone, Copy)]
enum Shape {
    Flat,
    /// Between cylinders of these radii, m.
    Cylinder([f64; 2]),
    /// Between spheres.
    Sphere([f64; 2]),
}

impl AirspaceLaw {
    /// Of an airspace between two coordinates of a wall, m.
    ///
    /// # Errors
    /// If the relations have no value for it.
    pub(crate) fn new(airspace: &Airspace, geometry: Geometry, faces: [f64; 2]) -> Result<Self, Error> {
        let shape = match geometry {
            Geometry::Cylindrical { .. } if !airspace.stands_for_edge() => Shape::Cylinder(faces),
            Geometry::Spherical { .. } => Shape::Sphere(faces),
            Geometry::Cylindrical { .. } | Geometry::Planar => Shape::Flat,
        };
        let law = AirspaceLaw { airspace: *airspace, shape };
        law.coefficient(300.0, 299.0)?;
        Ok(law)
    }

    /// Coefficient between faces at `inner` and `outer` K, W/(m² K), on the area half-way between them.
    pub(crate) fn coefficient(&self, inner: f64, outer: f64) -> Result<f64, Error> {
        use std::f64::consts::{PI, TAU};
        let emissivities = self.airspace.emissivities().map(Si::si);
        match self.shape {
            Shape::Flat => self.flat(inner, outer, emissivities),
            Shape::Cylinder(radii) => {
                let [a, b] = radii;
                let radiation = TAU * a * radiation::exchange_factor_concentric_cylinders(radii, emissivities)?;
                let conduction = TAU * self.conductivity(inner, outer, radii)? / (b / a).ln();
                let area = TAU * f64::midpoint(a, b);
                Ok((conduction + radiation * radiation::coefficient(inner, outer)?) / area)
            }
            Shape::Sphere(radii) => {
                let [a, b] = radii;
                let radiation = 4.0 * PI * a * a * radiation::exchange_factor_concentric_spheres(radii, emissivities)?;
                let conduction = 4.0 * PI * self.conductivity(inner, outer, radii)? * a * b / (b - a);
                let area = 4.0 * PI * f64::midpoint(a, b).powi(2);
                Ok((conduction + radiation * radiation::coefficient(inner, outer)?) / area)
            }
        }
    }

    /// Between flat faces: ISO 6946, and for an end of the range Hollands 1976, where heat rises.
    fn flat(&self, inner: f64, outer: f64, emissivities: [f64; 2]) -> Result<f64, Error> {
        let (thickness, difference) = (self.airspace.thickness().si(), (inner - outer).abs());
        let mean = f64::midpoint(inner, outer);
        let k = air::conductivity_us_standard_1976(mean)?.value;
        let at = |difference: f64| {
            let r = airspace::resistance_iso_6946(
                HeatFlow::Inclined(self.rising(inner, outer)),
                thickness,
                emissivities,
                mean,
                difference,
                k,
            );
            r.map(|r| 1.0 / r.value)
        };
        let standard = with_the_larger_branch(difference, at)?;
        let slope = (std::f64::consts::FRAC_PI_2 - self.rising(inner, outer)).max(0.0);
        if slope > STEEPEST {
            return Ok(standard);
        }
        self.airspace.relation().pick(standard, || {
            let film = air::dry_air(mean, constants::STANDARD_PRESSURE)?;
            let nusselt = enclosure::tilted_gap_hollands_1976(film.rayleigh(difference, thickness)?, slope)?;
            let radiated = radiation::exchange_factor_parallel_plates(emissivities[0], emissivities[1])?
                * radiation::black_coefficient(mean)?;
            Ok(crate::correlation::Value { value: nusselt.value * k / thickness + radiated, ..nusselt })
        })
    }

    /// Conductivity that the air of a round airspace has in effect, W/(m K).
    fn conductivity(&self, inner: f64, outer: f64, [a, b]: [f64; 2]) -> Result<f64, Error> {
        let difference = (inner - outer).abs();
        let film = air::dry_air(f64::midpoint(inner, outer), constants::STANDARD_PRESSURE)?;
        if self.airspace.has_level_axis() {
            let rayleigh = film.rayleigh(difference, enclosure::concentric_cylinders_length(a, b)?)?;
            let ratio = enclosure::concentric_cylinders_raithby_hollands(rayleigh, film.prandtl)?;
            return Ok(ratio.value * film.conductivity);
        }
        let (thickness, flow) = (self.airspace.thickness().si(), HeatFlow::Inclined(self.rising(inner, outer)));
        let convection = with_the_larger_branch(difference, |difference| {
            Ok(airspace::convection_iso_6946(flow, thickness, difference, film.conductivity)?.value)
        })?;
        Ok(convection * thickness)
    }

    /// How far above the level the heat flows, rad.
    fn rising(&self, inner: f64, outer: f64) -> f64 {
        if inner >= outer { self.airspace.above_level().si() } else { -self.airspace.above_level().si() }
    }
}

/// Slope of an airspace from the level up to which Hollands tells of it, rad: 60°.
const STEEPEST: f64 = std::f64::consts::FRAC_PI_3;

/// The two branches of ISO 6946 meet at 5 K but for rounding of their constants; the larger one keeps the coefficient free
/// of a dip.
fn with_the_larger_branch(difference: f64, at: impl Fn(f64) -> Result<f64, Error>) -> Result<f64, Error> {
    Ok(if difference > 5.0 { at(difference)?.max(at(5.0)?) } else { at(5.0)? })
}
