//! Why a cause is as likely as it is.

use super::{mark, of_log_odds, on_odds, percent};
use crate::case::{Case, CauseId};
use crate::evidence::Entry;
use crate::evidence::wording::in_words;
use crate::text::{Line, Role};

/// The account of a cause, and what could still speak.
pub(super) fn of_cause(case: &Case<'_>, id: CauseId) -> Vec<Line> {
    let view = case.cause_view(id);
    let now = in_words(case.assessment().probability(id));
    let mut lines = vec![
        Line::strong(view.name.clone()).push(Role::Plain, format!(": {now}.")),
        view.because.clone(),
    ];
    lines.extend(reckoning(case, id));
    lines.extend(silent(case, id));
    lines
}

/// What speaks for nothing being wrong, and against it.
pub(super) fn of_nothing(case: &Case<'_>) -> Vec<Line> {
    let assessment = case.assessment();
    let now = in_words(assessment.nothing_wrong);
    let mut lines =
        vec![Line::strong("That nothing is wrong").push(Role::Plain, format!(": {now}."))];
    if assessment.contradicts_itself {
        lines.push(Line::warning("The answers can't all be true, so nothing can be reckoned."));
        return lines;
    }
    let common = case.handbook().causes().iter().map(|cause| 1.0 - cause.how_common);
    lines.push(Line::plain(format!(
        "- Before anything was known: {}, as no cause of the handbook is there by chance.",
        percent(common.product())
    )));
    lines.push(Line::strong("What each answer weighs beside all the others"));
    for reason in &case.reasons().for_nothing {
        let line = observed(case, &reason.witnesses);
        lines.push(line.push(Role::Quiet, format!("({})", on_odds(reason.weight.nats()))));
    }
    lines
}

fn reckoning(case: &Case<'_>, id: CauseId) -> Vec<Line> {
    let cause = case.handbook().cause(id);
    let Some(account) = case.account(id) else {
        return vec![Line::warning("The answers can't all be true, so nothing can be reckoned.")];
    };
    let common = format!(
        "- Before anything was known: {} ({}).",
        percent(cause.how_common),
        mark(case, &cause.basis, "how_common")
    );
    let mut lines = vec![Line::strong("How that came about"), Line::plain(common)];
    let start = of_log_odds(account.prior);
    if (start - cause.how_common).abs() > 0.005 {
        lines.push(Line::plain(format!(
            "- With what other causes bring, or what repairs leave of it: {}.",
            percent(start)
        )));
    }
    if account.history.nats().abs() > 1e-9 {
        let after = percent(of_log_odds(account.prior + account.history.nats()));
        let moved = on_odds(account.history.nats());
        lines.push(Line::plain(format!("- Its past: {moved}, so {after}.")));
    }
    lines.extend(account.entries.iter().map(|entry| came(case, entry)));
    lines.push(Line::new().push(
        Role::Quiet,
        "The odds of a thing are how probable it is against how probable it is not. The first \
         number of each line is what the answer made of them when it came: one after the other \
         they lead to what is said now. The second is what it weighs beside all the others: what \
         another cause explains as well weighs less.",
    ));
    lines
}

fn came(case: &Case<'_>, entry: &Entry) -> Line {
    observed(case, &entry.witnesses).push(
        Role::Quiet,
        format!(
            "({}, so {}; beside the others {})",
            on_odds(entry.when_it_came.nats()),
            percent(of_log_odds(entry.balance)),
            on_odds(entry.beside_the_others.nats())
        ),
    )
}

/// What witnesses say, with a blank after each.
fn observed(case: &Case<'_>, places: &[usize]) -> Line {
    let witnesses = &case.assessment().witnesses;
    let mut line = Line::plain("- ");
    for place in places {
        if witnesses[*place].is_past() {
            line = line.push(Role::Quiet, "As first found: ");
        }
        line = line.join(case.says(&witnesses[*place]).text).push(Role::Plain, " ");
    }
    line
}

/// Findings that could speak for or against it and don't, with the reason.
fn silent(case: &Case<'_>, id: CauseId) -> Vec<Line> {
    let mut lines = Vec::new();
    for finding in case.finding_ids() {
        let told = case.handbook().finding(finding);
        let is_about = told.shown_by.iter().any(|(cause, _)| *cause == id)
            || told.hidden_by.iter().any(|(cause, _)| *cause == id);
        if is_about && let Some(why) = case.finding_says(finding).lacks {
            lines.push(Line::plain(format!("- `{}`: {why}.", told.id)));
        }
    }
    if !lines.is_empty() {
        lines.insert(0, Line::strong("What could still speak"));
    }
    lines
}
