//! What is asked of a comparison.

use std::num::NonZeroUsize;

use super::prices::{MaterialPrice, Prices};
use crate::error::Error;
use crate::setup::{Forecast, Held, HourRow, ProbeSpot};
use crate::units::bounds::in_range;
use crate::units::{Temperature, Time, celsius};

/// A temperature to be held, on one side of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Level {
    /// The dish is to stay above it.
    Above(Temperature),
    /// The dish is to stay below it: a cold box.
    Below(Temperature),
}

/// What is asked of a comparison: the temperatures to be held (the first one ranks), what things cost, on how many
/// threads it is computed.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    levels: Vec<Level>,
    prices: Prices,
    threads: Option<NonZeroUsize>,
}

impl Level {
    /// The temperature.
    pub fn temperature(self) -> Temperature {
        match self {
            Level::Above(temperature) | Level::Below(temperature) => temperature,
        }
    }

    pub(super) fn is_above(self) -> bool {
        matches!(self, Level::Above(_))
    }

    /// How long a forecast holds it; of a dish that stands still its coldest spot counts, of a cold one its mean.
    pub(super) fn held(self, forecast: &Forecast) -> Result<Held, Error> {
        match self {
            Level::Above(temperature) if forecast.stands_still() => forecast.coldest_above(temperature),
            Level::Above(temperature) => forecast.above(temperature),
            Level::Below(temperature) => forecast.below(temperature),
        }
    }

    /// The dish at a time, where it is looked at.
    pub(super) fn row(self, forecast: &Forecast, time: Time) -> Result<HourRow, Error> {
        match self.spot(forecast) {
            ProbeSpot::Coldest => forecast.coldest(time),
            _ => forecast.at(time),
        }
    }

    /// Where it is looked at.
    pub(super) fn spot(self, forecast: &Forecast) -> ProbeSpot {
        if self.is_above() && forecast.stands_still() { ProbeSpot::Coldest } else { ProbeSpot::Dish }
    }
}

impl Asked {
    /// How long the dish stays above a temperature, -60 to 200 °C.
    pub fn above(temperature: Temperature) -> Self {
        Asked { levels: vec![Level::Above(temperature)], prices: Prices::default(), threads: None }
    }

    /// How long the dish stays below a temperature, -60 to 200 °C.
    pub fn below(temperature: Temperature) -> Self {
        Asked { levels: vec![Level::Below(temperature)], ..Self::above(temperature) }
    }

    /// Another temperature beside the first.
    #[must_use]
    pub fn and(mut self, level: Level) -> Self {
        self.levels.push(level);
        self
    }

    /// What a material costs, by its name in the catalogue. Without prices nothing is said about money.
    #[must_use]
    pub fn with_price(mut self, material: &str, price: MaterialPrice) -> Self {
        self.prices = self.prices.with_material(material, price);
        self
    }

    /// What things cost, in place of all prices given before.
    #[must_use]
    pub fn with_prices(mut self, prices: Prices) -> Self {
        self.prices = prices;
        self
    }

    /// Computed on so many threads instead of as many as the machine has. The answers are the same.
    #[must_use]
    pub fn on_threads(mut self, threads: NonZeroUsize) -> Self {
        self.threads = Some(threads);
        self
    }

    /// The temperatures, the one that ranks first.
    pub fn levels(&self) -> &[Level] {
        &self.levels
    }

    /// What things cost.
    pub fn prices(&self) -> &Prices {
        &self.prices
    }

    pub(super) fn threads(&self) -> Option<NonZeroUsize> {
        self.threads
    }

    pub(super) fn check(&self) -> Result<(), Error> {
        for level in &self.levels {
            in_range("temperature asked about", level.temperature(), celsius(-60.0), celsius(200.0))?;
        }
        self.prices.check()
    }
}
