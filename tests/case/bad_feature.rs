//! Bad values of what a case can say beyond pot, walls and room, each held to its place and to what would be accepted.

use super::bad_case::{Bad, bad, each_gives_its_finding, tells_exactly};
use super::{BOX, RICH, SLEEVE, line_of, with};
use stillhot::ErrorKind::{Data, Inconsistent, Io, OutOfRange, Unit, UnknownName};
use stillhot::case::Case;
use stillhot::material::Catalogue;

const ROOM: &str = "{ steps = [[\"0 h\", \"16 °C\"], [\"4 h\", \"3 °C\"], [\"9 h\", \"-6 °C\"]] }";
const SKY: &str = "{ mean = \"-8 °C\", swing = \"7 K\", period = \"24 h\", delay = \"9 h\" }";

#[rustfmt::skip]
const SPOILED: &[Bad] = &[
    // Pot and handle.
    bad(RICH, "[0.1, 0.2, \"35 %\"]", "1.4", "1.4", "pot.emissivity", OutOfRange, "0.01 to 1"),
    bad(RICH, "[0.1, 0.2, \"35 %\"]", "\"high\"", "\"high\"", "pot.emissivity", Unit, "a ratio"),
    bad(RICH, "[0.1, 0.2, \"35 %\"]", "[0.3, 0.2, 0.1]", "0.3, 0.2", "pot.emissivity", OutOfRange, "low <= best <= high"),
    bad(RICH, "[0.1, 0.2, \"35 %\"]", "[0.1, 0.2]", "[0.1, 0.2]", "pot.emissivity", Data, "[\"low\", \"best\", \"high\"]"),
    bad(RICH, "footing = \"trivet\"", "footing = \"tripod\"", "tripod", "pot.footing", Data, "unknown, mat, rim, trivet, or a resistance"),
    bad(RICH, "footing = \"trivet\"", "footing = \"90 m2 K/W\"", "90 m2", "pot.footing", OutOfRange, "10 m2 K/W"),
    bad(RICH, "lid = \"loose\"", "lid = \"lose\"", "\"lose\"", "pot.lid", Data, "loose, sealed, none"),
    bad(RICH, "lid = \"loose\"", "lid = \"none\"", "lid-gap", "pot.lid-gap", Inconsistent, "lid = \"loose\""),
    bad(RICH, "\"0.6 mm\"", "\"6 mm\"", "lid-gap", "pot.lid-gap", OutOfRange, "0.02 mm to 5 mm"),
    bad(RICH, "water = \"88 %\"", "water = \"188 %\"", "188 %", "dish.water", OutOfRange, "0 to 1"),
    bad(RICH, "\"2 mm\"]", "\"20 mm\"]", "seams", "box.seams", OutOfRange, "0 mm to 10 mm"),
    bad(RICH, "\"0.8 mm\"]", "\"11 mm\"]", "upright", "box.upright-seams", OutOfRange, "0 mm to 10 mm"),
    bad(RICH, "material = \"carbon-steel\"", "material = \"carbon-stele\"", "stele", "pot.handle.material", UnknownName, "carbon-steel"),
    bad(RICH, "width = \"22 mm\"", "width = \"22 cm\"", "22 cm", "pot.handle.width", OutOfRange, "0.5 mm to 100 mm"),
    bad(RICH, "thickness = \"4 mm\"", "thickness = \"4 g\"", "4 g", "pot.handle.thickness", Unit, "50 mm"),
    bad(RICH, "outside = \"120 mm\"", "outside = \"-1 mm\"", "-1 mm", "pot.handle.outside", OutOfRange, "0 mm to 500 mm"),
    bad(RICH, "outside = \"120 mm\"", "", "[pot.handle]", "pot.handle.outside", Data, "outside = \"50 mm\""),
    bad(RICH, "outside = \"120 mm\"", "outside = \"120 mm\"\nlength = \"1 m\"", "length", "pot.handle.length", Data, "material, width, thickness, outside"),
    bad(RICH, "across = \"9 mm\"", "across = \"9 cm/s\"", "9 cm", "pot.knob.across", Unit, "50 mm"),
    bad(RICH, "across = \"9 mm\"", "across = \"0.5 mm\"", "0.5 mm", "pot.knob.across", OutOfRange, "1 mm to 100 mm"),
    bad(RICH, "across = \"9 mm\"", "", "[pot.knob]", "pot.knob.across", Data, "across = \"50 mm\""),
    bad(RICH, "across = \"9 mm\"", "across = \"9 mm\"\nwidth = \"9 mm\"", "width = \"9 mm\"", "pot.knob.width", Data, "material, across, height, outside"),
    bad(RICH, "material = \"brass\"", "material = \"bras\"", "\"bras\"", "pot.knob.material", UnknownName, "brass"),
    bad(RICH, "outside = \"15 mm\"", "outside = \"1 m\"", "\"1 m\"", "pot.knob.outside", OutOfRange, "0 mm to 500 mm"),
    bad(RICH, "outside = \"15 mm\"", "height = \"300 mm\"", "300 mm", "pot.knob.height", OutOfRange, "1 mm to 200 mm"),
    bad(RICH, "outside = \"15 mm\"", "", "[pot.knob]", "pot.knob.height", Data, "or outside = \"20 mm\""),
    bad(RICH, "outside = \"15 mm\"", "outside = \"15 mm\"\nheight = \"30 mm\"", "[pot.knob]", "pot.knob", Inconsistent, "height = \"30 mm\" under the lid"),
    bad(RICH, "lid = \"loose\"\nlid-gap = [\"0.2 mm\", \"0.3 mm\", \"0.6 mm\"]", "lid = \"none\"", "[pot.knob]", "pot.knob", Inconsistent, "a lid on the pot, or no knob"),
    // Thermometers.
    bad(RICH, "spot = \"under-lid\"", "spot = \"under lid\"", "\"under lid\"", "probe[1].spot", Data, "dish, coldest, under-lid"),
    bad(RICH, "spot = \"under-lid\"", "", "[[probe]]\n\nlag", "probe[1].spot", Data, "spot = \"under-lid\""),
    bad(RICH, "lag = \"90 s\"", "lag = \"3 h\"", "lag = \"3 h\"", "probe[1].lag", OutOfRange, "0 s to 2 h"),
    bad(RICH, "lag = \"90 s\"", "lag = \"90 K\"", "90 K", "probe[1].lag", Unit, "6 h"),
    bad(RICH, "lag = \"90 s\"", "lag = 90", "lag = 90", "probe[1].lag", Data, "in quotes with its unit"),
    bad(RICH, "start = \"21 °C\"", "start = \"210 °C\"", "210 °C", "probe[2].start", OutOfRange, "-60 °C to 200 °C"),
    bad(RICH, "start = \"21 °C\"", "place = \"dish\"", "place", "probe[2].place", Data, "spot, lag, start"),
    // Prices.
    bad(RICH, "amount = 12.5", "amount = -12.5", "-12.5", "prices.materials[1].amount", OutOfRange, "0 to 1e9"),
    bad(RICH, "amount = 12.5", "amount = \"12.5 EUR\"", "12.5 EUR", "prices.materials[1].amount", Data, "a number without unit"),
    bad(RICH, "amount = 12.5, ", "", "wool-blanket-felt\", per", "prices.materials[1].amount", Data, "amount = 12.5"),
    bad(RICH, "per = \"m2\"", "per = \"m\"", "\"m\"", "prices.materials[1].per", Data, "m2, kg, m3"),
    bad(RICH, "material = \"wool-blanket-felt\", amount", "material = \"wool-blanket-fell\", amount", "fell", "prices.materials[1].material", UnknownName, "wool-blanket-felt"),
    bad(RICH, "currency = \"EUR\"", "currency = 7", "currency", "prices.currency", Data, "a text in quotes"),
    bad(RICH, "currency = \"EUR\"", "money = \"EUR\"", "money", "prices.money", Data, "currency, materials, changes"),
    bad(RICH, "amount = 6 ", "amount = 6, per = \"kg\" ", "amount = 6", "prices.changes[1].per", Data, "change, amount"),
    // Dish, pieces, ice.
    bad(RICH, "kind = \"barley-broth\"", "kind = \"barly-broth\"", "barly", "dish.kind", UnknownName, "barley-broth"),
    bad(RICH, "kind = \"barley-broth\"", "kind = 7", "kind", "dish.kind", Data, "a text in quotes"),
    bad(BOX, "food = \"thick-stew\"", "kind = \"cabbage\"", "[dish]", "dish.food", Data, "heat-capacity = "),
    bad(BOX, "food = \"thick-stew\"", "kind = \"cabage\"", "cabage", "dish.kind", UnknownName, "cabbage"),
    bad(RICH, "frozen = \"0 %\"", "frozen = \"10 %\"", "start = \"97 °C\"", "plan.start", Inconsistent, "0 °C, no start temperature, or no ice"),
    bad(BOX, "above = [\"75 °C\", \"60 °C\"]", "below = [\"500 °C\"]", "below", "questions.below[1]", OutOfRange, "-30 °C to 150 °C"),
    bad(BOX, "above = [\"75 °C\", \"60 °C\"]", "belov = [\"5 °C\"]", "belov", "questions.belov", Data, "below"),
    bad(RICH, "frozen = \"0 %\"", "frozen = \"140 %\"", "140 %", "dish.frozen", OutOfRange, "0 to 1"),
    bad(RICH, "circulation = \"still\"", "circulation = \"stiff\"", "stiff", "dish.circulation", Data, "still"),
    bad(RICH, "frozen = \"0 %\"", "frozen = true", "frozen", "dish.frozen", Data, "a number without unit"),
    bad(RICH, "shape = \"sphere\"", "shape = \"cube\"", "cube", "dish.pieces[1].shape", Data, "sphere, cylinder, slab"),
    bad(RICH, "shape = \"slab\"", "", "[[dish.pieces]]\n\nsize", "dish.pieces[2].shape", Data, "sphere, cylinder, slab"),
    bad(RICH, "size = \"48 mm\"", "size = \"0.1 mm\"", "0.1 mm", "dish.pieces[1].size", OutOfRange, "1 mm to 400 mm"),
    bad(RICH, "size = \"9 mm\"", "sise = \"9 mm\"\nsize = \"9 mm\"", "sise", "dish.pieces[2].sise", Data, "size"),
    bad(RICH, "food = \"potato\"", "food = \"patato\"", "patato", "dish.pieces[1].food", UnknownName, "potato"),
    bad(RICH, "mass = \"700 g\"", "mass = \"0 g\"", "\"0 g\"", "dish.pieces[1].mass", OutOfRange, "1 g to 200 kg"),
    bad(RICH, "start = \"14 °C\"", "start = \"-5 °C\"", "\"-5 °C\"", "dish.pieces[1].start", OutOfRange, "-1 °C to 150 °C"),
    bad(RICH, "conductivity = \"0.45 W/(m K)\"", "conductivity = \"0.45 W/K\"", "0.45", "dish.pieces[2].conductivity", Unit, "0.023 W/(m K)"),
    bad(RICH, "conductivity = \"0.45 W/(m K)\"", "conductivity = \"0 W/(m K)\"", "\"0 W", "dish.pieces[2].conductivity", OutOfRange, "2500 W/(m K)"),
    bad(RICH, "density = \"1060 kg/m3\"", "", "[[dish.pieces]]\nshape = \"slab\"", "dish.pieces[2].density", Data, "density = "),
    bad(RICH, "density = \"1060 kg/m3\"", "density = \"1060 kg/m3\"\nfood = \"potato\"", "[[dish.pieces]]\nshape = \"slab\"", "dish.pieces[2]", Inconsistent, "food, or heat-capacity, density and conductivity"),
    bad(RICH, "\"7 m/s\"", "\"27 m/s\"", "27 m/s", "plan.wind.points[2][2]", OutOfRange, "0 m/s to 20 m/s"),
    bad(RICH, "\"7 m/s\"", "\"7 °C\"", "\"7 °C\"", "plan.wind.points[2][2]", Unit, "m/s"),
    bad(RICH, "resting = \"earth\"", "resting = \"erth\"", "erth", "plan.resting", Data, "board, stone, earth, snow, hung"),
    bad(RICH, "swing = \"3 K\"", "swing = \"200 K\"", "{ mean = \"2", "plan.resting-temperature", OutOfRange, "-60 °C to 150 °C"),
    bad(RICH, "\"11 W/(m2 K)\"", "\"211 W/(m2 K)\"", "[\"4 W", "plan.resting-coefficient", OutOfRange, "200 W/(m2 K)"),
    bad(RICH, "uncover = \"4 min\"", "uncover = \"4 h\"", "uncover = ", "plan.actions[4].uncover", OutOfRange, "1 s to 2 h"),
    bad(RICH, "stir = \"1 min\"", "stir = \"1 min\", open = \"1 min\"", "{ at = \"2.5 h\"", "plan.actions[5]", Inconsistent, "open = "),
    bad(RICH, "food = \"beans-cooked\"", "food = \"beans-coked\"", "beans-coked", "dish.with[1].food", UnknownName, "beans-cooked"),
    bad(RICH, "mass = \"400 g\"", "mass = \"0 g\"", "\"0 g\"", "dish.with[1].mass", OutOfRange, "1 g to 500 kg"),
    bad(RICH, "water = \"60 %\"", "water = \"60 %\"\nstart = \"9 °C\"", "start = \"9", "dish.with[1].start", Data, "food, heat-capacity"),
    bad(RICH, "mass = \"4 kg\"", "mass = \"6.8 kg\"", "6.8 kg", "dish.mass", Inconsistent, "of this dish in 7"),
    // Walls, fit and lid.
    bad(RICH, "fit = \"loose\"", "fit = \"lose\"", "\"lose\"", "box.fit", Data, "tight, ordinary, loose"),
    bad(RICH, "airspace = \"12 mm\"", "airspace = \"120 mm\"", "120 mm\", e", "box.walls[2].airspace", OutOfRange, "1 mm to 100 mm"),
    bad(RICH, "[0.9, 0.06]", "[0.9]", "[0.9]", "box.walls[2].emissivities", Data, "a pair in square brackets"),
    bad(RICH, "[0.9, 0.06]", "[0.9, 0]", "[0.9, 0]", "box.walls[2].emissivities", OutOfRange, "0.01 to 1"),
    bad(RICH, "emissivities = ", "facing = \"100 deg\", emissivities = ", "facing", "box.walls[2].facing", OutOfRange, "to 90"),
    bad(RICH, "emissivities = ", "emissivity = ", "emissivity = [0.9", "box.walls[2].emissivity", Data, "emissivities"),
    bad(RICH, "\"0.4 mm\"", "\"0.1 mm\"", "joint", "box.lid.joint", OutOfRange, "low <= best <= high"),
    bad(RICH, "\"0.9 mm\"", "\"12 mm\"", "joint", "box.lid.joint", OutOfRange, "0.02 mm to 10 mm"),
    bad(RICH, "\"0.9 mm\"", "\"9 W/K\"", "joint", "box.lid.joint[3]", Unit, "50 mm"),
    bad(RICH, "closing = \"pressed\"", "closing = \"pressed\"\nleak = \"0.1 W/K\"", "[box.lid]", "box.lid", Inconsistent, "joint or leak"),
    bad(RICH, "closing = \"pressed\"", "closing = \"tight\"", "[box.lid]", "box.lid", Inconsistent, "another closing, or neither joint nor leak"),
    bad(SLEEVE, "leak = [", "joints = [", "joints", "sleeve.lid.joints", Data, "joint"),
    bad(BOX, "{ gap = \"1 mm\" },\n  { material = \"expanded-polystyrene-20\", thickness = \"50 mm\" },", "{ airspace = \"9 mm\" },", "9 mm", "box.walls[2]", Inconsistent, "a layer after it"),
    // Second bodies.
    bad(RICH, "name = \"soapstone\"", "name = \" \"", "\" \"", "companion[1].name", Data, "what it is called"),
    bad(RICH, "name = \"soapstone\"", "", "[[companion]]\n\n", "companion[1].name", Data, "name = "),
    bad(RICH, "heat-capacity = \"1800 J/K\"", "heat-capacity = \"1800 J/(kg K)\"", "1800", "companion[1].heat-capacity", Unit, "29.3 kJ/K"),
    bad(RICH, "heat-capacity = \"1800 J/K\"", "heat-capacity = \"-2 J/K\"", "-2 J/K", "companion[1].heat-capacity", OutOfRange, "more than 0 J/K"),
    bad(RICH, "heat-capacity = \"1800 J/K\"", "", "[[companion]]\nname = \"soap", "companion[1].heat-capacity", Data, "material = \"water-liquid\" and mass"),
    bad(RICH, "heat-capacity = \"1800 J/K\"", "heat-capacity = \"1800 J/K\"\nmass = \"2 kg\"", "[[companion]]\nname = \"soap", "companion[1]", Inconsistent, "heat-capacity = \"1800 J/K\", or material"),
    bad(RICH, "material = \"water-liquid\"", "material = \"watter-liquid\"", "watter", "companion[2].material", UnknownName, "water-liquid"),
    bad(RICH, "mass = \"1.2 kg\"", "", "[[companion]]\nname = \"bottle", "companion[2].mass", Data, "mass = \"2 kg\""),
    bad(RICH, "start = \"180 °C\"", "start = \"500 °C\"", "500 °C", "companion[1].start", OutOfRange, "-60 °C to 400 °C"),
    bad(RICH, "surface = \"700 cm2\"", "surface = \"0 cm2\"", "\"0 cm2\"", "companion[2].surface", OutOfRange, "up to 2 m2"),
    bad(RICH, "surface = \"700 cm2\"", "area = \"700 cm2\"\nsurface = \"700 cm2\"", "area", "companion[2].area", Data, "surface"),
    // Films.
    bad(BOX, "[plan]", "[films]\ninside = \"9 W/(m2 K)\"\noutside = \"0 W/(m2 K)\"\n[plan]", "\"0 W", "films.outside", OutOfRange, "0.1 W/(m2 K) to 1000 W/(m2 K)"),
    bad(BOX, "[plan]", "[films]\ninside = \"9 W/(m2 K)\"\n[plan]", "[films]", "films.outside", Data, "outside = \"8 W/(m2 K)\""),
    bad(BOX, "[plan]", "[films]\ninside = \"9 W/m2\"\noutside = \"8 W/(m2 K)\"\n[plan]", "9 W/m2", "films.inside", Unit, "8 W/(m2 K)"),
    // Surroundings in time.
    bad(RICH, "\"3 °C\"]", "\"3 m\"]", "room", "plan.room.steps[2][2]", Unit, "98 °C"),
    bad(RICH, "\"-6 °C\"]", "\"-66 °C\"]", "room", "plan.room.steps[3][2]", OutOfRange, "-60 °C to 150 °C"),
    bad(RICH, "[\"4 h\", \"3 °C\"]", "[\"4\", \"3 °C\"]", "room", "plan.room.steps[2][1]", Unit, "6 h"),
    bad(RICH, "[\"4 h\", \"3 °C\"]", "[\"4 h\"]", "room", "plan.room.steps[2]", Data, "a pair"),
    bad(RICH, "[\"4 h\", \"3 °C\"]", "[\"12 h\", \"3 °C\"]", "room", "plan.room.steps", OutOfRange, "times that rise"),
    bad(RICH, ROOM, "{ points = [] }", "room", "plan.room.points", OutOfRange, "1 to 10000"),
    bad(RICH, ROOM, "{ step = [[\"0 h\", \"16 °C\"]], rows = \"time [h], room [°C]\\n0, 9\" }", "room", "plan.room.step", Data, "steps"),
    bad(RICH, ROOM, "{ }", "room", "plan.room", Inconsistent, "{ steps = "),
    bad(RICH, ROOM, "{ mean = \"9 °C\", swing = \"2 K\", rows = \"\" }", "room", "plan.room", Inconsistent, "{ rows = "),
    bad(RICH, ROOM, "16", "room", "plan.room", Data, "{ log = \"the name of a file\" }"),
    bad(RICH, ROOM, "{ rows = \"time [h], room [°C]\\n0, 16\\n0, 17\" }", "room", "plan.room.rows, text, line 3", Data, "a later time than in the row before"),
    bad(RICH, ROOM, "{ rows = \"time [h], room [°C]\\n0, 160\" }", "room", "plan.room", OutOfRange, "-60 °C to 150 °C"),
    bad(RICH, ROOM, "{ log = \"cabin.csv\" }", "room", "plan.room.log", Io, "a case that is read with its folder"),
    bad(RICH, SKY, "{ mean = \"-8 °C\" }", "sky", "plan.sky.swing", Data, "swing = \"33 K\""),
    bad(RICH, "swing = \"7 K\"", "swing = \"7 °C\"", "sky", "plan.sky.swing", Unit, "33 K"),
    bad(RICH, "period = \"24 h\"", "period = \"0 h\"", "sky", "plan.sky.period", OutOfRange, "more than 0 s"),
    bad(RICH, "swing = \"7 K\"", "swing = \"700 K\"", "sky", "plan.sky", OutOfRange, "-100 °C to 100 °C"),
    bad(RICH, SKY, "{ points = [[\"0 h\", \"-8 °C\"]], delay = \"1 h\" }", "sky", "plan.sky.delay", Inconsistent, "{ mean = "),
    bad(RICH, SKY, "\"-200 °C\"", "sky", "plan.sky", OutOfRange, "-100 °C to 100 °C"),
    // What is done.
    bad(RICH, "shell-start = \"35 °C\"", "shell-start = \"350 °C\"", "350 °C", "plan.shell-start", OutOfRange, "-60 °C to 150 °C"),
    bad(RICH, "shell-start = \"35 °C\"", "shell-stat = \"35 °C\"", "shell-stat", "plan.shell-stat", Data, "shell-start"),
    bad(RICH, "{ at = \"1.5 h\", open = \"10 min\" }", "{ at = \"1.5 h\" }", "\"1.5 h\"", "plan.actions[1]", Inconsistent, "{ at = \"2 h\", reheat = \"98 °C\" }"),
    bad(RICH, "open = \"10 min\"", "open = \"10 min\", reheat = \"90 °C\"", "\"1.5 h\"", "plan.actions[1]", Inconsistent, "{ at = \"2 h\", take-out = \"30 %\" }"),
    bad(RICH, "{ at = \"1.5 h\", open = \"10 min\" }", "{ open = \"10 min\" }", "10 min", "plan.actions[1].at", Data, "at = \"6 h\""),
    bad(RICH, "open = \"10 min\"", "open = \"3 h\"", "open", "plan.actions[1].open", OutOfRange, "1 s to 2 h"),
    bad(RICH, "open = \"10 min\"", "opne = \"10 min\", open = \"10 min\"", "opne", "plan.actions[1].opne", Data, "open"),
    bad(RICH, "reheat = \"95 °C\"", "reheat = \"300 °C\"", "300 °C", "plan.actions[2].reheat", OutOfRange, "-30 °C to 150 °C"),
    bad(RICH, "reheat = \"95 °C\"", "reheat = 95", "= 95", "plan.actions[2].reheat", Data, "in quotes with its unit"),
    bad(RICH, "take-out = \"40 %\"", "take-out = \"100 %\"", "100 %", "plan.actions[3].take-out", OutOfRange, "0 to 0.95"),
    bad(RICH, "at = \"5 h\"", "at = \"25 h\"", "25 h", "plan.actions[3].at", OutOfRange, "0 s to 20 h"),
    bad(RICH, "at = \"5 h\"", "at = \"-5 h\"", "-5 h", "plan.actions[3].at", OutOfRange, "0 s to"),
];

#[test]
fn one_fault_in_a_feature_gives_one_finding_at_its_place() {
    assert!(SPOILED.len() >= 70, "{}", SPOILED.len());
    each_gives_its_finding(SPOILED);
}

/// Faults in every part at once: each is told.
#[test]
fn faults_in_all_features_are_told_together() {
    let mut text = RICH.to_owned();
    let faults = [
        ("[0.1, 0.2, \"35 %\"]", "2", "pot.emissivity"),
        ("width = \"22 mm\"", "width = \"1 m\"", "pot.handle.width"),
        ("frozen = \"0 %\"", "frozen = 3", "dish.frozen"),
        ("shape = \"slab\"", "shape = \"flat\"", "dish.pieces[2].shape"),
        ("start = \"5 °C\"", "start = \"5 K/W\"", "dish.pieces[2].start"),
        ("fit = \"loose\"", "fit = \"snug\"", "box.fit"),
        ("\"0.9 mm\"", "\"90 mm\"", "box.lid.joint"),
        ("surface = \"0.06 m2\"", "surface = \"0.06 m\"", "companion[1].surface"),
        ("mass = \"1.2 kg\"", "mass = \"0 kg\"", "companion[2].mass"),
        ("[\"4 h\", \"3 °C\"]", "[\"4 h\", \"3\"]", "plan.room.steps[2][2]"),
        ("swing = \"7 K\"", "swing = \"7\"", "plan.sky.swing"),
        ("open = \"10 min\"", "open = \"10 h\"", "plan.actions[1].open"),
        ("take-out = \"40 %\"", "take-out = 4", "plan.actions[3].take-out"),
    ];
    for (old, new, _) in faults {
        text = with(&text, old, new);
    }
    tells_exactly(&text, &faults.map(|(_, _, key)| key));
}

/// A case reaches for logs in its own folder only, and says what it did not find.
#[test]
fn logs_lie_beside_the_case() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("logs-refused");
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join("wrong.csv"), "time [h], room [°C]\n0, 16\n1, warm\n").unwrap();
    for (name, kind, path, accepted) in [
        ("../wrong.csv", Data, "plan.room.log", "the name of a file in its folder"),
        ("/wrong.csv", Data, "plan.room.log", "the name of a file in its folder"),
        ("", Data, "plan.room.log", "the name of a file in its folder"),
        ("none.csv", Io, "plan.room.log", "a text file in its folder"),
        (".", Io, "plan.room.log", "a text file in its folder"),
        ("wrong.csv", Unit, "plan.room.log, wrong.csv, line 3", "98 °C"),
    ] {
        let text = with(BOX, "\"16 °C\"", &format!("{{ log = {name:?} }}"));
        let found = Case::read_in(&text, "test.toml", Catalogue::embedded(), &folder).unwrap_err();
        assert_eq!(found.len(), 1, "{name}: {found:#?}");
        assert_eq!(found[0].path(), format!("test.toml, line {}, {path}", line_of(&text, "room =")), "{name}");
        assert_eq!(found[0].kind(), kind, "{}", found[0]);
        assert!(found[0].accepted().is_some_and(|it| it.contains(accepted)), "{}", found[0]);
    }
}
