//! The layouts of `junctions.toml` and `random.toml` as sections of the crate.

use serde::Deserialize;
use stillhot::conduction::{Arm, Estimate, SectionAccuracy, SectionProblem, SteadySection};
use stillhot::units::{
    Si, Temperature, TemperatureInterval, celsius, degrees, fraction, joules_per_kelvin, joules_per_kilogram_kelvin,
    kilograms_per_cubic_metre, metres, watts_per_metre_kelvin, watts_per_square_metre_kelvin,
};
use stillhot::{Body, Boundary, Fill, Line, Material, Point, Section, Shape};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    case: Vec<Case>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    pub id: String,
    pub title: String,
    pub mark: String,
    about_axis: bool,
    pub frame: [f64; 4],
    background: String,
    shapes: Vec<Laid>,
    materials: Vec<Stuff>,
    pub parts: Vec<Part>,
    pub start: Option<f64>,
    pub body: Option<Pot>,
    #[serde(default)]
    pub walls: Vec<PlainWall>,
    pub values: Vec<Expected>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Laid {
    fill: String,
    rectangle: Option<[f64; 4]>,
    polygon: Option<Vec<[f64; 2]>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Stuff {
    id: String,
    conductivity: [f64; 2],
    density: Option<f64>,
    heat_capacity: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Part {
    pub name: String,
    film: Option<f64>,
    pub temperature: f64,
    #[serde(default)]
    pub body: bool,
    pub side: String,
    lines: Vec<[f64; 4]>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pot {
    pub capacity: f64,
    temperature: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlainWall {
    pub u: f64,
    pub inner_length: f64,
    pub outer_length: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Expected {
    pub what: String,
    pub at: Option<[f64; 2]>,
    pub part: Option<String>,
    pub time: Option<f64>,
    pub value: f64,
    pub tolerance: f64,
}

pub fn junctions() -> Vec<Case> {
    toml::from_str::<File>(include_str!("junctions.toml")).unwrap().case
}

pub fn random() -> Vec<Case> {
    toml::from_str::<File>(include_str!("random.toml")).unwrap().case
}

pub fn at(x: f64, y: f64) -> Point {
    [metres(x), metres(y)]
}

/// A material of these numbers, with a grain along the first or second axis where they differ.
pub fn fill(id: &str, [x, y]: [f64; 2], density: f64, heat_capacity: f64) -> Fill {
    let across = x.min(y);
    let material = Material::custom(
        &id.replace('_', "-"),
        watts_per_metre_kelvin(across),
        kilograms_per_cubic_metre(density),
        joules_per_kilogram_kelvin(heat_capacity),
    );
    let fill = Fill::new(material.unwrap());
    if x == y {
        return fill;
    }
    fill.with_grain(degrees(if x > y { 0.0 } else { 90.0 }), fraction(x.max(y) / across)).unwrap()
}

impl Case {
    fn fill(&self, id: &str) -> Fill {
        let stuff = self.materials.iter().find(|m| m.id == id).unwrap();
        fill(id, stuff.conductivity, stuff.density.unwrap_or(30.0), stuff.heat_capacity.unwrap_or(1000.0))
    }

    pub fn section(&self) -> Section {
        let [x0, x1, y0, y1] = self.frame;
        let frame = if self.about_axis { Section::about_axis } else { Section::plane };
        let mut section = frame(at(x0, y0), at(x1, y1));
        section = match self.background.as_str() {
            "void" => section.hole(Shape::rectangle(at(x0, y0), at(x1, y1))),
            id => section.background(self.fill(id)),
        };
        for laid in &self.shapes {
            let shape = match (&laid.rectangle, &laid.polygon) {
                (Some([x0, x1, y0, y1]), None) => Shape::rectangle(at(*x0, *y0), at(*x1, *y1)),
                (None, Some(corners)) => Shape::polygon(&corners.iter().map(|[x, y]| at(*x, *y)).collect::<Vec<_>>()),
                _ => panic!("{laid:?}"),
            };
            section = if laid.fill == "void" { section.hole(shape) } else { section.lay(shape, self.fill(&laid.fill)) };
        }
        for part in &self.parts {
            let lines: Vec<Line> =
                part.lines.iter().map(|[x0, y0, x1, y1]| Line::straight(at(*x0, *y0), at(*x1, *y1))).collect();
            section = section.part(part.name.as_str(), &lines);
        }
        section.build().unwrap_or_else(|e| panic!("{}: {e}", self.id))
    }

    /// The problem, with the body behind its part if it is to be marched.
    pub fn problem(&self, in_time: bool) -> SectionProblem {
        let mut problem = SectionProblem::new(self.section());
        for part in &self.parts {
            let film = part.film.map(watts_per_square_metre_kelvin);
            let boundary = match (&self.body, part.body && in_time) {
                (Some(pot), true) => {
                    let body = Body::new(joules_per_kelvin(pot.capacity), celsius(pot.temperature));
                    Boundary::Body(match film {
                        Some(film) => body.behind_film(film),
                        None => body,
                    })
                }
                _ => match film {
                    Some(film) => Boundary::film(film, celsius(part.temperature)),
                    None => Boundary::temperature(celsius(part.temperature)),
                },
            };
            problem = problem.with(&part.name, boundary).unwrap();
        }
        match self.start {
            Some(start) => problem.starting_at(celsius(start)).unwrap(),
            None => problem,
        }
    }

    pub fn swing(&self) -> f64 {
        let temperatures = self.parts.iter().map(|p| p.temperature);
        let (low, high) = temperatures.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), t| (l.min(t), h.max(t)));
        high - low
    }

    pub fn steady(&self, accuracy: &SectionAccuracy) -> SteadySection {
        self.problem(false).steady(accuracy).unwrap_or_else(|e| panic!("{}: {e}", self.id))
    }
}

/// Value and reported error in the units of the table, and the scale of the quantity.
pub fn answer(case: &Case, steady: &SteadySection, expected: &Expected) -> (Estimate<f64>, f64) {
    let swing = case.swing();
    let celsius = |e: Estimate<Temperature, TemperatureInterval>| Estimate {
        value: e.value.si() - 273.15,
        error: e.error.si(),
        mesh_error: e.mesh_error.si(),
        time_error: e.time_error.si(),
        order: e.order,
    };
    let largest = case.parts.iter().map(|p| steady.heat(&p.name).unwrap().value.abs()).fold(0.0, f64::max);
    let arms = |outer: bool| -> Vec<Arm> {
        let length = |w: &PlainWall| if outer { w.outer_length } else { w.inner_length };
        case.walls
            .iter()
            .map(|w| Arm::with_transmittance(watts_per_square_metre_kelvin(w.u), metres(length(w))))
            .collect()
    };
    let psi = |outer: bool| {
        let e = steady.linear_transmittance("inside", "outside", &arms(outer)).unwrap();
        Estimate {
            value: e.value.si(),
            error: e.error.si(),
            mesh_error: e.mesh_error.si(),
            time_error: e.time_error.si(),
            order: e.order,
        }
    };
    match expected.what.as_str() {
        "T" => {
            let [x, y] = expected.at.unwrap();
            (celsius(steady.temperature(at(x, y)).unwrap()), swing)
        }
        "heat_flow" => (steady.heat(expected.part.as_ref().unwrap()).unwrap(), largest),
        "L2D" => (steady.coupling("inside", "outside").unwrap(), largest / swing),
        "G" => (steady.coupling("pot", "side").unwrap(), largest / swing),
        "psi_i" => (psi(false), largest / swing),
        "psi_e" => (psi(true), largest / swing),
        "T_surface_min" | "T_surface_max" => {
            let end = usize::from(expected.what == "T_surface_max");
            let side = expected.part.as_ref().unwrap();
            let parts = case.parts.iter().filter(|p| p.side == *side);
            let ends = parts.map(|p| celsius(steady.surface(&p.name).unwrap()[end]));
            let sign = if end == 1 { 1.0 } else { -1.0 };
            (ends.max_by(|a, b| (sign * a.value).total_cmp(&(sign * b.value))).unwrap(), swing)
        }
        other => panic!("{other}"),
    }
}
