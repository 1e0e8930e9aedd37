//! Builders make the layouts that the tables of junctions were computed for, and what has no table obeys its bounds.

use super::cases::{Case, fill, junctions};
use stillhot::conduction::{SectionAccuracy, SectionProblem, SteadySection};
use stillhot::units::{Si, celsius, metres, millimetres, watts_per_kelvin, watts_per_square_metre_kelvin};
use stillhot::{
    Airspace, Boundary, Bridge, Contact, Fill, Filler, Junction, Layer, LidOnRim, PotInSleeve, Section, TeeJoint, Wall,
    WallCorner,
};

fn film(h: f64, t: f64) -> Boundary {
    Boundary::film(watts_per_square_metre_kelvin(h), celsius(t))
}

fn mat() -> Fill {
    fill("mat", [0.04, 0.04], 45.0, 1400.0)
}
fn foam() -> Fill {
    fill("foam", [0.024, 0.024], 32.0, 1450.0)
}
fn ply() -> Fill {
    fill("ply", [0.12, 0.12], 560.0, 1600.0)
}
fn air() -> Fill {
    fill("air", [0.026, 0.026], 1.15, 1006.0)
}
fn quilt() -> Fill {
    fill("quilt", [0.035, 0.035], 60.0, 1300.0)
}

fn wall(layers: &[(Fill, f64)]) -> Wall {
    let build = layers
        .iter()
        .fold(Wall::planar(), |w, (fill, mm)| w.layer(Layer::new(fill.material().clone(), millimetres(*mm)).unwrap()));
    build.build().unwrap()
}

fn three_layers() -> Wall {
    wall(&[(mat(), 20.0), (foam(), 30.0), (ply(), 9.0)])
}

fn solve(section: &Section, boundaries: &[(&str, Boundary)]) -> SteadySection {
    let problem = boundaries
        .iter()
        .fold(SectionProblem::new(section.clone()), |p, (part, boundary)| p.with(part, boundary.clone()).unwrap());
    problem.steady(&SectionAccuracy::relative(2e-4)).unwrap()
}

fn rooms() -> [(&'static str, Boundary); 2] {
    [("inside", film(8.0, 95.0)), ("outside", film(8.0, 10.0))]
}

fn case(id: &str) -> Case {
    junctions().into_iter().find(|c| c.id == id).unwrap()
}

fn listed(case: &Case, what: &str, part: Option<&str>) -> f64 {
    case.values.iter().find(|v| v.what == what && v.part.as_deref() == part && v.time.is_none()).unwrap().value
}

#[test]
fn corners_and_lid_are_those_of_the_tables() {
    // The tables cut at other arm lengths than the builders, beyond which nothing but plain wall follows.
    let corner = || WallCorner::new(three_layers(), three_layers());
    let lined =
        || wall(&[(fill("lining", [0.17, 0.17], 900.0, 1500.0), 3.0), (mat(), 25.0), (foam(), 30.0), (ply(), 9.0)]);
    let wood = fill("wood", [0.12, 0.12], 480.0, 1600.0);
    let legs = |mm: f64| [millimetres(mm); 2];
    let built: Vec<(&str, Junction)> = vec![
        ("A1", corner().build().unwrap()),
        ("A2", corner().with_filler(Filler::straight(legs(30.0), foam())).build().unwrap()),
        ("A3", corner().with_filler(Filler::straight(legs(50.0), wood)).build().unwrap()),
        ("A5", WallCorner::new(lined(), lined()).with_void(legs(15.0), air()).build().unwrap()),
        (
            "A6-gap",
            LidOnRim::new(three_layers(), wall(&[(mat(), 20.0), (foam(), 40.0), (ply(), 9.0)]))
                .with_gap(millimetres(2.0), air())
                .build()
                .unwrap(),
        ),
    ];
    for (id, junction) in built {
        let steady = solve(junction.section(), &rooms());
        let inner = steady.linear_transmittance("inside", "outside", &junction.inner_arms()).unwrap();
        let outer = steady.linear_transmittance("inside", "outside", &junction.outer_arms()).unwrap();
        let case = case(id);
        for (e, what) in [(inner, "psi_i"), (outer, "psi_e")] {
            let listed = listed(&case, what, None);
            // Arms of two thicknesses leave out 1e-4 of it or so.
            let off = (e.value.si() - listed).abs();
            println!("{id} {what}: {:.7} listed {listed:.7} off {off:.1e} reported {:.1e}", e.value.si(), e.error.si());
            assert!(off < e.error.si() + 3e-3 * listed.abs(), "{id} {what}: {e:?} {listed}");
        }
    }
}

#[test]
fn sleeves_are_those_of_the_tables() {
    let sleeve = |mat_mm: f64, quilt_mm: f64| {
        PotInSleeve::new(millimetres(90.0), millimetres(120.0), wall(&[(mat(), mat_mm), (quilt(), quilt_mm)]))
    };
    let parts = [
        ("pot", Boundary::temperature(celsius(95.0))),
        ("side", film(8.0, 10.0)),
        ("top", film(8.0, 10.0)),
        ("base", film(4.0, 10.0)),
    ];
    for (id, section) in [
        ("B1", sleeve(8.0, 4.0).build().unwrap()),
        ("B2", sleeve(8.0, 4.0).with_gap(millimetres(1.0), millimetres(1.0), air()).build().unwrap()),
        ("B3", sleeve(20.0, 10.0).build().unwrap()),
    ] {
        let steady = solve(&section, &parts);
        for (part, _) in &parts {
            let e = steady.heat(part).unwrap();
            let listed = listed(&case(id), "heat_flow", Some(part));
            println!("{id} {part}: {:.6} listed {listed:.6} reported {:.1e}", e.value, e.error);
            assert!((e.value - listed).abs() <= e.error, "{id} {part}: {e:?} {listed}");
        }
    }
}

#[test]
fn a_hollow_strip_lies_between_none_and_a_straight_one() {
    let corner = || WallCorner::new(three_layers(), three_layers()).with_arms(millimetres(180.0));
    let heat = |junction: Junction| solve(junction.section(), &rooms()).heat("inside").unwrap();
    let none = heat(corner().build().unwrap());
    let hollow = heat(corner().with_filler(Filler::cove(millimetres(40.0), foam())).build().unwrap());
    let straight = heat(corner().with_filler(Filler::straight([millimetres(40.0); 2], foam())).build().unwrap());
    println!("{} {} {}", none.value, hollow.value, straight.value);
    assert!(none.value > hollow.value + 10.0 * hollow.error && hollow.value > straight.value + 10.0 * straight.error);
}

#[test]
fn a_comparison_tells_the_difference_more_exactly_than_its_parts() {
    let corner = WallCorner::new(three_layers(), three_layers()).with_arms(millimetres(180.0));
    let problem = |junction: Junction| {
        rooms()
            .into_iter()
            .fold(SectionProblem::new(junction.section().clone()), |p, (part, b)| p.with(part, b).unwrap())
    };
    let filled = problem(corner.clone().with_filler(Filler::straight([millimetres(30.0); 2], foam())).build().unwrap());
    let plain = problem(corner.build().unwrap());
    let both = filled.compare(&plain, &SectionAccuracy::relative(2e-4)).unwrap();
    let difference = both.heat("inside").unwrap();
    // psi of the tables A2 and A1: same walls, same frame but for the length of plain arms.
    let listed = (listed(&case("A2"), "psi_i", None) - listed(&case("A1"), "psi_i", None)) * 85.0;
    println!("{:.6} listed {listed:.6} reported {:.1e}", difference.value, difference.error);
    assert!((difference.value - listed).abs() <= difference.error + 1e-5);
    assert!(
        filled
            .compare(
                &problem(WallCorner::new(three_layers(), three_layers()).build().unwrap()),
                &SectionAccuracy::default()
            )
            .is_err()
    );
}

#[test]
fn heat_balances_in_every_kind_of_junction() {
    let side = three_layers;
    let lid = || LidOnRim::new(side(), side());
    let mm = millimetres;
    let joined = Wall::planar()
        .layer(Layer::new(mat().material().clone(), mm(20.0)).unwrap())
        .contact(Contact::Gap(mm(1.0)))
        .layer(Layer::new(foam().material().clone(), mm(30.0)).unwrap())
        .build()
        .unwrap();
    let corner_of = |a: &Wall, b: &Wall| WallCorner::new(a.clone(), b.clone());
    let junctions = [
        lid().build().unwrap(),
        lid().with_step(mm(15.0), mm(3.0), foam()).build().unwrap(),
        lid().with_gap(mm(1.0), air()).with_step(mm(15.0), mm(3.0), foam()).build().unwrap(),
        lid().with_gap(mm(1.0), air()).with_overlap(mm(25.0), mm(9.0), ply()).build().unwrap(),
        corner_of(&joined, &joined).build().unwrap(),
        corner_of(&joined, &side()).build().unwrap(),
        LidOnRim::new(joined.clone(), joined.clone()).with_gap(mm(2.0), air()).build().unwrap(),
    ];
    for junction in &junctions {
        let steady = solve(junction.section(), &rooms());
        let [given, taken] = ["inside", "outside"].map(|part| steady.heat(part).unwrap());
        assert!((given.value + taken.value).abs() < 1e-8 * given.value, "{given:?} {taken:?}");
        let psi = steady.linear_transmittance("inside", "outside", &junction.inner_arms()).unwrap();
        println!("psi_i {:.5}", psi.value.si());
        assert!(psi.value.si() > 0.0 && psi.value.si() < 0.05);
    }
    let tee = TeeJoint::new(side(), joined).build().unwrap();
    let steady = solve(
        tee.section(),
        &[("first room", film(8.0, 95.0)), ("second room", film(8.0, 95.0)), ("outside", film(8.0, 10.0))],
    );
    let heats: Vec<f64> = ["first room", "second room", "outside"].map(|p| steady.heat(p).unwrap().value).to_vec();
    println!("{heats:?}");
    assert!(heats.iter().sum::<f64>().abs() < 1e-8 * heats[0]);
}

#[test]
fn a_bar_through_a_wall_that_hardly_conducts_is_a_bar() {
    // Films at both ends and the bar in series, as in any textbook; the wall around it carries next to nothing.
    let tight = wall(&[(fill("vacuum", [1e-4, 1e-4], 1.0, 1000.0), 40.0)]);
    let bridge = Bridge::new(tight, millimetres(5.0), fill("steel", [16.0, 16.0], 7900.0, 500.0));
    let rooms = [("inside", film(200.0, 95.0)), ("outside", film(100.0, 10.0))];
    let plain = solve(&bridge.plain().unwrap(), &rooms).coupling("inside", "outside").unwrap();
    let steady = solve(&bridge.build().unwrap(), &rooms);
    let chi = steady.point_transmittance("inside", "outside", watts_per_kelvin(plain.value)).unwrap();
    let area = std::f64::consts::PI * 0.005 * 0.005;
    let exact = area / (1.0 / 200.0 + 0.04 / 16.0 + 1.0 / 100.0);
    println!("{:?} {exact:e}", chi.value);
    // What leaks out of its side and back takes a share of the order of the ratio of conductivities and its logarithm.
    assert!((chi.value.si() - exact).abs() < 0.02 * exact, "{chi:?} {exact}");
    // A stub and a head take up more heat.
    let more =
        bridge.clone().with_stubs(millimetres(20.0), millimetres(30.0)).with_head(millimetres(9.0), millimetres(4.0));
    let heat = |s: &SteadySection| s.heat("inside").unwrap().value;
    let with_head = solve(&more.build().unwrap(), &rooms);
    assert!(heat(&with_head) > 1.5 * heat(&steady));
    assert!((heat(&with_head) + with_head.heat("outside").unwrap().value).abs() < 1e-8 * heat(&with_head));
}

#[test]
fn builders_refuse_what_they_cannot_lay_out() {
    let round = Wall::cylindrical(metres(0.1))
        .layer(Layer::new(mat().material().clone(), millimetres(10.0)).unwrap())
        .build()
        .unwrap();
    let airy = Wall::planar()
        .layer(Layer::new(mat().material().clone(), millimetres(10.0)).unwrap())
        .contact(Contact::Airspace(Airspace::upright(millimetres(20.0))))
        .layer(Layer::new(mat().material().clone(), millimetres(10.0)).unwrap())
        .build()
        .unwrap();
    for wall in [round, airy] {
        let error = WallCorner::new(wall.clone(), wall.clone()).build().unwrap_err();
        println!("{error}");
        assert!(error.path().starts_with("corner, first wall"));
        assert!(PotInSleeve::new(metres(0.1), metres(0.1), wall.clone()).build().is_err());
        assert!(Bridge::new(wall.clone(), metres(0.01), mat()).build().is_err());
        assert!(LidOnRim::new(wall.clone(), wall.clone()).build().is_err());
        assert!(TeeJoint::new(wall.clone(), wall).build().is_err());
    }
    let corner = || WallCorner::new(three_layers(), three_layers());
    let long = Filler::straight([millimetres(300.0); 2], foam());
    assert!(corner().with_arms(millimetres(200.0)).with_filler(long).build().is_err());
    assert!(corner().with_filler(Filler::cove(millimetres(f64::NAN), foam())).build().is_err());
    assert!(corner().with_void([millimetres(0.0); 2], air()).build().is_err());
    assert!(Bridge::new(three_layers(), metres(0.01), mat()).with_head(metres(0.005), metres(0.01)).build().is_err());
    assert!(PotInSleeve::new(metres(-0.1), metres(0.1), three_layers()).build().is_err());
}
