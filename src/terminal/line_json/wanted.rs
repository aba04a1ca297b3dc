//! What is wanted next, as an object.

use serde_json::{Value as Json, json};

use crate::case::{ActionId, Case, Closes, Now, Place, QuestionId, TreeId};
use crate::report::caution_json;
use crate::terminal::person::danger_to_mind;
use crate::text::Line;

/// What is wanted: `wanted` says what, by the word under which its own keys stand.
pub(super) fn wanted(case: &Case<'_>) -> Json {
    let mut object = match danger_to_mind(case) {
        Some(danger) => danger_taken_back(case, danger),
        None => of_now(case),
    };
    if let Json::Object(keys) = &mut object {
        keys.shift_insert(0, "is".to_owned(), "wanted".into());
        let here: Vec<Json> = case.cautions_here().iter().map(caution_json).collect();
        keys.insert("cautions".to_owned(), here.into());
    }
    object
}

/// Each thing that may be wanted, one branch each.
fn of_now(case: &Case<'_>) -> Json {
    match case.now() {
        Now::Acknowledge { caution: id, .. } => {
            json!({ "wanted": "acknowledgement", "caution": caution_json(&case.caution_view(*id)) })
        }
        Now::Ask { question, place, asked_before, in_place_of, names_a_round } => {
            let mut object = self::question(case, *question);
            if let Json::Object(keys) = &mut object {
                keys.insert("at".to_owned(), at(case, *place));
                keys.insert("asked_before".to_owned(), (*asked_before).into());
                keys.insert("in_place_of".to_owned(), json!(in_place_of));
                keys.insert("names_a_round".to_owned(), (*names_a_round).into());
            }
            object
        }
        Now::Do { text, wait, place } => json!({
            "wanted": "step",
            "text": text.to_text(),
            "wait_seconds": wait,
            "at": at(case, *place),
        }),
        Now::Act { action, place } => act(case, *action, *place),
        Now::Ended { done, then, closes } => json!({
            "wanted": "what_next",
            "text": done.to_text(),
            "closes": closes.map(Closes::word),
            "then": then.iter().map(|&id| tree(case, id)).collect::<Vec<_>>(),
        }),
        Now::Stopped { text, why, refer, place } => json!({
            "wanted": "stop",
            "text": text.to_text(),
            "why": why.as_ref().map(Line::to_text),
            "refer": refer.to_text(),
            "at": at(case, *place),
            "goes_on_by": answers_behind(case),
        }),
    }
}

/// A question, as it is asked on site and as it is read aloud.
pub(super) fn question(case: &Case<'_>, id: QuestionId) -> Json {
    let view = case.question_view(id);
    let options = view.options.iter();
    let options: Vec<Json> =
        options.map(|(id, label)| json!({ "id": id, "label": label })).collect();
    let known = case.known_by_another(id);
    json!({
        "wanted": "answer",
        "question": view.id,
        "ask": view.ask.to_text(),
        "say": view.say.as_ref().map(Line::to_text),
        "listen": view.listen.as_ref().map(Line::to_text),
        "why": view.why.as_ref().map(Line::to_text),
        "options": options,
        "takes": view.hint,
        "seconds": view.takes,
        "known": known.map(|known| json!({ "typed": known.answer, "by": known.by })),
    })
}

fn act(case: &Case<'_>, id: ActionId, place: Place) -> Json {
    let view = case.action_view(id);
    json!({
        "wanted": "action",
        "action": view.id,
        "text": view.instruction.to_text(),
        "minutes": view.minutes,
        "parts": view.parts,
        "at": at(case, place),
    })
}

fn danger_taken_back(case: &Case<'_>, id: QuestionId) -> Json {
    let view = case.question_view(id);
    json!({
        "wanted": "mind",
        "question": view.id,
        "ask": view.ask.to_text(),
        "text": case.stop_of_danger(id).as_ref().map(Line::to_text),
        "go_on": case.after_danger(id),
    })
}

/// The answers that led to a stop, the nearest first: only another one in the place of such an answer
/// lets the case go on.
fn answers_behind(case: &Case<'_>) -> Vec<Json> {
    let behind = case.answers_behind_stop().into_iter();
    behind
        .map(|given| {
            json!({
                "answer": given.order,
                "question": case.question_view(given.question).id,
                "typed": given.typed,
            })
        })
        .collect()
}

fn at(case: &Case<'_>, place: Place) -> Json {
    let tree = case.handbook().tree(place.tree);
    json!({ "tree": tree.id, "step": tree.step(place.step).id })
}

fn tree(case: &Case<'_>, id: TreeId) -> Json {
    let (id, title) = case.tree_view(id);
    json!({ "tree": id, "title": title })
}
