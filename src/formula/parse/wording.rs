//! What to write for an operator in words: `less than`, `x`, `at least`, `earlier floor`.

/// Comparisons and arithmetic in words, longer ones first, with the sign that is meant.
const PHRASES: &[(&str, &str)] = &[
    ("less than or equal to", "<="),
    ("greater than or equal to", ">="),
    ("more than or equal to", ">="),
    ("no more than", "<="),
    ("no less than", ">="),
    ("less than", "<"),
    ("lower than", "<"),
    ("smaller than", "<"),
    ("shorter than", "<"),
    ("more than", ">"),
    ("greater than", ">"),
    ("higher than", ">"),
    ("larger than", ">"),
    ("bigger than", ">"),
    ("longer than", ">"),
    ("not more than", "<="),
    ("not less than", ">="),
    ("at least", ">="),
    ("at most", "<="),
    ("up to", "<="),
    ("below", "<"),
    ("under", "<"),
    ("above", ">"),
    ("over", ">"),
    ("exceeds", ">"),
    ("multiplied by", "*"),
    ("times", "*"),
    ("x", "*"),
    ("divided by", "/"),
    ("plus", "+"),
    ("minus", "-"),
];

/// Words by which people speak of an answer given before.
const EARLIER: &[&str] = &[
    "earlier",
    "previous",
    "previously",
    "former",
    "prior",
    "last",
    "before",
    "prev",
    "old",
    "ago",
];

/// What to write where an operator is missing between two parts of a formula; nothing if that
/// can't be told. `before` ends and `after` starts with a word.
pub(super) fn meant(before: &str, after: &str) -> Option<String> {
    let (left, right) = (before.trim_end(), after.trim_start());
    let (last, next) = (last_word(left), first_word(right));
    if let Some(sign) = phrase(last, right) {
        return Some(format!("write `{sign}`"));
    }
    if last == "no" {
        return Some(format!("write `not {next}`"));
    }
    if next == "between" {
        let name = if last.is_empty() { "value" } else { last };
        return Some(format!("write both ends: `low < {name} < high`, or `<=` for either"));
    }
    if matches!(next, "equals" | "equal") {
        return Some(
            "choices are compared with `is`, measured values with `<`, `<=`, `>` or `>=`"
                .to_owned(),
        );
    }
    if EARLIER.contains(&last) && is_name(next) {
        return Some(previous(next));
    }
    (EARLIER.contains(&next) && is_name(last)).then(|| previous(last))
}

/// The sign that stands for the words here; a comparison may have begun before them.
fn phrase(last: &str, right: &str) -> Option<&'static str> {
    if first_word(right) == "than" {
        let whole = format!("{last} than");
        return PHRASES.iter().find(|(words, _)| *words == whole).map(|(_, sign)| *sign);
    }
    let starts = |words: &str| {
        let behind = right.strip_prefix(words);
        behind.is_some_and(|behind| !behind.starts_with(|c: char| c.is_alphanumeric() || c == '_'))
    };
    PHRASES.iter().find(|(words, _)| starts(words)).map(|(_, sign)| *sign)
}

/// How an earlier answer is written.
pub(in crate::formula) fn previous(name: &str) -> String {
    format!(
        "did you mean `previous({name})`, the answer before the latest? The answer before an action \
         is `before(action, {name})`"
    )
}

/// The name that a word such as `previous_floor` or `floor_before` puts a word before or behind.
pub(in crate::formula) fn earlier_of(word: &str) -> Option<&str> {
    let is_earlier = |part: &str| EARLIER.contains(&part);
    let before = word.split_once('_').filter(|(first, _)| is_earlier(first)).map(|(_, name)| name);
    before.or_else(|| word.rsplit_once('_').filter(|(_, l)| is_earlier(l)).map(|(name, _)| name))
}

/// Whether a word that is called like a function asks for an earlier answer.
pub(in crate::formula) fn asks_for_earlier(function: &str) -> bool {
    EARLIER.contains(&function)
}

fn is_name(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_lowercase())
}

fn is_part(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

fn last_word(text: &str) -> &str {
    text.rsplit(|c: char| !is_part(c)).next().unwrap_or("")
}

fn first_word(text: &str) -> &str {
    text.split(|c: char| !is_part(c)).next().unwrap_or("")
}

#[cfg(test)]
mod tests {
    use super::{earlier_of, meant};

    #[test]
    fn words_lead_to_signs() {
        let sign = |before, after| meant(before, after).unwrap_or_default();
        assert_eq!(sign("share ", "less than enough"), "write `<`");
        assert_eq!(sign("share is less ", "than enough"), "write `<`");
        assert_eq!(sign("a ", "at least 5 micron"), "write `>=`");
        assert_eq!(sign("a ", "no more than b"), "write `<=`");
        assert_eq!(sign("bucket ", "x time"), "write `*`");
        assert_eq!(sign("no ", "too_high"), "write `not too_high`");
        assert_eq!(meant("bucket ", "xylene"), None);
        assert!(sign("earlier ", "floor").contains("`previous(floor)`"));
        assert!(sign("floor ", "before").contains("`previous(floor)`"));
    }

    #[test]
    fn a_word_may_hold_an_earlier_name() {
        assert_eq!(earlier_of("previous_floor"), Some("floor"));
        assert_eq!(earlier_of("blank_off_before"), Some("blank_off"));
        assert_eq!(earlier_of("blank_off"), None);
    }
}
