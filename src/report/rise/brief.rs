//! What a hold says, in a sentence or two, while it goes on.

use super::odd::odd_told;
use super::sizes::{ShownIn, lasting, minutes};
use super::stood::rose_then_stood;
use super::{Asked, Judged};
use crate::evidence::wording::in_words;
use crate::rise::criterion::Judgement;
use crate::rise::{Hold, Missing, Reading, Verdict};
use crate::text::count;

/// One line: `12 readings, 11 min: cannot tell yet; about 8 min more are likely to tell`.
///
/// `has_stood` says whether the answer has stood for long enough to be enough.
#[must_use]
pub fn rise_brief(
    hold: &Hold,
    asked: &Asked,
    read: Result<&Reading, &Missing>,
    has_stood: bool,
) -> String {
    let duration = match (hold.times.first(), hold.times.last()) {
        (Some(first), Some(last)) => last - first,
        _ => 0.0,
    };
    let readings = count(hold.times.len(), "reading");
    let said = match read {
        Ok(reading) => told(hold, reading, has_stood, &asked.shown),
        Err(why) => missing(why, &asked.shown),
    };
    let limit =
        asked.criterion.as_ref().map(|judged| criterion(judged, &asked.shown)).unwrap_or_default();
    format!("{readings}, {}: {said}{limit}", lasting(duration))
}

fn told(hold: &Hold, reading: &Reading, has_stood: bool, shown: &ShownIn) -> String {
    let matters = shown.rise(hold.rate_that_matters);
    let sure = in_words(reading.straight.max(1.0 - reading.straight));
    let rate = shown.rise(reading.rate.value);
    let level = shown.pressure(reading.levelling.level.value);
    let said = match reading.verdict {
        Verdict::CannotTell => return cannot_tell(reading),
        Verdict::Straight => format!("straight, {rate}; above {matters}: {sure}"),
        Verdict::Both => format!("straight, {rate}, and levelling off; above {matters}: {sure}"),
        Verdict::Levelling => {
            format!("levelling off toward {level}; no steady rise above {matters}: {sure}")
        }
        Verdict::Quiet if rose_then_stood(hold) => {
            format!("rose and stands; no steady rise above {matters}: {sure}")
        }
        Verdict::Quiet => format!("quiet; no steady rise above {matters}: {sure}"),
    };
    let standing = if has_stood { "this is enough" } else { "read on to be sure" };
    format!("{said}; {standing}")
}

fn cannot_tell(reading: &Reading) -> String {
    let Some(more) = reading.wait_more else {
        return "cannot tell, and waiting alone is not likely to".to_owned();
    };
    let whole = |seconds: f64| (seconds / 60.0).ceil().max(1.0) * 60.0;
    let soonest = whole(more.soonest);
    match more.latest.map(whole) {
        Some(latest) if latest > soonest => format!(
            "cannot tell yet; {} to {} more are likely to tell",
            minutes(soonest),
            minutes(latest)
        ),
        Some(_) => format!("cannot tell yet; about {} more are likely to tell", minutes(soonest)),
        None => format!("cannot tell yet; {} more may tell", minutes(soonest)),
    }
}

fn missing(why: &Missing, shown: &ShownIn) -> String {
    match why {
        Missing::Falling { fall } => {
            format!("falling by {}; is the valve at the system shut?", shown.pressure(*fall))
        }
        Missing::Readings { .. } => {
            format!("too early to tell, {} readings are needed", Missing::FEWEST)
        }
        Missing::Time { needed, .. } => {
            format!("too early to tell, the first {} belong to equalising", minutes(*needed))
        }
        Missing::Odd { number, time, pressure, before } => {
            let told = odd_told(*number, *time, (*pressure, *before), shown);
            format!("{told}; correct it or leave it out")
        }
        other => other.to_string(),
    }
}

fn criterion(asked: &Judged, shown: &ShownIn) -> String {
    let limit = shown.pressure(asked.criterion.limit);
    let said = match asked.judgement {
        Judgement::Pass => "passed",
        Judgement::Fail => "failed",
        Judgement::TooClose => "too close for this gauge",
        Judgement::TooShort => "below it so far",
    };
    format!("; limit {limit}: {said}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rise::criterion::Criterion;
    use crate::rise::{Gauge, read};

    const MICRON: f64 = 0.133_322_387_415;

    fn brief(minutes: u32, at: impl Fn(f64) -> f64, has_stood: bool) -> String {
        let times: Vec<f64> = (0..=minutes).map(|minute| 60.0 * f64::from(minute)).collect();
        let pressures = times.iter().map(|t| at(t / 60.0).round() * MICRON).collect();
        let gauge = Gauge { resolution: Some(MICRON), ..Gauge::default() };
        let hold = Hold::new(times, pressures, gauge, 5.0 * MICRON / 60.0);
        let criterion = Criterion { limit: 1000.0 * MICRON, within: 3600.0 };
        let judgement = criterion.judge(&hold, MICRON);
        let read = read(&hold);
        let judged = Judged { criterion, judgement, source: None };
        let asked = Asked { criterion: Some(judged), ..Asked::default() };
        rise_brief(&hold, &asked, read.as_ref(), has_stood)
    }

    #[test]
    fn a_line_says_how_it_stands() {
        assert_eq!(
            brief(2, |t| 300.0 + t, false),
            "3 readings, 2 min: too early to tell, 5 readings are needed; limit 1000 micron: below \
             it so far"
        );
        let leak = brief(30, |t| 300.0 + 40.0 * t, true);
        assert!(leak.starts_with("31 readings, 30 min: straight, "), "{leak}");
        assert!(leak.ends_with("; this is enough; limit 1000 micron: failed"), "{leak}");
        let damp = brief(30, |t| 300.0 - 200.0 * libm::expm1(-t / 6.0), false);
        assert!(damp.contains(": levelling off toward 5") && damp.contains("read on"), "{damp}");
        let early = brief(4, |t| 300.0 + 6.0 * t, false);
        assert!(early.contains("cannot tell yet; "), "{early}");
        let falling = brief(20, |t| 300.0 - 9.0 * t, false);
        assert!(falling.contains("falling by "), "{falling}");
    }
}
