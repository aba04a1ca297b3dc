//! `dryhold rehearse`: where a scenario ends, and answers that no step asks for.

use super::stand::{Ran, Stand};

/// What the starter's scenario answers; its tree mends a seal and reads the rise again.
const ANSWERS: &str = "\
scenario: A torn seal
tree: start
answers:
  is_safe: yes
  allowed_rise: 100 micron
  was_wet: no
  at_first: [300 micron, 280 micron]
  after_ten: [900 micron, 310 micron]
  seal_look: torn
acknowledge: [nothing_under_pressure]
";

fn stand() -> Stand {
    let stand = Stand::new();
    let made = stand.run(&["new", "handbook", "Parts", "--into", "parts"]);
    assert_eq!(made.status, Some(0), "{made:?}");
    stand
}

fn rehearsed(stand: &Stand, text: &str, more: &[&str]) -> Ran {
    stand.write("one.yaml", text);
    stand.run(&[&["--only-rules", "parts", "rehearse", "one.yaml"], more].concat())
}

/// What is said below the line of the scenario.
fn said(ran: &Ran) -> Vec<&str> {
    ran.stdout.lines().skip(1).map_while(|row| row.strip_prefix("             ")).collect()
}

fn expecting(expect: &str) -> String {
    format!("{ANSWERS}expect: {{{expect}}}\n")
}

#[test]
fn a_scenario_says_at_which_step_it_ends() {
    let stand = stand();
    for met in ["end: good", "end: start.good, settled: yes", "settled: true, stopped: false"] {
        let ran = rehearsed(&stand, &expecting(met), &[]);
        assert_eq!((ran.status, said(&ran)), (Some(0), vec![]), "{met}");
    }
    let ran = rehearsed(&stand, &expecting("end: still_rises"), &[]);
    let missed = "otherwise: it should end at `still_rises`, and ended at `good`";
    let parted = "  - at `second`, `rises` was no, `rise` was 30 micron and `allowed_rise` was 100 \
                  micron, so it went to `good` (else: no condition held)";
    assert_eq!((ran.status, said(&ran)), (Some(1), vec![missed, parted]));
    let torn = expecting("end: not_safe");
    let by_answer = "  - at `safe`, `is_safe` was `yes`, so it went to `limit` (by its answer)";
    assert_eq!(said(&rehearsed(&stand, &torn, &[]))[1], by_answer);
    let used_up = expecting("end: good").replace("310 micron", "900 micron");
    let row = "  - at `second`, `rises` was yes";
    assert!(said(&rehearsed(&stand, &used_up, &[])).iter().any(|told| told.starts_with(row)));
    let told = rehearsed(&stand, &expecting("end: start.look"), &["--format", "json"]).json();
    let miss = &told["outcomes"][0]["misses"][0];
    assert_eq!((&miss["about"], &miss["found"]), (&"end".into(), &"start.good".into()));
    assert_eq!(told["outcomes"][0]["end"], "start.good");
}

/// A step that stops the work is an end, and says that it is stopped.
#[test]
fn an_end_at_a_stop_step_needs_no_other_word() {
    let stand = stand();
    let unsafe_part = expecting("end: not_safe").replace("is_safe: yes", "is_safe: no");
    assert_eq!(rehearsed(&stand, &unsafe_part, &[]).status, Some(0));
    let both = unsafe_part.replace("not_safe}", "not_safe, stopped: no}");
    let ran = rehearsed(&stand, &both, &[]);
    let missed = "otherwise: the work should be stopped by nothing, and is at step `not_safe`";
    assert_eq!((ran.status, said(&ran)[0]), (Some(1), missed));
}

#[test]
fn an_end_is_blessed_in_its_form() {
    let stand = stand();
    for (old, new) in [("look", "good"), ("start.look", "start.good"), ("'look'", "good")] {
        let text = expecting(&format!("end: {old}"));
        assert_eq!(rehearsed(&stand, &text, &["--bless"]).status, Some(0), "{old}");
        let blessed = std::fs::read_to_string(stand.path("one.yaml")).unwrap();
        assert_eq!(blessed, text.replace(&format!("end: {old}"), &format!("end: {new}")));
    }
}

#[test]
fn an_end_that_is_taken_for_a_stop_is_told_apart() {
    let ran = rehearsed(&stand(), &expecting("stopped: good"), &[]);
    assert_eq!(ran.status, Some(2));
    assert!(ran.stderr.contains("to say at which step it ends, write `end: good`"), "{ran:?}");
}

/// The tree went another way than its author thought, and the answers left say so.
#[test]
fn answers_that_no_step_asked_for_are_told() {
    let stand = stand();
    let sound = ANSWERS.replace("[900 micron, 310 micron]", "310 micron");
    let ran = rehearsed(&stand, &format!("{sound}expect: {{end: good}}\n"), &[]);
    let told = [
        "remark: no step asked for `seal_look`; it counts as told beforehand",
        "remark: the 2nd answer to `at_first` was not asked for",
    ];
    assert_eq!((ran.status, said(&ran)), (Some(0), told.to_vec()));
    let json = rehearsed(&stand, &sound, &["--format", "json"]).json();
    assert_eq!(json["outcomes"][0]["remarks"].as_array().unwrap().len(), 2);
    // Told on purpose, it is told before anything is asked, and nothing more is said.
    let meant = sound.replace("[300 micron, 280 micron]", "300 micron") + "told: [seal_look]\n";
    assert_eq!(said(&rehearsed(&stand, &meant, &[])), Vec::<&str>::new());
    let ran = rehearsed(&stand, &(sound + "told: [seal_lok]\n"), &[]);
    assert!(ran.stderr.contains("error[H206]: `seal_lok` is told, and has no answer"), "{ran:?}");
    assert!(ran.stderr.contains("did you mean `seal_look`?"), "{ran:?}");
}

/// What is left of a list is no reading that anybody took: it moves nothing.
#[test]
fn a_leftover_of_a_list_counts_as_nothing() {
    let stand = stand();
    let probability = |at_first: &str| {
        let text = expecting("ranking: {leaky_seal: almost certain}")
            .replace("[900 micron, 310 micron]", "310 micron")
            .replace("[300 micron, 280 micron]", at_first);
        let told = rehearsed(&stand, &text, &["--format", "json"]).json();
        told["outcomes"][0]["misses"][0]["probability"].as_f64().unwrap()
    };
    assert!((probability("300 micron") - probability("[300 micron, 20 micron]")).abs() < 1e-12);
}

/// After a repair the answer from before it says nothing, so it is not given again.
#[test]
fn a_rehearsal_ends_where_its_answers_do() {
    let stand = stand();
    let once = ANSWERS
        .replace("[300 micron, 280 micron]", "300 micron")
        .replace("[900 micron, 310 micron]", "900 micron");
    let ran = rehearsed(&stand, &format!("{once}expect: {{end: first}}\n"), &[]);
    let remark = "remark: `at_first` is asked once more and has no answer left, so it ends there; \
                  where it is passed over, the answer is `skip`";
    assert_eq!((ran.status, said(&ran)), (Some(0), vec![remark]));
    assert!(ran.stdout.contains("  start.still_rises\n"), "{ran:?}");
    let skipped = once.replace("300 micron\n", "[300 micron, skip]\n");
    let skipped = skipped.replace("900 micron\n", "[900 micron, skip]\n");
    let ran = rehearsed(&stand, &format!("{skipped}expect: {{end: not_read}}\n"), &[]);
    assert_eq!((ran.status, said(&ran)), (Some(0), vec![]));
}

/// Answers that a person would be asked back for, and cautions that nobody came to, are left out.
#[test]
fn what_is_written_for_gaps_is_usual_and_acknowledges_what_was_met() {
    let stand = stand();
    let ran = stand.run(&[
        "--only-rules",
        "parts",
        "rehearse",
        "parts-scenarios",
        "--write-missing",
        "new",
    ]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let written = |name: &str| std::fs::read_to_string(stand.path(&format!("new/{name}"))).unwrap();
    assert!(!written("start_not_safe.yaml").contains("acknowledge"));
    let mended = written("start_still_rises.yaml");
    assert!(mended.contains("acknowledge: [nothing_under_pressure]\n"), "{mended}");
    assert!(mended.contains("#   end: the step at which it ends; now that is still_rises\n"));
    let readings = mended.lines().filter(|row| row.contains("at_first") || row.contains("ten"));
    let values: Vec<f64> = readings
        .flat_map(|row| row.split('"'))
        .filter_map(|text| text.strip_suffix(" micron")?.parse().ok())
        .collect();
    // `usual` of both readings.
    assert!(values.len() >= 4 && values.iter().all(|v| (5.0..=20000.0).contains(v)), "{mended}");
}
