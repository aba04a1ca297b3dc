//! Answers that leave their unit open in a way that people mean something by: a size as a fraction,
//! degrees of no scale.

use super::{Misunderstood, ReadAnswer, refuse};
use crate::evidence::{Reach, Reply};
use crate::quantity::{
    Expected, Misread, QuantityKind, Slip, Typed, parse_unit, pressure_of_rate, read_typed, show,
};
use crate::text::as_said;

/// Such an answer, with what it was read as to be confirmed; none where nothing is left open.
pub(super) fn loose(text: &str, expected: &Expected) -> Option<Result<ReadAnswer, Misunderstood>> {
    if expected.kind == QuantityKind::LENGTH && is_bare_fraction(text) {
        return Some(in_inches(text, expected));
    }
    if expected.kind == QuantityKind::FLOW && is_bare_number(text) {
        return Some(pump_speed(text, expected));
    }
    if expected.kind == QuantityKind::GAUGE_PRESSURE {
        return open_pressure(text, expected).map(Ok);
    }
    if expected.kind == QuantityKind::TEMPERATURE_DIFFERENCE {
        return bare_degrees(text).map(|number| degrees(text, number, expected));
    }
    if expected.kind == QuantityKind::TEMPERATURE {
        return bare_degrees(text).map(|number| on_a_scale(text, number, expected));
    }
    if expected.kind == QuantityKind::RISE_RATE {
        return match is_nothing(text) {
            true => Some(no_rise(expected)),
            false => bare_rise(text, expected),
        };
    }
    if expected.kind == QuantityKind::TIME && expected.unit.symbol == "h" && is_by_calendar(text) {
        return Some(Err(refuse(format!(
            "`{text}` is no number of hours. Where only the hours of running count, take the hours a day \
             times the days: 2 h on each of 50 days are 100 h; or say not sure"
        ))));
    }
    None
}

/// Times that people tell by the calendar, and not by hours.
const BY_CALENDAR: [&str; 10] = [
    "season", "seasons", "year", "years", "month", "months", "summer", "winter", "spring", "autumn",
];

fn is_by_calendar(text: &str) -> bool {
    let said = text.to_lowercase();
    said.split(|c: char| !c.is_alphanumeric()).any(|word| BY_CALENDAR.contains(&word))
}

/// `58 in 10`: what rose in how many minutes, both without a unit.
fn bare_rise(text: &str, expected: &Expected) -> Option<Result<ReadAnswer, Misunderstood>> {
    let (rise, time) = text.split_once(" in ")?;
    let (rise, time) = (rise.trim(), time.trim());
    if !is_bare_number(rise) || !is_bare_number(time) {
        return None;
    }
    let unit = pressure_of_rate(&expected.unit)?;
    let meant = format!("{rise} {} in {time} min", unit.symbol);
    Some(read(&meant, expected).map(|typed| {
        let message = format!("`{text}` has no units: is it {meant}?");
        asked_back(&typed, typed.echo.clone(), Slip { message, suggestion: None })
    }))
}

/// What people say of a rise that there isn't.
fn is_nothing(text: &str) -> bool {
    matches!(as_said(text).as_str(), "none" | "nothing" | "nil")
}

fn no_rise(expected: &Expected) -> Result<ReadAnswer, Misunderstood> {
    let typed = read("0", expected)?;
    let reply = Reply::Quantity { si: typed.value, half_width: None, reach: Reach::Exact };
    Ok(ReadAnswer::plain(reply, typed.echo))
}

/// `7/8`, `1-1/8` or `1 1/8`, and nothing else.
fn is_bare_fraction(text: &str) -> bool {
    let last = text.rsplit(['-', ' ']).next().unwrap_or(text);
    let is_number = |part: &str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit());
    let is_fraction =
        last.split_once('/').is_some_and(|(top, bottom)| is_number(top) && is_number(bottom));
    is_fraction && text.chars().all(|c| c.is_ascii_digit() || matches!(c, '/' | '-' | ' '))
}

fn is_bare_number(text: &str) -> bool {
    text.parse::<f64>().is_ok_and(f64::is_finite)
}

/// Plates give the speed of a pump in cubic feet a minute or in litres a second, and the number
/// alone does not tell which (`common_practice`).
fn pump_speed(text: &str, expected: &Expected) -> Result<ReadAnswer, Misunderstood> {
    let typed = read(text, expected)?;
    let other = if expected.unit.symbol == "cfm" { "L/s" } else { "cfm" };
    let meant = read(&format!("{text} {other}"), expected)?;
    let message = format!(
        "`{text}` has no unit, and plates say cfm as often as {}: {}",
        expected.unit.symbol, meant.echo
    );
    let suggestion = Some((format!("{text} {other}"), meant.value));
    let echo = typed.echo.clone();
    Ok(asked_back(&typed, echo, Slip { message, suggestion }))
}

/// The air around, in Pa: a standard atmosphere, the conventional value of the metre convention.
const ATMOSPHERE: f64 = 101_325.0;

/// `40 bar` where a gauge pressure is asked for: counted from the air, as gauges of pressure do, or
/// from a vacuum.
fn open_pressure(text: &str, expected: &Expected) -> Option<ReadAnswer> {
    let Err(Misread::NotGauge { unit, mend }) = read_typed(text, expected) else { return None };
    // Any other unit is no slip of a letter but another scale.
    if mend.strip_suffix('g') != Some(unit.as_str()) {
        return None;
    }
    let number = text.trim_end_matches(|c: char| c.is_alphabetic()).trim_end();
    let typed = read_typed(&format!("{number} {mend}"), expected).ok()?;
    let absolute = show(typed.value - ATMOSPHERE, None, &expected.unit, expected.kind);
    let message = format!(
        "`{text}` may be counted from the air around, as a gauge does, or from a vacuum; from a \
         vacuum it is {absolute}"
    );
    let suggestion = Some((absolute, typed.value - ATMOSPHERE));
    let echo = format!("{number} {mend}");
    Some(asked_back(&typed, echo, Slip { message, suggestion }))
}

/// Sizes are written as fractions where they are in inches (`common_practice`).
fn in_inches(text: &str, expected: &Expected) -> Result<ReadAnswer, Misunderstood> {
    let typed = read(&format!("{text} in"), expected)?;
    let size = show(typed.value, None, &expected.unit, expected.kind);
    let message = format!(
        "`{text}` has no unit, and a size written as a fraction is in inches: {text} in is {size}"
    );
    Ok(asked_back(&typed, format!("{text} in"), Slip { message, suggestion: None }))
}

/// The number before `degrees`, where no scale stands behind it.
fn bare_degrees(text: &str) -> Option<&str> {
    let text = text.trim_end_matches('.');
    let number = ["degrees", "degree", "deg", "°"].iter().find_map(|word| text.strip_suffix(word));
    number.map(str::trim_end).filter(|number| !number.is_empty())
}

/// A difference is the same in kelvin and in degC, and nearly half of it in degF.
fn degrees(text: &str, number: &str, expected: &Expected) -> Result<ReadAnswer, Misunderstood> {
    let typed = read(&format!("{number} K"), expected)?;
    let echo = show(typed.value, None, &expected.unit, expected.kind);
    let fahrenheit = parse_unit("degF_diff").ok().map(|unit| unit.to_si(typed.value));
    let suggestion = fahrenheit.map(|si| (show(si, None, &expected.unit, expected.kind), si));
    let other = suggestion.as_ref().map(|(said, _)| format!(": in degF it is {said}"));
    let message = format!("`{text}` names no scale{}", other.unwrap_or_default());
    Ok(asked_back(&typed, echo, Slip { message, suggestion }))
}

/// A temperature of no scale is taken on that of the question, and told on the other one.
fn on_a_scale(text: &str, number: &str, expected: &Expected) -> Result<ReadAnswer, Misunderstood> {
    let own = &expected.unit.symbol;
    let typed = read(number, expected)?;
    let other = if own == "degF" { "degC" } else { "degF" };
    let meant = format!("{number} {other}");
    // What the other scale puts out of range was not meant.
    let meant_typed = read_typed(&meant, expected).ok();
    let or = meant_typed.as_ref().map(|meant| format!(", or {}", meant.echo));
    let or = or.unwrap_or_default();
    let message = format!("`{text}` names no scale: it may be {}{or}", typed.echo);
    let suggestion = meant_typed.map(|typed| (meant, typed.value));
    Ok(asked_back(&typed, typed.echo.clone(), Slip { message, suggestion }))
}

fn read(text: &str, expected: &Expected) -> Result<Typed, Misunderstood> {
    read_typed(text, expected).map_err(|misread| refuse(misread.to_string()))
}

fn asked_back(typed: &Typed, echo: String, slip: Slip) -> ReadAnswer {
    let (si, half_width) = (typed.value, typed.half_width);
    let reply = Reply::Quantity { si, half_width, reach: Reach::Exact };
    ReadAnswer { reply, echo, bare_in: None, slip: Some(slip) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_fraction_by_itself_is_taken_for_inches() {
        for fraction in ["7/8", "3/8", "1-1/8", "1 1/8"] {
            assert!(is_bare_fraction(fraction), "{fraction}");
        }
        for other in ["7/8 in", "7", "0.5", "7/", "/8", "a/b", "7/8/2"] {
            assert!(!is_bare_fraction(other), "{other}");
        }
    }

    fn expected(kind: QuantityKind, unit: &str) -> Expected {
        Expected::new(kind, parse_unit(unit).unwrap())
    }

    #[test]
    fn a_bare_speed_of_a_pump_is_asked_back_in_cubic_feet() {
        let flow = expected(QuantityKind::FLOW, "L/s");
        let read = loose("6", &flow).unwrap().unwrap();
        let slip = read.slip.unwrap();
        let told = "`6` has no unit, and plates say cfm as often as L/s: 6 cfm (2.832 L/s)";
        assert_eq!((slip.message.as_str(), read.echo.as_str()), (told, "6 L/s"));
        assert_eq!(slip.suggestion.unwrap().0, "6 cfm");
        assert!(loose("6 cfm", &flow).is_none());
    }

    #[test]
    fn a_pressure_of_no_zero_is_asked_back_where_a_gauge_is_read() {
        let gauge = expected(QuantityKind::GAUGE_PRESSURE, "barg");
        let read = loose("40 bar", &gauge).unwrap().unwrap();
        let slip = read.slip.unwrap();
        assert!(slip.message.ends_with("from a vacuum it is 38.99 barg"), "{}", slip.message);
        assert_eq!(read.echo, "40 barg");
        let Reply::Quantity { si, .. } = read.reply else { panic!("{:?}", read.reply) };
        assert!((si - 4.0e6).abs() < 1.0, "{si}");
        for other in ["40 barg", "40", "2000 micron", "40 bara"] {
            assert!(loose(other, &gauge).is_none(), "{other}");
        }
    }

    #[test]
    fn degrees_of_no_scale_are_asked_back_where_a_temperature_is_asked_for() {
        let warm = expected(QuantityKind::TEMPERATURE, "degC");
        for text in ["10 degrees", "10 deg", "10°", "10 deg."] {
            let read = loose(text, &warm).unwrap().unwrap();
            let slip = read.slip.unwrap();
            let told =
                format!("`{text}` names no scale: it may be 10 degC, or 10 degF (-12.22 degC)");
            assert_eq!((slip.message, read.echo.as_str()), (told, "10 degC"));
            assert_eq!(slip.suggestion.unwrap().0, "10 degF");
            let Reply::Quantity { si, .. } = read.reply else { panic!("{:?}", read.reply) };
            assert!((si - 283.15).abs() < 1e-9, "{si}");
        }
        for text in ["10", "10 celsius", "10 degrees celsius", "10 degC", "50 degrees F"] {
            assert!(loose(text, &warm).is_none(), "{text}");
            assert!(read_typed(text, &warm).is_ok(), "{text}");
        }
    }

    #[test]
    fn no_rise_is_a_rate_of_nothing() {
        let rate = expected(QuantityKind::RISE_RATE, "micron/min");
        for text in ["none", "None.", "nothing", "nil"] {
            let read = loose(text, &rate).unwrap().unwrap();
            let nothing = Reply::Quantity { si: 0.0, half_width: None, reach: Reach::Exact };
            assert_eq!((read.reply, read.echo.as_str()), (nothing, "0 micron/min"), "{text}");
        }
        assert!(loose("none", &expected(QuantityKind::PRESSURE, "micron")).is_none());
    }

    #[test]
    fn a_rise_in_a_time_without_units_is_asked_back() {
        let rate = expected(QuantityKind::RISE_RATE, "micron/min");
        let read = loose("58 in 10", &rate).unwrap().unwrap();
        let told = "`58 in 10` has no units: is it 58 micron in 10 min?";
        assert_eq!(read.slip.unwrap().message, told);
        let with_units = read_typed("58 micron in 10 min", &rate).unwrap();
        let Reply::Quantity { si, .. } = read.reply else { panic!("{:?}", read.reply) };
        assert!((si - with_units.value).abs() < 1e-12, "{si}");
        assert!(loose("58 micron in 10 min", &rate).is_none() && loose("58 in", &rate).is_none());
    }

    #[test]
    fn a_time_by_the_calendar_is_asked_for_in_hours() {
        let hours = expected(QuantityKind::TIME, "h");
        for text in ["two seasons", "a year", "last summer"] {
            let refused = loose(text, &hours).unwrap().unwrap_err();
            assert!(refused.message.contains("2 h on each of 50 days are 100 h"), "{text}");
        }
        assert!(loose("100 h", &hours).is_none() && loose("two days", &hours).is_none());
    }

    #[test]
    fn only_degrees_without_a_scale_are_asked_back() {
        assert_eq!(bare_degrees("8 degrees"), Some("8"));
        assert_eq!(bare_degrees("8°"), Some("8"));
        assert_eq!(["8 degC", "8 K", "degrees", "8"].map(bare_degrees), [None; 4]);
    }
}
