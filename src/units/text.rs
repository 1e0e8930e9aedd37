//! Quantities as text: a strict reader and a writer whose text the reader gives back.

use super::expression;
use super::span;
use super::spoken::{Form, Rung, Spoken, what_has, with_article};
use crate::error::{Error, ErrorKind};

/// Reads a quantity from text such as "50 mm", "0.023 W/(m K)", "98 °C", "6 h".
///
/// The text is one number with a decimal point, then a unit; white space between them may be left out. A unit is built
/// of symbols by product (space, `·`, `*`, `×`), division (`/`, from left to right) and whole powers (`m2`, `m^2`, `m²`,
/// `m-1`, `m⁻¹`), with parentheses. A product after a division ("J/kg K") is refused as ambiguous. Symbols, in which
/// case matters:
///
/// | quantity | symbols |
/// |---|---|
/// | length | m, dm, cm, mm, µm (um), km, in, ft |
/// | volume | L (l), dL, cL, mL, and powers of a length |
/// | mass | kg, g, mg, t, lb, oz |
/// | time | s, min, h, d |
/// | temperature | °C (C, degC), °F (F, degF), K |
/// | energy | J, kJ, MJ, Wh, kWh |
/// | power | W, mW, kW |
/// | pressure | Pa, mPa, hPa, kPa, bar, mbar |
/// | ratio | %, or no unit at all |
/// | angle | ° (deg), rad |
///
/// A time may be told in parts, the longest first ("1 h 30 min"), and with its unit written out ("2 days").
///
/// A temperature is given in one of its three units alone; a temperature interval in K alone, because "33 °C" reads as a
/// temperature. Inside a larger unit, as in W/(m °C), °C is an interval of 1 K and °F one of 5/9 K.
///
/// ```
/// use stillhot::units::{self, HeatTransfer, Length, Si};
///
/// assert_eq!(units::parse::<Length>("2 in")?.si(), 0.0508);
/// assert_eq!(units::parse::<HeatTransfer>("8 W/(m² K)")?.si(), 8.0);
/// let error = units::parse::<Length>("50 MM").unwrap_err();
/// assert_eq!(error.problem(), "unknown unit `MM`, perhaps `mm`");
/// # Ok::<(), stillhot::Error>(())
/// ```
///
/// # Errors
/// [`ErrorKind::Unit`] with the text as value and an example as accepted, if the text is empty; has no number, more than
/// one, a decimal comma or one that is malformed or not finite; has no unit, an unknown one (the nearest known are
/// offered), a malformed one or one of another dimension (which is named); or is a temperature below absolute zero.
pub fn parse<Q: Spoken>(text: &str) -> Result<Q, Error> {
    read::<Q>(text.trim()).map(Q::from_si).map_err(|problem| {
        let accepted = match Q::FORM {
            Form::Bare => format!("{} with or without %, for example {}", with_article(Q::NAME), Q::EXAMPLE),
            Form::Span => {
                format!("{} with its unit, for example {}, or 1 h 30 min", with_article(Q::NAME), Q::EXAMPLE)
            }
            _ => format!("{} with its unit, for example {}", with_article(Q::NAME), Q::EXAMPLE),
        };
        Error::new(ErrorKind::Unit, problem).with_value(shown(text)).with_accepted(accepted)
    })
}

/// The text as an error shows it: in quotes, and not longer than a line.
fn shown(text: &str) -> String {
    const LONGEST: usize = 60;
    let mut start: String = text.chars().take(LONGEST).collect();
    if start.len() < text.len() {
        start.push('…');
    }
    format!("{start:?}")
}

/// The SI number that `text` stands for, or what is wrong with it.
fn read<Q: Spoken>(text: &str) -> Result<f64, String> {
    if text.is_empty() {
        return Err("the text is empty".to_owned());
    }
    if Q::FORM == Form::Span
        && let Some(seconds) = span::read(text)
    {
        return seconds.and_then(|si| if si.is_finite() { Ok(si) } else { Err("the number is too large".to_owned()) });
    }
    let (number, unit) = split_number(text)?;
    let si = if unit.is_empty() {
        if Q::FORM != Form::Bare {
            return Err("the number has no unit".to_owned());
        }
        number
    } else {
        with_unit::<Q>(number, unit)?
    };
    if !si.is_finite() {
        return Err("the number is too large".to_owned());
    }
    if Q::FORM == Form::Temperature {
        if si < 0.0 {
            return Err("the temperature is below absolute zero".to_owned());
        }
    } else if si == 0.0 && number != 0.0 {
        return Err("the number is too small to be told from zero".to_owned());
    }
    Ok(si)
}

/// The SI number of `number` of the unit written `unit`.
fn with_unit<Q: Spoken>(number: f64, unit: &str) -> Result<f64, String> {
    if Q::FORM == Form::Temperature && is_degrees_of_something(unit) {
        return Err("a temperature is given in °C, °F or K alone".to_owned());
    }
    let measure = expression::read(unit)?;
    if measure.dimension != Q::DIMENSION {
        return Err(format!("{} where {} is expected", what_has(measure.dimension), with_article(Q::NAME)));
    }
    let scale = match (Q::FORM, measure.lone) {
        (Form::Plain | Form::Bare | Form::Span, _) => measure.scale,
        (Form::Temperature, Some(lone)) => lone.scale,
        (Form::Temperature, None) => return Err("a temperature is given in °C, °F or K alone".to_owned()),
        (Form::Interval, Some(lone)) if !lone.scale.is_shifted() => lone.scale,
        (Form::Interval, _) => {
            return Err("a temperature interval is given in K, because \"33 °C\" reads as a temperature".to_owned());
        }
    };
    Ok(scale.to_si(number))
}

/// "degrees", "deg C", "° C": as an angle, or times a coulomb, they would be told to say what nobody means.
fn is_degrees_of_something(unit: &str) -> bool {
    let lower = unit.to_lowercase();
    let rest = ["degrees", "degree", "deg", "°", "º"].iter().find_map(|front| lower.strip_prefix(front));
    matches!(lower.as_str(), "degrees" | "degree") || rest.is_some_and(|rest| rest.starts_with(char::is_whitespace))
}

/// Splits the number from the front of `text` (trimmed, not empty); the rest comes trimmed.
fn split_number(text: &str) -> Result<(f64, &str), String> {
    let unsigned = text.strip_prefix(['+', '-', '−']).unwrap_or(text);
    let lower: String = unsigned.chars().take(3).flat_map(char::to_lowercase).collect();
    if lower == "nan" || lower == "inf" || unsigned.starts_with('∞') {
        return Err("the number is not finite".to_owned());
    }
    let digits_end = unsigned.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(unsigned.len());
    let (digits, mut rest) = unsigned.split_at(digits_end);
    if rest.strip_prefix(',').is_some_and(|after| after.starts_with(|c: char| c.is_ascii_digit())) {
        return Err(
            "the number has a comma: write the decimal sign as a point, and nothing between thousands".to_owned()
        );
    }
    if digits.is_empty() {
        return Err("there is no number".to_owned());
    }
    let mut number = digits.to_owned();
    // An `e` belongs to the number only with digits behind it; otherwise it starts the unit.
    if let Some(after) = rest.strip_prefix(['e', 'E']) {
        let unsigned_power = after.strip_prefix(['+', '-', '−']).unwrap_or(after);
        let power_end = unsigned_power.find(|c: char| !c.is_ascii_digit()).unwrap_or(unsigned_power.len());
        if power_end > 0 {
            let (power, behind) = unsigned_power.split_at(power_end);
            let negative = after.starts_with(['-', '−']);
            number = format!("{digits}e{}{power}", if negative { "-" } else { "" });
            rest = behind;
        }
    }
    let size: f64 = number.parse().map_err(|_| malformed())?;
    if !size.is_finite() {
        return Err("the number is too large".to_owned());
    }
    if size == 0.0 && digits.contains(|c: char| ('1'..='9').contains(&c)) {
        return Err("the number is too small to be told from zero".to_owned());
    }
    if rest.starts_with(['.', ',', '_', '\'', '’']) {
        return Err(malformed());
    }
    let rest = rest.trim_start();
    check_no_second_number(rest)?;
    Ok((if text.starts_with(['-', '−']) { -size } else { size }, rest))
}

fn malformed() -> String {
    "the number is malformed".to_owned()
}

/// Refuses "1 000 m", "5-6 mm" and "1/2 in" with words that help; `rest` is what follows the number.
fn check_no_second_number(rest: &str) -> Result<(), String> {
    let starts_with_digit = |text: &str| text.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    let over = rest.strip_prefix('/').or_else(|| {
        let behind = rest.trim_start_matches(|c: char| c.is_ascii_digit());
        if behind.len() < rest.len() { behind.trim_start().strip_prefix('/') } else { None }
    });
    if let Some(divisor) = over.map(str::trim_start) {
        if starts_with_digit(divisor) {
            return Err("the number is a fraction: write it with a decimal point".to_owned());
        }
        // A reciprocal unit, "0.0034 1/K".
        if rest.strip_prefix('1').is_some_and(|behind| behind.trim_start().starts_with('/')) {
            return Ok(());
        }
    }
    let unsigned = rest.strip_prefix(['+', '-', '−', '–', '±']).unwrap_or(rest).trim_start();
    if starts_with_digit(unsigned) {
        return Err("there is more than one number".to_owned());
    }
    Ok(())
}

/// Writes a quantity in the unit that people use for it, with as many digits as it takes and no more.
///
/// [`parse`] gives the quantity back to within 1e-15 of its value (for a temperature: of its value in kelvin).
///
/// ```
/// use stillhot::units::{hours, inches, write, celsius, watts_per_metre_kelvin};
///
/// assert_eq!(write(inches(2.0)), "50.8 mm");
/// assert_eq!(write(hours(6.5)), "6.5 h");
/// assert_eq!(write(celsius(98.0)), "98 °C");
/// assert_eq!(write(watts_per_metre_kelvin(0.023)), "0.023 W/(m K)");
/// ```
#[must_use]
pub fn write<Q: Spoken>(quantity: Q) -> String {
    let si = quantity.si();
    settle::<Q>(si, shortest)
}

/// Writes a quantity in the unit that people use for it, rounded to so many significant digits (0 counts as 1), without
/// zeros at the end.
///
/// ```
/// use stillhot::units::{minutes, celsius, write_rounded};
///
/// assert_eq!(write_rounded(minutes(347.3), 2), "5.8 h");
/// assert_eq!(write_rounded(minutes(119.8), 2), "2 h");
/// assert_eq!(write_rounded(celsius(64.96), 3), "65 °C");
/// ```
#[must_use]
pub fn write_rounded<Q: Spoken>(quantity: Q, significant_digits: usize) -> String {
    let si = quantity.si();
    settle::<Q>(si, |rung, si| rounded(rung.scale.of_si(si), significant_digits))
}

/// The same in the unit in which `like` is written, so that the numbers of a range can be compared: "270 kJ" like 990 kJ,
/// and 3.4 MJ like 990 kJ is "3400 kJ".
///
/// ```
/// use stillhot::units::{minutes, write_like};
///
/// assert_eq!(write_like(minutes(347.3), minutes(90.0), 2), "350 min");
/// ```
#[must_use]
pub fn write_like<Q: Spoken>(quantity: Q, like: Q, significant_digits: usize) -> String {
    let Some(rung) = rung_for::<Q>(like.si()) else { return plain(quantity.si()) };
    on_rung(rung, rounded(rung.scale.of_si(quantity.si()), significant_digits))
}

/// Writes the number that `number_in` gives for a rung, on the rung where that number itself belongs: rounding may lift a
/// quantity over a threshold (999.9 mm to 1 m).
fn settle<Q: Spoken>(si: f64, number_in: impl Fn(&Rung, f64) -> f64) -> String {
    let Some(first) = rung_for::<Q>(si) else { return plain(si) };
    let number = number_in(first, si);
    let settled = first.scale.to_si(number);
    let (rung, number) = match rung_for::<Q>(settled) {
        Some(second) if second != first => (second, number_in(second, settled)),
        _ => (first, number),
    };
    on_rung(rung, number)
}

fn on_rung(rung: &Rung, number: f64) -> String {
    if rung.unit.is_empty() { plain(number) } else { format!("{} {}", plain(number), rung.unit) }
}

/// The rung on which a quantity of this size is written; `None` never comes up, ladders start at zero.
fn rung_for<Q: Spoken>(si: f64) -> Option<&'static Rung> {
    // Kelvin below zero are written as they are, whatever their size.
    let size = if Q::FORM == Form::Temperature { si } else { si.abs() };
    Q::LADDER.iter().rev().find(|rung| size >= rung.from).or(Q::LADDER.first())
}

/// The number with the fewest digits that stands for `si` on this rung, to within a few units in the last place.
fn shortest(rung: &Rung, si: f64) -> f64 {
    let exact = rung.scale.of_si(si);
    (1..=17)
        .map(|digits| rounded(exact, digits))
        .find(|number| (rung.scale.to_si(*number) - si).abs() <= 4.0 * f64::EPSILON * si.abs())
        .unwrap_or(exact)
}

/// The number rounded to so many significant digits.
fn rounded(number: f64, digits: usize) -> f64 {
    // The standard library rounds decimally and exactly; scaling by powers of ten would not.
    format!("{number:.*e}", digits.saturating_sub(1).min(17)).parse().unwrap_or(number)
}

/// The number with the digits it takes, with an exponent where there would be a row of zeros.
fn plain(number: f64) -> String {
    let size = number.abs();
    if size == 0.0 {
        "0".to_owned()
    } else if (1e-4..1e9).contains(&size) || !size.is_finite() {
        format!("{number}")
    } else {
        format!("{number:e}")
    }
}

#[cfg(test)]
mod tests {
    use super::super::spoken::for_each_quantity;
    use super::super::*;
    use super::*;
    use proptest::prelude::*;

    fn si<Q: Spoken>(text: &str) -> f64 {
        parse::<Q>(text).unwrap_or_else(|error| panic!("{text}: {error}")).si()
    }

    fn problem<Q: Spoken>(text: &str) -> String {
        let error = match parse::<Q>(text) {
            Ok(quantity) => panic!("{text:?} was read as {}", quantity.si()),
            Err(error) => error,
        };
        assert_eq!(error.kind(), ErrorKind::Unit);
        assert!(error.value().is_some());
        assert!(error.accepted().is_some_and(|accepted| accepted.contains(Q::EXAMPLE)), "{error}");
        error.problem().to_owned()
    }

    #[test]
    fn what_people_write_is_read() {
        assert_eq!(si::<Length>("50 mm"), 0.05);
        assert_eq!(si::<Length>("50mm"), 0.05);
        assert_eq!(si::<Length>("50\u{202F}mm"), 0.05);
        assert_eq!(si::<Length>("  1e-2 m\n"), 0.01);
        assert_eq!(si::<Length>("12 in"), 0.3048);
        assert_eq!(si::<Length>("+.5 m"), 0.5);
        assert_eq!(si::<Length>("5. m"), 5.0);
        for text in ["0.023 W/(m K)", "0.023 W/m/K", "0.023 W/(m·K)", "0.023 W m-1 K-1", "0.023W/(m °C)"] {
            assert_eq!(si::<ThermalConductivity>(text), 0.023, "{text}");
        }
        assert_eq!(si::<LinearTransmittance>("0.05 W/(m K)"), 0.05);
        assert_eq!(si::<Temperature>("98 °C"), 371.15);
        assert_eq!(si::<Temperature>("98 C"), 371.15);
        assert_eq!(si::<Temperature>("98ºC"), 371.15);
        assert_eq!(si::<Temperature>("-5 °C"), 268.15);
        assert_eq!(si::<Temperature>("−5 °C"), 268.15);
        assert_eq!(si::<Temperature>("300 K"), 300.0);
        assert_eq!(si::<TemperatureInterval>("33 K"), 33.0);
        assert_eq!(si::<TemperatureInterval>("-33 K"), -33.0);
        assert_eq!(si::<Time>("6 h"), 21_600.0);
        assert_eq!(si::<Volume>("7 L"), 0.007);
        assert_eq!(si::<Volume>("7000 cm³"), 0.007);
        assert_eq!(si::<ThermalInsulance>("0.2 m2 K/W"), 0.2);
        assert_eq!(si::<ThermalInsulance>("0.2 m²K/W"), 0.2);
        assert_eq!(si::<SpecificHeatCapacity>("1470 J/(kg K)"), 1_470.0);
        assert_eq!(si::<MassDensity>("32 kg/m3"), 32.0);
        assert_eq!(si::<HeatTransfer>("8 W/(m² K)"), 8.0);
        assert_eq!(si::<TemperatureCoefficient>("0.0034 1/K"), 0.0034);
        assert_eq!(si::<TemperatureCoefficient>("0.0034 K-1"), 0.0034);
        assert_eq!(si::<Ratio>("0.9"), 0.9);
        assert_eq!(si::<Ratio>("90 %"), 0.9);
        assert_eq!(si::<Ratio>("5 mm/m"), 0.005);
        assert_eq!(si::<Angle>("180°"), std::f64::consts::PI);
    }

    // Exact by definition. Inch and pound: international yard and pound agreement of 1959 (MEMORY); litre, tonne, bar,
    // minute, hour, day, degree Celsius: SI brochure, 9th edition (MEMORY); the watt-hour follows from the hour.
    #[test]
    fn factors_are_the_defined_ones() {
        assert_eq!(si::<Length>("1 in"), 0.0254);
        assert_eq!(si::<Length>("1 ft"), 0.3048);
        assert_eq!(si::<Mass>("1 lb"), 0.453_592_37);
        assert_eq!(si::<Mass>("1 oz"), 0.028_349_523_125);
        assert_eq!(si::<Mass>("1 t"), 1_000.0);
        assert_eq!(si::<Volume>("1 L"), si::<Volume>("1 dm3"));
        assert_eq!(si::<Volume>("1 mL"), si::<Volume>("1 cm3"));
        assert_eq!(si::<Pressure>("1 bar"), 1e5);
        assert_eq!(si::<Pressure>("1 mbar"), si::<Pressure>("1 hPa"));
        assert_eq!(si::<Time>("1 d"), si::<Time>("1440 min"));
        assert_eq!(si::<Energy>("1 kWh"), si::<Energy>("3.6 MJ"));
        assert_eq!(si::<Temperature>("0 °C"), 273.15);
        // Ice and steam on the Fahrenheit scale, and where both scales meet.
        assert_eq!(si::<Temperature>("32 °F"), si::<Temperature>("0 °C"));
        assert_eq!(si::<Temperature>("212 °F"), si::<Temperature>("100 °C"));
        assert_eq!(si::<Temperature>("-40 °F"), si::<Temperature>("-40 °C"));
        assert_eq!(si::<Temperature>("-459.67 °F"), 0.0);
    }

    // uom has its own table of factors, written independently of ours.
    #[test]
    fn constructors_and_reader_agree_with_uom() {
        use uom::si;
        let close = |ours: f64, theirs: f64| assert!((ours / theirs - 1.0).abs() < 1e-14, "{ours} {theirs}");
        close(inches(7.3).si(), Length::new::<si::length::inch>(7.3).value);
        close(si::<Length>("7.3 ft"), Length::new::<si::length::foot>(7.3).value);
        // Its pound and ounce carry seven digits only; the defined ones are tested above.
        let near = |ours: f64, theirs: f64| assert!((ours / theirs - 1.0).abs() < 2e-7, "{ours} {theirs}");
        near(pounds(7.3).si(), Mass::new::<si::mass::pound>(7.3).value);
        near(ounces(7.3).si(), Mass::new::<si::mass::ounce>(7.3).value);
        close(litres(7.3).si(), Volume::new::<si::volume::liter>(7.3).value);
        close(millilitres(7.3).si(), Volume::new::<si::volume::milliliter>(7.3).value);
        close(days(7.3).si(), Time::new::<si::time::day>(7.3).value);
        close(celsius(7.3).si(), Temperature::new::<si::thermodynamic_temperature::degree_celsius>(7.3).value);
        close(fahrenheit(7.3).si(), Temperature::new::<si::thermodynamic_temperature::degree_fahrenheit>(7.3).value);
        close(degrees(7.3).si(), Angle::new::<si::angle::degree>(7.3).value);
        close(percent(7.3).si(), Ratio::new::<si::ratio::percent>(7.3).value);
        close(kilopascals(7.3).si(), Pressure::new::<si::pressure::kilopascal>(7.3).value);
        close(megajoules(7.3).si(), Energy::new::<si::energy::megajoule>(7.3).value);
        close(si::<Energy>("7.3 kWh"), Energy::new::<si::energy::kilowatt_hour>(7.3).value);
        close(si::<Pressure>("7.3 bar"), Pressure::new::<si::pressure::bar>(7.3).value);
        close(si::<MassRate>("7.3 g/h"), MassRate::new::<si::mass_rate::gram_per_hour>(7.3).value);
    }

    #[test]
    fn each_trouble_has_its_words() {
        assert_eq!(problem::<Length>(""), "the text is empty");
        assert_eq!(problem::<Length>(" \t"), "the text is empty");
        for text in ["mm", "-", "-mm", "e5 m", "50-ish", "±5 mm", "approx. 5 mm"] {
            let told = problem::<Length>(text);
            assert_eq!(told == "there is no number", text != "50-ish", "{text}: {told}");
        }
        for text in ["NaN", "nan m", "inf m", "-Infinity m", "∞ m"] {
            assert_eq!(problem::<Length>(text), "the number is not finite", "{text}");
        }
        for text in ["1e999 m", "-1e999 m", "1e306 km", "1e300 km9"] {
            let told = problem::<Length>(text);
            assert!(told == "the number is too large" || text.ends_with('9'), "{text}: {told}");
        }
        assert_eq!(problem::<Ratio>("1e300 km9/m9"), "the number is too large");
        for text in ["1e-400 m", "1e-323 mm"] {
            assert_eq!(problem::<Length>(text), "the number is too small to be told from zero", "{text}");
        }
        for text in ["1.2.3 m", "1..2 m", ". m", "1_000 m", "1'000 m", "5., mm"] {
            assert_eq!(problem::<Length>(text), "the number is malformed", "{text}");
        }
        for text in ["50,0 mm", "1,000 m", "1,000.5 m", ",5 m"] {
            assert!(problem::<Length>(text).contains("decimal sign as a point"), "{text}");
        }
        for text in ["1 000 m", "5-6 mm", "5 - 6 mm", "5 –6 mm", "5 ± 1 mm", "5 .5 mm", "1 2/3"] {
            let told = problem::<Length>(text);
            assert!(told == "there is more than one number" || text.contains('/'), "{text}: {told}");
        }
        for text in ["1/2 in", "1 1/2 in", "3 / 4 in"] {
            assert!(problem::<Length>(text).contains("fraction"), "{text}");
        }
        for text in ["50", "0", "-5"] {
            assert_eq!(problem::<Length>(text), "the number has no unit", "{text}");
        }
        assert_eq!(problem::<Length>("50 furlong"), "unknown unit `furlong`");
        assert_eq!(problem::<Volume>("7 litres"), "unknown unit `litres`, perhaps `L`");
        assert_eq!(problem::<Length>("50 MM"), "unknown unit `MM`, perhaps `mm`");
        assert_eq!(problem::<Time>("5 hrs"), "unknown unit `hrs`, perhaps `h`");
        assert_eq!(problem::<ThermalConductivity>("50 mm"), "a length where a thermal conductivity is expected");
        assert_eq!(problem::<Time>("30 m"), "a length where a time is expected");
        assert_eq!(problem::<Temperature>("98°"), "an angle where a temperature is expected");
        assert_eq!(problem::<Ratio>("5 °"), "an angle where a ratio is expected");
        assert_eq!(problem::<Angle>("5 %"), "a ratio where an angle is expected");
        assert_eq!(
            problem::<ThermalResistance>("2 m2 K/W"),
            "a thermal insulance where a thermal resistance is expected"
        );
        assert_eq!(problem::<Length>("2 m4"), "something in m4 where a length is expected");
        assert!(problem::<SpecificHeatCapacity>("1470 J/kg K").contains("two ways"));
    }

    #[test]
    fn a_temperature_and_an_interval_are_kept_apart() {
        for text in ["33 °C", "33 C", "33 °F", "33 degF", "33 (°C)", "33 °C m/m"] {
            assert!(problem::<TemperatureInterval>(text).contains("interval is given in K"), "{text}");
        }
        for text in
            ["98 (°C)", "98 °C1", "98 °C m/m", "98 K m/m", "98 ° C", "98 º C", "98 deg C", "98 degrees C", "98 degrees"]
        {
            assert!(problem::<Temperature>(text).contains("°C, °F or K alone"), "{text}");
        }
        for text in ["-1 K", "-273.16 °C", "-459.68 °F"] {
            assert_eq!(problem::<Temperature>(text), "the temperature is below absolute zero", "{text}");
        }
    }

    #[test]
    fn a_long_text_is_shown_short() {
        let error = parse::<Length>(&"é".repeat(10_000)).unwrap_err();
        assert!(error.value().unwrap().chars().count() < 70);
        assert_eq!(parse::<Length>("a\"\n").unwrap_err().value(), Some("\"a\\\"\\n\""));
    }

    #[test]
    fn written_in_the_unit_people_use() {
        assert_eq!(write(metres(0.05)), "50 mm");
        assert_eq!(write(metres(0.1 + 0.2)), "300 mm");
        assert_eq!(write(metres(1.25)), "1.25 m");
        assert_eq!(write(metres(1.0 - f64::EPSILON)), "1 m");
        assert_eq!(write(metres(-0.0)), "0 mm");
        assert_eq!(write(millimetres(1e-7)), "1e-7 mm");
        assert_eq!(write(kelvin(371.15)), "98 °C");
        assert_eq!(write(celsius(0.0)), "0 °C");
        assert_eq!(write(celsius(-40.0)), "-40 °C");
        assert_eq!(write(kelvin(0.0)), "0 K");
        assert_eq!(write(kelvin(-5.0)), "-5 K");
        assert_eq!(write(kelvins(-5.0)), "-5 K");
        assert_eq!(write(seconds(59.0)), "59 s");
        assert_eq!(write(minutes(90.0)), "90 min");
        assert_eq!(write(hours(30.0)), "30 h");
        assert_eq!(write(litres(7.0)), "7 L");
        assert_eq!(write(millilitres(250.0)), "250 mL");
        assert_eq!(write(percent(90.0)), "0.9");
        assert_eq!(write(degrees(45.0)), "45 °");
        assert_eq!(write(kilojoules(1500.0)), "1.5 MJ");
        assert_eq!(write(square_metre_kelvins_per_watt(0.2)), "0.2 m2 K/W");
        assert_eq!(write(watts_per_square_metre_kelvin(8.0)), "8 W/(m2 K)");
        assert_eq!(write(joules_per_kelvin(29_300.0)), "29.3 kJ/K");
        assert_eq!(write(metres(f64::NAN)), "NaN mm");
        assert_eq!(write(metres(f64::NEG_INFINITY)), "-inf m");
    }

    #[test]
    fn rounded_to_significant_digits() {
        assert_eq!(write_rounded(metres(0.9996), 3), "1 m");
        assert_eq!(write_rounded(metres(0.12345), 3), "123 mm");
        assert_eq!(write_rounded(metres(123_456.0), 2), "120000 m");
        assert_eq!(write_rounded(seconds(59.96), 3), "1 min");
        assert_eq!(write_rounded(hours(5.7777), 0), "6 h");
        assert_eq!(write_rounded(celsius(98.46), 3), "98.5 °C");
        assert_eq!(write_rounded(metres(0.0254), 40), "25.4 mm");
        assert_eq!(write_rounded(kilograms(f64::INFINITY), 2), "inf kg");
    }

    fn comes_back<Q: Spoken>(si: f64) {
        let si = if Q::FORM == Form::Temperature { si.abs() } else { si };
        let text = write(Q::from_si(si));
        let back = parse::<Q>(&text).unwrap_or_else(|error| panic!("{si:e} written {text}: {error}")).si();
        assert!((back - si).abs() <= 1e-15 * si.abs(), "{}: {si:e} written {text} read {back:e}", Q::NAME);
    }

    fn rounds_within_half_a_digit<Q: Spoken>(si: f64, digits: usize) {
        if Q::FORM == Form::Temperature {
            return; // Its digits count from 0 °C.
        }
        let text = write_rounded(Q::from_si(si), digits);
        let back = parse::<Q>(&text).unwrap_or_else(|error| panic!("{si:e} written {text}: {error}")).si();
        let half = 0.5 * 10_f64.powi(1 - i32::try_from(digits).unwrap());
        assert!((back - si).abs() <= half * (1.0 + 1e-9) * si.abs(), "{}: {si:e} written {text}", Q::NAME);
    }

    fn never_panics<Q: Spoken>(text: &str) {
        if let Ok(quantity) = parse::<Q>(text) {
            assert!(quantity.si().is_finite(), "{text}");
        }
    }

    fn example_is_read<Q: Spoken>() {
        let quantity = parse::<Q>(Q::EXAMPLE).unwrap();
        assert_eq!(write(quantity), Q::EXAMPLE);
    }

    #[test]
    fn every_example_is_read_and_written_back() {
        for_each_quantity!(example_is_read());
    }

    #[test]
    fn extremes_come_back() {
        for si in
            [0.0, f64::MIN_POSITIVE, 1e-300, 0.999, 1.0, 60.0, 273.15, 273.150_000_000_01, 7_200.0, f64::MAX / 2.0]
        {
            for_each_quantity!(comes_back(si));
            for_each_quantity!(comes_back(-si));
        }
    }

    proptest! {
        #[test]
        fn every_number_comes_back(si in proptest::num::f64::NORMAL) {
            for_each_quantity!(comes_back(si));
        }

        #[test]
        fn everyday_numbers_come_back(digits in -999_999_i32..=999_999, power in -9_i32..=9) {
            let si = f64::from(digits) * 10_f64.powi(power);
            for_each_quantity!(comes_back(si));
        }

        #[test]
        fn rounding_stays_near(si in -1e9..1e9_f64, digits in 1..12_usize) {
            for_each_quantity!(rounds_within_half_a_digit(si, digits));
        }

        #[test]
        fn any_text_is_read_or_refused(text in ".*") {
            for_each_quantity!(never_panics(&text));
        }

        #[test]
        fn any_likely_text_is_read_or_refused(
            text in "[-+−]?[0-9.,e]{0,4} ?([a-zA-Z°%µ1(]{1,2}[ ·*/^()]?[-⁻]?[0-9²³]?){0,6}[)]{0,3}"
        ) {
            for_each_quantity!(never_panics(&text));
        }

        #[test]
        fn nesting_is_read_or_refused(depth in 0..100_000_usize) {
            never_panics::<Length>(&format!("1 {}m", "(".repeat(depth)));
        }
    }
}
