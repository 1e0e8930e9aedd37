//! Heat released inside a wall: in one layer, or anywhere as a function of place and time.

use std::fmt;
use std::sync::Arc;

use super::axis::Cell;
use super::wall_patch::WallPatch;
use crate::error::{Error, ErrorKind};
use crate::network::Source;
use crate::units::{Length, Si, Time, VolumetricPower, seconds};
use crate::wall::{Course, Wall};

type Field = Arc<dyn Fn(Length, Time) -> VolumetricPower + Send + Sync>;

/// Heat released per volume.
#[derive(Clone)]
pub struct HeatSource {
    kind: Kind,
}

#[derive(Clone)]
enum Kind {
    Layer(usize, Course<VolumetricPower>),
    Field(Field),
}

impl fmt::Debug for HeatSource {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.kind {
            Kind::Layer(layer, course) => write!(f, "HeatSource(layer {layer}, {course:?})"),
            Kind::Field(_) => f.write_str("HeatSource(field)"),
        }
    }
}

impl HeatSource {
    /// The same throughout one layer (counted from 0 at the inside), in time as the course says.
    pub fn in_layer(layer: usize, power: impl Into<Course<VolumetricPower>>) -> Self {
        HeatSource { kind: Kind::Layer(layer, power.into()) }
    }

    /// A smooth function of the coordinate (depth of a flat wall, radius of a round one) and time.
    pub fn field(power: impl Fn(Length, Time) -> VolumetricPower + Send + Sync + 'static) -> Self {
        HeatSource { kind: Kind::Field(Arc::new(power)) }
    }

    pub(crate) fn check(&self, wall: &Wall) -> Result<(), Error> {
        match &self.kind {
            Kind::Layer(layer, _) if *layer >= wall.layers().len() => {
                Err(Error::new(ErrorKind::OutOfRange, "no such layer")
                    .with_value(layer.to_string())
                    .with_accepted(format!("0 to {}", wall.layers().len() - 1)))
            }
            Kind::Layer(_, course) => {
                let (low, high) = course.extremes();
                if low.is_finite() && high.is_finite() {
                    return Ok(());
                }
                Err(Error::new(ErrorKind::OutOfRange, "not a finite number").with_value(format!("{low} to {high}")))
            }
            Kind::Field(_) => {
                let size = self.size(wall.inner_coordinate(), wall.thickness().si());
                if size.is_finite() {
                    return Ok(());
                }
                Err(Error::new(ErrorKind::OutOfRange, "not a finite number somewhere in the wall at time zero"))
            }
        }
    }

    /// Rough size of the power per volume, W/m³.
    pub(crate) fn size(&self, first: f64, thickness: f64) -> f64 {
        match &self.kind {
            Kind::Layer(_, course) => {
                let (low, high) = course.extremes();
                low.abs().max(high.abs())
            }
            Kind::Field(field) => (0..=16)
                .map(|i| {
                    let x = first + thickness * f64::from(i) / 16.0;
                    field(Length::from_si(x), seconds(0.0)).si().abs()
                })
                .fold(0.0, |a, b| if b.is_finite() { f64::max(a, b) } else { f64::INFINITY }),
        }
    }
}

/// A source on a mesh.
pub(crate) struct SourceShape {
    kind: Kind,
    /// Coordinate and volume of each half cell that releases heat, and the local unknown it belongs to.
    parts: Vec<(f64, f64, usize)>,
}

impl fmt::Debug for SourceShape {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "SourceShape({} parts)", self.parts.len())
    }
}

impl SourceShape {
    pub(crate) fn new(source: &HeatSource, patch: &WallPatch) -> Self {
        let axis = patch.axis();
        let mut parts = Vec::new();
        for (i, cell) in axis.cells.iter().enumerate() {
            let Cell::Layer(layer) = cell else { continue };
            if matches!(&source.kind, Kind::Layer(wanted, _) if wanted != layer) {
                continue;
            }
            let (a, b) = (axis.position[i], axis.position[i + 1]);
            let middle = f64::midpoint(a, b);
            let [inner, outer] = patch.half_volumes(i);
            parts.push((f64::midpoint(a, middle), inner, patch.local(i)));
            parts.push((f64::midpoint(middle, b), outer, patch.local(i + 1)));
        }
        SourceShape { kind: source.kind.clone(), parts }
    }
}

impl Source for SourceShape {
    fn add(&self, time: f64, before: bool, out: &mut [f64]) {
        match &self.kind {
            Kind::Layer(_, course) => {
                let signal = course.signal();
                let power = if before { signal.before(time) } else { signal.at(time) };
                for (_, volume, local) in &self.parts {
                    out[*local] += power * volume;
                }
            }
            Kind::Field(field) => {
                for (x, volume, local) in &self.parts {
                    out[*local] += field(Length::from_si(*x), Time::from_si(time)).si() * volume;
                }
            }
        }
    }

    fn jumps(&self, from: f64, to: f64) -> Vec<f64> {
        match &self.kind {
            Kind::Layer(_, course) => course.signal().jumps(from, to),
            Kind::Field(_) => Vec::new(),
        }
    }
}
