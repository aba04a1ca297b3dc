//! What came of a repair: whether what it was made for was there and still is, and in which part.

use crate::case::{Case, CauseId};
use crate::evidence::wording::{Likelihood, in_words, word};
use crate::evidence::{Proof, Ranked};
use crate::text::{Line, Role, capital, list_and};

/// What a repair was made for: whether it was the cause, and whether it still is. One that may as
/// well be there as not is told by the ranking alone. Nothing is called mended that was not read
/// again, or that still shows.
pub(super) fn after_repair(case: &Case<'_>, was: &Ranked, proof: Proof) -> Option<Line> {
    let now = case.assessment().probability(was.cause);
    // Half of what it was is no cure that one would vouch for (`estimate`).
    let lead = match word(now) {
        low if low <= Likelihood::Unlikely && proof == Proof::NotRead => {
            "Repaired, and not read again since: "
        }
        low if low <= Likelihood::Unlikely && proof == Proof::StillShows => {
            "Repaired, and what showed it still shows: "
        }
        Likelihood::AlmostNoChance | Likelihood::VeryUnlikely => "Mended: ",
        Likelihood::Unlikely if now > 0.5 * was.probability => "Perhaps not mended: ",
        Likelihood::Unlikely => "Probably mended: ",
        Likelihood::RoughlyEven => return None,
        _ => "Not mended yet: ",
    };
    let (before, now) = (in_words(was.probability), in_words(now));
    let line = Line::new()
        .push(Role::Strong, lead)
        .push(Role::Strong, capital(&case.cause_view(was.cause).in_short))
        .push(Role::Plain, in_which(case, was.cause))
        .push(Role::Plain, format!(". That it was there at first: {before}. "))
        .push(Role::Plain, format!("That it is there now: {now}."));
    Some(line)
}

/// The parts in which it was found and repaired, as they were named, in brackets; nothing where no
/// part was looked at by itself.
fn in_which(case: &Case<'_>, cause: CauseId) -> String {
    let cured_by = &case.handbook().cause(cause).cured_by;
    let sheet = case.worksheet();
    let repairs =
        sheet.actions_done().filter(|(done, _)| cured_by.iter().any(|(cure, _)| cure == done));
    let repairs: Vec<usize> = repairs.map(|(_, order)| order).collect();
    let mut names: Vec<String> = Vec::new();
    for round in case.round_ends() {
        let was_repaired = repairs.iter().any(|order| (round.from..=round.until).contains(order));
        let named = case.record().given.iter().find(|given| given.order == round.from);
        let name = named.map(|given| given.typed.clone()).filter(|name| !names.contains(name));
        if was_repaired && !case.found_before_repair(round).is_empty() {
            names.extend(name);
        }
    }
    if names.is_empty() { String::new() } else { format!(" ({})", list_and(&names)) }
}
