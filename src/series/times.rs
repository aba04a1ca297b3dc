//! Times as logs write them: numbers, times of day, stamps.

use jiff::Timestamp;
use jiff::civil::{Date, DateTime, Time};

use super::decimal::{Comma, Decimal};
use super::{Remark, Start};
use crate::quantity::{
    Expected, QuantityKind, UnitExpression, parse_prompt_unit, parse_unit, read_typed,
};

const DAY: f64 = 86_400.0;
/// Beyond any time of a log, in s, and small enough that sums of it stay finite.
const MOST_SECONDS: f64 = 1e12;

/// How the numbers of a time column are to be read.
#[derive(Clone, Debug, PartialEq)]
pub enum TimeForm {
    /// Numbers of a unit.
    Unit(UnitExpression),
    /// `05:30` is five and a half minutes.
    MinutesSeconds,
    /// `05:30` is half past five.
    HoursMinutes,
}

impl TimeForm {
    /// Reads a unit of time, or one of `mm:ss`, `hh:mm` and `hh:mm:ss`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        match text.trim().to_ascii_lowercase().as_str() {
            "mm:ss" | "m:ss" | "min:sec" => return Some(Self::MinutesSeconds),
            "hh:mm" | "h:mm" | "hh:mm:ss" | "h:mm:ss" => return Some(Self::HoursMinutes),
            _ => {}
        }
        let unit = parse_prompt_unit(text, QuantityKind::TIME).ok()?;
        (unit.kind == QuantityKind::TIME).then_some(Self::Unit(unit))
    }
}

/// What the first time of a column settles for all.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Sort {
    Elapsed,
    Clock,
    Moment,
    Local,
}

/// Why a time was not taken.
pub(super) enum TimeFault {
    /// The row is left out with this remark.
    Row(Remark),
    /// A bare number, and no unit is known.
    NoUnit,
}

/// Reads one column of times, row after row.
pub(super) struct TimeReader {
    form: Option<TimeForm>,
    /// Whether the heading calls the column an elapsed time.
    is_elapsed: bool,
    sort: Option<Sort>,
    two_parts: Option<TimeForm>,
    days: f64,
    last: Option<f64>,
    seconds: UnitExpression,
}

/// A time of a row, with what is to be said about it.
pub(super) type TimeRead = (f64, Option<Remark>);

impl TimeReader {
    pub fn new(form: Option<TimeForm>, is_elapsed: bool) -> Option<Self> {
        let two_parts = form.clone().filter(|form| !matches!(form, TimeForm::Unit(_)));
        let seconds = parse_unit("s").ok()?;
        Some(Self { form, is_elapsed, sort: None, two_parts, days: 0.0, last: None, seconds })
    }

    /// Whether the times are stamps, which may come in any order.
    pub fn is_stamped(&self) -> bool {
        !matches!(self.sort, None | Some(Sort::Elapsed))
    }

    /// The time of a row in s of the column's own zero.
    pub fn read(
        &mut self,
        date: Option<&[u8]>,
        cell: &[u8],
        comma: Comma,
    ) -> Result<TimeRead, TimeFault> {
        let read = self.read_any(date, cell, comma)?;
        if read.0.abs() > MOST_SECONDS { Err(unreadable()) } else { Ok(read) }
    }

    fn read_any(
        &mut self,
        date: Option<&[u8]>,
        cell: &[u8],
        comma: Comma,
    ) -> Result<TimeRead, TimeFault> {
        if date.is_none()
            && let Some(number) = Decimal::read(cell, comma)
        {
            let Some(TimeForm::Unit(unit)) = &self.form else { return Err(TimeFault::NoUnit) };
            let time = unit.to_si(number.value);
            return self.settled(Sort::Elapsed).map(|()| (time, None));
        }
        let text = std::str::from_utf8(cell).map_err(|_| unreadable())?.trim();
        if text.is_empty() {
            return Err(TimeFault::Row(Remark::TimeMissing));
        }
        if let Some(date) = date {
            let date = std::str::from_utf8(date).ok().and_then(read_date).ok_or_else(unreadable)?;
            return self.local(date, text);
        }
        if let Some((date, time)) = split_stamp(text) {
            return self.stamp(text, date, time);
        }
        if let Some(clock) = Clock::read(text) {
            return self.clock(clock);
        }
        let expected = Expected::new(QuantityKind::TIME, self.seconds.clone());
        let typed = read_typed(text, &expected).map_err(|_| unreadable())?;
        self.settled(Sort::Elapsed).map(|()| (typed.value, None))
    }

    fn settled(&mut self, sort: Sort) -> Result<(), TimeFault> {
        let is_same = *self.sort.get_or_insert(sort) == sort;
        is_same.then_some(()).ok_or_else(unreadable)
    }

    fn stamp(&mut self, text: &str, date: Date, time: &str) -> Result<TimeRead, TimeFault> {
        if time.is_empty() {
            return Err(unreadable());
        }
        if Clock::read(time).is_some() {
            return self.local(date, time);
        }
        let moment: Timestamp = text.parse().map_err(|_| unreadable())?;
        self.settled(Sort::Moment)?;
        let seconds = moment.as_second() as f64 + f64::from(moment.subsec_nanosecond()) * 1e-9;
        Ok((seconds, None))
    }

    fn local(&mut self, date: Date, time: &str) -> Result<TimeRead, TimeFault> {
        let clock = Clock::read(time).ok_or_else(unreadable)?;
        if clock.hours > 23.0 {
            return Err(unreadable());
        }
        self.settled(Sort::Local)?;
        let days = (date - Date::constant(1970, 1, 1)).get_days();
        Ok((f64::from(days) * DAY + clock.of_day(), None))
    }

    fn clock(&mut self, clock: Clock) -> Result<TimeRead, TimeFault> {
        let mut remark = None;
        if clock.seconds.is_none() && self.two_parts.is_none() {
            let is_elapsed = !clock.is_of_day && (self.is_elapsed || clock.hours == 0.0);
            let form = if is_elapsed { TimeForm::MinutesSeconds } else { TimeForm::HoursMinutes };
            remark = Some(if is_elapsed { Remark::ReadAsMinutes } else { Remark::ReadAsClock });
            self.two_parts = Some(form);
        }
        if clock.seconds.is_none() && self.two_parts == Some(TimeForm::MinutesSeconds) {
            self.settled(Sort::Elapsed)?;
            return Ok((clock.hours * 60.0 + clock.minutes, remark));
        }
        let is_elapsed = self.sort == Some(Sort::Elapsed)
            || self.sort.is_none()
                && (self.is_elapsed || clock.seconds.is_some() && clock.hours == 0.0);
        if is_elapsed && !clock.is_of_day {
            self.settled(Sort::Elapsed)?;
            return Ok((clock.of_day(), remark));
        }
        if clock.hours > 23.0 {
            return Err(unreadable());
        }
        self.settled(Sort::Clock)?;
        let (time, next_day) = self.across_midnight(clock.of_day());
        Ok((time, remark.or(next_day)))
    }

    /// A jump back of more than half a day is midnight; a row of the evening behind it belongs to
    /// the day before.
    fn across_midnight(&mut self, of_day: f64) -> (f64, Option<Remark>) {
        let mut time = of_day + self.days * DAY;
        let mut remark = None;
        if let Some(last) = self.last {
            if time < last - DAY / 2.0 {
                self.days += 1.0;
                time += DAY;
                remark = Some(Remark::BehindMidnight);
            } else if self.days > 0.0 && time > last + DAY / 2.0 {
                time -= DAY;
            }
        }
        self.last = Some(time);
        (time, remark)
    }

    /// When a time of this column was.
    pub fn start(&self, time: f64) -> Option<Start> {
        let whole = time.floor();
        let (seconds, nanoseconds) = (whole as i64, ((time - whole) * 1e6).round() as i32 * 1000);
        match self.sort? {
            Sort::Elapsed => None,
            Sort::Clock => Some(Start::TimeOfDay(time.rem_euclid(DAY))),
            Sort::Moment => Timestamp::new(seconds, nanoseconds).ok().map(Start::Moment),
            Sort::Local => {
                let moment = Timestamp::new(seconds, nanoseconds).ok()?;
                Some(Start::Local(jiff::tz::Offset::UTC.to_datetime(moment)))
            }
        }
    }
}

fn unreadable() -> TimeFault {
    TimeFault::Row(Remark::TimeUnreadable)
}

/// Whether a cell can only be a time: a stamp, or a time with a colon.
pub(super) fn is_a_clock(cell: &str) -> bool {
    Clock::read(cell).is_some() || split_stamp(cell).is_some()
}

/// A day of the calendar written `2026-11-25`.
pub(super) fn read_date(text: &str) -> Option<Date> {
    let text = text.trim();
    if text.len() != 10 {
        return None;
    }
    text.parse().ok()
}

/// The date and the time of a stamp.
fn split_stamp(text: &str) -> Option<(Date, &str)> {
    let date = read_date(text.get(..10)?)?;
    let rest = text.get(10..)?;
    let time = rest.strip_prefix(['T', 't', ' ', '_']);
    Some((date, time.or(rest.is_empty().then_some(""))?.trim()))
}

/// `10:05`, `10:05:30.5`, `3:05 PM`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Clock {
    /// The part before the first colon.
    pub hours: f64,
    minutes: f64,
    seconds: Option<f64>,
    /// Whether AM or PM stands behind it.
    pub is_of_day: bool,
}

impl Clock {
    pub fn read(text: &str) -> Option<Self> {
        let (text, noon) = split_half_day(text.trim());
        let mut parts = text.split(':');
        let (first, second, third) = (parts.next()?, parts.next()?, parts.next());
        if parts.next().is_some() {
            return None;
        }
        let mut hours = part(first.as_bytes(), 5)?;
        let minutes = part(second.as_bytes(), 2).filter(|minutes| *minutes < 60.0)?;
        let seconds = third.and_then(seconds).filter(|seconds| *seconds < 61.0);
        if third.is_some() && seconds.is_none() {
            return None;
        }
        if let Some(noon) = noon {
            if !(1.0..=12.0).contains(&hours) {
                return None;
            }
            hours = hours % 12.0 + noon;
        }
        Some(Self { hours, minutes, seconds, is_of_day: noon.is_some() })
    }

    /// Seconds, the first part read as hours.
    pub fn of_day(self) -> f64 {
        self.hours * 3600.0 + self.minutes * 60.0 + self.seconds.unwrap_or(0.0)
    }
}

/// Hours to add for AM and PM.
fn split_half_day(text: &str) -> (&str, Option<f64>) {
    for (words, hours) in [(["am", "a.m."], 0.0), (["pm", "p.m."], 12.0)] {
        for word in words {
            let at = text.len().saturating_sub(word.len());
            if text.get(at..).is_some_and(|end| end.eq_ignore_ascii_case(word)) {
                return (text[..at].trim_end(), Some(hours));
            }
        }
    }
    (text, None)
}

/// `30`, `30.5` or `30,5`.
fn seconds(text: &str) -> Option<f64> {
    let is_written_out = text.len() >= 2 && text.bytes().take(2).all(|byte| byte.is_ascii_digit());
    let comma = if text.contains(',') { Comma::Decimal } else { Comma::Unsettled };
    is_written_out.then(|| Decimal::read(text.as_bytes(), comma)).flatten().map(|read| read.value)
}

fn part(text: &[u8], most: usize) -> Option<f64> {
    let is_number = (1..=most).contains(&text.len()) && text.iter().all(u8::is_ascii_digit);
    is_number.then(|| Decimal::read(text, Comma::Unsettled)).flatten().map(|read| read.value)
}

/// A date and a time as a text, for the writer.
pub(super) fn stamp_of(start: Start, time_s: f64) -> Option<String> {
    let nanoseconds = (time_s * 1e3).round() as i64;
    let later = jiff::SignedDuration::from_millis(nanoseconds);
    match start {
        Start::Moment(moment) => Some(moment.checked_add(later).ok()?.to_string()),
        Start::Local(date_time) => Some(date_time.checked_add(later).ok()?.to_string()),
        Start::TimeOfDay(seconds) => {
            let midnight = DateTime::from_parts(Date::constant(1970, 1, 1), Time::midnight());
            let of_day = jiff::SignedDuration::from_millis((seconds * 1e3).round() as i64);
            let time = midnight.checked_add(of_day).ok()?.checked_add(later).ok()?;
            Some(time.time().to_string())
        }
    }
}
