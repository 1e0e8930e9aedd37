//! The straight fin of uniform section.

use super::range;
use crate::Error;

/// What happens at the far end of a fin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FinTip {
    /// Convection with the film coefficient of the sides.
    Convecting,
    /// No heat passes.
    Insulated,
    /// Held at this temperature, K.
    Temperature(f64),
    /// The fin is so long that its end does not matter; its length then only bounds the position.
    Infinite,
}

/// A straight fin of uniform section whose base is held at a temperature and whose sides lose heat through a film.
///
/// `T'' = m^2 (T - T_s)` with `m = sqrt(h P / (k A))`; the temperature is uniform over the section. The four tips are
/// the four rows of the usual table (Incropera & DeWitt, section 3.6, table 3.4; MEMORY), written in decaying
/// exponentials so that long fins do not overflow. Exact to rounding, except that the heat flow of a fin much shorter
/// than `1/m` between two held ends is a small difference (tests: numbers of an open test suite, and the equation).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StraightFin {
    /// Perimeter of the section, m.
    pub perimeter: f64,
    /// Area of the section, m2.
    pub area: f64,
    /// Length from base to tip, m.
    pub length: f64,
    /// Conductivity, W/(m K).
    pub conductivity: f64,
    /// Film coefficient of the sides, W/(m2 K).
    pub film_coefficient: f64,
    /// Temperature of the base, K.
    pub base_temperature: f64,
    /// Temperature of the surroundings, K.
    pub surroundings: f64,
    /// What happens at the far end.
    pub tip: FinTip,
}

/// The fin in numbers that passed the checks: `m`, `m L`, and the excess temperature as
/// `forward exp(-m x) + backward exp(-m (L - x))`.
struct Solution {
    m: f64,
    forward: f64,
    backward: f64,
}

impl StraightFin {
    /// Heat flow (W) from the base into the fin.
    ///
    /// # Errors
    /// `OutOfRange` unless the positive quantities lie in 1e-12 to 1e12 and the temperatures within 1e12.
    pub fn heat_flow(&self) -> Result<f64, Error> {
        let fin = self.solution()?;
        let slope = fin.m * (fin.backward * (-fin.m * self.length).exp() - fin.forward);
        range::finite(-self.conductivity * self.area * slope)
    }

    /// Temperature (K) at `position` (m) from the base.
    ///
    /// # Errors
    /// As [`heat_flow`](Self::heat_flow), and `OutOfRange` if the position is outside the fin.
    pub fn temperature(&self, position: f64) -> Result<f64, Error> {
        let fin = self.solution()?;
        let x = range::between("position", position, 0.0, self.length, "m")?;
        let excess = fin.forward * (-fin.m * x).exp() + fin.backward * (-fin.m * (self.length - x)).exp();
        range::finite(self.surroundings + excess)
    }

    fn solution(&self) -> Result<Solution, Error> {
        let perimeter = range::positive("perimeter", self.perimeter, "m")?;
        let area = range::positive("area", self.area, "m2")?;
        let length = range::positive("length", self.length, "m")?;
        let conductivity = range::positive("conductivity", self.conductivity, "W/(m K)")?;
        let film = range::positive("film coefficient", self.film_coefficient, "W/(m2 K)")?;
        let base = range::temperature("base temperature", self.base_temperature)?
            - range::temperature("temperature of the surroundings", self.surroundings)?;
        let m = (film * perimeter / (conductivity * area)).sqrt();
        let decay = (-m * length).exp();
        // Excess at the tip side wave over what arrives there, or the waves outright where the tip is held.
        let (forward, backward) = match self.tip {
            FinTip::Infinite => (base, 0.0),
            FinTip::Insulated | FinTip::Convecting => {
                let b = if self.tip == FinTip::Convecting { film / (m * conductivity) } else { 0.0 };
                let reflection = (1.0 - b) / (1.0 + b);
                let forward = base / (1.0 + reflection * decay * decay);
                (forward, reflection * forward * decay)
            }
            FinTip::Temperature(temperature) => {
                let tip = range::temperature("tip temperature", temperature)? - self.surroundings;
                let closing = -(-2.0 * m * length).exp_m1();
                ((base - tip * decay) / closing, (tip - base * decay) / closing)
            }
        };
        Ok(Solution { m, forward, backward })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn obeys_its_equation_and_both_ends() {
        let fin = StraightFin {
            perimeter: 0.032,
            area: 0.00012,
            length: 0.05,
            conductivity: 180.0,
            film_coefficient: 100.0,
            base_temperature: 220.0,
            surroundings: 20.0,
            tip: FinTip::Convecting,
        };
        for tip in [FinTip::Convecting, FinTip::Insulated, FinTip::Temperature(95.0), FinTip::Infinite] {
            let fin = StraightFin { tip, ..fin };
            let at = |x: f64| fin.temperature(x).unwrap();
            assert!((at(0.0) - 220.0).abs() < 1e-11, "{tip:?}");
            let (x, d) = (0.02, 1e-4);
            let bend = (at(x + d) - 2.0 * at(x) + at(x - d)) / (d * d);
            let loss = 100.0 * 0.032 / (180.0 * 0.00012) * (at(x) - 20.0);
            assert!((bend - loss).abs() < 1e-5 * loss, "{tip:?}: {bend} {loss}");
            let slope = (-3.0 * at(0.0) + 4.0 * at(d) - at(2.0 * d)) / (2.0 * d);
            let flow = fin.heat_flow().unwrap();
            assert!((flow + 180.0 * 0.00012 * slope).abs() < 1e-4 * flow, "{tip:?}: {flow}");
            let slope = (3.0 * at(0.05) - 4.0 * at(0.05 - d) + at(0.05 - 2.0 * d)) / (2.0 * d);
            match tip {
                FinTip::Convecting => assert!((-180.0 * slope - 100.0 * (at(0.05) - 20.0)).abs() < 5.0),
                FinTip::Insulated => assert!((180.0 * slope).abs() < 5.0),
                FinTip::Temperature(temperature) => assert!((at(0.05) - temperature).abs() < 1e-11),
                FinTip::Infinite => {}
            }
        }
        // A fin a thousand decay lengths long is an infinite one, and does not overflow.
        let long = StraightFin { length: 30.0, tip: FinTip::Convecting, ..fin };
        let infinite = StraightFin { length: 30.0, tip: FinTip::Infinite, ..fin };
        assert!((long.heat_flow().unwrap() / infinite.heat_flow().unwrap() - 1.0).abs() < 1e-14);
    }
}
