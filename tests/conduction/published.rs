//! Textbook and benchmark problems as rows: printed numbers as their source gives them, and the exact ones behind them.
//! Printed numbers are held to half their last digit unless their source is known to have rounded on the way.

use crate::comparison::{Comparison, Mark, Sheet};
use crate::plain::{faces, film, flux_at, held, layer, material, problem, read, slab, temperature_at};
use stillhot::conduction::{Accuracy, Probe, Problem, Side};
use stillhot::correlation::constants::STEFAN_BOLTZMANN;
use stillhot::units::{self, Si};
use stillhot::{Body, Boundary, Contact, Convection, Course, Exchange, Layer, Wall};

/// All of them, marched as exactly as `accuracy` says.
pub fn rows(accuracy: &Accuracy) -> Vec<Comparison> {
    let sheets = [
        half_space_after_a_step(accuracy),
        half_space_under_flux(accuracy),
        fluid_on_a_half_space(accuracy),
        two_half_spaces(accuracy),
        radiating_end(accuracy),
        sine_at_one_end(accuracy),
        pipe_heated_by_oil(accuracy),
        ball_in_water(accuracy),
        ball_in_air(accuracy),
        thermocouple(),
        conductivity_that_follows_temperature(accuracy),
        bars_in_contact(),
        five_elements(),
        three_element_cylinder(),
    ];
    sheets.into_iter().flat_map(|sheet| sheet.rows).collect()
}

const TWICE: &str = "two independent computations";
/// The constant that the sources used, W/(m² K⁴).
const ROUNDED_STEFAN_BOLTZMANN: f64 = 5.67e-8;

/// The emissivity that radiates with this crate's constant what `emissivity` does with the rounded one.
fn same_radiation(emissivity: f64) -> units::Ratio {
    units::fraction(emissivity * ROUNDED_STEFAN_BOLTZMANN / STEFAN_BOLTZMANN)
}

/// A steel block 0.125 m deep, insulated behind: what comes back from there within 30 s is 1e-14 of the step.
fn block() -> Wall {
    let (conductivity, diffusivity, density) = (45.0, 1.4e-5, 7850.0);
    slab(0.125, conductivity, density, conductivity / diffusivity / density)
}

const BLOCK: &str = "Holman, Heat Transfer, 10th ed., example 4-2; inputs READ in a public worked companion, \
                     printed values from memory";

fn half_space_after_a_step(accuracy: &Accuracy) -> Sheet {
    let mut sheet = Sheet::new("Half space of steel, surface put from 35 to 250 °C", BLOCK, Mark::Memory);
    let answer =
        problem(block(), held(250.0), Boundary::Insulated, 35.0).march(&[units::seconds(30.0)], accuracy).unwrap();
    let e = read(&answer, temperature_at(0.025), 0);
    sheet.row("temperature 25 mm deep at 30 s, °C, as printed", (118.5, 0.05), e.value, Some(e.error));
    sheet.from(TWICE, Mark::Computed);
    sheet.row("temperature 25 mm deep at 30 s, °C", (118.498982069, 1e-8), e.value, Some(e.error));
    sheet
}

fn half_space_under_flux(accuracy: &Accuracy) -> Sheet {
    let mut sheet = Sheet::new("Half space of steel under 320 kW/m²", BLOCK, Mark::Memory);
    let flux = Boundary::flux(units::watts_per_square_metre(3.2e5));
    let answer = problem(block(), flux, Boundary::Insulated, 35.0).march(&[units::seconds(30.0)], accuracy).unwrap();
    let (deep, face) = (read(&answer, temperature_at(0.025), 0), read(&answer, temperature_at(0.0), 0));
    sheet.row("temperature 25 mm deep at 30 s, °C, as printed", (79.3, 0.05), deep.value, Some(deep.error));
    sheet.row("surface temperature at 30 s, °C, as printed", (199.4, 0.05), face.value, Some(face.error));
    sheet.from(TWICE, Mark::Computed);
    sheet.row("temperature 25 mm deep at 30 s, °C", (79.3141588007, 1e-8), deep.value, Some(deep.error));
    sheet.row("surface temperature at 30 s, °C", (199.443673181, 2e-8), face.value, Some(face.error));
    sheet
}

fn fluid_on_a_half_space(accuracy: &Accuracy) -> Sheet {
    let title = "Well-stirred fluid on a half space of foam";
    let source = format!("Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed. 1959 (formula MEMORY); {TWICE}");
    let mut sheet = Sheet::new(title, &source, Mark::Computed);
    // 1.2 m deep: seven times the reach of the heat after ten hours, which comes back twice that way.
    let fluid = Body::new(units::joules_per_kelvin(20_000.0), units::celsius(95.0));
    let answer = problem(slab(1.2, 0.035, 30.0, 1450.0), Boundary::Body(fluid), Boundary::Insulated, 20.0)
        .march(&[units::hours(1.0), units::hours(10.0)], accuracy)
        .unwrap();
    let fluid = [0, 1].map(|k| read(&answer, Probe::Body(Side::Inner), k));
    let deep = read(&answer, temperature_at(0.05), 1);
    sheet.row("fluid at 1 h, °C", (86.0373593242, 8.6e-8), fluid[0].value, Some(fluid[0].error));
    sheet.row("fluid at 10 h, °C", (71.6625606015, 7.2e-8), fluid[1].value, Some(fluid[1].error));
    sheet.row("foam 50 mm deep at 10 h, °C", (64.5566408799, 6.5e-8), deep.value, Some(deep.error));
    sheet
}

fn two_half_spaces(accuracy: &Accuracy) -> Sheet {
    let title = "Water at 95 °C and steel at 20 °C brought together, both without end";
    let source = format!("Carslaw and Jaeger 1959, composite solids (formula MEMORY); {TWICE}");
    let mut sheet = Sheet::new(title, &source, Mark::Computed);
    // Each deeper than six times the reach of the heat within 600 s.
    let joint = 0.06;
    let wall = Wall::planar()
        .layer(layer(joint, 0.6, 1000.0, 4180.0))
        .layer(layer(0.32, 16.0, 7900.0, 500.0))
        .build()
        .unwrap();
    let answer = Problem::new(wall, Boundary::Insulated, Boundary::Insulated)
        .unwrap()
        .starting_by_layer(&[units::celsius(95.0), units::celsius(20.0)])
        .unwrap()
        .march(&[units::seconds(60.0), units::seconds(600.0)], accuracy)
        .unwrap();
    let rows = [
        ("interface at 60 s, °C", joint, 0, (32.4586857178, 3.2e-8)),
        ("water 10 mm from it at 600 s, °C", joint - 0.01, 1, (67.1006547165, 6.7e-8)),
        ("steel 10 mm from it at 60 s, °C", joint + 0.01, 0, (28.0998355463, 2.8e-8)),
    ];
    for (quantity, x, time, expected) in rows {
        let e = read(&answer, temperature_at(x), time);
        sheet.row(quantity, expected, e.value, Some(e.error));
    }
    sheet
}

fn radiating_end(accuracy: &Accuracy) -> Sheet {
    let title = "Bar held at 1000 K at one end, radiating to 300 K at the other";
    let source = "NAFEMS, Benchmark Tests for Thermal Analysis, 1986, test T2; 927.0 K seen on a public page";
    let mut sheet = Sheet::new(title, source, Mark::Read);
    let end = Exchange::new(Convection::None, same_radiation(0.98), units::kelvin(300.0));
    let hot = Boundary::temperature(units::kelvin(1000.0));
    let bar = Problem::new(slab(0.1, 55.6, 7850.0, 460.0), hot, Boundary::Exchange(end)).unwrap();
    let steady = bar.steady().unwrap().faces()[0][1].si();
    // Time constant L²/(a pi²/4) about 5 minutes: after 10 h nothing is left of the start.
    let bar = bar.starting_at(units::kelvin(300.0)).unwrap();
    let answer = bar.march(&[units::hours(10.0)], accuracy).unwrap();
    let settled = answer.read(temperature_at(0.1), 0).unwrap();
    sheet.row("radiating end, steady, K, as printed", (927.0, 0.05), steady, None);
    sheet.from(TWICE, Mark::Computed);
    sheet.row("radiating end, steady, K", (927.007606246, 1e-8), steady, None);
    sheet.row("radiating end after 10 h, K", (927.007606246, 1e-8), settled.value, Some(settled.error));
    sheet
}

fn sine_at_one_end(accuracy: &Accuracy) -> Sheet {
    let title = "Bar with 100 °C sin(pi t/40 s) at one end, 0 °C at the other";
    let source = "NAFEMS, The Standard NAFEMS Benchmarks, 1990, test T3; inputs READ in a public test suite, the \
                  value from memory";
    let mut sheet = Sheet::new(title, source, Mark::Memory);
    let wave = Course::sine(units::celsius(0.0), 100.0, units::seconds(80.0), units::seconds(0.0)).unwrap();
    let answer = problem(slab(0.1, 35.0, 7200.0, 440.5), held(0.0), Boundary::temperature(wave), 0.0)
        .march(&[units::seconds(32.0)], accuracy)
        .unwrap();
    let e = read(&answer, temperature_at(0.08), 0);
    sheet.row("temperature at 0.08 m and 32 s, °C, as printed", (36.60, 0.005), e.value, Some(e.error));
    sheet.from(TWICE, Mark::Computed);
    sheet.row("temperature at 0.08 m and 32 s, °C", (36.6031159591, 3e-9), e.value, Some(e.error));
    sheet
}

fn pipe_heated_by_oil(accuracy: &Accuracy) -> Sheet {
    let title = "Pipe wall heated by oil, insulated outside";
    let source = "Incropera and others, Fundamentals of Heat and Mass Transfer, 6th ed., example 5.4; inputs READ in \
                  a public worked companion, printed values from memory, with the rounding of its table of eigenvalues";
    let mut sheet = Sheet::new(title, source, Mark::Memory);
    let (conductivity, diffusivity, density) = (63.9, 1.88e-5, 7832.0);
    let wall = slab(0.04, conductivity, density, conductivity / diffusivity / density);
    let answer =
        problem(wall, film(500.0, 60.0), Boundary::Insulated, -20.0).march(&[units::minutes(8.0)], accuracy).unwrap();
    let outer = read(&answer, temperature_at(0.04), 0);
    let inner = read(&answer, temperature_at(0.0), 0);
    let flux = read(&answer, flux_at(0.0), 0);
    sheet.row("outer face at 8 min, °C, as printed", (42.9, 0.15), outer.value, Some(outer.error));
    sheet.row("inner face at 8 min, °C, as printed", (45.2, 0.2), inner.value, Some(inner.error));
    sheet.row("flux from the oil at 8 min, W/m², as printed", (7400.0, 100.0), flux.value, Some(flux.error));
    sheet.from(TWICE, Mark::Computed);
    sheet.row("outer face at 8 min, °C", (43.0174514152, 1e-8), outer.value, Some(outer.error));
    sheet.row("inner face at 8 min, °C", (45.3635481206, 1e-8), inner.value, Some(inner.error));
    sheet.row("flux from the oil at 8 min, W/m²", (7318.22593968, 1e-6), flux.value, Some(flux.error));
    sheet
}

fn ball_in_water(accuracy: &Accuracy) -> Sheet {
    let title = "Ball at 335 °C put into stirred water of 20 °C";
    let source = format!(
        "Incropera and others, 6th ed., example 5.5, second step; inputs READ in a public worked companion; {TWICE} \
         (the printed 3.1 s comes from an eigenvalue interpolated in a table and is not used)"
    );
    let mut sheet = Sheet::new(title, &source, Mark::Computed);
    let ball = Wall::spherical(units::metres(0.0)).layer(layer(0.005, 20.0, 3000.0, 1000.0)).build().unwrap();
    let answer = problem(ball, Boundary::Insulated, film(6000.0, 20.0), 335.0)
        .march(&[units::seconds(2.97618311115)], accuracy)
        .unwrap();
    let e = read(&answer, temperature_at(0.0), 0);
    // The two computations of the time differ by 7e-8 s, at 27 K/s.
    sheet.row("centre after 2.97618 s, °C", (50.0, 2e-6), e.value, Some(e.error));
    sheet
}

fn ball_in_air(accuracy: &Accuracy) -> Sheet {
    let title = "Steel ball of 50 mm at 450 °C put into air of 100 °C";
    let source = format!(
        "Holman, 10th ed., example 4-1; inputs READ in a public worked companion; {TWICE} (the printed 5819 s takes the \
         ball for one temperature)"
    );
    let mut sheet = Sheet::new(title, &source, Mark::Computed);
    let ball = Wall::spherical(units::metres(0.0)).layer(layer(0.025, 35.0, 7800.0, 460.0)).build().unwrap();
    let answer = problem(ball, Boundary::Insulated, film(10.0, 100.0), 450.0)
        .march(&[units::seconds(5826.585632)], accuracy)
        .unwrap();
    let e = read(&answer, Probe::Mean, 0);
    // The time is known to 6e-6 s, at 0.017 K/s.
    sheet.row("mean after 5826.585632 s, °C", (150.0, 1e-7), e.value, Some(e.error));
    sheet
}

fn thermocouple() -> Sheet {
    let title = "Thermocouple bead in gas of 473 K within walls of 673 K, film 400 W/(m² K), emissivity 0.9";
    let source = "Incropera and others, 6th ed., example 5.2; inputs READ in a public worked companion, the printed \
                  218.7 °C (above 273 K) from memory";
    let mut sheet = Sheet::new(title, source, Mark::Memory);
    let bead = Wall::spherical(units::metres(0.0)).layer(layer(3.5e-4, 20.0, 8500.0, 400.0)).build().unwrap();
    let gas = Convection::Constant(units::watts_per_square_metre_kelvin(400.0));
    let surface = Exchange::new(gas, same_radiation(0.9), units::kelvin(473.0)).with_radiant(units::kelvin(673.0));
    let steady = Problem::new(bead, Boundary::Insulated, Boundary::Exchange(surface)).unwrap().steady().unwrap();
    let bead = steady.faces()[0][1].si() - 273.0;
    sheet.row("steady temperature above 273 K, K, as printed", (218.7, 0.05), bead, None);
    sheet.from("root of the surface balance in closed form", Mark::Computed);
    sheet.row("steady temperature above 273 K, K", (218.713475971, 1e-8), bead, None);
    sheet
}

fn conductivity_that_follows_temperature(accuracy: &Accuracy) -> Sheet {
    let title = "Foam whose conductivity rises with temperature, 95 to 20 °C";
    let mut sheet = Sheet::new(title, &format!("transform of Kirchhoff; {TWICE}"), Mark::Computed);
    let rising = material(0.035, 30.0, 1450.0)
        .with_conductivity_slope(
            units::celsius(10.0),
            units::watts_per_metre_kelvin(0.035 * 0.0045),
            units::celsius(-30.0),
            units::celsius(150.0),
        )
        .unwrap();
    let parts = [0.0125, 0.0125, 0.025].map(|d| Layer::new(rising.clone(), units::metres(d)).unwrap());
    let wall = parts.into_iter().fold(Wall::planar(), |wall, part| wall.layer(part)).build().unwrap();
    let problem = problem(wall, held(95.0), held(20.0), 20.0);
    let steady = problem.steady().unwrap();
    let at = faces(&steady);
    sheet.row("flux, steady, W/m²", (63.721875, 6.4e-8), steady.inner_flux().si(), None);
    sheet.row("at a quarter, steady, °C", (78.072301484, 7.8e-8), at[0][1], None);
    sheet.row("in the middle, steady, °C", (60.0943713972, 6e-8), at[1][1], None);
    let answer = problem.march(&[units::days(2.0)], accuracy).unwrap();
    let flux = read(&answer, flux_at(0.05), 0);
    sheet.row("flux through the outer face after 2 d, W/m²", (63.721875, 6.4e-8), flux.value, Some(flux.error));
    for (quantity, x, expected) in [
        ("at a quarter after 2 d, °C", 0.0125, (78.072301484, 7.8e-8)),
        ("in the middle after 2 d, °C", 0.025, (60.0943713972, 6e-8)),
    ] {
        let e = read(&answer, temperature_at(x), 0);
        sheet.row(quantity, expected, e.value, Some(e.error));
    }
    sheet
}

fn contact(resistance: f64) -> Contact {
    Contact::Resistance(units::square_metre_kelvins_per_watt(resistance))
}

fn bars_in_contact() -> Sheet {
    let source = "Holman, 10th ed., example 2-11; inputs READ in a public worked companion, printed values from memory";
    let mut sheet = Sheet::new("Two steel bars pressed end to end, 100 to 0 °C", source, Mark::Memory);
    let bar = || layer(0.1, 16.3, 7900.0, 500.0);
    let wall = Wall::planar().layer(bar()).contact(contact(0.0005280026188929897)).layer(bar()).build().unwrap();
    let steady = problem(wall, held(100.0), held(0.0), 0.0).steady().unwrap();
    let heat = steady.inner_flux().si() * std::f64::consts::PI * 0.015 * 0.015;
    let drop = faces(&steady)[0][1] - faces(&steady)[1][0];
    sheet.row("heat, W, as printed", (5.52, 0.005), heat, None);
    sheet.row("drop at the contact, K, as printed", (4.13, 0.005), drop, None);
    sheet.from(TWICE, Mark::Computed);
    sheet.row("heat, W", (5.52321918181, 1e-9), heat, None);
    sheet.row("drop at the contact, K", (4.12568402829, 1e-9), drop, None);
    sheet
}

fn five_elements() -> Sheet {
    let title = "Plane wall of five elements between films, 95 to 20 °C";
    let mut sheet = Sheet::new(title, "series resistances", Mark::Computed);
    let wall = Wall::planar()
        .layer(layer(0.012, 0.13, 500.0, 1600.0))
        .contact(contact(0.18))
        .layer(layer(0.08, 0.035, 30.0, 1450.0))
        .contact(contact(0.02))
        .layer(layer(0.02, 0.17, 900.0, 1000.0))
        .build()
        .unwrap();
    let steady = problem(wall, film(1.0 / 0.13, 95.0), film(1.0 / 0.04, 20.0), 20.0).steady().unwrap();
    let flux = steady.inner_flux().si();
    sheet.row("flux, W/m²", (26.1718987907, 2.6e-8), flux, None);
    sheet.row("resistance, m² K/W", (2.86566903685, 2.9e-9), 75.0 / flux, None);
    sheet.row("behind the first contact, °C", (84.4708437942, 8.4e-8), faces(&steady)[1][0], None);
    sheet.row("outer face, °C", (21.0468759516, 2.1e-8), faces(&steady)[2][1], None);
    sheet
}

fn three_element_cylinder() -> Sheet {
    let title = "Cylinder of three elements between films, 95 to 20 °C";
    let mut sheet = Sheet::new(title, "series resistances", Mark::Computed);
    let wall = Wall::cylindrical(units::metres(0.1))
        .layer(layer(0.002, 16.0, 7900.0, 500.0))
        .contact(contact(0.03))
        .layer(layer(0.05, 0.035, 30.0, 1450.0))
        .build()
        .unwrap();
    let steady = problem(wall, film(400.0, 95.0), film(8.0, 20.0), 20.0).steady().unwrap();
    sheet.row("heat, W/m", (37.5785993627, 3.8e-8), steady.heat_per_extent(), None);
    sheet.row("behind the contact, °C", (93.0840125976, 9.3e-8), faces(&steady)[1][0], None);
    sheet.row("outer face, °C", (24.9184373709, 2.5e-8), faces(&steady)[1][1], None);
    sheet
}
