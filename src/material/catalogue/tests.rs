//! The embedded data hold together, agree with published figures, and a wrong file is refused with its place.

use super::*;
use crate::material::{Grade, Mark, Property};
use crate::units::{Si, celsius};

fn check_range<Q: Si + Copy>(place: &str, property: &Property<Q>) {
    let (low, value, high) = (property.low().si(), property.value().si(), property.high().si());
    assert!(0.0 < low && low <= value && value <= high, "{place}: {low} {value} {high}");
    let evidence = property.evidence();
    check_sources(place, evidence.sources());
    assert_ne!(evidence.mark(), Mark::Given, "{place}");
    if let Some(law) = property.law_evidence() {
        check_sources(place, law.sources());
        assert_ne!(law.mark(), Mark::Given, "{place}");
        let reference = property.reference().expect(place);
        assert!((property.at(reference).si() / value - 1.0).abs() < 1e-12, "{place}: law misses its value");
    } else {
        assert!(property.law().is_constant(), "{place}");
    }
    // What the mark READ claims: chosen among the numbers seen, or within 7 % of one of them.
    if evidence.mark() == Mark::Read && !evidence.is_derived() {
        assert!(!property.seen().is_empty(), "{place}: READ without a number seen");
        let is_read = |key: &String| Catalogue::embedded().source(key).unwrap().mark() == Mark::Read;
        assert!(evidence.sources().iter().any(is_read), "{place}: READ from sources that were not opened");
        let seen: Vec<f64> = property.seen().iter().map(|(seen, _)| seen.si()).collect();
        let least = seen.iter().copied().fold(f64::INFINITY, f64::min);
        let most = seen.iter().copied().fold(0.0, f64::max);
        assert!(0.93 * least <= value && value <= 1.07 * most, "{place}: READ, but {value} beside {seen:?}");
    }
}

fn check_sources(place: &str, keys: &[String]) {
    assert!(!keys.is_empty(), "{place} names no source");
    for key in keys {
        assert!(Catalogue::embedded().source(key).is_ok(), "{place}: {key}");
    }
}

#[test]
fn embedded_files_have_no_findings() {
    let mut catalogue = Catalogue::default();
    for (name, text) in EMBEDDED {
        let findings = catalogue.read(File { name, text });
        let told: Vec<String> = findings.iter().map(ToString::to_string).collect();
        assert!(told.is_empty(), "{told:#?}");
    }
    assert_eq!(&catalogue, Catalogue::embedded());
}

#[test]
fn at_least_sixty_materials_over_every_category() {
    let catalogue = Catalogue::embedded();
    assert!(catalogue.len() >= 60, "{}", catalogue.len());
    for category in Category::all() {
        assert!(catalogue.of_category(category).count() >= 2, "{category}");
    }
}

#[test]
fn every_entry_holds_together() {
    for material in Catalogue::embedded().iter() {
        let id = material.id();
        assert!(id.split('-').all(|word| word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit())), "{id}");
        assert!(!material.name().is_empty(), "{id}");
        check_range(&format!("{id}.conductivity"), material.conductivity());
        check_range(&format!("{id}.density"), material.density());
        check_range(&format!("{id}.heat-capacity"), material.heat_capacity());
        if let Some(factor) = material.vapour_resistance_factor() {
            check_range(&format!("{id}.vapour-resistance-factor"), factor);
            assert!(factor.low().si() >= 1.0, "{id}");
        }
        if let Some(factor) = material.damp_factor() {
            // An estimate names no source, but says what it is for want of.
            match factor.evidence().mark() {
                Mark::Estimate => assert!(factor.evidence().note().is_some(), "{id}"),
                _ => check_range(&format!("{id}.damp-factor"), factor),
            }
        }
        for emissivity in material.emissivities() {
            let (value, high) = (emissivity.value().si(), emissivity.property().high().si());
            assert!(value > 0.0 && high <= 1.0, "{id}");
            check_sources(id, emissivity.property().evidence().sources());
        }
        if material.category() != Category::Gas {
            let limit = material.service_temperature().expect(id);
            check_sources(id, limit.evidence().sources());
            assert!(!material.emissivities().is_empty(), "{id}");
        }
    }
}

#[test]
fn nothing_leads_out_of_the_files() {
    for (name, text) in EMBEDDED {
        for forbidden in ["http", "www.", "/work", "/tmp"] {
            assert!(!text.contains(forbidden), "{name}: {forbidden}");
        }
    }
}

#[test]
fn every_source_speaks_for_something_or_is_named_in_a_note() {
    let all: String = EMBEDDED.iter().skip(1).map(|(_, text)| *text).collect();
    // Papers that stand behind a remark, not behind a number.
    let remarks = ["bardy-2008", "baetens-2011", "baxter-1946", "nist-srm-1453-recalled", "zarr-nguyen-1991"];
    for source in Catalogue::embedded().sources() {
        let key = source.key();
        assert!(all.contains(&format!("\"{key}\"")) || remarks.contains(&key), "{key}");
    }
}

fn conductivity(id: &str, at: f64) -> f64 {
    Catalogue::embedded().get(id).unwrap().conductivity().at(celsius(at)).si()
}

fn assert_near(value: f64, published: f64, tolerance: f64) {
    assert!((value / published - 1.0).abs() <= tolerance, "{value} where {published} is published");
}

/// Published figures, typed in here from the source and not from the files.
#[test]
fn agrees_with_published_figures() {
    let catalogue = Catalogue::embedded();
    // Water, IAPWS release on thermal conductivity and IAPWS-95; computed with a general-purpose library (READ).
    assert_near(conductivity("water-liquid", 60.0), 0.651, 0.002);
    assert_near(conductivity("water-liquid", 80.0), 0.667, 0.003);
    let water = catalogue.get("water-liquid").unwrap();
    assert_near(water.density_law().at(363.15), 965.3, 1e-4);
    assert_near(water.heat_capacity_law().at(353.15), 4196.8, 1e-3);
    // Air, tabulated form of IEC 60287-2-3: k = 0.0242 + 7.2e-5 t, itself good to 1 % (READ).
    for t in [20.0, 60.0, 100.0] {
        assert_near(conductivity("still-air", t), 0.0242 + 7.2e-5 * t, 0.012);
    }
    // Stone wool pipe section, data sheet to EN 14303: 0.033, 0.037, 0.044, 0.052 and, for a second product, 0.034,
    // 0.039, 0.046, 0.056 at 10, 50, 100, 150 °C (READ). The entry stands between the two curves.
    for (t, one, other) in [(10.0, 0.033, 0.034), (50.0, 0.037, 0.039), (100.0, 0.044, 0.046), (150.0, 0.052, 0.056)] {
        let k = conductivity("stone-wool-dense", t);
        assert!(one <= k && k <= other, "{k} at {t}");
    }
    // Certified reference material IRMM-440: polynomial of the certificate, -10 to 50 °C (READ); the entry is a table.
    for t in [-10.0, 5.0, 24.0, 50.0] {
        assert_near(conductivity("glass-wool-board-70", t), 0.0293949 + 1.060e-4 * t + 2.047e-7 * t * t, 0.005);
    }
    // Aluminium and copper near 27 °C: 237 and 401 W/(m K), handbook tables (READ).
    assert_near(conductivity("aluminium-pure", 27.0), 237.0, 0.01);
    assert_near(conductivity("copper", 27.0), 401.0, 0.01);
    // Stainless steel 18/10: 14.9 W/(m K) at 27 °C and 16.6 at 127 °C, textbook table (MEMORY).
    assert_near(conductivity("stainless-steel-304", 27.0), 14.9, 0.01);
    assert_near(conductivity("stainless-steel-304", 127.0), 16.6, 0.01);
    // Softwood at 12 % moisture: Wood Handbook equation 4-15, k = G (0.1941 + 0.004064 M) + 0.01864, with a specific
    // gravity of 0.45 (READ).
    assert_near(conductivity("softwood-across-grain", 20.0), 0.45 * (0.1941 + 0.004064 * 12.0) + 0.01864, 0.08);
}

/// Limits that must not be lost: these foams soften below the temperature of a boiling pot (READ for 80 to 85 °C of
/// expanded polystyrene under load and 75 °C of extruded; the others MEMORY).
#[test]
fn foams_that_soften_stay_below_boiling() {
    for (id, limit) in [
        ("expanded-polystyrene-15", 80.0),
        ("expanded-polystyrene-20", 80.0),
        ("expanded-polystyrene-30", 80.0),
        ("expanded-polystyrene-graphite", 80.0),
        ("extruded-polystyrene", 75.0),
        ("eva-foam-mat", 60.0),
        ("foil-faced-bubble-sheet", 80.0),
        ("plain-bubble-sheet", 75.0),
    ] {
        let material = Catalogue::embedded().get(id).unwrap();
        assert_eq!(material.service_temperature().unwrap().continuous(), celsius(limit), "{id}");
        assert!(material.caution().is_some(), "{id}");
    }
}

/// Rules of the provenance report behind the data: insulation in a 90 °C box is 15 to 25 % above its value at 10 °C.
#[test]
fn foams_conduct_more_when_hot() {
    for id in
        ["rigid-polyisocyanurate-foam-foil-faced", "expanded-polystyrene-20", "cross-linked-polyethylene-foam-mat"]
    {
        let rise = conductivity(id, 57.0) / conductivity(id, 10.0);
        assert!((1.12..1.28).contains(&rise), "{id}: {rise}");
    }
}

#[test]
fn foods_say_what_they_consist_of() {
    let broth = Catalogue::embedded().get("broth-thin-soup").unwrap();
    assert_eq!(broth.composition().unwrap().water().si(), 0.92);
    assert_eq!(broth.grade(), Grade::C);
}

#[test]
fn an_unknown_name_is_an_error_with_the_nearest() {
    let error = Catalogue::embedded().get("expanded-polystirene-20").unwrap_err();
    assert_eq!(error.kind(), ErrorKind::UnknownName);
    assert_eq!(error.nearest()[0], "expanded-polystyrene-20", "{error}");
    // Offered, not accepted: any material is.
    assert_eq!(error.accepted(), Some("one of the 132 materials of the catalogue"));
    let error = Material::named("wool").unwrap_err();
    assert!(error.nearest().iter().any(|near| near.contains("wool")), "{error}");
    let error = Material::named("qqqq").unwrap_err();
    assert!(error.nearest().is_empty() && error.accepted().unwrap().starts_with("one of the"), "{error}");
    assert_eq!(Catalogue::embedded().source("general").unwrap_err().nearest()[0], "general-knowledge");
}

const CHAFF: &str = r#"[spelt-chaff]
name = "Spelt chaff in a cotton bag"
category = "fibre-and-loose-fill"
grade = "C"

[spelt-chaff.conductivity]
value = "0.055 W/(m K)"
low = "0.045 W/(m K)"
high = "0.07 W/(m K)"
at = "10 °C"
mark = "ESTIMATE"

[spelt-chaff.density]
value = "90 kg/m3"
low = "80 kg/m3"
high = "110 kg/m3"
mark = "READ"
sources = ["kitchen-scale"]

[spelt-chaff.heat-capacity]
value = "1700 J/(kg K)"
low = "1500 J/(kg K)"
high = "1900 J/(kg K)"
mark = "MEMORY"
sources = ["general-knowledge"]

[sources.kitchen-scale]
title = "Weighed at home"
seen = "three bags"
mark = "READ"
"#;

fn refused(text: &str) -> Error {
    Catalogue::embedded().with_file(text, "shelf.toml").unwrap_err()
}

fn changed(from: &str, to: &str) -> Error {
    assert!(CHAFF.contains(from), "{from}");
    refused(&CHAFF.replacen(from, to, 1))
}

#[test]
fn a_file_of_ones_own_extends_the_catalogue() {
    let shelf = Catalogue::embedded().with_file(CHAFF, "shelf.toml").unwrap();
    let chaff = shelf.get("spelt-chaff").unwrap();
    assert_eq!(chaff.density().value().si(), 90.0);
    assert_eq!(shelf.source("kitchen-scale").unwrap().title(), "Weighed at home");
    assert_eq!(shelf.len(), Catalogue::embedded().len() + 1);
    assert!(Material::named("spelt-chaff").is_err(), "the embedded catalogue stays as it is");
}

#[test]
fn the_entry_that_the_readme_shows_can_be_read() {
    let readme = include_str!("../../../materials/README.md");
    let entry = readme.split("```toml\n").nth(1).unwrap().split("```").next().unwrap();
    let shelf = Catalogue::embedded().with_file(entry, "README.md").unwrap();
    let chaff = shelf.get("spelt-chaff").unwrap();
    assert_eq!(chaff.emissivity().unwrap().surface(), "cotton bag");
    assert_eq!(chaff.service_temperature().unwrap().continuous(), celsius(90.0));
    assert_near(chaff.conductivity().at(celsius(60.0)).si(), 0.065, 1e-12);
    for (name, _) in EMBEDDED {
        assert!(readme.contains(&format!("`{name}`")), "{name} is missing in the table of files");
    }
}

#[test]
fn the_readme_counts_right() {
    let readme = include_str!("../../../materials/README.md");
    let count = |grade| Catalogue::embedded().iter().filter(|material| material.grade() == grade).count();
    assert!(readme.contains(&format!("{} generic materials", Catalogue::embedded().len())));
    assert!(readme.contains(&format!("computed reference ({} materials)", count(Grade::A))));
    assert!(readme.contains(&format!("wide bracket ({})", count(Grade::B))));
    assert!(readme.contains(&format!("estimate ({})", count(Grade::C))));
}

#[test]
fn a_taken_id_is_refused() {
    let error = refused(&CHAFF.replace("spelt-chaff", "hay-loose"));
    assert_eq!(error.to_string().split(',').next(), Some("shelf.toml"));
    assert_eq!((error.kind(), error.value()), (ErrorKind::Data, Some("hay-loose")));
    let shelf = Catalogue::embedded().with_file(CHAFF, "shelf.toml").unwrap();
    assert_eq!(shelf.findings(CHAFF, "again.toml").len(), 2, "source and material");
    let error = changed("[sources.kitchen-scale]", "[sources.coolprop]");
    assert_eq!(error.value(), Some("coolprop"));
}

#[test]
fn a_wrong_unit_is_refused_with_its_place() {
    let error = changed("low = \"0.045 W/(m K)\"", "low = \"0.045 W/m2\"");
    assert_eq!(error.kind(), ErrorKind::Unit);
    assert_eq!(error.path(), "shelf.toml, line 8, spelt-chaff.conductivity.low");
    assert_eq!(error.value(), Some("\"0.045 W/m2\""));
    assert_eq!(changed("\"0.07 W/(m K)\"", "0.07").path(), "shelf.toml, line 9, spelt-chaff.conductivity.high");
    assert_eq!(changed("at = \"10 °C\"", "at = \"10 mm\"").kind(), ErrorKind::Unit);
}

#[test]
fn an_unknown_key_is_refused_with_its_place_and_the_nearest() {
    let error = changed("high = \"110 kg/m3\"", "hihg = \"110 kg/m3\"");
    assert_eq!(error.kind(), ErrorKind::Data);
    assert_eq!(error.path(), "shelf.toml, line 16, spelt-chaff.density.hihg");
    assert_eq!((error.value(), error.nearest()), (Some("hihg"), &["high".to_owned()][..]));
    assert!(error.accepted().unwrap().starts_with("value, low, high"), "{error}");
    assert_eq!(error.line(), Some(16));
    assert_eq!(changed("grade = \"C\"", "colour = \"C\"").path(), "shelf.toml, line 4, spelt-chaff.colour");
    assert_eq!(changed("seen = ", "saw = ").path(), "shelf.toml, line 29, sources.kitchen-scale.saw");
}

#[test]
fn a_missing_key_is_refused_with_its_place() {
    let error = changed("low = \"80 kg/m3\"\n", "");
    assert_eq!(error.kind(), ErrorKind::Data);
    assert_eq!(error.path(), "shelf.toml, line 13, spelt-chaff.density.low");
    assert_eq!(error.accepted(), Some("low = \"32 kg/m3\""));
    assert_eq!(
        changed("sources = [\"general-knowledge\"]\n", "").path(),
        "shelf.toml, line 20, spelt-chaff.heat-capacity.sources"
    );
}

#[test]
fn what_cannot_be_is_refused() {
    let kind = |from: &str, to: &str| changed(from, to).kind();
    assert_eq!(kind("low = \"0.045", "low = \"0.06"), ErrorKind::Inconsistent);
    assert_eq!(kind("\"90 kg/m3\"", "\"90000 kg/m3\""), ErrorKind::OutOfRange);
    assert_eq!(kind("\"90 kg/m3\"", "\"-90 kg/m3\""), ErrorKind::OutOfRange);
    assert_eq!(kind("\"90 kg/m3\"", "nan"), ErrorKind::Data);
    assert_eq!(kind("\"kitchen-scale\"", "\"kitchen-scales\""), ErrorKind::UnknownName);
    assert_eq!(kind("grade = \"C\"", "grade = \"D\""), ErrorKind::Data);
    assert_eq!(kind("[spelt-chaff]", "[Spelt_Chaff]"), ErrorKind::Data);
    assert_eq!(kind("[spelt-chaff.density]", "[spelt-chaff.density"), ErrorKind::Data);
    let law = "at = \"10 °C\"\nwith-temperature = { \
               slope = \"0.0002 W/(m K) per K\", from = \"0 °C\", to = \"80 °C\", mark = \"ESTIMATE\" }";
    let shelf = Catalogue::embedded().with_file(&CHAFF.replacen("at = \"10 °C\"", law, 1), "shelf.toml").unwrap();
    assert_near(shelf.get("spelt-chaff").unwrap().conductivity().at(celsius(60.0)).si(), 0.065, 1e-12);
    assert_eq!(kind("at = \"10 °C\"", &law.replace("at = \"10 °C\"\n", "")), ErrorKind::Inconsistent);
    assert_eq!(kind("at = \"10 °C\"", &law.replace(" per K", "")), ErrorKind::Unit);
    assert_eq!(kind("at = \"10 °C\"", &law.replace("0.0002", "-0.02")), ErrorKind::OutOfRange);
    let table = law.replace(
        "slope = \"0.0002 W/(m K) per K\", from = \"0 °C\", to = \"80 °C\"",
        "table = [[\"10 °C\", \"0.09 W/(m K)\"], [\"60 °C\", \"0.1 W/(m K)\"]]",
    );
    assert_eq!(kind("at = \"10 °C\"", &table), ErrorKind::Inconsistent);
}

#[test]
fn a_file_with_several_faults_tells_them_all() {
    let two = format!("{CHAFF}\n{}", CHAFF.split("[sources").next().unwrap().replace("spelt-chaff", "oat-chaff"));
    let wrong = two.replace("\"90 kg/m3\"", "\"90 mm\"");
    let findings = Catalogue::embedded().findings(&wrong, "shelf.toml");
    assert_eq!(findings.len(), 2);
    assert!(findings[0].path().starts_with("shelf.toml, line 14, spelt-chaff"), "{}", findings[0]);
    assert!(findings[1].path().contains("oat-chaff.density.value"), "{}", findings[1]);
    let syntax = Catalogue::embedded().findings("[a]\nb = ]\n", "shelf.toml");
    assert_eq!(syntax[0].kind(), ErrorKind::Data);
    assert_eq!(syntax[0].path(), "shelf.toml, line 2");
}
