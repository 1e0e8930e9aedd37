//! Periodic response of a layered wall.

use super::layered_wall::{Stack, WallLayer};
use super::range;
use super::shape::WallShape;
use super::two_port::TwoPort;
use crate::{Error, ErrorKind, Within};
use num_complex::Complex64;
use std::f64::consts::PI;

/// A wall between two sides whose temperatures swing as a sine of one period.
///
/// The dynamic thermal characteristics of ISO 13786 (2017; MEMORY): the wall with its surface resistances as a complex
/// two-port at the frequency of the swing, equal to the product of its heat transfer matrices `Z` with
/// `Y11 = -Z11/Z12`, `Y22 = -Z22/Z12`, `Y12 = -1/Z12`, but put together without growing exponentials. Accuracy 1e-12
/// of each value (tests: computed reference cases, 200-digit references for cylinder and sphere, and transfer matrices
/// multiplied out).
#[derive(Debug, Clone, PartialEq)]
pub struct PeriodicWall {
    stack: Stack,
    inner_resistance: f64,
    outer_resistance: f64,
    period: f64,
}

/// A complex admittance: heat flow into the wall for a swing of one kelvin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PeriodicTransfer {
    /// Amplitude, W/(m2 K) for a plane wall, W/(m K) for a cylinder, W/K for a sphere.
    pub amplitude: f64,
    /// Time by which the heat flow comes before the temperature (s); negative if it comes after.
    pub time_shift: f64,
}

impl PeriodicWall {
    /// A wall of `layers` from the inside out, with the surface resistances (m2 K/W, zero or more, per area of their
    /// face) and the period (s). The capacity counts, and contacts on the layers stand for air layers.
    ///
    /// # Errors
    /// `OutOfRange` for numbers outside 1e-12 to 1e12 (resistances may be zero), no layers, or an inner radius of zero.
    pub fn new(
        shape: WallShape,
        layers: Vec<WallLayer>,
        inner_resistance: f64,
        outer_resistance: f64,
        period: f64,
    ) -> Result<Self, Error> {
        if !matches!(shape, WallShape::Plane) {
            range::positive("inner radius", shape.inner_coordinate(), "m")?;
        }
        Ok(PeriodicWall {
            stack: Stack::new(shape, layers)?,
            inner_resistance: range::not_negative("inner surface resistance", inner_resistance, "m2 K/W")?,
            outer_resistance: range::not_negative("outer surface resistance", outer_resistance, "m2 K/W")?,
            period: range::positive("period", period, "s")?,
        })
    }

    /// Steady transmittance including the surface resistances, W/(m2 K), W/(m K) or W/K.
    pub fn transmittance(&self) -> f64 {
        let (inner, outer) = self.surface_resistances();
        1.0 / (inner + 1.0 / self.stack.steady_conductance() + outer)
    }

    /// Thermal admittance of the inner side (`Y11`): its heat flow for its own swing while the other side is constant.
    ///
    /// # Errors
    /// `NoConvergence` if the numbers are too extreme for double precision.
    pub fn inner_admittance(&self) -> Result<PeriodicTransfer, Error> {
        let wall = self.two_port();
        self.transfer(wall.inner_shunt + wall.through).within("inner admittance")
    }

    /// Thermal admittance of the outer side (`Y22`).
    ///
    /// # Errors
    /// `NoConvergence` if the numbers are too extreme for double precision.
    pub fn outer_admittance(&self) -> Result<PeriodicTransfer, Error> {
        let wall = self.two_port();
        self.transfer(wall.outer_shunt + wall.through).within("outer admittance")
    }

    /// Periodic thermal transmittance (`Y12`): heat flow out of one side for the swing of the other. Its time shift
    /// lies between minus one period and zero, as the standard wants it; a thicker wall may lag by whole periods more.
    ///
    /// # Errors
    /// `NoConvergence` if nothing of the swing is left that a double could hold.
    pub fn periodic_transmittance(&self) -> Result<PeriodicTransfer, Error> {
        let transfer = self.transfer(self.two_port().through).within("periodic transmittance")?;
        let time_shift =
            if transfer.time_shift > 0.0 { transfer.time_shift - self.period } else { transfer.time_shift };
        Ok(PeriodicTransfer { time_shift, ..transfer })
    }

    /// Decrement factor: periodic over steady transmittance, 0 to 1.
    ///
    /// # Errors
    /// As [`periodic_transmittance`](Self::periodic_transmittance).
    pub fn decrement_factor(&self) -> Result<f64, Error> {
        Ok(self.periodic_transmittance()?.amplitude / self.transmittance())
    }

    /// Heat capacities of the inner and the outer side: `|Y11 - Y12|` and `|Y22 - Y12|` times period over 2 pi,
    /// J/(m2 K), J/(m K) or J/K.
    ///
    /// # Errors
    /// `NoConvergence` if the numbers are too extreme for double precision.
    pub fn heat_capacities(&self) -> Result<[f64; 2], Error> {
        let wall = self.two_port();
        let angular = 2.0 * PI / self.period;
        Ok([range::finite(wall.inner_shunt.norm() / angular)?, range::finite(wall.outer_shunt.norm() / angular)?])
    }

    fn surface_resistances(&self) -> (f64, f64) {
        let shape = self.stack.shape;
        let outer = self.outer_resistance / shape.area(self.stack.outer_face());
        (self.inner_resistance / self.stack.inner_area(), outer)
    }

    fn two_port(&self) -> TwoPort {
        let (inner, outer) = self.surface_resistances();
        let mut wall = self.stack.whole(Complex64::new(0.0, 2.0 * PI / self.period));
        if inner > 0.0 {
            wall = TwoPort::conductance(1.0 / inner).then(wall);
        }
        if outer > 0.0 {
            wall = wall.then(TwoPort::conductance(1.0 / outer));
        }
        wall
    }

    fn transfer(&self, value: Complex64) -> Result<PeriodicTransfer, Error> {
        if value.norm() > 0.0 && value.is_finite() {
            Ok(PeriodicTransfer { amplitude: value.norm(), time_shift: value.arg() * self.period / (2.0 * PI) })
        } else {
            Err(Error::new(ErrorKind::NoConvergence, "the swing is beyond what double precision holds"))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::solid::Solid;
    use super::*;

    /// Heat transfer matrices multiplied out as the standard writes them (2 x 2, cosh and sinh of (1 + i) L / depth).
    #[test]
    fn agrees_with_transfer_matrices_multiplied_out() {
        let period: f64 = 43_200.0;
        let data =
            [(0.02, 0.7, 1400.0, 1000.0, 0.18), (0.001, 380.0, 8900.0, 390.0, 0.0), (0.12, 0.04, 30.0, 1450.0, 0.0)];
        let (rsi, rse) = (0.13, 0.04);
        type Matrix = [[Complex64; 2]; 2];
        let c = |re: f64| Complex64::new(re, 0.0);
        let times = |a: Matrix, b: Matrix| -> Matrix {
            let e = |i: usize, j: usize| a[i][0] * b[0][j] + a[i][1] * b[1][j];
            [[e(0, 0), e(0, 1)], [e(1, 0), e(1, 1)]]
        };
        let resistance = |r: f64| [[c(1.0), c(-r)], [c(0.0), c(1.0)]];
        let mut matrix = resistance(rsi);
        let mut layers = Vec::new();
        for (thickness, k, rho, heat, contact) in data {
            let depth = (k * period / (PI * rho * heat)).sqrt();
            let z = Complex64::new(1.0, 1.0) * (thickness / depth);
            let q = Complex64::new(1.0, 1.0) / depth;
            matrix = times([[z.cosh(), -z.sinh() / (k * q)], [-z.sinh() * k * q, z.cosh()]], matrix);
            matrix = times(resistance(contact), matrix);
            let layer = WallLayer::new(thickness, Solid::new(k, rho, heat).unwrap()).unwrap();
            layers.push(layer.with_outer_contact(contact).unwrap());
        }
        matrix = times(resistance(rse), matrix);
        let wall = PeriodicWall::new(WallShape::Plane, layers, rsi, rse, period).unwrap().two_port();
        let close = |a: Complex64, b: Complex64| assert!((a / b - 1.0).norm() < 1e-12, "{a} {b}");
        close(wall.through, -1.0 / matrix[0][1]);
        close(wall.inner_shunt + wall.through, -matrix[0][0] / matrix[0][1]);
        close(wall.outer_shunt + wall.through, -matrix[1][1] / matrix[0][1]);
    }

    #[test]
    fn a_thin_cylinder_or_sphere_of_large_radius_is_a_plane_wall() {
        let layers = || {
            let inner = WallLayer::new(0.002, Solid::new(16.0, 7900.0, 500.0).unwrap()).unwrap();
            let outer = WallLayer::new(0.08, Solid::new(0.04, 30.0, 1450.0).unwrap()).unwrap();
            vec![inner.with_outer_contact(0.05).unwrap(), outer]
        };
        let response =
            |shape: WallShape, period| PeriodicWall::new(shape, layers(), 0.13, 0.04, period).unwrap().two_port();
        for period in [600.0, 86_400.0] {
            let plane = response(WallShape::Plane, period);
            let inner_radius = 1e6;
            for shape in [WallShape::Cylinder { inner_radius }, WallShape::Sphere { inner_radius }] {
                let round = response(shape, period);
                let area = shape.area(inner_radius);
                for (a, b) in [
                    (round.through, plane.through),
                    (round.inner_shunt, plane.inner_shunt),
                    (round.outer_shunt, plane.outer_shunt),
                ] {
                    assert!((a / area / b - 1.0).norm() < 1e-6, "{shape:?} {period}: {a} {b}");
                }
            }
        }
    }
}
