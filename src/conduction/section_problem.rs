//! A section, what happens at the parts of its boundary, and where it starts.

use std::fmt;
use std::sync::Arc;

use super::section_assembly::Meeting;
use super::section_grid::GridPlan;
use super::section_patch::{FilmLaw, Meetings, SectionPatch};
use super::section_source::{FluxOnMesh, SectionSource, SourceOnMesh};
use super::section_vertex::Surroundings;
use super::wall_patch::LayerLaws;
use crate::error::{Error, ErrorKind, Within};
use crate::network::{Enthalpy, Link, Network, Node, NodeId, PatchId};
use crate::units::bounds::{in_range, number_in_range};
use crate::units::{HeatTransfer, Length, Si, Temperature, celsius};
use crate::wall::{Boundary, Place, Point, Section};

/// How exactly to compute a section, and how much work that may cost.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct SectionAccuracy {
    /// Wanted numerical error, 1e-7 to 0.1: of the heat through each part as a share of the largest, and of the
    /// temperatures on the mean as a share of the swing. Default 1e-3. Meshes are refined until the reported error is
    /// below it.
    pub relative: f64,
    /// Cells along the longer side of the coarsest of the three meshes to begin with. Default 12.
    pub cells: usize,
    /// Most nodes of the finest mesh. Default 200 000.
    pub nodes: usize,
    /// Most steps a single march may take. Default 200 000.
    pub steps: usize,
}

/// Most nodes of any mesh.
const MOST_NODES: f64 = 2e7;

impl Default for SectionAccuracy {
    fn default() -> Self {
        SectionAccuracy { relative: 1e-3, cells: 12, nodes: 200_000, steps: 200_000 }
    }
}

impl SectionAccuracy {
    /// The default with another wanted error.
    pub fn relative(relative: f64) -> Self {
        SectionAccuracy { relative, ..SectionAccuracy::default() }
    }

    /// The same with another bound on the nodes of the finest mesh.
    #[must_use]
    pub fn with_nodes(self, nodes: usize) -> Self {
        SectionAccuracy { nodes, ..self }
    }

    /// The same, beginning with another number of cells along the longer side.
    #[must_use]
    pub fn with_cells(self, cells: usize) -> Self {
        SectionAccuracy { cells, ..self }
    }

    pub(super) fn check(&self) -> Result<(), Error> {
        number_in_range("relative", self.relative, 1e-7, 0.1)?;
        number_in_range("cells", self.cells as f64, 2.0, 1e4)?;
        number_in_range("nodes", self.nodes as f64, 100.0, MOST_NODES)?;
        number_in_range("steps", self.steps as f64, 10.0, 1e9)?;
        Ok(())
    }
}

type StartField = Arc<dyn Fn(Point) -> Temperature + Send + Sync>;

#[derive(Clone)]
enum Start {
    Uniform(Temperature),
    Field(StartField),
}

impl fmt::Debug for Start {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Start::Uniform(t) => write!(f, "{t:?}"),
            Start::Field(_) => f.write_str("field"),
        }
    }
}

/// A complete problem of conduction in a section: what each named part of the boundary meets, heat released inside, and
/// the temperatures at the start. Parts of which nothing is said are insulated.
///
/// ```
/// use stillhot::conduction::{SectionAccuracy, SectionProblem};
/// use stillhot::units::{Si, celsius, millimetres, watts_per_square_metre_kelvin};
/// use stillhot::{Boundary, Fill, Line, Section, Shape};
/// let at = |x: f64, y: f64| [millimetres(x), millimetres(y)];
/// let edge = Section::plane(at(-50.0, -50.0), at(150.0, 150.0))
///     .background(Fill::of("expanded-cork-board")?)
///     .hole(Shape::rectangle(at(0.0, 0.0), at(150.0, 150.0)))
///     .part("inside", &[Line::straight(at(0.0, 150.0), at(0.0, 0.0)), Line::straight(at(0.0, 0.0), at(150.0, 0.0))])
///     .part("outside", &[
///         Line::straight(at(-50.0, 150.0), at(-50.0, -50.0)),
///         Line::straight(at(-50.0, -50.0), at(150.0, -50.0)),
///     ])
///     .build()?;
/// let film = watts_per_square_metre_kelvin(8.0);
/// let steady = SectionProblem::new(edge)
///     .with("inside", Boundary::film(film, celsius(90.0)))?
///     .with("outside", Boundary::film(film, celsius(15.0)))?
///     .steady(&SectionAccuracy::default())?;
/// let heat = steady.heat("inside")?;
/// assert!(heat.value > 0.0 && heat.error < 1e-3 * heat.value);
/// # Ok::<(), stillhot::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct SectionProblem {
    pub(super) section: Section,
    pub(super) boundaries: Vec<Boundary>,
    /// For every part the one whose body it meets, too.
    pub(super) shared: Vec<Option<usize>>,
    start: Start,
    sources: Vec<SectionSource>,
}

/// What of the network results are read from.
#[derive(Debug, Clone)]
pub(super) struct SectionPlaces {
    pub(super) patch: PatchId,
    /// The body at each part.
    pub(super) bodies: Vec<Option<NodeId>>,
}

impl SectionProblem {
    /// A section with all its boundary insulated, starting at 20 °C throughout.
    pub fn new(section: Section) -> Self {
        let boundaries: Vec<Boundary> = section.parts().map(|_| Boundary::Insulated).collect();
        let shared = vec![None; boundaries.len()];
        SectionProblem { section, boundaries, shared, start: Start::Uniform(celsius(20.0)), sources: Vec::new() }
    }

    /// The same with something at a part. The heat capacity of a [`Body`](crate::Body) counts for the extent of the
    /// section: a metre of a plane one, the whole of one about an axis.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a part that is not there; [`ErrorKind::Inconsistent`] for one whose body another
    /// part shares; a boundary outside its accepted range.
    pub fn with(mut self, part: &str, boundary: Boundary) -> Result<Self, Error> {
        let number = self.section.part(part)?;
        boundary.check().within(part)?;
        if self.shared.contains(&Some(number)) {
            return Err(Error::new(ErrorKind::Inconsistent, "another part shares the body here").within(part));
        }
        self.boundaries[number] = boundary;
        self.shared[number] = None;
        Ok(self)
    }

    /// The same with the body at another part behind this one, too, behind a film of its own: a pot whose base and side
    /// exchange heat differently.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a part that is not there, [`ErrorKind::Inconsistent`] if there is no body of its own at
    /// the other part, [`ErrorKind::OutOfRange`] for a film outside 1e-3 to 1e6 W/(m² K).
    pub fn with_body_of(self, other: &str, part: &str, film: HeatTransfer) -> Result<Self, Error> {
        let owner = self.section.part(other)?;
        let number = self.section.part(part)?;
        let body = match &self.boundaries[owner] {
            Boundary::Body(body) if self.shared[owner].is_none() && owner != number => body.clone(),
            _ => {
                let error = Error::new(ErrorKind::Inconsistent, "no body here that another part could share");
                return Err(error.with_accepted("a part that was given a body").within(other));
            }
        };
        let mut problem = self.with(part, Boundary::Body(body.behind_film(film)))?;
        problem.shared[number] = Some(owner);
        Ok(problem)
    }

    /// The same with heat released inside, or at its surface.
    ///
    /// # Errors
    /// [`ErrorKind::UnknownName`] for a fill or a part that is not there, [`ErrorKind::OutOfRange`] for a power that is not finite.
    pub fn with_source(mut self, source: SectionSource) -> Result<Self, Error> {
        source.check(&self.section)?;
        self.sources.push(source);
        Ok(self)
    }

    /// The same, starting at one temperature throughout.
    ///
    /// # Errors
    /// A temperature outside -270 to 3000 °C.
    pub fn starting_at(mut self, temperature: Temperature) -> Result<Self, Error> {
        in_range("start temperature", temperature, celsius(-270.0), celsius(3000.0))?;
        self.start = Start::Uniform(temperature);
        Ok(self)
    }

    /// The same, starting from a field.
    #[must_use]
    pub fn starting_from(mut self, field: impl Fn(Point) -> Temperature + Send + Sync + 'static) -> Self {
        self.start = Start::Field(Arc::new(field));
        self
    }

    /// The section.
    pub fn section(&self) -> &Section {
        &self.section
    }

    /// Lines of the mesh that must be there, along the first (0) and second (1) axis: between them lie the numbers of
    /// cells that [`SectionProblem::steady_on`] takes.
    pub fn lines(&self) -> [Vec<Length>; 2] {
        let plan = self.plan(2);
        [0, 1].map(|axis| plan.lines(axis).iter().map(|l| Length::from_si(*l)).collect())
    }

    pub(super) fn plan(&self, cells: usize) -> GridPlan {
        Self::shared_plan(&[self], cells)
    }

    /// A plan that serves several problems in the same frame.
    pub(super) fn shared_plan(problems: &[&SectionProblem], cells: usize) -> GridPlan {
        let facts: Vec<(Vec<f64>, Vec<bool>)> = problems
            .iter()
            .map(|p| {
                let conductivity = p.section.fills().iter().map(|f| {
                    let [x, y] = f.plain_factors();
                    f.material().conductivity().value().si() * (x * y).sqrt()
                });
                let held = p.boundaries.iter().map(|b| match b {
                    Boundary::Temperature(_) => true,
                    Boundary::Body(body) => body.film().is_none(),
                    _ => false,
                });
                (conductivity.collect(), held.collect())
            })
            .collect();
        let layouts: Vec<_> = problems
            .iter()
            .zip(&facts)
            .map(|(p, (conductivity, held))| (p.section.layout(), Surroundings { conductivity, held }))
            .collect();
        GridPlan::new(&layouts, cells)
    }

    /// The plan of a mesh of one's own.
    pub(super) fn plan_of(&self, cells: [&[usize]; 2]) -> Result<GridPlan, Error> {
        let plan = self.plan(2);
        let wanted = [0, 1].map(|axis| (plan.lines(axis).len() - 1).to_string());
        let nodes = cells.map(|c| c.iter().fold(1.0, |sum, n| sum + 4.0 * *n as f64));
        if nodes[0] * nodes[1] > MOST_NODES {
            return Err(Error::new(ErrorKind::WorkBound, "too fine a mesh")
                .with_value(format!("{} by {} nodes on the finest mesh", nodes[0], nodes[1]))
                .with_accepted(format!("at most {MOST_NODES} nodes"))
                .within("cells"));
        }
        plan.with_equal_cells(cells).ok_or_else(|| {
            Error::new(ErrorKind::Inconsistent, "a mesh needs a number of cells between each two lines")
                .with_value(format!("{cells:?}"))
                .with_accepted(format!("{} numbers along the first and {} along the second axis", wanted[0], wanted[1]))
                .within("cells")
        })
    }

    /// Ports of the parts in order: how each meets the surface.
    fn meetings(&self) -> Meetings {
        let mut meetings = Meetings::default();
        for boundary in &self.boundaries {
            let mut here = Vec::new();
            let mut film = |meetings: &mut Meetings, law: FilmLaw| {
                meetings.laws.push(law);
                let law = meetings.laws.len() - 1;
                meetings.ports += 1;
                here.push(Meeting::Film { port: meetings.ports - 1, law });
            };
            match boundary {
                Boundary::Insulated | Boundary::Flux(_) => {}
                Boundary::Film { coefficient, .. } => film(&mut meetings, FilmLaw::Constant(coefficient.si())),
                Boundary::Exchange(exchange) => {
                    film(&mut meetings, FilmLaw::Convection(exchange.convection()));
                    film(&mut meetings, FilmLaw::Radiation(exchange.emissivity().si()));
                }
                Boundary::Body(body) if body.film().is_some() => {
                    film(&mut meetings, FilmLaw::Constant(body.film().map_or(0.0, Si::si)));
                }
                Boundary::Temperature(_) | Boundary::Body(_) => {
                    meetings.ports += 1;
                    here.push(Meeting::Held { port: meetings.ports - 1 });
                }
            }
            meetings.of_part.push(here);
        }
        meetings
    }

    /// Ports of a part.
    pub(super) fn ports_of(&self, part: usize) -> Vec<usize> {
        let port = |meeting: &Meeting| match meeting {
            Meeting::Held { port } | Meeting::Film { port, .. } => *port,
        };
        self.meetings().of_part[part].iter().map(port).collect()
    }

    /// The section on a mesh.
    pub(super) fn patch(&self, plan: &GridPlan, parts: usize) -> Result<SectionPatch, Error> {
        SectionPatch::new(&self.section, plan, parts, &self.meetings(), |fill| LayerLaws::of(fill.material()))
    }

    /// The network of the problem with the section on a mesh.
    pub(super) fn network(&self, patch: &SectionPatch, relinearise: f64) -> Result<(Network, SectionPlaces), Error> {
        let mut network = Network::default();
        let mut bodies: Vec<Option<NodeId>> = vec![None; self.boundaries.len()];
        for (part, boundary) in self.boundaries.iter().enumerate() {
            let (Boundary::Body(body), None) = (boundary, self.shared[part]) else { continue };
            let enthalpy = Enthalpy::Capacity(body.capacity().si());
            let node = network.node(Node::Free { enthalpy, start: body.start().si() });
            if let Some((loss, to)) = body.loss() {
                let air = network.node(Node::Reservoir(to.signal().clone()));
                let path = network.path();
                network.link(Link::conductance(node, air, loss.si(), path));
            }
            bodies[part] = Some(node);
        }
        for (part, owner) in self.shared.iter().enumerate() {
            if let Some(owner) = owner {
                bodies[part] = bodies[*owner];
            }
        }
        let mut ports = Vec::new();
        let physics = patch.physics();
        let mut sources: Vec<Box<dyn crate::network::Source>> = Vec::new();
        for (part, boundary) in self.boundaries.iter().enumerate() {
            match boundary {
                Boundary::Insulated => {}
                Boundary::Temperature(course) | Boundary::Film { surroundings: course, .. } => {
                    ports.push(network.node(Node::Reservoir(course.signal().clone())));
                }
                Boundary::Flux(course) => sources.push(Box::new(FluxOnMesh::new(course.signal(), part, physics))),
                Boundary::Exchange(exchange) => {
                    ports.push(network.node(Node::Reservoir(exchange.air().signal().clone())));
                    ports.push(network.node(Node::Reservoir(exchange.radiant().signal().clone())));
                }
                Boundary::Body(_) => ports.extend(bodies[part]),
            }
        }
        let mut piece = patch.attach(1.0, &ports, relinearise, |place, _| self.start_at(place))?;
        for source in &self.sources {
            sources.push(Box::new(SourceOnMesh::new(source, &self.section, physics)));
        }
        piece.sources = sources;
        let patch = network.patch(piece);
        Ok((network, SectionPlaces { patch, bodies }))
    }

    fn start_at(&self, place: Place) -> f64 {
        match &self.start {
            Start::Uniform(t) => t.si(),
            Start::Field(field) => field(place.map(Length::from_si)).si(),
        }
    }

    /// Temperatures of everything that drives the problem, K: lowest and highest.
    fn driving(&self) -> [f64; 2] {
        let mut ends = [f64::INFINITY, f64::NEG_INFINITY];
        let mut take = |(low, high): (f64, f64)| ends = [ends[0].min(low), ends[1].max(high)];
        for boundary in &self.boundaries {
            match boundary {
                Boundary::Insulated | Boundary::Flux(_) => {}
                Boundary::Film { surroundings: course, .. } | Boundary::Temperature(course) => take(course.extremes()),
                Boundary::Exchange(exchange) => {
                    take(exchange.air().extremes());
                    take(exchange.radiant().extremes());
                }
                Boundary::Body(body) => {
                    take((body.start().si(), body.start().si()));
                    if let Some((_, to)) = body.loss() {
                        take(to.extremes());
                    }
                }
            }
        }
        ends
    }

    /// The span of temperatures that drive the problem, K; at least 1e-6. `from_start` counts the start as well.
    pub(super) fn swing(&self, from_start: bool) -> f64 {
        let mut ends = self.driving();
        let frame = self.section.layout().frame;
        let size = self.section.layout().size();
        if from_start {
            for k in 0..=16 {
                for l in 0..=16 {
                    let at = [f64::from(k) / 16.0, f64::from(l) / 16.0];
                    let t = self.start_at([0, 1].map(|a| frame[0][a] + (frame[1][a] - frame[0][a]) * at[a]));
                    ends = [ends[0].min(t), ends[1].max(t)];
                }
            }
        }
        let least =
            self.section.fills().iter().map(|f| f.material().conductivity().value().si()).fold(f64::INFINITY, f64::min);
        let mut flux: f64 = self.sources.iter().map(|s| s.size(frame)).sum::<f64>() * size;
        for boundary in &self.boundaries {
            if let Boundary::Flux(course) = boundary {
                let (low, high) = course.extremes();
                flux = flux.max(low.abs()).max(high.abs());
            }
        }
        (ends[1] - ends[0]).max(flux * size / least).max(1e-6)
    }
}
