//! `dryhold diagnose` with answers given: the verdict in words.

use super::stand::Stand;
use super::transcript::replays;

#[test]
fn a_session_prints_what_it_should() {
    replays("diagnose");
}

/// A safety stop of the built-in handbook says whom to ask and nothing that sounds like going on.
#[test]
fn a_stop_refers_and_offers_no_next_check() {
    let ran = Stand::new().run(&["diagnose", "pump_alone", "--set", "blank_off=900 micron"]);
    assert_eq!(ran.status, Some(4), "{ran:?}");
    assert!(ran.stdout.starts_with("CAUTION: Stopped for safety."), "{}", ran.stdout);
    assert!(ran.stdout.contains(" Ask "), "{}", ran.stdout);
    assert!(ran.stdout.contains("\nBefore you act\n"), "{}", ran.stdout);
    assert!(!ran.stdout.contains("What to check next"), "{}", ran.stdout);
    assert!(!ran.stdout.contains("What to do about it"), "{}", ran.stdout);
}
