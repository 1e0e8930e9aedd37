//! What would make a difference to a box or sleeve: `what_matters [CASE.toml]`; `--help` says how to ask.

#[allow(dead_code, reason = "this program needs less of it than the others")]
#[path = "common/layout.rs"]
mod layout;
#[path = "common/matters.rs"]
mod matters;

use std::io::Write;
use std::path::Path;
use stillhot::case::Case;
use stillhot::material::Catalogue;

const HELP: &str = "\
What would make a box or sleeve hold longer, or shorter, what is worth building, and what is
worth measuring?

Usage: what_matters [CASE.toml]

  CASE.toml         what you have and what you do; where no file is named, the commented template
                    examples/kitchen_box.toml, which is there to be copied and changed
  --help            this text

What it holds the changes against is the lowest temperature that the file asks to stay above, or
else the highest to stay below. It takes some seconds: every change is a forecast of its own.

Exit status: 0 with an answer; 2 if an argument or the file is wrong (every finding on the error
output, nothing on the output); 1 if the case is right and there is no answer all the same.
";

fn main() -> std::process::ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    run(&arguments, &mut std::io::stdout().lock(), &mut std::io::stderr().lock()).into()
}

/// Exit status: 0 with an answer; 2 if an argument or the file is wrong; 1 if there is no answer all the same.
pub fn run<'w>(arguments: &[String], out: &'w mut (dyn Write + 'w), err: &'w mut (dyn Write + 'w)) -> u8 {
    let (status, text) = match arguments {
        [word] if word == "--help" || word == "-h" => (0, HELP.to_owned()),
        [] => answer("examples/kitchen_box.toml", include_str!("kitchen_box.toml")),
        [file] if !file.starts_with('-') => match std::fs::read_to_string(file) {
            Ok(text) => answer(file, &text),
            Err(error) if error.kind() == std::io::ErrorKind::InvalidData => {
                (2, format!("what_matters: {file}: is not written in UTF-8: save it so\n"))
            }
            Err(error) => (2, format!("what_matters: {file}: {error}\n")),
        },
        _ => (2, "usage: what_matters [CASE.toml] (try --help)\n".to_owned()),
    };
    if (if status == 0 { out } else { err }).write_all(text.as_bytes()).is_ok() { status } else { 1 }
}

fn answer(file: &str, text: &str) -> (u8, String) {
    let folder = Path::new(file).parent().unwrap_or(Path::new(""));
    match Case::read_in(text, file, Catalogue::embedded(), folder).map(|case| matters::page(&case, file)) {
        Err(findings) => (2, findings.iter().map(|finding| format!("{finding}\n")).collect()),
        Ok(Err(error)) => (1, format!("{file}: {error}\n")),
        Ok(Ok(page)) => (0, page),
    }
}
