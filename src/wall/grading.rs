//! Properties that change along the depth of a layer, or from place to place of a section: damp from one side, pressed
//! under a weight, a graded board.

use std::fmt;
use std::sync::Arc;

use super::{Place, Point};
use crate::error::{Error, ErrorKind};
use crate::units::{Length, Si, write};

type Factor<At> = Arc<dyn Fn(At) -> f64 + Send + Sync>;

/// Factors on conductivity and heat capacity as functions of the depth into a layer, or of the [`Point`] of a section.
#[derive(Clone)]
pub struct Grading<At = Length> {
    conductivity: Factor<At>,
    heat_capacity: Factor<At>,
}

impl<At> fmt::Debug for Grading<At> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Grading(..)")
    }
}

/// Two gradings are equal if they are the same functions.
impl<At> PartialEq for Grading<At> {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.conductivity, &other.conductivity) && Arc::ptr_eq(&self.heat_capacity, &other.heat_capacity)
    }
}

impl<At> Grading<At> {
    /// Conductivity and volumetric heat capacity of the material times these factors, of the depth from the layer's inner
    /// face or of the place in the section; both must be positive and smooth.
    pub fn new(
        conductivity: impl Fn(At) -> f64 + Send + Sync + 'static,
        heat_capacity: impl Fn(At) -> f64 + Send + Sync + 'static,
    ) -> Self {
        Grading { conductivity: Arc::new(conductivity), heat_capacity: Arc::new(heat_capacity) }
    }
}

impl Grading<Point> {
    /// Factors on conductivity and heat capacity at a place, m.
    pub(crate) fn at(&self, place: Place) -> [f64; 2] {
        let point = place.map(Length::from_si);
        [(self.conductivity)(point), (self.heat_capacity)(point)]
    }
}

impl Grading {
    /// Factor on the conductivity at `depth` m.
    pub(crate) fn conductivity(&self, depth: f64) -> f64 {
        (self.conductivity)(Length::from_si(depth))
    }

    /// Factor on the heat capacity at `depth` m.
    pub(crate) fn heat_capacity(&self, depth: f64) -> f64 {
        (self.heat_capacity)(Length::from_si(depth))
    }

    pub(crate) fn check(&self, thickness: Length) -> Result<(), Error> {
        for i in 0..=64 {
            let depth = thickness.si() * f64::from(i) / 64.0;
            for (name, factor) in
                [("conductivity", self.conductivity(depth)), ("heat capacity", self.heat_capacity(depth))]
            {
                if !(factor > 0.0 && factor.is_finite()) {
                    return Err(Error::new(ErrorKind::OutOfRange, "a grading factor is out of range")
                        .with_value(format!("{factor} at a depth of {}", write(Length::from_si(depth))))
                        .with_accepted("a finite number above 0")
                        .within(name));
                }
            }
        }
        Ok(())
    }
}
