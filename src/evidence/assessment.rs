//! What a worksheet amounts to: the ranking, and whether it is settled.

use super::costs::Costs;
use super::engine::Engine;
use super::finding::{FindingState, Judged};
use super::likely_states::LikelyStates;
use super::next_check::{NextCheck, next_checks};
use super::proof::{Proof, proof};
use super::ranking::{Ranked, RankedGroup, Together, was};
use super::settled::cheap_after;
use super::weighed::Weighed;
use super::witness::Witness;
use super::worksheet::Worksheet;
use crate::handbook::{CauseId, FindingId, Handbook, QuestionId};

/// From this probability on a repaired cause is taken to have been there, so that its repair must
/// be read again before anything rests on it (`estimate`: as likely as not).
const WAS_THERE: f64 = 0.5;

/// The judgement on a worksheet.
#[derive(Clone, Debug)]
pub struct Assessment {
    /// Every finding as it stands, in the order of the handbook, then as it stood before repairs.
    pub witnesses: Vec<Witness>,
    /// Every cause, likeliest first.
    pub ranking: Vec<Ranked>,
    /// The groups of causes, likeliest first.
    pub groups: Vec<RankedGroup>,
    /// The two likeliest causes of different groups, where it is about as likely as not that both
    /// are there now.
    pub together: Option<Together>,
    /// How probable it is that nothing is wrong now.
    pub nothing_wrong: f64,
    /// Causes that a repair was made for, with how probable it is that they were there at first.
    pub was: Vec<Ranked>,
    /// For each of those, in the same order, what bears out that its repair helped.
    pub proofs: Vec<Proof>,
    /// Causes whose repairs are left out of the weighing, since there were too many.
    pub forgotten: Vec<CauseId>,
    /// Whether the leading explanation is likely enough to act on, and nothing cheap is likely to
    /// change which one it is.
    pub settled: bool,
    /// The readings that can't all be, each once, in the order in which to read them again.
    pub disputed: Vec<QuestionId>,
    /// Whether any finding has said anything.
    pub has_evidence: bool,
    /// Whether the answers can't all be true under the handbook's numbers.
    pub contradicts_itself: bool,
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

    /// Causes that a repair was made for, as they were at first, each with what bears it out.
    pub fn repaired(&self) -> impl Iterator<Item = (&Ranked, Proof)> {
        self.was.iter().zip(self.proofs.iter().copied())
    }

    /// Whether "nothing wrong" leads.
    #[must_use]
    pub fn nothing_leads(&self) -> bool {
        self.groups.first().is_none_or(|group| self.nothing_wrong > group.probability)
    }
}

/// Judges everything that a worksheet holds.
#[must_use]
pub fn assess(engine: &Engine, sheet: &Worksheet<'_>, weighed: &Weighed) -> Assessment {
    let Weighed { witnesses, pieces, epochs, posterior, contradicts_itself, now, .. } = weighed;
    let states = weighed.states_now();
    let groups = now.groups(sheet, posterior, states);
    let nothing_wrong = now.nothing(posterior);
    let was = was(sheet, epochs, posterior);
    let proofs: Vec<Proof> = was
        .iter()
        .map(|was| proof(sheet, witnesses, was.cause).unwrap_or(Proof::NotRead))
        .collect();
    let disputed = disputed(sheet.handbook(), witnesses);
    let says_something = !pieces.is_empty() && !contradicts_itself;
    let is_settled = || {
        // What is still open speaks about now, as in the engine's own network, which has fewer
        // states than one with repairs.
        let decisions = weighed.groups.decisions_by_cause();
        let likely = LikelyStates::likely(engine.network(), &decisions, states);
        let costs = Costs::of(engine, sheet);
        let open = || cheap_after(&costs, &next_checks(engine, sheet, states, &costs), &[]);
        likely.are_settled(likely.weights(), open)
    };
    // That nothing is wrong may rest on the cure alone where nobody has read since.
    let is_borne_out = || {
        let nothing_leads = groups.first().is_none_or(|group| nothing_wrong > group.probability);
        let was_there = was.iter().zip(&proofs).filter(|(was, _)| was.probability >= WAS_THERE);
        !nothing_leads || was_there.map(|(_, proof)| proof).all(|proof| *proof == Proof::Passed)
    };
    Assessment {
        ranking: now.ranking(posterior),
        together: now.together(sheet, posterior),
        nothing_wrong,
        forgotten: epochs.forgotten().to_vec(),
        settled: says_something && disputed.is_empty() && is_borne_out() && is_settled(),
        disputed,
        was,
        proofs,
        has_evidence: !pieces.is_empty(),
        contradicts_itself: *contradicts_itself,
        groups,
        witnesses: witnesses.clone(),
    }
}

/// The readings that a true finding says can't all be.
fn disputed(handbook: &Handbook, witnesses: &[Witness]) -> Vec<QuestionId> {
    let mut readings = Vec::new();
    for witness in witnesses.iter().filter(|witness| !witness.is_past()) {
        let read_again = &handbook.finding(witness.finding).read_again;
        if matches!(witness.judged.state, FindingState::True(_)) {
            let news = read_again.iter().filter(|id| !readings.contains(*id)).copied();
            readings.extend(news.collect::<Vec<_>>());
        }
    }
    readings
}

/// Checks worth making, best first. Apart from the judgement, since few ask for them and every
/// answer is judged.
#[must_use]
pub fn checks_left(engine: &Engine, sheet: &Worksheet<'_>, weighed: &Weighed) -> Vec<NextCheck> {
    let states = weighed.states_now();
    next_checks(engine, sheet, states, &Costs::of(engine, sheet))
}

/// Whether a state says something.
#[must_use]
pub fn speaks(state: &FindingState) -> bool {
    !matches!(state, FindingState::NotApplicable | FindingState::Unknown)
}
