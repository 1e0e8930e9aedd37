//! What a shell weighs, how much room it takes, and how much of which material goes into it.

use std::f64::consts::PI;

use super::edges::of_box;
use super::{Enclosure, Face, Setup, Shell, Sleeve};
use crate::material::Material;
use crate::units::{Area, Mass, Si, Volume};
use crate::wall::{Layer, Wall};

/// How much of a material a box or sleeve is made of, by geometry: what is cut away is not in it. Strips in inner corners
/// count in the whole length of their edges, so that where three meet a little is in it twice.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct MaterialUse {
    /// Its name in the catalogue.
    pub material: String,
    /// Area of all its layers, each at half its depth; of strips that of their longer leg, as if cut from a board as thick as
    /// the shorter one.
    pub area: Area,
    /// Volume of all its layers and strips.
    pub volume: Volume,
    /// Mass of all its layers and strips, with the best value of its density.
    pub mass: Mass,
}

/// So much of a material: area, m², and volume, m³.
struct Piece<'a> {
    material: &'a Material,
    area: f64,
    volume: f64,
}

impl<'a> Piece<'a> {
    fn of(layer: &'a Layer, volume: f64) -> Self {
        Piece { material: layer.material(), area: volume / layer.thickness().si(), volume }
    }
}

impl Setup {
    /// How much of which material box or sleeve are made of, in the order of its walls from the inside, then what
    /// fills its inner corners. Walls meet in mitres, so that their volumes make up exactly what lies between inside and outside. A grading of a layer does not count.
    pub fn materials_used(&self) -> Vec<MaterialUse> {
        let mut uses: Vec<MaterialUse> = Vec::new();
        for Piece { material, area, volume } in self.pieces() {
            let area = Area::from_si(area);
            let mass = Mass::from_si(volume * material.density().value().si());
            match uses.iter_mut().find(|used| used.material == material.id()) {
                Some(used) => {
                    used.area += area;
                    used.volume += Volume::from_si(volume);
                    used.mass += mass;
                }
                None => uses.push(MaterialUse {
                    material: material.id().to_owned(),
                    area,
                    volume: Volume::from_si(volume),
                    mass,
                }),
            }
        }
        uses
    }

    /// Mass of box or sleeve without the pot, with the best values of all densities: the layers of its walls and what
    /// fills its inner corners alone.
    pub fn shell_mass(&self) -> Mass {
        self.materials_used().iter().fold(Mass::from_si(0.0), |sum, used| sum + used.mass)
    }

    /// Room that box or sleeve take up in all, with what is inside.
    pub fn outer_volume(&self) -> Volume {
        Volume::from_si(match self.shell() {
            Shell::Box(enclosure) => {
                let [w, d, h] = enclosure.inner_size(self.pot()).map(Si::si);
                let [across, deep, high] = enclosure.depths();
                (w + across) * (d + deep) * (h + high)
            }
            Shell::Sleeve(sleeve) => {
                let (radius, height) = sleeve.inner_cylinder(self.pot());
                let depth = sleeve.end_wall().map_or(0.0, |wall| wall.thickness().si());
                PI * (radius + depth).powi(2) * (height + 2.0 * depth)
            }
        })
    }

    fn pieces(&self) -> Vec<Piece<'_>> {
        match self.shell() {
            Shell::Box(enclosure) => {
                let size = enclosure.inner_size(self.pot()).map(Si::si);
                let mut pieces = box_pieces(enclosure, size);
                pieces.extend(strips(enclosure, size));
                pieces
            }
            Shell::Sleeve(sleeve) => sleeve_pieces(sleeve, sleeve.inner_cylinder(self.pot())),
        }
    }
}

/// Layers of a box with mitred edges: at a share of its depth a face has grown by that share of the walls that it meets.
fn box_pieces(enclosure: &Enclosure, [w, d, h]: [f64; 3]) -> Vec<Piece<'_>> {
    let [across, deep, high] = enclosure.depths();
    let mut pieces = Vec::new();
    for face in Face::OF_BOX {
        let Some(wall) = enclosure.wall(face) else { continue };
        let sides = match face {
            Face::Lid | Face::Base | Face::Side => [(w, across), (d, deep)],
            Face::Front | Face::Back => [(w, across), (h, high)],
            Face::Left | Face::Right => [(d, deep), (h, high)],
        };
        let depth = wall.thickness().si();
        let area = |x: f64| sides.iter().map(|(side, grows)| side + grows * x / depth).product::<f64>();
        pieces.extend(offsets(wall).map(|(layer, from)| {
            let thickness = layer.thickness().si();
            // Exact for what is quadratic in the depth (Simpson's rule).
            let volume = thickness / 6.0 * (area(from) + 4.0 * area(from + 0.5 * thickness) + area(from + thickness));
            Piece::of(layer, volume)
        }));
    }
    pieces
}

/// What fills the inner corners of a box along each of its edges.
fn strips(enclosure: &Enclosure, size: [f64; 3]) -> impl Iterator<Item = Piece<'_>> {
    of_box().filter_map(move |edge| {
        let (filler, length) = (enclosure.filler(edge.row)?, size[edge.along]);
        let [up, along] = filler.legs();
        let material = filler.fill().material();
        Some(Piece { material, area: up.max(along) * length, volume: filler.cross_section() * length })
    })
}

/// Layers of a sleeve: shells between cylinders.
fn sleeve_pieces(sleeve: &Sleeve, (radius, height): (f64, f64)) -> Vec<Piece<'_>> {
    let inside = |x: f64| PI * (radius + x).powi(2) * (height + 2.0 * x);
    let mut from = 0.0;
    let mut pieces = Vec::new();
    for (i, layer) in sleeve.layers().iter().enumerate() {
        from += i.checked_sub(1).map_or(0.0, |before| sleeve.contacts()[before].thickness());
        let to = from + layer.thickness().si();
        pieces.push(Piece::of(layer, inside(to) - inside(from)));
        from = to;
    }
    pieces
}

/// The layers of a wall, each with how deep it begins, m.
fn offsets(wall: &Wall) -> impl Iterator<Item = (&Layer, f64)> {
    let air = std::iter::once(0.0).chain(wall.contacts().iter().map(crate::wall::Contact::thickness));
    wall.layers().iter().zip(air).scan(0.0, |reached, (layer, air)| {
        let from = *reached + air;
        *reached = from + layer.thickness().si();
        Some((layer, from))
    })
}

#[cfg(test)]
mod tests {
    use crate::units::{Si, kilograms, litres, metres, millimetres};
    use crate::wall::{Contact, Layer, Wall};
    use crate::{Airspace, Dish, EdgeRow, Edges, Enclosure, Face, Fill, Filler, Pot, Setup, Sleeve};

    fn pot() -> Pot {
        Pot::typical(litres(5.0)).with(Dish::named("water-liquid").unwrap(), kilograms(4.0))
    }

    /// A cube of 0.3 m inside with walls of 50 mm: 0.4³ outside; between them 0.4³ - 0.3³ of board.
    #[test]
    fn a_box_by_hand() {
        let cube = Enclosure::lined("expanded-polystyrene-20", millimetres(50.0)).unwrap();
        let setup = Setup::new(pot(), cube.inside(metres(0.3), metres(0.3), metres(0.3))).unwrap();
        assert!((setup.outer_volume().si() - 0.064).abs() < 1e-12);
        let [board] = &setup.materials_used()[..] else { panic!("one material") };
        assert!((board.area.si() - 0.037 / 0.05).abs() < 1e-12);
        let density = Layer::of("expanded-polystyrene-20", metres(0.1)).unwrap().material().density().value().si();
        assert!((setup.shell_mass().si() - 0.037 * density).abs() < 1e-12 && board.mass == setup.shell_mass());
    }

    /// Four strips of 20 mm by 30 mm, 0.3 m long, and four hollow ones of 40 mm: what of a square no quarter disc covers.
    #[test]
    fn strips_by_hand() {
        let fill = || Fill::of("softwood-across-grain").unwrap();
        let cube = Enclosure::lined("expanded-polystyrene-20", millimetres(50.0)).unwrap().edges(Edges::Solved);
        let cube = cube
            .inside(metres(0.3), metres(0.3), metres(0.3))
            .with_filler(EdgeRow::Upright, Filler::straight([millimetres(20.0), millimetres(30.0)], fill()))
            .with_filler(EdgeRow::Lid, Filler::cove(millimetres(40.0), fill()));
        let setup = Setup::new(pot(), cube).unwrap();
        let [board, wood] = &setup.materials_used()[..] else { panic!("two materials") };
        let volume = 1.2 * (0.5 * 0.02 * 0.03 + 0.04 * 0.04 * (1.0 - std::f64::consts::FRAC_PI_4));
        assert!((wood.volume.si() - volume).abs() < 1e-12 && (wood.area.si() - 1.2 * 0.07).abs() < 1e-12);
        assert!((setup.shell_mass() - board.mass - wood.mass).si().abs() < 1e-12 && wood.mass.si() > 100.0 * volume);
        assert!((setup.outer_volume().si() - 0.064).abs() < 1e-12);
    }

    /// Unequal walls, layers and an airspace: what is between inside and outside is board or air, nothing twice.
    #[test]
    fn unequal_walls_fill_what_lies_between() {
        let layer = |mm: f64| Layer::of("plywood", millimetres(mm)).unwrap();
        let wall = |list: &[f64]| {
            let mut wall = Wall::planar().layer(layer(list[0]));
            for mm in &list[1..] {
                wall = wall.layer(layer(*mm));
            }
            wall.build().unwrap()
        };
        let bin = Enclosure::of_wall(wall(&[5.0, 20.0, 3.0]))
            .with_wall(Face::Lid, wall(&[60.0]))
            .with_wall(Face::Left, wall(&[7.0, 2.0]))
            .inside(metres(0.3), metres(0.26), metres(0.31));
        let setup = Setup::new(pot(), bin).unwrap();
        let outer: f64 = (0.3 + 0.028 + 0.009) * (0.26 + 0.056) * (0.31 + 0.028 + 0.06);
        assert!((setup.outer_volume().si() - outer).abs() < 1e-12);
        let density = layer(1.0).material().density().value().si();
        let board = outer - 0.3 * 0.26 * 0.31;
        assert!((setup.shell_mass().si() - board * density).abs() < 1e-9, "{} {}", setup.shell_mass().si(), board);
    }

    #[test]
    fn a_sleeve_by_hand() {
        let steel = crate::Material::named("stainless-steel-304").unwrap();
        let pot = Pot::sized(metres(0.2), metres(0.1), steel, millimetres(0.5))
            .with(Dish::named("water-liquid").unwrap(), kilograms(2.0));
        let mat = |mm: f64| Layer::of("wool-blanket-felt", millimetres(mm)).unwrap();
        let wall = Wall::planar()
            .layer(mat(10.0))
            .contact(Contact::Airspace(Airspace::upright(millimetres(20.0))))
            .layer(mat(5.0))
            .build()
            .unwrap();
        let setup = Setup::new(pot, Sleeve::of_wall(&wall).with_gap(metres(0.0))).unwrap();
        let inside = |x: f64| std::f64::consts::PI * (0.1 + x) * (0.1 + x) * (0.1 + 2.0 * x);
        assert!((setup.outer_volume().si() - inside(0.035)).abs() < 1e-12);
        let felt = inside(0.035) - inside(0.030) + inside(0.010) - inside(0.0);
        let density = mat(1.0).material().density().value().si();
        assert!((setup.shell_mass().si() / density - felt).abs() < 1e-12);
    }
}
