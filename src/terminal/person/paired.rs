//! Two readings of a hold that are told in a sentence, as the readings that they are: `hold 300 micron,
//! 303 micron after 30 min`.

use crate::terminal::words::folded;

const UNITS_OF_TIME: [&str; 8] = ["min", "mins", "minute", "minutes", "h", "hr", "hour", "hours"];

/// A number with the word behind it.
struct Figure<'a> {
    number: &'a str,
    unit: &'a str,
}

impl Figure<'_> {
    fn is_time(&self) -> bool {
        UNITS_OF_TIME.contains(&self.unit)
    }
}

/// The readings that two parts of a line tell: in the first a value, in the second one of the same
/// unit with the time that has passed. None for any other line.
pub(super) fn two_readings(typed: &str) -> Option<String> {
    let folded = folded(typed);
    let (first, second) = folded.split_once([',', ';'])?;
    let (first, second) = (figures(first), figures(second));
    let ([start], [one, other]) = (&first[..], &second[..]) else { return None };
    let (end, time) = match (one.is_time(), other.is_time()) {
        (false, true) => (one, other),
        (true, false) => (other, one),
        _ => return None,
    };
    let is_pair = !start.is_time() && !end.unit.is_empty() && start.unit == end.unit;
    is_pair.then(|| {
        let unit = if time.unit.starts_with('h') { "h" } else { "min" };
        format!(
            "0 {unit} {} {}, {} {unit} {} {}",
            start.number, start.unit, time.number, end.number, end.unit
        )
    })
}

/// Whether a sentence tells of two readings and the time between them, as `from 400 to 2000 in ten
/// minutes` does.
pub(super) fn tells_a_span(typed: &str) -> bool {
    let folded = folded(typed);
    let words: Vec<&str> = folded.split_whitespace().collect();
    let is_number = |word: &str| word.parse::<f64>().is_ok_and(f64::is_finite);
    let ends = words.iter().position(|word| *word == "to").filter(|to| {
        words[..*to].iter().any(|word| is_number(word))
            && words.get(to + 1).is_some_and(|word| is_number(word))
    });
    ends.is_some() && words.iter().any(|word| UNITS_OF_TIME.contains(word))
}

fn figures(part: &str) -> Vec<Figure<'_>> {
    let words: Vec<&str> = part.split_whitespace().collect();
    let is_number = |word: &str| word.parse::<f64>().is_ok_and(f64::is_finite);
    let unit = |place: usize| words.get(place).copied().filter(|word| !is_number(word));
    let numbers = words.iter().enumerate().filter(|(_, word)| is_number(word));
    numbers
        .map(|(place, number)| Figure { number, unit: unit(place + 1).unwrap_or_default() })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{tells_a_span, two_readings};

    #[test]
    fn a_span_has_two_figures_and_a_time() {
        for span in ["rises from 400 to 2000 in ten minutes", "400 micron to 900 within 1 h"] {
            assert!(tells_a_span(span), "{span}");
        }
        for other in ["from 400 to 2000", "pumped 10 min to get there", "to 500 in 3 min"] {
            assert!(!tells_a_span(other), "{other}");
        }
    }

    #[test]
    fn a_value_and_a_later_one_with_its_time_are_two_readings() {
        let told = |typed: &str| two_readings(typed);
        let readings = Some("0 min 300 micron, 30 min 303 micron".to_owned());
        assert_eq!(told("hold 300 micron, 303 micron after 30 min"), readings);
        assert_eq!(told("300 micron, after 30 minutes 303 micron"), readings);
        for other in ["300 micron, 303 micron", "500 micron, 1 mbar in 5 min", "a, b", "5 m, 3 m"] {
            assert_eq!(told(other), None, "{other}");
        }
    }
}
