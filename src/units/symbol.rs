//! The unit symbols that are read, and what to offer for one that is not.

use super::dimension::Dimension;
use super::scale::{CELSIUS, DEGREE, FAHRENHEIT, FOOT, INCH, ONE, OUNCE, POUND, Scale};

/// One symbol with its size and dimension.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Unit {
    pub(super) symbol: &'static str,
    pub(super) scale: Scale,
    pub(super) dimension: Dimension,
}

const fn unit(symbol: &'static str, scale: Scale, dimension: Dimension) -> Unit {
    Unit { symbol, scale, dimension }
}

const LENGTH: Dimension = Dimension::new(1, 0, 0, 0);
const VOLUME: Dimension = Dimension::new(3, 0, 0, 0);
const MASS: Dimension = Dimension::new(0, 1, 0, 0);
const TIME: Dimension = Dimension::new(0, 0, 1, 0);
const TEMPERATURE: Dimension = Dimension::new(0, 0, 0, 1);
const ENERGY: Dimension = Dimension::new(2, 1, -2, 0);
const POWER: Dimension = Dimension::new(2, 1, -3, 0);
const PRESSURE: Dimension = Dimension::new(-1, 1, -2, 0);

/// Every symbol, one row each: no prefix is put before a symbol that is not here with it. SI units and the
/// non-SI units of table 8 of the SI brochure, 9th edition (MEMORY), and the inch, foot, pound and ounce.
const UNITS: &[Unit] = &[
    unit("m", ONE, LENGTH),
    unit("mm", Scale::part(1e3), LENGTH),
    unit("cm", Scale::part(1e2), LENGTH),
    unit("dm", Scale::part(1e1), LENGTH),
    unit("µm", Scale::part(1e6), LENGTH),
    unit("um", Scale::part(1e6), LENGTH),
    unit("km", Scale::times(1e3), LENGTH),
    unit("in", INCH, LENGTH),
    unit("ft", FOOT, LENGTH),
    unit("L", Scale::part(1e3), VOLUME),
    unit("l", Scale::part(1e3), VOLUME),
    unit("dL", Scale::part(1e4), VOLUME),
    unit("dl", Scale::part(1e4), VOLUME),
    unit("cL", Scale::part(1e5), VOLUME),
    unit("cl", Scale::part(1e5), VOLUME),
    unit("mL", Scale::part(1e6), VOLUME),
    unit("ml", Scale::part(1e6), VOLUME),
    unit("kg", ONE, MASS),
    unit("g", Scale::part(1e3), MASS),
    unit("mg", Scale::part(1e6), MASS),
    unit("t", Scale::times(1e3), MASS),
    unit("lb", POUND, MASS),
    unit("oz", OUNCE, MASS),
    unit("s", ONE, TIME),
    unit("min", Scale::times(60.0), TIME),
    unit("h", Scale::times(3_600.0), TIME),
    unit("d", Scale::times(86_400.0), TIME),
    unit("K", ONE, TEMPERATURE),
    unit("°C", CELSIUS, TEMPERATURE),
    unit("C", CELSIUS, TEMPERATURE),
    unit("degC", CELSIUS, TEMPERATURE),
    unit("℃", CELSIUS, TEMPERATURE),
    unit("°F", FAHRENHEIT, TEMPERATURE),
    unit("F", FAHRENHEIT, TEMPERATURE),
    unit("degF", FAHRENHEIT, TEMPERATURE),
    unit("℉", FAHRENHEIT, TEMPERATURE),
    unit("J", ONE, ENERGY),
    unit("kJ", Scale::times(1e3), ENERGY),
    unit("MJ", Scale::times(1e6), ENERGY),
    unit("Wh", Scale::times(3.6e3), ENERGY),
    unit("kWh", Scale::times(3.6e6), ENERGY),
    unit("W", ONE, POWER),
    unit("mW", Scale::part(1e3), POWER),
    unit("kW", Scale::times(1e3), POWER),
    unit("Pa", ONE, PRESSURE),
    unit("mPa", Scale::part(1e3), PRESSURE),
    unit("hPa", Scale::times(1e2), PRESSURE),
    unit("kPa", Scale::times(1e3), PRESSURE),
    unit("bar", Scale::times(1e5), PRESSURE),
    unit("mbar", Scale::times(1e2), PRESSURE),
    unit("%", Scale::part(1e2), Dimension::NONE),
    unit("°", DEGREE, Dimension::ANGLE),
    unit("deg", DEGREE, Dimension::ANGLE),
    unit("rad", ONE, Dimension::ANGLE),
];

/// Words and habits that are not symbols, with the symbol to offer. They are refused, not read: "m" for minutes
/// and "lbs" beside "lb" would otherwise lead to a second vocabulary. Only times are read written out ("2 days").
const WORDS: &[(&str, &str)] = &[
    ("metre", "m"),
    ("meter", "m"),
    ("millimetre", "mm"),
    ("millimeter", "mm"),
    ("centimetre", "cm"),
    ("centimeter", "cm"),
    ("inch", "in"),
    ("inche", "in"),
    ("foot", "ft"),
    ("feet", "ft"),
    ("litre", "L"),
    ("liter", "L"),
    ("millilitre", "mL"),
    ("milliliter", "mL"),
    ("cc", "cm3"),
    ("gram", "g"),
    ("gramme", "g"),
    ("kilogram", "kg"),
    ("kilo", "kg"),
    ("pound", "lb"),
    ("lb", "lb"),
    ("ounce", "oz"),
    ("second", "s"),
    ("sec", "s"),
    ("minute", "min"),
    ("min", "min"),
    ("hour", "h"),
    ("hr", "h"),
    ("day", "d"),
    ("celsius", "°C"),
    ("fahrenheit", "°F"),
    ("kelvin", "K"),
    ("watt", "W"),
    ("joule", "J"),
    ("pascal", "Pa"),
    ("percent", "%"),
    ("degree", "deg"),
    ("°k", "K"),
];

/// The symbol with look-alike characters made one: micro sign, Kelvin sign, ordinal for degree.
fn with_one_spelling(symbol: &str) -> String {
    symbol
        .chars()
        .map(|c| match c {
            'μ' => 'µ',
            '\u{212A}' => 'K',
            'º' => '°',
            other => other,
        })
        .collect()
}

/// The unit that `symbol` stands for, if there is one. Case matters.
pub(super) fn find(symbol: &str) -> Option<&'static Unit> {
    let symbol = with_one_spelling(symbol);
    UNITS.iter().find(|unit| unit.symbol == symbol)
}

/// Up to three spellings that may have been meant by the unknown `symbol`, the likeliest first.
pub(super) fn offers_for(symbol: &str) -> Vec<String> {
    // Long runs of letters are no misspelt unit, and comparing them would cost time.
    if symbol.chars().count() > 16 {
        return Vec::new();
    }
    let symbol = with_one_spelling(symbol);
    let lower = symbol.to_lowercase();
    let other_case: Vec<String> =
        UNITS.iter().filter(|unit| unit.symbol.to_lowercase() == lower).map(|unit| unit.symbol.to_owned()).collect();
    if !other_case.is_empty() {
        return other_case.into_iter().take(3).collect();
    }
    let singular = lower.strip_suffix('s').unwrap_or(&lower);
    if let Some((_, meant)) = WORDS.iter().find(|(word, _)| *word == lower || *word == singular) {
        return vec![(*meant).to_owned()];
    }
    let mut offers: Vec<String> = symbol
        .char_indices()
        .skip(1)
        .map(|(at, _)| symbol.split_at(at))
        .filter(|(first, second)| find(first).is_some() && find(second).is_some())
        .map(|(first, second)| format!("{first} {second}"))
        .collect();
    if symbol.chars().count() > 1 {
        offers
            .extend(UNITS.iter().filter(|unit| differ_by_one(unit.symbol, &symbol)).map(|unit| unit.symbol.to_owned()));
    }
    offers.truncate(3);
    offers
}

/// Whether one character replaced, added or left out makes one text the other.
fn differ_by_one(one: &str, other: &str) -> bool {
    let one: Vec<char> = one.chars().collect();
    let other: Vec<char> = other.chars().collect();
    let (short, long) = if one.len() <= other.len() { (&one, &other) } else { (&other, &one) };
    let same_start = short.iter().zip(long.iter()).take_while(|(a, b)| a == b).count();
    let same_end = short.iter().rev().zip(long.iter().rev()).take_while(|(a, b)| a == b).count();
    long.len() - short.len() <= 1 && short != long && same_start + same_end + 1 >= long.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_symbol_twice() {
        for (at, unit) in UNITS.iter().enumerate() {
            assert!(UNITS[at + 1..].iter().all(|other| other.symbol != unit.symbol), "{}", unit.symbol);
        }
    }

    #[test]
    fn look_alikes_are_one() {
        assert_eq!(find("μm"), find("µm"));
        assert_eq!(find("ºC"), find("°C"));
        assert!(find("\u{212A}").is_some());
    }

    #[test]
    fn offers() {
        assert_eq!(offers_for("MM"), ["mm"]);
        assert_eq!(offers_for("KG"), ["kg"]);
        assert_eq!(offers_for("litres"), ["L"]);
        assert_eq!(offers_for("hrs"), ["h"]);
        assert_eq!(offers_for("lbs"), ["lb"]);
        assert_eq!(offers_for("mK"), ["m K", "m", "mm"]);
        assert_eq!(offers_for("kPb"), ["kPa"]);
        assert!(offers_for("furlong").is_empty());
        assert!(offers_for(&"m".repeat(1_000)).is_empty());
    }

    #[test]
    fn one_edit() {
        assert!(differ_by_one("kPa", "Pa") && differ_by_one("kPa", "kPb") && differ_by_one("m", "mm"));
        assert!(!differ_by_one("m", "m") && !differ_by_one("kWh", "W") && !differ_by_one("ab", "ba"));
    }
}
