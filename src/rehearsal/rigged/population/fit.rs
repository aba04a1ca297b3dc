//! How often findings came out at simulated rigs, against the shares that the handbook gives them.
//!
//! A share of the handbook is that with one cause alone. Counted are the plays in which exactly
//! one of the causes that a finding speaks of was there, and for its background those in which
//! none was; what else was wrong doesn't show in it by the handbook's own word.

use super::score::Score;
use crate::handbook::{CauseId, Finding, FindingId, Handbook};

/// How often a finding came out, with one cause or with none that it speaks of.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// The finding.
    pub finding: FindingId,
    /// The cause that was there; none for the background.
    pub cause: Option<CauseId>,
    /// In how many plays it said something.
    pub plays: usize,
    /// How much of them came out as each outcome, the first being no or normal.
    pub counts: Vec<f64>,
    /// The handbook's shares of the outcomes.
    pub written: Vec<f64>,
    /// The share of yes without any cause, below which none with a cause may lie; 0 of choices.
    pub least: f64,
}

/// A cause that a finding doesn't speak of, though it was seen with it more often than without.
#[derive(Clone, Debug, PartialEq)]
pub struct Unspoken {
    /// The finding.
    pub finding: FindingId,
    /// The cause, alone at the rig.
    pub cause: CauseId,
    /// In how many plays the finding said something.
    pub plays: usize,
    /// The share of them in which it did not come out as no or normal.
    pub share: f64,
    /// The same without any cause that it speaks of.
    pub anyway: f64,
}

/// In how many plays a finding must have said something before anything is proposed (limit of
/// ours): fewer leave a share open by a fifth and more.
pub const LEAST_PLAYS: usize = 20;

/// How far from the handbook's share the nearest bound must lie before another is proposed
/// (limit of ours): less moves no verdict, and rigs are not the field.
const LEAST_GAP: f64 = 0.05;

/// The least share that is proposed (limit of ours): rigs of one file show nothing rarer.
const LEAST_PROPOSED: f64 = 0.01;

/// How far apart standard errors of a share of 95 % lie: the normal distribution's 97.5 %.
const DEVIATIONS: f64 = 1.959_963_984_540_054;

/// The bounds of a share at 95 %, of so many among so many (Wilson 1927).
#[must_use]
pub fn bounds(count: f64, plays: f64) -> (f64, f64) {
    if plays <= 0.0 {
        return (0.0, 1.0);
    }
    let (share, square) = (count / plays, DEVIATIONS * DEVIATIONS);
    let middle = (share + square / (2.0 * plays)) / (1.0 + square / plays);
    let inner = share * (1.0 - share) / plays + square / (4.0 * plays * plays);
    let half = DEVIATIONS * inner.sqrt() / (1.0 + square / plays);
    ((middle - half).max(0.0), (middle + half).min(1.0))
}

impl Fitted {
    /// The bounds of the share of an outcome at 95 %.
    #[must_use]
    pub fn bounds(&self, outcome: usize) -> (f64, f64) {
        bounds(self.counts[outcome], self.plays as f64)
    }

    /// Whether the handbook's shares lie clearly outside what was counted.
    #[must_use]
    pub fn is_off(&self) -> bool {
        let is_outside = |(outcome, written): (usize, &f64)| {
            let (low, high) = self.bounds(outcome);
            *written < low - LEAST_GAP || *written > high + LEAST_GAP
        };
        self.plays >= LEAST_PLAYS && self.written.iter().enumerate().any(is_outside)
    }

    /// The shares that would be written in the place of the handbook's, each of two digits and
    /// none nearer to certainty than anybody knows: half a play is added for each outcome
    /// (Jeffreys 1946), so that what was never seen is not held to be impossible.
    #[must_use]
    pub fn proposed(&self) -> Vec<f64> {
        let of = self.plays as f64 + 0.5 * self.counts.len() as f64;
        let rounded = |count: &f64| ((count + 0.5) / of * 100.0).round() / 100.0;
        let mut shares: Vec<f64> = self
            .counts
            .iter()
            .map(|count| rounded(count).clamp(LEAST_PROPOSED, 1.0 - LEAST_PROPOSED))
            .collect();
        if let [_, yes] = shares[..] {
            let yes = yes.max(self.least);
            return vec![1.0 - yes, yes];
        }
        // What rounding left over goes to the largest.
        let largest = (0..shares.len()).max_by(|a, b| shares[*a].total_cmp(&shares[*b]));
        if let Some(largest) = largest {
            let others: f64 =
                shares.iter().enumerate().filter(|(at, _)| *at != largest).map(|(_, s)| s).sum();
            shares[largest] = ((1.0 - others) * 100.0).round() / 100.0;
        }
        shares
    }
}

/// What plays show of every share of a handbook, in its order, the background first.
#[must_use]
pub fn fitted(handbook: &Handbook, scores: &[Score]) -> Vec<Fitted> {
    let findings = handbook.finding_ids().map(|id| (id, handbook.finding(id)));
    findings.flat_map(|(id, finding)| fitted_to(id, finding, scores)).collect()
}

/// What plays show of the background of a finding, and of its share with each cause.
fn fitted_to(id: FindingId, finding: &Finding, scores: &[Score]) -> Vec<Fitted> {
    let one = |cause: Option<CauseId>, written: &[f64], least: f64| {
        let is_so = |score: &Score| spoken_of(finding, score) == Some(cause);
        let (plays, counts) = counted(id, written.len(), scores, is_so);
        Fitted { finding: id, cause, plays, counts, written: written.to_vec(), least }
    };
    let background = one(None, &finding.background, 0.0);
    let least = match (background.is_off(), &finding.background[..]) {
        (true, [_, _]) => background.proposed()[1],
        (false, [_, yes]) => *yes,
        _ => 0.0,
    };
    let causes = finding.shown_by.iter();
    let causes = causes.map(|(cause, written)| one(Some(*cause), written, least));
    std::iter::once(background).chain(causes).collect()
}

/// Findings that came out with a cause of which they don't speak, clearly more often than without
/// any of which they do.
#[must_use]
pub fn unspoken(handbook: &Handbook, scores: &[Score]) -> Vec<Unspoken> {
    let mut found = Vec::new();
    for (id, finding) in handbook.finding_ids().map(|id| (id, handbook.finding(id))) {
        let outcomes = finding.outcomes();
        let is_sound = |score: &Score| !score.is_there.contains(&true);
        let (sound, of_sound) = counted(id, outcomes, scores, is_sound);
        if sound < LEAST_PLAYS {
            continue;
        }
        let anyway = 1.0 - of_sound[0] / sound as f64;
        let (_, most) = bounds(sound as f64 - of_sound[0], sound as f64);
        for cause in (0..handbook.causes().len()).map(CauseId::at) {
            let is_alone = |score: &Score| {
                score.is_there.iter().enumerate().all(|(at, there)| *there == (at == cause.index()))
            };
            let (plays, counts) = counted(id, outcomes, scores, is_alone);
            if speaks_of(finding, cause) || plays < LEAST_PLAYS {
                continue;
            }
            let shown = plays as f64 - counts[0];
            if bounds(shown, plays as f64).0 > most + LEAST_GAP {
                let share = shown / plays as f64;
                found.push(Unspoken { finding: id, cause, plays, share, anyway });
            }
        }
    }
    found
}

fn speaks_of(finding: &Finding, cause: CauseId) -> bool {
    let shown = finding.shown_by.iter().map(|(known, _)| *known);
    shown.chain(finding.hidden_by.iter().map(|(known, _)| *known)).any(|known| known == cause)
}

/// The one cause at a rig that a finding is shown by, or none; nothing where there are several of
/// which it speaks, or one that hides it.
fn spoken_of(finding: &Finding, score: &Score) -> Option<Option<CauseId>> {
    let is_there = |cause: &CauseId| score.is_there.get(cause.index()) == Some(&true);
    if finding.hidden_by.iter().any(|(cause, _)| is_there(cause)) {
        return None;
    }
    let mut there = finding.shown_by.iter().map(|(cause, _)| *cause).filter(is_there);
    match (there.next(), there.next()) {
        (one, None) => Some(one),
        _ => None,
    }
}

/// In how many plays a finding said something, and how much of them came out as each outcome.
fn counted(
    id: FindingId,
    outcomes: usize,
    scores: &[Score],
    is_so: impl Fn(&Score) -> bool,
) -> (usize, Vec<f64>) {
    let (mut plays, mut counts) = (0, vec![0.0; outcomes]);
    let of_it = scores.iter().filter(|score| is_so(score));
    for shown in of_it.flat_map(|score| score.shown.iter().filter(|shown| shown.finding == id)) {
        plays += 1;
        counts.iter_mut().zip(&shown.outcomes).for_each(|(count, share)| *count += share);
    }
    (plays, counts)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fitted_of(yes: f64, plays: usize, written: f64) -> Fitted {
        let counts = vec![plays as f64 - yes, yes];
        let written = vec![1.0 - written, written];
        Fitted { finding: FindingId::at(0), cause: None, plays, counts, written, least: 0.0 }
    }

    /// By scipy 1.17.1, `binomtest(k, n).proportion_ci(method="wilson")`.
    #[test]
    fn the_bounds_of_a_share_are_those_of_the_books() {
        for (count, plays, low, high) in
            [(81.0, 263.0, 0.2553, 0.3662), (15.0, 148.0, 0.0624, 0.1605), (0.0, 20.0, 0.0, 0.1611)]
        {
            let (found_low, found_high) = bounds(count, plays);
            assert!((found_low - low).abs() < 5e-5, "{found_low} {low}");
            assert!((found_high - high).abs() < 5e-5, "{found_high} {high}");
        }
        assert_eq!(bounds(0.0, 0.0), (0.0, 1.0));
    }

    #[test]
    fn only_what_lies_clearly_outside_is_off() {
        assert!(fitted_of(2.0, 40, 0.9).is_off());
        assert!(!fitted_of(2.0, 40, 0.05).is_off());
        assert!(!fitted_of(2.0, 40, 0.2).is_off(), "within a gap that moves nothing");
        assert!(!fitted_of(0.0, LEAST_PLAYS - 1, 0.9).is_off(), "too few plays");
    }

    #[test]
    fn what_is_proposed_adds_up_and_is_never_certain() {
        assert_eq!(fitted_of(0.0, 400, 0.5).proposed(), [0.99, 0.01]);
        assert_eq!(fitted_of(30.0, 40, 0.5).proposed()[1], 0.74);
        let below = Fitted { least: 0.8, ..fitted_of(30.0, 40, 0.5) };
        assert_eq!(below.proposed()[1], 0.8, "never below what is there anyway");
        let three = Fitted {
            counts: vec![10.0, 10.0, 10.0],
            written: vec![0.2, 0.3, 0.5],
            ..fitted_of(0.0, 30, 0.5)
        };
        let sum: f64 = three.proposed().iter().sum();
        assert!((sum - 1.0).abs() < 1e-9, "{:?}", three.proposed());
    }
}
