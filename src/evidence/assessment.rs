//! What a worksheet amounts to: the ranking, the reasons, and what to look at next.

use super::engine::Engine;
use super::epochs::Epochs;
use super::finding::{FindingState, Judged};
use super::joint::{Piece, gather};
use super::ledger::{Weight, leave_one_out};
use super::network::{Evidence, Network, Posterior};
use super::next_check::{NextCheck, next_checks};
use super::worksheet::Worksheet;
use crate::formula::{Facts, Truth, Value};
use crate::handbook::{CauseId, FindingId};

/// How likely the leading explanation must be before the case counts as settled; `estimate`:
/// the author's judgement of when acting beats asking.
pub const SETTLED_AT: f64 = 0.8;

/// One cause with its probability.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ranked {
    /// The cause.
    pub cause: CauseId,
    /// How probable it is that it is there.
    pub probability: f64,
}

/// Causes that call for the same next action.
#[derive(Clone, Debug, PartialEq)]
pub struct RankedGroup {
    /// The group's name in the handbook.
    pub group: String,
    /// Its causes, likeliest first.
    pub causes: Vec<CauseId>,
    /// How probable it is that at least one of them is there.
    pub probability: f64,
}

/// What one piece of evidence does for one cause.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// The findings behind it.
    pub findings: Vec<FindingId>,
    /// The change in the cause's log-odds that this evidence makes, given all the rest.
    pub weight: Weight,
}

/// The judgement on a worksheet.
#[derive(Clone, Debug)]
pub struct Assessment {
    /// Every finding's state, in the order of the handbook.
    pub findings: Vec<Judged>,
    /// Every cause, likeliest first.
    pub ranking: Vec<Ranked>,
    /// The groups of causes, likeliest first.
    pub groups: Vec<RankedGroup>,
    /// How probable it is that nothing is wrong now.
    pub nothing_wrong: f64,
    /// Causes that a repair was made for, with how probable it is that they were there at first.
    pub was: Vec<Ranked>,
    /// Whether the leading explanation is likely enough to act on.
    pub settled: bool,
    /// Whether any finding has said anything.
    pub has_evidence: bool,
    /// Whether the answers can't all be true under the handbook's numbers.
    pub contradicts_itself: bool,
    /// For each cause of the handbook, what speaks for it and against it, strongest first.
    pub reasons: Vec<Vec<Reason>>,
    /// Checks worth making, best first.
    pub next: Vec<NextCheck>,
}

impl Assessment {
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
    let pieces = gather(engine, sheet);
    let evidence: Vec<Evidence> = pieces.iter().map(|piece| piece.evidence.clone()).collect();
    let odds = history(sheet);
    let epochs = Epochs::of(engine, sheet);
    let odds = epochs.odds(&odds);
    let network = epochs.network();
    let (posterior, contradicts_itself) = match network.posterior(&odds, &evidence) {
        Ok(posterior) => (posterior, false),
        Err(_) => (prior(network, &odds), true),
    };
    let groups = rank_groups(sheet, &epochs, &posterior);
    let nothing_wrong = nothing_now(sheet, &epochs, &posterior);
    let leading = groups.first().map_or(0.0, |g| g.probability).max(nothing_wrong);
    Assessment {
        findings: sheet.handbook().finding_ids().map(|id| sheet.finding(id)).collect(),
        ranking: rank(sheet, |cause| posterior.marginals[epochs.now(cause)]),
        nothing_wrong,
        was: was(sheet, &epochs, &posterior),
        settled: !pieces.is_empty() && !contradicts_itself && leading >= SETTLED_AT,
        has_evidence: !pieces.is_empty(),
        contradicts_itself,
        reasons: reasons(sheet, &epochs, &odds, &pieces, &evidence),
        next: next_checks(network, sheet, &posterior),
        groups,
    }
}

/// The probabilities before any evidence.
fn prior(network: &Network, odds: &[f64]) -> Posterior {
    network.posterior(odds, &[]).unwrap_or_else(|_| Posterior {
        states: Vec::new(),
        marginals: vec![0.0; network.causes()],
        log_odds: vec![f64::NEG_INFINITY; network.causes()],
        nothing: 0.0,
        evidence: 0.0,
        log_evidence: f64::NEG_INFINITY,
    })
}

fn rank(sheet: &Worksheet<'_>, probability: impl Fn(CauseId) -> f64) -> Vec<Ranked> {
    let causes = sheet.handbook().cause_ids();
    let mut ranking: Vec<Ranked> =
        causes.map(|cause| Ranked { cause, probability: probability(cause) }).collect();
    ranking.sort_by(|a, b| b.probability.total_cmp(&a.probability).then(a.cause.cmp(&b.cause)));
    ranking
}

/// How probable it is that no cause is there now, whatever was.
fn nothing_now(sheet: &Worksheet<'_>, epochs: &Epochs<'_>, posterior: &Posterior) -> f64 {
    let now: Vec<usize> = sheet.handbook().cause_ids().map(|cause| epochs.now(cause)).collect();
    if now.len() == epochs.network().causes() {
        return posterior.nothing;
    }
    1.0 - posterior.any_of(&now)
}

/// The causes that a repair was made for, as they were at first, likeliest first.
fn was(sheet: &Worksheet<'_>, epochs: &Epochs<'_>, posterior: &Posterior) -> Vec<Ranked> {
    let mut was: Vec<Ranked> = sheet
        .handbook()
        .cause_ids()
        .filter_map(|cause| {
            let node = epochs.at_first(cause)?;
            Some(Ranked { cause, probability: posterior.marginals[node] })
        })
        .collect();
    was.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    was
}

fn rank_groups(
    sheet: &Worksheet<'_>,
    epochs: &Epochs<'_>,
    posterior: &Posterior,
) -> Vec<RankedGroup> {
    let mut groups: Vec<RankedGroup> = Vec::new();
    for ranked in rank(sheet, |cause| posterior.marginals[epochs.now(cause)]) {
        let name = &sheet.handbook().cause(ranked.cause).group;
        match groups.iter_mut().find(|group| &group.group == name) {
            Some(group) => group.causes.push(ranked.cause),
            None => groups.push(RankedGroup {
                group: name.clone(),
                causes: vec![ranked.cause],
                probability: 0.0,
            }),
        }
    }
    for group in &mut groups {
        let causes: Vec<usize> = group.causes.iter().map(|&cause| epochs.now(cause)).collect();
        group.probability = posterior.any_of(&causes);
    }
    groups.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    groups
}

/// What the past multiplies each cause's odds by; what is not known counts as 1.
fn history(sheet: &Worksheet<'_>) -> Vec<f64> {
    let handbook = sheet.handbook();
    let is_yes = |symbol| match sheet.latest(symbol) {
        Value::Truth(draws) => {
            draws.values().iter().filter(|&&t| t == Truth::Yes).count() as f64
                / draws.values().len() as f64
        }
        _ => 0.0,
    };
    handbook
        .causes()
        .iter()
        .map(|cause| {
            cause.history.iter().map(|h| 1.0 + is_yes(h.when) * (h.factor - 1.0)).product()
        })
        .collect()
}

fn reasons(
    sheet: &Worksheet<'_>,
    epochs: &Epochs<'_>,
    odds: &[f64],
    pieces: &[Piece],
    evidence: &[Evidence],
) -> Vec<Vec<Reason>> {
    let causes = sheet.handbook().cause_ids();
    let Ok(ledger) = leave_one_out(epochs.network(), odds, evidence) else {
        return causes.map(|_| Vec::new()).collect();
    };
    causes
        .map(|cause| {
            let node = epochs.now(cause);
            let weigh = |(piece, row): (&Piece, &Vec<Weight>)| Reason {
                findings: piece.findings.clone(),
                weight: row[node],
            };
            let mut reasons: Vec<Reason> = pieces.iter().zip(&ledger.pieces).map(weigh).collect();
            reasons.sort_by(|a, b| b.weight.nats().abs().total_cmp(&a.weight.nats().abs()));
            reasons
        })
        .collect()
}

/// Whether a state says something.
#[must_use]
pub fn speaks(state: &FindingState) -> bool {
    !matches!(state, FindingState::NotApplicable(_) | FindingState::Unknown(_))
}
