//! The verdict in words: what, why, how sure, what next, and whom to ask.

use super::advice::{forgotten, what_to_do};
use super::closing::{referral, when_nothing_is_wrong};
use super::doubt::what_would_change;
use super::headline::{WORTH_NAMING, WORTH_SAYING, headline};
use super::json::ROUNDING;
use super::judgement::judgement;
use super::next::next_tests;
use super::open_points::{not_counted, not_settled};
use crate::case::{Case, Ending, Now};
use crate::evidence::ledger::Weight;
use crate::evidence::wording::{in_words, reason, several_faults};
use crate::evidence::{Insight, Past, Reason, Witness};
use crate::formula::{Facts, Value, Verdict, verdict as truth_of};
use crate::handbook::Entry;
use crate::text::{Line, Role, capital, spoken};

/// The whole verdict on a case, with how its interview ended.
#[must_use]
pub fn verdict(case: &Case<'_>, ending: &Ending) -> Vec<Line> {
    let assessment = case.assessment();
    let mut lines = stopped(case, ending);
    let is_stopped = !lines.is_empty();
    // A danger was told: whatever the readings say of the vacuum would only draw away from it.
    let is_in_danger = matches!(case.now(), Now::Stopped { .. });
    if is_in_danger || is_stopped && !assessment.has_evidence {
        lines.extend(referral(case));
        return lines;
    }
    lines.push(Line::strong("Verdict"));
    lines.extend(headline(case, is_stopped));
    lines.extend(rounds(case));
    lines.extend(planned(case));
    lines.extend(ranking(case));
    lines.extend(forgotten(case));
    if assessment.has_evidence && !assessment.contradicts_itself {
        let insight = case.insight();
        lines.extend(reasons(case, &insight));
        lines.extend(obscured(case, &insight));
        lines.extend(not_settled(case));
        lines.extend(not_counted(case));
        // After a stop nothing is said that could be read as a reason to go on.
        if !is_stopped {
            lines.extend(what_would_change(case, &insight));
            lines.extend(what_to_do(case, &insight));
            lines.extend(when_nothing_is_wrong(case));
        }
    } else if !is_stopped {
        lines.extend(next_tests(case, &case.insight()));
    }
    lines.extend(referral(case));
    lines
}

/// Why the work was stopped, and whom to ask.
fn stopped(case: &Case<'_>, ending: &Ending) -> Vec<Line> {
    let (text, why, refer) = match (ending, case.now()) {
        (Ending::Stopped(Some(id)), _) => {
            let view = case.caution_view(*id);
            (view.text, None, view.refer)
        }
        (_, Now::Stopped { text, why, refer, .. }) => {
            (text.clone(), why.clone(), Some(refer.clone()))
        }
        _ => return Vec::new(),
    };
    let refer = refer.map(|refer| format!(" Ask {}.", refer.to_text())).unwrap_or_default();
    let stop = Line::warning(format!("Stopped for safety. {}{refer}", text.to_text()));
    std::iter::once(stop).chain(why).collect()
}

/// What each round came to, with what it found before a repair.
fn rounds(case: &Case<'_>) -> Vec<Line> {
    let mut lines: Vec<Line> = case
        .round_ends()
        .iter()
        .map(|round| {
            let found = case.found_before_repair(round).into_iter().next();
            let line = Line::plain("- ");
            let line = match found {
                Some(found) => {
                    line.push(Role::Quiet, "As first found: ").join(found).push(Role::Plain, " ")
                }
                None => line,
            };
            line.join(round.done.clone())
        })
        .collect();
    if !lines.is_empty() {
        lines.insert(0, Line::strong("One by one"));
    }
    lines
}

/// The plans that the work has gone on from: what was laid down stays at hand.
fn planned(case: &Case<'_>) -> Vec<Line> {
    let plans = case.plans();
    let heading = (!plans.is_empty()).then(|| Line::strong("The plan of this job"));
    heading.into_iter().chain(plans.iter().cloned()).collect()
}

fn ranking(case: &Case<'_>) -> Vec<Line> {
    let assessment = case.assessment();
    if !assessment.has_evidence || assessment.contradicts_itself {
        return Vec::new();
    }
    let mut lines = vec![Line::strong("Ranking")];
    let mut entries: Vec<(f64, String)> = assessment
        .ranking
        .iter()
        .filter(|ranked| ranked.probability >= WORTH_NAMING)
        .map(|ranked| (ranked.probability, case.cause_view(ranked.cause).name))
        .collect();
    entries.push((assessment.nothing_wrong, "Nothing wrong".to_owned()));
    entries.sort_by(|a, b| b.0.total_cmp(&a.0));
    let faults = entries.len() - 1;
    for (p, name) in entries {
        lines.push(Line::plain(format!("- {name}: {}", in_words(p))));
    }
    lines.extend(several_faults(faults).map(|said| Line::new().push(Role::Quiet, said)));
    lines.extend(judgement(case));
    lines
}

/// On which side of an explanation a piece of evidence stands.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    /// It makes it likelier, by itself too.
    For,
    /// It makes it likelier only because it speaks more against the others.
    LeavesIt,
    /// It makes it less likely.
    Against,
}

impl Side {
    fn heading(self) -> &'static str {
        match self {
            Self::For => "What speaks for it",
            Self::LeavesIt => "What speaks against others more than against it",
            Self::Against => "What speaks against it",
        }
    }
}

/// The strongest reasons for and against the leading explanation.
fn reasons(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    let assessment = case.assessment();
    let Some(leader) = assessment.leader() else { return Vec::new() };
    let (name, all) = if assessment.nothing_leads() {
        ("nothing wrong".to_owned(), &assessment.reasons_for_nothing)
    } else {
        let name = case.cause_view(leader.cause).in_short;
        (name, &assessment.reasons[leader.cause.index()])
    };
    // By itself it may speak against what it speaks for beside the rest, where it speaks more
    // against the others.
    let is_against_by_itself = |reason: &Reason| {
        let alone = insight.alone.iter().find(|alone| alone.witnesses == reason.witnesses);
        alone.is_some_and(|alone| {
            let by_itself = match assessment.nothing_leads() {
                true => alone.for_nothing,
                false => alone.for_causes[leader.cause.index()],
            };
            by_itself < -ROUNDING
        })
    };
    let side = |reason: &Reason| match reason.weight.nats() > 0.0 {
        false => Side::Against,
        true if is_against_by_itself(reason) => Side::LeavesIt,
        true => Side::For,
    };
    let weighty = |reason: &&Reason| reason.weight.nats().abs() >= WORTH_SAYING;
    let mut lines = Vec::new();
    for wanted in [Side::For, Side::LeavesIt, Side::Against] {
        let chosen = all.iter().filter(weighty).filter(|reason| side(reason) == wanted).take(3);
        let mut said: Vec<Line> = chosen.map(|cited| reason_line(case, cited)).collect();
        if !assessment.nothing_leads() && wanted != Side::LeavesIt {
            let is_for = wanted == Side::For;
            let of_leader = insight.past.iter().filter(|past| past.cause == leader.cause);
            let points_there = of_leader.filter(|past| (past.factor > 1.0) == is_for);
            said.extend(points_there.map(|past| past_line(case, past)));
        }
        if !said.is_empty() {
            lines.push(Line::strong(format!("{} ({name})", wanted.heading())));
            lines.extend(said);
        }
    }
    lines
}

/// The most lines about what is hidden or explained away (limit of ours).
const MOST_OBSCURED: usize = 3;

/// What a likely cause hides, and what speaks for another only by itself.
fn obscured(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    let name = |cause| case.cause_view(cause).in_short;
    let witnesses = &case.assessment().witnesses;
    let hidden = insight.hidden.iter().map(|hidden| {
        let said = case.assessment().finding(hidden.finding).text.clone();
        let text = format!(
            " That says little: {}, if it is there, hides it {}.",
            name(hidden.by),
            times_in_ten(hidden.share)
        );
        Line::plain("- ").join(said).push(Role::Plain, text)
    });
    let explained = insight.explained_away.iter().filter_map(|explained| {
        let said = seen(case, witnesses.get(*explained.witnesses.first()?)?);
        let text = format!(
            " By itself that speaks for {} too, but {} would explain it as well.",
            name(explained.cause),
            name(explained.by)
        );
        Some(Line::plain("- ").join(said).push(Role::Plain, text))
    });
    let mut lines: Vec<Line> = hidden.chain(explained).take(MOST_OBSCURED).collect();
    if !lines.is_empty() {
        lines.insert(0, Line::strong("What says less than it seems"));
    }
    lines
}

fn times_in_ten(share: f64) -> String {
    format!("about {:.0} times in 10", 10.0 * share)
}

/// What the past says, before anything was tested.
fn past_line(case: &Case<'_>, past: &Past) -> Line {
    let handbook = case.handbook();
    let asked = match handbook.entry(past.when) {
        Entry::Question(id) => case.question_view(id).ask.push(Role::Plain, " Yes."),
        entry => {
            let named = match entry {
                Entry::Formula(id) => handbook.formula(id).name.clone(),
                _ => None,
            };
            let name = named.unwrap_or_else(|| spoken(handbook.symbol_name(past.when)));
            Line::plain(match is_sure(case, past) {
                true => format!("{}.", capital(&name)),
                false => format!("It may be that {name}."),
            })
        }
    };
    let weight = Weight::from_nats(libm::log(past.factor));
    Line::plain("- ").join(asked).push(Role::Quiet, format!(" ({})", reason(weight)))
}

/// Whether what the past says is known, and does not rest on what is assumed for "not sure".
fn is_sure(case: &Case<'_>, past: &Past) -> bool {
    match case.worksheet().latest(past.when) {
        Value::Truth(draws) => matches!(truth_of(&draws), Verdict::Yes(_)),
        _ => true,
    }
}

fn reason_line(case: &Case<'_>, cited: &Reason) -> Line {
    let assessment = case.assessment();
    let mut line = Line::plain("- ");
    for (i, &place) in cited.witnesses.iter().enumerate() {
        let witness = &assessment.witnesses[place];
        if i > 0 {
            line = line.push(Role::Plain, " Together with: ");
        }
        line = line.join(seen(case, witness));
    }
    line.push(Role::Quiet, format!(" ({})", reason(cited.weight)))
}

/// What a witness says and of when; of a choice that was seen, what was asked and answered first.
fn seen(case: &Case<'_>, witness: &Witness) -> Line {
    let said = said(case, witness);
    if witness.is_past {
        Line::new().push(Role::Quiet, "As first found: ").join(said)
    } else {
        said
    }
}

/// The same without its time.
pub(super) fn said(case: &Case<'_>, witness: &Witness) -> Line {
    let said = witness.judged.text.clone();
    let Some((ask, label)) = case.choice_seen(witness.finding, &witness.judged.state) else {
        return said;
    };
    let says_no_more = said.to_text().contains(&label);
    let answered = ask.push(Role::Plain, " ").push(Role::Value, label).push(Role::Plain, ".");
    if says_no_more { answered } else { answered.push(Role::Plain, " ").join(said) }
}
