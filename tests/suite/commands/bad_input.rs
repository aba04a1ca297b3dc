//! `dryhold bad_input`.

use super::transcript::replays;

#[test]
fn a_session_prints_what_it_should() {
    replays("bad_input");
}
