//! What must hold for any input: conservation, symmetry, bounds, and refusals.

use crate::{close, layer, solid};
use stillhot::closed_form::{
    BodyShape, BodySide, End, FinTip, LayeredWall, LumpedBody, PeriodicSurface, PeriodicWall, SemiInfiniteSolid, Side,
    Slab, Solid, SteadyElement, SteadyWall, StirredBody, StraightFin, SymmetricBody, TwoHalfSpaces, WallLayer,
    WallShape, critical_radius, eigenvalues, one_term,
};
use stillhot::{Error, ErrorKind};

/// Heat is neither made nor lost: two stirred bodies, films, contacts and the wall between them, closed to the outside.
/// The outside source is the first law; 1e-11 of the temperature difference.
#[test]
fn a_closed_system_keeps_its_heat() {
    let steel = layer(0.001, 380.0, 8900.0, 390.0, 0.03);
    let foam = layer(0.06, 0.035, 30.0, 1450.0, 0.01);
    let pi = std::f64::consts::PI;
    let (a, b, c) = (0.1_f64, 0.101_f64, 0.161_f64);
    for (shape, volumes, tolerance) in [
        (WallShape::Plane, [0.001, 0.06], 1e-11),
        (WallShape::Cylinder { inner_radius: a }, [pi * (b * b - a * a), pi * (c * c - b * b)], 1e-11),
        (
            WallShape::Sphere { inner_radius: a },
            [4.0 / 3.0 * pi * (b.powi(3) - a.powi(3)), 4.0 / 3.0 * pi * (c.powi(3) - b.powi(3))],
            1e-11,
        ),
    ] {
        let inside = End::WellStirred(StirredBody::new(30_000.0, 95.0).with_film(300.0));
        let outside = End::WellStirred(StirredBody::new(7_000.0, 5.0).with_film(8.0));
        let wall = LayeredWall::new(shape, vec![steel, foam], 20.0, inside, outside).unwrap();
        let wall_capacity = volumes[0] * 8900.0 * 390.0 + volumes[1] * 30.0 * 1450.0;
        let heat = |inside: f64, outside: f64, mean: f64| 30_000.0 * inside + 7_000.0 * outside + wall_capacity * mean;
        let start = heat(95.0, 5.0, 20.0);
        for time in [1e-3, 1.0, 60.0, 3600.0, 1e5, 1e9] {
            let found = heat(
                wall.fluid_temperature(Side::Inner, time).unwrap(),
                wall.fluid_temperature(Side::Outer, time).unwrap(),
                wall.mean_temperature(time).unwrap(),
            );
            close(found, start, tolerance * 90.0 * (37_000.0 + wall_capacity), shape, time);
        }
        let settled = start / (37_000.0 + wall_capacity);
        close(wall.fluid_temperature(Side::Outer, 1e9).unwrap(), settled, tolerance * 90.0, shape, 1e9);
    }
}

/// A layer cut in two is the same layer, in every shape and at all times; the cuts take other branches of the Bessel
/// functions and of the power series (outside source: the equation itself).
#[test]
fn cutting_a_layer_changes_nothing() {
    let whole = [layer(0.04, 0.55, 1050.0, 3600.0, 0.0), layer(0.06, 0.035, 30.0, 1450.0, 0.0)];
    let cut = [
        layer(0.03, 0.55, 1050.0, 3600.0, 0.0),
        layer(0.01, 0.55, 1050.0, 3600.0, 0.0),
        layer(0.001, 0.035, 30.0, 1450.0, 0.0),
        layer(0.059, 0.035, 30.0, 1450.0, 0.0),
    ];
    let film = End::Film { coefficient: 8.0, temperature: -10.0 };
    for (shape, inner) in [
        (WallShape::Plane, End::Flux(50.0)),
        (WallShape::Cylinder { inner_radius: 0.0 }, End::Symmetry),
        (WallShape::Cylinder { inner_radius: 0.002 }, End::Temperature(95.0)),
        (WallShape::Sphere { inner_radius: 0.0 }, End::Symmetry),
        (WallShape::Sphere { inner_radius: 0.002 }, End::Temperature(95.0)),
    ] {
        let one = LayeredWall::new(shape, whole.to_vec(), 20.0, inner, film).unwrap();
        let other = LayeredWall::new(shape, cut.to_vec(), 20.0, inner, film).unwrap();
        for time in [0.01, 1.0, 60.0, 3600.0, 1e5, 1e8] {
            for part in [0.0, 0.01, 0.035, 0.0405, 0.07, 0.1] {
                let position = shape.inner_coordinate() + part;
                let found = one.temperature(position, time).unwrap();
                close(found, other.temperature(position, time).unwrap(), 1e-11 * 115.0, (shape, part), time);
                let scale = 115.0 * 1500.0 / time.sqrt() + 115.0 * 20.0;
                let found = one.flux(position, time).unwrap();
                close(found, other.flux(position, time).unwrap(), 1e-11 * scale, (shape, part, "flux"), time);
            }
            close(one.mean_temperature(time).unwrap(), other.mean_temperature(time).unwrap(), 1.2e-9, shape, time);
        }
    }
}

/// A plane wall seen from the other side (outside source: symmetry of the equation).
#[test]
fn a_mirrored_plane_wall_gives_mirrored_answers() {
    let body = End::WellStirred(StirredBody::new(40_000.0, 95.0).with_film(200.0).with_loss(0.5, 0.0));
    let film = End::Film { coefficient: 8.0, temperature: 15.0 };
    let one = LayeredWall::new(
        WallShape::Plane,
        vec![layer(0.002, 16.0, 7900.0, 500.0, 0.05), layer(0.05, 0.035, 30.0, 1450.0, 0.0)],
        20.0,
        body,
        film,
    )
    .unwrap();
    let other = LayeredWall::new(
        WallShape::Plane,
        vec![layer(0.05, 0.035, 30.0, 1450.0, 0.05), layer(0.002, 16.0, 7900.0, 500.0, 0.0)],
        20.0,
        film,
        body,
    )
    .unwrap();
    for time in [0.5, 300.0, 20_000.0] {
        let fluid = one.fluid_temperature(Side::Inner, time).unwrap();
        close(fluid, other.fluid_temperature(Side::Outer, time).unwrap(), 1e-9, "fluid", time);
        let faces = one.face_temperatures(1, time).unwrap();
        let mirrored = other.face_temperatures(1, time).unwrap();
        close(faces[0], mirrored[1], 1e-9, "inner face", time);
        close(faces[1], mirrored[0], 1e-9, "outer face", time);
        for position in [0.0, 0.0015, 0.03, 0.052] {
            let there = 0.052 - position;
            close(one.temperature(position, time).unwrap(), other.temperature(there, time).unwrap(), 1e-9, "T", time);
            close(one.flux(position, time).unwrap(), -other.flux(there, time).unwrap(), 1e-6, "q", time);
        }
    }
}

/// Numbers at the ends of the accepted range end in a finite answer or an error, never in NaN or a panic.
#[test]
fn extreme_numbers_never_give_nan() {
    let extremes = [1e-12, 1.0, 1e12];
    let mut answers = 0;
    let mut look = |result: Result<f64, Error>| {
        if let Ok(value) = result {
            assert!(value.is_finite());
            answers += 1;
        }
    };
    for k in extremes {
        for capacity in extremes {
            let solid = solid(k, capacity, 1.0);
            for thickness in extremes {
                for h in extremes {
                    for time in extremes {
                        let film = End::Film { coefficient: h, temperature: 5.0 };
                        let body = End::WellStirred(StirredBody::new(h, 7.0).with_film(1.0 / h).with_loss(h, -3.0));
                        for inner_radius in [0.0, 1e-12, 1.0, 1e12] {
                            for shape in [
                                WallShape::Plane,
                                WallShape::Cylinder { inner_radius },
                                WallShape::Sphere { inner_radius },
                            ] {
                                let inner = if inner_radius == 0.0 { End::Symmetry } else { body };
                                let layer = WallLayer::new(thickness, solid).unwrap().with_outer_contact(h).unwrap();
                                let Ok(wall) = LayeredWall::new(shape, vec![layer, layer], 0.0, inner, film) else {
                                    continue;
                                };
                                let edge = shape.inner_coordinate();
                                for part in [0.0, 0.5, 1.3, 2.0] {
                                    let found = wall.temperature(edge + part * thickness, time);
                                    if let Ok(value) = found {
                                        // The principle of the maximum: between the coldest and the hottest given.
                                        assert!(
                                            (-3.0 - 1e-9..=7.0 + 1e-9).contains(&value),
                                            "{wall:?} {part} {time}: {value}"
                                        );
                                    }
                                    look(found);
                                }
                                look(wall.flux(edge + 0.5 * thickness, time));
                                look(wall.mean_temperature(time));
                                if let Ok(wall) = PeriodicWall::new(shape, vec![layer, layer], h, 0.0, time) {
                                    look(wall.decrement_factor());
                                    look(wall.inner_admittance().map(|y| y.amplitude));
                                    look(wall.heat_capacities().map(|pair| pair[1]));
                                }
                            }
                        }
                        for end in [film, body, End::Flux(1e12), End::Temperature(-1e12)] {
                            let slab = Slab::new(solid, thickness, 1.0, film, end).unwrap();
                            look(slab.temperature(0.3 * thickness, time));
                            look(slab.flux(0.0, time));
                            look(slab.mean_temperature(time));
                            for shape in [BodyShape::Slab, BodyShape::Cylinder, BodyShape::Sphere] {
                                let body = SymmetricBody::new(shape, solid, thickness, 1.0, end).unwrap();
                                look(body.temperature(0.0, time));
                                look(body.surface_flux(time));
                            }
                            let half = SemiInfiniteSolid::new(solid, 1.0, end).unwrap();
                            look(half.temperature(thickness, time));
                            look(half.flux(0.0, time));
                        }
                        let pair = TwoHalfSpaces::new(solid, 1e12, solid, -1e12, h).unwrap();
                        look(pair.temperature(BodySide::Left, thickness, time));
                        look(pair.interface_flux(time));
                        for tip in [FinTip::Convecting, FinTip::Insulated, FinTip::Temperature(1e12), FinTip::Infinite]
                        {
                            let fin = StraightFin {
                                perimeter: capacity,
                                area: time,
                                length: thickness,
                                conductivity: k,
                                film_coefficient: h,
                                base_temperature: -1e12,
                                surroundings: 0.0,
                                tip,
                            };
                            look(fin.heat_flow());
                            look(fin.temperature(0.5 * thickness));
                        }
                    }
                }
            }
        }
    }
    assert!(answers > 10_000, "only {answers} answers");
}

/// Bad input is an error that names the item, the value and what would do.
#[test]
fn bad_numbers_are_refused_by_name() {
    for bad in [f64::NAN, f64::INFINITY, -1.0, 0.0, 1e13] {
        assert_eq!(Solid::new(bad, 1.0, 1.0).unwrap_err().kind(), ErrorKind::OutOfRange);
        assert_eq!(Solid::new(1.0, bad, 1.0).unwrap_err().path(), "density");
        assert!(Solid::new(1.0, 1.0, bad).unwrap_err().accepted().is_some());
        let good = solid(1.0, 1.0, 1.0);
        assert!(WallLayer::new(bad, good).unwrap_err().to_string().starts_with("thickness: "));
        let film = End::Film { coefficient: bad, temperature: 0.0 };
        let slab = |end, time| {
            Slab::new(good, 1.0, 0.0, End::Temperature(1.0), end).and_then(|slab| slab.temperature(0.5, time))
        };
        assert_eq!(slab(film, 1.0).unwrap_err().path(), "outer end, film coefficient");
        assert_eq!(slab(End::Insulated, bad).unwrap_err().path(), "time");
        assert!(slab(End::WellStirred(StirredBody::new(bad, 0.0)), 1.0).is_err());
        assert!(slab(End::WellStirred(StirredBody::new(1.0, 0.0).with_film(bad)), 1.0).is_err());
        let body = SymmetricBody::new(BodyShape::Sphere, good, 1.0, 0.0, film);
        assert!(body.is_err());
        assert!(SemiInfiniteSolid::new(good, 0.0, film).is_err());
        assert!(PeriodicSurface::new(good, 1.0, bad).is_err());
        assert!(LumpedBody::new(bad, 1.0, 1.0, 0.0).is_err());
        assert_eq!(one_term(BodyShape::Slab, bad).unwrap_err().path(), "Biot number");
        assert!(eigenvalues(BodyShape::Slab, bad, 3).is_err());
        assert!(critical_radius(WallShape::Sphere { inner_radius: 1.0 }, bad, 1.0).is_err());
        let element = SteadyElement::Layer { thickness: bad, conductivity: 1.0 };
        let error = SteadyWall::new(WallShape::Plane, &[SteadyElement::Resistance(0.1), element]).unwrap_err();
        assert_eq!(error.path(), "element 2, thickness");
        assert!(PeriodicWall::new(WallShape::Plane, vec![layer(1.0, 1.0, 1.0, 1.0, 0.0)], 0.1, 0.1, bad).is_err());
    }
    for bad in [f64::NAN, f64::INFINITY, 1e13] {
        let good = solid(1.0, 1.0, 1.0);
        let slab = |start, end| Slab::new(good, 1.0, start, end, End::Insulated);
        assert_eq!(slab(bad, End::Insulated).unwrap_err().path(), "start temperature");
        assert_eq!(slab(0.0, End::Temperature(bad)).unwrap_err().path(), "inner end, temperature");
        assert_eq!(slab(0.0, End::Flux(bad)).unwrap_err().path(), "inner end, flux");
        assert!(TwoHalfSpaces::new(good, bad, good, 0.0, 0.0).is_err());
        assert!(LumpedBody::new(1.0, 1.0, 1.0, 0.0).unwrap().time_to(bad).is_err());
    }
    let shell = vec![layer(0.1, 1.0, 1.0, 1.0, 0.0)];
    let wall = |shape, inner, outer| LayeredWall::new(shape, shell.clone(), 0.0, inner, outer);
    let solid_cylinder = WallShape::Cylinder { inner_radius: 0.0 };
    let hollow = WallShape::Sphere { inner_radius: 0.1 };
    for refused in [
        wall(solid_cylinder, End::Insulated, End::Insulated),
        wall(hollow, End::Symmetry, End::Insulated),
        wall(hollow, End::Insulated, End::Symmetry),
    ] {
        assert_eq!(refused.unwrap_err().kind(), ErrorKind::Inconsistent);
    }
    assert!(LayeredWall::new(WallShape::Plane, vec![], 0.0, End::Insulated, End::Insulated).is_err());
    let wall = wall(hollow, End::Insulated, End::Insulated).unwrap();
    assert_eq!(wall.fluid_temperature(Side::Inner, 1.0).unwrap_err().kind(), ErrorKind::Inconsistent);
    assert_eq!(wall.temperature(0.05, 1.0).unwrap_err().accepted(), Some("0.1 to 0.2 m"));
    assert!(wall.temperature(f64::NAN, 1.0).is_err());
    assert!(wall.face_temperatures(1, 1.0).is_err());
    let steady = SteadyWall::new(WallShape::Plane, &[SteadyElement::Resistance(0.0)]);
    assert_eq!(steady.unwrap_err().kind(), ErrorKind::OutOfRange);
    assert!(SteadyWall::new(solid_cylinder, &[SteadyElement::Resistance(1.0)]).is_err());
}
