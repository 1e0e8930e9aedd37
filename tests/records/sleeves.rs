//! Sleeves.

use super::{Span, from};
use stillhot::units::{celsius, grams, kilograms, metres_per_second, millimetres, minutes};
use stillhot::{Dish, Lid, Material, Plan, Pot, Setup, Sleeve};

fn named(id: &str) -> Material {
    Material::named(id).unwrap()
}

/// Half a litre of water at 36 °C in a tank in a sleeve of sleeping-mat foam, on a balcony at 16 °C in autumn wind: it
/// fell by 1.4 to 1.6 K in 20 minutes, three sleeves (an amateur's page on a tank for photographs, 2005: READ).
#[test]
fn half_a_litre_in_mat_foam_in_the_wind() {
    const MAT: &str = "cross-linked-polyethylene-foam-mat";
    // A tank of plastic, 0.5 kg of water in it.
    let tank = |diameter: f64, height: f64| {
        Pot::sized(millimetres(diameter), millimetres(height), named("polypropylene"), millimetres(2.0))
            .with(Dish::named("water-liquid").unwrap(), kilograms(0.5))
    };
    let setup = |pot: Pot, mat: f64| Setup::new(pot, Sleeve::of_mat(MAT, millimetres(mat), 1).unwrap()).unwrap();
    let wind = |speed: f64| -> Plan { from(36.0, 16.0).in_wind(metres_per_second(speed)) };
    let span = Span::of(
        "half a litre in mat foam",
        &["size of the tank", "thickness of the foam", "how its top closes", "wind"],
        minutes(30.0),
        [(setup(tank(100.0, 120.0), 8.0), wind(6.0)), (setup(tank(85.0, 95.0), 20.0), wind(1.0))],
    );
    span.tell();
    span.holds(minutes(20.0), 36.0 - 1.6);
    span.holds(minutes(20.0), 36.0 - 1.4);
}

/// A quarter US cup of couscous and a third of one of boiling water, in a freezer bag in a sleeve, in a refrigerator at
/// 5.56 °C; read after 2, 4, ... 10 minutes (a walker's tests of sleeves, 2010: READ). Nine curves under eight headings:
/// which belongs to which sleeve is not certain, and one of them presumably had none.
///
/// From the first reading of each curve, so that what the dry couscous and the bag took up does not enter; the sleeve is
/// then between as cold as the refrigerator and as warm as the meal.
#[test]
fn a_meal_in_a_bag() {
    let curves: [[f64; 5]; 9] = [
        [63.33, 57.78, 53.89, 50.56, 48.33],
        [77.22, 73.89, 70.0, 67.22, 63.89],
        [71.11, 70.0, 69.44, 68.33, 66.67],
        [75.56, 75.0, 73.89, 72.22, 70.0],
        [73.33, 67.22, 62.78, 58.89, 55.56],
        [75.0, 70.0, 66.67, 63.89, 61.11],
        [68.33, 62.22, 57.22, 53.33, 50.56],
        [68.89, 62.78, 60.0, 57.22, 54.44],
        [72.78, 66.67, 62.22, 58.33, 55.0],
    ];
    // 79 g of water and some 45 g of couscous; a bag is a vessel of next to no mass. Spread flat or gathered up.
    let meal = |diameter: f64, height: f64| {
        Pot::sized(millimetres(diameter), millimetres(height), named("polyethylene-low-density"), millimetres(0.1))
            .weighing(grams(10.0))
            .with(Dish::named("rice-cooked").unwrap(), grams(124.0))
    };
    // One curve is that of the bag alone: the cool end is a cloth.
    let thin = Sleeve::of_mat("cotton-woven-cloth", millimetres(0.3), 1).unwrap().lid(Lid::resting());
    let thick = Sleeve::of_mat("foil-faced-bubble-sheet", millimetres(4.0), 3).unwrap();
    let mut inside = 0;
    for (k, curve) in curves.iter().enumerate() {
        let span = Span::of(
            "meal in a bag",
            &["material and thickness of each sleeve", "which curve is which", "shape of the bag", "lying or standing"],
            minutes(20.0),
            [
                (Setup::new(meal(180.0, 20.0), thin.clone()).unwrap(), from(curve[0], 5.56)),
                (
                    Setup::new(meal(65.0, 45.0), thick.clone()).unwrap(),
                    from(curve[0], 5.56).shell_at(celsius(curve[0])),
                ),
            ],
        );
        let lies = curve[1..].iter().enumerate().all(|(i, measured)| {
            let [low, high] = span.at(minutes(2.0 * (i as f64 + 1.0)));
            low <= *measured && *measured <= high
        });
        let [low, high] = span.at(minutes(8.0));
        println!("{}, curve {}: {} °C 8 min on, in {low:.1} to {high:.1} °C: {lies}", span.record, k + 1, curve[4]);
        inside += usize::from(lies);
    }
    println!("{inside} of 9 inside");
    assert_eq!(inside, 9);
}
