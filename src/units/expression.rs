//! The algebra of unit text: "W/(m² K)", "W m-2 K-1", "m2·K/W" to a scale and a dimension.
//!
//! ```text
//! expression := ("1" "/")? factor ( ("/" | product)? factor )*
//! factor     := ( symbol | "(" expression ")" ) power?
//! power      := "^"? "-"? digit, or the same in superscripts
//! product    := white space, "·", "*", "×"
//! ```
//!
//! Division goes from left to right: W/m/K is W/(m K). A product after a division ("J/kg K") is refused, since half
//! of its readers mean J/(kg K) and the other half J K/kg.

use super::dimension::Dimension;
use super::scale::{ONE, Scale};
use super::symbol::{self, Unit};

/// What a unit expression is worth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Measure {
    /// Its size as an interval, counted from zero.
    pub(super) scale: Scale,
    /// Its dimension.
    pub(super) dimension: Dimension,
    /// The unit, where the expression is one symbol and nothing else.
    pub(super) lone: Option<&'static Unit>,
}

/// Parentheses inside parentheses beyond this are no unit that anybody writes.
const DEEPEST: usize = 8;
/// The largest power of one factor.
const LARGEST_POWER: i32 = 9;

/// Reads a whole unit expression.
///
/// # Errors
/// What is wrong with it, in English.
pub(super) fn read(text: &str) -> Result<Measure, String> {
    let mut reader = Reader { rest: text.trim(), depth: 0 };
    if let Some(unit) = symbol::find(reader.rest) {
        return Ok(Measure { scale: unit.scale.interval(), dimension: unit.dimension, lone: Some(unit) });
    }
    let measure = reader.expression()?;
    match reader.rest.chars().next() {
        None => Ok(measure),
        Some(')') => Err("the unit has a `)` too many".to_owned()),
        Some(other) => Err(unexpected(other)),
    }
}

fn unexpected(found: char) -> String {
    format!("the unit has an unexpected `{}`", found.escape_debug())
}

fn is_symbol_character(c: char) -> bool {
    c.is_alphabetic() || matches!(c, '°' | '%' | '℃' | '℉')
}

/// The digit that a superscript character stands for.
fn superscript_digit(c: char) -> Option<i32> {
    ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'].iter().zip(0..).find(|(s, _)| **s == c).map(|(_, digit)| digit)
}

struct Reader<'a> {
    rest: &'a str,
    depth: usize,
}

impl Reader<'_> {
    fn peek(&self) -> Option<char> {
        self.rest.chars().next()
    }

    /// Takes the next character if it is one of `wanted`.
    fn take(&mut self, wanted: &[char]) -> bool {
        match self.rest.strip_prefix(wanted) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    fn skip_space(&mut self) {
        self.rest = self.rest.trim_start();
    }

    fn expression(&mut self) -> Result<Measure, String> {
        self.skip_space();
        let mut divided = false;
        let mut total = Measure { scale: ONE, dimension: Dimension::NONE, lone: None };
        match self.rest.strip_prefix('1') {
            Some(rest) if rest.trim_start().starts_with('/') => self.rest = rest,
            _ => total = self.factor()?,
        }
        loop {
            self.skip_space();
            let exponent = match self.peek() {
                None | Some(')') => return Ok(total),
                Some('/') => -1,
                Some(_) => 1,
            };
            if exponent > 0 && divided {
                return Err(
                    "the unit has a product after `/`, which can be read in two ways: put what is divided by in \
                            parentheses, as in W/(m K)"
                        .to_owned(),
                );
            }
            divided = exponent < 0;
            self.take(&['/', '·', '⋅', '*', '×']);
            self.skip_space();
            let factor = self.factor()?;
            total = Measure {
                scale: total.scale.product(factor.scale.power(exponent)),
                dimension: total.dimension.product(factor.dimension.power(exponent)),
                lone: None,
            };
        }
    }

    fn factor(&mut self) -> Result<Measure, String> {
        let base = match self.peek() {
            None => return Err("the unit ends too early".to_owned()),
            Some('(') => self.group()?,
            Some(c) if is_symbol_character(c) => self.symbol()?,
            Some(other) => return Err(unexpected(other)),
        };
        Ok(match self.power()? {
            Some(exponent) => {
                Measure { scale: base.scale.power(exponent), dimension: base.dimension.power(exponent), lone: None }
            }
            None => Measure { lone: None, ..base },
        })
    }

    fn group(&mut self) -> Result<Measure, String> {
        self.depth += 1;
        if self.depth > DEEPEST {
            return Err(format!("the unit has more than {DEEPEST} parentheses inside one another"));
        }
        self.take(&['(']);
        let inner = self.expression()?;
        if !self.take(&[')']) {
            return Err("the unit lacks a `)`".to_owned());
        }
        self.depth -= 1;
        Ok(inner)
    }

    fn symbol(&mut self) -> Result<Measure, String> {
        let end = self.rest.find(|c| !is_symbol_character(c)).unwrap_or(self.rest.len());
        let (symbol, rest) = self.rest.split_at(end);
        self.rest = rest;
        match symbol::find(symbol) {
            Some(unit) => Ok(Measure { scale: unit.scale.interval(), dimension: unit.dimension, lone: None }),
            None => Err(unknown(symbol)),
        }
    }

    /// The power after a factor, if there is one.
    fn power(&mut self) -> Result<Option<i32>, String> {
        let before = self.rest;
        let announced = self.take(&['^']);
        let negative = self.take(&['-', '−', '⁻']);
        let mut power: Option<i32> = None;
        while let Some(c) = self.peek() {
            let digit = match c.to_digit(10) {
                Some(ascii) => i32::try_from(ascii).ok(),
                None => superscript_digit(c),
            };
            let Some(digit) = digit else { break };
            power = Some(power.unwrap_or(0).saturating_mul(10).saturating_add(digit));
            self.take(&[c]);
        }
        match power {
            Some(power) if (1..=LARGEST_POWER).contains(&power) => Ok(Some(if negative { -power } else { power })),
            Some(power) => Err(format!("the unit has the power {power}, where 1 to {LARGEST_POWER} is expected")),
            None if announced => Err("the unit has a `^` without a whole number after it".to_owned()),
            None => {
                self.rest = before;
                Ok(None)
            }
        }
    }
}

fn unknown(symbol: &str) -> String {
    let shown: String = symbol.chars().take(24).collect();
    let offers: Vec<String> = symbol::offers_for(symbol).iter().map(|offer| format!("`{offer}`")).collect();
    if offers.is_empty() {
        format!("unknown unit `{shown}`")
    } else {
        format!("unknown unit `{shown}`, perhaps {}", offers.join(" or "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn same(one: &str, other: &str) {
        let (a, b) = (read(one).unwrap(), read(other).unwrap());
        assert_eq!((a.scale, a.dimension), (b.scale, b.dimension), "{one} and {other}");
    }

    #[test]
    fn one_unit_in_many_spellings() {
        for spelling in [
            "W/m/K",
            "W/(m·K)",
            "W/(m⋅K)",
            "W/(m*K)",
            "W / ( m × K )",
            "W m-1 K-1",
            "W m^-1 K^-1",
            "W m⁻¹ K⁻¹",
            "W·m−1·K−1",
            "W (m K)-1",
            "W/(m °C)",
            "W/(m C)",
            "(W/m)/K",
        ] {
            same(spelling, "W/(m K)");
        }
        for spelling in ["m2K/W", "m²K/W", "m^2·K/W", "m2 K W-1", "(m2 K)/W"] {
            same(spelling, "m2 K/W");
        }
        same("1/K", "K-1");
    }

    #[test]
    fn a_fahrenheit_interval_is_five_ninths_of_a_kelvin() {
        // 180 °F span the 100 K between ice and steam.
        assert_eq!(read("W/°F").unwrap().scale.to_si(5.0), 9.0);
    }

    #[test]
    fn a_product_after_a_division_is_refused() {
        for text in ["J/kg K", "W/m2 K", "W/m·K", "m2/W K", "W/(m K) m"] {
            assert!(read(text).unwrap_err().contains("two ways"), "{text}");
        }
    }

    #[test]
    fn malformed() {
        for (text, told) in [
            ("W/", "ends too early"),
            ("W/(m K", "lacks a `)`"),
            ("W)", "too many"),
            ("()", "unexpected `)`"),
            ("W//m", "unexpected `/`"),
            ("m^", "`^` without"),
            ("m^x", "`^` without"),
            ("m0", "power 0"),
            ("m10", "power 10"),
            ("m99999999999999", "power 2147483647"),
            ("m 2", "unexpected `2`"),
            ("W-m", "unexpected `-`"),
            ("m\"", "unexpected `\\\"`"),
            ("((((((((((m))))))))))", "inside one another"),
            ("W/mK", "`m K`"),
        ] {
            let problem = read(text).unwrap_err();
            assert!(problem.contains(told), "{text}: {problem}");
        }
    }

    #[test]
    fn only_one_bare_symbol_is_lone() {
        assert!(read(" °C ").unwrap().lone.is_some());
        for text in ["(°C)", "°C1", "°C m/m"] {
            assert!(read(text).unwrap().lone.is_none(), "{text}");
        }
    }
}
