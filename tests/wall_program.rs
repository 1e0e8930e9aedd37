//! The example program for walls, run as its users run it.

#[path = "../examples/wall.rs"]
#[allow(dead_code, reason = "the tests call `run`, below `main`")]
mod wall;

use serde_json::Value;

const TEMPLATE: &str = include_str!("../examples/wall.toml");

/// Status, output and error output of a run.
fn ran(arguments: &[&str]) -> (u8, String, String) {
    let arguments: Vec<String> = arguments.iter().map(ToString::to_string).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let status = wall::run(&arguments, &mut out, &mut err);
    (status, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

fn file(name: &str, text: &str) -> String {
    let path = std::path::PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, text).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn the_page_tells_values_errors_orders_and_the_steady_state() {
    let (status, page, err) = ran(&[]);
    assert_eq!((status, err.as_str()), (0, ""));
    // Three times, four temperatures and two fluxes.
    assert_eq!(page.lines().filter(|line| line.contains(" ± ") && line.contains("order ")).count(), 18, "{page}");
    assert!(page.contains("U-value") && page.contains("Layer 2, steady"), "{page}");
    assert!(page.lines().all(|line| line.chars().count() <= 100));
}

/// Series resistances by hand: a slab of 0.05 m and 0.04 W/(m K) between films of 10 and 5 W/(m² K), 80 to 20 °C.
#[test]
fn a_slab_by_hand() {
    let own = "[material.slab]\nname = \"Slab\"\ncategory = \"insulation-other\"\ngrade = \"C\"\n\
        conductivity = { value = \"0.04 W/(m K)\", low = \"0.04 W/(m K)\", high = \"0.04 W/(m K)\", mark = \"ESTIMATE\" }\n\
        density = { value = \"100 kg/m3\", low = \"100 kg/m3\", high = \"100 kg/m3\", mark = \"ESTIMATE\" }\n\
        heat-capacity = { value = \"1000 J/(kg K)\", low = \"1000 J/(kg K)\", high = \"1000 J/(kg K)\", mark = \"ESTIMATE\" }\n\
        [wall]\nlayers = [{ material = \"slab\", thickness = \"50 mm\" }]\n\
        [inner]\nfilm = \"10 W/(m2 K)\"\nsurroundings = \"80 °C\"\n[outer]\nfilm = \"5 W/(m2 K)\"\nsurroundings = \"20 °C\"\n\
        [questions]\ntimes = [\"5 d\"]\ntemperatures = [\"0 mm\"]\nfluxes = [\"50 mm\"]\n";
    let path = file("slab.toml", own);
    let (status, text, err) = ran(&["--json", &path]);
    assert_eq!((status, err.as_str()), (0, ""));
    let answer: Value = serde_json::from_str(&text).unwrap();
    // 1/10 + 0.05/0.04 + 1/5 = 1.55 m² K/W.
    let number = |value: &Value| value.as_f64().unwrap();
    assert!((number(&answer["steady"]["u_value"]) - 1.0 / 1.55).abs() < 1e-9);
    assert!((number(&answer["steady"]["face_celsius"][0][0]) - (80.0 - 60.0 / 15.5)).abs() < 1e-9);
    // After five days nothing is left of the start.
    for (row, expected) in [(0, 80.0 - 60.0 / 15.5), (1, 60.0 / 1.55)] {
        let row = &answer["rows"][row];
        assert!((number(&row["value"]) - expected).abs() <= number(&row["error"]) + 1e-8, "{row}");
    }
}

#[test]
fn a_wall_without_a_temperature_has_no_steady_state() {
    let (before, after) = TEMPLATE.split_once("\n[inner]").unwrap();
    let after = after.split_once("\n[questions]").unwrap().1;
    let text = format!("{before}\n[inner]\nflux = \"20 W/m2\"\n[outer]\ninsulated = true\n[questions]{after}");
    let (status, page, err) = ran(&[&file("warming.toml", &text)]);
    assert_eq!((status, err.as_str()), (0, ""));
    assert!(page.contains("No steady state"), "{page}");
    let (_, text, _) = ran(&["--json", &file("warming.toml", &text)]);
    let steady = &serde_json::from_str::<Value>(&text).unwrap()["steady"];
    assert!(steady["none"].is_string() && steady["heat_watts"].is_null(), "{steady}");
}

#[test]
fn a_broken_file_gives_every_finding_and_nothing_else() {
    let path = file("broken-wall.toml", &TEMPLATE.replace("\"12 mm\" }", "\"12\" }").replace("\"95 °C\"", "\"95 m\""));
    for json in [&[][..], &["--json"]] {
        let arguments: Vec<&str> = json.iter().copied().chain([path.as_str()]).collect();
        let (status, out, err) = ran(&arguments);
        assert_eq!((status, out.as_str()), (2, ""));
        assert_eq!(err.lines().count(), 2, "{err}");
        assert!(err.contains("wall.layers[1].thickness: the number has no unit"), "{err}");
        assert!(err.contains("inner.surroundings: a length where a temperature is expected"), "{err}");
    }
}

#[test]
fn wrong_arguments_are_refused() {
    for (arguments, wanted) in
        [(&["--jsno"][..], "usage"), (&["a.toml", "b.toml"], "usage"), (&["no/such/file.toml"], "no/such/file.toml")]
    {
        let (status, out, err) = ran(arguments);
        assert_eq!((status, out.as_str()), (2, ""), "{arguments:?}");
        assert!(err.contains(wanted), "{err}");
    }
}
