//! Food that heats and cools by conduction: a piece in a bath, and large vessels in the cold.

use super::{from, in_celsius};
use stillhot::closed_form::{BodyShape, End, Solid, SymmetricBody};
use stillhot::units::{Si, celsius, grams, hours, kilograms, litres, metres_per_second, millimetres, seconds};
use stillhot::{
    Dish, Enclosure, Held, Material, Moment, Options, PieceShape, Pieces, Pot, PotLid, Range, Setup, Sleeve,
};

/// A frankfurter from 26.4 °C in a bath of 71.91 °C, a reading each half minute (a university's teaching laboratory,
/// 2014: table READ; its radius is not in what was seen). The curve bends after five minutes and stays 4 K below the
/// bath, which no piece of food does: the thermometer's fault, so that nothing after five minutes is used.
///
/// In the very middle nothing is felt for a quarter of a minute, and no one diameter gives both the first minute and the
/// fifth; where the tip sat is not told. It counts as anywhere from the middle to half-way out.
#[test]
fn a_frankfurter_in_a_bath() {
    // (s, °C)
    let readings = [
        (30.0, 41.6),
        (60.0, 49.0),
        (90.0, 53.6),
        (120.0, 57.2),
        (150.0, 59.7),
        (180.0, 61.1),
        (210.0, 62.5),
        (240.0, 63.6),
        (300.0, 64.4),
    ];
    // A bath as warm as its room stays as warm as it is.
    let centre = |diameter: f64, food: &str, pick: fn(&Range<stillhot::units::Temperature>) -> f64| {
        let sausage = Pieces::new(
            PieceShape::Cylinder(millimetres(diameter)),
            Dish::named(food).unwrap(),
            grams(60.0),
            celsius(26.4),
        );
        let bath =
            Pot::typical(litres(90.0)).with(Dish::named("water-liquid").unwrap(), kilograms(85.0)).with_pieces(sausage);
        let setup = Setup::new(bath, Enclosure::lined("expanded-polystyrene-20", millimetres(100.0)).unwrap());
        let mut options = Options::horizon(seconds(600.0));
        options.cells = 24;
        options.step_error = stillhot::units::kelvins(0.002);
        let plan = from(71.91, 71.91).simmer(seconds(0.0));
        let forecast = setup.unwrap().forecast_with(&plan, &options).unwrap();
        assert!((in_celsius(forecast.at(seconds(600.0)).unwrap().temperature.best()) - 71.91).abs() < 0.05);
        readings.map(|(t, _)| pick(&forecast.middles(seconds(t)).unwrap()[0]))
    };
    // 13 to 28 mm across (from the cocktail sausage to the thick one: MEMORY), meat of the catalogue with its range.
    let slow = centre(28.0, "lean-beef", |range| in_celsius(range.low()));
    let middle = centre(13.0, "lean-beef", |range| in_celsius(range.high()));
    // Half-way out of the same sausage, skin as warm as the bath; ends of the catalogue for what makes it fast.
    let beef = Material::named("lean-beef").unwrap();
    let solid =
        Solid::new(beef.conductivity().high().si(), beef.density().value().si(), beef.heat_capacity().low().si());
    let skin = End::Temperature(71.91 + 273.15);
    let sausage = SymmetricBody::new(BodyShape::Cylinder, solid.unwrap(), 0.0065, 26.4 + 273.15, skin).unwrap();
    let fast = readings.map(|(t, _)| sausage.temperature(0.5 * 0.0065, t).unwrap() - 273.15);
    for (out, middle) in fast.iter().zip(middle) {
        assert!(*out > middle - 0.1, "half-way out {out}, middle {middle}");
    }
    println!("frankfurter: does not tell its diameter, its make, where the tip of the thermometer sat");
    for (k, (t, measured)) in readings.iter().enumerate() {
        println!(
            "{t:3} s: {measured} °C, {:.1} to {:.1} °C foreseen, {:.1} K wide",
            slow[k],
            fast[k],
            fast[k] - slow[k]
        );
        assert!(slow[k] <= *measured && *measured <= fast[k], "{measured} °C after {t} s");
    }
    // The best that one diameter does from the second reading on.
    let worst = |diameter: f64| {
        let best = centre(diameter, "lean-beef", |range| in_celsius(range.best()));
        let off = readings.iter().zip(best).skip(1).map(|((_, measured), best)| (measured - best).abs());
        off.fold(0.0, f64::max)
    };
    let nearest = (13..=28).map(|mm| (mm, worst(f64::from(mm)))).min_by(|a, b| a.1.total_cmp(&b.1)).unwrap();
    println!("one diameter for all: {} mm misses by up to {:.1} K", nearest.0, nearest.1);
    assert!(nearest.1 > 2.0, "{nearest:?}");
}

/// What a stirred body and one that only conducts leave between them: hours from one temperature to another in a cold
/// room, of `mass` kg in a vessel of sheet metal. The shortest is that of a stirred body without a lid in the coldest room
/// and the wind of a fan; the longest that of the middle of a long cylinder `across` in the warmest and in still air.
fn cooling(volume: f64, mass: f64, [start, end]: [f64; 2], across: f64, room: [f64; 2], fan: f64) -> [f64; 2] {
    // Bare: a sleeve of the thinnest sheet that can be written down.
    let bare = |pot: Pot| Setup::new(pot, Sleeve::of_mat("aluminium-pure", millimetres(0.1), 1).unwrap()).unwrap();
    let options = Options::horizon(hours(24.0 * 14.0));
    let steel = || Material::named("stainless-steel-304").unwrap();
    let vessel = || Pot::typical(litres(volume)).of_metal(steel(), millimetres(1.0));
    let stew = || Dish::named("thick-stew").unwrap();
    let blown = from(start, room[0]).in_wind(metres_per_second(fan));
    let open = vessel().covered(PotLid::none());
    let stirred = bare(open.with(stew(), kilograms(mass))).forecast_with(&blown, &options).unwrap();
    let shortest = match stirred.above(celsius(end)).unwrap() {
        Held::Until { earliest: Moment::At(time), .. } => time.si() / 3600.0,
        other => panic!("{other}"),
    };
    let shape = PieceShape::Cylinder(millimetres(across));
    let body = Pieces::new(shape, stew(), kilograms(0.97 * mass), celsius(start));
    let still = bare(vessel().with(stew(), kilograms(0.03 * mass)).with_pieces(body));
    let calm = from(start, room[1]).simmer(seconds(0.0));
    let still = still.forecast_with(&calm, &options).unwrap();
    let longest = (0..14 * 24 * 4).map(|q| 0.25 * f64::from(q)).find(|h| {
        let middle = still.middles(hours(*h)).unwrap()[0];
        in_celsius(middle.high()) < end
    });
    [shortest, longest.unwrap_or(f64::INFINITY)]
}

/// White sauce, 30.3 L from 40.56 to 13.89 °C in 25 h, and beef stew, 53 L from 46.11 to 10 °C in 84 h, in a cold room
/// (a study of cooling rates of foods, about 1970: abstract READ, year from MEMORY).
#[test]
fn sauce_and_stew_in_a_cold_room() {
    println!("bulk cooling: does not tell vessel, cold room, its air, lid, stirring, where it was measured");
    let sauce = cooling(32.0, 30.0, [40.56, 13.89], 330.0, [0.0, 8.0], 1.0);
    println!("white sauce: 25 h told, {:.1} to {:.1} h foreseen", sauce[0], sauce[1]);
    assert!(sauce[0] < 25.0 && 25.0 < sauce[1], "{sauce:?}");
    let stew = cooling(56.0, 53.0, [46.11, 10.0], 400.0, [0.0, 8.0], 1.0);
    println!("beef stew: 84 h told, {:.1} to {:.1} h foreseen", stew[0], stew[1]);
    assert!(stew[0] < 84.0 && 84.0 < stew[1], "{stew:?}");
}

/// Chili in a cooler of 4.4 °C: five US gallons in a bucket not at 5 °C after 20 h; two gallons 254 mm deep in plastic
/// there in about 10 h (a university extension's page, no year: READ).
///
/// The two gallons lie at the very edge: even stirred, open, in the wind of a fan, they take nearly 10 h; with a lid they
/// would be outside.
#[test]
fn chili_in_a_cooler() {
    println!("chili: does not tell the start, the vessel's wall, stirring, air over it, lid, where it was measured");
    let bucket = cooling(20.0, 18.0, [60.0, 5.0], 290.0, [4.3, 4.5], 3.0);
    println!("five gallons: more than 20 h told, {:.1} to {:.1} h foreseen", bucket[0], bucket[1]);
    assert!(bucket[1] > 20.0, "{bucket:?}");
    // 7.6 L 254 mm deep: 195 mm across.
    let pail = cooling(8.0, 7.5, [60.0, 5.0], 195.0, [4.0, 4.5], 3.0);
    println!("two gallons: about 10 h told, {:.1} to {:.1} h foreseen", pail[0], pail[1]);
    assert!(pail[0] < 10.0 && 10.0 < pail[1], "{pail:?}");
}
