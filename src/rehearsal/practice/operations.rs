//! The operations: each with its word, what it does, and what belongs behind it.

use super::act::{Act, AtJoints, Changed, Section, Spot};
use super::grammar::{Argument, Slot};
use crate::bench::rig::Valve;

/// Operations that are listed together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// What is done all the time; each is listed by itself.
    Often,
    /// Valves, and the pump's switch.
    Valves,
    /// What is put together and taken apart.
    Build,
    /// Looks.
    Look,
    /// What dries.
    Dry,
    /// Nitrogen and bubbles.
    Search,
    /// What may mend something.
    Good,
}

impl Group {
    /// Every group.
    pub const ALL: [Self; 7] =
        [Self::Often, Self::Valves, Self::Build, Self::Look, Self::Dry, Self::Search, Self::Good];

    /// The groups that are listed as one, in their order.
    pub const LISTED: [Self; 6] =
        [Self::Valves, Self::Build, Self::Look, Self::Dry, Self::Search, Self::Good];

    /// What it is called in a list, and what helps to tell it from the others. Neither holds the
    /// word of an operation, which may be typed at the same list.
    #[must_use]
    pub fn called(self) -> (&'static str, &'static str) {
        match self {
            Self::Often => ("", ""),
            Self::Valves => ("turn ...", "valves and pump"),
            Self::Build => ("build ...", "what stands where"),
            Self::Look => ("look ...", "pump, gauge, joints"),
            Self::Dry => ("dry ...", "heat or dry gas"),
            Self::Search => ("test ...", "under bottled gas"),
            Self::Good => ("make good ...", "parts, joints"),
        }
    }

    /// The word by which its operations are listed alone.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Often => "often",
            Self::Valves => "turn",
            Self::Build => "build",
            Self::Look => "look",
            Self::Dry => "dry",
            Self::Search => "test",
            Self::Good => "good",
        }
    }

    /// Its operations.
    pub fn operations(self) -> impl Iterator<Item = &'static Operation> {
        OPERATIONS.iter().filter(move |operation| operation.group == self)
    }
}

/// An operation that can be named.
#[derive(Clone, Copy, Debug)]
pub struct Operation {
    /// What it goes with.
    pub group: Group,
    /// Its word.
    pub word: &'static str,
    /// What it does, as the end of a sentence.
    pub does: &'static str,
    /// What belongs behind it.
    pub slots: &'static [Slot],
    make: fn(&[Argument]) -> Option<Act>,
}

impl Operation {
    /// The act that it is with what was read for its slots.
    #[must_use]
    pub fn act(&self, arguments: &[Argument]) -> Option<Act> {
        (self.make)(arguments)
    }

    /// How it is typed: `warm SPOT K`.
    #[must_use]
    pub fn typed(&self) -> String {
        let slots = self.slots.iter().map(|slot| match slot {
            Slot::OneOf(_, words) => {
                words.iter().map(|(word, _)| *word).collect::<Vec<_>>().join("|")
            }
            Slot::Minutes(_) => "MINUTES".to_owned(),
            Slot::Bar(_) => "BAR".to_owned(),
            Slot::Kelvin(_) => "DEGREES".to_owned(),
        });
        std::iter::once(self.word.to_owned()).chain(slots).collect::<Vec<_>>().join(" ")
    }
}

const VALVES: Slot =
    Slot::OneOf("Which valve?", &[("pump", "between pump and hose"), ("system", "at the system")]);
const PARTS: Slot = Slot::OneOf("Which part?", &[("hose", "the hose"), ("tool", "the core tool")]);
const JOINTS: Slot = Slot::OneOf(
    "Which fittings?",
    &[("pump", "at the pump's inlet"), ("hose", "of the hose"), ("tool", "of the core tool")],
);
const SECTIONS: Slot = Slot::OneOf(
    "Which section?",
    &[
        ("gas", "the gas line with the port"),
        ("indoor", "the indoor coil with its flares"),
        ("compressor", "the compressor"),
        ("outdoor", "the outdoor coil"),
        ("liquid", "the liquid line with its drier"),
    ],
);
const SPOTS: Slot = Slot::OneOf(
    "Which spot?",
    &[
        ("gas", "the gas line"),
        ("indoor", "the indoor coil"),
        ("compressor", "the compressor"),
        ("outdoor", "the outdoor coil"),
        ("liquid", "the liquid line"),
        ("all", "the whole system"),
    ],
);
const CHANGED: Slot = Slot::OneOf(
    "What?",
    &[
        ("oil", "the pump's oil, for fresh oil"),
        ("gauge", "the gauge, for a sound one"),
        ("hose", "the hose, for a sound one"),
        ("tool", "the core tool, for a sound one"),
        ("rig", "all parts between pump and system"),
    ],
);
const BALLAST: Slot = Slot::OneOf(
    "What about it?",
    &[("look", "see how it stands"), ("open", "open it"), ("shut", "shut it")],
);

macro_rules! operations {
    ($($group:ident $word:literal, $does:literal, [$($slot:expr),*], $make:expr;)*) => {
        &[$(Operation {
            group: Group::$group,
            word: $word,
            does: $does,
            slots: &[$($slot),*],
            make: $make,
        }),*]
    };
}

/// Every operation, in the order in which they are listed.
#[must_use]
pub fn operations() -> &'static [Operation] {
    OPERATIONS
}

const OPERATIONS: &[Operation] = operations! {
    Often "lock", "lock the compressor out", [], |_| Some(Act::Lock);
    Often "read", "read the gauge", [], |_| Some(Act::Read);
    Often "pull", "run the pump for a time", [Slot::Minutes("For how long?")],
        |a| Some(Act::Pull(number(a, 0)?));
    Valves "halt", "stop the pump", [], |_| Some(Act::Halt);
    Often "wait", "wait and watch the gauge", [Slot::Minutes("For how long?")],
        |a| Some(Act::Wait(number(a, 0)?));
    Valves "open", "open a valve", [VALVES], |a| Some(Act::Open(valve(a)?));
    Valves "shut", "shut a valve", [VALVES], |a| Some(Act::Shut(valve(a)?));
    Build "vent", "let air in, the pump off", [], |_| Some(Act::Vent);
    Build "cap", "cap the pump with the gauge", [], |_| Some(Act::Cap);
    Build "line", "put one part in line", [PARTS], |a| Some(Act::Line(part(a)?));
    Build "rig", "hose and tool, no system", [], |_| Some(Act::Rig);
    Build "system", "put the rig on the system", [], |_| Some(Act::System);
    Build "off", "take the rig off the system", [], |_| Some(Act::TakeOff);
    Look "oil", "look in the sight glass", [], |_| Some(Act::LookAtOil);
    Look "ballast", "look, open or shut it", [BALLAST], ballast;
    Look "touch", "move fittings", [JOINTS], |a| Some(Act::Touch(joints(a)?));
    Look "feel", "find the coldest spot", [], |_| Some(Act::Feel);
    Look "second", "read the second gauge", [], |_| Some(Act::Second);
    Look "air", "let the gauge stand in air", [], |_| Some(Act::InAir);
    Look "sniff", "a detector at the exhaust", [], |_| Some(Act::Sniff);
    Dry "warm", "warm by so many degrees", [SPOTS, Slot::Kelvin("By how many degrees?")], warm;
    Dry "sweep", "break it with dry nitrogen",
        [Slot::Minutes("For how long?")], |a| Some(Act::Sweep(number(a, 0)?));
    Search "press", "put nitrogen on the system", [Slot::Bar("To which pressure?")],
        |a| Some(Act::Press(number(a, 0)?));
    Search "nitrogen", "read how it stands", [],
        |_| Some(Act::ReadNitrogen);
    Search "bubbles", "brush a section", [SECTIONS],
        |a| Some(Act::Bubbles(section(a)?));
    Search "release", "let the nitrogen out", [], |_| Some(Act::Release);
    Good "change", "oil, gauge or parts", [CHANGED], change;
    Good "feed", "the pump well, in the warm", [], |_| Some(Act::WarmPump);
    Good "clean", "the gauge", [], |_| Some(Act::CleanGauge);
    Good "remake", "joints of the rig, anew", [JOINTS], |a| Some(Act::Remake(joints(a)?));
    Good "mend", "joints of a section", [SECTIONS], |a| Some(Act::Mend(section(a)?));
    Good "core", "take the valve core out", [], |_| Some(Act::TakeCoreOut);
    Good "wide", "put a wide hose on", [], |_| Some(Act::WideHoses);
};

fn number(arguments: &[Argument], place: usize) -> Option<f64> {
    match arguments.get(place)? {
        Argument::Figure(figure) => Some(*figure),
        Argument::Word(_) => None,
    }
}

fn word(arguments: &[Argument]) -> Option<usize> {
    match arguments.first()? {
        Argument::Word(place) => Some(*place),
        Argument::Figure(_) => None,
    }
}

fn valve(arguments: &[Argument]) -> Option<Valve> {
    [Valve::Pump, Valve::System].get(word(arguments)?).copied()
}

fn part(arguments: &[Argument]) -> Option<AtJoints> {
    [AtJoints::Hose, AtJoints::Tool].get(word(arguments)?).copied()
}

fn joints(arguments: &[Argument]) -> Option<AtJoints> {
    [AtJoints::Pump, AtJoints::Hose, AtJoints::Tool].get(word(arguments)?).copied()
}

fn section(arguments: &[Argument]) -> Option<Section> {
    Section::ALL.get(word(arguments)?).copied()
}

fn ballast(arguments: &[Argument]) -> Option<Act> {
    [Act::LookAtBallast, Act::OpenBallast, Act::ShutBallast].get(word(arguments)?).copied()
}

fn warm(arguments: &[Argument]) -> Option<Act> {
    let spot = Section::ALL.get(word(arguments)?).map_or(Spot::All, |at| Spot::One(*at));
    Some(Act::Warm(spot, number(arguments, 1)?))
}

fn change(arguments: &[Argument]) -> Option<Act> {
    let all = [Changed::Oil, Changed::Gauge, Changed::Hose, Changed::Tool, Changed::Rig];
    all.get(word(arguments)?).map(|what| Act::Change(*what))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn every_operation_has_a_word_of_its_own_and_makes_an_act() {
        let words: BTreeSet<&str> = OPERATIONS.iter().map(|known| known.word).collect();
        assert_eq!(words.len(), OPERATIONS.len());
        for operation in OPERATIONS {
            let arguments = operation.slots.iter().map(|slot| match slot {
                Slot::OneOf(_, words) => Argument::Word(words.len() - 1),
                _ => Argument::Figure(1.0),
            });
            let arguments: Vec<Argument> = arguments.collect();
            assert!(operation.act(&arguments).is_some(), "{}", operation.word);
            // A row of a list is read at 40 columns.
            let row = format!("  9. {} ({})", operation.word, operation.does);
            assert!(row.len() < 40, "{row}");
        }
    }

    #[test]
    fn no_group_is_found_by_the_word_of_an_operation() {
        for group in Group::LISTED {
            let (called, hint) = group.called();
            assert!(group.operations().count() > 1, "{called}");
            for operation in OPERATIONS {
                let is_found = called.contains(operation.word) || hint.contains(operation.word);
                assert!(!is_found, "{called} by {}", operation.word);
            }
        }
    }
}
