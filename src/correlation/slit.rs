//! Air that passes narrow gaps: slits under a pressure, alone and in series, and the exchange through a slit without one.

use super::constants::STANDARD_GRAVITY;
use super::{Validity, Value, input};
use crate::Error;

/// Loss of the entrance and exit of a sharp slit in velocity heads, without bends.
pub const ENTRANCE_AND_EXIT_LOSS: f64 = 1.5;

/// A gap between two boards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slit {
    /// Length of the gap across the flow, its perimeter P \[m\].
    pub length: f64,
    /// Width w between the boards \[m\].
    pub width: f64,
    /// Depth d along the flow \[m\].
    pub depth: f64,
    /// Right-angle bends on the way.
    pub bends: f64,
}

impl Slit {
    fn checked(&self) -> Result<Validity, Error> {
        input::positive("length of the gap", self.length, "m")?;
        let w = input::positive("width of the gap", self.width, "m")?;
        let d = input::positive("depth of the gap", self.depth, "m")?;
        input::non_negative("bends", self.bends, "1")?;
        Ok(Validity::Inside.check("width of the gap", w, "m", 5e-5..=6e-3).check(
            "depth over width",
            d / w,
            "1",
            3.0..=f64::INFINITY,
        ))
    }

    /// Coefficients of dp = a Q + b Q² for the volume flow Q.
    fn resistance(&self, viscosity: f64, density: f64) -> [f64; 2] {
        let area = self.length * self.width;
        let laminar = 12.0 * viscosity * self.depth / (self.width * self.width);
        let inertial = 0.5 * density * (ENTRANCE_AND_EXIT_LOSS + self.bends);
        [laminar / area, inertial / (area * area)]
    }
}

/// Volume flow through slits in series under one pressure difference \[m3/s\].
///
/// ```text
/// dp = A V + B V^2 for each,  A = 12 mu d/w^2,  B = rho C/2,  C = 1.5 + bends,  Q = V w P the same in all
/// ```
/// `slits` in series; `pressure` difference \[Pa\], range up to 100 Pa; `viscosity` mu \[Pa s\]; `density` rho \[kg/m3\].
/// Widths 0.05 to 6 mm, depth over width from 3. Laminar for thin gaps: the flow then goes with the cube of the width.
///
/// Source: P. H. Baker, S. Sharples and I. C. Ward, Air flow through cracks, Building and Environment 22 (1987) 293, form
/// and coefficients MEMORY; laminar part exact (plane Poiseuille flow). Independent support: door leakage within 20 %
/// (Gross and Haberman 1988, abstract READ).
///
/// # Errors
/// An input not finite or not above zero (a pressure of zero gives no flow); no slit at all.
///
/// # Examples
/// 1 mm by 20 mm, 0.5 Pa: 0.000112480067 m2/s per metre (COMPUTED independently):
/// ```
/// use stillhot::correlation::slit::{Slit, series_flow_baker_1987};
/// let gap = Slit { length: 1.0, width: 1e-3, depth: 0.02, bends: 0.0 };
/// let q = series_flow_baker_1987(&[gap], 0.5, 1.81e-5, 1.2)?;
/// assert!((q.value / 0.000112480067 - 1.0).abs() < 1e-6);
/// # Ok::<(), stillhot::Error>(())
/// ```
pub fn series_flow_baker_1987(slits: &[Slit], pressure: f64, viscosity: f64, density: f64) -> Result<Value, Error> {
    let dp = input::non_negative("pressure difference", pressure, "Pa")?;
    let mu = input::positive("viscosity", viscosity, "Pa s")?;
    let rho = input::positive("density", density, "kg/m3")?;
    let mut validity = Validity::Inside.check("pressure difference", dp, "Pa", 0.0..=100.0);
    let mut sum = [0.0, 0.0];
    for slit in slits {
        validity = validity.and(slit.checked()?);
        let [a, b] = slit.resistance(mu, rho);
        sum = [sum[0] + a, sum[1] + b];
    }
    let [a, b] = sum;
    input::positive("number of slits", slits.len() as f64, "1")?;
    // The root that does not cancel.
    Value::new(2.0 * dp / (a + (a * a + 4.0 * b * dp).sqrt()), validity)
}

/// Exchange of gas through a slit on one level that lies level, like the joint of a lid on its rim, as an equal volume
/// flow each way \[m3/s\].
///
/// ```text
/// Q = D P w/d Nu,  Nu = 1 + (Ra w/d)^2/362880,  Ra = g drho w^3/(mu D),  at most  P g drho w^4/(384 mu d)  beyond Nu = 2
/// ```
/// `slit`; `difference` of density drho between its ends \[kg/m3\]; `viscosity` mu \[Pa s\]; `diffusivity` D \[m2/s\]. Below
/// 5 mm it is diffusion alone.
///
/// Source: parallel-flow core between level plates with cross diffusion, COMPUTED (the constant is 9!); the regimes as in
/// Cormack, Leal and Imberger 1974 and Bejan and Tien 1978, MEMORY.
///
/// # Errors
/// An input not finite or not above zero (the difference may be zero).
pub fn level_exchange(slit: &Slit, difference: f64, viscosity: f64, diffusivity: f64) -> Result<Value, Error> {
    let validity = slit.checked()?;
    let drho = input::non_negative("density difference", difference, "kg/m3")?;
    let mu = input::positive("viscosity", viscosity, "Pa s")?;
    let d = input::positive("diffusivity", diffusivity, "m2/s")?;
    let Slit { length, width: w, depth, .. } = *slit;
    let diffusion = d * length * w / depth;
    let rayleigh = STANDARD_GRAVITY * drho * w.powi(3) / (mu * d);
    let nusselt = 1.0 + (rayleigh * w / depth).powi(2) / 362_880.0;
    let core = length * STANDARD_GRAVITY * drho * w.powi(4) / (384.0 * mu * depth);
    let flow = if nusselt <= 2.0 { diffusion * nusselt } else { (2.0 * diffusion).max(core) };
    Value::new(flow, validity)
}

/// Exchange of gas through an upright slit, warm below, like that round a plug lid: up in some stretches, down in others
/// \[m3/s each way\].
///
/// ```text
/// Ra = g drho w^2 d/(12 mu D);  v: Ra (coth(v/2)/2 - 1/v) = v;  Nu = (v/2) coth(v/2) from Ra = 12 on;  Q = D P w/d max(1, 0.75 Nu)
/// ```
/// Arguments as [`level_exchange`]. Capped by the flow that half the perimeter passes under the buoyancy of half the
/// depth. Between insulating and conducting walls the true onset lies anywhere from 0.5 to 5 mm: uncertain by a factor of
/// three.
///
/// Source: long-wave solution of a Hele-Shaw cell open at both ends and a two-dimensional simulation, both COMPUTED.
///
/// # Errors
/// As [`level_exchange`].
pub fn upright_exchange(
    slit: &Slit,
    difference: f64,
    viscosity: f64,
    diffusivity: f64,
    density: f64,
) -> Result<Value, Error> {
    let validity = slit.checked()?;
    let drho = input::non_negative("density difference", difference, "kg/m3")?;
    let mu = input::positive("viscosity", viscosity, "Pa s")?;
    let d = input::positive("diffusivity", diffusivity, "m2/s")?;
    let Slit { length, width: w, depth, bends } = *slit;
    let diffusion = d * length * w / depth;
    let rayleigh = STANDARD_GRAVITY * drho * w * w * depth / (12.0 * mu * d);
    let nusselt = if rayleigh > 12.0 { upright_nusselt(rayleigh) } else { 1.0 };
    let exchange = diffusion * (0.75 * nusselt).max(1.0);
    let half = Slit { length: 0.5 * length, width: w, depth, bends };
    let cap = series_flow_baker_1987(&[half], 0.5 * STANDARD_GRAVITY * drho * depth, mu, density)?.value;
    Value::new(exchange.min(cap).max(diffusion), validity)
}

/// Nusselt number of the upright slit above its onset, v found by halving: the drive exceeds v below the root and falls
/// short of it above.
fn upright_nusselt(rayleigh: f64) -> f64 {
    let drive = |v: f64| rayleigh * (0.5 / (0.5 * v).tanh() - 1.0 / v);
    let (mut low, mut high) = (1e-3, 0.5 * rayleigh);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if drive(middle) > middle { low = middle } else { high = middle }
    }
    0.5 * low / (0.5 * low).tanh()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn gap(width: f64, depth: f64) -> Slit {
        Slit { length: 1.0, width, depth, bends: 0.0 }
    }

    /// Straight slits, mu 1.81e-5, rho 1.2: form Baker et al. 1987 (coefficients MEMORY), numbers computed independently.
    #[test]
    fn slit_flow_by_width_and_pressure() {
        for (w, d, dp, q) in [
            (1e-4, 0.02, 0.5, 1.151010147e-07),
            (2e-4, 0.02, 0.5, 9.207751821e-07),
            (5e-4, 0.02, 0.5, 1.436628096e-05),
            (1e-3, 0.02, 0.5, 0.000112480067),
            (2e-3, 0.02, 0.5, 0.0007112141082),
            (5e-3, 0.02, 0.5, 0.003275239133),
            (1e-3, 0.05, 2.0, 0.0001814340262),
            (5e-3, 0.05, 2.0, 0.006343935958),
        ] {
            let got = series_flow_baker_1987(&[gap(w, d)], dp, 1.81e-5, 1.2).unwrap().value;
            assert!((got / q - 1.0).abs() < 1e-6, "{w} {d} {dp}: {got} instead of {q}");
        }
        let bent = Slit { bends: 2.0, ..gap(1e-3, 0.02) };
        let speed = series_flow_baker_1987(&[bent], 2.0, 1.81e-5, 1.2).unwrap().value / 1e-3;
        assert!((speed / 0.3877297185 - 1.0).abs() < 1e-6);
    }

    #[test]
    fn thin_slits_are_plane_poiseuille_flow_and_series_adds_up() {
        // w^3 dp/(12 mu d), exact.
        let q = series_flow_baker_1987(&[gap(5e-5, 0.02)], 0.01, 1.81e-5, 1.2).unwrap().value;
        assert!((q / (5e-5_f64.powi(3) * 0.01 / (12.0 * 1.81e-5 * 0.02)) - 1.0).abs() < 1e-5);
        let two = series_flow_baker_1987(&[gap(1e-3, 0.01), gap(1e-3, 0.01)], 0.5, 1.81e-5, 0.6).unwrap().value;
        let one = series_flow_baker_1987(&[gap(1e-3, 0.02)], 0.5, 1.81e-5, 1.2).unwrap().value;
        assert!((two / one - 1.0).abs() < 1e-12);
    }

    /// The estimates at 90 °C inside, 15 °C outside, joint 1.2 m by 50 mm, m3/h (computed separately, two digits).
    #[test]
    fn exchange_of_a_lid_joint() {
        let joint = |width| Slit { length: 1.2, width, depth: 0.05, bends: 0.0 };
        for (w, rim) in [(2e-4, 0.0005), (5e-4, 0.0013), (1e-3, 0.0026), (2e-3, 0.0053), (5e-3, 0.013)] {
            let q = 3600.0 * level_exchange(&joint(w), 0.25, 1.95e-5, 3.06e-5).unwrap().value;
            assert!((q / rim - 1.0).abs() < 0.06, "{w}: {q}");
        }
        // Plug, saturated: onset passed at 1 mm and 2 mm.
        for (w, plug) in [(1e-3, 0.018), (2e-3, 0.16)] {
            let q = 3600.0 * upright_exchange(&joint(w), 0.503, 1.6e-5, 3.06e-5, 0.97).unwrap().value;
            assert!((q / plug - 1.0).abs() < 0.25, "{w}: {q}");
        }
    }

    /// Nusselt number of the upright slit at its onset and far above it (Ra/4), derived.
    #[test]
    fn upright_slit_limits() {
        assert!((upright_nusselt(12.001) - 1.0).abs() < 1e-3);
        assert!((upright_nusselt(4000.0) / 1000.0 - 1.0).abs() < 1e-2);
    }
}
