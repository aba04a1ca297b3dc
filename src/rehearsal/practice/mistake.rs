//! The dearest mistake of an exercise, in minutes.

use super::exercise::Exercise;
use super::naming::{Judged, Named, is_of_use, mends};
use super::stretch::{Leg, LegKind, TestOf};
use crate::handbook::{ActionId, CauseId, Handbook, QuestionId};
use crate::text::{capital, list_and, spoken};

/// A mistake.
#[derive(Clone, Debug, PartialEq)]
pub struct Mistake {
    /// How many minutes it cost, or would have.
    pub minutes: f64,
    /// It in a sentence.
    pub sentence: String,
}

/// Less than so many minutes are no mistake that is worth a word (choice of ours).
const WORTH_A_WORD: f64 = 2.0;
/// A cause held for less than this has not been shown when it is mended (choice of ours).
const SHOWN_FROM: f64 = 0.5;

/// The mistake that cost the most minutes, none where no minute was lost that can be named.
#[must_use]
pub fn dearest(exercise: &Exercise<'_>, named: &Named, judged: &Judged) -> Option<Mistake> {
    let handbook = &exercise.ground().handbook;
    let legs = exercise.legs().iter().enumerate();
    let of_legs = legs.filter_map(|(at, leg)| of_leg(exercise, judged, at, leg));
    let all = of_legs
        .chain(of_remedies(handbook, named, judged))
        .chain(of_what_is_left(exercise, judged));
    all.filter(|mistake| mistake.minutes >= WORTH_A_WORD)
        .max_by(|a, b| a.minutes.total_cmp(&b.minutes))
}

fn of_leg(exercise: &Exercise<'_>, judged: &Judged, at: usize, leg: &Leg) -> Option<Mistake> {
    let handbook = &exercise.ground().handbook;
    let hidden = &exercise.dealt().causes;
    match leg.kind {
        LegKind::Repair(action) => {
            let is_of_use = is_of_use(handbook, action, hidden, judged.brought);
            (!is_of_use).then(|| of_repair(handbook, action, leg))
        }
        LegKind::LockOut => None,
        LegKind::OnNothing => Some(Mistake {
            minutes: leg.idle,
            sentence: format!(
                "The pump ran for {} behind its own shut valve, where it pulled on nothing.",
                told(leg.idle)
            ),
        }),
        LegKind::Rest => Some(Mistake {
            minutes: leg.idle,
            sentence: format!(
                "The last {} before you {} told nothing.",
                told(leg.idle),
                if judged.is_given_up { "gave up" } else { "named it" }
            ),
        }),
        // What dries while it is pumped on is work, and no test that was made for too long.
        LegKind::Test(TestOf::System) if dries(handbook, hidden) => None,
        LegKind::Test(test) if leg.has_told => Some(Mistake {
            minutes: leg.idle,
            sentence: format!(
                "You went on with {} for {} after it had told what it could.",
                test.called(),
                told(leg.idle)
            ),
        }),
        // What was lacking was looked at later, and then the reading told something all the same.
        LegKind::Test(_) if has_been_paid_for(exercise, leg) => None,
        LegKind::Test(test) => Some(Mistake {
            minutes: leg.minutes,
            sentence: format!(
                "{} took {} {}.",
                capital(test.called()),
                told(leg.minutes),
                why(exercise, at, leg)
            ),
        }),
    }
}

/// Whether everything that was lacking for a test to tell something is known by now.
fn has_been_paid_for(exercise: &Exercise<'_>, leg: &Leg) -> bool {
    let is_known = |id: &QuestionId| exercise.case().latest_answer(*id).is_some();
    !leg.lacks.is_empty() && leg.lacks.iter().all(is_known)
}

/// Why a test told nothing.
fn why(exercise: &Exercise<'_>, at: usize, leg: &Leg) -> String {
    let legs = &exercise.legs()[..at];
    let since_repair = legs.iter().rev().take_while(|leg| !matches!(leg.kind, LegKind::Repair(_)));
    if since_repair.into_iter().any(|before| before.kind == leg.kind) {
        return "and had been done before, with nothing changed since".to_owned();
    }
    let handbook = &exercise.ground().handbook;
    let lacks: Vec<String> =
        leg.lacks.iter().take(3).map(|id| spoken(&handbook.question(*id).id)).collect();
    if lacks.is_empty() {
        return "and could tell nothing more by then".to_owned();
    }
    format!("and told nothing, since this was not known besides: {}", list_and(&lacks))
}

/// A repair of something that was not there.
fn of_repair(handbook: &Handbook, action: ActionId, leg: &Leg) -> Mistake {
    let meant = handbook.cause_ids().filter(|cause| mends(handbook, action, *cause));
    let held = meant.map(|cause| leg.before.get(cause.index()).copied().unwrap_or(0.0));
    let held = held.fold(0.0, f64::max);
    let before = if held < SHOWN_FROM {
        format!(", before anything had shown it (held for {:.0} %)", 100.0 * held)
    } else {
        format!(" (it was held for {:.0} %)", 100.0 * held)
    };
    Mistake {
        minutes: leg.minutes,
        sentence: format!(
            "{} cost {} and mended nothing that was there{before}.",
            capital(&of(handbook, action)),
            told(leg.minutes)
        ),
    }
}

/// Remedies named that mend nothing: the minutes that they would have taken.
fn of_remedies(handbook: &Handbook, named: &Named, judged: &Judged) -> Option<Mistake> {
    let seconds: f64 =
        judged.needless.iter().filter_map(|action| handbook.action(*action).takes).sum();
    let called: Vec<String> = judged.needless.iter().map(|action| of(handbook, *action)).collect();
    let which = if judged.needless.len() == named.actions.len() { "" } else { " needlessly" };
    (!called.is_empty()).then(|| Mistake {
        minutes: seconds / 60.0,
        sentence: format!(
            "You named{which}: {}. That would have taken {} and mended nothing that was there.",
            list_and(&called),
            told(seconds / 60.0)
        ),
    })
}

/// What was there and is left in: the visit would have to be made again.
fn of_what_is_left(exercise: &Exercise<'_>, judged: &Judged) -> Option<Mistake> {
    let handbook = &exercise.ground().handbook;
    let left: Vec<&str> =
        judged.left.iter().map(|cause| handbook.cause(*cause).in_short.as_str()).collect();
    let minutes = exercise.minutes();
    (!left.is_empty()).then(|| Mistake {
        minutes,
        sentence: format!(
            "You left {} in. Somebody would come back for it, and these {} would be spent again.",
            list_and(&left),
            told(minutes)
        ),
    })
}

/// Whether pumping on mends something that was there.
fn dries(handbook: &Handbook, there: &[CauseId]) -> bool {
    let pumping = handbook.find_action("pump_longer");
    pumping.is_some_and(|action| there.iter().any(|cause| mends(handbook, action, *cause)))
}

/// What an action is called within a sentence.
fn of(handbook: &Handbook, action: ActionId) -> String {
    format!("`{}`", spoken(&handbook.action(action).id))
}

/// Minutes as they are told.
fn told(minutes: f64) -> String {
    format!("{minutes:.0} min")
}
