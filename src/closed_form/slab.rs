//! The homogeneous plane slab between any two ends: eigenfunction series, and the Laplace route at short times.

use super::end::End;
use super::layered_wall::{LayeredWall, Side, WallLayer};
use super::range;
use super::shape::WallShape;
use super::solid::Solid;
use crate::Error;
use crate::numeric::roots::bracketed_root;
use std::f64::consts::PI;

/// Below this Fourier number the series needs more than some twenty terms and the Laplace route takes over.
const SERIES_FROM_FOURIER: f64 = 0.01;

/// A homogeneous plane slab, uniform in temperature at time zero, with something constant done to each face.
///
/// `rho c dT/dt = k d2T/dx2` in `0 < x < thickness`; each face held at a temperature, under a given flux, insulated,
/// under convection, or in contact with a well-stirred fluid that may lose heat directly.
///
/// From a Fourier number (diffusivity times time over thickness squared) of 0.01 on the answer is the steady (or
/// steadily growing) solution less the eigenfunction series, whose eigenvalues solve
/// `b - atan(B1/b) - atan(B2/b) = n pi`, where `B` is the Biot number of a film, infinite for a held face, and
/// `loss Biot number - capacity ratio * b^2` for a stirred fluid (Carslaw & Jaeger 1959, chapter 3; Crank 1975,
/// chapter 4, for the stirred solution of limited volume; MEMORY). Earlier, and for a stirred fluid behind a film,
/// it is the Laplace route of [`LayeredWall`]. Temperatures and accuracy are as there: 1e-11 of the largest
/// temperature difference (tests: the two routes against one another, and computed reference cases).
#[derive(Debug, Clone, PartialEq)]
pub struct Slab {
    solid: Solid,
    thickness: f64,
    start_temperature: f64,
    wall: LayeredWall,
    ends: Option<[SeriesEnd; 2]>,
}

/// An end in dimensionless form: lengths by the thickness, times by thickness squared over diffusivity; temperatures
/// stay in kelvin above the start.
#[derive(Debug, Clone, Copy, PartialEq)]
struct SeriesEnd {
    /// Film (or loss) Biot number; infinite for a held face.
    biot: f64,
    /// Temperature the Biot number leads to.
    temperature: f64,
    /// Given flux times thickness over conductivity, K.
    flux: f64,
    /// Heat capacity of the stirred fluid over that of the slab.
    capacity: f64,
    /// Temperature of the fluid at time zero.
    start: f64,
}

impl SeriesEnd {
    /// The end in dimensionless form, or `None` for a fluid behind a film.
    fn new(end: End, solid: &Solid, thickness: f64, start_temperature: f64) -> Option<Self> {
        let none = SeriesEnd { biot: 0.0, temperature: 0.0, flux: 0.0, capacity: 0.0, start: 0.0 };
        let by_conductivity = thickness / solid.conductivity();
        Some(match end {
            End::Temperature(temperature) => {
                SeriesEnd { biot: f64::INFINITY, temperature: temperature - start_temperature, ..none }
            }
            End::Flux(flux) => SeriesEnd { flux: flux * by_conductivity, ..none },
            End::Insulated | End::Symmetry => none,
            End::Film { coefficient, temperature } => {
                SeriesEnd { biot: coefficient * by_conductivity, temperature: temperature - start_temperature, ..none }
            }
            End::WellStirred(body) => {
                if body.film.is_some() {
                    return None;
                }
                let loss = body.loss.map_or((0.0, 0.0), |l| (l.conductance, l.temperature - start_temperature));
                SeriesEnd {
                    biot: loss.0 * by_conductivity,
                    temperature: loss.1,
                    capacity: body.capacity / (solid.volumetric_heat_capacity() * thickness),
                    start: body.start_temperature - start_temperature,
                    ..none
                }
            }
        })
    }

    /// Tangent of the phase the end takes from an eigenfunction.
    fn tangent(&self, b: f64) -> f64 {
        // A zero over zero would be an insulated end at b = 0, which takes no phase.
        (if self.biot == 0.0 { 0.0 } else { self.biot / b }) - self.capacity * b
    }

    /// Sine and cosine of the phase, exact also close to a quarter turn.
    fn phase(&self, b: f64) -> (f64, f64) {
        let tangent = self.tangent(b);
        if tangent.is_infinite() {
            return (1.0, 0.0);
        }
        let cosine = 1.0 / tangent.hypot(1.0);
        (tangent * cosine, cosine)
    }

    /// What the end's drive does to an eigenfunction of value `cosine` at the end.
    fn drive(&self, b: f64, (sine, cosine): (f64, f64)) -> f64 {
        if self.biot.is_infinite() {
            self.temperature * b * sine
        } else {
            (self.biot * self.temperature + self.flux) * cosine
        }
    }
}

/// Values of the solution at a place: temperature above the start, and its slope times the thickness.
#[derive(Debug, Clone, Copy)]
struct Local {
    rise: f64,
    slope: f64,
}

/// The part of the solution without the series: `constant + linear x + quadratic x^2 + growth Fo`.
#[derive(Debug, Clone, Copy)]
struct Particular {
    constant: f64,
    linear: f64,
    quadratic: f64,
    growth: f64,
}

impl Slab {
    /// A slab of this thickness (m) at `start_temperature` (K) at time zero.
    ///
    /// # Errors
    /// As [`LayeredWall::new`].
    pub fn new(solid: Solid, thickness: f64, start_temperature: f64, inner: End, outer: End) -> Result<Self, Error> {
        let layer = WallLayer::new(thickness, solid)?;
        let wall = LayeredWall::new(WallShape::Plane, vec![layer], start_temperature, inner, outer)?;
        let dimensionless = |end| SeriesEnd::new(end, &solid, thickness, start_temperature);
        let ends = match (dimensionless(inner), dimensionless(outer)) {
            (Some(inner), Some(outer)) => Some([inner, outer]),
            _ => None,
        };
        Ok(Slab { solid, thickness, start_temperature, wall, ends })
    }

    /// Temperature (K) at the distance `position` (m) from the inner face and `time` (s) after the start.
    ///
    /// # Errors
    /// `OutOfRange` if the position is outside the slab or the time outside 1e-12 to 1e12 s.
    pub fn temperature(&self, position: f64, time: f64) -> Result<f64, Error> {
        let position = range::between("position", position, 0.0, self.thickness, "m")?;
        match self.series(time)? {
            Some(series) => range::finite(self.start_temperature + series.at(position / self.thickness)?.rise),
            None => self.wall.temperature(position, time),
        }
    }

    /// Heat flux density (W/m2) in the direction from the inner to the outer face at `position` (m) and `time` (s).
    ///
    /// # Errors
    /// As [`temperature`](Self::temperature).
    pub fn flux(&self, position: f64, time: f64) -> Result<f64, Error> {
        let position = range::between("position", position, 0.0, self.thickness, "m")?;
        match self.series(time)? {
            Some(series) => {
                let slope = series.at(position / self.thickness)?.slope;
                range::finite(-self.solid.conductivity() / self.thickness * slope)
            }
            None => self.wall.flux(position, time),
        }
    }

    /// Mean temperature (K) over the thickness at `time` (s), without the fluids at the faces.
    ///
    /// # Errors
    /// `OutOfRange` if the time is outside 1e-12 to 1e12 s.
    pub fn mean_temperature(&self, time: f64) -> Result<f64, Error> {
        match self.series(time)? {
            Some(series) => range::finite(self.start_temperature + series.mean()?),
            None => self.wall.mean_temperature(time),
        }
    }

    /// Temperature (K) of the well-stirred fluid at `side` at `time` (s).
    ///
    /// # Errors
    /// `Inconsistent` if there is none at that end; `OutOfRange` if the time is outside 1e-12 to 1e12 s.
    pub fn fluid_temperature(&self, side: Side, time: f64) -> Result<f64, Error> {
        // Without a film the fluid has the temperature of the face; the wall knows whether there is one.
        let by_transform = self.wall.fluid_temperature(side, time)?;
        match (self.series(time)?, side) {
            (Some(series), Side::Inner) => range::finite(self.start_temperature + series.at(0.0)?.rise),
            (Some(series), Side::Outer) => range::finite(self.start_temperature + series.at(1.0)?.rise),
            (None, _) => Ok(by_transform),
        }
    }

    /// The series, where it is the better route.
    fn series(&self, time: f64) -> Result<Option<Series>, Error> {
        let fourier = self.solid.diffusivity() * (range::time(time)? / self.thickness / self.thickness);
        Ok(self.ends.filter(|_| fourier >= SERIES_FROM_FOURIER).map(|ends| Series { ends, fourier }))
    }
}

/// The eigenfunction series at one Fourier number.
#[derive(Debug, Clone, Copy)]
struct Series {
    ends: [SeriesEnd; 2],
    fourier: f64,
}

impl Series {
    fn at(&self, x: f64) -> Result<Local, Error> {
        let particular = self.particular();
        let mut local = Local {
            rise: particular.constant
                + x * (particular.linear + x * particular.quadratic)
                + particular.growth * self.fourier,
            slope: particular.linear + 2.0 * x * particular.quadratic,
        };
        self.each_term(|b, coefficient, (sine, cosine), _| {
            let (s, c) = (b * x).sin_cos();
            local.rise += coefficient * (c * cosine + s * sine);
            local.slope += coefficient * b * (c * sine - s * cosine);
        })?;
        Ok(local)
    }

    fn mean(&self) -> Result<f64, Error> {
        let particular = self.particular();
        let mut mean = particular.constant
            + particular.linear / 2.0
            + particular.quadratic / 3.0
            + particular.growth * self.fourier;
        self.each_term(|b, coefficient, inner, outer_sine| mean += coefficient * (inner.0 + outer_sine) / b)?;
        Ok(mean)
    }

    /// Calls `each(eigenvalue, decayed coefficient, inner (sine, cosine), signed outer sine)` for every term that counts.
    fn each_term(&self, mut each: impl FnMut(f64, f64, (f64, f64), f64)) -> Result<(), Error> {
        let [inner, outer] = &self.ends;
        let first = if self.conserves() { 1 } else { 0 };
        for index in first.. {
            let n = index as f64;
            let phase = |b: f64| b - inner.tangent(b).atan() - outer.tangent(b).atan() - n * PI;
            // Each end takes at most a quarter turn; a little wider, as the root may lie on an end to rounding.
            let b = bracketed_root(phase, ((n - 1.0) * PI - 1e-3).max(0.0), (n + 1.0) * PI + 1e-3, 0.0)?;
            let exponent = b * b * self.fourier;
            if exponent > 50.0 {
                break;
            }
            let (i, mut o) = (inner.phase(b), outer.phase(b));
            let norm =
                0.5 + (i.0 * i.1 + o.0 * o.1) / (2.0 * b) + inner.capacity * i.1 * i.1 + outer.capacity * o.1 * o.1;
            if index % 2 == 1 {
                o = (-o.0, -o.1);
            }
            let start = inner.capacity * inner.start * i.1 + outer.capacity * outer.start * o.1;
            let drive = inner.drive(b, i) + outer.drive(b, o);
            each(b, (start - drive / (b * b)) / norm * (-exponent).exp(), i, o.0);
        }
        Ok(())
    }

    /// Whether no end leads anywhere, so that heat is only redistributed or grows steadily.
    fn conserves(&self) -> bool {
        self.ends.iter().all(|end| end.biot == 0.0)
    }

    /// The steady state, or the state that grows steadily in time.
    fn particular(&self) -> Particular {
        let [inner, outer] = &self.ends;
        if self.conserves() {
            let capacity = 1.0 + inner.capacity + outer.capacity;
            let growth = (inner.flux + outer.flux) / capacity;
            let linear = inner.capacity * growth - inner.flux;
            let quadratic = 0.5 * growth;
            let heat = inner.capacity * inner.start + outer.capacity * outer.start;
            let shape = linear / 2.0 + quadratic / 3.0 + outer.capacity * (linear + quadratic);
            return Particular { constant: (heat - shape) / capacity, linear, quadratic, growth };
        }
        // Each end that leads somewhere is a temperature behind a resistance.
        let temperature = |end: &SeriesEnd| {
            if end.biot.is_infinite() { end.temperature } else { end.temperature + end.flux / end.biot }
        };
        let resistance = |end: &SeriesEnd| 1.0 / end.biot;
        let (constant, outward) = if inner.biot == 0.0 {
            let outward = inner.flux;
            (temperature(outer) + outward * (1.0 + resistance(outer)), outward)
        } else if outer.biot == 0.0 {
            let outward = -outer.flux;
            (temperature(inner) - outward * resistance(inner), outward)
        } else {
            let (from, to) = (temperature(inner), temperature(outer));
            let outward = (from - to) / (resistance(inner) + 1.0 + resistance(outer));
            (from - outward * resistance(inner), outward)
        };
        Particular { constant, linear: -outward, quadratic: 0.0, growth: 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::super::end::StirredBody;
    use super::*;

    /// Every pair of ends, by series and by Laplace inversion: two routes that share only the equation.
    #[test]
    fn series_agrees_with_laplace_inversion() {
        let solid = Solid::new(0.15, 600.0, 1600.0).unwrap();
        let (thickness, start) = (0.05, 20.0);
        let film = |coefficient| End::Film { coefficient, temperature: 60.0 };
        let kinds = [
            End::Temperature(95.0),
            End::Flux(-40.0),
            End::Insulated,
            film(3.0),
            film(2e6),
            End::WellStirred(StirredBody::new(96_000.0, 90.0)),
            End::WellStirred(StirredBody::new(300.0, 50.0).with_loss(0.8, -10.0)),
        ];
        let mut largest: f64 = 0.0;
        for inner in kinds {
            for outer in kinds {
                let slab = Slab::new(solid, thickness, start, inner, outer).unwrap();
                let ends = slab.ends.unwrap();
                for fourier in [1e-3, 0.01, 0.2, 1.5, 40.0] {
                    let time = fourier * thickness * thickness / solid.diffusivity();
                    let series = Series { ends, fourier };
                    // Fluxes and capacities given above move the slab by up to some 80 K, and more as heat accumulates.
                    let scale = 80.0 + 20.0 * fourier;
                    for part in [0.0, 0.3, 1.0] {
                        let local = series.at(part).unwrap();
                        let exact = slab.wall.temperature(part * thickness, time).unwrap();
                        let error = (start + local.rise - exact).abs() / scale;
                        largest = largest.max(error);
                        assert!(error < 1e-11, "{inner:?} {outer:?} Fo {fourier} x {part}: {error:e}");
                        let flux = slab.wall.flux(part * thickness, time).unwrap();
                        let error = (-solid.conductivity() / thickness * local.slope - flux).abs();
                        let scale = scale * solid.effusivity() / time.sqrt() + 300.0;
                        assert!(error < 1e-11 * scale, "flux {inner:?} {outer:?} Fo {fourier} x {part}: {error:e}");
                    }
                    let mean = slab.wall.mean_temperature(time).unwrap();
                    let error = (start + series.mean().unwrap() - mean).abs() / scale;
                    assert!(error < 1e-11, "mean {inner:?} {outer:?} Fo {fourier}: {error:e}");
                }
            }
        }
        assert!(largest > 0.0, "the two routes cannot be one and the same");
    }
}
