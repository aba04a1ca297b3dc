//! Near names: "did you mean", offered only when it is near.

/// The candidate that a mistyped name most likely meant, if one is near enough to be worth
/// saying: names under three letters get no guess, and the distance may be at most a third of
/// the name's length (at least 1, at most 3). Ties go to the first name in the alphabet. Where none
/// is as near, it is the one name that has the mistyped one as its first or last words.
#[must_use]
pub fn near_name<'a>(
    mistyped: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let candidates: Vec<&str> = candidates.into_iter().collect();
    let length = mistyped.chars().count();
    if length < 3 {
        return None;
    }
    let limit = (length / 3).clamp(1, 3);
    let mut longer = candidates.iter().copied().filter(|name| is_longer_name(name, mistyped));
    let by_letters = candidates
        .iter()
        .copied()
        .map(|name| (strsim::damerau_levenshtein(mistyped, name), name))
        .filter(|&(distance, name)| distance > 0 && distance <= limit && name.len() > 1)
        .min()
        .map(|(_, name)| name);
    by_letters.or_else(|| longer.next().filter(|first| longer.all(|other| other == *first)))
}

/// Whether a name has this one as its first or its last words.
fn is_longer_name(name: &str, words: &str) -> bool {
    let before = name.strip_suffix(words).is_some_and(|rest| rest.ends_with('_'));
    before || name.strip_prefix(words).is_some_and(|rest| rest.starts_with('_'))
}

#[cfg(test)]
mod tests {
    use super::near_name;

    #[test]
    fn only_near_names_are_offered() {
        assert_eq!(near_name("blank_of", ["blank_off", "ballast"]), Some("blank_off"));
        assert_eq!(near_name("micorn", ["micron", "mbar"]), Some("micron"));
        assert_eq!(near_name("xy", ["xz"]), None);
        assert_eq!(near_name("conductance", ["coldest_temperature"]), None);
    }

    #[test]
    fn the_only_name_with_these_words_is_offered() {
        assert_eq!(near_name("filter", ["filter_look", "hose_look"]), Some("filter_look"));
        assert_eq!(near_name("off", ["blank_off", "offset"]), Some("blank_off"));
        assert_eq!(near_name("look", ["filter_look", "hose_look"]), None);
        assert_eq!(near_name("filt", ["filter_look"]), None);
    }
}
