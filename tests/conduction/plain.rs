//! Walls, ends and answers in plain numbers: SI, temperatures in °C.

use stillhot::conduction::{Estimate, Probe, Problem, Steady, Transient};
use stillhot::units::{self, Si};
use stillhot::{Boundary, Layer, Material, Wall};

/// A material of conductivity W/(m K), density kg/m³ and heat capacity J/(kg K).
pub fn material(conductivity: f64, density: f64, heat_capacity: f64) -> Material {
    Material::custom(
        "plain",
        units::watts_per_metre_kelvin(conductivity),
        units::kilograms_per_cubic_metre(density),
        units::joules_per_kilogram_kelvin(heat_capacity),
    )
    .unwrap()
}

/// A layer so many metres thick of a material as [`material`] makes it.
pub fn layer(thickness: f64, conductivity: f64, density: f64, heat_capacity: f64) -> Layer {
    Layer::new(material(conductivity, density, heat_capacity), units::metres(thickness)).unwrap()
}

pub fn slab(thickness: f64, conductivity: f64, density: f64, heat_capacity: f64) -> Wall {
    Wall::planar().layer(layer(thickness, conductivity, density, heat_capacity)).build().unwrap()
}

pub fn held(degrees: f64) -> Boundary {
    Boundary::temperature(units::celsius(degrees))
}

pub fn film(coefficient: f64, degrees: f64) -> Boundary {
    Boundary::film(units::watts_per_square_metre_kelvin(coefficient), units::celsius(degrees))
}

pub fn problem(wall: Wall, inner: Boundary, outer: Boundary, start: f64) -> Problem {
    Problem::new(wall, inner, outer).unwrap().starting_at(units::celsius(start)).unwrap()
}

pub fn temperature_at(x: f64) -> Probe {
    Probe::Temperature(units::metres(x))
}

pub fn flux_at(x: f64) -> Probe {
    Probe::Flux(units::metres(x))
}

/// Value, °C or W/m², with its error.
pub fn read(transient: &Transient, probe: Probe, time: usize) -> Estimate<f64> {
    let mut e = transient.read(probe, time).unwrap();
    if !probe.is_flux() {
        e.value -= 273.15;
    }
    e
}

/// Temperatures of the faces of each layer in the steady state, °C.
pub fn faces(steady: &Steady) -> Vec<[f64; 2]> {
    steady.faces().iter().map(|pair| pair.map(|t| t.si() - 273.15)).collect()
}

/// Where a rising function passes zero.
pub fn bisect(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    assert!(f(low) < 0.0 && f(high) > 0.0, "no change of sign: {} {}", f(low), f(high));
    for _ in 0..100 {
        let middle = f64::midpoint(low, high);
        if f(middle) < 0.0 { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}
