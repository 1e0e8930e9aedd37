//! Rows of two-dimensional sections: a standard's, textbooks', and those of independent finite elements.

#[path = "../section/cases.rs"]
#[allow(dead_code, reason = "shared with the tests of sections")]
mod cases;
#[path = "../section/standard.rs"]
#[allow(dead_code, reason = "shared with the tests of sections")]
mod standard;

use crate::comparison::{Comparison, Mark, Sheet};
use cases::{answer, at};
use stillhot::conduction::SectionAccuracy;
use stillhot::units::{Si, seconds};

/// All of them.
pub fn rows() -> Vec<Comparison> {
    let tight = SectionAccuracy::relative(1e-4).with_nodes(2_000_000);
    let mut sheets = vec![column(), sandwich(), edge(), furnace(), buried(), made(), graded()];
    sheets.extend(cases::junctions().iter().flat_map(|case| [steady(case, &tight), in_time(case)]));
    sheets.extend(cases::random().iter().map(|case| steady(case, &SectionAccuracy::default().with_nodes(600_000))));
    sheets.into_iter().flat_map(|sheet| sheet.rows).collect()
}

fn column() -> Sheet {
    let source = "ISO 10211:2017, annex C, case 1 (geometry READ, temperatures MEMORY)";
    let mut sheet = Sheet::new("Half a square column, 20 °C above, 0 °C beside and below", source, Mark::Memory);
    let steady = standard::steady_on_equal(&standard::column(), 60);
    let places = [(0, 0), (0, 3), (2, 1), (4, 2), (6, 3)];
    let down = |row: usize| 0.25 * (row + 1) as f64;
    let read = |row: usize, column: usize| steady.temperature(at(0.25 * (column + 1) as f64, 2.0 - down(row))).unwrap();
    for (row, column) in places {
        let e = read(row, column);
        let what = format!("{} m across, {} m down, °C, as printed", down(column), down(row));
        sheet.row(what, (standard::COLUMN[row][column], 0.05), e.value.si() - 273.15, Some(e.error.si()));
    }
    sheet.from("Carslaw and Jaeger 1959, ch. V (formula MEMORY), summed here", Mark::Computed);
    for (row, column) in places {
        let e = read(row, column);
        let exact = standard::series(down(column), down(row), 1.0, 2.0, 20.0, false);
        let what = format!("{} m across, {} m down, °C", down(column), down(row));
        sheet.row(what, (exact, 1e-9), e.value.si() - 273.15, Some(e.error.si()));
    }
    sheet
}

fn sandwich() -> Sheet {
    let source = "ISO 10211:2017, annex C, case 2, READ in the verification suite of a public finite-element library";
    let mut sheet = Sheet::new("Concrete, wood and insulation in an aluminium skin", source, Mark::Read);
    let steady = standard::sandwich().steady(&SectionAccuracy::relative(1e-4)).unwrap();
    for (x, y, printed) in standard::SANDWICH {
        let e = steady.temperature(standard::millimetre_point(x, y)).unwrap();
        let what = format!("temperature at {x} mm, {y} mm, °C, as printed");
        sheet.row(what, (printed, 0.05), e.value.si() - 273.15, Some(e.error.si()));
    }
    let heat = steady.heat("bottom").unwrap();
    sheet.row("heat, W/m, as printed", (9.5, 0.05), heat.value, Some(heat.error));
    sheet
}

fn edge() -> Sheet {
    let mut sheet = Sheet::new("Edge of two equal walls, faces held", "conformal mapping", Mark::Computed);
    let steady = standard::edge().steady(&SectionAccuracy::relative(2e-5).with_nodes(1_000_000)).unwrap();
    let heat = steady.heat("inside").unwrap();
    let what = "heat beyond that of the faces, over conductivity and length";
    sheet.row(what, (standard::edge_factor(), 1e-15), heat.value - 10.0, Some(heat.error));
    sheet
}

fn furnace() -> Sheet {
    let source = "Holman, 10th ed., example 3-2; inputs READ in a public worked companion, printed value from memory";
    let mut sheet = Sheet::new("Cubical furnace of 0.5 m, wall 0.1 m, 500 to 50 °C", source, Mark::Memory);
    let heat = standard::edge().steady(&SectionAccuracy::default()).unwrap().heat("inside").unwrap();
    let of_edges = 1.04 * 450.0 * 12.0 * 0.5;
    let rest = 1.04 * 450.0 * (6.0 * 0.25 / 0.1 + 8.0 * 0.15 * 0.1);
    // The book rounds the factor of an edge to 0.54.
    let lost = of_edges * (standard::edge_factor() - 0.54) + 0.5;
    sheet.row(
        "heat, W, as printed",
        (8592.0, lost),
        rest + of_edges * (heat.value - 10.0),
        Some(of_edges * heat.error),
    );
    sheet
}

fn made() -> Sheet {
    let mut sheet = Sheet::new("Manufactured solution in an insulated square", "its own equation", Mark::Computed);
    let answer =
        standard::made_problem().march(&[seconds(50.0), seconds(100.0)], &SectionAccuracy::relative(1e-5)).unwrap();
    for (time, t) in [50.0, 100.0].into_iter().enumerate() {
        for (x, y) in [(0.25, 0.5), (0.75, 0.25)] {
            let e = answer.temperature(at(x, y), time).unwrap();
            let what = format!("temperature at ({x} m, {y} m) at {t} s, °C");
            sheet.row(what, (standard::made(x, y, t), 1e-12), e.value.si() - 273.15, Some(e.error.si()));
        }
    }
    sheet
}

fn graded() -> Sheet {
    let title = "Manufactured solution, conductivity and heat capacity by place, heat through the sides";
    let mut sheet = Sheet::new(title, "its own equation", Mark::Computed);
    let answer =
        standard::graded_problem().march(&[seconds(0.5), seconds(1.0)], &SectionAccuracy::relative(1e-5)).unwrap();
    for (time, x, y, expected) in [(0, 0.25, 0.5, 30.625), (1, 0.75, 0.25, 29.098_102_794_1)] {
        let e = answer.temperature(at(x, y), time).unwrap();
        let what = format!("temperature at ({x} m, {y} m) at {} s, °C", 0.5 * (time + 1) as f64);
        sheet.row(what, (expected, 1e-10), e.value.si() - 273.15, Some(e.error.si()));
    }
    sheet
}

fn buried() -> Sheet {
    let source = "Holman, 10th ed., example 3-1 (inputs READ, printed values MEMORY)";
    let mut sheet = Sheet::new("Buried pipe, 4 m, in ground that ends in a line of flow", source, Mark::Memory);
    let heat = standard::buried_problem().steady(&SectionAccuracy::relative(1e-4)).unwrap().heat("pipe").unwrap();
    let [value, error] = [heat.value, heat.error].map(|q| 16.0 * q);
    sheet.row("shape factor, m, as printed", (15.35, 0.01), value / (0.8 * 70.0), Some(error / (0.8 * 70.0)));
    sheet.row("heat, W, as printed", (859.6, 0.5), value, Some(error));
    sheet.from("conformal map, as in the source", Mark::Computed);
    let exact = 4.0 * standard::buried_shape_factor();
    sheet.row("shape factor, m", (exact, 1e-9), value / (0.8 * 70.0), Some(error / (0.8 * 70.0)));
    sheet
}

const ELEMENTS: &str = "independent finite elements of degree 2 on three graded meshes, extrapolated";

/// What `what` is, with its unit.
fn quantity(expected: &cases::Expected) -> String {
    let part = expected.part.as_deref().unwrap_or_default();
    match (expected.what.as_str(), expected.at) {
        ("T", Some([x, y])) => format!("temperature at ({x} m, {y} m), °C"),
        ("heat_flow", _) => format!("heat into the section by {part}, W/m or W"),
        ("L2D", _) => "coupling coefficient, W/(m K)".to_owned(),
        ("G", _) => "conductance, W/K".to_owned(),
        ("psi_i", _) => "linear transmittance, inner lengths, W/(m K)".to_owned(),
        ("psi_e", _) => "linear transmittance, outer lengths, W/(m K)".to_owned(),
        ("T_surface_min", _) => format!("coldest surface {part}, °C"),
        ("T_surface_max", _) => format!("warmest surface {part}, °C"),
        (other, _) => panic!("{other}"),
    }
}

fn title(case: &cases::Case) -> String {
    format!("{}: {}", case.id, case.title)
}

/// All steady values but for most of the temperatures inside, of which the first stands for all.
fn steady(case: &cases::Case, accuracy: &SectionAccuracy) -> Sheet {
    let mut sheet = Sheet::new(&title(case), ELEMENTS, Mark::Computed);
    let steady = case.steady(accuracy);
    let mut inside = 0;
    for expected in case.values.iter().filter(|v| v.time.is_none()) {
        inside += usize::from(expected.what == "T");
        if expected.what == "T" && inside > 1 {
            continue;
        }
        let (e, _) = answer(case, &steady, expected);
        sheet.row(quantity(expected), (expected.value, expected.tolerance), e.value, Some(e.error));
    }
    sheet
}

/// Body and heat taken up at the last time.
fn in_time(case: &cases::Case) -> Sheet {
    let mut sheet = Sheet::new(&title(case), ELEMENTS, Mark::Computed);
    let last = case.values.iter().filter_map(|v| v.time).fold(0.0, f64::max);
    let answer = case.problem(true).march(&[seconds(last)], &SectionAccuracy::default()).unwrap();
    let body = case.parts.iter().find(|p| p.body).unwrap();
    for expected in case.values.iter().filter(|v| v.time == Some(last)) {
        let (what, value, error) = match expected.what.as_str() {
            "T_body" => {
                let e = answer.body(&body.name, 0).unwrap();
                ("body after", e.value.si() - 273.15, e.error.si())
            }
            "Q_wall" => {
                let e = answer.stored_heat(0).unwrap();
                ("heat in the section after", e.value.si(), e.error.si())
            }
            _ => continue,
        };
        let unit = if expected.what == "T_body" { "°C" } else { "J/m or J" };
        sheet.row(format!("{what} {last} s, {unit}"), (expected.value, expected.tolerance), value, Some(error));
    }
    sheet
}
