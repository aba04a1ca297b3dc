//! `dryhold diagnose`: one case, by a person or by answers given beforehand.

use anyhow::{Result, bail};

use super::arguments::{DiagnoseArguments, For};
use super::exit::ExitStatus;
use super::load::load;
use super::session::Session;
use crate::book::{Book, Journal};
use crate::case::{Case, Ending, KeepNothing, Script, interview};
use crate::diagnostic::{Look, near_name, render};
use crate::document::raw::read_answers;
use crate::evidence::Engine;
use crate::handbook::{Handbook, QuestionId, TreeId};
use crate::report::{verdict, verdict_json};
use crate::source::Sources;
use crate::terminal::{Audience, Person};

/// The tree that starts with what the user is seeing.
pub(super) const START: &str = "start";

pub(super) fn run(session: &mut Session<'_>, arguments: &DiagnoseArguments) -> Result<ExitStatus> {
    let Some(handbook) = load(session)?.handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let given = Given::read(session, &handbook, arguments)?;
    let tree = find_tree(&handbook, arguments.tree.as_deref().or(given.tree.as_deref()))?;
    let engine = Engine::new(&handbook)?;
    let mut case = Case::open(&handbook, &engine, tree);
    if given.is_empty() {
        return by_person(session, &mut case, arguments.audience, arguments.json);
    }
    by_script(session, &mut case, given, arguments.json)
}

fn find_tree(handbook: &Handbook, wanted: Option<&str>) -> Result<TreeId> {
    let ids = || handbook.trees().iter().map(|tree| tree.id.as_str());
    let name = match (wanted, handbook.find_tree(START), handbook.trees()) {
        (Some(name), _, _) => name,
        (None, Some(_), _) => START,
        (None, None, [only]) => only.id.as_str(),
        _ => bail!("name a tree: {}", ids().collect::<Vec<_>>().join(", ")),
    };
    match handbook.find_tree(name) {
        Some(tree) => Ok(tree),
        None => match near_name(name, ids()) {
            Some(near) => bail!("there is no tree `{name}`; did you mean `{near}`?"),
            None => bail!(
                "there is no tree `{name}`; the trees are {}",
                ids().collect::<Vec<_>>().join(", ")
            ),
        },
    }
}

/// A person at the terminal; every event goes to the book.
fn by_person(
    session: &mut Session<'_>,
    case: &mut Case<'_>,
    audience: For,
    json: bool,
) -> Result<ExitStatus> {
    let console = session.take_console()?;
    session.console = Some(console);
    let mut journal = new_journal(session)?;
    if let Some(journal) = &mut journal {
        for event in case.events() {
            journal.append(event, jiff::Timestamp::now())?;
        }
    }
    converse(session, case, journal, audience, json)
}

/// Lets a person carry a case on, and prints the verdict.
pub(super) fn converse(
    session: &mut Session<'_>,
    case: &mut Case<'_>,
    mut journal: Option<Journal>,
    audience: For,
    json: bool,
) -> Result<ExitStatus> {
    let audience = match audience {
        For::Site => Audience::Site,
        For::Phone => Audience::Phone,
    };
    let mut console = session.take_console()?;
    let mut person = Person::new(console.as_mut(), audience);
    let ending = match &mut journal {
        Some(journal) => interview(case, &mut person, journal),
        None => interview(case, &mut person, &mut KeepNothing),
    };
    session.console = Some(console);
    if let Some(journal) = &journal {
        session.say(&format!("The case is kept in {}", journal.path().display()))?;
    }
    conclude(session, case, &ending, json)
}

fn new_journal(session: &mut Session<'_>) -> Result<Option<Journal>> {
    match book(session).map(|book| book.new_case(jiff::ZonedDateTime::now().date())) {
        Some(Ok((_, journal))) => Ok(Some(journal)),
        Some(Err(error)) => {
            session.say(&format!("The case can't be kept: {error}. It goes on without a file."))?;
            Ok(None)
        }
        None => {
            session
                .say("There is no home folder to keep the case in; it goes on without a file.")?;
            Ok(None)
        }
    }
}

/// The book that the arguments ask for.
pub(super) fn book(session: &Session<'_>) -> Option<Book> {
    match &session.arguments.book {
        Some(folder) => Some(Book::at(folder)),
        None => Book::of_the_platform(),
    }
}

fn by_script(
    session: &mut Session<'_>,
    case: &mut Case<'_>,
    given: Given,
    json: bool,
) -> Result<ExitStatus> {
    let mut script = Script::new(given.answers, given.acknowledge);
    let ending = interview(case, &mut script, &mut KeepNothing);
    for remark in &script.remarks {
        session.say(&format!("dryhold: {remark}"))?;
    }
    if matches!(ending, Ending::Unusable(_)) {
        return Ok(ExitStatus::Unusable);
    }
    if !case.assessment().has_evidence && !matches!(ending, Ending::Stopped(_)) {
        return no_evidence(session, case, &ending, json);
    }
    conclude(session, case, &ending, json)
}

/// No answer given that any finding uses: names the next one worth giving.
fn no_evidence(
    session: &mut Session<'_>,
    case: &Case<'_>,
    ending: &Ending,
    json: bool,
) -> Result<ExitStatus> {
    if json {
        session.result(&verdict_json(case, ending).to_string())?;
    }
    let wanted = case.assessment().next.first().and_then(|check| check.questions.first());
    let hint = wanted.map(|&id| format!("; give --set {}=...", case.question_view(id).id));
    session.say(&format!(
        "dryhold: no answer given is used by any finding{}",
        hint.unwrap_or_default()
    ))?;
    Ok(ExitStatus::Unusable)
}

/// Prints the verdict and chooses the exit status.
fn conclude(
    session: &mut Session<'_>,
    case: &Case<'_>,
    ending: &Ending,
    json: bool,
) -> Result<ExitStatus> {
    if json {
        session.result(&verdict_json(case, ending).to_string())?;
    } else {
        session.result_lines(&verdict(case, ending))?;
    }
    if let Ending::NotKept(why) = ending {
        session.say(&format!("dryhold: {why}. What was answered stands above; note it down."))?;
        return Ok(ExitStatus::Unusable);
    }
    Ok(match ending {
        Ending::Stopped(_) => ExitStatus::StoppedForSafety,
        Ending::Interrupted => ExitStatus::Interrupted,
        Ending::Done if case.assessment().settled => ExitStatus::Settled,
        _ => ExitStatus::NotSettled,
    })
}

/// Answers given beforehand.
#[derive(Default)]
struct Given {
    tree: Option<String>,
    answers: Vec<(QuestionId, Vec<String>)>,
    acknowledge: Vec<String>,
    has_file: bool,
}

impl Given {
    fn is_empty(&self) -> bool {
        self.answers.is_empty() && !self.has_file
    }

    fn read(
        session: &mut Session<'_>,
        handbook: &Handbook,
        arguments: &DiagnoseArguments,
    ) -> Result<Self> {
        let mut given = Self { acknowledge: arguments.acknowledge.clone(), ..Self::default() };
        if let Some(path) = &arguments.answers {
            given.read_file(session, handbook, path)?;
        }
        let mut set: Vec<(QuestionId, Vec<String>)> = Vec::new();
        for text in &arguments.answers_set {
            let Some((id, typed)) = text.split_once('=') else {
                bail!("`--set {text}` has no `=`; write --set QUESTION=ANSWER");
            };
            let id = find_question(handbook, id.trim())?;
            match set.iter_mut().find(|(known, _)| *known == id) {
                Some((_, answers)) => answers.push(typed.trim().to_owned()),
                None => set.push((id, vec![typed.trim().to_owned()])),
            }
        }
        given.answers.retain(|(id, _)| !set.iter().any(|(known, _)| known == id));
        given.answers.extend(set);
        check_cautions(handbook, &given.acknowledge)?;
        Ok(given)
    }

    fn read_file(
        &mut self,
        session: &mut Session<'_>,
        handbook: &Handbook,
        path: &std::path::Path,
    ) -> Result<()> {
        let mut sources = Sources::default();
        let text = super::load::read_text(path)?;
        let id = sources.add(path.display().to_string(), text);
        let (raw, faults) = read_answers(&sources, id);
        if !faults.is_empty() {
            let look = Look { colour: session.is_talk_coloured() };
            bail!("{}", render(&faults, &sources, look).trim_end());
        }
        let Some(raw) = raw else { return Ok(()) };
        self.has_file = true;
        self.tree = raw.tree.map(|tree| tree.value);
        self.acknowledge.extend(raw.acknowledge.into_iter().map(|caution| caution.value));
        for (id, texts) in raw.answers {
            let id = find_question(handbook, &id.value)?;
            self.answers.push((id, texts.into_iter().map(|text| text.text).collect()));
        }
        Ok(())
    }
}

fn find_question(handbook: &Handbook, id: &str) -> Result<QuestionId> {
    if let Some(question) = handbook.find_question(id) {
        return Ok(question);
    }
    match near_name(id, handbook.questions().iter().map(|question| question.id.as_str())) {
        Some(near) => bail!("the handbook asks no question `{id}`; did you mean `{near}`?"),
        None => bail!("the handbook asks no question `{id}`"),
    }
}

fn check_cautions(handbook: &Handbook, acknowledged: &[String]) -> Result<()> {
    for id in acknowledged {
        if handbook.find_caution(id).is_none() {
            let near = near_name(id, handbook.cautions().iter().map(|c| c.id.as_str()));
            match near {
                Some(near) => bail!("there is no caution `{id}`; did you mean `{near}`?"),
                None => bail!("there is no caution `{id}`"),
            }
        }
    }
    Ok(())
}
