//! What comes out: temperatures, hold times, where the heat went, each as a range, with the numerical error beside.

use super::assemble::{Account, MeshedWall};
use super::marches::{Marches, Paces, Run};
use super::place::{Mechanism, Part, Place};
use super::plan::WATERY;
use super::spot::ProbeSpot;
use super::{Options, Plan, Range, Setup};
use crate::error::{Error, ErrorKind, Within};
use crate::march::Statistics;
use crate::material::Material;
use crate::units::bounds::in_range;
use crate::units::{Energy, Mass, Si, Spoken, Temperature, TemperatureInterval, Time, seconds};

/// The predicted course of a pot. Times count from shutting.
#[derive(Debug)]
pub struct Forecast {
    /// Best values, six marches as [`MARCHES`] has them.
    pub(super) best: Vec<Run>,
    pub(super) cautious: Run,
    pub(super) generous: Run,
    /// Cautious and generous for the edge of a dish that stands still.
    edges: Option<[Run; 2]>,
    /// Cautious and generous with what leads to the ground at its opposite end.
    crossed: Option<[Run; 2]>,
    crossed_edges: Option<[Run; 2]>,
    pub(super) horizon: f64,
    serve: Option<f64>,
    /// What was computed: what an earlier forecast hands over goes on in the same.
    pub(super) setup: Setup,
    pub(super) cells: usize,
    pub(super) leaves: Temperature,
}

/// Heat lost along one path since leaving the stove (since the simmer began, if pieces cook). What a stove gave, at the
/// start or in a reheat, counts negative.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct PathHeat {
    /// Where.
    pub place: Place,
    /// How.
    pub mechanism: Mechanism,
    /// How much.
    pub heat: Range<Energy>,
}

/// Change of the heat stored in one part since leaving the stove, or since the simmer began if pieces cook (negative:
/// given up). Where servings were taken out it is that of what was there at the time. All parts together hold what all
/// paths have lost, with the sign turned round.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct StoredHeat {
    /// What.
    pub part: Part,
    /// How much.
    pub heat: Range<Energy>,
}

/// How hot a layer becomes.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct HottestLayer {
    /// Which wall.
    pub part: Part,
    /// Which layer of it, counted from 0 at the inside; of edges, which of their fillers.
    pub layer: usize,
    /// Name of its material.
    pub material: String,
    /// Highest temperature of its warmest place.
    pub temperature: Range<Temperature>,
    /// What its material should bear for hours, where that is known.
    pub limit: Option<Temperature>,
}

/// One row of the table of hours.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct HourRow {
    /// After shutting.
    pub time: Time,
    /// Of the pot.
    pub temperature: Range<Temperature>,
    /// Numerical error of the best value.
    pub numerical: TemperatureInterval,
}

impl Forecast {
    /// A forecast and the steps it took. They are those of `like`, march by march, so that the two forecasts differ by
    /// what was changed alone; a march that must land on other moments chooses its own.
    pub(crate) fn compute(
        setup: &Setup,
        plan: &Plan,
        options: &Options,
        like: Option<&Paces>,
    ) -> Result<(Self, Paces), Error> {
        let stops = Self::stops(setup, plan, options)?;
        let horizon = options.horizon.si();
        let serve = plan.serve_time().map(Si::si);

        let (marches, paces) = Marches::of(setup, plan, options, &stops, like)?;
        let Marches { best, ends: [cautious, generous], edges, crossed, crossed_edges } = marches;
        let (setup, cells, leaves) = (setup.clone(), options.cells, plan.hottest_start()?);
        Ok((
            Forecast { best, cautious, generous, edges, crossed, crossed_edges, horizon, serve, setup, cells, leaves },
            paces,
        ))
    }

    /// Checks what a forecast is asked for; the times at which its marches stop, s, the horizon last.
    pub(super) fn stops(setup: &Setup, plan: &Plan, options: &Options) -> Result<Vec<f64>, Error> {
        options.check()?;
        plan.check()?;
        plan.check_within(options.horizon)?;
        setup.pot().starts_at(plan)?;
        if setup.pot().contents().is_some_and(|(dish, _)| dish.water_content().si() > WATERY) {
            plan.check_boiling()?;
        }
        let horizon = options.horizon.si();
        let serve = plan.serve_time().map(Si::si);
        if let Some(handed) = plan.handed_over() {
            handed.check(setup, options.cells)?;
        }
        let mut stops: Vec<f64> = serve.into_iter().filter(|t| *t > 0.0 && *t < horizon).collect();
        stops.push(horizon);
        Ok(stops)
    }

    /// How long after shutting the pot is followed.
    pub fn horizon(&self) -> Time {
        Time::from_si(self.horizon)
    }

    /// When it is served, if the plan says so.
    pub fn serve_time(&self) -> Option<Time> {
        self.serve.map(Time::from_si)
    }

    pub(super) fn check_time(&self, time: Time) -> Result<f64, Error> {
        in_range("time", time, seconds(0.0), self.horizon())
    }

    /// Temperature of the dish at a time after shutting, with the numerical error of its best value: the mean of a dish that
    /// stands still, as a thermometer shows it after stirring (see [`Forecast::coldest`] for its edge).
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a time before shutting or past the horizon.
    pub fn at(&self, time: Time) -> Result<HourRow, Error> {
        self.row_at(ProbeSpot::Dish, time)
    }

    /// The curve at every `interval` from shutting to `until` (or the horizon if that is earlier).
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for an interval below a second.
    pub fn curve(&self, interval: Time, until: Time) -> Result<Vec<HourRow>, Error> {
        self.times(interval, until)?.into_iter().map(|time| self.at(time)).collect()
    }

    /// Every `interval` from shutting to `until`, or the horizon if that is earlier.
    pub(super) fn times(&self, interval: Time, until: Time) -> Result<Vec<Time>, Error> {
        let step = in_range("interval", interval, seconds(1.0), seconds(1e9))?;
        let end = until.si().min(self.horizon);
        let count = (end / step + 1e-9).floor() as usize;
        Ok((0..=count).map(|i| Time::from_si((i as f64 * step).min(self.horizon))).collect())
    }

    /// Time and which snapshot: serving if the plan has it, else the horizon.
    pub(super) fn account(&self) -> (f64, usize) {
        match self.serve {
            Some(t) if t > 0.0 => (t, 1),
            Some(_) => (0.0, 0),
            None => (self.horizon, 1),
        }
    }

    /// Heat lost by path from leaving the stove to serving (to the horizon if the plan does not serve), most first.
    pub fn heat_by_path(&self) -> Vec<PathHeat> {
        self.lost_between(f64::NEG_INFINITY, self.account().0)
    }

    /// Heat lost by path between two times after shutting, most first: hour by hour, or during an opening. A reheat
    /// belongs to the time from its own moment on.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for times before shutting, past the horizon, or in the wrong order.
    pub fn heat_by_path_between(&self, from: Time, to: Time) -> Result<Vec<PathHeat>, Error> {
        let start = self.check_time(from).within("from")?;
        in_range("time", to, from, self.horizon()).within("to")?;
        Ok(self.lost_between(start, to.si()))
    }

    fn lost_between(&self, from: f64, to: f64) -> Vec<PathHeat> {
        let fine = &self.best[2];
        let mut rows: Vec<PathHeat> = fine
            .assembly
            .paths
            .iter()
            .filter(|account| account.place != Place::Inside)
            .map(|&Account { place, mechanism, .. }| {
                // A member may lack a path: one without air loops has none.
                let of = |run: &Run| {
                    let account = run.assembly.paths.iter().find(|a| a.place == place && a.mechanism == mechanism);
                    account.map_or(0.0, |account| run.lost_by(account, from, to))
                };
                let heat = Range::of_members(of(&self.cautious), of(fine), of(&self.generous));
                PathHeat { place, mechanism, heat }
            })
            .filter(|row| row.heat.low().si() != 0.0 || row.heat.high().si() != 0.0)
            .collect();
        rows.sort_by(|a, b| b.heat.best().si().total_cmp(&a.heat.best().si()));
        rows
    }

    /// Change of the stored heat by part over the same time.
    pub fn heat_stored(&self) -> Vec<StoredHeat> {
        let (_, snapshot) = self.account();
        let cautious = Self::stored(&self.cautious, snapshot);
        let (best, generous) = (Self::stored(&self.best[2], snapshot), Self::stored(&self.generous, snapshot));
        let of = |list: &[(Part, f64)], part: Part| list.iter().filter(|(p, _)| *p == part).map(|(_, heat)| heat).sum();
        let mut rows: Vec<StoredHeat> = Vec::new();
        for (part, _) in &best {
            // A wall and its edges are one part.
            if rows.iter().all(|row| row.part != *part) {
                let heat = Range::of_members(of(&cautious, *part), of(&best, *part), of(&generous, *part));
                rows.push(StoredHeat { part: *part, heat });
            }
        }
        rows
    }

    /// Rise of the heat in every body and patch from the start to a snapshot, J.
    fn stored(run: &Run, snapshot: usize) -> Vec<(Part, f64)> {
        let assembly = &run.assembly;
        let snapshot = &run.history.snapshots[snapshot];
        let bodies = [(assembly.pot, Part::Pot)].into_iter().chain(assembly.bodies.iter().copied());
        let pieces = assembly.pieces.iter().enumerate().map(|(k, (patch, _))| (*patch, Part::Pieces(k)));
        let dish = assembly.still.iter().map(|(patch, _)| (*patch, Part::Pot));
        let edges = assembly.edges.iter().map(|patch| (*patch, Part::Edges));
        let walls = assembly.walls.iter().flat_map(|wall| {
            let each = snapshot.stored_in_patch[wall.id.0] / wall.faces.len() as f64;
            wall.faces.iter().map(move |face| (Part::Wall(*face), each))
        });
        let of_patches = pieces.chain(dish).chain(edges);
        let of_patches = of_patches.map(|(patch, part)| (part, snapshot.stored_in_patch[patch.0]));
        let of_bodies = bodies.map(|(node, part)| (part, snapshot.stored_in_node[node.0]));
        of_bodies.chain(of_patches).chain(walls).collect()
    }

    /// Highest temperature that each layer of each wall reaches at its warmest place, against the limit of its
    /// material. What fills an inner corner counts as warm as what it faces, which is a few kelvin too warm.
    pub fn hottest(&self) -> Vec<HottestLayer> {
        let mut rows: Vec<HottestLayer> = Vec::new();
        let fine = &self.best[2];
        for (k, wall) in fine.assembly.walls.iter().enumerate() {
            let layers = wall.materials.iter().enumerate();
            for (part, (layer, material)) in
                wall.faces.iter().flat_map(|face| layers.clone().map(|layer| (Part::Wall(*face), layer)))
            {
                let of = |run: &Run| {
                    let MeshedWall { id, patch, .. } = &run.assembly.walls[k];
                    let nodes = patch.axis().layer_nodes[layer].clone();
                    nodes.map(|n| run.history.hottest[id.0][patch.local(n)]).fold(f64::NEG_INFINITY, f64::max)
                };
                let temperature: Range<Temperature> =
                    Range::of_members(of(&self.cautious), of(fine), of(&self.generous));
                // The edges of a wall are cooler than the wall itself.
                match rows.iter_mut().find(|r| r.part == part && r.layer == layer) {
                    Some(row) if row.temperature.best().si() >= temperature.best().si() => {}
                    Some(row) => row.temperature = temperature,
                    None => rows.push(HottestLayer {
                        part,
                        layer,
                        material: material.name().to_owned(),
                        temperature,
                        limit: material.service_temperature().map(|t| t.continuous()),
                    }),
                }
            }
        }
        for (layer, (material, faces)) in fine.assembly.fillers.iter().enumerate() {
            // The same fillers in every march.
            let of = |run: &Run| {
                let steps = 0..run.history.steps();
                steps.map(|k| run.history.node_at_step(faces.0, k)).fold(f64::NEG_INFINITY, f64::max)
            };
            rows.push(HottestLayer {
                part: Part::Edges,
                layer,
                material: material.name().to_owned(),
                temperature: Range::of_members(of(&self.cautious), of(fine), of(&self.generous)),
                limit: material.service_temperature().map(|t| t.continuous()),
            });
        }
        rows
    }

    /// The materials of the walls, as often as they occur.
    pub(super) fn materials(&self) -> impl Iterator<Item = &Material> {
        let assembly = &self.best[2].assembly;
        let of_walls = assembly.walls.iter().flat_map(|wall| &wall.materials);
        of_walls.chain(assembly.fillers.iter().map(|(material, _)| material))
    }

    /// Water that has left the dish as vapour (servings do not count) by a time after shutting: weigh the pot before
    /// and after to check. Where the leak was given as a conductance only what it gives off while uncovered is known; none
    /// where it never is.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a time before shutting or past the horizon.
    pub fn water_lost(&self, time: Time) -> Result<Option<Range<Mass>>, Error> {
        let t = self.check_time(time)?;
        let of = |run: &Run| run.assembly.water.map(|s| run.history.water(s.0, 0.0) - run.history.water(s.0, t));
        let (cautious, best, generous) = (of(&self.cautious), of(&self.best[2]), of(&self.generous));
        Ok(cautious.zip(best).zip(generous).map(|((c, b), g)| Range::of_members(c, b, g)))
    }

    /// Water on the liner of the lid at a time after shutting: it condenses there from the vapour of the dish, and dries again
    /// where the air of the box is drier. Nothing where the leak was given as a conductance.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a time before shutting or past the horizon.
    pub fn water_on_liner(&self, time: Time) -> Result<Option<Range<Mass>>, Error> {
        let t = self.check_time(time)?;
        let of = |run: &Run| {
            let assembly = &run.assembly;
            // What has dried away leaves a trace of rounding.
            assembly.film.map(|s| (assembly.network.stores[s.0].start + run.history.water(s.0, t)).max(0.0))
        };
        let (cautious, best, generous) = (of(&self.cautious), of(&self.best[2]), of(&self.generous));
        Ok(cautious.zip(best).zip(generous).map(|((c, b), g)| Range::of_members(c, b, g)))
    }

    /// Largest imbalance of the water account at any step end of any march, as a share of the water moved.
    pub fn water_residual(&self) -> f64 {
        self.runs().map(|r| r.history.worst_water).fold(0.0, f64::max)
    }

    /// Temperature in the middle of each kind of piece, in the order given, at a time after shutting.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a time before shutting or past the horizon.
    pub fn middles(&self, time: Time) -> Result<Vec<Range<Temperature>>, Error> {
        let t = self.check_time(time)?;
        Ok((0..self.middle_count())
            .map(|k| {
                let of = |run: &Run| run.history.node(run.assembly.pieces[k].1.0, t);
                self.span(ProbeSpot::Dish, of(&self.best[2]), of)
            })
            .collect())
    }

    /// How many kinds of pieces there are.
    pub fn middle_count(&self) -> usize {
        self.best[2].assembly.pieces.len()
    }

    /// Temperature in the middle of the pieces of one kind, counted from 0 in the order given, at a time after shutting,
    /// with the numerical error of its best value.
    ///
    /// # Errors
    /// [`crate::ErrorKind::OutOfRange`] for a time before shutting or past the horizon, or a kind that is not there.
    pub fn middle_at(&self, kind: usize, time: Time) -> Result<HourRow, Error> {
        let t = self.check_time(time)?;
        if kind >= self.middle_count() {
            return Err(Error::new(ErrorKind::OutOfRange, "no such kind of pieces")
                .with_value(kind.to_string())
                .with_accepted(format!("below {}", self.middle_count()))
                .within("kind"));
        }
        let of = |run: &Run, t: f64| run.history.node(run.assembly.pieces[kind].1.0, t);
        let best = self.best_over(ProbeSpot::Dish, t, of);
        Ok(HourRow {
            time,
            temperature: self.span(ProbeSpot::Dish, best.value, |run| of(run, t)),
            numerical: TemperatureInterval::from_si(best.error),
        })
    }

    /// Largest imbalance of the heat account at any step end of any march, as a share of the heat moved (or of a
    /// millionth of the heat stored, where that is more).
    pub fn ledger_residual(&self) -> f64 {
        self.runs().map(|r| r.history.worst_residual).fold(0.0, f64::max)
    }

    /// Work done by all marches together.
    pub fn statistics(&self) -> Statistics {
        let mut sum = Statistics::default();
        for run in self.runs() {
            sum += run.history.statistics;
        }
        sum
    }

    /// Times of which everything was kept, s.
    pub(super) fn kept(&self) -> Vec<f64> {
        let serve = self.serve.filter(|t| *t > 0.0 && *t < self.horizon);
        [Some(0.0), serve, Some(self.horizon)].into_iter().flatten().collect()
    }

    /// Every march: best values, cautious, generous, those of the edge, and those that cross.
    pub(super) fn runs(&self) -> impl Iterator<Item = &Run> {
        self.best
            .iter()
            .chain([&self.cautious, &self.generous])
            .chain(self.edges.iter().flatten())
            .chain(self.all_crossed())
    }

    fn all_crossed(&self) -> impl Iterator<Item = &Run> {
        self.crossed.iter().chain(&self.crossed_edges).flatten()
    }

    /// Whether there are marches with what leads to the ground at its opposite end.
    pub(super) fn is_crossed(&self) -> bool {
        self.crossed.is_some()
    }

    /// Every march that spans the range for a spot, cautious and generous first. At the coldest spot of a dish that stands
    /// still those of its mean count as well: what hinders the heat inside makes the edge colder at first, but in the end it
    /// is what gave its heat up freely that is colder.
    pub(super) fn all_ends(&self, spot: ProbeSpot) -> impl Iterator<Item = &Run> {
        let is_edge = spot == ProbeSpot::Coldest;
        let mean = self.edges.as_ref().filter(|_| is_edge).map(|_| [&self.cautious, &self.generous]);
        let crossed = self.crossed.iter().chain(self.crossed_edges.as_ref().filter(|_| is_edge)).flatten();
        self.ends(spot).into_iter().chain(mean.into_iter().flatten()).chain(crossed)
    }

    /// What a best value and the marches of the range span.
    pub(super) fn span<Q: Spoken>(&self, spot: ProbeSpot, best: f64, of: impl Fn(&Run) -> f64) -> Range<Q> {
        let (low, high) = self.all_ends(spot).map(of).fold((best, best), |(low, high), t| (low.min(t), high.max(t)));
        Range::of_members(low, best, high)
    }

    /// The cautious and the generous march for a spot.
    pub(super) fn ends(&self, spot: ProbeSpot) -> [&Run; 2] {
        match (spot, &self.edges) {
            (ProbeSpot::Coldest, Some([cautious, generous])) => [cautious, generous],
            _ => [&self.cautious, &self.generous],
        }
    }
}
