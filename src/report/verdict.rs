//! The verdict in words: what, why, how sure, what next, and whom to ask.

use super::advice::{forgotten, what_to_do};
use super::closing::{referral, when_nothing_is_wrong};
use super::doubt::what_would_change;
use super::headline::{Extent, WORTH_NAMING, headline, is_wrong_apart};
use super::judgement::judgement;
use super::next::next_tests;
use super::open_points::{not_counted, not_settled};
use super::reasons::{reasons, seen};
use crate::case::{Case, Closes, Ending, Now, RoundEnd};
use crate::evidence::Insight;
use crate::evidence::wording::{in_words, several_faults};
use crate::text::{Line, Role, list_and};

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
    lines.extend(headline(case, is_stopped, Extent::Whole));
    lines.extend(rounds(case));
    lines.extend(planned(case));
    lines.extend(told_of_parts(case));
    lines.extend(ranking(case));
    lines.extend(forgotten(case));
    if assessment.has_evidence && !assessment.contradicts_itself {
        let insight = case.insight();
        let is_disputed = !assessment.disputed.is_empty();
        if !is_disputed {
            lines.extend(reasons(case, &insight));
            lines.extend(obscured(case, &insight));
        }
        lines.extend(not_settled(case));
        lines.extend(not_counted(case));
        // After a stop nothing is said that could be read as a reason to go on, and work that was
        // left waits for somebody to come back to it.
        if case.closes() == Some(Closes::Waits) {
            lines.extend(next_tests(case, &insight));
        } else if !is_stopped {
            if !is_disputed {
                lines.extend(what_would_change(case, &insight));
            }
            lines.extend(what_to_do(case, &insight));
            if !is_disputed {
                lines.extend(when_nothing_is_wrong(case));
            }
        }
    } else if !is_stopped {
        lines.extend(next_tests(case, &case.insight()));
    }
    lines.extend(referral(case));
    lines
}

/// Why the work was stopped, and whom to ask.
pub(super) fn stopped(case: &Case<'_>, ending: &Ending) -> Vec<Line> {
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
pub(super) fn rounds(case: &Case<'_>) -> Vec<Line> {
    let mut lines: Vec<Line> = case
        .round_ends()
        .iter()
        .map(|round| {
            let found = case.found_before_repair(round).into_iter().next();
            let line = Line::plain("- ");
            let line = match found {
                Some(found) => line
                    .push(Role::Quiet, "As first found: ")
                    .join(found)
                    .push(Role::Quiet, behind(round)),
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

/// What parts were read at beside any round of theirs, and what would judge them.
pub(super) fn told_of_parts(case: &Case<'_>) -> Option<Line> {
    let told = case.told_of_parts();
    let (tree, ..) = told.first()?;
    let parts: Vec<String> =
        told.iter().map(|(_, name, reading)| format!("the {name} at {reading}")).collect();
    let line = Line::plain(format!("Parts were read beside their round: {}. ", list_and(&parts)));
    let way = format!("\"{}\"", case.tree_view(*tree).1);
    Some(
        line.push(Role::Name, way)
            .push(Role::Plain, " judges them, each on the pump's own reading."),
    )
}

/// What leads from what a round found first to what it came to.
fn behind(round: &RoundEnd) -> &'static str {
    if round.left_at.is_some() { " " } else { " Read again after the work: " }
}

/// The plans that the work has gone on from, and how it was left: both stay at hand.
pub(super) fn planned(case: &Case<'_>) -> Vec<Line> {
    let told = |kind: Closes, heading: &str| -> Vec<Line> {
        let of_kind = case.plans().iter().filter(|(closes, _)| *closes == kind);
        let lines: Vec<Line> = of_kind.map(|(_, line)| line.clone()).collect();
        let heading = (!lines.is_empty()).then(|| Line::strong(heading));
        heading.into_iter().chain(lines).collect()
    };
    let mut lines = told(Closes::Planned, "The plan of this job");
    lines.extend(told(Closes::Waits, "How it was left"));
    lines
}

fn ranking(case: &Case<'_>) -> Vec<Line> {
    let assessment = case.assessment();
    // Beside readings that can't all be a ranking would only lead astray.
    let is_disputed = !assessment.disputed.is_empty();
    if !assessment.has_evidence || assessment.contradicts_itself || is_disputed {
        return Vec::new();
    }
    let mut lines = vec![Line::strong("Ranking")];
    let mut entries: Vec<(f64, String)> = assessment
        .ranking
        .iter()
        .filter(|ranked| ranked.probability >= WORTH_NAMING)
        .map(|ranked| (ranked.probability, case.cause_view(ranked.cause).name))
        .collect();
    let nothing = if is_wrong_apart(case) { "Nothing else wrong" } else { "Nothing wrong" };
    entries.push((assessment.nothing_wrong, nothing.to_owned()));
    entries.sort_by(|a, b| b.0.total_cmp(&a.0));
    let faults = entries.len() - 1;
    for (p, name) in entries {
        lines.push(Line::plain(format!("- {name}: {}", in_words(p))));
    }
    lines.extend(several_faults(faults).map(|said| Line::new().push(Role::Quiet, said)));
    lines.extend(judgement(case));
    lines
}

/// The most lines about what is hidden or explained away (limit of ours).
const MOST_OBSCURED: usize = 3;

/// What a likely cause hides, and what speaks for another only by itself.
fn obscured(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    let name = |cause| case.cause_view(cause).in_short;
    let witnesses = &case.assessment().witnesses;
    let hidden = insight.hidden.iter().map(|hidden| {
        let said = case.finding_says(hidden.finding).text;
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
