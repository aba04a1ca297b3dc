//! The reading of a rise in sentences: what it is, how sure, what it is not, what to do next.

use super::Asked;
use super::few::few_told;
use super::judged::judged;
use super::odd::{odd_judged, odd_mend, odd_told};
use super::sizes::{ShownIn, minutes, throughput, with_range};
use super::stood::{after_standing, rose_then_stood, stood_told, whole_rise};
use crate::evidence::wording::in_words;
use crate::physics::leak::hole_diameter;
use crate::rise::{Hold, Missing, More, Reading, Verdict};
use crate::text::{Line, capital, count};

/// What a hold says, as lines of a result.
#[must_use]
pub fn rise_told(hold: &Hold, asked: &Asked, reading: &Reading) -> Vec<Line> {
    let limit = asked.criterion.as_ref().map(|limit| judged(hold, limit, &asked.shown));
    let mut lines = limit.unwrap_or_default();
    lines.extend([Line::strong("Reading of the rise"), what_was_read(reading, &asked.shown)]);
    lines.extend(coarse(hold, reading, &asked.shown));
    lines.extend(corrected(hold, &asked.shown));
    lines.extend(verdict(hold, reading, &asked.shown));
    lines.extend(parts(hold, reading, &asked.shown));
    lines.extend(saturation(reading));
    lines.extend(inflow(reading));
    let lost = asked.at_work.zip(reading.throughput);
    lines.extend(lost.map(|(at_work, through)| at_work.told(through)));
    lines.extend(next(hold, reading, &asked.shown));
    lines
}

/// Why the parts of a rise can't be told, what its criterion says all the same, and what to do.
#[must_use]
pub fn missing_told(hold: &Hold, asked: &Asked, why: &Missing) -> Vec<Line> {
    let mut lines = Vec::new();
    if let Some(limit) = &asked.criterion {
        lines.extend(judged(hold, limit, &asked.shown));
        lines.extend(odd_judged(why));
    }
    lines.push(Line::strong("Reading of the rise"));
    lines.push(Line::plain(format!("Cannot tell: {}.", in_the_trade(why, &asked.shown))));
    match rose_then_stood(hold) {
        true => lines.push(Line::plain(stood_told(hold, &asked.shown))),
        false => lines.extend(few_told(hold, why, &asked.shown)),
    }
    lines.push(Line::strong("What to do next"));
    if let Some(mend) = odd_mend(why, &asked.shown) {
        lines.push(Line::plain(mend));
        return lines;
    }
    lines.push(Line::plain(match why {
        Missing::Readings { .. } | Missing::Time { .. } => {
            "Go on reading, every minute or two, and keep the times as they are."
        }
        Missing::Falling { .. } => {
            "Shut the valve at the system, let gauge and temperature settle, and read again."
        }
        Missing::Numbers
        | Missing::Order
        | Missing::RateThatMatters
        | Missing::Temperature
        | Missing::Odd { .. } => "Mend the readings, and ask again.",
    }));
    lines
}

/// What is missing, in the units of the trade.
fn in_the_trade(why: &Missing, shown: &ShownIn) -> String {
    match why {
        Missing::Falling { fall } => format!(
            "the pressure falls by about {}; the pump still draws, a valve passes, the system cools, or \
             the gauge drifts",
            shown.pressure(*fall)
        ),
        Missing::Time { found, needed } => format!(
            "the hold has lasted {}, and its first {} belong to equalising",
            minutes(*found),
            minutes(*needed)
        ),
        Missing::Odd { number, time, pressure, before } => {
            odd_told(*number, *time, (*pressure, *before), shown)
        }
        other => other.to_string(),
    }
}

fn what_was_read(reading: &Reading, shown: &ShownIn) -> Line {
    let step = if reading.resolution > 0.0 {
        format!(", shown in steps of {}", shown.pressure(reading.resolution))
    } else {
        String::new()
    };
    let readings = count(reading.readings, "reading");
    Line::plain(format!("{readings} over {}{step}.", minutes(reading.duration)))
}

/// From this share of the last reading on a step is said to be coarse (`estimate`).
const COARSE: f64 = 0.02;

/// That readings of few digits are taken for what the gauge showed.
fn coarse(hold: &Hold, reading: &Reading, shown: &ShownIn) -> Option<Line> {
    let last = *hold.pressures.last()?;
    (reading.resolution >= COARSE * last).then(|| {
        Line::plain(format!(
            "These are round figures, taken as shown in steps of {}. If the gauge shows more \
             digits, give them all, or its step by --gauge-step: round figures tell less.",
            shown.pressure(reading.resolution)
        ))
    })
}

/// For which change of temperature the parts are corrected.
fn corrected(hold: &Hold, shown: &ShownIn) -> Option<Line> {
    let around = &hold.surroundings;
    let way = if around.warmed_by > 0.0 { "warming" } else { "cooling" };
    let (change, doubt) =
        (shown.warming(around.warmed_by.abs()), shown.warming(2.0 * around.drift));
    (around.warmed_by != 0.0).then(|| {
        Line::plain(format!(
            "Corrected for {way} by {change} (19 in 20: within {doubt}): all as a dry gas answers, \
             and what levelled off as water does."
        ))
    })
}

/// The verdict with its probability, and what it doesn't say.
fn verdict(hold: &Hold, reading: &Reading, shown: &ShownIn) -> Vec<Line> {
    let matters = shown.rise(hold.rate_that_matters);
    let (steady, none) = (in_words(reading.straight), in_words(1.0 - reading.straight));
    let not_a_leak_yet = not_a_leak_yet(reading);
    match reading.verdict {
        Verdict::Straight => vec![
            Line::strong(format!("Straight. A steady rise above {matters}: {steady}.")),
            Line::plain(not_a_leak_yet),
        ],
        Verdict::Both => vec![
            Line::strong(format!(
                "Both. A steady rise above {matters}, under one that levels off: {steady}."
            )),
            Line::plain(not_a_leak_yet),
        ],
        Verdict::Levelling => vec![
            Line::strong(format!("Levelling off. No steady rise above {matters}: {none}.")),
            Line::plain(
                "Moisture rises so, and refrigerant that leaves oil. It is no proof that the system \
                 is tight: a smaller leak may be there as well.",
            ),
        ],
        Verdict::Quiet if rose_then_stood(hold) => vec![
            Line::strong(format!(
                "Levelling off, as far as it was read. No steady rise above {matters}: {none}."
            )),
            Line::plain(stood_told(hold, shown)),
        ],
        Verdict::Quiet => {
            vec![Line::strong(format!("Quiet. No steady rise above {matters}: {none}."))]
        }
        Verdict::CannotTell if reading.levelling.probability >= 0.9 => {
            vec![Line::strong(format!(
                "It levels off; whether it also rises steadily, these readings can't tell. A \
                 steady rise above {matters}: {steady}."
            ))]
        }
        Verdict::CannotTell => {
            vec![Line::strong(format!("Cannot tell. A steady rise above {matters}: {steady}."))]
        }
    }
}

/// What rises like a leak too, as far as the readings tell how slowly it must dry up.
fn not_a_leak_yet(reading: &Reading) -> String {
    let so = if reading.slowest_told >= 60.0 {
        format!("what dries up more slowly than within about {}", minutes(reading.slowest_told))
    } else {
        "whatever dries up inside".to_owned()
    };
    format!(
        "A leak rises so, and so does {so}: these readings can't tell the two apart. One hold \
         alone proves no leak."
    )
}

/// The parts with their numbers.
fn parts(hold: &Hold, reading: &Reading, shown: &ShownIn) -> Vec<Line> {
    let mut lines = vec![Line::strong("What is in it")];
    lines.push(Line::plain(if reading.rate.low > 0.0 {
        let vapour = if hold.gauge.response.most_over_read() > 1.0 {
            " The low end is that of water vapour, which a heat-loss gauge may read twofold."
        } else {
            ""
        };
        format!("- Steady: {}.{vapour}", with_range(reading.rate, |si| shown.rise(si)))
    } else {
        let most = shown.rise(reading.rate_limit);
        format!("- Steady: none for certain; no more than {most} (19 in 20).")
    }));
    if reading.verdict == Verdict::Quiet && rose_then_stood(hold) {
        let whole = shown.pressure(whole_rise(hold).unwrap_or(0.0));
        lines.push(Line::plain(format!(
            "- Levelling off, or evening out at once: {whole}. Nobody read it while it rose, so the \
             two can't be told apart."
        )));
        return lines;
    }
    let levelling = &reading.levelling;
    let sure = in_words(levelling.probability);
    lines.push(Line::plain(if levelling.probability >= 0.5 {
        let height = with_range(levelling.height, |si| shown.pressure(si));
        let level = with_range(levelling.level, |si| shown.pressure(si));
        let alone = if reading.rate.value > 0.0 {
            ", without the steady part"
        } else {
            ", without what may be steady"
        };
        format!("- Levelling off: {sure}. It rose {height}, and heads for {level}{alone}.")
    } else {
        format!("- Levelling off: {sure}.")
    }));
    if reading.step > reading.resolution {
        let step = shown.pressure(reading.step);
        lines.push(Line::plain(format!("- A step at first, {step}: equalising, or trapped air.")));
    }
    lines
}

/// The level against that of water at the coldest spot.
fn saturation(reading: &Reading) -> Option<Line> {
    // Of a part that is hardly there the level says nothing.
    let over =
        reading.levelling.over_saturation.filter(|_| reading.levelling.probability >= 0.5)?;
    Some(Line::plain(if over.low > 1.0 {
        "- Its level lies above that of water at the coldest spot: water alone can't do that."
    } else if over.high >= 1.0 {
        "- Its level may be that of water at the coldest spot: liquid water or ice may lie there. \
         Warm that spot and see whether the level moves."
    } else {
        "- Its level lies below that of water at the coldest spot."
    }))
}

fn inflow(reading: &Reading) -> Option<Line> {
    let through = reading.throughput?;
    let most = throughput(through.limit);
    let hole = super::sizes::micrometres(hole_diameter(through.limit.max(0.0)));
    Some(Line::plain(if through.load.low > 0.0 {
        let load = with_range(through.load, throughput);
        format!("- Let in steadily: {load}. No hole of air wider than {hole}.")
    } else {
        format!("- Hardly a leak larger than {most}, as a hole {hole} (19 in 20).")
    }))
}

/// How much longer to wait, in whole minutes.
fn wait(more: More) -> String {
    let whole = |seconds: f64| (seconds / 60.0).ceil().max(1.0) * 60.0;
    let soonest = whole(more.soonest);
    match more.latest.map(whole) {
        Some(latest) if latest > soonest => format!(
            "go on reading: {} to {} more are likely to tell.",
            minutes(soonest),
            minutes(latest)
        ),
        Some(_) => format!("go on reading: about {} more are likely to tell.", minutes(soonest)),
        None => format!(
            "go on reading: {} more may tell. If not, waiting won't: pump for longer first, or use \
             a finer gauge.",
            minutes(soonest)
        ),
    }
}

/// Whether the whole rise stays below a third of what matters over the time of the hold
/// (`estimate`): then its shape is of no consequence.
fn rose_little(hold: &Hold, reading: &Reading) -> bool {
    whole_rise(hold).is_some_and(|rise| rise < 0.3 * hold.rate_that_matters * reading.duration)
}

fn next(hold: &Hold, reading: &Reading, shown: &ShownIn) -> Vec<Line> {
    let said = match (reading.verdict, reading.wait_more) {
        (Verdict::Straight | Verdict::Both, _) => {
            "pump for longer and hold again from the same pressure. A leak rises as before, a slow \
             source has become slower. Then hold the rig by itself, and search the joints."
                .to_owned()
        }
        (Verdict::Levelling, _) if rose_little(hold, reading) => {
            "it rose by too little to chase. Hold it against the written limit.".to_owned()
        }
        (Verdict::Levelling, _) => {
            "pump on, warm the coldest parts or sweep with dry nitrogen, and hold again: moisture \
             rises less each time."
                .to_owned()
        }
        (Verdict::Quiet, _) => after_standing(hold, reading, shown)
            .unwrap_or_else(|| "nothing to chase in this hold.".to_owned()),
        (Verdict::CannotTell, Some(more)) => wait(more),
        (Verdict::CannotTell, None) => {
            "waiting alone is not likely to tell. Pump for longer first, or use a finer \
             gauge."
                .to_owned()
        }
    };
    vec![Line::strong("What to do next"), Line::plain(capital(&said))]
}
