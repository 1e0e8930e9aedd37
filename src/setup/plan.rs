//! What happens, and in what surroundings.

use std::sync::Arc;

use super::Resting;
use super::hand_over::HandOver;
use crate::correlation::atmosphere;
use crate::error::{Error, ErrorKind, Within};
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{
    Length, Ratio, Si, Temperature, TemperatureInterval, Time, Velocity, celsius, hours, metres, metres_per_second,
    minutes, seconds, write,
};
use crate::wall::Course;

/// Something done after shutting.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Action {
    /// The lid of box or sleeve stands open for this long; the pot keeps its own.
    Open(Time),
    /// Box or sleeve and the pot itself stand open for this long: its lid lies beside it.
    Uncover(Time),
    /// The same, and at its beginning the dish is stirred to one temperature.
    Stir(Time),
    /// The dish is brought to a temperature, if it is colder.
    Reheat(Temperature),
    /// A share of the dish is taken out: liquid, pieces and ice alike.
    TakeOut(Ratio),
}

/// The course of a retained-heat cooking: simmer, carry, shut, serve. Times of the forecast count from shutting.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    room: Course<Temperature>,
    sky: Option<Course<Temperature>>,
    shell: Option<Temperature>,
    actions: Vec<(Time, Action)>,
    height: Length,
    wind: Course<Velocity>,
    resting: Resting,
    simmer: Time,
    carry: Time,
    start: Option<Temperature>,
    serve: Option<Time>,
    pub(super) handed: Option<Arc<HandOver>>,
}

/// Salt and sugar raise the boiling point of a dish by at most so much, K (common practice, no source).
const ABOVE_BOILING: f64 = 3.0;
/// A dish with less water than this may be hotter: oil, fat, sugar.
pub(crate) const WATERY: f64 = 0.05;

impl Plan {
    /// In surroundings of a temperature, -60 to 150 °C, constant or in time (counted from shutting), at sea level, in
    /// still air. The pot is carried for two minutes between stove and box unless [`Plan::carry`] says otherwise.
    pub fn in_room(temperature: impl Into<Course<Temperature>>) -> Self {
        Plan {
            room: temperature.into(),
            sky: None,
            shell: None,
            actions: Vec::new(),
            height: metres(0.0),
            wind: metres_per_second(0.0).into(),
            resting: Resting::board(),
            simmer: minutes(10.0),
            carry: minutes(2.0),
            start: None,
            serve: None,
            handed: None,
        }
    }

    /// At a height above sea level, -400 to 6000 m: sets the boiling point, and the pressure against which the dish gives
    /// off vapour. It is one height from the stove to the end. For a pot that is carried up or down after cooking say where
    /// it stands, and with [`Plan::leaving_at`] what it boiled at: a thousand metres move the vapour by a tenth or so, which
    /// is far inside the range of the joints.
    #[must_use]
    pub fn at_height(mut self, height: Length) -> Self {
        self.height = height;
        self
    }

    /// In wind of the given speed over the outer surfaces, 0 to 20 m/s, constant or in time (counted from shutting). A log
    /// of more than a hundred rows is read at the middle of each step, which the computing error tells of.
    #[must_use]
    pub fn in_wind(mut self, speed: impl Into<Course<Velocity>>) -> Self {
        self.wind = speed.into();
        self
    }

    /// Resting on such a surface, or hung free; on a board if nothing is said.
    ///
    /// ```
    /// use stillhot::prelude::*;
    /// let camp = Plan::in_room(celsius(6.0)).resting_on(Resting::earth().at(celsius(3.0)));
    /// # let _ = camp;
    /// ```
    #[must_use]
    pub fn resting_on(mut self, surface: Resting) -> Self {
        self.resting = surface;
        self
    }

    /// What box or sleeve rests on.
    pub fn resting(&self) -> &Resting {
        &self.resting
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

    /// Under a sky that radiates at this temperature (a clear night: 10 to 20 K below the air), -100 to 100 °C. The lid sees
    /// nothing else; an upright face sees half sky and half ground, which counts as warm as the air.
    #[must_use]
    pub fn under_sky(mut self, temperature: impl Into<Course<Temperature>>) -> Self {
        self.sky = Some(temperature.into());
        self
    }

    /// In a box or sleeve that is at this temperature throughout when the pot comes in: pre-warmed, or from a cold
    /// car; -60 to 150 °C. Without this it is as warm as its surroundings.
    #[must_use]
    pub fn shell_at(mut self, temperature: Temperature) -> Self {
        self.shell = Some(temperature);
        self
    }

    /// The lid of box or sleeve is opened at this time after shutting, for this long (1 s to 2 h); the pot keeps its own
    /// lid. Whatever happens must begin before the horizon of the forecast.
    #[must_use]
    pub fn open_at(mut self, time: Time, duration: Time) -> Self {
        self.actions.push((time, Action::Open(duration)));
        self
    }

    /// Box or sleeve is opened and the lid taken off the pot at this time after shutting, for this long (1 s to 2 h): to look,
    /// to taste, to serve. The dish then gives off vapour as from a [`PotLid::none`](super::PotLid::none), and the lid cools
    /// in the room. (A pot without a lid: the same as [`Plan::open_at`].)
    #[must_use]
    pub fn uncover_at(mut self, time: Time, duration: Time) -> Self {
        self.actions.push((time, Action::Uncover(duration)));
        self
    }

    /// The dish is stirred at this time after shutting, box or sleeve and pot being open for this long (1 s to 2 h; a minute
    /// is common practice, no source) as by [`Plan::uncover_at`]: a dish that stands still takes one temperature at the
    /// beginning, together with the pot and without gain or loss, and stands still again from then on. Pieces in it are as
    /// warm inside as they were.
    #[must_use]
    pub fn stir_at(mut self, time: Time, duration: Time) -> Self {
        self.actions.push((time, Action::Stir(duration)));
        self
    }

    /// The same with the lid never opened.
    #[must_use]
    pub fn never_opened(mut self) -> Self {
        self.actions.retain(|(_, action)| !matches!(action, Action::Open(_) | Action::Uncover(_) | Action::Stir(_)));
        self
    }

    /// The same under a roof: what the outside radiates to is as warm as the room.
    #[must_use]
    pub fn under_roof(mut self) -> Self {
        self.sky = None;
        self
    }

    /// The same in surroundings (room, and sky if there is one) that are always warmer by `by`, or colder if it is negative;
    /// a box or sleeve whose start was given stays at that.
    #[must_use]
    pub fn warmer_by(mut self, by: TemperatureInterval) -> Self {
        self.room = self.room.raised(by.si());
        self.sky = self.sky.map(|sky| sky.raised(by.si()));
        self
    }

    /// The dish is brought to this temperature at this time after shutting, the pot put back at once. Where it is warmer it
    /// is left as it is and no heat is put in, at each end of the range by itself: nothing is cooled by reheating.
    #[must_use]
    pub fn reheat_at(mut self, time: Time, to: Temperature) -> Self {
        self.actions.push((time, Action::Reheat(to)));
        self
    }

    /// This share of the dish is taken out at this time after shutting, up to 95 %: of the liquid, of each kind of piece
    /// by number, of the ice. The pot stays. It happens at once: for the time that it stands open say
    /// [`Plan::uncover_at`] as well.
    #[must_use]
    pub fn take_out_at(mut self, time: Time, share: Ratio) -> Self {
        self.actions.push((time, Action::TakeOut(share)));
        self
    }

    /// Temperature of the surroundings at shutting.
    pub fn room(&self) -> Temperature {
        self.room.at(seconds(0.0))
    }

    /// Temperature of the surroundings in time.
    pub fn room_course(&self) -> &Course<Temperature> {
        &self.room
    }

    /// Temperature of the sky, where one was given.
    pub fn sky_course(&self) -> Option<&Course<Temperature>> {
        self.sky.as_ref()
    }

    /// What is done after shutting, in the order given.
    pub fn actions(&self) -> &[(Time, Action)] {
        &self.actions
    }

    /// Whether box or sleeve is opened at any time.
    pub(crate) fn opens(&self) -> bool {
        self.uncovers() || self.actions.iter().any(|(_, action)| matches!(action, Action::Open(_)))
    }

    /// Whether the pot is uncovered at any time.
    pub(crate) fn uncovers(&self) -> bool {
        self.actions.iter().any(|(_, action)| matches!(action, Action::Uncover(_) | Action::Stir(_)))
    }

    /// Whether the ground is not simply as warm as the room, or was not in an earlier forecast that this continues: then the
    /// dish may lie between the two.
    pub(crate) fn crosses(&self) -> bool {
        self.resting.course(self.room()).is_some() || self.handed.as_ref().is_some_and(|handed| handed.crossed)
    }

    /// Temperature of box or sleeve when the pot comes in, K.
    pub(crate) fn shell_start(&self) -> f64 {
        self.shell.unwrap_or_else(|| self.room()).si()
    }

    /// Temperature at which it leaves the stove, where that was given.
    pub(crate) fn given_start(&self) -> Option<Temperature> {
        self.start
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

    /// Wind over the outer surfaces at shutting.
    pub fn wind(&self) -> Velocity {
        self.wind.at(seconds(0.0))
    }

    /// Wind over the outer surfaces in time.
    pub fn wind_course(&self) -> &Course<Velocity> {
        &self.wind
    }

    /// Temperature at which the pot leaves the stove: as given, else that of an earlier forecast which it continues, else
    /// the boiling point of water at this height.
    ///
    /// # Errors
    /// If the plan is outside its ranges.
    pub fn start_temperature(&self) -> Result<Temperature, Error> {
        self.check()?;
        match (self.start, &self.handed) {
            (Some(t), _) => Ok(t),
            (None, Some(handed)) => Ok(handed.dish),
            (None, None) => Ok(Temperature::from_si(atmosphere::boiling_temperature(self.height.si())?.value)),
        }
    }

    /// Temperature about which the laws of some parts are averaged: as the pot left the stove, in an earlier forecast too.
    pub(crate) fn hottest_start(&self) -> Result<Temperature, Error> {
        match &self.handed {
            Some(handed) => Ok(handed.leaves),
            None => self.start_temperature(),
        }
    }

    /// What an earlier forecast left.
    pub(crate) fn handed_over(&self) -> Option<&HandOver> {
        self.handed.as_deref()
    }

    /// Refuses a start that would be lost: what an earlier forecast left has one.
    fn check_start(&self) -> Result<(), Error> {
        let given = [
            ("start temperature", self.start.is_some()),
            ("box or sleeve at the start", self.shell.is_some()),
            ("simmer", self.simmer.si() > 0.0),
        ];
        match given.into_iter().find(|(_, given)| *given && self.handed.is_some()) {
            None => Ok(()),
            Some((name, _)) => Err(Error::new(ErrorKind::Inconsistent, "it starts where an earlier forecast stood")
                .with_accepted("none")
                .within(name)),
        }
    }

    /// Checks that everything happens before the horizon of a forecast: what comes later would be lost without a word.
    pub(crate) fn check_within(&self, horizon: Time) -> Result<(), Error> {
        if let Some(serve) = self.serve {
            in_range("serve", serve, seconds(0.0), horizon).within("plan")?;
        }
        let late = self.actions.iter().position(|(time, _)| time.si() >= horizon.si());
        late.map_or(Ok(()), |index| {
            Err(Error::new(ErrorKind::OutOfRange, "out of range: not before the horizon of the forecast")
                .with_value(write(self.actions[index].0))
                .with_accepted(format!("less than {}", write(horizon)))
                .within("time")
                .within(Self::name_of_action(index))
                .within("plan"))
        })
    }

    /// Checks that a dish with water in it is nowhere hotter than it boils at the height above sea.
    pub(crate) fn check_boiling(&self) -> Result<(), Error> {
        let boiling = atmosphere::boiling_temperature(self.height.si())?.value;
        let hottest = Temperature::from_si(boiling + ABOVE_BOILING);
        let check = |name: &str, t: Temperature| in_range(name, t, celsius(-30.0), hottest).map(|_| ());
        if let Some(start) = self.start {
            check("start temperature", start).within("plan")?;
        }
        for (index, (_, action)) in self.actions.iter().enumerate() {
            if let Action::Reheat(to) = action {
                check("reheat", *to).within(Self::name_of_action(index)).within("plan")?;
            }
        }
        Ok(())
    }

    /// What errors call an action: counted from one in the order given.
    fn name_of_action(index: usize) -> String {
        format!("action {}", index + 1)
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let check = || {
            let courses = [("room", Some(&self.room), -60.0, 150.0), ("sky", self.sky.as_ref(), -100.0, 100.0)];
            for (name, course, low, high) in courses {
                for t in course.into_iter().flat_map(|c| <[f64; 2]>::from(c.extremes())) {
                    in_range(name, Temperature::from_si(t), celsius(low), celsius(high))?;
                }
            }
            if let Some(shell) = self.shell {
                in_range("box or sleeve at the start", shell, celsius(-60.0), celsius(150.0))?;
            }
            for (index, (time, action)) in self.actions.iter().enumerate() {
                let check = || {
                    in_range("time", *time, seconds(0.0), hours(24.0 * 60.0))?;
                    match action {
                        Action::Open(duration) | Action::Uncover(duration) | Action::Stir(duration) => {
                            in_range("opening", *duration, seconds(1.0), hours(2.0))
                        }
                        Action::Reheat(to) => in_range("reheat", *to, celsius(-30.0), celsius(150.0)),
                        Action::TakeOut(share) => number_in_range("share taken out", share.si(), 0.0, 0.95),
                    }
                };
                check().within(Self::name_of_action(index))?;
            }
            in_range("height above sea", self.height, metres(-400.0), metres(6000.0))?;
            for speed in <[f64; 2]>::from(self.wind.extremes()) {
                in_range("wind", Velocity::from_si(speed), metres_per_second(0.0), metres_per_second(20.0))?;
            }
            self.resting.check()?;
            self.check_start()?;
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
