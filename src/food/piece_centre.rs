//! The middle of a piece of food in a pot: how long it lags behind the liquid.

use super::curve::{Curve, End, Spot};
use crate::closed_form::{BodyShape, eigenvalues};
use crate::error::{Error, Within};
use crate::units::bounds::in_range;
use crate::units::{Length, Temperature, Time, celsius, hours, millimetres, minutes};

/// Terms of the series: the last one is gone within a second in any piece above 1 mm.
const TERMS: usize = 40;
/// Longest step of the answer, s.
const STEP: f64 = 60.0;

/// A piece in the liquid of a pot, heated through its whole surface.
///
/// The range runs over shape, diffusivity and film: at the cautious end a slab as thick as the piece, 1.2e-7 m²/s, and
/// 200 W/(m² K) on its surface; best a long cylinder, 1.4e-7 m²/s and 500 W/(m² K); at the generous end a sphere,
/// 1.7e-7 m²/s and 2000 W/(m² K). Diffusivities span the measured ones of meat and potato (READ, table of 2020, and the
/// component equations); the films are ESTIMATE. Conductivity 0.5 W/(m K) throughout. Pieces that touch one another,
/// frozen or stuffed ones lag more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceCentre {
    thickness: f64,
    start: f64,
}

/// Shape, diffusivity (m²/s), film (W/(m² K)).
const MEMBERS: [(BodyShape, f64, f64); 3] =
    [(BodyShape::Slab, 1.2e-7, 200.0), (BodyShape::Cylinder, 1.4e-7, 500.0), (BodyShape::Sphere, 1.7e-7, 2000.0)];
const CONDUCTIVITY: f64 = 0.5;

impl PieceCentre {
    /// A piece of a smallest thickness of 1 to 300 mm that goes in at a temperature of 0 to 100 °C, thawed.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for another thickness or temperature.
    pub fn new(thickness: Length, start: Temperature) -> Result<Self, Error> {
        let check = || {
            let thickness = in_range("thickness", thickness, millimetres(1.0), millimetres(300.0))?;
            Ok(PieceCentre { thickness, start: in_range("start temperature", start, celsius(0.0), celsius(100.0))? })
        };
        let checked: Result<Self, Error> = check();
        checked.within("piece")
    }

    /// The curve of its middle: it goes in when the simmer (0 to 24 h, at `boiling`, 20 to 200 °C) begins, and follows
    /// `liquid` afterwards. Times count as in `liquid`; the simmer comes before it.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for another simmer or boiling point.
    pub fn curve(&self, simmer: Time, boiling: Temperature, liquid: &Curve) -> Result<Curve, Error> {
        let check = || {
            let simmer = in_range("simmer", simmer, minutes(0.0), hours(24.0))?;
            Ok((simmer, in_range("boiling point", boiling, celsius(20.0), celsius(200.0))?))
        };
        let checked: Result<(f64, f64), Error> = check();
        let (simmer, boiling) = checked.within("piece")?;
        let surroundings = liquid.after_simmer(boiling, simmer);
        let mut times = vec![surroundings.start()];
        for pair in surroundings.times().windows(2) {
            let count = ((pair[1] - pair[0]) / STEP).ceil().max(1.0);
            times.extend((1..=count as usize).map(|k| pair[0] + (pair[1] - pair[0]) * k as f64 / count));
        }
        let lines = [(End::Cautious, MEMBERS[0]), (End::Best, MEMBERS[1]), (End::Generous, MEMBERS[2])];
        let mut values = Vec::with_capacity(lines.len());
        for (end, member) in lines {
            values.push(self.follow(surroundings.track(end), &times, member)?);
        }
        // Three lines were pushed.
        let mut next = || values.remove(0);
        Ok(Curve::of_lines(times, [next(), next(), next()], liquid.has_range(), Spot::Coldest))
    }

    /// Modal answer to surroundings that change by straight pieces and jumps: exact in time, so that steps of any length
    /// do. The middle is the surroundings less the sum of modes y with `y' = -rate y + surroundings'`.
    fn follow(
        &self,
        surroundings: super::track::Track<'_>,
        times: &[f64],
        (shape, diffusivity, film): (BodyShape, f64, f64),
    ) -> Result<Vec<f64>, Error> {
        let half = 0.5 * self.thickness;
        let roots = eigenvalues(shape, film * half / CONDUCTIVITY, TERMS)?;
        let mut modes: Vec<(f64, f64, f64)> =
            roots.iter().map(|z| (middle_coefficient(shape, *z), diffusivity * (z / half).powi(2), 0.0)).collect();
        let mut before = self.start;
        let mut answer = Vec::with_capacity(times.len());
        let mut at = 0;
        for (i, time) in times.iter().enumerate() {
            let step = if i == 0 { 0.0 } else { time - times[i - 1] };
            // The points of the surroundings are among the times; a jump has two of them at one moment.
            let now =
                if i == 0 || step == 0.0 { jump(&surroundings, &mut at) } else { along(&surroundings, &mut at, *time) };
            let rise = now - before;
            for (_, rate, mode) in &mut modes {
                *mode = if step > 0.0 {
                    let decay = (-*rate * step).exp();
                    *mode * decay + rise / step * (1.0 - decay) / *rate
                } else {
                    *mode + rise
                };
            }
            before = now;
            let lag: f64 = modes.iter().map(|(coefficient, _, mode)| coefficient * mode).sum();
            answer.push(now - lag);
        }
        // Until heat arrives the truncated series rings about the start temperature.
        let (low, high) = surroundings.values.iter().fold((self.start, self.start), |(l, h), t| (l.min(*t), h.max(*t)));
        Ok(answer.into_iter().map(|t| t.clamp(low, high)).collect())
    }
}

/// The value at the next point of the surroundings.
fn jump(track: &super::track::Track<'_>, at: &mut usize) -> f64 {
    let here = (*at).min(track.values.len() - 1);
    *at += 1;
    track.values[here]
}

/// The value at `time`, inside the piece that ends at point `at`; the point is passed when reached.
fn along(track: &super::track::Track<'_>, at: &mut usize, time: f64) -> f64 {
    let b = (*at).min(track.values.len() - 1);
    let a = b.saturating_sub(1);
    let width = track.times[b] - track.times[a];
    if width <= 0.0 || time >= track.times[b] - 1e-9 * width {
        *at += 1;
        return track.values[b];
    }
    track.values[a] + (track.values[b] - track.values[a]) * (time - track.times[a]) / width
}

/// Coefficient of a mode in the middle of a body that starts one kelvin above its surroundings
/// (Incropera & DeWitt, sections 5.5 and 5.6; MEMORY).
fn middle_coefficient(shape: BodyShape, z: f64) -> f64 {
    use crate::numeric::special::{j0, j1};
    match shape {
        BodyShape::Slab => 4.0 * z.sin() / (2.0 * z + (2.0 * z).sin()),
        BodyShape::Cylinder => 2.0 * j1(z) / (z * (j0(z).powi(2) + j1(z).powi(2))),
        BodyShape::Sphere => 4.0 * (z.sin() - z * z.cos()) / (2.0 * z - (2.0 * z).sin()),
    }
}
