//! Words weighed against the words of every question.

use std::collections::{BTreeMap, BTreeSet};

use super::searching::{stem, tells, words};
use crate::case::{Case, QuestionId};
use crate::terminal::words::folded;

/// What part of a word, and what stands in an answer, counts of a whole word that is asked with
/// (`estimate`).
const PART: f64 = 0.5;
const ANSWER: f64 = 0.9;

/// A question's words as they are compared.
pub(super) struct Texts {
    pub id: QuestionId,
    /// As it is asked, as it is said on the phone, and its id.
    pub asked: [BTreeSet<String>; 3],
    answers: Vec<BTreeSet<String>>,
    /// What stands for the dangerous answer of a safety question.
    dangerous: BTreeSet<String>,
    pub is_danger: bool,
}

impl Texts {
    fn of(case: &Case<'_>, id: QuestionId) -> Self {
        let view = case.question_view(id);
        let said = view.say.map(|say| say.to_text()).unwrap_or_default();
        let dangerous = case.dangerous_choice(id);
        let answer = |(choice, label): &(String, String)| {
            // What takes a danger away speaks of other things: a safety question is found by its danger.
            let counts = dangerous.is_none_or(|danger| danger == choice || !is_yes_no(choice));
            let own = view.in_words.iter().filter(|(_, answer)| counts && answer == choice);
            let words: Vec<&str> = own.map(|(words, _)| words.as_str()).collect();
            telling(&format!("{label} {}", words.join(" ")))
        };
        Self {
            id,
            asked: [&view.ask.to_text(), &said, &view.id.replace('_', " ")]
                .map(|text| telling(text)),
            answers: view.options.iter().map(answer).collect(),
            dangerous: telling(&danger(case, id)),
            is_danger: case.handbook().question(id).hazard.is_some(),
        }
    }

    fn all(&self) -> BTreeSet<&String> {
        self.asked.iter().chain(&self.answers).flatten().collect()
    }
}

fn is_yes_no(choice: &str) -> bool {
    matches!(choice, "yes" | "no")
}

/// The words of a safety question's dangerous answer.
fn danger(case: &Case<'_>, id: QuestionId) -> String {
    let label = case.danger_label(id).unwrap_or_default();
    case.danger_words(id).fold(label.to_owned(), |all, words| format!("{all} {words}"))
}

/// Words that stand in questions of all sorts and tell none of them.
const OF_ALL_SORTS: [&str; 44] = [
    "about", "after", "all", "also", "any", "around", "been", "before", "being", "can", "could",
    "did", "does", "each", "her", "him", "his", "how", "into", "its", "not", "one", "only",
    "other", "others", "our", "over", "still", "than", "them", "then", "they", "too", "what",
    "where", "which", "who", "why", "will", "would", "you", "your", "again", "both",
];

/// The stems of the words that tell something.
pub(super) fn telling(text: &str) -> BTreeSet<String> {
    let is_number = |word: &&str| word.bytes().all(|byte| byte.is_ascii_digit());
    let folded = folded(text);
    let all: Vec<&str> = words(&folded).collect();
    // Of two things of a kind the letter behind tells which: gauge A, gauge B.
    let lettered = all.windows(2).filter(|pair| matches!(pair[1], "a" | "b") && tells(pair[0]));
    let lettered = lettered.map(|pair| format!("{} {}", stem(pair[0]), pair[1]));
    all.iter()
        .filter(|word| tells(word) && !is_number(word) && !OF_ALL_SORTS.contains(word))
        .map(|word| stem(word).to_owned())
        .chain(lettered)
        .collect()
}

/// How much of a word is among others: all of it, a part, or nothing.
fn held(word: &str, among: &BTreeSet<String>) -> f64 {
    let is_part = |known: &&String| {
        let shorter = word.chars().count().min(known.chars().count());
        shorter > 3 && (known.starts_with(word) || word.starts_with(known.as_str()))
    };
    match among.contains(word) {
        true => 1.0,
        false if among.iter().any(|known| is_part(&known)) => PART,
        false => 0.0,
    }
}

/// All questions, and how many of them have each word.
pub(super) struct Known {
    pub questions: Vec<Texts>,
    pub many: BTreeMap<String, usize>,
}

impl Known {
    pub(super) fn of(case: &Case<'_>) -> Self {
        let questions: Vec<Texts> = case.question_ids().map(|id| Texts::of(case, id)).collect();
        let mut many = BTreeMap::new();
        for word in questions.iter().flat_map(Texts::all) {
            *many.entry(word.clone()).or_insert(0) += 1;
        }
        Self { questions, many }
    }

    /// The more questions have a word, the less it tells.
    fn rarity(&self, word: &str) -> f64 {
        let many = self.many.get(word).copied().unwrap_or(0).max(1);
        libm::log(1.0 + as_number(self.questions.len()) / as_number(many))
    }

    fn total(&self, words: &BTreeSet<String>) -> f64 {
        words.iter().map(|word| self.rarity(word)).sum()
    }

    pub(super) fn weigh(&self, said: &BTreeSet<String>, texts: &Texts) -> Weighed {
        let sum = |held: &dyn Fn(&str) -> f64| -> f64 {
            said.iter().map(|word| self.rarity(word) * held(word)).sum()
        };
        let asked =
            |word: &str| texts.asked.iter().map(|text| held(word, text)).fold(0.0, f64::max);
        let in_answer = |answer: &BTreeSet<String>| {
            sum(&|word| f64::max(asked(word), ANSWER * held(word, answer)))
        };
        let best = texts.answers.iter().map(in_answer).fold(sum(&asked), f64::max);
        let of_field = |field: &BTreeSet<String>| {
            sum(&|word| held(word, field)) / self.total(field).max(f64::MIN_POSITIVE)
        };
        let own = texts.asked.iter().map(of_field).fold(0.0, f64::max);
        let own = texts.answers.iter().map(|text| PART * of_field(text)).fold(own, f64::max);
        let in_any = |word: &&String| {
            texts.asked.iter().chain(&texts.answers).any(|text| held(word, text) > 0.0)
        };
        let whole =
            |word: &&String| texts.asked.iter().chain(&texts.answers).any(|t| t.contains(*word));
        let total = self.total(said).max(f64::MIN_POSITIVE);
        let known = sum(&|word| f64::from(u8::from(self.many.contains_key(word))));
        Weighed {
            share: best / total,
            own: own.min(1.0),
            whole: said.iter().filter(whole).count(),
            in_part: said.iter().filter(in_any).count(),
            // A part is not enough: a compressor is no compressed air.
            dangerous: sum(&|word| f64::from(u8::from(texts.dangerous.contains(word))))
                / known.max(f64::MIN_POSITIVE),
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a handbook has a few hundred questions")]
fn as_number(count: usize) -> f64 {
    count as f64
}

/// What a question has of what was said.
pub(super) struct Weighed {
    /// Of the weight of all that was said.
    pub share: f64,
    /// How much of its own words that is.
    pub own: f64,
    /// How many whole words, and how many of which a part at the least.
    pub whole: usize,
    pub in_part: usize,
    /// Of what was said and is known the share that stands for its dangerous answer.
    pub dangerous: f64,
}

impl Weighed {
    pub(super) fn weight(&self) -> f64 {
        self.share * (1.0 + self.own)
    }
}
