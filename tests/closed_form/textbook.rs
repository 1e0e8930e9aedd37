//! Textbook examples and tables, and the remaining computed reference cases.

use crate::{close, layer, solid};
use stillhot::closed_form::{
    BodyShape, BodySide, End, FinTip, LumpedBody, PeriodicSurface, PeriodicWall, SemiInfiniteSolid, Slab,
    SteadyElement, SteadyWall, StirredBody, StraightFin, SymmetricBody, TwoHalfSpaces, WallShape, critical_radius,
    eigenvalues, one_term,
};

/// First eigenvalues and one-term coefficients. Cengel & Ghajar, Heat and Mass Transfer, 5th ed., table 4-2 (READ, four
/// decimals, tolerance 1e-4), and COMPUTED values of the eigenvalue and coefficient to 12 digits.
#[test]
#[allow(clippy::approx_constant)] // the table holds the sphere of Biot number 1, whose root is pi/2
fn eigenvalues_and_one_term_coefficients() {
    // Shape, Biot number, printed and computed eigenvalue, printed and computed coefficient.
    let rows = [
        (BodyShape::Slab, 0.01, 0.0998, 0.0998336385511, 1.0017, 1.00166084413),
        (BodyShape::Slab, 0.1, 0.3111, 0.3110528482, 1.0161, 1.0160942168),
        (BodyShape::Slab, 0.5, 0.6533, 0.653271187094, 1.0701, 1.07012813694),
        (BodyShape::Slab, 1.0, 0.8603, 0.860333589019, 1.1191, 1.11913200841),
        (BodyShape::Slab, 2.0, 1.0769, 1.07687398631, 1.1785, 1.17845578734),
        (BodyShape::Slab, 5.0, 1.3138, 1.31383771649, 1.2403, 1.240249309),
        (BodyShape::Slab, 10.0, 1.4289, 1.42887001121, 1.262, 1.2619625891),
        (BodyShape::Sphere, 0.01, 0.173, 0.173031987133, 1.003, 1.00299806181),
        (BodyShape::Sphere, 0.1, 0.5423, 0.542280885416, 1.0298, 1.02979770523),
        (BodyShape::Sphere, 0.5, 1.1656, 1.16556118521, 1.1441, 1.14410634231),
        (BodyShape::Sphere, 1.0, 1.5708, 1.57079632679, 1.2732, 1.27323954474),
        (BodyShape::Sphere, 2.0, 2.0288, 2.02875783811, 1.4793, 1.47931897625),
        (BodyShape::Sphere, 5.0, 2.5704, 2.57043156034, 1.787, 1.78700086272),
        (BodyShape::Sphere, 10.0, 2.8363, 2.83630038935, 1.9249, 1.92490858969),
    ];
    for (shape, biot, printed, computed, printed_coefficient, computed_coefficient) in rows {
        let term = one_term(shape, biot).unwrap();
        close(term.eigenvalue, computed, 5e-12 * computed, "eigenvalue", biot);
        close(term.eigenvalue, printed, 1e-4, "printed eigenvalue", biot);
        close(term.coefficient, computed_coefficient, 5e-12 * computed_coefficient, "coefficient", biot);
        close(term.coefficient, printed_coefficient, 1e-4, "printed coefficient", biot);
        assert_eq!(eigenvalues(shape, biot, 3).unwrap()[0], term.eigenvalue);
    }
}

/// Value and tolerance of each dynamic characteristic of ISO 13786 (definition MEMORY; values COMPUTED from transfer
/// matrices and from complex finite elements).
struct Characteristics {
    transmittance: (f64, f64),
    periodic: (f64, f64),
    decrement: (f64, f64),
    lag_hours: (f64, f64),
    inner: (f64, f64),
    inner_hours: (f64, f64),
    outer: (f64, f64),
    outer_hours: (f64, f64),
    capacities: [(f64, f64); 2],
}

impl Characteristics {
    fn check(&self, wall: &PeriodicWall) {
        let periodic = wall.periodic_transmittance().unwrap();
        let (inner, outer) = (wall.inner_admittance().unwrap(), wall.outer_admittance().unwrap());
        let capacities = wall.heat_capacities().unwrap();
        for (name, found, (expected, tolerance)) in [
            ("U", wall.transmittance(), self.transmittance),
            ("Y12", periodic.amplitude, self.periodic),
            ("f", wall.decrement_factor().unwrap(), self.decrement),
            ("lag", periodic.time_shift / 3600.0, self.lag_hours),
            ("Y11", inner.amplitude, self.inner),
            ("inner shift", inner.time_shift / 3600.0, self.inner_hours),
            ("Y22", outer.amplitude, self.outer),
            ("outer shift", outer.time_shift / 3600.0, self.outer_hours),
            ("inner capacity", capacities[0], self.capacities[0]),
            ("outer capacity", capacities[1], self.capacities[1]),
        ] {
            close(found, expected, tolerance, name, 0.0);
        }
    }
}

/// Dynamic characteristics of a wall; COMPUTED.
#[test]
fn periodic_response_of_a_heavy_insulated_wall() {
    let wall = PeriodicWall::new(
        WallShape::Plane,
        vec![
            layer(0.015, 0.7, 1400.0, 1000.0, 0.0),
            layer(0.2, 1.8, 2400.0, 1000.0, 0.0),
            layer(0.1, 0.04, 30.0, 1450.0, 0.0),
            layer(0.01, 0.9, 1800.0, 1000.0, 0.0),
        ],
        0.13,
        0.04,
        86400.0,
    )
    .unwrap();
    let expected = Characteristics {
        transmittance: (0.355410132009, 3.6e-10),
        periodic: (0.0519188548605, 5.2e-11),
        decrement: (0.146081527184, 1.5e-10),
        lag_hours: (-8.55946070418, 8.6e-09),
        inner: (5.41647033111, 5.4e-09),
        inner_hours: (0.790464757631, 7.9e-10),
        outer: (1.44635388978, 1.4e-09),
        outer_hours: (4.7153282038, 4.7e-09),
        capacities: [(75032.0970065, 7.5e-05), (20564.6670327, 2.1e-05)],
    };
    expected.check(&wall);
}

/// Dynamic characteristics of a wall; COMPUTED.
#[test]
fn periodic_response_of_a_concrete_wall() {
    let wall =
        PeriodicWall::new(WallShape::Plane, vec![layer(0.2, 1.8, 2400.0, 1000.0, 0.0)], 0.13, 0.04, 86400.0).unwrap();
    let expected = Characteristics {
        transmittance: (3.55731225296, 3.6e-09),
        periodic: (1.82707113317, 1.8e-09),
        decrement: (0.513609996323, 5.1e-10),
        lag_hours: (-5.6756893156, 5.7e-09),
        inner: (5.70431337582, 5.7e-09),
        inner_hours: (0.948120129651, 9.5e-10),
        outer: (11.5918772127, 1.2e-08),
        outer_hours: (1.87276685017, 1.9e-09),
        capacities: [(86167.7093834, 8.6e-05), (170874.913857, 0.00017)],
    };
    expected.check(&wall);
}

/// Dynamic characteristics of a wall; COMPUTED.
#[test]
fn periodic_response_of_a_light_wall() {
    let wall = PeriodicWall::new(
        WallShape::Plane,
        vec![
            layer(0.0125, 0.21, 850.0, 1000.0, 0.0),
            layer(0.1, 0.04, 30.0, 1450.0, 0.0),
            layer(0.018, 0.13, 500.0, 1600.0, 0.0),
        ],
        0.13,
        0.04,
        3600.0,
    )
    .unwrap();
    let expected = Characteristics {
        transmittance: (0.348676816185, 3.5e-10),
        periodic: (0.0163777969966, 1.6e-11),
        decrement: (0.0469712818185, 4.7e-11),
        lag_hours: (-0.839139399037, 8.4e-10),
        inner: (6.14301443174, 6.1e-09),
        inner_hours: (0.053127787041, 5.3e-11),
        outer: (10.1291276876, 1e-08),
        outer_hours: (0.0847564279917, 8.5e-11),
        capacities: [(3512.37812055, 3.5e-06), (5795.23301695, 5.8e-06)],
    };
    expected.check(&wall);
}

/// Copper of a millimetre beside foam with a contact, in a cylinder and a sphere; COMPUTED with 200 digits from transfer
/// matrices of explicit Bessel and hyperbolic functions. The first row of each shape lags by most of its period.
#[test]
fn periodic_response_of_round_walls() {
    let cylinder = WallShape::Cylinder { inner_radius: 0.1 };
    let sphere = WallShape::Sphere { inner_radius: 0.1 };
    // Shape, period; amplitude and time shift of Y12, Y11, Y22; heat capacities.
    let rows = [
        (
            (cylinder, 600.0),
            [0.005084829158738548, 34.70153999148179 - 600.0],
            [4.678891840368388, 18.36293286846714],
            [3.3222288719692066, 67.72145998176592],
            [446.3227909769809, 316.7927061399006],
        ),
        (
            (cylinder, 86_400.0),
            [0.3606704449117453, -1457.4689537291267],
            [0.4061587464066204, 5944.131007159033],
            [0.3700582398073121, 2554.6157597275896],
            [2867.8557862228913, 1466.2520007799683],
        ),
        (
            (sphere, 600.0),
            [0.001285350218951646, 35.15033784065172 - 600.0],
            [0.935384767974642, 18.257081070196154],
            [1.0543815644169312, 69.4576838922027],
            [89.20184206060031, 100.5711265093701],
        ),
        (
            (sphere, 86_400.0),
            [0.0892909865221289, -1445.1151331415456],
            [0.09661225880483519, 4765.920914836497],
            [0.09283069156996582, 3282.924698778506],
            [580.7789350798282, 431.0973829673989],
        ),
    ];
    for ((shape, period), periodic, inner, outer, capacities) in rows {
        let layers = vec![layer(0.001, 390.0, 8900.0, 390.0, 0.03), layer(0.06, 0.03, 30.0, 1450.0, 0.0)];
        let wall = PeriodicWall::new(shape, layers, 0.13, 0.04, period).unwrap();
        for (found, expected) in [
            (wall.periodic_transmittance().unwrap(), periodic),
            (wall.inner_admittance().unwrap(), inner),
            (wall.outer_admittance().unwrap(), outer),
        ] {
            close(found.amplitude, expected[0], 1e-12 * expected[0], shape, period);
            close(found.time_shift, expected[1], 1e-12 * period, shape, period);
        }
        for (found, expected) in wall.heat_capacities().unwrap().into_iter().zip(capacities) {
            close(found, expected, 1e-12 * expected, shape, period);
        }
    }
}

/// Holman, Heat Transfer, 10th ed., example 4-2 (inputs READ in a public companion; printed 118.5, 79.3 and 199.4 degC
/// MEMORY, tolerance 0.5 K), and COMPUTED values.
#[test]
fn semi_infinite_block_after_a_step_and_under_flux() {
    // Only conductivity and diffusivity are given; any density and heat capacity with that product serve.
    let block = solid(45.0, 1000.0, 45.0 / 1.4e-5 / 1000.0);
    let step = SemiInfiniteSolid::new(block, 35.0, End::Temperature(250.0)).unwrap();
    let flux = SemiInfiniteSolid::new(block, 35.0, End::Flux(320_000.0)).unwrap();
    for (body, depth, printed, computed) in
        [(step, 0.025, 118.5, 118.498982069), (flux, 0.025, 79.3, 79.3141588007), (flux, 0.0, 199.4, 199.443673181)]
    {
        let found = body.temperature(depth, 30.0).unwrap();
        close(found, printed, 0.5, "printed", depth);
        close(found, computed, 1e-9 * 250.0, "computed", depth);
    }
}

/// Well-stirred fluid in perfect contact with a semi-infinite solid; COMPUTED.
#[test]
fn stirred_fluid_on_a_semi_infinite_solid() {
    let fluid = End::WellStirred(StirredBody::new(20_000.0, 95.0));
    let body = SemiInfiniteSolid::new(solid(0.035, 30.0, 1450.0), 20.0, fluid).unwrap();
    close(body.fluid_temperature(3600.0).unwrap(), 86.0373593242, 8.6e-8, "fluid", 3600.0);
    close(body.fluid_temperature(36_000.0).unwrap(), 71.6625606015, 7.2e-8, "fluid", 36_000.0);
    close(body.temperature(0.05, 36_000.0).unwrap(), 64.5566408799, 6.5e-8, "0.05 m", 36_000.0);
}

/// Water against steel; COMPUTED.
#[test]
fn two_semi_infinite_bodies_brought_together() {
    let pair = TwoHalfSpaces::new(solid(0.6, 1000.0, 4180.0), 95.0, solid(16.0, 7900.0, 500.0), 20.0, 0.0).unwrap();
    for (side, depth, time, expected) in [
        (BodySide::Left, 0.0, 60.0, 32.4586857178),
        (BodySide::Right, 0.0, 60.0, 32.4586857178),
        (BodySide::Left, 0.01, 600.0, 67.1006547165),
        (BodySide::Right, 0.01, 60.0, 28.0998355463),
    ] {
        close(pair.temperature(side, depth, time).unwrap(), expected, 3e-8, side, time);
    }
}

/// Yearly swing in the ground; COMPUTED.
#[test]
fn periodic_surface_of_a_semi_infinite_solid() {
    let ground = PeriodicSurface::new(solid(0.52, 2050.0, 1840.0), 12.0, 31_536_000.0).unwrap();
    for (depth, amplitude, lag) in [(1.0, 5.12860899023, 4266606.01879), (3.0, 0.936777122089, 12799818.0564)] {
        close(ground.amplitude(depth).unwrap(), amplitude, 1e-9 * amplitude, "amplitude", depth);
        close(ground.lag(depth).unwrap(), lag, 1e-9 * lag, "lag", depth);
        let swing = ground.swing(depth, lag + 0.25 * 31_536_000.0).unwrap();
        close(swing, amplitude, 1e-9 * amplitude, "crest", depth);
    }
}

/// Holman, 10th ed., example 2-11: two steel bars with a contact (inputs READ in a public companion; printed 5.52 W and
/// 4.13 K MEMORY), and COMPUTED values.
#[test]
fn two_bars_with_a_contact_resistance() {
    let bar = SteadyElement::Layer { thickness: 0.1, conductivity: 16.3 };
    let elements = [bar, SteadyElement::Resistance(0.0005280026188929897), bar];
    let wall = SteadyWall::new(WallShape::Plane, &elements).unwrap();
    let flow = wall.heat_flow(100.0, 0.0).unwrap() * 0.0007068583470577034;
    close(flow, 5.52, 0.01, "printed W", 0.0);
    close(flow, 5.52321918181, 1e-10, "computed W", 0.0);
    let temperatures = wall.temperatures(100.0, 0.0).unwrap();
    close(temperatures[1] - temperatures[2], 4.13, 0.05, "printed K", 0.0);
    close(temperatures[1] - temperatures[2], 4.12568402829, 1e-10, "computed K", 0.0);
}

/// Plane wall with films, an air layer and a contact; COMPUTED.
#[test]
fn steady_plane_wall_of_five_elements() {
    let layer = |thickness, conductivity| SteadyElement::Layer { thickness, conductivity };
    let elements = [
        SteadyElement::Resistance(0.13),
        layer(0.012, 0.13),
        SteadyElement::Resistance(0.18),
        layer(0.08, 0.035),
        SteadyElement::Resistance(0.02),
        layer(0.02, 0.17),
        SteadyElement::Resistance(0.04),
    ];
    let wall = SteadyWall::new(WallShape::Plane, &elements).unwrap();
    close(wall.resistance(), 2.86566903685, 2.9e-9, "resistance", 0.0);
    close(wall.heat_flow(95.0, 20.0).unwrap(), 26.1718987907, 2.6e-8, "flow", 0.0);
    let temperatures = wall.temperatures(95.0, 20.0).unwrap();
    close(temperatures[3], 84.4708437942, 8.4e-8, "third", 0.0);
    close(temperatures[6], 21.0468759516, 2.1e-8, "sixth", 0.0);
    close(temperatures[7], 20.0, 0.0, "outside", 0.0);
}

/// Cylinder of steel, contact and insulation with films, per metre; COMPUTED.
#[test]
fn steady_cylinder_of_three_elements() {
    let layer = |thickness, conductivity| SteadyElement::Layer { thickness, conductivity };
    let elements = [
        SteadyElement::Resistance(1.0 / 400.0),
        layer(0.002, 16.0),
        SteadyElement::Resistance(0.03),
        layer(0.05, 0.035),
        SteadyElement::Resistance(1.0 / 8.0),
    ];
    let wall = SteadyWall::new(WallShape::Cylinder { inner_radius: 0.1 }, &elements).unwrap();
    close(wall.heat_flow(95.0, 20.0).unwrap(), 37.5785993627, 3.8e-8, "flow", 0.0);
    let temperatures = wall.temperatures(95.0, 20.0).unwrap();
    close(temperatures[3], 93.0840125976, 9.3e-8, "third", 0.0);
    close(temperatures[4], 24.9184373709, 2.5e-8, "fourth", 0.0);
}

/// Incropera, 6th ed., example 3.1: insulation that lowers the loss of 1.8 m2 of skin to 100 W (printed 4.4 mm in air,
/// 6.1 mm in water and 34.44 degC READ in a public companion), and COMPUTED values.
#[test]
fn insulation_over_skin() {
    for (film, printed, computed) in [(2.0 + 5.9, 4.4, 4.38784810127), (200.0 + 5.9, 6.1, 6.09200582807)] {
        let elements = [
            SteadyElement::Layer { thickness: 0.003, conductivity: 0.3 },
            SteadyElement::Layer { thickness: computed / 1000.0, conductivity: 0.014 },
            SteadyElement::Resistance(1.0 / film),
        ];
        let wall = SteadyWall::new(WallShape::Plane, &elements).unwrap();
        close(wall.heat_flow(308.0, 283.0).unwrap() * 1.8, 100.0, 1e-9, "W", film);
        close(wall.temperatures(308.0, 283.0).unwrap()[1], 307.444444444, 1e-8, "skin", film);
        close(computed, printed, 0.05, "printed mm", film);
    }
}

/// Incropera, 6th ed., example 3.5: critical radius of a tube 0.011 m (READ in a public companion); the radius at which
/// the insulated tube loses as much as the bare one, COMPUTED. Sphere: 2k/h (MEMORY). Both are the minimum of resistance.
#[test]
fn critical_radius_is_where_resistance_is_least() {
    let resistance = |shape: WallShape, outer: f64, conductivity: f64| {
        let insulation = SteadyElement::Layer { thickness: outer - 0.005, conductivity };
        SteadyWall::new(shape, &[insulation, SteadyElement::Resistance(0.2)]).unwrap().resistance()
    };
    let cylinder = WallShape::Cylinder { inner_radius: 0.005 };
    let sphere = WallShape::Sphere { inner_radius: 0.005 };
    close(critical_radius(cylinder, 0.055, 5.0).unwrap(), 0.011, 1e-15, "cylinder", 0.0);
    close(critical_radius(sphere, 0.05, 5.0).unwrap(), 0.02, 1e-15, "sphere", 0.0);
    for (shape, conductivity) in [(cylinder, 0.055), (sphere, 0.05)] {
        let radius = critical_radius(shape, conductivity, 5.0).unwrap();
        let least = resistance(shape, radius, conductivity);
        assert!(least < resistance(shape, 0.99 * radius, conductivity));
        assert!(least < resistance(shape, 1.01 * radius, conductivity));
    }
    let bare = SteadyWall::new(cylinder, &[SteadyElement::Resistance(0.2)]).unwrap().resistance();
    close(resistance(cylinder, 0.0319976599391, 0.055), bare, 1e-9 * bare, "equal", 0.0);
}

/// Incropera, 6th ed., example 5.4: pipe wall as a slab heated by oil, insulated outside (printed 42.9 and 45.2 degC,
/// -7400 W/m2, -2.73e7 J/m with table eigenvalues, MEMORY; companion READ), and COMPUTED values without the rounding.
#[test]
fn pipe_wall_heated_by_oil() {
    let (conductivity, thickness) = (63.9, 0.04);
    // The example gives diffusivity and heat capacity separately, not quite consistent: the first rules the field.
    let steel = solid(conductivity, conductivity / 1.88e-5 / 434.0, 434.0);
    let oil = End::Film { coefficient: 500.0, temperature: 60.0 };
    let slab = Slab::new(steel, thickness, -20.0, oil, End::Insulated).unwrap();
    let body = SymmetricBody::new(BodyShape::Slab, steel, thickness, -20.0, oil).unwrap();
    let time = 480.0;
    for outer in [slab.temperature(thickness, time).unwrap(), body.temperature(0.0, time).unwrap()] {
        close(outer, 43.0174514152, 1e-8, "outside", time);
        close(outer, 42.9, 0.15, "printed outside", time);
    }
    for inner in [slab.temperature(0.0, time).unwrap(), body.temperature(thickness, time).unwrap()] {
        close(inner, 45.3635481206, 1e-8, "inside", time);
        close(inner, 45.2, 0.2, "printed inside", time);
    }
    // Counted as leaving the pipe wall.
    for flux in [-slab.flux(0.0, time).unwrap(), body.surface_flux(time).unwrap()] {
        close(flux, -7318.22593968, 1e-5, "flux", time);
        close(flux, -7400.0, 100.0, "printed flux", time);
    }
    let heat = |mean: f64| -std::f64::consts::PI * 1.0 * thickness * 7832.0 * 434.0 * (mean + 20.0) / 1e7;
    for mean in [slab.mean_temperature(time).unwrap(), body.mean_temperature(time).unwrap()] {
        close(heat(mean), -2.72546209003, 3e-8, "heat", time);
        close(heat(mean), -2.73, 0.015, "printed heat", time);
    }
}

/// Incropera, 6th ed., example 5.5: sphere cooled in air, then in water (printed 94 s, 3.1 s, 1.800, 1.376 MEMORY, with
/// interpolated table values; companion READ), and COMPUTED values without the interpolation.
#[test]
fn sphere_cooled_in_air_then_water() {
    let radius: f64 = 0.005;
    let volume = 4.0 / 3.0 * std::f64::consts::PI * radius.powi(3);
    let area = 4.0 * std::f64::consts::PI * radius.powi(2);
    let in_air = LumpedBody::new(3000.0 * 1000.0 * volume, 10.0 * area, 400.0, 20.0).unwrap();
    close(in_air.time_to(335.0).unwrap(), 93.7993069474, 1e-8, "air", 0.0);
    close(in_air.time_to(335.0).unwrap(), 94.0, 0.5, "printed air", 0.0);
    let term = one_term(BodyShape::Sphere, 6000.0 * radius / 20.0).unwrap();
    close(term.eigenvalue, 1.83659720315, 1e-10, "eigenvalue", 0.0);
    close(term.coefficient, 1.3849625609, 1e-9, "coefficient", 0.0);
    let water = End::Film { coefficient: 6000.0, temperature: 20.0 };
    let in_water = SymmetricBody::new(BodyShape::Sphere, solid(20.0, 3000.0, 1000.0), radius, 335.0, water).unwrap();
    // 2.97618311115 s by the first term alone, 2.97618303932 s by all terms: the field itself at the second.
    close(in_water.temperature(0.0, 2.97618303932).unwrap(), 50.0, 3e-8, "centre", 2.976);
    let fourier = 20.0 / 3e6 * 2.97618311115 / radius.powi(2);
    let first_term = 20.0 + 315.0 * term.coefficient * (-term.eigenvalue.powi(2) * fourier).exp();
    close(first_term, 50.0, 1e-8, "first term", 2.976);
}

/// Holman, 10th ed., example 4-1: steel ball in air (inputs READ in a public companion; printed 5819 s MEMORY), and
/// COMPUTED values for the lumped ball and for the volume mean with inner conduction.
#[test]
fn steel_ball_in_air() {
    let radius: f64 = 0.025;
    let volume = 4.0 / 3.0 * std::f64::consts::PI * radius.powi(3);
    let area = 4.0 * std::f64::consts::PI * radius.powi(2);
    let ball = LumpedBody::new(7800.0 * 460.0 * volume, 10.0 * area, 450.0, 100.0).unwrap();
    let time = ball.time_to(150.0).unwrap();
    close(time, 5819.0, 1.0, "printed", 0.0);
    close(time, 5818.27134568, 6e-6, "computed", 0.0);
    close(ball.temperature(time).unwrap(), 150.0, 1e-11, "back", time);
    let air = End::Film { coefficient: 10.0, temperature: 100.0 };
    let body = SymmetricBody::new(BodyShape::Sphere, solid(35.0, 7800.0, 460.0), radius, 450.0, air).unwrap();
    // 5.8e-6 s of tolerance in time is 1e-7 K at a rate of 0.0179 K/s.
    close(body.mean_temperature(5826.585632).unwrap(), 150.0, 1.1e-7, "mean", 5826.6);
}

/// Straight fin with its four tips (30.2095, 28.5584, 66.3291, 52.5814 W READ in an open test suite; digits beyond those
/// COMPUTED), relative tolerance 1e-5 there, 1e-9 for the computed digits. A long rod: Incropera, example 3.9 (8.3 and
/// 1.6 W printed, MEMORY).
#[test]
fn straight_fin_with_four_tips() {
    let fin = StraightFin {
        perimeter: 0.032,
        area: 0.00012,
        length: 0.05,
        conductivity: 180.0,
        film_coefficient: 100.0,
        base_temperature: 200.0,
        surroundings: 0.0,
        tip: FinTip::Convecting,
    };
    for (tip, read, computed) in [
        (FinTip::Convecting, 30.2095, 30.20946892),
        (FinTip::Insulated, 28.5584, 28.55836924),
        (FinTip::Temperature(75.0), 66.3291, 66.32908241),
        (FinTip::Infinite, 52.5814, 52.58136552),
    ] {
        let flow = StraightFin { tip, ..fin }.heat_flow().unwrap();
        close(flow, read, 1e-5 * read, tip, 0.0);
        close(flow, computed, 1e-9 * computed, tip, 0.0);
    }
    for (conductivity, printed, computed) in [(398.0, 8.3, 8.309553397), (14.0, 1.6, 1.558476165)] {
        let rod = StraightFin {
            perimeter: std::f64::consts::PI * 0.005,
            area: std::f64::consts::PI * 0.005 * 0.005 / 4.0,
            conductivity,
            base_temperature: 100.0,
            surroundings: 25.0,
            tip: FinTip::Infinite,
            ..fin
        };
        close(rod.heat_flow().unwrap(), printed, 0.05, "printed rod", 0.0);
        close(rod.heat_flow().unwrap(), computed, 1e-9 * computed, "rod", 0.0);
    }
}
