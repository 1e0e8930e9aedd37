//! What a food consists of.

use super::provenance::Evidence;
use crate::error::{Error, ErrorKind};
use crate::units::{Ratio, Si};

/// Mass fractions of a food: the inputs of composition models for its properties.
#[derive(Debug, Clone, PartialEq)]
pub struct Composition {
    pub(crate) water: f64,
    pub(crate) protein: f64,
    pub(crate) fat: f64,
    pub(crate) carbohydrate: f64,
    pub(crate) fibre: f64,
    pub(crate) ash: f64,
    pub(crate) evidence: Evidence,
}

impl Composition {
    /// The keys in a file, in this order.
    pub(crate) const KEYS: [&'static str; 6] = ["water", "protein", "fat", "carbohydrate", "fibre", "ash"];

    pub(crate) fn new(fractions: [f64; 6], evidence: Evidence) -> Result<Self, Error> {
        for (key, fraction) in Self::KEYS.iter().zip(fractions) {
            if !(0.0..=1.0).contains(&fraction) {
                return Err(Error::new(ErrorKind::OutOfRange, "mass fraction is out of range")
                    .with_value(fraction.to_string())
                    .with_accepted("0 to 1")
                    .within(*key));
            }
        }
        let sum: f64 = fractions.iter().sum();
        if (sum - 1.0).abs() > 0.03 {
            return Err(Error::new(ErrorKind::Inconsistent, "mass fractions do not add up")
                .with_value(format!("{sum:.3}"))
                .with_accepted("0.97 to 1.03"));
        }
        let [water, protein, fat, carbohydrate, fibre, ash] = fractions;
        Ok(Composition { water, protein, fat, carbohydrate, fibre, ash, evidence })
    }

    /// Mass fraction of water.
    pub fn water(&self) -> Ratio {
        Ratio::from_si(self.water)
    }

    /// Mass fraction of protein.
    pub fn protein(&self) -> Ratio {
        Ratio::from_si(self.protein)
    }

    /// Mass fraction of fat.
    pub fn fat(&self) -> Ratio {
        Ratio::from_si(self.fat)
    }

    /// Mass fraction of carbohydrate without fibre.
    pub fn carbohydrate(&self) -> Ratio {
        Ratio::from_si(self.carbohydrate)
    }

    /// Mass fraction of fibre.
    pub fn fibre(&self) -> Ratio {
        Ratio::from_si(self.fibre)
    }

    /// Mass fraction of ash (minerals).
    pub fn ash(&self) -> Ratio {
        Ratio::from_si(self.ash)
    }

    /// What the fractions rest on. Tables round: the six may add up to 0.97 to 1.03.
    pub fn evidence(&self) -> &Evidence {
        &self.evidence
    }
}
