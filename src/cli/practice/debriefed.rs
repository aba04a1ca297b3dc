//! What is said afterwards, in lines.

use crate::evidence::wording::in_words;
use crate::handbook::{CauseId, Handbook};
use crate::rehearsal::practice::{Assisted, Debrief, Exercise, LeadWas, Leg, LegKind, Unsafe};
use crate::text::{Line, Role, capital, list_and, spoken};

/// Everything, under headings.
pub(super) fn lines(exercise: &Exercise<'_>, debrief: &Debrief, hourly: Option<f64>) -> Vec<Line> {
    let handbook = &exercise.ground().handbook;
    let mut lines = vec![Line::strong("What was hidden")];
    lines.extend(hidden(handbook, debrief));
    lines.push(Line::strong("What you named"));
    lines.extend(named(handbook, debrief));
    lines.push(Line::strong("Time"));
    lines.extend(time(handbook, debrief, hourly));
    lines.push(Line::strong("Your tests, and how much of what was open each could settle"));
    lines.extend(exercise.legs().iter().map(|leg| told_leg(handbook, leg)));
    if let Some(assisted) = &debrief.assisted {
        lines.push(Line::strong("The assistant's way at the same rig"));
        lines.extend(assisted.legs.iter().map(|leg| {
            let read = match leg.readings.is_empty() {
                true => String::new(),
                false => format!(" ({})", leg.readings.join(", ")),
            };
            item(format!("{}: {}{read}", leg.title, minutes(leg.minutes)))
        }));
    }
    lines.push(Line::strong("Unsafe steps"));
    lines.extend(unsafe_steps(exercise));
    lines.push(Line::strong("Your dearest mistake"));
    lines.push(Line::plain(dearest(debrief)));
    lines
}

fn dearest(debrief: &Debrief) -> String {
    match &debrief.dearest {
        Some(mistake) => format!("{}: {}", minutes(mistake.minutes), mistake.sentence),
        None => "None: no minutes were lost that can be named.".to_owned(),
    }
}

fn item(text: String) -> Line {
    Line::new().push(Role::Plain, "- ").push(Role::Plain, text)
}

fn hidden(handbook: &Handbook, debrief: &Debrief) -> Vec<Line> {
    if debrief.causes.is_empty() {
        return vec![Line::plain("Nothing was wrong with this rig.")];
    }
    let mut lines: Vec<Line> =
        debrief.causes.iter().map(|cause| item(handbook.cause(*cause).name.clone())).collect();
    lines.push(Line::plain(format!("At this rig: {}.", list_and(&debrief.hidden))));
    if let Some(brought) = debrief.judged.brought {
        lines.push(Line::plain(format!(
            "What was pumped out of it brought {} by itself.",
            handbook.cause(brought).in_short
        )));
    }
    lines
}

fn named(handbook: &Handbook, debrief: &Debrief) -> Vec<Line> {
    let judged = &debrief.judged;
    if judged.is_given_up {
        return given_up(debrief);
    }
    let names = |causes: &[CauseId]| {
        let names: Vec<&str> =
            causes.iter().map(|cause| handbook.cause(*cause).in_short.as_str()).collect();
        list_and(&names)
    };
    let what = match debrief.named.causes.is_empty() {
        true => "that nothing is wrong".to_owned(),
        false => names(&debrief.named.causes),
    };
    let verdict = if judged.is_right() {
        "That is right."
    } else if judged.is_right_to_do {
        "That is not the cause, but it calls for the same next action."
    } else if judged.missed.len() < debrief.causes.len() {
        "That is right in part."
    } else {
        "That is not right."
    };
    let mut lines = vec![Line::plain(format!("You named {what}. {verdict}"))];
    if !judged.missed.is_empty() {
        lines.push(Line::plain(format!("Not named: {}.", names(&judged.missed))));
    }
    if !judged.not_there.is_empty() {
        lines.push(Line::plain(format!("Not there: {}.", names(&judged.not_there))));
    }
    if !debrief.causes.is_empty() {
        lines.push(Line::plain(if judged.mends() {
            "What you did and named mends it."
        } else {
            "What you did and named does not mend all of it."
        }));
    }
    if !judged.needless.is_empty() {
        let needless: Vec<String> =
            judged.needless.iter().map(|id| spoken(&handbook.action(*id).id)).collect();
        lines.push(Line::plain(format!("Not needed: {}.", list_and(&needless))));
    }
    lines
}

/// Who gave up named nothing; what they did may have mended it all the same.
fn given_up(debrief: &Debrief) -> Vec<Line> {
    let mended = match debrief.judged.mends() {
        true => "What you did mends it.",
        false => "What you did does not mend all of it.",
    };
    let mended = (!debrief.causes.is_empty()).then(|| Line::plain(mended));
    std::iter::once(Line::plain("Nothing: you gave up.")).chain(mended).collect()
}

fn time(handbook: &Handbook, debrief: &Debrief, hourly: Option<f64>) -> Vec<Line> {
    let spent = |time: f64| match hourly {
        Some(hourly) => format!("{}, which cost {:.0}", minutes(time), hourly * time / 60.0),
        None => minutes(time),
    };
    let mut lines = vec![Line::plain(format!("You took {}.", spent(debrief.minutes)))];
    lines.extend(debrief.assisted.as_ref().map(|assisted| {
        let took = spent(assisted.minutes);
        let right = match debrief.assistant(handbook) {
            Some(LeadWas::Right) => "That is right.",
            Some(LeadWas::RightToDo) => "That calls for the right next action.",
            Some(LeadWas::Brought) => {
                "The work itself had brought that; what was there at first it had not named yet."
            }
            Some(LeadWas::Wrong) | None => "That is not right.",
        };
        Line::plain(format!(
            "The assistant, with somebody who does as it says, took {took}. {} {right}",
            verdict(handbook, assisted)
        ))
    }));
    lines.extend(hourly.map(|hourly| {
        Line::new().push(Role::Quiet, format!("Cost at {hourly} an hour, as given."))
    }));
    lines
}

fn verdict(handbook: &Handbook, assisted: &Assisted) -> String {
    let settled = if assisted.is_settled { "settled" } else { "not settled" };
    let all = assisted.held.iter().map(|(cause, probability)| held(handbook, *cause, *probability));
    let all: Vec<String> = all.collect();
    format!("It ended {settled}: {}.", all.join("; "))
}

/// `bad pump oil: likely (about 74 in 100)`
fn held(handbook: &Handbook, cause: Option<CauseId>, probability: f64) -> String {
    let what = cause.map_or("nothing wrong", |cause| handbook.cause(cause).in_short.as_str());
    format!("{what}, {}", in_words(probability))
}

fn told_leg(handbook: &Handbook, leg: &Leg) -> Line {
    let lead = held(handbook, leg.lead.0, leg.lead.1);
    let text = match leg.kind {
        LegKind::Test(test) => {
            let shown =
                if leg.shown.is_empty() { String::new() } else { format!(" ({})", leg.shown) };
            format!(
                "{}{shown}: {}, {}. Then led: {lead}",
                capital(test.called()),
                minutes(leg.minutes),
                worth(handbook, leg)
            )
        }
        LegKind::Repair(action) => {
            let action = handbook.action(action);
            let done = action.once_done.clone().unwrap_or_else(|| spoken(&action.id));
            format!("Repair: {done}, {}", minutes(leg.minutes))
        }
        LegKind::LockOut => format!("The lock-out of the compressor: {}", minutes(leg.minutes)),
        LegKind::OnNothing => format!(
            "The pump behind its own shut valve, where it pulled on nothing: {}",
            minutes(leg.minutes)
        ),
        LegKind::Rest => format!("The rest, which told nothing: {}", minutes(leg.minutes)),
    };
    item(text + ".")
}

fn worth(handbook: &Handbook, leg: &Leg) -> String {
    let lacks: Vec<String> =
        leg.lacks.iter().take(2).map(|id| spoken(&handbook.question(*id).id)).collect();
    if leg.bits >= 0.005 {
        of_what_was_open(leg.bits).to_owned()
    } else if leg.has_told {
        "more of what was known in part".to_owned()
    } else if lacks.is_empty() {
        "nothing of what was open".to_owned()
    } else {
        format!("nothing without {}", list_and(&lacks))
    }
}

/// How much of what was open a test could settle: one bit halves it.
fn of_what_was_open(bits: f64) -> &'static str {
    match 1.0 - libm::exp2(-bits) {
        share if share >= 0.5 => "more than half of what was open",
        share if share >= 0.25 => "a quarter to half of what was open",
        share if share >= 0.1 => "a tenth to a quarter of what was open",
        _ => "less than a tenth of what was open",
    }
}

fn unsafe_steps(exercise: &Exercise<'_>) -> Vec<Line> {
    let (done, refused): (Vec<&Unsafe>, Vec<&Unsafe>) =
        exercise.unsafe_steps().iter().partition(|step| step.was_done);
    if done.is_empty() && refused.is_empty() {
        return vec![Line::plain("None was tried.")];
    }
    let were = |number: usize, what: &str| match number {
        0 => None,
        1 => Some(Line::plain(format!("1 act was {what}:"))),
        number => Some(Line::plain(format!("{number} acts were {what}:"))),
    };
    let mut lines: Vec<Line> = were(done.len(), "done all the same").into_iter().collect();
    lines.extend(done.iter().map(|step| unsafe_step(step, "you")));
    lines.extend(were(refused.len(), "refused"));
    lines.extend(refused.iter().map(|step| unsafe_step(step, "you would have")));
    lines
}

fn unsafe_step(step: &Unsafe, you: &str) -> Line {
    let (at, told) = (minutes(step.at), step.act.told());
    let lacked = if step.was_done { ", the compressor not locked out" } else { "" };
    Line::new()
        .push(Role::Plain, format!("- At {at} {you} {told}{lacked}. "))
        .push(Role::Warning, step.precaution.caution)
        .push(Role::Plain, format!(" {}", step.precaution.first))
}

fn minutes(minutes: f64) -> String {
    format!("{minutes:.0} min")
}
