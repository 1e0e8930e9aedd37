//! Ranges of what goes in to a distribution of what comes out.

use stillhot::study::{Distribution, Quantile, Question, Sampling, Spread, spread};
use stillhot::units::{Si, celsius, hours, kelvin};
use stillhot::{ErrorKind, Input, InputScale, Moment, Setup, UncertainInput};

use crate::random::Random;
use crate::setups::{foam_box, many, plan, quick};

fn few(points: usize) -> Sampling {
    let mut sampling = Sampling::default();
    sampling.points = points;
    sampling
}

fn number(quantile: Quantile) -> f64 {
    match quantile {
        Quantile::Held { moment: Moment::At(time), .. } => time.si(),
        Quantile::Held { .. } => f64::INFINITY,
        Quantile::Temperature { temperature, .. } => temperature.si(),
        other => panic!("{other:?}"),
    }
}

/// Error of the computation, s or K.
fn numerical(answer: &Spread) -> f64 {
    match answer.span()[1] {
        Quantile::Held { numerical, .. } => numerical.si(),
        Quantile::Temperature { numerical, .. } => numerical.si(),
        other => panic!("{other:?}"),
    }
}

/// Where every input moves the pot one way no mixture leaves the span of the ends, but for what a coarse march is off.
#[test]
fn every_quantile_lies_within_the_span() {
    let questions = [Question::Above(celsius(63.0)), Question::At(hours(2.0)), Question::ColdestAt(hours(2.0))];
    for (name, setup, plan) in many() {
        let mut sampling = few(4);
        sampling.indices = false;
        for answer in spread(&setup, &plan, &questions, &quick(24.0), &sampling).unwrap() {
            let [low, best, high] = answer.span().map(number);
            let (least, most) = (answer.quantile(0.0).unwrap(), answer.quantile(1.0).unwrap());
            let error = numerical(&answer);
            println!("{name}: {:?} {low} {best} {high}, sample {least} to {most}, error {error}", answer.question());
            // The ends of the coldest spot of a still dish are other mixtures than those of its mean.
            assert!(number(least) >= low - error && number(most) <= high + error, "{name}");
            assert!(error < 0.1 * (high - low), "{name}: {error}");
            assert!(number(most) - number(least) > 0.2 * (high - low), "{name}");
            let mut before = f64::NEG_INFINITY;
            for share in [0.0, 0.1, 0.5, 0.9, 1.0] {
                let here = number(answer.quantile(share).unwrap());
                assert!(here >= before, "{name}");
                before = here;
            }
        }
    }
}

/// A position drawn from the triangle over the range, on its scale: written anew from the definition.
fn draw(known: &UncertainInput, cools: bool, random: &mut Random) -> f64 {
    let [low, best, high] = known.range.si().map(|v| if known.scale == InputScale::Logarithmic { v.ln() } else { v });
    // The sum of two even numbers has a triangle for its density; folded, it is the one that rises from 0 to 1.
    let rising = random.next().max(random.next());
    let value = if random.next() * (high - low) < best - low {
        low + rising * (best - low)
    } else {
        high - rising * (high - best)
    };
    let share =
        if value < best { 0.5 * (value - low) / (best - low) } else { 0.5 + 0.5 * (value - best) / (high - best) };
    let share = share.clamp(0.0, 1.0);
    if cools { 1.0 - share } else { share }
}

/// Against 120 full forecasts of members drawn with other random numbers, by mean and quantiles.
#[test]
fn a_spread_agrees_with_brute_force_of_a_real_setup() {
    let (setup, plan, options, time) = (foam_box(), plan(), quick(5.0), hours(5.0));
    let known = setup.uncertain(&plan).unwrap();
    let holds = [Input::PotMass, Input::PotHeatCapacity, Input::DishHeatCapacity, Input::BaseContact];
    let mut random = Random::new(11);
    let mut brute: Vec<f64> = (0..120)
        .map(|_| {
            let place = |k: &UncertainInput, r: &mut Random| (k.input, draw(k, !holds.contains(&k.input), r));
            let pins: Vec<(Input, f64)> = known.iter().map(|k| place(k, &mut random)).collect();
            let member = setup.pinned(&pins).unwrap();
            member.forecast_with(&plan, &options).unwrap().at(time).unwrap().temperature.best().si()
        })
        .collect();
    brute.sort_by(f64::total_cmp);
    let count = brute.len() as f64;
    let mean = brute.iter().sum::<f64>() / count;
    let deviation = (brute.iter().map(|t| (t - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt();
    let mut sampling = few(32);
    sampling.indices = false;
    let answer = &spread(&setup, &plan, &[Question::At(time)], &options, &sampling).unwrap()[0];
    let ours = answer.sensitivity();
    println!("mean {mean} and {:?}, deviation {deviation} and {}", ours.mean(), ours.deviation());
    println!("numerical {} K", numerical(answer));
    let allowed = 2.0 * deviation / count.sqrt() + ours.mean().error + numerical(answer);
    assert!((ours.mean().value - mean).abs() < allowed);
    // A standard deviation from a sample errs by 1/sqrt(2 N).
    assert!((ours.deviation() / deviation - 1.0).abs() < 2.5 / (2.0 * count).sqrt());
    for share in [0.1, 0.5, 0.9] {
        let here = brute[(share * (count - 1.0)).round() as usize];
        // Of a normal density at the quantile, 1.3 to 1.8 standard errors of a mean.
        let allowed = 3.6 * deviation / count.sqrt() + numerical(answer);
        let quantile = number(answer.quantile(share).unwrap());
        assert!((quantile - here).abs() < allowed, "{share}: {quantile} against {here}");
    }
}

/// Pinning the input that matters most narrows the spread by about its share; pinning the least leaves it.
#[test]
fn what_matters_most_narrows_the_spread_when_it_is_known() {
    let (setup, plan, options) = (foam_box(), plan(), quick(4.0));
    let ask = |setup: &Setup, sampling: &Sampling| -> Spread {
        spread(setup, &plan, &[Question::At(hours(4.0))], &options, sampling).unwrap().remove(0)
    };
    let whole = ask(&setup, &few(16));
    let influences = whole.influences();
    for influence in &influences {
        let (first, total) = (influence.first_order, influence.total);
        println!(
            "{:6.3} ± {:.3}  {:6.3} ± {:.3}  {}",
            first.value, first.error, total.value, total.error, influence.input
        );
    }
    assert_eq!(influences.len(), setup.uncertain(&plan).unwrap().len());
    assert!(influences.windows(2).all(|pair| pair[0].total.value >= pair[1].total.value));
    let (most, least) = (&influences[0], influences.last().unwrap());
    let mut plain = few(16);
    plain.indices = false;
    let variance =
        |input: Input| ask(&setup.pinned(&[(input, 0.5)]).unwrap(), &plain).sensitivity().deviation().powi(2);
    let before = whole.sensitivity().deviation().powi(2);
    // At its best value, not averaged over its values: near 1 - first order, not exactly.
    let left = variance(most.input.input) / before;
    assert!((left - (1.0 - most.first_order.value)).abs() < most.first_order.error + 0.2, "{left} {most:?}");
    assert!((variance(least.input.input) / before - 1.0).abs() < 0.15);
    // The sum of first orders is at most the whole, nearly so where inputs hardly act together; each is at most its total.
    let sum: f64 = influences.iter().map(|i| i.first_order.value).sum();
    let error = influences.iter().map(|i| i.first_order.error.powi(2)).sum::<f64>().sqrt();
    assert!(sum > 0.6 && sum < 1.0 + error, "{sum} ± {error}");
    for influence in &influences {
        let (first, total) = (influence.first_order, influence.total);
        // Of sixteen pairs some are off by more than one standard error.
        assert!(first.value - 2.0 * first.error < total.value + 2.0 * total.error, "{influence:?}");
    }
}

#[test]
fn the_same_bits_for_any_number_of_threads() {
    let ask = |threads: usize, seed: u64| {
        let mut sampling = few(4);
        (sampling.threads, sampling.seed, sampling.indices) = (threads, seed, false);
        let answers = spread(&foam_box(), &plan(), &[Question::Above(celsius(63.0))], &quick(12.0), &sampling).unwrap();
        answers[0].sensitivity().clone()
    };
    assert_eq!(ask(1, 1), ask(3, 1));
    assert_ne!(ask(1, 1), ask(1, 2));
}

/// Members that hold beyond the horizon are told as such, and do not move what lies below.
#[test]
fn what_lies_past_the_horizon_is_told() {
    let mut sampling = few(8);
    sampling.indices = false;
    let ask = |horizon: f64| {
        spread(&foam_box(), &plan(), &[Question::Above(celsius(63.0))], &quick(horizon), &sampling).unwrap().remove(0)
    };
    let (long, short) = (ask(48.0), ask(10.5));
    assert_eq!(long.past_horizon(), 0.0);
    assert!(short.past_horizon() > 0.2 && short.past_horizon() < 0.98, "{}", short.past_horizon());
    assert!(matches!(short.quantile(1.0).unwrap(), Quantile::Held { moment: Moment::PastHorizon(_), .. }));
    let (a, b) = (number(long.quantile(0.0).unwrap()), number(short.quantile(0.0).unwrap()));
    assert!((a - b).abs() < 60.0, "{a} {b}");
}

#[test]
fn even_ranges_spread_wider_than_triangular_ones() {
    let deviation = |distribution: Distribution| {
        let mut sampling = few(8);
        (sampling.distribution, sampling.indices) = (distribution, false);
        let answers = spread(&foam_box(), &plan(), &[Question::At(hours(4.0))], &quick(4.0), &sampling).unwrap();
        answers[0].sensitivity().deviation()
    };
    // Symmetrical: 1/sqrt 6 of the half width against 1/sqrt 3.
    let ratio = deviation(Distribution::Uniform) / deviation(Distribution::Triangular);
    assert!(ratio > 1.2 && ratio < 1.7, "{ratio}");
}

#[test]
fn questions_that_make_no_sense_are_refused() {
    let ask =
        |questions: &[Question]| spread(&foam_box(), &plan(), questions, &quick(4.0), &few(4)).unwrap_err().kind();
    assert_eq!(ask(&[]), ErrorKind::Inconsistent);
    assert_eq!(ask(&[Question::At(hours(5.0))]), ErrorKind::OutOfRange);
    assert_eq!(ask(&[Question::At(hours(f64::NAN))]), ErrorKind::OutOfRange);
    assert_eq!(ask(&[Question::Above(kelvin(f64::NAN))]), ErrorKind::OutOfRange);
    let mut huge = few(65_536);
    huge.most = 100_000;
    let error = spread(&foam_box(), &plan(), &[Question::At(hours(1.0))], &quick(4.0), &huge).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::WorkBound);
    let known = foam_box();
    let pins: Vec<(Input, f64)> = known.uncertain(&plan()).unwrap().iter().map(|k| (k.input, 0.5)).collect();
    let exact = known.pinned(&pins).unwrap();
    let error = spread(&exact, &plan(), &[Question::At(hours(1.0))], &quick(4.0), &few(4)).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Inconsistent);
}

/// From 64 marches, ranks tell the inputs that matter as the total effects of 2304 do; each moves the pot its way.
#[test]
fn ranks_from_few_marches_agree_with_total_effects() {
    let (setup, plan, options) = (foam_box(), plan(), quick(4.0));
    let ask =
        |sampling: &Sampling| spread(&setup, &plan, &[Question::At(hours(4.0))], &options, sampling).unwrap().remove(0);
    let mut quick = few(4);
    quick.indices = false;
    let (ranked, whole) = (ask(&quick).correlations(), ask(&few(16)).influences());
    assert!(ranked.len() == whole.len() && ask(&quick).influences().is_empty());
    for (a, b) in ranked.iter().zip(&whole).take(6) {
        println!("{:.2} ± {:.2} {}; {:.3} {}", a.rank.value, a.rank.error, a.input.name, b.total.value, b.input.name);
    }
    let place = |input: Input| ranked.iter().position(|c| c.input.input == input).unwrap();
    for (at, influence) in whole.iter().enumerate().take(3) {
        assert!(influence.total.value > 0.05 && place(influence.input.input) <= at + 1, "{}", influence.input.name);
        let correlation = &ranked[place(influence.input.input)];
        assert!(correlation.rank.value > 0.0 && correlation.partial.unwrap().value > 0.3, "{}", influence.input.name);
    }
}
