//! Readings as they are dictated on the phone, a block at a time.

use super::at_the_start::without_the_start;
use super::bare_times::pairs;
use super::decimal::Comma;
use super::example::example;
use super::gathering::Gathering;
use super::interval::at_intervals;
use super::pressures::{PressureCell, PressureReader};
use super::thinning::Row;
use super::times::{Clock, TimeFault, TimeReader};
use super::unit_line::without_unit_line;
use super::untimed::{is_untimed_list, one_untimed, untimed};
use super::{Given, LogError, LogFault, Readings, Remark, TimeForm, read_log};
use crate::diagnostic::Code;
use crate::quantity::{Expected, QuantityKind, UnitExpression, parse_unit, read_typed};

/// The longest block that is taken for dictated, in bytes; longer ones are logs.
const LONGEST_BLOCK: usize = 20_000;
/// The most words of a time: `1 h 30 min`.
const TIME_WORDS: usize = 4;

/// Reads a block: lines as for [`read_line`](super::read_line), each with its time; pressures at an interval told
/// in words (`300, 420, 510 micron every 5 min`); or a whole log.
///
/// A pressure without a unit has the one of the others, or the one that is given. Pairs of bare
/// numbers (`0 420, 5 455, 10 480 micron`) that rise as the minutes of a hold are taken so, which
/// [`Remark::TakenAsMinutes`] tells.
///
/// # Errors
/// A [`LogFault`], whose display is short enough for a conversation.
pub fn read_pasted(text: &str, given: &Given) -> Result<Readings, LogFault> {
    let text = text.trim_start_matches('\u{feff}');
    if text.len() <= LONGEST_BLOCK {
        if let Some((pressures, interval)) = at_intervals(text) {
            let lines = pressures.iter().enumerate().map(|(i, pressure)| {
                (
                    1,
                    Dictated {
                        time: Some(format!("{} s", i as f64 * interval)),
                        pressure: pressure.clone(),
                    },
                )
            });
            return gather(&lines.collect::<Vec<_>>(), given);
        }
        let parts = parts(text);
        if let Some(read) = dictated(&parts, given, false) {
            return read;
        }
        if let Some((unit, others)) = without_unit_line(&parts) {
            let given = Given { pressure_unit: Some(unit), ..given.clone() };
            if let Some(read) = dictated(&others, &given, true) {
                return read;
            }
        }
        if is_untimed_list(text) {
            return Err(untimed(text));
        }
        if let Some(fault) = one_untimed(text, &parts) {
            return Err(fault);
        }
    }
    read_log(text.as_bytes(), given).map_err(|error| match error {
        LogError::Fault(fault) => fault,
        LogError::Reader(error) => LogFault::new(Code::Unreadable, error.to_string()),
    })
}

/// The readings where every part is dictated with its time, or all are pairs; none where not.
fn dictated(
    parts: &[(u64, &str)],
    given: &Given,
    is_unit_said: bool,
) -> Option<Result<Readings, LogFault>> {
    if let Some(lines) = dictated_lines(parts) {
        return Some(gather(&lines, given));
    }
    let pairs = pairs(parts, given.time_unit.as_ref(), is_unit_said)?;
    let (line, first) = (parts[0].0, parts[0].1.trim().as_bytes());
    let has_unit = |(_, dictated): &(u64, Dictated)| unit_of(&dictated.pressure).is_some();
    if given.pressure_unit.is_none() && !pairs.lines.iter().any(has_unit) {
        return Some(Err(unit_missing(line, first, given)));
    }
    let read = gather(&pairs.lines, given);
    Some(read.map(|mut readings| {
        if pairs.are_assumed {
            readings.notes.add(line, first, Remark::TakenAsMinutes);
        }
        readings
    }))
}

/// A time and a pressure in words.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Dictated {
    pub(super) time: Option<String>,
    pub(super) pressure: String,
}

impl Dictated {
    /// `5 min 420 micron`, `10:05 - 420`, `420 micron after 5 min`; none without a time.
    pub(super) fn of(text: &str) -> Option<Self> {
        let plain = plain(text);
        if let Some(pressure) = without_the_start(&plain) {
            return Some(Self { time: Some("0 s".to_owned()), pressure: pressure.to_owned() });
        }
        for word in [" at ", " after ", " @ "] {
            if let Some((pressure, time)) = plain.split_once(word)
                && (is_time(time.trim()) || time.trim() == "0")
            {
                // Nought needs no unit.
                let time = if time.trim() == "0" { "0 s" } else { time.trim() };
                let (time, pressure) = (Some(time.to_owned()), pressure.trim().to_owned());
                return Some(Self { time, pressure });
            }
        }
        let words: Vec<&str> = plain.split(' ').collect();
        let most = TIME_WORDS.min(words.len().saturating_sub(1));
        (1..=most).rev().find_map(|count| {
            let (time, pressure) = (words[..count].join(" "), words[count..].join(" "));
            is_time(&time).then_some(Self { time: Some(time), pressure })
        })
    }
}

/// The line without what speech puts between its words.
pub(super) fn plain(text: &str) -> String {
    let words = text.split_whitespace().flat_map(|word| word.split('='));
    let kept =
        words.map(|word| word.trim_end_matches([':', ',', ';'])).filter(|word| !word.is_empty());
    let mut words: Vec<&str> =
        kept.filter(|word| !matches!(*word, "-" | "–" | "→" | "->")).collect();
    while words.len() > 1 && is_filler(words[0]) {
        words.remove(0);
    }
    words.join(" ")
}

fn is_filler(word: &str) -> bool {
    ["at", "after", "then", "and", "now", "t", "*", "•"]
        .iter()
        .any(|w| w.eq_ignore_ascii_case(word))
}

fn is_time(text: &str) -> bool {
    Clock::read(text).is_some() || seconds(text).is_some()
}

/// A time with its unit, in s; `min`, also without a blank.
pub(super) fn seconds(text: &str) -> Option<f64> {
    if !text.ends_with(|c: char| c.is_alphabetic() || c == '.') || text.len() > 40 {
        return None;
    }
    let expected = Expected::new(QuantityKind::TIME, parse_unit("s").ok()?);
    let typed = read_typed(text, &expected).ok()?;
    (typed.bound == crate::quantity::Bound::Exact).then_some(typed.value)
}

/// Every line, or every part behind a comma and a blank.
fn parts(text: &str) -> Vec<(u64, &str)> {
    let lines = (1..).zip(text.lines());
    let parts = lines.flat_map(|(number, line)| {
        line.split(';').flat_map(|part| part.split(", ")).map(move |part| (number, part))
    });
    parts.filter(|(_, part)| !part.trim().is_empty()).collect()
}

/// All parts, if every one is dictated with its time.
fn dictated_lines(parts: &[(u64, &str)]) -> Option<Vec<(u64, Dictated)>> {
    let dictated = parts.iter().map(|(line, part)| Some((*line, Dictated::of(part)?)));
    dictated.collect::<Option<Vec<_>>>().filter(|lines| !lines.is_empty())
}

/// Readings of dictated lines.
fn gather(lines: &[(u64, Dictated)], given: &Given) -> Result<Readings, LogFault> {
    let unit = given.pressure_unit.clone().or_else(|| common_unit(lines));
    let reader = PressureReader::new(unit.clone());
    let form = given.time_unit.clone().filter(|form| !matches!(form, TimeForm::Unit(_)));
    let mut times = TimeReader::new(form, false)
        .ok_or_else(|| LogFault::new(Code::LogUnit, "times have no unit"))?;
    let mut gathering = Gathering::new();
    for (line, dictated) in lines {
        let said = format!("{} {}", dictated.time.as_deref().unwrap_or(""), dictated.pressure);
        let row = said.trim().as_bytes();
        let time = dictated.time.as_deref().unwrap_or("");
        let time = match times.read(None, time.as_bytes(), Comma::Unsettled) {
            Ok((time, remark)) => {
                if let Some(remark) = remark {
                    gathering.notes.add(*line, row, remark);
                }
                time
            }
            Err(TimeFault::Row(remark)) => {
                gathering.notes.add(*line, row, remark);
                continue;
            }
            Err(TimeFault::NoUnit) => return Err(unit_missing(*line, row, given)),
        };
        let number = first_number(&dictated.pressure, unit.as_ref());
        match reader.read(number.as_bytes(), Comma::Unsettled) {
            PressureCell::Value(pressure, shown) => {
                gathering.is_sorted_in = times.is_stamped();
                let reading = Row { time, pressure, line: *line };
                gathering.add(reading, shown, row).map_err(|_| {
                    LogFault::new(Code::LogTimeBack, "the elapsed time goes back").at(
                        *line,
                        row,
                        b"",
                        "earlier than the reading before",
                    )
                })?;
            }
            PressureCell::Beyond(beyond, limit) => gathering.mark(time, beyond, limit),
            PressureCell::Unusable(remark) => gathering.notes.add(*line, row, remark),
            PressureCell::NoUnit => return Err(unit_missing(*line, row, given)),
        }
    }
    finish(gathering, &times, unit)
}

fn finish(
    gathering: Gathering,
    times: &TimeReader,
    unit: Option<UnitExpression>,
) -> Result<Readings, LogFault> {
    let factor = unit.as_ref().map(|unit| unit.factor);
    let found = gathering.finish_with_steps(|steps| Some(steps.found()? * factor?));
    match found.filter(|(readings, _)| readings.rows() > 1) {
        Some((mut readings, origin)) => {
            readings.unit = unit;
            readings.start = times.start(origin);
            Ok(readings)
        }
        None => Err(LogFault::new(Code::LogTooShort, "fewer than two readings")
            .help("give a time and a pressure for each, such as `5 min 420 micron`")),
    }
}

fn unit_missing(line: u64, row: &[u8], given: &Given) -> LogFault {
    LogFault::new(Code::LogUnit, "the pressure has no unit")
        .at(line, row, b"", "a bare number")
        .help(format!("say it once, such as `{}`", example(given.shown_in.as_ref())))
}

/// The one unit that is said in the block.
fn common_unit(lines: &[(u64, Dictated)]) -> Option<UnitExpression> {
    let mut units = lines.iter().filter_map(|(_, dictated)| unit_of(&dictated.pressure));
    let first = units.next()?;
    let is_usable = first.kind.fits(QuantityKind::PRESSURE) && first.symbol != "inHg";
    (is_usable && units.all(|unit| unit == first)).then_some(first)
}

fn unit_of(pressure: &str) -> Option<UnitExpression> {
    let at = pressure.find(|c: char| c.is_alphabetic() || c == '"')?;
    crate::quantity::parse_prompt_unit(&pressure[at..], QuantityKind::PRESSURE).ok()
}

/// The bare number of a pressure in the block's own unit, so that its displayed step counts.
pub(super) fn first_number<'a>(pressure: &'a str, unit: Option<&UnitExpression>) -> &'a str {
    let number = pressure.split_whitespace().next().unwrap_or("");
    let is_bare = number.bytes().all(|b| b.is_ascii_digit() || b == b'.') && !number.is_empty();
    if is_bare && unit.is_some() && unit_of(pressure).as_ref() == unit { number } else { pressure }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Readings {
        read_pasted(text, &Given::default()).unwrap_or_else(|fault| panic!("{text}: {fault}"))
    }

    fn microns(readings: &Readings) -> Vec<f64> {
        let micron = parse_unit("micron").unwrap();
        readings.pressures().iter().map(|&p| (micron.from_si(p) * 1e6).round() / 1e6).collect()
    }

    #[test]
    fn six_readings_from_a_phone_call_are_read() {
        for text in [
            "0 min 300\n5 min 420 micron\n10 min 510\n15 min 580\n20 min 640\n25 min 690",
            "300, 420, 510, 580, 640, 690 micron every 5 min",
            "every 5 minutes: 300 420 510 580 640 690 microns",
            "10:05 300\n10:10 420\n10:15 510 micron\n10:20 580\n10:25 640\n10:30 690",
            "0 min: 300 um, 5 min: 420, 10 min: 510, 15 min: 580, 20 min: 640, 25 min: 690",
            "300 at 0, 420 micron at 5 min, 510 at 10 min, 580 at 15 min, 640 at 20 min, 690 at 25 min",
            "300, 420, 510, 580, 640, 690 micron five minutes apart",
            "all in micron\n14:00 300\n14:05 420\n14:10 510\n14:15 580\n14:20 640\n14:25 690",
            "0 300\n5 420\n10 510\n15 580\n20 640\n25 690\nmicron",
            "300 micron at 23:50\n420 at 23:55\n510 at 0:00\n580 at 0:05\n640 at 0:10\n690 at 0:15",
        ] {
            let readings = read(text);
            assert_eq!(readings.times(), [0.0, 300.0, 600.0, 900.0, 1200.0, 1500.0], "{text}");
            assert_eq!(microns(&readings), [300.0, 420.0, 510.0, 580.0, 640.0, 690.0], "{text}");
            let resolution = readings.resolution().unwrap();
            assert!((resolution - 1.33322387415).abs() < 1e-9, "{text}: {resolution}");
        }
    }

    #[test]
    fn pairs_without_a_unit_of_time_are_taken_as_minutes_and_that_is_told() {
        for text in [
            "0 420, 5 455, 10 480, 15 498, 20 511, 25 520 micron",
            "0 420 micron\n5 455\n10 480\n15 498\n20 511\n25 520",
            "0: 420, 5: 455, 10: 480, 15: 498, 20: 511, 25: 520 microns",
        ] {
            let readings = read(text);
            assert_eq!(readings.times(), [0.0, 300.0, 600.0, 900.0, 1200.0, 1500.0], "{text}");
            assert_eq!(microns(&readings), [420.0, 455.0, 480.0, 498.0, 511.0, 520.0], "{text}");
            let told = "no time has a unit: all were taken as minutes (from line 1)";
            assert_eq!(readings.notes().lines(), [told], "{text}");
        }
        let said = read("0 min 420, 5 455, 10 480, 15 498, 20 511, 25 520 micron");
        assert_eq!(said.times()[5], 1500.0);
        assert!(said.notes().lines().is_empty());
    }

    #[test]
    fn a_block_without_any_unit_says_so_shortly() {
        let fault = read_pasted("0 min 300\n5 min 420", &Given::default()).unwrap_err();
        let said = "line 1: the pressure has no unit; say it once, such as `420 micron`";
        assert_eq!(fault.to_string(), said);
    }

    #[test]
    fn a_mark_and_an_odd_line_are_kept_apart_from_readings() {
        let readings = read("0 min 300 micron\n5 min OL\n10 min oops\n15 min 400");
        assert_eq!(readings.len(), 2);
        assert_eq!(readings.marks()[0].time_s, 300.0);
        assert_eq!(readings.notes().left_out(), 1);
    }

    #[test]
    fn thousands_in_a_list_are_not_torn_apart() {
        assert_eq!(
            microns(&read("1,200, 1,300, 1,400 micron every 2 min")),
            [1200.0, 1300.0, 1400.0]
        );
    }

    #[test]
    fn a_pasted_log_is_a_log() {
        assert_eq!(read("time_s,pressure_pa\n0,40\n60,44\n").times(), [0.0, 60.0]);
    }
}
