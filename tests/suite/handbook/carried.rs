//! What was worked out of a case before an answer serves the case with the answer, and gives what
//! would be found anew.

use dryhold::case::{Case, Ending};
use dryhold::evidence::Engine;
use dryhold::rehearsal::rehearse;
use dryhold::report::verdict_json;

use super::checks::scenario;
use super::{handbook, yaml_below};

/// One scenario in so many is gone through: each is judged after every event.
const ONE_IN: usize = 20;

fn json(case: &Case<'_>) -> String {
    verdict_json(case, &Ending::Left).to_string()
}

/// Judged after each event, a case comes to what it comes to when it is judged once, at its end.
#[test]
fn a_case_judged_at_every_event_comes_to_the_same_verdict() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    let paths: Vec<_> = yaml_below("scenarios").into_iter().step_by(ONE_IN).collect();
    assert!(paths.len() > 30);
    for path in paths {
        let rehearsed = rehearse(&scenario(&path, &handbook), &handbook, &engine);
        let events = rehearsed.case.events();
        let mut case = Case::replay(&handbook, &engine, &events[..1]).unwrap();
        for event in &events[1..] {
            case.apply(event.clone()).unwrap();
            assert!(case.assessment().ranking.len() > 1, "{}", path.display());
        }
        let anew = Case::replay(&handbook, &engine, events).unwrap();
        assert_eq!(json(&case), json(&anew), "{}", path.display());
        assert_eq!(case.round_ends(), anew.round_ends(), "{}", path.display());
        assert_eq!(case.plans(), anew.plans(), "{}", path.display());
    }
}
