//! What the pot stands on inside box or sleeve.

use super::Range;
use crate::error::{Error, Within};
use crate::units::{ThermalInsulance, square_metre_kelvins_per_watt};

/// The contact between the base of a pot and what it stands on, per area of the base.
///
/// What it stands on is the innermost layer of the base of the box; a mat that the pot squeezes is thinner there, and
/// better described as thick as it is under the pot. All ranges are estimates, no source: those of a gap follow from air that
/// lies still, warm side above, and radiation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Footing {
    resistance: Range<ThermalInsulance>,
    name: &'static str,
}

impl Footing {
    /// Nobody says what: 0.001 to 0.02 m² K/W, best 0.005.
    pub fn unknown() -> Self {
        Self::of("whatever it stands on", [0.001, 0.005, 0.02])
    }

    /// A flat base that its weight presses into something soft: 0.0005 to 0.005 m² K/W, best 0.002.
    pub fn mat() -> Self {
        Self::of("on a soft mat", [0.0005, 0.002, 0.005])
    }

    /// A base that stands on its rim, or is bent inward, 1 to 3 mm of air below it: 0.02 to 0.1 m² K/W, best 0.05.
    pub fn rim() -> Self {
        Self::of("on its rim", [0.02, 0.05, 0.1])
    }

    /// A trivet, rack or grid, 10 to 20 mm of air below the base, which its feet bridge: 0.05 to 0.25 m² K/W, best 0.12.
    pub fn trivet() -> Self {
        Self::of("on a trivet", [0.05, 0.12, 0.25])
    }

    /// A contact of your own, 1e-5 to 10 m² K/W.
    pub fn resisting(resistance: Range<ThermalInsulance>) -> Self {
        Footing { resistance, name: "as given" }
    }

    fn of(name: &'static str, [low, best, high]: [f64; 3]) -> Self {
        Footing { resistance: Range::of_members(low, best, high), name }
    }

    /// Resistance between the base and what it stands on.
    pub fn resistance(&self) -> Range<ThermalInsulance> {
        self.resistance
    }

    /// Where it is, as it is told after "contact under the pot".
    pub(crate) fn name(&self) -> &'static str {
        self.name
    }

    pub(crate) fn check(&self) -> Result<(), Error> {
        let (low, high) = (square_metre_kelvins_per_watt(1e-5), square_metre_kelvins_per_watt(10.0));
        self.resistance.check("resistance", low, high).within("footing")
    }
}
