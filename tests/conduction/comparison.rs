//! A number of the crate beside one from outside.

/// How the number from outside is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// Seen in the named source.
    Read,
    /// Recalled.
    Memory,
    /// Not printed anywhere: by two independent computations, or from an exact solution.
    Computed,
}

impl Mark {
    pub fn name(self) -> &'static str {
        match self {
            Mark::Read => "READ",
            Mark::Memory => "MEMORY",
            Mark::Computed => "COMPUTED",
        }
    }
}

/// One row of the validation table.
#[derive(Debug, Clone)]
pub struct Comparison {
    /// The problem, in words.
    pub case: String,
    /// What is compared, with place, time and unit.
    pub quantity: String,
    pub source: String,
    pub mark: Mark,
    /// The number from outside.
    pub expected: f64,
    /// How exactly that number is known: half its last digit, or the spread of its computations.
    pub tolerance: f64,
    /// The number of the crate.
    pub computed: f64,
    /// Numerical error that the crate reports with it; none where it promises rounding alone.
    pub reported: Option<f64>,
}

impl Comparison {
    pub fn difference(&self) -> f64 {
        self.computed - self.expected
    }

    /// True difference over what is admitted.
    pub fn ratio(&self) -> f64 {
        self.difference().abs() / (self.tolerance + self.reported.unwrap_or(0.0))
    }
}

/// A problem under which several numbers are compared.
#[derive(Debug)]
pub struct Sheet {
    case: String,
    source: String,
    mark: Mark,
    pub rows: Vec<Comparison>,
}

impl Sheet {
    pub fn new(case: &str, source: &str, mark: Mark) -> Self {
        Sheet { case: case.to_owned(), source: source.to_owned(), mark, rows: Vec::new() }
    }

    /// Another source for the numbers to come.
    pub fn from(&mut self, source: &str, mark: Mark) {
        source.clone_into(&mut self.source);
        self.mark = mark;
    }

    /// `expected` within `tolerance` against `computed` with the error that came with it.
    pub fn row(
        &mut self,
        quantity: impl Into<String>,
        (expected, tolerance): (f64, f64),
        computed: f64,
        reported: Option<f64>,
    ) {
        self.rows.push(Comparison {
            case: self.case.clone(),
            quantity: quantity.into(),
            source: self.source.clone(),
            mark: self.mark,
            expected,
            tolerance,
            computed,
            reported,
        });
    }
}

/// Prints every row and fails on those outside what is admitted.
#[allow(dead_code, reason = "the validation table has its own check")]
pub fn assert_all(rows: &[Comparison]) {
    let mut failures = Vec::new();
    let mut worst = 0.0_f64;
    for row in rows {
        println!(
            "{:60} {:40} off {:9.2e} reported {:9.2e} known to {:8.1e}",
            row.case,
            row.quantity,
            row.difference(),
            row.reported.unwrap_or(0.0),
            row.tolerance
        );
        worst = worst.max(row.ratio());
        // Not the negation: a difference that is not a number must fail.
        let holds = row.ratio() <= 1.0;
        if !holds {
            failures.push(format!("{row:?}"));
        }
    }
    println!("{} rows, worst difference over what is admitted {worst:.2}", rows.len());
    assert!(!rows.is_empty() && failures.is_empty(), "{}", failures.join("\n"));
}
