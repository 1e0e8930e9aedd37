//! Manufactured solutions: a temperature is chosen and the heat equation tells the source that makes it so. Properties
//! change along the depth. The sources below were derived elsewhere; that they belong to their temperatures is checked
//! against the equation itself, by differences in extended step.

use crate::comparison::{Comparison, Mark, Sheet};
use crate::plain::{self, material, read, temperature_at};
use std::f64::consts::PI;
use stillhot::conduction::{Accuracy, HeatSource, Problem};
use stillhot::units::{self, Length, Si, Temperature, Time};
use stillhot::{Boundary, Course, Geometry, Grading, Layer, Wall};

/// A chosen temperature and what belongs to it; functions of coordinate (m) and time (s).
#[derive(Clone, Copy)]
pub struct Made {
    pub title: &'static str,
    pub geometry: fn() -> Geometry,
    /// Coordinates of the faces.
    pub ends: [f64; 2],
    /// 0 plane, 1 cylinder, 2 sphere.
    pub curved: i32,
    pub temperature: fn(f64, f64) -> f64,
    pub conductivity: fn(f64) -> f64,
    pub capacity: fn(f64) -> f64,
    pub source: fn(f64, f64) -> f64,
    /// Coordinate, time, temperature as computed elsewhere.
    pub values: &'static [(f64, f64, f64)],
}

pub const ALL: [Made; 3] = [
    Made {
        title: "Manufactured solution in a slab, k and rho c rising linearly",
        geometry: || Geometry::Planar,
        ends: [0.0, 1.0],
        curved: 0,
        temperature: |x, t| 20.0 + 50.0 * (-t).exp() * (PI * x / 2.0).sin(),
        conductivity: |x| 1.0 + x / 2.0,
        capacity: |x| 2.0 + x,
        source: |x, t| {
            let (s, c) = (PI * x / 2.0).sin_cos();
            (-t).exp()
                * (-50.0 * x * s + 25.0 * PI * PI * x * s / 4.0 - 100.0 * s + 25.0 * PI * PI * s / 2.0
                    - 25.0 * PI * c / 2.0)
        },
        values: &[(0.25, 0.5, 31.6054617347), (0.75, 1.0, 36.9938143065)],
    },
    Made {
        title: "Manufactured solution in a cylinder shell, k and rho c rising linearly",
        geometry: || Geometry::Cylindrical { inner_radius: units::metres(1.0) },
        ends: [1.0, 2.0],
        curved: 1,
        temperature: |r, t| 20.0 + 10.0 * (-t).exp() * r.ln() + 3.0 * r * r,
        conductivity: |r| 1.0 + r / 3.0,
        capacity: |r| 1.0 + r / 5.0,
        source: |r, t| {
            let e = (-t).exp();
            -6.0 * r - 2.0 * r * e * r.ln() - 12.0 - 10.0 * e * r.ln() - 10.0 * e / (3.0 * r)
        },
        values: &[(1.5, 0.5, 29.2092701951)],
    },
    Made {
        title: "Manufactured solution in a sphere shell, k falling and rho c rising linearly",
        geometry: || Geometry::Spherical { inner_radius: units::metres(1.0) },
        ends: [1.0, 2.0],
        curved: 2,
        temperature: |r, t| 20.0 + 10.0 * (-2.0 * t).exp() / r + r * r * t,
        conductivity: |r| 2.0 - r / 4.0,
        capacity: |r| 1.0 + r / 5.0,
        source: |r, t| {
            let e = (-2.0 * t).exp();
            r.powi(3) / 5.0 + r * r + 2.0 * r * t - 12.0 * t - 4.0 * e - 20.0 * e / r - 5.0 * e / (2.0 * r * r)
        },
        values: &[(1.5, 0.5, 23.5775296078)],
    },
];

/// Points of the tables that stand for the temperatures of the faces.
const POINTS: usize = 8000;
/// Until then, s.
const END: f64 = 1.0;

impl Made {
    pub fn problem(&self) -> Problem {
        let made = *self;
        let [inner, outer] = self.ends;
        // A plain material of k = 1 W/(m K) and rho c = 100 J/(m³ K), and the rest by grading.
        let grading = Grading::new(
            move |depth: Length| (made.conductivity)(inner + depth.si()),
            move |depth: Length| (made.capacity)(inner + depth.si()) / 100.0,
        );
        let layer = Layer::new(material(1.0, 1.0, 100.0), units::metres(outer - inner)).unwrap().graded(grading);
        let wall = Wall::of((self.geometry)()).layer(layer.unwrap()).build().unwrap();
        let end = |x: f64| {
            let points: Vec<(Time, Temperature)> = (0..=POINTS)
                .map(|i| {
                    let t = END * i as f64 / POINTS as f64;
                    (units::seconds(t), units::celsius((made.temperature)(x, t)))
                })
                .collect();
            Boundary::temperature(Course::table(&points).unwrap())
        };
        Problem::new(wall, end(inner), end(outer))
            .unwrap()
            .starting_from(move |x| units::celsius((made.temperature)(x.si(), 0.0)))
            .with_source(HeatSource::field(move |x, t| units::watts_per_cubic_metre((made.source)(x.si(), t.si()))))
            .unwrap()
    }

    /// What is left of the heat equation, W/m³, by central differences.
    pub fn residual(&self, x: f64, t: f64) -> f64 {
        let h = 1e-4;
        let rate = ((self.temperature)(x, t + h) - (self.temperature)(x, t - h)) / (2.0 * h);
        let carried = |x: f64| {
            let slope = ((self.temperature)(x + h / 2.0, t) - (self.temperature)(x - h / 2.0, t)) / h;
            x.powi(self.curved) * (self.conductivity)(x) * slope
        };
        let divergence = (carried(x + h / 2.0) - carried(x - h / 2.0)) / h / x.powi(self.curved);
        (self.capacity)(x) * rate - divergence - (self.source)(x, t)
    }
}

/// Error of straight lines between the points of a face's table: a eighth of the step squared times the curvature,
/// which is at most 50 K/s² here; times two.
const TABLE: f64 = 2.0 * 50.0 / 8.0 / (POINTS as f64 * POINTS as f64);

pub fn rows(accuracy: &Accuracy) -> Vec<Comparison> {
    let mut rows = Vec::new();
    for made in ALL {
        let mut sheet = Sheet::new(made.title, "chosen temperature; its source by calculus", Mark::Computed);
        let times = [units::seconds(0.5), units::seconds(1.0)];
        let answer = made.problem().march(&times, accuracy).unwrap();
        for (x, t, value) in made.values {
            let e = read(&answer, temperature_at(*x), usize::from(*t == 1.0));
            sheet.row(format!("temperature at {x} m and {t} s, °C"), (*value, 1e-10 + TABLE), e.value, Some(e.error));
        }
        rows.extend(sheet.rows);
    }
    rows
}

/// A source that is a number at the start and none later on.
#[test]
fn a_source_that_stops_being_a_number_is_refused() {
    for bad in [f64::NAN, f64::INFINITY] {
        let source =
            HeatSource::field(move |_, t| units::watts_per_cubic_metre(if t.si() > 300.0 { bad } else { 1e3 }));
        for end in [plain::held(20.0), Boundary::Insulated] {
            let wall = plain::slab(0.05, 0.6, 1000.0, 4000.0);
            let problem = plain::problem(wall, plain::held(20.0), end, 20.0).with_source(source.clone()).unwrap();
            let refused = problem.march(&[units::hours(1.0)], &Accuracy::default()).unwrap_err();
            assert_eq!(refused.kind(), stillhot::ErrorKind::OutOfRange, "{refused}");
        }
    }
}
