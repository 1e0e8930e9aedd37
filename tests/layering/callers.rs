//! Published relations that something in the library uses: whom each function of `correlation` calls, and who calls it.

use super::source::{self, Token};
use super::{File, no_findings, sources};
use std::collections::{BTreeMap, BTreeSet};

/// A function of `correlation`.
struct Relation {
    /// The name that callers write before it: its module, or the type that it belongs to.
    of: String,
    public: bool,
    /// What is said of it where nothing uses it.
    finding: String,
    /// Words of its body with the word before each, where it is reached by a path, a method call or a plain call.
    words: BTreeSet<(String, String)>,
}

/// Words with what stands before them: the name before a `::` (that of a group in an import, too), `.` of a method call, or
/// nothing before a plain word.
fn words(tokens: &[Token]) -> BTreeSet<(String, String)> {
    let text = |i: usize| tokens.get(i).map_or("", |t| t.text.as_str());
    let path = |i: usize| if i >= 2 && text(i - 1) == "::" { text(i - 2) } else { "" };
    let mut found = BTreeSet::new();
    // What each open brace is a group of, if it is one.
    let mut groups = Vec::new();
    for i in 0..tokens.len() {
        match text(i) {
            "{" => groups.push(path(i)),
            "}" => drop(groups.pop()),
            _ => {}
        }
        let before = match i.checked_sub(1).map_or("", text) {
            "::" => path(i),
            "." if text(i + 1) == "(" => ".",
            "." => continue,
            "{" | "," => groups.last().copied().unwrap_or_default(),
            _ => "",
        };
        found.insert((before.to_owned(), text(i).to_owned()));
    }
    found
}

/// The functions of a file of `correlation`, with their bodies.
fn functions(file: &str, module: &[String], tokens: &[Token]) -> Vec<(String, Relation)> {
    // Callers reach what lies in `leak` by that name alone.
    let home = module.get(1).cloned().unwrap_or_default();
    let text = |i: usize| tokens.get(i).map_or("", |t| t.text.as_str());
    let mut found = Vec::new();
    let (mut depth, mut of) = (0, home.clone());
    let mut i = 0;
    while i < tokens.len() {
        match text(i) {
            "impl" if depth == 0 => of = text(i + 1).to_owned(),
            "{" => depth += 1,
            "}" => {
                depth -= 1;
                if depth == 0 {
                    of.clone_from(&home);
                }
            }
            "fn" => {
                let public = i > 0 && text(i - 1) == "pub";
                let mut open = i;
                while !matches!(text(open), "{" | "") {
                    open += 1;
                }
                let (mut end, mut inner) = (open, 0);
                while end < tokens.len() {
                    match text(end) {
                        "{" => inner += 1,
                        "}" => inner -= 1,
                        _ => {}
                    }
                    end += 1;
                    if inner == 0 {
                        break;
                    }
                }
                let finding = format!("{file}:{}: nothing uses {}", tokens[i].line, text(i + 1));
                let words = words(&tokens[open..end]);
                found.push((text(i + 1).to_owned(), Relation { of: of.clone(), public, finding, words }));
                i = end - 1;
            }
            _ => {}
        }
        i += 1;
    }
    found
}

/// Public functions of `correlation` that nothing outside it uses, and no function of it that is used.
fn without_caller(files: &[(String, Vec<String>, Vec<Token>)]) -> Vec<String> {
    let (inside, outside): (Vec<_>, Vec<_>) =
        files.iter().partition(|(_, module, _)| module.first().is_some_and(|m| m == "correlation"));
    let mut relations: BTreeMap<String, Vec<Relation>> = BTreeMap::new();
    for (file, module, tokens) in &inside {
        for (name, relation) in functions(file, module, tokens) {
            relations.entry(name).or_default().push(relation);
        }
    }
    let called = |words: &BTreeSet<(String, String)>, name: &str, relation: &Relation, bare: bool| {
        let by = |before: &str| words.contains(&(before.to_owned(), name.to_owned()));
        by(&relation.of) || by(".") || by("Self") || (bare && by(""))
    };
    let mut used: BTreeSet<String> = BTreeSet::new();
    let mut fresh: Vec<BTreeSet<(String, String)>> = outside.iter().map(|(_, _, tokens)| words(tokens)).collect();
    // Outside, a plain word counts only where the function itself is imported: by its path, which names its module.
    let mut bare = false;
    while !fresh.is_empty() {
        let mut next = Vec::new();
        for (name, list) in &relations {
            for relation in list {
                if !used.contains(&relation.finding) && fresh.iter().any(|w| called(w, name, relation, bare)) {
                    used.insert(relation.finding.clone());
                    next.push(relation.words.clone());
                }
            }
        }
        (fresh, bare) = (next, true);
    }
    let unused = |relation: &&Relation| relation.public && !used.contains(&relation.finding);
    let checked = |(name, _): &(&String, &Vec<Relation>)| !CHECKED.contains(&name.as_str());
    let list = relations.iter().filter(checked).flat_map(|(_, list)| list);
    list.filter(unused).map(|relation| relation.finding.clone()).collect()
}

/// Relations that no forecast needs: published worked examples and tables stand on them, which people check a program
/// against (`tests/correlation.rs`, `tests/leaks.rs`).
const CHECKED: [&str; 12] = [
    "cavity_iso_10077_2",
    "evaporation_dunkle_1961",
    "friction_factor_blasius",
    "horizontal_gap_holman",
    "leakage_area",
    "liquid_conductivity_patek_2009",
    "liquid_viscosity_patek_2009",
    "orifice_flow",
    "power_law_flow",
    "single_opening_stack_ashrae",
    "turbulent_slit_flow_blasius",
    "viscous_exchange_sharp",
];

#[test]
fn every_published_relation_has_a_caller() {
    let prepared = |file: File| (file.name, file.module, source::without_tests(&file.tokens).0);
    // Tests that have a file of their own call everything.
    let tests = |file: &File| file.name.ends_with("/hostile_inputs.rs");
    let files: Vec<_> = sources().into_iter().filter(|file| !tests(file)).map(prepared).collect();
    no_findings(&without_caller(&files));
}

#[test]
fn the_search_for_callers_knows_a_call() {
    let file = |name: &str, text: &str| {
        (name.to_owned(), super::module_of(name), source::without_tests(&source::tokens(text)).0)
    };
    let air = file(
        "src/correlation/air.rs",
        "pub fn lone() {} pub fn used() { step() } fn step() { other::deep() } \
         pub struct Gas; impl Gas { pub fn method(&self) {} pub fn made() {} pub fn idle(&self) {} }",
    );
    let other = file("src/correlation/other.rs", "pub fn deep() {} pub fn tested() {} pub fn picked() {}");
    let user = file(
        "src/setup/pot.rs",
        "use crate::correlation::{air, other::{a, picked}}; \
         fn f() { air::used(); x.method(); let g = air::Gas::made; let lone = x.idle; } \
         #[cfg(test)] mod tests { fn t() { other::tested() } }",
    );
    let found = without_caller(&[air, other, user]);
    let names: Vec<&str> = found.iter().map(|f| f.rsplit(' ').next().unwrap()).collect();
    assert_eq!(names, ["idle", "lone", "tested"], "{found:?}");
}
