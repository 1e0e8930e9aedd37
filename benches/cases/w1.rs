//! W1: a stirred pot behind a wall of four layers, six hours, one dimension.
//!
//! The wall from inside to outside: 9 mm closed-cell foam, a contact of 0.03 m² K/W, 50 mm rigid foam, 9 mm plywood,
//! 0.1 mm paper. Film 10 W/(m² K) inside, 8 outside to 15 °C; the wall starts at 20 °C, the pot at 98 °C. Area 0.55 m²,
//! pot 9 * 4190 + 1.5 * 900 J/K; the problem is stated per square metre.

use stillhot::conduction::{Problem, Side, Transient};
use stillhot::units::{
    Si, Time, celsius, hours, joules_per_kelvin, joules_per_kilogram_kelvin, kilograms_per_cubic_metre, millimetres,
    square_metre_kelvins_per_watt, watts_per_metre_kelvin, watts_per_square_metre_kelvin,
};
use stillhot::{Body, Boundary, Contact, Error, Layer, Material, Wall};

/// Heat capacity of the pot over the area of the wall, J/(m² K).
pub const POT: f64 = 39_060.0 / 0.55;

/// Name, thickness in mm, W/(m K), kg/m³, J/(kg K).
pub const LAYERS: [(&str, f64, f64, f64, f64); 4] = [
    ("closed-cell-foam", 9.0, 0.040, 35.0, 2300.0),
    ("rigid-foam", 50.0, 0.023, 32.0, 1400.0),
    ("plywood", 9.0, 0.130, 500.0, 1600.0),
    ("paper", 0.1, 0.100, 800.0, 1400.0),
];

/// Contact outside the first layer, m² K/W.
pub const CONTACT: f64 = 0.03;

/// Pot temperature after 1 to 6 h, °C. COMPUTED, no printed source: transfer matrices of the layers, inverted from the
/// Laplace domain with 40 digits; no mesh and no time steps.
pub const HOURLY: [f64; 6] = [95.231_591_5, 93.764_891_62, 92.337_183_21, 90.935_992_91, 89.560_226_16, 88.209_386_95];

/// What the pot temperature may err, K.
pub const TARGET: f64 = 1e-3;

/// The problem.
pub fn problem() -> Result<Problem, Error> {
    let mut wall = Wall::planar();
    for (i, (name, thickness, conductivity, density, heat_capacity)) in LAYERS.into_iter().enumerate() {
        let material = Material::custom(
            name,
            watts_per_metre_kelvin(conductivity),
            kilograms_per_cubic_metre(density),
            joules_per_kilogram_kelvin(heat_capacity),
        )?;
        if i == 1 {
            wall = wall.contact(Contact::Resistance(square_metre_kelvins_per_watt(CONTACT)));
        }
        wall = wall.layer(Layer::new(material, millimetres(thickness))?);
    }
    let pot = Body::new(joules_per_kelvin(POT), celsius(98.0)).behind_film(watts_per_square_metre_kelvin(10.0));
    let outside = Boundary::film(watts_per_square_metre_kelvin(8.0), celsius(15.0));
    Problem::new(wall.build()?, Boundary::Body(pot), outside)?.starting_at(celsius(20.0))
}

/// The six hours.
pub fn times() -> [Time; 6] {
    [1.0, 2.0, 3.0, 4.0, 5.0, 6.0].map(hours)
}

/// The largest difference from [`HOURLY`] and the largest reported error, K.
pub fn errors(answer: &Transient) -> Result<(f64, f64), Error> {
    let mut worst = (0.0_f64, 0.0_f64);
    for (i, exact) in HOURLY.into_iter().enumerate() {
        let pot = answer.body_temperature(Side::Inner, i)?;
        worst.0 = worst.0.max((pot.value.si() - 273.15 - exact).abs());
        worst.1 = worst.1.max(pot.error.si());
    }
    Ok(worst)
}
