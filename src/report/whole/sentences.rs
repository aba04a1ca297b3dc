//! Texts taken apart into sentences.

/// The sentences of a text, without blanks around them. A sentence ends at a stop with a blank
/// behind it, so that no number is cut.
pub(in crate::report) fn sentences(text: &str) -> Vec<String> {
    let mut sentences = Vec::new();
    let mut open = String::new();
    for word in text.split_whitespace() {
        if !open.is_empty() {
            open.push(' ');
        }
        open.push_str(word);
        if word.trim_end_matches(['"', ')', '\'']).ends_with(['.', '?', '!']) {
            sentences.push(std::mem::take(&mut open));
        }
    }
    if !open.is_empty() {
        sentences.push(open);
    }
    sentences
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_ends_at_its_stop_and_not_within_a_number() {
        let text = "It reads 1.5 micron.  Is it \"dry\"? Hold it (for 0.5 h.) and so on";
        assert_eq!(
            sentences(text),
            ["It reads 1.5 micron.", "Is it \"dry\"?", "Hold it (for 0.5 h.)", "and so on"]
        );
        assert_eq!(sentences(" \n"), [""; 0]);
    }
}
