//! The keys of the entries of each section.

use super::{Holds, Key, Words, may, must};

/// The keys that every entry may have.
pub const ENTRY_KEYS: &[Key] = &[
    may(
        "replaces",
        Holds::Word(Words::BuiltIn),
        "Says that this entry takes the place of the built-in one of the same id.",
    ),
    may("was", Holds::Id, "The id that this entry had before, for cases that use it."),
    may("waive", Holds::Waivers, "For each code of advice that does not apply here, the reason."),
];

/// The key of entries that hold numbers.
pub const BASIS_KEYS: &[Key] = &[may(
    "basis",
    Holds::Basis,
    "Where the numbers come from: a source's id, common_practice, memory, estimate or simulated; \
     or one of these for each key that holds a number.",
)];

/// The keys of a question.
pub const QUESTION_KEYS: &[Key] = &[
    must("ask", Holds::Text, "The question as it is asked on site."),
    may("say", Holds::Text, "The same to be read aloud: one number, or one yes or no."),
    may("listen", Holds::Text, "What to listen for in a caller's answer: the likely slips."),
    may("why", Holds::Text, "Why it is asked, for whoever asks why."),
    may(
        "kind",
        Holds::Word(Words::Kind),
        "What kind of answer it takes; may be left out where there are choices.",
    ),
    may("unit", Holds::Text, "The unit that a number without one is taken in."),
    may("range", Holds::Text, "What is possible, LOW to HIGH; anything else is refused."),
    may(
        "usual",
        Holds::Text,
        "What is usual, LOW to HIGH; anything else is asked back with the likely slip.",
    ),
    may("choices", Holds::TextById, "The answers from normal to worst: an id and a text each."),
    may(
        "units",
        Holds::TextById,
        "By choice, the unit that the face of a gauge shows then, or none; an instrument names the \
         question as its face.",
    ),
    may(
        "resolutions",
        Holds::TextById,
        "By choice, the smallest step that the face of a gauge shows then, where it is not the \
         instrument's.",
    ),
    may(
        "in_words",
        Holds::TextByWords,
        "Words that people may type, each with the answer that it stands for, such as still \
         falling: 0 min.",
    ),
    may(
        "known_by",
        Holds::TextById,
        "By choice, another question: where words for this choice are the answer to that one, nobody is \
         asked this one.",
    ),
    may("instrument", Holds::Id, "The instrument that it is read from."),
    may(
        "outdates",
        Holds::Ids,
        "Questions whose answers no longer hold once this one's changes; of a reading, once it is \
         taken anew.",
    ),
    may(
        "about",
        Holds::Ids,
        "The readings that it asks about, such as whether one still falls; where the latest of them \
         was skipped or nobody is sure of it, it is passed over.",
    ),
    may("repeats", Holds::Text, "How well a reading repeats, as a half-width with its unit."),
    may("not_sure", Holds::Text, "Of a setting: the range that 'not sure' stands for."),
    may("takes", Holds::Text, "How long it takes to find out, such as 5 min."),
    may("hazard", Holds::Text, "The dangerous answer, for which 'not sure' counts."),
    may("cautions", Holds::Ids, "Cautions shown before it."),
];

/// The keys of an instrument.
pub const INSTRUMENT_KEYS: &[Key] = &[
    must("name", Holds::Text, "What people call it."),
    may(
        "face",
        Holds::Id,
        "The choice question, with units, that says in which unit its face shows what it reads.",
    ),
    may("scale", Holds::Text, "Half-width of its scale error, a ratio; may name a question."),
    may("offset", Holds::Text, "Half-width of its zero error; may name a question."),
    may("resolution", Holds::Text, "The smallest step that it shows."),
    may("gas_response", Holds::Text, "What its reading depends on besides; a note for people."),
];

/// The keys of a formula.
pub const FORMULA_KEYS: &[Key] = &[
    must("is", Holds::Text, "The formula, such as hose_reading - pump_floor."),
    may("as", Holds::Text, "The unit that it is shown in."),
    may(
        "name",
        Holds::Text,
        "Of a yes or no, what is so when it is a yes, in a few words that fit after that.",
    ),
];

/// The keys of a finding. One of `when` and `of` must be written.
pub const FINDING_KEYS: &[Key] = &[
    may("when", Holds::Text, "The condition that is true when a fault shows."),
    may("of", Holds::Id, "The question whose choice is observed, from normal to worst."),
    may("name", Holds::Text, "It in a few words that fit after if: what is so when it is true."),
    may("name_not", Holds::Text, "The same for when it is false."),
    may("only_if", Holds::Text, "What must hold for it to say anything."),
    may("so", Holds::Text, "What is said when it is true; {name} puts in a value."),
    may("so_not", Holds::Text, "What is said when it is false."),
    may("refer", Holds::Text, "Whom to ask when it is true: then nothing is repaired first."),
    may(
        "fault",
        Holds::Text,
        "yes where something is wrong when it is true, though it speaks of no cause.",
    ),
    may(
        "shown_by",
        Holds::Likelihoods,
        "By cause, how often it is true with this cause alone, background included.",
    ),
    may("hidden_by", Holds::Strengths, "By cause, how often that cause keeps it from showing."),
    may("anyway", Holds::Likelihood, "How often it is true with nothing wrong."),
    may(
        "same_measurement",
        Holds::Ids,
        "Other findings off the same reading whose overlap you have thought about.",
    ),
    may(
        "replaces_finding",
        Holds::Id,
        "The finding that this one, better observed, takes the place of.",
    ),
    may(
        "read_again",
        Holds::Ids,
        "Questions whose readings can't all be where it is true, in the order to read them again.",
    ),
    may(
        "holds_back",
        Holds::Ids,
        "Actions that no tree calls for while it is true, until its readings have been read again.",
    ),
];

/// The keys of a cause.
pub const CAUSE_KEYS: &[Key] = &[
    must("name", Holds::Text, "What people call it."),
    may(
        "in_short",
        Holds::Text,
        "The same in the fewest words, such as a wet drier, for use in a sentence.",
    ),
    may("group", Holds::Id, "Causes of one group call for the same next action."),
    must("how_common", Holds::Strength, "The share of cases that have it before any symptom."),
    may("more_if", Holds::Factors, "By yes/no question or formula, a factor on its odds."),
    may("less_if", Holds::Factors, "The same, with factors below 1."),
    may("brings", Holds::Strengths, "By cause, how often the other is there when this one is."),
    may("because", Holds::Text, "How it makes what is seen."),
    may("fix", Holds::Ids, "Actions that mend it, the first first."),
    may("cured_by", Holds::Strengths, "By action, how often the cause is gone after it."),
    may("cautions", Holds::Ids, "Cautions shown with it."),
];

/// The keys of an action.
pub const ACTION_KEYS: &[Key] = &[
    must("do", Holds::Text, "What to do."),
    may("takes", Holds::Text, "How long it takes, such as 15 min."),
    may("parts", Holds::Texts, "What must be at hand."),
    may("needs", Holds::Ids, "Conditions that must hold before it, such as warm_oil."),
    may("leaves", Holds::Ids, "Conditions that hold after it."),
    may("ends", Holds::Ids, "Conditions that no longer hold after it."),
    may(
        "outdates",
        Holds::Ids,
        "Questions whose answers from before it tell of something else than what is there now.",
    ),
    may(
        "once_done",
        Holds::Text,
        "It in a few words that fit after before, once it is done: the oil was changed.",
    ),
    may(
        "told_as",
        Holds::Texts,
        "What people say who have done it, such as changed the oil: its words count wherever they are \
         typed.",
    ),
    may("done_if", Holds::Text, "What shows that it is done already: then it is no repair to try."),
    may(
        "not_if",
        Holds::Text,
        "What shows that the fault isn't where it works: then it is no repair to try.",
    ),
    may("hazard", Holds::Text, "yes where it is work for a licensed person only."),
    may("cautions", Holds::Ids, "Cautions shown before it."),
];

/// The keys of a tree.
pub const TREE_KEYS: &[Key] = &[
    must("title", Holds::Text, "What people call it."),
    may("say", Holds::Text, "What is done first in it, for a caller who sees no screen."),
    may("takes", Holds::Text, "How long it takes, such as 20 min."),
    must("start", Holds::Id, "Its first step."),
    may("rounds", Holds::Id, "A question of kind text: the tree runs once for each thing named."),
    must("steps", Holds::Steps, "Its steps by their ids."),
];

/// The keys of a caution.
pub const CAUTION_KEYS: &[Key] = &[
    must(
        "severity",
        Holds::Word(Words::Severity),
        "How grave it is; a stop must be acknowledged before anything goes on.",
    ),
    may(
        "only_if",
        Holds::Text,
        "Where it applies: it is left out where this is known not to hold. Not beside a stop.",
    ),
    must("text", Holds::Text, "What could hurt, and how to avoid it."),
    may("refer", Holds::Text, "Whom to ask; a stop must say so."),
];

/// The keys of a source.
pub const SOURCE_KEYS: &[Key] = &[
    must("title", Holds::Text, "What it is called."),
    may("by", Holds::Text, "Who published it."),
    may("year", Holds::Text, "When it came out."),
    may("where", Holds::Text, "Where in it, or where it is to be had."),
];
