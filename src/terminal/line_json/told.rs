//! What the lines out tell besides what is wanted.

use serde_json::{Value as Json, json};

use crate::case::{Case, Ending, Objection, Refusal};
use crate::report::{caution_json, ranking_line, verdict_json};
use crate::text::{Line, capital};

/// The format of the lines; later versions only add keys.
const FORMAT: u32 = 1;

/// The first line: the format, the handbook and the case, with the file that keeps it.
#[must_use]
pub fn opened(case: &Case<'_>, id: Option<&str>, kept_in: Option<&str>) -> Json {
    json!({
        "is": "opened",
        "format": FORMAT,
        "program": env!("CARGO_PKG_VERSION"),
        "handbook": case.handbook().hash(),
        "tree": case.tree_view(case.tree()).0,
        "case": id,
        "kept_in": kept_in,
        "events": case.events().len(),
    })
}

/// The verdict: as it stands, or with how the sitting ended and its exit status.
#[must_use]
pub fn verdict(case: &Case<'_>, ended: Option<(&Ending, u8)>) -> Json {
    let left = Ending::of_left(case);
    let (ending, status) = ended.map_or((&left, None), |(ending, status)| (ending, Some(status)));
    json!({
        "is": "verdict",
        "ended": status.map(|_| ending_word(ending)),
        "exit_status": status,
        "verdict": verdict_json(case, ending),
    })
}

fn ending_word(ending: &Ending) -> &'static str {
    match ending {
        Ending::Done => "done",
        Ending::Stopped(_) => "stopped",
        Ending::Left => "left",
        Ending::EndOfInput => "end_of_input",
        Ending::Interrupted => "interrupted",
        Ending::Unusable(_) => "unusable",
    }
}

/// That something was taken, as the case file keeps it, and its place.
pub(super) fn taken(case: &Case<'_>) -> Json {
    let place = case.events().len().saturating_sub(1);
    let event = case.events().last().and_then(|event| serde_json::to_value(event).ok());
    json!({ "is": "taken", "order": place, "event": event })
}

/// What it changed; none if there is nothing to say.
pub(super) fn news(case: &Case<'_>) -> Option<Json> {
    let news = case.news();
    let texts = |lines: &[Line]| lines.iter().map(Line::to_text).collect::<Vec<_>>();
    let all = [&news.computed, &news.moved, &news.passed_over, &news.faces, &news.rounds];
    all.iter().any(|lines| !lines.is_empty()).then(|| {
        json!({
            "is": "news",
            "computed": texts(&news.computed),
            "moved": texts(&news.moved),
            "passed_over": texts(&news.passed_over),
            "taken_otherwise": texts(&news.faces),
            "rounds": texts(&news.rounds),
            "ranking": ranking_line(case).to_text(),
        })
    })
}

/// That a line was not taken: why in one word and in a sentence.
pub(super) fn objection(why: &str, message: &str) -> Json {
    json!({ "is": "objection", "why": why, "message": message })
}

/// Why a response was not taken.
pub(super) fn objected(case: &Case<'_>, objected: &Objection) -> Json {
    match objected {
        Objection::Misunderstood(id, misunderstood) => {
            let mut object = objection("misunderstood", &misunderstood.message);
            object["question"] = case.question_view(*id).id.into();
            object
        }
        Objection::Doubtful(id, typed, slip) => {
            doubtful(case.question_view(*id).id, typed, &slip.message, slip.suggestion.as_ref())
        }
        Objection::Refused(Refusal::NeedsAcknowledgement(caution)) => {
            let view = case.caution_view(*caution);
            let message = format!(
                "A caution comes first: somebody reads it and `acknowledge`s `{}` by name.",
                view.id
            );
            let mut object = objection("caution_first", &message);
            object["caution"] = caution_json(&view);
            object
        }
        Objection::Refused(refusal) => objection("refused", &capital(&refusal.to_string())),
        Objection::OutOfPlace => objection("out_of_place", "That does not fit what is wanted now."),
        Objection::NothingToTakeBack => {
            objection("nothing_there", "There is nothing to take back.")
        }
    }
}

/// That a value is out of the usual, with what may have been meant.
pub(super) fn doubtful(
    question: String,
    typed: &str,
    message: &str,
    suggestion: Option<&(String, f64)>,
) -> Json {
    let message = format!("{message}; send it again with \"meant\": true if it is so");
    let mut object = objection("doubtful", &message);
    object["question"] = question.into();
    object["typed"] = typed.into();
    object["suggestion"] = json!(suggestion.map(|(typed, _)| typed));
    object
}

/// Why what happened is not kept.
pub(super) fn unkept(why: &str) -> Json {
    json!({ "is": "unkept", "why": why })
}
