//! Units as people type them at a prompt, where the kind asked for settles what is meant.

use super::product::parse_unit_with;
use super::{Dimension, Nature, QuantityKind, UNITS, Unit, UnitError, UnitExpression, find_unit};

/// Several words, in lower case, that name one unit of pressure.
const PRESSURE_PHRASES: &[(&str, &str)] = &[
    ("in hg", "inHg"),
    ("in. hg", "inHg"),
    ("\"hg", "inHg"),
    ("inches hg", "inHg"),
    ("inches of mercury", "inHg"),
    ("in hg vac", "inHg_vac"),
    ("inhg vac", "inHg_vac"),
    ("inches of vacuum", "inHg_vac"),
    ("cmhg vac", "cmHg_vac"),
    ("mm hg", "mmHg"),
    ("mm of mercury", "mmHg"),
    ("um hg", "micron"),
    ("micron hg", "micron"),
    ("microns hg", "micron"),
    ("microns of mercury", "micron"),
    ("in wc", "inH2O"),
    ("in. wc", "inH2O"),
    ("in h2o", "inH2O"),
    ("inches of water", "inH2O"),
    ("bar g", "barg"),
    ("bar(g)", "barg"),
    ("psi g", "psig"),
    ("psi(g)", "psig"),
    ("kpa(g)", "kPag"),
    ("kpa g", "kPag"),
    ("mpa(g)", "MPag"),
    ("bar a", "bara"),
    ("bar(a)", "bara"),
    ("bar abs", "bara"),
    ("psi a", "psia"),
    ("psi(a)", "psia"),
    ("psi abs", "psia"),
    ("bar gauge", "barg"),
    ("psi gauge", "psig"),
    ("kpa gauge", "kPag"),
    ("mpa gauge", "MPag"),
    ("bar absolute", "bara"),
    ("psi absolute", "psia"),
];

/// Reads the unit typed at a prompt that asks for `kind`.
///
/// Beyond [`parse_unit`](super::parse_unit): `um` is a micron of mercury at a pressure prompt,
/// `C` and `F` are temperatures (or differences of them) at theirs, `"` and `'` are lengths,
/// upper and lower case don't matter where only one unit can be meant, and phrases such as
/// `inches of mercury`.
///
/// # Errors
/// As [`parse_unit`](super::parse_unit).
pub fn parse_prompt_unit(text: &str, kind: QuantityKind) -> Result<UnitExpression, UnitError> {
    let text = text.trim();
    if kind.dimension == Dimension::PRESSURE {
        let words: Vec<&str> = text.split_whitespace().collect();
        let phrase = words.join(" ").to_lowercase();
        if let Some(&(_, symbol)) = PRESSURE_PHRASES.iter().find(|(known, _)| *known == phrase)
            && let Some(unit) = find_unit(symbol)
        {
            return Ok(unit.into());
        }
    }
    let text = if kind.dimension == Dimension::TEMPERATURE { without_degree(text) } else { text };
    parse_unit_with(text, |word| find_prompt_unit(word, kind))
}

/// `deg C`, `degrees Fahrenheit`, `° C` and `Celsius` as `C` and `F`.
fn without_degree(text: &str) -> &str {
    let scale = ["degrees", "degree", "deg", "°"]
        .iter()
        .find_map(|word| text.strip_prefix(word))
        .map_or(text, str::trim_start);
    match scale.to_lowercase().as_str() {
        "c" | "celsius" | "centigrade" => "C",
        "f" | "fahrenheit" => "F",
        _ => text,
    }
}

fn find_prompt_unit(word: &str, kind: QuantityKind) -> Option<&'static Unit> {
    let word = word.strip_suffix('.').filter(|w| !w.is_empty()).unwrap_or(word);
    spoken(word, kind).or_else(|| find_unit(word)).or_else(|| in_any_case(word, kind))
}

/// Short forms whose meaning hangs on what was asked.
fn spoken(word: &str, kind: QuantityKind) -> Option<&'static Unit> {
    let is_difference = kind.nature == Nature::Difference;
    let symbol = match (kind.dimension, word) {
        (Dimension::PRESSURE, "um" | "µm" | "μm" | "mic" | "mics") => "micron",
        (Dimension::TEMPERATURE, "C" | "c" | "degC" | "°C" | "℃") => {
            if is_difference {
                "K"
            } else {
                "degC"
            }
        }
        (Dimension::TEMPERATURE, "F" | "f" | "degF" | "°F" | "℉") => {
            if is_difference {
                "degF_diff"
            } else {
                "degF"
            }
        }
        (Dimension::LENGTH, "\"" | "″" | "”" | "''") => "in",
        (Dimension::LENGTH, "'" | "′" | "’") => "ft",
        _ => return None,
    };
    find_unit(symbol)
}

/// The one unit that differs in upper and lower case only: of the dimension asked for, or, in a
/// product, with a name of three letters or more. `MPA` and its like stay unknown: with SI
/// prefixes the case decides between a thousandth and a million.
fn in_any_case(word: &str, kind: QuantityKind) -> Option<&'static Unit> {
    let folded = word.to_lowercase();
    if matches!(folded.as_str(), "mpa" | "mpag" | "mj" | "mw") {
        return None;
    }
    let mut found = UNITS.iter().filter(|unit| {
        (unit.kind.dimension == kind.dimension || folded.len() >= 3)
            && unit.spellings().any(|spelling| spelling.to_lowercase() == folded)
    });
    let first = found.next()?;
    found.next().is_none().then_some(first)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str, kind: QuantityKind) -> String {
        parse_prompt_unit(text, kind).map_or_else(|e| e.to_string(), |unit| unit.symbol)
    }

    #[test]
    fn the_kind_asked_for_settles_short_forms() {
        let pressure = QuantityKind::PRESSURE;
        for (text, symbol) in [
            ("um", "micron"),
            ("μm", "micron"),
            ("MICRONS", "micron"),
            ("PSIG", "psig"),
            ("torr", "Torr"),
            ("KPA", "kPa"),
            ("in  Hg", "inHg"),
            ("inches of mercury", "inHg"),
            ("bar(a)", "bara"),
        ] {
            assert_eq!(read(text, pressure), symbol, "{text}");
        }
        assert_eq!(read("bar gauge", QuantityKind::GAUGE_PRESSURE), "barg");
        assert_eq!(read("um", QuantityKind::LENGTH), "um");
        assert_eq!(read("\"", QuantityKind::LENGTH), "in");
        assert_eq!(read("in.", QuantityKind::LENGTH), "in");
        assert_eq!(read("F", QuantityKind::TEMPERATURE), "degF");
        assert_eq!(read("degrees c", QuantityKind::TEMPERATURE), "degC");
        assert_eq!(read("degrees Celsius", QuantityKind::TEMPERATURE), "degC");
        assert_eq!(read("celsius", QuantityKind::TEMPERATURE_DIFFERENCE), "K");
        assert_eq!(read("Fahrenheit", QuantityKind::TEMPERATURE), "degF");
        assert_eq!(read("°C", QuantityKind::TEMPERATURE_DIFFERENCE), "K");
        assert_eq!(read("CFM", QuantityKind::FLOW), "cfm");
        assert_eq!(read("MICRON/MIN", QuantityKind::RISE_RATE), "micron/min");
        assert_eq!(read("sec.", QuantityKind::TIME), "s");
    }

    #[test]
    fn a_prefix_in_the_wrong_case_is_not_guessed() {
        let message = "`MPA` is not a unit (did you mean `MPa`?)";
        assert_eq!(read("MPA", QuantityKind::PRESSURE), message);
        assert_eq!(read("C", QuantityKind::PRESSURE), "`C` is not a unit");
    }

    #[test]
    fn every_phrase_names_a_unit() {
        for (phrase, symbol) in PRESSURE_PHRASES {
            assert!(find_unit(symbol).is_some(), "{symbol}");
            assert_eq!(phrase.to_lowercase(), *phrase);
        }
    }
}
