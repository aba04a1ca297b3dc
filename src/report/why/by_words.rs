//! What is named by words of what people read: whole, by how it begins, or by a few of its words.

use super::Asked;
use crate::case::{ActionId, Case, TreeId};

/// The most names that are proposed where several fit (limit of ours).
const MOST_NAMED: usize = 6;

/// An entry with the texts that people read of it.
struct Read {
    asked: Asked,
    id: String,
    texts: Vec<String>,
}

/// What the words are the whole of: findings by their names, questions by what they ask, trees by their
/// titles, actions by how their instruction begins.
pub(super) fn whole(case: &Case<'_>, words: &str) -> Option<Asked> {
    let words = words.trim_end_matches('.').to_lowercase();
    let mut begun = None;
    let mut begin = 0;
    for read in all(case) {
        if read.texts.iter().any(|text| text.trim_end_matches('.') == words) {
            return Some(read.asked);
        }
        let is_begun = read.texts.iter().any(|text| text.starts_with(&words));
        if is_begun && matches!(read.asked, Asked::Action(_)) {
            begun = Some(read.asked);
            begin += 1;
        }
    }
    // A word or two may begin several instructions; then none of them is meant.
    begun.filter(|_| begin == 1)
}

/// The only entry that begins so, or else the only one that holds all of the words.
///
/// # Errors
/// The ids of those that hold them all, a few at most; none where nothing does.
pub(super) fn in_part(case: &Case<'_>, words: &str) -> Result<Asked, Vec<String>> {
    let words = words.trim().trim_end_matches(['.', '?']).to_lowercase();
    let wanted: Vec<&str> = words.split(is_between).filter(|word| !word.is_empty()).collect();
    if wanted.is_empty() {
        return Err(Vec::new());
    }
    // One word may be the id of something mistyped, and is not taken for a few of a text's.
    let is_sentence = words.contains(char::is_whitespace);
    let all = all(case);
    let begins = |read: &&Read| read.texts.iter().any(|text| text.starts_with(&words));
    if let Some(read) = only(all.iter().filter(begins)).filter(|_| is_sentence) {
        return Ok(read.asked);
    }
    let of_id = |read: &&Read| holds(&read.id, &wanted);
    let of_text = |read: &&Read| read.texts.iter().any(|text| holds(text, &wanted));
    match only(all.iter().filter(of_text)).filter(|_| is_sentence) {
        Some(read) => Ok(read.asked),
        // An id is what can be typed, so those that hold the words come first.
        None => {
            let by_text = all.iter().filter(of_text).filter(|read| !of_id(read));
            let named = all.iter().filter(of_id).chain(by_text);
            Err(named.take(MOST_NAMED).map(|read| read.id.clone()).collect())
        }
    }
}

fn only<T>(mut all: impl Iterator<Item = T>) -> Option<T> {
    all.next().filter(|_| all.next().is_none())
}

/// What stands between two words.
fn is_between(character: char) -> bool {
    !character.is_alphanumeric()
}

/// Whether a text holds every word.
fn holds(text: &str, wanted: &[&str]) -> bool {
    wanted.iter().all(|word| text.split(is_between).any(|held| held == *word))
}

/// Everything that words may name, its texts in small letters.
fn all(case: &Case<'_>) -> Vec<Read> {
    let handbook = case.handbook();
    let read = |asked: Asked, id: &str, texts: Vec<String>| Read {
        asked,
        id: id.to_owned(),
        texts: texts.iter().map(|text| text.trim().to_lowercase()).collect(),
    };
    let causes = handbook.cause_ids().map(|cause| {
        let view = case.cause_view(cause);
        read(Asked::Cause(cause), &handbook.cause(cause).id, vec![view.name, view.in_short])
    });
    let findings = case.finding_ids().map(|id| {
        let finding = handbook.finding(id);
        let names = [&finding.name, &finding.name_not].into_iter().flatten().cloned();
        read(Asked::Finding(id), &finding.id, names.collect())
    });
    let questions = case.question_ids().map(|id| {
        let view = case.question_view(id);
        read(Asked::Question(id), &view.id, vec![view.ask.to_text()])
    });
    let trees = handbook.trees().iter().enumerate().map(|(place, tree)| {
        read(Asked::Tree(TreeId::at(place)), &tree.id, vec![tree.title.clone()])
    });
    let actions = handbook.action_ids().map(|id: ActionId| {
        let view = case.action_view(id);
        read(Asked::Action(id), &view.id, vec![view.instruction.to_text()])
    });
    causes.chain(findings).chain(questions).chain(trees).chain(actions).collect()
}
