//! `dryhold eval`.

use super::transcript::replays;

#[test]
fn a_session_prints_what_it_should() {
    replays("eval");
}
