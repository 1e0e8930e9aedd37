//! The order with which heat flow converges, before anything rests on it.

use super::section_assembly::Meeting;
use super::section_grid::GridPlan;
use super::section_patch::{FilmLaw, Meetings, SectionPatch};
use super::section_vertex::Surroundings;
use super::wall_patch::LayerLaws;
use crate::material::Material;
use crate::numeric::sparse::{Pattern, SparseFactor, Symbolic};
use crate::units::{
    Si, joules_per_kilogram_kelvin, kilograms_per_cubic_metre, metres, watts_per_metre_kelvin,
};
use crate::wall::{Fill, Line, Point, Section, Shape};
use std::sync::Arc;

fn at(x: f64, y: f64) -> Point {
    [metres(x), metres(y)]
}

fn stuff(id: &str, k: f64) -> Fill {
    Material::custom(
        id,
        watts_per_metre_kelvin(k),
        kilograms_per_cubic_metre(30.0),
        joules_per_kilogram_kelvin(1450.0),
    )
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
    let patch =
        SectionPatch::new(section, &plan, parts, &meetings, |fill| LayerLaws::of(fill.material())).unwrap();
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
fn edge(filler: Option<(f64, f64, f64)>, film: bool) -> Section {
    let (t, l) = (1.0, 4.0);
    let mut section = Section::plane(at(-t, -t), at(l, l))
        .background(stuff("wall", 1.0))
        .hole(Shape::rectangle(at(0.0, 0.0), at(l, l)));
    let mut inside = vec![
        Line::straight(at(0.0, l), at(0.0, 0.0)),
        Line::straight(at(0.0, 0.0), at(l, 0.0)),
    ];
    if let Some((a, b, k)) = filler {
        section = section.lay(Shape::polygon(&[at(0.0, 0.0), at(a, 0.0), at(0.0, b)]), stuff("filler", k));
        inside = vec![
            Line::straight(at(0.0, l), at(0.0, b)),
            Line::straight(at(0.0, b), at(a, 0.0)),
            Line::straight(at(a, 0.0), at(l, 0.0)),
        ];
    }
    let _ = film;
    section
        .part("inside", &inside)
        .part("outside", &[Line::straight(at(-t, -t), at(l, -t)), Line::straight(at(-t, -t), at(-t, l))])
        .build()
        .unwrap()
}

fn table(name: &str, section: &Section, films: [Option<f64>; 2]) -> Vec<f64> {
    let values: Vec<(f64, f64, usize)> = [1, 2, 4, 8, 16].iter().map(|p| heat(section, 8, *p, films)).collect();
    let v: Vec<f64> = values.iter().map(|v| v.0).collect();
    let mut orders = Vec::new();
    for k in 0..3 {
        orders.push(((v[k] - v[k + 1]) / (v[k + 1] - v[k + 2])).log2());
    }
    let limit = v[4] - (v[3] - v[4]) / 3.0;
    assert!(values.iter().all(|v| v.1 >= 0.0), "{name}: a negative conductance {:?}", values);
    let text: Vec<String> = values.iter().map(|(v, _, n)| format!("{n}: {:.2e}", v / limit - 1.0)).collect();
    std::io::Write::write_fmt(&mut std::io::stderr(), format_args!("{name}: {limit:.9} {text:?} orders {orders:.3?}\n")).unwrap();
    orders
}

#[test]
fn heat_flow_converges_with_second_order() {
    let exact = 2.0 * 4.0 + 1.0 - 2.0 / std::f64::consts::PI * 2.0_f64.ln();
    let plain = edge(None, false);
    table("edge, surfaces held", &plain, [None, None]);
    let (h, _, _) = heat(&plain, 8, 16, [None, None]);
    std::io::Write::write_fmt(&mut std::io::stderr(), format_args!("exact {exact:.9} got {h:.9}\n")).unwrap();
    table("edge, films", &plain, [Some(2.0), Some(2.0)]);
    for k in [0.5, 2.0, 0.05, 20.0] {
        let section = edge(Some((1.0, 1.0, k)), true);
        table(&format!("filler {k}, films"), &section, [Some(2.0), Some(2.0)]);
        table(&format!("filler {k}, held"), &section, [None, None]);
    }
    let section = edge(Some((0.6, 1.3, 3.0)), true);
    table("filler of unequal legs, films", &section, [Some(2.0), Some(2.0)]);
}
