use stillhot::units::*;
use stillhot::*;
fn main() -> Result<(), Error> {
    for (name, lid) in [("resting", Lid::resting()), ("tight", Lid::tight())] {
        let pot = Pot::typical(litres(9.0)).with(Dish::named("water-liquid")?, kilograms(8.3));
        let bin = Enclosure::lined("rigid-polyisocyanurate-foam-foil-faced", millimetres(50.0))?
            .around(&pot, millimetres(15.0))
            .lid(lid);
        let setup = Setup::new(pot, bin)?;
        let t0 = std::time::Instant::now();
        let f = setup.forecast(&Plan::in_room(celsius(16.0)).simmer(minutes(15.0)).shut().serve_after(hours(7.0)))?;
        println!("{name} {:?} {:?}", t0.elapsed(), f.statistics());
        for t in [75.0, 63.0, 60.0] {
            println!("  above {t}: {} {:?}", f.above(celsius(t))?, f.above(celsius(t))?);
        }
        for h in [0.0, 1.0, 2.0, 4.0, 7.0, 12.0, 24.0] {
            let r = f.at(hours(h))?;
            println!("  {h} h: {} +- {:e}", r.temperature, r.numerical.si());
        }
        for p in f.heat_by_path().iter() {
            println!("   {} {} {}", p.place, p.mechanism, p.heat);
        }
        for p in f.heat_stored().iter() {
            println!("   stored {} {}", p.part, p.heat);
        }
        println!("  ledger {:e}", f.ledger_residual());
    }
    for (room, wind) in [(16.0, 0.0), (4.0, 3.0)] {
        let pot = Pot::typical(litres(1.0)).with(Dish::named("water-liquid")?, kilograms(0.9));
        let s = Sleeve::of_mat("cross-linked-polyethylene-foam-mat", millimetres(5.0), 2)?;
        let f = Setup::new(pot, s)?.forecast(
            &Plan::in_room(celsius(room))
                .in_wind(metres_per_second(wind))
                .simmer(minutes(15.0))
                .open_at(minutes(50.0), minutes(5.0))
                .shut(),
        )?;
        for t in [85.0, 75.0, 63.0, 60.0] {
            println!("  sleeve above {t}: {}", f.above(celsius(t))?);
        }
        println!("  30 min: {}", f.at(minutes(30.0))?.temperature);
        println!("  ledger {:e}", f.ledger_residual());
    }
    Ok(())
}
