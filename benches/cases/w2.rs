//! W2 and W3: a stirred pot in the quarter cross-section of a box with a filled corner, six hours or settled.
//!
//! [0, 0.2181]² m, one metre deep, the four layers of W1 round the cavity x, y < 0.15 with its contact outside the first.
//! Where (0.15 - x) + (0.15 - y) < 0.04 in the middle of a cell of the grid the corner is filled with the foam of the first
//! layer: a staircase of rectangles. Film 10 W/(m² K) inside, over √2 on the staircase (so that it passes what the
//! straight face would), 8 outside to 15 °C; the wall starts at 20 °C, the pot of 60 kJ/K at 98 °C, where W3 holds it.

use super::w1::{CONTACT, LAYERS};
use stillhot::conduction::SectionProblem;
use stillhot::units::{
    Si, Time, celsius, hours, joules_per_kelvin, joules_per_kilogram_kelvin, kilograms_per_cubic_metre, metres,
    square_metre_kelvins_per_watt, watts_per_metre_kelvin, watts_per_square_metre_kelvin,
};
use stillhot::{Body, Boundary, Contact, Error, Line, Material, Point, Section, Shape};

const CAVITY: f64 = 0.15;
const FILLER: f64 = 0.04;

/// Pot temperature after 1 to 6 h, °C, by cells along a side. COMPUTED, no printed source: another program, with the
/// unknowns in the middle of the cells, converged in time.
pub const HOURLY: [(usize, [f64; 6]); 3] = [
    (100, [96.963_448_93, 96.392_779_73, 95.833_988_43, 95.279_561_08, 94.728_976_55, 94.182_171_26]),
    (200, [96.963_565_74, 96.393_286_03, 95.834_940_62, 95.280_959_30, 94.730_815_28, 94.184_444_45]),
    (400, [96.963_658_20, 96.393_575_49, 95.835_458_46, 95.281_705_89, 94.731_787_81, 94.185_639_82]),
];

/// Heat of W3 on 400 cells a side, W. COMPUTED as above.
pub const SETTLED: f64 = 9.570_207_48;

/// What the pot temperature may err, K.
pub const TARGET: f64 = 1e-2;

/// W2 on the staircase of a grid of `side` cells (100, 200, 400) along a side: the pot behind `pot` and, with another film,
/// behind `filler`.
pub fn problem(side: usize) -> Result<SectionProblem, Error> {
    let film = watts_per_square_metre_kelvin;
    let body = Body::new(joules_per_kelvin(60_000.0), celsius(98.0)).behind_film(film(10.0));
    laid_out(side)?.with("pot", Boundary::Body(body))?.with_body_of("pot", "filler", film(10.0 / 2.0_f64.sqrt()))
}

/// W3: the pot held at 98 °C.
pub fn settled(side: usize) -> Result<SectionProblem, Error> {
    let film = |h: f64| Boundary::film(watts_per_square_metre_kelvin(h), celsius(98.0));
    laid_out(side)?.with("pot", film(10.0))?.with("filler", film(10.0 / 2.0_f64.sqrt()))
}

fn laid_out(side: usize) -> Result<SectionProblem, Error> {
    let at = |x: f64, y: f64| -> Point { [metres(x), metres(y)] };
    let mut faces = vec![CAVITY];
    let mut fills = Vec::new();
    for (name, thickness, conductivity, density, heat_capacity) in LAYERS {
        faces.push(faces[faces.len() - 1] + 1e-3 * thickness);
        fills.push(Material::custom(
            name,
            watts_per_metre_kelvin(conductivity),
            kilograms_per_cubic_metre(density),
            joules_per_kilogram_kelvin(heat_capacity),
        )?);
    }
    let end = faces[faces.len() - 1];
    let mut section = Section::plane(at(0.0, 0.0), at(end, end));
    for (fill, face) in fills.iter().zip(&faces[1..]).rev() {
        section = section.lay(Shape::rectangle(at(0.0, 0.0), at(*face, *face)), fill.clone());
    }
    // Steps of one cell: `steps` of them span the legs of the filler, its column k reaches k cells down.
    let steps = 3 * side / 10;
    let line = |k: usize| CAVITY - FILLER * (steps - k) as f64 / steps as f64;
    let down = |k: usize| line(steps - k);
    let mut corners = vec![at(CAVITY, CAVITY)];
    let mut stairs = Vec::new();
    for k in 1..steps {
        let (left, right) = (line(k), line(k + 1));
        corners.extend([at(left, down(k - 1)), at(left, down(k))]);
        stairs.push(Line::straight(at(left, down(k - 1)), at(left, down(k))));
        stairs.push(Line::straight(at(left, down(k)), at(right, down(k))));
    }
    corners.push(at(CAVITY, down(steps - 1)));
    let contact = Contact::Resistance(square_metre_kelvins_per_watt(CONTACT));
    let angle =
        |face: f64| [Line::straight(at(0.0, face), at(face, face)), Line::straight(at(face, face), at(face, 0.0))];
    let straight = [
        Line::straight(at(0.0, CAVITY), at(line(1), CAVITY)),
        Line::straight(at(CAVITY, down(steps - 1)), at(CAVITY, 0.0)),
    ];
    let section = section
        .hole(Shape::rectangle(at(0.0, 0.0), at(CAVITY, CAVITY)))
        .lay(Shape::polygon(&corners), fills[0].clone())
        .contact("joint", &angle(faces[1]), contact)
        .part("pot", &straight)
        .part("filler", &stairs)
        .part("room", &angle(end))
        .build()?;
    SectionProblem::new(section)
        .with("room", Boundary::film(watts_per_square_metre_kelvin(8.0), celsius(15.0)))?
        .starting_at(celsius(20.0))
}

/// Cells between the lines of the section as on the stated grid: 20 : 30 : 12 : 24 : 12 : 2 on 0 to 0.11 m, the filler and
/// the layers. Nodes lie on the corners of its cells.
pub fn cells(problem: &SectionProblem, side: usize) -> [Vec<usize>; 2] {
    let per_metre = |x: f64| {
        let stretches = [
            (CAVITY - FILLER, 20.0, 0.11),
            (CAVITY, 30.0, FILLER),
            (0.159, 12.0, 0.009),
            (0.209, 24.0, 0.05),
            (0.218, 12.0, 0.009),
        ];
        let (_, cells, length) = stretches.into_iter().find(|(to, ..)| x < *to).unwrap_or((1.0, 2.0, 0.0001));
        cells * side as f64 / 100.0 / length
    };
    problem.lines().map(|lines| {
        let between = lines.windows(2).map(|w| (w[0].si(), w[1].si()));
        between.map(|(a, b)| ((b - a) * per_metre(0.5 * (a + b))).round().max(1.0) as usize).collect()
    })
}

/// The six hours.
pub fn times() -> [Time; 6] {
    [1.0, 2.0, 3.0, 4.0, 5.0, 6.0].map(hours)
}

/// Largest difference from [`HOURLY`] of pot temperatures in K.
pub fn error(side: usize, pot: impl IntoIterator<Item = f64>) -> f64 {
    let listed = HOURLY.iter().find(|(cells, _)| *cells == side).map_or([f64::NAN; 6], |(_, listed)| *listed);
    let off = pot.into_iter().zip(listed).map(|(t, listed)| (t - 273.15 - listed).abs());
    // Written so that a NaN stays.
    off.fold(0.0, |worst, off| if off > worst || off.is_nan() { off } else { worst })
}
