//! What the README says came out is what comes out.

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
fn numbers_of_cases_and_materials_are_up_to_date() {
    let cases = include_str!("conduction/transient.toml").matches("[[case]]").count();
    assert!(README.contains(&format!("{cases} transient problems")), "{cases}");
    let materials = Catalogue::embedded().iter().count();
    assert!(README.contains(&format!("{materials} generic materials")), "{materials}");
}
