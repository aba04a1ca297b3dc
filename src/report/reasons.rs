//! What speaks for and against the leading explanation: what was found, what the past says, and
//! the work that was done against it.

use super::headline::WORTH_SAYING;
use super::json::ROUNDING;
use super::worked::worked_on;
use crate::case::{Case, CauseId};
use crate::evidence::ledger::Weight;
use crate::evidence::wording::reason;
use crate::evidence::{Insight, Past, Reason, Witness};
use crate::formula::{Facts, Value, Verdict, verdict as truth_of};
use crate::handbook::Entry;
use crate::text::{Line, Role, capital, spoken};

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
pub(super) fn reasons(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    let assessment = case.assessment();
    let Some(Leading { leader, name, all }) = leading(case) else { return Vec::new() };
    let side = |reason: &Reason| side_of(case, insight, leader, reason);
    let weighty = |reason: &&Reason| reason.weight.nats().abs() >= WORTH_SAYING;
    let mut lines = Vec::new();
    for wanted in [Side::For, Side::LeavesIt, Side::Against] {
        let chosen = all.iter().filter(weighty).filter(|reason| side(reason) == wanted);
        let (fresh, earlier): (Vec<&Reason>, Vec<&Reason>) =
            chosen.partition(|cited| tells_of_now(case, cited));
        let mut said: Vec<Line> =
            fresh.into_iter().take(MOST_TOLD).map(|cited| reason_line(case, cited)).collect();
        if !assessment.nothing_leads() && wanted != Side::LeavesIt {
            let is_for = wanted == Side::For;
            let of_leader = insight.past.iter().filter(|past| past.cause == leader);
            let points_there = of_leader.filter(|past| (past.factor > 1.0) == is_for);
            said.extend(points_there.map(|past| past_line(case, past)));
            said.extend(worked_on(case, leader).filter(|_| !is_for));
        }
        said.extend(before_the_work(case, &earlier));
        if !said.is_empty() {
            lines.push(Line::strong(format!("{} ({name})", wanted.heading())));
            lines.extend(said);
        }
    }
    lines
}

/// The explanation that leads, with what was weighed for it.
struct Leading<'a> {
    /// The likeliest cause, also where nothing wrong leads.
    leader: CauseId,
    name: String,
    all: &'a [Reason],
}

fn leading<'a>(case: &'a Case<'_>) -> Option<Leading<'a>> {
    let assessment = case.assessment();
    let leader = assessment.leader()?.cause;
    let (name, all) = if assessment.nothing_leads() {
        ("nothing wrong".to_owned(), &case.reasons().for_nothing)
    } else {
        let name = case.cause_view(leader).in_short;
        (name, &case.reasons().for_causes[leader.index()])
    };
    Some(Leading { leader, name, all })
}

/// The side on which a piece of evidence stands. By itself it may speak against what it speaks for
/// beside the rest, where it speaks more against the others.
fn side_of(case: &Case<'_>, insight: &Insight, leader: CauseId, reason: &Reason) -> Side {
    let alone = insight.alone.iter().find(|alone| alone.witnesses == reason.witnesses);
    let is_against_by_itself = alone.is_some_and(|alone| {
        let by_itself = match case.assessment().nothing_leads() {
            true => alone.for_nothing,
            false => alone.for_causes[leader.index()],
        };
        by_itself < -ROUNDING
    });
    match reason.weight.nats() > 0.0 {
        false => Side::Against,
        true if is_against_by_itself => Side::LeavesIt,
        true => Side::For,
    }
}

/// The reasons that weigh most for the leading explanation and against it, what the past says among
/// them. Where nothing that was found since the work speaks for it, what was found before does.
pub(super) fn weightiest(
    case: &Case<'_>,
    insight: &Insight,
    most_for: usize,
    most_against: usize,
) -> Vec<Line> {
    let Some(Leading { leader, name, all }) = leading(case) else { return Vec::new() };
    let weighty = all.iter().filter(|reason| reason.weight.nats().abs() >= WORTH_SAYING);
    let (fresh, earlier): (Vec<&Reason>, Vec<&Reason>) =
        weighty.partition(|cited| tells_of_now(case, cited));
    // What leaves it likely only beside the rest is no reason to be named in brief.
    let side = |cited: &Reason| side_of(case, insight, leader, cited);
    let plain = fresh.iter().filter(|cited| side(cited) != Side::LeavesIt);
    let found = plain.map(|cited| (cited.weight.nats(), reason_line(case, cited)));
    // Where nothing wrong leads, what the past says of a cause is no reason of its own.
    let of_leader = insight.past.iter().filter(|past| past.cause == leader);
    let told = of_leader.filter(|_| !case.assessment().nothing_leads());
    let told = told.map(|past| (libm::log(past.factor), past_line(case, past)));
    let mut all: Vec<(f64, Line)> =
        found.chain(told.filter(|(nats, _)| nats.abs() >= WORTH_SAYING)).collect();
    all.sort_by(|a, b| b.0.abs().total_cmp(&a.0.abs()));
    let (speaking, against): (Vec<_>, Vec<_>) = all.into_iter().partition(|(nats, _)| *nats > 0.0);
    let mut lines: Vec<Line> = speaking.into_iter().take(most_for).map(|(_, line)| line).collect();
    if !fresh.iter().any(|cited| side(cited) == Side::For) {
        let earlier: Vec<&Reason> =
            earlier.into_iter().filter(|cited| side(cited) == Side::For).collect();
        lines.extend(before_the_work(case, &earlier));
    }
    if !lines.is_empty() {
        lines.insert(0, Line::strong(format!("What weighs most for it ({name})")));
    }
    let against: Vec<Line> = against.into_iter().take(most_against).map(|(_, line)| line).collect();
    if !against.is_empty() {
        lines.push(Line::strong(format!("What weighs most against it ({name})")));
    }
    lines.extend(against);
    lines
}

/// The most reasons told on one side (limit of ours).
const MOST_TOLD: usize = 3;

/// The most that is told of what was found before the work (limit of ours).
const MOST_EARLIER: usize = 2;

/// Whether a piece of evidence was found, in part at least, since the work that was done.
fn tells_of_now(case: &Case<'_>, cited: &Reason) -> bool {
    cited.witnesses.iter().any(|place| !case.assessment().witnesses[*place].is_past())
}

/// What was found before the work, strongest first, in one line.
fn before_the_work(case: &Case<'_>, earlier: &[&Reason]) -> Option<Line> {
    let mut line = Line::plain("- ").push(Role::Quiet, "As first found:");
    for cited in earlier.iter().take(MOST_EARLIER) {
        for place in &cited.witnesses {
            let witness = &case.assessment().witnesses[*place];
            line = line.push(Role::Plain, " ").join(said(case, witness));
        }
        line = line.push(Role::Quiet, format!(" ({})", reason(cited.weight)));
    }
    (!earlier.is_empty()).then_some(line)
}

/// What the past says, before anything was tested.
fn past_line(case: &Case<'_>, past: &Past) -> Line {
    let handbook = case.handbook();
    let asked = match handbook.entry(past.when) {
        Entry::Question(id) => case.ask(id).push(Role::Plain, " Yes."),
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

/// What was found of one piece of evidence. What was found of it before the work too is not told
/// anew.
fn reason_line(case: &Case<'_>, cited: &Reason) -> Line {
    let witnesses = cited.witnesses.iter().map(|place| &case.assessment().witnesses[*place]);
    let (earlier, fresh): (Vec<&Witness>, Vec<&Witness>) =
        witnesses.partition(|witness| witness.is_past());
    let mut line = Line::plain("- ");
    for (i, witness) in fresh.iter().enumerate() {
        if i > 0 {
            line = line.push(Role::Plain, " Together with: ");
        }
        line = line.join(said(case, witness));
    }
    if !earlier.is_empty() {
        line = line.push(Role::Plain, " Together with what was found before the work.");
    }
    line.push(Role::Quiet, format!(" ({})", reason(cited.weight)))
}

/// What a witness says and of when; of a choice that was seen, what was asked and answered first.
pub(super) fn seen(case: &Case<'_>, witness: &Witness) -> Line {
    let said = said(case, witness);
    if witness.is_past() {
        Line::new().push(Role::Quiet, "As first found: ").join(said)
    } else {
        said
    }
}

/// The same without its time.
pub(super) fn said(case: &Case<'_>, witness: &Witness) -> Line {
    let said = case.says(witness).text;
    let Some((ask, label)) = case.choice_seen(witness.finding, &witness.judged.state) else {
        return said;
    };
    let says_no_more = said.to_text().contains(&label);
    let answered = ask.push(Role::Plain, " ").push(Role::Value, label).push(Role::Plain, ".");
    if says_no_more { answered } else { answered.push(Role::Plain, " ").join(said) }
}
