//! What the plan says that a verdict must know.

use crate::correlation::atmosphere;
use crate::error::{Error, Within};
use crate::setup::Plan;
use crate::units::bounds::in_range;
use crate::units::{Length, Si, Temperature, Time, celsius, hours, metres, millimetres, minutes};

/// A reheating after serving time: brought to a temperature throughout and held there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reheating {
    /// Temperature of every spot, 20 to 130 °C.
    pub temperature: Temperature,
    /// How long it is held, up to 24 h.
    pub held: Time,
}

/// How the pieces in the pot differ from those of the dish list.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceState {
    /// Smallest thickness, 1 to 300 mm.
    pub thickness: Length,
    /// Whether they went in frozen.
    pub frozen: bool,
    /// Whether they are stuffed.
    pub stuffed: bool,
}

/// What was and will be done with a dish.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanFacts {
    simmer: Time,
    full_boil: Time,
    soaked: Time,
    height: Length,
    room: Option<Temperature>,
    serve: Option<Time>,
    pieces: Option<PieceState>,
    reheated: Option<Reheating>,
    cools_inside: bool,
}

impl PlanFacts {
    /// At sea level, simmered for this long (0 to 24 h) before shutting; nothing else is known.
    pub fn simmered(duration: Time) -> Self {
        PlanFacts {
            simmer: duration,
            full_boil: minutes(0.0),
            soaked: minutes(0.0),
            height: metres(0.0),
            room: None,
            serve: None,
            pieces: None,
            reheated: None,
            cools_inside: false,
        }
    }

    /// What a plan of a forecast says: simmer, height, room, serving time.
    pub fn of_plan(plan: &Plan) -> Self {
        let facts = Self::simmered(plan.simmer_time()).at_height(plan.height()).in_room(plan.room());
        match plan.serve_time() {
            Some(serve) => facts.serve_after(serve),
            None => facts,
        }
    }

    /// Boiled hard, with large bubbles, for this long (0 to 24 h) in the water it is eaten from or in any before; part
    /// of the simmer or apart from it. A simmer is no full boil: say it here.
    #[must_use]
    pub fn full_boil(mut self, duration: Time) -> Self {
        self.full_boil = duration;
        self
    }

    /// Soaked for this long (0 to 72 h), the water thrown away.
    #[must_use]
    pub fn soaked(mut self, duration: Time) -> Self {
        self.soaked = duration;
        self
    }

    /// At a height above sea level, -400 to 6000 m.
    #[must_use]
    pub fn at_height(mut self, height: Length) -> Self {
        self.height = height;
        self
    }

    /// In a room of this temperature, -60 to 150 °C.
    #[must_use]
    pub fn in_room(mut self, room: Temperature) -> Self {
        self.room = Some(room);
        self
    }

    /// Eaten this long after shutting, 0 to 60 days. Without it the whole curve is judged.
    #[must_use]
    pub fn serve_after(mut self, duration: Time) -> Self {
        self.serve = Some(duration);
        self
    }

    /// With these pieces instead of those of the dish list.
    #[must_use]
    pub fn with_pieces(mut self, pieces: PieceState) -> Self {
        self.pieces = Some(pieces);
        self
    }

    /// Reheated before it is eaten.
    #[must_use]
    pub fn reheated(mut self, reheating: Reheating) -> Self {
        self.reheated = Some(reheating);
        self
    }

    /// What is left over cools down in the box: the limits on cooling are judged too.
    #[must_use]
    pub fn cools_inside(mut self) -> Self {
        self.cools_inside = true;
        self
    }

    pub(super) fn simmered_for(mut self, duration: Time) -> Self {
        self.simmer = duration;
        self
    }

    /// Time on simmer.
    pub fn simmer_time(&self) -> Time {
        self.simmer
    }

    /// Time at a full boil.
    pub fn full_boil_time(&self) -> Time {
        self.full_boil
    }

    /// Time in soak.
    pub fn soak_time(&self) -> Time {
        self.soaked
    }

    /// Height above sea level.
    pub fn height(&self) -> Length {
        self.height
    }

    /// Temperature of the room, if told.
    pub fn room(&self) -> Option<Temperature> {
        self.room
    }

    /// When it is eaten, if told.
    pub fn serve_time(&self) -> Option<Time> {
        self.serve
    }

    /// The pieces, if told.
    pub fn pieces(&self) -> Option<PieceState> {
        self.pieces
    }

    /// The reheating, if there is one.
    pub fn reheating(&self) -> Option<Reheating> {
        self.reheated
    }

    /// Whether leftovers cool in the box.
    pub fn leftovers_cool_inside(&self) -> bool {
        self.cools_inside
    }

    /// The boiling point at this height, by [`atmosphere::boiling_temperature`]. The weather moves it by about 1 K.
    ///
    /// # Errors
    /// For a height outside -400 to 6000 m.
    pub fn boiling_temperature(&self) -> Result<Temperature, Error> {
        let height = in_range("height above sea", self.height, metres(-400.0), metres(6000.0)).within("plan")?;
        Ok(Temperature::from_si(atmosphere::boiling_temperature(height)?.value))
    }

    pub(super) fn check(&self) -> Result<(), Error> {
        let check = || {
            in_range("height above sea", self.height, metres(-400.0), metres(6000.0))?;
            in_range("simmer", self.simmer, minutes(0.0), hours(24.0))?;
            in_range("full boil", self.full_boil, minutes(0.0), hours(24.0))?;
            in_range("soak", self.soaked, minutes(0.0), hours(72.0))?;
            if let Some(room) = self.room {
                in_range("room", room, celsius(-60.0), celsius(150.0))?;
            }
            if let Some(serve) = self.serve {
                in_range("serve", serve, minutes(0.0), hours(24.0 * 60.0))?;
            }
            if let Some(pieces) = self.pieces {
                in_range("thickness of pieces", pieces.thickness, millimetres(1.0), millimetres(300.0))?;
            }
            if let Some(reheating) = self.reheated {
                in_range("reheating", reheating.temperature, celsius(20.0), celsius(130.0))?;
                in_range("reheating, held", reheating.held, minutes(0.0), hours(24.0))?;
            }
            Ok(())
        };
        let checked: Result<(), Error> = check();
        checked.within("plan")
    }
}
