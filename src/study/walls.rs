//! Changes of every wall of a box or sleeve at once.

use std::cell::Cell;

use crate::error::{Error, Within};
use crate::material::Material;
use crate::setup::{EdgeRow, Face, Setup, Shell};
use crate::units::Si;
use crate::wall::{Contact, Layer, Wall};

/// The layers of a wall and what lies between them, to be changed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stack {
    pub(super) layers: Vec<Layer>,
    /// Entry i lies between layer i and i + 1.
    pub(super) contacts: Vec<Contact>,
}

impl Stack {
    pub(super) fn of(wall: &Wall) -> Self {
        Stack { layers: wall.layers().to_vec(), contacts: wall.contacts().to_vec() }
    }

    fn build(self) -> Result<Wall, Error> {
        let mut contacts = self.contacts.into_iter();
        let mut wall = Wall::planar();
        for (i, layer) in self.layers.into_iter().enumerate() {
            if i > 0 {
                wall = wall.contact(contacts.next().unwrap_or_default());
            }
            wall = wall.layer(layer);
        }
        wall.build()
    }

    /// Takes a layer out. Where it lay between two others, these then meet as they met it: with the looser of its contacts.
    pub(super) fn remove(&mut self, index: usize) {
        self.layers.remove(index);
        if self.contacts.is_empty() {
            return;
        }
        let outer = index.min(self.contacts.len() - 1);
        let drop = if index > 0 && self.contacts[outer] == Contact::Perfect { outer } else { index.saturating_sub(1) };
        self.contacts.remove(drop);
    }

    /// The layer with the greatest resistance.
    pub(super) fn main(&self) -> Option<usize> {
        let resistance = |layer: &Layer| layer.thickness().si() / layer.material().conductivity().value().si();
        (0..self.layers.len()).max_by(|a, b| resistance(&self.layers[*a]).total_cmp(&resistance(&self.layers[*b])))
    }
}

/// The same setup with every wall changed for which `change` tells that it did; nothing if there is none. It is told the face;
/// the walls of a sleeve are one, told as its side. What is pinned about a material that goes is pinned no more.
pub(super) fn with_walls(
    setup: &Setup,
    change: impl Fn(Face, &mut Stack) -> Result<bool, Error>,
) -> Result<Option<Setup>, Error> {
    match setup.shell() {
        Shell::Box(enclosure) => {
            let mut changed = enclosure.clone();
            let mut any = false;
            for (face, wall) in Face::OF_BOX.iter().filter_map(|face| Some((*face, enclosure.wall(*face)?))) {
                let mut stack = Stack::of(wall);
                if change(face, &mut stack).within(face.to_string())? {
                    any = true;
                    changed = changed.with_wall(face, stack.build().within(face.to_string())?);
                }
            }
            if any { setup.with_shell_of_fewer(changed).map(Some) } else { Ok(None) }
        }
        Shell::Sleeve(sleeve) => {
            let mut stack = Stack { layers: sleeve.layers().to_vec(), contacts: sleeve.contacts().to_vec() };
            if !change(Face::Side, &mut stack)? {
                return Ok(None);
            }
            setup.with_shell_of_fewer(sleeve.clone().with_wall(&stack.build()?)).map(Some)
        }
    }
}

/// The same setup with another material for which `change` has one, in layers and in strips of the inner corners; nothing if
/// there is none.
pub(super) fn with_materials(
    setup: &Setup,
    change: impl Fn(&Material) -> Result<Option<Material>, Error>,
) -> Result<Option<Setup>, Error> {
    let any = Cell::new(false);
    let other = |material: &Material| {
        let new = change(material)?;
        any.set(any.get() || new.is_some());
        Ok::<_, Error>(new)
    };
    let mut shell = setup.shell().with_layers(|_, layer| match other(layer.material())? {
        Some(material) => layer.with_material(material),
        None => Ok(layer.clone()),
    })?;
    if let Shell::Box(enclosure) = &mut shell {
        for row in EdgeRow::ALL {
            let Some(filler) = enclosure.filler(row) else { continue };
            if let Some(material) = other(filler.fill().material())? {
                let filler = filler.with_material(material);
                *enclosure = enclosure.clone().with_filler(row, filler);
            }
        }
    }
    if any.get() { setup.with_shell_of_fewer(shell).map(Some) } else { Ok(None) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::millimetres;

    #[test]
    fn what_lay_about_a_layer_stays() {
        let layer = |mm: f64| Layer::of("plywood", millimetres(mm)).unwrap();
        let gap = |mm: f64| Contact::Gap(millimetres(mm));
        let stack = Stack {
            layers: [1.0, 2.0, 3.0, 4.0].map(layer).to_vec(),
            contacts: vec![gap(0.1), Contact::Perfect, gap(0.3)],
        };
        let without = |index: usize| {
            let mut stack = stack.clone();
            stack.remove(index);
            assert_eq!(stack.layers.len(), stack.contacts.len() + 1);
            stack.contacts
        };
        assert_eq!(without(0), [Contact::Perfect, gap(0.3)]);
        assert_eq!(without(1), [gap(0.1), gap(0.3)]);
        assert_eq!(without(2), [gap(0.1), gap(0.3)]);
        assert_eq!(without(3), [gap(0.1), Contact::Perfect]);
        assert_eq!(stack.main(), Some(3));
        let mut one = Stack { layers: vec![layer(1.0), layer(2.0)], contacts: vec![gap(0.1)] };
        one.remove(1);
        assert!(one.contacts.is_empty() && one.layers.len() == 1);
        one.remove(0);
        assert!(one.layers.is_empty() && one.build().is_err());
    }
}
