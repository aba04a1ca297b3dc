//! The verdict's first words: what was done, what was mended, what is likely now, and what nothing
//! answered so far tells anything about.

use crate::case::{Case, CauseId, Now};
use crate::evidence::wording::{Likelihood, in_words, word};
use crate::evidence::{Ranked, Reason};
use crate::text::{Line, Role};

/// Below this a cause is not worth a line of its own (`estimate`).
pub(super) const WORTH_NAMING: f64 = 0.05;

/// Weights below this many nats don't deserve a sentence (`estimate`: odds change by a tenth).
pub(super) const WORTH_SAYING: f64 = 0.1;

/// What was done, mended and found, the likeliest explanation, and what is left.
pub(super) fn headline(case: &Case<'_>) -> Vec<Line> {
    let assessment = case.assessment();
    let mut lines = what_was_done(case);
    if assessment.contradicts_itself {
        lines.push(Line::warning(
            "The answers can't all be true together. Check them one by one, the readings first.",
        ));
        return lines;
    }
    if !assessment.has_evidence {
        lines.push(Line::plain("No answer speaks for or against a cause, so there is no verdict."));
        return lines;
    }
    let cured = cured(case);
    lines.extend(cured.iter().map(|was| mended(case, was)));
    lines.extend(likeliest(case, !cured.is_empty()));
    lines.extend(unexamined(case));
    lines
}

/// What the end of the tree says has been done.
fn what_was_done(case: &Case<'_>) -> Vec<Line> {
    match case.now() {
        Now::Ended { done, .. } => vec![done.clone()],
        _ => Vec::new(),
    }
}

/// Causes that were there and that a repair has probably cured.
fn cured<'a>(case: &'a Case<'_>) -> Vec<&'a Ranked> {
    let assessment = case.assessment();
    let is_cured = |ranked: &&Ranked| {
        word(ranked.probability) >= Likelihood::Likely
            && word(assessment.probability(ranked.cause)) <= Likelihood::Unlikely
    };
    assessment.was.iter().filter(is_cured).collect()
}

fn mended(case: &Case<'_>, was: &Ranked) -> Line {
    let now = case.assessment().probability(was.cause);
    let (before, now) = (in_words(was.probability), in_words(now));
    Line::new()
        .push(Role::Strong, "Mended: ")
        .push(Role::Strong, case.cause_view(was.cause).name)
        .push(Role::Plain, format!(". That it was there before the repair: {before}. "))
        .push(Role::Plain, format!("That it is there now: {now}."))
}

fn likeliest(case: &Case<'_>, is_mended: bool) -> Vec<Line> {
    let assessment = case.assessment();
    let state = if assessment.settled { "Settled" } else { "Not settled" };
    let line = Line::new().push(Role::Strong, format!("{state}: "));
    if assessment.nothing_leads() {
        let nothing = if is_mended { "nothing else is wrong" } else { "nothing is wrong" };
        let said = in_words(assessment.nothing_wrong);
        return vec![
            line.push(Role::Plain, format!("{said} that {nothing}. {}", rest(case, None))),
        ];
    }
    let Some(leader) = assessment.leader() else { return Vec::new() };
    let view = case.cause_view(leader.cause);
    let line = line
        .push(Role::Strong, view.name.clone())
        .push(Role::Plain, format!(" is {}. ", in_words(leader.probability)))
        .push(Role::Plain, rest(case, Some(leader.cause)));
    vec![line, view.because]
}

/// What the remaining probability mostly is.
fn rest(case: &Case<'_>, leader: Option<CauseId>) -> String {
    let assessment = case.assessment();
    let mut others: Vec<(f64, String)> = assessment
        .ranking
        .iter()
        .filter(|ranked| Some(ranked.cause) != leader && ranked.probability >= WORTH_NAMING)
        .map(|ranked| (ranked.probability, case.cause_view(ranked.cause).name))
        .collect();
    if leader.is_some() && assessment.nothing_wrong >= WORTH_NAMING {
        others.push((assessment.nothing_wrong, "nothing wrong".to_owned()));
    }
    others.sort_by(|a, b| b.0.total_cmp(&a.0));
    match others.first() {
        Some((p, name)) => format!("The next best explanation is {name}: {}.", in_words(*p)),
        None => "Nothing else stands out.".to_owned(),
    }
}

/// Causes that may be there and that nothing answered so far speaks for or against.
fn unexamined(case: &Case<'_>) -> Option<Line> {
    let assessment = case.assessment();
    let is_untouched = |ranked: &&Ranked| {
        let weighs = |reason: &Reason| reason.weight.nats().abs() >= WORTH_SAYING;
        ranked.probability >= WORTH_NAMING
            && !assessment.reasons[ranked.cause.index()].iter().any(weighs)
    };
    let untouched = assessment.ranking.iter().filter(is_untouched);
    let names: Vec<String> =
        untouched.take(MOST_NAMED).map(|ranked| case.cause_view(ranked.cause).name).collect();
    (!names.is_empty()).then(|| {
        Line::plain(format!(
            "Hardly anything answered so far tells about these: {}.",
            names.join("; ")
        ))
    })
}

/// The most names in one sentence (limit of ours).
const MOST_NAMED: usize = 4;
