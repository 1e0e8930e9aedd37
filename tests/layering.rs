//! The house holds together: imports run downwards, files stay small, and the lines of DEVELOPERS.md are not crossed.
//!
//! Every check is a function from text to findings, and is itself tested on made-up text that must give some.

#[path = "layering/callers.rs"]
mod callers;
#[path = "layering/source.rs"]
mod source;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use source::Token;

/// Modules by floor: each may import from lower floors only. `lib.rs` and `prelude.rs` stand outside.
const FLOORS: [(&str, u8); 17] = [
    ("error", 0),
    ("units", 1),
    ("numeric", 1),
    ("document", 2),
    ("material", 3),
    ("network", 3),
    ("correlation", 3),
    ("closed_form", 3),
    ("wall", 4),
    ("march", 4),
    ("conduction", 5),
    ("setup", 6),
    ("study", 7),
    ("food", 7),
    ("case", 8),
    ("report", 8),
    ("prelude", u8::MAX),
];
const LONGEST_FILE: usize = 650;
const PRINTING_AND_STUBS: [&str; 7] = ["print", "println", "eprint", "eprintln", "dbg", "todo", "unimplemented"];
const PANICS: [&str; 2] = ["panic", "unreachable"];
const PANICKING: [&str; 2] = ["unwrap", "expect"];
const TOP_LEVEL: [&str; 11] = [
    "Cargo.toml",
    "Cargo.lock",
    "README.md",
    "DEVELOPERS.md",
    "CHANGELOG.md",
    "CITATION.cff",
    "src",
    "benches",
    "tests",
    "examples",
    "materials",
];
/// In pieces, so that this file does not hold what it looks for.
const FORBIDDEN_TEXT: [&str; 7] = [
    concat!("/wo", "rk/"),
    concat!("/tm", "p/"),
    concat!("/ho", "me/"),
    concat!("/ro", "ot/"),
    concat!("cra", "tes.io"),
    concat!("../sha", "red"),
    concat!("the br", "ief"),
];
const FORBIDDEN_WORDS: [&str; 6] = [
    concat!("a", "i"),
    concat!("ll", "m"),
    concat!("chat", "bot"),
    concat!("trans", "cript"),
    concat!("trans", "cripts"),
    concat!("ses", "sion"),
];
/// Between scheme and host.
const ADDRESS: &str = concat!(":/", "/");
const PROMISES: [&str; 2] = [concat!("sa", "fe"), concat!("sa", "fely")];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Files below a folder, sorted, without what builds leave behind.
fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let Ok(entries) = fs::read_dir(folder) else { return found };
    for entry in entries.flatten() {
        let (path, name) = (entry.path(), entry.file_name());
        if name == "target" || name == ".git" {
            continue;
        }
        if path.is_dir() { found.extend(files(&path)) } else { found.push(path) }
    }
    found.sort();
    found
}

/// Path below the package, with slashes.
fn shown(path: &Path) -> String {
    let root = root();
    let parts = path.strip_prefix(&root).unwrap_or(path).components();
    parts.map(|part| part.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/")
}

struct File {
    name: String,
    text: String,
    tokens: Vec<Token>,
    /// Path of its module below the crate root.
    module: Vec<String>,
}

fn module_of(name: &str) -> Vec<String> {
    let stem = name.trim_start_matches("src/").trim_end_matches(".rs").trim_end_matches("/mod");
    if stem == "lib" { Vec::new() } else { stem.split('/').map(str::to_owned).collect() }
}

fn sources() -> Vec<File> {
    let paths = files(&root().join("src"));
    let rust = paths.iter().filter(|path| path.extension().is_some_and(|e| e == "rs"));
    rust.map(|path| {
        let text = fs::read_to_string(path).unwrap();
        let name = shown(path);
        File { tokens: source::tokens(&text), module: module_of(&name), name, text }
    })
    .collect()
}

fn no_findings(findings: &[String]) {
    assert!(findings.is_empty(), "\n{}\n", findings.join("\n"));
}

/// Imports of a file that do not lead downwards.
fn upward(file: &str, tokens: &[Token], module: &[String], exports: &BTreeMap<String, String>) -> Vec<String> {
    let floors = BTreeMap::from(FLOORS);
    let Some(own) = module.first() else { return Vec::new() };
    let Some(floor) = floors.get(own.as_str()) else { return vec![format!("{file}: {own} is on no floor")] };
    let mut findings = Vec::new();
    for (name, line) in source::root_names(tokens, module) {
        let target = exports.get(&name).unwrap_or(&name);
        match floors.get(target.as_str()) {
            _ if target == own => {}
            None => findings.push(format!("{file}:{line}: {name} is neither a module on a floor nor exported by one")),
            Some(other) if other >= floor => findings.push(format!("{file}:{line}: {own} imports {target} ({name})")),
            Some(_) => {}
        }
    }
    findings
}

#[test]
fn imports_run_downwards() {
    let sources = sources();
    let lib = sources.iter().find(|file| file.module.is_empty()).unwrap();
    let exports: BTreeMap<String, String> = source::exports(&lib.tokens).into_iter().collect();
    assert_eq!(exports["Error"], "error");
    assert_eq!(exports["Wall"], "wall");
    let findings: Vec<String> = sources.iter().flat_map(|f| upward(&f.name, &f.tokens, &f.module, &exports)).collect();
    no_findings(&findings);
    // The reader sees what is there: the bridge leans on both towers.
    let seen: BTreeSet<String> = sources
        .iter()
        .filter(|f| f.module.first().is_some_and(|m| m == "conduction"))
        .flat_map(|f| source::root_names(&f.tokens, &f.module))
        .map(|(name, _)| name)
        .collect();
    assert!(["wall", "network", "march", "units"].iter().all(|m| seen.contains(*m)), "{seen:?}");
}

#[test]
fn the_import_check_sees_every_way_upwards() {
    let exports = BTreeMap::from([("Wall".to_owned(), "wall".to_owned())]);
    let check = |name: &str, text: &str| upward(name, &source::tokens(text), &module_of(name), &exports).len();
    assert_eq!(check("src/wall/layer.rs", "use crate::setup::Pot;"), 1);
    assert_eq!(check("src/wall/layer.rs", "use crate::march::Phase;"), 1, "the same floor");
    assert_eq!(check("src/network/mod.rs", "use crate::{error::Error, Wall, conduction::{a, b}};"), 2);
    assert_eq!(check("src/network/node.rs", "use super::super::wall::Layer;"), 1);
    assert_eq!(check("src/network/node.rs", "mod inner { use super::super::super::wall::Layer; }"), 1);
    assert_eq!(check("src/network/node.rs", "fn f() -> crate::wall::Layer { crate::setup::g() }"), 2);
    assert_eq!(check("src/network/node.rs", "use crate::*;"), 1);
    assert_eq!(check("src/attic/mod.rs", ""), 1, "a module on no floor");
    for fine in [
        "use crate::network::Node; use crate::error::Error; pub(crate) struct A;",
        "use super::wall; mod tests { use super::super::wall; }",
        "// use crate::setup::Pot;\n/* crate::setup /* deep */ crate::wall */",
        r##"const A: &str = "crate::wall"; const B: &str = r#"" crate::wall"#; const C: char = '"';"##,
        "fn f<'a>(a: &'a str) -> &'a str { a }",
    ] {
        assert_eq!(check("src/network/node.rs", fine), 0, "{fine}");
    }
}

/// A file with too much code.
fn too_long(file: &str, text: &str) -> Option<String> {
    let lines = source::code_lines(text);
    (lines > LONGEST_FILE).then(|| format!("{file}: {lines} lines of code"))
}

#[test]
fn no_file_is_too_long() {
    let findings: Vec<String> = sources().iter().filter_map(|f| too_long(&f.name, &f.text)).collect();
    no_findings(&findings);
}

#[test]
fn the_length_check_counts_code_only() {
    assert!(too_long("a", &"x();\n".repeat(LONGEST_FILE + 1)).is_some());
    assert!(too_long("a", &"x();\n// why\n\n/* and\nwhy */\n".repeat(LONGEST_FILE)).is_none());
    assert_eq!(source::code_lines("let a = \"\n// text\n\";\n"), 3);
}

/// Printing, stubs, and panics outside tests.
fn careless(file: &str, tokens: &[Token], test_file: bool) -> Vec<String> {
    let mut calls = source::macro_calls(tokens, &PRINTING_AND_STUBS);
    if !test_file {
        let (kept, _) = source::without_tests(tokens);
        calls.extend(source::macro_calls(&kept, &PANICS));
        calls.extend(source::method_calls(&kept, &PANICKING));
    }
    calls.into_iter().map(|(name, line)| format!("{file}:{line}: {name}")).collect()
}

#[test]
fn nothing_prints_panics_or_is_a_stub() {
    let sources = sources();
    let mut tests = BTreeSet::new();
    for file in &sources {
        for name in source::without_tests(&file.tokens).1 {
            tests.insert([file.module.as_slice(), &[name]].concat());
        }
    }
    assert!(!tests.is_empty(), "the material catalogue has its tests in a file");
    let findings: Vec<String> =
        sources.iter().flat_map(|f| careless(&f.name, &f.tokens, tests.contains(&f.module))).collect();
    no_findings(&findings);
}

#[test]
fn the_panic_check_tells_tests_from_code() {
    let check = |text: &str| careless("a", &source::tokens(text), false).len();
    assert_eq!(check("fn f() { todo!() }"), 1);
    assert_eq!(check("fn f() { println!(\"x\"); dbg!(1); }"), 2);
    assert_eq!(check("fn f() { a.unwrap(); b.expect(\"c\"); panic!() }"), 3);
    assert_eq!(check("#[cfg(test)] use a::b; fn f() { a\n.unwrap() }"), 1);
    assert_eq!(check("#[cfg(test)] mod tests { fn f() { a.unwrap(); } } fn g() { b.unwrap(); }"), 1);
    assert_eq!(check("#[cfg(test)] mod tests { fn f() { println!() } }"), 1, "tests inside src do not print either");
    assert_eq!(check("fn f() { a.unwrap_or(b); unwrap(); self.expected(); } // .unwrap()"), 0);
    assert_eq!(source::without_tests(&source::tokens("#[cfg(test)]\nmod tests;\nmod b;")).1, ["tests"]);
}

/// Machine paths, hosts, addresses, and words about how the project came about.
fn forbidden(file: &str, text: &str) -> Vec<String> {
    let mut findings = Vec::new();
    for (line, row) in (1..).zip(text.lines()) {
        let low = row.to_lowercase();
        let mut find = |what: &str| findings.push(format!("{file}:{line}: {what}"));
        FORBIDDEN_TEXT.iter().filter(|t| low.contains(**t)).for_each(|t| find(t));
        FORBIDDEN_WORDS.iter().filter(|w| source::words(&low).any(|word| word == **w)).for_each(|w| find(w));
        let addresses = low.match_indices(ADDRESS).filter(|(at, _)| !low[at + ADDRESS.len()..].starts_with("doi.org/"));
        addresses.for_each(|_| find("an address that is no DOI"));
        let words: Vec<&str> = source::words(&low).collect();
        let numbered = |w: &&[&str]| w[0] == concat!("iss", "ue") && w[1].starts_with(|ch: char| ch.is_ascii_digit());
        words.windows(2).filter(numbered).for_each(|_| find("a number of the tracker"));
    }
    findings
}

#[test]
fn texts_name_no_machine_host_or_making() {
    let mut findings = Vec::new();
    for path in files(&root()) {
        let name = shown(&path);
        // Written by cargo (the second is not tracked); legal texts as they are published.
        if name == "Cargo.lock" || name == "benches/peers/Cargo.lock" || name.starts_with("LICENSE-") {
            continue;
        }
        if let Ok(text) = fs::read_to_string(&path) {
            findings.extend(forbidden(&name, &text));
        }
    }
    no_findings(&findings);
}

#[test]
fn the_text_check_finds_each_kind() {
    for text in FORBIDDEN_TEXT.iter().chain(&FORBIDDEN_WORDS) {
        assert_eq!(forbidden("a", &format!("see {text} there")).len(), 1, "{text}");
    }
    assert_eq!(forbidden("a", &format!("https{ADDRESS}example.org/page")).len(), 1);
    assert_eq!(forbidden("a", concat!("Iss", "ue 7")).len(), 1);
    for fine in ["https://doi.org/10.1000/1", "a brief limit of 120 °C", "said, air, obsession", "an issue of air"] {
        assert_eq!(forbidden("a", fine), Vec::<String>::new());
    }
}

/// Words that promise what no computation can.
fn promises(file: &str, text: &str) -> Vec<String> {
    let rows = (1..).zip(text.lines());
    let promising = |row: &str| source::words(&row.to_lowercase()).any(|word| PROMISES.contains(&word));
    rows.filter(|(_, row)| promising(row)).map(|(line, row)| format!("{file}:{line}: {row}")).collect()
}

#[test]
fn nothing_promises() {
    let mut spoken = vec![root().join("README.md")];
    ["src", "examples", "materials"].iter().for_each(|folder| spoken.extend(files(&root().join(folder))));
    let read = |path: &PathBuf| fs::read_to_string(path).map(|text| promises(&shown(path), &text)).unwrap_or_default();
    let findings: Vec<String> = spoken.iter().flat_map(read).collect();
    no_findings(&findings);
}

#[test]
fn the_promise_check_knows_its_words() {
    assert_eq!(promises("a", concat!("It is sa", "fe to eat.")).len(), 1);
    assert_eq!(promises("a", concat!("Sa", "fely done")).len(), 1);
    assert_eq!(promises("a", "food-safety rules; unsafe; safety"), Vec::<String>::new());
}

fn strange(names: &[String]) -> Vec<&String> {
    let known = |name: &str| name.starts_with('.') || name.starts_with("LICENSE-") || name == "target";
    names.iter().filter(|name| !known(name) && !TOP_LEVEL.contains(&name.as_str())).collect()
}

#[test]
fn the_top_level_holds_what_belongs_there() {
    let names: Vec<String> =
        fs::read_dir(root()).unwrap().map(|e| e.unwrap().file_name().to_string_lossy().into_owned()).collect();
    assert!(strange(&names).is_empty(), "{:?}", strange(&names));
    assert!(["Cargo.toml", "README.md", "LICENSE-MIT", "src"].iter().all(|n| names.iter().any(|m| m == n)));
    assert_eq!(strange(&["notes.txt".to_owned(), "src".to_owned(), ".ci".to_owned()]), ["notes.txt"]);
}

/// Source files that the layout in DEVELOPERS.md does not name, and names there that are no files.
fn layout(developers: &str, names: &BTreeSet<String>) -> Vec<String> {
    let told: BTreeSet<String> =
        developers.split('`').filter(|t| t.starts_with("src/") && t.ends_with(".rs")).map(str::to_owned).collect();
    let missing = names.difference(&told).map(|name| format!("{name} is not in DEVELOPERS.md"));
    missing.chain(told.difference(names).map(|name| format!("{name} of DEVELOPERS.md is no file"))).collect()
}

#[test]
fn the_layout_is_told_file_by_file() {
    let names: BTreeSet<String> = sources().into_iter().map(|file| file.name).collect();
    no_findings(&layout(&fs::read_to_string(root().join("DEVELOPERS.md")).unwrap(), &names));
    let two = BTreeSet::from(["src/a.rs".to_owned(), "src/b.rs".to_owned()]);
    assert_eq!(layout("- `src/a.rs`: one\n- `src/c.rs`: three", &two).len(), 2);
}
