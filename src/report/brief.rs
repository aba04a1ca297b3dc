//! The verdict in brief, for a screen: what it most likely is and how sure, what weighs most, what to
//! do next, and what would change it.

use super::advice::{due_repair, what_to_do_first};
use super::closing::{referral, when_nothing_is_wrong};
use super::doubt::what_would_change_first;
use super::headline::{Extent, headline};
use super::next::next_tests;
use super::reasons::weightiest;
use super::verdict::{planned, rounds, stopped, told_of_parts, verdict};
use crate::case::{Case, Closes, Ending, Now};
use crate::evidence::Insight;
use crate::text::Line;

/// How brief it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Brevity {
    /// With two reasons for it and one against it.
    Brief,
    /// With one reason for it, one check beside a repair, and no word of what would change it.
    Briefer,
    /// With a repair and the way that goes on beside it alone, where there is a repair.
    Briefest,
}

/// The verdict on a case without its ranking, without reasons that weigh less, and with the first
/// repair at most. No caution of what it advises is left out, nor a stop, nor who has the last word.
#[must_use]
pub fn verdict_in_brief(case: &Case<'_>, ending: &Ending, brevity: Brevity) -> Vec<Line> {
    let assessment = case.assessment();
    let mut lines = stopped(case, ending);
    let is_stopped = !lines.is_empty();
    let is_weighed = assessment.has_evidence && !assessment.contradicts_itself;
    if matches!(case.now(), Now::Stopped { .. }) || !is_weighed {
        return verdict(case, ending);
    }
    let insight = case.insight();
    lines.push(Line::strong("Verdict"));
    lines.extend(headline(case, is_stopped, Extent::Brief));
    lines.extend(told_of_parts(case));
    lines.extend(rounds(case));
    lines.extend(planned(case));
    let is_disputed = !assessment.disputed.is_empty();
    if !is_disputed {
        let (most_for, most_against) = match brevity {
            Brevity::Brief => (2, 1),
            Brevity::Briefer => (1, 0),
            Brevity::Briefest if due_repair(case, &insight, brevity).is_empty() => (1, 0),
            // What is to be done with its cautions takes the rows.
            Brevity::Briefest => (0, 0),
        };
        if most_for > 0 {
            lines.extend(weightiest(case, &insight, most_for, most_against));
        }
    }
    if case.closes() == Some(Closes::Waits) {
        lines.extend(next_tests(case, &insight));
    } else if !is_stopped {
        lines.extend(what_comes_next(case, &insight, brevity));
    }
    lines.extend(referral(case));
    lines
}

/// What to do next, and what would change the verdict.
fn what_comes_next(case: &Case<'_>, insight: &Insight, brevity: Brevity) -> Vec<Line> {
    let mut lines = what_to_do_first(case, insight, brevity);
    if case.assessment().disputed.is_empty() {
        lines.extend(when_nothing_is_wrong(case));
        if brevity == Brevity::Brief {
            lines.extend(what_would_change_first(case, insight));
        }
    }
    lines
}
