//! Steps that look back too soon, answers that are older than what was done since, and readings
//! that are asked for twice in a row.

use std::collections::{BTreeMap, BTreeSet};

use petgraph::algo::{has_path_connecting, tarjan_scc};
use petgraph::graph::{DiGraph, NodeIndex};

use super::way_without::{Needed, WayWithout};
use super::{step, trees};
use crate::analysis::branch::Branch;
use crate::analysis::effort::Effort;
use crate::analysis::history::{History, Since, Standing, Standings};
use crate::analysis::reach::Analysis;
use crate::analysis::witness::Goal;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::{
    RawFinding, RawFormula, RawHandbook, RawNext, RawStep, RawTest, RawWork,
};
use crate::formula::{Checked, How};
use crate::handbook::{
    ActionId, Entry, Formula, Handbook, LookBack, Next, Observes, QuestionId, Rule, Step, StepId,
    StepKind, Target, Tree, TreeId,
};
use crate::source::Span;

/// How many conditions are evaluated for one condition of a list (limit of ours).
const EVALUATIONS_A_STEP: u32 = 200;

/// How many steps of one tree are looked at, those of each question by themselves (limit of ours).
const MOST_STEPS: usize = 2_000_000;

pub(super) fn advise(written: &RawHandbook, analysis: &Analysis<'_>, advice: &mut Vec<Diagnostic>) {
    for (id, raw) in trees(written, analysis.handbook()) {
        let mut look = Look::new(analysis, id);
        let reached = |place: &usize| !analysis.is_out_of_reach(id, StepId::at(*place));
        for place in (0..look.tree().steps.len()).filter(reached) {
            let Some(raw) = step(raw, place) else { continue };
            advice.extend(look.too_soon(place, raw));
            advice.extend(look.asking(place, raw));
        }
    }
    advice.extend(before_what_no_tree_does(written, analysis.handbook()));
}

/// Formulas and findings that look back before an action which no tree does.
fn before_what_no_tree_does(written: &RawHandbook, handbook: &Handbook) -> Vec<Diagnostic> {
    let steps = handbook.trees().iter().flat_map(|tree| &tree.steps);
    let done: BTreeSet<ActionId> = steps
        .filter_map(|step| match step.kind {
            StepKind::Act { action, .. } => Some(action),
            _ => None,
        })
        .collect();
    let fault = |formula: &Checked, span: Span| {
        let undone = formula.uses().iter().find_map(|used| match used.how {
            How::Before(action) => {
                Some(ActionId::at(action.0 as usize)).filter(|action| !done.contains(action))
            }
            _ => None,
        })?;
        let id = &handbook.action(undone).id;
        let title = format!("no tree does `{id}`, so there is never anything before it");
        let label = "this looks back before it, and is never known";
        let fault = Diagnostic::at(Code::LooksBackTooSoon, title, span, label);
        Some(fault.help(format!("write `action: {id}` in a step; `do` only says what to do")))
    };
    let by_id: BTreeMap<&str, &Formula> =
        handbook.formulas().iter().map(|formula| (formula.id.as_str(), formula)).collect();
    let of_formula = |raw: &RawFormula| {
        let formula = by_id.get(raw.id.value.as_str())?;
        fault(&formula.is, raw.is.as_ref()?.span)
    };
    let of_finding = |raw: &RawFinding| {
        let Some(RawTest::When(text)) = &raw.test else { return None };
        match &handbook.finding(handbook.find_finding(&raw.id.value)?).observes {
            Observes::When(test) => fault(test, text.span),
            Observes::Of(_) => None,
        }
    };
    let formulas = written.formulas.iter().filter_map(of_formula);
    formulas.chain(written.findings.iter().filter_map(of_finding)).collect()
}

/// A look at one tree.
struct Look<'a, 'h> {
    analysis: &'a Analysis<'h>,
    id: TreeId,
    histories: BTreeMap<QuestionId, Vec<Standings>>,
    ways: DiGraph<(), ()>,
    /// Questions that some way may come to more than once.
    come_again: BTreeSet<QuestionId>,
    /// How many more steps may be looked at.
    left: usize,
}

impl<'a, 'h> Look<'a, 'h> {
    fn new(analysis: &'a Analysis<'h>, id: TreeId) -> Self {
        let tree = analysis.handbook().tree(id);
        let ways = ways_of(tree);
        let come_again = come_again(analysis, tree, &ways);
        Self { analysis, id, histories: BTreeMap::new(), ways, come_again, left: MOST_STEPS }
    }

    fn handbook(&self) -> &'h Handbook {
        self.analysis.handbook()
    }

    fn tree(&self) -> &'h Tree {
        self.handbook().tree(self.id)
    }

    /// How a question may stand when a step is come to; nothing where enough was looked at.
    fn before(&mut self, question: QuestionId, place: usize) -> Option<Standings> {
        if !self.histories.contains_key(&question) {
            self.left = self.left.checked_sub(self.tree().steps.len())?;
            let before = History::new(self.handbook(), question).before(self.id);
            self.histories.insert(question, before);
        }
        self.histories.get(&question)?.get(place).copied()
    }

    /// A condition that needs an answer before the latest, where it may have been asked only once
    /// and the way of `unknown` does not come back: the first time would be the last.
    fn too_soon(&mut self, place: usize, raw: &RawStep) -> Option<Diagnostic> {
        let step = &self.tree().steps[place];
        let Next::ByRules { rules, unknown: Some(Target::Step(leads)), .. } = &step.next else {
            return None;
        };
        let (rule, question, with) = self.first_without_earlier(rules, step, place)?;
        if self.leads_back(leads.index(), place) {
            return None;
        }
        let id = &self.handbook().question(question).id;
        let title = format!(
            "the first time, step `{}` has no answer to `{id}` before the latest",
            raw.id.value
        );
        let label = "this looks back at the answer before";
        let with = with.map(|with| format!("for example, {with} ")).unwrap_or_default();
        let fault = Diagnostic::at(Code::LooksBackTooSoon, title, condition(raw, rule)?, label)
            .note(format!(
                "{with}it leads to `{}`, from where no way comes back here",
                self.tree().step(*leads).id
            ));
        Some(fault.help("judge the first answer in a step of its own, by that answer alone"))
    }

    /// The first condition that lacks an earlier answer on some way, the question, and answers on
    /// that way.
    fn first_without_earlier(
        &mut self,
        rules: &[Rule],
        step: &Step,
        place: usize,
    ) -> Option<(usize, QuestionId, Option<String>)> {
        let handbook = self.handbook();
        let goal = Goal::Branch(self.id, StepId::at(place), Branch::Unknown);
        for (rule, told) in rules.iter().enumerate() {
            let again = LookBack::of_formula(handbook, &told.condition).again;
            let mut open = Vec::new();
            for question in again {
                let Some(before) = self.before(question, place) else { continue };
                if History::new(handbook, question).after(step, before).may_lack_an_earlier() {
                    open.push(Needed { question, is_earlier: true });
                }
            }
            if open.is_empty() {
                continue;
            }
            let effort = Effort::of(EVALUATIONS_A_STEP);
            let way = WayWithout {
                analysis: self.analysis,
                goal,
                formulas: self.formulas_under(&told.condition),
                known: rules[..rule].iter().map(|rule| &rule.condition).collect(),
                open: &open,
                effort: &effort,
            };
            if let Some((needed, with)) = way.find() {
                return Some((rule, needed.question, with));
            }
        }
        None
    }

    /// A condition with the tests of the findings that it names, which tell of what is missing
    /// where the finding only says that it is not known.
    fn formulas_under<'f>(&self, condition: &'f Checked) -> Vec<&'f Checked>
    where
        'h: 'f,
    {
        let named = condition.uses().iter().filter_map(|used| {
            let Entry::Finding(id) = self.handbook().entry(used.symbol) else { return None };
            match &self.handbook().finding(id).observes {
                Observes::When(test) => Some(test),
                Observes::Of(_) => None,
            }
        });
        std::iter::once(condition).chain(named).collect()
    }

    /// Whether a way leads from one step to another.
    fn leads_back(&self, from: usize, to: usize) -> bool {
        has_path_connecting(&self.ways, NodeIndex::new(from), NodeIndex::new(to), None)
    }

    fn asking(&mut self, place: usize, raw: &RawStep) -> Option<Diagnostic> {
        let tree = self.tree();
        let StepKind::Ask { question, again } = tree.steps[place].kind else { return None };
        let asked = self.handbook().question(question);
        let is_looked_at = self.come_again.contains(&question);
        if asked.is_setting() || tree.rounds.is_some() || !is_looked_at {
            return None;
        }
        let before: Vec<Standing> = self.before(question, place)?.each().collect();
        let span = span_of_work(raw);
        if again {
            self.twice(&asked.id, &before, raw, span)
        } else {
            self.stale(&asked.id, place, &before, raw, span)
        }
    }

    /// Asked again, with nothing done since it was asked on every way.
    fn twice(
        &self,
        id: &str,
        before: &[Standing],
        raw: &RawStep,
        span: Span,
    ) -> Option<Diagnostic> {
        let is_fresh =
            |standing: &Standing| matches!(standing, Standing::Asked { since: Since::Nothing, .. });
        if before.is_empty() || !before.iter().all(is_fresh) {
            return None;
        }
        let title = format!(
            "step `{}` asks `{id}` again, and nothing was done since it was asked",
            raw.id.value
        );
        let fault = Diagnostic::at(Code::AskedTwiceInARow, title, span, "asked a second time");
        Some(fault.help(
            "take `again` out, so that the step passes with the answer there is; or say with `do` \
             what to do or to wait for in between",
        ))
    }

    /// Passed with an answer from before an action, though the way on depends on it.
    fn stale(
        &self,
        id: &str,
        place: usize,
        before: &[Standing],
        raw: &RawStep,
        span: Span,
    ) -> Option<Diagnostic> {
        let is_old =
            |standing: &Standing| matches!(standing, Standing::Asked { since: Since::Action, .. });
        let depends = !matches!(self.tree().steps[place].next, Next::Always(_) | Next::Nothing);
        if !depends || !before.iter().any(is_old) {
            return None;
        }
        let title = format!(
            "step `{}` passes with an answer to `{id}` from before an action",
            raw.id.value
        );
        let label = "what has an answer is not asked again";
        let fault = Diagnostic::at(Code::StaleAnswer, title, span, label)
            .note("a way leads here on which an action was done after the question was asked");
        Some(fault.help(
            "write `again: true` beside it to ask anew; or go back to a step after it where the \
             action changes nothing of this",
        ))
    }
}

/// Questions that more than one step asks, itself or by the tree that it visits, or that a step
/// of a circle asks.
fn come_again(
    analysis: &Analysis<'_>,
    tree: &Tree,
    ways: &DiGraph<(), ()>,
) -> BTreeSet<QuestionId> {
    let mut in_circle = vec![false; tree.steps.len()];
    for circle in tarjan_scc(ways).iter().filter(|circle| circle.len() > 1) {
        circle.iter().for_each(|node| in_circle[node.index()] = true);
    }
    let (mut once, mut again) = (BTreeSet::new(), BTreeSet::new());
    for (place, step) in tree.steps.iter().enumerate() {
        in_circle[place] |= ways.contains_edge(NodeIndex::new(place), NodeIndex::new(place));
        let asked: Vec<QuestionId> = match step.kind {
            StepKind::Ask { question, .. } => vec![question],
            StepKind::Visit(visited) => {
                analysis.explored.doings[visited.index()].asked.keys().copied().collect()
            }
            _ => Vec::new(),
        };
        let is_again = |id: &QuestionId| !once.insert(*id) || in_circle[place];
        again.extend(asked.into_iter().filter(is_again).collect::<Vec<_>>());
    }
    again
}

/// The steps of a tree with what may follow each.
fn ways_of(tree: &Tree) -> DiGraph<(), ()> {
    let mut ways = DiGraph::new();
    for _ in &tree.steps {
        ways.add_node(());
    }
    for (place, step) in tree.steps.iter().enumerate() {
        let targets: BTreeSet<usize> = step
            .next
            .targets()
            .into_iter()
            .filter_map(|target| match target {
                Target::Step(to) => Some(to.index()),
                Target::Tree(_) => None,
            })
            .chain(step.bound.map(|(_, then)| then.index()))
            .collect();
        for to in targets {
            ways.add_edge(NodeIndex::new(place), NodeIndex::new(to), ());
        }
    }
    ways
}

fn condition(raw: &RawStep, rule: usize) -> Option<Span> {
    let Some(RawNext::ByFormula(branches)) = &raw.next else { return None };
    Some(branches.branches.get(rule)?.condition.as_ref()?.span)
}

fn span_of_work(raw: &RawStep) -> Span {
    match &raw.work {
        Some(RawWork::Ask(question)) => question.span,
        _ => raw.id.span,
    }
}
