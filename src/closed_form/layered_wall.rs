//! Transient conduction in a wall of any number of layers, by numerical inversion of the Laplace transform.

use super::end::{End, StirredBody};
use super::range;
use super::shape::WallShape;
use super::solid::Solid;
use super::two_port::{Terminal, TwoPort, core_admittance, core_centre_ratio};
use crate::numeric::inversion::inverse_laplace;
use crate::{Error, ErrorKind};
use num_complex::Complex64;

/// One homogeneous layer of a wall, with the thermal contact on its outer face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WallLayer {
    thickness: f64,
    solid: Solid,
    outer_contact: f64,
}

impl WallLayer {
    /// A layer of this thickness (m) in perfect contact with what follows outside.
    ///
    /// # Errors
    /// `OutOfRange` unless the thickness lies in 1e-12 to 1e12 m.
    pub fn new(thickness: f64, solid: Solid) -> Result<Self, Error> {
        Ok(WallLayer { thickness: range::positive("thickness", thickness, "m")?, solid, outer_contact: 0.0 })
    }

    /// The same layer with a contact resistance on its outer face (m2 K/W, per area of that face).
    ///
    /// # Errors
    /// `OutOfRange` unless the resistance is zero or lies in 1e-12 to 1e12 m2 K/W.
    pub fn with_outer_contact(self, resistance: f64) -> Result<Self, Error> {
        Ok(WallLayer { outer_contact: range::not_negative("contact resistance", resistance, "m2 K/W")?, ..self })
    }
}

/// Which end of a wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Side {
    /// Where the coordinate is smallest.
    Inner,
    /// Where the coordinate is largest.
    Outer,
}

/// The layers of a wall in place, without its ends.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stack {
    pub(super) shape: WallShape,
    layers: Vec<WallLayer>,
    /// Coordinates of the layer faces, one more than there are layers.
    faces: Vec<f64>,
}

impl Stack {
    pub(super) fn new(shape: WallShape, layers: Vec<WallLayer>) -> Result<Self, Error> {
        let shape = shape.checked()?;
        if layers.is_empty() {
            return Err(Error::new(ErrorKind::OutOfRange, "a wall needs at least one layer")
                .with_value("0 layers")
                .with_accepted("1 or more"));
        }
        let mut faces = vec![shape.inner_coordinate()];
        let mut outer = shape.inner_coordinate();
        for (index, layer) in layers.iter().enumerate() {
            let inner = outer;
            outer += layer.thickness;
            if outer <= inner {
                return Err(Error::new(ErrorKind::OutOfRange, "too thin to be told apart from its radius")
                    .with_value(format!("{} m at {inner} m", layer.thickness))
                    .within("thickness")
                    .within(format!("layer {}", index + 1)));
            }
            faces.push(outer);
        }
        Ok(Stack { shape, layers, faces })
    }

    pub(super) fn inner_area(&self) -> f64 {
        self.shape.area(self.faces[0])
    }

    pub(super) fn outer_face(&self) -> f64 {
        self.faces[self.layers.len()]
    }

    /// The layer's part between two coordinates within it.
    fn part(&self, layer: usize, inner: f64, outer: f64, s: Complex64) -> TwoPort {
        TwoPort::layer(self.shape, &self.layers[layer].solid, inner, outer, s)
    }

    /// The contact on the outer face of a layer, unless it is perfect.
    fn contact(&self, layer: usize) -> Option<TwoPort> {
        let resistance = self.layers[layer].outer_contact;
        (resistance > 0.0).then(|| TwoPort::conductance(self.shape.area(self.faces[layer + 1]) / resistance))
    }

    /// All layers and contacts as one piece. Needs a wall that is not solid.
    pub(super) fn whole(&self, s: Complex64) -> TwoPort {
        let mut whole: Option<TwoPort> = None;
        for layer in 0..self.layers.len() {
            let piece = self.part(layer, self.faces[layer], self.faces[layer + 1], s);
            let piece = self.contact(layer).map_or(piece, |contact| piece.then(contact));
            whole = Some(whole.map_or(piece, |inside| inside.then(piece)));
        }
        // A stack has at least one layer, so the fallback is never used; it is what no wall at all would be.
        whole.unwrap_or_else(|| TwoPort::conductance(f64::INFINITY))
    }

    /// Conductance without storage, in the reference of the shape.
    pub(super) fn steady_conductance(&self) -> f64 {
        let mut resistance = 0.0;
        for (layer, faces) in self.layers.iter().zip(self.faces.windows(2)) {
            resistance += self.shape.steady_resistance(faces[0], faces[1], layer.solid.conductivity());
            resistance += layer.outer_contact / self.shape.area(faces[1]);
        }
        1.0 / resistance
    }
}

/// A wall of homogeneous layers, uniform in temperature at time zero, with something constant done to each end.
///
/// Plane, cylindrical or spherical, any number of layers, contact resistances between them. Each layer obeys
/// `rho c dT/dt = div(k grad T)`; in the Laplace domain it is a two-port, the chain of two-ports is solved between
/// its ends (Carslaw & Jaeger 1959, chapters 12 and 3.7; MEMORY), and the answer is brought back to the time domain
/// on the optimal hyperbola of Weideman & Trefethen (2007, MEMORY). It is equally exact for short and long times.
///
/// Temperatures are in kelvin; as the problem is linear, degrees Celsius used throughout serve as well. Accuracy:
/// 1e-11 of the largest temperature difference, and of the largest flux up to the time asked, for every shape, also with
/// a millimetre of copper beside insulation (tests: 200-digit references to 1e-12, eigenfunction series, conservation of
/// heat, published and computed reference cases).
///
/// ```
/// # use stillhot::closed_form::{End, LayeredWall, Side, Solid, StirredBody, WallLayer, WallShape};
/// # fn main() -> Result<(), stillhot::Error> {
/// let board = WallLayer::new(0.05, Solid::new(0.035, 30.0, 1450.0)?)?;
/// let water = StirredBody::new(60_000.0, 95.0).with_film(400.0);
/// let room = End::Film { coefficient: 8.0, temperature: 20.0 };
/// let wall = LayeredWall::new(WallShape::Plane, vec![board], 20.0, End::WellStirred(water), room)?;
/// assert!(wall.fluid_temperature(Side::Inner, 6.0 * 3600.0)? > 75.0);
/// # Ok(())
/// # }
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct LayeredWall {
    stack: Stack,
    start_temperature: f64,
    inner: End,
    outer: End,
}

/// A coordinate with the layer it is taken in, which matters at a face with a contact.
#[derive(Debug, Clone, Copy)]
struct Place {
    layer: usize,
    coordinate: f64,
}

impl LayeredWall {
    /// A wall of `layers` from the inside out, at `start_temperature` (K) at time zero.
    ///
    /// # Errors
    /// `OutOfRange` for numbers outside 1e-12 to 1e12 (temperatures and fluxes: magnitude up to 1e12) or no layers;
    /// `Inconsistent` if the inner end of a solid cylinder or sphere is not [`End::Symmetry`], or symmetry is asked
    /// for where there is none.
    pub fn new(
        shape: WallShape,
        layers: Vec<WallLayer>,
        start_temperature: f64,
        inner: End,
        outer: End,
    ) -> Result<Self, Error> {
        let stack = Stack::new(shape, layers)?;
        range::temperature("start temperature", start_temperature)?;
        let (inner, outer) = (inner.checked("inner end")?, outer.checked("outer end")?);
        let round = !matches!(shape, WallShape::Plane);
        if stack.shape.is_solid() && inner != End::Symmetry {
            return Err(Error::new(ErrorKind::Inconsistent, "an inner radius of zero leaves no inner face")
                .with_accepted("End::Symmetry, or a positive inner radius")
                .within("inner end"));
        }
        if round && !stack.shape.is_solid() && inner == End::Symmetry {
            return Err(Error::new(ErrorKind::Inconsistent, "symmetry needs an inner radius of zero")
                .with_value(format!("{} m", shape.inner_coordinate()))
                .with_accepted("0 m")
                .within("inner end"));
        }
        if round && outer == End::Symmetry {
            return Err(Error::new(ErrorKind::Inconsistent, "the outside of a round wall is not a place of symmetry")
                .within("outer end"));
        }
        Ok(LayeredWall { stack, start_temperature, inner, outer })
    }

    /// Temperature (K) at `position` (m: distance from the inner face, or radius) and `time` (s) after the start.
    /// On a face with a contact resistance it is that of the inner side; see [`face_temperatures`](Self::face_temperatures).
    ///
    /// # Errors
    /// `OutOfRange` if the position is outside the wall or the time outside 1e-12 to 1e12 s.
    pub fn temperature(&self, position: f64, time: f64) -> Result<f64, Error> {
        let place = self.place(position)?;
        self.rise(time, |s| self.temperature_transform(place, s))
    }

    /// Heat flux density (W/m2) in the direction of growing coordinate at `position` (m) and `time` (s).
    ///
    /// # Errors
    /// As [`temperature`](Self::temperature).
    pub fn flux(&self, position: f64, time: f64) -> Result<f64, Error> {
        let place = self.place(position)?;
        if self.stack.shape.is_solid() && place.coordinate == 0.0 {
            range::time(time)?;
            return Ok(0.0);
        }
        let area = self.stack.shape.area(place.coordinate);
        let time = range::time(time)?;
        range::finite(inverse_laplace(time, |s| self.meet(place, s).1) / area)
    }

    /// Temperatures (K) on the inner and the outer side of the face between layers `face` and `face + 1`
    /// (counted from 1), which differ if there is a contact resistance.
    ///
    /// # Errors
    /// `OutOfRange` if there is no such face, or the time is outside 1e-12 to 1e12 s.
    pub fn face_temperatures(&self, face: usize, time: f64) -> Result<[f64; 2], Error> {
        if face == 0 || face >= self.stack.layers.len() {
            return Err(Error::new(ErrorKind::OutOfRange, "no such face between two layers")
                .with_value(format!("{face}"))
                .with_accepted(format!("1 to {}", self.stack.layers.len() - 1))
                .within("face"));
        }
        let coordinate = self.stack.faces[face];
        let inside = self.rise(time, |s| self.temperature_transform(Place { layer: face - 1, coordinate }, s))?;
        let outside = self.rise(time, |s| self.temperature_transform(Place { layer: face, coordinate }, s))?;
        Ok([inside, outside])
    }

    /// Temperature (K) of the well-stirred body at `side` at `time` (s).
    ///
    /// # Errors
    /// `Inconsistent` if there is none at that end; `OutOfRange` for the time as above.
    pub fn fluid_temperature(&self, side: Side, time: f64) -> Result<f64, Error> {
        let (end, name) = match side {
            Side::Inner => (self.inner, "inner end"),
            Side::Outer => (self.outer, "outer end"),
        };
        let End::WellStirred(body) = end else {
            return Err(Error::new(ErrorKind::Inconsistent, "there is no well-stirred body here")
                .with_accepted("End::WellStirred")
                .within(name));
        };
        self.rise(time, |s| {
            let own = self.body_terminal(&body, s);
            let film = self.film_of(&body, side);
            let (inner, outer) = match side {
                Side::Inner => (own, self.seen_outward(Place { layer: 0, coordinate: self.stack.faces[0] }, s)),
                Side::Outer => {
                    let last = self.stack.layers.len() - 1;
                    let place = Place { layer: last, coordinate: self.stack.outer_face() };
                    let wall = self.seen_inward(place, s);
                    (self.stack.contact(last).map_or(wall, |contact| wall.outward_through(contact)), own)
                }
            };
            match (film, side) {
                (None, _) => Terminal::meet(inner, outer).0,
                (Some(film), Side::Inner) => Terminal::meet(inner, outer.inward_through(film)).0,
                (Some(film), Side::Outer) => Terminal::meet(inner.outward_through(film), outer).0,
            }
        })
    }

    /// Mean temperature (K) of the wall weighted by heat capacity, without the bodies at its ends, at `time` (s).
    ///
    /// # Errors
    /// `OutOfRange` if the time is outside 1e-12 to 1e12 s.
    pub fn mean_temperature(&self, time: f64) -> Result<f64, Error> {
        let stack = &self.stack;
        let capacity: f64 = stack
            .layers
            .iter()
            .zip(stack.faces.windows(2))
            .map(|(layer, faces)| layer.solid.volumetric_heat_capacity() * stack.shape.volume(faces[0], faces[1]))
            .sum();
        self.rise(time, |s| {
            let mut stored = Complex64::new(0.0, 0.0);
            for (layer, faces) in stack.faces.windows(2).enumerate() {
                let outer = self.temperature_transform(Place { layer, coordinate: faces[1] }, s);
                if layer == 0 && stack.shape.is_solid() {
                    stored += core_admittance(stack.shape, &stack.layers[0].solid, faces[1], s) * outer;
                } else {
                    let piece = stack.part(layer, faces[0], faces[1], s);
                    let inner = self.temperature_transform(Place { layer, coordinate: faces[0] }, s);
                    stored += piece.inner_shunt * inner + piece.outer_shunt * outer;
                }
            }
            stored / (s * capacity)
        })
    }

    fn rise(&self, time: f64, transform: impl FnMut(Complex64) -> Complex64) -> Result<f64, Error> {
        let time = range::time(time)?;
        range::finite(self.start_temperature + inverse_laplace(time, transform))
    }

    fn place(&self, position: f64) -> Result<Place, Error> {
        let stack = &self.stack;
        let coordinate = range::between("position", position, stack.faces[0], stack.outer_face(), "m")?;
        // A position that misses a face by rounding is on it.
        let rounding = 1e-12 * stack.outer_face();
        let last = stack.layers.len() - 1;
        let layer = stack.faces[1..].iter().position(|&face| coordinate <= face + rounding).unwrap_or(last);
        let (inner, outer) = (stack.faces[layer], stack.faces[layer + 1]);
        let coordinate = if (outer - coordinate).abs() <= rounding {
            outer
        } else if (coordinate - inner).abs() <= rounding {
            inner
        } else {
            coordinate
        };
        Ok(Place { layer, coordinate })
    }

    fn temperature_transform(&self, place: Place, s: Complex64) -> Complex64 {
        if self.stack.shape.is_solid() && place.coordinate == 0.0 {
            let surface = Place { layer: 0, coordinate: self.stack.faces[1] };
            let ratio = core_centre_ratio(self.stack.shape, &self.stack.layers[0].solid, surface.coordinate, s);
            return ratio * self.meet(surface, s).0;
        }
        self.meet(place, s).0
    }

    /// Transforms of temperature rise and outward heat flow at a place.
    fn meet(&self, place: Place, s: Complex64) -> (Complex64, Complex64) {
        Terminal::meet(self.seen_inward(place, s), self.seen_outward(place, s))
    }

    /// What a place sees towards the inner end.
    fn seen_inward(&self, place: Place, s: Complex64) -> Terminal {
        let stack = &self.stack;
        let mut seen = self.end_terminal(Side::Inner, s);
        for layer in 0..=place.layer {
            let inner = stack.faces[layer];
            let outer = if layer == place.layer { place.coordinate } else { stack.faces[layer + 1] };
            if layer == 0 && stack.shape.is_solid() {
                let admittance = core_admittance(stack.shape, &stack.layers[0].solid, outer, s);
                seen = Terminal::Open { admittance, source: Complex64::new(0.0, 0.0) };
            } else if outer > inner {
                seen = seen.outward_through(stack.part(layer, inner, outer, s));
            }
            if layer < place.layer
                && let Some(contact) = stack.contact(layer)
            {
                seen = seen.outward_through(contact);
            }
        }
        seen
    }

    /// What a place sees towards the outer end.
    fn seen_outward(&self, place: Place, s: Complex64) -> Terminal {
        let stack = &self.stack;
        let mut seen = self.end_terminal(Side::Outer, s);
        for layer in (place.layer..stack.layers.len()).rev() {
            if let Some(contact) = stack.contact(layer) {
                seen = seen.inward_through(contact);
            }
            let inner = if layer == place.layer { place.coordinate } else { stack.faces[layer] };
            let outer = stack.faces[layer + 1];
            if outer > inner {
                seen = seen.inward_through(stack.part(layer, inner, outer, s));
            }
        }
        seen
    }

    /// What the wall's own face sees at an end.
    fn end_terminal(&self, side: Side, s: Complex64) -> Terminal {
        let (end, area) = match side {
            Side::Inner => (self.inner, self.stack.inner_area()),
            Side::Outer => (self.outer, self.stack.shape.area(self.stack.outer_face())),
        };
        match end {
            End::Temperature(temperature) => Terminal::Held((temperature - self.start_temperature) / s),
            End::Insulated | End::Symmetry => Terminal::nothing(),
            End::Flux(flux) => Terminal::Open { admittance: Complex64::new(0.0, 0.0), source: flux * area / s },
            End::Film { coefficient, temperature } => Terminal::Open {
                admittance: Complex64::new(coefficient * area, 0.0),
                source: coefficient * area * (temperature - self.start_temperature) / s,
            },
            End::WellStirred(body) => {
                let own = self.body_terminal(&body, s);
                self.film_of(&body, side).map_or(own, |film| own.outward_through(film))
            }
        }
    }

    /// The well-stirred body itself: it stores, it loses, it started elsewhere.
    fn body_terminal(&self, body: &StirredBody, s: Complex64) -> Terminal {
        let start = body.capacity * (body.start_temperature - self.start_temperature);
        let (loss, drive) =
            body.loss.map_or((0.0, 0.0), |l| (l.conductance, l.conductance * (l.temperature - self.start_temperature)));
        Terminal::Open { admittance: s * body.capacity + loss, source: start + drive / s }
    }

    /// The film between a well-stirred body and the wall; symmetric, so the same seen from either side.
    fn film_of(&self, body: &StirredBody, side: Side) -> Option<TwoPort> {
        let face = match side {
            Side::Inner => self.stack.faces[0],
            Side::Outer => self.stack.outer_face(),
        };
        body.film.map(|coefficient| TwoPort::conductance(coefficient * self.stack.shape.area(face)))
    }
}
