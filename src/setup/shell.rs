//! What keeps the pot warm: a box or a sleeve.

use super::{Enclosure, Fit, LayerPlace, Lid, Sleeve};
use crate::error::{Error, Within};
use crate::wall::Layer;

/// A box or a sleeve.
#[derive(Debug, Clone, PartialEq)]
pub enum Shell {
    /// A rectangular box.
    Box(Enclosure),
    /// A snug round sleeve.
    Sleeve(Sleeve),
}

impl Shell {
    /// The same with a lid that does not leak and tightly fitted boards: the best these walls could do.
    pub(crate) fn tight(&self) -> Self {
        match self {
            Shell::Box(enclosure) => Shell::Box(enclosure.clone().lid(Lid::tight()).fitted(Fit::Tight)),
            Shell::Sleeve(sleeve) => Shell::Sleeve(sleeve.tight()),
        }
    }
}

impl Shell {
    /// The same with other layers in place of each.
    pub(crate) fn with_layers(&self, of: impl Fn(LayerPlace, &Layer) -> Result<Layer, Error>) -> Result<Self, Error> {
        Ok(match self {
            Shell::Box(enclosure) => Shell::Box(enclosure.with_layers(of).within("box")?),
            Shell::Sleeve(sleeve) => Shell::Sleeve(sleeve.with_layers(of).within("sleeve")?),
        })
    }

    /// How its lid closes.
    pub(crate) fn lid_closing(&self) -> Lid {
        match self {
            Shell::Box(enclosure) => enclosure.lid_closing(),
            Shell::Sleeve(sleeve) => sleeve.lid_closing(),
        }
    }

    /// The same with another lid.
    pub(crate) fn with_lid(&self, lid: Lid) -> Self {
        match self {
            Shell::Box(enclosure) => Shell::Box(enclosure.clone().lid(lid)),
            Shell::Sleeve(sleeve) => Shell::Sleeve(sleeve.clone().lid(lid)),
        }
    }
}

impl From<Enclosure> for Shell {
    fn from(enclosure: Enclosure) -> Self {
        Shell::Box(enclosure)
    }
}

impl From<Sleeve> for Shell {
    fn from(sleeve: Sleeve) -> Self {
        Shell::Sleeve(sleeve)
    }
}
