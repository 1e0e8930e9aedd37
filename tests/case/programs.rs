//! The example programs, run as their users run them.

#[path = "../../examples/common/mod.rs"]
#[allow(dead_code, reason = "the tests call `run`, below `main`")]
mod common;

use super::{BOX, SLEEVE, with};
use common::{Program, run};
use serde_json::Value;
use std::ffi::OsString;
use std::path::PathBuf;

const KITCHEN: Program = Program {
    name: "kitchen_box",
    about: "About the box.",
    default_name: "examples/kitchen_box.toml",
    default_text: include_str!("../../examples/kitchen_box.toml"),
    fuel: "lpg-hob",
    meals: None,
};
const RIDGE: Program = Program {
    name: "pot_sleeve",
    about: "About the sleeve.",
    default_name: "examples/pot_sleeve.toml",
    default_text: include_str!("../../examples/pot_sleeve.toml"),
    fuel: "camp-gas",
    meals: Some(4),
};

/// Status, output and error output of a run.
fn ran(program: &Program, arguments: &[&str]) -> (u8, String, String) {
    let arguments: Vec<OsString> = arguments.iter().map(OsString::from).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let status = run(program, &arguments, &mut out, &mut err);
    (status, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

/// A file of this text, in a directory of the build that goes with it.
fn file(name: &str, text: &str) -> String {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, text).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn the_page_says_first_when_to_eat_and_fits_the_screen() {
    for program in [&KITCHEN, &RIDGE] {
        let (status, page, err) = ran(program, &[]);
        assert_eq!((status, err.as_str()), (0, ""));
        let lines: Vec<&str> = page.lines().collect();
        for line in &lines {
            assert!(line.chars().count() <= 100, "{} columns: {line}", line.chars().count());
            assert_eq!(line.trim_end(), *line);
        }
        // Without scrolling: what to do, and by when.
        let top = lines[..12].join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
        // Lentils are not done after 40 min: their page does not say when to eat.
        let (heading, by_then) = match program.name {
            "kitchen_box" => ("WHEN TO EAT, WHEN TO REHEAT", "eat or reheat by then"),
            _ => ("HOW LONG IT STAYS HOT", "As planned, it is not done when it is served"),
        };
        for wanted in [heading, by_then, "75 °C", "63 °C", "60 °C", "Served after", "best", "earliest", "latest"] {
            assert!(top.contains(wanted), "{wanted}: {top}");
        }
        for part in [
            "TEMPERATURES",
            "WHERE THE HEAT WENT",
            "WHAT WAS ASSUMED",
            "WHAT THE NUMBERS LEAVE OUT",
            "CAUTIONS",
            "given up by dish and pot",
            "lid without leak",
            "not yet compared with a fully described measured box",
            "food-safety rules",
        ] {
            assert!(page.contains(part), "{part}");
        }
        // No verdict, and no digits that mean nothing.
        let words: Vec<String> =
            page.split_whitespace().map(|w| w.trim_matches(['.', ',', ':', ';']).to_lowercase()).collect();
        for verdict in ["safe", "unsafe", "safely", "ok", "guaranteed", "nan", "inf"] {
            assert!(!words.iter().any(|word| word == verdict), "{verdict}");
        }
        for word in words.iter().flat_map(|word| word.split('-')) {
            let significant = word.trim_start_matches(['0', '.']);
            assert!(significant.chars().filter(char::is_ascii_digit).count() <= 4, "{word}");
        }
    }
}

#[test]
fn shares_add_up_to_what_was_given_up() {
    let (_, text, _) = ran(&KITCHEN, &["--json"]);
    let answer: Value = serde_json::from_str(&text).unwrap();
    let sum = |key: &str, of: &dyn Fn(&Value) -> f64| answer[key].as_array().unwrap().iter().map(of).sum::<f64>();
    let best = |row: &Value| row["best_kilojoules"].as_f64().unwrap();
    let (lost, stored) = (sum("heat_lost", &best), sum("heat_stored", &best));
    let share = sum("heat_lost", &|row| row["share_percent"].as_f64().unwrap());
    let pot =
        answer["heat_stored"].as_array().unwrap().iter().find(|row| row["part"] == "dish and pot").map(best).unwrap();
    assert!(pot < 0.0);
    // The heat account of the march closes to 1e-9 of the heat moved; reading it back adds rounding.
    assert!((lost + stored).abs() < 1e-6 * pot.abs(), "lost {lost}, stored {stored}");
    assert!((share - 100.0 * lost / -pot).abs() < 1e-9);
    assert!(answer["ledger_residual"].as_f64().unwrap() < 1e-9);
}

#[test]
fn json_has_the_keys_of_the_help_and_agrees_with_the_page() {
    for program in [&KITCHEN, &RIDGE] {
        let (status, text, err) = ran(program, &["--json"]);
        assert_eq!((status, err.as_str()), (0, ""));
        let answer: Value = serde_json::from_str(&text).unwrap();
        let (_, help, _) = ran(program, &["--help"]);
        fn check(value: &Value, help: &str) {
            match value {
                Value::Object(map) => {
                    for (key, value) in map {
                        let documented =
                            help.split(|c: char| !(c.is_alphanumeric() || c == '_')).any(|word| word == key);
                        assert!(documented, "{key} is not in the help");
                        check(value, help);
                    }
                }
                Value::Array(list) => list.iter().for_each(|value| check(value, help)),
                _ => {}
            }
        }
        check(&answer, &help);
        for (at, level) in [75.0, 63.0, 60.0].into_iter().enumerate() {
            let (held, tight) = (&answer["held"][at], &answer["tight"]["held"][at]);
            assert!((held["above_celsius"].as_f64().unwrap() - level).abs() < 1e-9);
            assert_eq!(held["outcome"], "until");
            let hours = |key: &str| held[key].as_f64().unwrap();
            assert!(hours("earliest_hours") < hours("best_hours") && hours("best_hours") < hours("latest_hours"));
            assert!(hours("numerical_error_hours") >= 0.0 && hours("numerical_error_hours") < 0.1);
            assert!(tight["best_hours"].as_f64().unwrap() > hours("best_hours"), "a leak cools");
        }
        let curve = answer["curve"].as_array().unwrap();
        assert_eq!(curve.len(), 97, "half hours of 48 h");
        for row in curve {
            let celsius = |key: &str| row[key].as_f64().unwrap();
            assert!(
                celsius("low_celsius") <= celsius("best_celsius") && celsius("best_celsius") <= celsius("high_celsius")
            );
        }
        // What the page says of serving is the rounded number of the object.
        let (_, page, _) = ran(program, &[]);
        let best = answer["at_serving"]["best_celsius"].as_f64().unwrap().round();
        assert!(page.replace('\n', " ").contains(&format!("best estimate {best} °C")), "{best}");
    }
}

#[test]
fn a_file_of_your_own_is_read() {
    let path = file("own-sleeve.toml", SLEEVE);
    let (status, page, err) = ran(&KITCHEN, &[&path]);
    assert_eq!((status, err.as_str()), (0, ""));
    assert!(page.contains("own-sleeve.toml") && !page.contains("Served after"));
}

#[test]
fn a_broken_case_gives_every_finding_and_nothing_else() {
    let text = with(&with(BOX, "7 L", "7"), "\"16 °C\"", "\"16 m\"");
    let path = file("broken.toml", &text);
    for json in [&[][..], &["--json"]] {
        let arguments: Vec<&str> = [path.as_str()].into_iter().chain(json.iter().copied()).collect();
        let (status, out, err) = ran(&KITCHEN, &arguments);
        assert_eq!((status, out.as_str()), (2, ""));
        let lines: Vec<&str> = err.lines().collect();
        assert_eq!(lines.len(), 3, "{err}");
        assert!(
            lines[0].starts_with(&format!("{path}, line 3, pot.volume: the number has no unit, got \"7\"; accepted: "))
        );
        assert!(lines[1].starts_with(&format!("{path}, line 17, plan.room: a length where a temperature is expected")));
        assert_eq!(lines[2], "2 findings; nothing was computed.");
    }
}

#[test]
fn materials_of_your_own_are_read_and_checked() {
    let case = file("chaff-case.toml", &with(BOX, "expanded-polystyrene-20", "spelt-chaff"));
    let entry = r#"
[spelt-chaff]
name = "Spelt chaff"
category = "fibre-and-loose-fill"
grade = "C"
conductivity = { value = "0.055 W/(m K)", low = "0.045 W/(m K)", high = "0.07 W/(m K)", mark = "ESTIMATE" }
density = { value = "90 kg/m3", low = "80 kg/m3", high = "110 kg/m3", mark = "ESTIMATE" }
heat-capacity = { value = "1700 J/(kg K)", low = "1500 J/(kg K)", high = "1900 J/(kg K)", mark = "ESTIMATE" }
"#;
    let shelf = file("shelf.toml", entry);
    let (status, page, _) = ran(&KITCHEN, &["--materials", &shelf, &case]);
    assert_eq!(status, 0);
    assert!(page.contains("50 mm of Spelt chaff"));
    let (status, out, err) = ran(&KITCHEN, &[&case]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(err.contains("box.walls[3].material: unknown material, got \"spelt-chaff\""), "{err}");
    let broken = file("broken-shelf.toml", &with(entry, "\"90 kg/m3\"", "\"-90 kg/m3\""));
    let (status, out, err) = ran(&KITCHEN, &["--materials", &broken, &case]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(err.contains("broken-shelf.toml, line 7, spelt-chaff.density"), "{err}");
}

#[test]
fn wrong_arguments_are_refused() {
    for (arguments, wanted) in [
        (&["--jsno"][..], "unknown option --jsno"),
        (&["-x"], "unknown option -x"),
        (&["--materials"], "--materials needs a file"),
        (&["a.toml", "b.toml"], "more than one case file"),
        (&["no/such/file.toml"], "no/such/file.toml: "),
        (&["--materials", "no/such/shelf.toml"], "no/such/shelf.toml: "),
    ] {
        let (status, out, err) = ran(&RIDGE, arguments);
        assert_eq!((status, out.as_str()), (2, ""), "{arguments:?}");
        assert!(err.starts_with("pot_sleeve: ") && err.contains(wanted), "{err}");
    }
}

#[test]
fn help_is_an_answer() {
    let (status, out, err) = ran(&RIDGE, &["--help"]);
    assert_eq!((status, err.as_str()), (0, ""));
    for wanted in ["Usage: pot_sleeve", "--json", "--materials", "examples/pot_sleeve.toml", "Exit status"] {
        assert!(out.contains(wanted), "{wanted}");
    }
    assert!(out.lines().all(|line| line.chars().count() <= 100));
}

/// The bound on work is met with words and a status of its own, before anything is written.
#[test]
fn a_bound_on_work_that_is_too_low_is_told() {
    let path = file("hurried.toml", &with(BOX, "horizon = \"24 h\"", "steps = 10"));
    let (status, out, err) = ran(&KITCHEN, &[&path]);
    assert_eq!((status, out.as_str()), (1, ""));
    assert!(err.contains("hurried.toml") && err.contains("10"), "{err}");
}

/// Hot rooms, thresholds out of reach and short horizons make a page, too.
#[test]
fn odd_cases_make_a_page() {
    let warm =
        with(&with(BOX, "\"16 °C\"", "\"80 °C\"\nstart = \"10 °C\""), "\"75 °C\", \"60 °C\"", "\"5 °C\", \"60 °C\"");
    let (status, page, _) = ran(&KITCHEN, &[&file("warm.toml", &warm)]);
    assert_eq!(status, 0);
    assert!(page.contains("It stays above 5 °C for all of the 24 h"), "{page}");
    assert!(page.contains("It is not above 60 °C when shut"), "{page}");
    let level = with(&with(BOX, "\"16 °C\"", "\"60 °C\"\nstart = \"60 °C\""), "serve = \"6 h\"", "serve = \"0 s\"");
    let short = with(&level, "horizon = \"24 h\"", "horizon = \"1 min\"");
    for (name, text) in [("level.toml", &level), ("short.toml", &short)] {
        for json in [&[][..], &["--json"]] {
            let path = file(name, text);
            let arguments: Vec<&str> = [path.as_str()].into_iter().chain(json.iter().copied()).collect();
            let (status, page, err) = ran(&KITCHEN, &arguments);
            assert_eq!((status, err.as_str()), (0, ""));
            assert!(
                !page.to_lowercase().split(|c: char| !c.is_alphabetic()).any(|word| word == "nan" || word == "inf")
            );
        }
    }
}

/// The page ends with what a cook asks: done, within which guidance until when, what to do, what was saved; cautions last.
#[test]
fn the_page_ends_with_a_verdict() {
    for (program, dish) in [(&KITCHEN, "Broth with barley and squash: "), (&RIDGE, "Red lentils, split: ")] {
        let (_, page, _) = ran(program, &[]);
        let end = page.split("\nIN SHORT\n").nth(1).unwrap();
        let end = end.split_whitespace().collect::<Vec<_>>().join(" ");
        let at = |part: &str| end.find(part).unwrap_or_else(|| panic!("{part}: {end}"));
        let order = [
            dish,
            "United Kingdom and Scotland, 2006: keep hot food above 63 °C:",
            "What to do:",
            "against simmering it out",
            "! Take care:",
        ];
        assert_eq!(at(order[0]), 0);
        assert!(order.windows(2).all(|pair| at(pair[0]) < at(pair[1])), "{end}");
        assert!(end.contains("food-safety rules of your place, which decide."), "{end}");
    }
    // The deadline is the cautious end of the table.
    let (_, page, _) = ran(&KITCHEN, &["--json"]);
    let answer: Value = serde_json::from_str(&page).unwrap();
    let finding = &answer["verdict"]["findings"][1];
    assert_eq!((finding["limit"].as_str(), finding["outcome"].as_str()), (Some("uk-hot-holding"), Some("meets")));
    let held =
        answer["held"].as_array().unwrap().iter().find(|row| row["above_celsius"].as_f64().unwrap().round() == 63.0);
    let (told, table) =
        (finding["cautious_hours"].as_f64().unwrap(), held.unwrap()["earliest_hours"].as_f64().unwrap());
    assert!(told <= table && told > table - 0.1, "{told} {table}");
}

#[test]
fn the_json_verdict_carries_codes_and_fields() {
    let (status, out, err) = ran(&RIDGE, &["--json", "--meals", "6", "--place", "Germany"]);
    assert_eq!((status, err.as_str()), (0, ""));
    let answer: Value = serde_json::from_str(&out).unwrap();
    let verdict = &answer["verdict"];
    assert_eq!(verdict["done"]["code"], "not-done");
    let field = |message: &Value, name: &str| {
        let fields = message["fields"].as_array().unwrap();
        let found = fields.iter().find(|field| field["name"] == name).unwrap_or_else(|| panic!("{name}: {message}"));
        found["value"].as_str().unwrap().to_owned()
    };
    assert_eq!(field(&verdict["done"], "dish"), "Red lentils, split");
    assert_eq!(field(&verdict["break_even"], "meals"), "6");
    assert_eq!(field(&verdict["saved"], "fuel"), "camp-gas");
    let findings = verdict["findings"].as_array().unwrap();
    let holding = findings.iter().find(|finding| finding["limit"] == "germany-hot-holding").unwrap();
    // Lentils stand still: the forecast knows their coldest spot, and that is what meets the limit, for so long.
    assert_eq!((&holding["outcome"], &holding["places"][0]), (&"meets".into(), &"Germany".into()));
    assert!(holding["best_hours"].as_f64().unwrap() > holding["cautious_hours"].as_f64().unwrap());
    for list in ["to_do", "cautions"] {
        for message in verdict[list].as_array().unwrap() {
            assert!(message["code"].as_str().unwrap().contains(|c: char| c.is_ascii_lowercase()), "{message}");
            assert!(message["text"].as_str().unwrap().ends_with('.'), "{message}");
        }
    }
    // One that was measured to be colder still shortens the time.
    let (_, out, _) = ran(&RIDGE, &["--json", "--place", "Germany", "--edge-colder", "5 K"]);
    let answer: Value = serde_json::from_str(&out).unwrap();
    let findings = answer["verdict"]["findings"].as_array().unwrap();
    let told = findings.iter().find(|finding| finding["limit"] == "germany-hot-holding").unwrap();
    assert_eq!(told["outcome"], "meets");
    assert!(told["cautious_hours"].as_f64().unwrap() < holding["cautious_hours"].as_f64().unwrap());
}

/// Ten minutes open at 2 h in a case file: the deadline is earlier.
#[test]
fn an_opening_in_a_case_shows_in_the_verdict() {
    let deadline = |name: &str, text: &str| {
        let (status, out, err) = ran(&KITCHEN, &["--json", "--dish", "thin-broth", &file(name, text)]);
        assert_eq!(status, 0, "{err}");
        let answer: Value = serde_json::from_str(&out).unwrap();
        let findings = answer["verdict"]["findings"].as_array().unwrap().clone();
        findings.iter().find(|f| f["limit"] == "uk-hot-holding").unwrap()["cautious_hours"].as_f64().unwrap()
    };
    let shut = KITCHEN.default_text;
    let opened = with(shut, "serve = \"5 h\"", "serve = \"5 h\"\nactions = [{ at = \"2 h\", open = \"10 min\" }]");
    assert!(deadline("opened.toml", &opened) < deadline("shut.toml", shut) - 0.03);
}

#[test]
fn what_is_told_of_the_dish_is_checked() {
    for (arguments, told) in [
        (&["--dish", "red-lentil"][..], "red-lentils"),
        (&["--place", "Germny"], "Germany"),
        (&["--fuel", "lgp-hob"], "lpg-hob"),
        (&["--boil", "10"], "unit"),
        (&["--boil", "-10 min"], "0 s to 24 h"),
        (&["--soak", "900 h"], "72 h"),
        (&["--edge-colder", "90 K"], "60 K"),
        (&["--meals", "0"], "1 to 1000"),
        (&["--meals", "many"], "whole number"),
        (&["--dish"], "needs a value"),
    ] {
        let (status, out, err) = ran(&KITCHEN, arguments);
        assert_eq!((status, out.as_str()), (2, ""), "{arguments:?}: {err}");
        assert!(err.starts_with("kitchen_box: ") && err.contains(told), "{arguments:?}: {err}");
    }
    // A case that does not name its dish is answered, and says what is missing.
    let untold = with(KITCHEN.default_text, "\nkind = \"barley-broth\"\n", "\n");
    let page = paged(&[&file("untold.toml", &untold)]);
    assert!(page.contains("Tell which dish it is: kind =") && page.contains("Which dish it is was not told"), "{page}");
}

/// The page of the box, its words joined by single spaces.
fn paged(arguments: &[&str]) -> String {
    let (status, page, err) = ran(&KITCHEN, arguments);
    assert_eq!((status, err.as_str()), (0, ""));
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_case_names_its_dish() {
    // Water in a copy of the template: no dish of the list says that water is stiff.
    let own = with(KITCHEN.default_text, "food = \"thick-stew\" ", "food = \"water-liquid\" ");
    let own = with(&own, "kind = \"barley-broth\"", "kind = \"thin-broth\"");
    let page = paged(&[&file("own-dish.toml", &own)]);
    assert!(page.contains("IN SHORT Thin broth, strained") && !page.contains("--dish"), "{page}");
    assert!(!page.contains("stiff") && !page.contains("not told"), "{page}");
    // What it is to heat follows from its kind where nothing is said.
    let bare = with(BOX, "food = \"thick-stew\"", "kind = \"barley-broth\"");
    let page = paged(&[&file("kind-only.toml", &bare)]);
    assert!(page.contains("6 kg of Broth") && page.contains("Broth with barley and squash:"), "{page}");
}

#[test]
fn another_dish_on_the_command_line_is_told() {
    let page = paged(&["--dish", "beef-stew"]);
    let told = "The case says Broth with barley and squash, the command line Beef stew, shin or chuck in cubes: judged as \
                the latter. Its heat is computed as that of Thick stew or bean soup";
    assert!(page.contains(told), "{page}");
    assert!(!paged(&["--dish", "barley-broth"]).contains("command line"));
    let page = paged(&["--dish", "white-rice", &file("stew-as-rice.toml", BOX)]);
    assert!(page.contains("Judged as White rice, which is usually") && page.contains("Thick stew"), "{page}");
    let (_, text, _) = ran(&KITCHEN, &["--json", "--dish", "beef-stew"]);
    let answer: Value = serde_json::from_str(&text).unwrap();
    assert!(answer["verdict"]["disagreement"].as_str().unwrap().contains("Beef stew"));
}

/// Table, advice and verdict tell one moment in the same words, and none later than it is.
#[test]
fn table_and_verdict_tell_the_same_moments() {
    for (program, dish) in
        [(&KITCHEN, &[][..]), (&RIDGE, &[]), (&KITCHEN, &["--dish", "beef-stew", "--edge-colder", "4 K"])]
    {
        let (_, page, _) = ran(program, dish);
        let row = page.lines().find(|line| line.starts_with("  63 °C")).unwrap();
        let cells: Vec<&str> = row.split("   ").map(str::trim).filter(|cell| !cell.is_empty()).collect();
        let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
        let told = format!(
            "Above it for at least {} after shutting (best estimate {}, at most {}).",
            cells[1], cells[2], cells[3]
        );
        let limit = page.split("keep hot food above 63 °C:").nth(1).unwrap();
        assert!(limit.split(" - ").next().unwrap().contains(&told), "{told}: {limit}");
        assert!(page.contains(&format!("above 63 °C within {}", cells[1])), "{}", cells[1]);
    }
}

/// Beans in a sleeve that were never boiled hard: the page does not begin with when to eat them.
#[test]
fn the_headline_does_not_contradict_the_verdict() {
    let beans = with(RIDGE.default_text, "kind = \"red-lentils\"", "kind = \"red-kidney-beans\"");
    let (_, page, _) = ran(&RIDGE, &[&file("beans.toml", &beans)]);
    let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
    let top = page.split("falls below").next().unwrap();
    assert!(
        top.contains("As planned, it misses \"soak for 5 h") && top.contains("it is not done when it is served"),
        "{top}"
    );
    assert!(top.contains("HOW LONG IT STAYS HOT") && !top.to_lowercase().contains("eat or"), "{top}");
    assert!(page.contains("pour the water away, boil hard"), "{page}");
}

/// A sleeve in the program of the box: the page speaks of a sleeve.
#[test]
fn pages_speak_of_what_was_given() {
    for (program, text, other) in [(&KITCHEN, RIDGE.default_text, "box"), (&RIDGE, KITCHEN.default_text, "sleeve")] {
        let (status, page, err) = ran(program, &[&file(&format!("no-{}.toml", other.len()), text)]);
        assert_eq!((status, err.as_str()), (0, ""));
        // The cautions against flames, and where to set it down, name both.
        let page = page.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        let page = page.replace("cabin or box", "").replace("in a box, tent", "").replace("box or sleeve", "");
        let page = page.replace("no sleeve on a pot", "").replace("makes up for a sleeve", "");
        let found = page.split(|c: char| !c.is_alphabetic()).any(|word| word == other);
        assert!(!found, "{other}: {page}");
    }
}

/// What is left out speaks of what the case says: no default leak where the lid has none, no dry wool where it is damp.
#[test]
fn what_is_left_out_agrees_with_the_case() {
    let page = |text: &str| {
        let (status, page, err) = ran(&KITCHEN, &[&file("left-out.toml", text)]);
        assert_eq!((status, err.as_str()), (0, ""));
        page.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let default = "default range for its kind where the case gives neither its joint nor the leak";
    let nobody = "lets nothing pass. Nobody can build that";
    let plain = page(BOX);
    assert!(plain.contains(default) && !plain.contains(nobody), "{plain}");
    assert!(plain.contains("as dry where the case does not call it damp"), "{plain}");
    let tight = page(&with(BOX, "resting", "tight"));
    assert!(!tight.contains(default) && tight.contains(nobody), "{tight}");
}

/// Loggers and old editors write other encodings: the finding says which one is wanted, for the case and for its log.
#[test]
fn a_file_in_another_encoding_is_told_so() {
    let other = |name: &str, text: &str| {
        let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
        // One byte a character, as before UTF-8.
        std::fs::write(&path, text.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect::<Vec<u8>>()).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let (status, out, err) = ran(&KITCHEN, &[&other("one-byte.toml", BOX)]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(err.contains("one-byte.toml: is not written in UTF-8"), "{err}");
    other("one-byte.csv", "time [min], room [°C]\n0, 16\n60, 12\n");
    let case = file("with-log.toml", &with(BOX, "room = \"16 °C\"", "room = { log = \"one-byte.csv\" }"));
    let (status, out, err) = ran(&KITCHEN, &[&case]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(err.contains("plan.room.log: is not written in UTF-8"), "{err}");
    assert!(err.contains("saved in UTF-8"), "{err}");
}

/// Shares are of all that was lost, whatever gave it; a reheat has a line of its own.
#[test]
fn a_reheat_has_a_line_of_its_own() {
    let text = with(
        KITCHEN.default_text,
        "serve = \"5 h\"",
        "serve = \"5 h\"\nactions = [{ at = \"4 h\", reheat = \"98 °C\" }]",
    );
    let path = file("reheated.toml", &text);
    let (_, page, _) = ran(&KITCHEN, &[&path]);
    let number = |what: &str, at: usize| -> f64 {
        let line =
            page.lines().find(|line| line.trim_start().starts_with(what)).unwrap_or_else(|| panic!("{what}: {page}"));
        let numbers = line.split_whitespace().filter_map(|word| word.parse::<f64>().ok());
        numbers.collect::<Vec<_>>()[at]
    };
    let (lost, pot, reheat) =
        (number("lost in all", 0), number("given up by dish and pot", 0), number("put in by reheating", 0));
    assert!(reheat > 100.0 && (lost - pot - reheat).abs() < 1.5, "{lost} {pot} {reheat}");
    assert!((number("lost in all", 1) - 100.0).abs() < 0.1);
    assert!((number("put in by reheating", 1) - 100.0 * reheat / lost).abs() < 1.0);
    let (_, text, _) = ran(&KITCHEN, &["--json", &path]);
    let answer: Value = serde_json::from_str(&text).unwrap();
    let sum = |wanted: &dyn Fn(&Value) -> bool, key: &str| -> f64 {
        let rows = answer["heat_lost"].as_array().unwrap().iter().filter(|row| wanted(row));
        rows.map(|row| row[key].as_f64().unwrap()).sum()
    };
    let outward = |row: &Value| row["best_kilojoules"].as_f64().unwrap() > 0.0;
    let share = sum(&outward, "share_percent");
    assert!((60.0..=100.5).contains(&share), "what went out, without what is left in the walls: {share}");
}

const COLD: &str = r#"
title = "Ice box"
[pot]
volume = "5 L"
[dish]
kind = "thin-broth"
food = "water-liquid"
mass = "4 kg"
frozen = "25 %"
[box]
gap = "10 mm"
walls = [{ material = "extruded-polystyrene", thickness = "50 mm" }]
[plan]
room = "26 °C"
serve = "12 h"
"#;

/// Kept cold: how long it stays below what was asked, 5 °C if nothing was, and nothing of hot food.
#[test]
fn an_ice_box_makes_a_cold_page() {
    let (status, page, err) = ran(&KITCHEN, &[&file("ice.toml", COLD)]);
    assert_eq!((status, err.as_str()), (0, ""));
    let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
    for wanted in [
        "HOW LONG IT STAYS COLD To have it below 5 °C within",
        "eat it or chill it by then",
        "rises above earliest best latest",
        "WHERE HEAT CAME IN",
        "taken up by dish and pot",
        "the dish starts at: 0 °C, 25 % of it ice",
        "Thin broth, strained: kept cold.",
        "keep cold food at 4.4 °C (40 °F) or below:",
        "Not above it for at least",
        "A thick one is warmer at its edge",
    ] {
        assert!(page.contains(wanted), "{wanted}: {page}");
    }
    for hot in [
        "or reheat",
        "heat it",
        "63 °C",
        "keep hot food",
        "the stove",
        "scald",
        "simmer",
        "steam",
        "from cooking",
        "colder at its edge",
    ] {
        assert!(!page.to_lowercase().contains(hot), "{hot}: {page}");
    }
    let asked = with(COLD, "serve = \"12 h\"", "serve = \"12 h\"\n[questions]\nbelow = [\"8 °C\", \"4 °C\"]");
    let (_, text, _) = ran(&KITCHEN, &["--json", &file("ice-asked.toml", &asked)]);
    let answer: Value = serde_json::from_str(&text).unwrap();
    let held = answer["held"].as_array().unwrap();
    let hours = |at: usize| held[at]["best_hours"].as_f64().unwrap();
    assert!((held[0]["below_celsius"].as_f64().unwrap() - 8.0).abs() < 1e-9 && hours(0) > hours(1), "{held:?}");
    assert_eq!(answer["start_celsius"].as_f64().unwrap(), 0.0);
    assert_eq!(answer["spot"], "dish, at one temperature");
    // A start of its own is refused where ice sets it.
    let warm = with(COLD, "serve = \"12 h\"", "serve = \"12 h\"\nstart = \"4 °C\"");
    let (status, _, err) = ran(&KITCHEN, &[&file("ice-warm.toml", &warm)]);
    assert!(status == 2 && err.contains("plan.start: a dish with ice in it starts at 0 °C, got 4 °C"), "{err}");
}

/// What is solved is not said to be left out.
#[test]
fn solved_edges_are_not_left_out() {
    let solved = with(BOX, "[box]\n", "[box]\nedges = \"solved\"\n");
    assert!(!paged(&[&file("solved.toml", &solved)]).contains("added by a factor"));
    assert!(paged(&[&file("factor.toml", BOX)]).contains("added by a factor"));
}

/// A plug that leaks no less than a resting lid says why.
#[test]
fn a_plug_says_why_it_is_not_better() {
    let plug = with(BOX, "\"resting\"", "\"plug\"");
    assert!(paged(&[&file("plug.toml", &plug)]).contains("unless it is measured narrower"));
    assert!(!paged(&[&file("resting.toml", BOX)]).contains("narrower"));
}
