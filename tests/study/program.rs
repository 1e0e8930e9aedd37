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
    // Nothing is said that suits only what is hot.
    let said = page.split_whitespace().collect::<Vec<_>>().join(" ");
    for word in ["stove", "40 to 60 °C"] {
        assert!(!said.contains(word), "{word}: {page}");
    }
    assert!(!page.contains("for its price") && !page.contains("without a price"), "{page}");
}

/// Help as the other programs have it, on the output.
#[test]
fn the_program_says_how_to_ask() {
    for word in ["--help", "-h"] {
        let (status, page, err) = ran(&[word]);
        assert_eq!((status, err.as_str()), (0, ""));
        assert!(page.contains("Usage: what_matters [CASE.toml]") && page.contains("Exit status: 0"), "{page}");
        assert!(page.lines().all(|line| line.chars().count() <= 100), "{page}");
    }
}

/// Hours and minutes, as the other programs write them: no hour has decimals.
#[test]
fn times_are_in_hours_and_minutes() {
    let (_, page, _) = ran(&[]);
    let words: Vec<&str> = page.split_whitespace().collect();
    let unit = |word: &str| word.trim_end_matches(|c: char| !c.is_alphanumeric()) == "h";
    let hours: Vec<&str> = words.windows(2).filter(|pair| unit(pair[1])).map(|pair| pair[0]).collect();
    assert!(hours.len() > 20 && hours.iter().all(|number| !number.contains('.')), "{hours:?}");
    assert!(page.contains(" min "), "{page}");
}

#[test]
fn wrong_input_is_told_and_nothing_else() {
    for arguments in [&["--verbose"][..], &["a.toml", "b.toml"], &["no-such-file.toml"]] {
        let (status, out, err) = ran(arguments);
        assert_eq!((status, out.as_str()), (2, ""));
        assert!(err.starts_with("usage: what_matters") || err.starts_with("what_matters: no-such-file.toml"), "{err}");
    }
}

/// What is not so even when shut is told so; where several temperatures are asked about, which of them counts.
#[test]
fn the_page_says_what_it_ranks_by() {
    let page = |above: &str| {
        let text = format!(
            "[pot]\nvolume = \"5 L\"\n[dish]\nfood = \"thick-stew\"\nmass = \"4 kg\"\n[box]\ngap = \"20 mm\"\n\
             walls = [{{ material = \"expanded-polystyrene-20\", thickness = \"40 mm\" }}]\n[plan]\n\
             room = \"15 °C\"\n[questions]\nabove = [{above}]\n[options]\nhorizon = \"12 h\"\n"
        );
        let file = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("ranked_by.toml");
        std::fs::write(&file, text).unwrap();
        let (status, page, err) = ran(&[file.to_str().unwrap()]);
        assert_eq!((status, err.as_str()), (0, ""));
        page.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let never = page("\"99.9 °C\"");
    assert!(never.contains("It is not above 99.9 °C even when shut"), "{never}");
    let two = page("\"75 °C\", \"20 °C\"");
    assert!(
        two.contains("It stays above 20 °C for") && two.contains("what the changes below are held against"),
        "{two}"
    );
    assert!(!two.contains("-0.0 K"), "{two}");
    // Held to the end of the time that was followed, with whatever is changed.
    assert!(two.contains("K at the end: held for all of the time"), "{two}");
}
