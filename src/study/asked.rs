//! What is asked of a comparison.

use std::num::NonZeroUsize;

use crate::error::{Error, ErrorKind, Within};
use crate::setup::{Forecast, Held, HourRow, MaterialUse, ProbeSpot, Setup};
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{Si, Temperature, Time, celsius};

/// A temperature to be held, on one side of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Level {
    /// The dish is to stay above it.
    Above(Temperature),
    /// The dish is to stay below it: a cold box.
    Below(Temperature),
}

/// What a material costs, in any currency, the same for all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MaterialPrice {
    /// For a square metre of the layer, however thick: cloth, foil, mats.
    PerSquareMetre(f64),
    /// For a kilogram.
    PerKilogram(f64),
    /// For a cubic metre: boards.
    PerCubicMetre(f64),
}

/// What is asked of a comparison: the temperatures to be held (the first one ranks), what materials cost, on how many
/// threads it is computed.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    levels: Vec<Level>,
    prices: Vec<(String, MaterialPrice)>,
    threads: Option<NonZeroUsize>,
}

/// What the materials of a box or sleeve cost.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Cost {
    /// All materials that have a price, in its currency.
    pub amount: f64,
    /// Materials without a price, by their names in the catalogue: they are not in the amount.
    pub unpriced: Vec<String>,
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
        Asked { levels: vec![Level::Above(temperature)], prices: Vec::new(), threads: None }
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
        self.prices.push((material.to_owned(), price));
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

    pub(super) fn threads(&self) -> Option<NonZeroUsize> {
        self.threads
    }

    pub(super) fn check(&self) -> Result<(), Error> {
        for level in &self.levels {
            in_range("temperature asked about", level.temperature(), celsius(-60.0), celsius(200.0))?;
        }
        for (index, (material, price)) in self.prices.iter().enumerate() {
            if self.prices[..index].iter().any(|(other, _)| other == material) {
                return Err(Error::new(ErrorKind::Inconsistent, "a material has two prices")
                    .within(material.clone())
                    .within("price"));
            }
            let (MaterialPrice::PerSquareMetre(amount)
            | MaterialPrice::PerKilogram(amount)
            | MaterialPrice::PerCubicMetre(amount)) = price;
            number_in_range("price", *amount, 0.0, 1e9).within(material.clone())?;
        }
        Ok(())
    }

    /// What a shell costs; nothing if no price was given.
    pub(super) fn cost(&self, setup: &Setup) -> Option<Cost> {
        (!self.prices.is_empty()).then(|| {
            let mut cost = Cost { amount: 0.0, unpriced: Vec::new() };
            for used in setup.materials_used() {
                match self.prices.iter().find(|(material, _)| *material == used.material) {
                    Some((_, price)) => cost.amount += price.of(&used),
                    None => cost.unpriced.push(used.material),
                }
            }
            cost
        })
    }

    /// What a shell costs more than another one; nothing if no price was given, or if a material without one is used more
    /// or less.
    pub(super) fn dearer(&self, setup: &Setup, base: &Setup) -> Option<f64> {
        if self.prices.is_empty() {
            return None;
        }
        let (uses, of_base) = (setup.materials_used(), base.materials_used());
        let names = uses.iter().chain(of_base.iter().filter(|used| amount_of(&uses, &used.material).is_none()));
        let mut more = 0.0;
        for MaterialUse { material, .. } in names {
            let (here, there) = (amount_of(&uses, material), amount_of(&of_base, material));
            if here == there {
                continue;
            }
            let (_, price) = self.prices.iter().find(|(priced, _)| priced == material)?;
            let of = |used: Option<&MaterialUse>| used.map_or(0.0, |used| price.of(used));
            more += of(here) - of(there);
        }
        Some(more)
    }
}

fn amount_of<'u>(uses: &'u [MaterialUse], material: &str) -> Option<&'u MaterialUse> {
    uses.iter().find(|used| used.material == material)
}

impl MaterialPrice {
    fn of(&self, used: &MaterialUse) -> f64 {
        match self {
            MaterialPrice::PerSquareMetre(amount) => amount * used.area.si(),
            MaterialPrice::PerKilogram(amount) => amount * used.mass.si(),
            MaterialPrice::PerCubicMetre(amount) => amount * used.volume.si(),
        }
    }
}
