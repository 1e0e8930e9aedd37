//! Pot and shell together.

use super::forecast::Forecast;
use super::{Companion, Face, Input, Options, Plan, Pot, Range, Shell};
use crate::error::Error;
use crate::network::shelf::Shelf;
use crate::units::{HeatTransfer, Si, watts_per_square_metre_kelvin};

/// A pot with its dish in a box or sleeve: what it is, without what happens to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    pot: Pot,
    shell: Shell,
    companions: Vec<Companion>,
    films: Option<ConstantFilms>,
    pins: Vec<(Input, f64)>,
    shelf: Shelf,
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
        Setup {
            pot,
            shell: shell.into(),
            companions: Vec::new(),
            films: None,
            pins: Vec::new(),
            shelf: Shelf::default(),
        }
        .checked()
    }

    /// The same setup with another pot and another box or sleeve; what is pinned about a material stays with it.
    ///
    /// # Errors
    /// As [`Setup::with_shell`].
    pub(crate) fn with_parts(&self, pot: Pot, shell: Shell) -> Result<Self, Error> {
        let new = Setup { pot, shell, pins: Vec::new(), ..self.clone() }.checked()?;
        Ok(Setup { pins: self.pins_in(&new)?, ..new })
    }

    fn checked(self) -> Result<Self, Error> {
        self.pot.check()?;
        match &self.shell {
            Shell::Box(enclosure) => enclosure.check(&self.pot)?,
            Shell::Sleeve(sleeve) => sleeve.check(&self.pot)?,
        }
        Ok(self)
    }

    /// The same with another pot.
    ///
    /// # Errors
    /// As [`Setup::new`].
    pub fn with_pot(&self, pot: Pot) -> Result<Self, Error> {
        self.with_parts(pot, self.shell.clone())
    }

    /// The same pot in another box or sleeve. What is [pinned](Self::pinned) about a material stays with it, wherever its
    /// layers are in the new one.
    ///
    /// # Errors
    /// As [`Setup::new`]; [`ErrorKind::Inconsistent`](crate::ErrorKind::Inconsistent) for a pinned material that is there no
    /// more.
    pub fn with_shell(&self, shell: impl Into<Shell>) -> Result<Self, Error> {
        self.with_parts(self.pot.clone(), shell.into())
    }

    /// The same without the second body of this place in the order given, from 0; as it is if there is none.
    #[must_use]
    pub fn without_companion(&self, index: usize) -> Self {
        let mut copy = self.clone();
        if index < copy.companions.len() {
            copy.companions.remove(index);
        }
        copy
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

    /// The same with another shelf for what it solves than one of its own: so that setups made apart share it.
    #[must_use]
    pub fn with_shelf(self, shelf: &Shelf) -> Self {
        Setup { shelf: shelf.clone(), ..self }
    }

    /// Where it keeps what it solved.
    pub fn shelf(&self) -> &Shelf {
        &self.shelf
    }

    /// Surface coefficients taken as constant, if so.
    pub(crate) fn films(&self) -> Option<ConstantFilms> {
        self.films
    }

    /// The same with other values of what is uncertain taken as exact, see [`Setup::pinned`]; unchecked.
    pub(crate) fn with_pins(&self, pins: Vec<(Input, f64)>) -> Self {
        Setup { pins, ..self.clone() }
    }

    /// What is taken as exact: at which position of its range, 0 to 1.
    pub fn pins(&self) -> &[(Input, f64)] {
        &self.pins
    }

    /// Second bodies in the box.
    pub fn companions(&self) -> &[Companion] {
        &self.companions
    }

    /// Thickness of the wall that a handle or knob passes, m.
    pub(crate) fn passed_thickness(&self, face: Face) -> f64 {
        match &self.shell {
            Shell::Box(enclosure) => enclosure.wall(face).map_or(0.0, |w| w.thickness().si()),
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
        Setup { shell: self.shell.tight(), ..self.clone() }
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
        Forecast::compute(self, plan, options, None).map(|(forecast, _)| forecast)
    }
}
