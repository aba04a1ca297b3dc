//! What an event changed: the computation in words, and which conclusions moved.

use super::event::Event;
use super::face;
use super::now::{Passage, Passed};
use super::walk::Walk;
use crate::evidence::wording::{Likelihood, in_words, word};
use crate::evidence::{Assessment, FindingState, Record, Saying, Worksheet, speaks};
use crate::handbook::{FindingId, QuestionId, StepKind};
use crate::text::{Line, Role, capital};

/// What there is to say after an event.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct News {
    /// Findings that have something new to say, in words.
    pub computed: Vec<Line>,
    /// After a correction or a take-back: which conclusions moved.
    pub moved: Vec<Line>,
    /// Steps passed over because their answer was known, each question once in a case; and those
    /// that ask about a reading that was not made.
    pub passed_over: Vec<Line>,
    /// After the answer about a gauge's face has changed: which readings were taken otherwise.
    pub faces: Vec<Line>,
    /// What the rounds that have just come to their end have done.
    pub rounds: Vec<Line>,
}

/// How a case stands or stood.
pub(super) struct Then<'a> {
    pub(super) sheet: Worksheet<'a>,
    pub(super) walk: &'a Walk,
    pub(super) assessment: &'a Assessment,
}

impl Then<'_> {
    fn text(&self, id: FindingId) -> Line {
        self.sheet.says(id).text
    }
}

/// Compares a case before and after an event.
#[must_use]
pub(super) fn compare(event: &Event, old: &Then<'_>, new: &Then<'_>) -> News {
    let (sheet, old_walk, walk) = (&new.sheet, old.walk, new.walk);
    let revised = revised(sheet, event, &old_walk.record);
    News {
        computed: if revised.is_some() { Vec::new() } else { computed(old, new) },
        moved: revised.map(|line| moved(line, old, new)).unwrap_or_default(),
        passed_over: passed_over(sheet, old_walk, walk),
        faces: face::taken_otherwise(&sheet.over(&old_walk.record), sheet),
        rounds: ended(old_walk, walk),
    }
}

/// What was corrected or taken back, if the event does that.
fn revised(sheet: &Worksheet<'_>, event: &Event, old: &Record) -> Option<Line> {
    let given = |at: usize| old.given.iter().find(|given| given.order == at);
    let asked = |id| sheet.handbook().question(id).ask.fill(sheet);
    match event {
        Event::TakenBack { order } => Some(match given(*order) {
            Some(given) => Line::plain("Taken back: ")
                .join(asked(given.question))
                .push(Role::Plain, format!(" [{}]", given.typed)),
            None => Line::plain("The last step is taken back."),
        }),
        Event::Corrected { answer, typed, .. } => given(*answer).map(|given| {
            let changed = match given.typed.as_str() {
                before if before == typed => format!(" [{typed}, as before]"),
                before if before.starts_with("not ") => format!(" [{typed}; before: {before}]"),
                before => format!(" [{typed}, not {before}]"),
            };
            Line::plain("Corrected: ").join(asked(given.question)).push(Role::Plain, changed)
        }),
        _ => None,
    }
}

/// The sentences of findings that now say something else than before.
fn computed(old: &Then<'_>, new: &Then<'_>) -> Vec<Line> {
    let said = |id| {
        let state = &new.assessment.finding(id).state;
        let has_changed = speaks(state)
            && (old.assessment.finding(id).state != *state || old.text(id) != new.text(id));
        has_changed.then(|| with_margin(new.sheet.says(id)))
    };
    new.sheet.handbook().finding_ids().filter_map(said).collect()
}

/// The sentence, and by how much: `... That is 12 +- 6 micron above the_limit.`
fn with_margin(said: Saying) -> Line {
    match said.margin {
        Some(margin) => {
            said.text.push(Role::Plain, " That is ").join(margin).push(Role::Plain, ".")
        }
        None => said.text,
    }
}

/// What was revised, then every conclusion that moved by it.
fn moved(revised: Line, was: &Then<'_>, is: &Then<'_>) -> Vec<Line> {
    let (handbook, old, new) = (is.sheet.handbook(), was.assessment, is.assessment);
    let moved = |id| moved_finding(id, was, is);
    let mut lines: Vec<Line> = handbook.finding_ids().flat_map(moved).collect();
    // Without evidence there are only base rates, and those are no conclusions.
    let ranking = if new.has_evidence { &new.ranking[..] } else { &[] };
    for ranked in ranking {
        let (was, is) = (in_words(old.probability(ranked.cause)), in_words(ranked.probability));
        // What has next to no chance before and after is nothing to tell.
        let is_moot = [old.probability(ranked.cause), ranked.probability]
            .iter()
            .all(|p| word(*p) == Likelihood::AlmostNoChance);
        if was != is && old.has_evidence && !is_moot {
            let name = capital(&handbook.cause(ranked.cause).in_short);
            lines.push(Line::plain(format!("{name} was {was}, and is {is} now.")));
        }
    }
    let revised =
        if lines.is_empty() { revised.push(Role::Plain, " No conclusion moved.") } else { revised };
    lines.insert(0, revised);
    lines
}

/// A finding before and after, as far as it says or said something.
fn moved_finding(id: FindingId, was: &Then<'_>, is: &Then<'_>) -> Vec<Line> {
    let lead = |lead: &str, line: Line| Line::new().push(Role::Quiet, lead).join(line);
    let (old, new) = (&was.assessment.finding(id).state, &is.assessment.finding(id).state);
    let now = || lead("Now: ", with_margin(is.sheet.says(id)));
    match (speaks(old), speaks(new)) {
        (true, true) if old != new || was.text(id) != is.text(id) => {
            vec![lead("Before: ", was.text(id)), now()]
        }
        (true, false) => vec![lead("No longer known: ", was.text(id))],
        (false, true) => vec![now()],
        _ => Vec::new(),
    }
}

/// `true`, `false`, `too close`, `not applicable`, `not known`, or the choice's number.
#[must_use]
pub fn state_word(state: &FindingState) -> String {
    match state {
        FindingState::True(_) => "true".to_owned(),
        FindingState::False(_) => "false".to_owned(),
        FindingState::TooClose(_) => "too close to tell".to_owned(),
        FindingState::Seen(choice) => format!("seen (choice {})", choice + 1),
        FindingState::NotApplicable => "not applicable".to_owned(),
        FindingState::Unknown => "not known".to_owned(),
    }
}

/// The ends of rounds that the earlier walk did not have.
fn ended(old: &Walk, new: &Walk) -> Vec<Line> {
    let fresh = new.round_ends.iter().filter(|end| !old.round_ends.contains(end));
    fresh.map(|end| end.done.clone()).collect()
}

fn passed_over(sheet: &Worksheet<'_>, old: &Walk, new: &Walk) -> Vec<Line> {
    let handbook = sheet.handbook();
    let asked =
        |passed: &Passed| match handbook.tree(passed.place.tree).step(passed.place.step).kind {
            StepKind::Ask { question, .. } => Some(question),
            _ => None,
        };
    let start = old.path.len().min(new.path.len());
    let mut said: Vec<QuestionId> = new.path[..start].iter().filter_map(asked).collect();
    let fresh = new.path[start..].iter();
    fresh
        .filter_map(|passed| {
            let question = asked(passed)?;
            let is_first = !said.contains(&question);
            said.push(question);
            if passed.passage == Passage::Through {
                let nothing =
                    Line::new().push(Role::Quiet, "Passed over, since nothing was read: ");
                return Some(nothing.join(handbook.question(question).ask.fill(sheet)));
            }
            if !is_first || !matches!(passed.passage, Passage::Known(_)) {
                return None;
            }
            let typed = new.record.answers(question).last().map(|(_, g)| g.typed.clone())?;
            let known = Line::new().push(Role::Quiet, "Known already: ");
            Some(
                known
                    .join(handbook.question(question).ask.fill(sheet))
                    .push(Role::Quiet, format!(" [{typed}]")),
            )
        })
        .collect()
}
