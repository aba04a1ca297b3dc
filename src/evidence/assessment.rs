//! What a worksheet amounts to: the ranking, the reasons, and what to look at next.

use super::engine::Engine;
use super::finding::{FindingState, Judged};
use super::network::Posterior;
use super::next_check::{NextCheck, next_checks};
use super::ranking::{Now, Ranked, RankedGroup, was};
use super::reasons::{Reason, Weighing};
use super::weighed::Weighed;
use super::what_if::same_decision;
use super::witness::Witness;
use super::worksheet::Worksheet;
use crate::handbook::{CauseId, FindingId};

/// How likely the leading explanation must be before the case counts as settled; `estimate`:
/// the author's judgement of when acting beats asking.
pub const SETTLED_AT: f64 = 0.8;

/// How probable it must be besides that nothing cheap would change the lead; `estimate`.
pub const STAYS_AT: f64 = 0.9;

/// Up to this many minutes a check is cheap; `estimate`.
const CHEAP: f64 = 5.0;

/// How many cheap checks are looked at together (limit of ours; each doubles the work).
const MOST_CHEAP: usize = 4;

/// The judgement on a worksheet.
#[derive(Clone, Debug)]
pub struct Assessment {
    /// Every finding as it stands, in the order of the handbook, then as it stood before repairs.
    pub witnesses: Vec<Witness>,
    /// Every cause, likeliest first.
    pub ranking: Vec<Ranked>,
    /// The groups of causes, likeliest first.
    pub groups: Vec<RankedGroup>,
    /// How probable it is that nothing is wrong now.
    pub nothing_wrong: f64,
    /// Causes that a repair was made for, with how probable it is that they were there at first.
    pub was: Vec<Ranked>,
    /// Whether the leading explanation is likely enough to act on, and nothing cheap is likely to
    /// change which one it is.
    pub settled: bool,
    /// Whether any finding has said anything.
    pub has_evidence: bool,
    /// Whether the answers can't all be true under the handbook's numbers.
    pub contradicts_itself: bool,
    /// For each cause of the handbook, what speaks for it and against it, strongest first.
    pub reasons: Vec<Vec<Reason>>,
    /// What speaks for nothing being wrong and against it, strongest first.
    pub reasons_for_nothing: Vec<Reason>,
}

impl Assessment {
    /// How a finding stands.
    #[must_use]
    pub fn finding(&self, id: FindingId) -> &Judged {
        &self.witnesses[id.index()].judged
    }

    /// The cause in the lead.
    #[must_use]
    pub fn leader(&self) -> Option<Ranked> {
        self.ranking.first().copied()
    }

    /// How probable a cause is.
    #[must_use]
    pub fn probability(&self, cause: CauseId) -> f64 {
        self.ranking.iter().find(|r| r.cause == cause).map_or(0.0, |r| r.probability)
    }

    /// Whether "nothing wrong" leads.
    #[must_use]
    pub fn nothing_leads(&self) -> bool {
        self.groups.first().is_none_or(|group| self.nothing_wrong > group.probability)
    }
}

/// Judges everything that a worksheet holds.
#[must_use]
pub fn assess(engine: &Engine, sheet: &Worksheet<'_>) -> Assessment {
    let Weighed { witnesses, pieces, evidence, epochs, odds, posterior, contradicts_itself } =
        Weighed::of(engine, sheet);
    let network = epochs.network();
    let now = Now::of(sheet, &epochs);
    let groups = now.groups(sheet, &posterior);
    let nothing_wrong = now.nothing(&posterior);
    let leading = groups.first().map_or(0.0, |g| g.probability).max(nothing_wrong);
    let weighing = Weighing {
        network,
        odds: &odds,
        pieces: &pieces,
        evidence: &evidence,
        posterior: &posterior,
    };
    let reasons = weighing.reasons(&now);
    let is_likely = !pieces.is_empty() && !contradicts_itself && leading >= SETTLED_AT;
    let stays = || {
        let open = next_checks(network, sheet, &posterior);
        // What is still open speaks about now, as in the engine's own network, which has fewer
        // states than one with repairs.
        let decisions = now.in_groups(sheet).decisions_by_cause();
        let posterior = Posterior { states: now.states(&posterior), ..posterior.clone() };
        same_decision(engine.network(), &decisions, &posterior, &cheap(&open))
    };
    Assessment {
        ranking: now.ranking(&posterior),
        nothing_wrong,
        was: was(sheet, &epochs, &posterior),
        settled: is_likely && stays() >= STAYS_AT,
        has_evidence: !pieces.is_empty(),
        contradicts_itself,
        reasons: reasons.for_causes,
        reasons_for_nothing: reasons.for_nothing,
        groups,
        witnesses,
    }
}

/// Checks worth making, best first. Apart from the judgement, since few ask for them and every
/// answer is judged.
#[must_use]
pub fn checks_left(engine: &Engine, sheet: &Worksheet<'_>) -> Vec<NextCheck> {
    let weighed = Weighed::of(engine, sheet);
    next_checks(weighed.epochs.network(), sheet, &weighed.posterior)
}

/// The cheap checks that tell most, by the places of their findings.
fn cheap(next: &[NextCheck]) -> Vec<usize> {
    let mut cheap: Vec<&NextCheck> = next.iter().filter(|check| check.minutes <= CHEAP).collect();
    cheap.sort_by(|a, b| b.bits.total_cmp(&a.bits));
    cheap.into_iter().take(MOST_CHEAP).map(|check| check.finding.index()).collect()
}

/// Whether a state says something.
#[must_use]
pub fn speaks(state: &FindingState) -> bool {
    !matches!(state, FindingState::NotApplicable(_) | FindingState::Unknown(_))
}
