//! The words a person may type, or choose, instead of an answer.

use super::past::{Past, past};
use crate::text::{Line, Role, says_not_sure};

/// What a person may want instead of answering.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Action {
    /// They cannot tell.
    NotSure,
    /// Leave this question unanswered.
    Skip,
    /// Go to the question before this one.
    Back,
    /// Be told why this is asked.
    Why,
    /// Write a note into the record.
    Note,
    /// Name a photo or another file that goes with the case.
    File,
    /// Answer another question first.
    Another,
    /// Take back an answer given earlier.
    TakeBack,
    /// See what is likely so far.
    Ranking,
    /// See where the case stands at a glance.
    Board,
    /// See what stands behind a cause, a finding or an answer.
    Explain,
    /// Be told how to leave the rig safely.
    Leave,
    /// Say that they won't find it, and be told what it was; of an exercise alone.
    GiveUp,
    /// Stop here; a case keeps everything.
    Stop,
    /// See everything that can be done. A console opens this menu itself and never returns it.
    More,
    /// See the words that can be typed. A console shows them itself and never returns it.
    Help,
}

/// One row of the table of words.
#[derive(Clone, Copy, Debug)]
struct Row {
    action: Action,
    /// The word shown; what a person types.
    word: &'static str,
    /// Other spellings that mean the same.
    also: &'static [&'static str],
    /// What it does, as the end of a sentence.
    does: &'static str,
}

/// Every action with its words, in the order in which they are listed.
const TABLE: [Row; 16] = [
    Row {
        action: Action::NotSure,
        word: "not sure",
        // In many other ways: see `says_not_sure`.
        also: &[],
        does: "you cannot tell",
    },
    Row {
        action: Action::Skip,
        word: "skip",
        also: &["pass"],
        does: "leave it open; at a safety question that counts as the dangerous answer",
    },
    Row {
        action: Action::Back,
        word: "back",
        also: &["previous"],
        does: "go to the question before",
    },
    Row { action: Action::Why, word: "why", also: &["why?"], does: "see why this is asked" },
    Row {
        action: Action::Note,
        word: "note",
        also: &["remark"],
        does: "write a note into the record",
    },
    Row {
        action: Action::File,
        word: "file",
        also: &["photo", "picture"],
        does: "name a photo or another file that goes with the case",
    },
    Row {
        action: Action::Another,
        word: "other",
        also: &["another"],
        does: "answer another question first",
    },
    Row {
        action: Action::TakeBack,
        word: "take back",
        also: &["undo", "takeback"],
        does: "take back an answer given earlier",
    },
    Row {
        action: Action::Ranking,
        word: "ranking",
        also: &["rank"],
        does: "see what is likely so far",
    },
    Row {
        action: Action::Board,
        word: "board",
        also: &["overview"],
        does: "see what is known, open and likely, and what to ask next",
    },
    Row {
        action: Action::Explain,
        word: "explain",
        also: &["why not", "reasons"],
        does: "see what stands behind a cause, a finding or an answer",
    },
    Row {
        action: Action::Leave,
        word: "leave",
        also: &["leaving"],
        does: "see how to leave the rig safely",
    },
    Row {
        action: Action::GiveUp,
        word: "give up",
        also: &[],
        does: "end it without naming anything and see what was hidden",
    },
    Row {
        action: Action::Stop,
        word: "stop",
        also: &["quit", "exit"],
        // Said at cases and at exercises alike.
        does: "stop here; a case keeps everything, an exercise begins anew",
    },
    Row {
        action: Action::More,
        word: "more",
        also: &["menu"],
        does: "see everything you can do here",
    },
    Row { action: Action::Help, word: "?", also: &["help"], does: "see these words" },
];

impl Action {
    /// Every action, in the order in which they are listed.
    #[must_use]
    pub fn all() -> [Self; 16] {
        TABLE.map(|row| row.action)
    }

    /// The word a person types for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        self.row().map_or("", |row| row.word)
    }

    /// What it does, as the end of a sentence: `go to the question before`.
    #[must_use]
    pub fn does(self) -> &'static str {
        self.row().map_or("", |row| row.does)
    }

    /// The action whose word was typed in full, whatever the case and the blanks.
    ///
    /// ```
    /// use dryhold::terminal::Action;
    /// assert_eq!(Action::from_word(" Not  SURE "), Some(Action::NotSure));
    /// assert_eq!(Action::from_word("no idea"), Some(Action::NotSure));
    /// assert_eq!(Action::from_word("undo"), Some(Action::TakeBack));
    /// assert_eq!(Action::from_word("not"), None);
    /// ```
    #[must_use]
    pub fn from_word(typed: &str) -> Option<Self> {
        let typed = folded(typed);
        TABLE
            .iter()
            .find(|row| row.word == typed || row.also.contains(&typed.as_str()))
            .map(|row| row.action)
            .or_else(|| says_not_sure(&typed).then_some(Self::NotSure))
    }

    /// Whether the console deals with it alone, without telling its caller.
    #[must_use]
    pub fn is_of_the_console(self) -> bool {
        matches!(self, Self::More | Self::Help)
    }

    fn row(self) -> Option<&'static Row> {
        TABLE.iter().find(|row| row.action == self)
    }
}

/// The actions offered that a caller is told of, in the order of the table, each once.
pub(super) fn offered(actions: &[Action]) -> Vec<Action> {
    let is_offered = |action: &Action| actions.contains(action) && !action.is_of_the_console();
    Action::all().into_iter().filter(is_offered).collect()
}

/// The table of words for a prompt that offers these actions: a line for each.
pub(super) fn table(actions: &[Action]) -> Vec<Line> {
    let mut listed = offered(actions);
    if !listed.is_empty() {
        listed.push(Action::More);
    }
    listed.push(Action::Help);
    listed.into_iter().map(explained).collect()
}

/// `why: see why this is asked`.
pub(super) fn explained(action: Action) -> Line {
    Line::new().push(Role::Name, action.word()).push(Role::Plain, format!(": {}", action.does()))
}

/// What says that something is done.
pub(super) const DONE: [&str; 10] =
    ["done", "d", "yes", "y", "ok", "next", "go on", "continue", "finished", "it is done"];

/// Of these what only nods: it says that a step is done, and lets a wait begin.
pub(super) const NODS: [&str; 6] = ["yes", "y", "ok", "next", "go on", "continue"];

/// Whether the text says that something is done. An empty line does not: Enter is pressed too
/// easily.
pub(super) fn is_done(typed: &str) -> bool {
    DONE.contains(&folded(typed).as_str()) || past(typed) == Some(Past { seconds: None })
}

/// Whether the text only nods.
pub(super) fn is_nod_to_go_on(typed: &str) -> bool {
    NODS.contains(&folded(typed).as_str())
}

/// What starts a wait, beside a nod.
pub(super) const START: [&str; 5] = ["start", "started", "begin", "begun", "go"];

/// Whether the text starts a wait.
pub(super) fn is_started(typed: &str) -> bool {
    is_nod_to_go_on(typed) || START.contains(&folded(typed).as_str())
}

/// What is said to a word that ticks nothing off where something is to be done: nothing has
/// happened yet, and what can be done instead.
pub(super) fn not_done(actions: &[Action]) -> Line {
    unless_it_is("Nothing is ticked off. Type done when it is done.", actions)
}

/// The same where a wait is to be started.
pub(super) fn not_started(actions: &[Action]) -> Line {
    unless_it_is(
        "The wait has not begun. Type start to begin it, or done if it has passed.",
        actions,
    )
}

fn unless_it_is(told: &str, actions: &[Action]) -> Line {
    let ways = [
        (Action::Skip, " leaves it undone and goes on"),
        (Action::Back, " goes to the question before"),
        (Action::Note, " keeps what is in the way"),
    ];
    let offered: Vec<(Action, &str)> =
        ways.into_iter().filter(|(action, _)| actions.contains(action)).collect();
    let mut line = Line::plain(told);
    for (place, (action, does)) in offered.iter().enumerate() {
        let lead = if place == 0 { " If it can't be done: " } else { ", " };
        line = line.push(Role::Plain, lead).push(Role::Name, action.word());
        line = line.push(Role::Plain, *does);
    }
    if offered.is_empty() { line } else { line.push(Role::Plain, ".") }
}

/// The words from which on a text at a step is taken for something else than a nod or a shake of
/// the head (limit of ours).
const WORDS_OF_A_REMARK: usize = 2;

/// Words that tell of a danger by themselves.
const ALARMING: [&str; 18] = [
    "gas", "gases", "fire", "fumes", "smoke", "leak", "smell", "smells", "hissing", "hisses",
    "ill", "sick", "dizzy", "sparks", "flames", "burns", "burning", "oxygen",
];

fn alarms(word: &str) -> bool {
    let word = word.trim_matches(|c: char| !c.is_alphanumeric());
    ALARMING.contains(&folded(word).as_str())
}

/// Whether what was typed at a step tells of something: two long words at the least, one that alarms,
/// figures with a word, or what was read.
pub(super) fn is_remark(typed: &str) -> bool {
    let words = || typed.split_whitespace();
    words().filter(|word| is_long(word)).count() >= WORDS_OF_A_REMARK
        || tells_of_work(typed)
        || words().any(alarms)
        || words().any(|word| OF_A_RISE.contains(&folded(word).as_str()))
        || has_figures_and_words(typed)
        || is_bare_figure(typed)
        || is_list_of_readings(typed)
}

/// Whether two words or more hold one of something that was done, as `changed the oil` does.
fn tells_of_work(typed: &str) -> bool {
    let mut words = typed.split_whitespace();
    let is_of_work = |word: &str| is_long(word) && folded(word).ends_with("ed");
    words.clone().count() > 1
        && words.clone().next().is_none_or(|first| folded(first) != "not")
        && words.any(is_of_work)
}

/// What somebody says who has watched a hold: `no rise at all`.
const OF_A_RISE: [&str; 4] = ["rise", "rose", "rises", "risen"];

/// Whether a number alone was typed.
pub(super) fn is_bare_figure(typed: &str) -> bool {
    typed.trim().parse::<f64>().is_ok_and(f64::is_finite)
        && typed.contains(|c: char| c.is_ascii_digit())
}

/// Whether a line holds several readings, each with its time: `0: 1500, 10: 1900`.
pub(super) fn is_list_of_readings(typed: &str) -> bool {
    let is_between = |c: char| !c.is_ascii_digit() && c != '.';
    let figures = |part: &str| part.split(is_between).filter(|figure| !figure.is_empty()).count();
    let mut parts = typed.split([',', ';']).map(str::trim).filter(|part| !part.is_empty());
    let many = parts.clone().count();
    many > 1 && parts.all(|part| figures(part) > 1)
}

/// Whether several words hold a figure and letters, as what was read does: `500 to 2500 in 10 min`.
fn has_figures_and_words(typed: &str) -> bool {
    typed.split_whitespace().count() > 1
        && typed.chars().any(char::is_alphabetic)
        && typed.chars().any(|character| character.is_ascii_digit())
}

/// Whether what was typed holds a word that may be looked for.
pub(super) fn may_be_elsewhere(typed: &str) -> bool {
    let words = || typed.split_whitespace();
    has_figures_and_words(typed)
        || is_fraction(typed)
        || is_list_of_readings(typed)
        || words().any(|word| is_long(word) || is_code(word) || alarms(word))
}

/// A size as hoses have it: `3/8`.
pub(super) fn is_fraction(typed: &str) -> bool {
    let is_number = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    typed.trim().split_once('/').is_some_and(|(over, under)| is_number(over) && is_number(under))
}

/// Whether a word names something by letters and figures, as a refrigerant is: `R-290`, `CO2`.
pub(super) fn is_code(word: &str) -> bool {
    let figures = word.trim_start_matches(char::is_alphabetic);
    let is_figures = |c: char| c.is_ascii_digit() || c == '-' || c.is_ascii_alphabetic();
    let letters = word.chars().count() - figures.chars().count();
    let many = figures.chars().filter(char::is_ascii_digit).count();
    letters > 0 && figures.chars().all(is_figures) && (many > 1 || many == 1 && letters > 1)
}

/// Words shorter than this say too little to look for (limit of ours).
const LONG_WORD: usize = 4;

fn is_long(word: &str) -> bool {
    word.chars().filter(|character| character.is_alphabetic()).count() >= LONG_WORD
}

/// The text in lower case with single blanks between its words, as typed answers are compared.
pub(super) fn folded(text: &str) -> String {
    text.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_word_means_one_action() {
        let words: Vec<&str> =
            TABLE.iter().flat_map(|row| row.also.iter().copied().chain([row.word])).collect();
        assert_eq!(words.iter().collect::<BTreeSet<_>>().len(), words.len());
        for word in words {
            assert_eq!(folded(word), word, "`{word}` could never be typed");
        }
    }

    #[test]
    fn no_handbook_can_give_a_word_another_meaning() {
        for row in TABLE {
            for word in row.also.iter().chain([&row.word]) {
                assert!(crate::text::is_prompt_word(word), "{word}");
            }
        }
    }

    #[test]
    fn every_action_finds_itself_by_its_word() {
        for action in Action::all() {
            assert_eq!(Action::from_word(action.word()), Some(action));
            assert!(!action.does().is_empty());
        }
    }

    #[test]
    fn what_ticks_nothing_off_is_told_what_can_be_done() {
        let told = not_done(&[Action::Note, Action::Skip, Action::Back, Action::Stop]).to_text();
        let expected = "Nothing is ticked off. Type done when it is done. If it can't be done: \
                        skip leaves it undone and goes on, back goes to the question before, note \
                        keeps what is in the way.";
        assert_eq!(told, expected);
        let told = not_started(&[Action::Skip]).to_text();
        let expected = "The wait has not begun. Type start to begin it, or done if it has passed. \
                        If it can't be done: skip leaves it undone and goes on.";
        assert_eq!(told, expected);
        assert_eq!(not_done(&[]).to_text(), "Nothing is ticked off. Type done when it is done.");
    }

    #[test]
    fn a_wait_is_started_by_its_own_words_and_by_a_nod() {
        for typed in ["start", "Begin", "yes", "OK"] {
            assert!(is_started(typed), "{typed}");
        }
        assert!(!is_started("") && !is_started("not yet") && !is_done("start"));
        assert!(!is_started("done") && is_done("done"), "it has passed");
        assert!(is_done("did that already") && !is_done("waited 5 min"));
    }

    #[test]
    fn a_refrigerant_may_be_meant_for_another_question() {
        for typed in ["R-290", "r290", "R-1234yf", "it is r32"] {
            assert!(may_be_elsewhere(typed), "{typed}");
        }
        assert!(!may_be_elsewhere("12") && !may_be_elsewhere("b2") && !may_be_elsewhere("0.5"));
    }

    #[test]
    fn a_remark_is_more_than_a_nod() {
        for nod in ["no", "not yet", "I can't", "can't do it", "not sure"] {
            assert!(!is_remark(nod), "{nod}");
        }
        assert!(is_remark("the pump smells of burning") && is_remark("I smell gas"));
        assert!(is_remark("changed the oil") && !is_remark("not needed") && !is_remark("finished"));
    }

    #[test]
    fn the_table_shows_what_is_offered_and_the_help() {
        let shown: Vec<String> =
            table(&[Action::Why, Action::NotSure]).iter().map(Line::to_text).collect();
        assert_eq!(
            shown,
            [
                "not sure: you cannot tell",
                "why: see why this is asked",
                "more: see everything you can do here",
                "?: see these words",
            ]
        );
        assert_eq!(table(&[]).len(), 1);
    }
}
