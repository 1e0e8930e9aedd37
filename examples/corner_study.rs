//! What a filled corner and a gap under a lid do to the heat through an edge: `corner_study [--csv]`.

use std::io::Write;
use stillhot::conduction::{SectionAccuracy, SectionProblem};
use stillhot::units::*;
use stillhot::{Boundary, Error, Filler, Junction, Layer, LidOnRim, Material, Wall, WallCorner};

const KEYS: &str = "table,mm,heat,added,psi_inner,psi_outer,error,in_gap,coldest,warmest\n";
const NOTE: &str = "\nA corner of two walls by the leg of its filler; a lid on a rim by the gap between them.
heat: from 95 to 10 °C through the edge and 180 mm of both walls; added: more than without; in_gap:
along the air in the gap, which stands still; W/m. psi: linear transmittance with inner and with
outer lengths, and its numerical error, W/(m K). Coldest surface inside and warmest outside, °C.
";

fn main() -> std::process::ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    run(&arguments, &mut std::io::stdout().lock(), &mut std::io::stderr().lock()).into()
}

/// Exit status: 0 with an answer; 2 for a wrong argument; 1 if there is no answer all the same.
pub fn run<'w>(arguments: &[String], out: &'w mut (dyn Write + 'w), err: &'w mut (dyn Write + 'w)) -> u8 {
    let csv = arguments == ["--csv"];
    let (status, text) = match (csv || arguments.is_empty()).then(|| answer(csv)) {
        None => (2, "usage: corner_study [--csv]\n".to_owned()),
        Some(Err(error)) => (1, format!("corner_study: {error}\n")),
        Some(Ok(text)) => (0, text),
    };
    if (if status == 0 { out } else { err }).write_all(text.as_bytes()).is_ok() { status } else { 1 }
}

/// Invented stuff; in a steady state only its conductivity counts.
fn stuff(name: &str, conductivity: f64) -> Result<Material, Error> {
    let (density, heat) = (kilograms_per_cubic_metre(40.0), joules_per_kilogram_kelvin(1400.0));
    Material::custom(name, watts_per_metre_kelvin(conductivity), density, heat)
}

/// Two walls of mat, foam and plywood that meet in a corner with a filler, or as side and lid with a gap, of so many mm.
fn junction(table: &str, mm: f64) -> Result<Junction, Error> {
    let wall = |foam: f64| {
        let layer = |name: &str, k: f64, mm: f64| Layer::new(stuff(name, k)?, millimetres(mm));
        let wall = Wall::planar().layer(layer("mat", 0.04, 20.0)?).layer(layer("foam", 0.024, foam)?);
        wall.layer(layer("ply", 0.12, 9.0)?).build()
    };
    let corner = WallCorner::new(wall(30.0)?, wall(30.0)?).with_arms(millimetres(180.0));
    let lid = LidOnRim::new(wall(30.0)?, wall(40.0)?).with_arms(millimetres(180.0));
    match (table, mm > 0.0) {
        ("filler", false) => corner.build(),
        ("filler", true) => corner.with_filler(Filler::straight([millimetres(mm); 2], stuff("foam", 0.024)?)).build(),
        (_, false) => lid.build(),
        (_, true) => lid.with_gap(millimetres(mm), stuff("still-air", 0.026)?).build(),
    }
}

/// Heat through the edge, and the other answers as a row.
fn solved(table: &str, mm: f64) -> Result<(f64, String), Error> {
    let junction = junction(table, mm)?;
    let room = |t: f64| Boundary::film(watts_per_square_metre_kelvin(8.0), celsius(t));
    let problem = SectionProblem::new(junction.section().clone()).with("inside", room(95.0))?;
    let steady = problem.with("outside", room(10.0))?.steady(&SectionAccuracy::relative(2e-4))?;
    let psi = |arms: &_| steady.linear_transmittance("inside", "outside", arms).map(|e| [e.value, e.error].map(Si::si));
    let ([inner, error], [outer, _]) = (psi(&junction.inner_arms())?, psi(&junction.outer_arms())?);
    let [cold, warm] = [&steady.surface("inside")?[0], &steady.surface("outside")?[1]].map(|t| t.value.si() - 273.15);
    let (middle, width) = ([millimetres(-29.5), millimetres(mm / 2.0)], if table == "gap" { mm / 1000.0 } else { 0.0 });
    let (heat, gap) = (steady.heat("inside")?.value, 0.0 - steady.flux(middle)?[0].value.si() * width);
    Ok((heat, format!("{inner:.6},{outer:.6},{error:.0e},{gap:.4},{cold:.2},{warm:.2}")))
}

fn answer(csv: bool) -> Result<String, Error> {
    let mut text = KEYS.to_owned();
    for (table, sizes) in [("filler", [0.0, 10.0, 20.0, 30.0, 50.0, 80.0]), ("gap", [0.0, 0.5, 1.0, 2.0, 4.0, 8.0])] {
        let without = solved(table, 0.0)?.0;
        for mm in sizes {
            let (heat, rest) = solved(table, mm)?;
            text += &format!("{table},{mm},{heat:.4},{:.4},{rest}\n", heat - without);
        }
    }
    let aligned = |line: &str| line.split(',').map(|cell| format!("{cell:>10}")).collect::<String>() + "\n";
    Ok(if csv { text } else { text.lines().map(aligned).collect::<String>() + NOTE })
}
