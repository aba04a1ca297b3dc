//! A short message for whoever called: what to do next and what to mind with it, why, whom to ask.

use super::CaseReport;
use super::caller::{said, to_tell};
use super::heading::state;
use super::proved;
use super::room::{Room, one_row};
use super::sentences::sentences;
use crate::case::{
    ActionId, Case, CautionSeverity, CautionView, Closes, DangerTakenBack, Ending, Now, is_left_out,
};
use crate::evidence::Witness;
use crate::report::advice::{caution_line, due_repair};
use crate::report::brief::Brevity;
use crate::report::closing::referral;
use crate::report::headline::{
    apart, beyond_the_proof, is_disputed, is_wrong, likeliest, mended, shown_then, what_was_done,
};
use crate::report::next_step::about_this;
use crate::report::undone::{not_done_yet, open_repairs};
use crate::report::unit::unit_in_doubt;
use crate::report::verdict::told_of_parts;
use crate::text::{Line, Role};

/// The longest place that a message names (characters; limit of ours).
const LONGEST_PLACE: usize = 60;

/// The word before a caution.
const CAUTION: &str = "Caution: ";

/// What is said of readings that can't all be, once it is told which to read again.
const UNTIL_THEN: &str = "Until then nothing leads.";

/// What is said where whom to call in does not fit.
const REFERRAL: &str = "The makers' instructions, your local codes and the licence the work needs \
                        come before this advice; where they differ, they win.";

/// What is said where a danger that was taken back does not fit.
const DANGER_ELSEWHERE: &str = "A danger was told first, then taken back: have it read out before you \
                                go on.";

/// What is said where a stop does not fit whole.
const STOP_ELSEWHERE: &str = "Stopped for safety. Why is too long for a message: leave everything \
                              as it is and have it read out.";

pub(super) fn message(report: &CaseReport<'_>) -> String {
    let mut room = Room::empty();
    let tail = room.must(&text_of(&referral(report.case)[1..]), REFERRAL);
    if let Some(stop) = stopped(report) {
        let stop = room.must(&stop, STOP_ELSEWHERE);
        let head = room.may(&head(report));
        let so_far = room.sentences(&found_before(report));
        return joined(&[head, stop, so_far, tail]);
    }
    let head = room.may(&head(report));
    let danger = told_first(report.case);
    let danger = room.must(&danger.join(" "), danger.first().map_or("", |_| DANGER_ELSEWHERE));
    let found = found(report);
    let (next, then) = next(report);
    if is_plan(report) {
        let plan = what_was_done(report.case, false);
        let plan = told(&plan[..plan.len().min(1)]);
        let (planned, cautions) = room.planned(&plan, &next.cautions);
        let beside: Vec<String> = found.into_iter().filter(|said| !plan.contains(said)).collect();
        let beside = room.sentences(&beside);
        return joined(&[head, danger, cautions, planned, beside, tail]);
    }
    // The first sentence of what was found comes before everything that may be left out.
    let first = room.sentences(&found[..found.len().min(1)]);
    let instruction = next.instruction.as_deref().unwrap_or_default();
    let (doing, cautions) = room.instructed(instruction, &next.cautions);
    let leaving = room.may(&leaving(report).unwrap_or_default());
    let behind = then.instruction.map(|text| format!("Then, if that changes nothing: {text}"));
    let behind = behind.map(|text| room.also(&text, &then.cautions)).unwrap_or_default();
    let rest = room.sentences(&found[found.len().min(1)..]);
    joined(&[head, danger, doing, cautions, behind, first, rest, leaving, tail])
}

/// The dangers that were told and taken back, each with when the work may go on.
fn told_first(case: &Case<'_>) -> Vec<String> {
    let of = |danger: DangerTakenBack| {
        let ask = case.ask(danger.question).to_text();
        let go_on = case.after_danger(danger.question);
        format!("A danger was told first and taken back: {ask} [{}] {go_on}", danger.told)
    };
    case.dangers_taken_back().into_iter().map(of).collect()
}

/// Whether what was found is a plan, and nobody has closed it.
fn is_plan(report: &CaseReport<'_>) -> bool {
    report.case.work_closed() == Some(Closes::Planned) && report.closing.is_none()
}

/// That somebody has closed the case, and by what it was mended.
fn closed(report: &CaseReport<'_>) -> Option<Line> {
    let closing = report.closing.as_ref()?;
    Some(Line::plain(format!("This case is {}.", state(report, closing))))
}

/// How the rig is left safely, for a caller whose work is not at its end.
fn leaving(report: &CaseReport<'_>) -> Option<String> {
    let case = report.case;
    let is_over = matches!(case.now(), Now::Ended { .. })
        || case.record().given.is_empty()
        || report.closing.is_some();
    let tree = case.leave_by().filter(|_| !is_over)?;
    let title = case.tree_view(tree).1;
    Some(format!("Before the rig is left, have it read out how: \"{title}\"."))
}

fn joined(parts: &[String]) -> String {
    let said: Vec<&str> =
        parts.iter().map(String::as_str).filter(|part| !part.is_empty()).collect();
    said.join(" ")
}

/// `Case 2026-03-31-1, 12 Mill Lane:`
fn head(report: &CaseReport<'_>) -> String {
    let place = report.details.get(crate::case::Detail::Place);
    let place = place.filter(|place| place.chars().count() <= LONGEST_PLACE && !is_left_out(place));
    let place = place.map(|place| format!(", {place}")).unwrap_or_default();
    match report.about.id.as_str() {
        "" => format!("Your case{place}:"),
        id => format!("Case {id}{place}:"),
    }
}

/// What was found, sentence by sentence, what matters most first.
fn found(report: &CaseReport<'_>) -> Vec<String> {
    let case = report.case;
    let assessment = case.assessment();
    let mut lines: Vec<Line> = closed(report).into_iter().collect();
    // What was proved, and by what, comes before the odds, which are of what a proof does not show.
    let closed = case.work_closed();
    let is_closed = closed.is_some();
    if closed == Some(Closes::Proved) {
        lines.extend(proved::told(report));
        lines.push(beyond_the_proof(case));
        return told(&lines);
    }
    lines.extend(unit_in_doubt(case));
    // Readings that can't all be come before what they would say.
    let (disputed, apart): (Vec<&Witness>, Vec<&Witness>) =
        apart(case).partition(|witness| is_disputed(case, witness));
    lines.extend(disputed.iter().map(|witness| case.says(witness).text));
    if !assessment.disputed.is_empty() {
        lines.push(Line::plain(UNTIL_THEN));
    }
    if is_closed {
        lines.extend(what_was_done(case, false));
    }
    // What is settled though it is no cause comes before what is only likely.
    let (wrong, apart): (Vec<&Witness>, Vec<&Witness>) =
        apart.into_iter().partition(|witness| is_wrong(case, witness));
    lines.extend(wrong.iter().map(|witness| case.says(witness).text));
    if assessment.contradicts_itself {
        lines.push(Line::plain("The answers can't all be true together."));
    } else if assessment.has_evidence {
        let mended: Vec<Line> = mended(case).collect();
        let is_mended = !mended.is_empty();
        lines.extend(mended);
        // Odds beside what somebody closed it with would say two things of one case.
        let is_left_out = !assessment.disputed.is_empty() || report.closing.is_some();
        let likeliest = if is_left_out { Vec::new() } else { likeliest(case, is_mended) };
        let mut likeliest = likeliest.into_iter();
        lines.extend(likeliest.next());
        lines.extend(not_done_yet(case));
        lines.extend(likeliest);
        lines.extend(shown_then(case));
        lines.extend(told_of_parts(case));
    } else if !is_closed {
        lines.push(Line::plain("No answer speaks for or against a cause yet."));
    }
    lines.extend(apart.iter().map(|witness| case.says(witness).text));
    if !is_closed && matches!(case.now(), Now::Ended { .. }) {
        lines.extend(what_was_done(case, false));
    }
    told(&lines)
}

/// The sentences of lines.
fn told(lines: &[Line]) -> Vec<String> {
    lines.iter().flat_map(|line| sentences(&one_row(&line.to_text()))).collect()
}

/// Why the work was stopped, and whom to ask.
fn stopped(report: &CaseReport<'_>) -> Option<String> {
    let case = report.case;
    match (&report.ending, case.now()) {
        (_, Now::Stopped { text, why, refer, .. }) => {
            let why = why.as_ref().map(|why| format!(" {}", why.to_text())).unwrap_or_default();
            let (text, refer) = (text.to_text(), refer.to_text());
            Some(format!("Stopped for safety. {text}{why} Ask {refer}."))
        }
        (Ending::Stopped(Some(id)), _) => {
            let said = caution_line(&case.caution_view(*id)).to_text();
            Some(format!("Stopped for safety. {said}"))
        }
        _ => None,
    }
}

/// What was found before a caution that nobody has acknowledged. Where a danger was told, that would
/// only draw away from it; what is still to be done is no matter of a stopped case.
fn found_before(report: &CaseReport<'_>) -> Vec<String> {
    let case = report.case;
    let assessment = case.assessment();
    let is_in_danger = matches!(case.now(), Now::Stopped { .. });
    let is_at_odds = assessment.contradicts_itself || !assessment.disputed.is_empty();
    if is_in_danger || is_at_odds || !assessment.has_evidence || report.closing.is_some() {
        return Vec::new();
    }
    let mended: Vec<Line> = mended(case).collect();
    let likeliest = likeliest(case, !mended.is_empty()).into_iter().take(1);
    let told = told(&mended.into_iter().chain(likeliest).collect::<Vec<Line>>());
    let lead = (!told.is_empty()).then(|| "What was found before:".to_owned());
    lead.into_iter().chain(told).collect()
}

/// What to do next.
#[derive(Default)]
struct Next {
    /// The first of it, whole.
    instruction: Option<String>,
    /// What is to be minded with it.
    cautions: Vec<String>,
}

/// The headings of a verdict under which something is to be done.
const TO_DO: [&str; 4] = [
    "Call somebody in before anything is repaired",
    "What to do about it",
    "What to do about it, in this order",
    "What to do now",
];

/// How the headings of repairs begin.
const REPAIRS: &str = "What to do about it";

/// The heading under which checks stand. A caller has no program: of them he gets the first, and of it
/// what he can read or look at.
const TO_CHECK: &str = "What to check next";

/// The first thing that the verdict proposes, with the cautions before it; and where that is a check, the
/// repair that comes behind it, if one is due.
fn next(report: &CaseReport<'_>) -> (Next, Next) {
    let case = report.case;
    // A plan is no instruction, but what it is for has its dangers.
    if is_plan(report) {
        let cautions = case.cautions_here().iter().map(caution).collect();
        return (Next { instruction: None, cautions }, Next::default());
    }
    if case.work_closed().is_some() || report.closing.is_some() {
        return Default::default();
    }
    if let Some(waited_for) = waited_for(case) {
        return (waited_for, Next::default());
    }
    let due = due_repair(case, &case.insight(), Brevity::Briefest);
    let sections = report.verdict.chunk_by(|_, line| heading(line).is_none());
    let mut proposed = sections.filter_map(|section| {
        let (named, lines) = (heading(section.first()?)?, &section[1..]);
        let (kind, next) = match named {
            TO_CHECK => (Kind::Check, read_next(case)),
            _ if named.starts_with(REPAIRS) && !due.is_empty() => (Kind::Due, first_to_do(&due)),
            _ if TO_DO.contains(&named) => (Kind::Other, first_to_do(lines)),
            _ => return None,
        };
        next.instruction.is_some().then_some((kind, next))
    });
    let Some((kind, mut first)) = proposed.next() else { return Default::default() };
    if kind != Kind::Check {
        let begun = |text: String| format!("{}: {text}", begins(case, &text));
        first.instruction = first.instruction.map(begun);
        return (first, Next::default());
    }
    let behind = proposed.next().filter(|(kind, _)| *kind == Kind::Due);
    (first, behind.map(|(_, next)| next).unwrap_or_default())
}

/// What a verdict proposes.
#[derive(PartialEq, Eq)]
enum Kind {
    /// Something to read or look at.
    Check,
    /// A repair of what is likely or settled.
    Due,
    /// Anything else that is to be done.
    Other,
}

/// The heading that a line is.
fn heading(line: &Line) -> Option<&str> {
    match &line.pieces[..] {
        [piece] if piece.role == Role::Strong => Some(&piece.text),
        _ => None,
    }
}

/// The first thing to do among lines, with the cautions before it.
fn first_to_do(lines: &[Line]) -> Next {
    let mut next = Next::default();
    for line in lines.iter().filter(|line| heading(line).is_none()) {
        let is_warning = line.pieces.first().is_some_and(|p| p.role == Role::Warning);
        let text = without_quiet(line);
        let text = text.strip_prefix("- ").unwrap_or(&text);
        if !is_warning && !text.starts_with("Note: ") {
            next.instruction = Some(text.to_owned());
            break;
        }
        let word = if is_warning { CAUTION } else { "" };
        next.cautions.push(format!("{word}{text}"));
    }
    next
}

/// What an instruction begins with: a repair that was passed over stands open.
fn begins(case: &Case<'_>, instruction: &str) -> &'static str {
    let is_it = |id: &ActionId| case.action_view(*id).instruction.to_text() == instruction.trim();
    if open_repairs(case).iter().any(is_it) { "Next, not done yet" } else { "Next" }
}

/// The next check as a caller hears it, with what he has to mind.
fn read_next(case: &Case<'_>) -> Next {
    let Some(next) = to_tell(case) else { return Next::default() };
    let safety = next
        .safety
        .first()
        .map(|&id| format!("{CAUTION}Before that, for safety: {}", said(case, id)));
    let cautions = next.question.into_iter().flat_map(|id| case.cautions_of_question(id));
    let cautions = cautions.map(|id| caution(&case.caution_view(id)));
    Next {
        instruction: Some(next.instruction),
        cautions: safety.into_iter().chain(cautions).collect(),
    }
}

/// A caution, called so unless it is a note.
fn caution(view: &CautionView) -> String {
    let word = if view.severity == CautionSeverity::Note { "" } else { CAUTION };
    format!("{word}{}", caution_line(view).to_text())
}

/// What the tree waits for, which comes before what the verdict proposes.
fn waited_for(case: &Case<'_>) -> Option<Next> {
    let text = match case.now() {
        Now::Act { action, .. } => case.action_view(*action).instruction.to_text(),
        Now::Do { text, .. } => text.to_text(),
        _ => return None,
    };
    let part = about_this(case).map(|part| format!(" {part}")).unwrap_or_default();
    let cautions = case.cautions_here().iter().map(caution).collect();
    Some(Next { instruction: Some(format!("Next: {text}{part}")), cautions })
}

/// A line without what may be skipped.
fn without_quiet(line: &Line) -> String {
    let said = line.pieces.iter().filter(|piece| piece.role != Role::Quiet);
    said.map(|piece| piece.text.as_str()).collect()
}

fn text_of(lines: &[Line]) -> String {
    lines.iter().map(Line::to_text).collect::<Vec<_>>().join(" ")
}
