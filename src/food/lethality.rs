//! Sums of heat along a curve: lethality and cooking value.

use super::curve::{Curve, End};
use super::kinetics::RateLaw;
use crate::error::{Error, all_within};
use crate::setup::Range;
use crate::units::bounds::in_range;
use crate::units::{Si, Temperature, TemperatureInterval, Time, celsius, kelvins};

/// Stretch over which the rule of five points is exact to 1e-9 of a rate for every accepted law, K.
const SPAN: f64 = 1.0;

/// The lethality P of a curve up to `until`: the time at `reference` that kills as much,
/// `P = integral of 10^((T - reference)/z) dt`.
///
/// `z` 3 to 60 K, `reference` 0 to 200 °C. Low is the cautious end, high the generous one.
///
/// ```
/// use stillhot::food::{Curve, lethality};
/// use stillhot::units::{Si, celsius, kelvins, minutes};
///
/// let line = [(minutes(0.0), celsius(75.0)), (minutes(60.0), celsius(55.0))];
/// let p = lethality(&Curve::without_range(&line)?, minutes(60.0), celsius(70.0), kelvins(7.5))?;
/// // (60/20) (7.5/ln 10) (10^(5/7.5) - 10^(-15/7.5)) minutes, COMPUTED
/// assert!((p.best().si() / 60.0 - 45.2582).abs() < 5e-5);
/// # Ok::<(), stillhot::Error>(())
/// ```
///
/// # Errors
/// [`crate::ErrorKind::OutOfRange`] for a z or reference outside its range, or a time outside the curve.
pub fn lethality(
    curve: &Curve,
    until: Time,
    reference: Temperature,
    z: TemperatureInterval,
) -> Result<Range<Time>, Error> {
    let (reference, until) = all_within("lethality", || {
        let reference = in_range("reference", reference, celsius(0.0), celsius(200.0))?;
        in_range("z", z, kelvins(3.0), kelvins(60.0))?;
        Ok((reference, inside(curve, until)?))
    })?;
    let rate = |t: f64| RateLaw::DecimalRise(z).relative(t, reference);
    let [low, best, high] = sums(curve, until, &[], [&rate, &rate, &rate]);
    Ok(Range::of_members(low, best, high))
}

/// `until` (s) if it lies inside the curve.
pub(super) fn inside(curve: &Curve, until: Time) -> Result<f64, Error> {
    in_range("until", until, Time::from_si(curve.start()), curve.until())
}

/// Integral of three rates on the three lines of a curve, cut at `levels` (K).
pub(super) fn sums(
    curve: &Curve,
    until: f64,
    levels: &[f64],
    [cautious, best, generous]: [&dyn Fn(f64) -> f64; 3],
) -> [f64; 3] {
    [
        curve.track(End::Cautious).integral(until, SPAN, levels, cautious),
        curve.track(End::Best).integral(until, SPAN, levels, best),
        curve.track(End::Generous).integral(until, SPAN, levels, generous),
    ]
}
