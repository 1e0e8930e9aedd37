//! A number prescribed in time: constant, stepped, periodic or from a table.

/// Value against time in seconds. Right-continuous at jumps.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Signal {
    /// The same for ever.
    Constant(f64),
    /// (from, value) in rising order of time; the first value also holds before its time.
    Steps(Vec<(f64, f64)>),
    /// mean + amplitude sin(2 pi (t - delay)/period)
    Sine {
        /// Mean value.
        mean: f64,
        /// Amplitude.
        amplitude: f64,
        /// Period, s.
        period: f64,
        /// Time of the first upward crossing of the mean, s.
        delay: f64,
    },
    /// Straight lines through (time, value) in rising order of time, constant outside. Two points at the same time
    /// make a jump.
    Linear(Vec<(f64, f64)>),
}

/// A table of more points than this is a log.
const FEW: usize = 100;

impl Signal {
    /// Value at time `t`; at a jump the value after it.
    pub(crate) fn at(&self, t: f64) -> f64 {
        match self {
            Signal::Constant(v) => *v,
            Signal::Steps(s) => {
                let i = s.partition_point(|(from, _)| *from <= t);
                s.get(i.saturating_sub(1)).map_or(0.0, |p| p.1)
            }
            Signal::Sine { mean, amplitude, period, delay } => {
                mean + amplitude * (std::f64::consts::TAU * (t - delay) / period).sin()
            }
            Signal::Linear(p) => {
                let i = p.partition_point(|(time, _)| *time <= t);
                match (i.checked_sub(1).and_then(|j| p.get(j)), p.get(i)) {
                    (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (t - a.0) / (b.0 - a.0),
                    (Some(a), None) => a.1,
                    (None, Some(b)) => b.1,
                    (None, None) => 0.0,
                }
            }
        }
    }

    /// Value just before time `t`: differs from [`Signal::at`] only at a jump.
    pub(crate) fn before(&self, t: f64) -> f64 {
        match self {
            Signal::Steps(s) => {
                let i = s.partition_point(|(from, _)| *from < t);
                s.get(i.saturating_sub(1)).map_or(0.0, |p| p.1)
            }
            Signal::Linear(p) => {
                let i = p.partition_point(|(time, _)| *time < t);
                match (i.checked_sub(1).and_then(|j| p.get(j)), p.get(i)) {
                    (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (t - a.0) / (b.0 - a.0),
                    (Some(a), None) => a.1,
                    (None, Some(b)) => b.1,
                    (None, None) => 0.0,
                }
            }
            _ => self.at(t),
        }
    }

    /// Slope at time `t`, per second; after the jump or the corner where there is one.
    pub(crate) fn slope(&self, t: f64) -> f64 {
        match self {
            Signal::Constant(_) | Signal::Steps(_) => 0.0,
            Signal::Sine { amplitude, period, delay, .. } => {
                let omega = std::f64::consts::TAU / period;
                amplitude * omega * (omega * (t - delay)).cos()
            }
            Signal::Linear(p) => {
                let i = p.partition_point(|(time, _)| *time <= t);
                match (i.checked_sub(1).and_then(|j| p.get(j)), p.get(i)) {
                    (Some(a), Some(b)) => (b.1 - a.1) / (b.0 - a.0),
                    _ => 0.0,
                }
            }
        }
    }

    /// Times strictly inside (from, to) where the value jumps: a march must land there.
    pub(crate) fn jumps(&self, from: f64, to: f64) -> Vec<f64> {
        let inside = |t: &f64| *t > from && *t < to;
        match self {
            Signal::Constant(_) | Signal::Sine { .. } => Vec::new(),
            Signal::Steps(s) => s.iter().skip(1).map(|p| p.0).filter(inside).collect(),
            Signal::Linear(p) => p.windows(2).filter(|w| w[0].0 == w[1].0).map(|w| w[0].0).filter(inside).collect(),
        }
    }

    /// Times strictly inside (from, to) where the value jumps or, if it goes through few points, turns: for a law that reads
    /// it once a step, a step must not reach over them. A long log turns all the time and is read where the steps fall.
    pub(crate) fn turns(&self, from: f64, to: f64) -> Vec<f64> {
        let Signal::Linear(p) = self else { return self.jumps(from, to) };
        if p.len() > FEW {
            return self.jumps(from, to);
        }
        let slope = |i: usize| (p[i + 1].1 - p[i].1) / (p[i + 1].0 - p[i].0);
        let last = p.len().saturating_sub(1);
        (0..p.len())
            .filter(|i| {
                let before = if *i == 0 { 0.0 } else { slope(*i - 1) };
                let after = if *i == last { 0.0 } else { slope(*i) };
                before != after
            })
            .map(|i| p[i].0)
            .filter(|t| *t > from && *t < to)
            .collect()
    }

    /// Exact mean over (from, to) where straight-line pieces meet inside, else none: smooth stretches are integrated well
    /// enough by the march itself.
    pub(crate) fn mean_over_corners(&self, from: f64, to: f64) -> Option<f64> {
        let Signal::Linear(p) = self else { return None };
        let first = p.partition_point(|(t, _)| *t <= from);
        let end = p.partition_point(|(t, _)| *t < to);
        if first >= end || p.len() < 2 {
            return None;
        }
        let mut sum = 0.0;
        let (mut t, mut v) = (from, self.at(from));
        for (time, value) in &p[first..end] {
            sum += (time - t) * f64::midpoint(v, *value);
            (t, v) = (*time, *value);
        }
        sum += (to - t) * f64::midpoint(v, self.before(to));
        Some(sum / (to - from))
    }

    /// True if the value never changes.
    pub(crate) fn is_constant(&self) -> bool {
        match self {
            Signal::Constant(_) => true,
            Signal::Steps(p) | Signal::Linear(p) => p.windows(2).all(|w| w[0].1 == w[1].1),
            Signal::Sine { amplitude, .. } => *amplitude == 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mean_over_corners_is_the_area_of_the_pieces() {
        let l = Signal::Linear(vec![(0.0, 0.0), (10.0, 10.0), (20.0, 0.0)]);
        // 5 to 15: two trapezia between 5 and 10, each 37.5.
        assert_eq!(l.mean_over_corners(5.0, 15.0), Some(7.5));
        assert_eq!(l.mean_over_corners(1.0, 9.0), None);
        assert_eq!(Signal::Constant(3.0).mean_over_corners(0.0, 1.0), None);
    }

    #[test]
    fn values_before_at_and_after_a_jump() {
        let s = Signal::Steps(vec![(0.0, 1.0), (10.0, 2.0)]);
        assert_eq!((s.at(-5.0), s.at(9.9), s.before(10.0), s.at(10.0), s.at(99.0)), (1.0, 1.0, 1.0, 2.0, 2.0));
        assert_eq!(s.jumps(0.0, 20.0), vec![10.0]);
        let l = Signal::Linear(vec![(0.0, 0.0), (10.0, 10.0), (10.0, 4.0), (20.0, 4.0)]);
        assert_eq!((l.at(5.0), l.before(10.0), l.at(10.0), l.at(30.0)), (5.0, 10.0, 4.0, 4.0));
        assert_eq!(l.jumps(0.0, 20.0), vec![10.0]);
        assert_eq!(l.turns(-5.0, 15.0), vec![0.0, 10.0, 10.0]);
        let level = Signal::Linear(vec![(0.0, 3.0), (10.0, 3.0), (20.0, 3.0), (30.0, 5.0)]);
        assert_eq!(level.turns(-5.0, 40.0), vec![20.0, 30.0]);
        assert_eq!(s.turns(0.0, 20.0), s.jumps(0.0, 20.0));
    }
}
