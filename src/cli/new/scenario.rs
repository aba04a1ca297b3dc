//! A scenario: the questions that a tree asks, with answers that say nothing yet.

use std::path::{Path, PathBuf};

use anyhow::{Result, bail};

use super::asking::{self, Wanted};
use super::entry::{folder_name, folder_wanted};
use super::met::{self, Judged};
use super::writing::{NewFile, write};
use super::yaml_text::{one_line, remark, scalar};
use crate::case::{
    Answerer, Case, KeepNothing, Now, Objection, QuestionId, Response, TreeId, interview,
};
use crate::cli::author_arguments::NewScenario;
use crate::cli::command_line::shell_word;
use crate::cli::exit::ExitStatus;
use crate::cli::load::handbook;
use crate::cli::named_tree::find_tree;
use crate::cli::session::Session;
use crate::document::{is_id, nearest_id};
use crate::evidence::Engine;
use crate::handbook::{Handbook, Hazard, StepKind};
use crate::text::list_or;

/// The longest row that is written (`estimate`: what a narrow screen shows).
const WIDEST_ROW: usize = 60;

/// Begins a scenario.
pub(super) fn begin(session: &mut Session<'_>, wanted: &NewScenario) -> Result<ExitStatus> {
    let entry = &wanted.entry;
    let into = entry.into.as_deref().map(|folder| folder.display().to_string());
    let folder = folder_wanted(into.as_deref());
    let [title, id, tree] = all_wanted(wanted);
    asking::require(session, "scenario", &[&id, &title, &tree, &folder])?;
    let Some(handbook) = handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    asking::open(session, &[&id, &title, &tree, &folder])?;
    let tree = tree_of(session, &handbook, &tree)?;
    let folder: PathBuf = asking::text(session, &folder, &folder_name)?.into();
    refuse_rules(session, &folder)?;
    let title = asking::text(session, &title, &one_line)?;
    let id = asking::text(session, &id, &file_id)?;
    let text = sketch(&handbook, tree, &title)?;
    let path = folder.join(format!("{id}.yaml"));
    write(&[NewFile { path: path.clone(), text }])?;
    session.result(&format!("written: {}", path.display()))?;
    session.tell(
        "Its answers are `not sure` except where safety is at stake, and its expectation is to be \
         filled in. Run it with:",
    )?;
    session.say(&format!("  dryhold rehearse{} {}", options(session), shell_word(&path)))?;
    Ok(ExitStatus::Settled)
}

fn all_wanted(wanted: &NewScenario) -> [Wanted<'_>; 3] {
    let title = Wanted {
        given: wanted.entry.title.as_deref(),
        flag: "--title TEXT",
        ask: "What is the scenario called?",
        hint: "a few words, such as The pump that sat in a wet van",
    };
    let id = Wanted {
        given: wanted.entry.id.as_deref(),
        flag: "--id ID",
        ask: "What shall its file be called, without the ending?",
        hint: "an id, such as wet_van",
    };
    let tree = Wanted {
        given: wanted.tree.as_deref(),
        flag: "--tree TREE",
        ask: "Which tree does it run?",
        hint: "the id of a tree",
    };
    [title, id, tree]
}

fn tree_of(session: &mut Session<'_>, handbook: &Handbook, wanted: &Wanted<'_>) -> Result<TreeId> {
    if let Some(name) = wanted.given {
        return find_tree(session.arguments, handbook, name);
    }
    let trees = handbook.trees();
    let options: Vec<(&str, &str)> =
        trees.iter().map(|tree| (tree.id.as_str(), tree.title.as_str())).collect();
    asking::choice(session, wanted.ask, &options).map(TreeId::at)
}

fn file_id(typed: &str) -> Result<String, String> {
    let id = typed.trim();
    if is_id(id) {
        return Ok(id.to_owned());
    }
    let help = nearest_id(id).map(|near| format!("; write `{near}`")).unwrap_or_default();
    Err(format!(
        "`{}` is no id, which is a small letter, then small letters, digits and _{help}",
        crate::text::inert(id)
    ))
}

/// Whatever lies below a folder of rules is read as one.
fn refuse_rules(session: &Session<'_>, folder: &Path) -> Result<()> {
    let arguments = session.arguments;
    for rules in arguments.rules.iter().chain(&arguments.only_rules) {
        if folder.starts_with(rules) {
            bail!(
                "{} lies in the rules {}, where every file is read as a rule; choose a folder \
                 beside them",
                folder.display(),
                rules.display()
            );
        }
    }
    Ok(())
}

/// The options that this handbook was loaded with, as they go into another command.
fn options(session: &Session<'_>) -> String {
    let arguments = session.arguments;
    let only =
        arguments.only_rules.iter().map(|only| format!(" --only-rules {}", shell_word(only)));
    let rules = arguments.rules.iter().map(|more| format!(" --rules {}", shell_word(more)));
    only.chain(rules).collect()
}

/// The scenario's text.
fn sketch(handbook: &Handbook, tree: TreeId, title: &str) -> Result<String> {
    let engine = Engine::new(handbook)?;
    let mut case = Case::open(handbook, &engine, tree);
    let mut nobody = Nobody::default();
    interview(&mut case, &mut nobody, &mut KeepNothing);
    let mut rows = vec![
        remark(
            "A case whose outcome is known. Answers stand as they would be typed; a list answers \
             a repeated question in turn, and what is not asked on the way may stand here too.",
            0,
        ),
        format!("scenario: {}", scalar(title)),
        format!("tree: {}", handbook.tree(tree).id),
    ];
    rows.extend(answers(&case, &nobody));
    let stops = met::stops(handbook, tree);
    if !stops.is_empty() {
        rows.push(acknowledge(&stops));
    }
    rows.extend(expectation(&case));
    Ok(rows.join("\n") + "\n")
}

/// The stop cautions that may come, each taken as read, since the case would stop at it.
fn acknowledge(stops: &[&str]) -> String {
    let row = format!("acknowledge: [{}]", stops.join(", "));
    if row.chars().count() <= WIDEST_ROW {
        return row;
    }
    let each: String = stops.iter().map(|id| format!("\n  - {id}")).collect();
    format!("acknowledge:{each}")
}

fn answers(case: &Case<'_>, nobody: &Nobody) -> Vec<String> {
    let mut rows = vec!["answers:".to_owned()];
    for (id, answer) in &nobody.answered {
        rows.push(asked(case, *id));
        rows.push(format!("  {}: {answer}", case.question_view(*id).id));
    }
    let is_open = |id: &QuestionId| nobody.answered.iter().all(|(known, _)| known != id);
    let mut open: Vec<QuestionId> = Vec::new();
    for id in case.handbook().tree(case.tree()).questions().filter(is_open) {
        if !open.contains(&id) {
            open.push(id);
        }
    }
    if !open.is_empty() {
        rows.push(String::new());
        rows.push(remark("Asked further on, once these say something:", 2));
    }
    for id in open {
        rows.push(asked(case, id));
        rows.push(format!("  # {}: not sure", case.question_view(id).id));
    }
    if nobody.answered.is_empty() {
        rows[0] = "answers: {}".to_owned();
    }
    rows
}

/// A question and what may be answered, as a remark.
fn asked(case: &Case<'_>, id: QuestionId) -> String {
    let view = case.question_view(id);
    let offered: Vec<&str> = view.options.iter().map(|(id, _)| id.as_str()).collect();
    let hint = if offered.is_empty() { view.hint } else { offered.join(", ") };
    remark(&format!("{} ({hint})", view.ask.to_text().trim()), 2)
}

/// The ids of the steps at which a tree comes to its end.
fn ends(handbook: &Handbook, tree: TreeId) -> Vec<&str> {
    let steps = handbook.tree(tree).steps.iter();
    let ends = steps.filter(|step| matches!(step.kind, StepKind::End { .. }));
    ends.map(|step| step.id.as_str()).collect()
}

/// What is to be expected, as a remark: an expectation that nobody has made is none.
fn expectation(case: &Case<'_>) -> Vec<String> {
    let handbook = case.handbook();
    let mut rows = vec![
        remark(
            "To be filled in: what should come out once these answers say something. Until then a \
             rehearsal judges nothing.",
            0,
        ),
        "# expect:".to_owned(),
        "#   settled: true".to_owned(),
    ];
    let ends = ends(handbook, case.tree());
    if let Some(first) = ends.first() {
        rows.push(format!("#   end: {first}"));
    }
    let Judged { causes, findings } = met::judged(handbook, case.tree());
    if let Some(first) = causes.first() {
        rows.push("#   ranking:".to_owned());
        rows.push(format!("#     {first}: at least likely"));
    }
    if let Some((first, outcome)) = findings.first() {
        rows.push("#   findings:".to_owned());
        rows.push(format!("#     {first}: {outcome}"));
    }
    if !causes.is_empty() {
        let causes = causes.join(", ");
        rows.push(remark(&format!("The causes that it can tell of are {causes}."), 0));
    }
    if !ends.is_empty() {
        rows.push(remark(&format!("The tree ends at {}.", list_or(&ends)), 0));
    }
    rows.push(remark(
        "A finding is true, false, too close, not applicable, unknown, or the choice that was seen.",
        0,
    ));
    rows
}

/// Answers safety questions with what is not dangerous, so that the way goes on, and is not sure
/// of anything else.
#[derive(Default)]
struct Nobody {
    answered: Vec<(QuestionId, String)>,
    rounds: usize,
}

impl Nobody {
    fn answer(&mut self, case: &Case<'_>, id: QuestionId, names_a_round: bool) -> Response {
        if names_a_round {
            self.rounds += 1;
            if self.rounds > 1 {
                return Response::NoMore;
            }
            self.answered.push((id, "[the first, no more]".to_owned()));
            return Response::Answer("the first".to_owned());
        }
        let question = case.handbook().question(id);
        let answer = match question.hazard {
            Some(Hazard::YesNo(hazard)) => if hazard { "no" } else { "yes" }.to_owned(),
            Some(Hazard::Choice(hazard)) => {
                let safe =
                    question.choices.iter().enumerate().find(|(at, _)| *at != usize::from(hazard));
                safe.map_or_else(|| "not sure".to_owned(), |(_, choice)| choice.id.clone())
            }
            None => "not sure".to_owned(),
        };
        if !self.answered.iter().any(|(known, _)| *known == id) {
            self.answered.push((id, answer.clone()));
        }
        Response::Answer(answer)
    }
}

impl Answerer for Nobody {
    fn respond(&mut self, case: &Case<'_>) -> Response {
        match case.now() {
            Now::Ask { question, names_a_round, .. } => {
                self.answer(case, *question, *names_a_round)
            }
            Now::Acknowledge { caution, .. } => {
                Response::Acknowledge(*caution, "given beforehand".to_owned())
            }
            Now::Do { .. } | Now::Act { .. } => Response::Done,
            Now::Ended { .. } | Now::Stopped { .. } => Response::Leave,
        }
    }

    fn object(&mut self, _: &Case<'_>, objection: &Objection) -> bool {
        matches!(objection, Objection::Doubtful(..))
    }
}
