//! What is taken as exact about a setup, and what becomes of it when the setup is changed.

use super::{EdgeRow, Input, LayerPlace, Plan, Setup, Shell};
use crate::error::{Error, ErrorKind, Within};
use crate::material::Material;
use crate::units::bounds::number_in_range;
use crate::units::{celsius, metres_per_second, minutes, seconds};

/// By what a material of the shell is called among the inputs: the first of its layers, else the first of its strips.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Home {
    Layer(LayerPlace),
    Filler(EdgeRow),
}

impl Home {
    /// The material that an input belongs to, if it is one of a material of the shell.
    fn of(input: Input) -> Option<Self> {
        match input {
            Input::LayerConductivity(place) | Input::LayerHeatCapacity(place) => Some(Home::Layer(place)),
            Input::FillerConductivity(row) | Input::FillerHeatCapacity(row) => Some(Home::Filler(row)),
            _ => None,
        }
    }

    /// The same property of the material that is called so.
    fn instead_of(self, input: Input) -> Input {
        let is_conductivity = matches!(input, Input::LayerConductivity(_) | Input::FillerConductivity(_));
        match (self, is_conductivity) {
            (Home::Layer(place), true) => Input::LayerConductivity(place),
            (Home::Layer(place), false) => Input::LayerHeatCapacity(place),
            (Home::Filler(row), true) => Input::FillerConductivity(row),
            (Home::Filler(row), false) => Input::FillerHeatCapacity(row),
        }
    }
}

impl Setup {
    /// The same setup with inputs taken as exact: each at a position of its range, from 0 (the cautious end) over 0.5 (the
    /// best value) to 1 (the generous end), in between linear as its [`InputScale`](crate::InputScale) says. Whatever else is
    /// uncertain keeps its range. With everything at 0 all of a forecast is its cautious end.
    ///
    /// A pin on a material stays with it when the setup is changed ([`with_shell`](Self::with_shell)), wherever its layers are
    /// then; a change that does away with the material is refused, see [`unpinned`](Self::unpinned). Other pins stay as they
    /// are, each at its position in whatever the range has become.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for another position; [`ErrorKind::Inconsistent`] for an input that this setup does not
    /// have, or that is named twice.
    pub fn pinned(&self, pins: &[(Input, f64)]) -> Result<Self, Error> {
        // A plan in which everything happens.
        let plan = Plan::in_room(celsius(20.0))
            .in_wind(metres_per_second(1.0))
            .carry(minutes(2.0))
            .open_at(minutes(1.0), seconds(1.0))
            .uncover_at(minutes(2.0), seconds(1.0));
        let known = self.inputs(&plan)?;
        let mut all = self.pins().to_vec();
        for (index, (input, position)) in pins.iter().enumerate() {
            let check = || -> Result<(), Error> {
                number_in_range("position", *position, 0.0, 1.0)?;
                let problem = |text: &str| Err(Error::new(ErrorKind::Inconsistent, text));
                if pins[..index].iter().any(|(other, _)| other == input) {
                    return problem("pinned twice");
                }
                if known.iter().all(|k| k.input != *input) {
                    return problem("this setup has no such uncertain input");
                }
                Ok(())
            };
            check().within(input.to_string())?;
            all.retain(|(other, _)| other != input);
            all.push((*input, *position));
        }
        Ok(self.with_pins(all))
    }

    /// The same setup with these inputs uncertain again; those that are not pinned stay as they are.
    #[must_use]
    pub fn unpinned(&self, inputs: &[Input]) -> Self {
        self.with_pins(self.pins().iter().filter(|(input, _)| !inputs.contains(input)).copied().collect())
    }

    /// As [`Setup::with_shell`], but what is pinned about a material that goes with the old one goes, too.
    pub(crate) fn with_shell_of_fewer(&self, shell: impl Into<Shell>) -> Result<Self, Error> {
        let free = self.with_pins(Vec::new()).with_shell(shell)?;
        let goes = |input: &Input| self.input_in(*input, &free).is_err();
        let gone: Vec<Input> = self.pins().iter().map(|(input, _)| *input).filter(goes).collect();
        let pins = self.unpinned(&gone).pins_in(&free)?;
        Ok(free.with_pins(pins))
    }

    /// What is pinned here, by the names it has in another setup.
    pub(super) fn pins_in(&self, other: &Setup) -> Result<Vec<(Input, f64)>, Error> {
        let mut pins: Vec<(Input, f64)> = Vec::with_capacity(self.pins().len());
        for (input, position) in self.pins() {
            let renamed = self.input_in(*input, other).within(input.to_string())?;
            match pins.iter().find(|(known, _)| *known == renamed) {
                Some((_, there)) if there != position => {
                    return Err(Error::new(ErrorKind::Inconsistent, "two materials pinned apart would become one")
                        .with_accepted("one of them unpinned first")
                        .within(input.to_string()));
                }
                Some(_) => {}
                None => pins.push((renamed, *position)),
            }
        }
        Ok(pins)
    }

    /// What an input is called in another setup.
    fn input_in(&self, input: Input, other: &Setup) -> Result<Input, Error> {
        let Some(home) = Home::of(input) else { return Ok(input) };
        let there = other.homes();
        let found = self.homes().into_iter().find(|(known, _)| *known == home).and_then(|(_, material)| {
            let same = there.iter().find(|(_, m)| *m == material);
            // With another surface it is the same in what may be pinned.
            same.or_else(|| there.iter().find(|(_, m)| m.id() == material.id()))
        });
        found.map(|(home, _)| home.instead_of(input)).ok_or_else(|| {
            Error::new(ErrorKind::Inconsistent, "is pinned, and its material would be there no more")
                .with_accepted("a setup in which it is unpinned first")
        })
    }

    /// Every different material of the shell by what it is called.
    fn homes(&self) -> Vec<(Home, &Material)> {
        let mut list: Vec<(Home, &Material)> =
            self.materials_by_place().into_iter().map(|(place, material)| (Home::Layer(place), material)).collect();
        if let Shell::Box(enclosure) = self.shell() {
            for row in EdgeRow::ALL {
                let Some(filler) = enclosure.filler(row) else { continue };
                if list.iter().all(|(_, known)| *known != filler.fill().material()) {
                    list.push((Home::Filler(row), filler.fill().material()));
                }
            }
        }
        list
    }
}
