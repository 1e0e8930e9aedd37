//! Bad case files, each held to its key path, its line and what would be accepted.

use super::{BOX, SLEEVE, findings, line_of, with};
use stillhot::ErrorKind::{self, Data, Inconsistent, OutOfRange, Unit, UnknownName};

/// What is spoiled, and the one finding it must give.
pub struct Bad {
    base: &'static str,
    old: &'static str,
    new: &'static str,
    /// Text on whose line the finding is; empty for a key that is missing from the whole file (line 1).
    on: &'static str,
    key: &'static str,
    kind: ErrorKind,
    accepted: &'static str,
}

#[allow(clippy::too_many_arguments, reason = "a row of a table")]
pub const fn bad(
    base: &'static str,
    old: &'static str,
    new: &'static str,
    on: &'static str,
    key: &'static str,
    kind: ErrorKind,
    accepted: &'static str,
) -> Bad {
    Bad { base, old, new, on, key, kind, accepted }
}

const EPS: &str = "\"expanded-polystyrene-20\", thickness = \"50 mm\"";
const SECOND: &str = "box.walls[3].thickness";

#[rustfmt::skip]
const SPOILED: &[Bad] = &[
    // Numbers.
    bad(BOX, EPS, "\"expanded-polystyrene-20\", thickness = \"nan mm\"", "nan mm", SECOND, Unit, "a length with its unit"),
    bad(BOX, EPS, "\"expanded-polystyrene-20\", thickness = \"inf mm\"", "inf mm", SECOND, Unit, "a length with its unit"),
    bad(BOX, EPS, "\"expanded-polystyrene-20\", thickness = \"-3 mm\"", "-3 mm", SECOND, OutOfRange, "0.001 mm to 10 m"),
    bad(BOX, EPS, "\"expanded-polystyrene-20\", thickness = \"0 mm\"", "\"0 mm", SECOND, OutOfRange, "0.001 mm to 10 m"),
    bad(BOX, "6 kg", "-6 kg", "-6 kg", "dish.mass", OutOfRange, "10 g to 500 kg"),
    bad(BOX, "7 L", "0 L", "0 L", "pot.volume", OutOfRange, "100 mL to 100 L"),
    bad(BOX, "7 L", "1e400 L", "1e400", "pot.volume", Unit, "7 L"),
    bad(BOX, "\"15 mm\"", "\"2 m\"", "\"2 m\"", "box.gap", OutOfRange, "0 mm to 1 m"),
    bad(BOX, "{ gap = \"1 mm\" }", "{ gap = \"6 mm\" }", "6 mm", "box.walls[2].gap", OutOfRange, "0.001 mm to 5 mm"),
    bad(BOX, "\"16 °C\"", "\"200 °C\"", "200", "plan.room", OutOfRange, "-60 °C to 150 °C"),
    bad(BOX, "\"16 °C\"", "\"-300 °C\"", "-300", "plan.room", Unit, "98 °C"),
    bad(BOX, "serve = \"6 h\"", "wind = \"-2 m/s\"", "-2 m/s", "plan.wind", OutOfRange, "0 m/s to 20 m/s"),
    bad(BOX, "serve = \"6 h\"", "height = \"9000 m\"", "9000", "plan.height", OutOfRange, "-400 m to 6000 m"),
    bad(BOX, "serve = \"6 h\"", "carry = \"3 h\"", "3 h", "plan.carry", OutOfRange, "0 s to 2 h"),
    bad(BOX, "serve = \"6 h\"", "simmer = \"-1 min\"", "-1 min", "plan.simmer", OutOfRange, "0 s to 24 h"),
    bad(BOX, "serve = \"6 h\"", "start = \"160 °C\"", "160", "plan.start", OutOfRange, "-30 °C to 150 °C"),
    bad(BOX, "serve = \"6 h\"", "serve = \"30 h\"", "30 h", "plan.serve", OutOfRange, "0 s to 24 h"),
    bad(BOX, "horizon = \"24 h\"", "horizon = \"0 h\"", "\"0 h", "options.horizon", OutOfRange, "1 min to 1440 h"),
    bad(BOX, "horizon = \"24 h\"", "cells = 2", "cells", "options.cells", OutOfRange, "3 to 200"),
    bad(BOX, "horizon = \"24 h\"", "cells = 6.5", "cells", "options.cells", OutOfRange, "a whole number"),
    bad(BOX, "horizon = \"24 h\"", "steps = -1", "steps", "options.steps", OutOfRange, "a whole number"),
    bad(BOX, "horizon = \"24 h\"", "step-error = \"2 K\"", "2 K", "options.step-error", OutOfRange, "1e-6 K to 1 K"),
    bad(BOX, "\"60 °C\"", "\"600 °C\"", "above", "questions.above[2]", OutOfRange, "-30 °C to 150 °C"),
    bad(BOX, "[\"75 °C\", \"60 °C\"]", "[]", "above", "questions.above", OutOfRange, "1 to 20"),
    bad(SLEEVE, "\"2 mm\"", "\"60 mm\"", "60 mm", "sleeve.gap", OutOfRange, "0 mm to 50 mm"),
    bad(SLEEVE, "\"110 mm\"", "\"11 mm\"", "11 mm", "pot.diameter", OutOfRange, "30 mm to 1 m"),
    bad(SLEEVE, "\"90 mm\"", "\"2 m\"", "\"2 m\"", "pot.height", OutOfRange, "20 mm to 1 m"),
    bad(SLEEVE, "\"0.5 mm\"", "\"0.05 mm\"", "0.05 mm", "pot.metal-thickness", OutOfRange, "0.1 mm to 20 mm"),
    bad(SLEEVE, "metal = \"titanium\"", "metal = \"titanium\"\nmass = \"1 g\"", "\"1 g\"", "pot.mass", OutOfRange, "10 g to 100 kg"),
    bad(SLEEVE, "\"1050 kg/m3\"", "\"50 kg/m3\"", "\"50 kg", "dish.density", OutOfRange, "200 kg/m3 to 2000 kg/m3"),
    bad(SLEEVE, "\"3400 J/(kg K)\"", "\"340 J/(kg K)\"", "heat-cap", "dish.heat-capacity", OutOfRange, "500 J/(kg K) to 6000 J/(kg K)"),
    bad(SLEEVE, "\"0.003 W/K\"", "\"0.02 W/K\"", "leak", "sleeve.lid.leak", OutOfRange, "low <= best <= high"),
    bad(SLEEVE, "\"0.003 W/K\"", "\"-1 W/K\"", "leak", "sleeve.lid.leak", OutOfRange, "0 W/K to 100 W/K"),
    bad(SLEEVE, "\"0.003 W/K\", ", "", "leak", "sleeve.lid.leak", Data, "[\"low\", \"best\", \"high\"]"),
    bad(SLEEVE, "\"0.02 m2 K/W\"", "\"200 m2 K/W\"", "200", "sleeve.layers[2].resistance", OutOfRange, "0 m2 K/W to 100 m2 K/W"),
    // Units.
    bad(BOX, EPS, "\"expanded-polystyrene-20\", thickness = \"50\"", "\"50\"", SECOND, Unit, "a length with its unit"),
    bad(BOX, EPS, "\"expanded-polystyrene-20\", thickness = 50", "= 50 ", SECOND, Data, "in quotes with its unit, for example \"50 mm\""),
    bad(BOX, "7 L", "7 quarts", "quarts", "pot.volume", Unit, "a volume with its unit"),
    bad(BOX, "7 L", "7 kg", "7 kg", "pot.volume", Unit, "7 L"),
    bad(BOX, "\"16 °C\"", "\"16\"", "\"16\"", "plan.room", Unit, "98 °C"),
    bad(BOX, "\"6 h\"", "\"6 K\"", "6 K", "plan.serve", Unit, "6 h"),
    bad(BOX, "horizon = \"24 h\"", "step-error = \"0.02 °C\"", "0.02", "options.step-error", Unit, "33 K"),
    // Names and words.
    bad(BOX, EPS, "\"expanded-polystyren-20\", thickness = \"50 mm\"", "polystyren-", "box.walls[3].material", UnknownName, "expanded-polystyrene-20"),
    bad(BOX, "thick-stew", "thick-stow", "stow", "dish.food", UnknownName, "thick-stew"),
    bad(BOX, "thick-stew", "carbon-steel", "carbon", "dish.food", UnknownName, "water-liquid"),
    bad(SLEEVE, "\"titanium\"", "\"titanum\"", "titanum", "pot.metal", UnknownName, "titanium"),
    bad(BOX, "\"resting\"", "\"leaning\"", "leaning", "box.lid.closing", Data, "resting, pressed, gasketed, plug, tight"),
    // Keys and kinds.
    bad(BOX, "serve =", "serv =", "serv =", "plan.serv", Data, "serve"),
    bad(BOX, "[questions]
above", "[question]
above", "[question]", "question", Data, "questions"),
    bad(BOX, "closing = \"resting\"", "gasket = true", "gasket", "box.lid.gasket", Data, "layers, closing, joint, leak"),
    bad(BOX, "food = \"thick-stew\"", "", "[dish]", "dish.food", Data, "heat-capacity = "),
    bad(BOX, "mass = \"6 kg\"", "", "[dish]", "dish.mass", Data, "mass = \"2.5 kg\""),
    bad(BOX, "gap = \"15 mm\"", "", "[box]", "box.gap", Data, "inner-width, inner-depth and inner-height"),
    bad(BOX, "gap = \"15 mm\"", "inner-width = \"1 m\"\ninner-depth = \"1 m\"", "[box]", "box.inner-height", Data, "inner-height = \"300 mm\""),
    bad(SLEEVE, "metal-thickness = \"0.5 mm\"", "", "[pot]", "pot.metal-thickness", Data, "metal-thickness = \"0.8 mm\""),
    bad(SLEEVE, "height = \"90 mm\"", "", "[pot]", "pot.height", Data, "height = \"180 mm\""),
    bad(BOX, "\"7 L\"", "[\"7 L\"]", "[\"7 L\"]", "pot.volume", Data, "a volume in quotes with its unit"),
    bad(BOX, "[\"75 °C\", \"60 °C\"]", "\"75 °C\"", "above", "questions.above", Data, "an array in square brackets"),
    bad(BOX, "[box.lid]\nclosing = \"resting\"", "lid = \"resting\"", "lid =", "box.lid", Data, "a table of keys"),
    bad(BOX, "{ gap = \"1 mm\" }", "{ width = \"1 mm\" }", "width", "box.walls[2]", Data, "{ material = \"...\", thickness = \"50 mm\" }"),
    bad(BOX, "{ gap = \"1 mm\" }", "\"air\"", "\"air\"", "box.walls[2]", Data, "a table of keys"),
    bad(BOX, EPS, "\"expanded-polystyrene-20\"", "polystyrene", SECOND, Data, "thickness = \"50 mm\""),
    // What does not fit together.
    bad(BOX, "6 kg", "9 kg", "9 kg", "dish.mass", Inconsistent, "of this dish in 7 L"),
    bad(BOX, "gap = \"15 mm\"", "inner-width = \"200 mm\"\ninner-depth = \"300 mm\"\ninner-height = \"300 mm\"", "200 mm", "box.inner-width", Inconsistent, "at least 223.3 mm"),
    bad(BOX, "gap = \"15 mm\"", "gap = \"15 mm\"\ninner-width = \"300 mm\"", "[box]", "box", Inconsistent, "gap = \"15 mm\", or inner-width"),
    bad(BOX, "volume = \"7 L\"", "volume = \"7 L\"\ndiameter = \"220 mm\"\nheight = \"180 mm\"", "[pot]", "pot", Inconsistent, "volume = \"7 L\", or diameter"),
    bad(BOX, "food = \"thick-stew\"", "food = \"thick-stew\"\ndensity = \"1000 kg/m3\"", "[dish]", "dish", Inconsistent, "food, or heat-capacity, density and conductivity"),
    bad(BOX, "{ material = \"cotton-woven-cloth\", thickness = \"1 mm\" },", "", "{ gap", "box.walls[1]", Inconsistent, "a layer before it and a layer after it"),
    bad(BOX, "{ material = \"expanded-polystyrene-20\", thickness = \"50 mm\" },", "", "{ gap", "box.walls[2]", Inconsistent, "a layer before it and a layer after it"),
    bad(BOX, "{ gap = \"1 mm\" }", "{ gap = \"1 mm\", resistance = \"0.1 m2 K/W\" }", "resistance", "box.walls[2]", Inconsistent, "gap or resistance"),
    bad(BOX, "[box.lid]", "[box.base]\nlayers = []\n[box.lid]", "layers = []", "box.base.layers", Inconsistent, "from the inside to the outside"),
    bad(BOX, "[plan]", "[sleeve]\nlayers = [{ material = \"kapok\", thickness = \"20 mm\" }]\n[plan]", "[sleeve]", "sleeve", Inconsistent, "one section [box] or one section [sleeve]"),
];

#[test]
fn one_fault_gives_one_finding_at_its_place() {
    assert!(SPOILED.len() >= 60, "{}", SPOILED.len());
    each_gives_its_finding(SPOILED);
}

pub fn each_gives_its_finding(spoiled: &[Bad]) {
    let mut wrong = Vec::new();
    for bad in spoiled {
        let text = with(bad.base, bad.old, bad.new);
        let findings = findings(&text);
        let path = format!("test.toml, line {}, {}", line_of(&text, bad.on), bad.key);
        let found = findings.len() == 1
            && findings[0].path() == path
            && findings[0].kind() == bad.kind
            && (findings[0].accepted().is_some_and(|accepted| accepted.contains(bad.accepted))
                || findings[0].nearest().iter().any(|near| near.contains(bad.accepted)));
        if !found {
            let list: Vec<String> = findings.iter().map(|f| format!("    {:?} {f}", f.kind())).collect();
            wrong.push(format!(
                "{:?}: wanted {:?} {path}, accepted {:?}, found\n{}",
                bad.new,
                bad.kind,
                bad.accepted,
                list.join("\n")
            ));
        }
    }
    assert!(wrong.is_empty(), "{} of {}\n{}", wrong.len(), spoiled.len(), wrong.join("\n"));
}

/// The findings of a text, one for each of these keys and no other.
pub fn tells_exactly(text: &str, wanted: &[&str]) -> Vec<stillhot::Error> {
    let findings = findings(text);
    let mut found: Vec<String> = findings.iter().map(|f| f.path().rsplit(", ").next().unwrap().to_owned()).collect();
    let mut wanted = wanted.to_vec();
    wanted.sort_unstable();
    found.sort_unstable();
    assert_eq!(found, wanted);
    findings
}

#[test]
fn what_was_given_stands_in_the_finding() {
    for (old, new, value) in [
        ("6 kg", "-6 kg", "-6 kg"),
        ("\"resting\"", "\"leaning\"", "leaning"),
        ("serve =", "serv =", "serv"),
        ("7 L", "7 quarts", "\"7 quarts\""),
        ("thick-stew", "thick-stow", "\"thick-stow\""),
        ("\"7 L\"", "[\"7 L\"]", "array"),
    ] {
        assert_eq!(findings(&with(BOX, old, new))[0].value(), Some(value), "{new}");
    }
}

/// The nearest names are offers; what is accepted is told beside them.
#[test]
fn nearest_names_are_no_list_of_what_is_accepted() {
    let key = &findings(&with(BOX, "serve =", "serv ="))[0];
    assert_eq!((key.nearest(), key.line()), (&["serve".to_owned()][..], Some(18)));
    assert!(key.accepted().unwrap().starts_with("room, sky, height"), "{key}");
    let told = key.to_string();
    assert!(told.contains("; nearest: serve; accepted: room, sky"), "{told}");
    let food = &findings(&with(BOX, "thick-stew", "thick-stow"))[0];
    assert_eq!(food.nearest()[0], "thick-stew");
    assert!(food.accepted().unwrap().contains("water-liquid"), "{food}");
    let none = &findings(&with(BOX, "thick-stew", "qqqq"))[0];
    assert!(none.nearest().is_empty() && !none.to_string().contains("nearest"), "{none}");
}

/// What damp does to a foam is not known: no factor is made up, and the finding names those of which it is.
#[test]
fn damp_of_what_takes_up_none_is_refused() {
    let wall = "thickness = \"50 mm\"";
    let text = with(BOX, wall, &format!("{wall}, damp = true"));
    let found = findings(&text);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!(found[0].path(), format!("test.toml, line {}, box.walls[3].damp", line_of(&text, "damp")));
    assert_eq!(found[0].value(), Some("expanded-polystyrene-20"));
    assert!(found[0].accepted().unwrap().contains("hay-loose"), "{}", found[0]);
    let found = findings(&with(BOX, wall, &format!("{wall}, damp = \"very\"")));
    assert_eq!((found.len(), found[0].kind()), (1, ErrorKind::Data), "{found:#?}");
}

#[test]
fn syntax_is_told_with_its_line() {
    for (old, new, on) in [
        ("volume = \"7 L\"", "volume = \"7 L\"\nvolume = \"8 L\"", "volume = \"8 L\""),
        ("[plan]", "[box.base]\nlayers = []\n[box.base]\n[plan]", "[box.base]\n[plan]"),
        ("[plan]", "[box.lid]\n[plan]", "[box.lid]\n[plan]"),
        ("\"16 °C\"", "16 °C", "16 °C"),
        ("\"6 h\"", "\"6 h", "\"6 h"),
    ] {
        let text = with(BOX, old, new);
        let findings = findings(&text);
        assert_eq!(findings[0].kind(), Data, "{}", findings[0]);
        assert!(findings[0].problem().starts_with("syntax: "), "{}", findings[0]);
        assert_eq!(findings[0].path(), format!("test.toml, line {}", line_of(&text, on)), "{}", findings[0]);
    }
    // What stands there is shown: which key there is twice.
    let found = findings(&with(BOX, "volume = \"7 L\"", "volume = \"7 L\"\nvolume = \"8 L\""));
    assert_eq!(found[0].value(), Some("volume"), "{}", found[0]);
}

#[test]
fn what_is_no_case_at_all_is_told() {
    for text in ["Soup for eight, please.", "{\"pot\": \"7 L\"}", "\u{0}\u{1}", "[[[["] {
        let findings = findings(text);
        assert!(findings.iter().all(|finding| finding.problem().starts_with("syntax: ")), "{text:?}: {findings:?}");
        assert!(findings[0].path().starts_with("test.toml, line 1"), "{}", findings[0]);
    }
    // An empty file lacks everything, and is told all of it.
    for empty in ["", "\n\n# nothing yet\n"] {
        let findings = findings(empty);
        let told: Vec<String> =
            findings.iter().map(|finding| format!("{}: {}", finding.path(), finding.problem())).collect();
        assert_eq!(told, ["pot", "dish", "box", "plan"].map(|key| format!("test.toml, line 1, {key}: missing key")));
        assert_eq!(findings[2].accepted(), Some("one section [box] or one section [sleeve]"));
    }
}

#[test]
fn a_wall_without_layers_is_told_once_and_a_face_without_wall_by_name() {
    let walls = &BOX[BOX.find("walls").unwrap()..BOX.find("[box.lid]").unwrap()];
    let empty = findings(&with(BOX, walls, "walls = []\n"));
    assert_eq!(empty.len(), 1);
    assert_eq!(empty[0].path(), "test.toml, line 9, box.walls");
    assert_eq!(empty[0].problem(), "a wall needs at least one layer");
    let none = findings(&with(BOX, walls, ""));
    assert_eq!(none.len(), 1);
    assert_eq!(none[0].path(), "test.toml, line 7, box.walls");
    assert!(none[0].accepted().unwrap().contains("none for the lid"), "{}", none[0]);
}

#[test]
fn two_contacts_in_a_row_are_both_out_of_place() {
    let findings = findings(&with(BOX, "{ gap = \"1 mm\" },", "{ gap = \"1 mm\" }, { resistance = \"0.1 m2 K/W\" },"));
    let paths: Vec<String> = findings.iter().map(stillhot::Error::path).collect();
    assert_eq!(paths, ["test.toml, line 11, box.walls[2]", "test.toml, line 11, box.walls[3]"]);
}

#[test]
fn no_finding_hides_another() {
    let text = r#"
title = 7
[pot]
volume = "7"
mass = "2 min"
[dish]
food = "thik-stew"
mass = 6
[box]
gap = "-1 mm"
walls = [
  { material = "corck", thickness = "0 mm" },
  { gap = "9 mm" },
  { material = "plywood", thicknes = "9 mm" },
]
[box.lid]
closing = "ajar"
leak = ["3 W/K", "2 W/K", "1 W/K"]
[box.base]
layers = [{ gap = "1 mm" }]
[plan]
rom = "12 °C"
wind = "-1 m/s"
height = "9000 m"
serve = "100 d"
[questions]
above = ["75", "63 °C", "60 K/W"]
[options]
horizon = "0 h"
cells = 1
[material.own]
name = "Own"
[speed]
"#;
    let wanted = [
        "speed",
        "title",
        "material.own.category",
        "pot.volume",
        "pot.mass",
        "dish.food",
        "dish.mass",
        "box.gap",
        "box.walls[1].material",
        "box.walls[1].thickness",
        "box.walls[2].gap",
        "box.walls[3].thicknes",
        "box.walls[3].thickness",
        "box.lid.closing",
        "box.lid.leak",
        "box.base.layers",
        "box.base.layers[1]",
        "plan.rom",
        "plan.room",
        "plan.wind",
        "plan.height",
        "plan.serve",
        "questions.above[1]",
        "questions.above[3]",
        "options.horizon",
        "options.cells",
    ];
    let findings = tells_exactly(text, &wanted);
    // From the top of the file to its end, as one mends it.
    assert!(findings.iter().all(|finding| finding.line().is_some()));
    assert!(findings.is_sorted_by_key(stillhot::Error::line), "{findings:#?}");
    for finding in &findings {
        assert!(finding.path().starts_with("test.toml, line "), "{finding}");
        assert!(finding.accepted().is_some(), "{finding}");
    }
}

#[test]
fn own_materials_are_held_to_the_form_of_the_catalogue() {
    let own = "[material.cork-granules-loose]\nname = \"Mine\"\n[plan]";
    let taken = findings(&with(BOX, "[plan]", own));
    assert_eq!(taken.len(), 1);
    assert!(taken[0].path().ends_with("material.cork-granules-loose"), "{}", taken[0]);
    assert_eq!(taken[0].accepted(), Some("an id that is not taken"));
}

/// Every prefix of a right file and every file with one line gone is read or refused with places, never a panic.
#[test]
fn torn_files_are_answered() {
    for base in [BOX, SLEEVE] {
        let lines: Vec<&str> = base.lines().collect();
        for gone in 0..lines.len() {
            let rest: Vec<&str> =
                lines.iter().enumerate().filter(|(at, _)| *at != gone).map(|(_, line)| *line).collect();
            check(&rest.join("\n"));
        }
        for (at, _) in base.char_indices() {
            check(&base[..at]);
        }
    }
    fn check(text: &str) {
        if let Err(findings) = stillhot::case::Case::read(text, "test.toml") {
            assert!(!findings.is_empty());
            assert!(findings.iter().all(|finding| finding.path().starts_with("test.toml, line ")));
        }
    }
}
