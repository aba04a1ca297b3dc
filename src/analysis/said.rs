//! Answers as a witness gives them: chosen from a cell, and typed in the author's unit.

use super::cells::Cell;
use crate::formula::Kind;
use crate::handbook::Question;
use crate::quantity::{NAMED_KINDS, UnitExpression, parse_unit};

/// Beyond this a quantity without a range is not looked for (limit of ours).
const FAR: f64 = 1e9;

/// What a person says.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Said {
    /// Nothing yet.
    NotAsked,
    /// Something that says nothing.
    Nothing,
    YesNo(bool),
    Choice(usize),
    /// A quantity in SI units, and how far it may be off by the person's own word.
    Quantity {
        si: f64,
        half_width: f64,
    },
    Words,
    Day,
    /// One of the holds that are tried, by its number.
    Hold(usize),
}

/// A hold to try: how long, from where, how fast it rises straight on, and how far it levels off
/// with which time constant. Minutes and micron; all invented.
struct Profile {
    minutes: u32,
    start: f64,
    rate: f64,
    levelling: f64,
    constant: f64,
}

const fn profile(minutes: u32, start: f64, rate: f64, levelling: f64, constant: f64) -> Profile {
    Profile { minutes, start, rate, levelling, constant }
}

/// Straight ones, some that level off, some that do both, falling ones and short ones.
const HOLDS: [Profile; 15] = [
    profile(30, 400.0, 40.0, 0.0, 1.0),
    profile(30, 400.0, 0.0, 900.0, 6.0),
    profile(30, 400.0, 1.0, 0.0, 1.0),
    profile(30, 400.0, 20.0, 600.0, 4.0),
    profile(30, 900.0, -15.0, 0.0, 1.0),
    profile(3, 400.0, 40.0, 0.0, 1.0),
    profile(8, 400.0, 40.0, 0.0, 1.0),
    profile(60, 300.0, 3.0, 200.0, 8.0),
    profile(60, 400.0, 0.0, 4500.0, 12.0),
    profile(30, 300.0, 5.0, 60.0, 3.0),
    profile(60, 500.0, 0.0, 0.0, 1.0),
    profile(20, 300.0, 100.0, 0.0, 1.0),
    profile(30, 400.0, 8.0, 300.0, 15.0),
    profile(60, 200.0, 0.3, 30.0, 5.0),
    profile(120, 400.0, 40.0, 0.0, 1.0),
];

const MICRON: f64 = 0.133_322_387_415;

/// How many holds are tried.
pub(super) const HOLDS_TRIED: usize = HOLDS.len();

/// Times in s and pressures in Pa of one of the holds, rounded as they are typed.
pub(super) fn hold(number: usize, unit: &UnitExpression) -> (Vec<f64>, Vec<f64>) {
    let read = readings(number, unit);
    let times = read.iter().map(|(minute, _)| f64::from(*minute) * 60.0).collect();
    (times, read.iter().map(|(_, shown)| unit.to_si(*shown)).collect())
}

/// Minutes, and what the gauge shows in its unit.
fn readings(number: usize, unit: &UnitExpression) -> Vec<(u32, f64)> {
    let Profile { minutes, start, rate, levelling, constant } = &HOLDS[number % HOLDS.len()];
    let step = (minutes / 15).max(1);
    let at = |minute: u32| {
        let minute = f64::from(minute);
        let levelled = levelling * (1.0 - libm::exp(-minute / constant));
        (start + rate * minute + levelled).round() * MICRON
    };
    let shown = |si: f64| {
        let number = (si - unit.offset) / unit.factor;
        format!("{number:.4e}").parse().unwrap_or(number)
    };
    (0..=*minutes).step_by(step as usize).map(|minute| (minute, shown(at(minute)))).collect()
}

/// The unit that a question's quantities are typed in.
pub(super) fn unit_of(question: &Question) -> Option<UnitExpression> {
    if let Some(unit) = &question.unit {
        return Some(unit.clone());
    }
    let (Kind::Quantity(kind) | Kind::Readings(kind)) = &question.kind else { return None };
    let named = NAMED_KINDS.iter().find(|named| named.kind == *kind)?;
    parse_unit(named.unit).ok()
}

impl Said {
    /// A quantity within a cell that takes few digits to type, near a value wished for.
    pub fn within(cell: Cell, wished: f64, unit: &UnitExpression) -> Option<Self> {
        let number = (wished.clamp(cell.low, cell.high) - unit.offset) / unit.factor;
        (0..17).find_map(|digits| {
            let rounded: f64 = format!("{number:.digits$e}").parse().ok()?;
            let si = unit.to_si(rounded);
            let is_inside = cell.low <= si && si <= cell.high;
            is_inside.then_some(Self::Quantity { si, half_width: 0.0 })
        })
    }

    /// Numbers that tell it from anything else that is said.
    pub fn bits(&self) -> [u64; 3] {
        match self {
            Self::NotAsked => [0, 0, 0],
            Self::Nothing => [1, 0, 0],
            Self::YesNo(yes) => [2, u64::from(*yes), 0],
            Self::Choice(place) => [3, *place as u64, 0],
            Self::Quantity { si, half_width } => [4, si.to_bits(), half_width.to_bits()],
            Self::Words => [5, 0, 0],
            Self::Day => [6, 0, 0],
            Self::Hold(number) => [7, *number as u64, 0],
        }
    }

    /// The answer as it is typed.
    pub fn typed(&self, question: &Question) -> String {
        match self {
            Self::NotAsked => String::new(),
            Self::Nothing if question.is_setting() => "skip".to_owned(),
            Self::Nothing => "not sure".to_owned(),
            Self::YesNo(yes) => if *yes { "yes" } else { "no" }.to_owned(),
            Self::Choice(place) => {
                question.choices.get(*place).map_or_else(String::new, |choice| choice.id.clone())
            }
            Self::Quantity { si, half_width } => quantity(question, *si, *half_width),
            Self::Words => "something".to_owned(),
            Self::Day => "2026-03-31".to_owned(),
            Self::Hold(number) => match unit_of(question) {
                Some(unit) => {
                    let read = readings(*number, &unit).into_iter();
                    let read: Vec<String> =
                        read.map(|(minute, shown)| format!("{minute} min {shown}")).collect();
                    format!("{} {}", read.join(", "), unit.symbol)
                }
                None => "skip".to_owned(),
            },
        }
    }
}

/// `45 micron`, `30 +- 5 micron`.
fn quantity(question: &Question, si: f64, half_width: f64) -> String {
    let Some(unit) = unit_of(question) else { return si.to_string() };
    let shown = |number: f64| {
        let rounded: f64 = format!("{number:.12e}").parse().unwrap_or(number);
        if unit.to_si(rounded) == si { rounded } else { number }
    };
    let number = shown((si - unit.offset) / unit.factor);
    let symbol = if unit.symbol == "1" { String::new() } else { format!(" {}", unit.symbol) };
    match half_width {
        0.0 => format!("{number}{symbol}"),
        _ => {
            let width = half_width / unit.factor.abs();
            let width: f64 = format!("{width:.1e}").parse().unwrap_or(width);
            format!("{number} +- {width}{symbol}")
        }
    }
}

/// Answers within what is usual for a question, as they are typed: from its middle, its lower and
/// its upper end. None where nothing is told of what is usual.
#[must_use]
pub fn usual_answers(question: &Question) -> Vec<String> {
    let (Some((low, high)), Some(unit)) = (question.usual, unit_of(question)) else {
        return Vec::new();
    };
    let cell = Cell { low, high };
    let said = [middle(cell, question), low, high].into_iter();
    said.filter_map(|wished| Some(Said::within(cell, wished, &unit)?.typed(question))).collect()
}

/// A value in the middle of a cell, within what is usual where there is such.
pub(super) fn middle(cell: Cell, question: &Question) -> f64 {
    let (mut low, mut high) = (cell.low.max(-FAR), cell.high.min(FAR));
    if let Some((from, to)) = question.usual
        && low.max(from) < high.min(to)
    {
        (low, high) = (low.max(from), high.min(to));
    }
    between(low, high, 0.5)
}

/// A value at a share of the way between two, by size where they lie a decade apart.
pub(super) fn between(low: f64, high: f64, share: f64) -> f64 {
    let (low, high) = (low.max(-FAR), high.min(FAR));
    if low > 0.0 && high >= 10.0 * low {
        low * libm::pow(high / low, share)
    } else {
        low + share * (high - low)
    }
}
