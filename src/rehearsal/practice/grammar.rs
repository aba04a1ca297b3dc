//! The words for acts: what may be typed, in one line or word by word.

use super::act::Act;
use super::operations::{Operation, operations};
use crate::bench::operation::LONGEST;
use crate::diagnostic::near_name;
use crate::quantity::{QuantityKind, parse_quantity};
use crate::text::{inert, list_or};

/// What belongs behind the word of an operation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Slot {
    /// One of these words, each with what it means.
    OneOf(&'static str, &'static [(&'static str, &'static str)]),
    /// A time; a bare number is minutes.
    Minutes(&'static str),
    /// A pressure above the barometer; a bare number is bar.
    Bar(&'static str),
    /// By how many K; a bare number is K.
    Kelvin(&'static str),
}

impl Slot {
    /// What is asked for it.
    #[must_use]
    pub fn ask(self) -> &'static str {
        match self {
            Self::OneOf(ask, _) | Self::Minutes(ask) | Self::Bar(ask) | Self::Kelvin(ask) => ask,
        }
    }

    /// What may be typed, to stand after "type".
    #[must_use]
    pub fn hint(self) -> &'static str {
        match self {
            Self::OneOf(..) => "one of the words",
            Self::Minutes(_) => "minutes, such as 10, or 1 h",
            Self::Bar(_) => "a pressure above the barometer, such as 20 bar",
            Self::Kelvin(_) => "how many degrees, such as 12, or 0 to let it cool",
        }
    }

    /// Reads what was typed for it.
    ///
    /// # Errors
    /// What belongs there.
    pub fn read(self, typed: &str) -> Result<Argument, String> {
        let typed = typed.trim();
        match self {
            Self::OneOf(_, words) => {
                let known = words.iter().position(|(word, _)| word.eq_ignore_ascii_case(typed));
                let words: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
                let refusal = || format!("it takes {}", list_or(&words));
                known.map(Argument::Word).ok_or_else(refusal)
            }
            Self::Minutes(_) => match figure(typed, QuantityKind::TIME, "min")? {
                Argument::Figure(time) if !(1.0..=LONGEST).contains(&time) => {
                    Err("a time lies between 1 s and 2 d".to_owned())
                }
                time => Ok(time),
            },
            Self::Bar(_) => figure(typed, QuantityKind::PRESSURE_DIFFERENCE, "bar"),
            Self::Kelvin(_) => figure(typed, QuantityKind::TEMPERATURE_DIFFERENCE, "K"),
        }
    }
}

/// A number with its unit, or a bare one in the unit that is usual.
fn figure(typed: &str, kind: QuantityKind, unit: &str) -> Result<Argument, String> {
    let bare = typed.parse::<f64>().is_ok();
    let text = if bare { format!("{typed} {unit}") } else { typed.to_owned() };
    let read = parse_quantity(&text, kind).map_err(|misread| misread.to_string())?;
    if read.is_finite() && read >= 0.0 {
        Ok(Argument::Figure(read))
    } else {
        Err("it takes a number from 0 on".to_owned())
    }
}

/// What was read for a slot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Argument {
    /// The place of a word.
    Word(usize),
    /// A number in SI units.
    Figure(f64),
}

/// What a typed line asks for.
#[derive(Clone, Copy, Debug)]
pub enum Asked {
    /// This act.
    Act(Act),
    /// This operation, of which something is still to be told: from this slot on.
    More(&'static Operation),
}

/// Why a line names no act: a sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misread(pub String);

/// Reads a line such as `pull 20` or `warm compressor 12`.
///
/// # Errors
/// What can't be read, and what may be typed in its place.
pub fn read_act(line: &str) -> Result<Asked, Misread> {
    let mut words = line.split_whitespace();
    let first = words.next().unwrap_or_default().to_lowercase();
    let Some(operation) = operations().iter().find(|known| known.word == first) else {
        let near = near_name(&first, operations().iter().map(|known| known.word));
        let near = near.map_or_else(String::new, |near| format!(" Did you mean {near}?"));
        return Err(Misread(format!("Nothing is called `{}` here.{near}", inert(&first))));
    };
    let rest: Vec<&str> = words.collect();
    if rest.is_empty() && !operation.slots.is_empty() {
        return Ok(Asked::More(operation));
    }
    let arguments = split(operation, &rest)?;
    let misread = || Misread(format!("It is typed as: {}.", operation.typed()));
    operation.act(&arguments).map(Asked::Act).ok_or_else(misread)
}

/// Gives each slot its words: one each, and the last slot all that are left.
fn split(operation: &Operation, words: &[&str]) -> Result<Vec<Argument>, Misread> {
    let slots = operation.slots;
    let said = |why: &str| Misread(format!("`{}`: {why}.", operation.typed()));
    if words.len() < slots.len() || (slots.is_empty() && !words.is_empty()) {
        return Err(said(if slots.is_empty() { "nothing belongs behind it" } else { "too short" }));
    }
    let last = slots.len().saturating_sub(1);
    let read = |(place, slot): (usize, &Slot)| {
        let words = if place == last { words[place..].join(" ") } else { words[place].to_owned() };
        slot.read(&words).map_err(|why| said(&why))
    };
    slots.iter().enumerate().map(read).collect()
}

#[cfg(test)]
mod tests {
    use super::super::act::{Changed, Section, Spot};
    use super::*;
    use crate::bench::rig::Valve;

    fn act(line: &str) -> Act {
        match read_act(line) {
            Ok(Asked::Act(act)) => act,
            other => panic!("{line}: {other:?}"),
        }
    }

    #[test]
    fn a_line_names_an_act_with_its_arguments() {
        assert_eq!(act("pull 20"), Act::Pull(1200.0));
        assert_eq!(act("Wait 1.5 h"), Act::Wait(5400.0));
        assert_eq!(act("shut system"), Act::Shut(Valve::System));
        assert_eq!(act("warm compressor 12"), Act::Warm(Spot::One(Section::Compressor), 12.0));
        assert_eq!(act("warm all 20"), Act::Warm(Spot::All, 20.0));
        assert_eq!(act("press 25 bar"), Act::Press(25e5));
        assert_eq!(act("change oil"), Act::Change(Changed::Oil));
        assert_eq!(act("ballast look"), Act::LookAtBallast);
    }

    #[test]
    fn what_is_lacking_is_asked_for_and_what_is_wrong_is_told() {
        assert!(matches!(read_act("pull"), Ok(Asked::More(operation)) if operation.word == "pull"));
        let why = |line: &str| read_act(line).unwrap_err().0;
        assert_eq!(why("pul 20"), "Nothing is called `pul` here. Did you mean pull?");
        assert_eq!(why("shut door"), "`shut pump|system`: it takes pump or system.");
        assert_eq!(why("cap it"), "`cap`: nothing belongs behind it.");
        assert_eq!(
            why("warm all"),
            "`warm gas|indoor|compressor|outdoor|liquid|all DEGREES`: too short."
        );
        assert!(why("pull long").starts_with("`pull MINUTES`: "));
        assert_eq!(why("pull 0"), "`pull MINUTES`: a time lies between 1 s and 2 d.");
        assert_eq!(why("wait 1 week"), "`wait MINUTES`: a time lies between 1 s and 2 d.");
        assert!(why("pull -3").contains("from 0 on"), "{}", why("pull -3"));
    }
}
