//! Dishes that do not stir themselves: their edge is colder than their middle, and it is the edge that counts.

use std::f64::consts::PI;

use stillhot::units::{
    Ratio, Si, Time, celsius, days, hours, kelvins, kilograms, metres, millimetres, minutes, seconds,
};
use stillhot::{Catalogue, Dish, Forecast, Held, Lid, Material, Options, PieceShape, Pieces, Plan, Pot, Setup};

use crate::limits::{at_once, exact_box, films};
use crate::lines::{Lines, Stuff, box_faces};
use crate::setups::{box_round, eventful, held, in_celsius, plain, pot};

/// Bessel functions of the first kind by their power series.
fn bessel(order: i32, x: f64) -> f64 {
    let mut term = (0.5 * x).powi(order);
    let mut sum = term;
    for k in 1..40 {
        term *= -0.25 * x * x / (f64::from(k) * f64::from(k + order));
        sum += term;
    }
    sum
}

/// First root and amplitude of a long cylinder or of a slab closed on one side that cools by a film, and what its edge is
/// to its middle (Carslaw and Jaeger).
fn first_term(cylinder: bool, biot: f64) -> (f64, f64, f64) {
    let (mut low, mut high) = (0.0_f64, if cylinder { 2.404 } else { 0.5 * PI - 1e-9 });
    for _ in 0..200 {
        let z = 0.5 * (low + high);
        let over = if cylinder { z * bessel(1, z) - biot * bessel(0, z) } else { z * z.tan() - biot };
        if over < 0.0 { low = z } else { high = z }
    }
    let z = low;
    if cylinder {
        let (j0, j1) = (bessel(0, z), bessel(1, z));
        (z, 2.0 * j1 / (z * (j0 * j0 + j1 * j1)), j0)
    } else {
        (z, 4.0 * z.sin() / (2.0 * z + (2.0 * z).sin()), z.cos())
    }
}

/// Biot number 0.5: 0.9408 and 1.1143 for a cylinder, 0.6533 and 1.0701 for a wall (tables of textbooks, MEMORY).
#[test]
fn first_terms_are_those_of_tables() {
    let (round, flat) = (first_term(true, 0.5), first_term(false, 0.5));
    assert!((round.0 - 0.9408).abs() < 1e-4 && (round.1 - 1.1143).abs() < 1e-4, "{round:?}");
    assert!((flat.0 - 0.6533).abs() < 1e-4 && (flat.1 - 1.0701).abs() < 1e-4, "{flat:?}");
}

/// What side, base, and base with top are worth to a dish of this radius and depth, 1/m² (mean excess of a body heated
/// evenly: R²/8, h²/3, h²/12).
fn ways(radius: f64, depth: f64) -> [f64; 3] {
    [8.0 / (radius * radius), 3.0 / (depth * depth), 12.0 / (depth * depth)]
}

/// A cylinder with a bore that nothing passes, of unit thickness and properties; the bore is a share of the whole radius.
struct Bored(f64);

impl Bored {
    /// Radius over thickness where so much of the thickness is passed.
    fn radius(&self, x: f64) -> f64 {
        self.0 / (1.0 - self.0) + x
    }

    /// Root, amplitude and edge over middle where it cools by a film: (r u')' = -z² r u from the bore outward, where
    /// u' = -Bi u; by Runge and Kutta's fourth-order rule.
    fn first_term(&self, biot: f64) -> (f64, f64, f64) {
        // u and r u' at the edge, and the integrals of r u and r u².
        let shoot = |z: f64| {
            let (steps, near) = (4000, 1e-4);
            let slope = |x: f64, [u, flow, ..]: [f64; 4]| {
                let r = self.radius(x);
                [flow / r, -z * z * r * u, r * u, r * u * u]
            };
            let area = 0.5 * (self.radius(near).powi(2) - self.radius(0.0).powi(2));
            let mut now = [1.0 - 0.25 * z * z * near * near, -z * z * area, area, area];
            let step = (1.0 - near) / f64::from(steps);
            for k in 0..steps {
                let x = near + f64::from(k) * step;
                let along = |of: [f64; 4], share: f64| std::array::from_fn(|i| now[i] + share * step * of[i]);
                let first = slope(x, now);
                let second = slope(x + 0.5 * step, along(first, 0.5));
                let third = slope(x + 0.5 * step, along(second, 0.5));
                let last = slope(x + step, along(third, 1.0));
                now = std::array::from_fn(|i| {
                    now[i] + step / 6.0 * (first[i] + 2.0 * second[i] + 2.0 * third[i] + last[i])
                });
            }
            now
        };
        let (mut low, mut high) = (0.0_f64, 2.41);
        for _ in 0..60 {
            let z = 0.5 * (low + high);
            let [u, flow, ..] = shoot(z);
            if u > 0.0 && -flow < biot * u * self.radius(1.0) { low = z } else { high = z }
        }
        let [edge, _, first, square] = shoot(low);
        (low, first / square, edge)
    }

    /// One over its mean excess when it is heated evenly, by Simpson's rule: what passes each radius, squared, over it.
    fn worth(&self) -> f64 {
        let volume = |x: f64| 0.5 * (self.radius(x).powi(2) - self.radius(0.0).powi(2));
        let of = |x: f64| if x == 0.0 { 0.0 } else { volume(x).powi(2) / self.radius(x) };
        let n = 2000;
        let sum: f64 = (0..n)
            .map(|k| {
                let at = |share: f64| of((f64::from(k) + share) / f64::from(n));
                (at(0.0) + 4.0 * at(0.5) + at(1.0)) / 6.0
            })
            .sum();
        volume(1.0) / (sum / f64::from(n))
    }
}

/// Without a bore it is the cylinder of the tables, with one as wide as itself the wall.
#[test]
fn a_bored_cylinder_lies_between_those_of_tables() {
    for (bore, cylinder, worth, allowed) in [(0.0, true, 8.0, 1e-6), (0.9999, false, 3.0, 2e-4)] {
        for biot in [0.5, 5.0] {
            let (seen, known) = (Bored(bore).first_term(biot), first_term(cylinder, biot));
            let off = (seen.0 - known.0).abs() + (seen.1 - known.1).abs() + (seen.2 - known.2).abs();
            assert!(off < allowed, "bore {bore}, Bi {biot}: {seen:?}, {known:?}");
        }
        assert!((Bored(bore).worth() - worth).abs() < 10.0 * allowed, "{}", Bored(bore).worth());
    }
}

/// A pot, across and high, m, in a box that stores nothing.
struct Bare {
    across: f64,
    height: f64,
}

const BARE_WALL: f64 = 0.04;
const ROOM: f64 = 15.0;
const START: f64 = 95.0;

impl Bare {
    fn inside(&self) -> [f64; 3] {
        [self.across + 0.1, self.across + 0.1, self.height + 0.05]
    }

    /// Of the box, W/K.
    fn conductance(&self) -> f64 {
        let faces = box_faces(self.inside(), BARE_WALL);
        let stuff = Stuff { k: 0.035, heat: 2.5 };
        Lines { stuff, thickness: BARE_WALL, pot: 1.0, films: [9.0, 8.0], faces }.conductance()
    }

    fn mass(&self, depth: f64) -> f64 {
        1000.0 * 0.25 * PI * self.across * self.across * depth
    }

    /// With a dish of 4 MJ/(m³ K) that conducts so well, W/(m K).
    fn forecast(&self, depth: f64, conductivity: f64, horizon: Time) -> Forecast {
        // Its metal holds next to nothing.
        let metal = plain("metal", 16.0, 7900.0, 50.0);
        let pot = Pot::sized(metres(self.across), metres(self.height), metal, millimetres(0.5));
        let dish = Dish::of(plain("dish", conductivity, 1000.0, 4000.0));
        let pot = pot.weighing(kilograms(0.01)).with(dish.still(), kilograms(self.mass(depth)));
        let setup = films(exact_box(pot, 0.035, BARE_WALL, self.inside()), [9.0; 3], [8.0; 3]);
        let mut options = Options::horizon(horizon);
        options.step_error = kelvins(1e-4);
        options.cells = 24;
        options.steps = 1_000_000;
        setup.forecast_with(&at_once(ROOM, START), &options).unwrap()
    }
}

/// A dish in a box that stores nothing cools as the closed form of its body says, be it tall, in between, or flat: where it
/// conducts like rubber, like metal, and like nothing known (then it is as good as stirred, to a millionth).
#[test]
fn a_still_dish_cools_as_in_textbooks() {
    let bare = Bare { across: 0.7, height: 0.7 };
    let (radius, conductance) = (0.35, bare.conductance());
    for depth in [0.6, 0.2, 0.08] {
        let [side, base, ends] = ways(radius, depth);
        let body = Bored(ends / (side + ends));
        let mass = bare.mass(depth);
        // Of the body whose worth is that of side or base, length of the way and area that heat passes.
        let first = side.max(base);
        let way = (body.worth() / first).sqrt();
        let area =
            mass / 1000.0 * body.radius(1.0) / (0.5 * (body.radius(1.0).powi(2) - body.radius(0.0).powi(2)) * way);
        for (biot, allowed) in [(0.5, 1e-5), (0.02, 1e-5), (conductance * way / (2000.0 * area), 1e-6)] {
            let k = conductance * way / (area * biot);
            let of_dish = k * first / (side + ends);
            let (z, amplitude, edge) = body.first_term(biot);
            let forecast = bare.forecast(depth, of_dish, days(10.0));
            let time_of = |fourier: f64| fourier * way * way * 4e6 / k;
            // From where the first term stands alone (the second has died to 1e-7 there).
            let early = time_of(if biot < 0.01 { 30.0 } else { 1.2 });
            for t in [early, 2.0 * early, 3.0 * early].into_iter().filter(|t| *t < 10.0 * 86_400.0) {
                let middle = (START - ROOM) * amplitude * (-z * z * t * k / (4e6 * way * way)).exp();
                let row = forecast.coldest(seconds(t)).unwrap();
                let seen = in_celsius(row.temperature.best()) - ROOM;
                let off = (seen - edge * middle).abs() / (START - ROOM);
                // What the pot's half a joule per kelvin is to the dish.
                let metal = 0.5 / (4000.0 * mass);
                assert!(off < allowed + metal, "{depth} m, Bi {biot}, {t} s: off {off:e}");
                let warmest = forecast.middle_of_dish(seconds(t)).unwrap().unwrap();
                let off = (in_celsius(warmest.best()) - ROOM - middle).abs() / (START - ROOM);
                assert!(off < 1e-3, "{depth} m, Bi {biot}, {t} s: middle off {off:e}");
                // The mean gives its heat up by the conductance of the box and the excess of the edge.
                let mean = in_celsius(forecast.at(seconds(t)).unwrap().temperature.best()) - ROOM;
                let expected = conductance * edge * middle / (4000.0 * mass * z * z * k / (4e6 * way * way));
                let off = (mean - expected).abs() / (START - ROOM);
                assert!(off < 1e-5 + allowed + metal, "{depth} m, Bi {biot}, {t} s: mean off {off:e}");
            }
            assert!(forecast.ledger_residual() < 1e-9);
        }
    }
}

/// A dish as tall as a pot can be is a solid cylinder, one as flat as it can be a slab that is open above and below, both
/// of the conductivity of the food, and neither is the other.
#[test]
fn a_tall_dish_is_a_cylinder_and_a_flat_one_a_slab() {
    for (bare, depth, cylinder) in
        [(Bare { across: 0.1, height: 1.0 }, 0.95, true), (Bare { across: 1.0, height: 0.065 }, 0.02, false)]
    {
        // A slab open on both sides is half a slab closed on one.
        let (way, outside) = if cylinder { (0.05, 2.0 / 0.05) } else { (0.01, 1.0 / 0.01) };
        let area = bare.mass(depth) / 1000.0 * outside;
        let biot = 5.0;
        let k = bare.conductance() * way / (area * biot);
        let time = |fourier: f64| seconds(fourier * way * way * 4e6 / k);
        let forecast = bare.forecast(depth, k, time(1.1));
        let excess = |fourier: f64, (z, amplitude, edge): (f64, f64, f64)| {
            let middle = amplitude * (-z * z * fourier).exp();
            [edge * middle, middle]
        };
        for fourier in [0.5, 1.0] {
            let coldest = in_celsius(forecast.coldest(time(fourier)).unwrap().temperature.best());
            let middle = in_celsius(forecast.middle_of_dish(time(fourier)).unwrap().unwrap().best());
            let seen = [coldest, middle].map(|t| (t - ROOM) / (START - ROOM));
            let expected = excess(fourier, first_term(cylinder, biot));
            let wrong = excess(fourier, first_term(!cylinder, biot));
            println!("cylinder {cylinder}, Fo {fourier}: {seen:?}, {expected:?}; the other {wrong:?}");
            for i in 0..2 {
                assert!(
                    (seen[i] / expected[i] - 1.0).abs() < 0.02,
                    "cylinder {cylinder}, Fo {fourier}: {seen:?}, {expected:?}"
                );
                assert!((wrong[i] / expected[i] - 1.0).abs() > 0.2, "{wrong:?}");
            }
        }
    }
}

/// Where its edge is held, a dish of any depth gives its heat up at the pace of a cylinder of finite length:
/// (2.4048/R)² + (π/h)² times the diffusivity (Carslaw and Jaeger 1959, section 8.3, MEMORY).
#[test]
fn a_still_dish_gives_its_heat_up_at_the_pace_of_a_short_cylinder() {
    let radius = 0.03;
    let bare = Bare { across: 2.0 * radius, height: 0.11 };
    for depth in [0.1, 0.06, 0.036, 0.024, 0.014, 0.0084] {
        let [side, _, ends] = ways(radius, depth);
        // So bad a conductor that the box hinders little: at a Biot number of 50 the squares of the roots are 0.961 of those
        // of a held edge, in cylinder and slab alike (2.3572 and 1.5400 in tables of textbooks, MEMORY). Way over area is 3
        // (slab) to 4 (cylinder) by volume and worth.
        let biot = 50.0;
        let k = 3.5 * bare.conductance() / (biot * 1e-3 * bare.mass(depth) * (side + ends));
        let pace = 0.961 * k / 4e6 * ((2.4048 / radius).powi(2) + (PI / depth).powi(2));
        let forecast = bare.forecast(depth, k, seconds(3.0 / pace));
        let mean = |decays: f64| in_celsius(forecast.at(seconds(decays / pace)).unwrap().temperature.best()) - ROOM;
        let seen = (mean(1.5) / mean(2.5)).ln();
        println!("{depth} m: {seen:.4} of the pace of a short cylinder");
        assert!((seen - 1.0).abs() < 0.01, "{depth} m: {seen}");
    }
}

/// Nothing jumps as the pot fills: where the side comes to be worth more than the base (a depth of √(3/8) of the radius)
/// a fiftieth of a per cent more food moves no end of a hold by more than a third of a per cent.
#[test]
fn a_hold_follows_the_fill_without_jumps() {
    let (radius, height) = (0.075_f64, 0.08);
    let base = PI * radius * radius;
    let of_depth = |depth: f64| {
        let metal = plain("metal", 16.0, 7900.0, 500.0);
        let pot = Pot::sized(metres(2.0 * radius), metres(height), metal, millimetres(0.8));
        let dish = Dish::of(plain("fat", 0.2, 930.0, 2300.0)).still();
        let pot = pot.with(dish, kilograms(930.0 * base * depth));
        let setup = films(exact_box(pot, 0.04, 0.03, [0.17, 0.17, 0.1]), [5.0, 7.0, 9.0], [6.0, 9.0, 12.0]);
        let plan = Plan::in_room(celsius(15.0)).leaving_at(celsius(98.0));
        let forecast = setup.forecast_with(&plan, &Options::horizon(hours(24.0))).unwrap();
        let Held::Until { earliest, best, latest, .. } = forecast.coldest_above(celsius(60.0)).unwrap() else {
            panic!()
        };
        let edge = [earliest, best, latest].map(|moment| moment.time().unwrap().si());
        let mean = [75.0, 60.0].map(|level| held(&forecast, level));
        [edge, mean[0], mean[1]].concat()
    };
    let switch = radius * 0.375_f64.sqrt();
    let mut least = vec![0.0; 9];
    for depth in [0.02, 0.03, switch, 0.06, 0.07] {
        let (before, after) = (of_depth(depth * (1.0 - 1e-4)), of_depth(depth * (1.0 + 1e-4)));
        for (i, (a, b)) in before.iter().zip(&after).enumerate() {
            assert!((b - a).abs() < 2.0 + 0.003 * a, "{depth} m, {i}: {before:?} s, {after:?} s");
            assert!(*a + 2.0 > least[i], "{depth} m, {i}: more food holds shorter: {least:?} s, {before:?} s");
        }
        least = after;
    }
}

#[test]
fn stiff_foods_are_still_and_thin_ones_stirred() {
    let is_still = |id: &str| Dish::named(id).unwrap().is_still();
    for id in ["thick-stew", "lentil-porridge", "rice-cooked", "beans-cooked", "pasta-cooked", "potato"] {
        assert!(is_still(id), "{id}");
    }
    for id in ["water-liquid", "broth-thin-soup", "milk-whole", "vegetable-oil"] {
        assert!(!is_still(id), "{id}");
        assert!(Catalogue::embedded().get(id).is_ok());
    }
    assert!(Dish::of(Material::named("thick-stew").unwrap()).is_still());
    assert!(!Dish::of(plain("own", 0.5, 1000.0, 3600.0)).is_still());
    assert!(!Dish::named("thick-stew").unwrap().stirred().is_still());
}

/// A still stew holds its edge shorter than a stirred one holds the whole: by no more than conduction explains.
#[test]
fn stirring_lengthens_the_hold_at_the_edge() {
    let stew = |dish: Dish| {
        let pot = Pot::typical(stillhot::units::litres(6.0)).with(dish, kilograms(5.0));
        box_round(pot, "extruded-polystyrene", 50.0, Lid::pressed()).forecast(&Plan::in_room(celsius(15.0))).unwrap()
    };
    let named = || Dish::named("thick-stew").unwrap();
    let (still, stirred) = (stew(named()), stew(named().stirred()));
    let Held::Until { earliest, best, latest, .. } = still.coldest_above(celsius(65.0)).unwrap() else { panic!() };
    let (a, b) = ([earliest, best, latest].map(|m| m.time().unwrap().si()), held(&stirred, 65.0));
    // Its mean, which gives heat up by a colder edge, holds longer than the stirred one; at its cautious end, and at the
    // generous end of the edge, it stirs itself (lid and dry wall of a still dish go with the pot, those of a stirred one
    // lag a little: a per cent).
    let mean = held(&still, 65.0);
    assert!((mean[0] / b[0] - 1.0).abs() < 0.01 && mean[1] > b[1] && mean[2] > b[2], "{mean:?} s, {b:?} s");
    assert!((a[2] / b[2] - 1.0).abs() < 0.01, "{a:?} s, {b:?} s");
    assert!(a[0] < b[0] && a[1] < b[1], "{a:?} s still, {b:?} s stirred");
    // a = 0.52/(1030 · 3750) m²/s for a stew with 82 % water (composition model, MEMORY), give or take a fifth.
    let diffusivity = 0.52 / (1030.0 * 3750.0);
    let radius = 0.5 * (0.006_f64 / (0.2 * PI)).cbrt();
    let depth = 5.0 / 1030.0 / (PI * radius * radius);
    // Side, base and top together: mean over edge of a body that cools evenly is its rate over this.
    let ways = 8.0 * diffusivity / (radius * radius) + 12.0 * diffusivity / (depth * depth);
    let rate = |h: f64| {
        let at = |h: f64| in_celsius(still.coldest(hours(h)).unwrap().temperature.best());
        (at(h - 0.5) - at(h + 0.5)) / 3600.0
    };
    // When its edge has come down to 65 °C, its mean excess is 1 + d times that of its edge; it has lost heat by its edge,
    // and so 1 + d times more slowly than the stirred one, which is less far above the edge for that.
    let then = a[1] / 3600.0;
    let (first, edge) = (in_celsius(stirred.at(hours(0.0)).unwrap().temperature.best()) - 15.0, 65.0 - 15.0);
    let d = rate(then) / ways / edge;
    let expected = first * (-(1.0 + d) * (first / (edge * (1.0 + d))).ln()).exp() - edge;
    let over = in_celsius(stirred.at(hours(then)).unwrap().temperature.best()) - 65.0;
    println!("{over:.2} K above the edge, {expected:.2} K by hand");
    assert!((over / expected - 1.0).abs() < 0.3, "{over} K above the edge, {expected} K by hand");
    assert!(stirred.middle_of_dish(hours(1.0)).unwrap().is_none());
    for h in [4.0, 8.0, 16.0] {
        let edge = in_celsius(still.coldest(hours(h)).unwrap().temperature.best());
        let middle = in_celsius(still.middle_of_dish(hours(h)).unwrap().unwrap().best());
        // A long cylinder is twice as far above its edge on its axis as in the mean.
        let expected = 2.0 * rate(h) / ways;
        assert!(((middle - edge) / expected - 1.0).abs() < 0.2, "{h} h: {} K, {expected} K by hand", middle - edge);
    }
}

/// Nothing in the dish is ever told to be colder than the coldest spot, and stirring and serving leave the accounts whole.
#[test]
fn the_coldest_spot_is_the_coldest() {
    for case in eventful() {
        let forecast = case.forecast();
        for k in 0..=200 {
            let time = case.horizon * (f64::from(k) / 200.0);
            let (coldest, pot) = (forecast.coldest(time).unwrap(), forecast.at(time).unwrap());
            let spots = forecast.middles(time).unwrap().into_iter().chain(forecast.middle_of_dish(time).unwrap());
            for spot in spots.chain([pot.temperature]) {
                let slack = 1e-9 + coldest.numerical.si() + pot.numerical.si();
                assert!(
                    coldest.temperature.best().si() <= spot.best().si() + slack,
                    "{} at {} s: {coldest:?}, {spot}, {pot:?}",
                    case.name,
                    time.si()
                );
            }
        }
    }
    // Joint and stew start apart: the joint's middle is the coldest first, the edge of the stew in the end.
    let joint = Dish::named("lean-beef").unwrap();
    let joint = Pieces::new(PieceShape::Cylinder(millimetres(60.0)), joint, kilograms(0.8), celsius(8.0));
    let setup = box_round(pot(6.0, "thick-stew", 3.5).with_pieces(joint), "extruded-polystyrene", 50.0, Lid::pressed());
    let forecast = setup.forecast(&Plan::in_room(celsius(16.0)).simmer(minutes(20.0))).unwrap();
    let coldest = |h: f64| in_celsius(forecast.coldest(hours(h)).unwrap().temperature.best());
    let middle = |h: f64| in_celsius(forecast.middles(hours(h)).unwrap()[0].best());
    let mean = |h: f64| in_celsius(forecast.at(hours(h)).unwrap().temperature.best());
    assert!(
        (coldest(0.0) - middle(0.0)).abs() < 0.1 && middle(0.0) < mean(0.0) - 10.0,
        "{} {} {}",
        coldest(0.0),
        middle(0.0),
        mean(0.0)
    );
    assert!(coldest(12.0) < mean(12.0) - 0.5 && coldest(12.0) < middle(12.0) - 0.5);
}

/// Of a still dish half goes with a serving, and all of it is warm after a reheat.
#[test]
fn a_still_dish_is_served_and_reheated() {
    let setup: Setup = box_round(pot(6.0, "thick-stew", 4.5), "extruded-polystyrene", 50.0, Lid::resting());
    let plan =
        Plan::in_room(celsius(15.0)).take_out_at(hours(2.0), Ratio::from_si(0.5)).reheat_at(hours(6.0), celsius(95.0));
    let forecast = setup.forecast_with(&plan, &Options::horizon(hours(24.0))).unwrap();
    assert!(forecast.ledger_residual() < 1e-9 && forecast.water_residual() < 1e-12);
    let spread = |h: f64| {
        let middle = in_celsius(forecast.middle_of_dish(hours(h)).unwrap().unwrap().best());
        (middle, middle - in_celsius(forecast.coldest(hours(h)).unwrap().temperature.best()))
    };
    assert!(spread(5.9).1 > 1.0 && spread(6.0).1.abs() < 1e-6 && (spread(6.0).0 - 95.0).abs() < 1e-6);
    let never = setup.forecast_with(&Plan::in_room(celsius(15.0)), &Options::horizon(hours(24.0))).unwrap();
    // Half of it cools about twice as fast: twice as far below two hours' temperature: a little less as it nears the room, a little more as the edge falls.
    let fallen = |f: &stillhot::Forecast| {
        let at = |h: f64| in_celsius(f.at(hours(h)).unwrap().temperature.best());
        at(2.0) - at(5.5)
    };
    let ratio = fallen(&forecast) / fallen(&never);
    assert!(ratio > 1.5 && ratio < 2.2, "{ratio}");
    // What evaporates is not in it any more: over weeks of drying it still closes.
    let drying = box_round(pot(0.3, "lentil-porridge", 0.1), "corrugated-cardboard", 4.0, Lid::resting());
    let plan = Plan::in_room(celsius(55.0)).leaving_at(celsius(90.0));
    let drying = drying.forecast_with(&plan, &Options::horizon(days(60.0))).unwrap();
    let lost = drying.water_lost(days(60.0)).unwrap().unwrap();
    assert!(lost.high().si() <= 0.078 * (1.0 + 1e-9) && lost.high().si() > 0.07, "{lost}");
    assert!(drying.ledger_residual() < 1e-9 && drying.water_residual() < 1e-12);
}

/// The whole of a dish is nowhere told to be colder than its coldest spot, at any end: a stew that stirs itself, after all,
/// is the colder one in the end, and its edge with it.
#[test]
fn no_end_of_the_mean_is_colder_than_that_of_the_edge() {
    let setup = box_round(pot(5.0, "thick-stew", 4.0), "extruded-polystyrene", 40.0, Lid::resting());
    let forecast = setup.forecast_with(&Plan::in_room(celsius(10.0)), &Options::horizon(hours(72.0))).unwrap();
    for h in 0..=72 {
        let (mean, edge) = (forecast.at(hours(f64::from(h))).unwrap(), forecast.coldest(hours(f64::from(h))).unwrap());
        let (low, slack) = (mean.temperature.low().si(), 1e-6 + mean.numerical.si() + edge.numerical.si());
        assert!(edge.temperature.low().si() <= low + slack, "{h} h: {edge:?}, {mean:?}");
    }
    for level in [65.0, 40.0, 25.0, 15.0] {
        let Held::Until { earliest, .. } = forecast.coldest_above(celsius(level)).unwrap() else { panic!() };
        assert!(earliest.time().unwrap().si() <= held(&forecast, level)[0] + 1.0, "{level} °C");
    }
}
