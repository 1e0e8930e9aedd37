//! A setup and a plan with a name.

use crate::error::{Error, Within};
use crate::setup::{Plan, Setup};

/// A setup and a plan with a name, to be compared with others.
#[derive(Debug, Clone, PartialEq)]
pub struct Variant {
    name: String,
    setup: Setup,
    plan: Plan,
}

impl Variant {
    /// A setup and what happens to it, called so.
    pub fn new(name: &str, setup: Setup, plan: Plan) -> Self {
        Variant { name: name.to_owned(), setup, plan }
    }

    /// The same with something changed: `change` gets setup and plan and makes new ones. This variant stays as it is.
    ///
    /// # Errors
    /// What `change` could not make, with the name of the new variant.
    pub fn changed(
        &self,
        name: &str,
        change: impl FnOnce(&Setup, &Plan) -> Result<(Setup, Plan), Error>,
    ) -> Result<Self, Error> {
        let (setup, plan) = change(&self.setup, &self.plan).within(name)?;
        Ok(Variant::new(name, setup, plan))
    }

    /// The same plan with another setup.
    ///
    /// # Errors
    /// What `change` could not make, with the name of the new variant.
    pub fn with_setup(&self, name: &str, change: impl FnOnce(&Setup) -> Result<Setup, Error>) -> Result<Self, Error> {
        self.changed(name, |setup, plan| Ok((change(setup)?, plan.clone())))
    }

    /// The same setup under another plan.
    #[must_use]
    pub fn with_plan(&self, name: &str, change: impl FnOnce(Plan) -> Plan) -> Self {
        Variant::new(name, self.setup.clone(), change(self.plan.clone()))
    }

    /// What it is called.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What it is.
    pub fn setup(&self) -> &Setup {
        &self.setup
    }

    /// What happens to it.
    pub fn plan(&self) -> &Plan {
        &self.plan
    }
}
