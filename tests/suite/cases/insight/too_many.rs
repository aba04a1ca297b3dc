//! More repairs than can be weighed together.

use dryhold::case::{Ending, Event};
use dryhold::evidence::Engine;
use dryhold::report::{verdict, verdict_json};

use super::super::handbooks::{Bench, handbook};

/// So many causes that one looks for, each with a repair of its own.
fn many(causes: usize) -> String {
    let each = |line: &dyn Fn(usize) -> String| (0..causes).map(line).collect::<String>();
    let shown = each(&|i| format!("      fault_{i}: 0.6\n"));
    let faults = each(&|i| {
        format!(
            "  fault_{i}:\n    name: Fault {i}\n    how_common: 0.05\n    because: It breaks.\n    \
             fix: [mend_{i}]\n    cured_by: {{mend_{i}: 0.9}}\n    basis: estimate\n"
        )
    });
    let mends = each(&|i| format!("  mend_{i}:\n    do: Mend {i}.\n    takes: 5 min\n"));
    format!(
        "format: 1\nname: Many\nversion: 1\nquestions:\n  reads_high:\n    ask: Does it read high?\n    \
         kind: yes/no\nfindings:\n  high:\n    when: reads_high\n    shown_by:\n{shown}    anyway: 0.05\n    \
         basis: estimate\ncauses:\n{faults}actions:\n{mends}trees:\n  pump:\n    title: The pump\n    start: \
         high\n    steps:\n      high:\n        ask: reads_high\n        next: done\n      done:\n        end: \
         The pump was read.\n"
    )
}

/// What is said of repairs that are not weighed, after these repairs of so many causes.
fn said(causes: usize, mended: &[usize]) -> (Vec<String>, serde_json::Value, Vec<f64>) {
    let handbook = handbook(&many(causes));
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "pump");
    bench.answer("reads_high", "yes");
    for fault in mended {
        let (tree, step) = ("pump".to_owned(), "high".to_owned());
        bench.apply(Event::Acted { action: format!("mend_{fault}"), tree, step });
    }
    let said = verdict(&bench.case, &Ending::Done).into_iter().map(|line| line.to_text());
    let said = said.filter(|line| line.contains("not weighed")).collect();
    let json = verdict_json(&bench.case, &Ending::Done)["not_weighed"].clone();
    let probabilities = (0..causes).map(|i| bench.probability(&format!("fault_{i}"))).collect();
    (said, json, probabilities)
}

#[test]
fn a_repair_that_is_not_weighed_is_told() {
    let (told, json, _) = said(16, &[3, 9]);
    assert_eq!((told.len(), json), (0, serde_json::json!([])), "two repairs of 16 fit");
    let (told, json, now) = said(16, &[3, 9, 5]);
    assert_eq!(json, serde_json::json!(["fault_3"]), "the oldest");
    let [told] = &told[..] else { panic!("{told:?}") };
    assert!(told.starts_with("Repairs against Fault 3 are not weighed"), "{told}");
    assert!(now[9] < 0.2 * now[0] && now[5] < 0.2 * now[0], "these are weighed: {now:?}");
    assert!((now[3] - now[0]).abs() < 1e-9, "as if it had not been mended: {now:?}");
}
