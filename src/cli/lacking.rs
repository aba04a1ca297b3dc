//! What answers given beforehand lack: cautions that nobody has read, safety questions that nobody has
//! answered, and what no finding can do without.

use anyhow::Result;

use super::exit::ExitStatus;
use super::given::Given;
use super::session::Session;
use crate::case::{Case, Ending, Event, KeepNothing, Reply, interview, questions_reached};
use crate::evidence::Engine;
use crate::handbook::{CautionId, QuestionId};
use crate::report::verdict_json;
use crate::text::{Line, count, list_and};

/// After a stop: which answers or acknowledgements were missing.
pub(super) fn tell_the_way_on(
    session: &mut Session<'_>,
    case: &Case<'_>,
    ending: &Ending,
    given: &Given,
) -> Result<()> {
    match ending {
        Ending::Stopped(Some(caution)) => tell_of_cautions(session, case, *caution, given),
        Ending::Stopped(None) => tell_of_open_dangers(session, case),
        _ => Ok(()),
    }
}

/// The caution that it stopped at, which is told in full elsewhere, and those that the same answers
/// would come to behind it: who gives answers beforehand has them all to read at once.
fn tell_of_cautions(
    session: &mut Session<'_>,
    case: &Case<'_>,
    first: CautionId,
    given: &Given,
) -> Result<()> {
    let id = case.caution_view(first).id;
    session.say(&format!(
        "dryhold: caution `{id}` is not acknowledged; who has read it gives --acknowledge {id}"
    ))?;
    let behind = cautions_behind(case, given)?;
    let behind: Vec<_> = behind.into_iter().filter(|caution| *caution != first).collect();
    if behind.is_empty() {
        return Ok(());
    }
    let (more, them) =
        (count(behind.len(), "more caution"), if behind.len() == 1 { "it" } else { "them" });
    let options: Vec<String> =
        behind.iter().map(|id| format!("--acknowledge {}", case.caution_view(*id).id)).collect();
    session.say(&format!(
        "dryhold: further on these answers come to {more}; who has read {them} gives {}",
        options.join(" ")
    ))?;
    let told = behind.iter().map(|caution| {
        let view = case.caution_view(*caution);
        let refer =
            view.refer.map(|refer| format!(" Ask {}.", refer.to_text())).unwrap_or_default();
        Line::warning(format!("{}: {}{refer}", view.id, view.text.to_text()))
    });
    session.tell_lines(&told.collect::<Vec<_>>())
}

/// Every stop that the answers come to and that isn't acknowledged, in the order they are met; up to
/// where they lead into a danger.
fn cautions_behind(case: &Case<'_>, given: &Given) -> Result<Vec<CautionId>> {
    let handbook = case.handbook();
    let engine = Engine::new(handbook)?;
    let mut read = Case::open(handbook, &engine, case.tree());
    let all = handbook.cautions().iter().map(|caution| caution.id.clone());
    let mut script = given.script().acknowledging(all);
    interview(&mut read, &mut script, &mut KeepNothing);
    let met = read.events().iter().filter_map(|event| match event {
        Event::Acknowledged { caution, .. } if !given.acknowledge.contains(caution) => {
            handbook.find_caution(caution)
        }
        _ => None,
    });
    Ok(met.collect())
}

fn tell_of_open_dangers(session: &mut Session<'_>, case: &Case<'_>) -> Result<()> {
    let is_open = |id: &QuestionId| {
        let latest = case.latest_answer(*id).map(|given| &given.reply);
        let question = case.handbook().question(*id);
        question.hazard.is_some() && latest == Some(&Reply::Skipped)
    };
    let ids: Vec<QuestionId> = case.question_ids().filter(is_open).collect();
    for id in ids {
        let view = case.question_view(id);
        let (id, ask) = (&view.id, view.ask.to_text());
        let choices: Vec<&str> = view.options.iter().map(|(choice, _)| choice.as_str()).collect();
        let takes = if choices.is_empty() { "yes or no".to_owned() } else { choices.join(", ") };
        session.say(&format!(
            "dryhold: safety question `{id}` has no answer and counts as the hazardous one; give \
             --set {id}=... ({takes}): {ask}"
        ))?;
    }
    Ok(())
}

/// What the way asked and no answer was given to, in the order of the handbook, so that it can be
/// given the next time; safety questions are told of elsewhere.
pub(super) fn tell_what_was_not_given(session: &mut Session<'_>, case: &Case<'_>) -> Result<()> {
    let is_not_given = |id: &QuestionId| {
        let latest = case.latest_answer(*id).map(|given| &given.reply);
        case.handbook().question(*id).hazard.is_none()
            && latest == Some(&Reply::Skipped)
            && !case.record().is_known(*id)
    };
    let ids: Vec<QuestionId> = case.question_ids().filter(is_not_given).collect();
    let Some(first) = ids.first() else { return Ok(()) };
    let named = ids.iter().take(MOST_NAMED).map(|id| format!("`{}`", case.question_view(*id).id));
    let mut named: Vec<String> = named.collect();
    if ids.len() > MOST_NAMED {
        named.push(format!("{} more", ids.len() - MOST_NAMED));
    }
    let one = case.question_view(*first).id;
    session.say(&format!(
        "dryhold: asked on this way and not given: {}; each is given by its id, such as \
         --set {one}=...",
        list_and(&named)
    ))
}

/// Whether any finding uses anything that the way may ask. Where none does, its end is all there is to
/// come to, and no answer is lacking.
pub(super) fn is_weighed(case: &Case<'_>) -> bool {
    let handbook = case.handbook();
    let asked = questions_reached(handbook, case.tree());
    handbook.findings().iter().any(|finding| {
        handbook.questions_under(finding.symbol).iter().any(|question| asked.contains(question))
    })
}

/// No answer given that any finding uses: names the next one worth giving.
pub(super) fn no_evidence(
    session: &mut Session<'_>,
    case: &Case<'_>,
    ending: &Ending,
    json: bool,
) -> Result<ExitStatus> {
    if json {
        session.result(&verdict_json(case, ending).to_string())?;
    }
    let missing = missing_beside_answers(case);
    let hint = (!missing.is_empty()).then(|| {
        let sets: Vec<String> =
            missing.iter().map(|&id| format!("--set {}=...", case.question_view(id).id)).collect();
        format!("; give {}", list_and(&sets))
    });
    session.say(&format!(
        "dryhold: no answer given is used by any finding{}",
        hint.unwrap_or_default()
    ))?;
    Ok(ExitStatus::Unusable)
}

/// The most questions that are named at once (limit of ours).
const MOST_NAMED: usize = 5;

/// What is missing for the finding that the answers given come nearest to; else what is worth
/// giving first.
fn missing_beside_answers(case: &Case<'_>) -> Vec<QuestionId> {
    let sheet = case.worksheet();
    let handbook = case.handbook();
    let nearest = handbook
        .finding_ids()
        .filter_map(|finding| {
            let needed = handbook.questions_under(handbook.finding(finding).symbol);
            let is_open = |id: &QuestionId| sheet.is_unanswered(*id);
            let can_be_assumed = |id: &QuestionId| handbook.question(*id).not_sure.is_some();
            let is_given = |id: &QuestionId| {
                !is_open(id) && case.record().is_known(*id) && !handbook.question(*id).is_setting()
            };
            let missing: Vec<QuestionId> =
                needed.iter().copied().filter(|id| is_open(id) && !can_be_assumed(id)).collect();
            (needed.iter().any(is_given) && !missing.is_empty()).then_some(missing)
        })
        .min_by_key(Vec::len);
    let worthwhile = || case.checks_left().first().map(|check| check.questions.clone());
    let mut missing = nearest.or_else(worthwhile).unwrap_or_default();
    missing.truncate(MOST_NAMED);
    missing
}
