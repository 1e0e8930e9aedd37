//! How long does a pot stay hot in a snug sleeve? `--help` says how to ask.

#[path = "common/mod.rs"]
mod common;

use std::process::ExitCode;

fn main() -> ExitCode {
    common::main(&common::Program {
        name: "pot_sleeve",
        about: "How long does a full pot stay hot in an insulating sleeve, and where does the heat go?",
        default_name: "examples/pot_sleeve.toml",
        default_text: include_str!("pot_sleeve.toml"),
        fuel: "camp-gas",
        meals: Some(4),
    })
}
