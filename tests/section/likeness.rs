//! Walls as sections, mirrored sections and sections with their axes exchanged give the same answers.

use super::cases::{at, fill};
use stillhot::conduction::{Accuracy, Problem, SectionAccuracy, SectionProblem};
use stillhot::units::{Si, celsius, metres, millimetres, seconds, watts_per_square_metre_kelvin};
use stillhot::{Boundary, Contact, Fill, Layer, Line, Point, Section, Shape, Wall};

fn film(h: f64, t: f64) -> Boundary {
    Boundary::film(watts_per_square_metre_kelvin(h), celsius(t))
}

/// How a point of the plain section is turned.
type Turn = fn(f64, f64) -> Point;

const TURNS: [(&str, Turn); 4] = [
    ("as it is", |x, y| at(x, y)),
    ("mirrored", |x, y| at(-x, y)),
    ("upside down", |x, y| at(x, -y)),
    ("axes exchanged", |x, y| at(y, x)),
];

/// An edge with a filler of unequal legs, grain in one wall, a contact.
fn edge(turn: Turn, exchanged: bool) -> Section {
    let grain = |x: f64, y: f64| fill("wood", if exchanged { [y, x] } else { [x, y] }, 460.0, 1650.0);
    let lines = |points: &[(f64, f64)]| -> Vec<Line> {
        points.windows(2).map(|w| Line::straight(turn(w[0].0, w[0].1), turn(w[1].0, w[1].1))).collect()
    };
    Section::plane(turn(-0.05, -0.06), turn(0.2, 0.18))
        .background(grain(0.24, 0.12))
        .lay(Shape::rectangle(turn(-0.02, -0.03), turn(0.2, 0.18)), fill("foam", [0.024, 0.024], 30.0, 1400.0))
        .hole(Shape::rectangle(turn(0.0, 0.0), turn(0.2, 0.18)))
        .lay(
            Shape::polygon(&[turn(0.0, 0.0), turn(0.03, 0.0), turn(0.0, 0.05)]),
            fill("mat", [0.04, 0.04], 45.0, 1400.0),
        )
        .contact("joint", &lines(&[(-0.02, 0.18), (-0.02, -0.03)]), Contact::Gap(millimetres(1.0)))
        .part("inside", &lines(&[(0.0, 0.18), (0.0, 0.05), (0.03, 0.0), (0.2, 0.0)]))
        .part("outside", &lines(&[(-0.05, 0.18), (-0.05, -0.06), (0.2, -0.06)]))
        .build()
        .unwrap()
}

#[test]
fn turned_sections_give_the_same_answers() {
    let points = [(-0.01, 0.1), (-0.035, -0.04), (0.006, 0.008), (0.1, -0.02), (0.0, 0.0)];
    let solve = |turn: Turn, exchanged: bool| {
        let problem = SectionProblem::new(edge(turn, exchanged))
            .with("inside", film(8.0, 95.0))
            .unwrap()
            .with("outside", film(10.0, 10.0))
            .unwrap();
        let steady = problem.steady(&SectionAccuracy::default()).unwrap();
        let transient = problem.march(&[seconds(3000.0)], &SectionAccuracy::default()).unwrap();
        let mut answers = vec![("heat", steady.heat("inside").unwrap().value, 20.0)];
        for (x, y) in points {
            answers.push(("steady", steady.temperature(turn(x, y)).unwrap().value.si(), 85.0));
            answers.push(("in time", transient.temperature(turn(x, y), 0).unwrap().value.si(), 85.0));
        }
        for e in steady.surface("inside").unwrap() {
            answers.push(("surface", e.value.si(), 85.0));
        }
        answers
    };
    let plain = solve(TURNS[0].1, false);
    for (name, turn) in &TURNS[1..] {
        let turned = solve(*turn, *name == "axes exchanged");
        for ((what, a, scale), (_, b, _)) in plain.iter().zip(&turned) {
            assert!((a - b).abs() < 1e-9 * scale, "{name}: {what} {a} {b}");
        }
    }
}

#[test]
fn walls_of_layers_are_the_same_as_sections() {
    let layers = [("ply", 0.12, 560.0, 0.009), ("foam", 0.024, 32.0, 0.04), ("mat", 0.04, 45.0, 0.02)];
    let contact = Contact::Gap(millimetres(0.5));
    let filled = |i: usize| {
        let (id, k, rho, _) = layers[i];
        fill(id, [k, k], rho, 1500.0)
    };
    let times = [seconds(300.0), seconds(5000.0)];
    // Flat, round about the axis with layers one around the other, and discs one above the other.
    for (name, inner) in [("flat", 0.0), ("round", 0.09), ("solid", 0.0), ("discs", 0.0)] {
        let mut wall = match name {
            "round" => Wall::cylindrical(metres(inner)),
            "solid" => Wall::cylindrical(metres(0.0)),
            _ => Wall::planar(),
        };
        let thickness: f64 = layers.iter().map(|l| l.3).sum();
        let high = 0.05;
        let along = name == "discs";
        let p = |depth: f64, across: f64| if along { at(across, depth) } else { at(depth, across) };
        let (from, to) = (p(inner, 0.0), p(inner + thickness, high));
        let mut section = if name == "flat" { Section::plane(from, to) } else { Section::about_axis(from, to) };
        let mut depth = inner;
        for (i, layer) in layers.iter().enumerate() {
            let stuff: Fill = filled(i);
            wall = wall.layer(Layer::new(stuff.material().clone(), metres(layer.3)).unwrap());
            section = section.lay(Shape::rectangle(p(depth, 0.0), p(depth + layer.3, high)), stuff);
            depth += layer.3;
            if i == 0 {
                wall = wall.contact(contact);
                section = section.contact("joint", &[Line::straight(p(depth, 0.0), p(depth, high))], contact);
            }
        }
        let wall = wall.build().unwrap();
        let outside = [Line::straight(p(inner + thickness, 0.0), p(inner + thickness, high))];
        let inside = [Line::straight(p(inner, 0.0), p(inner, high))];
        section = section.part("outside", &outside);
        let solid = name == "solid";
        if !solid {
            section = section.part("inside", &inside);
        }
        let mut problem = SectionProblem::new(section.build().unwrap()).with("outside", film(8.0, 10.0)).unwrap();
        let inner_boundary = if solid { Boundary::Insulated } else { film(20.0, 95.0) };
        if !solid {
            problem = problem.with("inside", inner_boundary.clone()).unwrap();
        }
        let plain = Problem::new(wall, inner_boundary, film(8.0, 10.0)).unwrap();
        let cells: [&[usize]; 2] = if along { [&[3], &[3, 8, 5]] } else { [&[3, 8, 5], &[3]] };
        let a = problem.march_on(&times, cells, &SectionAccuracy::relative(1e-3)).unwrap();
        let b = plain.march_on(&times, &[3, 8, 5], &Accuracy::relative(1e-3)).unwrap();
        for k in 0..times.len() {
            // Nodes of the coarsest mesh on faces and in between.
            for deep in [0.009 / 3.0, 0.014, 0.029, 0.049, 0.069] {
                let place = inner + deep;
                let in_section = a.temperature(p(place, 0.02), k).unwrap().value.si();
                let in_wall = b.temperature(metres(place), k).unwrap().value.si();
                let swing = 85.0;
                assert!((in_section - in_wall).abs() < 1e-9 * swing, "{name} {place} {k}: {in_section} {in_wall}");
            }
        }
    }
}
