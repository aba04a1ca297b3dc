//! How many of the numbers behind a verdict are judgement, and not counted by anybody.

use std::collections::BTreeSet;

use crate::case::{Case, FindingId};
use crate::handbook::Basis;
use crate::text::{Line, Role};

/// The numbers behind a ranking.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Behind {
    /// Those that somebody estimated, remembered or gave without a mark.
    pub judged: usize,
    /// All of them: how common each cause is, and the strengths of each finding that counts.
    pub all: usize,
}

/// The numbers that the ranking of a case comes from.
pub(super) fn behind(case: &Case<'_>) -> Behind {
    let handbook = case.handbook();
    let counting = case.assessment().witnesses.iter().filter(|witness| witness.counts());
    let findings: BTreeSet<FindingId> = counting.map(|witness| witness.finding).collect();
    let mut numbers: Vec<(&Basis, &str, usize)> =
        handbook.causes().iter().map(|cause| (&cause.basis, "how_common", 1)).collect();
    for id in findings {
        let finding = handbook.finding(id);
        numbers.push((&finding.basis, "shown_by", finding.shown_by.len()));
        numbers.push((&finding.basis, "hidden_by", finding.hidden_by.len()));
        numbers.push((&finding.basis, "anyway", 1));
    }
    let judged = numbers.iter().filter(|(basis, key, _)| is_judgement(basis, key));
    Behind {
        judged: judged.map(|(.., count)| count).sum(),
        all: numbers.iter().map(|(.., count)| count).sum(),
    }
}

fn is_judgement(basis: &Basis, key: &str) -> bool {
    let by_key = basis.by_key.iter().find(|(of, _)| of == key).map(|(_, mark)| mark);
    let mark = by_key.or(basis.whole.as_ref()).map(String::as_str);
    matches!(mark, None | Some("estimate" | "memory"))
}

/// `These odds rest on judgement, not on counts: ...`; none where every number is from a source.
pub(super) fn judgement(case: &Case<'_>) -> Option<Line> {
    let Behind { judged, all } = behind(case);
    let many = if judged == all { format!("all {all}") } else { format!("{judged} of {all}") };
    let text = format!(
        "These odds rest on judgement, not on counts: {many} numbers behind them are estimates or \
         from memory. `dryhold sources` lists where each is from."
    );
    (judged > 0).then(|| Line::new().push(Role::Quiet, text))
}
