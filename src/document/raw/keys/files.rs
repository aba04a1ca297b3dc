//! The keys of files and of what trees are made of.

use super::super::Section;
use super::{Holds, Key, Words, may, must};

/// The keys of a handbook's file.
pub const FILE_KEYS: &[Key] = &[
    may("format", Holds::Word(Words::Format), "The format of the language; 1 is the only one."),
    may("name", Holds::Text, "What the handbook is called."),
    may("version", Holds::Text, "Its version; raise it when you change the rules."),
    may(
        "call_in",
        Holds::Text,
        "Whom to call in where its advice ends, such as `a licensed electrician`; else `a licensed \
         person`.",
    ),
    may(
        "leave_by",
        Holds::Id,
        "The tree that says how to leave the work safely, named to whoever stops in the middle.",
    ),
    may("questions", Holds::Entries(Section::Questions), "What is asked."),
    may("instruments", Holds::Entries(Section::Instruments), "What measures."),
    may("formulas", Holds::Entries(Section::Formulas), "What is computed."),
    may("findings", Holds::Entries(Section::Findings), "What counts as evidence."),
    may("causes", Holds::Entries(Section::Causes), "What may be wrong."),
    may("actions", Holds::Entries(Section::Actions), "What may be done."),
    may("trees", Holds::Entries(Section::Trees), "What is asked in which order."),
    may("cautions", Holds::Entries(Section::Cautions), "What could hurt."),
    may("sources", Holds::Entries(Section::Sources), "Where numbers come from."),
];

/// The kinds of steps; a step is exactly one of them.
pub const STEP_KINDS: &[&str] = &["do", "ask", "action", "visit", "stop", "end"];

/// The keys of a step. `next` must be written on all but `stop` and `end`, where it may not.
pub const STEP_KEYS: &[Key] = &[
    may("was", Holds::Id, "The id that this step had before."),
    may("do", Holds::Text, "Says what to do."),
    may("ask", Holds::Id, "Asks a question; one that has an answer is passed."),
    may("action", Holds::Id, "Says to do an action of the handbook."),
    may("visit", Holds::Id, "Runs another tree and comes back."),
    may("stop", Holds::Text, "Ends the work for safety."),
    may("end", Holds::Text, "Says what has been done; the tree is over."),
    may(
        "next",
        Holds::Next,
        "What follows: a step; a step for each answer; or a list of conditions ended by else.",
    ),
    may("at_most", Holds::WholeNumber, "How often the step may be run, on a circle of steps."),
    may(
        "then",
        Holds::IdOrIds,
        "The step that follows when at_most is used up; on an end, the trees to offer.",
    ),
    may(
        "closes",
        Holds::Word(Words::Closes),
        "Of an end that closes the work: proved, where what the work was for has been shown; \
         done, where the way is at its end; planned, where what is to be done has been laid down; \
         waits, where the work has been left for another day.",
    ),
    may("again", Holds::Flag, "Whether a question that has an answer is asked anew."),
    may(
        "optional",
        Holds::Flag,
        "Of an action: whether the tree goes on where it is passed over; else the tree is over then.",
    ),
    may("wait", Holds::Text, "How long to wait after doing it, such as 5 min."),
    may("cautions", Holds::Ids, "Cautions shown before it."),
    may("why", Holds::Text, "Of a stop: why."),
    may("refer", Holds::Text, "Of a stop: whom to ask."),
    may(
        "meanwhile",
        Holds::Id,
        "Of a stop: the tree that may be begun meanwhile, as a case of its own.",
    ),
];

/// The keys of a target in another tree.
pub const TARGET_KEYS: &[Key] = &[must("tree", Holds::Id, "Another tree, without coming back.")];

/// The keys of a condition in a list of branches.
pub const BRANCH_KEYS: &[Key] = &[
    must("if", Holds::Text, "A condition; yes where at least nine of ten draws say so."),
    must("go", Holds::Target, "Where it leads when it holds."),
];

/// The keys of the other rows in a list of branches. `else` must be written in one of them.
pub const DOUBT_KEYS: &[Key] = &[
    may("else", Holds::Target, "Where it leads when no condition holds."),
    may("too_close", Holds::Target, "Where it leads when a condition is too close to call."),
    may("unknown", Holds::Target, "Where it leads when a condition can't be told."),
];

/// The keys of an answers file.
pub const ANSWERS_KEYS: &[Key] = &[
    may("tree", Holds::Id, "The tree to run."),
    may("answers", Holds::Answers, ANSWERS),
    may("acknowledge", Holds::Ids, ACKNOWLEDGE),
];

/// The keys of a scenario.
pub const SCENARIO_KEYS: &[Key] = &[
    must("scenario", Holds::Text, "What the scenario is called."),
    must("tree", Holds::Id, "The tree to run."),
    may("answers", Holds::Answers, ANSWERS),
    may("acknowledge", Holds::Ids, ACKNOWLEDGE),
    may(
        "told",
        Holds::Ids,
        "Questions whose answers are told before the first question, asked for or not.",
    ),
    may("rig", Holds::Map(RIG_KEYS), "A simulated rig that gives the answers not written here."),
    may("expect", Holds::Map(EXPECTATION_KEYS), "What must come out."),
];

/// The keys of a simulated rig.
pub const RIG_KEYS: &[Key] = &[
    may(
        "faults",
        Holds::TextById,
        "By fault, its size, such as 4 g, or yes where it has none; a sound rig without any.",
    ),
    may("seed", Holds::WholeNumber, "What chance begins with; 1 if it is left out."),
    may("target", Holds::Text, "The vacuum that the job asks for; 500 micron if it is left out."),
    may("trees", Holds::WholeNumber, "With how many trees it is gone on at most; 10 if left out."),
];

const ANSWERS: &str =
    "By question, the answers as they would be typed; a list answers a repeated one in turn.";
const ACKNOWLEDGE: &str = "The cautions that are acknowledged.";

/// The keys of what must come out of a scenario.
pub const EXPECTATION_KEYS: &[Key] = &[
    may("settled", Holds::YesNo, "Whether the case is settled."),
    may(
        "ranking",
        Holds::TextById,
        "By cause or nothing_wrong, how likely it is, such as at least likely.",
    ),
    may("findings", Holds::TextById, "By finding: true, false, too close, a choice and so on."),
    may("next", Holds::Ids, "Questions that the best next checks ask for; [] for none left."),
    may(
        "end",
        Holds::Text,
        "The step at which it ends: STEP of its own tree, or TREE.STEP of another.",
    ),
    may(
        "stopped",
        Holds::Text,
        "yes, no, the id of a stop caution, or the id of a step that stops.",
    ),
];
