//! What stands behind a verdict: what would change it, on what it rests, how far the author's
//! numbers may be off, what the past adds, and in which order to repair.
//!
//! It costs more than a verdict, and is worked out when somebody asks.

use super::alone::{Alone, each_alone};
use super::costs::Costs;
use super::decision::{Decisions, Lead};
use super::engine::Engine;
use super::holds::{HoldsWhile, holds_while};
use super::left_out::{LeftOut, rests_on};
use super::likely_states::LikelyStates;
use super::next_check::{NextCheck, next_checks};
use super::obscured::{ExplainedAway, Hidden, explained_away, hidden};
use super::repairs::{Repairs, repairs};
use super::side_by_side::side_by_side;
use super::value::{NextTest, next_tests};
use super::weighed::{Weighed, share_of_yes};
use super::what_if::Flip;
use super::worksheet::Worksheet;
use crate::formula::Symbol;
use crate::handbook::{CauseId, FindingId, Handbook, TreeId};

/// What a verdict decides for.
#[derive(Clone, Debug, PartialEq)]
pub enum Decided {
    /// That nothing is wrong.
    NothingWrong,
    /// That one of these causes, which call for the same action, is there; likeliest first.
    Causes(Vec<CauseId>),
}

/// Outcomes of open findings under which something else would lead.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The findings with their outcomes.
    pub outcomes: Vec<(FindingId, usize)>,
    /// How probable these outcomes are together.
    pub probability: f64,
    /// What would lead.
    pub to: Decided,
}

/// Evidence without which something else would lead.
#[derive(Clone, Debug, PartialEq)]
pub struct RestsOn {
    /// The places of the witnesses behind it.
    pub witnesses: Vec<usize>,
    /// What would lead.
    pub to: Decided,
}

/// Something in the past that moved a cause's odds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Past {
    /// The cause.
    pub cause: CauseId,
    /// The question or formula.
    pub when: Symbol,
    /// What a yes multiplies the odds by.
    pub factor: f64,
}

/// What stands behind a verdict.
#[derive(Clone, Debug)]
pub struct Insight {
    /// How probable it is that the lead stays once the most telling open findings are known.
    pub same_decision: f64,
    /// What would change the lead, most probable first.
    pub changes: Vec<Change>,
    /// What the lead rests on, in the order of the evidence.
    pub rests_on: Vec<RestsOn>,
    /// How far numbers of the author may be off, nearest first.
    pub holds_while: Vec<HoldsWhile>,
    /// Findings that came out normal though a likely cause hides them.
    pub hidden: Vec<Hidden>,
    /// Evidence that would speak for a cause if a likelier one did not explain it.
    pub explained_away: Vec<ExplainedAway>,
    /// What each piece of evidence says by itself, in the order of the evidence.
    pub alone: Vec<Alone>,
    /// What the past adds, cause by cause.
    pub past: Vec<Past>,
    /// Repairs in the order to try, and whom to leave them to.
    pub repairs: Repairs,
    /// Tests worth making, best first.
    pub tests: Vec<NextTest>,
}

/// Works out what stands behind the verdict on a worksheet; `been` are the trees that the case has
/// been in.
#[must_use]
pub fn insight(
    engine: &Engine,
    sheet: &Worksheet<'_>,
    weighed: &Weighed,
    been: &[TreeId],
) -> Insight {
    let decisions = weighed.groups.decisions();
    let handbook = sheet.handbook();
    let (behind, open) = side_by_side(
        || Behind::of(handbook, weighed, &decisions),
        || Open::of(engine, sheet, weighed, been),
    );
    let look = Look { weighed };
    let (lead, _) = decisions.lead(&weighed.posterior.states);
    Insight {
        same_decision: open.same_decision,
        changes: look.changes(open.flips),
        rests_on: look.rests_on(lead, behind.left_out),
        holds_while: behind.holds_while,
        hidden: hidden(weighed, sheet, &weighed.now),
        explained_away: explained_away(weighed, &weighed.now, &behind.alone, behind.left_out),
        alone: behind.alone,
        past: past(sheet),
        repairs: open.repairs,
        tests: open.tests,
    }
}

/// What stands behind the verdict of what is known.
struct Behind<'a> {
    left_out: &'a [LeftOut],
    holds_while: Vec<HoldsWhile>,
    alone: Vec<Alone>,
}

impl<'a> Behind<'a> {
    fn of(handbook: &Handbook, weighed: &'a Weighed, decisions: &Decisions) -> Self {
        let whole = weighed.whole();
        let whole = whole.as_ref();
        Self {
            left_out: whole.map_or(&[], |whole| weighed.left_out_of(whole)),
            holds_while: whole
                .map_or_else(Vec::new, |whole| holds_while(handbook, weighed, decisions, whole)),
            alone: each_alone(weighed),
        }
    }
}

/// What is still open, and what to do.
struct Open {
    same_decision: f64,
    flips: Vec<Flip>,
    repairs: Repairs,
    tests: Vec<NextTest>,
}

impl Open {
    fn of(engine: &Engine, sheet: &Worksheet<'_>, weighed: &Weighed, been: &[TreeId]) -> Self {
        // What is still open speaks about now, as in the engine's own network, which has fewer
        // states than one with repairs.
        let states = weighed.states_now();
        let decisions = weighed.groups.decisions_by_cause();
        let likely = LikelyStates::likely(engine.network(), &decisions, states);
        let costs = Costs::of(engine, sheet);
        let checks = next_checks(engine, sheet, states, &costs);
        let telling = telling(&checks);
        Self {
            same_decision: likely.same_decision(&telling[..telling.len().min(MOST_SAME)]),
            flips: likely.flips(&telling),
            repairs: repairs(sheet, states),
            tests: next_tests(&likely, sheet, &checks, &costs, been),
        }
    }
}

/// How many open findings the same-decision probability is over; each doubles the work (limit of
/// ours).
const MOST_SAME: usize = 6;

/// An open finding with fewer bits may turn two causes that are as likely as each other, as any
/// crumb would; it is no reason to doubt the lead (limit of ours).
const LEAST_TOLD: f64 = 0.03;

/// Open findings that tell something, those that tell most first.
fn telling(checks: &[NextCheck]) -> Vec<usize> {
    let tells = |check: &&NextCheck| check.bits >= LEAST_TOLD;
    let mut checks: Vec<&NextCheck> = checks.iter().filter(tells).collect();
    checks.sort_by(|a, b| b.bits.total_cmp(&a.bits));
    checks.into_iter().map(|check| check.finding.index()).collect()
}

/// What a lead decides for.
pub(super) fn decided(weighed: &Weighed, lead: Lead) -> Decided {
    match lead {
        Lead::Nothing => Decided::NothingWrong,
        Lead::Group(place) => Decided::Causes(weighed.groups.causes(place, weighed)),
    }
}

struct Look<'a> {
    weighed: &'a Weighed,
}

impl Look<'_> {
    fn decided(&self, lead: Lead) -> Decided {
        decided(self.weighed, lead)
    }

    fn changes(&self, flips: Vec<Flip>) -> Vec<Change> {
        let change = |flip: Flip| Change {
            outcomes: flip.outcomes.iter().map(|(f, o)| (FindingId::at(*f), *o)).collect(),
            probability: flip.probability,
            to: self.decided(flip.lead),
        };
        flips.into_iter().map(change).collect()
    }

    fn rests_on(&self, lead: Lead, left_out: &[LeftOut]) -> Vec<RestsOn> {
        let found = rests_on(lead, left_out);
        let rest = |(piece, lead): (usize, Lead)| RestsOn {
            witnesses: self.weighed.pieces[piece].witnesses.clone(),
            to: self.decided(lead),
        };
        found.into_iter().map(rest).collect()
    }
}

/// What is known of the past and counts.
fn past(sheet: &Worksheet<'_>) -> Vec<Past> {
    let handbook = sheet.handbook();
    let of = |cause: CauseId| {
        let history = handbook.cause(cause).history.iter();
        let known = history.filter(|past| share_of_yes(sheet, past.when) >= 0.5);
        known.map(move |past| Past { cause, when: past.when, factor: past.factor })
    };
    handbook.cause_ids().flat_map(of).collect()
}
