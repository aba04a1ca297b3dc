//! A short message for whoever called: what to do next and what to mind with it, why, whom to ask.

use super::CaseReport;
use super::caller::{said, to_tell};
use super::heading::state;
use super::proved;
use super::sentences::sentences;
use crate::case::{ActionId, Case, CautionSeverity, CautionView, Closes, Ending, Now};
use crate::evidence::Witness;
use crate::report::advice::caution_line;
use crate::report::closing::referral;
use crate::report::headline::{
    apart, beyond_the_proof, is_disputed, is_wrong, likeliest, mended, shown_then, what_was_done,
};
use crate::report::next_step::about_this;
use crate::report::undone::{not_done_yet, open_repairs};
use crate::report::unit::unit_in_doubt;
use crate::report::verdict::told_of_parts;
use crate::text::{Line, Role, inert};

/// The most characters of a message (limit of ours: what a phone shows in one piece, some of its
/// short messages together).
pub const LONGEST_MESSAGE: usize = 1_000;

/// The longest place that a message names (characters; limit of ours).
const LONGEST_PLACE: usize = 60;

/// The word before a caution.
const CAUTION: &str = "Caution: ";

/// What is said where not all of the cautions fits.
const CAUTIONS_ELSEWHERE: &str =
    "The cautions are longer than fits here: have them read out before you do anything.";

/// What is said of readings that can't all be, once it is told which to read again.
const UNTIL_THEN: &str = "Until then nothing leads.";

/// What is said where an instruction does not fit whole: half of one may be worse than none.
const INSTRUCTION_ELSEWHERE: &str = "What to do next is too long for a message: have it read out.";

/// What is said where whom to call in does not fit.
const REFERRAL: &str = "The makers' instructions, your local codes and the licence the work needs \
                        come before this advice; where they differ, they win.";

/// What is said where a stop does not fit whole.
const STOP_ELSEWHERE: &str = "Stopped for safety. Why is too long for a message: leave everything \
                              as it is and have it read out.";

pub(super) fn message(report: &CaseReport<'_>) -> String {
    let mut room = Room(LONGEST_MESSAGE);
    let tail = room.must(&text_of(&referral(report.case)[1..]), REFERRAL);
    if let Some(stop) = stopped(report) {
        let stop = room.must(&stop, STOP_ELSEWHERE);
        let head = room.may(&head(report));
        let so_far = room.sentences(&found_before(report));
        return joined(&[head, stop, so_far, tail]);
    }
    let head = room.may(&head(report));
    let found = found(report);
    // The first sentence of what was found comes before everything that may be left out.
    let first = room.sentences(&found[..found.len().min(1)]);
    let (doing, cautions) = room.instructed(&next(report));
    let leaving = room.may(&leaving(report).unwrap_or_default());
    let rest = room.sentences(&found[found.len().min(1)..]);
    joined(&[head, doing, cautions, first, rest, leaving, tail])
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

/// What is left of a message, in characters.
struct Room(usize);

impl Room {
    /// Whether a text and the blank behind it fit.
    fn fits(&self, text: &str) -> bool {
        text.chars().count() < self.0
    }

    /// The text if it fits, else what stands for it.
    fn must(&mut self, text: &str, instead: &str) -> String {
        let whole = one_row(text);
        let taken = if self.fits(&whole) { whole } else { instead.to_owned() };
        self.take(&taken);
        taken
    }

    /// What to do and what to mind with it. An instruction stands whole or not at all: half of one
    /// may be worse than none. Of cautions that don't fit each one's first sentence stands, if
    /// that does, and that there is more.
    fn instructed(&mut self, next: &Next) -> (String, String) {
        let instruction = one_row(next.instruction.as_deref().unwrap_or_default());
        if instruction.is_empty() && next.cautions.is_empty() {
            return Default::default();
        }
        let whole = one_row(&next.cautions.join(" "));
        let gist: Vec<String> = next
            .cautions
            .iter()
            .filter_map(|caution| sentences(&one_row(caution)).into_iter().next())
            .chain([CAUTIONS_ELSEWHERE.to_owned()])
            .collect();
        let ways = [whole, gist.join(" "), CAUTIONS_ELSEWHERE.to_owned()];
        let fitting =
            ways.into_iter().find(|cautions| self.fits(&format!("{instruction} {cautions}")));
        match fitting {
            Some(cautions) => {
                self.take(&instruction);
                self.take(&cautions);
                (instruction, cautions)
            }
            None => (self.may(INSTRUCTION_ELSEWHERE), String::new()),
        }
    }

    /// The text if it fits, else nothing.
    fn may(&mut self, text: &str) -> String {
        let whole = one_row(text);
        if !self.fits(&whole) {
            return String::new();
        }
        self.take(&whole);
        whole
    }

    /// As many of the sentences as fit whole, from the first on.
    fn sentences(&mut self, said: &[String]) -> String {
        let mut taken: Vec<String> = Vec::new();
        for sentence in said {
            let sentence = self.may(sentence);
            if sentence.is_empty() {
                break;
            }
            taken.push(sentence);
        }
        taken.join(" ")
    }

    fn take(&mut self, text: &str) {
        if !text.is_empty() {
            self.0 = self.0.saturating_sub(text.chars().count() + 1);
        }
    }
}

/// `Case 2026-03-31-1, 12 Mill Lane:`
fn head(report: &CaseReport<'_>) -> String {
    let place = report.details.get(crate::case::Detail::Place);
    let place = place.filter(|place| place.chars().count() <= LONGEST_PLACE);
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
        return lines.iter().flat_map(|line| sentences(&one_row(&line.to_text()))).collect();
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
    let lines = mended.into_iter().chain(likeliest);
    let told: Vec<String> = lines.flat_map(|line| sentences(&one_row(&line.to_text()))).collect();
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

/// The heading under which checks stand. A caller has no program: of them he gets what he can read
/// or look at.
const TO_CHECK: &str = "What to check next";

/// The first thing that the verdict proposes, with the cautions before it.
fn next(report: &CaseReport<'_>) -> Next {
    let mut next = Next::default();
    // A plan is no instruction, but what it is for has its dangers.
    if report.case.work_closed() == Some(Closes::Planned) && report.closing.is_none() {
        next.cautions = report.case.cautions_here().iter().map(caution).collect();
    }
    if report.case.work_closed().is_some() || report.closing.is_some() {
        return next;
    }
    let mut is_to_do = false;
    for line in &report.verdict {
        if let [piece] = &line.pieces[..]
            && piece.role == Role::Strong
        {
            if piece.text == TO_CHECK && next.instruction.is_none() {
                next = read_next(report.case);
            }
            is_to_do = TO_DO.contains(&piece.text.as_str());
        } else if is_to_do && next.instruction.is_none() {
            let is_warning = line.pieces.first().is_some_and(|p| p.role == Role::Warning);
            let text = without_quiet(line);
            let text = text.strip_prefix("- ").unwrap_or(&text);
            if is_warning || text.starts_with("Note: ") {
                let word = if is_warning { CAUTION } else { "" };
                next.cautions.push(format!("{word}{text}"));
            } else {
                next.instruction = Some(format!("{}: {text}", begins(report.case, text)));
            }
        }
    }
    if let Now::Act { .. } | Now::Do { .. } = report.case.now() {
        waited_for(report.case, &mut next);
    }
    next
}

/// What an instruction begins with: a repair that was passed over stands open.
fn begins(case: &Case<'_>, instruction: &str) -> &'static str {
    let is_it = |id: &ActionId| case.action_view(*id).instruction.to_text() == instruction.trim();
    if open_repairs(case).iter().any(is_it) { "Next, not done yet" } else { "Next" }
}

/// What a caller can read or look at next, with what he has to mind.
fn read_next(case: &Case<'_>) -> Next {
    let Some(next) = to_tell(case) else { return Next::default() };
    let safety = next
        .safety
        .first()
        .map(|&id| format!("{CAUTION}Before that, for safety: {}", said(case, id)));
    let cautions = case.cautions_of_question(next.question).into_iter();
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

/// What the tree waits for comes before what the verdict proposes.
fn waited_for(case: &Case<'_>, next: &mut Next) {
    let text = match case.now() {
        Now::Act { action, .. } => case.action_view(*action).instruction.to_text(),
        Now::Do { text, .. } => text.to_text(),
        _ => return,
    };
    let part = about_this(case).map(|part| format!(" {part}")).unwrap_or_default();
    next.instruction = Some(format!("Next: {text}{part}"));
    next.cautions = case.cautions_here().iter().map(caution).collect();
}

/// A line without what may be skipped.
fn without_quiet(line: &Line) -> String {
    let said = line.pieces.iter().filter(|piece| piece.role != Role::Quiet);
    said.map(|piece| piece.text.as_str()).collect()
}

fn text_of(lines: &[Line]) -> String {
    lines.iter().map(Line::to_text).collect::<Vec<_>>().join(" ")
}

/// A text in one row, harmless to show.
fn one_row(text: &str) -> String {
    inert(&text.split_whitespace().collect::<Vec<_>>().join(" "))
}
