//! Links for a face that convects and radiates by published relations.

use crate::correlation::{air, constants, forced_convection, free_convection};
use crate::error::Error;
use crate::network::Law;
use crate::units::Si;
use crate::wall::{Among, Convection};

/// Convection from a face to air: reads face and air.
#[derive(Debug, Clone)]
pub(crate) struct ConvectionLaw {
    pub(crate) kind: Convection,
    /// m² of face.
    pub(crate) area: f64,
    /// Factor on the published coefficient: 1, or an end of its uncertainty.
    pub(crate) factor: f64,
}

/// Half the step of the difference quotients, K.
const STEP: f64 = 1e-3;

impl ConvectionLaw {
    /// Coefficient between face and air, W/(m² K).
    pub(crate) fn coefficient(&self, face: f64, air: f64) -> Result<f64, Error> {
        Ok(self.factor * convection_coefficient(self.kind, face, air)?)
    }
}

impl Law for ConvectionLaw {
    fn flow(&self, _time: f64, read: &[f64], gradient: &mut [f64]) -> f64 {
        // A temperature for which the relation has no value makes the stage fail, with an error that says so.
        let flow = |face: f64, air: f64| self.coefficient(face, air).map_or(f64::NAN, |h| self.area * h * (face - air));
        gradient[0] = (flow(read[0] + STEP, read[1]) - flow(read[0] - STEP, read[1])) / (2.0 * STEP);
        gradient[1] = (flow(read[0], read[1] + STEP) - flow(read[0], read[1] - STEP)) / (2.0 * STEP);
        flow(read[0], read[1])
    }
}

/// Grey radiation between a face and surroundings far larger than it: reads both.
#[derive(Debug, Clone, Copy)]
pub(crate) struct RadiationLaw {
    /// Exchange factor times area, m².
    pub(crate) factor: f64,
}

impl Law for RadiationLaw {
    fn flow(&self, _time: f64, read: &[f64], gradient: &mut [f64]) -> f64 {
        let [a, b] = [read[0], read[1]];
        let s = self.factor * constants::STEFAN_BOLTZMANN;
        gradient[0] = 4.0 * s * a.powi(3);
        gradient[1] = -4.0 * s * b.powi(3);
        // As a product: no cancellation of fourth powers.
        s * (a * a + b * b) * (a + b) * (a - b)
    }
}

/// Published coefficient of a kind of convection, W/(m² K), dry air at standard pressure and film temperature.
pub(super) fn convection_coefficient(kind: Convection, face: f64, air_temperature: f64) -> Result<f64, Error> {
    convection_among(kind, face, air_temperature, Among::First)
}

/// The same by the preferred one of the relations published for it, or by an end of what they span.
pub(crate) fn convection_among(kind: Convection, face: f64, air_temperature: f64, among: Among) -> Result<f64, Error> {
    let film = || air::dry_air(f64::midpoint(face, air_temperature), constants::STANDARD_PRESSURE);
    let difference = (face - air_temperature).abs();
    let free = |length: f64, nusselt: &dyn Fn(f64, f64) -> Result<f64, Error>| {
        let film = film()?;
        let rayleigh = film.rayleigh(difference, length)?;
        film.film_coefficient(nusselt(rayleigh, film.prandtl)?, length)
    };
    let upward = face >= air_temperature;
    match kind {
        Convection::None => Ok(0.0),
        Convection::Constant(h) => Ok(h.si()),
        Convection::Upright(l) => free(l.si(), &|ra, pr| {
            let of_all_flows = free_convection::vertical_plate_churchill_chu(ra, pr)?.value;
            among.pick(of_all_flows, || free_convection::vertical_plate_churchill_chu_laminar(ra, pr))
        }),
        Convection::UprightCylinder(l, d) => free(l.si(), &|ra, pr| {
            let plate = free_convection::vertical_plate_churchill_chu(ra, pr)?;
            // Without a difference the relation has no value, and no heat flows.
            if ra == 0.0 {
                return Ok(plate.value);
            }
            let slender = free_convection::vertical_cylinder_popiel(ra / pr, pr, l.si() / d.si())?.value;
            among.pick(slender, || Ok(plate))
        }),
        Convection::LevelUp(l) | Convection::LevelDown(l) => {
            // A hot face up and a cold face down convect freely; the other two are stable.
            if upward == matches!(kind, Convection::LevelUp(_)) {
                free(l.si(), &|ra, _| Ok(free_convection::horizontal_plate_upward_mcadams(ra)?.value))
            } else {
                free(l.si(), &|ra, _| Ok(free_convection::horizontal_plate_downward_mcadams(ra)?.value))
            }
        }
        Convection::LevelCylinder(d) => {
            free(d.si(), &|ra, pr| Ok(free_convection::horizontal_cylinder_churchill_chu(ra, pr)?.value))
        }
        Convection::WindOnCylinder(d, v) => {
            let film = film()?;
            let reynolds = film.reynolds(v.si(), d.si())?;
            let nusselt = forced_convection::cylinder_churchill_bernstein(reynolds, film.prandtl)?.value;
            let nusselt = among.pick(nusselt, || forced_convection::cylinder_hilpert(reynolds, film.prandtl))?;
            film.film_coefficient(nusselt, d.si())
        }
        Convection::WindOnPlate(l, v) => {
            let film = film()?;
            let reynolds = film.reynolds(v.si(), l.si())?;
            let nusselt = if reynolds < forced_convection::PLATE_TRANSITION {
                forced_convection::plate_laminar_pohlhausen(reynolds, film.prandtl)?.value
            } else {
                forced_convection::plate_mixed(reynolds, film.prandtl)?.value
            };
            film.film_coefficient(nusselt, l.si())
        }
    }
}
