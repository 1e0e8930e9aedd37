//! What the README says came out is what comes out.

#[allow(dead_code, reason = "the tests need less of it than the programs")]
#[path = "../examples/common/mod.rs"]
mod common;

use stillhot::material::Catalogue;
use stillhot::prelude::*;

const README: &str = include_str!("../README.md");

/// The sample of the README; that its text compiles is a doc test.
fn sample() -> Result<String, stillhot::Error> {
    let pot = Pot::typical(litres(7.0)).with(Dish::named("broth-thin-soup")?, kilograms(6.0));
    let bin =
        Enclosure::lined("expanded-cork-board", millimetres(50.0))?.around(&pot, millimetres(15.0)).lid(Lid::resting());
    let plan = Plan::in_room(celsius(16.0)).simmer(minutes(15.0)).shut().serve_after(hours(7.0));
    let forecast = Setup::new(pot, bin)?.forecast(&plan)?;
    Ok(format!("above 63 °C: {}", forecast.above(celsius(63.0))?))
}

#[test]
fn the_sample_prints_what_the_readme_shows() {
    let line = sample().unwrap();
    assert!(README.contains(&format!("`{line}`")), "{line}");
}

#[test]
fn the_page_of_the_first_command_is_the_one_shown() {
    let program = common::Program {
        name: "kitchen_box",
        about: "",
        default_name: "examples/kitchen_box.toml",
        default_text: include_str!("../examples/kitchen_box.toml"),
        fuel: "lpg-hob",
        meals: None,
    };
    let (mut out, mut err) = (Vec::new(), Vec::new());
    assert_eq!(common::run(&program, &[], &mut out, &mut err), 0, "{}", String::from_utf8_lossy(&err));
    let page = String::from_utf8(out).unwrap();
    let shown = README.split("```text\n").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    assert!(shown.lines().count() > 5 && page.contains(shown), "{page}");
}

#[test]
fn numbers_of_cases_and_materials_are_up_to_date() {
    let cases = include_str!("conduction/transient.toml").matches("[[case]]").count();
    assert!(README.contains(&format!("{cases} transient problems")), "{cases}");
    let materials = Catalogue::embedded().iter().count();
    assert!(README.contains(&format!("{materials} generic materials")), "{materials}");
}
