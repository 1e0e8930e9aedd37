//! Walls under a daily or hourly sine: dynamic characteristics by transfer matrices and by marching until only the
//! sine is left.

use crate::comparison::{Comparison, Mark, Sheet};
use crate::plain::{film, flux_at, layer, problem, read, slab, temperature_at};
use std::f64::consts::{FRAC_PI_2, PI, TAU};
use stillhot::closed_form::{PeriodicSurface, PeriodicWall, Solid, WallLayer, WallShape};
use stillhot::conduction::{Accuracy, Estimate, Problem, Side};
use stillhot::units::{self, Si};
use stillhot::{Boundary, Course, Wall};

/// Thickness m, conductivity W/(m K), density kg/m³, heat capacity J/(kg K).
type Slice = (f64, f64, f64, f64);

struct Given {
    title: &'static str,
    period: f64,
    layers: &'static [Slice],
    /// Periods after which less than 1e-9 is left of the start.
    settled: u32,
    transmittance: f64,
    /// Amplitude W/(m² K), time shift h: of the flux inside for a swing outside, and of that inside for a swing there.
    through: (f64, f64),
    inside: (f64, f64),
}

/// Surface resistances, m² K/W.
const INNER: f64 = 0.13;
const OUTER: f64 = 0.04;

const WALLS: [Given; 3] = [
    Given {
        title: "Plastered concrete, insulated outside, 24 h",
        period: 86400.0,
        layers: &[
            (0.015, 0.7, 1400.0, 1000.0),
            (0.2, 1.8, 2400.0, 1000.0),
            (0.1, 0.04, 30.0, 1450.0),
            (0.01, 0.9, 1800.0, 1000.0),
        ],
        settled: 24,
        transmittance: 0.355410132009,
        through: (0.0519188548605, -8.55946070418),
        inside: (5.41647033111, 0.790464757631),
    },
    Given {
        title: "Bare concrete, 24 h",
        period: 86400.0,
        layers: &[(0.2, 1.8, 2400.0, 1000.0)],
        settled: 12,
        transmittance: 3.55731225296,
        through: (1.82707113317, -5.6756893156),
        inside: (5.70431337582, 0.948120129651),
    },
    Given {
        title: "Light panel, 1 h",
        period: 3600.0,
        layers: &[(0.0125, 0.21, 850.0, 1000.0), (0.1, 0.04, 30.0, 1450.0), (0.018, 0.13, 500.0, 1600.0)],
        settled: 16,
        transmittance: 0.348676816185,
        through: (0.0163777969966, -0.839139399037),
        inside: (6.14301443174, 0.053127787041),
    },
];

const SOURCE: &str = "ISO 13786:2017 (definitions MEMORY), transfer matrices and complex finite elements";
/// Amplitude of the swing, K.
const SWING: f64 = 10.0;

impl Given {
    /// The wall with a sine about 20 °C in the air on one side and 20 °C on the other.
    fn problem(&self, swinging: Side) -> Problem {
        let wall = self.layers.iter().fold(Wall::planar(), |wall, l| wall.layer(layer(l.0, l.1, l.2, l.3)));
        let sine =
            || Course::sine(units::celsius(20.0), SWING, units::seconds(self.period), units::seconds(0.0)).unwrap();
        let swings = |resistance: f64| Boundary::film(units::watts_per_square_metre_kelvin(1.0 / resistance), sine());
        let (inner, outer) = match swinging {
            Side::Inner => (swings(INNER), film(1.0 / OUTER, 20.0)),
            Side::Outer => (film(1.0 / INNER, 20.0), swings(OUTER)),
        };
        problem(wall.build().unwrap(), inner, outer, 20.0)
    }

    /// Amplitude of the flux through the inner face over that of the swing, W/(m² K), and the time by which it comes
    /// before the swing, h; with their errors. Heat counts into the room for a swing outside, out of it for one there.
    fn marched(&self, swinging: Side, accuracy: &Accuracy) -> [(f64, f64); 2] {
        let start = f64::from(self.settled) * self.period;
        // A sine is known from two values a quarter of a period apart.
        let times = [start, start + self.period / 4.0].map(units::seconds);
        let answer = self.problem(swinging).march(&times, accuracy).unwrap();
        let sign = if swinging == Side::Outer { -1.0 } else { 1.0 };
        let [s, c]: [Estimate<f64>; 2] = [0, 1].map(|k| read(&answer, flux_at(0.0), k));
        let amplitude = s.value.hypot(c.value);
        // What passes the wall comes after the swing, by less than a period here.
        let lead = (sign * s.value).atan2(sign * c.value);
        let phase = if swinging == Side::Outer && lead > 0.0 { lead - TAU } else { lead };
        let error = s.error.hypot(c.error);
        let hours = self.period / TAU / 3600.0;
        [(amplitude / SWING, error / SWING), (phase * hours, error / amplitude * hours)]
    }

    fn closed(&self) -> PeriodicWall {
        let layers =
            self.layers.iter().map(|l| WallLayer::new(l.0, Solid::new(l.1, l.2, l.3).unwrap()).unwrap()).collect();
        PeriodicWall::new(WallShape::Plane, layers, INNER, OUTER, self.period).unwrap()
    }

    fn rows(&self, accuracy: &Accuracy) -> Vec<Comparison> {
        let mut sheet = Sheet::new(self.title, SOURCE, Mark::Computed);
        let closed = self.closed();
        let decrement = self.through.0 / self.transmittance;
        let known = |value: f64| (value, 1e-9 * value.abs());
        sheet.row("decrement factor, transfer matrices", known(decrement), closed.decrement_factor().unwrap(), None);
        let through = closed.periodic_transmittance().unwrap();
        sheet.row("time shift, transfer matrices, h", known(self.through.1), through.time_shift / 3600.0, None);
        let inside = closed.inner_admittance().unwrap();
        sheet.row("inner admittance, transfer matrices, W/(m² K)", known(self.inside.0), inside.amplitude, None);
        let [amplitude, shift] = self.marched(Side::Outer, accuracy);
        sheet.row(
            "decrement factor, marched",
            known(decrement),
            amplitude.0 / self.transmittance,
            Some(amplitude.1 / self.transmittance),
        );
        sheet.row("time shift, marched, h", known(self.through.1), shift.0, Some(shift.1));
        let [amplitude, shift] = self.marched(Side::Inner, accuracy);
        sheet.row("inner admittance, marched, W/(m² K)", known(self.inside.0), amplitude.0, Some(amplitude.1));
        sheet.row("its time shift, marched, h", known(self.inside.1), shift.0, Some(shift.1));
        sheet.rows
    }
}

/// Soil under a yearly sine of 12 K.
fn ground(accuracy: &Accuracy) -> Vec<Comparison> {
    let source = "Carslaw and Jaeger 1959, periodic surface temperature (formula MEMORY); two independent computations";
    let mut sheet = Sheet::new("Ground under a yearly sine", source, Mark::Computed);
    let (conductivity, density, capacity): (f64, f64, f64) = (0.52, 2050.0, 1840.0);
    let (period, swing) = (31_536_000.0, 12.0);
    let reach = (conductivity / (density * capacity) * period / PI).sqrt();
    let surface = Course::sine(units::celsius(10.0), swing, units::seconds(period), units::seconds(0.0)).unwrap();
    // 10 m are 8.5 times the reach: the far end gives back 1e-6 of the swing at 3 m. The start is the sine itself.
    let start = move |x: units::Length| {
        let x = x.si() / reach;
        units::celsius(10.0 - swing * (-x).exp() * x.sin())
    };
    let answer =
        Problem::new(slab(10.0, conductivity, density, capacity), Boundary::temperature(surface), Boundary::Insulated)
            .unwrap()
            .starting_from(start)
            .march(&[units::seconds(period), units::seconds(1.25 * period)], accuracy)
            .unwrap();
    let closed = PeriodicSurface::new(Solid::new(conductivity, density, capacity).unwrap(), swing, period).unwrap();
    for (x, amplitude, lag) in [(1.0, 5.12860899023, 4266606.01879), (3.0, 0.936777122089, 12799818.0564)] {
        let [s, c] = [0, 1].map(|k| read(&answer, temperature_at(x), k));
        let (s, c, error) = (s.value - 10.0, c.value - 10.0, s.error.hypot(c.error));
        let marched = s.hypot(c);
        let seconds = -s.atan2(c) * period / TAU;
        let far = swing * (-(20.0 - x) / reach).exp();
        let known = |value: f64| 1e-9 * value;
        sheet.row(
            format!("amplitude at {x} m, closed form, K"),
            (amplitude, known(amplitude)),
            closed.amplitude(x).unwrap(),
            None,
        );
        sheet.row(format!("lag at {x} m, closed form, s"), (lag, known(lag)), closed.lag(x).unwrap(), None);
        sheet.row(format!("amplitude at {x} m, marched, K"), (amplitude, known(amplitude) + far), marched, Some(error));
        let to_time = period / TAU / amplitude;
        sheet.row(
            format!("lag at {x} m, marched, s"),
            (lag, known(lag) + far * to_time),
            seconds,
            Some(error * to_time),
        );
        assert!(s.atan2(c) < 0.0 && -s.atan2(c) < 2.0 * FRAC_PI_2, "the lag is less than half a period");
    }
    sheet.rows
}

pub fn rows(accuracy: &Accuracy) -> Vec<Comparison> {
    let mut rows: Vec<Comparison> = WALLS.iter().flat_map(|wall| wall.rows(accuracy)).collect();
    rows.extend(ground(accuracy));
    rows
}
