//! Whatever happens to a line or a word of a sound handbook, what is wrong is told: nothing
//! panics, and a handbook that can't run says why, inside the file.

use std::collections::BTreeMap;

use dryhold::diagnostic::{Code, Diagnostic, Look, Severity, render};
use dryhold::handbook::{Compiled, compile};
use dryhold::source::Sources;

/// A handbook with every section; every number is invented.
const SOUND: &str = include_str!("../data/sound-handbook.yaml");

/// Draws numbers from a seed, the same ones every time (a linear congruential generator; how
/// even the numbers are does not matter here).
struct Draws(u64);

impl Draws {
    fn below(&mut self, end: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % end
    }
}

fn compiled(text: &str) -> (Sources, Compiled) {
    let mut sources = Sources::default();
    let id = sources.add("handbook.yaml", text);
    let compiled = compile(&sources, &[id], &[]);
    (sources, compiled)
}

/// Checks that a text is sound or says why not, and gives what it says.
#[track_caller]
fn is_told(text: &str, what: &str) -> Vec<Diagnostic> {
    let (sources, compiled) = compiled(text);
    let Compiled { handbook, faults, .. } = compiled;
    let errors = faults.iter().filter(|fault| fault.severity() == Severity::Error).count();
    assert_eq!(handbook.is_some(), errors == 0, "{what}: {faults:#?}");
    for fault in &faults {
        let span = fault.span().unwrap_or_else(|| panic!("{what}: {fault:?} is nowhere"));
        let is_inside = sources.get(span.source).text().get(span.start..span.end).is_some();
        assert!(is_inside, "{what}: {fault:?}");
    }
    let starts: Vec<_> = faults.iter().map(|fault| fault.span()).collect();
    assert!(starts.is_sorted(), "{what}: out of order: {faults:#?}");
    assert_eq!(render(&faults, &sources, Look::default()).is_empty(), faults.is_empty());
    faults
}

#[test]
fn the_sound_handbook_is_sound() {
    assert_eq!(is_told(SOUND, "whole"), []);
}

#[test]
fn a_line_that_is_missing_is_no_panic() {
    let lines: Vec<&str> = SOUND.lines().collect();
    let mut faulty = 0;
    for missing in 0..lines.len() {
        let rest: Vec<&str> = lines
            .iter()
            .enumerate()
            .filter(|(i, _)| *i != missing)
            .map(|(_, line)| *line)
            .collect();
        let text = rest.join("\n") + "\n";
        faulty += usize::from(!is_told(&text, &format!("without {:?}", lines[missing])).is_empty());
    }
    assert!(faulty * 2 > lines.len(), "only {faulty} of {} lines are missed", lines.len());
}

/// Where the identifiers of a text stand: words of small letters, digits and `_`.
fn identifiers(text: &str) -> Vec<(usize, usize)> {
    let is_part = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
    let mut words = Vec::new();
    let mut start = None;
    for (at, c) in text.char_indices() {
        match (is_part(c), start) {
            (true, None) => start = Some(at),
            (false, Some(from)) => {
                words.push((from, at));
                start = None;
            }
            _ => {}
        }
    }
    words
}

/// A word with one letter changed, dropped, doubled or swapped with the next.
fn misspelt(word: &str, draws: &mut Draws) -> String {
    let mut letters: Vec<char> = word.chars().collect();
    let at = draws.below(letters.len());
    match draws.below(4) {
        0 => letters[at] = char::from(b'a' + draws.below(26) as u8),
        1 => drop(letters.remove(at)),
        2 => letters.insert(at, letters[at]),
        _ => {
            let next = (at + 1) % letters.len();
            letters.swap(at, next);
        }
    }
    letters.into_iter().collect()
}

#[test]
fn a_misspelt_word_is_no_panic() {
    let words = identifiers(SOUND);
    let mut draws = Draws(7);
    let mut seen: BTreeMap<Code, usize> = BTreeMap::new();
    for _ in 0..400 {
        let (from, to) = words[draws.below(words.len())];
        let word = &SOUND[from..to];
        let wrong = misspelt(word, &mut draws);
        let text = format!("{}{wrong}{}", &SOUND[..from], &SOUND[to..]);
        let what = format!("`{wrong}` for `{word}` at {from}");
        let faults = is_told(&text, &what);
        // One slip is one fault, or one for each place that names what was misspelt.
        assert!(faults.len() <= 12, "{what}: {faults:#?}");
        for fault in faults {
            *seen.entry(fault.code).or_default() += 1;
        }
    }
    for code in [Code::UnknownKey, Code::UnknownName, Code::DanglingStep, Code::UnknownWord] {
        assert!(seen.contains_key(&code), "{code} never came: {seen:?}");
    }
}

#[test]
fn many_slips_at_once_are_no_panic() {
    let words = identifiers(SOUND);
    let mut draws = Draws(11);
    for round in 0..60 {
        let mut text = SOUND.to_owned();
        let mut at: Vec<(usize, usize)> = (0..8).map(|_| words[draws.below(words.len())]).collect();
        at.sort_unstable();
        at.dedup();
        for &(from, to) in at.iter().rev() {
            let wrong = misspelt(&SOUND[from..to], &mut draws);
            text.replace_range(from..to, &wrong);
        }
        is_told(&text, &format!("round {round}"));
    }
}

#[test]
fn a_file_that_can_not_be_read_hides_no_other_fault_and_makes_no_noise() {
    let mut sources = Sources::default();
    let broken = sources.add("broken.yaml", "actions:\n  drain: [\n");
    let rest = sources.add(
        "handbook.yaml",
        "format: 1\nname: Two\nversion: 1\ncauses:\n  wet:\n    name: Wet\n    how_common: ofen\n    \
         because: Rain.\n    fix: [drain]\n    basis: estimate\n",
    );
    let faults = compile(&sources, &[broken, rest], &[]).faults;
    let codes: Vec<&str> = faults.iter().map(|fault| fault.code.number()).collect();
    assert_eq!(codes, ["H102", "H210"], "{faults:#?}");
}

#[test]
fn a_long_chain_of_formulas_is_followed_without_recursion() {
    let chain: String = (0..3000)
        .map(|i| format!("  f{i}:\n    is: f{}\n", i + 1))
        .chain(["  f3000:\n    is: f0\n".to_owned()])
        .collect();
    let text = format!("format: 1\nname: Chain\nversion: 1\nformulas:\n{chain}");
    let (_, compiled) = compiled(&text);
    let [fault] = compiled.faults.as_slice() else { panic!("{}", compiled.faults.len()) };
    assert_eq!(fault.code, Code::FormulaCycle);
    assert!(fault.title.len() < 200, "{}", fault.title);
}

#[test]
fn faults_of_one_file_are_bounded() {
    let causes: String =
        (0..1000).map(|i| format!("  c{i}: {{name: C, how_common: so, because: X.}}\n")).collect();
    let text = format!("format: 1\nname: Many\nversion: 1\ncauses:\n{causes}");
    let (_, compiled) = compiled(&text);
    assert_eq!(compiled.faults.len(), 1000);
    let note = compiled.faults[999].note.as_deref().unwrap();
    assert_eq!(note, "1001 more faults of this file are not kept");
}
