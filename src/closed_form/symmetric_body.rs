//! Slab, solid cylinder and solid sphere heated or cooled evenly all around.

use super::eigenvalues::{BodyShape, root, sinc, sinc_less_cos, x_less_sin};
use super::end::End;
use super::layered_wall::{LayeredWall, Side, WallLayer};
use super::range;
use super::shape::WallShape;
use super::solid::Solid;
use crate::Error;
use crate::numeric::special::{j0, j1};

/// Below this Fourier number the series needs more than some twenty terms and the Laplace route takes over.
const SERIES_FROM_FOURIER: f64 = 0.01;

/// A slab, long cylinder or sphere, uniform in temperature at time zero, whose whole surface is held at a temperature,
/// under a given flux, insulated, under convection, or in contact with a well-stirred fluid.
///
/// From a Fourier number (diffusivity times time over length squared) of 0.01 on the answer is the eigenfunction
/// series in `cos`, `J0` or `sin(x)/x` (Carslaw & Jaeger 1959, chapters 3, 7 and 9; MEMORY); earlier, and always for a
/// well-stirred fluid (capacity as in [`StirredBody`](super::StirredBody)), it is the Laplace route of [`LayeredWall`].
/// Accuracy: 1e-11 of the largest temperature difference (tests: the two routes against one
/// another, and computed reference cases). Temperatures as in [`LayeredWall`].
#[derive(Debug, Clone, PartialEq)]
pub struct SymmetricBody {
    shape: BodyShape,
    solid: Solid,
    length: f64,
    start_temperature: f64,
    wall: LayeredWall,
    surface: Option<SeriesSurface>,
}

/// The surface in dimensionless form, temperatures in kelvin above the start.
#[derive(Debug, Clone, Copy, PartialEq)]
struct SeriesSurface {
    /// Infinite if held, zero under a given flux.
    biot: f64,
    temperature: f64,
    /// Flux times length over conductivity, K.
    flux: f64,
}

impl SymmetricBody {
    /// A body of this length (half thickness or radius, m) at `start_temperature` (K) at time zero.
    ///
    /// # Errors
    /// As [`LayeredWall::new`].
    pub fn new(
        shape: BodyShape,
        solid: Solid,
        length: f64,
        start_temperature: f64,
        surface: End,
    ) -> Result<Self, Error> {
        let layer = WallLayer::new(length, solid)?;
        let wall_shape = match shape {
            BodyShape::Slab => WallShape::Plane,
            BodyShape::Cylinder => WallShape::Cylinder { inner_radius: 0.0 },
            BodyShape::Sphere => WallShape::Sphere { inner_radius: 0.0 },
        };
        let wall = LayeredWall::new(wall_shape, vec![layer], start_temperature, End::Symmetry, surface)?;
        let none = SeriesSurface { biot: 0.0, temperature: 0.0, flux: 0.0 };
        let by_conductivity = length / solid.conductivity();
        let surface = match surface {
            End::Temperature(temperature) => {
                Some(SeriesSurface { biot: f64::INFINITY, temperature: temperature - start_temperature, ..none })
            }
            End::Flux(flux) => Some(SeriesSurface { flux: flux * by_conductivity, ..none }),
            End::Insulated | End::Symmetry => Some(none),
            End::Film { coefficient, temperature } => Some(SeriesSurface {
                biot: coefficient * by_conductivity,
                temperature: temperature - start_temperature,
                ..none
            }),
            End::WellStirred(_) => None,
        };
        Ok(SymmetricBody { shape, solid, length, start_temperature, wall, surface })
    }

    /// Temperature (K) at the distance `position` (m) from the middle and `time` (s) after the start.
    ///
    /// # Errors
    /// `OutOfRange` if the position is outside the body or the time outside 1e-12 to 1e12 s.
    pub fn temperature(&self, position: f64, time: f64) -> Result<f64, Error> {
        let position = range::between("position", position, 0.0, self.length, "m")?;
        match self.series(time)? {
            Some(series) => range::finite(self.start_temperature + series.rise(position / self.length)?),
            None => self.wall.temperature(position, time),
        }
    }

    /// Heat flux density (W/m2) leaving through the surface at `time` (s).
    ///
    /// # Errors
    /// `OutOfRange` if the time is outside 1e-12 to 1e12 s.
    pub fn surface_flux(&self, time: f64) -> Result<f64, Error> {
        match self.series(time)? {
            Some(series) => range::finite(-self.solid.conductivity() / self.length * series.surface_slope()?),
            None => self.wall.flux(self.length, time),
        }
    }

    /// Mean temperature (K) over the volume at `time` (s).
    ///
    /// # Errors
    /// `OutOfRange` if the time is outside 1e-12 to 1e12 s.
    pub fn mean_temperature(&self, time: f64) -> Result<f64, Error> {
        match self.series(time)? {
            Some(series) => range::finite(self.start_temperature + series.mean_rise()?),
            None => self.wall.mean_temperature(time),
        }
    }

    /// Temperature (K) of the well-stirred fluid around the body at `time` (s).
    ///
    /// # Errors
    /// `Inconsistent` if there is none; `OutOfRange` if the time is outside 1e-12 to 1e12 s.
    pub fn fluid_temperature(&self, time: f64) -> Result<f64, Error> {
        self.wall.fluid_temperature(Side::Outer, time)
    }

    fn series(&self, time: f64) -> Result<Option<Series>, Error> {
        let fourier = self.solid.diffusivity() * (range::time(time)? / self.length / self.length);
        let surface = self.surface.filter(|_| fourier >= SERIES_FROM_FOURIER);
        Ok(surface.map(|surface| Series { shape: self.shape, surface, fourier }))
    }
}

/// The eigenfunction series at one Fourier number.
#[derive(Debug, Clone, Copy)]
struct Series {
    shape: BodyShape,
    surface: SeriesSurface,
    fourier: f64,
}

impl Series {
    fn rise(&self, x: f64) -> Result<f64, Error> {
        let m = self.shape.power();
        let growing = (m + 1.0) * self.fourier + 0.5 * x * x - 0.5 * (m + 1.0) / (m + 3.0);
        let mut rise = self.surface.temperature + self.surface.flux * growing;
        self.each_term(|z, coefficient| {
            rise += coefficient
                * match self.shape {
                    BodyShape::Slab => (z * x).cos(),
                    BodyShape::Cylinder => j0(z * x),
                    BodyShape::Sphere => sinc(z * x),
                };
        })?;
        Ok(rise)
    }

    fn surface_slope(&self) -> Result<f64, Error> {
        let mut slope = self.surface.flux;
        self.each_term(|z, coefficient| slope += coefficient * self.slope_at_surface(z))?;
        Ok(slope)
    }

    fn mean_rise(&self) -> Result<f64, Error> {
        let m = self.shape.power();
        let mut mean = self.surface.temperature + self.surface.flux * (m + 1.0) * self.fourier;
        // The mean of an eigenfunction follows from its slope at the surface.
        self.each_term(|z, coefficient| mean -= coefficient * (m + 1.0) * self.slope_at_surface(z) / (z * z))?;
        Ok(mean)
    }

    fn slope_at_surface(&self, z: f64) -> f64 {
        match self.shape {
            BodyShape::Slab => -z * z.sin(),
            BodyShape::Cylinder => -z * j1(z),
            BodyShape::Sphere => -sinc_less_cos(z),
        }
    }

    /// Calls `each(eigenvalue, decayed coefficient)` for every term that counts.
    fn each_term(&self, mut each: impl FnMut(f64, f64)) -> Result<(), Error> {
        let surface = &self.surface;
        // Root 0 of a given flux is the uniform state, which the part outside the series holds.
        let first = if surface.biot == 0.0 { 1 } else { 0 };
        for index in first.. {
            let z = root(self.shape, surface.biot, index)?;
            let exponent = z * z * self.fourier;
            if exponent > 50.0 {
                break;
            }
            // Integral of the squared eigenfunction with the volume's weight, and its value at the surface.
            let (norm, value) = match self.shape {
                BodyShape::Slab => (0.5 + (2.0 * z).sin() / (4.0 * z), z.cos()),
                BodyShape::Cylinder => (0.5 * (j0(z).powi(2) + j1(z).powi(2)), j0(z)),
                BodyShape::Sphere => (x_less_sin(2.0 * z) / (4.0 * z * z * z), sinc(z)),
            };
            // At a film the slope is minus the Biot number times the value: so one form serves a held face too.
            let drive = if surface.biot == 0.0 {
                surface.flux * value
            } else {
                -surface.temperature * self.slope_at_surface(z)
            };
            each(z, -drive / (z * z * norm) * (-exponent).exp());
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every surface, by series and by Laplace inversion: two routes that share only the equation.
    #[test]
    fn series_agrees_with_laplace_inversion() {
        let solid = Solid::new(0.55, 1050.0, 3600.0).unwrap();
        let (length, start) = (0.04, 10.0);
        let tolerance = 1e-11;
        for shape in [BodyShape::Slab, BodyShape::Cylinder, BodyShape::Sphere] {
            for surface in [
                End::Temperature(95.0),
                End::Flux(500.0),
                End::Film { coefficient: 25.0, temperature: 95.0 },
                End::Film { coefficient: 1e-3, temperature: 95.0 },
                End::Film { coefficient: 1e7, temperature: 95.0 },
            ] {
                let body = SymmetricBody::new(shape, solid, length, start, surface).unwrap();
                for fourier in [1e-3, 0.01, 0.2, 1.5, 10.0] {
                    let time = fourier * length * length / solid.diffusivity();
                    let series = Series { shape, surface: body.surface.unwrap(), fourier };
                    let scale = 85.0 + 110.0 * fourier;
                    for part in [0.0, 0.3, 1.0] {
                        let exact = body.wall.temperature(part * length, time).unwrap();
                        let error = (start + series.rise(part).unwrap() - exact).abs() / scale;
                        assert!(error < tolerance, "{shape:?} {surface:?} Fo {fourier} at {part}: {error:e}");
                    }
                    let mean = body.wall.mean_temperature(time).unwrap();
                    let error = (start + series.mean_rise().unwrap() - mean).abs() / scale;
                    assert!(error < tolerance, "mean {shape:?} {surface:?} Fo {fourier}: {error:e}");
                    let flux = body.wall.flux(length, time).unwrap();
                    let error = (-solid.conductivity() / length * series.surface_slope().unwrap() - flux).abs();
                    let scale = scale * solid.effusivity() / time.sqrt() + 500.0;
                    assert!(error < tolerance * scale, "flux {shape:?} {surface:?} Fo {fourier}: {error:e}");
                }
            }
        }
    }
}
