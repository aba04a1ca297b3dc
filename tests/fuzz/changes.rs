//! A piece of a corpus with some changes.

use proptest::prelude::*;

/// A change, each at a part of the whole.
#[derive(Clone, Debug)]
enum Change {
    /// Leaves out so many bytes.
    Cut(f64, usize),
    /// Puts so many bytes there once more.
    Double(f64, usize),
    /// Takes so many bytes to another place.
    Move(f64, usize, f64),
    /// Puts one byte in the place of another.
    Overwrite(f64, u8),
    /// Puts in a word.
    Word(f64, prop::sample::Index),
    /// Goes on with another piece from there.
    Join(f64, prop::sample::Index, f64),
    /// Puts in the same bytes many times.
    Repeat(f64, usize, usize),
}

const LONGEST: usize = 40;
const MOST_TIMES: usize = 400;
const MOST_CHANGES: usize = 7;

fn change() -> impl Strategy<Value = Change> {
    let at = || 0.0..1.0;
    prop_oneof![
        1 => (at(), 1..LONGEST).prop_map(|(at, length)| Change::Cut(at, length)),
        1 => (at(), 1..LONGEST).prop_map(|(at, length)| Change::Double(at, length)),
        1 => (at(), 1..LONGEST, at()).prop_map(|(at, length, to)| Change::Move(at, length, to)),
        1 => (at(), any::<u8>()).prop_map(|(at, byte)| Change::Overwrite(at, byte)),
        4 => (at(), any::<prop::sample::Index>()).prop_map(|(at, word)| Change::Word(at, word)),
        1 => (at(), any::<prop::sample::Index>(), at())
            .prop_map(|(at, other, from)| Change::Join(at, other, from)),
        1 => (at(), 1..4_usize, 1..MOST_TIMES)
            .prop_map(|(at, length, times)| Change::Repeat(at, length, times)),
    ]
}

/// Pieces of a corpus, changed.
pub fn changed(corpus: &[Vec<u8>], words: &[&str]) -> impl Strategy<Value = Vec<u8>> + use<> {
    assert!(!corpus.is_empty() && !words.is_empty());
    let (corpus, words) = (corpus.to_vec(), own(words));
    let changes = prop::collection::vec(change(), 0..MOST_CHANGES);
    (any::<prop::sample::Index>(), changes).prop_map(move |(piece, changes)| {
        let mut bytes = piece.get(&corpus).clone();
        for change in &changes {
            apply(&mut bytes, change, &corpus, &words);
        }
        bytes
    })
}

fn own(words: &[&str]) -> Vec<Vec<u8>> {
    words.iter().map(|word| word.as_bytes().to_vec()).collect()
}

fn apply(bytes: &mut Vec<u8>, change: &Change, corpus: &[Vec<u8>], words: &[Vec<u8>]) {
    let length = bytes.len();
    let place = |at: f64, of: usize| ((at * of as f64) as usize).min(of);
    let range = |at: f64, long: usize| {
        let from = place(at, length);
        from..(from + long).min(length)
    };
    match change {
        Change::Cut(at, long) => drop(bytes.drain(range(*at, *long))),
        Change::Double(at, long) => {
            let part = bytes[range(*at, *long)].to_vec();
            bytes.splice(place(*at, length)..place(*at, length), part);
        }
        Change::Move(at, long, to) => {
            let part: Vec<u8> = bytes.drain(range(*at, *long)).collect();
            let to = place(*to, bytes.len());
            bytes.splice(to..to, part);
        }
        Change::Overwrite(at, byte) => {
            if let Some(old) = bytes.get_mut(place(*at, length)) {
                *old = *byte;
            }
        }
        Change::Word(at, word) => {
            let at = place(*at, length);
            bytes.splice(at..at, word.get(words).iter().copied());
        }
        Change::Join(at, other, from) => {
            let other = other.get(corpus);
            bytes.truncate(place(*at, length));
            bytes.extend_from_slice(&other[place(*from, other.len())..]);
        }
        Change::Repeat(at, long, times) => {
            let part = bytes[range(*at, *long)].repeat(*times);
            let at = place(*at, length);
            bytes.splice(at..at, part);
        }
    }
}
