//! A wall, what happens at its two faces, and where it starts: a complete problem of conduction.

use std::fmt;
use std::sync::Arc;

use super::axis::share_cells;
use super::estimate::MARCHES;
use super::exchange_law::{ConvectionLaw, RadiationLaw};
use super::source::{HeatSource, SourceShape};
use super::transient::{Run, Transient};
use super::wall_patch::{RELINEARISE, WallPatch};
use crate::error::{Error, ErrorKind, Within};
use crate::march::{March, Pace, Phase, Sequence, march, steady};
use crate::network::{Enthalpy, Given, Link, Network, Node, NodeId, PatchId, Signal};
use crate::units::bounds::in_range;
use crate::units::{HeatFluxDensity, Length, Si, Temperature, Time, celsius, seconds};
use crate::wall::{Boundary, Wall};

/// How exactly to compute, and how much work that may cost.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Accuracy {
    /// Wanted numerical error of temperatures as a share of the temperature swing of the problem, 1e-9 to 0.1.
    /// Default 1e-4. Meshes and steps are refined until the reported error is below it.
    pub relative: f64,
    /// Cells of the coarsest of the three meshes to begin with. Default 8.
    pub cells: usize,
    /// Most steps a single march may take. Default 200 000.
    pub steps: usize,
    /// Most cells of the finest mesh. Default 20 000.
    pub finest: usize,
}

impl Default for Accuracy {
    fn default() -> Self {
        Accuracy { relative: 1e-4, cells: 8, steps: 200_000, finest: 20_000 }
    }
}

impl Accuracy {
    /// The default with another wanted error.
    pub fn relative(relative: f64) -> Self {
        Accuracy { relative, ..Accuracy::default() }
    }

    /// Error of a single step to begin with, as a share of the swing.
    pub(super) fn step_share(&self) -> f64 {
        (self.relative * 0.3).powf(0.75).min(0.03)
    }

    /// Relative change of a conductance or capacity that the marches need not follow.
    pub(super) fn unfollowed(&self) -> f64 {
        RELINEARISE.min(UNFOLLOWED * self.relative)
    }

    pub(super) fn check(&self) -> Result<(), Error> {
        crate::units::bounds::number_in_range("relative", self.relative, 1e-9, 0.1)?;
        crate::units::bounds::number_in_range("cells", self.cells as f64, 2.0, 1e5)?;
        crate::units::bounds::number_in_range("finest", self.finest as f64, 8.0, 1e7)?;
        crate::units::bounds::number_in_range("steps", self.steps as f64, 1.0, 1e9).map(|_| ())
    }
}

/// Coefficients that follow temperature are followed to this share of the wanted error: what is left enters the reported
/// error in full, see [`Transient::new`].
pub(super) const UNFOLLOWED: f64 = 0.01;

type Field = Arc<dyn Fn(Length) -> Temperature + Send + Sync>;

/// Start temperature of a wall.
#[derive(Clone)]
enum Start {
    Uniform(Temperature),
    PerLayer(Vec<Temperature>),
    Field(Field),
}

impl fmt::Debug for Start {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Start::Uniform(t) => write!(f, "Uniform({t:?})"),
            Start::PerLayer(t) => write!(f, "PerLayer({t:?})"),
            Start::Field(_) => write!(f, "Field(..)"),
        }
    }
}

/// One-dimensional conduction through a wall between two boundaries.
///
/// ```
/// use stillhot::{Boundary, Layer, Material, Wall, conduction::{Accuracy, Problem}, units::*};
/// let foam = Material::custom("foam", watts_per_metre_kelvin(0.035), kilograms_per_cubic_metre(30.0),
///                             joules_per_kilogram_kelvin(1450.0))?;
/// let wall = Wall::planar().layer(Layer::new(foam, millimetres(50.0))?).build()?;
/// let problem = Problem::new(wall, Boundary::temperature(celsius(95.0)), Boundary::temperature(celsius(20.0)))?
///     .starting_at(celsius(20.0))?;
/// let answer = problem.march(&[minutes(30.0)], &Accuracy::default())?;
/// let middle = answer.temperature(millimetres(25.0), 0)?;
/// // 57.34302 °C by the series of Carslaw and Jaeger.
/// assert!((middle.value.si() - 273.15 - 57.34302).abs() < middle.error.si().max(1e-3));
/// # Ok::<(), stillhot::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct Problem {
    wall: Wall,
    inner: Boundary,
    outer: Boundary,
    start: Start,
    sources: Vec<HeatSource>,
}

/// Nodes and links of a problem's network that results are read from.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Places {
    /// Bodies at the two ends.
    pub(crate) bodies: [Option<NodeId>; 2],
    pub(crate) patch: PatchId,
}

impl Problem {
    /// A wall between two boundaries, starting at 20 °C throughout. For a wall that is solid to its axis or centre
    /// the inner boundary must be [`Boundary::Insulated`].
    ///
    /// # Errors
    /// A boundary outside its accepted range, or an inner boundary on a solid wall.
    pub fn new(wall: Wall, inner: Boundary, outer: Boundary) -> Result<Self, Error> {
        inner.check().within("inner boundary")?;
        outer.check().within("outer boundary")?;
        if wall.is_solid() && inner != Boundary::Insulated {
            return Err(Error::new(ErrorKind::Inconsistent, "a solid cylinder or sphere has no inner face")
                .with_accepted("the inner boundary insulated")
                .within("inner boundary"));
        }
        Ok(Problem { wall, inner, outer, start: Start::Uniform(celsius(20.0)), sources: Vec::new() })
    }

    /// The same, starting at one temperature throughout.
    ///
    /// # Errors
    /// A temperature outside -270 to 3000 °C.
    pub fn starting_at(mut self, temperature: Temperature) -> Result<Self, Error> {
        check_start(temperature)?;
        self.start = Start::Uniform(temperature);
        Ok(self)
    }

    /// The same, each layer starting at its own temperature.
    ///
    /// # Errors
    /// Another number of temperatures than layers, or one outside -270 to 3000 °C.
    pub fn starting_by_layer(mut self, temperatures: &[Temperature]) -> Result<Self, Error> {
        if temperatures.len() != self.wall.layers().len() {
            return Err(Error::new(ErrorKind::Inconsistent, "one start temperature for each layer is needed")
                .with_value(temperatures.len().to_string())
                .with_accepted(self.wall.layers().len().to_string())
                .within("start"));
        }
        for (i, t) in temperatures.iter().enumerate() {
            check_start(*t).within(format!("layer {}", i + 1))?;
        }
        self.start = Start::PerLayer(temperatures.to_vec());
        Ok(self)
    }

    /// The same, starting from a field: temperature as a function of the coordinate (depth from the inner face of a
    /// flat wall, radius of a round one).
    #[must_use]
    pub fn starting_from(mut self, field: impl Fn(Length) -> Temperature + Send + Sync + 'static) -> Self {
        self.start = Start::Field(Arc::new(field));
        self
    }

    /// The same with heat released inside.
    ///
    /// # Errors
    /// A layer that is not there, or a power that is not a finite number.
    pub fn with_source(mut self, source: HeatSource) -> Result<Self, Error> {
        source.check(&self.wall).within("source")?;
        self.sources.push(source);
        Ok(self)
    }

    /// The wall.
    pub fn wall(&self) -> &Wall {
        &self.wall
    }

    /// The boundary of the inner (0) or outer (1) end.
    pub(super) fn boundary(&self, end: usize) -> &Boundary {
        if end == 0 { &self.inner } else { &self.outer }
    }

    fn start_at(&self, x: f64, layer: usize) -> f64 {
        match &self.start {
            Start::Uniform(t) => t.si(),
            Start::PerLayer(t) => t[layer].si(),
            Start::Field(f) => f(Length::from_si(x)).si(),
        }
    }

    /// The network of the problem on a mesh.
    pub(crate) fn network(&self, cells: &[usize], relinearise: f64) -> Result<(Network, WallPatch, Places), Error> {
        let mut network = Network::default();
        let patch = WallPatch::new(&self.wall, cells, relinearise)?;
        let first = self.wall.inner_coordinate();
        let last = patch.axis().position[patch.axis().position.len() - 1];
        let mut ends = [None, None];
        let mut bodies = [None, None];
        for (end, boundary) in [&self.inner, &self.outer].into_iter().enumerate() {
            if end == 0 && self.wall.is_solid() {
                continue;
            }
            let x = if end == 0 { first } else { last };
            let area = self.wall.area_at(x);
            // A bare face: its ports bring capacity and start temperature.
            let face = |network: &mut Network| network.node(Node::Free { enthalpy: Enthalpy::None, start: 0.0 });
            ends[end] = Some(match boundary {
                Boundary::Insulated => face(&mut network),
                Boundary::Temperature(course) => network.node(Node::Reservoir(course.signal().clone())),
                Boundary::Flux(course) => {
                    let face = face(&mut network);
                    // The heat comes from a reservoir whose temperature nobody reads.
                    let source = network.node(Node::Reservoir(Signal::Constant(0.0)));
                    let path = network.path();
                    let law = Given { flow: course.signal().clone(), scale: area };
                    network.link(Link {
                        from: source,
                        to: face,
                        reads: Vec::new(),
                        law: Box::new(law),
                        path,
                        water: None,
                    });
                    face
                }
                Boundary::Film { coefficient, surroundings } => {
                    let face = face(&mut network);
                    let air = network.node(Node::Reservoir(surroundings.signal().clone()));
                    let path = network.path();
                    network.link(Link::conductance(face, air, coefficient.si() * area, path));
                    face
                }
                Boundary::Exchange(exchange) => {
                    let face = face(&mut network);
                    let air = network.node(Node::Reservoir(exchange.air().signal().clone()));
                    let radiant = network.node(Node::Reservoir(exchange.radiant().signal().clone()));
                    let path = network.path();
                    let kind = exchange.convection();
                    let convection = ConvectionLaw { kind, area, factor: 1.0 };
                    let radiation = RadiationLaw { factor: exchange.emissivity().si() * area };
                    network.link(Link::between(face, air, convection, path));
                    network.link(Link::between(face, radiant, radiation, path));
                    face
                }
                Boundary::Body(body) => {
                    let enthalpy = Enthalpy::Capacity(body.capacity().si());
                    let node = network.node(Node::Free { enthalpy, start: body.start().si() });
                    bodies[end] = Some(node);
                    if let Some((loss, to)) = body.loss() {
                        let air = network.node(Node::Reservoir(to.signal().clone()));
                        let path = network.path();
                        network.link(Link::conductance(node, air, loss.si(), path));
                    }
                    match body.film() {
                        None => node,
                        Some(film) => {
                            let face = face(&mut network);
                            let path = network.path();
                            network.link(Link::conductance(node, face, film.si() * area, path));
                            face
                        }
                    }
                }
            });
        }
        // The outer end is always made: only a solid wall lacks an end, the inner one.
        let outer = ends[1].ok_or_else(|| Error::new(ErrorKind::Inconsistent, "a wall without an outer face"))?;
        let mut piece = patch.attach(1.0, ends[0], outer, |x, layer| self.start_at(x, layer))?;
        for source in &self.sources {
            piece.sources.push(Box::new(SourceShape::new(source, &patch)));
        }
        let id = network.patch(piece);
        Ok((network, patch, Places { bodies, patch: id }))
    }

    /// Temperatures at the given times (rising, from 0, which is the start), refined until the reported error of
    /// the faces and bodies is below the wanted accuracy.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] for times that do not rise from 0, [`ErrorKind::WorkBound`] if the accuracy cannot
    /// be had within the bounds on work.
    pub fn march(&self, times: &[Time], accuracy: &Accuracy) -> Result<Transient, Error> {
        accuracy.check().within("accuracy")?;
        let times = check_times(times)?;
        let mut cells = accuracy.cells;
        let mut step_share = accuracy.step_share();
        loop {
            let base = share_cells(&self.wall, cells);
            if base.iter().sum::<usize>() * 4 > accuracy.finest {
                return Err(Error::new(ErrorKind::WorkBound, "the accuracy needs a finer mesh than allowed")
                    .with_value(format!("{} cells", base.iter().sum::<usize>() * 4))
                    .with_accepted(format!("at most {} cells", accuracy.finest))
                    .within("accuracy"));
            }
            let transient = self.march_once(&times, &base, step_share, accuracy)?;
            let (mesh, time) = transient.worst_errors();
            let wanted = accuracy.relative;
            if mesh + time <= wanted {
                return Ok(transient);
            }
            if mesh > 0.5 * wanted {
                cells *= 2;
            }
            if time > 0.5 * wanted {
                // The error of a second-order method goes with the local tolerance to the power 2/3.
                step_share *= (0.3 * wanted / time).powf(1.5).clamp(1e-3, 0.5);
            }
        }
    }

    /// The same on a mesh of one's own: these numbers of equal cells in the layers, and twice and four times as many,
    /// without refinement. The steps follow from the wanted accuracy.
    ///
    /// # Errors
    /// As [`Problem::march`]; [`ErrorKind::Inconsistent`] for another number of entries than layers or an entry of
    /// zero.
    pub fn march_on(&self, times: &[Time], cells_per_layer: &[usize], accuracy: &Accuracy) -> Result<Transient, Error> {
        accuracy.check().within("accuracy")?;
        self.check_cells(cells_per_layer)?;
        self.march_once(&check_times(times)?, cells_per_layer, accuracy.step_share(), accuracy)
    }

    pub(super) fn check_cells(&self, cells_per_layer: &[usize]) -> Result<(), Error> {
        if cells_per_layer.len() == self.wall.layers().len() && !cells_per_layer.contains(&0) {
            return Ok(());
        }
        Err(Error::new(ErrorKind::Inconsistent, "a mesh needs a number of cells for each layer")
            .with_value(format!("{cells_per_layer:?}"))
            .with_accepted(format!("{} numbers, each at least 1", self.wall.layers().len()))
            .within("cells"))
    }

    /// One march on one mesh.
    pub(super) fn run(
        &self,
        times: &[f64],
        cells: &[usize],
        relinearise: f64,
        steps: usize,
        pace: &Pace<'_>,
    ) -> Result<(Run, Sequence), Error> {
        let (network, patch, places) = self.network(cells, relinearise)?;
        let end = times[times.len() - 1];
        let phases = [Phase { end, active: vec![true; network.links.len()], events: Vec::new() }];
        let plan = March { phases: &phases, start: 0.0, snapshots: times, step_bound: steps };
        let (history, sequence) = march(&network, &plan, pace)?;
        Ok((Run { network, patch, places, history }, sequence))
    }

    /// The six marches on given meshes.
    fn march_once(
        &self,
        times: &[f64],
        base: &[usize],
        step_share: f64,
        accuracy: &Accuracy,
    ) -> Result<Transient, Error> {
        let swing = self.swing();
        let relinearise = accuracy.unfollowed();
        let mut runs = Vec::with_capacity(MARCHES.len());
        let mut sequence = Sequence::default();
        for (level, split) in MARCHES {
            let cells: Vec<usize> = base.iter().map(|n| n * level).collect();
            let tolerance = step_share * swing;
            let pace = if runs.is_empty() {
                Pace::Adaptive { tolerance, field_tolerance: tolerance }
            } else {
                Pace::Replay { sequence: &sequence, split }
            };
            let (run, taken) = self.run(times, &cells, relinearise, accuracy.steps, &pace)?;
            if runs.is_empty() {
                sequence = taken;
            }
            runs.push(run);
        }
        Ok(Transient::new(self.wall.clone(), times.to_vec(), swing, relinearise, runs))
    }

    /// The state that the wall settles to with its boundaries as they are at time zero.
    ///
    /// # Errors
    /// [`ErrorKind::NoConvergence`] if nothing prescribes a temperature.
    pub fn steady(&self) -> Result<Steady, Error> {
        let cells = share_cells(&self.wall, 2 * self.wall.layers().len());
        let (network, patch, places) = self.network(&cells, RELINEARISE)?;
        let state = steady(&network, 0.0, &vec![true; network.links.len()])?;
        let inner_area = self.wall.area_at(self.wall.inner_coordinate());
        let axis = patch.axis();
        let node_temperature = |node: usize| Temperature::from_si(state.patches[places.patch.0][patch.local(node)]);
        let faces = axis
            .layer_nodes
            .iter()
            .map(|nodes| [node_temperature(nodes.start), node_temperature(nodes.end - 1)])
            .collect();
        let local = |node: usize| state.patches[places.patch.0][patch.local(node)];
        let heat = patch.conductance(0, local(0), local(1)) * (local(0) - local(1));
        Ok(Steady { faces, heat_per_extent: heat, inner_area })
    }

    /// The span of all temperatures that drive the problem, K; at least 1e-6.
    pub(super) fn swing(&self) -> f64 {
        let mut low = f64::INFINITY;
        let mut high = f64::NEG_INFINITY;
        let mut take = |t: f64| {
            low = low.min(t);
            high = high.max(t);
        };
        let first = self.wall.inner_coordinate();
        let thickness = self.wall.thickness().si();
        for i in 0..=32 {
            let x = first + thickness * f64::from(i) / 32.0;
            match &self.start {
                Start::PerLayer(t) => t.iter().for_each(|t| take(t.si())),
                _ => take(self.start_at(x, 0)),
            }
        }
        let mut flux = 0.0_f64;
        for boundary in [&self.inner, &self.outer] {
            match boundary {
                Boundary::Film { surroundings: course, .. } | Boundary::Temperature(course) => {
                    let (l, h) = course.extremes();
                    take(l);
                    take(h);
                }
                Boundary::Flux(course) => {
                    let (l, h) = course.extremes();
                    flux = flux.max(l.abs()).max(h.abs());
                }
                Boundary::Insulated => {}
                Boundary::Exchange(exchange) => {
                    for course in [exchange.air(), exchange.radiant()] {
                        let (l, h) = course.extremes();
                        take(l);
                        take(h);
                    }
                }
                Boundary::Body(body) => {
                    take(body.start().si());
                    if let Some((_, to)) = body.loss() {
                        let (l, h) = to.extremes();
                        take(l);
                        take(h);
                    }
                }
            }
        }
        let resistance: f64 =
            self.wall.layers().iter().map(|l| l.thickness().si() / l.material().conductivity().value().si()).sum();
        let first = self.wall.inner_coordinate();
        let released: f64 = self.sources.iter().map(|s| s.size(first, thickness)).sum();
        (high - low).max((flux + released * thickness) * resistance).max(1e-6)
    }
}

/// A wall in its steady state.
#[derive(Debug, Clone, PartialEq)]
pub struct Steady {
    faces: Vec<[Temperature; 2]>,
    heat_per_extent: f64,
    inner_area: f64,
}

impl Steady {
    /// Temperatures of the inner and outer face of each layer.
    pub fn faces(&self) -> &[[Temperature; 2]] {
        &self.faces
    }

    /// Heat flux through the inner face, outward positive (zero area of a solid wall: no flux).
    pub fn inner_flux(&self) -> HeatFluxDensity {
        HeatFluxDensity::from_si(if self.inner_area > 0.0 { self.heat_per_extent / self.inner_area } else { 0.0 })
    }

    /// Heat flow per extent of the wall, W, W per metre of a cylinder, W of a sphere; outward positive.
    pub fn heat_per_extent(&self) -> f64 {
        self.heat_per_extent
    }
}

fn check_start(temperature: Temperature) -> Result<(), Error> {
    in_range("start temperature", temperature, celsius(-270.0), celsius(3000.0)).map(|_| ())
}

pub(super) fn check_times(times: &[Time]) -> Result<Vec<f64>, Error> {
    if times.is_empty() {
        return Err(Error::new(ErrorKind::OutOfRange, "at least one time is needed").within("times"));
    }
    let mut plain = Vec::with_capacity(times.len());
    let mut last = seconds(0.0);
    for (i, t) in times.iter().enumerate() {
        in_range("time", *t, last, seconds(1e12)).within(format!("times, entry {}", i + 1))?;
        last = *t;
        plain.push(t.si());
    }
    if plain[plain.len() - 1] <= 0.0 {
        return Err(Error::new(ErrorKind::OutOfRange, "the last time must lie after the start").within("times"));
    }
    Ok(plain)
}
