//! Whole boxes against three-dimensional solutions.
//!
//! COMPUTED: finite elements in three dimensions, own computation, no published source. Boxes of nested layers, 0.36 by 0.30
//! by 0.26 m inside, films of 8 W/(m² K) on all faces inside and outside; walls at 20 °C, a body of 60 kJ/K at 95 °C behind
//! the inner films, 10 °C outside from the start on. Quadratic bricks on graded meshes; the conductance is known to 1e-5 of
//! itself, the temperatures to 0.0012 K. Checked there against the cube of inner side 2 and wall 1 (0.55873 and 0.1056 times
//! conductivity and length for edges and corners).

use stillhot::units::{
    Ratio, Si, celsius, hours, joules_per_kilogram_kelvin, kelvins, kilograms, kilograms_per_cubic_metre, metres,
    millimetres, minutes, watts_per_metre_kelvin, watts_per_square_metre_kelvin,
};
use stillhot::{Dish, Edges, Enclosure, Fit, Forecast, Layer, Lid, Material, Options, Plan, Pot, Range, Setup, Wall};

use crate::setups::in_celsius;

fn material(id: &str, k: f64, rho: f64, c: f64) -> Material {
    Material::custom(id, watts_per_metre_kelvin(k), kilograms_per_cubic_metre(rho), joules_per_kilogram_kelvin(c))
        .unwrap()
}

/// Mat, foam and plywood of these thicknesses, mm.
fn wall([mat, foam, ply]: [f64; 3]) -> Wall {
    Wall::planar()
        .layer(Layer::new(material("mat", 0.04, 45.0, 1400.0), millimetres(mat)).unwrap())
        .layer(Layer::new(material("foam", 0.024, 32.0, 1450.0), millimetres(foam)).unwrap())
        .layer(Layer::new(material("ply", 0.12, 560.0, 1600.0), millimetres(ply)).unwrap())
        .build()
        .unwrap()
}

struct Solid {
    layers: [f64; 3],
    /// W/K
    conductance: f64,
    /// Hours and °C.
    body: [(f64, f64); 4],
}

const THIN: Solid = Solid {
    layers: [10.0, 15.0, 5.0],
    conductance: 0.530_475_46,
    body: [(1.0, 92.029_02), (2.0, 89.473_01), (4.0, 84.597_62), (8.0, 75.725_74)],
};
const THICK: Solid = Solid {
    layers: [25.0, 45.0, 10.0],
    conductance: 0.258_283_26,
    body: [(1.0, 92.773_59), (2.0, 91.501_05), (4.0, 89.048_81), (8.0, 84.365_87)],
};

impl Solid {
    fn metal(&self, heat_capacity: f64) -> Material {
        material("metal", 16.0, 7900.0, heat_capacity)
    }

    fn setup(&self, pot: Pot, edges: Edges) -> Setup {
        let boards = Enclosure::of_wall(wall(self.layers))
            .inside(metres(0.36), metres(0.30), metres(0.26))
            .lid(Lid::tight())
            .fitted(Fit::Tight)
            .edges(edges);
        let film = || Range::exactly(watts_per_square_metre_kelvin(8.0));
        Setup::new(pot, boards).unwrap().with_constant_films(film(), film()).unwrap()
    }

    fn forecast(&self, edges: Edges) -> Forecast {
        // The pot is the body, 60 kJ/K; what is in it weighs next to nothing.
        let metal = self.metal((60e3 - 0.01 * 1000.0) / 100.0);
        let dish = Dish::of(material("filling", 0.6, 1000.0, 1000.0)).stirred().with_water_content(Ratio::from_si(0.0));
        let pot = Pot::sized(metres(0.28), metres(0.24), metal, millimetres(1.0)).weighing(kilograms(100.0));
        let setup = self.setup(pot.with(dish, kilograms(0.01)), edges);
        let plan = Plan::in_room(celsius(10.0)).leaving_at(celsius(95.0)).carry(minutes(0.0)).shell_at(celsius(20.0));
        let mut options = Options::horizon(hours(8.0));
        options.step_error = kelvins(0.002);
        setup.forecast_with(&plan.shut(), &options).unwrap()
    }

    /// Conductance of the whole, W/K: what comes in while a pot of ice melts, which holds it at 0 °C to a tenth of a kelvin.
    fn conductance_seen(&self, edges: Edges) -> f64 {
        let dish = Dish::named("water-liquid").unwrap();
        let pot = Pot::sized(metres(0.28), metres(0.24), self.metal(100.0), millimetres(0.1)).weighing(kilograms(0.1));
        let pot = pot.with(dish, kilograms(13.0)).with_ice(Ratio::from_si(0.9));
        let setup = self.setup(pot, edges);
        let plan = Plan::in_room(celsius(30.0)).leaving_at(celsius(0.0)).carry(minutes(0.0)).shell_at(celsius(20.0));
        let forecast = setup.forecast_with(&plan.shut(), &Options::horizon(hours(30.0))).unwrap();
        let paths = forecast.heat_by_path_between(hours(24.0), hours(30.0)).unwrap();
        let lost: f64 = paths.iter().map(|p| p.heat.best().si()).sum();
        let pot = in_celsius(forecast.at(hours(27.0)).unwrap().temperature.best());
        assert!(pot.abs() < 0.1, "{pot} °C");
        -lost / (6.0 * 3600.0) / (30.0 - pot)
    }
}

#[test]
fn solved_edges_make_up_the_box_of_three_dimensions() {
    for solid in [&THIN, &THICK] {
        let forecast = solid.forecast(Edges::Solved);
        for (h, listed) in solid.body {
            let row = forecast.at(hours(h)).unwrap();
            let off = in_celsius(row.temperature.best()) - listed;
            println!("{:?} mm, {h} h: off {off:+.4} K, reported {:.4} K", solid.layers, row.numerical.si());
            // What faces, edges and corners leave out is part of the method, not of the numerical error.
            assert!(off.abs() < 0.02, "{h} h: {off} K");
        }
        let off = solid.conductance_seen(Edges::Solved) / solid.conductance - 1.0;
        println!("conductance off {:+.3} %", 100.0 * off);
        assert!(off.abs() < 0.003, "{off}");
    }
}

/// The quick form, made for one material, errs to the cold side.
#[test]
fn the_published_factor_errs_by_little_and_to_the_cold_side() {
    for solid in [&THIN, &THICK] {
        let forecast = solid.forecast(Edges::Factor);
        for (h, listed) in solid.body {
            let off = in_celsius(forecast.at(hours(h)).unwrap().temperature.best()) - listed;
            println!("{:?} mm, {h} h: off {off:+.4} K", solid.layers);
            assert!(off < 0.0 && off > -0.15, "{h} h: {off} K");
        }
        let off = solid.conductance_seen(Edges::Factor) / solid.conductance - 1.0;
        println!("conductance off {:+.3} %", 100.0 * off);
        assert!(off > 0.0 && off < 0.015, "{off}");
    }
}
