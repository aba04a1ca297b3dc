//! What came of a repair: whether what it was made for was there and still is, and in which part.

use super::in_part::{in_brackets, repaired_in};
use crate::case::Case;
use crate::evidence::wording::{Likelihood, in_words, word};
use crate::evidence::{Proof, Ranked};
use crate::text::{Line, Role, capital};

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
        .push(Role::Plain, in_brackets(&repaired_in(case, was.cause)))
        .push(Role::Plain, format!(". That it was there at first: {before}. "))
        .push(Role::Plain, format!("That it is there now: {now}."));
    Some(line)
}
