//! What a box or sleeve weighs, and the room it takes.

use std::f64::consts::PI;

use super::{Face, Pot, Setup, Shell};
use crate::units::{Mass, Si, Volume};
use crate::wall::Layer;

/// A box whose walls meet in mitres falls into one frustum a face, a sleeve into a ring and two ends: nothing is counted
/// twice, and nothing is left out.
struct Frustum<'a> {
    layers: &'a [Layer],
    /// Depth of the inner face of each layer below that of the wall, and of the outer face of the last, m.
    depths: Vec<f64>,
    /// Volume up to a depth, m³.
    volume: Box<dyn Fn(f64) -> f64>,
}

impl Setup {
    /// Mass of all layers of the box or sleeve, corners filled: by the best density of each, without what holds them
    /// together.
    pub fn shell_mass(&self) -> Mass {
        let of_layer = |frustum: &Frustum<'_>, i: usize| {
            let volume = (frustum.volume)(frustum.depths[i] + frustum.layers[i].thickness().si())
                - (frustum.volume)(frustum.depths[i]);
            volume * frustum.layers[i].material().density().value().si()
        };
        let frusta = self.frusta();
        Mass::from_si(frusta.iter().flat_map(|f| (0..f.layers.len()).map(move |i| of_layer(f, i))).sum())
    }

    /// Volume that the box or sleeve takes up outside, with everything in it.
    pub fn outer_volume(&self) -> Volume {
        let pot = self.pot();
        Volume::from_si(match self.shell() {
            Shell::Box(enclosure) => {
                let [w, d, h] = enclosure.inner_size(pot).map(Si::si);
                let t = |face: Face| enclosure.wall(face).map_or(0.0, |wall| wall.thickness().si());
                (w + t(Face::Left) + t(Face::Right))
                    * (d + t(Face::Front) + t(Face::Back))
                    * (h + t(Face::Lid) + t(Face::Base))
            }
            Shell::Sleeve(sleeve) => {
                let (radius, height) = inner_cylinder(pot, sleeve.gap().si());
                let thickness = sleeve.whole_thickness();
                PI * (radius + thickness).powi(2) * (height + 2.0 * thickness)
            }
        })
    }

    fn frusta(&self) -> Vec<Frustum<'_>> {
        let pot = self.pot();
        match self.shell() {
            Shell::Box(enclosure) => {
                let [w, d, h] = enclosure.inner_size(pot).map(Si::si);
                let thickness = |face: Face| enclosure.wall(face).map_or(0.0, |wall| wall.thickness().si());
                let across = [(w, Face::Left, Face::Right), (d, Face::Front, Face::Back), (h, Face::Lid, Face::Base)];
                let of_face = |face: Face| {
                    let wall = enclosure.wall(face)?;
                    // The two sides of the face grow with depth as the walls beside it do.
                    let mut sides = across.iter().filter(|(_, one, other)| face != *one && face != *other);
                    let mut side = || {
                        let (length, one, other) = sides.next()?;
                        Some((*length, (thickness(*one) + thickness(*other)) / wall.thickness().si()))
                    };
                    let ((a, p), (b, q)) = (side()?, side()?);
                    let volume = move |s: f64| a * b * s + (a * q + b * p) * s * s / 2.0 + p * q * s.powi(3) / 3.0;
                    let contacts = wall.contacts().iter().map(crate::wall::Contact::thickness);
                    Some(Frustum {
                        layers: wall.layers(),
                        depths: depths(wall.layers(), contacts),
                        volume: Box::new(volume),
                    })
                };
                Face::OF_BOX.into_iter().filter_map(of_face).collect()
            }
            Shell::Sleeve(sleeve) => {
                let (r, h) = inner_cylinder(pot, sleeve.gap().si());
                let depths = sleeve.depths();
                let ring = move |s: f64| PI * (h * (2.0 * r * s + s * s) + 2.0 * r * s * s + 4.0 / 3.0 * s.powi(3));
                let ends = move |s: f64| 2.0 * PI * ((r + s).powi(3) - r.powi(3)) / 3.0;
                let whole = move |s: f64| ring(s) + ends(s);
                vec![Frustum { layers: sleeve.layers(), depths, volume: Box::new(whole) }]
            }
        }
    }
}

/// Radius and height inside a sleeve, m.
fn inner_cylinder(pot: &Pot, gap: f64) -> (f64, f64) {
    (0.5 * pot.diameter().si() + gap, pot.height().si() + 2.0 * gap)
}

/// Depth at which each layer begins, m.
pub(super) fn depths(layers: &[Layer], contacts: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut depth = 0.0;
    let gaps = [0.0].into_iter().chain(contacts);
    layers
        .iter()
        .zip(gaps)
        .map(|(layer, gap)| {
            depth += gap;
            let begins = depth;
            depth += layer.thickness().si();
            begins
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::setup::{Dish, Enclosure, Sleeve};
    use crate::units::{kilograms, litres, metres, millimetres};
    use crate::wall::Wall;

    fn pot() -> Pot {
        Pot::typical(litres(7.0)).with(Dish::named("water-liquid").unwrap(), kilograms(5.0))
    }

    /// Outer less inner volume times density, by hand; walls of three thicknesses.
    #[test]
    fn the_shell_is_what_lies_between_inside_and_outside() {
        let wall = |t: f64| Wall::planar().layer(Layer::of("plywood", millimetres(t)).unwrap()).build().unwrap();
        let walls = Enclosure::of_wall(wall(10.0)).with_wall(Face::Lid, wall(40.0)).with_wall(Face::Left, wall(25.0));
        let setup = Setup::new(pot(), walls.inside(metres(0.3), metres(0.4), metres(0.35))).unwrap();
        let outside = (0.3 + 0.025 + 0.010) * (0.4 + 0.020) * (0.35 + 0.040 + 0.010);
        assert!((setup.outer_volume().si() - outside).abs() < 1e-12);
        let density = Layer::of("plywood", millimetres(1.0)).unwrap().material().density().value().si();
        assert!((setup.shell_mass().si() / (density * (outside - 0.3 * 0.4 * 0.35)) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_sleeve_is_a_cylinder_round_a_cylinder() {
        let sleeve = Sleeve::of_mat("sheep-wool-batt", millimetres(20.0), 2).unwrap().with_gap(millimetres(5.0));
        let setup = Setup::new(pot(), sleeve).unwrap();
        let (r, h) = (0.5 * setup.pot().diameter().si() + 0.005, setup.pot().height().si() + 0.010);
        let outside = PI * (r + 0.04).powi(2) * (h + 0.08);
        assert!((setup.outer_volume().si() / outside - 1.0).abs() < 1e-12);
        let density = Layer::of("sheep-wool-batt", millimetres(1.0)).unwrap().material().density().value().si();
        let filled = outside - PI * r * r * h;
        assert!((setup.shell_mass().si() / (density * filled) - 1.0).abs() < 1e-12);
    }
}
