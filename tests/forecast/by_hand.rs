//! The default box, as an engineer would check it on the back of an envelope.

use stillhot::units::{
    Ratio, Si, celsius, hours, kilograms, litres, millimetres, watts_per_kelvin, watts_per_square_metre_kelvin,
};
use stillhot::{Dish, Enclosure, Fit, Layer, Lid, Mechanism, Plan, Pot, Range, Setup, Sleeve};

use crate::setups::{in_celsius, plain};

/// k of foil-faced rigid polyisocyanurate foam, W/(m K), by the catalogue's table (MEMORY, see there), by hand: the
/// mean between two surface temperatures is, near enough, the value at their mean.
fn foam(mean: f64) -> f64 {
    let (below, above) = if mean < 40.0 { ((20.0, 0.0240), (40.0, 0.0262)) } else { ((40.0, 0.0262), (60.0, 0.0287)) };
    below.1 + (above.1 - below.1) * (mean - below.0) / (above.0 - below.0)
}

const PI: f64 = std::f64::consts::PI;
/// Inside and outside, W/(m² K).
const FILMS: [f64; 2] = [9.0, 8.0];
/// A joint of the lid that was measured, say, W/K.
const LEAK: f64 = 0.06;

/// Nine litres, 8.5 kg of water, 50 mm of foam, 15 mm of room round the pot.
fn default_box() -> (Pot, Enclosure) {
    let pot = Pot::typical(litres(9.0)).with(Dish::named("water-liquid").unwrap(), kilograms(8.5));
    let walls = Enclosure::lined("rigid-polyisocyanurate-foam-foil-faced", millimetres(50.0)).unwrap();
    let walls = walls.around(&pot, millimetres(15.0)).fitted(Fit::Tight);
    (pot, walls)
}

/// In a room of 15 °C, with a lid that leaks what is known and films that are known.
#[test]
fn the_late_slope_of_the_default_box() {
    let room = 15.0;
    let (pot, walls) = default_box();
    let leaking = Lid::resting().leaking(Range::exactly(watts_per_kelvin(LEAK)));
    let [inside, outside] = FILMS.map(|h| Range::exactly(watts_per_square_metre_kelvin(h)));
    let setup = Setup::new(pot, walls.lid(leaking)).unwrap().with_constant_films(inside, outside).unwrap();
    let forecast = setup.forecast(&Plan::in_room(celsius(room))).unwrap();

    // The pot: 0.8 times as high as wide, so 0.2 pi d³ = 9 l.
    let d = (0.009_f64 / (0.2 * PI)).cbrt();
    let (across, up) = (d + 0.03, 0.8 * d + 0.015);
    assert!((d - 0.2429).abs() < 1e-4);
    // Faces and edges, m²: 0.559 of the thickness for each metre of edge, a little for the corners. An edge meets the
    // room with more face than it has inside, so that the outer film hardly counts for it.
    let area = 2.0 * across * across + 4.0 * across * up;
    let edges = 0.559 * 0.05 * (8.0 * across + 4.0 * up) + 8.0 * 0.3 * (0.559_f64 * 0.05).powi(2);

    for h in [8.0, 14.0, 20.0] {
        let at = |t: f64| in_celsius(forecast.at(hours(t)).unwrap().temperature.best());
        let pot = at(h);
        // Surfaces by the shares of the films in R = 1/9 + 0.05/k + 1/8; two rounds are enough.
        let mut k = 0.026;
        for _ in 0..2 {
            let r = 1.0 / FILMS[0] + 0.05 / k + 1.0 / FILMS[1];
            let inner = pot - (pot - room) / (FILMS[0] * r);
            let outer = room + (pot - room) / (FILMS[1] * r);
            k = foam(0.5 * (inner + outer));
        }
        let u = 1.0 / (1.0 / FILMS[0] + 0.05 / k + 1.0 / FILMS[1]);
        let conductance = u * (area + edges) + LEAK;
        // Water 4.19 kJ/(kg K) hot; steel 0.8 mm over wall, base and lid, 7.9 t/m³, 0.5 kJ/(kg K); a third of the
        // walls' heat (32 kg/m³, 1.47 kJ/(kg K), a straight profile) goes down with the pot.
        let steel = (PI * d * 0.8 * d + 0.5 * PI * d * d) * 0.8e-3 * 7900.0 * 500.0;
        let foam_heat = (area + edges) * 0.05 * 32.0 * 1470.0;
        let capacity = 8.5 * 4190.0 + steel + foam_heat / 3.0;
        let rate = (at(h - 0.5) - at(h + 0.5)) / 3600.0;
        let seen = rate * capacity / (pot - room);
        println!("{h:4} h: {pot:.2} °C, by hand {conductance:.4} W/K, from the slope {seen:.4} W/K, k {k:.5}");
        assert!((seen / conductance - 1.0).abs() < 0.03, "{h} h: {seen} W/K seen, {conductance} W/K by hand");
    }

    // Shares of the loss: edges to faces as their areas, and the joint as its conductance.
    let heat = |wanted: Mechanism| -> f64 {
        forecast.heat_by_path().iter().filter(|p| p.mechanism == wanted).map(|p| p.heat.best().si()).sum()
    };
    let (faces, edge, joint) = (heat(Mechanism::Conduction), heat(Mechanism::Edge), heat(Mechanism::Leak));
    assert!((edge / faces - edges / area).abs() < 0.05 * edges / area, "{edge} J, {faces} J");
    let share = joint / (faces + edge);
    assert!((share / (LEAK / (0.487 * (area + edges))) - 1.0).abs() < 0.1, "{share}");
}

/// The same box, tight, with the published films: what they should come to by tables of the trade. From the pot to the
/// liner 2 to 6 W/(m² K): radiation at 70 °C is 9 W/(m² K) times an exchange factor of 0.1 to 0.6, air in a gap of 15 mm
/// conducts 0.03/0.015 = 2 and convects up to three times that, but only half of a well-mixed gap's difference lies at
/// the pot. Outside 6 to 10: ISO 6946 has 7.7 for walls (1/0.13 m² K/W, MEMORY).
#[test]
fn published_films_come_to_what_tables_say() {
    let room = 15.0;
    let (pot, walls) = default_box();
    let setup = Setup::new(pot, walls.lid(Lid::tight())).unwrap();
    let forecast = setup.forecast(&Plan::in_room(celsius(room))).unwrap();
    let d = (0.009_f64 / (0.2 * PI)).cbrt();
    let (across, up) = (d + 0.03, 0.8 * d + 0.015);
    let area = 2.0 * across * across + 4.0 * across * up;
    let edges = 0.559 * 0.05 * (8.0 * across + 4.0 * up) + 8.0 * 0.3 * (0.559_f64 * 0.05).powi(2);
    let steel = (PI * d * 0.8 * d + 0.5 * PI * d * d) * 0.8e-3 * 7900.0 * 500.0;
    let capacity = 8.5 * 4190.0 + steel + (area + edges) * 0.05 * 32.0 * 1470.0 / 3.0;
    let at = |t: f64| in_celsius(forecast.at(hours(t)).unwrap().temperature.best());
    let seen = (at(7.5) - at(8.5)) / 3600.0 * capacity / (at(8.0) - room);
    let by_hand = |inside: f64, outside: f64| {
        let k = foam(0.5 * (at(8.0) + room));
        (area + edges) / (1.0 / inside + 0.05 / k + 1.0 / outside)
    };
    let (low, high) = (by_hand(2.0, 6.0), by_hand(6.0, 10.0));
    println!("{low:.4} W/K to {high:.4} W/K by hand, {seen:.4} W/K seen");
    assert!(low < seen && seen < high, "{low} W/K to {high} W/K by hand, {seen} W/K seen");
    // The two lie near enough for this to be a check.
    assert!(high < 1.2 * low);
}

/// What a sheet of metal does round a pot: it keeps the air still, and the outer films are all the rest. Simplified
/// relations for air at room temperature and pressure (handbooks, MEMORY): upright 1.42 (dT/L)^(1/4), level and warm above
/// 1.32 (dT/L)^(1/4), level and cold above 0.61 (dT/L²)^(1/5) W/(m² K), L the height, or area over perimeter.
mod sheet {
    use super::PI;

    pub const GAP: f64 = 5e-4;
    pub const SIGMA: f64 = 5.67e-8;

    /// Area and film of side and lid of a sleeve with a radius and height, at a temperature in a room, K.
    pub fn convection(radius: f64, height: f64, surface: f64, room: f64) -> [(f64, f64); 2] {
        let off = surface - room;
        let across = 0.5 * radius;
        let level =
            if off > 0.0 { 1.32 * (off / across).powf(0.25) } else { 0.61 * (off.abs() / across.powi(2)).powf(0.2) };
        [(2.0 * PI * radius * height, 1.42 * (off.abs() / height).powf(0.25)), (PI * radius * radius, level)]
    }
}

/// A pot of four litres and 3.5 kg of water in half a millimetre of steel of this emissivity.
fn in_a_sheet(emissivity: f64) -> (Setup, f64, f64) {
    let steel = plain("steel", 16.0, 7900.0, 500.0);
    let part = |e: f64| Ratio::from_si(e);
    let painted = steel.with_emissivity("outside", part(emissivity), part(emissivity), part(emissivity)).unwrap();
    let pot = Pot::typical(litres(4.0)).with(Dish::named("water-liquid").unwrap(), kilograms(3.5));
    let (radius, height) = (0.5 * pot.diameter().si() + sheet::GAP, pot.height().si() + 2.0 * sheet::GAP);
    let layer = Layer::new(painted, millimetres(0.5)).unwrap();
    let sleeve = Sleeve::of_layers(vec![layer]).with_gap(millimetres(1e3 * sheet::GAP)).lid(Lid::tight());
    (Setup::new(pot, sleeve).unwrap(), radius, height)
}

/// Half to two thirds of the loss is radiation when the sheet is dark and next to nothing when it is bright.
#[test]
fn the_films_outside_a_dark_and_a_bright_sheet() {
    let room = 288.15;
    let mut losses = Vec::new();
    for emissivity in [0.9, 0.05] {
        let (setup, radius, height) = in_a_sheet(emissivity);
        let forecast = setup.forecast(&Plan::in_room(celsius(15.0))).unwrap();
        let at = |h: f64| forecast.at(hours(h)).unwrap().temperature.best().si();
        let all = 2.0 * PI * radius * height + 2.0 * PI * radius * radius;
        // Steel of pot (0.8 mm) and sheet (0.5 mm).
        let capacity = 3.5 * 4190.0 + all * 1.3e-3 * 7900.0 * 500.0;
        for h in [0.5, 1.0, 2.0] {
            let pot = at(h);
            let seen = (at(h - 0.1) - at(h + 0.1)) / 720.0 * capacity / (pot - room);
            // The film at the surface, whose temperature follows from it: air of 0.03 W/(m K) and, at its dark faces, half
            // as much again by radiation lie between.
            let mut surface = [pot; 2];
            let mut loss = 0.0;
            for _ in 0..20 {
                // The base stands on 6 W/(m² K) behind a contact of 0.005 m² K/W, as assumed.
                loss = PI * radius * radius / (0.005 + 1.0 / 6.0);
                for (side, surface) in surface.iter_mut().enumerate() {
                    let t = *surface;
                    let (area, film) = sheet::convection(radius, height, t, room)[side];
                    let film = film + emissivity * sheet::SIGMA * (t * t + room * room) * (t + room);
                    let gap = sheet::GAP / 0.03;
                    loss += area / (gap + 1.0 / film);
                    *surface = room + (pot - room) / (1.0 + gap * film);
                }
            }
            println!("emissivity {emissivity}, {h} h: {seen:.3} W/K seen, {loss:.3} W/K by hand");
            assert!((seen / loss - 1.0).abs() < 0.08, "{emissivity}, {h} h: {seen} W/K seen, {loss} W/K by hand");
            losses.push(loss);
        }
    }
    // With a third of the radiation the dark sheet would fail by far.
    assert!(losses[3] < 0.65 * losses[0], "{losses:?}");
}

/// Under a cold sky a pot that nothing heats comes to rest where the air gives what the sky takes: the lid sees the sky,
/// the side sees half of it, and half ground as warm as the air.
#[test]
fn a_cold_sky_chills_by_what_each_face_sees_of_it() {
    let (room, sky, emissivity) = (288.15, 253.15, 0.9);
    let (setup, radius, height) = in_a_sheet(emissivity);
    let plan = Plan::in_room(celsius(15.0)).leaving_at(celsius(15.0)).under_sky(celsius(-20.0));
    let forecast = setup.forecast(&plan).unwrap();
    let seen = forecast.at(hours(48.0)).unwrap().temperature.best().si() - room;
    let gained = |t: f64, view: f64| {
        let [side, lid] = sheet::convection(radius, height, t, room);
        let to = |from: f64| emissivity * sheet::SIGMA * (t.powi(4) - from.powi(4));
        side.0 * (side.1 * (room - t) - view * to(sky) - (1.0 - view) * to(room))
            + lid.0 * (lid.1 * (room - t) - to(sky))
            + PI * radius * radius / (0.005 + 1.0 / 6.0) * (room - t)
    };
    let rest = |view: f64| {
        let (mut low, mut high) = (sky, room);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if gained(middle, view) > 0.0 { low = middle } else { high = middle }
        }
        low - room
    };
    println!("{seen:.2} K seen, {:.2} K by hand, {:.2} K if the side saw nothing but sky", rest(0.5), rest(1.0));
    assert!((seen / rest(0.5) - 1.0).abs() < 0.08, "{seen} K seen, {} K by hand", rest(0.5));
    assert!(rest(1.0) < 1.3 * rest(0.5));
}
