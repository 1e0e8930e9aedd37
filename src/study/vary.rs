//! What may be varied about a setup, and by how much.

use std::fmt;

use crate::error::{Error, ErrorKind, Within};
use crate::setup::{LayerPlace, Range, Setup};
use crate::units::bounds::in_range;
use crate::units::{Length, Mass, Ratio, Si, Spoken, metres, write_rounded};

/// What is varied, and between which bounds; both count as possible.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Vary {
    /// Thickness of a layer, and of every other one of the same material and thickness: all walls of a box that is alike all
    /// round.
    Layer {
        /// One such layer.
        place: LayerPlace,
        /// Thinnest.
        from: Length,
        /// Thickest.
        to: Length,
    },
    /// Thickness of one layer on one face.
    LayerAlone {
        /// Which.
        place: LayerPlace,
        /// Thinnest.
        from: Length,
        /// Thickest.
        to: Length,
    },
    /// Thickness of all layers in proportion.
    AllLayers {
        /// Least factor on each thickness.
        from: Ratio,
        /// Greatest factor.
        to: Ratio,
    },
    /// Mass of the dish; pieces stay as they are.
    Dish {
        /// Least.
        from: Mass,
        /// Most.
        to: Mass,
    },
    /// Width of the joint of the lid, taken as exact. Less of it holds longer: the widest one that meets the target is
    /// sought.
    LidGap {
        /// Narrowest.
        from: Length,
        /// Widest.
        to: Length,
    },
}

/// A size of what is varied.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Size {
    /// Of a layer.
    Thickness(Length),
    /// Factor on the thickness of all layers.
    Proportion(Ratio),
    /// Of the dish.
    Mass(Mass),
    /// Of the joint of the lid.
    Width(Length),
}

impl fmt::Display for Size {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Size::Thickness(length) | Size::Width(length) => f.write_str(&write_rounded(*length, 4)),
            Size::Proportion(factor) => write!(f, "{:.4} times as thick", factor.si()),
            Size::Mass(mass) => f.write_str(&write_rounded(*mass, 4)),
        }
    }
}

impl Vary {
    /// The bounds in SI units, the one that serves the target worse first.
    pub(crate) fn bounds(&self) -> Result<[f64; 2], Error> {
        fn rising<Q: Spoken>(from: Q, to: Q, low: Q, high: Q) -> Result<[f64; 2], Error> {
            let least = in_range("from", from, low, high)?;
            in_range("to", to, low, high)?;
            let most = in_range("to", to, from, high)?;
            if least == most {
                return Err(Error::new(ErrorKind::Inconsistent, "the bounds are one and the same"));
            }
            Ok([least, most])
        }
        match *self {
            Vary::Layer { from, to, .. } | Vary::LayerAlone { from, to, .. } => {
                rising(from, to, metres(1e-6), metres(10.0))
            }
            Vary::AllLayers { from, to } => rising(from, to, Ratio::from_si(1e-3), Ratio::from_si(1e3)),
            Vary::Dish { from, to } => rising(from, to, Mass::from_si(0.01), Mass::from_si(500.0)),
            Vary::LidGap { from, to } => rising(from, to, metres(2e-5), metres(0.01)).map(|[a, b]| [b, a]),
        }
        .within("bounds")
    }

    /// A size between the bounds by its logarithm, 0 the first and 1 the second.
    pub(crate) fn size_at(&self, [first, second]: [f64; 2], at: f64) -> Size {
        let value = if at == 0.0 {
            first
        } else if at == 1.0 {
            second
        } else {
            first * (second / first).powf(at)
        };
        match self {
            Vary::Layer { .. } | Vary::LayerAlone { .. } => Size::Thickness(Length::from_si(value)),
            Vary::AllLayers { .. } => Size::Proportion(Ratio::from_si(value)),
            Vary::Dish { .. } => Size::Mass(Mass::from_si(value)),
            Vary::LidGap { .. } => Size::Width(Length::from_si(value)),
        }
    }

    /// The setup with what is varied at a size.
    ///
    /// # Errors
    /// [`ErrorKind::Inconsistent`] for a layer that is not there or a size of another kind; as [`Setup::new`] for a size
    /// that does not fit.
    pub fn applied(&self, setup: &Setup, size: Size) -> Result<Setup, Error> {
        let (pot, shell) = (setup.pot().clone(), setup.shell());
        match (*self, size) {
            (Vary::Layer { place, .. }, Size::Thickness(thickness)) => {
                let model = setup.layer(place)?;
                let shell = shell
                    .with_layers(|_, it| if it == model { it.with_thickness(thickness) } else { Ok(it.clone()) })?;
                setup.with_parts(pot, shell)
            }
            (Vary::LayerAlone { place, .. }, Size::Thickness(thickness)) => {
                setup.layer(place)?;
                let shell = shell
                    .with_layers(|at, it| if at == place { it.with_thickness(thickness) } else { Ok(it.clone()) })?;
                setup.with_parts(pot, shell)
            }
            (Vary::AllLayers { .. }, Size::Proportion(factor)) => {
                let shell = shell.with_layers(|_, it| it.with_thickness(it.thickness() * factor.si()))?;
                setup.with_parts(pot, shell)
            }
            (Vary::Dish { .. }, Size::Mass(mass)) => {
                let Some((dish, _)) = setup.pot().contents() else {
                    return Err(Error::new(ErrorKind::Inconsistent, "the pot is empty").within("pot"));
                };
                let dish = dish.clone();
                setup.with_parts(pot.with(dish, mass), shell.clone())
            }
            (Vary::LidGap { .. }, Size::Width(width)) => {
                let lid = shell.lid_closing();
                if lid.leak().is_some() {
                    return Err(
                        Error::new(ErrorKind::Inconsistent, "its leak was given in place of a joint").within("lid")
                    );
                }
                setup.with_parts(pot, shell.with_lid(lid.with_gap(Range::exactly(width))))
            }
            _ => Err(Error::new(ErrorKind::Inconsistent, "a size of another kind").with_value(size.to_string())),
        }
    }
}
