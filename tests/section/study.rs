//! The example program on corners and lids, run as its users run it.

#[path = "../../examples/corner_study.rs"]
#[allow(dead_code, reason = "the tests call `run`, below `main`")]
mod corner_study;

use super::cases::junctions;

/// Status, output and error output of a run.
fn ran(arguments: &[&str]) -> (u8, String, String) {
    let arguments: Vec<String> = arguments.iter().map(ToString::to_string).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let status = corner_study::run(&arguments, &mut out, &mut err);
    (status, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

#[test]
fn the_study_of_corners_tells_what_the_tables_of_junctions_tell() {
    let (status, text, err) = ran(&["--csv"]);
    assert_eq!((status, err.as_str()), (0, ""));
    let keys: Vec<&str> = text.lines().next().unwrap().split(',').collect();
    let rows: Vec<Vec<&str>> = text.lines().skip(1).map(|line| line.split(',').collect()).collect();
    assert!(rows.iter().all(|row| row.len() == keys.len()), "{text}");
    let number =
        |row: &[&str], key: &str| -> f64 { row[keys.iter().position(|k| *k == key).unwrap()].parse().unwrap() };
    let of = |table: &str| rows.iter().filter(|row| row[0] == table).collect::<Vec<_>>();
    // Independent finite elements (COMPUTED: see `junctions.toml`); the arms of theirs end elsewhere.
    let tables = junctions();
    for (table, mm, id) in [("filler", 0.0, "A1"), ("filler", 30.0, "A2"), ("gap", 2.0, "A6-gap")] {
        let row = of(table).into_iter().find(|row| number(row, "mm") == mm).unwrap();
        let case = tables.iter().find(|c| c.id == id).unwrap();
        let listed = |what: &str, part: Option<&str>| {
            let found = |v: &&super::cases::Expected| v.what == what && v.part.as_deref() == part && v.time.is_none();
            case.values.iter().find(found).unwrap().value
        };
        for (key, what) in [("psi_inner", "psi_i"), ("psi_outer", "psi_e")] {
            let (ours, theirs) = (number(row, key), listed(what, None));
            assert!((ours - theirs).abs() <= number(row, "error") + 1e-6, "{table} {mm}: {ours} {theirs}");
        }
        for (key, what, part) in [("coldest", "T_surface_min", "inside"), ("warmest", "T_surface_max", "outside")] {
            let (ours, theirs) = (number(row, key), listed(what, Some(part)));
            assert!((ours - theirs).abs() < 0.02, "{table} {mm}: {ours} {theirs}");
        }
    }
    // What a filler of half the conductivity of the mat saves, and what a gap costs, grows with its size.
    for (table, sign) in [("filler", -1.0), ("gap", 1.0)] {
        let added: Vec<f64> = of(table).iter().map(|row| sign * number(row, "added")).collect();
        assert!(added.len() > 4 && added[0] == 0.0 && added.windows(2).all(|w| w[1] > w[0]), "{table}: {added:?}");
    }
    // A strip of still air from 95 to 10 °C with films at its mouths and 59 mm long, by hand: more cannot flow along it
    // than without films, and half of that does.
    for row in of("gap").into_iter().skip(1) {
        let bound = 0.026 * 85.0 / 0.059 * number(row, "mm") / 1000.0;
        assert!((0.5 * bound..bound).contains(&number(row, "in_gap")), "{row:?} {bound}");
    }
}

#[test]
fn the_study_of_corners_fits_the_screen_and_refuses_what_it_does_not_know() {
    let (status, page, _) = ran(&[]);
    assert_eq!(status, 0);
    assert!(page.lines().all(|line| line.chars().count() <= 100 && line.trim_end() == line), "{page}");
    assert_eq!(page.lines().filter(|line| line.trim_start().starts_with("gap")).count(), 6, "{page}");
    for wrong in [&["--cvs"][..], &["--csv", "--csv"], &["walls.toml"], &[""]] {
        let (status, out, err) = ran(wrong);
        assert_eq!((status, out.as_str(), err.as_str()), (2, "", "usage: corner_study [--csv]\n"), "{wrong:?}");
    }
}
