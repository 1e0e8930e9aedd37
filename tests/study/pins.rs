//! Inputs taken as exact.

use std::collections::BTreeSet;

use stillhot::study::{Asked, what_matters};
use stillhot::units::{Si, celsius, hours, metres_per_second, millimetres, minutes};
use stillhot::{
    EdgeRow, Edges, Enclosure, ErrorKind, Face, Fill, Filler, Input, InputRange, InputScale, Layer, LayerPlace, Lid,
    Range, Resting, Setup, Wall,
};

use crate::setups::{foam_box, many, plan, pot, quick};

fn all_at(setup: &Setup, plan: &stillhot::Plan, position: f64) -> Setup {
    let pins: Vec<(Input, f64)> = setup.uncertain(plan).unwrap().iter().map(|known| (known.input, position)).collect();
    setup.pinned(&pins).unwrap()
}

/// With everything pinned at an end, the two marches of the ends are one, and it is that end of the setup as it was.
#[test]
fn all_at_an_end_is_that_end_of_the_range() {
    for (name, setup, plan) in many() {
        let options = quick(8.0);
        let whole = setup.forecast_with(&plan, &options).unwrap();
        for (position, generous) in [(0.0, false), (1.0, true)] {
            let pinned = all_at(&setup, &plan, position);
            assert!(pinned.uncertain(&plan).unwrap().is_empty(), "{name}");
            let forecast = pinned.forecast_with(&plan, &options).unwrap();
            for minute in [1.0, 30.0, 120.0, 300.0, 480.0] {
                let range = whole.at(minutes(minute)).unwrap().temperature;
                let end = if generous { range.high().si() } else { range.low().si() };
                let row = forecast.at(minutes(minute)).unwrap();
                let [low, high] = [row.temperature.low().si(), row.temperature.high().si()];
                // Of the three values one is the best one, on other meshes; the ends are equal.
                let off = (low - end).abs().min((high - end).abs());
                assert!(off < 1e-9, "{name} at {minute} min: {off:e} K");
                let width = high - low;
                assert!(width < 0.05 + 5.0 * row.numerical.si(), "{name} at {minute} min: {width} K wide");
            }
        }
    }
}

#[test]
fn all_at_the_best_value_is_the_best_value() {
    let whole = foam_box().forecast_with(&plan(), &quick(8.0)).unwrap();
    let pinned = all_at(&foam_box(), &plan(), 0.5).forecast_with(&plan(), &quick(8.0)).unwrap();
    for hour in [0.0, 2.0, 8.0] {
        let best = |f: &stillhot::Forecast| f.at(hours(hour)).unwrap().temperature.best().si();
        assert_eq!(best(&whole).to_bits(), best(&pinned).to_bits());
    }
}

/// The edge of a dish that stands still has its cautious end where most hinders the heat inside.
#[test]
fn the_edge_of_a_still_dish_is_coldest_where_most_hinders_the_heat() {
    let (_, setup, plan) = many().pop().unwrap();
    let options = quick(4.0);
    let whole = setup.forecast_with(&plan, &options).unwrap();
    let pins: Vec<(Input, f64)> = setup
        .uncertain(&plan)
        .unwrap()
        .iter()
        .map(|known| (known.input, if known.input == Input::DishHindrance { 1.0 } else { 0.0 }))
        .collect();
    assert!(pins.iter().any(|(_, position)| *position == 1.0));
    let forecast = setup.pinned(&pins).unwrap().forecast_with(&plan, &options).unwrap();
    for hour in [0.2, 1.0, 4.0] {
        let end = whole.coldest(hours(hour)).unwrap().temperature.low().si();
        let row = forecast.coldest(hours(hour)).unwrap().temperature;
        let off = (row.low().si() - end).abs().min((row.high().si() - end).abs());
        assert!(off < 1e-9, "at {hour} h: {off:e} K");
    }
}

/// Whatever can be uncertain is, in one of the setups; what does not matter under a plan is not listed.
#[test]
fn every_kind_of_input_is_met_with_once() {
    let mut kinds = BTreeSet::new();
    for (name, setup, plan) in many() {
        let list = setup.uncertain(&plan).unwrap();
        let inputs: BTreeSet<Input> = list.iter().map(|known| known.input).collect();
        assert_eq!(inputs.len(), list.len(), "{name}");
        for known in &list {
            let [low, best, high] = known.range.si();
            assert!(low <= best && best <= high && low < high, "{name}: {known}");
            kinds.insert(format!("{:?}", known.input).split(['(', ' ']).next().unwrap().to_owned());
        }
    }
    println!("{kinds:?}");
    assert_eq!(kinds.len(), 28);
    let calm: Vec<Input> = foam_box().uncertain(&plan().carry(minutes(0.0))).unwrap().iter().map(|k| k.input).collect();
    for absent in [Input::Shelter, Input::OpenTopFactor, Input::BarePotFilm, Input::PlugConvection, Input::LidLeak] {
        assert!(!calm.contains(&absent), "{absent}");
    }
}

/// What is listed as uncertain may be pinned, whatever the plan: what evaporates from a dish that stands still is
/// uncertain only where it is uncovered or stirred, and used to be refused, by the list of what matters too.
#[test]
fn whatever_a_plan_makes_uncertain_may_be_pinned() {
    let setup = foam_box().with_pot(pot("lentil-porridge", 5.0, 4.0)).unwrap();
    let listed = |plan: &stillhot::Plan| setup.uncertain(plan).unwrap().iter().any(|k| k.input == Input::SurfaceFactor);
    let plans = [
        plan(),
        plan().stir_at(hours(1.0), minutes(1.0)),
        plan().uncover_at(hours(1.0), minutes(1.0)),
        plan().open_at(hours(1.0), minutes(1.0)).stir_at(hours(2.0), minutes(1.0)),
        plan().in_wind(metres_per_second(4.0)).resting_on(Resting::earth()).under_sky(celsius(-5.0)),
        plan().resting_on(Resting::hung()).reheat_at(hours(1.0), celsius(95.0)),
    ];
    for plan in &plans {
        let pinned = all_at(&setup, plan, 0.5);
        assert!(pinned.uncertain(plan).unwrap().is_empty(), "{plan:?}");
    }
    assert!(!listed(&plans[0]) && listed(&plans[1]) && listed(&plans[2]));
    let list = what_matters(&setup, &plans[1], &Asked::above(celsius(63.0)), &quick(24.0)).unwrap();
    assert!(list.measure.iter().any(|known| known.inputs.contains(&Input::SurfaceFactor)));
}

#[test]
fn positions_between_are_linear_in_what_the_scale_says() {
    let setup = foam_box();
    let list = setup.uncertain(&plan()).unwrap();
    let joint = list.iter().find(|known| known.input == Input::LidGap).unwrap();
    assert_eq!(joint.scale, InputScale::Logarithmic);
    let loops = list.iter().find(|known| known.input == Input::AirLoops).unwrap();
    assert_eq!(loops.scale, InputScale::Linear);
    // By hand: half-way from 1 mm to 2 mm by the logarithm is the root of 2; the same box with that joint is the same.
    let pinned = setup.pinned(&[(Input::LidGap, 0.25)]).unwrap().forecast_with(&plan(), &quick(6.0)).unwrap();
    let exact = Range::exactly(millimetres(2.0_f64.sqrt()));
    let walls = Enclosure::lined("expanded-polystyrene-20", millimetres(50.0)).unwrap();
    let given = Setup::new(setup.pot().clone(), walls.lid(Lid::resting().with_gap(exact))).unwrap();
    let given = given.forecast_with(&plan(), &quick(6.0)).unwrap();
    let at = |f: &stillhot::Forecast| f.at(hours(6.0)).unwrap().temperature;
    for of in [Range::low, Range::best, Range::high] {
        assert!((of(&at(&pinned)).si() - of(&at(&given)).si()).abs() < 1e-6);
    }
}

/// One material is one input wherever it occurs; each move towards the generous end holds longer.
#[test]
fn a_pin_moves_the_pot_its_way() {
    let setup = foam_box();
    let place = LayerPlace { face: Face::Lid, layer: 0 };
    let known = setup.uncertain(&plan()).unwrap();
    let conductivities =
        known.iter().filter(|known| matches!(known.range, InputRange::Conductivity(_))).collect::<Vec<_>>();
    assert_eq!(conductivities.len(), 1);
    assert_eq!(conductivities[0].input, Input::LayerConductivity(place));
    assert!(conductivities[0].name.starts_with("conductivity of ") && conductivities[0].name.contains("polystyrene"));
    for input in [Input::LayerConductivity(place), Input::LidGap, Input::DishHeatCapacity, Input::AirLoops] {
        let mut before = f64::NEG_INFINITY;
        for position in [0.0, 0.2, 0.5, 0.8, 1.0] {
            let pinned = setup.pinned(&[(input, position)]).unwrap();
            let best = pinned.forecast_with(&plan(), &quick(6.0)).unwrap().at(hours(6.0)).unwrap().temperature.best();
            assert!(best.si() > before || input == Input::AirLoops && best.si() >= before, "{input} at {position}");
            before = best.si();
        }
    }
}

#[test]
fn pins_that_make_no_sense_are_refused() {
    let setup = foam_box();
    let kind = |pins: &[(Input, f64)]| setup.pinned(pins).unwrap_err().kind();
    for wrong in [-0.1, 1.000_001, f64::NAN, f64::INFINITY] {
        assert_eq!(kind(&[(Input::LidGap, wrong)]), ErrorKind::OutOfRange);
    }
    assert_eq!(kind(&[(Input::LidLeak, 0.5)]), ErrorKind::Inconsistent);
    assert_eq!(kind(&[(Input::LidGap, 0.5), (Input::LidGap, 0.4)]), ErrorKind::Inconsistent);
    let error = setup.pinned(&[(Input::HandleFilm, 0.0)]).unwrap_err();
    assert_eq!(error.path(), "film of the handle");
    // A pin may be changed; the setup it came from stays as it was.
    let twice = setup.pinned(&[(Input::LidGap, 0.1)]).unwrap().pinned(&[(Input::LidGap, 0.9)]).unwrap();
    assert_eq!(twice.pins(), [(Input::LidGap, 0.9)]);
    assert!(setup.pins().is_empty());
    // What is taken for granted names it.
    let said = |setup: &Setup| setup.assumptions(&plan()).unwrap().iter().filter(|a| a.basis == "as pinned").count();
    assert_eq!((said(&setup), said(&twice)), (0, 1));
    assert!(setup.uncertain(&plan().leaving_at(celsius(500.0))).is_err());
}

/// What a pin on a material becomes when layers come and go about it: by name of the material, never by its place.
#[test]
fn a_pin_stays_with_its_material() {
    let layer = |id: &str, mm: f64| Layer::of(id, millimetres(mm)).unwrap();
    let wall = |ids: &[&str]| {
        let mut wall = Wall::planar().layer(layer(ids[0], 20.0));
        for id in &ids[1..] {
            wall = wall.layer(layer(id, 20.0));
        }
        Enclosure::of_wall(wall.build().unwrap())
    };
    let (wool, cork, wood) = ("sheep-wool-batt", "expanded-cork-board", "plywood");
    let place = |layer: usize| LayerPlace { face: Face::Lid, layer };
    let pot = || foam_box().pot().clone();
    let setup = Setup::new(pot(), wall(&[wool, cork, wood])).unwrap();
    let pins =
        [(Input::LayerConductivity(place(2)), 0.0), (Input::LayerHeatCapacity(place(1)), 1.0), (Input::LidGap, 0.3)];
    let pinned = setup.pinned(&pins).unwrap();
    // One layer less inside: both have moved inward. Pinned there by hand it is the same setup.
    let fewer = pinned.with_shell(wall(&[cork, wood])).unwrap();
    let moved =
        [(Input::LayerConductivity(place(1)), 0.0), (Input::LayerHeatCapacity(place(0)), 1.0), (Input::LidGap, 0.3)];
    assert_eq!(fewer.pins(), moved);
    assert_eq!(fewer, Setup::new(pot(), wall(&[cork, wood])).unwrap().pinned(&moved).unwrap());
    // The other way round, and with one more in front of them.
    let turned = pinned.with_shell(wall(&[wood, wool, cork])).unwrap();
    assert_eq!(
        turned.pins()[..2],
        [(Input::LayerConductivity(place(0)), 0.0), (Input::LayerHeatCapacity(place(2)), 1.0)]
    );
    // Without the material there is nothing to pin: told, not lost; freed first it may go.
    let error = pinned.with_shell(wall(&[wool, cork])).unwrap_err();
    assert_eq!((error.kind(), error.path()), (ErrorKind::Inconsistent, "conductivity of layer 3 of the lid".into()));
    let freed = pinned.unpinned(&[Input::LayerConductivity(place(2))]).with_shell(wall(&[wool, cork])).unwrap();
    assert_eq!(freed.pins(), &pins[1..]);
    // A damp one is another material.
    let damp = Wall::planar().layer(layer(wool, 20.0).damp().unwrap()).build().unwrap();
    let of_wool = setup.pinned(&[(Input::LayerConductivity(place(0)), 0.5)]).unwrap();
    assert!(of_wool.with_shell(Enclosure::of_wall(damp)).is_err());
    // Strips take the name of the first row that has them.
    let strip = |id: &str| Filler::straight([millimetres(20.0); 2], Fill::of(id).unwrap());
    let solved = wall(&[cork]).edges(Edges::Solved).with_filler(EdgeRow::Lid, strip("softwood-across-grain"));
    let filled = Setup::new(pot(), solved.clone()).unwrap().pinned(&[(Input::FillerConductivity(EdgeRow::Lid), 0.2)]);
    let filled = filled.unwrap();
    let more = filled.with_shell(solved.clone().with_filler(EdgeRow::Upright, strip("softwood-across-grain"))).unwrap();
    assert_eq!(more.pins(), [(Input::FillerConductivity(EdgeRow::Upright), 0.2)]);
    assert!(filled.with_shell(solved.without_fillers()).is_err());
}

/// The list of a setup with pins: each variant has them on the same materials, and lacks only those of what it does away with.
#[test]
fn the_list_keeps_pins_on_their_materials() {
    let (name, setup, plan) = many().swap_remove(1);
    assert_eq!(name, "everything");
    let place = |layer: usize| LayerPlace { face: Face::Lid, layer };
    // Plywood inside, damp wool outside.
    let inputs = [Input::LayerConductivity(place(0)), Input::LayerConductivity(place(1))];
    let pinned = setup.pinned(&inputs.map(|input| (input, 0.0))).unwrap();
    let list = what_matters(&pinned, &plan, &Asked::above(celsius(63.0)), &quick(24.0)).unwrap();
    let pins = |start: &str| {
        let effect = list.effects.iter().find(|effect| effect.name().starts_with(start));
        effect.unwrap_or_else(|| panic!("{start}")).compared.outcome.variant.setup().pins().to_vec()
    };
    assert_eq!(pins("insulation half"), pinned.pins());
    assert_eq!(pins("foil as the innermost"), [1, 2].map(|layer| (Input::LayerConductivity(place(layer)), 0.0)));
    assert_eq!(pins("no plywood"), [(Input::LayerConductivity(place(0)), 0.0)]);
    assert_eq!(pins("dry insulation"), [(Input::LayerConductivity(place(0)), 0.0)]);
}
