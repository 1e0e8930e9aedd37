//! A quantity in time: constant, stepped, periodic or from a table.

use crate::error::{Error, ErrorKind};
use crate::network::Signal;
use crate::units::{Si, Spoken, Time, write};

/// A quantity as a function of time.
///
/// ```
/// use stillhot::{Course, units::{Temperature, celsius, hours}};
/// let room = Course::steps(&[(hours(0.0), celsius(16.0)), (hours(2.0), celsius(8.0))])?;
/// let bath: Course<Temperature> = celsius(95.0).into();
/// # Ok::<(), stillhot::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Course<Q> {
    signal: Signal,
    quantity: std::marker::PhantomData<Q>,
}

impl<Q: Spoken> From<Q> for Course<Q> {
    fn from(value: Q) -> Self {
        Self::made(Signal::Constant(value.si()))
    }
}

impl<Q: Spoken> Course<Q> {
    fn made(signal: Signal) -> Self {
        Course { signal, quantity: std::marker::PhantomData }
    }

    /// Holds each value from its time on; the first value also before.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] if the list is empty, a number is not finite, or times do not rise.
    pub fn steps(steps: &[(Time, Q)]) -> Result<Self, Error> {
        let points = plain(steps)?;
        if let Some(w) = points.windows(2).find(|w| w[1].0 <= w[0].0) {
            return Err(not_rising(w[1].0));
        }
        Ok(Self::made(Signal::Steps(points)))
    }

    /// Straight lines between the points, constant before the first and after the last. Two points at one time make
    /// a jump.
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] if the list is empty, a number is not finite, or times fall.
    pub fn table(points: &[(Time, Q)]) -> Result<Self, Error> {
        let points = plain(points)?;
        if let Some(w) = points.windows(2).find(|w| w[1].0 < w[0].0) {
            return Err(not_rising(w[1].0));
        }
        if let Some(w) = points.windows(3).find(|w| w[0].0 == w[2].0) {
            return Err(not_rising(w[2].0));
        }
        Ok(Self::made(Signal::Linear(points)))
    }

    /// Straight lines between the rows of a log: a heading with units in brackets (`time [min], room [°C]`), then rows
    /// of time and value separated by commas, semicolons (then decimal commas may stand) or tabs; clock times count
    /// from the first. `name` is the file's, for errors.
    ///
    /// # Errors
    /// [`ErrorKind::Data`] with the line for whatever is not such a log.
    pub fn from_log(text: &str, name: &str) -> Result<Self, Error> {
        Self::table(&crate::document::read_log(text, name)?)
    }

    /// A sine wave: `mean` plus `amplitude` (as SI difference of the quantity) times sin(2π (t - delay)/period).
    ///
    /// # Errors
    /// [`ErrorKind::OutOfRange`] if a number is not finite or the period not positive.
    pub fn sine(mean: Q, amplitude: f64, period: Time, delay: Time) -> Result<Self, Error> {
        let numbers = [mean.si(), amplitude, period.si(), delay.si()];
        if let Some(bad) = numbers.iter().find(|v| !v.is_finite()) {
            return Err(not_finite(*bad));
        }
        if period.si() <= 0.0 {
            return Err(Error::new(ErrorKind::OutOfRange, "out of range")
                .with_value(write(period))
                .with_accepted("more than 0 s")
                .within("period"));
        }
        Ok(Self::made(Signal::Sine { mean: mean.si(), amplitude, period: period.si(), delay: delay.si() }))
    }

    /// The value at `time`; at a jump the value after it.
    pub fn at(&self, time: Time) -> Q {
        Q::from_si(self.signal.at(time.si()))
    }

    /// The same course, everywhere higher by `by` in the SI unit.
    pub(crate) fn raised(&self, by: f64) -> Self {
        Self::made(self.signal.raised(by))
    }

    pub(crate) fn signal(&self) -> &Signal {
        &self.signal
    }

    /// Smallest and largest value ever taken.
    pub(crate) fn extremes(&self) -> (f64, f64) {
        match &self.signal {
            Signal::Constant(v) => (*v, *v),
            Signal::Steps(p) | Signal::Linear(p) => {
                p.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), (_, v)| (l.min(*v), h.max(*v)))
            }
            Signal::Sine { mean, amplitude, .. } => (mean - amplitude.abs(), mean + amplitude.abs()),
        }
    }
}

fn plain<Q: Spoken>(points: &[(Time, Q)]) -> Result<Vec<(f64, f64)>, Error> {
    if points.is_empty() {
        return Err(Error::new(ErrorKind::OutOfRange, "a course needs at least one point"));
    }
    let plain: Vec<(f64, f64)> = points.iter().map(|(t, q)| (t.si(), q.si())).collect();
    match plain.iter().find(|(t, v)| !t.is_finite() || !v.is_finite()) {
        Some((t, v)) => Err(not_finite(if t.is_finite() { *v } else { *t })),
        None => Ok(plain),
    }
}

fn not_finite(value: f64) -> Error {
    Error::new(ErrorKind::OutOfRange, "not a finite number").with_value(value.to_string()).within("course")
}

fn not_rising(time: f64) -> Error {
    Error::new(ErrorKind::OutOfRange, "times of a course must rise")
        .with_value(write(Time::from_si(time)))
        .within("course")
}
