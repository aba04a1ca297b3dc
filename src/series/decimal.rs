//! Numbers as loggers write them, read in one pass over the bytes.

/// What a comma inside a number stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Comma {
    /// Not settled: a number with a comma can't be read.
    Unsettled,
    /// The decimal sign: `0,5`.
    Decimal,
    /// A mark between thousands: `1,200`.
    Thousands,
}

/// A number with the digits that were written, so that the last displayed place is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Decimal {
    /// The number; finite.
    pub value: f64,
    /// The digits without the point; the sign is left out.
    pub digits: u64,
    /// The power of ten of the last digit.
    pub exponent: i32,
}

/// Digits that are kept exactly; below 2^53, so that scaling rounds once only.
const EXACT_DIGITS: u64 = 1 << 53;
const POWERS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

impl Comma {
    /// What the comma of a number can only mean; none where it can mean both, or a point beside
    /// it makes a third reading of it possible.
    pub fn of(text: &str) -> Option<Self> {
        let digits = text.trim_start_matches(['-', '+']);
        let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
        let groups: Vec<&str> = whole.split(',').collect();
        let is_grouped = groups.len() > 1
            && (1..=3).contains(&groups[0].len())
            && !groups[0].starts_with('0')
            && groups[1..].iter().all(|group| group.len() == 3);
        let has_point = digits.contains('.');
        match (is_grouped, has_point) {
            (true, true) if !fraction.contains(',') => Some(Self::Thousands),
            (true, false) if groups.len() > 2 => Some(Self::Thousands),
            (false, false) if groups.len() == 2 => Some(Self::Decimal),
            _ => None,
        }
    }
}

impl Decimal {
    /// Reads the whole text as one number.
    pub fn read(text: &[u8], comma: Comma) -> Option<Self> {
        let (is_negative, unsigned) = match text {
            [b'-', rest @ ..] => (true, rest),
            [b'+', rest @ ..] => (false, rest),
            rest => (false, rest),
        };
        let mut read = Self { value: 0.0, digits: 0, exponent: 0 };
        let (mut seen, mut is_behind_point, mut is_long) = (0_usize, false, false);
        let mut at = 0;
        while let Some(&byte) = unsigned.get(at) {
            match byte {
                b'0'..=b'9' => {
                    seen += 1;
                    is_long |= read.digits >= EXACT_DIGITS / 10 - 1;
                    if !is_long {
                        read.digits = read.digits * 10 + u64::from(byte - b'0');
                        read.exponent -= i32::from(is_behind_point);
                    }
                }
                // Where commas are decimal signs, a point would part thousands or be a slip.
                b'.' if !is_behind_point && comma != Comma::Decimal => is_behind_point = true,
                b',' if !is_behind_point && comma == Comma::Decimal => is_behind_point = true,
                b',' if !is_behind_point && comma == Comma::Thousands => {
                    let is_group =
                        seen > 0 && unsigned.get(at + 1..at + 4)?.iter().all(u8::is_ascii_digit);
                    if !is_group || unsigned.get(at + 4).is_some_and(u8::is_ascii_digit) {
                        return None;
                    }
                }
                b'e' | b'E' if seen > 0 => break,
                _ => return None,
            }
            at += 1;
        }
        if seen == 0 {
            return None;
        }
        if at < unsigned.len() {
            let power: i32 = std::str::from_utf8(&unsigned[at + 1..]).ok()?.parse().ok()?;
            read.exponent = read.exponent.checked_add(power)?;
        }
        let size = if is_long { slow(unsigned, comma)? } else { read.size(unsigned, comma)? };
        read.value = if is_negative { -size } else { size };
        read.value.is_finite().then_some(read)
    }

    fn size(&self, text: &[u8], comma: Comma) -> Option<f64> {
        let power = POWERS.get(self.exponent.unsigned_abs() as usize);
        match power {
            Some(power) if self.exponent >= 0 => Some(self.digits as f64 * power),
            Some(power) => Some(self.digits as f64 / power),
            None => slow(text, comma),
        }
    }
}

/// The rounding of the standard library, for numbers too long or too far from one.
fn slow(text: &[u8], comma: Comma) -> Option<f64> {
    let text = std::str::from_utf8(text).ok()?;
    let plain = text.replace(',', if comma == Comma::Decimal { "." } else { "" });
    plain.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn value(text: &str, comma: Comma) -> Option<f64> {
        Decimal::read(text.as_bytes(), comma).map(|read| read.value)
    }

    #[test]
    fn numbers_keep_their_last_place() {
        let read = Decimal::read(b"-12.50", Comma::Unsettled).unwrap();
        assert_eq!(read, Decimal { value: -12.5, digits: 1250, exponent: -2 });
        let read = Decimal::read(b"1.5e3", Comma::Unsettled).unwrap();
        assert_eq!((read.value, read.digits, read.exponent), (1500.0, 15, 2));
    }

    #[test]
    fn a_comma_means_what_was_settled() {
        assert_eq!(value("0,5", Comma::Decimal), Some(0.5));
        assert_eq!(value("1,200.5", Comma::Thousands), Some(1200.5));
        assert_eq!(value("1,20", Comma::Thousands), None);
        assert_eq!(value("1,200", Comma::Unsettled), None);
        assert_eq!(value("1.200", Comma::Decimal), None);
    }

    #[test]
    fn a_comma_is_settled_only_where_it_means_one_thing() {
        for (text, meaning) in [
            ("0,5", Some(Comma::Decimal)),
            ("0,125", Some(Comma::Decimal)),
            ("420,25", Some(Comma::Decimal)),
            ("1,200.5", Some(Comma::Thousands)),
            ("1,200,000", Some(Comma::Thousands)),
            ("1,200", None),
            ("1.200,5", None),
        ] {
            assert_eq!(Comma::of(text), meaning, "{text}");
        }
    }

    #[test]
    fn what_is_no_number_is_none() {
        for text in ["", "-", ".", "e5", "1e", "1.2.3", "nan", "inf", "1e999", "0x10", "1 2"] {
            assert_eq!(value(text, Comma::Unsettled), None, "{text}");
        }
    }

    proptest! {
        #[test]
        fn every_float_is_read_as_the_standard_library_does(number in any::<f64>()) {
            prop_assume!(number.is_finite());
            for text in [format!("{number:?}"), format!("{number}"), format!("{number:.3}")] {
                let expected: f64 = text.parse().unwrap();
                prop_assert_eq!(value(&text, Comma::Unsettled), Some(expected), "{}", text);
            }
        }
    }
}
