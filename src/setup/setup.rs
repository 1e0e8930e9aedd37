//! Pot and shell together.

use super::forecast::Forecast;
use super::{Companion, Face, Options, Plan, Pot, Range, Shell};
use crate::error::Error;
use crate::units::{HeatTransfer, Si, watts_per_square_metre_kelvin};

/// A pot with its dish in a box or sleeve: what it is, without what happens to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    pot: Pot,
    shell: Shell,
    companions: Vec<Companion>,
    films: Option<ConstantFilms>,
}

/// Surface coefficients taken as constant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ConstantFilms {
    pub(crate) inside: Range<HeatTransfer>,
    pub(crate) outside: Range<HeatTransfer>,
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
        Ok(Setup { pot, shell, companions: Vec::new(), films: None })
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

    /// The same with constant surface coefficients, 0.1 to 1000 W/(m² K), in place of the published relations: `inside`
    /// from the pot to the inner faces of the walls over their area, the base included whatever it stands on, and from a
    /// second body to them over its own surface, in shares of their areas (nothing then passes through the air between
    /// while the box is shut), `outside` on all outer faces, the base against what it rests on. For comparisons with
    /// textbook solutions and with measured films.
    ///
    /// # Errors
    /// A coefficient outside its range.
    pub fn with_constant_films(
        mut self,
        inside: Range<HeatTransfer>,
        outside: Range<HeatTransfer>,
    ) -> Result<Self, Error> {
        let (low, high) = (watts_per_square_metre_kelvin(0.1), watts_per_square_metre_kelvin(1000.0));
        inside.check("inside film", low, high)?;
        outside.check("outside film", low, high)?;
        self.films = Some(ConstantFilms { inside, outside });
        Ok(self)
    }

    /// Surface coefficients taken as constant, if so.
    pub(crate) fn films(&self) -> Option<ConstantFilms> {
        self.films
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

    /// The same with a lid that does not leak at all and boards fitted tightly: the best these walls could do.
    #[must_use]
    pub fn tight(&self) -> Self {
        Setup {
            pot: self.pot.clone(),
            shell: self.shell.tight(),
            companions: self.companions.clone(),
            films: self.films,
        }
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
