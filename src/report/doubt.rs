//! What would change a verdict, said in sentences: open findings, answers it rests on, and how far
//! the handbook's own numbers may be off.

use crate::case::{Case, CauseId};
use crate::evidence::wording::{Likelihood, in_words, word};
use crate::evidence::{Change, Decided, HoldsWhile, Insight, RestsOn};
use crate::text::{Line, Role, capital, list_or};

/// Below this a change is not worth a sentence (`estimate`).
pub(super) const WORTH_FEARING: f64 = 0.05;

/// From this probability on an outcome is as good as known: that it changes what leads is how the
/// case stands, and no reason to fear for it (the border of *almost certain* in the scale of words,
/// ICD 203 from memory).
const AS_GOOD_AS_KNOWN: f64 = 0.95;

/// The lines under "What would change this".
pub(super) fn what_would_change(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    let mut lines = changes(case, insight);
    if lines.is_empty() {
        lines.push(Line::plain(
            "- No single answer that is still open, nor two of them, would put something else first.",
        ));
    }
    lines.insert(0, Line::strong("What would change this"));
    lines
}

/// The first of them alone under its heading; nothing where nothing would.
pub(super) fn what_would_change_first(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    let first = changes(case, insight).into_iter().next();
    first.map_or_else(Vec::new, |first| vec![Line::strong("What would change this"), first])
}

/// What would put something else first: open findings, the strongest answer, the handbook's numbers.
fn changes(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    let open = insight.changes.iter().filter(|change| is_open(change.probability));
    let mut likely: Vec<(usize, &Change)> =
        open.filter_map(|change| Some((told_by(insight, change)?, change))).collect();
    likely.sort_by_key(|(place, _)| *place);
    lines.extend(likely.iter().take(2).map(|(_, change)| changed(case, change)));
    lines.extend(strongest_rest(case, insight).map(|rest| rests_on(case, rest)));
    lines.extend(insight.holds_while.first().map(|holds| holds_while(case, holds)));
    lines
}

/// The place of the test, by its worth, with which all is told that would change the lead; none where
/// no test tells it. What applies only where something else has happened means nothing to whoever reads
/// of it here.
fn told_by(insight: &Insight, change: &Change) -> Option<usize> {
    let first = |finding| insight.tests.iter().position(|test| test.findings.contains(finding));
    let places: Option<Vec<usize>> =
        change.outcomes.iter().map(|(finding, _)| first(finding)).collect();
    places?.into_iter().max()
}

/// Whether an outcome is likely enough to be feared, and not as good as known.
fn is_open(probability: f64) -> bool {
    (WORTH_FEARING..AS_GOOD_AS_KNOWN).contains(&probability)
}

/// Said the other way round where the outcome is likelier than not, since *if* sounds like a
/// remote chance.
fn changed(case: &Case<'_>, change: &Change) -> Line {
    let outcomes: Vec<String> = change
        .outcomes
        .iter()
        .map(|(finding, outcome)| case.finding_outcome(*finding, *outcome))
        .collect();
    let (outcomes, to) = (outcomes.join(" and "), decided(case, &change.to));
    let p = change.probability;
    Line::plain(if word(p) >= Likelihood::Likely {
        format!("- {}: {outcomes}. Then {to} would come first.", capital(&in_words(p)))
    } else {
        format!("- If {outcomes}, {to} would come first. That is {}.", in_words(p))
    })
}

fn decided(case: &Case<'_>, to: &Decided) -> String {
    match to {
        Decided::NothingWrong => "nothing wrong".to_owned(),
        Decided::Causes(causes) => {
            let name = |cause: &CauseId| case.cause_view(*cause).in_short;
            list_or(&causes.iter().take(2).map(name).collect::<Vec<_>>())
        }
    }
}

/// Of what the lead rests on that which speaks for it most.
fn strongest_rest<'a>(case: &Case<'_>, insight: &'a Insight) -> Option<&'a RestsOn> {
    let assessment = case.assessment();
    let reasons = match assessment.leader() {
        Some(leader) if !assessment.nothing_leads() => {
            &case.reasons().for_causes[leader.cause.index()]
        }
        _ => &case.reasons().for_nothing,
    };
    let speaks = |rest: &&RestsOn| {
        let cited = reasons.iter().find(|reason| reason.witnesses == rest.witnesses);
        cited.map_or(0.0, |reason| reason.weight.nats())
    };
    insight.rests_on.iter().max_by(|a, b| speaks(a).total_cmp(&speaks(b)))
}

fn rests_on(case: &Case<'_>, rest: &RestsOn) -> Line {
    let witnesses = &case.assessment().witnesses;
    let mut line = Line::plain("- It rests on this: ");
    for place in &rest.witnesses {
        line = line.join(case.says(&witnesses[*place]).text).push(Role::Plain, " ");
    }
    let text = format!(
        "Without it {} would come first, so check this answer again before all others.",
        decided(case, &rest.to)
    );
    line.push(Role::Plain, text)
}

fn holds_while(case: &Case<'_>, holds: &HoldsWhile) -> Line {
    let name = case.cause_view(holds.cause).in_short;
    let side = if holds.at < holds.stated { "Below" } else { "Above" };
    let (at, stated) = apart(holds.at, holds.stated);
    let text = match holds.finding {
        Some(finding) => {
            let last = case.handbook().finding(finding).outcomes().saturating_sub(1);
            let shown = case.finding_outcome(finding, holds.outcome.unwrap_or(last));
            format!(
                "- The handbook takes it that {stated} cases of {name} alone show that {shown}. \
                 {side} {at} something else would come first."
            )
        }
        None => format!(
            "- The handbook takes it that {stated} jobs begin with {name}. {side} {at} something \
             else would come first."
        ),
    };
    Line::new().push(Role::Quiet, text)
}

/// Two shares as frequencies, in hundredths, or in thousandths where those would not tell them
/// apart.
fn apart(at: f64, stated: f64) -> (String, String) {
    let in_so_many = |of: f64| [at, stated].map(|share| (share * of).round());
    let is_told = |[at, stated]: [f64; 2], of: f64| at != stated && at >= 1.0 && at < of;
    let of = if is_told(in_so_many(100.0), 100.0) { 100.0 } else { 1000.0 };
    let [at, stated] = in_so_many(of);
    (format!("{at:.0} in {of:.0}"), format!("{stated:.0} in {of:.0}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_outcome_that_hardly_comes_or_is_as_good_as_known_would_change_nothing() {
        assert_eq!([0.049, 0.05, 0.6, 0.949, 0.95].map(is_open), [false, true, true, true, false]);
    }

    #[test]
    fn two_shares_are_told_apart_in_hundredths_or_thousandths() {
        let told = |at, stated| {
            let (at, stated) = apart(at, stated);
            format!("{at}, {stated}")
        };
        assert_eq!(told(0.678, 0.85), "68 in 100, 85 in 100");
        assert_eq!(told(0.0521, 0.05), "52 in 1000, 50 in 1000");
        assert_eq!(told(0.004, 0.015), "4 in 1000, 15 in 1000");
        assert_eq!(told(0.997, 0.98), "997 in 1000, 980 in 1000");
    }
}
