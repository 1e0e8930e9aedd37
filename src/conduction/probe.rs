//! What to read from a marched wall.

use super::Side;
use super::transient::Run;
use crate::error::{Error, ErrorKind};
use crate::march::Snapshot;
use crate::units::{Length, Si, write};
use crate::wall::Wall;

/// A quantity of a marched wall.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Probe {
    /// Temperature at a coordinate (depth from the inner face of a flat wall, radius of a round one), K. On a joint:
    /// the inner side of it.
    Temperature(Length),
    /// Temperature of a face of a layer (counted from 0 at the inside), K.
    Face(usize, Side),
    /// Heat flux at a coordinate towards growing coordinate, W/m².
    Flux(Length),
    /// Temperature of the well-stirred body at an end, K.
    Body(Side),
    /// Mean temperature of the wall, weighted by heat capacity, K.
    Mean,
}

impl Probe {
    /// True for a heat flux, false for a temperature.
    pub fn is_flux(&self) -> bool {
        matches!(self, Probe::Flux(_))
    }

    /// Refuses a probe that reads nothing.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] outside the wall or for a layer that is not there, [`ErrorKind::Inconsistent`] for a
    /// body that is not there.
    pub(crate) fn check(&self, wall: &Wall, run: &Run) -> Result<(), Error> {
        match self {
            Probe::Temperature(position) | Probe::Flux(position) => {
                if run.patch.axis().layer_at(position.si()).is_some() {
                    return Ok(());
                }
                let first = wall.inner_coordinate();
                let last = Length::from_si(first + wall.thickness().si());
                Err(Error::new(ErrorKind::OutOfRange, "not in a layer of the wall")
                    .with_value(write(*position))
                    .with_accepted(format!("{} to {}, outside airspaces", write(Length::from_si(first)), write(last)))
                    .within("position"))
            }
            Probe::Face(layer, _) => {
                let last = wall.layers().len() - 1;
                if *layer <= last {
                    return Ok(());
                }
                Err(Error::new(ErrorKind::OutOfRange, "no such layer")
                    .with_value(layer.to_string())
                    .with_accepted(format!("0 to {last}"))
                    .within("layer"))
            }
            Probe::Body(side) if run.places.bodies[usize::from(*side == Side::Outer)].is_none() => {
                Err(Error::new(ErrorKind::Inconsistent, "no body at this end of the wall").within("body"))
            }
            Probe::Body(_) | Probe::Mean => Ok(()),
        }
    }

    /// The value in one march; not a number where there is no such place (refused before it comes to that).
    pub(crate) fn read(&self, wall: &Wall, run: &Run, snapshot: &Snapshot) -> f64 {
        let t = &snapshot.patches[run.places.patch.0];
        let axis = run.patch.axis();
        match self {
            Probe::Temperature(position) => axis
                .layer_at(position.si())
                .map_or(f64::NAN, |layer| axis.interpolate(layer, position.si(), |node| t[run.patch.local(node)])),
            Probe::Face(layer, side) => {
                let nodes = &axis.layer_nodes[*layer];
                let node = if *side == Side::Inner { nodes.start } else { nodes.end - 1 };
                t[run.patch.local(node)]
            }
            Probe::Flux(position) => {
                let area = wall.area_at(position.si());
                match axis.layer_at(position.si()) {
                    // Nothing passes the centre.
                    Some(_) if area == 0.0 => 0.0,
                    Some(layer) => {
                        axis.interpolate(layer, position.si(), |node| outward_heat(run, snapshot, node)) / area
                    }
                    None => f64::NAN,
                }
            }
            Probe::Body(side) => {
                run.places.bodies[usize::from(*side == Side::Outer)].map_or(f64::NAN, |node| snapshot.nodes[node.0])
            }
            Probe::Mean => {
                let capacity = &run.network.patches[run.places.patch.0].capacity;
                let sum: f64 = capacity.iter().zip(t).map(|(c, t)| c * t).sum();
                sum / capacity.iter().sum::<f64>()
            }
        }
    }
}

/// Heat flow per extent through the plane of a node, outward: what its outer cell carries away and what its outer
/// half takes up. With the node's own balance this equals the inward side's value.
fn outward_heat(run: &Run, snapshot: &Snapshot, node: usize) -> f64 {
    let t = &snapshot.patches[run.places.patch.0];
    let rate = snapshot.rates[run.places.patch.0][run.patch.local(node)];
    let at = |n: usize| t[run.patch.local(n)];
    let last = run.patch.axis().position.len() - 1;
    let [inner, outer] = run.patch.half_capacities(node, at(node));
    let released = snapshot.released[run.places.patch.0][run.patch.local(node)];
    let [released_inner, released_outer] = run.patch.half_shares(node).map(|share| share * released);
    if node < last {
        let carried = run.patch.conductance(node, at(node), at(node + 1)) * (at(node) - at(node + 1));
        carried + outer * rate - released_outer
    } else {
        let carried = run.patch.conductance(node - 1, at(node - 1), at(node)) * (at(node - 1) - at(node));
        carried - inner * rate + released_inner
    }
}
