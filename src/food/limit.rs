//! Limits of published guidance, as data: what a place asks for, who says so, since when.

use super::dish_facts::Hazard;
use super::shelf::{EVIDENCE, Entry, ReadEntry, Shelf, Sources, evidence, year};
use crate::document::{Item, Section};
use crate::error::{Error, ErrorKind};
use crate::material::Evidence;
use crate::units::bounds::in_range;
use crate::units::{Ratio, Si, Spoken, Temperature, TemperatureInterval, Time, celsius, hours, minutes};
use std::sync::OnceLock;

/// For whom a limit is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Setting {
    /// Home kitchens.
    Household,
    /// Kitchens and shops that serve the public.
    Catering,
    /// Factories under inspection.
    Industry,
    /// A standard for equipment, not for food.
    Equipment,
}

/// What a limit is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Topic {
    /// How hot a dish must be kept.
    HotHolding,
    /// How cold a dish must be kept.
    ColdHolding,
    /// How long it may be lukewarm.
    TimeLimit,
    /// How hot its middle must have been, and how long.
    Cooking,
    /// How fast it must cool.
    Cooling,
    /// How hot it must be made again.
    Reheating,
    /// How much bacteria may grow while it cools.
    Growth,
    /// How long it must have boiled hard to destroy a toxin.
    Boiling,
    /// What its warm hours may have left in it.
    SporeToxin,
    /// What heat does not mend.
    Preparation,
}

impl Topic {
    /// Every topic, in the order in which findings are told.
    pub const ALL: [Topic; 10] = [
        Topic::Preparation,
        Topic::Boiling,
        Topic::SporeToxin,
        Topic::HotHolding,
        Topic::ColdHolding,
        Topic::TimeLimit,
        Topic::Cooking,
        Topic::Cooling,
        Topic::Growth,
        Topic::Reheating,
    ];

    /// In words.
    pub fn name(self) -> &'static str {
        match self {
            Topic::HotHolding => "hot holding",
            Topic::ColdHolding => "cold holding",
            Topic::TimeLimit => "time when lukewarm",
            Topic::Cooking => "cooking through",
            Topic::Cooling => "cooling",
            Topic::Reheating => "reheating",
            Topic::Growth => "growth while cooling",
            Topic::Boiling => "full boil",
            Topic::SporeToxin => "toxin of spores",
            Topic::Preparation => "preparation",
        }
    }
}

/// The rule of a limit.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Rule {
    /// Kept at this temperature or above until it is eaten.
    HotHolding {
        /// The temperature.
        at_least: Temperature,
    },
    /// Kept at this temperature or below until it is eaten.
    ColdHolding {
        /// The temperature.
        at_most: Temperature,
    },
    /// Between two temperatures for no longer than this in all.
    TimeLimit {
        /// Lower end of the band.
        from: Temperature,
        /// Upper end of the band.
        to: Temperature,
        /// Time in the band.
        at_most: Time,
        /// Applies only in rooms warmer than this.
        room_above: Option<Temperature>,
    },
    /// Every spot at this temperature for so long in one go.
    Cooking {
        /// The temperature.
        temperature: Temperature,
        /// How long; zero if reaching it is enough.
        held: Time,
    },
    /// Any pair of temperature and time, joined by a straight line of log time over temperature.
    Equivalent(Equivalents),
    /// From one temperature down to another within this time.
    Cooling {
        /// The higher temperature.
        from: Temperature,
        /// The lower temperature.
        to: Temperature,
        /// The time.
        within: Time,
    },
    /// Made hot again: any of the pairs of temperature and time.
    Reheating {
        /// The pairs.
        rows: Equivalents,
        /// It may take no longer than this to get there.
        within: Option<Time>,
    },
    /// *C. perfringens* grows by no more than so many powers of ten.
    Growth {
        /// Powers of ten.
        at_most: Ratio,
    },
    /// An organism that is not computed grows not at all: the food stays outside the temperatures at which it does.
    NoGrowth {
        /// Lowest temperature of its growth.
        from: Temperature,
        /// Highest temperature of its growth.
        to: Temperature,
    },
    /// Boiled hard for so long after a soak.
    Boiling {
        /// Temperature of the boil.
        temperature: Temperature,
        /// How long.
        time: Time,
        /// Soak before, its water thrown away.
        soak: Time,
    },
    /// Spores that leave a toxin behind if the dish was below `to` for longer than `at_most`.
    SporeToxin {
        /// They may grow below this temperature.
        to: Temperature,
        /// Longer than this is taken to be too long.
        at_most: Time,
    },
    /// Needs a preparation that no temperature tells of.
    Preparation,
}

/// Temperatures so near to that of a row are that of the row, K.
const ROW: f64 = 1e-9;

/// Pairs of temperature and time that do the same, by rising temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct Equivalents {
    rows: Vec<(f64, f64)>,
}

impl Equivalents {
    /// The pairs.
    pub fn rows(&self) -> impl Iterator<Item = (Temperature, Time)> {
        self.rows.iter().map(|(t, s)| (Temperature::from_si(*t), Time::from_si(*s)))
    }

    /// The z of the straight line of log time over temperature that fits the rows best (least squares): what the rows come
    /// to, to compare tables by. Findings go by the rows ([`Equivalents::time_at`]). `None` with fewer than two rows.
    pub fn fitted_z(&self) -> Option<TemperatureInterval> {
        Some(TemperatureInterval::from_si(self.fit()?.0))
    }

    /// The time by that line at a temperature: how far off a row is. `None` with fewer than two rows.
    pub fn fitted_time(&self, temperature: Temperature) -> Option<Time> {
        let (z, mean, log) = self.fit()?;
        Some(Time::from_si(10f64.powf(log - (temperature.si() - mean) / z)))
    }

    /// z, mean temperature, mean log time.
    fn fit(&self) -> Option<(f64, f64, f64)> {
        let count = self.rows.len() as f64;
        if self.rows.len() < 2 {
            return None;
        }
        let mean = self.rows.iter().map(|row| row.0).sum::<f64>() / count;
        let log = self.rows.iter().map(|row| row.1.log10()).sum::<f64>() / count;
        let spread: f64 = self.rows.iter().map(|row| (row.0 - mean).powi(2)).sum();
        let slope = self.rows.iter().map(|row| (row.0 - mean) * (row.1.log10() - log)).sum::<f64>() / spread;
        Some((-1.0 / slope, mean, log))
    }

    /// The time that is asked for at a temperature, by which findings go: at a row that of the row, to the digits that are
    /// printed; between rows on the straight line of log time; above the last row that of the last; `None` below the first
    /// row, where the table gives no credit.
    pub fn time_at(&self, temperature: Temperature) -> Option<Time> {
        self.required(temperature.si()).map(Time::from_si)
    }

    /// The same, s of K.
    pub(super) fn required(&self, temperature: f64) -> Option<f64> {
        // A row said in another unit is met to rounding.
        let after = self.rows.partition_point(|row| row.0 <= temperature + ROW);
        match (after.checked_sub(1).and_then(|i| self.rows.get(i)), self.rows.get(after)) {
            (None, _) => None,
            (Some(low), None) => Some(low.1),
            (Some(low), Some(high)) => {
                let share = ((temperature - low.0) / (high.0 - low.0)).max(0.0);
                Some(10f64.powf(low.1.log10() + share * (high.1.log10() - low.1.log10())))
            }
        }
    }

    /// The temperature (K) at which two minutes are asked for, by the rows; the last one where none asks for as little.
    fn at_two_minutes(&self) -> f64 {
        const TWO_MINUTES: f64 = 120.0;
        let after = self.rows.partition_point(|row| row.1 > TWO_MINUTES);
        match (after.checked_sub(1).and_then(|i| self.rows.get(i)), self.rows.get(after)) {
            (None, None) => 0.0,
            (Some(last), None) => last.0,
            (None, Some(first)) => first.0,
            (Some(low), Some(high)) => {
                let share = (TWO_MINUTES / low.1).ln() / (high.1 / low.1).ln();
                low.0 + share * (high.0 - low.0)
            }
        }
    }

    /// The pairs, K and s.
    pub(super) fn pairs(&self) -> &[(f64, f64)] {
        &self.rows
    }

    pub(super) fn temperatures(&self) -> Vec<f64> {
        self.rows.iter().map(|row| row.0).collect()
    }
}

/// A limit with its provenance. The wording is ours; the source has its own, and it is the source that counts.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    id: String,
    name: String,
    places: Vec<String>,
    setting: Setting,
    year: Option<u16>,
    rule: Rule,
    concerns: Vec<Hazard>,
    condition: Option<String>,
    evidence: Evidence,
}

impl Limit {
    /// The limits that come with the crate (`materials/food/guidance.toml`); read once, at the first use.
    pub fn shelf() -> &'static Shelf<Limit> {
        static SHELF: OnceLock<Shelf<Limit>> = OnceLock::new();
        SHELF.get_or_init(|| Shelf::embedded(&[("guidance.toml", include_str!("../../materials/food/guidance.toml"))]))
    }

    /// The id.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// The limit in our words.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Where it holds.
    pub fn places(&self) -> &[String] {
        &self.places
    }

    /// For whom it is written.
    pub fn setting(&self) -> Setting {
        self.setting
    }

    /// Year of the text it was taken from, where known.
    pub fn year(&self) -> Option<u16> {
        self.year
    }

    /// The rule.
    pub fn rule(&self) -> &Rule {
        &self.rule
    }

    /// The hazards for whose dishes it holds; empty for every dish.
    pub fn concerns(&self) -> &[Hazard] {
        &self.concerns
    }

    /// A condition that we cannot check; a limit with one is never taken for the strictest.
    pub fn condition(&self) -> Option<&str> {
        self.condition.as_deref()
    }

    /// What it rests on.
    pub fn evidence(&self) -> &Evidence {
        &self.evidence
    }

    /// What it is about.
    pub fn topic(&self) -> Topic {
        match self.rule {
            Rule::HotHolding { .. } => Topic::HotHolding,
            Rule::ColdHolding { .. } => Topic::ColdHolding,
            Rule::TimeLimit { .. } => Topic::TimeLimit,
            Rule::Cooking { .. } | Rule::Equivalent(_) => Topic::Cooking,
            Rule::Cooling { .. } => Topic::Cooling,
            Rule::Reheating { .. } => Topic::Reheating,
            Rule::Growth { .. } | Rule::NoGrowth { .. } => Topic::Growth,
            Rule::Boiling { .. } => Topic::Boiling,
            Rule::SporeToxin { .. } => Topic::SporeToxin,
            Rule::Preparation => Topic::Preparation,
        }
    }

    /// How strict it is among limits of its topic: the greater, the stricter.
    pub(super) fn strictness(&self) -> f64 {
        match &self.rule {
            Rule::HotHolding { at_least } => at_least.si(),
            Rule::ColdHolding { at_most } => -at_most.si(),
            // A shorter time counts before a wider band.
            Rule::TimeLimit { from, to, at_most, .. } => -at_most.si() + 1e-3 * (to.si() - from.si()),
            Rule::Cooking { temperature, held } => temperature.si() + 1e-6 * held.si(),
            // Where it asks for two minutes; where tables agree there, the one that asks for more at 65 °C.
            Rule::Equivalent(table) => {
                let longer = table.required(celsius(65.0).si()).unwrap_or(0.0);
                table.at_two_minutes() + 1e-4 * longer
            }
            Rule::Cooling { from, to, within } => (from.si() - to.si()) / within.si(),
            Rule::Reheating { rows, .. } => rows.temperatures().last().copied().unwrap_or(0.0),
            Rule::Growth { at_most } => -at_most.si(),
            Rule::NoGrowth { .. } => 0.0,
            Rule::Boiling { time, .. } => time.si(),
            Rule::SporeToxin { to, at_most } => to.si() - 1e-3 * at_most.si(),
            Rule::Preparation => 0.0,
        }
    }

    /// Place and year as they stand in messages: "United Kingdom, 2006".
    pub(super) fn origin(&self) -> String {
        let places = self.places.join(" and ");
        match self.year {
            Some(year) => format!("{places}, {year}"),
            None => places,
        }
    }
}

impl Entry for Limit {
    const WHAT: &'static str = "limit";
    fn id(&self) -> &str {
        &self.id
    }
    fn title(&self) -> &str {
        &self.name
    }
}

const COMMON: [&str; 10] =
    ["name", "places", "setting", "year", "topic", "concerns", "condition", EVIDENCE[0], EVIDENCE[1], EVIDENCE[2]];

#[derive(Clone, Copy)]
enum Form {
    HotHolding,
    ColdHolding,
    TimeLimit,
    Cooking,
    Equivalent,
    Cooling,
    Reheating,
    Growth,
    NoGrowth,
    Boiling,
    SporeToxin,
    Preparation,
}

const FORMS: [(&str, Form); 12] = [
    ("hot-holding", Form::HotHolding),
    ("cold-holding", Form::ColdHolding),
    ("time-limit", Form::TimeLimit),
    ("cooking", Form::Cooking),
    ("equivalent", Form::Equivalent),
    ("cooling", Form::Cooling),
    ("reheating", Form::Reheating),
    ("growth", Form::Growth),
    ("no-growth", Form::NoGrowth),
    ("boiling", Form::Boiling),
    ("spore-toxin", Form::SporeToxin),
    ("preparation", Form::Preparation),
];

impl ReadEntry for Limit {
    fn read(id: &str, section: &Section<'_>, sources: &Sources) -> Result<Self, Error> {
        let form = section.word("topic", &FORMS)?;
        let own: &[&str] = match form {
            Form::HotHolding => &["at-least"],
            Form::ColdHolding => &["at-most"],
            Form::TimeLimit => &["from", "to", "at-most", "room-above"],
            Form::Cooking => &["temperature", "held"],
            Form::Equivalent => &["rows"],
            Form::Reheating => &["rows", "within"],
            Form::NoGrowth => &["from", "to"],
            Form::Cooling => &["from", "to", "within"],
            Form::Growth => &["at-most"],
            Form::Boiling => &["temperature", "time", "soak"],
            Form::SporeToxin => &["to", "at-most"],
            Form::Preparation => &[],
        };
        let known: Vec<&str> = COMMON.iter().chain(own).copied().collect();
        section.only(&known)?;
        let settings = [
            ("household", Setting::Household),
            ("catering", Setting::Catering),
            ("industry", Setting::Industry),
            ("equipment", Setting::Equipment),
        ];
        let list = |key: &str| section.require(key, "a list in square brackets")?.list();
        let places: Vec<String> =
            list("places")?.iter().map(|item| item.text().map(str::to_owned)).collect::<Result<_, _>>()?;
        if places.is_empty() {
            return Err(section.place(Error::new(ErrorKind::Data, "names no place").with_accepted("at least one")));
        }
        Ok(Limit {
            id: id.to_owned(),
            name: section.require("name", "the limit in words, in quotes")?.text()?.to_owned(),
            places,
            setting: section.word("setting", &settings)?,
            year: year(section)?,
            rule: rule(form, section)?,
            concerns: list("concerns")?.iter().map(|item| item.word(&Hazard::WORDS)).collect::<Result<_, _>>()?,
            condition: section.text("condition")?,
            evidence: evidence(section, sources)?,
        })
    }
}

fn bounded<Q: Spoken>(section: &Section<'_>, key: &str, low: Q, high: Q) -> Result<Q, Error> {
    let quantity: Q = section.quantity(key)?;
    in_range(key, quantity, low, high).map_err(|error| section.place(error))?;
    Ok(quantity)
}

fn rule(form: Form, section: &Section<'_>) -> Result<Rule, Error> {
    let heat = |key: &str| bounded(section, key, celsius(-5.0), celsius(130.0));
    let span = |key: &str| bounded(section, key, minutes(0.0), hours(100.0));
    let falling = |high: Temperature, low: Temperature| {
        if high > low {
            return Ok(());
        }
        Err(section.place(Error::new(ErrorKind::Inconsistent, "the band of temperatures is empty")))
    };
    Ok(match form {
        Form::HotHolding => Rule::HotHolding { at_least: heat("at-least")? },
        Form::ColdHolding => Rule::ColdHolding { at_most: heat("at-most")? },
        Form::TimeLimit => {
            let (from, to) = (heat("from")?, heat("to")?);
            falling(to, from)?;
            let room_above = section.get("room-above").map(|item| item.quantity()).transpose()?;
            Rule::TimeLimit { from, to, at_most: span("at-most")?, room_above }
        }
        Form::Cooking => Rule::Cooking { temperature: heat("temperature")?, held: span("held")? },
        Form::Equivalent => Rule::Equivalent(table(section)?),
        Form::Reheating => {
            let within = section.get("within").map(|_| bounded(section, "within", minutes(1.0), hours(100.0)));
            Rule::Reheating { rows: table(section)?, within: within.transpose()? }
        }
        Form::NoGrowth => {
            let (from, to) = (heat("from")?, heat("to")?);
            falling(to, from)?;
            Rule::NoGrowth { from, to }
        }
        Form::Cooling => {
            let (from, to) = (heat("from")?, heat("to")?);
            falling(from, to)?;
            Rule::Cooling { from, to, within: bounded(section, "within", minutes(1.0), hours(100.0))? }
        }
        Form::Growth => {
            let item = section.require("at-most", "powers of ten, above 0")?;
            let ratio = item.ratio()?;
            in_range("at-most", ratio, Ratio::from_si(0.01), Ratio::from_si(8.0)).map_err(|error| item.place(error))?;
            Rule::Growth { at_most: ratio }
        }
        Form::Boiling => Rule::Boiling { temperature: heat("temperature")?, time: span("time")?, soak: span("soak")? },
        Form::SporeToxin => Rule::SporeToxin { to: heat("to")?, at_most: span("at-most")? },
        Form::Preparation => Rule::Preparation,
    })
}

fn table(section: &Section<'_>) -> Result<Equivalents, Error> {
    let item: Item<'_> = section.require("rows", "[[\"70 °C\", \"2 min\"], ...]")?;
    let rows: Vec<(f64, f64)> = item
        .list()?
        .iter()
        .map(|row| {
            let (temperature, time) = row.pair()?;
            let (t, s): (Temperature, Time) = (temperature.quantity()?, time.quantity()?);
            in_range("temperature", t, celsius(40.0), celsius(130.0)).map_err(|error| temperature.place(error))?;
            in_range("time", s, Time::from_si(0.1), hours(100.0)).map_err(|error| time.place(error))?;
            Ok((t.si(), s.si()))
        })
        .collect::<Result<_, Error>>()?;
    let rising = rows.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 >= pair[1].1);
    if rows.is_empty() || !rising || (rows.len() > 1 && rows[0].1 <= rows[rows.len() - 1].1) {
        let error = Error::new(ErrorKind::Data, "rows do not rise in temperature and fall in time");
        return Err(item.place(error.with_accepted("at least one row")));
    }
    Ok(Equivalents { rows })
}
