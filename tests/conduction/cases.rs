//! The reference problems of `transient.toml` as walls and boundaries of the crate.

use crate::comparison::{Comparison, Mark, Sheet};
use serde::Deserialize;
use stillhot::conduction::{Accuracy, Estimate, Problem, Side, Transient};
use stillhot::units::{self, Si};
use stillhot::{Body, Boundary, Contact, Layer, Material, Wall};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct File {
    pub case: Vec<Case>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    pub id: String,
    pub title: String,
    pub source: String,
    pub mark: String,
    geometry: String,
    inner: f64,
    start: f64,
    layers: Vec<Slice>,
    #[serde(default)]
    contacts: Vec<f64>,
    left: End,
    right: End,
    pub values: Vec<Expected>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Slice {
    thickness: f64,
    conductivity: f64,
    density: f64,
    heat_capacity: f64,
}

#[derive(Debug, Deserialize)]
#[serde(tag = "kind", rename_all = "lowercase", deny_unknown_fields)]
enum End {
    Temperature { temperature: f64 },
    Flux { flux: f64 },
    Film { film: f64, temperature: f64 },
    Insulated,
    Body { capacity: f64, temperature: f64, film: Option<f64>, loss: Option<f64>, loss_to: Option<f64> },
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Expected {
    pub what: String,
    pub at: Option<f64>,
    pub end: Option<String>,
    pub side: Option<String>,
    pub time: f64,
    pub value: f64,
    pub tolerance: f64,
}

pub fn cases() -> Vec<Case> {
    let file: File = toml::from_str(include_str!("transient.toml")).unwrap();
    assert!(file.case.iter().all(|c| !c.source.is_empty() && c.mark == "COMPUTED" && !c.title.is_empty()));
    file.case
}

/// Every value of every case beside what is marched.
pub fn rows(accuracy: &Accuracy) -> Vec<Comparison> {
    let mut rows = Vec::new();
    for case in cases() {
        let mut sheet = Sheet::new(&case.title, &case.source, Mark::Computed);
        let times: Vec<units::Time> = case.times().iter().map(|t| units::seconds(*t)).collect();
        let transient = case.problem().march(&times, accuracy).unwrap_or_else(|e| panic!("{}: {e}", case.id));
        for expected in &case.values {
            let answer = case.answer(&transient, expected);
            sheet.row(expected.words(), (expected.value, expected.tolerance), answer.value, Some(answer.error));
        }
        rows.extend(sheet.rows);
    }
    rows
}

impl Expected {
    /// What, where and when, with the unit.
    fn words(&self) -> String {
        let place = match (self.at, self.side.as_deref()) {
            (None, _) => String::new(),
            (Some(x), None) => format!(" at {x} m"),
            (Some(x), Some("left")) => format!(" at {x} m, inner side of the contact"),
            (Some(x), Some(_)) => format!(" at {x} m, outer side of the contact"),
        };
        let (what, unit) = match self.what.as_str() {
            "T" => ("temperature", "°C"),
            "q" => ("flux", "W/m²"),
            "T_fluid" => ("fluid", "°C"),
            "T_mean" => ("mean of the wall", "°C"),
            other => panic!("{other}"),
        };
        format!("{what}{place} after {} s, {unit}", self.time)
    }
}

impl Case {
    pub fn problem(&self) -> Problem {
        let start = match self.geometry.as_str() {
            "plane" => Wall::planar(),
            "cylinder" => Wall::cylindrical(units::metres(self.inner)),
            "sphere" => Wall::spherical(units::metres(self.inner)),
            other => panic!("{other}"),
        };
        let mut builder = start;
        for (i, l) in self.layers.iter().enumerate() {
            if i > 0
                && let Some(r) = self.contacts.get(i - 1)
                && *r > 0.0
            {
                builder = builder.contact(Contact::Resistance(units::square_metre_kelvins_per_watt(*r)));
            }
            let material = Material::custom(
                &format!("layer-{}", i + 1),
                units::watts_per_metre_kelvin(l.conductivity),
                units::kilograms_per_cubic_metre(l.density),
                units::joules_per_kilogram_kelvin(l.heat_capacity),
            )
            .unwrap();
            builder = builder.layer(Layer::new(material, units::metres(l.thickness)).unwrap());
        }
        let wall = builder.build().unwrap();
        // Fluxes of the file point outward: into the wall at the left, out of it at the right.
        let (left, right) = (self.left.boundary(1.0), self.right.boundary(-1.0));
        Problem::new(wall, left, right).unwrap().starting_at(units::celsius(self.start)).unwrap()
    }

    /// How many layers the wall has.
    pub fn layers(&self) -> usize {
        self.layers.len()
    }

    /// Span of the temperatures given, K.
    pub fn swing(&self) -> f64 {
        let all: Vec<f64> =
            [&self.left, &self.right].iter().flat_map(|e| e.temperatures()).chain([self.start]).collect();
        let computed = self.values.iter().filter(|v| v.what.starts_with('T')).map(|v| v.value);
        let high = all.iter().copied().chain(computed.clone()).fold(f64::MIN, f64::max);
        let low = all.iter().copied().chain(computed).fold(f64::MAX, f64::min);
        high - low
    }

    /// Conductivity over thickness of the whole wall, W/(m² K): turns the swing into the scale of fluxes.
    pub fn conductance(&self) -> f64 {
        1.0 / self.layers.iter().map(|l| l.thickness / l.conductivity).sum::<f64>()
    }

    /// The times at which values are given, rising, without repetition.
    pub fn times(&self) -> Vec<f64> {
        let mut times: Vec<f64> = self.values.iter().map(|v| v.time).collect();
        times.sort_by(f64::total_cmp);
        times.dedup();
        times
    }

    /// The crate's value and error for one expected row, °C or W/m².
    pub fn answer(&self, transient: &Transient, expected: &Expected) -> Estimate<f64> {
        let k = self.times().iter().position(|t| *t == expected.time).unwrap();
        match expected.what.as_str() {
            "T" => {
                let x = expected.at.unwrap();
                let e = match expected.side.as_deref() {
                    None => transient.temperature(units::metres(x), k),
                    Some(side) => {
                        let mut face = self.inner;
                        let layer = self.layers.iter().position(|l| {
                            face += l.thickness;
                            (face - x).abs() < 1e-9
                        });
                        match side {
                            "left" => transient.face_temperature(layer.unwrap(), Side::Outer, k),
                            _ => transient.face_temperature(layer.unwrap() + 1, Side::Inner, k),
                        }
                    }
                };
                celsius(e.unwrap())
            }
            "q" => {
                let e = transient.flux(units::metres(expected.at.unwrap()), k).unwrap();
                Estimate {
                    value: e.value.si(),
                    error: e.error.si(),
                    mesh_error: e.mesh_error.si(),
                    time_error: e.time_error.si(),
                    order: e.order,
                }
            }
            "T_fluid" => {
                let side = if expected.end.as_deref() == Some("left") { Side::Inner } else { Side::Outer };
                celsius(transient.body_temperature(side, k).unwrap())
            }
            "T_mean" => celsius(transient.mean_temperature(k).unwrap()),
            other => panic!("{other}"),
        }
    }
}

fn celsius(e: Estimate<units::Temperature, units::TemperatureInterval>) -> Estimate<f64> {
    Estimate {
        value: e.value.si() - 273.15,
        error: e.error.si(),
        mesh_error: e.mesh_error.si(),
        time_error: e.time_error.si(),
        order: e.order,
    }
}

impl End {
    fn temperatures(&self) -> Vec<f64> {
        match self {
            End::Temperature { temperature } | End::Film { temperature, .. } => vec![*temperature],
            End::Flux { .. } | End::Insulated => Vec::new(),
            End::Body { temperature, loss_to, .. } => vec![*temperature, loss_to.unwrap_or(*temperature)],
        }
    }

    fn boundary(&self, outward: f64) -> Boundary {
        match self {
            End::Temperature { temperature } => Boundary::temperature(units::celsius(*temperature)),
            End::Flux { flux } => Boundary::flux(units::watts_per_square_metre(outward * flux)),
            End::Film { film, temperature } => {
                Boundary::film(units::watts_per_square_metre_kelvin(*film), units::celsius(*temperature))
            }
            End::Insulated => Boundary::Insulated,
            End::Body { capacity, temperature, film, loss, loss_to } => {
                let mut body = Body::new(units::joules_per_kelvin(*capacity), units::celsius(*temperature));
                if let Some(h) = film {
                    body = body.behind_film(units::watts_per_square_metre_kelvin(*h));
                }
                if let (Some(g), Some(t)) = (loss, loss_to) {
                    body = body.losing(units::watts_per_kelvin(*g), units::celsius(*t));
                }
                Boundary::Body(body)
            }
        }
    }
}
