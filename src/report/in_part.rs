//! In which parts a cause showed, as they were named in rounds.

use crate::case::{Case, CauseId, RoundEnd};
use crate::evidence::FindingState;
use crate::text::list_and;

/// The parts in which a cause was found and repaired; none where no part was looked at by itself.
pub(super) fn repaired_in(case: &Case<'_>, cause: CauseId) -> Vec<String> {
    let cured_by = &case.handbook().cause(cause).cured_by;
    let sheet = case.worksheet();
    let repairs =
        sheet.actions_done().filter(|(done, _)| cured_by.iter().any(|(cure, _)| cure == done));
    let repairs: Vec<usize> = repairs.map(|(_, order)| order).collect();
    let was_repaired = |round: &RoundEnd| {
        repairs.iter().any(|order| (round.from..=round.until).contains(order))
            && !case.found_before_repair(round).is_empty()
    };
    named(case, was_repaired)
}

/// The parts in which something speaks for a cause now. What is asked outside rounds too, as the
/// pump's own floor is, tells of no part.
pub(super) fn shown_in(case: &Case<'_>, cause: CauseId) -> Vec<String> {
    let assessment = case.assessment();
    let reasons = case.reasons().for_causes.get(cause.index()).into_iter().flatten();
    let speaking = reasons.filter(|reason| reason.weight.nats() > 0.0);
    let witnesses = speaking.flat_map(|reason| &reason.witnesses);
    let witnesses = witnesses.filter_map(|&at| assessment.witnesses.get(at));
    let holds =
        witnesses.filter(|one| !one.is_past() && matches!(one.judged.state, FindingState::True(_)));
    let sheet = case.worksheet();
    let seen: Vec<usize> = holds.filter_map(|one| sheet.witness_observed_in_a_round(one)).collect();
    named(case, |round| seen.iter().any(|at| (round.from..=round.until).contains(at)))
}

/// The names of rounds, with the one that is going on, each once.
fn named(case: &Case<'_>, is_meant: impl Fn(&RoundEnd) -> bool) -> Vec<String> {
    let open = case.open_round();
    let rounds = case.round_ends().iter().chain(&open).filter(|round| is_meant(round));
    let mut names: Vec<String> = Vec::new();
    for name in rounds.filter_map(|round| case.round_name(round)) {
        if !names.iter().any(|known| known == name) {
            names.push(name.to_owned());
        }
    }
    names
}

/// ` (yellow hose and blue hose)`; nothing of none.
pub(super) fn in_brackets(names: &[String]) -> String {
    if names.is_empty() { String::new() } else { format!(" ({})", list_and(names)) }
}
