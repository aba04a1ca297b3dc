//! Several numbers where one is asked for: `400 450`, `400 to 450 micron`.

use super::digits::to_significant;
use super::misread::shown;
use super::number::{Manner, read_number};
use super::prompt_unit::parse_prompt_unit;
use super::typed::read_typed;
use super::{Dimension, Expected, Misread, Nature, QuantityKind};
use crate::text::count;

/// Words between two readings that tell nothing but that there are two.
const BETWEEN: [&str; 9] = ["from", "between", "and", "then", "to", "or", "now", "&", "-"];

/// By which factor two readings of one thing may differ (`estimate`: further apart, the first is
/// rather the thousands of one number).
const ALIKE: f64 = 10.0;

/// One of several numbers.
struct Part {
    number: f64,
    digits: String,
    unit: String,
}

/// What is said to several numbers; none where the text is anything else, such as one number or a
/// text that holds more than numbers with their units.
pub(super) fn several_numbers(text: &str, expected: &Expected) -> Option<Misread> {
    let parts = parts(text)?;
    let unit = common_unit(&parts, expected.kind)?;
    let joined: String = parts.iter().map(|part| part.digits.as_str()).collect();
    let as_one = read_typed(format!("{joined} {unit}").trim(), expected).ok();
    let is_usual = |si: f64| expected.usual.is_none_or(|(low, high)| (low..=high).contains(&si));
    let can_be_one = as_one.as_ref().filter(|_| is_grouped(text, &parts));
    if can_be_one.is_some_and(|one| {
        let is_read = |part: &Part| {
            let read = read_typed(format!("{} {unit}", part.digits).trim(), expected);
            read.is_ok_and(|read| is_usual(read.value))
        };
        let are_usual = parts.iter().all(is_read);
        !are_alike(&parts) || expected.usual.is_some() && is_usual(one.value) && !are_usual
    }) {
        return Some(Misread::BlankInNumber { number: spaced(&parts), mend: joined });
    }
    let is_rate = expected.kind.dimension == Dimension::RISE_RATE;
    let mut also = String::new();
    if is_rate {
        also.push_str(
            "; of two readings, type the time between them too, such as `400 to 460 micron in \
             10 min`",
        );
    }
    if can_be_one.is_some_and(|one| is_usual(one.value)) {
        also.push_str(&format!("; as one number it is written `{joined}`"));
    }
    let wanted = if is_rate { "rate".to_owned() } else { expected.kind.name() };
    let numbers = count(parts.len(), "number");
    Some(Misread::SeveralNumbers { text: shown(text), numbers, wanted, also })
}

/// By how much the second of two pressures is higher: what rose, as it would be typed; none for
/// any other text.
pub(super) fn rise_between(text: &str) -> Option<String> {
    let parts = parts(text)?;
    let unit = common_unit(&parts, QuantityKind::PRESSURE)?;
    let [first, second] = &parts[..] else { return None };
    let rise = second.number - first.number;
    (rise > 0.0).then(|| format!("{} {unit}", to_significant(rise, 12)))
}

/// The numbers, two at least, each with what is written behind it.
fn parts(text: &str) -> Option<Vec<Part>> {
    let lower = text.to_lowercase();
    let words = lower.split(|c: char| c.is_whitespace() || c == ';');
    let words = words.map(|word| word.trim_end_matches(',')).filter(|word| !word.is_empty());
    let mut parts: Vec<Part> = Vec::new();
    for word in words.flat_map(ends_of_a_span).filter(|word| !BETWEEN.contains(word)) {
        let is_number = word.starts_with(|c: char| c.is_ascii_digit() || c == '.');
        match parts.last_mut() {
            _ if is_number => {
                let (number, unit) = read_number(word, Manner::Prompt).ok()?;
                let digits = word.strip_suffix(unit)?.to_owned();
                parts.push(Part { number, digits, unit: unit.to_owned() });
            }
            Some(last) if last.unit.is_empty() => word.clone_into(&mut last.unit),
            Some(last) => last.unit = format!("{} {word}", last.unit),
            None => return None,
        }
    }
    (parts.len() > 1).then_some(parts)
}

/// The two numbers of `400-450`; anything else as it is.
fn ends_of_a_span(word: &str) -> Vec<&str> {
    let is_number = |end: &str| end.parse::<f64>().is_ok() && end.starts_with(char::is_numeric);
    match word.split_once(['-', '\u{2013}']) {
        Some((low, high)) if is_number(low) && is_number(high) => vec![low, high],
        _ => vec![word],
    }
}

/// The unit that all have which have one, of the kind asked for; nothing where none has any. Where
/// a rate is asked for they may be pressures.
fn common_unit(parts: &[Part], kind: QuantityKind) -> Option<String> {
    let mut units = parts.iter().map(|part| part.unit.as_str()).filter(|unit| !unit.is_empty());
    let Some(unit) = units.next() else { return Some(String::new()) };
    // `1 h 30` and `5 ft 3` are one value whose last unit is left out.
    let is_left_out = parts.last().is_none_or(|part| part.unit.is_empty());
    if units.any(|other| other != unit) || kind.nature == Nature::Plain && is_left_out {
        return None;
    }
    let fits = |kind| parse_prompt_unit(unit, kind).is_ok_and(|unit| unit.kind.fits(kind));
    let is_rise = kind.dimension == Dimension::RISE_RATE && fits(QuantityKind::PRESSURE);
    (fits(kind) || is_rise).then(|| unit.to_owned())
}

/// Whether these may be the groups of three digits of one number, with blanks between.
fn is_grouped(text: &str, parts: &[Part]) -> bool {
    let groups: Vec<&str> = parts.iter().map(|part| part.digits.as_str()).collect();
    let [first, others @ .., last] = &groups[..] else { return false };
    let is_whole = |group: &str| group.bytes().all(|byte| byte.is_ascii_digit());
    let is_three = |group: &str| is_whole(group) && group.len() == 3;
    let whole = last.split('.').next().unwrap_or_default();
    text.contains(&spaced(parts))
        && is_whole(first)
        && first.len() <= 3
        && !first.starts_with('0')
        && others.iter().all(|group| is_three(group))
        && is_three(whole)
}

/// Whether all may be readings of one thing: near each other, and none written with a nought
/// before it.
fn are_alike(parts: &[Part]) -> bool {
    let ends = parts.iter().map(|part| part.number);
    let (low, high) =
        ends.fold((f64::INFINITY, 0.0_f64), |(low, high), n| (low.min(n), high.max(n)));
    let has_nought = |part: &Part| part.digits.len() > 1 && part.digits.starts_with('0');
    high <= low * ALIKE && !parts.iter().skip(1).any(has_nought)
}

fn spaced(parts: &[Part]) -> String {
    parts.iter().map(|part| part.digits.as_str()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{parse_range, parse_unit};

    fn vacuum() -> Expected {
        let mut expected = Expected::new(QuantityKind::PRESSURE, parse_unit("micron").unwrap());
        expected.range = Some(parse_range("0.1 micron to 760000 micron", expected.kind).unwrap());
        expected.usual = Some(parse_range("5 micron to 5000 micron", expected.kind).unwrap());
        expected
    }

    fn told(text: &str, expected: &Expected) -> String {
        read_typed(text, expected).unwrap_err().to_string()
    }

    #[test]
    fn two_readings_are_no_number_with_a_blank() {
        for text in [
            "400 450",
            "400, 450",
            "400 and 450",
            "400 to 450",
            "400-450 micron",
            "400 450 micron",
            "400 micron 450 micron",
            "400 micron then 450",
            "45 40",
        ] {
            assert_eq!(
                told(text, &vacuum()),
                format!(
                    "`{text}` holds 2 numbers, and one pressure is asked for; type the one that \
                     counts"
                ),
            );
        }
        assert!(told("400 420 440", &vacuum()).contains("holds 3 numbers"));
    }

    #[test]
    fn thousands_apart_are_one_number() {
        for (text, mend) in [
            ("1 200", "1200"),
            ("5 200 micron", "5200"),
            ("2 000", "2000"),
            ("12 500.5", "12500.5"),
            ("4 005", "4005"),
        ] {
            let told = told(text, &vacuum());
            let end = format!(" has a blank between its digits; one number is written `{mend}`");
            assert!(told.ends_with(&end), "{text}: {told}");
        }
        let mut air = Expected::new(QuantityKind::PRESSURE, parse_unit("Pa").unwrap());
        let all = told("101 325", &air);
        assert!(all.ends_with("that counts; as one number it is written `101325`"), "{all}");
        air.usual = Some(parse_range("60 kPa to 106 kPa", air.kind).unwrap());
        let barometer = told("101 325", &air);
        assert!(barometer.ends_with("one number is written `101325`"), "{barometer}");
    }

    #[test]
    fn two_readings_are_no_rate_and_say_how_to_give_one() {
        let mut rate = Expected::new(QuantityKind::RISE_RATE, parse_unit("micron/min").unwrap());
        rate.usual = Some(parse_range("0.1 micron/min to 500 micron/min", rate.kind).unwrap());
        for text in ["400 450", "400 450 micron", "400 to 450 micron"] {
            assert_eq!(
                told(text, &rate),
                format!(
                    "`{text}` holds 2 numbers, and one rate is asked for; type the one that \
                     counts; of two readings, type the time between them too, such as `400 to 460 \
                     micron in 10 min`"
                )
            );
        }
    }

    #[test]
    fn what_is_no_list_of_numbers_is_told_as_before() {
        let time = Expected::new(QuantityKind::TIME, parse_unit("min").unwrap());
        for text in ["1 h 30", "30 apples 20 apples", "12,5 13,5", "one 400", "5 and"] {
            let told = told(text, &time);
            assert!(!told.contains("numbers"), "{text}: {told}");
        }
        assert!(read_typed("1 h 30 min", &time).is_ok());
        let length = Expected::new(QuantityKind::LENGTH, parse_unit("mm").unwrap());
        assert!(read_typed("1 1/8", &length).is_ok());
    }
}
