//! The validation table: every comparison run again and held against the committed table and page. With
//! `STILLHOT_WRITE_VALIDATION=1` in the environment both are written instead.

#[path = "../conduction/cases.rs"]
#[allow(dead_code, reason = "shared with the tests of conduction")]
mod cases;
#[path = "../conduction/comparison.rs"]
mod comparison;
#[path = "../conduction/manufactured.rs"]
#[allow(dead_code, reason = "shared with the tests of conduction")]
mod manufactured;
mod page;
#[path = "../conduction/periodic.rs"]
mod periodic;
#[path = "../conduction/plain.rs"]
#[allow(dead_code, reason = "shared with the tests of conduction")]
mod plain;
#[path = "../conduction/published.rs"]
mod published;
mod relations;
mod sections;

use page::Chapter;
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::LazyLock;
use stillhot::conduction::Accuracy;

const TABLE: &str = "tests/validation/validation.csv";
const PAGE: &str = "src/validation.md";

/// Run once for all tests.
static CHAPTERS: LazyLock<Vec<Chapter>> = LazyLock::new(chapters);

fn chapters() -> Vec<Chapter> {
    let accuracy = Accuracy::relative(1e-6);
    let chapter = |title: &str, rows| Chapter { title: title.to_owned(), rows };
    vec![
        chapter("Textbooks and benchmarks", published::rows(&accuracy)),
        chapter("Transient conduction in layered walls", cases::rows(&accuracy)),
        chapter("Manufactured solutions", manufactured::rows(&accuracy)),
        chapter("Periodic states", periodic::rows(&accuracy)),
        chapter("Sections", sections::rows()),
        chapter("Closed forms", relations::closed_forms()),
        chapter("Published relations", relations::relations()),
    ]
}

fn file(name: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

#[test]
fn the_committed_table_is_what_comes_out() {
    let now = CHAPTERS.as_slice();
    let rows = || now.iter().flat_map(|chapter| &chapter.rows);
    let unique: BTreeSet<(&str, &str)> = rows().map(|row| (row.case.as_str(), row.quantity.as_str())).collect();
    assert_eq!(unique.len(), rows().count(), "two rows of one name");
    if std::env::var_os("STILLHOT_WRITE_VALIDATION").is_some() {
        std::fs::write(file(TABLE), page::csv(now)).unwrap();
        // From what was written, as the check below reads it.
        let committed = page::parse(&std::fs::read_to_string(file(TABLE)).unwrap());
        std::fs::write(file(PAGE), page::markdown(&committed)).unwrap();
        return;
    }
    let committed = page::parse(&std::fs::read_to_string(file(TABLE)).unwrap());
    assert_eq!(
        page::markdown(&committed),
        std::fs::read_to_string(file(PAGE)).unwrap(),
        "{PAGE} does not follow from {TABLE}"
    );
    let name = |chapters: &[Chapter]| -> Vec<String> {
        let rows = chapters.iter().flat_map(|c| c.rows.iter().map(|r| (c.title.clone(), r)));
        rows.map(|(c, r)| format!("{c}, {}, {}, {}, {:?}", r.case, r.quantity, r.source, r.mark)).collect()
    };
    assert_eq!(name(&committed), name(now), "the rows of {TABLE} are not those that are run");
    let mut worst = 0.0_f64;
    for (old, row) in committed.iter().flat_map(|chapter| &chapter.rows).zip(rows()) {
        assert_eq!((old.expected, old.tolerance), (row.expected, row.tolerance), "{row:?}");
        assert_eq!(old.reported.is_some(), row.reported.is_some(), "{row:?}");
        // Two runs may differ by their errors, or in the last digits where nothing but rounding is promised.
        let admitted = old.reported.unwrap_or(0.0) + 1e-11 * row.computed.abs();
        let off = (old.computed - row.computed).abs();
        worst = worst.max(off / admitted);
        let holds = off <= admitted;
        assert!(holds, "aged: {old:?}\nnow {row:?}");
        // An error that has grown tenfold is not the same answer.
        if let (Some(before), Some(after)) = (old.reported, row.reported) {
            assert!(after <= 10.0 * before + 1e-10 * row.computed.abs(), "aged: {old:?}\nnow {row:?}");
        }
    }
    println!("{} rows, worst change since they were written {worst:.1e} of what is admitted", rows().count());
}

#[test]
fn no_row_is_outside() {
    let outside: Vec<&comparison::Comparison> = CHAPTERS
        .iter()
        .flat_map(|chapter| &chapter.rows)
        .filter(|row| row.ratio() > 1.0 || row.ratio().is_nan())
        .collect();
    for row in &outside {
        println!("outside by {:.2}: {}, {}", row.ratio(), row.case, row.quantity);
    }
    assert!(outside.is_empty(), "{outside:?}");
}

#[test]
fn a_table_that_is_written_is_read_back() {
    let row = comparison::Comparison {
        case: "case, with a comma".to_owned(),
        quantity: "x, m".to_owned(),
        source: "nobody".to_owned(),
        mark: comparison::Mark::Read,
        expected: -0.1,
        tolerance: 5e-5,
        computed: 1.0 / 3.0,
        reported: Some(2.5e-9),
    };
    let chapters = [Chapter { title: "one".to_owned(), rows: vec![row.clone(), row] }];
    let back = page::parse(&page::csv(&chapters));
    assert_eq!(format!("{back:?}"), format!("{chapters:?}"));
    assert!(page::markdown(&back).contains("2 comparisons, 2 outside"));
}
