//! The comparisons in conditions: what is compared, where that is looked at, and on which side.

use std::collections::{BTreeMap, BTreeSet};

use super::target::{Named, Target, each_step, named};
use crate::document::raw::Section;
use crate::evidence::Worksheet;
use crate::formula::{Checked, Compared as Link, How, Kind, Limit};
use crate::handbook::{
    Entry, FindingId, FormulaId, Handbook, Next, Observes, QuestionId, StepId, TreeId,
};

/// What is compared.
#[derive(Clone, Debug)]
pub(in super::super) enum Compared {
    /// A question with a constant: an answer lies on a side, wherever it is looked at.
    Answer(QuestionId, Limit),
    /// Anything else: it comes out where a condition that rests on it is looked at.
    Anything { comparison: Box<Checked>, places: Vec<LookedAt> },
}

/// Where a condition is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in super::super) enum LookedAt {
    /// In the `only_if` of a finding.
    Before(FindingId),
    /// In the `when` of a finding.
    In(FindingId),
    /// In a rule of a step, by the place of the rule.
    At(TreeId, StepId, usize),
}

impl LookedAt {
    /// The step that looks, if one does.
    pub fn step(self) -> Option<(TreeId, StepId)> {
        match self {
            Self::At(tree, step, _) => Some((tree, step)),
            Self::Before(_) | Self::In(_) => None,
        }
    }
}

/// A condition with where it is looked at.
type Condition<'h> = (LookedAt, &'h Checked);

/// Both sides of every comparison in the condition of a finding or a branch, or in a yes or no
/// formula that one rests on. A question compared with a constant counts once: `level < 100 mm is
/// true`; anything else counts at each place: `finding seeps: lost > much is true`.
pub(super) fn thresholds(handbook: &Handbook) -> Vec<Named> {
    let mut sides = Sides { handbook, seen: BTreeSet::new(), found: Vec::new() };
    let conditions = conditions(handbook);
    for (place, condition) in &conditions {
        let (owner, title) = titled(handbook, *place);
        let mut of_place = BTreeSet::new();
        for link in condition.comparisons() {
            sides.add(link, vec![*place], &owner, &title, &mut of_place);
        }
    }
    for (formula, places) in formulas_under(handbook, &conditions) {
        let formula = handbook.formula(formula);
        let owner = (Section::Formulas, formula.id.clone());
        let title = format!("formula {}", formula.id);
        let mut of_formula = BTreeSet::new();
        for link in formula.is.comparisons() {
            sides.add(link, places.clone(), &owner, &title, &mut of_formula);
        }
    }
    sides.found
}

/// The sides found so far, and the comparisons with a constant among them.
struct Sides<'h> {
    handbook: &'h Handbook,
    seen: BTreeSet<(QuestionId, u64, [bool; 3])>,
    found: Vec<Named>,
}

impl Sides<'_> {
    fn add(
        &mut self,
        link: Link,
        places: Vec<LookedAt>,
        (section, owner): &(Section, String),
        title: &str,
        of_place: &mut BTreeSet<String>,
    ) {
        let Link { text, formula, limit } = link;
        let answer = limit.and_then(|limit| match self.handbook.entry(limit.symbol) {
            Entry::Question(question) => Some((question, limit)),
            _ => None,
        });
        let (is_new, name, compared) = match answer {
            Some((question, limit)) => {
                let here = limit.constant();
                let holds = [f64::NEG_INFINITY, here, f64::INFINITY].map(|si| limit.holds(si));
                let is_new = self.seen.insert((question, here.to_bits(), holds));
                (is_new, text, Compared::Answer(question, limit))
            }
            None => {
                let is_new = of_place.insert(text.clone());
                let comparison = Box::new(formula);
                (is_new, format!("{title}: {text}"), Compared::Anything { comparison, places })
            }
        };
        if !is_new {
            return;
        }
        let place = self.found.len();
        for holds in [true, false] {
            let target = Target::Threshold(place, holds);
            let mut side = named(target, *section, owner, format!("{name} is {holds}"));
            side.compared = Some(compared.clone());
            self.found.push(side);
        }
    }
}

/// Every condition of a finding or a branch.
fn conditions(handbook: &Handbook) -> Vec<Condition<'_>> {
    let mut conditions = Vec::new();
    for id in handbook.finding_ids() {
        let finding = handbook.finding(id);
        if let Observes::When(condition) = &finding.observes {
            conditions.push((LookedAt::In(id), condition));
        }
        conditions.extend(finding.only_if.iter().map(|one| (LookedAt::Before(id), one)));
    }
    for (tree, _, id, step) in each_step(handbook) {
        if let Next::ByRules { rules, .. } = &step.next {
            let rules = rules.iter().enumerate();
            let at = |rule| LookedAt::At(tree, id, rule);
            conditions.extend(rules.map(|(rule, one)| (at(rule), &one.condition)));
        }
    }
    conditions
}

/// The entry that a place belongs to, and what the place is called.
fn titled(handbook: &Handbook, place: LookedAt) -> ((Section, String), String) {
    match place {
        LookedAt::Before(id) | LookedAt::In(id) => {
            let id = &handbook.finding(id).id;
            ((Section::Findings, id.clone()), format!("finding {id}"))
        }
        LookedAt::At(tree, step, _) => {
            let tree = handbook.tree(tree);
            let title = format!("step {}.{}", tree.id, tree.step(step).id);
            ((Section::Trees, tree.id.clone()), title)
        }
    }
}

/// The yes or no formulas that conditions rest on, each with where those are looked at.
fn formulas_under(
    handbook: &Handbook,
    conditions: &[Condition<'_>],
) -> BTreeMap<FormulaId, Vec<LookedAt>> {
    let mut under: BTreeMap<FormulaId, Vec<LookedAt>> = BTreeMap::new();
    for (place, condition) in conditions {
        let mut open = named_in(handbook, condition);
        let mut seen = BTreeSet::new();
        while let Some(formula) = open.pop() {
            if seen.insert(formula) {
                under.entry(formula).or_default().push(*place);
                open.extend(named_in(handbook, &handbook.formula(formula).is));
            }
        }
    }
    under
}

/// The yes or no formulas that a formula names.
fn named_in(handbook: &Handbook, formula: &Checked) -> Vec<FormulaId> {
    let named = formula.uses().iter().filter(|used| used.how == How::Latest);
    let formulas = named.filter_map(|used| match handbook.entry(used.symbol) {
        Entry::Formula(id) => Some(id),
        _ => None,
    });
    formulas.filter(|id| *handbook.formula(*id).is.kind() == Kind::YesNo).collect()
}

/// Whether a finding is judged on a view and looks at this place in it, or a step looks there.
pub(super) fn looks(sheet: &Worksheet<'_>, place: LookedAt) -> bool {
    let holds = |condition: &Checked| sheet.decides(condition);
    match place {
        LookedAt::Before(id) => sheet.judges_here(id),
        LookedAt::In(id) => {
            let only_if = sheet.handbook().finding(id).only_if.as_ref();
            sheet.judges_here(id) && only_if.is_none_or(|only_if| holds(only_if) == Some(true))
        }
        LookedAt::At(tree, step, rule) => match &sheet.handbook().tree(tree).step(step).next {
            Next::ByRules { rules, .. } => {
                rules.iter().take(rule).all(|before| holds(&before.condition) == Some(false))
            }
            _ => false,
        },
    }
}
