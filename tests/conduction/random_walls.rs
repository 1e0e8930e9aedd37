//! A hundred seeded random walls: is the reported error honest, and not absurdly large?
//! The true value is the closed form of the layered wall (numerical inversion of its Laplace transform, accurate to
//! 1e-11 of the scale; it shares no code with network and march).

use stillhot::closed_form::{self, LayeredWall, Solid, WallLayer, WallShape};
use stillhot::conduction::{Accuracy, Form, Problem, Side};
use stillhot::units::{self, Si};
use stillhot::{Boundary, Contact, Layer, Material, Wall};

/// A small seeded generator (SplitMix64, Steele et al. 2014, from memory): the walls are the same everywhere.
pub struct Seeded(u64);

impl Seeded {
    pub fn new(seed: u64) -> Self {
        Seeded(seed)
    }
    pub fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }
    pub fn log(&mut self, low: f64, high: f64) -> f64 {
        low * (high / low).powf(self.unit())
    }
}

pub struct RandomWall {
    pub problem: Problem,
    pub exact: LayeredWall,
    pub times: [f64; 6],
    pub swing: f64,
    pub inner: f64,
    pub description: String,
}

/// One to eight layers, conductivity over five decades (0.01 to 1000 W/(m K)), contacts, films on both sides, in all
/// three shapes.
pub fn random_wall(seed: u64) -> RandomWall {
    let mut r = Seeded::new(seed);
    let count = 1 + (8.0 * r.unit()) as usize;
    let shape = (3.0 * r.unit()) as usize;
    let radius = r.log(0.02, 0.5);
    let start = 20.0;
    let (inside, outside) = (95.0, 5.0);
    let (film_in, film_out) = (r.log(2.0, 500.0), r.log(2.0, 100.0));
    let mut builder = match shape {
        0 => Wall::planar(),
        1 => Wall::cylindrical(units::metres(radius)),
        _ => Wall::spherical(units::metres(radius)),
    };
    let mut exact = Vec::new();
    let mut resistance = 1.0 / film_in + 1.0 / film_out;
    let mut capacity = 0.0;
    let mut description = format!("{shape} r {radius:.3} h {film_in:.1} {film_out:.1}");
    for i in 0..count {
        let (k, rho, c) = (r.log(0.01, 1000.0), r.log(10.0, 8000.0), r.log(400.0, 4000.0));
        let thickness = r.log(0.001, 0.1);
        if i > 0 && r.unit() < 0.4 {
            let contact = r.log(1e-4, 0.1);
            builder = builder.contact(Contact::Resistance(units::square_metre_kelvins_per_watt(contact)));
            let last: WallLayer = exact.pop().unwrap();
            exact.push(last.with_outer_contact(contact).unwrap());
            resistance += contact;
            description += &format!(" | {contact:.1e} |");
        }
        let material = Material::custom(
            &format!("m-{i}"),
            units::watts_per_metre_kelvin(k),
            units::kilograms_per_cubic_metre(rho),
            units::joules_per_kilogram_kelvin(c),
        )
        .unwrap();
        builder = builder.layer(Layer::new(material, units::metres(thickness)).unwrap());
        exact.push(WallLayer::new(thickness, Solid::new(k, rho, c).unwrap()).unwrap());
        resistance += thickness / k;
        capacity += thickness * rho * c;
        description += &format!(" [{thickness:.1e} {k:.1e} {:.1e}]", rho * c);
    }
    let closed_shape = match shape {
        0 => WallShape::Plane,
        1 => WallShape::Cylinder { inner_radius: radius },
        _ => WallShape::Sphere { inner_radius: radius },
    };
    let exact = LayeredWall::new(
        closed_shape,
        exact,
        start,
        closed_form::End::Film { coefficient: film_in, temperature: inside },
        closed_form::End::Film { coefficient: film_out, temperature: outside },
    )
    .unwrap();
    let problem = Problem::new(
        builder.build().unwrap(),
        Boundary::film(units::watts_per_square_metre_kelvin(film_in), units::celsius(inside)),
        Boundary::film(units::watts_per_square_metre_kelvin(film_out), units::celsius(outside)),
    )
    .unwrap()
    .starting_at(units::celsius(start))
    .unwrap();
    // Six times from a thousandth of the time constant to three of them.
    let constant = resistance * capacity;
    let times = [0.001, 0.01, 0.05, 0.2, 1.0, 3.0].map(|f| f * constant);
    RandomWall {
        problem,
        exact,
        times,
        swing: inside - outside,
        inner: if shape == 0 { 0.0 } else { radius },
        description,
    }
}

#[test]
fn reported_error_covers_the_true_one_on_random_walls() {
    let mut covered = 0;
    let mut worst = 0.0_f64;
    let mut over = Vec::new();
    for seed in 1..=100 {
        let wall = random_wall(seed);
        let times = wall.times.map(units::seconds);
        let transient = wall.problem.march(&times, &Accuracy::default()).unwrap();
        assert!(transient.ledger_residual() < 1e-9, "{}", wall.description);
        let mut all = true;
        for (k, t) in wall.times.iter().enumerate() {
            let answer = transient.face_temperature(0, Side::Inner, k).unwrap();
            let exact = wall.exact.temperature(wall.inner, *t).unwrap();
            let off = (answer.value.si() - 273.15 - exact).abs();
            let noise = 1e-10 * wall.swing;
            let ratio = (off - noise).max(0.0) / answer.error.si();
            if ratio > 1.0 {
                println!(
                    "seed {seed} time {k}: off {off:.2e} reported {:.2e} = {:.2e} + {:.2e} order {:?}\n  {}",
                    answer.error.si(),
                    answer.mesh_error.si(),
                    answer.time_error.si(),
                    answer.order,
                    wall.description
                );
                all = false;
            }
            worst = worst.max(ratio);
            over.push(answer.error.si() / off.max(noise));
        }
        covered += usize::from(all);
    }
    over.sort_by(f64::total_cmp);
    let median = over[over.len() / 2];
    println!("covers {covered} of 100 walls, worst true/reported {worst:.2}, median reported/true {median:.1}");
    assert!(covered >= 97);
    assert!(median < 20.0, "{median}");
}

#[test]
fn reduced_walls_answer_at_their_faces_like_full_ones() {
    let tolerance = 1e-4;
    let (mut worst, mut most) = (0.0_f64, 0);
    let mut failures = Vec::new();
    for seed in 1..=100 {
        let wall = random_wall(seed);
        let cells = vec![8; wall.problem.wall().layers().len()];
        let times = wall.times.map(units::seconds);
        let accuracy = Accuracy::default();
        let full = wall.problem.ports(&times, &cells, Form::Full, &accuracy).unwrap();
        let reduced = wall.problem.ports(&times, &cells, Form::Reduced(tolerance), &accuracy).unwrap();
        assert!(reduced.ledger_residual < 1e-9, "seed {seed}: {:e}", reduced.ledger_residual);
        assert!(full.ledger_residual < 1e-9);
        let scale = full.heat.iter().fold(0.0_f64, |a, b| a.max(b.abs()));
        let off = (&full.heat - &reduced.heat).iter().fold(0.0_f64, |a, b| a.max(b.abs())) / scale;
        worst = worst.max(off);
        most = most.max(reduced.states);
        if off > tolerance || reduced.reduction_error > tolerance || reduced.states > 16 {
            failures.push(format!("seed {seed}: off {off:e}, {} states of {}", reduced.states, full.states));
        }
    }
    println!("reduced walls: worst port heat off by {worst:.1e} of the largest, at most {most} states for two ports");
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}
