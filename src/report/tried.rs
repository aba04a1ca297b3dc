//! What trying a tree out has shown: step by step, why it went where it went.

mod judged;

use serde_json::{Value, json};

use crate::case::{Case, Decided, Now, Passage, Passed, Place, Trial};
use crate::formula::CheckedTemplate;
use crate::handbook::{StepKind, Target};
use crate::text::{Line, Role};
use judged::{Because, because};

/// The way of a trial in words.
#[must_use]
pub fn tried(case: &Case<'_>, trial: &Trial) -> Vec<Line> {
    let mut lines = Vec::new();
    for stage in stages(case) {
        match stage {
            Stage::Passed(passed) => {
                lines.push(Line::strong(name(case, passed.place)));
                if let Some(round) = named_round(case, passed) {
                    lines.push(Line::plain(format!("- A round begins, about: {round}.")));
                    continue;
                }
                lines.push(Line::plain("- ").join(said(case, passed.place)));
                lines.extend(how(case, passed).map(Line::plain));
            }
            Stage::Decided(decided) => lines.extend(decision(case, decided)),
        }
    }
    lines.push(Line::strong("Here it stands"));
    lines.extend(standing(case));
    if !trial.acknowledged.is_empty() {
        let cautions = trial.acknowledged.join(", ");
        lines.push(Line::plain(format!("- Cautions passed on the way: {cautions}.")));
    }
    lines
}

/// A part of the way.
enum Stage<'c> {
    Passed(&'c Passed),
    Decided(&'c Decided),
}

/// Steps passed and where they led, in the order in which it happened.
fn stages<'c>(case: &'c Case<'_>) -> Vec<Stage<'c>> {
    let mut stages = Vec::new();
    let mut passed = case.path().iter();
    let mut count = 0;
    for decided in case.decided() {
        while count < decided.passed {
            stages.extend(passed.next().map(Stage::Passed));
            count += 1;
        }
        stages.push(Stage::Decided(decided));
    }
    stages.extend(passed.map(Stage::Passed));
    stages
}

/// `pump_alone.floor`.
fn name(case: &Case<'_>, place: Place) -> String {
    let tree = case.handbook().tree(place.tree);
    format!("{}.{}", tree.id, tree.step(place.step).id)
}

fn filled(case: &Case<'_>, template: &CheckedTemplate) -> Line {
    template.fill(&case.worksheet())
}

/// What a step says, behind its kind.
fn said(case: &Case<'_>, place: Place) -> Line {
    let handbook = case.handbook();
    let step = handbook.tree(place.tree).step(place.step);
    let line = |kind: &str| Line::new().push(Role::Quiet, format!("{kind}: "));
    match &step.kind {
        StepKind::Do { text, .. } => line("do").join(filled(case, text)),
        StepKind::Ask { question, .. } => line("ask")
            .push(Role::Name, format!("`{}` ", handbook.question(*question).id))
            .join(case.ask(*question)),
        StepKind::Act { action, .. } => line("action")
            .push(Role::Name, format!("`{}` ", handbook.action(*action).id))
            .join(case.action_view(*action).instruction),
        StepKind::Visit(tree) => line("visit").push(Role::Name, &handbook.tree(*tree).id),
        StepKind::Stop { text, .. } => line("stop").join(filled(case, text)),
        StepKind::End { done, .. } => line("end").join(filled(case, done)),
    }
}

/// What a round is about, where it began here.
fn named_round(case: &Case<'_>, passed: &Passed) -> Option<String> {
    let question = case.handbook().tree(passed.place.tree).rounds?;
    let Passage::Event(order) = passed.passage else { return None };
    let mut names = case.record().answers(question);
    names.find(|(_, given)| given.order == order).map(|(_, given)| given.typed.clone())
}

/// How a step was passed; nothing where it speaks for itself.
fn how(case: &Case<'_>, passed: &Passed) -> Option<String> {
    let step = case.handbook().tree(passed.place.tree).step(passed.place.step);
    match (&step.kind, passed.passage) {
        (StepKind::Ask { .. }, Passage::Event(_)) => {
            answer(case, passed).map(|typed| format!("- Answered: {typed}."))
        }
        (StepKind::Ask { .. }, Passage::Known(_)) => {
            answer(case, passed).map(|typed| format!("- Known beforehand: {typed}."))
        }
        (StepKind::Act { .. }, Passage::Through) => {
            Some("- Held back: readings contradict each other.".to_owned())
        }
        (StepKind::Do { .. } | StepKind::Act { .. }, _) => Some("- Taken as done.".to_owned()),
        _ => None,
    }
}

fn decision(case: &Case<'_>, decided: &Decided) -> Vec<Line> {
    let Because { judged, decided: why, doubt } = because(case, decided);
    let mut lines = Vec::new();
    for one in judged {
        lines.push(Line::plain(format!("- if {}", one.told())));
        lines.extend(one.working.iter().map(|row| Line::plain(format!("    {row}"))));
    }
    if let Some(doubt) = doubt {
        lines.push(Line::plain(format!("- Doubt: {doubt}.")));
    }
    let to = target(case, decided);
    lines.push(
        Line::plain("- Goes to ").push(Role::Name, to).push(Role::Plain, format!(": {why}.")),
    );
    lines
}

fn target(case: &Case<'_>, decided: &Decided) -> String {
    match decided.target {
        Target::Step(step) => name(case, Place { tree: decided.place.tree, step }),
        Target::Tree(tree) => format!("the tree {}", case.handbook().tree(tree).id),
    }
}

/// Where the trial stands when it ends.
fn standing(case: &Case<'_>) -> Vec<Line> {
    match case.now() {
        Now::Ask { question, place, names_a_round, .. } => {
            let view = case.question_view(*question);
            let mut lines =
                vec![Line::plain(format!("- At {}: ", name(case, *place))).join(view.ask)];
            let id = view.id;
            lines.push(Line::plain(if *names_a_round {
                format!("- The round is over; another would be named by `{id}`.")
            } else {
                format!("- `{id}` has no answer left; give --set {id}=... once for each time.")
            }));
            lines
        }
        Now::Ended { done, then, .. } => {
            let mut lines = vec![Line::plain("- The end: ").join(done.clone())];
            if !then.is_empty() {
                let trees: Vec<&str> =
                    then.iter().map(|tree| case.handbook().tree(*tree).id.as_str()).collect();
                lines.push(Line::plain(format!("- Offered next: {}.", trees.join(", "))));
            }
            lines
        }
        Now::Stopped { text, refer, place, .. } => vec![
            Line::plain(format!("- Stopped at {}: ", name(case, *place))).join(text.clone()),
            Line::plain("- Ask: ").join(refer.clone()),
        ],
        Now::Acknowledge { .. } | Now::Do { .. } | Now::Act { .. } => Vec::new(),
    }
}

/// The way of a trial as JSON, format 1.
#[must_use]
pub fn tried_json(case: &Case<'_>, trial: &Trial) -> Value {
    let mut steps: Vec<Value> = Vec::new();
    for stage in stages(case) {
        match stage {
            Stage::Passed(passed) if named_round(case, passed).is_some() => steps.push(json!({
                "step": name(case, passed.place),
                "round": named_round(case, passed),
            })),
            Stage::Passed(passed) => steps.push(json!({
                "step": name(case, passed.place),
                "says": said(case, passed.place).to_text(),
                "passed": match passed.passage {
                    Passage::Event(_) => "event",
                    Passage::Known(_) => "known",
                    Passage::Through => "through",
                },
                "answer": answer(case, passed),
            })),
            Stage::Decided(decided) => steps.push(decision_json(case, decided)),
        }
    }
    json!({
        "format": 1,
        "from": name(case, trial.from),
        "way": steps,
        "stands": stands_json(case),
        "acknowledged": trial.acknowledged,
    })
}

fn answer(case: &Case<'_>, passed: &Passed) -> Option<String> {
    let step = case.handbook().tree(passed.place.tree).step(passed.place.step);
    let StepKind::Ask { question, .. } = &step.kind else { return None };
    let mut answers = case.record().answers(*question);
    let (Passage::Event(order) | Passage::Known(order)) = passed.passage else { return None };
    let given = answers.find(|(_, given)| given.order == order);
    given.map(|(_, given)| given.typed.clone())
}

fn decision_json(case: &Case<'_>, decided: &Decided) -> Value {
    let Because { judged, decided: why, doubt } = because(case, decided);
    let conditions: Vec<Value> = judged
        .iter()
        .map(|one| {
            json!({
                "condition": one.condition,
                "verdict": one.verdict,
                "probability": one.share,
                "unknown": one.unknown,
                "working": one.working.iter().map(|row| row.trim_start()).collect::<Vec<_>>(),
            })
        })
        .collect();
    json!({
        "from": name(case, decided.place),
        "to": target(case, decided),
        "because": why,
        "doubt": doubt,
        "conditions": conditions,
    })
}

fn stands_json(case: &Case<'_>) -> Value {
    match case.now() {
        Now::Ask { question, place, .. } => json!({
            "at": name(case, *place),
            "wants": case.question_view(*question).id,
        }),
        Now::Ended { done, then, .. } => json!({
            "ended": done.to_text(),
            "then": then.iter().map(|tree| case.handbook().tree(*tree).id.clone()).collect::<Vec<_>>(),
        }),
        Now::Stopped { text, refer, place, .. } => json!({
            "at": name(case, *place),
            "stopped": text.to_text(),
            "refer": refer.to_text(),
        }),
        Now::Acknowledge { .. } | Now::Do { .. } | Now::Act { .. } => Value::Null,
    }
}
