//! `--line-json`: a case that another program drives.

use serde_json::Value;

use super::case_book::BookStand;
use super::stand::Ran;

const BARREL: [&str; 5] = ["--only-rules", "barrel", "diagnose", "barrel", "--line-json"];

/// What is told to a program that sends these lines.
fn driven(book: &BookStand, arguments: &[&str], lines: &[&str]) -> (Vec<Value>, Ran) {
    let arguments = [&["--book", "book"], arguments].concat();
    let ran = book.stand.run_fed(&arguments, (lines.join("\n") + "\n").as_bytes());
    let told = ran.stdout.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    (told, ran)
}

fn last(told: &[Value]) -> (&Value, &Value) {
    let last = told.last().unwrap();
    assert_eq!(last["is"], "verdict");
    (&last["ended"], &last["exit_status"])
}

fn objections(told: &[Value]) -> Vec<&str> {
    let all = told.iter().filter(|line| line["is"] == "objection");
    all.map(|line| line["why"].as_str().unwrap()).collect()
}

/// From the first line to the caution before the tap is shut.
const TO_THE_CAUTION: [&str; 5] = [
    r#"{"do":"answer","typed":"firm"}"#,
    r#"{"do":"answer","question":"which_barrel","typed":"the green one"}"#,
    r#"{"do":"answer","typed":"not sure"}"#,
    r#"{"do":"answer","typed":false}"#,
    r#"{"do":"answer","typed":900}"#,
];

#[test]
fn a_case_is_asked_answered_kept_and_carried_on() {
    let book = BookStand::new();
    let (told, ran) = driven(&book, &BARREL, &TO_THE_CAUTION);
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(4), ""), "{told:#?}");
    assert_eq!((&told[0]["is"], &told[0]["format"]), (&"opened".into(), &1.into()));
    let id = told[0]["case"].as_str().unwrap();
    assert!(told[0]["kept_in"].as_str().unwrap().ends_with(&format!("{id}.jsonl")));
    assert_eq!(told[1]["wanted"], "answer");
    assert_eq!(told[1]["options"][1]["id"], "leans");
    assert_eq!(objections(&told), Vec::<&str>::new());
    let taken: Vec<&Value> = told.iter().filter(|line| line["is"] == "taken").collect();
    assert_eq!(taken.len(), 5);
    assert_eq!((&taken[4]["order"], &taken[4]["event"]["typed"]), (&5.into(), &"900 mm".into()));
    let wanted = &told[told.len() - 2];
    assert_eq!(wanted["wanted"], "acknowledgement", "{wanted}");
    assert_eq!(wanted["caution"]["id"], "heavy_barrel");
    assert_eq!(last(&told), (&"stopped".into(), &4.into()));
    let go_on = ["--only-rules", "barrel", "resume", id, "--line-json"];
    let lines =
        [r#"{"do":"acknowledge","caution":"heavy_barrel","by":"A. B."}"#, r#"{"do":"wait"}"#];
    let (told, _) = driven(&book, &go_on, &lines);
    assert_eq!(told[0]["events"], 6);
    let wanted: Vec<&Value> = told.iter().filter(|line| line["is"] == "wanted").collect();
    assert_eq!(
        (&wanted[1]["wanted"], &wanted[1]["wait_seconds"]),
        (&"step".into(), &28800.0.into())
    );
    let (told, _) = driven(&book, &go_on, &[r#"{"do":"done"}"#, r#"{"do":"back"}"#]);
    assert!(told[0]["waited_seconds"].is_u64(), "{}", told[0]);
    assert_eq!(objections(&told), Vec::<&str>::new());
}

#[test]
fn a_danger_stops_and_only_another_answer_goes_on() {
    let book = BookStand::new();
    let leans = r#"{"do":"answer","typed":"leans"}"#;
    let (told, ran) = driven(&book, &BARREL, &[leans, r#"{"do":"done"}"#]);
    assert_eq!(ran.status, Some(4));
    let stop = told.iter().find(|line| line["wanted"] == "stop").unwrap();
    assert_eq!(stop["refer"], "somebody with a hand pump");
    assert_eq!(stop["goes_on_by"][0]["answer"], 1);
    assert_eq!(last(&told), (&"stopped".into(), &4.into()));
    let firm = r#"{"do":"correct","answer":1,"typed":"firm"}"#;
    let (told, _) =
        driven(&book, &BARREL, &[leans, firm, r#"{"do":"mind","question":"steady","by":"C"}"#]);
    let wanted: Vec<&str> = told.iter().filter_map(|line| line["wanted"].as_str()).collect();
    assert_eq!(wanted, ["answer", "stop", "mind", "answer"]);
}

#[test]
fn what_can_t_be_taken_is_objected_to_and_changes_nothing() {
    let book = BookStand::new();
    let lines = [
        "firm",
        r#"{"do":"answr"}"#,
        r#"{"do":"back","x":1}"#,
        r#"{"do":"answer","typed":"lies"}"#,
        r#"{"do":"answer","question":"levl","typed":5}"#,
        r#"{"do":"answer","question":"level","typed":"1300 mm"}"#,
        r#"{"do":"done"}"#,
        r#"{"do":"back"}"#,
        r#"{"do":"correct","answer":7,"typed":"firm"}"#,
        r#"{"do":"acknowledge","caution":"heavy_barrel","by":"A"}"#,
        r#"{"do":"note","text":"  "}"#,
        r#"{"do":"close","fixed_by":{"cause":"tapp"}}"#,
    ];
    let (told, ran) = driven(&book, &BARREL, &lines);
    let expected = [
        "unreadable",
        "unreadable",
        "unreadable",
        "misunderstood",
        "unknown_name",
        "doubtful",
        "out_of_place",
        "nothing_there",
        "nothing_there",
        "out_of_place",
        "misunderstood",
        "unknown_name",
    ];
    assert_eq!(objections(&told), expected);
    assert!(!told.iter().any(|line| line["is"] == "taken"));
    assert_eq!(ran.status, Some(3));
    let near = told.iter().find(|line| line["why"] == "unknown_name").unwrap();
    assert!(near["message"].as_str().unwrap().contains("did you mean `level`?"));
    let meant = r#"{"do":"answer","question":"level","typed":"1300 mm","meant":true}"#;
    let (told, _) = driven(&book, &BARREL, &[meant]);
    assert_eq!(objections(&told), Vec::<&str>::new());
}

#[test]
fn words_that_may_tell_of_a_danger_are_asked_about_before_they_are_noted() {
    let book = BookStand::new();
    let note = r#"{"do":"note","text":"he is dizzy and there is a smell of gas"}"#;
    let arguments = ["diagnose", "pump_alone", "--line-json"];
    let (told, _) = driven(&book, &arguments, &[note]);
    assert_eq!(objections(&told), ["danger_told"]);
    let told = told.iter().find(|line| line["is"] == "objection").unwrap();
    let dangers = told["may_tell_of"].as_array().unwrap();
    assert!(!dangers.is_empty(), "{told}");
}

#[test]
fn a_line_too_long_is_passed_over_and_a_closed_case_needs_a_word_to_be_opened() {
    let book = BookStand::new();
    let long = format!(r#"{{"do":"note","text":"{}"}}"#, "x".repeat(1 << 20));
    let close = r#"{"do":"close","fixed_by":"nothing"}"#;
    let (told, _) = driven(&book, &BARREL, &[&long, close, r#"{"do":"back"}"#]);
    assert_eq!(objections(&told), ["too_long"]);
    let id = told[0]["case"].as_str().unwrap().to_owned();
    let go_on = ["--only-rules", "barrel", "resume", &id, "--line-json"];
    let (told, ran) = driven(&book, &go_on, &[]);
    assert_eq!((told.len(), ran.status), (0, Some(2)));
    assert!(ran.stderr.contains("--reopen"), "{ran:?}");
    let (told, _) = driven(&book, &[&go_on[..], &["--reopen"]].concat(), &[]);
    assert_eq!(told[1]["wanted"], "answer");
}
