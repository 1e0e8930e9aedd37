//! What each leak costs, by whole forecasts, against a ranking computed independently with lumped models (COMPUTED, by
//! the relations of the leak's own sources; its best values, and its stated ranges, are estimates).
//!
//! A box of 0.3 m inside with 50 mm of foam that loses 0.22 W/K with everything shut, 9 kg of water at 95 °C in a pot of
//! 240 mm, 15 °C outside; what a leak adds at 90 °C is the power that leaves the box less that of the shut one: what leaves
//! by the leak, less what the walls lose the less where the air of the box is the cooler for it.

use super::from;
use stillhot::correlation::leak::{self, Continuity, Liner, PotMouth, Sides, Slit, TwoLevels, VapourPath};
use stillhot::correlation::moist_air::MoistState;
use stillhot::correlation::{air, headspace, water};
use stillhot::units::{
    Length, Mass, Si, Time, celsius, hours, joules_per_kilogram_kelvin, kilograms, kilograms_per_cubic_metre, metres,
    metres_per_second, millimetres, watts_per_metre_kelvin, watts_per_square_metre_kelvin,
};
use stillhot::{
    Dish, Enclosure, Fit, Forecast, Handle, Held, Layer, Lid, Material, Moment, Options, Plan, Pot, PotLid, Range,
    Setup, Wall,
};

fn exactly(mm: f64) -> Range<Length> {
    Range::exactly(millimetres(mm))
}

/// Pa
const PRESSURE: f64 = 101_325.0;

/// Conductivity with which the shut box loses 0.22 W/K (found by trial, and checked below).
const FOAM: f64 = 0.0201;

fn pot(lid: PotLid) -> Pot {
    let steel = Material::named("stainless-steel-304").unwrap();
    let water = Dish::named("water-liquid").unwrap();
    let empty: Mass = kilograms(0.05);
    Pot::sized(millimetres(240.0), millimetres(225.0), steel, millimetres(0.1))
        .weighing(empty)
        .with(water, kilograms(9.0))
        .covered(lid)
}

struct Leak {
    lid: Lid,
    /// Width of the seams low down, mm.
    low: f64,
    pot: Pot,
    /// Over the box, m/s.
    wind: f64,
}

fn rim(mm: f64) -> Leak {
    Leak { lid: Lid::resting().with_gap(exactly(mm)), low: 0.0, pot: pot(PotLid::loose()), wind: 0.0 }
}

fn plug(mm: f64) -> Leak {
    Leak { lid: Lid::plug().with_gap(exactly(mm)), ..rim(mm) }
}

fn two_levels(mm: f64) -> Leak {
    Leak { low: mm, ..rim(mm) }
}

fn shut() -> Leak {
    Leak { lid: Lid::tight(), ..rim(1.0) }
}

/// The leak sees 0.35 of the wind over the box, in the best value; the ranking has the wind at the gap itself.
fn blown(mm: f64, at_the_gap: f64) -> Leak {
    Leak { wind: at_the_gap / 0.35, ..rim(mm) }
}

fn without_lid(leak: Leak) -> Leak {
    Leak { pot: pot(PotLid::none()), ..leak }
}

fn setup(leak: &Leak) -> Setup {
    setup_of(FOAM, leak)
}

fn setup_of(k: f64, leak: &Leak) -> Setup {
    let foam = Material::custom(
        "foam",
        watts_per_metre_kelvin(k),
        kilograms_per_cubic_metre(35.0),
        joules_per_kilogram_kelvin(1400.0),
    );
    let wall = Wall::planar().layer(Layer::new(foam.unwrap(), millimetres(50.0)).unwrap()).build().unwrap();
    let side = metres(0.3);
    let boards = Enclosure::of_wall(wall)
        .inside(side, side, side)
        .lid(leak.lid)
        .fitted(Fit::Tight)
        .with_low_seams(exactly(leak.low));
    Setup::new(leak.pot.clone(), boards).unwrap()
}

fn forecast(leak: &Leak) -> Forecast {
    let plan: Plan = from(95.0, 15.0).in_wind(metres_per_second(leak.wind));
    setup(leak).forecast_with(&plan, &Options::horizon(hours(48.0))).unwrap()
}

fn best(forecast: &Forecast, level: f64) -> f64 {
    match forecast.above(celsius(level)).unwrap() {
        Held::Until { best: Moment::At(time), .. } => time.si(),
        other => panic!("{level} °C: {other}"),
    }
}

/// Power that leaves the box while the pot passes 90 °C, W: all of it, and what goes by neither wall nor edge.
fn loss(forecast: &Forecast) -> [f64; 2] {
    let (start, end) = (best(forecast, 92.0), best(forecast, 88.0));
    let rows = forecast.heat_by_path_between(Time::from_si(start), Time::from_si(end)).unwrap();
    let sum = |wanted: &dyn Fn(&stillhot::PathHeat) -> bool| -> f64 {
        rows.iter().filter(|row| wanted(row)).map(|row| row.heat.best().si()).sum::<f64>() / (end - start)
    };
    let walls = |row: &stillhot::PathHeat| matches!(row.place, stillhot::Place::Face(_));
    [sum(&|_| true), sum(&|row| !walls(row))]
}

/// A leak with its name, W at 90 °C as ranked, and what that may be.
type Row = (&'static str, Leak, f64, [f64; 2]);

fn with_handle(handle: Handle) -> Leak {
    Leak { pot: pot(PotLid::loose()).with_handle(handle), ..shut() }
}

fn strap() -> Leak {
    let aluminium = Material::named("aluminium-pure").unwrap();
    with_handle(Handle::new(aluminium, millimetres(20.0), millimetres(3.0), millimetres(100.0)))
}

/// The row of most power, which is near the end of its range.
const MOST: &str = "pot without lid, two levels of 1 mm";

/// Rows whose order is told, most first.
fn ranked() -> Vec<Row> {
    vec![
        (MOST, without_lid(two_levels(1.0)), 60.0, [20.0, 100.0]),
        ("two levels of 2 mm", two_levels(2.0), 20.0, [8.0, 35.0]),
        ("plug with 5 mm", plug(5.0), 20.0, [5.0, 25.0]),
        ("wind of 3 m/s on a joint of 1 mm", blown(1.0, 3.0), 6.4, [1.0, 12.0]),
        ("two levels of 1 mm", two_levels(1.0), 4.4, [2.0, 8.0]),
        ("plug with 2 mm", plug(2.0), 3.0, [1.0, 5.0]),
        ("aluminium strap through the wall", strap(), 2.6, [0.5, 3.0]),
        ("two levels of 0.5 mm", two_levels(0.5), 1.8, [0.6, 3.0]),
        ("resting lid with 5 mm", rim(5.0), 1.5, [0.3 * 1.5, 2.0 * 1.5]),
        ("plug with 1 mm", plug(1.0), 1.4, [0.5, 3.0]),
        ("resting lid with 2 mm", rim(2.0), 0.9, [0.3 * 0.9, 2.0 * 0.9]),
        ("resting lid with 1 mm", rim(1.0), 0.6, [0.3 * 0.6, 2.0 * 0.6]),
        ("resting lid with 0.5 mm", rim(0.5), 0.3, [0.3 * 0.3, 2.0 * 0.3]),
    ]
}

/// Rows that are known to a factor of three, or whose place is not told.
fn beside() -> Vec<Row> {
    let sealed = |leak: Leak| Leak { pot: pot(PotLid::sealed()), ..leak };
    let third = |w: f64| [0.3 * w, 3.0 * w];
    let steel = Material::named("carbon-steel").unwrap();
    let screw = Handle::new(steel, millimetres(4.4), millimetres(4.4), millimetres(0.0));
    vec![
        ("pot without lid, two levels of 0.5 mm", without_lid(two_levels(0.5)), 7.6, third(7.6)),
        ("pot without lid, plug with 1 mm", without_lid(plug(1.0)), 3.3, third(3.3)),
        // The tightest lid that can be built, on a gasket: with none at all no vapour moves.
        ("pot without lid, tight box", without_lid(rim(0.1)), 0.3, third(0.3)),
        ("wind of 3 m/s on a joint of 0.5 mm", blown(0.5, 3.0), 2.1, [1.0, 12.0]),
        ("sealed pot, two levels of 2 mm", sealed(two_levels(2.0)), 18.0, [8.0, 35.0]),
        ("sealed pot, two levels of 1 mm", sealed(two_levels(1.0)), 2.7, [2.0, 8.0]),
        ("sealed pot, two levels of 0.5 mm", sealed(two_levels(0.5)), 0.34, third(0.34)),
        ("sealed pot, plug with 2 mm", sealed(plug(2.0)), 1.28, third(1.28)),
        ("steel screw M5 through the wall", with_handle(screw), 0.065, [0.0, 0.2]),
    ]
}

/// W that a leak adds to what the shut box loses while the pot goes from 92 to 88 °C, and W that leave by the leak itself.
fn cost((name, leak, stated, [low, high]): &Row, base: f64) -> [f64; 2] {
    let forecast = forecast(leak);
    assert!(forecast.ledger_residual() < 1e-9 && forecast.water_residual() < 1e-9, "{name}");
    let ([whole, by_leak], hold) = (loss(&forecast), best(&forecast, 65.0) / 3600.0);
    let added = whole - base;
    println!(
        "{name:42} adds {added:6.2} W, {by_leak:6.2} W by the leak itself, ranked with {stated:5.2} W ({low:.2} to {high:.2} \
         W); 65 °C after {hold:.1} h"
    );
    assert!(*low <= added && added <= *high, "{name}: {added} W, {low} to {high} W");
    [added, by_leak]
}

/// The box of the ranking: 0.22 W/K with everything shut, 22.3 h from 95 to 65 °C by C/UA ln(80/50).
#[test]
fn the_box_of_the_ranking_is_the_one_computed_here() {
    let base = forecast(&shut());
    let ([whole, other], hold) = (loss(&base), best(&base, 65.0) / 3600.0);
    println!("shut: {whole:.2} W at 90 °C, 65 °C after {hold:.2} h");
    assert!((whole / 75.0 / 0.22 - 1.0).abs() < 0.02 && other.abs() < 1e-6, "{whole} W");
    assert!((hold / 22.3 - 1.0).abs() < 0.02, "{hold} h");
}

#[test]
fn leaks_cost_what_they_are_ranked_with_and_in_that_order() {
    let base = loss(&forecast(&shut()))[0];
    let costs: Vec<[f64; 2]> = ranked().iter().map(|row| cost(row, base)).collect();
    for (rows, pair) in ranked().windows(2).zip(costs.windows(2)) {
        let (more, less) = (rows[0].0, rows[1].0);
        // What leaves by the leak has the order; a plug of 2 mm and the strap add the same to a hundredth.
        assert!(pair[0][1] > pair[1][1], "{more}: {} W, {less}: {} W", pair[0][1], pair[1][1]);
        assert!(pair[0][0] > 0.98 * pair[1][0], "{more} adds {} W, {less} {} W", pair[0][0], pair[1][0]);
    }
    for row in &beside() {
        cost(row, base);
    }
}

/// What costs more power shortens the hold by more, save where wind or a strap acts otherwise in time.
#[test]
fn what_costs_more_holds_shorter() {
    let leaks = [two_levels(2.0), two_levels(1.0), two_levels(0.5), rim(5.0), rim(2.0), rim(1.0), rim(0.5), shut()];
    let holds = leaks.map(|leak| best(&forecast(&leak), 65.0) / 3600.0);
    println!("{holds:.1?} h");
    assert!(holds.windows(2).all(|pair| pair[0] < pair[1]), "{holds:?}");
    // 10.7 h and 18.4 h are ranked (COMPUTED); wind and vapour vary with time: a tenth.
    assert!((holds[0] / 10.7 - 1.0).abs() < 0.1 && (holds[1] / 18.4 - 1.0).abs() < 0.1, "{holds:?}");
}

/// The outer film by wind, 8 to 20 W/(m² K) outside and everything shut: ranked with 0.8 W, 0.5 to 1 W. Here 0.45 W, and
/// that is right for this box: the ranking multiplied its 16.5 W with what the film is to a wall of 0.62 W/(m² K), which
/// goes to 0.65, five in a hundred. A box of such walls, 0.3 m inside, loses half as much again as its 0.22 W/K.
///
/// Both are worked out by hand: with films of 8 and 20 in series the loss grows by (1/8 - 1/20) times loss per kelvin and
/// area, the outer faces being (0.4/0.3)² of the inner ones, and edges meeting still more of them. And with walls of
/// 0.62 W/(m² K) the five in a hundred come out.
#[test]
fn the_outer_film_counts_little() {
    let power = |k: f64, outside: f64| {
        let film = |h: f64| Range::exactly(watts_per_square_metre_kelvin(h));
        let setup = setup_of(k, &shut()).with_constant_films(film(10.0), film(outside)).unwrap();
        let forecast = setup.forecast_with(&from(95.0, 15.0), &Options::horizon(hours(48.0))).unwrap();
        loss(&forecast)[0]
    };
    // 1/0.62 less the films of 10 and 8, for 50 mm.
    let worse = 0.05 / (1.0 / 0.62 - 0.1 - 0.125);
    for k in [FOAM, worse] {
        let (calm, blown) = (power(k, 8.0), power(k, 20.0));
        let added = blown - calm;
        let by_hand = |area: f64| calm / 75.0 * calm * (1.0 / 8.0 - 1.0 / 20.0) / area;
        let (few, many) = (by_hand(0.54 * (0.4_f64 / 0.3).powi(2)), by_hand(0.54));
        println!("k {k:.4}: film 8 to 20: {added:.3} W of {calm:.2} W; {few:.3} to {many:.3} W by hand");
        assert!(few < added && added < many, "{added} W");
        if k == FOAM {
            assert!(added > 0.4 && added < 0.5, "{added} W");
        } else {
            // 0.62 to 0.65 between faces; edges are more wall and less film.
            assert!(calm / 75.0 > 1.3 * 0.22 && added / calm > 0.035 && added / calm < 0.05, "{added} of {calm} W");
        }
    }
}

/// The row of most power put together by hand at the temperatures of the ranking, pot at 90 °C, liner and air 6 K below, by
/// the published relations alone. Equal volumes in and out are the usual simplification, and come near what is ranked; what
/// comes in takes up vapour and swells, so that with dry air conserved, as a forecast has it, half as much again passes.
#[test]
fn the_row_of_most_power_by_hand() {
    let (pot, around) = (363.15, 357.15);
    let humid = 0.6 * water::saturation_pressure_if97(288.15).unwrap().value;
    let outside = MoistState { temperature: 288.15, vapour_pressure: humid };
    let gap = Slit { width: 1e-3, depth: 0.05, length: 1.2, bends: 0 };
    let convection = headspace::convection_dunkle_1961(pot, around).unwrap().value;
    let gas = air::dry_air(f64::midpoint(pot, around), PRESSURE).unwrap();
    let lewis = headspace::LEWIS_NUMBER_VAPOUR;
    // From the surface to the gas, and from there to the liner: half the way each.
    let half_way =
        2.0 * headspace::mass_transfer_lewis(convection, gas.density, gas.specific_heat, lewis).unwrap().value;
    let path = VapourPath {
        mouth: PotMouth::Open(half_way * std::f64::consts::PI * 0.12 * 0.12),
        pot_temperature: pot,
        box_temperature: around,
        liner: Some(Liner { temperature: around, transfer: half_way * 0.09, wet: 0.0 }),
        box_gap: None,
        outside,
        pressure: PRESSURE,
    };
    let [equal, conserved] = [Continuity::EqualVolume, Continuity::DryAir].map(|continuity| {
        let levels = TwoLevels { low: gap, high: gap, height: 0.3, wind: 0.0, continuity };
        let inside = |vapour_pressure: f64| MoistState { temperature: around, vapour_pressure };
        let flow = |vapour: f64| {
            Ok(leak::two_level_flow(&levels, &Sides::new(inside(vapour), outside, PRESSURE)?)?.volume_flow)
        };
        let balance = leak::vapour_balance(&path, 0.0, None, flow).unwrap();
        let (passing, inside) = (flow(balance.box_vapour_pressure).unwrap(), inside(balance.box_vapour_pressure));
        let sensible = leak::box_gas_heat(passing, inside, outside, PRESSURE).unwrap().sensible;
        balance.flow_out * water::latent_heat_wagner_pruss_1993(pot).unwrap().value + sensible
    });
    let [_, by_leak] = loss(&forecast(&without_lid(two_levels(1.0))));
    println!(
        "{MOST}: {equal:.1} W with equal volumes, {conserved:.1} W with dry air conserved; forecast {by_leak:.1} W"
    );
    assert!((equal / 60.0 - 1.0).abs() < 0.15 && (1.3..1.6).contains(&(conserved / equal)), "{equal}, {conserved} W");
    // In the forecast the condensing vapour keeps the air of the box less than 6 K below the pot.
    assert!((1.0..1.1).contains(&(by_leak / conserved)), "{by_leak} W, by hand {conserved} W");
}
