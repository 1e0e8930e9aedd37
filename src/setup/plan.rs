//! What happens, and in what surroundings.

use crate::correlation::{atmosphere, surface};
use crate::error::{Error, Within};
use crate::units::bounds::in_range;
use crate::units::{Length, Si, Temperature, Time, Velocity, celsius, hours, metres, metres_per_second, minutes};

/// The course of a retained-heat cooking: simmer, carry, shut, serve. Times of the forecast count from shutting.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    room: Temperature,
    height: Length,
    wind: Velocity,
    simmer: Time,
    carry: Time,
    start: Option<Temperature>,
    serve: Option<Time>,
}

impl Plan {
    /// In surroundings of constant temperature, -60 to 150 °C, at sea level, in still air. The pot is carried for two
    /// minutes between stove and box unless [`Plan::carry`] says otherwise.
    pub fn in_room(temperature: Temperature) -> Self {
        Plan {
            room: temperature,
            height: metres(0.0),
            wind: metres_per_second(0.0),
            simmer: minutes(10.0),
            carry: minutes(2.0),
            start: None,
            serve: None,
        }
    }

    /// At a height above sea level, -400 to 6000 m: sets the boiling point.
    #[must_use]
    pub fn at_height(mut self, height: Length) -> Self {
        self.height = height;
        self
    }

    /// In wind of the given speed over the outer surfaces, 0 to 20 m/s.
    #[must_use]
    pub fn in_wind(mut self, speed: Velocity) -> Self {
        self.wind = speed;
        self
    }

    /// Simmers for this long before it leaves the stove, 0 to 24 h: it leaves at the boiling point.
    #[must_use]
    pub fn simmer(mut self, duration: Time) -> Self {
        self.simmer = duration;
        self
    }

    /// Leaves the stove at this temperature instead of the boiling point, -30 to 150 °C.
    #[must_use]
    pub fn leaving_at(mut self, temperature: Temperature) -> Self {
        self.start = Some(temperature);
        self
    }

    /// Stands or is carried with its lid on, outside the box, for this long before shutting, 0 to 2 h.
    #[must_use]
    pub fn carry(mut self, duration: Time) -> Self {
        self.carry = duration;
        self
    }

    /// The box is shut: time zero of the forecast. (Every plan shuts; the word makes a plan read as it is done.)
    #[must_use]
    pub fn shut(self) -> Self {
        self
    }

    /// Served this long after shutting, up to the horizon of the forecast.
    #[must_use]
    pub fn serve_after(mut self, duration: Time) -> Self {
        self.serve = Some(duration);
        self
    }

    /// Temperature of the surroundings.
    pub fn room(&self) -> Temperature {
        self.room
    }

    /// Time on simmer.
    pub fn simmer_time(&self) -> Time {
        self.simmer
    }

    /// Time between stove and shutting.
    pub fn carry_time(&self) -> Time {
        self.carry
    }

    /// When it is served, after shutting.
    pub fn serve_time(&self) -> Option<Time> {
        self.serve
    }

    /// Height above sea level.
    pub fn height(&self) -> Length {
        self.height
    }

    /// Wind over the outer surfaces.
    pub fn wind(&self) -> Velocity {
        self.wind
    }

    /// Temperature at which the pot leaves the stove: as given, else the boiling point of water at this height.
    ///
    /// # Errors
    /// If the plan is outside its ranges.
    pub fn start_temperature(&self) -> Result<Temperature, Error> {
        self.check()?;
        match self.start {
            Some(t) => Ok(t),
            None => Ok(Temperature::from_si(atmosphere::boiling_temperature(self.height.si())?.value)),
        }
    }

    /// Convective coefficient of the outer surfaces beyond still air, W/(m² K).
    pub(crate) fn wind_coefficient(&self) -> Result<f64, Error> {
        let calm = surface::outside_convection_iso_6946(0.0)?.value;
        Ok(surface::outside_convection_iso_6946(self.wind.si())?.value - calm)
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let check = || {
            in_range("room", self.room, celsius(-60.0), celsius(150.0))?;
            in_range("height above sea", self.height, metres(-400.0), metres(6000.0))?;
            in_range("wind", self.wind, metres_per_second(0.0), metres_per_second(20.0))?;
            in_range("simmer", self.simmer, minutes(0.0), hours(24.0))?;
            in_range("carry", self.carry, minutes(0.0), hours(2.0))?;
            if let Some(start) = self.start {
                in_range("start temperature", start, celsius(-30.0), celsius(150.0))?;
            }
            if let Some(serve) = self.serve {
                in_range("serve", serve, minutes(0.0), hours(24.0 * 60.0))?;
            }
            Ok(())
        };
        let checked: Result<(), Error> = check();
        checked.within("plan")
    }
}
