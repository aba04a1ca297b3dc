//! The cautions that applied, and who acknowledged the stops.

use serde::Serialize;

use super::Fact;
use crate::case::{Case, CautionView, DangerTakenBack, Event, is_left_out};
use crate::text::{Line, Role, list_and};

/// A caution that applied.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Applied {
    /// The id of the caution.
    pub caution: String,
    /// `note`, `caution` or `stop`.
    pub severity: &'static str,
    /// The warning.
    pub text: String,
    /// Whom to ask.
    pub refer: Option<String>,
    /// Who acknowledged it, each once, in order.
    pub acknowledged_by: Vec<String>,
}

/// The cautions met on the way, in order, then those that were acknowledged beside it.
pub(super) fn applied(case: &Case<'_>) -> Vec<Applied> {
    let mut views = case.cautions_met();
    for event in case.events() {
        if let Event::Acknowledged { caution, .. } = event
            && !views.iter().any(|view| view.id == *caution)
            && let Some(id) = case.handbook().find_caution(caution)
        {
            views.push(case.caution_view(id));
        }
    }
    views.into_iter().map(|view| of(case, view)).collect()
}

fn of(case: &Case<'_>, view: CautionView) -> Applied {
    let mut acknowledged_by: Vec<String> = Vec::new();
    for event in case.events() {
        match event {
            Event::Acknowledged { caution, by }
                if *caution == view.id && !acknowledged_by.contains(by) =>
            {
                acknowledged_by.push(by.clone());
            }
            _ => {}
        }
    }
    Applied {
        severity: view.severity.word(),
        text: view.text.to_text(),
        refer: view.refer.map(|refer| refer.to_text()),
        caution: view.id,
        acknowledged_by,
    }
}

/// A danger that was told and taken back.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct TakenBack {
    /// The id of the question.
    pub question: String,
    /// What was asked.
    pub ask: String,
    /// The dangerous answer.
    pub told: String,
    /// The answer that stands now; none where it was not answered anew.
    pub now: Option<String>,
    /// When the work may go on.
    pub go_on: String,
    /// Who acknowledged what its stop asks for, since it was taken back.
    pub acknowledged_by: Option<String>,
}

/// The dangers that were told and taken back, in that order.
pub(super) fn taken_back(case: &Case<'_>) -> Vec<TakenBack> {
    let of = |danger: DangerTakenBack| TakenBack {
        question: case.handbook().question(danger.question).id.clone(),
        ask: case.ask(danger.question).to_text(),
        told: danger.told,
        now: danger.now,
        go_on: case.after_danger(danger.question),
        acknowledged_by: danger.minded_by,
    };
    case.dangers_taken_back().into_iter().map(of).collect()
}

/// `A danger was told first and taken back: Does it smell of gas? [Yes] Now: No. Go on only ...`
pub(super) fn taken_back_told(dangers: &[TakenBack]) -> impl Iterator<Item = Fact> {
    dangers.iter().map(|danger| {
        let now = danger.now.as_deref().unwrap_or("not answered anew");
        let by = danger.acknowledged_by.as_deref().unwrap_or("nobody").trim_end_matches('.');
        let text = format!(
            "A danger was told first and taken back: {} [{}] Now: {now}. {}",
            danger.ask, danger.told, danger.go_on
        );
        Fact::Item(Line::new().push(Role::Warning, text).push(Role::Plain, acknowledged(by)))
    })
}

/// The stops first, each with who acknowledged it or that nobody did. What stands in the verdict beside
/// what is to be done is not told once more, but that it applied.
pub(super) fn told(applied: &[Applied], verdict: &[Line]) -> Vec<Fact> {
    let said: Vec<String> = verdict.iter().map(Line::to_text).collect();
    let is_above = |applied: &&Applied| {
        applied.severity != "stop"
            && applied.acknowledged_by.is_empty()
            && said.iter().any(|line| line.contains(&applied.text))
    };
    let (above, here): (Vec<&Applied>, Vec<&Applied>) = applied.iter().partition(is_above);
    let (stops, others): (Vec<&Applied>, Vec<&Applied>) =
        here.into_iter().partition(|applied| applied.severity == "stop");
    let also = (!above.is_empty()).then(|| Fact::Text(Line::plain(also_above(above.len()))));
    stops.into_iter().chain(others).map(fact).chain(also).collect()
}

fn also_above(many: usize) -> String {
    match many {
        1 => "One more applied that stands above, beside what to do.".to_owned(),
        many => format!("{many} more applied that stand above, beside what to do."),
    }
}

fn fact(applied: &Applied) -> Fact {
    let (begins, role) = match applied.severity {
        "note" => ("Note: ", Role::Plain),
        _ => ("", Role::Warning),
    };
    let refer = applied.refer.as_ref().map(|refer| format!(" Ask {refer}."));
    let text = format!("{begins}{}{}", applied.text, refer.unwrap_or_default());
    let names = &applied.acknowledged_by;
    let by = match (applied.severity, names.is_empty()) {
        // Initials bring their own stop.
        (_, false) => acknowledged(list_and(names).trim_end_matches('.')),
        ("stop", true) => acknowledged("nobody"),
        _ => String::new(),
    };
    Fact::Item(Line::new().push(role, text).push(Role::Plain, by))
}

/// Where the name was left out, that somebody did is still told.
fn acknowledged(by: &str) -> String {
    match is_left_out(by) {
        true => " Acknowledged; the name is left out.".to_owned(),
        false => format!(" Acknowledged by {by}."),
    }
}
