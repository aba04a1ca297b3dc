//! How far the author's numbers behind a verdict may be off.
//!
//! The numbers behind the evidence that the lead owes most to are tried first: one that falls to
//! the background takes away what its evidence adds, so these are the ones that turn a verdict.

use super::decision::{Decisions, Lead, Tally};
use super::finding::FindingState;
use super::insight::{Decided, decided};
use super::left_out::LeftOut;
use super::network::{Model, Whole};
use super::reasons::log_odds;
use super::sensitivity::{Crossing, Parameter, Sensitivity};
use super::weighed::Weighed;
use crate::handbook::{CauseId, FindingId, Handbook};

/// The most numbers of the author that are tried (limit of ours; each costs the weights at two
/// values or more).
const MOST_NUMBERS_TRIED: usize = 8;

/// How many base rates are tried besides (limit of ours).
const MOST_RATES_TRIED: usize = 2;

/// Numbers that would have to be off by more than this, in nats of their odds, are not worth a
/// word (`estimate`: a factor of ten).
const FAR: f64 = 2.3;

/// A number of the author at which something else would lead.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldsWhile {
    /// The cause that the number is about.
    pub cause: CauseId,
    /// The finding that it shows as; none for how common it is.
    pub finding: Option<FindingId>,
    /// The choice that it shows as, where the finding is on choices.
    pub outcome: Option<usize>,
    /// What the author says.
    pub stated: f64,
    /// Where the lead changes.
    pub at: f64,
    /// What leads beyond.
    pub to: Decided,
}

/// A number that may be tried.
#[derive(Clone, Debug, PartialEq)]
struct Tried {
    cause: CauseId,
    finding: Option<FindingId>,
    parameter: Parameter,
    /// Further findings and causes of the model at which it stands, such as after a repair.
    also: Vec<(usize, usize)>,
}

/// The strengths with which the leading causes show as what was seen, and how common they are, as
/// far as something else would lead with them off by no more than a factor of ten; nearest first.
pub(super) fn holds_while(
    handbook: &Handbook,
    weighed: &Weighed,
    decisions: &Decisions,
    whole: &Whole<'_>,
) -> Vec<HoldsWhile> {
    let model = weighed.epochs.model();
    let tally = decisions.weights(&weighed.posterior.states);
    let (lead, _) = tally.lead();
    let causes = causes(handbook, weighed, lead);
    let behind = Behind { model, weighed, tally, left_out: weighed.left_out_of(whole), causes };
    let mut tried = behind.strengths(lead);
    tried.truncate(MOST_NUMBERS_TRIED);
    tried.extend(behind.rates());
    let sensitivity = Sensitivity { model, decisions, evidence: &weighed.evidence, whole };
    let distance = |c: &Crossing| (log_odds(c.stated) - log_odds(c.at)).abs();
    let mut found: Vec<(Tried, Crossing)> = tried
        .into_iter()
        .filter_map(|tried| Some((sensitivity.crossing(tried.parameter, &tried.also)?, tried)))
        .map(|(crossing, tried)| (tried, crossing))
        .filter(|(_, crossing)| distance(crossing) <= FAR)
        .collect();
    found.sort_by(|a, b| distance(&a.1).total_cmp(&distance(&b.1)));
    let named = |(tried, crossing): (Tried, Crossing)| HoldsWhile {
        cause: tried.cause,
        finding: tried.finding,
        outcome: match tried.parameter {
            Parameter::Share { outcome, .. } => Some(outcome),
            Parameter::Prior { .. } | Parameter::Strength { .. } => None,
        },
        stated: crossing.stated,
        at: crossing.at,
        to: decided(weighed, crossing.lead),
    };
    found.into_iter().map(named).collect()
}

/// The causes that a lead is about, likeliest first; of nothing wrong, all.
fn causes(handbook: &Handbook, weighed: &Weighed, lead: Lead) -> Vec<CauseId> {
    let nodes = weighed.groups.nodes(lead);
    let is_meant = |cause: &CauseId| nodes.contains(&weighed.epochs.now(*cause));
    let mut causes: Vec<CauseId> = handbook.cause_ids().filter(is_meant).collect();
    let chance = |cause: &CauseId| weighed.posterior.marginals[weighed.epochs.now(*cause)];
    causes.sort_by(|a, b| chance(b).total_cmp(&chance(a)).then(a.cmp(b)));
    causes
}

/// What stands behind a lead.
struct Behind<'a> {
    model: &'a Model,
    weighed: &'a Weighed,
    tally: Tally,
    left_out: &'a [LeftOut],
    causes: Vec<CauseId>,
}

impl Behind<'_> {
    /// The strengths behind the evidence, those of what the lead owes most to first; each once,
    /// with all the places at which it stands.
    fn strengths(&self, lead: Lead) -> Vec<Tried> {
        let mut pieces: Vec<(f64, usize)> =
            (0..self.weighed.pieces.len()).map(|piece| (self.owed(lead, piece), piece)).collect();
        pieces.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let mut tried: Vec<Tried> = Vec::new();
        for (_, piece) in pieces {
            for place in &self.weighed.pieces[piece].witnesses {
                let of_place = self.causes.iter().filter_map(|cause| self.strength(*place, *cause));
                for one in of_place {
                    let is_new = |met: &Tried| (met.cause, met.finding) != (one.cause, one.finding);
                    if tried.iter().all(is_new) {
                        tried.push(one);
                    }
                }
            }
        }
        tried
    }

    /// How much a piece of evidence adds to what leads over what comes next, in nats; the same
    /// whichever way it goes, since a number may move it either way.
    fn owed(&self, lead: Lead, left_out: usize) -> f64 {
        let Some(without) = self.left_out.get(left_out) else { return 0.0 };
        (self.tally.ahead(lead) - without.tally.ahead(lead)).abs()
    }

    /// The strength with which a cause shows as what a witness saw.
    fn strength(&self, place: usize, cause: CauseId) -> Option<Tried> {
        let finding = self.weighed.witnesses[place].finding;
        let counted = self.weighed.pieces.iter().flat_map(|piece| &piece.witnesses);
        let same = counted.filter(|at| self.weighed.witnesses[**at].finding == finding);
        let mut places = same.filter_map(|at| Some((*at, self.node(*at, cause)?)));
        let (first, node) = places.next()?;
        let parameter = match self.weighed.witnesses[place].judged.state {
            FindingState::Seen(outcome) => {
                Parameter::Share { finding: first, cause: node, outcome: outcome.into() }
            }
            _ => Parameter::Strength { finding: first, cause: node },
        };
        Some(Tried { cause, finding: Some(finding), parameter, also: places.collect() })
    }

    /// The node of a cause that a finding of the model speaks about.
    fn node(&self, place: usize, cause: CauseId) -> Option<usize> {
        let nodes = self.weighed.epochs.nodes(cause);
        let mut shown = self.model.findings.get(place)?.shown_by.iter();
        shown.find(|(by, _)| nodes.contains(by)).map(|(by, _)| *by)
    }

    /// How common the causes are; of one that was repaired, how common it was before.
    fn rates(&self) -> impl Iterator<Item = Tried> {
        self.causes.iter().take(MOST_RATES_TRIED).filter_map(|cause| {
            let node = *self.weighed.epochs.nodes(*cause).first()?;
            let parameter = Parameter::Prior { cause: node };
            Some(Tried { cause: *cause, finding: None, parameter, also: Vec::new() })
        })
    }
}
