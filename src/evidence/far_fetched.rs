//! Checks that hardly ever apply: what is odd about a gauge is no check where nobody has said that
//! it is odd, and hardly anybody would.

use super::engine::Engine;
use super::hypothetical::chosen;
use super::next_check::{NextCheck, is_ruled_out};
use super::record::Record;
use super::worksheet::Worksheet;
use crate::handbook::{FindingId, Observes, QuestionId};

/// A check that applies less often than this is not worth proposing (`estimate`: as often as a
/// condition may hold and still counts as no).
const LEAST_APPLIES: f64 = 0.1;

/// Drops the checks that apply only if something unlikely is chosen first.
pub(super) fn drop_far_fetched(
    engine: &Engine,
    sheet: &Worksheet<'_>,
    states: &[f64],
    checks: &mut Vec<NextCheck>,
) {
    let gates: Vec<Gate> =
        checks.iter().filter_map(|check| Gate::of(engine, sheet, states, check)).collect();
    for gate in gates {
        let behind = |check: &NextCheck| applies_by(sheet, check.finding, gate.question);
        if !checks.iter().any(behind) {
            continue;
        }
        let chosen: Vec<(f64, Worksheet<'_>)> =
            gate.choices.iter().map(|(chance, record)| (*chance, sheet.gone_on(record))).collect();
        checks.retain(|check| {
            let may_apply = chosen.iter().filter(|(_, sheet)| !is_ruled_out(sheet, check.finding));
            !behind(check) || may_apply.map(|(chance, _)| chance).sum::<f64>() >= LEAST_APPLIES
        });
    }
}

/// Whether a finding's condition looks at a question.
fn applies_by(sheet: &Worksheet<'_>, finding: FindingId, question: QuestionId) -> bool {
    let handbook = sheet.handbook();
    handbook.finding(finding).only_if.as_ref().is_some_and(|condition| {
        let mut uses = condition.uses().iter();
        uses.any(|used| handbook.questions_under(used.symbol).contains(&question))
    })
}

/// A question of choices that is open.
struct Gate {
    question: QuestionId,
    /// How probable each choice is, and what would be known with it.
    choices: Vec<(f64, Record)>,
}

impl Gate {
    /// Of the question that an open finding looks at; none for any other finding.
    fn of(
        engine: &Engine,
        sheet: &Worksheet<'_>,
        states: &[f64],
        check: &NextCheck,
    ) -> Option<Self> {
        let handbook = sheet.handbook();
        let Observes::Of(question) = handbook.finding(check.finding).observes else { return None };
        if !sheet.is_unanswered(question) {
            return None;
        }
        let (network, place) = (engine.network(), check.finding.index());
        let choices = handbook.question(question).choices.iter().enumerate().map(|(at, choice)| {
            let chance = network.given(states, place, at).iter().sum();
            (chance, chosen(sheet.record(), question, &choice.id))
        });
        Some(Self { question, choices: choices.collect() })
    }
}
