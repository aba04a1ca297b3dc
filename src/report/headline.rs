//! The verdict's first words: what was done, what was mended, what is likely now, and what nothing
//! answered so far tells anything about.

use super::advice::caution_line;
use super::assumed::assumed;
use super::in_part::{in_brackets, shown_in};
use super::mended::after_repair;
use super::next::nothing_leads;
use super::next_step::about_this;
use super::undone::not_done_yet;
use super::unit::unit_in_doubt;
use super::worked::shown_before;
use crate::case::{Case, CautionView, Now, Owed};
use crate::evidence::wording::{Likelihood, in_words, share, word};
use crate::evidence::{FindingState, Proof, Ranked, Reason, Witness};
use crate::handbook::Closes;
use crate::text::{Line, Role, capital};

/// Below this a cause is not worth a line of its own (`estimate`).
pub(super) const WORTH_NAMING: f64 = 0.05;

/// Weights below this many nats don't deserve a sentence (`estimate`: odds change by a tenth).
pub(super) const WORTH_SAYING: f64 = 0.1;

/// How much of a verdict is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Extent {
    /// All of it.
    Whole,
    /// What it takes to go on.
    Brief,
}

/// What was done, mended and found, the likeliest explanation, and what is left.
/// After a stop no work is named that the tree waits for.
pub(super) fn headline(case: &Case<'_>, is_stopped: bool, extent: Extent) -> Vec<Line> {
    let assessment = case.assessment();
    // What can't be comes first: the end's own words may rest on it.
    let (disputed, apart): (Vec<&Witness>, Vec<&Witness>) =
        apart(case).partition(|witness| is_disputed(case, witness));
    let mut lines: Vec<Line> = unit_in_doubt(case).into_iter().collect();
    lines.extend(disputed.iter().map(|witness| case.says(witness).text));
    lines.extend(nothing_leads(case));
    lines.extend(what_was_done(case, is_stopped));
    lines.extend(apart.iter().map(|witness| as_found(case, witness)));
    if assessment.contradicts_itself {
        lines.push(Line::warning(
            "The answers can't all be true together. Check them one by one, the readings first.",
        ));
        return lines;
    }
    let closed = case.work_closed();
    // A plan has the odds in the ranking; what leads is told where it is a fault.
    let is_plan = closed == Some(Closes::Planned) && assessment.nothing_leads();
    if !assessment.has_evidence || is_plan {
        if closed.is_some() {
            return lines;
        }
        lines.push(Line::plain("No answer speaks for or against a cause, so there is no verdict."));
        return lines;
    }
    let repaired: Vec<Line> = mended(case).collect();
    let is_mended = !repaired.is_empty();
    lines.extend(repaired);
    lines.extend(shown_then(case).filter(|_| extent == Extent::Whole));
    if closed == Some(Closes::Proved) {
        lines.push(beyond_the_proof(case));
    } else if let Some(owed) = case.owed() {
        lines.push(not_read_again(case, owed));
    } else if assessment.disputed.is_empty() {
        let mut likeliest = likeliest(case, is_mended);
        let because = because(case);
        likeliest.retain(|line| extent == Extent::Whole || Some(line) != because.as_ref());
        lines.extend(likeliest);
    }
    lines.extend(not_done_yet(case));
    if assessment.disputed.is_empty() {
        lines.extend(unexamined(case));
    }
    lines
}

/// Whether something is known to be wrong that is no cause, such as a second gauge.
pub(super) fn is_wrong_apart(case: &Case<'_>) -> bool {
    apart(case).any(|witness| is_wrong(case, witness))
}

/// Whether a finding that speaks of no cause tells of something that is wrong.
pub(super) fn is_wrong(case: &Case<'_>, witness: &Witness) -> bool {
    matches!(witness.judged.state, FindingState::True(_))
        && case.handbook().finding(witness.finding).is_fault
}

/// What the end of the tree says has been done, or the work that it waits for with its cautions.
pub(super) fn what_was_done(case: &Case<'_>, is_stopped: bool) -> Vec<Line> {
    match case.now() {
        Now::Ended { done, .. } => {
            std::iter::once(done.clone()).chain(assumed(case, done)).collect()
        }
        // What the tree waits for is no verdict, but it comes before all that is said below.
        Now::Act { action, .. } if !is_stopped => {
            let view = case.action_view(*action);
            goes_on_with(case, &view.cautions, view.instruction)
        }
        Now::Do { text, .. } if !is_stopped => {
            goes_on_with(case, &case.cautions_here(), text.clone())
        }
        _ => Vec::new(),
    }
}

/// The work that the tree waits for, with its cautions before it and the part that it is about.
fn goes_on_with(case: &Case<'_>, cautions: &[CautionView], what: Line) -> Vec<Line> {
    let mut lines: Vec<Line> = cautions.iter().map(caution_line).collect();
    let line = Line::plain("Next on this way: ").join(what);
    lines.push(match about_this(case) {
        Some(part) => line.push(Role::Plain, format!(" {part}")),
        None => line,
    });
    lines
}

/// What was found that speaks of no cause, such as whether a written limit was kept.
pub(super) fn apart<'a>(case: &'a Case<'_>) -> impl Iterator<Item = &'a Witness> {
    let standing = case.assessment().witnesses.iter().filter(|witness| !witness.is_past());
    standing.filter(|witness| {
        let is_told = match witness.judged.state {
            FindingState::True(_) => true,
            // Readings that could be at odds and are not need no words.
            FindingState::False(_) => {
                case.handbook().finding(witness.finding).read_again.is_empty()
            }
            _ => false,
        };
        is_told && case.is_apart(witness.finding)
    })
}

/// What a finding says, told as past where work was done since its readings.
fn as_found(case: &Case<'_>, witness: &Witness) -> Line {
    let said = case.says(witness).text;
    match case.worksheet().judges_here(witness.finding) {
        true => said,
        false => Line::new().push(Role::Quiet, "Found before the last work: ").join(said),
    }
}

/// Whether a finding tells of readings that can't all be, and they are such.
pub(super) fn is_disputed(case: &Case<'_>, witness: &Witness) -> bool {
    matches!(witness.judged.state, FindingState::True(_))
        && !case.handbook().finding(witness.finding).read_again.is_empty()
}

/// What came of each repair that was made for what was probably there.
pub(super) fn mended<'a>(case: &'a Case<'_>) -> impl Iterator<Item = Line> + 'a {
    repaired(case).filter_map(|(was, proof)| after_repair(case, was, proof))
}

/// What showed each cause that is not likely any more before its repair. What still is likely has
/// its reasons.
pub(super) fn shown_then<'a>(case: &'a Case<'_>) -> impl Iterator<Item = Line> + 'a {
    let is_gone =
        |was: &Ranked| word(case.assessment().probability(was.cause)) <= Likelihood::Unlikely;
    let gone = repaired(case).map(|(was, _)| was).filter(move |was| is_gone(was));
    gone.filter_map(|was| shown_before(case, was.cause))
}

/// Causes that were probably there and that a repair was made for.
fn repaired<'a>(case: &'a Case<'_>) -> impl Iterator<Item = (&'a Ranked, Proof)> {
    let was = case.assessment().repaired();
    was.filter(|(ranked, _)| word(ranked.probability) >= Likelihood::Likely)
}

pub(super) fn likeliest(case: &Case<'_>, is_mended: bool) -> Vec<Line> {
    let assessment = case.assessment();
    let Some(leader) = assessment.leader() else { return Vec::new() };
    let view = case.cause_view(leader.cause);
    let nothing_leads = assessment.nothing_leads();
    let is_beside_another = is_mended || is_wrong_apart(case);
    let nothing = if is_beside_another { "nothing else is wrong" } else { "nothing is wrong" };
    let (p, name) = if nothing_leads {
        (assessment.nothing_wrong, format!("that {nothing}"))
    } else {
        let parts = in_brackets(&shown_in(case, leader.cause));
        (leader.probability, format!("{}{parts}", view.in_short))
    };
    let line = if word(p) < Likelihood::Likely {
        let begins = "Not settled, and nothing stands out yet. ";
        let others = if nothing_leads { "any one fault" } else { "anything else" };
        let said = format!(": {} by itself, but likelier than {others}. ", in_words(p));
        let line = Line::new().push(Role::Strong, begins).push(Role::Plain, "First comes ");
        line.push(Role::Strong, name).push(Role::Plain, said)
    } else {
        let begins = if assessment.settled { "Settled: " } else { "Not settled: " };
        let line = Line::new().push(Role::Strong, begins);
        if nothing_leads {
            line.push(Role::Plain, format!("{} {name}. ", in_words(p)))
        } else {
            line.push(Role::Strong, name).push(Role::Plain, format!(" is {}. ", in_words(p)))
        }
    };
    let mut lines = vec![line.push(Role::Plain, complement(case, p))];
    if !nothing_leads {
        lines.extend(together(case));
        lines.extend(because(case));
    }
    lines
}

/// How the leading cause does what it does, where one leads.
fn because(case: &Case<'_>) -> Option<Line> {
    let assessment = case.assessment();
    let leader = assessment.leader().filter(|_| !assessment.nothing_leads())?;
    Some(case.cause_view(leader.cause).because)
}

/// A repair that nobody has read again is no ground for saying that nothing is wrong.
pub(super) fn not_read_again(case: &Case<'_>, owed: Owed) -> Line {
    let asked = case.ask(owed.question).to_text();
    let repaired = case.cause_view(owed.cause).in_short;
    Line::new().push(Role::Strong, "Read again first: ").push(
        Role::Plain,
        format!("{asked} Until then nothing counts as in order: {repaired} was repaired, not read again."),
    )
}

/// What the odds mean after a proof that was passed: they are about what it does not look at as
/// well, and are no doubt about it.
pub(super) fn beyond_the_proof(case: &Case<'_>) -> Line {
    let nothing = in_words(case.assessment().nothing_wrong);
    Line::new().push(Role::Strong, "Beyond that proof: ").push(
        Role::Plain,
        format!(
            "not all was read in this case, and what was not read counts as open. So that nothing \
             at all is wrong, also there, can only be called {nothing}. These odds tell how much \
             was left unread; they take nothing back of what was proved."
        ),
    )
}

/// The other side of what leads, and what it mostly is.
fn complement(case: &Case<'_>, leading: f64) -> String {
    let assessment = case.assessment();
    let left = capital(&share(1.0 - leading));
    let nothing_leads = assessment.nothing_leads();
    let left = if nothing_leads {
        let what = if is_wrong_apart(case) { "something else" } else { "something" };
        format!("{left} that {what} is.")
    } else {
        format!("{left} that it is not there.")
    };
    let leader = assessment.leader().filter(|_| !nothing_leads).map(|leader| leader.cause);
    let with_it = assessment.together.map(|pair| pair.second);
    let mut others: Vec<(f64, String)> = assessment
        .ranking
        .iter()
        .filter(|ranked| Some(ranked.cause) != leader && Some(ranked.cause) != with_it)
        .filter(|ranked| ranked.probability >= WORTH_NAMING)
        .map(|ranked| (ranked.probability, case.cause_view(ranked.cause).in_short))
        .collect();
    if !nothing_leads && assessment.nothing_wrong >= WORTH_NAMING {
        others.push((assessment.nothing_wrong, "nothing wrong".to_owned()));
    }
    others.sort_by(|a, b| b.0.total_cmp(&a.0));
    match others.first() {
        Some((p, name)) => format!("{left} The next best explanation is {name}: {}.", in_words(*p)),
        None if nothing_leads => format!("{left} No one fault stands out."),
        None => format!("{left} Nothing else stands out."),
    }
}

/// Two things wrong at once, said as such.
fn together(case: &Case<'_>) -> Option<Line> {
    let pair = case.assessment().together?;
    let [first, second] = [pair.first, pair.second].map(|cause| case.cause_view(cause).in_short);
    Some(Line::new().push(Role::Strong, "Two things at once: ").push(
        Role::Plain,
        format!(
            "{first} and {second}. That both are there: {}. Mending one leaves the other.",
            in_words(pair.probability)
        ),
    ))
}

/// Causes that may be there and that nothing answered so far speaks for or against.
fn unexamined(case: &Case<'_>) -> Option<Line> {
    let assessment = case.assessment();
    let is_untouched = |ranked: &&Ranked| {
        let weighs = |reason: &Reason| reason.weight.nats().abs() >= WORTH_SAYING;
        ranked.probability >= WORTH_NAMING
            && !case.reasons().for_causes[ranked.cause.index()].iter().any(weighs)
    };
    let untouched = assessment.ranking.iter().filter(is_untouched);
    let names: Vec<String> =
        untouched.take(MOST_NAMED).map(|ranked| case.cause_view(ranked.cause).in_short).collect();
    (!names.is_empty()).then(|| {
        Line::plain(format!(
            "Hardly anything answered so far tells about these: {}.",
            names.join("; ")
        ))
    })
}

/// The most names in one sentence (limit of ours).
const MOST_NAMED: usize = 4;
