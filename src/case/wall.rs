//! The text form of a problem of conduction: a wall between two boundaries, without a pot.

use super::layers::{Entries, LAYERS};
use super::leaf::{Findings, Leaf, without_path};
use super::text::{self, Beside};
use crate::conduction::{Accuracy, Probe, Problem};
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::material::Catalogue;
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{
    HeatCapacity, HeatFluxDensity, HeatTransfer, Length, Si, Temperature, Time, celsius, degrees, joules_per_kelvin,
    metres, seconds, write,
};
use crate::wall::{Body, Boundary, Contact, Geometry, Wall};

const SECTIONS: [&str; 5] = ["wall", "inner", "outer", "questions", "options"];
const WALL: [&str; 4] = ["shape", "inner-radius", "layers", "start"];
const END: [&str; 7] = ["temperature", "flux", "film", "surroundings", "insulated", "heat-capacity", "start"];
const QUESTIONS: [&str; 3] = ["times", "temperatures", "fluxes"];
const OPTIONS: [&str; 1] = ["error"];
const ENDS: &str =
    "temperature, flux, film with surroundings, heat-capacity with start (and film), or insulated = true";
/// At most so many times, and so many places.
const MOST: usize = 200;

/// A wall between two boundaries, and what is asked about it.
///
/// | section | keys (those in brackets may be left out) |
/// |---|---|
/// | top | \[`title`\] |
/// | `[wall]` | `layers`, \[`shape`: flat, cylinder, sphere\], `inner-radius` of a round one (0 mm: solid), \[`start`\] |
/// | `[inner]`, `[outer]` | one of `temperature`; `flux` into the wall; `film` and `surroundings`; `heat-capacity` (for one square metre, one metre of a cylinder, the whole sphere), `start` and \[`film`\] of a stirred body; `insulated` |
/// | `[questions]` | `times`; \[`temperatures`\], \[`fluxes`\]: depths from the inner face |
/// | `[options]` | \[`error`\] wanted, as a share of the span of temperatures, 1e-9 to 0.1 |
/// | `[material.<id>]` | a material of your own, in the form of the catalogue's files |
///
/// `layers` list, from the inside to the outside, layers `{ material = "...", thickness = "50 mm" }`, with
/// \[`damp = true`\] ([`Material::damp`](crate::Material::damp)), and, between two layers, contacts `{ gap = "1 mm" }`, `{ resistance = "0.02 m2 K/W" }` or
/// `{ airspace = "20 mm" }` with \[`facing`\] above the level and \[`emissivities`\] of its inner and outer face, and
/// \[`level-axis = true`\] in a cylinder that lies level, as about a pipe. `start`
/// is one temperature (20 °C if nothing is said), or a list with one for each layer. A solid wall has no `[inner]`.
///
/// ```
/// use stillhot::case::WallCase;
///
/// let text = r#"
///     [wall]
///     layers = [{ material = "expanded-cork-board", thickness = "50 mm" }]
///     [inner]
///     temperature = "95 °C"
///     [outer]
///     film = "8 W/(m2 K)"
///     surroundings = "20 °C"
///     [questions]
///     times = ["1 h"]
///     temperatures = ["25 mm"]
/// "#;
/// let case = WallCase::read(text, "slab.toml").map_err(|findings| findings[0].clone())?;
/// let answer = case.problem.march(&case.times, &case.accuracy)?;
/// let middle = answer.read(case.probes[0], 0)?;
/// assert!(middle.value > 293.15 && middle.error < 0.1);
///
/// let findings = WallCase::read(&text.replace("\"25 mm\"", "\"51 mm\""), "slab.toml").unwrap_err();
/// assert_eq!(findings[0].path(), "slab.toml, line 11, questions.temperatures[1]");
/// # Ok::<(), stillhot::Error>(())
/// ```
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct WallCase {
    /// What its writer calls it.
    pub title: Option<String>,
    /// Wall, boundaries and start.
    pub problem: Problem,
    /// What the inner and the outer face meet.
    pub boundaries: [Boundary; 2],
    /// When it is asked about, rising.
    pub times: Vec<Time>,
    /// What is asked: temperatures, then fluxes, each in the order of the file.
    pub probes: Vec<Probe>,
    /// How exactly to compute.
    pub accuracy: Accuracy,
}

impl WallCase {
    /// Reads a problem; `file_name` stands in the findings.
    ///
    /// # Errors
    /// Everything that is wrong with the text, never nothing; kinds and places as [`Case::read`](super::Case::read).
    pub fn read(text: &str, file_name: &str) -> Result<Self, Vec<Error>> {
        Self::read_with(text, file_name, Catalogue::embedded())
    }

    /// Reads a problem whose materials are looked up in a catalogue of your own.
    ///
    /// # Errors
    /// As [`WallCase::read`].
    pub fn read_with(text: &str, file_name: &str, catalogue: &Catalogue) -> Result<Self, Vec<Error>> {
        let beside = Beside { catalogue, folder: None };
        text::read(text, file_name, &beside, &SECTIONS, from_root)
    }
}

fn from_root(
    root: &Section<'_>,
    title: Option<String>,
    beside: &Beside<'_>,
    findings: &mut Findings,
) -> Option<WallCase> {
    let section = findings.required_section(root, "wall", &format!("a section [wall] with layers = {LAYERS}"));
    let wall = section.as_ref().and_then(|section| wall(section, beside.catalogue, findings));
    let solid = wall.as_ref().is_some_and(Wall::is_solid);
    let inner = if solid && root.get("inner").is_none() {
        Some(Boundary::Insulated)
    } else {
        boundary(root, "inner", findings)
    };
    let outer = boundary(root, "outer", findings);
    let questions = questions(root, wall.as_ref(), findings);
    let accuracy = accuracy(root, findings);
    let boundaries = [inner?, outer?];
    let section = section?;
    let [inner, outer] = boundaries.clone();
    let problem = findings.keep(Problem::new(wall?, inner, outer).map_err(|error| root.place(error)))?;
    let problem = start(problem, &section, findings)?;
    let (times, probes) = questions?;
    Some(WallCase { title, problem, boundaries, times, probes, accuracy: accuracy? })
}

fn wall(section: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Wall> {
    findings.refuse_unknown(section, &WALL);
    let shapes = [("flat", None), ("cylinder", Some(false)), ("sphere", Some(true))];
    let shape = Leaf::optional(findings, section, "shape", |item| item.word(&shapes));
    let round = shape.given().copied().flatten();
    let radius: Leaf<Length> = Leaf::quantity(findings, section, "inner-radius");
    let radius =
        radius.checked(findings, |radius| in_range("inner radius", *radius, metres(0.0), metres(100.0)).map(|_| ()));
    let geometry = match (round, &radius) {
        (None, Leaf::Given(_, item)) if !shape.is_wrong() => {
            let error = Error::new(ErrorKind::Inconsistent, "a flat wall has no inner radius");
            findings.add(item.place(error.with_accepted("shape = \"cylinder\" or shape = \"sphere\"")));
            None
        }
        (None, _) => Some(Geometry::Planar),
        (Some(_), Leaf::Absent) => {
            findings.keep(section.require("inner-radius", "inner-radius = \"100 mm\", or \"0 mm\" for a solid one"));
            None
        }
        (Some(false), leaf) => leaf.given().map(|radius| Geometry::Cylindrical { inner_radius: *radius }),
        (Some(true), leaf) => leaf.given().map(|radius| Geometry::Spherical { inner_radius: *radius }),
    };
    let list = findings.keep(section.require("layers", LAYERS))?;
    let entries = Entries::read(&list, catalogue, findings);
    if radius.is_wrong() || shape.is_wrong() {
        return None;
    }
    // An airspace is upright if nothing is said.
    findings.keep(entries?.wall(geometry?, degrees(0.0)).map_err(|error| list.place(error)))
}

/// What a face meets; every finding noted.
fn boundary(root: &Section<'_>, end: &str, findings: &mut Findings) -> Option<Boundary> {
    let section = findings.required_section(root, end, &format!("a section [{end}] with {ENDS}"))?;
    findings.refuse_unknown(&section, &END);
    let has = |key: &str| section.get(key).is_some();
    // The key that says which kind of boundary it is, with those that may go with it.
    let kinds: [(&str, &[&str]); 5] = [
        ("temperature", &[]),
        ("flux", &[]),
        ("heat-capacity", &["start", "film"]),
        ("film", &["surroundings"]),
        ("insulated", &[]),
    ];
    let Some((kind, others)) = kinds.into_iter().find(|(kind, _)| has(kind)) else {
        findings.add(section.place(Error::new(ErrorKind::Data, "no boundary is given").with_accepted(ENDS)));
        return None;
    };
    for (key, item) in section.items() {
        if key != kind && END.contains(&key) && !others.contains(&key) {
            let error = Error::new(ErrorKind::Inconsistent, format!("{kind} and {key} do not go together"));
            findings.add(item.place(error.with_accepted(ENDS)));
        }
    }
    let ordinary = || Body::new(joules_per_kelvin(1e3), celsius(20.0));
    let temperature = |findings: &mut Findings, key: &str| {
        let leaf: Leaf<Temperature> = Leaf::required_quantity(findings, &section, key);
        leaf.checked(findings, |t| Boundary::temperature(*t).check()).given().copied()
    };
    match kind {
        "temperature" => temperature(findings, kind).map(Boundary::temperature),
        "flux" => {
            let flux: Leaf<HeatFluxDensity> = Leaf::quantity(findings, &section, "flux");
            flux.checked(findings, |flux| Boundary::flux(*flux).check()).given().map(|flux| Boundary::flux(*flux))
        }
        "heat-capacity" => {
            let capacity: Leaf<HeatCapacity> = Leaf::quantity(findings, &section, "heat-capacity");
            let capacity = capacity.checked(findings, |c| Boundary::Body(Body::new(*c, celsius(20.0))).check());
            let start = temperature(findings, "start");
            let film: Leaf<HeatTransfer> = Leaf::quantity(findings, &section, "film");
            let film = film.checked(findings, |h| Boundary::Body(ordinary().behind_film(*h)).check());
            let body = Body::new(*capacity.given()?, start?);
            match film {
                Leaf::Absent => Some(Boundary::Body(body)),
                Leaf::Wrong => None,
                Leaf::Given(film, _) => Some(Boundary::Body(body.behind_film(film))),
            }
        }
        "film" => {
            let film: Leaf<HeatTransfer> = Leaf::quantity(findings, &section, "film");
            let film = film.checked(findings, |h| Boundary::film(*h, celsius(20.0)).check());
            let surroundings = temperature(findings, "surroundings");
            Some(Boundary::film(*film.given()?, surroundings?))
        }
        _ => {
            if findings.keep(section.flag("insulated"))? {
                return Some(Boundary::Insulated);
            }
            let error = Error::new(ErrorKind::Data, "no boundary is given").with_value("insulated = false");
            findings.add(section.place(error.with_accepted(ENDS)));
            None
        }
    }
}

/// The problem with its start; every finding noted.
fn start(problem: Problem, section: &Section<'_>, findings: &mut Findings) -> Option<Problem> {
    let Some(item) = section.get("start") else { return Some(problem) };
    let started = if item.is_list() {
        let temperatures: Vec<Option<Temperature>> =
            findings.keep(item.list())?.iter().map(|item| findings.keep(item.quantity())).collect();
        problem.starting_by_layer(&temperatures.into_iter().collect::<Option<Vec<_>>>()?)
    } else {
        problem.starting_at(findings.keep(item.quantity())?)
    };
    findings.keep(started.map_err(|error| item.place(without_path(&error))))
}

/// Times and probes; every finding noted.
fn questions(root: &Section<'_>, wall: Option<&Wall>, findings: &mut Findings) -> Option<(Vec<Time>, Vec<Probe>)> {
    let section = findings.required_section(root, "questions", "a section [questions] with times = [\"1 h\"]")?;
    findings.refuse_unknown(&section, &QUESTIONS);
    let mut last = seconds(0.0);
    let times = findings.keep(section.require("times", "times = [\"10 min\", \"1 h\"]"));
    let times: Option<Vec<Time>> = times.and_then(|list| {
        let times = places(&list, findings, |time: &Time| {
            // The first must lie after the start, the others not before their neighbour.
            let first = last.si() == 0.0;
            let low = if first { seconds(1e-6) } else { last };
            in_range("time", *time, low, seconds(1e12)).map(|_| last = *time)
        })?;
        if times.is_empty() {
            findings.add(list.place(Error::new(ErrorKind::OutOfRange, "no time is given").with_accepted("1 to 200")));
            return None;
        }
        Some(times)
    });
    let mut depths = |key: &str| -> Option<Vec<Length>> {
        let Some(list) = section.get(key) else { return Some(Vec::new()) };
        let depths = places(&list, findings, |depth: &Length| wall.map_or(Ok(()), |wall| is_in_layer(wall, *depth)))?;
        let first = wall.map_or(metres(0.0), |wall| metres(wall.inner_coordinate()));
        Some(depths.into_iter().map(|depth| first + depth).collect())
    };
    let (temperatures, fluxes) = (depths("temperatures"), depths("fluxes"));
    let temperatures = temperatures?.into_iter().map(Probe::Temperature);
    let probes = temperatures.chain(fluxes?.into_iter().map(Probe::Flux)).collect();
    Some((times?, probes))
}

/// The quantities of a list, each checked.
fn places<Q: crate::units::Spoken>(
    list: &Item<'_>,
    findings: &mut Findings,
    mut check: impl FnMut(&Q) -> Result<(), Error>,
) -> Option<Vec<Q>> {
    let items = findings.keep(list.list())?;
    if items.len() > MOST {
        let error = Error::new(ErrorKind::OutOfRange, "too many entries").with_value(items.len().to_string());
        findings.add(list.place(error.with_accepted(format!("at most {MOST}"))));
        return None;
    }
    let read: Vec<Option<Q>> = items
        .iter()
        .map(|item| {
            let quantity: Q = findings.keep(item.quantity())?;
            findings.keep(check(&quantity).map_err(|error| item.place(without_path(&error))))?;
            Some(quantity)
        })
        .collect();
    read.into_iter().collect()
}

/// Refuses a depth outside the wall or in an airspace.
fn is_in_layer(wall: &Wall, depth: Length) -> Result<(), Error> {
    in_range("depth", depth, metres(0.0), wall.thickness())?;
    let mut face = 0.0;
    for (i, layer) in wall.layers().iter().enumerate() {
        face += layer.thickness().si();
        let air = wall.contacts().get(i).map_or(0.0, Contact::thickness);
        let slack = 1e-9 * wall.thickness().si();
        if air > 0.0 && depth.si() > face + slack && depth.si() < face + air - slack {
            return Err(Error::new(ErrorKind::Inconsistent, "the depth lies in an airspace")
                .with_value(write(depth))
                .with_accepted("a depth in a layer"));
        }
        face += air;
    }
    Ok(())
}

fn accuracy(root: &Section<'_>, findings: &mut Findings) -> Option<Accuracy> {
    let Some(item) = root.get("options") else { return Some(Accuracy::default()) };
    let section = findings.keep(item.section())?;
    findings.refuse_unknown(&section, &OPTIONS);
    let error = Leaf::optional(findings, &section, "error", Item::number);
    let error = error.checked(findings, |error| number_in_range("error", *error, 1e-9, 0.1).map(|_| ()));
    match error {
        Leaf::Wrong => None,
        Leaf::Absent => Some(Accuracy::default()),
        Leaf::Given(error, _) => Some(Accuracy::relative(error)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conduction::Side;

    const POT: &str = r#"
title = "Pot behind steel, gap and foam"
[wall]
start = "22 °C"
layers = [
    { material = "steel", thickness = "2 mm" },
    { resistance = "0.05 m2 K/W" },
    { material = "foam", thickness = "50 mm" },
]
[inner]
heat-capacity = "80 kJ/K"
start = "98 °C"
film = "400 W/(m2 K)"
[outer]
film = "8 W/(m2 K)"
surroundings = "22 °C"
[questions]
times = ["10 min", "4 h"]
temperatures = ["0 mm", "52 mm"]
fluxes = ["52 mm"]
[options]
error = 1e-5
[material.steel]
name = "Steel"
category = "metal"
grade = "C"
conductivity = { value = "16 W/(m K)", low = "16 W/(m K)", high = "16 W/(m K)", mark = "ESTIMATE" }
density = { value = "7900 kg/m3", low = "7900 kg/m3", high = "7900 kg/m3", mark = "ESTIMATE" }
heat-capacity = { value = "500 J/(kg K)", low = "500 J/(kg K)", high = "500 J/(kg K)", mark = "ESTIMATE" }
[material.foam]
name = "Foam"
category = "insulation-foam"
grade = "C"
conductivity = { value = "0.035 W/(m K)", low = "0.035 W/(m K)", high = "0.035 W/(m K)", mark = "ESTIMATE" }
density = { value = "30 kg/m3", low = "30 kg/m3", high = "30 kg/m3", mark = "ESTIMATE" }
heat-capacity = { value = "1450 J/(kg K)", low = "1450 J/(kg K)", high = "1450 J/(kg K)", mark = "ESTIMATE" }
"#;

    fn read(text: &str) -> Result<WallCase, Vec<Error>> {
        WallCase::read(text, "w.toml")
    }

    fn findings(text: &str) -> Vec<String> {
        read(text).unwrap_err().iter().map(ToString::to_string).collect()
    }

    /// The same wall written as a program.
    #[test]
    fn a_file_says_what_a_program_says() {
        let case = read(POT).unwrap_or_else(|findings| panic!("{findings:#?}"));
        assert_eq!(case.accuracy.relative, 1e-5);
        assert_eq!(case.times, [seconds(600.0), seconds(14400.0)]);
        let [a, b] = [0.0, 0.052].map(metres);
        assert_eq!(case.probes.len(), 3);
        assert_eq!(case.probes[0], Probe::Temperature(a));
        for probe in &case.probes[1..] {
            let (Probe::Temperature(x) | Probe::Flux(x)) = probe else { panic!("{probe:?}") };
            assert!((x.si() - b.si()).abs() < 1e-15);
        }
        let answer = case.problem.march(&case.times, &case.accuracy).unwrap();
        // Two independent computations (COMPUTED): without a loss past the wall, by the closed form of this wall.
        let layer = |d, k, rho, c| {
            use crate::closed_form::{Solid, WallLayer};
            WallLayer::new(d, Solid::new(k, rho, c).unwrap()).unwrap()
        };
        let layers =
            vec![layer(0.002, 16.0, 7900.0, 500.0).with_outer_contact(0.05).unwrap(), layer(0.05, 0.035, 30.0, 1450.0)];
        use crate::closed_form::{End, LayeredWall, StirredBody, WallShape};
        let exact = LayeredWall::new(
            WallShape::Plane,
            layers,
            22.0,
            End::WellStirred(StirredBody::new(80_000.0, 98.0).with_film(400.0)),
            End::Film { coefficient: 8.0, temperature: 22.0 },
        )
        .unwrap();
        for (k, t) in [600.0, 14400.0].into_iter().enumerate() {
            let pot = answer.body_temperature(Side::Inner, k).unwrap();
            let off = pot.value.si() - 273.15 - exact.fluid_temperature(crate::closed_form::Side::Inner, t).unwrap();
            assert!(off.abs() <= pot.error.si(), "{off} {pot:?}");
            let face = answer.read(case.probes[1], k).unwrap();
            let off = face.value - 273.15 - exact.temperature(0.052, t).unwrap();
            assert!(off.abs() <= face.error, "{off} {face:?}");
        }
    }

    #[test]
    fn round_walls_count_depth_from_their_inner_face() {
        let round = POT.replace("[wall]", "[wall]\nshape = \"cylinder\"\ninner-radius = \"100 mm\"").replace(
            "{ resistance = \"0.05 m2 K/W\" }",
            "{ airspace = \"10 mm\", facing = \"90 deg\", emissivities = [0.9, 0.05], level-axis = true }",
        );
        let case = read(&round).unwrap_or_else(|findings| panic!("{findings:#?}"));
        assert_eq!(case.probes[0], Probe::Temperature(metres(0.1)));
        let Contact::Airspace(airspace) = case.problem.wall().contacts()[0] else { panic!("no airspace") };
        assert!((airspace.above_level().si() - std::f64::consts::FRAC_PI_2).abs() < 1e-12);
        assert_eq!(airspace.emissivities().map(Si::si), [0.9, 0.05]);
        assert!(airspace.has_level_axis());
        let flat = read(&round.replace("cylinder", "flat").replace("\ninner-radius = \"100 mm\"", "")).unwrap_err();
        assert!(flat.iter().any(|error| error.to_string().contains("level axis")), "{flat:#?}");
        let solid = round.replace("100 mm", "0 mm");
        let solid =
            format!("{}[outer]{}", solid.split("[inner]").next().unwrap(), solid.split("[outer]").nth(1).unwrap());
        let case = read(&solid).unwrap_or_else(|findings| panic!("{findings:#?}"));
        assert_eq!(case.boundaries[0], Boundary::Insulated);
    }

    #[test]
    fn every_finding_is_told() {
        let broken = POT
            .replace("\"2 mm\"", "\"-2 mm\"")
            .replace("\"98 °C\"", "\"98 m\"")
            .replace("surroundings", "surrounding")
            .replace("\"10 min\"", "\"5 h\"")
            .replace("error = 1e-5", "error = 1");
        let found = findings(&broken);
        for (start, words) in [
            ("w.toml, line 6, wall.layers[1].thickness", "out of range"),
            ("w.toml, line 12, inner.start", "a length where a temperature is expected"),
            ("w.toml, line 16, outer.surrounding", "unknown key"),
            ("w.toml, line 14, outer.surroundings", "missing key"),
            ("w.toml, line 18, questions.times[2]", "out of range"),
            ("w.toml, line 22, options.error", "out of range"),
        ] {
            assert!(found.iter().any(|f| f.starts_with(start) && f.contains(words)), "{start}: {found:#?}");
        }
        assert_eq!(found.len(), 6, "{found:#?}");
    }

    #[test]
    fn what_does_not_fit_is_refused() {
        let spaced = POT.replace("{ resistance = \"0.05 m2 K/W\" }", "{ airspace = \"20 mm\" }");
        for (text, place, words) in [
            (POT.replace("[\"0 mm\", \"52 mm\"]", "[\"53 mm\"]"), "questions.temperatures[1]", "out of range"),
            (spaced.replace("[\"0 mm\", \"52 mm\"]", "[\"12 mm\"]"), "questions.temperatures[1]", "in an airspace"),
            (POT.replace("start = \"22 °C\"", "start = [\"22 °C\"]"), "wall.start", "one start temperature for each"),
            (POT.replace("[wall]", "[wall]\ninner-radius = \"1 m\""), "wall.inner-radius", "no inner radius"),
            (POT.replace("[wall]", "[wall]\nshape = \"sphere\""), "wall.inner-radius", "missing key"),
            (POT.replace("[wall]", "[wall]\nshape = \"cube\""), "wall.shape", "unknown word"),
            (POT.replace("film = \"8 W/(m2 K)\"", "flux = \"8 W/m2\""), "outer.surroundings", "do not go together"),
            (
                POT.replace("{ resistance = \"0.05 m2 K/W\" },", "{ gap = \"9 mm\" },"),
                "wall.layers[2].gap",
                "out of range",
            ),
            (POT.replace("{ material = \"foam\", thickness = \"50 mm\" },", ""), "wall.layers", "between two layers"),
            (POT.replace("times = [\"10 min\", \"4 h\"]", "times = []"), "questions.times", "no time"),
        ] {
            let found = findings(&text);
            assert!(found.iter().any(|f| f.contains(place) && f.contains(words)), "{place}, {words}: {found:#?}");
        }
        assert!(findings("[wall]\nlayers = []\n").len() >= 4);
        assert!(findings("[wall").len() == 1);
    }
}
