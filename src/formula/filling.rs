//! What a text is made of once its values are known: sentences that are whole, and words that follow
//! on each other.

use crate::text::Line;

/// A piece of a filled text.
pub(super) enum Told<'a> {
    /// As its author wrote it.
    Text(&'a str),
    /// A value that is known.
    Value(String),
    /// The value is not known.
    Missing(String),
}

/// The words that somebody gave, without an article that the text has before them already.
pub(super) fn without_article(line: &Line, told: String) -> String {
    let before = line.pieces.last().map_or("", |piece| piece.text.as_str());
    let last = before.rsplit(char::is_whitespace).nth(1).unwrap_or_default();
    match told.split_once(' ') {
        Some((article, rest))
            if article.eq_ignore_ascii_case("the") && last.eq_ignore_ascii_case("the") =>
        {
            rest.to_owned()
        }
        _ => told,
    }
}

/// Whether a text ends in an article, so that a name fits behind it: `Take off the `.
pub(super) fn ends_in_article(text: &str) -> bool {
    let last = text.split_whitespace().next_back().unwrap_or_default();
    ["the", "this", "that"].iter().any(|article| last.eq_ignore_ascii_case(article))
}

/// The sentences of a filled text, each with the blank behind it.
pub(super) fn sentences<'a>(pieces: impl Iterator<Item = Told<'a>>) -> Vec<Vec<Told<'a>>> {
    let mut sentences = vec![Vec::new()];
    let mut add = |piece: Told<'a>, is_last: bool| {
        if let Some(sentence) = sentences.last_mut() {
            sentence.push(piece);
        }
        if is_last {
            sentences.push(Vec::new());
        }
    };
    for piece in pieces {
        let Told::Text(mut text) = piece else {
            add(piece, false);
            continue;
        };
        while let Some(end) = end_of_sentence(text) {
            let (sentence, rest) = text.split_at(end);
            add(Told::Text(sentence), true);
            text = rest;
        }
        if !text.is_empty() {
            add(Told::Text(text), false);
        }
    }
    sentences.retain(|sentence| !sentence.is_empty());
    sentences
}

/// Where the next sentence of a text begins.
fn end_of_sentence(text: &str) -> Option<usize> {
    [". ", "! ", "? "].iter().filter_map(|stop| text.find(stop)).min().map(|at| at + 2)
}
