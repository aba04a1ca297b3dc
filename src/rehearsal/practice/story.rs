//! What a trainee is told before the first act: the job, the rig, what was seen.

use super::dealing::Dealt;
use crate::bench::chance::Chance;
use crate::rehearsal::rigged::{Look, Said};
use crate::text::list_and;

/// Invented jobs.
const JOBS: [&str; 8] = [
    "a split air conditioner behind a bakery",
    "a heat pump in the yard of a school",
    "a wall unit in a doctor's waiting room",
    "a ducted unit above a library",
    "a condensing unit on the roof of a workshop",
    "a heat pump beside a farmhouse",
    "a split unit in a server room",
    "an air conditioner in a village hall",
];
/// What the simulated systems held; the rig's own as the bench makes it.
const REFRIGERANT: &str = "R-410A";

/// The story: a sentence each.
pub(super) fn story(dealt: &Dealt) -> Vec<String> {
    let mut chance = Chance::new(dealt.seed ^ 0x0005_7047);
    let job = JOBS[((chance.even() * JOBS.len() as f64) as usize).min(JOBS.len() - 1)];
    let known = |look| match dealt.hand.of_the_kit(look) {
        Some(Said::Typed(text)) => text,
        _ => "not known".to_owned(),
    };
    let target = known(Look::Target);
    // What never held refrigerant has had none recovered.
    let charge = match dealt.hand.kit().past.never_charged {
        Some(true) => "new and never charged",
        _ => "recovered",
    };
    vec![
        format!(
            "The job: {job}, {REFRIGERANT}, {charge}, in an aired place. It asks for {target}."
        ),
        seen(dealt, &target),
        "Whoever pulled on it has gone: the rig is still on the system, both valves are shut, the \
         pump is off, and their lock is off the compressor's supply."
            .to_owned(),
        rig(dealt, &known),
        past(dealt),
    ]
}

fn seen(dealt: &Dealt, target: &str) -> String {
    let shown = &dealt.shown;
    match dealt.symptom.as_str() {
        "wont_pull_below" => {
            format!("What was seen: it would not come below {target}. It stood at {shown}.")
        }
        "rises" => {
            format!(
                "What was seen: it came down, and rose once it was shut off. At the end the \
                     gauge showed {shown} with the pump on it."
            )
        }
        "slow" => format!("What was seen: it comes down slowly. At the end it showed {shown}."),
        _ => format!(
            "What was seen: it came down to {shown} and stayed there. Whoever pulled on it is not \
             sure that it is dry and tight."
        ),
    }
}

fn rig(dealt: &Dealt, known: &dyn Fn(Look) -> String) -> String {
    let core = if known(Look::CoresIn) == "yes" { "the valve core in" } else { "the core out" };
    let second = match dealt.hand.kit().second {
        Some(_) => "A second gauge is at hand.",
        None => "There is no second gauge.",
    };
    format!(
        "The rig: a pump of {} whose plate says {}, a hose of {} and {}, a core tool, {core}. The \
         gauge sits on the system and shows {}. The system is said to hold {}. {second}",
        known(Look::PumpSpeed),
        known(Look::PumpRating),
        known(Look::HoseBore),
        known(Look::HoseLength),
        dealt.hand.kit().face().symbol,
        known(Look::SystemVolume),
    )
}

/// What is told of the past, as far as it is out of the usual.
fn past(dealt: &Dealt) -> String {
    let past = dealt.hand.kit().past;
    let told = [
        (past.wet == Some(true), "water had a way into it"),
        (past.new_joints == Some(true), "it has new joints"),
        (past.held_nitrogen == Some(true), "it held nitrogen for an hour"),
        (past.held_nitrogen == Some(false), "it lost pressure in its nitrogen test"),
        (past.oily_gauge == Some(true), "the gauge has been on oily systems"),
        (past.oil_age.is_some_and(|age| age > 36_000.0), "the pump's oil is old"),
        (dealt.hand.kit().labours, "the pump starts hard"),
    ];
    let told: Vec<&str> = told.iter().filter(|(is_so, _)| *is_so).map(|(_, text)| *text).collect();
    if told.is_empty() {
        return "What is told: nothing out of the usual.".to_owned();
    }
    format!("What is told: {}.", list_and(&told))
}
