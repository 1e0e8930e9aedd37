//! A junction of walls as a network sees it beside the plain walls that meet in it: its section, less strips of those walls,
//! each in reduced form. Section and strips lie on the same lines and meet the same two environments by the same films, so
//! that what is left of their difference is the junction alone.

use std::fmt::Write;
use std::sync::Arc;

use super::section_assembly::Meeting;
use super::section_cut::Grid;
use super::section_grid::GridPlan;
use super::section_mean::means_along;
use super::section_patch::{FilmLaw, Meetings, SectionPatch};
use super::section_reader::Field;
use super::section_vertex::Surroundings;
use super::wall_patch::{Joint, LayerLaws};
use crate::error::{Error, ErrorKind, Within};
use crate::material::{Material, PropertyLaw};
use crate::network::patch::Coefficients;
use crate::network::reduce::{Aim, Reduced};
use crate::network::shelf::{Family, Shelf};
use crate::network::{NodeId, Patch, Properties};
use crate::units::{Si, metres};
use crate::wall::{Fill, Filler, Geometry, OUTSIDE_OF, PotInSleeve, Section, Strip, Wall, WallCorner};

/// Films at the faces of a junction and the temperatures it works between.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct JunctionSite {
    /// From the environment inside to all inner faces, W/(m² K).
    pub(crate) inside: f64,
    /// From the outer face of each plain wall to the environment outside, W/(m² K).
    pub(crate) outside: Vec<f64>,
    /// Environments inside and outside at which conductivities are taken, K.
    pub(crate) between: [f64; 2],
    /// Cells along the longer axis of the coarsest mesh, and into how many each is split.
    pub(crate) mesh: (usize, usize),
}

impl JunctionSite {
    /// All of it but how finely the mesh is split.
    fn key(&self) -> String {
        format!("{:?} {:?} {:?} {:?}", self.inside, self.outside, self.between, self.mesh.0)
    }
}

/// A junction ready to be attached to a network.
#[derive(Debug, Clone)]
pub(crate) struct JunctionPatch {
    /// The section, then its strips, and all that they follow from.
    parts: Family,
    key: String,
    walls: Arc<Vec<PlainWall>>,
    /// What it passes beyond its plain walls, W/K per extent.
    pub(crate) transmittance: f64,
}

/// Of heat in time; steady states are exact. A junction passes a tenth to a third of what its section does, and all meshes
/// share the shifts, so that no change from mesh to mesh tells what the reduction errs: it must be small beside the error of
/// the meshes from the first minute on. (At 3e-3 from 60 s it was up to 0.09 K at the coldest spot of a wadded box.)
const AIM: Aim = Aim { tolerance: 3e-4, scales: [1.0, 1e6] };
/// What is asked where rounding leaves no more: of walls as thin as foil.
const ROUNDED: Aim = Aim { tolerance: 3e-3, scales: [60.0, 1e6] };
/// Nodes of one mesh of a section: a bound on work, some seconds for all edges of a box.
const MOST_NODES: usize = 150_000;
/// Relative change of the transmittance of the plain walls that need not be followed.
const RELINEARISE: f64 = 1e-3;

impl JunctionPatch {
    /// The edge where a standing and a lying wall meet, per metre.
    ///
    /// # Errors
    /// As [`WallCorner::build`]; a section that cannot be reduced.
    pub(crate) fn edge(
        walls: [&Wall; 2],
        filler: Option<&Filler>,
        site: &JunctionSite,
        laws: impl Fn(&Material) -> LayerLaws,
        shelf: &Shelf,
    ) -> Result<Self, Error> {
        let mut key = format!("edge {}", site.key());
        for wall in walls {
            describe(wall, &laws, &mut key);
        }
        if let Some(filler) = filler {
            write_fill(filler.fill(), &laws, &mut key);
            // Three points of its face tell a straight from a hollow one.
            let _ = write!(key, "{:?}", [0.0, 0.5, 1.0].map(|share| filler.face(share)));
        }
        let corner = || {
            let corner = WallCorner::new(walls[0].clone(), walls[1].clone()).with_outside_parted();
            match filler {
                Some(filler) => corner.with_filler(filler.clone()),
                None => corner,
            }
            .with_strips()
        };
        let outside: Vec<&str> = OUTSIDE_OF.to_vec();
        Self::solve(&key, &walls, ("inside", &outside), corner, site, laws, shelf)
    }

    /// The round edges of a sleeve of these inner measures, m, where the wall of its side goes on round base and lid.
    ///
    /// # Errors
    /// As [`PotInSleeve::build`]; a section that cannot be reduced.
    pub(crate) fn ends(
        wall: &Wall,
        [radius, height]: [f64; 2],
        site: &JunctionSite,
        laws: impl Fn(&Material) -> LayerLaws,
        shelf: &Shelf,
    ) -> Result<Self, Error> {
        let mut key = format!("ends {radius:?} {height:?} {}", site.key());
        describe(wall, &laws, &mut key);
        let sleeve = || PotInSleeve::new(metres(radius), metres(height), wall.clone()).with_strips();
        Self::solve(&key, &[wall; 3], ("pot", &["side", "top", "base"]), sleeve, site, laws, shelf)
    }

    /// Looks on the shelf for section and strips and solves what is not there.
    fn solve(
        key: &str,
        walls: &[&Wall],
        parts: (&str, &[&str]),
        lay: impl Fn() -> Result<(Section, Vec<Strip>), Error>,
        site: &JunctionSite,
        laws: impl Fn(&Material) -> LayerLaws,
        shelf: &Shelf,
    ) -> Result<Self, Error> {
        let mut laid: Option<Laid> = None;
        // On the coarsest mesh the shifts of the reduction are found, which serve the finer ones.
        let mut on_mesh = |level: usize, like: Option<&[Reduced]>| {
            shelf.get(format!("{key} level {level}"), || {
                if laid.is_none() {
                    laid = Some(Laid::new(lay()?, site));
                }
                // Laid just now if not before.
                let Some(laid) = &laid else { return Err(Error::new(ErrorKind::Inconsistent, "no section")) };
                laid.check_size(level)?;
                laid.reduce(parts, site, (level, like), &laws)
            })
        };
        let mut family = on_mesh(1, None)?;
        if site.mesh.1 > 1 {
            family = on_mesh(site.mesh.1, Some(&family))?;
        }
        let plain = walls.iter().zip(&site.outside).map(|(wall, outside)| PlainWall::new(wall, *outside, site, &laws));
        Ok(JunctionPatch {
            transmittance: beyond_strips(&family),
            parts: family,
            key: key.to_owned(),
            walls: Arc::new(plain.collect::<Result<_, _>>()?),
        })
    }

    /// Whether the two share all that they are made of.
    pub(crate) fn is_same(&self, other: &JunctionPatch) -> bool {
        // A shelf that was emptied between the two made the parts twice.
        self.key == other.key
    }

    /// U-value of the plain walls, the mean of all, W/(m² K).
    pub(crate) fn plain_transmittance(&self, between: [f64; 2]) -> f64 {
        mean_transmittance(&self.walls, between)
    }

    /// The patches of so much of it between the environments inside and outside, starting at one temperature, K.
    ///
    /// # Errors
    /// If a node is missing.
    pub(crate) fn attach(&self, extent: f64, nodes: [NodeId; 2], start: f64) -> Result<Vec<Patch>, Error> {
        (0..self.parts.len())
            .map(|k| {
                let weight = if k == 0 { extent } else { -extent };
                let mut patch = self.parts[k].attach_uniform(weight, &nodes, start)?;
                if self.walls.iter().any(|w| !w.is_constant()) {
                    patch.properties = Some(Box::new(Following {
                        reduced: (Arc::clone(&self.parts), k),
                        walls: Arc::clone(&self.walls),
                        worked_at: mean_transmittance(&self.walls, self.walls[0].between),
                    }));
                }
                Ok(patch)
            })
            .collect()
    }
}

/// Section and strips laid out, with the grid that they share.
struct Laid {
    section: Section,
    strips: Vec<Strip>,
    plan: GridPlan,
}

impl Laid {
    fn new((section, strips): (Section, Vec<Strip>), site: &JunctionSite) -> Self {
        let conductivity: Vec<f64> = section
            .fills()
            .iter()
            .map(|f| {
                let [x, y] = f.plain_factors();
                f.material().conductivity().value().si() * (x * y).sqrt()
            })
            .collect();
        let held = vec![false; section.parts().count()];
        let surroundings = Surroundings { conductivity: &conductivity, held: &held };
        let plan = GridPlan::new(&[(section.layout(), surroundings)], site.mesh.0);
        Laid { section, strips, plan }
    }

    /// Refuses a mesh that would take too long.
    fn check_size(&self, level: usize) -> Result<(), Error> {
        match self.plan.size(level) {
            nodes if nodes > MOST_NODES => Err(Error::new(ErrorKind::WorkBound, "too fine a mesh for a solved edge")
                .with_value(format!("{nodes} nodes"))
                .with_accepted(format!("at most {MOST_NODES} nodes: fewer cells in the options"))),
            _ => Ok(()),
        }
    }

    /// The grid of the section or of a strip with every step split in `parts`.
    fn grid(&self, strip: Option<usize>, parts: usize) -> Grid {
        let lines = [0, 1].map(|axis| self.plan.nodes(axis, parts));
        let Some(strip) = strip.map(|k| &self.strips[k]) else { return Grid { axes: lines } };
        // The lines of the junction across the wall; along it nothing changes.
        let frame = strip.section.layout().frame;
        let axes = [0, 1].map(|axis| {
            let (low, high) = (frame[0][axis], frame[1][axis]);
            let slack = 1e-9 * (high - low);
            let inside = |x: &f64| axis == strip.across && *x > low + slack && *x < high - slack;
            std::iter::once(low).chain(lines[axis].iter().copied().filter(inside)).chain([high]).collect()
        });
        Grid { axes }
    }

    /// The section and its strips in reduced form on a mesh with every step split in so many parts; like the reduced forms
    /// on the coarsest one, if there are any. Port 0 inside, port 1 outside.
    fn reduce(
        &self,
        parts: (&str, &[&str]),
        site: &JunctionSite,
        (level, like): (usize, Option<&[Reduced]>),
        laws: impl Fn(&Material) -> LayerLaws,
    ) -> Result<Vec<Reduced>, Error> {
        let mut family: Vec<Reduced> = Vec::with_capacity(1 + self.strips.len());
        let mut whole: Option<SectionPatch> = None;
        for k in 0..=self.strips.len() {
            let strip = k.checked_sub(1);
            let coarse = self.patch(strip, parts, site, 1, &laws)?;
            let fine = if level > 1 { self.patch(strip, parts, site, level, &laws)? } else { coarse.clone() };
            // A strip that can follow what its section can never takes more off than the section brings.
            let fields = match (&whole, strip) {
                (Some(whole), Some(strip)) => {
                    let about_axis = self.section.is_about_axis();
                    let across = self.strips[strip].across;
                    means_along(whole.physics(), family[0].fields(), fine.physics(), across, about_axis)
                }
                _ => Vec::new(),
            };
            let (field, coefficients) = coarse.settled(&site.between)?;
            let reduced = match like {
                None => {
                    let reduce = |aim| Reduced::holding(&fields, &coefficients, 2, &[], aim);
                    reduce(AIM).or_else(|_| reduce(ROUNDED))
                }
                Some(like) => {
                    let field = Field { physics: coarse.physics(), temperature: &field };
                    let (responses, coefficients) = fine.settled_from(&field)?;
                    like[k].of_finer(&coefficients, &responses, &fields)
                }
            };
            family.push(reduced.within("section")?);
            whole.get_or_insert(fine);
        }
        Ok(family.into_iter().map(Reduced::for_uniform_starts).collect())
    }

    /// The section or one of its strips on a mesh.
    fn patch(
        &self,
        strip: Option<usize>,
        (inside, outside): (&str, &[&str]),
        site: &JunctionSite,
        level: usize,
        laws: impl Fn(&Material) -> LayerLaws,
    ) -> Result<SectionPatch, Error> {
        let section = strip.map_or(&self.section, |k| &self.strips[k].section);
        let mut films = vec![FilmLaw::Constant(site.inside)];
        films.extend(site.outside.iter().map(|h| FilmLaw::Constant(*h)));
        let of_part = section.parts().map(|name| {
            let law = match strip {
                _ if name == inside || name == "inside" => 0,
                Some(k) => 1 + k,
                None => 1 + outside.iter().position(|o| *o == name).unwrap_or(0),
            };
            vec![Meeting::Film { port: usize::from(law > 0), law }]
        });
        let meetings = Meetings { of_part: of_part.collect(), laws: films, ports: 2 };
        SectionPatch::on_grid(section, self.grid(strip, level), &meetings, |fill: &Fill| laws(fill.material()))
    }
}

/// What the section passes beyond its strips, W/K.
fn beyond_strips(family: &[Reduced]) -> f64 {
    let passes = |k: usize| family[k].passes();
    passes(0) - (1..family.len()).map(passes).sum::<f64>()
}

/// A plain wall between two environments, and how well it passes heat at their temperatures.
#[derive(Debug, Clone)]
struct PlainWall {
    /// Thickness and conductivity of every layer, with the resistance of the contact outside it.
    layers: Vec<(f64, PropertyLaw, f64)>,
    /// m² K/W
    films: [f64; 2],
    between: [f64; 2],
}

impl PlainWall {
    fn new(
        wall: &Wall,
        outside: f64,
        site: &JunctionSite,
        laws: &impl Fn(&Material) -> LayerLaws,
    ) -> Result<Self, Error> {
        let mean = f64::midpoint(site.between[0], site.between[1]);
        let mut layers = Vec::with_capacity(wall.layers().len());
        for (k, layer) in wall.layers().iter().enumerate() {
            let contact = match wall
                .contacts()
                .get(k)
                .map(|contact| Joint::new(contact, Geometry::Planar, [0.0, 1.0]))
                .transpose()?
            {
                None | Some(Joint::Perfect) => 0.0,
                Some(joint) => 1.0 / joint.coefficient(mean, mean),
            };
            layers.push((layer.thickness().si(), laws(layer.material()).conductivity, contact));
        }
        Ok(PlainWall { layers, films: [1.0 / site.inside, 1.0 / outside], between: site.between })
    }

    fn is_constant(&self) -> bool {
        self.layers.iter().all(|(_, law, _)| law.is_constant())
    }

    /// U-value between two environments, W/(m² K).
    fn transmittance(&self, [inside, outside]: [f64; 2]) -> f64 {
        let mut resistances: Vec<f64> = self.layers.iter().map(|(t, law, _)| t / law.mean(inside, outside)).collect();
        let mut whole = 0.0;
        // The second round knows where each layer lies between the two.
        for _ in 0..2 {
            let contacts: f64 = self.layers.iter().map(|(.., contact)| contact).sum();
            whole = self.films.iter().sum::<f64>() + contacts + resistances.iter().sum::<f64>();
            let mut passed = self.films[0];
            for ((t, law, contact), resistance) in self.layers.iter().zip(&mut resistances) {
                let at = |passed: f64| inside + (outside - inside) * passed / whole;
                let next = passed + *resistance;
                *resistance = t / law.mean(at(passed), at(next));
                passed = next + contact;
            }
        }
        1.0 / whole
    }
}

fn mean_transmittance(walls: &[PlainWall], between: [f64; 2]) -> f64 {
    walls.iter().map(|w| w.transmittance(between)).sum::<f64>() / walls.len() as f64
}

/// A reduced junction whose conductivities follow temperature all alike: as the mean transmittance of its plain walls does.
#[derive(Debug)]
struct Following {
    /// Which of the parts.
    reduced: (Family, usize),
    walls: Arc<Vec<PlainWall>>,
    worked_at: f64,
}

impl Properties for Following {
    fn linearise(&self, from: &[f64], to: &[f64], patch: &mut Coefficients) {
        let n = from.len() - 2;
        let between = [0, 1].map(|p| f64::midpoint(from[n + p], to[n + p]));
        let (parts, k) = &self.reduced;
        parts[*k].conducting(mean_transmittance(&self.walls, between) / self.worked_at, patch);
    }

    fn tolerance(&self) -> f64 {
        RELINEARISE
    }
}

/// Whatever of a wall its reduced form follows from.
fn describe(wall: &Wall, laws: &impl Fn(&Material) -> LayerLaws, key: &mut String) {
    for layer in wall.layers() {
        let _ = write!(key, "; {:?} ", layer.thickness().si());
        write_material(layer.material(), laws, key);
    }
    let _ = write!(key, "; {:?} {:?}", wall.contacts(), wall.geometry());
}

fn write_fill(fill: &Fill, laws: &impl Fn(&Material) -> LayerLaws, key: &mut String) {
    let _ = write!(key, "; {:?} ", fill.plain_factors());
    write_material(fill.material(), laws, key);
}

fn write_material(material: &Material, laws: &impl Fn(&Material) -> LayerLaws, key: &mut String) {
    let LayerLaws { conductivity, heat_capacity } = laws(material);
    let _ = write!(key, "{conductivity:?} {heat_capacity:?} {:?}", material.density().value().si());
    // What decides where the mesh is fine.
    let _ = write!(key, " {:?}", material.conductivity().value().si());
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::network::patch::Condensed;
    use crate::units::{joules_per_kilogram_kelvin, kilograms_per_cubic_metre, millimetres, watts_per_metre_kelvin};
    use crate::wall::Layer;

    fn material(id: &str, [k, rho, c]: [f64; 3]) -> Material {
        let (rho, c) = (kilograms_per_cubic_metre(rho), joules_per_kilogram_kelvin(c));
        Material::custom(id, watts_per_metre_kelvin(k), rho, c).unwrap()
    }

    fn mat() -> Material {
        material("mat", [0.04, 45.0, 1400.0])
    }

    fn foam() -> Material {
        material("foam", [0.024, 32.0, 1450.0])
    }

    fn wall(layers: &[(Material, f64)]) -> Wall {
        let build = |wall: crate::wall::WallBuilder, (material, mm): &(Material, f64)| {
            wall.layer(Layer::new(material.clone(), millimetres(*mm)).unwrap())
        };
        layers.iter().fold(Wall::planar(), build).build().unwrap()
    }

    fn site(inside: f64, outside: &[f64], mesh: (usize, usize)) -> JunctionSite {
        JunctionSite { inside, outside: outside.to_vec(), between: [368.0, 283.0], mesh }
    }

    /// What parts answer together at a shift, W/K: among the ports inside and outside.
    fn answer(piece: &JunctionPatch, shift: f64) -> [f64; 3] {
        let mut sum = [0.0; 3];
        for patch in piece.attach(1.0, [NodeId(0), NodeId(1)], 300.0).unwrap() {
            let mut condensed = Condensed::default();
            assert!(patch.coefficients.condense_into(shift, 1.0, 2, &mut condensed));
            let [inside, among, _, outside] = condensed.port_matrix[..] else { panic!("two ports") };
            for (sum, of_patch) in sum.iter_mut().zip([inside, among, outside]) {
                *sum += patch.weight * of_patch;
            }
        }
        sum
    }

    /// To cut a section into strips and a core takes ways away from the heat: by no step of any length may the section less
    /// its strips answer as if it were no piece of matter (Rayleigh's law that resistances rise with every cut, from MEMORY).
    #[test]
    fn a_section_less_its_strips_is_matter_at_every_time_scale() {
        let wool = || material("wool", [0.05, 200.0, 1300.0]);
        let pvc = || material("pvc", [0.17, 1400.0, 900.0]);
        let steel = || material("steel", [50.0, 7800.0, 480.0]);
        let shelf = Shelf::default();
        let cotton = || material("cotton", [0.06, 300.0, 1300.0]);
        let walls = [
            wall(&[(foam(), 58.0)]),
            wall(&[(foam(), 5.3), (wool(), 32.0), (pvc(), 0.7)]),
            wall(&[(cotton(), 104.0), (foam(), 77.0), (steel(), 0.06)]),
        ];
        for film in [3.0, 100.0] {
            for mesh in [(16, 1), (16, 2)] {
                let check = |name: &str, piece: &JunctionPatch| {
                    for power in -28..=16 {
                        let shift = 10.0_f64.powf(0.25 * f64::from(power));
                        let [inside, among, outside] = answer(piece, shift);
                        // Small beside what the section itself answers is rounding.
                        let whole = &piece.parts[0].attach_uniform(1.0, &[NodeId(0), NodeId(1)], 300.0).unwrap();
                        let mut condensed = Condensed::default();
                        assert!(whole.coefficients.condense_into(shift, 1.0, 2, &mut condensed));
                        let slack = 1e-9 * (condensed.port_matrix[0] + condensed.port_matrix[3]);
                        let least = f64::midpoint(inside, outside) - (0.5 * (inside - outside)).hypot(among);
                        assert!(least >= -slack, "{name} {film} {mesh:?}: {least:e} at {shift:e}/s, {slack:e}");
                    }
                };
                for (k, first) in walls.iter().enumerate() {
                    for (n, second) in walls.iter().enumerate() {
                        let site = site(film, &[8.0; 2], mesh);
                        let piece = JunctionPatch::edge([first, second], None, &site, LayerLaws::of, &shelf).unwrap();
                        check(&format!("edge {k} {n}"), &piece);
                    }
                    let site = site(film, &[8.0, 8.0, 4.0], mesh);
                    let piece = JunctionPatch::ends(first, [0.05, 0.08], &site, LayerLaws::of, &shelf).unwrap();
                    check(&format!("ends {k}"), &piece);
                }
            }
        }
    }

    /// The meshes of a forecast.
    const MESHES: [(usize, usize); 3] = [(16, 1), (16, 2), (16, 4)];

    /// Values of the finest mesh and how far they are from what is listed, which must shrink.
    fn compare(listed: f64, off: f64, solve: impl Fn((usize, usize)) -> JunctionPatch) {
        let found = MESHES.map(|mesh| solve(mesh).transmittance);
        let errors = found.map(|v| (v - listed).abs());
        assert!(errors[2] <= off * listed && errors[2] < 0.5 * errors[0], "{found:?} listed {listed}");
    }

    // COMPUTED: finite elements, own computation, no published source; the same numbers as in tests/section/junctions.toml.
    #[test]
    fn edges_pass_what_their_tables_say() {
        let shelf = Shelf::default();
        let three = wall(&[(mat(), 20.0), (foam(), 30.0), (material("ply", [0.12, 560.0, 1600.0]), 9.0)]);
        let wood = material("wood", [0.12, 480.0, 1600.0]);
        let strip = |mm: f64, fill: &Material| Filler::straight([millimetres(mm); 2], fill.clone());
        for (listed, filler) in [
            (0.015_722_648, None),
            (0.005_251_412, Some(strip(30.0, &foam()))),
            (0.006_550_324, Some(strip(50.0, &wood))),
        ] {
            compare(listed, 0.01, |mesh| {
                let site = site(8.0, &[8.0; 2], mesh);
                JunctionPatch::edge([&three, &three], filler.as_ref(), &site, LayerLaws::of, &shelf).unwrap()
            });
        }
        // Three meshes of section and two strips, three times; found again without being solved.
        assert_eq!(shelf.len(), 27);
        let site = site(8.0, &[8.0; 2], MESHES[0]);
        JunctionPatch::edge([&three, &three], None, &site, LayerLaws::of, &shelf).unwrap();
        assert_eq!(shelf.len(), 27);
    }

    #[test]
    fn ends_of_sleeves_pass_what_their_tables_say() {
        let shelf = Shelf::default();
        for (listed, mat_mm, quilt_mm) in [(0.295_777_77, 8.0, 4.0), (0.167_575_24, 20.0, 10.0)] {
            let (mat_m, quilt_m) = (1e-3 * mat_mm, 1e-3 * quilt_mm);
            let layers = wall(&[(mat(), mat_mm), (material("quilt", [0.035, 60.0, 1300.0]), quilt_mm)]);
            // Of the whole pot, in perfect contact: what side, lid and base pass by themselves goes off.
            let (r, h) = (0.09_f64, 0.12);
            let (r1, r2) = (r + mat_m, r + mat_m + quilt_m);
            let tau = std::f64::consts::TAU;
            let side = tau * h / ((r1 / r).ln() / 0.04 + (r2 / r1).ln() / 0.035 + 1.0 / (8.0 * r2));
            let end = |film: f64| 0.5 * tau * r * r / (mat_m / 0.04 + quilt_m / 0.035 + 1.0 / film);
            compare(listed - side - end(8.0) - end(4.0), 0.01, |mesh| {
                let site = site(1e6, &[8.0, 8.0, 4.0], mesh);
                JunctionPatch::ends(&layers, [r, h], &site, LayerLaws::of, &shelf).unwrap()
            });
        }
    }

    #[test]
    fn one_factor_tells_how_an_edge_follows_temperature() {
        // Foil-faced foam conducts a fifth better hot than cold, plywood hardly changes: solved at the temperatures of a hot
        // pot and told for those of a lukewarm one, and solved for these.
        let named = |id: &str| Material::named(id).unwrap();
        let walls =
            wall(&[(named("rigid-polyisocyanurate-foam-foil-faced"), 50.0), (named("softwood-across-grain"), 9.0)]);
        let shelf = Shelf::default();
        let solved = |between: [f64; 2]| {
            let site = JunctionSite { between, ..site(8.0, &[8.0; 2], (16, 2)) };
            JunctionPatch::edge([&walls; 2], None, &site, LayerLaws::of, &shelf).unwrap()
        };
        let (hot, warm) = ([360.0, 290.0], [320.0, 290.0]);
        let [at_hot, at_warm] = [hot, warm].map(solved);
        let told = at_hot.transmittance * at_hot.plain_transmittance(warm) / at_hot.plain_transmittance(hot);
        let off = told / at_warm.transmittance - 1.0;
        let unfollowed = at_hot.transmittance / at_warm.transmittance - 1.0;
        assert!(off.abs() < 0.02 && unfollowed.abs() > 0.05, "off by {off:.1e}; not followed, by {unfollowed:.1e}");
    }

    #[test]
    fn a_plain_wall_passes_what_its_conductivities_mean() {
        // 0.03 W/(m K) at 300 K and 1e-4 more per kelvin: the mean over the wall is exact for a straight line.
        let law = PropertyLaw::linear(300.0, 0.03, 1e-4, 250.0, 400.0).unwrap();
        let site = site(8.0, &[8.0], (16, 1));
        let laws = |_: &Material| LayerLaws {
            conductivity: law.clone(),
            heat_capacity: PropertyLaw::constant(1000.0).unwrap(),
        };
        let plain = PlainWall::new(&wall(&[(mat(), 50.0)]), 8.0, &site, &laws).unwrap();
        // By hand: both films alike, so that the mean of the wall is that of the two environments.
        for between in [[368.0, 283.0], [330.0, 290.0], [290.0, 290.0]] {
            let k = 0.03 + 1e-4 * (f64::midpoint(between[0], between[1]) - 300.0);
            let by_hand = 1.0 / (0.25 + 0.05 / k);
            assert!((plain.transmittance(between) / by_hand - 1.0).abs() < 1e-9);
        }
    }
}
