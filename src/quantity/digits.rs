//! Rounding a bare number to digits, and writing it without needless exponents.

/// Sizes from here up to [`EVERYDAY_BELOW`] are written out; others get an exponent.
const EVERYDAY_FROM: i32 = -4;
/// Ten to this power and above get an exponent.
const EVERYDAY_BELOW: i32 = 7;

/// Where the leading digit of a finite number stands: 2 for 450, -3 for 0.0045, 0 for 0.
pub(super) fn leading_place(number: f64) -> i32 {
    exponent_of(&format!("{number:e}"))
}

fn exponent_of(scientific: &str) -> i32 {
    scientific.split_once('e').and_then(|(_, exponent)| exponent.parse().ok()).unwrap_or(0)
}

/// The last place that a half-width leaves standing: two digits of the half-width where its
/// leading digit is 1 or 2, one otherwise, so that rounding moves it by a sixth at most.
///
/// JCGM 100:2008, 7.2.6, allows at most two significant digits and asks for the value to the
/// same place.
pub(super) fn place_of_doubt(half_width: f64) -> i32 {
    let scientific = format!("{:e}", half_width.abs());
    let keeps_two = scientific.starts_with(['1', '2']);
    exponent_of(&scientific) - i32::from(keeps_two)
}

/// A finite number to so many significant digits, without trailing zeros behind the point.
pub(super) fn to_significant(number: f64, digits: usize) -> String {
    let scientific = format!("{number:.*e}", digits.saturating_sub(1));
    let leading = exponent_of(&scientific);
    if number == 0.0 {
        "0".to_owned()
    } else if is_everyday(leading) {
        let place = leading.saturating_sub(i32::try_from(digits).unwrap_or(i32::MAX) - 1);
        without_trailing_zeros(&to_place(number, place)).to_owned()
    } else {
        let (mantissa, _) = scientific.split_once('e').unwrap_or((&scientific, ""));
        format!("{}e{leading}", without_trailing_zeros(mantissa))
    }
}

/// A finite number rounded to a place, with an exponent where `size`, the leading place of the
/// largest number beside it, is no everyday size.
pub(super) fn to_place_at_size(number: f64, place: i32, size: i32) -> String {
    if is_everyday(size) {
        return to_place(number, place);
    }
    match usize::try_from(leading_place(number) - place) {
        Ok(digits) if number != 0.0 => format!("{number:.digits$e}"),
        // Rounding may still lift it to one unit of the place.
        _ if number.abs() >= 0.5 * power_of_ten(place) => {
            format!("{}1e{place}", if number < 0.0 { "-" } else { "" })
        }
        _ => "0".to_owned(),
    }
}

fn is_everyday(leading: i32) -> bool {
    (EVERYDAY_FROM..EVERYDAY_BELOW).contains(&leading)
}

/// A finite number rounded to a place: 0 for whole numbers, -1 for tenths, 1 for tens.
pub(super) fn to_place(number: f64, place: i32) -> String {
    let written = match usize::try_from(-place) {
        Ok(decimals) => format!("{number:.decimals$}"),
        Err(_) => {
            let scale = power_of_ten(place);
            format!("{:.0}", (number / scale).round() * scale)
        }
    };
    let is_zero = written.bytes().all(|b| matches!(b, b'-' | b'0' | b'.'));
    if is_zero { written.trim_start_matches('-').to_owned() } else { written }
}

fn power_of_ten(power: i32) -> f64 {
    // Reading the text gives the nearest number on every machine.
    format!("1e{power}").parse().unwrap_or(f64::INFINITY)
}

/// `1.50` as `1.5`, `2.0` as `2`, `100` unchanged.
pub(super) fn without_trailing_zeros(written: &str) -> &str {
    if written.contains('.') {
        written.trim_end_matches('0').trim_end_matches('.')
    } else {
        written
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn significant_digits_are_kept_without_padding() {
        for (number, digits, written) in [
            (45.0, 4, "45"),
            (0.0013, 4, "0.0013"),
            (166.666_67, 4, "166.7"),
            (760_000.0, 4, "760000"),
            (101_325.0, 4, "101300"),
            (99_999.0, 4, "100000"),
            (0.0, 4, "0"),
            (-0.000_1, 4, "-0.0001"),
            (0.000_012, 4, "1.2e-5"),
            (12_345_678.0, 3, "1.23e7"),
            (9_999_999.0, 3, "1e7"),
        ] {
            assert_eq!(to_significant(number, digits), written);
        }
    }

    #[test]
    fn a_half_width_keeps_two_digits_only_if_it_begins_small() {
        // The example of JCGM 100:2008, 7.2.6 (`memory`): a
        // resistance of 10.057 62 ohm with 27 milliohm is stated as 10.058 ohm.
        assert_eq!(to_place(10.057_62, place_of_doubt(0.027)), "10.058");
        assert_eq!(place_of_doubt(0.027), -3);
        assert_eq!(place_of_doubt(6.4), 0);
        assert_eq!(place_of_doubt(140.0), 1);
        assert_eq!(place_of_doubt(350.0), 2);
    }

    #[test]
    fn rounding_to_a_place_never_writes_a_negative_zero() {
        assert_eq!(to_place(-0.2, 0), "0");
        assert_eq!(to_place(1234.0, 1), "1230");
        assert_eq!(to_place(-1234.0, 2), "-1200");
        assert_eq!(to_place_at_size(1.234e-5, -7, -5), "1.23e-5");
        assert_eq!(to_place_at_size(1.0e-9, -7, -5), "0");
        assert_eq!(to_place_at_size(-9.0e-8, -7, -5), "-1e-7");
    }
}
