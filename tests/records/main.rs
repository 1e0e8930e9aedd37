//! Forecasts against measured records that are open to all.
//!
//! No record found describes box, pot, lid and room in full. So each test says what its record does not tell, spans
//! it between a cool and a warm end of what is ordinary, and asks that the measurement lies between the lowest forecast
//! of the cool end and the highest of the warm one. The width of that span is printed: a wide one proves little, and
//! none of them makes the model a validated one. Where a record lies outside, or the library cannot express what was
//! measured, the test says so and checks the one side that is left.
//!
//! Not used: lidded vacuum tumblers and food jars (65.6 °C to 41.7 and 40.0 °C in 3 h; 93.3 to 73.9 °C in 4.5 h; an
//! author's page about 2018 and a newspaper test about 2010: READ, years from MEMORY), since a vacuum flask loses its
//! heat by neck and stopper and is no wall of layers; a round box against a rectangular one (two abstracts of one group,
//! 2016 and 2019: READ, they contradict each other on which is warmer).

mod boxes;
mod bulk;
mod open_vessels;
mod ranking;
mod sleeves;

use stillhot::units::{Si, Temperature, Time, celsius};
use stillhot::{Forecast, Options, Plan, Setup};

/// The ends of what a record leaves open, each with its plan.
pub struct Span {
    pub record: &'static str,
    /// What it does not tell.
    pub untold: &'static [&'static str],
    cool: Forecast,
    warm: Forecast,
}

impl Span {
    pub fn of(
        record: &'static str,
        untold: &'static [&'static str],
        horizon: Time,
        [cool, warm]: [(Setup, Plan); 2],
    ) -> Self {
        let forecast = |(setup, plan): (Setup, Plan)| {
            let forecast = setup.forecast_with(&plan, &Options::horizon(horizon)).unwrap();
            assert!(forecast.ledger_residual() < 1e-9);
            forecast
        };
        assert!(!untold.is_empty());
        Span { record, untold, cool: forecast(cool), warm: forecast(warm) }
    }

    /// Lowest and highest temperature at a time, °C.
    pub fn at(&self, time: Time) -> [f64; 2] {
        let low = self.cool.at(time).unwrap().temperature.low();
        let high = self.warm.at(time).unwrap().temperature.high();
        [low, high].map(in_celsius)
    }

    /// The measurement lies inside, and how wide that is.
    pub fn holds(&self, time: Time, measured: f64) {
        let [low, high] = self.at(time);
        let t = time.si() / 60.0;
        let best = |forecast: &Forecast| in_celsius(forecast.at(time).unwrap().temperature.best());
        let (cool, warm) = (best(&self.cool), best(&self.warm));
        println!("{}: {measured} °C after {t:.0} min", self.record);
        println!(
            "    in {low:.1} to {high:.1} °C, {:.1} K wide; best values of the ends {cool:.1}, {warm:.1}",
            high - low
        );
        assert!(low <= measured && measured <= high, "{}: {measured} °C, {low} to {high} °C", self.record);
    }

    pub fn tell(&self) {
        println!("{}: does not tell {}", self.record, self.untold.join(", "));
    }
}

pub fn in_celsius(temperature: Temperature) -> f64 {
    temperature.si() - 273.15
}

/// Put in hot, at once, in a room.
pub fn from(start: f64, room: f64) -> Plan {
    Plan::in_room(celsius(room)).leaving_at(celsius(start)).carry(Time::from_si(0.0))
}
