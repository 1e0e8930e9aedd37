//! What things cost.

use super::leaf::{Findings, Leaf, each};
use crate::document::{Item, Section};
use crate::material::Catalogue;
use crate::study::{MaterialPrice, Prices};

/// A price for each ...
type Per = (&'static str, fn(f64) -> MaterialPrice);
const PER: [Per; 3] =
    [("m2", MaterialPrice::PerSquareMetre), ("kg", MaterialPrice::PerKilogram), ("m3", MaterialPrice::PerCubicMetre)];

/// The prices, none if there is no section of them; every finding noted.
pub(super) fn prices(root: &Section<'_>, catalogue: &Catalogue, findings: &mut Findings) -> Option<Prices> {
    let Some(item) = root.get("prices") else { return Some(Prices::default()) };
    let section = findings.keep(item.section())?;
    findings.refuse_unknown(&section, &["currency", "materials", "changes"]);
    let currency = Leaf::optional(findings, &section, "currency", |item| Ok(item.text()?.to_owned()));
    let materials = list(&section, "materials", findings, |item, findings| {
        let section = findings.keep(item.section())?;
        findings.refuse_unknown(&section, &["material", "amount", "per"]);
        let material = super::layers::material(&section, "material", catalogue, findings);
        let material = material.required(findings, &section, "material", "material = \"the identifier of a material\"");
        let per = Leaf::optional(findings, &section, "per", |item| item.word(&PER));
        let per = per.required(findings, &section, "per", "per = \"m2\", \"kg\" or \"m3\"");
        let amount = amount(&section, findings);
        Some((material.given()?.id().to_owned(), per.given()?(amount?)))
    });
    let changes = list(&section, "changes", findings, |item, findings| {
        let section = findings.keep(item.section())?;
        findings.refuse_unknown(&section, &["change", "amount"]);
        let change = Leaf::optional(findings, &section, "change", |item| Ok(item.text()?.to_owned()));
        let change = change.required(findings, &section, "change", "change = \"how its name begins in the list\"");
        let amount = amount(&section, findings);
        Some((change.given()?.clone(), amount?))
    });
    let prices = currency.given().iter().fold(Prices::default(), |prices, name| prices.in_currency(name));
    let prices = materials?.into_iter().fold(prices, |prices, (id, price)| prices.with_material(&id, price));
    let prices = changes?.into_iter().fold(prices, |prices, (name, amount)| prices.with_change(&name, amount));
    findings.keep(prices.check().map_err(|error| item.place(error)))?;
    (!currency.is_wrong()).then_some(prices)
}

fn list<T>(
    section: &Section<'_>,
    key: &str,
    findings: &mut Findings,
    read: impl FnMut(&Item<'_>, &mut Findings) -> Option<T>,
) -> Option<Vec<T>> {
    section.get(key).map_or(Some(Vec::new()), |list| each(&list, findings, read))
}

fn amount(section: &Section<'_>, findings: &mut Findings) -> Option<f64> {
    let amount = Leaf::optional(findings, section, "amount", Item::number);
    let amount = amount.required(findings, section, "amount", "amount = 12.5");
    let amount = amount.checked(findings, |amount| Prices::default().with_change("", *amount).check());
    amount.given().copied()
}
