//! Where the way of a case last could have gone on to the end that was expected, and what decided
//! otherwise there.

use std::collections::{BTreeMap, BTreeSet};

use crate::case::{Case, Decided, Place, Reply};
use crate::evidence::Worksheet;
use crate::formula::{Checked, Facts, Symbol, Value, Verdict, show_value, verdict};
use crate::handbook::{Entry, Next, Observes, Rule, Step, StepId, StepKind, Target, Tree};
use crate::text::list_and;

/// The most values that are told beside a decision (limit of ours).
const MOST_VALUES: usize = 3;

/// ``at `weigh`, `gained` was 12 g, so it went to `bad` (if gained < 50 g)``; nothing where no step
/// of that tree was passed from which it could still be come to.
pub(super) fn way_parted(case: &Case<'_>, wanted: Place) -> Option<String> {
    let tree = case.handbook().tree(wanted.tree);
    let leads_there = leading_to(tree, wanted.step);
    let could_lead = |decided: &&Decided| {
        // The steps of another tree have other places.
        let is_of_it = decided.place.tree == wanted.tree;
        let targets = if is_of_it { targets(tree.step(decided.place.step)) } else { Vec::new() };
        let mut others = targets.into_iter().filter(|to| Target::Step(*to) != decided.target);
        others.any(|to| leads_there.contains(&to))
    };
    // What led to a bound that is used up was decided before it.
    let last = case
        .decided()
        .iter()
        .rfind(|decided| !decided.is_by_bound && could_lead(decided))
        .or_else(|| case.decided().iter().rfind(could_lead))?;
    let step = tree.step(last.place.step);
    let went = match last.target {
        Target::Step(to) => tree.step(to).id.clone(),
        Target::Tree(to) => format!("the tree {}", case.handbook().tree(to).id),
    };
    let (values, because) = why(case, step, last, &leads_there);
    let decided = values.map_or(" it".to_owned(), |values| format!(", {values}, so it"));
    Some(format!("at `{}`{decided} went to `{went}` ({because})", step.id))
}

/// The steps of its own tree that may follow a step.
fn targets(step: &Step) -> Vec<StepId> {
    let own = step.next.targets().into_iter().filter_map(|target| match target {
        Target::Step(to) => Some(to),
        Target::Tree(_) => None,
    });
    own.chain(step.bound.map(|(_, then)| then)).collect()
}

/// The steps from which a way leads to a step, itself included.
fn leading_to(tree: &Tree, wanted: StepId) -> BTreeSet<StepId> {
    let mut before: BTreeMap<StepId, Vec<StepId>> = BTreeMap::new();
    for (place, step) in tree.steps.iter().enumerate() {
        for to in targets(step) {
            before.entry(to).or_default().push(StepId::at(place));
        }
    }
    let mut leading = BTreeSet::new();
    let mut open = vec![wanted];
    while let Some(step) = open.pop() {
        if leading.insert(step) {
            open.extend(before.get(&step).into_iter().flatten());
        }
    }
    leading
}

/// The values that decided, and the branch that they took.
fn why(
    case: &Case<'_>,
    step: &Step,
    decided: &Decided,
    leads_there: &BTreeSet<StepId>,
) -> (Option<String>, String) {
    if decided.is_by_bound {
        let most = step.bound.map_or(0, |(most, _)| most);
        return (None, format!("`at_most: {most}` was used up"));
    }
    match &step.next {
        Next::ByAnswer { .. } => (answered(case, step, decided), "by its answer".to_owned()),
        Next::ByRules { rules, .. } => {
            let sheet = case.worksheet_at(decided);
            let leads =
                |rule: &&Rule| matches!(rule.go, Target::Step(to) if leads_there.contains(&to));
            let judged = |rule: &Rule| match sheet.evaluate(&rule.condition) {
                Value::Truth(draws) => verdict(&draws),
                _ => Verdict::Unknown,
            };
            let first = rules.iter().find(|rule| !matches!(judged(rule), Verdict::No(_)));
            let shown = first.or_else(|| rules.iter().find(leads)).or(rules.last());
            let values = shown.and_then(|rule| values(case, &sheet, &rule.condition));
            let because = match first.map(|rule| (judged(rule), one_line(&rule.condition))) {
                Some((Verdict::Yes(_), condition)) => format!("if {condition}"),
                Some((Verdict::TooClose(_), condition)) => format!("`{condition}` was too close"),
                Some((_, condition)) => format!("`{condition}` was not known"),
                None => "else: no condition held".to_owned(),
            };
            (values, because)
        }
        Next::Always(_) | Next::Nothing => (None, "always".to_owned()),
    }
}

fn answered(case: &Case<'_>, step: &Step, decided: &Decided) -> Option<String> {
    let StepKind::Ask { question, .. } = step.kind else { return None };
    let answers = case.answers(question).filter(|given| given.order < decided.known_until);
    let given = answers.last()?;
    let said = match &given.reply {
        Reply::Choice(id) => id,
        _ => &given.typed,
    };
    Some(format!("`{}` was `{said}`", case.handbook().question(question).id))
}

/// What the names of a condition stood for; of a finding that computes something, that.
fn values(case: &Case<'_>, sheet: &Worksheet<'_>, condition: &Checked) -> Option<String> {
    let handbook = case.handbook();
    let mut named: Vec<Symbol> = Vec::new();
    for used in condition.uses() {
        let inner = match handbook.entry(used.symbol) {
            Entry::Finding(id) => match &handbook.finding(id).observes {
                Observes::When(test) => test.uses().iter().map(|used| used.symbol).collect(),
                Observes::Of(_) => Vec::new(),
            },
            _ => Vec::new(),
        };
        for symbol in std::iter::once(used.symbol).chain(inner) {
            if !named.contains(&symbol) {
                named.push(symbol);
            }
        }
    }
    let told = |symbol: &Symbol| {
        let value = sheet.latest(*symbol);
        let shown = show_value(&value, handbook.kind(*symbol), handbook.unit(*symbol));
        let name = handbook.symbol_name(*symbol);
        match value {
            Value::Unknown(_) => format!("`{name}` was not known"),
            _ => format!("`{name}` was {shown}"),
        }
    };
    let told: Vec<String> = named.iter().take(MOST_VALUES).map(told).collect();
    (!told.is_empty()).then(|| list_and(&told))
}

fn one_line(condition: &Checked) -> String {
    condition.text().split_whitespace().collect::<Vec<_>>().join(" ")
}
