//! Tests: what no caller should send, sent to every relation.

use super::airspace::{self, HeatFlow};
use super::fin::{self, Bar, Tip};
use super::moist_air::{self, MoistState};
use super::{
    Value, air, atmosphere, contact, enclosure, forced_convection, free_convection, headspace, radiation, similarity,
    surface, water, wind,
};
use crate::{Error, ErrorKind};

const BAD: [f64; 8] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0, 0.0, 5e-324, 1e-300, 1.7e308];

type Relation = (&'static str, &'static [f64], fn(&[f64]) -> Result<f64, Error>);

fn number(answer: Result<Value, Error>) -> Result<f64, Error> {
    answer.map(|v| v.value)
}

/// Each input of each relation in turn replaced by a bad one: an error or a finite number, never a panic or NaN.
fn torment(relations: &[Relation]) {
    for (name, good, relation) in relations {
        assert!(relation(good).unwrap_or_else(|e| panic!("{name}: {e}")).is_finite());
        for position in 0..good.len() {
            for bad in BAD {
                let mut inputs = good.to_vec();
                inputs[position] = bad;
                match relation(&inputs) {
                    Ok(value) => assert!(value.is_finite() && bad.is_finite(), "{name} {inputs:?}: {value}"),
                    Err(error) => assert_eq!(error.kind(), ErrorKind::OutOfRange, "{name} {inputs:?}"),
                }
            }
        }
    }
}

#[test]
fn no_nan_from_properties() {
    torment(&[
        ("dry air", &[300.0, 1e5], |x| air::dry_air(x[0], x[1]).map(|a| a.prandtl + a.thermal_diffusivity)),
        ("cp", &[300.0], |x| number(air::specific_heat_lemmon_2000(x[0]))),
        ("k", &[300.0], |x| number(air::conductivity_us_standard_1976(x[0]))),
        ("mu", &[300.0], |x| number(air::viscosity_sutherland(x[0]))),
        ("rho", &[300.0, 1e5], |x| number(air::density_ideal_gas(x[0], x[1]))),
        ("isa", &[300.0], |x| number(atmosphere::pressure_iso_2533(x[0]))),
        ("boil", &[300.0], |x| number(atmosphere::boiling_temperature(x[0]))),
        ("psat", &[300.0], |x| number(water::saturation_pressure_if97(x[0]))),
        ("tsat", &[1e5], |x| number(water::boiling_temperature_if97(x[0]))),
        ("hfg", &[300.0], |x| number(water::latent_heat_wagner_pruss_1993(x[0]))),
        ("rho water", &[300.0, 1e5], |x| number(water::liquid_density_if97(x[0], x[1]))),
        ("cp water", &[300.0, 1e5], |x| number(water::liquid_specific_heat_if97(x[0], x[1]))),
        ("h water", &[300.0, 1e5], |x| number(water::liquid_enthalpy_if97(x[0], x[1]))),
        ("k water", &[300.0], |x| number(water::liquid_conductivity_patek_2009(x[0]))),
        ("mu water", &[300.0], |x| number(water::liquid_viscosity_patek_2009(x[0]))),
        ("pv", &[0.5, 300.0], |x| number(moist_air::vapour_pressure(x[0], x[1]))),
        ("density", &[300.0, 1e5, 1e3], |x| number(moist_air::density(x[0], x[1], x[2]))),
        ("ratio", &[1e5, 1e3], |x| number(moist_air::humidity_ratio(x[0], x[1]))),
        ("leaving", &[350.0, 1e4, 290.0, 1e3, 1e5], |x| {
            let inside = MoistState { temperature: x[0], vapour_pressure: x[1] };
            let outside = MoistState { temperature: x[2], vapour_pressure: x[3] };
            moist_air::leaving_heat(inside, outside, x[4]).map(|h| h.sensible + h.latent)
        }),
        ("D", &[300.0, 1e5], |x| number(moist_air::vapour_diffusivity_ashrae(x[0], x[1]))),
        ("Stefan", &[1e-4, 0.01, 1e5, 350.0, 3e4, 1e3], |x| {
            number(moist_air::stefan_diffusion(x[0], x[1], x[2], x[3], x[4], x[5]))
        }),
        ("Wilke", &[300.0, 0.5], |x| number(moist_air::viscosity_wilke(x[0], x[1]))),
    ]);
}

#[test]
fn no_nan_from_convection() {
    torment(&[
        ("Ra", &[9.8, 0.003, 5.0, 0.3, 1e-5, 1e-5], |x| similarity::rayleigh(x[0], x[1], x[2], x[3], x[4], x[5])),
        ("Gr", &[9.8, 0.003, 5.0, 0.3, 1e-5], |x| similarity::grashof(x[0], x[1], x[2], x[3], x[4])),
        ("Re", &[9.8, 0.3, 1e-5], |x| similarity::reynolds(x[0], x[1], x[2])),
        ("h", &[9.8, 0.3, 1e-5], |x| similarity::film_coefficient(x[0], x[1], x[2])),
        ("plate", &[1e6, 0.7], |x| number(free_convection::vertical_plate_churchill_chu(x[0], x[1]))),
        ("laminar", &[1e6, 0.7], |x| number(free_convection::vertical_plate_churchill_chu_laminar(x[0], x[1]))),
        ("up", &[1e6], |x| number(free_convection::horizontal_plate_upward_mcadams(x[0]))),
        ("down", &[1e6], |x| number(free_convection::horizontal_plate_downward_mcadams(x[0]))),
        ("pipe", &[1e6, 0.7], |x| number(free_convection::horizontal_cylinder_churchill_chu(x[0], x[1]))),
        ("slender", &[1e6, 0.7, 2.0], |x| number(free_convection::vertical_cylinder_popiel(x[0], x[1], x[2]))),
        ("sphere", &[1e6, 0.7], |x| number(free_convection::sphere_churchill(x[0], x[1]))),
        ("Bernstein", &[1e4, 0.7], |x| number(forced_convection::cylinder_churchill_bernstein(x[0], x[1]))),
        ("Hilpert", &[1e4, 0.7], |x| number(forced_convection::cylinder_hilpert(x[0], x[1]))),
        ("Pohlhausen", &[1e4, 0.7], |x| number(forced_convection::plate_laminar_pohlhausen(x[0], x[1]))),
        ("mixed", &[1e6, 0.7], |x| number(forced_convection::plate_mixed(x[0], x[1]))),
        ("blend", &[3.0, 4.0], |x| number(forced_convection::blend_churchill_1977(x[0], x[1]))),
        ("outside", &[3.0], |x| number(surface::outside_convection_iso_6946(x[0]))),
        ("wind", &[1.2, 4.0, 0.6, -0.4], |x| number(wind::pressure_difference(x[0], x[1], x[2], x[3]))),
        ("Dunkle", &[350.0, 340.0], |x| number(headspace::convection_dunkle_1961(x[0], x[1]))),
        ("evaporation", &[350.0, 340.0], |x| number(headspace::evaporation_dunkle_1961(x[0], x[1]))),
        ("Uchida", &[0.5], |x| number(headspace::condensation_uchida_1965(x[0]))),
        ("Lewis", &[3.0, 1.0, 1006.0, 0.85], |x| number(headspace::mass_transfer_lewis(x[0], x[1], x[2], x[3]))),
    ]);
}

#[test]
fn no_nan_from_gaps_radiation_and_fins() {
    torment(&[
        ("ElSherbiny", &[1e4, 10.0], |x| number(enclosure::vertical_gap_elsherbiny_1982(x[0], x[1]))),
        ("15099", &[1e4, 10.0], |x| number(enclosure::vertical_gap_iso_15099(x[0], x[1]))),
        ("squat", &[1e4, 0.7, 3.0], |x| number(enclosure::vertical_cavity_berkovsky_polevikov(x[0], x[1], x[2]))),
        ("Hollands", &[1e4], |x| number(enclosure::horizontal_gap_hollands_1976(x[0]))),
        ("tilted", &[1e4, 0.3], |x| number(enclosure::tilted_gap_hollands_1976(x[0], x[1]))),
        ("Holman", &[1e4], |x| number(enclosure::horizontal_gap_holman(x[0]))),
        ("cavity", &[0.02, 0.02, 0.9, 0.9, 283.0, 10.0], |x| {
            let cavity = airspace::cavity_iso_10077_2(x[0], x[1], [x[2], x[3]], x[4], x[5])?;
            assert!(cavity.convection.is_finite() && cavity.radiation.is_finite(), "{x:?}");
            Ok(cavity.conductivity)
        }),
        ("Lc", &[0.1, 0.2], |x| enclosure::concentric_cylinders_length(x[0], x[1])),
        ("ring", &[1e4, 0.7], |x| number(enclosure::concentric_cylinders_raithby_hollands(x[0], x[1]))),
        ("airspace", &[0.02, 0.9, 0.8, 300.0, 8.0, 0.025], |x| {
            let faces = [x[1], x[2]];
            number(airspace::resistance_iso_6946(HeatFlow::Down, x[0], faces, x[3], x[4], x[5]))
        }),
        ("inclined", &[0.4, 0.02], |x| {
            number(airspace::convection_iso_6946(HeatFlow::Inclined(x[0]), x[1], 8.0, 0.025))
        }),
        ("chord", &[300.0, 350.0], |x| radiation::coefficient(x[0], x[1])),
        ("black", &[300.0], |x| radiation::black_coefficient(x[0])),
        ("enclosed", &[0.5, 0.9, 0.8], |x| radiation::exchange_factor_enclosed(x[0], x[1], x[2])),
        ("tubes", &[0.1, 0.2, 0.9, 0.8], |x| {
            radiation::exchange_factor_concentric_cylinders([x[0], x[1]], [x[2], x[3]])
        }),
        ("spheres", &[0.1, 0.2, 0.9, 0.8], |x| {
            radiation::exchange_factor_concentric_spheres([x[0], x[1]], [x[2], x[3]])
        }),
        ("contact", &[1e-4, 300.0, 0.9, 0.8], |x| number(contact::thin_air_gap(x[0], x[1], [x[2], x[3]]))),
        ("convective", &[16.0, 5e-5, 0.026, 12.0, 0.1, 50.0], |x| {
            let bar = Bar { conductivity: x[0], area: x[1], perimeter: x[2], film: x[3] };
            number(fin::straight_fin(&bar, x[4], x[5], Tip::Convective))
        }),
        ("fixed", &[16.0, 5e-5, 0.026, 12.0, 0.1, 50.0, 20.0], |x| {
            let bar = Bar { conductivity: x[0], area: x[1], perimeter: x[2], film: x[3] };
            number(fin::straight_fin(&bar, x[4], x[5], Tip::Fixed(x[6])))
        }),
        ("bar", &[16.0, 5e-5, 0.026, 12.0, 0.05, 0.1, 1.0], |x| {
            let bar = Bar { conductivity: x[0], area: x[1], perimeter: x[2], film: x[3] };
            fin::bar_through_wall(&bar, x[4], x[5], x[6]).map(|way| way.total())
        }),
    ]);
}
