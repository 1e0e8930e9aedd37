//! Fuel: what a simmer costs, and what the box or sleeve saves.

use super::shelf::{self, EVIDENCE, Entry, ReadEntry, Shelf, Sources, evidence};
use crate::correlation::leak;
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind, Within, all_within};
use crate::material::Evidence;
use crate::setup::{Pot, Range};
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{
    Energy, Length, Mass, MassRate, Power, Ratio, Si, SpecificEnergy, SpecificHeatCapacity, Spoken, Temperature, Time,
    celsius, hours, joules_per_kilogram_kelvin, kilograms, metres, millimetres, watts, write,
};
use std::f64::consts::PI;
use std::sync::OnceLock;

/// Seconds times watts in a kilowatt hour.
const KILOWATT_HOUR: f64 = 3.6e6;

/// A fuel in its stove.
#[derive(Debug, Clone, PartialEq)]
pub struct Fuel {
    id: String,
    name: String,
    efficiency: Range<Ratio>,
    efficiency_evidence: Evidence,
    heating_value: Option<(Range<SpecificEnergy>, Evidence)>,
    /// Kilogram for each joule drawn: low, best, high.
    carbon_dioxide: [f64; 3],
    carbon_dioxide_evidence: Evidence,
}

/// What heat in the pot costs.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct FuelUse {
    /// Heat that reaches the pot.
    pub heat: Range<Energy>,
    /// Energy drawn from gas or mains.
    pub drawn: Range<Energy>,
    /// Fuel by mass; `None` for electricity.
    pub mass: Option<Range<Mass>>,
    /// Carbon dioxide.
    pub carbon_dioxide: Range<Mass>,
}

/// What a fuel costs, in any currency.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Price {
    /// For a kilogram of fuel.
    PerKilogram(f64),
    /// For a kilowatt hour drawn.
    PerKilowattHour(f64),
}

/// A sum of money as a range, in the currency of the price.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Money {
    /// Least.
    pub low: f64,
    /// Best value.
    pub best: f64,
    /// Most.
    pub high: f64,
}

impl Fuel {
    /// The fuels that come with the crate (`materials/food/fuel.toml`); read once, at the first use.
    pub fn shelf() -> &'static Shelf<Fuel> {
        static SHELF: OnceLock<Shelf<Fuel>> = OnceLock::new();
        SHELF.get_or_init(|| Shelf::embedded(&[("fuel.toml", include_str!("../../materials/food/fuel.toml"))]))
    }

    /// A fuel from the embedded list: "lpg-hob", "camp-gas", "induction-hob", ...
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] with the nearest ids.
    pub fn named(id: &str) -> Result<&'static Fuel, Error> {
        Self::shelf().get(id)
    }

    /// The id.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// Its name in words.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Share of the heat that reaches the pot.
    pub fn efficiency(&self) -> Range<Ratio> {
        self.efficiency
    }

    /// What the efficiency rests on.
    pub fn efficiency_evidence(&self) -> &Evidence {
        &self.efficiency_evidence
    }

    /// Net heating value, for what burns.
    pub fn heating_value(&self) -> Option<(Range<SpecificEnergy>, &Evidence)> {
        self.heating_value.as_ref().map(|(value, evidence)| (*value, evidence))
    }

    /// Carbon dioxide for each kilowatt hour drawn, kg.
    pub fn carbon_dioxide_per_kilowatt_hour(&self) -> (Range<Mass>, &Evidence) {
        let [low, best, high] = self.carbon_dioxide.map(|per_joule| per_joule * KILOWATT_HOUR);
        (Range::of_members(low, best, high), &self.carbon_dioxide_evidence)
    }

    /// What it takes to bring `heat` (-1 GJ to 1 GJ; negative: more is used than saved) into the pot.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for another heat.
    pub fn burn(&self, heat: Range<Energy>) -> Result<FuelUse, Error> {
        heat.check("heat", Energy::from_si(-1e9), Energy::from_si(1e9)).within("fuel")?;
        let efficiency = [self.efficiency.high(), self.efficiency.best(), self.efficiency.low()].map(Si::si);
        let drawn = spread([heat.low(), heat.best(), heat.high()].map(Si::si), efficiency.map(|share| 1.0 / share));
        let mass = self.heating_value.as_ref().map(|(value, _)| {
            let per_joule = [value.high(), value.best(), value.low()].map(|value| 1.0 / value.si());
            spread(drawn, per_joule)
        });
        Ok(FuelUse {
            heat,
            drawn: range(drawn),
            mass: mass.map(range),
            carbon_dioxide: range(spread(drawn, self.carbon_dioxide)),
        })
    }
}

fn range<Q: Spoken>([low, best, high]: [f64; 3]) -> Range<Q> {
    Range::of_members(low, best, high)
}

/// Products of two ranges, whichever signs the first has.
fn spread(value: [f64; 3], factor: [f64; 3]) -> [f64; 3] {
    let [low, best, high] = value;
    let ends = [low * factor[0], low * factor[2], high * factor[0], high * factor[2]];
    let least = ends.into_iter().fold(f64::INFINITY, f64::min);
    let most = ends.into_iter().fold(f64::NEG_INFINITY, f64::max);
    [least, best * factor[1], most]
}

impl FuelUse {
    /// What it costs at a price of 0 to 10 000.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for another price; [`ErrorKind::Inconsistent`] for a price by mass of a fuel that has
    /// none.
    pub fn cost(&self, price: Price) -> Result<Money, Error> {
        let (of, price) = match price {
            Price::PerKilowattHour(price) => {
                ([self.drawn.low(), self.drawn.best(), self.drawn.high()].map(|e| e.si() / KILOWATT_HOUR), price)
            }
            Price::PerKilogram(price) => {
                let mass = self.mass.ok_or_else(|| {
                    Error::new(ErrorKind::Inconsistent, "electricity has no price by mass")
                        .with_accepted("a price for each kilowatt hour")
                        .within("price")
                })?;
                ([mass.low(), mass.best(), mass.high()].map(Si::si), price)
            }
        };
        let price = number_in_range("price", price, 0.0, 1e4)?;
        let [low, best, high] = of.map(|amount| amount * price);
        Ok(Money { low, best, high })
    }
}

/// Heat that warms `mass` (up to 1000 kg) of a heat capacity (500 to 6000 J/(kg K)) from one temperature to another.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for numbers outside; temperatures -60 to 200 °C, the second not below the first.
pub fn heat_to_boil(
    mass: Mass,
    heat_capacity: SpecificHeatCapacity,
    from: Temperature,
    to: Temperature,
) -> Result<Energy, Error> {
    all_within("heat to boil", || {
        let mass = in_range("mass", mass, kilograms(0.0), kilograms(1000.0))?;
        let (low, high) = (joules_per_kilogram_kelvin(500.0), joules_per_kilogram_kelvin(6000.0));
        let c = in_range("heat capacity", heat_capacity, low, high)?;
        let start = in_range("from", from, celsius(-60.0), celsius(200.0))?;
        let end = in_range("to", to, from, celsius(200.0))?;
        Ok(Energy::from_si(mass * c * (end - start)))
    })
}

/// Watts at a simmer for each square metre of the outside of a lidded pot, lid and base included. Recalled are 120 to
/// 400 W for one of 2 to 5 L (MEMORY); by physics 10 to 12 W/(m² K) on 0.15 to 0.25 m² at 80 K give 120 to 240 W, and
/// steam the rest (COMPUTED: 800 W/m² from 120 W on 0.15 m², 2000 from 400 W on 0.2 m²).
const SIMMER: [f64; 3] = [800.0, 1200.0, 2000.0];
/// More than that without a lid: measured boil times of half a gallon and of two gallons with and without lid (READ)
/// give 230 and 410 W (COMPUTED), on typical pots a quarter larger than that, 0.10 and 0.25 m² (ESTIMATE).
const WITHOUT_LID: [f64; 3] = [1650.0, 1975.0, 2300.0];

/// Power that keeps a pot at a bare simmer: 800 to 2000 W, best 1200 W, for each square metre of its outside, lid and
/// base included, and 1650 to 2300 W more without its lid. A rule for kitchens, whose source is weak.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for a pot whose diameter or height is outside 30 mm to 1 m.
pub fn simmer_power(pot: &Pot, lidded: bool) -> Result<Range<Power>, Error> {
    let size = |name: &str, size: Length| in_range(name, size, millimetres(30.0), metres(1.0)).within("pot");
    let (diameter, height) = (size("diameter", pot.diameter())?, size("height", pot.height())?);
    let outside = PI * diameter * (height + 0.5 * diameter);
    let more = if lidded { [0.0; 3] } else { WITHOUT_LID };
    let [low, best, high] = std::array::from_fn(|i| (SIMMER[i] + more[i]) * outside);
    Ok(Range::of_members(low, best, high))
}

/// What the outside of a pot at the boil gives off without any steam, W/m²: 12 to 10 W/(m² K) at 80 K, the other way round
/// for what is left to the steam (COMPUTED).
const DRY: [f64; 3] = [960.0, 880.0, 800.0];

/// Water that a bare simmer at `boiling` (50 to 130 °C) boils off: what of [`simmer_power`] does not leave through the
/// outside of the pot, over the latent heat. A box or sleeve keeps that water in the pot, so a recipe needs less. Under a
/// lid most of it condenses and drips back: an upper value.
///
/// # Errors
/// As [`simmer_power`]; [`ErrorKind::OutOfRange`] for another boiling point.
pub fn simmer_steam(pot: &Pot, lidded: bool, boiling: Temperature) -> Result<Range<MassRate>, Error> {
    let outside = simmer_power(pot, true)?.best().si() / SIMMER[1];
    let power = simmer_power(pot, lidded)?;
    let boil = in_range("boiling", boiling, celsius(50.0), celsius(130.0)).within("simmer")?;
    let mut steam = [0.0; 3];
    for ((flow, power), dry) in steam.iter_mut().zip([power.low(), power.best(), power.high()]).zip(DRY) {
        *flow = leak::steam_flow((power.si() - dry * outside).max(0.0), boil)?.value;
    }
    Ok(range(steam))
}

/// Heat saved by simmering for so much less (-48 to 48 h; negative where more is spent,
/// [`Doneness::stove_time_saved`](super::Doneness)) at a `power` of 0 to 100 kW. The box itself is free.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for another time or power.
pub fn heat_saved(less: Range<Time>, power: Range<Power>) -> Result<Range<Energy>, Error> {
    all_within("heat saved", || {
        less.check("stove time saved", hours(-48.0), hours(48.0))?;
        power.check("power", watts(0.0), watts(1e5))
    })?;
    let less = [less.low(), less.best(), less.high()].map(Si::si);
    Ok(range(spread(less, [power.low(), power.best(), power.high()].map(Si::si))))
}

/// The heaviest sleeve that a walk of so many meals (1 to 1000) repays in fuel not carried.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for another number of meals or more than 100 kg of fuel each.
pub fn break_even_weight(fuel_saved_a_meal: Range<Mass>, meals: u32) -> Result<Range<Mass>, Error> {
    let meals = number_in_range("meals", f64::from(meals), 1.0, 1000.0)?;
    fuel_saved_a_meal.check("fuel saved", kilograms(-100.0), kilograms(100.0))?;
    let [low, best, high] =
        [fuel_saved_a_meal.low(), fuel_saved_a_meal.best(), fuel_saved_a_meal.high()].map(|mass| mass.si() * meals);
    Ok(Range::of_members(low, best, high))
}

/// After how many meals a sleeve (0 to 100 kg) has repaid its weight in fuel not carried: at the cautious end, by the
/// best value, at the generous end; `None` where nothing is saved.
///
/// # Errors
/// [`ErrorKind::OutOfRange`] for another mass of the sleeve.
pub fn break_even_meals(sleeve: Mass, fuel_saved_a_meal: Range<Mass>) -> Result<[Option<f64>; 3], Error> {
    let sleeve = in_range("sleeve", sleeve, kilograms(0.0), kilograms(100.0))?;
    let meals = |saved: Mass| (saved.si() > 0.0).then(|| (sleeve / saved.si()).ceil());
    Ok([fuel_saved_a_meal.low(), fuel_saved_a_meal.best(), fuel_saved_a_meal.high()].map(meals))
}

impl Entry for Fuel {
    const WHAT: &'static str = "fuel";
    fn id(&self) -> &str {
        &self.id
    }
    fn title(&self) -> &str {
        &self.name
    }
}

impl ReadEntry for Fuel {
    fn read(id: &str, section: &Section<'_>, sources: &Sources) -> Result<Self, Error> {
        section.only(&["name", "efficiency", "heating-value", "carbon-dioxide"])?;
        let item = section.require("efficiency", "a table of value, mark")?;
        let (efficiency, efficiency_evidence) = part(&item, "value", sources)?;
        let value = efficiency.require("value", "[\"40 %\", \"50 %\", \"60 %\"]")?;
        let heating_value = match section.get("heating-value") {
            None => None,
            Some(item) => {
                let (section, evidence) = part(&item, "value", sources)?;
                let value = section.require("value", "[\"45 MJ/kg\", \"46 MJ/kg\", \"47 MJ/kg\"]")?;
                Some((shelf::range(&value, SpecificEnergy::from_si(1e6), SpecificEnergy::from_si(1.5e8))?, evidence))
            }
        };
        let item = section.require("carbon-dioxide", "a table of kg-per-kg or kg-per-kwh, mark")?;
        let per_mass = heating_value.is_some();
        let key = if per_mass { "kg-per-kg" } else { "kg-per-kwh" };
        let (carbon, carbon_dioxide_evidence) = part(&item, key, sources)?;
        let amounts = three(&carbon.require(key, "[low, best, high]")?)?;
        let per_joule = match &heating_value {
            // Best over best: the ends of both ranges go together, as carbon and heat do.
            Some((value, _)) => amounts.map(|amount| amount / value.best().si()),
            None => amounts.map(|amount| amount / KILOWATT_HOUR),
        };
        Ok(Fuel {
            id: id.to_owned(),
            name: section.require("name", "the name in words, in quotes")?.text()?.to_owned(),
            efficiency: shelf::range(&value, Ratio::from_si(0.01), Ratio::from_si(1.0))?,
            efficiency_evidence,
            heating_value,
            carbon_dioxide: per_joule,
            carbon_dioxide_evidence,
        })
    }
}

/// One quantity of a fuel: its own key and the evidence for it.
fn part<'t>(item: &Item<'t>, key: &str, sources: &Sources) -> Result<(Section<'t>, Evidence), Error> {
    let section = item.section()?;
    section.only(&[key, EVIDENCE[0], EVIDENCE[1], EVIDENCE[2]])?;
    let evidence = evidence(&section, sources)?;
    Ok((section, evidence))
}

fn three(item: &Item<'_>) -> Result<[f64; 3], Error> {
    let numbers: Vec<f64> = item.list()?.iter().map(Item::number).collect::<Result<_, _>>()?;
    match numbers[..] {
        [low, best, high] if 0.0 <= low && low <= best && best <= high && high <= 100.0 => Ok([low, best, high]),
        _ => Err(item.place(Error::new(ErrorKind::Data, "is no range").with_accepted("[low, best, high], 0 to 100"))),
    }
}

/// "12 g to 25 g (best 16 g)" of low, best and high, to the gram.
pub(super) fn spoken_mass(masses: [Mass; 3]) -> String {
    spoken_range(masses, |mass| write(Mass::from_si((mass.si() * 1e3).round() / 1e3 + 0.0)))
}

/// "12 to 25 (best 16)" of low, best and high, each in words.
pub(super) fn spoken_range<Q>([low, best, high]: [Q; 3], words: impl Fn(Q) -> String) -> String {
    format!("{} to {} (best {})", words(low), words(high), words(best))
}
