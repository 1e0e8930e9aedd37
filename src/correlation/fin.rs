//! Bars that stick out of a warm wall, or cross it: fins of constant section, with one temperature over the section.

use super::{Validity, Value, input};
use crate::Error;

/// A straight bar of constant section in air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bar {
    /// Conductivity k \[W/(m K)\].
    pub conductivity: f64,
    /// Area A of its section \[m2\].
    pub area: f64,
    /// Perimeter P of its section \[m\].
    pub perimeter: f64,
    /// Film coefficient h on its surface \[W/(m2 K)\].
    pub film: f64,
}

/// How the free end of a fin ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tip {
    /// It gives off heat through the same film.
    Convective,
    /// It gives off none.
    Adiabatic,
    /// It is held at this excess over the air \[K\].
    Fixed(f64),
    /// It is endlessly far away; the length is not used.
    Infinite,
}

/// Where the bar is wide against its film, the section is no longer one temperature: Biot number h (A/P)/k up to this.
const LARGEST_BIOT: f64 = 0.1;

impl Bar {
    /// `m = (h P/(k A))^(1/2)` \[1/m\] and `(h P k A)^(1/2)` \[W/K\], with the verdict on the Biot number.
    fn checked(&self) -> Result<(f64, f64, Validity), Error> {
        let k = input::positive("conductivity", self.conductivity, "W/(m K)")?;
        let a = input::positive("area", self.area, "m2")?;
        let p = input::positive("perimeter", self.perimeter, "m")?;
        let h = input::positive("film coefficient", self.film, "W/(m2 K)")?;
        let m = input::positive("fin parameter", (h * p / (k * a)).sqrt(), "1/m")?;
        let conductance = input::positive("fin conductance", (h * p * k * a).sqrt(), "W/K")?;
        let validity = Validity::Inside.check("Biot number h A/(P k)", h * a / (p * k), "1", 0.0..=LARGEST_BIOT);
        Ok((m, conductance, validity))
    }
}

/// Heat that enters a straight fin at its base \[W\].
///
/// ```text
/// M = (h P k A)^(1/2) th,  m = (h P/(k A))^(1/2),  b = h/(m k)
/// convective   M (tanh mL + b)/(1 + b tanh mL)
/// adiabatic    M tanh mL
/// fixed tip    M (cosh mL - th_tip/th)/sinh mL
/// infinite     M
/// ```
/// `bar`, free `length` L \[m\], `excess` th of its base over the air \[K\] (any sign), `tip`. Valid for a Biot number
/// h (A/P)/k up to 0.1 (MEMORY).
///
/// Source: textbook table (Incropera, 6th ed., table 3.4); values READ in an open test suite.
///
/// # Errors
/// An input not finite; a property of the bar or a length not above zero.
///
/// # Examples
/// That suite prints 30.2095 W with a convective tip (READ):
/// ```
/// use stillhot::correlation::fin::{self, Bar, Tip};
/// let bar = Bar { conductivity: 180.0, area: 1.2e-4, perimeter: 0.032, film: 100.0 };
/// let q = fin::straight_fin(&bar, 0.05, 200.0, Tip::Convective)?;
/// assert!((q.value - 30.2095).abs() < 5e-5);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn straight_fin(bar: &Bar, length: f64, excess: f64, tip: Tip) -> Result<Value, Error> {
    let (m, conductance, validity) = bar.checked()?;
    let l = input::positive("length", length, "m")?;
    let th = input::finite("excess temperature", excess, "K")?;
    let (ml, full) = (m * l, conductance * th);
    let q = match tip {
        Tip::Convective => {
            let b = bar.film / (m * bar.conductivity);
            full * (ml.tanh() + b) / (1.0 + b * ml.tanh())
        }
        Tip::Adiabatic => full * ml.tanh(),
        // M cosh/sinh - sqrt(hPkA) th_tip/sinh: no ratio of the two excesses, so a base as warm as the air is fine.
        Tip::Fixed(tip_excess) => {
            let tip_excess = input::finite("excess temperature of the tip", tip_excess, "K")?;
            full / ml.tanh() - conductance * tip_excess / ml.sinh()
        }
        Tip::Infinite => full,
    };
    Value::new(q, validity)
}

/// The three resistances of a bar through a wall; see [`bar_through_wall`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThroughWall {
    /// From the warm side into the bar \[K/W\].
    pub inside: f64,
    /// Along the bar inside the wall \[K/W\].
    pub wall: f64,
    /// From the bar outside to the air \[K/W\].
    pub outside: f64,
    /// Whether the bar is slender enough to be a fin.
    pub validity: Validity,
}

impl ThroughWall {
    /// The three in series \[K/W\].
    pub fn total(&self) -> f64 {
        self.inside + self.wall + self.outside
    }
}

/// A bar that crosses a wall and sticks out: heat flow is the temperature difference over the sum of
///
/// ```text
/// R_in,   Lw/(k A),   1/((h P k A)^(1/2) tanh(m Lc)) with Lc = Lo + A/P
/// ```
/// the last by [`straight_fin`].
/// `bar` with the film outside; `wall_thickness` Lw \[m\]; length outside `protrusion` Lo \[m\], 0 if flush;
/// `inside_resistance` R_in \[K/W\], 0 where it touches the pot, else 1/(h A) of its inner end. No heat passes between
/// bar and wall, which is why it suits thin bars in insulation; the gap around a bar leaks besides.
///
/// Source: fin in series with conduction, COMPUTED; corrected length Lc textbook, MEMORY.
///
/// # Errors
/// An input not finite, a property of the bar or a thickness not above zero, a protrusion or R_in below zero.
///
/// # Examples
/// Aluminium strap 20 by 3 mm through 50 mm, 100 mm outside, 75 K: 2.644 W (COMPUTED independently):
/// ```
/// use stillhot::correlation::fin::{self, Bar};
/// let strap = Bar { conductivity: 200.0, area: 6e-5, perimeter: 0.046, film: 10.0 };
/// let way = fin::bar_through_wall(&strap, 0.05, 0.1, 0.0)?;
/// assert!((75.0 / way.total() - 2.64375297).abs() < 1e-6);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn bar_through_wall(
    bar: &Bar,
    wall_thickness: f64,
    protrusion: f64,
    inside_resistance: f64,
) -> Result<ThroughWall, Error> {
    let (_, _, validity) = bar.checked()?;
    let lw = input::positive("wall thickness", wall_thickness, "m")?;
    let lo = input::non_negative("length outside", protrusion, "m")?;
    let inside = input::non_negative("inside resistance", inside_resistance, "K/W")?;
    let corrected = lo + bar.area / bar.perimeter;
    let wall = Value::new(lw / (bar.conductivity * bar.area), validity)?.value;
    let outside = straight_fin(bar, corrected, 1.0, Tip::Adiabatic)?.map(|per_kelvin| 1.0 / per_kelvin)?.value;
    Value::new(inside + wall + outside, validity)?;
    Ok(ThroughWall { inside, wall, outside, validity })
}
