//! The two pieces of IAPWS-IF97 that the water relations stand on: region 1 (liquid) and region 4 (saturation).
//!
//! Source: IAPWS R7-97(2012), Revised Release on the IAPWS Industrial Formulation 1997 for the Thermodynamic
//! Properties of Water and Steam; coefficients READ in an open implementation of the release.

/// Specific gas constant of water in the formulation \[J/(kg K)\].
const GAS_CONSTANT: f64 = 461.526;

/// Exponents I, J and coefficients n of region 1 (Table 2 of the release).
const REGION_1: [(i32, i32, f64); 34] = [
    (0, -2, 1.463_297_121_316_7e-1),
    (0, -1, -8.454_818_716_911_4e-1),
    (0, 0, -3.756_360_367_204e0),
    (0, 1, 3.385_516_916_838_5e0),
    (0, 2, -9.579_196_338_787_2e-1),
    (0, 3, 1.577_203_851_322_8e-1),
    (0, 4, -1.661_641_719_950_1e-2),
    (0, 5, 8.121_462_998_356_8e-4),
    (1, -9, 2.831_908_012_380_4e-4),
    (1, -7, -6.070_630_156_587_4e-4),
    (1, -1, -1.899_006_821_841_9e-2),
    (1, 0, -3.252_974_877_050_5e-2),
    (1, 1, -2.184_171_717_541_4e-2),
    (1, 3, -5.283_835_796_993e-5),
    (2, -3, -4.718_432_107_326_7e-4),
    (2, 0, -3.000_178_079_302_6e-4),
    (2, 1, 4.766_139_390_698_7e-5),
    (2, 3, -4.414_184_533_084_6e-6),
    (2, 17, -7.269_499_629_759_4e-16),
    (3, -4, -3.167_964_484_505_4e-5),
    (3, 0, -2.827_079_798_531_2e-6),
    (3, 6, -8.520_512_812_010_3e-10),
    (4, -5, -2.242_528_190_8e-6),
    (4, -2, -6.517_122_289_560_1e-7),
    (4, 10, -1.434_172_993_792_4e-13),
    (5, -8, -4.051_699_686_011_7e-7),
    (8, -11, -1.273_430_174_164_1e-9),
    (8, -6, -1.742_487_123_063_4e-10),
    (21, -29, -6.876_213_129_553_1e-19),
    (23, -31, 1.447_830_782_852_1e-20),
    (29, -38, 2.633_578_166_279_5e-23),
    (30, -39, -1.194_762_264_007_1e-23),
    (31, -40, 1.822_809_458_140_4e-24),
    (32, -41, -9.353_708_729_245_8e-26),
];

/// Coefficients of region 4 (Table 34 of the release).
const REGION_4: [f64; 10] = [
    1.167_052_145_276_7e3,
    -7.242_131_670_320_6e5,
    -1.707_384_694_009_2e1,
    1.202_082_470_247e4,
    -3.232_555_032_233_3e6,
    1.491_510_861_353e1,
    -4.823_265_736_159_1e3,
    4.051_134_054_205_7e5,
    -2.385_555_756_784_9e-1,
    6.501_753_484_479_8e2,
];

/// Liquid water: specific volume \[m3/kg\], enthalpy \[J/kg\], heat capacity \[J/(kg K)\].
#[derive(Debug, Clone, Copy)]
pub(super) struct Liquid {
    pub(super) volume: f64,
    pub(super) enthalpy: f64,
    pub(super) specific_heat: f64,
}

/// Region 1 at a temperature \[K\] and pressure \[Pa\]: derivatives of the dimensionless Gibbs energy (equation 7).
pub(super) fn region_1(temperature: f64, pressure: f64) -> Liquid {
    let pi = pressure / 16.53e6;
    let tau = 1386.0 / temperature;
    let (a, b) = (7.1 - pi, tau - 1.222);
    let (mut by_pi, mut by_tau, mut by_tau_twice) = (0.0, 0.0, 0.0);
    for (i, j, n) in REGION_1 {
        by_pi -= n * f64::from(i) * a.powi(i - 1) * b.powi(j);
        by_tau += n * a.powi(i) * f64::from(j) * b.powi(j - 1);
        by_tau_twice += n * a.powi(i) * f64::from(j * (j - 1)) * b.powi(j - 2);
    }
    Liquid {
        volume: pi * by_pi * GAS_CONSTANT * temperature / pressure,
        enthalpy: tau * by_tau * GAS_CONSTANT * temperature,
        specific_heat: -tau * tau * by_tau_twice * GAS_CONSTANT,
    }
}

/// Saturation pressure \[Pa\] at a temperature \[K\] (equation 30).
pub(super) fn saturation_pressure(temperature: f64) -> f64 {
    let n = REGION_4;
    let theta = temperature + n[8] / (temperature - n[9]);
    let a = theta * theta + n[0] * theta + n[1];
    let b = n[2] * theta * theta + n[3] * theta + n[4];
    let c = n[5] * theta * theta + n[6] * theta + n[7];
    1e6 * (2.0 * c / (-b + (b * b - 4.0 * a * c).sqrt())).powi(4)
}

/// Saturation temperature \[K\] at a pressure \[Pa\] (equation 31, the exact inverse of equation 30).
pub(super) fn saturation_temperature(pressure: f64) -> f64 {
    let n = REGION_4;
    let beta = (pressure / 1e6).sqrt().sqrt();
    let e = beta * beta + n[2] * beta + n[5];
    let f = n[0] * beta * beta + n[3] * beta + n[6];
    let g = n[1] * beta * beta + n[4] * beta + n[7];
    let d = 2.0 * g / (-f - (f * f - 4.0 * e * g).sqrt());
    (n[9] + d - ((n[9] + d).powi(2) - 4.0 * (n[8] + n[9] * d)).sqrt()) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// IAPWS R7-97(2012), Tables 35 and 36; printed values MEMORY, reproduced by two property libraries.
    #[test]
    fn verification_values_of_region_4() {
        for (t, p) in [(300.0, 0.353_658_941e-2), (500.0, 0.263_889_776e1), (600.0, 0.123_443_146e2)] {
            assert!((saturation_pressure(t) / (p * 1e6) - 1.0).abs() < 5e-9, "{t}");
        }
        for (p, t) in [(0.1e6, 372.755_919), (1e6, 453.035_632), (10e6, 584.149_488)] {
            assert!((saturation_temperature(p) - t).abs() < 1e-6, "{p}");
        }
    }

    /// IAPWS R7-97(2012), Table 5 (300 K, 3 MPa), as above.
    #[test]
    fn verification_values_of_region_1() {
        let liquid = region_1(300.0, 3e6);
        assert!((liquid.volume - 0.100_215_168e-2).abs() < 1e-11);
        assert!((liquid.enthalpy - 0.115_331_273e6).abs() < 1e-3);
        assert!((liquid.specific_heat - 0.417_301_218e4).abs() < 1e-5);
    }

    #[test]
    fn the_backward_equation_inverts_the_forward_one() {
        for step in 0..=100 {
            let t = 273.15 + step as f64 * 1.2;
            assert!((saturation_temperature(saturation_pressure(t)) - t).abs() < 1e-8, "{t}");
        }
    }
}
