//! Walls in their steady state against series resistances, textbook examples and exact transforms. The source and
//! its mark stand beside each number.
//!
//! Marks: READ, a source was seen; MEMORY, recalled; COMPUTED, no printed number, two independent computations agree.

use stillhot::conduction::Problem;
use stillhot::units::{
    self, Si, ThermalConductivity, celsius, kelvin, metres, square_metre_kelvins_per_watt, watts_per_metre_kelvin,
    watts_per_square_metre, watts_per_square_metre_kelvin,
};
use stillhot::{Boundary, Contact, ErrorKind, Geometry, Layer, Material, Wall};

fn material(k: f64) -> Material {
    let (density, heat) = (units::kilograms_per_cubic_metre(100.0), units::joules_per_kilogram_kelvin(1000.0));
    Material::custom("plain", watts_per_metre_kelvin(k), density, heat).unwrap()
}

/// A slice, or an areal resistance between two slices.
enum Element {
    Slice { thickness: f64, k: f64 },
    Resistance(f64),
}
use Element::{Resistance, Slice};

fn wall(geometry: Geometry, elements: &[Element]) -> Wall {
    let builder = elements.iter().fold(Wall::of(geometry), |builder, element| match element {
        Slice { thickness, k } => builder.layer(Layer::new(material(*k), metres(*thickness)).unwrap()),
        Resistance(r) => builder.contact(Contact::Resistance(square_metre_kelvins_per_watt(*r))),
    });
    builder.build().unwrap()
}

fn film(coefficient: f64, degrees: f64) -> Boundary {
    Boundary::film(watts_per_square_metre_kelvin(coefficient), celsius(degrees))
}

fn close(what: &str, value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{what}: {value} instead of {expected}, more than {tolerance} off");
}

fn degrees(temperature: units::Temperature) -> f64 {
    temperature.si() - 273.15
}

/// Series resistances; COMPUTED.
#[test]
fn plane_wall_of_five_elements_between_films() {
    let elements = [
        Slice { thickness: 0.012, k: 0.13 },
        Resistance(0.18),
        Slice { thickness: 0.08, k: 0.035 },
        Resistance(0.02),
        Slice { thickness: 0.02, k: 0.17 },
    ];
    let problem =
        Problem::new(wall(Geometry::Planar, &elements), film(1.0 / 0.13, 95.0), film(1.0 / 0.04, 20.0)).unwrap();
    let steady = problem.steady().unwrap();
    let flux = steady.inner_flux().si();
    close("flux, W/m²", flux, 26.171_898_790_7, 2.6e-8);
    close("resistance, m² K/W", 75.0 / flux, 2.865_669_036_85, 2.9e-9);
    close("behind the air layer, °C", degrees(steady.faces()[1][0]), 84.470_843_794_2, 8.4e-8);
    close("outer surface, °C", degrees(steady.faces()[2][1]), 21.046_875_951_6, 2.1e-8);
}

/// Series resistances, the contact per unit area at its own radius; COMPUTED.
#[test]
fn cylinder_of_three_elements_between_films() {
    let elements = [Slice { thickness: 0.002, k: 16.0 }, Resistance(0.03), Slice { thickness: 0.05, k: 0.035 }];
    let geometry = Geometry::Cylindrical { inner_radius: metres(0.1) };
    let problem = Problem::new(wall(geometry, &elements), film(400.0, 95.0), film(8.0, 20.0)).unwrap();
    let steady = problem.steady().unwrap();
    close("heat, W/m", steady.heat_per_extent(), 37.578_599_362_7, 3.8e-8);
    close("behind the contact, °C", degrees(steady.faces()[1][0]), 93.084_012_597_6, 9.3e-8);
    close("outer surface, °C", degrees(steady.faces()[1][1]), 24.918_437_370_9, 2.5e-8);
}

/// Two steel bars of 30 mm pressed end to end: Holman, Heat Transfer, 10th ed., example 2-11; inputs READ in a public
/// worked companion, the printed 5.52 W and 4.13 °C MEMORY; the digits beyond them COMPUTED.
#[test]
fn two_bars_with_contact_resistance() {
    let elements =
        [Slice { thickness: 0.1, k: 16.3 }, Resistance(0.000_528_002_618_892_989_7), Slice { thickness: 0.1, k: 16.3 }];
    let (hot, cold) = (Boundary::temperature(celsius(100.0)), Boundary::temperature(celsius(0.0)));
    let steady = Problem::new(wall(Geometry::Planar, &elements), hot, cold).unwrap().steady().unwrap();
    let area = std::f64::consts::PI * 0.015 * 0.015;
    let heat = steady.inner_flux().si() * area;
    let drop = steady.faces()[0][1].si() - steady.faces()[1][0].si();
    close("heat as printed, W", heat, 5.52, 0.01);
    close("drop as printed, K", drop, 4.13, 0.05);
    close("heat, W", heat, 5.523_219_181_81, 1e-8);
    close("drop, K", drop, 4.125_684_028_29, 1e-8);
}

/// Conductivity that rises with temperature, k = 0.035 (1 + 0.0045 (t - 10 °C)): Kirchhoff transform; COMPUTED.
#[test]
fn conductivity_that_follows_temperature() {
    let rising = material(0.035)
        .with_conductivity_slope(
            celsius(10.0),
            ThermalConductivity::from_si(0.035 * 0.0045),
            celsius(0.0),
            celsius(120.0),
        )
        .unwrap();
    // Faces are where temperatures can be read: four quarters instead of one slab.
    let quarter = || Layer::new(rising.clone(), metres(0.0125)).unwrap();
    let wall = (0..4).fold(Wall::planar(), |builder, _| builder.layer(quarter())).build().unwrap();
    let (hot, cold) = (Boundary::temperature(celsius(95.0)), Boundary::temperature(celsius(20.0)));
    let steady = Problem::new(wall, hot, cold).unwrap().steady().unwrap();
    close("flux, W/m²", steady.inner_flux().si(), 63.721_875, 6.4e-8);
    close("at a quarter, °C", degrees(steady.faces()[0][1]), 78.072_301_484, 7.8e-8);
    close("in the middle, °C", degrees(steady.faces()[1][1]), 60.094_371_397_2, 6e-8);
}

/// Where a rising function passes zero.
fn bisect(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    assert!(f(low) < 0.0 && f(high) > 0.0, "no change of sign");
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if f(middle) < 0.0 { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}

/// A person in a suit of aerogel who may lose 100 W over 1.8 m²: Incropera and others, Fundamentals of Heat and Mass
/// Transfer, 6th ed., example 3.1; 4.4 mm, 6.1 mm and 34.4 °C READ in a public worked companion; the digits beyond
/// them COMPUTED.
#[test]
fn suit_thick_enough_for_a_given_loss() {
    let suit = |thickness: f64, h: f64| {
        let elements = [Slice { thickness: 0.003, k: 0.3 }, Slice { thickness, k: 0.014 }];
        let body = Boundary::temperature(kelvin(308.0));
        let outside = Boundary::film(watts_per_square_metre_kelvin(h), kelvin(283.0));
        Problem::new(wall(Geometry::Planar, &elements), body, outside).unwrap().steady().unwrap()
    };
    // Radiation 5.9 beside convection 2 in air and 200 in water, W/(m² K).
    for (h, printed, exact) in [(7.9, 4.4e-3, 4.387_848_101_27e-3), (205.9, 6.1e-3, 6.092_005_828_07e-3)] {
        let thickness = bisect(1e-3, 0.02, |x| 100.0 - 1.8 * suit(x, h).inner_flux().si());
        close("thickness as printed, m", thickness, printed, 5e-5);
        close("thickness, m", thickness, exact, 1e-11);
        let skin = suit(thickness, h).faces()[0][1].si();
        close("skin as printed, K", skin, 307.4, 0.1);
        close("skin, K", skin, 307.444_444_444, 1e-8);
    }
}

/// Heat that leaves a tube or ball of 5 mm through insulation of this outer radius into a film of 5 W/(m² K), W.
fn insulated(geometry: Geometry, k: f64, outer: f64) -> f64 {
    let elements = [Slice { thickness: outer - 0.005, k }];
    let hot = Boundary::temperature(celsius(100.0));
    Problem::new(wall(geometry, &elements), hot, film(5.0, 0.0)).unwrap().steady().unwrap().heat_per_extent()
}

/// The radius of the greatest loss, by golden section.
fn most_lossy(geometry: Geometry, k: f64) -> f64 {
    let ratio = 0.5 * (5.0_f64.sqrt() - 1.0);
    let (mut low, mut high) = (0.0051, 0.06);
    for _ in 0..60 {
        let (a, b) = (high - ratio * (high - low), low + ratio * (high - low));
        if insulated(geometry, k, a) < insulated(geometry, k, b) { low = a } else { high = b }
    }
    f64::midpoint(low, high)
}

/// Incropera and others, 6th ed., example 3.5; critical radius 11 mm and thickness 6 mm READ in a public worked
/// companion. The radius beyond which insulation saves anything at all: COMPUTED.
#[test]
fn critical_radius_of_a_tube() {
    let geometry = Geometry::Cylindrical { inner_radius: metres(0.005) };
    let critical = most_lossy(geometry, 0.055);
    // A maximum is flat: its place is known to the root of the precision of its height.
    close("critical radius, m", critical, 0.011, 1e-6);
    close("thickness as printed, m", critical - 0.005, 0.006, 5e-5);
    let bare = std::f64::consts::TAU * 0.005 * 5.0 * 100.0;
    let equal = bisect(critical, 0.1, |r| bare - insulated(geometry, 0.055, r));
    close("radius that loses as much as the bare tube, m", equal, 0.031_997_659_939_1, 1e-10);
}

/// 2 k / h; any textbook, MEMORY, and found again by minimising the resistance, COMPUTED.
#[test]
fn critical_radius_of_a_sphere() {
    let critical = most_lossy(Geometry::Spherical { inner_radius: metres(0.005) }, 0.05);
    close("critical radius, m", critical, 0.02, 1e-6);
}

/// What a flux prescribes at one face leaves at the other; the face temperature by series resistances, by hand.
#[test]
fn flux_through_a_wall() {
    let elements = [Slice { thickness: 0.1, k: 0.5 }, Slice { thickness: 0.05, k: 0.04 }];
    let flux = Boundary::flux(watts_per_square_metre(30.0));
    let steady = Problem::new(wall(Geometry::Planar, &elements), flux, film(10.0, 15.0)).unwrap().steady().unwrap();
    close("flux, W/m²", steady.inner_flux().si(), 30.0, 1e-9);
    // 15 + 30 (0.1 + 1.25 + 0.2)
    close("inner face, °C", degrees(steady.faces()[0][0]), 61.5, 1e-9);
}

#[test]
fn without_a_temperature_there_is_no_steady_state() {
    let elements = [Slice { thickness: 0.1, k: 0.5 }];
    let problem = Problem::new(wall(Geometry::Planar, &elements), Boundary::Insulated, Boundary::Insulated).unwrap();
    assert_eq!(problem.steady().unwrap_err().kind(), ErrorKind::NoConvergence);
    let flux = Boundary::flux(watts_per_square_metre(30.0));
    let problem = Problem::new(wall(Geometry::Planar, &elements), flux, Boundary::Insulated).unwrap();
    assert_eq!(problem.steady().unwrap_err().kind(), ErrorKind::NoConvergence);
}
