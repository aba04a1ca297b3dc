//! How a finding stands at a moment of a way.

use super::Moment;
use crate::formula::{Facts, Unknown, Value, Verdict, evaluate, verdict};
use crate::handbook::{Entry, Finding, Observes};

pub(super) fn judged(finding: &Finding, moment: &Moment<'_>) -> Value {
    let applies = finding.only_if.as_ref().map(|condition| moment.verdict(condition));
    if applies.is_some_and(|verdict| !matches!(verdict, Verdict::Yes(_))) {
        return Value::Unknown(Unknown::NotApplicable(finding.id.clone()));
    }
    if is_disputed(finding, moment) {
        return Value::Unknown(Unknown::NotApplicable(finding.id.clone()));
    }
    match &finding.observes {
        Observes::When(condition) => evaluate(condition, moment),
        Observes::Of(question) => moment.latest(moment.handbook.question(*question).symbol),
    }
}

/// Whether another finding says that a reading under this one can't be.
fn is_disputed(finding: &Finding, moment: &Moment<'_>) -> bool {
    let handbook = moment.handbook;
    let Entry::Finding(id) = handbook.entry(finding.symbol) else { return false };
    handbook.disputed_by(id).iter().any(|by| {
        let Value::Truth(draws) = moment.latest(handbook.finding(*by).symbol) else { return false };
        matches!(verdict(&draws), Verdict::Yes(_))
    })
}
