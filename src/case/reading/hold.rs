//! The readings of a hold as an answer.

use super::two_ends::{is_two_numbers, two_ends, with_hours_in_figures};
use super::{Misunderstood, ReadAnswer, default_unit, expected, refuse};
use crate::diagnostic::Code;
use crate::evidence::Reply;
use crate::formula::{Draws, HoldGauge, HoldReadings, Kind};
use crate::handbook::Question;
use crate::quantity::{
    Expected, QuantityKind, Slip, UnitExpression, likely_slip, read_typed, show_rounded,
};
use crate::series::{
    Given, LineTime, LiveReading, LogFault, Readings, Remark, interval_alone, is_untimed_list,
    read_line, read_pasted,
};
use crate::text::count;

/// The longest readings that an answer may hold, in bytes: a log thinned to what is kept of it.
const LONGEST_READINGS: usize = 400_000;

const NO_TIMES: &str =
    "no readings with their times were found; type them such as `0 min 400, 5 min 430`";

/// The name of the log that an answer to a question of readings stands for: `@hold.csv`. Whoever
/// can open files gives its text as the answer.
#[must_use]
pub fn named_log<'t>(question: &Question, typed: &'t str) -> Option<&'t str> {
    let takes_readings = matches!(question.kind, Kind::Readings(_));
    typed.trim().strip_prefix('@').map(str::trim).filter(|_| takes_readings)
}

/// Reads them as they are dictated, or as a whole log.
pub(super) fn read_hold(
    question: &Question,
    kind: QuantityKind,
    face: Option<&UnitExpression>,
    text: &str,
) -> Result<ReadAnswer, Misunderstood> {
    if text.is_empty() {
        return Err(refuse("nothing was typed; type readings such as `0 min 400, 5 min 430`"));
    }
    if text.len() > LONGEST_READINGS {
        let length = text.len();
        return Err(refuse(format!("{length} bytes are too long; at most {LONGEST_READINGS} fit")));
    }
    let expected = expected(question, kind, face)?;
    let unit = &expected.unit;
    let figures = with_hours_in_figures(text);
    let told = two_ends(&figures);
    let text = told.as_deref().unwrap_or(&figures);
    let readings =
        read_pasted(text, &bare_in(unit)).map_err(|fault| match text.contains('\n') {
            true => refuse(fault.to_string()),
            false => refuse(in_one_line(text, &fault, unit)),
        })?;
    if let Some(row) = misread(text, &readings) {
        return Err(refuse(format!(
            "`{row}` is no reading, and nothing is taken; type the line again, such as `0 min 400, 5 \
             min 430 {}`",
            unit.symbol
        )));
    }
    let slip = odd_one(&readings, &expected)?.or_else(|| contradiction(&readings, &expected));
    let reply = Reply::Readings {
        times: readings.times().to_vec(),
        pressures: readings.pressures().to_vec(),
        resolution: readings.resolution(),
    };
    let echo = echo(&readings, unit, kind)?;
    let bare_in = is_bare(text, &readings, unit).then(|| unit.symbol.clone());
    Ok(ReadAnswer { reply, echo, bare_in, slip })
}

/// The first part of a typed line that could not be used. In a log such a row is left out; who types
/// one line means all of it, and without a part of it the clock of the others may be another one.
fn misread<'r>(text: &str, readings: &'r Readings) -> Option<&'r str> {
    let mut notes = readings.notes().kept().iter().filter(|_| !text.trim().contains('\n'));
    let is_lost = |remark: Remark| remark.is_left_out() && remark != Remark::Repeated;
    notes.find(|note| is_lost(note.remark)).map(|note| note.row.trim())
}

/// Why a line can't be read: somebody who types one thinks of no log and of no heading.
fn in_one_line(text: &str, fault: &LogFault, unit: &UnitExpression) -> String {
    if interval_alone(text).is_some() {
        let (unit, interval) = (&unit.symbol, text.trim());
        return format!(
            "`{interval}` has no readings before it; type them too: `300, 420, 510 {unit} {interval}`"
        );
    }
    let is_about_columns =
        matches!(fault.code, Code::LogColumns | Code::LogUnit | Code::LogTooShort);
    if is_two_numbers(text) {
        let unit = &unit.symbol;
        return format!(
            "how long after the first was the second one read? Type both with that time: \
             `320 to 345 {unit} in 30 min`"
        );
    }
    if is_about_columns && !is_untimed_list(text) {
        return NO_TIMES.to_owned();
    }
    let told = fault.to_string();
    told.strip_prefix("line 1: ").map_or_else(|| told.clone(), str::to_owned)
}

fn bare_in(unit: &UnitExpression) -> Given {
    Given { pressure_unit: Some(unit.clone()), ..Given::default() }
}

/// Whether readings name no unit of their own: then they are others in another unit.
fn is_bare(text: &str, readings: &Readings, unit: &UnitExpression) -> bool {
    let other = UnitExpression { factor: 2.0 * unit.factor, ..unit.clone() };
    let again = read_pasted(text, &bare_in(&other));
    again.is_ok_and(|again| again.highest().pressure_pa != readings.highest().pressure_pa)
}

/// Reads one reading of many, typed while the hold runs: `420`, `5 min 420 micron`, `OL`; with
/// what is odd about it.
///
/// # Errors
/// [`Misunderstood`] says what was typed and what is accepted.
pub fn read_reading(
    question: &Question,
    face: Option<&UnitExpression>,
    typed: &str,
) -> Result<(LiveReading, Option<Slip>), Misunderstood> {
    let Kind::Readings(kind) = question.kind else {
        return Err(refuse("this question takes no readings"));
    };
    let expected = expected(question, kind, face)?;
    let unit = &expected.unit;
    let live = read_line(&with_hours_in_figures(typed), unit).map_err(refuse)?;
    let Ok(pressure) = live.pressure else { return Ok((live, None)) };
    let shown = show_rounded(pressure, Some(1e-4 * pressure).filter(|p| *p > 0.0), unit, kind);
    let read = read_typed(&shown, &expected).map_err(|misread| refuse(misread.to_string()))?;
    let slip = likely_slip(&read, &expected);
    // What was meant is typed without a time.
    let keeps_its_time = live.time == LineTime::Now;
    let slip =
        slip.map(|slip| Slip { suggestion: slip.suggestion.filter(|_| keeps_its_time), ..slip });
    Ok((live, slip))
}

/// What is odd about the lowest or the highest of them.
fn odd_one(readings: &Readings, expected: &Expected) -> Result<Option<Slip>, Misunderstood> {
    for end in [readings.lowest(), readings.highest()] {
        let shown = shown(end.pressure_pa, readings, &expected.unit, expected.kind);
        let typed = read_typed(&shown, expected)
            .map_err(|misread| refuse(format!("one of the readings: {misread}")))?;
        if let Some(slip) = likely_slip(&typed, expected) {
            // What was meant by one reading is no answer for all of them.
            return Ok(Some(Slip { suggestion: None, ..slip }));
        }
    }
    Ok(None)
}

/// A reading that contradicts those beside it, though it is usual by itself.
fn contradiction(readings: &Readings, expected: &Expected) -> Option<Slip> {
    let (times, pressures) = (readings.times().to_vec(), readings.pressures().to_vec());
    let gauge = HoldGauge {
        scale: Draws::Same(0.0),
        offset: Draws::Same(0.0),
        resolution: readings.resolution().unwrap_or(0.0),
        repeats: None,
    };
    let place = HoldReadings::new(String::new(), times, pressures, gauge).contradicted()?;
    let told = |place: usize| {
        let pressure = readings.pressures().get(place).copied().unwrap_or(f64::NAN);
        shown(pressure, readings, &expected.unit, expected.kind)
    };
    let before = place.checked_sub(1).map(|before| format!(" after {}", told(before)));
    let message = format!(
        "reading {}, {}{}, contradicts those beside it",
        place + 1,
        told(place),
        before.unwrap_or_default()
    );
    Some(Slip { message, suggestion: None })
}

/// `6 readings over 25 min, 420 micron to 520 micron`, and what was noticed.
fn echo(
    readings: &Readings,
    unit: &UnitExpression,
    kind: QuantityKind,
) -> Result<String, Misunderstood> {
    let time = QuantityKind::TIME;
    let minutes = default_unit(time).ok_or_else(|| refuse("a time has no unit"))?;
    let over = show_rounded(readings.duration(), Some(6.0), &minutes, time);
    let [first, last] = [readings.first(), readings.last()]
        .map(|reading| shown(reading.pressure_pa, readings, unit, kind));
    let number = count(readings.len(), "reading");
    let mut echo = format!("{number} over {over}, {first} to {last}");
    for note in readings.notes().lines() {
        echo.push_str("; ");
        echo.push_str(&note);
    }
    Ok(echo)
}

/// A pressure with the digits that the gauge shows.
fn shown(si: f64, readings: &Readings, unit: &UnitExpression, kind: QuantityKind) -> String {
    let step = readings.resolution().unwrap_or(1e-4 * si.abs());
    show_rounded(si, Some(step).filter(|step| *step > 0.0), unit, kind)
}
