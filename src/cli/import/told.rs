//! Events of two cases in words.

use crate::book::{Clash, HandedEvent};
use crate::case::{Detail, Details, Event};
use crate::cli::today::system_zone;
use crate::text::{Line, inert, list_and};

/// The most events of one side, and contradictions, that are told (limit of ours): the reports of both
/// tell all.
const MOST_TOLD: usize = 6;

/// Since the two parted: what each says, and where they contradict each other.
pub(super) fn both_ways(
    here: &[HandedEvent],
    there: &[HandedEvent],
    from: usize,
    clashes: &[Clash],
) -> Vec<Line> {
    let mut lines = vec![Line::plain("The case went on here and in the file, each by itself.")];
    for (name, events) in [("Here:", here), ("In the file:", there)] {
        lines.push(Line::strong(name));
        lines.extend(the_first(events[from..].iter().map(what_happened)));
    }
    if !clashes.is_empty() {
        lines.push(Line::strong("They contradict each other:"));
    }
    let clashes = clashes.iter().map(|clash| {
        Line::plain(format!("- {}", what_differs(&here[clash.here], &there[clash.there])))
    });
    lines.extend(the_first(clashes));
    lines
}

/// The first lines of many, and how many more there are.
fn the_first(lines: impl ExactSizeIterator<Item = Line>) -> impl Iterator<Item = Line> {
    let more = lines.len().saturating_sub(MOST_TOLD);
    let more = (more > 0).then(|| Line::plain(format!("- and {more} more")));
    lines.take(MOST_TOLD).chain(more)
}

/// `here note: left out, in the file note: ask for the key`
pub(super) fn what_differs(here: &HandedEvent, there: &HandedEvent) -> String {
    format!("here {}, in the file {}", said(&here.event), said(&there.event))
}

/// `- 14:05 pump_reading is 60 micron`
pub(super) fn what_happened(handed: &HandedEvent) -> Line {
    let at = system_zone().to_datetime(handed.at).strftime("%Y-%m-%d %H:%M").to_string();
    Line::plain(format!("- {at} {}", said(&handed.event)))
}

fn said(event: &Event) -> String {
    match event {
        Event::Opened { tree, .. } => format!("opened at `{}`", inert(tree)),
        Event::Answered { question, typed, .. } => {
            format!("`{}` is {}", inert(question), inert(typed))
        }
        Event::Corrected { answer, typed, .. } => {
            format!("answer {answer} is put right: {}", inert(typed))
        }
        Event::TakenBack { order } => format!("answer {order} is taken back"),
        Event::Did { step, .. } => format!("`{}` is done", inert(step)),
        Event::Waited { step, seconds, .. } => {
            format!("waited {:.0} min at `{}`", seconds / 60.0, inert(step))
        }
        Event::Skipped { step, .. } => format!("`{}` is passed over", inert(step)),
        Event::Acted { action, .. } => format!("`{}` is done", inert(action)),
        Event::RoundsEnded { tree } => format!("`{}` has no more rounds", inert(tree)),
        Event::WentOn { tree } => format!("went on with `{}`", inert(tree)),
        Event::Acknowledged { caution, by } => {
            format!("`{}` was read by {}", inert(caution), inert(by))
        }
        Event::Minded { question, by } => {
            format!("what the stop of `{}` asks for was read by {}", inert(question), inert(by))
        }
        Event::Noted { text } => format!("note: {}", inert(text)),
        Event::Attached { file } => format!("goes with it: {}", inert(&file.name)),
        Event::Described { details } => told_of(details),
        Event::Worded { for_phone: true } => "worded for the phone".to_owned(),
        Event::Worded { for_phone: false } => "worded for the site".to_owned(),
        Event::Closed { closing } => {
            let proved = if closing.proved { ", and proved" } else { "" };
            format!("closed: {}{proved}", words_for(&closing.fixed_by))
        }
        Event::Reopened => "opened again".to_owned(),
        Event::Unknown => "something that a later version knows".to_owned(),
    }
}

fn told_of(details: &Details) -> String {
    let given = Detail::all().into_iter().filter_map(|detail| {
        Some(format!("{} {}", detail.label().to_lowercase(), inert(details.get(detail)?)))
    });
    list_and(&given.collect::<Vec<_>>())
}

fn words_for(fixed_by: &crate::case::FixedBy) -> String {
    use crate::case::FixedBy;
    match fixed_by {
        FixedBy::Cause(id) => format!("fixed by `{}`", inert(id)),
        FixedBy::Nothing => "nothing was wrong".to_owned(),
        FixedBy::Unknown => "not known what fixed it".to_owned(),
    }
}
