//! What a reading that nobody has taken yet could decide.

use super::finding::FindingState;
use super::record::{Given, Reach, Record, Reply};
use super::worksheet::Worksheet;
use crate::handbook::{FindingId, QuestionId};

/// How many plausible readings are tried, evenly in the logarithm over what is usual (limit of
/// ours).
const TRIED: u32 = 8;

/// The share of plausible readings with which a finding comes out one way or the other, in spite
/// of the doubt of the instrument. 1 where no single reading is missing, or nothing is known of
/// what is usual.
pub(super) fn share_decided(sheet: &Worksheet<'_>, finding: FindingId) -> f64 {
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
    let mut record = record.clone();
    let order = record.given.last().map_or(1, |given| given.order + 1);
    let reply = Reply::Quantity { si, half_width: None, reach: Reach::Exact };
    record.given.push(Given { question, reply, typed: String::new(), order });
    record
}
