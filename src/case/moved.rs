//! What an event changed: the computation in words, and which conclusions moved.

use super::event::Event;
use super::now::Passage;
use super::walk::Walk;
use crate::evidence::wording::in_words;
use crate::evidence::{Assessment, FindingState, Judged, speaks};
use crate::handbook::Handbook;
use crate::text::{Line, Role};

/// What there is to say after an event.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct News {
    /// Findings that have something new to say, in words.
    pub computed: Vec<Line>,
    /// After a correction or a take-back: which conclusions moved.
    pub moved: Vec<Line>,
    /// Steps passed over because their answer was known.
    pub passed_over: Vec<Line>,
}

/// Compares a case before and after an event.
#[must_use]
pub(super) fn compare(
    handbook: &Handbook,
    event: &Event,
    (old_walk, old): (&Walk, &Assessment),
    (walk, new): (&Walk, &Assessment),
) -> News {
    let is_revision = matches!(event, Event::Corrected { .. } | Event::TakenBack { .. });
    News {
        computed: if is_revision { Vec::new() } else { computed(old, new) },
        moved: if is_revision { moved(handbook, old, new) } else { Vec::new() },
        passed_over: passed_over(handbook, old_walk, walk),
    }
}

/// The sentences of findings that now say something else than before.
fn computed(old: &Assessment, new: &Assessment) -> Vec<Line> {
    let handbook_findings = old.witnesses.iter().filter(|witness| !witness.is_past);
    let pairs = handbook_findings.map(|old| (&old.judged, new.finding(old.finding)));
    pairs
        .filter(|(old, new)| speaks(&new.state) && (old.state != new.state || old.text != new.text))
        .map(|(_, new)| with_margin(new))
        .collect()
}

/// The sentence, and by how much: `... That is 12 +- 6 micron above the_limit.`
fn with_margin(judged: &Judged) -> Line {
    match &judged.margin {
        Some(margin) => judged
            .text
            .clone()
            .push(Role::Plain, " That is ")
            .join(margin.clone())
            .push(Role::Plain, "."),
        None => judged.text.clone(),
    }
}

fn moved(handbook: &Handbook, old: &Assessment, new: &Assessment) -> Vec<Line> {
    let mut lines = Vec::new();
    for id in handbook.finding_ids() {
        let (was, is) = (state_word(&old.finding(id).state), state_word(&new.finding(id).state));
        if was != is {
            let name = handbook.finding(id).id.clone();
            lines.push(
                Line::new()
                    .push(Role::Name, name)
                    .push(Role::Plain, format!(" was {was}, and is {is} now.")),
            );
        }
    }
    for ranked in &new.ranking {
        let (was, is) = (in_words(old.probability(ranked.cause)), in_words(ranked.probability));
        if was != is {
            let name = &handbook.cause(ranked.cause).name;
            lines.push(Line::plain(format!("{name} was {was}, and is {is} now.")));
        }
    }
    if lines.is_empty() {
        lines.push(Line::plain("No conclusion moved."));
    }
    lines
}

/// `true`, `false`, `too close`, `not applicable`, `not known`, or the choice's number.
#[must_use]
pub fn state_word(state: &FindingState) -> String {
    match state {
        FindingState::True(_) => "true".to_owned(),
        FindingState::False(_) => "false".to_owned(),
        FindingState::TooClose(_) => "too close to tell".to_owned(),
        FindingState::Seen(choice) => format!("seen (choice {})", choice + 1),
        FindingState::NotApplicable(_) => "not applicable".to_owned(),
        FindingState::Unknown(_) => "not known".to_owned(),
    }
}

fn passed_over(handbook: &Handbook, old: &Walk, new: &Walk) -> Vec<Line> {
    let fresh = new.path.iter().skip(old.path.len());
    fresh
        .filter(|passed| passed.passage == Passage::Known)
        .filter_map(|passed| {
            let tree = handbook.tree(passed.place.tree);
            let crate::handbook::StepKind::Ask { question, .. } = tree.step(passed.place.step).kind
            else {
                return None;
            };
            let typed = new.record.answers(question).last().map(|(_, g)| g.typed.clone())?;
            let id = &handbook.question(question).id;
            Some(
                Line::new()
                    .push(Role::Quiet, "Known already: ")
                    .push(Role::Name, id.clone())
                    .push(Role::Quiet, format!(" is {typed}.")),
            )
        })
        .collect()
}
