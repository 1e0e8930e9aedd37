//! What the example programs share: from arguments to an answer on the screen.

mod answer;
pub mod cook;
mod json;
mod layout;
mod report;

use std::ffi::OsString;
use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use answer::Answer;
use cook::Cook;
use stillhot::case::Case;
use stillhot::material::Catalogue;
use stillhot::{Error, ErrorKind};

/// One of the programs.
#[derive(Debug)]
pub struct Program {
    /// As it is called.
    pub name: &'static str,
    /// What it is for.
    pub about: &'static str,
    /// The case that is read where none is named: its file in the repository, and its text.
    pub default_name: &'static str,
    pub default_text: &'static str,
    /// What its stove burns, and for how many meals, if it is carried.
    pub fuel: &'static str,
    pub meals: Option<u32>,
}

/// It went well.
const DONE: u8 = 0;
/// The case is right, yet there is no answer: the bound on work is too low, or the output cannot be written.
const FAILED: u8 = 1;
/// The question is wrong: an unknown option, a file that cannot be read, a case with findings.
const WRONG: u8 = 2;

/// What is asked of the program.
#[derive(Debug)]
struct Arguments {
    help: bool,
    json: bool,
    materials: Option<OsString>,
    case: Option<OsString>,
    cook: Cook,
}

pub fn main(program: &Program) -> ExitCode {
    let arguments: Vec<OsString> = std::env::args_os().skip(1).collect();
    ExitCode::from(run(program, &arguments, &mut std::io::stdout().lock(), &mut std::io::stderr().lock()))
}

/// Runs a program; returns its exit status. Nothing is written to `out` unless the whole answer is there.
pub fn run(program: &Program, arguments: &[OsString], out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    match answer(program, arguments) {
        Ok(text) => match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
            Ok(()) => DONE,
            Err(_) => FAILED,
        },
        Err((status, text)) => {
            // Where even this cannot be written, the status still tells.
            let _ = err.write_all(text.as_bytes());
            status
        }
    }
}

fn answer(program: &Program, arguments: &[OsString]) -> Result<String, (u8, String)> {
    let wrong = |text: String| (WRONG, format!("{}: {text}\n", program.name));
    let arguments = Arguments::read(arguments, program).map_err(|text| wrong(format!("{text} (try --help)")))?;
    if arguments.help {
        return Ok(help(program));
    }
    let read = |path: &OsString| {
        std::fs::read_to_string(path).map_err(|error| {
            let told = match error.kind() {
                std::io::ErrorKind::InvalidData => "is not written in UTF-8: save it so".to_owned(),
                _ => error.to_string(),
            };
            wrong(format!("{}: {told}", Path::new(path).display()))
        })
    };
    let listed = |findings: &[stillhot::Error]| {
        let lines: String = findings.iter().map(|finding| format!("{finding}\n")).collect();
        let count = if findings.len() == 1 { "1 finding".to_owned() } else { format!("{} findings", findings.len()) };
        (WRONG, format!("{lines}{count}; nothing was computed.\n"))
    };
    let catalogue = match &arguments.materials {
        None => Catalogue::embedded().clone(),
        Some(path) => {
            let (text, name) = (read(path)?, path.to_string_lossy());
            let embedded = Catalogue::embedded();
            embedded.with_file(&text, &name).map_err(|_| listed(&embedded.findings(&text, &name)))?
        }
    };
    let (name, text) = match &arguments.case {
        Some(path) => (path.to_string_lossy().into_owned(), read(path)?),
        None => (program.default_name.to_owned(), program.default_text.to_owned()),
    };
    // Logs that a case names lie beside it.
    let folder = Path::new(&name).parent().unwrap_or(Path::new(""));
    let case = Case::read_in(&text, &name, &catalogue, folder).map_err(|findings| listed(&findings))?;
    let cook = &arguments.cook;
    let mut answer = Answer::of(&case, &name).map_err(|error| (FAILED, format!("{name}: {error}\n")))?;
    // What is told on the command line may be wrong as well.
    let judged = |error: Error| match error.kind() {
        ErrorKind::UnknownName | ErrorKind::OutOfRange => wrong(error.to_string()),
        _ => (FAILED, format!("{name}: {error}\n")),
    };
    answer.curve = cook.coldest(answer.curve).map_err(judged)?;
    let verdict = cook.verdict(&answer).map_err(judged)?;
    let written =
        if arguments.json { json::write(&answer, cook, &verdict) } else { report::write(&answer, cook, &verdict) };
    written.map_err(|error| (FAILED, format!("{name}: {error}\n")))
}

impl Arguments {
    fn read(arguments: &[OsString], program: &Program) -> Result<Self, String> {
        let cook = Cook { meals: program.meals, ..Cook::with_fuel(program.fuel) };
        let mut read = Arguments { help: false, json: false, materials: None, case: None, cook };
        let mut rest = arguments.iter();
        while let Some(argument) = rest.next() {
            match argument.to_str() {
                Some("--help" | "-h") => read.help = true,
                Some("--json") => read.json = true,
                Some("--materials") => {
                    let file = rest.next().ok_or("--materials needs a file")?;
                    if read.materials.replace(file.clone()).is_some() {
                        return Err("--materials is given twice".to_owned());
                    }
                }
                Some(option) if option.starts_with('-') => {
                    let known = cook::OPTIONS.split_whitespace().any(|word| word == option);
                    let value = rest.as_slice().first().and_then(|value| value.to_str()).filter(|_| known);
                    if known && value.is_none() {
                        return Err(format!("{option} needs a value"));
                    }
                    if !read.cook.take(option, value.unwrap_or_default())? {
                        return Err(format!("unknown option {option}"));
                    }
                    rest.next();
                }
                _ => {
                    if read.case.replace(argument.clone()).is_some() {
                        return Err("more than one case file".to_owned());
                    }
                }
            }
        }
        Ok(read)
    }
}

fn help(program: &Program) -> String {
    format!(
        "{about}

Usage: {name} [--json] [--materials FILE] [--dish ID] [--place NAME] [CASE.toml]

  CASE.toml         what you have and what you do; where no file is named, the commented template
                    {default}, which is there to be copied and changed
  --materials FILE  materials of your own, in the form of the files in materials/
{options}  --json            one JSON object for programs instead of the page for people
  --help            this text

Exit status: 0 with an answer; 2 if an option or a file is wrong (every finding on the error output,
nothing on the output); 1 if the case is right and there is no answer all the same.

{keys}",
        about = program.about,
        name = program.name,
        default = program.default_name,
        options = cook::OPTIONS,
        keys = [json::KEYS, cook::KEYS].concat(),
    )
}
