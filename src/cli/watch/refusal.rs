//! Why a line is no reading of a watch.

use crate::quantity::UnitExpression;
use crate::series::{LiveReading, read_line};
use crate::text::inert;

/// The most characters of a line that are told again (limit of ours).
const SHOWN: usize = 40;
/// The most words that are looked at for a second value (limit of ours).
const WORDS: usize = 40;

/// The one reading of a line.
///
/// # Errors
/// Why there is none, and what to type instead. Of several readings none is taken: a watch knows
/// when a line came, and no more.
pub(super) fn reading_of(text: &str, unit: &UnitExpression) -> Result<LiveReading, String> {
    if has_several(text, unit) {
        let (shown, unit) = (shown(text), &unit.symbol);
        return Err(format!(
            "`{shown}` holds several values; give one a line, such as `5 min 420 {unit}`"
        ));
    }
    read_line(text, unit)
}

/// A line as it is told again, without what could move a terminal's cursor.
pub(super) fn shown(text: &str) -> String {
    inert(text.trim()).chars().take(SHOWN).collect()
}

/// Whether a number follows on what is a reading by itself.
fn has_several(text: &str, unit: &UnitExpression) -> bool {
    let is_mark = |c: char| matches!(c, ',' | ';' | '/');
    let words: Vec<&str> = text.split_whitespace().take(WORDS).collect();
    (1..words.len()).any(|count| {
        let is_number = words[count].starts_with(|c: char| c.is_ascii_digit());
        let before = words[..count].join(" ");
        is_number && read_line(before.trim_end_matches(is_mark), unit).is_ok()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::parse_unit;

    #[test]
    fn several_values_are_told_from_what_is_no_reading() {
        let micron = parse_unit("micron").unwrap();
        let why = |line: &str| reading_of(line, &micron).unwrap_err();
        for line in [
            "420 430",
            "420, 430",
            "420; 430",
            "420 micron 430 micron",
            "10:06 420 10:07 430",
            "1 min 420, 2 min 430",
            "300, 420, 510 micron every 5 min",
            "0 420, 5 455 micron",
            "5 min 420 455 micron",
            "1 234 micron",
            "12 3O",
        ] {
            let told = format!(
                "`{line}` holds several values; give one a line, such as `5 min 420 micron`"
            );
            assert_eq!(why(line), told);
        }
        for line in ["2 min 402 bananas", "a dozen", "42O", "1 h 30 min 42O", "min 420"] {
            assert!(why(line).starts_with(&format!("`{line}` is no reading; ")), "{}", why(line));
        }
        for line in [
            "420",
            "1 h 30 min 420 micron",
            "1 min 30 s 420",
            "5 min, 420 micron",
            "1 min: 420",
            "10:05 420",
            "10:05 AM 420",
            "0:30:00 420",
            "420 at 10:05",
            "420 micron after 5 min",
            "5 min OL",
        ] {
            assert_eq!(reading_of(line, &micron), read_line(line, &micron), "{line}");
            assert!(reading_of(line, &micron).is_ok(), "{line}");
        }
    }
}
