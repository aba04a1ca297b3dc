//! A report in each form, compared whole with what stands in `tests/fixtures/reports`. With
//! `DRYHOLD_BLESS=1` in the environment the present one is written there instead.

use std::fs;
use std::path::Path;

use crate::commands::{BookStand, Ran};

const FORMS: [(&str, &str); 5] = [
    ("text", "report.txt"),
    ("markdown", "report.md"),
    ("html", "report.html"),
    ("json", "report.json"),
    ("message", "message.txt"),
];

const CASE: &str = "2026-11-28-1";

/// The case was begun with the same rules in another folder, which makes them other ones.
const OTHER: &str = "The case was begun with another version of the handbook, and the book doesn't\n\
                     hold it; today's judges it in this report.\n";

/// The case that was closed twice, in the book of a stand.
fn stand() -> BookStand {
    let stand = BookStand::new();
    let kept =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/cases/closed_twice.jsonl");
    fs::copy(kept, stand.path(CASE)).unwrap();
    stand
}

fn report(stand: &BookStand, more: &[&str]) -> Ran {
    stand.run(&[&["--only-rules", "barrel", "report", CASE], more].concat())
}

#[test]
fn each_form_is_as_it_was_read() {
    let stand = stand();
    for (form, file) in FORMS {
        let ran = report(&stand, &["--format", form]);
        assert_eq!((ran.stderr.as_str(), ran.status), (OTHER, Some(0)), "{form}");
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/reports").join(file);
        if std::env::var_os("DRYHOLD_BLESS").is_some() {
            fs::write(&path, &ran.stdout).unwrap();
        }
        let kept = fs::read_to_string(&path).unwrap_or_default();
        assert!(kept == ran.stdout, "{form} is not as it was:\n{}", ran.stdout);
    }
}

#[test]
fn a_report_is_written_to_a_file_and_replaces_none_unasked() {
    let stand = stand();
    for (form, _) in FORMS {
        let printed = report(&stand, &["--format", form]).stdout;
        let ran = report(&stand, &["--format", form, "--output", form]);
        let said = format!("{OTHER}The report is in {form}\n");
        assert_eq!((ran.stdout.as_str(), ran.stderr.as_str(), ran.status), ("", &*said, Some(0)));
        assert_eq!(fs::read_to_string(stand.stand.path(form)).unwrap(), printed);
    }
    let again = report(&stand, &["--output", "text"]);
    assert_eq!(again.status, Some(2));
    let told =
        "dryhold: the report was not written: `text` is there already; --force replaces it\n";
    assert_eq!(again.stderr, format!("{OTHER}{told}"));
    assert_eq!(report(&stand, &["--output", "text", "--force"]).status, Some(0));
    let before = fs::read_to_string(stand.path(CASE)).unwrap();
    let kept =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/cases/closed_twice.jsonl");
    assert_eq!(before, fs::read_to_string(kept).unwrap(), "the case is not changed");
}

#[test]
fn a_case_that_is_missing_or_damaged_is_told() {
    let stand = stand();
    let ran = stand.run(&["report", "2026-03-31-9"]);
    assert_eq!(ran.stderr, "dryhold: there is no case `2026-03-31-9` in book\n");
    assert_eq!(ran.status, Some(2));
    let text = fs::read_to_string(stand.path(CASE)).unwrap();
    fs::write(stand.path(CASE), text.replace("820 mm", "830 mm")).unwrap();
    let ran = report(&stand, &[]);
    assert_eq!(ran.status, Some(0));
    let said = ran.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("Not all could be read: Line 11 of the case file"), "{said}");
    fs::write(stand.path(CASE), "nothing\n").unwrap();
    let ran = report(&stand, &[]);
    assert_eq!((ran.stdout.as_str(), ran.status), ("", Some(2)));
    assert!(ran.stderr.contains("can't be reported"), "{}", ran.stderr);
}
