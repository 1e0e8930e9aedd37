//! How long does a pot stay hot in an insulated box? `--help` says how to ask.

#[path = "common/mod.rs"]
mod common;

use std::process::ExitCode;

fn main() -> ExitCode {
    common::main(&common::Program {
        name: "kitchen_box",
        about: "How long does a full pot stay hot in an insulated box, and where does the heat go?",
        default_name: "examples/kitchen_box.toml",
        default_text: include_str!("kitchen_box.toml"),
        fuel: "lpg-hob",
        meals: None,
    })
}
