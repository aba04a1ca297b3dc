//! Why a cause came out as it did: what speaks for it and against it, and the answer after which
//! the case went another way.

use super::judging::probability;
use crate::case::{Case, Event};
use crate::evidence::wording::{Band, Strength, reason, strength, word};
use crate::evidence::{Engine, Reason};
use crate::handbook::CauseId;

/// The most reasons on either side (limit of ours).
const MOST_REASONS: usize = 2;

/// The strongest reasons for and against a cause, or nothing being wrong.
pub(super) fn reasons(case: &Case<'_>, cause: Option<CauseId>) -> Vec<String> {
    let all = match cause {
        Some(cause) => case.reasons().for_causes.get(cause.index()),
        None => Some(&case.reasons().for_nothing),
    };
    let of_side = |is_for: bool| {
        let weighty = all.into_iter().flatten().filter(move |reason| {
            (reason.weight.nats() > 0.0) == is_for && strength(reason.weight) > Strength::Negligible
        });
        weighty.take(MOST_REASONS).map(|cited| said(case, cited))
    };
    of_side(true).chain(of_side(false)).collect()
}

/// `The level went down. (strong reason for it)`
fn said(case: &Case<'_>, cited: &Reason) -> String {
    let witnesses = cited.witnesses.iter().map(|&place| &case.assessment().witnesses[place]);
    let texts = witnesses.map(|witness| {
        let (text, name) = (case.says(witness).text.to_text(), case.finding_name(witness.finding));
        let seen = case.choice_seen(witness.finding, &witness.judged.state);
        let text = seen.map_or(text, |(_, label)| label);
        let before = if witness.is_past() { "before the repair: " } else { "" };
        format!("{before}`{name}`: {text}")
    });
    let texts: Vec<String> = texts.collect();
    format!("{} ({})", texts.join(" Together with "), reason(cited.weight))
}

/// For each cause and the band in which it should be, the answer after which it was there no
/// longer; where it never was, the answer that led it furthest away.
pub(super) fn turns(
    case: &Case<'_>,
    engine: &Engine,
    missed: &[(Option<CauseId>, Band)],
) -> Vec<Option<String>> {
    let mut turns = vec![Turn::default(); missed.len()];
    if missed.is_empty() {
        return Vec::new();
    }
    let mut again = Case::open(case.handbook(), engine, case.tree());
    for event in case.events().iter().skip(1) {
        let before: Vec<f64> =
            missed.iter().map(|(cause, _)| probability(&again, *cause)).collect();
        if again.apply(event.clone()).is_err() {
            break;
        }
        let Some(what) = what_happened(event) else { continue };
        for ((turn, (cause, band)), before) in turns.iter_mut().zip(missed).zip(before) {
            turn.see(*band, before, probability(&again, *cause), &what);
        }
    }
    turns.into_iter().map(Turn::told).collect()
}

fn what_happened(event: &Event) -> Option<String> {
    match event {
        Event::Answered { question, typed, .. } => Some(format!("`{question}` is `{typed}`")),
        Event::Acted { action, .. } => Some(format!("`{action}` is done")),
        _ => None,
    }
}

/// Where a cause went another way.
#[derive(Clone, Debug, Default)]
struct Turn {
    left: Option<String>,
    furthest: Option<(f64, String)>,
}

impl Turn {
    fn see(&mut self, band: Band, before: f64, after: f64, what: &str) {
        let is_the_same = format!("{before:.3}") == format!("{after:.3}");
        if is_the_same && word(before) == word(after) {
            return;
        }
        let told = || {
            format!(
                "{what}: {} ({before:.3}) before, {} ({after:.3}) after",
                word(before),
                word(after)
            )
        };
        if band.holds(before) && !band.holds(after) {
            self.left = Some(told());
        }
        let away = if word(after) < band.least { before - after } else { after - before };
        if !band.holds(after) && away > self.furthest.as_ref().map_or(0.0, |(most, _)| *most) {
            self.furthest = Some((away, told()));
        }
    }

    fn told(self) -> Option<String> {
        let left = self.left.map(|told| format!("went another way when {told}"));
        left.or_else(|| {
            self.furthest.map(|(_, told)| format!("never was; furthest away when {told}"))
        })
    }
}
