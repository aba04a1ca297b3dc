//! What somebody types: what a gauge shows, with its unit, and figures as people round them.

use super::kit::Face;
use crate::bench::gauge::Reading;

/// What comes of a look.
#[derive(Clone, Debug, PartialEq)]
pub enum Said {
    /// This is typed.
    Typed(String),
    /// Nobody can say, for this reason.
    Unsure(String),
}

impl Said {
    /// `yes` or `no`.
    #[must_use]
    pub fn yes_no(is_so: bool) -> Self {
        Self::Typed(if is_so { "yes" } else { "no" }.to_owned())
    }

    /// The same where somebody knows.
    #[must_use]
    pub fn known(is_so: Option<bool>) -> Self {
        is_so.map_or_else(|| Self::Unsure("nobody was told of it".to_owned()), Self::yes_no)
    }

    /// One of the words of a list.
    #[must_use]
    pub fn word(word: &str) -> Self {
        Self::Typed(word.to_owned())
    }
}

/// What a gauge shows, as it is read off its face.
#[must_use]
pub fn pressure(reading: Reading, face: &Face, full_scale: f64) -> String {
    match reading {
        Reading::Pressure(shown) if shown < 0.5 * face.step() => {
            format!("under {} {}", in_decimals(face.step(), face), face.symbol)
        }
        Reading::Pressure(shown) => format!("{} {}", in_decimals(shown, face), face.symbol),
        Reading::OverRange => format!("over {} {}", in_decimals(full_scale, face), face.symbol),
    }
}

fn in_decimals(pascal: f64, face: &Face) -> String {
    format!("{:.*}", face.decimals, pascal / face.pascal)
}

/// A value with its unit, to so many significant digits.
#[must_use]
pub fn rounded(value: f64, digits: i32, unit: &str) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("0 {unit}");
    }
    let before = libm::floor(libm::log10(value.abs())) as i32 + 1;
    let decimals = (digits - before).max(0);
    let step = libm::pow(10.0, f64::from(before - digits));
    format!("{:.*} {unit}", decimals as usize, libm::round(value / step) * step)
}

#[cfg(test)]
mod tests {
    use super::super::kit::FACES;
    use super::*;
    use crate::bench::gauge::MICRON;

    #[test]
    fn a_reading_is_typed_as_the_face_shows_it() {
        let typed = |face: usize, micron: f64| {
            pressure(Reading::Pressure(micron * MICRON), &FACES[face], 25_000.0 * MICRON)
        };
        assert_eq!((typed(0, 512.0), typed(1, 512.0)), ("512 micron".into(), "0.512 Torr".into()));
        assert_eq!((typed(2, 512.0), typed(3, 512.0)), ("0.683 mbar".into(), "68 Pa".into()));
        assert_eq!(typed(0, 0.0), "under 1 micron");
        let over = pressure(Reading::OverRange, &FACES[0], 25_000.0 * MICRON);
        assert_eq!(over, "over 25000 micron");
    }

    #[test]
    fn figures_are_rounded_as_people_do() {
        assert_eq!(rounded(9.13, 2, "L"), "9.1 L");
        assert_eq!(rounded(2361.0, 2, "mL"), "2400 mL");
        assert_eq!(rounded(0.00234, 2, "m"), "0.0023 m");
        assert_eq!(rounded(0.0, 2, "min"), "0 min");
    }
}
