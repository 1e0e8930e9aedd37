//! The names nearest to one that is not known: for the error message, never for a guess.

/// At most this many names are offered.
const OFFERED: usize = 5;

/// Up to five of `known` that resemble `given`, the nearest first; empty if none does.
///
/// A name resembles by spelling (few letters to change) or by sharing words with the identifier or with the
/// description that goes with it. `known` gives pairs of identifier and description (which may be empty).
pub(crate) fn nearest<'a>(given: &str, known: impl Iterator<Item = (&'a str, &'a str)>) -> Vec<&'a str> {
    let given = given.to_lowercase();
    let wanted = words(&given);
    let mut scored: Vec<(f64, &str)> = known
        .filter_map(|(id, description)| {
            let letters = given.chars().count().max(id.chars().count()).max(1);
            let spelling = 1.0 - edits(&given, id) as f64 / letters as f64;
            let mut described = words(&description.to_lowercase());
            described.extend(words(id));
            let shared: f64 = wanted.iter().map(|word| likeness(word, &described)).sum();
            let overlap = shared / wanted.len().max(1) as f64;
            let score = spelling.max(0.5 * (spelling + overlap)).max(0.9 * overlap);
            (spelling >= 0.6 || overlap >= 0.5).then_some((score, id))
        })
        .collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.len().cmp(&b.1.len())).then(a.1.cmp(b.1)));
    scored.into_iter().take(OFFERED).map(|(_, id)| id).collect()
}

/// The words of a name, without the filling ones.
fn words(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|word| word.len() > 1 && !["and", "or", "with", "of", "the", "about", "one"].contains(word))
        .map(str::to_owned)
        .collect()
}

/// 1 for a word that is there, a little less for one that is nearly there or begins one, else 0.
fn likeness(word: &str, among: &[String]) -> f64 {
    let like = |other: &String| {
        if word == other {
            1.0
        } else if word.len() >= 4 && other.starts_with(word) {
            0.8
        } else {
            let letters = word.chars().count().max(other.chars().count());
            let spelling = 1.0 - edits(word, other) as f64 / letters as f64;
            if spelling >= 0.75 { spelling * 0.9 } else { 0.0 }
        }
    };
    among.iter().map(like).fold(0.0, f64::max)
}

/// Letters to insert, drop, change or swap with the next one to get from `one` to `other`
/// (optimal string alignment distance).
fn edits(one: &str, other: &str) -> usize {
    let one: Vec<char> = one.chars().collect();
    let other: Vec<char> = other.chars().collect();
    let mut before: Vec<usize> = vec![0; other.len() + 1];
    let mut above: Vec<usize> = (0..=other.len()).collect();
    for i in 1..=one.len() {
        let mut row = vec![i];
        for j in 1..=other.len() {
            let change = above[j - 1] + usize::from(one[i - 1] != other[j - 1]);
            let mut least = change.min(above[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && one[i - 1] == other[j - 2] && one[i - 2] == other[j - 1] {
                least = least.min(before[j - 2] + 1);
            }
            row.push(least);
        }
        before = std::mem::replace(&mut above, row);
    }
    above[other.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    const KNOWN: [(&str, &str); 5] = [
        ("expanded-cork-board", "Expanded (black) cork board"),
        ("expanded-polystyrene-20", "Expanded polystyrene (bead) board, 20 kg/m3"),
        ("stone-wool-dense", "Stone-wool pipe section or slab"),
        ("sheep-wool-batt", "Sheep-wool batt"),
        ("titanium", "Titanium, commercially pure"),
    ];

    #[test]
    fn counts_edits() {
        assert_eq!(edits("kitten", "sitting"), 3);
        assert_eq!(edits("cork", "cokr"), 1);
        assert_eq!(edits("", "abc"), 3);
        assert_eq!(edits("wool", "wool"), 0);
    }

    #[test]
    fn a_slip_of_the_finger_finds_its_name_first() {
        assert_eq!(nearest("titanum", KNOWN.into_iter()), ["titanium"]);
        assert_eq!(nearest("expanded-corck-bord", KNOWN.into_iter())[0], "expanded-cork-board");
    }

    #[test]
    fn words_find_names() {
        let found = nearest("cork", KNOWN.into_iter());
        assert_eq!(found[0], "expanded-cork-board");
        let wool = nearest("wool", KNOWN.into_iter());
        assert!(wool.contains(&"stone-wool-dense") && wool.contains(&"sheep-wool-batt"));
        assert_eq!(nearest("bead board", KNOWN.into_iter())[0], "expanded-polystyrene-20");
    }

    #[test]
    fn nothing_like_it_is_nothing() {
        assert!(nearest("xyzzy", KNOWN.into_iter()).is_empty());
        assert!(nearest("", KNOWN.into_iter()).is_empty());
    }
}
