//! The two widgets a screen needs: a list to pick from and a field to type in.

use crate::terminal::prompt::{are_words, is_id};
use crate::terminal::words::{Action, folded};

/// When an entry of a list is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Presence {
    /// Unless the filter rules it out.
    Filtered,
    /// Whatever the filter, at the end: a way out when nothing answers to it.
    Lasting,
    /// Only when its beginning is typed.
    Hidden,
    /// Only while nothing is typed, and then first: what Enter by accident picks.
    Idle,
}

/// An entry of a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Entry {
    /// What is picked.
    pub label: String,
    /// What helps to tell it from the others; may be empty.
    pub hint: String,
    /// What the handbook calls it; may be empty.
    pub id: String,
    /// Words that may be typed for it as well.
    pub words: Vec<String>,
    /// When it is shown.
    pub presence: Presence,
}

impl Entry {
    /// Whether it is a row of the list as it is read.
    pub(super) fn is_numbered(&self) -> bool {
        matches!(self.presence, Presence::Filtered | Presence::Lasting)
    }

    /// Whether every word of a filter stands in what is picked, or in words that may be typed for it.
    fn is_about(&self, filter: &str) -> bool {
        let about = format!("{} {}", self.label, self.words.join(" ")).to_lowercase();
        filter.split_whitespace().all(|word| about.contains(word))
    }
}

/// A list to walk or filter; never empty.
#[derive(Clone, Debug, Default)]
pub(super) struct PickList {
    /// What stands before the filter, one row.
    pub message: String,
    /// The entries in reading order.
    pub entries: Vec<Entry>,
    /// What the filter begins with.
    pub filter: String,
    /// Whether Esc leaves the list, since nothing else can be done.
    pub is_left_by_esc: bool,
    /// Whether a filter that several entries answer to is asked about.
    pub asks_which: bool,
    /// The filter that was asked about last.
    pub asked: String,
    /// The place of the entry that is marked while nothing is typed, and is picked by Enter.
    pub preset: Option<usize>,
}

impl PickList {
    /// The entries that are as likely meant as the one that was picked, if it is only the first of
    /// several that answer to the filter and nobody has been asked which of them.
    pub(super) fn in_doubt(&self, picked: &Picked) -> Vec<&Entry> {
        let typed = folded(&picked.filter);
        let is_asked = folded(&self.asked) == typed;
        if !self.asks_which || typed.is_empty() || is_asked {
            return Vec::new();
        }
        let scores: Vec<(i64, &Entry)> = (self.entries.iter().enumerate())
            .filter_map(|(place, entry)| Some((score(&typed, entry, place)?, entry)))
            .filter(|(score, entry)| *score > 0 && entry.presence != Presence::Hidden)
            .collect();
        let is_first = (self.entries.get(picked.place)).is_some_and(|entry| {
            let own = score(&typed, entry, picked.place);
            scores.iter().all(|(score, _)| Some(*score) <= own)
        });
        let is_named = (self.entries.iter().enumerate()).any(|(place, entry)| {
            let is_number = typed.trim_end_matches(['.', ')']).parse() == Ok(place + 1);
            is_number || entry.label.to_lowercase() == typed || is_id(&entry.id, &typed)
        });
        if !is_first || is_named || scores.len() < 2 {
            return Vec::new();
        }
        scores.into_iter().map(|(_, entry)| entry).collect()
    }
}

/// The entry picked from a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Picked {
    /// Its place, from 0.
    pub place: usize,
    /// What stood in the filter.
    pub filter: String,
}

/// A field to type in.
#[derive(Clone, Debug)]
pub(super) struct Field {
    /// What stands before the text, one row.
    pub message: String,
    /// What stands below it.
    pub help: String,
    /// What it begins with.
    pub text: String,
}

/// How a widget was left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Left<T> {
    /// With an answer.
    Answered(T),
    /// By Esc, or by Ctrl-D in a list that is being filtered; with what had been typed.
    Escaped(String),
    /// By Ctrl-D where nothing was typed.
    Ended,
    /// By Ctrl-C.
    Interrupted,
    /// The terminal cannot be read or written.
    Broken,
}

/// Who draws the widgets.
pub(super) trait Widgets {
    /// Lets an entry be picked.
    fn pick(&mut self, list: &PickList) -> Left<Picked>;

    /// Lets a text be typed.
    fn type_text(&mut self, field: &Field) -> Left<String>;
}

/// How well an entry answers to a filter: higher comes first, `None` is not shown. Entries alike
/// keep their order. A number is the place in the list; a word finds the labels that begin so,
/// then those that contain it, in the label or in words that may be typed for it, then the hints
/// that do; several words must all be there. A hidden word typed in full comes with the labels that begin so, begun it comes last.
pub(super) fn score(filter: &str, entry: &Entry, place: usize) -> Option<i64> {
    let filter = folded(filter);
    let label = entry.label.to_lowercase();
    let hint = entry.hint.to_lowercase();
    let is_its_word = Action::from_word(&filter).is_some_and(|action| action.word() == label);
    let rank = if entry.presence == Presence::Idle {
        filter.is_empty().then_some(1)
    } else if entry.presence == Presence::Hidden {
        // Who says no means neither a note nor that they are not sure.
        let is_begun = !filter.is_empty() && filter != "no" && label.starts_with(&filter);
        if is_its_word { Some(4) } else { is_begun.then_some(1) }
    } else if filter.is_empty() {
        Some(0)
    } else if filter == "no" && label == Action::NotSure.word() {
        (entry.presence == Presence::Lasting).then_some(0)
    } else if filter.trim_end_matches(['.', ')']).parse() == Ok(place + 1)
        || are_words(&entry.words, &filter)
    {
        Some(5)
    } else if label.starts_with(&filter) || is_its_word || is_id(&entry.id, &filter) {
        Some(4)
    } else if filter.split_whitespace().all(|word| label.contains(word)) {
        Some(3)
    } else {
        let is_found = |word| label.contains(word) || hint.contains(word);
        let is_found = entry.is_about(&filter) || filter.split_whitespace().all(is_found);
        let is_lasting = entry.presence == Presence::Lasting;
        is_found.then_some(2).or(is_lasting.then_some(0))
    };
    let later = i64::try_from(place).unwrap_or(i64::MAX).min(LONGEST_LIST - 1);
    rank.map(|rank: i64| rank * LONGEST_LIST - later)
}

/// Whether an entry is there only because it lasts: the filter finds something else, or nothing.
pub(super) fn is_not_what_was_typed(filter: &str, entry: &Entry, place: usize) -> bool {
    !folded(filter).is_empty() && score(filter, entry, place).is_none_or(|score| score <= 0)
}

/// More entries than any list has, so that no place outweighs a rank.
const LONGEST_LIST: i64 = 1_000_000;

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(label: &str, hint: &str, presence: Presence) -> Entry {
        let id = label.get(..4).unwrap_or_default().replace("clou", "milky_oil");
        Entry { label: label.to_owned(), hint: hint.to_owned(), id, words: Vec::new(), presence }
    }

    /// The labels that a filter leaves, best first.
    fn found(filter: &str) -> Vec<&'static str> {
        let rows = [
            ("clear", "like water", Presence::Filtered),
            ("cloudy", "white or milky", Presence::Filtered),
            ("3 drops", "water under clear oil", Presence::Filtered),
            ("more", "", Presence::Lasting),
            ("why", "see why this is asked", Presence::Hidden),
        ];
        let mut scored: Vec<(i64, &str)> = rows
            .iter()
            .enumerate()
            .filter_map(|(place, (label, hint, presence))| {
                score(filter, &entry(label, hint, *presence), place).map(|s| (s, *label))
            })
            .collect();
        scored.sort_unstable_by_key(|(score, _)| std::cmp::Reverse(*score));
        scored.into_iter().map(|(_, label)| label).collect()
    }

    #[test]
    fn without_a_filter_the_list_is_in_order_and_hidden_words_are_hidden() {
        assert_eq!(found(""), ["clear", "cloudy", "3 drops", "more"]);
        assert_eq!(found("  "), ["clear", "cloudy", "3 drops", "more"]);
    }

    #[test]
    fn a_filter_finds_numbers_beginnings_parts_and_hints_in_that_order() {
        assert_eq!(found("cl"), ["clear", "cloudy", "3 drops", "more"]);
        assert_eq!(found("2"), ["cloudy", "more"]);
        assert_eq!(found("2."), ["cloudy", "more"]);
        assert_eq!(found("3"), ["3 drops", "more"]);
        assert_eq!(found("drop 3"), ["3 drops", "more"]);
        assert_eq!(found("MILKY"), ["cloudy", "more"]);
        assert_eq!(found("oil drops"), ["3 drops", "more"]);
        assert_eq!(found("Milky_oil"), ["cloudy", "more"]);
        assert_eq!(found("milky oil")[0], "cloudy");
    }

    #[test]
    fn a_part_of_words_that_stand_for_an_entry_finds_it() {
        let mut stopped = entry("start again", "", Presence::Filtered);
        stopped.words = vec!["power cut".to_owned(), "breaker tripped".to_owned()];
        for filter in ["power", "trip", "start power"] {
            assert!(score(filter, &stopped, 0) > Some(0), "{filter}");
        }
        assert_eq!(score("pump", &stopped, 0), None);
    }

    #[test]
    fn who_says_no_is_not_taken_to_be_not_sure() {
        for presence in [Presence::Filtered, Presence::Lasting] {
            let unsure = entry("not sure", "", presence);
            assert!(score("no", &unsure, 3) <= Some(0), "{presence:?}");
            assert!(score("not", &unsure, 3) > Some(0), "{presence:?}");
        }
        let no = entry("no, it stands", "", Presence::Filtered);
        assert!(score("no", &no, 3) > Some(0));
    }

    #[test]
    fn where_nothing_answers_there_is_a_way_out() {
        assert_eq!(found("purple"), ["more"]);
    }

    #[test]
    fn the_idle_entry_is_first_while_nothing_is_typed() {
        let idle = entry("nothing chosen yet", "", Presence::Idle);
        let clear = entry("clear", "", Presence::Filtered);
        assert!(score("", &idle, 9) > score("", &clear, 0));
        assert_eq!(score("n", &idle, 9), None);
    }

    #[test]
    fn what_lasts_is_not_what_was_typed() {
        let more = entry("more", "", Presence::Lasting);
        assert!(is_not_what_was_typed("purple", &more, 3));
        assert!(!is_not_what_was_typed("mo", &more, 3) && !is_not_what_was_typed("4", &more, 3));
        assert!(!is_not_what_was_typed(" ", &more, 3));
    }

    #[test]
    fn a_hidden_word_appears_when_it_is_typed() {
        assert_eq!(found("why"), ["why", "more"]);
        assert_eq!(found("w"), ["clear", "cloudy", "3 drops", "why", "more"]);
        assert_eq!(found("why?"), ["why", "more"]);
    }
}
