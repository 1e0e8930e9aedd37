//! What things cost, and what a change costs more.

use super::variant::Variant;
use crate::document::nearest;
use crate::error::{Error, ErrorKind, Within};
use crate::setup::{MaterialUse, Setup};
use crate::units::Si;
use crate::units::bounds::number_in_range;

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

/// What things cost: materials by how much of them is used, and whole changes, such as a seal, straps, tape or another pot.
///
/// ```
/// use stillhot::study::{Asked, MaterialPrice, Prices};
/// use stillhot::units::celsius;
///
/// // Invented.
/// let prices = Prices::default()
///     .in_currency("EUR")
///     .with_material("expanded-cork-board", MaterialPrice::PerCubicMetre(350.0))
///     .with_change("a soft gasket", 6.0);
/// let asked = Asked::above(celsius(63.0)).with_prices(prices);
/// # assert_eq!(asked.prices().currency(), Some("EUR"));
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Prices {
    currency: Option<String>,
    materials: Vec<(String, MaterialPrice)>,
    changes: Vec<(String, f64)>,
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

impl Prices {
    /// The same in money of this name, for those who read the answers.
    #[must_use]
    pub fn in_currency(mut self, name: &str) -> Self {
        self.currency = Some(name.to_owned());
        self
    }

    /// The same with what a material costs, 0 to 10⁹, by its name in the catalogue.
    #[must_use]
    pub fn with_material(mut self, material: &str, price: MaterialPrice) -> Self {
        self.materials.push((material.to_owned(), price));
        self
    }

    /// The same with what a change costs in all, 0 to 10⁹, in place of its materials: by the name of the variant, or by a
    /// beginning of it that no other one has.
    #[must_use]
    pub fn with_change(mut self, change: &str, amount: f64) -> Self {
        self.changes.push((change.to_owned(), amount));
        self
    }

    /// What the money is called.
    pub fn currency(&self) -> Option<&str> {
        self.currency.as_deref()
    }

    /// Whether nothing has a price.
    pub fn is_empty(&self) -> bool {
        self.materials.is_empty() && self.changes.is_empty()
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        fn twice<T>(list: &[(String, T)]) -> Result<(), Error> {
            let again =
                list.iter().enumerate().find(|(i, (name, _))| list[..*i].iter().any(|(other, _)| other == name));
            match again {
                None => Ok(()),
                Some((_, (name, _))) => {
                    Err(Error::new(ErrorKind::Inconsistent, "has two prices").within(name.clone()).within("price"))
                }
            }
        }
        twice(&self.materials)?;
        twice(&self.changes)?;
        let amounts = self.materials.iter().map(|(name, price)| {
            let (MaterialPrice::PerSquareMetre(amount)
            | MaterialPrice::PerKilogram(amount)
            | MaterialPrice::PerCubicMetre(amount)) = price;
            (name, amount)
        });
        for (name, amount) in amounts.chain(self.changes.iter().map(|(name, amount)| (name, amount))) {
            number_in_range("price", *amount, 0.0, 1e9).within(name.clone())?;
        }
        Ok(())
    }

    /// What each of the changes with these names costs that has a price of its own, and what is wrong with prices of which it
    /// is not clear which change is meant.
    pub(super) fn of_changes(&self, names: &[&str]) -> (Vec<(String, f64)>, Vec<Error>) {
        let (mut known, mut wrong) = (Vec::new(), Vec::new());
        for (given, amount) in &self.changes {
            let exact: Vec<&&str> = names.iter().filter(|name| *name == given).collect();
            let meant = match &exact[..] {
                [] => names.iter().filter(|name| name.starts_with(given.as_str())).collect(),
                _ => exact,
            };
            let problem =
                |text: &str| Error::new(ErrorKind::UnknownName, text).with_value(given.clone()).within("price");
            match &meant[..] {
                [one] => known.push(((**one).to_owned(), *amount)),
                [] => {
                    let near = nearest(given, names.iter().map(|name| (*name, "")));
                    let accepted = "how the name of a change of this list begins";
                    wrong.push(problem("no change is called so here").with_nearest(near).with_accepted(accepted));
                }
                several => {
                    let several: Vec<&str> = several.iter().map(|name| **name).collect();
                    wrong.push(problem("several changes begin so").with_accepted(several.join("; ")));
                }
            }
        }
        (known, wrong)
    }

    /// What a shell costs; nothing if no material has a price.
    pub(super) fn cost(&self, setup: &Setup) -> Option<Cost> {
        (!self.materials.is_empty()).then(|| {
            let mut cost = Cost { amount: 0.0, unpriced: Vec::new() };
            for used in setup.materials_used() {
                match self.of(&used.material) {
                    Some(price) => cost.amount += price.of(&used),
                    None => cost.unpriced.push(used.material),
                }
            }
            cost
        })
    }

    /// What a variant costs more than a base by its materials. Nothing where no price tells: of a material of which more or less
    /// is used, or because something else is changed.
    pub(super) fn dearer(&self, variant: &Variant, base: &Variant) -> Option<f64> {
        if self.is_empty() {
            return None;
        }
        if variant.setup() == base.setup() {
            return Some(0.0);
        }
        let (uses, of_base) = (variant.setup().materials_used(), base.setup().materials_used());
        let names = uses.iter().chain(of_base.iter().filter(|used| amount_of(&uses, &used.material).is_none()));
        let mut more = None;
        for MaterialUse { material, .. } in names {
            let (here, there) = (amount_of(&uses, material), amount_of(&of_base, material));
            if here == there {
                continue;
            }
            let price = self.of(material)?;
            let of = |used: Option<&MaterialUse>| used.map_or(0.0, |used| price.of(used));
            *more.get_or_insert(0.0) += of(here) - of(there);
        }
        more
    }

    fn of(&self, material: &str) -> Option<&MaterialPrice> {
        self.materials.iter().find(|(priced, _)| priced == material).map(|(_, price)| price)
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
