//! Pot and shell together.

use super::forecast::Forecast;
use super::{Companion, Face, Options, Plan, Pot, Shell};
use crate::error::Error;
use crate::units::Si;

/// A pot with its dish in a box or sleeve: what it is, without what happens to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    pot: Pot,
    shell: Shell,
    companions: Vec<Companion>,
}

impl Setup {
    /// Puts a pot into a box or sleeve.
    ///
    /// # Errors
    /// Everything in the description that is out of range or does not fit together, by name.
    pub fn new(pot: Pot, shell: impl Into<Shell>) -> Result<Self, Error> {
        let shell = shell.into();
        pot.check()?;
        match &shell {
            Shell::Box(enclosure) => enclosure.check(&pot)?,
            Shell::Sleeve(sleeve) => sleeve.check(&pot)?,
        }
        Ok(Setup { pot, shell, companions: Vec::new() })
    }

    /// The same with a second body in the box.
    ///
    /// # Errors
    /// A body outside its ranges.
    pub fn with_companion(mut self, companion: Companion) -> Result<Self, Error> {
        companion.check()?;
        self.companions.push(companion);
        Ok(self)
    }

    /// Second bodies in the box.
    pub fn companions(&self) -> &[Companion] {
        &self.companions
    }

    /// Thickness of the wall that a handle passes, m.
    pub(crate) fn handle_wall_thickness(&self) -> f64 {
        match &self.shell {
            Shell::Box(enclosure) => enclosure.wall(Face::Front).map_or(0.0, |w| w.thickness().si()),
            Shell::Sleeve(sleeve) => sleeve.thickness(),
        }
    }

    /// The pot.
    pub fn pot(&self) -> &Pot {
        &self.pot
    }

    /// The box or sleeve.
    pub fn shell(&self) -> &Shell {
        &self.shell
    }

    /// The same with a lid that does not leak at all: the best these walls could do.
    #[must_use]
    pub fn tight(&self) -> Self {
        Setup { pot: self.pot.clone(), shell: self.shell.tight(), companions: self.companions.clone() }
    }

    /// What becomes of it under a plan, with default [`Options`].
    ///
    /// # Errors
    /// As [`Setup::forecast_with`].
    pub fn forecast(&self, plan: &Plan) -> Result<Forecast, Error> {
        self.forecast_with(plan, &Options::default())
    }

    /// What becomes of it under a plan.
    ///
    /// # Errors
    /// A plan or option outside its range, a serving time past the horizon, or the bound on work reached.
    pub fn forecast_with(&self, plan: &Plan, options: &Options) -> Result<Forecast, Error> {
        Forecast::compute(self, plan, options)
    }
}
