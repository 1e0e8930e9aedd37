//! The embedded data hold together, and their reader is strict.

use stillhot::ErrorKind;
use stillhot::food::{Circulation, DishFacts, Fuel, Hazard, Limit, Topic};
use stillhot::material::{Evidence, Mark};
use stillhot::units::{Si, celsius};

#[test]
fn every_entry_names_what_it_rests_on() {
    let check = |what: &str, evidence: &Evidence| {
        for key in evidence.sources() {
            assert!(Limit::shelf().source(key).is_ok(), "{what}: {key}");
        }
        let sourced = !evidence.sources().is_empty();
        assert!(sourced || !matches!(evidence.mark(), Mark::Read | Mark::Memory), "{what}");
    };
    for dish in DishFacts::shelf().iter() {
        assert_eq!(dish.simmer_evidence().is_none(), dish.is_unlisted(), "{}", dish.id());
        if let Some(evidence) = dish.simmer_evidence() {
            check(dish.id(), evidence);
            // Nobody was read on usual simmering times: nothing may claim it.
            assert_eq!(evidence.mark(), Mark::Estimate, "{}", dish.id());
        }
        dish.kinetics().into_iter().for_each(|kinetics| check(dish.id(), kinetics.evidence()));
    }
    Limit::shelf().iter().for_each(|limit| check(limit.id(), limit.evidence()));
    for fuel in Fuel::shelf().iter() {
        check(fuel.id(), fuel.efficiency_evidence());
    }
    let sources: Vec<_> = Limit::shelf().sources().collect();
    assert!(sources.len() > 30 && sources.iter().all(|source| !source.seen().is_empty()));
}

#[test]
fn every_topic_and_hazard_has_its_entries() {
    for topic in Topic::ALL {
        assert!(Limit::shelf().iter().any(|limit| limit.topic() == topic), "{topic:?}");
    }
    let hazards = [
        Hazard::KidneyBeanLectin,
        Hazard::CassavaCyanide,
        Hazard::BacillusCereus,
        Hazard::SporeFormers,
        Hazard::Poultry,
        Hazard::MincedMeat,
        Hazard::WholeMeat,
    ];
    for hazard in hazards {
        assert!(DishFacts::shelf().iter().any(|dish| dish.hazards().contains(&hazard)), "{hazard:?}");
        assert!(Limit::shelf().iter().any(|limit| limit.concerns().contains(&hazard)), "{hazard:?}");
    }
    // Every bean of its kind carries the lectin, every starch the spores.
    for dish in DishFacts::shelf().iter() {
        let id = dish.id();
        if id.ends_with("-beans") {
            assert!(id == "soybeans" || dish.hazards().contains(&Hazard::KidneyBeanLectin), "{id}");
        }
        assert!(dish.hazards().contains(&Hazard::SporeFormers), "{id}: spores are on all that grew");
        if id.ends_with("rice") || id == "pasta" {
            assert!(dish.hazards().contains(&Hazard::BacillusCereus), "{id}");
            assert_eq!(dish.circulation(), Circulation::Still, "{id}");
        }
    }
}

/// Hot-holding limits range from 54.4 to 65 °C.
#[test]
fn hot_holding_spans_its_range() {
    use stillhot::food::Rule;
    let mut levels: Vec<f64> = Limit::shelf()
        .iter()
        .filter_map(|limit| match limit.rule() {
            Rule::HotHolding { at_least } => Some(at_least.si() - 273.15),
            _ => None,
        })
        .collect();
    levels.sort_by(f64::total_cmp);
    assert!((levels[0] - 54.4).abs() < 1e-9 && (levels[levels.len() - 1] - 65.0).abs() < 1e-9, "{levels:?}");
}

/// ASHRAE-type table: heat capacity above freezing of carrot 3.92, beets 3.91, cabbage 4.02, leeks 3.77 kJ/(kg K) (READ,
/// refrigeration handbook 2006). The component equations lie within 4 %.
#[test]
fn heat_capacities_of_dishes_agree_with_a_table() {
    for (id, tabled) in [("carrots", 3.92), ("beetroot", 3.91), ("cabbage", 4.02), ("leek-soup", 3.77)] {
        let properties = DishFacts::named(id).unwrap().properties(celsius(20.0)).unwrap().unwrap();
        let ratio = properties.heat_capacity.si() / 1e3 / tabled;
        assert!((ratio - 1.0).abs() < 0.04, "{id}: {ratio}");
    }
}

#[test]
fn the_reader_is_strict() {
    let good = r#"
        [my-soup]
        name = "My soup"
        circulation = "stirred"
        hazards = []
        usual-simmer = { time = "20 min", mark = "GIVEN" }
        [my-soup.kinetics]
        z = ["20 K", "25 K", "30 K"]
        reference = "100 °C"
        mark = "GIVEN"
    "#;
    assert!(DishFacts::shelf().with_file(good, "mine.toml").unwrap().get("my-soup").is_ok());
    for (from, to, kind, told) in [
        ("circulation = \"stirred\"", "circulation = \"wild\"", ErrorKind::Data, "stirred, still"),
        ("hazards = []", "hazards = [\"salmonela\"]", ErrorKind::Data, "unknown word"),
        ("20 min\"", "20 kg\"", ErrorKind::Unit, "time"),
        ("\"20 min\"", "\"-20 min\"", ErrorKind::OutOfRange, "0"),
        ("\"20 K\", \"25 K\"", "\"26 K\", \"25 K\"", ErrorKind::OutOfRange, "rise"),
        ("\"20 K\"", "\"1 K\"", ErrorKind::OutOfRange, "3 K to 60 K"),
        ("reference = \"100 °C\"", "", ErrorKind::Data, "reference"),
        ("name = \"My soup\"", "naem = \"My soup\"", ErrorKind::Data, "unknown key"),
        ("[my-soup]", "[my_soup]", ErrorKind::Data, "hyphens"),
        ("[my-soup]", "[my-soup", ErrorKind::Data, "syntax"),
        ("mark = \"GIVEN\" }", "mark = \"READ\" }", ErrorKind::Data, "names no source"),
        ("mark = \"GIVEN\" }", "mark = \"GIVEN\", sources = [\"nowhere\"] }", ErrorKind::UnknownName, "source"),
    ] {
        assert!(good.contains(from), "{from}");
        let error = DishFacts::shelf().with_file(&good.replacen(from, to, 1), "mine.toml").unwrap_err();
        assert_eq!(error.kind(), kind, "{to}: {error}");
        assert!(error.to_string().contains(told) && error.to_string().contains("mine.toml, line"), "{to}: {error}");
    }
    let error = DishFacts::named("red-lentil").unwrap_err();
    assert_eq!(error.nearest()[0], "red-lentils", "{error}");
}
