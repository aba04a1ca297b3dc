//! Why a check is worth making, or a repair stands where it does: bits, minutes, and the order.

use super::{mark, percent};
use crate::case::{ActionId, Case, CauseId, QuestionId, TreeId};
use crate::evidence::wording::in_words;
use crate::evidence::{LeftOut, MENDS, NextTest, REFERRAL};
use crate::text::{Line, capital, count, list_and};

/// What a repair may cure, and why it stands at its place in the order.
pub(super) fn of_action(case: &Case<'_>, id: ActionId) -> Vec<Line> {
    let view = case.action_view(id);
    let mut lines = vec![Line::strong(format!("`{}`: ", view.id)).join(view.instruction)];
    lines.push(Line::plain(match view.minutes {
        Some(minutes) => format!("- It takes {minutes:.0} min by itself, as the handbook says."),
        None => {
            "- The handbook doesn't say how long it takes; 30 min are taken (estimate).".to_owned()
        }
    }));
    lines.extend(cures(case, id));
    lines.extend(place_in_order(case, id));
    lines
}

fn cures(case: &Case<'_>, id: ActionId) -> Vec<Line> {
    let handbook = case.handbook();
    let cure = |cause: CauseId| {
        let entry = handbook.cause(cause);
        let stated = entry.cured_by.iter().find(|(by, _)| *by == id);
        let (share, mark) = match stated {
            Some((_, share)) => (*share, mark(case, &entry.basis, "cured_by")),
            None if entry.fix.contains(&id) => {
                (MENDS, "estimate, as the handbook doesn't say".to_owned())
            }
            None => return None,
        };
        let there = in_words(case.assessment().probability(cause));
        let cured = percent(share);
        let text = format!(
            "- {}, which is {there}: cured by it in {cured} ({mark}).",
            capital(&entry.in_short)
        );
        Some(Line::plain(text))
    };
    handbook.cause_ids().filter_map(cure).collect()
}

fn place_in_order(case: &Case<'_>, id: ActionId) -> Vec<Line> {
    let planned = case.insight().repairs;
    let repairs = &planned.steps;
    let Some(place) = repairs.iter().position(|step| step.action == id) else {
        let why_not = planned.left_out.iter().find(|(left_out, _)| *left_out == id);
        return why_not
            .map(|(_, why)| not_tried(case, id, *why, planned.referral))
            .into_iter()
            .collect();
    };
    let step = &repairs[place];
    let first: Vec<String> =
        step.first.iter().map(|id| format!("`{}`", case.action_view(*id).id)).collect();
    let prepared = match first.len() {
        0 => String::new(),
        _ => format!(" It needs {} before it.", list_and(&first)),
    };
    vec![
        Line::strong("Its place in the order"),
        Line::plain(format!(
            "- Number {} of {}, by what it mends per minute: {} of what is left, for {:.0} min with \
             what it needs and the test after it.{prepared}",
            place + 1,
            repairs.len(),
            percent(step.mends),
            step.minutes
        )),
        Line::plain(format!(
            "- With it and those before it everything is mended in {}.",
            percent(step.restored)
        )),
    ]
}

/// Why a repair has no place in the order; calling somebody in costs `referral` minutes.
fn not_tried(case: &Case<'_>, id: ActionId, why: LeftOut, referral: f64) -> Line {
    Line::plain(match why {
        LeftOut::Done => {
            let done_if = case.handbook().action(id).done_if.as_ref();
            let said = done_if.map_or_else(String::new, |it| it.said(&case.worksheet()));
            format!("- It is not in the order, since there is nothing to do by it: {said}.")
        }
        LeftOut::Elsewhere => {
            let not_if = case.handbook().action(id).not_if.as_ref();
            let said = not_if.map_or_else(String::new, |it| it.said(&case.worksheet()));
            format!("- It is not in the order, since it works elsewhere: {said}.")
        }
        LeftOut::Unlikely => {
            "- It is not in the order: whatever it may cure is very unlikely.".to_owned()
        }
        LeftOut::Costly => format!(
            "- It is not in the order: it helps less for its minutes than calling in {}, taken \
             at {REFERRAL:.0} min (estimate) and {:.0} min for the repair that is then made.",
            case.handbook().call_in(),
            referral - REFERRAL
        ),
    })
}

/// What running a tree would tell.
pub(super) fn of_tree(case: &Case<'_>, id: TreeId) -> Vec<Line> {
    let (name, title) = case.tree_view(id);
    let mut lines = vec![Line::strong(format!("`{name}`: {title}"))];
    // Beside a stop nothing is proposed.
    let tests = if case.is_held_back() { Vec::new() } else { case.insight().tests };
    match tests.iter().position(|test| test.tree == Some(id)) {
        Some(place) => lines.extend(worth(case, &tests, place)),
        None => lines.push(takes(case, id)),
    }
    lines
}

/// Of a tree that is no test of its own.
fn takes(case: &Case<'_>, id: TreeId) -> Line {
    let takes = case.handbook().tree(id).takes;
    let takes = takes.map(|seconds| format!(" It takes about {:.0} min.", seconds / 60.0));
    Line::plain(format!(
        "- As a whole it tells nothing more about the causes than is known, or than a shorter check \
         would tell.{}",
        takes.unwrap_or_default()
    ))
}

/// What the best check that asks a question would tell; nothing where none asks it, nor beside a
/// stop.
pub(super) fn as_next_check(case: &Case<'_>, id: QuestionId) -> Vec<Line> {
    if case.is_held_back() {
        return Vec::new();
    }
    let tests = case.insight().tests;
    let place = tests.iter().position(|test| test.questions.contains(&id));
    place.map(|place| worth(case, &tests, place)).unwrap_or_default()
}

fn worth(case: &Case<'_>, tests: &[NextTest], place: usize) -> Vec<Line> {
    let test = &tests[place];
    let findings: Vec<String> =
        test.findings.iter().map(|id| format!("`{}`", case.finding_name(*id))).collect();
    vec![
        Line::strong("As the next check"),
        Line::plain(format!(
            "- Number {} of {} by bits a minute (one bit halves what is open): {:.3} bits in {:.1} \
             min, {:.3} a minute.",
            place + 1,
            count(tests.len(), "check"),
            test.bits,
            test.minutes,
            test.worth()
        )),
        Line::plain(format!(
            "- It settles {}. With {} of plausible readings the gauge decides; that the case is \
             settled after it: {}.",
            list_and(&findings),
            percent(test.decides),
            percent(test.settles)
        )),
    ]
}
