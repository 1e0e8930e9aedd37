//! A case at random, as its text: everything that a case can say, of sizes that people build and cook, and the corners of
//! what is accepted. The same number always draws the same case, and the text is the whole of it.

use stillhot::units::Si;
use stillhot::{Dish, Material};

/// Materials of walls, each from so thin to so thick, mm.
const WALLS: [(&str, f64, f64); 24] = [
    ("rigid-polyisocyanurate-foam-foil-faced", 10.0, 150.0),
    ("cross-linked-polyethylene-foam-mat", 2.0, 30.0),
    ("expanded-polystyrene-20", 5.0, 200.0),
    ("extruded-polystyrene", 10.0, 150.0),
    ("expanded-cork-board", 5.0, 150.0),
    ("agglomerated-cork-sheet", 2.0, 20.0),
    ("hay-loose", 20.0, 400.0),
    ("straw-loose-chopped", 20.0, 300.0),
    ("newspaper-crumpled", 10.0, 200.0),
    ("corrugated-cardboard", 3.0, 30.0),
    ("sheep-wool-batt", 10.0, 200.0),
    ("wool-blanket-felt", 3.0, 60.0),
    ("recycled-polyester-wadding", 10.0, 150.0),
    ("cotton-woven-cloth", 0.3, 3.0),
    ("down-feather", 10.0, 150.0),
    ("plywood", 3.0, 25.0),
    ("softwood-across-grain", 5.0, 50.0),
    ("particleboard", 8.0, 30.0),
    ("brick-common", 50.0, 250.0),
    ("sand-dry", 20.0, 200.0),
    ("silica-aerogel-blanket", 3.0, 30.0),
    ("vacuum-insulation-panel-fumed-silica", 10.0, 40.0),
    ("aluminium-foil", 0.01, 0.1),
    ("carbon-steel", 0.4, 2.0),
];
/// Those of them that may be damp.
const DAMP: [&str; 7] = [
    "hay-loose",
    "straw-loose-chopped",
    "newspaper-crumpled",
    "corrugated-cardboard",
    "sheep-wool-batt",
    "wool-blanket-felt",
    "recycled-polyester-wadding",
];
const METALS: [&str; 8] = [
    "stainless-steel-304",
    "aluminium-pure",
    "carbon-steel",
    "cast-iron",
    "titanium",
    "copper",
    "borosilicate-glass",
    "earthenware-terracotta",
];
const FOODS: [&str; 12] = [
    "water-liquid",
    "broth-thin-soup",
    "milk-whole",
    "vegetable-oil",
    "thick-stew",
    "lentil-porridge",
    "beans-cooked",
    "rice-cooked",
    "pasta-cooked",
    "potato",
    "lean-beef",
    "honey-syrup",
];

/// A number of three digits.
fn short(value: f64) -> f64 {
    format!("{value:.2e}").parse().unwrap()
}

/// A pot as far as the rest goes by it: mm and litres.
struct Size {
    across: f64,
    high: f64,
    holds: f64,
}

pub struct Draw {
    state: u64,
    lines: Vec<String>,
    /// h
    horizon: f64,
    /// Highest start that is accepted, °C.
    hottest: f64,
    has_ice: bool,
}

/// The case of this number.
pub fn case(number: u64) -> String {
    let mut draw = Draw { state: number, lines: Vec::new(), horizon: 0.0, hottest: 0.0, has_ice: false };
    draw.horizon = short(draw.log(0.5, 36.0));
    let size = draw.pot();
    draw.dish(&size);
    if draw.chance(0.7) {
        draw.enclosure(&size)
    } else {
        draw.sleeve()
    }
    draw.companions();
    draw.films();
    draw.probes();
    draw.plan();
    draw.options();
    draw.lines.join("\n") + "\n"
}

impl Draw {
    /// Evenly distributed between 0 and 1 (SplitMix64: G. Steele et al., OOPSLA 2014; from memory).
    fn unit(&mut self) -> f64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    fn log(&mut self, low: f64, high: f64) -> f64 {
        low * (high / low).powf(self.unit())
    }

    fn chance(&mut self, share: f64) -> bool {
        self.unit() < share
    }

    fn among<T: Copy>(&mut self, list: &[T]) -> T {
        list[(self.unit() * list.len() as f64) as usize]
    }

    fn line(&mut self, text: impl Into<String>) {
        self.lines.push(text.into());
    }

    /// A key with a value of three digits.
    fn key(&mut self, key: &str, value: f64, unit: &str) {
        self.line(format!("{key} = \"{} {unit}\"", short(value)));
    }

    /// A key with a word.
    fn word(&mut self, key: &str, words: &[&str]) {
        let word = self.among(words);
        self.line(format!("{key} = \"{word}\""));
    }

    /// A value, or a range about it up to so many times as wide, within limits.
    fn range(&mut self, key: &str, best: f64, unit: &str, spread: f64, (least, most): (f64, f64)) {
        if self.chance(0.3) {
            return self.key(key, best, unit);
        }
        let (low, high) = (best / self.between(1.0, spread), best * self.between(1.0, spread));
        let [low, best, high] = [low.max(least), best, high.min(most)].map(short);
        self.line(format!("{key} = [\"{low} {unit}\", \"{best} {unit}\", \"{high} {unit}\"]"));
    }

    fn pot(&mut self) -> Size {
        self.line("[pot]");
        let size = if self.chance(0.5) {
            let volume = short(self.log(0.15, 60.0));
            self.key("volume", volume, "L");
            if self.chance(0.4) {
                self.metal();
            }
            let across = 1e2 * (volume / (0.2 * std::f64::consts::PI)).cbrt();
            Size { across, high: 0.8 * across, holds: volume }
        } else {
            let across = short(self.log(60.0, 500.0));
            let high = short((across * self.log(0.25, 2.0)).clamp(30.0, 700.0));
            self.key("diameter", across, "mm");
            self.key("height", high, "mm");
            self.metal();
            Size { across, high, holds: 0.25 * std::f64::consts::PI * across * across * high * 1e-6 }
        };
        if self.chance(0.15) {
            let mass = size.holds.powf(0.7) * self.log(0.05, 2.0);
            self.key("mass", mass, "kg");
        }
        if self.chance(0.3) {
            let emissivity = self.between(0.05, 0.95);
            self.range("emissivity", 100.0 * emissivity, "%", 2.0, (1.0, 100.0));
        }
        let lid = match self.unit() {
            x if x < 0.5 => true,
            x if x < 0.7 => {
                let gap = self.log(0.02, 5.0);
                self.range("lid-gap", gap, "mm", 3.0, (0.02, 5.0));
                true
            }
            x if x < 0.83 => {
                self.line("lid = \"sealed\"");
                true
            }
            _ => {
                self.line("lid = \"none\"");
                false
            }
        };
        if self.chance(0.4) {
            if self.chance(0.6) {
                self.word("footing", &["unknown", "mat", "rim", "trivet"]);
            } else {
                let resistance = self.log(1e-4, 1.0);
                self.range("footing", resistance, "m2 K/W", 4.0, (1e-5, 10.0));
            }
        }
        if self.chance(0.15) {
            self.line("[pot.handle]");
            self.word("material", &METALS);
            let [width, thickness, outside] = [self.log(2.0, 60.0), self.log(0.5, 20.0), self.between(0.0, 200.0)];
            self.key("width", width, "mm");
            self.key("thickness", thickness, "mm");
            self.key("outside", outside, "mm");
        }
        if lid && self.chance(0.15) {
            self.line("[pot.knob]");
            self.word("material", &METALS);
            let [across, end] = [self.log(2.0, 60.0), self.between(1.0, 100.0)];
            self.key("across", across, "mm");
            let key = self.among(&["height", "outside"]);
            self.key(key, end, "mm");
        }
        size
    }

    fn metal(&mut self) {
        self.word("metal", &METALS);
        let thickness = self.log(0.3, 12.0);
        self.key("metal-thickness", thickness, "mm");
    }

    /// A food, its density, kg/L, and its share of water.
    fn food(&mut self) -> (f64, f64) {
        let (density, water) = if self.chance(0.85) {
            let food = self.among(&FOODS);
            self.line(format!("food = \"{food}\""));
            let density = Material::named(food).unwrap().density().value().si() / 1e3;
            (density, Dish::named(food).unwrap().water_content().si())
        } else {
            let heat = short(self.between(1500.0, 4300.0));
            self.range("heat-capacity", heat, "J/(kg K)", 1.1, (1000.0, 5000.0));
            let density = short(self.between(600.0, 1300.0));
            self.key("density", density, "kg/m3");
            if self.chance(0.5) {
                let conductivity = self.log(0.15, 0.7);
                self.key("conductivity", conductivity, "W/(m K)");
            }
            (density / 1e3, ((heat - 837.0) / 3349.0).clamp(0.0, 1.0))
        };
        if self.chance(0.15) {
            let water = water * self.between(0.0, 1.0);
            self.key("water", 100.0 * water, "%");
            return (density, water);
        }
        (density, water)
    }

    fn dish(&mut self, size: &Size) {
        let fill = if self.chance(0.25) { self.log(0.05, 0.3) } else { self.between(0.2, 0.99) };
        let volume = fill * size.holds;
        let [others, kinds] = [0.2, 0.45].map(|share| match self.unit() / share {
            x if x < 0.3 => 2,
            x if x < 1.0 => 1,
            _ => 0,
        });
        let shares: Vec<f64> = (0..others + kinds).map(|_| self.log(0.01, 0.24)).collect();
        self.line("[dish]");
        let (density, water) = self.food();
        let own = volume * (1.0 - shares.iter().sum::<f64>());
        self.key("mass", 0.995 * density * own, "kg");
        if self.chance(0.5) {
            self.word("circulation", &["stirred", "still"]);
        }
        if self.chance(0.07) && water > 0.02 {
            self.has_ice = true;
            let share = water * self.between(0.05, 0.9) / (1.0 + others as f64);
            self.key("frozen", 100.0 * share, "%");
        }
        for share in &shares[..others] {
            self.line("[[dish.with]]");
            let (density, _) = self.food();
            self.key("mass", (0.995 * density * volume * share).max(2e-3), "kg");
        }
        for share in &shares[others..] {
            self.line("[[dish.pieces]]");
            self.word("shape", &["sphere", "cylinder", "slab"]);
            let across = self.log(1.0, 1.5 * size.across.min(size.high));
            self.key("size", across.clamp(1.0, 400.0), "mm");
            let (density, _) = self.food();
            self.key("mass", (0.995 * density * volume * share).max(2e-3), "kg");
            let start = self.between(-1.0, 100.0);
            self.key("start", start, "°C");
        }
    }

    /// One list of layers and contacts, an entry a line.
    fn layers(&mut self, key: &str, plain: bool) {
        self.line(format!("{key} = ["));
        let count = if plain { 1 + usize::from(self.chance(0.3)) } else { self.among(&[1, 1, 1, 2, 2, 3, 4]) };
        for layer in 0..count {
            if layer > 0 && !plain {
                let contact = match self.unit() {
                    x if x < 0.5 => None,
                    x if x < 0.65 => Some(format!("{{ gap = \"{} mm\" }}", short(self.log(0.05, 5.0)))),
                    x if x < 0.8 => Some(format!("{{ resistance = \"{} m2 K/W\" }}", short(self.log(1e-3, 1.0)))),
                    _ => {
                        let thick = short(self.log(1.5, 60.0));
                        let [inner, outer] = [0, 1].map(|_| self.among(&[0.05, 0.3, 0.9]));
                        Some(format!("{{ airspace = \"{thick} mm\", emissivities = [{inner}, {outer}] }}"))
                    }
                };
                self.lines.extend(contact.map(|contact| format!("  {contact},")));
            }
            let (material, thin, thick) = self.among(&WALLS);
            let thickness = short(self.log(thin, thick));
            let damp = if DAMP.contains(&material) && self.chance(0.4) { ", damp = true" } else { "" };
            self.line(format!("  {{ material = \"{material}\", thickness = \"{thickness} mm\"{damp} }},"));
        }
        self.line("]");
    }

    fn closing(&mut self) {
        match self.unit() {
            x if x < 0.1 => return,
            x if x < 0.2 => return self.line("closing = \"tight\""),
            _ => self.word("closing", &["resting", "pressed", "gasketed", "plug"]),
        }
        match self.unit() {
            x if x < 0.2 => {
                let joint = self.log(0.02, 10.0);
                self.range("joint", joint, "mm", 3.0, (0.02, 10.0));
            }
            x if x < 0.35 => {
                let leak = self.log(1e-3, 10.0);
                self.range("leak", leak, "W/K", 4.0, (0.0, 100.0));
            }
            _ => {}
        }
    }

    fn enclosure(&mut self, size: &Size) {
        let solved = self.chance(0.03);
        self.line("[box]");
        let mut room = 0.0;
        if self.chance(0.5) {
            room = short(self.log(1.0, 80.0));
            if self.chance(0.1) {
                room = 0.0;
            }
            self.key("gap", room, "mm");
        } else {
            for (key, least) in
                [("inner-width", size.across), ("inner-depth", size.across), ("inner-height", size.high)]
            {
                let wider = least * self.between(1.0, 1.8) + 0.1;
                self.line(format!("{key} = \"{:.1} mm\"", wider.max(20.0)));
            }
        }
        self.layers("walls", solved);
        if self.chance(0.6) {
            self.word("fit", &["tight", "ordinary", "loose"]);
        }
        if self.chance(0.2) {
            let width = self.log(0.02, 10.0);
            self.range("seams", width, "mm", 4.0, (0.0, 10.0));
        }
        if self.chance(0.2) {
            let width = self.log(0.02, 5.0);
            self.range("upright-seams", width, "mm", 4.0, (0.0, 10.0));
        }
        if solved {
            self.line("edges = \"solved\"");
            if self.chance(0.5) && room > 5.0 {
                let row = self.among(&["upright", "base", "lid"]);
                let (material, _, _) = self.among(&WALLS);
                // Upright ones may reach to where the pot curves away.
                let most = if row == "upright" { room + 0.1 * size.across } else { 0.9 * room };
                let legs = [self.between(0.3, 1.0), self.between(0.3, 1.0)].map(|share| short(share * most));
                let shape = if self.chance(0.5) {
                    format!("legs = [\"{} mm\", \"{} mm\"]", legs[0], legs[1])
                } else {
                    format!("radius = \"{} mm\"", legs[0])
                };
                self.line(format!("fillers = [{{ along = \"{row}\", material = \"{material}\", {shape} }}]"));
            }
        }
        self.line("[box.lid]");
        self.closing();
        if self.chance(0.25) {
            self.layers("layers", solved);
        }
        for face in ["base", "front", "back", "left", "right"] {
            if self.chance(0.08) {
                self.line(format!("[box.{face}]"));
                self.layers("layers", solved);
            }
        }
    }

    fn sleeve(&mut self) {
        let solved = self.chance(0.02);
        self.line("[sleeve]");
        self.layers("layers", solved);
        if self.chance(0.5) {
            let gap = self.between(0.0, 50.0);
            self.key("gap", gap, "mm");
        }
        if solved {
            self.line("edges = \"solved\"");
        }
        if self.chance(0.7) {
            self.line("[sleeve.lid]");
            self.closing();
        }
    }

    fn companions(&mut self) {
        let count = match self.unit() {
            x if x < 0.75 => 0,
            x if x < 0.92 => 1,
            _ => 2,
        };
        for _ in 0..count {
            self.line("[[companion]]");
            self.line("name = \"another\"");
            let hottest = if self.chance(0.5) {
                let capacity = self.log(100.0, 4e4);
                self.key("heat-capacity", capacity, "J/K");
                250.0
            } else {
                self.word("material", &["water-liquid", "granite-soapstone", "thick-stew"]);
                let mass = self.log(0.1, 10.0);
                self.key("mass", mass, "kg");
                100.0
            };
            let start = self.between(-20.0, hottest);
            self.key("start", start, "°C");
            let surface = self.log(0.005, 0.3);
            self.key("surface", surface, "m2");
        }
    }

    fn films(&mut self) {
        if self.chance(0.05) {
            self.line("[films]");
            for key in ["inside", "outside"] {
                let film = self.log(0.5, 50.0);
                self.range(key, film, "W/(m2 K)", 2.0, (0.1, 1000.0));
            }
        }
    }

    fn probes(&mut self) {
        if self.chance(0.25) {
            self.line("[[probe]]");
            self.word("spot", &["dish", "coldest", "under-lid"]);
            if self.chance(0.7) {
                let lag = self.log(1.0, 1800.0);
                self.key("lag", lag, "s");
            }
        }
    }

    /// A quantity in time between two values.
    fn course(&mut self, key: &str, (low, high): (f64, f64), [unit, swing]: [&str; 2]) {
        let (first, end) = (short(self.between(low, high)), self.horizon);
        let rows = |draw: &mut Self| -> Vec<String> {
            let mut at = 0.0;
            let mut rows = vec![format!("[\"0 h\", \"{first} {unit}\"]")];
            for _ in 0..1 + (draw.unit() * 4.0) as usize {
                at += 0.01 + draw.between(0.0, 0.5 * end);
                rows.push(format!("[\"{at:.2} h\", \"{} {unit}\"]", short(draw.between(low, high))));
            }
            rows
        };
        let text = match self.unit() {
            x if x < 0.6 => format!("\"{first} {unit}\""),
            x if x < 0.72 => format!("{{ steps = [{}] }}", rows(self).join(", ")),
            x if x < 0.84 => format!("{{ points = [{}] }}", rows(self).join(", ")),
            x if x < 0.94 || key != "room" => {
                let mean = 0.5 * (low + high);
                let most = short(self.between(0.0, 0.45 * (high - low)));
                let delay = short(self.between(0.0, 24.0));
                format!("{{ mean = \"{mean} {unit}\", swing = \"{most} {swing}\", delay = \"{delay} h\" }}")
            }
            _ => {
                let mut text = String::from("{ rows = \"time [min], room [°C]\\n");
                for row in 0..120 {
                    text += &format!("{}, {:.1}\\n", 15 * row, first + self.between(-1.5, 1.5));
                }
                text + "\" }"
            }
        };
        self.line(format!("{key} = {text}"));
    }

    fn plan(&mut self) {
        self.line("[plan]");
        let rooms = self.among(&[(10.0, 28.0), (10.0, 28.0), (-30.0, 15.0), (20.0, 60.0)]);
        self.course("room", rooms, ["°C", "K"]);
        if self.chance(0.2) {
            self.course("sky", (rooms.0 - 30.0, rooms.0), ["°C", "K"]);
        }
        let mut height = 0.0;
        if self.chance(0.25) {
            height = short(self.between(-300.0, 4500.0));
            self.key("height", height, "m");
        }
        if self.chance(0.35) {
            self.course("wind", (0.0, 12.0), ["m/s", "m/s"]);
        }
        if self.chance(0.5) {
            let on = self.among(&["board", "stone", "earth", "snow", "hung"]);
            self.line(format!("resting = \"{on}\""));
            if on != "hung" && self.chance(0.4) {
                let warmest = if on == "snow" { 0.0 } else { 25.0 };
                self.course("resting-temperature", (-15.0, warmest), ["°C", "K"]);
            }
            if on != "hung" && self.chance(0.3) {
                let coefficient = self.log(0.5, 50.0);
                self.range("resting-coefficient", coefficient, "W/(m2 K)", 2.0, (0.1, 200.0));
            }
        }
        if self.chance(0.6) {
            let simmer = if self.chance(0.2) { 0.0 } else { self.log(0.5, 240.0) };
            self.key("simmer", simmer, "min");
        }
        if self.chance(0.5) {
            let carry = if self.chance(0.2) { 0.0 } else { self.log(0.1, 60.0) };
            self.key("carry", carry, "min");
        }
        // Water boils a kelvin lower for each 290 m; at most three above that are accepted.
        self.hottest = 99.0 - height.max(0.0) / 280.0;
        if !self.has_ice && self.chance(0.45) {
            let start = if self.chance(0.6) { self.between(60.0, self.hottest) } else { self.between(-5.0, 60.0) };
            self.key("start", start, "°C");
        }
        if self.chance(0.2) {
            let shell = self.between(-20.0, 90.0);
            self.key("shell-start", shell, "°C");
        }
        let serve = self.chance(0.5).then(|| short(self.between(0.0, 0.99 * self.horizon)));
        self.actions(serve);
        if let Some(serve) = serve {
            self.key("serve", serve, "h");
        }
    }

    fn actions(&mut self, serve: Option<f64>) {
        let count = self.among(&[0, 0, 0, 1, 1, 2, 3, 5]);
        if count == 0 {
            return;
        }
        self.line("actions = [");
        let mut last = 0.0;
        for _ in 0..count {
            let at = match self.unit() {
                x if x < 0.07 => 0.0,
                x if x < 0.2 => last,
                x if x < 0.3 => serve.unwrap_or(last),
                _ => short(self.between(0.0, 0.99 * self.horizon)),
            };
            last = at;
            let what = match self.unit() {
                x if x < 0.55 => {
                    let key = self.among(&["open", "uncover", "stir"]);
                    format!("{key} = \"{} min\"", short(self.log(0.02, 100.0)))
                }
                x if x < 0.8 => format!("reheat = \"{} °C\"", short(self.between(30.0, self.hottest))),
                _ => format!("take-out = \"{} %\"", short(self.between(0.0, 95.0))),
            };
            self.line(format!("  {{ at = \"{at} h\", {what} }},"));
        }
        self.line("]");
    }

    fn options(&mut self) {
        self.line("[options]");
        self.key("horizon", self.horizon, "h");
        if self.chance(0.3) {
            let cells = self.among(&[3, 4, 5, 6, 10]);
            self.line(format!("cells = {cells}"));
        }
    }
}
