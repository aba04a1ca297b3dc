//! Fuzzing: what people and files give is changed at random, and whatever comes of it, nothing panics,
//! nothing steers a terminal, and what is taken can be gone on with.
//!
//! Each target changes pieces of a corpus of real files: it cuts, doubles, swaps and overwrites parts, puts in
//! words that mean something there, and joins two of them. `cargo test` runs some cases of each, other
//! ones every time unless `PROPTEST_RNG_SEED` is set. With `DRYHOLD_FUZZ_SECONDS=600` in the environment
//! each target runs for so long and prints how many cases it made:
//!
//! ```sh
//! DRYHOLD_FUZZ_SECONDS=600 cargo test --release --test suite -- fuzz --test-threads 1 --nocapture
//! ```
//!
//! What was run so far stands in `tests/fuzz/RESULTS.md`.

mod changes;
mod corpus;
mod files;
mod formulas;
mod talk;

use std::time::{Duration, Instant};

use proptest::test_runner::{Config, TestCaseError, TestError, TestRunner};

use changes::changed;

/// How many cases a test run makes of each target.
const CASES: u32 = 40;

/// How many cases are made before the clock is looked at.
const BLOCK: u32 = 200;

/// How long a target runs; none where it makes its few cases.
fn seconds() -> Option<Duration> {
    let text = std::env::var("DRYHOLD_FUZZ_SECONDS").ok()?;
    Some(Duration::from_secs(text.parse().expect("DRYHOLD_FUZZ_SECONDS is a number")))
}

/// Runs a target on changed pieces of a corpus. The target says what is not as it should be.
#[track_caller]
#[expect(clippy::print_stdout, reason = "how many cases were made is the result of a long run")]
fn fuzz(name: &str, corpus: &[Vec<u8>], words: &[&str], target: impl Fn(&[u8]) -> Option<String>) {
    let strategy = changed(corpus, words);
    let held = |bytes: Vec<u8>| match target(&bytes) {
        None => Ok(()),
        Some(fault) => Err(TestCaseError::fail(fault)),
    };
    let (begun, length) = (Instant::now(), seconds());
    let mut cases = 0;
    loop {
        let block = if length.is_some() { BLOCK } else { CASES };
        let config = Config { cases: block, failure_persistence: None, ..Config::default() };
        match TestRunner::new(config).run(&strategy, held) {
            Ok(()) => cases += block,
            Err(TestError::Fail(why, bytes)) => {
                panic!("{name}: {why}\n{:?}", String::from_utf8_lossy(&bytes))
            }
            Err(TestError::Abort(why)) => panic!("{name}: {why}"),
        }
        if length.is_none_or(|length| begun.elapsed() >= length) {
            break;
        }
    }
    if length.is_some() {
        let took = begun.elapsed().as_secs_f64();
        println!("fuzz {name}: {cases} cases in {took:.0} s");
    }
}

/// That a text would steer a terminal.
fn steers(text: &str) -> Option<String> {
    let found = text.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\t'));
    found.map(|c| format!("U+{:04X} is shown", u32::from(c)))
}

#[test]
fn a_target_that_does_not_hold_is_seen() {
    let caught = std::panic::catch_unwind(|| {
        fuzz("a test", &[b"aaaa".to_vec()], &["b"], |bytes| {
            bytes.contains(&b'b').then(|| "it holds a b".to_owned())
        });
    });
    let why = caught.unwrap_err();
    let why = why.downcast_ref::<String>().unwrap();
    assert!(why.contains("it holds a b"), "{why}");
}
