//! Closed forms and published relations as rows: a choice; each relation has more beside it in the tests of its own.

use crate::comparison::{Comparison, Mark, Sheet};
use stillhot::closed_form::{
    BodyShape, BodySide, End, LumpedBody, SemiInfiniteSolid, Solid, StirredBody, TwoHalfSpaces, one_term,
};
use stillhot::correlation::airspace::{HeatFlow, ISO_6946_AIR_CONDUCTIVITY, resistance_iso_6946};
use stillhot::correlation::constants::STEFAN_BOLTZMANN;
use stillhot::correlation::{atmosphere, enclosure, free_convection, radiation, similarity, water};

const TWICE: &str = "two independent computations";
const COMPANION: &str = "Incropera and others, Fundamentals of Heat and Mass Transfer, 6th ed., example";

pub fn closed_forms() -> Vec<Comparison> {
    [eigenvalues(), half_spaces(), ball_in_air()].into_iter().flat_map(|sheet| sheet.rows).collect()
}

pub fn relations() -> Vec<Comparison> {
    let sheets = [
        water_line(),
        standard_atmosphere(),
        upright_plate(),
        level_pipe(),
        ring_gap(),
        grey_enclosures(),
        black_coefficients(),
        air_layers(),
    ];
    sheets.into_iter().flat_map(|sheet| sheet.rows).collect()
}

fn eigenvalues() -> Sheet {
    let source = "Cengel and Ghajar, Heat and Mass Transfer, 5th ed., table 4-2, seen as a scan";
    let mut sheet = Sheet::new("First eigenvalue and its coefficient", source, Mark::Read);
    for (shape, name, biot, printed) in [
        (BodyShape::Slab, "slab", 0.1, (0.3111, 1.0161)),
        (BodyShape::Slab, "slab", 1.0, (0.8603, 1.1191)),
        (BodyShape::Slab, "slab", 10.0, (1.4289, 1.2620)),
        (BodyShape::Sphere, "sphere", 0.1, (0.5423, 1.0298)),
        (BodyShape::Sphere, "sphere", 2.0, (2.0288, 1.4793)),
        (BodyShape::Sphere, "sphere", 10.0, (2.8363, 1.9249)),
    ] {
        let term = one_term(shape, biot).unwrap();
        sheet.row(format!("eigenvalue, {name}, Biot number {biot}"), (printed.0, 5e-5), term.eigenvalue, None);
        sheet.row(format!("coefficient, {name}, Biot number {biot}"), (printed.1, 5e-5), term.coefficient, None);
    }
    sheet
}

fn half_spaces() -> Sheet {
    let mut sheet = Sheet::new("Half spaces in closed form", TWICE, Mark::Computed);
    let steel = Solid::new(45.0, 7850.0, 45.0 / 1.4e-5 / 7850.0).unwrap();
    let step = SemiInfiniteSolid::new(steel, 35.0, End::Temperature(250.0)).unwrap();
    sheet.row("step, 25 mm deep at 30 s, °C", (118.498982069, 5e-10), step.temperature(0.025, 30.0).unwrap(), None);
    let flux = SemiInfiniteSolid::new(steel, 35.0, End::Flux(3.2e5)).unwrap();
    sheet.row("flux, surface at 30 s, °C", (199.443673181, 5e-10), flux.temperature(0.0, 30.0).unwrap(), None);
    let foam = Solid::new(0.035, 30.0, 1450.0).unwrap();
    let fluid = SemiInfiniteSolid::new(foam, 20.0, End::WellStirred(StirredBody::new(20_000.0, 95.0))).unwrap();
    sheet.row("stirred fluid at 10 h, °C", (71.6625606015, 7.2e-8), fluid.fluid_temperature(36_000.0).unwrap(), None);
    let pair = TwoHalfSpaces::new(
        Solid::new(0.6, 1000.0, 4180.0).unwrap(),
        95.0,
        Solid::new(16.0, 7900.0, 500.0).unwrap(),
        20.0,
        0.0,
    )
    .unwrap();
    let interface = pair.temperature(BodySide::Left, 0.0, 60.0).unwrap();
    sheet.row("water on steel, interface, °C", (32.4586857178, 3.2e-8), interface, None);
    let water = pair.temperature(BodySide::Left, 0.01, 600.0).unwrap();
    sheet.row("water 10 mm from it at 600 s, °C", (67.1006547165, 6.7e-8), water, None);
    sheet
}

fn ball_in_air() -> Sheet {
    let source = "Holman, Heat Transfer, 10th ed., example 4-1; inputs READ in a public worked companion, the printed \
                  time from memory; the book rounds on the way";
    let mut sheet = Sheet::new("Steel ball cooling in air, without inner resistance", source, Mark::Memory);
    let radius: f64 = 0.025;
    let area = 4.0 * std::f64::consts::PI * radius.powi(2);
    let body = LumpedBody::new(7800.0 * 460.0 * area * radius / 3.0, 10.0 * area, 450.0, 100.0).unwrap();
    let time = body.time_to(150.0).unwrap();
    sheet.row("from 450 to 150 °C, s, as printed", (5819.0, 1.0), time, None);
    sheet.from(TWICE, Mark::Computed);
    sheet.row("from 450 to 150 °C, s", (5818.27134568, 1e-7), time, None);
    sheet
}

fn water_line() -> Sheet {
    let source = "IAPWS R7-97(2012), tables 5, 35 and 36 (from memory; two property libraries agree)";
    let mut sheet = Sheet::new("Water, IAPWS-IF97", source, Mark::Memory);
    for (t, expected) in [(300.0, (3536.58941, 1e-5)), (500.0, (2.63889776e6, 1e-2)), (600.0, (1.23443146e7, 1e-1))] {
        let pressure = water::saturation_pressure_if97(t).unwrap().value;
        sheet.row(format!("vapour pressure at {t} K, Pa"), expected, pressure, None);
    }
    for (p, expected) in [(1e5, 372.755919), (1e6, 453.035632)] {
        let t = water::boiling_temperature_if97(p).unwrap().value;
        sheet.row(format!("boiling temperature at {p} Pa, K"), (expected, 1e-6), t, None);
    }
    let heat = water::liquid_specific_heat_if97(300.0, 3e6).unwrap().value;
    sheet.row("specific heat at 300 K and 3 MPa, J/(kg K)", (4173.01218, 1e-5), heat, None);
    sheet
}

fn standard_atmosphere() -> Sheet {
    let source = "ISO 2533:1975, table (from memory; the hydrostatic equation integrated agrees)";
    let mut sheet = Sheet::new("Standard atmosphere", source, Mark::Memory);
    for (height, expected) in [(1000.0, 89_874.6), (3000.0, 70_108.5), (5000.0, 54_019.9)] {
        let pressure = atmosphere::pressure_iso_2533(height).unwrap().value;
        sheet.row(format!("pressure at {height} m, Pa"), (expected, 0.05), pressure, None);
    }
    sheet
}

fn upright_plate() -> Sheet {
    let source = format!("{COMPANION} 9.2; READ in a public worked companion");
    let mut sheet = Sheet::new("Upright hot plate in still air (Churchill and Chu)", &source, Mark::Read);
    let rayleigh = similarity::rayleigh(9.81, 0.0025, 209.0, 0.71, 2.64e-5, 3.83e-5).unwrap();
    let nusselt = free_convection::vertical_plate_churchill_chu(rayleigh, 0.69).unwrap().value;
    let heat = similarity::film_coefficient(nusselt, 0.0338, 0.71).unwrap() * 0.7242 * 209.0;
    sheet.row("Rayleigh number, as printed", (1.813e9, 2e6), rayleigh, None);
    sheet.row("heat, W, as printed", (1060.0, 0.5), heat, None);
    sheet
}

fn level_pipe() -> Sheet {
    let source = format!("{COMPANION} 9.4; READ in a public worked companion");
    let mut sheet = Sheet::new("Level hot pipe, convection and radiation", &source, Mark::Read);
    let rayleigh = similarity::rayleigh(9.81, 0.002725, 142.0, 0.1, 2.28e-5, 3.28e-5).unwrap();
    let nusselt = free_convection::horizontal_cylinder_churchill_chu(rayleigh, 0.697).unwrap().value;
    let convected = similarity::film_coefficient(nusselt, 0.0313, 0.1).unwrap() * 142.0;
    let radiated = radiated(0.85, [438.0, 296.0]);
    let heat = std::f64::consts::PI * 0.1 * (convected + radiated);
    sheet.row("heat, W/m, as printed", (763.0, 1.0), heat, None);
    sheet
}

fn ring_gap() -> Sheet {
    let source = format!("{COMPANION} 9.5; READ in a public worked companion");
    let mut sheet = Sheet::new("Air between level tubes (Raithby and Hollands)", &source, Mark::Read);
    let (inner, outer): (f64, f64) = (0.05, 0.06);
    let length = enclosure::concentric_cylinders_length(inner, outer).unwrap();
    let rayleigh = similarity::rayleigh(9.81, 0.00285, 85.0, length, 2.092e-5, 2.99e-5).unwrap();
    let ratio = enclosure::concentric_cylinders_raithby_hollands(rayleigh, 0.7).unwrap().value;
    let heat = std::f64::consts::TAU * 0.03 * ratio * 85.0 / (outer / inner).ln();
    sheet.row("heat, W/m, as printed", (100.0, 0.5), heat, None);
    sheet
}

/// Heat flow density by an exchange factor, W/m².
fn radiated(factor: f64, [from, to]: [f64; 2]) -> f64 {
    factor * radiation::coefficient(from, to).unwrap() * (from - to)
}

fn grey_enclosures() -> Sheet {
    let source = format!("{COMPANION} 13.5; READ in a public worked companion");
    let mut sheet = Sheet::new("Radiation between grey faces", &source, Mark::Read);
    // The book's constant is rounded.
    let factor = radiation::exchange_factor_concentric_cylinders([0.01, 0.025], [0.02, 0.05]).unwrap();
    let tubes = std::f64::consts::TAU * 0.01 * radiated(factor, [77.0, 300.0]) * 5.67e-8 / STEFAN_BOLTZMANN;
    sheet.row("concentric tubes, W/m, as printed", (-0.50, 0.005), tubes, None);
    sheet.from(TWICE, Mark::Computed);
    sheet.row("concentric tubes, W/m", (-0.498811634187, 1e-11), tubes, None);
    let plates = radiated(radiation::exchange_factor_parallel_plates(0.9, 0.05).unwrap(), [360.0, 300.0]);
    sheet.row("parallel plates, W/m²", (24.5190247993, 2.5e-8), plates, None);
    let factor = radiation::exchange_factor_concentric_spheres([0.1, 0.13], [0.8, 0.1]).unwrap();
    let spheres = 4.0 * std::f64::consts::PI * 0.01 * radiated(factor, [365.0, 295.0]);
    sheet.row("concentric spheres, W", (11.0269250814, 1.1e-8), spheres, None);
    sheet
}

fn black_coefficients() -> Sheet {
    let source = "ISO 6946, table of black coefficients (from memory; the standard rounds 5.149 down)";
    let mut sheet = Sheet::new("Black radiative coefficient", source, Mark::Memory);
    for (celsius, expected) in [(0.0, 4.6), (10.0, 5.1), (20.0, 5.7)] {
        let h = radiation::black_coefficient(celsius + 273.15).unwrap();
        sheet.row(format!("at {celsius} °C, W/(m² K)"), (expected, 0.05), h, None);
    }
    sheet
}

fn air_layers() -> Sheet {
    let source = "ISO 6946:2007, table 2 (from memory)";
    let mut sheet = Sheet::new("Unventilated air layers between plain faces, 10 °C", source, Mark::Memory);
    for (flow, name, rows) in [
        (HeatFlow::Up, "up", [(0.005, 0.11), (0.01, 0.15), (0.025, 0.16)]),
        (HeatFlow::Horizontal, "level", [(0.007, 0.13), (0.015, 0.17), (0.05, 0.18)]),
        (HeatFlow::Down, "down", [(0.01, 0.15), (0.05, 0.21), (0.1, 0.22)]),
    ] {
        for (thickness, expected) in rows {
            let r = resistance_iso_6946(flow, thickness, [0.9; 2], 283.15, 5.0, ISO_6946_AIR_CONDUCTIVITY).unwrap();
            let quantity = format!("heat {name}, {} mm, m² K/W", thickness * 1e3);
            sheet.row(quantity, (expected, 0.005), r.value, None);
        }
    }
    sheet
}
