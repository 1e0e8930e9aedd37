//! Heat across the air between pot and liner, and from the outside of the box to the room.

use crate::conduction::convection_coefficient;
use crate::correlation::{air, constants, enclosure};
use crate::error::Error;
use crate::network::{Law, Signal};
use crate::units::{Length, Si, Velocity};
use crate::wall::Convection;

use super::leak_law::wind_coefficient;

/// How the air of a gap lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Lie {
    /// Upright, with its height over its thickness.
    Upright(f64),
    /// Level, the warm side below.
    WarmBelow,
    /// Level, the warm side above: it only conducts.
    WarmAbove,
}

/// From a surface to the air of the gap before it, half-way across: reads surface and air. The whole gap has the
/// Nusselt number of the published relation for twice the difference; each half then has twice its coefficient.
#[derive(Debug, Clone, Copy)]
pub(crate) struct HalfGap {
    /// Thickness of the whole gap, m.
    pub(crate) thickness: f64,
    /// m²
    pub(crate) area: f64,
    pub(crate) lie: Lie,
    /// Factor on the published value: 1, or an end of its uncertainty.
    pub(crate) factor: f64,
}

impl HalfGap {
    fn coefficient(&self, surface: f64, gap: f64) -> Result<f64, Error> {
        let film = air::dry_air(f64::midpoint(surface, gap), constants::STANDARD_PRESSURE)?;
        let rayleigh = film.rayleigh(2.0 * (surface - gap).abs(), self.thickness)?;
        let nusselt = match self.lie {
            Lie::Upright(aspect) => enclosure::vertical_gap_elsherbiny_1982(rayleigh, aspect)?.value,
            Lie::WarmBelow => enclosure::horizontal_gap_hollands_1976(rayleigh)?.value,
            Lie::WarmAbove => 1.0,
        };
        Ok(self.factor * 2.0 * film.film_coefficient(nusselt, self.thickness)?)
    }
}

impl Law for HalfGap {
    fn flow(&self, _time: f64, read: &[f64], gradient: &mut [f64]) -> f64 {
        let slope = (self.lie != Lie::WarmBelow).then_some(1.0);
        tangent(read, gradient, slope, |surface, gap| Some(self.area * self.coefficient(surface, gap).ok()?))
    }
}

/// From an outer surface to the air of the room: free convection and wind, blended by their cubes (Churchill 1977);
/// reads surface and air.
#[derive(Debug, Clone)]
pub(crate) struct OutsideFilm {
    pub(crate) free: Convection,
    /// What the wind blows over, and its speed in time, m/s.
    pub(crate) wind: (Blown, Signal),
    /// m²
    pub(crate) area: f64,
    pub(crate) factor: f64,
}

/// What the wind blows over.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Blown {
    /// A plate so long.
    Plate(Length),
    /// Across a cylinder of this diameter.
    Cylinder(Length),
}

impl OutsideFilm {
    fn coefficient(&self, time: f64, surface: f64, room: f64) -> Result<f64, Error> {
        let free = convection_coefficient(self.free, surface, room)?;
        let (over, speed) = (self.wind.0, self.wind.1.at(time));
        if speed <= 0.0 {
            return Ok(self.factor * free);
        }
        let wind = match over {
            Blown::Plate(length) => Convection::WindOnPlate(length, Velocity::from_si(speed)),
            Blown::Cylinder(across) => Convection::WindOnCylinder(across, Velocity::from_si(speed)),
        };
        let forced = convection_coefficient(wind, surface, room)?;
        Ok(self.factor * crate::correlation::forced_convection::blend_churchill_1977(forced, free)?.value)
    }
}

/// From a bare pot to the room: a film, and what the wind adds; reads surface and room.
#[derive(Debug, Clone)]
pub(crate) struct BareFilm {
    /// In still air, W/(m² K).
    pub(crate) film: f64,
    /// m²
    pub(crate) area: f64,
    /// Wind speed in time, m/s.
    pub(crate) wind: Signal,
}

impl Law for BareFilm {
    fn flow(&self, time: f64, read: &[f64], gradient: &mut [f64]) -> f64 {
        tangent(read, gradient, Some(1.0), |_, _| {
            Some(self.area * (self.film + wind_coefficient(self.wind.at(time)).ok()?))
        })
    }

    fn jumps(&self, from: f64, to: f64) -> Vec<f64> {
        self.wind.turns(from, to)
    }
}

impl Law for OutsideFilm {
    fn flow(&self, time: f64, read: &[f64], gradient: &mut [f64]) -> f64 {
        tangent(read, gradient, Some(FREE_SLOPE), |surface, room| {
            Some(self.area * self.coefficient(time, surface, room).ok()?)
        })
    }

    fn jumps(&self, from: f64, to: f64) -> Vec<f64> {
        self.wind.1.turns(from, to)
    }
}

/// Half the step of a difference quotient, K: wide enough to step over the kinks of published relations.
const STEP: f64 = 0.05;
/// Films by free convection grow with the fourth to third root of the difference: the slope of the flow is this much of
/// its coefficient. (A tangent is taken at the middle of a step: its slope need not be exact, see
/// [`crate::network::Law::frozen`].)
const FREE_SLOPE: f64 = 1.28;

/// Flow by a conductance (W/K) that follows the two temperatures, and its slope: by a difference quotient where the
/// conductance sets in suddenly, else `slope` times the conductance. Where a relation has no value the flow is not a
/// number, and the stage fails with an error that says so.
fn tangent(
    read: &[f64],
    gradient: &mut [f64],
    slope: Option<f64>,
    conductance: impl Fn(f64, f64) -> Option<f64>,
) -> f64 {
    let (a, b) = (read[0], read[1]);
    let at = |d: f64| conductance(a + d, b).unwrap_or(f64::NAN);
    let g = at(0.0);
    let flow = |d: f64| at(d) * (a + d - b);
    gradient[0] = match slope {
        Some(share) => share * g,
        None => (flow(STEP) - flow(-STEP)) / (2.0 * STEP),
    };
    gradient[1] = -gradient[0];
    g * (a - b)
}
