//! What a reading that nobody has taken yet could decide.

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

/// The share of plausible readings with which a finding comes out one way or the other, in spite
/// of the doubt of the instrument. 1 where no single reading is missing, or nothing is known of
/// what is usual. `open` are the questions that would be answered for it.
pub(super) fn share_decided(sheet: &Worksheet<'_>, finding: FindingId, open: &[QuestionId]) -> f64 {
    let handbook = sheet.handbook();
    let under = handbook.questions_under(handbook.finding(finding).symbol);
    let is_hold = |id: &QuestionId| matches!(handbook.question(*id).kind, Kind::Readings(_));
    if open.iter().any(|id| under.contains(id) && is_hold(id)) {
        return HOLDS_TOLD;
    }
    let Some((question, low, high)) = missing_reading(sheet, finding) else { return 1.0 };
    let (mut decided, mut told) = (0_u32, 0_u32);
    for k in 0..TRIED {
        let share = (f64::from(k) + 0.5) / f64::from(TRIED);
        let record = with(sheet.record(), question, low * libm::exp(share * libm::log(high / low)));
        match sheet.over(&record).finding(finding).state {
            FindingState::True(_) | FindingState::False(_) | FindingState::Seen(_) => {
                decided += 1;
                told += 1;
            }
            FindingState::TooClose(_) => told += 1,
            FindingState::NotApplicable(_) | FindingState::Unknown(_) => {}
        }
    }
    if told == 0 { 1.0 } else { f64::from(decided) / f64::from(told) }
}

/// The one reading that is missing, with what is usual for it.
fn missing_reading(sheet: &Worksheet<'_>, finding: FindingId) -> Option<(QuestionId, f64, f64)> {
    let handbook = sheet.handbook();
    let under = handbook.questions_under(handbook.finding(finding).symbol);
    let mut open = under.iter().copied().filter(|question| sheet.is_unanswered(*question));
    let question = open.next()?;
    let asked = handbook.question(question);
    let (low, high) = asked.usual.filter(|_| asked.instrument.is_some() && !asked.is_setting())?;
    (open.next().is_none() && low > 0.0 && high > low).then_some((question, low, high))
}

fn with(record: &Record, question: QuestionId, si: f64) -> Record {
    answered(record, question, Reply::Quantity { si, half_width: None, reach: Reach::Exact })
}

/// A record in which the latest answers of some questions are given once more.
pub(super) fn repeated(record: &Record, questions: &[QuestionId]) -> Record {
    questions.iter().fold(record.clone(), |record, question| {
        let latest = record.answers(*question).last().map(|(_, given)| given.reply.clone());
        latest.map_or_else(|| record.clone(), |reply| answered(&record, *question, reply))
    })
}

/// A record in which one of the choices of a question is answered.
pub(super) fn chosen(record: &Record, question: QuestionId, choice: &str) -> Record {
    answered(record, question, Reply::Choice(choice.to_owned()))
}

fn answered(record: &Record, question: QuestionId, reply: Reply) -> Record {
    let mut record = record.clone();
    let given = record.given.last().map_or(0, |given| given.order);
    let done = record.done.last().map_or(0, |(_, order)| *order);
    let order = given.max(done) + 1;
    record.given.push(Given { question, reply, typed: String::new(), bare_in: None, order });
    record
}
