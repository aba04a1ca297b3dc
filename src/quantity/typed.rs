//! What a person types at a prompt.

use super::digits::{leading_place, to_significant};
use super::expected::with_unit;
use super::fitting::fitting;
use super::misread::shown;
use super::number::{Manner, read_number};
use super::prompt_unit::parse_prompt_unit;
use super::rising::{rise_in_time, without_a_time};
use super::several::several_numbers;
use super::spoken::{in_figures, without_about};
use super::{Dimension, Expected, Misread, Nature, QuantityKind, UnitExpression, parse_unit, show};

/// The longest text that is looked at, in bytes.
const LONGEST_TEXT: usize = 200;
/// Share by which a value may pass an end of its range: room for converted ends.
const ROUNDING: f64 = 1e-9;

/// Whether a typed value is the reading itself or the end of a scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Bound {
    /// The value itself.
    Exact,
    /// More than the value: `over 20000 micron`.
    Over,
    /// Less than the value: `under 5 micron`.
    Under,
}

/// A value as it was typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Typed {
    /// The value in SI units; finite.
    pub value: f64,
    /// What stood behind `+-`, in SI units; finite and not negative.
    pub half_width: Option<f64>,
    /// Whether the value is the reading or an end of a scale.
    pub bound: Bound,
    /// The unit that was typed, or else the one that a bare number has here.
    pub unit: UnitExpression,
    /// Whether no unit was typed.
    pub is_bare: bool,
    /// The value as it was read, to be shown to the person: `1200 micron`, or with a conversion
    /// `0.06 mbar (45 micron)`.
    pub echo: String,
}

/// Reads what was typed where `expected` is asked for.
///
/// Understands `45`, `45 micron`, `45um`, `0.06 mbar`, `1,200`, `1-1/8 in`, `3/8 in`,
/// `1 h 30 min`, `half an hour`, `about 400`, `-10 degC`, `1.5e3`, `25 +- 5 micron`, `25 ± 5`, `25 micron +- 10 %`,
/// `over 20000 micron`, `under 5 micron`. A bare number has the expected unit.
///
/// # Errors
/// A [`Misread`] that says what was read and what is accepted.
///
/// ```
/// use dryhold::quantity::{Expected, QuantityKind, parse_unit, read_typed};
/// let micron = parse_unit("micron").unwrap();
/// let expected = Expected::new(QuantityKind::PRESSURE, micron);
/// assert_eq!(read_typed("0.06 mbar", &expected).unwrap().echo, "0.06 mbar (45 micron)");
/// assert_eq!(
///     read_typed("12,5", &expected).unwrap_err().to_string(),
///     "`12,5` has a comma that groups no thousands; with a decimal point it is `12.5`"
/// );
/// ```
pub fn read_typed(text: &str, expected: &Expected) -> Result<Typed, Misread> {
    read_one(text, expected)
        .map_err(|misread| several_numbers(text.trim(), expected).unwrap_or(misread))
}

/// Words that tell a temperature by how much it is another one.
const WARMER: [&str; 6] = ["warmer", "hotter", "colder", "cooler", "higher", "lower"];

fn is_a_difference(text: &str, kind: QuantityKind) -> bool {
    let text = text.to_lowercase();
    let mut words = text.split(|c: char| !c.is_alphabetic());
    kind == QuantityKind::TEMPERATURE && words.any(|word| WARMER.contains(&word))
}

fn read_one(text: &str, expected: &Expected) -> Result<Typed, Misread> {
    let plain = plain_signs(text);
    let plain = plain.trim();
    if plain.is_empty() {
        return Err(Misread::Empty { accepted: expected.hint() });
    }
    if plain.len() <= LONGEST_TEXT && is_a_difference(plain, expected.kind) {
        return Err(Misread::ADifference { text: shown(text), accepted: expected.hint() });
    }
    if plain.len() > LONGEST_TEXT {
        return Err(Misread::not_understood(text, &expected.hint()));
    }
    let (is_about, plain) = without_about(plain);
    let (bound, rest) = split_bound(plain);
    let spoken = in_figures(rest, expected.kind);
    let rest = spoken.as_deref().unwrap_or(rest);
    let reader = Reader { expected, accepted: expected.hint() };
    let mut typed = match split_doubt(rest) {
        // A tolerance is written with its sign: `+-5 micron`.
        Some((value, size)) if value.trim().is_empty() && bound == Bound::Exact => {
            if !is_a_size(expected.kind) {
                return Err(Misread::DoubtAlone { text: shown(text), accepted: expected.hint() });
            }
            reader.without_doubt(size.trim())?
        }
        Some((value, doubt)) => {
            if bound != Bound::Exact {
                return Err(Misread::BadDoubt { text: shown(text) });
            }
            reader.with_doubt(value.trim(), doubt.trim())?
        }
        None => reader.without_doubt(rest)?,
    };
    typed.bound = bound;
    match bound {
        Bound::Exact => {}
        Bound::Over => typed.echo.insert_str(0, "over "),
        Bound::Under => typed.echo.insert_str(0, "under "),
    }
    reader.refuse_impossible(&typed)?;
    let told_in = expected.told_in.as_ref().unwrap_or(&expected.unit);
    if typed.unit.symbol != told_in.symbol {
        let converted = show(typed.value, typed.half_width, told_in, expected.kind);
        if converted != typed.echo {
            typed.echo.push_str(&format!(" ({converted})"));
        }
    }
    if is_about {
        // Nobody knows how far "about" reaches; a doubt is typed behind `+-`.
        typed.echo.push_str("; \"about\" is left out");
    }
    Ok(typed)
}

/// Typographic signs and blanks as their plain ones.
fn plain_signs(text: &str) -> String {
    let plain = |c| match c {
        '\u{2212}' | '\u{2013}' => '-',
        c if c.is_whitespace() => ' ',
        c => c,
    };
    text.chars().map(plain).collect()
}

fn split_bound(text: &str) -> (Bound, &str) {
    const WORDS: [(&str, Bound); 9] = [
        ("over ", Bound::Over),
        ("above ", Bound::Over),
        ("more than ", Bound::Over),
        ("greater than ", Bound::Over),
        (">", Bound::Over),
        ("under ", Bound::Under),
        ("below ", Bound::Under),
        ("less than ", Bound::Under),
        ("<", Bound::Under),
    ];
    WORDS
        .iter()
        .find_map(|&(word, bound)| {
            let start = text.get(..word.len())?;
            start.eq_ignore_ascii_case(word).then(|| (bound, text[word.len()..].trim_start()))
        })
        .unwrap_or((Bound::Exact, text))
}

/// Whether a tolerance may be asked for: a difference, or a ratio.
fn is_a_size(kind: QuantityKind) -> bool {
    kind.nature == Nature::Difference || kind == QuantityKind::NUMBER
}

fn split_doubt(text: &str) -> Option<(&str, &str)> {
    ["+-", "±", "+/-"].iter().find_map(|sign| text.split_once(sign))
}

struct Reader<'a> {
    expected: &'a Expected,
    accepted: String,
}

impl Reader<'_> {
    fn without_doubt(&self, text: &str) -> Result<Typed, Misread> {
        self.one_value(text).or_else(|misread| match rise_in_time(text, self.expected) {
            Some(rate) => Ok(rate),
            None => Err(without_a_time(text, self.expected).unwrap_or(misread)),
        })
    }

    fn one_value(&self, text: &str) -> Result<Typed, Misread> {
        let (number, rest) = self.number(text)?;
        let (unit_text, more) = split_before_number(rest);
        let unit = self.unit(unit_text)?;
        let is_bare = unit.is_none();
        let unit = unit.unwrap_or_else(|| self.expected.unit.clone());
        let mut value = unit.to_si(number);
        let mut echo = with_unit(&written(number), &unit.symbol);
        if let Some(more) = more {
            let part = self.smaller_part(text, more, &unit)?;
            value += if number < 0.0 { -part.value } else { part.value };
            echo.push_str(&format!(" {}", part.echo));
        }
        self.refuse_infinite(text, value)?;
        Ok(Typed { value, half_width: None, bound: Bound::Exact, unit, is_bare, echo })
    }

    /// The second part of `1 h 30 min` or `5 ft 3 in`.
    fn smaller_part(
        &self,
        text: &str,
        more: &str,
        above: &UnitExpression,
    ) -> Result<Typed, Misread> {
        let misread = || Misread::not_understood(text, &self.accepted);
        let (number, rest) = self.number(more)?;
        let unit = self.unit(rest)?.ok_or_else(misread)?;
        let is_smaller = above.offset == 0.0
            && above.kind.nature == Nature::Plain
            && unit.factor < above.factor
            && number >= 0.0;
        if !is_smaller {
            return Err(misread());
        }
        let echo = with_unit(&written(number), &unit.symbol);
        let value = unit.to_si(number);
        Ok(Typed { value, half_width: None, bound: Bound::Exact, unit, is_bare: false, echo })
    }

    fn with_doubt(&self, value: &str, doubt: &str) -> Result<Typed, Misread> {
        let (number, rest) = self.number(value)?;
        let (half_number, half_rest) = self.number(doubt)?;
        if half_number < 0.0 {
            return Err(Misread::BadDoubt { text: shown(&format!("{value} +- {doubt}")) });
        }
        let first = self.unit(rest)?;
        let is_share = half_rest.trim() == "%" && self.expected.kind.dimension != Dimension::NONE;
        let second = if is_share { None } else { self.unit_of_doubt(half_rest)? };
        let typed = first.or_else(|| second.clone());
        let is_bare = typed.is_none();
        let unit = typed.unwrap_or_else(|| self.expected.unit.clone());
        let si = unit.to_si(number);
        self.refuse_infinite(value, si)?;
        let half_width = if is_share {
            (si - unit.offset).abs() * half_number / 100.0
        } else {
            half_number * second.as_ref().unwrap_or(&unit).factor.abs()
        };
        self.refuse_infinite(doubt, half_width)?;
        let (number, half) = (written(number), written(half_number));
        let echo = match (is_share, second) {
            (true, _) => format!("{} +- {half} %", with_unit(&number, &unit.symbol)),
            (false, Some(second)) if second.symbol != unit.symbol => {
                format!("{number} {} +- {half} {}", unit.symbol, second.symbol)
            }
            _ => with_unit(&format!("{number} +- {half}"), &unit.symbol),
        };
        let half_width = Some(half_width);
        Ok(Typed { value: si, half_width, bound: Bound::Exact, unit, is_bare, echo })
    }

    fn number<'t>(&self, text: &'t str) -> Result<(f64, &'t str), Misread> {
        read_number(text, Manner::Prompt)
            .map_err(|fault| Misread::of_number(fault, text, &self.accepted))
    }

    /// The unit in `text`, none if there is only blank.
    fn unit(&self, text: &str) -> Result<Option<UnitExpression>, Misread> {
        if text.trim().is_empty() {
            return Ok(None);
        }
        let unit = parse_prompt_unit(self.on_the_face(text), self.expected.kind)
            .map_err(|error| Misread::of_unit(error, &self.accepted))?;
        let is_inches = unit.kind.nature == Nature::Open && unit.symbol.starts_with("inHg");
        if self.expected.is_deep_vacuum() && is_inches {
            return Err(Misread::TooCoarse { unit: unit.symbol, accepted: self.accepted.clone() });
        }
        fitting(unit, self.expected.kind, &self.accepted).map(Some)
    }

    /// The unit that a face in millimetres of mercury says in short.
    fn on_the_face<'t>(&self, text: &'t str) -> &'t str {
        let is_mercury = matches!(self.expected.unit.symbol.as_str(), "mmHg" | "Torr");
        let is_short = text.trim().trim_end_matches('.').eq_ignore_ascii_case("mm");
        if is_mercury && is_short { "mmHg" } else { text }
    }

    /// The unit behind `+-`: also one of a difference where a temperature is asked for.
    fn unit_of_doubt(&self, text: &str) -> Result<Option<UnitExpression>, Misread> {
        match parse_unit(text.trim()) {
            Ok(unit)
                if unit.kind.nature == Nature::Difference
                    && unit.kind.dimension == self.expected.kind.dimension =>
            {
                Ok(Some(unit))
            }
            _ => self.unit(text),
        }
    }

    fn refuse_infinite(&self, text: &str, value: f64) -> Result<(), Misread> {
        if value.is_finite() { Ok(()) } else { Err(Misread::NotFinite { number: shown(text) }) }
    }

    fn refuse_impossible(&self, typed: &Typed) -> Result<(), Misread> {
        let (kind, value) = (self.expected.kind, typed.value);
        if kind.nature == Nature::Absolute && value < 0.0 {
            let is_pressure = kind.dimension == Dimension::PRESSURE;
            let zero = if is_pressure { "a perfect vacuum" } else { "absolute zero" };
            let (value, accepted) = (typed.echo.clone(), self.accepted.clone());
            return Err(Misread::BelowZero { value, zero, accepted });
        }
        let Some((low, high)) = self.expected.range else { return Ok(()) };
        if value >= low - low.abs() * ROUNDING && value <= high + high.abs() * ROUNDING {
            return Ok(());
        }
        let unit = &self.expected.unit;
        let end = |si| with_unit(&to_significant(unit.from_si(si), 4), &unit.symbol);
        let is_downward = unit.factor < 0.0;
        let (low, high) = if is_downward { (high, low) } else { (low, high) };
        Err(Misread::OutOfRange { value: typed.echo.clone(), low: end(low), high: end(high) })
    }
}

/// Cuts behind a unit where a further number begins: `h 30 min`.
fn split_before_number(rest: &str) -> (&str, Option<&str>) {
    let unit_start = rest.len() - rest.trim_start().len();
    let cut = rest[unit_start..]
        .match_indices(' ')
        .map(|(at, _)| unit_start + at)
        .find(|at| rest[at + 1..].starts_with(|c: char| c.is_ascii_digit()));
    match cut {
        Some(at) => (&rest[..at], Some(&rest[at + 1..])),
        None => (rest, None),
    }
}

/// A typed number written plainly: every digit that was typed, six of a fraction's.
fn written(number: f64) -> String {
    let plain = if (-6..15).contains(&leading_place(number)) {
        number.to_string()
    } else {
        format!("{number:e}")
    };
    if plain.len() > 17 { to_significant(number, 6) } else { plain }
}

#[cfg(test)]
mod tests;
