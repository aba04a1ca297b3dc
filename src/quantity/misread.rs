//! Why something that was typed could not be taken.

use thiserror::Error;

use super::UnitError;
use super::number::NumberFault;
use crate::text::inert;

/// The most characters of what was typed that a message repeats.
const LONGEST_ECHO: usize = 40;

/// Why a typed value or a setting was refused: what was read, what is accepted, an example.
///
/// `accepted` is a phrase such as `a pressure, such as 45 micron`; a `mend` is what to write
/// instead and is given only where it is sure.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Misread {
    /// Nothing was typed.
    #[error("no value stands here; type {accepted}")]
    Empty {
        /// What is accepted.
        accepted: String,
    },
    /// There is no number where one belongs.
    #[error("`{text}` is not understood; type {accepted}")]
    NotUnderstood {
        /// What was typed.
        text: String,
        /// What is accepted.
        accepted: String,
    },
    /// By how much something is warmer, where its temperature is asked for.
    #[error(
        "`{text}` is a difference, and the temperature itself is asked for: type what the \
         thermometer shows, {accepted}"
    )]
    ADifference {
        /// What was typed.
        text: String,
        /// What is accepted.
        accepted: String,
    },
    /// A comma where the point belongs.
    #[error("`{number}` has a comma that groups no thousands; with a decimal point it is `{mend}`")]
    DecimalComma {
        /// The number as typed.
        number: String,
        /// The same with a decimal point.
        mend: String,
    },
    /// A thousands comma or a mixed fraction in a setting.
    #[error("`{number}` is understood at a prompt only; write `{mend}`")]
    PromptOnly {
        /// The number as written.
        number: String,
        /// The same as a plain number.
        mend: String,
    },
    /// Digits kept apart by a blank.
    #[error("`{number}` has a blank between its digits; one number is written `{mend}`")]
    BlankInNumber {
        /// The number as typed.
        number: String,
        /// The same without the blank.
        mend: String,
    },
    /// Several numbers where one is asked for.
    #[error(
        "`{text}` holds {numbers}, and one {wanted} is asked for; type the one that counts{also}"
    )]
    SeveralNumbers {
        /// What was typed.
        text: String,
        /// How many they are.
        numbers: String,
        /// The kind asked for.
        wanted: String,
        /// What else may be meant, with its way to type it.
        also: String,
    },
    /// A fraction over zero, or a number beyond what can be held.
    #[error("`{number}` is not a finite number")]
    NotFinite {
        /// The number as typed.
        number: String,
    },
    /// A word that is no unit, or units that can't be joined.
    #[error("{error}; type {accepted}")]
    Unit {
        /// What is wrong with the unit.
        error: UnitError,
        /// What is accepted.
        accepted: String,
    },
    /// A setting without its unit.
    #[error("`{number}` has no unit; write {accepted}")]
    MissingUnit {
        /// The number as written.
        number: String,
        /// What is accepted.
        accepted: String,
    },
    /// A unit of another kind.
    #[error("`{unit}` is a unit of {found}, but {wanted} is asked for{}; type {accepted}", did_you_mean(*mend))]
    WrongKind {
        /// The unit that was read.
        unit: String,
        /// The kind it measures.
        found: String,
        /// The kind asked for, with its article.
        wanted: String,
        /// The unit that this one is often written for.
        mend: Option<&'static str>,
        /// What is accepted.
        accepted: String,
    },
    /// A pressure where a rate is asked for.
    #[error(
        "`{value}` is where it stands, and how fast it rises is asked for; type what it rose in how long, such as `60 micron in 10 min`, or a rate such as `6 micron/min`"
    )]
    NoTime {
        /// The pressure as read.
        value: String,
    },
    /// A gauge pressure, counted from the air around, where an absolute one or a difference
    /// belongs.
    #[error(
        "`{unit}` counts from the pressure of the air around, but {wanted} is asked for; type {accepted}"
    )]
    CountsFromAir {
        /// The gauge unit that was read.
        unit: String,
        /// The kind asked for, with its article.
        wanted: String,
        /// What is accepted.
        accepted: String,
    },
    /// A unit that may be absolute where a gauge pressure belongs.
    #[error(
        "`{unit}` may count from a perfect vacuum; for what a gauge shows that reads zero in open air, write `{mend}`"
    )]
    NotGauge {
        /// The unit that was read.
        unit: String,
        /// The gauge unit to write instead.
        mend: &'static str,
    },
    /// Inches of mercury where a deep vacuum is asked for.
    #[error(
        "`{unit}` is too coarse for a deep vacuum and usually counts down from the barometer (0.1 inHg is 2540 micron); read the vacuum gauge and type {accepted}"
    )]
    TooCoarse {
        /// The unit that was read.
        unit: String,
        /// What is accepted.
        accepted: String,
    },
    /// Less than nothing: a negative absolute pressure, or a temperature below absolute zero.
    #[error("`{value}` is below {zero}; type {accepted}")]
    BelowZero {
        /// The value as read.
        value: String,
        /// The zero that it lies below.
        zero: &'static str,
        /// What is accepted.
        accepted: String,
    },
    /// Outside the range that the question accepts.
    #[error("`{value}` is outside the accepted range, {low} to {high}")]
    OutOfRange {
        /// The value as read.
        value: String,
        /// The low end, in the unit asked for.
        low: String,
        /// The high end, in the unit asked for.
        high: String,
    },
    /// A doubt that is negative, or that stands beside `over` or `under`.
    #[error(
        "`{text}`: the part behind `+-` must be zero or more, and can't stand with `over` or `under`"
    )]
    BadDoubt {
        /// What was typed.
        text: String,
    },
    /// A doubt without a value before it.
    #[error("`{text}` is a doubt without a value; type {accepted}, and the doubt behind it")]
    DoubtAlone {
        /// What was typed.
        text: String,
        /// What is accepted.
        accepted: String,
    },
    /// A setting that should be a range and is none.
    #[error("`{text}` is not a range; write it as `5 micron to 50 micron`, the lower end first")]
    NotARange {
        /// What was written.
        text: String,
    },
}

impl Misread {
    pub(super) fn not_understood(text: &str, accepted: &str) -> Self {
        Self::NotUnderstood { text: shown(text), accepted: accepted.to_owned() }
    }

    /// A fault of the number, told with what it stood in.
    pub(super) fn of_number(fault: NumberFault, text: &str, accepted: &str) -> Self {
        match fault {
            NumberFault::None => Self::not_understood(text, accepted),
            NumberFault::DecimalComma { number, mend } => Self::DecimalComma { number, mend },
            NumberFault::PromptOnly { number, mend } => Self::PromptOnly { number, mend },
            NumberFault::Blank { number, mend } => Self::BlankInNumber { number, mend },
            NumberFault::NotFinite { number } => Self::NotFinite { number },
        }
    }

    /// A fault of the unit, made fit to show.
    pub(super) fn of_unit(error: UnitError, accepted: &str) -> Self {
        let error = match error {
            UnitError::Unknown { word, near } => UnitError::Unknown { word: shown(&word), near },
            UnitError::BadPower { word } => UnitError::BadPower { word: shown(&word) },
            other => other,
        };
        Self::Unit { error, accepted: accepted.to_owned() }
    }
}

/// What was typed, harmless and short enough to repeat.
pub(super) fn shown(text: &str) -> String {
    let line: String = text.chars().map(|c| if c.is_whitespace() { ' ' } else { c }).collect();
    let harmless = inert(line.trim());
    if harmless.chars().count() <= LONGEST_ECHO {
        return harmless;
    }
    let start: String = harmless.chars().take(LONGEST_ECHO - 3).collect();
    format!("{start}...")
}

fn did_you_mean(mend: Option<&str>) -> String {
    let told = match mend {
        Some("mmHg") => ", millimetres of mercury, which is Torr",
        _ => "",
    };
    mend.map_or_else(String::new, |mend| format!(" (did you mean `{mend}`{told}?)"))
}
