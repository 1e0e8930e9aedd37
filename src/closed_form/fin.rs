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
/// exponentials so that long fins do not overflow and short ones do not cancel. Exact to rounding (tests: numbers of an
/// open test suite, the equation itself, and the limits of a long and a short fin).
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

/// The fin in numbers that passed the checks.
struct Checked {
    /// Inverse decay length, 1/m.
    m: f64,
    /// Excess temperature of the base, K.
    base: f64,
    tip: Tip,
}

/// The far end in terms of waves `exp(-m x)`.
enum Tip {
    /// The wave comes back this much of itself; `loss` is `h / (m k)`, so `reflection = (1 - loss) / (1 + loss)`.
    Reflecting { reflection: f64, loss: f64 },
    /// Excess temperature held, K.
    Held(f64),
    /// Nothing comes back.
    Absent,
}

impl StraightFin {
    /// Heat flow (W) from the base into the fin.
    ///
    /// # Errors
    /// `OutOfRange` unless the positive quantities lie in 1e-12 to 1e12 and the temperatures within 1e12.
    pub fn heat_flow(&self) -> Result<f64, Error> {
        let fin = self.checked()?;
        let reach = fin.m * self.length;
        // The excess at the base that an endless fin with the same flow would have.
        let driving = match fin.tip {
            Tip::Absent => fin.base,
            Tip::Reflecting { reflection, loss } => {
                fin.base * one_less_echo(reflection, loss, reach) / one_and_echo(reflection, loss, reach)
            }
            Tip::Held(tip) => fin.base * (0.5 * reach).tanh() + (fin.base - tip) * inverse_sinh(reach),
        };
        range::finite(self.conductivity * self.area * fin.m * driving)
    }

    /// Temperature (K) at `position` (m) from the base.
    ///
    /// # Errors
    /// As [`heat_flow`](Self::heat_flow), and `OutOfRange` if the position is outside the fin.
    pub fn temperature(&self, position: f64) -> Result<f64, Error> {
        let fin = self.checked()?;
        let x = range::between("position", position, 0.0, self.length, "m")?;
        let (near, far, reach) = (fin.m * x, fin.m * (self.length - x), fin.m * self.length);
        let excess = match fin.tip {
            Tip::Absent => fin.base * (-near).exp(),
            Tip::Reflecting { reflection, loss } => {
                let echo = one_and_echo(reflection, loss, far) / one_and_echo(reflection, loss, reach);
                fin.base * (-near).exp() * echo
            }
            Tip::Held(tip) => fin.base * sinh_ratio(far, reach) + tip * sinh_ratio(near, reach),
        };
        range::finite(self.surroundings + excess)
    }

    fn checked(&self) -> Result<Checked, Error> {
        let perimeter = range::positive("perimeter", self.perimeter, "m")?;
        let area = range::positive("area", self.area, "m2")?;
        range::positive("length", self.length, "m")?;
        let conductivity = range::positive("conductivity", self.conductivity, "W/(m K)")?;
        let film = range::positive("film coefficient", self.film_coefficient, "W/(m2 K)")?;
        let base = range::temperature("base temperature", self.base_temperature)?
            - range::temperature("temperature of the surroundings", self.surroundings)?;
        let m = (film * perimeter / (conductivity * area)).sqrt();
        let reflecting = |loss: f64| Tip::Reflecting { reflection: (1.0 - loss) / (1.0 + loss), loss };
        let tip = match self.tip {
            FinTip::Convecting => reflecting(film / (m * conductivity)),
            FinTip::Insulated => reflecting(0.0),
            FinTip::Infinite => Tip::Absent,
            FinTip::Temperature(value) => Tip::Held(range::temperature("tip temperature", value)? - self.surroundings),
        };
        Ok(Checked { m, base, tip })
    }
}

/// `1 + r exp(-2 y)` with `r = (1 - b) / (1 + b)`, without cancellation for a negative `r`.
fn one_and_echo(r: f64, b: f64, y: f64) -> f64 {
    if r < 0.0 { 2.0 / (1.0 + b) + r * (-2.0 * y).exp_m1() } else { 1.0 + r * (-2.0 * y).exp() }
}

/// `1 - r exp(-2 y)`, without cancellation for a positive `r`.
fn one_less_echo(r: f64, b: f64, y: f64) -> f64 {
    if r > 0.0 { 2.0 * b / (1.0 + b) - r * (-2.0 * y).exp_m1() } else { 1.0 - r * (-2.0 * y).exp() }
}

/// `sinh(part) / sinh(whole)` for `0 <= part <= whole`, without overflow.
fn sinh_ratio(part: f64, whole: f64) -> f64 {
    (part - whole).exp() * (-2.0 * part).exp_m1() / (-2.0 * whole).exp_m1()
}

/// `1 / sinh(y)` for `y > 0`, without overflow.
fn inverse_sinh(y: f64) -> f64 {
    -2.0 * (-y).exp() / (-2.0 * y).exp_m1()
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
        // A fin of a billionth of a decay length: convection from sides and tip, or plain conduction to a held tip.
        let length = 1e-9;
        let short = |tip| StraightFin { length, tip, ..fin };
        let sides = 100.0 * 200.0 * 0.032 * length;
        let tip = 100.0 * 200.0 * 0.00012;
        for (flow, exact) in [
            (short(FinTip::Insulated).heat_flow().unwrap(), sides),
            (short(FinTip::Convecting).heat_flow().unwrap(), sides + tip),
            (short(FinTip::Temperature(95.0)).heat_flow().unwrap(), 180.0 * 0.00012 * 125.0 / length),
        ] {
            assert!((flow / exact - 1.0).abs() < 2e-9, "{flow} {exact}");
        }
        let middle = short(FinTip::Temperature(95.0)).temperature(0.5 * length).unwrap();
        assert!((middle - 157.5).abs() < 1e-10, "{middle}");
    }
}
