//! The features of a setup and its plan, each removed or replaced by the plain alternative.

use super::corners::{filled, solved};
use super::variant::Variant;
use super::walls::{Stack, with_materials, with_walls};
use crate::error::{Error, Within};
use crate::material::Material;
use crate::setup::{
    Action, EdgeRow, Edges, Enclosure, Fit, Knob, Lid, LidKind, Options, Plan, Pot, PotLid, Range, Setup, Shell, Sleeve,
};
use crate::units::{
    Length, Ratio, Si, Spoken, Temperature, celsius, interval_between, kelvins, kilograms, metres, metres_per_second,
    minutes, write, write_rounded,
};
use crate::wall::{Contact, Layer};

/// What a change takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ChangeKind {
    /// Building: box or sleeve, pot or their lids become other ones.
    Build,
    /// Doing it otherwise: filling, warming, carrying, opening.
    Use,
    /// Nothing that one does: weather, damp, place.
    Circumstance,
}

/// A feature changed; an error where that cannot be built.
pub(super) struct Feature {
    pub(super) kind: ChangeKind,
    /// What it is held against, if not the base: one that is computed in the same way.
    pub(super) against: Option<Variant>,
    pub(super) variant: Result<Variant, Error>,
}

/// Every feature of a base that can be changed.
pub(super) fn features(base: &Variant, options: &Options) -> Result<Vec<Feature>, Error> {
    let mut list = List { base, found: Vec::new() };
    list.corners();
    list.lid();
    list.boards();
    list.layers();
    list.facings();
    list.pot();
    list.fill();
    list.companions();
    list.start()?;
    list.handling(options);
    list.surroundings();
    Ok(list.found)
}

struct List<'b> {
    base: &'b Variant,
    found: Vec<Feature>,
}

/// A pot counts as full at this share of its volume.
const FULL: f64 = 0.95;
/// Below this share a pot can be said to be not full, above the other to be more than half full.
const NOT_FULL: f64 = 0.85;
const MORE_THAN_HALF: f64 = 0.6;
/// A face that shines: below this emissivity.
const SHINY: f64 = 0.3;
/// A dull face.
const DULL: f64 = 0.9;
/// Household foil, one layer.
const FOIL: &str = "aluminium-foil";
const FOIL_THICKNESS: f64 = 0.02e-3;
/// Emissivity of foil as it is built in, wrinkled and fingered: 0.11, from 0.05 to 0.2 (catalogue: measured 0.11 in panels,
/// worse when dusty or wrinkled).
const FOIL_EMISSIVITY: [f64; 3] = [0.05, 0.11, 0.2];
/// How warm a pre-warmed box is throughout, °C; what is less than this above the room is not worth the name, K.
const WARMED: f64 = 50.0;
const WORTH_WARMING: f64 = 10.0;
/// The widest joint that a lid may have, and the narrowest, m.
const JOINT: [f64; 2] = [0.02e-3, 10e-3];

impl<'b> List<'b> {
    fn pot_now(&self) -> &'b Pot {
        self.base.setup().pot()
    }

    fn add(&mut self, kind: ChangeKind, variant: Result<Variant, Error>) {
        self.found.push(Feature { kind, against: None, variant });
    }

    fn setup(&mut self, kind: ChangeKind, name: &str, change: impl FnOnce(&Setup) -> Result<Setup, Error>) {
        self.add(kind, self.base.with_setup(name, change));
    }

    fn plan(&mut self, kind: ChangeKind, name: &str, change: impl FnOnce(Plan) -> Plan) {
        self.add(kind, Ok(self.base.with_plan(name, change)));
    }

    /// A changed setup, if there was something to change.
    fn if_any(&mut self, kind: ChangeKind, name: &str, changed: Result<Option<Setup>, Error>) {
        if let Some(new) = changed.within(name).transpose() {
            let plan = self.base.plan().clone();
            self.add(kind, new.map(|setup| Variant::new(name, setup, plan)));
        }
    }

    /// Every wall changed, if there is one to change.
    fn walls(&mut self, kind: ChangeKind, name: &str, change: impl Fn(&mut Stack) -> Result<bool, Error>) {
        self.if_any(kind, name, with_walls(self.base.setup(), |_, stack| change(stack)));
    }

    /// Materials in another state, whatever is done.
    fn materials(&mut self, name: &str, change: impl Fn(&Material) -> Result<Option<Material>, Error>) {
        self.if_any(ChangeKind::Circumstance, name, with_materials(self.base.setup(), change));
    }

    fn new_pot(&mut self, kind: ChangeKind, name: &str, change: impl FnOnce(Pot) -> Pot) {
        self.setup(kind, name, |setup| setup.with_pot(change(setup.pot().clone())));
    }

    fn new_lid(&mut self, name: &str, lid: Lid) {
        self.setup(ChangeKind::Build, name, |setup| setup.with_shell(setup.shell().with_lid(lid)));
    }

    /// "9 mm of plywood".
    fn spoken(&self, layer: &Layer) -> String {
        format!("{} of {}", write(layer.thickness()), self.called(layer.material()))
    }

    /// What a material is called in a sentence: without brackets and what follows a comma, where that leaves no doubt which of
    /// the materials here is meant.
    fn called(&self, material: &Material) -> String {
        let short = short(material.name());
        let mut others = self.base.setup().layers().into_iter().map(Layer::material);
        if others.any(|other| other.id() != material.id() && self::short(other.name()) == short) {
            return material.name().to_owned();
        }
        short
    }

    fn enclosure(&self) -> Option<&'b Enclosure> {
        match self.base.setup().shell() {
            Shell::Box(enclosure) => Some(enclosure),
            Shell::Sleeve(_) => None,
        }
    }

    fn sleeve(&self) -> Option<&'b Sleeve> {
        match self.base.setup().shell() {
            Shell::Sleeve(sleeve) => Some(sleeve),
            Shell::Box(_) => None,
        }
    }

    /// Strips in the inner corners. Where edges are counted by the factor they are held against the same box with solved
    /// edges, so that the difference is theirs alone.
    fn corners(&mut self) {
        let Some(enclosure) = self.enclosure() else { return };
        if enclosure.edge_form() == Edges::Solved && EdgeRow::ALL.iter().any(|row| enclosure.filler(*row).is_some()) {
            let empty = enclosure.clone().without_fillers();
            self.setup(ChangeKind::Build, "nothing in the corners", |setup| setup.with_shell_of_fewer(empty));
        }
        let Some(filled) = filled(self.base.setup(), enclosure) else { return };
        let name = format!("filling the corners, insulation strips of {}", filled.size());
        let variant = self.base.with_setup(&name, |setup| filled.setup(setup));
        let (against, variant) = match solved(self.base).transpose().within(name) {
            Ok(against) => (against, variant),
            Err(error) => (None, Err(error)),
        };
        self.found.push(Feature { kind: ChangeKind::Build, against, variant });
    }

    /// How the lid closes.
    fn lid(&mut self) {
        let lid = self.base.setup().shell().lid_closing();
        let kinds: [(LidKind, &str, Lid); 3] = [
            (LidKind::Resting, "a lid that merely rests on the rim", Lid::resting()),
            (LidKind::Pressed, "pressing the lid down", Lid::pressed()),
            (LidKind::Gasketed, "a soft gasket under the lid", Lid::gasketed()),
        ];
        let has_joint = lid.leak().is_none();
        let rank = |kind: LidKind| kinds.iter().position(|(known, ..)| *known == kind);
        for (at, (kind, name, typical)) in kinds.iter().enumerate() {
            if *kind == lid.kind() || !(has_joint || lid.kind() == LidKind::Tight) {
                continue;
            }
            // A joint that was measured counts: pressed it becomes no wider, and merely resting no narrower.
            let gap = match rank(lid.kind()).filter(|_| has_joint) {
                Some(now) if at > now => each(lid.gap(), typical.gap(), f64::min),
                Some(_) => each(lid.gap(), typical.gap(), f64::max),
                None => typical.gap(),
            };
            self.new_lid(name, typical.with_gap(gap));
        }
        if let Some(leak) = lid.leak().filter(|leak| leak.high().si() > 0.0) {
            for (name, factor) in [("half the leak past the lid", 0.5), ("twice the leak past the lid", 2.0)] {
                self.new_lid(name, lid.leaking(times(leak, factor)));
            }
        } else if has_joint {
            for (name, factor) in [("half the width of the lid joint", 0.5), ("twice the width of the lid joint", 2.0)]
            {
                let gap = times(lid.gap(), factor);
                let width = |si: f64| si.clamp(JOINT[0], JOINT[1]);
                let limited = Range::of_members(width(gap.low().si()), width(gap.best().si()), width(gap.high().si()));
                self.new_lid(name, lid.with_gap(limited));
            }
        }
    }

    /// How the boards of a box fit, and the room that they leave round the pot. (A sleeve counts as snug: that one which stands
    /// off lets air pass is left out of the model, and would be praised here for its still air.)
    fn boards(&mut self) {
        let Some(enclosure) = self.enclosure() else { return };
        let fits =
            [(Fit::Tight, "boards fitted tightly, joints glued or taped"), (Fit::Loose, "boards fitted loosely")];
        for (fit, name) in fits {
            if fit != enclosure.fit() {
                let changed = enclosure.clone().fitted(fit);
                self.setup(ChangeKind::Build, name, |setup| setup.with_shell(changed));
            }
        }
        if enclosure.low_seams().best().si() > 0.0 && enclosure.lid_closing().leak().is_none() {
            let shut = enclosure.clone().with_low_seams(Range::exactly(metres(0.0)));
            self.setup(ChangeKind::Build, "taping over the seams low down alone", |setup| setup.with_shell(shut));
        }
        if let Some(gap) = enclosure.gap().filter(|gap| gap.si() >= 10e-3) {
            let pot = self.pot_now();
            let nearer = enclosure.clone().around(pot, gap * 0.5);
            let name = format!("a box that leaves {} round the pot", write_rounded(gap * 0.5, 2));
            self.setup(ChangeKind::Build, &name, |setup| setup.with_shell(nearer));
        }
    }

    /// Layers thicker, fewer, more; damp or dry.
    fn layers(&mut self) {
        self.walls(ChangeKind::Build, "insulation half as thick again", |stack| {
            let Some(main) = stack.main() else { return Ok(false) };
            let id = stack.layers[main].material().id().to_owned();
            for layer in stack.layers.iter_mut().filter(|layer| layer.material().id() == id) {
                *layer = layer.with_thickness(layer.thickness() * 1.5)?;
            }
            Ok(true)
        });
        if let Some(layer) = self.sleeve().and_then(|sleeve| {
            let main = Stack { layers: sleeve.layers().to_vec(), contacts: Vec::new() }.main()?;
            sleeve.layers().get(main).cloned()
        }) {
            let name = format!("one more layer of {}", self.spoken(&layer));
            self.walls(ChangeKind::Build, &name, |stack| {
                let Some(main) = stack.main() else { return Ok(false) };
                let contact = stack.contacts.get(main).or(stack.contacts.last()).copied().unwrap_or_default();
                stack.layers.insert(main, stack.layers[main].clone());
                stack.contacts.insert(main.min(stack.contacts.len()), contact);
                Ok(true)
            });
        }
        let mut materials: Vec<&Layer> = Vec::new();
        for layer in self.base.setup().layers() {
            if materials.iter().all(|seen| seen.material().id() != layer.material().id()) {
                materials.push(layer);
            }
        }
        for layer in materials {
            let of_this = |other: &Layer| other.material().id() == layer.material().id();
            let several = self.sleeve().is_some_and(|s| s.layers().iter().filter(|l| of_this(l)).count() > 1);
            let name = if several {
                format!("one layer of {} less", self.spoken(layer))
            } else {
                format!("no {}", self.called(layer.material()))
            };
            // Of several in one wall the outermost goes.
            self.walls(ChangeKind::Build, &name, |stack| match stack.layers.iter().rposition(of_this) {
                Some(index) if stack.layers.len() > 1 => {
                    stack.remove(index);
                    Ok(true)
                }
                _ => Ok(false),
            });
        }
        self.materials("damp insulation", |material| {
            let dry = material.damp_factor().filter(|_| !material.is_damp());
            dry.map(|_| material.damp()).transpose()
        });
        self.materials("dry insulation", |material| {
            let dry = material.id().strip_suffix("-damp").filter(|_| material.is_damp());
            Ok(dry.and_then(|id| Material::named(id).ok()))
        });
    }

    /// Faces that shine, or not.
    fn facings(&mut self) {
        let [low, best, high] = FOIL_EMISSIVITY.map(Ratio::from_si);
        let is_shiny = |layer: &Layer| layer.material().emissivity().is_some_and(|e| e.value().si() < SHINY);
        self.walls(ChangeKind::Build, "foil as the innermost layer", |stack| {
            if stack.layers.first().is_none_or(is_shiny) {
                return Ok(false);
            }
            let foil = Material::named(FOIL)?.with_emissivity("as a liner", best, low, high)?;
            stack.layers.insert(0, Layer::new(foil, metres(FOIL_THICKNESS))?);
            stack.contacts.insert(0, Contact::Perfect);
            Ok(true)
        });
        let dull = Ratio::from_si(DULL);
        self.walls(ChangeKind::Build, "a dull liner instead of a shiny one", |stack| {
            let Some(first) = stack.layers.first().filter(|layer| is_shiny(layer)) else { return Ok(false) };
            let material = first.material().with_emissivity("dull", dull, dull, dull)?;
            stack.layers[0] = first.with_material(material)?;
            Ok(true)
        });
        let faced = |stack: &mut Stack, shine: bool| {
            let mut any = false;
            for contact in &mut stack.contacts {
                let Contact::Airspace(airspace) = contact else { continue };
                let [inner, outer] = airspace.emissivities();
                let shines = inner.si().min(outer.si()) < SHINY;
                if shines != shine {
                    let first = if shine { best } else { dull };
                    let second = if shine { outer } else { dull };
                    *airspace = airspace.with_emissivities(first, second);
                    any = true;
                }
            }
            Ok(any)
        };
        self.walls(ChangeKind::Build, "foil on one face of the airspaces", |stack| faced(stack, true));
        self.walls(ChangeKind::Build, "airspaces without foil", |stack| faced(stack, false));
        let pot = self.pot_now().emissivity().map_or(DULL, |e| e.best().si());
        if pot > SHINY {
            let foil = Range::of_members(low.si(), best.si(), high.si());
            self.new_pot(ChangeKind::Use, "foil round the pot", |pot| pot.with_emissivity(foil));
        } else {
            self.new_pot(ChangeKind::Use, "a dull pot", |pot| pot.with_emissivity(Range::exactly(dull)));
        }
    }

    /// The pot itself, its lid, its handle and its knob.
    fn pot(&mut self) {
        self.new_pot(ChangeKind::Build, "a pot with half the metal", |pot| pot.times_as_heavy(0.5));
        self.new_pot(ChangeKind::Build, "a pot with three times the metal", |pot| pot.times_as_heavy(3.0));
        if self.pot_now().handle().is_some() {
            self.new_pot(ChangeKind::Build, "no handle through the wall", Pot::without_handle);
        }
        if self.pot_now().knob().is_some_and(Knob::passes_lid) {
            self.new_pot(ChangeKind::Build, "no knob through the lid of the box", Pot::without_knob);
        }
        let lid = self.pot_now().lid();
        if lid != PotLid::sealed() {
            self.new_pot(ChangeKind::Build, "a pot lid that seals, vented before", |pot| pot.covered(PotLid::sealed()));
        }
        if lid.gap().is_none() {
            self.new_pot(ChangeKind::Build, "a sound loose lid on the pot", |pot| pot.covered(PotLid::loose()));
        }
        if !lid.is_missing() {
            // The knob goes with it.
            let bare = |pot: Pot| pot.without_knob().covered(PotLid::none());
            self.new_pot(ChangeKind::Use, "no lid on the pot", bare);
        }
    }

    /// How much is in the pot.
    fn fill(&mut self) {
        let pot = self.pot_now();
        let Some((dish, mass)) = pot.contents() else { return };
        let of_pieces =
            |pieces: &crate::setup::Pieces| pieces.mass().si() / pieces.food().material().density().value().si();
        let pieces: f64 = pot.pieces().iter().map(of_pieces).sum();
        let holds = |share: f64| (share * pot.volume().si() - pieces) * dish.material().density().value().si();
        for (name, share, applies) in
            [("the pot full", FULL, pot.fill() < NOT_FULL), ("the pot half full", 0.5, pot.fill() > MORE_THAN_HALF)]
        {
            // Of a full pot of pieces half is not to be had by less liquid alone.
            let new = holds(share);
            if applies && new > 0.05 * mass.si() {
                self.new_pot(ChangeKind::Use, name, |pot| pot.with(dish.clone(), kilograms(new)));
            }
        }
    }

    fn companions(&mut self) {
        for (index, companion) in self.base.setup().companions().iter().enumerate() {
            let name = format!("no {} in the box", companion.name());
            self.setup(ChangeKind::Use, &name, |setup| Ok(setup.without_companion(index)));
        }
    }

    /// How warm box or sleeve are when the pot comes in.
    fn start(&mut self) -> Result<(), Error> {
        let plan = self.base.plan();
        let (start, room) = (plan.start_temperature()?, plan.room());
        let shell = Temperature::from_si(plan.shell_start());
        let shell_name = if self.sleeve().is_some() { "sleeve" } else { "box" };
        let is_cold_box = start.si() < room.si();
        if is_cold_box {
            let name = format!("a {shell_name} cooled to {} throughout beforehand", write_rounded(start, 3));
            self.plan(ChangeKind::Use, &name, |plan| plan.shell_at(start));
            return Ok(());
        }
        let warmed = celsius(WARMED);
        if warmed.si() > shell.si() + WORTH_WARMING && warmed.si() < start.si() {
            let name = format!("a {shell_name} warmed to {} throughout beforehand", write(warmed));
            self.plan(ChangeKind::Use, &name, |plan| plan.shell_at(warmed));
        }
        let cold = Temperature::from_si(shell.si() - 15.0);
        if cold.si() > celsius(-60.0).si() {
            let below = interval_between(cold, shell);
            let name = format!("a {shell_name} from a cold place, {} colder throughout", write(below));
            self.plan(ChangeKind::Circumstance, &name, |plan| plan.shell_at(cold));
        }
        if shell != room {
            let name = format!("a {shell_name} as warm as the room at the start");
            self.plan(ChangeKind::Use, &name, |plan| plan.shell_at(room));
        }
        Ok(())
    }

    /// Opening and carrying.
    fn handling(&mut self, options: &Options) {
        let plan = self.base.plan();
        if plan.actions().iter().any(|(_, action)| matches!(action, Action::Open(_))) {
            self.plan(ChangeKind::Use, "never opening it", Plan::never_opened);
        }
        let serve = plan.serve_time().map_or(options.horizon.si(), Si::si);
        let moment = minutes((serve / 120.0).min(60.0).floor());
        if moment.si() > 0.0 {
            let name = format!("opening it for 10 min after {}", write(moment));
            self.plan(ChangeKind::Use, &name, |plan| plan.open_at(moment, minutes(10.0)));
        }
        let carry = plan.carry_time();
        let longer = carry + minutes(10.0);
        if longer.si() <= minutes(120.0).si() {
            let name = format!("shutting it {} after it is ready, not {}", write(longer), write(carry));
            self.plan(ChangeKind::Use, &name, |plan| plan.carry(longer));
        }
        let sooner = minutes(1.0);
        if carry.si() > minutes(3.0).si() {
            let name = format!("shutting it {} after it is ready, not {}", write(sooner), write(carry));
            self.plan(ChangeKind::Use, &name, |plan| plan.carry(sooner));
        }
    }

    /// Room, wind, sky and height.
    fn surroundings(&mut self) {
        let plan = self.base.plan();
        for (name, by) in [("surroundings 10 K colder", -10.0), ("surroundings 10 K warmer", 10.0)] {
            self.plan(ChangeKind::Circumstance, name, |plan| plan.warmer_by(kelvins(by)));
        }
        if plan.wind().si() > 0.0 {
            self.plan(ChangeKind::Circumstance, "no wind", |plan| plan.in_wind(metres_per_second(0.0)));
        } else if self.sleeve().is_some() {
            self.plan(ChangeKind::Circumstance, "wind of 5 m/s", |plan| plan.in_wind(metres_per_second(5.0)));
        }
        if plan.sky_course().is_some() {
            self.plan(ChangeKind::Use, "under a roof instead of the sky", Plan::under_roof);
        }
        // Where the start was given height sets the pressure alone.
        if plan.given_start().is_none() {
            let height = plan.height().si();
            if height >= 500.0 {
                self.plan(ChangeKind::Circumstance, "at sea level", |plan| plan.at_height(metres(0.0)));
            } else if self.sleeve().is_some() {
                self.plan(ChangeKind::Circumstance, "1000 m higher", |plan| plan.at_height(metres(height + 1000.0)));
            }
        }
    }
}

/// A name without what stands in brackets or after a comma, its first letter small.
fn short(name: &str) -> String {
    let mut depth = 0_u32;
    let mut text = String::new();
    for letter in name.chars() {
        match letter {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            ',' if depth == 0 => break,
            _ if depth == 0 => text.push(letter),
            _ => {}
        }
    }
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut letters = words.chars();
    match (letters.next(), letters.clone().next()) {
        (Some(first), second) if second.is_none_or(char::is_lowercase) => first.to_lowercase().chain(letters).collect(),
        _ => words,
    }
}

fn times<Q: Spoken>(range: Range<Q>, factor: f64) -> Range<Q> {
    Range::of_members(factor * range.low().si(), factor * range.best().si(), factor * range.high().si())
}

/// Low, best and high of two ranges, one by one.
fn each(one: Range<Length>, other: Range<Length>, pick: impl Fn(f64, f64) -> f64) -> Range<Length> {
    let pair = |of: fn(&Range<Length>) -> Length| pick(of(&one).si(), of(&other).si());
    Range::of_members(pair(Range::low), pair(Range::best), pair(Range::high))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn materials_are_called_briefly() {
        for (name, brief) in [
            ("Expanded (black) cork board", "expanded cork board"),
            ("Plywood, 450-550 kg/m3", "plywood"),
            ("Cellulose fibre, loose blown (recycled paper, salt treated)", "cellulose fibre"),
            ("PVC sheet", "PVC sheet"),
            ("", ""),
        ] {
            assert_eq!(short(name), brief);
        }
    }
}
