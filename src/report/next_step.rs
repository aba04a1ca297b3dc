//! The one next step of a case, which screen, report and message name alike.

use super::going_on::{going_on, is_due, is_sent_back_to, tests_in, ways_on};
use super::next::worth_naming;
use super::still_open::still_open;
use crate::case::{Case, Now, QuestionId, TreeId};
use crate::evidence::wording::{Likelihood, word};
use crate::evidence::{Insight, NextTest, Ranked};
use crate::formula::Kind;
use crate::handbook::{CauseId, Finding, FindingId, Observes, StepKind};

/// What comes next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum NextStep<'i> {
    /// A reading that can't be beside another one is read again.
    ReadAgain(QuestionId),
    /// The reading that the way asks for now.
    Asked(QuestionId),
    /// What a repair has outdated is read again in this tree.
    Due(TreeId),
    /// A test, with what of it is read or looked at first; it is worth more than any other in which
    /// something is.
    Test(&'i NextTest, QuestionId),
    /// The tree that the author goes on with, or that an end before advised.
    GoOn(TreeId),
}

/// The next step, in the order in which the checks are told; none where there is none.
pub(super) fn next_step<'i>(case: &Case<'_>, insight: &'i Insight) -> Option<NextStep<'i>> {
    if let Some(&question) = case.assessment().disputed.first() {
        return Some(NextStep::ReadAgain(question));
    }
    if let Some(question) = reading_asked(case) {
        return Some(NextStep::Asked(question));
    }
    let going = going_on(case, Some(insight));
    let due = going.filter(|tree| is_due(case, *tree));
    let mut tests = worth_naming(insight, going).into_iter();
    let test = || tests.find_map(|test| Some(NextStep::Test(test, seen_first(case, test)?)));
    if let Some((test, question)) = quick_look(case, insight, going).filter(|_| due.is_none()) {
        return Some(NextStep::Test(test, question));
    }
    let guided = going.filter(|tree| author_goes_first(case, insight, *tree));
    let advised = || still_open(case, insight, going).filter(|_| advised_goes_first(case));
    due.map(NextStep::Due)
        .or(guided.map(NextStep::GoOn))
        .or_else(|| advised().map(NextStep::GoOn))
        .or_else(test)
        .or_else(|| going.map(NextStep::GoOn))
}

/// Whether the way that its author goes on with comes before any other check: as long as no fault is
/// likely, or where it reads what shows the one that is. Where little is known, the way of somebody who
/// knows the trade is worth more than a single answer out of another one. Where a fault is likely, so is a
/// way that asks after that very fault, as long as no other check will often settle the case.
pub(super) fn author_goes_first(case: &Case<'_>, insight: &Insight, going: TreeId) -> bool {
    let assessment = case.assessment();
    let settles = |test: &&NextTest| test.settles >= OFTEN_SETTLED;
    !assessment.has_evidence
        || likely_fault(case).is_none()
        || reads_for_likely(case, going)
        || asks_after_what_leads(case, insight, going)
            && !worth_naming(insight, Some(going)).iter().any(settles)
}

/// A check that settles the case less often than this doesn't come before the way that asks after what
/// leads (`estimate`).
const OFTEN_SETTLED: f64 = 0.1;

/// Another way of the same end: where something is likely, one that asks after it as the one that is
/// gone on with does. As long as nothing stands out, the next that its author names, since nobody knows
/// yet which of them will tell.
pub(super) fn way_beside(case: &Case<'_>, insight: &Insight, going: TreeId) -> Option<TreeId> {
    let asks = |tree: &TreeId| asks_after_what_leads(case, insight, *tree);
    let is_open = !case.assessment().nothing_leads() && likely_fault(case).is_none();
    let mut others = ways_on(case, Some(insight)).into_iter().filter(|tree| *tree != going);
    others.find(|other| is_open || asks(other) && asks(&going))
}

/// The fault in the lead, where it is likely.
fn likely_fault(case: &Case<'_>) -> Option<Ranked> {
    let assessment = case.assessment();
    let leader = assessment.leader().filter(|_| !assessment.nothing_leads());
    leader.filter(|leader| word(leader.probability) >= Likelihood::Likely)
}

/// Whether a tree tests the cause in the lead: more often than not that cause shows in something that
/// the tree finds.
fn asks_after_what_leads(case: &Case<'_>, insight: &Insight, tree: TreeId) -> bool {
    let assessment = case.assessment();
    let leader = assessment.leader().filter(|_| !assessment.nothing_leads());
    let findings = tests_in(case, insight, tree).flat_map(|test| &test.findings);
    let mut shown_by = findings.flat_map(|id| &case.handbook().finding(*id).shown_by);
    leader.is_some_and(|leader| {
        shown_by.any(|(cause, shares)| *cause == leader.cause && shares.first() < Some(&0.5))
    })
}

/// Whether a tree takes a reading that shows what is likely and leads.
pub(super) fn reads_for_likely(case: &Case<'_>, tree: TreeId) -> bool {
    let leader = case.assessment().leader();
    let likely = leader.filter(|leader| word(leader.probability) >= Likelihood::Likely);
    likely.is_some_and(|leader| reads_for(case, tree, leader.cause))
}

/// Whether a tree takes a reading, still open, on which a finding rests that a cause shows more often
/// than any other cause does.
fn reads_for(case: &Case<'_>, tree: TreeId, cause: CauseId) -> bool {
    let sheet = case.worksheet();
    let handbook = case.handbook();
    let is_open = |id: &QuestionId| is_reading(case, *id) && sheet.is_unanswered(*id);
    let read: Vec<QuestionId> = handbook.tree(tree).questions().filter(is_open).collect();
    let shows_most = |finding: &Finding| {
        let shares = finding.shown_by.iter().filter_map(|(id, shares)| Some((id, shares.last()?)));
        let most = shares.max_by(|a, b| a.1.total_cmp(b.1));
        most.is_some_and(|(id, _)| *id == cause)
    };
    let mut shown = handbook.findings().iter().filter(|finding| shows_most(finding));
    shown.any(|finding| handbook.questions_under(finding.symbol).iter().any(|id| read.contains(id)))
}

/// The longest look that comes before the way of an author, in minutes, and how much longer that way is
/// at least (`estimate`).
const QUICK: f64 = 1.0;
const LONGER: f64 = 15.0;

/// A look or a touch that may change what leads and takes no time beside the way that its author goes
/// on with; none before which safety is still to be asked, beside a shorter way, or where nothing wrong
/// leads. What a way asks for itself, once it has read what shows the likely cause, comes there.
pub(super) fn quick_look<'i>(
    case: &Case<'_>,
    insight: &'i Insight,
    going: Option<TreeId>,
) -> Option<(&'i NextTest, QuestionId)> {
    let assessment = case.assessment();
    let going = going.filter(|_| assessment.has_evidence && !assessment.nothing_leads())?;
    let minutes = insight.tests.iter().find(|test| test.tree == Some(going))?.minutes;
    worth_naming(insight, Some(going)).into_iter().find_map(|test| {
        let is_quick = test.minutes <= QUICK && LONGER * test.minutes <= minutes;
        let seen = seen_first(case, test).filter(|id| !is_reading(case, *id))?;
        let comes_there = reads_for_likely(case, going)
            && case.handbook().tree(going).questions().any(|id| id == seen);
        (is_quick && test.safety.is_empty() && !comes_there).then_some((test, seen))
    })
}

/// Whether what an end before advised comes before any check: where most likely nothing is wrong, what
/// goes on towards a proof is worth more than what looks for faults.
pub(super) fn advised_goes_first(case: &Case<'_>) -> bool {
    let assessment = case.assessment();
    assessment.nothing_leads() && word(assessment.nothing_wrong) >= Likelihood::Likely
}

/// The reading that the way asks for now.
pub(super) fn reading_asked(case: &Case<'_>) -> Option<QuestionId> {
    match case.now() {
        Now::Ask { question, .. } if is_reading(case, *question) => Some(*question),
        _ => None,
    }
}

/// What the work at hand is about, as it was named, such as `It is about this: yellow hose.`; none
/// where it is about no part.
pub(super) fn about_this(case: &Case<'_>) -> Option<String> {
    let round = case.open_round()?;
    Some(format!("It is about this: {}.", case.round_name(&round)?))
}

/// Whether a question is answered from an instrument.
pub(super) fn is_reading(case: &Case<'_>, id: QuestionId) -> bool {
    let question = case.handbook().question(id);
    let is_read = question.instrument.is_some() || matches!(question.kind, Kind::Readings(_));
    is_read && !question.is_setting()
}

/// The first of a test's questions that is read, or else looked at, in the order in which its tree
/// asks them.
pub(super) fn seen_first(case: &Case<'_>, test: &NextTest) -> Option<QuestionId> {
    let asked: Vec<QuestionId> = match test.tree {
        Some(tree) => case.handbook().tree(tree).questions().collect(),
        None => test.questions.clone(),
    };
    let mut open = asked.into_iter().filter(|id| test.questions.contains(id));
    let is_seen = |id: &QuestionId| is_reading(case, *id) || is_look(case, test, *id);
    open.find(is_seen)
}

/// Whether a question is answered by a look or a touch: one of the choices that a finding of the
/// test tells apart, and no setting. What was seen first is told and not looked at: a finding that
/// others replace speaks of it.
fn is_look(case: &Case<'_>, test: &NextTest, id: QuestionId) -> bool {
    let question = case.handbook().question(id);
    let is_chosen = matches!(question.kind, Kind::YesNo | Kind::Choice(_) | Kind::Choices(_));
    let tells = |finding: &FindingId| is_tested(case, *finding, id);
    let is_hearsay = |finding: FindingId| {
        let mut findings = case.handbook().findings().iter();
        findings.any(|other| other.replaces == Some(finding)) && is_tested(case, finding, id)
    };
    is_chosen
        && !question.is_setting()
        && test.findings.iter().any(tells)
        && !case.finding_ids().any(is_hearsay)
}

/// Whether the test of a finding can be traced to a question.
fn is_tested(case: &Case<'_>, finding: FindingId, id: QuestionId) -> bool {
    let handbook = case.handbook();
    match &handbook.finding(finding).observes {
        Observes::Of(question) => *question == id,
        Observes::When(condition) => {
            let mut used = condition.uses().iter();
            used.any(|used| handbook.questions_under(used.symbol).contains(&id))
        }
    }
}

/// The first reading that is open of those that a tree asks for, as somebody comes to them who begins
/// it, and on which enough of it hangs. Where a case is sent back to a tree, what that asks for again
/// is open too.
pub(super) fn reading_of(case: &Case<'_>, tree: TreeId) -> Option<QuestionId> {
    let is_sent_back = is_sent_back_to(case, tree);
    let (sheet, tree) = (case.worksheet(), case.handbook().tree(tree));
    let asks_again = |id, kind: &StepKind| matches!(kind, StepKind::Ask { question, again: true } if *question == id);
    let is_anew =
        |id: QuestionId| is_sent_back && tree.steps.iter().any(|step| asks_again(id, &step.kind));
    let is_open =
        |id: &QuestionId| is_reading(case, *id) && (sheet.is_unanswered(*id) || is_anew(*id));
    let open: Vec<QuestionId> = tree.questions_from_start().filter(is_open).collect();
    let hangs_on = |id: QuestionId| {
        tree.steps.iter().filter(|step| case.looked_at(step).contains(&id)).count()
    };
    let most = open.iter().map(|id| hangs_on(*id)).max()?;
    open.into_iter().find(|id| MAIN * hangs_on(*id) >= most)
}

/// A reading on which less than one in so many steps hangs of those that hang on the main one is a
/// detail of a tree, off its way (`estimate`).
const MAIN: usize = 2;
