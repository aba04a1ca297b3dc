//! What was computed on the way to what was found.

use std::collections::BTreeSet;

use serde::Serialize;

use super::Fact;
use super::answered::StandsFor;
use crate::case::Case;
use crate::evidence::FindingState;
use crate::formula::{Checked, Facts, Symbol, Value};
use crate::handbook::{Entry, FormulaId, Observes};
use crate::report::marks::given as mark_given;
use crate::text::{Line, Role, capital, spoken};

/// A quantity that a finding rests on.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Computed {
    /// The id of the formula.
    pub formula: String,
    /// How it is computed.
    pub is: String,
    /// What came out.
    #[serde(flatten)]
    pub value: StandsFor,
    /// Where its numbers are from.
    pub basis: Option<String>,
}

/// The quantities that findings which came out rest on, in the order of the handbook.
pub(super) fn computed(case: &Case<'_>) -> Vec<Computed> {
    let sheet = case.worksheet();
    let needed = needed(case);
    let all = case.handbook().formula_ids().filter(|id| needed.contains(id));
    all.filter_map(|id| {
        let formula = case.handbook().formula(id);
        let value = sheet.latest(formula.symbol);
        if !matches!(value, Value::Quantity(_)) {
            return None;
        }
        Some(Computed {
            formula: formula.id.clone(),
            is: formula.is.text().split_whitespace().collect::<Vec<_>>().join(" "),
            value: StandsFor::of(&value, formula.is.kind(), formula.unit.as_ref())?,
            basis: mark_given(case, &formula.basis, "is"),
        })
    })
    .collect()
}

fn needed(case: &Case<'_>) -> BTreeSet<FormulaId> {
    let handbook = case.handbook();
    let mut open: Vec<Symbol> = Vec::new();
    let take = |formula: &Checked, open: &mut Vec<Symbol>| {
        open.extend(formula.uses().iter().map(|used| used.symbol));
    };
    for id in case.finding_ids() {
        let state = &case.assessment().finding(id).state;
        let finding = handbook.finding(id);
        let came_out = matches!(
            state,
            FindingState::True(_) | FindingState::False(_) | FindingState::TooClose(_)
        );
        if let (true, Observes::When(condition)) = (came_out, &finding.observes) {
            take(condition, &mut open);
        }
    }
    let mut needed = BTreeSet::new();
    while let Some(symbol) = open.pop() {
        if let Entry::Formula(id) = handbook.entry(symbol)
            && needed.insert(id)
        {
            take(&handbook.formula(id).is, &mut open);
        }
    }
    needed
}

/// `Blank off limit: 166.7 micron = target / 3 (estimate)`
pub(super) fn told(computed: &[Computed]) -> Vec<Fact> {
    let told = computed.iter().map(|computed| {
        let [middle, ..] = &computed.value.shown;
        let behind: Vec<String> =
            computed.value.doubt().into_iter().chain(computed.basis.clone()).collect();
        let doubt = match behind.is_empty() {
            true => String::new(),
            false => format!(" ({})", behind.join("; ")),
        };
        let value = Line::new().push(Role::Value, middle.clone());
        // A constant says all by itself.
        let is = match computed.is == *middle {
            true => String::new(),
            false => format!(" = {}", spoken(&computed.is)),
        };
        let value = value.push(Role::Plain, is);
        let label = format!("{}:", capital(&spoken(&computed.formula)));
        Fact::Row { label, value: value.push(Role::Quiet, doubt) }
    });
    told.collect()
}
