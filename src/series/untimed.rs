//! Pressures that somebody reads off without their times: `420, 455, 480 micron`.

use super::LogFault;
use super::decimal::{Comma, Decimal};
use super::pasted::{Dictated, seconds};
use crate::diagnostic::Code;
use crate::quantity::{Dimension, QuantityKind, parse_prompt_unit};

/// Fewer numbers in one line may as well be a time and a pressure.
const FEWEST_IN_A_LINE: usize = 3;

/// Whether a text is a list of pressures and nothing else: in one line, or one in each.
///
/// ```
/// use dryhold::series::is_untimed_list;
/// assert!(is_untimed_list("420, 455, 480 micron"));
/// assert!(!is_untimed_list("0 420\n5 455\n10 480"));
/// ```
#[must_use]
pub fn is_untimed_list(text: &str) -> bool {
    let lines = text.lines().map(numbers).filter(|numbers| *numbers != Some(0));
    let Some(counts) = lines.collect::<Option<Vec<usize>>>() else { return false };
    match counts.as_slice() {
        [] => false,
        [one] => *one >= FEWEST_IN_A_LINE,
        several => several.iter().all(|count| *count == 1),
    }
}

/// How many pressures stand in a line; none if anything else stands there but units.
fn numbers(line: &str) -> Option<usize> {
    let words = line.split([',', ';', ' ', '\t']).filter(|word| !word.is_empty());
    let mut numbers = 0;
    for word in words {
        let number = word.trim_end_matches(|c: char| c.is_alphabetic());
        let unit = &word[number.len()..];
        let is_unit = unit.is_empty() || is_unit_of_pressure(unit);
        let is_number =
            number.is_empty() || Decimal::read(number.as_bytes(), Comma::Unsettled).is_some();
        if !(is_unit && is_number || matches!(word, "and" | "then")) {
            return None;
        }
        numbers += usize::from(!number.is_empty());
    }
    Some(numbers)
}

fn is_unit_of_pressure(word: &str) -> bool {
    parse_prompt_unit(word, QuantityKind::PRESSURE)
        .is_ok_and(|unit| unit.kind.dimension == Dimension::PRESSURE)
}

/// The refusal, which asks for nothing but what is missing.
pub(super) fn untimed(text: &str) -> LogFault {
    let rows = (1..).zip(text.lines()).find(|(_, row)| !row.trim().is_empty());
    let (line, row) = rows.unwrap_or((1, ""));
    LogFault::new(Code::LogColumns, "the pressures have no times")
        .at(line, row.trim().as_bytes(), b"", "one pressure after another")
        .help("say how far apart they are: add `every 5 min`")
}

/// The refusal of a pressure without its time beside others that have theirs; none where it is not
/// so. Of a first one the mend is sure: others tell how long after the valve was shut they were read.
pub(super) fn one_untimed(text: &str, parts: &[(u64, &str)]) -> Option<LogFault> {
    let times: Vec<Option<Dictated>> = parts.iter().map(|(_, part)| Dictated::of(part)).collect();
    let time = times.iter().flatten().next()?.time.as_deref()?;
    let is_bare = |at: usize| times[at].is_some() || numbers(parts[at].1) == Some(1);
    let at = times.iter().position(Option::is_none).filter(|_| (0..parts.len()).all(is_bare))?;
    let (line, pressure) = (parts[at].0, parts[at].1.trim());
    let row = text.lines().nth(usize::try_from(line).ok()? - 1)?.trim();
    let help = if at == 0 && seconds(time).is_some() {
        format!(
            "write `0 min {pressure}` if it was read as the valve was shut, or else its own time"
        )
    } else {
        "give its time before it, as the others have theirs".to_owned()
    };
    let fault = LogFault::new(Code::LogColumns, format!("the pressure `{pressure}` has no time"));
    Some(fault.at(line, row.as_bytes(), pressure.as_bytes(), "its time is missing").help(help))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::series::{Given, read_pasted};

    #[test]
    fn a_list_without_times_asks_how_far_apart_they_are() {
        for text in [
            "420, 455, 480, 498 micron",
            "420 455 480 498",
            "420\n455\n480 micron\n",
            "micron\n420\n455",
            "420um, 455um, 480um and 498um",
        ] {
            let fault = read_pasted(text, &Given::default()).unwrap_err();
            assert_eq!(
                fault.to_string(),
                "line 1: the pressures have no times; say how far apart they are: add `every 5 min`",
                "{text}"
            );
        }
    }

    #[test]
    fn one_pressure_without_a_time_is_told_from_those_that_have_theirs() {
        let refused = |text: &str| read_pasted(text, &Given::default()).unwrap_err().to_string();
        let first = "line 1: the pressure `300` has no time; write `0 min 300` if it was read as \
                     the valve was shut, or else its own time";
        assert_eq!(refused("300, 2 min 420, 5 min 560 micron"), first);
        assert_eq!(refused("300\n2 min 420\n5 min 560 micron"), first);
        let further = "the pressure `560 micron` has no time; give its time before it, as the";
        for text in ["0 min 300, 2 min 420\n560 micron", "10:05 300, 10:10 420\n560 micron"] {
            assert!(refused(text).starts_with(&format!("line 2: {further}")), "{}", refused(text));
        }
        let mended = read_pasted("0 min 300, 2 min 420, 5 min 560 micron", &Given::default());
        assert_eq!(mended.unwrap().times(), [0.0, 120.0, 300.0]);
    }

    #[test]
    fn columns_and_words_are_no_list() {
        for text in [
            "0 420\n5 455",
            "0 420 430\n5 455 460",
            "420",
            "pressure\n420\n455",
            "",
            "a, b, c",
            "300, 2 min 420, 5 min 560 micron",
        ] {
            assert!(!is_untimed_list(text), "{text}");
        }
    }
}
