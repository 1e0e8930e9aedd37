//! Eigenvalues of the plane slab, the solid cylinder and the solid sphere, and the one-term coefficients.

use super::range;
use crate::numeric::roots::bracketed_root;
use crate::numeric::special::{j0, j1};
use crate::{Error, ErrorKind};
use std::f64::consts::PI;

/// A body with one length that counts, symmetric about its middle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BodyShape {
    /// Plane slab; the length is half its thickness, the middle its mid-plane.
    Slab,
    /// Long solid cylinder; the length is its radius.
    Cylinder,
    /// Solid sphere; the length is its radius.
    Sphere,
}

impl BodyShape {
    /// 0, 1, 2: the power of the radius in the element of volume.
    pub(super) fn power(self) -> f64 {
        match self {
            BodyShape::Slab => 0.0,
            BodyShape::Cylinder => 1.0,
            BodyShape::Sphere => 2.0,
        }
    }
}

/// The first term of the series for a body cooled by convection, which is all of it once the Fourier number
/// (diffusivity times time over length squared) exceeds about 0.2 (error then below 2 %, and falling fast).
///
/// The excess temperature over the surroundings, as a part of the excess at the start, is
/// `coefficient * exp(-eigenvalue^2 Fo)` in the middle; away from it times `cos`, `J0`, or `sin(x)/x` of
/// eigenvalue times relative distance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OneTerm {
    /// The first eigenvalue, rad.
    pub eigenvalue: f64,
    /// The coefficient of the first term, dimensionless.
    pub coefficient: f64,
}

/// The one-term coefficients at a Biot number (film coefficient times length over conductivity, length as in
/// [`BodyShape`]).
///
/// Eigenvalue equations: slab `z tan z = Bi`, cylinder `z J1(z) = Bi J0(z)`, sphere `1 - z cot z = Bi`
/// (Incropera & DeWitt, section 5.5 and 5.6; MEMORY). To about 1e-13 of each (tests: printed tables,
/// values computed to 12 digits, and the residual of the equation down to rounding).
///
/// # Errors
/// `OutOfRange` unless the Biot number lies in 1e-12 to 1e12.
pub fn one_term(shape: BodyShape, biot: f64) -> Result<OneTerm, Error> {
    let eigenvalue = root(shape, range::positive("Biot number", biot, "")?, 0)?;
    let z = eigenvalue;
    let coefficient = match shape {
        BodyShape::Slab => 4.0 * z.sin() / (2.0 * z + (2.0 * z).sin()),
        BodyShape::Cylinder => 2.0 * j1(z) / (z * (j0(z).powi(2) + j1(z).powi(2))),
        BodyShape::Sphere => 4.0 * z * sinc_less_cos(z) / x_less_sin(2.0 * z),
    };
    Ok(OneTerm { eigenvalue, coefficient })
}

/// The first `count` eigenvalues at a Biot number, in growing order; equations and accuracy as [`one_term`].
///
/// # Errors
/// `OutOfRange` unless the Biot number lies in 1e-12 to 1e12 and the count in 1 to 100 000.
pub fn eigenvalues(shape: BodyShape, biot: f64, count: usize) -> Result<Vec<f64>, Error> {
    range::positive("Biot number", biot, "")?;
    if !(1..=100_000).contains(&count) {
        return Err(Error::new(ErrorKind::OutOfRange, "outside the accepted range")
            .with_value(format!("{count}"))
            .with_accepted("1 to 100000")
            .within("count"));
    }
    (0..count).map(|index| root(shape, biot, index)).collect()
}

/// The root number `index` from 0. Biot 0 (insulated or given flux, whose root 0 is zero) and infinity (surface
/// held) belong to it.
pub(super) fn root(shape: BodyShape, biot: f64, index: usize) -> Result<f64, Error> {
    let n = index as f64;
    if biot == 0.0 && index == 0 {
        return Ok(0.0);
    }
    match shape {
        // The phase z - atan(Bi/z) grows by pi from root to root.
        BodyShape::Slab => {
            if biot == 0.0 || biot.is_infinite() {
                return Ok(if biot == 0.0 { n * PI } else { (n + 0.5) * PI });
            }
            // Wider than needed, as the root may lie on an end to rounding.
            let lower = if index == 0 { 0.0 } else { n * PI - 1e-3 };
            bracketed_root(|z| z - (biot / z).atan() - n * PI, lower, (n + 0.5) * PI + 1e-3, 0.0)
        }
        // Between the zeros of J1, where Bi is 0, and the zeros of J0, where it is infinite.
        BodyShape::Cylinder => {
            let zero = |function: fn(f64) -> f64, near: f64| bracketed_root(function, near - 0.2, near + 0.2, 0.0);
            let lower = if index == 0 { 0.0 } else { zero(j1, (n + 0.25) * PI)? };
            if biot == 0.0 {
                return Ok(lower);
            }
            let upper = zero(j0, (n + 0.75) * PI)?;
            if biot.is_infinite() {
                return Ok(upper);
            }
            bracketed_root(
                |z| {
                    // The ends are zeros to rounding only; there the sign is known.
                    if z == lower {
                        -biot * j0(z)
                    } else if z == upper {
                        z * j1(z)
                    } else {
                        z * j1(z) - biot * j0(z)
                    }
                },
                lower,
                upper,
                0.0,
            )
        }
        BodyShape::Sphere => {
            if biot.is_infinite() {
                return Ok((n + 1.0) * PI);
            }
            // cos z - (1 - Bi) sin z / z, without cancellation where both are small.
            let function = |z: f64| biot * sinc(z) - sinc_less_cos(z);
            bracketed_root(function, n * PI, (n + 1.0) * PI, 0.0)
        }
    }
}

/// `sin z / z`.
pub(super) fn sinc(z: f64) -> f64 {
    if z.abs() < 1e-8 { 1.0 } else { z.sin() / z }
}

/// `sin z / z - cos z`, exact also where it is small.
pub(super) fn sinc_less_cos(z: f64) -> f64 {
    if z.abs() > 1.0 {
        return z.sin() / z - z.cos();
    }
    // Sum over k from 1 of (-1)^(k+1) 2k z^(2k) / (2k+1)!.
    let (mut power, mut sum) = (-1.0, 0.0);
    for k in 1..12 {
        power *= -z * z / ((2 * k) * (2 * k + 1)) as f64;
        sum += power * (2 * k) as f64;
    }
    sum
}

/// `x - sin x`, exact also where it is small.
pub(super) fn x_less_sin(x: f64) -> f64 {
    if x.abs() > 1.0 {
        return x - x.sin();
    }
    let (mut term, mut sum) = (x, 0.0);
    for k in 1..12 {
        term *= -x * x / ((2 * k) * (2 * k + 1)) as f64;
        sum -= term;
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_differences_keep_their_digits() {
        // Exact leading terms: z^2/3 - z^4/30, x^3/6 - x^5/120.
        assert!((sinc_less_cos(1e-3) / (1e-6 / 3.0 - 1e-12 / 30.0) - 1.0).abs() < 1e-14);
        assert!((x_less_sin(1e-3) / (1e-9 / 6.0 - 1e-15 / 120.0) - 1.0).abs() < 1e-13);
        // Both branches meet.
        assert!((sinc_less_cos(1.0) - (1.0_f64.sin() - 1.0_f64.cos())).abs() < 1e-15);
        assert!((x_less_sin(1.0) - (1.0 - 1.0_f64.sin())).abs() < 1e-15);
    }

    #[test]
    fn roots_interlace_and_satisfy_their_equations() {
        for shape in [BodyShape::Slab, BodyShape::Cylinder, BodyShape::Sphere] {
            for biot in [1e-12, 1e-3, 0.3, 1.0, 7.0, 300.0, 1e12] {
                let roots = eigenvalues(shape, biot, 200).unwrap();
                for (n, &z) in roots.iter().enumerate() {
                    let (low, high) = (root(shape, 0.0, n).unwrap(), root(shape, f64::INFINITY, n).unwrap());
                    let rounding = 4.0 * f64::EPSILON * z;
                    assert!(low <= z + rounding && z <= high + rounding, "{shape:?} {biot} {n}: {low} {z} {high}");
                    let residual = match shape {
                        BodyShape::Slab => z * z.sin() - biot * z.cos(),
                        BodyShape::Cylinder => z * j1(z) - biot * j0(z),
                        BodyShape::Sphere => z * sinc_less_cos(z) - biot * z.sin(),
                    };
                    assert!(residual.abs() < 3e-14 * (z + biot) * (1.0 + z), "{shape:?} {biot} {n}: {residual}");
                }
            }
            // Leading order at small Biot number: z^2 = (power + 1) Bi.
            let z = root(shape, 1e-10, 0).unwrap();
            assert!((z * z / ((shape.power() + 1.0) * 1e-10) - 1.0).abs() < 1e-9, "{shape:?}");
        }
    }
}
