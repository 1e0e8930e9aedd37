//! One line of a curve: temperatures joined by straight pieces, and exact sums along them.

/// A straight piece between two moments (s) and their temperatures (K).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Piece {
    pub start: f64,
    pub end: f64,
    pub from: f64,
    pub to: f64,
}

impl Piece {
    pub(super) fn duration(&self) -> f64 {
        self.end - self.start
    }

    fn at(&self, time: f64) -> f64 {
        let share = (time - self.start) / self.duration();
        self.from + (self.to - self.from) * share
    }

    /// The moment at which the piece passes `level`; meaningful only if it does.
    fn passes(&self, level: f64) -> f64 {
        (self.start + self.duration() * (level - self.from) / (self.to - self.from)).clamp(self.start, self.end)
    }

    /// The part before `until`.
    fn until(self, until: f64) -> Option<Piece> {
        if self.end <= until {
            return Some(self);
        }
        (self.start < until).then(|| Piece { end: until, to: self.at(until), ..self })
    }

    /// The part after `from`.
    fn from(self, from: f64) -> Option<Piece> {
        if self.start >= from {
            return Some(self);
        }
        (self.end > from).then(|| Piece { start: from, from: self.at(from), ..self })
    }

    /// The pieces into which `levels` cut it.
    pub(super) fn cut(self, levels: &[f64]) -> Vec<Piece> {
        let mut cuts: Vec<f64> = levels
            .iter()
            .filter(|level| (**level > self.from) != (**level > self.to) && self.from != self.to)
            .map(|level| self.passes(*level))
            .collect();
        cuts.sort_by(f64::total_cmp);
        let mut pieces = Vec::with_capacity(cuts.len() + 1);
        let mut rest = self;
        for cut in cuts {
            let at = self.at(cut);
            if cut > rest.start && cut < rest.end {
                pieces.push(Piece { end: cut, to: at, ..rest });
                rest = Piece { start: cut, from: at, ..rest };
            }
        }
        pieces.push(rest);
        pieces
    }
}

/// Moments that do not fall (a jump has two points at one moment) and the temperature at each.
#[derive(Debug, Clone, Copy)]
pub(super) struct Track<'c> {
    pub times: &'c [f64],
    pub values: &'c [f64],
}

impl Track<'_> {
    /// The pieces of some length before `until`.
    pub(super) fn pieces(&self, until: f64) -> impl Iterator<Item = Piece> + '_ {
        self.times
            .windows(2)
            .zip(self.values.windows(2))
            .map(|(t, v)| Piece { start: t[0], end: t[1], from: v[0], to: v[1] })
            .filter(|piece| piece.duration() > 0.0)
            .filter_map(move |piece| piece.until(until))
    }

    /// When it first lies below `level`, from `since` on.
    pub(super) fn first_below(&self, level: f64, since: f64) -> Option<f64> {
        for piece in self.pieces(f64::INFINITY).filter(|piece| piece.end > since) {
            let start = piece.start.max(since);
            if piece.at(start) < level {
                return Some(start);
            }
            if piece.to < level {
                return Some(piece.passes(level).max(start));
            }
        }
        None
    }

    /// When it first lies above `level`, from `since` on.
    pub(super) fn first_above(&self, level: f64, since: f64) -> Option<f64> {
        for piece in self.pieces(f64::INFINITY).filter(|piece| piece.end > since) {
            let start = piece.start.max(since);
            if piece.at(start) > level {
                return Some(start);
            }
            if piece.to > level {
                return Some(piece.passes(level).max(start));
            }
        }
        None
    }

    /// The lowest value before `until`, and when.
    pub(super) fn lowest(&self, until: f64) -> (f64, f64) {
        let ends = self.pieces(until).flat_map(|piece| [(piece.start, piece.from), (piece.end, piece.to)]);
        ends.fold(self.first(), |least, next| if next.1 < least.1 { next } else { least })
    }

    /// The first time and value: what there is when nothing lies before `until`.
    fn first(&self) -> (f64, f64) {
        // A track has at least two points.
        (self.times[0], self.values[0])
    }

    /// The highest value before `until`.
    pub(super) fn highest(&self, until: f64) -> f64 {
        self.pieces(until).map(|piece| piece.from.max(piece.to)).fold(self.first().1, f64::max)
    }

    /// The value at a moment inside; after the jump where there is one.
    pub(super) fn at(&self, time: f64) -> f64 {
        let after = self.times.partition_point(|at| *at <= time).clamp(1, self.times.len() - 1);
        // A track has at least two points.
        let (a, b) = (after - 1, after);
        let width = self.times[b] - self.times[a];
        let share = if width > 0.0 { (time - self.times[a]) / width } else { 1.0 };
        self.values[a] + share * (self.values[b] - self.values[a])
    }

    /// When it has been at or above `level` for `held` in one go before `until`; for zero, when it first reaches it.
    pub(super) fn held_above(&self, level: f64, held: f64, until: f64) -> Option<f64> {
        self.held_above_from(f64::NEG_INFINITY, level, held, until)
    }

    /// The same, counted from `from` on.
    pub(super) fn held_above_from(&self, from: f64, level: f64, held: f64, until: f64) -> Option<f64> {
        let mut since: Option<f64> = None;
        for piece in self.pieces(until).filter_map(|piece| piece.from(from)).flat_map(|piece| piece.cut(&[level])) {
            if f64::midpoint(piece.from, piece.to) < level {
                // A piece that climbs to the level touches it at its end.
                if held <= 0.0 && piece.to >= level {
                    return Some(piece.end);
                }
                since = None;
                continue;
            }
            let start = *since.get_or_insert(piece.start);
            if piece.end - start >= held {
                return Some(start + held);
            }
        }
        None
    }

    /// How long it lies below `level` before `until`.
    pub(super) fn time_below(&self, level: f64, until: f64) -> f64 {
        self.below(level, until).map(|piece| piece.duration()).sum()
    }

    /// When it has been below `level` for `allowance` in all.
    pub(super) fn spent_below(&self, level: f64, allowance: f64) -> Option<f64> {
        let mut left = allowance;
        for piece in self.below(level, f64::INFINITY) {
            if piece.duration() >= left {
                return Some(piece.start + left);
            }
            left -= piece.duration();
        }
        None
    }

    fn below(&self, level: f64, until: f64) -> impl Iterator<Item = Piece> + '_ {
        self.pieces(until)
            .flat_map(move |piece| piece.cut(&[level]))
            .filter(move |piece| f64::midpoint(piece.from, piece.to) < level)
    }

    /// The integral of `rate` of the temperature up to `until`: Gauss-Legendre of five points on stretches of at most
    /// `span` kelvin, cut at `levels`, where the rate has corners.
    pub(super) fn integral(&self, until: f64, span: f64, levels: &[f64], rate: impl Fn(f64) -> f64) -> f64 {
        self.pieces(until)
            .flat_map(|piece| piece.cut(levels))
            .map(|piece| {
                let count = ((piece.to - piece.from).abs() / span).ceil().clamp(1.0, 1e4);
                let share = piece.duration() / count;
                let step = (piece.to - piece.from) / count;
                let one = |k: f64| {
                    let middle = piece.from + (k + 0.5) * step;
                    let sum: f64 = GAUSS.iter().map(|(x, w)| w * rate(middle + 0.5 * x * step)).sum();
                    0.5 * share * sum
                };
                (0..count as usize).map(|k| one(k as f64)).sum::<f64>()
            })
            .sum()
    }
}

/// Nodes and weights of the five-point Gauss-Legendre rule on -1 to 1 (Abramowitz and Stegun, table 25.4; MEMORY).
const GAUSS: [(f64, f64); 5] = [
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

#[cfg(test)]
mod tests {
    use super::*;

    const FALL: Track<'static> =
        Track { times: &[0.0, 10.0, 10.0, 20.0, 30.0], values: &[100.0, 80.0, 60.0, 80.0, 40.0] };

    #[test]
    fn crossings_dips_and_sums_by_hand() {
        assert_eq!(FALL.first_below(90.0, 0.0), Some(5.0));
        assert_eq!(FALL.first_below(70.0, 0.0), Some(10.0), "the jump");
        assert_eq!(FALL.first_below(70.0, 12.0), Some(12.0));
        let warmed = Track { times: &[-10.0, 0.0, 0.0, 10.0], values: &[20.0, 20.0, 98.0, 88.0] };
        assert_eq!(warmed.first_below(60.0, 0.0), None, "what lies before the jump at the start is over");
        assert_eq!([FALL.at(10.0), FALL.at(25.0)], [60.0, 60.0], "after the jump");
        assert_eq!(FALL.first_below(70.0, 16.0), Some(22.5));
        assert_eq!(FALL.first_below(30.0, 0.0), None);
        assert_eq!(FALL.lowest(25.0), (10.0, 60.0));
        // Below 70: 10 to 15 and 22.5 to 30.
        assert_eq!(FALL.time_below(70.0, 30.0), 12.5);
        assert_eq!(FALL.time_below(70.0, 25.0), 7.5);
        assert_eq!(FALL.spent_below(70.0, 6.0), Some(23.5));
        assert_eq!(FALL.spent_below(70.0, 13.0), None);
        assert_eq!(FALL.highest(30.0), 100.0);
        assert_eq!((FALL.highest(0.0), FALL.lowest(0.0)), (100.0, (0.0, 100.0)), "served at once");
        assert_eq!(FALL.held_above(90.0, 3.0, 30.0), Some(3.0));
        assert_eq!(FALL.held_above(90.0, 6.0, 30.0), None, "five in one go");
        assert_eq!(FALL.held_above(70.0, 0.0, 30.0), Some(0.0));
        assert_eq!(FALL.held_above(70.0, 7.5, 30.0), Some(7.5));
        assert_eq!(FALL.held_above(70.0, 10.5, 30.0), None, "the dip breaks it");
        assert_eq!(FALL.held_above_from(10.0, 70.0, 5.0, 30.0), Some(20.0), "from 15 on");
        assert_eq!(FALL.held_above_from(16.0, 70.0, 5.0, 30.0), Some(21.0));
    }

    #[test]
    fn the_rule_is_exact_for_polynomials_of_degree_nine() {
        let line = Track { times: &[0.0, 1.0], values: &[0.0, 1.0] };
        for power in 0..=9 {
            let got = line.integral(1.0, 2.0, &[], |x| x.powi(power));
            assert!((got - 1.0 / f64::from(power + 1)).abs() < 1e-15, "{power}: {got}");
        }
        let got = line.integral(1.0, 2.0, &[], |x| x.powi(10));
        assert!((got - 1.0 / 11.0).abs() > 1e-9, "degree ten is beyond it");
    }
}
