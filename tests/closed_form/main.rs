//! The closed forms against reference numbers.
//!
//! Rows marked COMPUTED were computed twice by independent methods (series or quadrature, and a fine numerical solution)
//! from the inputs beside them; no printed number exists. The mathematics is that of Carslaw & Jaeger, Conduction of Heat
//! in Solids, 2nd ed. 1959 (MEMORY). Printed numbers name their book. Temperatures are in degrees Celsius, since every
//! problem is linear. Tolerances are absolute: 1e-9 of the scale for computed rows, the source's own for printed ones.

mod properties;
mod textbook;
mod walls;

use stillhot::closed_form::{LayeredWall, Side, Slab, Solid, SymmetricBody, WallLayer};

#[derive(Debug, Clone, Copy)]
enum What {
    Temperature(f64),
    /// Face between layers, counted from 1, and its side: 0 inner, 1 outer.
    Face(usize, usize),
    Flux(f64),
    Mean,
    Fluid(Side),
}
use What::{Face, Fluid, Flux, Mean, Temperature};

/// What, time in s, expected value, tolerance.
type Row = (What, f64, f64, f64);

fn solid(conductivity: f64, density: f64, heat_capacity: f64) -> Solid {
    Solid::new(conductivity, density, heat_capacity).unwrap()
}

fn layer(thickness: f64, conductivity: f64, density: f64, heat_capacity: f64, contact: f64) -> WallLayer {
    WallLayer::new(thickness, solid(conductivity, density, heat_capacity)).unwrap().with_outer_contact(contact).unwrap()
}

fn close(found: f64, expected: f64, tolerance: f64, what: impl std::fmt::Debug, time: f64) {
    let error = (found - expected).abs();
    assert!(
        error <= tolerance,
        "{what:?} at {time}: {found}, not {expected} (off by {error:e}, allowed {tolerance:e})"
    );
}

fn check_wall(wall: &LayeredWall, rows: &[Row]) {
    for &(what, time, expected, tolerance) in rows {
        let found = match what {
            Temperature(position) => wall.temperature(position, time),
            Face(face, side) => wall.face_temperatures(face, time).map(|pair| pair[side]),
            Flux(position) => wall.flux(position, time),
            Mean => wall.mean_temperature(time),
            Fluid(side) => wall.fluid_temperature(side, time),
        };
        close(found.unwrap(), expected, tolerance, what, time);
    }
}

fn check_slab(slab: &Slab, rows: &[Row]) {
    for &(what, time, expected, tolerance) in rows {
        let found = match what {
            Temperature(position) => slab.temperature(position, time),
            Flux(position) => slab.flux(position, time),
            Mean => slab.mean_temperature(time),
            Fluid(side) => slab.fluid_temperature(side, time),
            Face(..) => panic!("a slab has no inner face"),
        };
        close(found.unwrap(), expected, tolerance, what, time);
    }
}

fn check_body(body: &SymmetricBody, rows: &[Row]) {
    for &(what, time, expected, tolerance) in rows {
        let found = match what {
            Temperature(position) => body.temperature(position, time),
            Mean => body.mean_temperature(time),
            _ => panic!("no such question to a symmetric body"),
        };
        close(found.unwrap(), expected, tolerance, what, time);
    }
}
