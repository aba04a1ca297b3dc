//! Near names: "did you mean", offered only when it is near.

/// The candidate that a mistyped name most likely meant, if one is near enough to be worth
/// saying: names under three letters get no guess, and the distance may be at most a third of
/// the name's length (at least 1, at most 3). Ties go to the first name in the alphabet.
#[must_use]
pub fn near_name<'a>(
    mistyped: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let length = mistyped.chars().count();
    if length < 3 {
        return None;
    }
    let limit = (length / 3).clamp(1, 3);
    candidates
        .into_iter()
        .map(|name| (strsim::damerau_levenshtein(mistyped, name), name))
        .filter(|&(distance, name)| distance > 0 && distance <= limit && name.len() > 1)
        .min()
        .map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use super::near_name;

    #[test]
    fn only_near_names_are_offered() {
        assert_eq!(near_name("blank_of", ["blank_off", "ballast"]), Some("blank_off"));
        assert_eq!(near_name("micorn", ["micron", "mbar"]), Some("micron"));
        assert_eq!(near_name("xy", ["xz"]), None);
        assert_eq!(near_name("conductance", ["coldest_spot"]), None);
    }
}
