//! The list of what matters.

use std::num::NonZeroUsize;
use std::sync::OnceLock;

use super::{by, ends, kitchen};
use stillhot::study::{
    Asked, ChangeKind, Effect, End, HoldDifference, Known, Level, MaterialPrice, Per, WhatMatters, what_matters,
};
use stillhot::units::{Si, celsius, grams, hours, kelvins, kilograms, litres, metres_per_second, millimetres, minutes};
use stillhot::{
    Contact, Dish, EdgeRow, Edges, Enclosure, Fill, Filler, Handle, Input, Layer, Lid, Material, Options, Plan, Pot,
    Setup, Shell, Sleeve, Wall,
};

fn of_kitchen(options: &Options) -> WhatMatters {
    let case = kitchen();
    what_matters(&case.setup, &case.plan, &Asked::above(celsius(63.0)), options).unwrap()
}

/// The list of the kitchen box with default options, computed once.
fn of_kitchen_by_default() -> &'static WhatMatters {
    static LIST: OnceLock<WhatMatters> = OnceLock::new();
    LIST.get_or_init(|| of_kitchen(&Options::default()))
}

fn named<'l>(list: &'l WhatMatters, start: &str) -> &'l Effect {
    let mut found = list.effects.iter().filter(|effect| effect.name().starts_with(start));
    let effect = found.next().unwrap_or_else(|| panic!("{start}"));
    assert!(found.next().is_none(), "{start} is ambiguous");
    effect
}

fn hours_longer(effect: &Effect) -> f64 {
    effect.holds()[End::Best as usize].known().unwrap().si() / 3600.0
}

/// Each effect against two forecasts made apart, which share nothing but the description: within the errors of both.
#[test]
fn every_effect_is_what_separate_forecasts_say() {
    let case = kitchen();
    let list = of_kitchen_by_default();
    assert!(list.left_out.is_empty(), "{:?}", list.left_out);
    assert!(list.effects.len() >= 20);
    let base = case.setup.forecast_with(&case.plan, &case.options).unwrap();
    let level = celsius(63.0);
    // Strips are known to solved edges alone, so that they are held against a box that has these.
    let Shell::Box(boards) = case.setup.shell() else { panic!("a box") };
    let solved = case.setup.with_shell(boards.clone().edges(Edges::Solved)).unwrap();
    let solved = solved.forecast_with(&case.plan, &case.options).unwrap();
    for effect in &list.effects {
        println!("{:>4} {effect}", effect.rank.map_or("-".to_owned(), |rank| rank.to_string()));
        let variant = &effect.compared.outcome.variant;
        let forecast = variant.setup().forecast_with(variant.plan(), &case.options).unwrap();
        let is_solved = matches!(variant.setup().shell(), Shell::Box(it) if it.edge_form() == Edges::Solved);
        assert_eq!(is_solved, effect.name().starts_with("filling the corners"), "{effect}");
        let base = if is_solved { &solved } else { &base };
        let ([_, before, _], [_, after, _]) = (ends(base, level), ends(&forecast, level));
        let (value, error) = by(effect.holds()[End::Best as usize]);
        // Errors of the two hold times: a few seconds; of a pot without its lid more.
        let mut allowed = error;
        for held in [base, &forecast].map(|f| f.above(level).unwrap()) {
            let stillhot::Held::Until { numerical, .. } = held else { panic!("crosses") };
            allowed += numerical.si();
        }
        assert!((after - before - value).abs() <= allowed, "{effect}: {} s apart, {value} s", after - before);
        if value.abs() > error + allowed {
            assert_eq!((after - before).signum(), value.signum(), "{effect}");
        }
    }
}

/// Which way each change of the kitchen box acts (physics), and which acts more.
#[test]
fn the_signs_are_those_of_physics() {
    let list = of_kitchen_by_default();
    let longer = [
        "pressing the lid down",
        "a soft gasket under the lid",
        "half the width of the lid joint",
        "boards fitted tightly",
        "taping over the seams",
        "filling the corners",
        "insulation half as thick again",
        "foil round the pot",
        "a pot with three times the metal",
        "a pot lid that seals",
        "the pot full",
        "a box warmed to 50 °C",
        "surroundings 10 K warmer",
    ];
    let shorter = [
        "twice the width of the lid joint",
        "boards fitted loosely",
        "a pot with half the metal",
        "no lid on the pot",
        "the pot half full",
        "a box from a cold place",
        "surroundings 10 K colder",
        "opening it for 10 min",
        "shutting it 12 min after",
        "no expanded polystyrene board",
        "no plywood",
    ];
    let lower = |text: &str| text.to_lowercase();
    for (names, sign) in [(&longer[..], 1.0), (&shorter[..], -1.0)] {
        for name in names {
            let found: Vec<&Effect> =
                list.effects.iter().filter(|effect| lower(effect.name()).starts_with(&lower(name))).collect();
            if found.is_empty() && (name.starts_with("the pot") || name.starts_with("no ")) {
                continue;
            }
            let [effect] = found[..] else { panic!("{name}: {}", found.len()) };
            assert_eq!(hours_longer(effect).signum(), sign, "{effect}");
            assert!(effect.rank.is_some(), "{effect}");
        }
    }
    let of = |name: &str| hours_longer(named(list, name));
    // A gasket shuts the joint better than straps, either better than half its width; damp and dry say nothing of foam.
    assert!(of("a soft gasket") > of("pressing") && of("boards fitted tightly") > of("taping over"));
    assert!(list.effects.iter().all(|effect| !effect.name().contains("damp insulation") || effect.rank.is_some()));
    assert!(list.effects.iter().any(|effect| effect.kind == ChangeKind::Circumstance));
}

/// With twice the cells everywhere the order is the same, save where effects cannot be told apart.
#[test]
fn the_ranking_does_not_hang_on_the_mesh() {
    let mut fine = Options::default();
    fine.cells *= 2;
    let (coarse, fine) = (of_kitchen_by_default(), of_kitchen(&fine));
    assert_eq!(coarse.effects.len(), fine.effects.len());
    let place = |name: &str| fine.effects.iter().find(|effect| effect.name() == name).unwrap();
    let last = usize::MAX;
    for (i, one) in coarse.effects.iter().enumerate() {
        for other in &coarse.effects[i + 1..] {
            let (a, b) = (place(one.name()), place(other.name()));
            if one.rank < other.rank || other.rank.is_none() {
                let reversed = a.rank.unwrap_or(last) > b.rank.unwrap_or(last);
                let sizes = [a, b].map(|effect| by(effect.holds()[End::Best as usize]));
                let apart = sizes[1].0.abs() - sizes[0].0.abs();
                assert!(!reversed || apart <= sizes[0].1 + sizes[1].1, "{one} / {other}: {a} / {b}");
            }
        }
    }
}

#[test]
fn any_number_of_threads_gives_the_same_bits() {
    let case = kitchen();
    let list = |threads: Option<usize>| {
        let asked = Asked::above(celsius(63.0)).and(Level::Above(celsius(75.0)));
        let asked = match threads.and_then(NonZeroUsize::new) {
            Some(threads) => asked.on_threads(threads),
            None => asked,
        };
        let list = what_matters(&case.setup, &case.plan, &asked, &Options::default()).unwrap();
        let text = |effect: &Effect| format!("{:?} {:?} {:?}", effect.compared.holds, effect.compared.end, effect.rank);
        list.effects.iter().map(text).collect::<Vec<_>>()
    };
    let one = list(Some(1));
    assert_eq!(one, list(Some(7)));
    assert_eq!(one, list(None));
}

/// A builder looks at the cautious end: the same list in another order.
#[test]
fn the_cautious_end_has_an_order_of_its_own() {
    let list = of_kitchen_by_default();
    let sizes = |end: End| -> Vec<f64> {
        list.ranked(end).iter().map(|place| by(place.compared.holds[0][end as usize]).0.abs()).collect()
    };
    for end in [End::Cautious, End::Best, End::Generous] {
        assert!(sizes(end).is_sorted_by(|a, b| a >= b), "{:?}", sizes(end));
    }
    let place = |end: End| {
        let found = list.ranked(end);
        found.iter().position(|place| place.compared.outcome.variant.name().starts_with("pressing")).unwrap()
    };
    // What passes a joint goes with the cube of its width: where all is wide, shutting it brings more.
    assert!(place(End::Cautious) < place(End::Best) && place(End::Best) < place(End::Generous));
}

/// What knowing something leaves of the range is what forecasts with it pinned have.
#[test]
fn what_to_measure_is_what_pinned_forecasts_say() {
    let case = kitchen();
    let list = of_kitchen_by_default();
    let level = celsius(63.0);
    let [earliest, _, latest] = ends(&case.setup.forecast_with(&case.plan, &Options::default()).unwrap(), level);
    assert!(list.measure.len() >= 6 && list.measure.is_sorted_by(|a, b| a.narrower >= b.narrower));
    for narrowing in list.measure.iter().take(3) {
        let pins: Vec<(Input, f64)> = narrowing.inputs.iter().map(|input| (*input, 0.5)).collect();
        let forecast = case.setup.pinned(&pins).unwrap().forecast_with(&case.plan, &Options::default()).unwrap();
        let [first, _, last] = ends(&forecast, level);
        println!("{narrowing}; {}", narrowing.known.how());
        let told = narrowing.ends.map(|moment| moment.time().unwrap().si());
        assert!((told[0] - first).abs() < 1.0 && (told[1] - last).abs() < 1.0, "{told:?} {first} {last}");
        let narrower = (latest - earliest) - (last - first);
        assert!((narrowing.narrower.unwrap().si() - narrower).abs() < 2.0 && narrower > 600.0);
    }
    let lid = list.measure.iter().find(|narrowing| narrowing.known == Known::LidJoint).unwrap();
    assert_eq!(lid.inputs, [Input::LidGap]);
}

/// A setup of other features has another list: each change applies or is not there.
#[test]
fn the_list_goes_by_what_there_is() {
    let pot = Pot::typical(litres(0.9)).with(Dish::named("lentil-porridge").unwrap().stirred(), grams(820.0));
    let sleeve = Sleeve::of_mat("cross-linked-polyethylene-foam-mat", millimetres(5.0), 2).unwrap();
    let plan = Plan::in_room(celsius(4.0)).in_wind(metres_per_second(3.0)).under_sky(celsius(-10.0));
    let setup = Setup::new(pot, sleeve).unwrap();
    let asked = Asked::above(celsius(65.0));
    let list = what_matters(&setup, &plan, &asked, &Options::horizon(hours(12.0))).unwrap();
    for effect in &list.effects {
        println!("{effect}");
    }
    assert!(list.left_out.is_empty(), "{:?}", list.left_out);
    for there in ["one more layer of", "one layer of", "no wind", "under a roof", "1000 m higher", "the pot half full"]
    {
        named(&list, there);
    }
    for absent in ["boards", "taping", "the pot full", "no handle", "damp", "dry", "wind of", "never", "a box"] {
        assert!(list.effects.iter().all(|effect| !effect.name().starts_with(absent)), "{absent}");
    }
    assert!(hours_longer(named(&list, "one more layer of")) > 0.0);
    assert!(hours_longer(named(&list, "one layer of")) < 0.0);
    assert!(hours_longer(named(&list, "no wind")) > 0.0);

    let aluminium = Material::named("aluminium-pure").unwrap();
    let strap = Handle::new(aluminium, millimetres(20.0), millimetres(3.0), millimetres(100.0));
    let pot = Pot::typical(litres(9.0)).with(Dish::named("water-liquid").unwrap(), kilograms(4.0)).with_handle(strap);
    let wall = Wall::planar().layer(Layer::of("hay-loose", millimetres(120.0)).unwrap());
    let wall = wall.contact(Contact::Airspace(stillhot::Airspace::upright(millimetres(15.0))));
    let wall = wall.layer(Layer::of("plywood", millimetres(6.0)).unwrap()).build().unwrap();
    let setup = Setup::new(pot, Enclosure::of_wall(wall).lid(Lid::gasketed())).unwrap();
    let plan = Plan::in_room(celsius(10.0)).open_at(minutes(60.0), minutes(5.0)).carry(minutes(5.0));
    let list = what_matters(&setup, &plan, &asked, &Options::default()).unwrap();
    for effect in &list.effects {
        println!("{effect}");
    }
    // Edges of walls with airspaces cannot be solved, so that strips in the corners are left out, and told.
    let [strips] = &list.left_out[..] else { panic!("{:?}", list.left_out) };
    assert!(strips.path().contains("filling the corners"), "{strips}");
    for (name, sign) in [
        ("no handle through the wall", 1.0),
        ("damp insulation", -1.0),
        ("foil on one face of the airspaces", 1.0),
        ("a lid that merely rests", -1.0),
        ("pressing", -1.0),
        ("never opening it", 1.0),
        ("the pot full", 1.0),
        ("no plywood", -1.0),
    ] {
        let lower = name.to_lowercase();
        let effect = list.effects.iter().find(|effect| effect.name().to_lowercase().starts_with(&lower));
        let effect = effect.unwrap_or_else(|| panic!("{name}"));
        assert_eq!(hours_longer(effect).signum(), sign, "{effect}");
    }
    assert!(list.effects.iter().all(|effect| !effect.name().starts_with("the pot half full")));
}

/// Strips in a box whose edges are solved: gone, and in the rows that have none. Both are pure changes of the box, held
/// against two forecasts made apart; what goes when they go is what they brought.
#[test]
fn strips_come_and_go() {
    let pot = Pot::typical(litres(7.0)).with(Dish::named("broth-thin-soup").unwrap(), kilograms(6.0));
    let strip = Filler::straight([millimetres(30.0); 2], Fill::of("expanded-cork-board").unwrap());
    let plain = Enclosure::lined("expanded-cork-board", millimetres(50.0)).unwrap().edges(Edges::Solved);
    let some = plain.clone().with_filler(EdgeRow::Upright, strip.clone());
    let setup = Setup::new(pot.clone(), some).unwrap();
    let (plan, level) = (Plan::in_room(celsius(16.0)), celsius(63.0));
    let list = what_matters(&setup, &plan, &Asked::above(level), &Options::default()).unwrap();
    assert!(list.left_out.is_empty(), "{:?}", list.left_out);
    let best = |shell: Enclosure| {
        let setup = Setup::new(pot.clone(), shell).unwrap();
        ends(&setup.forecast_with(&plan, &Options::default()).unwrap(), level)[1]
    };
    let (none, gone) = (best(plain), named(&list, "nothing in the corners"));
    let (value, error) = by(gone.holds()[End::Best as usize]);
    println!("{gone}: {value} s within {error} s");
    assert!(value < -60.0 && error < 10.0);
    let now = ends(&setup.forecast_with(&plan, &Options::default()).unwrap(), level)[1];
    assert!((none - now - value).abs() < 10.0 + error, "{} s apart", none - now);
    let wood = strip_mass(&setup);
    assert!((gone.compared.weight.si() + wood).abs() < 1e-9 && wood > 0.02 && gone.compared.bulk.si() == 0.0);
    let more = named(&list, "filling the corners");
    assert!(hours_longer(more) > 0.0 && more.compared.weight.si() > wood, "{more}");
    let Shell::Box(filled) = more.compared.outcome.variant.setup().shell() else { panic!("a box") };
    assert_eq!(filled.filler(EdgeRow::Upright), Some(&strip));
    assert!(filled.filler(EdgeRow::Base).is_some() && filled.filler(EdgeRow::Lid).is_some());
}

/// What makes insulation damp makes strips of it damp, and the other way round.
#[test]
fn strips_get_damp_with_the_walls() {
    let pot = Pot::typical(litres(7.0)).with(Dish::named("broth-thin-soup").unwrap(), kilograms(6.0));
    let dry = Material::named("sheep-wool-batt").unwrap();
    let damp = dry.damp().unwrap();
    let boards = |material: &Material| {
        let wall = Wall::planar().layer(Layer::new(material.clone(), millimetres(60.0)).unwrap()).build().unwrap();
        let strip = Filler::cove(millimetres(30.0), material.clone());
        Enclosure::of_wall(wall).edges(Edges::Solved).with_filler(EdgeRow::Upright, strip)
    };
    let asked = Asked::above(celsius(63.0));
    for (material, other, name, sign) in [(&dry, &damp, "damp insulation", -1.0), (&damp, &dry, "dry insulation", 1.0)]
    {
        let setup = Setup::new(pot.clone(), boards(material)).unwrap();
        let list = what_matters(&setup, &Plan::in_room(celsius(16.0)), &asked, &Options::default()).unwrap();
        let effect = named(&list, name);
        assert_eq!(effect.compared.outcome.variant.setup().shell(), &Shell::Box(boards(other)), "{name}");
        assert_eq!(hours_longer(effect).signum(), sign, "{effect}");
    }
}

/// Mass of four strips of cork of 30 mm along the upright edges of a box, kg.
fn strip_mass(setup: &Setup) -> f64 {
    let Shell::Box(boards) = setup.shell() else { panic!("a box") };
    let [_, _, height] = boards.inner_size(setup.pot());
    let cork = Material::named("expanded-cork-board").unwrap();
    4.0 * 0.5 * 0.03 * 0.03 * height.si() * cork.density().value().si()
}

/// A sleeve keeps the way its edges are counted when its layers change.
#[test]
fn a_sleeve_with_solved_edges_stays_one() {
    let pot = Pot::typical(litres(0.9)).with(Dish::named("broth-thin-soup").unwrap(), grams(820.0));
    let sleeve = Sleeve::of_mat("cross-linked-polyethylene-foam-mat", millimetres(5.0), 2).unwrap();
    let setup = Setup::new(pot, sleeve.edges(Edges::Solved)).unwrap();
    let plan = Plan::in_room(celsius(4.0));
    let list = what_matters(&setup, &plan, &Asked::above(celsius(65.0)), &Options::horizon(hours(8.0))).unwrap();
    assert!(list.left_out.is_empty(), "{:?}", list.left_out);
    for effect in &list.effects {
        let Shell::Sleeve(sleeve) = effect.compared.outcome.variant.setup().shell() else { panic!("{effect}") };
        assert_eq!(sleeve.edge_form(), Edges::Solved, "{effect}");
    }
}

/// What holds past the horizon is told so, and ranked by the temperature there.
#[test]
fn past_the_horizon_temperatures_are_compared() {
    let case = kitchen();
    let asked = Asked::above(celsius(63.0));
    let list = what_matters(&case.setup, &case.plan, &asked, &Options::horizon(hours(6.0))).unwrap();
    let warm = named(&list, "surroundings 10 K warmer");
    assert_eq!(warm.holds()[End::Best as usize], HoldDifference::PastHorizon);
    assert!(warm.compared.end.best.value > kelvins(0.5) && warm.rank.is_some());
    assert!(warm.to_string().contains("at the end of what was followed"), "{warm}");
    // What ends all the same comes before what only is warmer or colder there.
    let ended = named(&list, "no lid on the pot");
    let HoldDifference::AtMost(shorter) = ended.holds()[End::Best as usize] else { panic!("{ended}") };
    assert!(shorter.si() < 0.0 && ended.rank < warm.rank, "{ended}");
    // Past the base's end no more than that is known.
    let list = what_matters(&case.setup, &case.plan, &asked, &Options::horizon(hours(10.0))).unwrap();
    let warm = named(&list, "surroundings 10 K warmer");
    let HoldDifference::AtLeast(longer) = warm.holds()[End::Best as usize] else { panic!("{warm}") };
    assert!(longer > minutes(0.0) && longer < hours(1.0));
    assert!(list.ranked(End::Best)[0].rank == Some(1));
    let cold = list.effects.iter().find(|effect| matches!(effect.holds()[1], HoldDifference::By(_))).unwrap();
    assert!(warm.rank < cold.rank || hours_longer(cold).abs() > longer.si() / 3600.0);
}

/// A cold box: less heat that enters is longer below.
#[test]
fn a_cold_box_is_ranked_by_how_long_it_stays_below() {
    let pot = Pot::typical(litres(5.0)).with(Dish::named("milk-whole").unwrap(), kilograms(4.0));
    let setup = Setup::new(pot, Enclosure::lined("expanded-polystyrene-20", millimetres(40.0)).unwrap()).unwrap();
    let plan = Plan::in_room(celsius(30.0)).leaving_at(celsius(3.0));
    let asked = Asked::below(celsius(8.0));
    let list = what_matters(&setup, &plan, &asked, &Options::default()).unwrap();
    for effect in &list.effects {
        println!("{effect}");
    }
    assert!(hours_longer(named(&list, "insulation half as thick again")) > 0.0);
    assert!(hours_longer(named(&list, "a box cooled to 3 °C")) > 0.0);
    assert!(hours_longer(named(&list, "surroundings 10 K warmer")) < 0.0);
    assert!(list.effects.iter().all(|effect| !effect.name().contains("warmed to")));
}

/// What improvements take: mass and room by geometry, money by prices of the caller alone.
#[test]
fn worth_by_mass_room_and_money() {
    let case = kitchen();
    let plain = of_kitchen_by_default();
    assert!(plain.worth(Per::Money).is_empty() && plain.base.cost.is_none());
    let list = plain.worth(Per::Litre);
    assert!(list.iter().all(|worth| worth.gain.si() > 0.0 && worth.effect.kind == ChangeKind::Build));
    let first_that_takes = list.iter().position(|worth| worth.rate().is_some()).unwrap();
    assert!(list[..first_that_takes].iter().all(|worth| worth.rate().is_none()));
    let rates: Vec<f64> = list[first_that_takes..].iter().map(|worth| worth.rate().unwrap().si()).collect();
    assert!(rates.is_sorted_by(|a, b| a >= b), "{rates:?}");
    let thick = list.iter().find(|worth| worth.effect.name().starts_with("insulation half")).unwrap();
    assert!(thick.takes > 5.0 && thick.takes < 50.0, "{} litres", thick.takes);

    let names = ["cotton-woven-cloth", "expanded-polystyrene-20", "plywood", "expanded-cork-board"];
    let asked = names
        .iter()
        .fold(Asked::above(celsius(63.0)), |asked, name| asked.with_price(name, MaterialPrice::PerSquareMetre(10.0)));
    let priced = what_matters(&case.setup, &case.plan, &asked, &Options::default()).unwrap();
    let cost = priced.base.cost.as_ref().unwrap();
    let area: f64 = case.setup.materials_used().iter().map(|used| used.area.si()).sum();
    assert!((cost.amount - 10.0 * area).abs() < 1e-9 && cost.unpriced.is_empty());
    let money = priced.worth(Per::Money);
    assert!(money.iter().any(|worth| worth.effect.name().starts_with("insulation half")));
    // Foil has no price here: it is told as such. So is a pot, which is no layer, and the lid.
    let names: Vec<&str> = money.iter().map(|worth| worth.effect.name()).collect();
    assert!(names.iter().all(|name| !name.contains("foil") && !name.starts_with("a pot") && !name.contains("lid")));
    let unpriced: Vec<&str> = priced.unpriced().iter().map(|effect| effect.name()).collect();
    for start in ["foil as", "a pot with three times", "pressing the lid", "a soft gasket", "boards fitted tightly"] {
        assert!(unpriced.iter().any(|name| name.starts_with(start)), "{start}: {unpriced:?}");
    }
    assert!(unpriced.iter().all(|name| !names.contains(name)), "{unpriced:?}");
    // Strips are cut from a board as thick as they: its price counts.
    let strips = money.iter().find(|worth| worth.effect.name().starts_with("filling the corners")).unwrap();
    assert!(strips.takes > 0.5 && strips.takes < 10.0, "{}", strips.takes);
}

/// The file prices materials and whole changes: all that can be built and helps has a place by money, or is told to have none.
#[test]
fn every_improvement_is_priced_or_said_not_to_be() {
    let case = kitchen();
    let asked = Asked::above(celsius(63.0)).with_prices(case.prices.clone().with_change("a gasket of gold", 1e6));
    let list = what_matters(&case.setup, &case.plan, &asked, &Options::default()).unwrap();
    let [unknown] = &list.left_out[..] else { panic!("{:?}", list.left_out) };
    assert_eq!((unknown.path().as_str(), unknown.value()), ("price", Some("a gasket of gold")));
    let money = list.worth(Per::Money);
    let takes =
        |start: &str| money.iter().find(|worth| worth.effect.name().starts_with(start)).map(|worth| worth.takes);
    assert_eq!((takes("a soft gasket"), takes("boards fitted tightly")), (Some(6.0), Some(5.0)));
    assert_eq!(takes("a pot with three times the metal"), Some(60.0));
    // A twentieth of a millimetre of foil over 0.35 m² of liner or so, at 0.4 for each m².
    assert!(takes("foil as the innermost").is_some_and(|price| price > 0.08 && price < 0.3));
    let (priced, unpriced) = (money.len(), list.unpriced().len());
    assert_eq!(priced + unpriced, list.worth(Per::Kilogram).len());
    assert!(priced >= 8 && unpriced >= 1, "{priced} {unpriced}");
    // A smaller box is cheaper, too: it takes nothing.
    assert!(takes("a box that leaves").is_some_and(|price| price < 0.0) && money[0].rate().is_none());
}
