//! What was done, and what was noted.

use serde::Serialize;

use super::{About, Fact};
use crate::case::{Case, Event, NamedFile, Passage, Place, is_left_out};
use crate::handbook::{ActionId, StepKind};
use crate::report::undone::open_repairs;
use crate::text::{Line, Role, count};

/// Something that was done or passed over.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Deed {
    /// What it was.
    pub text: String,
    /// The id of the action; none for a step that only says what to do.
    pub action: Option<String>,
    /// Whether it was passed over without being done.
    pub skipped: bool,
    /// Whether it is a repair that was passed over and stands open.
    pub open: bool,
    /// When it was told.
    pub at: Option<String>,
}

/// A note.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Note {
    /// What it says.
    pub text: String,
    /// When it was made.
    pub at: Option<String>,
}

/// What was done on the way, in order.
pub(super) fn done(case: &Case<'_>, about: &About) -> Vec<Deed> {
    let deed = |order: usize, place: Place| {
        let skipped = match case.events().get(order)? {
            Event::Did { .. } | Event::Acted { .. } => false,
            Event::Skipped { .. } => true,
            _ => return None,
        };
        let (text, action) = step(case, place)?;
        let at = about.times.get(order).map(ToString::to_string);
        let id = action.as_deref().and_then(|id| case.handbook().find_action(id));
        let open = skipped && id.is_some_and(|id| open_repairs(case).contains(&id));
        Some(Deed { text, action, skipped, open, at })
    };
    let passed = case.path().iter().filter_map(|passed| match passed.passage {
        Passage::Event(order) => Some((order, deed(order, passed.place)?)),
        Passage::Known(_) | Passage::Through => None,
    });
    let mut deeds: Vec<(usize, Deed)> = passed.collect();
    let told: Vec<(usize, Deed)> = told_out_of_turn(case, about, &deeds);
    if !told.is_empty() {
        deeds.extend(told);
        deeds.sort_by_key(|(order, _)| *order);
    }
    deeds.into_iter().map(|(_, deed)| deed).collect()
}

/// What was done that no step of the way had called for.
fn told_out_of_turn(
    case: &Case<'_>,
    about: &About,
    passed: &[(usize, Deed)],
) -> Vec<(usize, Deed)> {
    let is_told = |(_, order): &&(ActionId, usize)| passed.iter().all(|(other, _)| other != order);
    let told = case.record().done.iter().filter(is_told).map(|(action, order)| {
        let view = case.action_view(*action);
        let at = about.times.get(*order).map(ToString::to_string);
        let text = view.instruction.to_text();
        (*order, Deed { text, action: Some(view.id), skipped: false, open: false, at })
    });
    told.collect()
}

fn step(case: &Case<'_>, place: Place) -> Option<(String, Option<String>)> {
    match &case.handbook().tree(place.tree).step(place.step).kind {
        StepKind::Do { text, .. } => Some((text.fill(&case.worksheet()).to_text(), None)),
        StepKind::Act { action, .. } => {
            let view = case.action_view(*action);
            Some((view.instruction.to_text(), Some(view.id)))
        }
        _ => None,
    }
}

/// The notes, in order.
pub(super) fn notes(case: &Case<'_>, about: &About) -> Vec<Note> {
    let noted = case.events().iter().enumerate().filter_map(|(order, event)| match event {
        Event::Noted { text } => {
            Some(Note { text: text.clone(), at: about.times.get(order).map(ToString::to_string) })
        }
        _ => None,
    });
    noted.collect()
}

/// A photo or another file that goes with the case.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Attached {
    /// The file.
    #[serde(flatten)]
    pub file: NamedFile,
    /// When it was named.
    pub at: Option<String>,
}

/// The files, in order.
pub(super) fn files(case: &Case<'_>, about: &About) -> Vec<Attached> {
    let named = case.events().iter().enumerate().filter_map(|(order, event)| match event {
        Event::Attached { file } => Some(Attached {
            file: file.clone(),
            at: about.times.get(order).map(ToString::to_string),
        }),
        _ => None,
    });
    named.collect()
}

/// `gauge.jpg (2.1 MB, BLAKE3 1a2b3c4d5e6f7a8b)`
pub(super) fn files_told(files: &[Attached]) -> Vec<Fact> {
    let told = files.iter().map(|Attached { file, .. }| {
        Fact::Item(Line::plain(format!("{} ({})", file.name, file.facts())))
    });
    told.collect()
}

/// `Change the oil.`, `Passed over: Change the oil.`
pub(super) fn told(deeds: &[Deed]) -> Vec<Fact> {
    let told = deeds.iter().map(|deed| {
        let line = match (deed.open, deed.skipped) {
            (true, _) => Line::new().push(Role::Strong, "Passed over, not done yet: "),
            (false, true) => Line::new().push(Role::Strong, "Passed over: "),
            (false, false) => Line::new(),
        };
        Fact::Item(line.push(Role::Plain, deed.text.clone()))
    });
    told.collect()
}

/// The notes as they were typed; of those that were left out, how many there are.
pub(super) fn notes_told(notes: &[Note]) -> Vec<Fact> {
    let (left_out, told): (Vec<&Note>, Vec<&Note>) =
        notes.iter().partition(|note| is_left_out(&note.text));
    let told = told.into_iter().map(|note| Fact::Item(Line::plain(note.text.clone())));
    let left_out = (!left_out.is_empty())
        .then(|| Fact::Text(Line::plain(format!("Left out: {}.", count(left_out.len(), "note")))));
    told.chain(left_out).collect()
}
