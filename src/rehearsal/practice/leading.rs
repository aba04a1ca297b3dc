//! What is held likely to have been there at first, whatever was repaired since.

use crate::case::{Case, CauseId};

/// How probable each cause of the handbook, by its place, is held to have been at first, before
/// anything that was repaired; and that nothing was wrong.
pub(super) fn at_first(case: &Case<'_>) -> (Vec<f64>, f64) {
    let assessment = case.assessment();
    let was = |id: CauseId| assessment.was.iter().find(|ranked| ranked.cause == id);
    let one = |id: CauseId| {
        let now = assessment.probability(id);
        was(id).map_or(now, |ranked| ranked.probability.max(now))
    };
    let untouched: f64 = assessment.was.iter().map(|ranked| 1.0 - ranked.probability).product();
    (case.handbook().cause_ids().map(one).collect(), assessment.nothing_wrong * untouched)
}

/// What was more likely there at first than not, likeliest first, and the likeliest in any case;
/// alone, none for nothing wrong, where that is likelier than any.
pub(super) fn verdict(case: &Case<'_>) -> Vec<(Option<CauseId>, f64)> {
    let (causes, nothing) = at_first(case);
    let ids = case.handbook().cause_ids().map(Some);
    let mut held: Vec<(Option<CauseId>, f64)> = ids.zip(causes).collect();
    held.sort_by(|a, b| b.1.total_cmp(&a.1));
    let most = held.first().map_or(0.0, |(_, probability)| *probability);
    if nothing > most {
        return vec![(None, nothing)];
    }
    let likely = held.iter().filter(|(_, probability)| *probability > 0.5).count();
    held.truncate(likely.max(1));
    held
}
