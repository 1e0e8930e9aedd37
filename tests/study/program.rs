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
        "WORTH MEASURING",
    ] {
        assert!(page.contains(part), "{part}");
    }
    for word in ["NaN", "inf", "safe", "not computed"] {
        assert!(!page.contains(word), "{word}");
    }
}

#[test]
fn wrong_input_is_told_and_nothing_else() {
    for arguments in [&["--verbose"][..], &["a.toml", "b.toml"], &["no-such-file.toml"]] {
        let (status, out, err) = ran(arguments);
        assert_eq!((status, out.as_str()), (2, ""));
        assert!(err.starts_with("usage: what_matters") || err.starts_with("what_matters: no-such-file.toml"), "{err}");
    }
}
