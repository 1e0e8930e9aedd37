//! Heat released in a section, and heat that a prescribed flux brings through its surface.

use std::fmt;
use std::sync::Arc;

use super::section_assembly::Share;
use super::section_patch::Physics;
use crate::error::{Error, ErrorKind, Within};
use crate::network::{Signal, Source};
use crate::units::{HeatFluxDensity, Length, Si, Time, VolumetricPower};
use crate::wall::{Course, Fill, Place, Point, Section};

type Field = Arc<dyn Fn(Point, Time) -> VolumetricPower + Send + Sync>;
type Surface = Arc<dyn Fn(Point, Time) -> HeatFluxDensity + Send + Sync>;

/// Heat released per volume of a section, or at its surface.
#[derive(Clone)]
pub struct SectionSource {
    kind: Kind,
}

#[derive(Clone)]
enum Kind {
    Fill(Fill, Course<VolumetricPower>),
    Field(Field),
    Surface(String, Surface),
}

impl fmt::Debug for SectionSource {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.kind {
            Kind::Fill(fill, course) => write!(f, "SectionSource({}, {course:?})", fill.material().id()),
            Kind::Field(_) => f.write_str("SectionSource(field)"),
            Kind::Surface(part, _) => write!(f, "SectionSource(at {part})"),
        }
    }
}

impl SectionSource {
    /// The same everywhere in areas of this fill, in time as the course says.
    pub fn in_fill(fill: impl Into<Fill>, power: impl Into<Course<VolumetricPower>>) -> Self {
        SectionSource { kind: Kind::Fill(fill.into(), power.into()) }
    }

    /// A smooth function of place and time.
    pub fn field(power: impl Fn(Point, Time) -> VolumetricPower + Send + Sync + 'static) -> Self {
        SectionSource { kind: Kind::Field(Arc::new(power)) }
    }

    /// Heat that enters through a part of the boundary, W/m² (below zero: that leaves), beside whatever else happens there:
    /// the sun on an outer face. A smooth function of place and time along it. What is no finite number is an error of the
    /// march or the steady state.
    pub fn at_surface(
        part: impl Into<String>,
        flux: impl Fn(Point, Time) -> HeatFluxDensity + Send + Sync + 'static,
    ) -> Self {
        SectionSource { kind: Kind::Surface(part.into(), Arc::new(flux)) }
    }

    pub(super) fn check(&self, section: &Section) -> Result<(), Error> {
        if let Kind::Fill(fill, course) = &self.kind {
            if !section.fills().contains(fill) {
                let known: Vec<&str> = section.fills().iter().map(|f| f.material().id()).collect();
                return Err(Error::new(ErrorKind::UnknownName, "no area of this fill")
                    .with_value(fill.material().id())
                    .with_accepted(known.join(", "))
                    .within("source"));
            }
            let (low, high) = course.extremes();
            if !(low.is_finite() && high.is_finite()) {
                return Err(Error::new(ErrorKind::OutOfRange, "not a finite number")
                    .with_value(format!("{low} to {high} W/m³"))
                    .within("source"));
            }
        }
        if let Kind::Surface(part, _) = &self.kind {
            section.part(part).within("source")?;
        }
        Ok(())
    }

    /// Rough size of the power per volume, W/m³.
    pub(super) fn size(&self, frame: [Place; 2]) -> f64 {
        match &self.kind {
            Kind::Fill(_, course) => {
                let (low, high) = course.extremes();
                low.abs().max(high.abs())
            }
            Kind::Field(field) => (0..=8)
                .flat_map(|i| (0..=8).map(move |j| [i, j]))
                .map(|at| {
                    let place = [0, 1].map(|k| frame[0][k] + (frame[1][k] - frame[0][k]) * f64::from(at[k]) / 8.0);
                    field(place.map(Length::from_si), Time::from_si(0.0)).si().abs()
                })
                .filter(|p| p.is_finite())
                .fold(0.0, f64::max),
            // As what it brings would be if the frame took it up alike throughout.
            Kind::Surface(_, flux) => {
                let across = [0, 1].map(|k| frame[1][k] - frame[0][k]);
                (0..=8)
                    .flat_map(|i| (0..=8).map(move |j| [i, j]))
                    .map(|at| {
                        let place = [0, 1].map(|k| frame[0][k] + across[k] * f64::from(at[k]) / 8.0);
                        flux(place.map(Length::from_si), Time::from_si(0.0)).si().abs()
                    })
                    .filter(|q| q.is_finite())
                    .fold(0.0, f64::max)
                    / across[0].min(across[1])
            }
        }
    }
}

/// A source on a mesh.
pub(super) struct SourceOnMesh {
    kind: Kind,
    /// Place, volume (at a surface, area) and unknown.
    parts: Vec<(Place, f64, usize)>,
}

impl fmt::Debug for SourceOnMesh {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "SourceOnMesh({} parts)", self.parts.len())
    }
}

impl SourceOnMesh {
    pub(super) fn new(source: &SectionSource, section: &Section, physics: &Physics) -> Self {
        let wanted = match &source.kind {
            Kind::Fill(fill, _) => section.fills().iter().position(|f| f == fill),
            Kind::Field(_) | Kind::Surface(..) => None,
        };
        let place = |unknown: usize| physics.places[unknown];
        let stores = &physics.assembly.stores;
        let parts = match &source.kind {
            Kind::Surface(part, _) => {
                let part = section.part(part).ok();
                let shares = physics.assembly.shares.iter().filter(|s| Some(s.part) == part);
                let of = |s: &Share| physics.unknown(s.node).map(|unknown| (place(unknown), s.area, unknown));
                shares.filter_map(of).collect()
            }
            Kind::Fill(..) | Kind::Field(_) => stores
                .iter()
                .filter(|s| wanted.is_none_or(|fill| fill == s.fill as usize))
                .map(|s| (place(s.unknown as usize), s.volume, s.unknown as usize))
                .collect(),
        };
        SourceOnMesh { kind: source.kind.clone(), parts }
    }
}

impl Source for SourceOnMesh {
    fn add(&self, time: f64, before: bool, out: &mut [f64]) {
        match &self.kind {
            Kind::Fill(_, course) => {
                let signal = course.signal();
                let power = if before { signal.before(time) } else { signal.at(time) };
                for (_, volume, unknown) in &self.parts {
                    out[*unknown] += power * volume;
                }
            }
            Kind::Field(field) => {
                for (place, volume, unknown) in &self.parts {
                    out[*unknown] += field(place.map(Length::from_si), Time::from_si(time)).si() * volume;
                }
            }
            Kind::Surface(_, flux) => {
                for (place, area, unknown) in &self.parts {
                    out[*unknown] += flux(place.map(Length::from_si), Time::from_si(time)).si() * area;
                }
            }
        }
    }

    fn jumps(&self, from: f64, to: f64) -> Vec<f64> {
        match &self.kind {
            Kind::Fill(_, course) => course.signal().jumps(from, to),
            Kind::Field(_) | Kind::Surface(..) => Vec::new(),
        }
    }
}

/// A prescribed flux through a part of the surface.
#[derive(Debug)]
pub(super) struct FluxOnMesh {
    flux: Signal,
    /// Area and unknown.
    parts: Vec<(f64, usize)>,
}

impl FluxOnMesh {
    pub(super) fn new(flux: &Signal, part: usize, physics: &Physics) -> Self {
        let shares = physics.assembly.shares.iter().filter(|s| s.part == part);
        let parts = shares.filter_map(|s| Some((s.area, physics.unknown(s.node)?))).collect();
        FluxOnMesh { flux: flux.clone(), parts }
    }
}

impl Source for FluxOnMesh {
    fn add(&self, time: f64, before: bool, out: &mut [f64]) {
        let flux = if before { self.flux.before(time) } else { self.flux.at(time) };
        for (area, unknown) in &self.parts {
            out[*unknown] += flux * area;
        }
    }

    fn jumps(&self, from: f64, to: f64) -> Vec<f64> {
        self.flux.jumps(from, to)
    }
}
