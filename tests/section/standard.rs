//! Sections of a standard and of textbooks, with what is known of them; sources beside each.

use super::cases::{at, fill};
use std::f64::consts::PI;
use stillhot::conduction::{SectionProblem, SectionSource, SteadySection};
use stillhot::units::{
    Angle, Si, celsius, degrees, metres, watts_per_cubic_metre, watts_per_square_metre, watts_per_square_metre_kelvin,
};
use stillhot::{Boundary, Grading, Line, Point, Section, SectionBuilder, Shape};

pub fn film(h: f64, t: f64) -> Boundary {
    Boundary::film(watts_per_square_metre_kelvin(h), celsius(t))
}

pub fn held(t: f64) -> Boundary {
    Boundary::temperature(celsius(t))
}

/// A rectangle with its sides as parts.
pub fn rectangle(x: f64, y: f64, k: f64) -> Section {
    sides(Section::plane(at(0.0, 0.0), at(x, y)).background(fill("stuff", [k, k], 1000.0, 4000.0)), x, y)
}

pub fn sides(section: SectionBuilder, x: f64, y: f64) -> Section {
    let line = |a: [f64; 2], b: [f64; 2]| [Line::straight(at(a[0], a[1]), at(b[0], b[1]))];
    let about_axis = section.clone().build().unwrap().is_about_axis();
    let section = section
        .part("right", &line([x, 0.0], [x, y]))
        .part("bottom", &line([0.0, 0.0], [x, 0.0]))
        .part("top", &line([0.0, y], [x, y]));
    if about_axis { section } else { section.part("left", &line([0.0, 0.0], [0.0, y])) }.build().unwrap()
}

/// Sum of the series of a rectangle of half width `l` with a mirror on the right: `hot` at y = 0, nothing at x = 0 and at
/// y = `h`, or a mirror there. Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, ch. V (MEMORY).
pub fn series(x: f64, y: f64, l: f64, h: f64, hot: f64, mirror: bool) -> f64 {
    (0..4000)
        .map(|n| {
            let b = (f64::from(n) + 0.5) * PI / l;
            // cosh or sinh of b (h - y) over that of b h, without overflow.
            let sign = if mirror { 1.0 } else { -1.0 };
            let fall = (-b * y).exp() * (1.0 + sign * (-2.0 * b * (h - y)).exp()) / (1.0 + sign * (-2.0 * b * h).exp());
            2.0 * hot / (b * l) * (b * x).sin() * fall
        })
        .sum()
}

/// ISO 10211:2017 annex C, case 1: half a square column (READ: geometry and criterion of 0.1 K; MEMORY: its 28
/// temperatures, which the series gives to the digit printed). The standard counts from the warm face.
pub fn column() -> SectionProblem {
    SectionProblem::new(rectangle(1.0, 2.0, 1.0))
        .with("top", held(20.0))
        .unwrap()
        .with("bottom", held(0.0))
        .unwrap()
        .with("left", held(0.0))
        .unwrap()
}

/// Its temperatures as printed, °C: every 0.25 m down from the warm face, across from the side.
pub const COLUMN: [[f64; 4]; 7] = [
    [9.7, 13.4, 14.7, 15.1],
    [5.3, 8.6, 10.3, 10.8],
    [3.2, 5.6, 7.0, 7.5],
    [2.0, 3.6, 4.7, 5.0],
    [1.3, 2.3, 3.0, 3.2],
    [0.7, 1.4, 1.8, 1.9],
    [0.3, 0.6, 0.8, 0.9],
];

/// So many equal cells between each two lines: heat through a jump of the boundary temperature has no limit, so that only
/// the mesh asked for counts.
pub fn steady_on_equal(problem: &SectionProblem, cells: usize) -> SteadySection {
    let lines = problem.lines();
    let cells = [0, 1].map(|axis| vec![cells; lines[axis].len() - 1]);
    problem.steady_on([&cells[0], &cells[1]]).unwrap()
}

pub fn millimetre_point(x: f64, y: f64) -> Point {
    at(1e-3 * x, 1e-3 * y)
}

/// ISO 10211:2017 annex C, case 2. READ: conductivities, films, nine temperatures, 9.5 W/m and the tolerances in the
/// verification suite of a public general finite-element library; MEMORY: 9.49 W/m as its finer value.
pub fn sandwich() -> SectionProblem {
    let mm = millimetre_point;
    let k = |id: &str, k: f64| fill(id, [k, k], 1000.0, 1000.0);
    let aluminium = || k("aluminium", 230.0);
    let section = Section::plane(mm(0.0, 0.0), mm(500.0, 47.5))
        .background(k("insulation", 0.029))
        .lay(Shape::rectangle(mm(0.0, 41.5), mm(500.0, 47.5)), k("concrete", 1.15))
        .lay(Shape::rectangle(mm(0.0, 36.5), mm(15.0, 41.5)), k("wood", 0.12))
        .lay(Shape::rectangle(mm(0.0, 0.0), mm(500.0, 1.5)), aluminium())
        .lay(Shape::rectangle(mm(0.0, 1.5), mm(1.5, 36.5)), aluminium())
        .lay(Shape::rectangle(mm(1.5, 35.0), mm(15.0, 36.5)), aluminium())
        .part("top", &[Line::straight(mm(0.0, 47.5), mm(500.0, 47.5))])
        .part("bottom", &[Line::straight(mm(0.0, 0.0), mm(500.0, 0.0))])
        .build()
        .unwrap();
    SectionProblem::new(section)
        .with("top", film(1.0 / 0.06, 0.0))
        .unwrap()
        .with("bottom", film(1.0 / 0.11, 20.0))
        .unwrap()
}

/// Its temperatures as printed: x and y in mm, °C.
pub const SANDWICH: [(f64, f64, f64); 9] = [
    (0.0, 47.5, 7.1),
    (500.0, 47.5, 0.8),
    (0.0, 41.5, 7.9),
    (15.0, 41.5, 6.3),
    (500.0, 41.5, 0.8),
    (0.0, 36.5, 16.4),
    (15.0, 36.5, 16.3),
    (0.0, 0.0, 16.8),
    (500.0, 0.0, 18.3),
];

/// The edge of two equal walls, one thick and five wide inside, from 1 to 0 °C, k = 1.
pub fn edge() -> SectionProblem {
    let section = Section::plane(at(-1.0, -1.0), at(5.0, 5.0))
        .background(fill("stuff", [1.0, 1.0], 1000.0, 1000.0))
        .hole(Shape::rectangle(at(0.0, 0.0), at(5.0, 5.0)))
        .part("inside", &[Line::straight(at(0.0, 0.0), at(0.0, 5.0)), Line::straight(at(0.0, 0.0), at(5.0, 0.0))])
        .part(
            "outside",
            &[Line::straight(at(-1.0, -1.0), at(-1.0, 5.0)), Line::straight(at(-1.0, -1.0), at(5.0, -1.0))],
        )
        .build()
        .unwrap();
    SectionProblem::new(section).with("inside", held(1.0)).unwrap().with("outside", held(0.0)).unwrap()
}

/// What an edge passes beyond its two faces, over conductivity and length: by conformal mapping (COMPUTED); the book value
/// 0.54 is rounded.
pub fn edge_factor() -> f64 {
    1.0 - 2.0 / PI * 2.0_f64.ln()
}

/// A temperature that is made so by its source: 30 °C + 10 K exp(-t/100 s) cos(πx) cos(πy) in an insulated unit square.
pub fn made(x: f64, y: f64, t: f64) -> f64 {
    30.0 + 10.0 * (-t / 100.0).exp() * (PI * x).cos() * (PI * y).cos()
}

/// The problem that belongs to it, with k = 0.7 W/(m K) and rho c = 130 J/(m³ K).
pub fn made_problem() -> SectionProblem {
    let (k, capacity) = (0.7, 130.0);
    let stuff = fill("stuff", [k, k], 1.0, capacity);
    let source = SectionSource::field(move |[x, y], t| {
        watts_per_cubic_metre((2.0 * PI * PI * k - capacity / 100.0) * (made(x.si(), y.si(), t.si()) - 30.0))
    });
    SectionProblem::new(Section::plane(at(0.0, 0.0), at(1.0, 1.0)).background(stuff).build().unwrap())
        .with_source(source)
        .unwrap()
        .starting_from(|[x, y]| celsius(made(x.si(), y.si(), 0.0)))
}

/// A temperature that is made so by its source, °C, in a unit square whose conductivity is 1 + xy/2 W/(m K) and whose heat
/// capacity is 1 + x/4 J/(m³ K): t in s.
pub fn made_graded(x: f64, y: f64, t: f64) -> f64 {
    30.0 + 10.0 * (-t).exp() * (PI * x).cos() * (PI * y).cos() + 5.0 * x * y
}

/// Its conductivity, W/(m K), and heat capacity, J/(m³ K).
pub fn grade(x: f64, y: f64) -> [f64; 2] {
    [1.0 + x * y / 2.0, 1.0 + x / 4.0]
}

/// The heat that makes it so, W/m³: rho c dT/dt less the divergence of k grad T.
pub fn graded_source(x: f64, y: f64, t: f64) -> f64 {
    let e = (-t).exp();
    let ((sx, cx), (sy, cy)) = ((PI * x).sin_cos(), (PI * y).sin_cos());
    let [k, capacity] = grade(x, y);
    // grad k = (y/2, x/2); grad T = (-10 pi e sx cy + 5 y, -10 pi e cx sy + 5 x); the Laplacian is -20 pi² e cx cy.
    let along = 0.5 * y * (5.0 * y - 10.0 * PI * e * sx * cy) + 0.5 * x * (5.0 * x - 10.0 * PI * e * cx * sy);
    -10.0 * capacity * e * cx * cy + 20.0 * PI * PI * k * e * cx * cy - along
}

/// The problem that belongs to it: through each side comes what the slope of that temperature brings.
pub fn graded_problem() -> SectionProblem {
    let grading =
        Grading::new(|[x, y]: Point| grade(x.si(), y.si())[0], |[x, y]: Point| grade(x.si(), y.si())[1] / 100.0);
    // 1 W/(m K) and 100 J/(m³ K), the rest by grading.
    let stuff = fill("stuff", [1.0, 1.0], 1.0, 100.0).graded(grading);
    let corners = [at(0.0, 0.0), at(1.0, 0.0), at(1.0, 1.0), at(0.0, 1.0)];
    let side = |k: usize| [Line::straight(corners[k], corners[(k + 1) % 4])];
    let section = Section::plane(corners[0], corners[2]).background(stuff);
    let section = section.part("bottom", &side(0)).part("right", &side(1)).part("top", &side(2)).part("left", &side(3));
    // The cosines are level there: only 5 xy has a slope across a side.
    let through = |name: &'static str, slope: fn(f64, f64) -> f64| {
        SectionSource::at_surface(name, move |[x, y], _| {
            watts_per_square_metre(grade(x.si(), y.si())[0] * slope(x.si(), y.si()))
        })
    };
    let mut problem = SectionProblem::new(section.build().unwrap());
    for source in [
        through("bottom", |x, _| -5.0 * x),
        through("right", |_, y| 5.0 * y),
        through("top", |x, _| 5.0 * x),
        through("left", |_, y| -5.0 * y),
        SectionSource::field(|[x, y], t| watts_per_cubic_metre(graded_source(x.si(), y.si(), t.si()))),
    ] {
        problem = problem.with_source(source).unwrap();
    }
    problem.starting_from(|[x, y]| celsius(made_graded(x.si(), y.si(), 0.0)))
}

/// Depth of the axis and radius of a pipe in the ground, m, 75 °C in ground of 5 °C at its surface, 0.8 W/(m K).
pub const BURIED: [f64; 2] = [0.2, 0.075];

/// What such a pipe passes per metre and kelvin over the conductivity: exact.
pub fn buried_shape_factor() -> f64 {
    2.0 * PI / (BURIED[0] / BURIED[1]).acosh()
}

/// A quarter of its heat. The field is that of a line and its image, at a depth and height of a = √(D² - r²): lines of flow
/// are circles through both, and the one about the foot of the pipe, of radius a, bounds half of the heat. So ground without
/// end is not needed: this piece ends in that line of flow, in that of symmetry, in the pipe and in the surface.
pub fn buried_problem() -> SectionProblem {
    let [depth, radius] = BURIED;
    let a = (depth * depth - radius * radius).sqrt();
    let (foot, corner) = (at(0.0, 0.0), at(a, a));
    let section = Section::plane(foot, corner)
        .hole(Shape::rectangle(foot, corner))
        .lay(Shape::disc(foot, metres(a)).within(foot, corner), fill("ground", [0.8, 0.8], 1500.0, 1000.0))
        .hole(Shape::disc(at(0.0, depth), metres(radius)).within(foot, corner))
        .part(
            "pipe",
            &[Line::arc(at(0.0, depth), metres(radius), degrees(-90.0), Angle::from_si(-(radius / a).atan()))],
        )
        .part("surface", &[Line::straight(foot, at(a, 0.0))])
        .build()
        .unwrap();
    SectionProblem::new(section).with("pipe", held(75.0)).unwrap().with("surface", held(5.0)).unwrap()
}
