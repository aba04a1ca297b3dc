//! What a reading that nobody has taken yet could decide.

use std::collections::BTreeMap;

use super::finding::FindingState;
use super::record::{Given, Reach, Record, Reply};
use super::worksheet::Worksheet;
use crate::formula::Kind;
use crate::handbook::{FindingId, QuestionId};

/// How many plausible readings are tried, evenly in the logarithm over what is usual (limit of
/// ours).
const TRIED: u32 = 8;

/// The share of holds of which it is told whether a part rises steadily: 88.4 % of 1,000 invented
/// logs (computed: `cargo bench --bench rise_population`, benches/RESULTS.md).
const HOLDS_TOLD: f64 = 0.884;

/// The share of plausible readings with which each finding comes out one way or the other, in spite
/// of the doubt of the instrument. 1 where no single reading is missing, or nothing is known of
/// what is usual. With each finding come the questions that would be answered for it; of one that
/// comes twice the first count.
pub(super) fn shares_decided<'t>(
    sheet: &Worksheet<'_>,
    findings: impl Iterator<Item = (FindingId, &'t [QuestionId])>,
) -> BTreeMap<FindingId, f64> {
    let handbook = sheet.handbook();
    let is_hold = |id: &QuestionId| matches!(handbook.question(*id).kind, Kind::Readings(_));
    let mut shares: BTreeMap<FindingId, f64> = BTreeMap::new();
    let mut missing: BTreeMap<QuestionId, Vec<FindingId>> = BTreeMap::new();
    for (finding, open) in findings {
        if shares.contains_key(&finding) {
            continue;
        }
        let under = handbook.questions_under(handbook.finding(finding).symbol);
        let holds = open.iter().any(|id| under.contains(id) && is_hold(id));
        shares.insert(finding, if holds { HOLDS_TOLD } else { 1.0 });
        if let Some(question) = missing_reading(sheet, finding).filter(|_| !holds) {
            missing.entry(question).or_default().push(finding);
        }
    }
    for (question, findings) in missing {
        shares.extend(shares_of_readings(sheet, question, &findings));
    }
    shares
}

/// The shares of some findings that miss the same reading.
fn shares_of_readings(
    sheet: &Worksheet<'_>,
    question: QuestionId,
    findings: &[FindingId],
) -> Vec<(FindingId, f64)> {
    let Some((low, high)) = sheet.handbook().question(question).usual else { return Vec::new() };
    let mut counts = vec![(0_u32, 0_u32); findings.len()];
    for k in 0..TRIED {
        let share = (f64::from(k) + 0.5) / f64::from(TRIED);
        let record = with(sheet.record(), question, low * libm::exp(share * libm::log(high / low)));
        let supposed = sheet.gone_on(&record);
        for (finding, (decided, told)) in findings.iter().zip(&mut counts) {
            let state = supposed.finding(*finding).state;
            debug_assert_eq!(state, sheet.over(&record).finding(*finding).state);
            let (is_decided, is_told) = match state {
                FindingState::True(_) | FindingState::False(_) | FindingState::Seen(_) => (1, 1),
                FindingState::TooClose(_) => (0, 1),
                FindingState::NotApplicable | FindingState::Unknown => (0, 0),
            };
            *decided += is_decided;
            *told += is_told;
        }
    }
    let shares = findings.iter().zip(counts).map(|(finding, (decided, told))| {
        (*finding, if told == 0 { 1.0 } else { f64::from(decided) / f64::from(told) })
    });
    shares.collect()
}

/// The one reading that is missing, if it is known what is usual for it.
fn missing_reading(sheet: &Worksheet<'_>, finding: FindingId) -> Option<QuestionId> {
    let handbook = sheet.handbook();
    let under = handbook.questions_under(handbook.finding(finding).symbol);
    let mut open = under.iter().copied().filter(|question| sheet.is_unanswered(*question));
    let question = open.next()?;
    let asked = handbook.question(question);
    let (low, high) = asked.usual.filter(|_| asked.instrument.is_some() && !asked.is_setting())?;
    (open.next().is_none() && low > 0.0 && high > low).then_some(question)
}

fn with(record: &Record, question: QuestionId, si: f64) -> Record {
    answered(record, question, Reply::Quantity { si, half_width: None, reach: Reach::Exact })
}

/// A record in which the latest answers of some questions are given once more.
pub(super) fn repeated(record: &Record, questions: &[QuestionId]) -> Record {
    let mut repeated = record.clone();
    for question in questions {
        let latest = record.answers(*question).last();
        if let Some((_, given)) = latest {
            answer(&mut repeated, *question, given.reply.clone());
        }
    }
    repeated
}

/// A record in which one of the choices of a question is answered.
pub(super) fn chosen(record: &Record, question: QuestionId, choice: &str) -> Record {
    answered(record, question, Reply::Choice(choice.to_owned()))
}

fn answered(record: &Record, question: QuestionId, reply: Reply) -> Record {
    let mut record = record.clone();
    answer(&mut record, question, reply);
    record
}

fn answer(record: &mut Record, question: QuestionId, reply: Reply) {
    let given = record.given.last().map_or(0, |given| given.order);
    let done = record.done.last().map_or(0, |(_, order)| *order);
    let order = given.max(done) + 1;
    record.given.push(Given { question, reply, typed: String::new(), bare_in: None, order });
}
