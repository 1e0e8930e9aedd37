//! Slabs, layered walls, cylinders and spheres against computed reference cases.

use crate::What::{Face, Fluid, Flux, Mean, Temperature};
use crate::{What, check_body, check_slab, check_wall, layer, solid};
use stillhot::Error;
use stillhot::closed_form::{BodyShape, End, LayeredWall, Side, Slab, StirredBody, SymmetricBody, WallShape};

/// Slab, both faces at fixed temperature, step; COMPUTED.
#[test]
fn slab_between_two_held_faces() {
    let rows = [
        (Temperature(0.0125), 600.0, 71.2180915855, 7.1e-08),
        (Temperature(0.025), 600.0, 50.400313092, 5e-08),
        (Temperature(0.0125), 1800.0, 76.1390007779, 7.6e-08),
        (Temperature(0.025), 1800.0, 57.3430233986, 5.7e-08),
        (Temperature(0.025), 7200.0, 57.4999999944, 5.7e-08),
        (Flux(0.0), 1800.0, 52.8452095886, 5.3e-08),
        (Flux(0.05), 1800.0, 52.1547904359, 5.2e-08),
    ];
    let inner = End::Temperature(95.0);
    let outer = End::Temperature(20.0);
    let start = 20.0;
    let wall =
        LayeredWall::new(WallShape::Plane, vec![layer(0.05, 0.035, 30.0, 1450.0, 0.0)], start, inner, outer).unwrap();
    check_wall(&wall, &rows);
    let slab = Slab::new(solid(0.035, 30.0, 1450.0), 0.05, start, inner, outer).unwrap();
    check_slab(&slab, &rows);
}

/// Slab, step at one face, other insulated; COMPUTED.
#[test]
fn slab_held_at_one_face_insulated_at_the_other() {
    let rows = [
        (Temperature(0.025), 900.0, 61.921656158, 6.2e-08),
        (Temperature(0.05), 900.0, 48.3225769901, 4.8e-08),
        (Temperature(0.05), 3600.0, 89.5245710245, 9e-08),
        (Flux(0.0), 900.0, 51.5497423305, 5.2e-08),
        (Mean, 3600.0, 91.5142336519, 9.2e-08),
    ];
    let inner = End::Temperature(95.0);
    let outer = End::Insulated;
    let start = 20.0;
    let wall =
        LayeredWall::new(WallShape::Plane, vec![layer(0.05, 0.035, 30.0, 1450.0, 0.0)], start, inner, outer).unwrap();
    check_wall(&wall, &rows);
    let slab = Slab::new(solid(0.035, 30.0, 1450.0), 0.05, start, inner, outer).unwrap();
    check_slab(&slab, &rows);
}

/// Slab, constant flux at one face, other at fixed temperature; COMPUTED.
#[test]
fn slab_under_flux_with_the_other_face_held() {
    let rows = [
        (Temperature(0.0), 600.0, 37.6935513777, 3.8e-08),
        (Temperature(0.025), 600.0, 25.1770264959, 2.5e-08),
        (Temperature(0.0), 7200.0, 55.6191100874, 5.6e-08),
        (Flux(0.05), 3600.0, 23.1748570082, 2.3e-08),
    ];
    let inner = End::Flux(25.0);
    let outer = End::Temperature(20.0);
    let start = 20.0;
    let wall =
        LayeredWall::new(WallShape::Plane, vec![layer(0.05, 0.035, 30.0, 1450.0, 0.0)], start, inner, outer).unwrap();
    check_wall(&wall, &rows);
    let slab = Slab::new(solid(0.035, 30.0, 1450.0), 0.05, start, inner, outer).unwrap();
    check_slab(&slab, &rows);
}

/// Slab, constant flux at one face, other insulated; COMPUTED.
#[test]
fn slab_under_flux_with_the_other_face_insulated() {
    let rows = [
        (Temperature(0.0), 600.0, 18.9206561502, 1.9e-08),
        (Temperature(0.015), 600.0, 11.4827723426, 1.1e-08),
        (Temperature(0.03), 3600.0, 20.8469127595, 2.1e-08),
        (Mean, 3600.0, 25.0, 2.5e-08),
    ];
    let inner = End::Flux(500.0);
    let outer = End::Insulated;
    let start = 10.0;
    let wall =
        LayeredWall::new(WallShape::Plane, vec![layer(0.03, 0.6, 1000.0, 4000.0, 0.0)], start, inner, outer).unwrap();
    check_wall(&wall, &rows);
    let slab = Slab::new(solid(0.6, 1000.0, 4000.0), 0.03, start, inner, outer).unwrap();
    check_slab(&slab, &rows);
}

/// Slab, step at one face, convection at the other; COMPUTED.
#[test]
fn slab_held_at_one_face_with_convection_at_the_other() {
    let rows = [
        (Temperature(0.025), 1800.0, 60.1453532898, 6e-08),
        (Temperature(0.05), 1800.0, 25.9424981703, 2.6e-08),
        (Temperature(0.05), 7200.0, 26.0344827146, 2.6e-08),
        (Flux(0.05), 7200.0, 48.2758617165, 4.8e-08),
    ];
    let inner = End::Temperature(95.0);
    let outer = End::Film { coefficient: 8.0, temperature: 20.0 };
    let start = 20.0;
    let wall =
        LayeredWall::new(WallShape::Plane, vec![layer(0.05, 0.035, 30.0, 1450.0, 0.0)], start, inner, outer).unwrap();
    check_wall(&wall, &rows);
    let slab = Slab::new(solid(0.035, 30.0, 1450.0), 0.05, start, inner, outer).unwrap();
    check_slab(&slab, &rows);
}

/// Slab, flux at one face, convection at the other; COMPUTED.
#[test]
fn slab_under_flux_with_convection_at_the_other_face() {
    let rows = [
        (Temperature(0.0), 1800.0, 49.4442356893, 4.9e-08),
        (Temperature(0.05), 1800.0, 21.9465061544, 2.2e-08),
        (Temperature(0.0), 14400.0, 58.8373111502, 5.9e-08),
    ];
    let inner = End::Flux(25.0);
    let outer = End::Film { coefficient: 8.0, temperature: 20.0 };
    let start = 20.0;
    let wall =
        LayeredWall::new(WallShape::Plane, vec![layer(0.05, 0.035, 30.0, 1450.0, 0.0)], start, inner, outer).unwrap();
    check_wall(&wall, &rows);
    let slab = Slab::new(solid(0.035, 30.0, 1450.0), 0.05, start, inner, outer).unwrap();
    check_slab(&slab, &rows);
}

/// Slab insulated at one face, cooled by convection at the other (half of a symmetric slab); COMPUTED.
#[test]
fn slab_insulated_at_one_face_cooled_by_convection_at_the_other() {
    let rows = [
        (Temperature(0.0), 1200.0, 94.0097023852, 9.4e-08),
        (Temperature(0.04), 1200.0, 68.2837236421, 6.8e-08),
        (Temperature(0.0), 7200.0, 66.5618268877, 6.7e-08),
        (Temperature(0.04), 7200.0, 47.0457125876, 4.7e-08),
        (Mean, 7200.0, 59.8552586536, 6e-08),
    ];
    let inner = End::Insulated;
    let outer = End::Film { coefficient: 20.0, temperature: 20.0 };
    let start = 95.0;
    let wall =
        LayeredWall::new(WallShape::Plane, vec![layer(0.04, 0.6, 1000.0, 4000.0, 0.0)], start, inner, outer).unwrap();
    check_wall(&wall, &rows);
    let slab = Slab::new(solid(0.6, 1000.0, 4000.0), 0.04, start, inner, outer).unwrap();
    check_slab(&slab, &rows);
    let solid = solid(0.6, 1000.0, 4000.0);
    check_body(&SymmetricBody::new(BodyShape::Slab, solid, 0.04, start, outer).unwrap(), &rows);
}

/// Well-stirred fluid in perfect contact with a slab insulated on its far face (stirred-solution problem); COMPUTED.
#[test]
fn stirred_fluid_on_an_insulated_slab() {
    let rows = [
        (Fluid(Side::Inner), 600.0, 87.4609122202, 8.7e-08),
        (Fluid(Side::Inner), 3600.0, 78.5329139403, 7.9e-08),
        (Fluid(Side::Inner), 14400.0, 70.8738076999, 7.1e-08),
        (Fluid(Side::Inner), 86400.0, 70.0000002235, 7e-08),
        (Temperature(0.05), 14400.0, 66.6735164766, 6.7e-08),
        (Temperature(0.025), 3600.0, 50.1939114233, 5e-08),
    ];
    let inner = End::WellStirred(StirredBody::new(96000.0, 95.0));
    let outer = End::Insulated;
    let start = 20.0;
    let wall =
        LayeredWall::new(WallShape::Plane, vec![layer(0.05, 0.15, 600.0, 1600.0, 0.0)], start, inner, outer).unwrap();
    check_wall(&wall, &rows);
    let slab = Slab::new(solid(0.15, 600.0, 1600.0), 0.05, start, inner, outer).unwrap();
    check_slab(&slab, &rows);
}

/// Well-stirred fluid in perfect contact with a slab cooled by convection outside; COMPUTED.
#[test]
fn stirred_fluid_on_a_slab_cooled_by_convection() {
    let rows = [
        (Fluid(Side::Inner), 600.0, 93.6703644495, 9.4e-08),
        (Fluid(Side::Inner), 3600.0, 91.2542218834, 9.1e-08),
        (Fluid(Side::Inner), 14400.0, 83.5544719152, 8.4e-08),
        (Fluid(Side::Inner), 43200.0, 66.8498308655, 6.7e-08),
        (Temperature(0.025), 3600.0, 58.6682284765, 5.9e-08),
        (Temperature(0.05), 14400.0, 25.1462767003, 2.5e-08),
    ];
    let inner = End::WellStirred(StirredBody::new(60000.0, 95.0));
    let outer = End::Film { coefficient: 8.0, temperature: 20.0 };
    let start = 20.0;
    let wall =
        LayeredWall::new(WallShape::Plane, vec![layer(0.05, 0.035, 30.0, 1450.0, 0.0)], start, inner, outer).unwrap();
    check_wall(&wall, &rows);
    let slab = Slab::new(solid(0.035, 30.0, 1450.0), 0.05, start, inner, outer).unwrap();
    check_slab(&slab, &rows);
}

/// Same with a direct loss conductance of the fluid to the ambient (lid); COMPUTED.
#[test]
fn stirred_fluid_on_a_slab_with_a_direct_loss() {
    let rows = [
        (Fluid(Side::Inner), 3600.0, 89.5833277839, 9e-08),
        (Fluid(Side::Inner), 14400.0, 77.8068883716, 7.8e-08),
        (Fluid(Side::Inner), 43200.0, 55.256988648, 5.5e-08),
        (Temperature(0.025), 14400.0, 51.4627484198, 5.1e-08),
        (Flux(0.0), 14400.0, 36.4236597661, 3.6e-08),
    ];
    let inner = End::WellStirred(StirredBody::new(60000.0, 95.0).with_loss(0.4, 20.0));
    let outer = End::Film { coefficient: 8.0, temperature: 20.0 };
    let start = 20.0;
    let wall =
        LayeredWall::new(WallShape::Plane, vec![layer(0.05, 0.035, 30.0, 1450.0, 0.0)], start, inner, outer).unwrap();
    check_wall(&wall, &rows);
    let slab = Slab::new(solid(0.035, 30.0, 1450.0), 0.05, start, inner, outer).unwrap();
    check_slab(&slab, &rows);
}

/// Pot: fluid with film, steel, gap resistance, insulation, outside film, lid loss; COMPUTED.
#[test]
fn stirred_fluid_behind_a_film_on_two_layers_with_a_contact() {
    let rows = [
        (Fluid(Side::Inner), 600.0, 90.2728150612, 9e-08),
        (Fluid(Side::Inner), 3600.0, 88.0835120104, 8.8e-08),
        (Fluid(Side::Inner), 14400.0, 81.0555835238, 8.1e-08),
        (Fluid(Side::Inner), 43200.0, 65.7565126377, 6.6e-08),
        (Face(1, 0), 600.0, 90.1271929658, 9e-08),
        (Face(1, 1), 600.0, 87.0380026454, 8.7e-08),
        (Temperature(0.052), 14400.0, 26.627722985, 2.7e-08),
        (Flux(0.052), 14400.0, 37.0217838803, 3.7e-08),
    ];
    let inner = End::WellStirred(StirredBody::new(80000.0, 98.0).with_film(400.0).with_loss(0.3, 22.0));
    let outer = End::Film { coefficient: 8.0, temperature: 22.0 };
    let start = 22.0;
    let wall = LayeredWall::new(
        WallShape::Plane,
        vec![layer(0.002, 16.0, 7900.0, 500.0, 0.05), layer(0.05, 0.035, 30.0, 1450.0, 0.0)],
        start,
        inner,
        outer,
    )
    .unwrap();
    check_wall(&wall, &rows);
}

/// Well-stirred fluid core inside a cylindrical shell, convection outside (per metre); COMPUTED.
#[test]
fn stirred_fluid_inside_a_cylindrical_shell() {
    let rows = [
        (Fluid(Side::Inner), 1800.0, 94.1943677994, 9.4e-08),
        (Fluid(Side::Inner), 14400.0, 90.6555539151, 9.1e-08),
        (Fluid(Side::Inner), 43200.0, 83.190479851, 8.3e-08),
        (Temperature(0.125), 14400.0, 54.4385562852, 5.4e-08),
        (Temperature(0.15), 43200.0, 24.2504498691, 2.4e-08),
    ];
    let inner = End::WellStirred(StirredBody::new(130000.0, 95.0));
    let outer = End::Film { coefficient: 8.0, temperature: 20.0 };
    let start = 20.0;
    let wall = LayeredWall::new(
        WallShape::Cylinder { inner_radius: 0.1 },
        vec![layer(0.05, 0.035, 30.0, 1450.0, 0.0)],
        start,
        inner,
        outer,
    )
    .unwrap();
    check_wall(&wall, &rows);
}

/// Two layers, perfect contact, step at the inner face, outer face fixed; COMPUTED.
#[test]
fn two_layers_in_perfect_contact() {
    let rows = [
        (Temperature(0.012), 900.0, 80.9253432708, 8.1e-08),
        (Temperature(0.037), 900.0, 41.7244812293, 4.2e-08),
        (Temperature(0.012), 7200.0, 90.4479653082, 9e-08),
        (Flux(0.0), 7200.0, 49.313759943, 4.9e-08),
        (Flux(0.062), 3600.0, 49.2237609086, 4.9e-08),
    ];
    let inner = End::Temperature(95.0);
    let outer = End::Temperature(20.0);
    let start = 20.0;
    let wall = LayeredWall::new(
        WallShape::Plane,
        vec![layer(0.012, 0.13, 500.0, 1600.0, 0.0), layer(0.05, 0.035, 30.0, 1450.0, 0.0)],
        start,
        inner,
        outer,
    )
    .unwrap();
    check_wall(&wall, &rows);
}

/// Three-layer building-type wall, step of the outside air; COMPUTED.
#[test]
fn three_layers_after_a_step_of_the_outside_air() {
    let rows = [
        (Flux(0.305), 7200.0, 0.00324125808915, 1e-09),
        (Flux(0.305), 21600.0, 0.452762167384, 1e-09),
        (Flux(0.305), 43200.0, 1.74298720642, 1.7e-09),
        (Flux(0.305), 86400.0, 3.1317782126, 3.1e-09),
        (Temperature(0.305), 43200.0, 20.2099984586, 2e-08),
        (Temperature(0.1), 21600.0, 27.1048807923, 2.7e-08),
    ];
    let inner = End::Film { coefficient: 20.0, temperature: 30.0 };
    let outer = End::Film { coefficient: 8.3, temperature: 20.0 };
    let start = 20.0;
    let wall = LayeredWall::new(
        WallShape::Plane,
        vec![
            layer(0.1, 0.9, 1850.0, 840.0, 0.0),
            layer(0.08, 0.04, 20.0, 1030.0, 0.0),
            layer(0.125, 0.25, 900.0, 1000.0, 0.0),
        ],
        start,
        inner,
        outer,
    )
    .unwrap();
    check_wall(&wall, &rows);
}

/// Solid cylinder, surface step; COMPUTED.
#[test]
fn solid_cylinder_after_a_surface_step() {
    let rows = [
        (Temperature(0.0), 1800.0, 42.7786699445, 4.3e-08),
        (Temperature(0.02), 1800.0, 59.4982376236, 5.9e-08),
        (Mean, 1800.0, 72.1106979347, 7.2e-08),
    ];
    let inner = End::Symmetry;
    let outer = End::Temperature(95.0);
    let start = 10.0;
    let wall = LayeredWall::new(
        WallShape::Cylinder { inner_radius: 0.0 },
        vec![layer(0.04, 0.55, 1050.0, 3600.0, 0.0)],
        start,
        inner,
        outer,
    )
    .unwrap();
    check_wall(&wall, &rows);
    let solid = solid(0.55, 1050.0, 3600.0);
    let body = SymmetricBody::new(BodyShape::Cylinder, solid, 0.04, start, outer).unwrap();
    check_body(&body, &rows);
}

/// Hollow cylinder, step at the inner face, outer face fixed; COMPUTED.
#[test]
fn hollow_cylinder_between_two_held_faces() {
    let rows = [(Temperature(0.075), 1800.0, 50.9887619508, 5.1e-08), (Flux(0.05), 1800.0, 76.1169040177, 7.6e-08)];
    let inner = End::Temperature(95.0);
    let outer = End::Temperature(20.0);
    let start = 20.0;
    let wall = LayeredWall::new(
        WallShape::Cylinder { inner_radius: 0.05 },
        vec![layer(0.05, 0.035, 30.0, 1450.0, 0.0)],
        start,
        inner,
        outer,
    )
    .unwrap();
    check_wall(&wall, &rows);
}

/// Two-layer hollow cylinder, inner step, outer convection; COMPUTED.
#[test]
fn hollow_cylinder_of_two_layers_with_convection() {
    let rows =
        [(Temperature(0.092), 3600.0, 84.7107861939, 8.5e-08), (Temperature(0.142), 14400.0, 24.2921209349, 2.4e-08)];
    let inner = End::Temperature(90.0);
    let outer = End::Film { coefficient: 8.0, temperature: 20.0 };
    let start = 20.0;
    let wall = LayeredWall::new(
        WallShape::Cylinder { inner_radius: 0.08 },
        vec![layer(0.012, 0.13, 500.0, 1600.0, 0.0), layer(0.05, 0.035, 30.0, 1450.0, 0.0)],
        start,
        inner,
        outer,
    )
    .unwrap();
    check_wall(&wall, &rows);
}

/// Sphere, surface step; COMPUTED.
#[test]
fn sphere_after_a_surface_step() {
    let rows = [
        (Temperature(0.0), 1800.0, 61.4728608007, 6.1e-08),
        (Temperature(0.02), 1800.0, 73.4870586998, 7.3e-08),
        (Mean, 1800.0, 84.7081465401, 8.5e-08),
    ];
    let inner = End::Symmetry;
    let outer = End::Temperature(95.0);
    let start = 10.0;
    let wall = LayeredWall::new(
        WallShape::Sphere { inner_radius: 0.0 },
        vec![layer(0.04, 0.55, 1050.0, 3600.0, 0.0)],
        start,
        inner,
        outer,
    )
    .unwrap();
    check_wall(&wall, &rows);
    let solid = solid(0.55, 1050.0, 3600.0);
    let body = SymmetricBody::new(BodyShape::Sphere, solid, 0.04, start, outer).unwrap();
    check_body(&body, &rows);
}

/// Sphere, convection; COMPUTED.
#[test]
fn sphere_cooled_by_convection() {
    let rows = [
        (Temperature(0.0), 3600.0, 46.5400947945, 4.7e-08),
        (Temperature(0.02), 3600.0, 42.4815973678, 4.2e-08),
        (Temperature(0.04), 3600.0, 32.48000687, 3.2e-08),
    ];
    let inner = End::Symmetry;
    let outer = End::Film { coefficient: 25.0, temperature: 20.0 };
    let start = 85.0;
    let wall = LayeredWall::new(
        WallShape::Sphere { inner_radius: 0.0 },
        vec![layer(0.04, 0.55, 1050.0, 3600.0, 0.0)],
        start,
        inner,
        outer,
    )
    .unwrap();
    check_wall(&wall, &rows);
    let solid = solid(0.55, 1050.0, 3600.0);
    let body = SymmetricBody::new(BodyShape::Sphere, solid, 0.04, start, outer).unwrap();
    check_body(&body, &rows);
}

/// Copper of a millimetre beside foam, with film, contact and loss; a thick cylinder round a thin wire; solid cores in a
/// shell. COMPUTED with 200 digits from transfer matrices of explicit Bessel and hyperbolic functions, inverted on two
/// contours that agree to 1e-17.
#[test]
fn layered_walls_agree_with_multiprecision() {
    let check = |wall: Result<LayeredWall, Error>, tolerance: f64, rows: &[(What, f64, f64)]| {
        let wall = wall.unwrap();
        for &(what, time, expected) in rows {
            // Fluxes against the flux through the film of 8 W/(m2 K) at full difference.
            let scale = if matches!(what, Flux(_)) { 600.0 } else { 75.0 };
            check_wall(&wall, &[(what, time, expected, tolerance * scale)]);
        }
    };
    let copper = layer(0.001, 390.0, 8900.0, 390.0, 0.03);
    let foam = layer(0.06, 0.03, 30.0, 1450.0, 0.0);
    let room = End::Film { coefficient: 8.0, temperature: 0.0 };
    let stirred =
        |capacity: f64| End::WellStirred(StirredBody::new(capacity, 75.0).with_film(400.0).with_loss(0.5, -10.0));
    check(
        LayeredWall::new(WallShape::Plane, vec![copper, foam], 0.0, stirred(60_000.0), room),
        1e-12,
        &[
            (Temperature(0.0), 600.0, 69.34971704775971),
            (Face(1, 0), 600.0, 69.34957619414837),
            (Face(1, 1), 600.0, 67.62791644918043),
            (Temperature(0.03), 600.0, 20.598633800084112),
            (Temperature(0.061), 600.0, 1.1709899829508248),
            (Fluid(Side::Inner), 600.0, 69.48090976040116),
            (Flux(0.061), 600.0, 9.367919863606598),
            (Flux(0.0), 600.0, 52.477085056575824),
            (Temperature(0.0), 3600.0, 65.90213558917728),
            (Face(1, 0), 3600.0, 65.90206392624809),
            (Face(1, 1), 3600.0, 65.00809302179727),
            (Temperature(0.03), 3600.0, 35.7136542160106),
            (Temperature(0.061), 3600.0, 3.8626486045946),
            (Fluid(Side::Inner), 3600.0, 65.96738072299361),
            (Flux(0.061), 3600.0, 30.9011888367568),
            (Flux(0.0), 3600.0, 26.098053526531558),
            (Temperature(0.0), 86400.0, 15.398755098235222),
            (Face(1, 0), 86400.0, 15.39873886165816),
            (Face(1, 1), 86400.0, 15.192729894177553),
            (Temperature(0.03), 86400.0, 8.3968741821722),
            (Temperature(0.061), 86400.0, 0.9112536855491203),
            (Fluid(Side::Inner), 86400.0, 15.413249009065996),
            (Flux(0.061), 86400.0, 7.290029484392963),
            (Flux(0.0), 86400.0, 5.797564332309591),
        ],
    );
    check(
        LayeredWall::new(WallShape::Cylinder { inner_radius: 0.1 }, vec![copper, foam], 0.0, stirred(130_000.0), room),
        1e-12,
        &[
            (Temperature(0.1), 600.0, 73.03455453221864),
            (Face(1, 0), 600.0, 73.034374605402),
            (Face(1, 1), 600.0, 70.91245610774135),
            (Temperature(0.13), 600.0, 19.004152309531978),
            (Temperature(0.161), 600.0, 0.9772624072343749),
            (Fluid(Side::Inner), 600.0, 73.2085833427157),
            (Flux(0.161), 600.0, 7.818099257874999),
            (Flux(0.1), 600.0, 69.61152419882502),
            (Temperature(0.1), 3600.0, 71.47875297582165),
            (Face(1, 0), 3600.0, 71.4786461624505),
            (Face(1, 1), 3600.0, 70.20860344947994),
            (Temperature(0.13), 3600.0, 34.05989882464133),
            (Temperature(0.161), 3600.0, 3.3437669791543705),
            (Fluid(Side::Inner), 3600.0, 71.58119824836808),
            (Flux(0.161), 3600.0, 26.750135833234964),
            (Flux(0.1), 3600.0, 40.97810901857015),
            (Temperature(0.1), 86400.0, 38.951578367958426),
            (Face(1, 0), 86400.0, 38.95152056305345),
            (Face(1, 1), 86400.0, 38.263218344507955),
            (Temperature(0.13), 86400.0, 18.633459493072902),
            (Temperature(0.161), 86400.0, 1.8339407585180663),
            (Fluid(Side::Inner), 86400.0, 39.006937027282795),
            (Flux(0.161), 86400.0, 14.67152606814453),
            (Flux(0.1), 86400.0, 22.143463729746568),
        ],
    );
    check(
        LayeredWall::new(WallShape::Sphere { inner_radius: 0.1 }, vec![copper, foam], 0.0, stirred(17_000.0), room),
        1e-12,
        &[
            (Temperature(0.1), 600.0, 70.93960596668542),
            (Face(1, 0), 600.0, 70.93941632336501),
            (Face(1, 1), 600.0, 68.59896069833201),
            (Temperature(0.13), 600.0, 16.309753384157563),
            (Temperature(0.161), 600.0, 0.7629449100332865),
            (Fluid(Side::Inner), 600.0, 71.11431093575),
            (Flux(0.161), 600.0, 6.103559280266292),
            (Flux(0.1), 600.0, 69.88198762583437),
            (Temperature(0.1), 3600.0, 63.21192502899104),
            (Face(1, 0), 3600.0, 63.21181833289082),
            (Face(1, 1), 3600.0, 61.84968611444674),
            (Temperature(0.13), 3600.0, 26.833714606008737),
            (Temperature(0.161), 3600.0, 2.4077330738029077),
            (Fluid(Side::Inner), 3600.0, 63.306411732851),
            (Flux(0.161), 3600.0, 19.26186459042326),
            (Flux(0.1), 3600.0, 37.794681543981035),
            (Temperature(0.1), 86400.0, -4.068584812042272),
            (Face(1, 0), 86400.0, -4.0685759182330665),
            (Face(1, 1), 86400.0, -3.9731340901216488),
            (Temperature(0.13), 86400.0, -1.6417983357594432),
            (Temperature(0.161), 86400.0, -0.14451734943618608),
            (Fluid(Side::Inner), 86400.0, -4.077979320411593),
            (Flux(0.161), 86400.0, -1.1561387954894886),
            (Flux(0.1), 86400.0, -3.757803347728496),
        ],
    );
    let wood = layer(0.2, 0.15, 600.0, 1600.0, 0.0);
    check(
        LayeredWall::new(
            WallShape::Cylinder { inner_radius: 0.001 },
            vec![wood],
            0.0,
            End::Temperature(75.0),
            End::Insulated,
        ),
        1e-12,
        &[
            (Temperature(0.002), 30000.0, 64.01836926625363),
            (Temperature(0.05), 30000.0, 13.637812668084845),
            (Temperature(0.201), 30000.0, 0.8747546255146685),
            (Flux(0.201), 30000.0, 0.0),
            (Flux(0.002), 30000.0, 1188.2235356734916),
            (Temperature(0.002), 10000000.0, 74.99999946770224),
            (Temperature(0.05), 10000000.0, 74.99999701085913),
            (Temperature(0.201), 10000000.0, 74.99999627909241),
            (Flux(0.201), 10000000.0, 0.0),
            (Flux(0.002), 10000000.0, 5.7595458758876285e-05),
        ],
    );
    let dough = layer(0.05, 0.55, 1050.0, 3600.0, 0.002);
    let foam = layer(0.04, 0.035, 30.0, 1450.0, 0.0);
    let oven = End::Film { coefficient: 8.0, temperature: 75.0 };
    check(
        LayeredWall::new(WallShape::Cylinder { inner_radius: 0.0 }, vec![dough, foam], 0.0, End::Symmetry, oven),
        1e-12,
        &[
            (Temperature(0.0), 3000.0, 0.6492397676792633),
            (Temperature(0.02), 3000.0, 1.086446982570016),
            (Face(1, 0), 3000.0, 3.827993855681258),
            (Face(1, 1), 3000.0, 3.983024356398403),
            (Temperature(0.09), 3000.0, 69.54684379647185),
            (Temperature(0.0), 30000.0, 19.930865344780102),
            (Temperature(0.02), 30000.0, 20.356021237713215),
            (Face(1, 0), 30000.0, 22.561227505138845),
            (Face(1, 1), 30000.0, 22.675562721321512),
            (Temperature(0.09), 30000.0, 70.9851147611715),
        ],
    );
    check(
        LayeredWall::new(WallShape::Sphere { inner_radius: 0.0 }, vec![dough, foam], 0.0, End::Symmetry, oven),
        1e-12,
        &[
            (Temperature(0.02), 3000.0, 2.3515082089894634),
            (Face(1, 0), 3000.0, 6.099516020889519),
            (Face(1, 1), 3000.0, 6.301405634041393),
            (Temperature(0.09), 3000.0, 71.02681136779795),
            (Temperature(0.02), 30000.0, 35.52804832993332),
            (Face(1, 0), 30000.0, 37.653044413604995),
            (Face(1, 1), 30000.0, 37.76252923827578),
            (Temperature(0.09), 30000.0, 72.84747617314589),
        ],
    );
}
