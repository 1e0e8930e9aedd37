//! The order with which heat flow converges, before anything rests on it.

use super::section_assembly::Meeting;
use super::section_grid::GridPlan;
use super::section_patch::{FilmLaw, Meetings, SectionPatch};
use super::section_vertex::Surroundings;
use super::wall_patch::LayerLaws;
use crate::material::Material;
use crate::numeric::sparse::{Pattern, SparseFactor, Symbolic};
use crate::units::{Si, joules_per_kilogram_kelvin, kilograms_per_cubic_metre, metres, watts_per_metre_kelvin};
use crate::wall::{Fill, Line, Point, Section, Shape};
use std::sync::Arc;

fn at(x: f64, y: f64) -> Point {
    [metres(x), metres(y)]
}

fn stuff(id: &str, k: f64) -> Fill {
    Material::custom(id, watts_per_metre_kelvin(k), kilograms_per_cubic_metre(30.0), joules_per_kilogram_kelvin(1450.0))
        .unwrap()
        .into()
}

/// Heat from the first part at one kelvin to the second at zero, W/K per extent; smallest conductance; unknowns.
fn heat(section: &Section, cells: usize, parts: usize, films: [Option<f64>; 2]) -> (f64, f64, usize) {
    let conductivity: Vec<f64> = section.fills().iter().map(|f| f.material().conductivity().value().si()).collect();
    let surroundings = Surroundings { conductivity: &conductivity, held: &films.map(|f| f.is_none()) };
    let plan = GridPlan::new(&[(section.layout(), surroundings)], cells);
    let mut meetings = Meetings { ports: 2, ..Meetings::default() };
    for (port, film) in films.into_iter().enumerate() {
        meetings.of_part.push(vec![match film {
            None => Meeting::Held { port },
            Some(_) => Meeting::Film { port, law: meetings.laws.len() },
        }]);
        meetings.laws.extend(film.map(FilmLaw::Constant));
    }
    let patch = SectionPatch::new(section, &plan, parts, &meetings, |fill| LayerLaws::of(fill.material())).unwrap();
    let physics = patch.physics();
    let a = &physics.assembly;
    let m = a.interior;
    let mut diagonal = vec![0.0; m];
    let (mut pairs, mut values) = (Vec::new(), Vec::new());
    let mut rhs = vec![0.0; m];
    let mut to_first = Vec::new();
    let mut least = f64::INFINITY;
    let mut bridge = 0.0;
    for (k, [u, v]) in a.pairs.iter().map(|p| p.map(|u| u as usize)).enumerate() {
        let g = physics.conductance(k, 300.0, 300.0);
        least = least.min(g);
        if u >= m {
            bridge += g;
            continue;
        }
        diagonal[u] += g;
        if v >= m {
            if v == m {
                rhs[u] += g;
                to_first.push((u, g));
            }
        } else {
            diagonal[v] += g;
            pairs.push((u, v));
            values.push(-g);
        }
    }
    let (pattern, entry) = Pattern::new(m, &pairs).unwrap();
    let mut below = vec![0.0; pattern.entries()];
    for (e, v) in entry.iter().zip(&values) {
        below[*e] += v;
    }
    let symbolic = Symbolic::analyse(&pattern, &a.position).unwrap();
    let mut factor = SparseFactor::new(Arc::new(symbolic));
    assert!(factor.renew(&diagonal, &below, 1.0));
    factor.solve(&mut rhs);
    (to_first.iter().map(|(u, g)| g * (1.0 - rhs[*u])).sum::<f64>() + bridge, least, m)
}

/// An edge of two walls of one material, with a filler of another in its inner corner.
fn edge(filler: Option<(f64, f64, f64)>) -> Section {
    let (t, l) = (1.0, 4.0);
    let mut section = Section::plane(at(-t, -t), at(l, l))
        .background(stuff("wall", 1.0))
        .hole(Shape::rectangle(at(0.0, 0.0), at(l, l)));
    let mut inside = vec![Line::straight(at(0.0, l), at(0.0, 0.0)), Line::straight(at(0.0, 0.0), at(l, 0.0))];
    if let Some((a, b, k)) = filler {
        section = section.lay(Shape::polygon(&[at(0.0, 0.0), at(a, 0.0), at(0.0, b)]), stuff("filler", k));
        inside = vec![
            Line::straight(at(0.0, l), at(0.0, b)),
            Line::straight(at(0.0, b), at(a, 0.0)),
            Line::straight(at(a, 0.0), at(l, 0.0)),
        ];
    }
    section
        .part("inside", &inside)
        .part("outside", &[Line::straight(at(-t, -t), at(l, -t)), Line::straight(at(-t, -t), at(-t, l))])
        .build()
        .unwrap()
}

/// Heat on meshes of 8, 16, ... cells along a side, and the orders that three in a row show.
fn orders(name: &str, section: &Section, films: [Option<f64>; 2]) -> ([f64; 5], [f64; 3]) {
    let values = [1, 2, 4, 8, 16].map(|parts| heat(section, 8, parts, films));
    assert!(values.iter().all(|(_, least, _)| *least >= 0.0), "{name}: a negative conductance in {values:?}");
    let v = values.map(|(heat, ..)| heat);
    (v, [0, 1, 2].map(|k| ((v[k] - v[k + 1]) / (v[k + 1] - v[k + 2])).log2()))
}

#[test]
fn heat_flow_of_edges_and_fillers_converges_with_second_order() {
    let films = [Some(2.0), Some(2.0)];
    let mut found = Vec::new();
    for (name, filler) in [
        ("no filler", None),
        ("filler of half the conductivity", Some((1.0, 1.0, 0.5))),
        ("filler of twice the conductivity", Some((1.0, 1.0, 2.0))),
        ("filler of a twentieth of the conductivity", Some((1.0, 1.0, 0.05))),
        ("filler of twenty times the conductivity", Some((1.0, 1.0, 20.0))),
        ("filler of unequal legs", Some((0.6, 1.3, 3.0))),
    ] {
        let section = edge(filler);
        for (kind, films) in [("films", films), ("surfaces held", [None; 2])] {
            let (values, orders) = orders(name, &section, films);
            found.push(format!("{name}, {kind}: {orders:.3?}"));
            assert!(orders[2] >= 1.8, "{}", found.join("\n"));
            if filler.is_none() && films == [None; 2] {
                // Two faces four wide and one thick, and the exact share of the edge (conformal mapping, COMPUTED).
                let exact = 8.0 + 1.0 - 2.0 / std::f64::consts::PI * 2.0_f64.ln();
                let limit = values[4] - (values[3] - values[4]) / 3.0;
                assert!((limit / exact - 1.0).abs() < 2e-6, "{limit} {exact}");
            }
        }
    }
    assert_eq!(found.len(), 12);
}
