//! Two half spaces brought into contact.

use super::range;
use super::solid::Solid;
use crate::Error;
use crate::numeric::special::{erf, erfc, erfcx};

/// Which of the two bodies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BodySide {
    /// The body at negative coordinate.
    Left,
    /// The body at positive coordinate.
    Right,
}

/// Two half spaces, each uniform in temperature, brought together at time zero, perfectly or with a resistance.
///
/// In perfect contact the interface jumps to the mean weighted by effusivity and stays there; with a resistance `R`
/// the flux across it is `(T1 - T2) / R * exp(y^2) erfc(y)`, `y = sqrt(t) (1/e1 + 1/e2) / R` (Carslaw & Jaeger 1959,
/// composite solids in section 2.15; MEMORY). Accuracy 1e-13 of the temperature difference (tests: computed
/// reference case, and continuity and balance at the interface).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoHalfSpaces {
    left: Solid,
    left_start: f64,
    right: Solid,
    right_start: f64,
    resistance: f64,
}

impl TwoHalfSpaces {
    /// With the temperatures (K) before contact, and the contact resistance (m2 K/W, zero for perfect contact).
    ///
    /// # Errors
    /// `OutOfRange` for temperatures of magnitude above 1e12 K, or a resistance neither zero nor in 1e-12 to 1e12.
    pub fn new(
        left: Solid,
        left_start: f64,
        right: Solid,
        right_start: f64,
        contact_resistance: f64,
    ) -> Result<Self, Error> {
        Ok(TwoHalfSpaces {
            left,
            left_start: range::temperature("left start temperature", left_start)?,
            right,
            right_start: range::temperature("right start temperature", right_start)?,
            resistance: range::not_negative("contact resistance", contact_resistance, "m2 K/W")?,
        })
    }

    /// Temperature (K) of the body at `side` at the distance `depth` (m) from the interface, `time` (s) after contact.
    ///
    /// # Errors
    /// `OutOfRange` unless the depth is zero or in 1e-12 to 1e12 m, and the time in 1e-12 to 1e12 s.
    pub fn temperature(&self, side: BodySide, depth: f64, time: f64) -> Result<f64, Error> {
        range::not_negative("depth", depth, "m")?;
        let time = range::time(time)?;
        let (own, own_start, other, other_start) = match side {
            BodySide::Left => (&self.left, self.left_start, &self.right, self.right_start),
            BodySide::Right => (&self.right, self.right_start, &self.left, self.left_start),
        };
        let x = 0.5 * depth / (own.diffusivity() * time).sqrt();
        let share = other.effusivity() / (own.effusivity() + other.effusivity());
        let step = share * (other_start - own_start);
        if self.resistance == 0.0 {
            // Written from the nearer known value, so that it is exact both at the interface and far away.
            return range::finite(if x < 0.5 { own_start + step - step * erf(x) } else { own_start + step * erfc(x) });
        }
        let delayed = (-x * x).exp() * (erfcx(x) - erfcx(x + self.delay(time)));
        range::finite(own_start + step * delayed)
    }

    /// Heat flux density (W/m2) across the interface from left to right at `time` (s).
    ///
    /// # Errors
    /// `OutOfRange` unless the time is in 1e-12 to 1e12 s.
    pub fn interface_flux(&self, time: f64) -> Result<f64, Error> {
        let time = range::time(time)?;
        let difference = self.left_start - self.right_start;
        range::finite(if self.resistance == 0.0 {
            difference / (self.reciprocal_effusivity() * (std::f64::consts::PI * time).sqrt())
        } else {
            difference / self.resistance * erfcx(self.delay(time))
        })
    }

    fn reciprocal_effusivity(&self) -> f64 {
        1.0 / self.left.effusivity() + 1.0 / self.right.effusivity()
    }

    fn delay(&self, time: f64) -> f64 {
        time.sqrt() * self.reciprocal_effusivity() / self.resistance
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn flux_and_temperatures_fit_at_the_interface() {
        let water = Solid::new(0.6, 1000.0, 4180.0).unwrap();
        let steel = Solid::new(16.0, 7900.0, 500.0).unwrap();
        for resistance in [0.0, 1e-9, 1e-4, 0.05, 1e6] {
            let pair = TwoHalfSpaces::new(water, 95.0, steel, 20.0, resistance).unwrap();
            for time in [1e-3, 60.0, 1e6] {
                let left = pair.temperature(BodySide::Left, 0.0, time).unwrap();
                let right = pair.temperature(BodySide::Right, 0.0, time).unwrap();
                let flux = pair.interface_flux(time).unwrap();
                // The definition of a contact resistance.
                assert!(
                    (left - right - flux * resistance).abs() < 75e-13,
                    "{resistance} {time}: {left} {right} {flux}"
                );
                // The slope at the interface carries the flux, in both bodies.
                for (side, solid, sign) in [(BodySide::Left, water, -1.0), (BodySide::Right, steel, 1.0)] {
                    let d = 1e-4 * (solid.diffusivity() * time).sqrt();
                    let at = |n: f64| pair.temperature(side, n * d, time).unwrap();
                    let slope = (-3.0 * at(0.0) + 4.0 * at(1.0) - at(2.0)) / (2.0 * d);
                    let found = -sign * solid.conductivity() * slope;
                    let scale = 75.0 * solid.effusivity() / time.sqrt();
                    assert!((found - flux).abs() < 1e-7 * scale, "{side:?} {resistance} {time}: {found} {flux}");
                }
            }
        }
        // Perfect contact is the limit of a small resistance.
        let perfect = TwoHalfSpaces::new(water, 95.0, steel, 20.0, 0.0).unwrap();
        let nearly = TwoHalfSpaces::new(water, 95.0, steel, 20.0, 1e-12).unwrap();
        for depth in [0.0, 0.002, 0.03] {
            let a = perfect.temperature(BodySide::Right, depth, 60.0).unwrap();
            let b = nearly.temperature(BodySide::Right, depth, 60.0).unwrap();
            assert!((a - b).abs() < 1e-7);
        }
    }
}
