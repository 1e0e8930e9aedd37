//! What a cook wants to know of a case: is it done, within which guidance, what to do, what was saved.

use super::answer::Answer;
use super::layout::paragraph;
use serde_json::{Value, json};
use stillhot::case::Case;
use stillhot::food::{Curve, DishFacts, Finding, Fuel, Guidance, Message, Moments, PlanFacts, Verdict};
use stillhot::food::{simmer_power, simmer_to_be_done, verdict};
use stillhot::units::{Si, TemperatureInterval, Time, hours, minutes, parse};
use stillhot::{Error, Moment, Plan};

/// What is told of the dish beside the case.
#[derive(Debug, Clone)]
pub struct Cook {
    /// Of the dish list; not told: what the case says.
    pub dish: Option<String>,
    /// Whose guidance; not told: the strictest.
    pub place: Option<String>,
    /// Of the fuel list.
    pub fuel: String,
    /// At a full boil, and in soak, before.
    pub boil: Time,
    pub soak: Time,
    /// On a walk of so many meals.
    pub meals: Option<u32>,
    /// By how much its coldest spot lies under the temperature computed, as measured.
    pub colder: Option<TemperatureInterval>,
}

pub const OPTIONS: &str =
    "  --dish ID         judge it as this dish (red-lentils, white-rice, beef-stew, ...), whatever kind
                    the case names
  --place NAME      whose guidance counts (\"Germany\", ...); without it the strictest of household
                    and catering
  --boil TIME       boiled hard for so long before (\"10 min\")
  --soak TIME       soaked for so long, the water thrown away
  --edge-colder K   of a thick dish: its edge is at most so much colder than its mean, as you
                    measured (\"6 K\")
  --fuel ID         what the stove burns (lpg-hob, camp-gas, induction-hob, ...)
  --meals N         so many such meals on a walk: how heavy may the sleeve be?
";

impl Cook {
    /// Nothing told but the fuel.
    pub fn with_fuel(fuel: &str) -> Self {
        let none = minutes(0.0);
        Cook { dish: None, place: None, fuel: fuel.to_owned(), boil: none, soak: none, meals: None, colder: None }
    }

    /// Takes an option with its value; false if it is none of these.
    pub fn take(&mut self, option: &str, value: &str) -> Result<bool, String> {
        let time = || parse::<Time>(value).map_err(|error| format!("{option}: {error}"));
        match option {
            "--dish" => self.dish = Some(value.to_owned()),
            "--place" => self.place = Some(value.to_owned()),
            "--fuel" => value.clone_into(&mut self.fuel),
            "--boil" => self.boil = time()?,
            "--soak" => self.soak = time()?,
            "--edge-colder" => self.colder = Some(parse(value).map_err(|error| format!("{option}: {error}"))?),
            "--meals" => {
                let meals = value.parse().map_err(|_| format!("--meals: {value:?} is no whole number"))?;
                self.meals = Some(meals);
            }
            _ => return Ok(false),
        }
        Ok(true)
    }

    /// The course of the coldest spot, as computed and as measured.
    pub fn coldest(&self, curve: Curve) -> Result<Curve, Error> {
        match self.colder {
            Some(by) => curve.with_coldest_spot_below(by),
            None => Ok(curve),
        }
    }

    /// The dish that is judged: that of the command line, else that of the case, else any.
    fn judged_as<'c>(&self, case: &'c Case) -> Result<&'c DishFacts, Error> {
        match (&self.dish, &case.kind) {
            (Some(id), _) => DishFacts::named(id),
            (None, Some(kind)) => Ok(kind),
            (None, None) => DishFacts::unlisted(),
        }
    }

    /// Where the dish of the command line is not that of the case: both names, and what is done about it.
    pub fn disagreement(&self, case: &Case) -> Result<Option<String>, Error> {
        let Some(id) = &self.dish else { return Ok(None) };
        let judged = DishFacts::named(id)?;
        let heated = case.setup.pot().contents().map(|(dish, _)| dish.material());
        let usual = judged.material().filter(|usual| heated.is_some_and(|heated| heated.id() != usual.id()));
        let heat = heated.map_or(String::new(), |food| format!(" Its heat is computed as that of {}.", food.name()));
        Ok(match (&case.kind, usual) {
            (Some(kind), _) if kind.id() == judged.id() => None,
            (Some(kind), _) => Some(format!(
                "The case says {}, the command line {}: judged as the latter.{heat}",
                kind.name(),
                judged.name()
            )),
            (None, Some(usual)) => {
                Some(format!("Judged as {}, which is usually {}.{heat}", judged.name(), usual.name()))
            }
            (None, None) => None,
        })
    }

    pub fn verdict(&self, answer: &Answer<'_>) -> Result<Verdict, Error> {
        let case = answer.case;
        let dish = self.judged_as(case)?;
        let facts = PlanFacts::of_setup(&case.setup, &case.plan).full_boil(self.boil).soaked(self.soak);
        let guidance = self.place.as_ref().map_or(Guidance::Strictest, |place| Guidance::of(place));
        let power = simmer_power(case.setup.pot(), true)?;
        let curve = &answer.curve;
        let mut verdict = verdict(curve, dish, &guidance, &facts)?;
        if verdict.doneness.is_some_and(|doneness| !doneness.is_done_at_cautious_end()) {
            // Only pieces feel the length of a simmer; a pot without them leaves the stove the same.
            let curve_of = |plan: &Plan| match case.setup.pot().pieces() {
                [] => Ok(curve.clone()),
                _ => self.coldest(Curve::try_from(&case.setup.forecast_with(plan, &case.options)?)?),
            };
            verdict = verdict.with_simmer(&simmer_to_be_done(dish, &facts, hours(4.0), curve_of)?);
        }
        let verdict = verdict.with_saving(Fuel::named(&self.fuel)?, power)?;
        match self.meals {
            Some(meals) if verdict.saving.is_some_and(|saving| saving.mass.is_some()) => verdict.with_walk(meals),
            _ => Ok(verdict),
        }
    }
}

/// The verdict for people, cautions included.
pub fn page(cook: &Cook, case: &Case, verdict: &Verdict) -> Result<String, Error> {
    let mut text = paragraph("  ", &verdict.done.text);
    if let Some(disagreement) = cook.disagreement(case)? {
        text += &paragraph("  ! ", &disagreement);
    }
    text += &verdict.findings.iter().map(|finding| paragraph("  - ", &finding.message.text)).collect::<String>();
    if cook.dish.is_none() && case.kind.is_none() {
        text += &paragraph("  ", "(Tell which dish it is: kind = \"...\" under [dish], or --dish; --help names some.)");
    }
    if cook.place.is_none() {
        text += &paragraph("  ", "(The strictest rule of household or catering known here; name yours with --place.)");
    }
    let all = |messages: &[Message]| messages.iter().map(|m| m.text.clone()).collect::<Vec<_>>().join(" ");
    text += &paragraph("  ", &format!("What to do: {}", all(&verdict.to_do)));
    for message in verdict.grown.iter().chain(&verdict.saved).chain(&verdict.break_even) {
        text += &paragraph("  ", &message.text);
    }
    Ok(text + &paragraph("  ! ", &format!("Take care: {}", all(&verdict.cautions))))
}

pub const KEYS: &str =
    "  verdict                   done, to_do[], grown, saved, break_even, cautions[]: messages of code,
                            text and fields[] (name, value), to be shown unedited or translated in
                            full; findings[]: limit, topic, places[], outcome (\"meets\",
                            \"misses\", \"cannot tell\"), cautious_hours, best_hours,
                            generous_hours, message, to_do; disagreement: where the command line
                            names another dish than the case, or null
";

pub fn json(cook: &Cook, case: &Case, verdict: &Verdict) -> Result<Value, Error> {
    let list = |messages: &[Message]| messages.iter().map(message).collect::<Vec<_>>();
    Ok(json!({
        "disagreement": cook.disagreement(case)?,
        "done": message(&verdict.done),
        "findings": verdict.findings.iter().map(finding).collect::<Vec<_>>(),
        "to_do": list(&verdict.to_do),
        "grown": verdict.grown.as_ref().map(message),
        "saved": verdict.saved.as_ref().map(message),
        "break_even": verdict.break_even.as_ref().map(message),
        "cautions": list(&verdict.cautions),
    }))
}

fn message(message: &Message) -> Value {
    let fields = message.fields.iter().map(|(name, value)| json!({ "name": name, "value": value }));
    json!({ "code": message.code, "text": message.text, "fields": fields.collect::<Vec<_>>() })
}

fn finding(finding: &Finding) -> Value {
    let hours = |of: fn(&Moments) -> Moment| {
        finding.moments.as_ref().and_then(|moments| of(moments).time()).map(|time| time.si() / 3600.0)
    };
    json!({
        "limit": finding.limit.id(),
        "topic": finding.topic().name(),
        "places": finding.limit.places(),
        "outcome": finding.outcome.to_string(),
        "cautious_hours": hours(|moments| moments.cautious),
        "best_hours": hours(|moments| moments.best),
        "generous_hours": hours(|moments| moments.generous),
        "message": message(&finding.message),
        "to_do": message(&finding.to_do),
    })
}
