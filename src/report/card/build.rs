//! From a tree to what its card says.

use super::limits::{limits, range, said};
use super::part::{Card, Part};
use crate::formula::Kind;
use crate::handbook::{
    ActionId, Caution, CautionId, CautionSeverity, Handbook, Hazard, Lead, QuestionId, Step,
    StepId, StepKind, Target, Tree, TreeId, leads,
};
use crate::text::list_or;

/// The card of a tree.
#[must_use]
pub fn card(handbook: &Handbook, id: TreeId) -> Card {
    let tree = handbook.tree(id);
    let of = Making { handbook, tree, cautions: cautions(handbook, tree), order: order(tree) };
    let mut parts = vec![Part::Text(of.opening())];
    parts.extend(of.warnings());
    parts.push(Part::Heading("Step by step".to_owned()));
    if let Some(question) = tree.rounds {
        let ask = handbook.question(question).ask.spelled();
        parts.push(Part::Text(format!("From the top once for each: {}", ask.trim())));
    }
    parts.extend(of.rows(|step| !is_last(step)));
    parts.push(Part::Heading("How it ends".to_owned()));
    parts.extend(of.rows(is_last));
    let limits = limits(handbook, tree);
    if !limits.is_empty() {
        parts.push(Part::Heading("What the conditions mean".to_owned()));
        parts.extend(limits.into_iter().map(|(name, is)| Part::Row {
            mark: String::new(),
            kind: name,
            says: is,
            ways: Vec::new(),
        }));
    }
    parts.push(Part::Text(
        "Too close: the gauge's doubt leaves it open. Not known: an answer is missing. A tree only \
         says what to look at next; what is wrong is weighed over all answers, by the program."
            .to_owned(),
    ));
    Card { title: tree.title.clone(), parts }
}

struct Making<'h> {
    handbook: &'h Handbook,
    tree: &'h Tree,
    /// The cautions of the tree, the gravest first.
    cautions: Vec<CautionId>,
    /// The steps in reading order.
    order: Vec<StepId>,
}

/// The steps in the order of the file, the one that the tree starts with first.
fn order(tree: &Tree) -> Vec<StepId> {
    let all = (0..tree.steps.len()).map(StepId::at);
    std::iter::once(tree.start).chain(all.filter(|step| *step != tree.start)).collect()
}

fn is_last(step: &Step) -> bool {
    matches!(step.kind, StepKind::Stop { .. } | StepKind::End { .. })
}

/// Every caution that a step, its question or its action shows, the gravest first.
fn cautions(handbook: &Handbook, tree: &Tree) -> Vec<CautionId> {
    let mut all: Vec<CautionId> = Vec::new();
    for step in &tree.steps {
        for id in of_step(handbook, step) {
            if !all.contains(&id) {
                all.push(id);
            }
        }
    }
    all.sort_by_key(|id| std::cmp::Reverse(handbook.caution(*id).severity));
    all
}

fn of_step(handbook: &Handbook, step: &Step) -> Vec<CautionId> {
    let own: &[CautionId] = match &step.kind {
        StepKind::Ask { question, .. } => &handbook.question(*question).cautions,
        StepKind::Act { action, .. } => &handbook.action(*action).cautions,
        _ => &[],
    };
    step.cautions.iter().chain(own).copied().collect()
}

impl Making<'_> {
    fn opening(&self) -> String {
        let minutes = self.tree.takes.map(|seconds| format!("About {:.0} min. ", seconds / 60.0));
        format!(
            "{}{}, version {}; tree `{}`. The makers' instructions, your local codes and the \
             licence the work needs come first; where they differ from this card, they win.",
            minutes.unwrap_or_default(),
            self.handbook.name(),
            self.handbook.version(),
            self.tree.id
        )
    }

    fn warnings(&self) -> Vec<Part> {
        let mut parts = vec![Part::Heading("Cautions first".to_owned())];
        if self.cautions.is_empty() {
            parts.push(Part::Text(
                "This tree has none of its own; those of the work go on.".to_owned(),
            ));
        }
        for (place, id) in self.cautions.iter().enumerate() {
            let Caution { severity, text, refer, .. } = self.handbook.caution(*id);
            let kind = match severity {
                CautionSeverity::Stop => "STOP until read",
                CautionSeverity::Caution => "caution",
                CautionSeverity::Note => "note",
            };
            let refer = refer.as_ref().map(|refer| format!("Ask: {}", refer.spelled().trim()));
            parts.push(Part::Row {
                mark: caution_mark(place),
                kind: kind.to_owned(),
                says: text.spelled().trim().to_owned(),
                ways: refer.into_iter().collect(),
            });
        }
        parts
    }

    fn rows(&self, is_wanted: impl Fn(&Step) -> bool) -> Vec<Part> {
        let wanted = self.order.iter().filter(|id| is_wanted(self.tree.step(**id)));
        wanted.map(|id| self.row(*id)).collect()
    }

    fn row(&self, id: StepId) -> Part {
        let step = self.tree.step(id);
        let (kind, says) = self.said(step);
        let warned: Vec<String> = of_step(self.handbook, step)
            .iter()
            .filter_map(|id| self.cautions.iter().position(|one| one == id))
            .map(caution_mark)
            .collect();
        let warned =
            if warned.is_empty() { String::new() } else { format!(" (see {})", warned.join(", ")) };
        Part::Row {
            mark: self.mark(id),
            kind: kind.to_owned(),
            says: format!("{}{warned}", says.split_whitespace().collect::<Vec<_>>().join(" ")),
            ways: self.ways(step),
        }
    }

    fn said(&self, step: &Step) -> (&'static str, String) {
        match &step.kind {
            StepKind::Do { text, wait } => {
                let wait = wait.map(|seconds| format!(" Wait {:.0} min.", seconds / 60.0));
                ("do", format!("{}{}", text.spelled().trim(), wait.unwrap_or_default()))
            }
            StepKind::Ask { question, again } => {
                let kind = if *again { "ask anew" } else { "ask" };
                (kind, self.question(step, *question))
            }
            StepKind::Act { action, .. } => ("do", self.action(*action)),
            StepKind::Visit(tree) => {
                let tree = self.handbook.tree(*tree);
                ("other card", format!("{} (`{}`), then come back.", tree.title, tree.id))
            }
            StepKind::Stop { text, why, refer, .. } => {
                let why = why.as_ref().map(|why| format!(" {}", why.spelled().trim()));
                let (text, refer) = (text.spelled(), refer.spelled());
                let why = why.unwrap_or_default();
                ("STOP", format!("{}{why} Ask: {}.", text.trim(), refer.trim()))
            }
            StepKind::End { done, then, .. } => {
                let then: Vec<&str> =
                    then.iter().map(|id| self.handbook.tree(*id).title.as_str()).collect();
                let next = if then.is_empty() {
                    String::new()
                } else {
                    format!(" Next card: {}.", list_or(&then).trim_end_matches('.'))
                };
                ("end", format!("{}{next}", done.spelled().trim()))
            }
        }
    }

    fn question(&self, step: &Step, id: QuestionId) -> String {
        let question = self.handbook.question(id);
        let mut text = question.ask.spelled().trim().to_owned();
        let branches_by_answer =
            leads(self.handbook, step).iter().any(|(way, _)| matches!(way, Lead::Answer(_)));
        if !question.choices.is_empty() && !branches_by_answer {
            let labels: Vec<&str> = question.choices.iter().map(|one| one.label.as_str()).collect();
            text.push_str(&format!(" ({})", labels.join(" / ")));
        }
        if let Some(hazard) = question.hazard {
            let worst = match hazard {
                Hazard::YesNo(yes) => if yes { "yes" } else { "no" }.to_owned(),
                Hazard::Choice(choice) => question.choice_label(choice.into()),
            };
            text.push_str(&format!(" (not sure counts as: {worst})"));
        }
        if let (Kind::Quantity(kind), Some(unit)) = (&question.kind, &question.unit) {
            match question.not_sure {
                Some((low, high)) => {
                    text.push_str(&format!(" (not sure: {})", range(low, high, unit, *kind)));
                }
                None => text.push_str(&format!(" (in {})", unit.symbol)),
            }
        }
        text
    }

    fn action(&self, id: ActionId) -> String {
        let action = self.handbook.action(id);
        let mut text = action.instruction.spelled().trim().to_owned();
        if let Some(seconds) = action.takes {
            text.push_str(&format!(" ({:.0} min)", seconds / 60.0));
        }
        if !action.parts.is_empty() {
            text.push_str(&format!(" You need: {}.", action.parts.join(", ")));
        }
        text
    }

    /// Where a step leads, one text for each target, in the order in which they come first.
    fn ways(&self, step: &Step) -> Vec<String> {
        let mut led: Vec<(Target, Vec<String>)> = Vec::new();
        for (way, target) in leads(self.handbook, step) {
            let words = match way {
                Lead::If(condition) => format!("if {}", said(condition.text())),
                way => way.words(),
            };
            match led.iter_mut().find(|(one, _)| *one == target) {
                Some((_, all)) => all.push(words),
                None => led.push((target, vec![words])),
            }
        }
        led.into_iter()
            .map(|(target, words)| {
                let words: Vec<String> = words.into_iter().filter(|one| !one.is_empty()).collect();
                let lead =
                    if words.is_empty() { String::new() } else { format!("{}: ", list_or(&words)) };
                format!("{lead}go to {}", self.target(target))
            })
            .collect()
    }

    fn target(&self, target: Target) -> String {
        match target {
            Target::Step(step) => self.mark(step),
            Target::Tree(tree) => format!("card \"{}\"", self.handbook.tree(tree).title),
        }
    }

    /// The number of a step, or the letter of an end.
    fn mark(&self, id: StepId) -> String {
        let is_end = is_last(self.tree.step(id));
        let same = self.order.iter().filter(|one| is_last(self.tree.step(**one)) == is_end);
        let place = same.take_while(|one| **one != id).count();
        if is_end { letters(place) } else { (place + 1).to_string() }
    }
}

fn caution_mark(place: usize) -> String {
    format!("!{}", place + 1)
}

/// `A` to `Z`, then `AA`, `AB` and so on.
fn letters(place: usize) -> String {
    let letter = |place: usize| char::from(b'A' + u8::try_from(place % 26).unwrap_or(0));
    match place / 26 {
        0 => letter(place).to_string(),
        more => format!("{}{}", letters(more - 1), letter(place)),
    }
}
