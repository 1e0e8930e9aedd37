//! The pot: how big, of what, how heavy, and what is in it.

use std::f64::consts::PI;

use super::{Dish, Footing, Handle, Knob, Pieces, Plan, PotLid, Range};
use crate::error::{Error, ErrorKind, Within};
use crate::material::Material;
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{
    Length, Mass, Ratio, Si, Temperature, Volume, celsius, kilograms, litres, metres, millilitres, millimetres, write,
    write_rounded,
};

/// A start temperature given for a dish with ice may be so far from 0 °C: rounding, K.
const ICE_START: f64 = 0.01;
/// Height over diameter of a typical pot (common practice, no source).
const TYPICAL_HEIGHT: f64 = 0.8;
/// Metal of a typical pot if nothing is said: stainless steel, 0.8 mm over wall, base and lid, give or take a third
/// (common practice, no source).
const TYPICAL_METAL: &str = "stainless-steel-304";
const TYPICAL_WALL: f64 = 0.8e-3;
const MASS_SPREAD: f64 = 0.35;
/// A pot counts as full to the brim at this share of its volume; more is refused.
const BRIM: f64 = 1.0;

/// A cylindrical pot, with a loose lid unless told otherwise, and the dish in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Pot {
    diameter: Length,
    height: Length,
    metal: MetalChoice,
    mass: Option<Mass>,
    emissivity: Option<Range<Ratio>>,
    contents: Option<(Dish, Mass)>,
    pieces: Vec<Pieces>,
    ice: Ratio,
    handle: Option<Handle>,
    knob: Option<Knob>,
    lid: PotLid,
    /// Times the mass weighed or computed.
    times: f64,
    footing: Footing,
}

#[derive(Debug, Clone, PartialEq)]
enum MetalChoice {
    Typical,
    Chosen(Box<Material>, Length),
}

impl Pot {
    /// A typical lidded pot of the given volume, 50 mL to 300 L: 0.8 times as high as wide, of stainless steel
    /// 0.8 mm thick, its mass uncertain by a third.
    pub fn typical(volume: Volume) -> Self {
        let diameter = (volume.si() / (0.25 * PI * TYPICAL_HEIGHT)).cbrt();
        Pot {
            diameter: metres(diameter),
            height: metres(TYPICAL_HEIGHT * diameter),
            metal: MetalChoice::Typical,
            mass: None,
            emissivity: None,
            contents: None,
            pieces: Vec::new(),
            ice: Ratio::from_si(0.0),
            handle: None,
            knob: None,
            lid: PotLid::loose(),
            times: 1.0,
            footing: Footing::unknown(),
        }
    }

    /// A pot of known inner size (30 mm to 1 m across, 20 mm to 1 m high, 50 mL to 300 L) and metal of known thickness
    /// (0.1 to 20 mm, over wall, base and lid).
    pub fn sized(diameter: Length, height: Length, metal: Material, thickness: Length) -> Self {
        Pot {
            diameter,
            height,
            metal: MetalChoice::Chosen(Box::new(metal), thickness),
            mass: None,
            emissivity: None,
            contents: None,
            pieces: Vec::new(),
            ice: Ratio::from_si(0.0),
            handle: None,
            knob: None,
            lid: PotLid::loose(),
            times: 1.0,
            footing: Footing::unknown(),
        }
    }

    /// The same pot of another metal and thickness.
    #[must_use]
    pub fn of_metal(mut self, metal: Material, thickness: Length) -> Self {
        self.metal = MetalChoice::Chosen(Box::new(metal), thickness);
        self
    }

    /// The same with the weighed mass of pot and lid, which then is taken as exact.
    #[must_use]
    pub fn weighing(mut self, mass: Mass) -> Self {
        self.mass = Some(mass);
        self
    }

    /// The same with so many times the metal, 0.01 to 100: a thinner or a heavier pot of the same size.
    #[must_use]
    pub fn times_as_heavy(mut self, factor: f64) -> Self {
        self.times *= factor;
        self
    }

    /// The same with an outside of this emissivity (polished metal 0.05 to 0.2, used metal 0.2 to 0.5, enamel 0.9).
    #[must_use]
    pub fn with_emissivity(mut self, emissivity: Range<Ratio>) -> Self {
        self.emissivity = Some(emissivity);
        self
    }

    /// The same with this much of a dish in it, in place of what was in it.
    #[must_use]
    pub fn with(mut self, dish: Dish, mass: Mass) -> Self {
        self.contents = Some((dish, mass));
        self
    }

    /// The same with this much of another food stirred into what is in it, by [`Dish::mixed`].
    ///
    /// ```
    /// use stillhot::prelude::*;
    /// let beans = Pot::typical(litres(7.0)).with(Dish::named("beans-cooked")?, kilograms(3.0));
    /// let chilli = beans.adding(Dish::named("thick-stew")?, kilograms(2.0))?;
    /// assert_eq!(chilli.contents().map(|(_, mass)| mass), Some(kilograms(5.0)));
    /// # Ok::<(), stillhot::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`Dish::mixed`].
    pub fn adding(mut self, dish: Dish, mass: Mass) -> Result<Self, Error> {
        self.contents = Some(match self.contents {
            None => (dish, mass),
            Some((present, held)) => (Dish::mixed(&[(present, held), (dish, mass)])?, held + mass),
        });
        Ok(self)
    }

    /// The same with pieces in the dish (beside its mass).
    #[must_use]
    pub fn with_pieces(mut self, pieces: Pieces) -> Self {
        self.pieces.push(pieces);
        self
    }

    /// The same with a handle that sticks out through the wall of the box.
    #[must_use]
    pub fn with_handle(mut self, handle: Handle) -> Self {
        self.handle = Some(handle);
        self
    }

    /// The same without a handle through the wall.
    #[must_use]
    pub fn without_handle(mut self) -> Self {
        self.handle = None;
        self
    }

    /// The same with a knob on its lid. (The knob of an ordinary lid is in the mass of pot and lid, and else hardly matters.)
    #[must_use]
    pub fn with_knob(mut self, knob: Knob) -> Self {
        self.knob = Some(knob);
        self
    }

    /// The same without a knob.
    #[must_use]
    pub fn without_knob(mut self) -> Self {
        self.knob = None;
        self
    }

    /// The same with another lid on the pot, or none.
    #[must_use]
    pub fn covered(mut self, lid: PotLid) -> Self {
        self.lid = lid;
        self
    }

    /// The same standing on something else.
    #[must_use]
    pub fn standing_on(mut self, footing: Footing) -> Self {
        self.footing = footing;
        self
    }

    /// What it stands on.
    pub fn footing(&self) -> Footing {
        self.footing
    }

    /// The lid of the pot.
    pub fn lid(&self) -> PotLid {
        self.lid
    }

    /// The same with this share of the mass of the dish frozen, 0 to its water content: it starts at 0 °C (a plan that
    /// says otherwise is refused) and stays there until the ice has melted. It counts as stirred. It comes from no stove:
    /// pieces go into it as it is set out, and no simmer counts.
    #[must_use]
    pub fn with_ice(mut self, share: Ratio) -> Self {
        self.ice = share;
        self
    }

    /// The temperature of the dish before it is carried: that with which it leaves the stove
    /// ([`Plan::start_temperature`]), or 0 °C where there is ice in it.
    ///
    /// # Errors
    /// A plan outside its ranges; [`ErrorKind::Inconsistent`] for a plan that has ice leave at another temperature.
    pub fn starts_at(&self, plan: &Plan) -> Result<Temperature, Error> {
        if self.ice.si() == 0.0 {
            return plan.start_temperature();
        }
        plan.check()?;
        match plan.given_start() {
            Some(given) if (given.si() - celsius(0.0).si()).abs() > ICE_START => {
                Err(Error::new(ErrorKind::Inconsistent, "a dish with ice in it starts at 0 °C")
                    .with_value(write(given))
                    .with_accepted("0 °C, no start temperature, or no ice")
                    .within("start temperature")
                    .within("plan"))
            }
            _ => Ok(celsius(0.0)),
        }
    }

    /// Share of the dish that is frozen at the start.
    pub fn ice(&self) -> Ratio {
        self.ice
    }

    /// Whether the dish is still. Melting ice stirs it.
    pub(crate) fn is_still(&self) -> bool {
        self.ice.si() == 0.0 && self.contents.as_ref().is_some_and(|(dish, _)| dish.is_still())
    }

    /// The pieces in the dish.
    pub fn pieces(&self) -> &[Pieces] {
        &self.pieces
    }

    /// The handle through the wall, if there is one.
    pub fn handle(&self) -> Option<&Handle> {
        self.handle.as_ref()
    }

    /// The knob on its lid, if there is one.
    pub fn knob(&self) -> Option<&Knob> {
        self.knob.as_ref()
    }

    /// Inner diameter.
    pub fn diameter(&self) -> Length {
        self.diameter
    }

    /// Inner height.
    pub fn height(&self) -> Length {
        self.height
    }

    /// Volume to the brim.
    pub fn volume(&self) -> Volume {
        Volume::from_si(0.25 * PI * self.diameter.si().powi(2) * self.height.si())
    }

    /// The dish and how much of it, if there is any.
    pub fn contents(&self) -> Option<(&Dish, Mass)> {
        self.contents.as_ref().map(|(dish, mass)| (dish, *mass))
    }

    /// Outer surface, top included, m².
    pub(crate) fn surface(&self) -> f64 {
        self.side_area() + 2.0 * self.top_area()
    }

    /// Circumference, m.
    pub(crate) fn circumference(&self) -> f64 {
        PI * self.diameter.si()
    }

    /// Surface of the side, m².
    pub(crate) fn side_area(&self) -> f64 {
        self.circumference() * self.height.si()
    }

    /// Surface of the lid, and of the base, m².
    pub(crate) fn top_area(&self) -> f64 {
        0.25 * PI * self.diameter.si().powi(2)
    }

    /// Emissivity of the outside: as given, else anything from polished to dark.
    pub(crate) fn emissivity(&self) -> Result<Range<Ratio>, Error> {
        let given = self.emissivity.unwrap_or_else(|| Range::of_members(0.1, 0.4, 0.9));
        given.check("emissivity", Ratio::from_si(0.01), Ratio::from_si(1.0)).within("pot")?;
        Ok(given)
    }

    /// Share of the height up to which dish and pieces fill it, at most 1.
    pub(crate) fn fill(&self) -> f64 {
        let taken = |food: &Dish, mass: Mass| mass.si() / food.material().density().value().si();
        let dish = self.contents.as_ref().map_or(0.0, |(dish, mass)| taken(dish, *mass));
        let pieces: f64 = self.pieces.iter().map(|pieces| taken(pieces.food(), pieces.mass())).sum();
        ((dish + pieces) / self.volume().si()).min(1.0)
    }

    /// Metal and its thickness, m.
    pub(crate) fn wall(&self) -> Result<(Material, f64), Error> {
        Ok(match &self.metal {
            MetalChoice::Typical => (Material::named(TYPICAL_METAL)?, TYPICAL_WALL),
            MetalChoice::Chosen(metal, thickness) => (Material::clone(metal), thickness.si()),
        })
    }

    /// Surface of metal, m²: side, base, and the lid if there is one.
    fn metal_area(&self) -> f64 {
        if self.lid.is_missing() { self.surface() - self.top_area() } else { self.surface() }
    }

    /// Surface above the dish, m²: the dry part of the side, and the lid if there is one.
    pub(crate) fn dry_area(&self) -> f64 {
        let lid = if self.lid.is_missing() { 0.0 } else { self.top_area() };
        lid + (1.0 - self.fill()) * self.side_area()
    }

    /// Share of the metal above the dish.
    pub(crate) fn dry_share(&self) -> f64 {
        self.dry_area() / self.metal_area()
    }

    /// The metal: what it is and how much, kg.
    pub(crate) fn metal(&self) -> Result<(Material, Range<Mass>), Error> {
        let (metal, thickness) = self.wall()?;
        let computed = self.times * self.metal_area() * thickness * metal.density().value().si();
        let mass = match self.mass {
            Some(weighed) => Range::exactly(weighed * self.times),
            None => {
                let spread = if self.metal == MetalChoice::Typical { MASS_SPREAD } else { 0.1 };
                Range::new(
                    kilograms(computed * (1.0 - spread)),
                    kilograms(computed),
                    kilograms(computed * (1.0 + spread)),
                )?
            }
        };
        Ok((metal, mass))
    }

    /// Mass of pot and lid.
    ///
    /// # Errors
    /// If the pot is outside what [`Pot::sized`] accepts.
    pub fn mass(&self) -> Result<Range<Mass>, Error> {
        self.check_shape()?;
        self.metal().map(|(_, mass)| mass)
    }

    fn check_shape(&self) -> Result<(), Error> {
        let check = || {
            in_range("diameter", self.diameter, millimetres(30.0), metres(1.0))?;
            in_range("height", self.height, millimetres(20.0), metres(1.0))?;
            in_range("volume", self.volume(), millilitres(50.0), litres(300.0))?;
            if let MetalChoice::Chosen(_, thickness) = &self.metal {
                in_range("metal thickness", *thickness, millimetres(0.1), millimetres(20.0))?;
            }
            number_in_range("times as heavy", self.times, 0.01, 100.0)?;
            if let Some(mass) = self.mass {
                in_range("mass", mass, kilograms(0.01), kilograms(100.0))?;
            }
            Ok(())
        };
        let checked: Result<(), Error> = check();
        checked.within("pot")
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        self.check_shape()?;
        let Some((dish, mass)) = &self.contents else {
            return Err(Error::new(ErrorKind::Inconsistent, "the pot is empty")
                .with_accepted("a dish and its mass")
                .within("contents")
                .within("pot"));
        };
        dish.check().within("pot")?;
        number_in_range("ice", self.ice.si(), 0.0, dish.water_content().si()).within("pot")?;
        self.emissivity()?;
        self.lid.check().within("pot")?;
        self.footing.check().within("pot")?;
        if let Some(handle) = &self.handle {
            handle.check().within("pot")?;
        }
        if let Some(knob) = &self.knob {
            knob.check().within("pot")?;
            if self.lid.is_missing() {
                return Err(Error::new(ErrorKind::Inconsistent, "there is no lid for it to stand on")
                    .with_value("lid: none")
                    .with_accepted("a lid on the pot, or no knob")
                    .within("knob")
                    .within("pot"));
            }
        }
        let mut taken = 0.0;
        for pieces in &self.pieces {
            pieces.check().within("pot")?;
            taken += pieces.mass().si() / pieces.food().material().density().value().si();
        }
        let density = dish.material().density().value().si();
        let holds = kilograms((BRIM * self.volume().si() - taken).max(0.0) * density);
        if mass.si() > holds.si() {
            return Err(Error::new(ErrorKind::Inconsistent, "the pot does not hold that much")
                .with_value(write(*mass))
                .with_accepted(format!(
                    "up to {} of this dish in {}",
                    write_rounded(holds, 3),
                    write_rounded(self.volume(), 3)
                ))
                .within("contents")
                .within("pot"));
        }
        Self::check_contents(*mass).within("pot")
    }

    pub(crate) fn check_contents(mass: Mass) -> Result<(), Error> {
        in_range("contents", mass, kilograms(0.01), kilograms(500.0)).map(|_| ())
    }
}
