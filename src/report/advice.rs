//! What to do about a verdict: repairs, and who has the last word.

use super::brief::Brevity;
use super::going_on::going_on;
use super::headline::WORTH_NAMING;
use super::next::{MOST_TESTS, at_most_tests, next_tests, worth_naming};
use super::next_step::reads_for_likely;
use super::undone::open_repairs;
use crate::case::{ActionId, ActionView, Case, CauseId, CautionSeverity, CautionView, Now};
use crate::evidence::wording::{Likelihood, in_words, word};
use crate::evidence::{Insight, NextTest, RepairStep, Repairs};
use crate::handbook::StepKind;
use crate::text::{Line, Role, list_and};

/// The most repairs that are listed (limit of ours).
const MOST_REPAIRS: usize = 4;

/// The same behind a check that comes first, which may change their order (limit of ours).
const MOST_BEHIND_A_CHECK: usize = 1;

/// Repairs in the order to try, and the tests worth making next, those first that come first.
pub(super) fn what_to_do(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    let assessment = case.assessment();
    let mut lines = refer_now(case, &insight.repairs);
    let repairs = match leads_with(case, Likelihood::RoughlyEven) {
        true => repairs(case, &insight.repairs, most_repairs(case, insight)),
        false => Vec::new(),
    };
    let checks = match assessment.settled {
        true => Vec::new(),
        false => next_tests(case, insight),
    };
    lines.extend(in_order(case, insight, repairs, checks));
    lines
}

/// Repairs and checks, those first that come first.
fn in_order(
    case: &Case<'_>,
    insight: &Insight,
    repairs: Vec<Line>,
    checks: Vec<Line>,
) -> impl Iterator<Item = Line> {
    let (first, then) = match checks_come_first(case, insight) {
        true => (checks, repairs),
        false => (repairs, checks),
    };
    first.into_iter().chain(then)
}

/// Whether a check comes before any repair: as long as the case isn't settled, where the first repair
/// would more likely than not leave something wrong and the check takes no longer, or where it is of a
/// part that has still to be found and the way that its author goes on with reads what shows the likely
/// cause. A repair that was proposed and passed over comes before both.
fn checks_come_first(case: &Case<'_>, insight: &Insight) -> bool {
    let repairs = &insight.repairs;
    let Some(step) = repairs.steps.first() else { return false };
    let is_quick = |test: &&NextTest| test.minutes <= step.minutes;
    let leaves_something = || {
        word(step.restored) < Likelihood::RoughlyEven
            && worth_naming(insight, None).first().is_some_and(is_quick)
    };
    let is_shown_there = || {
        let going = going_on(case, Some(insight));
        is_of_a_part(case, step.action) && going.is_some_and(|tree| reads_for_likely(case, tree))
    };
    !case.assessment().settled
        && !open_repairs(case).into_iter().any(|action| comes_first(case, action))
        && (leaves_something() || is_shown_there())
}

/// Whether a repair is made in a tree that runs once for each part that is named.
fn is_of_a_part(case: &Case<'_>, repair: ActionId) -> bool {
    let makes = |kind: &StepKind| matches!(kind, StepKind::Act { action, .. } if *action == repair);
    let mut trees = case.handbook().trees().iter();
    trees.any(|tree| tree.rounds.is_some() && tree.steps.iter().any(|step| makes(&step.kind)))
}

/// The thing to do next: the first repair, once it is settled or what leads is likely, and the
/// checks worth making as long as it isn't settled, those first that come first. A repair is told
/// whole, with every caution of its own; rows are saved on the checks beside it.
pub(super) fn what_to_do_first(case: &Case<'_>, insight: &Insight, brevity: Brevity) -> Vec<Line> {
    let mut lines = refer_now(case, &insight.repairs);
    let repair = due_repair(case, insight, brevity);
    let most = match brevity {
        Brevity::Briefer if !repair.is_empty() => 1,
        Brevity::Briefest if !repair.is_empty() => 0,
        _ => MOST_TESTS,
    };
    let checks = match case.assessment().settled {
        true => Vec::new(),
        false => at_most_tests(case, insight, most),
    };
    lines.extend(in_order(case, insight, repair, checks));
    lines
}

/// The first repair, once it is settled or what leads is likely; nothing before.
pub(super) fn due_repair(case: &Case<'_>, insight: &Insight, brevity: Brevity) -> Vec<Line> {
    let is_settled = case.assessment().settled;
    let least = if is_settled { Likelihood::RoughlyEven } else { Likelihood::Likely };
    match leads_with(case, least) {
        true => first_repair(case, &insight.repairs, brevity),
        false => Vec::new(),
    }
}

/// Whether a cause leads that is at least so likely.
fn leads_with(case: &Case<'_>, likelihood: Likelihood) -> bool {
    let assessment = case.assessment();
    let leader = assessment.leader().filter(|_| !assessment.nothing_leads());
    leader.is_some_and(|leader| word(leader.probability) >= likelihood)
}

/// The repair to try first: one that was passed over, or the one meant for what leads. What has to be
/// done before it is an act with cautions of its own, and comes alone unless there is room for both.
fn first_repair(case: &Case<'_>, repairs: &Repairs, brevity: Brevity) -> Vec<Line> {
    let passed_over = open_and_unplanned(case, repairs).first().copied();
    let meant = repairs.steps.first().map(|first| repairs.for_leader.as_ref().unwrap_or(first));
    let step = meant.filter(|_| passed_over.is_none());
    let before = step.and_then(|step| step.first.first().copied());
    let Some(action) = before.or(passed_over).or(step.map(|step| step.action)) else {
        return left_to(case, repairs.referred)
            .map_or_else(Vec::new, |line| vec![Line::strong("What to do about it"), line]);
    };
    // What the way waits for stands at the head of the verdict, with its cautions.
    if matches!(case.now(), Now::Act { action: awaited, .. } if *awaited == action) {
        return Vec::new();
    }
    let mut lines = vec![Line::strong("What to do about it first")];
    let mut said: Vec<String> = Vec::new();
    match step.filter(|_| before.is_some()) {
        Some(step) if brevity == Brevity::Brief => lines.extend(told_whole(case, step, &mut said)),
        Some(step) => lines.extend(told_in_turn(case, step, action)),
        None => {
            lines.extend(new_cautions(case, action, &mut said));
            let is_open = open_repairs(case).contains(&action);
            let view = case.action_view(action);
            lines.push(action_line(&view, &against(case, action), None, is_open));
        }
    }
    lines.push(test_again(case, true));
    lines
}

/// What has to be done before a repair, with its cautions, and that the repair itself comes then.
fn told_in_turn(case: &Case<'_>, step: &RepairStep, before: ActionId) -> Vec<Line> {
    let mut lines = new_cautions(case, before, &mut Vec::new());
    let minutes = case.action_view(step.action).minutes;
    let cost = minutes.map(|minutes| format!(", about {minutes:.0} min")).unwrap_or_default();
    lines.push(Line::plain("- ").join(case.action_view(before).instruction));
    let once_done = case.handbook().action(step.action).once_done.as_ref();
    let named = once_done.map(|done| format!(", until this can be said: {done}"));
    lines.push(Line::plain(format!(
        "- Then the repair itself{} ({}{cost}). Read how, with its own cautions, before you begin: \
         it is in the whole verdict.",
        named.unwrap_or_default(),
        against(case, step.action)
    )));
    lines
}

/// A repair with what has to be done before it, all cautions first.
fn told_whole(case: &Case<'_>, step: &RepairStep, said: &mut Vec<String>) -> Vec<Line> {
    let all = step.first.iter().chain(std::iter::once(&step.action));
    let mut lines: Vec<Line> = all.flat_map(|id| new_cautions(case, *id, said)).collect();
    let first = step.first.iter().map(|id| case.action_view(*id).instruction);
    lines.extend(first.map(|instruction| Line::plain("- First: ").join(instruction)));
    let is_open = open_repairs(case).contains(&step.action);
    let view = case.action_view(step.action);
    lines.push(action_line(&view, &against(case, step.action), None, is_open));
    lines
}

/// Findings that are a matter of safety, with whom to ask.
fn refer_now(case: &Case<'_>, repairs: &Repairs) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for id in &repairs.refer_now {
        let found = case.finding_says(*id).text.to_text();
        let whom = case.finding_refers_to(*id).map(|whom| format!(" Ask {}.", whom.to_text()));
        lines.push(Line::warning(format!("- {found}{}", whom.unwrap_or_default())));
    }
    if !lines.is_empty() {
        lines.insert(0, Line::strong("Call somebody in before anything is repaired"));
    }
    lines
}

/// How many repairs are listed: that for what leads is always among them.
fn most_repairs(case: &Case<'_>, insight: &Insight) -> usize {
    if !checks_come_first(case, insight) {
        return MOST_REPAIRS;
    }
    let for_leader = insight.repairs.for_leader.as_ref().map(|step| step.action);
    let place = insight.repairs.steps.iter().position(|step| Some(step.action) == for_leader);
    place.map_or(MOST_BEHIND_A_CHECK, |place| MOST_BEHIND_A_CHECK.max(place + 1))
}

/// The order of repairs, at most so many; each caution once, before the first repair that it belongs
/// to.
fn repairs(case: &Case<'_>, repairs: &Repairs, most: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut said: Vec<String> = Vec::new();
    let is_all_listed = repairs.steps.len() <= most;
    let open = open_repairs(case);
    // What was proposed and passed over comes first, whatever else would do.
    let unplanned = open_and_unplanned(case, repairs);
    for id in &unplanned {
        lines.extend(new_cautions(case, *id, &mut said));
        lines.push(action_line(&case.action_view(*id), &against(case, *id), None, true));
    }
    for (place, step) in repairs.steps.iter().take(most).enumerate() {
        for id in step.first.iter().chain(std::iter::once(&step.action)) {
            lines.extend(new_cautions(case, *id, &mut said));
        }
        for id in &step.first {
            lines.push(Line::plain("- First: ").join(case.action_view(*id).instruction));
        }
        let what = if place == 0 {
            "that it alone mends all that is wrong"
        } else {
            "that all down to here mend all that is wrong"
        };
        let mended = format!("{what}: {}", in_words(step.restored));
        let against = against(case, step.action);
        let is_open = open.contains(&step.action);
        lines.push(action_line(&case.action_view(step.action), &against, Some(mended), is_open));
    }
    let lines_of_repairs = repairs.steps.len().min(most) + unplanned.len();
    let tries = !lines.is_empty();
    lines.extend(left_to(case, repairs.referred.filter(|_| is_all_listed)));
    if lines.is_empty() {
        return lines;
    }
    let is_one = tries && lines_of_repairs == 1;
    lines.insert(
        0,
        Line::strong(if is_one {
            "What to do about it"
        } else {
            "What to do about it, in this order"
        }),
    );
    if tries {
        lines.push(test_again(case, is_one));
    }
    lines
}

/// The repairs that were proposed and passed over and that the order of repairs leaves out.
fn open_and_unplanned(case: &Case<'_>, repairs: &Repairs) -> Vec<ActionId> {
    let is_planned = |id: &ActionId| repairs.steps.iter().any(|step| step.action == *id);
    let is_hazardous = |id: &ActionId| case.handbook().action(*id).is_hazardous;
    let mut open = open_repairs(case);
    open.retain(|id| {
        !is_planned(id) && !is_hazardous(id) && !repairs.steps.is_empty() && comes_first(case, *id)
    });
    open
}

/// Whether a repair that was passed over comes before all others: unless it is for something else than
/// what is likely and leads.
fn comes_first(case: &Case<'_>, action: ActionId) -> bool {
    let assessment = case.assessment();
    let leader = assessment.leader().filter(|_| leads_with(case, Likelihood::Likely));
    leader.is_none_or(|leader| case.handbook().cause(leader.cause).fix.contains(&action))
}

/// The repair that can hurt, left to whoever is called in.
fn left_to(case: &Case<'_>, referred: Option<ActionId>) -> Option<Line> {
    let line = Line::plain(format!("- Leave this to {}: ", case.handbook().call_in()));
    referred.map(|id| line.join(case.action_view(id).instruction))
}

/// That every repair is followed by a test, and what comes if none has helped.
fn test_again(case: &Case<'_>, is_one: bool) -> Line {
    let test = if is_one {
        "Test again after it. If it has not helped"
    } else {
        "Test again after each. If the last one has not helped"
    };
    Line::plain(format!("{test}, call in {}.", case.handbook().call_in()))
}

/// The cautions of an action that were not said yet.
fn new_cautions(case: &Case<'_>, action: ActionId, said: &mut Vec<String>) -> Vec<Line> {
    let mut new = case.action_view(action).cautions;
    new.retain(|caution| !said.contains(&caution.id));
    said.extend(new.iter().map(|caution| caution.id.clone()));
    new.iter().map(caution_line).collect()
}

/// The most causes that are named beside a repair (limit of ours).
const MOST_AGAINST: usize = 2;

/// The likeliest causes that a repair is for.
fn against(case: &Case<'_>, action: ActionId) -> String {
    let handbook = case.handbook();
    let cures = |cause: CauseId| {
        let cause = handbook.cause(cause);
        cause.fix.contains(&action)
    };
    let likely = case.assessment().ranking.iter().filter(|ranked| cures(ranked.cause));
    let worth_naming = likely.filter(|ranked| ranked.probability >= WORTH_NAMING);
    let names: Vec<String> = worth_naming
        .take(MOST_AGAINST)
        .map(|ranked| case.cause_view(ranked.cause).in_short)
        .collect();
    format!("against {}", list_and(&names))
}

fn action_line(action: &ActionView, against: &str, mended: Option<String>, is_open: bool) -> Line {
    let mut cost = vec![against.to_owned()];
    if is_open {
        cost.insert(0, "not done yet".to_owned());
    }
    if let Some(minutes) = action.minutes {
        cost.push(format!("about {minutes:.0} min"));
    }
    if !action.parts.is_empty() {
        cost.push(format!("parts: {}", list_and(&action.parts)));
    }
    cost.extend(mended);
    let line = Line::plain("- ").join(action.instruction.clone());
    line.push(Role::Quiet, format!(" ({})", cost.join("; ")))
}

/// A caution with whom to ask; a mere note does not cry caution.
pub(super) fn caution_line(caution: &CautionView) -> Line {
    let (begins, role) = match caution.severity {
        CautionSeverity::Note => ("Note: ", Role::Plain),
        CautionSeverity::Caution | CautionSeverity::Stop => ("", Role::Warning),
    };
    let refer = caution.refer.as_ref().map(|refer| format!(" Ask {}.", refer.to_text()));
    let text = caution.text.to_text();
    Line::new().push(role, format!("{begins}{text}{}", refer.unwrap_or_default()))
}

/// The repairs that are left out of the weighing.
pub(super) fn forgotten(case: &Case<'_>) -> Option<Line> {
    let causes = &case.assessment().forgotten;
    let names: Vec<String> = causes.iter().map(|id| case.cause_view(*id).in_short).collect();
    let told = format!(
        "Repairs against {} are not weighed, since there were more than can be weighed together: \
         what was read before them counts as if it spoke about now.",
        list_and(&names)
    );
    (!names.is_empty()).then(|| Line::new().push(Role::Quiet, told))
}
