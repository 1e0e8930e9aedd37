//! The half space behind a plane surface.

use super::end::{End, StirredBody};
use super::range;
use super::solid::Solid;
use crate::numeric::inversion::inverse_laplace;
use crate::numeric::special::{erfc, erfcx, ierfc};
use crate::{Error, ErrorKind};
use std::f64::consts::PI;

/// A half space, uniform in temperature at time zero, with something constant done to its surface.
///
/// Solutions in the complementary error function (Carslaw & Jaeger 1959, chapter 2; Incropera & DeWitt, section 5.7;
/// MEMORY), with `X = depth / (2 sqrt(a t))` and `E(y) = exp(y^2) erfc(y)`, temperatures above the start:
///
/// - surface held at `T`: `T erfc X`;
/// - flux `q`: `2 q sqrt(a t) / k * ierfc X`;
/// - film `h` to `T`: `T (erfc X - exp(-X^2) E(X + h sqrt(a t) / k))`;
/// - well-stirred fluid of capacity `C` per area, at `F` when the start is zero, in perfect contact:
///   `F exp(-X^2) E(X + e sqrt(t) / C)` with the effusivity `e`;
/// - fluid with a film or a direct loss: inversion of the Laplace transform.
///
/// Temperatures in kelvin, or any scale of that degree used throughout. Accuracy: 1e-12 of the largest temperature
/// difference (tests: against the inversion, and printed and computed reference cases).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SemiInfiniteSolid {
    solid: Solid,
    start_temperature: f64,
    surface: End,
}

impl SemiInfiniteSolid {
    /// A half space at `start_temperature` (K) at time zero, with `surface` from then on.
    ///
    /// # Errors
    /// `OutOfRange` for numbers outside 1e-12 to 1e12 (temperatures and fluxes: magnitude up to 1e12).
    pub fn new(solid: Solid, start_temperature: f64, surface: End) -> Result<Self, Error> {
        range::temperature("start temperature", start_temperature)?;
        Ok(SemiInfiniteSolid { solid, start_temperature, surface: surface.checked("surface")? })
    }

    /// Temperature (K) at `depth` (m) below the surface and `time` (s) after the start.
    ///
    /// # Errors
    /// `OutOfRange` unless the depth is zero or lies in 1e-12 to 1e12 m, and the time in 1e-12 to 1e12 s.
    pub fn temperature(&self, depth: f64, time: f64) -> Result<f64, Error> {
        let (x, root) = self.similarity(depth, time)?;
        let solid = &self.solid;
        let rise = match self.surface {
            End::Temperature(temperature) => (temperature - self.start_temperature) * erfc(x),
            End::Flux(flux) => 2.0 * flux * root / solid.conductivity() * ierfc(x),
            End::Insulated | End::Symmetry => 0.0,
            End::Film { coefficient, temperature } => {
                let film = erfcx(x + coefficient * root / solid.conductivity());
                (temperature - self.start_temperature) * (-x * x).exp() * (erfcx(x) - film)
            }
            End::WellStirred(body) if body.film.is_none() && body.loss.is_none() => {
                let y = solid.effusivity() * time.sqrt() / body.capacity;
                (body.start_temperature - self.start_temperature) * (-x * x).exp() * erfcx(x + y)
            }
            End::WellStirred(body) => self.by_inversion(body, depth, time, false),
        };
        range::finite(self.start_temperature + rise)
    }

    /// Heat flux density (W/m2) into the depth at `depth` (m) and `time` (s).
    ///
    /// # Errors
    /// As [`temperature`](Self::temperature).
    pub fn flux(&self, depth: f64, time: f64) -> Result<f64, Error> {
        let (x, root) = self.similarity(depth, time)?;
        let solid = &self.solid;
        let bell = (-x * x).exp();
        // Flux through the surface after a unit step there.
        let unit = solid.effusivity() / (PI * time).sqrt();
        range::finite(match self.surface {
            End::Temperature(temperature) => (temperature - self.start_temperature) * unit * bell,
            End::Flux(flux) => flux * erfc(x),
            End::Insulated | End::Symmetry => 0.0,
            End::Film { coefficient, temperature } => {
                let film = erfcx(x + coefficient * root / solid.conductivity());
                coefficient * (temperature - self.start_temperature) * bell * film
            }
            End::WellStirred(body) if body.film.is_none() && body.loss.is_none() => {
                let y = solid.effusivity() * time.sqrt() / body.capacity;
                let slowing = 1.0 - PI.sqrt() * y * erfcx(x + y);
                (body.start_temperature - self.start_temperature) * unit * bell * slowing
            }
            End::WellStirred(body) => self.by_inversion(body, depth, time, true),
        })
    }

    /// Temperature (K) of the well-stirred fluid at the surface at `time` (s).
    ///
    /// # Errors
    /// `Inconsistent` if there is none; `OutOfRange` if the time is outside 1e-12 to 1e12 s.
    pub fn fluid_temperature(&self, time: f64) -> Result<f64, Error> {
        let End::WellStirred(body) = self.surface else {
            return Err(Error::new(ErrorKind::Inconsistent, "there is no well-stirred body here")
                .with_accepted("End::WellStirred")
                .within("surface"));
        };
        let surface = self.temperature(0.0, time)?;
        match body.film {
            None => Ok(surface),
            Some(film) => range::finite(surface + self.flux(0.0, time)? / film),
        }
    }

    /// Relative depth, and the diffusion length `sqrt(a t)`.
    fn similarity(&self, depth: f64, time: f64) -> Result<(f64, f64), Error> {
        range::not_negative("depth", depth, "m")?;
        let root = (self.solid.diffusivity() * range::time(time)?).sqrt();
        Ok((0.5 * depth / root, root))
    }

    /// Temperature rise, or flux, by inversion of the transform: fluid, film and half space in series.
    fn by_inversion(&self, body: StirredBody, depth: f64, time: f64, flux: bool) -> f64 {
        let start = body.capacity * (body.start_temperature - self.start_temperature);
        let (loss, drive) =
            body.loss.map_or((0.0, 0.0), |l| (l.conductance, l.conductance * (l.temperature - self.start_temperature)));
        inverse_laplace(time, |s| {
            let ground = self.solid.effusivity() * s.sqrt();
            // Surface temperature over fluid temperature.
            let share = body.film.map_or(1.0 + 0.0 * s, |film| film / (film + ground));
            let fluid = (start + drive / s) / (s * body.capacity + loss + share * ground);
            let decay = (-depth * (s / self.solid.diffusivity()).sqrt()).exp();
            let rise = share * fluid * decay;
            if flux { rise * ground } else { rise }
        })
    }
}

/// A half space whose surface temperature has always swung as `amplitude * sin(2 pi t / period)` about a mean.
///
/// The swing at a depth is `amplitude exp(-x/d) sin(2 pi t / period - x/d)` with the periodic penetration depth
/// `d = sqrt(diffusivity * period / pi)` (Carslaw & Jaeger 1959, section 2.6; MEMORY). Exact to rounding
/// (tests: computed reference case, and the differential equation itself).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PeriodicSurface {
    solid: Solid,
    amplitude: f64,
    period: f64,
}

impl PeriodicSurface {
    /// With the amplitude (K) and period (s) of the surface temperature.
    ///
    /// # Errors
    /// `OutOfRange` unless the amplitude is of magnitude up to 1e12 K and the period in 1e-12 to 1e12 s.
    pub fn new(solid: Solid, amplitude: f64, period: f64) -> Result<Self, Error> {
        let amplitude = range::temperature("amplitude", amplitude)?;
        Ok(PeriodicSurface { solid, amplitude, period: range::positive("period", period, "s")? })
    }

    /// Depth (m) at which the swing has fallen to 1/e.
    pub fn penetration_depth(&self) -> f64 {
        (self.solid.diffusivity() * self.period / PI).sqrt()
    }

    /// Amplitude (K) at `depth` (m).
    ///
    /// # Errors
    /// `OutOfRange` unless the depth is zero or lies in 1e-12 to 1e12 m.
    pub fn amplitude(&self, depth: f64) -> Result<f64, Error> {
        Ok(self.amplitude * (-self.relative(depth)?).exp())
    }

    /// Time (s) by which the swing at `depth` (m) comes later than at the surface; may exceed the period.
    ///
    /// # Errors
    /// As [`amplitude`](Self::amplitude).
    pub fn lag(&self, depth: f64) -> Result<f64, Error> {
        Ok(self.relative(depth)? * self.period / (2.0 * PI))
    }

    /// Departure (K) from the mean at `depth` (m) and `time` (s, any sign).
    ///
    /// # Errors
    /// As [`amplitude`](Self::amplitude), and for a time of magnitude above 1e12 s.
    pub fn swing(&self, depth: f64, time: f64) -> Result<f64, Error> {
        let phase = 2.0 * PI * range::signed("time", time, "s")? / self.period;
        range::finite(self.amplitude(depth)? * (phase - self.relative(depth)?).sin())
    }

    /// Heat flux density (W/m2) into the depth at the surface at `time` (s): an eighth of a period ahead of the
    /// surface temperature.
    ///
    /// # Errors
    /// `OutOfRange` for a time of magnitude above 1e12 s.
    pub fn surface_flux(&self, time: f64) -> Result<f64, Error> {
        let frequency = 2.0 * PI / self.period;
        let phase = frequency * range::signed("time", time, "s")? + 0.25 * PI;
        range::finite(self.amplitude * self.solid.effusivity() * frequency.sqrt() * phase.sin())
    }

    fn relative(&self, depth: f64) -> Result<f64, Error> {
        Ok(range::not_negative("depth", depth, "m")? / self.penetration_depth())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The closed form of the stirred fluid against the inversion that also serves film and loss.
    #[test]
    fn closed_forms_agree_with_laplace_inversion() {
        let solid = Solid::new(0.035, 30.0, 1450.0).unwrap();
        let fluid = StirredBody::new(20_000.0, 95.0);
        let exact = SemiInfiniteSolid::new(solid, 20.0, End::WellStirred(fluid)).unwrap();
        for time in [1e-3, 10.0, 3600.0, 1e6, 1e9] {
            for depth in [0.0, 0.003, 0.05] {
                let error =
                    exact.temperature(depth, time).unwrap() - 20.0 - exact.by_inversion(fluid, depth, time, false);
                assert!(error.abs() < 75e-12, "{depth} m, {time} s: {error:e}");
                let error = exact.flux(depth, time).unwrap() - exact.by_inversion(fluid, depth, time, true);
                assert!(error.abs() < 75e-12 * solid.effusivity() / time.sqrt(), "flux {depth} {time}: {error:e}");
            }
            // A film alone on a very large fluid is convection; its own closed form is the other route.
            let large = StirredBody::new(1e12, 95.0).with_film(8.0);
            let behind = SemiInfiniteSolid::new(solid, 20.0, End::WellStirred(large)).unwrap();
            let film = End::Film { coefficient: 8.0, temperature: 95.0 };
            let film = SemiInfiniteSolid::new(solid, 20.0, film).unwrap();
            for depth in [0.0, 0.05] {
                if time < 1e7 {
                    // The fluid cools a little all the same: at most 600 W/m2 taken from 1e12 J/(m2 K).
                    let cooling = 600.0 * time / 1e12 + 1e-10;
                    let error = behind.temperature(depth, time).unwrap() - film.temperature(depth, time).unwrap();
                    assert!(error.abs() < cooling, "film {depth} m, {time} s: {error:e}");
                    let error = behind.flux(depth, time).unwrap() - film.flux(depth, time).unwrap();
                    assert!(error.abs() < 8.0 * cooling, "film flux {depth} m, {time} s: {error:e}");
                }
            }
        }
        // A flux that equals what a step would take at that moment: T from the flux solution differs by pi/4 of the step.
        let time: f64 = 500.0;
        let flux = solid.effusivity() / (PI * time).sqrt();
        let given = SemiInfiniteSolid::new(solid, 0.0, End::Flux(flux)).unwrap();
        assert!((given.temperature(0.0, time).unwrap() - 2.0 / PI).abs() < 1e-15);
    }

    #[test]
    fn flux_is_the_slope_of_the_temperature() {
        let solid = Solid::new(0.6, 1000.0, 4180.0).unwrap();
        for surface in [
            End::Temperature(60.0),
            End::Flux(300.0),
            End::Film { coefficient: 120.0, temperature: 60.0 },
            End::WellStirred(StirredBody::new(9_000.0, 60.0)),
            End::WellStirred(StirredBody::new(9_000.0, 60.0).with_film(50.0).with_loss(3.0, -5.0)),
        ] {
            let body = SemiInfiniteSolid::new(solid, 10.0, surface).unwrap();
            let (x, time, step) = (0.004, 60.0, 1e-5);
            let slope =
                (body.temperature(x + step, time).unwrap() - body.temperature(x - step, time).unwrap()) / (2.0 * step);
            let flux = body.flux(x, time).unwrap();
            assert!((flux + 0.6 * slope).abs() < 1e-5 * flux.abs(), "{surface:?}: {flux} {slope}");
        }
    }

    #[test]
    fn periodic_swing_obeys_the_heat_equation() {
        let solid = Solid::new(0.52, 2050.0, 1840.0).unwrap();
        let ground = PeriodicSurface::new(solid, 12.0, 86_400.0).unwrap();
        let (x, t, dx, dt) = (0.07, 5000.0, 1e-3, 100.0);
        let at = |x, t| ground.swing(x, t).unwrap();
        let bend = (at(x + dx, t) - 2.0 * at(x, t) + at(x - dx, t)) / (dx * dx);
        let rate = (at(x, t + dt) - at(x, t - dt)) / (2.0 * dt);
        assert!((rate - solid.diffusivity() * bend).abs() < 1e-4 * rate.abs());
        let slope = (-3.0 * at(0.0, t) + 4.0 * at(1e-4, t) - at(2e-4, t)) / 2e-4;
        let flux = ground.surface_flux(t).unwrap();
        assert!((flux + 0.52 * slope).abs() < 1e-4 * flux.abs());
    }
}
