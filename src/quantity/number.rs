//! The number at the beginning of what a person typed.

/// Who writes the number, and so which spellings are understood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Manner {
    /// A person at a prompt: thousands commas and mixed fractions as well.
    Prompt,
    /// An author in a handbook: plain numbers and fractions.
    Setting,
}

/// Why no number could be read. Each mend is the whole number, written right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum NumberFault {
    /// There is none, or it is malformed.
    None,
    /// A comma where the point belongs.
    DecimalComma { number: String, mend: String },
    /// A thousands comma or a mixed fraction where only plain numbers are understood.
    PromptOnly { number: String, mend: String },
    /// A blank between digits.
    Blank { number: String, mend: String },
    /// A fraction over zero, or a number too large to be held.
    NotFinite { number: String },
}

/// The number that `text` begins with, and the rest of the text.
pub(super) fn read_number(text: &str, manner: Manner) -> Result<(f64, &str), NumberFault> {
    let (is_negative, body) = match text.strip_prefix('-') {
        Some(body) => (true, body),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let body = body.trim_start();
    let (size, rest) = read_size(body, manner)?;
    if !size.is_finite() {
        let number = text[..text.len() - rest.len()].trim().to_owned();
        return Err(NumberFault::NotFinite { number });
    }
    Ok((if is_negative { -size } else { size }, rest))
}

fn read_size(body: &str, manner: Manner) -> Result<(f64, &str), NumberFault> {
    let (digits, rest) = split_while(body, |c| c.is_ascii_digit() || matches!(c, '.' | ','));
    if !digits.contains(|c: char| c.is_ascii_digit()) {
        return Err(NumberFault::None);
    }
    if let Some((fraction, rest)) = read_fraction(body) {
        return Ok((fraction, rest));
    }
    let (power, rest) = split_power(rest);
    let plain = if digits.contains(',') { without_commas(digits, manner)? } else { digits.into() };
    let whole: f64 = format!("{plain}{power}").parse().map_err(|_| NumberFault::None)?;
    let is_whole = power.is_empty() && digits.bytes().all(|b| b.is_ascii_digit());
    match rest.strip_prefix('-').unwrap_or(rest.trim_start()) {
        next if is_whole && next.len() < rest.len() => {
            if let Some((fraction, after)) = read_fraction(next) {
                mixed(whole, fraction, after, body, manner)
            } else {
                refuse_blank(digits, rest)?;
                Ok((whole, rest))
            }
        }
        _ => {
            refuse_blank(digits, rest)?;
            Ok((whole, rest))
        }
    }
}

fn mixed<'a>(
    whole: f64,
    fraction: f64,
    after: &'a str,
    body: &str,
    manner: Manner,
) -> Result<(f64, &'a str), NumberFault> {
    let sum = whole + fraction;
    if manner == Manner::Setting {
        let number = body[..body.len() - after.len()].trim().to_owned();
        return Err(NumberFault::PromptOnly { number, mend: sum.to_string() });
    }
    Ok((sum, after))
}

/// `3/8`, without blanks, and what follows it.
fn read_fraction(text: &str) -> Option<(f64, &str)> {
    let (over, rest) = split_while(text, |c| c.is_ascii_digit());
    let (under, rest) = split_while(rest.strip_prefix('/')?, |c| c.is_ascii_digit());
    let is_fraction = !rest.starts_with(['.', ',', '/']);
    let (over, under): (f64, f64) = (over.parse().ok()?, under.parse().ok()?);
    is_fraction.then_some((over / under, rest))
}

/// The power of ten, if one follows directly: `e3`, `E-5`.
fn split_power(text: &str) -> (&str, &str) {
    let mut letters = text.chars();
    let has_mark = matches!(letters.next(), Some('e' | 'E'));
    let after_mark = letters.as_str();
    let unsigned = after_mark.strip_prefix(['-', '+']).unwrap_or(after_mark);
    let (digits, rest) = split_while(unsigned, |c| c.is_ascii_digit());
    if has_mark && !digits.is_empty() { text.split_at(text.len() - rest.len()) } else { ("", text) }
}

/// A number written with commas, if they stand between groups of three digits.
fn without_commas(digits: &str, manner: Manner) -> Result<String, NumberFault> {
    let number = digits.to_owned();
    let (whole, decimals) = digits.split_once('.').unwrap_or((digits, ""));
    let mut groups = whole.split(',');
    let first = groups.next().unwrap_or_default();
    let is_grouped = whole.contains(',')
        && !decimals.contains([',', '.'])
        && (1..=3).contains(&first.len())
        && !first.starts_with('0')
        && groups.all(|group| group.len() == 3);
    if is_grouped {
        let mend = digits.replace(',', "");
        return match manner {
            Manner::Prompt => Ok(mend),
            Manner::Setting => Err(NumberFault::PromptOnly { number, mend }),
        };
    }
    match digits.split_once(',') {
        Some((whole, decimals))
            if !whole.is_empty()
                && !decimals.is_empty()
                && decimals.bytes().all(|b| b.is_ascii_digit()) =>
        {
            let mend = format!("{}.{decimals}", whole.replace('.', ""));
            Err(NumberFault::DecimalComma { number, mend })
        }
        _ => Err(NumberFault::None),
    }
}

/// Refuses `1 200`: which number that is would be a guess.
fn refuse_blank(digits: &str, rest: &str) -> Result<(), NumberFault> {
    let (more, after) = split_while(rest.trim_start(), |c| c.is_ascii_digit() || c == '.');
    // `5 1/min` is five per minute.
    let is_number = rest.starts_with(char::is_whitespace)
        && more.starts_with(|c: char| c.is_ascii_digit())
        && !after.starts_with('/');
    if is_number {
        let (number, mend) = (format!("{digits} {more}"), format!("{digits}{more}"));
        return Err(NumberFault::Blank { number, mend });
    }
    Ok(())
}

fn split_while(text: &str, belongs: impl Fn(char) -> bool) -> (&str, &str) {
    let end = text.find(|c| !belongs(c)).unwrap_or(text.len());
    text.split_at(end)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<(f64, &str), NumberFault> {
        read_number(text, Manner::Prompt)
    }

    #[test]
    fn numbers_are_read_as_people_write_them() {
        for (text, number, rest) in [
            ("45", 45.0, ""),
            ("-10 degC", -10.0, " degC"),
            ("45um", 45.0, "um"),
            (".5", 0.5, ""),
            ("5.", 5.0, ""),
            ("1,200", 1200.0, ""),
            ("1,234,567.5 Pa", 1_234_567.5, " Pa"),
            ("1.5e3", 1500.0, ""),
            ("2E-3m", 0.002, "m"),
            ("5 exa", 5.0, " exa"),
            ("3/8 in", 0.375, " in"),
            ("1-1/8 in", 1.125, " in"),
            ("1 1/8 in", 1.125, " in"),
            ("-1 1/2", -1.5, ""),
            ("5 1/min", 5.0, " 1/min"),
            ("25 +- 5", 25.0, " +- 5"),
        ] {
            assert_eq!(read(text), Ok((number, rest)), "{text}");
        }
    }

    #[test]
    fn what_could_be_two_numbers_is_refused_with_the_likely_one() {
        let comma = |number: &str, mend: &str| {
            Err(NumberFault::DecimalComma { number: number.into(), mend: mend.into() })
        };
        assert_eq!(read("0,5"), comma("0,5", "0.5"));
        assert_eq!(read("12,5 micron"), comma("12,5", "12.5"));
        assert_eq!(read("0,500"), comma("0,500", "0.500"));
        assert_eq!(read("1.234,5"), comma("1.234,5", "1234.5"));
        let blank = NumberFault::Blank { number: "1 200".into(), mend: "1200".into() };
        assert_eq!(read("1 200 micron"), Err(blank));
        assert_eq!(read("3/0 in"), Err(NumberFault::NotFinite { number: "3/0".into() }));
        assert_eq!(read("1e999"), Err(NumberFault::NotFinite { number: "1e999".into() }));
    }

    #[test]
    fn nonsense_is_no_number() {
        for text in ["", "-", "abc", "1.2.3", ",", "1,", ",5", "1,23,4", "."] {
            assert_eq!(read(text), Err(NumberFault::None), "{text}");
        }
    }

    #[test]
    fn settings_keep_to_plain_numbers() {
        let fault = |text| read_number(text, Manner::Setting).unwrap_err();
        let prompt_only = |number: &str, mend: &str| NumberFault::PromptOnly {
            number: number.into(),
            mend: mend.into(),
        };
        assert_eq!(fault("1,200 micron"), prompt_only("1,200", "1200"));
        assert_eq!(fault("1-1/8 in"), prompt_only("1-1/8", "1.125"));
        assert_eq!(read_number("3/8 in", Manner::Setting), Ok((0.375, " in")));
    }
}
