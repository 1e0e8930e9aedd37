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
use stillhot::{
    Dish, Edges, Enclosure, Fit, Forecast, Layer, Lid, Material, Options, Plan, Pot, Range, Setup, Shelf, Wall,
};

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
    /// The box about a body of this heat capacity, J/K.
    fn forecast(&self, edges: Edges, capacity: f64, horizon: f64) -> Forecast {
        // The pot is the body; what is in it weighs next to nothing.
        let (pot_mass, dish) = (100.0, Dish::of(material("filling", 0.6, 1000.0, 1000.0)));
        let metal = material("metal", 16.0, 7900.0, (capacity - 0.01 * 1000.0) / pot_mass);
        let pot = Pot::sized(metres(0.28), metres(0.24), metal, millimetres(1.0)).weighing(kilograms(pot_mass));
        let pot = pot.with(dish.stirred().with_water_content(Ratio::from_si(0.0)), kilograms(0.01));
        let enclosure = Enclosure::of_wall(wall(self.layers))
            .inside(metres(0.36), metres(0.30), metres(0.26))
            .lid(Lid::tight())
            .fitted(Fit::Tight)
            .edges(edges);
        let film = || Range::exactly(watts_per_square_metre_kelvin(8.0));
        let setup = Setup::new(pot, enclosure).unwrap().with_constant_films(film(), film()).unwrap();
        let plan = Plan::in_room(celsius(10.0)).leaving_at(celsius(95.0)).carry(minutes(0.0)).shell_at(celsius(20.0));
        let mut options = Options::horizon(hours(horizon));
        options.step_error = kelvins(0.002);
        setup.forecast_with(&plan.shut(), &options).unwrap()
    }

    /// Conductance of the whole, W/K: what leaves through all walls while the body hardly cools.
    fn seen_conductance(&self, edges: Edges) -> f64 {
        let forecast = self.forecast(edges, 2e6, 30.0);
        let (from, to) = (28.0, 30.0);
        let paths = forecast.heat_by_path_between(hours(from), hours(to)).unwrap();
        let lost: f64 = paths.iter().map(|p| p.heat.best().si()).sum();
        let at = |h: f64| in_celsius(forecast.at(hours(h)).unwrap().temperature.best()) - 10.0;
        lost / 7200.0 / ((at(from) + 4.0 * at(0.5 * (from + to)) + at(to)) / 6.0)
    }
}

#[test]
fn probe_kitchen() {
    let kitchen = |edges| {
        let pot =
            Pot::typical(stillhot::units::litres(10.0)).with(Dish::named("water-liquid").unwrap(), kilograms(9.0));
        let enclosure = Enclosure::lined("rigid-polyisocyanurate-foam-foil-faced", millimetres(50.0))
            .unwrap()
            .around(&pot, millimetres(15.0))
            .lid(Lid::resting())
            .edges(edges);
        Setup::new(pot, enclosure).unwrap()
    };
    let plan = Plan::in_room(celsius(16.0)).shut().serve_after(hours(8.0));
    let shelf = Shelf::default();
    for round in 0..6 {
        let mut times = Vec::new();
        for (edges, kept) in [(Edges::Factor, false), (Edges::Solved, false), (Edges::Solved, true)] {
            let setup = kitchen(edges);
            let now = std::time::Instant::now();
            let fresh = Shelf::default();
            let f = setup.forecast_from(&plan, &Options::default(), if kept { &shelf } else { &fresh }).unwrap();
            times.push(now.elapsed().as_secs_f64() * 1e3);
            if round == 0 {
                println!("{edges:?} {kept} {:?} {shelf:?} {}", f.statistics(), f.above(celsius(63.0)).unwrap());
                for h in [1.0, 4.0, 8.0, 24.0] {
                    let row = f.at(hours(h)).unwrap();
                    println!("  {h} {} {} {}", row.temperature, in_celsius(row.temperature.best()), row.numerical.si());
                }
                for p in f.heat_by_path() {
                    println!("   {} {} {}", p.place, p.mechanism, p.heat);
                }
            }
        }
        println!("{times:?} {shelf:?}");
    }
}

#[test]
fn probe() {
    for (name, solid) in [("thin", &THIN), ("thick", &THICK)] {
        for edges in [Edges::Solved, Edges::Factor] {
            let now = std::time::Instant::now();
            let forecast = solid.forecast(edges, 6e4, 8.0);
            let took = now.elapsed();
            println!("{name} {edges:?} {took:?} {:?} {:e}", forecast.statistics(), forecast.ledger_residual());
            for (h, t) in solid.body {
                let row = forecast.at(hours(h)).unwrap();
                println!(
                    "  {h} h: {:.4} off {:+.4} reported {:.4}",
                    in_celsius(row.temperature.best()),
                    in_celsius(row.temperature.best()) - t,
                    row.numerical.si()
                );
            }
            for p in forecast.heat_by_path() {
                println!("   {} {} {}", p.place, p.mechanism, p.heat.best().si());
            }
            let g = solid.seen_conductance(edges);
            println!("  G {g:.6} {:+.4} %", 100.0 * (g / solid.conductance - 1.0));
        }
    }
}
