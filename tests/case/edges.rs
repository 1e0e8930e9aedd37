//! Solved edges and what fills them, in a case.

use super::{BOX, SLEEVE, findings, with};
use stillhot::case::Case;
use stillhot::units::millimetres;
use stillhot::{EdgeRow, Edges, Fill, Filler, Shell};

const FILLERS: &str = r#"[box]
edges = "solved"
fillers = [
  { along = "upright", material = "softwood-across-grain", legs = ["30 mm", "20 mm"] },
  { along = "base", material = "expanded-cork-board", radius = "12 mm" },
]
"#;

#[test]
fn edges_and_fillers_arrive_where_the_library_has_them() {
    let read = |text: &str| Case::read(text, "test.toml").unwrap_or_else(|findings| panic!("{findings:#?}")).setup;
    let plain = read(BOX);
    let Shell::Box(boards) = plain.shell() else { panic!() };
    assert_eq!(boards.edge_form(), Edges::Factor);
    let wood = Filler::straight([millimetres(30.0), millimetres(20.0)], Fill::of("softwood-across-grain").unwrap());
    let cork = Filler::cove(millimetres(12.0), Fill::of("expanded-cork-board").unwrap());
    let filled =
        boards.clone().edges(Edges::Solved).with_filler(EdgeRow::Upright, wood).with_filler(EdgeRow::Base, cork);
    assert_eq!(read(&with(BOX, "[box]\n", FILLERS)).shell(), &Shell::Box(filled));
    let spelt = read(&with(BOX, "[box]\n", "[box]\nedges = \"factor\"\n"));
    assert_eq!(spelt.shell(), plain.shell());

    let plain = read(SLEEVE);
    let Shell::Sleeve(sleeve) = plain.shell() else { panic!() };
    let solved = read(&with(SLEEVE, "[sleeve]\n", "[sleeve]\nedges = \"solved\"\n"));
    assert_eq!(solved.shell(), &Shell::Sleeve(sleeve.clone().edges(Edges::Solved)));
}

#[test]
fn wrong_edges_and_fillers_are_told_by_place() {
    for (old, new, place, words) in [
        ("\"solved\"", "\"sloved\"", "edges", "solved"),
        ("along = \"upright\", ", "", "fillers[1].along", "upright"),
        ("\"upright\"", "\"downright\"", "fillers[1].along", "upright"),
        ("legs = [\"30 mm\", \"20 mm\"]", "", "fillers[1].legs", "radius"),
        ("legs = [\"30 mm\", \"20 mm\"]", "legs = [\"30 mm\"]", "fillers[1].legs", "pair"),
        ("legs = [\"30 mm\", \"20 mm\"]", "legs = [\"30 mm\", \"-20 mm\"]", "fillers[1].legs", "10 m"),
        ("radius", "legs = [\"10 mm\", \"10 mm\"], radius", "fillers[2]", "radius"),
        ("\"softwood-across-grain\"", "\"softwood-across-grein\"", "fillers[1].material", "softwood-across-grain"),
        ("\"base\"", "\"upright\"", "fillers[2]", "each"),
        // What the box as a whole says.
        ("edges = \"solved\"\n", "", "box", "solved"),
        ("\"12 mm\"", "\"90 mm\"", "box", "smaller fillers"),
    ] {
        let found = findings(&with(&with(BOX, "[box]\n", FILLERS), old, new));
        let told: Vec<String> = found.iter().map(|e| format!("{e} | {:?}", e.accepted())).collect();
        assert!(told.iter().any(|t| t.contains(place) && t.contains(words)), "{old} -> {new}: {told:#?}");
    }
}
