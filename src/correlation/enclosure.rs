//! Free convection inside a closed gap: Nusselt numbers.
//!
//! Properties at the mean of the two faces, length: the width of the gap, heat flow `q = Nu k dT/width`. One means that
//! the air only conducts; radiation crosses the gap besides ([`radiation`](super::radiation)).
//! A ring gap whose width is under a fifth of its radius is as good as a plane one of its log-mean area, within 1 %
//! (ESTIMATE).

use super::{Validity, Value, input};
use crate::Error;

/// Textbooks write 0.7 to 6000 and mean air with it; warm air lies a little below.
const LEAST_PRANDTL: f64 = 0.68;

/// Where a factor counts only while positive, as Hollands writes it.
fn positive_part(x: f64) -> f64 {
    x.max(0.0)
}

fn ra_aspect(rayleigh: f64, aspect: f64) -> Result<(f64, f64), Error> {
    let ra = input::non_negative("Rayleigh number", rayleigh, "1")?;
    Ok((ra, input::positive("height over width", aspect, "1")?))
}

/// Upright gap, air \[1\].
///
/// ```text
/// Nu = max( 0.0605 Ra^(1/3),  (1 + (0.104 Ra^0.293/(1 + (6310/Ra)^1.36))^3)^(1/3),  0.242 (Ra/A)^0.272 )
/// ```
/// `rayleigh` Ra of the width \[1\], range up to 2e7; `aspect` A, height over width \[1\], range 5 to 110.
///
/// Source: S. M. ElSherbiny, G. D. Raithby, K. G. T. Hollands, Heat transfer by natural convection across vertical and
/// inclined air layers, J. Heat Transfer 104 (1982) 96; constants READ in secondary copies, ranges MEMORY.
///
/// # Errors
/// An input not finite, Ra below zero, A not above zero.
///
/// # Examples
/// Ra 3774, A 10: 1.215361519 (COMPUTED independently from the constants read):
/// ```
/// let nu = stillhot::correlation::enclosure::vertical_gap_elsherbiny_1982(3774.0, 10.0)?;
/// assert!((nu.value - 1.215361519).abs() < 1e-9);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn vertical_gap_elsherbiny_1982(rayleigh: f64, aspect: f64) -> Result<Value, Error> {
    let (ra, a) = ra_aspect(rayleigh, aspect)?;
    let boundary_layer = 0.0605 * ra.cbrt();
    // (6310/Ra)^1.36 grows without bound as Ra goes to zero, where this branch tends to 1: written the other way up.
    let transition = 0.104 * ra.powf(0.293 + 1.36) / (ra.powf(1.36) + 6310_f64.powf(1.36));
    let conduction = (1.0 + transition.powi(3)).cbrt();
    let laminar = 0.242 * (ra / a).powf(0.272);
    let validity =
        Validity::Inside.check("Rayleigh number", ra, "1", 0.0..=2e7).check("height over width", a, "1", 5.0..=110.0);
    Value::new(boundary_layer.max(conduction).max(laminar), validity)
}

/// Upright gap, as in the standard on windows \[1\].
///
/// ```text
/// Nu = max(N1, 0.242 (Ra/A)^0.272),
/// N1 = 1 + 1.7596678e-10 Ra^2.2984755   up to Ra 1e4,
///      0.028154 Ra^0.4134               up to 5e4,
///      0.0673838 Ra^(1/3)               above
/// ```
/// `rayleigh` Ra of the width \[1\], range up to 1e6; `aspect` A, height over width \[1\], no range given. Where N1
/// decides, it steps by 0.5 % at Ra 1e4.
///
/// Source: ISO 15099:2003, equations 49 to 53; constants READ in open programs that quote the standard, range MEMORY.
///
/// # Errors
/// As [`vertical_gap_elsherbiny_1982`].
///
/// # Examples
/// Ra 500, A 20: 1.000281156 (COMPUTED independently from the constants read):
/// ```
/// let nu = stillhot::correlation::enclosure::vertical_gap_iso_15099(500.0, 20.0)?;
/// assert!((nu.value - 1.000281156).abs() < 1e-9);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn vertical_gap_iso_15099(rayleigh: f64, aspect: f64) -> Result<Value, Error> {
    let (ra, a) = ra_aspect(rayleigh, aspect)?;
    let first = if ra <= 1e4 {
        1.0 + 1.759_667_8e-10 * ra.powf(2.298_475_5)
    } else if ra <= 5e4 {
        0.028_154 * ra.powf(0.4134)
    } else {
        0.067_383_8 * ra.cbrt()
    };
    let second = 0.242 * (ra / a).powf(0.272);
    Value::new(first.max(second), Validity::Inside.check("Rayleigh number", ra, "1", 0.0..=1e6))
}

/// Upright cavity that is not slender \[1\].
///
/// ```text
/// Nu = 0.22 (Ra Pr/(0.2 + Pr))^0.28 A^(-1/4)   for A from 2 to 10,
/// Nu = 0.18 (Ra Pr/(0.2 + Pr))^0.29            for A from 1 to 2
/// ```
/// `rayleigh` Ra of the width \[1\], range up to 1e10; `prandtl` Pr \[1\], any; `aspect` A, height over width \[1\],
/// range 1 to 10. Air at rest conducts: where the formula falls under 1 the answer is 1 and the Rayleigh number is
/// flagged as below the range.
///
/// Source: B. M. Berkovsky, V. K. Polevikov, 1977, as given by Y. A. Cengel, Heat Transfer, chapter 9; READ there.
///
/// # Errors
/// An input not finite, Ra below zero, Pr or A not above zero.
///
/// # Examples
/// Ra 1e5, Pr 0.7, A 5, by hand: 0.22 (77778)^0.28 5^-0.25 = 3.44 (COMPUTED):
/// ```
/// let nu = stillhot::correlation::enclosure::vertical_cavity_berkovsky_polevikov(1e5, 0.7, 5.0)?;
/// assert!((nu.value - 3.44).abs() < 0.01);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn vertical_cavity_berkovsky_polevikov(rayleigh: f64, prandtl: f64, aspect: f64) -> Result<Value, Error> {
    let (ra, a) = ra_aspect(rayleigh, aspect)?;
    let pr = input::positive("Prandtl number", prandtl, "1")?;
    let (factor, exponent) = if a >= 2.0 { (0.22 * a.powf(-0.25), 0.28) } else { (0.18, 0.29) };
    let damping = pr / (0.2 + pr);
    let formula = factor * (ra * damping).powf(exponent);
    let at_rest = (1.0 / factor).powf(1.0 / exponent) / damping;
    let validity = Validity::Inside.check("height over width", a, "1", 1.0..=10.0).check(
        "Rayleigh number",
        ra,
        "1",
        at_rest..=1e10,
    );
    Value::new(formula.max(1.0), validity)
}

/// Level gap heated from below, air \[1\].
///
/// ```text
/// Nu = 1 + 1.44 [1 - 1708/Ra]+ + [(Ra/5830)^(1/3) - 1]+      []+ counts only while positive
/// ```
/// `rayleigh` Ra of the width \[1\], range up to 1e8. A level gap heated from above only conducts: 1.
///
/// Source: K. G. T. Hollands, T. E. Unny, G. D. Raithby, L. Konicek, Free convective heat transfer across inclined air
/// layers, J. Heat Transfer 98 (1976) 189; MEMORY, range as in textbooks, MEMORY.
///
/// # Errors
/// Ra not finite or below zero.
///
/// # Examples
/// Ra 5000: 1 + 1.44 (1 - 0.3416) = 1.948096 (COMPUTED):
/// ```
/// let nu = stillhot::correlation::enclosure::horizontal_gap_hollands_1976(5000.0)?;
/// assert!((nu.value - 1.948096).abs() < 1e-9);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn horizontal_gap_hollands_1976(rayleigh: f64) -> Result<Value, Error> {
    let ra = input::non_negative("Rayleigh number", rayleigh, "1")?;
    Value::new(hollands(ra, 0.0), Validity::Inside.check("Rayleigh number", ra, "1", 0.0..=1e8))
}

/// Sloping gap heated from below, air \[1\].
///
/// ```text
/// Nu = 1 + 1.44 [1 - 1708/(Ra cos s)]+ (1 - 1708 sin(1.8 s)^1.6/(Ra cos s)) + [(Ra cos s/5830)^(1/3) - 1]+
/// ```
/// `rayleigh` Ra of the width \[1\], range up to 1e5; `slope` s from the level \[rad\], range 0 to 60 degrees; for gaps
/// at least twelve times as long as wide. Source as [`horizontal_gap_hollands_1976`].
///
/// # Errors
/// Ra not finite or below zero; a slope below zero or above a right angle (the gap would be heated from above).
///
/// # Examples
/// At 60 degrees and Ra 5000, by hand: 1 + 1.44 (1 - 0.6832)(1 - 0.6832 sin(108°)^1.6) = 1.1686 (COMPUTED):
/// ```
/// let nu = stillhot::correlation::enclosure::tilted_gap_hollands_1976(5000.0, 60_f64.to_radians())?;
/// assert!((nu.value - 1.1686).abs() < 1e-4);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn tilted_gap_hollands_1976(rayleigh: f64, slope: f64) -> Result<Value, Error> {
    let ra = input::non_negative("Rayleigh number", rayleigh, "1")?;
    let s = input::non_negative("slope", slope, "rad")?;
    if s > std::f64::consts::FRAC_PI_2 {
        input::below("slope", s, "right angle", std::f64::consts::FRAC_PI_2, "rad")?;
    }
    let validity = Validity::Inside.check("Rayleigh number", ra, "1", 0.0..=1e5).check(
        "slope",
        s,
        "rad",
        0.0..=60_f64.to_radians(),
    );
    Value::new(hollands(ra, s), validity)
}

fn hollands(ra: f64, slope: f64) -> f64 {
    let driving = ra * slope.cos();
    if driving <= 1708.0 {
        return 1.0;
    }
    // Up to a right angle 1.8 s stays below 180 degrees, so the sine is never negative.
    let sine = (1.8 * slope).sin().powf(1.6);
    1.0 + 1.44 * (1.0 - 1708.0 / driving) * (1.0 - 1708.0 * sine / driving)
        + positive_part((driving / 5830.0).cbrt() - 1.0)
}

/// The length \[m\] on which [`concentric_cylinders_raithby_hollands`] builds its Rayleigh number.
///
/// ```text
/// Lc = 2 ln(ro/ri)^(4/3)/(ri^(-3/5) + ro^(-3/5))^(5/3)
/// ```
/// `inner_radius` ri, `outer_radius` ro \[m\]. Source as there.
///
/// # Errors
/// A radius not finite or not above zero, an outer radius not above the inner one.
pub fn concentric_cylinders_length(inner_radius: f64, outer_radius: f64) -> Result<f64, Error> {
    let ri = input::positive("inner radius", inner_radius, "m")?;
    let ro = input::above("outer radius", outer_radius, "inner radius", ri, "m")?;
    let lc = 2.0 * (ro / ri).ln().powf(4.0 / 3.0) / (ri.powf(-0.6) + ro.powf(-0.6)).powf(5.0 / 3.0);
    input::positive("characteristic length", lc, "m")
}

/// Ring gap between two level cylinders, the inner one inside the other: effective over true conductivity \[1\].
///
/// ```text
/// k_eff/k = 0.386 (Pr/(0.861 + Pr))^(1/4) Ra^(1/4),   not below 1;   q' = 2 pi k_eff dT/ln(ro/ri)
/// ```
/// `rayleigh` Ra on [`concentric_cylinders_length`] \[1\], range up to 1e7; `prandtl` Pr \[1\], range 0.68 to 6000. For an
/// upright ring gap take an upright plane gap instead. The floor of 1 belongs to the published relation.
///
/// Source: G. D. Raithby, K. G. T. Hollands, A general method of obtaining approximate solutions to laminar and turbulent
/// free convection problems, Adv. Heat Transfer 11 (1975) 265, in the form of Incropera, 6th ed., equations 9.58 to 9.60;
/// READ in a public companion, range MEMORY.
///
/// # Errors
/// An input not finite, Ra below zero, Pr not above zero.
///
/// # Examples
/// Incropera, 6th ed., Example 9.5 prints 100 W/m (READ in the companion):
/// ```
/// use stillhot::correlation::{enclosure, similarity};
/// let length = enclosure::concentric_cylinders_length(0.05, 0.06)?;
/// let ra = similarity::rayleigh(9.81, 0.00285, 85.0, length, 2.092e-5, 2.99e-5)?;
/// let ratio = enclosure::concentric_cylinders_raithby_hollands(ra, 0.7)?;
/// let q = 2.0 * std::f64::consts::PI * 0.03 * ratio.value * 85.0 / 1.2_f64.ln();
/// assert!((q - 100.0).abs() < 1.0);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn concentric_cylinders_raithby_hollands(rayleigh: f64, prandtl: f64) -> Result<Value, Error> {
    let ra = input::non_negative("Rayleigh number", rayleigh, "1")?;
    let pr = input::positive("Prandtl number", prandtl, "1")?;
    let formula = 0.386 * (pr / (0.861 + pr)).powf(0.25) * ra.powf(0.25);
    let validity = Validity::Inside.check("Rayleigh number", ra, "1", 0.0..=1e7).check(
        "Prandtl number",
        pr,
        "1",
        LEAST_PRANDTL..=6000.0,
    );
    Value::new(formula.max(1.0), validity)
}

/// Level gap heated from below, gases, as powers \[1\].
///
/// ```text
/// Nu = 1   up to Ra 1700,   0.059 Ra^0.4   up to 7000,   0.212 Ra^(1/4)   up to 3.2e5,   0.061 Ra^(1/3)   above
/// ```
/// `rayleigh` Ra = Gr Pr of the width \[1\]; the powers were made for Pr 0.5 to 2. Steps by 16 % at Ra 1700: for computing
/// prefer [`horizontal_gap_hollands_1976`].
///
/// Source: J. P. Holman, Heat Transfer, 10th ed., table 7-3; first power READ in a public companion, the others MEMORY.
///
/// # Errors
/// Ra not finite or below zero.
///
/// # Examples
/// Example 7-9 of that book, Ra 3045.97: 1.45996 (COMPUTED; the printed answer was not seen):
/// ```
/// let nu = stillhot::correlation::enclosure::horizontal_gap_holman(3045.97057818)?;
/// assert!((nu.value - 1.45996449163).abs() < 1e-9);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn horizontal_gap_holman(rayleigh: f64) -> Result<Value, Error> {
    let ra = input::non_negative("Rayleigh number", rayleigh, "1")?;
    let nu = if ra <= 1700.0 {
        1.0
    } else if ra <= 7000.0 {
        0.059 * ra.powf(0.4)
    } else if ra <= 3.2e5 {
        0.212 * ra.powf(0.25)
    } else {
        0.061 * ra.cbrt()
    };
    Value::new(nu, Validity::Inside)
}
