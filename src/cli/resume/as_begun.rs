//! The handbook that a case was begun with, and what today's would conclude otherwise.

use anyhow::Result;

use crate::book::Book;
use crate::case::Event;
use crate::cli::compare::{HAIR, event_with_new_names, renamed, replayed};
use crate::cli::load::{Ready, Texts};
use crate::cli::session::Session;
use crate::evidence::Engine;
use crate::handbook::{Handbook, differences};
use crate::rehearsal::{Parted, parted};
use crate::source::{SourceId, Sources};
use crate::text::Line;

/// The handbook that a case was begun with, if it is another than today's, or why it can't be had.
pub(in crate::cli) fn begun_with(
    book: &Book,
    today: &Handbook,
    events: &[Event],
) -> Option<Result<Ready, String>> {
    let Some(Event::Opened { handbook: hash, .. }) = events.first() else { return None };
    if hash == today.hash() {
        return None;
    }
    let found = book.handbook(hash).map_err(|missing| missing.to_string());
    Some(found.and_then(|kept| {
        let (sources, compiled) = kept.compile();
        let handbook = compiled.handbook.filter(|handbook| handbook.hash() == hash);
        let unfit = || "this version of the program can't read it".to_owned();
        handbook
            .map(|handbook| Ready { handbook, texts: Texts::Loaded(sources, Vec::new()) })
            .ok_or_else(unfit)
    }))
}

/// The same; what came of it is told.
pub(super) fn as_begun(
    session: &mut Session<'_>,
    book: &Book,
    today: &Handbook,
    events: &[Event],
) -> Result<Option<Ready>> {
    match begun_with(book, today, events) {
        None => Ok(None),
        Some(Ok(begun)) => {
            session.tell(
                "The case was begun with another version of the handbook, and goes on in that one.",
            )?;
            Ok(Some(begun))
        }
        Some(Err(why)) => {
            session.tell(&format!(
                "The case was begun with another version of the handbook, and {why}; today's \
                 judges it now."
            ))?;
            Ok(None)
        }
    }
}

/// Tells what today's handbook would conclude otherwise.
pub(super) fn tell_otherwise(
    session: &mut Session<'_>,
    begun: &Ready,
    today: &Ready,
    events: &[Event],
) -> Result<()> {
    let files = |sources: &Sources| sources.iter().map(|(id, _)| id).collect::<Vec<SourceId>>();
    let (old, new) = (begun.texts.sources(), today.texts.sources());
    let changed = differences((&old, &files(&old)), (&new, &files(&new)));
    let renamed = renamed(&changed);
    let now: Vec<Event> =
        events.iter().map(|event| event_with_new_names(event.clone(), &renamed)).collect();
    let then = replayed(events, &begun.handbook, &Engine::new(&begun.handbook)?);
    let today_engine = Engine::new(&today.handbook)?;
    let lines = match (then, replayed(&now, &today.handbook, &today_engine)) {
        (Ok(then), Ok(end)) => {
            let is_told = |one: &&Parted| one.by.is_none_or(|by| by > HAIR);
            let parted = parted(&then, &end, &renamed);
            let told = parted.iter().filter(is_told);
            told.map(|one| in_words(one, &begun.handbook, &today.handbook)).collect()
        }
        (_, Err(why)) => vec![Line::plain(format!("- The case can't be replayed in it: {why}."))],
        (Err(_), Ok(_)) => Vec::new(),
    };
    if lines.is_empty() {
        return session.tell("Today's handbook would conclude the same so far.");
    }
    session.tell("Today's handbook would conclude otherwise:")?;
    session.tell_lines(&lines)
}

/// `- First comes bad pump oil, not nothing wrong.`
fn in_words(one: &Parted, begun: &Handbook, today: &Handbook) -> Line {
    let Parted { what, old, new, .. } = one;
    let text = match what.as_str() {
        "leader" => format!("first comes {}, not {}", cause(new, today), cause(old, begun)),
        "settled" if new == "true" => "it is settled".to_owned(),
        "settled" => "it is not settled".to_owned(),
        "end" => format!("the way leads to `{new}`, not to `{old}`"),
        "stopped" if new == "no" => format!("nothing stops it, where `{old}` did"),
        "stopped" => format!("`{new}` stops it"),
        _ => {
            let id = what.split_once('.').map_or(what.as_str(), |(_, id)| id);
            let named = today.find_cause(id).map_or(begun, |_| today);
            format!("{}: {new}, not {old}", cause(id, named))
        }
    };
    Line::plain(format!("- {text}"))
}

/// A cause as people call it.
fn cause(id: &str, handbook: &Handbook) -> String {
    match handbook.find_cause(id) {
        Some(cause) => handbook.cause(cause).in_short.clone(),
        None => id.replace('_', " "),
    }
}
