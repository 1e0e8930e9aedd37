//! What a box or sleeve rests on.

use super::Range;
use crate::error::{Error, ErrorKind, Within};
use crate::units::bounds::in_range;
use crate::units::{HeatTransfer, Si, Temperature, celsius, watts_per_square_metre_kelvin};
use crate::wall::Course;

/// What box or sleeve rests on: how well the surface takes its heat, and how warm it is.
///
/// A coefficient stands for the contact and what lies behind it, over some hours; all are estimates, no source. What lies
/// deep takes heat ever more slowly: after a time t it passes k/√(π a t), for stone about 25 W/(m² K) after an hour and 8
/// after eight, and the contact of a hard base with hard ground lets 10 to 50 pass.
#[derive(Debug, Clone, PartialEq)]
pub struct Resting {
    on: On,
    film: Option<Range<HeatTransfer>>,
    temperature: Option<Course<Temperature>>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum On {
    Board,
    Stone,
    Earth,
    Snow,
    Nothing,
}

impl Resting {
    /// On a board, a wooden table or a rug: 3 to 9 W/(m² K), best 6. So rests what says nothing.
    pub fn board() -> Self {
        Self::on(On::Board)
    }

    /// On a floor of stone, tiles or concrete: 5 to 20 W/(m² K), best 10.
    pub fn stone() -> Self {
        Self::on(On::Stone)
    }

    /// On the ground, earth or short grass: 3 to 15 W/(m² K), best 8.
    pub fn earth() -> Self {
        Self::on(On::Earth)
    }

    /// On snow: 1 to 10 W/(m² K), best 4 (fresh snow insulates; snow that melts under it takes more). If nothing is said of
    /// its temperature it is that of the surroundings at shutting, and never above 0 °C.
    pub fn snow() -> Self {
        Self::on(On::Snow)
    }

    /// Hung free: the base has a film of air like the other outer faces, wind included, and radiates to the surroundings.
    pub fn hung() -> Self {
        Self::on(On::Nothing)
    }

    fn on(on: On) -> Self {
        Resting { on, film: None, temperature: None }
    }

    /// The same with a surface of this temperature, -60 to 150 °C (snow: at most 0 °C), constant or in time. Without this it
    /// is as warm as the surroundings. What hangs free has no such surface, so that it is refused there.
    #[must_use]
    pub fn at(mut self, temperature: impl Into<Course<Temperature>>) -> Self {
        self.temperature = Some(temperature.into());
        self
    }

    /// The same with a coefficient of your own, 0.1 to 200 W/(m² K), between the base and what it rests on.
    #[must_use]
    pub fn passing(mut self, coefficient: Range<HeatTransfer>) -> Self {
        self.film = Some(coefficient);
        self
    }

    /// From base to surface; none where it hangs free.
    pub fn coefficient(&self) -> Option<Range<HeatTransfer>> {
        let usual = |low, best, high| Some(Range::of_members(low, best, high));
        match self.on {
            On::Nothing => None,
            _ if self.film.is_some() => self.film,
            On::Board => usual(3.0, 6.0, 9.0),
            On::Stone => usual(5.0, 10.0, 20.0),
            On::Earth => usual(3.0, 8.0, 15.0),
            On::Snow => usual(1.0, 4.0, 10.0),
        }
    }

    /// Temperature of the surface where it is not that of the surroundings, which have `room` at shutting.
    pub(crate) fn course(&self, room: Temperature) -> Option<Course<Temperature>> {
        let melting = celsius(0.0);
        match (&self.temperature, self.on) {
            (Some(given), _) => Some(given.clone()),
            (None, On::Snow) => Some(if room < melting { room } else { melting }.into()),
            (None, _) => None,
        }
    }

    /// What it is called.
    pub(crate) fn name(&self) -> &'static str {
        match self.on {
            On::Board => "a board or rug",
            On::Stone => "a stone floor",
            On::Earth => "the ground",
            On::Snow => "snow",
            On::Nothing => "nothing: it hangs free",
        }
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let check = || -> Result<(), Error> {
            if let Some(film) = &self.film {
                film.check("coefficient", watts_per_square_metre_kelvin(0.1), watts_per_square_metre_kelvin(200.0))?;
            }
            if self.on == On::Nothing && (self.film.is_some() || self.temperature.is_some()) {
                return Err(Error::new(ErrorKind::Inconsistent, "what hangs free rests on no surface")
                    .with_accepted("a surface, or neither coefficient nor temperature"));
            }
            let warmest = if self.on == On::Snow { 0.0 } else { 150.0 };
            for t in self.temperature.iter().flat_map(|course| <[f64; 2]>::from(course.extremes())) {
                in_range("temperature", Temperature::from_si(t), celsius(-60.0), celsius(warmest))?;
            }
            Ok(())
        };
        check().within("resting surface")
    }
}
