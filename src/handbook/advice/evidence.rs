//! Causes that the findings can't speak about, or can't tell apart.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::RawHandbook;
use crate::handbook::model::{Cause, CauseId, Finding, Handbook};
use crate::source::Span;
use crate::text::list_and;

/// How much likelier, or less likely, an outcome has to make a cause to speak of it (`estimate`:
/// a doubling of the odds, the least that a verdict names).
const SPEAKS: f64 = 2.0;

/// From how many causes on a finding that names all but one has probably forgotten it (`estimate`:
/// of three causes, two are often named on purpose).
const ALL_BUT_ONE_FROM: usize = 4;

pub(super) fn advise(raw: &RawHandbook, handbook: &Handbook, advice: &mut Vec<Diagnostic>) {
    let place = |id: CauseId| raw.causes.get(id.index()).map(|cause| cause.id.span);
    let places: Vec<Span> = handbook.cause_ids().filter_map(place).collect();
    for (id, place) in handbook.cause_ids().zip(&places) {
        speechless(handbook, id, *place, advice);
    }
    alike(handbook, &places, advice);
    for finding in handbook.findings() {
        let raw = raw.findings.iter().find(|raw| raw.id.value == finding.id);
        advice.extend(raw.and_then(|raw| left_out(handbook, finding, raw.id.span, &places)));
    }
}

/// A cause that a finding doesn't name, though it names all others.
fn left_out(
    handbook: &Handbook,
    finding: &Finding,
    place: Span,
    causes: &[Span],
) -> Option<Diagnostic> {
    let shows = finding.shown_by.iter().map(|(cause, _)| *cause);
    let named: Vec<CauseId> = shows.chain(finding.hidden_by.iter().map(|(by, _)| *by)).collect();
    let mut missing = handbook.cause_ids().filter(|id| !named.contains(id));
    let (left, None) = (missing.next()?, missing.next()) else { return None };
    if causes.len() < ALL_BUT_ONE_FROM {
        return None;
    }
    let name = &handbook.cause(left).id;
    let title = format!("finding `{}` names every cause but `{name}`", finding.id);
    let at = *causes.get(left.index())?;
    Some(
        Diagnostic::at(Code::CauseLeftOut, title, at, "the one that is left out")
            .and_at(place, "all others have a share here")
            .note("with a cause that it doesn't name, a finding is true as often as `anyway` says")
            .help(format!("give `{name}` a share there, or waive this with the reason")),
    )
}

/// The shares of a finding's outcomes with one cause alone there.
fn shares(finding: &Finding, cause: CauseId) -> Vec<f64> {
    let shown = finding.shown_by.iter().find(|(by, _)| *by == cause);
    let mut shares = shown.map_or_else(|| finding.background.clone(), |(_, shares)| shares.clone());
    if let Some((_, hides)) = finding.hidden_by.iter().find(|(by, _)| *by == cause) {
        shares.iter_mut().for_each(|share| *share *= 1.0 - hides);
        if let Some(normal) = shares.first_mut() {
            *normal += hides;
        }
    }
    shares
}

fn speechless(handbook: &Handbook, id: CauseId, place: Span, advice: &mut Vec<Diagnostic>) {
    let ratios = handbook.findings().iter().flat_map(|finding| {
        let shares = shares(finding, id);
        let with_and_without = shares.into_iter().zip(&finding.background);
        with_and_without.map(|(with, without)| with / without).collect::<Vec<f64>>()
    });
    let (least, most) =
        ratios.fold((1.0_f64, 1.0_f64), |(least, most), ratio| (least.min(ratio), most.max(ratio)));
    let name = &handbook.cause(id).id;
    let times = |ratio: f64| format!("{:.1} times", ratio);
    if most < SPEAKS {
        let title = format!("no finding speaks for cause `{name}`");
        let note = format!("the one that says most makes it {} as likely", times(most));
        let label = "nothing makes it twice as likely";
        advice.push(Diagnostic::at(Code::NothingFor, title, place, label).note(note));
    } else if least > 1.0 / SPEAKS {
        let title = format!("no finding speaks against cause `{name}`");
        let note = format!(
            "the one that says most leaves it {} as likely; a cause that nothing rules out stays \
             in every ranking",
            times(least)
        );
        let label = "nothing makes it half as likely";
        advice.push(Diagnostic::at(Code::NothingAgainst, title, place, label).note(note));
    }
}

/// Causes that every finding shows alike, though they call for different actions.
fn alike(handbook: &Handbook, places: &[Span], advice: &mut Vec<Diagnostic>) {
    let ids: Vec<CauseId> = handbook.cause_ids().collect();
    for (later, id) in ids.iter().enumerate() {
        let twin = ids[..later].iter().position(|other| are_alike(handbook, *other, *id));
        let Some(earlier) = twin else { continue };
        let (one, other) = (handbook.cause(ids[earlier]), handbook.cause(*id));
        let title = format!("nothing tells cause `{}` from cause `{}`", other.id, one.id);
        let fault =
            Diagnostic::at(Code::AlikeCauses, title, places[later], "shows in every finding")
                .and_at(places[earlier], "as this one does");
        advice.push(fault.note(different(handbook, one, other)));
    }
}

fn are_alike(handbook: &Handbook, one: CauseId, other: CauseId) -> bool {
    handbook.cause(one).group != handbook.cause(other).group
        && handbook.cause(one).history == handbook.cause(other).history
        && handbook.findings().iter().all(|f| shares(f, one) == shares(f, other))
}

/// What the two call for.
fn different(handbook: &Handbook, one: &Cause, other: &Cause) -> String {
    let actions = |cause: &Cause| {
        let named = |id| format!("`{}`", handbook.action(id).id);
        let names: Vec<String> = cause.fix.iter().copied().map(named).collect();
        (!names.is_empty()).then(|| list_and(&names))
    };
    let called = match (actions(one), actions(other)) {
        (Some(one), Some(other)) if one != other => format!(" ({one} and {other})"),
        _ => String::new(),
    };
    format!(
        "they count as calling for different actions{called}; if one action serves both, give \
         them one `group`"
    )
}
