//! A piece of wall as a two-port between its faces, in the Laplace domain.
//!
//! Each piece is a pi network: an admittance `through` between the faces and a shunt at each face that holds what is
//! stored. All combinations below add admittances of the same sign of real part (in a rotated sense) and never
//! subtract them, so thin metal beside thick insulation costs no digits, and no growing exponential is ever formed.
//! Equivalent to the usual transfer matrices [T, q] (Carslaw & Jaeger 1959, section 3.7; MEMORY).

use super::shape::WallShape;
use super::solid::Solid;
use crate::numeric::special::{ScaledBessel, ratio_i1_i0, scaled_i0};
use num_complex::Complex64;
use std::f64::consts::PI;

/// A passive piece between two faces: heat entering at a face is its shunt times its temperature plus
/// `through` times the difference to the other face.
#[derive(Debug, Clone, Copy)]
pub(super) struct TwoPort {
    pub(super) through: Complex64,
    pub(super) inner_shunt: Complex64,
    pub(super) outer_shunt: Complex64,
}

impl TwoPort {
    /// Two pieces in series, their common face eliminated.
    pub(super) fn then(self, outer: TwoPort) -> TwoPort {
        let shared = self.outer_shunt + outer.inner_shunt;
        let total = self.through + outer.through + shared;
        TwoPort {
            through: self.through * (outer.through / total),
            inner_shunt: self.inner_shunt + self.through * (shared / total),
            outer_shunt: outer.outer_shunt + outer.through * (shared / total),
        }
    }

    /// A conductance that stores nothing.
    pub(super) fn conductance(value: f64) -> TwoPort {
        let zero = Complex64::new(0.0, 0.0);
        TwoPort { through: Complex64::new(value, 0.0), inner_shunt: zero, outer_shunt: zero }
    }

    /// A layer from `inner` to `outer` (coordinate or radius, m; `0 <= inner < outer`) at the Laplace variable `s`.
    /// A cylinder or sphere needs `inner > 0`; the solid core is [`core_admittance`].
    pub(super) fn layer(shape: WallShape, solid: &Solid, inner: f64, outer: f64, s: Complex64) -> TwoPort {
        let q = (s / solid.diffusivity()).sqrt();
        match shape {
            WallShape::Plane => plane(solid.conductivity(), outer - inner, q),
            WallShape::Cylinder { .. } => cylinder(solid.conductivity(), inner, outer, q),
            WallShape::Sphere { .. } => sphere(solid.conductivity(), inner, outer, q),
        }
    }
}

/// Admittance of a solid cylinder (per metre) or sphere at its surface of radius `radius`.
pub(super) fn core_admittance(shape: WallShape, solid: &Solid, radius: f64, s: Complex64) -> Complex64 {
    let z = (s / solid.diffusivity()).sqrt() * radius;
    let k = solid.conductivity();
    match shape {
        WallShape::Plane => k / radius * z * tanh(z),
        WallShape::Cylinder { .. } => 2.0 * PI * k * z * ratio_i1_i0(z),
        WallShape::Sphere { .. } => 4.0 * PI * k * radius * z_coth_z_less_one(z),
    }
}

/// Temperature at the middle of a solid body over that at its surface of radius `radius`.
pub(super) fn core_centre_ratio(shape: WallShape, solid: &Solid, radius: f64, s: Complex64) -> Complex64 {
    let z = (s / solid.diffusivity()).sqrt() * radius;
    match shape {
        WallShape::Plane => 2.0 * (-z).exp() / (1.0 + (-2.0 * z).exp()),
        WallShape::Cylinder { .. } => (-z).exp() / scaled_i0(z),
        WallShape::Sphere { .. } => z_over_sinh_z(z),
    }
}

fn plane(conductivity: f64, thickness: f64, q: Complex64) -> TwoPort {
    let z = q * thickness;
    let shunt = conductivity * q * tanh(0.5 * z);
    TwoPort { through: conductivity / thickness * z_over_sinh_z(z), inner_shunt: shunt, outer_shunt: shunt }
}

/// From the plane solution for `u = r T`.
fn sphere(conductivity: f64, inner: f64, outer: f64, q: Complex64) -> TwoPort {
    let z = q * (outer - inner);
    let half = q * tanh(0.5 * z);
    let bend = one_less_z_over_sinh_z(z);
    let front = 4.0 * PI * conductivity;
    TwoPort {
        through: front * inner * (outer / (outer - inner)) * z_over_sinh_z(z),
        inner_shunt: front * inner * (inner * half + bend),
        outer_shunt: front * outer * (outer * half - bend),
    }
}

fn cylinder(conductivity: f64, inner: f64, outer: f64, q: Complex64) -> TwoPort {
    if (q * (outer - inner)).norm() > 1.0 {
        return cylinder_by_bessel(conductivity, inner, outer, q);
    }
    // Thin against the wave length: a chain of shells thin against the radius, each by its power series.
    let shells = ((outer / inner).ln() / 0.25).ceil().max(1.0) as usize;
    let ratio = (outer / inner).powf(1.0 / shells as f64);
    let mut near = inner;
    let mut chain: Option<TwoPort> = None;
    for shell in 1..=shells {
        let far = if shell == shells { outer } else { near * ratio };
        let piece = thin_cylinder(conductivity, near, far, q);
        chain = Some(chain.map_or(piece, |inside| inside.then(piece)));
        near = far;
    }
    // The loop ran at least once, so the fallback is never used; it is what a single shell would give.
    chain.unwrap_or_else(|| thin_cylinder(conductivity, inner, outer, q))
}

/// Shell thick against the wave length, where differences of Bessel functions lose no digits.
fn cylinder_by_bessel(conductivity: f64, inner: f64, outer: f64, q: Complex64) -> TwoPort {
    let (za, zb, z) = (q * inner, q * outer, q * (outer - inner));
    let (a, b) = (ScaledBessel::at(za), ScaledBessel::at(zb));
    let decay = (-z).exp();
    let twice = decay * decay;
    // I_0(zb) K_0(za) - I_0(za) K_0(zb), and the other cross products, with exp(z) taken out.
    let cross = b.i0 * a.k0 - twice * a.i0 * b.k0;
    let front = 2.0 * PI * conductivity;
    TwoPort {
        through: front * decay / cross,
        inner_shunt: front * (za * (b.i0 * a.k1 + twice * b.k0 * a.i1) - decay) / cross,
        outer_shunt: front * (zb * (b.i1 * a.k0 + twice * b.k1 * a.i0) - decay) / cross,
    }
}

/// Power series in the distance from the inner face of `(1 + e x) T'' + e T' = (q d)^2 (1 + e x) T`, `e = d/inner <= 0.3`.
fn thin_cylinder(conductivity: f64, inner: f64, outer: f64, q: Complex64) -> TwoPort {
    let thickness = outer - inner;
    let bend = thickness / inner;
    let square = (q * thickness).powu(2);
    let zero = Complex64::new(0.0, 0.0);
    let one = Complex64::new(1.0, 0.0);
    // Coefficients of x^(n-1), x^n, x^(n+1) of the solutions that start with value 1 or with slope 1.
    let mut value = [zero, one, zero];
    let mut slope = [zero, zero, one];
    let mut rise = zero; // value solution at the outer face less 1
    let mut reach = one; // slope solution at the outer face
    let mut stored = 0.5 + bend / 3.0 + zero; // integral of (1 + e x) times the slope solution
    for n in 0..60 {
        let order = n as f64;
        let step = |c: [Complex64; 3]| {
            let next =
                (square * (c[1] + bend * c[0]) - bend * (order + 1.0).powi(2) * c[2]) / ((order + 2.0) * (order + 1.0));
            [c[1], c[2], next]
        };
        value = step(value);
        slope = step(slope);
        rise += value[2];
        reach += slope[2];
        stored += slope[2] * (1.0 / (order + 3.0) + bend / (order + 4.0));
        if value[2].norm() < 1e-18 * rise.norm() && slope[2].norm() < 1e-18 {
            break;
        }
    }
    let front = 2.0 * PI * conductivity / (bend * reach);
    TwoPort { through: front, inner_shunt: front * rise, outer_shunt: front * square * stored }
}

/// `tanh z` for `Re z >= 0` without overflow.
fn tanh(z: Complex64) -> Complex64 {
    if z.re > 20.0 { Complex64::new(1.0, 0.0) } else { z.tanh() }
}

/// `z / sinh z` for `Re z >= 0`.
fn z_over_sinh_z(z: Complex64) -> Complex64 {
    if z.norm() < 1e-8 {
        Complex64::new(1.0, 0.0)
    } else if z.re > 20.0 {
        2.0 * z * (-z).exp()
    } else {
        z / z.sinh()
    }
}

/// `1 - z / sinh z`, exact also where it is small.
fn one_less_z_over_sinh_z(z: Complex64) -> Complex64 {
    if z.norm() > 1.0 {
        return 1.0 - z_over_sinh_z(z);
    }
    // (sinh z - z) / sinh z, both divided by z.
    let square = z * z;
    let (mut term, mut excess) = (square / 6.0, Complex64::new(0.0, 0.0));
    for k in 2..12 {
        excess += term;
        term *= square / ((2 * k) * (2 * k + 1)) as f64;
    }
    excess / (1.0 + excess)
}

/// `z coth z - 1`, exact also where it is small.
fn z_coth_z_less_one(z: Complex64) -> Complex64 {
    if z.norm() > 1.0 {
        return z / tanh(z) - 1.0;
    }
    // (cosh z - sinh z / z) / (sinh z / z).
    let square = z * z;
    let mut power = Complex64::new(1.0, 0.0);
    let (mut top, mut bottom, mut factorial) = (Complex64::new(0.0, 0.0), power, 1.0);
    for k in 1..12 {
        power *= square;
        factorial *= ((2 * k) * (2 * k + 1)) as f64;
        top += power * (2 * k) as f64 / factorial;
        bottom += power / factorial;
    }
    top / bottom
}

/// What a face sees on one side of it.
#[derive(Debug, Clone, Copy)]
pub(super) enum Terminal {
    /// The face is held at this temperature.
    Held(Complex64),
    /// The side takes `admittance` times the face's temperature and gives `source`.
    Open {
        /// Heat taken for each kelvin of the face.
        admittance: Complex64,
        /// Heat given to a face at zero.
        source: Complex64,
    },
}

impl Terminal {
    /// Nothing on that side.
    pub(super) fn nothing() -> Terminal {
        let zero = Complex64::new(0.0, 0.0);
        Terminal::Open { admittance: zero, source: zero }
    }

    /// The terminal as seen through a piece whose shunt on the terminal's side is `near` and on the other `far`.
    fn behind(self, near: Complex64, through: Complex64, far: Complex64) -> Terminal {
        match self {
            Terminal::Held(temperature) => Terminal::Open { admittance: far + through, source: through * temperature },
            Terminal::Open { admittance, source } => {
                let here = admittance + near;
                let share = through / (through + here);
                Terminal::Open { admittance: far + share * here, source: share * source }
            }
        }
    }

    /// The inner end's terminal as seen through `piece`, from its outer face.
    pub(super) fn outward_through(self, piece: TwoPort) -> Terminal {
        self.behind(piece.inner_shunt, piece.through, piece.outer_shunt)
    }

    /// The outer end's terminal as seen through `piece`, from its inner face.
    pub(super) fn inward_through(self, piece: TwoPort) -> Terminal {
        self.behind(piece.outer_shunt, piece.through, piece.inner_shunt)
    }

    /// Temperature of a face between two terminals, and the heat passing it from `inner` to `outer`.
    pub(super) fn meet(inner: Terminal, outer: Terminal) -> (Complex64, Complex64) {
        match (inner, outer) {
            (Terminal::Held(temperature), Terminal::Open { admittance, source }) => {
                (temperature, admittance * temperature - source)
            }
            (Terminal::Open { admittance, source }, Terminal::Held(temperature)) => {
                (temperature, source - admittance * temperature)
            }
            (Terminal::Open { admittance: yi, source: ji }, Terminal::Open { admittance: yo, source: jo }) => {
                let sum = yi + yo;
                ((ji + jo) / sum, (yo / sum) * ji - (yi / sum) * jo)
            }
            // A layer always lies between two ends, so two held terminals never meet; no heat is claimed.
            (Terminal::Held(temperature), Terminal::Held(_)) => (temperature, Complex64::new(0.0, 0.0)),
        }
    }
}
