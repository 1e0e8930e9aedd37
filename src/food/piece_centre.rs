//! The middle of a piece of food in a pot whose temperature is known: how long it lags behind the liquid.
//!
//! Pieces of a setup are part of its forecast ([`crate::Pieces`]). This is for curves that come without: a thermometer
//! in the liquid, or a forecast of the pot alone. It is the same conduction, in a network of one wall.

use super::curve::{Curve, End};
use super::track::Track;
use crate::conduction::{Probe, Problem};
use crate::error::{Error, all_within};
use crate::material::Material;
use crate::units::bounds::in_range;
use crate::units::{
    Length, Si, Temperature, Time, celsius, hours, joules_per_kilogram_kelvin, kelvins, kilograms_per_cubic_metre,
    metres, millimetres, minutes, watts_per_metre_kelvin, watts_per_square_metre_kelvin,
};
use crate::wall::{Boundary, Course, Layer, Wall, WallBuilder};

/// Longest step of the answer, s; a power of two.
const STEP: f64 = 64.0;
/// Surroundings that change faster are followed closely, K/s.
const FAST: f64 = 0.005;
/// Cells from the middle to the surface.
const CELLS: usize = 40;
/// Error of a step in time, K.
const STEP_ERROR: f64 = 0.003;
/// The answer on this mesh, with these steps, is within this of the exact series (see the tests), K.
const NUMERICAL_ERROR: f64 = 0.05;

/// A piece in the liquid of a pot, heated through its whole surface.
///
/// The range runs over shape, diffusivity and film: at the cautious end a slab as thick as the piece, 1.2e-7 m²/s, and
/// 200 W/(m² K) on its surface; best a long cylinder, 1.4e-7 m²/s and 500 W/(m² K); at the generous end a sphere,
/// 1.7e-7 m²/s and 2000 W/(m² K). Diffusivities span the measured ones of meat and potato (READ, table of 2020, and the
/// component equations); the films are ESTIMATE. Conductivity 0.5 W/(m K) throughout. Pieces that touch one another,
/// frozen or stuffed ones lag more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceCentre {
    thickness: Length,
    start: Temperature,
}

/// An end of the range.
struct Member {
    end: End,
    shape: fn(Length) -> WallBuilder,
    /// m²/s.
    diffusivity: f64,
    /// W/(m² K).
    film: f64,
}

const MEMBERS: [Member; 3] = [
    Member { end: End::Cautious, shape: |_| Wall::planar(), diffusivity: 1.2e-7, film: 200.0 },
    Member { end: End::Best, shape: Wall::cylindrical, diffusivity: 1.4e-7, film: 500.0 },
    Member { end: End::Generous, shape: Wall::spherical, diffusivity: 1.7e-7, film: 2000.0 },
];
const CONDUCTIVITY: f64 = 0.5;
const DENSITY: f64 = 1000.0;

impl PieceCentre {
    /// A piece of a smallest thickness of 1 to 400 mm that goes in at a temperature of 0 to 100 °C, thawed.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for another thickness or temperature.
    pub fn new(thickness: Length, start: Temperature) -> Result<Self, Error> {
        all_within("piece", || {
            in_range("thickness", thickness, millimetres(1.0), millimetres(400.0))?;
            in_range("start temperature", start, celsius(0.0), celsius(100.0))?;
            Ok(PieceCentre { thickness, start })
        })
    }

    /// The curve of its middle: it goes in when the simmer (0 to 24 h, at `boiling`, 20 to 200 °C) begins, and follows
    /// `liquid` afterwards. Times count as in `liquid`; the simmer comes before it. It is at the coldest spot if the
    /// liquid is.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for another simmer or boiling point.
    pub fn curve(&self, simmer: Time, boiling: Temperature, liquid: &Curve) -> Result<Curve, Error> {
        let (simmer, boiling) = all_within("piece", || {
            let simmer = in_range("simmer", simmer, minutes(0.0), hours(24.0))?;
            Ok((simmer, in_range("boiling point", boiling, celsius(20.0), celsius(200.0))?))
        })?;
        self.after(liquid, [boiling; 3], simmer)
    }

    /// The same with the temperatures of the simmer (K) at each end of the range.
    pub(super) fn after(&self, liquid: &Curve, boiling: [f64; 3], simmer: f64) -> Result<Curve, Error> {
        let surroundings = liquid.after_simmer(boiling, simmer);
        let times = self.times(&surroundings);
        let [cautious, best, generous] =
            MEMBERS.map(|member| self.follow(surroundings.track(member.end), &times, &member));
        let mut lines = [cautious?, best?, generous?];
        let [cautious, _, generous] = &mut lines;
        cautious.iter_mut().for_each(|t| *t -= NUMERICAL_ERROR);
        generous.iter_mut().for_each(|t| *t += NUMERICAL_ERROR);
        Ok(Curve::of_lines(times, lines, liquid.has_range(), liquid.spot()))
    }

    /// Moments of the answer, s, so close that straight pieces between them miss the middle by less than the numerical
    /// error: every twentieth of the fastest time constant (that of a sphere) while the piece answers to a fast change,
    /// else every minute or so. They lie on a grid of powers of two, where the steps of a march land anyway.
    fn times(&self, surroundings: &Curve) -> Vec<f64> {
        let squared = (0.5 * self.thickness.si()).powi(2);
        let fine = (0.005 * squared / MEMBERS[2].diffusivity).log2().floor().exp2().clamp(1.0, STEP);
        let answers = 3.0 * squared / MEMBERS[0].diffusivity;
        let (marks, values) = (surroundings.times(), surroundings.track(End::Best).values);
        let (start, end) = (surroundings.start(), surroundings.end());
        // It goes in cold: a jump at the start.
        let mut fast = vec![(start, start + answers)];
        for (t, v) in marks.windows(2).zip(values.windows(2)) {
            if (v[1] - v[0]).abs() > FAST * (t[1] - t[0]) {
                match fast.last_mut() {
                    Some(last) if t[0] <= last.1 => last.1 = last.1.max(t[1] + answers),
                    _ => fast.push((t[0], t[1] + answers)),
                }
            }
        }
        let mut times = vec![start];
        let mut passed = 0;
        let mut at = 0.0;
        loop {
            // A long step is taken where none of it is fast, so that it begins and ends on the grid of long steps.
            while fast.get(passed).is_some_and(|(_, to)| start + at >= *to) {
                passed += 1;
            }
            let is_fast = fast.get(passed).is_some_and(|(from, _)| start + at + STEP > *from);
            at += if is_fast || at % STEP != 0.0 { fine } else { STEP };
            if start + at >= end {
                times.push(end);
                return times;
            }
            times.push(start + at);
        }
    }

    /// Temperatures (K) of the middle at the times of the answer.
    fn follow(&self, surroundings: Track<'_>, times: &[f64], member: &Member) -> Result<Vec<f64>, Error> {
        let food = Material::custom(
            "piece",
            watts_per_metre_kelvin(CONDUCTIVITY),
            kilograms_per_cubic_metre(DENSITY),
            joules_per_kilogram_kelvin(CONDUCTIVITY / (member.diffusivity * DENSITY)),
        )?;
        // Half of a slab, its middle the inner face; a round piece is solid to its middle.
        let wall = (member.shape)(metres(0.0)).layer(Layer::new(food, 0.5 * self.thickness)?).build()?;
        let film = Boundary::film(watts_per_square_metre_kelvin(member.film), surroundings.course(times[0])?);
        let problem = Problem::new(wall, Boundary::Insulated, film)?.starting_at(self.start)?;
        let wanted: Vec<Time> = times.iter().map(|time| Time::from_si(time - times[0])).collect();
        let march = problem.march_single(&wanted, &[CELLS], kelvins(STEP_ERROR))?;
        (0..times.len()).map(|k| march.read(Probe::Temperature(metres(0.0)), k)).collect()
    }
}

impl Track<'_> {
    /// As a course that begins at `start` (s).
    fn course(&self, start: f64) -> Result<Course<Temperature>, Error> {
        let mut points: Vec<(Time, Temperature)> = Vec::with_capacity(self.times.len());
        for (time, value) in self.times.iter().zip(self.values) {
            let point = (Time::from_si(time - start), Temperature::from_si(*value));
            // Of more than two points at one moment the first and the last make the jump.
            if let [.., one, two] = points[..]
                && one.0 == point.0
                && two.0 == point.0
            {
                points.pop();
            }
            points.push(point);
        }
        Course::table(&points)
    }
}
