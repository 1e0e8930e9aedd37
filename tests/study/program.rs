//! The example: a page for a cook, and what it says to wrong input.

#[path = "../../examples/what_matters.rs"]
#[allow(dead_code, reason = "the tests call `run`, below `main`")]
mod what_matters;

fn ran(arguments: &[&str]) -> (u8, String, String) {
    let arguments: Vec<String> = arguments.iter().map(|a| (*a).to_owned()).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let status = what_matters::run(&arguments, &mut out, &mut err);
    (status, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

#[test]
fn a_page_within_a_hundred_columns() {
    let (status, page, err) = ran(&[]);
    println!("{page}");
    assert_eq!((status, err.as_str()), (0, ""));
    for line in page.lines() {
        assert!(line.chars().count() <= 100, "{line}");
    }
    for part in [
        "AS IT IS",
        "LARGEST EFFECT FIRST",
        "pressing the lid down",
        "for the room it takes",
        "for its weight",
        "for its price",
        "filling the corners",
        "WORTH MEASURING",
    ] {
        assert!(page.contains(part), "{part}");
    }
    for word in ["NaN", "inf", "safe", "not computed"] {
        assert!(!page.contains(word), "{word}");
    }
}

/// A cold box is asked how long it stays below.
#[test]
fn a_cold_box_has_a_page_as_well() {
    let text = "[pot]\nvolume = \"5 L\"\n[dish]\nfood = \"milk-whole\"\nmass = \"4 kg\"\n[box]\ngap = \"20 mm\"\n\
                walls = [{ material = \"expanded-polystyrene-20\", thickness = \"40 mm\" }]\n[plan]\nroom = \"30 °C\"\n\
                start = \"3 °C\"\n[questions]\nbelow = [\"5 °C\", \"8 °C\"]\n";
    let file = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("cold_box.toml");
    std::fs::write(&file, text).unwrap();
    let (status, page, err) = ran(&[file.to_str().unwrap()]);
    assert_eq!((status, err.as_str()), (0, ""));
    assert!(page.contains("It stays below 8 °C for") && page.contains("a box cooled to 3 °C"), "{page}");
    assert!(!page.contains("for its price") && !page.contains("without a price"), "{page}");
}

#[test]
fn wrong_input_is_told_and_nothing_else() {
    for arguments in [&["--verbose"][..], &["a.toml", "b.toml"], &["no-such-file.toml"]] {
        let (status, out, err) = ran(arguments);
        assert_eq!((status, out.as_str()), (2, ""));
        assert!(err.starts_with("usage: what_matters") || err.starts_with("what_matters: no-such-file.toml"), "{err}");
    }
}
