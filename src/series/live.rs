//! One reading, typed while the test is running.

use super::Remark;
use super::decimal::Comma;
use super::pasted::{Dictated, first_number, plain, seconds};
use super::pressures::{PressureCell, PressureReader};
use super::readings::Beyond;
use super::times::Clock;
use crate::quantity::UnitExpression;
use crate::text::inert;

/// When a line was read, as far as it says so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LineTime {
    /// It does not: the clock of whoever asks tells.
    Now,
    /// Seconds since the test began.
    Elapsed(f64),
    /// Seconds since midnight.
    TimeOfDay(f64),
}

/// One line typed while the test is running.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LiveReading {
    /// When.
    pub time: LineTime,
    /// Absolute pressure in Pa, or the end of the scale that the gauge was beyond.
    pub pressure: Result<f64, Beyond>,
    /// Whether the number stood in the unit of bare numbers, so that its digits are those of the
    /// gauge.
    pub is_in_unit: bool,
}

/// Reads one line: `420`, `420 micron`, `5 min 420`, `10:05 420`, `OL`.
///
/// A bare pressure has the unit `pressure_unit`. A time with one colon is a time of day.
///
/// # Errors
/// A short sentence that says what is accepted.
///
/// ```
/// use dryhold::quantity::parse_unit;
/// use dryhold::series::{LineTime, read_line};
/// let micron = parse_unit("micron").unwrap();
/// assert_eq!(read_line("5 min 420", &micron).unwrap().time, LineTime::Elapsed(300.0));
/// assert_eq!(
///     read_line("a dozen", &micron).unwrap_err(),
///     "`a dozen` is no reading; type a pressure such as `420 micron`, with a time before it or not"
/// );
/// ```
pub fn read_line(text: &str, pressure_unit: &UnitExpression) -> Result<LiveReading, String> {
    let refused = || {
        format!(
            "`{}` is no reading; type a pressure such as `420 {}`, with a time before it or not",
            inert(text.trim()).chars().take(40).collect::<String>(),
            pressure_unit.symbol
        )
    };
    let dictated = Dictated::of(text).unwrap_or(Dictated { time: None, pressure: plain(text) });
    let time = match &dictated.time {
        None => LineTime::Now,
        Some(time) => line_time(time).ok_or_else(refused)?,
    };
    if is_list(&dictated.pressure) {
        return Err("a list needs its times, as in `300, 420 micron every 5 min`".to_owned());
    }
    let reader = PressureReader::new(Some(pressure_unit.clone()));
    let number = first_number(&dictated.pressure, Some(pressure_unit));
    let taken = |pressure, is_in_unit| Ok(LiveReading { time, pressure, is_in_unit });
    match reader.read(number.as_bytes(), Comma::Unsettled) {
        PressureCell::Value(pressure, shown) => taken(Ok(pressure), shown.is_some()),
        PressureCell::Beyond(beyond, _) => taken(Err(beyond), false),
        PressureCell::Unusable(Remark::BelowZero) => {
            Err("an absolute pressure can't be below zero".to_owned())
        }
        PressureCell::Unusable(_) | PressureCell::NoUnit => Err(refused()),
    }
}

/// Several numbers and nothing else but units: `420 455 480 micron`.
fn is_list(pressure: &str) -> bool {
    let is_number = |word: &str| word.starts_with(|c: char| c.is_ascii_digit());
    let mut words = pressure.split(|c: char| c.is_whitespace() || c == ';' || c == '/');
    let numbers = pressure.split_whitespace().filter(|word| is_number(word)).count();
    numbers > 1 && words.all(|word| is_number(word) || word.chars().all(char::is_alphabetic))
}

fn line_time(text: &str) -> Option<LineTime> {
    if let Some(clock) = Clock::read(text) {
        return (clock.hours < 24.0).then(|| LineTime::TimeOfDay(clock.of_day()));
    }
    seconds(text).map(LineTime::Elapsed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::parse_unit;

    #[test]
    fn a_line_typed_while_the_test_runs_may_have_a_time() {
        let micron = parse_unit("micron").unwrap();
        let line = |text: &str| read_line(text, &micron).unwrap();
        assert_eq!(line("420").time, LineTime::Now);
        assert_eq!(line("10:05 420").time, LineTime::TimeOfDay(36_300.0));
        assert_eq!(line("1 h 30 min 420").time, LineTime::Elapsed(5400.0));
        assert_eq!(line("OL").pressure, Err(Beyond::Over));
        assert_eq!(line("40 Pa").pressure, Ok(40.0));
        for list in
            ["420 455 480 498 511 520 micron", "420, 455 micron", "5 min 420 455", "420 455"]
        {
            let refused = read_line(list, &micron).unwrap_err();
            assert!(refused.contains("`300, 420 micron every 5 min`"), "{list}: {refused}");
        }
        assert_eq!(line("5.3e-2 torr").time, LineTime::Now);
        assert!(read_line("-4", &micron).unwrap_err().contains("below zero"));
    }
}
