//! Airspaces and faces whose heat follows their temperatures, against the published relations iterated by hand.

use crate::plain::{bisect, faces, film, held, layer, problem};
use stillhot::conduction::{Accuracy, Probe, Side, Steady};
use stillhot::correlation::airspace::{HeatFlow, convection_iso_6946, resistance_iso_6946};
use stillhot::correlation::constants::{STANDARD_PRESSURE, STEFAN_BOLTZMANN};
use stillhot::correlation::{air, enclosure, forced_convection, free_convection};
use stillhot::units::{self, Si};
use stillhot::{Airspace, Boundary, Contact, Convection, ErrorKind, Exchange, Wall, WallBuilder};

/// Coefficient of an airspace by ISO 6946 at its face temperatures, °C.
fn by_relation(thickness: f64, tilt: f64, emissivities: [f64; 2], inner: f64, outer: f64) -> f64 {
    let mean = f64::midpoint(inner, outer) + 273.15;
    let k = air::conductivity_us_standard_1976(mean).unwrap().value;
    // Heat that leaves goes up where the outside faces up, and down if it comes in instead.
    let flow = HeatFlow::Inclined(if inner >= outer { tilt } else { -tilt }.to_radians());
    let r = |dt: f64| resistance_iso_6946(flow, thickness, emissivities, mean, dt, k).unwrap().value;
    let dt = (inner - outer).abs();
    // The relation's two branches do not quite meet at 5 K; the crate takes the larger coefficient beyond it.
    if dt > 5.0 { 1.0 / r(dt).min(r(5.0)) } else { 1.0 / r(5.0) }
}

const BOARD: f64 = 0.02;
const BOARD_CONDUCTIVITY: f64 = 0.12;
const FILM: f64 = 8.0;
/// Board and film on one side of the airspace, m² K/W.
const SIDE: f64 = BOARD / BOARD_CONDUCTIVITY + 1.0 / FILM;

fn with_airspace(airspace: Airspace, inside: f64, outside: f64) -> Steady {
    let board = || layer(BOARD, BOARD_CONDUCTIVITY, 500.0, 1600.0);
    let wall = Wall::planar().layer(board()).contact(Contact::Airspace(airspace)).layer(board()).build().unwrap();
    problem(wall, film(FILM, inside), film(FILM, outside), 20.0).steady().unwrap()
}

#[test]
fn heat_through_an_airspace_is_that_of_the_relation_at_its_faces() {
    let mut worst = 0.0_f64;
    for thickness in [0.005, 0.02, 0.06] {
        for tilt in [90.0, 45.0, 0.0, -60.0, -90.0] {
            for emissivities in [[0.9, 0.9], [0.05, 0.9], [0.9, 0.05]] {
                for (inside, outside) in [(95.0, 15.0), (15.0, 95.0), (30.0, 26.0)] {
                    // By hand: the flux at which the airspace bears what the two sides leave it.
                    let across = |flux: f64| {
                        let (a, b) = (inside - SIDE * flux, outside + SIDE * flux);
                        by_relation(thickness, tilt, emissivities, a, b) * (a - b)
                    };
                    let most = (inside - outside) / (2.0 * SIDE);
                    let (low, high) = if most > 0.0 { (0.0, most) } else { (most, 0.0) };
                    let flux = bisect(low, high, |flux| flux - across(flux));

                    let airspace = Airspace::upright(units::metres(thickness))
                        .facing(units::degrees(tilt))
                        .with_emissivities(units::fraction(emissivities[0]), units::fraction(emissivities[1]));
                    let steady = with_airspace(airspace, inside, outside);
                    let off = (steady.inner_flux().si() / flux - 1.0).abs();
                    worst = worst.max(off);
                    assert!(off < 1e-9, "{thickness} m, {tilt}°, {emissivities:?}, {inside} to {outside}: {off:e}");
                    let [a, b] = [faces(&steady)[0][1], faces(&steady)[1][0]];
                    assert!((a - (inside - SIDE * flux)).abs() < 1e-7, "{a}");
                    assert!((b - (outside + SIDE * flux)).abs() < 1e-7, "{b}");
                }
            }
        }
    }
    println!("heat through 135 airspaces: worst off by {worst:.1e}");
}

#[test]
fn heat_turns_when_the_temperatures_do() {
    let flux = |tilt: f64, inside: f64, outside: f64| {
        // Foil on both faces: convection, which the direction changes, carries most.
        let airspace = Airspace::upright(units::metres(0.04))
            .facing(units::degrees(tilt))
            .with_emissivities(units::fraction(0.05), units::fraction(0.05));
        with_airspace(airspace, inside, outside).inner_flux().si()
    };
    // An upright wall with equal sides carries as much either way.
    assert!((flux(0.0, 90.0, 20.0) + flux(0.0, 20.0, 90.0)).abs() < 1e-9 * flux(0.0, 90.0, 20.0));
    // A lid turned over is a base: what rises through the one rises through the other.
    assert!((flux(90.0, 90.0, 20.0) + flux(-90.0, 20.0, 90.0)).abs() < 1e-9 * flux(90.0, 90.0, 20.0));
    // Heat rises more easily than it goes down; a slope lies between level and upright.
    assert!(flux(90.0, 90.0, 20.0) > 1.02 * flux(0.0, 90.0, 20.0));
    assert!(flux(0.0, 90.0, 20.0) > 1.02 * flux(-90.0, 90.0, 20.0));
    assert!(flux(45.0, 90.0, 20.0) < flux(90.0, 90.0, 20.0) && flux(45.0, 90.0, 20.0) > flux(0.0, 90.0, 20.0));
    // Nothing without a difference.
    assert!(flux(90.0, 20.0, 20.0).abs() < 1e-9);
}

/// A march ends in the steady state, whichever way the heat went on the way.
#[test]
fn a_march_settles_to_the_steady_state() {
    for (inside, outside) in [(95.0, 15.0), (15.0, 95.0)] {
        let airspace = Airspace::upright(units::metres(0.03)).facing(units::degrees(90.0));
        let steady = faces(&with_airspace(airspace, inside, outside));
        let board = || layer(BOARD, BOARD_CONDUCTIVITY, 500.0, 1600.0);
        let wall = Wall::planar().layer(board()).contact(Contact::Airspace(airspace)).layer(board()).build().unwrap();
        let march = problem(wall, film(FILM, inside), film(FILM, outside), outside)
            .march(&[units::minutes(20.0), units::days(3.0)], &Accuracy::default())
            .unwrap();
        for (side, expected) in [(Side::Inner, steady[0][0]), (Side::Outer, steady[0][1])] {
            let e = march.read(Probe::Face(0, side), 1).unwrap();
            let off = (e.value - 273.15 - expected).abs();
            println!("{inside} to {outside}, {side:?}: settles {off:.1e} K off, reported {:.1e}", e.error);
            // A thousandth of the swing: coefficients that follow temperature are frozen within a tolerance.
            assert!(off <= 0.08, "{inside} to {outside}, {side:?}: off {off:e}");
        }
        assert!(march.ledger_residual() < 1e-9);
    }
}

/// Coefficient by the relation for a kind of convection, face and air in K.
fn convection(kind: Convection, face: f64, air_temperature: f64) -> f64 {
    let film = air::dry_air(f64::midpoint(face, air_temperature), STANDARD_PRESSURE).unwrap();
    let dt = (face - air_temperature).abs();
    let rayleigh = |l: f64| film.rayleigh(dt, l).unwrap();
    let reynolds = |l: f64, v: f64| film.reynolds(v, l).unwrap();
    let (nusselt, length) = match kind {
        Convection::None => return 0.0,
        Convection::Constant(h) => return h.si(),
        Convection::Upright(l) => {
            (free_convection::vertical_plate_churchill_chu(rayleigh(l.si()), film.prandtl).unwrap().value, l.si())
        }
        Convection::UprightCylinder(l, d) => {
            let grashof = rayleigh(l.si()) / film.prandtl;
            let slender = l.si() / d.si();
            (free_convection::vertical_cylinder_popiel(grashof, film.prandtl, slender).unwrap().value, l.si())
        }
        Convection::LevelUp(l) | Convection::LevelDown(l) => {
            let rises = (face > air_temperature) == matches!(kind, Convection::LevelUp(_));
            let relation = if rises {
                free_convection::horizontal_plate_upward_mcadams
            } else {
                free_convection::horizontal_plate_downward_mcadams
            };
            (relation(rayleigh(l.si())).unwrap().value, l.si())
        }
        Convection::LevelCylinder(d) => {
            (free_convection::horizontal_cylinder_churchill_chu(rayleigh(d.si()), film.prandtl).unwrap().value, d.si())
        }
        Convection::WindOnCylinder(d, v) => {
            let re = reynolds(d.si(), v.si());
            (forced_convection::cylinder_churchill_bernstein(re, film.prandtl).unwrap().value, d.si())
        }
        Convection::WindOnPlate(l, v) => {
            let re = reynolds(l.si(), v.si());
            let relation = if re < forced_convection::PLATE_TRANSITION {
                forced_convection::plate_laminar_pohlhausen
            } else {
                forced_convection::plate_mixed
            };
            (relation(re, film.prandtl).unwrap().value, l.si())
        }
        other => panic!("{other:?}"),
    };
    nusselt * film.conductivity / length
}

#[test]
fn faces_exchange_what_the_relations_say() {
    let (metres, speed) = (units::metres, units::metres_per_second);
    let kinds = [
        Convection::None,
        Convection::Constant(units::watts_per_square_metre_kelvin(5.0)),
        Convection::Upright(metres(0.35)),
        Convection::UprightCylinder(metres(0.35), metres(0.12)),
        Convection::LevelUp(metres(0.1)),
        Convection::LevelDown(metres(0.1)),
        Convection::LevelCylinder(metres(0.25)),
        Convection::WindOnCylinder(metres(0.25), speed(3.0)),
        Convection::WindOnPlate(metres(0.4), speed(2.0)),
        Convection::WindOnPlate(metres(2.0), speed(12.0)),
    ];
    let resistance = 0.03 / 0.035;
    let mut worst = 0.0_f64;
    for kind in kinds {
        for emissivity in [0.0, 0.05, 0.9] {
            for (hot, room, sky) in [(95.0, 16.0, 16.0), (95.0, 5.0, -20.0), (0.0, 30.0, 30.0)] {
                if kind == Convection::None && emissivity == 0.0 {
                    continue; // nothing leaves: no flux to compare
                }
                let (air_kelvin, sky_kelvin): (f64, f64) = (room + 273.15, sky + 273.15);
                // By hand: the face temperature at which what arrives leaves again, K.
                let balance = |face: f64| {
                    let arrives = (hot + 273.15 - face) / resistance;
                    let radiates = emissivity * STEFAN_BOLTZMANN * (face.powi(4) - sky_kelvin.powi(4));
                    convection(kind, face, air_kelvin) * (face - air_kelvin) + radiates - arrives
                };
                let ends = [hot + 273.15, air_kelvin, sky_kelvin];
                let low = ends.iter().copied().fold(f64::INFINITY, f64::min) - 1.0;
                let high = ends.iter().copied().fold(0.0, f64::max) + 1.0;
                let face = bisect(low, high, balance);

                let outside = Exchange::new(kind, units::fraction(emissivity), units::celsius(room))
                    .with_radiant(units::celsius(sky));
                let wall = Wall::planar().layer(layer(0.03, 0.035, 30.0, 1450.0)).build().unwrap();
                let steady = problem(wall, held(hot), Boundary::Exchange(outside), 20.0).steady().unwrap();
                let off = (faces(&steady)[0][1] + 273.15 - face).abs();
                worst = worst.max(off);
                assert!(off < 1e-7, "{kind:?}, {emissivity}, {hot} to {room} and {sky}: {off:e} K");
            }
        }
    }
    println!("face temperatures under convection and radiation: worst {worst:.1e} K off");
}

/// Steady heat through a round airspace against the textbook's: convection as conduction round about (level cylinders by
/// Raithby and Hollands, else with the coefficient of ISO 6946), radiation between concentric faces.
#[test]
fn round_airspaces_pass_what_the_relations_say() {
    let (first, gap, board) = (0.05, 0.012, 0.004);
    let [a, b]: [f64; 2] = [first + board, first + board + gap];
    let emissivities = [0.7, 0.3];
    let airspace = Airspace::upright(units::metres(gap))
        .with_emissivities(units::fraction(emissivities[0]), units::fraction(emissivities[1]));
    let of = |wall: WallBuilder, airspace: Airspace| {
        let board = || layer(board, 15.0, 7900.0, 500.0);
        let wall = wall.layer(board()).contact(Contact::Airspace(airspace)).layer(board()).build().unwrap();
        problem(wall, held(90.0), film(20.0, 15.0), 20.0).steady().unwrap()
    };
    let cylinder = || Wall::cylindrical(units::metres(first));
    let level = of(cylinder(), airspace.about_level_axis());
    let upright = of(cylinder(), airspace);
    let sphere = of(Wall::spherical(units::metres(first)), airspace);
    for (name, steady, is_sphere) in
        [("level cylinders", &level, false), ("upright cylinders", &upright, false), ("spheres", &sphere, true)]
    {
        let [inner, outer]: [f64; 2] = [faces(steady)[0][1] + 273.15, faces(steady)[1][0] + 273.15];
        let air = air::dry_air(f64::midpoint(inner, outer), STANDARD_PRESSURE).unwrap();
        let conductivity = if name == "level cylinders" {
            // The Rayleigh number lies on a length of its own, about 40 % of the gap here.
            let length = enclosure::concentric_cylinders_length(a, b).unwrap();
            let rayleigh = air.rayleigh(inner - outer, length).unwrap();
            let ratio = enclosure::concentric_cylinders_raithby_hollands(rayleigh, air.prandtl).unwrap();
            assert!(ratio.is_inside());
            air.conductivity * ratio.value
        } else {
            let h = convection_iso_6946(HeatFlow::Horizontal, gap, inner - outer, air.conductivity).unwrap().value;
            gap * h.max(convection_iso_6946(HeatFlow::Horizontal, gap, 5.0, air.conductivity).unwrap().value)
        };
        let (area, shape, ratio) = if is_sphere {
            (4.0 * std::f64::consts::PI * a * a, 4.0 * std::f64::consts::PI * a * b / (b - a), (a / b).powi(2))
        } else {
            (std::f64::consts::TAU * a, std::f64::consts::TAU / (b / a).ln(), a / b)
        };
        let exchange = 1.0 / (1.0 / emissivities[0] + ratio * (1.0 / emissivities[1] - 1.0));
        let expected = conductivity * shape * (inner - outer)
            + area * exchange * STEFAN_BOLTZMANN * (inner.powi(4) - outer.powi(4));
        let face = if is_sphere { 4.0 * std::f64::consts::PI * first * first } else { std::f64::consts::TAU * first };
        let heat = steady.inner_flux().si() * face;
        println!("{name}: {heat:.4} and {expected:.4} W");
        assert!((heat / expected - 1.0).abs() < 1e-7, "{name}: {heat} instead of {expected} W");
    }
    assert!(level.inner_flux().si() != upright.inner_flux().si());
    let board = || layer(0.004, 15.0, 7900.0, 500.0);
    for wall in [Wall::planar(), Wall::spherical(units::metres(0.1))] {
        let airspace = Contact::Airspace(airspace.about_level_axis());
        let refused = wall.layer(board()).contact(airspace).layer(board()).build().unwrap_err();
        assert_eq!(refused.kind(), ErrorKind::Inconsistent);
        assert_eq!(refused.path(), "wall, between layers 1 and 2, airspace");
    }
}
