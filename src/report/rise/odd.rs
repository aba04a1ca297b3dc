//! A reading that contradicts those beside it: which, what was perhaps meant, and the mend.

use super::sizes::{ShownIn, lasting};
use crate::rise::Missing;
use crate::text::Line;

/// `reading 7, at 30 min, is 0.843 micron after 768 micron: no closed system does so`
pub(super) fn odd_told(
    number: usize,
    time: f64,
    (pressure, before): (f64, f64),
    shown: &ShownIn,
) -> String {
    format!(
        "reading {number}, at {}, is {} after {}, and no closed system does so",
        lasting(time),
        shown.as_read(pressure),
        shown.as_read(before)
    )
}

/// What to do about it; none where something else is missing.
pub(super) fn odd_mend(why: &Missing, shown: &ShownIn) -> Option<String> {
    let Missing::Odd { pressure, .. } = why else { return None };
    let meant = why.slip().map_or_else(String::new, |factor| {
        let slipped = match factor {
            f if f >= 1000.0 => "a reading in Torr taken for micron",
            f if f > 1.0 => "a digit dropped",
            f if f < 0.01 => "a reading in micron taken for Torr",
            _ => "a digit too many",
        };
        format!("Perhaps {} was meant, with {slipped}. ", shown.as_read(factor * pressure))
    });
    Some(format!(
        "{meant}Correct it or leave it out, and ask again. If the gauge did show it, a valve was \
         moved or the gauge slipped: hold again."
    ))
}

/// That the criterion counts the reading as it stands.
pub(super) fn odd_judged(why: &Missing) -> Option<Line> {
    let Missing::Odd { number, .. } = why else { return None };
    Some(Line::plain(format!(
        "It counts reading {number} as it stands, so judge again once that is mended."
    )))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mend_says_what_was_perhaps_meant() {
        const MICRON: f64 = 0.133_322_387_415;
        let mend = |pressure: f64| {
            let (pressure, before) = (MICRON * pressure, MICRON * 768.0);
            let why = Missing::Odd { number: 7, time: 1800.0, pressure, before };
            odd_mend(&why, &ShownIn::default()).unwrap()
        };
        let slipped = |shown, meant: &str| {
            assert!(
                mend(shown).starts_with(&format!("Perhaps {meant}. Correct it")),
                "{}",
                mend(shown)
            );
        };
        slipped(0.843, "843 micron was meant, with a reading in Torr taken for micron");
        slipped(84.0, "840 micron was meant, with a digit dropped");
        slipped(8430.0, "843 micron was meant, with a digit too many");
        slipped(843_000.0, "843 micron was meant, with a reading in micron taken for Torr");
        assert!(mend(300.0).starts_with("Correct it or leave it out"), "{}", mend(300.0));
    }
}
