//! Conduction through a wall from a file, each number with its numerical error: `wall [--json] [FILE.toml]`.

use serde_json::{Value, json};
use std::io::Write;
use stillhot::units::{Si, seconds, write};
use stillhot::{Boundary, Error, case::WallCase, conduction::Probe};

fn main() -> std::process::ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    run(&arguments, &mut std::io::stdout().lock(), &mut std::io::stderr().lock()).into()
}

/// Exit status: 0 with an answer; 2 if an argument or the file is wrong; 1 if there is no answer all the same.
pub fn run<'w>(arguments: &[String], out: &'w mut (dyn Write + 'w), err: &'w mut (dyn Write + 'w)) -> u8 {
    let (options, rest): (Vec<&str>, Vec<&str>) = arguments.iter().map(String::as_str).partition(|a| *a == "--json");
    let json = !options.is_empty();
    let (status, text) = match rest[..] {
        [] => answer("examples/wall.toml", include_str!("wall.toml"), json),
        [file] if !file.starts_with('-') => match std::fs::read_to_string(file) {
            Ok(text) => answer(file, &text, json),
            Err(error) if error.kind() == std::io::ErrorKind::InvalidData => {
                (2, format!("wall: {file}: is not written in UTF-8: save it so\n"))
            }
            Err(error) => (2, format!("wall: {file}: {error}\n")),
        },
        _ => (2, "usage: wall [--json] [FILE.toml]\n".to_owned()),
    };
    if (if status == 0 { out } else { err }).write_all(text.as_bytes()).is_ok() { status } else { 1 }
}

fn answer(file: &str, text: &str, json: bool) -> (u8, String) {
    match WallCase::read(text, file).map(|case| computed(&case)) {
        Err(findings) => (2, findings.iter().map(|finding| format!("{finding}\n")).collect()),
        Ok(Err(error)) => (1, format!("{file}: {error}\n")),
        Ok(Ok(value)) => (0, if json { format!("{value:#}\n") } else { page(&value) }),
    }
}

fn computed(case: &WallCase) -> Result<Value, Error> {
    let (answer, mut rows) = (case.problem.march(&case.times, &case.accuracy)?, Vec::new());
    for (at, time) in case.times.iter().enumerate() {
        for probe in &case.probes {
            let (Probe::Temperature(x) | Probe::Flux(x)) = probe else { continue };
            let e = answer.read(*probe, at)?;
            let (what, unit, zero) =
                if probe.is_flux() { ("flux", "W/m2", 0.0) } else { ("temperature", "°C", 273.15) };
            rows.push(json!({ "time": write(*time), "quantity": what, "at": write(*x), "value": e.value - zero,
                "error": e.error, "order": e.order, "unit": unit }));
        }
    }
    let steady = case.problem.steady().map(|steady| {
        let [inner, outer] = case.boundaries.each_ref().map(|end| match end {
            Boundary::Temperature(course) | Boundary::Film { surroundings: course, .. } => course.at(seconds(0.0)).si(),
            _ => f64::NAN,
        });
        let faces: Vec<_> = steady.faces().iter().map(|pair| pair.map(|t| t.si() - 273.15)).collect();
        // Not a number, which becomes null, where an end has no temperature of its own or both have the same.
        let heat = steady.heat_per_extent();
        json!({ "heat_watts": heat, "u_value": heat / (inner - outer), "face_celsius": faces })
    });
    // Where nothing holds a temperature there is none: that is an answer, too.
    let steady = steady.unwrap_or_else(|error| json!({ "none": error.to_string() }));
    Ok(json!({ "title": case.title, "rows": rows, "steady": steady }))
}

fn page(answer: &Value) -> String {
    let mut text = format!("{}\n\n", answer["title"].as_str().unwrap_or("A wall"));
    for row in answer["rows"].as_array().into_iter().flatten() {
        let [time, quantity, at, unit] = ["time", "quantity", "at", "unit"].map(|key| row[key].as_str().unwrap_or(""));
        let [value, error] = ["value", "error"].map(|key| row[key].as_f64().unwrap_or(f64::NAN));
        let order = row["order"].as_f64().map_or("none".to_owned(), |order| format!("{order:.2}"));
        text += &format!("{time:>8} {quantity:11} at {at:>8} {value:12.5} ± {error:.1e} {unit:4}, order {order}\n");
    }
    match (answer["steady"]["heat_watts"].as_f64(), answer["steady"]["u_value"].as_f64()) {
        (None, _) => text += &format!("\nNo steady state: {}\n", answer["steady"]["none"].as_str().unwrap_or("")),
        (Some(heat), None) => text += &format!("\nSteady heat {heat:.5} W\n"),
        (Some(heat), Some(u)) => text += &format!("\nSteady heat {heat:.5} W, U-value {u:.5} W/K\n"),
    }
    for (at, face) in answer["steady"]["face_celsius"].as_array().into_iter().flatten().enumerate() {
        let [inner, outer] = [0, 1].map(|side| face[side].as_f64().unwrap_or(f64::NAN));
        text += &format!("Layer {}, steady: {inner:.4} to {outer:.4} °C\n", at + 1);
    }
    text += "(order none: the meshes differ too little to show one, or unevenly)\n";
    text + "(heat and U-value for 1 m2 of a flat wall, 1 m of a cylinder, a whole sphere)\n"
}
